"""Recutting: given pieces cut anew by patterns, where that is cheaper than the usual way."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.cutting.packing import OpenSheet, shrink
from roomboard.core.cutting.wants import Job
from roomboard.core.optimum.coarse import solve
from roomboard.core.optimum.filling import filled
from roomboard.core.optimum.master import Depth, Problem, Watch
from roomboard.core.optimum.plates import Item, Leaf, Split, Tree
from roomboard.core.optimum.together import kind_of_demand, needs_of, sheets_of

if TYPE_CHECKING:
    from roomboard.core.optimum.ways import Kind
    from roomboard.core.project import Project


class Known(NamedTuple):
    """Sheets chosen together with the set-outs.

    Attributes:
        kinds: The kinds their leaves name.
        sheets: Stock size and cuts of each.
        unit: How many hundredths of a mm one of their lengths is.
    """

    kinds: tuple[Kind, ...]
    sheets: tuple[tuple[int, Tree | None], ...]
    unit: int


@dataclass(slots=True)
class Recut:
    """Cuts the pieces of each board, and keeps what was found out about them.

    Attributes:
        project: The job, for its weights and prices.
        depth: How far to search.
        watch: Who looks on.
        known: By board id, sheets that were chosen with the set-outs.
        bounds: By board id, the least the pieces' sheets can cost; filled in.
    """

    project: Project
    depth: Depth
    watch: Watch
    known: Mapping[str, Known] = field(default_factory=dict)
    bounds: dict[str, float] = field(default_factory=dict)

    def __call__(self, job: Job, usual: list[OpenSheet]) -> list[OpenSheet]:
        """Return the cheapest way of cutting a board's pieces that is known.

        Args:
            job: What is cut from the board.
            usual: How it would usually be cut.
        """
        kinds: list[Kind] = []
        own: dict[Kind, list[int]] = {}
        for n, want in enumerate(job.wants):
            kind = kind_of_demand(want.demand)
            if kind not in own:
                kinds.append(kind)
            own.setdefault(kind, []).append(n)
        found = [usual]
        chosen = self.known.get(job.board.id)
        if chosen is not None:
            found += _as_sheets(job, kinds, own, chosen)
        sheets = sheets_of(job, [job.wants[own[k][0]] for k in kinds], self.project)
        costs = [s.cost for s in sheets]

        def cost(opens: Sequence[OpenSheet]) -> tuple[float, int]:
            return (round(math.fsum(costs[s.size] for s in opens), 6), len(opens))

        problem = Problem(
            items=[
                Item(w.length, w.width, *needs_of(w), limit=len(own[k]))
                for k, w in ((k, job.wants[own[k][0]]) for k in kinds)
            ],
            sheets=sheets,
            recess=job.recess,
            asked=[len(own[k]) for k in kinds],
        )
        answer, unit = solve(problem, self.depth, self.watch, min(map(cost, found))[0])
        self.bounds[job.board.id] = min(answer.bound, min(map(cost, found))[0])
        trees = [(size, pattern.tree) for size, pattern in answer.sheets]
        anew = filled(job, trees, [own[k] for k in kinds], unit) if trees else None
        if anew is not None:
            shrink(job, anew)
            found.append(anew)
        return min(found, key=cost)


def _as_sheets(
    job: Job, kinds: Sequence[Kind], own: Mapping[Kind, Sequence[int]], chosen: Known
) -> list[list[OpenSheet]]:
    """Return the sheets chosen with the set-outs, if they hold all the pieces there are."""
    number = {kind: n for n, kind in enumerate(kinds)}
    names = [number.get(k, -1) for k in chosen.kinds]

    def renamed(tree: Tree | None) -> Tree | None:
        if tree is None:
            return None
        if isinstance(tree, Leaf):
            return Leaf(names[tree.item]) if names[tree.item] >= 0 else None
        return Split(tree.rip, tree.at, renamed(tree.first), renamed(tree.second))

    trees = [(size, renamed(tree)) for size, tree in chosen.sheets]
    opens = filled(job, trees, [own[k] for k in kinds], chosen.unit)
    if opens is None:
        return []
    shrink(job, opens)
    return [opens]
