"""Acts on framing: joist zones, single joists, studs and noggings, and moving by keys."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.desk import Desk
from roomboard.app.gestures.adding import JOIST, NOGGING, STUD, AddMember
from roomboard.app.gestures.doing import Answer, Ask
from roomboard.app.gestures.lie import held_wall, held_zone
from roomboard.app.gestures.splitting import SplitJoists
from roomboard.app.gestures.zones import JoinZones, TurnJoists, with_joists
from roomboard.app.measuring import begin, has_room
from roomboard.app.nudging import nudges
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.members import member_positions, set_positions
from roomboard.core.editing.refusal import wall_words
from roomboard.core.editing.studs import (
    set_stud_face,
    set_stud_positions,
    set_studs,
    stud_positions,
)
from roomboard.core.editing.zones import set_direction, set_members, set_spacing
from roomboard.core.measure import read_joists
from roomboard.core.measure_places import read_studs
from roomboard.core.project import JoistZone, Room
from roomboard.core.surface import SupportKind
from roomboard.core.units import Refusal, write_length

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu for framing."""
    desk, there = window.desk, has_room(window)

    def framed(gesture: Callable[[], None]) -> Callable[[], None]:
        """Do it where framing is shown."""

        def run() -> None:
            if desk.lens == "measure":
                desk.show_lens("frame")
            gesture()

        return run

    rows: tuple[tuple[str, str, Callable[[], None], str, str], ...] = (
        (
            "frame.split",
            "Split the joists along a line",
            lambda: begin(window, SplitJoists, plan=True),
            "S",
            "Part the ceiling where the joists change direction: two clicks, or a typed line.",
        ),
        (
            "frame.turn",
            "Turn the joists here",
            lambda: begin(window, TurnJoists, plan=True),
            "J",
            "Turn the joists of a zone by a quarter turn, or to typed degrees.",
        ),
        (
            "frame.join",
            "Join two zones",
            lambda: begin(window, JoinZones, plan=True),
            "Shift+J",
            "Make one joist zone of two that lie side by side.",
        ),
        (
            "frame.joists",
            "Joists by typing",
            lambda: window.canvas.begin(ask_joists(desk)),
            "Shift+S",
            "Type how the joists of the held zone run: along y at 450 first 300.",
        ),
        (
            "frame.add_joist",
            "Add a joist",
            lambda: begin(window, lambda d: AddMember(d, JOIST), plan=True),
            "Shift+B",
            "Add one joist; the others stay where they are.",
        ),
        (
            "frame.studs",
            "Studs by typing",
            lambda: window.canvas.begin(ask_studs(desk)),
            "Y",
            "Type how the studs of the held wall stand: at 600 first 300.",
        ),
        (
            "frame.add_stud",
            "Add a stud",
            lambda: begin(window, lambda d: AddMember(d, STUD)),
            "Shift+Y",
            "Add one stud to a wall; the others stay where they are.",
        ),
        (
            "frame.add_nogging",
            "Add noggings",
            lambda: begin(window, lambda d: AddMember(d, NOGGING)),
            "Shift+N",
            "Add a row of noggings to a wall at a height.",
        ),
        (
            "frame.one_by_one",
            "Make the places one by one",
            lambda: one_by_one(desk),
            "",
            "Keep each joist of the held zone, or stud of the held wall, at a place of its own.",
        ),
    )
    found = [
        Act(
            id=name,
            menu="Framing",
            words=words,
            run=framed(run),
            keys=keys,
            tip=tip,
            enabled=there,
            parted=name in {"frame.joists", "frame.studs", "frame.one_by_one"},
        )
        for name, words, run, keys, tip in rows
    ]
    return [*found, *nudges(desk)]


# --- joists and studs by typing ---------------------------------------------------------


