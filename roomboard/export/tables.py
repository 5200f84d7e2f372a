"""The job as tables of typed values: order, quantities, cut list, findings, rooms.

Numbers are in the project's units: mm, m, m² and kg, or inches, feet, square feet and pounds.
Where lengths are in inches, a second column has them as the trade writes them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from roomboard.core.project import Project, Units
from roomboard.core.quantities import QuantityLine, costs
from roomboard.core.revision_changes import ChangeKind, Subject
from roomboard.core.revision_done import states
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import Scheme, SurfaceScheme
from roomboard.core.units import FOOT, INCH, POUND_KG, write_length
from roomboard.core.wording import WEIGHT, place_in_words, say, value
from roomboard.drawing.amounts import deliveries
from roomboard.drawing.cut_list import cut_outs_in_words, edge_letters, sheets_by_piece
from roomboard.drawing.job_figures import joint_metres
from roomboard.drawing.order import GROUPS, bought_in
from roomboard.drawing.room_names import board_name, by_room, names_of_things
from roomboard.drawing.set_choice import SetChoice
from roomboard.drawing.set_revision import Revision
from roomboard.drawing.set_revision_list import order_changes

Cell = str | float | None
"""A word, a number, or nothing."""


class Kind(StrEnum):
    """What a column holds, which says how its numbers are shown."""

    TEXT = "text"
    COUNT = "count"
    LENGTH = "length"
    RUN = "run"
    AREA = "area"
    MASS = "mass"
    AMOUNT = "amount"
    MONEY = "money"


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The head of a column.

    Attributes:
        title: What stands over it, with its unit.
        kind: What it holds.
        width: How wide it is where it is printed, in characters; longer words are broken.
        adds: Whether what stands under it for the whole job is the sum of the rooms'.
    """

    title: str
    kind: Kind = Kind.TEXT
    width: int = 12
    adds: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DataTable:
    """A table of values.

    Attributes:
        name: Stable short name, e.g. ``"cut-list"``.
        title: What it is called.
        columns: Their heads.
        rows: Values, as many to a row as there are columns.
    """

    name: str
    title: str
    columns: tuple[Heading, ...]
    rows: tuple[tuple[Cell, ...], ...]


TABLES: dict[str, str] = {
    "order": "Order",
    "cut-list": "Cut list",
    "quantities": "Quantities",
    "findings": "Findings",
    "rooms": "Rooms",
    "deliveries": "Deliveries",
    "changes": "Changes",
}
"""Every table by its name, and what it is called."""
SUBJECTS: dict[Subject, str] = {s: s.value for s in Subject} | {Subject.TRIMMER: "timber"}
"""What a change is about, in words."""
CHANGED: dict[ChangeKind, str] = {k: k.value for k in ChangeKind} | {
    ChangeKind.RENAMED: "other mark",
    ChangeKind.RECUT: "other sheet",
}
"""What happened to a thing since an issue, in words."""


def tables_of(project: Project) -> tuple[str, ...]:
    """Return the names of the tables there are: changes only where something was issued."""
    return tuple(name for name in TABLES if name != "changes" or project.issues)


def table_of(scheme: Scheme, name: str) -> DataTable:
    """Return one table of the job.

    Args:
        scheme: The whole answer.
        name: One of :data:`TABLES`.

    Raises:
        KeyError: If there is no such table.
    """
    return _MAKERS[name](scheme)


# --- units --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Measures:
    """How the numbers of a project are shown.

    Attributes:
        units: The project's units.
    """

    units: Units

    @property
    def metric(self) -> bool:
        """Whether they are metric."""
        return self.units is Units.METRIC

    def unit(self, kind: Kind) -> str:
        """Return what numbers of a kind are counted in."""
        metric = {Kind.LENGTH: "mm", Kind.RUN: "m", Kind.AREA: "m²", Kind.MASS: "kg"}
        other = {Kind.LENGTH: "in", Kind.RUN: "ft", Kind.AREA: "sq ft", Kind.MASS: "lb"}
        return (metric if self.metric else other)[kind]

    def number(self, amount: float, kind: Kind) -> float:
        """Return a length or run in mm, an area in m² or a mass in kg as a number to show."""
        foot = float(FOOT)
        sizes = {Kind.LENGTH: float(INCH), Kind.RUN: foot, Kind.MASS: POUND_KG}
        if self.metric:
            return round(amount / 1000 if kind is Kind.RUN else amount, 6)
        if kind is Kind.AREA:
            return round(amount * 1e6 / foot**2, 6)
        return round(amount / sizes[kind], 6)

    def heading(self, title: str, kind: Kind, width: int = 10, *, adds: bool = False) -> Heading:
        """Return the head of a column of such numbers."""
        return Heading(title=f"{title} ({self.unit(kind)})", kind=kind, width=width, adds=adds)

    def length_headings(self, title: str) -> tuple[Heading, ...]:
        """Return the heads of a length: its number, and how it is written where that differs."""
        number = self.heading(title, Kind.LENGTH)
        return (number,) if self.metric else (number, Heading(title=title, width=13))

    def lengths(self, mm: float) -> tuple[Cell, ...]:
        """Return the values that go with :meth:`length_headings`."""
        number = self.number(mm, Kind.LENGTH)
        return (number,) if self.metric else (number, write_length(mm, self.units))


