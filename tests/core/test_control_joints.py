"""Control joints by the pack's limits, where they suit; bands in which no joint may run.

The au-nz pack allows 12 m between control joints inside, walls and ceilings (DPI reference text
April 2009, clause 9.8, seen). Places worked by hand.
"""

from dataclasses import replace

import pytest

from roomboard.core.control_joints import places_for, split_by, suggested
from roomboard.core.develop import develop
from roomboard.core.editing import EditError, heights
from roomboard.core.editing.controls import (
    add_controls,
    control_places,
    drop_control,
    move_control,
    set_band,
    set_controls,
)
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.frame_sizes import framed
from roomboard.core.joints import JointKind
from roomboard.core.plane import Region
from roomboard.core.project import (
    Axis,
    Choices,
    ControlLine,
    HeightsAre,
    JoistZone,
    NoJointBand,
    SheetDirection,
    SurfaceChoice,
)
from roomboard.core.scheme import work_out_room
from roomboard.core.trims import TrimKind
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import Opening, OpeningKind, joists, project, room, setting, walls, worked

U, V = Axis.U, Axis.V


def surface(of, key="ceiling", with_=None):
    return next(s for s in develop(of, with_ or setting()).surfaces if s.key == key)


def asked_for(of, key="ceiling", with_=None):
    found = suggested(of, surface(of, key, with_), (with_ or setting()).practice)
    return [(c.axis, c.at) for c in found]


def chosen(of, *lines, key="ceiling", **more):
    controls = tuple(ControlLine(axis=a, at=x) for a, x in lines)
    return replace(of, choices=(SurfaceChoice(surface=key, controls=controls, **more),))


# --- where ------------------------------------------------------------------------------


@pytest.mark.parametrize(("length", "number"), [(12000, 0), (12001.5, 1), (24000, 1), (24010, 2)])
def test_as_few_as_the_pack_allows(length, number):
    # ceil(12.0 / 12) - 1 = 0, ceil(12.0015 / 12) - 1 = 1, ceil(24 / 12) - 1 = 1, then 2.
    of = room(length, 4000, joists=(joists(90, 600),))
    assert len(asked_for(of)) == number


def test_on_a_member_nearest_to_even_parts():
    # 20 m: one joint; joists along y at 450 from 450: 9900 = 22 x 450 and 10350 = 23 x 450 lie
    # either side of the middle at 10000. Squares of the parts: 9900 and 10100 are more alike.
    of = room(20000, 4000, joists=(joists(90, 450),))
    assert asked_for(of) == [(U, 9900)]


def test_where_the_framing_turns_comes_before_a_member():
    left = JoistZone(
        id="p", outline=((0, 0), (0, 4000), (8000, 4000), (8000, 0)), direction_deg=90,
        spacing=450, face=45,
    )  # fmt: skip
    right = replace(
        left, id="q", outline=((8000, 0), (8000, 4000), (20000, 4000), (20000, 0)), direction_deg=0
    )
    # 8000 leaves 8 m and 12 m: within the limit, and the joists turn there.
    assert asked_for(room(20000, 4000, joists=(left, right))) == [(U, 8000)]


def test_at_a_doorway_before_a_member():
    door = Opening(
        id="D", kind=OpeningKind.DOOR, host="b", left=8500, bottom=0, width=820, height=2040
    )
    of = room(20000, 4000, joists=(joists(90, 450),), openings=(door,))
    # Jambs at 8500 and 9320 of wall B, which runs along x from x = 0. 9320 | 10680 are more alike.
    assert asked_for(of) == [(U, 9320)]
    assert asked_for(of, "wall:b") == [(U, 9320)]


def test_where_the_room_narrows():
    ell = replace(
        room(20000, 6000, joists=(joists(90, 450),)),
        outline=((0.0, 0.0), (0.0, 6000.0), (11000.0, 6000.0), (11000.0, 3000.0),
                 (20000.0, 3000.0), (20000.0, 0.0)),
    )  # fmt: skip
    assert asked_for(replace(ell, walls=walls(6))) == [(U, 11000)]


def test_an_area_over_the_limit_is_parted_the_longer_way():
    # US pack: 50 ft each way and 2500 ft2 with perimeter relief; without, 30 ft and 900 ft2.
    # A ceiling of 29 x 32 ft = 928 ft2 needs a joint for its 32 ft, on a joist near 16 ft.
    of = room(29 * 304.8, 32 * 304.8, joists=(joists(0, 406.4),))
    with_ = setting("us")
    found = asked_for(of, with_=with_)
    assert [axis for axis, _ in found] == [V]
    ((_, at),) = found
    assert at % 406.4 == pytest.approx(0, abs=0.1) or at % 406.4 == pytest.approx(406.4, abs=0.1)
    assert abs(at - 16 * 304.8) <= 406.4 / 2 + 0.1


