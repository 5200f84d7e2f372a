"""Planes laid on planes, and panes found by pointing."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core.plane import Region
from roomboard.drawing.displaylist import Stroke, Text
from roomboard.drawing.view import AS_IT_LIES, Affine, Pane, View

numbers = st.integers(-9000, 9000).map(float)
points = st.tuples(numbers, numbers)


@st.composite
def placings(draw):
    """A turn by any angle, mirrored or not, moved."""
    turn = math.radians(draw(st.integers(0, 359)))
    along = (math.cos(turn), math.sin(turn))
    sign = draw(st.sampled_from([1.0, -1.0]))
    return Affine.on_axes(draw(points), along, (-along[1] * sign, along[0] * sign))


@given(placings(), points)
def test_the_way_back_leads_back(placing, point):
    assert placing.inverse().apply(placing.apply(point)) == pytest.approx(point, abs=1e-6)


@given(placings(), placings(), points)
def test_two_placings_in_one_are_the_same_as_one_after_the_other(last, first, point):
    assert last.compose(first).apply(point) == pytest.approx(
        last.apply(first.apply(point)), abs=1e-6
    )


@given(placings(), points, points)
def test_lengths_stay_as_they_are(placing, a, b):
    assert math.dist(placing.apply(a), placing.apply(b)) == pytest.approx(math.dist(a, b), abs=1e-6)


def test_a_mirror_is_told_from_a_turn():
    assert not AS_IT_LIES.mirrored
    assert Affine(-1.0, 0.0, 0.0, 1.0).mirrored
    assert not Affine(-1.0, 0.0, 0.0, -1.0).mirrored  # half a turn


@pytest.mark.parametrize(
    ("turn", "lean"),
    [(0, 0), (90, 0), (180, 0), (30, 30), (45, 45), (60, -30), (120, 30), (-30, -30), (135, 45)],
)
def test_the_lean_is_taken_from_the_nearest_axis(turn, lean):
    radians = math.radians(turn)
    placing = Affine.on_axes(
        (0.0, 0.0),
        (math.cos(radians), math.sin(radians)),
        (math.sin(radians), -math.cos(radians)),
    )
    assert placing.lean_deg == pytest.approx(lean, abs=1e-6)


def test_a_plane_pressed_to_a_line_is_refused():
    with pytest.raises(ValueError, match="cannot be laid back"):
        Affine(1.0, 0.0, 0.0, 0.0).inverse()


def test_a_region_keeps_its_holes_and_its_area():
    region = Region.of(((0, 0), (4, 0), (4, 3), (0, 3)), [((1, 1), (2, 1), (2, 2), (1, 2))])
    laid = Affine.on_axes((10.0, 10.0), (0.0, 1.0), (1.0, 0.0)).region(region)

    assert laid.area_mm2 == pytest.approx(region.area_mm2) == pytest.approx(11.0)
    assert laid.bounds == (10.0, 10.0, 13.0, 14.0)


def pane(key, box, *marks):
    x0, y0, x1, y1 = box
    return Pane(
        surface=f"room/{key}",
        key=key,
        marks=marks,
        placing=AS_IT_LIES,
        outline=((x0, y0), (x1, y0), (x1, y1), (x0, y1)),
        caption=key,
    )


def test_the_topmost_pane_is_found():
    view = View(
        name="two", panes=(pane("low", (0, 0, 10, 10)), pane("high", (5, 5, 20, 20))), scale=50.0
    )
    assert view.pane_at((7.0, 7.0)).key == "high"
    assert view.pane_at((2.0, 2.0)).key == "low"
    assert view.pane_at((30.0, 2.0)) is None
    assert view.pane("low").surface == "room/low"
    assert view.pane("none") is None


def test_bounds_count_lettering_at_its_size_on_paper():
    word = Text(at=(0.0, 0.0), text="A", paper_height=2.5)
    line = Stroke(points=((0.0, 0.0), (1.0, 0.0)), layer="wall")
    small = View(name="v", panes=(pane("p", (0, 0, 10, 10), line, word),), scale=1.0)
    large = View(name="v", panes=(pane("p", (0, 0, 10, 10), line, word),), scale=50.0)

    assert small.bounds[3] == 10.0
    assert large.bounds[3] > 100.0
    assert small.marks == (line, word)
    assert View(name="empty", panes=(), scale=1.0).bounds == (0.0, 0.0, 0.0, 0.0)
