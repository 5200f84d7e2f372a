"""Joist zones and ceiling openings of a room whose outline has changed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.edges import crossing, direction
from roomboard.core.editing.refusal import CEILING, EditError, opening_words, started
from roomboard.core.editing.wall_follows import Line, first_after
from roomboard.core.framing import extent_across
from roomboard.core.plane import (
    GRID,
    SLIVER_MM2,
    TOLERANCE,
    Region,
    difference,
    distance,
    fault_in,
    intersection,
    same,
    signed_area,
    snap,
    snap_point,
    union,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import CeilingPart, JoistZone, Opening, Room


def zone_region(room: Room, zone: JoistZone) -> Region:
    """Return the outline from whose low side a zone's members are measured."""
    return Region.of(zone.outline or room.outline)


def measured_from(zone: JoistZone, old: Region, new: Region) -> JoistZone:
    """Return a zone whose members stay where they are while its outline changes.

    Args:
        zone: The zone, with the outline it is to have.
        old: The outline its members were measured in.
        new: The outline they are to be measured in.
    """
    low, high = extent_across(new, zone.direction_deg)
    by = snap(extent_across(old, zone.direction_deg)[0] - low)
    if zone.positions:
        if not by:
            return zone
        kept = (snap(p + by) for p in zone.positions)
        return replace(zone, positions=tuple(p for p in kept if 0 < p < high - low))
    if zone.spacing <= 0:
        return zone
    return replace(zone, first=first_after(zone.first, zone.spacing, by))


def zones_follow(before: Room, after: Room, walls: Mapping[str, Line]) -> tuple[JoistZone, ...]:
    """Keep every joist where it is; a zone reaching to a wall goes on reaching to it.

    Args:
        before: The room before.
        after: The room on its new outline.
        walls: The new walls by id.
    """
    if before.outline == after.outline:
        return before.joists
    drawn = [
        replace(z, outline=_ring_follows(z.outline, before, walls)) if z.outline else z
        for z in before.joists
    ]
    drawn = _filled(drawn, before, after)
    return tuple(
        measured_from(new, zone_region(before, old), zone_region(after, new))
        for old, new in zip(before.joists, drawn, strict=True)
    )


def parts_follow(before: Room, after: Room, walls: Mapping[str, Line]) -> tuple[CeilingPart, ...]:
    """Keep every plane of a ceiling where it is; a part that reaches to a wall goes on doing so.

    Args:
        before: The room before.
        after: The room on its new outline.
        walls: The new walls by id.
    """
    if before.outline == after.outline:
        return before.ceiling_parts
    return tuple(
        replace(p, outline=_ring_follows(p.outline, before, walls)) if p.outline else p
        for p in before.ceiling_parts
    )


@dataclass(frozen=True)
class _Side:
    """A side of a zone as a line, where it is after its wall has moved."""

    left: Point
    at: Point
    along: Point
    is_moved: bool

    def foot(self, point: Point) -> Point:
        by = (point[0] - self.at[0]) * self.along[0] + (point[1] - self.at[1]) * self.along[1]
        return snap_point((self.at[0] + self.along[0] * by, self.at[1] + self.along[1] * by))


def _ring_follows(ring: Ring, before: Room, walls: Mapping[str, Line]) -> Ring:
    """Move the sides of a zone that lie along walls with their walls; the others stay."""
    ends = zip(ring, (*ring[1:], ring[0]), strict=True)
    sides = [_side_follows(a, b, before, walls) for a, b in ends if distance(a, b) > TOLERANCE]
    if not any(side.is_moved for side in sides):
        return ring
    moved: list[Point] = []
    for last, side in zip((sides[-1], *sides[:-1]), sides, strict=True):
        met = crossing(last.at, last.along, side.at, side.along)
        if not (last.is_moved or side.is_moved):
            moved.append(side.left)
        elif met is not None:
            moved.append(met)
        else:
            moved.extend((last.foot(side.left), side.foot(side.left)))
    moved = [p for p, q in zip(moved, (*moved[1:], moved[0]), strict=True) if distance(p, q) > GRID]
    turned = signed_area(moved) * signed_area(ring) <= 0 if len(moved) > 2 else True
    return ring if turned or fault_in(moved) else tuple(moved)


