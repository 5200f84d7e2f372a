"""How long a room and a house take: run this file with Python.

Prints processor times, so that other work on the machine does not count: for one room, for growing
numbers of rooms of a house of twelve, and where the time of the house goes.
"""

import cProfile
import pstats
import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from roomboard.core.develop import develop
from roomboard.core.scheme import work_out
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.scheme_file import scheme_text
from tests.house_12 import house

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")
PHASES = (
    ("lay flat", "develop.py", "develop"),
    ("set out", "set_out.py", "set_out"),
    ("name joints", "joints.py", "name_joints"),
    ("support check", "support.py", "find_bare_edges"),
    ("fixings", "fixings/set_out.py", "set_out_fixings"),
    ("compare directions (all of it)", "comparing.py", "compare_directions"),
    ("trims", "trims.py", "trim_runs"),
    ("cut plan of the whole job", "cutting/back_blocks.py", "plan_with_back_blocks"),
    ("linear goods", "cutting/linear.py", "cut_linear"),
    ("take-off", "quantities.py", "take_off"),
)


def runs_of(job, runs):
    """Processor time of each of several runs, ms, after one that warms up."""
    job()
    took = []
    for _ in range(runs):
        start = time.process_time()
        job()
        took.append((time.process_time() - start) * 1000)
    return took


def middle(job, runs):
    """Median of several runs, ms."""
    return statistics.median(runs_of(job, runs))


def main():
    surfaces = sum(
        len(develop(r, Setting(practice=PACK, catalogue=STOCK, choices=house().choices)).surfaces)
        for r in house().rooms
    )
    print(f"The house: {len(house().rooms)} rooms, {surfaces} surfaces")
    print("\nOne room at a time (median of 9 runs, ms):")
    typical, fastest = [], []
    for room in house().rooms:
        project = replace(house(), rooms=(room,))
        took = runs_of(lambda p=project: work_out(p, STOCK, PACK), 9)
        typical.append(statistics.median(took))
        fastest.append(min(took))
        print(f"  {room.name:14} {typical[-1]:7.1f}")
    print(f"  {'p50':14} {statistics.median(typical):7.1f}")
    print(f"  {'largest':14} {max(typical):7.1f}")

    print("\nGrowth (fastest of 5 runs, ms; ratio to the sum of its rooms one by one):")
    for count in (1, 2, 4, 8, 12):
        took = min(runs_of(lambda n=count: work_out(house(n), STOCK, PACK), 5))
        print(f"  {count:2} rooms {took:8.1f}   ratio {took / sum(fastest[:count]):.2f}")

    whole = work_out(house(), STOCK, PACK)
    print(f"\nScheme text of the house: {middle(lambda: scheme_text(whole), 5):.1f} ms,", end=" ")
    print(f"{len(scheme_text(whole)) / 1e6:.2f} MB")

    print("\nWhere the time of the house goes (ms under the profiler, parts overlap):")
    profile = cProfile.Profile()
    profile.runcall(work_out, house(), STOCK, PACK)
    stats = pstats.Stats(profile).stats
    for label, file, function in PHASES:
        ms = sum(
            row[3] * 1000
            for key, row in stats.items()
            if key[0].endswith(file) and key[2] == function
        )
        if ms:
            print(f"  {label:32} {ms:8.1f}")


if __name__ == "__main__":
    main()
