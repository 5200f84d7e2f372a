"""The acceptance scenarios, from the measured room to the order, with hand-worked answers.

Each figure is worked out beside its check; lengths in mm, x east, y north.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest

from roomboard.core.findings import Severity
from roomboard.core.fixings import Role
from roomboard.core.joints import JointKind
from roomboard.core.plane import Region
from roomboard.core.project import (
    Bulkhead,
    ButtsAt,
    Choices,
    FastenerKind,
    Method,
    Project,
    Room,
    SheetDirection,
    SurfaceChoice,
)
from roomboard.core.scheme import Scheme, SurfaceScheme, work_out
from roomboard.core.support import TrimmerReason
from roomboard.core.trims import TrimKind
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import Opening, OpeningKind, joists, room, walls

WIDE = (1200.0,)
# These rooms leave no offcut, so blocks behind recessed joints would take a sheet of their own;
# where the scenario counts the sheets of the lining alone, they are left out and asked for apart.
NO_BLOCKS = (("backblock.recessed", "no"),)


def job(of: Room, pack: str = "au-nz", overrides: tuple = (), **choices: object) -> Scheme:
    project = Project(
        id="job",
        name="Job",
        practice=pack,
        rooms=(of,),
        overrides=overrides,
        choices=Choices(**choices),  # type: ignore[arg-type]
    )
    return work_out(project, load_catalogue(pack), load_practice(pack))


def surface(scheme: Scheme, key: str) -> SurfaceScheme:
    return next(s for s in scheme.rooms[0].surfaces if s.surface.key == key)


def metres(of: SurfaceScheme, *kinds: JointKind) -> float:
    return sum(j.length for j in of.joints if j.kind in kinds) / 1000


def trimmer_metres(of: SurfaceScheme) -> float:
    return sum(t.length for t in of.trimmers) / 1000


def sheets(scheme: Scheme, board: str) -> Counter:
    return Counter((s.length, s.width) for s in scheme.cut_plan.sheets if s.board == board)


def bare_walls() -> dict[str, object]:
    """Only the ceiling is lined."""
    return {"walls": walls(4, lined=False)}


BUTTS = (JointKind.BUTT_FRAMED, JointKind.BUTT_BACK_BLOCKED, JointKind.BUTT_UNBACKED)

# --- 1. Cottage bedroom, the clean case ---------------------------------------------------

BEDROOM = room(3580, 3040, joists=(joists(90, 450),), **bare_walls())


def test_1_bedroom_sheets_joints_and_trimmers():
    out = job(BEDROOM, sheet_widths=WIDE)
    ceiling = surface(out, "ceiling")
    # 3040 = 1200 + 1200 + 640; one piece a course from 3600; nothing to join end to end.
    assert [(p.length, p.width) for p in ceiling.set_out.pieces] == [
        (3580, 1200),
        (3580, 1200),
        (3580, 640),
    ]
    assert metres(ceiling, *BUTTS) == 0
    assert metres(ceiling, JointKind.RECESSED) == pytest.approx(7.16)  # 2 x 3.58
    # 1200 // 640 = 1 rip a sheet: three sheets, and the area bound is three:
    # 3.58 x 3.04 = 10.883 m2 over 4.32 = 2.52.
    assert sheets(out, "ceil10") == {(3600, 1200): 3}
    bound = out.cut_plan.bounds[0]
    assert (bound.sheets, max(bound.area_bound, bound.edge_bound)) == (3, 3)
    assert "RB502" not in {f.code for f in out.findings}
    # 450 to the first joist, 430 from the last: both walls along the joists want a trimmer.
    assert trimmer_metres(ceiling) == pytest.approx(6.08)  # 2 x 3.04
    assert {t.a[0] for t in ceiling.trimmers} == {0, 3580}


def test_1_bedroom_cornice():
    out = job(BEDROOM, sheet_widths=WIDE)
    runs = [r for r in out.rooms[0].trims if r.kind is TrimKind.CORNICE]
    assert sum(r.length for r in runs) / 1000 == pytest.approx(13.24)  # 2 x (3.58 + 3.04)
    assert {r.left_end for r in runs} == {"internal mitre"}


def test_1_bedroom_fasteners_at_300():
    """Seven joists and two trimmers are nine lines: 9 x 5, 9 x 5 and 9 x 4 fasteners."""
    out = job(BEDROOM, sheet_widths=WIDE, method=Method.FASTENERS)
    ceiling = surface(out, "ceiling")
    count = Counter(f.piece for f in ceiling.fixings.fasteners if f.role is not Role.LAMINATING)
    assert count == {"C1-1": 45, "C2-1": 45, "C3-1": 36}
    assert sum(count.values()) == 126


# --- 2. Which way? -------------------------------------------------------------------------

HALL = room(5400, 3600, joists=(joists(0, 450),), **bare_walls())


def test_2_across_and_along_side_by_side():
    out = job(HALL, overrides=NO_BLOCKS, sheet_widths=WIDE)
    ceiling = surface(out, "ceiling")
    # Courses along x: 4 x 1200 + 600, five 3600 sheets, no butts, 4 x 3.6 recessed.
    assert sheets(out, "ceil10") == {(3600, 1200): 5}
    assert metres(ceiling, JointKind.RECESSED) == pytest.approx(14.4)
    assert trimmer_metres(ceiling) == pytest.approx(10.8)  # 2 x 5.4
    across, along = ceiling.comparisons
    assert (across.name, across.chosen, across.sheets, across.butt_m) == ("across", True, 5, 0)
    # Along: three 6000 sheets, the same 21.60 m2, 2 x 5.4 recessed, but both joints in the air.
    assert (along.name, along.sheets, along.butt_m, along.recessed_m) == ("along", 3, 0, 10.8)
    assert along.bought_m2 == across.bought_m2 == pytest.approx(21.6)
    assert along.trimmer_m == pytest.approx(10.8 + 10.8)
    assert along.breaches > across.breaches == 0


def test_2_along_only_with_a_printed_warning():
    chosen = replace(
        HALL, choices=(SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG),)
    )
    warned = {f.code: f for f in job(chosen, sheet_widths=WIDE).findings}
    assert warned["RB208"].severity is Severity.WARNING
    # At 600 the joints land on joists; the direction warning alone remains beside the walls'.
    at_600 = replace(chosen, joists=(joists(0, 600),))
    out = job(at_600, sheet_widths=WIDE)
    assert {t.reason for t in surface(out, "ceiling").trimmers} == {TrimmerReason.WALL_ALONG_JOISTS}
    codes = {f.code for f in out.findings if f.severity >= Severity.WARNING}
    assert codes == {"RB208", "RB301"}


# --- 3. Long living room ---------------------------------------------------------------------

LIVING = room(7800, 4500, joists=(joists(90, 600),), carry_in=4800.0, **bare_walls())
STOCK = (2400.0, 3000.0, 3600.0, 4200.0, 4800.0)


def living(blocks: bool = False, **more: object) -> Scheme:
    given = {"sheet_widths": WIDE, "sheet_lengths": STOCK, "butts": ButtsAt.ON_FRAMING} | more
    apart = (("stagger.min", 600.0),)
    return job(LIVING, overrides=apart if blocks else (*apart, *NO_BLOCKS), **given)


def test_3_four_butts_alternating_and_eight_sheets():
    out = living()
    ceiling = surface(out, "ceiling")
    butts = [b.s for b in ceiling.set_out.butts]
    # Legal stops with both pieces up to 4800 are 3000 to 4800; the far ones stand off the middle.
    assert sorted(butts) == [3000, 3000, 4800, 4800]
    assert all(a != b for a, b in pairwise(butts))
    assert sheets(out, "ceil10") == {(4800, 1200): 4, (3000, 1200): 4}
    bound = out.cut_plan.bounds[0]
    assert bound.bought_m2 == pytest.approx(37.44)
    assert bound.net_m2 == pytest.approx(35.10)
    waste = (bound.bought_m2 - bound.net_m2) / bound.bought_m2
    assert waste == pytest.approx(0.0625, abs=5e-5)
    assert trimmer_metres(ceiling) == pytest.approx(9.0)
    assert metres(ceiling, JointKind.RECESSED) == pytest.approx(23.4)
    assert metres(ceiling, *BUTTS) == pytest.approx(4.5)  # 3 x 1.2 + 0.9


def test_3_back_blocking_is_raised_and_no_control_joint_is_asked_for():
    out = living(blocks=True)
    codes = {f.code for f in out.findings}
    assert out.rooms[0].surfaces[0].fixings.back_blocks
    assert "RB402" in codes  # three recessed joints in one ceiling
    assert "RB210" not in codes  # 7.8 m is below 12 m


def test_3_with_4800_only_eight_sheets_for_four_butts():
    out = living(sheet_lengths=(4800.0,))
    ceiling = surface(out, "ceiling")
    assert len(ceiling.set_out.butts) == 4
    assert sheets(out, "ceil10") == {(4800, 1200): 8}
    bound = out.cut_plan.bounds[0]
    assert bound.area_bound == 7  # 35.1 / 5.76 = 6.09
    assert bound.sheets == 8


# --- 4. Wall taken out: the joists turn at x = 3600 ----------------------------------------------

TURNED = room(
    6000,
    3600,
    joists=(
        replace(joists(90, 450, first=300.0), id="A", outline=Region.box(0, 0, 3600, 3600).outer),
        replace(joists(0, 600), id="B", outline=Region.box(3600, 0, 6000, 3600).outer),
    ),
    **bare_walls(),
)


def test_4_turned_sheets_trimmers_and_the_joint_between():
    out = job(TURNED, overrides=NO_BLOCKS, sheet_widths=WIDE)
    ceiling = surface(out, "ceiling")
    # A: three courses along x; B: two along y: five 3600 x 1200 and no waste at all.
    assert sheets(out, "ceil10") == {(3600, 1200): 5}
    bound = out.cut_plan.bounds[0]
    assert bound.bought_m2 == pytest.approx(bound.net_m2) == pytest.approx(21.6)
    lines = {(t.a, t.b, t.two_sided): t.reason for t in ceiling.trimmers}
    assert lines == {
        ((0, 0), (0, 3600), False): TrimmerReason.WALL_ALONG_JOISTS,
        ((3600, 0), (3600, 3600), True): TrimmerReason.DIRECTION_CHANGE,
        ((3600, 0), (6000, 0), False): TrimmerReason.WALL_ALONG_JOISTS,
        ((3600, 3600), (6000, 3600), False): TrimmerReason.WALL_ALONG_JOISTS,
    }
    assert trimmer_metres(ceiling) == pytest.approx(12.0)  # 3.6 + 3.6 + 2.4 + 2.4
    assert metres(ceiling, JointKind.END_TO_RECESS) == pytest.approx(3.6)
    assert metres(ceiling, JointKind.RECESSED) == pytest.approx(10.8)  # 2 x 3.6 + 3.6


def test_4_the_change_is_named_and_the_ways_are_compared():
    out = job(TURNED, sheet_widths=WIDE)
    codes = {f.code for f in out.findings}
    assert {"RB206", "RB302", "RB307"} <= codes
    joint = next(f for f in out.findings if f.code == "RB206")
    assert str(joint.source) == "common practice, no source"
    assert any("control joint" in r for r in joint.remedies)
    assert any("batten" in r for r in joint.remedies)
    assert [c.name for c in surface(out, "ceiling").comparisons] == ["turn", "batten", "carry"]


# --- 8. Wall 5400 x 2400 with a door and a window ------------------------------------------------

# 2410 to the framing less the 10 mm ceiling board is the scenario's 2400, with no gap at the floor.
OPENINGS = (
    Opening(id="D1", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040),
    Opening(
        id="W1", kind=OpeningKind.WINDOW, host="b", left=3000, bottom=900, width=1500, height=1200
    ),
)


def wall_8(**more: object) -> Scheme:
    a, b, c, d = walls(4, lined=False)
    of = room(
        5400,
        3000,
        2410,
        walls=(a, replace(b, lined=True), c, d),
        openings=OPENINGS,
        joists=(joists(90, 450),),
        carry_in=4800.0,
    )
    given = {"sheet_widths": WIDE, "sheet_lengths": STOCK, "floor_gap": 0.0} | more
    return job(of, **given)


def test_8_the_butt_stands_over_the_window():
    wall = surface(wall_8(butts=ButtsAt.ON_FRAMING), "wall:b")
    assert [(b.s, b.t1 - b.t0) for b in wall.set_out.butts] == [(3600, 300)]
    assert [(p.mark, p.length) for p in wall.set_out.pieces] == [
        ("WB-B1", 900),
        ("WB-B2", 3680),
        ("WB-T1", 3600),
        ("WB-T2", 1800),
    ]


def test_8_order_and_notches():
    out = wall_8(butts=ButtsAt.ON_FRAMING)
    # 4800 for 3680 + 900, 3600, and 2400 for 1800: 12.96 m2.
    assert sheets(out, "std10") == {(4800, 1200): 1, (3600, 1200): 1, (2400, 1200): 1}
    bound = next(b for b in out.cut_plan.bounds if b.board == "std10")
    assert bound.bought_m2 == pytest.approx(12.96)
    # 5.4 x 2.4 less the door 0.82 x 2.04 and the window 1.5 x 1.2.
    assert bound.net_m2 == pytest.approx(9.4872)
    by_mark = {p.mark: p for p in surface(out, "wall:b").set_out.pieces}

    def cut_away(mark: str) -> float:
        piece = by_mark[mark]
        return piece.length * piece.width - piece.face_up.area_mm2

    assert cut_away("WB-B2") == pytest.approx(1500 * 300)
    assert cut_away("WB-T1") == pytest.approx(820 * 840 + 600 * 900)
    assert cut_away("WB-T2") == pytest.approx(900 * 900)
    thin = next(f for f in out.findings if f.code == "RB212" and "WB-T1" in f.text)
    assert "WB-T2" in thin.text
    assert thin.found == pytest.approx(300)


def test_8_all_4800_is_three_sheets_where_the_area_says_two():
    out = wall_8(butts=ButtsAt.ON_FRAMING, sheet_lengths=(4800.0,))
    assert sheets(out, "std10") == {(4800, 1200): 3}
    bound = next(b for b in out.cut_plan.bounds if b.board == "std10")
    assert (bound.area_bound, bound.edge_bound) == (2, 3)


# --- 10. Kitchen: 2700 wall and bulkhead --------------------------------------------------------


def kitchen(widths: tuple[float, ...]) -> Scheme:
    a, b, c, d = walls(4, lined=False)
    of = room(
        4200,
        3000,
        2710,
        walls=(a, replace(b, lined=True), c, d),
        joists=(joists(90, 450),),
        ceiling_lined=True,
    )
    return job(of, sheet_widths=widths, floor_gap=0.0)


def test_10_wide_board_saves_a_joint_and_a_third_of_the_board():
    narrow, wide = kitchen((1200.0,)), kitchen((1350.0,))
    # 1200 + 1200 + 300: two joints of 4.2 m and three sheets of 4200.
    assert metres(surface(narrow, "wall:b"), JointKind.RECESSED) == pytest.approx(8.4)
    assert sheets(narrow, "std10") == {(4200, 1200): 3}
    # 1350 + 1350: two sheets, 11.34 m2 net and bought, one joint.
    assert metres(surface(wide, "wall:b"), JointKind.RECESSED) == pytest.approx(4.2)
    assert sheets(wide, "std10") == {(4200, 1350): 2}
    bound = next(b for b in wide.cut_plan.bounds if b.board == "std10")
    assert bound.bought_m2 == pytest.approx(bound.net_m2) == pytest.approx(11.34)
    # Left to itself the program takes the wide board.
    assert sheets(kitchen(()), "std10") == {(4200, 1350): 2}


def test_10_the_bulkhead_comes_out_of_one_sheet():
    of = room(
        4200,
        3000,
        2710,
        joists=(joists(90, 450),),
        bulkheads=(
            Bulkhead(
                id="1",
                wall="b",
                left=0,
                length=3000,
                depth=600,
                drop=300,
                right_free=True,
                spacing=450,
            ),
        ),
        **bare_walls(),
    )
    out = job(of, sheet_widths=WIDE)
    # Face 3000 x 300, underside 3000 x 600, end 600 x 300: 2.88 m2 from one 3000 x 1200.
    assert sheets(out, "std10") == {(3000, 1200): 1}
    bound = next(b for b in out.cut_plan.bounds if b.board == "std10")
    assert bound.net_m2 == pytest.approx(2.88)
    sheet = next(s for s in out.cut_plan.sheets if s.board == "std10")
    assert (2400, 300) in {(o.length, o.width) for o in sheet.offcuts}
    beads = [r for r in out.rooms[0].trims if r.kind is TrimKind.EXTERNAL_BEAD]
    assert sorted(r.length for r in beads) == [300, 600, 3000]  # 3.9 m


# --- the nails of the same rooms -----------------------------------------------------------------


def test_nails_and_steel_are_worked_out_as_well():
    nailed = job(BEDROOM, sheet_widths=WIDE, fastener=FastenerKind.NAIL)
    kinds = {f.kind for f in surface(nailed, "ceiling").fixings.fasteners}
    assert "nail" in kinds
    assert "screw" not in kinds
