"""Pages painted as they are printed: the same marks, pens, hatches and lettering, in true size.

The canvas of the desk keeps its lines a pixel wide at least and its dots as little pictures; a
page is painted in mm of paper instead, so that it looks the same on a screen, from a printer
and in the file.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPainter, QPainterPath, QPen, QPolygonF

from roomboard.app.lettering import font_of
from roomboard.drawing.displaylist import (
    Across,
    Dots,
    Fill,
    Mark,
    Stroke,
    Symbol,
    Text,
    Up,
    bounds,
)
from roomboard.drawing.layers import HATCHES, Pen, pen_of
from roomboard.drawing.lettering import text_width, type_size
from roomboard.drawing.paper import Page

BLACK, WHITE = QColor(0, 0, 0), QColor(255, 255, 255)
TYPE = 100
"""Lettering is set in this many units and then made smaller, so that its size is not rounded."""


def paint_page(painter: QPainter, page: Page, per_mm: float) -> None:
    """Paint a page with its upper left corner where the painter is.

    Args:
        painter: Open on a window, a picture or a printer; left as it was.
        page: The page.
        per_mm: Units of the painter to a mm of paper.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    painter.translate(0.0, page.height * per_mm)
    painter.scale(per_mm, -per_mm)
    paint_marks(painter, page.marks)
    painter.restore()


def paint_marks(painter: QPainter, marks: Iterable[Mark]) -> None:
    """Paint marks in mm of paper, y upwards.

    Args:
        painter: With its transformation set.
        marks: In the order in which they are laid down.
    """
    for mark in marks:
        if isinstance(mark, Stroke):
            _stroke(painter, mark)
        elif isinstance(mark, Fill):
            _fill(painter, mark)
        elif isinstance(mark, Text):
            _text(painter, mark)
        else:
            _dots(painter, mark)


def _pen(pen: Pen) -> QPen:
    """Return a pen in mm; short marks of a dashed line are dots and have round ends."""
    dotted = any(d <= pen.width for d in pen.dashes)
    round_ends = dotted or not pen.dashes
    cap = Qt.PenCapStyle.RoundCap if round_ends else Qt.PenCapStyle.FlatCap
    made = QPen(BLACK, pen.width, Qt.PenStyle.SolidLine, cap, Qt.PenJoinStyle.RoundJoin)
    if pen.dashes:
        dashes = pen.dashes * 2 if len(pen.dashes) % 2 else pen.dashes
        made.setDashPattern([max(d / pen.width, 0.01) for d in dashes])
    return made


def _stroke(painter: QPainter, mark: Stroke) -> None:
    painter.setPen(_pen(pen_of(mark.layer)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    points = QPolygonF([QPointF(x, y) for x, y in mark.points])
    if mark.closed:
        painter.drawPolygon(points)
    else:
        painter.drawPolyline(points)


def _fill(painter: QPainter, mark: Fill) -> None:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in mark.rings:
        path.addPolygon(QPolygonF([QPointF(x, y) for x, y in ring]))
        path.closeSubpath()
    if mark.tone is not None:
        grey = round(255 * mark.tone)
        painter.fillPath(path, QBrush(QColor(grey, grey, grey)))
    if not mark.hatch:
        return
    hatch = HATCHES[mark.hatch]
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(BLACK, hatch.width))
    x0, y0, x1, y1 = bounds([mark])
    lines: list[QLineF] = []
    reach = math.hypot(x1 - x0, y1 - y0)
    for angle in hatch.angles_deg:
        cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        # As on the page of the file: whole multiples of the spacing from the page's corner.
        across = [y * cos - x * sin for x in (x0, x1) for y in (y0, y1)]
        middle = (x0 + x1) / 2 * cos + (y0 + y1) / 2 * sin
        first = math.ceil(min(across) / hatch.spacing)
        last = math.floor(max(across) / hatch.spacing)
        for number in range(first, last + 1):
            off = number * hatch.spacing
            a, b = middle - reach / 2, middle + reach / 2
            lines.append(
                QLineF(
                    a * cos - off * sin,
                    a * sin + off * cos,
                    b * cos - off * sin,
                    b * sin + off * cos,
                )
            )
    painter.drawLines(lines)
    painter.restore()


def _text(painter: QPainter, mark: Text) -> None:
    across, up = mark.anchor
    width = text_width(mark.text, mark.paper_height, bold=mark.bold)
    x = {Across.LEFT: 0.0, Across.CENTRE: -width / 2, Across.RIGHT: -width}[across]
    y = {Up.BASE: 0.0, Up.MIDDLE: -mark.paper_height / 2, Up.TOP: -mark.paper_height}[up]
    font = font_of(TYPE, bold=mark.bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    font.setStyleStrategy(QFont.StyleStrategy.ForceOutline)
    painter.save()
    painter.setFont(font)
    painter.setPen(BLACK)
    painter.translate(*mark.at)
    painter.rotate(mark.angle_deg)
    painter.translate(x, y)
    size = type_size(mark.paper_height) / TYPE
    painter.scale(size, -size)
    painter.drawText(QPointF(0.0, 0.0), mark.text)
    painter.restore()


def _dots(painter: QPainter, mark: Dots) -> None:
    pen, half = pen_of(mark.layer), mark.paper_size / 2
    if mark.symbol is Symbol.CROSS:
        painter.setPen(QPen(BLACK, pen.width))
        painter.drawLines(
            [
                QLineF(x - half, y + low, x + half, y - low)
                for x, y in mark.points
                for low in (-half, half)
            ]
        )
        return
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    for x, y in mark.points:
        path.addEllipse(QPointF(x, y), half, half)
    painter.fillPath(path, QBrush(BLACK))
    if mark.symbol is Symbol.RING:
        inner = QPainterPath()
        inner.setFillRule(Qt.FillRule.WindingFill)
        for x, y in mark.points:
            inner.addEllipse(QPointF(x, y), half - pen.width, half - pen.width)
        painter.fillPath(inner, QBrush(WHITE))
