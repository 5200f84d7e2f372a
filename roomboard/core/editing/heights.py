"""Heights of a ceiling changed: raked up from a wall, ridged, cut off flat, dropped in part."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError, above_nothing, letters, numbers, wall_index
from roomboard.core.heights import MEETS, STEEPEST, covers, part_fault
from roomboard.core.plane import (
    Region,
    distance,
    fault_in,
    intersection,
    signed_area,
    snap_point,
    union,
)
from roomboard.core.project import CeilingPart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Room

STEPS = 9
"""Pitches are kept to this many decimals of a degree, so that lengths up a slope are exact."""


# --- what there is ------------------------------------------------------------------------


def _free_id(room: Room, taken: Sequence[str] = ()) -> str:
    used = {p.id.lower() for p in room.ceiling_parts} | set(taken)
    number = 0
    while letters(number).lower() in used:
        number += 1
    return letters(number).lower()


def checked(room: Room) -> Room:
    """Return the room, or say why a part of its ceiling cannot be.

    Raises:
        EditError: If one comes down through the floor, is too steep or lies outside.
    """
    for part in room.ceiling_parts:
        fault = part_fault(room, part)
        if fault:
            raise EditError(
                f"The ceiling of {room.name} cannot be made like this: part {part.id}: {fault}."
            )
    return room


# --- from a wall --------------------------------------------------------------------------


def wall_line(room: Room, wall_id: str) -> tuple[Point, Point, float]:
    """Return a wall's left end, the unit vector square into the room, and how far that reaches."""
    index = wall_index(room, wall_id)
    p, q = room.wall_ends(index)
    length = distance(p, q)
    inward = ((q[1] - p[1]) / length, -(q[0] - p[0]) / length)
    depth = max((x - p[0]) * inward[0] + (y - p[1]) * inward[1] for x, y in room.outline)
    return p, inward, depth


def turn_of(way: Point) -> float:
    """Return a direction in plan in degrees, quarter turns exact."""
    degrees = math.degrees(math.atan2(way[1], way[0])) % 360.0
    near = round(degrees / 90.0) * 90.0
    return near % 360.0 if abs(near - degrees) < 1e-7 else degrees


def pitch_over(rise: float, run: float) -> float:
    """Return the pitch of a rise over a run, degrees."""
    return round(math.degrees(math.atan2(rise, run)), STEPS)


def rake(room: Room, wall_id: str, low: float, high: float) -> Room:
    """Rake the whole ceiling of a room up from a wall.

    Args:
        room: The room.
        wall_id: The wall it rises from.
        low: Height of its framing at that wall, mm.
        high: Height at the place farthest from it, mm.

    Raises:
        EditError: If there is no such wall, a height is nothing, or it would be too steep.
    """
    above_nothing("a height of the ceiling", low, high)
    at, inward, depth = wall_line(room, wall_id)
    if high < low:
        raise EditError(
            f"The ceiling of {room.name} would fall from {{low}} to {{high}}; "
            "take hold of the lower wall, or change the two heights round.",
            low=low,
            high=high,
        )
    return _raked(room, at, inward, low, pitch_over(high - low, depth))


def rake_by_pitch(room: Room, wall_id: str, low: float, pitch_deg: float) -> Room:
    """Rake the whole ceiling of a room up from a wall at a pitch.

    Args:
        room: The room.
        wall_id: The wall it rises from.
        low: Height of its framing at that wall, mm.
        pitch_deg: Degrees.

    Raises:
        EditError: If there is no such wall, or it would be too steep.
    """
    above_nothing("the height at the low wall", low)
    steep(room, pitch_deg)
    at, inward, _ = wall_line(room, wall_id)
    return _raked(room, at, inward, low, pitch_deg)


def soffit(room: Room, wall_id: str, top: float, pitch_deg: float) -> Room:
    """Let the ceiling of a room fall away from a wall, as the underside of a stair does.

    Args:
        room: The room under the stair.
        wall_id: The wall at its high end.
        top: Height of its framing at that wall, mm.
        pitch_deg: How steep the stair is, degrees.

    Raises:
        EditError: If there is no such wall, or it would come down through the floor.
    """
    above_nothing("the height at the high wall", top)
    steep(room, pitch_deg)
    at, inward, depth = wall_line(room, wall_id)
    foot = top - depth * math.tan(math.radians(pitch_deg))
    if foot < -MEETS:
        raise EditError(
            f"A soffit from {{top}} at {pitch_deg:.1f} degrees meets the floor {{away}} from that "
            f"wall of {room.name}, which reaches {{depth}}; make the room end there.",
            top=top,
            away=top / math.tan(math.radians(pitch_deg)),
            depth=depth,
        )
    return _raked(room, at, (-inward[0], -inward[1]), top, pitch_deg)


