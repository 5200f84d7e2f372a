"""Type on the screen: the one font of the program, in pixels, and a bolder cut of any."""

from __future__ import annotations

from PySide6.QtGui import QFont

FAMILY = "DejaVu Sans"
"""Name of the font of `resources/fonts/`."""
TYPE = 12
"""Height of the type of windows and of live figures, pixels."""


def font_of(pixels: float, *, bold: bool = False) -> QFont:
    """Return the program's font.

    Args:
        pixels: How high it is; whole pixels, at least one.
        bold: Whether it is bold.
    """
    font = QFont(FAMILY)
    font.setPixelSize(max(1, round(pixels)))
    font.setBold(bold)
    return font


def emboldened(font: QFont, *, bold: bool = True) -> QFont:
    """Return a font like another, bold or not."""
    made = QFont(font)
    made.setBold(bold)
    return made
