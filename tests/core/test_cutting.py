"""How sheets and lengths are cut, against layouts worked out by hand and by enumeration."""

import functools
import itertools
import math
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.cutting import (
    Cut,
    CuttingError,
    Demand,
    EdgeIs,
    back_blocks_from_offcuts,
    cut_linear,
    cut_sheets,
    plan,
    plan_with_back_blocks,
    verify,
)
from roomboard.core.practice import Citation, Status
from roomboard.core.project import Units
from roomboard.core.stock import Board, LinearStock, StockSheet
from roomboard.storage.catalogue import load_catalogue, load_practice

AU = load_practice("au-nz")
NO_SOURCE = Citation(document="", clause="", edition="", status=Status.PRACTICE)
R, ANY, CUT = "recessed", "any", "cut"


def board(lengths, widths=(1200,), *, name="std", recess=55.0):
    return Board(
        id=name,
        name="board",
        letter="S",
        thickness=10,
        mass_kg_m2=6.8,
        grades=(),
        recess_width=recess,
        sheets=tuple(
            StockSheet(id=f"{name}-{w}x{x}", board=name, length=x, width=w, native=f"{w} x {x}")
            for w in widths
            for x in lengths
        ),
        citation=NO_SOURCE,
    )


def want(name, length, width, low=ANY, high=ANY, **more):
    return Demand(
        id=name, length=length, width=width, low=low, high=high, **{"board": "std", **more}
    )


def cut(demands, boards, net=None, **more):
    boards = [boards] if isinstance(boards, Board) else boards
    made = plan(demands, boards, {"std": net} if net else {}, AU, **more)
    assert verify(made, demands, boards) == ()
    return made


def stock_of(made):
    return Counter((int(s.length), int(s.width)) for s in made.sheets)


def together(made):
    return {frozenset(p.piece for p in s.placements) for s in made.sheets}


# ------------------------------------------------------------------ layouts worked out by hand


def test_a_rip_of_640_needs_a_sheet_of_its_own():
    # 3580 x 3040 in courses 1200 + 1200 + 640: 10.883 m2 over 4.32 m2 a sheet is 2.52, so 3.
    made = cut(
        [want("c1", 3580, 1200, ANY, R), want("c2", 3580, 1200, R, R), want("c3", 3580, 640, R)],
        board([3600]),
        10.8832,
    )

    assert stock_of(made) == {(3600, 1200): 3}
    (bound,) = made.bounds
    assert (bound.area_bound, bound.edge_bound, bound.sheets) == (3, 3, 3)
    assert bound.bought_bound_m2 == pytest.approx(12.96)
    assert bound.reasons == ()
    keep = [o for s in made.sheets for o in s.offcuts if o.keep]
    assert [(o.length, o.width, o.low, o.high) for o in keep] == [
        (3600, 560, EdgeIs.CUT, EdgeIs.RECESSED)
    ]


def test_the_second_600_of_a_sheet_is_an_offcut_with_one_recessed_edge():
    # 5400 x 3600 with sheets along y: 4 x 1200 and a rip of 600, 21.6 m2 bought, 19.44 net.
    demands = [want(f"c{n}", 3600, 1200, R, R) for n in range(1, 5)] + [want("c5", 3600, 600, R)]

    made = cut(demands, board([3600]), 19.44)

    assert stock_of(made) == {(3600, 1200): 5}
    (bound,) = made.bounds
    assert (bound.area_bound, bound.bought_bound_m2) == (5, pytest.approx(21.6))
    (offcut,) = [o for s in made.sheets for o in s.offcuts]
    assert (offcut.length, offcut.width, offcut.keep) == (3600, 600, True)
    assert {offcut.low, offcut.high} == {EdgeIs.RECESSED, EdgeIs.CUT}


