"""Naming the lines between pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.develop import develop
from roomboard.core.joints import JointKind, Side, name_joints, piece_edges, shared_lines
from roomboard.core.plane import Region
from roomboard.core.project import SheetDirection, SurfaceChoice
from tests.rooms import Opening, OpeningKind, joists, room, setting, worked

WIDE = {"sheet_widths": (1200.0,)}


def metres(out, *kinds: JointKind) -> float:
    return sum(j.length for j in out.joints if j.kind in kinds) / 1000


def test_long_sides_make_recessed_joints_and_ends_make_butts():
    of = room(7800, 2400, joists=(joists(90, 600),))
    out = worked(of, "ceiling", setting(**WIDE))
    assert metres(out, JointKind.RECESSED) == pytest.approx(7.8)
    assert metres(out, JointKind.BUTT_FRAMED, JointKind.BUTT_BACK_BLOCKED) == pytest.approx(2.4)


def test_an_end_that_meets_a_long_edge_is_named():
    of = room(
        6000,
        3600,
        joists=(
            replace(joists(90, 450), id="A", outline=Region.box(0, 0, 3600, 3600).outer),
            replace(joists(0, 600), id="B", outline=Region.box(3600, 0, 6000, 3600).outer),
        ),
    )
    out = worked(of, "ceiling", setting(**WIDE))
    assert metres(out, JointKind.END_TO_RECESS) == pytest.approx(3.6)


def test_after_cutting_the_edge_that_was_really_cut_counts():
    of = room(
        6000,
        3600,
        joists=(
            replace(joists(90, 450), id="A", outline=Region.box(0, 0, 3600, 3600).outer),
            replace(joists(0, 600), id="B", outline=Region.box(3600, 0, 6000, 3600).outer),
        ),
    )
    with_ = setting(**WIDE)
    out = worked(of, "ceiling", with_)
    surface = develop(of, with_).surfaces[0]
    cut = {p.id: ("cut", "cut") for p in out.set_out.pieces}
    kinds = {j.kind for j in name_joints(surface, out.set_out, cut)}
    assert kinds == {JointKind.CUT_EDGE}


def test_a_notch_over_an_opening_is_no_joint():
    door = Opening(
        id="D", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040
    )
    of = room(4200, 3000, 2410, joists=(joists(90, 450),), openings=(door,))
    out = worked(of, "wall:b", setting(**WIDE))
    assert metres(out, JointKind.RECESSED) == pytest.approx(4.2 - 0.82)
    top = next(p for p in out.set_out.pieces if "-T" in p.mark)
    assert Side.NOTCH in {e.side for e in piece_edges(top)}


def test_every_inner_edge_is_shared_exactly_once():
    of = room(5400, 4100, joists=(joists(0, 450),))
    for direction in (SheetDirection.ACROSS, SheetDirection.ALONG):
        choice = SurfaceChoice(surface="ceiling", direction=direction)
        out = worked(replace(of, choices=(choice,)), "ceiling", setting())
        edges = [e for p in out.set_out.pieces for e in piece_edges(p)]
        around = sum(abs(e.a[0] - e.b[0]) + abs(e.a[1] - e.b[1]) for e in edges)
        inner = sum(j.length for j in out.joints)
        assert around == pytest.approx(2 * (5400 + 4100) + 2 * inner)
        assert len(shared_lines(edges)) == len(out.joints)


@pytest.mark.parametrize("lean", [0.0, 1e-6, -1e-6, 9e-7])
def test_sides_that_lean_by_a_hair_still_lie_against_each_other(lean):
    """A butt of 600: one piece's end leans by a millionth of a mm, less than the grid."""
    of = room(7800, 600, joists=(joists(90, 600),))
    left, right = worked(of, "ceiling", setting(**WIDE)).set_out.pieces
    s, (u1, v1) = right.region.bounds[0], right.region.bounds[2:]
    leaning = Region.of([(s - lean, 0.0), (u1, 0.0), (u1, v1), (s, v1)])
    edges = [*piece_edges(left), *piece_edges(replace(right, region=leaning))]
    ((one, two, a, b),) = shared_lines(edges)
    assert {one.piece.mark, two.piece.mark} == {left.mark, right.mark}
    assert abs(b[1] - a[1]) == pytest.approx(600)
