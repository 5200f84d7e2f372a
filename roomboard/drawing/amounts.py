"""Amounts that are shown in tables and plots: by room, by floor and by kind of goods."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from roomboard.core.cutting import CutSheet
from roomboard.core.project import Deliveries, Project
from roomboard.core.quantities import costs
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import Scheme


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomBoard:
    """Board of one room.

    Attributes:
        room: Its name.
        net_m2: What is fixed, cut-outs taken off.
        bought_m2: Its share of the sheets bought: each sheet is shared by the area of the
            rectangles cut from it.
        id: Its id.
    """

    room: str
    net_m2: float
    bought_m2: float
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """Sheets of one size that are carried to one floor.

    Attributes:
        storey: The floor.
        board: Board id.
        length: mm.
        width: mm.
        mass_kg: Mass of one.
        sheets: Their numbers.
        shared: Those of them that pieces for other floors are cut from as well.
    """

    storey: str
    board: str
    length: float
    width: float
    mass_kg: float
    sheets: tuple[str, ...]
    shared: tuple[str, ...]

    @property
    def total_kg(self) -> float:
        """Mass of all of them, kg."""
        return self.mass_kg * len(self.sheets)


def storeys(project: Project) -> tuple[str, ...]:
    """Return the floors of a project in the order its rooms name them."""
    return tuple(dict.fromkeys(r.storey for r in project.rooms))


def board_by_room(scheme: Scheme) -> tuple[RoomBoard, ...]:
    """Return bought and net board of every room that has pieces."""
    of_piece = {p.id: r.room.id for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    bought: dict[str, float] = {}
    for sheet in scheme.cut_plan.sheets:
        for room, share in _shares(sheet, of_piece).items():
            bought[room] = bought.get(room, 0.0) + share * sheet.area_m2
    missing = set(scheme.cut_plan.unplaced)
    found = []
    for r in scheme.rooms:
        pieces = [p for s in r.surfaces for p in s.set_out.pieces if p.id not in missing]
        if pieces:
            net = sum(p.region.area_mm2 for p in pieces) / 1e6
            found.append(
                RoomBoard(
                    room=r.room.name,
                    net_m2=net,
                    bought_m2=bought.get(r.room.id, 0.0),
                    id=r.room.id,
                )
            )
    return tuple(found)


def _shares(sheet: CutSheet, of_piece: dict[str, str]) -> dict[str, float]:
    """Return the share of a sheet that each room takes, by the area of what is cut from it."""
    areas: dict[str, float] = {}
    for p in sheet.placements:
        room = of_piece.get(p.piece, p.piece.partition("/")[0])
        areas[room] = areas.get(room, 0.0) + p.length * p.width
    whole = sum(areas.values())
    return {room: area / whole for room, area in areas.items()} if whole else {}


def carried_by_storey(scheme: Scheme) -> tuple[Carried, ...]:
    """Return the sheets to carry to each floor, by board and size.

    A sheet goes to the floor where most of it is fixed; where each floor has a delivery of its
    own, to the first that wants a piece of it, for then it must be there.
    """
    early = scheme.project.choices.deliveries is Deliveries.BY_FLOOR
    floor_of = {r.room.id: r.room.storey for r in scheme.rooms}
    of_piece = {p.id: r.room.id for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    order = {name: n for n, name in enumerate(storeys(scheme.project))}
    boards = {b.board: n for n, b in enumerate(scheme.cut_plan.bounds)}
    groups: dict[tuple[str, str, float, float], list[tuple[CutSheet, bool]]] = {}
    for sheet in scheme.cut_plan.sheets:
        shares: dict[str, float] = {}
        for room, share in _shares(sheet, of_piece).items():
            floor = floor_of.get(room, "")
            shares[floor] = shares.get(floor, 0.0) + share
        if not shares:
            continue
        storey = min(
            shares,
            key=lambda f: (0.0 if early else -round(shares[f], 6), order.get(f, len(order))),
        )
        key = (storey, sheet.board, sheet.length, sheet.width)
        groups.setdefault(key, []).append((sheet, len(shares) > 1))
    found = [
        Carried(
            storey=storey,
            board=board,
            length=length,
            width=width,
            mass_kg=sheets[0][0].mass_kg,
            sheets=tuple(s.id for s, _ in sheets),
            shared=tuple(s.id for s, also in sheets if also),
        )
        for (storey, board, length, width), sheets in groups.items()
    ]
    found.sort(
        key=lambda c: (
            order.get(c.storey, len(order)),
            boards.get(c.board, len(boards)),
            c.board,
            -c.length,
            -c.width,
        )
    )
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """Board that comes at once.

    Attributes:
        number: From 1.
        storeys: The floors it is carried to, in their order.
        carried: The sheets, floor by floor.
    """

    number: int
    storeys: tuple[str, ...]
    carried: tuple[Carried, ...]

    @property
    def mass_kg(self) -> float:
        """Mass of all its sheets, kg."""
        return sum(c.total_kg for c in self.carried)

    @property
    def count(self) -> int:
        """Number of its sheets."""
        return sum(len(c.sheets) for c in self.carried)


def deliveries(scheme: Scheme) -> tuple[Delivery, ...]:
    """Return what board comes with each delivery, as the project has it."""
    carried = carried_by_storey(scheme)
    floors = tuple(dict.fromkeys(c.storey for c in carried))
    if not floors:
        return ()
    if scheme.project.choices.deliveries is Deliveries.ONE:
        return (Delivery(number=1, storeys=floors, carried=carried),)
    return tuple(
        Delivery(
            number=number, storeys=(floor,), carried=tuple(c for c in carried if c.storey == floor)
        )
        for number, floor in enumerate(floors, 1)
    )


def lifts(carried: Iterable[Carried], scheme: Scheme) -> tuple[tuple[int, int], ...]:
    """Return how many sheets are lifted by 1, 2, 3 people, those of none left out.

    Args:
        carried: The sheets.
        scheme: Whose practice and lift limit hold.
    """
    limit = scheme.project.choices.lift_limit_kg
    counts: dict[int, int] = {}
    for c in carried:
        people = people_to_lift(c.mass_kg, scheme.practice, limit)
        counts[people] = counts.get(people, 0) + len(c.sheets)
    return tuple(sorted(counts.items()))


def mass_by_storey(scheme: Scheme) -> tuple[tuple[str, float], ...]:
    """Return the mass of board to carry to each floor, kg."""
    masses: dict[str, float] = {}
    for c in carried_by_storey(scheme):
        masses[c.storey] = masses.get(c.storey, 0.0) + c.total_kg
    return tuple(masses.items())


def cost_by_group(scheme: Scheme) -> tuple[tuple[str, float], ...]:
    """Return what is priced by kind of goods, in the project's currency; empty if nothing is."""
    known = dict(costs(scheme.project, scheme.quantities))
    sums: dict[str, float] = {}
    for line in scheme.quantities:
        if line.code in known:
            sums[line.group] = sums.get(line.group, 0.0) + known[line.code]
    return tuple(sums.items())
