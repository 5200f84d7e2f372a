"""The room as it was drawn: outline, walls by letter, openings, joists."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

from roomboard.core.heights import is_ceiling
from roomboard.core.layers import SECOND
from roomboard.core.plane import Interval, Point, distance
from roomboard.core.project import Room, Units, WallKind
from roomboard.core.scheme import RoomScheme, SurfaceScheme
from roomboard.core.surface import Surface
from roomboard.core.units import on_tape
from roomboard.drawing.boxes import draw_boxes
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.layered import of_layer
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
from roomboard.drawing.measured import joist_refs, length_ref, length_refs
from roomboard.drawing.raked import climbs, in_plan, plan_lie
from roomboard.drawing.raked_plan import draw_folds
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
LEVEL = 0.5
"""A line whose ends differ by less than this across it runs straight, mm."""
AGAINST = 1.0
"""Timber whose face is within this of a wall or of the side of a hole lies against it, mm."""


def floor_plan(
    scheme: RoomScheme,
    units: Units,
    scale: float,
    show: Show = FRAMING,
    *,
    widest: float = inf,
    sketch: Sketch | None = None,
    timber: bool = False,
) -> DisplayList:
    """Draw a room in plan with the joists over it.

    Args:
        scheme: The room and everything on its surfaces.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show of the ceiling.
        widest: What it should not be wider than if it can help it, mm on paper.
        sketch: Empty sketch to draw it on; a new one for paper if not given.
        timber: Whether the middles of timber to add and the sides of holes are dimensioned.

    Returns:
        The drawing, mm of the plan.
    """
    sketch = sketch or Sketch(scale, widest=widest)
    room = scheme.room
    sketch.stroke(room.outline, "sheet", room.id, closed=True)
    ceilings = _ceilings(scheme, show)
    lie = sketch.placing
    for part in ceilings:
        sketch.lay_on(lie.compose(plan_lie(part.surface)) if climbs(part.surface) else lie)
        draw_lining(sketch, part, room, units, show)
        if show.framing:
            _zone_notes(sketch, part.surface, units)
    sketch.lay_on(lie)
    draw_folds(sketch, room, units)
    draw_walls(sketch, room)
    draw_boxes(sketch, room, units)
    if show.dimensions:
        _dimensions(sketch, room, [in_plan(part) for part in ceilings], units, timber=timber)
    return sketch.finished()


def _ceilings(scheme: RoomScheme, show: Show) -> list[SurfaceScheme]:
    """Return the parts of the ceiling in the layer shown; the first bears all timber to add."""
    every = [s for s in scheme.surfaces if is_ceiling(s.surface.key)]
    found = list(of_layer(every, show.layer))
    if show.sheets or show.layer > 1:
        return found
    for at, part in enumerate(found):
        over = [s for s in every if s.surface.key == part.surface.key + SECOND]
        timber = (t for s in (part, *over) for t in s.trimmers)
        found[at] = replace(part, trimmers=tuple(timber))
    return found


def _dimensions(
    sketch: Sketch, room: Room, ceilings: Sequence[SurfaceScheme], units: Units, *, timber: bool
) -> None:
    """Dimension framing and outline, and timber to add and holes if they are wanted."""
    xs = stops_of(p[0] for p in room.outline)
    ys = stops_of(p[1] for p in room.outline)
    us: list[float] = []
    vs: list[float] = []
    if timber:
        us, vs = _timber_places(ceilings, (xs[0], xs[-1]), (ys[0], ys[-1]))
    known = [part.surface for part in ceilings]
    members = [s for part in ceilings for s in part.surface.supports if s.existing and s.zone >= 0]
    across = stops_of((xs[0], xs[-1], *(s.a[0] for s in members if abs(s.a[0] - s.b[0]) < LEVEL)))
    up = stops_of((ys[0], ys[-1], *(s.a[1] for s in members if abs(s.a[1] - s.b[1]) < LEVEL)))
    if len(across) > 2:
        refs = joist_refs(room, known, 0, across)
        sketch.running(running_stops(across, xs[0], units), Side.BOTTOM, refs)
    if len(up) > 2:  # timber among them: a second row on the right would make the drawing wide
        upward = stops_of((*up, *vs))
        refs = joist_refs(room, known, 1, upward)
        sketch.running(running_stops(upward, ys[0], units), Side.LEFT, refs)
    if len(xs) > 2:
        sketch.chain(chain_stops(xs, units), Side.BOTTOM, refs=length_refs(room, xs, 0))
    if len(ys) > 2:
        sketch.chain(chain_stops(ys, units), Side.LEFT, refs=length_refs(room, ys, 1))
    # Running dimensions end with the whole length.
    if len(across) == 2:
        whole = (xs[0], xs[-1])
        overall(sketch, whole, Side.BOTTOM, units, length_ref(room, whole, 0))
    if len(up) == 2:
        whole = (ys[0], ys[-1])
        overall(sketch, whole, Side.LEFT, units, length_ref(room, whole, 1))
    if us:
        stops = stops_of((xs[0], xs[-1], *us))
        sketch.running(running_stops(stops, xs[0], units), Side.TOP)
    if vs and len(up) == 2:
        stops = stops_of((ys[0], ys[-1], *vs))
        sketch.running(running_stops(stops, ys[0], units), Side.RIGHT)


def _timber_places(
    ceilings: Sequence[SurfaceScheme], across: Interval, up: Interval
) -> tuple[list[float], list[float]]:
    """Return where timber to add and the sides of holes stand, along x and along y.

    Args:
        ceilings: The parts of the ceiling.
        across: Where the room begins and ends along x.
        up: The same along y.
    """
    us: list[float] = []
    vs: list[float] = []
    for part in ceilings:
        for o in part.surface.openings:
            u0, v0, u1, v1 = o.region.bounds
            us += [(u0 + u1) / 2] if o.is_round else [u0, u1]
            vs += [(v0 + v1) / 2] if o.is_round else [v0, v1]
    holes = (tuple(us), tuple(vs))
    for part in ceilings:
        for t in part.trimmers:
            upright = abs(t.centre_a[0] - t.centre_b[0]) < LEVEL
            if not upright and abs(t.centre_a[1] - t.centre_b[1]) >= LEVEL:
                continue
            at = t.centre_a[0 if upright else 1]
            found, ends = (us, across) if upright else (vs, up)
            # Timber against a wall or a hole is where that is; the list has its middle.
            near = t.face / 2 + AGAINST
            if all(abs(at - other) > near for other in (*ends, *holes[0 if upright else 1])):
                found.append(at)
    return us, vs


def _zone_notes(sketch: Sketch, surface: Surface, units: Units) -> None:
    """Say in each zone how far apart its members stand."""
    for zone in surface.zones:
        if not zone.centres:
            continue
        words = f"{on_tape(zone.centres, units)} centres"
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
