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

from roomboard.core.optimum.narrowing import narrowed, set_outs_at
from roomboard.core.optimum.near import TooManyError
from roomboard.core.optimum.plates import Item, Plates
from roomboard.core.optimum.program import (
    SMALL,
    Column,
    Found,
    Limits,
    Programme,
    Relaxed,
    least_whole,
)
from roomboard.core.optimum.tree import Leaf, Pattern, Split, Tree

WORDS = "prices that no sheet beats (linear programme over set-outs and patterns)"
EVERY = "search over all set-outs with every pattern that could matter"
NEARLY = "search over all set-outs with every pattern that costs little more than it is worth"
SHARES = (0.001, 0.003, 0.01, 0.03, 0.1, 0.2, 0.4, 0.6, 0.8, 1.0)
"""Parts of a window that are taken in, one after the other, until one holds too many patterns."""
MORE = 2.0
"""So many times as many patterns as before are worth another look before all are there."""
ANEW = 8
"""Rounds of pricing when set-outs that cost too much have been left out."""
NOTHING = Found(math.inf, -math.inf, (), 0.0, ended=False)
"""What the solver has found before it is asked."""


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

    def or_else(self, closer: Chosen, best: float) -> Chosen:
        """Return the better of this and of what a search for answers below ``best`` came to."""
        bound = max(self.bound, min(best, closer.bound))
        words = closer.words if bound > self.bound or closer.complete else self.words
        kept = closer if closer.value < best - SMALL else self
        return kept._replace(bound=min(bound, kept.value), complete=closer.complete, words=words)


