"""What is said about a job: spans, control joints, zones, lifting, figures and cautions."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from roomboard.core import findings
from roomboard.core.findings import REGISTER, Area, Severity
from roomboard.core.project import (
    Acknowledgement,
    Choices,
    MemberKind,
    Project,
    Room,
    SpecialZone,
    ZoneKind,
)
from roomboard.core.scheme import Scheme, work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import joists, room, walls

BARE = {"walls": walls(4, lined=False)}


def out(of: Room, pack: str = "au-nz", **project: object) -> Scheme:
    job = Project(id="job", name="Job", practice=pack, rooms=(of,), **project)  # type: ignore[arg-type]
    return work_out(job, load_catalogue(pack), load_practice(pack))


def said(scheme: Scheme, code: str) -> list:
    return [f for f in scheme.findings if f.code == code]


@pytest.mark.parametrize(
    ("pack", "board", "centres", "code"),
    [
        # AU-2: 10 mm standard board on a ceiling: 450 at most; AU-3: ceiling grade 600.
        ("au-nz", "std10", 600.0, "RB303"),
        ("au-nz", "ceil10", 600.0, ""),
        # UK-4: NHBC 2022 table 5: 12.5 mm at 600 only with noggings; UK-3: at 450 without.
        ("uk-eu", "std12-5", 600.0, "RB305"),
        ("uk-eu", "std12-5", 450.0, ""),
        # CA-2: 12.7 mm across supports up to 600.
        ("ca", "std-1-2", 600.0, ""),
        # US-4: 1/2 in across at 24 in; nothing at 28 in.
        ("us", "std-1-2", 24 * 25.4, ""),
        ("us", "std-1-2", 28 * 25.4, "RB303"),
    ],
)
def test_supports_too_far_apart_for_the_board(pack: str, board: str, centres: float, code: str):
    of = room(6000, 3600, joists=(joists(90, centres),), ceiling_board=board, **BARE)
    codes = {f.code for f in out(of, pack).findings} & {"RB303", "RB305"}
    assert codes == ({code} if code else set())


@pytest.mark.parametrize(
    ("pack", "length", "number"),
    [
        # AU-23: DPI 2009 cl. 9.8: 12 m; D-12: none at 12.0, one at 12.1 and at 24.0.
        ("au-nz", 12000.0, 0),
        ("au-nz", 12100.0, 1),
        ("au-nz", 24000.0, 1),
        # US-42: 30 ft without perimeter relief; D-12: none at 9.1 m, one at 9.2 m.
        ("us", 9100.0, 0),
        ("us", 9200.0, 1),
    ],
)
def test_control_joints_of_long_ceilings(pack: str, length: float, number: int):
    of = room(length, 2400, joists=(joists(90, 400),), **BARE)
    found = said(out(of, pack), "RB210")
    assert len(found) == min(number, 1)
    if number:
        assert f"{number} control joint" in found[0].text
        assert found[0].source is not None


def test_the_square_footage_limit_of_ceilings():
    # US-42: AWCI restating ASTM C840 20.3.4: 900 ft2 without relief. 30 ft square is 900.
    foot = 304.8
    small = room(30 * foot, 29.9 * foot, joists=(joists(90, 400),), **BARE)
    large = room(29 * foot, 31.1 * foot, joists=(joists(90, 400),), **BARE)
    assert not said(out(small, "us"), "RB210")
    areas = [f for f in said(out(large, "us"), "RB210") if isinstance(f.found, Area)]
    assert [(str(f.found), str(f.required)) for f in areas] == [("83.79 m2", "83.61 m2")]


def test_special_zones_are_flagged_and_never_designed():
    zones = tuple(SpecialZone(id=k.value, kind=k, host="ceiling") for k in ZoneKind)
    scheme = out(room(4000, 3000, joists=(joists(90, 450),), zones=zones, **BARE))
    codes = {f.code for f in scheme.findings}
    assert {"RB701", "RB702", "RB703", "RB704", "RB705", "RB706"} <= codes
    # No adhesive where a tested system or tiles decide.
    assert not any(s.fixings.daubs for r in scheme.rooms for s in r.surfaces)
    assert "RB405" in codes


def test_heavy_pieces_are_flagged_by_the_users_own_limit():
    # 4.8 x 1.2 at 6.8 kg/m2 is 39.2 kg (D-11).
    of = room(4800, 2400, joists=(joists(90, 450),), **BARE)
    one = said(out(of, choices=Choices(sheet_widths=(1200.0,))), "RB601")
    assert len(one) == 1
    assert str(one[0].found) == "39.2 kg"
    assert not said(out(of, choices=Choices(sheet_widths=(1200.0,), lift_limit_kg=40)), "RB601")


def test_every_caution_is_said_whatever_is_acknowledged():
    read = Acknowledgement(code="RB801", name="A. Builder", reason="tested, none found")
    plain = out(room(4000, 3000, joists=(joists(90, 450),)))
    after = out(room(4000, 3000, joists=(joists(90, 450),)), acknowledged=(read,))
    assert {f.code for f in plain.findings if f.code[2] == "8"} == {
        f"RB80{n}" for n in range(1, 10)
    } | {"RB810"}
    assert len([f for f in after.findings if f.code[2] == "8"]) == len(
        [f for f in plain.findings if f.code[2] == "8"]
    )
    assert any("Read by A. Builder" in f.text for f in said(after, "RB801"))


@pytest.mark.parametrize(
    ("year", "words"), [(0, "not known"), (1962, "before"), (2015, "said to be")]
)
def test_asbestos_speaks_of_the_age_of_the_building(year: int, words: str):
    scheme = out(room(4000, 3000, joists=(joists(90, 450),)), building_year=year)
    assert any(words in f.text for f in said(scheme, "RB801"))


def test_overrides_are_printed_and_unknown_ones_refused():
    scheme = out(
        room(4000, 3000, joists=(joists(90, 450),)),
        overrides=(("stagger.min", 600.0), ("no.such", 1.0)),
    )
    (changed,) = said(scheme, "RB901")
    assert "stagger.min" in changed.text
    stated = load_practice("au-nz").mm("stagger.min")
    assert (changed.found, changed.required) == (600.0, stated)
    assert changed.params == (("own", 600.0), ("stated", stated))
    assert "pack states {stated}" in changed.text
    (unknown,) = said(scheme, "RB105")
    assert unknown.severity is Severity.BLOCK
    assert scheme.practice.mm("stagger.min") == 600


def test_memory_figures_are_listed_with_their_advice():
    scheme = out(room(4000, 3000, joists=(joists(90, 450),)))
    (memory,) = said(scheme, "RB902")
    assert "check with your local code" in memory.text
    (habit,) = said(scheme, "RB903")
    assert "common practice" in habit.text


def test_an_unknown_board_stops_the_room_and_names_the_stock():
    scheme = out(room(4000, 3000, joists=(joists(90, 450),), ceiling_board="gold"))
    (found,) = said(scheme, "RB105")
    assert found.severity is Severity.BLOCK
    assert "ceil10" in found.text
    assert scheme.rooms[0].surfaces == ()


def test_a_piece_that_fits_no_sheet_blocks():
    of = room(4000, 3000, joists=(joists(90, 450),), carry_in=500.0, **BARE)
    assert said(out(of), "RB503")[0].severity is Severity.BLOCK


def test_what_no_sheet_serves_counts_in_no_net_area():
    # The supplier has 900 wide sheets only: the ceiling's board comes so, the walls' does not.
    of = room(4000, 3000, joists=(joists(90, 450),), walls=walls(4, board="wet10"))
    no_blocks = (("backblock.recessed", "no"),)  # blocks cut from sheets count as pieces do
    scheme = out(of, choices=Choices(sheet_widths=(900.0,)), overrides=no_blocks)
    laid = {
        b.board: sum(
            p.region.area_mm2
            for r in scheme.rooms
            for s in r.surfaces
            for p in s.set_out.pieces
            if p.board == b.board and p.id not in scheme.cut_plan.unplaced
        )
        / 1e6
        for b in scheme.cut_plan.bounds
    }
    assert {f.place.surface for f in said(scheme, "RB503")} == {f"room/wall:{w}" for w in "abcd"}
    assert "wet10" not in laid
    assert {b.board: pytest.approx(b.net_m2) for b in scheme.cut_plan.bounds} == laid


def test_joists_that_turn_ask_about_the_wall_that_was_there():
    half = ((0.0, 0.0), (0.0, 3000.0), (2000.0, 3000.0), (2000.0, 0.0))
    rest = ((2000.0, 0.0), (2000.0, 3000.0), (4000.0, 3000.0), (4000.0, 0.0))
    zones = (
        replace(joists(90, 450), id="A", outline=half),
        replace(joists(0, 450), id="B", outline=rest, kind=MemberKind.BATTEN),
    )
    (found,) = said(out(room(4000, 3000, joists=zones, **BARE)), "RB307")
    assert "engineer" in found.text


def test_findings_come_gravest_first_and_the_same_each_time():
    of = room(4000, 3000, joists=(), carry_in=500.0)
    one, two = out(of), out(of)
    assert one.findings == two.findings
    weights = [f.severity for f in one.findings]
    assert weights == sorted(weights, reverse=True)


def test_every_registered_code_is_produced_somewhere():
    core = Path(findings.__file__).parent
    written = "".join(
        path.read_text(encoding="utf-8")
        for path in sorted(core.rglob("*.py"))
        if path.name != "findings.py"
    )
    cautions = {c.code for c in load_practice("au-nz").cautions}
    assert [c for c in REGISTER if f'"{c}"' not in written and c not in cautions] == []
    # Codes taken out are not given a new meaning.
    assert {"RB111", "RB209"}.isdisjoint(REGISTER)
