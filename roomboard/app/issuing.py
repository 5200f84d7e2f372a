"""Issuing on the desk: the set under a letter, what has changed since, pieces cut and hung."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.asking import asking_of
from roomboard.app.making import Made, Step, making_of
from roomboard.app.pages import asked_last, blocked, scheme_of
from roomboard.app.spots import held_piece
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.jobs import keep_issued as as_issued
from roomboard.core.project import Project
from roomboard.core.revision import DonePiece, DoneState
from roomboard.core.revision_done import done_of, forget_lost, lost, mark_done, unmark_done
from roomboard.core.revision_issue import letter_for
from roomboard.drawing.set_revision_views import OverView

if TYPE_CHECKING:
    from roomboard.app.desk import Desk
    from roomboard.app.window import Window
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.view import View

CLOUDS = "look/clouds"
"""Where it is remembered whether clouds are shown."""


def acts(window: Window) -> list[Act]:
    """Return the acts that issue the set, show what has changed, and mark pieces."""
    clouds = Clouds(window)
    desk = window.desk

    def mark(state: DoneState) -> Callable[[], object]:
        return lambda: mark_held(desk, state)

    return [
        Act(
            id="issue.open",
            menu="Job",
            words="Issues and changes …",
            run=lambda: show_issues(window),
            keys="Ctrl+I",
            tip="What was issued, and what has changed since, each with its place.",
            parted=True,
        ),
        Act(
            id="issue.set",
            menu="Job",
            words="Issue the set …",
            run=lambda: show_issues(window, issuing=True),
            keys="Ctrl+Shift+I",
            tip="Keep the set under a letter, so that later prints show what has changed.",
        ),
        Act(
            id="issue.clouds",
            menu="Look",
            words="Clouds round changes",
            run=clouds.toggle,
            keys="Ctrl+U",
            tip="Show on the drawing what has changed since the last issue.",
            checked=lambda: clouds.shown,
            parted=True,
        ),
        Act(
            id="sheets.keep_issued",
            menu="Sheets",
            words="Keep stock sheets as issued",
            run=lambda: keep_issued(desk),
            tip="Sheets whose pieces have not changed are cut as they were issued, numbers too.",
            checked=lambda: desk.document.project.keep_issued,
            enabled=lambda: bool(desk.document.project.issues),
            parted=True,
        ),
        Act(
            id="piece.cut",
            menu="Sheets",
            words="This piece is cut",
            run=mark(DoneState.CUT),
            keys="Ctrl+H",
            tip="It keeps its size, edges and place; what no longer fits it is said.",
            enabled=lambda: held_piece(desk) is not None,
        ),
        Act(
            id="piece.hung",
            menu="Sheets",
            words="This piece is hung",
            run=mark(DoneState.HUNG),
            keys="Ctrl+Shift+H",
            tip="It hangs where it is; what no longer fits it is said.",
            enabled=lambda: held_piece(desk) is not None,
        ),
        Act(
            id="piece.forget",
            menu="Sheets",
            words="Forget pieces without a place",
            run=lambda: forget_pieces(desk),
            tip="Take the marks off pieces that are cut or hung where nothing is lined any more.",
            enabled=lambda: bool(pieces_without_place(desk)),
        ),
        Act(
            id="piece.open",
            menu="Sheets",
            words="Neither cut nor hung",
            run=lambda: unmark_held(desk),
            keys="Ctrl+Shift+U",
            tip="Take the mark off; its joints stay locked until they are let go.",
            enabled=lambda: held_is_done(desk),
        ),
    ]


# --- clouds ---------------------------------------------------------------------------------


class Clouds:
    """Whether clouds are shown on the canvas of a window; signs of pieces always are.

    Attributes:
        shown: Whether they are.
    """

    def __init__(self, window: Window) -> None:
        self._window = window
        self.shown = str(window.settings.value(CLOUDS, "true")).lower() == "true"
        self._last: OverView | None = None
        window.canvas.over = self.over

    def toggle(self) -> None:
        """Show clouds, or take them away."""
        self.shown = not self.shown
        self._window.settings.setValue(CLOUDS, "true" if self.shown else "false")
        self._window.canvas.redraw()

    def over(self, view: View, scheme: Scheme, lens: str) -> View:
        """Lay clouds and signs over a view; runs off the window's thread."""
        last = self._last
        if last is None or last.scheme is not scheme or last.with_clouds != self.shown:
            last = OverView(scheme, self.shown)
            self._last = last
        return last.over(view, lens)


# --- pieces that are cut or hung --------------------------------------------------------------


