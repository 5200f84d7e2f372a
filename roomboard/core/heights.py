"""Ceilings that are not flat: which plane lies over each place in plan, and where planes meet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from roomboard.core.plane import (
    Region,
    difference,
    distance,
    fault_in,
    intersection,
    line_inside,
    snap,
)
from roomboard.core.slopes import Slope

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.project import CeilingPart, Room

STEEPEST = 80.0
"""What is steeper than this, degrees, is a wall and not a ceiling."""
MEETS = 1.0
"""Planes whose heights differ by no more than this meet: the tape reads no finer, mm."""
ASIDE = 0.02
"""Which plane lies beside a line is asked this far from it, mm."""
NEAR = 2.0
"""Bits of a line shorter than this that lie under nothing go to their neighbours, mm."""
KEY = "ceiling"
"""Key of a ceiling; a part of its own is called ``"ceiling:<part>"``."""


def is_ceiling(key: str) -> bool:
    """Tell whether a surface's key is that of a ceiling, of a part of one, or of a piece of it."""
    return key.partition(".")[0].partition(":")[0] == KEY


@dataclass(frozen=True, kw_only=True)
class Cover:
    """What of the plan lies under one plane.

    Attributes:
        key: Key of its surface: ``"ceiling"`` for what is flat at the room's height.
        part: The part of the ceiling as measured, or None for what no part covers.
        regions: Its regions in plan, mm.
        slope: Its plane, of the framing.
        lined: Whether it is lined.
        board: Board id, or empty for the project's ceiling board.
    """

    key: str
    part: CeilingPart | None
    regions: tuple[Region, ...]
    slope: Slope
    lined: bool
    board: str

    def heights(self) -> tuple[float, float]:
        """Return its least and greatest height over the floor, mm."""
        found = [self.slope.height_at(p) for r in self.regions for p in r.outer]
        return min(found), max(found)


def flat_cover(room: Room, regions: tuple[Region, ...] = ()) -> Cover:
    """Return what of a ceiling no part covers: flat at the room's height.

    Args:
        room: The room.
        regions: What lies under it in plan, mm.
    """
    return Cover(
        key=KEY,
        part=None,
        regions=regions,
        slope=Slope.flat(room.height),
        lined=room.ceiling_lined,
        board=room.ceiling_board,
    )


def part_fault(room: Room, part: CeilingPart) -> str:
    """Say in words why a part of a ceiling cannot be used, or return an empty string.

    Args:
        room: Its room.
        part: The part.
    """
    fault = fault_in(part.outline) if part.outline else ""
    numbers = (part.height, *part.at, part.rise_deg, part.pitch_deg)
    if fault:
        return fault
    if not all(map(math.isfinite, numbers)) or not 0 <= part.pitch_deg <= STEEPEST:
        return f"its pitch is not between 0 and {STEEPEST:g} degrees"
    own = Region.of(part.outline or room.outline)
    inside = intersection(own, Region.of(room.outline))
    if not inside:
        return "it lies outside the room"
    slope = slope_of(room, part)
    lowest = min(slope.height_at(p) for r in inside for p in r.outer)
    if lowest < -MEETS:
        return "it comes down through the floor: let it end where it meets the floor"
    return ""


def slope_of(room: Room, part: CeilingPart) -> Slope:
    """Return the plane of a part, the zero of its face at the lowest left of its outline."""
    corners = part.outline or room.outline
    return Slope.of(part.height, part.at, part.rise_deg, part.pitch_deg, corners)


@lru_cache(maxsize=64)
def covers(room: Room) -> tuple[Cover, ...]:
    """Return which plane lies over each part of a room's plan: what is flat first, then each part.

    Parts that cannot be used are left out: what lies under them is flat at the room's height.
    """
    rest: tuple[Region, ...] = (Region.of(room.outline),)
    found: list[Cover] = []
    for part in room.ceiling_parts:
        if part_fault(room, part):
            continue
        own = Region.of(part.outline or room.outline)
        regions = tuple(r for whole in rest for r in intersection(whole, own) if _has_width(r))
        if not regions:
            continue
        found.append(
            Cover(
                key=f"{KEY}:{part.id}",
                part=part,
                regions=regions,
                slope=slope_of(room, part),
                lined=part.lined and room.ceiling_lined,
                board=part.board or room.ceiling_board,
            )
        )
        rest = tuple(r for whole in rest for r in difference(whole, [own]) if _has_width(r))
    if rest:
        found.insert(0, flat_cover(room, rest))
    return tuple(found)


def _has_width(region: Region) -> bool:
    """Tell whether a region is more than a hair that rounding left between two outlines."""
    return not region.geometry.buffer(-MEETS / 2).is_empty


def cover_at(room: Room, point: Point) -> Cover | None:
    """Return what lies over a place in plan, or None outside the room."""
    found = [c for c in covers(room) for r in c.regions if r.contains(point)]
    return found[0] if found else None


def height_at(room: Room, point: Point) -> float:
    """Return the height of the ceiling's framing over a place in plan, mm.

    At a step, that of the first part listed; outside, the room's own height.
    """
    cover = cover_at(room, point)
    return cover.slope.height_at(point) if cover else room.height


def highest(room: Room) -> float:
    """Return the greatest height of a room's ceiling framing over the floor, mm."""
    return max(c.heights()[1] for c in covers(room)) if room.ceiling_parts else room.height


# --- where planes lie beside each other -----------------------------------------------------


def beside(a: Point, b: Point, cover: Cover) -> list[tuple[Point, Point]]:
    """Return the stretches of a line on whose right a cover lies close by."""
    length = distance(a, b)
    if length <= NEAR:
        return []
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    found: list[tuple[Point, Point]] = []
    for region in cover.regions:
        # A hair left between two outlines by rounding parts nothing.
        for aside in (ASIDE, MEETS / 2 + ASIDE):
            p, q = ((x + dy * aside, y - dx * aside) for x, y in (a, b))
            inside = line_inside(region, p, q)
            if inside:
                break
        for s, e in inside:
            u0, u1 = (_to_end((x - p[0]) * dx + (y - p[1]) * dy, length) for x, y in (s, e))
            if u1 - u0 > NEAR:
                found.append(
                    (
                        a if u0 == 0.0 else (snap(a[0] + dx * u0), snap(a[1] + dy * u0)),
                        b if u1 == length else (snap(a[0] + dx * u1), snap(a[1] + dy * u1)),
                    )
                )
    return found


def _to_end(u: float, length: float) -> float:
    if u < NEAR:
        return 0.0
    return length if u > length - NEAR else u


def turn_at(a: Point, b: Point, own: Slope, other: Slope) -> float:
    """Return by how much a ceiling turns down over a line into the one on its right, degrees.

    Above 0 the two make an internal angle (a ridge seen from below), below 0 an external one.

    Args:
        a: Begin of the line in plan; ``own`` lies on its left.
        b: End of the line.
        own: The plane on the left.
        other: The plane on the right.
    """
    length = distance(a, b)
    out = ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)

    def angle(slope: Slope) -> float:
        return math.atan(slope.gain * (slope.rise[0] * out[0] + slope.rise[1] * out[1]))

    return math.degrees(angle(own) - angle(other))
