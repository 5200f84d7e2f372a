"""Bulkheads put along a wall, moved, sized and taken away."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import (
    EditError,
    above_nothing,
    bulkhead_words,
    free_id,
    numbers,
    started,
    wall_index,
    wall_words,
)
from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Bulkhead, Room

if TYPE_CHECKING:
    from collections.abc import Mapping


def bulkhead_of(room: Room, bulkhead_id: str) -> Bulkhead:
    """Return a bulkhead by id.

    Raises:
        EditError: If the room has none of this id.
    """
    for bulkhead in room.bulkheads:
        if bulkhead.id == bulkhead_id:
            return bulkhead
    raise EditError(f"{room.name} has no bulkhead “{bulkhead_id}”; choose one that is drawn.")


def add_bulkhead(
    room: Room, wall_id: str, left: float, length: float, depth: float, drop: float
) -> Room:
    """Put a bulkhead along a wall; an end that does not meet a wall's end stands free.

    Args:
        room: The room.
        wall_id: Which wall.
        left: From the wall's left end, mm.
        length: Along the wall, mm.
        depth: Out from the wall, mm.
        drop: Down from the ceiling, mm.

    Raises:
        EditError: If it does not fit.
    """
    bulkhead = Bulkhead(
        id=free_id("b", (b.id for b in room.bulkheads)),
        wall=wall_id,
        left=left,
        length=length,
        depth=depth,
        drop=drop,
    )
    bulkhead = _fitted(room, bulkhead)
    wall_length = room.wall_length(wall_index(room, wall_id))
    bulkhead = replace(
        bulkhead,
        left_free=bulkhead.left > TOLERANCE,
        right_free=bulkhead.left + bulkhead.length < wall_length - TOLERANCE,
    )
    return replace(room, bulkheads=(*room.bulkheads, bulkhead))


def _fitted(room: Room, bulkhead: Bulkhead) -> Bulkhead:
    b = bulkhead
    index = wall_index(room, b.wall)
    length = room.wall_length(index)
    words = f"{bulkhead_words(b)} of {room.name}"
    above_nothing(f"the size of {words}", b.length, b.depth, b.drop)
    numbers(f"the place of {words}", b.left)
    if b.left < -TOLERANCE or b.left + b.length > length + TOLERANCE:
        raise EditError(
            f"{started(words)} would reach from {{left}} to {{right}} on "
            f"{wall_words(room.walls[index])}, which is {{length}} long; move it or make it "
            "shorter.",
            left=b.left,
            right=b.left + b.length,
            length=length,
        )
    if b.drop >= room.height:
        raise EditError(
            f"{started(words)} would drop by {{drop}} in a room {{height}} high; make it "
            "less deep.",
            drop=b.drop,
            height=room.height,
        )
    return replace(b, left=snap(max(b.left, 0.0)), length=snap(b.length))


def set_bulkhead(
    room: Room,
    bulkhead_id: str,
    *,
    sizes: Mapping[str, float] | None = None,
    left_free: bool | None = None,
    right_free: bool | None = None,
    lined_behind: bool | None = None,
    board: str | None = None,
) -> Room:
    """Move or size a bulkhead, or say how it is built; what is left out stays.

    Args:
        room: The room.
        bulkhead_id: Which bulkhead.
        sizes: Any of ``left``, ``length``, ``depth``, ``drop``, ``spacing`` and ``face``, mm.
        left_free: Whether its left end stands free.
        right_free: Whether its right end stands free.
        lined_behind: Whether wall and ceiling are lined behind it.
        board: Board id, or empty for the wall's board.

    Raises:
        EditError: If it does not fit.
    """
    b = bulkhead_of(room, bulkhead_id)
    given = dict(sizes or {})
    for name, size in sorted(given.items()):
        numbers(f"the {name} of {bulkhead_words(b)}", size)
        if size < 0:
            raise EditError(
                f"The {name} of {bulkhead_words(b)} of {room.name} cannot be less than nothing; "
                "type a greater length."
            )
    b = replace(
        b,
        left=given.get("left", b.left),
        length=given.get("length", b.length),
        depth=given.get("depth", b.depth),
        drop=given.get("drop", b.drop),
        spacing=given.get("spacing", b.spacing),
        face=given.get("face", b.face),
        left_free=b.left_free if left_free is None else left_free,
        right_free=b.right_free if right_free is None else right_free,
        lined_behind=b.lined_behind if lined_behind is None else lined_behind,
        board=b.board if board is None else board,
    )
    b = _fitted(room, b)
    return replace(room, bulkheads=tuple(b if o.id == b.id else o for o in room.bulkheads))


def remove_bulkhead(room: Room, bulkhead_id: str) -> Room:
    """Take a bulkhead away, and what was chosen for its faces.

    Raises:
        EditError: If the room has none of this id.
    """
    bulkhead_of(room, bulkhead_id)
    key = f"bulkhead:{bulkhead_id}:"
    return replace(
        room,
        bulkheads=tuple(b for b in room.bulkheads if b.id != bulkhead_id),
        choices=tuple(c for c in room.choices if not c.surface.startswith(key)),
    )
