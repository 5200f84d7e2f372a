"""The workbook read back with openpyxl; its formulas worked out anew by a small reader of ours."""

import math
import re
import zipfile
from dataclasses import replace
from io import BytesIO

import pytest

from roomboard.core.findings import Severity
from roomboard.core.project import Units
from roomboard.core.quantities import QuantityLine, costs
from roomboard.export.cell_formulas import exact_formula, low_formula
from roomboard.export.tables import TABLES, in_order, sold_in, table_of
from roomboard.export.xlsx import HEAD, INPUTS, xlsx_bytes
from tests.chain import worked
from tests.export.conftest import demo_project
from tests.export.reading import read_xlsx

DAY = "2026-05-01"
CLOSE = 1.5e-6
"""Figures are rounded to a millionth; where one lies on a half, a spreadsheet rounds it up and
Python to the even digit."""


# --- a reader of formulas ---------------------------------------------------------------------


def half_up(number, digits):
    scale = 10 ** int(digits)
    return math.copysign(math.floor(abs(number) * scale + 0.5) / scale, number)


def up(number, digits):
    scale = 10 ** int(digits)
    return math.copysign(math.ceil(abs(number) * scale), number) / scale


TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+(?:\.\d+)?)|(?P<cell>(?:(?:'[^']+'|[A-Za-z]+)!)?\$?[A-Z]+\$?\d+)"
    r"|(?P<name>[A-Z]+)\(|(?P<sign>[-+*/(),:]))"
)


class Sheet:
    """Works out the cells of a workbook; knows + - * / ROUND ROUNDUP SUM and other cells."""

    def __init__(self, book):
        self.book = book

    def value(self, sheet, cell):
        found = self.book[sheet][cell.replace("$", "")].value
        if isinstance(found, str) and found.startswith("="):
            tokens = self.tokens(found[1:])
            result = self.sum(sheet, tokens)
            assert tokens == [], found
            return result
        return 0.0 if found is None else found

    def tokens(self, text):
        found, at = [], 0
        while at < len(text):
            match = TOKEN.match(text, at)
            assert match, text[at:]
            kind = match.lastgroup
            found.append((kind, match[kind]))
            at = match.end()
        return found

    def sum(self, sheet, tokens):
        total = self.product(sheet, tokens)
        while tokens and tokens[0] in {("sign", "+"), ("sign", "-")}:
            _, sign = tokens.pop(0)
            term = self.product(sheet, tokens)
            total = total + term if sign == "+" else total - term
        return total

    def product(self, sheet, tokens):
        total = self.factor(sheet, tokens)
        while tokens and tokens[0] in {("sign", "*"), ("sign", "/")}:
            _, sign = tokens.pop(0)
            term = self.factor(sheet, tokens)
            total = total * term if sign == "*" else total / term
        return total

    def factor(self, sheet, tokens):
        kind, text = tokens.pop(0)
        if kind == "number":
            return float(text)
        if kind == "cell":
            other, _, cell = text.rpartition("!")
            return self.value(other.strip("'") or sheet, cell)
        if kind == "name":
            return self.function(sheet, text, tokens)
        assert text == "(", text
        inner = self.sum(sheet, tokens)
        assert tokens.pop(0) == ("sign", ")")
        return inner

    def function(self, sheet, name, tokens):
        if name == "SUM":
            (_, first), colon, (_, last), end = (tokens.pop(0) for _ in range(4))
            assert (colon, end) == (("sign", ":"), ("sign", ")"))
            cells = [c for row in self.book[sheet][first:last] for c in row]
            return math.fsum(self.value(sheet, c.coordinate) for c in cells)
        number = self.sum(sheet, tokens)
        assert tokens.pop(0) == ("sign", ",")
        digits = self.sum(sheet, tokens)
        assert tokens.pop(0) == ("sign", ")")
        return {"ROUND": half_up, "ROUNDUP": up}[name](number, digits)


def columns(sheet):
    """The column of each head, the first of those that stand more than once."""
    found = {}
    for cell in sheet[HEAD + 1]:
        found.setdefault(cell.value, cell.column_letter)
    return found


@pytest.fixture(params=["demo", "priced", "feet"])
def job(request):
    scheme = request.getfixturevalue(request.param)
    return scheme, read_xlsx(xlsx_bytes(scheme, DAY))


# --- figures ----------------------------------------------------------------------------------


def test_the_reader_of_formulas_knows_what_it_reads():
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "S"
    sheet["A1"], sheet["A2"], sheet["A3"] = 7, 2.5, "=ROUNDUP((A1+A2*2)/5-0.1,0)"
    sheet["A4"] = "=SUM(A1:A3)"
    read = Sheet(book)

    assert read.value("S", "A3") == 3  # (7 + 5) / 5 - 0.1 = 2.3
    assert read.value("S", "A4") == 12.5


def test_every_figure_of_the_order_is_worked_out_anew_and_equal(job):
    scheme, book = job
    read, sheet = Sheet(book), book["Quantities"]
    at = columns(sheet)
    for row, line in enumerate(scheme.quantities, HEAD + 2):
        assert sheet[f"{at['Code']}{row}"].value == line.code
        for head, wanted in (
            ("At least", line.low),
            ("Exact", line.exact),
            ("Spare", line.spare),
            ("Packs", line.packs),
            ("Order", line.total),
        ):
            found = read.value("Quantities", f"{at[head]}{row}")
            assert found == pytest.approx(wanted, abs=CLOSE), (line.code, head)


def test_every_exact_figure_is_a_formula_over_its_inputs(job):
    scheme, book = job
    sheet = book["Quantities"]
    at = columns(sheet)
    for row, line in enumerate(scheme.quantities, HEAD + 2):
        formula = sheet[f"{at['Exact']}{row}"].value
        assert str(formula).startswith("="), line.code
        for number, (name, value) in enumerate(line.inputs):
            # Inputs stand in pairs to the right of all that is printed: name and value.
            first = INPUTS + 1 + 2 * number
            assert sheet.cell(row, first).value == name
            assert sheet.cell(row, first + 1).value == pytest.approx(value, abs=1e-12)


def test_what_a_figure_came_from_is_named_by_rooms(demo):
    sheet = read_xlsx(xlsx_bytes(demo, DAY))["Quantities"]
    at = columns(sheet)["From"]
    said = [str(sheet[f"{at}{row}"].value or "") for row in range(HEAD + 2, sheet.max_row + 1)]
    ids = [f"{room.id}/" for room in demo.project.rooms]
    assert not [words for words in said if any(i in words for i in ids)]
    table = table_of(demo, "quantities")
    csv = [row[[h.title for h in table.columns].index("From")] for row in table.rows]
    assert not [words for words in csv if any(i in str(words) for i in ids)]
    for line, words, whole in zip(demo.quantities, said, csv, strict=True):
        for room in demo.project.rooms:
            of_room = any(source.startswith(f"{room.id}/") for source in line.sources)
            assert (room.name in words) == (room.name in str(whole)) == of_room


def test_a_changed_spare_goes_through_to_the_order(priced):
    book = read_xlsx(xlsx_bytes(priced, DAY))
    sheet = book["Quantities"]
    assert sheet["B4"].value == 0.08
    sheet["B4"].value = 0.5
    read, order = Sheet(book), book["Order"]
    lines = in_order(priced.quantities)
    row = next(n for n, q in enumerate(lines, HEAD + 2) if q.code.startswith("compound"))
    line = lines[row - HEAD - 2]

    packs = math.ceil(line.exact * 1.5 / line.pack)
    assert packs > line.packs
    assert read.value("Order", f"{columns(order)['Packs']}{row}") == packs
    assert read.value("Order", f"{columns(order)['Order']}{row}") == packs * line.pack


def test_the_order_says_what_the_quantities_say_in_the_units_of_the_project(job):
    scheme, book = job
    read, sheet = Sheet(book), book["Order"]
    at = columns(sheet)
    feet = scheme.project.units is Units.FEET_INCHES
    units = set()
    for row, line in enumerate(in_order(scheme.quantities), HEAD + 2):
        unit, size = sold_in(line, scheme.project.units)
        units.add(unit)
        assert sheet[f"{at['Item']}{row}"].value == line.name
        assert sheet[f"{at['Unit']}{row}"].value == unit
        wanted = line.total / size
        found = read.value("Order", f"{at['Order']}{row}")
        assert found == pytest.approx(wanted, abs=0.051 if size != 1.0 else 1e-6)
    assert ("ft" in units) == feet
    assert ("m" in units) != feet


def test_what_formulas_show_before_they_are_worked_out_is_the_same(job):
    scheme, book = job
    import openpyxl

    shown = openpyxl.load_workbook(BytesIO(xlsx_bytes(scheme, DAY)), data_only=True)
    read, count = Sheet(book), 0
    for sheet in book:
        for cell in (c for row in sheet.iter_rows() for c in row):
            if isinstance(cell.value, str) and cell.data_type == "f":
                found = read.value(sheet.title, cell.coordinate)
                kept = shown[sheet.title][cell.coordinate].value
                assert kept == pytest.approx(found, abs=CLOSE), (sheet.title, cell.coordinate)
                count += 1
    assert count > 100


# --- costs ------------------------------------------------------------------------------------


def test_costs_stand_only_where_something_is_priced(demo, priced):
    plain, costed = (read_xlsx(xlsx_bytes(s, DAY))["Order"] for s in (demo, priced))

    assert not any("Cost" in str(head) for head in columns(plain))
    assert {"Price each (NZD)", "Cost (NZD)"} <= set(columns(costed))


def test_costs_add_up_to_what_the_prices_come_to(priced):
    book = read_xlsx(xlsx_bytes(priced, DAY))
    sheet, read = book["Order"], Sheet(book)
    last = sheet.max_row
    wanted = sum(round(cost, 2) for _, cost in costs(priced.project, priced.quantities))

    assert wanted > 0
    assert sheet.cell(last, 1).value == "All that is priced"
    found = read.value("Order", f"{columns(sheet)['Cost (NZD)']}{last}")
    assert found == pytest.approx(wanted, abs=0.005)


# --- sheets -----------------------------------------------------------------------------------


def test_sheets_have_their_heads_frozen_their_widths_and_their_print_areas(job):
    _, book = job
    assert book.sheetnames == [t for t in TABLES.values() if t != "Changes"]  # never issued
    for sheet in book:
        assert sheet.freeze_panes.endswith(str(HEAD + 2))
        assert sheet.print_title_rows == f"${HEAD + 1}:${HEAD + 1}"
        last = sheet.max_row
        assert sheet.print_area.endswith(f"${last}")
        # One page wide (which goes without saying), as many high as it takes.
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
        widths = {d.width for d in sheet.column_dimensions.values()}
        assert min(widths) >= 7


def test_what_is_printed_is_wide_enough_to_read_on_a4_lying(demo):
    # 277 mm between margins; ten-point digits are about 1.96 mm wide. Below two thirds of that
    # size, lettering is smaller than about 1.7 mm.
    book = read_xlsx(xlsx_bytes(demo, DAY))
    for sheet in book:
        first, last = (ref.replace("$", "") for ref in sheet.print_area.split("!")[1].split(":"))
        letters = [c.column_letter for c in sheet[f"{first}:{last}"][HEAD]]
        wide = sum(sheet.column_dimensions[c].width for c in letters) * 1.96
        assert 277 / wide > 0.6, sheet.title


def test_rows_are_as_high_as_the_words_in_them(job):
    _, book = job
    for sheet in book:
        for number in range(HEAD + 2, sheet.max_row + 1):
            height = sheet.row_dimensions[number].height or 15.0  # that of a row by itself
            for cell in sheet[number]:
                look = cell.alignment
                if not isinstance(cell.value, str) or cell.value.startswith("="):
                    continue
                width = sheet.column_dimensions[cell.column_letter].width
                # About a character to a digit's width; a line takes some 12 points.
                lines = math.ceil(len(cell.value) / (width * 1.2)) if look.wrap_text else 1
                assert height >= 12 * lines, (sheet.title, cell.coordinate)


def test_numbers_show_no_more_decimals_than_they_have(demo):
    book = read_xlsx(xlsx_bytes(demo, DAY))
    sheet = book["Quantities"]
    at = columns(sheet)
    for row, line in enumerate(demo.quantities, HEAD + 2):
        looks = {sheet[f"{at[head]}{row}"].number_format for head in ("Exact", "Order")}
        if line.unit in {"each", "sheet", "length"} and not line.pack:
            assert looks == {"#,##0"}
        # A sign for decimals that may be none would leave a point behind the number.
        assert not any(look.endswith("#") for look in looks)


def test_every_piece_stands_in_the_cut_list(job):
    scheme, book = job
    sheet = book["Cut list"]
    at = columns(sheet)
    feet = scheme.project.units is Units.FEET_INCHES
    head, size = ("Length (in)", 25.4) if feet else ("Length (mm)", 1.0)
    pieces = sorted(
        (r.room.name, p.hang, p.mark, p.length)
        for r in scheme.rooms
        for s in r.surfaces
        for p in s.set_out.pieces
    )
    rows = range(HEAD + 2, HEAD + 2 + len(pieces))
    found = sorted(
        (
            sheet[f"{at['Room']}{n}"].value,
            sheet[f"{at['Hang']}{n}"].value,
            sheet[f"{at['Mark']}{n}"].value,
            sheet[f"{at[head]}{n}"].value * size,
        )
        for n in rows
    )
    assert [f[:3] for f in found] == [p[:3] for p in pieces]
    assert [f[3] for f in found] == pytest.approx([p[3] for p in pieces], abs=0.001)
    assert sheet[f"{at[head]}{HEAD + 2}"].number_format == ("# ??/16" if feet else "#,##0.0")


def test_words_that_look_like_formulas_stay_words():
    project = demo_project()
    room = replace(project.rooms[2], name="=1+1")
    scheme = worked(replace(project, rooms=(room,), name="@Cottage"))
    book = read_xlsx(xlsx_bytes(scheme, DAY))

    for name in ("Rooms", "Cut list"):
        cell = book[name].cell(HEAD + 2, 1)
        assert (cell.value, cell.data_type) == ("=1+1", "s")
    assert book["Order"]["A1"].data_type == "s"


def test_a_blocked_set_out_says_so_on_every_sheet(demo):
    gravest = replace(demo.findings[0], severity=Severity.BLOCK)
    book = read_xlsx(xlsx_bytes(replace(demo, findings=(gravest,)), DAY))

    assert all("Do not cut" in sheet["A3"].value for sheet in book)
    assert not read_xlsx(xlsx_bytes(demo, DAY))["Order"]["A3"].value


def test_there_are_no_macros_and_the_same_job_gives_the_same_bytes(demo):
    content = xlsx_bytes(demo, DAY)

    assert content == xlsx_bytes(demo, DAY)
    names = zipfile.ZipFile(BytesIO(content)).namelist()
    assert not [n for n in names if "vba" in n.lower() or "macro" in n.lower()]


def test_a_date_that_is_none_is_no_fault(demo):
    assert xlsx_bytes(demo, "") == xlsx_bytes(demo, "")


# --- formulas in words ------------------------------------------------------------------------


def line(formula, inputs, exact, low=None):
    return QuantityLine(
        code="x", group="fixing", name="X", unit="m", formula=formula, inputs=inputs, exact=exact,
        low=exact if low is None else low, spare=0, pack=0, packs=0, total=exact, sources=(),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("formula", "inputs", "exact", "wanted"),
    [
        ("daubs × ml per daub", {"daubs": 4, "ml per daub": 2.5}, 10, "=ROUND(A1*A2,6)"),
        ("(joints + angles) × (1 + lap)", {"joints": 1, "angles": 2, "lap": 0.5}, 4.5,
         "=ROUND((A1+A2)*(1+A3),6)"),
        ("blocks = from offcuts + not cut", {"blocks": 3, "from offcuts": 1, "not cut": 2}, 3,
         "=ROUND(A2+A3,6)"),
        ("screws into back-blocks", {"screws": 12}, 12, "=A1"),
        ("lengths of this size", {"lengths": 2, "metres": 8.4}, 2, "=A1"),
        ("something else", {"metres": 8.4}, 2, ""),
    ],
)  # fmt: skip
def test_formulas_in_words_become_formulas_of_cells(formula, inputs, exact, wanted):
    cells = {name: f"A{n}" for n, name in enumerate(inputs, 1)}

    assert exact_formula(line(formula, tuple(inputs.items()), exact), cells) == wanted


def test_a_range_has_two_formulas():
    inputs = {"joints": 10, "low rate": 0.3, "high rate": 0.4}
    cells = {"joints": "A1", "low rate": "B1", "high rate": "C1"}
    found = line("joints × from low rate to high rate", tuple(inputs.items()), 4.0, low=3.0)

    assert exact_formula(found, cells) == "=ROUND(A1*C1,6)"
    assert low_formula(found, cells) == "=ROUND(A1*B1,6)"
    assert low_formula(replace(found, low=4.0), cells) == ""
