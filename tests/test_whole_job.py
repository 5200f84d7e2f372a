"""Random jobs through the whole chain: what comes out is sound, whatever goes in."""

from hypothesis import given, settings

from roomboard.storage.scheme_file import scheme_text
from tests.chain import as_data, faults_of, worked
from tests.house_12 import house
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