def test_places_are_in_order_and_inside():
    of = room(20000, 4000, joists=(joists(90, 450),))
    found = places_for(of, surface(of), U)
    assert [p.at for p in found] == sorted({p.at for p in found})
    assert all(0 < p.at < 20000 for p in found)


# --- set out ----------------------------------------------------------------------------


def test_a_line_parts_a_region_with_a_hole_and_loses_nothing():
    whole = Region.of(
        [(0, 0), (900, 0), (900, 600), (0, 600)], [[(300, 200), (600, 200), (600, 400), (300, 400)]]
    )
    parts = split_by(whole, [ControlLine(axis=U, at=450), ControlLine(axis=V, at=100)])
    assert sum(p.area_mm2 for p in parts) == whole.area_mm2 == 900 * 600 - 300 * 200
    assert len(parts) == 4  # the strips under the hole are cut off from those round it


def test_sheets_stop_at_it_and_a_bead_bridges_it():
    of = chosen(room(20000, 4000, joists=(joists(90, 450),)), (U, 9900))
    scheme = work_out_room(of, setting())
    ceiling = scheme.surfaces[0]
    assert all(p.region.bounds[2] <= 9900 or p.region.bounds[0] >= 9900 for p in
               ceiling.set_out.pieces)  # fmt: skip
    control = [j for j in ceiling.joints if j.kind is JointKind.CONTROL]
    assert sum(j.length for j in control) == pytest.approx(4000)
    assert {j.support for j in control} == {"z-22"}  # the joist at 22 x 450
    (bead,) = [t for t in scheme.trims if t.kind is TrimKind.CONTROL_BEAD]
    assert (bead.id, bead.length) == ("CB1", 4000)
    codes = [f.code for f in scheme.findings if f.place.surface == "room/ceiling"]
    assert "RB210" not in codes
    assert "RB220" in codes


def test_one_that_leaves_too_much_is_still_said_with_where_the_next_would_stand():
    of = chosen(room(20000, 4000, joists=(joists(90, 450),)), (U, 4500))
    scheme = work_out_room(of, setting())
    (said,) = [
        f for f in scheme.findings if f.code == "RB210" and f.place.surface.endswith("ceiling")
    ]
    # 15 500 is left; half of it is 7750 from 4500: 12 250; the joist at 27 x 450 = 12 150.
    assert said.found == 15500
    assert dict(said.params)["place1"] == 12150


def test_a_line_off_the_framing_asks_for_timber():
    of = chosen(room(6000, 4000, joists=(joists(90, 450),)), (U, 3000))
    found = worked(of, "ceiling", setting())
    # 3000 lies 300 from the joist at 2700 and 150 from that at 3150: ends need timber there.
    assert any(t.a[0] == t.b[0] == 3000 and t.two_sided for t in found.trimmers)


def test_the_order_has_the_bead():
    job = worked_out(project(chosen(room(20000, 4000, joists=(joists(90, 450),)), (U, 9900))))
    (line,) = [q for q in job.quantities if q.code.startswith("control_joint")]
    # 4 m of joint from lengths of 3 m (au-nz stock): two.
    assert dict(line.inputs) == {"lengths": 2, "metres": 4}


@pytest.mark.parametrize("lines", [[(U, 9900)], [(V, 2000)], [(U, 9900), (V, 1500)]])
@pytest.mark.parametrize("direction", [SheetDirection.ACROSS, SheetDirection.ALONG])
def test_the_checker_agrees_and_notices_a_sheet_across(lines, direction):
    of = chosen(room(20000, 4000, joists=(joists(90, 450),)), *lines, direction=direction)
    data = as_data(worked_out(project(of)))
    assert faults_of(data) == []
    face = data["rooms"][0]["surfaces"][0]
    face["controls"][0]["at"] += 77
    assert any(f.startswith("control") for f in faults_of(data))


def test_one_that_lies_outside_after_a_change_is_said():
    of = chosen(room(6000, 4000, joists=(joists(90, 450),)), (U, 7000))
    codes = [f.code for f in work_out_room(of, setting()).findings]
    assert "RB110" in codes


# --- editing ----------------------------------------------------------------------------


