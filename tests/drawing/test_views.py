"""What stands on each drawing, read from its display list."""

import re
from dataclasses import replace

import pytest

from roomboard.core.cutting import Cut, CutSheet, EdgeIs, Offcut, Placement
from roomboard.core.plane import Region, signed_area
from roomboard.core.project import Units
from roomboard.drawing.ceiling_plan import ceiling_plan
from roomboard.drawing.cutting_diagram import CutPiece, cutting_diagram, listed_cuts
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Text, canonical
from roomboard.drawing.elevation import elevation, neighbours_in_words
from roomboard.drawing.floor_plan import floor_plan
from roomboard.drawing.lining import FIXING, FRAMING, SHEETING


def words(marks):
    return [m.text for m in marks if isinstance(m, Text)]


def layers(marks):
    return {m.layer for m in marks if isinstance(m, Stroke | Fill | Dots)}


def surface(scheme, key):
    return next(s for r in scheme.rooms for s in r.surfaces if s.surface.key == key)


@pytest.fixture
def room(one_room):
    return one_room.rooms[0].room


@pytest.fixture
def ceiling(one_room):
    return surface(one_room, "ceiling")


def test_ceiling_shows_sheets_with_marks_and_sizes(ceiling, room):
    # 3040 across in courses of 1200 makes 1200 + 1200 + 640; no butt joint in 3580.
    found = words(ceiling_plan(ceiling, room, Units.METRIC, 50.0))

    assert {"C1-1", "C2-1", "C3-1"} <= set(found)
    assert found.count("3580 × 1200") == 2
    assert found.count("3580 × 640") == 1


def test_ceiling_dimensions_are_those_of_the_room(ceiling, room):
    found = words(ceiling_plan(ceiling, room, Units.METRIC, 50.0))

    assert {"3580", "3040", "640"} <= set(found)
    assert found.count("1200") == 2
    assert {"A", "B", "C", "D"} <= set(found)


def test_ceiling_joints_have_their_letter_and_ticks(ceiling, room):
    marks = ceiling_plan(ceiling, room, Units.METRIC, 50.0)

    assert words(marks).count("R") == 2
    joints = [j.id for j in ceiling.joints]
    strokes = [m for m in marks if isinstance(m, Stroke) and m.layer == "joint_recessed"]
    assert {m.ref for m in strokes} == set(joints)
    # 3580 at 1:50 is 71.6 mm; a tick every 6 mm from 3 mm on: 12 to a joint, and its line.
    assert len(strokes) == 2 * (12 + 1)


def test_start_line_is_given_at_both_ends(ceiling, room):
    found = words(ceiling_plan(ceiling, room, Units.METRIC, 50.0))

    offset = ceiling.set_out.start[0][3]
    assert offset in {1200.0, 640.0}
    assert found.count(f"start {offset:.0f}") == 2


def test_trimmers_are_tagged_with_their_lengths(ceiling, room):
    # 450 from the wall to the first joist and 430 from the last: a trimmer at either wall.
    marks = ceiling_plan(ceiling, room, Units.METRIC, 50.0)

    tags = [w for w in words(marks) if w.startswith("T")]
    assert sorted(tags) == ["T1  3040", "T2  3040"]
    hatched = [m for m in marks if isinstance(m, Fill) and m.hatch == "timber"]
    assert [m.ref for m in hatched] == ["T1", "T2"]


def test_pieces_can_be_found_by_pointing(ceiling, room):
    marks = ceiling_plan(ceiling, room, Units.METRIC, 50.0)

    sheets = {m.ref: m for m in marks if isinstance(m, Fill) and m.layer == "sheet"}
    for piece in ceiling.set_out.pieces:
        assert sheets[piece.id].rings == piece.region.rings


def test_framing_drawing_has_no_sheets(one_room):
    marks = floor_plan(one_room.rooms[0], Units.METRIC, 50.0)

    assert "joint_recessed" not in layers(marks)
    assert {"joist", "trimmer"} <= layers(marks)
    found = words(marks)
    assert "C1-1" not in found
    # Joists at 450, 900 ... 3150, as running dimensions from the left.
    assert {"0", "450", "900", "1350", "1800", "2250", "2700", "3150", "3580"} <= set(found)
    assert "450 centres" in found


def test_elevation_shows_openings_with_sizes_and_running_dimensions(one_room, room):
    wall = surface(one_room, "wall:a")
    found = words(elevation(wall, room, Units.METRIC, 50.0))

    assert "Door D1" in found
    assert "820 × 2040" in found
    assert {"900", "1720", "2040"} <= set(found)  # sides from the left end, head from the floor


def test_elevation_of_a_window_gives_sill_and_head(one_room, room):
    wall = surface(one_room, "wall:b")
    found = words(elevation(wall, room, Units.METRIC, 50.0))

    assert {"0", "900", "2100", "1000", "2500"} <= set(found)


