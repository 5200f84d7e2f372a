"""Surfaces too large for a page, drawn in parts that meet at match lines."""

import re
from dataclasses import replace

import pytest

from roomboard.core.measure import measured_project, read_joists, read_room
from roomboard.core.plane import Region
from roomboard.core.project import Choices, Units
from roomboard.drawing.counting import COUNTED_SIGN
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Text
from roomboard.drawing.page_checks import text_outside, text_overlaps
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.part_sketch import PartSketch, cut_line, cut_ring
from roomboard.drawing.parts import HERE, SHEET, parts_of, with_sheets
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.set_views import Views
from roomboard.drawing.sheet_set import sheet_set
from roomboard.drawing.sketch import plain

from .conftest import worked_out

DATED = "2026-05-02"
WINDOW = (0.0, 0.0, 100.0, 50.0)


def words(page):
    return [m.text for m in page.marks if isinstance(m, Text)]


def hall_project():
    """A hall of 9000 x 6000, 2700 high: at 1:25 its ceiling takes 360 x 240 mm of paper."""
    room = read_room("Hall 9000 x 6000 h 2700", Units.METRIC)
    joists = read_joists("along y at 450", Units.METRIC)
    return measured_project("Assembly", (room,), (joists,), Units.METRIC, "au-nz", 600.0)


@pytest.fixture(scope="module")
def hall():
    return worked_out(replace(hall_project(), choices=Choices()))


@pytest.fixture(scope="module")
def pages(hall):
    return sheet_set(hall, SetChoice(kinds=(PageKind.FIXINGS,)), DATED)


# --- what is cut off ------------------------------------------------------------------------


def test_a_line_is_cut_where_it_leaves_the_window():
    # From 50 left of the window to 50 right of it, rising 100 over 200: at x 0 it is at 25, it
    # meets the upper side (50) at x 50.
    assert cut_line(((-50, 0), (150, 100)), WINDOW) == [((0.0, 25.0), (50.0, 50.0))]
    assert cut_line(((-50, 60), (150, 60)), WINDOW) == []
    assert cut_line(((10, 10), (20, 20), (30, 10)), WINDOW) == [((10, 10), (20, 20), (30, 10))]


def test_a_ring_that_passes_through_a_window_leaves_what_lies_in_it():
    # A square of 40 about the corner (100, 50): a quarter of it, two sides of 20, lies inside.
    square = ((80, 30), (120, 30), (120, 70), (80, 70))
    assert sorted(cut_ring(square, WINDOW)) == [(80, 30), (80, 50), (100, 30), (100, 50)]
    # Drawn as a line it begins and ends on the sides of the window, in one piece.
    (run,) = cut_line((*square, square[0]), WINDOW)
    assert run == ((80.0, 50.0), (80, 30), (100.0, 30.0))
    assert cut_ring(((200, 0), (300, 0), (300, 40)), WINDOW) == ()


def test_a_sign_on_a_match_line_stands_in_one_part_only():
    whole = Region.box(0, 0, 200, 50)
    left = PartSketch(10.0, (-1e6, -1e6, 100.0, 1e6), whole)
    right = PartSketch(10.0, (100.0, -1e6, 1e6, 1e6), whole)
    for sketch in (left, right):
        sketch.dots(((99.0, 10.0), (100.0, 10.0), (101.0, 10.0)), "disc", 1.0, "fastener")
    (a,), (b,) = left.finished(), right.finished()
    assert a.points == ((99.0, 10.0),)
    assert b.points == ((100.0, 10.0), (101.0, 10.0))


def test_a_piece_is_named_in_each_part_it_shows_in_and_in_no_other():
    whole = Region.box(0, 0, 3000, 1000)
    piece = Region.box(0, 0, 1800, 1000)
    seen = []
    for u0, u1 in ((-1e6, 1000.0), (1000.0, 2000.0), (2000.0, 1e6)):
        sketch = PartSketch(10.0, (u0, -1e6, u1, 1e6), whole)
        sketch.label((plain("P1"),), ((900.0, 500.0),), ref="p", within=piece)
        seen.append([m for m in sketch.finished() if isinstance(m, Text)])
    assert [len(texts) for texts in seen] == [1, 1, 0]
    assert seen[0][0].at == (900.0, 500.0)
    assert 1000.0 < seen[1][0].at[0] < 1800.0


