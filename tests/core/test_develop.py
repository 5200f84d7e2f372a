"""From measured rooms to surfaces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.develop import develop
from roomboard.core.framing import member_positions, stud_centres
from roomboard.core.project import (
    AngleFinish,
    Bulkhead,
    HeightsAre,
    JoistZone,
    KeptPart,
    SheetDirection,
    Wall,
    WallKind,
)
from roomboard.core.surface import EdgeKind, SupportKind
from roomboard.core.walls import floor_gap
from tests.rooms import Opening, OpeningKind, joists, rectangle, room, setting, walls

L_OUTLINE = (
    (0.0, 0.0),
    (0.0, 5000.0),
    (3000.0, 5000.0),
    (3000.0, 3000.0),
    (6000.0, 3000.0),
    (6000.0, 0.0),
)


def codes(of: object) -> list[str]:
    """Codes of the findings."""
    return [f.code for f in of.findings]  # type: ignore[attr-defined]


def test_studs_of_a_published_wall() -> None:
    """W-10: a contractor's maths page: wall 14 ft 6 in, studs 16 in o.c.: 12 studs."""
    wall = Wall(id="a")
    centres = stud_centres(wall, 14.5 * 304.8, 16 * 25.4, 1.5 * 25.4)
    assert len(centres) == 12
    assert centres[1] == pytest.approx(406.4)


def test_a_stud_that_would_stand_in_the_end_stud_goes_hard_against_it() -> None:
    """3040 at 600: 3000 would stand in the end stud at 3017.5; without it 617.5 is left."""
    wall = Wall(id="a")
    assert stud_centres(wall, 3040, 600, 45)[-3:] == (2400, 2972.5, 3017.5)
    # 3010: the end stud at 2987.5 is 587.5 from 2400 and no other is needed.
    assert stud_centres(wall, 3010, 600, 45)[-2:] == (2400, 2987.5)
    first = replace(wall, stud_first=40.0)
    assert stud_centres(first, 3000, 600, 45)[:3] == (22.5, 67.5, 640)


def test_explicit_studs_win_over_spacing() -> None:
    """Old walls have a number for each stud."""
    wall = Wall(id="a", studs=(20.0, 500.0, 930.0, 1480.0))
    assert stud_centres(wall, 1500, 600, 45) == (20.0, 500.0, 930.0, 1480.0)


def test_joists_by_first_and_spacing_stay_inside() -> None:
    """Scenario 1: 450, 900 ... 3150 in 3580."""
    zone = joists(90, 450)
    assert member_positions(zone, 3580) == (450, 900, 1350, 1800, 2250, 2700, 3150)
    assert member_positions(replace(zone, first=300.0), 1200) == (300, 750)
    assert member_positions(replace(zone, positions=(900.0, 200.0, 4000.0)), 3580) == (200, 900)
    assert member_positions(JoistZone(id="z"), 3000) == ()


def test_a_rectangular_room_has_a_ceiling_and_four_walls() -> None:
    """Ceiling first, then walls in order; walls stand under the ceiling board."""
    made = develop(room(3580, 3040, 2420, joists=(joists(90, 450),)), setting())
    assert [s.key for s in made.surfaces] == ["ceiling", "wall:a", "wall:b", "wall:c", "wall:d"]
    ceiling, wall_a, wall_b = made.surfaces[:3]
    assert ceiling.region.bounds == (0, 0, 3580, 3040)
    assert [s.a[0] for s in ceiling.supports] == [450, 900, 1350, 1800, 2250, 2700, 3150]
    # 2420 to the framing less 10 of ceiling board; two 1200 sheets leave a lawful 10 at the floor.
    assert wall_a.region.bounds == (0, 10, 3040, 2410)
    assert wall_b.region.bounds == (0, 10, 3580, 2410)
    assert {e.kind for e in wall_a.edges} == {EdgeKind.FLOOR, EdgeKind.ANGLE}
    assert not made.findings


def test_the_other_direction_of_the_outline_gives_the_same_walls() -> None:
    """A counter-clockwise outline is turned round with all that hangs on it."""
    clock = room(
        4000,
        3000,
        joists=(joists(90, 450),),
        openings=(
            Opening(
                id="D", kind=OpeningKind.DOOR, host="b", left=500, bottom=0, width=820, height=2040
            ),
        ),
    )
    # The same room, walked the other way: corners and walls reversed, offsets from the other end.
    # Studs at 600 from the left of 4000 are at 400 from the right; in 3000 at 600 both ways.
    counter = replace(
        clock,
        outline=(clock.outline[0], *reversed(clock.outline[1:])),
        walls=tuple(
            replace(w, stud_first=400.0 if w.id in "bd" else 600.0) for w in reversed(clock.walls)
        ),
        openings=(replace(clock.openings[0], left=4000 - 500 - 820),),
    )
    one = {s.ref: s for s in develop(clock, setting()).surfaces}
    two = {s.ref: s for s in develop(counter, setting()).surfaces}
    assert one == two


