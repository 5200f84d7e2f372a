import re
from dataclasses import replace

import pytest

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.project import Units
from roomboard.core.scheme import work_out
from roomboard.core.support import TrimmerReason
from roomboard.core.units import write_mass
from roomboard.drawing.cut_list import cut_list, cuts_table, offcuts_table, sheets_by_piece
from roomboard.drawing.cutting_diagram import cut_pieces, cutting_diagram
from roomboard.drawing.displaylist import Fill, Stroke, Text, bounds
from roomboard.drawing.finding_tables import findings_table
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.order import linear_table, quantities_table, shared_formulas
from roomboard.drawing.page_checks import text_outside, text_overlaps, text_too_small
from roomboard.drawing.page_frame import CENTRING, DISCLAIMER
from roomboard.drawing.paper import PAPERS, Page
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_fields import GRID
from roomboard.drawing.sheet_set import Sections, sheet_set
from roomboard.drawing.timber_tables import trimmers_table
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files
from tests.measured_rooms import duplex

DATED = "2026-05-02"


def words(page):
    return [m.text for m in page.marks if isinstance(m, Text)]


def whole(pages):
    return " ".join(w for page in pages for w in words(page))


@pytest.fixture(scope="module", params=list(PAPERS))
def printed(request, two_rooms, feet):
    imperial = PAPERS[request.param].system == "imperial"
    scheme = feet if imperial else two_rooms
    return scheme, sheet_set(scheme, request.param, DATED)


def test_no_lettering_overlaps_and_none_leaves_the_frame(printed):
    _, pages = printed
    assert {page.number: text_overlaps(page) for page in pages if text_overlaps(page)} == {}
    assert {page.number: text_outside(page) for page in pages if text_outside(page)} == {}


def test_no_line_leaves_the_frame(printed):
    _, pages = printed
    assert_in_frame(pages)


def assert_in_frame(pages):
    for page in pages:
        x0, y0, x1, y1 = page.frame
        for mark in page.marks:
            if isinstance(mark, Stroke):
                if mark.ref in {CENTRING, GRID}:  # stand outside by their nature
                    continue
                points = mark.points
            elif isinstance(mark, Fill):
                points = [p for ring in mark.rings for p in ring]
            else:
                continue
            for x, y in points:
                assert x0 - 0.01 <= x <= x1 + 0.01, (page.title, mark)
                assert y0 - 0.01 <= y <= y1 + 0.01, (page.title, mark)


def test_no_lettering_is_too_small_to_read(printed):
    _, pages = printed
    for page in pages:
        assert min(m.paper_height for m in page.marks if isinstance(m, Text)) >= 2.5


def test_drawings_with_every_fastener_keep_their_lettering_apart(two_rooms):
    pages = sheet_set(two_rooms, "A4", DATED, fixings=True)

    assert any("fixing" in page.title for page in pages)
    assert [p.number for p in pages if text_overlaps(p) or text_outside(p)] == []


def test_every_page_has_number_date_revision_and_disclaimer(printed):
    scheme, pages = printed
    for number, page in enumerate(pages, 1):
        found = words(page)
        assert page.number == number
        assert f"{number} of {len(pages)}" in found
        assert DISCLAIMER in found
        assert DATED in found
        assert scheme.project.issue in found
        assert scheme.project.name in " ".join(found)


def test_drawings_have_scale_and_scale_bar(printed):
    scheme, pages = printed
    metric = scheme.project.units.value == "metric"
    drawings = [page for _, page in drawn_at(pages)]

    assert drawings
    for page in drawings:
        bar = [w for w in words(page) if re.fullmatch(r"[\d.]+ (m|ft)", w)]
        assert [w.endswith("m") for w in bar] == [metric]