# --- order and quantities -------------------------------------------------------------------


def sold_in(line: QuantityLine, units: Units) -> tuple[str, float]:
    """Return the unit an order line is bought in, and how many of its own unit one of it is."""
    return bought_in(line.unit, units)


def number_bought(line: QuantityLine) -> float:
    """Return what a price of the user's own is counted by: packs, or single goods."""
    return float(line.packs) if line.pack else line.total


def prices_of(scheme: Scheme) -> dict[str, float]:
    """Return the user's price of each order line that has one, by the line's code."""
    numbers = {line.code: number_bought(line) for line in scheme.quantities}
    found = costs(scheme.project, scheme.quantities)
    return {code: round(cost / numbers[code], 6) for code, cost in found if numbers[code]}


def order_headings(prices: Mapping[str, float], currency: str) -> tuple[Heading, ...]:
    """Return the heads of the order; those of cost only where there is a price."""
    money = f" ({currency})" if currency else ""
    priced = (
        Heading(title=f"Price each{money}", kind=Kind.MONEY),
        Heading(title=f"Cost{money}", kind=Kind.MONEY),
    )
    return (
        Heading(title="Group", width=28),
        Heading(title="Item", width=48),
        Heading(title="Order", kind=Kind.AMOUNT, width=10),
        Heading(title="Unit", width=11),
        Heading(title="Packs", kind=Kind.COUNT, width=8),
        Heading(title="Pack holds", kind=Kind.AMOUNT, width=11),
        *(priced if prices else ()),
    )


def order_row(line: QuantityLine, units: Units) -> tuple[Cell, ...]:
    """Return a line of the order without prices."""
    unit, size = sold_in(line, units)
    return (
        GROUPS.get(line.group, line.group),
        line.name,
        converted(line.total, size),
        unit,
        float(line.packs) if line.pack else None,
        converted(line.pack, size) if line.pack else None,
    )


def converted(amount: float, size: float) -> float:
    """Return an amount in units of a size; to a tenth where that is not its own unit."""
    return amount if size == 1.0 else round(amount / size, 1)


def in_order(lines: Sequence[QuantityLine]) -> tuple[QuantityLine, ...]:
    """Return order lines group after group, as they are printed."""
    place = {group: number for number, group in enumerate(GROUPS)}
    return tuple(sorted(lines, key=lambda q: (place.get(q.group, len(place)), q.group)))


def _order(scheme: Scheme) -> DataTable:
    prices = prices_of(scheme)
    rows: list[tuple[Cell, ...]] = []
    total = 0.0
    for line in in_order(scheme.quantities):
        row = order_row(line, scheme.project.units)
        price = prices.get(line.code)
        cost = None if price is None else round(price * number_bought(line), 2)
        total += cost or 0.0
        rows.append((*row, price, cost) if prices else row)
    if prices:
        blank: tuple[Cell, ...] = (None,) * 5
        rows.append(("All that is priced", *blank, None, round(total, 2)))
    return DataTable(
        name="order",
        title=TABLES["order"],
        columns=order_headings(prices, scheme.project.currency),
        rows=tuple(rows),
    )


