"""Closing windows: unsaved work is asked about over the canvas, never lost on the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.asking import Answer, asking_of
from roomboard.app.saving import save_work
from roomboard.app.windows import put_away, windows
from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts that end the menu."""
    return [
        Act(
            id="job.close",
            menu="Job",
            words="Close window",
            run=window.close,
            keys="Ctrl+W",
            tip="Close this window; unsaved work is asked about.",
            parted=True,
        ),
        Act(
            id="job.leave",
            menu="Job",
            words="Leave",
            run=leave,
            keys="Ctrl+Q",
            tip="Close all windows; unsaved work is asked about.",
        ),
    ]


def may_close(window: Window) -> bool:
    """Tell whether a window may close now, and put everything away if it may.

    Where there is unsaved work, the window asks about it over the canvas and stays; the answer
    closes it.

    Args:
        window: The window that is asked to close.
    """
    if not window.document.undo_stack.isClean():
        _ask_before_closing(window)
        return False
    put_away(window)
    return True


def leave() -> None:
    """Close all windows, one after the other; stop at one that asks."""
    for window in reversed(windows()):
        if not window.close():
            window.raise_()
            window.activateWindow()
            window.setProperty("leaving", True)
            return


def _ask_before_closing(window: Window) -> None:
    window.setProperty("leaving", False)  # the one that leaves sets it again

    def closed() -> None:
        leaving = bool(window.property("leaving"))
        window.close()
        if leaving:
            leave()

    def throw_away() -> None:
        window.document.undo_stack.setClean()
        closed()

    asking_of(window).ask(
        "closing",
        tr("{name} has work that is not saved.", name=window.document.project.name),
        (
            Answer(id="save", words=tr("Save"), run=lambda: save_work(window, closed)),
            Answer(id="throw_away", words=tr("Throw the work away"), run=throw_away),
            Answer(id="stay", words=tr("Stay")),
        ),
    )
