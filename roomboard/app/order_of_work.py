"""Acts on the list of rooms: going from one to the next, and their order of work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.desk import Desk
from roomboard.app.words import tr
from roomboard.core.editing.rooms import reorder_room

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts on the list of rooms."""
    desk = window.desk

    def several() -> bool:
        return len(desk.document.project.rooms) > 1

    return [
        Act(
            id="room.next",
            menu="Room",
            words="Next room",
            run=lambda: _show(desk, 1),
            keys="PgDown",
            tip="Show the next room of the list.",
            enabled=several,
            parted=True,
        ),
        Act(
            id="room.last",
            menu="Room",
            words="Room before",
            run=lambda: _show(desk, -1),
            keys="PgUp",
            tip="Show the room before in the list.",
            enabled=several,
        ),
        Act(
            id="room.earlier",
            menu="Room",
            words="Work on it earlier",
            run=lambda: _move(desk, -1),
            keys="Alt+Up",
            tip="Move the room up in the order of work.",
            enabled=lambda: _place(desk) > 0,
        ),
        Act(
            id="room.later",
            menu="Room",
            words="Work on it later",
            run=lambda: _move(desk, 1),
            keys="Alt+Down",
            tip="Move the room down in the order of work.",
            enabled=lambda: 0 <= _place(desk) < len(desk.document.project.rooms) - 1,
        ),
    ]


def _place(desk: Desk) -> int:
    """Return which place the room shown has, from 0; -1 where there is none."""
    ids = [r.id for r in desk.document.project.rooms]
    return ids.index(desk.room_id) if desk.room_id in ids else -1


def _show(desk: Desk, step: int) -> None:
    rooms = desk.document.project.rooms
    if rooms:
        desk.show_room(rooms[(_place(desk) + step) % len(rooms)].id)


def _move(desk: Desk, step: int) -> None:
    room = desk.room
    place = _place(desk) + step
    if room is not None and 0 <= place < len(desk.document.project.rooms):
        words = tr("Change the order of work: {room}", room=room.name)
        desk.document.attempt(words, lambda p: reorder_room(p, room.id, place))
