"""Corners and walls moved, on rooms small enough to work out by hand."""

import pytest

from roomboard.core.editing import EditError
from roomboard.core.editing.rooms import rectangle, room_from_corners
from roomboard.core.editing.walls import (
    insert_corner,
    jog,
    move_corner,
    move_wall,
    remove_corner,
    rename_wall,
    set_wall,
    set_wall_length,
)
from roomboard.core.project import (
    Bulkhead,
    JoistZone,
    Opening,
    OpeningKind,
    Room,
    SpecialZone,
    SurfaceChoice,
    Wall,
    WallKind,
    ZoneKind,
)

# Wall A runs up the left side, B along the top, C down the right side, D back along the foot.
BOX = rectangle("Box", 4000, 3000, 2400)


def with_parts(room=BOX, **parts):
    from dataclasses import replace

    return replace(room, **parts)


def door(host="b", left=1000.0, width=820.0, opening_id="d1"):
    return Opening(
        id=opening_id,
        kind=OpeningKind.DOOR,
        host=host,
        left=left,
        bottom=0.0,
        width=width,
        height=2040.0,
    )


def ids(room: Room):
    return [w.id for w in room.walls]


def test_a_wall_moves_out_and_its_neighbours_stretch():
    moved = move_wall(BOX, "b", 500)

    assert moved.outline == ((0, 0), (0, 3500), (4000, 3500), (4000, 0))
    assert moved.walls == BOX.walls


def test_a_wall_moves_in_and_out_again():
    assert move_wall(move_wall(BOX, "c", -1250), "c", 1250) == BOX


def test_a_square_corner_moves_both_its_walls():
    # Corner 2 is the upper right one, between B and C.
    moved = move_corner(BOX, 2, (4200, 2900))

    assert moved.outline == ((0, 0), (0, 2900), (4200, 2900), (4200, 0))


def test_a_corner_moves_alone_where_walls_need_not_stay_square():
    moved = move_corner(BOX, 2, (4200, 2900), square=False)

    assert moved.outline == ((0, 0), (0, 3000), (4200, 2900), (4000, 0))


def test_a_length_moves_the_right_hand_neighbour():
    # B begins upper left; made 4600 long, C moves to x = 4600 and D stretches.
    assert set_wall_length(BOX, "b", 4600).outline == (
        *((0, 0), (0, 3000)),
        *((4600, 3000), (4600, 0)),
    )
    # D begins lower right and ends lower left: its right-hand neighbour is A, at x = 4000 - 4600.
    assert set_wall_length(BOX, "d", 4600).outline == (
        *((-600, 0), (-600, 3000)),
        *((4000, 3000), (4000, 0)),
    )


def test_a_length_of_a_wall_in_line_with_the_next_slides_the_corner():
    parted = insert_corner(BOX, "b", 1500)
    assert set_wall_length(parted, "b", 1800).outline == (
        *((0, 0), (0, 3000), (1800, 3000)),
        *((4000, 3000), (4000, 0)),
    )


def test_a_length_may_turn_the_neighbour():
    moved = set_wall_length(BOX, "b", 4600, square=False)
    assert moved.outline == ((0, 0), (0, 3000), (4600, 3000), (4000, 0))


def test_an_opening_stays_where_it_stands_when_the_left_end_moves():
    # The left end of B goes 300 to the left with A; the door stands 300 farther from it.
    room = with_parts(openings=(door(),))
    moved = move_wall(room, "a", 300)

    assert moved.openings[0].left == 1300
    assert move_wall(moved, "a", -300) == room


def test_an_opening_is_pushed_in_where_its_wall_would_leave_it():
    # B is 4000 long; pushed to 1700 from the left end, the door would reach 1820.
    room = with_parts(openings=(door(),))
    assert move_wall(room, "c", -2300).openings[0].left == 1700 - 820


def test_an_opening_wider_than_its_wall_is_refused():
    room = with_parts(openings=(door(),))
    with pytest.raises(EditError, match=r"Door d1 of Box is 820 mm wide .* only 800 mm long"):
        move_wall(room, "c", -3200)


def test_an_opening_is_not_pushed_onto_another():
    two = (door(left=500.0), door(left=1400.0, opening_id="d2"))
    with pytest.raises(EditError, match="pushed onto"):
        move_wall(with_parts(openings=two), "c", -2200)


def test_studs_stay_where_they_stand():
    walls = tuple(
        Wall(id=w.id, name=w.name, stud_spacing=600.0) if w.id == "b" else w for w in BOX.walls
    )
    moved = move_wall(with_parts(walls=walls), "a", 100)
    # Studs at x = 600, 1200, ... stand 700, 1300, ... from the new end: the first at 100.
    assert moved.walls[1].stud_first == 100
    assert move_wall(moved, "a", -100).walls == walls


