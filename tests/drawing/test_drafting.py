"""Drafting by the published standards, as far as they speak; named in resources/drafting."""

import re
import tomllib
from dataclasses import replace

import pytest

from roomboard.core.project import Units
from roomboard.core.revision import LEFT_OUT, LETTERS, LONGEST_LETTER
from roomboard.core.scheme import work_out
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Text, overlap, text_box
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.page_checks import text_outside, text_overlaps
from roomboard.drawing.page_frame import CENTRING
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_fields import GRID
from roomboard.drawing.sheet_set import sheet_set
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.resources import resource_text
from tests.house_12 import house
from tests.measured_rooms import duplex

DATED = "2026-05-02"
# ISO 128: the series of line widths, each about 1.4 times the one before.
WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
# ISO 7200: what a title block must have; the field of ours that holds it.
MANDATORY = {
    "legal owner": "owner",
    "identification number": "identification",
    "date of issue": "date",
    "sheet number": "sheet",
    "title": "title",
    "approval person": "approved",
    "creator": "creator",
    "document type": "document",
}


def words(page):
    return [m.text for m in page.marks if isinstance(m, Text)]


@pytest.fixture(scope="module")
def pens():
    return tomllib.loads(resource_text("drafting", "pens.toml"))


@pytest.fixture(scope="module")
def sheets():
    return tomllib.loads(resource_text("drafting", "sheets.toml"))


def test_letters_of_issues_are_those_of_the_standard_named(sheets):
    # ISO 5457: fields of a sheet are lettered from A on, I and O left out; ISO 7200: a revision
    # index has one or two signs.
    named = sheets["revision"]
    assert (named["left_out"], named["longest"]) == (LEFT_OUT, LONGEST_LETTER) == ("IO", 2)
    assert {named["source"], *named["see_also"]} <= set(sheets["sources"])
    assert LETTERS == "ABCDEFGHJKLMNPQRSTUVWXYZ"


@pytest.fixture(scope="module")
def pages(demo_scheme):
    return sheet_set(demo_scheme, SetChoice(fixings=True), DATED)


def test_line_widths_are_of_the_series_and_narrow_to_wide_is_one_to_two(pens):
    widths = {k: v for k, v in pens["width"].items() if k != "source"}

    assert set(widths.values()) <= set(WIDTHS)
    assert widths["wide"] == 2 * widths["narrow"]
    assert widths["outline"] > widths["wide"]


def test_what_matters_is_wide_and_what_explains_is_narrow():
    pens = {name: layer.pen for name, layer in LAYERS.items()}
    narrow, wide = pens["dimension"].width, pens["opening"].width

    assert {pens[n].width for n in ("dimension", "lettering", "joist", "daub")} == {narrow}
    assert all(pen.width == wide for name, pen in pens.items() if name.startswith("joint_"))
    assert pens["trimmer"].dashes
    assert pens["joist"].dashes
    assert pens["trimmer"].width > pens["joist"].width  # to add is told from what is there


def test_no_two_joints_are_told_by_their_dashes_alone():
    joints = [layer for name, layer in LAYERS.items() if name.startswith("joint_")]
    assert len({layer.letter for layer in joints}) == len(joints)
    assert all(layer.letter for layer in joints)


def test_the_title_block_has_every_mandatory_field(sheets):
    fields = {f["key"]: f for f in sheets["title_block"]["field"]}

    assert set(MANDATORY.values()) <= set(fields)
    assert all(fields[key]["source"] == "iso7200" for key in MANDATORY.values())
    assert sheets["title_block"]["width"] == 180


def test_every_page_shows_the_mandatory_fields_with_what_is_known(demo_scheme, pages, sheets):
    captions = {f["key"]: f["words"] for f in sheets["title_block"]["field"]}
    for page in pages:
        found = set(words(page))
        assert {captions[key] for key in MANDATORY.values()} <= found
        assert {demo_scheme.project.id, DATED, f"{page.number} of {len(pages)}"} <= found


