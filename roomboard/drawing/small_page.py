"""Small pages with a head and a foot, upright or lying, for a telephone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from roomboard.drawing.displaylist import Across, Box, Mark, Stroke, Text, Up
from roomboard.drawing.labels import shortened
from roomboard.drawing.lettering import MARK, SMALLEST, below, line_pitch, text_width, wrapped
from roomboard.drawing.page_frame import CREATOR, DISCLAIMER
from roomboard.drawing.paper import Page

SPACE = 2.0
"""Between head, content and foot, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallPage:
    """How a small page is set.

    Attributes:
        width: mm.
        height: mm.
        margin: Blank round it, mm.
        project: Title of the job.
        issue: Issue of the set and its date, as they are printed.
        title: What the page is called.
        room: Name of its room, or empty.
    """

    width: float
    height: float
    margin: float
    project: str
    issue: str
    title: str
    room: str = ""

    @property
    def inner(self) -> float:
        """Width inside the margins, mm."""
        return self.width - 2 * self.margin

    @property
    def head(self) -> tuple[str, ...]:
        """The lines over the content."""
        words = f"{self.room}: {self.title}" if self.room else self.title
        return wrapped(words, self.inner, MARK, bold=True)

    @property
    def foot(self) -> tuple[str, ...]:
        """The lines under the content, save the one with the number."""
        return wrapped(f"{DISCLAIMER} {self.issue}", self.inner)

    @property
    def area(self) -> Box:
        """Where the content stands, mm."""
        low = self.margin + (len(self.foot) + 1) * line_pitch(SMALLEST) + SPACE
        high = self.height - self.margin - len(self.head) * line_pitch(MARK) - SPACE
        return (self.margin, low, self.width - self.margin, high)

    def page(self, content: Sequence[Mark], number: int, count: int) -> Page:
        """Return the page.

        Args:
            content: What stands in its area.
            number: Its number, from 1.
            count: How many pages there are.
        """
        left, right = self.margin, self.width - self.margin
        marks: list[Mark] = []
        y = self.height - self.margin - MARK
        for line in self.head:
            marks.append(Text(at=(left, y), text=line, paper_height=MARK, bold=True))
            y -= line_pitch(MARK)
        marks.extend(content)
        pitch = line_pitch(SMALLEST)
        top = self.margin + (len(self.foot) + 1) * pitch + below(SMALLEST) / 2
        marks.append(Stroke(points=((left, top), (right, top)), layer="title_block"))
        counted = f"{number} of {count}"
        said = shortened(self.project, self.inner - text_width(counted, SMALLEST) - SMALLEST)
        y = self.margin + len(self.foot) * pitch + below(SMALLEST)
        anchor = (Across.RIGHT, Up.BASE)
        marks.append(Text(at=(right, y), text=counted, paper_height=SMALLEST, anchor=anchor))
        for line in (said, *self.foot):
            marks.append(Text(at=(left, y), text=line, paper_height=SMALLEST))
            y -= pitch
        return Page(
            number=number,
            title=self.title,
            room=self.room,
            width=self.width,
            height=self.height,
            frame=(0.0, 0.0, self.width, self.height),
            marks=tuple(marks),
            document=self.project,
            creator=CREATOR,
        )
