"""Display lists made ready for QPainter: lines in batches, dots as pixmap fragments.

Shapes are made first, in any thread; colours, pens and lettering are given to them in the
window's own, which is soon done.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import cast

import numpy as np
import shiboken6
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPolygonF,
    QStaticText,
    QTransform,
)

from roomboard.app.canvas.viewport import PAPER_MM, Viewport
from roomboard.app.lettering import font_of
from roomboard.app.palette import Inks
from roomboard.core.plane import Point
from roomboard.drawing.displaylist import Across, Dots, Fill, Mark, Stroke, Symbol, Text, Up
from roomboard.drawing.layers import HATCHES, LAYERS
from roomboard.drawing.lettering import text_width, type_size
from roomboard.drawing.view import View

FAINT = 110
"""How much of a hatch shows, of 255: what lies under it stays readable."""
LEAST_TYPE = 4.0
"""Lettering smaller than this many pixels is left out."""


def mixed(a: str, b: str, share: float) -> QColor:
    """Return a colour between two: ``share`` of the second."""
    p, q = QColor(a), QColor(b)
    return QColor(
        round(p.red() + (q.red() - p.red()) * share),
        round(p.green() + (q.green() - p.green()) * share),
        round(p.blue() + (q.blue() - p.blue()) * share),
    )


def pen_for(layer: str, inks: Inks) -> QPen:
    """Return the pen of a layer on the screen: its width and line type as on paper."""
    pen = LAYERS[layer].pen
    width = max(1.0, pen.width * PAPER_MM)
    made = QPen(QColor(inks.of(layer)), width)
    made.setCosmetic(True)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    if pen.dashes:
        # Dashes of paper are long; on the screen they are drawn at two thirds of that.
        made.setDashPattern([max(1.0, d * PAPER_MM * 0.66 / width) for d in pen.dashes])
    return made


_TILES: dict[tuple[str, int, int], QPixmap] = {}
RIGHT_ANGLE = 90.0


@dataclass(slots=True)
class Area:
    """A filled area: a path, or an upright rectangle, which is painted faster."""

    path: QPainterPath | QRectF
    brush: QBrush
    hatched: bool = False


@dataclass(slots=True)
class Lines:
    """Straight lines of one pen."""

    pen: QPen
    lines: list[QLineF]


@dataclass(slots=True)
class Letters:
    """One line of lettering; set when it is first seen."""

    at: Point
    text: str
    font: QFont
    size: float
    shift: QPointF
    angle: float
    colour: QColor
    static: QStaticText | None = None


@dataclass(slots=True)
class Spots:
    """Many equal signs: centres as an array of shape (N, 2), mm."""

    at: NDArray[np.float64]
    pixels: float
    symbol: Symbol
    colour: QColor


Op = Area | Lines | Letters | Spots


@dataclass(slots=True)
class Batch:
    """Lines of one layer that follow each other."""

    layer: str
    lines: list[QLineF]


@dataclass(slots=True)
class Shape:
    """A fill and its shape."""

    fill: Fill
    path: QPainterPath | QRectF


@dataclass(slots=True)
class Places:
    """Equal signs and their centres, an array of shape (N, 2), mm."""

    dots: Dots
    at: NDArray[np.float64]


Part = Batch | Shape | Places | Text
"""A mark, or several, with all that does not depend on colours."""


def _path(fill: Fill) -> QPainterPath | QRectF:
    if len(fill.rings) == 1 and len(fill.rings[0]) == 4:
        (a, b, c, d) = fill.rings[0]
        if (a[1] == b[1] and b[0] == c[0] and c[1] == d[1] and d[0] == a[0]) or (
            a[0] == b[0] and b[1] == c[1] and c[0] == d[0] and d[1] == a[1]
        ):
            return QRectF(QPointF(*a), QPointF(*c)).normalized()
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in fill.rings:
        path.addPolygon(QPolygonF([QPointF(x, y) for x, y in ring]))
        path.closeSubpath()
    return path


def _brush(fill: Fill, inks: Inks) -> QBrush:
    if fill.hatch:
        return QBrush(_hatched(fill.hatch, QColor(inks.of(fill.layer))))
    return QBrush(mixed(inks.ink, inks.paper, 1.0 if fill.tone is None else fill.tone))


def _hatched(name: str, colour: QColor) -> QPixmap:
    """Return a tile of a hatch: its lines as far apart as on paper, faint."""
    hatch = HATCHES[name]
    side = max(4, round(hatch.spacing * PAPER_MM * math.sqrt(2)))
    key = (name, side, colour.rgba())
    found = _TILES.get(key)
    if found is not None:
        return found
    tile = QPixmap(side, side)
    tile.fill(Qt.GlobalColor.transparent)
    colour.setAlpha(FAINT)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, 1.0))
    for angle in hatch.angles_deg:
        # A line across the tile and its neighbours' ends in two corners.
        for shift in (-side, 0, side):
            if angle < RIGHT_ANGLE:
                painter.drawLine(QLineF(shift, side, shift + side, 0))
            else:
                painter.drawLine(QLineF(shift, 0, shift + side, side))
    painter.end()
    _TILES[key] = tile
    return tile


def _letters(
    mark: Text, inks: Inks, fonts: dict[tuple[float, bool], tuple[QFont, float]]
) -> Letters:
    across, up = mark.anchor
    width = text_width(mark.text, mark.paper_height, bold=mark.bold) * PAPER_MM
    cap = mark.paper_height * PAPER_MM
    dx = {Across.LEFT: 0.0, Across.CENTRE: -width / 2, Across.RIGHT: -width}[across]
    dy = {Up.BASE: 0.0, Up.MIDDLE: cap / 2, Up.TOP: cap}[up]
    size = type_size(mark.paper_height) * PAPER_MM
    key = (size, mark.bold)
    if key not in fonts:
        made = font_of(size, bold=mark.bold)
        fonts[key] = made, QFontMetricsF(made).ascent()
    # Static text hangs from its top: its line lies one ascent lower.
    font, rise = fonts[key]
    return Letters(
        at=mark.at,
        text=mark.text,
        font=font,
        size=size,
        shift=QPointF(dx, dy - rise),
        angle=-mark.angle_deg,
        colour=QColor(inks.of(mark.layer)),
    )


def shaped(marks: Iterable[Mark]) -> list[Part]:
    """Return a display list with its shapes made, in the same order; in any thread.

    Lines of one layer that follow each other become one batch.

    Args:
        marks: The display list, mm of the view.
    """
    parts: list[Part] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            points = mark.points + (mark.points[:1] if mark.closed else ())
            lines = [QLineF(a[0], a[1], b[0], b[1]) for a, b in pairwise(points)]
            last = parts[-1] if parts else None
            if isinstance(last, Batch) and last.layer == mark.layer:
                last.lines.extend(lines)
            else:
                parts.append(Batch(mark.layer, lines))
        elif isinstance(mark, Fill):
            if mark.hatch or mark.tone is not None:
                parts.append(Shape(mark, _path(mark)))
        elif isinstance(mark, Text):
            parts.append(mark)
        elif isinstance(mark, Dots):
            at = np.array(mark.points, dtype=np.float64).reshape(-1, 2)
            parts.append(Places(mark, at))
    return parts


def shaped_view(view: View) -> list[Part]:
    """Return a view with its shapes made; its panes lie on the desk like paper."""
    sheets = [
        Fill(rings=(pane.outline,), layer="sheet", tone=1.0)
        for pane in view.panes
        if len(pane.outline) > 2
    ]
    return shaped((*sheets, *view.marks))


def inked(parts: Iterable[Part], inks: Inks) -> list[Op]:
    """Return what QPainter is to draw, in the same order; in the thread of the window.

    Args:
        parts: A display list with its shapes made.
        inks: Colours.
    """
    ops: list[Op] = []
    pens: dict[str, QPen] = {}
    fonts: dict[tuple[float, bool], tuple[QFont, float]] = {}
    for part in parts:
        if isinstance(part, Batch):
            if part.layer not in pens:
                pens[part.layer] = pen_for(part.layer, inks)
            ops.append(Lines(pens[part.layer], part.lines))
        elif isinstance(part, Shape):
            ops.append(Area(part.path, _brush(part.fill, inks), hatched=bool(part.fill.hatch)))
        elif isinstance(part, Text):
            ops.append(_letters(part, inks, fonts))
        else:
            pixels = max(2.0, part.dots.paper_size * PAPER_MM)
            colour = QColor(inks.of(part.dots.layer))
            ops.append(Spots(part.at, pixels, part.dots.symbol, colour))
    return ops


def prepared(marks: Iterable[Mark], inks: Inks) -> list[Op]:
    """Return what QPainter is to draw for a display list, mm of the view, in the same order."""
    return inked(shaped(marks), inks)


_SIGNS: dict[tuple[Symbol, int, int], QPixmap] = {}


def _sign(symbol: Symbol, size: float, colour: QColor) -> QPixmap:
    """Return the pixmap of a sign, made once for each size and colour."""
    whole = math.ceil(size) + 2
    key = (symbol, round(size * 8), colour.rgba())
    found = _SIGNS.get(key)
    if found is not None:
        return found
    pixmap = QPixmap(whole, whole)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    middle, half = whole / 2, size / 2
    if symbol is Symbol.DISC:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawEllipse(QPointF(middle, middle), half, half)
    else:
        painter.setPen(QPen(colour, max(1.0, size / 6)))
        if symbol is Symbol.RING:
            painter.drawEllipse(QPointF(middle, middle), half - 0.5, half - 0.5)
        else:
            painter.drawLine(QLineF(middle - half, middle, middle + half, middle))
            painter.drawLine(QLineF(middle, middle - half, middle, middle + half))
    painter.end()
    _SIGNS[key] = pixmap
    return pixmap


def _paint_spots(painter: QPainter, spots: Spots, port: Viewport, dpr: float) -> None:
    """Draw all signs of a kind that lie in the window with one call.

    Positions are in pixels of the device, so that round dots stay round on dense screens.
    """
    margin = spots.pixels / port.zoom
    half_w, half_h = port.width / 2 / port.zoom + margin, port.height / 2 / port.zoom + margin
    at = spots.at
    seen = at[(np.abs(at[:, 0] - port.x) <= half_w) & (np.abs(at[:, 1] - port.y) <= half_h)]
    if not len(seen):
        return
    pixmap = _sign(spots.symbol, spots.pixels * dpr, spots.colour)
    side = float(pixmap.width())
    fragments = np.empty((len(seen), 10), dtype=np.float64)
    fragments[:, 0] = ((seen[:, 0] - port.x) * port.zoom + port.width / 2) * dpr
    fragments[:, 1] = (port.height / 2 - (seen[:, 1] - port.y) * port.zoom) * dpr
    fragments[:, 2:4] = 0.0
    fragments[:, 4:6] = side
    fragments[:, 6:8] = 1.0
    fragments[:, 8] = 0.0
    fragments[:, 9] = 1.0
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.resetTransform()
    painter.scale(1 / dpr, 1 / dpr)
    first = cast(
        "QPainter.PixmapFragment",
        shiboken6.wrapInstance(fragments.ctypes.data, QPainter.PixmapFragment),
    )
    painter.drawPixmapFragments(first, len(seen), pixmap)
    painter.restore()


def paint(painter: QPainter, ops: Iterable[Op], port: Viewport, dpr: float = 1.0) -> None:
    """Draw what was prepared.

    Args:
        painter: Open on the window; left as it was.
        ops: What to draw.
        port: Where the view lies.
        dpr: Pixels of the device to one of the window.
    """
    window = QRectF(0, 0, port.width, port.height).adjusted(-200, -200, 200, 200)
    painter.save()
    plain = painter.worldTransform()
    world = port.transform * plain
    lies_in_world = False
    font: QFont | None = None
    for op in ops:
        if isinstance(op, Lines | Area) is not lies_in_world:
            lies_in_world = not lies_in_world
            painter.setWorldTransform(world if lies_in_world else plain)
        if isinstance(op, Lines):
            painter.setPen(op.pen)
            painter.drawLines(op.lines)
        elif isinstance(op, Area):
            if op.hatched:
                # Hatches keep their pitch on the screen however near the drawing is.
                painter.setWorldTransform(plain)
                painter.fillPath(port.transform.map(_as_path(op.path)), op.brush)
                painter.setWorldTransform(world)
            elif isinstance(op.path, QRectF):
                painter.fillRect(op.path, op.brush)
            else:
                painter.fillPath(op.path, op.brush)
        elif isinstance(op, Letters):
            if op.size >= LEAST_TYPE:
                if op.font is not font:
                    font = op.font
                    painter.setFont(font)
                _paint_letters(painter, op, port, window)
        else:
            _paint_spots(painter, op, port, dpr)
    painter.restore()


def _as_path(area: QPainterPath | QRectF) -> QPainterPath:
    if isinstance(area, QPainterPath):
        return area
    path = QPainterPath()
    path.addRect(area)
    return path


def _paint_letters(painter: QPainter, op: Letters, port: Viewport, window: QRectF) -> None:
    at = port.to_screen(op.at)
    if not window.contains(at):
        return
    if op.static is None:
        op.static = QStaticText(op.text)
        op.static.setTextFormat(Qt.TextFormat.PlainText)
        op.static.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
        op.static.prepare(QTransform(), op.font)
    painter.setPen(op.colour)
    if not op.angle:
        painter.drawStaticText(at + op.shift, op.static)
        return
    before = painter.worldTransform()
    painter.translate(at)
    painter.rotate(op.angle)
    painter.drawStaticText(op.shift, op.static)
    painter.setWorldTransform(before)
