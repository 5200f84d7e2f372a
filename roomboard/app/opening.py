"""Opening projects: files, the demo, those opened last; a copy where another desk has them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from roomboard.app.asking import Answer, asking_of
from roomboard.app.dialogs.faults import load_or_show
from roomboard.app.recent import add_recent, drop_recent, recent_files
from roomboard.app.saving import save_under_name
from roomboard.app.unsaved import mark_of_file
from roomboard.app.windows import (
    ENDING,
    file_dialog,
    keeper_of,
    open_window,
    put_in,
    untouched,
    windows,
)
from roomboard.app.words import tr
from roomboard.storage.resources import resource_files

if TYPE_CHECKING:
    from roomboard.app.window import Window


def new(window: Window) -> Window:
    """Begin an empty project; in another window unless nothing was done in this one."""
    return window if untouched(window) else open_window(window.settings)


def ask_for_file(window: Window) -> None:
    """Let the user choose a project file to open."""
    dialog = file_dialog(window, tr("Open a project"), "ask_for_file")
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.fileSelected.connect(lambda name: open_file(window, Path(name)))
    dialog.open()


def open_file(window: Window, path: Path) -> Window | None:
    """Open a project file; in another window unless nothing was done in this one.

    A file with faults is not opened: they are listed with their places. A file that is open at
    another desk is opened as a copy.

    Args:
        window: Where it is asked for.
        path: The file.

    Returns:
        The window that shows it, or None.
    """
    mark = mark_of_file(path)
    project = load_or_show(window, path)
    if project is None:
        if not path.exists():
            drop_recent(window.settings, path)
        return None
    target = window if untouched(window) else open_window(window.settings)
    keeper = keeper_of(target)
    if keeper.take_file(path):
        keeper.saw(mark)
        put_in(target, project, path)
        add_recent(target.settings, path)
    else:
        put_in(target, project, None, clean=True)
        say_open_elsewhere(target, path)
    return target


def open_demo(window: Window) -> Window | None:
    """Open the demo project as a copy of one's own, without a file."""
    return _open_copy(window, "demo")


def open_gallery(window: Window) -> Window | None:
    """Open the project of awkward rooms as a copy of one's own, without a file."""
    return _open_copy(window, "gallery")


def _open_copy(window: Window, folder: str) -> Window | None:
    """Open the project in a folder of the resources as a copy, without a file."""
    (path,) = resource_files(folder, ENDING)
    project = load_or_show(window, path)
    if project is None:
        return None
    target = window if untouched(window) else open_window(window.settings)
    put_in(target, project, None)
    return target


def say_open_elsewhere(window: Window, path: Path) -> None:
    """Say that a window shows a copy, because its file is open at another desk.

    Args:
        window: The window with the copy.
        path: The file.
    """
    here = next((w for w in windows() if w is not window and w.document.path == path), None)
    answers = [
        Answer(
            id="save_as",
            words=tr("Save under another name…"),
            run=lambda: save_under_name(window),
        ),
        Answer(id="read", words=tr("Read on")),
    ]
    if here is not None:
        answers.insert(
            1, Answer(id="go", words=tr("Go to that window"), run=lambda: _go_to(window, here))
        )
    asking_of(window).ask(
        "open_elsewhere",
        tr(
            "{file} is open at another desk. This is a copy of it: what is changed here is kept "
            "only under another name.",
            file=path.name,
        ),
        answers,
    )


def _go_to(window: Window, other: Window) -> None:
    other.raise_()
    other.activateWindow()
    if window.document.undo_stack.isClean():
        window.close()


def open_recent(window: Window, number: int) -> None:
    """Open one of the files opened last.

    Args:
        window: Where it is asked for.
        number: Its place in the list, from 0.
    """
    files = recent_files(window.settings)
    if number >= len(files):
        return
    path = files[number]
    if path.exists():
        open_file(window, path)
        return
    drop_recent(window.settings, path)
    asking_of(window).tell(
        "recent",
        tr("{file} is no longer there; it was taken off the list of recent files.", file=path),
    )
