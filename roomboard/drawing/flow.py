"""Headings, paragraphs, tables and pictures set one under the other, page after page."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from roomboard.drawing.displaylist import (
    BASE_LEFT,
    BASE_RIGHT,
    Box,
    DisplayList,
    Mark,
    Stroke,
    Text,
    placed,
)
from roomboard.drawing.lettering import (
    MARK,
    SMALLEST,
    below,
    cap_height,
    line_pitch,
    text_width,
    wrapped,
)

PAD = 1.2
"""Space at the sides of a table's cells, mm."""
CELL_LIFT = 0.5
"""Space over and under the lines of a cell, mm."""
TIGHT = 0.4
"""Space after a paragraph that the next block follows closely, mm."""
AFTER = 3.0
"""Space after a block, mm."""
LONG_ROW = 6
"""A row of at least this many lines may be broken over pages."""
KEEP = 24.0
"""A heading wants at least this much of the page under it, mm."""
WIDEST_WORD = 0.34
"""A word wider than this share of the table is broken rather than widening its column."""

POWERS = (1.0, 0.5, 2.0, 4.0)
"""Powers of what columns want by which what is left is shared among them."""
LITTLE = 4.0
"""A column is given this much more than its longest word before others share what is left, mm."""
LINES = re.compile(r"\n")
"""Breaks a cell only where it says so itself."""
PAIRS = re.compile(r"\n|(?<=/) ")
"""Breaks a cell between the two numbers of a taper as well, as in ``3019 / 3028``."""
WORDS = re.compile(r"\s+")
"""Breaks a cell between all words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading over what follows."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Running text.

    Attributes:
        text: What it says.
        bold: Whether it is in the bold face.
        tight: Whether the next paragraph follows closely.
    """

    text: str
    bold: bool = False
    tight: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table.

    Attributes:
        title: What stands over it.
        right: Whether its cells stand to the right (numbers).
        unbroken: Whether the lines of its cells are not broken; those of numbers never are.
        least: It is at least this wide, mm: room to write by hand.
        layer: Layer of the lettering in its cells.
    """

    title: str
    right: bool = False
    unbroken: bool = False
    least: float = 0.0
    layer: str = "lettering"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; its head is repeated on every page.

    Attributes:
        columns: Left to right.
        rows: Each as long as the columns, or one cell that stands over the rows after it.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing on paper, its lower left corner at zero.

    Attributes:
        marks: The drawing, mm of paper.
        width: mm.
        height: mm.
        caption: What is written under it.
    """

    marks: DisplayList
    width: float
    height: float
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPage:
    """What follows begins a page."""


Block = Heading | Paragraph | Table | Picture | NewPage