def test_studs_stay_where_they_stand_when_the_outline_is_turned() -> None:
    """Counter-clockwise, wall b's first stud 250 from its first corner is 250 from its right."""
    of = room(4000, 3000, joists=(joists(90, 450),))
    turned = replace(
        of,
        outline=(of.outline[0], *reversed(of.outline[1:])),
        walls=tuple(replace(w, stud_first=250.0) for w in reversed(of.walls)),
    )
    wall = next(s for s in develop(turned, setting()).surfaces if s.key == "wall:b")
    studs = [s.a[0] for s in wall.supports if s.kind is SupportKind.STUD]
    # 4000 - 250 - k x 600, and the two end studs.
    assert studs == [22.5, 150, 750, 1350, 1950, 2550, 3150, 3750, 3977.5]


def test_an_l_shaped_room_has_one_external_corner() -> None:
    """Only the corner that points into the room is external."""
    of = replace(room(1, 1), outline=L_OUTLINE, walls=walls(6), joists=(joists(90, 450),))
    made = develop(of, setting())
    corners = [
        (s.key, e.a[0])
        for s in made.surfaces
        for e in s.edges
        if e.kind is EdgeKind.CORNER and s.place == "wall"
    ]
    assert corners == [("wall:c", 2000.0), ("wall:d", 0.0)]
    assert made.surfaces[0].area_m2 == pytest.approx(24.0)  # 6.0 x 3.0 + 3.0 x 2.0


def test_a_door_to_the_floor_is_a_notch_with_jambs_and_head() -> None:
    """Studs stop at the head, jambs stand beside, a head lies above, no sill."""
    of = room(
        5400,
        3000,
        openings=(
            Opening(
                id="D", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040
            ),
        ),
        joists=(joists(90, 450),),
    )
    wall = develop(of, setting()).surfaces[2]
    kinds = {s.kind for s in wall.supports}
    assert SupportKind.HEAD in kinds
    assert SupportKind.SILL not in kinds
    assert sorted(s.a[0] for s in wall.supports if s.kind is SupportKind.JAMB) == [877.5, 1742.5]
    over = [s for s in wall.supports if s.kind is SupportKind.STUD and s.a[0] == 1200]
    assert [(s.a[1], s.b[1]) for s in over] == [(2040, 2420)]
    assert wall.area_m2 == pytest.approx((5400 * 2400 - 820 * 2030) / 1e6)


def test_an_opening_from_floor_to_ceiling_leaves_two_surfaces() -> None:
    """Nothing is lost and nothing spans the gap."""
    of = room(
        5000,
        3000,
        openings=(
            Opening(
                id="O",
                kind=OpeningKind.OPENING,
                host="b",
                left=2000,
                bottom=0,
                width=1000,
                height=2420,
            ),
        ),
        joists=(joists(90, 450),),
    )
    parts = [s for s in develop(of, setting()).surfaces if s.key.startswith("wall:b")]
    assert [p.region.bounds for p in parts] == [(0, 10, 2000, 2410), (3000, 10, 5000, 2410)]
    assert all(0 <= x <= 2000 for s in parts[0].supports for x in (s.a[0], s.b[0]))


def test_walls_that_are_open_or_not_lined_make_no_surface() -> None:
    """An open edge frees the ends of its neighbours."""
    a, b, c, d = walls(4)
    of = room(
        4000,
        3000,
        walls=(a, replace(b, kind=WallKind.OPEN), replace(c, lined=False), d),
        joists=(joists(90, 450),),
    )
    made = develop(of, setting())
    assert [s.key for s in made.surfaces] == ["ceiling", "wall:a", "wall:d"]
    wall_a = made.surfaces[1]
    right = next(e for e in wall_a.edges if e.a[0] == e.b[0] == 3000)
    assert right.kind is EdgeKind.FREE
    free = [e for e in made.surfaces[0].edges if e.kind is EdgeKind.FREE]
    assert [(e.a[1], e.b[1]) for e in free] == [(3000, 3000)]


