"""What is drawn, as data: strokes, fills, lettering and dots, and nothing else.

Drawings of a surface are in mm of the surface, pages in mm of paper; y runs up in both. Pens,
lettering and symbols are always sized in mm of paper, so a drawing is made for a scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from roomboard.core.plane import Point, Ring
from roomboard.drawing.lettering import below, cap_height, text_width


class Across(StrEnum):
    """Which part of a line of lettering stands at its place, along the line."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


class Up(StrEnum):
    """Which part of a line of lettering stands at its place, up the capitals."""

    BASE = "base"
    MIDDLE = "middle"
    TOP = "top"


Anchor = tuple[Across, Up]
"""Which point of a line of lettering stands at its place."""
CENTRED: Anchor = (Across.CENTRE, Up.MIDDLE)
BASE_LEFT: Anchor = (Across.LEFT, Up.BASE)
BASE_RIGHT: Anchor = (Across.RIGHT, Up.BASE)
Box = tuple[float, float, float, float]
"""``(x0, y0, x1, y1)`` of an upright box."""


class Symbol(StrEnum):
    """What a dot stands for, by its form (never by colour)."""

    DISC = "disc"
    RING = "ring"
    CROSS = "cross"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points.

    Attributes:
        points: In order.
        layer: Name of its layer, which gives its pen.
        ref: What it stands for: piece id, trimmer tag, ...; or empty.
        closed: Whether the last point is joined to the first.
    """

    points: tuple[Point, ...]
    layer: str
    ref: str = ""
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """A filled area.

    Attributes:
        rings: Outer rings and holes; what is inside an odd number of them is filled.
        layer: Name of its layer.
        ref: What it stands for, or empty.
        tone: Grey from 0 (black) to 1 (white), covering what lies under it; None for no tone.
        hatch: Name of a hatch, or empty.
    """

    rings: tuple[Ring, ...]
    layer: str
    ref: str = ""
    tone: float | None = None
    hatch: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of lettering.

    Attributes:
        at: Its place.
        text: What it says.
        paper_height: Height of its capitals, mm on paper.
        anchor: Which point of it stands at its place.
        angle_deg: Turned counter-clockwise by this much.
        layer: Name of its layer.
        ref: What it stands for, or empty.
        bold: Whether it is in the bold face.
    """

    at: Point
    text: str
    paper_height: float
    anchor: Anchor = BASE_LEFT
    angle_deg: float = 0.0
    layer: str = "lettering"
    ref: str = ""
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dots:
    """Many equal signs.

    Attributes:
        points: Their centres.
        symbol: Their form.
        paper_size: Their diameter, mm on paper.
        layer: Name of their layer.
        ref: What they stand for, or empty.
    """

    points: tuple[Point, ...]
    symbol: Symbol
    paper_size: float
    layer: str
    ref: str = ""


Mark = Stroke | Fill | Text | Dots
DisplayList = tuple[Mark, ...]
"""Marks in the order they are laid down: what comes later lies on top."""


def text_corners(mark: Text, scale: float = 1.0) -> Ring:
    """Return the four corners of the box a line of lettering takes up, tails included.

    Args:
        mark: The lettering.
        scale: How many mm of the drawing one mm of paper is.
    """
    width = text_width(mark.text, mark.paper_height, bold=mark.bold) * scale
    cap = mark.paper_height * scale
    across, up = mark.anchor
    left = 0.0 if across is Across.LEFT else -width / 2 if across is Across.CENTRE else -width
    base = 0.0 if up is Up.BASE else -cap / 2 if up is Up.MIDDLE else -cap
    right = left + width
    low = base - below(mark.paper_height) * scale
    high = base + cap_height(mark.paper_height) * scale
    x, y = mark.at
    if not mark.angle_deg:
        x0, y0, x1, y1 = x + left, y + low, x + right, y + high
        return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    cos, sin = math.cos(math.radians(mark.angle_deg)), math.sin(math.radians(mark.angle_deg))
    return tuple(
        (x + a * cos - b * sin, y + a * sin + b * cos)
        for a, b in ((left, low), (right, low), (right, high), (left, high))
    )


