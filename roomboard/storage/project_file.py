"""The project file: JSON in which every length is a number in mm.

Loading reports every fault at once, each with its path; saving replaces the old file all at
once or leaves it as it was.
"""

import json
import os
import re
import tempfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date
from difflib import get_close_matches
from enum import StrEnum
from errno import EISDIR
from math import isfinite
from pathlib import Path
from typing import Any

from roomboard.core.heights import STEEPEST
from roomboard.core.plane import Point, Ring, fault_in, same, signed_area
from roomboard.core.project import (
    MOST_LAYERS,
    SCHEMA,
    Acknowledgement,
    AdoptedPiece,
    AdoptedSheet,
    AngleFinish,
    AtChange,
    Axis,
    Bulkhead,
    ButtsAt,
    CeilingPart,
    Choices,
    Column,
    ControlLine,
    Deliveries,
    FastenerKind,
    FrameKind,
    HeightsAre,
    JoistZone,
    KeptPart,
    MemberKind,
    Method,
    NoJointBand,
    Opening,
    OpeningKind,
    PackTo,
    Price,
    Project,
    Room,
    SheetDirection,
    SiteOffcut,
    SpecialZone,
    Start,
    SurfaceChoice,
    Units,
    Variant,
    Wall,
    WallKind,
    Weights,
    ZoneKind,
    clockwise,
)
from roomboard.core.read_offcut import MOST
from roomboard.core.revision import (
    DonePiece,
    DoneState,
    Extent,
    Issued,
    IssuedJoint,
    IssuedLine,
    IssuedOpening,
    IssuedPiece,
    IssuedSheet,
    IssuedSurface,
    IssuedTrimmer,
    is_letter,
)
from roomboard.storage.imprint_text import (
    points_text,
    read_pair,
    read_point,
    read_rings,
    rings_text,
)
from roomboard.storage.migrate import MIGRATIONS, Migrations

