"""Studs and noggings of a wall: spaced, moved, added and taken away."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import (
    EditError,
    above_nothing,
    numbers,
    wall_index,
    wall_words,
)
from roomboard.core.editing.walls import put_wall
from roomboard.core.editing.zones import spacing_fits
from roomboard.core.framing import stud_centres
from roomboard.core.heights import highest
from roomboard.core.plane import TOLERANCE, snap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.project import FrameKind, Room, Wall


def _wall(room: Room, wall_id: str) -> tuple[Wall, float]:
    index = wall_index(room, wall_id)
    return room.walls[index], room.wall_length(index)


def stud_positions(
    room: Room, wall_id: str, *, spacing: float = 0.0, face: float = 0.0
) -> tuple[float, ...]:
    """Return the centres of a wall's studs from its left end, mm, in order.

    Args:
        room: The room.
        wall_id: Which wall.
        spacing: Centres to take where the wall gives none, mm.
        face: Width of a stud's face to take where the wall gives none, mm.

    Raises:
        EditError: If there is no such wall.
    """
    wall, length = _wall(room, wall_id)
    centres = stud_centres(wall, length, wall.stud_spacing or spacing, wall.stud_face or face)
    return tuple(snap(c) for c in centres)


def set_studs(room: Room, wall_id: str, spacing: float, first: float | None = None) -> Room:
    """Space the studs of a wall evenly.

    Args:
        room: The room.
        wall_id: Which wall.
        spacing: Centres, mm.
        first: Centre of the first stud after the end stud, from the left, mm; None for one
            spacing.

    Raises:
        EditError: If there is no such wall, or the figures are none for studs.
    """
    wall, _ = _wall(room, wall_id)
    spacing_fits(f"{wall_words(wall)} of {room.name}", spacing, first)
    return put_wall(room, replace(wall, stud_spacing=spacing, stud_first=first, studs=()))


def set_all_studs(room: Room, spacing: float, first: float | None = None) -> Room:
    """Space the studs of every wall of a room alike.

    Raises:
        EditError: If the figures are none for studs.
    """
    for wall in room.walls:
        room = set_studs(room, wall.id, spacing, first)
    return room


def set_stud_positions(
    room: Room, wall_id: str, positions: Sequence[float], *, face: float = 0.0
) -> Room:
    """Place the studs of a wall one by one.

    Args:
        room: The room.
        wall_id: Which wall.
        positions: Centres from the wall's left end, mm, in any order.
        face: Width of their face where the wall gives none, mm; kept with the wall, so that
            its end studs are known.

    Raises:
        EditError: If one lies outside the wall or in another, or there are none.
    """
    wall, length = _wall(room, wall_id)
    words = f"{wall_words(wall)} of {room.name}"
    numbers(f"a stud of {words}", *positions)
    placed = sorted(snap(p) for p in positions)
    if not placed:
        raise EditError(f"{words[0].upper()}{words[1:]} needs a stud; give a centre or a spacing.")
    for at in placed:
        if not -TOLERANCE <= at <= length + TOLERANCE:
            raise EditError(
                f"A stud at {{at}} lies outside {words}, which is {{length}} long; give a place "
                "on it.",
                at=at,
                length=length,
            )
    width = wall.stud_face or face
    for one, two in pairwise(placed):
        if two - one < width - TOLERANCE or two - one <= TOLERANCE:
            raise EditError(
                f"Studs at {{one}} and {{two}} of {words} stand in one place; move one of them.",
                one=one,
                two=two,
            )
    return put_wall(room, replace(wall, studs=tuple(placed), stud_face=width))


def _numbered(room: Room, wall_id: str, index: int, spacing: float, face: float) -> list[float]:
    """Return a wall's studs, if one is numbered ``index``."""
    studs = list(stud_positions(room, wall_id, spacing=spacing, face=face))
    if not 0 <= index < len(studs):
        wall, _ = _wall(room, wall_id)
        raise EditError(
            f"{wall_words(wall).capitalize()} of {room.name} has {len(studs)} studs and none "
            f"numbered {index + 1}; choose one that is drawn."
        )
    return studs


def move_stud(
    room: Room, wall_id: str, index: int, to: float, *, spacing: float = 0.0, face: float = 0.0
) -> Room:
    """Move one stud; the others stay, each at its own place from then on.

    Args:
        room: The room.
        wall_id: Which wall.
        index: Which stud, from 0 at the left.
        to: Its new centre from the wall's left end, mm.
        spacing: Centres to take where the wall gives none, mm.
        face: Width of a stud's face to take where the wall gives none, mm.

    Raises:
        EditError: If there is no such stud, or it cannot stand there.
    """
    studs = _numbered(room, wall_id, index, spacing, face)
    studs[index] = to
    return set_stud_positions(room, wall_id, studs, face=face)


