"""Which fasteners are bought for a board: the kind by the frame it goes into, and the length."""

from __future__ import annotations

from typing import NamedTuple

from roomboard.core.fixings.lengths import fastener_length, length_to_buy
from roomboard.core.practice import Practice
from roomboard.core.project import FrameKind
from roomboard.core.stock import Board, Catalogue

LIGHT_STEEL = "steel.light_max"
"""Thickness of steel up to which a screw pierces it and needs no drill point."""
GAUGE_SLACK = 0.01
"""Sheet steel is measured in hundredths of a millimetre: so much more counts as the same."""


class Goods(NamedTuple):
    """Fasteners as they are bought.

    Attributes:
        kind: Kind of goods in the stock, e.g. ``"screws_steel"``.
        needed: Least length, mm; None where the pack states no penetration for the case.
        length: Length bought, mm; 0 where none so long is sold or the length is not known.
    """

    kind: str
    needed: float | None
    length: float


def goods_kind(
    kind: str, frame: FrameKind, practice: Practice, steel_thickness: float = 0.0
) -> str:
    """Return the kind of goods for a fastener: steel takes its screws by its gauge.

    Args:
        kind: ``"screw"`` or ``"nail"``.
        frame: Timber or steel.
        practice: The pack; ``steel.light_max`` is the thickest light steel.
        steel_thickness: Thickness of the steel, mm; 0 where it is not known, which counts as
            light.
    """
    if kind == "nail":
        return "nails"
    if frame is not FrameKind.STEEL:
        return "screws"
    known = practice.has(LIGHT_STEEL)
    heavy = known and steel_thickness > practice.mm(LIGHT_STEEL) + GAUGE_SLACK
    return "screws_steel_heavy" if heavy else "screws_steel"


def goods_for(
    board: Board,
    kind: str,
    frame: FrameKind,
    practice: Practice,
    catalogue: Catalogue,
    steel_thickness: float = 0.0,
) -> Goods:
    """Return the fasteners bought for a board on a frame.

    Args:
        board: The board.
        kind: ``"screw"`` or ``"nail"``.
        frame: Timber or steel.
        practice: The pack.
        catalogue: What can be bought.
        steel_thickness: Thickness of the steel, mm; 0 where it is not known.
    """
    goods = goods_kind(kind, frame, practice, steel_thickness)
    needed = fastener_length(board.thickness, kind, frame, practice)
    if needed is None:
        return Goods(goods, None, 0.0)
    lengths = [x for x in catalogue.fastener_lengths(goods) if x]
    return Goods(goods, needed, length_to_buy(needed, lengths) or 0.0)
