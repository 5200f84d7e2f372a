"""Tables of what is delivered and carried: by delivery and floor, and by floor and room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from roomboard.core.project import Deliveries
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme
from roomboard.core.units import on_tape, write_area, write_mass
from roomboard.drawing.amounts import Carried, RoomBoard, board_by_room, deliveries, lifts, storeys
from roomboard.drawing.cut_list import sheets_by_piece
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.room_names import board_name


def sheets_in_words(count: int) -> str:
    """Return a number of sheets in words."""
    return "1 sheet" if count == 1 else f"{count} sheets"


def lifts_in_words(carried: Iterable[Carried], scheme: Scheme) -> str:
    """Return how many sheets are lifted by how many people, e.g. ``"12 by 1 person, 3 by 2"``."""
    return ", ".join(
        f"{count} by {people} {'person' if people == 1 else 'people'}"
        for people, count in lifts(carried, scheme)
    )


def said_of_deliveries(scheme: Scheme) -> str:
    """Return what is to be known about the deliveries, for over their table."""
    words = "Lift: by how many people. A sheet with * is cut for other floors too"
    if scheme.project.choices.deliveries is Deliveries.BY_FLOOR and len(deliveries(scheme)) > 1:
        return (
            f"{words}; it comes with the first floor that wants a piece of it: carry the rest on. "
            "All that is no board is ordered once, for the whole job, and comes with delivery 1."
        )
    return f"{words}. All comes in one delivery."


def carrying_table(scheme: Scheme) -> Table:
    """Return the sheets by delivery, floor, board and length, with masses and lifts."""
    units = scheme.project.units
    limit = scheme.project.choices.lift_limit_kg
    rows: list[tuple[str, ...]] = []
    every = deliveries(scheme)
    for delivery in every:
        for storey in delivery.storeys:
            own = [c for c in delivery.carried if c.storey == storey]
            head = f"Delivery {delivery.number}, " if len(every) > 1 else ""
            rows.append((_summed(f"{head}{storey} floor", own, scheme),))
            rows += [
                (
                    f"{on_tape(c.length, units)} × {on_tape(c.width, units)}",
                    board_name(scheme, c.board),
                    str(len(c.sheets)),
                    write_mass(c.mass_kg, units),
                    write_mass(c.total_kg, units),
                    str(people_to_lift(c.mass_kg, scheme.practice, limit)),
                    ", ".join(f"{s}*" if s in c.shared else s for s in c.sheets),
                )
                for c in own
            ]
    if sum(len(d.storeys) for d in every) > 1:
        whole = [c for d in every for c in d.carried]
        rows.append((_summed("Whole job", whole, scheme),))
    return Table(
        columns=(
            Column(title="Length × width", right=True),
            Column(title="Board", unbroken=True),
            Column(title="Sheets", right=True),
            Column(title="Each", right=True),
            Column(title="Together", right=True),
            Column(title="Lift", right=True),
            Column(title="Numbers"),
        ),
        rows=tuple(rows),
    )


def _summed(name: str, carried: Sequence[Carried], scheme: Scheme) -> str:
    count = sum(len(c.sheets) for c in carried)
    mass = write_mass(sum(c.total_kg for c in carried), scheme.project.units)
    return f"{name}: {sheets_in_words(count)}, {mass}; lifted {lifts_in_words(carried, scheme)}"


def by_room_table(scheme: Scheme) -> Table:
    """Return board and fixings of every room, floor by floor, with totals.

    Board bought is each room's share of the sheets that it is cut from.
    """
    rows: list[tuple[str, ...]] = []
    board = board_by_room(scheme)
    floors = storeys(scheme.project)
    for storey in floors:
        own = [r for r in scheme.rooms if r.room.storey == storey]
        if not own:
            continue
        if len(floors) > 1:
            rows.append((f"{storey} floor",))
        rows += [_figures(r.room.name, [r], scheme, board) for r in own]
        if len(floors) > 1 and len(own) > 1:
            rows.append(_figures(f"All of {storey} floor", own, scheme, board))
    if len(scheme.rooms) > 1:
        rows.append(("Whole job",))
        rows.append(_figures("All rooms", scheme.rooms, scheme, board))
    return Table(
        columns=(
            Column(title="Room"),
            Column(title="Net board", right=True),
            Column(title="Bought", right=True),
            Column(title="Pieces", right=True),
            Column(title="From sheets", right=True),
            Column(title="Mass of pieces", right=True),
            Column(title="Fasteners", right=True),
            Column(title="Daubs", right=True),
        ),
        rows=tuple(rows),
    )


def _figures(
    name: str, rooms: Sequence[RoomScheme], scheme: Scheme, every: Sequence[RoomBoard]
) -> tuple[str, ...]:
    units = scheme.project.units
    ids = {r.room.id for r in rooms}
    board = [b for b in every if b.id in ids]
    surfaces = [s for r in rooms for s in r.surfaces]
    pieces = [p for s in surfaces for p in s.set_out.pieces]
    where = sheets_by_piece(scheme)
    return (
        name,
        write_area(sum(b.net_m2 for b in board), units),
        write_area(sum(b.bought_m2 for b in board), units),
        str(len(pieces)),
        str(len({where[p.id][0].id for p in pieces if p.id in where})),
        write_mass(sum(p.mass_kg for p in pieces), units),
        str(sum(len(s.fixings.fasteners) for s in surfaces)),
        str(sum(len(s.fixings.daubs) for s in surfaces)),
    )