@pytest.mark.parametrize(
    ("top", "gap"),
    [
        (2410.0, 10.0),  # two sheets of 1200 leave 10
        (2400.0, 10.0),  # two sheets would leave nothing: the usual gap, and a rip
        (2408.0, 8.0),  # 8 is within 6 to 10: nothing need be ripped
        (2560.0, 10.0),  # 1200 + 1350 leave 10
        (2500.0, 10.0),  # nothing fits: the usual gap
    ],
)
def test_the_floor_gap_saves_a_rip_where_the_pack_allows(top: float, gap: float) -> None:
    """Whole sheets are used where they leave a gap between the pack's least and greatest."""
    with_ = setting()
    board = with_.board("", "wall")
    assert floor_gap(top, board, SheetDirection.ACROSS, 0, with_) == pytest.approx(gap)


def test_sizes_to_finished_faces_become_sizes_of_the_frame() -> None:
    """10 mm of board on each wall and the ceiling: 3560 finished is 3580 in the frame."""
    finished = room(
        3560,
        3020,
        2410,
        joists=(joists(90, 450, first=440.0),),
        openings=(
            Opening(
                id="D", kind=OpeningKind.DOOR, host="b", left=490, bottom=0, width=820, height=2040
            ),
        ),
    )
    made = develop(finished, setting(heights_are=HeightsAre.FINISHED))
    ceiling, _, wall_b = made.surfaces[:3]
    u0, v0, u1, v1 = ceiling.region.bounds
    assert (u1 - u0, v1 - v0) == (3580, 3040)
    assert made.room.height == 2420
    # The joist stays where it was measured: 440 from the finished face, 450 from the frame.
    assert ceiling.supports[0].a[0] - u0 == pytest.approx(450)
    assert wall_b.openings[0].region.bounds[0] == pytest.approx(500)


def test_finished_sizes_lie_before_every_layer() -> None:
    """Two layers of 10 on walls and ceiling: 3560 finished is 3600 in the frame, 2400 is 2420."""
    finished = room(
        3560, 2960, 2400, walls=walls(4, layers=2), ceiling_layers=2, joists=(joists(90, 450),)
    )
    made = develop(finished, setting(heights_are=HeightsAre.FINISHED))
    u0, v0, u1, v1 = made.surfaces[0].region.bounds
    assert (u1 - u0, v1 - v0) == (3600, 3000)
    assert made.room.height == 2420


def test_what_fills_a_finished_wall_fills_its_frame() -> None:
    """Wall A is 3000 finished, 3020 in the frame: what runs from end to end leaves no sliver.

    What begins 500 from the finished corner begins 510 from that of the frame, and is as wide.
    """
    finished = room(
        4000,
        3000,
        2400,
        joists=(joists(90, 450),),
        bulkheads=(Bulkhead(id="x", wall="c", left=0, length=3000, depth=400, drop=300),),
        kept=(
            KeptPart(id="dado", host="a", left=0, bottom=0, width=3000, height=1200),
            KeptPart(id="top", host="b", left=500, bottom=2000, width=800, height=400),
            KeptPart(id="corner", host="ceiling", left=0, bottom=2200, width=900, height=800),
        ),
    )
    made = develop(finished, setting(heights_are=HeightsAre.FINISHED)).room
    dado, top, corner = made.kept
    assert (dado.left, dado.width, dado.height) == (0, 3020, 1200)
    assert (top.left, top.width, top.bottom + top.height) == (510, 800, 2410)
    # In plan the frame reaches from -10 to 4010 and from -10 to 3010.
    assert (corner.left, corner.bottom, corner.width, corner.height) == (-10, 2200, 910, 810)
    assert (made.bulkheads[0].left, made.bulkheads[0].length) == (0, 3020)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"outline": ((0.0, 0.0), (1000.0, 1000.0), (1000.0, 0.0), (0.0, 1000.0))}, "RB101"),
        ({"walls": walls(3)}, "RB101"),
        ({"height": 200.0}, "RB108"),
        ({"joists": ()}, "RB104"),
        ({"joists": (JoistZone(id="z", outline=((9e4, 0.0), (9e4, 9.0), (9.1e4, 0.0))),)}, "RB106"),
        (
            {
                "joists": (
                    JoistZone(
                        id="z",
                        spacing=450.0,
                        outline=((0.0, 0.0), (0.0, 3000.0), (1000.0, 3000.0), (1000.0, 0.0)),
                    ),
                )
            },
            "RB308",
        ),
        (
            {
                "openings": (
                    Opening(
                        id="W",
                        kind=OpeningKind.WINDOW,
                        host="b",
                        left=3500,
                        bottom=900,
                        width=900,
                        height=900,
                    ),
                )
            },
            "RB102",
        ),
        (
            {
                "openings": (
                    Opening(
                        id="W",
                        kind=OpeningKind.WINDOW,
                        host="x",
                        left=0,
                        bottom=900,
                        width=900,
                        height=900,
                    ),
                )
            },
            "RB102",
        ),
        (
            {
                "openings": (
                    Opening(
                        id="H",
                        kind=OpeningKind.LIGHT,
                        host="ceiling",
                        left=3950,
                        bottom=900,
                        width=90,
                        height=90,
                    ),
                )
            },
            "RB109",
        ),
        (
            {"bulkheads": (Bulkhead(id="1", wall="q", left=0, length=900, depth=300, drop=300),)},
            "RB112",
        ),
        ({"walls": walls(4, lined=False), "ceiling_lined": False}, "RB107"),
    ],
)
def test_bad_input_becomes_a_finding(change: dict[str, object], code: str) -> None:
    """One clear sentence each; the rest of the room goes on."""
    of = replace(room(4000, 3000, joists=(joists(90, 450),)), **change)  # type: ignore[arg-type]
    made = develop(of, setting())
    assert code in codes(made)
    assert all(f.text.endswith(".") for f in made.findings)


