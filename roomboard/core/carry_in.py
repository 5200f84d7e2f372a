"""Carrying in: the longest sheet that gets round a corner, over a landing, through an opening.

Estimates, each with its formula. A sheet is carried on edge, so that from above it is a line as
thick as the board, and round a square corner it goes as far as a ladder does: the longest line
through a corner of two passages ``a`` and ``b`` wide is the least of ``a / sin(x) + b / cos(x)``
over all directions ``x``, which is ``(a^(2/3) + b^(2/3))^(3/2)`` (the classical ladder problem; the
line touches the inner corner and both outer walls). With a thickness ``t`` it is the least of
``(a cos(x) + b sin(x) - t) / (sin(x) cos(x))``. Tilted in its own upright plane, a sheet ``w`` wide
fits a length ``p`` on plan and a height ``h`` while ``l cos(f) + w sin(f) <= p`` and
``l sin(f) + w cos(f) <= h``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.golden import least_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.practice import Practice

KEY = "carry.clearance"
"""The pack's figure for what is taken off each width for hands."""
STEPS = 2000
"""Directions looked at before the best is closed in on."""
CLOSER = 180
"""How often the stretch about the best direction is cut down."""
QUARTER = math.pi / 2
STEEPEST = math.pi / 4
"""Nobody carries a sheet steeper than half upright."""


class Passage(StrEnum):
    """What a sheet has to pass."""

    TURN = "turn"
    """A square corner of two passages: widths of both."""
    LANDING = "landing"
    """A quarter-turn landing: widths of the flight up and of the flight on."""
    HALF_LANDING = "half landing"
    """A half-turn landing: width of a flight, depth of the landing, width of the stairwell."""
    DOOR = "door"
    """A door at the side of a passage: its width and height, and the passage's width."""
    WINDOW = "window"
    """A window: its width and height, and the free depth of the room behind it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """One thing on the way in.

    Attributes:
        kind: What it is.
        sizes: Its sizes as :class:`Passage` lists them, mm; for a door 0 as the passage's width
            means straight ahead.
        height: Free height there, mm; 0 where none was measured: then sheets are not tilted.
    """

    kind: Passage
    sizes: tuple[float, ...]
    height: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What is carried.

    Attributes:
        width: Of the sheet, which stands on edge, mm.
        thickness: Of the board, mm.
        clearance: Taken off each width and height for hands and slips, mm.
    """

    width: float
    thickness: float
    clearance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """How long a sheet may be to pass one thing.

    Attributes:
        obstacle: What it passes.
        longest: Longest sheet, mm, rounded down; infinity where it does not limit the length, 0
            where no sheet so wide passes.
        formula: How it comes about, in symbols.
        inputs: Names and values of the formula, mm.
        tilt_deg: How far the sheet is tilted for it, degrees.
    """

    obstacle: Obstacle
    longest: float
    formula: str
    inputs: tuple[tuple[str, float], ...]
    tilt_deg: float = 0.0


CAUTION = (
    "An estimate for a sheet carried on edge round square corners with nothing in the way. Try the "
    "tightest place with a lath of that length before ordering; handrails, skirtings, lights and "
    "low beams take more off."
)
LADDER = "L = (a^(2/3) + b^(2/3))^(3/2), less what thickness t takes"
HALF = "the least of (a^(2/3) + b^(2/3))^(3/2) and the width of the stairwell"
STRAIGHT = "the free depth behind the window, straight in"
NO_LIMIT = "straight ahead: the length is not limited"
TOO_WIDE = "the sheet is too wide for it"


def clearance_of(practice: Practice) -> float:
    """Return what is taken off each width, mm; nothing where the pack does not say."""
    return practice.mm(KEY) if practice.has(KEY) else 0.0


# --- geometry ---------------------------------------------------------------------------


def ladder(a: float, b: float) -> float:
    """Return the longest line that goes round the square corner of two passages, mm.

    Args:
        a: Width of the one, mm.
        b: Width of the other, mm.
    """
    if a <= 0 or b <= 0:
        return 0.0
    return float((a ** (2 / 3) + b ** (2 / 3)) ** 1.5)


def round_corner(a: float, b: float, thickness: float) -> float:
    """Return the longest strip of some thickness that goes round a square corner, mm."""
    if min(a, b) <= thickness:
        return 0.0

    def length(x: float) -> float:
        return (a * math.cos(x) + b * math.sin(x) - thickness) / (math.sin(x) * math.cos(x))

    return max(0.0, length(least_at(length, 1e-6, QUARTER - 1e-6)))


