"""Drawings as SVG: strokes, dashes, hatches and tones as they are printed, lettering as text.

A page is in mm of paper; a view is in mm of the room and prints at its scale. The upper left
corner is zero and y runs down, as SVG has it. The same drawing always gives the same bytes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from xml.sax.saxutils import escape, quoteattr

from roomboard.core.plane import Point
from roomboard.drawing.displaylist import Across, Dots, Fill, Mark, Stroke, Symbol, Text, Up
from roomboard.drawing.hatching import hatch_lines
from roomboard.drawing.layers import HATCHES, Pen, pen_of
from roomboard.drawing.lettering import type_size
from roomboard.export.picture import Picture

FONT = "'DejaVu Sans', sans-serif"
"""The bundled font by its family name; another stands in where it is not installed."""
ANCHORS = {Across.LEFT: "start", Across.CENTRE: "middle", Across.RIGHT: "end"}
LOWERED = {Up.BASE: 0.0, Up.MIDDLE: 0.5, Up.TOP: 1.0}
"""How far the foot of the capitals lies under the place of a line of lettering, in their height."""


def svg_bytes(picture: Picture) -> bytes:
    """Return a drawing as the bytes of an SVG file (UTF-8).

    Args:
        picture: The drawing.
    """
    wide, high = (_number(side) for side in (picture.width, picture.height))
    paper_wide = _number(picture.width / picture.scale)
    paper_high = _number(picture.height / picture.scale)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{paper_wide}mm" '
        f'height="{paper_high}mm" viewBox="0 0 {wide} {high}" font-family="{FONT}" '
        f'stroke-linejoin="round" fill="none">'
    )
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        head,
        f"<title>{_legal(picture.title)}</title>",
        f"<desc>Made with {_legal(picture.creator)}</desc>",
        f'<rect width="{wide}" height="{high}" fill="#fff"/>',
        *_Writer(picture).lines(),
        "</svg>",
    ]
    return ("\n".join(lines) + "\n").encode()


def _number(value: float) -> str:
    """Write a number to a thousandth, without needless zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _plain(text: str) -> str:
    """Return text without the characters that XML cannot hold."""
    return "".join(c if c == "\t" or _fits_xml(c) else "\N{REPLACEMENT CHARACTER}" for c in text)


def _fits_xml(char: str) -> bool:
    code = ord(char)
    return 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or code >= 0x10000


def _legal(text: str) -> str:
    return escape(_plain(text))


def _grey(tone: float) -> str:
    level = round(255 * min(max(tone, 0.0), 1.0))
    return f"#{level:02x}{level:02x}{level:02x}"


