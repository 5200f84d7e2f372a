"""Points, regions and rotated frames; the only module that touches shapely.

All coordinates are millimetres, y (or v) up. Rings are tuples of points without the
closing repeat; outer rings run counter-clockwise, holes clockwise, and every ring starts
at its lowest, leftmost corner, so that equal regions are equal values.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

Point = tuple[float, float]
"""A place in a surface's own frame, ``(u, v)`` mm."""
Ring = tuple[Point, ...]
"""A closed outline without the closing repeat."""
Interval = tuple[float, float]
"""A stretch of a line, ``(from, to)`` mm, from < to."""

GRID = 1e-6
"""Coordinates are rounded to this many mm, so that equal results are equal values."""
APART = 10 * GRID
"""Corners of an outline nearer than this (mm) are one corner, rounded twice."""
SPIKE = 1e-3
"""A tip of an outline that is thinner than this (mm) comes from rounding and is dropped."""
TOLERANCE = 0.01
"""Two lengths nearer than this (mm) are the same length."""


def same(a: float, b: float, tolerance: float = TOLERANCE) -> bool:
    """Tell whether two lengths are the same to within ``tolerance`` mm."""
    return abs(a - b) <= tolerance


def snap(value: float) -> float:
    """Round a coordinate to the grid, turning ``-0.0`` into ``0.0``."""
    return round(value, 6) + 0.0


def snap_point(point: Point) -> Point:
    """Round both coordinates of a point to the grid."""
    return (snap(point[0]), snap(point[1]))


def distance(a: Point, b: Point) -> float:
    """Return the distance between two points, mm."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def signed_area(ring: Sequence[Point]) -> float:
    """Return the area of a ring in mm2, positive if it runs counter-clockwise."""
    total = 0.0
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        total += ax * by - bx * ay
    return total / 2


def _turns_back(before: Point, at: Point, after: Point) -> bool:
    """Tell whether a line through three points comes back on itself at the middle one."""
    return (at[0] - before[0]) * (after[0] - at[0]) + (at[1] - before[1]) * (after[1] - at[1]) < 0


def _clean_ring(points: Iterable[Point], *, counter_clockwise: bool) -> Ring:
    """Drop repeated points, collinear ones and spikes, orient, and start at the lowest left."""
    ring: list[Point] = []
    for point in map(snap_point, points):
        if not ring or distance(ring[-1], point) > APART:
            ring.append(point)
    while len(ring) > 1 and distance(ring[0], ring[-1]) <= APART:
        ring.pop()
    changed = True
    while changed and len(ring) >= 3:
        changed = False
        kept: list[Point] = []
        count = len(ring)
        for i, p in enumerate(ring):
            before, after = ring[i - 1], ring[(i + 1) % count]
            cross = (p[0] - before[0]) * (after[1] - p[1]) - (p[1] - before[1]) * (after[0] - p[0])
            here, there = distance(before, p), distance(p, after)
            if here * there <= GRID or abs(cross) <= 1e-9 * here * there:
                changed = True
                continue
            if abs(cross) <= SPIKE * max(here, there) and _turns_back(before, p, after):
                changed = True
                continue
            kept.append(p)
        ring = kept
    if len(ring) < 3:
        return ()
    if (signed_area(ring) > 0) is not counter_clockwise:
        ring.reverse()
    start = min(range(len(ring)), key=lambda i: (ring[i][1], ring[i][0]))
    return tuple(ring[start:] + ring[:start])


@dataclass(frozen=True)
class Region:
    """A piece of a plane: one outer ring and any number of holes.

    Attributes:
        outer: Counter-clockwise ring, mm.
        holes: Clockwise rings inside it, mm, in order of their first corner.
    """

    outer: Ring
    holes: tuple[Ring, ...] = ()

    @staticmethod
    def of(outer: Iterable[Point], holes: Iterable[Iterable[Point]] = ()) -> Region:
        """Make a region from rings in any direction, cleaned and normalised."""
        cleaned = (_clean_ring(hole, counter_clockwise=False) for hole in holes)
        return Region(
            _clean_ring(outer, counter_clockwise=True),
            tuple(sorted((h for h in cleaned if h), key=lambda h: (h[0][1], h[0][0]))),
        )

    @staticmethod
    def box(u0: float, v0: float, u1: float, v1: float) -> Region:
        """Make the rectangle between two corners."""
        u0, u1 = sorted((snap(u0), snap(u1)))
        v0, v1 = sorted((snap(v0), snap(v1)))
        return Region(((u0, v0), (u1, v0), (u1, v1), (u0, v1)))

    @cached_property
    def geometry(self) -> Polygon:
        """The same region as a shapely polygon."""
        return Polygon(self.outer, self.holes)

    @cached_property
    def area_mm2(self) -> float:
        """Area in mm2, holes taken off."""
        return signed_area(self.outer) + sum(signed_area(hole) for hole in self.holes)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """``(u0, v0, u1, v1)`` of the upright box round the region, mm."""
        us = [p[0] for p in self.outer]
        vs = [p[1] for p in self.outer]
        return (min(us), min(vs), max(us), max(vs))

    @cached_property
    def is_box(self) -> bool:
        """Whether the region is an upright rectangle without holes."""
        u0, v0, u1, v1 = self.bounds
        return not self.holes and self.outer == ((u0, v0), (u1, v0), (u1, v1), (u0, v1))

    @property
    def rings(self) -> tuple[Ring, ...]:
        """The outer ring, then the holes."""
        return (self.outer, *self.holes)

    @cached_property
    def segments(self) -> tuple[tuple[Point, Point], ...]:
        """Every side of every ring, the region lying on the left of each."""
        return tuple(
            (a, b) for ring in self.rings for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
        )

    def contains(self, point: Point, margin: float = 0.0) -> bool:
        """Tell whether a point lies inside, at least ``margin`` mm from every side."""
        x, y = point
        inside = False
        for (ax, ay), (bx, by) in self.segments:
            if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
                inside = not inside
        if not inside:
            return not margin and self.distance_to_edge(point) <= TOLERANCE
        return not margin or self.distance_to_edge(point) >= margin - GRID

    def distance_to_edge(self, point: Point) -> float:
        """Return the distance from a point to the nearest side, mm."""
        return min(distance_to_segment(point, a, b) for a, b in self.segments)


def shared_stretch(
    a: Point, b: Point, p: Point, q: Point, *, off: float, least: float
) -> Interval | None:
    """Return where along a line another one lies on it, mm from its begin, or None.

    Args:
        a: Begin of the line.
        b: Its end.
        p: One end of the other line, which may run either way.
        q: Its other end.
        off: How far beside the line its ends may lie, mm.
        least: They share more than this, or nothing, mm.
    """
    length = distance(a, b)
    if length <= least:
        return None
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    if any(abs((y - a[1]) * dx - (x - a[0]) * dy) > off for x, y in (p, q)):
        return None
    one, two = ((x - a[0]) * dx + (y - a[1]) * dy for x, y in (p, q))
    low, high = max(0.0, min(one, two)), min(length, max(one, two))
    return (low, high) if high - low > least else None


def nearest_share(point: Point, a: Point, b: Point) -> float:
    """Return which share of the segment ``a``-``b`` lies before its place nearest to a point."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length2 = dx * dx + dy * dy
    if not length2:
        return 0.0
    return max(0.0, min(1.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / length2))


