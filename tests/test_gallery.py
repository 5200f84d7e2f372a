"""Ten awkward rooms, each for one thing that rectangles do not have, through the whole chain."""

import math
import re
from collections import Counter
from dataclasses import replace

import pytest

from roomboard.core.project import Units
from roomboard.core.scheme import work_out
from roomboard.drawing import flow
from roomboard.drawing.displaylist import Text
from roomboard.drawing.flow import column_widths
from roomboard.drawing.lettering import wrapped
from roomboard.drawing.page_checks import text_outside, text_overlaps, text_too_small
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.sheet_set import sheet_set
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files
from tests.chain import as_data, faults_of


@pytest.fixture(scope="module")
def gallery():
    (path,) = resource_files("gallery", ".roomboard.json")
    project = load(path).project
    assert project is not None
    return work_out(project, load_catalogue(project.practice), load_practice(project.practice))


@pytest.fixture(scope="module")
def data(gallery):
    return as_data(gallery)


def surfaces(data, room):
    (found,) = (r for r in data["rooms"] if r["name"] == room)
    return {s["ref"].partition("/")[2]: s for s in found["surfaces"]}


def area(region):
    def ring(points):
        ends = zip(points, [*points[1:], points[0]], strict=True)
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in ends)) / 2

    return ring(region["outer"]) - sum(ring(hole) for hole in region["holes"])


def said(data, room, code):
    (found,) = (r for r in data["rooms"] if r["name"] == room)
    places = Counter(
        f["place"]["surface"].partition("/")[2] or "room"
        for f in data["findings"]
        if f["code"] == code and f["place"]["room"] == found["id"]
    )
    return dict(places)


def test_every_room_is_sound_and_none_is_blocked(data):
    assert len(data["rooms"]) == 10
    assert faults_of(data) == []
    assert [f for f in data["findings"] if f["severity"] == "block"] == []


def test_the_lean_to_is_as_long_as_its_slope(data):
    """Rises 900 over 3600: sqrt(3600^2 + 900^2) = 3710.8 up the slope, by 4000."""
    raked = surfaces(data, "Lean-to")["ceiling:a"]
    assert area(raked["region"]) == pytest.approx(4000 * math.hypot(3600, 900), rel=1e-6)


def test_the_gables_of_the_loft_have_two_slopes(data):
    """5000 wide, 1500 at the sides, 2850 at the ridge: each wall 5000 x 1500 and a triangle of
    5000 x 1350 / 2, less 10 floor gap and what the ceiling's board takes off the top."""
    gables = [s for ref, s in surfaces(data, "Loft").items() if ref in {"wall:b", "wall:d"}]
    for gable in gables:
        full = 5000 * 1500 + 5000 * 1350 / 2
        assert full - 5000 * 25 < area(gable["outline"]) < full
    slopes = [s for ref, s in surfaces(data, "Loft").items() if ref.startswith("ceiling")]
    each = 4200 * math.hypot(2500, 1350)
    assert [area(s["region"]) for s in slopes] == [pytest.approx(each, rel=1e-6)] * 2


def test_the_studio_is_cut_off_flat(data):
    """From 1800 to a ridge of 3600 in the middle of 4800, cut off at 2700: 900 up in 1200 of
    plan, so 1500 of slope each side and 4800 - 2 x 1200 = 2400 flat, all 4400 long."""
    found = [area(s["region"]) for ref, s in surfaces(data, "Studio").items() if "ceiling" in ref]
    assert sorted(found) == [pytest.approx(4400 * x, rel=1e-6) for x in (1500, 1500, 2400)]


def test_the_long_room_asks_for_a_trimmer_where_its_joists_turn(data):
    assert said(data, "Long room", "RB302") == {"ceiling": 1}


def test_the_hatch_of_the_hall_stands_in_a_clear_bay(data):
    """Joists at 450 from wall D: 1800 and 2250, their faces 45; 1825 to 2225 lies between."""
    assert said(data, "Hall", "RB306") == {}
    assert said(data, "Hall", "RB602") == {"room": 1}


@pytest.fixture(scope="module")
def gallery_in_feet(gallery):
    project = replace(gallery.project, units=Units.FEET_INCHES)
    return work_out(project, gallery.catalogue, load_practice(project.practice))


@pytest.mark.parametrize("paper", PAPERS)
def test_its_set_with_every_fastener_has_no_lettering_that_overlaps_leaves_the_frame_or_is_small(
    gallery, gallery_in_feet, paper
):
    scheme = gallery_in_feet if PAPERS[paper].system == "imperial" else gallery
    pages = sheet_set(scheme, paper, "2026-05-02", fixings=True)
    assert any("fixing" in p.title for p in pages)
    assert [p.number for p in pages if text_too_small(p)] == []
    assert {p.number: text_overlaps(p) for p in pages if text_overlaps(p)} == {}
    assert {p.number: text_outside(p) for p in pages if text_outside(p)} == {}


def test_no_word_of_a_table_of_its_set_is_broken(gallery, gallery_in_feet, monkeypatch):
    """Every heading and cell of every table on every paper, broken only between words."""
    set_out = []

    def kept(table, width):
        widths = column_widths(table, width)
        set_out.append((table, widths))
        return widths

    monkeypatch.setattr(flow, "column_widths", kept)
    for paper in PAPERS:
        scheme = gallery_in_feet if PAPERS[paper].system == "imperial" else gallery
        sheet_set(scheme, paper, "2026-05-02")
    assert len(set_out) > 100
    cells = {
        (text, width, bold)
        for table, widths in set_out
        for row, bold in (
            (tuple(c.title for c in table.columns), True),
            *((r, False) for r in table.rows),
        )
        for text, width in zip(row, widths, strict=False)
        if len(row) == len(widths)
    }
    broken = [
        lines
        for text, width, bold in cells
        for lines in (wrapped(text, width - 2 * flow.PAD, bold=bold),)
        if " ".join(lines).split() != text.split()
    ]
    assert broken == []


def test_no_drawing_of_its_set_on_a4_is_too_small_to_read(gallery):
    """The Long room is 13 800: 138 mm at 1:100 leaves no room for its dimensions on A4."""
    scales = {
        float(found[1])
        for page in sheet_set(gallery, "A4", "2026-05-02")
        if page.kind != "revisions"
        for mark in page.marks
        if isinstance(mark, Text) and (found := re.match(r"1:(\d+)", mark.text))
    }
    assert max(scales) == 125
