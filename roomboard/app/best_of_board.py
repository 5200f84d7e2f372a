"""Best of board on the desk: what counts, opening its panel, and taking up what was found."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.document import Document
from roomboard.app.words import tr
from roomboard.core.adopting import without_cutting
from roomboard.core.editing.jobs import set_weights
from roomboard.core.optimum.presets import preset

if TYPE_CHECKING:
    from roomboard.app.window import Window
    from roomboard.core.optimum.trading import Trade
    from roomboard.core.project import Weights
    from roomboard.core.scheme import Scheme


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
