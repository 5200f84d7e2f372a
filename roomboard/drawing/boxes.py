"""Bulkheads and columns on a plan or a ceiling: what is boxed in, with its name."""

from __future__ import annotations

from roomboard.core.bulkheads import bulkhead_plan
from roomboard.core.plane import Region, Ring, fault_in
from roomboard.core.project import Bulkhead, Room, Units
from roomboard.core.units import on_tape
from roomboard.drawing.sketch import QUARTER, Sketch, plain, spots_in

BULKHEAD, COLUMN = "bulkhead", "column"
"""Layers of both; the same word and a colon stand before their ids in refs."""


def draw_boxes(sketch: Sketch, room: Room, units: Units) -> None:
    """Draw the columns and the bulkheads of a room, as they lie in plan.

    What cannot be drawn as it is (a bulkhead along no wall, a column without an area) is left
    out; the findings say so.

    Args:
        sketch: The drawing they go on.
        room: The room.
        units: How lengths are written.
    """
    for column in room.columns:
        if not fault_in(column.outline):
            _box(sketch, column.outline, COLUMN, column.id, (f"Column {column.id}", column.id))
    for bulkhead in room.bulkheads:
        ring = _ring(room, bulkhead)
        if ring:
            name = f"Bulkhead {bulkhead.id}"
            words = f"{name}, {on_tape(bulkhead.drop, units)} down"
            _box(sketch, ring, BULKHEAD, bulkhead.id, (words, name, bulkhead.id))


def _ring(room: Room, bulkhead: Bulkhead) -> Ring:
    index = next((i for i, w in enumerate(room.walls) if w.id == bulkhead.wall), None)
    if index is None or not room.wall_length(index):
        return ()
    ring = bulkhead_plan(room, bulkhead)
    return () if fault_in(ring) else ring


def _box(sketch: Sketch, ring: Ring, layer: str, ident: str, names: tuple[str, ...]) -> None:
    ref = f"{layer}:{ident}"
    sketch.stroke(ring, layer, ref, closed=True)
    within = Region.of(ring)
    labels = tuple(plain(name) for name in names)
    sketch.label(labels, spots_in(within), ref=ref, within=within, angles=(0.0, QUARTER))
