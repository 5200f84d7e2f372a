"""Drawings too large for a page, in parts that meet at match lines, with a key plan on each."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from roomboard.core.plane import Point, Region, intersection, line_inside
from roomboard.core.project import Units
from roomboard.core.units import on_tape
from roomboard.drawing.displaylist import (
    CENTRED,
    Box,
    DisplayList,
    Fill,
    Mark,
    Stroke,
    Text,
    overlap,
    text_box,
)
from roomboard.drawing.lettering import SMALLEST, text_width
from roomboard.drawing.part_sketch import FAR, PartSketch
from roomboard.drawing.sketch import QUARTER, Side, plain, spots_on

SHEET = "###"
"""Stands in lettering for the number of the sheet another part is on, until that is known."""
DIGITS = "0123456789"
"""What the number of a sheet is written in; it ends the lettering."""
ON = "on:"
"""What the refs of such lettering begin with; the name of the other part follows."""
KEY_WIDE, KEY_HIGH = 40.0, 16.0
"""A key plan is usually no larger than this, mm on paper."""
KEY_WIDEST, KEY_STEP, KEY_GAP = 100.0, 1.1, 0.3
"""Where numbers would touch on a key plan it is made larger step by step, up to this, mm."""
HERE = 0.79
"""Grey of the part a key plan stands by: its number can still be read over it."""
LETTERS_OFF = 2.4
"""How far outside a match line its lettering stands, mm on paper."""
SWAY = 0.3
"""A match line may stand this share of a part away from where parts are of one size."""
CLEAR = 200.0
"""Two lines this far apart leave room enough for a match line between them, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of a surface that is drawn on several sheets.

    Attributes:
        number: From 1, row by row from the upper left.
        name: What it is called among all drawings of a set.
        window: What of the surface it shows, mm; sides that are no match lines lie far out.
        box: The same as far as the surface goes, mm.
        beside: The number of the part on each side where the surface goes on, with the name of
            the match line and how it lies.
    """

    number: int
    name: str
    window: Box
    box: Box
    beside: tuple[Match, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A side of a part where the surface goes on in another.

    Attributes:
        side: Which side.
        name: Name of the match line, the same on both sides of it.
        part: Number of the other part.
        at: Where the line lies, mm of the surface.
    """

    side: Side
    name: str
    part: int
    at: float


def parts_of(
    outline: Region,
    name: str,
    most: tuple[float, float],
    lines: tuple[Sequence[float], ...],
    grid: float,
) -> tuple[Part, ...]:
    """Cut a surface into parts no larger than a page holds.

    Args:
        outline: The surface, mm.
        name: What the drawing is called.
        most: How wide and how high a part may be, mm of the surface.
        lines: What stands upright and what level on the surface and should not be near a match
            line, mm: fasteners, joints, framing.
        grid: Match lines lie a whole number of these from the left and the foot, mm.
    """
    u0, v0, u1, v1 = outline.bounds
    across = _stops((u0, u1), most[0], lines[0], grid)
    up = _stops((v0, v1), most[1], lines[1], grid)
    cells: dict[tuple[int, int], Box] = {}
    for row in reversed(range(len(up) - 1)):
        for column in range(len(across) - 1):
            box = (across[column], up[row], across[column + 1], up[row + 1])
            if intersection(outline, Region.box(*box)):
                cells[row, column] = box
    numbers = {cell: number for number, cell in enumerate(cells, 1)}
    names = _match_names(across, up)
    return tuple(
        Part(
            number=number,
            name=f"{name}#{number}",
            window=_window(cells[cell], (u0, v0, u1, v1)),
            box=cells[cell],
            beside=tuple(_beside(cell, numbers, cells, names, outline)),
        )
        for cell, number in numbers.items()
    )


def _window(box: Box, whole: Box) -> Box:
    u0, v0, u1, v1 = (
        side + (out if abs(side - end) < 1e-6 else 0.0)
        for side, end, out in zip(box, whole, (-FAR, -FAR, FAR, FAR), strict=True)
    )
    return (u0, v0, u1, v1)


