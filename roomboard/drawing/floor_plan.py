"""The room as it was drawn: outline, walls by letter, openings, joists."""

from __future__ import annotations

from math import inf

from roomboard.core.plane import Point, distance
from roomboard.core.project import Room, Units, WallKind
from roomboard.core.scheme import RoomScheme
from roomboard.core.surface import Surface
from roomboard.core.units import write_length
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.lining import (
    FRAMING,
    OPENING_WORDS,
    Show,
    chain_stops,
    draw_lining,
    overall,
    running_stops,
    stops_of,
)
from roomboard.drawing.sketch import (
    QUARTER,
    Line,
    Side,
    Sketch,
    marked,
    plain,
    spots_in,
    spots_on,
)

CEILING = "ceiling"


def floor_plan(
    scheme: RoomScheme,
    units: Units,
    scale: float,
    show: Show = FRAMING,
    *,
    widest: float = inf,
    sketch: Sketch | None = None,
) -> DisplayList:
    """Draw a room in plan with the joists over it.

    Args:
        scheme: The room and everything on its surfaces.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show of the ceiling.
        widest: What it should not be wider than if it can help it, mm on paper.
        sketch: Empty sketch to draw it on; a new one for paper if not given.

    Returns:
        The drawing, mm of the plan.
    """
    sketch = sketch or Sketch(scale, widest=widest)
    room = scheme.room
    sketch.stroke(room.outline, "sheet", room.id, closed=True)
    ceilings = [s for s in scheme.surfaces if s.surface.key.partition(".")[0] == CEILING]
    for part in ceilings:
        draw_lining(sketch, part, room, units, show)
        if show.framing:
            _zone_notes(sketch, part.surface, units)
    draw_walls(sketch, room)
    xs = stops_of(p[0] for p in room.outline)
    ys = stops_of(p[1] for p in room.outline)
    members = [s for part in ceilings for s in part.surface.supports if s.existing and s.zone >= 0]
    if show.dimensions:
        across = stops_of((xs[0], xs[-1], *(s.a[0] for s in members if abs(s.a[0] - s.b[0]) < 0.5)))
        up = stops_of((ys[0], ys[-1], *(s.a[1] for s in members if abs(s.a[1] - s.b[1]) < 0.5)))
        if len(across) > 2:
            sketch.running(running_stops(across, xs[0], units), Side.BOTTOM)
        if len(up) > 2:
            sketch.running(running_stops(up, ys[0], units), Side.LEFT)
        if len(xs) > 2:
            sketch.chain(chain_stops(xs, units), Side.BOTTOM)
        if len(ys) > 2:
            sketch.chain(chain_stops(ys, units), Side.LEFT)
        # Running dimensions end with the whole length.
        if len(across) == 2:
            overall(sketch, (xs[0], xs[-1]), Side.BOTTOM, units)
        if len(up) == 2:
            overall(sketch, (ys[0], ys[-1]), Side.LEFT, units)
    return sketch.finished()


def _zone_notes(sketch: Sketch, surface: Surface, units: Units) -> None:
    """Say in each zone how far apart its members stand."""
    for zone in surface.zones:
        if not zone.centres:
            continue
        words = f"{write_length(zone.centres, units)} centres"
        sketch.label((plain(words),), spots_in(zone.region), ref=zone.id, within=zone.region)


def outward(a: Point, b: Point) -> Point:
    """Return the unit vector out of a room at a wall of its clockwise outline."""
    length = distance(a, b) or 1.0
    return (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)


def draw_walls(sketch: Sketch, room: Room) -> None:
    """Draw walls round a plan with their letters and openings, outside the outline.

    Args:
        sketch: The drawing they go on.
        room: The room, its outline clockwise.
    """
    for index, wall in enumerate(room.walls):
        a, b = room.wall_ends(index)
        nx, ny = outward(a, b)
        layer = "wall" if wall.kind is WallKind.WALL else "no_wall"
        sketch.stroke((a, b), layer, wall.id)
        off, thick = sketch.mm(1.0), sketch.mm(2.2)
        length = distance(a, b) or 1.0
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        for opening in room.openings:
            if opening.host != wall.id:
                continue
            p = (a[0] + dx * opening.left, a[1] + dy * opening.left)
            q = (p[0] + dx * opening.width, p[1] + dy * opening.width)
            ring = tuple(
                (x + nx * d, y + ny * d)
                for (x, y), d in ((p, off), (q, off), (q, thick), (p, thick))
            )
            sketch.fill((ring,), "opening", opening.id, tone=1.0)
            sketch.stroke(ring, "opening", opening.id, closed=True)
            name = f"{OPENING_WORDS[opening.kind]} {opening.id}"
            _outside(sketch, p, q, (nx, ny), plain(name), opening.id)
        _outside(sketch, a, b, (nx, ny), marked(wall.name or wall.id), wall.id)


def _outside(
    sketch: Sketch, a: Point, b: Point, normal: Point, label: tuple[Line, ...], ref: str
) -> None:
    angle = sketch.angle_of(a, b)
    single = len(label[0].text) <= 2
    spots = tuple(
        (x + normal[0] * sketch.mm(out), y + normal[1] * sketch.mm(out))
        for out in (5.0, 9.5, 14.0)
        for x, y in spots_on(a, b)
    )
    sketch.label(
        (label,), spots, ref=ref, angles=(0.0,) if single else (angle, QUARTER - angle), mask=False
    )