def _side_follows(a: Point, b: Point, before: Room, walls: Mapping[str, Line]) -> _Side:
    """Return a zone's side on the new line of the walls it lies along.

    It moves only if all of them move to one line; what a jog adds is given to it afterwards.
    """
    side = Line(a, b)
    stays = _Side(a, a, direction(a, b), is_moved=False)
    found: Line | None = None
    for index, wall in enumerate(before.walls):
        old, new = Line(*before.wall_ends(index)), walls.get(wall.id)
        if new is None or not _lies_along(side, old):
            continue
        if _in_one_line(side, new) or (found is not None and not _in_one_line(found, new)):
            return stays
        found = found or new
    return _Side(a, found.a, direction(found.a, found.b), is_moved=True) if found else stays


def _lies_along(side: Line, wall: Line) -> bool:
    """Tell whether a side and a wall share a stretch of one line."""
    low, high = sorted((side.along(wall.a), side.along(wall.b)))
    return min(high, side.length) - max(low, 0.0) > TOLERANCE and _in_one_line(side, wall)


def _in_one_line(one: Line, two: Line) -> bool:
    return max(_apart(one, two.a), _apart(one, two.b)) <= TOLERANCE


def _apart(line: Line, point: Point) -> float:
    """Return how far a point lies from a line drawn on past its ends, mm."""
    return distance(point, line.at(line.along(point)))


def _filled(zones: list[JoistZone], before: Room, after: Room) -> list[JoistZone]:
    """Give what the room gained to the zone that has most of its border."""
    if not zones or any(not z.outline for z in zones):
        return zones
    gained = difference(Region.of(after.outline), [Region.of(before.outline)])
    taken = [Region.of(z.outline) for z in zones]
    for part in gained:
        for rest in difference(part, taken):
            borders = [_border(rest, Region.of(z.outline)) for z in zones]
            most = max(range(len(zones)), key=lambda i: (borders[i], -i))
            if borders[most] <= TOLERANCE:
                continue
            whole = union((Region.of(zones[most].outline), rest))
            if len(whole) == 1 and not whole[0].holes:
                zones[most] = replace(zones[most], outline=whole[0].outer)
    return zones


def _border(one: Region, two: Region) -> float:
    """Return how long a border two regions share, mm."""
    return float(one.geometry.boundary.intersection(two.geometry.boundary).length)


def opening_box(opening: Opening) -> Region:
    """Return a ceiling opening in plan; a round one by the square round it."""
    return Region.box(
        opening.left,
        opening.bottom,
        opening.left + opening.width,
        opening.bottom + opening.height,
    )


def is_inside(opening: Opening, plan: Region) -> bool:
    """Tell whether a ceiling opening lies inside the ceiling."""
    box = opening_box(opening)
    inside = sum(r.area_mm2 for r in intersection(plan, box))
    return inside >= box.area_mm2 - SLIVER_MM2


def hatches_follow(openings: Sequence[Opening], before: Room, after: Room) -> tuple[Opening, ...]:
    """Keep ceiling openings where they are, pushed in where a wall has passed them.

    Raises:
        EditError: If one no longer fits.
    """
    old, new = Region.of(before.outline), Region.of(after.outline)
    if old == new:
        return tuple(openings)
    found: list[Opening] = []
    for opening in openings:
        if opening.host != CEILING or is_inside(opening, new) or not is_inside(opening, old):
            found.append(opening)
            continue
        pushed = _pushed_in(opening, new)
        if pushed is None:
            raise EditError(
                f"{started(opening_words(opening))} in the ceiling of {after.name} would lie "
                "outside; move or remove it first."
            )
        found.append(pushed)
    return tuple(found)


def _pushed_in(opening: Opening, plan: Region) -> Opening | None:
    """Return the opening moved the least way, along x or y or both, to lie inside."""
    xs = sorted({p[0] for p in plan.outer})
    ys = sorted({p[1] for p in plan.outer})
    lefts = [opening.left, *xs, *(x - opening.width for x in xs)]
    bottoms = [opening.bottom, *ys, *(y - opening.height for y in ys)]
    tried = sorted(
        (abs(x - opening.left) + abs(y - opening.bottom), snap(x), snap(y))
        for x in lefts
        for y in bottoms
    )
    for _, x, y in tried:
        if same(x, opening.left) and same(y, opening.bottom):
            continue
        candidate = replace(opening, left=x, bottom=y)
        if is_inside(candidate, plan):
            return candidate
    return None