class _Writer:
    """Writes the marks of one drawing."""

    def __init__(self, picture: Picture) -> None:
        self.marks = picture.marks
        self.scale = picture.scale
        self.left, self.top = picture.box[0], picture.box[3]

    def lines(self) -> Iterator[str]:
        """Return an element a line, neighbours that are drawn alike in one group."""
        before = ""
        for mark in self.marks:
            for group, element in self.elements(mark):
                if group != before:
                    if before:
                        yield "</g>"
                    yield group
                    before = group
                yield element
        if before:
            yield "</g>"

    def elements(self, mark: Mark) -> Iterator[tuple[str, str]]:
        """Return the opening tag of its group and the element, for all that a mark is made of."""
        if isinstance(mark, Stroke):
            data = self.path(mark.points, closed=mark.closed)
            yield self.pen(mark.layer, pen_of(mark.layer)), f'<path{_ref(mark)} d="{data}"/>'
        elif isinstance(mark, Text):
            yield self.lettering(mark)
        elif isinstance(mark, Fill):
            yield from self.fill(mark)
        else:
            yield from self.dots(mark)

    # --- places ---------------------------------------------------------------------------

    def x(self, value: float) -> str:
        return _number(value - self.left)

    def y(self, value: float) -> str:
        return _number(self.top - value)

    def mm(self, paper: float) -> str:
        return _number(paper * self.scale)

    def path(self, points: Iterable[Point], *, closed: bool) -> str:
        corners = " L".join(f"{self.x(px)} {self.y(py)}" for px, py in points)
        return f"M{corners}" + (" Z" if closed else "")

    # --- groups ---------------------------------------------------------------------------

    def pen(self, layer: str, pen: Pen) -> str:
        # Short marks of a dashed line are dots: round ends keep them visible.
        dotted = any(d <= pen.width for d in pen.dashes)
        cap = "round" if dotted or not pen.dashes else "butt"
        dashes = " ".join(self.mm(d) for d in pen.dashes)
        tail = f' stroke-dasharray="{dashes}"' if dashes else ""
        return (
            f'<g class="{layer}" stroke="#000" stroke-width="{self.mm(pen.width)}" '
            f'stroke-linecap="{cap}"{tail}>'
        )

    def lettering(self, mark: Text) -> tuple[str, str]:
        across, up = mark.anchor
        weight = "bold" if mark.bold else "normal"
        size = self.mm(type_size(mark.paper_height))
        group = f'<g class="{mark.layer}" fill="#000" font-size="{size}" font-weight="{weight}">'
        # The foot of the capitals is worked out here: viewers differ in how they lower a line.
        low = LOWERED[up] * mark.paper_height * self.scale
        turn = math.radians(mark.angle_deg)
        x = self.x(mark.at[0] + low * math.sin(turn))
        y = self.y(mark.at[1] - low * math.cos(turn))
        place = f'x="{x}" y="{y}"'
        if mark.angle_deg:
            place += f' transform="rotate({_number(-mark.angle_deg)} {x} {y})"'
        anchor = "" if across is Across.LEFT else f' text-anchor="{ANCHORS[across]}"'
        return group, (
            f'<text{_ref(mark)} {place}{anchor} xml:space="preserve">{_legal(mark.text)}</text>'
        )

    def fill(self, mark: Fill) -> Iterator[tuple[str, str]]:
        if mark.tone is not None:
            data = " ".join(self.path(ring, closed=True) for ring in mark.rings)
            group = f'<g class="{mark.layer}" fill="{_grey(mark.tone)}" fill-rule="evenodd">'
            yield group, f'<path{_ref(mark)} d="{data}"/>'
        if mark.hatch:
            hatch = HATCHES[mark.hatch]
            lines = hatch_lines(mark.rings, hatch, self.scale)
            if lines:
                data = " ".join(self.path(line, closed=False) for line in lines)
                group = (
                    f'<g class="{mark.layer} hatch" stroke="#000" '
                    f'stroke-width="{self.mm(hatch.width)}">'
                )
                yield group, f'<path{_ref(mark)} d="{data}"/>'

    def dots(self, mark: Dots) -> Iterator[tuple[str, str]]:
        width = pen_of(mark.layer).width
        radius = mark.paper_size / 2
        if mark.symbol is Symbol.CROSS:
            group = f'<g class="{mark.layer} cross" stroke="#000" stroke-width="{self.mm(width)}">'
            half = radius * self.scale
            for px, py in mark.points:
                arms: Sequence[Sequence[Point]] = (
                    ((px - half, py - half), (px + half, py + half)),
                    ((px - half, py + half), (px + half, py - half)),
                )
                data = " ".join(self.path(arm, closed=False) for arm in arms)
                yield group, f'<path{_ref(mark)} d="{data}"/>'
            return
        if mark.symbol is Symbol.RING:
            radius -= width / 2
            group = (
                f'<g class="{mark.layer} ring" stroke="#000" '
                f'stroke-width="{self.mm(width)}" fill="#fff">'
            )
        else:
            group = f'<g class="{mark.layer} disc" fill="#000">'
        for px, py in mark.points:
            place = f'cx="{self.x(px)}" cy="{self.y(py)}" r="{self.mm(radius)}"'
            yield group, f"<circle{_ref(mark)} {place}/>"


def _ref(mark: Mark) -> str:
    """Return the attribute that says what a mark stands for, or nothing."""
    return f" data-ref={quoteattr(_plain(mark.ref))}" if mark.ref else ""
