"""Special zones: what of a room or a face follows documents of its own."""

from __future__ import annotations

from dataclasses import replace

from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling
from roomboard.app.words import tr
from roomboard.core.editing.refusal import free_id
from roomboard.core.project import Room, SpecialZone, ZoneKind
from roomboard.drawing.lining import ZONE_WORDS

TIP = "Its own documents govern: sheets are set out, and what else they ask for is yours to check."


def special_figures(make: Filling, room: Room, host: str) -> tuple[Figure, ...]:
    """Return a flag for each kind of special zone, and the notes of those there are.

    Args:
        make: Makes figures of the room or face.
        room: The room.
        host: Wall id, ``"ceiling"``, or ``"room"`` for all its surfaces.
    """
    own = [z for z in room.zones if z.host == host]
    found: list[Figure] = []
    for kind in ZoneKind:
        words = tr(ZONE_WORDS[kind])
        zone = next((z for z in own if z.kind is kind), None)
        found.append(
            make.flag(
                words,
                zone is not None,
                lambda r, on, kind=kind: _with(r, kind, host, on=on),  # type: ignore[misc]
                tip=tr(TIP),
            )
        )
        if zone is not None:
            found.append(
                make.text(
                    tr("{zone}: note", zone=words),
                    zone.note,
                    lambda r, note, zone=zone: _noted(r, zone.id, note),  # type: ignore[misc]
                    empty=tr("nothing said"),
                )
            )
    return tuple(found)


def _with(room: Room, kind: ZoneKind, host: str, *, on: bool) -> Room:
    others = tuple(z for z in room.zones if (z.kind, z.host) != (kind, host))
    if not on:
        return replace(room, zones=others)
    name = free_id(kind.value[0], (z.id for z in room.zones))
    return replace(room, zones=(*others, SpecialZone(id=name, kind=kind, host=host)))


def _noted(room: Room, zone: str, note: str) -> Room:
    return replace(
        room, zones=tuple(replace(z, note=note) if z.id == zone else z for z in room.zones)
    )
