"""A box to tick that is seen in light and in dark, ticked or not."""

from __future__ import annotations

from PySide6.QtGui import QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QCheckBox, QStyle, QStyleOptionButton


class Tick(QCheckBox):
    """A check box with a frame that is told from the window in every palette."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw a frame round the box, which the style draws darker than the window."""
        super().paintEvent(event)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        box = self.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, self)
        painter = QPainter(self)
        painter.setPen(self.palette().color(QPalette.ColorRole.PlaceholderText))
        painter.drawRect(box.adjusted(0, 0, -1, -1))
        painter.end()
