"""Bounds: how few sheets and how little board could do, and why more is bought."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

import numpy as np

from roomboard.core.cutting.values import BoardBound, CutSheet
from roomboard.core.cutting.wants import Job, to_m2, to_mm, to_parts
from roomboard.core.project import Units
from roomboard.core.units import write_length

_Weights = tuple[tuple[float, ...], tuple[float, ...]]
"""For every piece its share of a sheet's side, and its part of that side."""
_SLACK = 1e-6
"""Sums are taken down by this share of a sheet before they are rounded up."""
_THRESHOLDS = 10


def _up(value: float) -> int:
    return max(0, math.ceil(value - _SLACK))


def _weights(
    own: Sequence[int],
    most: Sequence[int],
    least: Sequence[int],
    between: Sequence[float] | None = None,
) -> list[_Weights]:
    """Return weights of pieces along one side of the sheets.

    Each gives two numbers for a piece: its *share*, of which pieces lying side by side in one
    sheet never add up to more than 1; and its *part*, of which they never add up to more than
    that sheet's side. See :func:`least_of`.

    Args:
        own: Each piece's size along the side.
        most: The largest allowed sheet for each piece, along the side.
        least: The smallest allowed sheet for each piece, along the side.
        between: Shares of another kind to stand between the thresholds, in place of sizes.
    """
    pieces = list(zip(own, most, least, strict=True))
    if between is None:
        shares, parts = [a / m for a, m, _ in pieces], [float(a) for a in own]
    else:
        shares = list(between)
        parts = [b * s for b, (_, _, s) in zip(between, pieces, strict=True)]
    found: list[_Weights] = [(tuple(shares), tuple(parts))]
    exact = sorted({Fraction(m - a + 1, m) for a, m, _ in pieces if 2 * (m - a + 1) <= m})
    step = max(1, -(-len(exact) // _THRESHOLDS))
    for t in sorted({*exact[::step], *exact[-1:], Fraction(1, 2), Fraction(1, 3)}):
        above = [a * t.denominator > (t.denominator - t.numerator) * m for a, m, _ in pieces]
        below = [a * t.denominator < t.numerator * m for a, m, _ in pieces]
        rows = list(zip(above, below, shares, parts, pieces, strict=True))
        found.append(
            (
                tuple(1.0 if up else 0.0 if low else share for up, low, share, _, _ in rows),
                tuple(float(p[2]) if up else 0.0 if low else part for up, low, _, part, p in rows),
            )
        )
    for k in (2, 3, 4):
        counted = [(-(-(k + 1) * a // m) - 1) / k for a, m, _ in pieces]
        parts = [c * s for c, (_, _, s) in zip(counted, pieces, strict=True)]
        found.append((tuple(counted), tuple(parts)))
    return found


class Site(NamedTuple):
    """What offcuts on site give of a board, square hundredths of a mm.

    Attributes:
        cut: Area of the pieces cut from them.
        most: Area of all of them that any piece can be cut from.
    """

    cut: int
    most: int


NO_SITE = Site(0, 0)


@dataclass(frozen=True, kw_only=True)
class Least:
    """Lower bounds for one board: numbers of sheets, each counting more, and the area.

    Attributes:
        blanks: Their blanks' area over the largest sheet.
        carry: The same, each piece over the longest sheet it may come from.
        reach: The same, each piece over the widest sheet it may come from as well.
        length: Pieces that cannot lie end to end counted as well.
        width: Pieces that cannot lie side by side counted as well.
        edges: Recessed edges counted as well.
        stock: The stock sizes that the pieces need counted as well.
        area: Area bought, in square hundredths of a mm.
    """

    blanks: int
    carry: int
    reach: int
    length: int
    width: int
    edges: int
    stock: int
    area: int


def least_of(job: Job) -> Least:
    """Return how few sheets and how little board can do for the pieces of one board.

    Where nothing is wanted, all bounds are 0.

    Sound for every way of cutting, guillotine or not:

    Take one sheet of length L and width W. Give every piece in it a weight ``g`` for its width
    such that the pieces crossed by any line across the sheet have ``g`` adding up to at most
    1, and a weight ``f`` for its length such that pieces that lie one after another along the
    sheet have ``f`` adding up to at most 1. Then ``f * g`` over all pieces of the sheet adds
    up to at most 1. (Let every ``g`` be a whole number of N-ths. Draw each piece as that many
    copies of its stretch along the sheet. No point is covered more than N times, so the
    stretches can be given N colours such that those of one colour do not overlap. ``f`` adds up
    to at most 1 in each colour, so to at most N in all; divide by N.) So the sum of ``f * g``
    over all pieces, rounded up, is a number of sheets no plan can do without.

    Weights that keep the promise, shown for length; width is alike:

    - size / L;
    - for a threshold ``t`` up to 1/2: 1 above (1 - t) L, 0 below t L, size / L between (a
      piece above the first leaves no room for one above the second);
    - (ceil((k + 1) size / L) - 1) / k: at most k pieces longer than L / (k + 1) fit;
    - for width only: half the number of edges that must be recessed; a line across the sheet
      meets its two recessed edges once each.

    All of them fall as L grows. So in place of L, the largest sheet the piece may come from
    can stand, though the sheet it does come from may be smaller and other pieces may be allowed
    others.

    For the area, the promise is that the weights add up to at most L (or W) itself. Every
    sheet is at least as long as the shortest sheet allowed for any piece in it; so a weight
    kept to 1 above, times that shortest length, keeps it, and in the thresholds the size
    itself may stand between. The sum of the products is then an area no plan can do without.

    A second bound on the area counts sheets by size: if pieces that need sheets of at least
    area ``a[k]`` need ``n[k]`` sheets, then ``n[k]`` sheets have at least that area each; the
    sum of ``n[k] * (a[k] - a[k - 1])`` over the areas in order is no more than the area bought.
    Last, the area is rounded up to a multiple of what all sheet areas are multiples of.
    """
    wants, sizes = job.wants, job.sizes
    if not wants:
        return Least(blanks=0, carry=0, reach=0, length=0, width=0, edges=0, stock=0, area=0)
    allowed = [[sizes[i] for i in w.sizes] for w in wants]
    most = [max(s.length for s in a) for a in allowed]
    along = _weights([w.length for w in wants], most, [min(s.length for s in a) for a in allowed])
    sides = (
        [w.width for w in wants],
        [max(s.width for s in a) for a in allowed],
        [min(s.width for s in a) for a in allowed],
    )
    across = _weights(*sides)
    plain = len(across)
    across += _weights(*sides, [w.recesses / 2 for w in wants])
    along_shares = np.array([shares for shares, _ in along])
    across_shares = np.array([shares for shares, _ in across])
    table = along_shares @ across_shares.T
    largest = max(s.area for a in allowed for s in a)
    blanks = _up(sum(w.area for w in wants) / largest)
    widest = max(s.width for a in allowed for s in a)
    carry = max(blanks, _up(float(along_shares[0] @ (np.array(sides[0]) / widest))))
    reach = max(carry, _up(float(table[0, 0])))
    length = max(reach, _up(float(table[:, 0].max())))
    width = max(length, _up(float(table[:, :plain].max())))
    edges = max(width, _up(float(table.max())))

    area_table = (
        np.array([parts for _, parts in along]) @ np.array([parts for _, parts in across]).T
    )
    by_weight = float(area_table.max())
    smallest = np.array([min(s.area for s in a) for a in allowed])
    by_size, before = 0, 0
    for step in sorted(set(smallest.tolist())):
        needs = smallest >= step
        part = along_shares[:, needs] @ across_shares[:, needs].T
        by_size += _up(float(part.max())) * (step - before)
        before = step
    unit = math.gcd(*(s.area for a in allowed for s in a))
    area = max(by_size, math.floor(by_weight * (1 - 1e-9)))
    area = -(-area // unit) * unit
    return Least(
        blanks=blanks,
        carry=carry,
        reach=reach,
        length=length,
        width=width,
        edges=edges,
        stock=max(edges, _up(area / largest)),
        area=area,
    )


def _reasons(
    job: Job, least: Least, start: int, used: tuple[int, int], units: Units
) -> tuple[str, ...]:
    """Say in words why each sheet above the area bound is bought.

    Args:
        job: All that is cut from one board.
        least: Its bounds.
        start: The area bound.
        used: Area bought, square hundredths of a mm, and number of sheets.
        units: How lengths are written.
    """
    allowed = [job.sizes[i] for i in sorted({i for w in job.wants for i in w.sizes})]
    longest, largest = max(s.length for s in allowed), max(s.area for s in allowed)
    bought, count = used

    def size(parts: int) -> str:
        return write_length(to_mm(parts), units, suffix=True)

    if least.stock * largest >= bought:
        rest = (
            "shorter sheets: fewer of the largest size would take no less board, "
            "even if the pieces could be cut from them"
        )
    else:
        rest = (
            "fit: no way was found to cut the pieces from fewer sheets; the bound weighs lengths, "
            "widths and edges one by one and may be out of reach"
        )
    steps = (
        (
            least.blanks,
            "cut-outs: what is cut out of a piece serves no other, so its whole blank counts",
        ),
        (least.carry, _why_carry(job, longest, size(longest))),
        (
            least.reach,
            "sheet widths: courses set out with sheets of different widths share no sheet",
        ),
        (
            least.length,
            f"length: no two pieces longer than half of {size(longest)} lie end to end in a sheet",
        ),
        (least.width, _why_width(job, size)),
        (
            least.edges,
            "recessed edges: a sheet has two, and the pieces use them up before its area",
        ),
        (
            least.stock,
            "stock sizes: the sheets that the pieces need are sold longer or wider than they are",
        ),
        (count, rest),
    )
    found: list[str] = []
    so_far = start
    for number, words in steps:
        more = number - so_far
        if more > 0:
            found.append(f"{more} {'sheet' if more == 1 else 'sheets'}: {words}.")
            so_far = number
    return tuple(found)


def _why_carry(job: Job, longest: int, written: str) -> str:
    kept_short = sum(w.cap < longest for w in job.wants)
    if kept_short:
        return (
            f"carry-in limit: sheets of {written} cannot be brought to where "
            f"{kept_short} of the pieces go"
        )
    return f"stock lengths: the width that some pieces need is not sold in {written}"


def _why_width(job: Job, size: Callable[[int], str]) -> str:
    """Name the rip that leaves the most board beside it."""
    run: dict[tuple[int, int], int] = {}
    for want in job.wants:
        sheet = max(job.sizes[i].width for i in want.sizes)
        rest = sheet % want.width
        if rest and want.width < sheet:
            key = (want.width, sheet)
            run[key] = run.get(key, 0) + rest * want.length
    if not run:
        return "width: the courses do not share the sheets' width"
    width, sheet = min(run, key=lambda key: (-run[key], key))
    number = sheet // width
    return f"width: a sheet {size(sheet)} wide gives only {number} of the pieces {size(width)} wide"


def board_bound(
    job: Job,
    least: Least,
    net_m2: float,
    lost: float,
    sheets: Sequence[CutSheet],
    units: Units,
    site: Site = NO_SITE,
) -> BoardBound:
    """Return the bounds of one board beside what was bought.

    Args:
        job: All that is cut from the board.
        least: Its lower bounds.
        net_m2: Area of its finished pieces, m2.
        lost: Area of the blanks that fit no sheet, square hundredths of a mm.
        sheets: The sheets bought.
        units: How lengths are written in the reasons.
        site: What offcuts on site give instead.
    """
    blank = sum(w.area for w in job.wants)
    bought = sum(to_parts(s.length) * to_parts(s.width) for s in sheets)
    if not job.wants:
        return BoardBound(
            board=job.board.id,
            net_m2=net_m2,
            blank_m2=0.0,
            bought_m2=0.0,
            sheets=0,
            area_bound=0,
            edge_bound=0,
            bought_bound_m2=0.0,
            reasons=(),
        )
    largest = max(job.sizes[i].area for w in job.wants for i in w.sizes)
    # A piece that fits no sheet may still be counted in the net area; it needs no board here.
    net = min(to_m2(blank), net_m2 - to_m2(lost))
    area_bound = _up((net - to_m2(site.most)) / to_m2(largest))
    return BoardBound(
        board=job.board.id,
        net_m2=net_m2 - to_m2(site.cut),
        blank_m2=to_m2(blank - site.cut),
        bought_m2=to_m2(bought),
        sheets=len(sheets),
        area_bound=area_bound,
        edge_bound=least.stock,
        bought_bound_m2=to_m2(least.area),
        reasons=_reasons(job, least, area_bound, (bought, len(sheets)), units),
        on_site_m2=to_m2(site.cut),
    )
