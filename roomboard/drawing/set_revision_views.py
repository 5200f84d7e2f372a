"""Clouds and marks of finished pieces on the views of a room, as on the printed drawings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from roomboard.core.plane import Region
from roomboard.core.revision_changes import Change, Subject
from roomboard.drawing.displaylist import DisplayList, Mark, Text, text_box
from roomboard.drawing.set_choice import SetChoice
from roomboard.drawing.set_revision import Revision
from roomboard.drawing.set_revision_clouds import areas_of, clouds, done_signs, timber_of
from roomboard.drawing.view import AS_IT_LIES, Pane, View

if TYPE_CHECKING:
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.displaylist import Box


@dataclass(frozen=True)
class OverView:
    """Lays clouds and the signs of pieces that are cut or hung over views.

    Attributes:
        scheme: What is worked out.
        with_clouds: Whether clouds are shown.
        since: Letter of the issue they are shown since; empty for those of the printed set.
    """

    scheme: Scheme
    with_clouds: bool
    since: str = ""

    @cached_property
    def revision(self) -> Revision:
        """What the set says of its issues."""
        return Revision(self.scheme, SetChoice(changed_since=self.since))

    @property
    def idle(self) -> bool:
        """Whether there is nothing to lay over any view."""
        clouded = self.with_clouds and self.revision.shown is not None
        return not clouded and not self.scheme.project.done

    def marks_over(self, surface: str, marks: DisplayList, scale: float) -> DisplayList:
        """Return the drawing of a surface with what is laid over it.

        Args:
            surface: Ref of the surface.
            marks: Its drawing, in (u, v) mm.
            scale: How many mm of the surface one mm of paper is.
        """
        pane = Pane(
            surface=surface, key=surface, marks=marks, placing=AS_IT_LIES, outline=(), caption=""
        )
        return self.over(View(name=surface, panes=(pane,), scale=scale), "set_out").marks

    def marks_about(self, about: str, marks: DisplayList, scale: float) -> DisplayList:
        """Return the drawing of one piece or stock sheet with the clouds on it.

        Args:
            about: What it shows: ``"piece:<id>"`` or ``"sheet:<id>"``.
            marks: The drawing, in mm of what it shows.
            scale: How many mm of that one mm of paper is.
        """
        shown = self.revision.shown if self.with_clouds else None
        if shown is None:
            return marks
        found, letter = shown
        kind, _, name = about.partition(":")
        on = self.revision.on_piece if kind == "piece" else self.revision.on_sheet
        taken = [text_box(m, scale) for m in marks if isinstance(m, Text)]
        return (*marks, *clouds(on(name, found, scale), letter, scale, taken))

    def over(self, view: View, lens: str) -> View:
        """Return a view with what is laid over it.

        Args:
            view: The view.
            lens: Name of the lens it is drawn for; it says which changes concern one there.
        """
        if self.idle:
            return view
        taken = [text_box(m, view.scale) for m in view.marks if isinstance(m, Text)]
        panes: list[Pane] = []
        for pane in view.panes:
            marks = self._marks(pane, view.scale, lens, taken)
            taken += [text_box(m, view.scale) for m in marks if isinstance(m, Text)]
            panes.append(replace(pane, marks=(*pane.marks, *marks)) if marks else pane)
        return replace(view, panes=tuple(panes))

    def _marks(self, pane: Pane, scale: float, lens: str, taken: list[Box]) -> DisplayList:
        marks: list[Mark] = []
        if self.with_clouds and self.revision.shown is not None:
            found, letter = self.revision.shown
            kind, _, sheet = pane.key.partition(":")
            if kind == "sheet":
                areas = self.revision.on_sheet(sheet, found, scale)
            else:
                shown = _for_lens(found.of(pane.surface), lens)
                surface = self.revision.surface(pane.surface)
                outline = Region(surface.outline.outer) if surface is not None else None
                areas = areas_of(shown, outline, scale) if outline is not None else ()
            lain = [pane.placing.region(area) for area in areas]
            marks += clouds(lain, letter, scale, taken)
        if lens not in {"measure", "frame"}:
            own = [text_box(m, scale) for m in marks if isinstance(m, Text)]
            signs = done_signs(self.scheme, pane.surface, scale, [*taken, *own], pane.placing.apply)
            marks += signs
        return tuple(marks)


def laid_over(scheme: Scheme, view: View) -> View:
    """Return a view for a file with clouds and signs over it, as the printed set has them.

    Args:
        scheme: What is worked out.
        view: The view.
    """
    return OverView(scheme, with_clouds=True).over(view, "set_out")


def _for_lens(changes: tuple[Change, ...], lens: str) -> tuple[Change, ...]:
    """Return the changes that concern one in a lens."""
    if lens == "measure":
        return tuple(c for c in changes if c.subject is Subject.OPENING)
    if lens == "frame":
        return timber_of(changes)
    return tuple(c for c in changes if c.subject is not Subject.TRIMMER)