def steep(room: Room, pitch_deg: float) -> None:
    """Let only pitches of ceilings through.

    Raises:
        EditError: If it is too steep, falls, or is no number.
    """
    numbers(f"the pitch of the ceiling of {room.name}", pitch_deg)
    if not 0 <= pitch_deg <= STEEPEST:
        raise EditError(
            f"A pitch of {pitch_deg:g} degrees is none of a ceiling; type 0 to {STEEPEST:g}."
        )


def _raked(room: Room, at: Point, inward: Point, low: float, pitch_deg: float) -> Room:
    part = CeilingPart(
        id="a", height=low, at=snap_point(at), rise_deg=turn_of(inward), pitch_deg=pitch_deg
    )
    return checked(replace(room, ceiling_parts=(part,)))


def ridge(
    room: Room,
    wall_id: str,
    low: float,
    top: float,
    at: float | None = None,
    low_other: float | None = None,
) -> Room:
    """Give a room a ridge along one of its walls, with a slope down to either side.

    Args:
        room: The room.
        wall_id: The wall the ridge runs along.
        low: Height of the framing at that wall, mm.
        top: Height at the ridge, mm.
        at: How far from that wall the ridge runs, mm; None for the middle of the room.
        low_other: Height at the side farthest from that wall, mm; None for the same.

    Raises:
        EditError: If there is no such wall, or no ridge can be there.
    """
    other = low if low_other is None else low_other
    above_nothing("a height of the ceiling", low, top, other)
    p, inward, depth = wall_line(room, wall_id)
    away = depth / 2 if at is None else at
    numbers("the place of the ridge", away)
    if not MEETS < away < depth - MEETS:
        raise EditError(
            f"A ridge {{away}} from that wall of {room.name} lies outside the room, which reaches "
            "{depth} from it; type less.",
            away=away,
            depth=depth,
        )
    if top <= max(low, other) + MEETS:
        raise EditError(
            f"A ridge of {room.name} at {{top}} is no higher than its sides; type a greater "
            "height for the ridge.",
            top=top,
        )
    line = snap_point((p[0] + inward[0] * away, p[1] + inward[1] * away))
    near = CeilingPart(
        id="a",
        outline=_half(room, line, (-inward[0], -inward[1])),
        height=top,
        at=line,
        rise_deg=turn_of(inward),
        pitch_deg=pitch_over(top - low, away),
    )
    far = CeilingPart(
        id="b",
        outline=_half(room, line, inward),
        height=top,
        at=line,
        rise_deg=turn_of((-inward[0], -inward[1])),
        pitch_deg=pitch_over(top - other, depth - away),
    )
    return checked(replace(room, ceiling_parts=(near, far)))


def _half(room: Room, at: Point, way: Point) -> Ring:
    """Return the side of a room that lies one way from a line square to that way.

    It reaches as far as the box round the room, so that its sides along walls follow them.

    Raises:
        EditError: If nothing of the room lies there.
    """
    plan = Region.of(room.outline)
    u0, v0, u1, v1 = plan.bounds
    half = _band(at, way, (0.0, _beyond(plan, at)), _beyond(plan, at))
    parts = intersection(plan, half)
    if len(parts) == 1 and not parts[0].holes:
        return parts[0].outer
    box = intersection(Region.box(u0, v0, u1, v1), half)
    if not parts or not box:
        raise EditError(f"Nothing of {room.name} lies on that side; choose another place.")
    return box[0].outer


def _band(at: Point, way: Point, span: tuple[float, float], reach: float) -> Region:
    """Return what lies between two lines square to a way, seen from a place.

    Args:
        at: The place in plan, mm.
        way: The way, a unit vector in plan.
        span: How far along the way the two lines lie, mm.
        reach: How far the lines reach to either side, mm.
    """
    along = (-way[1], way[0])
    low, high = span
    return Region.of(
        [
            (at[0] + along[0] * a + way[0] * b, at[1] + along[1] * a + way[1] * b)
            for a, b in ((-reach, low), (reach, low), (reach, high), (-reach, high))
        ]
    )


def _beyond(plan: Region, at: Point) -> float:
    """Return a distance that from a place reaches beyond all of a plan, mm."""
    u0, v0, u1, v1 = plan.bounds
    return (u1 - u0) + (v1 - v0) + math.hypot(at[0] - u0, at[1] - v0) + 1.0


# --- parts --------------------------------------------------------------------------------


