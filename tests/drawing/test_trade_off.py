"""Board against butts on paper: where answers stand, what is said, what is left out."""

import re
from dataclasses import replace

import pytest

from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import NO_BOUND, improve
from roomboard.core.optimum.limits import LimitCost
from roomboard.core.optimum.trading import Point, Trade
from roomboard.core.optimum.weighing import Cost, CostLine
from roomboard.core.project import Units
from roomboard.drawing.displaylist import Dots, Symbol, Text
from roomboard.drawing.flow import Heading, Paragraph, Table
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_set import sheets_of
from roomboard.drawing.trade_off import (
    costs_table,
    how_near,
    trade_blocks,
    trade_plot,
    trade_table,
)
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import joists, project, room, walls


def answer(board, butt, heaviest, sheets=7):
    return Point(
        board_m2=board,
        sheets=sheets,
        butt_m=butt,
        lift_kg=heaviest,
        heaviest_kg=heaviest,
        project=project(),
    )


ANSWERS = (answer(20.0, 6.0, 30.0), answer(22.0, 2.4, 40.0), answer(26.0, 0.0, 52.0))


@pytest.fixture(scope="module")
def found():
    job = project(room(3600.0, 3000.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False)))
    stock, pack = load_catalogue(job.practice), load_practice(job.practice)
    return improve(job, stock, pack, effort=Effort.THOROUGH).scheme


def signs(plot):
    return [m for m in plot.marks if isinstance(m, Dots)]


def test_answers_stand_to_scale_on_both_axes():
    """From 20 to 22 m2 is a third of the way from 20 to 26; from 6 to 2.4 m is six tenths of
    the way down from 6 to 0."""
    plot = trade_plot(ANSWERS, Units.METRIC, 160.0)
    (a, b, c) = [m.points[0] for m in signs(plot)]
    assert (b[0] - a[0]) / (c[0] - a[0]) == pytest.approx(2 / 6)
    assert (a[1] - b[1]) / (a[1] - c[1]) == pytest.approx(3.6 / 6)
    assert all(0 < x < 160 and 0 < y < plot.height for x, y in (a, b, c))


def test_the_answer_in_hand_has_a_form_of_its_own():
    plot = trade_plot(ANSWERS, Units.METRIC, 160.0, chosen=1)
    assert [m.symbol for m in signs(plot)] == [Symbol.RING, Symbol.CROSS, Symbol.RING]
    assert [m.ref for m in signs(plot)] == ["answer:0", "answer:1", "answer:2"]


def test_letterings_do_not_stand_on_each_other():
    near = (answer(20.0, 1.0, 30.0), answer(20.001, 0.999, 29.0), answer(20.002, 0.998, 28.0))
    plot = trade_plot(near, Units.METRIC, 160.0)
    named = [m for m in plot.marks if isinstance(m, Text) and m.ref]
    assert len(named) == 3
    assert len({round(m.at[1], 1) for m in named}) == 3


def test_one_answer_alone_can_be_plotted():
    plot = trade_plot(ANSWERS[:1], Units.FEET_INCHES, 120.0)
    assert len(signs(plot)) == 1


def test_the_table_speaks_in_the_units_of_the_project():
    """By hand: 20 m2 are 215.3 sq ft, 6 m are 19.7 ft, 30 kg are 66.1 lb."""
    assert trade_table(ANSWERS, Units.METRIC).rows[0] == ("1", "7", "20.00 m²", "6.00 m", "30.0 kg")
    row = trade_table(ANSWERS, Units.FEET_INCHES).rows[0]
    assert row == ("1", "7", "215.3 sq ft", "19.7 ft", "66.1 lb")


def test_it_is_said_how_near_the_best_is_and_whether_the_search_was_stopped(found):
    best = found.optimum
    assert best.proven
    assert "proven to be the least" in how_near(best, Units.METRIC)
    open_ = replace(
        best, proven=False, gap=0.0123, bound=best.cost.total * 0.9877, stopped="enough"
    )
    said = how_near(open_, Units.METRIC)
    assert "1.23%" in said
    assert "stopped early: enough" in said
    assert best.how in said


