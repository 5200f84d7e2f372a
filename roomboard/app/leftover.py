"""Offering work that was not saved before its desk came to an end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.asking import Answer, asking_of
from roomboard.app.opening import say_open_elsewhere
from roomboard.app.unsaved import Left, left_over
from roomboard.app.windows import keeper_of, open_window, put_in, untouched
from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.window import Window


def offer_left(window: Window) -> int:
    """Offer the work that was not saved before its desk came to an end.

    Args:
        window: Where it is offered.

    Returns:
        How much of it there is.
    """
    found = left_over()
    for left in found:
        _offer(window, left)
    return len(found)


def look_for_left(window: Window) -> None:
    """Offer the work that was not saved, or say that there is none."""
    if not offer_left(window):
        window.desk.say(tr("There is no work that was not saved."))


def _offer(window: Window, left: Left) -> None:
    throw = Answer(id="throw_away", words=tr("Throw it away"), run=left.throw_away)
    leave_it = Answer(
        id="leave",
        words=tr("Leave it"),
        run=left.leave,
        tip=tr("It stays where it is and is offered again at the next start."),
    )
    key = f"left.{left.place.name}"
    if left.project is None:
        asking_of(window).ask(
            key,
            tr(
                "Work from {at} was not saved and cannot be read: {fault}. It lies in {place}.",
                at=left.at,
                fault="; ".join(str(f) for f in left.faults[:3]),
                place=left.place,
            ),
            (throw, leave_it),
            focus=False,
        )
        return
    file = tr("in {file}", file=left.file.name) if left.file else tr("never saved to a file")
    asking_of(window).ask(
        key,
        tr(
            "Work on {name} ({file}) from {at} was not saved.",
            name=left.name,
            file=file,
            at=left.at,
        ),
        (
            Answer(id="take_up", words=tr("Take it up again"), run=lambda: take_up(window, left)),
            throw,
            leave_it,
        ),
        focus=False,
    )


def take_up(window: Window, left: Left) -> Window:
    """Go on with work that was not saved; in another window unless this one is untouched.

    Args:
        window: Where it was offered.
        left: The work.
    """
    target = window if untouched(window) else open_window(window.settings)
    keeper = keeper_of(target)
    project = left.project
    if project is None:
        return target
    path = left.file if left.file is not None and keeper.take_file(left.file) else None
    keeper.take_up(left)
    put_in(target, project, path, clean=False)
    if left.file is not None and path is None:
        say_open_elsewhere(target, left.file)
    return target