def _quantities(scheme: Scheme) -> DataTable:
    names = names_of_things(scheme)
    rows = [
        (
            line.code,
            line.name,
            line.unit,
            line.formula,
            "; ".join(f"{name} = {amount:g}" for name, amount in line.inputs),
            line.low,
            line.exact,
            line.spare,
            line.pack or None,
            float(line.packs) if line.pack else None,
            line.total,
            by_room(line.sources, names),
            line.source_note,
        )
        for line in scheme.quantities
    ]
    return DataTable(
        name="quantities",
        title=TABLES["quantities"],
        columns=(
            Heading(title="Code", width=26),
            Heading(title="Item", width=36),
            Heading(title="Unit", width=8),
            Heading(title="How it comes about", width=36),
            Heading(title="Inputs", width=36),
            Heading(title="At least", kind=Kind.AMOUNT),
            Heading(title="Exact", kind=Kind.AMOUNT),
            Heading(title="Spare", kind=Kind.AMOUNT),
            Heading(title="Pack holds", kind=Kind.AMOUNT),
            Heading(title="Packs", kind=Kind.COUNT),
            Heading(title="Order", kind=Kind.AMOUNT),
            Heading(title="From", width=40),
            Heading(title="Note", width=40),
        ),
        rows=tuple(rows),
    )


# --- pieces ---------------------------------------------------------------------------------


def _cut_list(scheme: Scheme) -> DataTable:
    measures = Measures(scheme.project.units)
    where, done = sheets_by_piece(scheme), states(scheme)
    limit = scheme.project.choices.lift_limit_kg
    rows: list[tuple[Cell, ...]] = []
    for room in scheme.rooms:
        pieces = [(p, s) for s in room.surfaces for p in s.set_out.pieces]
        for piece, s in sorted(pieces, key=lambda pair: (pair[0].hang, pair[0].id)):
            sheet, placement = where.get(piece.id, (None, None))
            low, high = edge_letters(piece, placement)
            rows.append(
                (
                    room.room.name,
                    float(piece.hang),
                    piece.mark,
                    s.surface.name,
                    board_name(scheme, piece.board),
                    *measures.lengths(piece.length),
                    *measures.lengths(piece.width),
                    low,
                    high,
                    sheet.id if sheet else "none fits",
                    measures.number(piece.mass_kg, Kind.MASS),
                    float(people_to_lift(piece.mass_kg, scheme.practice, limit)),
                    cut_outs_in_words(piece, scheme.project.units, s.set_out.tapers_of(piece.mark)),
                    done.get(piece.id, ""),
                )
            )
    return DataTable(
        name="cut-list",
        title=TABLES["cut-list"],
        columns=(
            Heading(title="Room", width=20),
            Heading(title="Hang", kind=Kind.COUNT, width=7),
            Heading(title="Mark", width=13),
            Heading(title="Surface", width=24),
            Heading(title="Board", width=22),
            *measures.length_headings("Length"),
            *measures.length_headings("Width"),
            Heading(title="Low edge", width=9),
            Heading(title="High edge", width=9),
            Heading(title="Sheet", width=10),
            measures.heading("Mass", Kind.MASS, 9),
            Heading(title="People to lift", kind=Kind.COUNT, width=9),
            Heading(title="Cut-outs, face up from the lower left corner", width=46),
            Heading(title="Done", width=9),
        ),
        rows=tuple(rows),
    )


# --- findings and rooms ----------------------------------------------------------------------


def _findings(scheme: Scheme) -> DataTable:
    project = scheme.project
    units = project.units
    rows = [
        (
            WEIGHT[f.severity],
            f.code,
            f.title,
            place_in_words(f.place, project),
            say(f, units),
            "" if f.found is None else value(f.found, units),
            "" if f.required is None else value(f.required, units),
            "" if f.source is None else str(f.source),
            "; ".join(f.remedies),
        )
        for f in scheme.findings
    ]
    return DataTable(
        name="findings",
        title=TABLES["findings"],
        columns=(
            Heading(title="Weight", width=12),
            Heading(title="Code", width=9),
            Heading(title="Finding", width=22),
            Heading(title="Place", width=20),
            Heading(title="What", width=52),
            Heading(title="Found", width=13),
            Heading(title="Required", width=13),
            Heading(title="Source", width=26),
            Heading(title="To mend it", width=30),
        ),
        rows=tuple(rows),
    )


