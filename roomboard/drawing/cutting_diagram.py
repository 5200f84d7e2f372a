"""How each stock sheet is cut, face up."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf
from typing import NamedTuple

from roomboard.core.cutting import Cut, CutSheet, EdgeIs, Offcut, Placement
from roomboard.core.handed import half_turned
from roomboard.core.plane import Point, Region, Ring, difference, distance, same
from roomboard.core.project import Units
from roomboard.core.scheme import Scheme
from roomboard.core.units import on_tape
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.lettering import MARK
from roomboard.drawing.lining import (
    JOINT_TICK,
    JOINT_TICK_PITCH,
    chain_stops,
    overall,
    stops_of,
)
from roomboard.drawing.sketch import QUARTER, Line, Side, Sketch, plain, spots_in, spots_on
from roomboard.drawing.view import Affine

MOST_CUTS = 14
"""The cuts of a sheet that has more of them are listed in a table as well."""
MOST_BESIDE = 1
"""So are those of a sheet of which more find no room for their numbers; leaders to several places
that lie close together could not be told apart."""
NEAR_END = 2.2
"""The middle of a number stands at least this far from the end of its cut, mm on paper."""
NUMBERED_RATIO = 50.0
"""Ratio of a diagram on which numbers have to find room; most are as large or larger."""
FINE_SPOTS = (17, 11)
"""Places for the mark of a piece that is not all of its rectangle: so many across and up."""
ON_BLANK = 0.1
"""A side of a piece no further from a side of its rectangle lies on that, mm."""
OFFCUT = ":offcut:"
"""In the refs of offcuts, between the sheet's number and the offcut's."""
EDGE_LETTERS: dict[EdgeIs, str] = {EdgeIs.RECESSED: "R", EdgeIs.CUT: "C"}
"""What stands along the long edges of pieces."""


class CutPiece(NamedTuple):
    """What a cutting diagram says of a piece.

    Attributes:
        mark: Its mark.
        room: Name of its room.
        shape: Its outline face up in its own frame, mm; None if it is all of its rectangle.
    """

    mark: str
    room: str
    shape: Region | None = None


def cut_pieces(scheme: Scheme) -> dict[str, CutPiece]:
    """Return what cutting diagrams say of every piece, by its id."""
    return {
        p.id: CutPiece(p.mark, r.room.name, None if p.is_plain else p.face_up)
        for r in scheme.rooms
        for s in r.surfaces
        for p in s.set_out.pieces
    }


def _ticked(sketch: Sketch, x0: float, x1: float, y: float, inwards: int, ref: str) -> None:
    """Draw ticks along a recessed edge, on the board's side of it."""
    at = x0 + sketch.mm(JOINT_TICK_PITCH / 2)
    while at < x1:
        end = y + inwards * sketch.mm(2 * JOINT_TICK)
        sketch.stroke(((at, y), (at, end)), "joint_recessed", ref)
        at += sketch.mm(JOINT_TICK_PITCH)


def listed_cuts(sheet: CutSheet, pieces: Mapping[str, CutPiece], units: Units) -> tuple[Cut, ...]:
    """Return the cuts of a sheet that stand in a table.

    All of a sheet with very many; those that find no room for their numbers on the diagram where
    they are more than leaders could tell apart.

    Args:
        sheet: The stock sheet and how it is cut.
        pieces: What is said of each piece, by its id.
        units: How lengths are written.
    """
    if len(sheet.cuts) > MOST_CUTS:
        return sheet.cuts
    if len(sheet.cuts) <= MOST_BESIDE:
        return ()
    sketch = Sketch(NUMBERED_RATIO, call_outs=False)
    _label_pieces(sketch, sheet, pieces, _shapes(sheet, pieces), units)
    bare = _number_cuts(sketch, sheet)
    return tuple(bare) if len(bare) > MOST_BESIDE else ()


def called(sheet: CutSheet) -> str:
    """Return what a sheet is called over its diagram: an offcut on site is named as such."""
    return f"{sheet.id} (offcut on site)" if sheet.on_site else sheet.id