def _match_names(across: Sequence[float], up: Sequence[float]) -> dict[tuple[str, float], str]:
    """Name match lines: upright ones from the left, then level ones from above."""
    places = [("u", at) for at in across[1:-1]] + [("v", at) for at in reversed(up[1:-1])]
    return {place: f"M{number}" for number, place in enumerate(places, 1)}


def _beside(
    cell: tuple[int, int],
    numbers: dict[tuple[int, int], int],
    cells: dict[tuple[int, int], Box],
    names: dict[tuple[str, float], str],
    outline: Region,
) -> Iterable[Match]:
    row, column = cell
    u0, v0, u1, v1 = cells[cell]
    for side, other, place in (
        (Side.LEFT, (row, column - 1), ("u", u0)),
        (Side.RIGHT, (row, column + 1), ("u", u1)),
        (Side.BOTTOM, (row - 1, column), ("v", v0)),
        (Side.TOP, (row + 1, column), ("v", v1)),
    ):
        if other in numbers and _ends(outline, side, (u0, v0, u1, v1)):
            yield Match(side=side, name=names[place], part=numbers[other], at=place[1])


def _ends(outline: Region, side: Side, box: Box) -> tuple[Point, Point] | None:
    """Return where a side of a box lies on a surface, from its first point there to its last."""
    u0, v0, u1, v1 = box
    a, b = {
        Side.LEFT: ((u0, v0), (u0, v1)),
        Side.RIGHT: ((u1, v0), (u1, v1)),
        Side.BOTTOM: ((u0, v0), (u1, v0)),
        Side.TOP: ((u0, v1), (u1, v1)),
    }[side]
    stretches = line_inside(outline, a, b)
    if not stretches:
        return None
    return stretches[0][0], stretches[-1][1]


def _stops(
    span: tuple[float, float], most: float, lines: Sequence[float], grid: float
) -> list[float]:
    """Return where parts begin and end: about equal, match lines clear of what stands there."""
    low, high = span
    count = max(1, math.ceil((high - low) / most - 1e-9))
    own = (high - low) / count
    stops = [low]
    known = sorted({low, high, *(at for at in lines if low < at < high)})
    for number in range(1, count):
        target = low + own * number
        # No part may come to be larger than a page holds, this one and those that follow.
        least = max(target - own * SWAY, high - most * (count - number))
        last = min(stops[-1] + most, target + own * SWAY)
        places = [
            (min(b - a, CLEAR), -abs(middle - target), middle)
            for a, b in pairwise(known)
            if least <= (middle := low + round(((a + b) / 2 - low) / grid) * grid) <= last
            and a < middle < b
        ]
        stops.append(max(places)[2] if places else min(max(target, least), last))
    return [*stops, high]


def drawn_part(
    part: Part,
    outline: Region,
    draw: Callable[[PartSketch], DisplayList],
    sketch: PartSketch,
    units: Units,
) -> DisplayList:
    """Draw one part with its match lines.

    Args:
        part: The part.
        outline: The surface, mm.
        draw: Draws the surface on a sketch.
        sketch: Empty sketch of the part.
        units: How lengths are written.
    """
    for match in part.beside:
        _match_line(sketch, part, match, outline, units)
    return draw(sketch)


