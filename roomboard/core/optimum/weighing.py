"""Weighing: what a set-out costs by kind, reckoned from the worked-out scheme alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.joints import JointKind
from roomboard.core.lighting import across_light_m

if TYPE_CHECKING:
    from collections.abc import Mapping

    from roomboard.core.cutting import CutSheet
    from roomboard.core.project import Project, Weights
    from roomboard.core.scheme import Scheme
    from roomboard.core.sheeting import SetOut
    from roomboard.core.stock import Board, StockSheet


class CostLine(NamedTuple):
    """One kind of cost.

    Attributes:
        kind: ``"board"``, ``"block_board"`` (sheets for back-blocks alone), ``"butt"``,
            ``"recessed"``, ``"end_to_recess"``, ``"piece"``, ``"cut"``, ``"lift"``,
            ``"middle"`` or ``"light"``.
        amount: How much of it, in its own unit: m2, m, pieces, cuts, kg.
        weight: What one of it counts, m2 of board.
    """

    kind: str
    amount: float
    weight: float

    @property
    def cost(self) -> float:
        """What it counts together, m2 of board."""
        return self.amount * self.weight


@dataclass(frozen=True, kw_only=True)
class Cost:
    """What a set-out costs.

    Attributes:
        lines: Each kind once, in the order of the weights.
    """

    lines: tuple[CostLine, ...]

    @property
    def total(self) -> float:
        """All of it, m2 of board."""
        return sum(line.cost for line in self.lines)

    @property
    def searched(self) -> float:
        """What the search weighs: all but the sheets bought for back-blocks alone."""
        return self.total - sum(line.cost for line in self.lines if line.kind == "block_board")

    def amount(self, kind: str) -> float:
        """Return how much there is of a kind."""
        return next(line.amount for line in self.lines if line.kind == kind)


def board_costs(board: Board, project: Project) -> dict[str, float]:
    """Return what each sheet of a board counts, m2, by stock id.

    Its area; where all its sheets have prices, what the price would buy at the best value.
    """
    prices: Mapping[str, float] = {p.item: p.amount for p in project.prices}
    if all(prices.get(s.id, 0.0) > 0 for s in board.sheets):
        best = min(prices[s.id] / s.area_m2 for s in board.sheets)
        return {s.id: prices[s.id] / best for s in board.sheets}
    return {s.id: _area(s) for s in board.sheets}


def _area(sheet: StockSheet) -> float:
    return sheet.area_m2


def nearness(s: float, ends: tuple[float, float]) -> float:
    """Return how near the middle of its field a butt stands: 1 in the middle, 0 at the ends."""
    middle, half = (ends[0] + ends[1]) / 2, max((ends[1] - ends[0]) / 2, 1.0)
    return 1 - min(1.0, abs(s - middle) / half)


def middle_m(laid: SetOut) -> float:
    """Return the metres of butt joint of a surface, each by how near the middle it stands."""
    ends: dict[int, tuple[float, float]] = {}
    for field in laid.fields:
        own = [p.blank for p in laid.pieces if p.field == field.number]
        if own:
            ends[field.number] = (min(b[0] for b in own), max(b[2] for b in own))
    return sum((b.t1 - b.t0) / 1000 * nearness(b.s, ends[b.field]) for b in laid.butts)


def weigh(scheme: Scheme, weights: Weights) -> Cost:
    """Return what a worked-out scheme costs by kind.

    Args:
        scheme: The scheme.
        weights: What counts how much.
    """
    surfaces = [s for room in scheme.rooms for s in room.surfaces]
    joints = [j for s in surfaces for j in s.joints]
    sheets = {
        sheet: cost
        for board in scheme.catalogue.boards
        for sheet, cost in board_costs(board, scheme.project).items()
    }
    plan = scheme.cut_plan
    pieces = {p.id for s in surfaces for p in s.set_out.pieces}

    def holds(sheet: CutSheet) -> bool:
        """Whether any piece is cut from a sheet, and not back-blocks alone."""
        return any(p.piece in pieces for p in sheet.placements)

    def metres(*kinds: JointKind) -> float:
        return sum(j.length for j in joints if j.kind in kinds) / 1000

    butts = sum(b.t1 - b.t0 for s in surfaces for b in s.set_out.butts) / 1000
    lift = sum(max((p.mass_kg for p in s.set_out.pieces), default=0.0) for s in surfaces)
    lines = (
        CostLine("board", sum(sheets[s.stock] for s in plan.sheets if holds(s)), weights.board),
        CostLine(
            "block_board",
            sum(sheets[s.stock] for s in plan.sheets if not holds(s)),
            weights.board,
        ),
        CostLine("butt", butts, weights.butt),
        CostLine("recessed", metres(JointKind.RECESSED), weights.recessed),
        CostLine("end_to_recess", metres(JointKind.END_TO_RECESS), weights.end_to_recess),
        CostLine("piece", sum(len(s.set_out.pieces) for s in surfaces), weights.piece),
        CostLine("cut", sum(len(s.cuts) for s in plan.every), weights.cut),
        CostLine("lift", lift, weights.lift),
        CostLine("middle", sum(middle_m(s.set_out) for s in surfaces), weights.middle),
        CostLine(
            "light", sum(across_light_m(s.surface, s.set_out) for s in surfaces), weights.light
        ),
    )
    return Cost(lines=lines)
