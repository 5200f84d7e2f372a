"""The windows that are open, and what each of them is given when it begins."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QSettings, QTimer
from PySide6.QtWidgets import QFileDialog

from roomboard.app.asking import asking_of
from roomboard.app.document import EMPTY, Document
from roomboard.app.keeping import Keeper
from roomboard.app.recent import recent_files
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.core.project import Project

if TYPE_CHECKING:
    from roomboard.app.window import Window

ENDING = ".roomboard.json"
"""What project files end in."""

BESIDE = QPoint(28, 28)
"""How far a further window stands from the one before."""

_windows: list[Window] = []
_gone: list[Window] = []


def keeper_of(window: Window) -> Keeper:
    """Return what keeps a window's work against a crash."""
    found = window.findChild(Keeper, "keeper")
    if isinstance(found, Keeper):
        return found
    keeper = Keeper(window.document, window)
    keeper.trouble.connect(lambda sentence: asking_of(window).tell("keeping", sentence))
    return keeper


def windows() -> tuple[Window, ...]:
    """Return the windows that are open, in the order they were opened."""
    return tuple(_windows)


def open_window(settings: QSettings | None = None, document: Document | None = None) -> Window:
    """Open a window over an empty document, or another one.

    Args:
        settings: Where it remembers how it stood; None for the user's own.
        document: What it shows.
    """
    from roomboard.app.window import Window

    window = Window(document, settings)
    open_sized(window, window.width(), window.height())
    if _windows:
        window.move(_windows[-1].pos() + BESIDE)
    _windows.append(window)
    window.show()
    return window


def put_away(window: Window) -> None:
    """End what goes on behind a window that closes."""
    from roomboard.app.printing import end_making

    end_making(window)
    # Unsaved work that is offered here and not decided on is free to be offered elsewhere.
    asking_of(window).dismiss("left.")
    keeper_of(window).end()
    if window in _windows:
        # It is deleted once Qt is done with closing it; until then it is held here.
        _windows.remove(window)
        _gone.append(window)
        QTimer.singleShot(0, lambda: _delete(window))


def _delete(window: Window) -> None:
    window.deleteLater()
    _gone.remove(window)


def untouched(window: Window) -> bool:
    """Tell whether nothing was done in a window yet."""
    document = window.document
    return (
        document.path is None
        and document.project == EMPTY
        and document.undo_stack.count() == 0
        and document.undo_stack.isClean()
    )


def put_in(window: Window, project: Project, path: Path | None, *, clean: bool = True) -> None:
    """Put a project into a window that has none yet.

    Args:
        window: The window.
        project: The project.
        path: Its file, or None.
        clean: Whether the file holds just this.
    """
    from roomboard.app.dialogs.start import close_start

    close_start(window)
    window.document.restart(project, path, clean=clean)
    if project.rooms:
        window.desk.show_room(project.rooms[0].id)
    window.canvas.setFocus()


def file_dialog(window: Window, title: str, name: str) -> QFileDialog:
    """Return a dialog that asks for a project file; to be shown with ``open``.

    Args:
        window: Who asks.
        title: What it says.
        name: Its name among the window's dialogs; an old one of that name goes away.
    """
    old = window.findChild(QFileDialog, name)
    if isinstance(old, QFileDialog):
        old.setObjectName("")
        old.deleteLater()
    path = window.document.path
    files = recent_files(window.settings)
    folder = path.parent if path else files[0].parent if files else Path.home()
    dialog = QFileDialog(window, title, str(folder))
    dialog.setObjectName(name)
    dialog.setNameFilter(tr("Projects (*{ending})", ending=ENDING))
    return dialog