def _match_line(
    sketch: PartSketch, part: Part, match: Match, outline: Region, units: Units
) -> None:
    ends = _ends(outline, match.side, part.box)
    if ends is None:
        return
    a, b = ends
    ref = f"{ON}{part.name.rpartition('#')[0]}#{match.part}"
    reach = sketch.mm(2.0)
    long = (b[0] - a[0] + b[1] - a[1]) / sketch.scale + 2 * 2.0
    if match.side.level:
        p, q = (a[0] - reach, a[1]), (b[0] + reach, b[1])
        whence, angle = outline.bounds[1], 0.0
        measured = "from the foot"
    else:
        p, q = (a[0], a[1] - reach), (b[0], b[1] + reach)
        whence, angle = outline.bounds[0], QUARTER
        measured = "from the left"
    sketch.match(p, q, ref)
    at = f"{on_tape(match.at - whence, units, suffix=True)} {measured}"
    goes_on = f"on to part {match.part}, sheet {SHEET}"
    wordings = (
        f"Match line {match.name}, {at}: {goes_on}",
        f"{match.name}: {goes_on}",
        f"{match.name}: part {match.part}, sheet {SHEET}",
        f"{match.name}: {SHEET}",
    )
    fitting = [w for w in wordings if text_width(w, SMALLEST) <= long] or [wordings[-1]]
    off = sketch.mm(LETTERS_OFF) * match.side.outwards
    shift = (0.0, off) if match.side.level else (off, 0.0)
    spots = [(x + shift[0], y + shift[1]) for x, y in spots_on(a, b)]
    sketch.beside_window([plain(w) for w in fitting], spots, ref=ref, angle=angle)


def key_plan(part: Part, parts: Sequence[Part], outline: Region) -> DisplayList:
    """Draw the whole surface small, with the numbers of its parts and one of them shaded.

    Args:
        part: The part that is shaded.
        parts: All parts of the surface.
        outline: The surface, mm.

    Returns:
        The drawing, mm of paper, its lower left corner at zero.
    """
    u0, v0, u1, v1 = outline.bounds
    shrink = min(KEY_WIDE / (u1 - u0), KEY_HIGH / (v1 - v0))
    most = KEY_WIDEST / max(u1 - u0, v1 - v0)
    while True:
        marks = _small(part, parts, outline, shrink)
        boxes = [text_box(m) for m in marks if isinstance(m, Text)]
        apart = not any(overlap(a, b, -KEY_GAP) for a, b in combinations(boxes, 2))
        if apart or shrink >= most:
            return marks
        shrink *= KEY_STEP


def _small(part: Part, parts: Sequence[Part], outline: Region, shrink: float) -> DisplayList:
    """Draw a key plan so many times smaller than the surface."""
    u0, v0, _, _ = outline.bounds

    def put(point: Point) -> Point:
        return ((point[0] - u0) * shrink, (point[1] - v0) * shrink)

    marks: list[Mark] = []
    for other in parts:
        shown = intersection(outline, Region.box(*other.box))
        rings = tuple(tuple(put(p) for p in ring) for r in shown for ring in r.rings)
        if other is part:
            marks.append(Fill(rings=rings, layer="title_block", tone=HERE, ref=other.name))
        marks += [Stroke(points=ring, layer="title_block", closed=True) for ring in rings]
        largest = max(shown, key=lambda r: r.area_mm2).geometry.representative_point()
        marks.append(
            Text(
                at=put((largest.x, largest.y)),
                text=str(other.number),
                paper_height=SMALLEST,
                anchor=CENTRED,
                bold=other is part,
            )
        )
    return tuple(marks)


def with_sheets(marks: Iterable[Mark], sheets: dict[str, int]) -> DisplayList:
    """Return a drawing with the numbers of the sheets its match lines lead to.

    Args:
        marks: The drawing.
        sheets: The number of the sheet of each part, by the part's name.
    """
    return tuple(_with_sheet(m, sheets) if isinstance(m, Text) else m for m in marks)


def without_sheet(mark: Text) -> str:
    """Return what lettering says whatever number the sheet has that it leads to."""
    if not mark.ref.startswith(ON):
        return mark.text
    return f"{mark.text.rstrip(DIGITS).removesuffix(SHEET)}{SHEET}"


def _with_sheet(mark: Text, sheets: dict[str, int]) -> Text:
    number = sheets.get(mark.ref.removeprefix(ON)) if mark.ref.startswith(ON) else None
    if number is None or SHEET not in mark.text:
        return mark
    return replace(mark, text=mark.text.replace(SHEET, str(number)))
