"""Recutting: given pieces cut anew by patterns, where that is cheaper than the usual way."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.cutting.packing import OpenSheet, shrink
from roomboard.core.cutting.wants import Job, to_m2
from roomboard.core.optimum.coarse import solve
from roomboard.core.optimum.filling import filled
from roomboard.core.optimum.master import Depth, Problem, Watch
from roomboard.core.optimum.plates import Item
from roomboard.core.optimum.together import kind_of_demand, needs_of, sheets_of
from roomboard.core.optimum.tree import Leaf, Split, Tree

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
        blocks: By board id, area of the back-blocks that are to be cut from what is left over,
            m2; with any, more board is bought at once where that leaves them room.
    """

    project: Project
    depth: Depth
    watch: Watch
    known: Mapping[str, Known] = field(default_factory=dict)
    blocks: Mapping[str, float] = field(default_factory=dict)

    def __call__(self, job: Job, usual: list[OpenSheet]) -> list[OpenSheet]:
        """Return the cheapest way of cutting a board's pieces that is known.

        Args:
            job: What is cut from the board.
            usual: How it would usually be cut.
        """
        own = by_kind(job)
        kinds = list(own)
        found = [usual]
        chosen = self.known.get(job.board.id)
        if chosen is not None:
            found += _as_sheets(job, kinds, own, chosen)
        problem = problem_of(job, own, self.project)
        costs = [s.cost for s in problem.sheets]

        def cost(opens: Sequence[OpenSheet]) -> tuple[float, int]:
            return (round(math.fsum(costs[s.size] for s in opens), 6), len(opens))

        least = min(map(cost, found))[0]
        blocks = self.blocks.get(job.board.id, 0.0)
        if blocks:
            problem.areas = [to_m2(i.length * i.width) for i in problem.items]
            problem.blocks = blocks
            least = math.inf
        answer, unit = solve(problem, self.depth, self.watch, least)
        trees = [(size, pattern.tree) for size, pattern in answer.sheets]
        anew = filled(job, trees, [own[k] for k in kinds], unit) if trees else None
        if anew is not None:
            if blocks:
                return anew
            shrink(job, anew)
            found.append(anew)
        return min(found, key=cost)


def by_kind(job: Job) -> dict[Kind, list[int]]:
    """Return the wants of a job by kind, in the order they come."""
    own: dict[Kind, list[int]] = {}
    for n, want in enumerate(job.wants):
        own.setdefault(kind_of_demand(want.demand), []).append(n)
    return own


def problem_of(job: Job, own: Mapping[Kind, Sequence[int]], project: Project) -> Problem:
    """Return the problem of cutting a board's pieces.

    Args:
        job: What is cut from the board.
        own: Its wants by kind.
        project: The job, for its weights and prices.
    """
    firsts = [job.wants[wants[0]] for wants in own.values()]
    counts = [len(wants) for wants in own.values()]
    return Problem(
        items=[
            Item(w.length, w.width, *needs_of(w), limit=n)
            for w, n in zip(firsts, counts, strict=True)
        ],
        sheets=sheets_of(job, firsts, project),
        recess=job.recess,
        asked=counts,
    )


@dataclass(slots=True)
class EdgeRule:
    """Cuts as usual and keeps how much board the pieces take with and without the edge rule.

    Attributes:
        project: The job, for its prices.
        depth: How far to search.
        watch: Who looks on.
        with_rule: Least board found, m2; filled in.
        without: The same where any edge serves; filled in.
    """

    project: Project
    depth: Depth
    watch: Watch
    with_rule: float = 0.0
    without: float = 0.0

    def __call__(self, job: Job, usual: list[OpenSheet]) -> list[OpenSheet]:
        """Solve a board's pieces both ways; return how they would usually be cut."""
        by_board = replace(self.project, weights=replace(self.project.weights, board=1.0))
        problem = problem_of(job, by_kind(job), by_board)
        known = math.fsum(problem.sheets[s.size].cost for s in usual)
        held, _ = solve(problem, self.depth, self.watch, known)
        least = min(known, held.value)
        problem.items = [i._replace(recessed=0, cut=0) for i in problem.items]
        free, _ = solve(problem, self.depth, self.watch, least)
        self.with_rule += least
        self.without += min(least, free.value)
        return usual


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
