"""Quick estimates by area, as the books make them before anything is set out.

They are bounds and rules of thumb, never the order: a set-out counts the sheets it cuts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.units import write_area, write_length

if TYPE_CHECKING:
    from roomboard.core.project import Units
    from roomboard.core.scheme import Scheme

CRUMB = 1e-9
"""A share of a sheet this small comes from the arithmetic, not from the room."""
SPARE = "spare.default_ratio"
"""Key of the pack's spare, used where the user gives none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaEstimate:
    """How many sheets of one board an area alone asks for, beside what the set-out takes.

    Attributes:
        board: Board id.
        net_m2: Area to be covered, openings taken off, m2.
        length: Length of the sheet it is reckoned in, mm.
        width: Its width, mm.
        least: Whole sheets that hold the area.
        spare_ratio: Spare on top, e.g. 0.05 for a twentieth.
        spared: Whole sheets with the spare.
        set_out: Sheets the set-out takes, of all sizes.
        bought_m2: Board they are, m2.
    """

    board: str
    net_m2: float
    length: float
    width: float
    least: int
    spare_ratio: float
    spared: int
    set_out: int
    bought_m2: float


def room_area(length: float, width: float, height: float) -> float:
    """Return the area of four walls and a ceiling without openings, in the square of the unit."""
    return 2 * (length + width) * height + length * width


def whole_sheets(area: float, sheet_area: float, spare_ratio: float = 0.0) -> int:
    """Return the whole sheets that hold an area, spare included.

    The spare is reckoned on whole sheets, as take-off guides do.

    Args:
        area: Area to cover.
        sheet_area: Area of a sheet in the same unit.
        spare_ratio: Spare on top, e.g. 0.1 for a tenth.

    Raises:
        ValueError: If a sheet has no area.
    """
    if sheet_area <= 0:
        raise ValueError("A sheet needs an area of more than 0.")
    net = math.ceil(area / sheet_area - CRUMB)
    return math.ceil(net * (1 + spare_ratio) - CRUMB)


def area_from_floor(floor_area: float, factor: float) -> float:
    """Return the board area of a house reckoned from its floor area.

    Args:
        floor_area: Floor area.
        factor: Board for each unit of floor; books give 3.33 to 3.5, so it is the user's.
    """
    return floor_area * factor


def by_area(scheme: Scheme, spare_ratio: float) -> tuple[AreaEstimate, ...]:
    """Return what each board of a job would take by area alone, beside its set-out.

    The sheet it is reckoned in is the one of which the most board is bought, the longer and
    wider where two are level.

    Args:
        scheme: The whole answer.
        spare_ratio: Spare on top, e.g. 0.05 for a twentieth.
    """
    bought = {q.code: q.exact for q in scheme.quantities}
    found: list[AreaEstimate] = []
    for bound in scheme.cut_plan.bounds:
        board = scheme.catalogue.board(bound.board)
        sizes = sorted(board.sheets if board else (), key=lambda s: (s.length, s.width))
        if not sizes or bound.sheets == 0:
            continue
        most = max(reversed(sizes), key=lambda s: bought.get(f"sheets:{s.id}", 0.0) * s.area_m2)
        found.append(
            AreaEstimate(
                board=bound.board,
                net_m2=bound.net_m2,
                length=most.length,
                width=most.width,
                least=whole_sheets(bound.net_m2, most.area_m2),
                spare_ratio=spare_ratio,
                spared=whole_sheets(bound.net_m2, most.area_m2, spare_ratio),
                set_out=bound.sheets,
                bought_m2=bound.bought_m2,
            )
        )
    return tuple(found)


def estimate_words(estimate: AreaEstimate, units: Units) -> str:
    """Return an estimate in words: what it is reckoned in, the sheets, and what the set-out takes.

    For instance ``15 of 1200 x 3600, with 5 % spare 16; the set-out takes 17, 73.44 m²``.
    """
    size = f"{write_length(estimate.width, units)} x {write_length(estimate.length, units)}"
    return (
        f"{estimate.least} of {size}, with {100 * estimate.spare_ratio:g} % spare "
        f"{estimate.spared}; the set-out takes {estimate.set_out}, "
        f"{write_area(estimate.bought_m2, units)}"
    )
