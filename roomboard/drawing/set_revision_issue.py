"""Issuing the printed set: its sheets are made once and kept by their fingerprints."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.revision_issue import issue
from roomboard.drawing.set_revision import form_of, issued_sheets
from roomboard.drawing.sheet_set import sheets_of

if TYPE_CHECKING:
    from roomboard.core.project import Project
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.set_choice import SetChoice
    from roomboard.drawing.sheet_set import Progress


def issue_set(
    scheme: Scheme,
    choice: SetChoice,
    *,
    date: str,
    note: str,
    by: str = "",
    letter: str = "",
    progress: Progress | None = None,
) -> Project:
    """Return the project with its set issued; the whole set is, whatever is chosen to be printed.

    Args:
        scheme: What is worked out.
        choice: Papers and scale of the set.
        date: Date of issue, year-month-day.
        note: What the issue is about.
        by: Who issues it.
        letter: Its letter; empty for the one after the last.
        progress: Told before each step of making the sheets.

    Raises:
        EditError: If the letter cannot be used, the note or date is missing, or nothing has changed
            since the last issue.
    """
    whole = replace(choice, kinds=(), rooms=(), changed_since="")
    sheets = issued_sheets(sheets_of(scheme, whole, date, progress=progress))
    return issue(
        scheme.project,
        scheme,
        sheets,
        date=date,
        note=note,
        by=by,
        letter=letter,
        form=form_of(choice),
    )
