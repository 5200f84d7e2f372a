"""Adding a new room: its name, its height, and what is shown then."""

from __future__ import annotations

from collections.abc import Callable

from roomboard.app.desk import Desk
from roomboard.app.reading import usual_height
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.rooms import add_room
from roomboard.core.project import Project, Room
from roomboard.core.units import Length, read_length

Make = Callable[[str, float, list[str]], Room]
"""Makes a room of a name, a height and the ids that are taken; may refuse."""


def free_name(project: Project) -> str:
    """Return a name for a new room that no other has.

    Args:
        project: The project.
    """
    names = {r.name for r in project.rooms}
    number = len(names) + 1
    while tr("Room {number}", number=number) in names:
        number += 1
    return tr("Room {number}", number=number)


def new_room(desk: Desk, make: Make) -> Room | str:
    """Return a new room with a free name and the usual height, or why there is none.

    Args:
        desk: The desk.
        make: Makes the room.
    """
    project = desk.document.project
    height = read_length(usual_height(project), project.units)
    if not isinstance(height, Length):
        return height.sentence
    try:
        return make(free_name(project), height.mm, [r.id for r in project.rooms])
    except EditError as refusal:
        return refusal.said(project.units)


def show_new_room(desk: Desk, room: Room) -> None:
    """Add a room to the project as one step of undoing, and show it.

    Args:
        desk: The desk.
        room: The room.
    """
    document = desk.document
    document.attempt(tr("Draw {name}", name=room.name), lambda p: add_room(p, room))
    desk.show_room(document.project.rooms[-1].id)
