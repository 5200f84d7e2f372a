"""Walls and ceilings lined in part, and linings that are kept, worked by hand.

Wall A is 3000 long in a room 2420 high with 10 mm board on the ceiling (au-nz): its lining reaches
from the gap of 10 at the floor to 2410 under the ceiling board.
"""

import math
from dataclasses import replace

import pytest

from roomboard.core.develop import develop
from roomboard.core.editing import EditError, heights
from roomboard.core.editing.linings import keep_lining, set_unlined
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.editing.walls import insert_corner, set_wall_length
from roomboard.core.optimum.ways import ways_for
from roomboard.core.project import (
    Axis,
    Choices,
    ControlLine,
    KeptPart,
    NoJointBand,
    SheetDirection,
    SpecialZone,
    SurfaceChoice,
    ZoneKind,
    clockwise,
)
from roomboard.core.scheme import work_out_room
from roomboard.core.surface import EdgeKind
from roomboard.core.trims import TrimKind
from roomboard.storage.project_file import read, write
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import Opening, OpeningKind, joists, project, room, setting


def with_kept(*parts, **more):
    return room(4000, 3000, joists=(joists(90, 450),), kept=tuple(parts), **more)


def part(host="a", left=0, bottom=0, width=3000, height=1200, **more):
    given = {"left": left, "bottom": bottom, "width": width, "height": height}
    return KeptPart(id="k1", host=host, **given, **more)


def faces(of, key):
    return [s for s in develop(of, setting()).surfaces if s.key.partition(".")[0] == key]


def test_a_wall_lined_above_a_kept_dado():
    (face,) = faces(with_kept(part()), "wall:a")
    assert face.region.bounds == face.outline.bounds == (0, 1200, 3000, 2410)
    assert face.area_m2 == pytest.approx(3.0 * 1.21)
    (low,) = [e for e in face.edges if e.other == "kept:k1"]
    assert (low.kind, low.a, low.b) == (EdgeKind.FREE, (0, 1200), (3000, 1200))
    assert not [e for e in face.edges if e.kind is EdgeKind.FLOOR]


def test_a_wall_lined_over_part_of_its_length():
    (face,) = faces(with_kept(part(left=1800, width=1200, height=2420, kept=False)), "wall:a")
    assert face.region.bounds == (0, 10, 1800, 2410)
    assert [e.other for e in face.edges if e.kind is EdgeKind.FREE] == ["bare:k1"]


def test_a_kept_strip_in_the_middle_divides_the_wall():
    parted = faces(with_kept(part(left=1000, width=500, height=2420)), "wall:a")
    assert [s.key for s in parted] == ["wall:a", "wall:a.2"]
    assert [s.region.bounds for s in parted] == [(0, 10, 1000, 2410), (1500, 10, 3000, 2410)]
    assert [s.outline.bounds for s in parted] == [(0, 10, 1000, 2410), (1500, 10, 3000, 2410)]


def test_a_wall_kept_whole_is_no_face():
    assert faces(with_kept(part(height=2420)), "wall:a") == []


def test_a_part_off_its_face_is_said_for_all_of_the_face_is_lined():
    def said(of):
        return [f.text for f in develop(of, setting()).findings if f.code == "RB117"]

    past = "Part k1 of Room, which is not to be lined, lies off {}: nothing is left out for it; "
    past += "correct its place or take it away."
    # Wall a is 3000 long; the ceiling is 4000 x 3000 and starts at 0, 0.
    assert said(with_kept(part(left=3000, width=500))) == [past.format("wall A")]
    assert said(with_kept(part("ceiling", 0, 3000, 4000, 500))) == [past.format("the ceiling")]
    assert said(with_kept(part("q"))) == [past.format("wall 'q', which the room does not have")]
    assert said(with_kept(part(left=2999, width=500))) == []
    # What is not lined anyway needs no part taken out of it.
    bare = with_kept(part("ceiling", 0, 3000, 4000, 500))
    assert said(replace(bare, ceiling_lined=False)) == []