def split_flat(room: Room, height: float) -> Room:
    """Cut the slopes of a ceiling off flat at a height: what would stand above it lies level.

    Args:
        room: The room.
        height: Height of the flat part's framing, mm.

    Raises:
        EditError: If no slope passes through that height.
    """
    above_nothing("the height of the flat part", height)
    over: list[Region] = []
    for cover in covers(room):
        slope = cover.slope
        if slope.is_flat:
            continue
        up = (height - slope.z) / slope.gain
        at = (slope.at[0] + slope.rise[0] * up, slope.at[1] + slope.rise[1] * up)
        far = _beyond(Region.of(room.outline), at)
        half = _band(at, slope.rise, (0.0, far), far)
        over.extend(p for r in cover.regions for p in intersection(r, half))
    flats = [r for r in union(over) if not r.holes] if over else []
    if not flats:
        heights = [z for c in covers(room) if not c.slope.is_flat for z in c.heights()]
        if not heights:
            raise EditError(f"The ceiling of {room.name} does not slope; rake it first.")
        raise EditError(
            f"No slope of the ceiling of {room.name} passes {{height}}; type a height between "
            "{low} and {high}.",
            height=height,
            low=min(heights),
            high=max(heights),
        )
    if sum(r.area_mm2 for r in flats) >= Region.of(room.outline).area_mm2 - 1.0:
        raise EditError(
            f"All of the ceiling of {room.name} stands above {{height}}; type a greater height.",
            height=height,
        )
    made: list[CeilingPart] = []
    for region in flats:
        ident = _free_id(room, [p.id for p in made])
        made.append(CeilingPart(id=ident, outline=region.outer, height=height))
    return checked(replace(room, ceiling_parts=(*made, *room.ceiling_parts)))


def drop_along(room: Room, wall_id: str, depth: float, drop: float) -> Room:
    """Drop a strip of a flat ceiling along a wall.

    Args:
        room: The room.
        wall_id: The wall.
        depth: How wide the strip is, out from the wall, mm.
        drop: How far it comes down from the room's height, mm; below 0 it is raised.

    Raises:
        EditError: If there is no such wall, or no room for the strip.
    """
    above_nothing("the width of the dropped part", depth)
    at, inward, reach = wall_line(room, wall_id)
    if depth >= reach - MEETS:
        raise EditError(
            f"A dropped part {{depth}} wide takes up all of {room.name}, which is {{reach}} deep "
            "there; type less, or change the room's height.",
            depth=depth,
            reach=reach,
        )
    line = (at[0] + inward[0] * depth, at[1] + inward[1] * depth)
    ring = _half(room, snap_point(line), (-inward[0], -inward[1]))
    return drop_part(room, ring, room.height - drop)


def strip(room: Room, wall_id: str, height: float, width: float, away: float) -> Room:
    """Give a strip of a ceiling along a wall a level of its own, e.g. that of a boxed ridge beam.

    Args:
        room: The room.
        wall_id: The wall it runs along.
        height: Height of its framing over the floor, mm.
        width: How wide it is, mm.
        away: From the wall to its nearer side, mm.

    Raises:
        EditError: If there is no such wall, or the strip reaches outside the room.
    """
    above_nothing("the width of the strip", width)
    numbers("the place of the strip", away)
    at, inward, reach = wall_line(room, wall_id)
    if away < 0 or away + width > reach + MEETS:
        raise EditError(
            f"A strip from {{away}} to {{far}} off that wall lies outside {room.name}, which is "
            "{reach} deep there; change its place or width.",
            away=away,
            far=away + width,
            reach=reach,
        )
    plan = Region.of(room.outline)
    band = _band(at, inward, (away, away + width), _beyond(plan, at))
    parts = intersection(plan, band)
    if len(parts) != 1 or parts[0].holes:
        parts = intersection(Region.box(*plan.bounds), band)
    return drop_part(room, parts[0].outer, height)


def drop_part(room: Room, outline: Ring, height: float) -> Room:
    """Give a part of a ceiling a level of its own.

    Args:
        room: The room.
        outline: Corners in plan, in either direction, mm.
        height: Height of its framing over the floor, mm.

    Raises:
        EditError: If the outline or the height cannot be used.
    """
    above_nothing("the height of the part", height)
    fault = fault_in(outline)
    if fault:
        raise EditError(f"That part of the ceiling of {room.name} cannot be used: {fault}.")
    ring = outline if signed_area(outline) < 0 else tuple(reversed(outline))
    part = CeilingPart(id=_free_id(room), outline=tuple(ring), height=height)
    return checked(replace(room, ceiling_parts=(part, *room.ceiling_parts)))