def distance_to_segment(point: Point, a: Point, b: Point) -> float:
    """Return the distance from a point to the segment ``a``-``b``, mm."""
    t = nearest_share(point, a, b)
    return math.hypot(point[0] - a[0] - t * (b[0] - a[0]), point[1] - a[1] - t * (b[1] - a[1]))


SLIVER_MM2 = 1.0
"""Parts smaller than this come from rounding and are dropped."""


def regions_of(geometry: BaseGeometry, least_mm2: float = SLIVER_MM2) -> tuple[Region, ...]:
    """Turn any shapely geometry into its polygonal parts, ordered from the lower left."""
    found: list[Region] = []
    for part in shapely.get_parts(geometry):
        if isinstance(part, MultiPolygon):
            found.extend(regions_of(part, least_mm2))
        elif isinstance(part, Polygon) and part.area > least_mm2:
            region = Region.of(
                part.exterior.coords[:-1], (ring.coords[:-1] for ring in part.interiors)
            )
            if region.outer:
                found.append(region)
    return tuple(sorted(found, key=lambda r: (r.bounds[1], r.bounds[0], r.outer)))


def intersection(a: Region, b: Region) -> tuple[Region, ...]:
    """Return what two regions share, as separate regions."""
    if a.is_box and b.is_box:
        u0, v0, u1, v1 = a.bounds
        p0, q0, p1, q1 = b.bounds
        left, low, right, high = max(u0, p0), max(v0, q0), min(u1, p1), min(v1, q1)
        if (right - left) * (high - low) <= SLIVER_MM2 or right <= left or high <= low:
            return ()
        return (Region.box(left, low, right, high),)
    return regions_of(a.geometry.intersection(b.geometry))


def difference(a: Region, others: Iterable[Region]) -> tuple[Region, ...]:
    """Return ``a`` without ``others``, as separate regions."""
    cut = shapely.union_all([o.geometry for o in others])
    if cut.is_empty:
        return (a,)
    return regions_of(a.geometry.difference(cut))


def union(regions: Iterable[Region]) -> tuple[Region, ...]:
    """Join regions that touch or overlap."""
    return regions_of(shapely.union_all([r.geometry for r in regions]))


def fault_in(ring: Sequence[Point]) -> str:
    """Say in words what is wrong with an outline, or return an empty string.

    Args:
        ring: Corners in order, mm.
    """
    if len(ring) < 3:
        return "it needs at least three corners"
    polygon = Polygon(ring)
    if not polygon.is_valid:
        reason = shapely.is_valid_reason(polygon)
        if "[" in reason:
            x, _, y = reason[reason.index("[") + 1 : -1].partition(" ")
            return f"two of its walls cross near x = {float(x):.0f}, y = {float(y):.0f}"
        return "two of its walls cross"
    if polygon.area <= SLIVER_MM2:
        return "it encloses no area"
    return ""


