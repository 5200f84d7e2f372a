"""Handling: what a sheet weighs, how many people lift it, and the revised NIOSH lifting equation.

The lifting equation is that of the US National Institute for Occupational Safety and Health
(1991). Its constants are part of the equation, not figures of this trade. Distances are in
centimetres here, as its tables print them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.practice import Practice
    from roomboard.core.stock import Board

LOAD_CONSTANT_KG = 23.0
"""What may be lifted at best, kg."""
NEAR_CM, FAR_CM = 25.0, 63.0
"""Hands nearer than the first count as there; beyond the second nothing should be lifted."""
KNUCKLE_CM, HIGH_CM = 75.0, 175.0
"""Best height of the hands, and the height above which nothing should be lifted."""
SHORT_CM, LONG_CM = 25.0, 175.0
"""Shorter travel counts as the first; over more than the second nothing should be lifted."""
TURN_DEG = 135.0
"""Turned further than this, nothing should be lifted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift.

    Attributes:
        horizontal_cm: From the ankles to the hands.
        height_cm: Of the hands above the floor at the start.
        travel_cm: How far up or down the load moves.
        turn_deg: How far the body is turned.
        frequency_factor: The equation's factor for lifts a minute; 1 for the odd lift.
        grip_factor: The equation's factor for the grip; 1 for a good one.
    """

    horizontal_cm: float
    height_cm: float
    travel_cm: float
    turn_deg: float = 0.0
    frequency_factor: float = 1.0
    grip_factor: float = 1.0


def mass_kg(area_m2: float, board: Board) -> float:
    """Return the mass of a piece of board, kg.

    Args:
        area_m2: Its face area, m2.
        board: The board it is of.
    """
    return area_m2 * board.mass_kg_m2


def people_to_lift(kg: float, practice: Practice, limit_kg: float = 0.0) -> int:
    """Return how many people lift a mass: 1, 2 or 3.

    The limits are the pack's ``lift.two_person_kg`` and ``lift.three_person_kg``; a mass of just
    the limit still counts as below it.

    Args:
        kg: The mass, kg.
        practice: The pack.
        limit_kg: The user's own limit for one person, kg; 0 for the pack's.
    """
    two = limit_kg or practice.mm("lift.two_person_kg")
    three = practice.mm("lift.three_person_kg")
    return 1 + (kg > two) + (kg > max(two, three))


def horizontal_factor(horizontal_cm: float) -> float:
    """Return the lifting equation's factor for the reach, HM = 25 / H."""
    if horizontal_cm > FAR_CM:
        return 0.0
    return NEAR_CM / max(horizontal_cm, NEAR_CM)


def vertical_factor(height_cm: float) -> float:
    """Return the lifting equation's factor for the height, VM = 1 - 0.003 |V - 75|."""
    if not 0 <= height_cm <= HIGH_CM:
        return 0.0
    return 1 - 0.003 * abs(height_cm - KNUCKLE_CM)


def distance_factor(travel_cm: float) -> float:
    """Return the lifting equation's factor for the travel, DM = 0.82 + 4.5 / D."""
    if travel_cm > LONG_CM:
        return 0.0
    return min(1.0, 0.82 + 4.5 / max(travel_cm, SHORT_CM))


def asymmetry_factor(turn_deg: float) -> float:
    """Return the lifting equation's factor for turning, AM = 1 - 0.0032 A."""
    if turn_deg > TURN_DEG:
        return 0.0
    return 1 - 0.0032 * turn_deg


def recommended_weight_kg(lift: Lift) -> float:
    """Return the recommended weight limit of one lift by one person, kg.

    RWL = LC x HM x VM x DM x AM x FM x CM. Source: revised NIOSH lifting equation, 1991.
    """
    return (
        LOAD_CONSTANT_KG
        * horizontal_factor(lift.horizontal_cm)
        * vertical_factor(lift.height_cm)
        * distance_factor(lift.travel_cm)
        * asymmetry_factor(lift.turn_deg)
        * lift.frequency_factor
        * lift.grip_factor
    )