def test_end_studs_follow_the_ends():
    studs = (22.5, 600.0, 1200.0, 3977.5)
    walls = tuple(
        Wall(id=w.id, name=w.name, studs=studs, stud_face=45.0) if w.id == "b" else w
        for w in BOX.walls
    )
    moved = move_wall(with_parts(walls=walls), "a", 100)
    assert moved.walls[1].studs == (22.5, 700.0, 1300.0, 4077.5)


def test_joists_stay_where_they_stand():
    # Members along y are measured from x = 0; the low side goes to x = -100.
    room = with_parts(joists=(JoistZone(id="z", direction_deg=90.0, spacing=450.0),))
    moved = move_wall(room, "a", 100)
    assert moved.joists[0].first == 100
    assert move_wall(moved, "a", -100) == room
    listed = with_parts(joists=(JoistZone(id="z", positions=(350.0, 800.0, 3900.0)),))
    assert move_wall(listed, "a", -400).joists[0].positions == (400.0, 3500.0)


def test_a_zone_goes_on_reaching_to_a_moved_wall():
    zones = (
        JoistZone(id="z1", outline=((0, 0), (2000, 0), (2000, 3000), (0, 3000)), spacing=450.0),
        JoistZone(id="z2", outline=((2000, 0), (4000, 0), (4000, 3000), (2000, 3000))),
    )
    moved = move_wall(with_parts(joists=zones), "b", 250)
    assert [set(z.outline) for z in moved.joists] == [
        {(0, 0), (2000, 0), (2000, 3250), (0, 3250)},
        {(2000, 0), (4000, 0), (4000, 3250), (2000, 3250)},
    ]
    assert move_wall(moved, "b", -250).joists == zones


def test_a_zone_drawn_past_the_room_moves_its_whole_side():
    # An L whose right-hand wall ends at y = 2000; the zone was drawn up to y = 2400.
    shape = room_from_corners(
        "L", [(0, 0), (0, 3000), (2500, 3000), (2500, 2000), (4000, 2000), (4000, 0)], 2400
    )
    zones = (
        JoistZone(id="z1", outline=((0, 0), (4000, 0), (4000, 2400), (0, 2400))),
        JoistZone(id="z2", outline=((0, 2400), (2500, 2400), (2500, 3000), (0, 3000))),
    )
    moved = move_wall(with_parts(shape, joists=zones), "e", 500)
    assert moved.joists[0].outline == ((0, 0), (4500, 0), (4500, 2400), (0, 2400))
    assert moved.joists[1] == zones[1]


def test_a_niche_belongs_to_the_zone_it_opens_into():
    zones = (
        JoistZone(id="z1", outline=((0, 0), (2000, 0), (2000, 3000), (0, 3000))),
        JoistZone(id="z2", outline=((2000, 0), (4000, 0), (4000, 3000), (2000, 3000))),
    )
    niche = jog(with_parts(joists=zones), "b", 2500, 3500, 400)
    assert niche.joists[0].outline == zones[0].outline
    assert {(2500, 3400), (3500, 3400)} <= set(niche.joists[1].outline)


def test_a_bulkhead_between_walls_stretches_with_them():
    full = Bulkhead(id="b1", wall="b", left=0.0, length=4000.0, depth=600.0, drop=300.0)
    free = Bulkhead(
        id="b2", wall="d", left=1000.0, length=500.0, depth=300.0, drop=300.0, left_free=True
    )
    moved = move_wall(with_parts(bulkheads=(full, free)), "c", 500)
    assert (moved.bulkheads[0].left, moved.bulkheads[0].length) == (0, 4500)
    # D begins at the right: its left end went 500 farther off.
    assert (moved.bulkheads[1].left, moved.bulkheads[1].length) == (1500, 500)


def test_a_hatch_is_pushed_in_by_a_wall():
    hatch = Opening(
        id="h1",
        kind=OpeningKind.HATCH,
        host="ceiling",
        left=3200.0,
        bottom=1000.0,
        width=600.0,
        height=600.0,
    )
    room = with_parts(openings=(hatch,))
    assert move_wall(room, "c", -100).openings == (hatch,)
    assert move_wall(room, "c", -700).openings[0].left == 3300 - 600
    with pytest.raises(EditError, match="Hatch h1 in the ceiling of Box"):
        move_wall(room, "c", -3500)


def test_a_corner_parts_a_wall():
    walls = tuple(
        Wall(id=w.id, name=w.name, stud_spacing=600.0, board="wet") if w.id == "b" else w
        for w in BOX.walls
    )
    room = with_parts(
        walls=walls,
        openings=(door(left=200.0), door(left=2000.0, opening_id="d2")),
        zones=(SpecialZone(id="t1", kind=ZoneKind.TILED, host="b"),),
        choices=(SurfaceChoice(surface="wall:b", butts=((0, 1, 2400.0),)),),
    )
    parted = insert_corner(room, "b", 1500)

    assert parted.outline == ((0, 0), (0, 3000), (1500, 3000), (4000, 3000), (4000, 0))
    assert ids(parted) == ["a", "b", "e", "c", "d"]
    assert [(o.host, o.left) for o in parted.openings] == [("b", 200), ("e", 500)]
    # Studs at 1800, 2400, ... stand 300, 900, ... from the new corner.
    assert parted.walls[2].stud_first == 300
    assert parted.walls[2].board == "wet"
    assert {z.host for z in parted.zones} == {"b", "e"}
    assert len({z.id for z in parted.zones}) == 2
    back = remove_corner(parted, 2)
    assert (back.outline, back.walls, back.openings) == (BOX.outline, walls, room.openings)