LIVING = [
    want(f"c{course}-{n}", length, width, low, high, longest=4800)
    for course, (pair, width, low, high) in enumerate(
        [
            ((4800, 3000), 1200, ANY, R),
            ((3000, 4800), 1200, R, R),
            ((4800, 3000), 1200, R, R),
            ((3000, 4800), 900, R, ANY),
        ],
        1,
    )
    for n, length in enumerate(pair, 1)
]


def test_a_room_of_7800_by_4500_takes_four_long_and_four_short_sheets():
    # 37.44 m2 bought for 35.10 m2: 6.25 % of bought.
    made = cut(LIVING, board([2400, 3000, 3600, 4200, 4800, 6000]), 35.1)

    assert stock_of(made) == {(4800, 1200): 4, (3000, 1200): 4}
    (bound,) = made.bounds
    assert bound.bought_m2 == pytest.approx(37.44)
    assert bound.bought_bound_m2 == pytest.approx(37.44)
    assert (bound.area_bound, bound.edge_bound) == (7, 8)
    assert len(bound.reasons) == 1
    assert bound.reasons[0].startswith("1 sheet: length: ")


def test_the_same_room_with_one_length_in_stock():
    made = cut(LIVING, board([2400, 3000, 3600, 4200, 4800, 6000]), 35.1, lengths=(4800,))

    assert stock_of(made) == {(4800, 1200): 8}
    assert made.bounds[0].area_bound == 7


WALL = [
    want("b1", 900, 1200, R, R),
    want("b2", 3680, 1200, R, R),
    want("t1", 3600, 1200, R, R),
    want("t2", 1800, 1200, R, R),
]


def test_a_wall_of_5400_pairs_its_bottom_course():
    made = cut(WALL, board([2400, 3000, 3600, 4200, 4800]), 9.49)

    assert stock_of(made) == {(4800, 1200): 1, (3600, 1200): 1, (2400, 1200): 1}
    assert together(made) == {frozenset({"b1", "b2"}), frozenset({"t1"}), frozenset({"t2"})}
    (bound,) = made.bounds
    assert bound.bought_m2 == pytest.approx(12.96)
    # The net area alone would order two sheets, which cannot do.
    assert (bound.area_bound, bound.edge_bound, bound.sheets) == (2, 3, 3)
    assert len(bound.reasons) == 1
    assert "cut-outs" in bound.reasons[0]


def test_the_same_wall_from_one_length_is_three_sheets():
    # 900 + 3680 + 3600 + 1800 = 9980 of 4800: 2.08, so 3.
    assert stock_of(cut(WALL, board([4800]), 9.49)) == {(4800, 1200): 3}


def test_a_bulkhead_comes_out_of_one_sheet():
    made = cut(
        [want("face", 3000, 300), want("under", 3000, 600), want("return", 600, 300)],
        board([2400, 3000, 3600, 4800]),
        2.88,
    )

    (sheet,) = made.sheets
    assert (sheet.length, sheet.width) == (3000, 1200)
    assert [(c.number, c.rip, c.x0, c.y0, c.x1, c.y1) for c in sheet.cuts] == [
        (1, True, 0, 600, 3000, 600),
        (2, True, 0, 900, 3000, 900),
        (3, False, 600, 900, 600, 1200),
    ]
    (offcut,) = sheet.offcuts
    assert (offcut.length, offcut.width, offcut.keep) == (2400, 300, True)


def test_a_wall_of_2700_takes_two_wide_sheets():
    made = cut(
        [want("b", 4200, 1350, ANY, R), want("t", 4200, 1350, R, ANY)],
        board([3600, 4200], [1200, 1350]),
    )

    assert stock_of(made) == {(4200, 1350): 2}
    assert made.bounds[0].bought_m2 == pytest.approx(11.34)


# ------------------------------------------------------------------------------------- edges


def test_two_rips_keep_a_recessed_edge_and_a_third_does_not():
    strips = [want(f"s{n}", 3000, 300, R) for n in range(3)]

    made = cut(strips, board([3000]))

    assert stock_of(made) == {(3000, 1200): 2}
    assert (made.bounds[0].area_bound, made.bounds[0].edge_bound) == (1, 2)
    assert "recessed edges" in made.bounds[0].reasons[0]


