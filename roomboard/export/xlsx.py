"""The job as a workbook: order, cut list, live quantities, findings, rooms, deliveries and changes.

Inputs stand in cells of their own and every figure of the order is worked out from them, so that a
spare or a rate can be changed and the order follows. There are no macros, and words are never taken
for formulas. The same scheme and date always give the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from roomboard.core.findings import Severity
from roomboard.core.quantities import QuantityLine
from roomboard.core.scheme import Scheme
from roomboard.drawing.lettering import wrapped
from roomboard.drawing.order import sources_in_words
from roomboard.drawing.page_frame import DISCLAIMER
from roomboard.drawing.room_names import names_of_things
from roomboard.drawing.set_revision import letter_now
from roomboard.export.cell_formulas import DIGITS, exact_formula, low_formula
from roomboard.export.tables import (
    TABLES,
    Cell,
    DataTable,
    Heading,
    Kind,
    Measures,
    in_order,
    number_bought,
    order_headings,
    order_row,
    prices_of,
    sold_in,
    table_of,
    tables_of,
)

HAIR = "0.000000001"
"""Sums are taken down by this much before they are rounded up to whole packs, as in the order."""
HEAD = 4
"""Row of the heads of columns, from 0; title, date and a warning stand over it."""
PAPER = {"A4": 9, "A3": 8, "Letter": 1, "Tabloid": 3}
"""How the format numbers sizes of paper."""
AMOUNTS = ("At least", "Exact", "Spare", "Pack holds", "Packs", "Order")
"""Heads of the figures of an order line on the sheet of quantities, from its fourth column on."""
INPUTS = 3 + len(AMOUNTS) + 2
"""Column in which the inputs of the quantities begin, from 0, name and value in turn."""
COUNTED = frozenset({"each", "sheet", "length"})
"""Units of which there are no parts."""
NO_DATE = datetime(2000, 1, 1)  # noqa: DTZ001 - the format knows no time zones
"""Stands for the day a workbook was made on where none is given."""
FONT, FONT_SIZE = "Arial", 10
"""What cells are written in, points."""
LINE = 13.0
"""Height of a line in a cell, points."""
DIGIT = 1.96
"""Width of a digit in that font, which is what widths of columns are counted in, mm."""
CAPITAL = 2.57
"""Height of the bundled font's capitals at that size, mm; it is the wider one of the two."""
INDENT = 3
"""Indent and edge of a cell take about so many digits."""
MARGIN = 0.4
"""Blank paper round a printed table, inches."""


def xlsx_bytes(scheme: Scheme, dated: str, paper: str = "A4") -> bytes:
    """Return the job as the bytes of a workbook.

    Args:
        scheme: The whole answer.
        dated: Date of issue, year-month-day; it also stands for the day the file was made.
        paper: Name of the paper it is printed on.
    """
    from xlsxwriter import Workbook

    held = io.BytesIO()
    plain = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_numbers": False,
        "strings_to_urls": False,
        # On most machines there is this font or one as wide, so that columns are as wide as meant.
        "default_format_properties": {"font_name": FONT, "font_size": FONT_SIZE},
    }
    book = Workbook(held, plain)
    book.set_properties(
        {
            "title": scheme.project.name,
            "author": "roomboard",
            "subject": "Cut list and order",
            "created": _day(dated),
        }
    )
    book.set_calc_mode("auto")
    _Book(book, scheme, dated, paper).write()
    book.close()
    return held.getvalue()


def _day(dated: str) -> datetime:
    try:
        return datetime.fromisoformat(dated).replace(tzinfo=None)
    except ValueError:
        return NO_DATE


@dataclass(frozen=True, slots=True)
class _Places:
    """Where the figures of an order line stand on the sheet of quantities."""

    exact: str
    spare: str
    pack: str
    packs: str
    total: str


