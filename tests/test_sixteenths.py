"""A job in feet and inches keeps its sixteenths: through text, files, edits, set-out and drawings.

A sixteenth of an inch is 25.4 / 16 = 1.5875 mm exactly, so a whole number of them is a length that
neither writing nor reading, saving nor editing may change.
"""

import json
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.clear_bays import clear_place_in
from roomboard.core.editing.openings import Side, set_from_corner
from roomboard.core.editing.walls import set_wall_length
from roomboard.core.measure import read_room
from roomboard.core.project import Choices, Opening, OpeningKind, Project, Units, Wall
from roomboard.core.scheme import work_out_room
from roomboard.core.setting import Setting
from roomboard.core.units import Refusal, as_written, read_length, write_length
from roomboard.drawing.lining import chain_stops
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import read, write
from tests.rooms import joists, project, rectangle, setting
from tests.rooms import room as metric_room

FEET = Units.FEET_INCHES
SIXTEENTH = 1.5875
sixteenths = st.integers(min_value=1, max_value=16 * 12 * 60)
EXACT = 1e-6


def mm(count):
    return count * 254 / 160


def on_sixteenths(length):
    """Whether a length is a whole number of sixteenths, to a millionth of a mm."""
    return abs(length / SIXTEENTH - round(length / SIXTEENTH)) * SIXTEENTH < EXACT


@given(sixteenths)
def test_what_is_written_is_read_back_exactly(count):
    text = write_length(mm(count), FEET)
    found = read_length(text, FEET)
    assert not isinstance(found, Refusal)
    assert Fraction(found.mm).limit_denominator(10**6) == Fraction(count * 254, 160)
    assert write_length(found.mm, FEET) == text
    assert as_written(mm(count), FEET) == Fraction(count * 254, 160)


@given(st.lists(sixteenths, min_size=6, max_size=6), st.integers(0, 191))
@settings(max_examples=60)
def test_a_project_round_trips_without_drift(sizes, more):
    long, wide, left, width, first, spacing = sizes
    door = Opening(
        id="D", kind=OpeningKind.DOOR, host="b", left=mm(left), bottom=0, width=mm(width),
        height=mm(16 * 80 + more),
    )  # fmt: skip
    room = replace(
        metric_room(1, 1, height=mm(16 * 96 + more)),
        outline=rectangle(mm(long), mm(wide)),
        openings=(door,),
        joists=(joists(90, mm(spacing), first=mm(first)),),
    )
    first_text = write(project(room, units=FEET, practice="us"))
    text = first_text
    for _ in range(3):
        loaded = read(text)
        assert loaded.project is not None
        text = write(loaded.project)
    assert text == first_text
    (again,) = loaded.project.rooms
    assert again == room
    for one, two in zip(again.outline, room.outline, strict=True):
        assert [write_length(c, FEET) for c in one] == [write_length(c, FEET) for c in two]
    saved = json.loads(text)["rooms"][0]
    assert on_sixteenths(saved["openings"][0]["width"])


@given(st.lists(sixteenths, min_size=2, max_size=12))
def test_lengths_typed_one_after_the_other_leave_no_trace(typed):
    room = replace(metric_room(1, 1), outline=rectangle(3048.0, 3657.6), height=2438.4, openings=())
    for count in typed:
        room = set_wall_length(room, "b", mm(count))
        assert write_length(room.wall_length(1), FEET) == write_length(mm(count), FEET)
    assert abs(room.wall_length(1) - mm(typed[-1])) < EXACT


def test_a_thousand_nudges_by_a_sixteenth_go_where_they_should():
    # From 1' 0": 1000 sixteenths are 62 1/2 in, so 6' 2 1/2"; and back again to 1' 0".
    door = Opening(
        id="D", kind=OpeningKind.DOOR, host="b", left=304.8, bottom=0, width=762.0, height=2032.0
    )
    room = replace(metric_room(1, 1), outline=rectangle(6096.0, 3657.6), openings=(door,))
    start = room.openings[0].left
    for _ in range(1000):
        room = set_from_corner(room, "D", Side.LEFT, room.openings[0].left + SIXTEENTH)
    assert write_length(room.openings[0].left, FEET) == "6' 2 1/2\""
    for _ in range(1000):
        room = set_from_corner(room, "D", Side.LEFT, room.openings[0].left - SIXTEENTH)
    assert abs(room.openings[0].left - start) < 1e-3


# --- stock, spacings and packs ------------------------------------------------------------