def test_part_of_a_ceiling_is_kept():
    (face,) = faces(with_kept(part("ceiling", 0, 2000, 4000, 1000)), "ceiling")
    assert face.region.bounds == (0, 0, 4000, 2000)


def test_a_kept_corner_leaves_an_ell_and_its_inner_sides_are_told():
    (face,) = faces(with_kept(part(width=1000)), "wall:a")
    assert face.area_m2 == pytest.approx(3.0 * 2.4 - 1.0 * 1.19)
    lengths = sorted(
        abs(e.a[0] - e.b[0]) + abs(e.a[1] - e.b[1]) for e in face.edges if e.other == "kept:k1"
    )
    assert lengths == [1000, 1190]


def test_a_door_in_the_kept_part_is_no_hole_any_more():
    door = Opening(
        id="D", kind=OpeningKind.DOOR, host="a", left=100, bottom=0, width=820, height=2040
    )
    (face,) = faces(with_kept(part(width=1000, height=2420), openings=(door,)), "wall:a")
    assert face.openings == ()
    assert face.area_m2 == pytest.approx(2.0 * 2.4)


def test_the_joint_to_the_kept_lining_is_taped_and_said():
    scheme = work_out_room(with_kept(part()), setting())
    (said,) = [f for f in scheme.findings if f.code == "RB222"]
    assert dict(said.params)["length"] == 3000
    assert "asbestos" in said.text
    (tape,) = [t for t in scheme.trims if t.where == "Wall A to the lining kept"]
    assert (tape.kind, tape.length) == (TrimKind.INTERNAL_TAPE, 3000)
    ids = [t.id for t in scheme.trims]
    assert len(set(ids)) == len(ids)
    bare = work_out_room(with_kept(part(kept=False)), setting())
    assert not [f for f in bare.findings if f.code == "RB222"]


CASES = [
    (part(),),
    (part(left=1800, width=1200, height=2420),),
    (part(left=1000, width=500, height=2420),),
    (part(width=1000),),
    (part(bottom=800, left=700, width=900, height=700),),
    (part("ceiling", 0, 2000, 4000, 1000),),
    (part("ceiling", 1500, 1000, 900, 800),),
    (part(), replace(part("b", height=1500, width=4000), id="k2")),
]


@pytest.mark.parametrize("parts", CASES)
@pytest.mark.parametrize("direction", [SheetDirection.ACROSS, SheetDirection.ALONG])
def test_the_checker_agrees(parts, direction):
    choices = tuple(
        SurfaceChoice(surface=key, direction=direction) for key in ("ceiling", "wall:a", "wall:b")
    )
    data = as_data(worked_out(project(with_kept(*parts, choices=choices), choices=Choices())))
    assert faults_of(data) == []


def test_walls_of_one_room_run_either_way_at_once():
    # A and C upright, B and D level: each keeps to its own, and the whole job is sound.
    choices = tuple(
        SurfaceChoice(surface=f"wall:{w}", direction=d)
        for w, d in zip("abcd", [SheetDirection.ALONG, SheetDirection.ACROSS] * 2, strict=True)
    )
    job = worked_out(project(with_kept(choices=choices)))
    ways = {
        s.surface.key: {f.direction_deg for f in s.set_out.fields}
        for s in job.rooms[0].surfaces
        if s.surface.key.startswith("wall")
    }
    assert ways == {"wall:a": {90}, "wall:b": {0}, "wall:c": {90}, "wall:d": {0}}
    assert faults_of(as_data(job)) == []


# --- editing ----------------------------------------------------------------------------


def test_what_is_not_lined_is_set_and_taken_away_by_edits():
    of = set_unlined(room(4000, 3000), "a", (0.0, 0.0, 3000.0, 1200.0))
    assert of.kept == (part(),)
    of = keep_lining(set_unlined(of, "a", (0.0, 0.0, 3000.0, 900.0)), "a", kept=False)
    assert of.kept == (part(height=900, kept=False),)
    assert set_unlined(of, "a", ()).kept == ()
    for wrong in ((1.0, 2.0), (0.0, 0.0, 0.0, 100.0)):
        with pytest.raises(EditError):
            set_unlined(of, "a", wrong)
    with pytest.raises(EditError):
        set_unlined(of, "nowhere", ())


