"""Doors, windows and other openings in walls."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import (
    CEILING,
    EditError,
    above_nothing,
    free_id,
    numbers,
    opening_of,
    opening_words,
    started,
    wall_index,
    wall_words,
)
from roomboard.core.heights_tops import lowest_over
from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Opening, OpeningKind, Room, WallKind

if TYPE_CHECKING:
    from collections.abc import Iterable

STEMS = {
    OpeningKind.DOOR: "d",
    OpeningKind.WINDOW: "w",
    OpeningKind.OPENING: "o",
    OpeningKind.HATCH: "h",
    OpeningKind.LIGHT: "l",
    OpeningKind.DUCT: "v",
}
"""How the id of a new opening begins."""


class Side(StrEnum):
    """An end of a wall as one stands in the room and looks at it."""

    LEFT = "left"
    RIGHT = "right"


def free_opening_id(kind: OpeningKind, openings: Iterable[Opening]) -> str:
    """Return the first free id for an opening of a kind, e.g. ``d2``."""
    return free_id(STEMS[kind], (o.id for o in openings))


def add_opening(
    room: Room,
    wall_id: str,
    kind: OpeningKind,
    left: float,
    bottom: float,
    width: float,
    height: float,
) -> Room:
    """Put an opening into a wall.

    Args:
        room: The room.
        wall_id: Which wall.
        kind: What it is for.
        left: From the wall's left end to its nearer side, mm.
        bottom: From the floor to its lower side, mm.
        width: mm.
        height: mm.

    Raises:
        EditError: If it does not fit on the wall, or stands on another opening.
    """
    opening = Opening(
        id=free_opening_id(kind, room.openings),
        kind=kind,
        host=wall_id,
        left=left,
        bottom=bottom,
        width=width,
        height=height,
    )
    return replace(room, openings=(*room.openings, fitted(room, opening)))


def fitted(room: Room, opening: Opening) -> Opening:
    """Return an opening of a wall, to the grid, if it fits there.

    Raises:
        EditError: If it does not, or stands on another opening.
    """
    index = wall_index(room, opening.host)
    wall, length = room.walls[index], room.wall_length(index)
    words = opening_words(opening)
    above_nothing(f"the size of {words} of {room.name}", opening.width, opening.height)
    numbers(f"the place of {words} of {room.name}", opening.left, opening.bottom)
    if wall.kind is WallKind.OPEN:
        raise EditError(
            f"There is no wall to put {words} into: {wall_words(wall)} of {room.name} is open; "
            "choose another, or say that a wall stands there."
        )
    right, head = opening.left + opening.width, opening.bottom + opening.height
    if opening.left < -TOLERANCE or right > length + TOLERANCE:
        raise EditError(
            f"{started(words)} of {room.name} would reach from {{left}} to {{right}} on "
            f"{wall_words(wall)}, which is {{length}} long; move it or make it narrower.",
            left=opening.left,
            right=right,
            length=length,
        )
    clear = lowest_over(room, room.walls.index(wall), opening.left, right)
    if opening.bottom < -TOLERANCE or head > clear + TOLERANCE:
        raise EditError(
            f"{started(words)} of {room.name} would reach from {{bottom}} to {{head}} on a wall "
            "{height} high; change its sill or head.",
            bottom=opening.bottom,
            head=head,
            height=clear,
        )
    for other in room.openings:
        if other.host != opening.host or other.id == opening.id:
            continue
        wide = min(right, other.left + other.width) - max(opening.left, other.left)
        high = min(head, other.bottom + other.height) - max(opening.bottom, other.bottom)
        if min(wide, high) > TOLERANCE:
            raise EditError(
                f"{started(words)} would stand on {opening_words(other)} of {wall_words(wall)} of "
                f"{room.name}; move it beside, or move the other first."
            )
    return replace(
        opening,
        left=snap(max(opening.left, 0.0)),
        bottom=snap(max(opening.bottom, 0.0)),
        width=snap(opening.width),
        height=snap(opening.height),
    )


def put_opening(room: Room, opening: Opening) -> Room:
    """Return the room with an opening as it is now, in its old place in the list."""
    openings = tuple(opening if o.id == opening.id else o for o in room.openings)
    return replace(room, openings=openings)


def remove_opening(room: Room, opening_id: str) -> Room:
    """Take an opening out of a wall or the ceiling.

    Raises:
        EditError: If there is none of this id.
    """
    opening_of(room, opening_id)
    return replace(room, openings=tuple(o for o in room.openings if o.id != opening_id))


def move_opening(
    room: Room,
    opening_id: str,
    left: float,
    bottom: float | None = None,
    *,
    to_wall: str | None = None,
    keep_in: bool = False,
) -> Room:
    """Move an opening along its wall, up or down, or to another wall.

    Args:
        room: The room.
        opening_id: Which opening.
        left: From the wall's left end to its nearer side, mm.
        bottom: From the floor to its lower side, mm; None as it is.
        to_wall: Another wall; None for the one it is in.
        keep_in: Whether a place past an end of the wall, the floor or the ceiling means hard
            against it, as for an opening that is dragged.

    Raises:
        EditError: If it does not fit there, or stands on another opening.
    """
    opening = wall_opening(room, opening_id)
    moved = replace(
        opening,
        host=to_wall or opening.host,
        left=left,
        bottom=opening.bottom if bottom is None else bottom,
    )
    if keep_in:
        numbers(f"the place of {opening_words(opening)}", moved.left, moved.bottom)
        length = room.wall_length(wall_index(room, moved.host))
        moved = replace(
            moved,
            left=max(0.0, min(moved.left, length - moved.width)),
            bottom=max(0.0, min(moved.bottom, _clear(room, moved) - moved.height)),
        )
    return put_opening(room, fitted(room, moved))


def _clear(room: Room, moved: Opening) -> float:
    """Return how high the ceiling stands over an opening that is moved, mm."""
    index = wall_index(room, moved.host)
    length = room.wall_length(index)
    left = max(0.0, min(moved.left, length - moved.width))
    return lowest_over(room, index, left, left + moved.width)


def wall_opening(room: Room, opening_id: str) -> Opening:
    """Return an opening that is in a wall.

    Raises:
        EditError: If there is none of this id, or it is in the ceiling.
    """
    opening = opening_of(room, opening_id)
    if opening.host == CEILING:
        raise EditError(
            f"{started(opening_words(opening))} of {room.name} is in the ceiling and not in a "
            "wall; move it in plan."
        )
    return opening


def resize_opening(
    room: Room,
    opening_id: str,
    width: float | None = None,
    height: float | None = None,
    *,
    fixed: Side = Side.LEFT,
) -> Room:
    """Give an opening another width or height; its sill stays.

    Args:
        room: The room.
        opening_id: Which opening.
        width: mm; None as it is.
        height: mm; None as it is.
        fixed: Which side stays where it is when the width changes.

    Raises:
        EditError: If it does not fit, or stands on another opening.
    """
    opening = wall_opening(room, opening_id)
    wide = opening.width if width is None else width
    above_nothing(f"the width of {opening_words(opening)}", wide)
    left = opening.left if fixed is Side.LEFT else opening.left + opening.width - wide
    high = opening.height if height is None else height
    return put_opening(room, fitted(room, replace(opening, left=left, width=wide, height=high)))


def set_sill(room: Room, opening_id: str, sill: float, *, keep_head: bool = True) -> Room:
    """Give an opening another sill height.

    Args:
        room: The room.
        opening_id: Which opening.
        sill: From the floor to its lower side, mm.
        keep_head: Whether its head stays, so that it grows or shrinks; otherwise it moves whole.

    Raises:
        EditError: If it does not fit, or stands on another opening.
    """
    opening = wall_opening(room, opening_id)
    numbers(f"the sill of {opening_words(opening)}", sill)
    height = opening.bottom + opening.height - sill if keep_head else opening.height
    if height <= 0:
        raise EditError(
            f"The sill of {opening_words(opening)} of {room.name} at {{sill}} would be above its "
            "head at {head}; give a lower one.",
            sill=sill,
            head=opening.bottom + opening.height,
        )
    return put_opening(room, fitted(room, replace(opening, bottom=sill, height=height)))


def set_head(room: Room, opening_id: str, head: float, *, keep_sill: bool = True) -> Room:
    """Give an opening another head height.

    Args:
        room: The room.
        opening_id: Which opening.
        head: From the floor to its upper side, mm.
        keep_sill: Whether its sill stays, so that it grows or shrinks; otherwise it moves whole.

    Raises:
        EditError: If it does not fit, or stands on another opening.
    """
    opening = wall_opening(room, opening_id)
    numbers(f"the head of {opening_words(opening)}", head)
    if not keep_sill:
        moved = replace(opening, bottom=head - opening.height)
        return put_opening(room, fitted(room, moved))
    if head <= opening.bottom:
        raise EditError(
            f"The head of {opening_words(opening)} of {room.name} at {{head}} would be below its "
            "sill at {sill}; give a higher one.",
            head=head,
            sill=opening.bottom,
        )
    return put_opening(room, fitted(room, replace(opening, height=head - opening.bottom)))


def nearest_corner(room: Room, opening: Opening) -> tuple[Side, float]:
    """Return the end of its wall that an opening is nearer to, and how far it stands from it, mm.

    Raises:
        EditError: If it is not in a wall of the room.
    """
    length = room.wall_length(wall_index(room, opening.host))
    right = snap(length - opening.left - opening.width)
    return (Side.LEFT, opening.left) if opening.left <= right else (Side.RIGHT, right)


def set_from_corner(room: Room, opening_id: str, side: Side, mm: float) -> Room:
    """Place an opening by the distance of its nearer side from an end of its wall.

    Args:
        room: The room.
        opening_id: Which opening.
        side: From which end it is measured.
        mm: How far, mm.

    Raises:
        EditError: If it does not fit there, or stands on another opening.
    """
    opening = wall_opening(room, opening_id)
    length = room.wall_length(wall_index(room, opening.host))
    left = mm if side is Side.LEFT else length - opening.width - mm
    return move_opening(room, opening_id, left)


def set_farther_side(room: Room, opening_id: str, mm: float) -> Room:
    """Set the right side of an opening from the left end of its wall; its left side stays.

    Args:
        room: The room.
        opening_id: Which opening.
        mm: From the wall's left end to its right side, mm.

    Raises:
        EditError: If that leaves it no width, or it does not fit there.
    """
    return resize_opening(room, opening_id, width=mm - wall_opening(room, opening_id).left)


def set_opening(
    room: Room,
    opening_id: str,
    *,
    kind: OpeningKind | None = None,
    reveal_lined: bool | None = None,
    reveal_depth: float | None = None,
) -> Room:
    """Say what an opening is for and whether its reveals are lined; what is left out stays.

    Raises:
        EditError: If there is none of this id, or the depth is less than nothing.
    """
    opening = opening_of(room, opening_id)
    if reveal_depth is not None:
        numbers(f"the depth of the reveals of {opening_words(opening)}", reveal_depth)
        if reveal_depth < 0:
            raise EditError(
                f"The reveals of {opening_words(opening)} of {room.name} cannot be less than "
                "nothing deep; type a greater length."
            )
    return put_opening(
        room,
        replace(
            opening,
            kind=opening.kind if kind is None else kind,
            reveal_lined=opening.reveal_lined if reveal_lined is None else reveal_lined,
            reveal_depth=opening.reveal_depth if reveal_depth is None else reveal_depth,
        ),
    )


def copy_openings(room: Room, from_wall: str, to_wall: str, *, mirrored: bool = False) -> Room:
    """Copy all openings of a wall to another, beside those it has.

    Args:
        room: The room.
        from_wall: Whose openings.
        to_wall: Where they go, at the same distances from the left end.
        mirrored: Whether the distances are taken from the right end instead.

    Raises:
        EditError: If one of them does not fit there, or there are none.
    """
    wall_index(room, from_wall)
    length = room.wall_length(wall_index(room, to_wall))
    own = [o for o in room.openings if o.host == from_wall]
    if not own or from_wall == to_wall:
        wall = room.walls[wall_index(room, from_wall)]
        why = "is the same wall" if own else "has no openings"
        raise EditError(
            f"Nothing to copy: {wall_words(wall)} of {room.name} {why}; choose another wall."
        )
    for opening in own:
        double = replace(
            opening,
            id=free_opening_id(opening.kind, room.openings),
            host=to_wall,
            left=length - opening.left - opening.width if mirrored else opening.left,
        )
        room = replace(room, openings=(*room.openings, fitted(room, double)))
    return room
