"""Edits of the heights of a ceiling: worked examples, refusals, and what goes with a room."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.editing import EditError, heights, heights_corners, heights_parts
from roomboard.core.editing.choices import set_direction
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.editing.walls import move_wall
from roomboard.core.heights import covers, height_at, highest
from roomboard.core.measure_heights import asks_heights, parted, read_heights
from roomboard.core.plane import Region
from roomboard.core.project import SheetDirection, Units
from roomboard.core.units import Refusal
from roomboard.storage.project_file import read, write
from tests import strategies
from tests.rooms import joists, project, room

SHED = room(4000, 3600, 2400, joists=(joists(90, 600),))


def test_a_rake_has_its_heights_at_the_corners() -> None:
    """From wall d (y = 0) 2400 to 3600: corners 1 and 4 low, 2 and 3 high."""
    of = heights.rake(SHED, "d", 2400, 3600)
    assert heights_corners.corner_heights(of) == pytest.approx((2400, 3600, 3600, 2400))
    assert highest(of) == pytest.approx(3600)
    assert height_at(of, (1000, 1800)) == pytest.approx(3000)


def test_a_pitch_says_how_high_it_gets() -> None:
    """3600 x tan 20 = 1310.2932."""
    of = heights.rake_by_pitch(SHED, "d", 2400, 20)
    assert heights_corners.corner_heights(of)[1] == pytest.approx(2400 + 1310.2932, abs=1e-3)


def test_heights_at_four_corners_in_one_plane_make_one_slope() -> None:
    """2400 and 2700 at the ends of x = 0, 2600 and 2900 at x = 4000: z = 2400 + x/20 + y/12."""
    of = heights_corners.by_corners(SHED, (2400, 2700, 2900, 2600))
    assert len(of.ceiling_parts) == 1
    assert heights_corners.corner_heights(of) == pytest.approx((2400, 2700, 2900, 2600))
    assert of.ceiling_parts[0].pitch_deg == pytest.approx(
        math.degrees(math.atan(math.hypot(1 / 20, 1 / 12)))
    )


def test_heights_in_no_plane_say_which_is_out_and_offer_a_fold() -> None:
    """Three at 2400 lie in one plane, in which the third should be 2400: it is 300 out."""
    with pytest.raises(EditError) as refused:
        heights_corners.by_corners(SHED, (2400, 2400, 2700, 2400))
    assert "corner 3 is 300 mm out" in str(refused.value) or "300 mm out" in str(refused.value)
    assert "fold the ceiling along a diagonal" in str(refused.value)
    folded = heights_corners.folded(SHED, (2400, 2400, 2700, 2400), 2, 4)
    assert heights_corners.corner_heights(folded) == pytest.approx((2400, 2400, 2700, 2400))
    assert sum(r.area_mm2 for c in covers(folded) for r in c.regions) == pytest.approx(4000 * 3600)


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda r: heights.rake(r, "x", 2400, 3000), "has no wall"),
        (lambda r: heights.rake(r, "d", 3000, 2400), "would fall"),
        (lambda r: heights.rake(r, "d", 0, 2400), "more than nothing"),
        (lambda r: heights.rake_by_pitch(r, "d", 2400, 85), "type 0 to 80"),
        (lambda r: heights.ridge(r, "a", 2400, 3000, 4000), "outside the room"),
        (lambda r: heights.ridge(r, "a", 2400, 2400), "no higher"),
        (lambda r: heights_corners.by_corners(r, (2400, 2400)), "one for each"),
        (lambda r: heights_corners.folded(r, (2400,) * 4, 1, 2), "not its neighbour"),
        (lambda r: heights.drop_along(r, "a", 4000, 300), "takes up all"),
        (lambda r: heights.strip(r, "a", 2300, 300, 3800), "lies outside"),
        (lambda r: heights.split_flat(r, 2700), "does not slope"),
        (lambda r: heights_parts.remove_part(r, "a"), "it is flat"),
        (lambda r: heights_parts.set_part(r, "q", height=2), "has no part"),
        (lambda r: heights.soffit(r, "d", 2400, 60), "meets the floor"),
        (lambda r: heights_corners.set_corner_height(r, 7, 2400), "has 4 corners"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(edit, words) -> None:
    with pytest.raises(EditError) as refused:
        edit(SHED)
    assert words in str(refused.value)


def test_a_flat_part_above_all_slopes_or_under_all_is_refused() -> None:
    of = heights.rake(SHED, "d", 2400, 3600)
    for height in (3700, 2300):
        with pytest.raises(EditError):
            heights.split_flat(of, height)
    cut = heights.split_flat(of, 3000)
    assert max(heights_corners.corner_heights(cut)) == pytest.approx(3000)


def test_a_rise_gives_the_pitch_over_the_plan_of_the_part() -> None:
    """900 over 3600 is atan(1 / 4) = 14.036 degrees; of a ridge's half, over its own 2000."""
    of = heights_parts.set_rise(heights.rake(SHED, "d", 2400, 3600), "a", 900)
    assert of.ceiling_parts[0].pitch_deg == pytest.approx(14.0362, abs=1e-4)
    assert heights_corners.corner_heights(of)[1] == pytest.approx(3300)
    loft = heights_parts.set_rise(heights.ridge(SHED, "a", 2400, 3400), "b", 500)
    assert loft.ceiling_parts[1].pitch_deg == pytest.approx(math.degrees(math.atan(500 / 2000)))
    with pytest.raises(EditError):
        heights_parts.set_rise(of, "a", -100)


