from dataclasses import replace

from roomboard.core.project import Units
from roomboard.drawing.carpentry import holes_table, packers_table, timber_table
from roomboard.drawing.displaylist import Stroke, Text, overlap, text_box
from roomboard.drawing.elevation import elevation
from roomboard.drawing.floor_plan import floor_plan
from roomboard.drawing.lining import FRAMING

METRIC = Units.METRIC


def rows_of(table):
    return [row for row in table.rows if len(row) == len(table.columns)]


def test_trimmers_are_measured_to_their_middle_from_walls(one_room):
    # 3580 x 3040 with joists along y: walls A and C run with the joists. Timber of 45 stands
    # against them, so its middle is 22.5 off (23 to the mm), over the 3040 between B and D.
    rows = {row[0]: row for row in rows_of(timber_table(one_room.rooms, METRIC))}
    ceiling = [row for row in rows.values() if row[1] == "Ceiling"]

    assert [row[3] for row in ceiling] == ["3040", "3040"]
    walls = sorted(row[5].split(";")[0] for row in ceiling)
    assert walls == ["centre 23 from wall A", "centre 23 from wall C"]
    for row in ceiling:
        assert row[5].split("; ")[1] in {"0 to 3040 from wall B", "0 to 3040 from wall D"}


def test_backing_where_joists_turn_stands_where_the_zones_meet(two_rooms):
    # The living room's joists turn at x = 3600. The nearer wall along x is C, at x = 5400; the
    # timber runs the whole 3600 from wall F at y = 0.
    (row,) = [r for r in rows_of(timber_table(two_rooms.rooms, METRIC)) if "both sides" in r[2]]
    assert row[5] == "centre 1800 from wall C; 0 to 3600 from wall F"


def test_a_hatch_is_measured_from_its_sides_and_a_light_from_its_middle(two_rooms):
    rows = {row[0]: row for row in rows_of(holes_table(two_rooms.rooms, METRIC))}

    # Measured: left side at x = 320, lower side at y = 900; 400 x 600.
    assert rows["H1"][2:4] == ("400 × 600", "320 from wall A; 900 from wall F")
    # The first light: its square begins at x = 4300, y = 1250 and is 90 wide, so its middle is
    # at (4345, 1295): 6600 - 4345 from wall E. Above it stands wall B at 3600, below wall F at 0.
    assert rows["L1"][2] == "⌀ 90"
    assert rows["L1"][3] == "2255 from wall E; 1295 from wall F"


def test_timber_round_a_hatch_is_named_beside_it(two_rooms):
    rows = {row[0]: row for row in rows_of(holes_table(two_rooms.rooms, METRIC))}
    tags = rows["H1"][4].split(", ")
    living = next(r for r in two_rooms.rooms if r.room.id == "living")
    known = {t.tag: t for s in living.surfaces for t in s.trimmers}

    assert tags
    for tag in tags:
        assert known[tag].reason.value == "hatch"


def test_packers_are_listed_wall_by_wall_with_their_places(one_room):
    rows = rows_of(packers_table(one_room.rooms, METRIC))
    packers = [p for r in one_room.rooms for s in r.surfaces for p in s.packers]

    assert sum(int(row[1]) for row in rows) == len(packers)
    assert sum(len(row[3].split(", ")) for row in rows) == len(packers)


def test_every_tag_of_the_demo_is_listed_with_a_place(demo_scheme):
    rows = rows_of(timber_table(demo_scheme.rooms, METRIC))
    tags = [t for r in demo_scheme.rooms for s in r.surfaces for t in s.trimmers]

    assert len(rows) == len(tags)
    assert all("centre" in row[5] and " to " in row[5] for row in rows)


