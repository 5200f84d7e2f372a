"""The document: a project value, how it came about, and what was worked out for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.editing import EditError
from roomboard.core.practice import Practice
from roomboard.core.project import Project, Room
from roomboard.core.scheme import Scheme, work_out
from roomboard.core.setting import Setting, setting_of
from roomboard.core.stock import Catalogue
from roomboard.storage.catalogue import load_catalogue, load_practice

FOUND_KEPT = 12
"""So many answers of searches are kept, the last ones."""
PATIENCE = 1.0
"""Seconds after which work on a value gives way to a newer one; what is quicker is shown still, so
that the sheets follow a drag."""
EMPTY = Project(id="project", name="New project")
"""What a new document begins with."""


@lru_cache(maxsize=8)
def practice_of(pack: str) -> Practice:
    """Return a practice pack, read once."""
    return load_practice(pack)


@lru_cache(maxsize=8)
def catalogue_of(pack: str) -> Catalogue:
    """Return the stock that goes with a practice pack, read once."""
    return load_catalogue(pack)


class Change(QUndoCommand):
    """One step of the undo stack: the whole project before and after it."""

    def __init__(
        self, document: Document, words: str, before: Project, after: Project, merge: str
    ) -> None:
        super().__init__(words)
        self._document = document
        self._before = before
        self.after = after
        self.merge = merge

    def redo(self) -> None:
        """Put the project as it is after the step."""
        self._document.put(self.after)

    def undo(self) -> None:
        """Put the project as it was before the step."""
        self._document.put(self._before)

    def id(self) -> int:
        """Let Qt offer steps for joining only where the edit asked for it."""
        return 1 if self.merge else -1

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Join a step that goes on with the same edit, such as one more nudge by a key."""
        if not isinstance(other, Change) or other.merge != self.merge:
            return False
        self.after = other.after
        return True


