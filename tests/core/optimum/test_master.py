"""Choosing and cutting in one problem, against a search through every choice and every cut."""

import itertools
import math
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.optimum.coarse import in_units, solve
from roomboard.core.optimum.master import NEARLY, Choice, Depth, Problem, Search, Sheet, Watch
from roomboard.core.optimum.narrowing import narrowed
from roomboard.core.optimum.plates import Item
from roomboard.core.optimum.program import Column, Limits, Programme, least_whole

DEEP = Depth(rounds=200, nodes=5000, patterns=50_000)
WIDTH = 4


def patterns_of(items, length):
    """Every multiset a sheet can give, by trying every cut at every whole place."""

    @cache
    def ways(x, y, e):
        found = {()}
        for i, item in enumerate(items):
            fits = item.length <= x and item.width <= y and item.recessed <= e
            if fits and (item.recessed < 2 or item.width == WIDTH):
                found.add((i,))
        pairs = [((a, y, e), (x - a, y, e)) for a in range(1, x // 2 + 1)]
        shares = {2: ((1, 1),), 1: ((1, 0), (0, 1)), 0: ((0, 0),)}[e]
        pairs += [((x, a, p), (x, y - a, q)) for a in range(1, y) for p, q in shares]
        for one, two in pairs:
            for p, q in itertools.product(ways(*one), ways(*two)):
                if len(p) + len(q) <= 4:
                    found.add(tuple(sorted(p + q)))
        return found

    return ways(length, WIDTH, 2)


def least_cutting(sheets, items, demand):
    """The least cost of sheets that give a demand, by trying every pattern for every sheet."""
    patterns = [(s.cost, p) for s in sheets for p in patterns_of(items, s.length) if p]

    @cache
    def best(left):
        if not any(left):
            return 0.0
        first = next(i for i, n in enumerate(left) if n)
        found = math.inf
        for cost, pattern in patterns:
            if first in pattern:
                rest = tuple(max(0, n - pattern.count(i)) for i, n in enumerate(left))
                found = min(found, cost + best(rest))
        return found

    return best(tuple(demand))


@st.composite
def problems(draw):
    """Up to three kinds, two sheet sizes, and up to two places with two or three choices each."""
    items = [
        Item(draw(st.integers(2, 5)), draw(st.integers(1, WIDTH)), draw(st.integers(0, 1)))
        for _ in range(draw(st.integers(1, 3)))
    ]
    sheets = [
        Sheet(length, WIDTH, float(draw(st.integers(length, length + 3))), tuple(range(len(items))))
        for length in (5, draw(st.integers(6, 7)))
    ]
    asked = [draw(st.integers(0, 1)) for _ in items]
    choices, rules = [], []
    for _ in range(draw(st.integers(0, 2))):
        numbers = {}
        for _ in range(draw(st.integers(2, 3))):
            asks = {i: draw(st.integers(0, 1)) for i in range(len(items))}
            numbers[len(choices)] = 1.0
            choices.append(
                Choice(float(draw(st.integers(0, 4))), {i: n for i, n in asks.items() if n})
            )
        rules.append((1.0, 1.0, numbers))
    if len(rules) == 2 and draw(st.booleans()):
        rules.append((-math.inf, 1.0, {0: 1.0, len(choices) - 1: 1.0}))
    limited = [
        item._replace(limit=max(1, n + sum(c.asks.get(i, 0) for c in choices)))
        for i, (item, n) in enumerate(zip(items, asked, strict=True))
    ]
    return Problem(limited, sheets, 0, asked, choices, rules)


def keeps(rules, taken):
    """Whether choices keep the rules."""
    sums = [sum(f * taken[n] for n, f in row.items()) for _, _, row in rules]
    return all(a <= t <= b for t, (a, b, _) in zip(sums, rules, strict=True))


def demand_of(problem, taken):
    """How many of each kind are wanted by choices."""
    demand = list(problem.asked)
    for chosen, choice in zip(taken, problem.choices, strict=True):
        for i, n in choice.asks.items():
            demand[i] += chosen * n
    return demand


def every_choice(problem, cost=0.0, pattern=()):
    """The least cost, by trying every choice and cutting each by every pattern.

    With a pattern, one sheet of that cost is cut by it whatever is chosen.
    """
    best = math.inf
    for taken in itertools.product((0, 1), repeat=len(problem.choices)):
        if not keeps(problem.rules, taken):
            continue
        demand = [max(0, n - pattern.count(i)) for i, n in enumerate(demand_of(problem, taken))]
        own = cost + sum(c.cost * t for c, t in zip(problem.choices, taken, strict=True))
        best = min(best, own + least_cutting(problem.sheets, problem.items, demand))
    return best


@settings(max_examples=80, deadline=None)
@given(problems())
def test_the_answer_is_the_least_of_every_choice_and_cut_and_is_proven(problem):
    least = every_choice(problem)
    found = Search(problem, DEEP, Watch()).solve()
    assert found.value == pytest.approx(least)
    assert found.bound == pytest.approx(least, abs=1e-4)


@settings(max_examples=60, deadline=None)
@given(problems(), st.sampled_from([(1, 2, 0), (3, 5, 0), (20, 3, 5)]), st.sampled_from([1, 2]))
def test_whatever_the_depth_the_bound_holds(problem, depth, unit):
    least = every_choice(problem)
    found = Search(problem, Depth(*depth), Watch()).solve()
    assert found.bound <= least + 1e-6 <= found.value + 2e-6
    down = Search(in_units(problem, unit, up=False), DEEP, Watch()).grow()[0]
    assert down <= least + 1e-6, "shorter pieces never cost more"


@settings(max_examples=60, deadline=None)
@given(problems(), st.sampled_from([1, 2, 3, 4, 6]))
def test_answers_with_a_pattern_past_the_window_cost_more_than_the_bound_for_them(problem, most):
    """Each pattern that the pool is without is cut once, with the cheapest there is beside it."""
    search = Search(problem, Depth(20, 5000, most), Watch())
    raw = Search(problem, Depth(20, 5000, 0), Watch()).grow()[0]
    found = search.solve()
    assert found.bound <= every_choice(problem) + 1e-6
    pool = [(size, pattern.items) for size, pattern in search.pool]
    for size, sheet in enumerate(problem.sheets):
        own = [items for n, items in pool if n == size]
        for pattern in patterns_of(tuple(problem.items), sheet.length):
            usable = all(pattern.count(i) <= item.limit for i, item in enumerate(problem.items))
            held = any(all(p.count(i) >= pattern.count(i) for i in pattern) for p in own)
            if usable and not held:
                least = every_choice(problem, sheet.cost, pattern)
                assert least >= search.past(raw) - 1e-6, (pattern, sheet)


def test_a_window_that_is_taken_in_in_part_raises_the_bound():
    """16 m are wanted from sheets of 10 m at 10 each: 20 is the least, prices say 16 2/3."""
    items = [Item(2, WIDTH, limit=1), Item(3, WIDTH, limit=3), Item(5, WIDTH, limit=1)]
    way, taken = Choice(0.0, {0: 1, 1: 3, 2: 1}), (1.0, 1.0, {0: 1.0})
    problem = Problem(items, [Sheet(10, WIDTH, 10.0, (0, 1, 2))], 0, [0, 0, 0], [way], [taken])
    found = Search(problem, Depth(50, 5000, 3), Watch()).solve()
    assert found.words == NEARLY
    assert not found.complete
    assert (found.value, found.bound) == pytest.approx((20, 20))
    assert Search(problem, Depth(50, 5000, 0), Watch()).grow()[0] == pytest.approx(50 / 3, abs=1e-4)


@settings(max_examples=100, deadline=None)
@given(problems(), st.integers(0, 8))
def test_no_answer_within_the_window_is_left_out_by_narrowing(problem, window):
    raw, prices = Search(problem, DEEP, Watch()).grow()
    narrow = narrowed(problem, prices, float(window))
    if narrow is None:
        return
    for taken in itertools.product((0, 1), repeat=len(problem.choices)):
        if not keeps(problem.rules, taken):
            continue
        demand = demand_of(problem, taken)
        own = sum(c.cost * t for c, t in zip(problem.choices, taken, strict=True))
        if own + least_cutting(problem.sheets, problem.items, demand) <= raw + window:
            assert keeps(narrow.rules, taken)
            for i, n in enumerate(demand):
                assert n <= narrow.items[i].limit
                assert not n or all(i in s.allowed for s in narrow.sheets)


def test_a_way_that_costs_too_much_by_itself_is_left_out_with_its_pieces():
    """The first way costs a sheet, 6; the second 10 more, which is past a window of 3."""
    items = [Item(5, WIDTH, limit=1), Item(6, WIDTH, limit=1)]
    ways = [Choice(0.0, {0: 1}), Choice(10.0, {1: 1})]
    both = [(1.0, 1.0, {0: 1.0, 1: 1.0})]
    problem = Problem(items, [Sheet(6, WIDTH, 6.0, (0, 1))], 0, [0, 0], ways, both)
    raw, prices = Search(problem, DEEP, Watch()).grow()
    assert raw == pytest.approx(6)
    narrow = narrowed(problem, prices, 3.0)
    assert narrow.sheets[0].allowed == (0,)
    assert not keeps(narrow.rules, (0, 1))
    assert narrowed(problem, prices, 11.0) is None, "both ways lie within a window of 11"


def test_a_known_answer_that_nothing_beats_ends_the_search():
    problem = Problem([Item(3, WIDTH, limit=2)], [Sheet(6, WIDTH, 6.0, (0,))], 0, [2])
    found = Search(problem, DEEP, Watch()).solve(known=6.0)
    assert found.value == math.inf
    assert found.bound == pytest.approx(6.0)


def test_stopping_keeps_the_bound_true_and_the_best_found():
    problem = Problem([Item(3, WIDTH, limit=5)], [Sheet(6, WIDTH, 6.0, (0,))], 0, [5])
    found = Search(problem, DEEP, Watch(stop=lambda: True)).solve()
    assert found.bound <= 18 <= found.value


def test_lengths_too_many_to_go_through_are_solved_in_coarser_units():
    lengths = [60_003 + n * n * 7_919 % 90_001 for n in range(30)]
    items = [Item(x, WIDTH, limit=1) for x in lengths]
    sheets = [Sheet(600_000, WIDTH, 6.0, tuple(range(30)))]
    found, unit = solve(Problem(items, sheets, 0, [1] * 30), Depth(50, 50, 2000), Watch())
    assert unit > 1
    # Six sheets hold 3 600 000, five only 3 000 000, and the pieces are 3 216 398 long.
    assert 30 < found.bound <= 36 <= found.value
    for _, pattern in found.sheets:
        assert sum(lengths[i] for i in pattern.items) <= 600_000


def test_an_answer_that_breaks_a_condition_is_noticed():
    programme = Programme()
    column = programme.column(Column(1.0, 1.0, whole=True))
    programme.row(1.0, 1.0, {column: 1.0})
    assert programme.faults((1.0,)) == []
    assert programme.faults((0.0,)) == ["condition 0 comes to 0.0"]
    assert programme.faults((2.0,)) != []


def test_a_programme_without_an_answer_says_so():
    programme = Programme()
    column = programme.column(Column(1.0, 1.0, whole=True))
    programme.row(2.0, 2.0, {column: 1.0})
    found = least_whole(programme, Limits(100))
    assert found.x == ()
    assert found.value == math.inf
