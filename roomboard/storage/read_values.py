"""Values and records of a project file, read with every fault named by its path.

Each reader takes a value, its path and the list of faults, and returns what belongs into the
project, or None once it has named a fault.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from enum import StrEnum
from math import isfinite
from typing import Any

from roomboard.core.heights import STEEPEST
from roomboard.core.plane import Point, Ring, fault_in, same
from roomboard.core.project import MOST_LAYERS

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


Reader = Callable[[object, str, list[Fault]], Any]


def said(value: object) -> str:
    """Return a wrong value as the file has it, shortened."""
    text = json.dumps(value)
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"


def read_text(value: object, path: str, faults: list[Fault]) -> str | None:
    """Read one line of text."""
    if not isinstance(value, str):
        faults.append(Fault(path, f"{said(value)} is not text; put it in quotes"))
        return None
    if any(not c.isprintable() for c in value):
        faults.append(
            Fault(path, f"{said(value)} has a line break or an unprintable sign; take it out")
        )
        return None
    return value


def read_id(value: object, path: str, faults: list[Fault]) -> str | None:
    """Read an id: letters, digits and hyphens."""
    if not isinstance(value, str) or not _ID.fullmatch(value):
        faults.append(
            Fault(path, f"{said(value)} is not an id; use letters, digits and - only, e.g. bed-1")
        )
        return None
    return value


def read_flag(value: object, path: str, faults: list[Fault]) -> bool | None:
    """Read true or false."""
    if not isinstance(value, bool):
        faults.append(Fault(path, f"{said(value)} is neither true nor false; give one of them"))
        return None
    return value


def read_number(value: object, path: str, faults: list[Fault], what: str) -> float | None:
    """Read a finite number; ``what`` says what to give instead of anything else."""
    number = float("nan")
    if isinstance(value, int | float) and not isinstance(value, bool):
        try:
            number = float(value)
        except OverflowError:
            number = float("inf")
    if not isfinite(number):
        faults.append(Fault(path, f"{said(value)} is not a number; give {what}"))
        return None
    return number


def read_mm(value: object, path: str, faults: list[Fault]) -> float | None:
    """Read a length or place in mm, of either sign."""
    number = read_number(value, path, faults, "a length in mm")
    if number is not None and abs(number) > _FARTHEST:
        faults.append(Fault(path, f"{said(value)} mm is too far for a room; give a length in mm"))
        return None
    return number


def read_not_negative(value: object, path: str, faults: list[Fault]) -> float | None:
    """Read a length of 0 mm or more."""
    number = read_mm(value, path, faults)
    if number is not None and number < 0:
        faults.append(Fault(path, f"{said(value)} is less than nothing; give a length in mm"))
        return None
    return number


def read_positive(value: object, path: str, faults: list[Fault]) -> float | None:
    """Read a length above 0 mm."""
    number = read_mm(value, path, faults)
    if number is not None and number <= 0:
        faults.append(Fault(path, f"{said(value)} is no length; give one above 0 mm"))
        return None
    return number


def read_amount(value: object, path: str, faults: list[Fault]) -> float | None:
    """Read a number of 0 or more."""
    number = read_number(value, path, faults, "0 or more")
    if number is not None and number < 0:
        faults.append(Fault(path, f"{said(value)} is less than nothing; give 0 or more"))
        return None
    return number


def read_count(value: object, path: str, faults: list[Fault]) -> int | None:
    """Read a whole number of 0 or more."""
    number = read_number(value, path, faults, "a whole number")
    if number is not None and not (number.is_integer() and 0 <= number <= _HIGHEST_COUNT):
        faults.append(Fault(path, f"{said(value)} is not a whole number from 0 up"))
        return None
    return None if number is None else int(number)


def count_between(noun: str, low: int, high: int) -> Reader:
    """Return a reader of a whole number within limits."""

    def reads(value: object, path: str, faults: list[Fault]) -> int | None:
        count = read_count(value, path, faults)
        if count is not None and not low <= count <= high:
            faults.append(Fault(path, f"{said(value)} is no {noun}; give {low} to {high}"))
            return None
        return count

    return reads


read_layers = count_between("number of layers", 1, MOST_LAYERS)


def read_finish(value: object, path: str, faults: list[Fault]) -> int | None:
    """Read a level of finish."""
    level = read_count(value, path, faults)
    if level is not None and level > _HIGHEST_FINISH:
        faults.append(Fault(path, f"{level} is no level of finish; give 0 to {_HIGHEST_FINISH}"))
        return None
    return level


def read_currency(value: object, path: str, faults: list[Fault]) -> str | None:
    """Read the three letters of a currency, or nothing."""
    if value == "" or (isinstance(value, str) and re.fullmatch(r"[A-Z]{3}", value)):
        return str(value)
    faults.append(
        Fault(
            path,
            f"{said(value)} is no currency; give its three letters, e.g. EUR, or leave it empty",
        )
    )
    return None


def read_day(value: object, path: str, faults: list[Fault]) -> str | None:
    """Read a date, year-month-day, or nothing."""
    if value == "":
        return ""
    try:
        if isinstance(value, str) and date.fromisoformat(value).isoformat() == value:
            return value
    except ValueError:
        pass
    faults.append(Fault(path, f"{said(value)} is no date; give year-month-day, e.g. 2025-03-31"))
    return None


def one_of(kind: type[StrEnum]) -> Reader:
    """Make the reader of one word out of a fixed list."""

    def read(value: object, path: str, faults: list[Fault]) -> StrEnum | None:
        words = [word.value for word in kind]
        if isinstance(value, str) and value in words:
            return kind(value)
        faults.append(
            Fault(path, f"{said(value)} is not known here; give one of {', '.join(words)}")
        )
        return None

    return read


def or_null(reader: Reader) -> Reader:
    """Make a reader that takes null as well (it stands for None)."""

    def read(value: object, path: str, faults: list[Fault]) -> object:
        return None if value is None else reader(value, path, faults)

    return read


def list_of(reader: Reader) -> Reader:
    """Make the reader of a list whose items are all of one kind."""

    def read(value: object, path: str, faults: list[Fault]) -> tuple[Any, ...] | None:
        if not isinstance(value, list):
            faults.append(Fault(path, f"{said(value)} is not a list; put it in [ ]"))
            return None
        before = len(faults)
        items = tuple(reader(item, f"{path}[{i}]", faults) for i, item in enumerate(value))
        return None if len(faults) > before else items

    return read


def read_point(value: object, path: str, faults: list[Fault]) -> Point | None:
    """Read a corner, ``[x, y]`` in mm."""
    if not isinstance(value, list) or len(value) != 2:
        faults.append(
            Fault(path, f"{said(value)} is not a corner; give [x, y] in mm, e.g. [3580, 0]")
        )
        return None
    x, y = (read_mm(v, f"{path}[{i}]", faults) for i, v in enumerate(value))
    return None if x is None or y is None else (x, y)


def read_outline(value: object, path: str, faults: list[Fault]) -> Ring | None:
    """Read the corners of a simple outline; it may be closed by its first corner."""
    corners: Ring | None = list_of(read_point)(value, path, faults)
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


def read_zone_outline(value: object, path: str, faults: list[Fault]) -> Ring | None:
    """Read an outline that may be empty, which stands for all of the ceiling."""
    return () if value == [] else read_outline(value, path, faults)


def read_pitch(value: object, path: str, faults: list[Fault]) -> float | None:
    """Read the pitch of a ceiling in degrees."""
    number = read_number(value, path, faults, "an angle in degrees")
    if number is not None and not 0 <= number <= STEEPEST:
        faults.append(
            Fault(path, f"{said(value)} is no pitch of a ceiling; give 0 to {STEEPEST:g} degrees")
        )
        return None
    return number


def _figure(value: object, path: str, faults: list[Fault]) -> float | str | None:
    if isinstance(value, str):
        return read_text(value, path, faults)
    return read_number(value, path, faults, "a number or a word in quotes")


def read_overrides(
    value: object, path: str, faults: list[Fault]
) -> tuple[tuple[str, Any], ...] | None:
    """Read the figures that stand in for those of the pack, in order of key."""
    if not isinstance(value, dict):
        faults.append(
            Fault(path, f"{said(value)} is not a set of figures; give {{ }} with a value per key")
        )
        return None
    before = len(faults)
    found = tuple((key, _figure(value[key], f"{path}.{key}", faults)) for key in sorted(value))
    return None if len(faults) > before else found


def read_name(value: object, path: str, faults: list[Fault]) -> str | None:
    """Read a text that must not be empty."""
    text = read_text(value, path, faults)
    if text is not None and not text.strip():
        faults.append(Fault(path, "it is empty; give a name"))
        return None
    return text


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
            faults.append(Fault(path, f"{said(value)} is not {self.noun}; put it in {{ }}"))
            return {}
        dot = f"{path}." if path else ""
        got: dict[str, Any] = {}
        faults.extend(
            Fault(f"{dot}{key_in_path(key)}", self.unknown(key))
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


def key_in_path(key: str) -> str:
    """Return a key of the file for use in a path: shortened, unprintable signs escaped."""
    return key if key.isprintable() and key and len(key) <= _SHOWN else said(key)


def name_twice(
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
