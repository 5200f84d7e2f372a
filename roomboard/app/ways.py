"""Acts that choose how the sheets of a face go: which way, from which side."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.desk import Desk
from roomboard.app.document import Document
from roomboard.app.examples import in_units
from roomboard.app.spots import face_in_hand
from roomboard.app.words import tr
from roomboard.core.editing.choices import (
    automatic,
    put_choice,
    set_at_change,
    set_direction,
    set_start,
)
from roomboard.core.editing.jobs import all_automatic
from roomboard.core.project import AtChange, SheetDirection, Start
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.ways import Way, start_side, way_in_words

if TYPE_CHECKING:
    from roomboard.app.window import Window

AT_CHANGES = (
    (AtChange.TURN, "Turn the sheets with them", "The sheets turn where the joists turn."),
    (AtChange.BATTEN, "Run on over battens", "All sheets one way; battens go under the rest."),
    (AtChange.CARRY, "Run on without battens", "All sheets one way with no battens; reported."),
)
NO_FACE = "There is no lined face yet; draw a room, or type its size such as 3580 x 3040."


# --- one face ---------------------------------------------------------------------------


def _face(desk: Desk) -> SurfaceScheme | None:
    face = face_in_hand(desk)
    if face is None:
        desk.say(in_units(tr(NO_FACE), desk.document.project.units))
    return face


def turn_sheets(desk: Desk) -> bool:
    """Run the sheets of the face in hand the other way; tell whether anything changed."""
    face = _face(desk)
    if face is None or not face.set_out.fields:
        return False
    across = face.set_out.fields[0].across
    way = SheetDirection.ALONG if across else SheetDirection.ACROSS
    name = face.surface.name
    return desk.edit_room(
        tr("Run the sheets of {face} the other way", face=name),
        lambda room: set_direction(room, face.surface.key, way),
    )


def swap_start(desk: Desk) -> bool:
    """Start the courses of the face in hand from the other side."""
    face = _face(desk)
    if face is None or not face.set_out.fields:
        return False
    side = start_side(face.set_out, face.set_out.fields[0].number)
    other = Start.LOW if side is Start.HIGH else Start.HIGH
    return desk.edit_room(
        tr("Start the courses of {face} from the other side", face=face.surface.name),
        lambda room: set_start(room, face.surface.key, other),
    )


def _joists_change(desk: Desk) -> bool:
    face = face_in_hand(desk)
    return face is not None and len(face.surface.directions) > 1


def put_at_change(desk: Desk, at_change: AtChange) -> bool:
    """Choose what the sheets of the face in hand do where the joists change direction."""
    face = _face(desk)
    if face is None:
        return False
    return desk.edit_room(
        tr("Change what {face} does where the joists change", face=face.surface.name),
        lambda room: set_at_change(room, face.surface.key, at_change),
    )


def _is_at_change(desk: Desk, at_change: AtChange) -> bool:
    face = face_in_hand(desk)
    if face is None or not _joists_change(desk):
        return False
    chosen = desk.choice(face.surface.key.partition(".")[0]).at_change
    return (AtChange.TURN if chosen is AtChange.AUTO else chosen) is at_change


def adopt_way(document: Document, room: str, way: Way) -> bool:
    """Run the sheets of a face as one of its ways says.

    Args:
        document: The document.
        room: Id of the face's room.
        way: The way.
    """
    return document.edit_room(
        tr("Use {way}", way=tr(way_in_words(way))), room, lambda r: put_choice(r, way.choice)
    )


def which_acts(window: Window) -> list[Act]:
    """Return the acts that choose which way the sheets of the face in hand run."""
    desk = window.desk

    def has_face() -> bool:
        return face_in_hand(desk) is not None

    def change(which: AtChange) -> Callable[[], object]:
        return lambda: put_at_change(desk, which)

    def is_change(which: AtChange) -> Callable[[], bool]:
        return lambda: _is_at_change(desk, which)

    found = [
        Act(
            id="sheets.which_way",
            menu="Sheets",
            words="Which way?",
            run=lambda: show_ways(window),
            keys="Q",
            tip="Every way the sheets of this face could run, side by side, with their figures.",
            enabled=has_face,
        ),
        Act(
            id="sheets.other_way",
            menu="Sheets",
            words="Run the sheets the other way",
            run=lambda: turn_sheets(desk),
            keys="X",
            tip="Across the framing instead of along it, or the other way round.",
            enabled=has_face,
        ),
        Act(
            id="sheets.other_side",
            menu="Sheets",
            words="Start courses from the other side",
            run=lambda: swap_start(desk),
            keys="B",
            tip="Full sheets begin at the opposite side and the rip comes to this one.",
            enabled=has_face,
        ),
    ]
    found += [
        Act(
            id=f"sheets.at_change.{which.value}",
            menu="Sheets/Where the joists change direction",
            words=words,
            run=change(which),
            tip=tip,
            checked=is_change(which),
            enabled=lambda: _joists_change(desk),
        )
        for which, words, tip in AT_CHANGES
    ]
    return found


def show_ways(window: Window) -> None:
    """Open the panel with every way the face in hand could be sheeted."""
    from roomboard.app.dialogs.which_way import WhichWay

    panel = window.findChild(WhichWay) or WhichWay(window)
    panel.open_for_face()


# --- back to automatic ------------------------------------------------------------------


def free_face(desk: Desk) -> bool:
    """Put everything chosen for the face in hand back to automatic."""
    face = _face(desk)
    if face is None:
        return False
    return desk.edit_room(
        tr("Back to automatic: {face}", face=face.surface.name),
        lambda room: automatic(room, face.surface.key),
    )


def free_room(desk: Desk) -> bool:
    """Put everything chosen for the faces of the room back to automatic."""
    room = desk.room
    name = room.name if room is not None else ""
    return desk.edit_room(tr("Back to automatic: {room}", room=name), automatic)


def free_job(desk: Desk) -> bool:
    """Put everything chosen for the faces of all rooms back to automatic."""
    return desk.document.attempt(tr("Back to automatic: whole job"), all_automatic)


def automatic_acts(window: Window) -> list[Act]:
    """Return the acts that give back what was chosen and locked."""
    desk = window.desk
    menu = "Sheets/Back to automatic"

    def room_has() -> bool:
        return desk.room is not None and bool(desk.room.choices)

    def face_has() -> bool:
        face = face_in_hand(desk)
        key = face.surface.key.partition(".")[0] if face is not None else ""
        return any(c.surface == key for c in (desk.room.choices if desk.room else ()))

    return [
        Act(
            id="sheets.automatic.face",
            menu=menu,
            words="This face",
            run=lambda: free_face(desk),
            keys="Ctrl+Backspace",
            tip="Directions, start sides and locks of this face are chosen anew.",
            enabled=face_has,
        ),
        Act(
            id="sheets.automatic.room",
            menu=menu,
            words="This room",
            run=lambda: free_room(desk),
            tip="Directions, start sides and locks of every face of the room are chosen anew.",
            enabled=room_has,
        ),
        Act(
            id="sheets.automatic.job",
            menu=menu,
            words="Whole job",
            run=lambda: free_job(desk),
            tip="Directions, start sides and locks of every room are chosen anew.",
            enabled=lambda: any(r.choices for r in desk.document.project.rooms),
        ),
    ]