def test_every_figure_of_drafting_names_its_source_with_a_status(pens, sheets):
    for data in (pens, sheets):
        statuses = {s["status"] for s in data["sources"].values()}
        assert statuses <= {"seen", "secondary", "memory", "practice"}
        for source in data["sources"].values():
            # A document is named, or it is our own choice.
            assert bool(source["document"]) is (source["status"] != "practice")


def test_dimensions_and_lettering_go_by_standards_that_are_named(pens):
    # ISO 3098-1 as remembered: nominal heights in steps of the square root of two.
    series = {1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0}
    assert {v for k, v in pens["lettering"].items() if k != "source"} <= series
    document = pens["sources"][pens["dimension"]["source"]]
    assert document["document"].startswith("ISO 129-1")
    assert document["status"] == "memory"


def test_the_notes_name_every_drafting_standard_with_its_standing(pages, pens, sheets):
    said = " ".join(m.text for p in pages for m in p.marks if isinstance(m, Text))
    named = [s for f in (pens, sheets) for s in f["sources"].values() if s["document"]]
    assert len(named) >= 8
    for source in named:
        short = " ".join(source["document"].split()[:2])
        assert short in said, short


def test_frame_and_centring_marks_keep_clear_of_the_edge(pages):
    # ISO 5457: 20 for filing, 10 elsewhere; office printers leave about 4 mm blank.
    for page in pages:
        x0, y0, x1, y1 = page.frame
        assert (x0, y0) == (20.0, 10.0)
        assert (x1, y1) == (page.width - 10.0, page.height - 10.0)
        marks = [m for m in page.marks if isinstance(m, Stroke) and m.ref == CENTRING]
        assert len(marks) == 4
        for x, y in (p for m in marks for p in m.points):
            assert 4.0 < x < page.width - 4.0
            assert 4.0 < y < page.height - 4.0
            assert page.width / 2 == x or page.height / 2 == y


@pytest.mark.parametrize(
    ("paper", "numbers", "letters", "ticks"),
    [
        # ISO 5457: fields of 50 from the middle: A3 has 8 by 6. The first tick of A3 across lies
        # at 210 - 3 x 50 = 60, up at 148.5 - 2 x 50 = 48.5. A tabloid sheet is as large, about.
        ("A3", "12345678", "ABCDEF", (60.0, 48.5)),
        ("Tabloid", "12345678", "ABCDEF", (65.9, 39.7)),
        ("A4", "", "", None),
        ("Letter", "", "", None),
    ],
)
def test_large_sheets_have_fields_outside_the_frame(demo_scheme, paper, numbers, letters, ticks):
    page = sheet_set(demo_scheme, SetChoice(paper=paper, kinds=(PageKind.CEILINGS,)), DATED)[-1]
    x0, y0, x1, y1 = page.frame
    names = [m for m in page.marks if isinstance(m, Text) and m.ref == GRID]

    def along(side):
        return [m.text for m in names if side(m.at)]

    assert along(lambda p: p[1] > y1) == along(lambda p: p[1] < y0) == list(numbers)
    assert along(lambda p: p[0] < x0) == along(lambda p: p[0] > x1) == list(letters)
    for m in names:
        a, b, c, d = text_box(m)
        assert 4.0 < a < c < page.width - 4.0
        assert 4.0 < b < d < page.height - 4.0
    drawn = [m.points for m in page.marks if isinstance(m, Stroke) and m.ref == GRID]
    if ticks is None:
        assert not drawn
        return
    across = min(p[0] for points in drawn for p in points if points[0][0] == points[1][0])
    up = min(p[1] for points in drawn for p in points if points[0][1] == points[1][1])
    assert (across, up) == pytest.approx(ticks)


def test_no_lettering_is_smaller_than_two_and_a_half(pages):
    for page in pages:
        for mark in page.marks:
            if isinstance(mark, Text):
                assert mark.paper_height >= 2.5


