"""Moving what is held by the keys: a little with Shift, more with Ctrl and Shift."""

from __future__ import annotations

from collections.abc import Callable

from roomboard.app.acts import Act
from roomboard.app.desk import BELOW, Desk
from roomboard.app.figures.things import box_of
from roomboard.app.gestures.drag_framing import MemberDrag
from roomboard.app.gestures.lie import (
    COARSE,
    FINE,
    held_opening,
    lies_as_plan,
    member_of,
    wall_key,
)
from roomboard.app.words import tr
from roomboard.core.editing.bulkheads import set_bulkhead
from roomboard.core.editing.ceiling_openings import middle, move_ceiling_opening
from roomboard.core.editing.columns import box_of_column, move_column
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.openings import move_opening
from roomboard.core.editing.refusal import CEILING, wall_index
from roomboard.core.editing.walls import move_corner, move_wall
from roomboard.core.framing import low_side_normal
from roomboard.core.plane import Point
from roomboard.core.project import Column, Opening, Room

WAYS: tuple[tuple[str, str, Point], ...] = (
    ("left", "Left", (-1.0, 0.0)),
    ("right", "Right", (1.0, 0.0)),
    ("up", "Up", (0.0, 1.0)),
    ("down", "Down", (0.0, -1.0)),
)

WALL_LAYERS = frozenset({"wall", "no_wall"})
NEAR = "Move the held opening, wall, corner, box, joist, stud or nogging by 1 mm, or 1/16 inch."
FARTHER = "Move the held opening, wall, corner, box, joist, stud or nogging by 10 mm, or 1/2 inch."

RoomEdit = Callable[[Room], Room]


def nudges(desk: Desk) -> list[Act]:
    """Return the acts that move what is held, in the four ways of the canvas.

    Args:
        desk: The desk.
    """

    def run(way: Point, *, far: bool) -> Callable[[], None]:
        return lambda: nudge(desk, way, far=far)

    def movable() -> bool:
        return edit_for(desk, (1.0, 0.0)) is not None or edit_for(desk, (0.0, 1.0)) is not None

    return [
        Act(
            id=f"nudge.{name}{'.far' if far else ''}",
            menu="Framing/Move what is held",
            words=tr("{way}, farther", way=name.capitalize()) if far else name.capitalize(),
            run=run(way, far=far),
            keys=f"Ctrl+Shift+{key}" if far else f"Shift+{key}",
            tip=FARTHER if far else NEAR,
            enabled=movable,
            parted=far and name == "left",
            on_drawing=True,
        )
        for far in (False, True)
        for name, key, way in WAYS
    ]


def nudge(desk: Desk, way: Point, *, far: bool = False) -> None:
    """Move what is held by one step; steps of the same thing make one step of undoing.

    Args:
        desk: The desk.
        way: Unit vector on the canvas, right and up.
        far: Whether by a long step.
    """
    step = (COARSE if far else FINE)[desk.document.project.units]
    across = -step if desk.view == BELOW else step  # left and right are swapped there
    change = edit_for(desk, (way[0] * across, way[1] * step))
    held = desk.held
    if change is None or held is None:
        desk.say(tr("What is held cannot be moved that way."))
        return
    merge = f"nudge {held.kind} {held.ref} {held.surface}"
    desk.edit_room(tr("Move what is held"), change, merge)


def edit_for(desk: Desk, by: Point) -> RoomEdit | None:
    """Return the edit that moves what is held, or None where it cannot be moved that way.

    Args:
        desk: The desk.
        by: How far to the right and up on the canvas, mm.
    """
    room, held = desk.document.project.room(desk.room_id), desk.held
    if room is None or held is None:
        return None
    opening = held_opening(room, held)
    if opening is not None:
        return _opening(desk, room, opening, by)
    if held.kind == "corner" and held.ref.isdigit():
        index = int(held.ref)
        if index >= len(room.outline):
            return None
        x, y = room.outline[index]
        return lambda r: move_corner(r, index, (x + by[0], y + by[1]))
    box = _box(desk, room, by)
    if box is not None:
        return box
    wall = _wall_held(desk, room)
    if wall:
        edge = edges_of(room)[wall_index(room, wall)]
        out = by[0] * edge.outward[0] + by[1] * edge.outward[1]
        return (lambda r: move_wall(r, wall, out)) if abs(out) > abs(by[0] + by[1]) / 2 else None
    return _member(desk, room, by)


def _box(desk: Desk, room: Room, by: Point) -> RoomEdit | None:
    """Return the edit that moves the held column, or the held bulkhead along its wall."""
    held = desk.held
    if held is None or not lies_as_plan(desk):
        return None
    box = box_of(room, held.ref)
    if box is None:
        return None
    ident = box.id
    if isinstance(box, Column):
        x, y, _, _ = box_of_column(room, box)
        return lambda r: move_column(r, ident, x + by[0], y + by[1])
    edge = edges_of(room)[wall_index(room, box.wall)]
    along = by[0] * edge.along[0] + by[1] * edge.along[1]
    left = box.left + along
    if abs(along) < abs(by[0] + by[1]) / 2:
        return None
    return lambda r: set_bulkhead(r, ident, sizes={"left": left})


def _wall_held(desk: Desk, room: Room) -> str:
    """Return the wall that is held where it can be moved in plan: its line, face or letter."""
    held = desk.held
    if held is None or not lies_as_plan(desk):
        return ""
    names = {"surface": held.surface or held.ref, "lettering": f"wall:{held.ref}"}
    wall = wall_key(names.get(held.kind, f"wall:{held.ref}" if held.kind in WALL_LAYERS else ""))
    return wall if room.wall(wall) is not None else ""


def _on_face(desk: Desk, room: Room, wall: str, by: Point) -> Point:
    """Return a move on the canvas as it is on a wall: along it, and up."""
    if desk.view == f"wall:{wall}":
        return by
    edge = edges_of(room)[wall_index(room, wall)]
    # Opened out, a wall stands on its own edge with the floor outermost.
    along = by[0] * edge.along[0] + by[1] * edge.along[1]
    up = -(by[0] * edge.outward[0] + by[1] * edge.outward[1])
    return along, up


def _opening(desk: Desk, room: Room, opening: Opening, by: Point) -> RoomEdit | None:
    ident = opening.id
    if opening.host == CEILING:
        x, y = middle(opening)
        return lambda r: move_ceiling_opening(r, ident, (x + by[0], y + by[1]))
    along, up = _on_face(desk, room, opening.host, by)
    if abs(along) >= abs(up):
        left = opening.left + along
        return lambda r: move_opening(r, ident, left, keep_in=True)
    if desk.view in {"plan", "ceiling"}:
        return None
    bottom = opening.bottom + up
    return lambda r: move_opening(r, ident, opening.left, bottom, keep_in=True)


def _member(desk: Desk, room: Room, by: Point) -> RoomEdit | None:
    held = desk.held
    member = member_of(desk, held.surface, held.ref) if held is not None else None
    if member is None:
        return None
    if member.kind == "joist":
        nx, ny = low_side_normal(member.zone.direction_deg if member.zone is not None else 0.0)
        step = by[0] * nx + by[1] * ny
    else:
        along, up = _on_face(desk, room, member.host, by)
        step = along if member.kind == "stud" else up
    drag = MemberDrag(desk, member)
    places = drag.places(room)
    if abs(step) < (abs(by[0]) + abs(by[1])) / 2 or member.index >= len(places):
        return None
    return drag.change(room, places[member.index] + step)
