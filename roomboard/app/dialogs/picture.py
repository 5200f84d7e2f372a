"""A small picture of a view, painted as the canvas paints it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from roomboard.app.canvas.prepared import paint, prepared
from roomboard.app.canvas.viewport import MARGIN, Viewport
from roomboard.app.palette import DARK, LIGHT, Inks, is_dark
from roomboard.drawing.view import View

Drawing = Callable[[float], View]
"""Draws a view for a scale: how many mm of the room one mm of paper is."""


def fitted(drawing: Drawing, size: QSize) -> tuple[View, Viewport]:
    """Draw a view so that it fits a box, its lettering as large as on paper.

    Args:
        drawing: Draws it.
        size: The box, pixels.
    """
    # A viewport leaves a broad margin free; in a small picture half of it is enough.
    wide, high = max(1, size.width()), max(1, size.height())
    port = Viewport(0.0, 0.0, 0.1, wide + MARGIN, high + MARGIN)
    # Lettering grows with the scale, so the box is found in a few steps.
    for _ in range(2):
        port = port.fitted(drawing(port.scale).bounds)
    view = drawing(port.scale)
    return view, port.fitted(view.bounds).resized(wide, high)


class Picture(QAbstractButton):
    """A picture that can be chosen: by a click, or by Enter or the space bar."""

    def __init__(self, drawing: Drawing, inks: Inks = LIGHT, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawing = drawing
        self._inks = inks
        self._made: tuple[QSize, View, Viewport] | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(220, 160)

    def sizeHint(self) -> QSize:
        """Ask for room to read it in."""
        return QSize(340, 260)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the window from light to dark and back."""
        if event.type() == QEvent.Type.PaletteChange:
            self._inks = DARK if is_dark(self) else LIGHT
            self.update()
        super().changeEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter chooses it, as the space bar does."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - the whole is painted
        """Paint the view, and round it whether it has the focus."""
        if self._made is None or self._made[0] != self.size():
            self._made = (self.size(), *fitted(self._drawing, self.size()))
        _, view, port = self._made
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._inks.paper))
        paint(painter, prepared(view.marks, self._inks), port, self.devicePixelRatioF())
        focus = self.hasFocus()
        pen = QPen(QColor(self._inks.aimed if focus else self._inks.faint), 3.0 if focus else 1.0)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.end()
