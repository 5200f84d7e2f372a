"""Rooms drawn, doubled, named, put in order and taken out of a project."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import (
    CEILING,
    EditError,
    above_nothing,
    letters,
    numbers,
    opening_words,
)
from roomboard.core.editing.reshaping import LONGEST_WALL, SHORTEST_WALL
from roomboard.core.measure import LEAST_ROOM, room_id
from roomboard.core.plane import TOLERANCE, distance, fault_in, signed_area, snap_point
from roomboard.core.project import Project, Room, Wall

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from roomboard.core.plane import Point


def room_from_corners(
    name: str, corners: Sequence[Point], height: float, taken_ids: Iterable[str] = ()
) -> Room:
    """Make a room from the corners of its plan.

    Args:
        name: What people call it.
        corners: In either turning direction, mm; they are kept clockwise from the first.
        height: Floor to ceiling framing, mm.
        taken_ids: Ids of the rooms there are.

    Raises:
        EditError: If the corners enclose no room, or it has no name or height.
    """
    name = _name(name)
    _height(name, height)
    for corner in corners:
        numbers(f"a corner of {name}", *corner)
    outline = tuple(snap_point(c) for c in corners)
    if len(outline) < 3:
        raise EditError(f"{name} has {len(outline)} corners; a room needs at least three.")
    for number, (a, b) in enumerate(zip(outline, (*outline[1:], outline[0]), strict=True), 1):
        if distance(a, b) < SHORTEST_WALL:
            raise EditError(
                f"The wall from corner {number} of {name} would be only {{length}} long; "
                "set its corners farther apart, or leave one out.",
                length=distance(a, b),
            )
        if distance(a, b) > LONGEST_WALL:
            raise EditError(
                f"The wall from corner {number} of {name} would be {{length}} long; "
                "check its length and the unit.",
                length=distance(a, b),
            )
    fault = fault_in(outline)
    if fault:
        raise EditError(f"{name} cannot take this shape: {fault}; set its corners anew.")
    if signed_area(outline) > 0:
        outline = (outline[0], *reversed(outline[1:]))
    walls = tuple(Wall(id=letters(i).lower(), name=letters(i)) for i in range(len(outline)))
    return Room(
        id=free_room_id(name, taken_ids), name=name, outline=outline, height=height, walls=walls
    )


def rectangle(
    name: str,
    width: float,
    depth: float,
    height: float,
    taken_ids: Iterable[str] = (),
    origin: Point = (0.0, 0.0),
) -> Room:
    """Make a room of four square corners.

    Args:
        name: What people call it.
        width: Along x, mm.
        depth: Along y, mm.
        height: Floor to ceiling framing, mm.
        taken_ids: Ids of the rooms there are.
        origin: Its lower left corner, mm.

    Raises:
        EditError: If a size is too small for a room, or it has no name.
    """
    above_nothing(f"the size of {_name(name)}", width, depth)
    x, y = origin
    corners = ((x, y), (x, y + depth), (x + width, y + depth), (x + width, y))
    return room_from_corners(name, corners, height, taken_ids)


def free_room_id(name: str, taken_ids: Iterable[str]) -> str:
    """Return an id made from a room's name that no other room has."""
    taken = set(taken_ids)
    stem = room_id(name, "room")
    found, number = stem, 2
    while found in taken:
        found, number = f"{stem}-{number}", number + 1
    return found


def room_of(project: Project, room_id_: str) -> Room:
    """Return a room of a project.

    Raises:
        EditError: If it has no such room.
    """
    room = project.room(room_id_)
    if room is None:
        raise EditError(f"{project.name} has no room “{room_id_}”; choose one from the list.")
    return room


def put_room(project: Project, room: Room) -> Project:
    """Return the project with a room as it is now, in its old place.

    Raises:
        EditError: If the project has no room of this id.
    """
    room_of(project, room.id)
    return replace(project, rooms=tuple(room if r.id == room.id else r for r in project.rooms))