def test_costs_are_told_in_the_units_of_the_job(found):
    """By hand: 1 m2 is 10.7639 sq ft, 1 m is 3.28084 ft, 1 kg is 2.20462 lb. What 1 m2 of board
    for a metre counts is 0.3048 m2, or 3.281 sq ft, for a foot; 0.01 m2 for a kg is 0.0045359 m2,
    or 0.04882 sq ft, for a pound; 0.2 m2 for a piece are 2.153 sq ft; board counts the same."""
    lines = (
        CostLine("board", 20.0, 1.0),
        CostLine("butt", 3.0, 1.0),
        CostLine("piece", 7.0, 0.2),
        CostLine("lift", 30.0, 0.01),
    )
    cost = Cost(lines=lines)  # 20 + 3 + 1.4 + 0.3 = 24.7 m2, or 265.87 sq ft
    best = replace(found.optimum, cost=cost, usual=cost, proven=False, bound=20.0)
    metric = [(r[0], r[1], r[2], r[3]) for r in costs_table(best, Units.METRIC).rows]
    assert metric == [
        ("board bought", "1", "20.00 m²", "20.00"),
        ("butt joint", "1", "3.00 m", "3.00"),
        ("pieces", "0.2", "7", "1.40"),
        ("heaviest piece of each surface, together", "0.01", "30.00 kg", "0.30"),
        ("together", "", "", "24.70"),
    ]
    imperial = [(r[1], r[2], r[3]) for r in costs_table(best, Units.FEET_INCHES).rows]
    assert imperial == [
        ("1", "215.28 sq ft", "215.28"),
        ("3.281", "9.84 ft", "32.29"),
        ("2.153", "7", "15.07"),
        ("0.04882", "66.14 lb", "3.23"),
        ("", "", "265.87"),
    ]
    said = how_near(best, Units.FEET_INCHES)
    assert "265.87 in sq ft of board" in said
    assert "less than 215.28" in said
    assert "m²" not in said


def test_no_page_on_the_best_has_a_metric_word_in_a_job_in_feet(found):
    own = replace(found, project=replace(found.project, units=Units.FEET_INCHES))
    blocks = trade_blocks(replace(own, trade=Trade(points=ANSWERS)), 170.0)
    said = [b.text for b in blocks if isinstance(b, Paragraph)]
    said += [" ".join(row) for b in blocks if isinstance(b, Table) for row in b.rows]
    assert said
    assert not [text for text in said if re.search(r"m²|\bkg\b|\d m\b", text)]


def test_blocks_say_what_was_sought_and_nothing_else(found):
    assert trade_blocks(replace(found, optimum=None), 170.0) == ()
    heads = [b.text for b in trade_blocks(found, 170.0) if isinstance(b, Heading)]
    assert heads == ["How near the best", "Why more sheets than the least"]
    limit = LimitCost(
        limit="the stair", cost=4.8, butts=4, butt_m=4.8, board_m2=0.0, words="The stair costs 4."
    )
    trade = Trade(points=ANSWERS, limits=(limit,), complete=False)
    blocks = trade_blocks(replace(found, trade=trade), 170.0)
    heads = [b.text for b in blocks if isinstance(b, Heading)]
    assert heads[1:3] == ["Board against butts", "What limits cost"]
    texts = [b.text for b in blocks if isinstance(b, Paragraph)]
    assert "The stair costs 4." in texts
    assert any("not to be built" in t for t in texts)
    assert any("it was stopped" in t for t in texts)
    assert sum(isinstance(b, Table) for b in blocks) == 2


def test_the_page_stands_in_the_set_where_the_best_was_sought(found):
    choice = SetChoice(kinds=(PageKind.PLOTS,))
    titles = [s.title for s in sheets_of(found, choice, "2025-01-01")]
    assert any(t.startswith("Least board and fewest joints") for t in titles)
    plain = [s.title for s in sheets_of(replace(found, optimum=None), choice, "2025-01-01")]
    assert not any(t.startswith("Least board") for t in plain)


def test_every_kind_of_cost_has_a_row_and_what_its_words_mean_is_said(found):
    kinds = [line.kind for line in found.optimum.cost.lines]
    assert kinds[-2:] == ["middle", "light"]
    rows = costs_table(found.optimum, Units.METRIC).rows
    assert [r[0] for r in rows[-3:]] == [
        "butt joint near the middle",
        "butt joint across the light",
        "together",
    ]
    said = " ".join(b.text for b in trade_blocks(found, 160.0) if isinstance(b, Paragraph))
    assert "how near to a window beside the face or a light in it" in said


def test_an_answer_without_a_bound_claims_none(found):
    nothing = replace(
        found.optimum, bound=0.0, gap=1.0, proven=False, how=NO_BOUND, stopped="its time was up"
    )
    said = how_near(nothing, Units.METRIC)
    assert "not known: no bound was found before the search ended." in said
    assert "above the best" not in said
    assert said.endswith("The search was stopped early: its time was up.")