def test_a_corner_does_not_part_an_opening():
    room = with_parts(openings=(door(),))
    with pytest.raises(EditError, match="would part the door d1 on wall B of Box"):
        insert_corner(room, "b", 1400)
    with pytest.raises(EditError, match="does not part wall B"):
        insert_corner(room, "b", 4000)


def test_a_corner_is_taken_away():
    cut = remove_corner(BOX, 0)
    assert cut.outline == ((0, 3000), (4000, 3000), (4000, 0))
    assert ids(cut) == ["b", "c", "d"]
    with pytest.raises(EditError, match="three corners"):
        remove_corner(cut, 0)


def test_a_jog_makes_a_niche():
    # From 1000 to 2200 along B, 600 out.
    niche = jog(BOX, "b", 1000, 2200, 600)

    assert niche.outline == (
        *((0, 0), (0, 3000), (1000, 3000), (1000, 3600)),
        *((2200, 3600), (2200, 3000), (4000, 3000), (4000, 0)),
    )
    assert len(set(ids(niche))) == 8
    assert ids(niche)[:2] == ["a", "b"]
    assert ids(niche)[-2:] == ["c", "d"]


def test_a_jog_at_an_end_makes_an_l():
    shape = jog(BOX, "b", 2500, 4000, -1000)

    assert shape.outline == (
        *((0, 0), (0, 3000), (2500, 3000)),
        *((2500, 2000), (4000, 2000), (4000, 0)),
    )


def test_a_jog_pushed_back_leaves_a_straight_wall_in_parts():
    shape = jog(BOX, "b", 2500, 4000, -1000)
    moved = next(w.id for i, w in enumerate(shape.walls) if shape.outline[i] == (2500, 2000))
    back = move_wall(shape, moved, 1000)

    assert back.outline == ((0, 0), (0, 3000), (2500, 3000), (4000, 3000), (4000, 0))


def test_a_wall_in_line_with_its_neighbour_gets_a_return():
    parted = insert_corner(BOX, "b", 2500)
    moved = move_wall(parted, "b", 200)
    assert moved.outline == (
        *((0, 0), (0, 3200), (2500, 3200)),
        *((2500, 3000), (4000, 3000), (4000, 0)),
    )
    assert ids(moved) == ["a", "b", "f", "e", "c", "d"]


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda: move_wall(BOX, "b", -3000), "come to nothing|no area|turned|cross"),
        (lambda: move_wall(BOX, "b", -3500), "turned about"),
        (lambda: move_wall(BOX, "x", 10), "no wall “x”; its walls are A, B, C, D"),
        (lambda: move_wall(BOX, "b", float("nan")), "not a number"),
        (lambda: move_corner(BOX, 2, (-500, -500), square=False), "cross|inside out"),
        (lambda: move_corner(BOX, 7, (0, 0)), "none numbered 8"),
        (lambda: set_wall_length(BOX, "b", 0), "more than nothing"),
        (lambda: jog(BOX, "b", 3000, 5000, 100), "no part of wall B"),
        (lambda: jog(BOX, "b", 1000, 2000, -3500), "cross|turned"),
    ],
)
def test_what_cannot_be_is_refused(edit, words):
    with pytest.raises(EditError, match=words):
        edit()


def test_an_angled_wall_keeps_its_direction():
    # A corner cut at 45 degrees; moved square to itself by 100, its line x + y = 6000 goes to
    # x + y = 6000 + 100 * sqrt(2), and it meets x = 4000 and y = 3000 accordingly.
    cut = room_from_corners("Cut", [(0, 0), (0, 3000), (3000, 3000), (4000, 2000), (4000, 0)], 2400)
    moved = move_wall(cut, "c", 100)
    assert moved.outline[2] == pytest.approx((3141.421356, 3000))
    assert moved.outline[3] == pytest.approx((4000, 2141.421356))


def test_what_a_wall_is_can_be_said():
    room = set_wall(BOX, "b", lined=False, kind=WallKind.OPEN, board="wet")
    assert (room.walls[1].lined, room.walls[1].kind, room.walls[1].board) == (
        *(False, WallKind.OPEN),
        "wet",
    )
    assert rename_wall(BOX, "b", " W ").walls[1].name == "W"
    with pytest.raises(EditError, match="has a wall A already"):
        rename_wall(BOX, "b", "A")
