"""The walls of a room as lines in plan, and the corners where moved lines meet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import free_letter
from roomboard.core.plane import GRID, TOLERANCE, distance, snap_point
from roomboard.core.project import Wall

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point
    from roomboard.core.project import Room

PARALLEL = 1e-9
"""Unit vectors whose cross product is smaller than this run the same way."""


@dataclass(frozen=True)
class Edge:
    """A wall as a line in plan.

    Attributes:
        wall: The wall.
        left: Its left end before it was moved, mm.
        at: A point its line goes through now, mm.
        along: Unit vector from its left to its right end.
        is_moved: Whether its line is another than before.
    """

    wall: Wall
    left: Point
    at: Point
    along: Point
    is_moved: bool = False

    @property
    def outward(self) -> Point:
        """Unit vector square to the wall, out of the room."""
        return (-self.along[1], self.along[0])

    def offset(self, point: Point) -> float:
        """Return how far a point lies outside the wall's line, mm."""
        out = self.outward
        return (point[0] - self.at[0]) * out[0] + (point[1] - self.at[1]) * out[1]

    def foot(self, point: Point) -> Point:
        """Return the point of the wall's line nearest to a point."""
        out, by = self.outward, self.offset(point)
        return snap_point((point[0] - out[0] * by, point[1] - out[1] * by))

    def moved(self, by: Point) -> Edge:
        """Return the wall with its line shifted."""
        return replace(self, at=(self.at[0] + by[0], self.at[1] + by[1]), is_moved=True)

    def through(self, point: Point) -> Edge:
        """Return the wall with its line going through a point, running the same way."""
        if abs(self.offset(point)) <= GRID:
            return self
        return replace(self, at=point, is_moved=True)


def direction(a: Point, b: Point) -> Point:
    """Return the unit vector from one point to another."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def edges_of(room: Room) -> list[Edge]:
    """Return the walls of a room as lines, in the outline's order."""
    found: list[Edge] = []
    for index, wall in enumerate(room.walls):
        a, b = room.wall_ends(index)
        found.append(Edge(wall, a, a, direction(a, b)))
    return found


def is_straight(one: Edge, two: Edge) -> bool:
    """Tell whether two walls run the same way."""
    return abs(one.along[0] * two.along[1] - one.along[1] * two.along[0]) < PARALLEL


def meeting(one: Edge, two: Edge) -> Point | None:
    """Return where two walls' lines meet, or None if they run the same way."""
    return crossing(one.at, one.along, two.at, two.along)


def crossing(p: Point, along: Point, q: Point, other: Point) -> Point | None:
    """Return where two lines meet, each a point and a unit vector; None if they run one way."""
    (px, py), (dx, dy) = p, along
    (qx, qy), (ex, ey) = q, other
    cross = dx * ey - dy * ex
    if abs(cross) < PARALLEL:
        return None
    t = ((qx - px) * ey - (qy - py) * ex) / cross
    return snap_point((px + t * dx, py + t * dy))


def return_wall(of: Wall, walls: Sequence[Wall]) -> Wall:
    """Return a new wall made like another, with the first free letter and no studs one by one."""
    letter = free_letter(walls)
    return replace(of, id=letter.lower(), name=letter, studs=(), stud_first=None)


def joined(edges: Sequence[Edge]) -> tuple[tuple[Point, ...], tuple[Wall, ...]]:
    """Return the corners where moved walls meet, and the walls between them.

    Where two neighbours run the same way and no longer lie in one line, a return wall is put
    between them.
    """
    corners: list[Point] = []
    walls: list[Wall] = []
    known = [edge.wall for edge in edges]
    for before, edge in zip((edges[-1], *edges[:-1]), edges, strict=True):
        if not (before.is_moved or edge.is_moved):
            corners.append(edge.left)
        elif (corner := meeting(before, edge)) is not None:
            corners.append(corner)
        else:
            end, start = before.foot(edge.left), edge.foot(edge.left)
            if distance(end, start) > TOLERANCE:
                between = return_wall(edge.wall, known)
                known.append(between)
                walls.append(between)
                corners.append(end)
            corners.append(start)
        walls.append(edge.wall)
    return tuple(corners), tuple(walls)
