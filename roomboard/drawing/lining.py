"""What every drawing of a surface shares: framing, sheets, joints, openings, fixings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

from roomboard.core.findings import Finding, Severity
from roomboard.core.joints import Joint, JointKind
from roomboard.core.kept import KEPT
from roomboard.core.plane import Interval, Point, Region, distance, same
from roomboard.core.project import OpeningKind, Room, Units
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.sheeting import Piece
from roomboard.core.support import Trimmer
from roomboard.core.surface import SupportKind, SurfaceOpening
from roomboard.core.tapers import Taper
from roomboard.core.units import as_written, on_tape, write_length
from roomboard.drawing.displaylist import Symbol
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.lettering import MARK
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
from roomboard.drawing.tapering import draw_start_lines, size_words, write_end_sizes

JOINT_LAYERS: dict[JointKind, str] = {
    JointKind.RECESSED: "joint_recessed",
    JointKind.BUTT_FRAMED: "joint_butt",
    JointKind.BUTT_BACK_BLOCKED: "joint_butt",
    JointKind.BUTT_UNBACKED: "joint_butt",
    JointKind.END_TO_RECESS: "joint_end_to_recess",
    JointKind.CUT_EDGE: "joint_cut_edge",
    JointKind.CONTROL: "joint_control",
}
"""The layer of each kind of joint."""
OPENING_WORDS: dict[OpeningKind, str] = {
    OpeningKind.DOOR: "Door",
    OpeningKind.WINDOW: "Window",
    OpeningKind.OPENING: "Opening",
    OpeningKind.HATCH: "Hatch",
    OpeningKind.LIGHT: "Light",
    OpeningKind.DUCT: "Duct",
}
"""What each kind of opening is called."""
ZONE_WORDS: dict[str, str] = {
    "wet": "Wet area",
    "fire": "Fire-rated lining",
    "bracing": "Bracing lining",
    "tiled": "Tiled area",
    "garage": "Garage lining",
    "external_ceiling": "External ceiling",
}
"""What each kind of special zone is called."""

JOINT_TICK_PITCH = 6.0
"""Distance between the ticks on a recessed joint, mm on paper."""
JOINT_TICK = 0.8
"""Half the length of such a tick, mm on paper."""
TRIMMER_BAND = 2.2
"""A trimmer is drawn at least this wide, mm on paper."""
FASTENER_SIZE, DAUB_SIZE = 0.8, 1.8
"""Diameter of the signs for fasteners and daubs, mm on paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Show:
    """What a drawing of a surface shows.

    Attributes:
        sheets: Sheets, joints and the start line.
        framing: Joists, studs and noggings behind.
        trimmers: Timber to add.
        back_blocks: Back-blocks.
        fixings: Fasteners and daubs.
        dimensions: Dimensions round it.
        marks: Marks and sizes of the pieces.
        start: The start line, where sheets are shown.
        faint: Sheets as thin outlines only, where they are not shown in full.
        stock_numbers: Under each mark, the stock sheet it is cut from.
        stock_tones: Pieces of one stock sheet in one tone.
        stock_of: Number of the stock sheet of each piece, by the piece's id.
        layer: Where two layers are hung, which one is shown: 1 at the framing, or 2.
    """

    sheets: bool = True
    framing: bool = True
    trimmers: bool = True
    back_blocks: bool = True
    fixings: bool = False
    dimensions: bool = True
    marks: bool = True
    start: bool = True
    faint: bool = False
    stock_numbers: bool = False
    stock_tones: bool = False
    stock_of: Mapping[str, str] = field(default_factory=dict, hash=False)
    layer: int = 1


SMALL_HOLE = 9.0
"""A hole smaller than this has no room for its name, mm on paper."""
BAND = "band:"
"""What the refs of bands without joints begin with; the band's id follows."""
BREACH = "breach:"
"""What the refs of marks for blocking findings begin with; the finding's number follows."""
TONES = (1.0, 0.93, 0.86, 0.79)
"""Greys of the stock sheets, in turn; the number stands in each piece as well."""
SHEETING = Show()
"""The set-out of the sheets."""
FRAMING = Show(sheets=False, back_blocks=False)
"""The framing and what is missing from it: the carpenter's drawing."""
FIXING = Show(trimmers=False, fixings=True)
"""Where every fastener and daub goes."""


