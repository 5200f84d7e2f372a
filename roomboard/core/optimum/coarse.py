"""Coarser lengths: a problem with too many lengths solved in whole units, honestly."""

from __future__ import annotations

import math

from roomboard.core.optimum.master import Chosen, Depth, Problem, Search, Watch
from roomboard.core.optimum.plates import sums

UNITS = (1, 10, 50, 100, 250, 500, 1000, 2500, 5000)
"""Units tried, in the problem's own (hundredths of a mm)."""
MOST_POINTS = 1500
"""So many lengths are gone through at most; more make every round slow."""


def _points(problem: Problem, unit: int) -> int:
    """Return how many sums of lengths there are, rounded up to units."""
    most = max(s.length for s in problem.sheets) // unit
    lengths: dict[int, int] = {}
    for item in problem.items:
        size = -(-item.length // unit)
        lengths[size] = lengths.get(size, 0) + item.limit
    return len(sums(lengths.items(), most))


def unit_for(problem: Problem, most: int = MOST_POINTS) -> int:
    """Return the finest unit in which a problem has no more lengths than ``most``."""
    # Where all lengths are multiples of some length, that one loses nothing.
    whole = math.gcd(*(i.length for i in problem.items), *(s.length for s in problem.sheets))
    shortest = min(i.length for i in problem.items)
    unit = whole
    for unit in sorted({whole, *(u for u in UNITS if whole < u <= shortest)}):
        if _points(problem, unit) <= most:
            break
    return unit


def in_units(problem: Problem, unit: int, *, up: bool) -> Problem:
    """Return a problem in whole units.

    Rounded up, what fits in units fits in truth; rounded down, what fits in truth fits in
    units, so that a bound for the one is a bound for the other.

    Args:
        problem: The problem.
        unit: The unit, no larger than the shortest piece.
        up: Whether pieces are rounded up or down; sheets are always rounded down.
    """
    return Problem(
        items=[
            i._replace(length=-(-i.length // unit) if up else i.length // unit)
            for i in problem.items
        ],
        sheets=[s._replace(length=s.length // unit) for s in problem.sheets],
        recess=problem.recess,
        asked=problem.asked,
        choices=problem.choices,
        rules=problem.rules,
        step=problem.step,
        areas=problem.areas,
        blocks=problem.blocks,
    )


def solve(
    problem: Problem, depth: Depth, watch: Watch, known: float = math.inf
) -> tuple[Chosen, int]:
    """Search for the least cost, in coarser lengths if there are too many.

    Args:
        problem: What is to be chosen and cut.
        depth: How far to go.
        watch: Who looks on.
        known: Cost of an answer already at hand.

    Returns:
        The answer, and the unit its patterns' lengths are in.
    """
    unit = unit_for(problem)
    exact = all(i.length % unit == 0 for i in problem.items)
    if exact:
        return Search(in_units(problem, unit, up=True), depth, watch).solve(known), unit
    found = Search(in_units(problem, unit, up=True), depth, watch).solve(known)
    bound, _ = Search(in_units(problem, unit, up=False), depth, watch).grow()
    bound = problem.raised(bound)
    words = f"{found.words}; lengths rounded down for it"
    return found._replace(bound=min(bound, found.value), complete=False, words=words), unit
