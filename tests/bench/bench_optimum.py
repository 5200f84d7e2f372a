"""The optimum beside the usual set-out and the rule of thumb: run this file with Python.

``--proof`` goes to the end of the search; ``--rooms N`` works out the first N rooms of the
invented house in place of the ceilings. Time is processor time. With rectpack installed (the
``bench`` extra) it cuts the usual set-out's pieces too, and the recessed edges it breaks are
counted. With OR-Tools installed (the ``cross-check`` extra) ``--cross-check`` gives the ceilings'
problems, each with all patterns our search has come upon, to CP-SAT and compares the times.
"""

import argparse
import importlib.util
import resource
import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from roomboard.core.optimum.coarse import in_units, unit_for
from roomboard.core.optimum.effort import REACH, Effort
from roomboard.core.optimum.improve import improve
from roomboard.core.optimum.master import Search, Watch
from roomboard.core.optimum.together import Options, Together
from roomboard.core.optimum.ways import ways_for
from roomboard.core.scheme import work_out
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.against_cp_sat import solved
from tests.house_12 import house
from tests.rooms import joists, project, room, walls

CEILINGS = (
    (3600, 3000, 450),
    (4500, 3900, 450),
    (5400, 4200, 600),
    (7200, 4500, 450),
    (8730, 5480, 600),
    (9000, 6000, 450),
)
THUMB = 1.10


def ceiling(x, y, spacing):
    lined = {"joists": (joists(90.0, float(spacing)),), "walls": walls(4, lined=False)}
    return project(room(float(x), float(y), **lined))


def unblocked(job):
    """The job without back-blocks behind recessed joints: nothing but pieces is cut."""
    return replace(job, overrides=(("backblock.recessed", "no"),))


def compared_with_cp_sat():
    """Time to the end of our search, over that of CP-SAT for the choice among its patterns."""
    if not importlib.util.find_spec("ortools"):
        print("OR-Tools is not installed: pip install roomboard[cross-check]")
        return
    print("\nceiling             value  bound  ours s  CP-SAT  same  CP-SAT s  ratio")
    ratios = []
    for x, y, spacing in CEILINGS:
        job = ceiling(x, y, spacing)
        stock, pack = load_catalogue(job.practice), load_practice(job.practice)
        surface = work_out(job, stock, pack, compare=False).rooms[0].surfaces[0].surface
        setting = Setting(practice=pack, catalogue=stock, choices=job.choices)
        board = setting.board(surface.board, surface.place)
        ways = ways_for(surface, board, setting, job.rooms[0].choice("ceiling"), 1)
        problem = Together([Options(surface.ref, ways)], board, setting, job).problem
        begun = time.process_time()
        units = in_units(problem, unit_for(problem), up=True)
        search = Search(units, REACH[Effort.THOROUGH].depth, Watch())
        answer = search.solve()
        ours = time.process_time() - begun
        value, proven, took = solved(search)
        ratios.append(ours / took)
        print(
            f"{x} x {y} @ {spacing:4} {answer.value:8.3f} {answer.bound:8.3f} {ours:6.2f} "
            f"{value:8.3f} {'yes' if abs(value - answer.value) < 2e-3 else 'no':4} "
            f"{took:8.2f}{'' if proven else ' (not proven)'} {ours / took:6.2f}",
            flush=True,
        )
    print(f"median ratio {statistics.median(ratios):.2f}")


def packed_by_rectpack(scheme):
    """Area bought and recessed edges broken when rectpack lays pieces on sheets 1200 by 6000."""
    import rectpack

    pieces = [p for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces]
    needs = [(p.low.value == "recessed", p.high.value == "recessed") for p in pieces]
    packer = rectpack.newPacker(rotation=False)
    for n, p in enumerate(pieces):
        packer.add_rect(round(p.length * 10), round(p.width * 10), n)
    packer.add_bin(60000, 13500, float("inf"))
    packer.pack()
    broken = sum(
        sum(needs[n]) > (y == 0) + (y + h == 13500) for _, _, y, _, h, n in packer.rect_list()
    )
    return len(packer) * 8.1, broken


def row(name, job, effort):
    stock, pack = load_catalogue(job.practice), load_practice(job.practice)
    begun = time.process_time()
    usual = work_out(job, stock, pack, compare=False)
    middle = time.process_time()
    best = improve(job, stock, pack, effort=effort, compare=False).optimum
    took = time.process_time() - middle
    net = sum(b.net_m2 for b in usual.cut_plan.bounds)
    board = [c.amount("board") + c.amount("block_board") for c in (best.usual, best.cost)]
    packed = ("", "")
    if importlib.util.find_spec("rectpack"):
        area, broken = packed_by_rectpack(usual)
        packed = (f"{area:.2f}", str(broken))
    print(
        f"{name:20} {net * THUMB:8.2f} {packed[0]:>8} {packed[1]:>6} {board[0]:8.2f} "
        f"{board[1]:8.2f} {best.usual.total:9.3f} {best.cost.total:9.3f} {best.bound:9.3f} "
        f"{best.gap:7.2%} {best.usual.total / best.cost.total - 1:7.2%} "
        f"{'yes' if best.proven else 'no':6} {middle - begun:7.2f} {took:8.2f}",
        flush=True,
    )


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--proof", action="store_true")
    parser.add_argument("--cross-check", action="store_true")
    parser.add_argument("--rooms", type=int, default=0)
    asked = parser.parse_args()
    effort = Effort.PROOF if asked.proof else Effort.THOROUGH
    print("                           board bought, m2                    cost, m2 of board")
    print(
        "job                     thumb rectpack broken    usual     best     usual      best "
        "    bound     gap   live+ proven usual s   best s"
    )
    if asked.rooms:
        row(f"house, {asked.rooms} rooms", house(asked.rooms), effort)
    else:
        for x, y, spacing in CEILINGS:
            row(f"{x} x {y} @ {spacing}", ceiling(x, y, spacing), effort)
            row("  without blocks", unblocked(ceiling(x, y, spacing)), effort)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"memory at most {peak:.0f} MB")
    if asked.cross_check:
        compared_with_cp_sat()


if __name__ == "__main__":
    main()