def test_overlapping_openings_are_cut_out_once() -> None:
    """The area taken off is that of both together."""
    window = Opening(
        id="W1", kind=OpeningKind.WINDOW, host="b", left=1000, bottom=900, width=1000, height=1000
    )
    of = room(
        4000,
        3000,
        joists=(joists(90, 450),),
        openings=(window, replace(window, id="W2", left=1500)),
    )
    made = develop(of, setting())
    assert codes(made) == ["RB103"]
    assert made.surfaces[2].area_m2 == pytest.approx(4.0 * 2.4 - 1.5)


def test_a_bulkhead_with_one_free_end_has_three_faces() -> None:
    """Face, underside and one return; the arrises are external corners."""
    box = Bulkhead(id="1", wall="b", left=0, length=3000, depth=600, drop=300, right_free=True)
    made = develop(room(4200, 3000, 2710, joists=(joists(90, 450),), bulkheads=(box,)), setting())
    faces = {s.key: s for s in made.surfaces if "bulkhead" in s.key}
    assert {k: s.region.bounds[2:] for k, s in faces.items()} == {
        "bulkhead:1:face": (3000, 300),
        "bulkhead:1:underside": (3000, 600),
        "bulkhead:1:right": (600, 300),
    }
    assert sum(s.area_m2 for s in faces.values()) == pytest.approx(2.88)
    # Each arris is named by both of its faces.
    corners = sorted(
        (s.key.split(":")[2], e.other.split(":")[2])
        for s in faces.values()
        for e in s.edges
        if e.kind is EdgeKind.CORNER
    )
    assert corners == sorted((b, a) for a, b in corners)
    assert len(corners) == 6


def test_lined_behind_decides_whether_the_wall_goes_on_behind_a_bulkhead() -> None:
    """Without lining behind, wall and ceiling stop at the box."""
    box = Bulkhead(id="1", wall="b", left=0, length=4200, depth=600, drop=300, lined_behind=False)
    made = develop(room(4200, 3000, 2710, joists=(joists(90, 450),), bulkheads=(box,)), setting())
    by_key = {s.key: s for s in made.surfaces}
    assert by_key["ceiling"].area_m2 == pytest.approx(4.2 * 2.4)
    assert by_key["wall:b"].region.bounds[3] == 2400


def test_square_set_and_cornice_are_known_to_both_faces_of_the_angle() -> None:
    """The wall's finish is written on the ceiling's edge as well."""
    a, b, c, d = walls(4)
    of = room(
        4000,
        3000,
        walls=(a, replace(b, angle=AngleFinish.SQUARE_SET), c, d),
        joists=(joists(90, 450),),
    )
    ceiling = develop(of, setting()).surfaces[0]
    square = [e for e in ceiling.edges if e.finish is AngleFinish.SQUARE_SET]
    assert [(e.a[1], e.other) for e in square] == [(3000, "room/wall:b")]


def test_rectangle_helper_is_clockwise() -> None:
    """The rooms built here are already the way the model stores them."""
    assert rectangle(2, 1) == ((0, 0), (0, 1), (2, 1), (2, 0))
