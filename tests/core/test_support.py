"""Edges with nothing to fix to, and the timber they ask for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.joints import JointKind
from roomboard.core.plane import Region
from roomboard.core.project import AtChange, ButtsAt, SheetDirection, SurfaceChoice, WallKind
from roomboard.core.support import Trimmer, TrimmerReason
from tests.rooms import Opening, OpeningKind, joists, room, setting, walls, worked

WIDE = {"sheet_widths": (1200.0,)}


def by_reason(trimmers: tuple[Trimmer, ...]) -> dict[TrimmerReason, float]:
    total: dict[TrimmerReason, float] = {}
    for t in trimmers:
        total[t.reason] = total.get(t.reason, 0.0) + t.length
    return total


def test_walls_along_the_joists_get_a_trimmer_and_walls_across_do_not():
    of = room(3580, 3040, joists=(joists(90, 450),))
    out = worked(of, "ceiling", setting(**WIDE))
    assert [(t.a, t.b) for t in out.trimmers] == [
        ((0, 0), (0, 3040)),
        ((3580, 0), (3580, 3040)),
    ]
    # The timber stands beside the wall, under the board: its centre half a face inside.
    assert [t.centre_a[0] for t in out.trimmers] == [22.5, 3557.5]
    assert all(not t.two_sided and not t.nogging for t in out.trimmers)


@pytest.mark.parametrize(
    ("first", "needed"),
    [
        (22.5, False),  # face 0 to 45: the fastener stands 10 to 16 in, on it
        (60.0, False),  # face 37.5 to 82.5: the edge overhangs by less than the pack lets it
        (120.0, True),  # face 97.5 to 142.5: out of reach
    ],
)
def test_how_near_a_joist_must_stand_to_a_wall(first: float, needed: bool):
    of = room(
        3600,
        2400,
        joists=(
            joists(
                90,
                450,
                positions=(first, 450.0, 900.0, 1350.0, 1800.0, 2250.0, 2700.0, 3150.0, 3577.5),
            ),
        ),
    )
    out = worked(of, "ceiling", setting(**WIDE))
    assert bool(out.trimmers) is needed


def test_a_hatch_between_joists_gets_trimmers_on_the_two_other_sides():
    hatch = Opening(
        id="H",
        kind=OpeningKind.HATCH,
        host="ceiling",
        left=922.5,
        bottom=1000,
        width=405,
        height=600,
    )
    of = room(3600, 2400, joists=(joists(90, 450),), openings=(hatch,))
    out = worked(of, "ceiling", setting(**WIDE))
    own = [t for t in out.trimmers if t.reason is TrimmerReason.HATCH]
    assert sorted((t.a[1], t.length) for t in own) == [(1000, 405), (1600, 405)]
    assert all(t.nogging for t in own)
    # The timber stands outside the hole.
    assert sorted(t.centre_a[1] for t in own) == [977.5, 1622.5]


def test_a_light_asks_for_no_timber():
    light = Opening(
        id="L",
        kind=OpeningKind.LIGHT,
        host="ceiling",
        left=1000,
        bottom=1000,
        width=200,
        height=200,
    )
    of = room(3600, 2400, joists=(joists(90, 450),), openings=(light,))
    reasons = by_reason(worked(of, "ceiling", setting(**WIDE)).trimmers)
    assert set(reasons) == {TrimmerReason.WALL_ALONG_JOISTS}


def test_sheets_along_the_joists_leave_their_long_joints_bare():
    """Joists along x at 450: joints at 1200 and 2400 (2.67 and 5.33 bays) hang in the air."""
    of = room(
        5400,
        3600,
        joists=(joists(0, 450),),
        choices=(SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG),),
    )
    out = worked(of, "ceiling", setting(**WIDE))
    reasons = by_reason(out.trimmers)
    assert reasons[TrimmerReason.EDGE_OFF_SUPPORT] == pytest.approx(10800)
    assert reasons[TrimmerReason.WALL_ALONG_JOISTS] == pytest.approx(10800)
    # At 600 the joints land on joists, and only the walls are left.
    wide = replace(of, joists=(joists(0, 600),))
    reasons = by_reason(worked(wide, "ceiling", setting(**WIDE)).trimmers)
    assert set(reasons) == {TrimmerReason.WALL_ALONG_JOISTS}


def test_a_back_blocked_butt_hangs_free_by_intent():
    of = room(7800, 2400, joists=(joists(90, 600),))
    out = worked(of, "ceiling", setting(**WIDE, butts=ButtsAt.MID_BAY))
    assert {j.kind for j in out.joints if j.kind.is_butt} == {JointKind.BUTT_BACK_BLOCKED}
    assert set(by_reason(out.trimmers)) == {TrimmerReason.WALL_ALONG_JOISTS}


def test_a_butt_with_no_member_near_asks_for_a_nogging_and_then_stands_on_it():
    of = room(6000, 2400, joists=(joists(90, 0, positions=(22.5, 5977.5)),))
    out = worked(
        of, "ceiling", setting("us", sheet_widths=(48 * 25.4,), sheet_lengths=(96 * 25.4,))
    )
    ends = [t for t in out.trimmers if t.reason is TrimmerReason.END_OFF_SUPPORT]
    assert ends
    assert all(t.two_sided for t in ends)
    butts = [j for j in out.joints if j.kind.is_butt]
    assert {j.kind for j in butts} == {JointKind.BUTT_FRAMED}
    assert {j.support for j in butts} <= {t.tag for t in ends}


TURNED = room(
    6000,
    3600,
    joists=(
        replace(joists(90, 450, first=300.0), id="A", outline=Region.box(0, 0, 3600, 3600).outer),
        replace(joists(0, 600), id="B", outline=Region.box(3600, 0, 6000, 3600).outer),
    ),
)


def test_battening_covers_the_zone_the_sheets_are_carried_over():
    choice = SurfaceChoice(surface="ceiling", at_change=AtChange.BATTEN)
    out = worked(replace(TURNED, choices=(choice,)), "ceiling", setting(**WIDE))
    battens = [t for t in out.trimmers if t.reason is TrimmerReason.BATTENING]
    # 2400 of zone B at no more than 450: six bays, seven battens of 3600.
    assert len(battens) == 7
    assert all(t.length == pytest.approx(3600) for t in battens)
    bare = [t for t in out.trimmers if t.reason is not TrimmerReason.BATTENING]
    assert {(t.a[0], t.b[0]) for t in bare} == {(0, 0)}


def test_carrying_on_without_battens_is_never_silent():
    choice = SurfaceChoice(surface="ceiling", at_change=AtChange.CARRY)
    out = worked(replace(TURNED, choices=(choice,)), "ceiling", setting(**WIDE))
    assert "RB207" in {f.code for f in out.set_out.findings}
    # In zone B the long joints at 1200 and 2400 lie on joists; nothing is bare but the walls.
    assert TrimmerReason.EDGE_OFF_SUPPORT not in by_reason(out.trimmers)


def test_framed_walls_hold_every_edge():
    door = Opening(
        id="D", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040
    )
    window = Opening(
        id="W", kind=OpeningKind.WINDOW, host="b", left=3000, bottom=900, width=1500, height=1200
    )
    of = room(5400, 3000, 2410, joists=(joists(90, 450),), openings=(door, window))
    for key in ("wall:a", "wall:b", "wall:c", "wall:d"):
        assert worked(of, key, setting()).trimmers == ()


def test_an_open_side_along_the_joists_needs_timber_at_once_in_reach():
    a, b, c, d = walls(4)
    of = room(
        3600, 2400, walls=(replace(a, kind=WallKind.OPEN), b, c, d), joists=(joists(90, 450),)
    )
    out = worked(of, "ceiling", setting(**WIDE))
    assert (0, 0) in {(t.a[0], t.b[0]) for t in out.trimmers}
