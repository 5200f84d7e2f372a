"""Lettering measured by the one bundled font, and lines broken to a width."""

from __future__ import annotations

from functools import cache, lru_cache

from roomboard.drawing import _dejavu_widths
from roomboard.drawing._drafting import LETTERING

SMALLEST = LETTERING["smallest"]
"""Height of the capitals of plain lettering, mm on paper; nothing is smaller."""
MARK = LETTERING["mark"]
"""Height of the capitals of piece marks and headings, mm on paper."""
TITLE = LETTERING["title"]
"""Height of the capitals of the title of a page, mm on paper."""

CAP = _dejavu_widths.CAP_HEIGHT / _dejavu_widths.UNITS_PER_SIZE
"""Height of a capital, in sizes of the type."""
TAIL, RISE = 0.24, 0.8
"""How far letters reach below the line and above it, in sizes of the type."""
LEADING = 1.3
"""Distance between lines, in sizes of the type."""


@cache
def _widths(bold: bool) -> tuple[dict[str, int], int]:  # noqa: FBT001 - a key of the cache
    """Return the advance width of every character, and that of a missing one."""
    text = _dejavu_widths.BOLD if bold else _dejavu_widths.REGULAR
    missing = _dejavu_widths.BOLD_MISSING if bold else _dejavu_widths.REGULAR_MISSING
    found: dict[str, int] = {}
    for line in text.splitlines():
        first, *widths = line.split()
        code = int(first, 16)
        for number, width in enumerate(widths):
            found[chr(code + number)] = int(width)
    return found, missing


@lru_cache(maxsize=20_000)
def _units(text: str, bold: bool) -> int:  # noqa: FBT001 - a key of the cache
    widths, missing = _widths(bold)
    return sum(widths.get(c, missing) for c in text)


def type_size(paper_height: float) -> float:
    """Return the size of the type whose capitals have a height, mm."""
    return paper_height / CAP


def below(paper_height: float) -> float:
    """Return how far letters reach below their line, mm."""
    return TAIL * type_size(paper_height)


def cap_height(paper_height: float) -> float:
    """Return how far letters reach above their line, mm; a little more than the capitals."""
    return RISE * type_size(paper_height)


def line_pitch(paper_height: float) -> float:
    """Return the distance from line to line, mm."""
    return LEADING * type_size(paper_height)


def text_width(text: str, paper_height: float, *, bold: bool = False) -> float:
    """Return the width of a line of lettering, mm.

    Args:
        text: What it says.
        paper_height: Height of its capitals, mm.
        bold: Whether it is in the bold face.
    """
    return _units(text, bold) * type_size(paper_height) / _dejavu_widths.UNITS_PER_SIZE


@lru_cache(maxsize=16384)
def wrapped(
    text: str, width: float, paper_height: float = SMALLEST, *, bold: bool = False
) -> tuple[str, ...]:
    """Break text into lines no wider than a width; a word wider than that is broken itself.

    Args:
        text: What is to be said; line breaks in it are kept.
        width: mm.
        paper_height: Height of its capitals, mm.
        bold: Whether it is in the bold face.
    """
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for whole in paragraph.split():
            word = whole
            longer = f"{line} {word}" if line else word
            if text_width(longer, paper_height, bold=bold) <= width:
                line = longer
                continue
            if line:
                lines.append(line)
            while len(word) > 1 and text_width(word, paper_height, bold=bold) > width:
                count = _fits(word, width, paper_height, bold=bold)
                lines.append(word[:count])
                word = word[count:]
            line = word
        lines.append(line)
    return tuple(lines)


def _fits(word: str, width: float, paper_height: float, *, bold: bool) -> int:
    """Return how many characters of a word fit a width, at least one."""
    count = 1
    while count < len(word) and text_width(word[: count + 1], paper_height, bold=bold) <= width:
        count += 1
    return count