def test_courses_of_a_wall_add_up_to_its_height(one_room, room):
    wall = surface(one_room, "wall:c")
    marks = elevation(wall, room, Units.METRIC, 50.0)
    upright = [m.text for m in marks if isinstance(m, Text) and m.layer == "dimension"]
    whole = max(float(t) for t in upright if t != "3040")

    parts = [float(t) for t in upright if float(t) not in {whole, 3040.0}]
    assert sum(parts) == pytest.approx(whole)
    assert whole == wall.surface.outline.bounds[3]


def test_elevation_names_the_walls_beside_it(one_room, room):
    # Clockwise A, B, C, D: seen from inside, D stands on the left of A and B on its right.
    assert neighbours_in_words(surface(one_room, "wall:a").surface, room) == "left D, right B"


def test_feet_and_inches_are_written_as_the_trade_does(feet):
    room = feet.rooms[0].room
    found = words(ceiling_plan(surface(feet, "ceiling"), room, Units.FEET_INCHES, 48.0))

    # 3580 mm are 11 ft 8.94 in, to a sixteenth 11' 8 15/16".
    assert "11' 8 15/16\"" in found


def test_fixings_are_a_layer_that_can_be_left_out(ceiling, room):
    without = ceiling_plan(ceiling, room, Units.METRIC, 50.0, SHEETING)
    shown = ceiling_plan(ceiling, room, Units.METRIC, 50.0, FIXING)

    assert not any(isinstance(m, Dots) and m.layer == "fastener" for m in without)
    dots = [m for m in shown if isinstance(m, Dots) and m.layer == "fastener"]
    assert sum(len(m.points) for m in dots) == len(ceiling.fixings.fasteners) > 0


def test_special_surfaces_are_hatched_and_named(two_rooms):
    room = two_rooms.rooms[1].room
    wall = next(s for s in two_rooms.rooms[1].surfaces if s.surface.key == "wall:c")
    marks = elevation(wall, room, Units.METRIC, 50.0)

    assert any(isinstance(m, Fill) and m.hatch == "special" for m in marks)
    assert any("Fire-rated lining" in w for w in words(marks))


def test_a_label_is_written_once_for_every_piece_at_any_scale(two_rooms):
    for room in two_rooms.rooms:
        for s in room.surfaces:
            draw = ceiling_plan if s.surface.key == "ceiling" else elevation
            for scale in (20.0, 50.0, 100.0, 200.0):
                found = " ".join(words(draw(s, room.room, Units.METRIC, scale)))
                for piece in s.set_out.pieces:
                    assert len(re.findall(rf"{re.escape(piece.mark)}(?![\d-])", found)) == 1


def test_same_input_gives_the_same_drawing(two_rooms):
    for room in two_rooms.rooms:
        for s in room.surfaces:
            first = elevation(s, room.room, Units.METRIC, 50.0, FRAMING)
            assert first == elevation(s, room.room, Units.METRIC, 50.0, FRAMING)


# --- stock sheets and pieces --------------------------------------------------------------


SHEET = CutSheet(
    id="S7",
    board="std10",
    stock="std10-1200x3600",
    length=3600.0,
    width=1200.0,
    placements=(
        Placement(
            piece="bed/C3-1", x=0.0, y=0.0, length=3580.0, width=640.0, turned=False,
            low=EdgeIs.RECESSED, high=EdgeIs.CUT,
        ),
    ),
    cuts=(
        Cut(number=1, rip=True, x0=0.0, y0=640.0, x1=3600.0, y1=640.0),
        Cut(number=2, rip=False, x0=3580.0, y0=0.0, x1=3580.0, y1=640.0),
    ),
    offcuts=(
        Offcut(
            x=0.0, y=640.0, length=3600.0, width=560.0, low=EdgeIs.CUT, high=EdgeIs.RECESSED,
            keep=True,
        ),
        Offcut(
            x=3580.0, y=0.0, length=20.0, width=640.0, low=EdgeIs.RECESSED, high=EdgeIs.CUT,
            keep=False,
        ),
    ),
    mass_kg=29.4,
)  # fmt: skip

PIECES = {"bed/C3-1": CutPiece("C3-1", "bed")}
GOLDEN = """\
cut line 0.0,640.0 3600.0,640.0 [S7-1]
cut line 3580.0,0.0 3580.0,640.0 [S7-2]
outline ring 0.0,0.0 3600.0,0.0 3600.0,1200.0 0.0,1200.0 [S7]
waste fill waste 3580.0,0.0 3600.0,0.0 3600.0,640.0 3580.0,640.0 [S7]
"""