def test_a_piece_without_needs_leaves_the_recessed_edges_to_others():
    strips = [want("plain", 3000, 400), want("a", 3000, 400, R), want("b", 3000, 400, ANY, R)]

    made = cut(strips, board([3000]))

    assert stock_of(made) == {(3000, 1200): 1}
    at = {p.piece: p for p in made.sheets[0].placements}
    assert at["plain"].y == 400
    assert (at["a"].low, at["b"].high) == (EdgeIs.RECESSED, EdgeIs.RECESSED)


def test_half_a_turn_brings_the_other_edge_up():
    made = cut([want("a", 3000, 600, R), want("b", 3000, 600, R)], board([3000]))

    (sheet,) = made.sheets
    assert [p.turned for p in sheet.placements].count(True) == 1
    assert {p.low for p in sheet.placements} == {EdgeIs.RECESSED}
    assert {p.high for p in sheet.placements} == {EdgeIs.CUT}


def test_no_piece_is_given_a_quarter_turn():
    assert cut([want("a", 1000, 2000)], board([3000])).unplaced == ("a",)


def test_a_cut_edge_is_clear_of_the_recess():
    (sheet,) = cut([want("a", 3000, 1145, CUT, R)], board([3000], recess=55)).sheets

    (piece,) = sheet.placements
    assert (piece.y, piece.low, piece.high) == (55, EdgeIs.CUT, EdgeIs.RECESSED)
    # With a millimetre more the recess would not be off.
    assert cut([want("a", 3000, 1146, CUT, R)], board([3000], recess=55)).unplaced == ("a",)
    assert cut([want("a", 3000, 1091, CUT, CUT)], board([3000], recess=55)).unplaced == ("a",)
    assert cut([want("a", 3000, 1090, CUT, CUT)], board([3000], recess=55)).unplaced == ()


def test_a_full_width_piece_comes_from_its_own_width():
    made = cut([want("a", 3000, 1200, R, R)], board([3000], [1200, 1350]))
    assert stock_of(made) == {(3000, 1200): 1}
    assert cut([want("a", 3000, 1250, R, R)], board([3000], [1200, 1350])).unplaced == ("a",)


# ------------------------------------------------------------------------- stock and carrying


def test_the_smallest_limit_holds_for_a_shared_sheet():
    stock = board([2400, 3000, 3600, 6000])
    free = [want("a", 2000, 1200, R, R), want("b", 2000, 1200, R, R), want("c", 1900, 1200, R, R)]
    assert stock_of(cut(free, stock)) == {(6000, 1200): 1}

    made = cut([free[0], replace(free[1], longest=3600), free[2]], stock)

    assert all(s.length <= 3600 for s in made.sheets if "b" in {p.piece for p in s.placements})


def test_a_carry_in_limit_is_a_reason():
    stock = board([2400, 4800])
    made = cut([want(f"p{n}", 2400, 1200, R, R, longest=3000) for n in range(4)], stock)
    mixed = cut(
        [want(f"p{n}", 2400, 1200, R, R, longest=3000 if n else 0) for n in range(4)], stock
    )

    assert (made.bounds[0].area_bound, made.bounds[0].sheets) == (4, 4)
    assert (mixed.bounds[0].area_bound, mixed.bounds[0].edge_bound) == (2, 4)
    assert "2 sheets: carry-in limit: sheets of 4800 mm" in mixed.bounds[0].reasons[0]


def test_reasons_are_written_in_the_units_of_the_job():
    made = cut(LIVING, board([3000, 4800]), 35.1, units=Units.FEET_INCHES)
    assert "15' 9\"" in made.bounds[0].reasons[0]


