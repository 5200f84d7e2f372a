"""Rooms from a list: a table of measured sizes as spreadsheets save it (CSV, RFC 4180)."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing import EditError
from roomboard.core.editing.rooms import rectangle
from roomboard.core.measure import read_joists
from roomboard.core.units import Refusal, read_length
from roomboard.importers.taken import Taken, TakeOverError

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from roomboard.core.project import JoistZone, Room, Units

NEEDED = ("room", "width", "depth", "height")
"""Columns that every list has; width is along x, depth along y."""

FREE = ("joists", "studs", "floor", "carry in")
"""Columns that a list may have."""

_BETWEEN = (",", ";", "\t")


def rooms_of_list(text: str, units: Units, taken_ids: Iterable[str] = ()) -> Taken:
    """Read rectangular rooms from a table, one room a row.

    The first row names the columns: ``room``, ``width`` (along x), ``depth`` (along y) and
    ``height`` stand in every list; ``joists`` (``along y at 450``), ``studs`` (their centres),
    ``floor`` and ``carry in`` (the longest sheet that can be carried in) may. Other columns are
    left out and named. Lengths are typed as anywhere else. Values stand between commas,
    semicolons or tabs, whichever the first row has most of.

    Args:
        text: The file's text.
        units: How a number without a unit is read.
        taken_ids: Ids of rooms there are already.

    Raises:
        TakeOverError: If the table has no such first row, no rows, or rows that cannot be read;
            every fault is said, with its row.
    """
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    between = max(_BETWEEN, key=plain.partition("\n")[0].count)
    try:
        rows = list(csv.reader(io.StringIO(plain), delimiter=between))
    except csv.Error as fault:
        raise TakeOverError([f"The list cannot be read as a table: {fault}."]) from None
    head = [" ".join(name.split()).lower() for name in rows[0]] if rows else []
    faults = [f"The first row names no column “{name}”." for name in NEEDED if name not in head]
    faults += [
        f"The first row names “{name}” twice; leave one out."
        for name in sorted({name for name in head if name})
        if head.count(name) > 1
    ]
    if faults:
        known = ", ".join(NEEDED)
        raise TakeOverError([*faults, f"Begin the list with a row such as: {known}."])
    left_out = [
        f"Column “{name}” was left out; known are {', '.join((*NEEDED, *FREE))}."
        for name in head
        if name and name not in (*NEEDED, *FREE)
    ]
    used, rooms = list(taken_ids), []
    for number, row in enumerate(rows[1:], 2):
        cells = dict(zip(head, (cell.strip() for cell in row), strict=False))
        if any(cell.strip() for cell in row[len(head) :]):
            faults.append(
                f"Row {number} has more values than the first row has names; put quotes round a "
                "value with a comma in it, or semicolons between all values."
            )
            continue
        if not any(cells.values()):
            continue
        room, wrong = _room(cells, units, used)
        faults += [f"Row {number}: {sentence}" for sentence in wrong]
        if room is not None:
            used.append(room.id)
            rooms.append(room)
    if faults:
        raise TakeOverError(faults)
    if not rooms:
        raise TakeOverError(["The list has no room under its first row; write one room a row."])
    return Taken(tuple(rooms), tuple(left_out))


def _room(
    cells: Mapping[str, str], units: Units, used: Iterable[str]
) -> tuple[Room | None, list[str]]:
    """One row as a room, or everything wrong with it."""
    faults: list[str] = []

    def length(name: str) -> float:
        read = read_length(cells.get(name, ""), units)
        if isinstance(read, Refusal):
            faults.append(f"{name}: {read.sentence}")
            return 0.0
        return read.mm

    width, depth, height = length("width"), length("depth"), length("height")
    studs = length("studs") if cells.get("studs") else 0.0
    carried = length("carry in") if cells.get("carry in") else 0.0
    joists: tuple[JoistZone, ...] = ()
    if cells.get("joists"):
        read = read_joists(cells["joists"], units)
        if isinstance(read, Refusal):
            faults.append(f"joists: {read.sentence}")
        else:
            joists = (read,)
    if faults:
        return None, faults
    try:
        room = rectangle(cells.get("room", ""), width, depth, height, used)
    except EditError as refused:
        return None, [refused.said(units)]
    walls = tuple(replace(wall, stud_spacing=studs) for wall in room.walls)
    storey = cells.get("floor") or room.storey
    return replace(room, walls=walls, joists=joists, carry_in=carried, storey=storey), []
