"""Plots for people who would rather look: bars drawn with the same marks as everything else."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from roomboard.core.project import Units
from roomboard.core.scheme import Scheme
from roomboard.core.units import FOOT, POUND_KG, write_area, write_mass
from roomboard.drawing.amounts import board_by_room, cost_by_group, mass_by_storey
from roomboard.drawing.displaylist import (
    BASE_RIGHT,
    Across,
    Fill,
    Mark,
    Stroke,
    Text,
    Up,
)
from roomboard.drawing.flow import Block, Paragraph, Picture
from roomboard.drawing.lettering import (
    SMALLEST,
    cap_height,
    line_pitch,
    text_width,
    wrapped,
)
from roomboard.drawing.order import GROUPS
from roomboard.drawing.room_names import board_name

BAR, BETWEEN, GROUP = 3.4, 0.5, 2.6
"""Height of a bar, space between the bars of one name and space between names, mm."""
NAMES = 42.0
"""The names on the left take no more than this, mm."""
TICKS = 6
"""An axis has no more ticks than this."""
DARK = 0.35
"""Grey of the first series: dark enough to stay black on a bad copy."""
SAMPLE = 8.0
"""Length of a sample in the key, mm."""
SQUARE_FOOT_M2 = (float(FOOT) / 1000) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """What an axis measures.

    Attributes:
        words: What stands at the axis, with the unit.
        size: How much of the plotted values one unit is.
        write: Writes a plotted value with its unit.
    """

    words: str
    size: float
    write: Callable[[float], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bars:
    """A plot of level bars.

    Attributes:
        title: Its title.
        measure: What its axis measures.
        series: Name of each bar of a group, first to last.
        rows: For each group its name and a value for each series.
    """

    title: str
    measure: Measure
    series: tuple[str, ...]
    rows: tuple[tuple[str, tuple[float, ...]], ...]


def axis_step(largest: float) -> float:
    """Return the distance of ticks on an axis: 1, 2 or 5 times a power of ten.

    Args:
        largest: The largest value on it.
    """
    if largest <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(largest / TICKS))
    return next((m * power for m in (1.0, 2.0, 5.0) if largest / (m * power) <= TICKS), 10 * power)


def bar_plot(plot: Bars, width: float, largest: float = 0.0) -> Picture:
    """Draw a plot of level bars: names on the left, each bar with its value, an axis under them.

    Args:
        plot: What is plotted.
        width: mm of paper.
        largest: The axis reaches at least to this value.

    Returns:
        The drawing on paper, its lower left corner at zero.
    """
    return _Plot(plot, width, largest).picture()


@dataclass(frozen=True)
class _Plot:
    """A plot being drawn on paper."""

    plot: Bars
    width: float
    reach: float

    @property
    def left(self) -> float:
        """Where the bars begin."""
        longest = max(text_width(name, SMALLEST) for name, _ in self.plot.rows)
        return min(longest, NAMES) + 2.0

    @property
    def right(self) -> float:
        """Where the longest bar may end: its value stands after it."""
        values = [v for _, row in self.plot.rows for v in row]
        return (
            self.width - 3.0 - max(text_width(self.plot.measure.write(v), SMALLEST) for v in values)
        )

    def picture(self) -> Picture:
        size = self.plot.measure.size
        values = [v for _, row in self.plot.rows for v in row]
        largest = max(self.reach, *values) / size
        step = axis_step(largest)
        count = max(1, math.ceil(largest / step - 1e-9))
        per_unit = (self.right - self.left) / (count * step)
        pitch = line_pitch(SMALLEST)
        heights = [self._group_height(name, row) for name, row in self.plot.rows]
        foot = 2 * pitch + 3.0
        bars = sum(heights) + GROUP * (len(heights) + 1)
        key = pitch + 1.0 if len(self.plot.series) > 1 else 0.0
        head = pitch + 1.0
        marks: list[Mark] = []
        top = foot + bars
        marks += self._head(top + key, key)
        marks += self._axis(foot, top, step, count, per_unit)
        y = top - GROUP
        for (name, row), height in zip(self.plot.rows, heights, strict=True):
            marks += self._group(name, row, y, height, per_unit / size)
            y -= height + GROUP
        return Picture(marks=tuple(marks), width=self.width, height=top + key + head)

    def _group_height(self, name: str, row: Sequence[float]) -> float:
        lines = wrapped(name, NAMES)
        bars = len(row) * BAR + (len(row) - 1) * BETWEEN
        return max(bars, len(lines) * line_pitch(SMALLEST))

    def _head(self, y: float, key: float) -> list[Mark]:
        """Draw the title and under it what the bars are."""
        marks: list[Mark] = [
            Text(at=(0.0, y + 1.0), text=self.plot.title, paper_height=SMALLEST, bold=True)
        ]
        x = self.left
        if not key:
            return marks
        base = y - line_pitch(SMALLEST) + 0.5
        for number, name in enumerate(self.plot.series):
            marks += _bar(x, base, SAMPLE, SMALLEST, number)
            marks.append(Text(at=(x + SAMPLE + 1.5, base), text=name, paper_height=SMALLEST))
            x += SAMPLE + 7.0 + text_width(name, SMALLEST)
        return marks

    def _axis(
        self, foot: float, top: float, step: float, count: int, per_unit: float
    ) -> list[Mark]:
        end = self.left + count * step * per_unit
        marks: list[Mark] = [
            Stroke(points=((self.left, foot), (end, foot)), layer="piece"),
            Stroke(points=((self.left, foot), (self.left, top)), layer="piece"),
        ]
        for number in range(count + 1):
            x = self.left + number * step * per_unit
            marks.append(Stroke(points=((x, foot - 1.2), (x, foot)), layer="piece"))
            marks.append(
                Text(
                    at=(x, foot - 2.0),
                    text=f"{number * step:g}",
                    paper_height=SMALLEST,
                    anchor=(Across.CENTRE, Up.TOP),
                )
            )
        words = self.plot.measure.words
        at = (end, foot - 2.0 - line_pitch(SMALLEST) - cap_height(SMALLEST) + 0.5)
        marks.append(Text(at=at, text=words, paper_height=SMALLEST, anchor=BASE_RIGHT))
        return marks

    def _group(
        self, name: str, row: Sequence[float], top: float, height: float, per_value: float
    ) -> list[Mark]:
        marks: list[Mark] = []
        lines = wrapped(name, NAMES)
        pitch = line_pitch(SMALLEST)
        base = top - height / 2 + (len(lines) - 1) * pitch / 2 - SMALLEST / 2
        for line in lines:
            at = (self.left - 2.0, base)
            marks.append(Text(at=at, text=line, paper_height=SMALLEST, anchor=BASE_RIGHT))
            base -= pitch
        bars = len(row) * BAR + (len(row) - 1) * BETWEEN
        y = top - (height - bars) / 2 - BAR
        for number, value in enumerate(row):
            long = value * per_value
            marks += _bar(self.left, y, long, BAR, number)
            marks.append(
                Text(
                    at=(self.left + long + 1.5, y + (BAR - SMALLEST) / 2),
                    text=self.plot.measure.write(value),
                    paper_height=SMALLEST,
                )
            )
            y -= BAR + BETWEEN
        return marks


def _bar(x: float, y: float, long: float, high: float, number: int) -> list[Mark]:
    """Draw a bar of a series: dark, then hatched, then white; all outlined."""
    if long <= 0:
        return []
    ring = ((x, y), (x + long, y), (x + long, y + high), (x, y + high))
    fills: tuple[Mark, ...] = (
        Fill(rings=(ring,), layer="piece", tone=DARK),
        Fill(rings=(ring,), layer="piece", hatch="timber"),
        Fill(rings=(ring,), layer="piece", tone=1.0),
    )
    return [fills[number % len(fills)], Stroke(points=ring, layer="title_block", closed=True)]


# --- the plots of a job -------------------------------------------------------------------


def job_plots(scheme: Scheme) -> tuple[Bars, ...]:
    """Return the plots of a job: board by room, waste by board, mass by floor, cost if priced."""
    metric = scheme.project.units is Units.METRIC
    units = scheme.project.units
    area = Measure(
        words="board, m²" if metric else "board, ft²",
        size=1.0 if metric else SQUARE_FOOT_M2,
        write=lambda m2: write_area(m2, units),
    )
    mass = Measure(
        words="mass of sheets, kg" if metric else "mass of sheets, lb",
        size=1.0 if metric else POUND_KG,
        write=lambda kg: write_mass(kg, units),
    )
    rooms = board_by_room(scheme)
    bounds = [b for b in scheme.cut_plan.bounds if b.bought_m2]
    plots = [
        Bars(
            title="Board bought and fixed, room by room",
            measure=area,
            series=("bought", "fixed (net)"),
            rows=tuple((r.room, (r.bought_m2, r.net_m2)) for r in rooms),
        ),
        Bars(
            title="Waste: bought and not fixed, board by board",
            measure=Measure(
                words="waste, % of what is bought", size=1.0, write=lambda part: f"{part:.1f} %"
            ),
            series=("waste",),
            rows=tuple(
                (
                    board_name(scheme, b.board),
                    (100 * (b.bought_m2 - b.net_m2) / b.bought_m2,),
                )
                for b in bounds
            ),
        ),
        Bars(
            title="Mass of sheets to carry, floor by floor",
            measure=mass,
            series=("mass",),
            rows=tuple((f"{name} floor", (kg,)) for name, kg in mass_by_storey(scheme)),
        ),
    ]
    cost = cost_by_group(scheme)
    if cost:
        currency = scheme.project.currency or "the project's currency"
        plots.append(
            Bars(
                title="Cost of what is priced, by kind",
                measure=Measure(words=f"cost, {currency}", size=1.0, write=lambda x: f"{x:.2f}"),
                series=("cost",),
                rows=tuple((GROUPS.get(group, group), (sum_,)) for group, sum_ in cost),
            )
        )
    return tuple(p for p in plots if any(v > 0 for _, row in p.rows for v in row))


def in_parts(plot: Bars, width: float, height: float) -> tuple[Picture, ...]:
    """Draw a plot on as many pictures as it takes, all with the same axis.

    Args:
        plot: What is plotted.
        width: mm of paper.
        height: None is higher than this, mm, unless it is of one group of bars.
    """
    count = len(plot.rows)
    largest = max(v for _, row in plot.rows for v in row)
    while True:
        parts = [plot.rows[n : n + count] for n in range(0, len(plot.rows), count)]
        pictures = tuple(
            bar_plot(
                replace(plot, rows=rows, title=f"{plot.title}, continued" if n else plot.title),
                width,
                largest,
            )
            for n, rows in enumerate(parts)
        )
        if count == 1 or all(p.height <= height for p in pictures):
            return pictures
        count = -(-count // 2)


def plot_blocks(scheme: Scheme, width: float, height: float) -> tuple[Block, ...]:
    """Return the plots of a job with what is to be said of them, to be set on pages.

    Args:
        scheme: The whole answer.
        width: How wide they may be, mm.
        height: How high a page is, mm.
    """
    plots = job_plots(scheme)
    if not plots:
        return ()
    priced = len(cost_by_group(scheme)) > 0
    words = (
        "A sheet that is cut for several rooms is shared among them by the area of the rectangles "
        "cut from it; it is carried to the floor where most of it is fixed."
    )
    if not priced:
        words += " No prices are given, so no costs are shown."
    pictures = [picture for p in plots for picture in in_parts(p, width, height)]
    return (Paragraph(text=words), *pictures)
