"""Issuing: the set is kept under a letter, and compared with what came later."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError
from roomboard.core.revision import Issued, IssuedSheet, is_letter, next_letter
from roomboard.core.revision_changes import Changes, between
from roomboard.core.revision_imprint import imprint
from roomboard.core.revision_words import lies

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.project import Project
    from roomboard.core.scheme import Scheme


def changes(issued: Issued, scheme: Scheme) -> Changes:
    """Return what has changed since an issue.

    Args:
        issued: The issue.
        scheme: What is worked out now.
    """
    return compare(issued, imprint(scheme), scheme)


def compare(old: Issued, new: Issued, scheme: Scheme) -> Changes:
    """Return what differs between two issues, in the words and units of a scheme's project."""
    names = {b.id: b.name for b in scheme.catalogue.boards}
    units = scheme.project.units
    return between(old, new, lambda mm: lies(mm, units), lambda b: names.get(b, b))


def issue_of(project: Project, letter: str) -> Issued:
    """Return an issue by its letter.

    Args:
        project: The project.
        letter: Its letter; empty for the last issue.

    Raises:
        EditError: If there is no such issue; the sentence names those there are.
    """
    if not project.issues:
        raise EditError("Nothing has been issued yet; issue the set first.")
    if not letter:
        return project.issues[-1]
    found = next((i for i in project.issues if i.letter == letter.strip().upper()), None)
    if found is None:
        known = ", ".join(i.letter for i in project.issues)
        raise EditError(f"There is no issue {letter}; there are {known}.")
    return found


def issue(
    project: Project,
    scheme: Scheme,
    sheets: Sequence[IssuedSheet],
    *,
    date: str,
    note: str,
    by: str = "",
    letter: str = "",
    form: str = "",
) -> Project:
    """Issue the set: keep what is worked out under a letter.

    Args:
        project: The project.
        scheme: What was worked out for it.
        sheets: The printed sheets in order, still without letters.
        date: Date of issue, year-month-day.
        note: What the issue is about.
        by: Who issues it.
        letter: Its letter; empty for the one after the last.
        form: Papers and scale the sheets were made with.

    Raises:
        EditError: If the letter cannot be used, the note or date is missing, or nothing has changed
            since the last issue.
    """
    check_note(note)
    if not date:
        raise EditError("An issue needs its date; give year-month-day, e.g. 2025-03-31.")
    used = letter_for(project, letter)
    last = project.issues[-1] if project.issues else None
    if last is not None and last.form == form:
        known = {(s.title, s.room, s.imprint) for s in last.sheets}
        same = all((s.title, s.room, s.imprint) in known for s in sheets)
        if same and changes(last, scheme).empty:
            raise EditError(
                f"Nothing has changed since issue {last.letter} of {last.date}; there is nothing "
                "to issue."
            )

    def lettered(sheet: IssuedSheet) -> IssuedSheet:
        kept = last.letter_of(sheet.title, sheet.room, sheet.imprint) if last else ""
        return replace(sheet, letter=kept or used)

    made = replace(
        imprint(scheme),
        letter=used,
        date=date,
        by=by.strip(),
        note=note.strip(),
        form=form,
        sheets=tuple(lettered(s) for s in sheets),
    )
    return replace(project, issue=used, issues=(*project.issues, made))


def check_note(note: str) -> None:
    """Refuse an issue without a note.

    Raises:
        EditError: If there is none.
    """
    if not note.strip():
        raise EditError("An issue needs a note; say in a few words what it is about.")


def letter_for(project: Project, letter: str = "") -> str:
    """Return the letter that a new issue gets.

    Args:
        project: The project.
        letter: The letter wanted; empty for the one after the last.

    Raises:
        EditError: If it cannot be used.
    """
    if letter:
        wanted = letter.strip().upper()
        if not is_letter(wanted):
            raise EditError(f"“{letter}” is no letter of an issue; give one or two, e.g. B or AB.")
    elif project.issues:
        wanted = next_letter(project.issues[-1].letter)
    else:
        wanted = project.issue.strip().upper()
        wanted = wanted if is_letter(wanted) else next_letter("")
    if not wanted:
        raise EditError("No letter follows that of the last issue; give one yourself.")
    if any(i.letter == wanted for i in project.issues):
        raise EditError(f"There is an issue {wanted} already; give a letter that is free.")
    return wanted
