"""Stops: where a butt joint may fall along a course, and what bars every other place."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, chords_at_s, snap, subtract_intervals
from roomboard.core.sheeting import Stop, StopKind

if TYPE_CHECKING:
    from roomboard.core.fields import Crossing, Rules, Turned
    from roomboard.core.plane import Interval, Region


BETWEEN = "butt joints are set to fall between members"
IN_LINE = "it would stand too nearly in line with a butt of the next course"
SHORT = "it would leave a piece shorter than the least length"
HELD_NEAR = 1.0
"""A butt the user fixed within this of a run's end or of another, mm, is no butt of its own."""
OVER_JOINT = "it would stand too near a joint of the layer under it"
NARROW_FACE = "is too narrow for two board ends"
"""How the bar of a member ends whose face does not take both; the member's id stands before."""
NEAR_OPENING = "it is too near the side of opening"
"""How the bar of a place near an opening's side begins; the opening's id follows."""


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
                reasons.append(f"the fixing face of {crossing.support} {NARROW_FACE}")
            missing = sum(
                b - a for chord in chords for a, b in subtract_intervals(chord, crossing.spans)
            )
            if missing > rules.joint_face:
                reasons.append(f"{crossing.support} does not back the whole joint")
        else:
            if not rules.mid_bay:
                reasons.append(rules.mid_bay_barred)
            reasons.extend(_no_room_for_a_block(bays[s], chords, rules))
        reasons.extend(_too_near_openings(turned, s, t0, t1, (s0, s1), rules))
        reasons.extend(in_bands(turned, s))
        reasons.extend(over_joints(turned, s, (t0, t1), rules))
        if min(s - s0, s1 - s) < rules.piece_min - TOLERANCE:
            reasons.append(SHORT)
        if any(abs(s - n) < rules.stagger - TOLERANCE for n in neighbours):
            reasons.append(IN_LINE)
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
                reasons.append(f"{NEAR_OPENING} {name}")
                break
    return reasons


def over_joints(turned: Turned, s: float, span: Interval, rules: Rules) -> list[str]:
    """Say whether a butt would stand too near a joint of the layer under it."""
    near = any(
        not along
        and abs(s - at) < rules.layer_ends - TOLERANCE
        and min(span[1], high) - max(span[0], low) > TOLERANCE
        for along, at, low, high in turned.under
    )
    return [OVER_JOINT] if near else []


def in_bands(turned: Turned, s: float) -> list[str]:
    """Say in which bands without joints a butt at a place along the sheets would run."""
    return [
        f"it would run in band {name}, in which no joint may fall"
        for name, along, low, high in turned.bands
        if not along and low + TOLERANCE < s < high - TOLERANCE
    ]


def fewest(
    nodes: Sequence[float], longest: float, least: float, held: Sequence[float] = ()
) -> tuple[list[float], list[float]]:
    """Fewest pieces from the start to each node and from each node to the end.

    Args:
        nodes: Ends of the run and the stops between them, in order, mm.
        longest: Longest piece, mm.
        least: Shortest piece, mm.
        held: Nodes that the user fixed; every way leads through them.
    """
    count = len(nodes)
    ahead = [math.inf] * count
    ahead[0] = 0
    back = [math.inf] * count
    back[-1] = 0
    # The nodes are in order, so that a piece reaches only so many of them: asking for every
    # pair of a long run would take its square.
    far = [farthest(nodes, i, longest) for i in range(count)]
    for i in range(count):
        for j in range(i + 1, far[i] + 1):
            if may_step(nodes, i, j, (least, longest), held):
                ahead[j] = min(ahead[j], ahead[i] + 1)
    for i in range(count - 2, -1, -1):
        for j in range(i + 1, far[i] + 1):
            if may_step(nodes, i, j, (least, longest), held):
                back[i] = min(back[i], back[j] + 1)
    return ahead, back


def farthest(nodes: Sequence[float], i: int, longest: float) -> int:
    """Return the last node that a piece from a node reaches.

    Args:
        nodes: Ends of the run and the stops between them, in order, mm.
        i: Where the piece begins.
        longest: Longest piece, mm.
    """
    return bisect_right(nodes, nodes[i] + longest + TOLERANCE) - 1


def may_step(
    nodes: Sequence[float], i: int, j: int, sizes: Interval, held: Sequence[float] = ()
) -> bool:
    """Tell whether one piece may reach from a node to a later one.

    Args:
        nodes: Ends of the run and the stops between them, in order, mm.
        i: Where the piece begins.
        j: Where it ends.
        sizes: Shortest and longest piece, mm; the shortest does not count between two places
            that are fixed.
        held: Nodes that the user fixed.
    """
    a, b = nodes[i], nodes[j]
    least, longest = sizes
    if b - a > longest + TOLERANCE or (held and any(a < h < b for h in held)):
        return False
    fixed = (i == 0 or a in held) and (j == len(nodes) - 1 or b in held)
    return fixed or b - a >= least - TOLERANCE


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


