import re
from dataclasses import replace

import pytest

from roomboard.drawing.displaylist import Text
from roomboard.drawing.page_checks import text_outside, text_overlaps
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.set_choice import (
    KIND_WORDS,
    USUAL_KINDS,
    PageKind,
    SetChoice,
    kinds_named,
    rooms_named,
    scale_named,
)
from roomboard.drawing.sheet_set import sheet_set

DATED = "2026-05-02"


def words(page):
    return [m.text for m in page.marks if isinstance(m, Text)]


def scale_of(page):
    found = next((w for w in words(page) if re.match(r"1:\d+", w)), None)
    return float(re.match(r"1:(\d+)", found)[1]) if found else None


def test_without_a_choice_all_but_every_fastener_is_printed():
    assert SetChoice().wanted == USUAL_KINDS
    assert set(KIND_WORDS) == set(PageKind)
    assert PageKind.FIXINGS not in SetChoice().wanted
    assert PageKind.FIXINGS in SetChoice(fixings=True).wanted
    assert SetChoice(kinds=(PageKind.ORDER, PageKind.SUMMARY)).wanted == (
        PageKind.SUMMARY,
        PageKind.ORDER,
    )


@pytest.mark.parametrize("kind", [k for k in PageKind if k is not PageKind.SUMMARY])
def test_each_kind_can_be_printed_by_itself_and_cautions_come_with_it(two_rooms, kind):
    pages = sheet_set(two_rooms, SetChoice(kinds=(kind,)), DATED)

    assert {p.kind for p in pages} == {"summary", kind.value}
    assert pages[0].title == "Cautions"
    text = " ".join(words(pages[0]))
    assert "RB801 Asbestos" in text
    assert "tested and found clear" in text  # what was acknowledged is printed all the same
    assert [p.number for p in pages] == list(range(1, len(pages) + 1))
    assert [p.number for p in pages if text_overlaps(p) or text_outside(p)] == []


def test_pages_of_one_room_show_no_other(two_rooms):
    kinds = (PageKind.CARPENTER, PageKind.CEILINGS, PageKind.WALLS, PageKind.HANGING)
    pages = sheet_set(two_rooms, SetChoice(kinds=kinds, rooms=("living",)), DATED)[1:]

    assert {p.room for p in pages} <= {"Hall and living room", ""}
    text = " ".join(w for p in pages for w in words(p))
    assert "Hall and living room" in text
    assert "Bedroom" not in text


def test_cutting_diagrams_of_one_room_are_those_of_its_pieces(two_rooms):
    choice = SetChoice(kinds=(PageKind.CUTTING,), rooms=("Bedroom",))
    text = " ".join(w for p in sheet_set(two_rooms, choice, DATED)[1:] for w in words(p))
    drawn = set(re.findall(r"\b(S\d+): ", text))

    bedroom = next(r for r in two_rooms.rooms if r.room.name == "Bedroom")
    ids = {p.id for s in bedroom.surfaces for p in s.set_out.pieces}
    of_it = {s.id for s in two_rooms.cut_plan.sheets if any(p.piece in ids for p in s.placements)}
    assert drawn == of_it
    assert len(of_it) < len(two_rooms.cut_plan.sheets)


def test_drawings_and_tables_may_be_on_papers_of_different_size(two_rooms):
    pages = sheet_set(two_rooms, SetChoice(paper="A3", lists="A4"), DATED)
    sizes = {p.kind: set() for p in pages}
    for page in pages:
        sizes[page.kind].add((page.width, page.height))

    a3, a4 = [(PAPERS[n].width, PAPERS[n].height) for n in ("A3", "A4")]
    assert sizes["ceilings"] == sizes["pieces"] == {a3}
    assert sizes["summary"] == sizes["order"] == sizes["hanging"] == {a4}
    assert [p.number for p in pages if text_overlaps(p) or text_outside(p)] == []


@pytest.mark.parametrize(
    ("drawings", "tables"),
    [("A4", "A4"), ("A3", "A4"), ("Letter", "Letter"), ("Tabloid", "Letter")],
)
def test_tables_go_on_small_paper_unless_asked_otherwise(drawings, tables):
    assert SetChoice(paper=drawings).list_paper == PAPERS[tables]
    assert SetChoice(paper=drawings, lists=drawings).list_paper == PAPERS[drawings]


def test_a_set_on_large_paper_has_its_tables_on_small(two_rooms):
    pages = sheet_set(two_rooms, "A3", DATED)

    small = [p for p in pages if (p.width, p.height) == (210, 297)]
    large = [p for p in pages if (p.width, p.height) == (420, 297)]
    assert len(small) + len(large) == len(pages)
    assert {"summary", "order", "hanging", "checklist"} <= {p.kind for p in small}
    assert {"carpenter", "ceilings", "cutting"} <= {p.kind for p in large}


