"""What a sheet can be worth: published problems, and a search through every way of cutting."""

import json
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.optimum.near import TooManyError
from roomboard.core.optimum.plates import Item, Plates, leaves, most_valuable, sums

PROBLEMS = Path(__file__).parents[2] / "data" / "cutting"


@pytest.mark.parametrize("name", ["gcut1", "gcut2", "gcut5", "gcut9", "cgcut1", "cgcut2", "cgcut3"])
def test_published_optima_are_reproduced(name):
    """Beasley 1985 and Christofides and Whitlock 1977; the files say where each optimum is from."""
    data = json.loads((PROBLEMS / f"{name}.json").read_text())
    items = [Item(i["l"], i["w"], limit=i.get("max", 1_000_000)) for i in data["items"]]
    values = [float(i["value"]) for i in data["items"]]
    (stock,) = data["stock"]

    value, pattern = most_valuable(items, values, (stock["l"], stock["w"]))

    assert value == data["known"]
    assert value == sum(values[i] for i in pattern.items)
    assert sorted(leaves(pattern.tree)) == list(pattern.items)
    for i, item in enumerate(items):
        assert pattern.items.count(i) <= item.limit


def every_way(items, values, length, width, edges, whole):
    """The most a plate is worth, by trying every cut at every whole place."""

    @cache
    def best(x, y, e):
        found = [0.0]
        for item, value in zip(items, values, strict=True):
            fits = item.length <= x and item.width <= y and item.recessed <= e
            if item.recessed == 2:
                fits = fits and item.width == whole
            if fits:
                found.append(value)
        found += [best(a, y, e) + best(x - a, y, e) for a in range(1, x)]
        for a in range(1, y):
            shares = {2: ((1, 1),), 1: ((1, 0), (0, 1)), 0: ((0, 0),)}[e]
            found += [best(x, a, p) + best(x, y - a, q) for p, q in shares]
        return max(found)

    return best(length, width, edges)


kinds = st.builds(
    Item,
    length=st.integers(2, 7),
    width=st.integers(1, 5),
    recessed=st.integers(0, 2),
    cut=st.just(0),
    limit=st.just(1_000_000),
)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(kinds, st.integers(1, 9)), min_size=1, max_size=4), st.integers(4, 9))
def test_worth_is_that_of_the_best_of_every_way_of_cutting(given_, length):
    items = [item for item, _ in given_]
    values = [float(value) for _, value in given_]
    plates = Plates(items, range(len(items)), (length, 5), 0)
    plates.price(values)

    assert plates.worth(length) == pytest.approx(every_way(items, values, length, 5, 2, 5))
    best = plates.best(length)
    assert sum(values[i] for i in best.items) == pytest.approx(plates.worth(length))


def every_pattern(items, length, width, whole):
    """Every multiset of pieces a sheet can give, by trying every cut at every whole place."""

    @cache
    def ways(x, y, e):
        found = {()}
        for i, item in enumerate(items):
            fits = item.length <= x and item.width <= y and item.recessed <= e
            if fits and (item.recessed < 2 or item.width == whole):
                found.add((i,))
        pairs = [((a, y, e), (x - a, y, e)) for a in range(1, x // 2 + 1)]
        shares = {2: ((1, 1),), 1: ((1, 0), (0, 1)), 0: ((0, 0),)}[e]
        pairs += [((x, a, p), (x, y - a, q)) for a in range(1, y) for p, q in shares]
        for one, two in pairs:
            found |= {tuple(sorted(p + q)) for p in ways(*one) for q in ways(*two)}
        return found

    return ways(length, width, 2)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(kinds, st.integers(1, 9), st.integers(1, 3)), min_size=1, max_size=3),
    st.integers(4, 8),
    st.integers(0, 6),
)
def test_every_pattern_near_the_best_is_found(given_, length, slack):
    items = [item._replace(limit=limit) for item, _, limit in given_]
    values = [float(value) for _, value, _ in given_]
    plates = Plates(items, range(len(items)), (length, 5), 0)
    plates.price(values)

    near = plates.near(length, float(slack), 100_000)
    found = {p.items for p in near}
    for pattern in near:
        assert tuple(sorted(leaves(pattern.tree))) == pattern.items
        assert all(pattern.items.count(i) <= item.limit for i, item in enumerate(items))

    least = plates.worth(length) - slack
    for pattern in every_pattern(items, length, 5, 5):
        value = sum(values[i] for i in pattern)
        kept = all(pattern.count(i) <= item.limit for i, item in enumerate(items))
        if pattern and kept and value >= least:
            assert any(
                all(larger.count(i) >= pattern.count(i) for i in pattern) for larger in found
            ), (pattern, found)


def test_a_piece_with_two_recesses_takes_the_whole_width_and_a_rip_leaves_one_each():
    whole, half = Item(30, 12, recessed=2), Item(30, 6, recessed=1)
    plates = Plates([whole, half], (0, 1), (60, 12), 1)
    plates.price([3.0, 1.0])
    assert plates.worth(60) == 6
    plates.price([0.5, 1.0])
    assert plates.worth(60) == 4
    third = Plates([Item(30, 4, recessed=1)], (0,), (30, 12), 1)
    third.price([1.0])
    assert third.worth(30) == 2, "three strips fit across, but a sheet has two recessed edges"


def test_a_cut_edge_stays_clear_of_the_recess():
    item = Item(10, 11, cut=1)
    assert not Plates([item], (0,), (10, 12), 2).fits(0, 12, 2)
    assert Plates([item], (0,), (10, 12), 1).fits(0, 12, 2)


def test_too_many_patterns_are_said_to_be_too_many():
    items = [Item(n, 1) for n in range(2, 12)]
    plates = Plates(items, range(10), (40, 1), 0)
    plates.price([1.0] * 10)
    with pytest.raises(TooManyError):
        plates.near(40, 40.0, 50)


def test_sums_use_each_size_as_often_as_it_comes():
    assert sums([(3, 2), (5, 1)], 12) == (0, 3, 5, 6, 8, 11)