def test_a_wall_that_does_not_show_is_not_named_either():
    whole = Region.box(0, 0, 2000, 1000)
    for window, named in (((-1e6, -1e6, 900.0, 1e6), True), ((1000.0, -1e6, 1e6, 1e6), False)):
        sketch = PartSketch(10.0, window, whole)
        sketch.stroke(((950.0, 0.0), (850.0, 1000.0)), "wall", "e")
        # Beside the wall there is room in both parts.
        sketch.label((plain("E"),), ((800.0, 500.0), (1100.0, 500.0)), ref="e")
        assert any(isinstance(m, Text) for m in sketch.finished()) is named


# --- where parts meet -----------------------------------------------------------------------


def test_parts_are_as_few_and_as_equal_as_can_be():
    # 9000 in parts of at most 4000: three of 3000. 6000 in parts of at most 5000: two of 3000.
    # Nothing stands on the surface, so that the only gaps are the whole spans, whose middles are
    # 4500 and 3000: 4500 is no place for a part that may be 3000 +- 900.
    parts = parts_of(Region.box(0, 0, 9000, 6000), "c", (4000, 5000), ((), ()), 10.0)
    assert [p.number for p in parts] == [1, 2, 3, 4, 5, 6]
    assert parts[0].box == (0, 3000, 3000, 6000)  # the upper left is the first
    assert parts[5].box == (6000, 0, 9000, 3000)


def test_a_match_line_keeps_clear_of_what_stands_there():
    # Joists at 450: the middle of 6600 is 3300; the bays there are 2700 to 3150 to 3600, their
    # middles 2925 and 3375: the nearer one, to whole tens, is 3380.
    joists = [450.0 * n for n in range(1, 15)]
    parts = parts_of(Region.box(0, 0, 6600, 2000), "c", (3850, 5000), (joists, ()), 10.0)
    assert [p.box for p in parts] == [(0, 0, 3380, 2000), (3380, 0, 6600, 2000)]
    (match,) = parts[0].beside
    (back,) = parts[1].beside
    assert (match.name, match.part, match.at) == ("M1", 2, 3380)
    assert (back.name, back.part, back.at) == ("M1", 1, 3380)


def test_a_part_with_nothing_of_the_surface_is_left_out():
    # An L: the upper right quarter of 8000 x 8000 is missing.
    outline = Region.of(((0, 0), (8000, 0), (8000, 4000), (4000, 4000), (4000, 8000), (0, 8000)))
    parts = parts_of(outline, "c", (4100, 4100), ((), ()), 10.0)
    assert [p.box for p in parts] == [
        (0, 4000, 4000, 8000), (0, 0, 4000, 4000), (4000, 0, 8000, 4000),
    ]  # fmt: skip
    beside = [sorted(m.part for m in p.beside) for p in parts]
    assert beside == [[2], [1, 3], [2]]


# --- on the pages ---------------------------------------------------------------------------


def parts_on(pages, title):
    """The page and the mark of the caption of every part of a surface, by its number."""
    found = {}
    for page in pages:
        for m in page.marks:
            hit = re.search(r"part (\d+) of (\d+)", m.text) if isinstance(m, Text) else None
            if hit and m.bold and title in m.text:
                found[int(hit[1])] = (page, int(hit[2]))
    return found


def test_every_fastener_and_daub_is_drawn_once_at_a_scale_to_count_them(hall, pages):
    surfaces = [s for r in hall.rooms for s in r.surfaces]
    for layer, count in (
        ("fastener", sum(len(s.fixings.fasteners) for s in surfaces)),
        ("daub", sum(len(s.fixings.daubs) for s in surfaces)),
    ):
        # Signs of the legend are single.
        dots = [m for p in pages for m in p.marks if isinstance(m, Dots) and m.layer == layer]
        legends = sum(1 for p in pages if any(m.layer == layer for m in p.marks))
        assert sum(len(m.points) for m in dots) == count + legends
    signs = [
        m for p in pages for m in p.marks
        if isinstance(m, Dots) and m.layer == "fastener" and len(m.points) > 1
    ]  # fmt: skip
    assert signs
    assert min(m.paper_size for m in signs) >= COUNTED_SIGN


