"""Walls drawn one after the other: angles between them, closing, boundaries moved."""

import pytest

from roomboard.core.editing import EditError
from roomboard.core.editing.boundaries import boundaries, boundary_at, move_boundary
from roomboard.core.editing.rooms import rectangle
from roomboard.core.editing.sketching import (
    at_zero,
    closed,
    corner_angle,
    corner_for_lengths,
    line_across,
    stepped,
    turned,
)
from roomboard.core.editing.zones import set_spacing, split_zone
from roomboard.core.framing import extent_across, member_positions
from roomboard.core.plane import Region

UP = ((0.0, 0.0), (0.0, 3000.0))


def test_a_first_wall_is_measured_from_x_and_the_next_in_the_corner():
    assert corner_angle(UP[:1], (0.0, 500.0)) == pytest.approx(90)
    assert corner_angle(UP, (1000.0, 3000.0)) == pytest.approx(90)
    assert corner_angle(UP, (-1000.0, 3000.0)) == pytest.approx(90)
    # On past the corner at 45° to the wall before: 180 - 45.
    assert corner_angle(UP, (1000.0, 4000.0)) == pytest.approx(135)


@pytest.mark.parametrize(
    ("angle", "toward", "way"),
    [(90, None, 0), (90, (-5.0, 3000.0), 180), (135, None, 45), (135, (-5.0, 3100.0), 135)],
)
def test_an_angle_turns_to_the_right_or_to_the_side_aimed_at(angle, toward, way):
    assert turned(UP, angle, toward) == pytest.approx(way)


def test_an_l_with_a_corner_missing_is_squared_off():
    drawn = ((0, 0), (0, 4000), (3000, 4000), (3000, 2500), (5000, 2500))
    assert closed(drawn) == (*drawn, (5000, 0))


def test_what_closes_square_already_gets_no_corner():
    drawn = ((0, 0), (0, 3000), (4000, 3000), (4000, 0))
    assert closed(drawn) == drawn


def test_walls_that_do_not_come_back_square_close_askew_as_measured():
    drawn = ((0, 0), (0, 3000), (4000, 3000), (4000, 40))
    assert closed(drawn) == drawn


def test_a_slanted_outline_is_not_squared_off():
    drawn = ((0, 0), (0, 3000), (3000, 4000))
    assert closed(drawn) == drawn


def test_too_few_corners_are_refused():
    with pytest.raises(EditError, match="three corners"):
        closed(((0, 0), (0, 3000)))


def test_a_room_is_moved_to_zero_and_keeps_its_shape():
    assert at_zero(((-5.0, 20.0), (-5.0, 30.0), (5.0, 30.0))) == ((0, 0), (0, 10), (10, 10))


def test_a_distance_is_made_whole_along_its_own_line():
    assert stepped((0.0, 0.0), (1234.4, 0.0), 1.0) == (1234, 0)
    assert stepped((0.0, 0.0), (0.0, 100.0), 25.4) == pytest.approx((0, 101.6))


def test_a_corner_goes_where_its_walls_get_their_lengths():
    room = rectangle("Bed", 3580, 3040, 2400)
    assert corner_for_lengths(room, 2, 3700, 3100) == (3700, 3100)
    assert corner_for_lengths(room, 2, before=3700) == (3700, 3040)
    assert corner_for_lengths(room, 2, after=3100) == (3580, 3100)


def test_a_line_is_measured_from_the_low_side():
    room = rectangle("Bed", 3580, 3040, 2400, origin=(100.0, 200.0))
    assert line_across(room, "y", 1000) == ((1100, 200), (1100, 3240))
    assert line_across(room, "x", 1000) == ((100, 1200), (3680, 1200))


def places(room, zone):
    """Where the members of a zone stand in plan, across their direction."""
    region = Region.of(zone.outline or room.outline)
    low, high = extent_across(region, zone.direction_deg)
    return [round(low + p, 6) for p in member_positions(zone, high - low)]


def parted():
    """6000 by 3600, joists at 450 from 300, parted at 3600."""
    room = set_spacing(rectangle("Hall", 6000, 3600, 2400), "z1", 450, 300)
    return split_zone(room, "z1", (3600, 0), (3600, 3600))


def test_a_boundary_is_found_once_and_from_either_side():
    room = parted()
    (found,) = boundaries(room)
    assert {found.one, found.two} == {"z1", "z2"}
    assert {found.a, found.b} == {(3600, 0), (3600, 3600)}
    assert boundary_at(room, (3590, 1000), 20) == found
    assert boundary_at(room, (3000, 1000), 20) is None


@pytest.mark.parametrize("at", [2000.0, 4000.0])
def test_a_boundary_moves_and_every_joist_stays_where_it_is(at):
    room = parted()
    before = sorted(p for z in room.joists for p in places(room, z))
    moved = move_boundary(room, "z1", "z2", (at, 0), (at, 3600))
    assert {p[0] for z in moved.joists for p in z.outline} == {0, at, 6000}
    assert sorted(p for z in moved.joists for p in places(moved, z)) == before
    assert moved.joists[0].id == "z1"
    assert Region.of(moved.joists[0].outline).bounds[0] == 0


def test_a_boundary_cannot_leave_its_zones():
    with pytest.raises(EditError, match="far sides"):
        move_boundary(parted(), "z1", "z2", (7000, 0), (7000, 3600))


def test_walls_that_meet_a_long_way_off_are_refused():
    """Moved along walls that almost run the same way, a corner would be kilometres away."""
    from roomboard.core.editing.rooms import room_from_corners
    from roomboard.core.editing.walls import move_wall

    askew = ((0, 0), (0, 3000), (4000, 3000.001), (8000, 3000), (8000, 0))
    room = room_from_corners("Hall", askew, 2400)
    with pytest.raises(EditError, match="long; move the wall or corner less"):
        move_wall(room, "b", 900)
    with pytest.raises(EditError, match="check its length and the unit"):
        rectangle("Hall", 3_600_000, 3000, 2400)