CEILING, WHOLE_ROOM = "ceiling", "room"
"""Words that stand where a wall's id can stand, so that no wall may have them for its id."""
_ID = re.compile(r"[A-Za-z0-9-]+")
_HIGHEST_FINISH = 5
_HIGHEST_COUNT = 1_000_000  # more of anything is a slip of the hand
_FARTHEST = 1e9  # mm; even site coordinates of a country stay below it
_SHOWN = 40  # characters of a wrong value that a fault repeats


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a project file.

    Attributes:
        path: Where, e.g. ``"rooms[1].walls[2].stud_spacing"``; empty for the whole file.
        text: What is wrong and how to mend it.
    """

    path: str
    text: str

    def __str__(self) -> str:
        """Return the fault as one line."""
        return f"{self.path}: {self.text}" if self.path else self.text


@dataclass(frozen=True, slots=True)
class Loaded:
    """What came of loading a project file.

    Attributes:
        project: The project, or None if the file has any fault.
        faults: Everything wrong with it, in the order of the file.
    """

    project: Project | None
    faults: tuple[Fault, ...] = ()


class NotSavedError(Exception):
    """The project could not be saved; its text is one sentence, and the old file still stands."""


# ------------------------------------------------------------------------------------------------
# Reading single values. Each reader takes a value, its path and the list of faults, and returns
# what belongs into the project, or None once it has named a fault.

Reader = Callable[[object, str, list[Fault]], Any]


def _said(value: object) -> str:
    """Return a wrong value as the file has it, shortened."""
    text = json.dumps(value)
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"


def _text(value: object, path: str, faults: list[Fault]) -> str | None:
    if not isinstance(value, str):
        faults.append(Fault(path, f"{_said(value)} is not text; put it in quotes"))
        return None
    if any(not c.isprintable() for c in value):
        faults.append(
            Fault(path, f"{_said(value)} has a line break or an unprintable sign; take it out")
        )
        return None
    return value


def _id(value: object, path: str, faults: list[Fault]) -> str | None:
    if not isinstance(value, str) or not _ID.fullmatch(value):
        faults.append(
            Fault(path, f"{_said(value)} is not an id; use letters, digits and - only, e.g. bed-1")
        )
        return None
    return value


def _flag(value: object, path: str, faults: list[Fault]) -> bool | None:
    if not isinstance(value, bool):
        faults.append(Fault(path, f"{_said(value)} is neither true nor false; give one of them"))
        return None
    return value


def _number(value: object, path: str, faults: list[Fault], what: str) -> float | None:
    number = float("nan")
    if isinstance(value, int | float) and not isinstance(value, bool):
        try:
            number = float(value)
        except OverflowError:
            number = float("inf")
    if not isfinite(number):
        faults.append(Fault(path, f"{_said(value)} is not a number; give {what}"))
        return None
    return number


def _mm(value: object, path: str, faults: list[Fault]) -> float | None:
    number = _number(value, path, faults, "a length in mm")
    if number is not None and abs(number) > _FARTHEST:
        faults.append(Fault(path, f"{_said(value)} mm is too far for a room; give a length in mm"))
        return None
    return number


def _not_negative(value: object, path: str, faults: list[Fault]) -> float | None:
    number = _mm(value, path, faults)
    if number is not None and number < 0:
        faults.append(Fault(path, f"{_said(value)} is less than nothing; give a length in mm"))
        return None
    return number


def _positive(value: object, path: str, faults: list[Fault]) -> float | None:
    number = _mm(value, path, faults)
    if number is not None and number <= 0:
        faults.append(Fault(path, f"{_said(value)} is no length; give one above 0 mm"))
        return None
    return number


def _amount(value: object, path: str, faults: list[Fault]) -> float | None:
    number = _number(value, path, faults, "0 or more")
    if number is not None and number < 0:
        faults.append(Fault(path, f"{_said(value)} is less than nothing; give 0 or more"))
        return None
    return number


def _count(value: object, path: str, faults: list[Fault]) -> int | None:
    number = _number(value, path, faults, "a whole number")
    if number is not None and not (number.is_integer() and 0 <= number <= _HIGHEST_COUNT):
        faults.append(Fault(path, f"{_said(value)} is not a whole number from 0 up"))
        return None
    return None if number is None else int(number)


def _between(noun: str, low: int, high: int) -> Reader:
    """Return a reader of a whole number within limits."""

    def reads(value: object, path: str, faults: list[Fault]) -> int | None:
        count = _count(value, path, faults)
        if count is not None and not low <= count <= high:
            faults.append(Fault(path, f"{_said(value)} is no {noun}; give {low} to {high}"))
            return None
        return count

    return reads


def _layers(value: object, path: str, faults: list[Fault]) -> int | None:
    count = _count(value, path, faults)
    if count is not None and not 1 <= count <= MOST_LAYERS:
        faults.append(
            Fault(path, f"{_said(value)} is no number of layers; give 1 to {MOST_LAYERS}")
        )
        return None
    return count


def _finish(value: object, path: str, faults: list[Fault]) -> int | None:
    level = _count(value, path, faults)
    if level is not None and level > _HIGHEST_FINISH:
        faults.append(Fault(path, f"{level} is no level of finish; give 0 to {_HIGHEST_FINISH}"))
        return None
    return level


def _currency(value: object, path: str, faults: list[Fault]) -> str | None:
    if value == "" or (isinstance(value, str) and re.fullmatch(r"[A-Z]{3}", value)):
        return str(value)
    faults.append(
        Fault(
            path,
            f"{_said(value)} is no currency; give its three letters, e.g. EUR, or leave it empty",
        )
    )
    return None


def _day(value: object, path: str, faults: list[Fault]) -> str | None:
    if value == "":
        return ""
    try:
        if isinstance(value, str) and date.fromisoformat(value).isoformat() == value:
            return value
    except ValueError:
        pass
    faults.append(Fault(path, f"{_said(value)} is no date; give year-month-day, e.g. 2025-03-31"))
    return None


def _word(kind: type[StrEnum]) -> Reader:
    """Make the reader of one word out of a fixed list."""

    def read(value: object, path: str, faults: list[Fault]) -> StrEnum | None:
        words = [word.value for word in kind]
        if isinstance(value, str) and value in words:
            return kind(value)
        faults.append(
            Fault(path, f"{_said(value)} is not known here; give one of {', '.join(words)}")
        )
        return None

    return read


def _or_null(reader: Reader) -> Reader:
    """Make a reader that takes null as well (it stands for None)."""

    def read(value: object, path: str, faults: list[Fault]) -> object:
        return None if value is None else reader(value, path, faults)

    return read


def _list(reader: Reader) -> Reader:
    """Make the reader of a list whose items are all of one kind."""

    def read(value: object, path: str, faults: list[Fault]) -> tuple[Any, ...] | None:
        if not isinstance(value, list):
            faults.append(Fault(path, f"{_said(value)} is not a list; put it in [ ]"))
            return None
        before = len(faults)
        items = tuple(reader(item, f"{path}[{i}]", faults) for i, item in enumerate(value))
        return None if len(faults) > before else items

    return read


def _point(value: object, path: str, faults: list[Fault]) -> Point | None:
    if not isinstance(value, list) or len(value) != 2:
        faults.append(
            Fault(path, f"{_said(value)} is not a corner; give [x, y] in mm, e.g. [3580, 0]")
        )
        return None
    x, y = (_mm(v, f"{path}[{i}]", faults) for i, v in enumerate(value))
    return None if x is None or y is None else (x, y)


def _outline(value: object, path: str, faults: list[Fault]) -> Ring | None:
    corners: Ring | None = _list(_point)(value, path, faults)
    if corners is None:
        return None
    if len(corners) > 1 and corners[0] == corners[-1]:
        corners = corners[:-1]  # some people close an outline by its first corner
    for i, a in enumerate(corners):
        b = corners[(i + 1) % len(corners)]
        if len(corners) > 1 and same(a[0], b[0]) and same(a[1], b[1]):
            faults.append(
                Fault(f"{path}[{i}]", "this corner and the next are in the same place; drop one")
            )
            return None
    fault = fault_in(corners)
    if fault:
        faults.append(Fault(path, f"this outline cannot be used: {fault}"))
        return None
    return corners


def _zone_outline(value: object, path: str, faults: list[Fault]) -> Ring | None:
    return () if value == [] else _outline(value, path, faults)


def _pitch(value: object, path: str, faults: list[Fault]) -> float | None:
    number = _number(value, path, faults, "an angle in degrees")
    if number is not None and not 0 <= number <= STEEPEST:
        faults.append(
            Fault(path, f"{_said(value)} is no pitch of a ceiling; give 0 to {STEEPEST:g} degrees")
        )
        return None
    return number


def _figure(value: object, path: str, faults: list[Fault]) -> float | str | None:
    if isinstance(value, str):
        return _text(value, path, faults)
    return _number(value, path, faults, "a number or a word in quotes")


def _overrides(value: object, path: str, faults: list[Fault]) -> tuple[tuple[str, Any], ...] | None:
    if not isinstance(value, dict):
        faults.append(
            Fault(path, f"{_said(value)} is not a set of figures; give {{ }} with a value per key")
        )
        return None
    before = len(faults)
    found = tuple((key, _figure(value[key], f"{path}.{key}", faults)) for key in sorted(value))
    return None if len(faults) > before else found


# ------------------------------------------------------------------------------------------------
# Reading records. Each table has a key for every field of its type, so that a field cannot be
# forgotten: a test compares them.


@dataclass(frozen=True)
class Record:
    """How one type is read from a JSON object.

    Attributes:
        make: The type.
        readers: Key and reader of every field.
        required: Keys that must be there; the others have defaults.
        noun: What the type is called in a fault.
    """

    make: Callable[..., Any]
    readers: Mapping[str, Reader]
    required: tuple[str, ...]
    noun: str

    def __call__(self, value: object, path: str, faults: list[Fault]) -> object:
        """Read a value of this type, or name every fault in it and return None."""
        before = len(faults)
        got = self.keys(value, path, faults)
        return None if len(faults) > before else self.make(**got)

    def keys(self, value: object, path: str, faults: list[Fault]) -> dict[str, Any]:
        """Read every key that is there; those with faults are left out."""
        if not isinstance(value, dict):
            faults.append(Fault(path, f"{_said(value)} is not {self.noun}; put it in {{ }}"))
            return {}
        dot = f"{path}." if path else ""
        got: dict[str, Any] = {}
        faults.extend(
            Fault(f"{dot}{_key(key)}", self.unknown(key))
            for key in value
            if key not in self.readers
        )
        for key, reader in self.readers.items():
            if key in value:
                before = len(faults)
                read = reader(value[key], f"{dot}{key}", faults)
                if len(faults) == before:
                    got[key] = read
            elif key in self.required:
                faults.append(Fault(f"{dot}{key}", f"it is missing; {self.noun} needs it"))
        return got

    def unknown(self, key: str) -> str:
        """Say that a key is not known, and which may have been meant."""
        near = get_close_matches(key, self.readers, n=1)
        if near:
            return f"this key is not known here; {near[0]} may be meant"
        return f"this key is not known here; {self.noun} has {', '.join(sorted(self.readers))}"


def _key(key: str) -> str:
    """Return a key of the file for use in a path: shortened, unprintable signs escaped."""
    return key if key.isprintable() and key and len(key) <= _SHOWN else _said(key)


WALL = Record(
    Wall,
    {
        "id": _id,
        "name": _text,
        "kind": _word(WallKind),
        "lined": _flag,
        "board": _text,
        "frame": _word(FrameKind),
        "stud_spacing": _not_negative,
        "stud_first": _or_null(_mm),
        "studs": _list(_mm),
        "stud_face": _not_negative,
        "noggings": _list(_mm),
        "angle": _word(AngleFinish),
        "skirting": _flag,
        "layers": _layers,
    },
    (),
    "a wall",
)
OPENING = Record(
    Opening,
    {
        "id": _id,
        "kind": _word(OpeningKind),
        "host": _text,
        "left": _mm,
        "bottom": _mm,
        "width": _positive,
        "height": _positive,
        "reveal_lined": _flag,
        "reveal_depth": _not_negative,
        "is_round": _flag,
    },
    ("id", "kind", "host", "left", "bottom", "width", "height"),
    "an opening",
)
JOIST_ZONE = Record(
    JoistZone,
    {
        "id": _id,
        "outline": _zone_outline,
        "direction_deg": lambda v, p, f: _number(v, p, f, "an angle in degrees"),
        "spacing": _not_negative,
        "first": _or_null(_mm),
        "positions": _list(_mm),
        "face": _not_negative,
        "kind": _word(MemberKind),
        "frame": _word(FrameKind),
        "depths": _list(_list(_mm)),
        "packed_to": _word(PackTo),
    },
    ("id",),
    "a joist zone",
)
SPECIAL_ZONE = Record(
    SpecialZone,
    {"id": _id, "kind": _word(ZoneKind), "host": _text, "note": _text},
    ("id", "kind"),
    "a special zone",
)
BULKHEAD = Record(
    Bulkhead,
    {
        "id": _id,
        "wall": _text,
        "left": _mm,
        "length": _positive,
        "depth": _positive,
        "drop": _positive,
        "left_free": _flag,
        "right_free": _flag,
        "lined_behind": _flag,
        "board": _text,
        "spacing": _not_negative,
        "face": _not_negative,
    },
    ("id", "wall", "left", "length", "depth", "drop"),
    "a bulkhead",
)
COLUMN = Record(
    Column,
    {
        "id": _id,
        "outline": _outline,
        "lined": _flag,
        "board": _text,
        "frame": _word(FrameKind),
        "spacing": _not_negative,
        "face": _not_negative,
        "angle": _word(AngleFinish),
    },
    ("id", "outline"),
    "a column",
)
CEILING_PART = Record(
    CeilingPart,
    {
        "id": _id,
        "outline": _zone_outline,
        "height": _positive,
        "at": _point,
        "rise_deg": lambda v, p, f: _number(v, p, f, "an angle in degrees"),
        "pitch_deg": _pitch,
        "lined": _flag,
        "board": _text,
        "angle": _word(AngleFinish),
    },
    ("id", "height"),
    "a part of a ceiling",
)
BUTT = Record(
    lambda field, course, at: (field, course, at),
    {"field": _count, "course": _count, "at": _mm},
    ("field", "course", "at"),
    "a locked butt joint",
)
FIRST_COURSE = Record(
    lambda field, width: (field, width),
    {"field": _count, "width": _positive},
    ("field", "width"),
    "the width of a first course",
)
CONTROL_LINE = Record(
    ControlLine,
    {"axis": _word(Axis), "at": _mm},
    ("axis", "at"),
    "a control joint",
)
NO_JOINT_BAND = Record(
    NoJointBand,
    {"id": _id, "host": _text, "low": _not_negative, "high": _positive},
    ("id", "host", "low", "high"),
    "a band without joints",
)
KEPT_PART = Record(
    KeptPart,
    {
        "id": _id,
        "host": _text,
        "left": _mm,
        "bottom": _mm,
        "width": _positive,
        "height": _positive,
        "kept": _flag,
        "note": _text,
    },
    ("id", "host", "left", "bottom", "width", "height"),
    "a part that is not lined",
)
SURFACE_CHOICE = Record(
    SurfaceChoice,
    {
        "surface": _text,
        "direction": _word(SheetDirection),
        "start": _word(Start),
        "at_change": _word(AtChange),
        "widths": _list(_positive),
        "butts": _list(BUTT),
        "first_course": _list(FIRST_COURSE),
        "controls": _list(CONTROL_LINE),
    },
    ("surface",),
    "the choice for a surface",
)
CHOICES = Record(
    Choices,
    {
        "method": _word(Method),
        "fastener": _word(FastenerKind),
        "butts": _word(ButtsAt),
        "floor_gap": _or_null(_not_negative),
        "heights_are": _word(HeightsAre),
        "spare_ratio": _amount,
        "spare_sheets": _count,
        "lift_limit_kg": _amount,
        "ceiling_board": _text,
        "wall_board": _text,
        "sheet_lengths": _list(_positive),
        "sheet_widths": _list(_positive),
        "steel_thickness": _not_negative,
        "deliveries": _word(Deliveries),
    },
    (),
    "a set of choices",
)
ACKNOWLEDGEMENT = Record(
    Acknowledgement,
    {"code": _text, "place": _text, "name": _text, "reason": _text},
    ("code", "name", "reason"),
    "an acknowledgement",
)
PRICE = Record(Price, {"item": _text, "amount": _amount}, ("item", "amount"), "a price")

WEIGHTS = Record(
    Weights,
    {
        "board": _amount,
        "butt": _amount,
        "recessed": _amount,
        "end_to_recess": _amount,
        "piece": _amount,
        "cut": _amount,
        "lift": _amount,
        "middle": _amount,
    },
    (),
    "a set of weights",
)


def _named(value: object, path: str, faults: list[Fault]) -> str | None:
    text = _text(value, path, faults)
    if text is not None and not text.strip():
        faults.append(Fault(path, "it is empty; give a name"))
        return None
    return text


ADOPTED_PIECE = Record(
    AdoptedPiece,
    {
        "piece": _named,
        "x": _not_negative,
        "y": _not_negative,
        "length": _positive,
        "width": _positive,
        "turned": _flag,
    },
    ("piece", "x", "y", "length", "width"),
    "a piece of a cutting that was taken up",
)
ADOPTED_SHEET = Record(
    AdoptedSheet,
    {
        "board": _named,
        "length": _positive,
        "width": _positive,
        "pieces": _list(ADOPTED_PIECE),
    },
    ("board", "length", "width", "pieces"),
    "a sheet of a cutting that was taken up",
)
SITE_OFFCUT = Record(
    SiteOffcut,
    {
        "id": _id,
        "board": _named,
        "length": _positive,
        "width": _positive,
        "recessed": _between("number of recessed edges", 0, 2),
        "count": _between("number of offcuts", 1, MOST),
        "note": _text,
    },
    ("id", "board", "length", "width"),
    "an offcut on site",
)
VARIANT_ROOM = Record(
    lambda room, choices=(): (room, choices),
    {"room": _id, "choices": _list(SURFACE_CHOICE)},
    ("room",),
    "a room of a variant",
)
VARIANT = Record(
    Variant,
    {"name": _named, "choices": CHOICES, "rooms": _list(VARIANT_ROOM)},
    ("name",),
    "a variant",
)


def _coded(decode: Callable[[str], Any], what: str) -> Reader:
    """Make the reader of places that an issue keeps as short text."""

    def read(value: object, path: str, faults: list[Fault]) -> object:
        found = decode(value) if isinstance(value, str) else None
        if found is None:
            faults.append(Fault(path, f"{_said(value)} is not {what}"))
        return found

    return read


def _read_extent(text: str) -> Extent | None:
    pair = read_pair(text)
    return None if pair is None else (*pair[0], *pair[1])


_RINGS = _coded(read_rings, "an outline; give its corners, e.g. 0,0 3580,0 3580,1200")
_ENDS = _coded(read_pair, "two places; give both, e.g. 0,0 3580,0")
_EXTENT = _coded(_read_extent, "a box; give two opposite corners, e.g. 0,0 3580,1200")
_SIZE = _coded(read_point, "a length and a width; give both, e.g. 3600,1200")


def _letter(value: object, path: str, faults: list[Fault]) -> str | None:
    if isinstance(value, str) and is_letter(value):
        return value
    faults.append(Fault(path, f"{_said(value)} is no letter of an issue; give e.g. A"))
    return None


def _two_marks(value: object, path: str, faults: list[Fault]) -> tuple[str, str] | None:
    marks: tuple[str, ...] | None = _list(_text)(value, path, faults)
    if marks is None:
        return None
    if len(marks) != 2:
        faults.append(Fault(path, f"{_said(value)} are not the marks of two pieces; give two"))
        return None
    return (marks[0], marks[1])


ISSUED_PIECE = Record(
    IssuedPiece,
    {
        "mark": _text,
        "board": _text,
        "low": _text,
        "high": _text,
        "sheet": _text,
        "stock": _SIZE,
        "outline": _RINGS,
        "at": _EXTENT,
        "on": _SIZE,
        "turned": _flag,
    },
    ("mark", "board", "low", "high", "sheet", "stock", "outline", "at"),
    "a piece as issued",
)
ISSUED_JOINT = Record(
    IssuedJoint,
    {"kind": _text, "pieces": _two_marks, "ends": _ENDS},
    ("kind", "pieces", "ends"),
    "a joint as issued",
)
ISSUED_TRIMMER = Record(
    IssuedTrimmer,
    {"tag": _text, "ends": _ENDS, "length": _not_negative},
    ("tag", "ends", "length"),
    "timber as issued",
)
ISSUED_OPENING = Record(
    IssuedOpening, {"id": _text, "at": _EXTENT}, ("id", "at"), "an opening as issued"
)
ISSUED_SURFACE = Record(
    IssuedSurface,
    {
        "ref": _text,
        "name": _text,
        "outline": _RINGS,
        "openings": _list(ISSUED_OPENING),
        "pieces": _list(ISSUED_PIECE),
        "joints": _list(ISSUED_JOINT),
        "trimmers": _list(ISSUED_TRIMMER),
        "fasteners": _count,
        "daubs": _count,
        "back_blocks": _count,
        "held": _text,
    },
    ("ref", "name", "outline"),
    "a surface as issued",
)
ISSUED_LINE = Record(
    IssuedLine,
    {
        "code": _text,
        "name": _text,
        "unit": _text,
        "total": lambda v, p, f: _number(v, p, f, "an amount"),
    },
    ("code", "name", "unit", "total"),
    "a line of the order as issued",
)
ISSUED_SHEET = Record(
    IssuedSheet,
    {
        "title": _text,
        "room": _text,
        "kind": _text,
        "number": _count,
        "imprint": _text,
        "letter": _text,
    },
    ("title", "number", "imprint"),
    "a sheet as issued",
)
ISSUED = Record(
    Issued,
    {
        "letter": _letter,
        "date": _day,
        "by": _text,
        "note": _text,
        "form": _text,
        "surfaces": _list(ISSUED_SURFACE),
        "lines": _list(ISSUED_LINE),
        "sheets": _list(ISSUED_SHEET),
    },
    ("letter", "date"),
    "an issue",
)
DONE_PIECE = Record(
    DonePiece,
    {
        "state": _word(DoneState),
        "surface": _text,
        "piece": ISSUED_PIECE,
        "beside": _list(_text),
    },
    ("state", "surface", "piece"),
    "a piece that is cut or hung",
)


# Walls are read key by key here, because they get ids and names from their place in the outline.
_ROOM_KEYS = Record(
    Room,
    {
        "id": _id,
        "name": _named,
        "outline": _outline,
        "height": _not_negative,
        "walls": _list(lambda v, p, f: (WALL.keys(v, p, f), p)),
        "openings": _list(OPENING),
        "joists": _list(JOIST_ZONE),
        "zones": _list(SPECIAL_ZONE),
        "bulkheads": _list(BULKHEAD),
        "columns": _list(COLUMN),
        "ceiling_parts": _list(CEILING_PART),
        "ceiling_lined": _flag,
        "ceiling_board": _text,
        "finish_level": _finish,
        "carry_in": _not_negative,
        "carry_in_note": _text,
        "storey": _text,
        "choices": _list(SURFACE_CHOICE),
        "bands": _list(NO_JOINT_BAND),
        "kept": _list(KEPT_PART),
        "ceiling_layers": _layers,
    },
    ("id", "name", "outline", "height"),
    "a room",
)


def wall_letters(number: int) -> str:
    """Return the name of the wall at a place in the clockwise outline: A, B, ... Z, AA, AB, ..."""
    name = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, 26)
        name = chr(ord("A") + letter) + name
    return name


def _walls(
    given: list[tuple[dict[str, Any], str]], outline: Ring, path: str, faults: list[Fault]
) -> tuple[Wall, ...]:
    """Give every edge its wall; what is missing gets defaults, ids and letters clockwise."""
    edges = len(outline)
    if len(given) > edges:
        faults.append(
            Fault(
                f"{path}.walls",
                f"there are {len(given)} walls for an outline of {edges} edges; "
                "give at most one for each edge, in the outline's order",
            )
        )
        return ()
    backwards = signed_area(outline) > 0
    ids = {str(keys["id"]) for keys, _ in given if "id" in keys}
    names = {str(keys["name"]) for keys, _ in given if keys.get("name")}
    walls: list[Wall] = []
    for i in range(edges):
        keys = dict(given[i][0]) if i < len(given) else {}
        letter = wall_letters(edges - 1 - i if backwards else i)
        if "id" not in keys:
            keys["id"] = _free(letter.lower(), ids)
            ids.add(keys["id"])
        if not keys.get("name"):
            keys["name"] = _free(letter, names)
            names.add(keys["name"])
        walls.append(Wall(**keys))
    return tuple(walls)


def _free(wanted: str, taken: set[str]) -> str:
    """Return a name not taken yet: the wanted one, or it with a number after it."""
    name, number = wanted, 2
    while name in taken:
        name, number = f"{wanted}-{number}", number + 1
    return name


def _unique(
    items: Iterable[tuple[str, str]], noun: str, faults: list[Fault], key: str = "id"
) -> None:
    """Name every id that is used a second time.

    Args:
        items: Path and id of each item.
        noun: What the items are called.
        faults: Where faults go.
        key: The key that holds the id.
    """
    first: dict[str, str] = {}
    for path, name in items:
        if name in first:
            faults.append(
                Fault(
                    f"{path}.{key}",
                    f'"{name}" is the {key} of {first[name]} already; give each {noun} its own',
                )
            )
        else:
            first[name] = path


def _room(value: object, path: str, faults: list[Fault]) -> Room | None:
    """Read a room: its keys, then what they have to do with each other."""
    before = len(faults)
    got = _ROOM_KEYS.keys(value, path, faults)
    walls: tuple[Wall, ...] = ()
    given: tuple[tuple[dict[str, Any], str], ...] = got.get("walls", ())
    if "outline" in got and len(faults) == before:
        walls = _walls(list(given), got["outline"], path, faults)
    for key, noun in (
        ("openings", "opening"),
        ("joists", "joist zone"),
        ("zones", "special zone"),
        ("bulkheads", "bulkhead"),
        ("columns", "column"),
        ("ceiling_parts", "part of the ceiling"),
        ("bands", "band without joints"),
        ("kept", "part that is not lined"),
    ):
        items = got.get(key, ())
        _unique(((f"{path}.{key}[{i}]", item.id) for i, item in enumerate(items)), noun, faults)
    _unique(((p, str(keys["id"])) for keys, p in given if "id" in keys), "wall", faults)
    _unique(
        ((f"{path}.choices[{i}]", c.surface) for i, c in enumerate(got.get("choices", ()))),
        "choice",
        faults,
        "surface",
    )
    for keys, place in given:
        if keys.get("id") in {CEILING, WHOLE_ROOM}:
            faults.append(
                Fault(f"{place}.id", f'"{keys["id"]}" cannot be the id of a wall; choose another')
            )
    if walls:
        _check_hosts(got, {wall.id for wall in walls}, path, faults)
    for i, band in enumerate(got.get("bands", ())):
        if band.high <= band.low:
            faults.append(
                Fault(
                    f"{path}.bands[{i}].high",
                    f"{_said(band.high)} is not above low, {_said(band.low)}; give a higher place",
                )
            )
    if len(faults) > before:
        return None
    room: Room = Room(**{**got, "walls": walls})
    return clockwise(room)


def _check_hosts(got: dict[str, Any], walls: set[str], path: str, faults: list[Fault]) -> None:
    """Name every opening, zone and bulkhead that hangs on a wall that is not there."""
    for key, attribute, others in (
        ("openings", "host", (CEILING,)),
        ("zones", "host", (CEILING, WHOLE_ROOM)),
        ("bulkheads", "wall", ()),
        ("bands", "host", ()),
        ("kept", "host", (CEILING,)),
    ):
        for i, item in enumerate(got.get(key, ())):
            host = getattr(item, attribute)
            if host not in walls and host not in others:
                known = ", ".join((*sorted(walls), *others))
                faults.append(
                    Fault(
                        f"{path}.{key}[{i}].{attribute}",
                        f"there is no {_said(host)} in this room; give one of {known}",
                    )
                )


_PROJECT = Record(
    Project,
    {
        "id": _id,
        "name": _named,
        "units": _word(Units),
        "practice": _text,
        "building_year": _count,
        "rooms": _list(_room),
        "choices": CHOICES,
        "overrides": _overrides,
        "currency": _currency,
        "prices": _list(PRICE),
        "acknowledged": _list(ACKNOWLEDGEMENT),
        "measured_by": _text,
        "measured_on": _day,
        "issue": _text,
        "variants": _list(VARIANT),
        "weights": WEIGHTS,
        "issues": _list(ISSUED),
        "done": _list(DONE_PIECE),
        "keep_issued": _flag,
        "offcuts": _list(SITE_OFFCUT),
        "cutting": _list(ADOPTED_SHEET),
    },
    ("id", "name"),
    "a project",
)
RECORDS: dict[str, Record] = {
    "project": _PROJECT,
    "room": _ROOM_KEYS,
    "wall": WALL,
    "opening": OPENING,
    "joist_zone": JOIST_ZONE,
    "special_zone": SPECIAL_ZONE,
    "bulkhead": BULKHEAD,
    "column": COLUMN,
    "ceiling_part": CEILING_PART,
    "butt": BUTT,
    "first_course": FIRST_COURSE,
    "surface_choice": SURFACE_CHOICE,
    "choices": CHOICES,
    "acknowledgement": ACKNOWLEDGEMENT,
    "price": PRICE,
    "variant_room": VARIANT_ROOM,
    "variant": VARIANT,
    "weights": WEIGHTS,
    "site_offcut": SITE_OFFCUT,
    "adopted_sheet": ADOPTED_SHEET,
    "adopted_piece": ADOPTED_PIECE,
    "issued": ISSUED,
    "issued_surface": ISSUED_SURFACE,
    "issued_piece": ISSUED_PIECE,
    "issued_joint": ISSUED_JOINT,
    "issued_trimmer": ISSUED_TRIMMER,
    "issued_opening": ISSUED_OPENING,
    "issued_line": ISSUED_LINE,
    "issued_sheet": ISSUED_SHEET,
    "done_piece": DONE_PIECE,
}
"""Every object a project file is made of, by its name in the JSON Schema."""


# ------------------------------------------------------------------------------------------------
# Whole files


def load(path: Path, migrations: Migrations = MIGRATIONS) -> Loaded:
    """Load a project file.

    Args:
        path: The file.
        migrations: Steps that bring older schemas up to date.

    Returns:
        The project, or everything that is wrong with the file.
    """
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        return _nothing("there is no such file; check its name and folder")
    except IsADirectoryError:
        return _nothing("this is a folder; give the project file in it")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        return _nothing(f"the file cannot be opened ({reason}); check its name and your rights")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return _nothing("the file is not text in UTF-8, so it is no project file")
    return read(text, migrations)


def _nothing(sentence: str) -> Loaded:
    return Loaded(None, (Fault("", sentence),))


def read(text: str, migrations: Migrations = MIGRATIONS) -> Loaded:
    """Read the text of a project file; see :func:`load`."""
    faults: list[Fault] = []

    def pairs(items: list[tuple[str, Any]]) -> dict[str, Any]:
        seen: set[str] = set()
        for key, _ in items:
            if key in seen:
                faults.append(Fault(_key(key), "this key stands twice in one object; drop one"))
            seen.add(key)
        return dict(items)

    try:
        raw = json.loads(text, object_pairs_hook=pairs)
    except json.JSONDecodeError as error:
        if not text.strip():
            return _nothing("the file is empty, so it is no project file")
        return _nothing(
            f"the file is not JSON: at line {error.lineno}, column {error.colno} "
            f"there should be something else ({error.msg})"
        )
    except (ValueError, RecursionError):
        return _nothing("the file has numbers too long or brackets too deep to be a project file")
    if not isinstance(raw, dict):
        return _nothing("the file holds no project; a project is an object in { }")
    fault = _schema_fault(raw, migrations)
    if fault is not None:
        return Loaded(None, (fault,))
    raw = migrations.bring_up(raw)
    raw.pop("schema")
    project: Project | None = _project(raw, faults)
    return Loaded(None, tuple(faults)) if faults else Loaded(project)


def _schema_fault(raw: dict[str, Any], migrations: Migrations) -> Fault | None:
    """Say why a file of this schema cannot be read, or return None."""
    newest = migrations.newest
    if "schema" not in raw:
        return Fault("schema", f"it is missing; a project file of today has {SCHEMA} there")
    schema = raw["schema"]
    if isinstance(schema, bool) or not isinstance(schema, int) or schema < 1:
        return Fault("schema", f"{_said(schema)} is no schema number; it is a number from 1 up")
    if schema > newest:
        return Fault(
            "schema",
            f"the file was written by a newer roomboard (schema {_said(schema)}, known here up to "
            f"{newest}); use that one, or a newer one, to open it",
        )
    return None


def _project(raw: dict[str, Any], faults: list[Fault]) -> Project | None:
    before = len(faults)
    got = _PROJECT.keys(raw, "", faults)
    raw_rooms = raw.get("rooms")
    if isinstance(raw_rooms, list):
        # Asked of the raw rooms, so that a fault elsewhere in a room does not hide this one.
        _unique(
            (
                (f"rooms[{i}]", room["id"])
                for i, room in enumerate(raw_rooms)
                if isinstance(room, dict) and isinstance(room.get("id"), str)
            ),
            "room",
            faults,
        )
    _unique(
        ((f"prices[{i}]", p.item) for i, p in enumerate(got.get("prices", ()))),
        "price",
        faults,
        "item",
    )
    _unique(
        ((f"offcuts[{i}]", o.id) for i, o in enumerate(got.get("offcuts", ()))),
        "offcut on site",
        faults,
    )
    _check_variants(got.get("variants", ()), faults)
    _unique(
        (
            (f"done[{i}].piece", f"{d.surface} {', '.join(f'{x:g}' for x in d.piece.at)}")
            for i, d in enumerate(got.get("done", ()))
        ),
        "piece that is cut or hung",
        faults,
        "at",
    )
    _unique(
        ((f"issues[{i}]", x.letter) for i, x in enumerate(got.get("issues", ()))),
        "issue",
        faults,
        "letter",
    )
    return None if len(faults) > before else Project(**got)


def _check_variants(variants: tuple[Variant, ...], faults: list[Fault]) -> None:
    """Name every name, room and surface that stands twice."""
    _unique(((f"variants[{i}]", v.name) for i, v in enumerate(variants)), "variant", faults, "name")
    for i, variant in enumerate(variants):
        path = f"variants[{i}].rooms"
        _unique(
            ((f"{path}[{k}]", room) for k, (room, _) in enumerate(variant.rooms)),
            "room of a variant",
            faults,
            "room",
        )
        for k, (_, choices) in enumerate(variant.rooms):
            _unique(
                ((f"{path}[{k}].choices[{n}]", c.surface) for n, c in enumerate(choices)),
                "choice",
                faults,
                "surface",
            )


def write(project: Project) -> str:
    """Return the text of a project file: JSON, keys sorted, nothing left out.

    Raises:
        ValueError: If a length is not a finite number.
    """
    content = {**_record(project), "schema": SCHEMA}
    return json.dumps(content, ensure_ascii=False, allow_nan=False, indent=2, sort_keys=True) + "\n"


def _record(value: Any) -> dict[str, object]:  # noqa: ANN401 - any type of the model
    """Turn one record of the model into a JSON object with all its fields."""
    found = {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Project):
        found["overrides"] = {key: _plain(figure) for key, figure in value.overrides}
    elif isinstance(value, SurfaceChoice):
        found["butts"] = [
            {"field": field, "course": course, "at": _plain(at)}
            for field, course, at in value.butts
        ]
        found["first_course"] = [
            {"field": field, "width": _plain(width)} for field, width in value.first_course
        ]
    elif isinstance(value, Variant):
        found["rooms"] = [
            {"room": room, "choices": _plain(choices)} for room, choices in value.rooms
        ]
    elif isinstance(value, IssuedPiece):
        found["outline"] = rings_text(value.outline)
        found["at"] = points_text((value.at[:2], value.at[2:]))
        found["stock"] = points_text((value.stock,))
        found["on"] = points_text((value.on,))
    elif isinstance(value, IssuedSurface):
        found["outline"] = rings_text(value.outline)
    elif isinstance(value, IssuedJoint | IssuedTrimmer):
        found["ends"] = points_text(value.ends)
    elif isinstance(value, IssuedOpening):
        found["at"] = points_text((value.at[:2], value.at[2:]))
    return found


def _plain(value: object) -> object:
    """Turn a value of the model into what JSON knows; whole numbers lose their ``.0``."""
    if is_dataclass(value):
        return _record(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def normal(project: Project) -> Project:
    """Return the project as it would be loaded: outlines clockwise, overrides in order of key."""
    return replace(
        project,
        rooms=tuple(clockwise(room) for room in project.rooms),
        overrides=tuple(sorted(project.overrides, key=lambda item: item[0])),
    )


def save(project: Project, path: Path) -> None:
    """Save a project, replacing the old file all at once.

    Args:
        project: What to save.
        path: Where; a link is followed.

    Raises:
        NotSavedError: If it cannot be written there; an old file is left as it was.
    """
    try:
        text = write(project)
    except ValueError:
        raise NotSavedError(
            "The project was not saved: one of its lengths is not a finite number."
        ) from None
    write_whole(path, text.encode())


def write_whole(path: Path, content: bytes) -> None:
    """Write a file all at once: the old one stands until the new one is safely on the disk.

    Raises:
        NotSavedError: If it cannot be written there; an old file is left as it was.
    """
    temporary = ""
    try:
        target = Path(os.path.realpath(path))
        if target.is_dir():
            raise IsADirectoryError(EISDIR, "it is a folder")
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}-", dir=target.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(temporary).chmod(_mode_for(target))
        Path(temporary).replace(target)
    except (OSError, ValueError) as error:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
        reason = getattr(error, "strerror", None) or str(error)
        raise NotSavedError(
            f"{path} was not written ({reason}); check its folder, your rights and the free space."
        ) from None


def _mode_for(target: Path) -> int:
    """Return the rights of the file to be replaced, or those of any new file."""
    try:
        return target.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