IN_THE_WAY = "a member beside it stands in the way of that nogging"
NOGGING = "nothing stands behind it: a nogging must be fixed there"


def nogged_stops(
    turned: Turned,
    run: Region,
    rules: Rules,
    lengths: Sequence[float],
    held: Sequence[float],
    *,
    clear_of_members: bool = True,
) -> tuple[Stop, ...]:
    """Return places where a butt could fall if a nogging were fixed behind it.

    They are a sheet's length from either end, and even parts of the run; they serve only
    where no framing is in reach.

    Args:
        turned: The field the run belongs to.
        run: Part of a course that hangs together, (s, t) mm.
        rules: The pack's figures.
        lengths: Sheet lengths that can be had, shortest first, mm.
        held: Places of butts that the user fixed, mm; they are among the stops.
        clear_of_members: Whether to keep to places where timber fits between members, if there
            are any.
    """
    s0, t0, s1, t1 = run.bounds
    longest = lengths[-1]
    ends = (s0, *held, s1)
    places: set[float] = set()
    for a, b in pairwise(ends):
        for length in lengths[-3:]:
            for k in range(1, math.ceil((b - a) / length)):
                places |= {snap(a + k * length), snap(b - k * length)}
        count = max(1, math.ceil((b - a - TOLERANCE) / longest))
        places |= {snap(a + (b - a) * k / count) for k in range(1, count)}

    def is_clear(s: float) -> bool:
        """Tell whether timber fits there: beside a member or away from it, not half in it."""
        return all(abs(s - c.s) > c.face / 2 + 2 * rules.light_clear for c in turned.crossings)

    clear = {s for s in places if is_clear(s)}
    usable = (clear_of_members and clear) or places
    stops: list[Stop] = []
    for s in sorted({*usable, *held}):
        if s not in held and not s0 + TOLERANCE < s < s1 - TOLERANCE:
            continue
        reasons = [*_too_near_openings(turned, s, t0, t1, (s0, s1), rules), *in_bands(turned, s)]
        reasons += over_joints(turned, s, (t0, t1), rules)
        if min(s - s0, s1 - s) < rules.piece_min - TOLERANCE:
            reasons.append(SHORT)
        if s in held and not is_clear(s):
            reasons.append(IN_THE_WAY)
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


def with_held(
    stops: Sequence[Stop],
    turned: Turned,
    run: Region,
    rules: Rules,
    lengths: Sequence[float],
    held: Sequence[float],
) -> tuple[Stop, ...]:
    """Return the stops of a run with one at each place that the user fixed.

    Args:
        stops: The stops of the run.
        turned: The field the run belongs to.
        run: Part of a course that hangs together, (s, t) mm.
        rules: The pack's figures.
        lengths: Sheet lengths that can be had, shortest first, mm.
        held: Places inside the run that the user fixed, in order, mm.
    """
    if not held:
        return tuple(stops)
    bare = {s.s: s for s in nogged_stops(turned, run, rules, lengths, held)}
    faces = {c.s: c.face for c in turned.crossings}
    fixed = [_fixed(s, bare[s], stops, faces, rules) for s in held]
    others = [x for x in stops if not any(abs(x.s - s) < HELD_NEAR for s in held)]
    return tuple(sorted((*others, *fixed), key=lambda x: (x.s, x.kind)))


def _fixed(
    s: float, bare: Stop, stops: Sequence[Stop], faces: Mapping[float, float], rules: Rules
) -> Stop:
    """Return what a butt is that the user fixed at ``s``: backed as far as anything is there."""

    def reach(stop: Stop) -> float:
        """How far beside it both board ends still have their face, mm."""
        if stop.kind is not StopKind.FRAMED:
            return TOLERANCE
        return max(TOLERANCE, (faces[stop.s] - rules.joint_face) / 2)

    near = [x for x in stops if abs(x.s - s) <= reach(x)]
    at = min(near, key=lambda x: (len(x.barred), abs(x.s - s)), default=bare)
    soft = {*bare.barred, BETWEEN, MORE_PIECES}
    unbacked = [r for r in at.barred if r not in soft]
    if unbacked:
        return replace(bare, barred=(*bare.barred, *unbacked))
    place = [r for r in bare.barred if r not in {NOGGING, IN_THE_WAY}]
    return replace(at, s=s, barred=tuple(dict.fromkeys((*at.barred, *place))))
