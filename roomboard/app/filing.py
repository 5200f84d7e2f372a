"""The life of a project on the desk: begun, opened, saved, closed."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings

from roomboard.app.acts import Act
from roomboard.app.leaving import may_close
from roomboard.app.leftover import look_for_left, offer_left
from roomboard.app.opening import (
    ask_for_file,
    new,
    open_demo,
    open_file,
    open_gallery,
    open_recent,
)
from roomboard.app.recent import RECENT, recent_files
from roomboard.app.saving import save_under_name, save_work
from roomboard.app.windows import ENDING, keeper_of, open_window
from roomboard.app.words import tr

__all__ = ["acts", "may_close", "open_file", "open_first"]

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu that begins, opens, saves and closes projects."""
    keeper_of(window)
    found = [
        Act(
            id="job.new",
            menu="Job",
            words="New",
            run=lambda: new(window),
            keys="Ctrl+N",
            tip="Begin an empty project; the one open here stays as it is.",
        ),
        Act(
            id="job.open",
            menu="Job",
            words="Open…",
            run=lambda: ask_for_file(window),
            keys="Ctrl+O",
            tip="Open a project file.",
        ),
    ]
    found += [
        Act(
            id=f"job.recent.{number}",
            menu="Job/Open recent",
            words=f"{number + 1}",
            run=partial(open_recent, window, number),
            tip="Open this project file again.",
            enabled=partial(_name_recent, window, number),
        )
        for number in range(RECENT)
    ]
    found += [
        Act(
            id="job.demo",
            menu="Job/Open an example",
            words="A small renovation",
            run=lambda: open_demo(window),
            tip="Open a copy of the demo project, five rooms of a cottage.",
        ),
        Act(
            id="job.gallery",
            menu="Job/Open an example",
            words="Ten awkward rooms",
            run=lambda: open_gallery(window),
            tip="Rooms out of square, raked, bayed, dropped, long: to see how each is set out.",
        ),
        Act(
            id="job.save",
            menu="Job",
            words="Save",
            run=lambda: save_work(window),
            keys="Ctrl+S",
            tip="Write the project to its file.",
        ),
        Act(
            id="job.save_as",
            menu="Job",
            words="Save as…",
            run=lambda: save_under_name(window),
            keys="Ctrl+Shift+S",
            tip="Write the project to another file and go on with that one.",
        ),
        Act(
            id="job.left_over",
            menu="Job",
            words="Work not saved…",
            run=lambda: look_for_left(window),
            tip="Look for work that was not saved before the desk came to an end.",
        ),
    ]
    return found


def _name_recent(window: Window, number: int) -> bool:
    """Write a recent file into its place in the menu; called whenever the menu opens."""
    files = recent_files(window.settings)
    there = number < len(files)
    action = window.bar.actions[f"job.recent.{number}"]
    action.setVisible(there or number == 0)
    if not files:
        action.setText(tr("none yet"))
    if there:
        action.setText(f"{number + 1}  {files[number].name.removesuffix(ENDING)}")
        action.setToolTip(str(files[number]))
        action.setStatusTip(str(files[number]))
    return there


def open_first(
    paths: Sequence[Path], settings: QSettings | None = None, *, at_start: bool = True
) -> list[Window]:
    """Open the first windows: a file in each, or an empty one that shows how to begin.

    Work that was not saved before the desk came to an end is offered in the first of them.

    Args:
        paths: Project files.
        settings: Where the windows remember how they stood; None for the user's own.
        at_start: Whether an empty window shows how to begin.
    """
    opened = [open_window(settings)]
    for number, path in enumerate(paths):
        if number:
            opened.append(open_window(settings))
        open_file(opened[-1], path)
    if at_start and not paths:
        from roomboard.app.dialogs.start import show_at_start

        show_at_start(opened[0])
    offer_left(opened[0])
    return opened
