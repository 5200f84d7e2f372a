"""Parts of a ceiling changed, taken away, or all made level."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.heights import checked, pitch_over, steep
from roomboard.core.editing.refusal import EditError, above_nothing, numbers
from roomboard.core.heights import MEETS, covers

if TYPE_CHECKING:
    from roomboard.core.project import AngleFinish, CeilingPart, Room


def part_of(room: Room, part_id: str) -> CeilingPart:
    """Return a part of a ceiling by id.

    Raises:
        EditError: If the room has no such part.
    """
    for part in room.ceiling_parts:
        if part.id == part_id:
            return part
    known = ", ".join(p.id for p in room.ceiling_parts)
    told = f"its parts are {known}" if known else "it is flat, and has none"
    raise EditError(f"The ceiling of {room.name} has no part “{part_id}”; {told}.")


def set_part(
    room: Room,
    part_id: str,
    *,
    height: float | None = None,
    pitch_deg: float | None = None,
    rise_deg: float | None = None,
    lined: bool | None = None,
    board: str | None = None,
    angle: AngleFinish | None = None,
) -> Room:
    """Change what is said of a part of a ceiling; what is not given stays.

    Args:
        room: The room.
        part_id: Which part.
        height: Height of its framing where that was measured, mm.
        pitch_deg: How steep it is, degrees; it turns about the place its height was measured at.
        rise_deg: Which way it rises, degrees.
        lined: Whether this job lines it.
        board: Board id, or empty for the room's.
        angle: What finishes the angle of its upright sides with the ceiling over them.

    Raises:
        EditError: If there is no such part, or it cannot be like that.
    """
    part = part_of(room, part_id)
    if height is not None:
        above_nothing("the height of the part", height)
        part = replace(part, height=height)
    if pitch_deg is not None:
        steep(room, pitch_deg)
        part = replace(part, pitch_deg=pitch_deg)
    if rise_deg is not None:
        numbers("the way it rises", rise_deg)
        part = replace(part, rise_deg=rise_deg % 360.0)
    if lined is not None:
        part = replace(part, lined=lined)
    if board is not None:
        part = replace(part, board=board)
    if angle is not None:
        part = replace(part, angle=angle)
    return checked(_put(room, part))


def run_of(room: Room, part_id: str) -> float:
    """Return how far a part of a ceiling reaches in plan the way it rises, mm.

    Raises:
        EditError: If there is no such part.
    """
    part = part_of(room, part_id)
    angle = math.radians(part.rise_deg)
    way = (math.cos(angle), math.sin(angle))
    regions = [r for c in covers(room) if c.part == part for r in c.regions]
    along = [p[0] * way[0] + p[1] * way[1] for r in regions for p in r.outer]
    return max(along, default=0.0) - min(along, default=0.0)


def set_rise(room: Room, part_id: str, rise: float) -> Room:
    """Give a part of a ceiling another pitch, by how much it rises over all its plan.

    Args:
        room: The room.
        part_id: Which part.
        rise: From its lowest place to its highest, mm.

    Raises:
        EditError: If there is no such part, or it would be too steep.
    """
    numbers("the rise of the ceiling", rise)
    run = run_of(room, part_id)
    if rise < 0 or run <= MEETS:
        raise EditError(
            f"Ceiling {part_id} of {room.name} cannot rise by {{rise}}; type 0 or more.",
            rise=rise,
        )
    return set_part(room, part_id, pitch_deg=pitch_over(rise, run))


def _put(room: Room, part: CeilingPart) -> Room:
    parts = tuple(part if p.id == part.id else p for p in room.ceiling_parts)
    return replace(room, ceiling_parts=parts)


def remove_part(room: Room, part_id: str) -> Room:
    """Take a part of a ceiling away: what lay under it follows the others, or lies flat.

    Raises:
        EditError: If there is no such part.
    """
    part_of(room, part_id)
    return _forgotten(
        replace(room, ceiling_parts=tuple(p for p in room.ceiling_parts if p.id != part_id))
    )


def flatten(room: Room) -> Room:
    """Make a ceiling flat at the room's height again."""
    return _forgotten(replace(room, ceiling_parts=()))


def _forgotten(room: Room) -> Room:
    """Drop what was chosen for parts that are no more."""
    known = {p.id for p in room.ceiling_parts}

    def there(key: str) -> bool:
        kind, _, rest = key.partition(":")
        if kind == "ceiling" and rest:
            return rest in known
        return kind != "step" or rest.partition(":")[0] in {*known, "ceiling"}

    return replace(room, choices=tuple(c for c in room.choices if there(c.surface)))
