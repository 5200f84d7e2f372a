"""Board against butts: the answers there are, plotted and listed, and how near the best is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from roomboard.core.optimum.directions import directions_told
from roomboard.core.optimum.improve import Optimum
from roomboard.core.optimum.in_units import amount_in, cost_in, cost_unit, unit_of, weight_in
from roomboard.core.optimum.trading import Point as Answer
from roomboard.core.optimum.weighing import CostLine
from roomboard.core.project import Units
from roomboard.core.scheme import Scheme
from roomboard.core.units import FOOT, write_area, write_mass, write_run
from roomboard.drawing.displaylist import (
    BASE_LEFT,
    BASE_RIGHT,
    Across,
    Dots,
    Mark,
    Stroke,
    Symbol,
    Text,
    Up,
)
from roomboard.drawing.flow import Block, Column, Heading, Paragraph, Picture, Table
from roomboard.drawing.job_figures import bounds_reasons
from roomboard.drawing.lettering import SMALLEST, cap_height, line_pitch, text_width
from roomboard.drawing.plots import SQUARE_FOOT_M2, axis_step

POINT = "answer:"
"""What the ref of a plotted answer begins with; its number follows, from 0."""
SIGN = 3.0
"""Diameter of a plotted answer, mm on paper."""
HIGH = 62.0
"""Height of the plot's field, mm on paper."""
HEAD = 0.12
"""Share of an axis left free beyond the answers."""

KIND_NAMES = {
    "board": "board bought",
    "block_board": "board bought for back-blocks alone",
    "butt": "butt joint",
    "recessed": "recessed joint",
    "end_to_recess": "sheet ends at a recessed edge",
    "piece": "pieces",
    "cut": "cuts",
    "lift": "heaviest piece of each surface, together",
    "middle": "butt joint near the middle",
    "light": "butt joint across the light",
}
"""Each kind of cost in words."""


@dataclass(frozen=True)
class _Axis:
    """An axis in the project's units.

    Attributes:
        words: What it measures, with the unit.
        size: How much of a plotted value one unit is.
        low: Where it begins, in units.
        high: Where it ends.
    """

    words: str
    size: float
    low: float
    high: float

    def at(self, value: float) -> float:
        """Return how far along it a value stands, 0 to 1."""
        return (value / self.size - self.low) / (self.high - self.low)

    def ticks(self) -> list[float]:
        step = axis_step(self.high - self.low)
        first = math.ceil(self.low / step - 1e-9)
        last = math.floor(self.high / step + 1e-9)
        return [n * step for n in range(first, last + 1)]


def _axis(words: str, size: float, values: Sequence[float]) -> _Axis:
    low, high = min(values) / size, max(values) / size
    free = max((high - low) * HEAD, high * 0.01, 0.1)
    return _Axis(words, size, max(0.0, low - free), high + free)


def trade_plot(
    answers: Sequence[Answer], units: Units, width: float, *, chosen: int = -1
) -> Picture:
    """Plot answers by board and butts; each has its number and the mass of its heaviest piece.

    Args:
        answers: Those that no other beats, from the least board on.
        units: How figures are written.
        width: mm of paper.
        chosen: Number of the answer that is marked by a cross, from 0; -1 for none.

    Returns:
        The drawing on paper, its lower left corner at zero.
    """
    metric = units is Units.METRIC
    across = _axis(
        "board to buy, m²" if metric else "board to buy, sq ft",
        1.0 if metric else SQUARE_FOOT_M2,
        [a.board_m2 for a in answers],
    )
    up = _axis(
        "butt joint, m" if metric else "butt joint, ft",
        1.0 if metric else float(FOOT) / 1000,
        [a.butt_m for a in answers],
    )
    pitch = line_pitch(SMALLEST)
    left = max(text_width(f"{t:g}", SMALLEST) for t in up.ticks()) + 4.0
    foot = 2 * pitch + 3.0
    long = width - left - 4.0
    marks: list[Mark] = _frame(across, up, left, foot, long)
    places = [(left + across.at(a.board_m2) * long, foot + up.at(a.butt_m) * HIGH) for a in answers]
    marks += _answers(answers, units, places, left + long, chosen)
    return Picture(marks=tuple(marks), width=width, height=foot + HIGH + pitch + 2.0)


