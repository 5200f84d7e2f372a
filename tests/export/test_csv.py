import csv
import io

import pytest

from roomboard.core.project import Units
from roomboard.core.units import read_length
from roomboard.export.csv_files import csv_bytes
from roomboard.export.tables import TABLES, DataTable, Heading, Kind, table_of


def rows_of(content):
    return list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))


@pytest.mark.parametrize("name", TABLES)
def test_tables_are_read_back_as_they_were(demo, name):
    table = table_of(demo, name)
    content = csv_bytes(table)
    rows = rows_of(content)

    assert not content.startswith(b"\xef\xbb\xbf")  # no byte order mark
    assert content == csv_bytes(table_of(demo, name))
    assert rows[0] == [column.title for column in table.columns]
    assert len(rows) == len(table.rows) + 1 > 2
    for row, wanted in zip(rows[1:], table.rows, strict=True):
        for cell, value in zip(row, wanted, strict=True):
            if isinstance(value, float):
                assert float(cell) == pytest.approx(value, abs=1e-6)
            else:
                assert cell == (value or "")


def test_commas_quotes_and_line_breaks_are_kept():
    words = 'a, "b"\nc; d'
    table = DataTable(name="x", title="X", columns=(Heading(title="A"),), rows=((words,),))

    assert rows_of(csv_bytes(table)) == [["A"], [words]]


@pytest.mark.parametrize("words", ["=1+1", "+64 3 555", "-x", "@sum", "\tx"])
def test_words_that_a_spreadsheet_would_work_out_get_an_apostrophe(words):
    number = Heading(title="N", kind=Kind.AMOUNT)
    table = DataTable(
        name="x", title="X", columns=(Heading(title="A"), number), rows=((words, -1.5),)
    )

    assert rows_of(csv_bytes(table))[1] == [f"'{words}", "-1.5"]


def test_lengths_in_feet_are_inches_and_as_they_are_written(feet):
    rows = rows_of(csv_bytes(table_of(feet, "cut-list")))
    inches, written = rows[0].index("Length (in)"), rows[0].index("Length")
    pieces = sum(len(s.set_out.pieces) for r in feet.rooms for s in r.surfaces)

    assert len(rows) == pieces + 1
    for row in rows[1:]:
        read = read_length(row[written], Units.FEET_INCHES).mm
        # It is written to a sixteenth of an inch.
        assert float(row[inches]) * 25.4 == pytest.approx(read, abs=25.4 / 32 + 0.001)


def test_rooms_add_up(demo):
    table = table_of(demo, "rooms")
    for at, column in enumerate(table.columns):
        if column.adds:
            *parts, whole = (row[at] for row in table.rows)
            assert sum(parts) == pytest.approx(whole, abs=1e-4)
    assert sum(column.adds for column in table.columns) >= 6


def test_costs_close_the_order_where_there_are_prices(demo, priced):
    assert len(table_of(demo, "order").columns) == 6
    table = table_of(priced, "order")
    costs = [row[7] for row in table.rows[:-1] if row[7] is not None]

    assert len(costs) >= 3
    assert table.rows[-1][7] == pytest.approx(sum(costs))