def spaced(room: Room, zone_id: str, read: JoistZone) -> Room:
    """Return a room with a zone running and spaced as typed.

    Args:
        room: The room.
        zone_id: Which zone.
        read: What was typed, as a zone.

    Raises:
        EditError: If the zone cannot be spaced that way.
    """
    room = set_direction(room, zone_id, read.direction_deg)
    if read.positions:
        room = set_positions(room, zone_id, read.positions)
    else:
        room = set_spacing(room, zone_id, read.spacing, read.first)
    return set_members(room, zone_id, face=read.face) if read.face else room


def ask_joists(desk: Desk) -> Ask:
    """Return the gesture that asks how the joists of a zone run."""
    units = desk.document.project.units

    def read(text: str) -> Answer:
        found = read_joists(text, units)
        if isinstance(found, Refusal):
            return found.sentence
        room = desk.document.project.room(desk.room_id)
        if room is None:
            return tr("There is no room yet to give joists.")
        known = with_joists(desk, room)
        zone = held_zone(desk) or (known.joists[0].id if len(known.joists) == 1 else "")
        if not zone:
            names = ", ".join(z.id for z in known.joists)
            return tr("Take hold of one of the zones first: {names}.", names=names)

        def change(r: Room) -> Room:
            return spaced(with_joists(desk, r), zone, found)

        return _answer(desk, room, tr("Set the joists"), change, _places(desk, found))

    return Ask(desk, tr("Joists of the zone, such as along y at 450 first 300:"), read)


def ask_studs(desk: Desk) -> Ask:
    """Return the gesture that asks how the studs of the held wall stand."""
    units = desk.document.project.units
    ident = held_wall(desk)
    shown = desk.room.wall(ident) if desk.room is not None else None

    def read(text: str) -> Answer:
        room = desk.document.project.room(desk.room_id)
        wall = ident or held_wall(desk)
        if room is None or not wall:
            return tr("Take hold of a wall first.")
        found = read_studs(text, units)
        if isinstance(found, Refusal):
            return found.sentence

        def change(r: Room) -> Room:
            if found.positions:
                r = set_stud_positions(r, wall, found.positions, face=found.face)
            else:
                r = set_studs(r, wall, found.spacing, found.first)
            return set_stud_face(r, wall, found.face) if found.face else r

        return _answer(desk, room, tr("Set the studs"), change, _places(desk, found))

    name = wall_words(shown) if shown is not None else tr("the held wall")
    return Ask(desk, tr("Studs of {wall}, such as at 600 first 300:", wall=name), read)


def _places(desk: Desk, found: JoistZone) -> str:
    units = desk.document.project.units
    if found.positions:
        return ", ".join(write_length(p, units) for p in found.positions)
    words = tr("at {spacing} centres", spacing=write_length(found.spacing, units, suffix=True))
    if found.first is not None:
        words += tr(", first at {first}", first=write_length(found.first, units, suffix=True))
    return words


def _answer(
    desk: Desk, room: Room, words: str, change: Callable[[Room], Room], echo: str
) -> Answer:
    try:
        change(room)
    except EditError as refusal:
        return refusal.said(desk.document.project.units)

    def run() -> str:
        desk.edit_room(words, change)
        return ""

    return f"= {echo}", run


def one_by_one(desk: Desk) -> None:
    """Give each joist of the held zone, or each stud of the held wall, a place of its own."""
    words = tr("Places one by one")
    zone, wall = held_zone(desk), held_wall(desk)
    held = desk.held
    if wall and (not zone or (held is not None and ":" in held.surface)):
        scheme = desk.surface_scheme(f"wall:{wall}")
        supports = scheme.surface.supports if scheme is not None else ()
        face = next((s.face for s in supports if s.kind is SupportKind.STUD), 0.0)
        centres = scheme.surface.zones[0].centres if scheme is not None else 0.0

        def studs(room: Room) -> Room:
            places = stud_positions(room, wall, spacing=centres, face=face)
            return set_stud_positions(room, wall, places, face=face)

        desk.edit_room(words, studs)
        return

    def joists(room: Room) -> Room:
        known = with_joists(desk, room)
        ident = zone or known.joists[0].id
        return set_positions(known, ident, member_positions(known, ident))

    desk.edit_room(words, joists)