def test_the_bar_is_as_long_as_it_says(two_rooms):
    for page in sheet_set(two_rooms, "A4", DATED):
        text = next(
            (m for m in page.marks if isinstance(m, Text) and re.fullmatch(r"[\d.]+ m", m.text)),
            None,
        )
        scale = next((w for w in words(page) if re.fullmatch(r"1:\d+", w)), None)
        if text is None or scale is None:
            continue
        boxes = [
            m.rings[0] for m in page.marks
            if isinstance(m, Fill) and m.layer == "lettering" and m.tone in {0.0, 1.0}
            and abs(m.rings[0][2][1] - m.rings[0][0][1] - 1.5) < 0.01
        ]  # fmt: skip
        length = max(r[1][0] for r in boxes) - min(r[0][0] for r in boxes)
        assert length * float(scale[2:]) == pytest.approx(float(text.text[:-2]) * 1000)


def test_first_page_names_every_caution_and_kind_of_warning(printed):
    scheme, pages = printed
    first = " ".join(words(pages[0]))

    for finding in scheme.findings:
        if finding.severity in {Severity.CAUTION, Severity.WARNING}:
            assert finding.title in first
    # In full they stand there or on the next pages, none left out.
    everything = whole(pages)
    for finding in scheme.findings:
        if finding.code >= "RB800" and finding.severity is Severity.CAUTION:
            assert finding.text.split(".")[0] in everything


def test_what_blocks_the_work_stands_first(one_room):
    blocking = Finding(
        code="RB501",
        severity=Severity.BLOCK,
        text="Piece C9-9 fits no sheet.",
        place=Place(room="bedroom", surface="bedroom/ceiling", item="C9-9"),
    )
    scheme = replace(one_room, findings=(blocking, *one_room.findings))
    found = words(sheet_set(scheme, "A4", DATED)[0])

    order = [" ".join(found).index(w) for w in ("Do not cut", "C9-9 fits no sheet", "Whole job")]
    assert order == sorted(order)


def test_an_acknowledged_caution_is_still_printed(one_room):
    text = whole(sheet_set(one_room, "A4", DATED)[:2])

    assert "RB801 Asbestos" in text
    assert "R. Example" in text
    assert "tested and found clear" in text


def test_every_piece_is_drawn_cut_and_listed(printed):
    scheme, pages = printed
    for title in ("ceiling", "hanging list", "cutting"):
        assert any(title in p.title.lower() for p in pages), title
    listed = whole([p for p in pages if p.title.startswith("Hanging list")]).split()
    drawn = whole([p for p in pages if re.search("Ceiling|[Ww]alls|[Bb]ulkheads", p.title)])
    cut = whole([p for p in pages if p.title.startswith("Cutting")])
    for room in scheme.rooms:
        for s in room.surfaces:
            for piece in s.set_out.pieces:
                assert piece.mark in listed
                assert piece.mark in drawn.split()
                assert piece.mark in cut.split()


def test_pages_are_in_the_order_of_work(two_rooms):
    titles = [p.title.lower() for p in sheet_set(two_rooms, "A4", DATED)]

    def first(part):
        return next(n for n, title in enumerate(titles) if part in title)

    parts = (
        *("summary", "notes and assumptions", "framing", "trimmers and noggings"),
        *("ceiling", "walls", "piece sheets", "cutting diagrams", "hanging list", "order", "plots"),
        *("hang-day checklist", "revision list"),
    )
    places = [first(part) for part in parts]
    assert places == sorted(places)
    assert titles[-1].startswith("revision list")


def test_walls_stand_in_order_and_several_share_a_page(two_rooms):
    pages = sheet_set(two_rooms, "A3", DATED)
    walls = [p for p in pages if "walls" in p.title.lower() and p.room == "Bedroom"]
    captions = [w for p in walls for w in words(p) if w.startswith("Wall ")]

    assert [c[5] for c in captions if "from inside" in c] == ["A", "B", "C", "D"]
    assert len(walls) < 4


def test_figures_from_memory_are_listed_as_such(one_room):
    text = whole(sheet_set(one_room, "A4", DATED))

    assert "check with your local code" in text
    assert one_room.practice.title in text


