"""Improving: sheets emptied, filled anew or changed for smaller ones where it saves board."""

from __future__ import annotations

from collections.abc import Sequence

from roomboard.core.cutting.dividing import division_of
from roomboard.core.cutting.packing import (
    Fit,
    Laid,
    OpenSheet,
    Plate,
    Split,
    Strategy,
    cost_of,
    pack,
)
from roomboard.core.cutting.strategies import best_of, sheets_to_open, strategies
from roomboard.core.cutting.wants import Job


def _free_of(job: Job, sheet: OpenSheet, number: int) -> list[Plate]:
    return [
        (x1 - x0, y1 - y0, x0, y0, number) for x0, y0, x1, y1 in division_of(job, sheet).offcuts
    ]


def _emptied(job: Job, opens: list[OpenSheet]) -> list[OpenSheet]:
    """Take out every sheet whose pieces fit the offcuts of the others, the emptiest first."""
    free = {id(sheet): _free_of(job, sheet, 0) for sheet in opens}
    ranked = sorted(range(len(opens)), key=lambda n: (sum(_area(job, x) for x in opens[n].laid), n))
    for sheet in [opens[n] for n in ranked]:
        others = [s for s in opens if s is not sheet]
        pieces = tuple(sorted((x.want for x in sheet.laid), key=lambda i: (-job.wants[i].area, i)))
        tried = [OpenSheet(s.size, list(s.laid)) for s in others]
        plates = [(*p[:4], n) for n, s in enumerate(others) for p in free[id(s)]]
        strategy = Strategy(pieces, (), Fit.SIDE, Split.LARGEST, fill=False)
        if not pack(job, strategy, tried, plates, may_open=False):
            continue
        for new, old in zip(tried, others, strict=True):
            if len(new.laid) > len(old.laid):
                old.laid = new.laid
                free[id(old)] = _free_of(job, old, 0)
        opens = others
    return opens


def _area(job: Job, laid: Laid) -> int:
    return job.wants[laid.want].area


_GROUPS = (2, 3, 5, 8)
"""Numbers of sheets that are taken apart and filled anew together."""
_TRIES = 8
"""Ways tried for each such group."""
_WORK = 320
"""Pieces laid anew in improving, at most, for each of the tries."""
_SHARE = 2
"""The same for each piece of the board, so that a small job is done at once."""


def _recut(
    job: Job, opens: list[OpenSheet], rules: Sequence[tuple[int, ...]], enough: tuple[int, int]
) -> list[OpenSheet]:
    """Fill the most wasteful sheets anew, a few at a time, as long as it saves board."""
    work = min(_WORK, _SHARE * len(job.wants))
    for group in _GROUPS:
        begin = 0
        while begin + group <= len(opens) and work > 0:
            cost = cost_of(job, opens)
            if cost[0] <= enough[0] and cost[1] <= enough[1]:
                return opens
            ranked = sorted(
                range(len(opens)),
                key=lambda n: (
                    sum(_area(job, x) for x in opens[n].laid) - _area_of(job, opens[n]),
                    n,
                ),
            )
            chosen = ranked[begin : begin + group]
            pieces = sorted(x.want for n in chosen for x in opens[n].laid)
            work -= len(pieces)
            anew = best_of(job, pieces, rules, _TRIES, (0, 0))
            if cost_of(job, anew) < cost_of(job, [opens[n] for n in chosen]):
                opens = [s for n, s in enumerate(opens) if n not in chosen] + anew
            else:
                begin += group
    return opens


def _area_of(job: Job, sheet: OpenSheet) -> int:
    return job.sizes[sheet.size].area


def _narrow(job: Job, sheet: OpenSheet) -> None:
    """Change a sheet for the smallest that holds its pieces, if another width does."""
    pieces = [x.want for x in sheet.laid]
    allowed = set(job.wants[pieces[0]].sizes).intersection(*(job.wants[i].sizes for i in pieces))
    least = sum(job.wants[i].area for i in pieces)
    smaller = sorted(
        (job.sizes[index].area, index)
        for index in sorted(allowed)
        if least <= job.sizes[index].area < _area_of(job, sheet)
    )
    for _, index in smaller:
        rule = [index] * len(job.wants)
        for strategy in strategies(job, pieces, [tuple(rule)], 6):
            filled: list[OpenSheet] = [OpenSheet(index)]
            size = job.sizes[index]
            free: list[Plate] = [(size.length, size.width, 0, 0, 0)]
            if pack(job, strategy, filled, free, may_open=False):
                sheet.size, sheet.laid = index, filled[0].laid
                return


_LAYINGS = 320
"""Pieces laid in all strategies together, about; it bounds the time a plan takes."""
_LEAST_STRATEGIES = 15
_MOST_STRATEGIES = 24


def solve(job: Job, enough: tuple[int, int]) -> list[OpenSheet]:
    """Lay every piece of a board, as cheaply as the strategies and the improvements find."""
    if not job.wants:
        return []
    rules = sheets_to_open(job)
    count = len(job.wants)
    limit = min(_MOST_STRATEGIES, max(_LEAST_STRATEGIES, _LAYINGS // count))
    opens = best_of(job, range(count), rules, limit, enough)
    if cost_of(job, opens) > enough:
        opens = _emptied(job, opens)
        opens = _recut(job, opens, rules, enough)
        for sheet in opens:
            _narrow(job, sheet)
    return sorted(opens, key=lambda sheet: min(laid.want for laid in sheet.laid))
