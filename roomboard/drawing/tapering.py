"""Tapered pieces and start lines in words and on drawings: a size for each end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.plane import distance
from roomboard.core.start_lines import StartLine, start_lines
from roomboard.core.units import on_tape
from roomboard.drawing.lettering import SMALLEST, text_width
from roomboard.drawing.sketch import QUARTER, Sketch, off_first, plain

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Point, Region
    from roomboard.core.project import Units
    from roomboard.core.sheeting import Piece
    from roomboard.core.tapers import Taper

INSIDE = 2.6
"""The size of an end stands this far inside it, mm on paper."""
SHARES = (0.5, 0.35, 0.65, 0.25, 0.75)
"""Where along an end its size may stand."""
REACH = 5.0
"""A start line is drawn this far past its ends, mm on paper."""
OUT = (4.3, 7.5, 11.0, 14.5, 18.0, 22.0)
"""Where the words of a start line may stand past its end, mm on paper."""


def size_words(size: float, found: Sequence[Taper], of: str, units: Units) -> str:
    """Return a length or width of a piece, with both its ends where it tapers.

    Args:
        size: Of its blank, mm.
        found: How it tapers.
        of: ``"width"`` or ``"length"``.
        units: How lengths are written.
    """
    for taper in found:
        if taper.of == of:
            return f"{on_tape(taper.first, units)} / {on_tape(taper.second, units)}"
    return on_tape(size, units)


def taper_in_words(taper: Taper, units: Units) -> str:
    """Return a taper as it is cut, e.g. ``width 1183 at the left, 1171 at the right``."""
    one, two = taper.ends
    first, second = on_tape(taper.first, units), on_tape(taper.second, units)
    return f"{taper.of} {first} at the {one}, {second} at the {two}"


def write_end_sizes(
    sketch: Sketch, piece: Piece, found: Sequence[Taper], units: Units, *, face_up: bool
) -> None:
    """Write beside each end of a tapered piece what it measures there.

    Args:
        sketch: The drawing.
        piece: The piece.
        found: How it tapers.
        units: How lengths are written.
        face_up: Whether the piece is drawn face up in its own frame, or on its surface.
    """
    s0, t0, s1, t1 = piece.blank

    def at(x: float, y: float) -> Point:
        if face_up:
            return (x, y)
        return piece.frame.to_uv((s1 - x if piece.face_up_mirrored else s0 + x, t0 + y))

    long, wide, aside = s1 - s0, t1 - t0, sketch.mm(INSIDE)
    region = piece.face_up if face_up else piece.region
    level = sketch.angle_of(at(0.0, 0.0), at(long, 0.0))
    upright = QUARTER if abs(level) < QUARTER / 2 else 0.0
    for taper in found:
        for end, size in enumerate((taper.first, taper.second)):
            if taper.of == "width":
                x = (aside, long - aside)[end]
                spots, angle = [at(x, wide * share) for share in SHARES], upright
            else:
                y = (aside, wide - aside)[end]
                spots, angle = [at(long * share, y) for share in SHARES], level
            words = plain(on_tape(size, units))
            sketch.label((words,), spots, ref=piece.id, within=region, angles=(angle,))


# --- start lines ------------------------------------------------------------------------


def draw_start_lines(sketch: Sketch, scheme: SurfaceScheme, units: Units) -> None:
    """Draw where first courses' inner edges are snapped, with the offset at both ends."""
    for line in start_lines(scheme.surface, scheme.set_out):
        middle = ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2)
        if scheme.surface.outline.distance_to_edge(middle) > 1.0:  # not where a wall is
            _draw(sketch, line, units, scheme.surface.outline)


