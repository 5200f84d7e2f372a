"""An offcut on site as it is typed, such as ``3 of 2100 x 650 recessed 1 board std10``."""

from __future__ import annotations

import re
from itertools import islice
from typing import TYPE_CHECKING

from roomboard.core.cutting.on_site import lying
from roomboard.core.project import SiteOffcut
from roomboard.core.units import Refusal, read_length, write_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.project import Units

EXAMPLE = {
    "metric": "2 of 2100 x 650 recessed 1",
    "feet-inches": "2 of 7' x 2'-2\" recessed 1",
}
"""What one can be typed like, by the units of the job."""
MOST = 99
"""No more of one kind are listed in one line."""
EDGES = {"0": 0, "1": 1, "2": 2, "none": 0, "one": 1, "both": 2}
EDGE_WORDS = ("no long edge recessed", "one long edge recessed", "both long edges recessed")
_COUNT = re.compile(r"\s*(\d+)\s+of\s+", re.IGNORECASE)
_TIMES = re.compile(r"\s*(?:[x×]|\bby\b)\s*", re.IGNORECASE)
_TAIL = re.compile(r"\s+(recessed|board|note)\s+", re.IGNORECASE)
_SIZES = 2


def read_offcut(text: str, units: Units, *, ident: str, board: str) -> SiteOffcut | Refusal:
    """Read an offcut: how many of it, length along the sheet and width, edges, board, note.

    Args:
        text: What was typed.
        units: How bare numbers are read.
        ident: Its id.
        board: Board id where none is typed.

    Returns:
        The offcut, or why it cannot be read. Whether there is such a board is not asked here.
    """
    such = f"type it such as: {EXAMPLE[units.value]}."
    count = _COUNT.match(text)
    rest = text[count.end() :] if count else text
    many = int(count[1]) if count else 1
    if not 1 <= many <= MOST:
        return Refusal(text, f"“{many} of” is no number of offcuts; give 1 to {MOST}.")
    note_at = re.search(r"\s+note\s+", rest, re.IGNORECASE)
    note = " ".join(rest[note_at.end() :].split()) if note_at else ""
    head, *tails = _TAIL.split(rest[: note_at.start()] if note_at else rest)
    words = [w.lower() for w in tails[::2]]
    given = dict(zip(words, (t.strip() for t in tails[1::2]), strict=True))
    if len(given) != len(words):
        return Refusal(text, f"“{text.strip()}” says the same twice; {such}")
    edges = given.get("recessed", "0").lower()
    if edges not in EDGES:
        return Refusal(
            text, f"“recessed {edges}” is not how many long edges are recessed; give 0, 1 or 2."
        )
    parts = _TIMES.split(head.strip())
    if len(parts) != _SIZES:
        return Refusal(
            text, f"“{text.strip()}” needs a length and a width with x between them; {such}"
        )
    sizes: list[float] = []
    for part in parts:
        read = read_length(part, units)
        if isinstance(read, Refusal):
            return read
        if read.mm <= 0:
            return Refusal(text, f"“{part}” is no size of an offcut; give one above 0.")
        sizes.append(read.mm)
    return SiteOffcut(
        id=ident,
        board=given.get("board", board),
        length=sizes[0],
        width=sizes[1],
        recessed=EDGES[edges],
        count=many,
        note=note,
    )


def offcut_text(offcut: SiteOffcut, units: Units) -> str:
    """Return an offcut as :func:`read_offcut` reads it again."""
    many = f"{offcut.count} of " if offcut.count > 1 else ""
    size = f"{write_length(offcut.length, units)} x {write_length(offcut.width, units)}"
    note = f" note {offcut.note}" if offcut.note else ""
    return f"{many}{size} recessed {offcut.recessed} board {offcut.board}{note}"


def numbers_of(offcuts: Sequence[SiteOffcut]) -> dict[str, tuple[str, ...]]:
    """Return by id the numbers on drawings of all offcuts of one line, e.g. ``("OC2", "OC3")``."""
    names = (x.name for x in lying(offcuts))
    return {o.id: tuple(islice(names, o.count)) for o in offcuts}


def in_a_run(numbers: Sequence[str]) -> str:
    """Return numbers that follow each other in words: ``"OC2 to OC4"``."""
    return " to ".join(dict.fromkeys((numbers[0], numbers[-1])))