@pytest.mark.parametrize("change", [mirror_room, turn_room, lambda r: turn_room(r, 3)])
def test_what_is_kept_follows_a_mirrored_or_turned_room(change):
    of = with_kept(part(width=1000), replace(part("ceiling", 500, 2000, 900, 700), id="k2"))
    before, after = faces(of, "ceiling")[0], faces(change(of), "ceiling")[0]
    assert after.area_m2 == pytest.approx(before.area_m2) == pytest.approx(12 - 0.63)
    for wall in ("wall:a",):
        one, two = faces(of, wall)[0], faces(change(of), wall)[0]
        assert two.area_m2 == pytest.approx(one.area_m2)
    assert faults_of(as_data(worked_out(project(change(of))))) == []


def test_an_outline_entered_the_other_way_round_keeps_its_parts_where_they_are():
    # Counter-clockwise, wall a runs the other way: what is 0 to 1000 from one end is 2000 to 3000
    # from the other.
    of = with_kept(part(width=1000), choices=(
        SurfaceChoice(surface="wall:a", controls=(ControlLine(axis=Axis.U, at=1800),)),
    ))  # fmt: skip
    turned = clockwise(replace(of, outline=tuple(reversed(of.outline))))
    held = {k.host: k for k in turned.kept}["a"]
    length = turned.wall_length([w.id for w in turned.walls].index("a"))
    assert held.left == length - 1000
    assert [c.at for c in turned.choice("wall:a").controls] == [length - 1800]


# --- zones that follow documents of their own ---------------------------------------------


@pytest.mark.parametrize(("kind", "ways"), [("wet", 1), ("tiled", 1), ("fire", 1), ("garage", 2)])
def test_nothing_is_optimised_where_own_documents_govern(kind, ways):
    # A wall of 4000 x 2700 could start from either side; where a system's own documents say how
    # it is sheeted only the usual way is looked at.
    of = with_kept(height=2700.0, zones=(SpecialZone(id="s", kind=ZoneKind(kind), host="b"),))
    at = setting()
    (face,) = faces(of, "wall:b")
    found = ways_for(face, at.board("", "wall"), at, SurfaceChoice(surface="wall:b"), 8)
    assert (len(found) == 1) is (ways == 1)
    codes = {f.code for f in work_out_room(of, at).findings}
    assert codes & {"RB701", "RB702", "RB704", "RB705"}


def test_what_stands_on_a_wall_follows_when_it_is_reshaped():
    # Wall b, 4000 long from x = 0: a band, a part kept from 1000 to 1500, a control joint at 2500.
    choice = SurfaceChoice(surface="wall:b", controls=(ControlLine(axis=Axis.U, at=2500),))
    of = with_kept(
        part("b", left=1000, width=500),
        bands=(NoJointBand(id="n1", host="b", low=1000, high=1100),),
        choices=(choice,),
    )
    # Its right end goes out to 5000: all stays where it was.
    longer = set_wall_length(of, "b", 5000.0)
    assert [(k.left, k.width) for k in longer.kept] == [(1000, 500)]
    assert [c.at for c in longer.choice("wall:b").controls] == [2500]
    # Shortened to 2000, the joint lies outside and goes; to 1200, the part ends there.
    assert set_wall_length(of, "b", 2000.0).choice("wall:b").controls == ()
    assert [(k.left, k.width) for k in set_wall_length(of, "b", 1200.0).kept] == [(1000, 200)]
    # Parted at 1200: each part keeps the band, and its own share of what is kept.
    parted = insert_corner(of, "b", 1200.0)
    hosts = [b.host for b in parted.bands]
    assert len(hosts) == len(set(hosts)) == 2
    shares = {k.host: (k.left, k.width) for k in parted.kept}
    assert sorted(shares.values()) == [(0, 300), (1000, 200)]
    assert read(write(project(parted))).project is not None


