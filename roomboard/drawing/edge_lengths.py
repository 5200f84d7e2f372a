"""Lengths written along the sides of a room, whichever way they run."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from roomboard.core.plane import Point, Ring, distance, signed_area
from roomboard.core.project import Room, Units
from roomboard.core.units import on_tape
from roomboard.drawing.lettering import SMALLEST, text_width
from roomboard.drawing.sketch import TICK, Sketch, plain, spots_on

REACH = 1.5
"""Extension lines reach this far past the line of a dimension, mm on paper."""
STAND_OFF = 0.9
"""Extension lines begin this far from what they measure, mm on paper."""
LIFT = 2.4
"""Middle of the figures from the line of their dimension, mm on paper."""
SKETCH_OUT = 4.0
"""The length of a side that is being drawn stands this far from it, mm on paper."""
ROWS = 4
"""Figures longer than their line move out by up to this many rows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLength:
    """A length to be written along a side.

    Attributes:
        a: Start of the side, mm of the drawing.
        b: End; the dimension stands on the left of ``a`` to ``b``.
        text: The length as it is written.
        ref: What it measures, e.g. ``"length:a"``.
        out: How far from the side its line stands, mm on paper.
        near: How far from the side its extension lines begin, mm on paper.
    """

    a: Point
    b: Point
    text: str
    ref: str
    out: float
    near: float = STAND_OFF


def left_of(a: Point, b: Point) -> Point:
    """Return the unit vector to the left of a line; zero for a line without length."""
    length = distance(a, b)
    if not length:
        return (0.0, 0.0)
    return (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)


def beside(a: Point, b: Point, out: float) -> tuple[Point, Point]:
    """Return a line moved to its left by ``out`` mm of the drawing."""
    nx, ny = left_of(a, b)
    return (a[0] + nx * out, a[1] + ny * out), (b[0] + nx * out, b[1] + ny * out)


def draw_edge_length(sketch: Sketch, length: EdgeLength) -> bool:
    """Draw one dimension along a side, its figures outside its line.

    Args:
        sketch: The drawing it goes on.
        length: What is measured.

    Returns:
        Whether there was room for the figures; without it nothing is drawn.
    """
    a, b = length.a, length.b
    if distance(a, b) <= 0:
        return False
    angle = sketch.angle_of(a, b)
    fits = sketch.mm(text_width(length.text, SMALLEST)) <= distance(a, b)
    # Outside first; a short side's figures stand further out or past its ends.
    rows = range(ROWS) if fits else range(1, ROWS)
    outs = [length.out + LIFT * (1 + 2 * row) for row in rows]
    if fits:
        outs.insert(1, length.out - LIFT)
    spots = [
        spot for out in outs for spot in spots_on(*beside(a, b, sketch.mm(out)))[: 9 if fits else 1]
    ]
    written = sketch.label(
        (plain(length.text),),
        spots,
        layer="dimension",
        ref=length.ref,
        angles=(angle,),
        mask=False,
    )
    if not written:
        return False
    _draw_line(sketch, length)
    return True


def _draw_line(sketch: Sketch, length: EdgeLength) -> None:
    a, b = length.a, length.b
    p, q = beside(a, b, sketch.mm(length.out))
    sketch.stroke((p, q), "dimension", length.ref)
    nx, ny = left_of(a, b)
    tick = sketch.mm(TICK) / 2**0.5
    for (x, y), (ex, ey) in ((a, p), (b, q)):
        near, far = sketch.mm(length.near), sketch.mm(REACH)
        sketch.stroke(
            ((x + nx * near, y + ny * near), (ex + nx * far, ey + ny * far)),
            "dimension",
            length.ref,
        )
        # A slash half way between the line and square to it.
        sx, sy = (nx + ny) * tick, (ny - nx) * tick
        sketch.stroke(((ex - sx, ey - sy), (ex + sx, ey + sy)), "dimension", length.ref)


def is_number(point: Point) -> bool:
    """Tell whether a corner has a place."""
    return math.isfinite(point[0]) and math.isfinite(point[1])


def is_measured(room: Room) -> bool:
    """Tell whether a room has an outline with a wall on each of its sides."""
    corners = room.outline
    return len(room.walls) == len(corners) > 2 and all(map(is_number, corners))


def draw_outline(sketch: Sketch, corners: Sequence[Point], units: Units, *, closed: bool) -> Ring:
    """Draw an outline as far as it has come, with the length of each side.

    Sides are called ``"edge:0"``, ``"edge:1"``, ... and their lengths ``"length:0"``, ...

    Args:
        sketch: The drawing it goes on.
        corners: In the order in which they were set, mm; one or none is no fault.
        units: How lengths are written.
        closed: Whether the last is joined to the first.

    Returns:
        The corners that have a place.
    """
    ring = tuple(filter(is_number, corners))
    ends = (*ring[1:], ring[0]) if closed and len(ring) > 2 else ring[1:]
    sides = tuple(zip(ring, ends, strict=False))
    for number, side in enumerate(sides):
        sketch.stroke(side, "wall", f"edge:{number}")
    outwards = signed_area(ring) <= 0 if len(ring) > 2 else True
    for number, (a, b) in enumerate(sides):
        text = on_tape(distance(a, b), units)
        p, q = (a, b) if outwards else (b, a)
        ref = f"length:{number}"
        draw_edge_length(sketch, EdgeLength(a=p, b=q, text=text, ref=ref, out=SKETCH_OUT))
    return ring
