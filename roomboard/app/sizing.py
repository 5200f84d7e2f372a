"""How large windows open: as large as they like to be, and never larger than the screen."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

FRAME = (16, 48)
"""What the frame of a window and the bar of a desktop take of the screen, pixels."""


def open_sized(window: QWidget, width: int, height: int) -> None:
    """Give a window its first size, as far as its screen has room for it.

    Args:
        window: The window.
        width: The width it would like, pixels.
        height: The height it would like, pixels.
    """
    room = window.screen().availableGeometry()
    window.resize(min(width, room.width() - FRAME[0]), min(height, room.height() - FRAME[1]))
