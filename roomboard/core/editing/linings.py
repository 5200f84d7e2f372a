"""How much of a room is lined, and how often: parts that are kept, and layers of board."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import (
    CEILING,
    EditError,
    above_nothing,
    free_id,
    numbers,
    wall_index,
)
from roomboard.core.plane import snap
from roomboard.core.project import MOST_LAYERS, KeptPart

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.project import Room

BOX = 4
"""A part is given by so many lengths: from the left, from below, width, height."""


def set_wall_layers(room: Room, wall_id: str, layers: int) -> Room:
    """Say how many layers of board a wall gets.

    Raises:
        EditError: If there is no such wall, or it is no number of layers.
    """
    _known(layers)
    index = wall_index(room, wall_id)
    wall = replace(room.walls[index], layers=layers)
    return replace(room, walls=(*room.walls[:index], wall, *room.walls[index + 1 :]))


def set_ceiling_layers(room: Room, layers: int) -> Room:
    """Say how many layers of board the ceiling gets.

    Raises:
        EditError: If it is no number of layers.
    """
    _known(layers)
    return replace(room, ceiling_layers=layers)


def _known(layers: int) -> None:
    if not 1 <= layers <= MOST_LAYERS:
        raise EditError(f"A face gets 1 to {MOST_LAYERS} layers of board, not {layers}.")


def set_unlined(room: Room, host: str, box: Iterable[float], *, kept: bool = True) -> Room:
    """Say what part of a wall or of the ceiling is not lined; no lengths line it all again.

    Args:
        room: The room.
        host: Wall id, or ``"ceiling"``.
        box: From the left, from below, width and height, mm; empty for none.
        kept: Whether a lining that is there already is kept.

    Raises:
        EditError: If there is no such wall, or the lengths make no part of it.
    """
    if host != CEILING:
        wall_index(room, host)
    given = tuple(box)
    others = tuple(p for p in room.kept if p.host != host)
    known = next((p for p in room.kept if p.host == host), None)
    if not given:
        return replace(room, kept=others)
    if len(given) != BOX:
        raise EditError(
            "A part that is not lined needs four lengths: from the left, from below, width and "
            "height, such as 0, 0, 3000, 1200."
        )
    left, bottom, width, height = given
    numbers("the part that is not lined", *given)
    above_nothing("the size of the part that is not lined", width, height)
    part = KeptPart(
        id=known.id if known else free_id("k", (p.id for p in room.kept)),
        host=host,
        left=snap(left),
        bottom=snap(bottom),
        width=snap(width),
        height=snap(height),
        kept=kept if known is None else known.kept,
        note=known.note if known else "",
    )
    return replace(room, kept=(*others, part))


def keep_lining(room: Room, host: str, *, kept: bool) -> Room:
    """Say whether the part of a face that is not lined keeps the lining it has, or has none."""
    return replace(
        room, kept=tuple(replace(p, kept=kept) if p.host == host else p for p in room.kept)
    )
