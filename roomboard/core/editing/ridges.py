"""Moving the ridge of a ceiling: heights at its sides and at the ridge stay, slopes follow."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.heights import checked, ridge, turn_of, wall_line
from roomboard.core.editing.refusal import EditError
from roomboard.core.plane import TOLERANCE

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.project import CeilingPart, Room

TURN_HAIR = 1e-6
"""Directions that differ by less are the same, degrees."""


@dataclass(frozen=True, slots=True)
class Ridge:
    """The one ridge of a ceiling of two slopes.

    Attributes:
        wall: Id of the wall it is measured from.
        away: How far it runs from that wall, mm.
        depth: How far the room reaches from that wall, mm.
        inward: Unit vector from that wall square into the room.
        near: The slope between that wall and the ridge.
        far: The slope beyond it.
    """

    wall: str
    away: float
    depth: float
    inward: Point
    near: CeilingPart
    far: CeilingPart

    @property
    def top(self) -> float:
        """Height of the framing at the ridge, mm."""
        return self.near.height

    @property
    def low(self) -> float:
        """Height of the framing at the wall, mm."""
        return self.top - math.tan(math.radians(self.near.pitch_deg)) * self.away

    @property
    def low_other(self) -> float:
        """Height of the framing at the side farthest from the wall, mm."""
        return self.top - math.tan(math.radians(self.far.pitch_deg)) * (self.depth - self.away)


def ridge_of(room: Room) -> Ridge | None:
    """Return the ridge of a ceiling that two slopes make along a wall; None for any other."""
    if len(room.ceiling_parts) != 2:
        return None
    one, two = room.ceiling_parts
    if not (one.pitch_deg and two.pitch_deg) or abs(one.height - two.height) > TOLERANCE:
        return None
    for wall in room.walls:
        p, inward, depth = wall_line(room, wall.id)
        for near, far in ((one, two), (two, one)):
            away, beyond = (
                (part.at[0] - p[0]) * inward[0] + (part.at[1] - p[1]) * inward[1]
                for part in (near, far)
            )
            rises = _same_turn(near.rise_deg, turn_of(inward))
            falls = _same_turn(far.rise_deg, turn_of(inward) + 180.0)
            if rises and falls and abs(away - beyond) <= TOLERANCE and 0.0 < away < depth:
                return Ridge(wall.id, away, depth, inward, near, far)
    return None


def _same_turn(a: float, b: float) -> bool:
    return abs((a - b + 180.0) % 360.0 - 180.0) <= TURN_HAIR


def move_ridge(room: Room, away: float) -> Room:
    """Move the ridge of a ceiling square to itself.

    Args:
        room: The room.
        away: How far it runs from the wall it is measured from, mm.

    Raises:
        EditError: If the ceiling has no such ridge, or it would not lie in the room.
    """
    known = ridge_of(room)
    if known is None:
        raise EditError(
            f"The ceiling of {room.name} has no ridge of two slopes along a wall; give it one "
            "with Ridge along a wall."
        )
    made = ridge(room, known.wall, known.low, known.top, away, known.low_other)
    near, far = made.ceiling_parts
    kept = {
        old.id: replace(
            old, outline=new.outline, height=new.height, at=new.at, pitch_deg=new.pitch_deg
        )
        for old, new in ((known.near, near), (known.far, far))
    }
    return checked(replace(room, ceiling_parts=tuple(kept[p.id] for p in room.ceiling_parts)))