def tilted(plan: float, height: float, width: float) -> tuple[float, float]:
    """Return the longest sheet that fits a length on plan and a height, and its tilt.

    Args:
        plan: Length it may take up on plan, mm.
        height: Free height, mm.
        width: Width of the sheet, mm.

    Returns:
        Its length, mm, 0 if none fits; how far it is tilted, radians: none if level is best.
    """
    found: list[tuple[float, float]] = []
    if width <= height and plan > 0:
        found.append((plan, 0.0))

    def by_plan(f: float) -> float:
        return (plan - width * math.sin(f)) / math.cos(f)

    def by_height(f: float) -> float:
        return (height - width * math.cos(f)) / math.sin(f)

    def plan_is_roomier(f: float) -> bool:
        return by_plan(f) > by_height(f)

    found.append((min(by_plan(STEEPEST), by_height(STEEPEST)), STEEPEST))
    for low, high in pairwise(STEEPEST * k / STEPS for k in range(1, STEPS + 1)):
        a, b = low, high
        if plan_is_roomier(a) is plan_is_roomier(b):
            continue
        for _ in range(CLOSER):
            middle = (a + b) / 2
            a, b = (middle, b) if plan_is_roomier(middle) is plan_is_roomier(a) else (a, middle)
        found.append((by_plan(a), a))
    longest, tilt = max(found, key=lambda x: (round(x[0], 6), -x[1]))
    return (longest, tilt) if longest > 0 else (0.0, 0.0)


# --- estimates --------------------------------------------------------------------------


def estimate(obstacle: Obstacle, sheet: Sheet) -> Estimate:
    """Return how long a sheet may be to pass one thing.

    Args:
        obstacle: What it passes.
        sheet: What is carried.
    """
    clear = sheet.clearance
    sizes = tuple(max(0.0, x - clear) for x in obstacle.sizes)
    measured = obstacle.height > 0
    height = max(0.0, obstacle.height - clear)
    if obstacle.kind is Passage.WINDOW:
        return _window(obstacle, sheet, sizes)
    if obstacle.kind is Passage.DOOR:
        wide, high, passage = sizes
        if not obstacle.sizes[2]:
            passes = sheet.width <= high and sheet.thickness < wide
            formula = NO_LIMIT if passes else TOO_WIDE
            longest = math.inf if passes else 0.0
            return _rounded(obstacle, longest, formula, (("width", wide), ("height", high)))
        a, b, height, measured = passage, wide, high, True
    else:
        a, b = sizes[0], sizes[1]
    plan, formula = round_corner(a, b, sheet.thickness), LADDER
    inputs: tuple[tuple[str, float], ...] = (("a", a), ("b", b), ("t", sheet.thickness))
    if obstacle.kind is Passage.HALF_LANDING:
        plan, formula = min(plan, sizes[2]), HALF
        inputs = (*inputs, ("stairwell", sizes[2]))
    if not measured:
        return _rounded(obstacle, plan, formula, inputs)
    longest, tilt = tilted(plan, height, sheet.width)
    if not longest:
        formula = TOO_WIDE
    elif tilt:
        formula += "; tilted: L cos f + w sin f = L on plan, L sin f + w cos f = h"
    inputs = (*inputs, ("w", sheet.width), ("h", height))
    return _rounded(obstacle, longest, formula, inputs, tilt)


def _window(obstacle: Obstacle, sheet: Sheet, sizes: Sequence[float]) -> Estimate:
    wide, high, depth = sizes
    passes = sheet.width <= math.hypot(wide, high)
    inputs = (("width", wide), ("height", high), ("depth", depth), ("w", sheet.width))
    return _rounded(obstacle, depth if passes else 0.0, STRAIGHT if passes else TOO_WIDE, inputs)


def _rounded(
    obstacle: Obstacle,
    longest: float,
    formula: str,
    inputs: tuple[tuple[str, float], ...],
    tilt: float = 0.0,
) -> Estimate:
    whole = longest if math.isinf(longest) else math.floor(longest + 1e-6)
    return Estimate(
        obstacle=obstacle,
        longest=float(whole),
        formula=formula,
        inputs=inputs,
        tilt_deg=math.degrees(tilt),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WayIn:
    """All that a sheet passes on its way to a room.

    Attributes:
        estimates: One for each thing, in order.
    """

    estimates: tuple[Estimate, ...]

    @property
    def tightest(self) -> Estimate | None:
        """What limits the length most; None where nothing stands in the way."""
        return min(self.estimates, key=lambda e: e.longest, default=None)

    @property
    def longest(self) -> float:
        """Longest sheet that gets in, mm; 0 where nothing limits it or none passes."""
        found = self.tightest
        return 0.0 if found is None or math.isinf(found.longest) else found.longest

    @property
    def shut(self) -> bool:
        """Whether no sheet so wide gets in at all."""
        found = self.tightest
        return found is not None and found.longest <= 0


def way_in(obstacles: Sequence[Obstacle], sheet: Sheet) -> WayIn:
    """Return how long a sheet may be to get past everything on its way."""
    return WayIn(estimates=tuple(estimate(o, sheet) for o in obstacles))
