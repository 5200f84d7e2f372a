"""Framing: where joists, studs, jambs, heads, sills and noggings stand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.heights_tops import under_framing
from roomboard.core.plane import (
    TOLERANCE,
    Region,
    difference,
    distance,
    line_inside,
    snap_point,
    union,
)
from roomboard.core.project import FrameKind, JoistZone, MemberKind
from roomboard.core.spacing import stud_positions
from roomboard.core.surface import Support, SupportKind, SurfaceOpening

if TYPE_CHECKING:
    from roomboard.core.heights_tops import Top
    from roomboard.core.plane import Point
    from roomboard.core.project import Wall

HALF_TURN = 180.0
UPRIGHT = 90.0
MEMBER = {
    MemberKind.JOIST: SupportKind.JOIST,
    MemberKind.BATTEN: SupportKind.BATTEN,
    MemberKind.TRUSS: SupportKind.TRUSS,
}


def extent_across(region: Region, direction_deg: float) -> tuple[float, float]:
    """Return the least and greatest distance of a region's corners across a direction."""
    normal = low_side_normal(direction_deg)
    across = [p[0] * normal[0] + p[1] * normal[1] for p in region.outer]
    return min(across), max(across)


def low_side_normal(direction_deg: float) -> Point:
    """Unit vector square to a direction, pointing away from its low side."""
    angle = direction_deg % HALF_TURN
    if abs(angle) < TOLERANCE:
        return (0.0, 1.0)
    if abs(angle - UPRIGHT) < TOLERANCE:
        return (1.0, 0.0)
    radians = math.radians(angle)
    normal = (-math.sin(radians), math.cos(radians))
    return normal if angle < UPRIGHT else (-normal[0], -normal[1])


def member_positions(zone: JoistZone, extent: float) -> tuple[float, ...]:
    """Return the centres of a zone's members from its low side, mm, in order.

    Args:
        zone: Positions one by one, or spacing and first centre.
        extent: How far the zone reaches across its members, mm.
    """
    if zone.positions:
        return tuple(sorted(p for p in zone.positions if 0 < p < extent))
    if zone.spacing <= 0:
        return ()
    first = zone.spacing if zone.first is None else zone.first
    count = max(0, math.floor((extent - first - TOLERANCE) / zone.spacing) + 1)
    return tuple(p for k in range(count) if (p := first + k * zone.spacing) > 0)


def zone_members(
    zone: JoistZone, region: Region, index: int, face: float
) -> tuple[tuple[Support, ...], float]:
    """Return a zone's members, cut to its part of the ceiling, and their greatest spacing."""
    normal = low_side_normal(zone.direction_deg)
    run = (normal[1], -normal[0])
    low, high = extent_across(
        Region.of(zone.outline) if zone.outline else region, zone.direction_deg
    )
    along = [p[0] * run[0] + p[1] * run[1] for p in region.outer]
    positions = member_positions(zone, high - low)
    members: list[Support] = []
    for number, position in enumerate(positions, 1):
        at = low + position
        a = snap_point(
            (at * normal[0] + (min(along) - 1) * run[0], at * normal[1] + (min(along) - 1) * run[1])
        )
        b = snap_point(
            (at * normal[0] + (max(along) + 1) * run[0], at * normal[1] + (max(along) + 1) * run[1])
        )
        if b < a:
            a, b = b, a
        for part, (p, q) in enumerate(line_inside(region, a, b)):
            members.append(
                Support(
                    id=f"{zone.id}-{number}" + (chr(ord("a") + part) if part else ""),
                    a=p,
                    b=q,
                    face=face,
                    kind=MEMBER[zone.kind],
                    frame=zone.frame,
                    zone=index,
                )
            )
    gaps = [b - a for a, b in pairwise(positions)]
    return tuple(members), max([*gaps, zone.spacing if not zone.positions else 0.0], default=0.0)


def stud_centres(wall: Wall, length: float, spacing: float, face: float) -> tuple[float, ...]:
    """Return the centres of a wall's studs from its left end, mm, in order.

    An end stud stands flush with each end; the rest count from the left end.

    Args:
        wall: The wall; explicit centres win over spacing.
        length: Length of the wall, mm.
        spacing: Centres, mm.
        face: Width of a stud's face, mm.
    """
    if wall.studs:
        return tuple(sorted(s for s in wall.studs if 0 <= s <= length))
    left, right = face / 2, length - face / 2
    if spacing <= 0:
        return (left, right)
    centres = [left]
    for stud in stud_positions(length, spacing, wall.stud_first)[1:-1]:
        # A stud that would stand in an end stud goes hard against it, if it is needed at all.
        at = min(max(stud, left + face), right - face)
        following = stud + spacing if stud < left + face else right
        needed = at == stud or following - centres[-1] > spacing + TOLERANCE
        if needed and at - centres[-1] >= face - TOLERANCE:
            centres.append(at)
    return (*centres, right)