# --- under ceilings that are not flat ---------------------------------------------------


def kept_over(of, left, bottom, width, height):
    return replace(of, kept=(part("ceiling", left, bottom, width, height),))


def test_a_kept_strip_under_a_slope_is_as_long_on_it_as_the_slope_is():
    # 4000 x 3600, 2400 high at wall d (y = 0) and 3600 at wall b: 1200 up in 3600, so the slope
    # is sqrt(3600^2 + 1200^2) = 3794.733 long. A strip 1000 wide is kept all the way up it.
    raked = heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)
    (face,) = [
        s
        for s in develop(kept_over(raked, 0, 0, 1000, 3600), setting()).surfaces
        if s.place == "ceiling"
    ]
    assert face.region.bounds == pytest.approx((1000, 0, 4000, 3794.733), abs=1e-3)
    assert face.area_m2 == pytest.approx(3.0 * 3.794733, abs=1e-5)
    (side,) = [e for e in face.edges if e.other == "kept:k1"]
    assert {side.a[0], side.b[0]} == {1000}
    assert abs(side.a[1] - side.b[1]) == pytest.approx(3794.733, abs=1e-3)


def test_a_kept_piece_over_a_ridge_is_taken_off_both_slopes():
    # 5000 x 4000 with a ridge over x = 2500 at 30 degrees. What is kept reaches 600 in plan to
    # either side of it: 600 / cos 30 = 692.820 up each slope, over 1000 of its length.
    top = 2400 + 2500 * math.tan(math.radians(30))
    roof = heights.ridge(room(5000, 4000, 2400, joists=(joists(0, 600),)), "a", 2400, top)
    whole = {s.key: s.area_m2 for s in develop(roof, setting()).surfaces if s.place == "ceiling"}
    found = {
        s.key: s
        for s in develop(kept_over(roof, 1900, 1500, 1200, 1000), setting()).surfaces
        if s.place == "ceiling"
    }
    assert set(found) == set(whole)
    for key, face in found.items():
        assert whole[key] - face.area_m2 == pytest.approx(0.692820, abs=1e-5)
        assert {e.other for e in face.edges if e.other.startswith("kept:")} == {"kept:k1"}


def test_what_is_kept_of_a_dropped_part_leaves_the_rest_of_the_ceiling_whole():
    ring = ((0.0, 0.0), (0.0, 1800.0), (1500.0, 1800.0), (1500.0, 0.0))
    of = heights.drop_part(room(5000, 4000, 2700, joists=(joists(0, 600),)), ring, 2400.0)
    areas = {
        s.key: s.area_m2
        for s in develop(kept_over(of, 0, 0, 1500, 800), setting()).surfaces
        if s.place == "ceiling"
    }
    # 5.0 x 4.0 - 1.5 x 1.8 = 17.3 flat; of the part 1.5 x (1.8 - 0.8) = 1.5 is left.
    assert sorted(areas.values()) == pytest.approx([1.5, 17.3])


@pytest.mark.parametrize("box", [(0, 0, 1000, 3600), (700, 900, 1300, 1100), (0, 0, 4000, 3600)])
def test_the_checker_agrees_on_slopes(box):
    raked = heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)
    job = worked_out(project(kept_over(raked, *box), choices=Choices()))
    assert faults_of(as_data(job)) == []


def test_what_is_kept_under_a_slope_follows_a_mirrored_and_a_turned_room():
    raked = heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)
    of = kept_over(raked, 200, 300, 900, 1400)
    areas = [
        sorted(round(s.area_m2, 6) for s in develop(r, setting()).surfaces if s.place == "ceiling")
        for r in (of, mirror_room(of), turn_room(of), turn_room(of, 2))
    ]
    assert areas[0] == areas[1] == areas[2] == areas[3]
    # 4.0 x 3.794733 less 0.9 x 1.4 x 1.054093
    assert areas[0] == [pytest.approx(4 * 3.794733 - 1.26 * 1.054093, abs=1e-4)]
