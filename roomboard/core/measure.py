"""Rooms measured in one line: ``Bedroom 3580 x 3040 h 2400`` and ``along y at 450``."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace
from itertools import pairwise

from roomboard.core.measure_walls import names_walls, read_walls
from roomboard.core.project import JoistZone, Project, Room, Units, Wall
from roomboard.core.site_measure import Measured
from roomboard.core.units import Length, Mm, Refusal, Size, read_length, read_size, write_length

LEAST_ROOM = 100.0
"""A room with a side or height below this many mm was not meant that way."""
LEAST_CENTRES = 100.0
"""Joists nearer to each other than this many mm were not meant that way."""
WALLS = (("a", "A"), ("b", "B"), ("c", "C"), ("d", "D"))
"""Id and name of the walls of a room of four corners, clockwise from the lower left corner."""
ALONG_X, ALONG_Y = 0.0, 90.0

_HEIGHT = re.compile(r"(?<=[\s\d\"'″′”’])(?:h|height)[\s:=]*(?=[\d(.½⅓⅔¼¾⅛⅜⅝⅞])", re.IGNORECASE)
_NUMBER_STARTS = re.compile(r"(?:^|(?<=\s))(?=[-\d(.½⅓⅔¼¾⅛⅜⅝⅞])")
_JOISTS = re.compile(r"\s*along\s+(?P<way>[xy])\s+at\s+(?P<rest>.+)", re.IGNORECASE)
_FIRST = re.compile(r"\s+first\s+", re.IGNORECASE)
_FACE = re.compile(r"\s+face\s+", re.IGNORECASE)
_LIST = re.compile(r"\s*;\s*|,\s+")


def read_room(text: str, units: Units, number: int = 1, *, agrees: float = 0.0) -> Room | Refusal:
    """Read a room from one line: its name, its two sides (or all walls in order) and its height.

    The first side runs along x, the second along y. A colon may stand between name and sizes
    (``Bath 2: 900 x 1500 h 2400``); without a name the room is called by its number. A room
    out of square is given by its walls in order and its diagonals: ``Bay walls 3580, 3045,
    3576, 3040 diagonals 1-3 4695, 2-4 4699 h 2400``, see :mod:`roomboard.core.measure_walls`.

    Args:
        text: E.g. ``Bedroom 3580 x 3040 h 2400``.
        units: The project's units.
        number: Which room of the project it is.
        agrees: How far readings of a tape may lie apart and still agree, mm; the pack's
            ``tape.agrees``. It counts for rooms given by their walls.

    Returns:
        The room with its four walls and no joists yet, or why the text was not taken.
    """
    plain = " ".join(text.split())
    marks = list(_HEIGHT.finditer(plain))
    if not marks:
        return Refusal(
            text, f"The room “{plain}” has no height; write it after an h, e.g. {_example(units)}."
        )
    mark = marks[-1]
    height = read_length(plain[mark.end() :], units)
    if isinstance(height, Refusal):
        return Refusal(text, f"The height of the room “{plain}”: {height.sentence}", height.asks)
    if names_walls(plain[: mark.start()].strip()):
        read = read_walls(plain[: mark.start()].strip(), units, agrees)
        return _room_by_walls(plain, read, height, number)
    named = _name_and_size(plain[: mark.start()].strip(), units)
    if isinstance(named, Refusal):
        return Refusal(text, f"The room “{plain}”: {named.sentence}", named.asks)
    name, size = named
    for length in (size.first, size.second, height):
        if length.mm < LEAST_ROOM:
            return Refusal(
                text,
                f"The room “{plain}” would be {write_length(length.mm, units, suffix=True)} on a "
                "side, which is no room; write the unit, e.g. 4 m x 3 m h 2.4 m.",
                asks=True,
            )
    name = name or f"Room {number}"
    x, y = size.first.mm, size.second.mm
    return Room(
        id=room_id(name, f"room-{number}"),
        name=name,
        outline=((0.0, 0.0), (0.0, y), (x, y), (x, 0.0)),
        height=height.mm,
        walls=tuple(Wall(id=wall, name=letter) for wall, letter in WALLS),
    )


def measure_of(text: str, units: Units, *, agrees: float = 0.0) -> Measured | None:
    """Return how well a room typed by its walls closes; None for a room typed otherwise.

    Args:
        text: As for :func:`read_room`; the height can be left out.
        units: The project's units.
        agrees: As for :func:`read_room`.
    """
    plain = " ".join(text.split())
    marks = list(_HEIGHT.finditer(plain))
    walls = plain[: marks[-1].start()].strip() if marks else plain
    if not names_walls(walls):
        return None
    read = read_walls(walls, units, agrees)
    return None if isinstance(read, Refusal) else read[1]


def _room_by_walls(
    plain: str, read: tuple[str, Measured] | Refusal, height: Length, number: int
) -> Room | Refusal:
    """Return a room whose walls were given in order, with diagonals."""
    if isinstance(read, Refusal):
        said = read.sentence[:1].lower() + read.sentence[1:]
        return Refusal(plain, f"The room “{plain}”: {said}", read.asks)
    name, made = read
    name = name or f"Room {number}"
    letters = "abcdefghijklmnopqrstuvwxyz"
    if len(made.outline) > len(letters) or height.mm < LEAST_ROOM:
        return Refusal(plain, f"The room “{plain}” has too many walls or no height; correct it.")
    return Room(
        id=room_id(name, f"room-{number}"),
        name=name,
        outline=made.outline,
        height=height.mm,
        walls=tuple(Wall(id=k, name=k.upper()) for k in letters[: len(made.outline)]),
    )


def _example(units: Units) -> str:
    if units is Units.METRIC:
        return "Bedroom 3580 x 3040 h 2400"
    return "Bedroom 11' 9\" x 10' h 8'"


def _name_and_size(text: str, units: Units) -> tuple[str, Size] | Refusal:
    """Divide ``Bedroom 2 3580 x 3040`` into a name and the longest size that can be read."""
    name, colon, rest = text.partition(":")
    if colon:
        size = read_size(rest.strip(), units)
        return size if isinstance(size, Refusal) else (_name(name), size)
    found: list[tuple[str, Size]] = []
    refusal: Refusal | None = None
    for start in (m.start() for m in _NUMBER_STARTS.finditer(text)):
        size = read_size(text[start:], units)
        if isinstance(size, Size):
            found.append((_name(text[:start]), size))
        elif refusal is None or size.asks:
            refusal = size
    if not found:
        return refusal or Refusal(text, f"it has no size; write two sides, e.g. {_example(units)}.")
    # "Bath 2 900 x 1500" could be a bath of 2900 or the second bath of 900.
    if len(found) > 1 and re.match(r"\d{1,3} \d{3}(?!\d)", text[len(found[0][0]) :].strip()):
        return Refusal(
            text,
            "where the name ends cannot be told; put a colon after it, e.g. Bath 2: 900 x 1500.",
            asks=True,
        )
    return found[0]


def _name(text: str) -> str:
    """Return a name without the dash or comma that parted it from the size."""
    return text.strip(" ,;-–—")


def room_id(name: str, spare: str) -> str:
    """Return an id made from a name, in small letters, digits and ``-``.

    Args:
        name: What people call the room.
        spare: The id to use if nothing of the name is left.
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or spare