def test_a_figure_the_user_changed_is_listed_with_what_the_pack_states(one_room):
    key = next(f.key for f in one_room.practice.figures if f.unit == "mm")
    changed = one_room.practice.overridden([(key, 123.0)])
    text = whole(sheet_set(replace(one_room, practice=changed), "A4", DATED))

    assert "123 mm" in text
    assert "changed by the user; the pack states" in text


def test_cut_list_is_in_hanging_order_with_sheet_and_edges(one_room):
    room = one_room.rooms[0]
    rows = cut_list(one_room, room).rows
    where = sheets_by_piece(one_room)
    pieces = {p.mark: p for s in room.surfaces for p in s.set_out.pieces}

    assert [int(row[0]) for row in rows] == list(range(1, len(pieces) + 1))
    for row in rows:
        piece = pieces[row[1]]
        sheet, placement = where[piece.id]
        assert row[6] == sheet.id
        assert row[5] == f"{placement.low.value[0].upper()} {placement.high.value[0].upper()}"
        assert float(row[3]) == pytest.approx(piece.length, abs=0.05)


def test_cut_outs_are_given_from_the_corner_of_the_piece(one_room):
    rows = cut_list(one_room, one_room.rooms[0]).rows
    door = next(row for row in rows if row[1].startswith("WA") and row[-1])

    assert "notch x 900 to 1720, y 0 to" in door[-1]


def test_trimmers_of_the_first_case(one_room):
    # 3040 at either wall that runs with the joists: 6.08 m.
    rows = trimmers_table(one_room.rooms[0], one_room.project.units).rows

    ceiling = [row for row in rows if row[1] == "Ceiling"]
    assert [row[2] for row in ceiling] == ["3040", "3040"]
    assert {row[5] for row in ceiling} == {"wall runs with the joists"}


def test_same_scheme_gives_the_same_pages(two_rooms):
    assert sheet_set(two_rooms, "A4", DATED) == sheet_set(two_rooms, PAPERS["A4"], DATED)


def test_long_names_are_wrapped_not_cut(one_room):
    name = "Renovation of the old school house by the river, second stage, upper floor and attic"
    project = replace(one_room.project, name=name, id="x" * 60)
    pages = sheet_set(replace(one_room, project=project), "A4", DATED)

    assert [p.number for p in pages if text_overlaps(p) or text_outside(p)] == []
    assert all(word in words(pages[0]) or word in whole(pages[:1]) for word in name.split())


def test_an_empty_project_still_prints_its_cautions(one_room):
    empty = replace(
        one_room,
        project=replace(one_room.project, rooms=()),
        rooms=(),
        cut_plan=replace(one_room.cut_plan, sheets=(), bounds=(), unplaced=()),
        linear=(),
        quantities=(),
    )
    pages = sheet_set(empty, "A4", DATED)

    assert "Asbestos" in whole(pages)


@pytest.fixture(scope="module")
def demo():
    (path,) = resource_files("demo", ".json")
    project = load(path).project
    return work_out(project, load_catalogue(project.practice), load_practice(project.practice))


@pytest.mark.parametrize("paper", PAPERS)
def test_the_demo_prints_without_a_clash(demo, paper):
    pages = sheet_set(demo, paper, DATED, fixings=True)

    assert any("fixing" in page.title for page in pages)
    assert_in_frame(pages)
    assert [(p.number, text_overlaps(p), text_outside(p)) for p in pages
            if text_overlaps(p) or text_outside(p)] == []  # fmt: skip
    assert [p.number for p in pages if text_too_small(p)] == []


def drawn_at(pages):
    """The scale of every page that has one, with the page."""
    found = []
    for page in pages:
        if page.kind == PageKind.REVISIONS:  # lists the scales of the others
            continue
        scale = next((w for w in words(page) if re.match(r"1:\d+", w)), "")
        if scale:
            found.append((float(re.match(r"1:(\d+)", scale)[1]), page))
    return found


