"""Bulkheads and columns named in plain words."""

from __future__ import annotations

from roomboard.core.plane import Region
from roomboard.core.project import Column
from roomboard.drawing.plain_asking import Asked, Named
from roomboard.drawing.plain_sentences import BULKHEAD, COLUMN


def bulkhead_named(asked: Asked) -> Named | None:
    """Name a bulkhead, by itself or by one of its faces; None where the room has none such."""
    ident = asked.ref.removeprefix("bulkhead:").partition(":")[0]
    return next(
        (
            Named(
                title=f"Bulkhead {b.id}",
                figures=(
                    f"{asked.mm(b.length)} long, {asked.mm(b.depth)} deep, {asked.mm(b.drop)} down"
                ),
                sentence=BULKHEAD,
                term="bulkhead",
            )
            for b in (asked.room.bulkheads if asked.room else ())
            if b.id == ident
        ),
        None,
    )


def column_named(asked: Asked) -> Named | None:
    """Name a column, by itself or by one of its sides; None where the room has none such."""
    ident = asked.ref.removeprefix("column:").partition(":")[0]
    return next(
        (
            Named(
                title=f"Column {c.id}" + ("" if c.lined else ", not lined"),
                figures=asked.size(*_sizes(c)),
                sentence=COLUMN,
            )
            for c in (asked.room.columns if asked.room else ())
            if c.id == ident
        ),
        None,
    )


def _sizes(column: Column) -> tuple[float, float]:
    x0, y0, x1, y1 = Region.of(column.outline).bounds
    return x1 - x0, y1 - y0