def mark_held(desk: Desk, state: DoneState) -> bool:
    """Mark the piece that is held as cut or hung; tell whether anything changed."""
    found, scheme = held_piece(desk), desk.document.scheme
    if found is None or scheme is None:
        desk.say(tr("Take hold of a piece first, then say that it is cut or hung."))
        return False
    if not desk.document.settled:
        desk.say(tr("The sheets are still being worked out; try again in a moment."))
        return False
    surface, piece = found[0].surface.ref, found[1]
    words = (
        tr("Piece {mark} is cut", mark=piece.mark)
        if state is DoneState.CUT
        else tr("Piece {mark} is hung", mark=piece.mark)
    )
    done = desk.document.attempt(
        words, lambda project: mark_done(project, scheme, surface, piece.mark, state)
    )
    if done:
        desk.say(tr("{words}; it keeps its size, its edges and its place.", words=words))
    return done


def unmark_held(desk: Desk) -> bool:
    """Take the mark off the piece that is held; tell whether anything changed."""
    found = held_piece(desk)
    if found is None:
        return False
    face, piece = found
    done = desk.document.attempt(
        tr("Piece {mark} is neither cut nor hung", mark=piece.mark),
        lambda project: unmark_done(project, face, piece),
    )
    if done:
        desk.say(
            tr("The mark is off {mark}; its joints stay locked until let go.", mark=piece.mark)
        )
    return done


def keep_issued(desk: Desk) -> bool:
    """Keep stock sheets as they were issued, or cut the whole job anew."""
    keeps = desk.document.project.keep_issued
    return desk.document.attempt(
        tr("Cut the whole job anew") if keeps else tr("Keep stock sheets as issued"),
        lambda project: as_issued(project, on=not keeps),
    )


def held_is_done(desk: Desk) -> bool:
    """Tell whether the piece that is held is cut or hung."""
    found = held_piece(desk)
    return found is not None and bool(done_of(desk.document.project, *found))


def pieces_without_place(desk: Desk) -> tuple[DonePiece, ...]:
    """Return the pieces that are cut or hung where nothing is lined any more."""
    scheme = desk.document.scheme
    return lost(desk.document.project, scheme) if scheme is not None else ()


def forget_pieces(desk: Desk) -> bool:
    """Take the marks off pieces whose place is gone; tell whether anything changed."""
    scheme = desk.document.scheme
    if scheme is None:
        return False
    marks = ", ".join(d.piece.mark for d in pieces_without_place(desk))
    done = desk.document.attempt(
        tr("Forget pieces without a place"), lambda project: forget_lost(project, scheme)
    )
    if done:
        desk.say(tr("The marks are off: {marks}.", marks=marks))
    return done


# --- issuing ----------------------------------------------------------------------------------


def show_issues(window: Window, *, issuing: bool = False) -> None:
    """Open the list of issues and of what has changed since.

    Args:
        window: The window.
        issuing: Whether to begin with the note of a new issue.
    """
    from roomboard.app.dialogs.issues import Issues

    listing = window.findChild(Issues) or Issues(window)
    listing.open_up(issuing=issuing)


def issue_now(
    window: Window,
    *,
    letter: str,
    by: str,
    date: str,
    note: str,
    then: Callable[[str], object],
) -> None:
    """Issue the set: its sheets are made off the window's thread and kept by fingerprint.

    Args:
        window: The window.
        letter: Letter of the issue; empty for the one after the last.
        by: Who issues it.
        date: Date of issue, year-month-day.
        note: What it is about.
        then: Called with why it was not issued, or with nothing once it is.
    """
    document = window.document
    asked = asked_last(window.settings, document.project.units)
    choice = replace(asked.choice, kinds=(), rooms=())
    try:
        used = letter_for(document.project, letter)
    except EditError as refusal:
        then(refusal.said(document.project.units))
        return
    give = scheme_of(document)
    words = tr("Issue {letter}", letter=used)

    def job(step: Step) -> tuple[Project, Project, bool]:
        from roomboard.drawing.set_revision_issue import issue_set

        scheme = give(step)

        def told(done: int, total: int, what: str) -> None:
            step(what or tr("Drawing the pages …"), done, total)

        try:
            issued = issue_set(
                scheme, choice, date=date, note=note, by=by, letter=used, progress=told
            )
        except EditError as refusal:
            raise ValueError(refusal.said(scheme.project.units)) from None
        return scheme.project, issued, blocked(scheme)

    def finished(made: Made) -> None:
        if made.given_up:
            then(tr("Given up; nothing was issued."))
        elif made.fault or not isinstance(made.value, tuple):
            then(made.fault)
        else:
            of, issued, blocks = made.value
            if of != document.project:
                then(tr("The job was changed meanwhile; issue it again."))
                return
            document.attempt(words, lambda _project: issued)
            then("")
            said = tr(
                "Issue {letter} is kept in the project; save it and print the set.", letter=used
            )
            if blocks:
                said = tr("{said} Something blocks this set-out: do not cut by it.", said=said)
            asking_of(window).tell("issued", said)

    making_of(window).make(tr("Making the pages …"), job, finished)
