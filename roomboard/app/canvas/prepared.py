"""Display lists made ready for QPainter: lines in batches, dots as pixmap fragments."""

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
    """One line of lettering."""

    at: Point
    text: QStaticText
    font: QFont
    size: float
    shift: QPointF
    angle: float
    colour: QColor


@dataclass(slots=True)
class Spots:
    """Many equal signs: centres as an array of shape (N, 2), mm."""

    at: NDArray[np.float64]
    pixels: float
    symbol: Symbol
    colour: QColor


Op = Area | Lines | Letters | Spots


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


def _brush(fill: Fill, inks: Inks) -> QBrush | None:
    if fill.hatch:
        return QBrush(_hatched(fill.hatch, QColor(inks.of(fill.layer))))
    if fill.tone is None:
        return None
    return QBrush(mixed(inks.ink, inks.paper, fill.tone))


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


def _letters(mark: Text, inks: Inks, fonts: dict[tuple[float, bool], QFont]) -> Letters:
    across, up = mark.anchor
    width = text_width(mark.text, mark.paper_height, bold=mark.bold) * PAPER_MM
    cap = mark.paper_height * PAPER_MM
    dx = {Across.LEFT: 0.0, Across.CENTRE: -width / 2, Across.RIGHT: -width}[across]
    dy = {Up.BASE: 0.0, Up.MIDDLE: cap / 2, Up.TOP: cap}[up]
    size = type_size(mark.paper_height) * PAPER_MM
    key = (size, mark.bold)
    if key not in fonts:
        fonts[key] = font_of(size, bold=mark.bold)
    font = fonts[key]
    text = QStaticText(mark.text)
    text.setTextFormat(Qt.TextFormat.PlainText)
    text.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
    text.prepare(QTransform(), font)
    # Static text hangs from its top: its line lies one ascent lower.
    rise = QFontMetricsF(font).ascent()
    return Letters(
        at=mark.at,
        text=text,
        font=font,
        size=size,
        shift=QPointF(dx, dy - rise),
        angle=-mark.angle_deg,
        colour=QColor(inks.of(mark.layer)),
    )


def prepared(marks: Iterable[Mark], inks: Inks) -> list[Op]:
    """Return what QPainter is to draw for a display list, in the same order.

    Lines of one layer that follow each other become one batch.

    Args:
        marks: The display list, mm of the view.
        inks: Colours.
    """
    ops: list[Op] = []
    pens: dict[str, QPen] = {}
    fonts: dict[tuple[float, bool], QFont] = {}
    last = ""
    for mark in marks:
        if isinstance(mark, Stroke):
            points = mark.points + (mark.points[:1] if mark.closed else ())
            lines = [QLineF(a[0], a[1], b[0], b[1]) for a, b in pairwise(points)]
            batch = ops[-1] if ops else None
            if isinstance(batch, Lines) and last == mark.layer:
                batch.lines.extend(lines)
            else:
                pen = pens.setdefault(mark.layer, pen_for(mark.layer, inks))
                ops.append(Lines(pen, lines))
                last = mark.layer
        elif isinstance(mark, Fill):
            brush = _brush(mark, inks)
            if brush is not None:
                ops.append(Area(_path(mark), brush, hatched=bool(mark.hatch)))
        elif isinstance(mark, Text):
            ops.append(_letters(mark, inks, fonts))
        elif isinstance(mark, Dots):
            ops.append(
                Spots(
                    np.array(mark.points, dtype=np.float64).reshape(-1, 2),
                    max(2.0, mark.paper_size * PAPER_MM),
                    mark.symbol,
                    QColor(inks.of(mark.layer)),
                )
            )
    return ops


def prepared_view(view: View, inks: Inks) -> list[Op]:
    """Return what QPainter is to draw for a view: its panes lie on the desk like paper."""
    paper = QBrush(QColor(inks.paper))
    sheets: list[Op] = [
        Area(_path(Fill(rings=(pane.outline,), layer="sheet")), paper)
        for pane in view.panes
        if len(pane.outline) > 2
    ]
    return sheets + prepared(view.marks, inks)


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
    painter.setPen(op.colour)
    if not op.angle:
        painter.drawStaticText(at + op.shift, op.text)
        return
    before = painter.worldTransform()
    painter.translate(at)
    painter.rotate(op.angle)
    painter.drawStaticText(op.shift, op.text)
    painter.setWorldTransform(before)
