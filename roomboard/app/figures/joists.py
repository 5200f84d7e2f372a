"""The figures of a joist zone and of one joist."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling
from roomboard.app.figures.things import number_of
from roomboard.app.words import tr
from roomboard.core.editing import depths, members, zones
from roomboard.core.project import FrameKind, JoistZone, MemberKind, PackTo, Room

MEMBER_WORDS: dict[MemberKind, str] = {
    MemberKind.JOIST: "Joists",
    MemberKind.BATTEN: "Battens",
    MemberKind.TRUSS: "Trusses",
}
PLANE_WORDS: dict[PackTo, str] = {
    PackTo.LEAST: "The plane of least packing",
    PackTo.LEVEL: "A level plane",
}
FRAME_WORDS: dict[FrameKind, str] = {FrameKind.TIMBER: "Timber", FrameKind.STEEL: "Steel"}
ACROSS_PLAN, UP_PLAN = 0.0, 90.0
"""Directions along the axes of the plan, degrees."""


def frame_options() -> list[tuple[FrameKind, str]]:
    """Return what framing can be made of."""
    return [(kind, tr(words)) for kind, words in FRAME_WORDS.items()]


def joist_figures(desk: Desk, room: Room, zone: JoistZone) -> tuple[Figure, ...]:
    """Return the figures of a joist zone."""
    alone = len(room.joists) <= 1
    name = tr("joists of {room}", room=room.name)
    what = name if alone else tr("joist zone {zone}", zone=zone.id)
    group = tr("Joists") if alone else tr("Joist zone {zone}", zone=zone.id)
    make = Filling(desk, what, group, "frame")
    ways = [
        (ACROSS_PLAN, tr("Along x, left to right")),
        (UP_PLAN, tr("Along y, up the plan")),
    ]
    if zone.direction_deg not in {ACROSS_PLAN, UP_PLAN}:
        ways.append((zone.direction_deg, tr("At {angle}°", angle=f"{zone.direction_deg:g}")))
    return (
        make.length(
            tr("Centres"),
            zone.spacing,
            lambda r, mm: zones.set_spacing(r, zone.id, mm, zone.first),
            tip=tr("From the middle of one to the middle of the next."),
            empty=tr("one by one") if zone.positions else tr("not given"),
        ),
        make.choice(
            tr("They run"),
            zone.direction_deg,
            ways,
            lambda r, angle: zones.set_direction(r, zone.id, angle),
            tip=tr("As the plan is drawn."),
        ),
        make.length(
            tr("First one"),
            zone.first,
            lambda r, mm: zones.set_spacing(r, zone.id, zone.spacing, mm or None),
            empty=tr("one spacing"),
            tip=tr("The middle of the first one from the left or lower side of the zone."),
        ),
        make.lengths(
            tr("One by one"),
            zone.positions,
            lambda r, places: (
                members.set_positions(r, zone.id, places)
                if places
                else zones.set_spacing(r, zone.id, zone.spacing, zone.first)
            ),
            empty=tr("evenly spaced"),
            tip=tr("Middles from the left or lower side, such as 420, 870, 1320."),
        ),
        make.length(
            tr("Face"),
            zone.face,
            lambda r, mm: zones.set_members(r, zone.id, face=mm),
            empty=tr("as practice has it"),
            tip=tr("How wide the side is that sheets are fixed to."),
        ),
        make.choice(
            tr("They are"),
            zone.kind,
            [(kind, tr(words)) for kind, words in MEMBER_WORDS.items()],
            lambda r, kind: zones.set_members(r, zone.id, kind=kind),
        ),
        make.choice(
            tr("Of"),
            zone.frame,
            frame_options(),
            lambda r, frame: zones.set_members(r, zone.id, frame=frame),
        ),
        *(_packed_to(make, zone) if zone.depths else ()),
    )


def _packed_to(make: Filling, zone: JoistZone) -> tuple[Figure, ...]:
    return (
        make.choice(
            tr("Packed to"),
            zone.packed_to,
            [(to, tr(words)) for to, words in PLANE_WORDS.items()],
            lambda r, to: depths.set_packed_to(r, zone.id, to),
            tip=tr("The plane that packers bring all of them down to; none stands under it."),
        ),
    )


def _depths(make: Filling, zone: JoistZone, index: int) -> Figure:
    return make.lengths(
        tr("Depths"),
        zone.depths[index] if index < len(zone.depths) else (),
        lambda r, readings: depths.set_depths(r, zone.id, index, readings),
        empty=tr("not read"),
        tip=tr("How far it stands above a level line, at even steps along it, such as 4, 7, 3."),
    )


def member_figures(desk: Desk, room: Room, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return the figures of one joist: where it stands, and those of its zone."""
    scheme = desk.surface_scheme(surface)
    support = next((s for s in scheme.surface.supports if s.id == ref), None) if scheme else None
    if scheme is None or support is None:
        return ()
    name = scheme.surface.zones[support.zone].id if support.zone >= 0 else ""
    zone = next((z for z in room.joists if z.id == name), None)
    if zone is None:
        # Joists that were assumed: the first figure given makes them the room's own.
        zone = zones.drawn_zone(room).joists[0]
        return () if room.joists else joist_figures(desk, room, zone)
    index = number_of(ref.removeprefix(f"{zone.id}-"))
    places = members.member_positions(room, zone.id)
    if not 0 <= index < len(places):
        return joist_figures(desk, room, zone)
    make = Filling(desk, tr("joist {number}", number=index + 1), work="frame")
    return (
        make.length(
            tr("Stands at"),
            places[index],
            lambda r, mm: members.move_member(r, zone.id, index, mm),
            tip=tr(
                "Its middle from the left or lower side of the zone; moving it sets all of the "
                "zone one by one."
            ),
        ),
        _depths(make, zone, index),
        *joist_figures(desk, room, zone),
    )
