"""Sloping, ridged, dropped and stepped ceilings: worked examples, the working beside each."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from roomboard.core.develop import develop
from roomboard.core.editing import heights, heights_corners, heights_parts
from roomboard.core.heights import covers
from roomboard.core.plane import distance
from roomboard.core.project import (
    AngleFinish,
    Bulkhead,
    CeilingPart,
    Column,
    HeightsAre,
    Opening,
    OpeningKind,
)
from roomboard.core.slopes import Slope, best_plane
from roomboard.core.surface import EdgeKind, SupportKind
from roomboard.core.trims import TrimKind
from tests.chain import as_data, faults_of
from tests.chain import worked as chain
from tests.rooms import joists, project, room, setting


def lean_to(**more):
    """3600 deep, 4000 wide, rising from 2400 at wall d (y = 0) to 3600 at wall b."""
    return heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),), **more), "d", 2400, 3600)


def gable(**more):
    """5000 x 4000 with a ridge over the middle of 5000, both slopes at 30 degrees.

    2500 x tan 30 = 1443.3757 over the eaves at 2400.
    """
    top = 2400 + 2500 * math.tan(math.radians(30))
    return heights.ridge(room(5000, 4000, 2400, joists=(joists(0, 600),), **more), "a", 2400, top)


def dropped(**more):
    """5000 x 4000, 2700 high, a corner of 1500 x 1800 dropped to 2400."""
    ring = ((0.0, 0.0), (0.0, 1800.0), (1500.0, 1800.0), (1500.0, 0.0))
    return heights.drop_part(room(5000, 4000, 2700, joists=(joists(0, 600),), **more), ring, 2400.0)


def faces(of, with_=None):
    """The surfaces of a room by key."""
    return {s.key: s for s in develop(of, with_ or setting()).surfaces}


def near(surface, corners):
    """Whether a surface has these corners, from its lowest left on, to a thousandth of a mm."""
    outer = surface.outline.outer
    return len(outer) == len(corners) and all(
        math.dist(p, q) < 1e-3 for p, q in zip(outer, corners, strict=True)
    )


def trims(of, kind):
    """Runs of a kind of trim: where, and net length."""
    scheme = chain(project(of))
    return {r.where: r for r in scheme.rooms[0].trims if r.kind is kind}


# --- planes --------------------------------------------------------------------------------


def test_a_slope_is_as_long_as_pythagoras_has_it() -> None:
    """sqrt(3600^2 + 1200^2) = 3794.7332 for 3600 of plan that rises 1200."""
    slope = Slope.of(
        2400, (0, 0), 90.0, math.degrees(math.atan(1200 / 3600)), [(0, 0), (4000, 3600)]
    )
    assert slope.to_face((0, 3600))[1] == pytest.approx(3794.7332, abs=1e-3)
    assert slope.height_at((1234, 3600)) == pytest.approx(3600)
    assert slope.to_plan(slope.to_face((1234.5, 2345.6))) == pytest.approx((1234.5, 2345.6))


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0, 33.0, 211.0])
def test_plan_and_face_go_back_and_forth_whichever_way_it_rises(turn: float) -> None:
    slope = Slope.of(2400, (100, 200), turn, 27.5, [(0, 0), (4000, 0), (4000, 3000), (0, 3000)])
    for point in ((0.0, 0.0), (4000.0, 3000.0), (1711.0, 905.0)):
        face = slope.to_face(point)
        assert min(face) >= -1e-6
        assert slope.to_plan(face) == pytest.approx(point, abs=1e-5)
        placing = slope.placing
        z = placing.origin[2] + face[1] * placing.v_axis[2]
        assert z == pytest.approx(slope.height_at(point), abs=1e-5)


def test_the_best_plane_of_four_heights() -> None:
    """z = 2400 + 0.1 x + 0.05 y at four corners gives those figures back."""
    points = [((x, y), 2400 + 0.1 * x + 0.05 * y) for x in (0.0, 4000.0) for y in (0.0, 3000.0)]
    assert best_plane(points) == pytest.approx((2400, 0.1, 0.05))
    assert best_plane(points[:2]) is None
    assert best_plane([((0, 0), 1), ((1, 1), 2), ((2, 2), 3)]) is None


# --- a single slope --------------------------------------------------------------------------


def test_the_ceiling_of_a_lean_to_is_lined_by_its_slope_not_its_plan() -> None:
    """4000 x 3794.7332 = 15.1789 m2; in plan it is 14.4 m2."""
    ceiling = faces(lean_to())["ceiling:a"]
    assert ceiling.region.bounds == pytest.approx((0, 0, 4000, 3794.7332), abs=1e-3)
    assert ceiling.area_m2 == pytest.approx(15.17893, abs=1e-4)
    assert ceiling.height_above_floor == pytest.approx(3600)
    rafters = [s for s in ceiling.supports if s.kind is SupportKind.JOIST]
    # Rafters up the slope stand where joists at 600 stand in plan, and are as long as the slope.
    assert [s.a[0] for s in rafters] == pytest.approx([600, 1200, 1800, 2400, 3000, 3600])
    assert {round(math.dist(s.a, s.b), 3) for s in rafters} == {3794.733}


def test_battens_across_a_slope_are_counted_up_it_as_the_tape_reads() -> None:
    """At 600 up the slope: 600 ... 3600 on the face, six of them (3794.7 / 600 = 6.3)."""
    of = heights.rake(room(4000, 3600, 2400, joists=(joists(0, 600),)), "d", 2400, 3600)
    ceiling = faces(of)["ceiling:a"]
    assert [s.a[1] for s in ceiling.supports] == [600, 1200, 1800, 2400, 3000, 3600]
    assert ceiling.zones[0].direction_deg == 0.0


def test_the_raking_walls_of_a_lean_to_are_true_polygons() -> None:
    """Lined to the ceiling's underside: 10 mm of board square to the slope is
    10 x 3794.7332 / 3600 = 10.5409 upright."""
    made = faces(lean_to())
    down = 10 * 3794.7332 / 3600
    wall = made["wall:a"]  # from (0, 0) to (0, 3600): it rises from left to right
    assert near(wall, [(0, 10), (3600, 10), (3600, 3600 - down), (0, 2400 - down)])
    assert wall.area_m2 == pytest.approx(3600 * (3000 - 10 - down) / 1e6, abs=1e-5)
    opposite = made["wall:c"]
    assert near(opposite, [(0, 10), (3600, 10), (3600, 2400 - down), (0, 3600 - down)])
    rim = {e.other for e in wall.edges if e.kind is EdgeKind.ANGLE}
    assert rim == {"room/ceiling:a", "room/wall:b", "room/wall:d"}
    # The stud at 1800 runs up to the framing there: 2400 + 1800 / 3 = 3000.
    stud = next(s for s in wall.supports if s.kind is SupportKind.STUD and s.a[0] == 1800)
    assert stud.b[1] == pytest.approx(3000)
    plate = next(s for s in wall.supports if s.id == "PT")
    # Its centre line lies 22.5 square to the rake below the framing.
    assert plate.a[1] == pytest.approx(2400 - 22.5 * 3794.7332 / 3600, abs=1e-3)


def test_cornice_on_a_rake_is_as_long_as_the_rake_and_mitred_for_it() -> None:
    runs = trims(lean_to(), TrimKind.CORNICE)
    rake = runs["wall A to ceiling a"]
    assert rake.length == pytest.approx(3794.733, abs=1e-3)
    assert rake.left_end == rake.right_end == "internal mitre, raking"
    assert runs["wall D to ceiling a"].length == pytest.approx(4000)
    corner = trims(lean_to(), TrimKind.INTERNAL_TAPE)["wall A to wall B"]
    # From 10 over the floor to the lining's underside at 3600 - 10.5409.
    assert corner.length == pytest.approx(3600 - 10.5409 - 10, abs=1e-3)


def test_a_hatch_and_a_light_of_the_plan_lie_true_on_the_slope() -> None:
    """A hatch 600 deep in plan is 600 x 1.05409 = 632.456 up the slope; a light stays round."""
    of = replace(
        lean_to(),
        openings=(
            Opening(
                id="H",
                kind=OpeningKind.HATCH,
                host="ceiling",
                left=630,
                bottom=1200,
                width=540,
                height=600,
            ),
            Opening(
                id="L",
                kind=OpeningKind.LIGHT,
                host="ceiling",
                left=3100,
                bottom=1750,
                width=100,
                height=100,
                is_round=True,
            ),
        ),
    )
    hatch, light = faces(of)["ceiling:a"].openings
    u0, v0, u1, v1 = hatch.region.bounds
    assert (u0, u1) == pytest.approx((630, 1170))
    assert (v0, v1) == pytest.approx((1200 * 1.0540926, 1800 * 1.0540926), abs=1e-3)
    u0, v0, u1, v1 = light.region.bounds
    assert (v0 + v1) / 2 == pytest.approx(1800 * 1.0540926, abs=1e-3)
    assert v1 - v0 == pytest.approx(u1 - u0)


# --- a ridge ---------------------------------------------------------------------------------


def test_both_slopes_of_a_gable_and_the_ridge_between() -> None:
    """2500 / cos 30 = 2886.7513 up each slope; 4000 along the ridge, 11.547 m2 each."""
    made = faces(gable())
    for key in ("ceiling:a", "ceiling:b"):
        assert made[key].region.bounds == pytest.approx((0, 0, 4000, 2886.7513), abs=1e-3)
    ridge = next(e for e in made["ceiling:a"].edges if e.other == "room/ceiling:b")
    assert ridge.kind is EdgeKind.ANGLE
    assert ridge.finish is AngleFinish.SQUARE_SET  # taped flush: seen from below it is internal
    assert ridge.a[1] == ridge.b[1] == pytest.approx(2886.7513, abs=1e-3)
    assert trims(gable(), TrimKind.SQUARE_SET_TAPE)["ceiling b to ceiling a"].length == 4000


def test_a_gable_wall_has_its_apex_under_the_ridge() -> None:
    """Ridge framing at 2400 + 1443.3757; the lining stands 10 / cos 30 = 11.5470 lower."""
    wall = faces(gable())["wall:b"]
    eaves, apex = 2400 - 11.5470, 3843.3757 - 11.5470
    assert near(wall, [(0, 10), (5000, 10), (5000, eaves), (2500, apex), (0, eaves)])
    # A trapezium to the eaves and a triangle over it: 5000 x 2378.453 + 5000 x 1443.3757 / 2.
    assert wall.area_m2 == pytest.approx((5000 * 2378.453 + 2500 * 1443.3757) / 1e6, abs=1e-5)


def test_cornice_meets_at_the_apex_in_a_raking_mitre_of_its_own() -> None:
    runs = trims(gable(), TrimKind.CORNICE)
    ends = {w: (r.left_end, r.right_end) for w, r in runs.items() if w.startswith("wall B")}
    assert ends == {
        "wall B to ceiling a": ("internal mitre, raking", "raking mitre"),
        "wall B to ceiling b": ("raking mitre", "internal mitre, raking"),
    }


def test_slopes_of_different_height_meet_at_the_ridge_too() -> None:
    """Ridge 1500 from wall a at 3300: 900 in 1500 and 700 in 3500 down to 2600."""
    of = heights.ridge(
        room(5000, 4000, 2400, joists=(joists(0, 600),)), "a", 2400, 3300, 1500, 2600
    )
    made = faces(of)
    assert made["ceiling:a"].region.bounds[3] == pytest.approx(math.hypot(1500, 900), abs=1e-3)
    assert made["ceiling:b"].region.bounds[3] == pytest.approx(math.hypot(3500, 700), abs=1e-3)
    assert heights_corners.corner_heights(of) == pytest.approx((2400, 2400, 2600, 2600))


# --- part-raked ------------------------------------------------------------------------------


def test_slopes_cut_off_flat_leave_a_level_strip_between_folds() -> None:
    """At 3000 each slope has run (3000 - 2400) / tan 30 = 1039.2305; 2921.539 lie flat between."""
    of = heights.split_flat(gable(), 3000)
    made = faces(of)
    run = 600 / math.tan(math.radians(30))
    flat = made["ceiling:c"]
    assert flat.region.bounds == pytest.approx((run, 0, 5000 - run, 4000), abs=1e-3)
    assert made["ceiling:a"].region.bounds[3] == pytest.approx(1200, abs=1e-3)  # 600 / sin 30
    wall = made["wall:b"].outline.outer
    assert len(wall) == 6
    # Folds of 150 degrees: the linings' undersides meet 10 x tan 15 = 2.6795 inside the frame's.
    top = sorted((p for p in wall if p[1] > 2900), key=lambda p: p[0])
    assert [p[1] for p in top] == pytest.approx([2990, 2990], abs=1e-3)
    assert top[0][0] == pytest.approx(run + 2.6795, abs=1e-3)


def test_a_slope_that_rises_from_a_flat_part_stands_out_and_is_beaded_if_steep() -> None:
    """An external fold of 60 degrees takes a bead, one of 30 is taped (bead from 45)."""
    for pitch, kind in ((60.0, EdgeKind.CORNER), (30.0, EdgeKind.ANGLE)):
        part = CeilingPart(
            id="a",
            outline=((2000.0, 0.0), (2000.0, 3000.0), (4000.0, 3000.0), (4000.0, 0.0)),
            height=2400,
            at=(2000.0, 0.0),
            rise_deg=0.0,
            pitch_deg=pitch,
        )
        of = room(4000, 3000, 2400, joists=(joists(0, 600),), ceiling_parts=(part,))
        fold = next(e for e in faces(of)["ceiling"].edges if e.other == "room/ceiling:a")
        assert fold.kind is kind


# --- dropped ---------------------------------------------------------------------------------


def test_a_dropped_corner_has_two_upright_sides_with_beads_and_cornice() -> None:
    """300 of framing between the levels; the flat ceiling's board takes 10 of it."""
    made = faces(dropped())
    sides = {k: s.region.bounds for k, s in made.items() if k.startswith("step:")}
    assert sides == {
        "step:a:1": (0, 2400, 1500, 2690),
        "step:a:2": (0, 2400, 1800, 2690),
    }
    assert made["ceiling"].area_m2 == pytest.approx(20 - 2.7)
    assert made["ceiling:a"].area_m2 == pytest.approx(2.7)  # 1.5 x 1.8
    beads = trims(dropped(), TrimKind.EXTERNAL_BEAD)
    assert sorted(r.length for r in beads.values()) == [290, 1500, 1800]
    # Wall a loses what is dropped: 4000 x 2680 less 1800 x 300.
    assert made["wall:a"].area_m2 == pytest.approx((4000 * 2680 - 1800 * 300) / 1e6)
    cornice = trims(dropped(), TrimKind.CORNICE)
    # Two on the sides of the drop, the flat ceiling's five walls less the corner, the drop's two.
    assert sum(r.length for r in cornice.values()) == pytest.approx(
        2 * (5000 + 4000) + 2 * 3300 - 3300
    )


