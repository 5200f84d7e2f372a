"""The order as rows that open: what is bought, how the figure comes about, what it came from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from roomboard.app.words import tr
from roomboard.core.estimate import SPARE, by_area, estimate_words
from roomboard.core.quantities import QuantityLine, costs
from roomboard.core.scheme import Scheme
from roomboard.drawing.job_figures import bounds_reasons, bounds_table

GROUPS: dict[str, str] = {
    "board": "Board",
    "fixing": "Fixing",
    "jointing": "Jointing",
    "trim": "Trim",
    "timber": "Timber",
}
"""Headings of the order, in its order."""
UNITS: dict[str, tuple[str, str]] = {
    "sheet": ("{n} sheet", "{n} sheets"),
    "each": ("{n}", "{n}"),
    "m": ("{n} m", "{n} m"),
    "kg": ("{n} kg", "{n} kg"),
    "ml": ("{n} ml", "{n} ml"),
    "length": ("{n} length", "{n} lengths"),
}
"""Amounts in words: of one, and of more."""
FROM = "/from"
"""How the keys of rows end that list what a line came from."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row of the order.

    Attributes:
        key: What it is known by when the order is worked out again.
        words: What it says.
        amount: How much.
        cost: What it costs, or empty.
        sources: What it came from.
        below: Rows that open under it.
        heading: Whether it is the heading of a group.
        wide: Whether the amount is words that go over the whole width.
    """

    key: str
    words: str
    amount: str = ""
    cost: str = ""
    sources: tuple[str, ...] = ()
    below: tuple[Row, ...] = field(default=())
    heading: bool = False
    wide: bool = False


def number(value: float) -> str:
    """Write a number of the order: whole, or with two places at most."""
    return f"{round(value, 2):g}" if abs(value) < 1e5 else f"{value:.0f}"


def amount(value: float, unit: str) -> str:
    """Write an amount with its unit, e.g. ``12 sheets``."""
    one, many = UNITS.get(unit, ("{n} " + unit, "{n} " + unit))
    return tr(one if value == 1 else many, n=number(value))


def to_order(line: QuantityLine) -> str:
    """Write what a line orders: packs where it is sold in packs."""
    if line.packs:
        return tr("{packs} of {pack}", packs=line.packs, pack=amount(line.pack, line.unit))
    return amount(line.total, line.unit)


def rows_of(scheme: Scheme) -> tuple[Row, ...]:
    """Return the order as rows, group by group.

    Args:
        scheme: The whole answer.
    """
    project = scheme.project
    priced = dict(costs(project, scheme.quantities))
    found: list[Row] = []
    known = [*GROUPS, *sorted({q.group for q in scheme.quantities} - GROUPS.keys())]
    for group in known:
        own = [q for q in scheme.quantities if q.group == group]
        below = _boards(scheme, own, priced) if group == "board" else []
        taken = {row.key for board in below for row in board.below}
        below += [_line(scheme, q, priced) for q in own if q.code not in taken]
        if below:
            words = tr(GROUPS.get(group, group.capitalize()))
            found.append(Row(key=group, words=words, below=tuple(below), heading=True))
    if priced:
        total = money(sum(priced.values()), project.currency)
        words = tr("Together, as far as priced")
        found.append(Row(key="together", words=words, cost=total, heading=True))
    return tuple(found)


def money(value: float, currency: str) -> str:
    """Write a cost in the project's currency."""
    return f"{value:,.2f} {currency}".strip()