def box_of(points: Iterable[Point]) -> Box:
    """Return the upright box round points.

    Raises:
        ValueError: If there are none.
    """
    found = list(points)
    xs, ys = [p[0] for p in found], [p[1] for p in found]
    return (min(xs), min(ys), max(xs), max(ys))


def text_box(mark: Text, scale: float = 1.0) -> Box:
    """Return the upright box round a line of lettering."""
    return box_of(text_corners(mark, scale))


def points_of(mark: Mark, scale: float = 1.0) -> tuple[Point, ...]:
    """Return the points that bound a mark (pens not counted)."""
    if isinstance(mark, Text):
        return text_corners(mark, scale)
    if isinstance(mark, Fill):
        return tuple(p for ring in mark.rings for p in ring)
    if isinstance(mark, Dots):
        half = mark.paper_size * scale / 2
        return tuple(
            (x + dx, y + dy) for x, y in mark.points for dx, dy in ((-half, -half), (half, half))
        )
    return mark.points


def bounds(marks: Iterable[Mark], scale: float = 1.0) -> Box:
    """Return the upright box round a drawing.

    Args:
        marks: The drawing, mm.
        scale: How many mm of the drawing one mm of paper is.

    Raises:
        ValueError: If there is nothing in it.
    """
    return box_of(p for mark in marks for p in points_of(mark, scale))


def placed(marks: Iterable[Mark], scale: float, dx: float, dy: float) -> DisplayList:
    """Return a drawing on paper.

    Args:
        marks: The drawing, mm.
        scale: How many mm of the drawing one mm of paper is.
        dx: Where the drawing's zero comes to lie on the paper, mm.
        dy: The same, upwards.
    """

    def moved(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((x / scale + dx, y / scale + dy) for x, y in points)

    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Fill):
            found.append(replace(mark, rings=tuple(moved(r) for r in mark.rings)))
        elif isinstance(mark, Text):
            found.append(replace(mark, at=moved((mark.at,))[0]))
        else:
            found.append(replace(mark, points=moved(mark.points)))
    return tuple(found)


def overlap(a: Box, b: Box, least: float = 0.0) -> bool:
    """Tell whether two boxes share more than ``least`` in both directions."""
    return min(a[2], b[2]) - max(a[0], b[0]) > least and min(a[3], b[3]) - max(a[1], b[1]) > least


def canonical(marks: Iterable[Mark]) -> str:
    """Return a drawing as sorted lines of text to a tenth of a mm, for comparing by eye."""
    return "\n".join(sorted(_line(mark) for mark in marks)) + "\n"


def _line(mark: Mark) -> str:
    def point(p: Point) -> str:
        return f"{round(p[0], 1) + 0.0:.1f},{round(p[1], 1) + 0.0:.1f}"

    def run(points: Iterable[Point]) -> str:
        return " ".join(point(p) for p in points)

    tail = f" [{mark.ref}]" if mark.ref else ""
    if isinstance(mark, Stroke):
        kind = "ring" if mark.closed else "line"
        return f"{mark.layer} {kind} {run(mark.points)}{tail}"
    if isinstance(mark, Fill):
        how = mark.hatch or (f"tone {mark.tone:.2f}" if mark.tone is not None else "nothing")
        return f"{mark.layer} fill {how} {' / '.join(run(r) for r in mark.rings)}{tail}"
    if isinstance(mark, Text):
        across, up = mark.anchor
        weight = " bold" if mark.bold else ""
        return (
            f"{mark.layer} text {mark.text!r} {point(mark.at)} {mark.paper_height:.1f} "
            f"{across.value}-{up.value} {mark.angle_deg:.1f}{weight}{tail}"
        )
    return f"{mark.layer} {mark.symbol.value} {mark.paper_size:.1f} {run(mark.points)}{tail}"