class Prices(NamedTuple):
    """What pieces and board are worth.

    Attributes:
        items: Of each kind of piece.
        area: Of a m2 of all that is bought, beside what pieces are worth.
    """

    items: list[float]
    area: float = 0.0

    def of_pieces(self, problem: Problem) -> list[float]:
        """Return what a piece of each kind costs with its board, where that has a price too."""
        if not problem.areas:
            return self.items
        return [p + self.area * a for p, a in zip(self.items, problem.areas, strict=True)]

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

    def grow(self, rounds: int | None = None) -> tuple[float, Prices]:
        """Make patterns until no sheet beats the prices; return a bound and its prices.

        Args:
            rounds: So many rounds of pricing at most; the depth says how many if not given.
        """
        rounds = self.depth.rounds if rounds is None else rounds
        self._first_patterns()
        relaxed = Relaxed(self.programme)
        best, prices = 0.0, Prices([0.0] * len(self.problem.items))
        for round_ in range(rounds):
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

    def bound_at(self, prices: Prices) -> float:
        """Return the cost of the cheapest set-out at given prices, stock on hand free of limits.

        Args:
            prices: Prices that no sheet beats.
        """
        problem = self.problem
        worth = prices.of_pieces(problem)
        wanted = prices.area * problem.blocks
        wanted += math.fsum(p * n for p, n in zip(worth, problem.asked, strict=True))
        # Sheets on hand that are worth more than they cost give at most this much.
        for size, sheet in enumerate(problem.sheets):
            if self._stocked[size] >= 0:
                wanted -= sheet.most * max(0.0, self._worth_of(sheet, prices) - sheet.cost)
        if not problem.choices:
            return wanted
        solved = Relaxed(set_outs_at(problem, prices)).solve()
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
        found = self._least()
        own = self._chosen(found, bound, WORDS, complete=False)
        best = min(own.value, known)
        self.watch.tell(own.value, bound, "choosing among the patterns")
        if best - bound <= SMALL or self.watch.ended or not self.depth.patterns:
            return own
        return self._closer(own, found, (raw, prices), known)

    def _closer(self, own: Chosen, found: Found, at: tuple[float, Prices], known: float) -> Chosen:
        """Search on for answers better than what is at hand: among fewer, if that can be.

        Args:
            own: What is chosen among the patterns so far.
            found: The same as the solver left it.
            at: The bound at the prices that no sheet beats, and these prices.
            known: Cost of an answer already at hand.
        """
        best = min(own.value, known)
        # A better answer is better by a whole step.
        window = best - at[0] - self.problem.step + SMALL
        if best - own.bound <= SMALL or self.watch.ended:
            return own
        narrow = narrowed(self.problem, at[1], window)
        if narrow is None:
            return self._closed(own, found, at, known)
        closer = Search(narrow, self.depth, self.watch)
        closer.take(self.pool)
        raw, prices = closer.grow(min(self.depth.rounds, ANEW))
        if raw >= at[0] - SMALL:
            at = (raw, prices)
        none = Chosen(math.inf, own.bound, (), (), complete=False, words=own.words)
        answer = closer._closer(none, NOTHING, at, best)
        self.take(closer.pool)
        return own.or_else(answer, best)

    def _closed(self, own: Chosen, found: Found, at: tuple[float, Prices], known: float) -> Chosen:
        """Take in the patterns that could matter, a wider window each time, and choose again.

        Args:
            own: What is chosen among the patterns so far.
            found: The same as the solver left it; nothing if it was not asked yet.
            at: The bound at the prices that no sheet beats, and these prices.
            known: Cost of an answer already at hand.
        """
        raw, prices = at
        best = min(own.value, known)
        # A better answer is better by a whole step.
        window = best - raw - self.problem.step + SMALL
        asked, looked = found is not NOTHING, len(self.pool)
        # With set-outs to choose, a better answer narrows the window; else it is the same sheets.
        free = bool(self.problem.choices)
        whole = not free and self._tries(prices, window)
        for share in SHARES[-1:] if whole else SHARES:
            if self.watch.ended:
                break
            last = not self._tries(prices, window * share) or share == SHARES[-1]
            grown = len(self.pool) > looked * (1.0 if last else MORE) and (free or last)
            if grown or (last and not asked):
                asked, looked = True, len(self.pool)
                found = self._least().or_else(found)
                own = self._bounded(own, found, (raw, window), known)
                if min(own.value, known) < best - SMALL:
                    return self._closer(own, found, at, known)
            elif last:
                own = self._bounded(own, found, (raw, window), known)
            if last:
                break
        return own

    def _bounded(self, own: Chosen, found: Found, at: tuple[float, float], known: float) -> Chosen:
        """Return an answer with its bound, when the solver knows all patterns of the pool.

        Args:
            own: What is known of it.
            found: What the solver found.
            at: The bound at the prices of the windows, and the window that holds all that matters.
            known: Cost of an answer already at hand.
        """
        raw, window = at
        complete = window <= self._whole
        least = min(found.bound, known, found.value)
        bound = self.problem.raised(least if complete else min(least, self.past(raw)))
        words = EVERY if complete else NEARLY
        if bound <= own.bound + SMALL and not complete:
            words = own.words
        own = self._chosen(found, max(bound, own.bound), words, complete=complete)
        self.watch.tell(min(own.value, known), own.bound, words)
        return own

    def take(self, pool: Sequence[tuple[int, Pattern]]) -> None:
        """Take in patterns of a wider or narrower problem that give nothing beyond the limits."""
        for size, pattern in pool:
            allowed, items = self.problem.sheets[size].allowed, self.problem.items
            if all(i in allowed for i in pattern.items) and all(
                pattern.items.count(i) <= items[i].limit for i in set(pattern.items)
            ):
                self.add(size, pattern)

    def _least(self) -> Found:
        """Search for the least whole-number answer with the patterns at hand."""
        limits = Limits(
            self.depth.nodes,
            self.watch.seconds,
            self.watch.stop,
            self.problem.step * (1 - SMALL),
            self.depth.asks,
        )
        return least_whole(self.programme, limits)

    def _chosen(self, found: Found, bound: float, words: str, *, complete: bool) -> Chosen:
        """Return what the solver found as a choice and sheets."""
        count = len(self.problem.choices)
        used: list[tuple[int, Pattern]] = []
        for (size, pattern), times in zip(self.pool, found.x[count:], strict=False):
            used.extend([(size, pattern)] * round(times))
        return Chosen(
            found.value,
            min(bound, found.value),
            found.x[:count],
            tuple(used),
            complete,
            words,
        )
