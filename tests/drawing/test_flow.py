import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.drawing.displaylist import Text, overlap, text_box
from roomboard.drawing.flow import (
    PAD,
    Column,
    Heading,
    NewPage,
    Paragraph,
    Table,
    column_widths,
    flow,
)
from roomboard.drawing.lettering import wrapped

AREA = (20.0, 30.0, 200.0, 130.0)


def texts(page):
    return [m for m in page if isinstance(m, Text)]


def test_a_long_table_breaks_with_its_head_on_every_page():
    rows = tuple((f"P{n}", "a piece of board") for n in range(60))
    pages = flow([Table(columns=(Column(title="Mark"), Column(title="What")), rows=rows)], AREA)

    assert len(pages) > 2
    for page in pages:
        assert [t.text for t in texts(page)][:2] == ["Mark", "What"]
    found = [t.text for page in pages for t in texts(page) if t.text.startswith("P")]
    assert found == [row[0] for row in rows]


def test_a_row_longer_than_a_page_is_set_in_parts():
    words = [f"w{n}" for n in range(900)]
    table = Table(
        columns=(Column(title="Id"), Column(title="Words")), rows=(("1", " ".join(words)),)
    )
    pages = flow([table], AREA)

    assert len(pages) > 1
    found = " ".join(t.text for page in pages for t in texts(page) if t.text.startswith("w"))
    assert found.split() == words


cells = st.text(alphabet="ab W×\n", max_size=90)


@given(
    rows=st.lists(st.tuples(cells, cells, cells), min_size=1, max_size=25),
    before=st.text(alphabet="abc de", max_size=400),
)
def test_nothing_leaves_its_area_or_overlaps(rows, before):
    table = Table(
        columns=(Column(title="One"), Column(title="Two", right=True), Column(title="Three")),
        rows=tuple(rows),
    )
    for page in flow([Paragraph(text=before), Heading(text="Table"), table], AREA):
        boxes = [text_box(t) for t in texts(page) if t.text.strip()]
        for number, box in enumerate(boxes):
            assert AREA[0] <= box[0] + 0.01
            assert box[2] <= AREA[2] + 0.01
            assert AREA[1] <= box[1] + 0.01
            assert box[3] <= AREA[3] + 0.01
            assert not any(overlap(box, other, 0.01) for other in boxes[number + 1 :])


def test_a_heading_never_stands_alone_at_the_foot():
    filling = [Paragraph(text="line")] * 16
    pages = flow([*filling, Heading(text="Head"), Paragraph(text="text under it")], AREA)

    holding = next(page for page in pages if any(t.text == "Head" for t in texts(page)))
    assert any(t.text == "text under it" for t in texts(holding))


def test_a_new_page_is_begun_when_asked():
    pages = flow([Paragraph(text="one"), NewPage(), Paragraph(text="two")], AREA)

    assert [[t.text for t in texts(page)] for page in pages] == [["one"], ["two"]]


@pytest.mark.parametrize("blocks", [[], [Table(columns=(Column(title="A"),), rows=())]])
def test_nothing_takes_no_page(blocks):
    assert flow(blocks, AREA) == ()


@pytest.mark.parametrize("lines", range(10, 22))
def test_a_heading_stands_on_the_page_where_its_table_begins(lines):
    table = Table(columns=(Column(title="Item"),), rows=(("a\nb\nc\nd",), ("e",)))
    between = Paragraph(text="note", tight=True)
    pages = flow([*[Paragraph(text="line")] * lines, Heading(text="Head"), between, table], AREA)

    for page in pages:
        found = {t.text for t in texts(page)}
        assert ("Head" in found) == ("a" in found) == ("note" in found)


def test_a_row_of_one_cell_stands_over_the_rows_after_it():
    columns = (Column(title="Mark"), Column(title="What"))
    over = "a name much longer than any column of this table is wide, set across all of it"
    rows = ((over,), *((f"P{n}", "x") for n in range(3)))
    (page,) = flow([Table(columns=columns, rows=rows)], AREA)

    (text,) = [t for t in texts(page) if t.text.startswith("a name")]
    assert text.bold
    assert text.at[1] > max(t.at[1] for t in texts(page) if t.text.startswith("P"))


def test_numbers_are_not_parted_from_their_units():
    rows = tuple((f"{n}23.45 m", "many words that want all the room there is " * 3) for n in "12")
    columns = (Column(title="Run", right=True), Column(title="Words"))
    (page,) = flow([Table(columns=columns, rows=rows)], AREA)

    assert {"123.45 m", "223.45 m"} <= {t.text for t in texts(page)}


def test_whole_names_and_pairs_of_numbers_break_before_a_word_of_a_heading_does():
    """Names that are kept whole would leave the other columns less than their headings need."""
    table = Table(
        columns=(
            Column(title="Room", unbroken=True),
            Column(title="Recessed joints", right=True),
            Column(title="Length", right=True),
        ),
        rows=(("Kitchen with a nib and a post", "35.78 m", "3019 / 3028"),),
    )
    for width in (80.0, 66.0, 54.0):
        for column, own in zip(table.columns, column_widths(table, width), strict=True):
            lines = wrapped(column.title, own - 2 * PAD, bold=True)
            assert " ".join(lines) == column.title
    wide = column_widths(table, 80.0)
    assert wrapped("3019 / 3028", wide[2] - 2 * PAD) == ("3019 / 3028",)
    assert sum(column_widths(table, 54.0)) == pytest.approx(54.0)
    tight = column_widths(table, 54.0)
    assert wrapped("3019 / 3028", tight[2] - 2 * PAD) == ("3019 /", "3028")


def test_blocks_begin_under_what_stands_on_the_first_page():
    first, *more = flow([Paragraph(text="line")] * 30, AREA, 70.0)

    assert max(text_box(t)[3] for t in texts(first)) <= 70.0
    assert max(text_box(t)[3] for t in texts(more[0])) > 120.0
