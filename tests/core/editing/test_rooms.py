"""Rooms made, mirrored, turned and put in order."""

from dataclasses import replace

import pytest
from hypothesis import given

from roomboard.core.editing import EditError
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.editing.rooms import (
    add_room,
    duplicate_room,
    put_room,
    rectangle,
    remove_room,
    rename_room,
    reorder_room,
    room_from_corners,
    set_height,
)
from roomboard.core.plane import signed_area
from roomboard.core.project import (
    Acknowledgement,
    Bulkhead,
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    SheetDirection,
    Start,
    SurfaceChoice,
    Units,
    Variant,
    Wall,
)
from tests import strategies

BOX = rectangle("Box", 4000, 3000, 2400)
JOB = Project(id="job", name="Job", rooms=(BOX, rectangle("Hall", 2000, 1000, 2400)))


def door(**more):
    given_ = {"left": 500.0, "bottom": 0.0, "width": 820.0, "height": 2040.0} | more
    return Opening(id="d1", kind=OpeningKind.DOOR, host="b", **given_)


def test_corners_in_either_direction_make_the_same_room():
    # Counter-clockwise from the lower left; kept clockwise from the same corner.
    ring = [(0, 0), (4000, 0), (4000, 3000), (0, 3000)]
    assert room_from_corners("Box", ring, 2400) == BOX
    assert signed_area(BOX.outline) == -12_000_000
    assert [w.name for w in BOX.walls] == ["A", "B", "C", "D"]
    assert BOX.wall_length(0) == 3000


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        ([(0, 0), (4000, 3000), (4000, 0), (0, 3000)], "walls cross near x = 2000, y = 1500"),
        ([(0, 0), (4000, 0)], "at least three"),
        ([(0, 0), (0, 0.5), (4000, 3000), (4000, 0)], "wall from corner 1 of Box .* 0.5 mm"),
        ([(0, 0), (2000, 0), (4000, 0)], "cannot take this shape"),
        ([(0, 0), (float("nan"), 0), (4000, 0)], "not a number"),
    ],
)
def test_what_encloses_no_room_is_refused(corners, words):
    with pytest.raises(EditError, match=words):
        room_from_corners("Box", corners, 2400)


def test_a_room_needs_a_name_and_a_height():
    with pytest.raises(EditError, match="needs a name"):
        rectangle("  ", 4000, 3000, 2400)
    with pytest.raises(EditError, match="24 mm high, which is no room"):
        rectangle("Box", 4000, 3000, 24)
    with pytest.raises(EditError, match="more than nothing"):
        rectangle("Box", -4000, 3000, 2400)


def test_a_refusal_is_said_in_the_units_of_the_project():
    with pytest.raises(EditError) as refusal:
        rectangle("Box", 4000, 3000, 25.4)
    assert "25.4 mm high" in str(refusal.value)
    assert '1" high' in refusal.value.said(Units.FEET_INCHES)


def test_ids_are_free_and_stay():
    assert rectangle("Box", 4000, 3000, 2400, ["box", "box-2"]).id == "box-3"
    assert add_room(JOB, BOX).rooms[2].id == "box-2"
    assert rename_room(JOB, "box", "Den").rooms[0] == replace(BOX, name="Den")


def test_rooms_are_put_in_order():
    assert [r.id for r in reorder_room(JOB, "box", 1).rooms] == ["hall", "box"]
    assert [r.id for r in reorder_room(JOB, "hall", -3).rooms] == ["hall", "box"]
    assert [r.id for r in add_room(JOB, rectangle("Den", 2000, 2000, 2400), 0).rooms] == [
        *("den", "box", "hall")
    ]
    higher = set_height(BOX, 2700)
    assert put_room(JOB, higher).rooms == (higher, JOB.rooms[1])


def test_a_double_stands_after_its_room():
    doubled = duplicate_room(duplicate_room(JOB, "box"), "box")
    assert [(r.id, r.name) for r in doubled.rooms] == [
        *(("box", "Box"), ("box-3", "Box 3"), ("box-2", "Box 2"), ("hall", "Hall"))
    ]
    assert replace(doubled.rooms[1], id="box", name="Box") == BOX
    kept = Variant(name="Across", rooms=(("box", (SurfaceChoice(surface="ceiling"),)),))
    both = duplicate_room(replace(JOB, variants=(kept,)), "box").variants[0].rooms
    assert [room for room, _ in both] == ["box", "box-2"]
    assert both[0][1] == both[1][1]


def test_a_removed_room_takes_along_what_was_acknowledged_for_it():
    read = tuple(
        Acknowledgement(code="RB401", place=p, name="A", reason="b")
        for p in ("box/wall:a", "hall", "")
    )
    kept = Variant(name="Across", rooms=(("box", ()), ("hall", ())))
    left = remove_room(replace(JOB, acknowledged=read, variants=(kept,)), "box")
    assert left.variants[0].rooms == (("hall", ()),)
    assert [r.id for r in left.rooms] == ["hall"]
    assert left.acknowledged == read[1:]
    with pytest.raises(EditError, match="has no room “box”"):
        remove_room(left, "box")


def test_a_height_leaves_room_for_what_is_in_it():
    room = replace(BOX, openings=(door(),))
    assert set_height(room, 2100).height == 2100
    with pytest.raises(EditError, match="The head of door d1 of Box is at 2040 mm"):
        set_height(room, 2000)
    boxed = replace(
        BOX, bulkheads=(Bulkhead(id="b1", wall="b", left=0, length=900, depth=300, drop=500),)
    )
    with pytest.raises(EditError, match="Bulkhead b1 of Box drops by 500 mm"):
        set_height(boxed, 400)


