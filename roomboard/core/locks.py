"""What is to be said of butts and first courses that the user fixed by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.courses import (
    NO_LAST,
    THIN_FIRST,
    THIN_LAST,
    WIDER_AT_SQUARE_SET,
    widest_first,
)
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.plane import TOLERANCE
from roomboard.core.stops import MORE_PIECES

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.butts import Planned
    from roomboard.core.fields import Rules, Turned
    from roomboard.core.plane import Point
    from roomboard.core.project import SurfaceChoice
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import Butt
    from roomboard.core.stock import Board
    from roomboard.core.surface import Surface

UNLOCK = ("move it to a place that is not barred", "take the lock off, and it is placed anew")


def with_unlocking(finding: Finding) -> Finding:
    """Give a finding about a joint the user fixed the ways to mend it that every lock has."""
    if finding.code != "RB213":
        return finding
    return replace(finding, remedies=(*UNLOCK, *finding.remedies))


def first_course_of(choice: SurfaceChoice, field: int) -> float:
    """Return the width the user gave the first course of a field, mm; 0 for none."""
    return next((w for number, w in choice.first_course if number == field), 0.0)


def lock_findings(
    surface: Surface, laid: Sequence[tuple[Turned, Planned]], choice: SurfaceChoice
) -> Iterator[Finding]:
    """RB110: what the user fixed in fields, courses or places that are not there any more.

    Args:
        surface: The surface.
        laid: Its fields as they were set out.
        choice: The user's choice for it.
    """
    place = Place(room=surface.room, surface=surface.ref)
    kept = [lock for _, planned in laid for lock in planned.locked]
    for field, course, at in choice.butts:
        taken = next(
            (k for k in kept if k[:2] == (field, course) and abs(k[2] - at) < TOLERANCE), None
        )
        if taken is not None:
            kept.remove(taken)
            continue
        yield Finding(
            code="RB110",
            severity=Severity.NOTE,
            text=f"A butt joint of {surface.name} was locked in course {course}"
            f"{f' of field {field + 1}' if len(laid) > 1 or field else ''}, at a place that is no "
            "longer there; the lock is passed over and the butts are placed without it.",
            place=place,
            remedies=("take the lock off", "lock the joint again where it now stands"),
        )
    known = {turned.field.number for turned, _ in laid}
    for field, width in choice.first_course:
        if field not in known:
            yield Finding(
                code="RB110",
                severity=Severity.NOTE,
                text=f"A first course of {{width}} was set for field {field + 1} of "
                f"{surface.name}, which is no longer there; it is passed over.",
                params=(("width", float(width)),),
                place=place,
                remedies=("take the width of that first course out",),
            )


def field_lock_findings(
    turned: Turned, planned: Planned, butts: Sequence[Butt], rules: Rules, setting: Setting
) -> Iterator[Finding]:
    """RB213: locked butts too nearly in line with another, or that cost a piece more.

    Args:
        turned: The field.
        planned: Its courses and butts.
        butts: The same butts as values.
        rules: The pack's figures.
        setting: Pack, stock and choices.
    """
    for butt in butts:
        if not butt.locked:
            continue
        near = [
            abs(butt.s - other.s)
            for other in butts
            if min(abs(other.t1 - butt.t0), abs(other.t0 - butt.t1)) <= TOLERANCE
            and abs(butt.s - other.s) < rules.stagger - TOLERANCE
        ]
        if near:
            yield Finding(
                code="RB213",
                severity=Severity.WARNING,
                text=f"The locked butt joint in course {butt.course} of {turned.surface.name} "
                "stands only {apart} from a butt of the next course; {least} is asked.",
                params=(("apart", min(near)), ("least", rules.stagger)),
                place=_place(turned, (butt.s, butt.t0), (butt.s, butt.t1)),
                found=min(near),
                required=rules.stagger,
                source=setting.practice.cite("stagger.min"),
            )
    for course, runs, state in zip(planned.plan.courses, planned.runs, planned.states, strict=True):
        own = (course.field, course.number)
        fixed = {b.s for b in butts if b.locked and (b.field, b.course) == own}
        for run, option in zip(runs, state.options, strict=True):
            for stop in option.stops:
                if stop.s in fixed and stop.barred == (MORE_PIECES,):
                    yield Finding(
                        code="RB213",
                        severity=Severity.NOTE,
                        text=f"The locked butt joint in course {course.number} of "
                        f"{turned.surface.name} makes {len(option.stops) + 1} pieces of a run "
                        "that fewer would serve.",
                        place=_place(turned, (stop.s, run.bounds[1]), (stop.s, run.bounds[3])),
                    )


def first_course_findings(
    turned: Turned,
    planned: Planned,
    board: Board,
    widths: Sequence[float],
    rules: Rules,
    setting: Setting,
    choice: SurfaceChoice,
) -> Iterator[Finding]:
    """RB213: a first course that no sheet can give, or that leaves too thin a strip.

    Args:
        turned: The field.
        planned: Its courses.
        board: Its board.
        widths: Sheet widths that can be had, mm.
        rules: The pack's figures.
        setting: Pack, stock and choices.
        choice: The user's choice for the surface.
    """
    wanted = first_course_of(choice, turned.field.number)
    if not wanted:
        return
    name = turned.surface.name
    first, last = planned.plan.courses[0], planned.plan.courses[-1]
    s0, low, s1, high = turned.bounds
    line = first.t0 if first.recess_low and not first.recess_high else first.t1
    place = _place(turned, (s0, line), (s1, line))
    if abs(first.t1 - first.t0 - wanted) > TOLERANCE:
        yield _not_laid(turned, planned, board, widths, wanted)
        return
    for strip, words in ((first, THIN_FIRST), (last, THIN_LAST)):
        width = strip.t1 - strip.t0
        if width < rules.strip_min - TOLERANCE and high - low >= rules.strip_min:
            yield Finding(
                code="RB213",
                severity=Severity.WARNING,
                text=f"The first course of {name} was set to {{set}}: {words} "
                "of {least}, namely {width}.",
                params=(("set", wanted), ("least", rules.strip_min), ("width", width)),
                place=place,
                found=width,
                required=rules.strip_min,
                source=setting.practice.cite("strip.min"),
                remedies=(
                    "move the first course line to a place that is not barred",
                    "take the width of the first course out, and it is set out anew",
                ),
            )


def _not_laid(
    turned: Turned, planned: Planned, board: Board, widths: Sequence[float], wanted: float
) -> Finding:
    """Say why a first course could not be laid as wide as it was set."""
    surface = turned.surface
    _, low, _, high = turned.bounds
    most, lost = widest_first(turned, widths, board.recess_width, planned.plan.start)
    params: tuple[tuple[str, float], ...] = (("set", wanted),)
    severity = Severity.WARNING
    if wanted >= high - low - TOLERANCE:
        code, severity, why = "RB110", Severity.NOTE, "the surface is no wider than that"
    elif wanted > most + TOLERANCE:
        code, why = "RB213", WIDER_AT_SQUARE_SET if lost else "no sheet gives more than {most}"
        params = (*params, ("most", most))
    else:
        code, why = "RB213", NO_LAST
    return Finding(
        code=code,
        severity=severity,
        text=f"The first course of {surface.name} was set to {{set}}, but {why}; "
        "it is set out as if no width had been set.",
        params=params,
        place=Place(room=surface.room, surface=surface.ref),
        found=wanted,
        required=most if code == "RB213" and wanted > most else None,
        remedies=("take the width of the first course out", "set another width"),
    )


def _place(turned: Turned, *points: Point) -> Place:
    return Place(
        room=turned.surface.room,
        surface=turned.surface.ref,
        line=tuple(turned.field.frame.to_uv(p) for p in points),
    )