def wall_supports(
    wall: Wall,
    centres: Sequence[float],
    outline: Region,
    openings: Sequence[SurfaceOpening],
    face: float,
    height: float,
    length: float,
    over: Sequence[Top] = (),
) -> tuple[Support, ...]:
    """Return plates, studs (cut at openings), jambs, heads, sills and noggings of a wall.

    Args:
        wall: The wall.
        centres: Centres of its studs from its left end, mm.
        outline: What is lined of it.
        openings: Its openings.
        face: Width of its framing's faces, mm.
        height: Height of its framing at its highest, mm.
        length: Its length, mm.
        over: What lies over it where that is not level: studs end there.
    """
    full = under_framing(over) if over else (Region.box(0.0, 0.0, length, height),)
    holes = [Region.box(*o.region.bounds) for o in openings if o.framed]
    doors = [
        Region.box(h.bounds[0], 0.0, h.bounds[2], h.bounds[3])
        if h.bounds[1] <= outline.bounds[1] + TOLERANCE
        else h
        for h in holes
    ]
    solid = tuple(r for whole in full for r in difference(whole, doors)) if doors else full
    found: list[Support] = []

    def add(name: str, a: Point, b: Point, kind: SupportKind) -> None:
        parts = sorted(part for region in solid for part in line_inside(region, a, b))
        for number, (p, q) in enumerate(parts):
            if distance(p, q) <= face / 2:
                continue
            found.append(
                Support(
                    id=name + (chr(ord("a") + number) if number else ""),
                    a=p,
                    b=q,
                    face=face,
                    kind=kind,
                    frame=wall.frame,
                    zone=0 if kind is SupportKind.STUD else -1,
                )
            )

    add("PB", (0.0, face / 2), (length, face / 2), SupportKind.PLATE)
    if over:
        for name, a, b in top_plates(over, face):
            add(name, a, b, SupportKind.PLATE)
    else:
        add("PT", (0.0, height - face / 2), (length, height - face / 2), SupportKind.PLATE)
    for number, centre in enumerate(centres, 1):
        add(f"S{number}", (centre, 0.0), (centre, height), SupportKind.STUD)
    for opening in openings:
        if opening.framed:
            foot = outline.bounds[1]
            for line in _opening_lines(opening, face, length, height, foot):
                add(*line)
    for number, at in enumerate(sorted(wall.noggings), 1):
        if 0 < at < height:
            add(f"N{number}", (0.0, at), (length, at), SupportKind.NOGGING)
    return tuple(found)


def top_plates(over: Sequence[Top], face: float) -> list[tuple[str, Point, Point]]:
    """Return the centre lines of a wall's top plates, which follow what lies over it.

    Args:
        over: What lies over it.
        face: Width of the plates' faces, mm.
    """
    found: list[tuple[str, Point, Point]] = []
    for number, top in enumerate(over):
        wide = top.u1 - top.u0
        down = face / 2 * math.hypot(wide, top.z1 - top.z0) / wide
        name = "PT" + (chr(ord("A") + number) if number else "")
        found.append((name, (top.u0, top.z0 - down), (top.u1, top.z1 - down)))
    return found


def _opening_lines(
    opening: SurfaceOpening, face: float, length: float, height: float, foot: float
) -> Iterator[tuple[str, Point, Point, SupportKind]]:
    """Jambs, head and sill round an opening, as far as the wall has room for them."""
    u0, v0, u1, v1 = opening.region.bounds
    half = face / 2
    for side, at in (("L", u0 - half), ("R", u1 + half)):
        if half - TOLERANCE <= at <= length - half + TOLERANCE:
            yield f"{opening.id}{side}", (at, 0.0), (at, height), SupportKind.JAMB
    left, right = max(0.0, u0 - face), min(length, u1 + face)
    if v1 + face <= height:
        yield f"{opening.id}H", (left, v1 + half), (right, v1 + half), SupportKind.HEAD
    if v0 > foot + TOLERANCE:
        yield f"{opening.id}S", (left, v0 - half), (right, v0 - half), SupportKind.SILL


