"""Linear goods cut from the least total length, with a bound."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.cutting.wants import to_mm, to_parts
from roomboard.core.optimum.coarse import solve
from roomboard.core.optimum.master import Depth, Problem, Sheet, Watch
from roomboard.core.optimum.plates import Item
from roomboard.core.optimum.program import SMALL

if TYPE_CHECKING:
    from roomboard.core.cutting import LinearCut
    from roomboard.core.stock import LinearStock


class Bars(NamedTuple):
    """Lengths to buy.

    Attributes:
        bars: For each, the indexes of its pieces; empty if the search found no better way.
        total: Their total length, in the unit given; 0 without any.
        bound: No way of cutting takes less in total.
    """

    bars: tuple[tuple[int, ...], ...]
    total: int
    bound: int


class LinearBound(NamedTuple):
    """How little of one kind of linear goods could do.

    Attributes:
        kind: Kind of linear goods.
        total: Length bought, mm.
        bound: No way of cutting its pieces takes less in total, mm.
    """

    kind: str
    total: float
    bound: float


DEPTH = Depth(rounds=256, nodes=256, patterns=2048)


def fewest_bars(sizes: Sequence[int], lengths: Sequence[int]) -> Sequence[Sequence[int]]:
    """Return for each length bought the indexes of its pieces, the least length found."""
    return least_bars(sizes, lengths, Watch()).bars


def linear_bounds(
    cuts: Sequence[LinearCut], stock: Mapping[str, LinearStock], watch: Watch | None = None
) -> tuple[LinearBound, ...]:
    """Return of each kind what is bought and how little could do, for pieces as they are cut.

    Args:
        cuts: The lengths bought and what is cut from each.
        stock: The goods by kind.
        watch: Who looks on.
    """
    found: list[LinearBound] = []
    for kind in sorted({c.kind for c in cuts} & stock.keys()):
        own = [c for c in cuts if c.kind == kind]
        pieces = [to_parts(length) for c in own for _, length in c.pieces]
        lengths = sorted({to_parts(x) for x in stock[kind].lengths})
        total = sum(c.length for c in own)
        bound = to_mm(least_bars(pieces, lengths, watch).bound)
        found.append(LinearBound(kind, total, min(bound, total)))
    return tuple(found)


def least_bars(pieces: Sequence[int], lengths: Sequence[int], watch: Watch | None = None) -> Bars:
    """Return how pieces are cut from the least total length, then from the fewest lengths.

    Args:
        pieces: Length of each piece, in whole units; none longer than the longest stock length.
        lengths: Stock lengths, in the same units.
        watch: Who looks on.
    """
    if not pieces:
        return Bars((), 0, 0)
    kinds = sorted(set(pieces))
    counts = [sum(p == kind for p in pieces) for kind in kinds]
    items = [Item(kind, 1, limit=n) for kind, n in zip(kinds, counts, strict=True)]
    # One length more weighs less than the smallest difference of totals.
    many, unit = len(pieces) + 1, math.gcd(*lengths)
    sheets = [
        Sheet(
            x,
            1,
            float(x // unit * many + 1),
            tuple(i for i, kind in enumerate(kinds) if kind <= x),
        )
        for x in sorted(set(lengths))
    ]
    problem = Problem(items, sheets, 0, counts, step=1.0)
    found, _ = solve(problem, DEPTH, watch or Watch())
    bound = max(math.floor(found.bound + SMALL) // many, -(-sum(pieces) // unit)) * unit
    if not math.isfinite(found.value):
        return Bars((), 0, bound)
    left = {kind: [n for n, p in enumerate(pieces) if p == kind] for kind in kinds}
    bars: list[tuple[int, ...]] = []
    total = 0
    for _, pattern in found.sheets:
        own = [left[kinds[i]].pop(0) for i in pattern.items if left[kinds[i]]]
        if own:
            bars.append(tuple(sorted(own)))
            used = sum(pieces[n] for n in own)
            total += min(x for x in lengths if x >= used)
    return Bars(tuple(sorted(bars)), total, min(bound, total))
