"""Areas as they are typed for a quick estimate: ``room 3580 x 3040 h 2400``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.estimate import area_from_floor, room_area
from roomboard.core.typed_parts import read_parts
from roomboard.core.units import Refusal, read_length, read_size, write_area, write_length

if TYPE_CHECKING:
    from roomboard.core.project import Units

EXAMPLE = "room 3580 x 3040 h 2400; wall 6200 x 2400; floor 7.2 x 11 m at 3.5"
_KIND = re.compile(r"\s*(room|wall|ceiling|floor)\s+(.+)", re.IGNORECASE)
_TAIL = re.compile(r"\s+(h|at)\s+", re.IGNORECASE)
_TAILS = {"room": "h", "floor": "at"}
"""What introduces the third figure of some kinds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """What is to be covered, openings not taken off.

    Attributes:
        area_m2: Area of board, m2.
        words: How it was understood and reckoned.
    """

    area_m2: float
    words: str


def read_extents(text: str, units: Units) -> tuple[Extent, ...] | Refusal:
    """Read what is to be covered; parts stand between semicolons.

    A room counts four walls and a ceiling; a floor counts as many times its area as the user
    gives behind ``at``.

    Args:
        text: What was typed.
        units: How bare numbers are read.

    Returns:
        The parts in order, or why one cannot be read.
    """
    return read_parts(
        text, lambda part: _one(part, units), f"Say what is to be covered, such as: {EXAMPLE}."
    )


def _one(part: str, units: Units) -> Extent | Refusal:
    match = _KIND.fullmatch(part)
    if match is None:
        return Refusal(
            part, f"“{part}” begins with none of room, wall, ceiling, floor; type: {EXAMPLE}."
        )
    kind = match[1].lower()
    size_text, *tail = _TAIL.split(match[2])
    wanted = _TAILS.get(kind)
    if [t.lower() for t in tail[::2]] != ([wanted] if wanted else []):
        third = {"h": "its height behind h", "at": "the board for its area behind at"}
        needs = f"two lengths and {third[wanted]}" if wanted else "two lengths and nothing more"
        return Refusal(part, f"A {kind} needs {needs}; “{part}” is not so. Type: {EXAMPLE}.")
    size = read_size(size_text, units)
    if isinstance(size, Refusal):
        return size
    first, second = size.first.mm, size.second.mm
    if min(first, second) <= 0:
        return Refusal(part, f"“{part}” has a side that is not above 0; give both sides.")
    said = f"{write_length(first, units)} x {write_length(second, units)}"
    if kind == "room":
        return _room(part, tail[1], (first, second), said, units)
    area = first * second / 1e6
    if kind == "floor":
        try:
            factor = float(tail[1].replace(",", "."))
        except ValueError:
            factor = 0.0
        if not 0.0 < factor < float("inf"):
            return Refusal(
                part, f"“at {tail[1]}” is no number above 0; say how much board a floor takes."
            )
        board = area_from_floor(area, factor)
        return Extent(
            area_m2=board,
            words=f"floor {said}: {write_area(area, units)} x {factor:g} = "
            f"{write_area(board, units)}",
        )
    return Extent(area_m2=area, words=f"{kind} {said} = {write_area(area, units)}")


def _room(
    part: str, height_text: str, sides: tuple[float, float], said: str, units: Units
) -> Extent | Refusal:
    height = read_length(height_text, units)
    if isinstance(height, Refusal):
        return height
    if height.mm <= 0:
        return Refusal(part, f"“h {height_text}” is no height above 0; give the room's height.")
    area = room_area(*sides, height.mm) / 1e6
    tall = write_length(height.mm, units)
    return Extent(
        area_m2=area,
        words=f"room {said} h {tall}: four walls and a ceiling = {write_area(area, units)}",
    )
