"""Special zones: what of a room or a face follows documents of its own."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import CEILING, EditError, free_id
from roomboard.core.project import SpecialZone

if TYPE_CHECKING:
    from roomboard.core.project import Room, ZoneKind

ROOM = "room"
"""Host of a zone that all surfaces of the room lie in."""


def set_special(room: Room, host: str, kind: ZoneKind, *, on: bool) -> Room:
    """Say whether a face, or the whole room, is special in one way.

    Args:
        room: The room.
        host: Wall id, ``"ceiling"``, ``"column:<id>"``, or ``"room"`` for all its surfaces.
        kind: In which way.
        on: Whether it is.

    Raises:
        EditError: If the room has no such face.
    """
    columns = {f"column:{c.id}" for c in room.columns}
    if host not in {ROOM, CEILING, *columns} and room.wall(host) is None:
        raise EditError(f"{room.name} has no face “{host}”; choose its ceiling or a wall.")
    others = tuple(z for z in room.zones if (z.kind, z.host) != (kind, host))
    if not on:
        return replace(room, zones=others)
    own = next((z for z in room.zones if (z.kind, z.host) == (kind, host)), None)
    name = free_id(kind.value[0], (z.id for z in room.zones))
    return replace(room, zones=(*others, own or SpecialZone(id=name, kind=kind, host=host)))


def note_special(room: Room, zone_id: str, note: str) -> Room:
    """Write the user's own words about a special zone.

    Raises:
        EditError: If the room has no zone of this id.
    """
    if all(z.id != zone_id for z in room.zones):
        raise EditError(f"{room.name} has no special zone “{zone_id}”; choose one that is set.")
    return replace(
        room, zones=tuple(replace(z, note=note) if z.id == zone_id else z for z in room.zones)
    )
