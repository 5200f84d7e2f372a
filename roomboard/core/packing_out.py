"""Packing out: members that lie in no plane are packed down to one, or battened out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.framing import zone_members
from roomboard.core.golden import least_at
from roomboard.core.plane import Region, distance, snap_point
from roomboard.core.project import PackTo
from roomboard.core.slopes import FLAT
from roomboard.core.surface import SupportKind

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.practice import Practice
    from roomboard.core.project import JoistZone, Room
    from roomboard.core.surface import Support, Surface

STEP, MOST, BATTEN = "packer.step", "packer.most", "batten.depth"
"""The pack's figures: thickness steps of packers, the most worth packing, a batten's depth."""
STEEPEST = 0.1
"""No plane that falls more than this to a side is looked for."""
MEMBERS = frozenset({SupportKind.JOIST, SupportKind.BATTEN, SupportKind.TRUSS})


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedSpot:
    """A place where a member was read.

    Attributes:
        member: Id of the member.
        at: From the member's low end, mm.
        point: Where it lies on the surface, (u, v).
        reading: How far its underside stands above the level line, mm.
        thickness: How thick its packer is, mm; 0 for none.
    """

    member: str
    at: float
    point: Point
    reading: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """How the members of a zone are packed to a plane.

    Attributes:
        zone: Id of the joist zone.
        packed_to: What plane was asked for.
        spots: Every place that was read, member by member.
        level: Height of the plane over the level line at the middle of the spots, mm.
        falls: How far the plane falls over a metre along u and along v, mm; below 0 where it
            rises.
    """

    zone: str
    packed_to: PackTo
    spots: tuple[PackedSpot, ...]
    level: float
    falls: tuple[float, float]

    @property
    def packers(self) -> tuple[PackedSpot, ...]:
        """The places that take a packer."""
        return tuple(s for s in self.spots if s.thickness > 0)

    @property
    def most(self) -> float:
        """The thickest packer, mm."""
        return max((s.thickness for s in self.spots), default=0.0)

    @property
    def total(self) -> float:
        """All packers on top of each other, mm: what the plane of least packing makes least."""
        return sum(s.thickness for s in self.spots)


def packings(room: Room, surface: Surface, practice: Practice) -> tuple[Packing, ...]:
    """Return how the members behind a ceiling are packed, zone by zone.

    Zones without readings, and those whose readings do not match their members, are left out; so
    are members that do not lie whole behind one level face, for readings stand over a level line.

    Args:
        room: The room.
        surface: One of its faces.
        practice: The pack.
    """
    if surface.place != "ceiling" or surface.layer > 1:
        return ()
    found: list[Packing] = []
    for zone in room.joists:
        read = read_members(room, zone, surface)
        if read:
            found.append(_packed(zone, read, practice))
    return tuple(found)


def read_members(
    room: Room, zone: JoistZone, surface: Surface
) -> tuple[tuple[Support, tuple[float, ...]], ...]:
    """Return the members of a zone that are packed behind a face, each with its readings.

    None are if the zone's readings do not match its members. Where the ceiling has several planes,
    they are the members that lie whole behind a level one.

    Args:
        room: The room.
        zone: One of its joist zones.
        surface: One of the faces of its ceiling.
    """
    members = members_of(zone, surface)
    if not readings_match(room, zone, (surface,)):
        return ()
    if not room.ceiling_parts:
        return tuple(zip(members, zone.depths, strict=True))
    if abs(surface.placing.v_axis[2]) > FLAT:
        return ()
    in_plan = {s.id: (s.a, s.b) for s in members_in_plan(room, zone)}
    return tuple(
        (m, zone.depths[int(m.id.removeprefix(f"{zone.id}-")) - 1])
        for m in members
        if all(distance(p, q) <= 1.0 for p, q in zip((m.a, m.b), in_plan[m.id], strict=True))
    )


def readings_match(room: Room, zone: JoistZone, faces: Sequence[Surface]) -> bool:
    """Tell whether a zone has readings for each of its members.

    Args:
        room: The room.
        zone: One of its joist zones.
        faces: The faces of its ceiling.
    """
    count = member_count(room, zone, faces)
    return bool(count) and count == len(zone.depths) and all(zone.depths)


def member_count(room: Room, zone: JoistZone, faces: Sequence[Surface]) -> int:
    """Return how many members a zone has: in plan where the ceiling has several planes."""
    if room.ceiling_parts:
        return len(members_in_plan(room, zone))
    return max((len(members_of(zone, s)) for s in faces), default=0)


def members_in_plan(room: Room, zone: JoistZone) -> tuple[Support, ...]:
    """Return the members of a zone as they lie in plan, parts of one left out."""
    own = Region.of(zone.outline or room.outline)
    members, _ = zone_members(zone, own, 0, zone.face)
    return tuple(m for m in members if m.id.removeprefix(f"{zone.id}-").isdigit())


def members_of(zone: JoistZone, surface: Surface) -> tuple[Support, ...]:
    """Return the members of a joist zone behind a face, in order, parts of one left out."""
    ids = {f"{zone.id}-{n}" for n in range(1, len(surface.supports) + 1)}
    return tuple(s for s in surface.supports if s.id in ids and s.kind in MEMBERS and s.existing)


def _packed(
    zone: JoistZone,
    members: Sequence[tuple[Support, tuple[float, ...]]],
    practice: Practice,
) -> Packing:
    read: list[tuple[str, float, Point, float]] = []
    for member, depths in members:
        length = distance(member.a, member.b)
        steps = max(1, len(depths) - 1)
        for n, depth in enumerate(depths):
            share = n / steps if len(depths) > 1 else 0.5
            point = snap_point(
                (
                    member.a[0] + (member.b[0] - member.a[0]) * share,
                    member.a[1] + (member.b[1] - member.a[1]) * share,
                )
            )
            read.append((member.id, length * share, point, depth))
    spots = [(p[0], p[1], depth) for _, _, p, depth in read]
    level, slope_u, slope_v = plane_under(spots, zone.packed_to)
    middle = (sum(s[0] for s in spots) / len(spots), sum(s[1] for s in spots) / len(spots))
    step = practice.mm(STEP) if practice.has(STEP) else 1.0
    packed: list[PackedSpot] = []
    for member_id, at, point, depth in read:
        plane = level + slope_u * (point[0] - middle[0]) + slope_v * (point[1] - middle[1])
        thickness = math.floor(round((depth - plane) / step, 3) + 0.5) * step
        packed.append(
            PackedSpot(
                member=member_id,
                at=round(at, 3),
                point=point,
                reading=depth,
                thickness=round(max(0.0, thickness), 6),
            )
        )
    return Packing(
        zone=zone.id,
        packed_to=zone.packed_to,
        spots=tuple(packed),
        level=round(level, 3),
        falls=(round(-1000 * slope_u, 3) + 0.0, round(-1000 * slope_v, 3) + 0.0),
    )


def plane_under(
    spots: Sequence[tuple[float, float, float]], packed_to: PackTo
) -> tuple[float, float, float]:
    """Return the plane that lies under all spots: its height at their middle, and its slopes.

    The plane of least packing lies as high as it can at the middle of the spots, for the packing is
    the sum of what each stands over it: it is found slope by slope, the height over either being a
    hill with one top.

    Args:
        spots: Place u, v and height of each, mm.
        packed_to: Which plane.
    """
    count = len(spots)
    middle_u = sum(s[0] for s in spots) / count
    middle_v = sum(s[1] for s in spots) / count
    around = [(u - middle_u, v - middle_v, height) for u, v, height in spots]

    def height(slope_u: float, slope_v: float) -> float:
        return min(z - slope_u * u - slope_v * v for u, v, z in around)

    if packed_to is PackTo.LEVEL:
        return height(0.0, 0.0), 0.0, 0.0
    can_u = max(abs(u) for u, _, _ in around) > 1.0
    can_v = max(abs(v) for _, v, _ in around) > 1.0

    def best_v(slope_u: float) -> float:
        return _top(lambda slope: height(slope_u, slope)) if can_v else 0.0

    slope_u = _top(lambda slope: height(slope, best_v(slope))) if can_u else 0.0
    slope_v = best_v(slope_u)
    return height(slope_u, slope_v), slope_u, slope_v


def _top(of: Callable[[float], float]) -> float:
    """Return where a hill with one top is highest, by golden section; 0 where that is as high."""
    best = least_at(lambda slope: -of(slope), -STEEPEST, STEEPEST, 1e-9)
    return 0.0 if of(0.0) >= of(best) - 1e-6 else best


def batten_out(packing: Packing, practice: Practice) -> float:
    """Return what battens packed to the plane take up under the lowest member, mm.

    Args:
        packing: The packing.
        practice: The pack: ``batten.depth``.
    """
    depth = practice.mm(BATTEN) if practice.has(BATTEN) else 0.0
    return depth + packing.most


def is_too_much(packing: Packing, practice: Practice) -> bool:
    """Tell whether it is worth battening out rather than packing."""
    return practice.has(MOST) and packing.most > practice.mm(MOST)
