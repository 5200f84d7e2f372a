"""The act that takes away what is held."""

from __future__ import annotations

from roomboard.app.acts import Act
from roomboard.app.desk import Desk
from roomboard.app.document import with_room
from roomboard.app.figures.things import BULKHEAD, COLUMN, Thing, thing_of
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.lie import held_opening, member_of
from roomboard.app.gestures.removing import removal_of
from roomboard.app.words import tr
from roomboard.core.editing.bulkheads import remove_bulkhead
from roomboard.core.editing.columns import remove_column
from roomboard.core.editing.openings import remove_opening


def delete_act(desk: Desk) -> Act:
    """Return the act that takes away what is held.

    Args:
        desk: The desk.
    """
    return Act(
        id="held.delete",
        menu="Edit",
        words="Delete what is held",
        run=lambda: delete(desk),
        keys="Del",
        tip="Take away the opening, bulkhead, column, joist, stud or nogging that is held.",
        enabled=lambda: _removal(desk) is not None,
        parted=True,
        on_drawing=True,
    )


def _removal(desk: Desk) -> tuple[str, RoomEdit] | None:
    """Return the words and the edit that take away what is held, or None."""
    held = desk.held
    if held is None:
        return None
    opening = held_opening(desk.room, held)
    if opening is not None:
        ident = opening.id
        return tr("Remove an opening"), lambda r: remove_opening(r, ident)
    box = _held_box(desk)
    if box is not None and box.kind == BULKHEAD:
        return tr("Remove a bulkhead"), lambda r: remove_bulkhead(r, box.ref)
    if box is not None:
        return tr("Remove a column"), lambda r: remove_column(r, box.ref)
    member = member_of(desk, held.surface, held.ref)
    if member is None:
        return None
    return tr("Remove a {kind}", kind=tr(member.kind)), removal_of(member)


def _held_box(desk: Desk) -> Thing | None:
    """Return the bulkhead or column that is held, or None."""
    thing = thing_of(desk, desk.held) if desk.held is not None else None
    return thing if thing is not None and thing.kind in {BULKHEAD, COLUMN} else None


def delete(desk: Desk) -> None:
    """Take away what is held.

    Args:
        desk: The desk.
    """
    found = _removal(desk)
    if found is None:
        return
    words, change = found
    room = desk.room_id
    if desk.document.attempt(words, lambda p: with_room(p, room, change)):
        desk.hold(None)
