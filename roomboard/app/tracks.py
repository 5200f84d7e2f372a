"""Where a joint that is held may go: its legal places, and the barred ones with reasons."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf

from roomboard.app.desk import Desk
from roomboard.app.document import with_room
from roomboard.app.gestures.track import STEADY, Place, Track
from roomboard.app.spots import Spot, lines_of
from roomboard.app.words import tr
from roomboard.core.editing.choices import (
    move_butt,
    put_choice,
    set_first_course,
    surface_key,
    unlock_butt,
)
from roomboard.core.plane import Interval, merge_intervals
from roomboard.core.project import Project, Room
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.sheeting import Field
from roomboard.core.ways import butt_stops, first_course_stops, kept_start, stop_in_words


def track_of(desk: Desk, spot: Spot) -> Track | None:
    """Return the way a joint can be moved, or None if it is not there any more.

    Args:
        desk: The desk; its room is the joint's.
        spot: Which joint.
    """
    scheme = desk.surface_scheme(spot.surface)
    if scheme is None or desk.room is None:
        return None
    field = next((f for f in scheme.set_out.fields if f.number == spot.field), None)
    if field is None:
        return None
    return (
        _butt_track(desk, scheme, field, spot)
        if spot.butt
        else _line_track(desk, scheme, field, spot)
    )


def _butt_track(desk: Desk, scheme: SurfaceScheme, field: Field, spot: Spot) -> Track:
    document, key = desk.document, scheme.surface.key
    choice = desk.choice(key.partition(".")[0])
    stops = butt_stops(scheme, document.setting, choice, spot.field, spot.course)
    units = document.shown.units
    low, high = _run(scheme, spot)

    def put(place: Place) -> Callable[[Project], Project]:
        def edit(room: Room) -> Room:
            room = with_start(room, scheme)
            places = (spot.at, place.value)
            return move_butt(room, key, spot.field, spot.course, places)

        return _in_room(desk, edit)

    return Track(
        name=tr("Butt joint in course {number}", number=spot.course),
        surface=spot.surface,
        places=tuple(
            Place(
                value=x.s,
                along=x.s,
                at=x.at,
                legal=x.legal,
                words=stop_in_words(x, units, scheme.surface),
            )
            for x in stops
            if low - STEADY <= x.s <= high + STEADY
        ),
        now=spot.at,
        locked=is_locked(desk, spot),
        along=lambda point: field.frame.to_st(point)[0],
        put=put,
        free=_in_room(desk, lambda r: unlock_butt(r, key, spot.field, spot.course, spot.at)),
    )


def _run(scheme: SurfaceScheme, spot: Spot) -> Interval:
    """Return the stretch of its course that a butt lies in: an opening can part a course."""
    pieces = [p for p in scheme.set_out.pieces if (p.field, p.course) == (spot.field, spot.course)]
    runs = merge_intervals((p.blank[0], p.blank[2]) for p in pieces)
    return next((r for r in runs if r[0] < spot.at < r[1]), (-inf, inf))


def _line_track(desk: Desk, scheme: SurfaceScheme, field: Field, spot: Spot) -> Track | None:
    """Return where the lines between the courses of a field can go.

    The first line leads, and the set-out lays the others after it: whichever of them is
    dragged, it is the places of the first that count.
    """
    document, key = desk.document, scheme.surface.key
    choice = desk.choice(key.partition(".")[0])
    stops = first_course_stops(scheme, document.setting, choice, spot.field)
    lines = lines_of(scheme.set_out, field)
    own = next((t for course, t in lines if course.number == spot.course), None)
    if own is None:
        return None
    off = own - lines[0][1]
    units = document.shown.units

    def put(place: Place) -> Callable[[Project], Project]:
        def edit(room: Room) -> Room:
            return set_first_course(with_start(room, scheme), key, spot.field, place.value)

        return _in_room(desk, edit)

    return Track(
        name=tr("First course line"),
        surface=spot.surface,
        places=tuple(
            Place(value=x.width, along=x.t, at=x.at, legal=x.legal, words=stop_in_words(x, units))
            for x in stops
        ),
        now=spot.at,
        locked=is_locked(desk, spot),
        along=lambda point: field.frame.to_st(point)[1] - off,
        put=put,
        free=_in_room(desk, lambda r: set_first_course(r, key, spot.field, None)),
    )


def is_locked(desk: Desk, spot: Spot) -> bool:
    """Tell whether the user put a joint where it is.

    Args:
        desk: The desk; its room is the joint's.
        spot: Which joint.
    """
    face = desk.surface_scheme(spot.surface)
    if face is None:
        return False
    choice = desk.choice(face.surface.key.partition(".")[0]).by_user
    if not spot.butt:
        return any(number == spot.field for number, _ in choice.first_course)
    return any(
        (f, c) == (spot.field, spot.course) and abs(s - spot.at) <= STEADY
        for f, c, s in choice.butts
    )


def with_start(room: Room, scheme: SurfaceScheme) -> Room:
    """Keep the courses counted from the side they are counted from: locks go by number."""
    choice = room.choice(surface_key(room, scheme.surface.key))
    return put_choice(room, replace(choice, start=kept_start(scheme.set_out, choice)))


def _in_room(desk: Desk, edit: Callable[[Room], Room]) -> Callable[[Project], Project]:
    room = desk.room_id
    return lambda project: with_room(project, room, edit)
