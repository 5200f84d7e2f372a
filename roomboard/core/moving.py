"""Where butt joints and course lines may be moved to, and how they are fixed there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.butts import lengths_for
from roomboard.core.courses import course_stops
from roomboard.core.fields import Rules, Turned
from roomboard.core.member_words import member_words
from roomboard.core.plane import TOLERANCE, chords_at_s, same, snap
from roomboard.core.project import Start
from roomboard.core.set_out import sizes_for
from roomboard.core.sheeting import CourseStop, CourseWhy, Stop, StopKind
from roomboard.core.stops import HELD_NEAR, SHORT, legal_stops, nogged_stops, with_held
from roomboard.core.units import write_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Region
    from roomboard.core.project import SurfaceChoice, Units
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import Butt, Course, SetOut
    from roomboard.core.surface import Surface

ALIKE = 0.5
"""A line whose ends differ by less than this across it runs straight, mm."""


def as_measured(scheme: SurfaceScheme) -> Surface:
    """Return a surface without the timber that was asked for behind it."""
    surface = scheme.surface
    return replace(surface, supports=tuple(s for s in surface.supports if s.existing))


def _turned(scheme: SurfaceScheme, field: int) -> Turned | None:
    known = next((f for f in scheme.set_out.fields if f.number == field), None)
    return Turned.of(as_measured(scheme), known) if known is not None else None


# --- butts -----------------------------------------------------------------------------


def butt_stops(
    scheme: SurfaceScheme, setting: Setting, choice: SurfaceChoice, field: int, course: int
) -> tuple[Stop, ...]:
    """Return the places along a course where a butt joint may be put, and what bars each other.

    Butts of the adjoining courses count as they now stand, and so do other butts that the user
    fixed in this course. Where a butt stands now there is always a stop. Where no framing is in
    reach, places that want a nogging are among the stops, barred.

    Args:
        scheme: The surface as it is set out.
        setting: Pack, stock and choices.
        choice: The user's choice for the surface.
        field: Number of the field.
        course: Number of the course in it.

    Returns:
        Stops in order along the course, their ends in (u, v); none if there is no such course.
    """
    turned = _turned(scheme, field)
    laid = next((c for c in scheme.set_out.courses if (c.field, c.number) == (field, course)), None)
    if turned is None or laid is None:
        return ()
    board = setting.board(scheme.surface.board, scheme.surface.place)
    lengths = lengths_for(laid, sizes_for(scheme.surface, board, setting, choice))
    rules = Rules.of(setting)
    others = [
        b
        for b in scheme.set_out.butts
        if b.field == field
        and b.course != course
        and min(abs(b.t1 - laid.t0), abs(b.t0 - laid.t1)) <= TOLERANCE
    ]
    present = [b.s for b in scheme.set_out.butts if (b.field, b.course) == (field, course)]
    fixed = [s for f, n, s in choice.butts if (f, n) == (field, course)]
    stops: list[Stop] = []
    for run in turned.runs(laid.t0, laid.t1):
        for stop in _run_stops(turned, run, rules, lengths, present):
            barred = (*stop.barred, *_clashes(stop, run, laid, others, fixed, rules))
            chords = chords_at_s(run, stop.s)
            frame = turned.field.frame
            stops.append(
                replace(
                    stop,
                    barred=tuple(dict.fromkeys(barred)),
                    at=tuple(frame.to_uv((stop.s, t)) for chord in chords for t in chord),
                    along=snap(stop.s - turned.bounds[0]),
                )
            )
    return tuple(sorted(stops, key=lambda x: (x.s, x.kind, x.at)))


def _run_stops(
    turned: Turned,
    run: Region,
    rules: Rules,
    lengths: Sequence[float],
    present: Sequence[float],
) -> tuple[Stop, ...]:
    s0, _, s1, _ = run.bounds
    known = tuple(lengths) or (s1 - s0,)
    stops = legal_stops(turned, run, rules, known[-1])
    here = tuple(sorted({s for s in present if s0 + HELD_NEAR < s < s1 - HELD_NEAR}))
    if not any(s.legal for s in stops):
        extra = nogged_stops(turned, run, rules, known, ())
        stops = (*stops, *(x for x in extra if not any(abs(x.s - s.s) < HELD_NEAR for s in stops)))
    return with_held(stops, turned, run, rules, known, here)


def _clashes(
    stop: Stop,
    run: Region,
    course: Course,
    others: Sequence[Butt],
    fixed: Sequence[float],
    rules: Rules,
) -> list[str]:
    """Say which butts already there bar a stop."""
    chords = chords_at_s(run, stop.s)
    low = any(a <= course.t0 + TOLERANCE for a, _ in chords)
    high = any(b >= course.t1 - TOLERANCE for _, b in chords)
    reasons: list[str] = []
    for other in others:
        touches = low if abs(other.t1 - course.t0) <= TOLERANCE else high
        if touches and abs(other.s - stop.s) < rules.stagger - TOLERANCE:
            reasons.append(
                f"it would stand too nearly in line with a butt of course {other.course}"
            )
    if any(HELD_NEAR < abs(s - stop.s) < rules.piece_min - TOLERANCE for s in fixed):
        reasons.append(SHORT)
    return reasons


# --- course lines ----------------------------------------------------------------------


def first_course_stops(
    scheme: SurfaceScheme, setting: Setting, choice: SurfaceChoice, field: int, step: float = 0.0
) -> tuple[CourseStop, ...]:
    """Return the places where the first course line of a field may be put; see course_stops.

    Args:
        scheme: The surface as it is set out.
        setting: Pack, stock and choices.
        choice: The user's choice for the surface.
        field: Number of the field.
        step: Step of the drawing, mm; 0 for none.
    """
    turned = _turned(scheme, field)
    board = setting.board(scheme.surface.board, scheme.surface.place)
    sizes = sizes_for(scheme.surface, board, setting, choice)
    if turned is None or not turned.region or not sizes:
        return ()
    side = start_side(scheme.set_out, field)
    return course_stops(turned, Rules.of(setting), tuple(sizes), board.recess_width, side, step)


def start_side(laid: SetOut, field: int) -> Start:
    """Return the side from which the courses of a field are counted, low or high."""
    first = next((c for c in laid.courses if (c.field, c.number) == (field, 1)), None)
    high = first is not None and first.recess_low and not first.recess_high
    return Start.HIGH if high else Start.LOW


def kept_start(laid: SetOut, choice: SurfaceChoice) -> Start:
    """Return the start to choose so that the courses go on being counted as they are.

    A locked butt names its course by number and a first course is counted from the start side;
    with the start on automatic both would change sides when the program found the other better.

    Args:
        laid: The surface as it is set out.
        choice: The user's choice for it.
    """
    if choice.start is not Start.AUTO:
        return choice.start
    sides = {start_side(laid, f.number) for f in laid.fields}
    if len(sides) != 1:
        return Start.AUTO  # fields that start from different sides have one choice between them
    firsts = [c for c in laid.courses if c.number == 1]
    lasts = {c.field: c for c in laid.courses}
    balanced = firsts and all(
        c.ripped and c is not lasts[c.field] and abs(_width(c) - _width(lasts[c.field])) < TOLERANCE
        for c in firsts
    )
    return Start.BALANCED if balanced and not choice.first_course else sides.pop()


def _width(course: Course) -> float:
    return course.t1 - course.t0


# --- in words --------------------------------------------------------------------------

OFFERED = {
    CourseWhy.FULL: "a full sheet from the start side",
    CourseWhy.FULL_FROM_FAR: "full sheets from the other side",
    CourseWhy.BALANCED: "the first and the last course alike",
    CourseWhy.LEAST_STRIP: "the last course the least strip",
    CourseWhy.STEP: "a step of the drawing",
}


def stop_in_words(stop: Stop | CourseStop, units: Units, surface: Surface | None = None) -> str:
    """Say what a stop is and what bars it, e.g. ``Butt on joist 6, 3600 mm from the wall``.

    Args:
        stop: A stop from :func:`butt_stops` or :func:`first_course_stops`.
        units: The project's units.
        surface: The surface it lies on, so that its members are called by their names.
    """
    barred = stop.barred
    if isinstance(stop, CourseStop):
        said = f"First course {write_length(stop.width, units, suffix=True)}: {OFFERED[stop.why]}"
    else:
        member = _member(stop.support, surface)
        behind = {
            StopKind.FRAMED: f"on {member}",
            StopKind.BACK_BLOCKED: "between members, back-blocked",
        }.get(stop.kind, "with nothing behind it")
        far = write_length(stop.along, units, suffix=True)
        said = f"Butt {behind}, {far} from {_datum(stop, surface)}"
        if stop.support:
            barred = tuple(b.replace(stop.support, member) for b in barred)
    if stop.legal:
        return said
    return f"{said}; barred: {'; '.join(barred)}"


def _member(support: str, surface: Surface | None) -> str:
    """Return what a member is called in a sentence; its id where it is not known."""
    found = next((s for s in surface.supports if s.id == support), None) if surface else None
    if surface is None or found is None:
        return support
    return member_words(found, alone=len(surface.zones) == 1)


def _datum(stop: Stop, surface: Surface | None) -> str:
    """Say from where a place along a course is measured."""
    if surface is not None and len(surface.zones) > 1:
        return "the low side of its part"
    if surface is None or not surface.lettered or not stop.at:
        return "the wall"
    upright = same(stop.at[0][0], stop.at[-1][0], ALIKE)
    return "the left corner" if upright else "the foot of the lining"