def test_piece_marks_are_larger_than_other_lettering(demo_scheme, pages):
    # They are read from further away: 3.5 to 2.5.
    known = {p.mark for r in demo_scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    drawn = [
        m for p in pages if p.kind in {"ceilings", "walls"} for m in p.marks
        if isinstance(m, Text) and m.text in known and m.bold
    ]  # fmt: skip
    assert len(drawn) > len(known) / 2
    assert {m.paper_height for m in drawn} == {3.5}


def test_every_drawing_has_a_true_scale_of_its_paper_and_a_bar(pages):
    standard = {s.words for s in PAPERS["A4"].scales}
    drawings = [p for p in pages if p.kind in {"carpenter", "ceilings", "walls", "fixings",
                                               "pieces", "cutting"}]  # fmt: skip
    with_scale = [p for p in drawings if standard & set(words(p))]

    assert with_scale
    for page in with_scale:
        assert len(standard & set(words(page))) == 1
        assert len([w for w in words(page) if re.fullmatch(r"[\d.]+ m", w)]) == 1
    for page in drawings:
        if page not in with_scale:  # tables that follow drawings
            assert "no scale" in words(page)


def contrast(tone):
    """Return the ratio of luminance between white or black and a grey, the smaller way round."""
    light = ((tone + 0.055) / 1.055) ** 2.4 if tone > 0.04 else tone / 12.92
    return (light + 0.05) / 0.05, 1.05 / (light + 0.05)


def test_greys_survive_a_photocopy(pages):
    # Lettering over a grey wants 7 : 1; a grey that stands for something wants 3 : 1 on white.
    for page in pages:
        greys = [m for m in page.marks if isinstance(m, Fill) and m.tone not in {None, 0.0, 1.0}]
        boxes = [text_box(m) for m in page.marks if isinstance(m, Text)]
        for grey in greys:
            xs = [p[0] for ring in grey.rings for p in ring]
            ys = [p[1] for ring in grey.rings for p in ring]
            area = (min(xs), min(ys), max(xs), max(ys))
            under, over = contrast(grey.tone)
            if any(overlap(area, box, 0.01) for box in boxes):
                assert under >= 7.0, (page.title, grey.tone)
            else:
                assert over >= 3.0, (page.title, grey.tone)
    assert any(isinstance(m, Fill) and m.tone == 0.35 for p in pages for m in p.marks)


def test_signs_are_large_enough_to_be_seen(pages):
    # A dot narrower than the narrow line is lost on a copy.
    for page in pages:
        for mark in page.marks:
            if isinstance(mark, Dots):
                assert mark.paper_size >= 0.35


def test_pages_without_drawings_are_at_least_partly_filled(demo_scheme):
    # Nothing is printed but a heading and a frame.
    for page in sheet_set(demo_scheme, "A4", DATED):
        x0, y0, x1, y1 = page.frame
        inner = [
            m for m in page.marks
            if isinstance(m, Text) and y0 + 40 < m.at[1] < y1 - 15 and x0 < m.at[0] < x1
        ]  # fmt: skip
        assert len(inner) >= 4, page.title


# --- whole jobs on every paper ------------------------------------------------------------


def scheme_of(project, paper):
    if PAPERS[paper].system == "imperial":
        project = replace(project, units=Units.FEET_INCHES, practice="us")
    return work_out(project, load_catalogue(project.practice), load_practice(project.practice))


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("job", [house, duplex], ids=["house", "duplex"])
def test_no_lettering_overlaps_on_any_page_of_a_whole_job(job, paper):
    pages = sheet_set(scheme_of(job(), paper), SetChoice(paper=paper, fixings=True), DATED)

    assert {p.number: (p.title, text_overlaps(p)) for p in pages if text_overlaps(p)} == {}
    assert {p.number: (p.title, text_outside(p)) for p in pages if text_outside(p)} == {}
    smallest = min(m.paper_height for p in pages for m in p.marks if isinstance(m, Text))
    assert smallest >= 2.5


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_no_lettering_overlaps_with_every_fastener_of_the_demo(demo_scheme, paper):
    scheme = scheme_of(demo_scheme.project, paper)
    pages = sheet_set(scheme, SetChoice(paper=paper, fixings=True), DATED)

    assert {p.number: (p.title, text_overlaps(p)) for p in pages if text_overlaps(p)} == {}
    assert {p.number: (p.title, text_outside(p)) for p in pages if text_outside(p)} == {}
