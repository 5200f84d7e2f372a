"""Choices, acknowledgements, zones and prices that name something which is not there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import REGISTER, Finding, Place, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from roomboard.core.project import Project, Room
    from roomboard.core.scheme import Scheme
    from roomboard.core.stock import Catalogue

PARTS = ("ceiling", "room")
"""Parts of every room that a zone may be put on, besides its walls."""


def name_findings(scheme: Scheme) -> tuple[Finding, ...]:
    """RB110: names in the project that stand for nothing in it.

    A wall or opening that is there but not lined is there: only what cannot be found is named.
    Joints and courses fixed where there are none any more are named with the set-out.
    """
    project = scheme.project
    return (
        *(f for room in scheme.rooms for f in _in_room(room.room)),
        *_acknowledged(project),
        *_prices(project, scheme.catalogue),
    )


def _finding(text: str, room: str = "", item: str = "") -> Finding:
    return Finding(
        code="RB110",
        severity=Severity.WARNING,
        text=text.replace("{", "(").replace("}", ")"),
        place=Place(room=room, item=item),
        remedies=("correct the name or take it out",),
    )


def _faces(room: Room) -> tuple[str, ...]:
    """Return the keys of everything in a room that is or could be a surface."""
    parts = (f"ceiling:{part.id}" for part in room.ceiling_parts)
    return ("ceiling", *parts, *(f"wall:{wall.id}" for wall in room.walls))


def _has_face(room: Room, key: str) -> bool:
    """Tell whether a room has a surface of a key, lined or not."""
    kind, _, rest = key.partition(".")[0].partition(":")
    if kind == "bulkhead":
        return rest.partition(":")[0] in {b.id for b in room.bulkheads}
    if kind == "step":
        parts = {"ceiling", *(part.id for part in room.ceiling_parts)}
        return bool(room.ceiling_parts) and rest.partition(":")[0] in parts
    if kind == "reveal":
        wall, _, opening = rest.partition(":")
        held = {(o.host, o.id) for o in room.openings}
        return (wall, opening.partition(":")[0]) in held
    return key.partition(".")[0] in _faces(room)


def _in_room(room: Room) -> Iterator[Finding]:
    for choice in room.choices:
        if not _has_face(room, choice.surface):
            yield _finding(
                f"A choice of {room.name} is for {choice.surface!r}, which the room does not "
                f"have; it has {', '.join(_faces(room))}.",
                room.id,
                choice.surface,
            )
    for zone in room.zones:
        if room.wall(zone.host) is None and zone.host not in PARTS:
            yield _finding(
                f"Special zone {zone.id} of {room.name} is on {zone.host!r}, which the room does "
                "not have, so nothing heeds it.",
                room.id,
                zone.id,
            )


def _acknowledged(project: Project) -> Iterator[Finding]:
    for read in project.acknowledged:
        if read.code not in REGISTER:
            yield _finding(
                f"{read.name} acknowledged {read.code}, which is no finding of this program.",
                item=read.code,
            )
            continue
        room_id, _, key = read.place.partition("/")
        room = project.room(room_id)
        if read.place and (room is None or (key and not _has_face(room, key))):
            yield _finding(
                f"{read.name} acknowledged {read.code} for {read.place!r}, which the project does "
                "not have, so it is not acknowledged there.",
                item=read.code,
            )


def _prices(project: Project, catalogue: Catalogue) -> Iterator[Finding]:
    sold = {sheet.id for board in catalogue.boards for sheet in board.sheets}
    sold |= {pack.id for pack in catalogue.packs} | {goods.id for goods in catalogue.linear}
    sold |= {f"{goods.id}:{length:g}" for goods in catalogue.linear for length in goods.lengths}
    for price in project.prices:
        if price.item not in sold:
            yield _finding(
                f"A price is given for {price.item!r}, which the stock does not have, so it "
                "counts nowhere.",
                item=price.item,
            )
