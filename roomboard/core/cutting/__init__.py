"""Cutting: how each stock sheet is scored and snapped, and how linear goods are cut.

A sheet is cut from side to side only: a rip runs along it, a crosscut across it, and each
cut divides one part into two. Both long edges of a stock sheet are recessed. A rip leaves
the lower part the low edge and the upper part the high edge; a crosscut leaves both parts
both edges. A piece is never given a quarter-turn (board is stronger along the sheet) and
never turned face down; half a turn swaps its long edges.

Inside this package lengths are whole hundredths of a mm, so that sums are exact.
"""

from __future__ import annotations

from roomboard.core.cutting.back_blocks import back_blocks_from_offcuts, plan_with_back_blocks
from roomboard.core.cutting.check import verify
from roomboard.core.cutting.linear import cut_linear
from roomboard.core.cutting.on_site import Pile, pile_of
from roomboard.core.cutting.planning import plan
from roomboard.core.cutting.values import (
    BoardBound,
    Cut,
    CutPlan,
    CutSheet,
    CuttingError,
    Demand,
    EdgeIs,
    LinearCut,
    Offcut,
    Placement,
)

__all__ = [
    "BoardBound",
    "Cut",
    "CutPlan",
    "CutSheet",
    "CuttingError",
    "Demand",
    "EdgeIs",
    "LinearCut",
    "Offcut",
    "Pile",
    "Placement",
    "back_blocks_from_offcuts",
    "cut_linear",
    "pile_of",
    "plan",
    "plan_with_back_blocks",
    "verify",
]
