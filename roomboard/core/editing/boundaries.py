"""Boundaries between joist zones: found and moved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.ceiling_follows import measured_from, zone_region
from roomboard.core.editing.refusal import EditError, numbers, zone_of
from roomboard.core.editing.zones import _cut
from roomboard.core.plane import Region, distance, distance_to_segment, intersection, union

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.project import JoistZone, Room

BESIDE = 0.5
"""How far beside a boundary its zones are looked for, mm."""


@dataclass(frozen=True)
class Boundary:
    """A straight stretch between two zones.

    Attributes:
        a: One end in plan, mm.
        b: The other.
        one: Id of the zone on its left, looking from a to b.
        two: Id of the zone on its right.
    """

    a: Point
    b: Point
    one: str
    two: str

    @property
    def across(self) -> Point:
        """Unit vector square to it, into the zone on its left."""
        length = distance(self.a, self.b)
        return (-(self.b[1] - self.a[1]) / length, (self.b[0] - self.a[0]) / length)

    def moved(self, by: float) -> tuple[Point, Point]:
        """Return its ends moved square to it, into the zone on its left for more than 0."""
        nx, ny = self.across
        return (
            (self.a[0] + nx * by, self.a[1] + ny * by),
            (self.b[0] + nx * by, self.b[1] + ny * by),
        )


def boundaries(room: Room) -> tuple[Boundary, ...]:
    """Return the straight stretches where two zones of a room meet, each once."""
    found: list[Boundary] = []
    regions = [(z.id, zone_region(room, z)) for z in room.joists]
    for one, region in regions:
        for a, b in region.segments:
            length = distance(a, b)
            if length <= BESIDE * 2:
                continue
            nx, ny = -(b[1] - a[1]) / length * BESIDE, (b[0] - a[0]) / length * BESIDE
            beside = ((a[0] + b[0]) / 2 - nx, (a[1] + b[1]) / 2 - ny)
            for two, other in regions:
                if two != one and other.contains(beside):
                    known = any({f.one, f.two} == {one, two} and _same(f, a, b) for f in found)
                    if not known:
                        found.append(Boundary(a, b, one, two))
                    break
    return tuple(found)


def _same(boundary: Boundary, a: Point, b: Point) -> bool:
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return distance_to_segment(middle, boundary.a, boundary.b) <= BESIDE


def boundary_at(room: Room, at: Point, reach: float) -> Boundary | None:
    """Return the boundary within reach of a place in plan, or None."""
    ranked = [(distance_to_segment(at, f.a, f.b), i) for i, f in enumerate(boundaries(room))]
    near = [r for r in ranked if r[0] <= reach]
    return boundaries(room)[min(near)[1]] if near else None


def move_boundary(room: Room, one_id: str, two_id: str, a: Point, b: Point) -> Room:
    """Part two zones that meet along another line; their members stay where they are.

    Args:
        room: The room.
        one_id: One zone.
        two_id: The other.
        a: A point of the new line in plan, mm.
        b: Another.

    Raises:
        EditError: If the line does not part what both zones cover.
    """
    one, two = zone_of(room, one_id), zone_of(room, two_id)
    numbers("the line", *a, *b)
    old = (zone_region(room, one), zone_region(room, two))
    whole = union(old)
    parts = _cut(whole[0], a, b) if len(whole) == 1 and not whole[0].holes else None
    if parts is None:
        raise EditError(
            f"The line does not part joist zones {one_id} and {two_id} of {room.name}; keep it "
            "between their far sides."
        )
    rings = (Region.of(parts[0]), Region.of(parts[1]))
    if _shared(rings[0], old[0]) + _shared(rings[1], old[1]) < _shared(rings[0], old[1]) + _shared(
        rings[1], old[0]
    ):
        rings = (rings[1], rings[0])
    made: dict[str, JoistZone] = {}
    for zone, before, after in zip((one, two), old, rings, strict=True):
        made[zone.id] = measured_from(replace(zone, outline=after.outer), before, after)
    return replace(room, joists=tuple(made.get(z.id, z) for z in room.joists))


def _shared(one: Region, two: Region) -> float:
    return sum(r.area_mm2 for r in intersection(one, two))
