"""Stops: where a butt joint may fall along a course, and what bars every other place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, chords_at_s, snap, subtract_intervals
from roomboard.core.sheeting import Stop, StopKind

if TYPE_CHECKING:
    from roomboard.core.fields import Crossing, Rules, Turned
    from roomboard.core.plane import Interval, Region


BETWEEN = "butt joints are set to fall between members"


def legal_stops(
    turned: Turned,
    run: Region,
    rules: Rules,
    longest: float,
    neighbours: Sequence[float] = (),
) -> tuple[Stop, ...]:
    """Return every place along a run where a butt joint might fall, with what bars it.

    The places are the supports square to the sheets, the middles of the bays between them,
    and nothing else: a butt joint needs something behind it.

    Args:
        turned: The field the run belongs to.
        run: Part of a course that hangs together, (s, t) mm.
        rules: The pack's figures.
        longest: Longest sheet that can be had and carried in, mm.
        neighbours: Places of butts in the adjoining courses, mm along the sheets.
    """
    s0, t0, s1, t1 = run.bounds
    places: list[tuple[float, StopKind, Crossing | None]] = []
    inside = [c for c in turned.crossings if s0 + TOLERANCE < c.s < s1 - TOLERANCE]
    places.extend((c.s, StopKind.FRAMED, c) for c in inside if _backs(run, c))
    bays: dict[float, tuple[Crossing, Crossing]] = {}
    for one, two in pairwise(c for c in turned.crossings if _backs(run, c)):
        middle = snap((one.s + two.s) / 2)
        if s0 < middle < s1 and two.s - one.s > one.face / 2 + two.face / 2 + 2 * TOLERANCE:
            places.append((middle, StopKind.BACK_BLOCKED, None))
            bays[middle] = (one, two)
    stops: list[Stop] = []
    for s, kind, crossing in sorted(places, key=lambda p: (p[0], p[1])):
        chords = chords_at_s(run, s)
        if not chords:
            continue
        reasons: list[str] = []
        if kind is StopKind.FRAMED and crossing is not None:
            if not rules.on_framing:
                reasons.append(BETWEEN)
            if crossing.face < rules.joint_face - TOLERANCE:
                reasons.append(
                    f"the fixing face of {crossing.support} is too narrow for two board ends"
                )
            missing = sum(
                b - a for chord in chords for a, b in subtract_intervals(chord, crossing.spans)
            )
            if missing > rules.joint_face:
                reasons.append(f"{crossing.support} does not back the whole joint")
        elif not rules.mid_bay:
            reasons.append(rules.mid_bay_barred)
        else:
            reasons.extend(_no_room_for_a_block(bays[s], chords, rules))
        reasons.extend(_too_near_openings(turned, s, t0, t1, (s0, s1), rules))
        if min(s - s0, s1 - s) < rules.piece_min - TOLERANCE:
            reasons.append("it would leave a piece shorter than the least length")
        if any(abs(s - n) < rules.stagger - TOLERANCE for n in neighbours):
            reasons.append("it would stand too nearly in line with a butt of the next course")
        stops.append(
            Stop(
                s=s,
                kind=kind,
                support=crossing.support if crossing else "",
                barred=tuple(reasons),
                height=snap(sum(b - a for a, b in chords)),
            )
        )
    return _reachable(tuple(stops), s0, s1, longest, rules)


def _backs(run: Region, crossing: Crossing) -> bool:
    """Tell whether a crossing has anything behind the run at all."""
    _, t0, _, t1 = run.bounds
    return any(min(b, t1) - max(a, t0) > TOLERANCE for a, b in crossing.spans)


def _no_room_for_a_block(
    bay: tuple[Crossing, Crossing], chords: Sequence[Interval], rules: Rules
) -> list[str]:
    """Say why a back-block does not fit a bay behind the whole of a joint."""
    one, two = bay
    reasons: list[str] = []
    clear = two.s - one.s - one.face / 2 - two.face / 2
    if clear < rules.block_width - TOLERANCE:
        reasons.append("the bay is too narrow for a back-block")
    if any(b - a < rules.strip_min for a, b in chords):
        reasons.append("the joint there is too short for a back-block")
    if any(subtract_intervals(c, x.spans, rules.joint_face) for c in chords for x in bay):
        reasons.append("the members beside it do not run the whole length of the joint")
    return reasons


def _too_near_openings(
    turned: Turned, s: float, t0: float, t1: float, run: Interval, rules: Rules
) -> list[str]:
    reasons: list[str] = []
    for name, framed, (o0, p0, o1, p1) in turned.openings:
        if p1 < t0 - 1 or p0 > t1 + 1:
            continue
        clear = rules.opening_clear if framed else rules.light_clear
        if not framed:
            if o0 - clear < s < o1 + clear:
                reasons.append(f"it would run into cut-out {name}")
            continue
        for side in (o0, o1):
            at_end = abs(side - run[0]) <= TOLERANCE or abs(side - run[1]) <= TOLERANCE
            if not at_end and abs(s - side) < clear - TOLERANCE:
                reasons.append(f"it is too near the side of opening {name}")
                break
    return reasons


def fewest(nodes: Sequence[float], longest: float, least: float) -> tuple[list[float], list[float]]:
    """Fewest pieces from the start to each node and from each node to the end."""
    count = len(nodes)
    ahead = [math.inf] * count
    ahead[0] = 0
    for j in range(1, count):
        for i in range(j):
            step = nodes[j] - nodes[i]
            if step <= longest + TOLERANCE and (step >= least - TOLERANCE or count == 2):
                ahead[j] = min(ahead[j], ahead[i] + 1)
    back = [math.inf] * count
    back[-1] = 0
    for i in range(count - 2, -1, -1):
        for j in range(i + 1, count):
            step = nodes[j] - nodes[i]
            if step <= longest + TOLERANCE and (step >= least - TOLERANCE or count == 2):
                back[i] = min(back[i], back[j] + 1)
    return ahead, back


MORE_PIECES = "a piece beside it would be longer than the longest sheet, or one more is needed"


def _reachable(
    stops: tuple[Stop, ...], s0: float, s1: float, longest: float, rules: Rules
) -> tuple[Stop, ...]:
    """Bar the stops that would need one piece more than the fewest possible."""
    legal = [s for s in stops if s.legal]
    nodes = [s0, *(s.s for s in legal), s1]
    ahead, back = fewest(nodes, longest, rules.piece_min)
    if math.isinf(back[0]):
        return stops
    wasteful = {stop.s for i, stop in enumerate(legal, 1) if ahead[i] + back[i] > max(back[0], 2)}
    return tuple(
        replace(s, barred=(*s.barred, MORE_PIECES)) if s.legal and s.s in wasteful else s
        for s in stops
    )


NOGGING = "nothing stands behind it: a nogging must be fixed there"


def nogged_stops(
    turned: Turned, run: Region, rules: Rules, lengths: Sequence[float], held: Sequence[float]
) -> tuple[Stop, ...]:
    """Return places where a butt could fall if a nogging were fixed behind it.

    They are a sheet's length from either end, and even parts of the run; they serve only
    where no framing is in reach.
    """
    s0, t0, s1, t1 = run.bounds
    longest = lengths[-1]
    places: set[float] = set(held)
    for length in lengths[-3:]:
        for k in range(1, math.ceil((s1 - s0) / length)):
            places |= {snap(s0 + k * length), snap(s1 - k * length)}
    count = max(1, math.ceil((s1 - s0 - TOLERANCE) / longest))
    places |= {snap(s0 + (s1 - s0) * k / count) for k in range(1, count)}
    # Timber fits beside a member or away from it, not half in it.
    clear = {
        s
        for s in places
        if all(abs(s - c.s) > c.face / 2 + 2 * rules.light_clear for c in turned.crossings)
    }
    stops: list[Stop] = []
    for s in sorted({*(clear or places), *held}):
        if not s0 + TOLERANCE < s < s1 - TOLERANCE:
            continue
        reasons = _too_near_openings(turned, s, t0, t1, (s0, s1), rules)
        if min(s - s0, s1 - s) < rules.piece_min - TOLERANCE:
            reasons.append("it would leave a piece shorter than the least length")
        stops.append(
            Stop(
                s=s,
                kind=StopKind.UNBACKED,
                support="",
                barred=(NOGGING, *reasons),
                height=snap(sum(b - a for a, b in chords_at_s(run, s))),
            )
        )
    return tuple(stops)
