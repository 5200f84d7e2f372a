"""Rooms and joists from one line each."""

import pytest

from roomboard.core.measure import measured_project, read_joists, read_room, room_id
from roomboard.core.plane import signed_area
from roomboard.core.project import JoistZone, Room, Units
from roomboard.core.units import Refusal

METRIC, FEET = Units.METRIC, Units.FEET_INCHES


def refused(read):
    assert isinstance(read, Refusal), read
    assert read.sentence.endswith(".")
    return read.sentence


@pytest.mark.parametrize(
    ("text", "units", "name", "sides"),
    [
        ("Bedroom 3580 x 3040 h 2400", METRIC, "Bedroom", (3580, 3040, 2400)),
        ("  Bedroom   3580x3040   h2400 ", METRIC, "Bedroom", (3580, 3040, 2400)),
        ("Bedroom 3.58 m × 3040 height 2,4 m", METRIC, "Bedroom", (3580, 3040, 2400)),
        ("Bedroom 2 3580 x 3040 h 2400", METRIC, "Bedroom 2", (3580, 3040, 2400)),
        ("Room h 3580 x 3040 h 2400", METRIC, "Room h", (3580, 3040, 2400)),
        ("Bath 2: 900 x 1500 h 2400", METRIC, "Bath 2", (900, 1500, 2400)),
        ("Store - 900 x 1500 h 2400", METRIC, "Store", (900, 1500, 2400)),
        ("Box room by the stair 2 m by 3 m h 2400", METRIC, "Box room by the stair", None),
        ("Hall 4800-2*13 x 900 h 2400", METRIC, "Hall", (4774, 900, 2400)),
        ("Hall 4800 - 2*13 x 900 h 2400", METRIC, "Hall", (4774, 900, 2400)),
        ("3580 x 3040 h 2400", METRIC, "Room 4", (3580, 3040, 2400)),
        ("Den 11' 9 3/4\" x 10' h 8'", FEET, "Den", (3600.45, 3048, 2438.4)),
        ("Den 2 11-9 3/4 x 10' 6\" h 8'", FEET, "Den 2", (3600.45, 3200.4, 2438.4)),
        ("Den 11′9¾″ x 10′ h 96", FEET, "Den", (3600.45, 3048, 2438.4)),
    ],
)
def test_reads_a_room(text, units, name, sides):
    room = read_room(text, units, 4)

    assert isinstance(room, Room), room
    assert room.name == name
    x, y, height = sides or (2000, 3000, 2400)
    assert room.outline == ((0, 0), (0, y), (x, y), (x, 0))
    assert signed_area(room.outline) < 0
    assert room.height == height
    assert [(w.id, w.name) for w in room.walls] == [("a", "A"), ("b", "B"), ("c", "C"), ("d", "D")]
    assert room.joists == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "has no height"),
        ("Bedroom 3580 x 3040", "has no height; write it after an h"),
        ("Bedroom 3580 x 3040 h", "has no height"),
        ("Bedroom 3580 x 3040 h 2400 mm high", "The height of the room"),
        ("Bedroom h 2400", "it has no size; write two sides"),
        ("Bedroom 3580 h 2400", "is no size; write two lengths"),
        ("Bedroom 4 x 3 h 2400", "would be 4 mm on a side, which is no room"),
        ("Bedroom 4 m x 3 m h 2.4", "it can be metres or millimetres"),
        ("Bedroom 3.6 x 3.0 h 2400", "it can be metres or millimetres"),
        ("Bath 2 900 x 1500 h 2400", "put a colon after it"),
        ("Bedroom -3580 x 3040 h 2400 - 9999", "less than nothing"),
        ("Bath: wide x 1500 h 2400", "was not taken as a length"),
    ],
)
def test_refuses_a_room_with_a_sentence(text, said):
    assert said in refused(read_room(text, METRIC))


@pytest.mark.parametrize(
    ("text", "units", "zone"),
    [
        ("along y at 450", METRIC, JoistZone(id="joists", direction_deg=90, spacing=450)),
        ("Along X at 0.6 m", METRIC, JoistZone(id="joists", direction_deg=0, spacing=600)),
        (
            "along x at 600 first 300",
            METRIC,
            JoistZone(id="joists", direction_deg=0, spacing=600, first=300),
        ),
        (
            "along y at 450, 900, 1360",
            METRIC,
            JoistZone(id="joists", direction_deg=90, positions=(450, 900, 1360)),
        ),
        (
            "along y at 0,45 m; 0,9 m face 45",
            METRIC,
            JoistZone(id="joists", direction_deg=90, positions=(450, 900), face=45),
        ),
        (
            'along y at 16" first 8 face 1 1/2',
            FEET,
            JoistZone(id="joists", direction_deg=90, spacing=406.4, first=203.2, face=38.1),
        ),
    ],
)
def test_reads_joists(text, units, zone):
    assert read_joists(text, units) == zone


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "write along x or along y"),
        ("across y at 450", "write along x or along y"),
        ("along z at 450", "write along x or along y"),
        ("along y at", "write along x or along y"),
        ("along y at 0", "too near each other"),
        ("along y at 16", "too near each other"),
        ("along y at 0.45", "metres or millimetres"),
        ("along y at 450,900", "comma"),
        ("along y at 450, 450", "greater than the one before"),
        ("along y at 900, 450", "greater than the one before"),
        ("along y at 450, 900 first 300", "goes with one spacing"),
        ("along y at 450 face 0", "no width"),
        ("along y at 450, ", "was not taken"),
        ("along y at every stud", "was not taken"),
    ],
)
def test_refuses_joists_with_a_sentence(text, said):
    assert said in refused(read_joists(text, METRIC))


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Bedroom 2", "bedroom-2"),
        ("Küche / Diele", "kuche-diele"),
        ("寝室", "spare"),
        ("-", "spare"),
    ],
)
def test_ids_come_from_names(name, expected):
    assert room_id(name, "spare") == expected


def test_rooms_of_one_name_get_ids_of_their_own_and_joists_in_order():
    rooms = tuple(read_room(f"Bed {x} x 3000 h 2400", METRIC) for x in (3000, 4000, 5000))
    zones = tuple(read_joists(f"along y at {at}", METRIC) for at in (450, 500, 550))

    project = measured_project("Our job", rooms, zones, METRIC, "au-nz")
    assert project.id == "our-job"
    assert [r.id for r in project.rooms] == ["bed", "bed-2", "bed-3"]
    assert [r.joists[0].spacing for r in project.rooms] == [450, 500, 550]

    project = measured_project("Our job", rooms, zones[:1], METRIC, "au-nz")
    assert [r.joists[0].spacing for r in project.rooms] == [450, 450, 450]
    assert measured_project("Our job", rooms, (), METRIC, "au-nz").rooms[0].joists == ()
    with pytest.raises(ValueError, match="once for each"):
        measured_project("Our job", rooms, zones[:2], METRIC, "au-nz")
