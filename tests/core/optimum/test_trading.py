"""Board against butts and lifts, and what limits cost."""

from dataclasses import replace
from itertools import pairwise

import pytest

from roomboard.core.optimum.limits import EDGE_RULE, costs_of_limits
from roomboard.core.optimum.trading import Point, frontier, unbeaten
from roomboard.core.project import SurfaceChoice
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import joists, project, room, walls


def ceiling(x, y, **more):
    made = room(x, y, joists=(joists(90.0, 600.0),), walls=walls(4, lined=False), **more)
    return project(made)


def stock_and_pack():
    return load_catalogue("au-nz"), load_practice("au-nz")


def point(board, butt, heaviest):
    return Point(
        board_m2=board,
        sheets=1,
        butt_m=butt,
        lift_kg=heaviest,
        heaviest_kg=heaviest,
        project=project(),
    )


def test_a_point_is_left_out_only_where_another_is_as_good_in_everything():
    least, fewest, light = point(10.0, 2.4, 30.0), point(12.0, 0.0, 40.0), point(11.0, 3.6, 20.0)
    beaten = point(11.0, 2.4, 30.0)  # more board than the first for the same butts and mass
    twice = point(10.0, 2.4, 30.0)
    assert unbeaten([fewest, beaten, least, twice, light]) == (least, light, fewest)


def test_no_point_of_the_frontier_beats_another_and_each_can_be_adopted():
    told = []
    points = frontier(
        ceiling(5400.0, 3000.0),
        *stock_and_pack(),
        progress=lambda *what: told.append(what),
    )
    assert len(points) > 1
    assert [d for d, _, _ in told] == list(range(told[-1][1] + 1))
    for one, two in pairwise(points):
        assert one.board_m2 <= two.board_m2
        assert one.butt_m > two.butt_m or one.heaviest_kg > two.heaviest_kg
    for found in points:
        laid = work_out(found.project, *stock_and_pack())
        (surface,) = laid.rooms[0].surfaces
        butts = surface.set_out.butts
        assert sum(b.t1 - b.t0 for b in butts) / 1000 == pytest.approx(found.butt_m)
        assert max(p.mass_kg for p in surface.set_out.pieces) == pytest.approx(found.heaviest_kg)
        assert found.project.weights == ceiling(1.0, 1.0).weights


def test_a_stopped_frontier_has_what_was_found_so_far():
    asked = []

    def stop():
        asked.append(True)
        return False

    frontier(ceiling(3600.0, 2400.0), *stock_and_pack(), stop=stop)
    assert asked
    assert frontier(ceiling(3600.0, 2400.0), *stock_and_pack(), stop=lambda: True) == ()


def test_a_carry_in_limit_costs_butts_and_is_told_in_words():
    """By hand: 4800 long, two courses of 1200; sheets of 4800 need no butt, sheets of up to
    3600 one in each course, 2 x 1.2 m."""
    job = ceiling(4800.0, 2400.0, carry_in=3600.0, carry_in_note="the stair turns")
    (found,) = costs_of_limits(job, *stock_and_pack(), rules=False)
    assert found.limit == "the carry-in limit (the stair turns)"
    assert found.cost > 0
    assert found.butts == 2
    assert abs(found.butt_m - 2.4) < 1e-6
    assert found.words.startswith("The carry-in limit (the stair turns) costs 2 butts (2.40 m")


def test_a_lock_costs_what_the_answer_without_it_saves():
    """By hand: 4800 by 2400 in two sheets of 4800 without a butt; one locked butt is 1.2 m."""
    locked = SurfaceChoice(surface="ceiling", start="low", butts=((0, 1, 2400.0),))
    job = ceiling(4800.0, 2400.0, choices=(locked,))
    (found,) = costs_of_limits(job, *stock_and_pack(), rules=False)
    assert found.limit == "what is locked"
    assert found.butts == 1
    assert found.words.startswith("What is locked costs 1 butt (1.20 m of butt joint)")


def test_the_stagger_costs_board_where_butts_would_stand_in_line():
    """Sheets of 3600 at most on 5400: butts at one third in both courses leave offcuts that
    match; each rule is tried, none is said to save anything, and the edge rule is among them."""
    job = ceiling(5400.0, 2400.0, carry_in=3600.0)
    found = costs_of_limits(job, *stock_and_pack())
    named = [f.limit for f in found]
    assert named[0] == "the carry-in limit"
    assert named[-1] == EDGE_RULE
    assert any("butts of adjoining courses apart" in n for n in named)
    assert all(f.words.endswith(".") for f in found)
    assert found[-1].board_m2 >= 0


def test_the_edge_rule_costs_the_board_that_edges_use_up():
    """By hand: a wall-like ceiling of two courses, 1200 and 600, 2400 long. Each rip of 600 has one
    recessed edge against its neighbour: a sheet of 1200 gives two, so nothing is lost."""
    job = ceiling(2400.0, 1800.0)
    edges = costs_of_limits(job, *stock_and_pack())[-1]
    assert edges.limit == EDGE_RULE
    assert edges.board_m2 == pytest.approx(0.0)
    assert "no board" in edges.words


def test_a_job_without_limits_has_nothing_to_say_and_a_stop_ends_it():
    plain, limited = ceiling(3600.0, 2400.0), ceiling(4800.0, 2400.0, carry_in=3600.0)
    assert costs_of_limits(plain, *stock_and_pack(), rules=False) == ()
    assert costs_of_limits(limited, *stock_and_pack(), stop=lambda: True) == ()
    chosen = replace(limited, choices=replace(limited.choices, sheet_widths=(1200.0,)))
    limits = [c.limit for c in costs_of_limits(chosen, *stock_and_pack(), rules=False)]
    assert limits == ["the carry-in limit", "the choice of sheet sizes"]
