"""Acts on the heights of a ceiling: raked, ridged, dropped, flat in part, by its corners."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.gestures.doing import Answer, Ask
from roomboard.app.measuring import has_room
from roomboard.app.reading import heights_meaning
from roomboard.app.words import tr
from roomboard.core.editing.heights_corners import corner_heights
from roomboard.core.editing.heights_parts import flatten, remove_part
from roomboard.core.units import write_length

if TYPE_CHECKING:
    from collections.abc import Callable

    from roomboard.app.desk import Desk
    from roomboard.app.window import Window

MENU = "Room/Ceiling heights"
ROWS: tuple[tuple[str, str, str, str], ...] = (
    (
        "rake",
        "Rake up from a wall",
        "Lowest and highest, from a wall: 2400 to 3600 from A, or 2400 at 20 deg from A",
        "Slope the whole ceiling up from a wall: its height there, then the highest or the pitch.",
    ),
    (
        "ridge",
        "Ridge along a wall",
        "Sides and ridge, along a wall: 2400 to 3800 along A, or 2400 to 3800 at 1500 along A",
        "Give the ceiling a ridge along a wall, with a slope down to either side.",
    ),
    (
        "soffit",
        "Soffit under a stair",
        "Height at the high wall, then rise and going: 2400 at 175/250 from A",
        "Let the ceiling fall away from a wall like the underside of a stair.",
    ),
    (
        "cap",
        "Flat part at a height",
        "Height of the flat part: 2700",
        "Cut the slopes off flat: what would stand above that height lies level.",
    ),
    (
        "drop",
        "Dropped part along a wall",
        "How far it drops and how wide it is: 300 over 600 along A",
        "Bring a strip of the ceiling down along a wall.",
    ),
    (
        "strip",
        "Strip at a height",
        "Height, width, and how far off a wall: 3500 over 300 at 2350 from A",
        "Give a strip along a wall a level of its own, such as the underside of a ridge beam.",
    ),
    (
        "corners",
        "Heights at the corners",
        "Height at every corner in order: 2400, 2400, 3600, 3600",
        "Give the ceiling its height at each corner of the room.",
    ),
)
"""Word of the line, what the menu says, what is asked for, and the tip."""


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu for the heights of a ceiling."""
    desk, there = window.desk, has_room(window)
    found = [
        Act(
            id=f"heights.{word}",
            menu=MENU,
            words=words,
            run=_asks(window, word, asked),
            tip=tip,
            enabled=there,
        )
        for word, words, asked, tip in ROWS
    ]
    return [
        *found,
        Act(
            id="heights.remove",
            menu=MENU,
            words="Take the held part away",
            run=lambda: _remove(desk),
            tip="What lay under it follows the other parts, or lies flat.",
            enabled=lambda: bool(held_part(desk)),
            parted=True,
        ),
        Act(
            id="heights.level",
            menu=MENU,
            words="Level at the room's height",
            run=lambda: desk.edit_room(tr("Level the ceiling"), flatten),
            tip="Make the whole ceiling flat again.",
            enabled=lambda: bool(desk.room and desk.room.ceiling_parts),
        ),
    ]


def held_part(desk: Desk) -> str:
    """Return the id of the part of the ceiling that is held, or empty."""
    room, held = desk.room, desk.held
    if room is None or held is None:
        return ""
    known = {p.id for p in room.ceiling_parts}
    for ref in (held.ref, held.surface):
        kind, _, rest = ref.rpartition("/")[2].partition(":")
        part = rest.partition(".")[0].partition(":")[0]
        if kind in {"ceiling", "step"} and part in known:
            return part
    return ""


def _remove(desk: Desk) -> None:
    part = held_part(desk)
    if part:
        words = tr("Take ceiling {part} away", part=part)
        desk.edit_room(words, lambda room: remove_part(room, part))


def _asks(window: Window, word: str, asked: str) -> Callable[[], None]:
    desk = window.desk

    def read(text: str) -> Answer:
        said = heights_meaning(desk, f"{word} {text}")
        change = said.run
        if change is None:
            return said.sentence

        def run() -> str:
            change()
            return ""

        return said.echo, run

    def ask() -> None:
        room = desk.room
        window.canvas.begin(Ask(desk, f"{tr(asked)}:", read))
        if word == "corners" and room is not None:
            units = desk.document.project.units
            now = ", ".join(write_length(z, units) for z in corner_heights(room))
            window.entry.begin(now)
            window.entry.line.selectAll()
        else:
            window.entry.begin("")

    return ask
