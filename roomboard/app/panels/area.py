"""A text or a form that scrolls, with a frame round it while the keys are for it."""

from __future__ import annotations

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFocusEvent, QPainter, QPalette
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


class Area(QScrollArea):
    """A scroll area without a frame of its own that shows when it has the focus."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setViewportMargins(1, 1, 1, 1)

    def event(self, event: QEvent) -> bool:
        """Paint the frame round what scrolls: what is painted otherwise is the viewport's."""
        done = super().event(event)
        if event.type() == QEvent.Type.Paint and self.hasFocus():
            painter = QPainter(self)
            painter.setPen(self.palette().color(QPalette.ColorRole.Highlight))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
            painter.end()
        return done

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the frame."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame away."""
        super().focusOutEvent(event)
        self.update()
