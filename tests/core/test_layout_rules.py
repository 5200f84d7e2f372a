"""Joints near openings: butts near a side, long joints near a head or sill."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.findings import Finding, Severity
from roomboard.core.project import ButtsAt, Room, SheetDirection, Start, SurfaceChoice
from tests.rooms import Opening, OpeningKind, joists, room, setting, worked

# A wall 5400 long with a door from 900 to 1720, its head at 2040: both board edges are 2400 long.
DOOR = Opening(id="D1", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040)
WIDE = {"sheet_widths": (1200.0,), "floor_gap": 0.0, "butts": ButtsAt.EITHER}


def said(of: Room, code: str, pack: str = "au-nz", **more: object) -> list[Finding]:
    choices = {**WIDE, **more}
    overrides = choices.pop("overrides", ())
    found = worked(of, "wall:b", setting(pack, overrides, **choices)).set_out.findings  # type: ignore[arg-type]
    return [f for f in found if f.code == code]


def with_butt(at: float) -> Room:
    """The wall with a butt joint locked in its top course, over the door."""
    choice = SurfaceChoice(surface="wall:b", start=Start.HIGH, butts=((0, 1, at),))
    return room(5400, 3000, 2410, joists=(joists(90, 450),), openings=(DOOR,), choices=(choice,))


@pytest.mark.parametrize(
    ("at", "apart"),
    [
        # AU-18 (AS/NZS 2589, from memory): a butt joint stands 200 clear of an opening's side.
        (1720.0 + 300, None),
        (1720.0 + 200, None),
        (1720.0 + 199, 199.0),
        (1720.0, 0.0),
        (900.0 - 200, None),
        (900.0 - 150, 150.0),
    ],
)
def test_butts_keep_clear_of_the_sides_of_openings(at: float, apart: float | None):
    found = said(with_butt(at), "RB203")
    assert [f.found for f in found] == ([] if apart is None else [apart])
    for f in found:
        assert f.severity is Severity.WARNING
        assert f.required == 200.0
        assert f.place.item == "D1"
        assert f.source is not None


def test_a_butt_below_an_openings_sill_line_is_not_near_it():
    # A window whose sill is at 1300 does not reach the bottom course, which ends at 1210.
    high = Opening(
        id="W1", kind=OpeningKind.WINDOW, host="b", left=2000, bottom=1300, width=900, height=800
    )
    choice = SurfaceChoice(surface="wall:b", start=Start.HIGH, butts=((0, 2, 2000.0),))
    of = room(5400, 3000, 2410, joists=(joists(90, 450),), openings=(high,), choices=(choice,))
    assert not said(of, "RB203")
    low = replace(of, openings=(replace(high, bottom=1100.0, height=1000.0),))
    assert [f.found for f in said(low, "RB203")] == [0.0]


@pytest.mark.parametrize("at", [2.0, 100.0, 5300.0, 5398.0])
def test_a_butt_locked_near_an_end_leaves_a_short_piece_and_says_so(at: float):
    choice = SurfaceChoice(surface="wall:b", start=Start.HIGH, butts=((0, 1, at),))
    of = room(5400, 3000, 2410, joists=(joists(90, 450),), choices=(choice,))
    out = worked(of, "wall:b", setting(**WIDE)).set_out
    assert at in {b.s for b in out.butts}
    assert {"RB205", "RB213"} <= {f.code for f in out.findings}


def window(sill: float, head: float, kind: OpeningKind = OpeningKind.WINDOW) -> Room:
    opening = Opening(
        id="W1", kind=kind, host="b", left=2000, bottom=sill, width=900, height=head - sill
    )
    return room(5400, 3000, 2410, joists=(joists(90, 450),), openings=(opening,))


@pytest.mark.parametrize(
    ("sill", "head", "apart", "word"),
    [
        # Top 2400 under a 10 mm ceiling, sheets 1200: the long joint runs at 1200.
        (900.0, 2100.0, None, ""),
        (1150.0, 2100.0, None, ""),
        (1151.0, 2100.0, 49.0, "sill"),
        (1200.0, 2100.0, 0.0, "sill"),
        (600.0, 1250.0, None, ""),
        (600.0, 1240.0, 40.0, "head"),
    ],
)
def test_long_joints_keep_clear_of_heads_and_sills(
    sill: float, head: float, apart: float | None, word: str
):
    found = said(window(sill, head), "RB211")
    assert [f.found for f in found] == ([] if apart is None else [apart])
    for f in found:
        assert word in f.text
        assert f.required == 50.0


def test_long_joints_beside_lights_and_upright_sheets_are_not_meant():
    assert not said(window(1180.0, 1260.0, OpeningKind.DUCT), "RB211")
    upright = replace(
        window(1180.0, 2100.0),
        choices=(SurfaceChoice(surface="wall:b", direction=SheetDirection.ALONG),),
    )
    assert not said(upright, "RB211")


def test_the_users_own_figure_counts():
    own = (("opening_level.min", 100.0),)
    assert [f.found for f in said(window(1120.0, 2100.0), "RB211", overrides=own)] == [80.0]
