"""What is cut from one board, in whole hundredths of a mm, so that sums are exact."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from roomboard.core.cutting.values import Demand
from roomboard.core.practice import Practice
from roomboard.core.stock import Board, StockSheet

PARTS = 100
"""Parts of a mm that lengths are counted in while cutting."""
NOMINAL = 1.0
"""Stock sizes nearer than this (mm) to a size named by the user are that size."""
ANY, RECESSED, CUT = 0, 1, 2
"""What a long edge must be."""
_NEEDS = {"any": ANY, "recessed": RECESSED, "cut": CUT}


def to_parts(mm: float) -> int:
    """Return a length in whole hundredths of a mm."""
    return round(mm * PARTS)


def to_mm(parts: int) -> float:
    """Return a length in mm."""
    return parts / PARTS


def to_m2(parts: float) -> float:
    """Return an area in m2."""
    return parts / (PARTS * PARTS * 1e6)


class Size(NamedTuple):
    """A stock sheet that may be bought."""

    stock: StockSheet
    length: int
    width: int

    @property
    def area(self) -> int:
        """Area of the sheet, square hundredths of a mm."""
        return self.length * self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """A demand that at least one allowed stock sheet can give.

    ``ways`` are the ways it can be laid: turned or not, and what then its lower and upper
    edge on the sheet must be. ``sizes`` are indexes of the sheets that can give it.
    """

    demand: Demand
    length: int
    width: int
    cap: float
    hint: int
    ways: tuple[tuple[bool, int, int], ...]
    sizes: tuple[int, ...]

    @property
    def area(self) -> int:
        """Area of the piece's blank, square hundredths of a mm."""
        return self.length * self.width

    @property
    def recesses(self) -> int:
        """How many of its long edges must be recessed."""
        _, low, high = self.ways[0]
        return (low == RECESSED) + (high == RECESSED)


@dataclass(frozen=True, kw_only=True)
class Job:
    """All that is cut from one board."""

    board: Board
    recess: int
    sizes: tuple[Size, ...]
    wants: tuple[Want, ...]
    keep_length: int
    keep_width: int


def check_demands(demands: Sequence[Demand]) -> None:
    """Refuse pieces that cannot be cut as they are asked for.

    Raises:
        ValueError: If an id comes twice, a size is not above 0, or an edge need is unknown.
    """
    seen: set[str] = set()
    for d in demands:
        if d.id in seen:
            raise ValueError(f"Piece {d.id} is asked for twice; give every piece its own id.")
        seen.add(d.id)
        if not (d.length > 0 and d.width > 0 and math.isfinite(d.length * d.width)):
            raise ValueError(f"Piece {d.id} is {d.length} by {d.width} mm; it needs a true size.")
        for need in (d.low, d.high):
            if need not in _NEEDS:
                raise ValueError(
                    f"Piece {d.id} asks for an edge {need!r}; ask for recessed, cut or any."
                )


def _sizes_of(board: Board, lengths: Sequence[float], widths: Sequence[float]) -> tuple[Size, ...]:
    """Return the sheets of a board that may be bought, the narrowest and shortest first."""

    def named(value: float, wanted: Sequence[float]) -> bool:
        return not wanted or any(abs(value - w) < NOMINAL for w in wanted)

    sizes = {
        (to_parts(s.width), to_parts(s.length)): s
        for s in sorted(board.sheets, key=lambda s: s.id, reverse=True)
        if named(s.length, lengths) and named(s.width, widths)
    }
    return tuple(Size(sizes[key], key[1], key[0]) for key in sorted(sizes))


def seat(y0: int, y1: int, sheet: int, recess: int, width: int, low: int, high: int) -> int:
    """Return where across a plate a piece can lie, or -1.

    Where its edges leave a choice, it lies against a cut edge, so that the recessed edges
    stay with what is left over.

    Args:
        y0: Low side of the plate on the sheet.
        y1: High side.
        sheet: Width of the sheet; the plate's edges at 0 and there are recessed.
        recess: How far the recess reaches in; nearer to the sheet's edge no cut is clean.
        width: Width of the piece.
        low: What the piece's lower edge must be.
        high: What its upper edge must be.
    """
    last = sheet - recess
    if low == RECESSED:
        y = 0
    elif high == RECESSED:
        y = sheet - width
    elif y0 > 0 or y1 == sheet:
        y = y0
        if low == CUT:
            y = min(y1, last) - width if high == CUT else y1 - width
            if not recess <= y <= last:
                y = max(y0, recess)
        elif high == CUT and not recess <= y0 + width <= last:
            y = min(y1, last) - width
    else:
        y = (min(y1, last) if high == CUT else y1) - width
    top = y + width
    if (
        y < y0
        or top > y1
        or (low == CUT and not recess <= y <= last)
        or (high == CUT and not recess <= top <= last)
        or (high == RECESSED and top != sheet)
    ):
        return -1
    return y


def _ways(low: int, high: int) -> tuple[tuple[bool, int, int], ...]:
    """Return how a piece may lie: as it is, or after half a turn if that makes a difference."""
    if low == high:
        return ((False, low, high),)
    return ((False, low, high), (True, high, low))


def _want(demand: Demand, sizes: Sequence[Size], recess: int) -> Want:
    length, width = to_parts(demand.length), to_parts(demand.width)
    cap = to_parts(demand.longest + NOMINAL) if demand.longest else math.inf
    ways = _ways(_NEEDS[demand.low], _NEEDS[demand.high])
    fitting = tuple(
        index
        for index, size in enumerate(sizes)
        if length <= size.length <= cap
        and any(
            seat(0, size.width, size.width, recess, width, low, high) >= 0 for _, low, high in ways
        )
    )
    return Want(
        demand=demand,
        length=length,
        width=width,
        cap=cap,
        hint=to_parts(demand.sheet_width),
        ways=ways,
        sizes=fitting,
    )


def job_of(
    board: Board,
    demands: Iterable[Demand],
    practice: Practice,
    lengths: Sequence[float],
    widths: Sequence[float],
) -> Job:
    """Return what is cut from a board; demands that none of its sheets can give are left out.

    Args:
        board: The board.
        demands: Pieces of this board, in hanging order.
        practice: The pack; ``piece.min`` and ``strip.min`` say which offcuts are kept.
        lengths: Sheet lengths that can be had, mm; empty for all.
        widths: Sheet widths that can be had, mm; empty for all.
    """
    sizes = _sizes_of(board, lengths, widths)
    recess = to_parts(board.recess_width)
    wants = (_want(d, sizes, recess) for d in demands)
    return Job(
        board=board,
        recess=recess,
        sizes=sizes,
        wants=tuple(w for w in wants if w.sizes),
        keep_length=to_parts(practice.mm("piece.min")),
        keep_width=to_parts(practice.mm("strip.min")),
    )