def _line(scheme: Scheme, q: QuantityLine, priced: dict[str, float], under: str = "") -> Row:
    cost = money(priced[q.code], scheme.project.currency) if q.code in priced else ""
    exact = amount(q.exact, q.unit)
    if q.low < q.exact:
        exact = tr("{low} to {high}", low=number(q.low), high=exact)
    packed = tr("packs of {pack}", pack=amount(q.pack, q.unit)) if q.pack else tr("singly")
    below = [
        Row(key=f"{q.code}/formula", words=tr("How"), amount=q.formula, wide=True),
        *(
            Row(key=f"{q.code}/in/{name}", words=f"   {name}", amount=number(value))
            for name, value in q.inputs
        ),
        Row(key=f"{q.code}/exact", words=tr("Exactly"), amount=exact),
        Row(key=f"{q.code}/spare", words=tr("Spare"), amount=amount(q.spare, q.unit)),
        Row(key=f"{q.code}/rounding", words=tr("Bought"), amount=packed),
        Row(key=f"{q.code}/total", words=tr("To order"), amount=amount(q.total, q.unit)),
    ]
    if q.source_note:
        below.append(Row(key=f"{q.code}/note", words=tr("Source"), amount=q.source_note, wide=True))
    if q.sources:
        below.append(
            Row(
                key=q.code + FROM,
                words=tr("Came from"),
                amount=str(len(q.sources)),
                sources=q.sources,
            )
        )
    return Row(
        key=q.code,
        words=q.name.removeprefix(f"{under}, ") if under else q.name,
        amount=to_order(q),
        cost=cost,
        sources=q.sources,
        below=tuple(below),
    )


def below(scheme: Scheme, row: Row) -> tuple[Row, ...]:
    """Return the rows that open under a row; what a line came from is listed when it is asked.

    Args:
        scheme: The whole answer the row is of.
        row: The row.
    """
    if not row.key.endswith(FROM):
        return row.below
    return tuple(
        Row(key=f"{row.key}/{s}", words=_named(scheme, s), sources=(s,)) for s in row.sources
    )


def opens(row: Row) -> bool:
    """Tell whether there is anything under a row."""
    return bool(row.below) or row.key.endswith(FROM)


def _named(scheme: Scheme, source: str) -> str:
    room, _, rest = source.partition("/")
    known = scheme.project.room(room)
    if known is None:
        return source
    return f"{rest}  ·  {known.name}" if ":" not in rest else source


def _boards(scheme: Scheme, own: list[QuantityLine], priced: dict[str, float]) -> list[Row]:
    """Return each board with its sheets by size, what is wasted, and how few could do."""
    table = bounds_table(scheme)
    titles = [c.title for c in table.columns]
    units = scheme.project.units
    guessed = {
        e.board: estimate_words(e, units) for e in by_area(scheme, scheme.practice.mm(SPARE))
    }
    found: list[Row] = []
    for bound, cells, why in zip(
        scheme.cut_plan.bounds, table.rows, bounds_reasons(scheme), strict=True
    ):
        told = dict(zip(titles, (str(c).replace("\n", ", ") for c in cells), strict=True))
        board = scheme.catalogue.board(bound.board)
        name = board.name if board else bound.board
        sizes = {f"sheets:{s.id}" for s in board.sheets} if board else set()
        key = f"board:{bound.board}"
        least = max(bound.area_bound, bound.edge_bound)
        shown = ("Bought", "Net", "Waste of bought")
        found.append(
            Row(
                key=key,
                words=name,
                amount=amount(bound.sheets, "sheet"),
                below=(
                    *(_line(scheme, q, priced, name) for q in own if q.code in sizes),
                    Row(
                        key=f"{key}/least",
                        words=tr("No fewer than"),
                        amount=amount(least, "sheet"),
                        below=(
                            Row(
                                key=f"{key}/how",
                                words=tr("How"),
                                amount=told["No fewer than"],
                                wide=True,
                            ),
                            Row(key=f"{key}/why", words=tr("Why"), amount=why, wide=True),
                        ),
                    ),
                    *(Row(key=f"{key}/{t}", words=tr(t), amount=told[t]) for t in shown),
                    *_guess(key, guessed.get(bound.board, "")),
                ),
            )
        )
    return found


def _guess(key: str, words: str) -> tuple[Row, ...]:
    """Return the row of what the area alone would ask for, if there is any."""
    if not words:
        return ()
    return (Row(key=f"{key}/by-area", words=tr("By area alone"), amount=words, wide=True),)


def as_text(rows: Iterable[Row]) -> str:
    """Write the order as lines of text, parted by tabs, to be pasted elsewhere."""
    said: list[str] = []
    for group in rows:
        said.append(_cells(group))
        for row in group.below:
            said.append(_cells(row))
            if not row.sources:
                said.extend(f"   {_cells(size)}" for size in row.below if size.sources)
    return "\n".join(said) + "\n" if said else ""


def _cells(row: Row) -> str:
    return "\t".join(c for c in (row.words, row.amount, row.cost) if c)
