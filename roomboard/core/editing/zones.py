"""Joist zones of a ceiling: cut in two, joined, turned, and spaced."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.editing.ceiling_follows import measured_from, zone_region
from roomboard.core.editing.refusal import EditError, above_nothing, free_id, numbers, zone_of
from roomboard.core.framing import HALF_TURN, UPRIGHT, extent_across
from roomboard.core.framing import member_positions as positions_in
from roomboard.core.measure import LEAST_CENTRES
from roomboard.core.plane import (
    GRID,
    TOLERANCE,
    Region,
    difference,
    distance,
    distance_to_segment,
    line_inside,
    same,
    signed_area,
    snap,
    snap_point,
    union,
)
from roomboard.core.project import JoistZone

if TYPE_CHECKING:
    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import FrameKind, MemberKind, Room

SMALLEST_ZONE_MM2 = 100.0
"""A zone smaller than this is a slip of the hand."""


def drawn_zone(room: Room, spacing: float = 0.0, face: float = 0.0) -> Room:
    """Return the room with a zone over its whole ceiling, if it has no zone yet.

    Its members run across the shorter way, as they are taken to where none are given.

    Args:
        room: The room.
        spacing: Centres, mm; 0 if not known.
        face: Width of their fixing face, mm; 0 if not known.
    """
    if room.joists:
        return room
    u0, v0, u1, v1 = Region.of(room.outline).bounds
    zone = JoistZone(
        id="z1",
        direction_deg=UPRIGHT if u1 - u0 >= v1 - v0 else 0.0,
        spacing=spacing,
        face=face,
    )
    return replace(room, joists=(zone,))


def sure_zone(room: Room, zone_id: str) -> tuple[Room, JoistZone]:
    """Return a room and a zone of it; a room without zones gets one over its whole ceiling.

    Raises:
        EditError: If the room has zones, but none of this id.
    """
    if not room.joists:
        room = drawn_zone(room)
        return room, room.joists[0]
    return room, zone_of(room, zone_id)


def put_zone(room: Room, zone: JoistZone) -> Room:
    """Return the room with a zone as it is now, in its old place in the list."""
    return replace(room, joists=tuple(zone if z.id == zone.id else z for z in room.joists))


def zone_extent(room: Room, zone: JoistZone) -> tuple[float, float]:
    """Return from where to where a zone reaches across its members, mm.

    A member at ``p`` stands ``low + p`` along the unit vector square to the members.
    """
    return extent_across(zone_region(room, zone), zone.direction_deg)


def split_zone(room: Room, zone_id: str, a: Point, b: Point) -> Room:
    """Cut a zone in two along the line through two points; members stay where they are.

    The line is drawn on from wall to wall; where it would cut the zone in several places, it
    does so where it was drawn. The lower left part keeps the zone's id.

    Args:
        room: The room; without zones, its whole ceiling is cut.
        zone_id: Which zone.
        a: A point of the line in plan, mm.
        b: Another.

    Raises:
        EditError: If the line does not part the zone.
    """
    room, zone = sure_zone(room, zone_id)
    numbers("the line", *a, *b)
    region = zone_region(room, zone)
    parts = _cut(region, a, b)
    if parts is None:
        raise EditError(
            f"The line does not part joist zone {zone.id} of {room.name}; draw it from one side "
            "of the zone to another."
        )
    made: list[JoistZone] = []
    for number, ring in enumerate(parts):
        taken = (z.id for z in (*room.joists, *made))
        part = replace(zone, outline=ring, id=zone.id if not number else free_id("z", taken))
        made.append(measured_from(part, region, Region.of(ring)))
    joists: list[JoistZone] = []
    for old in room.joists:
        joists.extend(made if old.id == zone.id else (old,))
    return replace(room, joists=tuple(joists))


def _cut(region: Region, a: Point, b: Point) -> tuple[Ring, Ring] | None:
    """Return the two outlines that a chord through two points makes of one, lower left first."""
    chord = _chord(region, a, b)
    if chord is None:
        return None
    p, q = chord
    ring: list[Point] = []
    for start, end in zip(region.outer, (*region.outer[1:], region.outer[0]), strict=True):
        ring.append(start)
        on = [c for c in chord if distance_to_segment(c, start, end) <= TOLERANCE]
        on = [c for c in on if min(distance(c, start), distance(c, end)) > TOLERANCE]
        ring.extend(sorted(on, key=lambda c: distance(c, start)))
    low, high = sorted((_nearest(ring, p), _nearest(ring, q)))
    rings = (ring[low : high + 1], [*ring[high:], *ring[: low + 1]])
    if any(len(r) < 3 or abs(signed_area(r)) < SMALLEST_ZONE_MM2 for r in rings):
        return None
    regions = sorted((Region.of(r) for r in rings), key=lambda r: (r.bounds[1], r.bounds[0]))
    return regions[0].outer, regions[1].outer


def _nearest(ring: list[Point], point: Point) -> int:
    return min(range(len(ring)), key=lambda i: distance(ring[i], point))


def _chord(region: Region, a: Point, b: Point) -> tuple[Point, Point] | None:
    """Return the stretch of a line inside a region that was meant by two points of it."""
    length = distance(a, b)
    if length <= TOLERANCE:
        return None
    u0, v0, u1, v1 = region.bounds
    far = 2 * (u1 - u0 + v1 - v0 + distance(a, (u0, v0)) + length)
    way = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    start = (a[0] - way[0] * far, a[1] - way[1] * far)
    end = (a[0] + way[0] * far, a[1] + way[1] * far)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    chords = line_inside(region, start, end)
    if not chords:
        return None
    p, q = min(chords, key=lambda c: (distance_to_segment(middle, *c), c))
    return snap_point(p), snap_point(q)


def join_zones(room: Room, one_id: str, two_id: str) -> Room:
    """Make one zone of two that lie side by side; members stay where they are.

    What the first is made of holds for both.

    Args:
        room: The room.
        one_id: The zone that stays.
        two_id: The zone that goes into it.

    Raises:
        EditError: If their members run different ways, or the zones do not lie side by side.
    """
    one, two = zone_of(room, one_id), zone_of(room, two_id)
    if one_id == two_id:
        raise EditError(f"Joist zone {one_id} of {room.name} is one already; choose two zones.")
    apart = abs(one.direction_deg - two.direction_deg) % HALF_TURN
    if min(apart, HALF_TURN - apart) > TOLERANCE:
        raise EditError(
            f"The members of joist zones {one_id} and {two_id} of {room.name} run different ways; "
            "turn one of the zones first."
        )
    whole = union((zone_region(room, one), zone_region(room, two)))
    if len(whole) != 1 or whole[0].holes:
        raise EditError(
            f"Joist zones {one_id} and {two_id} of {room.name} do not lie side by side; join "
            "zones that touch."
        )
    all_over = not difference(Region.of(room.outline), whole)
    places = sorted(_places(room, one) | _places(room, two))
    joined = replace(one, outline=() if all_over else whole[0].outer)
    rest = tuple(joined if z.id == one_id else z for z in room.joists if z.id != two_id)
    low, high = extent_across(zone_region(room, joined), one.direction_deg)
    centres = [snap(p - low) for p in places if GRID < p - low < high - low - GRID]
    kept = [c for i, c in enumerate(centres) if not i or c - centres[i - 1] > TOLERANCE]
    regular = measured_from(joined, zone_region(room, one), zone_region(room, joined))
    found = positions_in(regular, high - low) if not one.positions else ()
    alike = len(found) == len(kept) and all(same(x, y) for x, y in zip(found, kept, strict=True))
    if not alike or not found:
        regular = replace(joined, positions=tuple(kept))
    return put_zone(replace(room, joists=rest), regular)


def _places(room: Room, zone: JoistZone) -> set[float]:
    """Return where a zone's members stand across their direction, in the plan's own measure."""
    low, high = zone_extent(room, zone)
    return {snap(low + p) for p in positions_in(zone, high - low)}


def set_direction(room: Room, zone_id: str, direction_deg: float) -> Room:
    """Turn the members of a zone; they are spaced anew from its low side.

    Args:
        room: The room; without zones it gets one.
        zone_id: Which zone.
        direction_deg: Degrees counter-clockwise from x.

    Raises:
        EditError: If the room has no such zone, or the direction is no number.
    """
    room, zone = sure_zone(room, zone_id)
    numbers("the direction", direction_deg)
    angle = snap(direction_deg % HALF_TURN) % HALF_TURN
    if same(angle, zone.direction_deg % HALF_TURN):
        return room
    spacing = zone.spacing
    if zone.positions and spacing <= 0:
        gaps = Counter(snap(b - a) for a, b in pairwise(sorted(zone.positions)))
        spacing = min(gaps, key=lambda g: (-gaps[g], g), default=0.0)
    turned = replace(zone, direction_deg=angle, spacing=spacing, first=None, positions=())
    return put_zone(room, turned)


def set_spacing(room: Room, zone_id: str, spacing: float, first: float | None = None) -> Room:
    """Space the members of a zone evenly.

    Args:
        room: The room; without zones it gets one.
        zone_id: Which zone.
        spacing: Centres, mm.
        first: Centre of the first member from the zone's low side, mm; None for one spacing.

    Raises:
        EditError: If the room has no such zone, or the figures are none for joists.
    """
    room, zone = sure_zone(room, zone_id)
    spacing_fits(f"joist zone {zone.id} of {room.name}", spacing, first)
    return put_zone(room, replace(zone, spacing=spacing, first=first, positions=()))


def spacing_fits(what: str, spacing: float, first: float | None) -> None:
    """Let only a spacing and a first centre through that members can have.

    Raises:
        EditError: If they are too near, or the first lies before the beginning.
    """
    above_nothing(f"the spacing of {what}", spacing)
    if spacing < LEAST_CENTRES:
        raise EditError(
            f"Centres of {{spacing}} in {what} are too near each other; check the number.",
            spacing=spacing,
        )
    if first is not None:
        above_nothing(f"the first centre of {what}", first)


def set_members(
    room: Room,
    zone_id: str,
    *,
    face: float | None = None,
    kind: MemberKind | None = None,
    frame: FrameKind | None = None,
) -> Room:
    """Say what the members of a zone are; what is left out stays.

    Args:
        room: The room; without zones it gets one.
        zone_id: Which zone.
        face: Width of their fixing face, mm.
        kind: Joist, batten or truss.
        frame: Timber or steel.

    Raises:
        EditError: If the room has no such zone, or the face has no width.
    """
    room, zone = sure_zone(room, zone_id)
    if face is not None:
        above_nothing(f"the face of the members of joist zone {zone.id} of {room.name}", face)
    return put_zone(
        room,
        replace(
            zone,
            face=zone.face if face is None else face,
            kind=zone.kind if kind is None else kind,
            frame=zone.frame if frame is None else frame,
        ),
    )
