"""The whole job improved: never worse than usual, never below the bound, checked from outside."""

import math
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise, product

import pytest
from hypothesis import HealthCheck, given, settings

from roomboard.core.comparing import demand_of
from roomboard.core.findings import Severity
from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import BY_AREA, OptimumError, improve
from roomboard.core.optimum.presets import PRESETS, preset
from roomboard.core.optimum.weighing import weigh
from roomboard.core.project import Opening, OpeningKind, Price, SurfaceChoice
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests import strategies as jobs
from tests.chain import as_data, faults_of
from tests.rooms import joists, project, room, setting, walls


def best_of(job, effort=Effort.THOROUGH, **more):
    return improve(
        job, load_catalogue(job.practice), load_practice(job.practice), effort=effort, **more
    )


def ceiling(x, y, spacing=450.0, **more):
    return project(room(x, y, joists=(joists(90.0, spacing),), walls=walls(4, lined=False)), **more)


def cost_in(data):
    """What a scheme file costs, reckoned from its pieces, joints and sheets alone."""
    weights = {line["kind"]: line["weight"] for line in data["optimum"]["by_kind"]}
    surfaces = [s for r in data["rooms"] for s in r["surfaces"]]
    pieces = {p["id"] for s in surfaces for p in s["pieces"]}
    area = {True: 0.0, False: 0.0}
    for sheet in data["cut_sheets"]:
        holds = any(p["piece"] in pieces for p in sheet["placements"])
        area[holds] += sheet["length"] * sheet["width"] / 1e6
    joints = [j for s in surfaces for j in s["joints"]]

    def metres(kind):
        return sum(j["length"] for j in joints if j["kind"] == kind) / 1000

    amounts = {
        "board": area[True],
        "block_board": area[False],
        "butt": sum(b["t1"] - b["t0"] for s in surfaces for b in s["butts"]) / 1000,
        "recessed": metres("recessed"),
        "end_to_recess": metres("end_to_recess"),
        "piece": len(pieces),
        "cut": sum(len(s["cuts"]) for s in data["cut_sheets"]),
        "lift": sum(max((p["mass_kg"] for p in s["pieces"]), default=0) for s in surfaces),
    }
    return {kind: (amount, amount * weights[kind]) for kind, amount in amounts.items()}


def assert_sound(found):
    o = found.optimum
    assert o.cost.total <= o.usual.total + 1e-6, "never worse than usual"
    assert o.bound <= o.cost.total + 1e-6, "never below the bound"
    assert o.gap == pytest.approx(max(0.0, 1 - o.bound / o.cost.total), abs=2e-4)
    data = as_data(found.scheme)
    assert faults_of(data) == []
    for kind, (amount, cost) in cost_in(data).items():
        line = next(x for x in data["optimum"]["by_kind"] if x["kind"] == kind)
        assert line["amount"] == pytest.approx(amount, abs=0.02), kind
        assert line["cost"] == pytest.approx(cost, abs=0.02), kind
    again = work_out(
        found.project, load_catalogue(found.project.practice), load_practice(found.project.practice)
    )
    own = [s.set_out.pieces for r in found.scheme.rooms for s in r.surfaces]
    assert [s.set_out.pieces for r in again.rooms for s in r.surfaces] == own


@pytest.mark.slow
@settings(max_examples=5, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs.projects(most_rooms=1))
def test_random_jobs_are_never_worse_than_usual_nor_below_their_bound(job):
    found = best_of(job)
    if not any(p for r in found.scheme.rooms for s in r.surfaces for p in s.set_out.pieces):
        return
    assert_sound(found)
    graver = [f for f in found.scheme.findings if f.severity >= Severity.WARNING]
    usual = work_out(job, load_catalogue(job.practice), load_practice(job.practice))
    before = [f for f in usual.findings if f.severity >= Severity.WARNING]
    assert len(graver) <= len(before), "no rule is traded away"


