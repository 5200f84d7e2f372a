"""Fixings: the place of every fastener, daub and back-block."""

from __future__ import annotations

from roomboard.core.fixings.floor_packers import packers
from roomboard.core.fixings.goods import Goods, goods_for, goods_kind
from roomboard.core.fixings.lengths import fastener_length, length_finding, length_to_buy
from roomboard.core.fixings.lines import spread
from roomboard.core.fixings.set_out import set_out_fixings
from roomboard.core.fixings.values import AdhesiveBead, BackBlock, Daub, Fastener, Fixings, Role

__all__ = [
    "AdhesiveBead",
    "BackBlock",
    "Daub",
    "Fastener",
    "Fixings",
    "Goods",
    "Role",
    "fastener_length",
    "goods_for",
    "goods_kind",
    "length_finding",
    "length_to_buy",
    "packers",
    "set_out_fixings",
    "spread",
]