def test_feet_and_inches_fill_a_sheet_exactly():
    us = load_catalogue("us").board("std-1-2")
    two = [want(f"p{n}", 96 * 25.4, 48 * 25.4, R, R, board=us.id) for n in range(2)]
    made = plan(two, [us], {}, load_practice("us"))

    assert verify(made, two, [us]) == ()
    (sheet,) = made.sheets
    assert (sheet.length, sheet.width) == (pytest.approx(16 * 304.8), pytest.approx(4 * 304.8))
    assert sheet.offcuts == ()
    assert made.bounds[0].bought_m2 == pytest.approx(made.bounds[0].bought_bound_m2)


def test_stock_can_be_restricted():
    stock = board([2400, 3000], [1200, 1350])
    piece = [want("a", 2000, 600)]

    assert stock_of(cut(piece, stock, lengths=(3000,), widths=(1350,))) == {(3000, 1350): 1}
    assert cut(piece, stock, lengths=(9000,)).unplaced == ("a",)


def test_boards_are_never_mixed_and_sheets_are_numbered_by_board():
    boards = [board([3000], name="wet"), board([3000])]
    demands = [want("a", 1000, 600, board="wet"), want("b", 1000, 600), want("c", 900, 600)]

    made = cut(demands, boards)

    assert [(s.id, s.board) for s in made.sheets] == [("S1", "std"), ("S2", "wet")]
    assert [b.board for b in made.bounds] == ["std", "wet"]


def test_a_piece_of_an_unknown_board_stays_unplaced():
    made = cut([want("a", 1000, 600, board="none"), want("b", 1000, 600)], board([3000]))
    assert made.unplaced == ("a",)


def test_net_area_of_a_piece_that_fits_nothing_does_not_raise_the_bound():
    made = cut([want("a", 9000, 1200), want("b", 1000, 600)], board([3000]), 10.8 + 0.6)

    assert made.unplaced == ("a",)
    assert (made.bounds[0].area_bound, made.bounds[0].sheets) == (1, 1)


def test_nothing_to_cut():
    made = cut([], board([3000]))
    assert (made.sheets, made.bounds, made.unplaced) == ((), (), ())


def test_nothing_that_can_be_cut():
    made = cut([want("a", 9000, 600)], board([3000]))
    assert made.bounds[0].sheets == 0
    assert made.bounds[0].blank_m2 == 0


@pytest.mark.parametrize(
    ("demands", "words"),
    [
        ([want("a", 10, 10), want("a", 20, 20)], "Piece a is asked for twice"),
        ([want("a", 0, 10)], "Piece a is 0 by 10 mm"),
        ([want("a", math.nan, 10)], "true size"),
        ([want("a", 10, 10, "sharp")], "asks for an edge 'sharp'"),
    ],
)
def test_bad_demands_are_refused_in_a_sentence(demands, words):
    with pytest.raises(ValueError, match=words):
        plan(demands, [board([3000])], {}, AU)


def test_mass_of_a_sheet():
    # Queensland work health and safety regulator, plasterboard handling: 3.6 x 1.2 m of 10 mm
    # board at 6.8 kg/m2 is 29.4 kg, 6.0 x 1.2 m is 49 kg.
    made = cut([want("a", 3600, 1200, R, R), want("b", 6000, 1200, R, R)], board([3600, 6000]))
    assert [round(s.mass_kg, 1) for s in made.sheets] == [29.4, 49.0]


# ------------------------------------------------------------------ the least that can be done


UNIT = 100.0


def seats(demand, y0, y1, width, recess):
    """Whether a piece fits across a part with its edges as asked, either way round."""
    across = int(demand.width / UNIT)
    for low, high in ((demand.low, demand.high), (demand.high, demand.low)):
        for y in range(y0, y1 - across + 1):
            ends = [(n, at) for n, at in ((low, y), (high, y + across)) if n != ANY]
            if all(
                at in {0, width} if need == R else recess <= at <= width - recess
                for need, at in ends
            ):
                return True
    return False


