"""Left and right hands of raked pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.editing import heights
from roomboard.core.handed import Hand, half_turned, hand_of, is_twin, mirrored, twins
from roomboard.core.plane import Region
from roomboard.core.surface import SeenFrom
from tests.chain import as_data, faults_of, worked
from tests.rooms import joists, project, room


def pieces(of):
    """Pieces of a room by mark."""
    scheme = worked(project(of))
    return {p.mark: p for s in scheme.rooms[0].surfaces for p in s.set_out.pieces}


@pytest.fixture(scope="module")
def lean_to():
    """3600 deep, rising from 2400 to 3600 away from wall d."""
    return heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)


def test_the_tips_of_opposite_raking_walls_are_mirror_images(lean_to):
    """Wall a rises to the right, wall c to the left: right and left hand, and no two alike."""
    found = pieces(lean_to)
    assert (hand_of(found["WA-T1"]), hand_of(found["WC-T1"])) == (Hand.RIGHT, Hand.LEFT)
    assert is_twin(found["WA-T1"], found["WC-T1"])
    named = twins(found.values())
    assert named["room/WA-T1"] == ("WC-T1",)
    assert named["room/WC-M1"] == ("WA-M1",)


def test_what_is_its_own_mirror_image_has_no_hand():
    """The tip of a gable with a ridge in the middle can be turned over; a rectangle has none."""
    of = heights.ridge(room(5000, 4000, 2400, joists=(joists(0, 600),)), "a", 2400, 3800)
    assert {hand_of(p) for p in pieces(of).values()} == {Hand.NONE}


def test_a_half_turn_keeps_the_hand_and_a_mirror_changes_it(lean_to):
    tip = pieces(lean_to)["WA-T1"]
    turned = replace(tip, face_up=half_turned(tip.face_up))
    over = replace(tip, face_up=mirrored(tip.face_up))
    assert hand_of(turned) is hand_of(tip) is Hand.RIGHT
    assert hand_of(over) is Hand.LEFT
    # A parallelogram is its own half turn and still has a hand.
    leaning = replace(tip, face_up=Region.of([(0, 0), (2000, 0), (2500, 900), (500, 900)]))
    assert hand_of(leaning) is Hand.RIGHT
    assert hand_of(replace(tip, face_up=mirrored(leaning.face_up))) is Hand.LEFT


def test_the_file_says_the_hand_and_the_checker_notices_a_wrong_one(lean_to):
    data = as_data(worked(project(lean_to)))
    assert faults_of(data) == []
    found = {p["mark"]: p for s in data["rooms"][0]["surfaces"] for p in s["pieces"]}
    assert (found["WA-T1"]["hand"], found["WC-T1"]["hand"]) == ("right", "left")
    found["WA-T1"]["hand"] = "left"
    assert any("hand:" in f and "WA-T1" in f for f in faults_of(data))
    found["WA-T1"]["hand"] = ""
    assert any("says no hand" in f for f in faults_of(data))


def test_the_checker_notices_a_piece_that_would_have_to_be_turned_over(lean_to):
    data = as_data(worked(project(lean_to)))
    found = {p["mark"]: p for s in data["rooms"][0]["surfaces"] for p in s["pieces"]}
    tip = found["WA-T1"]
    ring = tip["face_up"]["outer"]
    tip["face_up"]["outer"] = [[tip["length"] - x, y] for x, y in reversed(ring)]
    assert any(f.startswith("face-up") and "WA-T1" in f for f in faults_of(data))


def test_the_checker_notices_a_face_that_looks_away_from_the_room(lean_to):
    """Were a wall drawn from outside, all its pieces would have to be turned over."""
    data = as_data(worked(project(lean_to)))
    wall = next(s for s in data["rooms"][0]["surfaces"] if s["key"] == "wall:a")
    at = wall["placing"]
    long = max(p[0] for p in wall["outline"]["outer"])
    at["origin"] = [o + long * u for o, u in zip(at["origin"], at["u_axis"], strict=True)]
    at["u_axis"] = [-u for u in at["u_axis"]]
    assert any("turned over" in f for f in faults_of(data))


def test_ceilings_are_seen_from_their_backs_and_cut_face_up(lean_to):
    scheme = worked(project(lean_to))
    ceiling = scheme.rooms[0].surfaces[0]
    assert ceiling.surface.seen_from is SeenFrom.BACK
    assert all(p.face_up_mirrored for p in ceiling.set_out.pieces)