def add_room(project: Project, room: Room, at: int | None = None) -> Project:
    """Return the project with one room more.

    Args:
        project: The project.
        room: The room; where its id is taken it gets a free one.
        at: Its place in the order of work; None for the end.
    """
    rooms = list(project.rooms)
    if project.room(room.id) is not None:
        room = replace(room, id=free_room_id(room.name, (r.id for r in rooms)))
    rooms.insert(len(rooms) if at is None else max(0, min(at, len(rooms))), room)
    return replace(project, rooms=tuple(rooms))


def remove_room(project: Project, room_id_: str) -> Project:
    """Return the project without a room; what was acknowledged or kept for it goes too.

    Raises:
        EditError: If it has no such room.
    """
    room_of(project, room_id_)
    return replace(
        project,
        rooms=tuple(r for r in project.rooms if r.id != room_id_),
        acknowledged=tuple(
            a for a in project.acknowledged if a.place.partition("/")[0] != room_id_
        ),
        variants=tuple(
            replace(v, rooms=tuple(kept for kept in v.rooms if kept[0] != room_id_))
            for v in project.variants
        ),
    )


def rename_room(project: Project, room_id_: str, name: str) -> Project:
    """Return the project with a room called otherwise; its id stays.

    Raises:
        EditError: If it has no such room, or the name is empty.
    """
    room = room_of(project, room_id_)
    return put_room(project, replace(room, name=_name(name)))


def reorder_room(project: Project, room_id_: str, to: int) -> Project:
    """Return the project with a room in another place of the order of work.

    Args:
        project: The project.
        room_id_: Which room.
        to: Its new place, from 0.

    Raises:
        EditError: If it has no such room.
    """
    room = room_of(project, room_id_)
    rooms = [r for r in project.rooms if r.id != room_id_]
    rooms.insert(max(0, min(to, len(rooms))), room)
    return replace(project, rooms=tuple(rooms))


def duplicate_room(project: Project, room_id_: str) -> Project:
    """Return the project with a second room like one it has, right after it.

    It is like it in every variant too.

    Raises:
        EditError: If it has no such room.
    """
    room = room_of(project, room_id_)
    names = {r.name for r in project.rooms}
    number = 2
    while f"{room.name} {number}" in names:
        number += 1
    name = f"{room.name} {number}"
    double = replace(room, id=free_room_id(name, (r.id for r in project.rooms)), name=name)
    variants = tuple(
        replace(v, rooms=(*v.rooms, *((double.id, c) for id_, c in v.rooms if id_ == room_id_)))
        for v in project.variants
    )
    project = replace(project, variants=variants)
    return add_room(project, double, project.rooms.index(room) + 1)


def set_height(room: Room, height: float) -> Room:
    """Return the room with another height from floor to ceiling framing, mm.

    Raises:
        EditError: If it is too low for a room, or for a bulkhead or an opening in it.
    """
    _height(room.name, height)
    for opening in room.openings:
        head = opening.bottom + opening.height
        fitted = head <= room.height + TOLERANCE and not room.ceiling_parts
        if opening.host != CEILING and fitted and head > height + TOLERANCE:
            raise EditError(
                f"The head of {opening_words(opening)} of {room.name} is at {{head}}, above a "
                "ceiling at {height}; lower the opening first.",
                head=head,
                height=height,
            )
    for bulkhead in room.bulkheads:
        if bulkhead.drop >= height:
            raise EditError(
                f"Bulkhead {bulkhead.id} of {room.name} drops by {{drop}}, to the floor of a room "
                "{height} high; make it less deep first.",
                drop=bulkhead.drop,
                height=height,
            )
    return replace(room, height=height)


def _name(name: str) -> str:
    plain = " ".join(name.split())
    if not plain or not plain.isprintable():
        raise EditError("A room needs a name; type one, e.g. Bedroom.")
    return plain


def _height(name: str, height: float) -> None:
    numbers(f"the height of {name}", height)
    if height < LEAST_ROOM:
        raise EditError(
            f"{name} would be {{height}} high, which is no room; give the height from floor to "
            "ceiling framing.",
            height=height,
        )
