"""Openings in walls and ceilings put, moved, sized and copied; bulkheads."""

from dataclasses import replace

import pytest

from roomboard.core.editing import EditError
from roomboard.core.editing.bulkheads import add_bulkhead, remove_bulkhead, set_bulkhead
from roomboard.core.editing.ceiling_openings import (
    FromWall,
    add_ceiling_opening,
    distance_from_wall,
    middle,
    move_ceiling_opening,
    nearest_walls,
    resize_ceiling_opening,
    set_from_walls,
)
from roomboard.core.editing.openings import (
    Side,
    add_opening,
    copy_openings,
    move_opening,
    nearest_corner,
    remove_opening,
    resize_opening,
    set_from_corner,
    set_head,
    set_opening,
    set_sill,
)
from roomboard.core.editing.rooms import rectangle, room_from_corners
from roomboard.core.editing.walls import set_wall
from roomboard.core.project import OpeningKind, WallKind

BOX = rectangle("Box", 4000, 3000, 2400)
# B is 4000 long. A window 1200 x 1000 with its sill at 900, 600 off the left end.
WINDOW = add_opening(BOX, "b", OpeningKind.WINDOW, 600, 900, 1200, 1000)


def window(room):
    return next(o for o in room.openings if o.id == "w1")


def box_of(room):
    o = window(room)
    return (o.left, o.bottom, o.width, o.height)


def test_openings_get_the_first_free_id_of_their_kind():
    two = add_opening(WINDOW, "b", OpeningKind.WINDOW, 2000, 900, 600, 600)
    assert [o.id for o in two.openings] == ["w1", "w2"]
    assert (
        add_opening(remove_opening(two, "w1"), "a", OpeningKind.WINDOW, 0, 0, 600, 600)
        .openings[1]
        .id
        == "w1"
    )
    assert add_opening(two, "a", OpeningKind.DOOR, 0, 0, 820, 2040).openings[2].id == "d1"


@pytest.mark.parametrize(
    ("edit", "box"),
    [
        (lambda r: move_opening(r, "w1", 700), (700, 900, 1200, 1000)),
        (lambda r: move_opening(r, "w1", 700, 800), (700, 800, 1200, 1000)),
        (lambda r: move_opening(r, "w1", 9000, -50, keep_in=True), (2800, 0, 1200, 1000)),
        (lambda r: resize_opening(r, "w1", 1000), (600, 900, 1000, 1000)),
        (lambda r: resize_opening(r, "w1", 1000, fixed=Side.RIGHT), (800, 900, 1000, 1000)),
        (lambda r: resize_opening(r, "w1", height=1100), (600, 900, 1200, 1100)),
        (lambda r: set_sill(r, "w1", 1000), (600, 1000, 1200, 900)),
        (lambda r: set_sill(r, "w1", 1000, keep_head=False), (600, 1000, 1200, 1000)),
        (lambda r: set_head(r, "w1", 2100), (600, 900, 1200, 1200)),
        (lambda r: set_head(r, "w1", 2100, keep_sill=False), (600, 1100, 1200, 1000)),
        (lambda r: set_from_corner(r, "w1", Side.RIGHT, 400), (2400, 900, 1200, 1000)),
        (lambda r: set_from_corner(r, "w1", Side.LEFT, 0), (0, 900, 1200, 1000)),
    ],
)
def test_an_opening_goes_where_it_is_put(edit, box):
    assert box_of(edit(WINDOW)) == box


def test_an_opening_goes_to_another_wall():
    assert window(move_opening(WINDOW, "w1", 900, to_wall="a")).host == "a"


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda r: move_opening(r, "w1", 3000), "from 3000 mm to 4200 mm on wall B, which is 4000"),
        (lambda r: move_opening(r, "w1", 3000, to_wall="a"), "wall A, which is 3000 mm long"),
        (lambda r: set_sill(r, "w1", 1900), "would be above its head at 1900 mm"),
        (lambda r: set_head(r, "w1", 900), "would be below its sill at 900 mm"),
        (lambda r: set_head(r, "w1", 2500), "on a wall 2400 mm high"),
        (lambda r: resize_opening(r, "w1", 0), "more than nothing"),
        (lambda r: resize_opening(r, "w1", float("nan")), "not a number"),
        (lambda r: remove_opening(r, "w9"), "no opening “w9”"),
        (lambda r: add_opening(r, "b", OpeningKind.DOOR, 1500, 0, 820, 2040), "on window w1"),
        (lambda r: move_ceiling_opening(r, "w1", (0, 0)), "is in a wall"),
        (lambda r: set_opening(r, "w1", reveal_depth=-1), "less than nothing"),
        (lambda r: copy_openings(r, "a", "b"), "wall A of Box has no openings"),
        (lambda r: copy_openings(r, "b", "b"), "is the same wall"),
    ],
)
def test_what_does_not_fit_is_refused(edit, words):
    with pytest.raises(EditError, match=words):
        edit(WINDOW)


def test_no_opening_goes_where_no_wall_stands():
    with pytest.raises(EditError, match="wall A of Box is open"):
        move_opening(set_wall(WINDOW, "a", kind=WallKind.OPEN), "w1", 0, to_wall="a")


def test_the_nearest_corner_is_told():
    assert nearest_corner(WINDOW, window(WINDOW)) == (Side.LEFT, 600)
    right = set_from_corner(WINDOW, "w1", Side.RIGHT, 250)
    assert nearest_corner(right, window(right)) == (Side.RIGHT, 250)


