"""Butts and first courses that the user fixed by hand, and where they may be put."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core import courses, stops
from roomboard.core.courses import course_stops
from roomboard.core.develop import develop
from roomboard.core.fields import Rules, Turned, set_out_fields
from roomboard.core.findings import Finding, Severity
from roomboard.core.project import (
    AngleFinish,
    AtChange,
    ButtsAt,
    Project,
    Room,
    SheetDirection,
    Start,
    SurfaceChoice,
)
from roomboard.core.set_out import set_out
from roomboard.core.setting import Setting
from roomboard.core.sheeting import CourseStop, CourseWhy, SetOut, StopKind
from tests.chain import as_data, faults_of, worked
from tests.rooms import joists, room, setting, walls
from tests.strategies import projects

WIDE = {"sheet_widths": (1200.0,)}
CEILING = room(3580, 3040, joists=(joists(90, 450),))
LIVING = room(7800, 4500, joists=(joists(90, 600),), carry_in=4800.0)


def laid(of: Room, with_: Setting, **choice: object) -> SetOut:
    surface = next(s for s in develop(of, with_).surfaces if s.key == "ceiling")
    chosen = SurfaceChoice(surface="ceiling", **choice)  # type: ignore[arg-type]
    return set_out(surface, with_.board(surface.board, surface.place), with_, chosen)


def lines(out: SetOut) -> list[float]:
    return sorted({c.t0 for c in out.courses} | {c.t1 for c in out.courses})


def said(out: SetOut, code: str) -> list[Finding]:
    return [f for f in out.findings if f.code == code]


# --- the first course ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("start", "width", "expected"),
    [
        # 3040 = 500 + 1200 + 1200 + 140, counted from the low side, and then from the high one.
        (Start.LOW, 500.0, [0, 500, 1700, 2900, 3040]),
        (Start.HIGH, 500.0, [0, 140, 1340, 2540, 3040]),
        # 3040 = 900 + 1200 + 940
        (Start.LOW, 900.0, [0, 900, 2100, 3040]),
        (Start.LOW, 1200.0, [0, 1200, 2400, 3040]),
        # A first course of its own width is not balanced: it is counted from the low side.
        (Start.BALANCED, 900.0, [0, 900, 2100, 3040]),
    ],
)
def test_a_first_course_then_full_ones_and_the_last_is_ripped(start, width, expected):
    out = laid(CEILING, setting(**WIDE), start=start, first_course=((0, width),))
    assert lines(out) == expected
    assert out.courses[0].t1 - out.courses[0].t0 == pytest.approx(width)
    assert [c.number for c in out.courses] == list(range(1, len(expected)))


def test_a_last_strip_below_the_least_is_laid_and_said():
    with_ = setting(**WIDE)
    least = with_.practice.mm("strip.min")
    out = laid(CEILING, with_, start=Start.LOW, first_course=((0, 500.0),))
    (finding,) = said(out, "RB213")
    assert finding.severity is Severity.WARNING
    assert (finding.found, finding.required) == (140, least)
    assert "last course narrower than the least strip" in finding.text
    assert finding.source == with_.practice.cite("strip.min")
    assert finding.remedies
    # On the limit it is lawful: 3040 - 2 x 1200 - least leaves just the least strip.
    kept = laid(CEILING, with_, start=Start.LOW, first_course=((0, 640.0 - least),))
    assert not said(kept, "RB213")


def test_a_first_course_is_no_wider_than_its_sheet():
    out = laid(CEILING, setting(**WIDE), start=Start.LOW, first_course=((0, 1201.0),))
    assert lines(out) == [0, 1200, 2400, 3040]
    (finding,) = said(out, "RB213")
    assert (finding.found, finding.required) == (1201, 1200)


def test_a_square_set_angle_takes_its_recess_off_the_first_course():
    a, b, c, d = walls(4)
    of = replace(CEILING, walls=(a, b, c, replace(d, angle=AngleFinish.SQUARE_SET)))
    with_ = setting(**WIDE)
    most = 1200 - with_.board("", "ceiling").recess_width
    widest = laid(of, with_, start=Start.LOW, first_course=((0, most),))
    assert widest.courses[0].t1 == pytest.approx(most)
    assert not said(widest, "RB213")
    wider = laid(of, with_, start=Start.LOW, first_course=((0, most + 1),))
    (finding,) = said(wider, "RB213")
    assert "square-set" in finding.text


def test_a_first_course_of_a_field_or_a_room_that_is_gone_is_passed_over():
    with_ = setting(**WIDE)
    plain = laid(CEILING, with_)
    gone = laid(CEILING, with_, first_course=((3, 500.0),))
    assert gone.courses == plain.courses
    assert [f.severity for f in said(gone, "RB110")] == [Severity.NOTE]
    small = laid(room(3000, 1000, joists=(joists(90, 450),)), with_, first_course=((0, 1100.0),))
    assert lines(small) == [0, 1000]
    assert [f.severity for f in said(small, "RB110")] == [Severity.NOTE]


@given(st.integers(900, 6000), st.integers(1, 1400), st.sampled_from(list(Start)))
def test_a_ceiling_is_covered_whatever_the_first_course(depth, width, start):
    of = room(3000, float(depth), joists=(joists(90, 450),))
    out = laid(of, setting(), start=start, first_course=((0, float(width)),))
    assert sum(p.region.area_mm2 for p in out.pieces) == pytest.approx(3000 * depth, rel=1e-6)
    assert all(c.t1 - c.t0 <= c.sheet_width + 0.01 for c in out.courses)
    assert all(not c.ripped for c in out.courses if c.recess_low and c.recess_high)
    first = out.courses[0]
    if abs(first.t1 - first.t0 - width) > 0.01:
        assert said(out, "RB213") or said(out, "RB110")


# --- where the first line may fall -----------------------------------------------------


def turned(of: Room, key: str, with_: Setting, direction: SheetDirection) -> Turned:
    surface = next(s for s in develop(of, with_).surfaces if s.key == key)
    return Turned.of(surface, set_out_fields(surface, direction, AtChange.TURN)[0])


def stops_of(
    of: Room,
    with_: Setting,
    key: str = "ceiling",
    direction: SheetDirection = SheetDirection.ACROSS,
    start: Start = Start.LOW,
    step: float = 0.0,
) -> dict[float, CourseStop]:
    face = turned(of, key, with_, direction)
    recess = with_.board("", "ceiling").recess_width
    found = course_stops(face, Rules.of(with_), (1200.0,), recess, start, step)
    assert [s.t for s in found] == sorted(s.t for s in found)
    return {s.width: s for s in found}


def test_the_places_a_first_line_is_offered():
    """3040: full 1200; from the far side 3040 - 2400 = 640; alike (3040 - 1200) / 2 = 920."""
    with_ = setting(**WIDE)
    least = with_.practice.mm("strip.min")
    found = stops_of(CEILING, with_)
    assert {w: s.why for w, s in found.items()} == {
        640 - least: CourseWhy.LEAST_STRIP,
        640: CourseWhy.FULL_FROM_FAR,
        920: CourseWhy.BALANCED,
        1200: CourseWhy.FULL,
    }
    assert all(s.legal for s in found.values())
    assert found[920].at == ((0, 920), (3580, 920))
    high = stops_of(CEILING, with_, start=Start.HIGH)
    assert high[1200].t == 3040 - 1200
    assert high[1200].start is Start.HIGH


def test_steps_are_offered_and_barred_with_the_reason():
    with_ = setting(**WIDE)
    least = with_.practice.mm("strip.min")
    found = stops_of(CEILING, with_, step=100.0)
    assert {w for w, s in found.items() if s.why is CourseWhy.STEP} == {
        *(100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100),
    }
    # 3040 - 500 - 2400 = 140 and 3040 - 600 - 2400 = 40 are thinner than the least strip (200).
    assert least == 200
    barred = {w: s.barred for w, s in found.items() if s.barred}
    assert barred == {
        100: (courses.THIN_FIRST,),
        500: (courses.THIN_LAST,),
        600: (courses.THIN_LAST,),
    }


def test_a_place_wider_than_the_sheet_is_barred_where_a_square_set_angle_takes_its_recess():
    a, b, c, d = walls(4)
    of = replace(CEILING, walls=(a, b, c, replace(d, angle=AngleFinish.SQUARE_SET)))
    with_ = setting(**WIDE)
    found = stops_of(of, with_)
    assert max(found) == 1200 - with_.board("", "ceiling").recess_width


def test_lines_along_the_members_must_fall_on_them():
    """Joists along x at 450: 900 lies on one, 2100 does not; at 600 both do."""
    off = stops_of(
        room(5400, 3600, joists=(joists(0, 450),)),
        setting(**WIDE),
        step=300.0,
        direction=SheetDirection.ALONG,
    )
    assert off[900].barred == (courses.UNBACKED,)
    on = stops_of(
        room(5400, 3600, joists=(joists(0, 600),)),
        setting(**WIDE),
        step=300.0,
        direction=SheetDirection.ALONG,
    )
    assert on[600].legal
    assert on[1200].legal
    assert on[900].barred == (courses.UNBACKED,)


# --- locked butts ----------------------------------------------------------------------


def test_a_locked_butt_is_laid_and_the_others_stand_clear_of_it():
    with_ = setting(**WIDE)
    free = laid(LIVING, with_)
    at = {b.course: b.s for b in free.butts}
    assert at[1] != 3600
    out = laid(LIVING, with_, start=Start.LOW, butts=((0, 1, 3600.0), (0, 3, 3600.0)))
    locked = [b for b in out.butts if b.locked]
    assert [(b.course, b.s, b.kind) for b in locked] == [
        (1, 3600, StopKind.FRAMED),
        (3, 3600, StopKind.FRAMED),
    ]
    assert not said(out, "RB213")
    least = with_.practice.mm("stagger.min")
    between = [b for b in out.butts if b.course in {2, 4}]
    assert between
    assert all(abs(b.s - 3600) >= least for b in between)
    assert not any(b.locked for b in between)


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (3333.0, stops.NOGGING),
        (200.0, stops.SHORT),
        (3900.0, "butt joints are set to fall on framing"),
    ],
)
def test_a_locked_butt_stays_where_it_is_barred_and_the_reason_is_said(at, words):
    with_ = setting(**WIDE, butts=ButtsAt.ON_FRAMING)
    out = laid(LIVING, with_, start=Start.LOW, butts=((0, 2, at),))
    assert [(b.course, b.s) for b in out.butts if b.locked] == [(2, at)]
    (finding,) = said(out, "RB213")
    assert words in finding.text or (words == stops.NOGGING and "no member behind" in finding.text)
    assert finding.remedies[0] == "move it to a place that is not barred"


def test_a_locked_butt_that_costs_a_piece_more_is_laid_and_noted():
    # 7800 from 4800: a butt at 600 leaves 7200 and a second butt is needed.
    out = laid(LIVING, setting(**WIDE), start=Start.LOW, butts=((0, 1, 600.0),))
    own = sorted(b.s for b in out.butts if b.course == 1)
    assert own[0] == 600
    assert len(own) == 2
    (finding,) = said(out, "RB213")
    assert finding.severity is Severity.NOTE
    assert "3 pieces" in finding.text


def test_two_locked_butts_in_line_are_laid_and_said():
    out = laid(LIVING, setting(**WIDE), start=Start.LOW, butts=((0, 1, 3600.0), (0, 2, 3600.0)))
    assert [(b.course, b.s) for b in out.butts if b.locked] == [(1, 3600), (2, 3600)]
    findings = said(out, "RB213")
    assert [f.found for f in findings] == [0, 0]
    assert said(out, "RB202")


@pytest.mark.parametrize(
    "lock",
    [
        (0, 9, 3600.0),
        (2, 1, 3600.0),
        (0, 1, 9000.0),
        (0, 1, -10.0),
        (0, 1, 0.0),
        (0, 1, float("nan")),
        (0, 1, float("inf")),
    ],
)
def test_a_lock_that_has_no_place_any_more_is_noted_and_changes_nothing(lock):
    with_ = setting(**WIDE)
    out = laid(LIVING, with_, butts=(lock,))
    assert out.butts == laid(LIVING, with_).butts
    (finding,) = said(out, "RB110")
    assert finding.severity is Severity.NOTE
    assert finding.remedies


def test_a_lock_keeps_the_side_where_its_course_is():
    """With the start left open, the plan that has the course is taken before a cheaper one."""
    of = room(7800, 2450, joists=(joists(90, 600),), carry_in=4800.0)
    with_ = setting(**WIDE)
    count = len(laid(of, with_).courses)
    out = laid(of, with_, butts=((0, count, 3600.0),))
    assert [(b.course, b.s) for b in out.butts if b.locked] == [(count, 3600)]


def with_random_locks(project: Project, seed: int) -> Project:
    """The project with locks and first courses drawn over the set-out it has without."""
    draw = random.Random(seed)  # noqa: S311 - a test needs no secret
    (of,) = project.rooms
    choices: dict[str, SurfaceChoice] = {}
    for scheme in worked(project).rooms[0].surfaces:
        key = scheme.surface.key.partition(".")[0]
        locks: list[tuple[int, int, float]] = []
        for course in scheme.set_out.courses:
            own = [
                p
                for p in scheme.set_out.pieces
                if (p.field, p.course) == (course.field, course.number)
            ]
            low, high = min(p.blank[0] for p in own), max(p.blank[2] for p in own)
            for _ in range(draw.choice([0, 0, 1, 1, 2])):
                place = draw.choice(
                    [
                        draw.uniform(low - 300, high + 300),
                        float(round(draw.uniform(low, high))),
                        *(s.a[0] for s in scheme.surface.supports[:3]),
                    ]
                )
                locks.append((course.field, course.number, place))
        first = ((0, float(draw.randint(10, 1400))),) if draw.random() < 0.4 else ()
        choices[key] = replace(
            of.choice(key), butts=tuple(dict.fromkeys(locks)), first_course=first
        )
    return replace(project, rooms=(replace(of, choices=tuple(choices.values())),))


@settings(max_examples=30)
@given(projects(most_rooms=1), st.integers(0, 10**6))
def test_locks_of_random_rooms_are_kept_exactly_or_noted_and_the_rest_is_sound(project, seed):
    project = with_random_locks(project, seed)
    out = worked(project)
    crowded: set[str] = set()
    for scheme in out.rooms[0].surfaces:
        laid_out = scheme.set_out
        choice = project.rooms[0].choice(scheme.surface.key.partition(".")[0])
        kept = 0
        for field, course, at in choice.butts:
            there = [
                b
                for b in laid_out.butts
                if (b.field, b.course) == (field, course) and abs(b.s - at) < 1e-5
            ]
            assert all(b.locked for b in there)
            kept += bool(there)
        passed_over = [f for f in laid_out.findings if f.code == "RB110" and "locked" in f.text]
        assert len(choice.butts) == kept + len(passed_over)
        for butt in laid_out.butts:
            assert butt.locked is any(
                (butt.field, butt.course) == lock[:2] and abs(butt.s - lock[2]) < 1e-5
                for lock in choice.butts
            )
        if any(stops.IN_THE_WAY in f.text for f in said(laid_out, "RB213")):
            crowded.add(scheme.surface.ref)
    # Timber behind a joint locked beside a member has no room there, which is said of the joint.
    faults = [
        f
        for f in faults_of(as_data(out))
        if not (f.startswith(("trimmers:", "bearing:")) and f.split(": ")[1] in crowded)
    ]
    assert faults == []
