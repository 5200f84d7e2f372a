"""Headings, paragraphs, tables and pictures set one under the other, page after page."""

from __future__ import annotations

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
AFTER = 3.0
"""Space after a block, mm."""
LONG_ROW = 6
"""A row of at least this many lines may be broken over pages."""
KEEP = 24.0
"""A heading wants at least this much of the page under it, mm."""
WIDEST_WORD = 0.34
"""A word wider than this share of the table is broken rather than widening its column."""


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
    """

    title: str
    right: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; its head is repeated on every page.

    Attributes:
        columns: Left to right.
        rows: Each as long as the columns.
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
    pages: list[list[Mark]] = field(default_factory=list)
    y: float = 0.0

    def __post_init__(self) -> None:
        self.turn()

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

    def heading(self, block: Heading) -> None:
        if self.left < KEEP and not self.at_top:
            self.turn()
        lines = wrapped(block.text, self.width, MARK, bold=True)
        self.lines(lines, MARK, bold=True)
        self.y -= 1.0

    def paragraph(self, block: Paragraph) -> None:
        lines = wrapped(block.text, self.width, bold=block.bold)
        needed = len(lines) * line_pitch(SMALLEST)
        if self.left < needed <= (self.area[3] - self.area[1]) / 3 and not self.at_top:
            self.turn()  # a short paragraph stays together
        self.lines(lines, SMALLEST, bold=block.bold)
        self.y -= 0.4 if block.tight else AFTER / 2

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

    def table(self, block: Table) -> None:
        if not block.rows:
            return
        widths = column_widths(block, self.width)
        head = _cells(tuple(c.title for c in block.columns), widths, bold=True)
        head_height = _row_height(head)
        whole = self.area[3] - self.area[1]
        first = _cells(block.rows[0], widths, bold=False)
        if self.left < head_height + min(_row_height(first), whole / 3) and not self.at_top:
            self.turn()
        self.row(head, block, widths, bold=True)
        for row in block.rows:
            cells = _cells(row, widths, bold=False)
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
            right = column.right and not bold
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
                        bold=bold,
                    )
                )
            x += width
        self.y -= _row_height(cells)
        self.rule(x0, x1, "piece" if bold else "title_block")

    def rule(self, x0: float, x1: float, layer: str) -> None:
        self.page.append(Stroke(points=((x0, self.y), (x1, self.y)), layer=layer))


def _cells(row: Sequence[str], widths: Sequence[float], *, bold: bool) -> list[tuple[str, ...]]:
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
    otherwise break.

    Args:
        table: The table.
        width: mm.
    """
    least: list[float] = []
    wanted: list[float] = []
    for number, column in enumerate(table.columns):
        cells = [(column.title, True), *((row[number], False) for row in table.rows)]
        words = [text_width(w, SMALLEST, bold=bold) for cell, bold in cells for w in cell.split()]
        lines = [
            text_width(line, SMALLEST, bold=bold)
            for cell, bold in cells
            for line in cell.split("\n")
        ]
        least.append(min(max(words, default=0.0), WIDEST_WORD * width) + 2 * PAD + 0.1)
        wanted.append(max(lines, default=0.0) + 2 * PAD + 0.1)
    if sum(wanted) <= width:
        return tuple(wanted)
    if sum(least) >= width:
        return tuple(w * width / sum(least) for w in least)
    # Columns that want little get all they want; the long ones share what is left.
    widths = list(least)
    open_columns = set(range(len(widths)))
    rest = width - sum(widths)
    while rest > 0.01 and open_columns:
        share = rest / len(open_columns)
        for number in sorted(open_columns):
            more = min(share, wanted[number] - widths[number])
            widths[number] += more
            rest -= more
            if wanted[number] - widths[number] <= 0.01:
                open_columns.discard(number)
    return tuple(widths)


def flow(blocks: Sequence[Block], area: Box) -> tuple[DisplayList, ...]:
    """Set blocks from the top of an area down, on as many pages as they take.

    Args:
        blocks: In order.
        area: Where they stand on every page, mm.

    Returns:
        One display list for each page.
    """
    setter = _Setter(area)
    for block in blocks:
        if isinstance(block, NewPage):
            if setter.page:
                setter.turn()
        elif isinstance(block, Heading):
            setter.heading(block)
        elif isinstance(block, Paragraph):
            setter.paragraph(block)
        elif isinstance(block, Picture):
            setter.picture(block)
        else:
            setter.table(block)
    return tuple(tuple(page) for page in setter.pages if page)