def _draw(sketch: Sketch, line: StartLine, units: Units, outline: Region) -> None:
    a, b = line.a, line.b
    length = distance(a, b)
    if not length:
        return
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    reach = sketch.mm(REACH)
    sketch.stroke(((a[0] - dx * reach, a[1] - dy * reach), a), "start", "start")
    sketch.stroke((b, (b[0] + dx * reach, b[1] + dy * reach)), "start", "start")
    sketch.arrow(a, (dx, dy), "start", "start")
    sketch.arrow(b, (-dx, -dy), "start", "start")
    # Lettering stands across the line's end and beside it, so that it takes little room.
    angle = QUARTER if abs(sketch.angle_of(a, b)) < QUARTER / 2 else 0.0
    for (x, y), sign, offset in ((a, -1.0, line.offset_a), (b, 1.0, line.offset_b)):
        words = f"start {on_tape(offset, units)}"
        beside = sketch.mm(text_width(words, SMALLEST) / 2 + 1.5)
        spots = [
            (
                x + sign * dx * sketch.mm(out) - dy * aside,
                y + sign * dy * sketch.mm(out) + dx * aside,
            )
            for out in OUT
            for aside in ((beside, -beside) if out < REACH else (0.0,))
        ]
        # Where a side slopes, the lettering beside it may come to stand across it.
        half = (beside, sketch.mm(SMALLEST))
        clear = off_first(outline, spots, half if not angle else half[::-1])
        sketch.label((plain(words),), clear, ref="start", angles=(angle,), mask=False)


def write_start_inside(sketch: Sketch, scheme: SurfaceScheme, units: Units) -> None:
    """Write a start line's offsets inside the face, where another face lies past its ends."""
    for line in start_lines(scheme.surface, scheme.set_out):
        middle = ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2)
        length = distance(line.a, line.b)
        if not length or scheme.surface.outline.distance_to_edge(middle) <= 1.0:
            continue
        dx, dy = (line.b[0] - line.a[0]) / length, (line.b[1] - line.a[1]) / length
        angle = sketch.angle_of(line.a, line.b)
        ends = ((line.at_a, 1.0, line.offset_a), (line.at_b, -1.0, line.offset_b))
        for (x, y), sign, offset in ends:
            words = f"start {on_tape(offset, units)}"
            inward = sketch.mm(text_width(words, SMALLEST) / 2 + 2.0) * sign
            spots = [
                (x + dx * inward - dy * sketch.mm(up), y + dy * inward + dx * sketch.mm(up))
                for up in (2.0, -2.0, 4.5, -4.5)
            ]
            sketch.arrow((x, y), (dx * sign, dy * sign), "start", "start")
            sketch.label((plain(words),), spots, ref="start", angles=(angle,))


def start_in_words(
    scheme: SurfaceScheme, names: Mapping[str, str], units: Units
) -> tuple[str, ...]:
    """Return what to snap before a surface's first sheet goes up, a sentence for each line.

    Args:
        scheme: The surface.
        names: Names of surfaces by their ref, in words.
        units: How lengths are written.
    """
    surface = scheme.surface
    found: list[str] = []
    for line in start_lines(surface, scheme.set_out):
        middle = ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2)
        if surface.outline.distance_to_edge(middle) <= 1.0:
            continue
        from_ = names.get(line.wall, "the side the sheets start at")
        first, second = on_tape(line.offset_a, units), on_tape(line.offset_b, units)
        one, two = _ends_in_words(scheme, line, names)
        found.append(
            f"{surface.name}: snap the start line {first} from {from_}"
            + (" at both ends." if first == second else f" at {one} and {second} at {two}.")
        )
    return tuple(found)


def _ends_in_words(
    scheme: SurfaceScheme, line: StartLine, names: Mapping[str, str]
) -> tuple[str, str]:
    """Return what stands at the two ends of a start line, in words."""
    found: list[str] = []
    for point, other in ((line.at_a, "one end"), (line.at_b, "the other end")):
        near = [
            e
            for e in scheme.surface.edges
            if e.other in names and e.other != line.wall and _off(point, e.a, e.b) <= 1.0
        ]
        found.append(f"the end at {names[near[0].other]}" if near else other)
    return found[0], found[1]


def _off(point: Point, a: Point, b: Point) -> float:
    """Return how far a point stands off a side, mm."""
    length = distance(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    along = min(length, max(0.0, (point[0] - a[0]) * dx + (point[1] - a[1]) * dy))
    return distance(point, (a[0] + dx * along, a[1] + dy * along))
