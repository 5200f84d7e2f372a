"""The optimum beside the usual set-out and the rule of thumb: run this file with Python.

``--proof`` goes to the end of the search; ``--rooms N`` adds the first N rooms of the invented
house. Time is processor time. With rectpack installed (the ``bench`` extra) it cuts the usual
set-out's pieces too, and the recessed edges it breaks are counted.
"""

import argparse
import importlib.util
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import improve
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
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
    print(
        f"{name:18} {net * THUMB:8.2f} {board[0]:8.2f} {board[1]:8.2f} "
        f"{best.usual.total:9.3f} {best.cost.total:9.3f} {best.bound:9.3f} {best.gap:7.2%} "
        f"{'yes' if best.proven else 'no':6} {middle - begun:7.2f} {took:8.2f}",
        flush=True,
    )
    if importlib.util.find_spec("rectpack"):
        area, broken = packed_by_rectpack(usual)
        print(f"{'':18} rectpack: {area:.2f} m2, recessed edges broken on {broken} pieces")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--proof", action="store_true")
    parser.add_argument("--rooms", type=int, default=0)
    asked = parser.parse_args()
    effort = Effort.PROOF if asked.proof else Effort.THOROUGH
    print("                     board bought, m2           cost, m2 of board")
    print(
        "job                 thumb   usual     best     usual      best     bound     gap "
        "proven usual s   best s"
    )
    for x, y, spacing in CEILINGS:
        row(f"{x} x {y} @ {spacing}", ceiling(x, y, spacing), effort)
    if asked.rooms:
        row(f"house, {asked.rooms} rooms", house(asked.rooms), effort)


if __name__ == "__main__":
    main()
