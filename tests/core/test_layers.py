"""Linings of two layers: joints kept off, longer screws, one set of trims, worked by hand."""

from dataclasses import replace

import pytest

from roomboard.core.fixings import fastener_length
from roomboard.core.project import Choices, FrameKind, Method, SheetDirection, SurfaceChoice
from roomboard.core.scheme import work_out_room
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import joists, project, room, setting, walls

WIDE_1200 = {"sheet_widths": (1200.0,)}


def twice(x=4000, y=3000, height=2700.0, overhead=1, **more):
    """A room whose wall A has two layers."""
    own = (replace(walls(4)[0], layers=2), *walls(4)[1:])
    return room(
        x, y, height=height, walls=own, joists=(joists(90, 450),), ceiling_layers=overhead, **more
    )


def layers_of(of, key="wall:a", with_=None):
    scheme = work_out_room(of, with_ or setting(**WIDE_1200))
    return [s for s in scheme.surfaces if s.surface.key in {key, f"{key}.L2"}]


def level_lines(scheme):
    return sorted({j.a[1] for j in scheme.joints if j.a[1] == j.b[1]})


def test_the_second_layer_is_a_face_of_its_own():
    first, second = layers_of(twice())
    assert (first.surface.name, second.surface.name) == ("Wall A", "Wall A, second layer")
    assert {p.mark[:2] for p in first.set_out.pieces} == {"WA"}
    assert {p.mark[:3] for p in second.set_out.pieces} == {"2WA"}
    assert second.surface.area_m2 == first.surface.area_m2
    # The first goes up first.
    assert max(p.hang for p in first.set_out.pieces) < min(p.hang for p in second.set_out.pieces)


def test_long_joints_keep_the_packs_distance():
    # 2700 high, 10 mm board overhead: 10 to 2690. The first layer: 1200 + 1200 + 280, joints at
    # 1210 and 2410. au-nz: 300 apart at least (common practice).
    first, second = layers_of(twice())
    assert level_lines(first) == [1210, 2410]
    apart = min(abs(a - b) for a in level_lines(first) for b in level_lines(second))
    assert apart >= 300
    assert not [f for f in work_out_room(twice(), setting(**WIDE_1200)).findings
                if f.code == "RB223"]  # fmt: skip


def test_butts_keep_the_packs_distance():
    # The first layer of a ceiling of 6000 in sheets to 4200 has butts on joists at 450 centres;
    # those of the second layer stand at least 300 off each it crosses.
    of = twice(x=6000, overhead=2)
    first, second = layers_of(of, "ceiling", setting(sheet_lengths=(4200.0,), **WIDE_1200))
    assert first.set_out.butts
    assert second.set_out.butts
    for butt in second.set_out.butts:
        for other in first.set_out.butts:
            if min(butt.t1, other.t1) - max(butt.t0, other.t0) > 1:
                assert abs(butt.s - other.s) >= 300


def test_where_it_cannot_keep_off_it_says_so():
    # Sheets 1200 wide in a figure changed to 700: a line always lies within 600 of one of the
    # first layer's, at 1200 centres.
    far = setting(overrides=(("layers.offset_edges", 700.0),), **WIDE_1200)
    of = twice(height=5000.0)
    said = [f for f in work_out_room(of, far).findings if f.code == "RB223"]
    assert said
    assert all(f.found < 700 for f in said)


def test_screws_go_through_both_layers():
    # au-nz: 19 mm into timber. One layer of 10: 29; two: 39, which the stock has as 41.
    pack = setting().practice
    assert fastener_length(10, "screw", FrameKind.TIMBER, pack) == 29
    assert fastener_length(20, "screw", FrameKind.TIMBER, pack) == 39
    job = worked_out(project(twice(), choices=Choices(method=Method.FASTENERS, **WIDE_1200)))
    lengths = {q.name for q in job.quantities if q.code.startswith("screws")}
    assert any("41" in name for name in lengths)
    single = worked_out(
        project(replace(twice(), walls=walls(4)), choices=Choices(method=Method.FASTENERS))
    )
    assert not any("41" in q.name for q in single.quantities if q.code.startswith("screws"))


def test_the_second_layer_is_fastened_and_not_glued_and_needs_no_blocks():
    first, second = layers_of(twice(x=9000, y=6000, overhead=2), "ceiling", setting())
    assert first.fixings.daubs
    assert not second.fixings.daubs
    assert second.fixings.fasteners
    assert not second.fixings.back_blocks


def test_trims_are_listed_once():
    # A square of wall and ceiling angles: 2 x (4 + 3) = 14 m of cornice, whatever the layers.
    for overhead in (1, 2):
        scheme = work_out_room(twice(overhead=overhead), setting())
        cornice = sum(t.length for t in scheme.trims if t.kind == "cornice")
        assert cornice == pytest.approx(14000)


def test_walls_end_under_both_layers_of_the_ceiling():
    one, _ = layers_of(twice())
    two, _ = layers_of(twice(overhead=2))
    assert one.surface.outline.bounds[3] == 2700 - 10
    assert two.surface.outline.bounds[3] == 2700 - 20


def test_timber_added_for_the_first_layer_serves_the_second():
    # Walls at x = 0 and 4000 run with the joists: two trimmers, once.
    first, second = layers_of(twice(overhead=2), "ceiling", setting())
    assert {t.reason for t in first.trimmers} == {"wall_along_joists"}
    assert second.trimmers == ()


@pytest.mark.parametrize("overhead", [1, 2])
@pytest.mark.parametrize("direction", [SheetDirection.ACROSS, SheetDirection.ALONG])
@pytest.mark.parametrize(("x", "height"), [(4000, 2700.0), (7300, 2420.0), (4000, 3900.0)])
def test_the_checker_agrees(overhead, direction, x, height):
    choice = SurfaceChoice(surface="wall:a", direction=direction)
    of = twice(x=x, height=height, overhead=overhead, choices=(choice,))
    data = as_data(worked_out(project(of)))
    assert faults_of(data) == []


def test_the_checker_notices_a_joint_over_another():
    data = as_data(worked_out(project(twice(), choices=Choices(**WIDE_1200))))
    first, second = (
        next(s for s in data["rooms"][0]["surfaces"] if s["key"] == key)
        for key in ("wall:a", "wall:a.L2")
    )
    assert faults_of(data) == []
    first["joints"], second["joints"] = second["joints"], second["joints"]
    assert any(f.startswith("layers") for f in faults_of(data))


def test_the_framing_of_two_layers_is_packed_once():
    """Two joists, one reading each: one schedule, on the face that lies on them."""
    found = work_out_room(
        replace(
            twice(overhead=2),
            joists=(joists(0.0, 600.0, positions=(300.0, 900.0), depths=((0.0,), (6.0,))),),
        ),
        setting(),
    )
    packed = [s.surface.ref for s in found.surfaces if s.packing]
    assert packed == ["room/ceiling"]
    assert [f.code for f in found.findings].count("RB310") == 1