def test_a_part_that_is_not_lined_leaves_its_sides_bare() -> None:
    of = dropped()
    of = heights_parts.set_part(of, "a", lined=False)
    made = faces(of)
    assert not [k for k in made if k.startswith("step:") or k == "ceiling:a"]
    bare = [e for e in made["ceiling"].edges if e.other == "" and e.kind is EdgeKind.ANGLE]
    assert sum(math.dist(e.a, e.b) for e in bare) == pytest.approx(3300)


def test_a_raised_part_has_its_sides_under_the_higher_ceiling() -> None:
    """A coffer 1000 square, 200 up: four sides of 1000 x (200 - 10)."""
    ring = ((2000.0, 1500.0), (2000.0, 2500.0), (3000.0, 2500.0), (3000.0, 1500.0))
    of = heights.drop_part(room(5000, 4000, 2400, joists=(joists(0, 600),)), ring, 2600.0)
    sides = [s for k, s in faces(of).items() if k.startswith("step:")]
    assert [s.region.bounds for s in sides] == [(0, 2400, 1000, 2590)] * 4
    assert {e.kind for s in sides for e in s.edges if e.a[0] == e.b[0]} == {EdgeKind.ANGLE}


def test_a_ridge_beam_hangs_between_the_slopes_lined_or_bare() -> None:
    """A strip 300 wide under a ridge at 3843.4, its underside at 3600: each slope ends 150 off
    the middle at 3843.3757 - 150 x tan 30 = 3756.7731, so both its sides are 156.773 of framing."""
    of = heights.strip(gable(), "a", 3600, 300, 2350)
    made = faces(of)
    beam = made["ceiling:c"]
    assert beam.region.bounds == pytest.approx((2350, 0, 2650, 4000))
    sides = [s for k, s in made.items() if k.startswith("step:c")]
    assert len(sides) == 2
    down = 10 / math.cos(math.radians(30))
    for side in sides:
        assert side.outline.bounds[1] == pytest.approx(3600)
        assert side.outline.bounds[3] == pytest.approx(3756.7731 - down, abs=1e-3)
    assert faults_of(as_data(chain(project(of)))) == []
    bare = faces(heights_parts.set_part(of, "c", lined=False))
    assert "ceiling:c" not in bare
    assert not [k for k in bare if k.startswith("step:")]
    assert faults_of(as_data(chain(project(heights_parts.set_part(of, "c", lined=False))))) == []


