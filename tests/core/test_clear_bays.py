"""Hatches, lights and ducts against joists, joints and timber to add.

Worked by hand. The ceiling is 4000 x 3000 with 45 mm joists along y at 450 centres from x = 450:
faces 427.5 to 472.5, 877.5 to 922.5, 1327.5 to 1372.5 ...; between two faces 405 is clear.
"""

from dataclasses import replace

import pytest

from roomboard.core.clear_bays import clear_place_in
from roomboard.core.editing.ceiling_openings import move_ceiling_opening
from roomboard.core.findings import Severity
from roomboard.core.project import Choices, MemberKind
from roomboard.core.scheme import work_out_room
from roomboard.core.support import TrimmerReason
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import Opening, OpeningKind, joists, project, room, setting

HATCH = Opening(
    id="H", kind=OpeningKind.HATCH, host="ceiling", left=800, bottom=1000, width=400, height=500
)
LIGHT = Opening(
    id="L", kind=OpeningKind.LIGHT, host="ceiling", left=850, bottom=1500, width=90, height=90,
    is_round=True,
)  # fmt: skip


def ceiling(*openings, **more):
    zone = joists(90, 450, **more)
    return room(4000, 3000, joists=(zone,), openings=openings)


def said(of, *codes, **choices):
    found = work_out_room(of, setting(**choices)).findings
    return [f for f in found if f.code in codes]


def test_a_hatch_that_cuts_a_joist_stops_and_asks_for_a_competent_person():
    (finding,) = said(ceiling(HATCH), "RB306")
    assert finding.severity is Severity.BLOCK
    assert "competent person" in finding.text
    assert "z-2" in finding.text
    # The hatch is 800 to 1200 over the joist at 900. To its right the bay is clear from 922.5;
    # on whole mm the hatch goes to 923, 123 away; to its left it would have to go to 477.5.
    assert dict(finding.params) == {"away": 123, "first": 923, "second": 1000}


def test_two_joists_are_named_together():
    (finding,) = said(ceiling(replace(HATCH, width=600)), "RB306")
    assert "joists z-2 and z-3" in finding.text
    assert "no bay is wide enough" in finding.text  # 600 is more than 405
    assert finding.params == ()


def test_a_truss_is_never_cut():
    (finding,) = said(ceiling(HATCH, kind=MemberKind.TRUSS), "RB306")
    assert "must never be cut" in finding.text
    assert "competent" not in finding.text
    assert finding.severity is Severity.BLOCK


@pytest.mark.parametrize(("width", "left", "met"), [(405, 922.5, False), (405, 922, True)])
def test_a_hatch_as_wide_as_its_bay_fits_and_half_a_millimetre_off_does_not(width, left, met):
    assert bool(said(ceiling(replace(HATCH, width=width, left=left)), "RB306")) is met


def test_a_hatch_as_wide_as_a_bay_is_put_exactly_there():
    of = ceiling(replace(HATCH, width=405))
    found = clear_place_in(work_out_room(of, setting()), "H", setting().practice)
    # From 922.5 to 1327.5: its middle at 1125; across, its middle stays at 1250.
    assert found.middle == (pytest.approx(1125, abs=0.1), 1250)


def test_moved_there_nothing_more_is_said_and_trimmers_stand_round_it():
    of = ceiling(replace(HATCH, left=830))
    found = clear_place_in(work_out_room(of, setting()), "H", setting().practice)
    assert found.middle == (923 + 200, 1250)
    moved = move_ceiling_opening(of, "H", found.middle)
    scheme = work_out_room(moved, setting())
    assert not [f for f in scheme.findings if f.code == "RB306"]
    timber = [t for t in scheme.surfaces[0].trimmers if t.reason is TrimmerReason.HATCH]
    # Its sides along y stand 0.5 from one joist and 4.5 from the next: they are at timber. Its
    # sides along x, at y = 1000 and 1500, hang between the joists: a trimmer for each.
    assert sorted(t.a[1] for t in timber) == [1000, 1500]
    assert {t.length for t in timber} == {400}