def test_the_carpenters_plan_dimensions_holes_and_timber_away_from_walls(two_rooms):
    living = next(r for r in two_rooms.rooms if r.room.id == "living")
    plain = {m.text for m in floor_plan(living, METRIC, 50.0) if isinstance(m, Text)}
    marks = floor_plan(living, METRIC, 50.0, timber=True)
    found = {m.text for m in marks if isinstance(m, Text)}

    # Sides of the hatch: 320 and 720 along x, 900 and 1500 along y; middles of lights from 4345.
    assert {"320", "720", "900", "1500", "4345"} <= found
    assert not {"320", "720", "4345"} <= plain
    assert not [m for m in marks if isinstance(m, Stroke) and m.layer == "piece"]


def test_timber_in_a_wall_is_dimensioned_from_its_left_end_and_the_floor(one_room):
    # An upright at 1504 and a nogging at 1350 above the floor, both asked for here by hand.
    room = one_room.rooms[0]
    wall = next(s for s in room.surfaces if s.surface.key == "wall:c")
    known = next(t for s in room.surfaces for t in s.trimmers)
    upright = replace(
        known, tag="T8", surface=wall.surface.ref, a=(1504.0, 10.0), b=(1504.0, 2000.0),
        centre_a=(1504.0, 10.0), centre_b=(1504.0, 2000.0),
    )  # fmt: skip
    nogging = replace(
        known, tag="T9", surface=wall.surface.ref, a=(600.0, 1350.0), b=(1200.0, 1350.0),
        centre_a=(600.0, 1350.0), centre_b=(1200.0, 1350.0), nogging=True,
    )  # fmt: skip
    with_timber = replace(wall, trimmers=(upright, nogging))

    def found(scheme, show):
        marks = elevation(scheme, room.room, METRIC, 50.0, show)
        return {m.text for m in marks if isinstance(m, Text)}

    assert {"1504", "1350"} <= found(with_timber, FRAMING)
    assert not {"1504", "1350"} & found(wall, FRAMING)
    changed = replace(room, surfaces=(with_timber,))
    rows = {row[0]: row for row in rows_of(timber_table((changed,), METRIC))}
    # Wall C is 3040 long: 1504 from its left end is nearer than 1536 from its right.
    assert "centre 1504 from wall B" in rows["T8"][5]
    assert rows["T9"][2] == "nogging"


def test_timber_near_a_wall_is_dimensioned_and_timber_against_it_is_not(one_room):
    """Timber of 45 at 130: its face begins at 107.5, clear of the wall; at 22.5 it touches."""
    room = one_room.rooms[0]
    over = next(s for s in room.surfaces if s.surface.key == "ceiling")
    along = next(t for t in over.trimmers if t.centre_a[0] == t.centre_b[0] == 22.5)
    near = replace(
        along, tag="T9", a=(130.0, 0.0), b=(130.0, 3040.0),
        centre_a=(130.0, 0.0), centre_b=(130.0, 3040.0),
    )  # fmt: skip

    def found(*timber):
        part = replace(over, trimmers=timber)
        rest = tuple(part if s is over else s for s in room.surfaces)
        marks = floor_plan(replace(room, surfaces=rest), METRIC, 50.0, timber=True)
        return {m.text for m in marks if isinstance(m, Text)}

    assert "130" in found(along, near)
    assert "22.5" not in found(along, near)
    assert "130" not in found(along)


def test_nothing_is_written_over_a_light_or_a_duct(demo_scheme):
    """Lights are 90 across, 1.8 mm on paper: no name has room in them, and none may hide them."""
    seen = 0
    for room in demo_scheme.rooms:
        texts = [m for m in floor_plan(room, METRIC, 50.0, timber=True) if isinstance(m, Text)]
        for s in room.surfaces:
            if s.surface.key != "ceiling":
                continue
            for opening in (o for o in s.surface.openings if o.is_round):
                seen += 1
                over = [t.text for t in texts
                        if overlap(text_box(t, 50.0), opening.region.bounds, 0.01)]  # fmt: skip
                assert over == [], opening.id
    assert seen == 3  # two lights in the living room, a duct in the bathroom
