"""Quick estimates by area, as the books make them before anything is set out.

They are bounds and rules of thumb, never the order: a set-out counts the sheets it cuts.
"""

from __future__ import annotations

import math

CRUMB = 1e-9
"""A share of a sheet this small comes from the arithmetic, not from the room."""


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


def wall_area(length: float, height: float) -> float:
    """Return the area of a run of wall, openings not taken off."""
    return length * height
