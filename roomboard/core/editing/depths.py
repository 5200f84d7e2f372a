"""Depths of members in old ceilings, and the plane they are packed down to."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.members import member_positions
from roomboard.core.editing.refusal import EditError, numbers
from roomboard.core.editing.zones import put_zone, sure_zone
from roomboard.core.plane import snap

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.project import PackTo, Room


def set_depths(room: Room, zone_id: str, index: int, readings: Iterable[float]) -> Room:
    """Say how far one member's underside stands above the level line, from its low end on.

    Members that were not read yet stay without readings.

    Args:
        room: The room.
        zone_id: Which joist zone.
        index: Which member, from 0 at the low side.
        readings: At even steps along it, mm; one for the whole of it; none to take them away.

    Raises:
        EditError: If there is no such member, or a reading is no number.
    """
    room, zone = sure_zone(room, zone_id)
    count = len(member_positions(room, zone.id))
    if not 0 <= index < count:
        raise EditError(
            f"Joist zone {zone.id} of {room.name} has {count} members and none numbered "
            f"{index + 1}; choose one that is drawn."
        )
    given = tuple(readings)
    numbers(f"a depth of joist {index + 1} of {room.name}", *given)
    depths = [zone.depths[n] if n < len(zone.depths) else () for n in range(count)]
    depths[index] = tuple(snap(x) for x in given)
    kept = tuple(depths) if any(depths) else ()
    return put_zone(room, replace(zone, depths=kept))


def set_packed_to(room: Room, zone_id: str, packed_to: PackTo) -> Room:
    """Say what plane the members of a zone are packed down to.

    Raises:
        EditError: If there is no such zone.
    """
    room, zone = sure_zone(room, zone_id)
    return put_zone(room, replace(zone, packed_to=packed_to))
