"""The same problem given to another solver: set-outs and every pattern that could matter.

It runs in a process of its own: both solvers bring parts of the same names.
"""

import json
import math
import subprocess
import sys
import time
from pathlib import Path

SCALE = 100_000
"""Costs and factors are whole numbers there: so many to one."""
MANY = 10_000
"""No unknown is larger."""


def solved(search, seconds=60.0):
    """Value, whether it was proven, and processor time of the other solver on a search's programme.

    Args:
        search: A search that has run: its programme holds every pattern of its pool.
        seconds: How long the other solver may take.
    """
    programme = search.programme
    given = {
        "columns": [
            (c.cost, 1 if c.most == 1.0 else MANY, c.whole, sorted(c.rows.items()))
            for c in programme.columns
        ],
        "rows": [
            (r.least if math.isfinite(r.least) else None, r.most if math.isfinite(r.most) else None)
            for r in programme.rows
        ],
        "seconds": seconds,
    }
    run = subprocess.run(
        [sys.executable, str(Path(__file__))],
        input=json.dumps(given),
        capture_output=True,
        text=True,
        check=True,
    )
    value, proven, took = json.loads(run.stdout)
    return (math.inf if value is None else value), proven, took


def whole(value):
    return round(value * SCALE)


def main():
    from ortools.sat.python import cp_model

    given = json.loads(sys.stdin.read())
    model = cp_model.CpModel()
    sums = [[] for _ in given["rows"]]
    costs = []
    for n, (cost, most, is_whole, rows) in enumerate(given["columns"]):
        parts = 1 if is_whole else 1000  # others are counted in thousandths
        unknown = model.new_int_var(0, most * parts, f"x{n}")
        costs.append(whole(cost / parts) * unknown)
        for row, factor in rows:
            sums[row].append(whole(factor / parts) * unknown)
    for (least, most), own in zip(given["rows"], sums, strict=True):
        if least is not None:
            model.add(sum(own) >= whole(least) - 1)
        if most is not None:
            model.add(sum(own) <= whole(most) + 1)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 0
    solver.parameters.max_time_in_seconds = given["seconds"]
    begun = time.process_time()
    status = solver.solve(model)
    took = time.process_time() - begun
    found = status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
    value = solver.objective_value / SCALE if found else None
    sys.stdout.write(json.dumps((value, status == cp_model.OPTIMAL, took)))


if __name__ == "__main__":
    main()
