"""Rooms taken over from a file: a list of sizes, or a drawing with outlines."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from roomboard.app.acts import Act
from roomboard.app.dialogs.taking_over import TakingOver
from roomboard.app.windows import file_dialog
from roomboard.app.words import tr
from roomboard.importers.files import DRAWINGS, LISTS

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the act that takes rooms over."""
    return [
        Act(
            id="job.take_over",
            menu="Job",
            words="Rooms from a file…",
            run=lambda: ask_for_rooms(window),
            keys="Ctrl+Shift+O",
            tip="Add rooms from a list of sizes (CSV) or from outlines in a drawing (DXF).",
            parted=True,
        )
    ]


def ask_for_rooms(window: Window) -> None:
    """Let the user choose the file."""
    dialog = file_dialog(window, tr("Rooms from a file"), "ask_for_rooms")
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    endings = " ".join(f"*{ending}" for ending in (*LISTS, *DRAWINGS))
    dialog.setNameFilter(tr("Lists and drawings ({endings})", endings=endings))
    dialog.fileSelected.connect(lambda name: show_rooms(window, Path(name)))
    dialog.open()


def show_rooms(window: Window, path: Path) -> TakingOver:
    """Show the rooms of a file, to be added or left.

    Args:
        window: Where it is asked for.
        path: The file.
    """
    dialog = TakingOver(window, path)
    dialog.open()
    return dialog
