"""Regions, frames and intervals."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core.plane import (
    Frame,
    Region,
    chords_at_s,
    chords_at_t,
    difference,
    fault_in,
    intersection,
    line_inside,
    merge_intervals,
    shared_stretch,
    subtract_intervals,
)

L_SHAPE = [(0, 0), (0, 4), (2, 4), (2, 2), (5, 2), (5, 0)]
numbers = st.integers(0, 1000).map(float)


def test_a_region_is_the_same_however_its_corners_are_given() -> None:
    """Direction, starting corner, doubled and collinear points make no difference."""
    one = Region.of(L_SHAPE)
    two = Region.of([(5, 0), (5, 2), (2, 2), (2, 2), (2, 4), (0, 4), (0, 1), (0, 0)])
    assert one == two
    assert one.outer[0] == (0.0, 0.0)
    assert one.area_mm2 == pytest.approx(4 * 2 + 3 * 2)


def test_holes_take_area_off_and_points_in_them_lie_outside() -> None:
    """A 10 x 10 square with a 2 x 3 hole has 94."""
    region = Region.of([(0, 0), (10, 0), (10, 10), (0, 10)], [[(4, 4), (6, 4), (6, 7), (4, 7)]])
    assert region.area_mm2 == pytest.approx(94)
    assert not region.contains((5, 5))
    assert region.contains((1, 1))
    assert not region.contains((1, 1), margin=1.5)
    assert not region.is_box


def test_chords_of_an_l_shape() -> None:
    """Lines across and along the L give the stretches one reads off the drawing."""
    region = Region.of(L_SHAPE)
    assert chords_at_s(region, 1) == ((0, 4),)
    assert chords_at_s(region, 3) == ((0, 2),)
    assert chords_at_t(region, 1) == ((0, 5),)
    assert chords_at_t(region, 3) == ((0, 2),)
    assert chords_at_t(region, 5) == ()


def test_a_line_is_cut_to_a_region_with_a_hole() -> None:
    """A line through the hole comes out in two parts."""
    region = Region.of([(0, 0), (10, 0), (10, 10), (0, 10)], [[(4, 4), (6, 4), (6, 7), (4, 7)]])
    assert line_inside(region, (-5, 5), (20, 5)) == (((0, 5), (4, 5)), ((6, 5), (10, 5)))
    assert line_inside(region, (1, 1), (1, 1)) == ()


def test_difference_and_intersection() -> None:
    """A door cut from a wall leaves a notch; a full-height one leaves two parts."""
    wall = Region.box(0, 0, 5000, 2400)
    notched = difference(wall, [Region.box(900, 0, 1720, 2040)])
    assert len(notched) == 1
    assert notched[0].area_mm2 == pytest.approx(5000 * 2400 - 820 * 2040)
    assert len(difference(wall, [Region.box(900, 0, 1720, 2400)])) == 2
    assert difference(wall, [wall]) == ()
    assert intersection(wall, Region.box(6000, 0, 7000, 10)) == ()


@pytest.mark.parametrize(
    ("ring", "words"),
    [
        ([(0, 0), (1000, 0)], "three corners"),
        ([(0, 0), (1000, 1000), (1000, 0), (0, 1000)], "cross near x = 500"),
        ([(0, 0), (1000, 0), (2000, 0)], ""),
    ],
)
def test_what_is_wrong_with_an_outline(ring: list[tuple[float, float]], words: str) -> None:
    """Each fault is said in words."""
    assert fault_in(ring)
    assert words in fault_in(ring)


def test_a_sound_outline_has_no_fault() -> None:
    """The L is fine in both directions."""
    assert not fault_in(L_SHAPE)
    assert not fault_in(L_SHAPE[::-1])


@given(numbers, numbers, st.sampled_from([0.0, 90.0, 180.0, 270.0, 30.0, 137.5]))
def test_frames_turn_there_and_back(x: float, y: float, angle: float) -> None:
    """A point turned into a frame and back is the same point; quarter turns are exact."""
    frame = Frame.at_angle(angle, (12.0, 7.0))
    back = frame.to_uv(frame.to_st((x, y)))
    assert back == pytest.approx((x, y), abs=1e-5)
    if angle % 90 == 0:
        assert back == (x, y)


@given(st.lists(st.tuples(numbers, numbers).map(lambda p: (min(p), max(p)))))
def test_intervals_merge_and_subtract_to_the_whole(parts: list[tuple[float, float]]) -> None:
    """What is taken and what is left make up the whole."""
    merged = merge_intervals(parts)
    left = subtract_intervals((0.0, 1000.0), merged)
    assert sum(b - a for a, b in merged) + sum(b - a for a, b in left) == pytest.approx(1000, abs=1)
    assert all(b < c for (_, b), (c, _) in pairwise(merged))


def test_a_tip_with_two_corners_a_hair_apart_is_dropped():
    """A square of 1200 with a tip to 2400 that is a millionth of a mm wide: only rounding."""
    ring = [(0, 0), (2400, 0), (2400, 1e-6), (1200, 1e-6), (1200, 1200), (0, 1200)]
    assert Region.of(ring).bounds == (0.0, 0.0, 1200.0, 1200.0)


@pytest.mark.parametrize(
    ("other", "span"),
    [
        (((200.0, 0.0), (700.0, 0.0)), (200.0, 700.0)),
        (((700.0, 0.0), (-50.0, 0.0)), (0.0, 700.0)),  # runs the other way, and past the begin
        (((200.0, 0.9), (1500.0, -0.9)), (200.0, 1000.0)),  # within 1 beside it
        (((200.0, 1.1), (700.0, 0.0)), None),
        (((998.0, 0.0), (2000.0, 0.0)), None),  # shares 2, no more
        (((500.0, -10.0), (500.0, 10.0)), None),  # crosses it
    ],
)
def test_what_two_lines_share(other, span):
    assert shared_stretch((0.0, 0.0), (1000.0, 0.0), *other, off=1.0, least=2.0) == span
