"""What every field of a figure answers to."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from roomboard.app.document import Document
from roomboard.app.figures.figure import Figure, Put


class Field(QWidget):
    """A field of one figure.

    Attributes:
        figure: What it shows.

    Signals:
        left: The user is done here and goes back to the drawing.
    """

    left = Signal()

    def __init__(self, figure: Figure, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.figure = figure
        self._document = document
        self._sentence = ""
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(1)

    @property
    def control(self) -> QWidget:
        """What takes the focus."""
        return self

    def show_figure(self, figure: Figure) -> None:
        """Show a figure as it is now; what is being typed stays.

        Args:
            figure: The same figure of the same thing, perhaps with another value.
        """
        self.figure = figure
        self._describe(self.control)

    def _describe(self, control: QWidget) -> None:
        figure = self.figure
        name = f"{figure.label}, {figure.group}" if figure.group else figure.label
        if control.accessibleName() != name:
            control.setAccessibleName(name)
        tip = figure.tip or figure.label
        if control.toolTip() != tip:
            control.setToolTip(tip)
            control.setStatusTip(tip)
            control.setAccessibleDescription(figure.tip)

    def _put(self, put: Put | None, value: object) -> str:
        """Set the figure; return empty, or the sentence that says why it was not set."""
        if put is None:
            return ""
        return self._listen(lambda: put(value))

    def _listen(self, run: Callable[[], object]) -> str:
        """Run an edit and return what was said against it."""
        self._sentence = ""
        self._document.refused.connect(self._hear)
        try:
            run()
        finally:
            self._document.refused.disconnect(self._hear)
        return self._sentence

    def _hear(self, sentence: str) -> None:
        self._sentence = sentence
