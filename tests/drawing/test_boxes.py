"""Bulkheads and columns on drawings, and what dimensions measure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.editing.bulkheads import add_bulkhead
from roomboard.core.editing.columns import add_column
from roomboard.core.editing.openings import add_opening
from roomboard.core.editing.rooms import rectangle
from roomboard.core.project import Bulkhead, Column, OpeningKind, Project, Room, Units
from roomboard.core.scheme import RoomScheme, work_out
from roomboard.drawing.boxes import draw_boxes
from roomboard.drawing.displaylist import Stroke, Text
from roomboard.drawing.lenses import LENSES
from roomboard.drawing.measured import length_ref, length_refs
from roomboard.drawing.sketch import Sketch
from roomboard.drawing.views import ceiling_view, face_view, plan_view
from roomboard.storage.catalogue import load_catalogue, load_practice


@pytest.fixture(scope="module")
def room() -> Room:
    """A hall of 6000 by 4000; wall B is the upper one, seen from inside from left to right."""
    hall = rectangle("Hall", 6000, 4000, 2400)
    hall = add_bulkhead(hall, "b", 1000, 3000, 600, 300)
    hall = add_column(hall, 2000, 1000, 400, 300)
    return add_opening(hall, "b", OpeningKind.WINDOW, 4500, 900, 1200, 1000)


@pytest.fixture(scope="module")
def hall(room: Room) -> RoomScheme:
    project = Project(id="hall", name="Hall", rooms=(room,))
    return work_out(project, load_catalogue("au-nz"), load_practice("au-nz")).rooms[0]


def test_boxes_are_drawn_where_they_lie_with_their_names(room: Room) -> None:
    sketch = Sketch(50.0, call_outs=False)
    draw_boxes(sketch, room, Units.METRIC)
    marks = sketch.taken_off()
    lines = {m.ref: m for m in marks if isinstance(m, Stroke)}
    assert set(lines["column:c1"].points) == {
        (2000, 1000),
        (2400, 1000),
        (2400, 1300),
        (2000, 1300),
    }
    # Along the upper wall, 600 into the room.
    assert set(lines["bulkhead:b1"].points) == {
        (1000, 4000),
        (4000, 4000),
        (4000, 3400),
        (1000, 3400),
    }
    assert (lines["column:c1"].layer, lines["bulkhead:b1"].layer) == ("column", "bulkhead")
    words = {m.ref: m.text for m in marks if isinstance(m, Text)}
    assert words == {"bulkhead:b1": "Bulkhead b1, 300 down", "column:c1": "c1"}


def test_what_cannot_be_drawn_is_left_out(room: Room) -> None:
    broken = replace(
        room,
        bulkheads=(
            Bulkhead(id="b1", wall="z", left=0.0, length=100.0, depth=100.0, drop=100.0),
            Bulkhead(id="b2", wall="a", left=0.0, length=0.0, depth=100.0, drop=100.0),
        ),
        columns=(Column(id="c1", outline=((0.0, 0.0), (1.0, 1.0))),),
    )
    sketch = Sketch(50.0, call_outs=False)
    draw_boxes(sketch, broken, Units.METRIC)
    assert sketch.taken_off() == ()


def test_a_stretch_measures_the_wall_whose_far_end_moves(room: Room) -> None:
    # B runs from left to right and A from below upward: their right-hand ends are the far ones.
    assert length_ref(room, (0.0, 6000.0), 0) == "length:b"
    assert length_ref(room, (6000.0, 0.0), 0) == "length:b"
    assert length_ref(room, (0.0, 4000.0), 1) == "length:a"
    assert length_ref(room, (0.0, 3000.0), 0) == ""
    assert length_refs(room, (0.0, 1000.0, 6000.0), 0) == ("", "", "")
    assert length_refs(room, (0.0, 6000.0), 0) == ("", "length:b")


def refs(view: object) -> dict[str, str]:
    panes = view.panes  # type: ignore[attr-defined]
    marks = [m for p in panes for m in p.marks if isinstance(m, Text) and m.layer == "dimension"]
    return {m.ref: m.text for m in marks if m.ref}


def test_the_tape_reads_on_a_wall_what_was_measured(hall: RoomScheme) -> None:
    wall = next(s for s in hall.surfaces if s.surface.key == "wall:b")
    view = face_view(wall, hall.room, Units.METRIC, 50.0, LENSES["measure"].show)
    assert refs(view) == {
        "left:w1": "4500",
        "width:w1": "1200",
        "right:w1": "300",  # 6000 - 4500 - 1200
        "length:b": "6000",
        "height": "2400",
        "sill:w1": "900",
        "head:w1": "1900",
    }


def test_running_dimensions_of_a_wall_know_what_they_measure(hall: RoomScheme) -> None:
    wall = next(s for s in hall.surfaces if s.surface.key == "wall:b")
    found = refs(face_view(wall, hall.room, Units.METRIC, 50.0, LENSES["frame"].show))
    assert found["from:w1"] == "4500"
    assert found["to:w1"] == "5700"
    assert found["sill:w1"] == "900"
    assert found["head:w1"] == "1900"
    assert any(ref.startswith("place:S") for ref in found)


def test_ceiling_and_plan_know_the_walls_they_measure(hall: RoomScheme) -> None:
    for show in (LENSES["measure"].show, LENSES["set_out"].show):
        for below in (False, True):
            view = ceiling_view(hall, Units.METRIC, 50.0, show, from_below=below)
            found = refs(view)
            assert (found["length:a"], found["length:b"]) == ("4000", "6000")
    found = refs(plan_view(hall, Units.METRIC, 50.0, LENSES["frame"].show))
    assert (found["length:a"], found["length:b"]) == ("4000", "6000")
