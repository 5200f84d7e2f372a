"""Programmes: linear and whole-number ones, handed to the solver and never taken on trust."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

INFINITE = math.inf
SMALL = 1e-6
"""Costs nearer than this are one."""
FEASIBLE = 1e-5
"""How far (absolute) an answer may miss a row before it counts as a fault."""


@dataclass(slots=True)
class Column:
    """One unknown.

    Attributes:
        cost: What one of it costs.
        most: Its upper bound; the lower one is 0.
        whole: Whether it is a whole number.
        rows: Row number and factor.
    """

    cost: float
    most: float
    whole: bool
    rows: dict[int, float] = field(default_factory=dict)


class Row(NamedTuple):
    """One condition: what its sum lies between."""

    least: float
    most: float


@dataclass(slots=True)
class Programme:
    """Unknowns and conditions; the sum of costs is to be least."""

    columns: list[Column] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def row(self, least: float, most: float, entries: Mapping[int, float] | None = None) -> int:
        """Add a condition on columns already there and return its number."""
        number = len(self.rows)
        self.rows.append(Row(least, most))
        for column, factor in (entries or {}).items():
            self.columns[column].rows[number] = self.columns[column].rows.get(number, 0.0) + factor
        return number

    def column(self, column: Column) -> int:
        """Add an unknown and return its number."""
        self.columns.append(column)
        return len(self.columns) - 1

    def value(self, x: Sequence[float]) -> float:
        """Return the cost of an answer."""
        return math.fsum(c.cost * v for c, v in zip(self.columns, x, strict=True))

    def faults(self, x: Sequence[float]) -> list[str]:
        """Say which conditions an answer breaks, reckoned anew."""
        sums = [0.0] * len(self.rows)
        found: list[str] = []
        for n, (column, v) in enumerate(zip(self.columns, x, strict=True)):
            if not -FEASIBLE <= v <= column.most + FEASIBLE:
                found.append(f"unknown {n} is {v}")
            for number, factor in column.rows.items():
                sums[number] += factor * v
        for n, (total, row) in enumerate(zip(sums, self.rows, strict=True)):
            if not row.least - FEASIBLE <= total <= row.most + FEASIBLE:
                found.append(f"condition {n} comes to {total}")
        return found


class Limits(NamedTuple):
    """How long a whole-number search may go on.

    Attributes:
        nodes: Nodes of the search tree; this is what decides, so that answers do not depend on
            the machine.
        seconds: An upper stop only; 0 for none.
        stop: Asked now and then; True ends the search with the best kept.
        gap: An answer within this of the bound is as good as the best.
        asks: So often the solver may look up whether to end; it does so after as much work on
            any machine, also where a single node takes long. 0 for no limit.
    """

    nodes: int
    seconds: float = 0.0
    stop: Callable[[], bool] | None = None
    gap: float = 0.0
    asks: int = 0


class Found(NamedTuple):
    """What a search came to.

    Attributes:
        value: Cost of the answer, reckoned anew; infinite without one.
        bound: No answer of the programme can cost less.
        x: The answer, empty without one.
        seconds: Time the solver took.
        ended: Whether it ran to its end.
    """

    value: float
    bound: float
    x: tuple[float, ...]
    seconds: float
    ended: bool

    def or_else(self, before: Found) -> Found:
        """Return this, with an earlier answer where that is no dearer."""
        if not before.x or before.value > self.value + SMALL:
            return self
        return self._replace(value=before.value, x=before.x)


def _solver() -> Any:  # noqa: ANN401 - the solver comes without types
    import highspy

    h: Any = highspy.Highs()  # type: ignore[no-untyped-call]
    for name, value in (
        ("output_flag", False),
        ("threads", 1),
        ("random_seed", 0),
        ("parallel", "off"),
    ):
        h.setOptionValue(name, value)
    return h


def _pass(h: Any, programme: Programme) -> None:  # noqa: ANN401 - as above
    for row in programme.rows:
        h.addRow(row.least, row.most, 0, [], [])
    for column in programme.columns:
        _add(h, column)


def _add(h: Any, column: Column) -> None:  # noqa: ANN401 - as above
    rows = sorted(column.rows)
    factors = [column.rows[r] for r in rows]
    h.addCol(column.cost, 0.0, column.most, len(rows), rows, factors)


class Relaxed:
    """A linear programme that grows by columns and is solved again and again."""

    def __init__(self, programme: Programme) -> None:
        """Take over a programme; whole numbers may be fractions."""
        self._h = _solver()
        # Unknowns whose costs may differ from 0.
        self._costed: tuple[int, ...] = tuple(range(len(programme.columns)))
        _pass(self._h, programme)

    def add(self, column: Column) -> None:
        """Add an unknown."""
        _add(self._h, column)

    def solve(self) -> tuple[float, list[float]] | None:
        """Return the least cost and the price of each condition; None if there is no answer."""
        import highspy

        self._h.run()
        if self._h.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        solution = self._h.getSolution()
        return float(self._h.getInfo().objective_function_value), list(solution.row_dual)

    @property
    def reduced(self) -> list[float]:
        """By how much one of each unknown raises the least cost at least, if that is solved."""
        return list(self._h.getSolution().col_dual)

    def most_of(self, factors: Mapping[int, float]) -> float:
        """Return the most that a sum of unknowns can come to; costs do not count any more.

        Args:
            factors: Factors by unknown.

        Returns:
            The most; infinite if the solver finds none.
        """
        import highspy

        self._set_costs(dict.fromkeys(self._costed, 0.0))
        self._set_costs({n: -f for n, f in factors.items()})
        self._costed = tuple(factors)
        self._h.run()
        if self._h.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return INFINITE
        return -float(self._h.getInfo().objective_function_value)

    def _set_costs(self, costs: Mapping[int, float]) -> None:
        if costs:
            self._h.changeColsCost(len(costs), list(costs), list(costs.values()))

    @property
    def seconds(self) -> float:
        """Time the solver has taken."""
        return float(self._h.getRunTime())


def least_whole(programme: Programme, limits: Limits) -> Found:
    """Search for the least whole-number answer.

    The solver gets no answer to start from: together with its presolve that has been seen to
    give wrong answers. What it returns is rounded, checked against every condition and its
    cost reckoned anew; an answer that fails is not used.

    Args:
        programme: The programme.
        limits: How long to search.
    """
    import highspy

    h = _solver()
    _pass(h, programme)
    whole = [n for n, c in enumerate(programme.columns) if c.whole]
    kind = highspy.HighsVarType.kInteger
    h.changeColsIntegrality(len(whole), whole, [kind] * len(whole))
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", max(1e-6, limits.gap))
    h.setOptionValue("mip_max_nodes", limits.nodes)
    if limits.seconds:
        h.setOptionValue("time_limit", float(limits.seconds))
    if limits.stop is not None or limits.asks:
        asked = 0

        def ask(event: Any) -> None:  # noqa: ANN401 - as above
            nonlocal asked
            asked += 1
            if 0 < limits.asks < asked or (limits.stop is not None and limits.stop()):
                event.interrupt()

        h.cbMipInterrupt.subscribe(ask)
    h.run()
    status = h.getModelStatus()
    info, seconds = h.getInfo(), float(h.getRunTime())
    if status == highspy.HighsModelStatus.kInfeasible:
        return Found(INFINITE, INFINITE, (), seconds, ended=True)
    bound = float(info.mip_dual_bound)
    ended = status == highspy.HighsModelStatus.kOptimal
    values = list(h.getSolution().col_value)
    if len(values) != len(programme.columns) or not math.isfinite(
        float(info.objective_function_value)
    ):
        return Found(INFINITE, bound, (), seconds, ended=False)
    x = tuple(
        float(round(v)) if c.whole else v for c, v in zip(programme.columns, values, strict=True)
    )
    if programme.faults(x):
        return Found(INFINITE, bound, (), seconds, ended=False)
    value = programme.value(x)
    # The solver's own bound is no use above what was really found.
    return Found(value, min(bound, value), x, seconds, ended)
