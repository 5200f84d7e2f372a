"""Set-outs and patterns together: patterns made as prices ask for them, then whole numbers.

For any prices of the pieces that no sheet beats (the pieces of no pattern are worth more than
the sheet costs), the cheapest set-out at these prices is a bound for all answers. Once every
pattern that can be part of a better answer is in the pool, the search over whole numbers
proves its result.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from roomboard.core.optimum.near import TooManyError
from roomboard.core.optimum.plates import Item, Plates
from roomboard.core.optimum.program import Column, Limits, Programme, Relaxed, least_whole
from roomboard.core.optimum.tree import Leaf, Pattern, Split, Tree

WORDS = "prices that no sheet beats (linear programme over set-outs and patterns)"
EVERY = "search over all set-outs with every pattern that could matter"
NEARLY = "search over all set-outs with every pattern that costs little more than it is worth"
SMALL = 1e-6
"""Costs nearer than this are one."""
SHARES = (0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
"""Parts of a window that are tried where it holds too many patterns."""
AGAIN = 4
"""So often all patterns that could matter are sought at most, each time below a better answer."""


class Sheet(NamedTuple):
    """A stock size.

    Attributes:
        length: Along it.
        width: Across it.
        cost: What one costs.
        allowed: Indexes of the kinds it may give.
        most: How many there are; infinite for stock that is bought.
        area: Its area, m2; what blocks are cut from counts in it.
    """

    length: int
    width: int
    cost: float
    allowed: tuple[int, ...]
    most: float = math.inf
    area: float = 0.0


@dataclass(slots=True)
class Choice:
    """One unknown of the set-outs.

    Attributes:
        cost: What it costs by itself.
        asks: How many of each kind it asks for.
        whole: Whether it is taken or not; otherwise it is any number from 0 up.
        blocks: Area of what is cut for it beside the pieces, m2.
    """

    cost: float
    asks: dict[int, int] = field(default_factory=dict)
    whole: bool = True
    blocks: float = 0.0


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
        areas: Area of each kind, m2, where back-blocks are cut from the same sheets: all that
            is bought must then be as large as all that is cut. Empty where it need not.
        blocks: Area of the back-blocks that are wanted whatever is chosen, m2.
    """

    items: list[Item]
    sheets: list[Sheet]
    recess: int
    asked: list[int]
    choices: list[Choice] = field(default_factory=list)
    rules: list[tuple[float, float, dict[int, float]]] = field(default_factory=list)
    step: float = 0.0
    areas: list[float] = field(default_factory=list)
    blocks: float = 0.0

    def area_of(self, asks: Mapping[int, int]) -> float:
        """Return the area of pieces by kind, m2."""
        return math.fsum(self.areas[i] * n for i, n in sorted(asks.items()))

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
        asks: So often each whole-number search may look up whether to end; 0 for no limit.
    """

    rounds: int
    nodes: int
    patterns: int
    asks: int = 0


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


class Prices(NamedTuple):
    """What pieces and board are worth.

    Attributes:
        items: Of each kind of piece.
        area: Of a m2 of all that is bought, beside what pieces are worth.
    """

    items: list[float]
    area: float = 0.0

    def over(self, excess: float) -> Prices:
        """Return these prices taken down until no sheet beats them."""
        return Prices([p / excess for p in self.items], self.area / excess)


def _end_to_end(i: int, length: int, count: int) -> Tree:
    """Return the cuts that give a kind so many times along a sheet."""
    tree: Tree = Leaf(i)
    for _ in range(count - 1):
        tree = Split(False, length, Leaf(i), tree)  # noqa: FBT003 - a crosscut
    return tree


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
        # The largest window that was taken in whole, and the smallest with too many patterns.
        self._whole, self._burst = -math.inf, math.inf
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
        self._area = -1
        if problem.areas:
            least = problem.blocks + problem.area_of(dict(enumerate(problem.asked)))
            cut = {n: -problem.area_of(c.asks) - c.blocks for n, c in enumerate(problem.choices)}
            self._area = self.programme.row(
                least, math.inf, {n: a for n, a in cut.items() if a < 0}
            )
        for least, most, factors in problem.rules:
            self.programme.row(least, most, factors)

    def plates_of(self, sheet: Sheet) -> Plates:
        """Return the plates of a stock size."""
        return self._plates[sheet.width, sheet.allowed]

    def add(self, size: int, pattern: Pattern) -> Column | None:
        """Take a pattern into the pool unless it is there already.

        One without pieces is a sheet for back-blocks alone.
        """
        key = (size, pattern.items)
        if key in self._seen or (not pattern.items and self._area < 0):
            return None
        self._seen.add(key)
        self.pool.append((size, pattern))
        rows: dict[int, float] = {}
        for i in pattern.items:
            rows[self._cover[i]] = rows.get(self._cover[i], 0.0) + 1.0
        if self._stocked[size] >= 0:
            rows[self._stocked[size]] = 1.0
        if self._area >= 0:
            rows[self._area] = self.problem.sheets[size].area
        column = Column(self.problem.sheets[size].cost, math.inf, whole=True, rows=rows)
        self.programme.column(column)
        return column

    def _first_patterns(self) -> None:
        """Give every kind a sheet of its own, of each size that can give it."""
        problem = self.problem
        for size in range(len(problem.sheets)):
            self.add(size, Pattern((), None))
        for size, sheet in enumerate(problem.sheets):
            plates = self.plates_of(sheet)
            for i in plates.allowed:
                item = problem.items[i]
                count = min(item.limit, sheet.length // item.length)
                if count and plates.fits(i, sheet.width, 2):
                    self.add(size, Pattern((i,) * count, _end_to_end(i, item.length, count)))

    def _prices(self, duals: Sequence[float]) -> Prices:
        area = max(0.0, duals[self._area]) if self._area >= 0 else 0.0
        return Prices([max(0.0, duals[row]) for row in self._cover], area)

    def grow(self) -> tuple[float, Prices]:
        """Make patterns until no sheet beats the prices; return a bound and its prices."""
        self._first_patterns()
        relaxed = Relaxed(self.programme)
        best, prices = 0.0, Prices([0.0] * len(self.problem.items))
        for round_ in range(self.depth.rounds):
            solved = relaxed.solve()
            if solved is None or self.watch.ended:
                break
            value, duals = solved
            now = self._prices(duals)
            excess, fresh = self._price_sheets(now, duals)
            bound = self.bound_at(now.over(excess)) if excess < 1.5 else 0.0
            if bound > best:
                best, prices = bound, now.over(excess)
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
        self, prices: Prices, duals: Sequence[float]
    ) -> tuple[float, list[tuple[int, Pattern]]]:
        """Return by how much sheets beat the prices at most, and patterns that do."""
        excess = 1.0
        fresh: list[tuple[int, Pattern]] = []
        for plates in self._plates.values():
            plates.price(prices.items)
            for size, sheet in enumerate(self.problem.sheets):
                if self.plates_of(sheet) is not plates:
                    continue
                stocked = self._stocked[size]
                cost = sheet.cost - (min(0.0, duals[stocked]) if stocked >= 0 else 0.0)
                worth = plates.worth(sheet.length) + prices.area * sheet.area
                if worth > cost + SMALL:
                    fresh.append((size, plates.best(sheet.length)))
                if worth > sheet.cost + SMALL and stocked < 0:
                    excess = max(excess, worth / max(sheet.cost, SMALL))
        return excess, fresh

    def bound_at(self, prices: Prices, without: Mapping[int, float] | None = None) -> float:
        """Return the cost of the cheapest set-out at given prices, stock on hand free of limits.

        Args:
            prices: Prices that no sheet beats.
            without: Unknowns of the set-outs that are not to be taken, each with its upper limit.
        """
        problem = self.problem
        worth = list(prices.items)
        wanted = prices.area * problem.blocks
        if problem.areas:
            worth = [p + prices.area * a for p, a in zip(worth, problem.areas, strict=True)]
        wanted += math.fsum(p * n for p, n in zip(worth, problem.asked, strict=True))
        # Sheets on hand that are worth more than they cost give at most this much.
        for size, sheet in enumerate(problem.sheets):
            if self._stocked[size] >= 0:
                wanted -= sheet.most * max(0.0, self._worth_of(sheet, prices) - sheet.cost)
        if not problem.choices:
            return wanted
        limits = without or {}
        alone = Programme()
        for n, c in enumerate(problem.choices):
            cost = c.cost + math.fsum(worth[i] * k for i, k in sorted(c.asks.items()))
            cost += prices.area * c.blocks
            most = limits.get(n, 1.0 if c.whole else math.inf)
            alone.column(Column(cost, most, c.whole))
        for least, most, factors in problem.rules:
            alone.row(least, most, factors)
        solved = Relaxed(alone).solve()
        return -math.inf if solved is None else wanted + solved[0] - SMALL

    def _worth_of(self, sheet: Sheet, prices: Prices) -> float:
        plates = self.plates_of(sheet)
        plates.price(prices.items)
        return plates.worth(sheet.length) + prices.area * sheet.area

    def all_within(self, prices: Prices, window: float) -> bool:
        """Take in every pattern that costs no more than ``window`` above its worth.

        Returns:
            Whether they were taken in; if there are too many, none is.
        """
        found: list[tuple[int, Pattern]] = []
        try:
            for plates in self._plates.values():
                plates.price(prices.items)
                for size, sheet in enumerate(self.problem.sheets):
                    if self.plates_of(sheet) is not plates:
                        continue
                    worth = plates.worth(sheet.length) + prices.area * sheet.area
                    slack = worth - sheet.cost + window
                    if slack < 0:
                        continue
                    near = plates.near(sheet.length, slack, self.depth.patterns)
                    found += [(size, pattern) for pattern in near]
                    if len(found) > 4 * self.depth.patterns:
                        return False
        except TooManyError:
            return False
        for size, pattern in found:
            self.add(size, pattern)
        return True

    def widen(self, prices: Prices, window: float) -> bool:
        """Take in every pattern within a window, or within as large a part of it as can be.

        Returns:
            Whether all within the window were taken in.
        """
        if self._tries(prices, window):
            return True
        for share in SHARES:
            if not self._tries(prices, window * share):
                break
        return False

    def _tries(self, prices: Prices, window: float) -> bool:
        """Take in all patterns of a window; prices stay, so what is known is not tried again."""
        if self._whole < window < self._burst:
            if self.all_within(prices, window):
                self._whole = window
            else:
                self._burst = window
        return window <= self._whole

    def past(self, bound: float) -> float:
        """Return what an answer costs at least that uses a pattern the pool is without.

        At the prices of the window an answer costs its set-outs, at least ``bound`` together,
        and by how much each of its sheets costs more than its pattern is worth. Every pattern
        for which that is no more than the window that was taken in whole is in the pool, or
        a larger one in its place; any other adds more than the window to the bound.
        """
        return bound + max(self._whole, 0.0)

    def solve(self, known: float = math.inf) -> Chosen:
        """Search for the least cost.

        Args:
            known: Cost of an answer already at hand; the search need not repeat it.
        """
        raw, prices = self.grow()
        bound = self.problem.raised(raw)
        if bound >= known - SMALL:
            return Chosen(math.inf, bound, (), (), complete=True, words=WORDS)
        limits = Limits(
            self.depth.nodes,
            self.watch.seconds,
            self.watch.stop,
            self.problem.step * (1 - SMALL),
            self.depth.asks,
        )
        found = least_whole(self.programme, limits)
        x, value = found.x, found.value
        words = WORDS
        self.watch.tell(value, bound, "choosing among the patterns")
        complete = False
        for _ in range(AGAIN):
            best = min(value, known)
            if best - bound <= SMALL or self.watch.ended or not self.depth.patterns:
                break
            before = len(self.pool)
            # A better answer is better by a whole step.
            complete = self.widen(prices, best - raw - self.problem.step + SMALL)
            if len(self.pool) > before:
                again = least_whole(self.programme, limits)
                if again.value < value - SMALL or not x:
                    x, value = again.x, again.value
                found = found._replace(bound=again.bound)
            if complete:
                bound = max(bound, self.problem.raised(min(found.bound, known, value)))
                words = EVERY
            else:
                within = self.problem.raised(min(found.bound, known, value, self.past(raw)))
                if within > bound:
                    bound, words = within, NEARLY
            self.watch.tell(min(value, known), bound, words)
            # With a better answer known, fewer patterns matter.
            if complete or min(value, known) >= best - SMALL:
                break
        taken = x[: len(self.problem.choices)]
        used: list[tuple[int, Pattern]] = []
        for (size, pattern), count in zip(self.pool, x[len(self.problem.choices) :], strict=False):
            used.extend([(size, pattern)] * round(count))
        return Chosen(value, min(bound, value), taken, tuple(used), complete, words)
