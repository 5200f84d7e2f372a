"""Tables of the order: quantities, how lengths are cut, trims by room."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roomboard.core.project import Units
from roomboard.core.quantities import QuantityLine
from roomboard.core.scheme import Scheme
from roomboard.core.units import FLUID_OUNCE_ML, FOOT, POUND_KG, on_tape
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.room_names import by_room, names_of_things, numbers_in_words, told_apart

GROUPS: dict[str, str] = {
    "board": "Board",
    "fixing": "Fixings and adhesive",
    "jointing": "Jointing",
    "trim": "Cornice, beads and trims",
    "timber": "Timber",
}
"""Headings of the order."""
LISTED = 8
"""An order line names its pieces one by one up to this many; beyond, by room and number."""
IMPERIAL: dict[str, tuple[str, float]] = {
    "m": ("ft", float(FOOT) / 1000),
    "kg": ("lb", POUND_KG),
    "ml": ("fl oz", FLUID_OUNCE_ML),
}
"""What metric amounts of the order are written in for feet and inches, and how much one is."""
IN_WORDS = {"m": "metres", "kg": "metres and kilograms", "ml": "metres and millilitres"}
"""The units in which such amounts are worked out."""


SEVERAL = {"sheet": "sheets", "length": "lengths"}
"""Units of the order by what they are called where there are several."""


def bought_in(unit: str, units: Units) -> tuple[str, float]:
    """Return what an amount of the order is written in, and how much of its own unit one is.

    Args:
        unit: What it is counted in.
        units: The project's units.
    """
    return (unit, 1.0) if units is Units.METRIC else IMPERIAL.get(unit, (unit, 1.0))


def shared_formulas(lines: Sequence[QuantityLine]) -> tuple[str, ...]:
    """Return the formulas by which several lines of the order come about."""
    counts: dict[str, int] = {}
    for q in lines:
        counts[q.formula] = counts.get(q.formula, 0) + 1
    return tuple(formula for formula, count in counts.items() if count > 1)


def quantities_table(
    lines: Sequence[QuantityLine],
    units: Units = Units.METRIC,
    names: Mapping[str, str] | None = None,
) -> Table:
    """Return lines of the order with how each figure comes about.

    Formulas that several lines share are said over the table: see :func:`shared_formulas`. What
    is ordered is written in the project's units; how it comes about is in metric units, and
    says so where the project's are others.

    Args:
        lines: Lines of the order.
        units: The project's units.
        names: Names of rooms by id and of faces by ref: see
            :func:`~roomboard.drawing.room_names.names_of_things`.
    """
    shared = shared_formulas(lines)
    # Where nothing is rounded to packs and no spare is added, one figure says all.
    plain = all(not q.pack and not q.spare and q.low == q.exact == q.total for q in lines)
    columns = [
        Column(title="Item"),
        Column(title="Exact, spare", right=True),
        Column(title="Packs", unbroken=True),
        Column(title="Order", right=True),
        Column(title="How it comes about"),
    ]
    rows = [
        (
            q.name,
            f"{_range(q, units)}\n+ {_shown(q.spare, q, units)[0]}"
            if q.spare
            else _range(q, units),
            f"{q.packs} of {_amount(q.pack, q, units)}" if q.pack else "singly",
            _amount(q.total, q, units),
            _how(q, shared, units, names or {}),
        )
        for q in lines
    ]
    if plain:
        columns = [columns[0], *columns[3:]]
        return Table(columns=tuple(columns), rows=tuple((r[0], *r[3:]) for r in rows))
    return Table(columns=tuple(columns), rows=tuple(rows))


def _number(amount: float) -> str:
    return f"{round(amount, 2):g}" if abs(amount) < 1e5 else f"{amount:.0f}"


def _shown(amount: float, line: QuantityLine, units: Units) -> tuple[str, str]:
    """Return an amount of a line as it is printed, and its unit."""
    unit, size = bought_in(line.unit, units)
    return _number(amount) if size == 1.0 else f"{round(amount / size, 1):g}", unit


def _amount(amount: float, line: QuantityLine, units: Units) -> str:
    number, unit = _shown(amount, line, units)
    return f"{number} {unit if amount == 1.0 else SEVERAL.get(unit, unit)}"


def _range(line: QuantityLine, units: Units) -> str:
    exact = _amount(line.exact, line, units)
    return f"{_shown(line.low, line, units)[0]} to\n{exact}" if line.low < line.exact else exact


def _how(line: QuantityLine, shared: Sequence[str], units: Units, names: Mapping[str, str]) -> str:
    """Return how a figure comes about: formula, inputs, note and what it came from."""
    # A formula of one input that is the figure itself says nothing more.
    inputs = "; ".join(
        f"{name} = {_number(amount)}"
        for name, amount in line.inputs
        if line.formula not in shared or amount != line.exact
    )
    formula = "" if line.formula in shared else line.formula
    words = ": ".join(part for part in (formula, inputs) if part)
    if units is not Units.METRIC and line.unit in IMPERIAL:
        words = f"worked out in {IN_WORDS[line.unit]}: {words}"
    words = "; ".join(part for part in (words, line.source_note) if part)
    made_from = f"From: {sources_in_words(line.sources, names)}" if line.sources else ""
    return ". ".join(part for part in (words, made_from) if part)


def sources_in_words(sources: Sequence[str], names: Mapping[str, str]) -> str:
    """Return what a figure came from: named room by room, or counted where there is much.

    Args:
        sources: What it came from, as :func:`~roomboard.drawing.room_names.told_apart` takes it.
        names: Names by id.
    """
    if len(sources) <= LISTED:
        return by_room(sources, names)
    counts: dict[str, int] = {}
    for source in sources:
        room, _ = told_apart(source, names)
        counts[room] = counts.get(room, 0) + 1
    return ", ".join(
        f"{count} in {room}" if room else f"{count} in the job" for room, count in counts.items()
    )


def linear_table(scheme: Scheme) -> Table:
    """Return how goods sold by the length are cut, goods after goods."""
    units = scheme.project.units
    names = names_of_things(scheme)
    goods: dict[str, list[tuple[str, ...]]] = {}
    for cut in scheme.linear:
        goods.setdefault(_linear_name(scheme, cut.stock, cut.kind), []).append(
            (
                cut.id,
                on_tape(cut.length, units),
                by_room(
                    (ref for ref, _ in cut.pieces),
                    names,
                    (on_tape(mm, units) for _, mm in cut.pieces),
                ),
                on_tape(cut.left, units),
            )
        )
    return Table(
        columns=(
            Column(title="No."),
            Column(title="Length", right=True),
            Column(title="Cut into"),
            Column(title="Left", right=True),
        ),
        rows=tuple(row for name, rows in goods.items() for row in ((name,), *rows)),
    )


def _linear_name(scheme: Scheme, stock: str, kind: str) -> str:
    named = {item.id: item.name for item in scheme.catalogue.linear}
    return named.get(stock, kind.replace("_", " "))


def trims_table(scheme: Scheme) -> Table:
    """Return cornice, beads and tapes by run, room after room.

    Runs of one kind and length with the same ends stand together.
    """
    units = scheme.project.units
    rows: list[tuple[str, ...]] = []
    for room in scheme.rooms:
        alike: dict[tuple[str, ...], list[tuple[str, str]]] = {}
        for t in room.trims:
            ends = t.left_end if t.left_end == t.right_end else f"{t.left_end}, {t.right_end}"
            key = (
                t.kind.value.replace("_", " "),
                on_tape(t.length, units),
                on_tape(t.cut_length, units),
                ends,
            )
            alike.setdefault(key, []).append((t.id, t.where))
        if alike:
            rows.append((room.room.name,))
        rows.extend(
            (
                numbers_in_words([name for name, _ in runs]),
                kind,
                "; ".join(where for _, where in runs),
                net,
                cut,
                ends,
            )
            for (kind, net, cut, ends), runs in alike.items()
        )
    return Table(
        columns=(
            Column(title="No."),
            Column(title="What", unbroken=True),
            Column(title="Where"),
            Column(title="Net", right=True),
            Column(title="Cut", right=True),
            Column(title="Left end, right end"),
        ),
        rows=tuple(rows),
    )
