"""Board against butts, and what limits cost."""

import itertools
from dataclasses import replace

from roomboard.core.optimum.trading import costs_of_limits, frontier
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import joists, project, room, walls


def ceiling(x, y, **more):
    made = room(x, y, joists=(joists(90.0, 600.0),), walls=walls(4, lined=False), **more)
    return project(made)


def stock_and_pack():
    return load_catalogue("au-nz"), load_practice("au-nz")


def test_no_point_of_the_frontier_beats_another_and_each_can_be_adopted():
    points = frontier(ceiling(5400.0, 3000.0), *stock_and_pack())
    assert points
    for one, two in itertools.pairwise(points):
        assert one.board_m2 <= two.board_m2
        assert one.butt_m > two.butt_m
    for point in points:
        laid = work_out(point.project, *stock_and_pack())
        butts = [b for s in laid.rooms[0].surfaces for b in s.set_out.butts]
        assert abs(sum(b.t1 - b.t0 for b in butts) / 1000 - point.butt_m) < 1e-6


def test_a_carry_in_limit_costs_butts_and_is_told_in_words():
    """By hand: 4800 long, two courses of 1200; sheets of 4800 need no butt, sheets of up to
    3600 one in each course, 2 x 1.2 m."""
    job = ceiling(4800.0, 2400.0, carry_in=3600.0)
    (found,) = costs_of_limits(job, *stock_and_pack())
    assert found.limit == "the carry-in limit"
    assert found.cost > 0
    assert abs(found.butt_m - 2.4) < 1e-6
    assert found.words.startswith("The carry-in limit costs 2.4")
    assert "of butt joint" in found.words


def test_a_job_without_limits_has_nothing_to_say_and_a_stop_ends_it():
    assert costs_of_limits(ceiling(3600.0, 2400.0), *stock_and_pack()) == ()
    limited = ceiling(4800.0, 2400.0, carry_in=3600.0)
    assert costs_of_limits(limited, *stock_and_pack(), stop=lambda: True) == ()
    chosen = replace(limited, choices=replace(limited.choices, sheet_widths=(1200.0,)))
    limits = [c.limit for c in costs_of_limits(chosen, *stock_and_pack())]
    assert limits == ["the carry-in limit", "the choice of sheet sizes"]
