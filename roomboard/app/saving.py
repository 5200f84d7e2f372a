"""Saving a project: to its file or another, and never over what someone else wrote."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from roomboard.app.asking import Answer, asking_of
from roomboard.app.dialogs.faults import load_or_show
from roomboard.app.recent import add_recent
from roomboard.app.unsaved import mark_of
from roomboard.app.windows import ENDING, file_dialog, keeper_of, open_window, put_in
from roomboard.app.words import tr
from roomboard.storage.project_file import save, write
from roomboard.storage.whole_file import NotSavedError

if TYPE_CHECKING:
    from roomboard.app.window import Window

_AFTER = Callable[[], object]


def save_work(window: Window, then: _AFTER | None = None) -> None:
    """Write the project to its file; ask for one where it has none.

    A file that someone else has written meanwhile is asked about first.

    Args:
        window: The window.
        then: Done once it is saved.
    """
    path = window.document.path
    if path is None:
        save_under_name(window, then)
        return
    if not keeper_of(window).changed_elsewhere():
        _write(window, path, then)
        return
    asking_of(window).ask(
        "changed",
        tr(
            "{file} was changed by someone else since it was opened here. Saving now would lose "
            "their changes.",
            file=path.name,
        ),
        (
            Answer(
                id="save_as",
                words=tr("Save under another name…"),
                run=lambda: save_under_name(window, then),
            ),
            Answer(
                id="look",
                words=tr("See theirs"),
                run=lambda: _see_theirs(window, path),
                tip=tr("Open what lies in the file now in another window."),
            ),
            Answer(id="over", words=tr("Save over it"), run=lambda: _write(window, path, then)),
            Answer(id="stay", words=tr("Stay")),
        ),
    )


def save_under_name(window: Window, then: _AFTER | None = None) -> None:
    """Let the user choose the file that the project is kept in from now on.

    Args:
        window: The window.
        then: Done once it is saved.
    """
    dialog = file_dialog(window, tr("Save the project"), "save_under_name")
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setDefaultSuffix(ENDING.removeprefix("."))
    path = window.document.path
    name = window.document.project.name
    dialog.selectFile(str(path) if path else f"{file_name_of(name)}{ENDING}")
    dialog.fileSelected.connect(lambda chosen: _save_to(window, Path(chosen), then))
    dialog.open()


def file_name_of(name: str) -> str:
    """Return the name of a project or a room as a name of a file."""
    plain = "".join(c if c.isalnum() or c in " -_" else " " for c in name)
    return "-".join(plain.lower().split()) or "project"


def _save_to(window: Window, path: Path, then: _AFTER | None) -> None:
    if not path.name.endswith(ENDING):
        path = path.with_name(f"{path.name.removesuffix('.json')}{ENDING}")
    keeper = keeper_of(window)
    if path != window.document.path and not keeper.take_file(path):
        asking_of(window).tell(
            "taken",
            tr("{file} is open at another desk; save under another name.", file=path.name),
        )
        return
    _write(window, path, then)


def _write(window: Window, path: Path, then: _AFTER | None) -> None:
    project = window.document.project
    try:
        save(project, path)
    except NotSavedError as refusal:
        _keep_hold(window)
        asking_of(window).ask(
            "not_saved",
            str(refusal),
            (
                Answer(
                    id="save_as",
                    words=tr("Save under another name…"),
                    run=lambda: save_under_name(window, then),
                ),
                Answer(id="read", words=tr("Understood")),
            ),
        )
        return
    keeper = keeper_of(window)
    keeper.take_file(path)
    keeper.saw(mark_of(write(project).encode()))
    window.document.kept(path)
    keeper.keep()
    add_recent(window.settings, path)
    for key in ("open_elsewhere", "not_saved", "taken", "changed", "closing"):
        asking_of(window).drop(key)
    window.desk.say(tr("Saved to {file}.", file=path.name))
    if then is not None:
        then()


def _keep_hold(window: Window) -> None:
    """Keep the mark on the file the project is in, where another was tried in vain."""
    path, keeper = window.document.path, keeper_of(window)
    if path is None:
        keeper.let_file_go()
    else:
        keeper.take_file(path)


def _see_theirs(window: Window, path: Path) -> None:
    project = load_or_show(window, path)
    if project is not None:
        put_in(open_window(window.settings), project, None)
