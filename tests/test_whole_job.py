"""Random jobs through the whole chain: what comes out is sound, whatever goes in."""

from dataclasses import replace

from hypothesis import given, settings

from roomboard.core.project import Project
from roomboard.storage.scheme_file import scheme_text
from tests.chain import as_data, faults_of, worked
from tests.house_12 import house
from tests.rooms import room as small_room
from tests.strategies import projects


@settings(max_examples=150)
@given(projects(most_rooms=1))
def test_a_random_room_gives_a_sound_scheme(project):
    assert faults_of(as_data(worked(project))) == []


@settings(max_examples=120)
@given(projects(most_rooms=1, slanting=True))
def test_a_random_room_with_walls_at_any_angle_gives_a_sound_scheme(project):
    assert faults_of(as_data(worked(project))) == []


@settings(max_examples=20)
@given(projects(most_rooms=3))
def test_a_random_job_gives_a_sound_scheme(project):
    assert faults_of(as_data(worked(project))) == []


@settings(max_examples=15)
@given(projects(most_rooms=2))
def test_the_same_job_gives_the_same_bytes(project):
    assert scheme_text(worked(project)) == scheme_text(worked(project))


def test_the_house_is_sound():
    data = as_data(worked(house()))

    assert faults_of(data) == []
    assert sum(len(room["surfaces"]) for room in data["rooms"]) >= 55


def test_butts_on_studs_too_narrow_for_two_ends_are_named_as_such():
    """A US wall of 3175 with sheets of 2438 at most: both courses end on studs of 35, and
    38.1 are needed (1-1/2 in, the pack's ``joint_face.min``)."""
    found = small_room(3175.0, 2500.0, 2100.0, ceiling_lined=False, carry_in=3050.0)
    lined = tuple(
        replace(w, stud_spacing=400.0, stud_face=35.0, lined=w.id == "b") for w in found.walls
    )
    project = Project(
        id="narrow", name="Narrow", practice="us", rooms=(replace(found, walls=lined),)
    )
    data = as_data(worked(project))
    assert [f["code"] for f in data["findings"]].count("RB304") == 2
    assert faults_of(data) == []