# --- every way of laying and cutting a small ceiling ---------------------------------------


def fits(pieces, length, width, whole, edges):
    """Whether pieces (length, width, recesses) can be cut from a plate, trying every division."""

    @cache
    def ok(own, x, y, e):
        if not own:
            return True
        if len(own) == 1:
            ((a, b, need),) = own
            return a <= x and b <= y and need <= e and (need < 2 or b == whole)
        first, *others = own
        for n in range(len(others)):
            for group in combinations(range(len(others)), n):
                one = (first, *(others[i] for i in group))
                two = tuple(o for i, o in enumerate(others) if i not in group)
                for near, far in ((one, two), (two, one)):
                    for at in {
                        sum(p[0] for p in c)
                        for k in range(1, len(near) + 1)
                        for c in combinations(near, k)
                    }:
                        if at < x and ok(near, at, y, e) and ok(far, x - at, y, e):
                            return True
                    for at in {
                        sum(p[1] for p in c)
                        for k in range(1, len(near) + 1)
                        for c in combinations(near, k)
                    }:
                        shares = {2: ((1, 1),), 1: ((1, 0), (0, 1)), 0: ((0, 0),)}[e]
                        if at < y and any(
                            ok(near, x, at, p) and ok(far, x, y - at, q) for p, q in shares
                        ):
                            return True
        return False

    return ok(tuple(sorted(pieces)), length, width, edges)


def least_board(pieces, sheets):
    """The least area of sheets, by trying every way of sharing pieces among them."""

    @cache
    def cheapest(group):
        return min(
            (a * b / 1e6 for a, b in sheets if fits(group, a, b, b, 2)), default=float("inf")
        )

    @cache
    def best(left):
        if not left:
            return 0.0
        first, *others = left
        found = float("inf")
        for n in range(min(3, len(others)) + 1):
            for fellows in combinations(range(len(others)), n):
                group = tuple(sorted((first, *(others[i] for i in fellows))))
                if cheapest(group) < found:
                    rest = tuple(o for i, o in enumerate(others) if i not in fellows)
                    found = min(found, cheapest(group) + best(rest))
        return found

    return best(tuple(sorted(pieces)))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("x", "y", "spacing", "lengths"),
    [(4800.0, 1800.0, 600.0, (2400.0, 3600.0)), (4500.0, 1950.0, 450.0, (2400.0, 3000.0))],
)
@pytest.mark.parametrize("name", ["balanced", "least board", "fewest butts", "by the window"])
def test_a_small_ceiling_is_the_least_of_every_set_out_and_every_cut(x, y, spacing, lengths, name):
    """Two courses from either side, every butt on every joist, every sharing of the sheets."""
    lit = name == "by the window"
    weights = replace(preset("balanced" if lit else name), lift=0.0, light=4.0)
    job = ceiling(x, y, spacing, weights=weights)
    if lit:
        # As wide as its wall, at x = 0: each butt lies across its light, the nearer the worse.
        job = with_window(job, y)
    given_ = replace(job.choices, sheet_lengths=lengths, sheet_widths=(1200.0,))
    job = replace(job, choices=given_)
    found = best_of(job, Effort.PROOF)
    assert found.optimum.proven
    with_ = setting(sheet_lengths=lengths, sheet_widths=(1200.0,))
    sheets = [(length, 1200.0) for length in lengths]

    least = float("inf")
    tried = 0
    usual = work_out(job, load_catalogue("au-nz"), load_practice("au-nz"))
    surface = usual.rooms[0].surfaces[0].surface
    places = sorted({s.a[0] for s in surface.supports if s.existing})
    for start in ("low", "high", "balanced"):
        base = SurfaceChoice(surface="ceiling", start=start)
        options = [c for n in (1, 2) for c in combinations(places[1:-1], n)]
        for low, high in product(options, repeat=2):
            at = [0.0, *low, x], [0.0, *high, x]
            spans = [b - a for row in at for a, b in pairwise(row)]
            if max(spans) > max(lengths) or min(spans) < 400:
                continue
            if any(abs(a - b) < 300 for a in low for b in high):
                continue
            choice = replace(base, butts=(*((0, 1, s) for s in low), *((0, 2, s) for s in high)))
            tried += 1
            least = min(least, cost_of_choice(job, surface, with_, choice, sheets, least))
    assert tried > 20
    assert found.optimum.cost.searched == pytest.approx(least, abs=1e-3)


