"""The revision list: issues, what has changed by piece mark, what to buy more and send back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.revision import Issued
from roomboard.core.revision_changes import ChangeKind, Changes, SurfaceChanges
from roomboard.drawing.flow import Block, Column, Heading, Paragraph, Table
from roomboard.drawing.order import SEVERAL, bought_in
from roomboard.drawing.set_revision import NOT_ISSUED, Revision

if TYPE_CHECKING:
    from roomboard.core.project import Units
    from roomboard.drawing.page_frame import Sheet

NONE_KEPT = "Nothing was issued before: a sheet with another letter is void."
"""Stands on the list of a set that was never issued."""
VOID = (
    "Each sheet has the letter it last changed with. A sheet with another letter than it has here "
    "is void."
)
"""Stands under the issues."""
MARKS = (
    "Marks count along the courses from their start: where a piece comes in or falls away, those "
    "after it get other marks though they have not changed; the list says what they were called."
)
"""Stands over what has changed."""
FINE = 2
"""Amounts of the order are written to so many decimals; to one where they are worked out in
other units."""
MANY = {"is": "are", "lies": "lie", "has its": "have their", "has": "have"}
"""How a change begins that is one of several marks, by how it does for one."""
EACH = "each"
"""A unit of the order that is not written here."""


def revision_blocks(revision: Revision, sheets: Sequence[Sheet], dated: str) -> list[Block]:
    """Return what the revision list says before the sheets of the set.

    Args:
        revision: The issues.
        sheets: All other sheets, in order, with their letters.
        dated: Date of the set.
    """
    project = revision.scheme.project
    if not revision.issues or revision.pending is None:
        row = (project.issue, dated, f"{len(sheets)} sheets and this list", "", "")
        return [_issues_table((row,)), Paragraph(text=NONE_KEPT)]
    rows = [
        (i.letter, i.date, i.note, i.by, _sheets_of(i, first=n == 0))
        for n, i in enumerate(revision.issues)
    ]
    last = revision.issues[-1]
    letter = f"{last.letter}{NOT_ISSUED}"
    fresh = [n for n, s in enumerate(sheets, 1) if s.letter == letter]
    if fresh or not revision.pending.empty:
        words = f"Changed since {last.letter}; not issued: do not cut by it"
        rows.append((letter, dated, words, "", _numbers(fresh)))
    parts: list[Block] = [_issues_table(tuple(rows)), Paragraph(text=VOID)]
    shown = revision.shown
    if shown is None:
        return parts
    found, mark = shown
    parts += [
        Heading(text=f"What has changed since {found.since}"),
        Paragraph(text=f"Clouds with {mark} stand round it on the drawings. {MARKS}"),
        *change_blocks(found),
        *order_blocks(found, project.units),
    ]
    return parts


def _issues_table(rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(
        columns=(
            Column(title="Rev."),
            Column(title="Date of issue", unbroken=True),
            Column(title="What"),
            Column(title="By"),
            Column(title="Sheets changed"),
        ),
        rows=rows,
    )


def _sheets_of(issued: Issued, *, first: bool) -> str:
    own = [s.number for s in issued.sheets if s.letter == issued.letter]
    if first or len(own) == len(issued.sheets):
        return f"all {len(issued.sheets)}"
    return _numbers(own)


def _numbers(numbers: Sequence[int]) -> str:
    """Return numbers of sheets, runs of them shortened: ``"3, 5 to 8"``."""
    runs: list[tuple[int, int]] = []
    for n in numbers:
        if runs and runs[-1][1] == n - 1:
            runs[-1] = (runs[-1][0], n)
        else:
            runs.append((n, n))
    parts = []
    for a, b in runs:
        parts.append(str(a) if a == b else f"{a}, {b}" if b == a + 1 else f"{a} to {b}")
    return ", ".join(parts) or "none"


def change_blocks(found: Changes) -> list[Block]:
    """Return what has changed, surface by surface."""
    parts: list[Block] = []
    rows = [(s.name, words) for s in found.surfaces for words in _sentences(s)]
    if rows:
        seen: set[str] = set()
        shown = []
        for name, words in rows:
            shown.append(("" if name in seen else name, words))
            seen.add(name)
        parts.append(
            Table(columns=(Column(title="Surface"), Column(title="Change")), rows=tuple(shown))
        )
    else:
        parts.append(Paragraph(text="No surface has changed."))
    if found.untouched:
        parts.append(Paragraph(text=f"Not touched: {'; '.join(found.untouched)}."))
    return parts


def _sentences(surface: SurfaceChanges) -> list[str]:
    """Return the changes of a surface as sentences; what is the same of many marks is one."""
    said: dict[str, list[str]] = {}
    recut = [c.mark for c in surface.changes if c.kind is ChangeKind.RECUT]
    for c in surface.changes:
        if c.kind is ChangeKind.RECUT:
            continue
        head = f"{c.mark} "
        rest = c.words[len(head) :] if c.mark and c.words.startswith(head) else ""
        key = rest or c.words
        said.setdefault(f"\0{key}" if rest else key, []).append(c.mark)
    found = []
    for key, marks in said.items():
        if key.startswith("\0"):
            found.append(_together(marks, key[1:]))
        else:
            found.append(f"{key[:1].upper()}{key[1:]}.")
    if recut:
        found.append(f"Cut from other stock sheets than before: {', '.join(recut)}.")
    return found


def _together(marks: Sequence[str], words: str) -> str:
    if len(marks) == 1:
        return f"{marks[0]} {words}."
    named = f"{', '.join(marks[:-1])} and {marks[-1]}"
    many = re.sub(r"(^|, )(is|lies|has its|has)(?= )", lambda m: m[1] + MANY[m[2]], words)
    return f"{named} {many}." if many != words else f"{named}: {words}."


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderChange:
    """A line of the order that has changed, as it is bought.

    Attributes:
        name: In words.
        unit: What it is bought in.
        was: How much was ordered.
        now: How much is wanted.
    """

    name: str
    unit: str
    was: float
    now: float

    @property
    def more(self) -> float:
        """How much more is wanted; below 0, how much can go back."""
        return round(self.now - self.was, FINE)

    def words(self, amount: float) -> str:
        """Write an amount of it."""
        name = self.unit if amount == 1 else SEVERAL.get(self.unit, self.unit)
        if self.unit == EACH:
            name = ""
        return f"{amount:.{FINE}f}".rstrip("0").rstrip(".") + (f" {name}" if name else "")


def order_changes(found: Changes, units: Units) -> tuple[OrderChange, ...]:
    """Return the lines of the order that have changed by as much as is written.

    Args:
        found: What has changed.
        units: The project's units.
    """
    lines = []
    for line in found.lines:
        unit, size = bought_in(line.unit, units)
        places = FINE if size == 1.0 else 1
        was, now = (round(amount / size, places) for amount in (line.was, line.now))
        if was != now:
            lines.append(OrderChange(name=line.name, unit=unit, was=was, now=now))
    return tuple(lines)


def order_blocks(found: Changes, units: Units) -> list[Block]:
    """Return what to buy more and what can go back.

    Args:
        found: What has changed.
        units: The project's units.
    """
    changed = order_changes(found, units)
    if not changed:
        return [Paragraph(text="The order stays as it was issued.")]
    more = [line for line in changed if line.more > 0]
    less = [line for line in changed if line.more < 0]
    parts: list[Block] = []
    for title, lines in (("Buy more", more), ("Send back, or do not buy", less)):
        if lines:
            parts += [Heading(text=title), _lines_table(lines)]
    return parts


def _lines_table(lines: Sequence[OrderChange]) -> Table:
    return Table(
        columns=(
            Column(title="Item"),
            Column(title="Ordered", right=True),
            Column(title="Wanted", right=True),
            Column(title="Difference", right=True),
        ),
        rows=tuple(
            (line.name, line.words(line.was), line.words(line.now), line.words(abs(line.more)))
            for line in lines
        ),
    )


def change_lines(found: Changes, units: Units) -> list[str]:
    """Return everything that has changed as plain lines of text, for the command line.

    Args:
        found: What has changed.
        units: The project's units.
    """
    lines: list[str] = []
    for s in found.surfaces:
        lines.append(f"{s.name}:")
        lines += [f"  {words}" for words in _sentences(s)]
    if found.untouched:
        lines.append(f"Not touched: {'; '.join(found.untouched)}.")
    return lines + order_words(found, units)


def order_words(found: Changes, units: Units) -> list[str]:
    """Return what to buy more and what to send back, as sentences.

    Args:
        found: What has changed.
        units: The project's units.
    """
    lines: list[str] = []
    for line in order_changes(found, units):
        way = "buy more" if line.more > 0 else "send back"
        lines.append(
            f"Order: {line.name}: {way} {line.words(abs(line.more))} "
            f"({line.words(line.now)}, was {line.words(line.was)})."
        )
    return lines
