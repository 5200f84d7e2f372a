"""The checklist of the day the boards go up: what is done before hanging."""

from __future__ import annotations

import re

from roomboard.core.practice import ADVICE, Practice, Status
from roomboard.core.project import Units
from roomboard.drawing._checklist import ITEMS, SOURCES
from roomboard.drawing.figure_words import figure_in_words
from roomboard.drawing.flow import Column, Table

BOX = "☐"
"""A box to tick."""
HAND = 46.0
"""Room to write by hand, mm."""
_KEY = re.compile(r"\{([\w.]+)\}")


def _said(text: str, without: str, practice: Practice, units: Units) -> tuple[str, tuple[str, ...]]:
    """Return an entry with its figures, and where they come from."""
    keys = _KEY.findall(text)
    if not all(practice.has(key) for key in keys):
        return without, ()
    figures = {key: practice.figure(key) for key in keys}
    words = _KEY.sub(lambda m: figure_in_words(figures[m[1]], units), text)
    return words, tuple(str(figures[key].citation) for key in keys)


def _source(name: str) -> str:
    """Return where an entry comes from; nothing for common practice, which is said once."""
    document, edition, status = SOURCES[name]
    if Status(status) is Status.PRACTICE:
        return ""
    advice = ADVICE[Status(status)]
    named = ", ".join(part for part in (document, edition) if part)
    return f"{named} ({advice})" if named and advice else named or advice


def checklist_table(practice: Practice, units: Units) -> tuple[Table, tuple[str, ...]]:
    """Return what to look at on the day the boards go up, with boxes to tick.

    Args:
        practice: The pack, for the figures.
        units: How they are written.

    Returns:
        The table, and the sources in the order of the numbers in its entries, from 1.
    """
    sources: dict[str, int] = {}
    groups: dict[str, list[tuple[str, ...]]] = {}
    for _, group, text, without, source in ITEMS:
        words, cited = _said(text, without, practice, units)
        # The document of a figure says more than that the entry itself is common practice.
        named = dict.fromkeys(cited or (_source(source),))
        numbers = [sources.setdefault(name, len(sources) + 1) for name in named if name]
        tail = f" [{', '.join(str(n) for n in numbers)}]" if numbers else ""
        groups.setdefault(group, []).append((BOX, words + tail, ""))
    table = Table(
        columns=(
            Column(title="Done"),
            Column(title="What to look at"),
            Column(title="Found, by whom", least=HAND),
        ),
        rows=tuple(row for group, rows in groups.items() for row in ((group,), *rows)),
    )
    return table, tuple(sources)
