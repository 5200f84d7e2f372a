"""What size an opening gets where none of its kind has been put in yet, and how high rooms are."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

from roomboard.core.plane import snap
from roomboard.core.project import OpeningKind, Units
from roomboard.core.units import INCH
from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.resources import resource_text

FILE = "usual_sizes.toml"
_KEYS = {"kind", "units", "width", "height", "bottom", "is_round"}
_SIZES = ("width", "height", "bottom")
BOXES = ("bulkhead", "column")
"""Boxes that have a usual size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualSize:
    """The size an opening of a kind begins with.

    Attributes:
        kind: What the opening is for.
        width: mm.
        height: mm; the second size in plan for a ceiling.
        bottom: From the floor to its lower side, mm.
        is_round: Whether it is a circle of diameter ``width``.
    """

    kind: OpeningKind
    width: float
    height: float
    bottom: float
    is_round: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualSizes:
    """Everything a measured room begins with.

    Attributes:
        openings: Sizes of openings by kind and units.
        heights: From floor to ceiling framing by units, mm.
        boxes: The two sizes of a bulkhead or a column by what it is and units, mm.
    """

    openings: dict[tuple[OpeningKind, Units], UsualSize]
    heights: dict[Units, float]
    boxes: dict[tuple[str, Units], tuple[float, float]]


def read_usual_sizes(text: str, where: str) -> UsualSizes:
    """Return the usual sizes written in a file, one for each kind in each units.

    Args:
        text: The file's text, TOML; sizes in feet-and-inch units are written in inches.
        where: The file's name, for messages.

    Raises:
        CatalogueError: If anything in it is wrong; all faults are named.
    """
    faults: list[str] = []
    found: dict[tuple[OpeningKind, Units], UsualSize] = {}
    heights: dict[Units, float] = {}
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise CatalogueError(where, (str(fault),)) from fault
    for table in whole.get("height", []):
        units, height = table.get("units"), table.get("height")
        if units in {u.value for u in Units} and isinstance(height, int | float) and height > 0:
            heights[Units(units)] = snap(height * _scale(Units(units)))
        else:
            faults.append("height: units and a length are wanted")
    boxes = _boxes(whole.get("box", []), faults)
    for number, table in enumerate(whole.get("size", []), 1):
        wrong = _faults(table)
        if wrong:
            faults += [f"size {number}: {words}" for words in wrong]
            continue
        kind, units = OpeningKind(table["kind"]), Units(table["units"])
        scale = _scale(units)
        found[kind, units] = UsualSize(
            kind=kind,
            width=snap(table["width"] * scale),
            height=snap(table["height"] * scale),
            bottom=snap(table["bottom"] * scale),
            is_round=table.get("is_round", False),
        )
    faults += [
        f"no size for a {kind.value} in {units.value}"
        for units in Units
        for kind in OpeningKind
        if (kind, units) not in found
    ]
    faults += [f"no height of rooms in {u.value}" for u in Units if u not in heights]
    if faults:
        raise CatalogueError(where, tuple(faults))
    return UsualSizes(openings=found, heights=heights, boxes=boxes)


def _boxes(
    tables: list[dict[str, Any]], faults: list[str]
) -> dict[tuple[str, Units], tuple[float, float]]:
    """Read the sizes of boxes, noting what is wrong with them."""
    found: dict[tuple[str, Units], tuple[float, float]] = {}
    for number, table in enumerate(tables, 1):
        sizes = table.get("sizes")
        known = table.get("kind") in BOXES and table.get("units") in {u.value for u in Units}
        if (
            not known
            or not isinstance(sizes, list)
            or len(sizes) != 2
            or not all(isinstance(s, int | float) and s > 0 for s in sizes)
        ):
            faults.append(f"box {number}: kind, units and two sizes above nothing are wanted")
            continue
        units = Units(table["units"])
        scale = _scale(units)
        found[table["kind"], units] = (snap(sizes[0] * scale), snap(sizes[1] * scale))
    faults += [
        f"no size for a {kind} in {units.value}"
        for kind in BOXES
        for units in Units
        if (kind, units) not in found
    ]
    return found


def _scale(units: Units) -> float:
    return float(INCH) if units is Units.FEET_INCHES else 1.0


def _faults(table: dict[str, Any]) -> list[str]:
    """Return what is wrong with one row."""
    wrong = [f"{key} is not known" for key in sorted(set(table) - _KEYS)]
    for key, kinds in (("kind", OpeningKind), ("units", Units)):
        if table.get(key) not in {k.value for k in kinds}:
            wrong.append(f"{key} must be one of {', '.join(k.value for k in kinds)}")
    for key in _SIZES:
        value = table.get(key)
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or value < 0
            or (key != "bottom" and value == 0)
        ):
            wrong.append(f"{key} must be a length")
    if not isinstance(table.get("is_round", False), bool):
        wrong.append("is_round must be true or false")
    return wrong


@cache
def _shipped() -> UsualSizes:
    return read_usual_sizes(resource_text(FILE), FILE)


def usual_size(kind: OpeningKind, units: Units) -> UsualSize:
    """Return the size an opening of a kind begins with.

    Args:
        kind: What the opening is for.
        units: The project's units.
    """
    return _shipped().openings[kind, units]


def usual_box(kind: str, units: Units) -> tuple[float, float]:
    """Return the two sizes a bulkhead or a column begins with, mm.

    Args:
        kind: ``"bulkhead"``: its depth out from the wall and its drop; ``"column"``: its sizes
            along x and along y.
        units: The project's units.
    """
    return _shipped().boxes[kind, units]


def usual_room_height(units: Units) -> float:
    """Return the height from floor to ceiling framing of a room whose height was not typed, mm.

    Args:
        units: The project's units.
    """
    return _shipped().heights[units]
