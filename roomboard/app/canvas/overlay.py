"""What is drawn over a view: what is held and aimed at, messages, live figures."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from roomboard.app.canvas.viewport import Viewport
from roomboard.app.lettering import TYPE, font_of
from roomboard.app.palette import Inks
from roomboard.core.plane import Point
from roomboard.drawing.picking import Picked

MESSAGE = 17
"""Height of the type of a message on an empty canvas, pixels."""
WIDEST = 360
"""How wide live figures may be before they go on in the next line, pixels."""


def polygon(points: Iterable[Point], port: Viewport) -> QPolygonF:
    """Return points of the view as a polygon on the screen."""
    return QPolygonF([port.to_screen(p) for p in points])


def paint_marked(painter: QPainter, picked: Picked, port: Viewport, colour: str) -> None:
    """Mark something on the drawing: a broad translucent line along it, a ring round a dot."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    broad = QColor(colour)
    broad.setAlpha(120)
    pen = QPen(broad, 5.0)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    ring = polygon(picked.outline, port)
    if ring.size() == 1:
        painter.drawEllipse(ring.at(0), 7.0, 7.0)
    elif picked.closed:
        painter.drawPolygon(ring)
    else:
        painter.drawPolyline(ring)
    painter.restore()


def paint_message(painter: QPainter, box: QRect, text: str, inks: Inks) -> None:
    """Write a message in the middle of an empty canvas."""
    painter.setFont(font_of(MESSAGE))
    painter.setPen(QColor(inks.ink))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def paint_figure(
    painter: QPainter, at: QPointF, text: str, inks: Inks, *, bad: bool = False
) -> None:
    """Write live figures beside the pointer, on a slip of paper."""
    font = font_of(TYPE)
    flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
    metrics = QFontMetricsF(font)
    taken = metrics.boundingRect(QRectF(0, 0, WIDEST, 1000), flags, text)
    box = QRectF(at.x() + 16, at.y() + 14, taken.width() + 12, taken.height() + 6)
    edge = QRectF(painter.viewport())
    if edge.contains(at):  # it keeps inside the canvas, on the other side of the pointer if need be
        if box.right() > edge.right():
            box.moveRight(max(at.x() - 16, edge.left() + box.width()))
        if box.bottom() > edge.bottom():
            box.moveBottom(at.y() - 14)
    painter.save()
    painter.setPen(QPen(QColor(inks.barred if bad else inks.aimed), 1.0))
    painter.setBrush(QColor(inks.paper))
    painter.drawRect(box)
    painter.setFont(font)
    painter.setPen(QColor(inks.barred if bad else inks.ink))
    painter.drawText(box, flags, text)
    painter.restore()


def paint_handle(painter: QPainter, at: QPointF, colour: str, *, solid: bool = False) -> None:
    """Draw a small square that can be dragged."""
    painter.save()
    painter.setPen(QPen(QColor(colour), 1.5))
    painter.setBrush(QColor(colour) if solid else Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(at.x() - 4, at.y() - 4, 8, 8))
    painter.restore()
