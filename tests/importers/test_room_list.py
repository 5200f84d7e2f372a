"""Rooms from tables: what is read, what is left out, what is refused with its row."""

import pytest

from roomboard.core.project import Units
from roomboard.importers.room_list import rooms_of_list
from roomboard.importers.taken import TakeOverError

SIZES = """room,width,depth,height,joists,studs,floor,carry in
Bedroom,3580,3.04 m,2400,along y at 450,600,first,3600
"Bath, small",2100,1.8 m,2400,,,,
"""


def test_a_table_gives_its_rooms_with_their_framing():
    bedroom, bath = rooms_of_list(SIZES, Units.METRIC).rooms
    assert bedroom.outline == ((0, 0), (0, 3040), (3580, 3040), (3580, 0))
    assert (bedroom.height, bedroom.storey, bedroom.carry_in) == (2400, "first", 3600)
    assert [(z.direction_deg, z.spacing) for z in bedroom.joists] == [(90.0, 450.0)]
    assert {wall.stud_spacing for wall in bedroom.walls} == {600.0}
    assert bath.name == "Bath, small"
    assert bath.outline[2] == (2100, 1800)
    assert (bath.joists, bath.carry_in) == ((), 0.0)


def test_semicolons_and_decimal_commas_are_read():
    (room,) = rooms_of_list("Room;Width;Depth;Height\nHall;4,2 m;1,1 m;2,5 m\n", Units.METRIC).rooms
    assert room.outline[2] == (4200, 1100)
    assert room.height == 2500


def test_inches_are_read_in_a_feet_inch_project():
    table = "room\twidth\tdepth\theight\nDen\t11' 9 3/4\"\t10'\t8'\n"
    (room,) = rooms_of_list(table, Units.FEET_INCHES).rooms
    assert room.outline[2] == (pytest.approx(141.75 * 25.4), 3048)


def test_names_met_twice_get_ids_of_their_own():
    table = "room,width,depth,height\nBed,3000,3000,2400\nBed,3100,3000,2400\n"
    taken = rooms_of_list(table, Units.METRIC, ("bed",))
    assert [room.id for room in taken.rooms] == ["bed-2", "bed-3"]


def test_a_column_not_known_is_left_out_by_name():
    table = "room,width,depth,height,paint\nBed,3000,3000,2400,blue\n"
    (sentence,) = rooms_of_list(table, Units.METRIC).left_out
    assert "“paint”" in sentence


def test_every_fault_is_said_with_its_row():
    table = "room,width,depth,height\nBed,wide,3000,2400\n\nHall,4000,,2400\n,3000,3000,2400\n"
    with pytest.raises(TakeOverError) as refused:
        rooms_of_list(table, Units.METRIC)
    said = refused.value.sentences
    assert [s.partition(":")[0] for s in said] == ["Row 2", "Row 4", "Row 5"]
    assert "wide" in said[0]
    assert "depth" in said[1]


@pytest.mark.parametrize(
    ("table", "word"),
    [
        ("", "“room”"),
        ("room,width,height\n", "“depth”"),
        ("room,width,depth,height,width\n", "twice"),
        ("room,width,depth,height\n", "no room"),
        ("room,width,depth,height\nBed,3000,3000,2400\x00\n", "Row 2"),
        ("room,width,depth,height\nBed,3,5\n", "Row 2"),
    ],
)
def test_what_is_no_list_of_rooms_is_refused(table, word):
    with pytest.raises(TakeOverError) as refused:
        rooms_of_list(table, Units.METRIC)
    assert any(word in sentence for sentence in refused.value.sentences)


def test_a_row_with_more_values_than_names_is_refused_not_cut_short():
    table = "room,width,depth,height\nHall,3 m,6 m,4 m,2.4 m\n"
    with pytest.raises(TakeOverError, match="Row 2 has more values"):
        rooms_of_list(table, Units.METRIC)


def test_a_short_row_without_its_name_is_refused_with_a_sentence():
    with pytest.raises(TakeOverError, match="Row 2"):
        rooms_of_list("width,depth,height,room\n3000,3000,2400\n", Units.METRIC)


def test_old_line_ends_are_read():
    (room,) = rooms_of_list("room,width,depth,height\rHall,3000,1200,2400\r", Units.METRIC).rooms
    assert room.outline[2] == (3000, 1200)