def draw_lining(
    sketch: Sketch, scheme: SurfaceScheme, room: Room, units: Units, show: Show
) -> None:
    """Draw a surface without dimensions.

    Args:
        sketch: The drawing it goes on.
        scheme: The surface and everything on it.
        room: Its room, for the sizes of openings.
        units: How lengths are written.
        show: What to show.
    """
    _lines(sketch, scheme, show)
    # Names of small openings stand beside the drawing; nothing is written over them.
    _keep_off(sketch, (o for o in scheme.surface.openings if _is_small(o, sketch)))
    # What matters most finds its place first.
    if show.sheets and show.marks:
        for piece in scheme.set_out.pieces:
            stock = show.stock_of.get(piece.id, "") if show.stock_numbers else ""
            found = scheme.set_out.tapers_of(piece.mark)
            _piece_label(sketch, piece, units, stock, found)
            write_end_sizes(sketch, piece, found, units, face_up=False)
    if show.framing and not show.sheets:
        _packer_figures(sketch, scheme, units)
    if show.trimmers:
        for trimmer in scheme.trimmers:
            _trimmer_tag(sketch, trimmer, units, scheme.surface.outline)
    sizes = {o.id: (o.width, o.height) for o in room.openings}
    for opening in scheme.surface.openings:
        _opening_label(sketch, opening, sizes, units)
    _keep_off(sketch, scheme.surface.openings)
    if show.sheets:
        for joint in scheme.joints:
            _joint_letter(sketch, joint)
        if show.start:
            draw_start_lines(sketch, scheme, units)
        _band_words(sketch, scheme)
    _unlined_words(sketch, scheme)
    _notes(sketch, scheme)


def _packer_figures(sketch: Sketch, scheme: SurfaceScheme, units: Units) -> None:
    """Write how thick the packers are under members that lie in no plane."""
    aside = sketch.mm(3.0)
    for packing in scheme.packing:
        for spot in packing.packers:
            words = plain(f"+{write_length(spot.thickness, units)}")
            u, v = spot.point
            spots = [(u + du, v + dv) for du in (aside, -aside) for dv in (0.0, aside, -aside)]
            sketch.label((words,), spots, ref=spot.member, within=scheme.surface.outline)


def _keep_off(sketch: Sketch, openings: Iterable[SurfaceOpening]) -> None:
    for opening in openings:
        sketch.keep_off(opening.region)


def _lines(sketch: Sketch, scheme: SurfaceScheme, show: Show) -> None:
    surface = scheme.surface
    _sheets(sketch, scheme, show)
    if surface.special:
        sketch.fill(surface.region.rings, "zone", surface.ref, hatch="special")
    if show.sheets:
        _bands(sketch, scheme)
    if show.framing:
        _framing(sketch, scheme)
    if show.trimmers:
        for trimmer in scheme.trimmers:
            _trimmer_line(sketch, trimmer)
    for block in scheme.fixings.back_blocks if show.back_blocks else ():
        sketch.stroke(block.corners, "back_block", block.id, closed=True)
    if show.sheets:
        for joint in scheme.joints:
            _joint_line(sketch, joint)
    sketch.outline(surface.region, "outline", surface.ref)
    for opening in surface.openings:
        _opening_lines(sketch, opening)
    if show.fixings:
        _fixings(sketch, scheme)


def _sheets(sketch: Sketch, scheme: SurfaceScheme, show: Show) -> None:
    for piece in scheme.set_out.pieces if show.sheets or show.faint else ():
        if show.sheets:
            tone = stock_tone(show.stock_of.get(piece.id, "")) if show.stock_tones else 1.0
            sketch.fill(piece.region.rings, "sheet", piece.id, tone=tone)
        else:
            sketch.outline(piece.region, "sheet", piece.id)


def _bands(sketch: Sketch, scheme: SurfaceScheme) -> None:
    """Draw the bands in which no joint may run, as far as the face reaches."""
    u0, _, u1, _ = scheme.surface.outline.bounds
    for name, *levels in _bands_on(scheme):
        for v in levels:
            sketch.stroke(((u0, v), (u1, v)), "no_joint", f"{BAND}{name}")


