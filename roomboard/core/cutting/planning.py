"""The plan: all pieces of a project cut from stock."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from roomboard.core.cutting.bounds import Least, board_bound, least_of
from roomboard.core.cutting.check import insist, verify
from roomboard.core.cutting.cut_sheets import cut_sheet, numbered
from roomboard.core.cutting.improving import solve
from roomboard.core.cutting.on_site import Pile, UsedUp, use_up, with_site
from roomboard.core.cutting.packing import OpenSheet
from roomboard.core.cutting.values import BoardBound, CutPlan, CutSheet, Demand
from roomboard.core.cutting.wants import Job, check_demands, job_of, to_m2, to_parts
from roomboard.core.practice import Practice
from roomboard.core.project import Units
from roomboard.core.stock import Board

Cutter = Callable[[Job, list[OpenSheet]], list[OpenSheet]]
"""Takes a board's job and how it would usually be cut; gives a way of cutting it, or that one."""


def plan(  # noqa: PLR0913 - what is cut, what it is cut from, and how
    demands: Sequence[Demand],
    boards: Sequence[Board],
    net_m2: Mapping[str, float],
    practice: Practice,
    lengths: Sequence[float] = (),
    widths: Sequence[float] = (),
    *,
    units: Units = Units.METRIC,
    cutter: Cutter | None = None,
    pile: Pile | None = None,
) -> CutPlan:
    """Return how all pieces are cut from stock: the least board found, then the fewest sheets.

    Offcuts on site are cut from first, where that leaves less to be bought.

    Pieces are laid by many fixed strategies, the cheapest result is improved by emptying
    sheets and by filling the most wasteful ones anew, and what comes out is checked. A piece
    whose edge must be cut is laid so that no recess is left along that edge.

    Args:
        demands: The pieces, in hanging order.
        boards: Boards they may be cut from; a piece of any other board stays unplaced.
        net_m2: Area of the finished pieces by board, m2; a board left out counts its blanks.
        practice: The pack; ``piece.min`` and ``strip.min`` say which offcuts are kept.
        lengths: Sheet lengths that can be had, mm; empty for all.
        widths: Sheet widths that can be had, mm; empty for all.
        units: How lengths are written in the reasons.
        cutter: Another way of cutting a board's pieces; what it gives is checked like any plan.
        pile: What lies on site.

    Raises:
        ValueError: If an id comes twice, a size is not above 0, or an edge need is unknown.
        CuttingError: If the plan breaks a rule; a fault of the program.
    """
    check_demands(demands)
    known = {b.id: b for b in boards}
    sheets: list[CutSheet] = []
    bounds: list[BoardBound] = []
    placed: set[str] = set()
    on_site: list[CutSheet] = []
    for board_id in sorted({d.board for d in demands} & known.keys()):
        own = [d for d in demands if d.board == board_id]
        job = job_of(known[board_id], own, practice, lengths, widths)
        used = use_up(job, pile) if pile is not None else UsedUp((), job, 0)
        on_site.extend(used.sheets)
        least, site = with_site(job, pile, used.area)
        cut = _cut_board(used.left, least if pile is None else least_of(used.left), cutter)
        held = {w.demand.id for w in job.wants}
        placed |= held
        lost = sum(to_parts(d.length) * to_parts(d.width) for d in own if d.id not in held)
        blank_m2 = to_m2(sum(w.area for w in job.wants) + lost)
        net = net_m2.get(board_id, blank_m2)
        bounds.append(board_bound(job, least, net, lost, cut, units, site))
        sheets.extend(cut)
    made = CutPlan(
        sheets=numbered(sheets),
        bounds=tuple(bounds),
        unplaced=tuple(d.id for d in demands if d.id not in placed),
        on_site=tuple(sorted(on_site, key=lambda s: s.number)),
    )
    insist(verify(made, demands, boards, offcuts=pile.offcuts if pile is not None else ()))
    return made


def _cut_board(job: Job, least: Least, cutter: Cutter | None) -> list[CutSheet]:
    if not job.wants:
        return []
    opens = solve(job, (least.area, least.stock))
    if cutter is not None:
        opens = cutter(job, opens)
    return [cut_sheet(job, sheet) for sheet in opens]