def test_a_joist_over_several_planes_keeps_its_number_on_each() -> None:
    """Joists along x at 600 from y = 0: the dropped corner up to 1800 has the first two, and the
    third stands on its edge; the rest of the flat ceiling has all six."""
    made = faces(dropped())

    def numbers(key: str) -> set[str]:
        kinds = [s for s in made[key].supports if s.kind is SupportKind.JOIST]
        return {s.id.rstrip("abc") for s in kinds}

    assert numbers("ceiling:a") >= {"z-1", "z-2"}
    assert numbers("ceiling") == {f"z-{n}" for n in range(1, 7)}
    of = heights.ridge(room(4000, 5000, 2400, joists=(joists(90, 600),)), "b", 2400, 3400)
    near, far = (faces(of)[key].supports for key in ("ceiling:a", "ceiling:b"))
    # Rafters on both sides of the ridge: seen up each slope one side counts from the right.
    assert [s.id for s in near if s.kind is SupportKind.JOIST] == [
        f"z-{n}" for n in range(6, 0, -1)
    ]
    assert [s.id for s in far if s.kind is SupportKind.JOIST] == [f"z-{n}" for n in range(1, 7)]


# --- stairs, columns, bulkheads ----------------------------------------------------------------


def test_a_stair_soffit_falls_by_rise_and_going() -> None:
    """175 / 250 is 34.992 degrees; 3000 long it falls 2100, from 2500 to 400."""
    pitch = math.degrees(math.atan2(175, 250))
    assert pitch == pytest.approx(34.992, abs=1e-3)
    of = heights.soffit(room(900, 3000, 2500, joists=(joists(90, 300),)), "d", 2500, pitch)
    assert heights_corners.corner_heights(of) == pytest.approx((2500, 400, 400, 2500), abs=1e-3)
    made = faces(of)
    assert made["ceiling:a"].region.bounds[3] == pytest.approx(math.hypot(3000, 2100), abs=1e-3)
    assert made["wall:b"].region.bounds[3] == pytest.approx(
        400 - 10 / math.cos(math.radians(pitch))
    )
    assert faults_of(as_data(chain(project(of)))) == []


