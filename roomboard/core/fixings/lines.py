"""Lines in the frame of a support: where along one a board is clear of its sides."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from roomboard.core.plane import TOLERANCE, Interval, Point, subtract_intervals
from roomboard.core.spacing import fasteners_on_line

HAIR = 1e-7
"""Rounding left aside when distances are compared, mm."""
NEARLY_ALONG = 0.1
"""A side that leaves a support by less than this slope runs along it."""


class Line(NamedTuple):
    """A straight line with its own frame: x along it, y square to it on its left."""

    ax: float
    ay: float
    dx: float
    dy: float
    length: float

    @staticmethod
    def between(a: Point, b: Point) -> Line:
        """Return the line from one point in (u, v) to another."""
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        if length <= TOLERANCE:
            return Line(a[0], a[1], 1.0, 0.0, 0.0)
        return Line(a[0], a[1], (b[0] - a[0]) / length, (b[1] - a[1]) / length, length)

    def to_xy(self, p: Point) -> Point:
        """Return a point given in (u, v) in this frame."""
        u, v = p[0] - self.ax, p[1] - self.ay
        return (u * self.dx + v * self.dy, v * self.dx - u * self.dy)

    def to_uv(self, x: float, y: float) -> Point:
        """Return a point given in this frame in (u, v)."""
        return (
            round(self.ax + x * self.dx - y * self.dy, 6) + 0.0,
            round(self.ay + x * self.dy + y * self.dx, 6) + 0.0,
        )


class Edge(NamedTuple):
    """One side in the frame of a line, the board on its left.

    ``keep`` is how far fasteners stay away from it, ``least`` how far they must, mm.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    keep: float
    least: float


def in_frame(line: Line, sides: Sequence[Edge]) -> list[Edge]:
    """Turn sides given in (u, v) into the frame of a line."""
    ax, ay, dx, dy, _ = line
    return [
        Edge(
            (u0 - ax) * dx + (v0 - ay) * dy,
            (v0 - ay) * dx - (u0 - ax) * dy,
            (u1 - ax) * dx + (v1 - ay) * dy,
            (v1 - ay) * dx - (u1 - ax) * dy,
            keep,
            least,
        )
        for u0, v0, u1, v1, keep, least in sides
    ]


def _too_near(edge: Edge, y: float, keep: float) -> Interval | None:
    """Return the stretch of the line at ``y`` nearer than ``keep`` to a side, or None."""
    x0, y0, x1, y1, _, _ = edge
    low, high = (y0, y1) if y0 <= y1 else (y1, y0)
    if y <= low - keep + HAIR or y >= high + keep - HAIR:
        return None
    left, right = (x0, x1) if x0 <= x1 else (x1, x0)
    if right - left < HAIR:
        off = max(low - y, y - high, 0.0)
        reach = math.sqrt(keep * keep - off * off)
        return (left - reach, right + reach)
    if high - low < HAIR:
        reach = math.sqrt(max(keep * keep - (y - y0) ** 2, 0.0))
        return (left - reach, right + reach)
    found: list[float] = []
    for px, py in ((x0, y0), (x1, y1)):
        if abs(y - py) < keep:
            reach = math.sqrt(keep * keep - (y - py) ** 2)
            found += [px - reach, px + reach]
    length = math.hypot(x1 - x0, y1 - y0)
    cos, sin = (x1 - x0) / length, (y1 - y0) / length
    # Beside the side itself: square distance below ``keep``, and the foot on the side.
    band = sorted((x0 + ((y - y0) * cos + k) / sin) for k in (keep, -keep))
    foot = sorted(x0 + (k - (y - y0) * sin) / cos for k in (0.0, length))
    a, b = max(band[0], foot[0]), min(band[1], foot[1])
    if a < b:
        found += [a, b]
    return (min(found), max(found)) if found else None


def clear_stretches(
    edges: Sequence[Edge], y: float, own: int = -1, own_keep: float = 0.0
) -> list[Interval]:
    """Return the stretches of the line at ``y`` inside the board and clear of all its sides.

    Args:
        edges: Sides in the line's frame.
        y: Which line.
        own: Index of a side that has a distance of its own, or -1.
        own_keep: That distance, mm.
    """
    crossings: list[float] = []
    near: list[Interval] = []
    for i, edge in enumerate(edges):
        x0, y0, x1, y1, keep, _ = edge
        if (y0 > y) != (y1 > y):
            crossings.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
        cut = _too_near(edge, y, own_keep if i == own else keep)
        if cut is not None:
            near.append(cut)
    crossings.sort()
    near.sort()
    found: list[Interval] = []
    for a, b in zip(crossings[::2], crossings[1::2], strict=False):
        at = a
        for p, q in near:
            if q <= at:
                continue
            if p >= b:
                break
            if p - at > HAIR:
                found.append((at, p))
            at = q
        if b - at > HAIR:
            found.append((at, b))
    return found


def within(intervals: Iterable[Interval], low: float, high: float) -> list[Interval]:
    """Clip stretches to one stretch."""
    return [(max(a, low), min(b, high)) for a, b in intervals if min(b, high) > max(a, low) + HAIR]


def rest_of(whole: Interval, barred: Sequence[Interval]) -> list[Interval]:
    """Return what is left of a stretch; a single place counts as a stretch."""
    if whole[1] - whole[0] > TOLERANCE:
        return list(subtract_intervals(whole, barred, HAIR))
    place = (whole[0] + whole[1]) / 2
    if any(p < place < q for p, q in barred):
        return []
    return [(place, place)]


def spread(start: float, end: float, spacing: float, least: int = 0) -> list[float]:
    """Return places from ``start`` to ``end`` at equal distances of at most ``spacing``, mm.

    As many as :func:`fasteners_on_line` says; with no spacing, ``least`` places.

    Args:
        start: First place.
        end: Last place.
        spacing: Greatest distance between neighbours, mm; 0 where only a number is asked.
        least: Fewest places.
    """
    parts = fasteners_on_line(end - start, 0.0, spacing) - 1 if spacing > 0 else 0
    parts = max(parts, least - 1)
    if parts <= 0:
        return [start] if spacing > 0 or least > 0 else []
    step = (end - start) / parts
    return [start + k * step for k in range(parts)] + [end]
