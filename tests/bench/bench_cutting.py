"""How long cutting takes and how near its bounds it comes: run this file with Python.

Demands are invented: walls and ceilings of random rooms in courses of the usual sheet widths.
"""

import random
import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from roomboard.core.cutting import Demand, cut_linear, plan
from roomboard.storage.catalogue import load_catalogue, load_practice

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")
BOARD = STOCK.board("std10")
SIZES = (5, 25, 50, 100, 200)
SEEDS = range(5)


def courses(span, width=1200):
    """Widths of the courses over a span."""
    while span > 0:
        yield min(width, span)
        span -= width


def house(number, seed):
    """A number of pieces as rooms need them: courses, some with a butt joint."""
    chance = random.Random(seed)  # noqa: S311 - invented rooms
    found = []
    while len(found) < number:
        a, b = chance.randrange(2400, 6000, 10), chance.randrange(2400, 4800, 10)
        height = chance.choice([2400, 2550, 2700])
        for length, span in ((a, b), (a, height), (b, height), (a, height), (b, height)):
            widths = list(courses(span))
            for n, width in enumerate(widths):
                at = chance.randrange(600, length - 600, 50) if chance.random() < 0.4 else 0
                found.extend(
                    Demand(
                        id="",
                        length=part,
                        width=width,
                        low="recessed" if n else "any",
                        high="recessed" if n < len(widths) - 1 else "any",
                        board=BOARD.id,
                        sheet_width=1200,
                    )
                    for part in ((at, length - at) if at else (length,))
                )
    return [replace(d, id=f"p{n}") for n, d in enumerate(found[:number])]


def middle(job, runs=5):
    """Median of several runs, ms, after one that warms up."""
    job()
    took = []
    for _ in range(runs):
        start = time.perf_counter()
        job()
        took.append(time.perf_counter() - start)
    return statistics.median(took) * 1000


def main():
    for widths in ((1200,), ()):
        print(f"\nSheet widths: {widths or 'all in stock'}")
        print("pieces      ms   bought m2  above bound  sheets  bound")
        for number in SIZES:
            took, bought, least, sheets, bound = [], 0.0, 0.0, 0, 0
            for seed in SEEDS:
                demands = house(number, seed)

                def job(demands=demands, widths=widths):
                    return plan(demands, [BOARD], {}, PACK, widths=widths)

                took.append(middle(job))
                (b,) = job().bounds
                bought += b.bought_m2
                least += b.bought_bound_m2
                sheets += b.sheets
                bound += b.edge_bound
            above = 100 * (bought / least - 1)
            print(
                f"{number:6} {statistics.mean(took):7.1f} {bought:11.2f} {above:10.1f} % "
                f"{sheets:7} {bound:6}"
            )
    stock = STOCK.linear_of("cornice")
    chance = random.Random(1)  # noqa: S311 - invented lengths
    pieces = [(f"c{n}", float(chance.randrange(500, 6000, 10))) for n in range(60)]
    took = middle(lambda: cut_linear("cornice", pieces, stock))
    used = sum(c.length for c in cut_linear("cornice", pieces, stock)[0])
    waste = 100 * (1 - sum(x for _, x in pieces) / used)
    print(f"\n60 lengths of cornice: {took:.1f} ms, {waste:.1f} % of what is bought is waste")


if __name__ == "__main__":
    main()
