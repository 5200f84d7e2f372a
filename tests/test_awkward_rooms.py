"""Whatever is asked of any room, the independent checker agrees with what is worked out.

Rooms of any outline with holes, and on them control joints, bands without joints, parts that keep
their lining, second layers and depths of joists: what the tests of each subject ask one by one.
"""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from roomboard.core.project import (
    Axis,
    ControlLine,
    KeptPart,
    NoJointBand,
    PackTo,
    Project,
    Room,
    SurfaceChoice,
)
from roomboard.storage.project_file import read, write
from roomboard.storage.resources import resource_text
from tests.chain import as_data, faults_of, worked
from tests.rooms import project, room
from tests.strategies import projects


@st.composite
def awkward(draw: st.DrawFn, *, slanting: bool) -> Project:
    """A job of one room with something of everything on it."""
    job = draw(projects(most_rooms=1, slanting=slanting))
    return replace(job, rooms=tuple(draw(with_more(r)) for r in job.rooms))


@st.composite
def with_more(draw: st.DrawFn, room: Room) -> Room:
    xs, ys = [p[0] for p in room.outline], [p[1] for p in room.outline]
    wall = draw(st.sampled_from(room.walls)).id
    length = room.wall_length([w.id for w in room.walls].index(wall))
    share = st.floats(min_value=0.15, max_value=0.85)

    def at(low: float, high: float) -> float:
        return round(low + (high - low) * draw(share))

    choices = {c.surface: c for c in room.choices}
    if draw(st.booleans()):
        axis = draw(st.sampled_from(Axis))
        span = (min(xs), max(xs)) if axis is Axis.U else (min(ys), max(ys))
        lines = {"ceiling": ControlLine(axis=axis, at=at(*span))}
        if draw(st.booleans()):
            lines[f"wall:{wall}"] = ControlLine(axis=Axis.U, at=at(0, length))
        for key, line in lines.items():
            known = choices.get(key, SurfaceChoice(surface=key))
            choices[key] = replace(known, butts=(), first_course=(), controls=(line,))
    bands, kept = room.bands, room.kept
    if draw(st.booleans()):
        low = at(300, room.height)
        bands = (NoJointBand(id="n1", host=wall, low=low, high=low + draw(st.integers(50, 400))),)
    if draw(st.booleans()):
        high = at(300, room.height)
        kept = (KeptPart(id="k1", host=wall, left=0, bottom=0, width=at(200, length), height=high),)
    walls = tuple(
        replace(w, layers=draw(st.integers(1, 2))) if w.id == wall else w for w in room.walls
    )
    joists = tuple(
        replace(
            z,
            depths=tuple((draw(st.integers(0, 30)),) for _ in range(draw(st.integers(0, 8)))),
            packed_to=draw(st.sampled_from(PackTo)),
        )
        for z in room.joists
    )
    return replace(
        room,
        choices=tuple(choices.values()),
        bands=bands,
        kept=kept,
        walls=walls,
        joists=joists,
        ceiling_layers=draw(st.integers(1, 2)),
    )


@settings(max_examples=18)
@given(awkward(slanting=False))
def test_square_rooms_with_something_of_everything(job: Project) -> None:
    assert faults_of(as_data(worked(job))) == []


@settings(max_examples=14)
@given(awkward(slanting=True))
def test_slanting_rooms_with_something_of_everything(job: Project) -> None:
    assert faults_of(as_data(worked(job))) == []


@settings(max_examples=25)
@given(awkward(slanting=True))
def test_the_file_keeps_all_of_it_and_its_schema_knows_it(job: Project) -> None:
    text = write(job)
    loaded = read(text)
    assert loaded.faults == ()
    assert loaded.project is not None
    assert write(loaded.project) == text
    for one, two in zip(loaded.project.rooms, job.rooms, strict=True):
        assert (one.bands, one.kept, one.ceiling_layers) == (
            two.bands,
            two.kept,
            two.ceiling_layers,
        )
        assert [w.layers for w in one.walls] == [w.layers for w in two.walls]
        assert [z.depths for z in one.joists] == [z.depths for z in two.joists]
        assert {c.surface: c.controls for c in one.choices} == {
            c.surface: c.controls for c in two.choices
        }
    schema = json.loads(resource_text("schema", "project-1.schema.json"))
    assert not list(Draft202012Validator(schema).iter_errors(json.loads(text)))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"bands": [{"id": "n", "host": "a", "low": 900, "high": 800}]}, "is not above low"),
        ({"bands": [{"id": "n", "host": "q", "low": 1, "high": 2}]}, "there is no"),
        ({"kept": [{"id": "k", "host": "q", "left": 0, "bottom": 0, "width": 1, "height": 1}]},
         "there is no"),
        ({"ceiling_layers": 3}, "no number of layers"),
        ({"choices": [{"surface": "ceiling", "controls": [{"axis": "w", "at": 1}]}]}, "give one"),
        ({"joists": [{"id": "z", "spacing": 450, "depths": [["deep"]]}]}, "not a number"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_in_a_sentence(change: dict, said: str) -> None:
    raw = json.loads(write(project(room(4000, 3000))))
    raw["rooms"][0] |= change
    loaded = read(json.dumps(raw))
    assert loaded.project is None
    assert any(said in str(fault) for fault in loaded.faults)
