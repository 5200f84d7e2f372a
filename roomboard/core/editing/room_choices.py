"""What is said of a whole room: its ceiling, its finish, what can be carried in."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError, numbers

if TYPE_CHECKING:
    from roomboard.core.project import JoistZone, Room

FINISH_LEVELS = range(6)
"""Levels of finish there are."""


def set_finish_level(room: Room, level: int) -> Room:
    """Set the level of finish of a room.

    Args:
        room: The room.
        level: 0 is not finished at all, 5 is finished for glancing light.

    Raises:
        EditError: If there is no such level.
    """
    if level not in FINISH_LEVELS:
        raise EditError(
            f"There is no level of finish {level}; choose one from {FINISH_LEVELS[0]} to "
            f"{FINISH_LEVELS[-1]} for {room.name}."
        )
    return replace(room, finish_level=level)


def set_carry_in(room: Room, longest: float) -> Room:
    """Set the longest sheet that can be carried into a room.

    Args:
        room: The room.
        longest: mm; 0 for no limit.

    Raises:
        EditError: If it is less than nothing or no number.
    """
    numbers(f"the longest sheet that can be carried into {room.name}", longest)
    if longest < 0:
        raise EditError(
            f"The longest sheet that can be carried into {room.name} cannot be less than nothing; "
            "type its length, or nothing for no limit."
        )
    return replace(room, carry_in=longest)


def note_carry_in(room: Room, note: str) -> Room:
    """Say what limits the sheets that can be carried into a room."""
    return replace(room, carry_in_note=" ".join(note.split()))


def limit_by_way_in(room: Room, longest: float, note: str) -> Room:
    """Set the longest sheet that gets into a room, with what it was estimated from.

    Args:
        room: The room.
        longest: mm; 0 for no limit.
        note: What stands in the way.

    Raises:
        EditError: If it is less than nothing or no number.
    """
    return note_carry_in(set_carry_in(room, longest), note)


def set_storey(room: Room, storey: str) -> Room:
    """Say which floor a room is on.

    Raises:
        EditError: If nothing is said.
    """
    storey = " ".join(storey.split())
    if not storey:
        raise EditError(f"Say which floor {room.name} is on, such as ground.")
    return replace(room, storey=storey)


def line_ceiling(room: Room, *, lined: bool) -> Room:
    """Say whether the ceiling of a room is lined in this job."""
    return replace(room, ceiling_lined=lined)


def set_ceiling_board(room: Room, board: str) -> Room:
    """Choose the board of a room's ceiling; empty for the project's."""
    return replace(room, ceiling_board=board)


def frame_ceiling(room: Room, zone: JoistZone) -> Room:
    """Give the whole ceiling of a room one zone of joists, in place of those it had."""
    return replace(room, joists=(zone,))
