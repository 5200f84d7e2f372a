"""Butt joints: the fewest and best placed, course by course and then all courses together."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.heeding import heed
from roomboard.core.plane import TOLERANCE, chords_at_s, snap
from roomboard.core.sheeting import Course, Stop, StopKind
from roomboard.core.stops import (
    BETWEEN,
    HELD_NEAR,
    MORE_PIECES,
    NOGGING,
    farthest,
    fewest,
    legal_stops,
    may_step,
    nogged_stops,
    with_held,
)

if TYPE_CHECKING:
    from roomboard.core.courses import CoursePlan
    from roomboard.core.fields import Rules, Turned
    from roomboard.core.plane import Interval, Region
    from roomboard.core.project import Start

# These order one lawful set-out before another; they are preferences of this program and
# not figures of practice. Fewer pieces come before shorter butts, shorter butts before
# less board, less board before butts far from the middle.
PIECE = 1e6
BREACH = 1e9
STAGGER_BREACH = 1e8
LOCK_LOST = 1e12
BUTT_MM = 10.0
BOARD_MM = 1.0
MIDDLE = 180.0
MID_BAY = 50.0
OFF_SUPPORT = 4e5
MOST_OPTIONS = 24
MOST_TRIED = 4096
KEPT = 256
"""So many answers for runs with the same stops are kept, the last ones."""


Lock = tuple[int, int, float]
"""A butt that the user fixed: field, course, place along the course (mm)."""


@dataclass(frozen=True)
class Option:
    """One way to cut a run into pieces.

    Attributes:
        stops: The butts, in order.
        cost: Its own cost.
    """

    stops: tuple[Stop, ...]
    cost: float


def _stock_for(length: float, lengths: Sequence[float]) -> float:
    at = bisect_left(lengths, length - TOLERANCE)
    return lengths[at] if at < len(lengths) else length


def _option_cost(
    stops: Sequence[Stop],
    run: Interval,
    lengths: Sequence[float],
    middle: float,
    half: float,
    share: float,
) -> float:
    at = [run[0], *(s.s for s in stops), run[1]]
    cost = PIECE * (len(at) - 1)
    cost += sum(_stock_for(b - a, lengths) for a, b in pairwise(at)) * BOARD_MM * share
    for stop in stops:
        hard = sum(r not in {NOGGING, MORE_PIECES, BETWEEN} for r in stop.barred)
        cost += BREACH / 4 if BETWEEN in stop.barred else 0.0
        cost += BREACH * hard + BUTT_MM * stop.height
        cost += MIDDLE * (1 - min(1.0, abs(stop.s - middle) / half))
        cost += MID_BAY if stop.kind is StopKind.BACK_BLOCKED else 0.0
        cost += BREACH / 2 if stop.kind is StopKind.UNBACKED else 0.0
    # Between equals the longer piece goes up first.
    return cost - (at[1] - at[0]) * 1e-3


def run_options(
    turned: Turned,
    run: Region,
    rules: Rules,
    lengths: Sequence[float],
    share: float,
    extra: int = 0,
    locked: Sequence[float] = (),
) -> tuple[Option, ...]:
    """Return ways to cut a run into as few pieces as can be, the cheapest first.

    Args:
        turned: The field.
        run: Part of a course that hangs together, (s, t).
        rules: The pack's figures.
        lengths: Sheet lengths that can be had, shortest first, mm.
        share: Share of a sheet's width that the course takes, 0 to 1.
        extra: How many pieces more than the fewest to allow.
        locked: Places of butts that the user fixed; those inside the run are kept to.
    """
    heed()
    s0, _, s1, _ = run.bounds
    longest = lengths[-1] if lengths else s1 - s0
    fs0, _, fs1, _ = turned.bounds
    middle, half = (fs0 + fs1) / 2, max((fs1 - fs0) / 2, 1.0)
    held = tuple(sorted(x for x in locked if s0 < x < s1))
    if s1 - s0 <= longest + TOLERANCE and not extra and not held:
        return (Option((), _option_cost((), (s0, s1), lengths, middle, half, share)),)
    known = lengths or (longest,)
    stops = with_held(legal_stops(turned, run, rules, longest), turned, run, rules, known, held)
    usable = tuple(s for s in stops if s.s in held or not set(s.barred) - {MORE_PIECES})
    weighed = (tuple(lengths), middle, half, share)
    found = _cheapest(usable, (s0, s1), (rules.piece_min, longest), extra, held, weighed)
    for clear in (True, False):
        if not found:
            # Those the user fixed are among the stops already.
            free = nogged_stops(turned, run, rules, known, held, clear_of_members=clear)
            every = (*stops, *(s for s in free if s.s not in held))
            least = min(rules.piece_min, longest) / 2
            found = _cheapest(every, (s0, s1), (least, longest), extra, held, weighed)
    return found


@lru_cache(maxsize=KEPT)
def _cheapest(
    stops: tuple[Stop, ...],
    run: Interval,
    sizes: Interval,
    extra: int,
    held: tuple[float, ...],
    weighed: tuple[tuple[float, ...], float, float, float],
) -> tuple[Option, ...]:
    """Return the cheapest ways through stops; most courses of a field have the same stops.

    Args:
        stops: The stops a way may lead through.
        run: Its ends, mm.
        sizes: Shortest and longest piece, mm.
        extra: How many pieces more than the fewest to allow.
        held: Places that every way leads through, mm.
        weighed: Sheet lengths, middle and half of the field, and the course's share of a sheet.
    """
    options = [
        Option(c, _option_cost(c, run, *weighed)) for c in _paths(stops, run, sizes, extra, held)
    ]
    options.sort(key=lambda o: (o.cost, tuple(s.s for s in o.stops)))
    return tuple(options[:MOST_OPTIONS])


def _paths(
    stops: Sequence[Stop], run: Interval, sizes: Interval, extra: int, held: Sequence[float]
) -> list[tuple[Stop, ...]]:
    """Return the ways from end to end with the fewest pieces, plus ``extra``.

    Args:
        stops: The stops a way may lead through.
        run: Its ends, mm.
        sizes: Shortest and longest piece, mm.
        extra: How many pieces more than the fewest to allow.
        held: Places that every way leads through, mm.
    """
    through = sorted(stops, key=lambda s: (s.s, s.kind))
    nodes = [run[0], *(s.s for s in through), run[1]]
    _, back = fewest(nodes, sizes[1], sizes[0], held)
    if math.isinf(back[0]):
        return []
    wanted = back[0] + extra
    last = len(nodes) - 1
    found: list[tuple[Stop, ...]] = []
    tried = 0

    def walk(i: int, used: tuple[Stop, ...]) -> None:
        nonlocal tried
        tried += 1
        if tried > MOST_TRIED:
            return
        for j in range(farthest(nodes, i, sizes[1]), i, -1):
            if len(used) + 1 + back[j] > wanted or not may_step(nodes, i, j, sizes, held):
                continue
            if j < last:
                walk(j, (*used, through[j - 1]))
            elif len(used) + 1 == wanted or not extra:
                found.append(used)

    walk(0, ())
    return found


@dataclass(frozen=True)
class _State:
    """One choice of butts for a whole course."""

    options: tuple[Option, ...]
    cost: float
    low: tuple[float, ...]
    high: tuple[float, ...]


def _states(
    runs: Sequence[Region], options: Sequence[Sequence[Option]], course: Course
) -> list[_State]:
    combos: list[tuple[Option, ...]] = [()]
    for choice in options:
        combos = [(*c, o) for c in combos for o in choice]
        if len(combos) > 4 * MOST_OPTIONS:
            combos.sort(key=lambda c: sum(o.cost for o in c))
            combos = combos[: 4 * MOST_OPTIONS]
    combos.sort(key=lambda c: (sum(o.cost for o in c), [s.s for o in c for s in o.stops]))
    states: list[_State] = []
    for combo in combos[: 2 * MOST_OPTIONS]:
        low: list[float] = []
        high: list[float] = []
        for run, option in zip(runs, combo, strict=True):
            for stop in option.stops:
                chords = chords_at_s(run, stop.s)
                if any(a <= course.t0 + TOLERANCE for a, _ in chords):
                    low.append(stop.s)
                if any(b >= course.t1 - TOLERANCE for _, b in chords):
                    high.append(stop.s)
        states.append(_State(combo, sum(o.cost for o in combo), tuple(low), tuple(high)))
    return states


def _clash(one: Sequence[float], two: Sequence[float], stagger: float) -> float:
    cost = 0.0
    for a in one:
        for b in two:
            apart = abs(a - b)
            if apart < stagger - TOLERANCE:
                cost += STAGGER_BREACH * (2 - apart / stagger)
    return cost


def _best_states(
    courses: Sequence[Course], states: Sequence[Sequence[_State]], stagger: float
) -> tuple[list[_State], float]:
    """Choose butts course by course so that neighbours stay apart and the sum is least."""
    order = sorted(range(len(courses)), key=lambda i: courses[i].t0)
    costs: list[float] = [s.cost for s in states[order[0]]]
    trail: list[list[int]] = []
    # Courses with the same stops have the same butts to choose from: each pair is weighed once.
    clashes: dict[tuple[tuple[float, ...], tuple[float, ...]], float] = {}
    for before, here in pairwise(order):
        came: list[int] = []
        now: list[float] = []
        for state in states[here]:
            best, best_cost = 0, math.inf
            for k, prior in enumerate(states[before]):
                cost = costs[k]
                if cost >= best_cost:
                    continue
                if prior.high and state.low:
                    pair = (prior.high, state.low)
                    if pair not in clashes:
                        clashes[pair] = _clash(*pair, stagger)
                    cost += clashes[pair]
                if cost < best_cost:
                    best, best_cost = k, cost
            came.append(best)
            now.append(best_cost + state.cost)
        trail.append(came)
        costs = now
    last = min(range(len(costs)), key=lambda k: costs[k])
    total = costs[last]
    picked = [last]
    for came in reversed(trail):
        picked.append(came[picked[-1]])
    picked.reverse()
    chosen: list[_State | None] = [None] * len(courses)
    for index, k in zip(order, picked, strict=True):
        chosen[index] = states[index][k]
    return [c for c in chosen if c is not None], total


@dataclass(frozen=True)
class Planned:
    """A course plan with its butts.

    Attributes:
        plan: The courses.
        runs: Parts of each course that hang together.
        states: The butts of each course.
        cost: What speaks against it.
        locked: The butts the user fixed that have a place in it.
    """

    plan: CoursePlan
    runs: tuple[tuple[Region, ...], ...]
    states: tuple[_State, ...]
    cost: float
    locked: tuple[Lock, ...] = ()


def fitting_locks(
    plan: CoursePlan, runs: Sequence[Sequence[Region]], locked: Sequence[Lock]
) -> tuple[Lock, ...]:
    """Return the butts the user fixed that have a place in a course plan, each place once.

    Args:
        plan: The courses.
        runs: Parts of each course that hang together.
        locked: Field, course and place of each butt that the user fixed.
    """
    parts = {(c.field, c.number): r for c, r in zip(plan.courses, runs, strict=True)}
    found: list[Lock] = []
    for field, number, s in locked:
        if not math.isfinite(s):
            continue
        at = snap(s)
        inside = any(
            r.bounds[0] + HELD_NEAR < at < r.bounds[2] - HELD_NEAR
            for r in parts.get((field, number), ())
        )
        if inside and not any(
            (field, number) == other[:2] and abs(at - other[2]) <= HELD_NEAR for other in found
        ):
            found.append((field, number, at))
    return tuple(found)


def plan_courses(
    turned: Turned,
    plan: CoursePlan,
    rules: Rules,
    sizes: dict[float, tuple[float, ...]],
    locked: Sequence[Lock],
    preferred: Sequence[Start],
) -> Planned:
    """Choose the butts of all courses of a plan together, and weigh the plan.

    Args:
        turned: The field.
        plan: Its courses.
        rules: The pack's figures.
        sizes: Sheet lengths that can be had for each width, mm.
        locked: Field, course and place of each butt that the user fixed.
        preferred: Start sides in order of preference.
    """
    runs = tuple(turned.runs(c.t0, c.t1) for c in plan.courses)
    cost = float(preferred.index(plan.start)) if plan.start in preferred else float(len(preferred))
    cost += plan.score * BOARD_MM
    own = [lock for lock in locked if lock[0] == turned.field.number]
    fitting = fitting_locks(plan, runs, own)
    cost += LOCK_LOST * (len(own) - len(fitting))

    def options_for(extra: int) -> list[list[_State]]:
        states: list[list[_State]] = []
        for course, parts in zip(plan.courses, runs, strict=True):
            lengths = lengths_for(course, sizes)
            width = course.t1 - course.t0
            fit = max(1, min(2, math.floor((course.sheet_width + TOLERANCE) / width)))
            held = [s for f, n, s in fitting if f == course.field and n == course.number]
            options: list[tuple[Option, ...]] = []
            for run in parts:
                fewest = run_options(turned, run, rules, lengths, 1 / fit, 0, held)
                if extra and any(o.stops for o in fewest):
                    fewest += run_options(turned, run, rules, lengths, 1 / fit, extra, held)
                options.append(fewest)
            states.append(_states(parts, options, course))
        return states

    chosen, total = _best_states(plan.courses, options_for(0), rules.stagger)
    if total >= STAGGER_BREACH:
        again, better = _best_states(plan.courses, options_for(1), rules.stagger)
        if better < total:
            chosen, total = again, better
    cost += total
    for parts in runs:
        for run in parts:
            s0, t0, s1, t1 = run.bounds
            if min(t1 - t0, s1 - s0) < rules.strip_min - TOLERANCE:
                cost += BREACH / 2
    cost += _line_costs(turned, plan, rules)
    return Planned(plan, runs, tuple(chosen), cost, fitting)


def _line_costs(turned: Turned, plan: CoursePlan, rules: Rules) -> float:
    """Weigh the lines between courses: off their supports, or in line with an opening's side."""
    cost = 0.0
    for course in plan.courses:
        if not course.recess_high:
            continue
        line = course.t1
        cost += BREACH * len(bands_at(turned, line))
        cost += BREACH / 2 * over_joint(turned, line, rules)
        if not turned.field.across and not any(
            abs(line - x) <= TOLERANCE for x in turned.along_lines
        ):
            cost += OFF_SUPPORT
        if turned.surface.place == "wall":
            for _, framed, (_, p0, _, p1) in turned.openings:
                near = min(abs(line - p0), abs(line - p1))
                if framed and near < rules.opening_clear and not turned.field.across:
                    cost += OFF_SUPPORT
                elif framed and 0 < near < rules.strip_min:
                    cost += OFF_SUPPORT / 4
    return cost


def bands_at(turned: Turned, line: float) -> tuple[str, ...]:
    """Return the bands without joints in which a line between courses would run."""
    return tuple(
        name
        for name, along, low, high in turned.bands
        if along and low + TOLERANCE < line < high - TOLERANCE
    )


def over_joint(turned: Turned, line: float, rules: Rules) -> bool:
    """Tell whether a line between courses runs too near a long joint of the layer under it."""
    return any(
        along and abs(line - at) < rules.layer_edges - TOLERANCE for along, at, _, _ in turned.under
    )


def lengths_for(course: Course, sizes: dict[float, tuple[float, ...]]) -> tuple[float, ...]:
    """Return the lengths of the sheets a course can be cut from, shortest first."""
    width = course.t1 - course.t0
    both = course.recess_low and course.recess_high
    fits = {
        x
        for w, lengths in sizes.items()
        if w >= width - TOLERANCE and (not both or abs(w - width) <= TOLERANCE)
        for x in lengths
    }
    return tuple(sorted(fits))
