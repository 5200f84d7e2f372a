"""Acts on rooms, walls and openings: drawing, placing, shaping, copying, removing."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.corner_handles import corner_named, corners, handles
from roomboard.app.deleting import delete_act
from roomboard.app.desk import PLAN, Desk
from roomboard.app.gestures.corners import AddCorner, RemoveCorner
from roomboard.app.gestures.dimension import change_dimension
from roomboard.app.gestures.doing import Answer, Ask
from roomboard.app.gestures.gesture import Gesture
from roomboard.app.gestures.lie import held_wall, lies_as_plan, wall_key
from roomboard.app.gestures.new_room import free_name
from roomboard.app.gestures.placing import IN_CEILING, PlaceOpening
from roomboard.app.gestures.pushing import CopyOpenings, PushPart
from roomboard.app.gestures.walls import DrawWalls
from roomboard.app.words import tr
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.editing.rooms import duplicate_room, remove_room, rename_room
from roomboard.core.frame_sizes import framed
from roomboard.core.project import OpeningKind

if TYPE_CHECKING:
    from roomboard.app.window import Window

OPENINGS = (
    (OpeningKind.DOOR, "Door", "D", "Put a door into a wall."),
    (OpeningKind.WINDOW, "Window", "N", "Put a window into a wall."),
    (OpeningKind.OPENING, "Opening", "O", "Put an opening without a door into a wall."),
    (OpeningKind.HATCH, "Hatch", "Shift+H", "Put a hatch into the ceiling."),
    (OpeningKind.LIGHT, "Light", "L", "Put lights into the ceiling, one after the other."),
    (OpeningKind.DUCT, "Duct", "", "Put ducts into the ceiling or a wall."),
)


def acts(window: Window) -> list[Act]:
    """Return the acts of the menus for rooms and for openings."""
    desk = window.desk
    window.canvas.overlays.append(lambda painter, port, inks: handles(desk, painter, port, inks))
    window.canvas.edit_for = change_dimension
    window.canvas.more = corners
    window.canvas.more_named = corner_named
    return [*_rooms(window), *_walls(window), *_openings(window)]


def begin(window: Window, gesture: Callable[[Desk], Gesture], *, plan: bool = False) -> None:
    """Begin a gesture, on a view where it can be done.

    Args:
        window: The window.
        gesture: Makes the gesture.
        plan: Whether it needs a view on which the plan lies.
    """
    desk = window.desk
    if plan and not lies_as_plan(desk):
        desk.show_view(PLAN)
    window.canvas.begin(gesture(desk))


def has_room(window: Window) -> Callable[[], bool]:
    """Return what tells whether a room is shown."""
    return lambda: window.desk.document.project.room(window.desk.room_id) is not None


def _rooms(window: Window) -> list[Act]:
    desk, there = window.desk, has_room(window)

    return [
        Act(
            id="room.draw",
            menu="Room",
            words="Draw walls",
            run=lambda: begin(window, DrawWalls, plan=True),
            keys="W",
            tip="Draw a new room wall by wall: click or press an arrow key, then type each length.",
        ),
        Act(
            id="room.by_size",
            menu="Room",
            words="New room by its size",
            run=lambda: _by_size(window),
            keys="R",
            tip="Type the name, both sides and the height of a room of four walls.",
        ),
        Act(
            id="room.duplicate",
            menu="Room",
            words="Duplicate room",
            run=lambda: _duplicate(desk),
            keys="Ctrl+D",
            tip="Put a second room like this one after it.",
            enabled=there,
            parted=True,
        ),
        Act(
            id="room.mirror",
            menu="Room",
            words="Mirror room",
            run=lambda: _mirror(desk),
            keys="Ctrl+M",
            tip="Swap left and right of the room.",
            enabled=there,
        ),
        Act(
            id="room.turn",
            menu="Room",
            words="Turn room",
            run=lambda: desk.edit_room(tr("Turn room"), lambda room: turn_room(room, -1)),
            keys="Ctrl+T",
            tip="Turn the room in plan by a quarter turn to the right.",
            enabled=there,
        ),
        Act(
            id="room.rename",
            menu="Room",
            words="Rename room",
            run=lambda: _rename(window),
            keys="Ctrl+R",
            tip="Call the room something else.",
            enabled=there,
        ),
        Act(
            id="room.remove",
            menu="Room",
            words="Remove room",
            run=lambda: _remove(desk),
            keys="Ctrl+Shift+Del",
            tip="Take this room out of the project.",
            enabled=there,
        ),
    ]


def _walls(window: Window) -> list[Act]:
    there = has_room(window)
    rows: tuple[tuple[str, str, Callable[[Desk], Gesture], str, str], ...] = (
        ("room.push_part", "Push part of a wall out or in", PushPart, "U", _PUSH),
        ("room.add_corner", "Add a corner", AddCorner, "A", "Part a wall in two by a new corner."),
        (
            "room.remove_corner",
            "Remove a corner",
            RemoveCorner,
            "Shift+A",
            "Take a corner away; the wall on its left goes on to the next corner.",
        ),
    )
    return [
        Act(
            id=name,
            menu="Room",
            words=words,
            run=lambda gesture=gesture: begin(window, gesture, plan=True),  # type: ignore[misc]
            keys=keys,
            tip=tip,
            enabled=there,
            parted=gesture is PushPart,
        )
        for name, words, gesture, keys, tip in rows
    ]


_PUSH = "Make a niche, a chimney breast or an L: two places on a wall, then how deep."


def _openings(window: Window) -> list[Act]:
    desk, there = window.desk, has_room(window)

    def place(kind: OpeningKind) -> Callable[[], None]:
        def run() -> None:
            face = bool(wall_key(desk.view))
            begin(
                window,
                lambda d: PlaceOpening(d, kind),
                plan=not face or (kind in IN_CEILING and not face),
            )

        return run

    found = [
        Act(
            id=f"opening.{kind.value}",
            menu="Openings",
            words=words,
            run=place(kind),
            keys=keys,
            tip=tip,
            enabled=there,
        )
        for kind, words, keys, tip in OPENINGS
    ]
    found += [
        Act(
            id="opening.copy",
            menu="Openings",
            words="Copy openings to another wall",
            run=lambda: begin(window, lambda d: CopyOpenings(d, held_wall(d))),
            keys="Ctrl+Shift+V",
            tip="Copy all openings of the held wall to another one.",
            enabled=lambda: bool(held_wall(desk)),
            parted=True,
        ),
        delete_act(desk),
    ]
    return found


# --- doing them -------------------------------------------------------------------------


def _by_size(window: Window) -> None:
    """Put the cursor into the line under the canvas, with a free name to begin with."""
    window.canvas.drop_gesture()
    window.entry.begin(f"{free_name(window.document.project)}: ")


def _remove(desk: Desk) -> None:
    """Take the room shown out of the project, and say how it comes back."""
    room = desk.document.project.room(desk.room_id)
    if room is None:
        return
    ident = room.id
    if desk.document.attempt(tr("Remove room"), lambda p: remove_room(p, ident)):
        desk.say(tr("{room} is removed; Undo (Ctrl+Z) brings it back.", room=room.name))


def _mirror(desk: Desk) -> None:
    setting = desk.document.setting
    desk.edit_room(tr("Mirror room"), lambda room: mirror_room(room, framed(room, setting)))


def _duplicate(desk: Desk) -> None:
    room = desk.room_id
    before = [r.id for r in desk.document.project.rooms]
    desk.document.attempt(tr("Duplicate room"), lambda p: duplicate_room(p, room))
    made = [r.id for r in desk.document.project.rooms if r.id not in before]
    if made:
        desk.show_room(made[0])


def _rename(window: Window) -> None:
    desk = window.desk
    room = desk.document.project.room(desk.room_id)
    if room is None:
        return
    ident, old = room.id, room.name

    def read(text: str) -> Answer:
        name = text.strip()
        if not name:
            return tr("A room needs a name; type one.")

        def run() -> str:
            desk.document.attempt(
                tr("Rename {old}", old=old), lambda p: rename_room(p, ident, name)
            )
            return ""

        return tr("= this room is called {name}", name=name), run

    window.canvas.begin(Ask(desk, tr("Name of the room:"), read))
    window.entry.begin(old)
    window.entry.line.selectAll()
