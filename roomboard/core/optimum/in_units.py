"""Costs and weights in the units of the job: square metres of board, or square feet.

A cost is an area of board. A weight is an area for one of what it weighs: for a metre and a kg, or
for a foot and a pound.
"""

from __future__ import annotations

from roomboard.core.project import Units
from roomboard.core.units import FOOT, POUND_KG

AREA, RUN, MASS, EACH = "area", "run", "mass", "each"
MEASURES = {
    "board": AREA,
    "block_board": AREA,
    "butt": RUN,
    "recessed": RUN,
    "end_to_recess": RUN,
    "piece": EACH,
    "cut": EACH,
    "lift": MASS,
    "middle": RUN,
    "light": RUN,
}
"""What each kind of cost is measured in."""
_ONE = {AREA: (float(FOOT) / 1000) ** 2, RUN: float(FOOT) / 1000, MASS: POUND_KG, EACH: 1.0}
"""One square foot in m2, one foot in m, one pound in kg."""
_WORDS = {
    Units.METRIC: {AREA: "m²", RUN: "m", MASS: "kg", EACH: ""},
    Units.FEET_INCHES: {AREA: "sq ft", RUN: "ft", MASS: "lb", EACH: ""},
}


def unit_of(kind: str, units: Units) -> str:
    """Return the unit a kind of cost is measured in, as it is written; empty for a count.

    Args:
        kind: ``"butt"``, ``"lift"``, ... as :class:`CostLine` has them.
        units: The units of the job.
    """
    return _WORDS[units][MEASURES[kind]]


def amount_in(amount: float, kind: str, units: Units) -> float:
    """Return an amount of a kind of cost (m2, m, kg, number) in the units of the job."""
    return amount if units is Units.METRIC else amount / _ONE[MEASURES[kind]]


def cost_in(cost_m2: float, units: Units) -> float:
    """Return a cost in square metres or square feet of board."""
    return amount_in(cost_m2, "board", units)


def cost_unit(units: Units) -> str:
    """Return the unit of costs, as it is written."""
    return unit_of("board", units)


def weight_in(weight: float, kind: str, units: Units) -> float:
    """Return what one of a kind counts, board in the units of the job for one in those units.

    Args:
        weight: In m2 of board for one m2, m, kg or piece.
        kind: The kind.
        units: The units of the job.
    """
    if units is Units.METRIC:
        return weight
    return weight * _ONE[MEASURES[kind]] / _ONE[AREA]


def weight_from(shown: float, kind: str, units: Units) -> float:
    """Return a weight in m2 of board for one m2, m, kg or piece: :func:`weight_in` undone."""
    return shown if units is Units.METRIC else shown * _ONE[AREA] / _ONE[MEASURES[kind]]
