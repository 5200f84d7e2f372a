"""Why an edit cannot be done, and what is looked up before one is."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from roomboard.core.project import (
    Bulkhead,
    Column,
    JoistZone,
    Opening,
    OpeningKind,
    Room,
    Units,
    Wall,
)
from roomboard.core.units import write_length

if TYPE_CHECKING:
    from collections.abc import Iterable

CEILING = "ceiling"
"""Host of what is in the ceiling."""

_NAME = re.compile(r"\{(\w+)\}")


class EditError(Exception):
    """An edit that cannot be done.

    Attributes:
        sentence: What, where and how to mend it; ``{name}`` stands for a length.
        lengths: The lengths by name, mm.
    """

    def __init__(self, sentence: str, **lengths: float) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.lengths = lengths

    def __str__(self) -> str:
        return self.said(Units.METRIC)

    def said(self, units: Units) -> str:
        """Return the sentence with its lengths in the project's units."""

        def written(match: re.Match[str]) -> str:
            if match[1] not in self.lengths:
                return match[0]
            return write_length(self.lengths[match[1]], units, suffix=True)

        return _NAME.sub(written, self.sentence)


def wall_index(room: Room, wall_id: str) -> int:
    """Return which edge of the outline a wall stands on.

    Raises:
        EditError: If the room has no such wall.
    """
    for index, wall in enumerate(room.walls):
        if wall.id == wall_id:
            return index
    names = ", ".join(wall.name or wall.id for wall in room.walls)
    raise EditError(f"{room.name} has no wall “{wall_id}”; its walls are {names}.")


def opening_of(room: Room, opening_id: str) -> Opening:
    """Return an opening by id.

    Raises:
        EditError: If the room has no such opening.
    """
    for opening in room.openings:
        if opening.id == opening_id:
            return opening
    raise EditError(f"{room.name} has no opening “{opening_id}”; choose one that is drawn.")


def zone_of(room: Room, zone_id: str) -> JoistZone:
    """Return a joist zone by id.

    Raises:
        EditError: If the room has no such zone.
    """
    for zone in room.joists:
        if zone.id == zone_id:
            return zone
    raise EditError(f"{room.name} has no joist zone “{zone_id}”; choose one that is drawn.")


def wall_words(wall: Wall) -> str:
    """Name a wall, e.g. ``wall A``."""
    return f"wall {wall.name or wall.id}"


OPENING_WORDS = {
    OpeningKind.DOOR: "door",
    OpeningKind.WINDOW: "window",
    OpeningKind.OPENING: "opening",
    OpeningKind.HATCH: "hatch",
    OpeningKind.LIGHT: "light",
    OpeningKind.DUCT: "duct",
}


def opening_words(opening: Opening) -> str:
    """Name an opening, e.g. ``door d1``."""
    return f"{OPENING_WORDS[opening.kind]} {opening.id}"


def bulkhead_words(bulkhead: Bulkhead) -> str:
    """Name a bulkhead, e.g. ``bulkhead b1``."""
    return f"bulkhead {bulkhead.id}"


def column_words(column: Column) -> str:
    """Name a column, e.g. ``column c1``."""
    return f"column {column.id}"


def started(text: str) -> str:
    """Begin a sentence with a capital."""
    return text[:1].upper() + text[1:]


def numbers(what: str, *values: float) -> None:
    """Let only real numbers through.

    Raises:
        EditError: If one of them is no number.
    """
    if not all(math.isfinite(v) for v in values):
        raise EditError(f"{started(what)} is not a number; type a length such as 1234.")


def above_nothing(what: str, *values: float) -> None:
    """Let only sizes above nothing through.

    Raises:
        EditError: If one of them is nothing, less, or no number.
    """
    numbers(what, *values)
    if min(values) <= 0:
        raise EditError(f"{started(what)} has to be more than nothing; type a greater length.")


def free_id(stem: str, taken: Iterable[str]) -> str:
    """Return the first of ``stem1``, ``stem2``, ... that is not taken."""
    used = set(taken)
    number = 1
    while f"{stem}{number}" in used:
        number += 1
    return f"{stem}{number}"


def letters(number: int) -> str:
    """Return the letters of a wall: ``A`` for 0, ``Z`` for 25, ``AA`` for 26."""
    alphabet = 26
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, alphabet)
        text = chr(ord("A") + rest) + text
    return text


def free_letter(walls: Iterable[Wall]) -> str:
    """Return the first letter that is neither the name nor, in small, the id of a wall."""
    used = {word.upper() for wall in walls for word in (wall.name, wall.id)}
    number = 0
    while letters(number) in used:
        number += 1
    return letters(number)