def test_a_soffit_down_to_the_floor_leaves_no_low_wall() -> None:
    """2100 over 3000 from 2100: it meets the floor at the end; the wall there has nothing."""
    pitch = math.degrees(math.atan2(2100, 3000))
    of = heights.soffit(room(900, 3000, 2100, joists=(joists(90, 300),)), "d", 2100, pitch)
    made = develop(of, setting())
    assert "wall:b" not in {s.key for s in made.surfaces}
    assert "RB115" in {f.code for f in made.findings}
    side = next(s for s in made.surfaces if s.key == "wall:a")
    assert len(side.outline.outer) == 3
    assert faults_of(as_data(chain(project(of)))) == []


def test_columns_and_bulkheads_reach_up_to_a_slope() -> None:
    """A column 300 square at y 1500 to 1800: its sides end at 2400 + y / 3, less the board."""
    column = Column(
        id="k",
        outline=((1000.0, 1500.0), (1000.0, 1800.0), (1300.0, 1800.0), (1300.0, 1500.0)),
    )
    bulkhead = Bulkhead(id="x", wall="d", left=0, length=1000, depth=400, drop=250, right_free=True)
    of = lean_to(columns=(column,), bulkheads=(bulkhead,))
    made = faces(of)
    down = 10 * 3794.7332 / 3600
    tops = sorted(
        round(max(p[1] for p in s.outline.outer), 3)
        for k, s in made.items()
        if k.startswith("column:")
    )
    assert tops == pytest.approx([2400 + 500 - down, *[2400 + 600 - down] * 3], abs=1e-3)
    # Its underside hangs 250 under the lowest place over it, at the wall; its face goes on up.
    face = made["bulkhead:x:face"]
    assert face.placing.origin[2] == pytest.approx(2400 - down - 250, abs=1e-3)
    assert face.outline.bounds[3] == pytest.approx(250 + 400 / 3, abs=1e-3)
    assert faults_of(as_data(chain(project(of)))) == []


