"""Members that lie in no plane: packers by hand, least packing, battening out."""

import random
from dataclasses import replace
from itertools import combinations

import pytest

from roomboard.core.editing import EditError, heights
from roomboard.core.editing.depths import set_depths, set_packed_to
from roomboard.core.editing.members import add_member, remove_member
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.packing_out import Packing, packings, plane_under
from roomboard.core.project import PackTo
from roomboard.core.scheme import work_out_room
from roomboard.drawing.carpentry import packing_table
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import joists, project, room, setting


def old(depths, x=2250, **more):
    """Four joists along y, at 450, 900, 1350 and 1800; 3000 long."""
    return room(x, 3000, joists=(joists(90, 450, depths=depths, **more),))


def packed(of) -> Packing:
    (found,) = work_out_room(of, setting()).surfaces[0].packing
    return found


def by_member(found):
    rows = {}
    for spot in found.spots:
        rows.setdefault(spot.member, []).append(spot.thickness)
    return rows


def test_a_level_plane_lies_at_the_lowest_reading():
    # Readings 4 7 | 0 3 | 9 9 | 2 6: the lowest is 0, so each is its own packer.
    found = packed(old(((4, 7), (0, 3), (9, 9), (2, 6)), packed_to=PackTo.LEVEL))
    assert by_member(found) == {"z-1": [4, 7], "z-2": [0, 3], "z-3": [9, 9], "z-4": [2, 6]}
    assert (found.level, found.falls, found.most, found.total) == (0, (0, 0), 9, 40)
    assert [s.at for s in found.spots[:2]] == [0, 3000]
    assert found.spots[1].point == (450, 3000)


def test_members_in_a_tilted_plane_need_no_packing():
    # 1 mm up for each joist and 5 along each: a plane already. It rises 1 in 450 along x, which
    # is 2.222 in a metre, and 5 in 3000 along y, 1.667: a fall of as much below nothing.
    found = packed(old(((0, 5), (1, 6), (2, 7), (3, 8))))
    assert found.packers == ()
    assert found.falls == pytest.approx((-2.222, -1.667), abs=1e-3)


def test_one_low_joist_sets_the_plane_and_the_others_are_packed():
    # One reading for each joist: 6, 0, 6, 6. Under all four the straight line that stands highest
    # in the middle (x = 1125) goes through joist 2 (900, 0) and joist 4 (1800, 6): at 450 it is at
    # -3, at 1350 at 3. Packers 9, 0, 3, 0: 12 in all. Level they would be 6 + 6 + 6 = 18.
    found = packed(old(((6,), (0,), (6,), (6,))))
    assert by_member(found) == {"z-1": [9], "z-2": [0], "z-3": [3], "z-4": [0]}
    level = packed(old(((6,), (0,), (6,), (6,)), packed_to=PackTo.LEVEL))
    assert (found.total, level.total) == (12, 18)


def test_packers_are_as_thick_as_the_packs_steps():
    # au-nz: whole mm. 0.4 is none, 0.5 is 1, 2.6 is 3.
    found = packed(old(((0,), (0.4,), (0.5,), (2.6,)), packed_to=PackTo.LEVEL))
    assert [s.thickness for s in found.spots] == [0, 0, 1, 3]


def by_triples(spots):
    """Every plane through three spots that lies under all: the least packing there is."""
    mean = [sum(s[i] for s in spots) / len(spots) for i in range(3)]
    best = None
    for a, b, c in combinations(spots, 3):
        du1, dv1, dz1 = (b[i] - a[i] for i in range(3))
        du2, dv2, dz2 = (c[i] - a[i] for i in range(3))
        det = du1 * dv2 - du2 * dv1
        if abs(det) < 1:
            continue
        su, sv = (dz1 * dv2 - dz2 * dv1) / det, (du1 * dz2 - du2 * dz1) / det
        if all(z >= a[2] + su * (u - a[0]) + sv * (v - a[1]) - 1e-9 for u, v, z in spots):
            height = a[2] + su * (mean[0] - a[0]) + sv * (mean[1] - a[1])
            best = height if best is None else max(best, height)
    return best


@pytest.mark.parametrize("seed", range(12))
def test_no_plane_under_all_takes_less_packing(seed):
    # Linear programming has its best at a corner: here a plane on three spots. All are tried.
    chance = random.Random(seed)  # noqa: S311 - no secret depends on it
    spots = [(450.0 * i, 1000.0 * j, chance.uniform(0, 25)) for i in range(5) for j in range(4)]
    level, slope_u, slope_v = plane_under(spots, PackTo.LEAST)
    assert level == pytest.approx(by_triples(spots), abs=1e-3)
    mid_u, mid_v = 900.0, 1500.0
    assert all(
        z >= level + slope_u * (u - mid_u) + slope_v * (v - mid_v) - 1e-6 for u, v, z in spots
    )


def test_much_packing_suggests_battens():
    # au-nz: more than 20 mm of packing (common practice); a batten 35 deep; 10 mm board across its
    # supports on a ceiling reaches 600 in this pack's table.
    of = old(((0,), (28,), (0,), (0,)), packed_to=PackTo.LEVEL)
    found = {f.code: f for f in work_out_room(of, setting()).findings}
    assert "RB310" in found
    params = dict(found["RB311"].params)
    assert (params["most"], params["limit"], params["depth"]) == (28, 20, 28 + 35)
    row = setting().practice.framing_row(
        thickness=10, grades=("ceiling",), place="ceiling", orientation="across", method="adhesive"
    )
    assert params["centres"] == row.max_centres
    flat = old(((0,), (20,), (0,), (0,)), packed_to=PackTo.LEVEL)
    assert "RB311" not in {f.code for f in work_out_room(flat, setting()).findings}