def cheapest_sheets(demands, sizes, recess):
    """Return for every group of pieces the area of the smallest sheet that holds it, in units."""

    @functools.cache
    def holds(length, y0, y1, width, pieces):
        if sum(demands[i].length * demands[i].width for i in pieces) / UNIT**2 > length * (y1 - y0):
            return False
        if len(pieces) == 1:
            d = demands[pieces[0]]
            return d.length / UNIT <= length and seats(d, y0, y1, width, recess)
        for chosen in range(1, 2 ** len(pieces) - 1):
            one = tuple(p for n, p in enumerate(pieces) if chosen >> n & 1)
            two = tuple(p for n, p in enumerate(pieces) if not chosen >> n & 1)
            if any(
                holds(x, y0, y1, width, one) and holds(length - x, y0, y1, width, two)
                for x in range(1, length)
            ) or any(
                holds(length, y0, y, width, one) and holds(length, y, y1, width, two)
                for y in range(y0 + 1, y1)
            ):
                return True
        return False

    def cheapest(pieces):
        cap = min(demands[i].longest or math.inf for i in pieces)
        areas = [
            length * width
            for length, width in sizes
            if length * UNIT <= cap and holds(length, 0, width, width, pieces)
        ]
        return min(areas, default=math.inf)

    everything = range(len(demands))
    groups = (itertools.combinations(everything, n) for n in range(1, len(demands) + 1))
    return {pieces: cheapest(pieces) for pieces in itertools.chain(*groups)}


def least_by_enumeration(demands, sizes, recess):
    """Return the least number of sheets, the least area and what fits at all.

    Every guillotine layout is tried; all sizes are whole numbers of units. Independent of the
    code under test: it knows only where the recessed edges are.
    """
    price = cheapest_sheets(demands, sizes, recess)

    @functools.cache
    def best(left):
        if not left:
            return 0, 0.0
        first, *others = left
        found = []
        for n in range(len(others) + 1):
            for fellows in itertools.combinations(others, n):
                area = price[(first, *fellows)]
                if area < math.inf:
                    rest = best(tuple(i for i in others if i not in fellows))
                    found.append((1 + rest[0], area + rest[1]))
        return min(f[0] for f in found), min(f[1] for f in found)

    possible = tuple(i for i in range(len(demands)) if price[(i,)] < math.inf)
    count, area = best(possible)
    return count, area * UNIT * UNIT / 1e6, {demands[i].id for i in possible}


needs = st.sampled_from([R, ANY, ANY, CUT])


@st.composite
def few_pieces(draw):
    lengths = draw(st.sampled_from([(4, 6, 7), (5,), (3, 8), (11,)]))
    widths = draw(st.sampled_from([(4,), (3, 4)]))
    demands = [
        want(
            f"p{n}",
            draw(st.integers(1, max(lengths))) * UNIT,
            draw(st.integers(1, max(widths))) * UNIT,
            draw(needs),
            draw(needs),
            longest=draw(st.sampled_from([0, 0, 0, lengths[0] * UNIT])),
        )
        for n in range(draw(st.integers(1, 5)))
    ]
    return demands, lengths, widths


@settings(max_examples=150)
@given(few_pieces())
def test_bounds_never_exceed_the_optimum_nor_the_optimum_the_plan(drawn):
    demands, lengths, widths = drawn
    count, area, possible = least_by_enumeration(
        demands, [(x, w) for x in lengths for w in widths], 1
    )
    stock = board([x * UNIT for x in lengths], [w * UNIT for w in widths], recess=UNIT)

    made = cut(demands, stock)

    assert {p.piece for s in made.sheets for p in s.placements} == possible
    (bound,) = made.bounds
    assert bound.area_bound <= bound.edge_bound <= count <= bound.sheets
    assert bound.bought_bound_m2 <= area + 1e-9
    assert area <= bound.bought_m2 + 1e-9


# -------------------------------------------------------------------------- any demands at all