def test_cutting_diagram_is_drawn_from_the_plan():
    marks = cutting_diagram(SHEET, PIECES, Units.METRIC, 50.0)

    kept = [m for m in marks if not isinstance(m, Text) and m.layer in {"cut", "outline", "waste"}]
    assert canonical(kept) == GOLDEN
    found = words(marks)
    assert "C3-1" in found
    assert "bed  3580 × 640" in found
    assert "1" in found
    assert "2" in found or "cut 2" in found
    assert "keep  3600 × 560" in found
    assert {"R", "C"} <= set(found)
    assert {"3580", "20", "3600", "640", "560", "1200"} <= set(found)


def test_a_crowded_sheet_is_drawn_without_a_heap_of_leaders():
    blocks = tuple(
        Placement(
            piece=f"bed/BB{n}", x=22.0 * n, y=0.0, length=22.0, width=200.0, turned=False,
            low=EdgeIs.CUT, high=EdgeIs.CUT,
        )
        for n in range(60)
    )  # fmt: skip
    cuts = tuple(
        Cut(number=n, rip=False, x0=22.0 * n, y0=0.0, x1=22.0 * n, y1=200.0) for n in range(1, 60)
    )
    marks = cutting_diagram(replace(SHEET, placements=blocks, cuts=cuts), {}, Units.METRIC, 50.0)

    assert not [w for w in words(marks) if w.startswith("cut ")]


def cuts_apart(pitch):
    """Five cuts of 200 across the sheet, so far apart."""
    return tuple(
        Cut(number=n, rip=False, x0=1000 + pitch * n, y0=0.0, x1=1000 + pitch * n, y1=200.0)
        for n in range(1, 6)
    )


def test_cuts_too_close_together_for_their_numbers_are_listed_without_leaders():
    """At 1:50 a cut of 200 is 4 mm long: of five within 0.4 mm one or two have room for 2.5 mm."""
    close = replace(SHEET, placements=(), offcuts=(), cuts=cuts_apart(5.0))
    listed = listed_cuts(close, {}, Units.METRIC)
    assert 3 <= len(listed) <= 4
    marks = cutting_diagram(close, {}, Units.METRIC, 50.0)
    assert not [w for w in words(marks) if w.startswith("cut ")]
    assert {*(str(c.number) for c in listed), *words(marks)} >= {"1", "2", "3", "4", "5"}


def test_cuts_with_room_for_their_numbers_are_numbered_and_not_listed():
    """300 apart they are 6 mm apart on paper, 4 mm long: figures 2.5 mm high have room."""
    apart = replace(SHEET, placements=(), offcuts=(), cuts=cuts_apart(300.0))
    assert listed_cuts(apart, {}, Units.METRIC) == ()
    assert {"1", "2", "3", "4", "5"} <= set(words(cutting_diagram(apart, {}, Units.METRIC, 50.0)))


def test_what_goes_off_a_piece_with_a_slope_is_hatched_where_it_lies_on_the_sheet():
    """Of 3580 x 640 a corner of 1000 along and 640 across goes: half of that is 0.32 m2.

    Face up in its own frame the slope runs from (0, 0) to (1000, 640) and takes the upper left
    corner; turned half round from (3580, 640) to (2580, 0) and takes the lower right one.
    """
    sloping = Region.of([(0, 0), (3580, 0), (3580, 640), (1000, 640)])
    pieces = {"bed/C3-1": CutPiece("C3-1", "bed", sloping)}
    corners = {False: {(0, 0), (1000, 640), (0, 640)}, True: {(3580, 640), (2580, 0), (3580, 0)}}
    for turned, corner in corners.items():
        sheet = replace(SHEET, placements=(replace(SHEET.placements[0], turned=turned),))
        marks = cutting_diagram(sheet, pieces, Units.METRIC, 20.0)
        hatched = [m for m in marks if isinstance(m, Fill) and m.hatch == "waste"]
        areas = {frozenset(m.rings[0]): abs(signed_area(m.rings[0])) for m in hatched}
        assert areas[frozenset(corner)] == pytest.approx(320_000)
        (slope,) = [m for m in marks if isinstance(m, Stroke) and m.layer == "piece"]
        assert set(slope.points) == {p for p in corner if p not in {(0, 640), (3580, 0)}}


def test_edges_of_a_turned_piece_change_places():
    turned = replace(SHEET, placements=(replace(SHEET.placements[0], turned=True),))
    heights = {}
    for name, sheet in (("as it lies", SHEET), ("turned", turned)):
        marks = cutting_diagram(sheet, PIECES, Units.METRIC, 20.0)
        heights[name] = {m.text: m.at[1] for m in marks if isinstance(m, Text) and m.text in "RC"}

    assert heights["as it lies"]["R"] < heights["as it lies"]["C"]
    assert heights["turned"]["R"] > heights["turned"]["C"]