def test_sizes_to_finished_faces_move_a_slope_out_square_to_itself() -> None:
    """10 of board on the ceiling is 10.5409 upright on this slope; 10 on each wall."""
    finished = replace(
        room(3980, 3580, 2400, joists=(joists(90, 600),)),
        ceiling_parts=(
            CeilingPart(
                id="a",
                height=2400.0,
                at=(0.0, 0.0),
                rise_deg=90.0,
                pitch_deg=math.degrees(math.atan(1 / 3)),
            ),
        ),
    )
    with_ = setting(heights_are=HeightsAre.FINISHED)
    made = {s.key: s for s in develop(finished, with_).surfaces}
    _, v0, _, v1 = made["ceiling:a"].region.bounds
    assert v1 - v0 == pytest.approx(3600 * 1.0540926, abs=1e-2)
    low = made["wall:d"]
    # At the frame, 10 further out than the finished wall, the lining is 10 / 3 lower.
    assert low.outline.bounds[3] == pytest.approx(2400 - 10 / 3, abs=1e-2)


def test_a_hole_in_a_ceiling_out_of_level_lies_over_its_place_in_plan() -> None:
    """A ceiling out of level both ways: x 1 in 100, y 3 in 400; a hatch of 600 x 900 stays in line.

    On the true face its sides are 600 x sqrt(1 + 0.01^2) and 900 x sqrt(1 + 0.0075^2) long, and its
    area is 0.54 m2 x sqrt(1 + 0.01^2 + 0.0075^2).
    """
    of = heights_corners.by_corners(
        room(
            4000,
            4000,
            2400,
            joists=(joists(90, 600),),
            openings=(
                Opening(
                    id="H",
                    kind=OpeningKind.HATCH,
                    host="ceiling",
                    left=1900,
                    bottom=1000,
                    width=600,
                    height=900,
                ),
            ),
        ),
        (2400, 2430, 2470, 2440),
    )
    (face,) = [s for s in develop(of, setting()).surfaces if s.place == "ceiling"]
    (hole,) = face.openings
    slope = covers(of)[0].slope
    assert not slope.is_flat
    corners = sorted(tuple(round(c) for c in slope.to_plan(p)) for p in hole.region.outer)
    assert corners == [(1900, 1000), (1900, 1900), (2500, 1000), (2500, 1900)]
    sides = sorted(distance(a, b) for a, b in hole.region.segments)
    across, along = 600 * math.hypot(1, 0.01), 900 * math.hypot(1, 0.0075)
    assert sides == pytest.approx([across, across, along, along], abs=0.05)
    assert hole.region.area_mm2 == pytest.approx(
        540000 * math.sqrt(1 + 0.01**2 + 0.0075**2), abs=60
    )
    assert faults_of(as_data(chain(project(of)))) == []


