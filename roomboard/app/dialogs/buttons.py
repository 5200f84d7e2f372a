"""Buttons of dialogs: each with its words, a tip that is read out too, and what it does."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton, QWidget


def button_of(parent: QWidget, words: str, tip: str, run: Callable[[], object]) -> QPushButton:
    """Return a button that Enter elsewhere in the dialog does not press.

    Args:
        parent: The dialog.
        words: What stands on it.
        tip: One sentence on what it does.
        run: Does it.
    """
    button = QPushButton(words, parent)
    button.setToolTip(tip)
    button.setAccessibleDescription(tip)
    button.setAutoDefault(False)
    button.clicked.connect(lambda _=False: run())
    return button
