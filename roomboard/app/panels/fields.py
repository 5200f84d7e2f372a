"""One field for each kind of figure: typed, chosen, ticked or only told."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLabel, QSizePolicy, QWidget

from roomboard.app.document import Document
from roomboard.app.figures.figure import Figure, Kind
from roomboard.app.panels.field import Field
from roomboard.app.panels.tick import Tick
from roomboard.app.panels.typed_field import TypedField
from roomboard.app.words import tr

__all__ = ["ChoiceField", "Field", "FlagField", "ToldField", "TypedField", "field_of"]


class ChoiceField(Field):
    """A choice among options."""

    def __init__(self, figure: Figure, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(figure, document, parent)
        self.box = QComboBox(self)
        self.box.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.box.setMinimumContentsLength(10)
        self.box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.box.installEventFilter(self)
        self._column.addWidget(self.box)
        self.box.activated.connect(self._choose)
        self.show_figure(figure)

    @property
    def control(self) -> QWidget:
        """The box."""
        return self.box

    def show_figure(self, figure: Figure) -> None:
        """Show the option chosen now."""
        super().show_figure(figure)
        words = [words for _, words in figure.options]
        if [self.box.itemText(i) for i in range(self.box.count())] != words:
            self.box.clear()
            self.box.addItems(words)
        index = next((i for i, (v, _) in enumerate(figure.options) if v == figure.value), -1)
        if self.box.currentIndex() != index:
            self.box.setCurrentIndex(index)

    def _choose(self, index: int) -> None:
        if self._put(self.figure.put, self.figure.options[index][0]):
            self.show_figure(self.figure)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The wheel scrolls the panel, not the choice; Esc goes back to the drawing."""
        if watched is self.box:
            if event.type() == QEvent.Type.Wheel and not self.box.hasFocus():
                event.ignore()
                return True
            if (
                event.type() == QEvent.Type.KeyPress
                and cast("QKeyEvent", event).key() == Qt.Key.Key_Escape
            ):
                self.left.emit()
                return True
        return super().eventFilter(watched, event)


class FlagField(Field):
    """Something that is so or not."""

    def __init__(self, figure: Figure, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(figure, document, parent)
        self.box = Tick(self)
        self.box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.box.installEventFilter(self)
        self._column.addWidget(self.box)
        self.box.clicked.connect(self._choose)
        self.show_figure(figure)

    @property
    def control(self) -> QWidget:
        """The box."""
        return self.box

    def show_figure(self, figure: Figure) -> None:
        """Show whether it is so."""
        super().show_figure(figure)
        value = bool(figure.value)
        self.box.setText(tr("yes") if value else tr("no"))
        if self.box.isChecked() != value:
            self.box.setChecked(value)

    def _choose(self, on: bool) -> None:  # noqa: FBT001 - the signal's own argument
        self._put(self.figure.put, on)
        self.show_figure(self.figure)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter turns it over, Esc goes back to the drawing."""
        if watched is self.box and event.type() == QEvent.Type.KeyPress:
            key = cast("QKeyEvent", event).key()
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
                self.box.click()
                return True
            if key == Qt.Key.Key_Escape:
                self.left.emit()
                return True
        return super().eventFilter(watched, event)


class ToldField(Field):
    """Something that is only told; it can be selected and copied with the mouse."""

    def __init__(self, figure: Figure, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(figure, document, parent)
        self.words = QLabel(self)
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._column.addWidget(self.words)
        self.show_figure(figure)

    @property
    def control(self) -> QWidget:
        """The words."""
        return self.words

    def show_figure(self, figure: Figure) -> None:
        """Tell the value as it is now."""
        super().show_figure(figure)
        if self.words.text() != figure.text:
            self.words.setText(figure.text)


def field_of(figure: Figure, document: Document, parent: QWidget | None = None) -> Field:
    """Return a field for a figure.

    Args:
        figure: What it shows.
        document: Whose refusals it listens to.
        parent: Where it lies.
    """
    if figure.kind is Kind.TOLD:
        return ToldField(figure, document, parent)
    if figure.kind is Kind.CHOICE:
        return ChoiceField(figure, document, parent)
    if figure.kind is Kind.FLAG:
        return FlagField(figure, document, parent)
    return TypedField(figure, document, parent)