def _frame(across: _Axis, up: _Axis, left: float, foot: float, long: float) -> list[Mark]:
    """Draw both axes with their ticks and words."""
    pitch = line_pitch(SMALLEST)
    marks: list[Mark] = [
        Stroke(points=((left, foot + HIGH), (left, foot), (left + long, foot)), layer="piece"),
        Text(at=(left, foot + HIGH + 2.0), text=up.words, paper_height=SMALLEST),
    ]
    for tick in across.ticks():
        x = left + across.at(tick * across.size) * long
        marks.append(Stroke(points=((x, foot - 1.2), (x, foot)), layer="piece"))
        anchor = (Across.CENTRE, Up.TOP)
        at = (x, foot - 2.0)
        marks.append(Text(at=at, text=f"{tick:g}", paper_height=SMALLEST, anchor=anchor))
    for tick in up.ticks():
        y = foot + up.at(tick * up.size) * HIGH
        marks.append(Stroke(points=((left - 1.2, y), (left, y)), layer="piece"))
        at = (left - 2.0, y - SMALLEST / 2)
        marks.append(Text(at=at, text=f"{tick:g}", paper_height=SMALLEST, anchor=BASE_RIGHT))
    at = (left + long, foot - 2.0 - pitch - cap_height(SMALLEST) + 0.5)
    marks.append(Text(at=at, text=across.words, paper_height=SMALLEST, anchor=BASE_RIGHT))
    return marks


def _answers(
    answers: Sequence[Answer],
    units: Units,
    places: Sequence[tuple[float, float]],
    end: float,
    chosen: int,
) -> list[Mark]:
    """Draw the answers with their numbers, joined by steps; no lettering stands on another."""
    marks: list[Mark] = []
    stairs: list[tuple[float, float]] = []
    for x, y in places:
        if stairs and stairs[-1][1] > y:
            stairs.append((x, stairs[-1][1]))
        if not stairs or y < stairs[-1][1]:
            stairs.append((x, y))
    if len(stairs) > 1:
        marks.append(Stroke(points=tuple(stairs), layer="dimension"))
    taken: list[tuple[float, float]] = []
    for number, (answer, (x, y)) in enumerate(zip(answers, places, strict=True)):
        ref = f"{POINT}{number}"
        symbol = Symbol.CROSS if number == chosen else Symbol.RING
        marks.append(Dots(points=((x, y),), symbol=symbol, paper_size=SIGN, layer="piece", ref=ref))
        words = f"{number + 1}: {write_mass(answer.heaviest_kg, units)}"
        room = text_width(words, SMALLEST)
        before = x + SIGN + room > end
        base = y + SIGN / 2
        while any(abs(base - b) < SMALLEST + 1.0 and abs(x - a) < room + SIGN for a, b in taken):
            base += SMALLEST + 1.0
        taken.append((x, base))
        at = (x - SIGN / 2, base) if before else (x + SIGN / 2, base)
        anchor = BASE_RIGHT if before else BASE_LEFT
        marks.append(Text(at=at, text=words, paper_height=SMALLEST, anchor=anchor, ref=ref))
    return marks


def trade_columns() -> tuple[str, ...]:
    """Return the heads of the table of answers."""
    return ("No.", "Sheets", "Board to buy", "Butt joint", "Heaviest piece")


def trade_row(number: int, answer: Answer, units: Units) -> tuple[str, ...]:
    """Return the cells of an answer.

    Args:
        number: Its number, from 0.
        answer: The answer.
        units: How figures are written.
    """
    return (
        str(number + 1),
        str(answer.sheets),
        write_area(answer.board_m2, units),
        write_run(answer.butt_m * 1000, units),
        write_mass(answer.heaviest_kg, units),
    )


def trade_table(answers: Sequence[Answer], units: Units) -> Table:
    """Return the answers as a table."""
    return Table(
        columns=tuple(Column(title=t, right=True) for t in trade_columns()),
        rows=tuple(trade_row(n, a, units) for n, a in enumerate(answers)),
    )


