"""Lengthening: longer sheets bought where back-blocks fit in, in place of sheets for them alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.adopting import pieces_of
from roomboard.core.cutting.packing import OpenSheet
from roomboard.core.cutting.wants import Job, to_parts
from roomboard.core.optimum.weighing import board_costs

if TYPE_CHECKING:
    from roomboard.core.cutting.planning import Cutter
    from roomboard.core.project import Project
    from roomboard.core.scheme import Scheme

Block = tuple[float, float]
"""Length and width of a back-block, mm."""


class _Swap(NamedTuple):
    """A longer sheet in place of one: what more it costs and how many more blocks it holds."""

    cost: float
    room: int
    size: int


@dataclass(slots=True)
class Lengthening:
    """Cuts boards by another cutter, then takes longer sheets where that is asked for.

    Attributes:
        inner: Cuts the pieces of a board; asked once for each job.
        project: The job, for its prices.
    """

    inner: Cutter
    project: Project
    _made: dict[str, tuple[Job, list[OpenSheet]]] = field(default_factory=dict)
    _longer: dict[tuple[str, int], int] = field(default_factory=dict)

    def __call__(self, job: Job, usual: list[OpenSheet]) -> list[OpenSheet]:
        """Return how a board's pieces are cut.

        Args:
            job: What is cut from the board.
            usual: How it would usually be cut.
        """
        board = job.board.id
        if board not in self._made or self._made[board][0] != job:
            self._made[board] = (job, self.inner(job, usual))
        return [
            OpenSheet(self._longer.get((board, n), sheet.size), list(sheet.laid))
            for n, sheet in enumerate(self._made[board][1])
        ]

    def make_room(self, block: Block, count: int) -> float:
        """Take longer sheets whose ends hold so many back-blocks more, as cheaply as can be.

        Args:
            block: Size of the blocks; the largest where they differ.
            count: How many.

        Returns:
            What that costs, m2 of board; infinite if no sheets have room, and none is longer then.
        """
        self._longer = {}
        best: list[tuple[float, tuple[tuple[str, int, int], ...]]]
        best = [(0.0, ()), *((math.inf, ()) for _ in range(count))]
        for board, (job, opens) in sorted(self._made.items()):
            costs = [board_costs(job.board, self.project)[s.stock.id] for s in job.sizes]
            for n, sheet in enumerate(opens):
                grown = list(best)
                for swap in _swaps(job, sheet, costs, block):
                    for held, (cost, taken) in enumerate(best):
                        at = min(count, held + swap.room)
                        if cost + swap.cost < grown[at][0] - 1e-9:
                            grown[at] = (cost + swap.cost, (*taken, (board, n, swap.size)))
                best = grown
        cost, taken = best[count]
        self._longer = {(board, n): size for board, n, size in taken}
        return cost


def _swaps(job: Job, sheet: OpenSheet, costs: Sequence[float], block: Block) -> list[_Swap]:
    """Return the longer sheets that could stand in for one and hold more blocks at their end."""
    own = job.sizes[sheet.size]
    reach = max(laid.x + job.wants[laid.want].length for laid in sheet.laid)
    most = min(job.wants[laid.want].cap for laid in sheet.laid)
    before = holds(own.length - reach, own.width, block)
    found: list[_Swap] = []
    for index, size in enumerate(job.sizes):
        if size.width == own.width and own.length < size.length <= most:
            room = holds(size.length - reach, size.width, block) - before
            if room > 0:
                found.append(_Swap(costs[index] - costs[sheet.size], room, index))
    return found


def holds(length: int, width: int, block: Block) -> int:
    """Return how many back-blocks can be cut from an offcut, all the same way round.

    Args:
        length: Of the offcut, hundredths of a mm.
        width: The same.
        block: Size of the blocks, mm.
    """
    a, b = map(to_parts, block)
    return max((length // a) * (width // b), (length // b) * (width // a))


def blocks_alone(scheme: Scheme) -> tuple[Block, ...]:
    """Return the back-blocks of a scheme that stand on sheets bought for them alone."""
    pieces = pieces_of(scheme.rooms)
    return tuple(
        (p.length, p.width)
        for sheet in scheme.cut_plan.sheets
        if not any(p.piece in pieces for p in sheet.placements)
        for p in sheet.placements
    )
