"""Hatches, lights and ducts in a ceiling, placed in plan or from the two nearest walls."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.ceiling_follows import is_inside, opening_box
from roomboard.core.editing.edges import Edge, edges_of
from roomboard.core.editing.openings import free_opening_id, put_opening
from roomboard.core.editing.refusal import (
    CEILING,
    EditError,
    above_nothing,
    numbers,
    opening_of,
    opening_words,
    started,
    wall_index,
    wall_words,
)
from roomboard.core.plane import TOLERANCE, Region, intersection, snap, snap_point
from roomboard.core.project import Opening, OpeningKind, Room

if TYPE_CHECKING:
    from roomboard.core.plane import Point


@dataclass(frozen=True, slots=True)
class FromWall:
    """How far a ceiling opening stands from a wall.

    Attributes:
        wall: Wall id.
        mm: From the wall to the nearest part of the opening, square to the wall.
    """

    wall: str
    mm: float


def add_ceiling_opening(
    room: Room,
    kind: OpeningKind,
    at: Point,
    width: float,
    height: float | None = None,
    *,
    is_round: bool = False,
) -> Room:
    """Put a hatch, a light or a duct into the ceiling.

    Args:
        room: The room.
        kind: What it is for.
        at: Its middle in plan, mm.
        width: Along x, or its diameter, mm.
        height: Along y, mm; None as wide.
        is_round: Whether it is a circle.

    Raises:
        EditError: If it reaches outside, or lies on another opening.
    """
    deep = width if is_round or height is None else height
    above_nothing("the size of the opening", width, deep)
    opening = Opening(
        id=free_opening_id(kind, room.openings),
        kind=kind,
        host=CEILING,
        left=at[0] - width / 2,
        bottom=at[1] - deep / 2,
        width=width,
        height=deep,
        is_round=is_round,
    )
    return replace(room, openings=(*room.openings, fitted(room, opening)))


def fitted(room: Room, opening: Opening) -> Opening:
    """Return a ceiling opening, to the grid, if it fits.

    Raises:
        EditError: If it reaches outside, or lies on another opening.
    """
    words = opening_words(opening)
    above_nothing(f"the size of {words} of {room.name}", opening.width, opening.height)
    numbers(f"the place of {words} of {room.name}", opening.left, opening.bottom)
    if not is_inside(opening, Region.of(room.outline)):
        raise EditError(
            f"{started(words)} would reach outside the ceiling of {room.name}; move it inside "
            "or make it smaller."
        )
    for other in room.openings:
        if other.host != CEILING or other.id == opening.id:
            continue
        if _meets(opening, other):
            raise EditError(
                f"{started(words)} would lie on {opening_words(other)} in the ceiling of "
                f"{room.name}; move it beside, or move the other first."
            )
    return replace(
        opening,
        left=snap(opening.left),
        bottom=snap(opening.bottom),
        width=snap(opening.width),
        height=snap(opening.height),
    )


def _meets(one: Opening, two: Opening) -> bool:
    """Tell whether two ceiling openings share any of the ceiling."""
    if one.is_round and two.is_round:
        (ax, ay), (bx, by) = middle(one), middle(two)
        apart = math.hypot(ax - bx, ay - by)
        return apart < (one.width + two.width) / 2 - TOLERANCE
    return bool(intersection(opening_box(one), opening_box(two)))


def middle(opening: Opening) -> Point:
    """Return the middle of a ceiling opening in plan."""
    return (opening.left + opening.width / 2, opening.bottom + opening.height / 2)


def ceiling_opening(room: Room, opening_id: str) -> Opening:
    """Return an opening that is in the ceiling.

    Raises:
        EditError: If there is none of this id, or it is in a wall.
    """
    opening = opening_of(room, opening_id)
    if opening.host != CEILING:
        raise EditError(
            f"{started(opening_words(opening))} of {room.name} is in a wall and not in the "
            "ceiling; move it along its wall."
        )
    return opening


def move_ceiling_opening(room: Room, opening_id: str, to: Point) -> Room:
    """Move the middle of a ceiling opening to a place in plan.

    Raises:
        EditError: If it would reach outside, or lie on another opening.
    """
    opening = ceiling_opening(room, opening_id)
    moved = replace(opening, left=to[0] - opening.width / 2, bottom=to[1] - opening.height / 2)
    return put_opening(room, fitted(room, moved))


def resize_ceiling_opening(
    room: Room,
    opening_id: str,
    width: float,
    height: float | None = None,
    *,
    is_round: bool | None = None,
) -> Room:
    """Give a ceiling opening another size about its middle.

    Args:
        room: The room.
        opening_id: Which opening.
        width: Along x, or its diameter, mm.
        height: Along y, mm; None as it is, or as wide if round.
        is_round: Whether it is a circle; None as it is.

    Raises:
        EditError: If it would reach outside, or lie on another opening.
    """
    opening = ceiling_opening(room, opening_id)
    circle = opening.is_round if is_round is None else is_round
    high = width if circle else opening.height if height is None else height
    x, y = middle(opening)
    sized = replace(
        opening, left=x - width / 2, bottom=y - high / 2, width=width, height=high, is_round=circle
    )
    return put_opening(room, fitted(room, sized))


def distance_from_wall(room: Room, opening: Opening, wall_id: str) -> float:
    """Return how far the nearest part of a ceiling opening stands from a wall's line, mm.

    Raises:
        EditError: If there is no such wall.
    """
    edge = edges_of(room)[wall_index(room, wall_id)]
    return snap(-edge.offset(middle(opening)) - _reach(opening, edge))


def _reach(opening: Opening, edge: Edge) -> float:
    """Return how far an opening reaches from its middle towards a wall."""
    if opening.is_round:
        return opening.width / 2
    out = edge.outward
    return abs(out[0]) * opening.width / 2 + abs(out[1]) * opening.height / 2


def foot_of_hole(room: Room, opening: Opening, wall_id: str) -> tuple[Point, Point]:
    """Return the line its distance from a wall is measured on: its foot there, and its end, mm.

    Raises:
        EditError: If there is no such wall.
    """
    edge = edges_of(room)[wall_index(room, wall_id)]
    (x, y), (nx, ny), reach = middle(opening), edge.outward, _reach(opening, edge)
    return edge.foot((x, y)), snap_point((x + nx * reach, y + ny * reach))


def nearest_walls(room: Room, opening: Opening) -> tuple[FromWall, FromWall]:
    """Return the two walls a ceiling opening is measured from: the nearest, and the nearest across.

    The second wall is the nearest of those that do not run the same way as the first. Only
    walls that the opening stands in front of are asked, unless there are none.
    """
    edges = edges_of(room)
    centre = middle(opening)
    ranked: list[tuple[bool, float, int]] = []
    for index, edge in enumerate(edges):
        a, b = room.wall_ends(index)
        foot = edge.foot(centre)
        along = (foot[0] - a[0]) * edge.along[0] + (foot[1] - a[1]) * edge.along[1]
        length = (b[0] - a[0]) * edge.along[0] + (b[1] - a[1]) * edge.along[1]
        aside = not (-TOLERANCE <= along <= length + TOLERANCE) or edge.offset(centre) > 0
        mm = distance_from_wall(room, opening, edge.wall.id)
        ranked.append((aside, mm if not aside else abs(mm), index))
    ranked.sort()
    first = edges[ranked[0][2]]
    across = (r for r in ranked[1:] if not _same_way(first, edges[r[2]]))
    second = edges[next(across)[2]]
    return tuple(  # type: ignore[return-value]
        FromWall(e.wall.id, distance_from_wall(room, opening, e.wall.id)) for e in (first, second)
    )


def _same_way(one: Edge, two: Edge) -> bool:
    return abs(one.along[0] * two.along[1] - one.along[1] * two.along[0]) < TOLERANCE


def set_from_walls(room: Room, opening_id: str, one: FromWall, two: FromWall) -> Room:
    """Place a ceiling opening by its distances from two walls.

    Args:
        room: The room.
        opening_id: Which opening.
        one: A wall and the distance from it.
        two: A wall that runs another way, and the distance from it.

    Raises:
        EditError: If the walls run the same way, or it would not fit there.
    """
    opening = ceiling_opening(room, opening_id)
    edges = edges_of(room)
    first, second = (edges[wall_index(room, w.wall)] for w in (one, two))
    numbers(f"the distance of {opening_words(opening)} from its walls", one.mm, two.mm)
    if _same_way(first, second):
        raise EditError(
            f"{started(wall_words(first.wall))} and {wall_words(second.wall)} of {room.name} run "
            "the same way and do not fix a place; measure from two walls that meet."
        )
    (a, b), (c, d) = first.outward, second.outward
    # The middle lies so far inside each wall's line: out . middle = out . wall - distance.
    e = a * first.at[0] + b * first.at[1] - one.mm - _reach(opening, first)
    f = c * second.at[0] + d * second.at[1] - two.mm - _reach(opening, second)
    determinant = a * d - b * c
    to = ((e * d - b * f) / determinant, (a * f - e * c) / determinant)
    return move_ceiling_opening(room, opening_id, to)