def costs_table(found: Optimum, units: Units) -> Table:
    """Return what an answer and the usual set-out cost, kind by kind, in board.

    Args:
        found: How good the answer is.
        units: How figures are written; costs are in m2 or square feet of board.
    """
    rows: list[tuple[str, ...]] = []
    for own, usual in zip(found.cost.lines, found.usual.lines, strict=True):
        rows.append(
            (
                KIND_NAMES[own.kind],
                f"{weight_in(own.weight, own.kind, units):.4g}",
                _amount(usual, units),
                _cost(usual.cost, units),
                _amount(own, units),
                _cost(own.cost, units),
            )
        )
    rows.append(
        ("together", "", "", _cost(found.usual.total, units), "", _cost(found.cost.total, units)),
    )
    return Table(
        columns=(
            Column(title="What counts"),
            Column(title="One counts", right=True),
            Column(title="Usual set-out", right=True),
            Column(title="costs", right=True),
            Column(title="This set-out", right=True),
            Column(title="costs", right=True),
        ),
        rows=tuple(rows),
    )


def _amount(line: CostLine, units: Units) -> str:
    unit = unit_of(line.kind, units)
    amount = amount_in(line.amount, line.kind, units)
    return f"{amount:.2f} {unit}" if unit else f"{amount:g}"


def _cost(cost_m2: float, units: Units) -> str:
    return f"{cost_in(cost_m2, units):.2f}"


def how_near(found: Optimum, units: Units) -> str:
    """Say in words how near the best an answer is, and how that is known.

    Args:
        found: How good the answer is.
        units: How figures are written.
    """
    cost, unit = _cost(found.cost.total, units), cost_unit(units)
    known = f" How the bound was found: {found.how}."
    if not found.bound and not found.proven:
        head = f"This set-out costs {cost} in {unit} of board."
        known = f" How near the best that is, is not known: {found.how}."
    elif found.proven:
        head = (
            f"No set-out among those looked at costs less: {cost} in {unit} of "
            "board is proven to be the least."
        )
    else:
        head = (
            f"This set-out costs {cost} in {unit} of board; none among those looked "
            f"at can cost less than {_cost(found.bound, units)}: it is at most {found.gap:.2%} "
            "above the best."
        )
    tail = f" The search was stopped early: {found.stopped}." if found.stopped else ""
    return f"{head}{known}{tail}"


def trade_blocks(scheme: Scheme, width: float) -> tuple[Block, ...]:
    """Return what is known of the best for a job, to be set on pages; empty where none was sought.

    Args:
        scheme: The whole answer.
        width: How wide pictures may be, mm.
    """
    units, trade = scheme.project.units, scheme.trade
    found = scheme.optimum or (trade.optimum if trade else None)
    parts: list[Block] = []
    if found is not None:
        parts += [
            Heading(text="How near the best"),
            Paragraph(text=how_near(found, units)),
            *(Paragraph(text=words, tight=True) for words in directions_told(scheme)),
            costs_table(found, units),
            Paragraph(
                text=f"One counts as much as so many {cost_unit(units)} of board: these weights "
                "are the user's own preferences and no figures of practice. No rule is weighed. "
                "Butts near the middle count by how near the middle of their field they stand; "
                "butts across the light by how near to a window beside the face or a light in "
                "it they lie, and how squarely across the way the light runs along the face."
            ),
        ]
    if trade is not None and trade.points:
        parts += [
            Heading(text="Board against butts"),
            Paragraph(
                text="Other set-outs of the same job; none is beaten by another in board, butt "
                "joint and heaviest piece. The number of each and the mass of its heaviest piece "
                "stand at its sign."
            ),
            trade_plot(trade.points, units, width),
            trade_table(trade.points, units),
        ]
    if trade is not None and trade.limits:
        parts += [
            Heading(text="What limits cost"),
            Paragraph(
                text="The job was solved again without each limit. What comes out without a rule "
                "of the practice pack is a comparison and not to be built."
            ),
            *(Paragraph(text=limit.words, tight=True) for limit in trade.limits),
        ]
    if parts:
        if trade is not None and not trade.complete:
            parts.append(Paragraph(text="Not all of it was sought to the end: it was stopped."))
        parts.append(Heading(text="Why more sheets than the least"))
        parts += [Paragraph(text=line, tight=True) for line in bounds_reasons(scheme)]
    return tuple(parts)
