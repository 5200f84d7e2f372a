"""Narrowing: what no better answer takes is left out, so that fewer patterns matter.

At prices that no sheet beats an answer costs its set-outs, their pieces at these prices, and by
how much its sheets cost more than their patterns are worth. So the set-outs of a better answer
cost little more than the cheapest, and a piece of a run that alone makes them cost more is in
none; nor is any kind cut oftener than such set-outs can ask for.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.optimum.program import SMALL, Column, Programme, Relaxed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.optimum.master import Prices, Problem

WHOLE = 1e-4
"""A number this much below a whole one counts as it."""
ENOUGH = 0.97
"""So much of what could be cut may be left at most; else a new start is not worth it."""


def set_outs_at(problem: Problem, prices: Prices) -> Programme:
    """Return the choice of set-outs by itself, each piece and block at its price.

    Args:
        problem: What is free to choose.
        prices: What pieces and board are worth.
    """
    worth = prices.of_pieces(problem)
    alone = Programme()
    for c in problem.choices:
        cost = c.cost + math.fsum(worth[i] * k for i, k in sorted(c.asks.items()))
        most = 1.0 if c.whole else math.inf
        alone.column(Column(cost + prices.area * c.blocks, most, c.whole))
    for least, most, factors in problem.rules:
        alone.row(least, most, factors)
    return alone


def narrowed(problem: Problem, prices: Prices, window: float) -> Problem | None:
    """Return a problem without what costs more than ``window`` above the cheapest set-outs.

    Every answer within the window is an answer of it too.

    Args:
        problem: The problem.
        prices: Prices that no sheet beats.
        window: By how much set-outs at these prices may cost more than the cheapest ones.

    Returns:
        The narrower problem, or None where little would be left out.
    """
    if not problem.choices or not math.isfinite(window):
        return None
    alone = set_outs_at(problem, prices)
    solved = Relaxed(alone).solve()
    if solved is None:
        return None
    most = solved[0] + window + SMALL
    out = _too_dear(problem, alone, most)
    alone.row(-math.inf, most, {n: c.cost for n, c in enumerate(alone.columns)})
    alone.row(0.0, 0.0, dict.fromkeys(out, 1.0))
    limits = _limits(problem, alone)
    if limits is None or not _worth_it(problem, limits):
        return None
    return replace(
        problem,
        items=[i._replace(limit=max(1, n)) for i, n in zip(problem.items, limits, strict=True)],
        sheets=[
            s._replace(allowed=tuple(i for i in s.allowed if limits[i])) for s in problem.sheets
        ],
        rules=[*problem.rules, (0.0, 0.0, dict.fromkeys(out, 1.0))],
    )


def _too_dear(problem: Problem, alone: Programme, most: float) -> list[int]:
    """Return the unknowns of which one makes set-outs cost more than ``most``."""
    # Without upper limits: where a sum is to be 1, they would take up what others cost more.
    free = Relaxed(replace(alone, columns=[replace(c, most=math.inf) for c in alone.columns]))
    solved = free.solve()
    if solved is None:
        return []
    over = most - solved[0]
    costs = zip(problem.choices, free.reduced, strict=True)
    return [n for n, (c, more) in enumerate(costs) if c.whole and more > over]


def _limits(problem: Problem, alone: Programme) -> list[int] | None:
    """Return how many of each kind set-outs can ask for at most; None if there are no set-outs."""
    relaxed = Relaxed(alone)
    if relaxed.solve() is None:
        return None
    found: list[int] = []
    for i, (item, asked) in enumerate(zip(problem.items, problem.asked, strict=True)):
        asks = {n: float(c.asks[i]) for n, c in enumerate(problem.choices) if i in c.asks}
        most = relaxed.most_of(asks) if asks else 0.0
        own = asked + math.floor(most + WHOLE) if math.isfinite(most) else item.limit
        found.append(min(item.limit, own))
    return found


def _worth_it(problem: Problem, limits: Sequence[int]) -> bool:
    """Tell whether enough is left out."""
    cut = sorted({i for s in problem.sheets for i in s.allowed})
    return sum(limits[i] for i in cut) < ENOUGH * sum(problem.items[i].limit for i in cut)
