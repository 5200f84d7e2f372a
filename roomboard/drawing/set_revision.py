"""The printed set as it was issued: fingerprints, letters of sheets, and clouds on the drawings."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from roomboard.core.plane import Region
from roomboard.core.revision import DIGITS, Issued, IssuedSheet
from roomboard.core.revision_changes import Change, ChangeKind, Changes, Subject
from roomboard.core.revision_issue import changes, issue_of
from roomboard.drawing.displaylist import (
    Box,
    DisplayList,
    Fill,
    Mark,
    Stroke,
    Text,
    text_box,
)
from roomboard.drawing.parts import without_sheet
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.set_revision_clouds import (
    CLOUD,
    areas_of,
    clouds,
    done_signs,
    fixing_areas,
    inset,
    sheeting_of,
    timber_of,
    within,
)
from roomboard.drawing.set_revision_places import moved, round_dimensions

if TYPE_CHECKING:
    from roomboard.core.project import Project
    from roomboard.core.scheme import Scheme
    from roomboard.core.surface import Surface
    from roomboard.drawing.page_frame import Sheet
    from roomboard.drawing.placing import Drawings, View

FINE = 3
"""Marks are compared to this many decimals of a mm on paper."""
_ELSEWHERE = {ChangeKind.GONE, ChangeKind.MOVED}
"""Changes that show on the surface alone: the piece itself is gone, or as it was."""
NOT_ISSUED = "*"
"""Stands behind the letter of the last issue on a sheet that has changed since."""


def form_of(choice: SetChoice) -> str:
    """Return papers and scale of a set: only sheets of one form can be compared."""
    scale = f", 1:{choice.scale:g}" if choice.scale else ""
    return f"{choice.paper}, tables {choice.list_paper.name}{scale}"


def fingerprint(sheet: Sheet) -> str:
    """Return a short fingerprint of what stands on a sheet.

    Clouds do not count, nor the numbers of other sheets, nor what its title block says of the
    whole job: they depend on which sheets are printed.
    """
    lines = sorted(_line(m) for m in sheet.marks if m.layer != CLOUD)
    lines += [sheet.board, sheet.finish, sheet.scale.words if sheet.scale else ""]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()[:DIGITS]


def _line(mark: Mark) -> str:
    def run(points: Iterable[tuple[float, float]]) -> str:
        return " ".join(f"{round(x, FINE) + 0.0},{round(y, FINE) + 0.0}" for x, y in points)

    if isinstance(mark, Text):
        words = without_sheet(mark)
        return f"text {words!r} {run((mark.at,))} {mark.paper_height} {mark.angle_deg:.2f}"
    if isinstance(mark, Fill):
        return f"{mark.layer} fill {mark.tone} {mark.hatch} {[run(r) for r in mark.rings]}"
    if isinstance(mark, Stroke):
        return f"{mark.layer} line {mark.closed} {run(mark.points)}"
    return f"{mark.layer} {mark.symbol.value} {mark.paper_size:.3f} {run(mark.points)}"


def imprinted(sheet: Sheet) -> Sheet:
    """Return a sheet with the fingerprint of what stands on it."""
    return sheet if sheet.imprint else replace(sheet, imprint=fingerprint(sheet))


def _shows_of(sheet: Sheet | IssuedSheet, other: Sheet | IssuedSheet) -> bool:
    """Tell whether a sheet may show some of what another one shows."""
    same = _family(sheet.kind) == _family(other.kind)
    return same and (sheet.room == other.room or not sheet.room or not other.room)


def _family(kind: str) -> str:
    """Return one name for kinds of pages whose drawings share sheets."""
    return PageKind.WALLS.value if kind == PageKind.CEILINGS.value else kind


def issued_sheets(sheets: Sequence[Sheet]) -> tuple[IssuedSheet, ...]:
    """Return the sheets of a set as they are issued, still without letters.

    The revision list is none of them: it is printed anew with each issue.

    Args:
        sheets: All sheets, in order.
    """
    return tuple(
        IssuedSheet(title=s.title, room=s.room, kind=s.kind, number=number, imprint=s.imprint)
        for number, s in enumerate(map(imprinted, sheets), 1)
        if s.kind != PageKind.REVISIONS.value
    )


def letter_now(scheme: Scheme) -> str:
    """Return the letter of what is worked out: that of the last issue, marked if it has changed."""
    project = scheme.project
    if not project.issues:
        return project.issue
    last = project.issues[-1]
    return last.letter if changes(last, scheme).empty else last.letter + NOT_ISSUED


def base_of(project: Project, choice: SetChoice) -> Issued:
    """Return the issue that only sheets which differ from are printed.

    Raises:
        EditError: If there is no such issue.
        ValueError: If it was printed on another paper or at another scale.
    """
    base = issue_of(project, choice.changed_since)
    form = form_of(choice)
    if base.form != form:
        raise ValueError(
            f"Issue {base.letter} was printed on {base.form or 'no paper'}, this set is on {form}: "
            "sheets of two forms cannot be compared; choose the same papers and scale, or print "
            "the whole set."
        )
    return base


@dataclass(frozen=True)
class Revision:
    """What the printed set says of its issues.

    Attributes:
        scheme: What is worked out.
        choice: How the set is printed.
        whole: Makes the sheets of the whole set of which only a part is printed; None where all
            is. Drawings of a part may lie otherwise on their sheets.
    """

    scheme: Scheme
    choice: SetChoice
    whole: Callable[[], Sequence[Sheet]] | None = None

    @property
    def issues(self) -> tuple[Issued, ...]:
        """Every issue there was."""
        return self.scheme.project.issues

    @cached_property
    def pending(self) -> Changes | None:
        """What has changed since the last issue, or None if there was none."""
        return changes(self.issues[-1], self.scheme) if self.issues else None

    @cached_property
    def shown(self) -> tuple[Changes, str] | None:
        """The changes that the drawings show clouds for, and the letter in them; None for none.

        Since the issue asked for; else since the last issue; where nothing has changed since, what
        that issue itself changed.
        """
        if not self.issues or self.pending is None:
            return None
        last = self.issues[-1].letter
        letter = last if self.pending.empty else last + NOT_ISSUED
        if self.choice.changed_since:
            base = issue_of(self.scheme.project, self.choice.changed_since)
            found = changes(base, self.scheme)
        elif not self.pending.empty:
            found = self.pending
        elif len(self.issues) > 1:
            found = changes(self.issues[-2], self.scheme)
        else:
            return None
        return None if found.empty else (found, letter)

    def lettered(self, sheets: Sequence[Sheet]) -> list[Sheet]:
        """Give each sheet the letter it last changed with, and the date of that issue.

        On a sheet that has not changed there are no clouds: what they show does not show there.
        """
        if not self.issues or self.pending is None:
            return list(sheets)
        known = {i.letter: i.date for i in self.issues}
        found: list[Sheet] = []
        for sheet in map(imprinted, sheets):
            letter = self._letter(sheet)
            marks, note = sheet.marks, ""
            if self.shown is not None and any(m.ref == CLOUD for m in marks):
                changes_shown, tag = self.shown
                base = next((i for i in self.issues if i.letter == changes_shown.since), None)
                if base is not None and self._letter_in(base, sheet):
                    marks = tuple(m for m in marks if m.ref != CLOUD)
                else:
                    note = f"Cloud {tag}: changed since {changes_shown.since}"
            dated = known.get(letter, "")
            found.append(replace(sheet, marks=marks, letter=letter, dated=dated, note=note))
        return found

    def _letter(self, sheet: Sheet) -> str:
        """Return the letter a sheet last changed with."""
        last = self.issues[-1]
        letter = None
        if sheet.kind != PageKind.REVISIONS.value:
            letter = self._letter_in(last, sheet)
        if letter is None and self.pending is not None and self.pending.empty:
            # A sheet that was not issued at all says nothing new where nothing has changed.
            letter = last.letter
        return letter or last.letter + NOT_ISSUED

    def _letter_in(self, issued: Issued, sheet: Sheet) -> str | None:
        """Return the letter a sheet last changed with up to an issue.

        Where only a part of the set is printed, the sheets of the whole set that show the same
        tell; then it is the newest letter of them.

        Returns:
            The letter; empty if the sheet has changed since; None if none like it was issued.
        """
        kept = issued.letter_of(sheet.title, sheet.room, sheet.imprint)
        if kept:
            return kept
        if issued.form != form_of(self.choice):
            return None
        if self.whole is None:
            alike = any((s.title, s.room) == (sheet.title, sheet.room) for s in issued.sheets)
            return "" if alike else None
        if not any(_shows_of(s, sheet) for s in issued.sheets):
            return None
        letters = {
            issued.letter_of(s.title, s.room, s.imprint)
            for s in self._of_whole
            if _shows_of(s, sheet)
        }
        newest = [i.letter for i in self.issues if i.letter in letters]
        return newest[-1] if newest and "" not in letters else ""

    @cached_property
    def _of_whole(self) -> tuple[Sheet, ...]:
        """The sheets of the whole set, with their fingerprints."""
        return tuple(map(imprinted, self.whole())) if self.whole is not None else ()

    def numbers_then(self, sheets: Sequence[Sheet]) -> tuple[int, ...]:
        """Return the number each sheet had in the last issue; 0 for changed and new ones."""
        if not self.issues:
            return tuple(0 for _ in sheets)
        then = {(s.title, s.room, s.imprint): s.number for s in self.issues[-1].sheets}
        return tuple(then.get((s.title, s.room, s.imprint), 0) for s in map(imprinted, sheets))

    def changed(self, sheets: Sequence[Sheet]) -> tuple[bool, ...]:
        """Tell which sheets differ from the issue asked for; the revision list goes with any.

        Raises:
            EditError: If there is no such issue.
            ValueError: If it was printed on another paper or at another scale.
        """
        base = base_of(self.scheme.project, self.choice)
        listing = PageKind.REVISIONS.value
        found = [s.kind != listing and not self._letter_in(base, s) for s in map(imprinted, sheets)]
        whole = any(found)
        return tuple(c or (whole and s.kind == listing) for c, s in zip(found, sheets, strict=True))

    # --- clouds -------------------------------------------------------------------------

    def over(self, page: Drawings) -> DisplayList:
        """Return the clouds on the drawings of a page.

        Args:
            page: The drawings with their places.
        """
        if self.shown is None and not self.scheme.project.done:
            return ()
        taken = [text_box(m) for m in page.marks if isinstance(m, Text)]
        marks: list[Mark] = []
        for view, dx, dy in page.lies:
            lie = (page.scale.ratio, dx, dy)
            for drawn in (self._clouds(view, page, lie, taken), self._signs(view, lie, taken)):
                taken += [text_box(m) for m in drawn if isinstance(m, Text)]
                marks.extend(drawn)
        return tuple(marks)

    def _clouds(
        self, view: View, page: Drawings, lie: tuple[float, float, float], taken: Sequence[Box]
    ) -> DisplayList:
        if self.shown is None:
            return ()
        found, letter = self.shown
        areas = [moved(area, *lie) for area in self._areas(view, found, lie[0])]
        if view.surface is not None:
            areas += round_dimensions(view, found, page.marks, lie, self.scheme)
        return clouds(areas, letter, 1.0, taken, page.area)

    def _signs(
        self, view: View, lie: tuple[float, float, float], taken: Sequence[Box]
    ) -> DisplayList:
        """Return the signs of pieces that are cut or hung, where sheets are drawn."""
        if view.surface is None or view.about:
            return ()
        ratio, dx, dy = lie
        ref = view.surface.surface.ref
        return done_signs(
            self.scheme, ref, 1.0, taken, lambda p: (p[0] / ratio + dx, p[1] / ratio + dy)
        )

    def surface(self, ref: str) -> Surface | None:
        """Return a surface by its ref, or None."""
        return next(
            (s.surface for r in self.scheme.rooms for s in r.surfaces if s.surface.ref == ref),
            None,
        )

    def _areas(self, view: View, found: Changes, scale: float) -> tuple[Region, ...]:
        """Return what is clouded on a drawing, in its own mm."""
        kind, _, rest = view.about.partition(":")
        if kind == "piece":
            return self.on_piece(rest, found, scale)
        if kind == "sheet":
            return self.on_sheet(rest, found, scale)
        part = view.surface
        if part is None and kind == "timber" and view.room is not None:
            part = next((s for s in view.room.surfaces if s.surface.key == "ceiling"), None)
        if part is None:
            return ()
        own, outline = found.of(part.surface.ref), Region(part.surface.outline.outer)
        if kind == "fixing":
            return within(fixing_areas(own, outline, scale), view.window)
        shown = timber_of(own) if kind == "timber" else sheeting_of(own)
        return areas_of(shown, outline, scale)

    def _marks(self, found: Changes) -> dict[tuple[str, str], Change]:
        return {
            (s.ref, c.mark): c
            for s in found.surfaces
            for c in s.changes
            if c.subject is Subject.PIECE and c.clouded and c.kind not in _ELSEWHERE
        }

    def on_piece(self, piece_id: str, found: Changes, scale: float) -> tuple[Region, ...]:
        """Return what is clouded on the sheet of a piece, mm of the piece.

        Args:
            piece_id: Id of the piece.
            found: What has changed.
            scale: How many mm of the piece one mm of paper is.
        """
        changed = self._marks(found)
        for room in self.scheme.rooms:
            for s in room.surfaces:
                for p in s.set_out.pieces:
                    if p.id == piece_id and (s.surface.ref, p.mark) in changed:
                        return inset(Region(p.face_up.outer), scale)
        return ()

    def on_sheet(self, sheet_id: str, found: Changes, scale: float) -> tuple[Region, ...]:
        """Return what is clouded on a stock sheet, mm of the sheet.

        Args:
            sheet_id: Number of the sheet.
            found: What has changed.
            scale: How many mm of the sheet one mm of paper is.
        """
        changed = self._marks(found)
        ids = {
            p.id
            for room in self.scheme.rooms
            for s in room.surfaces
            for p in s.set_out.pieces
            if (s.surface.ref, p.mark) in changed
        }
        sheet = next((s for s in self.scheme.cut_plan.every if s.id == sheet_id), None)
        boxes = [
            Region.box(p.x, p.y, p.x + p.length, p.y + p.width)
            for p in (sheet.placements if sheet else ())
            if p.piece in ids
        ]
        return tuple(part for box in boxes for part in inset(box, 1.5 * scale))
