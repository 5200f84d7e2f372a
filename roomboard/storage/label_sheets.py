"""Sheets of labels and the page for a telephone, read from the resources."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache

from roomboard.drawing.labels import LabelSheet
from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.resources import resource_text

FILE = ("drafting", "labels.toml")
_COUNTS = ("columns", "rows")
_LENGTHS = (
    "width",
    "height",
    "label_width",
    "label_height",
    "left",
    "top",
    "pitch_x",
    "pitch_y",
    "inset",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PhonePage:
    """The page that is read on a telephone.

    Attributes:
        width: mm.
        height: mm.
        margin: Blank round it, mm.
    """

    width: float
    height: float
    margin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheets:
    """Everything the file states.

    Attributes:
        sheets: Sheets of labels by their short names, in the file's order.
        phone: The page for a telephone.
    """

    sheets: dict[str, LabelSheet]
    phone: PhonePage


def read_label_sheets(text: str, where: str) -> LabelSheets:
    """Return the sheets written in a file.

    Args:
        text: The file's text, TOML.
        where: The file's name, for messages.

    Raises:
        CatalogueError: If a sheet lacks a size, or its labels do not fit on it.
    """
    data = tomllib.loads(text)
    sheets = {name: _sheet(name, row, where) for name, row in data["sheet"].items()}
    phone = data["phone"]
    sizes = {key: _length(phone, key, f"{where}, phone") for key in ("width", "height", "margin")}
    return LabelSheets(sheets=sheets, phone=PhonePage(**sizes))


def _sheet(name: str, row: dict[str, object], where: str) -> LabelSheet:
    place = f"{where}, sheet {name}"
    sizes = {key: _length(row, key, place) for key in _LENGTHS}
    counts = {key: round(_length(row, key, place)) for key in _COUNTS}
    sheet = LabelSheet(id=name, words=str(row["words"]), **sizes, **counts)  # type: ignore[arg-type]
    right = sheet.left + (sheet.columns - 1) * sheet.pitch_x + sheet.label_width
    low = sheet.top + (sheet.rows - 1) * sheet.pitch_y + sheet.label_height
    if right > sheet.width or low > sheet.height:
        raise CatalogueError(place, ("the labels reach over the edge of the sheet",))
    return sheet


def _length(row: dict[str, object], key: str, place: str) -> float:
    value = row.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float) or value < 0:
        raise CatalogueError(place, (f"{key} must be a number of mm, 0 or more",))
    return float(value)


@cache
def label_sheets() -> LabelSheets:
    """Return the sheets of labels and the telephone's page that come with the program."""
    return read_label_sheets(resource_text(*FILE), FILE[-1])
