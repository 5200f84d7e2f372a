"""What cutting takes and gives: pieces wanted, sheets cut, bounds, lengths."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class EdgeIs(StrEnum):
    """What a long edge is once cut."""

    RECESSED = "recessed"
    CUT = "cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """A rectangle wanted from stock.

    Attributes:
        id: Piece id, or back-block id.
        length: Along the sheet, mm.
        width: Across the sheet, mm.
        low: ``"recessed"``, ``"cut"`` or ``"any"`` for its long edge at y = 0 (face up).
        high: The same for the other long edge.
        board: Board id.
        longest: Longest stock sheet that can reach its room, mm; 0 for no limit.
        sheet_width: Stock width its course was set out with, mm; 0 for any.
    """

    id: str
    length: float
    width: float
    low: str
    high: str
    board: str
    longest: float = 0.0
    sheet_width: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A piece laid on a stock sheet, face up.

    Attributes:
        piece: Piece id.
        x: Along the sheet from its left end, mm.
        y: Across the sheet from its low edge, mm.
        length: Along the sheet, mm.
        width: Across the sheet, mm.
        turned: Whether it is turned by half a turn (its low edge towards the sheet's high edge).
        low: What the piece's own low edge becomes.
        high: What the piece's own high edge becomes.
    """

    piece: str
    x: float
    y: float
    length: float
    width: float
    turned: bool
    low: EdgeIs
    high: EdgeIs


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One score-and-snap cut, from side to side of the part it divides.

    Attributes:
        number: Order of cutting, from 1.
        rip: True along the sheet, False across.
        x0: Start, mm on the sheet.
        y0: Start.
        x1: End.
        y1: End.
    """

    number: int
    rip: bool
    x0: float
    y0: float
    x1: float
    y1: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """What is left of a sheet.

    Attributes:
        x: Lower left corner on the sheet, mm.
        y: Lower left corner.
        length: Along the sheet, mm.
        width: Across it, mm.
        low: What its low long edge is.
        high: What its high long edge is.
        keep: Whether it is worth keeping.
        used_for: Ids of back-blocks cut from it.
    """

    x: float
    y: float
    length: float
    width: float
    low: EdgeIs
    high: EdgeIs
    keep: bool
    used_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """One stock sheet and how it is cut.

    Attributes:
        id: ``"S1"``, numbered over the project; ``"OC1"`` for an offcut on site.
        board: Board id.
        stock: Stock sheet id; empty for an offcut on site.
        length: mm.
        width: mm.
        placements: What is cut from it.
        cuts: In order.
        offcuts: What is left.
        mass_kg: Mass of the whole sheet.
        low: What its long edge at y = 0 is; recessed on every sheet that is bought.
        high: The same for its other long edge.
    """

    id: str
    board: str
    stock: str
    length: float
    width: float
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    mass_kg: float
    low: EdgeIs = EdgeIs.RECESSED
    high: EdgeIs = EdgeIs.RECESSED

    @property
    def area_m2(self) -> float:
        """Area of the sheet, m2."""
        return self.length * self.width / 1e6

    @property
    def on_site(self) -> bool:
        """Whether it is an offcut that lies on site and is not bought."""
        return not self.stock

    @property
    def number(self) -> int:
        """The number in its id."""
        return int("".join(c for c in self.id if c.isdecimal()))


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardBound:
    """How few sheets of one board could do, and what was used.

    Attributes:
        board: Board id.
        net_m2: Area of the finished pieces cut from what is bought (cut-outs taken off), m2.
        blank_m2: Area of the rectangles they are cut from, m2.
        bought_m2: Area of the sheets used, m2.
        sheets: Sheets used.
        area_bound: No fewer sheets of the largest size allowed can hold the net area.
        edge_bound: No fewer sheets can hold the courses, edges counted.
        bought_bound_m2: No less board than this can be bought for these pieces, m2.
        reasons: For every sheet above the bound, why, in words.
        on_site_m2: Area of the rectangles that are cut from offcuts on site instead, m2.
    """

    board: str
    net_m2: float
    blank_m2: float
    bought_m2: float
    sheets: int
    area_bound: int
    edge_bound: int
    bought_bound_m2: float
    reasons: tuple[str, ...]
    on_site_m2: float = 0.0


@dataclass(frozen=True, kw_only=True)
class CutPlan:
    """How all pieces of a project are cut.

    Attributes:
        sheets: All stock sheets that are bought.
        bounds: One for each board used, in order of board id.
        unplaced: Ids of pieces that fit no allowed stock sheet.
        on_site: The offcuts on site that are cut from, and how.
    """

    sheets: tuple[CutSheet, ...]
    bounds: tuple[BoardBound, ...]
    unplaced: tuple[str, ...]
    on_site: tuple[CutSheet, ...] = ()

    @property
    def every(self) -> tuple[CutSheet, ...]:
        """All that is cut from: offcuts on site first, then what is bought."""
        return (*self.on_site, *self.sheets)


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearCut:
    """One length of linear goods and what is cut from it.

    Attributes:
        id: ``"L3"``, numbered over the project and kind.
        kind: Kind of linear goods.
        stock: Stock id.
        length: Stock length, mm.
        pieces: Id and length of each piece cut from it, in order.
        left: What is left, mm.
    """

    id: str
    kind: str
    stock: str
    length: float
    pieces: tuple[tuple[str, float], ...]
    left: float


class CuttingError(RuntimeError):
    """A cut plan that breaks its own rules: a fault of the program, never of the input."""
