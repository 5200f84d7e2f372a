"""What stands round the content of a page: frame, title block, legend, scale bar, disclaimer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from roomboard.core.project import Project, Units
from roomboard.drawing import _drafting
from roomboard.drawing.displaylist import (
    BASE_RIGHT,
    Box,
    DisplayList,
    Fill,
    Mark,
    Stroke,
    Text,
)
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.legend import LEGEND_SAMPLE, legend_layers, sample
from roomboard.drawing.lettering import (
    MARK,
    SMALLEST,
    TITLE,
    below,
    cap_height,
    line_pitch,
    text_width,
    wrapped,
)
from roomboard.drawing.paper import Page, Paper, Scale
from roomboard.drawing.sheet_fields import sheet_fields

DISCLAIMER = (
    "Layout aid. Check on site before cutting. Local code, standard and the board maker's "
    "system govern."
)
"""Stands on every page."""
CREATOR = "roomboard"
CENTRING = "centring"
"""Ref of the marks at the middle of the sheet's sides."""
INSET = 3.0
"""Space between the frame and what stands in it, mm."""
FOOT_INSET = 1.5
"""Space between the frame and the line at its foot, mm: little, so that it is one line."""
LIFT = 0.5
"""Space over and under the lines of a field of the title block, mm."""
LEGEND_CELL = 41.0
"""Lines of the legend stand at least this far apart, mm; a scale bar fits one cell."""
BAR = 28.0
"""The scale bar is no longer than this, mm."""
BESIDE = 60.0
"""The legend stands beside the title block where at least this much room is left, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One page before it has its number.

    Attributes:
        title: Its title.
        room: Name of its room, or empty.
        board: Boards drawn on it, or empty.
        finish: Level of finish, or empty.
        document: What kind of document it is.
        scale: Its scale, or None for tables.
        marks: What stands on it, mm of the page.
        unexplained: Layers its legend leaves out.
        kind: Which part of the set it belongs to.
        frame: What stands round it, once it is set.
        letter: Letter of the issue it last changed with; empty for the project's.
        dated: Date of that issue; empty for that of the set.
        note: What stands beside its title, where there is room; or empty.
        shows: The keys of the drawings on it that others lead to.
        imprint: Fingerprint of what stands on it, once it is compared with what was issued.
    """

    title: str
    room: str = ""
    board: str = ""
    finish: str = ""
    document: str = "Schedule"
    scale: Scale | None = None
    marks: DisplayList = ()
    unexplained: frozenset[str] = frozenset()
    kind: str = ""
    frame: PageFrame | None = None
    letter: str = ""
    dated: str = ""
    note: str = ""
    shows: tuple[str, ...] = ()
    imprint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """A field of the title block: its width, what stands before it and how wide that is."""

    width: float
    words: str
    caption: float
    lines: tuple[str, ...]


