"""Walls being drawn one after the other: headings, angles between them, and how they close."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError
from roomboard.core.editing.snapping import heading_deg
from roomboard.core.plane import TOLERANCE, Region, distance, fault_in, snap_point

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point
    from roomboard.core.project import Room

FULL_TURN = 360.0
SQUARE = 1e-6
"""Unit vectors whose product is smaller than this stand square to each other."""


def unit(a: Point, b: Point) -> Point | None:
    """Return the unit vector from one point to another, or None if they are one."""
    length = distance(a, b)
    if length <= TOLERANCE:
        return None
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def stepped(start: Point, to: Point, step: float) -> Point:
    """Return a point moved along its line from another, so that its distance is whole.

    Args:
        start: Where the line begins.
        to: Where it ends.
        step: What the distance is to be a multiple of, mm.
    """
    way = unit(start, to)
    if way is None or step <= 0:
        return to
    length = max(1, round(distance(start, to) / step)) * step
    return snap_point((start[0] + way[0] * length, start[1] + way[1] * length))


def corner_angle(corners: Sequence[Point], to: Point) -> float:
    """Return the angle a new wall makes, degrees.

    With a wall before it that is the angle in the corner between both, up to 180; the first
    wall is measured counter-clockwise from x.

    Args:
        corners: The corners so far; the wall goes on from the last.
        to: Where it goes.
    """
    angle = heading_deg(corners[-1], to)
    if len(corners) < 2:
        return angle
    apart = (angle - heading_deg(corners[-1], corners[-2])) % FULL_TURN
    return min(apart, FULL_TURN - apart)


def turned(corners: Sequence[Point], angle_deg: float, toward: Point | None = None) -> float:
    """Return which way a wall goes that makes an angle with the one before it, degrees.

    Args:
        corners: The corners so far.
        angle_deg: Angle in the corner; for a first wall counter-clockwise from x.
        toward: On which side of the wall before; None for the right-hand side, inside a room
            drawn clockwise.
    """
    if len(corners) < 2:
        return angle_deg % FULL_TURN
    before, start = corners[-2], corners[-1]
    side = 1.0
    if toward is not None:
        dx, dy = start[0] - before[0], start[1] - before[1]
        cross = dx * (toward[1] - start[1]) - dy * (toward[0] - start[0])
        side = -1.0 if cross > TOLERANCE else 1.0
    return (heading_deg(start, before) + side * angle_deg) % FULL_TURN


def closed(corners: Sequence[Point]) -> tuple[Point, ...]:
    """Return the corners of a plan from those drawn so far, with one more if that squares it.

    A last wall that would stand askew is parted in two, square to the first and to the last
    wall drawn, where both are square to each other or run the same way.

    Args:
        corners: The corners, in order.

    Raises:
        EditError: If there are too few.
    """
    ring = [snap_point(c) for c in corners]
    if len(ring) > 1 and distance(ring[0], ring[-1]) <= TOLERANCE:
        ring.pop()
    if len(ring) < 3:
        raise EditError("A room needs three corners at least; draw one wall more.")
    first, last = unit(ring[0], ring[1]), unit(ring[-2], ring[-1])
    closing = unit(ring[-1], ring[0])
    if first is None or last is None or closing is None:
        return tuple(ring)
    if _is_square(closing, first) and _is_square(closing, last):
        return tuple(ring)
    corner = _square_corner(ring[-1], last, ring[0], first)
    if corner is not None and not fault_in((*ring, corner)):
        return (*ring, corner)
    return tuple(ring)


def _is_square(one: Point, two: Point) -> bool:
    return abs(one[0] * two[0] + one[1] * two[1]) < SQUARE


def _square_corner(end: Point, last: Point, start: Point, first: Point) -> Point | None:
    """Return where a wall square to the last one meets a wall square to the first one."""
    (ax, ay), (bx, by) = (-last[1], last[0]), (-first[1], first[0])
    cross = ax * by - ay * bx
    if abs(abs(cross) - 1.0) > SQUARE:  # only rooms drawn square are squared off
        return None
    t = ((start[0] - end[0]) * by - (start[1] - end[1]) * bx) / cross
    corner = snap_point((end[0] + ax * t, end[1] + ay * t))
    if min(distance(corner, end), distance(corner, start)) <= TOLERANCE:
        return None
    return corner


def corner_for_lengths(
    room: Room, index: int, before: float | None = None, after: float | None = None
) -> Point:
    """Return where a corner goes so that its walls get lengths, running as they do.

    Args:
        room: The room.
        index: Which corner of the outline.
        before: Length of the wall on its left, mm; None as it is.
        after: Length of the wall on its right.
    """
    count = len(room.outline)
    here = room.outline[index]
    left, right = room.outline[index - 1], room.outline[(index + 1) % count]
    x, y = here
    for far, length in ((left, before), (right, after)):
        way = unit(far, here)
        if length is None or way is None:
            continue
        more = length - distance(far, here)
        x, y = x + way[0] * more, y + way[1] * more
    return snap_point((x, y))


def line_across(room: Room, way: str, at: float) -> tuple[Point, Point]:
    """Return two points of a line across a ceiling.

    Args:
        room: The room.
        way: ``"x"`` or ``"y"``: which way it runs.
        at: How far it stands from the ceiling's low side, mm.
    """
    u0, v0, u1, v1 = Region.of(room.outline).bounds
    if way == "x":
        return (u0, v0 + at), (u1, v0 + at)
    return (u0 + at, v0), (u0 + at, v1)


def at_zero(corners: Sequence[Point]) -> tuple[Point, ...]:
    """Return corners moved so that the room begins at zero in both directions of the plan."""
    x0, y0 = min(p[0] for p in corners), min(p[1] for p in corners)
    return tuple(snap_point((x - x0, y - y0)) for x, y in corners)