@dataclass(frozen=True)
class Frame:
    """A turned frame in a surface: s runs along the sheets, t across them.

    Attributes:
        origin: The frame's zero in the surface's (u, v), mm.
        along: Unit vector of +s in (u, v); +t is a quarter turn counter-clockwise from it.
    """

    origin: Point
    along: Point

    @staticmethod
    def at_angle(angle_deg: float, origin: Point = (0.0, 0.0)) -> Frame:
        """Make a frame turned by an angle; quarter turns are exact."""
        quarter, rest = divmod(angle_deg % 360.0, 90.0)
        if same(rest, 0.0, 1e-9):
            along = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter)]
        else:
            radians = math.radians(angle_deg)
            along = (math.cos(radians), math.sin(radians))
        return Frame(origin, along)

    def to_st(self, point: Point) -> Point:
        """Return (s, t) of a point given in (u, v)."""
        x, y = point[0] - self.origin[0], point[1] - self.origin[1]
        cos, sin = self.along
        return (snap(x * cos + y * sin), snap(y * cos - x * sin))

    def to_uv(self, point: Point) -> Point:
        """Return (u, v) of a point given in (s, t)."""
        s, t = point
        cos, sin = self.along
        return (
            snap(self.origin[0] + s * cos - t * sin),
            snap(self.origin[1] + s * sin + t * cos),
        )

    def region_to_st(self, region: Region) -> Region:
        """Return the region in (s, t)."""
        return Region.of(
            [self.to_st(p) for p in region.outer],
            [[self.to_st(p) for p in hole] for hole in region.holes],
        )

    def region_to_uv(self, region: Region) -> Region:
        """Return the region in (u, v)."""
        return Region.of(
            [self.to_uv(p) for p in region.outer],
            [[self.to_uv(p) for p in hole] for hole in region.holes],
        )


def chords_at_s(region: Region, s: float) -> tuple[Interval, ...]:
    """Return the stretches of the line at ``s`` that lie inside a region given in (s, t).

    A line running along a side counts as inside only where the region lies just beyond
    it (towards greater s); callers that care ask a hair to either side.
    """
    crossings: list[float] = []
    for (as_, at), (bs, bt) in region.segments:
        if (as_ > s) != (bs > s):
            crossings.append(at + (s - as_) / (bs - as_) * (bt - at))
    crossings.sort()
    return tuple(
        (snap(a), snap(b))
        for a, b in zip(crossings[::2], crossings[1::2], strict=True)
        if b - a > GRID
    )


def chords_at_t(region: Region, t: float) -> tuple[Interval, ...]:
    """Return the stretches of the line at ``t`` inside a region given in (s, t)."""
    crossings: list[float] = []
    for (as_, at), (bs, bt) in region.segments:
        if (at > t) != (bt > t):
            crossings.append(as_ + (t - at) / (bt - at) * (bs - as_))
    crossings.sort()
    return tuple(
        (snap(a), snap(b))
        for a, b in zip(crossings[::2], crossings[1::2], strict=True)
        if b - a > GRID
    )


def line_inside(region: Region, a: Point, b: Point) -> tuple[tuple[Point, Point], ...]:
    """Return the parts of the segment ``a``-``b`` that lie inside a region.

    Args:
        region: Any region, mm.
        a: Start of the segment.
        b: End of the segment.
    """
    length = distance(a, b)
    if length <= GRID:
        return ()
    frame = Frame(a, ((b[0] - a[0]) / length, (b[1] - a[1]) / length))
    turned = frame.region_to_st(region)
    return tuple(
        (frame.to_uv((max(p, 0.0), 0.0)), frame.to_uv((min(q, length), 0.0)))
        for p, q in chords_at_t(turned, 0.0)
        if min(q, length) - max(p, 0.0) > TOLERANCE
    )


def merge_intervals(intervals: Iterable[Interval], gap: float = TOLERANCE) -> tuple[Interval, ...]:
    """Join intervals that touch, overlap or lie within ``gap`` mm of each other."""
    merged: list[Interval] = []
    for a, b in sorted(intervals):
        if merged and a <= merged[-1][1] + gap:
            merged[-1] = (merged[-1][0], max(merged[-1][1], b))
        else:
            merged.append((a, b))
    return tuple(merged)


def subtract_intervals(
    whole: Interval, taken: Iterable[Interval], least: float = TOLERANCE
) -> tuple[Interval, ...]:
    """Return what is left of ``whole`` without ``taken``, dropping bits up to ``least`` mm."""
    left: list[Interval] = []
    at = whole[0]
    for a, b in sorted(taken):
        if a - at > least:
            left.append((at, min(a, whole[1])))
        at = max(at, b)
        if at >= whole[1]:
            break
    if whole[1] - at > least:
        left.append((at, whole[1]))
    return tuple((a, b) for a, b in left if b - a > least)
