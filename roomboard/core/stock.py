"""Stock: boards, sheets, linear goods and packs of fixings, as types.

The goods themselves are data in ``resources/stock/*.toml``; nothing here is a price.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.practice import Citation

SAME_LENGTH = 0.5
"""Fasteners whose lengths differ by less than this (mm) are the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A size of sheet one can buy; both long edges are recessed, both ends square.

    Attributes:
        id: Stable id, e.g. ``"std10-1200x3600"``.
        board: Id of its board.
        length: Along the recessed edges, mm.
        width: Between the recessed edges, mm.
        native: The size as it is sold, e.g. ``"4' x 12'"`` or ``"1200 x 3600"``.
    """

    id: str
    board: str
    length: float
    width: float
    native: str

    @property
    def area_m2(self) -> float:
        """Face area, m2."""
        return self.length * self.width / 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A kind of board.

    Attributes:
        id: Stable id.
        name: Generic name, e.g. ``"10 mm standard"``; never a brand.
        letter: One or two letters that mark it on drawings.
        thickness: mm.
        mass_kg_m2: Mass of the board, kg/m2.
        grades: E.g. ``("standard",)``, ``("ceiling",)``, ``("wet",)``, ``("fire",)``.
        recess_width: How far the recess reaches in from a long edge, mm.
        sheets: The sizes it is sold in, shortest first.
        citation: Where the sizes come from, and the mass too unless that is cited apart.
        mass_citation: Where the mass comes from, if from elsewhere.
    """

    id: str
    name: str
    letter: str
    thickness: float
    mass_kg_m2: float
    grades: tuple[str, ...]
    recess_width: float
    sheets: tuple[StockSheet, ...]
    citation: Citation
    mass_citation: Citation | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearStock:
    """Goods sold by the length.

    Attributes:
        id: Stable id.
        kind: ``"trimmer"``, ``"cornice"``, ``"external_bead"``, ``"backblock_timber"``, ...
        name: Name in words.
        lengths: Lengths it is sold in, mm, shortest first.
        citation: Where they come from.
    """

    id: str
    kind: str
    name: str
    lengths: tuple[float, ...]
    citation: Citation


@dataclass(frozen=True, slots=True, kw_only=True)
class PackSize:
    """How loose goods are packed.

    Attributes:
        id: Stable id.
        kind: ``"screws"`` (coarse, for timber), ``"screws_steel"`` (for light steel),
            ``"screws_steel_heavy"``, ``"nails"``, ``"laminating_screws"``, ``"adhesive"``,
            ``"compound"``, ``"tape"``, ``"sealant"``, ``"packers"``, ...
        name: Name in words.
        size: Content of one pack, in ``unit``.
        unit: ``"each"``, ``"ml"``, ``"kg"``, ``"m"``.
        citation: Where it comes from.
        length: Length of a fastener, mm; 0 for other goods.
    """

    id: str
    kind: str
    name: str
    size: float
    unit: str
    citation: Citation
    length: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Catalogue:
    """Everything that can be bought.

    Attributes:
        boards: All boards, in order of id.
        linear: Linear goods.
        packs: Pack sizes, the usual one of each kind first.
        default_ceiling: Id of the board for ceilings unless the user names another.
        default_wall: Id of the board for walls unless the user names another.
    """

    boards: tuple[Board, ...]
    linear: tuple[LinearStock, ...]
    packs: tuple[PackSize, ...]
    default_ceiling: str = ""
    default_wall: str = ""

    @cached_property
    def _boards(self) -> dict[str, Board]:
        return {b.id: b for b in self.boards}

    def board(self, board_id: str) -> Board | None:
        """Return a board by id, or None."""
        return self._boards.get(board_id)

    def linear_of(self, kind: str) -> LinearStock | None:
        """Return the first linear good of a kind, or None."""
        return next((item for item in self.linear if item.kind == kind), None)

    def pack_of(self, kind: str) -> PackSize | None:
        """Return the first pack of a kind, or None."""
        return next((item for item in self.packs if item.kind == kind), None)

    def fastener_lengths(self, kind: str) -> tuple[float, ...]:
        """Return the lengths a kind of fastener is sold in, mm, shortest first."""
        return tuple(sorted({item.length for item in self.packs if item.kind == kind}))

    def fastener_pack(self, kind: str, length: float) -> PackSize | None:
        """Return the pack of a kind of fastener of one length (mm), or None."""
        return next(
            (i for i in self.packs if i.kind == kind and abs(i.length - length) < SAME_LENGTH),
            None,
        )
