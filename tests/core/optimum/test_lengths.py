"""Linear goods: the least total length, against every way of grouping."""

import functools
import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.cutting import cut_linear
from roomboard.core.optimum.lengths import least_bars
from roomboard.core.practice import Citation, Status
from roomboard.core.stock import LinearStock
from roomboard.storage.catalogue import load_catalogue


def every_grouping(pieces, lengths):
    """The least total length, by trying every way of grouping."""

    @functools.cache
    def best(left):
        if not left:
            return 0
        first, *others = left
        found = []
        for n in range(len(others) + 1):
            for fellows in itertools.combinations(others, n):
                total = sum(pieces[i] for i in (first, *fellows))
                bar = min((x for x in lengths if x >= total), default=None)
                if bar is not None:
                    rest = tuple(i for i in others if i not in fellows)
                    found.append(bar + best(rest))
        return min(found)

    return best(tuple(range(len(pieces))))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(5, 60), min_size=1, max_size=7),
    st.sampled_from([(60,), (24, 36, 60), (24, 30, 42, 60), (25, 60)]),
)
def test_the_total_is_the_least_of_every_grouping_and_proven(pieces, lengths):
    found = least_bars(pieces, lengths)
    least = every_grouping(pieces, lengths)
    assert found.total == least
    assert found.bound == least
    assert sorted(i for bar in found.bars for i in bar) == list(range(len(pieces)))
    assert all(sum(pieces[i] for i in bar) <= max(lengths) for bar in found.bars)


def test_a_case_where_the_longest_first_is_not_the_best():
    """By hand: 5 + 3 + 2 and 4 + 3 + 3 fill two lengths of 10 to the last; the longest first,
    each where it leaves least, takes 5 + 4, then 3 + 3 + 3, then a third length for 2."""
    found = least_bars([5, 4, 3, 3, 3, 2], [10])
    assert (found.total, found.bound) == (20, 20)


def test_lengths_to_the_hundredth_of_a_mm_keep_a_bound():
    pieces = [123_457 + 7_919 * n for n in range(40)]
    found = least_bars(pieces, [360_000, 600_000])
    assert found.bars
    assert sum(pieces) <= found.bound <= found.total
    assert found.total <= 1.1 * found.bound


def test_the_plan_takes_the_better_of_both_ways():
    stock = load_catalogue("au-nz").linear_of("cornice")
    pieces = [(f"c{n}", 500.0 + (n * 2711 % 5400)) for n in range(30)]
    usual, _ = cut_linear("cornice", pieces, stock, joinable=True)

    def filling(sizes, lengths):
        return least_bars(sizes, lengths).bars

    best, _ = cut_linear("cornice", pieces, stock, joinable=True, filling=filling)
    assert sorted(p for c in best for p in c.pieces) == sorted(pieces)
    assert sum(c.length for c in best) <= sum(c.length for c in usual)
    in_parts = [round(x * 100) for _, x in pieces]
    bound = least_bars(in_parts, [round(x * 100) for x in stock.lengths]).bound
    assert sum(c.length for c in best) >= bound / 100


def test_a_way_that_is_no_better_is_not_taken():
    goods = LinearStock(
        id="g",
        kind="cornice",
        name="goods",
        lengths=(6000.0,),
        citation=Citation(document="", clause="", edition="", status=Status.PRACTICE),
    )
    pieces = [("a", 3000.0), ("b", 3000.0)]
    cuts, _ = cut_linear("cornice", pieces, goods, filling=lambda *_: [[0], [1]])
    assert len(cuts) == 1


@pytest.mark.parametrize("pieces", [[], [60]])
def test_nothing_and_one(pieces):
    found = least_bars(pieces, [60])
    assert (found.total, found.bound) == (sum(pieces), sum(pieces))