sizes = st.one_of(st.integers(1, 4900).map(float), st.floats(1, 4900))
any_demand = st.builds(
    want,
    st.just(""),
    sizes,
    st.one_of(st.sampled_from([1200.0, 1350.0, 600.0, 640.0, 300.0]), st.floats(1, 1400)),
    needs,
    needs,
    longest=st.sampled_from([0.0, 0.0, 3000.0, 4200.0]),
    sheet_width=st.sampled_from([0.0, 1200.0, 1350.0]),
)
any_demands = st.lists(any_demand, min_size=1, max_size=25).map(
    lambda found: [replace(d, id=f"p{n}") for n, d in enumerate(found)]
)
STOCK = board([2400, 2700, 3000, 3600, 4200, 4800], [900, 1200, 1350])


@settings(max_examples=150)
@given(any_demands)
def test_every_plan_is_sound(demands):
    made = cut(demands, STOCK)

    (bound,) = made.bounds
    assert bound.edge_bound <= bound.sheets
    assert bound.bought_bound_m2 <= bound.bought_m2 + 1e-9
    extra = [int(reason.split()[0]) for reason in bound.reasons]
    assert sum(extra) == bound.sheets - bound.area_bound
    held = [p.piece for s in made.sheets for p in s.placements]
    assert sorted([*held, *made.unplaced]) == sorted(d.id for d in demands)
    for sheet in made.sheets:
        parts = [*sheet.placements, *sheet.offcuts]
        assert sum(p.length * p.width for p in parts) == pytest.approx(sheet.length * sheet.width)


@settings(max_examples=25)
@given(any_demands)
def test_the_same_demands_give_the_same_plan(demands):
    assert cut(demands, STOCK) == cut(demands, STOCK)


# -------------------------------------------------------------------------- the check can fail


@pytest.fixture
def sound():
    demands = [want("a", 3000, 600, R), want("b", 1400, 500, CUT, ANY, longest=3600)]
    made = cut(demands, board([3000]))
    assert len(made.sheets) == 1
    return made, demands


def spoiled(made, **changes):
    return replace(made, sheets=(replace(made.sheets[0], **changes), *made.sheets[1:]))


def moved(made, index, **changes):
    placements = list(made.sheets[0].placements)
    placements[index] = replace(placements[index], **changes)
    return spoiled(made, placements=tuple(placements))


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda m: moved(m, 0, x=10.0), "no part is left"),
        (lambda m: moved(m, 0, x=10.0), "beyond the sheet"),
        (lambda m: moved(m, 0, length=2900.0), "not the size asked for"),
        (lambda m: moved(m, 0, low=EdgeIs.CUT), "names an edge wrongly"),
        (lambda m: moved(m, 0, turned=not m.sheets[0].placements[0].turned), "not recessed"),
        (lambda m: spoiled(m, cuts=m.sheets[0].cuts[::-1]), "side to side"),
        (lambda m: spoiled(m, cuts=m.sheets[0].cuts[:-1]), "no part is left"),
        (lambda m: spoiled(m, offcuts=m.sheets[0].offcuts[1:]), "nothing names"),
        (lambda m: spoiled(m, mass_kg=1.0), "mass is wrong"),
        (lambda m: spoiled(m, stock="std-9x9"), "no board is sold"),
        (lambda m: spoiled(m, length=3600.0), "not the size or the board"),
        (lambda m: spoiled(m, id="S7"), "is number 1"),
        (lambda m: spoiled(m, placements=m.sheets[0].placements[1:]), "a is cut or listed 0"),
        (lambda m: replace(m, unplaced=("a",)), "a is cut or listed 2"),
        (lambda m: replace(m, unplaced=("z",)), "z was never asked for"),
        (lambda m: replace(m, bounds=(replace(m.bounds[0], edge_bound=2),)), "fewer sheets"),
        (lambda m: replace(m, bounds=(replace(m.bounds[0], bought_bound_m2=9),)), "less board"),
        (lambda m: replace(m, bounds=(replace(m.bounds[0], sheets=3),)), "counts other sheets"),
    ],
)
def test_a_faulty_plan_is_noticed(sound, spoil, words):
    made, demands = sound
    assert any(words in fault for fault in verify(spoil(made), demands, [board([3000])]))


