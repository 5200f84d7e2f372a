"""How an issue and the pieces done are read from a project file.

Places of an imprint are kept as short text.
"""

from collections.abc import Callable
from typing import Any

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
from roomboard.storage.imprint_text import read_pair, read_place, read_rings
from roomboard.storage.read_values import (
    Fault,
    Reader,
    Record,
    list_of,
    one_of,
    read_count,
    read_day,
    read_flag,
    read_not_negative,
    read_number,
    read_text,
    said,
)


def _coded(decode: Callable[[str], Any], what: str) -> Reader:
    """Make the reader of places that an issue keeps as short text."""

    def read(value: object, path: str, faults: list[Fault]) -> object:
        found = decode(value) if isinstance(value, str) else None
        if found is None:
            faults.append(Fault(path, f"{said(value)} is not {what}"))
        return found

    return read


def _read_extent(text: str) -> Extent | None:
    pair = read_pair(text)
    return None if pair is None else (*pair[0], *pair[1])


_RINGS = _coded(read_rings, "an outline; give its corners, e.g. 0,0 3580,0 3580,1200")
_ENDS = _coded(read_pair, "two places; give both, e.g. 0,0 3580,0")
_EXTENT = _coded(_read_extent, "a box; give two opposite corners, e.g. 0,0 3580,1200")
_SIZE = _coded(read_place, "a length and a width; give both, e.g. 3600,1200")


def _letter(value: object, path: str, faults: list[Fault]) -> str | None:
    if isinstance(value, str) and is_letter(value):
        return value
    faults.append(Fault(path, f"{said(value)} is no letter of an issue; give e.g. A"))
    return None


def _two_marks(value: object, path: str, faults: list[Fault]) -> tuple[str, str] | None:
    marks: tuple[str, ...] | None = list_of(read_text)(value, path, faults)
    if marks is None:
        return None
    if len(marks) != 2:
        faults.append(Fault(path, f"{said(value)} are not the marks of two pieces; give two"))
        return None
    return (marks[0], marks[1])


ISSUED_PIECE = Record(
    IssuedPiece,
    {
        "mark": read_text,
        "board": read_text,
        "low": read_text,
        "high": read_text,
        "sheet": read_text,
        "stock": _SIZE,
        "outline": _RINGS,
        "at": _EXTENT,
        "on": _SIZE,
        "turned": read_flag,
    },
    ("mark", "board", "low", "high", "sheet", "stock", "outline", "at"),
    "a piece as issued",
)
ISSUED_JOINT = Record(
    IssuedJoint,
    {"kind": read_text, "pieces": _two_marks, "ends": _ENDS},
    ("kind", "pieces", "ends"),
    "a joint as issued",
)
ISSUED_TRIMMER = Record(
    IssuedTrimmer,
    {"tag": read_text, "ends": _ENDS, "length": read_not_negative},
    ("tag", "ends", "length"),
    "timber as issued",
)
ISSUED_OPENING = Record(
    IssuedOpening, {"id": read_text, "at": _EXTENT}, ("id", "at"), "an opening as issued"
)
ISSUED_SURFACE = Record(
    IssuedSurface,
    {
        "ref": read_text,
        "name": read_text,
        "outline": _RINGS,
        "openings": list_of(ISSUED_OPENING),
        "pieces": list_of(ISSUED_PIECE),
        "joints": list_of(ISSUED_JOINT),
        "trimmers": list_of(ISSUED_TRIMMER),
        "fasteners": read_count,
        "daubs": read_count,
        "back_blocks": read_count,
        "held": read_text,
    },
    ("ref", "name", "outline"),
    "a surface as issued",
)
ISSUED_LINE = Record(
    IssuedLine,
    {
        "code": read_text,
        "name": read_text,
        "unit": read_text,
        "total": lambda v, p, f: read_number(v, p, f, "an amount"),
    },
    ("code", "name", "unit", "total"),
    "a line of the order as issued",
)
ISSUED_SHEET = Record(
    IssuedSheet,
    {
        "title": read_text,
        "room": read_text,
        "kind": read_text,
        "number": read_count,
        "imprint": read_text,
        "letter": read_text,
    },
    ("title", "number", "imprint"),
    "a sheet as issued",
)
ISSUED = Record(
    Issued,
    {
        "letter": _letter,
        "date": read_day,
        "by": read_text,
        "note": read_text,
        "form": read_text,
        "surfaces": list_of(ISSUED_SURFACE),
        "lines": list_of(ISSUED_LINE),
        "sheets": list_of(ISSUED_SHEET),
    },
    ("letter", "date"),
    "an issue",
)
DONE_PIECE = Record(
    DonePiece,
    {
        "state": one_of(DoneState),
        "surface": read_text,
        "piece": ISSUED_PIECE,
        "beside": list_of(read_text),
    },
    ("state", "surface", "piece"),
    "a piece that is cut or hung",
)
