"""Trading: board against butt joints and lifts, each answer to be adopted."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import improve
from roomboard.core.optimum.presets import preset

if TYPE_CHECKING:
    from roomboard.core.optimum.improve import Improved, Optimum
    from roomboard.core.optimum.limits import LimitCost
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project, Weights
    from roomboard.core.scheme import Scheme
    from roomboard.core.stock import Catalogue

BUTT_WEIGHTS = (0.02, 0.1, 0.5, 2.0, 10.0)
"""What a metre of butt joint counts at the points of the frontier, m2 of board."""
LIGHTEST = "lightest lifts"
"""The preset that gives the frontier its answer with the lightest lifts."""
HAIR = 1e-6

Stop = Callable[[], bool]
Tell = Callable[[int, int, str], None]
"""Told how many of how many searches are done, and what is sought now."""


@dataclass(frozen=True, kw_only=True)
class Point:
    """One answer on the frontier; none on it is beaten by another in all its figures.

    Attributes:
        board_m2: What its board counts, with that for back-blocks.
        sheets: How many sheets it takes.
        butt_m: Metres of butt joint.
        lift_kg: Heaviest pieces of all surfaces, added up.
        heaviest_kg: Heaviest piece of all.
        project: The project with the choices that ask for it: to adopt it, take this one.
        scheme: It worked out, cut as was found best.
    """

    board_m2: float
    sheets: int
    butt_m: float
    lift_kg: float
    heaviest_kg: float
    project: Project
    scheme: Scheme | None = field(default=None, compare=False, repr=False)

    @property
    def figures(self) -> tuple[float, float, float]:
        """What one answer can have less of than another: board, butts, the heaviest piece."""
        return (round(self.board_m2, 6), round(self.butt_m, 6), round(self.heaviest_kg, 6))


@dataclass(frozen=True, kw_only=True)
class Trade:
    """What is known of the best for one project: how good, what else there is, what limits cost.

    Attributes:
        optimum: How good the answer at the project's own weights is, or None if not sought.
        points: The frontier, from the least board on; empty if not sought.
        limits: What limits cost; empty if not sought or if there are none.
        complete: Whether nothing was stopped before its end.
    """

    optimum: Optimum | None = None
    points: tuple[Point, ...] = ()
    limits: tuple[LimitCost, ...] = ()
    complete: bool = True


def frontier(
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    *,
    effort: Effort = Effort.THOROUGH,
    stop: Stop | None = None,
    progress: Tell | None = None,
) -> tuple[Point, ...]:
    """Return answers from the least board to the fewest butts and the lightest piece.

    Args:
        project: What was measured and chosen.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        effort: How far to go for each.
        stop: Asked now and then whether to end with what was found.
        progress: Told before each search and at the end.
    """
    found: list[Point] = []
    asked = list(_weights(project.weights))
    for number, (words, weights) in enumerate(asked):
        if stop is not None and stop():
            break
        if progress is not None:
            progress(number, len(asked), words)
        other = replace(project, weights=weights)
        best = improve(
            other, catalogue, practice, effort=effort, compare=False, bounded=False, stop=stop
        )
        found.append(point_of(best, project))
    if progress is not None:
        progress(len(asked), len(asked), "")
    return unbeaten(found)


def _weights(own: Weights) -> Iterator[tuple[str, Weights]]:
    """Yield the weights of each search, with what is sought by them in words."""
    for number, butt in enumerate(BUTT_WEIGHTS, 1):
        yield f"board against butts, {number} of {len(BUTT_WEIGHTS)}", replace(own, butt=butt)
    yield LIGHTEST, preset(LIGHTEST)


def unbeaten(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the points that no other beats, from the least board on; of equal ones the first."""
    kept: list[Point] = []
    seen: set[tuple[float, float, float]] = set()
    for point in points:
        own = point.figures
        beaten = any(
            o.figures != own and all(a <= b for a, b in zip(o.figures, own, strict=True))
            for o in points
        )
        if not beaten and own not in seen:
            kept.append(point)
            seen.add(own)
    return tuple(sorted(kept, key=lambda p: p.figures))


def point_of(best: Improved, project: Project) -> Point:
    """Return an answer as a point of the frontier.

    Args:
        best: The answer.
        project: The project it was sought for, whose weights stay.
    """
    cost, scheme = best.optimum.cost, best.scheme
    own = replace(best.project, weights=project.weights)
    pieces = [p for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces]
    return Point(
        board_m2=cost.amount("board") + cost.amount("block_board"),
        sheets=len(scheme.cut_plan.sheets),
        butt_m=cost.amount("butt"),
        lift_kg=cost.amount("lift"),
        heaviest_kg=max((p.mass_kg for p in pieces), default=0.0),
        project=own,
        scheme=replace(scheme, project=own, optimum=None),
    )