def test_overlapping_pieces_are_noticed(sound):
    made, demands = sound
    first = made.sheets[0].placements[0]
    faulty = moved(made, 1, x=first.x, y=first.y)
    assert any("no part is left" in f for f in verify(faulty, demands, [board([3000])]))


def test_an_edge_within_the_recess_is_noticed():
    demands = [want("a", 3000, 500, CUT)]
    made = cut(demands, board([3000], recess=55))
    faults = verify(made, demands, [board([3000], recess=800)])
    assert any("not cut" in f for f in faults)


def test_a_sheet_too_long_to_carry_is_noticed(sound):
    made, demands = sound
    shorter = [replace(d, longest=2400) for d in demands]
    assert any("too long to be carried" in f for f in verify(made, shorter, [board([3000])]))


def test_a_plan_that_fails_the_check_is_never_returned(monkeypatch):
    monkeypatch.setattr(
        cut_sheets,
        "numbered_cut",
        lambda line, number: Cut(number=number, rip=line.rip, x0=0, y0=0, x1=0, y1=0),
    )
    with pytest.raises(CuttingError, match="breaks its own rules"):
        plan([want("a", 1000, 600)], [board([3000])], {}, AU)


# ---------------------------------------------------------------------------------- back-blocks


def test_back_blocks_come_out_of_waste_first():
    demands = [want("a", 3000, 1200, R, R), want("b", 2700, 700, R)]
    made = cut(demands, board([3000]))
    blocks = [("BB1", 400.0, 250.0), ("BB2", 250.0, 400.0)]

    done, left = back_blocks_from_offcuts(made, blocks, practice=AU)

    assert left == ()
    assert verify(done, demands, [board([3000])], blocks) == ()
    # Beside b stands 300 x 700 of waste, above it 3000 x 500 worth keeping.
    used = [o for s in done.sheets for o in s.offcuts if o.used_for]
    assert {o.used_for for o in used} == {("BB1",), ("BB2",)}
    waste = next(o for o in used if o.x >= 2700)
    assert not waste.keep
    assert len(done.sheets) == len(made.sheets)


def test_what_is_left_of_an_offcut_is_kept():
    made = cut([want("a", 3000, 600)], board([3000]))

    done, left = back_blocks_from_offcuts(made, [("BB1", 400, 200)], practice=AU)

    assert left == ()
    assert any(o.keep and o.length >= 2500 for o in done.sheets[0].offcuts)


def test_blocks_that_fit_no_offcut_are_cut_from_more_board():
    demands = [want("a", 3000, 1200, R, R)]
    stock = board([3000])
    blocks = [(f"BB{n}", 560.0, 400.0) for n in range(4)]

    done = plan_with_back_blocks(demands, [stock], blocks, {"std": 3.6}, AU)

    assert verify(done, demands, [stock], blocks) == ()
    assert [s.id for s in done.sheets] == ["S1", "S2"]
    (bound,) = done.bounds
    assert bound.sheets == 2
    assert bound.net_m2 == pytest.approx(3.6 + 4 * 0.56 * 0.4)


def test_blocks_larger_than_any_sheet_are_named():
    done = plan_with_back_blocks(
        [want("a", 900, 600)], [board([3000])], [("BB1", 4000.0, 200.0)], {}, AU
    )
    assert done.unplaced == ("BB1",)
    assert plan_with_back_blocks([], [board([3000])], [("B", 9.0, 9.0)], {}, AU).unplaced == ("B",)


@settings(max_examples=60)
@given(
    any_demands,
    st.lists(st.tuples(st.integers(20, 700), st.integers(20, 700)), max_size=25),
)
def test_every_block_is_cut_once_and_lies_clear(demands, drawn):
    blocks = [(f"BB{n}", float(a), float(b)) for n, (a, b) in enumerate(drawn)]

    done = plan_with_back_blocks(demands, [STOCK], blocks, {}, AU)

    assert verify(done, demands, [STOCK], blocks) == ()
    for sheet in done.sheets:
        parts = [*sheet.placements, *sheet.offcuts]
        assert sum(p.length * p.width for p in parts) == pytest.approx(sheet.length * sheet.width)


