"""Changing a dimension where it is drawn: click it, type another length, press Enter."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from roomboard.app.desk import Desk
from roomboard.app.figures import figures_of
from roomboard.app.figures.dimensions import dimension_figure
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.naming import named_in_hand
from roomboard.app.gestures.doing import ENTERS, Answer, Ask
from roomboard.app.words import tr

BEGINS_LENGTH = frozenset("0123456789.,")
"""What a length begins with; every other key keeps its meaning until one of these is typed."""


class ChangeDimension(Ask):
    """Takes another length for the dimension that is held; anything else leaves it as it is."""

    cursor = Qt.CursorShape.ArrowCursor
    yields = True

    def __init__(self, desk: Desk, figure: Figure) -> None:
        name = named_in_hand(desk)
        hint = tr(
            "{name}, now {length}: type another one and press Enter; Esc leaves it.",
            name=name.title,
            length=figure.text,
        )
        super().__init__(desk, hint, lambda text: _meant(desk, figure, text))

    def takes(self, text: str) -> bool:
        """Tell whether a key begins a length."""
        return text in BEGINS_LENGTH

    def key(self, event: QKeyEvent) -> bool:
        """Enter with nothing typed leaves the length as it is."""
        if Qt.Key(event.key()) in ENTERS:
            self.cancel()
            return True
        return False


def change_dimension(desk: Desk) -> ChangeDimension | None:
    """Return the gesture that changes the dimension that is held, or None where none is.

    Args:
        desk: The desk.
    """
    figure = dimension_figure(desk, desk.held, figures_of(desk, desk.held))
    return ChangeDimension(desk, figure) if figure is not None else None


def _meant(desk: Desk, figure: Figure, text: str) -> Answer:
    meaning = figure.meaning(text)
    run = meaning.run
    if meaning.sentence or run is None:
        return meaning.sentence or tr("This was not understood.")
    document = desk.document

    def change() -> str:
        said: list[str] = []
        document.refused.connect(said.append)
        try:
            run()
        finally:
            document.refused.disconnect(said.append)
        return said[-1] if said else ""

    return meaning.echo, change
