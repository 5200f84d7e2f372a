"""What the tape reads, written on a plan, a ceiling or a wall: every length can be set there."""

from __future__ import annotations

from roomboard.core.editing.ceiling_openings import foot_of_hole, nearest_walls
from roomboard.core.heights_tops import tops
from roomboard.core.plane import Point, distance, fault_in
from roomboard.core.project import Opening, Room, Units
from roomboard.core.units import on_tape
from roomboard.drawing.edge_lengths import LIFT, REACH, STAND_OFF, EdgeLength, draw_edge_length
from roomboard.drawing.lettering import SMALLEST, text_width
from roomboard.drawing.lining import Show, overall, running_stops, stops_of
from roomboard.drawing.measured import FAR, HEAD, HEIGHT, LEFT, LENGTH, NEAR, RIGHT, SILL, WIDTH
from roomboard.drawing.sketch import Side, Sketch

CEILING = "ceiling"
OPENING_OUT, ROW = 8.5, 6.5
"""How far outside a wall the places of its openings stand, and its length beyond, mm on paper."""


def by_tape(show: Show) -> bool:
    """Tell whether what is measured is shown alone, without framing and sheets."""
    return show.dimensions and not show.framing and not show.sheets


def tape_plan(sketch: Sketch, room: Room, units: Units) -> None:
    """Write the length of every wall, inside it how its openings lie along it, and holes' places.

    Args:
        sketch: The drawing it goes on, laid as the plan.
        room: The room.
        units: How lengths are written.
    """
    for index, wall in enumerate(room.walls):
        a, b = room.wall_ends(index)
        length = distance(a, b)
        near = OPENING_OUT - REACH  # the letter of the wall stands nearer
        more = tape_openings(sketch, (a, b), room, wall.id, units, out=OPENING_OUT, near=near)
        text = on_tape(length, units)
        ref = f"{LENGTH}:{wall.id}"
        out = OPENING_OUT + more
        draw_edge_length(sketch, EdgeLength(a=a, b=b, text=text, ref=ref, out=out))
    for hole in room.openings if not fault_in(room.outline) else ():
        if hole.host == CEILING:
            _hole(sketch, room, hole, units)


def tape_openings(
    sketch: Sketch,
    line: tuple[Point, Point],
    room: Room,
    wall_id: str,
    units: Units,
    *,
    out: float,
    near: float = STAND_OFF,
) -> float:
    """Write how the openings of a wall lie along it: each gap and each width.

    Args:
        sketch: The drawing it goes on.
        line: Where the wall's left and right end lie on it, mm; the row stands on its left.
        room: The room.
        wall_id: Which wall.
        units: How lengths are written.
        out: How far from the line the row stands, mm on paper.
        near: How far from the line its extension lines begin, mm on paper.

    Returns:
        How much room the row takes, mm on paper; 0 for a wall without openings.
    """
    openings = sorted((o for o in room.openings if o.host == wall_id), key=lambda o: (o.left, o.id))
    stretches: list[tuple[float, float, str]] = []
    at = 0.0
    for o in openings:
        right = o.left + o.width
        stretches += [(at, o.left, f"{LEFT}:{o.id}"), (o.left, right, f"{WIDTH}:{o.id}")]
        at = right
    if openings:
        stretches.append((at, distance(*line), f"{RIGHT}:{openings[-1].id}"))
    for low, high, ref in stretches:
        _stretch(sketch, line, (low, high), ref, units, out, near)
    if not openings:
        return 0.0
    # Figures longer than their line stand further out.
    wide = [text_width(on_tape(high - low, units), SMALLEST) for low, high, _ in stretches]
    lengths = [high - low for low, high, _ in stretches]
    fits = all(sketch.mm(w) <= own or own <= 1.0 for w, own in zip(wide, lengths, strict=True))
    return ROW if fits else ROW + 2 * LIFT


def _stretch(
    sketch: Sketch,
    wall: tuple[Point, Point],
    part: tuple[float, float],
    ref: str,
    units: Units,
    out: float,
    near: float,
) -> None:
    (ax, ay), (bx, by) = wall
    length = distance(*wall)
    if not length or part[1] - part[0] <= 1.0:
        return
    dx, dy = (bx - ax) / length, (by - ay) / length
    p = (ax + dx * part[0], ay + dy * part[0])
    q = (ax + dx * part[1], ay + dy * part[1])
    text = on_tape(part[1] - part[0], units)
    draw_edge_length(sketch, EdgeLength(a=p, b=q, text=text, ref=ref, out=out, near=near))


def _hole(sketch: Sketch, room: Room, hole: Opening, units: Units) -> None:
    """Write how far a hole in the ceiling is from the two walls it is set out from."""
    for name, wall in zip((NEAR, FAR), nearest_walls(room, hole), strict=True):
        a, b = foot_of_hole(room, hole, wall.wall)
        text = on_tape(wall.mm, units)
        ref = f"{name}:{hole.id}"
        draw_edge_length(sketch, EdgeLength(a=a, b=b, text=text, ref=ref, out=0.0, near=0.0))


def tape_face(sketch: Sketch, wall_id: str, room: Room, units: Units) -> None:
    """Write what the tape reads on a wall: along it, up to sills and heads, and its height.

    The height is that of the framing; under a ceiling that is not flat, that of each end.

    Args:
        sketch: The drawing it goes on, laid as the wall is seen from inside.
        wall_id: Which wall.
        room: Its room.
        units: How lengths are written.
    """
    index = next((i for i, w in enumerate(room.walls) if w.id == wall_id), None)
    if index is None:
        return
    length = room.wall_length(index)
    openings = sorted((o for o in room.openings if o.host == wall_id), key=lambda o: (o.left, o.id))
    stops: list[tuple[float, str]] = [(0.0, "")]
    refs: list[str] = [""]
    for o in openings:
        for at, ref in ((o.left, f"{LEFT}:{o.id}"), (o.left + o.width, f"{WIDTH}:{o.id}")):
            if at - stops[-1][0] > 1.0:
                stops.append((at, on_tape(at - stops[-1][0], units)))
                refs.append(ref)
    if openings and length - stops[-1][0] > 1.0:
        stops.append((length, on_tape(length - stops[-1][0], units)))
        refs.append(f"{RIGHT}:{openings[-1].id}")
    sketch.chain(stops, Side.BOTTOM, refs=refs)
    overall(sketch, (0.0, length), Side.BOTTOM, units, f"{LENGTH}:{wall_id}")
    if not room.ceiling_parts:
        overall(sketch, (0.0, room.height), Side.LEFT, units, HEIGHT)
    else:
        over = tops(room, *room.wall_ends(index), lambda _: 0.0)
        for side, height in ((Side.LEFT, over[0].z0), (Side.RIGHT, over[-1].z1)):
            if height > 1.0:
                overall(sketch, (0.0, height), side, units)
    known = [(o.bottom, f"{SILL}:{o.id}") for o in openings if o.bottom > 0]
    known += [(o.bottom + o.height, f"{HEAD}:{o.id}") for o in openings]
    levels = stops_of((0.0, *(at for at, _ in known)))
    if len(levels) > 1:
        found = [next((r for at, r in known if abs(at - v) <= 1.0), "") for v in levels]
        sketch.running(running_stops(levels, 0.0, units), Side.RIGHT, found)
