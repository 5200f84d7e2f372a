"""Special zones: what of a room or a face follows documents of its own."""

from __future__ import annotations

from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling
from roomboard.app.words import tr
from roomboard.core.editing.specials import note_special, set_special
from roomboard.core.project import Room, ZoneKind
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
                lambda r, on, kind=kind: set_special(r, host, kind, on=on),  # type: ignore[misc]
                tip=tr(TIP),
            )
        )
        if zone is not None:
            found.append(
                make.text(
                    tr("{zone}: note", zone=words),
                    zone.note,
                    lambda r, note, zone=zone: note_special(r, zone.id, note),  # type: ignore[misc]
                    empty=tr("nothing said"),
                )
            )
    return tuple(found)
