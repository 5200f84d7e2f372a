import math
from dataclasses import replace

import pytest

from roomboard.core.cutting import EdgeIs, Placement
from roomboard.core.plane import Region
from roomboard.core.project import Units
from roomboard.drawing.carpentry import surface_names
from roomboard.drawing.cut_list import sheets_by_piece
from roomboard.drawing.displaylist import Stroke, Text
from roomboard.drawing.piece_sheet import piece_sheet
from roomboard.drawing.piece_sides import end_letters, face_up_of, piece_sides, stretches
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.set_views import MIRROR, Views
from roomboard.drawing.sheet_set import sheet_set

DATED = "2026-05-02"


def words(marks):
    return [m.text for m in marks if isinstance(m, Text)]


def surface(scheme, key):
    return next(s for r in scheme.rooms for s in r.surfaces if s.surface.key == key)


def sides_of(scheme, piece, s):
    names = surface_names(scheme.rooms[0])
    placed = sheets_by_piece(scheme)[piece.id]
    return piece_sides(piece, s, placed, names), stretches(piece, s, names)


def test_piece_is_dimensioned_from_its_own_corner_face_up(one_room):
    # The door of wall A: 900 to 1720 from the left, head 2040 above the floor.
    wall = surface(one_room, "wall:a")
    piece = next(p for p in wall.set_out.pieces if not p.is_plain)
    sides, at = sides_of(one_room, piece, wall)
    found = words(piece_sheet(piece, sides, at, Units.METRIC, 50.0))

    assert {"0", "900", "1720", "3040"} <= set(found)
    head = 2040.0 - piece.blank[1] - piece.frame.origin[1]
    assert f"{head:g}" in found


def test_sides_of_a_ceiling_piece_are_those_of_its_mirror(one_room):
    # 3580 x 3040, sheets across joists along y: each course runs from wall A (x = 0) to wall C.
    # Face up the plan is mirrored end for end, so wall C (x = 3580) is on the left.
    ceiling = surface(one_room, "ceiling")
    first = min(ceiling.set_out.pieces, key=lambda p: p.course)
    sides, _ = sides_of(one_room, first, ceiling)
    low, high, left, right = sides

    assert left.beyond == ("wall C",)
    assert right.beyond == ("wall A",)
    assert low.beyond == ("wall D",)
    assert high.beyond == ("C2-1 (recessed joint)",)
    assert face_up_of(first, (3580.0, 0.0)) == (0.0, 0.0)


def test_sides_of_a_wall_piece_are_floor_and_neighbours(one_room):
    wall = surface(one_room, "wall:d")
    bottom = next(p for p in wall.set_out.pieces if p.mark.startswith("WD-B"))
    top = next(p for p in wall.set_out.pieces if p.mark.startswith("WD-T"))

    sides, _ = sides_of(one_room, bottom, wall)
    assert sides[0].beyond == ("floor",)
    assert any(top.mark in words for words in sides[1].beyond)
    sides, _ = sides_of(one_room, top, wall)
    assert sides[1].beyond == ("ceiling",)


def test_a_heavy_line_stands_beside_sides_that_go_to_a_wall_and_no_other(one_room):
    wall = surface(one_room, "wall:a")
    piece = next(p for p in wall.set_out.pieces if not p.is_plain)
    sides, at = sides_of(one_room, piece, wall)
    marks = piece_sheet(piece, sides, at, Units.METRIC, 50.0)
    lines = [m.points for m in marks if isinstance(m, Stroke) and m.layer == "wall"]

    assert len(lines) == sum(s.solid for s in at)
    assert not any(s.solid for s in at if s.words.startswith("opening"))
    for line in lines:
        for point in line:
            assert not piece.face_up.contains(point)


def placed_at(x, *, turned=False):
    return Placement(
        piece="bed/C1-1", x=x, y=0.0, length=2000.0, width=1200.0, turned=turned,
        low=EdgeIs.RECESSED, high=EdgeIs.RECESSED,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("x", "turned", "letters"),
    [
        (0.0, False, ("E", "C")),
        (1600.0, False, ("C", "E")),
        (800.0, False, ("C", "C")),
        (0.0, True, ("C", "E")),
    ],
)
def test_an_end_is_the_sheets_own_only_where_it_lies_at_its_end(one_room, x, turned, letters):
    # A sheet of 3600: a piece of 2000 at its left end, its right end (1600 to 3600) or between.
    sheet = replace(one_room.cut_plan.sheets[0], length=3600.0)
    assert end_letters((sheet, placed_at(x, turned=turned))) == letters


def test_an_end_of_a_piece_that_fits_no_sheet_counts_as_cut():
    assert end_letters(None) == ("C", "C")


def test_every_odd_piece_has_a_sheet_that_says_where_its_sides_go(demo_scheme):
    pages = sheet_set(demo_scheme, SetChoice(kinds=(PageKind.PIECES,)), DATED)
    text = " ".join(w for p in pages for w in words(p.marks))
    views = Views(demo_scheme)
    odd = 0
    for room in demo_scheme.rooms:
        for s in room.surfaces:
            for piece in s.set_out.pieces:
                view = views.piece(piece, s, room)
                named = f"{room.room.name}: {piece.mark}, face up" in text.replace("  ", " ")
                assert named is not piece.is_plain, piece.id
                odd += named
                if s.surface.seen_from == "back":
                    assert MIRROR in view.caption
                else:
                    assert MIRROR not in view.caption
                for side in ("Low edge", "High edge", "Left end", "Right end"):
                    assert side in view.caption[1]
    assert odd > 20


def test_no_side_of_a_piece_in_the_demo_is_free_without_a_reason(demo_scheme):
    # Every side meets a wall, a ceiling, the floor, an opening, a corner or another piece; only
    # reveals have sides that meet nothing.
    for room in demo_scheme.rooms:
        names = surface_names(room)
        for s in room.surfaces:
            if s.surface.key.startswith("reveal"):
                continue
            for piece in s.set_out.pieces:
                placed = sheets_by_piece(demo_scheme)[piece.id]
                for side in piece_sides(piece, s, placed, names):
                    assert side.beyond, (piece.id, side.name)


def test_a_tapered_piece_has_the_places_of_all_its_corners(bay):
    wall = next(s for s in bay.surfaces if s.surface.key == "ceiling")
    tapered = [p for p in wall.set_out.pieces if not p.is_plain]
    assert tapered
    names = surface_names(bay)
    for piece in tapered:
        sides = piece_sides(piece, wall, None, names)
        marks = piece_sheet(piece, sides, stretches(piece, wall, names), Units.METRIC, 20.0)
        found = set(words(marks))
        box = Region.box(0.0, 0.0, piece.length, piece.width)
        assert piece.face_up.area_mm2 < box.area_mm2
        for x, y in piece.face_up.outer:
            assert f"{math.floor(x + 0.5)}" in found, (piece.mark, x)
            assert f"{math.floor(y + 0.5)}" in found, (piece.mark, y)