@pytest.mark.parametrize(("paper", "most"), [("A4", 50.0), ("Letter", 48.0)])
def test_small_paper_takes_every_drawing_of_the_demo_at_its_usual_scale(demo, paper, most):
    # The largest: 6600 x 4200, which at 1:50 is 132 mm of the 174 mm between the margins.
    scales = drawn_at(sheet_set(demo, paper, DATED))

    assert scales
    assert max(ratio for ratio, _ in scales) == most


def test_in_feet_and_inches_no_drawing_is_much_smaller(demo):
    # 7800 at 1:48 is 163 mm, with its dimensions in feet too much for Letter; 3/16" to the foot
    # (1:64) comes before 1/8" (1:96).
    project = replace(demo.project, units=Units.FEET_INCHES)
    feet = work_out(project, demo.catalogue, load_practice(project.practice))
    assert max(ratio for ratio, _ in drawn_at(sheet_set(feet, "Letter", DATED))) <= 64.0


@pytest.fixture(scope="module", params=["A4", "Letter"])
def foyers(request):
    """The two longest rooms of the duplex: narrow, and so tall that little is left on a page."""
    named = tuple(r for r in duplex().rooms if "Foyer" in r.name)
    project = replace(duplex(), rooms=named)
    if request.param == "Letter":
        project = replace(project, units=Units.FEET_INCHES, practice="us")
    scheme = work_out(project, load_catalogue(project.practice), load_practice(project.practice))
    return Sections(scheme, SetChoice(paper=request.param), DATED), scheme


def test_a_tall_narrow_room_is_drawn_large_with_its_caption_beside_it(foyers):
    sections, scheme = foyers
    pages = sheet_set(scheme, sections.choice, DATED)
    assert max(ratio for ratio, _ in drawn_at(pages)) <= 75.0
    assert [(p.number, text_overlaps(p), text_outside(p)) for p in pages
            if text_overlaps(p) or text_outside(p)] == []  # fmt: skip


def test_no_drawing_reaches_into_the_legend(foyers):
    sections, scheme = foyers
    frame = sections.drawings
    sheets = [*sections.carpenter(), *sections.cutting(), *sections.pieces()]
    for room in scheme.rooms:
        sheets += [*sections.room(room), *sections.fixings(room)]
    drawn = [s for s in sheets if s.scale is not None]
    assert drawn
    for sheet in drawn:
        top = max(m.at[1] + m.paper_height for m in frame.legend(sheet) if isinstance(m, Text))
        assert bounds(sheet.marks, 1.0)[1] >= top - 0.01, sheet.title


CREW = (
    PageKind.CARPENTER, PageKind.CEILINGS, PageKind.WALLS, PageKind.PIECES, PageKind.CUTTING,
    PageKind.HANGING,
)  # fmt: skip


@pytest.mark.parametrize(("paper", "carried", "whole"), [("A4", 36, 52), ("Letter", 41, 58)])
def test_the_demo_takes_no_more_pages_than_a_crew_carries(demo, paper, carried, whole):
    pages = sheet_set(demo, paper, DATED)

    assert sum(p.kind in CREW for p in pages) <= carried
    assert len(pages) <= whole


def test_the_legend_explains_what_stands_on_its_page_and_nothing_else(demo):
    explained = {layer.words: name for name, layer in LAYERS.items()}
    for _, page in drawn_at(sheet_set(demo, "A4", DATED)):
        samples = [m for m in page.marks if isinstance(m, Stroke | Fill)]
        named = {explained[w] for w in words(page) if w in explained}
        for name in named - {"sheet", "piece", "dimension"}:
            # Its sample, and at least one line of the drawing.
            assert sum(m.layer == name for m in samples) >= 2, (page.title, name)


def test_an_empty_place_is_taken_before_a_page_is_turned(demo):
    # Cutting diagrams of 2400 to 4800 mm: on A4 at 1:50 more than six to a page.
    pages = [p for p in sheet_set(demo, "A4", DATED) if p.title.startswith("Cutting")]

    assert len(demo.cut_plan.sheets) / len(pages) > 6