def upright_supports(
    over: Sequence[Top],
    foot: Sequence[tuple[Point, Point]],
    spacing: float,
    face: float,
    frame: FrameKind,
) -> tuple[Support, ...]:
    """Framing of an upright face that reaches up to a ceiling which may slope.

    A member along its foot, one along each stretch of its top, one at each end and studs between.

    Args:
        over: What lies over it.
        foot: The lines of its foot, left to right.
        spacing: Centres of the studs between its ends, mm; 0 for none.
        face: Width of the members' faces, mm.
        frame: Timber or steel.
    """
    length = over[-1].u1
    solid = union(
        Region.of([a, b, *reversed(_over(over, a[0], b[0]))]) for a, b in _stretches(over, foot)
    )
    lines: list[tuple[str, Point, Point, SupportKind]] = []
    for number, (a, b) in enumerate(foot):
        up = face / 2 * distance(a, b) / (b[0] - a[0])
        name = "PB" + (chr(ord("A") + number) if number else "")
        lines.append((name, (a[0], a[1] + up), (b[0], b[1] + up), SupportKind.PLATE))
    lines += [(name, a, b, SupportKind.PLATE) for name, a, b in top_plates(over, face)]
    half = face / 2
    places = [half]
    while spacing > 0 and places[-1] + spacing < length - face:
        places.append(spacing * len(places))
    places.append(length - half)
    far = max(max(t.z0, t.z1) for t in over) + 1.0
    low = min(min(a[1], b[1]) for a, b in foot) - 1.0
    for number, at in enumerate(dict.fromkeys(places), 1):
        lines.append((f"S{number}", (at, low), (at, far), SupportKind.STUD))
    return tuple(
        Support(
            id=name + (chr(ord("a") + part) if part else ""),
            a=p,
            b=q,
            face=face,
            kind=kind,
            frame=frame,
            zone=0 if kind is SupportKind.STUD else -1,
        )
        for name, a, b, kind in lines
        for part, (p, q) in enumerate(s for r in solid for s in line_inside(r, a, b))
        if distance(p, q) > TOLERANCE
    )


def _over(over: Sequence[Top], u0: float, u1: float) -> tuple[Point, Point]:
    """Return the framing over a stretch that lies under one ceiling."""
    middle = (u0 + u1) / 2
    top = next((t for t in over if t.u0 <= middle <= t.u1), over[-1])
    slope = (top.z1 - top.z0) / (top.u1 - top.u0)
    return (u0, top.z0 + slope * (u0 - top.u0)), (u1, top.z0 + slope * (u1 - top.u0))


def _stretches(
    over: Sequence[Top], foot: Sequence[tuple[Point, Point]]
) -> Iterator[tuple[Point, Point]]:
    """Part the foot of a face where what lies over it changes."""
    for a, b in foot:
        marks = [a[0], *(t.u0 for t in over if a[0] + 1 < t.u0 < b[0] - 1), b[0]]
        for u0, u1 in pairwise(marks):
            slope = (b[1] - a[1]) / (b[0] - a[0])
            yield (u0, a[1] + slope * (u0 - a[0])), (u1, a[1] + slope * (u1 - a[0]))


def box_supports(
    size: tuple[float, float], spacing: float, face: float, frame: FrameKind
) -> tuple[Support, ...]:
    """Framing of a boxed part: a member along each side and ribs between."""
    width, height = size
    half = face / 2
    lines: list[tuple[str, Point, Point, SupportKind]] = [
        ("PB", (0.0, half), (width, half), SupportKind.PLATE),
        ("PT", (0.0, height - half), (width, height - half), SupportKind.PLATE),
        ("S1", (half, 0.0), (half, height), SupportKind.STUD),
    ]
    number = 1
    if spacing > 0:
        at = spacing
        while at < width - face:
            number += 1
            lines.append((f"S{number}", (at, 0.0), (at, height), SupportKind.STUD))
            at += spacing
    lines.append((f"S{number + 1}", (width - half, 0.0), (width - half, height), SupportKind.STUD))
    return tuple(
        Support(
            id=name,
            a=a,
            b=b,
            face=face,
            kind=kind,
            frame=frame,
            zone=0 if kind is SupportKind.STUD else -1,
        )
        for name, a, b, kind in lines
    )
