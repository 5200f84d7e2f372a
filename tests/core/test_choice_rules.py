"""What the user chose: names of things that are not there, the floor gap, sheets left out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.findings import Finding, Severity
from roomboard.core.project import (
    Acknowledgement,
    Bulkhead,
    Choices,
    Price,
    Project,
    Room,
    SheetDirection,
    SpecialZone,
    SurfaceChoice,
    ZoneKind,
)
from roomboard.core.rules.choices import comparison_findings
from roomboard.core.scheme import Comparison, work_out, work_out_room
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import Opening, OpeningKind, joists, room, setting, walls

PLAIN = room(4000, 3000, joists=(joists(90, 450),))
BARE = {"walls": walls(4, lined=False)}


def said(of: Room, code: str, pack: str = "au-nz", **project: object) -> list[Finding]:
    job = Project(id="job", name="Job", practice=pack, rooms=(of,), **project)  # type: ignore[arg-type]
    scheme = work_out(job, load_catalogue(pack), load_practice(pack))
    return [f for f in scheme.findings if f.code == code]


def choosing(**choice: object) -> Room:
    return replace(PLAIN, choices=(SurfaceChoice(**choice),))  # type: ignore[arg-type]


# --- RB110: names that stand for nothing ------------------------------------------------------


@pytest.mark.parametrize(
    ("surface", "there"),
    [
        ("ceiling", True),
        ("wall:a", True),
        ("wall:q", False),
        ("floor", False),
        ("bulkhead:k:face", True),
        ("bulkhead:z:face", False),
        ("reveal:b:W1:head", True),
        ("reveal:b:W2:head", False),
    ],
)
def test_a_choice_names_a_surface_of_its_room(surface: str, there: bool):
    window = Opening(
        id="W1", kind=OpeningKind.WINDOW, host="b", left=900, bottom=900, width=900, height=900
    )
    box = Bulkhead(id="k", wall="c", left=0, length=2000, depth=300, drop=300)
    of = replace(choosing(surface=surface), openings=(window,), bulkheads=(box,))
    found = said(of, "RB110")
    assert [f.place.item for f in found] == ([] if there else [surface])
    for f in found:
        assert f.severity is Severity.WARNING
        assert "ceiling, wall:a, wall:b" in f.text


def test_a_wall_that_is_there_but_not_lined_may_be_named():
    of = replace(choosing(surface="wall:a"), walls=walls(4, lined=False))
    assert not said(of, "RB110")


@pytest.mark.parametrize(("host", "there"), [("room", True), ("a", True), ("q", False)])
def test_a_zone_lies_on_something_that_is_there(host: str, there: bool):
    of = replace(PLAIN, zones=(SpecialZone(id="z1", kind=ZoneKind.WET, host=host),))
    assert [f.place.item for f in said(of, "RB110")] == ([] if there else ["z1"])


@pytest.mark.parametrize(
    ("code", "place", "there"),
    [
        ("RB801", "", True),
        ("RB801", "room", True),
        ("RB801", "room/ceiling", True),
        ("RB801", "room/wall:a", True),
        ("RB801", "room/wall:q", False),
        ("RB801", "attic", False),
        ("RB999", "", False),
    ],
)
def test_an_acknowledgement_names_a_finding_and_a_place(code: str, place: str, there: bool):
    read = Acknowledgement(code=code, place=place, name="A. Builder", reason="seen")
    found = said(PLAIN, "RB110", acknowledged=(read,))
    assert len(found) == (not there)
    assert all("A. Builder" in f.text for f in found)


@pytest.mark.parametrize(
    ("item", "there"),
    [
        ("std10-1200x3600", True),
        ("cornice-90", True),
        ("cornice-90:3000", True),
        ("tape", True),
        ("cornice-90:3001", False),
        ("gold", False),
    ],
)
def test_a_price_is_for_something_in_stock(item: str, there: bool):
    found = said(PLAIN, "RB110", prices=(Price(item=item, amount=1.0),))
    assert [f.place.item for f in found] == ([] if there else [item])


# --- RB214: the gap at the floor ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("pack", "gap", "limit"),
    [
        # AU/NZ pack: 6 to 10 mm.
        ("au-nz", 6.0, None),
        ("au-nz", 10.0, None),
        ("au-nz", 5.0, 6.0),
        ("au-nz", 0.0, 6.0),
        ("au-nz", 12.0, 10.0),
        # US pack: 1/4 to 5/8 in.
        ("us", 25.4 / 4, None),
        ("us", 25.4 * 5 / 8, None),
        ("us", 25.4, 25.4 * 5 / 8),
    ],
)
def test_the_gap_at_the_floor_keeps_to_the_pack(pack: str, gap: float, limit: float | None):
    found = said(PLAIN, "RB214", pack, choices=Choices(floor_gap=gap))
    assert [(f.found, f.required) for f in found] == ([] if limit is None else [(gap, limit)])
    assert all(f.source is not None for f in found)


def test_the_packs_own_gap_is_never_outside_it():
    for pack in ("au-nz", "us", "ca", "uk-eu"):
        assert not said(PLAIN, "RB214", pack)


# --- RB216: another way would do better ---------------------------------------------------------


def test_sheets_along_the_joists_are_told_of_the_better_way():
    # Along the joists the board is weaker (RB208); across them nothing is against it.
    of = room(4800, 2400, joists=(joists(90, 450),), **BARE)
    along = replace(of, choices=(SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG),))
    (found,) = said(along, "RB216")
    assert found.severity is Severity.NOTE
    assert "across the supports" in found.remedies[0]
    assert not said(of, "RB216")


def way(name: str, *, chosen: bool = False, **figures: float) -> Comparison:
    """One way of running the sheets, the same as the others but for what is given."""
    usual: dict[str, float] = {
        "sheets": 6,
        "bought_m2": 20.0,
        "butt_m": 1.2,
        "recessed_m": 8.0,
        "end_to_recess_m": 0.0,
        "trimmer_m": 4.0,
        "unsupported_m": 0.0,
        "heaviest_kg": 30.0,
        "breaches": 1,
    }
    return Comparison(surface="room/ceiling", name=name, chosen=chosen, **(usual | figures))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("other", "better"),
    [
        ({}, False),
        ({"sheets": 5}, True),
        ({"breaches": 0}, True),
        ({"sheets": 5, "trimmer_m": 4.1}, False),
        ({"sheets": 5, "butt_m": 2.4}, False),
        ({"sheets": 7, "breaches": 0}, False),
        ({"trimmer_m": 0.0}, False),
        # Ends that meet recessed edges count as a rule broken.
        ({"breaches": 0, "end_to_recess_m": 1.2}, False),
    ],
)
def test_only_a_way_that_is_worse_in_nothing_is_called_better(
    other: dict[str, float], better: bool
):
    of = work_out_room(PLAIN, setting(), compare=False)
    ceiling = replace(of.surfaces[0], comparisons=(way("turn", chosen=True), way("carry", **other)))
    found = comparison_findings(replace(of, surfaces=(ceiling,)))
    assert len(found) == better
    for f in found:
        assert f.place.surface == "room/ceiling"
        assert "one way with no battens" in f.remedies[0]


# --- RB602: sheets too long to carry in ---------------------------------------------------------


@pytest.mark.parametrize(
    ("limit", "out"),
    [
        (0.0, None),
        (6000.0, None),
        (5999.0, None),  # the tape reads no finer than a millimetre
        (5998.0, [6000.0]),
        (3600.0, [4200.0, 4800.0, 6000.0]),
    ],
)
def test_sheets_too_long_to_carry_in_are_named(limit: float, out: list[float] | None):
    of = replace(PLAIN, carry_in=limit, carry_in_note="narrow stair {left}.")
    found = said(of, "RB602")
    named = [[v for n, v in f.params if n != "limit"] for f in found]
    assert named == ([] if out is None else [out])
    for f in found:
        assert f.severity is Severity.NOTE
        assert (f.found, f.required) == (6000.0, limit)
        assert "10 mm ceiling and 10 mm standard" in f.text
        assert "(narrow stair (left))" in f.text


def test_only_what_the_supplier_has_is_left_out():
    of = replace(PLAIN, carry_in=3600.0)
    assert not said(of, "RB602", choices=Choices(sheet_lengths=(3000.0, 3600.0)))
    (found,) = said(of, "RB602", choices=Choices(sheet_lengths=(3000.0, 4200.0)))
    assert [v for n, v in found.params if n != "limit"] == [4200.0]
