"""Framing and holes of sloping ceilings: what was measured in plan, laid on the true face."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.face import UPRIGHT, room_finding
from roomboard.core.findings import Finding, Severity
from roomboard.core.framing import extent_across, low_side_normal, member_positions
from roomboard.core.heights import covers
from roomboard.core.plane import Region, difference, fault_in, intersection, snap
from roomboard.core.project import JoistZone

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.heights import Cover
    from roomboard.core.plane import Point
    from roomboard.core.project import Opening, Room
    from roomboard.core.setting import Setting
    from roomboard.core.slopes import Slope
    from roomboard.core.surface import Support

ASSUMED = "assumed"
"""Id of the zone that stands for joists nobody measured."""
STRAIGHT = 1e-6
"""Directions that differ by less, degrees, are one."""


def assumed_zone(room: Room, outline: Region, setting: Setting) -> JoistZone:
    """Return joists across the shorter way of a ceiling, as far apart as its board allows."""
    u0, v0, u1, v1 = outline.bounds
    board = setting.board(room.ceiling_board, "ceiling")
    row = setting.practice.framing_row(
        thickness=board.thickness,
        grades=board.grades,
        place="ceiling",
        orientation="across",
        method=setting.choices.method,
    )
    spacing = row.max_centres if row else 0.0
    return JoistZone(
        id=ASSUMED, direction_deg=UPRIGHT if u1 - u0 >= v1 - v0 else 0.0, spacing=spacing
    )


def with_rafters(room: Room, setting: Setting, said: list[Finding]) -> Room:
    """Return a room with framing assumed over the whole ceiling if none was measured.

    Rafters run up the slope of the largest plane; over flat ceilings joists run the shorter way.

    Args:
        room: The room; with joists it is returned as it is.
        setting: Pack, stock and choices.
        said: Takes what is to be said.
    """
    if room.joists:
        missed = [z for z in room.joists if not _is_over(z, room)]
        said.extend(
            room_finding(
                "RB106",
                Severity.WARNING,
                f"Joist zone {z.id} of {room.name} covers no part of the ceiling that another "
                "zone does not cover; correct its outline.",
                room,
                item=z.id,
                surface="ceiling",
            )
            for z in missed
        )
        return replace(room, joists=tuple(z for z in room.joists if z not in missed))
    largest = max(covers(room), key=lambda c: sum(r.area_mm2 for r in c.regions))
    zone = assumed_zone(room, Region.of(room.outline), setting)
    what = "joists across the shorter way"
    if not largest.slope.is_flat:
        zone = replace(zone, direction_deg=_plan_deg(largest.slope))
        what = "rafters up the slope"
    said.append(
        room_finding(
            "RB104",
            Severity.WARNING,
            f"No joists are given for {room.name}; {what} at "
            "{spacing} centres were assumed: find the real ones before ordering.",
            room,
            params=(("spacing", zone.spacing),),
            surface="ceiling",
        )
    )
    return replace(room, joists=(zone,))


def _plan_deg(slope: Slope) -> float:
    """Return which way members that run up a slope lie in plan, degrees."""
    import math

    return math.degrees(math.atan2(slope.rise[1], slope.rise[0])) % 180.0


def _is_over(zone: JoistZone, room: Room) -> bool:
    if not zone.outline:
        return True
    if fault_in(zone.outline):
        return False
    return bool(intersection(Region.of(zone.outline), Region.of(room.outline)))


def numbered_zones(
    room: Room, cover: Cover, plan: Region, face: Region
) -> tuple[tuple[JoistZone, tuple[int, ...]], ...]:
    """Return a room's joist zones as they lie on one plane of its ceiling, members numbered.

    Members that run level along a slope are counted up it, on the face, as a tape laid on them
    reads, and have no numbers of their own; all others are where they were measured in plan and
    keep their numbers on every plane they run over.

    Args:
        room: The room.
        cover: The plane.
        plan: What of the plan lies under it.
        face: The same on its face.
    """
    if not room.ceiling_parts:
        return tuple((zone, ()) for zone in room.joists)
    found: list[tuple[JoistZone, tuple[int, ...]]] = []
    taken: list[Region] = []
    for zone in room.joists:
        own = Region.of(zone.outline) if zone.outline else Region.of(room.outline)
        parts = tuple(q for p in intersection(own, plan) for q in difference(p, taken))
        if not parts:
            continue
        taken.extend(parts)
        for count, part in enumerate(parts):
            name = zone.id + (f".{count + 1}" if count else "")
            whole = len(parts) == 1 and abs(part.area_mm2 - plan.area_mm2) < 1.0
            region = face if whole else cover.slope.region_to_face(part)
            laid, numbers = _laid(zone, own, cover.slope, region)
            laid = replace(laid, id=name, outline=() if whole else region.outer)
            found.append((laid, numbers))
    return tuple(found)


def renumbered(
    supports: Sequence[Support], zones: Sequence[tuple[JoistZone, tuple[int, ...]]]
) -> list[Support]:
    """Give members on a face the numbers they have in their zones.

    Args:
        supports: The members, called by their zone and their place on the face.
        zones: Zones on the face with the numbers of their members.
    """
    numbers = {zone.id: known for zone, known in zones if known}
    found: list[Support] = []
    for support in supports:
        name, _, tail = support.id.rpartition("-")
        digits = tail.rstrip("abcdefghijklmnopqrstuvwxyz")
        known = numbers.get(name.partition(".")[0] if name not in numbers else name, ())
        if digits.isdigit() and 0 < int(digits) <= len(known):
            tail = f"{known[int(digits) - 1]}{tail[len(digits) :]}"
            support = replace(support, id=f"{name}-{tail}")  # noqa: PLW2901 - the same member
        found.append(support)
    return found


def _laid(
    zone: JoistZone, own: Region, slope: Slope, region: Region
) -> tuple[JoistZone, tuple[int, ...]]:
    """Return a zone as it lies on a face, its members counted from its low side there.

    With it come the numbers of its members in the zone as it was measured.
    """
    direction = slope.turned_to_face(zone.direction_deg)
    if not slope.is_flat and min(direction, 180.0 - direction) < STRAIGHT:
        return replace(zone, direction_deg=0.0), ()
    low, high = extent_across(own, zone.direction_deg)
    normal = low_side_normal(zone.direction_deg)
    across = low_side_normal(direction)
    least, most = extent_across(region, direction)
    places: list[tuple[float, int]] = []
    for number, position in enumerate(member_positions(zone, high - low), 1):
        at: Point = ((low + position) * normal[0], (low + position) * normal[1])
        u, v = slope.to_face(at) if not slope.is_flat else at
        place = snap(u * across[0] + v * across[1] - least)
        if 0 < place < most - least:
            places.append((place, number))
    places.sort()
    positions = tuple(place for place, _ in places)
    laid = replace(zone, direction_deg=direction, positions=positions, first=None)
    return laid, tuple(number for _, number in places)


def on_face(opening: Opening, slope: Slope) -> Opening:
    """Return a hole in a ceiling with its middle on a face; a round one stays round there."""
    if slope.is_flat:
        return opening
    wide, high = opening.width, opening.width if opening.is_round else opening.height
    u, v = slope.to_face((opening.left + wide / 2, opening.bottom + high / 2))
    return replace(opening, left=snap(u - wide / 2), bottom=snap(v - high / 2))
