"""Courses, stops and butt joints."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core.courses import course_plans
from roomboard.core.develop import develop
from roomboard.core.fields import Rules, Turned, set_out_fields
from roomboard.core.plane import Region, union
from roomboard.core.project import (
    AngleFinish,
    AtChange,
    ButtsAt,
    Room,
    SheetDirection,
    Start,
    SurfaceChoice,
)
from roomboard.core.set_out import set_out
from roomboard.core.setting import Setting
from roomboard.core.sheeting import EdgeNeed, SetOut, StopKind
from roomboard.core.stops import legal_stops
from roomboard.core.surface import Surface
from tests.rooms import Opening, OpeningKind, joists, room, setting, walls

WIDE = {"sheet_widths": (1200.0,)}


def surface_of(of: Room, key: str, with_: Setting) -> Surface:
    return next(s for s in develop(of, with_).surfaces if s.key == key)


def laid(of: Room, key: str, with_: Setting, choice: SurfaceChoice | None = None) -> SetOut:
    surface = surface_of(of, key, with_)
    return set_out(
        surface, with_.board(surface.board, surface.place), with_, choice or of.choice(key)
    )


def turned(of: Room, key: str, with_: Setting) -> Turned:
    surface = surface_of(of, key, with_)
    field = set_out_fields(surface, SheetDirection.ACROSS, AtChange.TURN)[0]
    return Turned.of(surface, field)


def lines(out: SetOut) -> list[float]:
    return sorted({c.t0 for c in out.courses} | {c.t1 for c in out.courses})


def codes(out: SetOut) -> set[str]:
    return {f.code for f in out.findings}


CEILING = room(3580, 3040, joists=(joists(90, 450),))


def test_full_courses_first_and_the_cut_edge_at_the_wall():
    out = laid(CEILING, "ceiling", setting(**WIDE))
    assert lines(out) == [0, 1200, 2400, 3040]
    last = out.pieces[-1]
    assert (last.width, last.low, last.high) == (640, EdgeNeed.RECESSED, EdgeNeed.ANY)
    assert [c.ripped for c in out.courses] == [False, False, True]


@pytest.mark.parametrize(
    ("start", "expected"),
    [
        (Start.LOW, [0, 1200, 2400, 3040]),
        (Start.HIGH, [0, 640, 1840, 3040]),
        (Start.BALANCED, [0, 920, 2120, 3040]),
    ],
)
def test_courses_from_either_side_or_balanced(start: Start, expected: list[float]):
    out = laid(CEILING, "ceiling", setting(**WIDE), SurfaceChoice(surface="ceiling", start=start))
    assert lines(out) == expected


def test_a_strip_below_the_least_width_is_balanced_away():
    # 2450 = 2 x 1200 + 50: fifty is no strip; 625 + 1200 + 625.
    out = laid(room(3000, 2450, joists=(joists(90, 450),)), "ceiling", setting(**WIDE))
    assert lines(out) == [0, 625, 1825, 2450]
    assert "RB204" not in codes(out)


def test_widths_are_mixed_where_that_saves_a_course():
    # 2550 = 1350 + 1200 whole, where one width alone would need a rip.
    out = laid(room(3000, 2550, joists=(joists(90, 450),)), "ceiling", setting())
    assert sorted(c.sheet_width for c in out.courses) == [1200, 1350]
    assert not any(c.ripped for c in out.courses)


def test_square_set_walls_get_the_recess_cut_off():
    # au-nz boards lose 55 along each of the two square-set walls: 55 + 2400 + 55 = 2510 of board.
    a, b, c, d = walls(4)
    square = AngleFinish.SQUARE_SET
    of = room(
        3000,
        2400,
        joists=(joists(90, 450),),
        walls=(a, replace(b, angle=square), c, replace(d, angle=square)),
    )
    with_ = setting(**WIDE)
    out = laid(of, "ceiling", with_)
    recess = with_.board("", "ceiling").recess_width
    assert len(out.courses) == 3
    assert out.pieces[0].low is EdgeNeed.CUT
    assert out.pieces[-1].high is EdgeNeed.CUT
    assert all(p.width <= 1200 - recess for p in (out.pieces[0], out.pieces[-1]))
    cornice = laid(replace(of, walls=(a, b, c, d)), "ceiling", with_)
    assert len(cornice.courses) == 2


def test_no_course_plan_reaches_past_its_sheets():
    of = turned(CEILING, "ceiling", setting())
    for plan in course_plans(of, (1200.0, 900.0), 55, list(Start)[1:]):
        assert all(c.t1 - c.t0 <= c.sheet_width + 0.01 for c in plan.courses)
        assert sum(c.t1 - c.t0 for c in plan.courses) == pytest.approx(3040)


# --- stops ---------------------------------------------------------------------------

# A wall 5400 long, studs at 600; door 900 to 1720, head 2040; window 3000 to 4500, 900 to 2100.
DOOR = Opening(id="D1", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040)
WINDOW = Opening(
    id="W1", kind=OpeningKind.WINDOW, host="b", left=3000, bottom=900, width=1500, height=1200
)
WALL = room(5400, 3000, 2410, joists=(joists(90, 450),), openings=(DOOR, WINDOW))


def stops_of(top: bool = True, **choices: object) -> dict[float, tuple[str, ...]]:
    with_ = setting(floor_gap=0.0, **choices)
    of = turned(WALL, "wall:b", with_)
    run = of.runs(1200, 2400)[0] if top else of.runs(0, 1200)[1]
    return {s.s: s.barred for s in legal_stops(of, run, Rules.of(with_), 4800)}


def test_stops_of_a_course_over_a_door_and_a_window():
    """Every stud is named, and each barred place says why."""
    stops = stops_of(butts=ButtsAt.ON_FRAMING)
    studs = {s: why for s, why in stops.items() if s % 600 == 0}
    assert {s for s, why in studs.items() if not why} == {600, 1200, 2400, 3600, 4200, 4800}
    assert studs[1800] == ("it is too near the side of opening D1",)
    assert studs[3000] == ("it is too near the side of opening W1",)


def test_the_bottom_course_stops_keep_clear_of_the_window_corner():
    stops = stops_of(top=False, butts=ButtsAt.ON_FRAMING)
    assert not stops[2400]
    assert stops[3000]
    assert not stops[3600]


def test_mid_bay_stops_are_barred_unless_they_are_chosen():
    framing = stops_of(butts=ButtsAt.ON_FRAMING)
    assert framing[2100] == ("butt joints are set to fall on framing",)
    either = stops_of(butts=ButtsAt.EITHER)
    assert not either[2100]
    between = stops_of(butts=ButtsAt.MID_BAY)
    assert "butt joints are set to fall between members" in between[2400]


def test_a_face_too_narrow_for_two_ends_is_no_stop():
    a, b, c, d = walls(4)
    of = replace(WALL, walls=(a, replace(b, stud_face=25.0), c, d))
    with_ = setting(floor_gap=0.0)
    face = turned(of, "wall:b", with_)
    stops = legal_stops(face, face.runs(1200, 2400)[0], Rules.of(with_), 4800)
    assert all("too narrow" in s.barred[0] for s in stops if s.kind is StopKind.FRAMED)


def test_neighbours_bar_stops_in_line_with_them():
    with_ = setting(floor_gap=0.0)
    of = turned(WALL, "wall:b", with_)
    stops = legal_stops(of, of.runs(1200, 2400)[0], Rules.of(with_), 4800, neighbours=(3600.0,))
    barred = {s.s for s in stops if any("in line with a butt" in r for r in s.barred)}
    assert 3600 in barred
    assert 3000 not in barred


def test_stops_that_would_need_another_piece_are_barred():
    # 7800 from 4800 sheets: a butt at 600 leaves 7200, which needs a second one.
    of = room(7800, 2400, joists=(joists(90, 600),))
    with_ = setting()
    face = turned(of, "ceiling", with_)
    stops = legal_stops(face, face.runs(0, 1200)[0], Rules.of(with_), 4800)
    legal = [s.s for s in stops if s.legal and s.kind is StopKind.FRAMED]
    assert legal == [3000, 3600, 4200, 4800]


# --- butts -----------------------------------------------------------------------------


def test_no_butt_where_a_sheet_reaches():
    assert not laid(CEILING, "ceiling", setting(**WIDE)).butts


def test_butts_of_adjoining_courses_stand_apart():
    of = room(9000, 4800, joists=(joists(90, 450),))
    with_ = setting(**WIDE, sheet_lengths=(3600.0,))
    out = laid(of, "ceiling", with_)
    least = with_.practice.mm("stagger.min")
    by_course: dict[int, list[float]] = {}
    for butt in out.butts:
        by_course.setdefault(butt.course, []).append(butt.s)
    assert all(len(v) == 2 for v in by_course.values())
    for number in range(1, len(by_course)):
        for a in by_course[number]:
            assert all(abs(a - b) >= least for b in by_course[number + 1])


def test_where_stagger_cannot_be_kept_it_is_said_and_a_layout_is_still_given():
    # One joist only can take a butt: every course must break there.
    of = room(4000, 3600, joists=(joists(90, 0, positions=(400.0, 2000.0, 3600.0)),))
    with_ = setting(**WIDE, sheet_lengths=(2400.0,), butts=ButtsAt.ON_FRAMING)
    out = laid(of, "ceiling", with_)
    assert [b.s for b in out.butts] == [2000] * 3
    assert "RB202" in codes(out)
    assert next(f for f in out.findings if f.code == "RB202").remedies


def test_without_any_member_in_reach_a_nogging_is_asked_for():
    of = room(6000, 2400, joists=(joists(90, 0, positions=(200.0, 5800.0)),))
    with_ = setting("us", sheet_lengths=(96 * 25.4,), sheet_widths=(48 * 25.4,))
    out = laid(of, "ceiling", with_)
    assert "RB201" in codes(out)
    assert all(b.kind is StopKind.UNBACKED for b in out.butts)
    assert sum(p.region.area_mm2 for p in out.pieces) == pytest.approx(6000 * 2400, rel=1e-6)


def test_a_locked_butt_is_kept_and_said_when_it_breaks_a_rule():
    of = room(7800, 2400, joists=(joists(90, 600),))
    with_ = setting(**WIDE)
    kept = SurfaceChoice(surface="ceiling", butts=((0, 1, 3600.0), (0, 2, 3000.0)))
    out = laid(of, "ceiling", with_, kept)
    assert [(b.course, b.s) for b in out.butts] == [(1, 3600), (2, 3000)]
    assert "RB213" not in codes(out)
    wild = laid(of, "ceiling", with_, replace(kept, butts=((0, 1, 3333.0),)))
    assert 3333.0 in [b.s for b in wild.butts]
    assert "RB213" in codes(wild)


def test_no_stock_is_said_and_nothing_is_made_up():
    out = laid(CEILING, "ceiling", setting(sheet_lengths=(777.0,)))
    assert codes(out) == {"RB503"}
    assert not out.pieces


def test_joists_that_turn_part_the_ceiling_into_fields():
    half = Region.box(0, 0, 3600, 3600).outer
    rest = Region.box(3600, 0, 6000, 3600).outer
    of = room(
        6000,
        3600,
        joists=(
            replace(joists(90, 450), id="A", outline=half),
            replace(joists(0, 600), id="B", outline=rest),
        ),
    )
    turn = laid(of, "ceiling", setting(**WIDE))
    assert [f.direction_deg for f in turn.fields] == [0, 90]
    carry = laid(
        of, "ceiling", setting(**WIDE), SurfaceChoice(surface="ceiling", at_change=AtChange.CARRY)
    )
    assert len(carry.fields) == 1
    assert "RB207" in codes(carry)


def test_along_is_allowed_on_a_ceiling_only_with_a_warning():
    along = SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG)
    assert "RB208" in codes(laid(CEILING, "ceiling", setting(**WIDE), along))
    assert "RB208" not in codes(laid(CEILING, "ceiling", setting(**WIDE)))


def test_marks_are_unique_and_hanging_order_is_the_pieces_order():
    out = laid(replace(WALL, carry_in=4800), "wall:b", setting(floor_gap=0.0))
    marks = [p.mark for p in out.pieces]
    assert marks == ["WB-B1", "WB-B2", "WB-T1", "WB-T2"]


def test_top_first_where_the_pack_says_so():
    # us: walls from the top, so the rip lies at the floor.
    with_ = setting("us", sheet_widths=(48 * 25.4,))
    out = laid(room(3000, 3000, 2300, joists=(joists(90, 400),)), "wall:b", with_)
    assert out.courses[0].t1 > out.courses[1].t1
    assert out.courses[1].ripped


def test_the_face_of_a_ceiling_piece_is_the_mirror_of_the_plan():
    hole = Opening(
        id="L", kind=OpeningKind.LIGHT, host="ceiling", left=100, bottom=200, width=100, height=100
    )
    of = replace(CEILING, openings=(hole,))
    piece = laid(of, "ceiling", setting(**WIDE)).pieces[0]
    assert piece.face_up_mirrored
    # 100 to 200 from the left in plan is 100 to 200 from the right on the face.
    assert Region(piece.face_up.holes[0][::-1]).bounds == (3380, 200, 3480, 300)
    wall = laid(WALL, "wall:b", setting(floor_gap=0.0)).pieces[0]
    assert not wall.face_up_mirrored


@given(
    st.integers(900, 9000),
    st.integers(900, 6000),
    st.sampled_from([0.0, 90.0]),
    st.sampled_from([400.0, 450.0, 600.0]),
    st.sampled_from(["au-nz", "us", "ca", "uk-eu"]),
    st.sampled_from(list(Start)),
)
def test_courses_cover_a_ceiling_once(x, y, direction, spacing, pack, start):
    of = room(float(x), float(y), joists=(joists(direction, spacing),))
    with_ = setting(pack)
    out = laid(of, "ceiling", with_, SurfaceChoice(surface="ceiling", start=start))
    assert sum(p.region.area_mm2 for p in out.pieces) == pytest.approx(x * y, rel=1e-6)
    assert [r.bounds for r in union(p.region for p in out.pieces)] == [(0, 0, x, y)]
    longest = max(s.length for s in with_.board("", "ceiling").sheets)
    assert all(p.length <= longest + 0.01 for p in out.pieces)