# --------------------------------------------------------------------------------- linear goods


def goods(*lengths):
    return LinearStock(id="g", kind="cornice", name="goods", lengths=lengths, citation=NO_SOURCE)


def lengths_of(cuts):
    return sorted(c.length for c in cuts)


def test_lengths_are_cut_with_the_least_total():
    pieces = [("a", 3500.0), ("b", 2500.0), ("c", 1200.0), ("d", 1200.0)]

    cuts, too_long = cut_linear("cornice", pieces, goods(2400, 3600, 6000))

    assert too_long == ()
    assert lengths_of(cuts) == [2400, 6000]
    assert [(c.id, c.pieces, c.left) for c in cuts] == [
        ("L1", (("a", 3500.0), ("b", 2500.0)), 0.0),
        ("L2", (("c", 1200.0), ("d", 1200.0)), 0.0),
    ]


def test_a_piece_longer_than_stock_is_named_or_joined():
    pieces = [("run", 7800.0), ("short", 900.0)]

    _, too_long = cut_linear("cornice", pieces, goods(3000, 6000))
    cuts, none = cut_linear("cornice", pieces, goods(3000, 6000), joinable=True)

    assert (too_long, none) == (("run",), ())
    parts = [p for c in cuts for p in c.pieces if p[0].startswith("run")]
    assert sorted(name for name, _ in parts) == ["run (1 of 2)", "run (2 of 2)"]
    assert sum(x for _, x in parts) == pytest.approx(7800)
    assert lengths_of(cuts) == [3000, 6000]


def test_a_joined_run_has_no_sliver():
    cuts, _ = cut_linear("cornice", [("run", 6010.0)], goods(3000, 6000), joinable=True)
    assert min(x for c in cuts for _, x in c.pieces) > 3000


def test_goods_without_lengths_are_refused():
    with pytest.raises(ValueError, match="sold in no length"):
        cut_linear("cornice", [("a", 1.0)], goods())
    with pytest.raises(ValueError, match="a is -1"):
        cut_linear("cornice", [("a", -1.0)], goods(3000))


def least_linear(pieces, lengths):
    """Return the least total length by trying every way of grouping."""

    @functools.cache
    def best(left):
        if not left:
            return 0.0
        first, *others = left
        found = []
        for n in range(len(others) + 1):
            for fellows in itertools.combinations(others, n):
                total = sum(pieces[i] for i in (first, *fellows))
                bar = min((x for x in lengths if x >= total), default=None)
                if bar is not None:
                    found.append(bar + best(tuple(i for i in others if i not in fellows)))
        return min(found)

    return best(tuple(range(len(pieces))))


@settings(max_examples=100)
@given(
    st.lists(st.integers(2, 60).map(lambda n: n * 50.0), min_size=1, max_size=6),
    st.sampled_from([(3000.0,), (2400.0, 3600.0), (2400.0, 3000.0, 4200.0, 6000.0)]),
)
def test_linear_plans_are_sound_and_close_to_the_least(sizes, lengths):
    pieces = [(f"p{n}", x) for n, x in enumerate(sizes) if x <= lengths[-1]]

    cuts, too_long = cut_linear("trimmer", pieces, goods(*lengths))

    assert too_long == ()
    assert sorted(p for c in cuts for p in c.pieces) == sorted(pieces)
    for c in cuts:
        assert c.length in lengths
        assert c.left == pytest.approx(c.length - sum(x for _, x in c.pieces))
        assert c.left >= 0
    if pieces:
        least = least_linear([x for _, x in pieces], lengths)
        assert least <= sum(c.length for c in cuts) <= least + lengths[-1]
