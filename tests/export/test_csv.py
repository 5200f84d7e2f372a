import csv
import io
from dataclasses import replace

import pytest

from roomboard.core.project import Units
from roomboard.core.revision_issue import issue
from roomboard.core.scheme import work_out
from roomboard.core.units import read_length
from roomboard.export.csv_files import csv_bytes
from roomboard.export.tables import TABLES, DataTable, Heading, Kind, table_of, tables_of
from roomboard.export.xlsx import HEAD, xlsx_bytes
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.export.reading import read_xlsx
from tests.rooms import joists, project, rectangle, room


def rows_of(content):
    return list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))


@pytest.mark.parametrize("name", [n for n in TABLES if n != "changes"])
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


def test_changes_since_the_issue_are_a_table_of_their_own():
    # The room 3580 long is measured again: 3610 is more than a sheet of 3600, so that sheets of
    # another length are bought and those of 3600 go back.
    job = project(room(3580, 3040, joists=(joists(90, 450),)))

    def scheme_of(of):
        return work_out(of, load_catalogue("au-nz"), load_practice("au-nz"), compare=False)

    assert "changes" not in tables_of(job)
    job = issue(job, scheme_of(job), (), date="2025-03-31", note="For cutting")
    assert "changes" in tables_of(job)
    assert table_of(scheme_of(job), "changes").rows == ()
    again = replace(job, rooms=(replace(job.rooms[0], outline=rectangle(3610, 3040)),))
    head, *rows = rows_of(csv_bytes(table_of(scheme_of(again), "changes")))
    found = [dict(zip(head, row, strict=True)) for row in rows]
    assert {row["Since issue"] for row in found} == {"A"}
    piece = next(row for row in found if row["Mark"] == "C2-1")
    assert (piece["Surface"], piece["About"], piece["What"]) == (
        "Room, Ceiling",
        "piece",
        "changed",
    )
    assert piece["Change"] == "C2-1 is 30 mm longer (3610 mm, was 3580 mm)"
    bought = [row for row in found if row["About"] == "order"]
    assert {row["What"] for row in bought} == {"buy more", "send back"}
    for row in bought:
        more = float(row["Now"]) - float(row["Was"])
        assert float(row["Difference"]) == pytest.approx(more, abs=0.005)
        assert (more > 0) == (row["What"] == "buy more")
    back = next(row for row in bought if "3600" in row["Change"])
    assert (back["What"], back["Unit"]) == ("send back", "sheet")

    # The workbook has the same on a sheet of its own, numbers as numbers.
    sheet = read_xlsx(xlsx_bytes(scheme_of(again), "2025-04-07"))["Changes"]
    told = list(sheet.iter_rows(min_row=HEAD + 2, values_only=True))
    assert [str(row[5]) for row in told] == [row["Change"] for row in found]
    assert [row[8] for row in told if row[2] == "order"] == [float(r["Difference"]) for r in bought]


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
