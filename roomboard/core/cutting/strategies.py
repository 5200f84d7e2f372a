"""Strategies: the ways of filling sheets that are tried, the most promising first."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product

from roomboard.core.cutting.packing import Fit, OpenSheet, Split, Strategy, cost_of, pack, shrink
from roomboard.core.cutting.wants import PARTS, Job, Want


def _orders(wants: Sequence[Want], chosen: Sequence[int]) -> list[tuple[int, ...]]:
    """Return orders in which pieces may be laid, each once."""

    def by(*keys: str) -> tuple[int, ...]:
        def key(i: int) -> tuple[float, ...]:
            w = wants[i]
            parts = {
                "cap": w.cap,
                "width": -w.width,
                "length": -w.length,
                "area": -w.area,
                "edges": -w.recesses,
            }
            return tuple(parts[k] for k in keys)

        return tuple(sorted(chosen, key=key))

    orders = [
        by("width", "length"),
        by("length", "width"),
        by("cap", "length", "width"),
        by("area"),
        by("edges", "width", "length"),
        by("cap", "width", "length"),
        by("edges", "length", "width"),
        tuple(chosen),
    ]
    return list(dict.fromkeys(orders))


def sheets_to_open(job: Job) -> list[tuple[int, ...]]:
    """Return, for every piece, which sheet to open for it: several answers, each once.

    The longest of the narrowest that fits, the longest of the widest, and the longest up to
    each stock length. A piece set out for one sheet width is given that width if it can be.
    """
    sizes = job.sizes

    def pick(want: Want, longest: int, *, narrow: bool = True) -> int:
        def rank(index: int) -> tuple[bool, bool, int, int]:
            size = sizes[index]
            over = size.length > longest
            off = narrow and bool(want.hint) and abs(size.width - want.hint) > PARTS
            return (
                over,
                off,
                size.width if narrow else -size.width,
                size.length if over else -size.length,
            )

        return min(want.sizes, key=rank)

    lengths = sorted({size.length for size in sizes}, reverse=True)
    rules = [tuple(pick(w, longest) for w in job.wants) for longest in lengths]
    if len({size.width for size in sizes}) > 1:
        rules.insert(1, tuple(pick(w, lengths[0], narrow=False) for w in job.wants))
    return list(dict.fromkeys(rules))


_RULES = tuple(product(Fit, Split, (True, False)))


@cache
def _ranking(orders: int, openings: int, limit: int) -> tuple[tuple[int, int, int], ...]:
    """Return which order, opening and rule to try together, least far from the usual first."""
    ways = product(range(orders), range(openings), range(len(_RULES)))
    return tuple(sorted(ways, key=lambda way: (sum(way), max(way), way))[:limit])


def strategies(
    job: Job, chosen: Sequence[int], opens: Sequence[tuple[int, ...]], limit: int
) -> Iterator[Strategy]:
    """Yield the most promising strategies first: those that differ least from the usual one."""
    orders = _orders(job.wants, chosen)
    for order, opening, rule in _ranking(len(orders), len(opens), limit):
        yield Strategy(orders[order], opens[opening], *_RULES[rule])


def best_of(
    job: Job,
    chosen: Sequence[int],
    opens: Sequence[tuple[int, ...]],
    limit: int,
    enough: tuple[int, int],
) -> list[OpenSheet]:
    """Fill sheets in several ways and return the cheapest; the first of equals."""
    best: list[OpenSheet] = []
    least: tuple[float, float] = (math.inf, math.inf)
    for strategy in strategies(job, chosen, opens, limit):
        filled: list[OpenSheet] = []
        pack(job, strategy, filled, [])
        shrink(job, filled)
        cost = cost_of(job, filled)
        if cost < least:
            best, least = filled, cost
        if cost[0] <= enough[0] and cost[1] <= enough[1]:
            break
    return best
