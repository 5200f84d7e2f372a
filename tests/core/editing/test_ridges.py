"""A ridge that is moved: pitches by hand, what stays, and what is refused."""

from dataclasses import replace

import pytest

from roomboard.core.editing import EditError, heights
from roomboard.core.editing.ridges import move_ridge, ridge_of
from tests.core.editing.test_heights import SHED


def test_heights_stay_and_the_slopes_follow():
    """1000 up in 1500 is atan(2 / 3) = 33.690 degrees, in the other 2500 atan(0.4) = 21.801."""
    of = heights.ridge(SHED, "a", 2400, 3400)
    before = ridge_of(of)
    assert (before.away, before.depth) == (2000, 4000)
    moved = move_ridge(of, 1500)
    now = ridge_of(moved)
    assert now.away == 1500
    assert (now.near.pitch_deg, now.far.pitch_deg) == pytest.approx((33.690, 21.801), abs=1e-3)
    assert now.top == 3400
    assert (now.low, now.low_other) == pytest.approx((2400, 2400), abs=0.01)
    assert move_ridge(moved, 2000).ceiling_parts == of.ceiling_parts


def test_sides_of_different_heights_keep_them():
    """800 in 1000 is 38.660 degrees; 600 in 3000 is 11.310."""
    of = move_ridge(heights.ridge(SHED, "a", 2400, 3200, 1500, 2600), 1000)
    now = ridge_of(of)
    assert (now.near.pitch_deg, now.far.pitch_deg) == pytest.approx((38.660, 11.310), abs=1e-3)
    assert (now.low, now.low_other) == pytest.approx((2400, 2600), abs=0.01)


def test_boards_and_angles_of_the_slopes_stay():
    of = heights.ridge(SHED, "b", 2400, 3400)
    parts = tuple(replace(p, board="fire13", lined=p.id == "a") for p in of.ceiling_parts)
    moved = move_ridge(replace(of, ceiling_parts=parts), 1200)
    assert [(p.id, p.board, p.lined) for p in moved.ceiling_parts] == [
        ("a", "fire13", True),
        ("b", "fire13", False),
    ]


@pytest.mark.parametrize("away", [0.0, -200.0, 4000.0, float("nan")])
def test_out_of_the_room_it_is_refused(away):
    with pytest.raises(EditError):
        move_ridge(heights.ridge(SHED, "a", 2400, 3400), away)


def test_ceilings_without_such_a_ridge_have_none_to_move():
    for of in (SHED, heights.rake(SHED, "a", 2400, 3000)):
        assert ridge_of(of) is None
        with pytest.raises(EditError, match="has no ridge"):
            move_ridge(of, 1000)