def test_an_opening_keeps_off_its_neighbour_and_the_walls():
    # The bay to the right of the joist is taken by another hatch, 923 to 1323, over the same
    # stretch: the nearest place is along that bay, past it, or in the bay to the left. Left:
    # 477.5 is 322.5 away (477, 323); along y: past 1500 + 0 -> 500 up and 123 across = 515.
    other = replace(HATCH, id="H2", left=923)
    of = ceiling(replace(HATCH, left=800, bottom=1000, width=120), other)
    found = clear_place_in(work_out_room(of, setting()), "H", setting().practice)
    # A narrow hatch, 800 to 920: to the left of the joist at 877.5 it ends, so it begins at 757.
    assert found.middle == (757 + 60, 1250)
    assert found.away == pytest.approx(43)


def test_a_light_on_a_joist_is_moved_clear_of_it_by_the_packs_figure():
    (finding,) = said(ceiling(LIGHT), "RB306")
    assert finding.severity is Severity.BLOCK
    # 90 across, 850 to 940 on the joist 877.5 to 922.5; 25 clear (au-nz, common practice): it
    # ends at 852.5 or begins at 947.5. To the left it goes to 762.5, on whole mm 762: 88 away;
    # to the right to 947.5, on whole mm 948: 98 away.
    found = clear_place_in(work_out_room(ceiling(LIGHT), setting()), "L", setting().practice)
    assert found.middle == (762 + 45, 1545)
    assert dict(finding.params)["away"] == 88


@pytest.mark.parametrize(("left", "apart"), [(757.5, 30), (762.5, 25), (782.5, 5), (787.5, 0)])
def test_a_light_close_to_a_joist_is_noted_by_the_packs_figure(left, apart):
    # The joist's face is at 877.5 and the light 90 across: from 782.5 it leaves 5 to it. The pack
    # (au-nz, common practice) keeps 25; at 25 exactly nothing is said. Its bay is 405 wide.
    found = said(ceiling(replace(LIGHT, left=left)), "RB312", "RB306")
    if apart >= 25:
        assert not found
        return
    (finding,) = found
    assert (finding.code, finding.severity) == ("RB312", Severity.NOTE)
    assert (finding.found, finding.required) == (pytest.approx(apart, abs=0.1), 25)
    assert finding.source is not None
    assert "joist z-2" in finding.text
    # Clear of it by 25 its middle is at 807.5; on whole mm it begins at 762: 807 with its half.
    assert dict(finding.params)["away"] == pytest.approx(left - 762)


def test_a_hatch_is_framed_and_may_stand_at_a_joist():
    assert not said(ceiling(replace(HATCH, left=923)), "RB312")


def test_a_light_in_a_joint_between_sheets_is_said():
    # Sheets run along x in courses of 1200: the joint lies at y = 1200, through a light there.
    only = {"sheet_widths": (1200.0,), "sheet_lengths": (4200.0,)}
    of = ceiling(replace(LIGHT, left=1050, bottom=1155))
    (finding,) = said(of, "RB219", **only)
    assert finding.severity is Severity.NOTE
    found = clear_place_in(work_out_room(of, setting(**only)), "L", setting(**only).practice)
    # 25 clear of the joint: its middle 45 + 25 = 70 from 1200, so 1130 or 1270; both 70 away.
    assert found.middle in {(1095, 1130), (1095, 1270)}
    moved = move_ceiling_opening(of, "L", found.middle)
    assert not said(moved, "RB219", "RB306", **only)


def test_a_light_where_a_trimmer_goes_is_said():
    # The wall at x = 0 runs with the joists, 450 from the first: a trimmer goes along it.
    of = ceiling(replace(LIGHT, left=10, bottom=1500))
    (finding,) = said(of, "RB309")
    assert finding.severity is Severity.WARNING
    assert "T1" in finding.text


def test_a_hatch_clear_of_everything_goes_unsaid():
    assert not said(ceiling(replace(HATCH, left=930, width=390)), "RB306", "RB309", "RB219")


def test_the_checker_agrees():
    job = worked_out(project(ceiling(replace(HATCH, left=925), LIGHT), choices=Choices()))
    assert faults_of(as_data(job)) == []
