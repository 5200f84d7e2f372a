"""Random jobs through the whole chain: what comes out is sound, whatever goes in."""

from dataclasses import replace

from hypothesis import given, settings

from roomboard.core.project import Opening, OpeningKind, Project
from roomboard.storage.scheme_file import scheme_text
from tests.chain import as_data, faults_of, worked
from tests.house_12 import house
from tests.rooms import joists, walls
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


def test_no_daub_stands_beside_the_flat_of_a_round_hole_over_a_batten():
    """Battens along x, the first at 250 - 56 = 194 (face 45, so 171.5 to 216.5); a light of 180
    from 0 to 180 up: its top flat lies on that batten about x = 865, so that adhesive there
    would come out into the hole."""
    light = Opening(
        id="l",
        kind=OpeningKind.LIGHT,
        host="ceiling",
        left=775.0,
        bottom=0.0,
        width=180.0,
        height=180.0,
        is_round=True,
    )
    found = replace(
        small_room(1800.0, 2300.0, 2100.0, openings=(light,), walls=walls(4, lined=False)),
        outline=((-19.0, -56.0), (-20.0, 2298.0), (1799.0, 2312.0), (1793.0, 6.0)),
        joists=(joists(0.0, 450.0, positions=(250.0, 635.0, 1200.0, 1695.0, 2255.0)),),
    )
    project = Project(id="light", name="Light", practice="au-nz", rooms=(found,))
    data = as_data(worked(project))
    assert faults_of(data) == []
    ceiling = next(s for s in data["rooms"][0]["surfaces"] if s["place"] == "ceiling")
    on_batten = [daub["u"] for daub in ceiling["daubs"] if daub["v"] == 194.0]
    assert len(on_batten) >= 3
    assert not [u for u in on_batten if 853.0 < u < 877.0]
