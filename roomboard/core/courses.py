"""Courses: how a field is divided into strips of sheets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement, pairwise
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Start
from roomboard.core.sheeting import Course, CourseStop, CourseWhy

if TYPE_CHECKING:
    from roomboard.core.fields import Rules, Turned

SECOND_WIDTH = 75.0
"""What a further sheet width must save, mm of width bought, before it is worth ordering."""
MIXES = 2
"""How many of the narrowest mixes of widths are set out in full."""

WIDER = "no sheet is so wide"
WIDER_AT_SQUARE_SET = "no sheet is so wide once its recess is cut off at the square-set angle"
NO_LAST = "the last course would be too narrow to lose its recess at the square-set angle"
THIN_FIRST = "it leaves a first course narrower than the least strip"
THIN_LAST = "it leaves a last course narrower than the least strip"
UNBACKED = "a long joint would run between members"


@dataclass(frozen=True)
class CoursePlan:
    """One way to divide a field into courses.

    Attributes:
        courses: From the start side on.
        start: Which side that is.
        score: Width of board bought, mm, with a little for every further width.
    """

    courses: tuple[Course, ...]
    start: Start
    score: float


def course_plans(
    turned: Turned,
    widths: Sequence[float],
    recess: float,
    starts: Sequence[Start],
    first: float = 0.0,
) -> tuple[CoursePlan, ...]:
    """Return ways to divide a field into courses, as few as the widths allow.

    Full courses lie from the start side on; the last is ripped, its cut edge to the far
    side. A balanced set-out rips the first and the last alike. Along a square-set angle the
    recess is cut off.

    Args:
        turned: The field.
        widths: Sheet widths that can be had, mm.
        recess: How far the recess reaches in, mm.
        starts: Sides to start from.
        first: Width the first course is to have, mm; full courses follow it and the last is
            ripped. 0 for a full course. Where no sheet serves, there is no way.
    """
    _, low, _, high = turned.bounds
    off_low, off_high = _lost(turned, recess)
    if first:
        sides = [s for s in starts if s is not Start.BALANCED] or [Start.LOW]
        return tuple(
            plan for start in sides for plan in _plans_from(turned, widths, recess, start, first)
        )
    plans: list[CoursePlan] = []
    for score, chosen in _mixes(high - low + off_low + off_high, widths):
        for start in starts:
            lines = _course_lines(chosen, low, high, off_low, off_high, start)
            if lines is None:
                continue
            order = chosen if start is not Start.HIGH else chosen[::-1]
            plans.append(_plan(turned, lines, order, start, score))
    return tuple(plans)


def plans_past_bands(
    turned: Turned, widths: Sequence[float], recess: float, starts: Sequence[Start]
) -> tuple[CoursePlan, ...]:
    """Return ways to divide a field that put a line at a side of a band without joints.

    Args:
        turned: The field.
        widths: Sheet widths that can be had, mm.
        recess: How far the recess reaches in, mm.
        starts: Sides to start from.
    """
    _, low, _, high = turned.bounds
    plans: list[CoursePlan] = []
    for start in starts:
        if start is Start.BALANCED:
            continue
        most = widest_first(turned, widths, recess, start)[0]
        firsts: set[float] = set()
        for _, along, bottom, top in turned.bands:
            for side in (bottom, top) if along else ():
                away = high - side if start is Start.HIGH else side - low
                firsts |= {
                    snap(away - n * width)
                    for width in widths
                    for n in range(max(0, math.ceil(away / width)))
                    if TOLERANCE < away - n * width <= most + TOLERANCE
                }
        if turned.under:
            firsts |= {snap(width / 2) for width in widths}
            firsts |= {snap(width * k / 4) for width in widths for k in (1, 3)}
        for first in sorted(x for x in firsts if x <= most + TOLERANCE):
            plans += _plans_from(turned, widths, recess, start, first)
    return tuple(plans)


def _lost(turned: Turned, recess: float) -> tuple[float, float]:
    """Return what a square-set angle takes off the sheet at the low and at the high side, mm."""
    _, low, _, high = turned.bounds
    return (
        recess if turned.square_set_at(low) else 0.0,
        recess if turned.square_set_at(high) else 0.0,
    )


def _mixes(reach: float, widths: Sequence[float]) -> list[tuple[float, tuple[float, ...]]]:
    """Return the mixes of the fewest widths that reach across, each with its score."""
    count = max(1, math.ceil((reach - TOLERANCE) / max(widths)))
    mixes = sorted(
        (_score(mix), mix)
        for mix in combinations_with_replacement(sorted(widths, reverse=True), count)
        if sum(mix) >= reach - TOLERANCE
    )
    # A mix that saves width may lack the lengths: one width throughout stays in the running.
    return [mix for rank, mix in enumerate(mixes) if rank < MIXES or len(set(mix[1])) == 1]


def _score(mix: Sequence[float]) -> float:
    return sum(mix) + SECOND_WIDTH * (len(set(mix)) - 1)


def _plan(
    turned: Turned, lines: Sequence[float], widths: Sequence[float], start: Start, score: float
) -> CoursePlan:
    """Make the courses between lines that go from low to high, as the widths do."""
    _, low, _, high = turned.bounds
    strips = list(zip(pairwise(lines), widths, strict=True))
    if start is Start.HIGH:
        strips.reverse()
    courses = tuple(
        Course(
            field=turned.field.number,
            number=number,
            t0=a,
            t1=b,
            sheet_width=width,
            recess_low=a > low + TOLERANCE,
            recess_high=b < high - TOLERANCE,
        )
        for number, ((a, b), width) in enumerate(strips, 1)
    )
    return CoursePlan(courses, start, score)


def _plans_from(
    turned: Turned, widths: Sequence[float], recess: float, start: Start, first: float
) -> list[CoursePlan]:
    """Return the ways that begin with a course of a given width."""
    _, low, _, high = turned.bounds
    near, far = _lost(turned, recess)
    if start is Start.HIGH:
        near, far = far, near
    rest = high - low - first
    own = [w for w in widths if w >= first + near - TOLERANCE]
    if not own or first <= TOLERANCE or rest <= TOLERANCE:
        return []
    plans: list[CoursePlan] = []
    for _, mix in _mixes(rest + far, widths):
        from_side = [0.0, first, *(first + sum(mix[:n]) for n in range(1, len(mix)))]
        if from_side[-1] >= high - low - TOLERANCE:
            continue
        # A width that is ordered anyway comes before another.
        sheets = (min(own, key=lambda w: (w not in mix, w)), *mix)
        lines = [low + x for x in from_side] if start is not Start.HIGH else []
        lines = lines or [high - x for x in from_side]
        ends = sorted(snap(x) for x in (*lines, high if start is not Start.HIGH else low))
        order = sheets if start is not Start.HIGH else sheets[::-1]
        plans.append(_plan(turned, ends, order, start, _score(sheets)))
    return plans


def _course_lines(
    widths: Sequence[float], low: float, high: float, off_low: float, off_high: float, start: Start
) -> list[float] | None:
    """Return the lines between courses from low to high, or None if they do not fit."""
    if len(widths) == 1:
        return [low, high]
    if start is Start.BALANCED:
        inner = sum(widths[1:-1])
        end = (high - low - inner) / 2
        if end > min(widths[0] - off_low, widths[-1] - off_high) + TOLERANCE or end <= TOLERANCE:
            return None
        lines = [low, low + end]
        for width in widths[1:-1]:
            lines.append(lines[-1] + width)
        lines.append(high)
    elif start is Start.HIGH:
        lines = [high, high - widths[0] + off_high]
        for width in widths[1:-1]:
            lines.append(lines[-1] - width)
        lines.append(low)
        lines.reverse()
    else:
        lines = [low, low + widths[0] - off_low]
        for width in widths[1:-1]:
            lines.append(lines[-1] + width)
        lines.append(high)
    lines = [snap(x) for x in lines]
    return lines if all(b - a > TOLERANCE for a, b in pairwise(lines)) else None


# --- where the first line may fall ------------------------------------------------------


def widest_first(
    turned: Turned, widths: Sequence[float], recess: float, start: Start
) -> tuple[float, float]:
    """Return the widest first course, and what a square-set angle takes off it, mm.

    Args:
        turned: The field.
        widths: Sheet widths that can be had, mm.
        recess: How far the recess reaches in, mm.
        start: Side it lies at.
    """
    lost = _lost(turned, recess)[1 if start is Start.HIGH else 0]
    return max(widths) - lost, lost


def course_stops(
    turned: Turned,
    rules: Rules,
    widths: Sequence[float],
    recess: float,
    start: Start,
    step: float = 0.0,
) -> tuple[CourseStop, ...]:
    """Return the places where the first course line may fall, and what bars each other place.

    The places are a full width from either side, the first and last course alike, every place
    that makes the last rip a whole least strip, and the steps of the drawing.

    Args:
        turned: The field.
        rules: The pack's figures.
        widths: Sheet widths that can be had, mm.
        recess: How far the recess reaches in, mm.
        start: Side the courses start from; anything but the high side counts as the low side.
        step: Step of the drawing, mm; 0 for none.

    Returns:
        Stops in order across the sheets; each has its line in the field's (s, t) and (u, v).
    """
    s0, low, s1, high = turned.bounds
    side = Start.HIGH if start is Start.HIGH else Start.LOW
    frame = turned.field.frame
    stops: list[CourseStop] = []
    for width, why in _first_widths(turned, rules, widths, recess, side, step):
        t = snap(high - width if side is Start.HIGH else low + width)
        stops.append(
            CourseStop(
                t=t,
                width=width,
                start=side,
                why=why,
                barred=tuple(_bars(turned, rules, widths, recess, side, width)),
                at=(frame.to_uv((s0, t)), frame.to_uv((s1, t))),
            )
        )
    return tuple(sorted(stops, key=lambda c: c.t))


def _first_widths(
    turned: Turned,
    rules: Rules,
    widths: Sequence[float],
    recess: float,
    side: Start,
    step: float,
) -> list[tuple[float, CourseWhy]]:
    """Return the widths a first course could be given, each once, with why it is offered."""
    _, low, _, high = turned.bounds
    total = high - low
    near, far = _lost(turned, recess)
    if side is Start.HIGH:
        near, far = far, near
    most = max(widths) - near
    offered: list[tuple[float, CourseWhy]] = [(w - near, CourseWhy.FULL) for w in widths]
    offered += [
        (plan.courses[0].t1 - plan.courses[0].t0, CourseWhy.BALANCED)
        for plan in course_plans(turned, widths, recess, [Start.BALANCED])
    ]
    for width in sorted(widths):
        for whole, why in (
            (total - width + far, CourseWhy.FULL_FROM_FAR),
            (total - rules.strip_min, CourseWhy.LEAST_STRIP),
        ):
            least = max(0, math.ceil((whole - most - TOLERANCE) / width))
            count = math.ceil(whole / width)
            offered += [(whole - n * width, why) for n in range(least, count)]
    if step > 0:
        count = math.floor((min(most, total) + TOLERANCE) / step)
        offered += [(step * n, CourseWhy.STEP) for n in range(1, count + 1)]
    found: dict[float, CourseWhy] = {}
    for width, why in offered:
        if TOLERANCE < width < total - TOLERANCE:
            found.setdefault(snap(width), why)
    return sorted(found.items())


def _bars(
    turned: Turned,
    rules: Rules,
    widths: Sequence[float],
    recess: float,
    side: Start,
    width: float,
) -> Iterator[str]:
    """Say what bars a first course of some width."""
    most, lost = widest_first(turned, widths, recess, side)
    if width > most + TOLERANCE:
        yield WIDER_AT_SQUARE_SET if lost else WIDER
        return
    plans = course_plans(turned, widths, recess, [side], width)
    if not plans:
        yield NO_LAST
        return
    plan = min(plans, key=lambda p: p.score)
    if width < rules.strip_min - TOLERANCE:
        yield THIN_FIRST
    last = plan.courses[-1]
    if last.t1 - last.t0 < rules.strip_min - TOLERANCE:
        yield THIN_LAST
    yield from _bars_of_lines(turned, rules, plan)


def _bars_of_lines(turned: Turned, rules: Rules, plan: CoursePlan) -> Iterator[str]:
    """Say what bars the joints between sheets that run along their supports."""
    if turned.field.across:
        return
    lines = [c.t1 for c in plan.courses if c.recess_high]
    if not all(any(abs(t - x) <= TOLERANCE for x in turned.along_lines) for t in lines):
        yield UNBACKED
    if turned.surface.place == "wall":
        for name, framed, (_, p0, _, p1) in turned.openings:
            near = min(min(abs(t - p0), abs(t - p1)) for t in lines)
            if framed and near < rules.opening_clear - TOLERANCE:
                yield f"a long joint would stand too near the side of opening {name}"