def test_a_hole_on_a_slope_askew_to_its_walls_is_a_rhomboid() -> None:
    """Rising 3 in 4 at 45 degrees: a hole 800 square in plan keeps its level diagonal.

    The diagonal up the slope is 1.25 times as long, 1131.371 becoming 1414.214, and the area too.
    """
    hole = Opening(
        id="H", kind=OpeningKind.HATCH, host="ceiling", left=500, bottom=500, width=800, height=800
    )
    of = replace(
        room(3000, 3000, 2400, joists=(joists(90, 600),), openings=(hole,)),
        ceiling_parts=(
            CeilingPart(
                id="a",
                height=2400.0,
                at=(0.0, 0.0),
                rise_deg=45.0,
                pitch_deg=math.degrees(math.atan(0.75)),
            ),
        ),
    )
    face = next(s for s in develop(of, setting()).surfaces if s.place == "ceiling")
    u0, v0, u1, v1 = face.openings[0].region.bounds
    assert (u1 - u0, v1 - v0) == pytest.approx((1131.371, 1414.214), abs=0.01)
    assert face.openings[0].region.area_mm2 == pytest.approx(640000 * 1.25, abs=60)
    assert faults_of(as_data(chain(project(of)))) == []


# --- what is said --------------------------------------------------------------------------------


