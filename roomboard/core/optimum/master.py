"""Set-outs and patterns together: patterns made as prices ask for them, then whole numbers.

For any prices of the pieces that no sheet beats (the pieces of no pattern are worth more than
the sheet costs), the cheapest set-out at these prices is a bound for all answers. Once every
pattern that can be part of a better answer is in the pool, the search over whole numbers
proves its result.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from roomboard.core.optimum.plates import Item, Pattern, Plates, TooManyError
from roomboard.core.optimum.program import Column, Limits, Programme, Relaxed, least_whole

WORDS = "prices that no sheet beats (linear programme over set-outs and patterns)"
SMALL = 1e-6
"""Costs nearer than this are one."""


class Sheet(NamedTuple):
    """A stock size.

    Attributes:
        length: Along it.
        width: Across it.
        cost: What one costs.
        allowed: Indexes of the kinds it may give.
        most: How many there are; infinite for stock that is bought.
    """

    length: int
    width: int
    cost: float
    allowed: tuple[int, ...]
    most: float = math.inf


@dataclass(slots=True)
class Choice:
    """One unknown of the set-outs.

    Attributes:
        cost: What it costs by itself.
        asks: How many of each kind it asks for.
        whole: Whether it is taken or not; otherwise it is any number from 0 up.
    """

    cost: float
    asks: dict[int, int] = field(default_factory=dict)
    whole: bool = True


@dataclass(slots=True)
class Problem:
    """What is to be cut, from what, and what is free to choose.

    Attributes:
        items: Kinds of pieces; their limits say how many can be asked for.
        sheets: Stock sizes.
        recess: How far the recess reaches in.
        asked: How many of each kind are wanted whatever is chosen.
        choices: Unknowns of the set-outs.
        rules: Conditions on them: least, most, factors by unknown.
        step: All costs are whole multiples of it, so a better answer is better by so much; 0 if
            there is no such step.
    """

    items: list[Item]
    sheets: list[Sheet]
    recess: int
    asked: list[int]
    choices: list[Choice] = field(default_factory=list)
    rules: list[tuple[float, float, dict[int, float]]] = field(default_factory=list)
    step: float = 0.0

    def raised(self, bound: float) -> float:
        """Return a bound rounded up to a whole step."""
        if not self.step or not math.isfinite(bound):
            return bound
        return math.ceil(bound / self.step - SMALL) * self.step


class Depth(NamedTuple):
    """How far a search goes; counts, so that answers do not depend on the machine.

    Attributes:
        rounds: Rounds of pricing.
        nodes: Nodes of each whole-number search.
        patterns: Patterns of one plate gone through at most when looking for all that matter.
    """

    rounds: int
    nodes: int
    patterns: int


Progress = Callable[[float, float, str], None]
"""Told the best cost, the bound and what is being done."""


class Watch(NamedTuple):
    """What looks on while a search goes on.

    Attributes:
        seconds: Upper stop for each whole-number search; 0 for none.
        progress: Told how far it has come, or None.
        stop: Asked now and then whether to end, or None.
    """

    seconds: float = 0.0
    progress: Progress | None = None
    stop: Callable[[], bool] | None = None

    def tell(self, best: float, bound: float, words: str) -> None:
        """Pass on how far it has come."""
        if self.progress is not None:
            self.progress(best, bound, words)

    @property
    def ended(self) -> bool:
        """Whether to stop."""
        return self.stop is not None and self.stop()


class Chosen(NamedTuple):
    """What a search came to.

    Attributes:
        value: Cost of the best answer; infinite without one, or if none beats the one known.
        bound: No answer costs less.
        taken: Value of each unknown of the set-outs.
        sheets: Stock size and pattern of each sheet.
        complete: Whether every pattern that could matter was in the last search.
        words: How the bound was found.
    """

    value: float
    bound: float
    taken: tuple[float, ...]
    sheets: tuple[tuple[int, Pattern], ...]
    complete: bool
    words: str


class Search:
    """One search for the least cost of a problem."""

    def __init__(self, problem: Problem, depth: Depth, watch: Watch) -> None:
        """Set up the programme with the simplest patterns.

        Args:
            problem: What is to be chosen and cut.
            depth: How far to go.
            watch: Who looks on.
        """
        self.problem = problem
        self.depth = depth
        self.watch = watch
        self.pool: list[tuple[int, Pattern]] = []
        self._seen: set[tuple[int, tuple[int, ...]]] = set()
        self._plates: dict[tuple[int, tuple[int, ...]], Plates] = {}
        for sheet in problem.sheets:
            key = (sheet.width, sheet.allowed)
            longest = max(s.length for s in problem.sheets if (s.width, s.allowed) == key)
            if key not in self._plates:
                self._plates[key] = Plates(
                    problem.items, sheet.allowed, (longest, sheet.width), problem.recess
                )
        self.programme = Programme()
        for choice in problem.choices:
            most = 1.0 if choice.whole else math.inf
            self.programme.column(Column(choice.cost, most, choice.whole))
        self._cover = [
            self.programme.row(
                float(asked),
                math.inf,
                {n: -c.asks[i] for n, c in enumerate(problem.choices) if i in c.asks},
            )
            for i, asked in enumerate(problem.asked)
        ]
        self._stocked = [
            self.programme.row(-math.inf, s.most) if math.isfinite(s.most) else -1
            for s in problem.sheets
        ]
        for least, most, factors in problem.rules:
            self.programme.row(least, most, factors)

    def plates_of(self, sheet: Sheet) -> Plates:
        """Return the plates of a stock size."""
        return self._plates[sheet.width, sheet.allowed]

    def add(self, size: int, pattern: Pattern) -> Column | None:
        """Take a pattern into the pool unless it is there already."""
        key = (size, pattern.items)
        if not pattern.items or key in self._seen:
            return None
        self._seen.add(key)
        self.pool.append((size, pattern))
        rows: dict[int, float] = {}
        for i in pattern.items:
            rows[self._cover[i]] = rows.get(self._cover[i], 0.0) + 1.0
        if self._stocked[size] >= 0:
            rows[self._stocked[size]] = 1.0
        column = Column(self.problem.sheets[size].cost, math.inf, whole=True, rows=rows)
        self.programme.column(column)
        return column

    def _first_patterns(self) -> None:
        """Give every kind a sheet of its own, of each size that can give it."""
        problem = self.problem
        for i in range(len(problem.items)):
            values = [0.0] * len(problem.items)
            values[i] = 1.0
            for plates in self._plates.values():
                if i in plates.allowed:
                    plates.price(values)
                    for size, sheet in enumerate(problem.sheets):
                        if (
                            self.plates_of(sheet) is plates
                            and problem.items[i].length <= sheet.length
                        ):
                            self.add(size, plates.best(sheet.length))

    def _prices(self, duals: Sequence[float]) -> list[float]:
        return [max(0.0, duals[row]) for row in self._cover]

    def grow(self) -> tuple[float, list[float]]:
        """Make patterns until no sheet beats the prices; return a bound and its prices."""
        self._first_patterns()
        relaxed = Relaxed(self.programme)
        best, prices = 0.0, [0.0] * len(self.problem.items)
        for round_ in range(self.depth.rounds):
            solved = relaxed.solve()
            if solved is None or self.watch.ended:
                break
            value, duals = solved
            now = self._prices(duals)
            excess, fresh = self._price_sheets(now, duals)
            bound = self._bound_at([p / excess for p in now]) if excess < 1.5 else 0.0
            if bound > best:
                best, prices = bound, [p / excess for p in now]
            if not round_ % 5:
                self.watch.tell(math.inf, best, "making patterns as the prices ask for them")
            if excess <= 1 + SMALL or value - best <= SMALL:
                break
            added = [c for c in (self.add(size, p) for size, p in fresh) if c is not None]
            if not added:
                break
            for column in added:
                relaxed.add(column)
        return best, prices

    def _price_sheets(
        self, prices: Sequence[float], duals: Sequence[float]
    ) -> tuple[float, list[tuple[int, Pattern]]]:
        """Return by how much sheets beat the prices at most, and patterns that do."""
        excess = 1.0
        fresh: list[tuple[int, Pattern]] = []
        for plates in self._plates.values():
            plates.price(prices)
            for size, sheet in enumerate(self.problem.sheets):
                if self.plates_of(sheet) is not plates:
                    continue
                stocked = self._stocked[size]
                cost = sheet.cost - (min(0.0, duals[stocked]) if stocked >= 0 else 0.0)
                worth = plates.worth(sheet.length)
                if worth > cost + SMALL:
                    fresh.append((size, plates.best(sheet.length)))
                if worth > sheet.cost + SMALL and stocked < 0:
                    excess = max(excess, worth / max(sheet.cost, SMALL))
        return excess, fresh

    def _bound_at(self, prices: Sequence[float]) -> float:
        """Return the cost of the cheapest set-out at given prices, stock on hand free of limits."""
        problem = self.problem
        wanted = math.fsum(p * n for p, n in zip(prices, problem.asked, strict=True))
        # Sheets on hand that are worth more than they cost give at most this much.
        for size, sheet in enumerate(problem.sheets):
            if self._stocked[size] >= 0:
                plates = self.plates_of(sheet)
                plates.price(prices)
                wanted -= sheet.most * max(0.0, plates.worth(sheet.length) - sheet.cost)
        if not problem.choices:
            return wanted
        alone = Programme()
        for c in problem.choices:
            cost = c.cost + math.fsum(prices[i] * n for i, n in sorted(c.asks.items()))
            alone.column(Column(cost, 1.0 if c.whole else math.inf, c.whole))
        for least, most, factors in problem.rules:
            alone.row(least, most, factors)
        solved = Relaxed(alone).solve()
        return -math.inf if solved is None else wanted + solved[0] - SMALL

    def all_within(self, prices: Sequence[float], window: float) -> bool:
        """Take in every pattern that costs no more than ``window`` above its worth.

        Returns:
            Whether all of them were taken in; False if there are too many.
        """
        try:
            for plates in self._plates.values():
                for size, sheet in enumerate(self.problem.sheets):
                    if self.plates_of(sheet) is not plates:
                        continue
                    plates.price(prices)
                    slack = plates.worth(sheet.length) - sheet.cost + window
                    if slack < 0:
                        continue
                    for pattern in plates.near(sheet.length, slack, self.depth.patterns):
                        self.add(size, pattern)
                    if len(self.pool) > 4 * self.depth.patterns:
                        return False
        except TooManyError:
            return False
        return True

    def solve(self, known: float = math.inf) -> Chosen:
        """Search for the least cost.

        Args:
            known: Cost of an answer already at hand; the search need not repeat it.
        """
        bound, prices = self.grow()
        bound = self.problem.raised(bound)
        if bound >= known - SMALL:
            return Chosen(math.inf, bound, (), (), complete=True, words=WORDS)
        limits = Limits(
            self.depth.nodes, self.watch.seconds, self.watch.stop, self.problem.step * (1 - SMALL)
        )
        found = least_whole(self.programme, limits)
        x, value = found.x, found.value
        words = WORDS
        self.watch.tell(value, bound, "choosing among the patterns")
        best = min(value, known)
        complete = False
        if best - bound > SMALL and not self.watch.ended and self.depth.patterns:
            before = len(self.pool)
            # A better answer is better by a whole step.
            complete = self.all_within(prices, best - bound - self.problem.step + SMALL)
            if len(self.pool) > before:
                again = least_whole(self.programme, limits)
                if again.value < value - SMALL or not x:
                    x, value = again.x, again.value
                found = found._replace(bound=again.bound)
            if complete:
                bound = max(bound, self.problem.raised(min(found.bound, known, value)))
                words = "search over all set-outs with every pattern that could matter"
            self.watch.tell(min(value, known), bound, words)
        taken = x[: len(self.problem.choices)]
        used: list[tuple[int, Pattern]] = []
        for (size, pattern), count in zip(self.pool, x[len(self.problem.choices) :], strict=False):
            used.extend([(size, pattern)] * round(count))
        return Chosen(value, min(bound, value), taken, tuple(used), complete, words)
