"""The optimum of single surfaces, found again by a solver of another kind."""

import pytest

from roomboard.core.optimum.coarse import in_units, unit_for
from roomboard.core.optimum.effort import REACH, Effort
from roomboard.core.optimum.master import Search, Watch
from roomboard.core.optimum.together import Options, Together
from roomboard.core.optimum.ways import ways_for
from roomboard.core.scheme import work_out
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.against_cp_sat import solved
from tests.rooms import joists, project, room, walls

pytest.importorskip("ortools", reason="the other solver comes with the extra cross-check")


def search_of(x, y, spacing):
    """The search of a ceiling's usual division into courses, and its answer."""
    lined = {"joists": (joists(90.0, spacing),), "walls": walls(4, lined=False)}
    job = project(room(x, y, **lined))
    stock, pack = load_catalogue("au-nz"), load_practice("au-nz")
    surface = work_out(job, stock, pack, compare=False).rooms[0].surfaces[0].surface
    setting = Setting(practice=pack, catalogue=stock, choices=job.choices)
    board = setting.board(surface.board, surface.place)
    ways = ways_for(surface, board, setting, job.rooms[0].choice("ceiling"), 1)
    problem = Together([Options(surface.ref, ways)], board, setting, job).problem
    unit = unit_for(problem)
    assert all(i.length % unit == 0 for i in problem.items)
    search = Search(in_units(problem, unit, up=True), REACH[Effort.PROOF].depth, Watch())
    return search, search.solve()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("x", "y", "spacing"),
    [(3600.0, 3000.0, 450.0), (4500.0, 3900.0, 450.0), (5400.0, 4200.0, 600.0)],
)
def test_another_solver_finds_the_same_least_cost(x, y, spacing):
    """Costs are whole hundred-thousandths there, so sums may differ by some of them."""
    search, answer = search_of(x, y, spacing)
    value, proven, _ = solved(search)
    assert proven
    assert value == pytest.approx(answer.value, abs=2e-3)
    assert value >= answer.bound - 2e-3
