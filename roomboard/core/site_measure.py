"""Rooms measured with a tape: walls in order and diagonals close to an outline.

All walls and diagonals together are fitted by least squares: the corners are put where the
squares of the differences between the readings and the outline add up to the least. With more
readings than the corners need, what is left over is the misclosure; with two or more to spare,
a wrong reading is found by leaving one out at a time.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from roomboard.core.plane import fault_in, snap_point
from roomboard.core.project import Units
from roomboard.core.units import Refusal, write_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Ring

STEPS = 250
"""How many steps the fit may take."""
STILL = 1e-9
"""A step shorter than this (mm) is none."""
SLIPS = {Units.METRIC: (1000.0, 100.0, 10.0), Units.FEET_INCHES: (304.8, 25.4)}
"""By how much a tape is misread in one slip, mm: a metre, a decimetre, a centimetre; a foot, an
inch. From how rulings are numbered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One length that was read, and what the others make of it.

    Attributes:
        name: ``"wall 2"`` or ``"diagonal 1-3"``.
        corners: Numbers of the corners it runs between, from 1.
        measured: As it was read, mm.
        fitted: Between the corners as they are put, mm.
        without: What all other readings make of it, mm; None where they do not tell.
    """

    name: str
    corners: tuple[int, int]
    measured: float
    fitted: float
    without: float | None = None

    @property
    def off(self) -> float:
        """How much longer the reading is than the outline has it, mm."""
        return self.measured - self.fitted


@dataclass(frozen=True, kw_only=True)
class Measured:
    """A room closed from its readings.

    Attributes:
        outline: Corners clockwise; the first at the origin, the first wall along y, mm.
        readings: Every reading, walls first.
        spare: How many readings there are beyond those that the corners need.
        misclosure: Greatest difference between a reading and what all others make of it, mm;
            0 where nothing is to spare.
        doubtful: Name of the reading that is in doubt, or empty.
        sentences: What is to be said of the measure, in order.
    """

    outline: Ring
    readings: tuple[Reading, ...]
    spare: int
    misclosure: float
    doubtful: str
    sentences: tuple[str, ...]


def close(
    lengths: Sequence[float],
    diagonals: Sequence[tuple[int, int, float]],
    *,
    inward: Sequence[int] = (),
    agrees: float,
    units: Units = Units.METRIC,
) -> Measured | Refusal:
    """Close a room from its walls and diagonals.

    Args:
        lengths: Walls in order, clockwise seen from above, mm; wall 1 runs from corner 1 to 2.
        diagonals: Two corners, from 1, and the length between them, mm.
        inward: Corners that point into the room.
        agrees: How far readings may lie apart and still agree, mm; the pack's ``tape.agrees``.
        units: Units in which lengths are said.

    Returns:
        The outline with its misclosure, or why none can be made, in one sentence.
    """
    count = len(lengths)
    text = ", ".join(f"{x:g}" for x in lengths)
    fault = _fault(count, lengths, diagonals, inward)
    if fault:
        return Refusal(text, fault)
    pairs = [(i, (i + 1) % count) for i in range(count)]
    pairs += [(a - 1, b - 1) for a, b, _ in diagonals]
    wanted = np.array([*lengths, *(d for _, _, d in diagonals)], dtype=float)
    start = _first_guess(lengths, inward)
    corners = _fit(start, pairs, wanted)
    spare = len(pairs) - (2 * count - 3)
    outline = _placed(corners)
    fitted = _distances(corners, pairs)
    worst = int(np.argmax(np.abs(wanted - fitted)))
    names = [f"wall {i + 1}" for i in range(count)]
    names += [f"diagonal {a}-{b}" for a, b, _ in diagonals]
    off = abs(float(wanted[worst] - fitted[worst]))
    if spare <= 0 and off > agrees:
        return Refusal(
            text,
            f"The lengths do not meet: {names[worst]} would have to be "
            f"{write_length(float(fitted[worst]), units, suffix=True)}; measure it again.",
        )
    fault = fault_in(outline)
    if fault:
        return Refusal(
            text,
            f"The walls close to an outline that cannot be: {fault}; check their order and which "
            "corners point inward.",
        )
    without = [
        _left_out(corners, pairs, wanted, k) if spare > 0 else None for k in range(len(names))
    ]
    readings = tuple(
        Reading(
            name=name,
            corners=(pair[0] + 1, pair[1] + 1),
            measured=float(value),
            fitted=round(float(have), 6),
            without=None if other is None else round(other[0], 6),
        )
        for name, pair, value, have, other in zip(
            names, pairs, wanted, fitted, without, strict=True
        )
    )
    apart = [abs(r.measured - r.without) for r in readings if r.without is not None]
    misclosure = round(max(apart, default=0.0), 6)
    rest = [math.inf if other is None else other[1] for other in without]
    doubtful = _doubtful(readings, rest, spare, misclosure, agrees, units)
    return Measured(
        outline=outline,
        readings=readings,
        spare=max(spare, 0),
        misclosure=misclosure,
        doubtful=doubtful,
        sentences=_sentences(readings, rest, misclosure, doubtful, agrees, units),
    )


def _fault(
    count: int,
    lengths: Sequence[float],
    diagonals: Sequence[tuple[int, int, float]],
    inward: Sequence[int],
) -> str:
    """Say what is wrong with readings before anything is worked out, or return nothing."""
    if count < 3:
        return "A room has three walls or more; give all their lengths in order."
    values = [*lengths, *(d for _, _, d in diagonals)]
    if not all(math.isfinite(x) and x > 0 for x in values):
        return "Every wall and diagonal needs a length above nothing; give it in full."
    longest = max(lengths)
    if longest >= sum(lengths) - longest:
        number = list(lengths).index(longest) + 1
        return f"Wall {number} is longer than all others together; they cannot meet."
    return _diagonal_fault(count, [(a, b) for a, b, _ in diagonals]) or _inward_fault(count, inward)


def _diagonal_fault(count: int, diagonals: Sequence[tuple[int, int]]) -> str:
    seen: set[tuple[int, int]] = set()
    for a, b in diagonals:
        pair = (min(a, b), max(a, b))
        if pair[0] < 1 or pair[1] > count:
            return f"Diagonal {a}-{b} names a corner that is not there; corners are 1 to {count}."
        if pair[1] - pair[0] in {0, 1, count - 1}:
            return f"Diagonal {a}-{b} runs along a wall; name two corners across the room."
        if pair in seen:
            return f"Diagonal {a}-{b} is given twice; give it once."
        seen.add(pair)
    missing = count - 3 - len(seen)
    if missing > 0:
        have = "1 diagonal does" if len(seen) == 1 else f"{len(seen)} diagonals do"
        more = "one more" if missing == 1 else f"{missing} more"
        return f"With {count} walls, {have} not hold the shape; measure {more}."
    return ""


def _inward_fault(count: int, inward: Sequence[int]) -> str:
    if any(not 1 <= k <= count for k in inward):
        return f"An inward corner is not there; corners are 1 to {count}."
    if 2 * len(set(inward)) > count - 3:
        return "So many corners cannot point inward; name only those that jut into the room."
    return ""


def _first_guess(lengths: Sequence[float], inward: Sequence[int]) -> np.ndarray:
    """Return corners to start from: every corner turns alike, to the right or, inward, left."""
    count = len(lengths)
    turn = 2 * math.pi / (count - 2 * len(set(inward)))
    points, at, angle = [], np.zeros(2), math.pi / 2
    for number, length in enumerate(lengths, 1):
        points.append(at.copy())
        at = at + length * np.array([math.cos(angle), math.sin(angle)])
        after = number % count + 1
        angle += turn if after in inward else -turn
    # What is left open at the end is shared out along the walls.
    return np.array([p - at * (i / count) for i, p in enumerate(points)])


def _distances(corners: np.ndarray, pairs: Sequence[tuple[int, int]]) -> np.ndarray:
    a, b = np.array([p for p, _ in pairs]), np.array([q for _, q in pairs])
    return np.asarray(np.hypot(*(corners[b] - corners[a]).T))


def _fit(start: np.ndarray, pairs: Sequence[tuple[int, int]], wanted: np.ndarray) -> np.ndarray:
    """Move corners until the squares of the differences add up to the least.

    Gauss's method with a damper that grows when a step makes it worse (Marquardt 1963).
    """
    at, damper = start.copy(), 1e-3
    worth = float(np.sum((wanted - _distances(at, pairs)) ** 2))
    for _ in range(STEPS):
        rows = np.zeros((len(pairs), at.size))
        have = _distances(at, pairs)
        for k, (p, q) in enumerate(pairs):
            unit = (at[q] - at[p]) / max(float(have[k]), STILL)
            rows[k, 2 * q : 2 * q + 2] = unit
            rows[k, 2 * p : 2 * p + 2] = -unit
        square = rows.T @ rows
        pull = rows.T @ (wanted - have)
        step = np.linalg.solve(square + damper * np.eye(at.size), pull).reshape(-1, 2)
        tried = at + step
        new = float(np.sum((wanted - _distances(tried, pairs)) ** 2))
        if new <= worth:
            at, worth, damper = tried, new, max(damper / 10, 1e-12)
        else:
            damper *= 10
        if float(np.abs(step).max()) < STILL:
            break
    return at


def _left_out(
    corners: np.ndarray, pairs: Sequence[tuple[int, int]], wanted: np.ndarray, k: int
) -> tuple[float, float]:
    """Return what all other readings make of one, and how far those then lie apart, mm."""
    others = [p for i, p in enumerate(pairs) if i != k]
    rest = np.delete(wanted, k)
    fitted = _fit(corners, others, rest)
    own = float(_distances(fitted, [pairs[k]])[0])
    return own, float(np.abs(rest - _distances(fitted, others)).max())


def _placed(corners: np.ndarray) -> Ring:
    """Put the first corner at the origin and the first wall along y, the room on its right."""
    from_first = corners - corners[0]
    x, y = from_first[1]
    length = math.hypot(x, y)
    cos, sin = y / length, x / length
    turned = [(float(p[0] * cos - p[1] * sin), float(p[0] * sin + p[1] * cos)) for p in from_first]
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*turned, turned[0])))
    if twice > 0:  # the fit found the mirror image
        turned = [(-u, v) for u, v in turned]
    return tuple(snap_point(p) for p in turned)


def _doubtful(
    readings: Sequence[Reading],
    rest: Sequence[float],
    spare: int,
    misclosure: float,
    agrees: float,
    units: Units,
) -> str:
    """Return the reading that is in doubt, or nothing where none is or none can be told.

    With readings to spare it is the one without which all others agree. With one to spare any
    reading could be wrong: then the one that a single slip of the tape would mend.
    """
    if misclosure <= agrees or spare <= 0:
        return ""
    if spare > 1:
        order = sorted(range(len(readings)), key=lambda k: rest[k])
        first, second = order[0], order[1]
        clear = rest[first] <= agrees / 2 and rest[second] > 2 * rest[first] + STILL
        return readings[first].name if clear else ""
    slips = [
        r.name
        for r in readings
        if r.without is not None
        and any(abs(abs(r.measured - r.without) - slip) <= agrees / 2 for slip in SLIPS[units])
    ]
    return slips[0] if len(slips) == 1 else ""


def _sentences(
    readings: Sequence[Reading],
    rest: Sequence[float],
    misclosure: float,
    doubtful: str,
    agrees: float,
    units: Units,
) -> tuple[str, ...]:
    """Say how well a measure closes, and what to do about it."""

    def say(mm: float) -> str:
        return write_length(mm, units, suffix=True)

    if all(r.without is None for r in readings):
        return (
            "The readings just close the room, so none checks another; measure one more diagonal.",
        )
    if misclosure <= agrees:
        return (f"The readings agree to within {say(round(misclosure, 1))}.",)
    said = [f"The readings do not agree: they lie {say(round(misclosure, 1))} apart."]
    if doubtful:
        one = next(r for r in readings if r.name == doubtful)
        other = say(round(one.without or 0.0))
        said.append(
            f"{doubtful.capitalize()} is in doubt: it was read as {say(one.measured)}, and the "
            f"others make it {other}; measure it again."
        )
    else:
        # Without a reading that could be the wrong one, all the others agree.
        could = [
            r for r, left in zip(readings, rest, strict=True) if left <= agrees / 2
        ] or readings
        told = "; ".join(f"{r.name} {say(round(r.without or 0.0))}" for r in could)
        said.append(
            "Which reading is wrong cannot be told; measure another diagonal, or one of these, "
            f"which the others would have as: {told}."
        )
    return tuple(said)