def _bands_on(scheme: SurfaceScheme) -> Iterator[tuple[str, float, float]]:
    """Yield the id, the low and the high side of each band that lies on the face."""
    _, v0, _, v1 = scheme.surface.outline.bounds
    for band in scheme.surface.bands:
        low, high = max(band.low, v0), min(band.high, v1)
        if high > low:
            yield band.id, low, high


def _band_words(sketch: Sketch, scheme: SurfaceScheme) -> None:
    u0, _, u1, _ = scheme.surface.outline.bounds
    for name, low, high in _bands_on(scheme):
        middle = (low + high) / 2
        spots = [(u0 + (u1 - u0) * share, middle) for share in (0.5, 0.25, 0.75, 0.1, 0.9)]
        ref = f"{BAND}{name}"
        sketch.label_or_call_out((plain("no joint"),), spots, spots[0], ref=ref)


def _unlined_words(sketch: Sketch, scheme: SurfaceScheme) -> None:
    """Outline the parts of a face that are not lined, and say what is there."""
    kept = any(e.other.startswith(KEPT) for e in scheme.surface.edges)
    words = plain("lining kept" if kept else "not lined")
    for region in scheme.surface.unlined:
        ref = scheme.surface.ref
        sketch.outline(region, "unlined", ref)
        spots = spots_in(region)
        sketch.label_or_call_out(
            (words,), spots, spots[0], ref=ref, within=region, angles=(0.0, QUARTER)
        )


def _notes(sketch: Sketch, scheme: SurfaceScheme) -> None:
    """Write what governs special zones, and mark the places of blocking findings."""
    outline = scheme.surface.outline
    spots = spots_in(outline)
    for kind in scheme.surface.special:
        name = ZONE_WORDS.get(kind, kind)
        words = ("own documents govern", "own documents", "govern")
        wordings = (
            plain(f"{name}: {words[0]}"),
            (Line(text=f"{name}:"), Line(text=words[0])),
            (Line(text=f"{name}:"), Line(text=words[1]), Line(text=words[2])),
        )
        sketch.label_or_call_out(
            wordings,
            spots,
            spots[0],
            ref=scheme.surface.ref,
            within=outline,
            angles=(0.0, QUARTER),
        )
    for number, place in enumerate(breaches(scheme), 1):
        mark = marked(f"!{number}")
        sketch.label_or_call_out((mark,), (place,), place, ref=f"{BREACH}{number}")


def blocking(scheme: SurfaceScheme) -> tuple[Finding, ...]:
    """Return the blocking findings that name a place on the surface, in order."""
    found = (*scheme.set_out.findings, *scheme.fixings.findings)
    return tuple(f for f in found if f.severity is Severity.BLOCK and f.place.line)


def breaches(scheme: SurfaceScheme) -> tuple[Point, ...]:
    """Return the places of blocking findings that name one, in order."""
    return tuple(
        (
            sum(p[0] for p in f.place.line) / len(f.place.line),
            sum(p[1] for p in f.place.line) / len(f.place.line),
        )
        for f in blocking(scheme)
    )


def _framing(sketch: Sketch, scheme: SurfaceScheme) -> None:
    surface = scheme.surface
    for support in surface.supports:
        if support.kind is SupportKind.TRIMMER or not support.existing:
            continue
        sketch.stroke((support.a, support.b), "joist", support.id)
    if len(surface.zones) > 1:
        for zone in surface.zones:
            sketch.outline(zone.region, "zone", zone.id)


def _band(a: Point, b: Point, width: float) -> tuple[Point, Point, Point, Point]:
    """Return the corners of a strip along a line, ``width`` wide."""
    length = distance(a, b) or 1.0
    nx, ny = -(b[1] - a[1]) / length * width / 2, (b[0] - a[0]) / length * width / 2
    return (
        (a[0] + nx, a[1] + ny),
        (b[0] + nx, b[1] + ny),
        (b[0] - nx, b[1] - ny),
        (a[0] - nx, a[1] - ny),
    )


