"""Joist zones, single members, studs and noggings."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core.editing import EditError
from roomboard.core.editing.members import (
    add_member,
    member_positions,
    move_member,
    remove_member,
    set_positions,
)
from roomboard.core.editing.rooms import rectangle, room_from_corners
from roomboard.core.editing.studs import (
    add_nogging,
    add_stud,
    move_nogging,
    move_stud,
    remove_nogging,
    remove_stud,
    set_all_studs,
    set_frame,
    set_stud_face,
    set_stud_positions,
    set_studs,
    stud_positions,
)
from roomboard.core.editing.zones import (
    drawn_zone,
    join_zones,
    set_direction,
    set_members,
    set_spacing,
    split_zone,
    zone_extent,
)
from roomboard.core.plane import Region
from roomboard.core.project import FrameKind, JoistZone, MemberKind

# Scenario: 6000 x 3600, joists along y at 300, 750, ... from x = 0.
HALL = replace(
    rectangle("Hall", 6000, 3600, 2400),
    joists=(JoistZone(id="z1", direction_deg=90.0, spacing=450.0, first=300.0, face=45.0),),
)


def places(room, zone_id):
    """Where a zone's members stand in the room's own measure."""
    zone = next(z for z in room.joists if z.id == zone_id)
    return [zone_extent(room, zone)[0] + p for p in member_positions(room, zone_id)]


def test_a_line_splits_a_zone_and_joists_stay():
    split = split_zone(HALL, "z1", (3600, -10), (3600, 3700))

    assert [z.id for z in split.joists] == ["z1", "z2"]
    assert Region.of(split.joists[0].outline) == Region.box(0, 0, 3600, 3600)
    assert Region.of(split.joists[1].outline) == Region.box(3600, 0, 6000, 3600)
    assert places(split, "z1") == [300 + 450 * k for k in range(8)]
    # 3900 is the first joist past the line: 300 from it.
    assert split.joists[1].first == 300
    assert places(split, "z2") == [3900 + 450 * k for k in range(5)]


def test_a_wall_taken_out_is_two_acts():
    # Split, then turn the right-hand part: joists along x at 600 from y = 0.
    split = split_zone(HALL, "z1", (3600, 0), (3600, 3600))
    turned = set_spacing(set_direction(split, "z2", 180), "z2", 600)
    assert turned.joists[1].direction_deg == 0
    assert places(turned, "z2") == [600, 1200, 1800, 2400, 3000]


def test_split_zones_join_again():
    split = split_zone(HALL, "z1", (3600, 0), (3600, 3600))
    assert join_zones(split, "z1", "z2") == HALL
    assert join_zones(split, "z2", "z1").joists[0].positions == ()
    assert places(join_zones(split, "z2", "z1"), "z2") == places(HALL, "z1")


def test_zones_whose_joists_do_not_match_join_one_by_one():
    split = set_spacing(split_zone(HALL, "z1", (3600, 0), (3600, 3600)), "z2", 600)
    joined = join_zones(split, "z1", "z2")
    assert joined.joists[0].positions == (
        *(300 + 450.0 * k for k in range(8)),
        *(4200, 4800, 5400),
    )


def test_zones_that_run_different_ways_do_not_join():
    split = split_zone(HALL, "z1", (3600, 0), (3600, 3600))
    with pytest.raises(EditError, match="run different ways"):
        join_zones(set_direction(split, "z2", 0), "z1", "z2")
    three = split_zone(split, "z2", (4800, 0), (4800, 3600))
    with pytest.raises(EditError, match="do not lie side by side"):
        join_zones(three, "z1", "z3")
    with pytest.raises(EditError, match="is one already"):
        join_zones(three, "z1", "z1")


def test_a_line_cuts_where_it_was_drawn():
    # A U: the line y = 2000 crosses both arms; drawn in the left one, it cuts only that.
    shape = room_from_corners(
        "U",
        [
            *((0, 0), (0, 3000), (1000, 3000), (1000, 1000)),
            *((3000, 1000), (3000, 3000), (4000, 3000), (4000, 0)),
        ],
        2400,
    )
    split = split_zone(shape, "any", (100, 2000), (900, 2000))
    assert [Region.of(z.outline).area_mm2 for z in split.joists] == [7e6, 1e6]
    assert Region.of(split.joists[1].outline) == Region.box(0, 2000, 1000, 3000)


@pytest.mark.parametrize(
    ("a", "b"),
    [((7000, 0), (7000, 10)), ((0, 0), (6000, 0)), ((10, 10), (10, 10))],
)
def test_a_line_that_parts_nothing_is_refused(a, b):
    with pytest.raises(EditError, match="does not part joist zone z1 of Hall"):
        split_zone(HALL, "z1", a, b)


@given(
    st.integers(400, 5600),
    st.integers(200, 3400),
    st.sampled_from([0.0, 90.0]),
    st.booleans(),
    st.integers(50, 900),
)
def test_a_split_moves_no_joist(x, y, direction, upright, first):
    room = replace(
        HALL,
        joists=(JoistZone(id="z1", direction_deg=direction, spacing=450.0, first=float(first)),),
    )
    a, b = ((x, 0), (x, 3600)) if upright else ((0, y), (6000, y))
    split = split_zone(room, "z1", a, b)
    before = places(room, "z1")
    crossed = (direction == 90.0) is upright
    after = [p for z in split.joists for p in places(split, z.id)]
    if crossed:
        line = x if upright else y
        assert sorted(after) == pytest.approx([p for p in before if abs(p - line) > 0.01])
        if line not in before:
            # A first bay wider than the spacing can only be told one by one.
            assert places(join_zones(split, "z1", "z2"), "z1") == pytest.approx(before)
    else:
        assert after == pytest.approx(before * 2)


def test_a_room_without_zones_gets_one():
    bare = rectangle("Bare", 3000, 4000, 2400)
    # Wider along y, so joists run along x, across the shorter way... of x.
    assert drawn_zone(bare).joists[0].direction_deg == 0
    assert drawn_zone(HALL) == HALL
    spaced = set_spacing(bare, "", 450, 200)
    assert (spaced.joists[0].id, spaced.joists[0].spacing, spaced.joists[0].first) == (
        *("z1", 450),
        200,
    )
    assert member_positions(bare, "") == ()


def test_a_turned_zone_is_spaced_anew():
    turned = set_direction(HALL, "z1", 0)
    assert (turned.joists[0].spacing, turned.joists[0].first) == (450, None)
    listed = replace(HALL, joists=(JoistZone(id="z1", positions=(400.0, 1000.0, 1600.0)),))
    assert set_direction(listed, "z1", 0).joists[0].spacing == 600
    assert set_direction(HALL, "z1", 270) == HALL


def test_one_member_moves_and_the_others_stay():
    moved = move_member(HALL, "z1", 1, 700)
    assert member_positions(moved, "z1")[:3] == (300, 700, 1200)
    assert len(member_positions(moved, "z1")) == len(member_positions(HALL, "z1")) == 13
    assert member_positions(add_member(HALL, "z1", 500), "z1")[:3] == (300, 500, 750)
    assert member_positions(remove_member(HALL, "z1", 0), "z1")[0] == 750
    assert set_spacing(moved, "z1", 450, 300) == HALL


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda: move_member(HALL, "z1", 13, 700), "13 members and none numbered 14"),
        (lambda: move_member(HALL, "z1", 1, 6500), "at 6500 mm lies outside joist zone z1"),
        (lambda: move_member(HALL, "z1", 1, 320), "at 300 mm and 320 mm .* in one place"),
        (lambda: set_positions(HALL, "z1", []), "needs a member"),
        (lambda: add_member(HALL, "z9", 500), "no joist zone “z9”"),
        (lambda: set_spacing(HALL, "z1", 4.5), "4.5 mm .* too near each other"),
        (lambda: set_spacing(HALL, "z1", 450, -1), "more than nothing"),
        (lambda: set_members(HALL, "z1", face=0), "more than nothing"),
        (lambda: set_studs(HALL, "b", 60), "Centres of 60 mm in wall B of Hall"),
        (lambda: move_stud(HALL, "b", 90, 10), "2 studs and none numbered 91"),
        (lambda: add_stud(HALL, "b", 7000), "at 7000 mm lies outside wall B of Hall"),
        (lambda: add_nogging(HALL, "b", 2400), "2400 mm lie outside wall B of Hall"),
        (lambda: move_nogging(HALL, "b", 0, 1200), "0 rows of noggings and none numbered 1"),
    ],
)
def test_what_cannot_be_framed_is_refused(edit, words):
    with pytest.raises(EditError, match=words):
        edit()


def test_members_are_said():
    steel = set_members(HALL, "z1", kind=MemberKind.BATTEN, frame=FrameKind.STEEL, face=38)
    zone = steel.joists[0]
    assert (zone.kind, zone.frame, zone.face) == (MemberKind.BATTEN, FrameKind.STEEL, 38)
    both = set_frame(HALL, FrameKind.STEEL)
    assert {w.frame for w in both.walls} | {z.frame for z in both.joists} == {FrameKind.STEEL}
    assert set_frame(HALL, FrameKind.STEEL, walls=False).walls == HALL.walls


def test_studs_are_placed_one_by_one():
    # A is 3600 long; studs of 40 at 600: end studs half a face in.
    room = set_stud_face(set_studs(HALL, "a", 600), "a", 40)
    assert stud_positions(room, "a") == (20, 600, 1200, 1800, 2400, 3000, 3580)
    moved = move_stud(room, "a", 2, 1250)
    assert stud_positions(moved, "a") == (20, 600, 1250, 1800, 2400, 3000, 3580)
    assert stud_positions(add_stud(room, "a", 900), "a")[2] == 900
    assert stud_positions(remove_stud(room, "a", 1), "a")[1] == 1200
    assert set_studs(moved, "a", 600) == room
    with pytest.raises(EditError, match="at 600 mm and 620 mm of wall A"):
        add_stud(room, "a", 620)
    with pytest.raises(EditError, match="needs a stud"):
        set_stud_positions(room, "a", [])


def test_studs_that_were_assumed_are_taken_over_with_their_face():
    moved = move_stud(HALL, "a", 1, 500, spacing=600, face=40)
    assert moved.walls[0].studs == (20, 500, 1200, 1800, 2400, 3000, 3580)
    assert moved.walls[0].stud_face == 40


def test_noggings_go_up_and_down():
    room = add_nogging(add_nogging(HALL, "a", 1600), "a", 800)
    assert room.walls[0].noggings == (800, 1600)
    assert move_nogging(room, "a", 0, 1700).walls[0].noggings == (1600, 1700)
    assert remove_nogging(room, "a", 1).walls[0].noggings == (800,)
    with pytest.raises(EditError, match="in one place"):
        add_nogging(room, "a", 800)


def test_all_walls_are_studded_alike():
    room = set_all_studs(HALL, 450, 200)
    assert {(w.stud_spacing, w.stud_first) for w in room.walls} == {(450, 200)}
