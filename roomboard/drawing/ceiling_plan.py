"""The ceiling, laid out like the floor plan: sheets, joints, joists, trimmers."""

from __future__ import annotations

from math import inf

from roomboard.core.project import Room, Units
from roomboard.core.scheme import SurfaceScheme
from roomboard.drawing.boxes import draw_boxes
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.floor_plan import draw_walls
from roomboard.drawing.lining import (
    SHEETING,
    Show,
    chain_stops,
    draw_lining,
    joint_places,
    outline_places,
    overall,
    stops_of,
)
from roomboard.drawing.measured import length_ref, length_refs
from roomboard.drawing.raked import climbs, draw_pitch, draw_sides, side_names
from roomboard.drawing.raked_plan import draw_folds
from roomboard.drawing.sketch import Side, Sketch

TAG = (
    "Laid out like the floor plan, as in a mirror on the floor: the boards' backs show. "
    "From below, left and right swap."
)
"""Stands under every drawing of a ceiling."""


def ceiling_plan(
    scheme: SurfaceScheme,
    room: Room,
    units: Units,
    scale: float,
    show: Show = SHEETING,
    *,
    widest: float = inf,
    sketch: Sketch | None = None,
) -> DisplayList:
    """Draw a ceiling in plan, x to the right and y up as on the floor plan.

    A sloping one is drawn as its true face, up the slope upwards.

    Args:
        scheme: The ceiling and everything on it.
        room: Its room.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        widest: What it should not be wider than if it can help it, mm on paper.
        sketch: Empty sketch to draw it on; a new one for paper if not given.

    Returns:
        The drawing, mm of the plan.
    """
    sketch = sketch or Sketch(scale, widest=widest)
    draw_lining(sketch, scheme, room, units, show)
    if climbs(scheme.surface):  # its true face is no plan: its sides are named instead
        draw_sides(sketch, scheme.surface, side_names(room))
        draw_pitch(sketch, scheme.surface)
    else:
        draw_folds(sketch, room, units)
        draw_walls(sketch, room)
        draw_boxes(sketch, room, units)
    if show.dimensions:
        u0, v0, u1, v1 = scheme.surface.outline.bounds
        outline_u, outline_v = outline_places(scheme.surface.outline)
        joints_u, joints_v = joint_places(scheme) if show.sheets else ((), ())
        across = stops_of((u0, u1, *joints_u, *outline_u))
        up = stops_of((v0, v1, *joints_v, *outline_v))
        for axis, side, stops in ((0, Side.BOTTOM, across), (1, Side.LEFT, up)):
            whole = (stops[0], stops[-1])
            if len(stops) > 2:
                refs = length_refs(room, stops, axis)
                sketch.chain(chain_stops(stops, units), side, refs=refs)
            overall(sketch, whole, side, units, length_ref(room, whole, axis))
    return sketch.finished()
