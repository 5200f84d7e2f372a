"""One face seen from inside the room: a wall, or a face of a bulkhead."""

from __future__ import annotations

from math import inf

from roomboard.core.project import Room, Units
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.surface import EdgeKind, Surface
from roomboard.drawing.bevels import draw_raking
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.lining import (
    SHEETING,
    Show,
    chain_stops,
    draw_lining,
    joint_places,
    outline_places,
    overall,
    running_stops,
    stops_of,
)
from roomboard.drawing.measured import along_refs, up_refs
from roomboard.drawing.sketch import Side, Sketch

STRAIGHT = 0.5
"""A line whose ends differ by less than this across it runs straight, mm."""
FLOOR_LINE = 4.0
"""How far the floor line reaches past the wall, mm on paper."""


def elevation(
    scheme: SurfaceScheme,
    room: Room,
    units: Units,
    scale: float,
    show: Show = SHEETING,
    *,
    widest: float = inf,
    sketch: Sketch | None = None,
) -> DisplayList:
    """Draw a face: u to the right, v up.

    Args:
        scheme: The surface and everything on it.
        room: Its room.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        widest: What it should not be wider than if it can help it, mm on paper.
        sketch: Empty sketch to draw it on; a new one for paper if not given.

    Returns:
        The drawing, mm of the surface.
    """
    sketch = sketch or Sketch(scale, widest=widest)
    surface = scheme.surface
    draw_lining(sketch, scheme, room, units, show)
    on_floor = any(e.kind is EdgeKind.FLOOR for e in surface.edges)
    u0, v0, u1, _ = surface.outline.bounds
    if on_floor:
        reach = sketch.mm(FLOOR_LINE)
        sketch.stroke(((u0 - reach, 0.0), (u1 + reach, 0.0)), "wall", "floor")
    if show.sheets:
        draw_packers(sketch, scheme)
    if show.dimensions:
        draw_raking(sketch, surface, units, 0.0 if on_floor else v0)
        _dimensions(sketch, scheme, room, units, show, floor=0.0 if on_floor else v0)
    return sketch.finished()


def draw_packers(sketch: Sketch, scheme: SurfaceScheme) -> None:
    """Draw the packers that hold the bottom sheets off the floor."""
    for packer in scheme.packers:
        half = sketch.mm(1.0)
        ring = (
            (packer.u - half, 0.0),
            (packer.u + half, 0.0),
            (packer.u + half, packer.height),
            (packer.u - half, packer.height),
        )
        sketch.fill((ring,), "packer", "packer", tone=0.0)


def neighbours_in_words(surface: Surface, room: Room) -> str:
    """Say which walls stand at the left and the right end of a face, as far as they are walls."""
    u0, _, u1, _ = surface.outline.bounds
    names = {f"{room.id}/wall:{w.id}": w.name or w.id for w in room.walls}
    words = []
    for at, side in ((u0, "left"), (u1, "right")):
        ends = [
            e.other
            for e in surface.edges
            if abs(e.a[0] - at) < 0.5 and abs(e.b[0] - at) < 0.5 and e.other in names
        ]
        if ends:
            words.append(f"{side} {names[ends[0]]}")
    return ", ".join(words)


def _dimensions(
    sketch: Sketch, scheme: SurfaceScheme, room: Room, units: Units, show: Show, *, floor: float
) -> None:
    surface = scheme.surface
    u0, v0, u1, v1 = surface.outline.bounds
    outline_u, outline_v = outline_places(surface.outline)
    joints_u, joints_v = joint_places(scheme) if show.sheets else ((), ())
    # Heights of the courses on the left, sills and heads on the right.
    heights = stops_of((floor, v0, v1, *joints_v, *outline_v))
    if len(heights) > 2:
        sketch.chain(chain_stops(heights, units), Side.LEFT)
    overall(sketch, (floor, v1), Side.LEFT, units)
    boxes = [o.region.bounds for o in surface.openings]
    # A door's foot is the foot of the lining, which the left side shows.
    added = scheme.trimmers if show.trimmers and not show.sheets else ()
    level = [t.centre_a[1] for t in added if abs(t.centre_a[1] - t.centre_b[1]) < STRAIGHT]
    levels = stops_of((floor, *(y for b in boxes for y in (b[1], b[3]) if y > v0 + 0.5), *level))
    if len(levels) > 1:
        sketch.running(running_stops(levels, floor, units), Side.RIGHT, up_refs(surface, levels))
    # Along the foot: sides of openings from the left end, butt joints, then the whole length.
    if boxes:
        sides = stops_of((u0, u1, *(side for b in boxes for side in (b[0], b[2]))))
        refs = along_refs(surface, room, sides)
        sketch.running(running_stops(sides, u0, units), Side.BOTTOM, refs)
    along = stops_of((u0, u1, *joints_u, *outline_u))
    if len(along) > 2:
        sketch.chain(chain_stops(along, units), Side.BOTTOM)
    if not show.sheets:
        upright = [s for s in surface.supports if s.existing and abs(s.a[0] - s.b[0]) < STRAIGHT]
        timber = [t for t in added if abs(t.centre_a[0] - t.centre_b[0]) < STRAIGHT]
        middles = (*(s.a[0] for s in upright), *(t.centre_a[0] for t in timber))
        studs = stops_of((u0, u1, *middles))
        refs = along_refs(surface, room, studs)
        sketch.running(running_stops(studs, u0, units), Side.BOTTOM, refs)
    if not boxes and show.sheets:  # running dimensions end with the whole length
        overall(sketch, (u0, u1), Side.BOTTOM, units, along_refs(surface, room, (u1,))[0])