def test_placed_moved_and_taken_out_by_edits():
    of = room(20000, 4000, joists=(joists(90, 450),))
    of = add_controls(of, surface(of), suggested(of, surface(of), setting().practice))
    assert control_places(surface(of), U) == (9900,)
    of = move_control(of, surface(of), surface(of).controls[0], 10350)
    assert control_places(surface(of), U) == (10350,)
    of = set_controls(of, surface(of), V, [2000])
    assert [c.axis for c in surface(of).controls] == [U, V]
    for line in surface(of).controls:
        of = drop_control(of, surface(of), line)
    assert of.choices == ()
    with pytest.raises(EditError, match="outside Ceiling"):
        set_controls(of, surface(of), U, [20000])


def test_a_mirrored_room_has_them_on_the_other_side():
    of = mirror_room(chosen(room(20000, 4000, joists=(joists(90, 450),)), (U, 9900), (V, 1000)))
    assert [(c.axis, c.at) for c in of.choice("ceiling").controls] == [(U, 10100), (V, 1000)]


def test_a_turned_room_has_them_turned():
    # A quarter turn takes (x, y) to (4000 - y, x): x = 9900 becomes y = 9900, y = 1000 x = 3000.
    of = turn_room(chosen(room(20000, 4000, joists=(joists(90, 450),)), (U, 9900), (V, 1000)))
    assert [(c.axis, c.at) for c in of.choice("ceiling").controls] == [(U, 3000), (V, 9900)]


def test_a_band_is_set_replaced_and_taken_away():
    of = set_band(room(4000, 3000), "a", (1300.0, 1150.0))
    assert of.bands == (NoJointBand(id="n1", host="a", low=1150, high=1300),)
    of = set_band(of, "a", (1000.0, 1200.0))
    assert [(b.low, b.high) for b in of.bands] == [(1000, 1200)]
    assert set_band(of, "a", ()).bands == ()
    for wrong in ((1000.0,), (1000.0, 1000.0), (-5.0, 100.0), (1.0, 2.0, 3.0)):
        with pytest.raises(EditError, match="two heights"):
            set_band(of, "a", wrong)


# --- bands ------------------------------------------------------------------------------


def stair(low, high, **more):
    band = NoJointBand(id="n1", host="a", low=low, high=high)
    return room(4000, 3000, height=2700.0, bands=(band,), joists=(joists(90, 450),), **more)


WIDE_1200 = {"sheet_widths": (1200.0,)}


def level_joints(found):
    return sorted({j.a[1] for j in found.joints if j.kind is JointKind.RECESSED})


def test_courses_are_set_out_past_a_band():
    # au-nz: gap at the floor 10. Without a band courses of 1200 from the bottom put joints at
    # 1210 and 2410. With a band from 1150 to 1300 the joint goes to a side of it.
    assert level_joints(worked(stair(2695, 2699), "wall:a", setting(**WIDE_1200))) == [1210, 2410]
    found = worked(stair(1150, 1300), "wall:a", setting(**WIDE_1200))
    assert not [v for v in level_joints(found) if 1150 < v < 1300]
    assert not [f for f in found.set_out.findings if f.code == "RB221"]
    assert {1150, 1300} & set(level_joints(found))


def test_a_band_too_high_to_pass_is_said():
    # A band of 1500 is higher than any sheet is wide: some joint must run in it.
    found = worked(stair(600, 2100), "wall:a", setting(**WIDE_1200))
    assert [f.code for f in found.set_out.findings if f.code == "RB221"]


def test_butts_of_upright_sheets_keep_off_a_band():
    of = replace(
        stair(2300, 2500), height=4500.0,
        choices=(SurfaceChoice(surface="wall:a", direction=SheetDirection.ALONG),),
    )  # fmt: skip
    found = worked(of, "wall:a", setting(sheet_lengths=(2400.0,), **WIDE_1200))
    level = {round(b.s) for b in found.set_out.butts}
    assert level
    assert not [v for v in level if 2300 < v < 2500]


@pytest.mark.parametrize(("low", "high"), [(1150, 1300), (600, 2100), (1209, 1211), (2400, 2600)])
def test_the_checker_agrees_on_bands(low, high):
    data = as_data(worked_out(project(stair(low, high), choices=Choices(**WIDE_1200))))
    assert faults_of(data) == []
    face = next(s for s in data["rooms"][0]["surfaces"] if s["key"] == "wall:a")
    joint = next(j for j in face["joints"] if j["a"][1] == j["b"][1])
    face["bands"][0] |= {"low": joint["a"][1] - 5, "high": joint["a"][1] + 5}
    data["findings"] = [f for f in data["findings"] if f["code"] != "RB221"]
    assert any(f.startswith("bands") for f in faults_of(data))


