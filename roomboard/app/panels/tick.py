"""A box to tick that is seen in light and in dark, ticked or not."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QWidget

FRAME = (
    "QCheckBox::indicator:unchecked { border: 1px solid palette(placeholder-text); "
    "background: palette(base); border-radius: 2px; width: 12px; height: 12px; }"
)
"""Round an empty box, which the style draws darker than the window: in dark it was not seen."""


class Tick(QCheckBox):
    """A check box with a frame that is told from the window in every palette."""

    def __init__(self, words: str = "", parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self.setStyleSheet(FRAME)
