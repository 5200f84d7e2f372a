"""Single members of a joist zone: moved, added and taken away."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError, numbers
from roomboard.core.editing.zones import put_zone, sure_zone, zone_extent
from roomboard.core.framing import member_positions as positions_in
from roomboard.core.plane import TOLERANCE, snap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.project import JoistZone, Room


def member_positions(room: Room, zone_id: str) -> tuple[float, ...]:
    """Return the centres of a zone's members from its low side, mm, in order.

    Raises:
        EditError: If the room has zones, but none of this id.
    """
    room, zone = sure_zone(room, zone_id)
    return _positions(room, zone)


def _positions(room: Room, zone: JoistZone) -> tuple[float, ...]:
    low, high = zone_extent(room, zone)
    return tuple(snap(p) for p in positions_in(zone, high - low))


def set_positions(room: Room, zone_id: str, positions: Sequence[float]) -> Room:
    """Place the members of a zone one by one.

    Args:
        room: The room; without zones it gets one.
        zone_id: Which zone.
        positions: Centres from the zone's low side, mm, in any order.

    Raises:
        EditError: If one lies outside the zone or on another, or there are none.
    """
    room, zone = sure_zone(room, zone_id)
    low, high = zone_extent(room, zone)
    numbers(f"a centre in joist zone {zone.id} of {room.name}", *positions)
    placed = sorted(snap(p) for p in positions)
    if not placed:
        raise EditError(
            f"Joist zone {zone.id} of {room.name} needs a member; give a centre or a spacing."
        )
    for at in placed:
        if not TOLERANCE < at < high - low - TOLERANCE:
            raise EditError(
                f"A member at {{at}} lies outside joist zone {zone.id} of {room.name}, which is "
                "{wide} wide; give a place inside.",
                at=at,
                wide=high - low,
            )
    least = max(zone.face, TOLERANCE)
    for one, two in pairwise(placed):
        if two - one < least - TOLERANCE or two - one <= TOLERANCE:
            raise EditError(
                f"Members at {{one}} and {{two}} of joist zone {zone.id} of {room.name} stand in "
                "one place; move one of them.",
                one=one,
                two=two,
            )
    return put_zone(room, replace(zone, positions=tuple(placed)))


def _numbered(room: Room, zone: JoistZone, index: int) -> list[float]:
    """Return a zone's positions, if one is numbered ``index``."""
    positions = list(_positions(room, zone))
    if not 0 <= index < len(positions):
        raise EditError(
            f"Joist zone {zone.id} of {room.name} has {len(positions)} members and none numbered "
            f"{index + 1}; choose one that is drawn."
        )
    return positions


def move_member(room: Room, zone_id: str, index: int, to: float) -> Room:
    """Move one member; the others stay, each at its own place from then on.

    Args:
        room: The room.
        zone_id: Which zone.
        index: Which member, from 0 at the low side.
        to: Its new centre from the zone's low side, mm.

    Raises:
        EditError: If there is no such member, or it cannot stand there.
    """
    room, zone = sure_zone(room, zone_id)
    positions = _numbered(room, zone, index)
    positions[index] = to
    return set_positions(room, zone.id, positions)


def add_member(room: Room, zone_id: str, at: float) -> Room:
    """Add a member to a zone; the others stay, each at its own place from then on.

    Args:
        room: The room; without zones it gets one.
        zone_id: Which zone.
        at: Its centre from the zone's low side, mm.

    Raises:
        EditError: If it cannot stand there.
    """
    room, zone = sure_zone(room, zone_id)
    placed = _positions(room, zone)
    if zone.depths:
        index = sum(p < at for p in placed)
        depths = (*zone.depths[:index], (), *zone.depths[index:])
        room = put_zone(room, replace(zone, depths=depths))
    return set_positions(room, zone.id, (*placed, at))


def remove_member(room: Room, zone_id: str, index: int) -> Room:
    """Take a member out of a zone; the others stay, each at its own place from then on.

    Args:
        room: The room.
        zone_id: Which zone.
        index: Which member, from 0 at the low side.

    Raises:
        EditError: If there is no such member, or it is the only one.
    """
    room, zone = sure_zone(room, zone_id)
    positions = _numbered(room, zone, index)
    del positions[index]
    kept = tuple(d for n, d in enumerate(zone.depths) if n != index)
    room = put_zone(room, replace(zone, depths=kept))
    return set_positions(room, zone.id, positions)