def test_readings_that_do_not_match_the_members_are_said():
    of = old(((0,), (3,), (0,)))
    found = {f.code: f for f in work_out_room(of, setting()).findings}
    assert "has 4 members, but depth readings for 3" in found["RB116"].text
    assert work_out_room(of, setting()).surfaces[0].packing == ()
    assert "RB116" in {
        f.code for f in work_out_room(old(((0,), (), (0,), (1,))), setting()).findings
    }


def test_readings_under_a_slope_are_not_taken_for_packers():
    raked = heights.rake(old(((4,), (0,), (9,), (2,))), "d", 2400, 3600)
    scheme = work_out_room(raked, setting())
    assert [s.packing for s in scheme.surfaces if s.surface.place == "ceiling"] == [()]
    (said,) = [f for f in scheme.findings if f.code == "RB116"]
    assert "not packed: z-1, z-2, z-3, z-4." in said.text


def test_beside_a_dropped_part_only_whole_members_are_packed_by_their_own_numbers():
    # Joists along x at 600 to 3600 over 5000 x 4000. The corner up to x = 1500, y = 1900 is
    # dropped: joists 1 to 3 (600, 1200, 1800) run over both parts; 4 to 6 lie whole over the flat
    # one. Their readings 7, 2, 5 packed to a level plane: 2 is the lowest, so 5, 0 and 3.
    ring = ((0.0, 0.0), (0.0, 1900.0), (1500.0, 1900.0), (1500.0, 0.0))
    zone = joists(0, 600, depths=((1,), (1,), (1,), (7,), (2,), (5,)), packed_to=PackTo.LEVEL)
    of = heights.drop_part(room(5000, 4000, 2700, joists=(zone,)), ring, 2400.0)
    scheme = work_out_room(of, setting())
    (found,) = [p for s in scheme.surfaces for p in s.packing]
    assert by_member(found) == {"z-4": [5], "z-5": [0], "z-6": [3]}
    (said,) = [f for f in scheme.findings if f.code == "RB116"]
    assert "not packed: z-1, z-2, z-3." in said.text
    assert faults_of(as_data(worked_out(project(of)))) == []


def test_without_readings_nothing_is_packed():
    of = old(())
    assert packings(of, work_out_room(of, setting()).surfaces[0].surface, setting().practice) == ()
    assert not {"RB116", "RB310", "RB311"} & {f.code for f in work_out_room(of, setting()).findings}


def test_the_file_says_the_packers_and_the_checker_agrees():
    data = as_data(worked_out(project(old(((4, 7), (0, 3), (9, 9), (2, 6))))))
    assert faults_of(data) == []
    packing = data["rooms"][0]["surfaces"][0]["packing"][0]
    packing["spots"][0]["thickness"] += 4
    assert any(f.startswith("packing") for f in faults_of(data))


def test_an_infeasible_stagger_names_its_three_remedies():
    # Joists at 600 and 5400 only, 6000 long, sheets to 5400 at most and every butt on framing: all
    # courses butt at one of two joists, 600 or 5400, and pieces of 600 or 5400 serve; with three
    # courses and one shut joist the butts stand in line.
    zone = joists(90, 0, positions=(3000.0,))
    of = replace(room(6000, 2400), joists=(zone,))
    scheme = work_out_room(of, setting(sheet_lengths=(3000.0,), sheet_widths=(1200.0,)))
    (said,) = [f for f in scheme.findings if f.code == "RB202" and "Ceiling" in f.text]
    words = " ".join(said.remedies)
    for remedy in ("nogging", "floating butt", "three pieces"):
        assert remedy in words


# --- editing and paper ------------------------------------------------------------------


def test_readings_are_set_member_by_member_and_follow_the_members():
    of = set_depths(set_depths(old(()), "z", 1, (0.0, 3.0)), "z", 3, (2.0,))
    assert of.joists[0].depths == ((), (0, 3), (), (2,))
    assert remove_member(of, "z", 0).joists[0].depths == ((0, 3), (), (2,))
    assert add_member(of, "z", 1000.0).joists[0].depths == ((), (0, 3), (), (), (2,))
    assert set_packed_to(of, "z", PackTo.LEVEL).joists[0].packed_to is PackTo.LEVEL
    assert set_depths(set_depths(of, "z", 1, ()), "z", 3, ()).joists[0].depths == ()
    with pytest.raises(EditError, match="has 4 members"):
        set_depths(of, "z", 4, (1.0,))


@pytest.mark.parametrize("change", [mirror_room, turn_room, lambda r: turn_room(r, 2)])
@pytest.mark.parametrize("direction", [0.0, 90.0])
def test_packers_stay_with_their_members_when_the_room_is_mirrored_or_turned(change, direction):
    rows = ((4.0, 7.0), (0.0, 3.0), (9.0, 9.0), (2.0, 6.0))
    of = room(2250, 2250, joists=(joists(direction, 450, depths=rows),))
    before, after = packed(of), packed(change(of))
    assert sorted(s.thickness for s in before.spots) == sorted(s.thickness for s in after.spots)
    assert before.total == after.total


def test_the_carpenters_sheet_lists_each_packer():
    job = worked_out(project(old(((4, 7), (0, 3), (9, 9), (2, 6)), packed_to=PackTo.LEVEL)))
    rows = packing_table(job.rooms, job.project.units).rows
    assert rows == (
        ("Room",),
        ("z-1", "0: 4, 3000: 7"),
        ("z-2", "3000: 3"),
        ("z-3", "0: 9, 3000: 9"),
        ("z-4", "0: 2, 3000: 6"),
    )
