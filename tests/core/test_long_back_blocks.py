"""Back-blocks no sheet is large enough for are set out as several; what is left over is said."""

from dataclasses import replace

import pytest

from roomboard.core.fixings.set_out import set_out_fixings, usable_sheets
from roomboard.core.project import ButtsAt, Choices, JoistZone
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import project, room, setting, worked


def wide_bays(*places, **more):
    """A room of 6000 x 3311 whose joists, along x, leave wide bays; sheets to 3050 get in."""
    zone = JoistZone(id="z", direction_deg=0, positions=places, face=45.0)
    return room(6000, 3311, joists=(zone,), carry_in=3050.0, **more)


def test_blocks_wider_than_any_sheet_are_parted_across_the_joint():
    # The bay from 300 + 22.5 to 3100 - 22.5 is 2755 clear: a block is 2755 - 2 x 2 = 2751 (au-nz:
    # clearance 2). A butt in a course of 1350 asks for 1350 + 50 + 50, more at a recessed joint:
    # wider than any sheet (1350), so each is two parts of half the width less half a clearance.
    found = worked(wide_bays(300.0, 3100.0), "ceiling", setting(butts=ButtsAt.MID_BAY))
    blocks = [b for b in found.fixings.back_blocks if b.length == 2751]
    assert blocks
    assert all(b.width <= 1350 for b in blocks)
    by_joint = {}
    for b in blocks:
        by_joint.setdefault(b.joint, []).append(b)
    pairs = [parts for parts in by_joint.values() if len(parts) > 1]
    assert pairs  # behind the courses of 1350; a narrower course has one
    for parts in pairs:
        assert len(parts) == 2
        assert parts[0].width == pytest.approx(parts[1].width)
        spans = sorted((min(v), max(v)) for v in ([c[0] for c in p.corners] for p in parts))
        assert spans[1][0] - spans[0][1] == pytest.approx(2)  # they hang loose


def one_wide_bay(carry_in):
    """A room of 3700 x 5000: from 100 + 22.5 to 3600 - 22.5 nothing crosses the long joints."""
    zone = JoistZone(id="z", direction_deg=90, positions=(100.0, 3600.0), face=45.0)
    return room(3700, 5000, carry_in=carry_in, joists=(zone,))


def test_a_block_longer_than_any_sheet_is_parted_end_to_end():
    # 3455 clear, so 3451 for a block behind each recessed joint. Where sheets to 3050 get in
    # (au-nz: 3000 is the longest of those) it is two of (3451 - 2) / 2 = 1724.5, 2 apart.
    at = setting()
    board = at.board("", "ceiling")
    assert max(long for long, _ in usable_sheets(board, Choices(), 3050.0)) == 3000
    whole = worked(one_wide_bay(0.0), "ceiling", at)
    assert {b.length for b in whole.fixings.back_blocks} == {3451}
    limited = set_out_fixings(
        replace(whole.surface, carry_in=3050.0),
        whole.set_out,
        whole.joints,
        board,
        at.choices,
        at.practice,
    )
    assert {b.length for b in limited.back_blocks} == {1724.5}
    assert len(limited.back_blocks) == 2 * len(whole.fixings.back_blocks)
    ends = sorted(c[0] for b in limited.back_blocks[:2] for c in b.corners)
    assert ends[4] - ends[3] == pytest.approx(2)


def test_a_block_behind_a_butt_in_a_bay_wider_than_any_sheet_stands_round_its_joint():
    # The bay is 3451 and the longest sheet 3000: the block reaches 1500 to each side of the butt.
    found = worked(one_wide_bay(3050.0), "ceiling", setting(butts=ButtsAt.MID_BAY))
    joints = {j.id: j for j in found.joints}
    blocks = [b for b in found.fixings.back_blocks if b.length == 3000]
    assert blocks
    for block in blocks:
        xs = [c[0] for c in block.corners]
        at = joints[block.joint].a[0]
        assert (at - min(xs), max(xs) - at) == (1500, 1500)


@pytest.mark.parametrize("butts", [ButtsAt.MID_BAY, ButtsAt.AUTO])
@pytest.mark.parametrize("places", [(300.0, 3100.0), (100.0, 3300.0), (450.0, 1700.0, 2950.0)])
def test_every_block_is_cut_from_something(places, butts):
    job = worked_out(project(wide_bays(*places), choices=Choices(butts=butts)))
    assert job.cut_plan.unplaced == ()
    assert faults_of(as_data(job)) == []


def test_a_block_that_no_sheet_yields_is_said_and_the_checker_asks_for_it():
    # Two rooms: the first holds most of the board, and sheets of 2400 are all that gets into it;
    # its blocks come from those. Nothing else could be wrong, so take the finding away to see.
    job = worked_out(project(wide_bays(300.0, 3100.0), choices=Choices(butts=ButtsAt.MID_BAY)))
    data = as_data(job)
    block = data["rooms"][0]["surfaces"][0]["back_blocks"][0]["id"]
    data["unplaced"].append(f"room/{block}")
    assert [f for f in faults_of(data) if "unplaced" in f]
    data["findings"].append(
        {
            **data["findings"][0], "code": "RB501", "title": "Piece fits no stock sheet",
            "place": {"room": "room", "surface": "room/ceiling", "item": block, "line": [],
                      "words": ""},
        }
    )  # fmt: skip
    assert not [f for f in faults_of(data) if "unplaced" in f]
