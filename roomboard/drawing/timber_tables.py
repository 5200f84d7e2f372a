"""Tables of the timber that framing lacks."""

from __future__ import annotations

from roomboard.core.project import Units
from roomboard.core.scheme import RoomScheme, Scheme
from roomboard.core.support import TrimmerReason
from roomboard.core.units import on_tape
from roomboard.drawing.flow import Column, Table

REASONS: dict[TrimmerReason, str] = {
    TrimmerReason.WALL_ALONG_JOISTS: "wall runs with the joists",
    TrimmerReason.DIRECTION_CHANGE: "joists change direction",
    TrimmerReason.HATCH: "side of a hatch or opening",
    TrimmerReason.END_OFF_SUPPORT: "end of a sheet between supports",
    TrimmerReason.EDGE_OFF_SUPPORT: "edge of a sheet between supports",
    TrimmerReason.BATTENING: "battens across the joists",
}
"""Why a trimmer is missing, in words."""
_TIMBER_COLUMNS = (
    Column(title="Tag"),
    Column(title="Surface"),
    Column(title="Length", right=True),
    Column(title="Face", right=True),
    Column(title="What"),
    Column(title="Why"),
)


def trimmers_table(room: RoomScheme, units: Units) -> Table:
    """Return the timber a room's framing lacks, by tag."""
    rows = [
        (
            t.tag,
            s.surface.name,
            on_tape(t.length, units),
            on_tape(t.face, units),
            ("nogging" if t.nogging else "trimmer")
            + (", boards from both sides" if t.two_sided else ""),
            REASONS[t.reason],
        )
        for s in room.surfaces
        for t in s.trimmers
    ]
    return Table(columns=_TIMBER_COLUMNS, rows=tuple(rows))


def timber_table(scheme: Scheme) -> Table:
    """Return the timber all framing lacks, room after room."""
    rows: list[tuple[str, ...]] = []
    for room in scheme.rooms:
        found = trimmers_table(room, scheme.project.units).rows
        rows += [(room.room.name,), *found] if found else []
    return Table(columns=_TIMBER_COLUMNS, rows=tuple(rows))
