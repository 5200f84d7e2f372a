"""Best of board on the desk: the search for the least cost, and taking up what it found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.document import Document
from roomboard.app.words import tr
from roomboard.core.adopting import without_cutting
from roomboard.core.editing.jobs import set_weights
from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import Improved, OptimumError, Told, improve
from roomboard.core.optimum.limits import LimitCost, costs_of_limits
from roomboard.core.optimum.presets import preset
from roomboard.core.optimum.trading import Point, Stop, Tell, Trade, frontier
from roomboard.core.project import Project, Weights
from roomboard.core.scheme import Scheme

if TYPE_CHECKING:
    from roomboard.app.window import Window


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


def weigh_by(document: Document, weights: Weights, words: str = "") -> bool:
    """Let other weights count; tell whether anything changed.

    Args:
        document: The document.
        weights: The weights.
        words: Name of the preset they come from, or empty.
    """
    said = tr("Weigh by {preset}", preset=words) if words else tr("Change what counts")
    return document.attempt(
        said, lambda p: set_weights(p, weights), merge="" if words else "weights"
    )


def weigh_by_preset(document: Document, name: str) -> bool:
    """Let the weights of a preset count."""
    return weigh_by(document, preset(name), name)


def take_up(document: Document, words: str, found: Scheme, trade: Trade) -> bool:
    """Take up an answer, with what is known of the best.

    Args:
        document: The document.
        words: What that does, for the undo list.
        found: The answer.
        trade: What is known of the job.
    """
    return document.take_found(words, replace(found, trade=trade))


def acts(window: Window) -> list[Act]:
    """Return the acts that open the panel, and that drop what was taken up."""
    return [
        Act(
            id="sheets.best_of_board",
            menu="Sheets",
            words="Best of board …",
            run=lambda: show_best(window),
            keys="Ctrl+Shift+B",
            tip="Search for the least board and the fewest joints of the whole job, with proof.",
            parted=True,
        ),
        Act(
            id="sheets.cut_as_usual",
            menu="Sheets",
            words="Cut the usual way",
            run=lambda: cut_as_usual(window.document),
            tip="Drop the cutting that was taken up from a search; the set-outs stay.",
            enabled=lambda: bool(window.document.project.cutting),
        ),
    ]


def cut_as_usual(document: Document) -> bool:
    """Drop the cutting that was taken up; tell whether anything changed."""
    return document.attempt(tr("Cut the usual way"), without_cutting)


def show_best(window: Window) -> None:
    """Open the panel."""
    from roomboard.app.dialogs.best_of_board import BestOfBoard

    panel = window.findChild(BestOfBoard) or BestOfBoard(window)
    panel.open_up()
