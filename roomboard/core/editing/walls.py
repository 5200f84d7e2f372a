"""Corners and walls: moved, stretched, parted, jogged, and what each wall is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.edges import edges_of, is_straight, joined, return_wall
from roomboard.core.editing.refusal import (
    EditError,
    above_nothing,
    bulkhead_words,
    numbers,
    opening_words,
    started,
    wall_index,
    wall_words,
)
from roomboard.core.editing.reshaping import SHORTEST_WALL, Origins, reshaped
from roomboard.core.editing.wall_follows import Line
from roomboard.core.plane import TOLERANCE, snap, snap_point

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.project import AngleFinish, FrameKind, Room, Wall, WallKind


def move_corner(room: Room, index: int, to: Point, *, square: bool = True) -> Room:
    """Move a corner of a room.

    Args:
        room: The room.
        index: Which corner of the outline.
        to: Where it goes, mm.
        square: Whether its two walls keep their directions, so that they move as a whole and
            their neighbours stretch; otherwise they turn about their other ends.

    Raises:
        EditError: If the room would cross itself or something would not fit.
    """
    _corner(room, index)
    numbers("the place of the corner", *to)
    if not square:
        corners = [to if i == index else c for i, c in enumerate(room.outline)]
        return reshaped(room, corners, room.walls, turning=True)
    edges = edges_of(room)
    before, edge = edges[index - 1], edges[index]
    # A corner in a straight wall has nothing to be square to: it slides along as well.
    left = to if is_straight(before, edge) else edge.left
    edges[index - 1] = before.through(to)
    edges[index] = replace(edge.through(to), left=left)
    return reshaped(room, *joined(edges))


def move_wall(room: Room, wall_id: str, outward_mm: float) -> Room:
    """Move a wall square to itself; its neighbours stretch or shrink.

    Args:
        room: The room.
        wall_id: Which wall.
        outward_mm: How far out of the room; less than 0 moves it in.

    Raises:
        EditError: If the room would cross itself or something would not fit.
    """
    index = wall_index(room, wall_id)
    numbers("the distance", outward_mm)
    if not outward_mm:
        return room
    edges = edges_of(room)
    out = edges[index].outward
    edges[index] = edges[index].moved((out[0] * outward_mm, out[1] * outward_mm))
    return reshaped(room, *joined(edges))


def set_wall_length(room: Room, wall_id: str, length: float, *, square: bool = True) -> Room:
    """Give a wall a length: its left end stays, its right-hand neighbour moves.

    Args:
        room: The room.
        wall_id: Which wall.
        length: mm.
        square: Whether the neighbour keeps its direction and moves as a whole; otherwise only
            the corner moves and the neighbour turns.

    Raises:
        EditError: If the room would cross itself or something would not fit.
    """
    index = wall_index(room, wall_id)
    above_nothing(f"the length of {wall_words(room.walls[index])} of {room.name}", length)
    edges = edges_of(room)
    edge = edges[index]
    end = snap_point((edge.left[0] + edge.along[0] * length, edge.left[1] + edge.along[1] * length))
    after = (index + 1) % len(edges)
    if abs(length - room.wall_length(index)) <= TOLERANCE / 10:
        return room
    if not square or is_straight(edge, edges[after]):
        corners = [end if i == after else c for i, c in enumerate(room.outline)]
        return reshaped(room, corners, room.walls, turning=not square)
    edges[after] = edges[after].through(end)
    return reshaped(room, *joined(edges))


def insert_corner(room: Room, wall_id: str, at: float) -> Room:
    """Part a wall in two; the left part keeps the wall's id, the right part is a new wall.

    Args:
        room: The room.
        wall_id: Which wall.
        at: From its left end, mm.

    Raises:
        EditError: If the place is not inside the wall, or in an opening or a bulkhead.
    """
    index = wall_index(room, wall_id)
    wall, length = room.walls[index], room.wall_length(index)
    numbers("the place of the corner", at)
    if not SHORTEST_WALL <= at <= length - SHORTEST_WALL:
        raise EditError(
            f"A corner at {{at}} does not part {wall_words(wall)} of {room.name}, which is "
            "{length} long; give a place between its ends.",
            at=at,
            length=length,
        )
    taken = [(opening_words(o), o.left, o.width) for o in room.openings if o.host == wall_id]
    taken += [(bulkhead_words(b), b.left, b.length) for b in room.bulkheads if b.wall == wall_id]
    for words, left, width in taken:
        if left + TOLERANCE < at < left + width - TOLERANCE:
            raise EditError(
                f"A corner at {{at}} would part the {words} on {wall_words(wall)} of {room.name}; "
                "choose a place beside it, or move it first.",
                at=at,
            )
    part = replace(return_wall(wall, room.walls), studs=wall.studs, stud_first=wall.stud_first)
    corner = snap_point(Line(*room.wall_ends(index)).at(at))
    corners = (*room.outline[: index + 1], corner, *room.outline[index + 1 :])
    walls = (*room.walls[: index + 1], part, *room.walls[index + 1 :])
    return reshaped(
        room,
        corners,
        walls,
        Origins(
            walls={part.id: wall_id},
            openings={
                o.id: part.id
                for o in room.openings
                if o.host == wall_id and o.left >= at - TOLERANCE
            },
            bulkheads={
                b.id: part.id
                for b in room.bulkheads
                if b.wall == wall_id and b.left >= at - TOLERANCE
            },
        ),
    )


def remove_corner(room: Room, index: int) -> Room:
    """Take a corner away; the wall on its left goes on to the next corner.

    What stands on the other wall goes to the one that stays.

    Args:
        room: The room.
        index: Which corner of the outline.

    Raises:
        EditError: If fewer than three corners would be left, or something would not fit.
    """
    _corner(room, index)
    if len(room.outline) <= 3:
        raise EditError(f"{room.name} has three corners, and a room needs that many; keep them.")
    gone, kept = room.walls[index], room.walls[index - 1]
    if kept.studs and gone.studs:
        by = room.wall_length((index - 1) % len(room.walls))
        kept = replace(kept, studs=(*kept.studs, *(snap(s + by) for s in gone.studs)))
    walls = [kept if w.id == kept.id else w for w in room.walls if w.id != gone.id]
    corners = [c for i, c in enumerate(room.outline) if i != index]
    return reshaped(
        room,
        corners,
        walls,
        Origins(
            openings={o.id: kept.id for o in room.openings if o.host == gone.id},
            bulkheads={b.id: kept.id for b in room.bulkheads if b.wall == gone.id},
        ),
        turning=True,
    )


def jog(room: Room, wall_id: str, from_mm: float, to_mm: float, outward_mm: float) -> Room:
    """Push a part of a wall out or in: a niche, a chimney breast, an L or a T.

    Part of the wall between two places moves square to the wall, with a return wall at either
    end; where it reaches an end of the wall, the neighbour stretches instead. The leftmost part
    keeps the wall's id.

    Args:
        room: The room.
        wall_id: Which wall.
        from_mm: Where the part begins, from the wall's left end, mm.
        to_mm: Where it ends.
        outward_mm: How far out of the room; less than 0 moves it in.

    Raises:
        EditError: If the part is not on the wall, or something would not fit.
    """
    index = wall_index(room, wall_id)
    wall, length = room.walls[index], room.wall_length(index)
    numbers("the place of the part", from_mm, to_mm, outward_mm)
    low, high = sorted((from_mm, to_mm))
    if low < -TOLERANCE or high > length + TOLERANCE or high - low < SHORTEST_WALL:
        raise EditError(
            f"From {{low}} to {{high}} is no part of {wall_words(wall)} of {room.name}, which is "
            "{length} long; give two places on it.",
            low=low,
            high=high,
            length=length,
        )
    if abs(outward_mm) < SHORTEST_WALL:
        raise EditError(
            f"{started(wall_words(wall))} of {room.name} would have a jog of no depth; "
            "say how far out or in it goes."
        )
    part = wall_id
    if high < length - SHORTEST_WALL:
        room = insert_corner(room, wall_id, high)
    if low > SHORTEST_WALL:
        room = insert_corner(room, wall_id, low)
        part = room.walls[index + 1].id
    return move_wall(room, part, outward_mm)


def set_wall(
    room: Room,
    wall_id: str,
    *,
    kind: WallKind | None = None,
    lined: bool | None = None,
    board: str | None = None,
    frame: FrameKind | None = None,
    angle: AngleFinish | None = None,
    skirting: bool | None = None,
) -> Room:
    """Say what a wall is; what is left out stays as it is.

    Args:
        room: The room.
        wall_id: Which wall.
        kind: Whether a wall stands there at all.
        lined: Whether this job lines it.
        board: Board id, or empty for the project's wall board.
        frame: Timber or steel.
        angle: What finishes the angle with the ceiling.
        skirting: Whether a skirting covers its foot.

    Raises:
        EditError: If there is no such wall.
    """
    wall = room.walls[wall_index(room, wall_id)]
    wall = replace(
        wall,
        kind=wall.kind if kind is None else kind,
        lined=wall.lined if lined is None else lined,
        board=wall.board if board is None else board,
        frame=wall.frame if frame is None else frame,
        angle=wall.angle if angle is None else angle,
        skirting=wall.skirting if skirting is None else skirting,
    )
    return put_wall(room, wall)


def rename_wall(room: Room, wall_id: str, name: str) -> Room:
    """Give a wall another letter on the drawings; its id stays.

    Raises:
        EditError: If there is no such wall, or the letter is taken or empty.
    """
    wall = room.walls[wall_index(room, wall_id)]
    name = name.strip()
    if not name or not name.isprintable():
        raise EditError(f"{started(wall_words(wall))} of {room.name} needs a letter; type one.")
    if any(w.name == name for w in room.walls if w.id != wall_id):
        raise EditError(f"{room.name} has a wall {name} already; type another letter.")
    return put_wall(room, replace(wall, name=name))


def put_wall(room: Room, wall: Wall) -> Room:
    """Return the room with a wall as it is now, in its old place."""
    return replace(room, walls=tuple(wall if w.id == wall.id else w for w in room.walls))


def _corner(room: Room, index: int) -> None:
    if not 0 <= index < len(room.outline):
        raise EditError(
            f"{room.name} has {len(room.outline)} corners and none numbered {index + 1}; "
            "choose one that is drawn."
        )