@dataclass
class _Setter:
    """Sets blocks from the top of an area down."""

    area: Box
    pages: list[list[Mark]] = field(default_factory=lambda: [[]])
    y: float = 0.0

    @property
    def page(self) -> list[Mark]:
        return self.pages[-1]

    @property
    def left(self) -> float:
        return self.y - self.area[1]

    @property
    def width(self) -> float:
        return self.area[2] - self.area[0]

    @property
    def at_top(self) -> bool:
        return self.y >= self.area[3] - 0.01

    def turn(self) -> None:
        self.pages.append([])
        self.y = self.area[3]

    def lines(self, lines: Sequence[str], height: float, *, bold: bool) -> None:
        pitch = line_pitch(height)
        for line in lines:
            if self.left < pitch and not self.at_top:
                self.turn()
            at = (self.area[0], self.y - cap_height(height))
            self.page.append(Text(at=at, text=line, paper_height=height, bold=bold))
            self.y -= pitch

    def heading(self, block: Heading, after: Sequence[Block]) -> None:
        """Set a heading, on the page where what it stands over begins."""
        needed = line_pitch(MARK) + 1.0 + self.begun(after)
        if self.left < max(KEEP, needed) and not self.at_top:
            self.turn()
        lines = wrapped(block.text, self.width, MARK, bold=True)
        self.lines(lines, MARK, bold=True)
        self.y -= 1.0

    def begun(self, after: Sequence[Block]) -> float:
        """Return how much of a page the table wants that follows, at once or after a paragraph."""
        needed = 0.0
        for block in after[:2]:
            if isinstance(block, Paragraph) and block.tight:
                lines = wrapped(block.text, self.width, bold=block.bold)
                needed += len(lines) * line_pitch(SMALLEST) + TIGHT
                continue
            if isinstance(block, Table) and block.rows:
                return needed + self.least(block)
            break
        return 0.0

    def paragraph(self, block: Paragraph, after: Sequence[Block]) -> None:
        lines = wrapped(block.text, self.width, bold=block.bold)
        needed = len(lines) * line_pitch(SMALLEST)
        if block.tight and after and isinstance(after[0], Table):
            needed += TIGHT + self.begun(after)  # it stands over that table
        if self.left < needed <= (self.area[3] - self.area[1]) / 3 and not self.at_top:
            self.turn()  # a short paragraph stays together
        self.lines(lines, SMALLEST, bold=block.bold)
        self.y -= TIGHT if block.tight else AFTER / 2

    def picture(self, block: Picture) -> None:
        pitch = line_pitch(SMALLEST)
        lines = wrapped(block.caption, self.width) if block.caption else ()
        needed = block.height + pitch * len(lines)
        if self.left < needed and not self.at_top:
            self.turn()
        self.y -= block.height
        self.page.extend(placed(block.marks, 1.0, self.area[0], self.y))
        self.lines(lines, SMALLEST, bold=False)
        self.y -= AFTER

    def least(self, block: Table) -> float:
        """Return how much of a page a table wants to begin there."""
        widths = column_widths(block, self.width)
        whole = self.area[3] - self.area[1]
        head = _cells(tuple(c.title for c in block.columns), widths, bold=True)
        needed = _row_height(head)
        for row in block.rows[:2]:
            over = len(row) < len(widths)
            needed += min(_row_height(_cells(row, widths, bold=over)), whole / 3)
            if not over:
                break
        return needed

    def table(self, block: Table) -> None:
        if not block.rows:
            return
        widths = column_widths(block, self.width)
        head = _cells(tuple(c.title for c in block.columns), widths, bold=True)
        whole = self.area[3] - self.area[1]
        if self.left < self.least(block) and not self.at_top:
            self.turn()
        self.row(head, block, widths, bold=True)
        for number, row in enumerate(block.rows):
            over = len(row) < len(widths)
            cells = _cells(row, widths, bold=over)
            if over:
                after = block.rows[number + 1 : number + 2]
                needed = _row_height(cells) + sum(
                    _row_height(_cells(r, widths, bold=False)) for r in after
                )
                if needed > self.left:
                    self.turn()
                    self.row(head, block, widths, bold=True)
                self.over(cells[0], widths)
                continue
            if _row_height(cells) > self.left:
                cells = self.split(cells, block, widths, head, whole)
            self.row(cells, block, widths, bold=False)
        self.y -= AFTER

    def split(
        self,
        cells: list[tuple[str, ...]],
        block: Table,
        widths: tuple[float, ...],
        head: list[tuple[str, ...]],
        whole: float,
    ) -> list[tuple[str, ...]]:
        """Turn the page for a row; a row longer than a page is set in parts."""
        pitch = line_pitch(SMALLEST)
        long = max(len(c) for c in cells) >= LONG_ROW
        if not long and _row_height(cells) <= whole - _row_height(head):
            self.turn()
            self.row(head, block, widths, bold=True)
            return cells
        while _row_height(cells) > self.left:
            # Neither the first nor the last part is a line by itself.
            lines = max(len(c) for c in cells)
            count = min(int((self.left - 2 * CELL_LIFT) / pitch), lines - 2)
            if count >= 2:
                self.row([c[:count] for c in cells], block, widths, bold=False)
                cells = [c[count:] for c in cells]
            self.turn()
            self.row(head, block, widths, bold=True)
        return cells

    def row(
        self,
        cells: list[tuple[str, ...]],
        block: Table,
        widths: tuple[float, ...],
        *,
        bold: bool,
    ) -> None:
        pitch = line_pitch(SMALLEST)
        x0, x1 = self.area[0], self.area[0] + sum(widths)
        if bold:
            self.rule(x0, x1, "title_block")
        x = x0
        for cell, column, width in zip(cells, block.columns, widths, strict=True):
            right = column.right  # heads of numbers stand over them
            at_x = x + width - PAD if right else x + PAD
            for number, line in enumerate(cell):
                if not line:
                    continue
                y = self.y - CELL_LIFT - cap_height(SMALLEST) - number * pitch
                self.page.append(
                    Text(
                        at=(at_x, y),
                        text=line,
                        paper_height=SMALLEST,
                        anchor=BASE_RIGHT if right else BASE_LEFT,
                        layer="lettering" if bold else column.layer,
                        bold=bold,
                    )
                )
            x += width
        self.y -= _row_height(cells)
        self.rule(x0, x1, "piece" if bold else "title_block")

    def over(self, lines: tuple[str, ...], widths: tuple[float, ...]) -> None:
        """Set a row of one cell."""
        base = self.y - CELL_LIFT - cap_height(SMALLEST)
        for line in lines:
            at = (self.area[0] + PAD, base)
            self.page.append(Text(at=at, text=line, paper_height=SMALLEST, bold=True))
            base -= line_pitch(SMALLEST)
        self.y -= _row_height([lines])
        self.rule(self.area[0], self.area[0] + sum(widths), "title_block")

    def rule(self, x0: float, x1: float, layer: str) -> None:
        self.page.append(Stroke(points=((x0, self.y), (x1, self.y)), layer=layer))


