"""Trading: board against butt joints, and what a limit the user set costs, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import improve
from roomboard.core.units import write_area, write_run

if TYPE_CHECKING:
    from roomboard.core.optimum.improve import Improved
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project
    from roomboard.core.stock import Catalogue

BUTT_WEIGHTS = (0.02, 0.1, 0.5, 2.0, 10.0)
"""What a metre of butt joint counts at the points of the frontier, m2 of board."""
HAIR = 1e-6

Stop = Callable[[], bool]


@dataclass(frozen=True, kw_only=True)
class Point:
    """One answer on the frontier; no other on it has both less board and fewer butts.

    Attributes:
        board_m2: What its board counts, with that for back-blocks.
        butt_m: Metres of butt joint.
        lift_kg: Heaviest pieces of all surfaces, added up.
        project: The project with the choices that ask for it: to adopt it, take this one.
    """

    board_m2: float
    butt_m: float
    lift_kg: float
    project: Project


def frontier(
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    *,
    effort: Effort = Effort.THOROUGH,
    stop: Stop | None = None,
) -> tuple[Point, ...]:
    """Return answers from the least board to the fewest butts, none beaten by another.

    Args:
        project: What was measured and chosen.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        effort: How far to go for each.
        stop: Asked now and then whether to end with what was found.
    """
    found: list[Point] = []
    for butt in BUTT_WEIGHTS:
        if stop is not None and stop():
            break
        asked = replace(project, weights=replace(project.weights, butt=butt))
        best = improve(asked, catalogue, practice, effort=effort, compare=False, stop=stop)
        found.append(_point(best, project))
    found.sort(key=lambda p: (round(p.board_m2, 6), round(p.butt_m, 6), round(p.lift_kg, 6)))
    kept: list[Point] = []
    for point in found:
        if not kept or point.butt_m < kept[-1].butt_m - HAIR:
            kept.append(point)
    return tuple(kept)


def _point(best: Improved, project: Project) -> Point:
    cost = best.optimum.cost
    return Point(
        board_m2=cost.amount("board") + cost.amount("block_board"),
        butt_m=cost.amount("butt"),
        lift_kg=cost.amount("lift"),
        project=replace(best.project, weights=project.weights),
    )


@dataclass(frozen=True, kw_only=True)
class LimitCost:
    """What one limit costs.

    Attributes:
        limit: What it is, in words.
        cost: By how much the answer found with it costs more, m2 of board; below 0 where the
            search without it did not find as good an answer.
        butt_m: Metres of butt joint more with it.
        board_m2: Board more with it, m2.
        words: The difference in a sentence.
    """

    limit: str
    cost: float
    butt_m: float
    board_m2: float
    words: str


def costs_of_limits(
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    *,
    effort: Effort = Effort.THOROUGH,
    stop: Stop | None = None,
) -> tuple[LimitCost, ...]:
    """Say what the carry-in limit and what is locked cost: the job is solved again without.

    Args:
        project: What was measured and chosen.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        effort: How far to go for each.
        stop: Asked now and then whether to end with what was found.
    """
    freed = list(_without(project))
    if not freed:
        return ()
    own = improve(project, catalogue, practice, effort=effort, compare=False, stop=stop)
    found: list[LimitCost] = []
    for limit, without in freed:
        if stop is not None and stop():
            break
        other = improve(without, catalogue, practice, effort=effort, compare=False, stop=stop)
        found.append(_difference(limit, own, other, project))
    return tuple(found)


def _without(project: Project) -> Iterator[tuple[str, Project]]:
    """Yield each limit that the project has, with the project without it."""
    carried = tuple(replace(r, carry_in=0.0) for r in project.rooms)
    if carried != project.rooms:
        yield "the carry-in limit", replace(project, rooms=carried)
    free = tuple(
        replace(r, choices=tuple(replace(c, butts=(), first_course=()) for c in r.choices))
        for r in project.rooms
    )
    if free != project.rooms:
        yield "what is locked", replace(project, rooms=free)
    lengths = replace(project.choices, sheet_lengths=(), sheet_widths=())
    if lengths != project.choices:
        yield "the choice of sheet sizes", replace(project, choices=lengths)


def _difference(limit: str, own: Improved, other: Improved, project: Project) -> LimitCost:
    with_, without = _point(own, project), _point(other, project)
    butt, board = with_.butt_m - without.butt_m, with_.board_m2 - without.board_m2
    cost = own.optimum.cost.total - other.optimum.cost.total
    more: list[str] = []
    less: list[str] = []
    for amount, text in (
        (butt, f"{write_run(abs(butt) * 1000, project.units)} of butt joint"),
        (board, f"{write_area(abs(board), project.units)} of board"),
    ):
        if abs(amount) > HAIR:
            (more if amount > 0 else less).append(text)
    head = limit[0].upper() + limit[1:]
    words = f"{head} costs {' and '.join(more)}" if more else f"{head} costs no board and no butts"
    if less:
        words += f", and saves {' and '.join(less)}"
    return LimitCost(limit=limit, cost=cost, butt_m=butt, board_m2=board, words=f"{words}.")
