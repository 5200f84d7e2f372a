"""Columns put into a room, moved, sized and taken away."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import (
    EditError,
    above_nothing,
    column_words,
    free_id,
    numbers,
    started,
)
from roomboard.core.plane import SLIVER_MM2, TOLERANCE, Region, fault_in, snap_point
from roomboard.core.project import AngleFinish, Column, FrameKind, Room

if TYPE_CHECKING:
    from collections.abc import Mapping

    from roomboard.core.plane import Point, Ring

SIDES = 4


def column_of(room: Room, column_id: str) -> Column:
    """Return a column by id.

    Raises:
        EditError: If the room has none of this id.
    """
    for column in room.columns:
        if column.id == column_id:
            return column
    raise EditError(f"{room.name} has no column “{column_id}”; choose one that is drawn.")


def box_of_column(room: Room, column: Column) -> tuple[float, float, float, float]:
    """Return the box of a column as it is measured: place and size, mm.

    Args:
        room: The room.
        column: One of its columns.

    Returns:
        How far its nearer sides stand from the room's leftmost and lowest wall, then its size
        along x and y.
    """
    low_x, low_y, _, _ = Region.of(room.outline).bounds
    x0, y0, x1, y1 = Region.of(column.outline).bounds
    return (x0 - low_x, y0 - low_y, x1 - x0, y1 - y0)


def is_square(column: Column) -> bool:
    """Tell whether a column has four sides that run along x and y, so that it has two sizes."""
    return len(column.outline) == SIDES and Region.of(column.outline).is_box


def add_column(room: Room, x: float, y: float, width: float, depth: float) -> Room:
    """Put a column with four square corners into a room.

    Args:
        room: The room.
        x: From the room's leftmost wall to its nearer side, mm.
        y: From the room's lowest wall to its nearer side, mm.
        width: Along x, mm.
        depth: Along y, mm.

    Raises:
        EditError: If it does not stand in the room, or in another column.
    """
    ident = free_id("c", (c.id for c in room.columns))
    words = f"column {ident} of {room.name}"
    numbers(f"the place of {words}", x, y)
    above_nothing(f"the size of {words}", width, depth)
    column = _standing(room, Column(id=ident, outline=_box(room, x, y, width, depth)))
    return replace(room, columns=(*room.columns, column))


def _box(room: Room, x: float, y: float, width: float, depth: float) -> Ring:
    low_x, low_y, _, _ = Region.of(room.outline).bounds
    x0, y0, x1, y1 = low_x + x, low_y + y, low_x + x + width, low_y + y + depth
    return tuple(snap_point(p) for p in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


def _standing(room: Room, column: Column) -> Column:
    """Let a column through that stands in the room and clear of the others."""
    words = f"{column_words(column)} of {room.name}"
    fault = fault_in(column.outline)
    if fault:
        raise EditError(f"{started(words)} cannot take this shape: {fault}; set its size anew.")
    own = Region.of(column.outline)
    outside = own.geometry.difference(Region.of(room.outline).geometry).area
    if outside > SLIVER_MM2:
        raise EditError(f"{started(words)} would reach outside the room; move it or make it less.")
    for other in room.columns:
        if other.id == column.id or fault_in(other.outline):
            continue
        if own.geometry.intersection(Region.of(other.outline).geometry).area > SLIVER_MM2:
            raise EditError(
                f"{started(words)} would stand in {column_words(other)}; move it or make it less."
            )
    return column


def move_column(room: Room, column_id: str, x: float, y: float) -> Room:
    """Move a column whole.

    Args:
        room: The room.
        column_id: Which column.
        x: From the room's leftmost wall to its nearer side, mm.
        y: From the room's lowest wall to its nearer side, mm.

    Raises:
        EditError: If it does not stand in the room there, or in another column.
    """
    column = column_of(room, column_id)
    numbers(f"the place of {column_words(column)}", x, y)
    was_x, was_y, _, _ = box_of_column(room, column)
    dx, dy = x - was_x, y - was_y
    moved = tuple(snap_point((px + dx, py + dy)) for px, py in column.outline)
    return _put(room, replace(column, outline=moved))


def resize_column(
    room: Room, column_id: str, width: float | None = None, depth: float | None = None
) -> Room:
    """Give a column with four square corners another size; its low corner stays.

    Args:
        room: The room.
        column_id: Which column.
        width: Along x, mm; None keeps it.
        depth: Along y, mm; None keeps it.

    Raises:
        EditError: If it has other corners, or does not stand in the room then.
    """
    column = column_of(room, column_id)
    if not is_square(column):
        raise EditError(
            f"{started(column_words(column))} of {room.name} has not four square corners; remove "
            "it and put it in again with another size."
        )
    x, y, was_width, was_depth = box_of_column(room, column)
    width = was_width if width is None else width
    depth = was_depth if depth is None else depth
    above_nothing(f"the size of {column_words(column)} of {room.name}", width, depth)
    return _put(room, replace(column, outline=_box(room, x, y, width, depth)))


def set_column(
    room: Room,
    column_id: str,
    *,
    sizes: Mapping[str, float] | None = None,
    lined: bool | None = None,
    board: str | None = None,
    frame: FrameKind | None = None,
    angle: AngleFinish | None = None,
) -> Room:
    """Say how a column is built and lined; what is left out stays.

    Args:
        room: The room.
        column_id: Which column.
        sizes: ``spacing`` and ``face`` of its framing, mm; 0 is as practice has it.
        lined: Whether its sides are lined in this job.
        board: Board id, or empty for the project's wall board.
        frame: Timber or steel.
        angle: What finishes the angle between its sides and the ceiling.

    Raises:
        EditError: If the room has none of this id, or a size is less than nothing.
    """
    column = column_of(room, column_id)
    given = dict(sizes or {})
    for name, size in sorted(given.items()):
        numbers(f"the {name} of {column_words(column)}", size)
        if size < 0:
            raise EditError(
                f"The {name} of {column_words(column)} of {room.name} cannot be less than "
                "nothing; type a greater length."
            )
    column = replace(
        column,
        spacing=given.get("spacing", column.spacing),
        face=given.get("face", column.face),
        lined=column.lined if lined is None else lined,
        board=column.board if board is None else board,
        frame=column.frame if frame is None else frame,
        angle=column.angle if angle is None else angle,
    )
    return replace(room, columns=tuple(column if c.id == column.id else c for c in room.columns))


def _put(room: Room, column: Column) -> Room:
    column = _standing(room, column)
    return replace(room, columns=tuple(column if c.id == column.id else c for c in room.columns))


def remove_column(room: Room, column_id: str) -> Room:
    """Take a column away, and what was chosen or said for its sides.

    Raises:
        EditError: If the room has none of this id.
    """
    column_of(room, column_id)
    host = f"column:{column_id}"
    return replace(
        room,
        columns=tuple(c for c in room.columns if c.id != column_id),
        choices=tuple(c for c in room.choices if not c.surface.startswith(f"{host}:")),
        zones=tuple(z for z in room.zones if z.host != host),
    )


def columns_stand(room: Room, before: Room) -> Room:
    """Return a reshaped room whose columns still stand in it; they stay where they are.

    Args:
        room: The room on its new outline.
        before: The room as it was: a column that was outside already stays as it is.

    Raises:
        EditError: If a column would be left outside.
    """
    for column in room.columns:
        try:
            _standing(before, column)
        except EditError:
            continue
        _standing(room, column)
    return room


def side_at(column: Column, point: Point) -> int:
    """Return which side of a column's outline a point in plan lies on, from 1; 0 for none.

    Args:
        column: The column; its sides count as they are lettered on the drawings.
        point: mm in plan.
    """
    for number, (a, b) in enumerate(Region.of(column.outline).segments, 1):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        if abs(middle[0] - point[0]) <= TOLERANCE and abs(middle[1] - point[1]) <= TOLERANCE:
            return number
    return 0
