"""Where an aim is taken to."""

from dataclasses import replace

import pytest

from roomboard.core.editing.rooms import rectangle
from roomboard.core.editing.snapping import SnapKind, heading_deg, snap_point
from roomboard.core.project import JoistZone

BOX = replace(
    rectangle("Box", 4000, 3000, 2400),
    joists=(JoistZone(id="z1", direction_deg=90.0, spacing=450.0),),
)
CHAIN = ((0.0, 0.0), (0.0, 3000.0), (4000.0, 3000.0))


@pytest.mark.parametrize(
    ("aim", "point", "kind", "words"),
    [
        ((10, 2990), (0, 3000), SnapKind.END, "end of wall A"),
        ((3990, -5), (4000, 0), SnapKind.END, "end of wall C"),
        ((2010, 2990), (2000, 3000), SnapKind.MIDDLE, "middle of wall B"),
        ((500, 3020), (500, 3000), SnapKind.IN_LINE, "in line with wall B"),
        ((-800, 3020), (-800, 3000), SnapKind.IN_LINE, "in line with wall B"),
        ((1790, 1234), (1800, 1234), SnapKind.JOIST, "joist 4"),
        ((1600, 1234), (1600, 1234), SnapKind.FREE, ""),
        ((1800, 5000), (1800, 5000), SnapKind.FREE, ""),  # past the joists' zone
    ],
)
def test_what_is_nearest_of_the_most_wanted_kind(aim, point, kind, words):
    snap = snap_point(BOX, aim, 40)
    assert (snap.point, snap.kind, snap.words) == (point, kind, words)


def test_square_across_from_the_corner_before():
    snap = snap_point(BOX, (3985, 1210), 40, from_point=(500, 1200))
    assert (snap.point, snap.kind, snap.words) == (
        *((4000, 1200), SnapKind.SQUARE),
        "square to wall C",
    )


def test_a_drawn_line_runs_square():
    snap = snap_point(CHAIN, (4020, 1700), 10, from_point=(4000, 3000))
    assert (snap.point, snap.kind) == ((4000, 1700), SnapKind.ORTHO)
    free = snap_point(CHAIN, (4020, 1700), 10, from_point=(4000, 3000), ortho=False)
    assert (free.point, free.kind) == ((4020, 1700), SnapKind.FREE)
    # Square to a way of 30 degrees, from (0, 0) towards (1000, 560): the foot of the aim on
    # that line is cos 30 * 1000 + sin 30 * 560 = 1146.025 along it.
    turned = snap_point((), (1000, 560), 5, from_point=(0, 0), square_to_deg=30)
    assert turned.point == pytest.approx((992.487113, 573.012702))


def test_the_fourth_corner_is_found():
    # Going down from (4000, 3000), level with the first corner.
    snap = snap_point(CHAIN, (4015, -20), 40, from_point=(4000, 3000))
    assert (snap.point, snap.kind, snap.words) == (
        *((4000, 0), SnapKind.IN_LINE),
        "in line with the start of wall A",
    )
    closing = snap_point(CHAIN, (12, 9), 40, from_point=(4000, 0))
    assert (closing.point, closing.words) == ((0, 0), "first corner")


def test_an_end_wins_over_square_and_lines_do_not():
    # The end of B is 20 beside the square line from (4020, 100), and is aimed at.
    snap = snap_point(CHAIN, (4005, 2995), 40, from_point=(4020, 100))
    assert (snap.point, snap.kind) == ((4000, 3000), SnapKind.END)
    # The line of B is crossed where the square line crosses it.
    snap = snap_point(CHAIN, (1508, 2980), 40, from_point=(1500, 100))
    assert (snap.point, snap.kind) == ((1500, 3000), SnapKind.SQUARE)
    past = snap_point(CHAIN, (4708, 2980), 40, from_point=(4700, 100))
    assert (past.point, past.words) == ((4700, 3000), "in line with wall B")


def test_a_joist_is_crossed_squarely():
    snap = snap_point(BOX, (1815, 1480), 40, from_point=(700, 1500.5))
    assert (snap.point, snap.kind) == ((1800, 1500.5), SnapKind.JOIST)


def test_zones_are_named_where_there_are_two():
    two = replace(
        BOX,
        joists=(
            JoistZone(id="z1", outline=((0, 0), (2000, 0), (2000, 3000), (0, 3000)), spacing=600.0),
            JoistZone(
                id="z2",
                outline=((2000, 0), (4000, 0), (4000, 3000), (2000, 3000)),
                direction_deg=0.0,
                spacing=600.0,
            ),
        ),
    )
    # The second joist of z2 stands 1200 from the foot.
    snap = snap_point(two, (3100, 1190), 40)
    assert (snap.point, snap.words) == ((3100, 1200), "joist 2 of zone z2")


def test_nothing_to_snap_to():
    assert snap_point((), (1.5, 2.5), 40).kind is SnapKind.FREE
    assert snap_point([(0.0, 0.0)], (3, 4), 5).words == "first corner"
    assert snap_point([(0.0, 0.0)], (3, 4), 4.9).kind is SnapKind.FREE


@pytest.mark.parametrize(
    ("to", "angle"), [((1, 0), 0), ((0, 1), 90), ((-1, 0), 180), ((0, -1), 270), ((1, -1), 315)]
)
def test_headings_count_round(to, angle):
    assert heading_deg((0, 0), to) == angle


def test_walls_and_joists_of_a_room_beside_count_after_its_own():
    beside = (BOX,)
    end = snap_point((), (3990, 2995), 40, others=beside)
    assert (end.point, end.kind, end.words) == ((4000, 3000), SnapKind.END, "end of wall B of Box")
    middle = snap_point((), (2010, 2990), 40, others=beside)
    assert (middle.point, middle.kind) == ((2000, 3000), SnapKind.MIDDLE)
    assert middle.words == "middle of wall B of Box"
    line = snap_point((), (5000, 3015), 40, others=beside)
    assert (line.point, line.words) == ((5000, 3000), "in line with wall B of Box")
    joist = snap_point((), (1790, 1234), 40, others=beside)
    assert (joist.point, joist.words) == ((1800, 1234), "joist 4 of Box")
    square = snap_point(((500.0, 1200.0),), (3985, 1210), 40, from_point=(500, 1200), others=beside)
    assert (square.point, square.words) == ((4000, 1200), "square to wall C of Box")
    # With a corner of its own on the same place, that one is named.
    own = snap_point(((4000.0, 3000.0),), (3990, 2995), 40, others=beside)
    assert own.words == "first corner"
    assert snap_point((), (3990, 2995), 40).kind is SnapKind.FREE


def test_a_square_line_goes_to_where_it_meets_the_joist_of_a_room_beside():
    # From (100, 1000) to the right, the aim is off by 8 and 12: the joist at 1800 is met level.
    found = snap_point(((100.0, 1000.0),), (1792, 1012), 40, from_point=(100, 1000), others=(BOX,))
    assert (found.point, found.kind) == ((1800, 1000), SnapKind.JOIST)