def _trimmer_middle(sketch: Sketch, trimmer: Trimmer) -> tuple[Point, Point, float]:
    """Return the line a trimmer is drawn along, and how wide.

    It never looks too thin to be told from the wall beside it: at a wall it then reaches
    further into the room than its own face does.
    """
    width = max(trimmer.face, sketch.mm(TRIMMER_BAND))
    (ax, ay), (cx, cy) = trimmer.a, trimmer.centre_a
    off = distance(trimmer.a, trimmer.centre_a)
    if off < 1.0:
        return trimmer.centre_a, trimmer.centre_b, width
    more = (width - trimmer.face) / 2
    dx, dy = (cx - ax) / off * more, (cy - ay) / off * more
    bx, by = trimmer.centre_b
    return (cx + dx, cy + dy), (bx + dx, by + dy), width


def _trimmer_line(sketch: Sketch, trimmer: Trimmer) -> None:
    a, b, width = _trimmer_middle(sketch, trimmer)
    sketch.fill((_band(a, b, width),), "trimmer", trimmer.tag, hatch="timber")
    sketch.stroke((a, b), "trimmer", trimmer.tag)


def _trimmer_tag(sketch: Sketch, trimmer: Trimmer, units: Units, within: Region) -> None:
    length = on_tape(trimmer.length, units)
    full = ((Line(text=f"{trimmer.tag}  {length}", bold=True),),)
    short = ((Line(text=trimmer.tag, bold=True),),)
    a, b, _ = _trimmer_middle(sketch, trimmer)
    aside = sketch.mm(3.8)
    spots = (*spots_on(a, b, aside), *spots_on(a, b, -aside))
    on_it = spots_on(a, b)
    angle = sketch.angle_of(a, b)
    for labels, places in ((full, spots), (full, on_it), (short, (*spots, *on_it))):
        if sketch.label(labels, places, ref=trimmer.tag, within=within, angles=(angle,)):
            return
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    sketch.call_out(middle, full[0], trimmer.tag)


def _joint_line(sketch: Sketch, joint: Joint) -> None:
    layer = JOINT_LAYERS[joint.kind]
    sketch.stroke((joint.a, joint.b), layer, joint.id)
    if joint.kind is not JointKind.RECESSED:
        return
    (ax, ay), (bx, by) = joint.a, joint.b
    length = joint.length or 1.0
    dx, dy = (bx - ax) / length, (by - ay) / length
    half, pitch = sketch.mm(JOINT_TICK), sketch.mm(JOINT_TICK_PITCH)
    at = pitch / 2
    while at < length:
        x, y = ax + dx * at, ay + dy * at
        ends = ((x - dy * half, y + dx * half), (x + dy * half, y - dx * half))
        sketch.stroke(ends, "joint_recessed", joint.id)
        at += pitch


def _joint_letter(sketch: Sketch, joint: Joint) -> None:
    letter = LAYERS[JOINT_LAYERS[joint.kind]].letter
    sketch.label(((Line(text=letter, bold=True),),), spots_on(joint.a, joint.b), ref=joint.id)


def _is_small(opening: SurfaceOpening, sketch: Sketch) -> bool:
    """Tell whether no name has room in an opening."""
    u0, v0, u1, v1 = opening.region.bounds
    return max(u1 - u0, v1 - v0) < sketch.mm(SMALL_HOLE)


def _opening_lines(sketch: Sketch, opening: SurfaceOpening) -> None:
    sketch.fill(opening.region.rings, "opening", opening.id, tone=1.0)
    sketch.outline(opening.region, "opening", opening.id)
    if not opening.is_round:
        for line in _diagonals(opening.region):
            sketch.stroke(line, "dimension", opening.id)