def _rooms(scheme: Scheme) -> DataTable:
    measures = Measures(scheme.project.units)
    where = sheets_by_piece(scheme)

    def figures(surfaces: Sequence[SurfaceScheme]) -> tuple[Cell, ...]:
        pieces = [p for s in surfaces for p in s.set_out.pieces]
        runs = (*joint_metres(surfaces), sum(t.length for s in surfaces for t in s.trimmers))
        masses = [p.mass_kg for p in pieces]
        return (
            measures.number(sum(s.surface.area_m2 for s in surfaces), Kind.AREA),
            float(len(pieces)),
            float(len({where[p.id][0].id for p in pieces if p.id in where})),
            *(measures.number(run, Kind.RUN) for run in runs),
            measures.number(sum(masses), Kind.MASS),
            measures.number(max(masses, default=0.0), Kind.MASS),
        )

    rows: list[tuple[Cell, ...]] = [
        (r.room.name, r.room.storey, *figures(r.surfaces)) for r in scheme.rooms
    ]
    rows.append(("Whole job", None, *figures([s for r in scheme.rooms for s in r.surfaces])))
    return DataTable(
        name="rooms",
        title=TABLES["rooms"],
        columns=(
            Heading(title="Room", width=24),
            Heading(title="Storey", width=10),
            measures.heading("Net area", Kind.AREA, adds=True),
            Heading(title="Pieces", kind=Kind.COUNT, width=8, adds=True),
            Heading(title="Sheets cut into", kind=Kind.COUNT, width=9),
            measures.heading("Butt joints", Kind.RUN, adds=True),
            measures.heading("Recessed joints", Kind.RUN, adds=True),
            measures.heading("Ends at recessed edges", Kind.RUN, 13, adds=True),
            measures.heading("Trimmers to add", Kind.RUN, adds=True),
            measures.heading("Mass of pieces", Kind.MASS, adds=True),
            measures.heading("Heaviest piece", Kind.MASS),
        ),
        rows=tuple(rows),
    )


def _deliveries(scheme: Scheme) -> DataTable:
    measures = Measures(scheme.project.units)
    limit = scheme.project.choices.lift_limit_kg
    rows: list[tuple[Cell, ...]] = [
        (
            float(delivery.number),
            c.storey,
            board_name(scheme, c.board),
            *measures.lengths(c.length),
            *measures.lengths(c.width),
            float(len(c.sheets)),
            measures.number(c.mass_kg, Kind.MASS),
            measures.number(c.total_kg, Kind.MASS),
            float(people_to_lift(c.mass_kg, scheme.practice, limit)),
            ", ".join(c.sheets),
            ", ".join(c.shared),
        )
        for delivery in deliveries(scheme)
        for c in delivery.carried
    ]
    return DataTable(
        name="deliveries",
        title=TABLES["deliveries"],
        columns=(
            Heading(title="Delivery", kind=Kind.COUNT, width=10),
            Heading(title="Floor", width=14),
            Heading(title="Board", width=24),
            *measures.length_headings("Length"),
            *measures.length_headings("Width"),
            Heading(title="Sheets", kind=Kind.COUNT, width=9, adds=True),
            measures.heading("Mass of one", Kind.MASS),
            measures.heading("Together", Kind.MASS, adds=True),
            Heading(title="People to lift", kind=Kind.COUNT, width=9),
            Heading(title="Numbers", width=30),
            Heading(title="Cut for other floors too", width=24),
        ),
        rows=tuple(rows),
    )


# --- revisions ------------------------------------------------------------------------------


def _changes(scheme: Scheme) -> DataTable:
    """Return what has changed since the issue that the printed set shows the changes of."""
    shown = Revision(scheme, SetChoice()).shown
    rows: list[tuple[Cell, ...]] = []
    if shown is not None:
        found = shown[0]
        for s in found.surfaces:
            for c in s.changes:
                about = (SUBJECTS[c.subject], CHANGED[c.kind], c.mark)
                rows.append((found.since, s.name, *about, c.words, None, None, None, None))
        for line in order_changes(found, scheme.project.units):
            way = "buy more" if line.more > 0 else "send back"
            about = ("order", way, "")
            figures = (line.was, line.now, line.more)
            rows.append((found.since, "Whole job", *about, line.name, *figures, line.unit))
    return DataTable(
        name="changes",
        title=TABLES["changes"],
        columns=(
            Heading(title="Since issue", width=8),
            Heading(title="Surface", width=28),
            Heading(title="About", width=10),
            Heading(title="What", width=13),
            Heading(title="Mark", width=13),
            Heading(title="Change", width=56),
            Heading(title="Was", kind=Kind.AMOUNT),
            Heading(title="Now", kind=Kind.AMOUNT),
            Heading(title="Difference", kind=Kind.AMOUNT),
            Heading(title="Unit", width=10),
        ),
        rows=tuple(rows),
    )


_MAKERS: dict[str, Callable[[Scheme], DataTable]] = {
    "order": _order,
    "cut-list": _cut_list,
    "quantities": _quantities,
    "findings": _findings,
    "rooms": _rooms,
    "deliveries": _deliveries,
    "changes": _changes,
}