@dataclass(frozen=True)
class PageFrame:
    """Frames the pages of one set on one paper.

    Attributes:
        project: What stands in the title block.
        paper: Its size.
        dated: Date of issue.
    """

    project: Project
    paper: Paper
    dated: str

    @property
    def units(self) -> Units:
        """How lengths are written."""
        return self.project.units

    @property
    def disclaimer(self) -> tuple[str, ...]:
        """The disclaimer in lines as wide as the frame."""
        x0, _, x1, _ = self.paper.frame
        return wrapped(DISCLAIMER, x1 - x0 - 2 * FOOT_INSET)

    @property
    def block_width(self) -> float:
        """The width of the title block: that of the frame where little else would stand beside."""
        x0, _, x1, _ = self.paper.frame
        wide = _drafting.TITLE_BLOCK_WIDTH
        return wide if x1 - x0 - wide >= BESIDE else x1 - x0

    @property
    def block_foot(self) -> float:
        """Where the title block ends, over the disclaimer, mm."""
        return self.paper.frame[1] + line_pitch(SMALLEST) * len(self.disclaimer) + 1.5

    def title_rows(self, about: Sheet, number: str) -> list[list[_Field]]:
        """Return the rows of the title block."""
        project = self.project
        measured = ", ".join(w for w in (project.measured_by, project.measured_on) if w)
        values = {
            "owner": project.name,
            "title": f"{about.room}: {about.title}" if about.room else about.title,
            "room": about.room,
            "board": about.board,
            "finish": about.finish,
            "document": about.document,
            "creator": CREATOR,
            "measured": measured,
            "approved": "",
            "scale": about.scale.words if about.scale else "no scale",
            "units": "mm" if self.units is Units.METRIC else "ft, in",
            "date": about.dated or self.dated,
            "revision": about.letter or project.issue,
            "identification": project.id,
            "sheet": number,
        }
        rows: dict[int, list[_Field]] = {}
        for key, words, row, share in _drafting.TITLE_BLOCK:
            width = share * self.block_width
            caption = text_width(words, SMALLEST) + 2.2
            lines = wrapped(values[key], width - caption - 1.0, bold=True)
            rows.setdefault(row, []).append(
                _Field(width=width, words=words, caption=caption, lines=lines)
            )
        # Rows that would say nothing are left out: a table belongs to no room.
        return [rows[row] for row in sorted(rows) if any(any(f.lines) for f in rows[row])]

    def title_top(self, about: Sheet) -> float:
        """Return where the title block of a page begins, mm."""
        rows = self.title_rows(about, "000 of 000")
        return self.block_foot + sum(_field_height(row) for row in rows)

    def page(self, sheet: Sheet, number: int, count: int) -> Page:
        """Return a page with its frame, title block, legend and number."""
        x0, y0, x1, y1 = self.paper.frame
        marks: list[Mark] = [
            Stroke(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), layer="frame", closed=True)
        ]
        marks.extend(self.centring_marks())
        marks.extend(sheet_fields(self.paper))
        title = f"{sheet.room}: {sheet.title}" if sheet.room else sheet.title
        # A long title is written smaller; one of more than one line stands in full in the title
        # block.
        wide = x1 - x0 - 3 * INSET
        height = next((h for h in _TITLES if text_width(title, h, bold=True) <= wide), MARK)
        lines = wrapped(title, wide, height, bold=True)
        heading = lines[0] if len(lines) == 1 else f"{lines[0]}…"
        at = (x0 + INSET, y1 - INSET - cap_height(TITLE))
        marks.append(Text(at=at, text=heading, paper_height=height, bold=True))
        if sheet.note:
            beside = text_width(heading, height, bold=True) + text_width(sheet.note, SMALLEST)
            if beside <= wide:
                right = (x1 - INSET, at[1])
                marks.append(
                    Text(at=right, text=sheet.note, paper_height=SMALLEST, anchor=BASE_RIGHT)
                )
        marks.extend(sheet.marks)
        marks.extend(self.title_block(sheet, f"{number} of {count}"))
        if sheet.scale is not None:
            marks.extend(self.legend(sheet))
        foot = y0 + 1.5 + below(SMALLEST) * 0.5
        for line in reversed(self.disclaimer):
            at = (x0 + FOOT_INSET, foot)
            marks.append(Text(at=at, text=line, paper_height=SMALLEST))
            foot += line_pitch(SMALLEST)
        return Page(
            number=number,
            title=sheet.title,
            room=sheet.room,
            width=self.paper.width,
            height=self.paper.height,
            frame=self.paper.frame,
            marks=tuple(marks),
            document=self.project.name,
            creator=CREATOR,
            kind=sheet.kind,
        )

    def centring_marks(self) -> Iterator[Mark]:
        """Draw the marks at the middle of each side of the sheet, outside the frame."""
        x0, y0, x1, y1 = self.paper.frame
        x, y = self.paper.width / 2, self.paper.height / 2
        out = _drafting.CENTRING
        for ends in (
            ((x, y1), (x, y1 + out)),
            ((x, y0), (x, y0 - out)),
            ((x0, y), (x0 - out, y)),
            ((x1, y), (x1 + out, y)),
        ):
            yield Stroke(points=ends, layer="frame", ref=CENTRING)

    def title_block(self, sheet: Sheet, number: str) -> Iterator[Mark]:
        """Draw the title block at the lower right of the frame."""
        x1 = self.paper.frame[2]
        x0 = x1 - self.block_width
        rows = self.title_rows(sheet, number)
        y = self.title_top(sheet)
        yield Stroke(points=((x0, y), (x1, y)), layer="piece")
        foot = self.block_foot
        yield Stroke(points=((x0, foot), (x0, y)), layer="piece")
        yield Stroke(points=((self.paper.frame[0], foot), (x1, foot)), layer="title_block")
        pitch = line_pitch(SMALLEST)
        for row in rows:
            x = x0
            height = _field_height(row)
            for part in row:
                base = y - LIFT - cap_height(SMALLEST)
                yield Text(at=(x + 1.0, base), text=part.words, paper_height=SMALLEST)
                for line in part.lines:
                    if line:
                        at = (x + part.caption, base)
                        yield Text(at=at, text=line, paper_height=SMALLEST, bold=True)
                    base -= pitch
                x += part.width
                if x < x1 - 0.1:
                    yield Stroke(points=((x, y - height), (x, y)), layer="title_block")
            y -= height
            if y > foot + 0.1:
                yield Stroke(points=((x0, y), (x1, y)), layer="title_block")

    def legend_left(self) -> float:
        """Return how wide the legend may be: left of the title block, or over it."""
        x0, _, x1, _ = self.paper.frame
        beside = x1 - x0 - self.block_width
        return (beside if beside > 0.01 else x1 - x0) - 2 * INSET

    def legend_places(self, layers: Sequence[str]) -> list[tuple[int, int]]:
        """Return the row and the cell of each line of a legend; the first cell has the scale bar.

        Args:
            layers: What is explained, in order; long words take more than one cell.
        """
        cells = max(1, int(self.legend_left() / LEGEND_CELL))
        wide = self.legend_left() / cells
        row, cell = 0, 1
        found: list[tuple[int, int]] = []
        for name in layers:
            own = LEGEND_SAMPLE + 3.0 + text_width(LAYERS[name].words, SMALLEST)
            count = min(cells, math.ceil(own / wide))
            if cell + count > cells:
                row, cell = row + 1, 0
            found.append((row, cell))
            cell += count
        return found

    def legend_rows(self, layers: Sequence[str]) -> int:
        """Return how many rows a scale bar and a legend take."""
        return max((row for row, _ in self.legend_places(layers)), default=0) + 1

    def legend_foot(self, about: Sheet) -> float:
        """Return where the legend of a page ends, mm."""
        x0, _, x1, _ = self.paper.frame
        over = self.block_width >= x1 - x0 - 0.01
        return (self.title_top(about) if over else self.block_foot) + 1.0

    def legend_top(self, about: Sheet, rows: int) -> float:
        """Return where a legend of so many rows begins, mm."""
        return self.legend_foot(about) + rows * line_pitch(SMALLEST)

    def legend(self, sheet: Sheet) -> Iterator[Mark]:
        """Draw the scale bar and the lines used on a page, row by row."""
        layers = legend_layers(sheet.marks, sheet.unexplained)
        pitch = line_pitch(SMALLEST)
        x0 = self.paper.frame[0] + INSET
        top = self.legend_top(sheet, self.legend_rows(layers))
        step = self.legend_left() / max(1, int(self.legend_left() / LEGEND_CELL))
        if sheet.scale is not None:
            yield from self.scale_bar(sheet.scale, x0, top - pitch / 2 - 0.75)
        for name, (row, cell) in zip(layers, self.legend_places(layers), strict=True):
            x = x0 + cell * step
            y = top - row * pitch - pitch / 2
            yield from sample(name, x, y)
            at = (x + LEGEND_SAMPLE + 1.5, y - SMALLEST / 2)
            yield Text(at=at, text=LAYERS[name].words, paper_height=SMALLEST)

    def scale_bar(self, scale: Scale, x: float, y: float) -> Iterator[Mark]:
        """Draw a bar of a round length of the room with its length beside it."""
        metric = self.units is Units.METRIC
        unit = 1000.0 if metric else 12 * 25.4
        steps = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0) if metric else _FEET
        fits = [s for s in steps if s * unit / scale.ratio <= BAR] or [steps[0]]
        length = fits[-1]
        paper = length * unit / scale.ratio
        half = paper / 2
        for number in range(2):
            a, b = x + number * half, x + (number + 1) * half
            ring = ((a, y), (b, y), (b, y + 1.5), (a, y + 1.5))
            yield Fill(rings=(ring,), layer="lettering", tone=0.0 if number == 0 else 1.0)
            yield Stroke(points=ring, layer="title_block", closed=True)
        words = f"{length:g} m" if metric else f"{length:g} ft"
        yield Text(at=(x + paper + 1.5, y + 0.75 - SMALLEST / 2), text=words, paper_height=SMALLEST)

    def area(self, about: Sheet, rows: int = 1) -> Box:
        """Return where the content of a page stands, with so many rows of legend at its foot."""
        x0, _, x1, y1 = self.paper.frame
        foot = self.title_top(about)
        if about.scale is not None:
            foot = max(foot, self.legend_top(about, rows))
        head = cap_height(TITLE) + below(TITLE) + INSET / 2
        return (x0 + INSET, foot + INSET / 2, x1 - INSET, y1 - INSET - head)


_TITLES = (TITLE, (TITLE + MARK) / 2, MARK)
_FEET = (0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0)


def _field_height(row: list[_Field]) -> float:
    """Return the height of a row of the title block."""
    count = max(len(part.lines) for part in row)
    tall = cap_height(SMALLEST) + below(SMALLEST)
    return tall + (count - 1) * line_pitch(SMALLEST) + 2 * LIFT
