"""The figures and choices of what is held, each with what changing it does."""

from __future__ import annotations

from roomboard.app.desk import Desk, Held
from roomboard.app.figures import things
from roomboard.app.figures.bulkheads import bulkhead_figures
from roomboard.app.figures.ceiling_parts import corner_height, part_figures
from roomboard.app.figures.columns import column_figures
from roomboard.app.figures.dimensions import dimension_figure
from roomboard.app.figures.figure import Figure, Kind
from roomboard.app.figures.filling import Filling
from roomboard.app.figures.joists import joist_figures, member_figures
from roomboard.app.figures.openings import opening_figures
from roomboard.app.figures.pieces import (
    block_figures,
    joint_figures,
    piece_figures,
    stock_figures,
    trimmer_figures,
)
from roomboard.app.figures.rooms import corner_figures, room_figures
from roomboard.app.figures.special import special_figures
from roomboard.app.figures.surfaces import sheet_figures, sheets_heading
from roomboard.app.figures.things import Thing, thing_of
from roomboard.app.figures.walls import (
    framing_figures,
    nogging_figures,
    stud_figures,
    wall_figures,
)
from roomboard.app.words import tr
from roomboard.core.editing.refusal import CEILING
from roomboard.core.project import Room

__all__ = ["Figure", "Kind", "Thing", "figures_of", "main_figure", "thing_of"]


def figures_of(desk: Desk, held: Held | None) -> tuple[Figure, ...]:
    """Return the figures of what is held, the one most often changed first.

    Where nothing is held they are those of the room; where what was held is no longer there,
    there are none.

    Args:
        desk: The desk.
        held: What is held, as the drawing has it.
    """
    room, thing = desk.room, thing_of(desk, held)
    if room is None or thing is None:
        return ()
    makers = {
        things.ROOM: _room,
        things.CORNER: _corner,
        things.WALL: _wall,
        things.OPENING: _opening,
        things.ZONE: _zone,
        things.BULKHEAD: _bulkhead,
        things.COLUMN: _column,
        things.SURFACE: _surface,
        things.MEMBER: _member,
        things.STUD: _stud,
        things.NOGGING: _nogging,
        things.FRAME: _frame,
        things.PIECE: _piece,
        things.JOINT: _joint,
        things.TRIMMER: _trimmer,
        things.BLOCK: _block,
        things.SHEET: _stock,
    }
    return makers[thing.kind](desk, room, thing)


def main_figure(desk: Desk, held: Held) -> Figure | None:
    """Return the figure that a length typed under the canvas sets, or None."""
    lengths = {Kind.LENGTH, Kind.LENGTHS}
    figures = figures_of(desk, held)
    drawn = dimension_figure(desk, held, figures)
    if drawn is not None:
        return drawn
    found = [f for f in figures if f.put is not None and f.kind in lengths]
    return next((f for f in found if f.main), found[0] if found else None)


def _room(desk: Desk, room: Room, _thing: Thing) -> tuple[Figure, ...]:
    return room_figures(desk, room)


def _corner(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    return (*corner_figures(desk, room, thing.ref), *corner_height(desk, room, thing.ref))


def _wall(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    wall = room.wall(thing.ref)
    return wall_figures(desk, room, wall) if wall else ()


def _opening(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    opening = next((o for o in room.openings if o.id == thing.ref), None)
    return opening_figures(desk, room, opening) if opening else ()


def _zone(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    zone = next((z for z in room.joists if z.id == thing.ref), None)
    return joist_figures(desk, room, zone) if zone else ()


def _bulkhead(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    bulkhead = next((b for b in room.bulkheads if b.id == thing.ref), None)
    return bulkhead_figures(desk, room, bulkhead) if bulkhead else ()


def _column(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    column = next((c for c in room.columns if c.id == thing.ref), None)
    return column_figures(desk, room, column) if column else ()


def _surface(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    """Return the sheets of a face, and what the face is a part of."""
    scheme = desk.surface_scheme(thing.ref)
    if scheme is None:
        return ()
    wall = room.wall(things.wall_of(room, thing.ref))
    if wall is not None:
        figures = wall_figures(desk, room, wall)
        if desk.lens == "measure":  # a length typed there is the wall's, not a course's
            return figures
        return tuple(sorted(figures, key=lambda f: f.group != sheets_heading()))
    sheets = sheet_figures(desk, room, scheme)
    kind, _, rest = scheme.surface.key.partition(":")
    if kind == things.BULKHEAD:
        return (*sheets, *_bulkhead(desk, room, Thing(things.BULKHEAD, rest.partition(":")[0])))
    if kind == things.COLUMN:
        return (*sheets, *_column(desk, room, Thing(things.COLUMN, rest.partition(":")[0])))
    if kind.partition(".")[0] != CEILING:
        return sheets
    joists = joist_figures(desk, room, room.joists[0]) if len(room.joists) == 1 else ()
    joists = (*part_figures(desk, room, rest.partition(".")[0]), *joists)
    make = Filling(desk, scheme.surface.name, tr("Special"))
    return (*sheets, *joists, *special_figures(make, room, CEILING))


def _member(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    return member_figures(desk, room, thing.surface, thing.ref)


def _stud(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    return stud_figures(desk, room, thing.surface, thing.ref)


def _nogging(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    return nogging_figures(desk, room, thing.surface, thing.ref)


def _frame(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    """Return the framing of a wall, or the bulkhead that a part of a frame belongs to."""
    kind, _, rest = thing.surface.rpartition("/")[2].partition(":")
    if kind == things.BULKHEAD:
        return _bulkhead(desk, room, Thing(things.BULKHEAD, rest.partition(":")[0]))
    if kind == things.COLUMN:
        return _column(desk, room, Thing(things.COLUMN, rest.partition(":")[0]))
    return framing_figures(desk, room, thing.surface)


def _piece(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    return piece_figures(desk, room, thing.surface, thing.ref)


def _joint(desk: Desk, room: Room, thing: Thing) -> tuple[Figure, ...]:
    return joint_figures(desk, room, thing.surface, thing.ref)


def _trimmer(desk: Desk, _room: Room, thing: Thing) -> tuple[Figure, ...]:
    return trimmer_figures(desk, thing.surface, thing.ref)


def _block(desk: Desk, _room: Room, thing: Thing) -> tuple[Figure, ...]:
    return block_figures(desk, thing.surface, thing.ref)


def _stock(desk: Desk, _room: Room, thing: Thing) -> tuple[Figure, ...]:
    return stock_figures(desk, thing.ref)
