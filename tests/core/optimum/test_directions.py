"""Which way the sheets of walls run, decided with everything else where either way will do."""

from dataclasses import replace

import pytest

from roomboard.core.adopting import as_chosen, with_cutting
from roomboard.core.develop import develop
from roomboard.core.findings import Severity
from roomboard.core.optimum.directions import directions_told
from roomboard.core.optimum.improve import improve
from roomboard.core.optimum.limits import costs_of_limits
from roomboard.core.optimum.ways import turned_faces, ways_for
from roomboard.core.project import SheetDirection, SurfaceChoice
from roomboard.core.scheme import work_out
from roomboard.drawing.flow import Paragraph
from roomboard.drawing.trade_off import trade_blocks
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.chain import as_data, faults_of
from tests.rooms import project, room, setting, walls, worked

STOCK, PACK = load_catalogue("au-nz"), load_practice("au-nz")
EITHER = (("wall.direction", "either"),)


def one_wall(length, studs=600.0, **more):
    """Only wall B is lined, 2410 high between floor gap and ceiling."""
    own = [replace(w, lined=w.id == "b", stud_spacing=studs) for w in walls(4)]
    given = {"walls": tuple(own), "ceiling_lined": False}
    return project(room(length, 3600.0, **given), **more)


def best_of(job):
    return improve(job, STOCK, PACK, compare=False)


def way_of(found):
    (surface,) = found.scheme.rooms[0].surfaces
    return surface.surface.direction


def test_a_wall_is_turned_where_that_costs_less_and_its_joints_fall_on_studs():
    """By hand, 7200 long: level, two courses with a butt each at least, 2 x 1.2 m; upright, six
    sheets of 1200 whose five joints fall on every second stud, and no butt."""
    level, either = best_of(one_wall(7200.0)), best_of(one_wall(7200.0, overrides=EITHER))
    assert way_of(level) is SheetDirection.ACROSS
    assert level.optimum.cost.amount("butt") == pytest.approx(2.4, abs=0.02)
    assert way_of(either) is SheetDirection.ALONG
    assert either.optimum.cost.amount("butt") == 0.0
    assert either.optimum.cost.amount("recessed") == pytest.approx(5 * 2.41, abs=0.02)
    assert either.optimum.cost.total < level.optimum.cost.total
    assert either.optimum.bound <= either.optimum.cost.total
    assert faults_of(as_data(either.scheme)) == []


def test_a_wall_whose_upright_joints_would_miss_the_studs_stays_level():
    """Studs at 500: neither 1200 nor 1350 nor any two of them end on one, which breaks a rule."""
    found = best_of(one_wall(7000.0, 500.0, overrides=EITHER))
    assert way_of(found) is SheetDirection.ACROSS
    assert directions_told(found.scheme) == ()


def test_a_wall_with_a_direction_or_a_lock_of_the_users_is_not_turned():
    with_ = setting(overrides=EITHER)
    for choice in (
        SurfaceChoice(surface="wall:b", direction=SheetDirection.ACROSS),
        SurfaceChoice(surface="wall:b", start="low", butts=((0, 1, 3600.0),)),
    ):
        of = replace(one_wall(7200.0).rooms[0], choices=(choice,))
        assert turned_faces(of, develop(of, with_).surfaces, with_) == {}
    of = one_wall(7200.0).rooms[0]
    assert set(turned_faces(of, develop(of, with_).surfaces, with_)) == {"room/wall:b"}
    kept = setting()
    assert turned_faces(of, develop(of, kept).surfaces, kept) == {}, "the pack says which way"


def test_ways_the_other_way_ask_for_no_more_timber_and_break_no_more_rules():
    with_ = setting(overrides=EITHER)
    for length, studs, turns in ((7200.0, 600.0, True), (7000.0, 500.0, False)):
        of = one_wall(length, studs).rooms[0]
        (surface,) = develop(of, with_).surfaces
        other = turned_faces(of, [surface], with_)[surface.ref]
        ways = ways_for(surface, with_.board("", "wall"), with_, of.choice("wall:b"), 4, other)
        assert ways[0].choice.direction is SheetDirection.AUTO, "the usual one comes first"
        own = [w for w in ways if w.choice.direction is SheetDirection.ALONG]
        assert bool(own) is turns
        for way in own:
            made = worked(replace(of, choices=(way.choice,)), "wall:b", with_)
            assert made.trimmers == ()


def test_the_way_is_told_goes_with_the_answer_and_is_the_searchs_own():
    job = one_wall(7200.0, overrides=EITHER)
    found = best_of(job)
    (words,) = directions_told(found.scheme)
    assert words == (
        "Wall B of Room: the sheets run upright, as the search found better; usually they run "
        "level."
    )
    said = [b.text for b in trade_blocks(found.scheme, 160.0) if isinstance(b, Paragraph)]
    assert words in said
    taken = with_cutting(found.scheme)
    assert directions_told(work_out(taken, STOCK, PACK, compare=False)) == (words,)
    assert as_chosen(taken).rooms == job.rooms
    grave = [f for f in found.scheme.findings if f.severity >= Severity.WARNING]
    usual = work_out(job, STOCK, PACK, compare=False)
    assert len(grave) <= sum(f.severity >= Severity.WARNING for f in usual.findings)


def test_what_the_packs_way_of_running_wall_sheets_costs_is_told():
    found = {f.limit: f for f in costs_of_limits(one_wall(7200.0), STOCK, PACK)}
    turned = found["the rule which way the sheets of walls run"]
    assert turned.butts == 2
    assert turned.words.startswith(
        "The rule which way the sheets of walls run costs 2 butts (2.41 m"
    )
    either = costs_of_limits(one_wall(7200.0, overrides=EITHER), STOCK, PACK)
    assert turned.limit not in [f.limit for f in either]