def _cells(row: Sequence[str], widths: Sequence[float], *, bold: bool) -> list[tuple[str, ...]]:
    if len(row) < len(widths):
        return [wrapped(row[0], sum(widths) - 2 * PAD, bold=bold)]
    return [
        wrapped(cell, width - 2 * PAD, bold=bold) for cell, width in zip(row, widths, strict=True)
    ]


def _row_height(cells: list[tuple[str, ...]]) -> float:
    count = max(len(c) for c in cells)
    tall = cap_height(SMALLEST) + below(SMALLEST)
    return (count - 1) * line_pitch(SMALLEST) + tall + 2 * CELL_LIFT


def column_widths(table: Table, width: float) -> tuple[float, ...]:
    """Share a width among a table's columns by what stands in them.

    Every column gets what its longest word needs; the rest goes to those whose cells would
    otherwise break. Where words need more than there is, cells that are kept whole break as well.

    Args:
        table: The table.
        width: mm.
    """
    columns = range(len(table.columns))
    wanted = [_longest(table, number, width, LINES, whole=True) for number in columns]
    if sum(wanted) <= width:
        return tuple(wanted)
    # A number is not broken from its unit; two of them may stand one under the other.
    least: list[float] = []
    for words, numbers in ((LINES, LINES), (WORDS, LINES), (WORDS, PAIRS)):
        breaks = [numbers if c.right else words if c.unbroken else WORDS for c in table.columns]
        least = [_longest(table, number, width, breaks[number]) for number in columns]
        if sum(least) < width:
            break
    if sum(least) >= width:
        return tuple(w * width / sum(least) for w in least)
    # Columns that want little get all they want; the long ones share what is left by what they
    # want, evenly or not, so that the table is as short as can be.
    widths = list(least)
    rest = width - sum(widths)
    for number in sorted(range(len(widths)), key=lambda n: (wanted[n] - least[n], n)):
        more = wanted[number] - least[number]
        if more <= min(LITTLE, rest):
            widths[number] += more
            rest -= more
    ways = [_evenly(widths, wanted, rest)]
    short = [max(w - own, 0.0) for w, own in zip(wanted, widths, strict=True)]
    for power in POWERS:
        shares = [math.pow(lacking, power) for lacking in short]
        every = sum(shares) or 1.0
        ways.append(
            tuple(own + rest * share / every for own, share in zip(widths, shares, strict=True))
        )
    return min(ways, key=lambda way: _lines(table, way))


def _longest(
    table: Table, number: int, width: float, breaks: re.Pattern[str], *, whole: bool = False
) -> float:
    """Return the width a column needs, mm: for whole cells, or for the parts of them.

    Args:
        table: The table.
        number: Which column.
        width: Of the whole table, mm; no part asks for more than its share of it.
        breaks: Where cells below the heading may break.
        whole: Whether no cell is to break but where it says so itself.
    """
    column = table.columns[number]
    rows = [row[number] for row in table.rows if len(row) == len(table.columns)]
    parts = (LINES if whole else WORDS).split(column.title)
    widths = [text_width(part, SMALLEST, bold=True) for part in parts]
    widths += [text_width(part, SMALLEST) for cell in rows for part in breaks.split(cell)]
    longest = max(widths, default=0.0)
    if not whole:
        longest = min(longest, WIDEST_WORD * width)
    return max(longest + 2 * PAD + 0.1, column.least)


def _evenly(widths: Sequence[float], wanted: Sequence[float], rest: float) -> tuple[float, ...]:
    """Return widths with the same added to each, as long as it wants more."""
    found = list(widths)
    left = sorted(range(len(found)), key=lambda n: (wanted[n] - found[n], n))
    for place, number in enumerate(left):
        more = min(rest / (len(left) - place), max(wanted[number] - found[number], 0.0))
        found[number] += more
        rest -= more
    return tuple(found)


def _lines(table: Table, widths: Sequence[float]) -> int:
    """Return how many lines a table takes with columns of some widths."""
    rows = [r for r in table.rows if len(r) == len(widths)]
    return sum(max(len(c) for c in _cells(row, widths, bold=False)) for row in rows)


def flow(blocks: Sequence[Block], area: Box, top: float | None = None) -> tuple[DisplayList, ...]:
    """Set blocks from the top of an area down, on as many pages as they take.

    Args:
        blocks: In order.
        area: Where they stand on every page, mm.
        top: Where they begin on the first page if something stands over them, mm.

    Returns:
        One display list for each page; the first is empty if none of them fits under what
        stands there.
    """
    setter = _Setter(area, y=area[3] if top is None else top)
    for number, block in enumerate(blocks):
        if isinstance(block, NewPage):
            if setter.page:
                setter.turn()
        elif isinstance(block, Heading):
            setter.heading(block, blocks[number + 1 :])
        elif isinstance(block, Paragraph):
            setter.paragraph(block, blocks[number + 1 :])
        elif isinstance(block, Picture):
            setter.picture(block)
        else:
            setter.table(block)
    begun = top is not None and any(setter.pages)
    return tuple(
        tuple(page) for place, page in enumerate(setter.pages) if page or (begun and not place)
    )