def test_what_was_chosen_for_a_part_goes_with_it() -> None:
    of = heights.rake(SHED, "d", 2400, 3600)
    of = set_direction(of, "ceiling:a", SheetDirection.ALONG)
    assert [c.surface for c in of.choices] == ["ceiling:a"]
    assert heights_parts.flatten(of).choices == ()
    with pytest.raises(EditError):
        set_direction(SHED, "ceiling:a", SheetDirection.ALONG)


def test_mirrored_a_room_has_its_heights_on_the_other_side() -> None:
    """Rising to the right from wall a (x = 0); mirrored it rises to the left."""
    of = heights.rake(SHED, "a", 2400, 3600)
    flipped = mirror_room(of)
    for x, y in ((0.0, 0.0), (1000.0, 700.0), (4000.0, 3600.0)):
        assert height_at(flipped, (4000 - x, y)) == pytest.approx(height_at(of, (x, y)))
    assert mirror_room(flipped).ceiling_parts == of.ceiling_parts


def test_turned_a_room_keeps_its_heights_at_its_corners() -> None:
    of = heights.ridge(SHED, "a", 2400, 3200, 1500, 2600)
    turned = turn_room(of)
    for at, was in zip(turned.outline, of.outline, strict=True):
        assert height_at(turned, at) == pytest.approx(height_at(of, was))
    assert heights_corners.corner_heights(turn_room(turned, 3)) == pytest.approx(
        heights_corners.corner_heights(of)
    )


def test_a_wall_moved_out_takes_the_slope_on_with_it() -> None:
    """A ridge of 4000 whose far wall moves out by 500: its slope goes on down to that wall."""
    of = heights.ridge(SHED, "a", 2400, 3200)  # 800 down in 2000
    wider = move_wall(of, "c", 500)
    assert len(covers(wider)) == 2
    assert sum(r.area_mm2 for c in covers(wider) for r in c.regions) == pytest.approx(4500 * 3600)
    assert height_at(wider, (4500, 1000)) == pytest.approx(2400 - 500 * 0.4)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("rake 2400 to 3600 from D", 2400, 3600),
        ("RAKE 2400 to 3600 from wall d", 2400, 3600),
        ("rake 2400 at 1/3 from D", 2400, 3600),
        ("rake 2400 at 18.434948822922 deg from D", 2400, 3600),
        ("soffit 3600 at 1/3 from D", 2400, 3600),
        ("ridge 2400 to 3600 along A", 2400, 2400),
        ("ridge 2400 to 3600 at 1000 along A", 2400, 2400),
        ("corners 2400 3600 3600 2400", 2400, 3600),
        ("corners 2400, 3600, 3600, 2400", 2400, 3600),
        ("fold 1-3 2400, 2400, 2600, 2400", 2400, 2600),
        ("drop 300 over 600 along A", 2100, 2400),
        ("strip 2250 over 300 at 0 from A", 2250, 2400),
    ],
)
def test_heights_are_read_as_they_are_said(text: str, low: float, high: float) -> None:
    assert asks_heights(text)
    typed = read_heights(text, Units.METRIC)
    assert not isinstance(typed, Refusal), typed
    of = typed.made(SHED)
    found = heights_corners.corner_heights(of)
    assert (min(found), max(found)) == pytest.approx((low, high), abs=0.01)


def test_feet_and_inches_are_read_too() -> None:
    """7' 10 1/2" is 94.5 x 25.4 = 2400.3 mm, 11' 9 3/4" is 141.75 x 25.4 = 3600.45."""
    typed = read_heights("rake 7' 10 1/2\" to 11' 9 3/4\" from D", Units.FEET_INCHES)
    assert not isinstance(typed, Refusal), typed
    found = heights_corners.corner_heights(typed.made(SHED))
    assert (min(found), max(found)) == pytest.approx((2400.3, 3600.45), abs=0.01)


@pytest.mark.parametrize("text", ["rake", "rake 2400", "rake a to b", "ridge 1 to", "fold 2400"])
def test_what_cannot_be_read_says_how_it_is_typed(text: str) -> None:
    typed = read_heights(text, Units.METRIC)
    assert isinstance(typed, Refusal)
    assert typed.sentence.endswith(".") or "type" in typed.sentence


def test_a_room_in_one_line_can_say_its_heights() -> None:
    assert parted("Shed 4000 x 3600 h 2400 rake 2400 to 3600 from D") == (
        "Shed 4000 x 3600 h 2400",
        "rake 2400 to 3600 from D",
    )
    assert parted("Bedroom 3580 x 3040 h 2400") == ("Bedroom 3580 x 3040 h 2400", "")


@settings(max_examples=40)
@given(strategies.sloping_rooms(), st.integers(0, 3))
def test_every_sloping_room_mirrors_turns_and_comes_back_from_a_file(of, quarters) -> None:
    back = read(write(project(of))).project
    assert back is not None
    assert back.rooms[0].ceiling_parts == of.ceiling_parts
    flipped = mirror_room(of)
    x0, _, x1, _ = Region.of(of.outline).bounds
    turned = turn_room(of, quarters)
    for at, was in zip(turned.outline, of.outline, strict=True):
        inside = Region.of(of.outline).geometry.representative_point()
        near = (was[0] + (inside.x - was[0]) * 0.01, was[1] + (inside.y - was[1]) * 0.01)
        assert height_at(flipped, (x0 + x1 - near[0], near[1])) == pytest.approx(
            height_at(of, near), abs=0.01
        )
        assert abs(at[0]) < 1e9


def test_three_corners_always_lie_in_a_plane() -> None:
    outline = ((0.0, 0.0), (0.0, 3000.0), (4000.0, 0.0))
    of = replace(SHED, outline=outline, walls=SHED.walls[:3])
    made = heights_corners.by_corners(of, (2400, 2600, 3000))
    assert heights_corners.corner_heights(made) == pytest.approx((2400, 2600, 3000))