def test_missing_timber_and_heavy_pieces_are_named_room_by_room(demo):
    table = findings_table(demo.findings, demo)
    text = {row[0].split()[-1]: row[1] for row in table.rows}

    for room in demo.rooms:
        for s in room.surfaces:
            for t in s.trimmers:
                code = "RB302" if t.reason is TrimmerReason.DIRECTION_CHANGE else "RB301"
                line = next(w for w in text[code].split("\n") if w.startswith(room.room.name))
                assert f"{t.tag} {t.length:.0f} mm" in line
        # Above 25 kg one person does not lift alone: the limit that is printed with the list.
        pieces = [p for s in room.surfaces for p in s.set_out.pieces if p.mass_kg > 25]
        lines = [w for w in text["RB601"].split("\n") if w.startswith(room.room.name)]
        assert len(lines) == bool(pieces)
        for line in lines:
            named = line.removeprefix(f"{room.room.name}: ").removesuffix(".").split(", ")
            expected = [f"{p.mark} {write_mass(p.mass_kg, Units.METRIC)}" for p in pieces]
            assert sorted(named) == sorted(expected)
    assert "25.0 kg" in text["RB601"]


def test_back_blocks_of_one_size_from_one_sheet_stand_in_one_row(demo):
    rows = offcuts_table(demo).rows
    blocks = [row for row in rows if "back-block" in row[4]]

    assert len({(row[0], row[2]) for row in blocks}) == len(blocks)
    listed = sum(int(row[4].split()[0]) for row in blocks)
    assert listed == sum(len(o.used_for) for s in demo.cut_plan.sheets for o in s.offcuts)


@pytest.mark.parametrize("paper", PAPERS)
def test_titles_say_nothing_twice_and_are_not_clipped(demo, paper):
    for page in sheet_set(demo, paper, DATED):
        title = page.title.lower()
        named = [w for w in re.findall("[a-z]+", title) if w not in {"and", "of", "the"}]
        assert len(named) == len(set(named)), title
        assert not [w for w in words(page) if w.endswith("…")], title


def test_every_cut_without_its_number_or_a_leader_is_listed(demo):
    pieces = cut_pieces(demo)
    listed = {(row[0], number) for row in cuts_table(demo).rows for number in row[1::2]}
    for sheet in demo.cut_plan.sheets:
        drawn = cutting_diagram(sheet, pieces, Units.METRIC, 50.0)
        said = {m.text.removeprefix("cut ") for m in drawn if isinstance(m, Text)}
        leaders = [m for m in drawn if isinstance(m, Text) and m.text.startswith("cut ")]
        assert len(leaders) <= 1, sheet.id
        for cut in sheet.cuts:
            number = str(cut.number)
            assert number in said or (sheet.id, number) in listed, (sheet.id, number)
    assert listed


def test_rooms_are_called_by_their_names_and_never_by_their_ids(demo):
    """An id stands before a stroke: ``living/CO1``; rooms of the demo have other names than ids."""
    ids = "|".join(r.id for r in demo.project.rooms)
    text = whole(sheet_set(demo, "A4", DATED))
    assert not re.search(rf"\b(?:{ids})/", text)
    rows = [row for row in linear_table(demo).rows if len(row) > 1]
    sources = [q.sources for q in demo.quantities if 0 < len(q.sources) <= 8]
    assert rows
    assert sources
    # L2 in hand: 600 left of the first run of the living room, and a run of the hall.
    two = next(row for row in rows if row[0] == "L2")
    assert two[2] == "Living and dining CO1 (2 of 2) 600; Hall CO4 5200"


def test_a_formula_shared_by_lines_of_the_order_is_said_once(demo):
    boards = [q for q in demo.quantities if q.group == "board"]
    (formula,) = shared_formulas(boards)
    rows = quantities_table(boards).rows

    assert len(rows) == len(boards)
    assert not any(formula in cell for row in rows for cell in row)
    assert whole(sheet_set(demo, "A4", DATED)).count(formula) == 1