def test_work_at_height_is_a_caution_that_names_the_highest_place() -> None:
    findings = chain(project(lean_to())).findings
    found = next(f for f in findings if f.code == "RB603")
    assert dict(found.params)["top"] == pytest.approx(3600)
    flat = chain(project(room(4000, 3000, 2400, joists=(joists(90, 600),)))).findings
    assert "RB603" not in {f.code for f in flat}


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (CeilingPart(id="a", height=2000.0, pitch_deg=40.0, rise_deg=270.0), "through the floor"),
        (
            CeilingPart(id="a", height=2000.0, outline=((9e3, 9e3), (9e3, 9.1e3), (9.1e3, 9e3))),
            "outside the room",
        ),
        (CeilingPart(id="a", height=2000.0, pitch_deg=85.0), "between 0 and 80"),
    ],
)
def test_a_part_that_cannot_be_is_said_and_left_out(part: CeilingPart, words: str) -> None:
    of = replace(room(4000, 3000, 2400, joists=(joists(90, 600),)), ceiling_parts=(part,))
    made = develop(of, setting())
    assert made.surfaces[0].key == "ceiling"
    said = next(f for f in made.findings if f.code == "RB114")
    assert words in said.text


def test_a_window_under_a_rake_is_measured_against_the_ceiling_over_it() -> None:
    """Wall a rises from 2400: at 3000 along it there is 3400 of height, at 300 only 2500."""

    def window(left: float) -> Opening:
        return Opening(
            id="W",
            kind=OpeningKind.WINDOW,
            host="a",
            left=left,
            bottom=2000,
            width=500,
            height=900,
        )

    assert not develop(replace(lean_to(), openings=(window(3000),)), setting()).findings
    said = develop(replace(lean_to(), openings=(window(300),)), setting()).findings
    assert [f.code for f in said] == ["RB102"]
    assert dict(said[0].params)["over"] == pytest.approx(2900 - 2500)


def test_no_framing_given_over_a_slope_means_rafters_up_it() -> None:
    of = heights.rake(room(4000, 3600, 2400), "d", 2400, 3600)
    made = develop(of, setting())
    said = next(f for f in made.findings if f.code == "RB104")
    assert "rafters up the slope" in said.text
    ceiling = next(s for s in made.surfaces if s.key == "ceiling:a")
    assert ceiling.zones[0].direction_deg == 90.0


def test_the_whole_of_each_of_these_rooms_is_sound() -> None:
    for of in (lean_to(), gable(), dropped(), heights.split_flat(gable(), 3000)):
        assert faults_of(as_data(chain(project(of)))) == []
