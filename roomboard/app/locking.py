"""Locks on the desk: a joint, a course line or a piece stays where it is, or is let go."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.spots import Spot, held_piece, held_spot
from roomboard.app.tracks import is_locked, track_of, with_start
from roomboard.app.words import tr
from roomboard.core.editing.choices import (
    ends_of,
    lock_butt,
    lock_piece,
    set_first_course,
    unlock_piece,
)
from roomboard.core.project import Room


def lock_held(desk: Desk) -> bool:
    """Lock the joint or the piece that is held where it is; tell whether anything changed."""
    spot = held_spot(desk)
    if spot is not None:
        return _lock_joint(desk, spot)
    found = held_piece(desk)
    if found is None:
        desk.say(tr("Take hold of a butt joint, a course line or a piece first, then lock it."))
        return False
    scheme, piece = found
    key, butts = scheme.surface.key, scheme.set_out.butts
    done = desk.edit_room(
        tr("Lock piece {mark}", mark=piece.mark),
        lambda room: lock_piece(with_start(room, scheme), key, piece, butts),
    )
    if done:
        desk.say(tr("Piece {mark} is locked where it is.", mark=piece.mark))
    return done


def _lock_joint(desk: Desk, spot: Spot) -> bool:
    scheme, track = desk.surface_scheme(spot.surface), track_of(desk, spot)
    if scheme is None or track is None:
        return False
    key = scheme.surface.key
    here = track.here

    def edit(room: Room) -> Room:
        room = with_start(room, scheme)
        if spot.butt:
            return lock_butt(room, key, spot.field, spot.course, spot.at)
        lines = [x for x in scheme.set_out.start if x[0] == spot.field]
        width = here.value if here is not None else lines[0][3]
        return set_first_course(room, key, spot.field, width)

    done = desk.edit_room(tr("Lock {name}", name=track.name), edit)
    if done:
        desk.say(tr("{name} is locked where it is.", name=track.name))
    return done


def unlock_held(desk: Desk) -> bool:
    """Take the lock off what is held; tell whether anything changed."""
    spot = held_spot(desk)
    track = track_of(desk, spot) if spot is not None else None
    if spot is not None and track is not None:
        words = tr("Unlock {name}", name=track.name)
        done = desk.document.attempt(words, track.free)
        if done:
            desk.say(tr("{name} goes where the set-out puts it.", name=track.name))
        return done
    found = held_piece(desk)
    if found is None:
        return False
    scheme, piece = found
    key, butts = scheme.surface.key, scheme.set_out.butts
    return desk.edit_room(
        tr("Unlock piece {mark}", mark=piece.mark),
        lambda room: unlock_piece(room, key, piece, butts),
    )


def held_is_locked(desk: Desk) -> bool:
    """Tell whether the joint or the piece that is held is locked."""
    spot = held_spot(desk)
    if spot is not None:
        return is_locked(desk, spot)
    found = held_piece(desk)
    if found is None:
        return False
    scheme, piece = found
    ends = ends_of(piece, scheme.set_out.butts)
    return bool(ends) and all(
        is_locked(
            desk,
            Spot(surface=piece.surface, field=piece.field, course=piece.course, at=end, butt=True),
        )
        for end in ends
    )


def toggle_lock(desk: Desk) -> bool:
    """Lock what is held, or take its lock off; always of use."""
    if held_is_locked(desk):
        unlock_held(desk)
    else:
        lock_held(desk)
    return True
