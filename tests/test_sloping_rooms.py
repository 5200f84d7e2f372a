"""Random rooms under sloping, ridged, dropped and stepped ceilings through the whole chain."""

import pytest
from hypothesis import given, settings

from roomboard.core.editing import heights
from roomboard.storage.scheme_file import scheme_text
from tests.chain import as_data, faults_of, worked
from tests.rooms import joists, room
from tests.rooms import project as job
from tests.strategies import projects


@settings(max_examples=100)
@given(projects(most_rooms=1, sloping=True))
def test_a_random_room_under_a_sloping_ceiling_gives_a_sound_scheme(project):
    assert faults_of(as_data(worked(project))) == []


@settings(max_examples=50)
@given(projects(most_rooms=1, sloping=True, slanting=True))
def test_a_random_room_that_is_askew_in_plan_and_height_gives_a_sound_scheme(project):
    assert faults_of(as_data(worked(project))) == []


@settings(max_examples=10)
@given(projects(most_rooms=1, sloping=True))
def test_the_same_sloping_job_gives_the_same_bytes(project):
    assert scheme_text(worked(project)) == scheme_text(worked(project))


@pytest.fixture
def loft():
    """A room with a ridge, as a reader of its file sees it."""
    of = heights.ridge(room(5000, 4000, 2400, joists=(joists(0, 600),)), "a", 2400, 3800)
    return as_data(worked(job(of)))


def test_the_checker_notices_a_face_that_stands_elsewhere(loft):
    assert faults_of(loft) == []
    gable = next(s for s in loft["rooms"][0]["surfaces"] if s["key"] == "wall:b")
    gable["placing"]["origin"][1] += 300
    assert any(f.startswith("standing") and "wall:b" in f for f in faults_of(loft))


def test_the_checker_notices_a_slope_that_is_too_flat_for_its_walls(loft):
    slope = next(s for s in loft["rooms"][0]["surfaces"] if s["key"] == "ceiling:a")
    slope["placing"]["v_axis"] = [1.0, 0.0, 0.0]
    said = [f for f in faults_of(loft) if f.startswith("standing")]
    assert any("lies over" in f for f in said)
    assert any("off room/ceiling:a" in f or "ceiling:a: its side" in f for f in said)