def with_window(job, wide):
    """A window in wall A as wide as the wall, its head 320 under the ceiling."""
    window = Opening(
        id="w",
        kind=OpeningKind.WINDOW,
        host="a",
        left=0.0,
        bottom=900.0,
        width=wide,
        height=1200.0,
    )
    return replace(job, rooms=(replace(job.rooms[0], openings=(window,)),))


def test_butts_keep_away_from_the_light_as_far_as_it_counts():
    """One course with one butt on any joist, the window at the low end of it."""
    job = ceiling(6000.0, 1200.0, 600.0, weights=replace(preset("balanced"), middle=0.0))
    given_ = replace(job.choices, sheet_lengths=(2400.0, 3600.0, 4800.0), sheet_widths=(1200.0,))
    job = with_window(replace(job, choices=given_), 1200.0)
    at = {}
    for weight in (0.0, 5.0, 10.0):
        asked = replace(job, weights=replace(job.weights, light=weight))
        found = best_of(asked, Effort.PROOF)
        assert found.optimum.proven
        (surface,) = found.scheme.rooms[0].surfaces
        (butt,) = surface.set_out.butts
        at[weight] = butt.s
        lit = 1.2 * (1 - math.hypot(butt.s, 320) / math.hypot(6000, 320))
        assert found.optimum.cost.amount("light") == pytest.approx(lit, abs=1e-6)
    assert at[0.0] in {2400.0, 3600.0}, "no board is lost"
    assert at[5.0] == 3600.0, "of these the further one: 1.2 m x 0.2 x 5 is less than 1.44 m2 more"
    assert at[10.0] == 4800.0, "the longest sheet lies at the window"


def cost_of_choice(job, surface, with_, choice, sheets, known):
    """What one set-out costs, its joints counted by hand and its sheets by every way of cutting."""
    from roomboard.core.set_out import set_out

    board = with_.board(surface.board, surface.place)
    bare = replace(surface, supports=tuple(s for s in surface.supports if s.existing))
    laid = set_out(bare, board, with_, choice)
    if any(f.severity >= Severity.WARNING for f in laid.findings):
        return float("inf")
    w = job.weights
    x = max(p.blank[2] for p in laid.pieces)
    cost = w.piece * len(laid.pieces)
    cost += w.recessed * x / 1000 * (len(laid.courses) - 1)
    for b in laid.butts:
        near = 1 - abs(b.s - x / 2) / (x / 2)
        lit = 1 - math.hypot(b.s, 320) / math.hypot(x, 320) if job.rooms[0].openings else 0.0
        cost += (b.t1 - b.t0) / 1000 * (w.butt + w.middle * near + w.light * lit)
    if cost >= known:
        return cost
    demands = [demand_of(p, laid, bare) for p in laid.pieces]
    pieces = [(d.length, d.width, [d.low, d.high].count("recessed")) for d in demands]
    return cost + w.board * least_board(pieces, sheets)


# --- what holds -----------------------------------------------------------------------------


def test_the_same_job_gives_the_same_answer():
    job = ceiling(5400.0, 4200.0, 600.0)
    one, two = best_of(job), best_of(job)
    assert one.project == two.project
    assert one.scheme == two.scheme
    assert one.optimum == two.optimum