def add_stud(
    room: Room, wall_id: str, at: float, *, spacing: float = 0.0, face: float = 0.0
) -> Room:
    """Add a stud to a wall; the others stay, each at its own place from then on.

    Args:
        room: The room.
        wall_id: Which wall.
        at: Its centre from the wall's left end, mm.
        spacing: Centres to take where the wall gives none, mm.
        face: Width of a stud's face to take where the wall gives none, mm.

    Raises:
        EditError: If it cannot stand there.
    """
    studs = stud_positions(room, wall_id, spacing=spacing, face=face)
    return set_stud_positions(room, wall_id, (*studs, at), face=face)


def remove_stud(
    room: Room, wall_id: str, index: int, *, spacing: float = 0.0, face: float = 0.0
) -> Room:
    """Take a stud out of a wall; the others stay, each at its own place from then on.

    Args:
        room: The room.
        wall_id: Which wall.
        index: Which stud, from 0 at the left.
        spacing: Centres to take where the wall gives none, mm.
        face: Width of a stud's face to take where the wall gives none, mm.

    Raises:
        EditError: If there is no such stud, or it is the only one.
    """
    studs = _numbered(room, wall_id, index, spacing, face)
    del studs[index]
    return set_stud_positions(room, wall_id, studs, face=face)


def set_stud_face(room: Room, wall_id: str, face: float) -> Room:
    """Give the studs of a wall the width of their fixing face, mm.

    Raises:
        EditError: If there is no such wall, or the face has no width.
    """
    wall, _ = _wall(room, wall_id)
    above_nothing(f"the face of the studs of {wall_words(wall)} of {room.name}", face)
    return put_wall(room, replace(wall, stud_face=face))


def set_frame(room: Room, frame: FrameKind, *, walls: bool = True, ceiling: bool = True) -> Room:
    """Say whether a room is framed in timber or in steel.

    Args:
        room: The room.
        frame: Timber or steel.
        walls: Whether it is said of the walls.
        ceiling: Whether it is said of the ceiling.
    """
    return replace(
        room,
        walls=tuple(replace(w, frame=frame) for w in room.walls) if walls else room.walls,
        joists=tuple(replace(z, frame=frame) for z in room.joists) if ceiling else room.joists,
    )


def add_nogging(room: Room, wall_id: str, height: float) -> Room:
    """Add a row of noggings to a wall.

    Args:
        room: The room.
        wall_id: Which wall.
        height: Its centre line above the floor, mm.

    Raises:
        EditError: If it cannot stand there.
    """
    wall, _ = _wall(room, wall_id)
    return _set_noggings(room, wall, (*wall.noggings, height))


def set_noggings(room: Room, wall_id: str, heights: Sequence[float]) -> Room:
    """Set every row of noggings of a wall.

    Args:
        room: The room.
        wall_id: Which wall.
        heights: Their centre lines above the floor, mm; none for no noggings.

    Raises:
        EditError: If one cannot stand there, or two stand in one place.
    """
    wall, _ = _wall(room, wall_id)
    return _set_noggings(room, wall, heights)


def move_nogging(room: Room, wall_id: str, index: int, to: float) -> Room:
    """Move a row of noggings.

    Args:
        room: The room.
        wall_id: Which wall.
        index: Which row, from 0 at the floor.
        to: Its new centre line above the floor, mm.

    Raises:
        EditError: If there is no such row, or it cannot stand there.
    """
    wall, heights = _rows(room, wall_id, index)
    heights[index] = to
    return _set_noggings(room, wall, heights)


def remove_nogging(room: Room, wall_id: str, index: int) -> Room:
    """Take a row of noggings out of a wall.

    Args:
        room: The room.
        wall_id: Which wall.
        index: Which row, from 0 at the floor.

    Raises:
        EditError: If there is no such row.
    """
    wall, heights = _rows(room, wall_id, index)
    del heights[index]
    return _set_noggings(room, wall, heights)


def _rows(room: Room, wall_id: str, index: int) -> tuple[Wall, list[float]]:
    wall, _ = _wall(room, wall_id)
    heights = sorted(wall.noggings)
    if not 0 <= index < len(heights):
        raise EditError(
            f"{wall_words(wall).capitalize()} of {room.name} has {len(heights)} rows of noggings "
            f"and none numbered {index + 1}; choose one that is drawn."
        )
    return wall, heights


def _set_noggings(room: Room, wall: Wall, heights: Sequence[float]) -> Room:
    words = f"{wall_words(wall)} of {room.name}"
    numbers(f"the height of a nogging of {words}", *heights)
    placed = sorted(snap(h) for h in heights)
    for at in placed:
        if not TOLERANCE < at < highest(room) - TOLERANCE:
            raise EditError(
                f"Noggings at {{at}} lie outside {words}, which is {{height}} high; give a height "
                "between floor and ceiling.",
                at=at,
                height=highest(room),
            )
    for one, two in pairwise(placed):
        if two - one <= max(TOLERANCE, wall.stud_face - TOLERANCE):
            raise EditError(
                f"Noggings at {{one}} and {{two}} of {words} stand in one place; move one row.",
                one=one,
                two=two,
            )
    return put_wall(room, replace(wall, noggings=tuple(placed)))