def cutting_diagram(
    sheet: CutSheet,
    pieces: Mapping[str, CutPiece],
    units: Units,
    scale: float,
    *,
    widest: float = inf,
    sketch: Sketch | None = None,
) -> DisplayList:
    """Draw a stock sheet face up with its pieces, its cuts in order and what is left.

    Args:
        sheet: The stock sheet and how it is cut.
        pieces: What is said of each piece, by its id; anything else is a back-block.
        units: How lengths are written.
        scale: How many mm of the sheet one mm of paper is.
        widest: What it should not be wider than if it can help it, mm on paper.
        sketch: Empty sketch to draw it on; a new one for paper if not given.

    Returns:
        The drawing, mm of the sheet, length to the right.
    """
    sketch = sketch or Sketch(scale, widest=widest)
    whole = Region.box(0.0, 0.0, sheet.length, sheet.width)
    sketch.fill(whole.rings, "sheet", sheet.id, tone=1.0)
    for offcut in sheet.offcuts:
        if not offcut.keep and not offcut.used_for:
            sketch.fill(_offcut_region(offcut).rings, "waste", sheet.id, hatch="waste")
    _areas(sketch, sheet)
    shapes = _shapes(sheet, pieces)
    _cut_away(sketch, sheet, shapes)
    for cut in sheet.cuts:
        sketch.stroke(((cut.x0, cut.y0), (cut.x1, cut.y1)), "cut", f"{sheet.id}-{cut.number}")
    sketch.outline(whole, "outline", sheet.id)
    if sheet.low is EdgeIs.RECESSED:
        _ticked(sketch, 0.0, sheet.length, 0.0, 1, sheet.id)
    if sheet.high is EdgeIs.RECESSED:
        _ticked(sketch, 0.0, sheet.length, sheet.width, -1, sheet.id)
    _label_pieces(sketch, sheet, pieces, shapes, units)
    bare = _number_cuts(sketch, sheet)
    listed = listed_cuts(sheet, pieces, units) if bare else ()
    for cut in (cut for cut in bare if cut not in listed):
        middle = ((cut.x0 + cut.x1) / 2, (cut.y0 + cut.y1) / 2)
        sketch.call_out(middle, plain(f"cut {cut.number}"), f"{sheet.id}-{cut.number}")
    for placement in sheet.placements:
        _edge_letters(sketch, placement, shapes.get(placement.piece) or _blank(placement))
    for offcut in sheet.offcuts:
        _offcut_label(sketch, offcut, units)
    placed = sheet.placements
    across = stops_of((0.0, sheet.length, *(x for p in placed for x in (p.x, p.x + p.length))))
    up = stops_of((0.0, sheet.width, *(y for p in placed for y in (p.y, p.y + p.width))))
    sketch.chain(chain_stops(across, units), Side.BOTTOM)
    sketch.chain(chain_stops(up, units), Side.LEFT)
    if len(across) > 2:
        overall(sketch, (0.0, sheet.length), Side.BOTTOM, units)
    if len(up) > 2:
        overall(sketch, (0.0, sheet.width), Side.LEFT, units)
    return sketch.finished()


def _areas(sketch: Sketch, sheet: CutSheet) -> None:
    """Lay down what can be pointed at: pieces, and offcuts that are of use; nothing is seen."""
    for p in sheet.placements:
        sketch.fill(_blank(p).rings, "piece", p.piece)
    for number, offcut in enumerate(sheet.offcuts, 1):
        if offcut.keep or offcut.used_for:
            rings = _offcut_region(offcut).rings
            sketch.fill(rings, "sheet", f"{sheet.id}{OFFCUT}{number}")


def _blank(p: Placement) -> Region:
    """Return the rectangle a piece is cut from, where it lies on its sheet."""
    return Region.box(p.x, p.y, p.x + p.length, p.y + p.width)


def _shapes(sheet: CutSheet, pieces: Mapping[str, CutPiece]) -> dict[str, Region]:
    """Return the pieces that are not all of their rectangles where they lie, by their ids."""
    shapes: dict[str, Region] = {}
    for p in sheet.placements:
        shape = pieces[p.piece].shape if p.piece in pieces else None
        if shape is not None:
            whole = half_turned(shape) if p.turned else shape
            shapes[p.piece] = Affine.moved(p.x, p.y).region(whole)
    return shapes


def _cut_away(sketch: Sketch, sheet: CutSheet, shapes: Mapping[str, Region]) -> None:
    """Draw what goes off the rectangles of pieces that are notched, sloping or have cut-outs."""
    for p in sheet.placements:
        if p.piece not in shapes:
            continue
        blank, shape = _blank(p), shapes[p.piece]
        for part in difference(blank, [shape]):
            sketch.fill(part.rings, "waste", sheet.id, hatch="waste")
        for a, b in shape.segments:
            if blank.distance_to_edge(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)) > ON_BLANK:
                sketch.stroke((a, b), "piece", p.piece)