def test_the_ceiling_of_the_hall_is_in_parts_of_one_scale(pages):
    parts = parts_on(pages, "Ceiling")
    assert set(parts) == set(range(1, len(parts) + 1))
    # 360 x 240 mm on a page of 174 x about 215: at least 3 x 2 with dimensions round them.
    assert len(parts) >= 4
    assert {of for _, of in parts.values()} == {len(parts)}
    for page, _ in parts.values():
        assert "1:25" in words(page)


def test_each_match_line_names_the_sheet_on_which_the_other_side_is(pages):
    parts = parts_on(pages, "Ceiling")
    named = set()
    for number, (page, _) in parts.items():
        for text in words(page):
            hit = re.search(r"(M\d+).*part (\d+), sheet (\d+)", text)
            if hit and "Wall" not in text and page in [p for p, _ in parts.values()]:
                other, _ = parts[int(hit[2])]
                assert other.number == int(hit[3])
                named.add((hit[1], number, int(hit[2])))
    assert named
    # On both sides.
    assert {(m, b, a) for m, a, b in named} == named
    assert not [w for p in pages for w in words(p) if SHEET in w]


def test_each_part_has_a_key_plan_with_itself_shaded(pages):
    for number, (page, of) in parts_on(pages, "Ceiling").items():
        (shaded,) = [m for m in page.marks if isinstance(m, Fill) and m.tone == HERE]
        assert shaded.ref == f"hall/ceiling#{number}" or shaded.ref.endswith(f"#{number}")
        assert {str(n) for n in range(1, of + 1)} <= set(words(page))


@pytest.mark.parametrize("paper", PAPERS)
def test_parts_keep_their_lettering_apart_and_in_the_frame(hall, paper):
    scheme = hall
    if PAPERS[paper].system == "imperial":
        project = replace(hall_project(), units=Units.FEET_INCHES, practice="us")
        scheme = worked_out(project)
    pages = sheet_set(scheme, SetChoice(paper=paper, kinds=(PageKind.FIXINGS,)), DATED)

    assert {p.number: text_overlaps(p) for p in pages if text_overlaps(p)} == {}
    assert {p.number: text_outside(p) for p in pages if text_outside(p)} == {}
    for page in pages:
        x0, y0, x1, y1 = page.frame
        for m in page.marks:
            if isinstance(m, Stroke) and m.ref not in {"centring", "grid"}:
                assert all(x0 - 0.01 <= x <= x1 + 0.01 for x, _ in m.points)
                assert all(y0 - 0.01 <= y <= y1 + 0.01 for _, y in m.points)


def test_what_fits_a_page_is_drawn_whole(one_room):
    pages = sheet_set(one_room, SetChoice(paper="A3", kinds=(PageKind.FIXINGS,)), DATED)
    assert not [w for p in pages for w in words(p) if re.search(r"part \d+ of", w)]


def test_a_wall_is_named_by_its_part_where_only_it_is_too_long(hall):
    view = Views(hall)
    (room,) = hall.rooms
    wall = next(s for s in room.surfaces if s.surface.outline.bounds[2] > 8000
                and s.surface.place == "wall")  # fmt: skip
    whole = view.fixing(wall, room, "Walls")
    parts = whole.parted(25.0, 4000.0, 5000.0)
    assert len(parts) == 3
    assert {p.ratio for p in parts} == {25.0}
    assert sum(p.width for p in parts) == pytest.approx(whole.width)


def test_numbers_of_sheets_are_written_only_where_they_are_known():
    line = Text(at=(0, 0), text=f"M1: part 2, sheet {SHEET}", paper_height=2.5, ref="on:c#2")
    other = replace(line, ref="on:c#3")
    first, second = with_sheets((line, other), {"c#2": 7})
    assert first.text == "M1: part 2, sheet 7"
    assert second.text == other.text
