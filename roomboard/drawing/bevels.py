"""Marking out: raking tops of walls, bevelled edges, slanting sides and hands of pieces."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from roomboard.core.handed import Hand, hand_of, is_raked
from roomboard.core.heights import covers, is_ceiling, turn_at
from roomboard.core.plane import distance
from roomboard.core.surface import EdgeKind
from roomboard.core.units import on_tape, write_length
from roomboard.drawing.lettering import SMALLEST, text_width
from roomboard.drawing.raked import OUT, angle_words, climbs, plan_lie, side_names
from roomboard.drawing.sketch import Side, Sketch, off_first, plain, spots_on

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.heights import Cover
    from roomboard.core.plane import Point
    from roomboard.core.project import Room, Units
    from roomboard.core.sheeting import Piece
    from roomboard.core.surface import Surface, SurfaceEdge

INSIDE = 2.4
"""How far inside a slanting side of a piece its bevel stands, mm on paper."""
STRAIGHT = 0.5
"""A side whose ends differ by less runs along the sheet or across it, mm."""


def raking_tops(surface: Surface) -> tuple[SurfaceEdge, ...]:
    """Return the sides of an upright face that follow a sloping ceiling, from left to right."""
    found = [
        e
        for e in surface.edges
        if not is_ceiling(surface.key)
        and is_ceiling(e.other.partition("/")[2])
        and abs(e.a[1] - e.b[1]) > 1.0
        and abs(e.a[0] - e.b[0]) > 1.0
    ]
    return tuple(sorted(found, key=lambda e: e.b[0]))


def bevel_words(a: Point, b: Point, units: Units) -> str:
    """Return a sloping line as it is marked out: how far it rises in its run, and its angle."""
    run, rise = abs(b[0] - a[0]), abs(b[1] - a[1])
    angle = math.degrees(math.atan2(rise, run))
    return f"{on_tape(rise, units)} in {on_tape(run, units)}, {angle_words(angle)}"


def draw_raking(sketch: Sketch, surface: Surface, units: Units, floor: float) -> None:
    """Dimension a face whose top slopes: height of both ends, the bevel and length of each slope.

    Args:
        sketch: The drawing, the face on it.
        surface: The face.
        units: How lengths are written.
        floor: Height from which its ends are measured, mm.
    """
    found = raking_tops(surface)
    if not found:
        return
    for edge in found:
        long = on_tape(distance(edge.a, edge.b), units)
        words = f"{long} long, {bevel_words(edge.a, edge.b, units)}"
        length = distance(edge.a, edge.b)
        nx, ny = (edge.b[1] - edge.a[1]) / length, -(edge.b[0] - edge.a[0]) / length
        spots = [
            (x + nx * sketch.mm(out), y + ny * sketch.mm(out))
            for out in OUT
            for x, y in spots_on(edge.a, edge.b)
        ]
        angle = sketch.angle_of(edge.a, edge.b)
        short = bevel_words(edge.a, edge.b, units)
        labels = (plain(words), plain(short))
        sketch.label(labels, spots, ref=edge.other, angles=(angle,), mask=False)
    for corner in sorted({p for e in found for p in (e.a, e.b)}):
        words = on_tape(corner[1] - floor, units)
        half = sketch.mm(text_width(words, SMALLEST) / 2 + 1.0)
        spots = [
            (corner[0] + aside * half, corner[1] + sketch.mm(up))
            for up in (4.0, 6.5, 9.0, -3.5, -6.0)
            for aside in (0.0, 1.0, -1.0)
        ]
        # The ends of the face have their heights beside it too; a ridge has its height there.
        clear = off_first(surface.outline, spots, (half, sketch.mm(SMALLEST) / 2))
        sketch.label_or_call_out((plain(words),), clear, corner, ref=surface.ref)
    u0, _, u1, _ = surface.outline.bounds
    for u, side in ((u0, Side.LEFT), (u1, Side.RIGHT)):
        top = max((p[1] for p in surface.outline.outer if abs(p[0] - u) < 0.5), default=floor)
        if top - floor > 1.0:
            sketch.chain(((floor, ""), (top, on_tape(top - floor, units))), side)


def edge_bevels(surface: Surface, room: Room, thickness: float, units: Units) -> tuple[str, ...]:
    """Say how the edges of a ceiling's boards are bevelled where planes or walls make them meet.

    At a fold both boards are cut half the angle off square; under a wall that the slope climbs to,
    the whole pitch. The face is cut back by the thickness times the tangent of that angle.

    Args:
        surface: The ceiling.
        room: Its room.
        thickness: Thickness of its board, mm.
        units: How lengths are written.
    """
    by_key = {c.key: c for c in covers(room)} if room.ceiling_parts else {}
    own = by_key.get(surface.key.partition(".")[0])
    if own is None:
        return ()
    names = side_names(room)
    found: dict[str, float] = {}
    for edge in surface.edges:
        key = edge.other.partition("/")[2]
        if edge.kind is not EdgeKind.ANGLE or not key:
            continue
        a, b = plan_lie(surface).apply_all((edge.a, edge.b))
        if is_ceiling(key) and key in by_key:
            off = turn_at(a, b, own.slope, by_key[key].slope) / 2
        elif key.startswith("wall:") and climbs(surface):
            off = _climb_out(a, b, own)
        else:
            continue
        if off > LEAST_BEVEL:
            name = names.get(edge.other, key)
            found[name] = max(off, found.get(name, 0.0))
    return tuple(
        f"At {name}: bevel {angle_words(off)} off square, the face cut back "
        f"{write_length(thickness * math.tan(math.radians(off)), units)}."
        for name, off in sorted(found.items())
    )


LEAST_BEVEL = 1.0
"""Edges less than this off square are cut square, degrees."""


def _climb_out(a: Point, b: Point, own: Cover) -> float:
    """Return how steeply a plane climbs out over a line on whose left it lies, degrees."""
    length = distance(a, b)
    out = ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)
    gain = own.slope.gain * (own.slope.rise[0] * out[0] + own.slope.rise[1] * out[1])
    return math.degrees(math.atan(gain))


def write_bevels(sketch: Sketch, piece: Piece, units: Units) -> None:
    """Write along each slanting side of a piece, lying face up, how it is marked out.

    Args:
        sketch: The drawing, the piece face up on it.
        piece: The piece.
        units: How lengths are written.
    """
    if not is_raked(piece.face_up):
        return
    for a, b in piece.face_up.segments:
        if abs(a[0] - b[0]) <= STRAIGHT or abs(a[1] - b[1]) <= STRAIGHT:
            continue
        length = distance(a, b)
        nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
        aside = sketch.mm(INSIDE)
        spots = [(x + nx * aside, y + ny * aside) for x, y in spots_on(a, b)]
        words = (plain(bevel_words(a, b, units)),)
        sketch.label(words, spots, within=piece.face_up, angles=(sketch.angle_of(a, b),))


def bevels_in_words(piece: Piece, units: Units) -> str:
    """Return the slanting sides of a piece as they are marked out, or nothing if it has none."""
    if not is_raked(piece.face_up):
        return ""
    found = dict.fromkeys(
        bevel_words(a, b, units)
        for a, b in piece.face_up.segments
        if abs(a[0] - b[0]) > STRAIGHT and abs(a[1] - b[1]) > STRAIGHT
    )
    return f"Slanting: {'; '.join(found)}."


def hand_words(piece: Piece, alike: Sequence[str]) -> str:
    """Say which hand a piece is and which pieces are its mirror image; nothing for other pieces.

    Args:
        piece: The piece.
        alike: Marks of the pieces of its room that are its mirror image.
    """
    hand = hand_of(piece)
    if hand is Hand.NONE:
        return ""
    words = f"{hand.value.capitalize()} hand"
    if not alike:
        return f"{words}."
    return f"{words}: {', '.join(alike)} mirrors it. Mark out face up; do not turn the board over."
