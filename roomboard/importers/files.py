"""Rooms from a file of another program, read by its ending."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.units import FOOT, INCH
from roomboard.importers.outlines import Drawing, open_drawing, rooms_of_drawing
from roomboard.importers.room_list import rooms_of_list
from roomboard.importers.taken import Taken, TakeOverError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from roomboard.core.project import Units

LISTS = (".csv", ".tsv", ".txt")
"""Endings of tables with one room a row."""

DRAWINGS = (".dxf",)
"""Endings of drawings with a closed outline for each room."""

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": float(INCH), "ft": float(FOOT)}
"""Millimetres in the units a drawing may be said to be in."""


def rooms_from(
    path: Path,
    units: Units,
    height: float = 0.0,
    *,
    layers: Sequence[str] = (),
    unit: str = "",
    taken_ids: Iterable[str] = (),
    drawing: Drawing | None = None,
) -> Taken:
    """Read the rooms of a file.

    Args:
        path: A table (`LISTS`) or a drawing (`DRAWINGS`).
        units: How numbers without a unit are read, and lengths said.
        height: Floor to ceiling framing of every room of a drawing, mm; a table has its own.
        layers: Layers of a drawing to read; none for all.
        unit: One of `UNITS` in which a drawing is drawn; empty to take what it states.
        taken_ids: Ids of rooms there are already.
        drawing: The file, where it is a drawing that was opened before.

    Raises:
        TakeOverError: If nothing can be taken; every reason is said.
    """
    ending = path.suffix.lower()
    if ending in LISTS:
        return rooms_of_list(_text(path), units, taken_ids)
    if ending not in DRAWINGS:
        known = ", ".join((*LISTS, *DRAWINGS))
        raise TakeOverError([f"{path} has an ending that is not known; known are {known}."])
    if height <= 0:
        raise TakeOverError([f"{path} holds no heights; say how high its rooms are."])
    return rooms_of_drawing(
        drawing or open_drawing(path),
        units,
        height,
        layers=layers,
        unit=UNITS[unit] if unit else 0.0,
        taken_ids=taken_ids,
    )


def _text(path: Path) -> str:
    """A table's text, in whichever of the usual ways it was saved."""
    try:
        content = path.read_bytes()
    except OSError as fault:
        raise TakeOverError([f"{path} cannot be read: {fault.strerror}."]) from None
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")
