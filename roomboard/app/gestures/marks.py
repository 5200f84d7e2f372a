"""What gestures draw over the view: lines being set, ghosts, and signs for what was snapped to."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from roomboard.app.canvas.viewport import Viewport
from roomboard.core.editing.snapping import SnapKind
from roomboard.core.plane import Point

SIGN = 6.0
"""Half the size of a sign, pixels."""


def paint_path(
    painter: QPainter,
    points: Sequence[QPointF],
    colour: str,
    *,
    dashed: bool = False,
    closed: bool = False,
    width: float = 2.0,
) -> None:
    """Draw a line through places of the canvas."""
    painter.save()
    pen = QPen(QColor(colour), width)
    if dashed:
        pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    polygon = QPolygonF(list(points))
    if closed:
        painter.drawPolygon(polygon)
    else:
        painter.drawPolyline(polygon)
    painter.restore()


def on_screen(points: Sequence[Point], port: Viewport) -> list[QPointF]:
    """Return where points of the view lie on the canvas."""
    return [port.to_screen(p) for p in points]


def paint_sign(painter: QPainter, at: QPointF, kind: SnapKind, colour: str) -> None:
    """Draw the sign of what a place was taken from.

    An end is a wall's two faces meeting, a middle a tick on a tape, a square the carpenter's
    square, a line three dots in a row, a joist its end grain.
    """
    painter.save()
    painter.setPen(QPen(QColor(colour), 2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    x, y = at.x(), at.y()

    def line(x0: float, y0: float, x1: float, y1: float) -> None:
        painter.drawLine(
            QPointF(x + x0 * SIGN, y + y0 * SIGN), QPointF(x + x1 * SIGN, y + y1 * SIGN)
        )

    if kind is SnapKind.END:
        line(-1.4, -1.4, 1.4, -1.4)
        line(-1.4, -1.4, -1.4, 1.4)
        line(-0.4, -0.4, 1.4, -0.4)
        line(-0.4, -0.4, -0.4, 1.4)
    elif kind is SnapKind.MIDDLE:
        line(-1.6, 1.0, 1.6, 1.0)
        line(0.0, 1.0, 0.0, -1.4)
        line(-1.6, 1.0, -1.6, 0.2)
        line(1.6, 1.0, 1.6, 0.2)
    elif kind is SnapKind.SQUARE:
        line(-1.4, 1.4, 1.4, 1.4)
        line(-1.4, 1.4, -1.4, -1.4)
        line(-1.4, 0.4, -0.4, 0.4)
        line(-0.4, 0.4, -0.4, 1.4)
    elif kind is SnapKind.IN_LINE:
        painter.setBrush(QColor(colour))
        for step in (-1.4, 0.0, 1.4):
            painter.drawEllipse(QPointF(x + step * SIGN, y), 1.6, 1.6)
    elif kind is SnapKind.JOIST:
        line(-0.7, -1.4, 0.7, -1.4)
        line(0.7, -1.4, 0.7, 1.4)
        line(0.7, 1.4, -0.7, 1.4)
        line(-0.7, 1.4, -0.7, -1.4)
        line(-0.7, -1.4, 0.7, 1.4)
        line(-0.7, 1.4, 0.7, -1.4)
    painter.restore()
