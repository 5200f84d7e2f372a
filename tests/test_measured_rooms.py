"""Rooms measured from open building models go through the whole chain."""

import json

import pytest

from roomboard.core.plane import signed_area
from roomboard.core.project import WallKind
from tests.chain import as_data, faults_of, worked
from tests.measured_rooms import FOLDER, MODELS, duplex, measured, project_of, rooms

ROOMS = [(model, room) for model in MODELS for room in rooms(model)]


def test_all_36_rooms_are_there():
    assert {model: len(rooms(model)) for model in MODELS} == {
        "duplex": 21,
        "family_home": 7,
        "large_building": 8,
    }


@pytest.mark.parametrize("model", MODELS)
def test_each_model_names_its_source_and_licence(model):
    source = json.loads((FOLDER / f"{model}.json").read_text(encoding="utf-8"))["source"]
    readme = (FOLDER / "README.md").read_text(encoding="utf-8")

    assert source["model"] in readme
    assert source["from"] in readme
    assert source["licence"] in readme
    assert source["licence"] in (FOLDER / "LICENCES.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(("model", "room"), ROOMS, ids=[room.id for _, room in ROOMS])
def test_openings_stay_on_their_side_when_the_outline_is_turned_clockwise(model, room):
    row = next(r for r in measured(model) if r["name"] == room.name)
    assert signed_area(room.outline) < 0
    for opening, raw in zip(room.openings, row["openings"], strict=True):
        # From the side's first corner, counter-clockwise, is from its right end, seen from inside.
        a, b = (row["outline_mm"][(raw["wall"] + k) % len(row["outline_mm"])] for k in (0, 1))
        length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        assert opening.host == f"w{raw['wall'] + 1}"
        assert opening.left == pytest.approx(length - raw["offset_mm"] - raw["width_mm"])


@pytest.mark.parametrize("room", [room for _, room in ROOMS], ids=lambda room: room.id)
def test_measured_room_is_tiled_and_sound(room):
    data = as_data(worked(project_of(room)))

    assert faults_of(data) == []
    lined = {s["key"].partition(".")[0] for s in data["rooms"][0]["surfaces"]}
    walls = {f"wall:{w.id}" for w in room.walls if w.kind is WallKind.WALL}
    # What could not be lined is said.
    missing = ({"ceiling"} | walls) - lined
    said = " ".join(f["place"]["item"] + f["place"]["surface"] for f in data["findings"])
    assert [key for key in sorted(missing) if key.removeprefix("wall:") not in said] == []
    assert any(s["pieces"] for s in data["rooms"][0]["surfaces"])


def test_the_duplex_is_one_sound_job():
    data = as_data(worked(duplex()))

    assert faults_of(data) == []
    assert len(data["rooms"]) == 21
