"""Labels for pieces, and the small pages for a telephone."""

import pytest

from roomboard.core.findings import Severity
from roomboard.drawing.checklist import BOX, checklist_table
from roomboard.drawing.displaylist import Fill, Text, text_box
from roomboard.drawing.labels import LabelSheet, label_pages, shortened
from roomboard.drawing.lettering import SMALLEST, text_width
from roomboard.drawing.page_checks import text_outside, text_overlaps
from roomboard.drawing.paper import Paper
from roomboard.drawing.phone_set import phone_set
from roomboard.drawing.set_choice import PageKind
from roomboard.storage.label_sheets import label_sheets

SHEETS = label_sheets().sheets


def marks_of(scheme):
    return [
        p.mark
        for r in scheme.rooms
        for p in sorted(
            (p for s in r.surfaces for p in s.set_out.pieces), key=lambda p: (p.hang, p.id)
        )
    ]


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("job", ["demo_scheme", "feet"])
def test_every_piece_has_one_label_inside_its_own(request, sheet, job):
    scheme = request.getfixturevalue(job)
    sheet = SHEETS[sheet]
    pages = label_pages(scheme, sheet, scheme.rooms)
    wanted = marks_of(scheme)

    assert len(pages) == -(-len(wanted) // sheet.count)
    found = []
    for page in pages:
        assert text_overlaps(page) == ()
        for number in range(sheet.count):
            x0, y0, x1, y1 = sheet.label(number)
            inside = [
                m
                for m in page.marks
                for a, b, c, d in (text_box(m),)
                if x0 - 0.01 <= a and b >= y0 - 0.01 and c <= x1 + 0.01 and d <= y1 + 0.01
            ]
            found.extend(m.text for m in inside[:1])
            if inside:
                # Mark, hanging number, place, size, edges, sheet and mass at least.
                assert len(inside) >= 6
        assert all(m.paper_height >= SMALLEST for m in page.marks)
    assert found == wanted


def test_a_label_says_what_the_piece_is(one_room):
    (page,) = label_pages(one_room, SHEETS["a4-3x8"], one_room.rooms)
    ceiling = one_room.rooms[0].surfaces[0].set_out.pieces
    first = min(ceiling, key=lambda p: p.hang)
    (x0, y0, x1, y1) = SHEETS["a4-3x8"].label(0)
    texts = [m.text for m in page.marks if x0 <= m.at[0] <= x1 and y0 <= m.at[1] <= y1]

    assert texts[:4] == [
        first.mark,
        "hang 1",
        "Bedroom, Ceiling",
        f"{first.length:g} × {first.width:g}",
    ]
    assert {"R R", "R C", "C R", "C C"} & set(texts)
    assert any(t.endswith("kg") or "people" in t for t in texts)


def test_labels_stand_where_the_sheet_has_them():
    sheet = SHEETS["a4-3x8"]

    # 24 labels of 70 x 37 mm; the first begins 0.5 mm under the edge and 5 mm are kept blank.
    assert sheet.count == 24
    assert sheet.label(0) == (5.0, 297 - 0.5 - 37 + 5, 65.0, 297 - 0.5 - 5)
    assert sheet.label(4)[:1] == (75.0,)
    assert sheet.label(23)[1] == pytest.approx(297 - 0.5 - 8 * 37 + 5)


def test_a_line_that_is_too_long_is_cut_off_and_says_so():
    text = shortened("Wall D, left reveal of O1", 30.0)

    assert text.endswith("…")
    assert text_width(text, SMALLEST) <= 30.0
    assert shortened("Wall D", 30.0) == "Wall D"


def test_where_there_is_no_second_line_the_room_is_cut_off_before_the_face(demo_scheme):
    pages = label_pages(demo_scheme, SHEETS["letter-3x10"], demo_scheme.rooms)
    said = [m.text for page in pages for m in page.marks if "…" in m.text]

    assert said
    faces = [s.surface.name for r in demo_scheme.rooms for s in r.surfaces]
    assert not [text for text in said if text.partition("…, ")[2] not in faces]


@pytest.mark.parametrize("sheet", ["a4-3x8", "a4-2x7"])
def test_a_long_place_goes_on_in_a_second_line(demo_scheme, sheet):
    pages = label_pages(demo_scheme, SHEETS[sheet], demo_scheme.rooms)
    said = [m.text for page in pages for m in page.marks]

    assert not [text for text in said if "…" in text]
    if sheet == "a4-3x8":
        at = said.index("Living and dining, Wall D,")
        assert said[at + 1].endswith(" reveal of O1")
    cut = [p for r in demo_scheme.rooms for s in r.surfaces for p in s.set_out.pieces]
    notes = [text for text in said if text == "with cut-outs: see its drawing"]
    assert len(notes) == len([p for p in cut if not p.is_plain])


# --- telephone ----------------------------------------------------------------------------------


def phone(scheme, **more):
    page = label_sheets().phone
    paper = Paper(name="phone", width=page.width, height=page.height, system="metric")
    return phone_set(scheme, paper, page.margin, "2026-05-01", **more)


@pytest.fixture(scope="module")
def small(demo_scheme):
    return phone(demo_scheme, fixings=True)


def test_small_pages_have_no_lettering_over_other_lettering_or_outside(small):
    for page in small:
        assert text_overlaps(page) == (), page.number
        assert text_outside(page) == (), page.number
        assert all(m.paper_height >= SMALLEST for m in page.marks if isinstance(m, Text))


def test_what_must_be_read_stands_first(demo_scheme, small):
    heads = [p.title for p in small]
    assert heads[0] == "Read this first"
    first = " ".join(
        m.text for p in small if p.title == heads[0] for m in p.marks if isinstance(m, Text)
    )
    cautions = [f for f in demo_scheme.findings if f.severity is Severity.CAUTION]
    assert len(cautions) >= 8
    for f in cautions:
        assert f.code in first
    for page in small:
        assert any("Layout aid." in m.text for m in page.marks if isinstance(m, Text))


def test_each_surface_stands_on_a_page_of_its_own(demo_scheme, small):
    for room in demo_scheme.rooms:
        for s in room.surfaces:
            pages = [p for p in small if (p.room, p.title) == (room.room.name, s.surface.name)]
            drawn = [
                p for p in pages for m in p.marks
                if isinstance(m, Fill) and m.ref in {x.id for x in s.set_out.pieces}
            ]  # fmt: skip
            assert len({p.number for p in drawn}) == bool(s.set_out.pieces)
            text = " ".join(m.text for p in pages for m in p.marks if isinstance(m, Text))
            for piece in s.set_out.pieces:
                assert piece.mark in text
                assert f"{piece.length:g} × {piece.width:g}" in text


def test_every_stock_sheet_and_order_line_is_there(demo_scheme, small):
    text = " ".join(m.text for p in small for m in p.marks if isinstance(m, Text))

    for sheet in demo_scheme.cut_plan.sheets:
        assert f"{sheet.id}: " in text
    assert [p.number for p in small] == list(range(1, len(small) + 1))
    assert small[-1].title == "Hang-day checklist"
    assert "Order" in [p.title for p in small]


def lettering(pages):
    return " ".join(m.text for p in pages for m in p.marks if isinstance(m, Text))


def test_each_piece_that_is_no_rectangle_stands_on_a_page_with_its_dimensions(demo_scheme, small):
    odd = [
        (r, p) for r in demo_scheme.rooms for s in r.surfaces for p in s.set_out.pieces
        if not p.is_plain
    ]  # fmt: skip
    assert odd
    for room, piece in odd:
        (page,) = [
            p for p in small
            if (p.room, p.title) == (room.room.name, f"Piece {piece.mark}, face up")
        ]  # fmt: skip
        text = lettering([page])
        assert f"No. {piece.hang}, from " in text
        # Running dimensions from its own corner end with the whole length and width.
        for size in (piece.length, piece.width):
            assert f"{size:g}" in text.split()


def test_every_entry_of_the_checklist_can_be_ticked_on_the_telephone(demo_scheme, small):
    table, _ = checklist_table(demo_scheme.practice, demo_scheme.project.units)
    pages = [p for p in small if p.title == "Hang-day checklist"]
    text = " ".join(lettering(pages).split())
    entries = [row for row in table.rows if len(row) > 1]
    assert text.count(BOX) == len(entries)
    for row in entries:
        assert all(word in text for word in row[1].split())


def test_only_some_kinds_of_small_pages(demo_scheme):
    pages = phone(demo_scheme, kinds=(PageKind.CEILINGS, PageKind.CHECKLIST))
    assert {p.title for p in pages} == {"Read this first", "Ceiling", "Hang-day checklist"}
    every = phone(demo_scheme, kinds=(PageKind.FIXINGS,))
    assert all(p.title.endswith(": fixing") for p in every if p.room)
    assert any(p.room for p in every)


def test_the_set_can_be_of_one_room_and_the_cautions_stay(demo_scheme):
    pages = phone(demo_scheme, rooms=demo_scheme.rooms[2:3])

    assert {p.room for p in pages} == {"", "Hall"}
    assert pages[0].title == "Read this first"


def test_a_sheet_is_a_value():
    sheet = SHEETS["roll-62x29"]

    assert isinstance(sheet, LabelSheet)
    assert sheet.count == 1