def test_the_order_of_a_project_in_feet_is_in_feet_pounds_and_fluid_ounces(feet):
    rows = {
        r[0]: r
        for group in ("fixing", "jointing")
        for r in quantities_table(
            [q for q in feet.quantities if q.group == group], Units.FEET_INCHES
        ).rows
    }
    lines = {q.name: q for q in feet.quantities}
    # One foot is 0.3048 m, one pound 0.45359237 kg: a roll of 500 ft, a pail of 62 lb.
    tape = rows["Paper joint tape, 500 ft roll"]
    assert " of 500 ft" in tape[2]
    assert tape[3] == f"{lines[tape[0]].packs * 500} ft"
    assert "worked out in metres" in tape[4]
    compound = next(r for name, r in rows.items() if "compound" in name)
    assert " of 62 lb" in compound[2]
    for row in rows.values():
        assert not re.search(r"\d (m|kg|ml)\b", " ".join(row[1:4])), row


def test_runs_of_stock_lengths_are_in_feet_where_the_project_is(feet, demo):
    # A foot is 304.8 mm.
    for scheme, unit, size in ((feet, "feet", 304.8), (demo, "metres", 1000.0)):
        lines = [q for q in scheme.quantities if q.unit == "length"]
        runs = sum(mm for cut in scheme.linear for _, mm in cut.pieces)
        said = 0.0
        for q in lines:
            assert f"for {unit} of runs" in q.formula
            (row,) = quantities_table([q], scheme.project.units).rows
            count = int(q.total)
            assert row[1] == f"{count} length{'s' if count > 1 else ''}"
            said += float(re.search(rf"{unit} = (\d+(?:\.\d+)?)", row[-1])[1])
        assert lines
        assert said == pytest.approx(runs / size, abs=0.006 * len(lines))


def test_a_changed_figure_says_what_the_pack_states_in_the_units_of_the_project(feet):
    project = replace(feet.project, overrides=(("stagger.min", 800.0), ("steel.light_max", 1.0)))
    scheme = work_out(project, feet.catalogue, load_practice(project.practice))
    text = whole(sheet_set(scheme, "Letter", DATED))
    assert "the pack states 1' 4\"" in text
    # Sixteenths of an inch are too coarse for the thickness of steel.
    assert "0.033 in" in whole(sheet_set(feet, "Letter", DATED))


def test_lengths_on_drawings_of_a_project_in_feet_are_in_feet_and_inches(feet):
    # A bare number on a drawing is a count or a datum, never millimetres.
    for page in sheet_set(feet, "Letter", DATED):
        if page.title.startswith(("Ceiling", "Walls", "Framing", "Cutting", "Pieces")):
            numbers = [w for w in words(page) if re.fullmatch(r"\d{3,}(\.\d+)?", w)]
            assert numbers == []
            assert not [w for w in words(page) if re.search(r"\d mm\b", w)]


def test_a_paper_nobody_knows_is_refused(one_room):
    with pytest.raises(ValueError, match="A4, A3, Letter, Tabloid"):
        sheet_set(one_room, "Foolscap", DATED)


def test_overlaps_and_strays_would_be_noticed():
    def page(*marks):
        return Page(
            number=1, title="", room="", width=100, height=100, frame=(10, 10, 90, 90),
            marks=marks, document="", creator="",
        )  # fmt: skip

    one = Text(at=(20, 20), text="one", paper_height=2.5)
    two = Text(at=(22, 21), text="two", paper_height=2.5)
    over = Text(at=(88, 20), text="three", paper_height=2.5)
    assert text_overlaps(page(one, two)) == (("one", "two"),)
    assert text_overlaps(page(one, replace(two, at=(20, 30)))) == ()
    assert text_outside(page(one, over)) == ("three",)