@pytest.mark.parametrize("height", [2420.0, 3000.0, 3900.0])
@pytest.mark.parametrize("direction", list(SheetDirection))
def test_pieces_of_a_parted_wall_bear_marks_of_their_own(height, direction):
    of = chosen(
        room(20000, 4000, height=height), (U, 6600), (U, 13200), key="wall:b", direction=direction
    )
    data = as_data(worked_out(project(of)))
    assert faults_of(data) == []
    face = next(s for s in data["rooms"][0]["surfaces"] if s["key"] == "wall:b")
    marks = [p["mark"] for p in face["pieces"]]
    assert len(set(marks)) == len(marks)


# --- mirrored and turned ----------------------------------------------------------------


def _areas_between(of, place="ceiling"):
    """The areas that control joints part each plane of a ceiling into, m2, each plane in order."""
    return sorted(
        sorted(round(p.area_mm2 / 1e6, 4) for p in split_by(s.outline, s.controls))
        for s in develop(of, setting()).surfaces
        if s.place == place
    )


def test_control_joints_on_a_slope_follow_a_mirrored_and_a_turned_room():
    # 4000 x 3600, 2400 to 3600: the slope is 3794.733 long. A joint 1000 from its left side and
    # one 2000 up it part it into 1.0 x 2.0, 3.0 x 2.0, 1.0 x 1.794733 and 3.0 x 1.794733.
    raked = heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)
    (part,) = raked.ceiling_parts
    of = chosen(raked, (U, 1000), (V, 2000), key=f"ceiling:{part.id}")
    assert _areas_between(of) == [[1.7947, 2.0, 5.3842, 6.0]]
    for change in (mirror_room, turn_room, lambda r: turn_room(r, 2)):
        assert _areas_between(change(of)) == [[1.7947, 2.0, 5.3842, 6.0]]
    # Seen in a mirror the joint lies 4000 - 1000 from the left, and as far up.
    (choice,) = mirror_room(of).choices
    assert [(c.axis, c.at) for c in choice.controls] == [(U, 3000), (V, 2000)]
    assert mirror_room(mirror_room(of)).choices == of.choices
    assert turn_room(of).choices == of.choices


def test_mirrored_joints_of_finished_sizes_stay_as_far_from_the_frame():
    """Sizes to finished faces, 10 mm of board on each wall: 3980 is 4000 in the frame.

    A joint 1000 from the left of the framing lies 4000 - 1000 from it in the mirror, not 3980 -
    1000; on wall A, 3580 long as measured and 3600 in the frame, one at 900 comes to 2700.
    """
    with_ = setting(heights_are=HeightsAre.FINISHED)
    raked = heights.rake(room(3980, 3580, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)
    (part,) = raked.ceiling_parts
    slope, wall = (
        chosen(raked, (U, 1000), key=f"ceiling:{part.id}"),
        chosen(raked, (U, 900), key="wall:a"),
    )
    of = replace(slope, choices=(*slope.choices, *wall.choices))
    assert surface(of, "wall:a", with_).outline.bounds[2] == pytest.approx(3600)
    mirrored = mirror_room(of, framed(of, with_))
    assert [[(c.axis, c.at) for c in x.controls] for x in mirrored.choices] == [
        [(U, 3000)],
        [(U, 2700)],
    ]
    for key in (f"ceiling:{part.id}", "wall:a"):
        before, after = (surface(r, key, with_) for r in (of, mirrored))
        assert sorted(p.area_mm2 for p in split_by(after.outline, after.controls)) == pytest.approx(
            sorted(p.area_mm2 for p in split_by(before.outline, before.controls)), abs=60
        )
    again = mirror_room(mirrored, framed(mirrored, with_))
    assert again.choices == of.choices


def test_a_room_that_cannot_be_worked_out_is_mirrored_as_measured():
    with_ = setting(heights_are=HeightsAre.FINISHED)
    of = chosen(room(20000, 4000, ceiling_board="none such"), (U, 9900))
    assert framed(of, with_) == of
    assert mirror_room(of, framed(of, with_)).choice("ceiling").controls[0].at == 10100


def test_control_joints_on_a_dropped_part_follow_in_plan():
    ring = ((0.0, 0.0), (0.0, 1800.0), (1500.0, 1800.0), (1500.0, 0.0))
    of = heights.drop_part(room(5000, 4000, 2700, joists=(joists(0, 600),)), ring, 2400.0)
    (part,) = of.ceiling_parts
    of = chosen(of, (U, 500), key=f"ceiling:{part.id}")
    before = _areas_between(of)
    assert [0.9, 1.8] in before  # 0.5 x 1.8 and 1.0 x 1.8
    for change in (mirror_room, turn_room):
        assert _areas_between(change(of)) == before
