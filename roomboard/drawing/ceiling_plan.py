"""The ceiling, laid out like the floor plan: sheets, joints, joists, trimmers."""

from __future__ import annotations

from math import inf

from roomboard.core.project import Room, Units
from roomboard.core.scheme import SurfaceScheme
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
    sketch = sketch or Sketch(scale, masks=not show.fixings, widest=widest)
    draw_lining(sketch, scheme, room, units, show)
    draw_walls(sketch, room)
    if show.dimensions:
        u0, v0, u1, v1 = scheme.surface.outline.bounds
        outline_u, outline_v = outline_places(scheme.surface.outline)
        joints_u, joints_v = joint_places(scheme) if show.sheets else ((), ())
        across = stops_of((u0, u1, *joints_u, *outline_u))
        up = stops_of((v0, v1, *joints_v, *outline_v))
        if len(across) > 2:
            sketch.chain(chain_stops(across, units), Side.BOTTOM)
        overall(sketch, (u0, u1), Side.BOTTOM, units)
        if len(up) > 2:
            sketch.chain(chain_stops(up, units), Side.LEFT)
        overall(sketch, (v0, v1), Side.LEFT, units)
    return sketch.finished()