def _diagonals(region: Region) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Return the lines that cross a hole out: from corner to corner, or of its box."""
    u0, v0, u1, v1 = region.bounds
    if len(region.outer) == 4 and region.area_mm2 < (u1 - u0) * (v1 - v0) - 1.0:
        a, b, c, d = region.outer
        return (a, c), (b, d)
    return ((u0, v0), (u1, v1)), ((u0, v1), (u1, v0))


def _opening_label(
    sketch: Sketch,
    opening: SurfaceOpening,
    sizes: dict[str, tuple[float, float]],
    units: Units,
) -> None:
    name = f"{OPENING_WORDS[opening.kind]} {opening.id}"
    u0, v0, u1, v1 = opening.region.bounds
    width, height = sizes.get(opening.id, (u1 - u0, v1 - v0))
    size = f"{on_tape(width, units)} × {on_tape(height, units)}"
    if opening.is_round:
        size = f"⌀ {on_tape(width, units)}"
    spots = spots_in(opening.region)
    two = (Line(text=name), Line(text=size))
    # Where no label stands beside the drawing the name at least is tried.
    short = () if sketch.call_outs else (plain(name), plain(opening.id))
    sketch.label_or_call_out(
        (two, plain(f"{name}  {size}"), *short),
        spots,
        spots[0],
        ref=opening.id,
        within=opening.region,
        angles=(0.0, QUARTER),
    )


def stock_tone(stock: str) -> float:
    """Return the grey of a stock sheet by its number, e.g. ``"S3"``; white for none."""
    digits = "".join(c for c in stock if c.isdigit())
    return TONES[int(digits) % len(TONES)] if digits else 1.0


def _piece_label(
    sketch: Sketch, piece: Piece, units: Units, stock: str = "", found: Sequence[Taper] = ()
) -> None:
    length, width = (
        size_words(size, found, of, units)
        for size, of in ((piece.length, "length"), (piece.width, "width"))
    )
    size = f"{length} × {width}"
    words = f"{piece.mark}  {stock}" if stock else piece.mark
    head = Line(text=words, height=MARK, bold=True)
    region = piece.region
    spots = spots_in(region)
    whole = (head, Line(text=size))
    labels = [whole, (head,)]
    if stock:
        labels.append((replace(head, text=piece.mark), Line(text=stock, bold=True)))
    for label, angle in product(labels, (0.0, QUARTER)):
        if sketch.label((label,), spots, ref=piece.id, within=region, angles=(angle,)):
            return
    sketch.call_out(spots[0], plain(f"{piece.mark}  {size}"), piece.id)


def _fixings(sketch: Sketch, scheme: SurfaceScheme) -> None:
    fixings = scheme.fixings
    sketch.dots(((d.u, d.v) for d in fixings.daubs), Symbol.RING, DAUB_SIZE, "daub")
    for bead in fixings.beads:
        sketch.stroke((bead.a, bead.b), "bead", bead.piece)
    sketch.dots(((f.u, f.v) for f in fixings.fasteners), Symbol.DISC, FASTENER_SIZE, "fastener")


# --- dimensions -------------------------------------------------------------------------


def stops_of(values: Iterable[float]) -> tuple[float, ...]:
    """Return places in order, those within a tolerance of each other counted once."""
    found: list[float] = []
    for value in sorted(values):
        if not found or not same(value, found[-1], 0.5):
            found.append(value)
    return tuple(found)


def chain_stops(values: Sequence[float], units: Units) -> tuple[tuple[float, str], ...]:
    """Return places with the length of each from the one before; they add up as written."""
    at = [as_written(value - values[0], units) for value in values]
    return tuple(
        (value, on_tape(float(at[i] - at[i - 1]), units) if i else "")
        for i, value in enumerate(values)
    )


def running_stops(
    values: Sequence[float], datum: float, units: Units
) -> tuple[tuple[float, str], ...]:
    """Return places with their distance from a datum, as written."""
    return tuple((value, on_tape(value - datum, units)) for value in values)


def overall(sketch: Sketch, span: Interval, side: Side, units: Units, ref: str = "") -> None:
    """Draw the whole length or height on a side.

    Args:
        sketch: The drawing it goes on.
        span: From where to where, mm.
        side: On which side of the drawing.
        units: How lengths are written.
        ref: What of the room it measures, if that is known.
    """
    sketch.chain(chain_stops(span, units), side, refs=("", ref))


def joint_places(scheme: SurfaceScheme) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the places along u of upright joints and along v of level ones."""
    across = [j.a[0] for j in scheme.joints if same(j.a[0], j.b[0], 0.5)]
    up = [j.a[1] for j in scheme.joints if same(j.a[1], j.b[1], 0.5)]
    return stops_of(across), stops_of(up)


def outline_places(region: Region) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the places along u and v of an outline's corners."""
    return (
        stops_of(p[0] for p in region.outer),
        stops_of(p[1] for p in region.outer),
    )