def read_joists(text: str, units: Units) -> JoistZone | Refusal:
    """Read how the joists of a ceiling run.

    ``along y at 450``: centres, the first one spacing from the low side. ``along x at 600 first
    300``: with the first centre given. ``along y at 450, 900, 1360``: every centre by itself,
    from the low side, with a comma and a space or a semicolon between. ``face 45`` at the end
    gives the width of their fixing face.

    Args:
        text: What was typed.
        units: The project's units.

    Returns:
        A zone over the whole ceiling, or why the text was not taken.
    """
    plain = " ".join(text.split())
    match = _JOISTS.fullmatch(plain)
    if match is None:
        return Refusal(
            text,
            f"The joists “{plain}” cannot be read; write along x or along y and the centres, "
            "e.g. along y at 450.",
        )
    rest, *face_text = _FACE.split(match["rest"], maxsplit=1)
    spread, *first_text = _FIRST.split(rest, maxsplit=1)
    lengths: list[Length] = []
    for part in (*_LIST.split(spread), *first_text, *face_text):
        read = read_length(part, units)
        if isinstance(read, Refusal):
            return Refusal(text, f"The joists “{plain}”: {read.sentence}", read.asks)
        lengths.append(read)
    values = [length.mm for length in lengths]
    face = values.pop() if face_text else 0.0
    first = values.pop() if first_text else None
    fault = _joist_fault(values, first, face if face_text else None)
    if fault:
        return Refusal(text, f"The joists “{plain}” were not taken: {fault}.")
    zone = JoistZone(
        id="joists",
        direction_deg=ALONG_X if match["way"].lower() == "x" else ALONG_Y,
        first=first,
        face=face,
    )
    if len(values) > 1:
        return replace(zone, positions=tuple(values))
    return replace(zone, spacing=values[0])


def _joist_fault(values: list[Mm], first: Mm | None, face: Mm | None) -> str:
    """Say what is wrong with joists that were read, or return an empty string."""
    if len(values) == 1 and values[0] < LEAST_CENTRES:
        return "their centres are too near each other; check the number and write its unit"
    if face is not None and face <= 0:
        return "their fixing face has no width; leave it out if it is not known"
    if len(values) > 1 and first is not None:
        return "first goes with one spacing, not with a list of centres"
    if any(a >= b for a, b in pairwise(values)):
        return "each centre in the list must be greater than the one before"
    return ""


def measured_project(
    name: str,
    rooms: tuple[Room, ...],
    joists: tuple[JoistZone, ...],
    units: Units,
    practice: str,
    studs: float = 0.0,
) -> Project:
    """Return a project of rooms measured in one line each.

    Args:
        name: Title of the project.
        rooms: The rooms; where two have one id, the later gets a number after it.
        joists: One zone for all rooms, one for each, or none.
        units: The project's units.
        practice: Id of the practice pack.
        studs: Centres of the studs of every wall, mm; 0 if not known.

    Raises:
        ValueError: If there are several joist zones but not as many as rooms.
    """
    if len(joists) not in {0, 1, len(rooms)}:
        raise ValueError("joists are given once for all rooms or once for each")
    used: set[str] = set()
    made: list[Room] = []
    for i, room in enumerate(rooms):
        own, number = room.id, 2
        while own in used:
            own, number = f"{room.id}-{number}", number + 1
        used.add(own)
        zone = joists[min(i, len(joists) - 1)] if joists else None
        walls = tuple(replace(wall, stud_spacing=studs) for wall in room.walls)
        made.append(replace(room, id=own, walls=walls, joists=(zone,) if zone else ()))
    return Project(
        id=room_id(name, "project"),
        name=name,
        units=units,
        practice=practice,
        rooms=tuple(made),
    )