def test_openings_are_copied_to_another_wall():
    two = add_opening(WINDOW, "b", OpeningKind.DOOR, 2000, 0, 820, 2040)
    # D is as long as B: mirrored, 600 from the right end means 4000 - 600 - 1200 from the left.
    copied = copy_openings(two, "b", "d", mirrored=True)
    assert [(o.id, o.host, o.left) for o in copied.openings[2:]] == [
        ("w2", "d", 2200),
        ("d2", "d", 1180),
    ]
    # A is 3000 long: 2000 + 820 fits.
    assert [o.left for o in copy_openings(two, "b", "a").openings[2:]] == [600, 2000]
    with pytest.raises(EditError, match="stand on"):
        copy_openings(copied, "b", "d")


def test_reveals_can_be_said():
    lined = set_opening(WINDOW, "w1", reveal_lined=True, reveal_depth=90, kind=OpeningKind.DOOR)
    assert (window(lined).reveal_lined, window(lined).reveal_depth) == (True, 90)
    assert window(lined).kind is OpeningKind.DOOR


HATCH = add_ceiling_opening(BOX, OpeningKind.HATCH, (900, 2200), 600, 500)


def test_a_ceiling_opening_is_placed_by_its_middle():
    hatch = HATCH.openings[0]
    assert (hatch.id, hatch.left, hatch.bottom) == ("h1", 600, 1950)
    assert middle(move_ceiling_opening(HATCH, "h1", (2000, 1000)).openings[0]) == (2000, 1000)


def test_a_ceiling_opening_is_measured_from_the_two_nearest_walls():
    # 600 from A (x = 0), and 3000 - 2450 = 550 from B (y = 3000): B is nearer.
    assert nearest_walls(HATCH, HATCH.openings[0]) == (FromWall("b", 550), FromWall("a", 600))
    moved = set_from_walls(HATCH, "h1", FromWall("b", 100), FromWall("c", 200))
    assert (moved.openings[0].left, moved.openings[0].bottom) == (3200, 2400)
    assert distance_from_wall(moved, moved.openings[0], "c") == 200
    with pytest.raises(EditError, match="run the same way"):
        set_from_walls(HATCH, "h1", FromWall("a", 100), FromWall("c", 200))


def test_a_round_light_is_measured_at_its_rim():
    room = add_ceiling_opening(BOX, OpeningKind.LIGHT, (1000, 1500), 90, is_round=True)
    light = room.openings[0]
    assert (light.width, light.height, light.is_round) == (90, 90, True)
    assert distance_from_wall(room, light, "a") == 955
    wider = resize_ceiling_opening(room, "l1", 100).openings[0]
    assert (middle(wider), wider.width, wider.height) == ((1000, 1500), 100, 100)
    square = resize_ceiling_opening(room, "l1", 100, 80, is_round=False).openings[0]
    assert (square.height, square.is_round) == (80, False)


def test_a_light_is_measured_from_a_sloping_wall():
    # The wall from (4000, 2000) to (3000, 3000) lies on x + y = 6000. The middle (3000, 2000)
    # is 1000 / sqrt(2) = 707.107 from it, the rim 50 less.
    cut = room_from_corners("Cut", [(0, 0), (0, 3000), (3000, 3000), (4000, 2000), (4000, 0)], 2400)
    room = add_ceiling_opening(cut, OpeningKind.LIGHT, (3000, 2000), 100, is_round=True)
    assert distance_from_wall(room, room.openings[0], "c") == pytest.approx(657.106781)
    # 1550 from A the middle has x = 1600; as far from the slope as before, x + y = 5000 still,
    # but y = 3400 is outside. At x = 3200 (3150 from A) it is y = 1800.
    moved = set_from_walls(room, "l1", FromWall("c", 657.106781), FromWall("a", 3150))
    assert middle(moved.openings[0]) == pytest.approx((3200, 1800), abs=1e-3)
    with pytest.raises(EditError, match="outside the ceiling"):
        set_from_walls(room, "l1", FromWall("c", 657.106781), FromWall("a", 1550))


def test_ceiling_openings_stay_apart_and_inside():
    with pytest.raises(EditError, match="outside the ceiling of Box"):
        move_ceiling_opening(HATCH, "h1", (200, 200))
    with pytest.raises(EditError, match="Duct v1 would lie on hatch h1"):
        add_ceiling_opening(HATCH, OpeningKind.DUCT, (900, 2200), 100)
    with pytest.raises(EditError, match="is in the ceiling"):
        move_opening(HATCH, "h1", 0)
    # Two round lights whose boxes meet at a corner and whose circles do not: 95 apart both ways
    # is 134.35 apart, more than the diameter of 100.
    one = add_ceiling_opening(BOX, OpeningKind.LIGHT, (1000, 1000), 100, is_round=True)
    two = add_ceiling_opening(one, OpeningKind.LIGHT, (1095, 1095), 100, is_round=True)
    assert [o.id for o in two.openings] == ["l1", "l2"]


def test_a_bulkhead_knows_its_free_ends():
    room = add_bulkhead(BOX, "b", 0, 3000, 600, 300)
    bulkhead = room.bulkheads[0]
    assert (bulkhead.id, bulkhead.left_free, bulkhead.right_free) == ("b1", False, True)
    moved = set_bulkhead(room, "b1", sizes={"left": 1000.0, "drop": 250.0}, left_free=True)
    assert (moved.bulkheads[0].left, moved.bulkheads[0].drop) == (1000, 250)
    assert remove_bulkhead(moved, "b1") == BOX
    with pytest.raises(EditError, match="from 1500 mm to 4500 mm on wall B"):
        set_bulkhead(room, "b1", sizes={"left": 1500.0})
    with pytest.raises(EditError, match="drop by 2400 mm"):
        add_bulkhead(BOX, "b", 0, 3000, 600, 2400)
    with pytest.raises(EditError, match="no bulkhead “b7”"):
        remove_bulkhead(replace(room), "b7")