@pytest.mark.parametrize("ratio", [25.0, 50.0, 100.0])
def test_a_scale_asked_for_is_kept_by_all_that_fits(two_rooms, ratio):
    kinds = (PageKind.CEILINGS, PageKind.WALLS, PageKind.CUTTING)
    pages = sheet_set(two_rooms, SetChoice(paper="A3", kinds=kinds, scale=ratio), DATED)
    scales = {scale_of(p) for p in pages} - {None}

    # The largest drawing is 6600 x 3600: at 1:25 it takes 264 x 144 mm of an A3 page.
    assert scales == {ratio}


def test_what_does_not_fit_at_a_scale_is_drawn_at_the_next_standard_one(two_rooms):
    choice = SetChoice(paper="A4", kinds=(PageKind.CEILINGS,), scale=20.0)
    scales = {scale_of(p) for p in sheet_set(two_rooms, choice, DATED)} - {None}

    # 6600 at 1:20 is 330 mm, more than A4 is wide; 3580 is 179 mm, too much with its dimensions.
    standard = {s.ratio for s in PAPERS["A4"].scales}
    assert scales <= standard
    assert min(scales) > 20.0


def test_where_fasteners_are_counted_they_stand_apart(two_rooms):
    choice = SetChoice(paper="A3", kinds=(PageKind.FIXINGS,))
    pages = [p for p in sheet_set(two_rooms, choice, DATED) if p.kind == "fixings"]
    text = " ".join(w for p in pages for w in words(p))

    screws = [f for r in two_rooms.rooms for s in r.surfaces for f in s.fixings.fasteners]
    counted = re.findall(r"(\d+) (?:laminating )?screws", text)
    assert sum(int(n) for n in counted) == len(screws)
    for page in pages:
        for mark in page.marks:
            if getattr(mark, "layer", "") != "fastener" or not hasattr(mark, "symbol"):
                continue
            points = sorted(set(mark.points))
            assert mark.paper_size >= 0.35
            gaps = [
                ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
                for n, a in enumerate(points)
                for b in points[n + 1 :]
                if b[0] - a[0] < 1.0
            ]
            assert min(gaps, default=9.0) > mark.paper_size * 0.99 or mark.paper_size == 0.35


def test_walls_are_drawn_clockwise_from_the_door(two_rooms):
    # The living room's door is in wall B: B, C, D, E, F, then A.
    choice = SetChoice(paper="A3", kinds=(PageKind.WALLS,), rooms=("living",))
    captions = [
        w[5] for p in sheet_set(two_rooms, choice, DATED) for w in words(p)
        if re.match(r"Wall [A-F] from inside", w)
    ]  # fmt: skip

    assert sorted(captions) == list("ABCDEF")
    assert captions[0] == "B"


def test_the_register_lists_every_sheet_with_its_scale(two_rooms):
    pages = sheet_set(two_rooms, "A4", DATED)
    *before, last = pages
    listed = words(last)

    assert last.kind == "revisions"
    assert two_rooms.project.issue in listed
    numbers: list[int] = []
    for word in listed:
        run = re.fullmatch(r"(\d+)(?: to (\d+))?", word)
        if run:
            numbers += range(int(run[1]), int(run[2] or run[1]) + 1)
    assert numbers == [p.number for p in before]
    assert {p.title.removesuffix(", continued") for p in before} <= {
        w.partition(": ")[2] or w for w in listed
    } | set(listed)


def test_progress_is_told_from_nothing_to_all(two_rooms):
    told = []
    sheet_set(two_rooms, "A4", DATED, progress=lambda *step: told.append(step))

    done = [d for d, _, _ in told]
    assert done == list(range(len(told)))
    assert {total for _, total, _ in told} == {len(told) - 1}
    assert any("Bedroom" in w for _, _, w in told)


def test_kinds_are_read_by_name_and_unknown_ones_refused():
    assert kinds_named(["order", " Ceilings "]) == (PageKind.CEILINGS, PageKind.ORDER)
    with pytest.raises(ValueError, match=r"no pages called 'nails'; use summary, .*revisions"):
        kinds_named(["nails"])
    with pytest.raises(ValueError, match="No pages are named"):
        kinds_named([""])


def test_rooms_are_read_by_name_or_id_in_the_projects_order(two_rooms):
    project = two_rooms.project
    assert rooms_named(["living", "BEDROOM"], project) == tuple(r.id for r in project.rooms)
    with pytest.raises(ValueError, match="no room called 'Cellar'; the rooms are Bedroom"):
        rooms_named(["Cellar"], project)


def test_scales_are_the_standard_ones_of_the_paper():
    assert scale_named("1:25", PAPERS["A4"]).ratio == 25.0
    assert scale_named("48", PAPERS["Letter"]).ratio == 48.0
    with pytest.raises(ValueError, match="no scale for A4 paper; use 1:10, 1:20"):
        scale_named("1:48", PAPERS["A4"])


def test_an_unknown_paper_of_tables_is_refused(one_room):
    with pytest.raises(ValueError, match="Foolscap"):
        sheet_set(one_room, replace(SetChoice(), lists="Foolscap"), DATED)
