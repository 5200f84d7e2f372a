"""Searches of the desk for the best: apart from their acts, so that it opens without them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from roomboard.app.document import Document
from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import Improved, OptimumError, Told, improve
from roomboard.core.optimum.limits import LimitCost, costs_of_limits
from roomboard.core.optimum.trading import Point, Stop, Tell, frontier
from roomboard.core.project import Project


@dataclass(frozen=True, kw_only=True)
class Sought:
    """What a search on the desk came to.

    Attributes:
        project: The project it was asked for.
        best: The best answer, if that was sought.
        points: The answers that trade board for butts, if those were sought.
        limits: What limits cost, if that was sought.
        ended: Whether it was stopped before its end.
        case: The project an answer below its bound came up with: a fault of the program.
    """

    project: Project
    best: Improved | None = None
    points: tuple[Point, ...] | None = None
    limits: tuple[LimitCost, ...] | None = None
    ended: bool = False
    case: Project | None = None


def seek_best(
    document: Document, effort: Effort, stop: Stop, progress: Told
) -> Callable[[], Sought]:
    """Return the job that searches for the best set-out and cutting, for a thread.

    Args:
        document: The document; not read any more afterwards.
        effort: How far to go.
        stop: Asked now and then whether to end with the best kept.
        progress: Told how far it has come.
    """
    project, stock, pack = document.project, document.catalogue, document.practice

    def found(sought: Sought) -> Sought:
        best = improve(
            project, stock, pack, effort=effort, compare=False, progress=progress, stop=stop
        )
        return replace(sought, best=best)

    return _job(project, stop, found)


def seek_points(document: Document, stop: Stop, progress: Tell) -> Callable[[], Sought]:
    """Return the job that seeks the answers that trade board for butts and lifts."""
    project, stock, pack = document.project, document.catalogue, document.practice

    def found(sought: Sought) -> Sought:
        points = frontier(project, stock, pack, stop=stop, progress=progress)
        return replace(sought, points=points)

    return _job(project, stop, found)


def seek_limits(document: Document, stop: Stop, progress: Tell) -> Callable[[], Sought]:
    """Return the job that seeks what limits cost."""
    project, stock, pack = document.project, document.catalogue, document.practice

    def found(sought: Sought) -> Sought:
        limits = costs_of_limits(project, stock, pack, stop=stop, progress=progress)
        return replace(sought, limits=limits)

    return _job(project, stop, found)


def _job(project: Project, stop: Stop, found: Callable[[Sought], Sought]) -> Callable[[], Sought]:
    """Return a search as a job: what it found, or the case that came out below its bound."""

    def job() -> Sought:
        try:
            sought = found(Sought(project=project))
        except OptimumError as fault:
            return Sought(project=project, case=fault.case)
        return replace(sought, ended=stop())

    return job