def test_a_locked_butt_and_a_first_course_stay_where_they_are():
    job = ceiling(7200.0, 4500.0)
    lock = SurfaceChoice(surface="ceiling", start="low", butts=((0, 1, 3600.0),))
    locked = replace(job, rooms=(replace(job.rooms[0], choices=(lock,)),))
    found = best_of(locked)
    (surface,) = found.scheme.rooms[0].surfaces
    assert any(b.course == 1 and b.s == 3600.0 for b in surface.set_out.butts)
    first = SurfaceChoice(surface="ceiling", start="low", first_course=((0, 900.0),))
    held = replace(job, rooms=(replace(job.rooms[0], choices=(first,)),))
    (surface,) = best_of(held).scheme.rooms[0].surfaces
    course = next(c for c in surface.set_out.courses if c.number == 1)
    assert course.t1 - course.t0 == pytest.approx(900)


def test_presets_do_what_they_say():
    """Each is at least as good in its own figure as every other on one ceiling."""
    found = {
        name: best_of(ceiling(4800.0, 2400.0, 600.0, weights=weights)).optimum.cost
        for name, weights in PRESETS
        if name != "balanced"
    }
    assert found["fewest butts"].amount("butt") == min(c.amount("butt") for c in found.values())
    assert found["least board"].amount("board") == min(c.amount("board") for c in found.values())
    assert found["lightest lifts"].amount("lift") == min(c.amount("lift") for c in found.values())


def test_prices_count_in_place_of_area():
    stock = load_catalogue("au-nz").board("ceil10")
    dear = {s.id: s.area_m2 * (3 if s.length > 4500 else 1) for s in stock.sheets}
    prices = tuple(Price(item=k, amount=v * 10) for k, v in sorted(dear.items()))
    job = ceiling(5400.0, 3600.0, currency="EUR", prices=prices)
    found = best_of(job)
    assert all(s.length <= 4500 for s in found.scheme.cut_plan.sheets)
    assert found.optimum.cost.total <= found.optimum.usual.total


def test_an_answer_below_its_bound_is_a_fault_with_the_case_kept(monkeypatch):
    from roomboard.core.optimum import improve as module

    true_solve = module.solve

    def too_high(*args):
        answer, unit = true_solve(*args)
        return answer._replace(bound=10_000.0), unit

    monkeypatch.setattr(module, "solve", too_high)
    with pytest.raises(OptimumError, match="below its bound") as caught:
        best_of(ceiling(4500.0, 3900.0))
    assert caught.value.case.rooms


def test_progress_is_told_and_a_stop_keeps_the_best_so_far():
    heard = []
    found = best_of(
        ceiling(5400.0, 4200.0, 600.0),
        progress=lambda best, bound, words: heard.append((best, bound, words)),
        stop=lambda: len(heard) > 2,
    )
    assert heard
    assert all(words for _, _, words in heard)
    assert found.optimum.cost.total <= found.optimum.usual.total
    assert found.optimum.bound <= found.optimum.cost.total
    assert found.optimum.stopped


def test_a_search_that_is_stopped_at_once_has_the_area_of_the_lining_as_its_bound():
    # 5.4 x 4.2 m are 22.68 m2; board counts 1 for each m2, and none is bought for less.
    found = best_of(ceiling(5400.0, 4200.0, 600.0), stop=lambda: True)
    assert found.optimum.how == BY_AREA
    assert found.optimum.bound == pytest.approx(22.68)
    assert found.optimum.stopped
    assert 0 < found.optimum.gap < 1


def test_live_is_the_usual_and_effort_of_work_out_is_passed_on():
    job = ceiling(3600.0, 3000.0)
    stock, pack = load_catalogue("au-nz"), load_practice("au-nz")
    assert best_of(job, Effort.LIVE).scheme.cut_plan == work_out(job, stock, pack).cut_plan
    assert work_out(job, stock, pack).optimum is None
    thorough = work_out(job, stock, pack, effort=Effort.THOROUGH)
    assert thorough.optimum.cost == weigh(thorough, job.weights)
    assert thorough.rooms[0].surfaces[0].comparisons
