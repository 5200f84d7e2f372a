"""What the user chooses surface by surface, and everything back to automatic."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import CEILING, EditError, above_nothing, numbers
from roomboard.core.layers import SECOND
from roomboard.core.plane import same, snap
from roomboard.core.project import AtChange, Room, SheetDirection, Start, SurfaceChoice

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from roomboard.core.sheeting import Butt, Piece

ONE_PLACE = 1.0
"""Butts of one course nearer to each other than this many mm are the same butt."""


def surface_key(room: Room, key: str) -> str:
    """Return the key that the choice for a surface is kept under.

    A surface in several parts has one choice for all of them.

    Args:
        room: The room.
        key: ``"ceiling"``, ``"wall:<id>"``, ``"bulkhead:<id>:<part>"``, ``"column:<id>:<side>"``,
            ``"reveal:..."``, ``"ceiling:<part>"``, ``"step:<part>:<number>"``.

    Raises:
        EditError: If the room has no such surface.
    """
    base = key.partition(".")[0]
    kind, _, rest = base.partition(":")
    item = rest.partition(":")[0]
    known = (
        base == CEILING
        or (kind == "wall" and room.wall(rest) is not None)
        or (kind == "bulkhead" and any(b.id == item for b in room.bulkheads))
        or (kind == "column" and any(c.id == item for c in room.columns))
        or (kind == "reveal" and room.wall(item) is not None)
        or (kind == CEILING and any(p.id == rest for p in room.ceiling_parts))
        or (kind == "step" and bool(room.ceiling_parts))
    )
    if not known:
        raise EditError(f"{room.name} has no surface “{key}”; choose its ceiling or a wall.")
    return base


def put_choice(room: Room, choice: SurfaceChoice) -> Room:
    """Return the room with a choice for a surface; one with nothing chosen is left out.

    Where a search chose for the surface before, what is changed now is the user's own.
    """
    before = room.choice(choice.surface)
    if before.own is not None and choice.own == before.own:
        choice = replace(choice, own=_own_of(before.own, before, choice))
    if choice.own is not None and choice.own == replace(choice, own=None):
        choice = choice.own
    others = {c.surface: c for c in room.choices}
    if choice == SurfaceChoice(surface=choice.surface):
        kept = tuple(c for c in room.choices if c.surface != choice.surface)
    elif choice.surface in others:
        kept = tuple(choice if c.surface == choice.surface else c for c in room.choices)
    else:
        kept = (*room.choices, choice)
    return replace(room, choices=kept)


def _own_of(own: SurfaceChoice, was: SurfaceChoice, now: SurfaceChoice) -> SurfaceChoice:
    """Return what the user chose for a surface once a choice has been changed."""
    given: dict[str, object] = {
        name: getattr(now, name)
        for name in ("direction", "start", "at_change", "widths", "controls")
        if getattr(now, name) != getattr(was, name)
    }
    butts = {*own.butts} - ({*was.butts} - {*now.butts}) | ({*now.butts} - {*was.butts})
    first = {*own.first_course} - ({*was.first_course} - {*now.first_course})
    first |= {*now.first_course} - {*was.first_course}
    made = replace(own, **given, butts=tuple(sorted(butts)), first_course=tuple(sorted(first)))  # type: ignore[arg-type]
    if butts - {*own.butts} or first - {*own.first_course}:
        made = _laid_alike(made, now)
    return made


def _laid_alike(own: SurfaceChoice, now: SurfaceChoice) -> SurfaceChoice:
    """Keep the courses that locks are counted by."""
    return replace(own, direction=now.direction, start=now.start, at_change=now.at_change)


def set_direction(room: Room, key: str, direction: SheetDirection) -> Room:
    """Choose which way the sheets of a surface run; its locks were for the other way and go.

    Raises:
        EditError: If the room has no such surface.
    """
    choice = room.choice(surface_key(room, key))
    if choice.direction is direction:
        return room
    return put_choice(room, replace(choice, direction=direction, butts=(), first_course=()))


def set_start(room: Room, key: str, start: Start) -> Room:
    """Choose from which side the courses of a surface are set out.

    Locked butts are kept by the number of their course, and a first course by its side, so
    both go.

    Raises:
        EditError: If the room has no such surface.
    """
    choice = room.choice(surface_key(room, key))
    if choice.start is start:
        return room
    return put_choice(room, replace(choice, start=start, butts=(), first_course=()))


def set_at_change(room: Room, key: str, at_change: AtChange) -> Room:
    """Choose what the sheets of a surface do where the joists change direction; locks go.

    Raises:
        EditError: If the room has no such surface.
    """
    choice = room.choice(surface_key(room, key))
    if choice.at_change is at_change:
        return room
    return put_choice(room, replace(choice, at_change=at_change, butts=(), first_course=()))


def set_widths(room: Room, key: str, widths: Iterable[float]) -> Room:
    """Choose the sheet widths in use on a surface, mm; none for any.

    Raises:
        EditError: If the room has no such surface, or a width is none.
    """
    choice = room.choice(surface_key(room, key))
    chosen = tuple(sorted({float(w) for w in widths}))
    if chosen:
        above_nothing("a sheet width", *chosen)
    return put_choice(room, replace(choice, widths=chosen))


def lock_butt(room: Room, key: str, field: int, course: int, s: float) -> Room:
    """Lock a butt joint where it is.

    Args:
        room: The room.
        key: Which surface.
        field: Number of the field in the surface, from 0.
        course: Number of the course in the field, from 1.
        s: Place along the course in the field's frame, mm.

    Raises:
        EditError: If the room has no such surface, or the place is none.
    """
    _of_first(key)
    choice = room.choice(surface_key(room, key))
    _place(field, course, s)
    own = choice.own and _laid_alike(_with_butt(choice.own, field, course, s), choice)
    return put_choice(room, replace(_with_butt(choice, field, course, s), own=own))


def unlock_butt(room: Room, key: str, field: int, course: int, s: float) -> Room:
    """Let a locked butt joint go where it may; nothing happens if it is not locked.

    Args:
        room: The room.
        key: Which surface.
        field: Number of the field in the surface, from 0.
        course: Number of the course in the field, from 1.
        s: Place along the course in the field's frame, mm.

    Raises:
        EditError: If the room has no such surface.
    """
    choice = room.choice(surface_key(room, key))
    return put_choice(room, replace(choice, butts=_without(choice.butts, field, course, s)))


def move_butt(room: Room, key: str, field: int, course: int, places: tuple[float, float]) -> Room:
    """Put a butt joint in another place and lock it there.

    Args:
        room: The room.
        key: Which surface.
        field: Number of the field in the surface, from 0.
        course: Number of the course in the field, from 1.
        places: From where to where along the course, mm.

    Raises:
        EditError: If the room has no such surface, or the place is none.
    """
    was, now = places
    return lock_butt(unlock_butt(room, key, field, course, was), key, field, course, now)


def _of_first(key: str) -> None:
    """Let only joints of a first layer through: those of a second keep off them by themselves.

    Raises:
        EditError: If the face is a second layer.
    """
    if key.endswith(SECOND):
        raise EditError(
            "Joints of a second layer cannot be locked: they are set out to keep off those of the "
            "first; lock or move a joint of the first layer."
        )


def _place(field: int, course: int, s: float) -> None:
    numbers("the place of the butt joint", s)
    if field < 0 or course < 1:
        raise EditError(f"There is no course {course} in field {field}; choose one that is drawn.")


def _without(
    butts: tuple[tuple[int, int, float], ...], field: int, course: int, s: float
) -> tuple[tuple[int, int, float], ...]:
    return tuple(b for b in butts if b[:2] != (field, course) or not same(b[2], s, ONE_PLACE))


def _with_butt(choice: SurfaceChoice, field: int, course: int, s: float) -> SurfaceChoice:
    butts = {*_without(choice.butts, field, course, s), (field, course, s)}
    return replace(choice, butts=tuple(sorted(butts)))


def ends_of(piece: Piece, butts: Sequence[Butt]) -> tuple[float, ...]:
    """Return the places of the butt joints at the ends of a piece; none where it ends at a side.

    Args:
        piece: The piece.
        butts: The butts of its surface's set-out.
    """
    s0, t0, s1, t1 = piece.blank
    own = {
        b.s
        for b in butts
        if (b.field, b.course) == (piece.field, piece.course)
        and min(b.t1, t1) > max(b.t0, t0)
        and (same(b.s, s0, ONE_PLACE) or same(b.s, s1, ONE_PLACE))
    }
    return tuple(sorted(own))


def lock_piece(room: Room, key: str, piece: Piece, butts: Sequence[Butt]) -> Room:
    """Lock a piece where it is: the butt joints at both its ends.

    Args:
        room: The room.
        key: Which surface.
        piece: The piece.
        butts: The butts of its surface's set-out.

    Raises:
        EditError: If the room has no such surface, or no butt joint ends the piece.
    """
    ends = ends_of(piece, butts)
    if not ends:
        raise EditError(
            f"Piece {piece.mark} runs from side to side and has no butt joint to lock; lock the "
            "width of the first course instead."
        )
    for s in ends:
        room = lock_butt(room, key, piece.field, piece.course, s)
    return room


def unlock_piece(room: Room, key: str, piece: Piece, butts: Sequence[Butt]) -> Room:
    """Let the butt joints at both ends of a piece go where they may.

    Raises:
        EditError: If the room has no such surface.
    """
    for s in ends_of(piece, butts):
        room = unlock_butt(room, key, piece.field, piece.course, s)
    return room


def set_first_course(room: Room, key: str, field: int, width: float | None) -> Room:
    """Choose the width of the first course of a field, counted from its start side.

    Args:
        room: The room.
        key: Which surface.
        field: Number of the field in the surface, from 0.
        width: mm; None for automatic.

    Raises:
        EditError: If the room has no such surface, or the width is none.
    """
    _of_first(key)
    choice = room.choice(surface_key(room, key))
    if width is not None:
        above_nothing("the width of the first course", width)
        _place(field, 1, width)
    own = choice.own and _with_first(choice.own, field, width)
    if own is not None and width is not None:
        own = _laid_alike(own, choice)
    return put_choice(room, replace(_with_first(choice, field, width), own=own))


def _with_first(choice: SurfaceChoice, field: int, width: float | None) -> SurfaceChoice:
    kept = [c for c in choice.first_course if c[0] != field]
    if width is not None:
        kept.append((field, snap(width)))
    return replace(choice, first_course=tuple(sorted(kept)))


def automatic(room: Room, key: str | None = None) -> Room:
    """Put everything chosen for a surface, or for the whole room, back to automatic.

    Args:
        room: The room.
        key: Which surface; None for all.

    Raises:
        EditError: If the room has no such surface.
    """
    if key is None:
        return replace(room, choices=())
    return put_choice(room, SurfaceChoice(surface=surface_key(room, key)))