def test_the_packs_own_inches_are_the_master():
    practice, stock = load_practice("us"), load_catalogue("us")
    inches = {"in": 25.4, "ft": 304.8}
    for figure in practice.figures:
        if figure.native_unit in inches and figure.unit == "mm":
            assert figure.value == pytest.approx(
                figure.native_value * inches[figure.native_unit], abs=EXACT
            )
    spacings = [row.max_centres for row in practice.framing if row.max_centres]
    assert spacings
    assert all(on_sixteenths(x) for x in spacings)
    sheets = [(s.width, s.length) for b in stock.boards for s in b.sheets]
    assert all(on_sixteenths(x) for pair in sheets for x in pair)
    # 4 ft sheets of 8 to 16 ft, as sold in the United States.
    assert {round(w / 304.8, 3) for w, _ in sheets} <= {2, 4, 4.5}
    assert all(round(long / 304.8, 6).is_integer() for _, long in sheets)


@pytest.mark.parametrize(
    "text", ["Den 11' 9 1/16\" x 10' 3 3/16\" h 8' 0\"", "Hall 20' 5/16\" x 6' 7 1/2\" h 9' 1\""]
)
def test_every_piece_of_a_typed_room_is_whole_sixteenths(text):
    room = read_room(text, FEET)
    assert not isinstance(room, Refusal)
    room = replace(room, walls=tuple(replace(w, stud_spacing=406.4) for w in room.walls),
                   joists=(joists(90, 406.4),))  # fmt: skip
    scheme = work_out_room(room, setting("us"))
    pieces = [p for s in scheme.surfaces for p in s.set_out.pieces]
    assert pieces
    for piece in pieces:
        assert on_sixteenths(piece.length), (piece.mark, piece.length / 25.4)
        assert on_sixteenths(piece.width), (piece.mark, piece.width / 25.4)


def test_a_place_that_is_suggested_is_whole_sixteenths():
    # Joists at 16 in: faces 15 1/4 to 16 3/4 with 1 1/2 in timber. A hatch 12 x 20 in at 13 in
    # stands on the first; to the right it begins at 16 3/4 in = 425.45 mm, a place on sixteenths.
    hatch = Opening(
        id="H", kind=OpeningKind.HATCH, host="ceiling", left=330.2, bottom=609.6, width=304.8,
        height=508.0,
    )  # fmt: skip
    zone = replace(joists(90, 406.4), face=38.1)
    room = replace(
        metric_room(1, 1), outline=rectangle(3657.6, 3048.0), joists=(zone,), openings=(hatch,)
    )
    at = Setting(practice=load_practice("us"), catalogue=load_catalogue("us"), choices=Choices())
    found = clear_place_in(work_out_room(room, at), "H", at.practice)
    # To the left it would end at 15 1/4 in, so begin at 3 1/4: 9 3/4 in away; to the right 3 3/4.
    assert found.middle[0] - 152.4 == pytest.approx(16.75 * 25.4)
    assert found.away == pytest.approx(3.75 * 25.4)


# --- on paper -----------------------------------------------------------------------------


@given(st.lists(st.floats(min_value=5.0, max_value=2500.0), min_size=2, max_size=9))
@pytest.mark.parametrize("units", [FEET, Units.METRIC])
def test_dimensions_in_a_chain_add_up_to_the_whole(units, parts):
    at = [100.0]
    for part in parts:
        at.append(at[-1] + part)
    total = sum(
        (as_written(read_length(text, units, small=True).mm, units)
         for _, text in chain_stops(at, units)[1:]),
        Fraction(0),
    )  # fmt: skip
    assert total == as_written(at[-1] - at[0], units)


def test_thirds_of_a_length_are_dimensioned_without_a_leap():
    # 10 ft in three: 3' 4" each. 11 ft in three is 44 in each: 3' 8". 10' 1" in three is 40 1/3 in:
    # 3' 4 5/16", 3' 4 3/8", 3' 4 5/16" add up to 10' 1", where 3' 4 5/16" three times would not.
    third = 121 * 25.4 / 3
    texts = [text for _, text in chain_stops([0.0, third, 2 * third, 3 * third], FEET)[1:]]
    assert texts == ["3' 4 5/16\"", "3' 4 3/8\"", "3' 4 5/16\""]


def test_a_project_named_in_feet_is_not_touched_by_metric_walls():
    # Studs, gaps and faces typed in inches stay what they were through a wall's own record.
    wall = Wall(id="a", name="A", stud_spacing=406.4, stud_first=203.2, stud_face=38.1)
    job = Project(id="j", name="J", units=FEET, practice="us",
                  rooms=(replace(metric_room(3048, 3657.6), walls=(wall, *metric_room(1, 1).walls[1:])),))  # fmt: skip  # noqa: E501
    again = read(write(job)).project
    assert again is not None
    assert again.rooms[0].walls[0] == wall
