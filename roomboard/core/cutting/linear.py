"""Linear goods: battens, beads and cornice cut from the lengths they are sold in."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations, pairwise

from roomboard.core.cutting.end_to_end import fullest
from roomboard.core.cutting.values import LinearCut
from roomboard.core.cutting.wants import PARTS, to_mm, to_parts
from roomboard.core.stock import LinearStock

_STEPS = 10
"""Parts of a mm in which the best filling of a length is sought."""
Filling = Callable[[Sequence[int], Sequence[int]], Sequence[Sequence[int]]]
"""Takes pieces and stock lengths; gives for each length bought the indexes of its pieces."""
_FAIR = 10
"""A joined part is no shorter than the longest stock length over this."""


def cut_linear(
    kind: str,
    pieces: Sequence[tuple[str, float]],
    stock: LinearStock,
    *,
    joinable: bool = False,
    filling: Filling | None = None,
) -> tuple[tuple[LinearCut, ...], tuple[str, ...]]:
    """Return how lengths are cut from stock: the least total length found, then the fewest.

    Args:
        kind: Kind of goods, for the result.
        pieces: Id and length (mm) of each piece.
        stock: The goods and the lengths they are sold in.
        joinable: Whether a piece longer than any stock length may be made of several; its parts
            are named ``"id (1 of 2)"``.
        filling: Another way of grouping pieces, taken where it is cheaper.

    Returns:
        The lengths to buy, each with its pieces, and the ids of pieces longer than any of them
        (none if they may be joined).

    Raises:
        ValueError: If a piece has no length, or the goods are sold in none.
    """
    lengths = sorted({to_parts(length) for length in stock.lengths})
    if not lengths or lengths[0] <= 0:
        raise ValueError(f"{stock.name} is sold in no length; name one in the stock.")
    for name, length in pieces:
        if not (length > 0 and math.isfinite(length)):
            raise ValueError(f"{name} is {length} mm long; it needs a true length.")
    longest = lengths[-1]
    too_long = () if joinable else tuple(n for n, x in pieces if to_parts(x) > longest)
    best: list[list[tuple[str, int]]] = []
    least: tuple[float, float] = (math.inf, math.inf)
    for even in (False, True):
        parts = [
            part
            for name, length in pieces
            if name not in too_long
            for part in _joined(name, to_parts(length), longest, even=even)
        ]
        ways = [*_fillings(parts, lengths)]
        if filling is not None:
            rows = filling([x for _, x in parts], lengths)
            ways += [[[parts[i] for i in row] for row in rows]] if rows else []
        for bars in ways:
            cost = (sum(_bar_length(bar, lengths) for bar in bars), len(bars))
            if cost < least:
                best, least = bars, cost
        if all(to_parts(length) <= longest for _, length in pieces):
            break
    made: list[LinearCut] = []
    for number, bar in enumerate(best, 1):
        length = _bar_length(bar, lengths)
        used = sum(x for _, x in bar)
        made.append(
            LinearCut(
                id=f"L{number}",
                kind=kind,
                stock=stock.id,
                length=to_mm(length),
                pieces=tuple((name, to_mm(x)) for name, x in bar),
                left=to_mm(length - used),
            )
        )
    return tuple(made), too_long


def _joined(name: str, length: int, longest: int, *, even: bool) -> list[tuple[str, int]]:
    """Divide a run that is longer than any stock length into parts."""
    count = -(-length // longest)
    if count <= 1:
        return [(name, length)]
    last = length - (count - 1) * longest
    if even or last * _FAIR < longest:
        cuts = [length * n // count for n in range(count + 1)]
        parts = [b - a for a, b in pairwise(cuts)]
    else:
        parts = [longest] * (count - 1) + [last]
    return [(f"{name} ({n} of {count})", part) for n, part in enumerate(parts, 1)]


def _bar_length(bar: Sequence[tuple[str, int]], lengths: Sequence[int]) -> int:
    used = sum(x for _, x in bar)
    return next(length for length in lengths if length >= used)


def _fillings(
    pieces: Sequence[tuple[str, int]], lengths: Sequence[int]
) -> Iterator[list[list[tuple[str, int]]]]:
    """Yield ways of grouping pieces into stock lengths, each in order of the pieces given."""
    order = sorted(range(len(pieces)), key=lambda i: (-pieces[i][1], i))
    sizes = [x for _, x in pieces]
    found = [_best_fit(order, sizes, lengths, most) for most in lengths]
    found.append(_filled(order, sizes, lengths))
    for bars in found:
        fewer = _thinned(bars, sizes, lengths)
        yield [[pieces[i] for i in sorted(bar)] for bar in sorted(fewer, key=min)]


def _best_fit(
    order: Sequence[int], sizes: Sequence[int], lengths: Sequence[int], most: int
) -> list[list[int]]:
    """Put each piece, the longest first, where it leaves least; open lengths up to ``most``."""
    bars: list[list[int]] = []
    rooms: list[int] = []
    for i in order:
        size = sizes[i]
        fits = [(room, n) for n, room in enumerate(rooms) if room >= size]
        if fits:
            n = min(fits)[1]
            bars[n].append(i)
            rooms[n] -= size
        else:
            bars.append([i])
            rooms.append((most if most >= size else min(x for x in lengths if x >= size)) - size)
    return bars


def _filled(order: Sequence[int], sizes: Sequence[int], lengths: Sequence[int]) -> list[list[int]]:
    """Take the longest piece left and the stock length and fellows that waste the least share.

    Sums are sought in tenths of a mm, each piece rounded up and each stock length down.
    """
    left = list(order)
    bars: list[list[int]] = []
    while left:
        first, *rest = left
        fitting = [length for length in lengths if length >= sizes[first]]
        rooms = [length - sizes[first] for length in fitting]
        lengths_left = [sizes[i] for i in rest]
        rows = fullest(lengths_left, rooms, PARTS // _STEPS)
        waste = [
            (room - sum(lengths_left[n] for n in row)) / length
            for length, room, row in zip(fitting, rooms, rows, strict=True)
        ]
        best = min(range(len(fitting)), key=lambda n: (waste[n], -fitting[n]))
        bar = [first, *(rest[n] for n in rows[best])]
        bars.append(bar)
        taken = set(bar)
        left = [i for i in left if i not in taken]
    return bars


def _thinned(
    bars: list[list[int]], sizes: Sequence[int], lengths: Sequence[int]
) -> list[list[int]]:
    """Merge two lengths into one wherever that buys less."""

    def cost(used: int) -> int:
        return next((x for x in lengths if x >= used), 3 * lengths[-1])

    merged = True
    while merged:
        merged = False
        ranked = sorted((sum(sizes[i] for i in bar), bar) for bar in bars)
        for (a, one), (b, two) in combinations(ranked, 2):
            if cost(a + b) <= cost(a) + cost(b) and a + b <= lengths[-1]:
                bars = [x for x in bars if x is not one and x is not two] + [one + two]
                merged = True
                break
    return bars
