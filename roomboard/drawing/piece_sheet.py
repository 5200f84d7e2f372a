"""One piece that is more than a rectangle, face up, with running dimensions from its corner."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from roomboard.core.handed import Hand, hand_of
from roomboard.core.plane import Region
from roomboard.core.project import Units
from roomboard.core.sheeting import Piece
from roomboard.core.tapers import Taper
from roomboard.core.units import on_tape
from roomboard.drawing.bevels import write_bevels
from roomboard.drawing.cutting_diagram import is_round
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.lettering import MARK
from roomboard.drawing.lining import running_stops, stops_of
from roomboard.drawing.piece_sides import PieceSide, Stretch
from roomboard.drawing.sketch import Line, Side, Sketch, plain, spots_in, spots_on
from roomboard.drawing.tapering import write_end_sizes

ASIDE = 3.0
"""Letters of edges stand this far inside them, mm on paper."""
OFF = 1.3
"""A line for what a side lies at stands this far off it, mm on paper."""
BESIDE = 3.6
"""Words for what a side lies at stand this far off it, mm on paper."""


def piece_sheet(
    piece: Piece,
    sides: Sequence[PieceSide],
    at: Sequence[Stretch],
    units: Units,
    scale: float,
    *,
    widest: float = inf,
    tapers: Sequence[Taper] = (),
) -> DisplayList:
    """Draw a piece face up: its sides by letter, what they lie at, and running dimensions.

    The dimensions run from the lower left corner; a heavy line stands beside every side that goes
    to a wall, a ceiling or the floor.

    Args:
        piece: The piece.
        sides: Its four sides, as :func:`~roomboard.drawing.piece_sides.piece_sides` gives them.
        at: The parts of its outline that lie on sides of the surface.
        units: How lengths are written.
        scale: How many mm of the piece one mm of paper is.
        widest: What it should not be wider than if it can help it, mm on paper.
        tapers: How it tapers; what its ends measure is written beside them.

    Returns:
        The drawing, mm of the piece, length to the right.
    """
    sketch = Sketch(scale, widest=widest)
    region = piece.face_up
    sketch.fill(region.rings, "sheet", piece.id, tone=1.0)
    sketch.outline(region, "piece", piece.id)
    for stretch in at:
        _beside(sketch, stretch, region)
    head = Line(text=piece.mark, height=MARK, bold=True)
    spots = spots_in(region)
    hand = hand_of(piece)
    words = f"face up, {hand.value} hand" if hand is not Hand.NONE else "face up"
    sketch.label_or_call_out(((head, Line(text=words)), (head,)), spots, spots[0], within=region)
    _letters(sketch, piece, sides)
    write_end_sizes(sketch, piece, tapers, units, face_up=True)
    write_bevels(sketch, piece, units)
    centres = _round_holes(sketch, piece, units)
    points = [*centres, *(p for ring in region.rings if not is_round(ring) for p in ring)]
    us = stops_of((0.0, piece.length, *(p[0] for p in points)))
    vs = stops_of((0.0, piece.width, *(p[1] for p in points)))
    sketch.running(running_stops(us, 0.0, units), Side.BOTTOM)
    sketch.running(running_stops(vs, 0.0, units), Side.LEFT)
    return sketch.finished()


def _beside(sketch: Sketch, stretch: Stretch, region: Region) -> None:
    """Draw a heavy line beside a side that goes to a wall, and say which."""
    (ax, ay), (bx, by) = stretch.a, stretch.b
    if not stretch.solid:
        return
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5 or 1.0
    nx, ny = -(by - ay) / length, (bx - ax) / length
    # The piece lies on one side of its outline; the line stands on the other.
    hair = ((ax + bx) / 2 + nx, (ay + by) / 2 + ny)
    sign = -1.0 if region.contains(hair) else 1.0
    off = sketch.mm(OFF) * sign
    ends = ((ax + nx * off, ay + ny * off), (bx + nx * off, by + ny * off))
    sketch.stroke(ends, "wall")
    out = sketch.mm(BESIDE) * sign
    angle = sketch.angle_of(stretch.a, stretch.b)
    spots = [(x + nx * out, y + ny * out) for x, y in spots_on(stretch.a, stretch.b)]
    sketch.label((plain(stretch.words),), spots, angles=(angle,), mask=False)


def _letters(sketch: Sketch, piece: Piece, sides: Sequence[PieceSide]) -> None:
    """Write the letters of the four sides inside them."""
    low, high, left, right = (side.letter for side in sides)
    aside = sketch.mm(ASIDE)
    for letter, y in ((low, aside), (high, piece.width - aside)):
        spots = spots_on((0.0, y), (piece.length, y))
        sketch.label_apart(((Line(text=letter, bold=True),),), spots[1:], within=piece.face_up)
    for letter, x in ((left, aside), (right, piece.length - aside)):
        spots = spots_on((x, 0.0), (x, piece.width))
        sketch.label_apart(((Line(text=letter, bold=True),),), spots, within=piece.face_up)


def _round_holes(sketch: Sketch, piece: Piece, units: Units) -> list[tuple[float, float]]:
    """Draw the axes of round cut-outs and their diameters; return their centres."""
    region = piece.face_up
    boxes = [Region.of(ring).bounds for ring in region.rings if is_round(ring)]
    centres = [((u0 + u1) / 2, (v0 + v1) / 2) for u0, v0, u1, v1 in boxes]
    for (u, v), box in zip(centres, boxes, strict=True):
        arm = (box[2] - box[0]) / 2 + sketch.mm(1.0)
        sketch.stroke(((u - arm, v), (u + arm, v)), "start", piece.id)
        sketch.stroke(((u, v - arm), (u, v + arm)), "start", piece.id)
        words = plain(f"⌀ {on_tape(box[2] - box[0], units)}")
        around = ((u, v + arm + sketch.mm(2.5)), (u, v - arm - sketch.mm(2.5)))
        sketch.label_or_call_out((words,), around, (u, v), within=region)
    return centres