class _Book:
    """Writes the sheets of one workbook; the library's objects have no types."""

    def __init__(self, book: Any, scheme: Scheme, dated: str, paper: str) -> None:  # noqa: ANN401
        self.book = book
        self.scheme = scheme
        self.dated = dated
        self.letter = letter_now(scheme)
        self.names = names_of_things(scheme)
        self.paper = paper
        self.measures = Measures(scheme.project.units)
        self.formats: dict[tuple[Kind, str], Any] = {}
        self.bold = book.add_format({"bold": True, "font_size": 14})
        head = {"bold": True, "text_wrap": True, "bottom": 2, "valign": "bottom"}
        self.head = book.add_format({**head, "align": "left", "indent": 1})
        # Heads of numbers stand over them.
        self.number_head = book.add_format({**head, "align": "right"})
        self.said = book.add_format({"text_wrap": False, "valign": "top"})
        self.places: dict[str, _Places] = {}

    def write(self) -> None:
        """Write every sheet; that of the order comes first and looks into the quantities."""
        names = tables_of(self.scheme.project)
        sheets = {
            name: self.book.add_worksheet(title) for name, title in TABLES.items() if name in names
        }
        self._quantities(sheets["quantities"])
        self._order(sheets["order"])
        for name in ("cut-list", "findings", "deliveries", "changes"):
            if name in names:
                self._table(sheets[name], table_of(self.scheme, name))
        self._rooms(sheets["rooms"])
        sheets["order"].activate()

    # --- what all sheets share --------------------------------------------------------------

    def _look(self, kind: Kind, role: str = "") -> Any:  # noqa: ANN401
        """Return how cells of a kind look.

        ``"input"`` may be changed, ``"sum"`` closes a table, ``"whole"`` has no decimals.
        """
        if (kind, role) not in self.formats:
            look: dict[str, object] = {"valign": "top"}
            if kind is Kind.TEXT:
                look.update({"text_wrap": True, "align": "left", "indent": 1})
            elif role == "input" and kind is Kind.AMOUNT:
                look["num_format"] = "General"  # as many decimals as it has and the column holds
            elif role == "whole":
                look["num_format"] = "#,##0"
            else:
                look["num_format"] = self._number_format(kind)
            if role == "input":
                look.update({"border": 1, "bg_color": "#EEEEEE"})
            if role == "sum":
                look.update({"bold": True, "top": 1})
            self.formats[kind, role] = self.book.add_format(look)
        return self.formats[kind, role]

    def _number_format(self, kind: Kind) -> str:
        if kind is Kind.LENGTH:
            return "#,##0.0" if self.measures.metric else "# ??/16"
        return {
            Kind.COUNT: "0",
            Kind.RUN: "#,##0.00",
            Kind.AREA: "#,##0.00",
            Kind.MASS: "#,##0.0",
            Kind.AMOUNT: "#,##0.00",
            Kind.MONEY: "#,##0.00",
        }[kind]

    def _begin(self, sheet: Any, title: str, columns: tuple[Heading, ...]) -> None:  # noqa: ANN401
        project = self.scheme.project
        sheet.write_string(0, 0, f"{project.name}: {title}", self.bold)
        issue = f"Issue {self.letter}, {self.dated}" if self.letter else self.dated
        sheet.write_string(1, 0, issue, self.said)
        if any(f.severity is Severity.BLOCK for f in self.scheme.findings):
            words = (
                "Do not cut or order by this before what blocks the work is mended: see Findings."
            )
            sheet.write_string(2, 0, words, self.bold)
        for number, column in enumerate(columns):
            sheet.set_column(number, number, column.width)
            look = self.head if column.kind is Kind.TEXT else self.number_head
            sheet.write_string(HEAD, number, column.title, look)
        self._raise(sheet, HEAD, tuple(c.title for c in columns), columns, bold=True)

    def _raise(
        self,
        sheet: Any,  # noqa: ANN401
        row: int,
        cells: Sequence[Cell],
        columns: Sequence[Heading],
        *,
        bold: bool = False,
    ) -> None:
        """Make a row as high as the lines its words take: not every program does so by itself."""
        lines = 1
        for cell, column in zip(cells, columns, strict=True):
            if isinstance(cell, str) and cell:
                width = max(column.width - INDENT, 3) * DIGIT
                lines = max(lines, len(wrapped(cell, width, CAPITAL, bold=bold)))
        sheet.set_row(row, LINE * lines + 2.0)

    def _end(self, sheet: Any, last_row: int, columns: int, frozen: int = 2) -> None:  # noqa: ANN401
        sheet.freeze_panes(HEAD + 1, frozen)
        sheet.set_landscape()
        sheet.set_paper(PAPER.get(self.paper, PAPER["A4"]))
        sheet.set_margins(MARGIN, MARGIN, 2 * MARGIN, 2 * MARGIN)
        sheet.fit_to_pages(1, 0)
        sheet.repeat_rows(HEAD)
        sheet.print_area(0, 0, max(last_row, HEAD), columns - 1)
        sheet.set_footer(f"&L{DISCLAIMER}&R&A, &P / &N")

    def _cell(self, sheet: Any, row: int, column: int, cell: Cell, look: Any) -> None:  # noqa: ANN401
        if cell is None:
            sheet.write_blank(row, column, None, look)
        elif isinstance(cell, str):
            sheet.write_string(row, column, cell, look)
        else:
            sheet.write_number(row, column, cell, look)

    def _table(self, sheet: Any, table: DataTable) -> None:  # noqa: ANN401
        """Write a table of plain values, with a filter in its heads."""
        self._begin(sheet, table.title, table.columns)
        for number, row in enumerate(table.rows, HEAD + 1):
            for at, (cell, column) in enumerate(zip(row, table.columns, strict=True)):
                kind = Kind.TEXT if isinstance(cell, str) else column.kind
                self._cell(sheet, number, at, cell, self._look(kind))
            self._raise(sheet, number, row, table.columns)
        last = HEAD + len(table.rows)
        if table.rows:
            sheet.autofilter(HEAD, 0, last, len(table.columns) - 1)
        self._end(sheet, last, len(table.columns))

    # --- quantities -------------------------------------------------------------------------

    def _quantities(self, sheet: Any) -> None:  # noqa: ANN401
        """Write the figures of the order with formulas over their inputs."""
        lines = self.scheme.quantities
        most = max((len(line.inputs) for line in lines), default=0)
        inputs = tuple(
            heading
            for number in range(1, most + 1)
            for heading in (
                Heading(title=f"Input {number}", width=16),
                Heading(title="Value", kind=Kind.AMOUNT, width=10),
            )
        )
        columns = (
            Heading(title="Code", width=22),
            Heading(title="Item", width=36),
            Heading(title="Unit", width=9),
            *(Heading(title=title, kind=Kind.AMOUNT, width=13) for title in AMOUNTS),
            Heading(title="How it comes about", width=34),
            Heading(title="Note", width=36),
            *inputs,
            Heading(title="From", width=40),
        )
        self._begin(sheet, TABLES["quantities"], columns)
        sheet.write_string(3, 0, "Spare of loose goods", self.said)
        sheet.write_number(
            3, 1, self.scheme.project.choices.spare_ratio, self._look(Kind.AMOUNT, "input")
        )
        for row, line in enumerate(lines, HEAD + 1):
            self._line(sheet, row, line, columns)
        if not self.measures.metric:
            words = "Worked out in metres, kilograms and millilitres; the order is in your units."
            sheet.write_string(3, 3, words, self.said)
        # On paper the inputs would make all else too small to read; the printed set has them.
        self._end(sheet, HEAD + len(lines), INPUTS)

    def _line(
        self,
        sheet: Any,  # noqa: ANN401
        row: int,
        line: QuantityLine,
        columns: tuple[Heading, ...],
    ) -> None:
        from xlsxwriter.utility import xl_rowcol_to_cell as cell_at

        text = self._look(Kind.TEXT)
        given = self._look(Kind.AMOUNT, "input")
        said: list[Cell] = [line.code, line.name, line.unit, *([None] * len(AMOUNTS))]
        said += [line.formula, line.source_note]
        cells: dict[str, str] = {}
        for number, (name, value) in enumerate(line.inputs):
            said += [name, None]
            sheet.write_number(row, INPUTS + 2 * number + 1, value, given)
            cells[name] = cell_at(row, INPUTS + 2 * number + 1)
        for at, words in enumerate(said):
            if isinstance(words, str):
                sheet.write_string(row, at, words, text)
        self._raise(sheet, row, said, columns[: len(said)])
        made_from = sources_in_words(line.sources, self.names)
        sheet.write_string(row, len(columns) - 1, made_from, self.said)
        low, exact, spare, pack, packs, total = (cell_at(row, 3 + n) for n in range(len(AMOUNTS)))

        def put(place: str, formula: str, value: float, *, whole: bool = False) -> None:
            look = self._look(Kind.AMOUNT, "whole" if whole else "")
            if formula:
                sheet.write_formula(place, formula, look, value)
            else:
                sheet.write_number(place, value, look)

        counted = line.unit in COUNTED
        put(exact, exact_formula(line, cells), line.exact, whole=counted)
        put(low, low_formula(line, cells) or f"={exact}", line.low, whole=counted)
        if _spared_by_rate(line):
            put(spare, f"=ROUND({exact}*$B$4,{DIGITS})", line.spare)
        else:
            sheet.write_number(spare, line.spare, given)
        if line.pack:
            sheet.write_number(pack, line.pack, given)
            put(
                packs, f"=ROUNDUP(({exact}+{spare})/{pack}-{HAIR},0)", float(line.packs), whole=True
            )
            put(total, f"={packs}*{pack}", line.total, whole=line.pack.is_integer())
        elif _spared_by_rate(line) and line.unit == "each":
            put(total, f"=ROUNDUP({exact}+{spare}-{HAIR},0)", line.total, whole=True)
        else:
            put(total, f"=ROUND({exact}+{spare},{DIGITS})", line.total, whole=counted)
        where = (f"{TABLES['quantities']}!{c}" for c in (exact, spare, pack, packs, total))
        self.places[line.code] = _Places(*where)

    # --- order ------------------------------------------------------------------------------

    def _order(self, sheet: Any) -> None:  # noqa: ANN401
        """Write what to buy; amounts come from the quantities, costs from the user's prices."""
        prices = prices_of(self.scheme)
        columns = order_headings(prices, self.scheme.project.currency)
        self._begin(sheet, TABLES["order"], columns)
        lines = in_order(self.scheme.quantities)
        row = HEAD
        for row, line in enumerate(lines, HEAD + 1):
            self._order_line(sheet, row, line)
            if line.code in prices:
                self._cost(sheet, row, line, prices[line.code])
        if prices:
            row += 1
            sheet.write_string(row, 0, "All that is priced", self._look(Kind.TEXT, "sum"))
            costs = [round(prices[q.code] * number_bought(q), 2) for q in lines if q.code in prices]
            span = f"=SUM(H{HEAD + 2}:H{row})"
            look = self._look(Kind.MONEY, "sum")
            sheet.write_formula(row, 7, span, look, round(sum(costs), 2))
        self._end(sheet, row, len(columns))

    def _order_line(self, sheet: Any, row: int, line: QuantityLine) -> None:  # noqa: ANN401
        group, name, total, unit, packs, pack = order_row(line, self.scheme.project.units)
        _, size = sold_in(line, self.scheme.project.units)
        places = self.places[line.code]
        text = self._look(Kind.TEXT)
        for at, words in ((0, group), (1, name), (3, unit)):
            self._cell(sheet, row, at, words, text)
        columns = order_headings({}, "")  # those of cost hold numbers
        self._raise(sheet, row, (group, name, None, unit, None, None), columns)
        live = [(2, places.total, total, size), (4, places.packs, packs, 1.0)]
        live.append((5, places.pack, pack, size))
        for at, place, value, divisor in live:
            if value is None:
                continue
            parts = not float(line.pack).is_integer() if line.pack else line.unit not in COUNTED
            whole = divisor == 1.0 and (place == places.packs or not parts)
            amount = self._look(Kind.AMOUNT, "whole" if whole else "")
            formula = f"={place}" if divisor == 1.0 else f"=ROUND({place}/{divisor!r},1)"
            sheet.write_formula(row, at, formula, amount, value)

    def _cost(self, sheet: Any, row: int, line: QuantityLine, price: float) -> None:  # noqa: ANN401
        places = self.places[line.code]
        number = places.packs if line.pack else places.total
        sheet.write_number(row, 6, price, self._look(Kind.MONEY, "input"))
        cost = round(price * number_bought(line), 2)
        formula = f"=ROUND(G{row + 1}*{number},2)"
        sheet.write_formula(row, 7, formula, self._look(Kind.MONEY), cost)

    # --- rooms ------------------------------------------------------------------------------

    def _rooms(self, sheet: Any) -> None:  # noqa: ANN401
        """Write the rooms; what adds up is added up in the last row."""
        from xlsxwriter.utility import xl_range

        table = table_of(self.scheme, "rooms")
        self._begin(sheet, table.title, table.columns)
        last = HEAD + len(table.rows)
        for number, row in enumerate(table.rows, HEAD + 1):
            for at, (cell, column) in enumerate(zip(row, table.columns, strict=True)):
                role = "sum" if number == last else ""
                look = self._look(column.kind, role)
                if role and column.adds and isinstance(cell, float) and last > HEAD + 1:
                    span = f"=SUM({xl_range(HEAD + 1, at, last - 1, at)})"
                    sheet.write_formula(number, at, span, look, cell)
                else:
                    self._cell(sheet, number, at, cell, look)
        self._end(sheet, last, len(table.columns), frozen=1)


def _spared_by_rate(line: QuantityLine) -> bool:
    """Tell whether a line's spare is a share of its exact figure; sheets are spared by number."""
    return line.unit not in {"sheet", "length"} and line.code != "back_blocks"