def test_a_mirror_swaps_left_and_right():
    # An L whose step is at the upper right; mirrored, at the upper left.
    shape = room_from_corners(
        "L", [(0, 0), (0, 3000), (2500, 3000), (2500, 2000), (4000, 2000), (4000, 0)], 2400
    )
    shape = replace(
        shape,
        openings=(
            replace(door(), host="b"),
            Opening(
                id="h1",
                kind=OpeningKind.HATCH,
                host="ceiling",
                left=100.0,
                bottom=200.0,
                width=600.0,
                height=500.0,
            ),
        ),
        walls=tuple(
            Wall(id=w.id, name=w.name, stud_spacing=600.0) if w.id == "b" else w
            for w in shape.walls
        ),
        joists=(JoistZone(id="z", direction_deg=90.0, spacing=450.0, first=200.0),),
        bulkheads=(
            Bulkhead(id="b1", wall="f", left=0, length=900, depth=300, drop=300, right_free=True),
        ),
        choices=(
            SurfaceChoice(
                surface="ceiling", start=Start.LOW, butts=((0, 1, 2900.0),), widths=(1200.0,)
            ),
        ),
    )
    mirrored = mirror_room(shape)

    assert set(mirrored.outline) == {
        *((4000, 0), (4000, 3000), (1500, 3000)),
        *((1500, 2000), (0, 2000), (0, 0)),
    }
    assert signed_area(mirrored.outline) < 0
    index = [w.id for w in mirrored.walls].index("b")
    # B is 2500 long; the door goes from 500 off its left end to 500 off its right.
    assert mirrored.wall_length(index) == 2500
    assert mirrored.openings[0].left == 2500 - 500 - 820
    assert mirrored.openings[1].left == 4000 - 100 - 600
    # Studs at 600 ... 2400 stand at 1900 ... 100.
    assert mirrored.walls[index].stud_first == 100
    # Joists at 200, 650, ... 3800 (nine of them): from the other side the first is at 200 too.
    assert mirrored.joists[0].first == 200
    # F, along the foot, is 4000 long.
    assert (mirrored.bulkheads[0].left, mirrored.bulkheads[0].left_free) == (3100, True)
    # Sheets across joists along y run along x: their butts swap sides, their start does not.
    assert mirrored.choices[0].butts == ((0, 1, 1100.0),)
    assert mirrored.choices[0].start is Start.LOW
    assert mirror_room(mirrored) == shape


def test_courses_that_change_sides_start_from_the_other_and_lose_their_locks():
    upright = SurfaceChoice(
        surface="wall:b",
        direction=SheetDirection.ALONG,
        start=Start.LOW,
        butts=((0, 1, -1200.0),),
    )
    mirrored = mirror_room(replace(BOX, choices=(upright,)))
    assert mirrored.choices[0].start is Start.HIGH
    assert mirrored.choices[0].butts == ()


@given(strategies.rooms())
def test_a_mirror_twice_gives_the_same_room(room):
    twice = mirror_room(mirror_room(room))
    same_meaning = tuple(_plain(w) for w in room.walls)
    assert tuple(_plain(w) for w in twice.walls) == same_meaning
    assert tuple(_plain(z) for z in twice.joists) == tuple(_plain(z) for z in room.joists)
    assert replace(twice, walls=(), joists=()) == replace(room, walls=(), joists=())


def _plain(framed):
    """A first centre of one spacing, said or not, is the same."""
    if isinstance(framed, Wall):
        first = framed.stud_first
        return replace(framed, stud_first=None if first == framed.stud_spacing else first)
    return replace(framed, first=None if framed.first == framed.spacing else framed.first)


def test_a_room_is_turned_by_a_quarter():
    # 4000 x 3000 becomes 3000 x 4000. Joists along x, counted from the foot at 400, 850, ...
    # 2650, run along y and are counted from the other side: 350, 800, ... 2600.
    room = replace(
        BOX,
        joists=(JoistZone(id="z", direction_deg=0.0, spacing=450.0, first=400.0),),
        openings=(door(),),
    )
    turned = turn_room(room)
    assert turned.outline == ((3000, 0), (0, 0), (0, 4000), (3000, 4000))
    assert turned.joists[0].direction_deg == 90
    assert turned.joists[0].first == 350
    assert turned.openings == room.openings
    assert turn_room(turned, 3) == room


def test_a_wide_first_bay_becomes_the_last():
    zone = JoistZone(id="z", direction_deg=90.0, spacing=600.0, first=1000.0)
    wall = replace(BOX.walls[1], stud_spacing=600.0, stud_first=1000.0, stud_face=40.0)
    room = replace(BOX, joists=(zone,), walls=(BOX.walls[0], wall, *BOX.walls[2:]))
    mirrored = mirror_room(room)
    # Joists at 1000, 1600, ... 3400 of 4000.
    assert mirrored.joists[0].positions == (600, 1200, 1800, 2400, 3000)
    # The same studs, and the end studs half a face from the ends.
    studs = next(w for w in mirrored.walls if w.id == "b").studs
    assert studs == (20, 600, 1200, 1800, 2400, 3000, 3980)


@given(strategies.rooms())
def test_four_quarters_are_none(room):
    round_ = turn_room(room, 1)
    for _ in range(3):
        round_ = turn_room(round_, 1)
    assert round_.outline == room.outline
    assert round_.openings == room.openings
    assert round_.walls == room.walls
    assert turn_room(room, 4) == room
    assert turn_room(turn_room(room, -1), 1).outline == room.outline
