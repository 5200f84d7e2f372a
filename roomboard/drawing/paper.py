"""Paper, frames and scales."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.drawing import _drafting
from roomboard.drawing.displaylist import Box, DisplayList


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A drawing's scale.

    Attributes:
        ratio: How many mm of the room one mm of paper is.
        words: How it is written, e.g. ``"1:25"``.
    """

    ratio: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A size of paper as it is printed: the small ones upright, the large ones lying.

    Attributes:
        name: ``"A4"``, ``"A3"``, ``"Letter"`` or ``"Tabloid"``.
        width: mm.
        height: mm.
        system: ``"metric"`` or ``"imperial"``: which scales go with it.
        lists: Name of the paper for tables where drawings are on this one; empty for itself.
    """

    name: str
    width: float
    height: float
    system: str
    lists: str = ""

    @property
    def frame(self) -> Box:
        """The frame inside the margins, filing margin on the left, mm."""
        filing, other = _drafting.MARGINS["filing"], _drafting.MARGINS["other"]
        return (filing, other, self.width - other, self.height - other)

    @property
    def scales(self) -> tuple[Scale, ...]:
        """The scales that go with it, the largest drawing first."""
        return tuple(
            Scale(ratio=ratio, words=words)
            for system, ratio, words in _drafting.SCALES
            if system == self.system
        )


PAPERS: dict[str, Paper] = {
    name: Paper(
        name=name, width=width, height=height, system=system, lists=_drafting.LIST_PAPERS[name]
    )
    for name, (width, height, system) in _drafting.PAPERS.items()
}
"""Every size of paper by name."""


def paper_named(name: str) -> Paper:
    """Return a size of paper by its name, in capitals or small letters.

    Raises:
        ValueError: If there is no such size; the text names those there are.
    """
    for known, paper in PAPERS.items():
        if known.lower() == name.strip().lower():
            return paper
    raise ValueError(f"There is no paper called {name!r}; use {', '.join(PAPERS)}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page, ready to be printed.

    Attributes:
        number: From 1.
        title: Its title.
        room: Name of its room, or empty.
        width: mm.
        height: mm.
        frame: Inside of its frame, mm; all lettering lies in it.
        marks: What is on it, mm from the lower left corner.
        document: Title of the whole set.
        creator: What made it.
        kind: Which part of the set it belongs to, a value of ``PageKind``, or empty.
    """

    number: int
    title: str
    room: str
    width: float
    height: float
    frame: Box
    marks: DisplayList
    document: str
    creator: str
    kind: str = ""
