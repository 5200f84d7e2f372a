"""A room typed as its walls in order: ``Bay walls 3580, 3045, 3576, 3040 diagonals 1-3 4695``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from roomboard.core.site_measure import close
from roomboard.core.units import Refusal, read_length

if TYPE_CHECKING:
    from roomboard.core.project import Units
    from roomboard.core.site_measure import Measured

_WALLS = re.compile(
    r"(?P<name>.*?)\s*(?<![a-z])walls\s+(?P<walls>.+?)"
    r"(?:\s+diagonals?\s+(?P<diagonals>.+?))?"
    r"(?:\s+inward\s+(?P<inward>.+?))?\s*",
    re.IGNORECASE,
)
_LIST = re.compile(r"\s*;\s*|,\s+")
_DIAGONAL = re.compile(r"(?P<from>\d+)\s*[-–]\s*(?P<to>\d+)\s+(?P<length>.+)")


def names_walls(text: str) -> bool:
    """Tell whether a room is typed as its walls in order."""
    return _WALLS.fullmatch(text) is not None


def read_walls(text: str, units: Units, agrees: float) -> tuple[str, Measured] | Refusal:
    """Read a room's walls in order, clockwise, and its diagonals.

    ``Bay walls 3580, 3045, 3576, 3040 diagonals 1-3 4695, 2-4 4699``: corner 1 is where the
    first wall begins, corner 2 where it meets the second. Commas are followed by a space; a
    semicolon serves as well. ``inward 4`` at the end names corners that jut into the room.

    Args:
        text: What was typed, without the height.
        units: The project's units.
        agrees: How far readings may lie apart and still agree, mm.

    Returns:
        The name and the measure, or why the text was not taken.
    """
    match = _WALLS.fullmatch(text)
    if match is None:
        return Refusal(text, "the walls cannot be read; write walls and their lengths in order.")
    lengths: list[float] = []
    for number, part in enumerate(_LIST.split(match["walls"].strip(" ,;")), 1):
        read = read_length(part, units)
        if isinstance(read, Refusal):
            return Refusal(text, f"wall {number}: {read.sentence}", read.asks)
        lengths.append(read.mm)
    diagonals: list[tuple[int, int, float]] = []
    for part in _LIST.split(match["diagonals"].strip(" ,;")) if match["diagonals"] else ():
        across = _DIAGONAL.fullmatch(part)
        if across is None:
            return Refusal(
                text,
                f"the diagonal “{part}” cannot be read; write its corners and its length, "
                "e.g. 1-3 4695.",
            )
        read = read_length(across["length"], units)
        if isinstance(read, Refusal):
            return Refusal(
                text, f"diagonal {across['from']}-{across['to']}: {read.sentence}", read.asks
            )
        diagonals.append((int(across["from"]), int(across["to"]), read.mm))
    inward: list[int] = []
    for part in re.split(r"[\s,;]+", match["inward"].strip(" ,;")) if match["inward"] else ():
        if not part.isdigit():
            return Refusal(
                text, f"“{part}” is no corner; name inward corners by their numbers, e.g. inward 4."
            )
        inward.append(int(part))
    made = close(lengths, diagonals, inward=inward, agrees=agrees, units=units)
    if isinstance(made, Refusal):
        return Refusal(text, made.sentence, made.asks)
    return match["name"].strip(" ,;:-–—"), made