class Document(QObject):
    """A project being edited.

    Attributes:
        undo_stack: Every edit since the project was opened.
        path: File it is kept in, or None.

    Signals:
        project_changed: The project became another value.
        shown_changed: What is to be shown became another value: the project or a trial of it.
        scheme_changed: The scheme of the newest value shown is there.
        busy_changed: Whether something is being worked out.
        stepped: What is worked out next, in words.
        refused: A sentence that says why an edit was not made.
        path_changed: The file became another.
    """

    project_changed = Signal()
    shown_changed = Signal()
    scheme_changed = Signal()
    busy_changed = Signal(bool)
    stepped = Signal(str)
    refused = Signal(str)
    path_changed = Signal()

    def __init__(self, project: Project = EMPTY, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.undo_stack = QUndoStack(self)
        self.path: Path | None = None
        self._project = project
        self._trial: Project | None = None
        self._scheme: Scheme | None = None
        self._scheme_of: Project | None = None
        self._asked: dict[int, Project] = {}
        self._newest = 0
        self._found: dict[Project, Scheme] = {}
        self._workings = Workings("set-out", self, patience=PATIENCE)
        self._workings.done.connect(self._worked)
        self._workings.failed.connect(self._failed)
        self._workings.busy_changed.connect(self.busy_changed)
        self._workings.stepped.connect(self.stepped)
        self._ask()

    # --- what there is ------------------------------------------------------------------

    @property
    def project(self) -> Project:
        """The project as the undo stack has it."""
        return self._project

    @property
    def shown(self) -> Project:
        """The project as it is to be shown: while something is dragged, a trial of it."""
        return self._trial or self._project

    @property
    def scheme(self) -> Scheme | None:
        """What was worked out last; None until the first time."""
        return self._scheme

    @property
    def settled(self) -> bool:
        """Whether the scheme is that of the value shown, and no other is still on its way."""
        return self._scheme_of is self.shown and not self._asked

    @property
    def practice(self) -> Practice:
        """The project's practice pack, before its overrides."""
        return practice_of(self.shown.practice)

    @property
    def catalogue(self) -> Catalogue:
        """What can be bought."""
        return catalogue_of(self.shown.practice)

    @property
    def setting(self) -> Setting:
        """Pack with the project's overrides, stock and choices."""
        return setting_of(self.shown, self.practice, self.catalogue)

    # --- edits --------------------------------------------------------------------------

    def edit(self, words: str, project: Project, merge: str = "") -> bool:
        """Make an edit that can be undone.

        Args:
            words: What it does, for the undo list.
            project: The project after it.
            merge: Edits one after the other with the same words here become one step.

        Returns:
            Whether anything changed.
        """
        self._trial = None
        if project == self._project:
            self._show()
            return False
        self.undo_stack.push(Change(self, words, self._project, project, merge))
        return True

    def attempt(self, words: str, change: Callable[[Project], Project], merge: str = "") -> bool:
        """Make an edit by a function of the project; say so where it cannot be made.

        Args:
            words: What it does, for the undo list.
            change: Gives the project after it; raises :class:`EditError` to refuse.
            merge: As for :meth:`edit`.

        Returns:
            Whether anything changed.
        """
        try:
            after = change(self._project)
        except EditError as refusal:
            self.drop_trial()
            self.refused.emit(refusal.said(self._project.units))
            return False
        return self.edit(words, after, merge)

    def edit_room(
        self, words: str, room: str, change: Callable[[Room], Room], merge: str = ""
    ) -> bool:
        """Make an edit of one room by a function of it.

        Args:
            words: What it does, for the undo list.
            room: Id of the room.
            change: Gives the room after it; raises :class:`EditError` to refuse.
            merge: As for :meth:`edit`.
        """
        return self.attempt(words, lambda p: with_room(p, room, change), merge)

    def try_out(self, change: Callable[[Project], Project]) -> str:
        """Show what an edit would do, without making it; the sheets follow.

        Args:
            change: Gives the project after it.

        Returns:
            Empty, or the sentence that says why it cannot be made; then nothing is shown.
        """
        try:
            trial = change(self._project)
        except EditError as refusal:
            return refusal.said(self._project.units)
        if trial != self.shown:
            self._trial = trial
            self._show()
        return ""

    def take_found(self, words: str, found: Scheme) -> bool:
        """Take up an answer that was found by a search; it is cut as it was found.

        Args:
            words: What that does, for the undo list.
            found: The answer; its project becomes the document's.

        Returns:
            Whether the project changed.
        """
        self.know_found(found)
        return self.edit(words, found.project)

    def know_found(self, found: Scheme) -> None:
        """Keep an answer: whenever the project is its project, it is cut as was found."""
        self._found.pop(found.project, None)
        self._found[found.project] = found
        for old in list(self._found)[:-FOUND_KEPT]:
            del self._found[old]
        if found.project == self.shown:
            self._ask()

    def drop_trial(self) -> None:
        """Show the project itself again."""
        if self._trial is not None:
            self._trial = None
            self._show()

    def put(self, project: Project) -> None:
        """Put another value in the project's place; called by the undo stack."""
        self._trial = None
        self._project = project
        self.project_changed.emit()
        self._show()

    def restart(self, project: Project, path: Path | None, *, clean: bool = True) -> None:
        """Begin anew with a project just opened or made.

        Args:
            project: The project.
            path: Its file, or None.
            clean: Whether the file holds just this.
        """
        self.undo_stack.clear()
        if not clean:
            self.undo_stack.resetClean()
        self.path = path
        self._found.clear()
        self._scheme = None
        self._scheme_of = None
        self.put(project)
        self.path_changed.emit()

    def kept(self, path: Path) -> None:
        """Note that the project now lies in a file."""
        self.path = path
        self.undo_stack.setClean()
        self.path_changed.emit()

    def close(self) -> None:
        """End the work in the background."""
        self._workings.close()

    # --- the work in the background -----------------------------------------------------

    def _show(self) -> None:
        self.shown_changed.emit()
        self._ask()

    def _ask(self) -> None:
        project, trial = self.shown, self._trial is not None
        catalogue, practice = self.catalogue, self.practice

        # What was worked out last is taken over as far as the edit has not touched it.
        known = self._scheme.worked if self._scheme is not None else None
        step = self._workings.step
        found = None if trial else self._found.get(project)

        def job() -> Scheme:
            if found is not None:
                # The search is not loaded before it is used: the desk opens sooner.
                from roomboard.core.optimum.improve import as_found

                return as_found(found, catalogue, practice)
            return work_out(
                project, catalogue, practice, compare=not trial, known=known, between=step
            )

        number = self._workings.ask(job)
        self._asked[number] = project

    def abandon(self) -> None:
        """Give up what is being worked out; the last scheme stays."""
        self._workings.drop()
        self._asked.clear()
        self.busy_changed.emit(False)

    def _worked(self, number: int, scheme: Scheme) -> None:
        project = self._asked.pop(number, None)
        for old in [n for n in self._asked if n < number]:
            del self._asked[old]
        if project is None or number < self._newest:
            return
        self._newest = number
        self._scheme, self._scheme_of = scheme, project
        self.scheme_changed.emit()

    def _failed(self, number: int, fault: str) -> None:
        self._asked.pop(number, None)
        self.refused.emit(
            tr(
                "This could not be worked out; undo the last edit and go on, nothing is lost "
                "({fault}).",
                fault=fault,
            )
        )


def with_room(project: Project, room: str, change: Callable[[Room], Room]) -> Project:
    """Return a project with one room changed.

    Args:
        project: The project.
        room: Id of the room.
        change: Gives the room after the edit.

    Raises:
        EditError: If there is no such room, or the edit refuses.
    """
    if project.room(room) is None:
        raise EditError(tr("There is no such room any more; choose one from the list of rooms."))
    rooms = tuple(change(r) if r.id == room else r for r in project.rooms)
    return replace(project, rooms=rooms)
