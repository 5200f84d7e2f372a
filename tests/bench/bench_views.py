"""How long the desk waits for a view: opened out, its search tree, a question.

Run by hand: ``.venv/bin/python tests/bench/bench_views.py``.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from roomboard.core.scheme import work_out
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.picking import Picker
from roomboard.drawing.views import LENSES
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files

TIMES = 15


def milliseconds(what):
    """The median of some runs, ms."""
    took = []
    for _ in range(TIMES):
        start = time.perf_counter()
        what()
        took.append((time.perf_counter() - start) * 1000)
    return sorted(took)[TIMES // 2]


def main():
    (path,) = resource_files("demo", ".json")
    project = load(path).project
    scheme = work_out(project, load_catalogue(project.practice), load_practice(project.practice))
    largest = max(scheme.rooms, key=lambda r: sum(len(s.set_out.pieces) for s in r.surfaces))
    print(f"{largest.room.name}: median of {TIMES} runs, ms")
    for name, lens in LENSES.items():
        for scale in (20.0, 50.0, 100.0):
            view = opened_out(largest, project.units, scale, lens.show)
            drawn = milliseconds(
                lambda s=scale, show=lens.show: opened_out(largest, project.units, s, show)
            )
            tree = milliseconds(lambda v=view: Picker(v))
            picker = Picker(view)
            asked = milliseconds(lambda p=picker: p.at((1000.0, 1000.0), 100.0))
            print(
                f"{name:>8} 1:{scale:<4.0f} {len(view.marks):6} marks"
                f"  opened out {drawn:6.1f}  search tree {tree:6.1f}  question {asked:6.3f}"
            )


if __name__ == "__main__":
    main()
