"""A ceiling's heights at the corners of its room: in one plane, or folded along a diagonal."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.heights import STEPS, checked, turn_of
from roomboard.core.editing.refusal import EditError, above_nothing
from roomboard.core.heights import MEETS, covers, height_at
from roomboard.core.plane import Region, fault_in, snap
from roomboard.core.project import CeilingPart
from roomboard.core.slopes import best_plane

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Room


def corner_heights(room: Room) -> tuple[float, ...]:
    """Return the height of the ceiling's framing over each corner of a room, mm, in order."""
    middle = Region.of(room.outline).geometry.representative_point()
    found: list[float] = []
    for x, y in room.outline:
        # At a step it is what lies just inside that counts.
        far = math.hypot(middle.x - x, middle.y - y) or 1.0
        inside = (x + (middle.x - x) / far, y + (middle.y - y) / far)
        cover = next((c for c in covers(room) for r in c.regions if r.contains(inside)), None)
        height = cover.slope.height_at((x, y)) if cover else height_at(room, (x, y))
        found.append(snap(height))
    return tuple(found)


def by_corners(room: Room, heights: Sequence[float]) -> Room:
    """Give a ceiling its height at each corner of the room, in one plane.

    Args:
        room: The room.
        heights: Height of its framing at each corner, mm, in the outline's order.

    Raises:
        EditError: If their number is not that of the corners, or they lie in no plane.
    """
    _all_corners(room, heights)
    worst, off = _worst(list(zip(room.outline, heights, strict=True)))
    if off > MEETS:
        count = len(room.outline)
        opposite = (worst + count // 2) % count
        raise EditError(
            f"The heights at the {count} corners of {room.name} lie in no plane: corner "
            f"{worst + 1} is {{off}} out. Check it, or fold the ceiling along a diagonal, e.g. "
            f"from corner {worst + 1} to corner {opposite + 1} or from "
            f"{(worst + 1) % count + 1} to {(opposite + 1) % count + 1}.",
            off=off,
        )
    part = _through("a", room, (), list(zip(room.outline, heights, strict=True)))
    return checked(replace(room, ceiling_parts=(part,)))


def folded(room: Room, heights: Sequence[float], first: int, second: int) -> Room:
    """Give a ceiling its height at each corner of the room, folded along a diagonal.

    Args:
        room: The room.
        heights: Height of its framing at each corner, mm, in the outline's order.
        first: Number of the corner the fold begins at, from 1.
        second: Number of the corner it ends at.

    Raises:
        EditError: If no fold can run there, or a side of it still lies in no plane.
    """
    _all_corners(room, heights)
    count = len(room.outline)
    i, j = sorted((first - 1, second - 1))
    if not 0 <= i < j < count or j - i < 2 or (i == 0 and j == count - 1):
        raise EditError(
            f"A fold of the ceiling of {room.name} runs from one of its {count} corners to "
            f"another that is not its neighbour, not from {first} to {second}."
        )
    made: list[CeilingPart] = []
    for name, numbers_ in (
        ("a", list(range(i, j + 1))),
        ("b", [*range(j, count), *range(i + 1)]),
    ):
        ring = tuple(room.outline[k] for k in numbers_)
        fault = fault_in(ring)
        if fault:
            raise EditError(
                f"No fold of the ceiling of {room.name} can run from corner {first} to {second}: "
                "it would leave the room."
            )
        known = [(room.outline[k], heights[k]) for k in numbers_]
        worst, off = _worst(known)
        if off > MEETS:
            raise EditError(
                f"Folded from corner {first} to {second}, the ceiling of {room.name} is still "
                f"{{off}} out of its plane at corner {numbers_[worst] + 1}; check that height.",
                off=off,
            )
        made.append(_through(name, room, ring, known))
    return checked(replace(room, ceiling_parts=tuple(made)))


def set_corner_height(room: Room, corner: int, height: float) -> Room:
    """Give a ceiling another height at one corner; the others keep theirs.

    A room of four corners whose heights then lie in no plane is folded from the corner before to
    the one after.

    Args:
        room: The room.
        corner: Number of the corner, from 0.
        height: Height of the framing there, mm.

    Raises:
        EditError: If there is no such corner, or no ceiling can be like that.
    """
    heights = list(corner_heights(room))
    if not 0 <= corner < len(heights):
        raise EditError(f"{room.name} has {len(heights)} corners, not {corner + 1}.")
    heights[corner] = height
    _, off = _worst(list(zip(room.outline, heights, strict=True)))
    if off <= MEETS or len(heights) != FOUR:
        return by_corners(room, heights)
    before, after = (corner - 1) % FOUR, (corner + 1) % FOUR
    return folded(room, heights, before + 1, after + 1)


FOUR = 4
"""A room of four corners can be folded along a diagonal of its own."""


def _all_corners(room: Room, heights: Sequence[float]) -> None:
    if len(heights) != len(room.outline):
        raise EditError(
            f"{room.name} has {len(room.outline)} corners, but {len(heights)} heights were given; "
            "give one for each, from corner 1 on."
        )
    above_nothing("the height at a corner", *heights)


def _worst(points: Sequence[tuple[Point, float]]) -> tuple[int, float]:
    """Return which of some heights lies farthest off the plane through the others, and how far."""
    if len(points) < FOUR:
        return 0, 0.0
    found: list[tuple[float, int]] = []
    whole = best_plane(points)
    if whole is None:
        return 0, 0.0
    least = max(abs(_at(whole, p) - z) for p, z in points)
    if least <= MEETS / 2:
        return 0, least
    for number, (p, z) in enumerate(points):
        others = best_plane([*points[:number], *points[number + 1 :]])
        if others is not None:
            found.append((abs(_at(others, p) - z), number))
    off, number = max(found, default=(least, 0), key=lambda f: (round(f[0], 3), -f[1]))
    return number, off


def _at(plane: tuple[float, float, float], point: Point) -> float:
    return plane[0] + plane[1] * point[0] + plane[2] * point[1]


def _through(
    name: str, room: Room, ring: Ring, points: Sequence[tuple[Point, float]]
) -> CeilingPart:
    """Return the part whose plane lies through heights at corners."""
    plane = best_plane(points)
    if plane is None:
        raise EditError(
            f"Three corners of the ceiling of {room.name} stand in one line: no plane goes through "
            "their heights."
        )
    at = min(points, key=lambda p: (round(p[1], 3), p[0]))[0]
    steep = math.hypot(plane[1], plane[2])
    way = (plane[1] / steep, plane[2] / steep) if steep > STILL else (0.0, 1.0)
    return CeilingPart(
        id=name,
        outline=ring,
        height=snap(_at(plane, at)),
        at=at,
        rise_deg=turn_of(way),
        pitch_deg=round(math.degrees(math.atan(steep)), STEPS) if steep > STILL else 0.0,
    )


STILL = 1e-7
"""A plane that rises less than this in each mm is flat."""