def _label_pieces(
    sketch: Sketch,
    sheet: CutSheet,
    pieces: Mapping[str, CutPiece],
    shapes: Mapping[str, Region],
    units: Units,
) -> None:
    for p in sheet.placements:
        _placement_label(sketch, p, pieces.get(p.piece), shapes.get(p.piece), units)


def _number_cuts(sketch: Sketch, sheet: CutSheet) -> list[Cut]:
    """Write the numbers of cuts on them; return the cuts where there was no room."""
    bare: list[Cut] = []
    for cut in sheet.cuts:
        number = ((Line(text=str(cut.number), bold=True),),)
        ref = f"{sheet.id}-{cut.number}"
        a, b = (cut.x0, cut.y0), (cut.x1, cut.y1)
        if not sketch.label(number, (*spots_on(a, b), *_near_ends(sketch, a, b)), ref=ref):
            bare.append(cut)
    return bare


def _near_ends(sketch: Sketch, a: Point, b: Point) -> tuple[Point, ...]:
    """Return the places nearest to the ends of a long cut where its number still stands on it."""
    long, off = distance(a, b), sketch.mm(NEAR_END)
    if long < 2 * off:
        return ()
    dx, dy = (b[0] - a[0]) / long * off, (b[1] - a[1]) / long * off
    return ((a[0] + dx, a[1] + dy), (b[0] - dx, b[1] - dy))


def _placement_label(
    sketch: Sketch,
    placement: Placement,
    piece: CutPiece | None,
    cut_to: Region | None,
    units: Units,
) -> None:
    p = placement
    blank = _blank(p)
    if piece is None:  # a back-block, known by its number; what finds no room is listed
        short = p.piece.rpartition("/")[2]
        sketch.label((plain(short),), spots_in(blank), ref=p.piece, within=blank)
        return
    shape = cut_to or blank
    head = Line(text=piece.mark, height=MARK, bold=True)
    room = piece.room
    size = f"{on_tape(p.length, units)} × {on_tape(p.width, units)}"
    labels = ((head, Line(text=room), Line(text=size)), (head, Line(text=f"{room}  {size}")))
    fine = spots_in(shape, *FINE_SPOTS) if cut_to else spots_in(blank)
    spots = [spot for spot in fine if shape.contains(spot)]
    # Where nothing stands beside the diagram it stands over what is cut off rather than nowhere.
    for region in (shape,) if sketch.call_outs else (shape, blank):
        places = spots if region is shape else spots_in(blank)
        for label in (*labels, (head, Line(text=size)), (head,)):
            for angle in (0.0, QUARTER):
                if sketch.label((label,), places, ref=p.piece, within=region, angles=(angle,)):
                    return
    target = next(iter(spots), blank.outer[0])
    sketch.call_out(target, plain(f"{head.text}  {room}  {size}"), p.piece)


def _edge_letters(sketch: Sketch, placement: Placement, region: Region) -> None:
    p = placement
    low, high = (p.high, p.low) if p.turned else (p.low, p.high)
    aside = sketch.mm(3.0)
    for letter, y in ((low, p.y + aside), (high, p.y + p.width - aside)):
        spots = spots_on((p.x, y), (p.x + p.length, y))
        label = ((Line(text=EDGE_LETTERS[letter], bold=True),),)
        sketch.label_apart(label, spots[1:], ref=p.piece, within=region)


def _offcut_region(offcut: Offcut) -> Region:
    return Region.box(offcut.x, offcut.y, offcut.x + offcut.length, offcut.y + offcut.width)


def _offcut_label(sketch: Sketch, offcut: Offcut, units: Units) -> None:
    region = _offcut_region(offcut)
    size = f"{on_tape(offcut.length, units)} × {on_tape(offcut.width, units)}"
    if offcut.used_for:
        words = "back-blocks"
    elif offcut.keep:
        words = "keep"
    else:
        words = "waste"
    spots = spots_in(region)
    labels = [plain(f"{words}  {size}"), (Line(text=words), Line(text=size)), plain(words)]
    if offcut.used_for:
        labels.append(plain("bb"))
    for label in labels:
        for angle in (0.0, QUARTER):
            if sketch.label((label,), spots, within=region, angles=(angle,)):
                return
    if offcut.keep and not offcut.used_for:  # blocks stand in the table of offcuts, one by one
        sketch.call_out(spots[0], labels[0])


def is_round(ring: Ring) -> bool:
    """Tell whether a ring stands for a circle: many corners, as high as it is wide."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return len(ring) > 16 and same(max(xs) - min(xs), max(ys) - min(ys), 1.0)
