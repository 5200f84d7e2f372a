"""What a line typed under the canvas means: a room, joists, or a figure of what is held."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from roomboard.app.desk import Desk
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.room_choices import frame_ceiling
from roomboard.core.measure import measure_of, read_joists, read_room
from roomboard.core.measure_heights import asks_heights, read_heights
from roomboard.core.measure_walls import names_walls
from roomboard.core.project import Project, Room
from roomboard.core.units import Refusal, write_length
from roomboard.storage.usual_sizes import usual_room_height

_JOISTS = re.compile(r"^\s*along\s+[xy]\b", re.IGNORECASE)
_HEIGHT = re.compile(r"\bh\b|\dh\d", re.IGNORECASE)
_ROOM = re.compile(r"[x×*]", re.IGNORECASE)

MISCLOSED = "▲"
"""Stands before what is said of readings that do not agree."""


@dataclass(frozen=True)
class Meaning:
    """What a typed line means.

    Attributes:
        echo: What was understood, in words.
        sentence: Why it was not understood, or empty.
        run: Does it; None where it means nothing.
    """

    echo: str = ""
    sentence: str = ""
    run: Callable[[], object] | None = None


def meaning(desk: Desk, text: str) -> Meaning:
    """Return what a line typed while no gesture goes on means.

    ``along y at 450`` sets the joists of the room shown; ``rake 2400 to 3600`` and the like its
    ceiling's heights; ``3580 x 3040``,
    ``Bedroom 3580 x 3040 h 2400`` and ``Bay walls 3580, 3045, 3576, 3040 diagonals 1-3 4695``
    make a new room; anything else is read as a figure of what
    is held.

    Args:
        desk: The desk.
        text: What was typed.
    """
    if _JOISTS.match(text):
        return _joists(desk, text)
    if asks_heights(text):
        return heights_meaning(desk, text)
    if _ROOM.search(text) or names_walls(_HEIGHT.split(text)[0]):
        return _room(desk, text)
    held = desk.held
    if held is None:
        return Meaning(
            sentence=tr(
                "Take hold of a wall or another thing to give it a length, or type a room such as "
                "3580 x 3040."
            )
        )
    from roomboard.app.figures import main_figure

    figure = main_figure(desk, held)
    if figure is None:
        return Meaning(sentence=tr("What is held has no figure to set; see its list beside."))
    return figure.meaning(text)


def heights_meaning(desk: Desk, text: str) -> Meaning:
    """Return what a line such as ``rake 2400 to 3600 from A`` means for the room shown.

    Args:
        desk: The desk.
        text: What was typed, with the word it begins with.
    """
    from roomboard.app.gestures.lie import held_wall

    document = desk.document
    read = read_heights(text, document.project.units)
    if isinstance(read, Refusal):
        return Meaning(sentence=read.sentence)
    room = desk.room
    if room is None:
        return Meaning(sentence=tr("There is no room yet to give heights; type its size first."))
    wall = held_wall(desk)
    try:
        read.made(room, wall)
        echo = read.told(room, wall)
    except EditError as refusal:
        return Meaning(sentence=refusal.said(document.project.units))
    return Meaning(
        echo=echo,
        run=lambda: desk.edit_room(
            tr("Heights of the ceiling of {room}", room=room.name), lambda r: read.made(r, wall)
        ),
    )


def _joists(desk: Desk, text: str) -> Meaning:
    read = read_joists(text, desk.document.project.units)
    if isinstance(read, Refusal):
        return Meaning(sentence=read.sentence)
    room = desk.room
    if room is None:
        return Meaning(sentence=tr("There is no room yet to give joists; type its size first."))
    units = desk.document.project.units
    way = "x" if read.direction_deg == 0.0 else "y"
    places = (
        ", ".join(write_length(p, units) for p in read.positions)
        if read.positions
        else tr("at {spacing} centres", spacing=write_length(read.spacing, units, suffix=True))
    )

    def change(room: Room) -> Room:
        return frame_ceiling(room, read)

    if len(room.joists) > 1:
        # Of several zones the held one is meant; a line typed in passing must not undo a split.
        from roomboard.app.framing import ask_joists

        ask = ask_joists(desk)
        echo, good = ask.echo(text)
        return Meaning(echo=echo, run=lambda: ask.typed(text)) if good else Meaning(sentence=echo)
    return Meaning(
        echo=tr("= joists of {room} along {way}, {places}", room=room.name, way=way, places=places),
        run=lambda: desk.edit_room(tr("Set joists of {room}", room=room.name), change),
    )


def _room(desk: Desk, text: str) -> Meaning:
    project = desk.document.project
    number = len(project.rooms) + 1
    agrees = desk.document.setting.practice.mm("tape.agrees")
    read = read_room(text, project.units, number, agrees=agrees)
    if isinstance(read, Refusal):
        # A bare size makes a room with a name and a height to be changed afterwards.
        full = f"{text} h {usual_height(project)}"
        with_height = read_room(full, project.units, number, agrees=agrees)
        if isinstance(with_height, Refusal):
            # Where a height can be left out, what is wrong is not that there is none.
            told = read if _HEIGHT.search(text) else with_height
            return Meaning(sentence=told.sentence.replace(full, text))
        read = with_height
    made = read
    measure = measure_of(text, project.units, agrees=agrees)

    def run() -> None:
        from roomboard.core.editing.rooms import add_room

        desk.document.attempt(tr("New room {name}", name=made.name), lambda p: add_room(p, made))
        desk.show_room(desk.document.project.rooms[-1].id)

    xs, ys = [p[0] for p in made.outline], [p[1] for p in made.outline]
    units = project.units
    echo = tr(
        "= room {name}, {x} × {y}, {height} high",
        name=made.name,
        x=write_length(max(xs) - min(xs), units),
        y=write_length(max(ys) - min(ys), units),
        height=write_length(made.height, units, suffix=True),
    )
    if measure is not None:
        # What the readings make of each other is told before the room is made, and again after.
        sign = MISCLOSED if measure.misclosure > agrees else "·"
        echo = f"{echo} {sign} {' '.join(tr(s) for s in measure.sentences)}"
    return Meaning(echo=echo, run=run)


def usual_height(project: Project) -> str:
    """Return the height a room gets where none was typed: that of the last room, or a usual one.

    Args:
        project: The project.
    """
    height = project.rooms[-1].height if project.rooms else usual_room_height(project.units)
    return f"{height} mm"
