"""A field to type in, with what was understood under it."""

from __future__ import annotations

from typing import cast

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QColor, QKeyEvent, QKeySequence, QPalette
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from roomboard.app.document import Document
from roomboard.app.figures.figure import Figure, Kind
from roomboard.app.palette import DARK, LIGHT, is_dark
from roomboard.app.panels.field import Field
from roomboard.app.words import tr

FINE = 0.1
"""Share of a step that the arrow keys go with Ctrl."""
REFUSED = "✗"


class TypedField(Field):
    """A line to type in, with what was understood under it.

    Enter takes what was typed, Esc brings the old value back, and the arrow keys nudge a
    length by a step (a tenth of it with Ctrl).

    Attributes:
        line: Where it is typed.
        echo: What was understood, or why not.
    """

    def __init__(self, figure: Figure, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(figure, document, parent)
        self.line = QLineEdit(self)
        self.echo = QLabel(self)
        self.echo.setWordWrap(True)
        self.echo.setTextFormat(Qt.TextFormat.PlainText)
        self.echo.setAccessibleName(tr("What was understood"))
        self.echo.hide()
        self._column.addWidget(self.line)
        self._column.addWidget(self.echo)
        self._typed = False
        self.line.textEdited.connect(self._read)
        self.line.returnPressed.connect(self.take)
        self.line.installEventFilter(self)
        self.show_figure(figure)

    @property
    def control(self) -> QWidget:
        """The line."""
        return self.line

    def show_figure(self, figure: Figure) -> None:
        """Show a figure as it is now; what is being typed stays."""
        super().show_figure(figure)
        self.line.setPlaceholderText(figure.empty)
        if not self._typed and self.line.text() != figure.text:
            self._write(figure.text)

    def _write(self, text: str) -> None:
        """Write a value; all of it stays selected, or the cursor where it was."""
        every = bool(text) and self.line.selectedText() == self.line.text()
        at = self.line.cursorPosition()
        self.line.setText(text)
        if every and self.line.hasFocus():
            self.line.selectAll()
        else:
            self.line.setCursorPosition(min(at, len(text)))

    def _read(self, text: str) -> None:
        self._typed = text != self.figure.text
        if not self._typed:
            self._say("")
            return
        meaning = self.figure.meaning(text)
        self._say(meaning.sentence or meaning.echo, bad=bool(meaning.sentence))

    def _say(self, text: str, *, bad: bool = False) -> None:
        self.echo.setText(f"{REFUSED} {text}" if bad else text)
        self.echo.setVisible(bool(text))
        # Told by the sign as well as by the colour.
        colour = QColor((DARK if is_dark(self) else LIGHT).barred)
        for widget, role in (
            (self.line, QPalette.ColorRole.Text),
            (self.echo, QPalette.ColorRole.WindowText),
        ):
            widget.setProperty("refused", bad)
            palette = QPalette()  # nothing of its own, so that it follows light and dark
            if bad:
                palette.setColor(role, colour)
            widget.setPalette(palette)

    @property
    def is_refused(self) -> bool:
        """Whether what stands in the line was not understood."""
        return bool(self.line.property("refused"))

    def take(self) -> bool:
        """Take what was typed; tell whether it was taken."""
        text = self.line.text()
        if text == self.figure.text:
            self._settle()
            self.line.selectAll()
            return True
        meaning = self.figure.meaning(text)
        sentence = meaning.sentence
        if meaning.run is None:
            sentence = sentence or tr("This was not understood.")
        elif not sentence:
            self._typed = False
            sentence = self._listen(meaning.run)
        if sentence:
            self._typed = True
            self._say(sentence, bad=True)
            return False
        self._settle()
        self.line.selectAll()
        return True

    def restore(self) -> None:
        """Bring the old value back."""
        self._settle()
        self.line.selectAll()

    def _settle(self) -> None:
        self._typed = False
        if self.line.text() != self.figure.text:
            self.line.setText(self.figure.text)
        self._say("")

    def nudge(self, steps: float) -> None:
        """Change a length by some steps.

        Args:
            steps: How many; less than 0 makes it less.
        """
        figure = self.figure
        if figure.kind is not Kind.LENGTH or figure.nudge is None:
            return
        if self._typed and not self.take():
            return
        value = self.figure.value
        if not isinstance(value, int | float):
            return
        wanted = max(0.0, value + steps * figure.step)
        sentence = self._put(self.figure.nudge, wanted)
        self._say(sentence, bad=bool(sentence))
        self.line.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Esc, the arrow keys, undo in a line nothing was typed into, and going away."""
        if watched is self.line:
            if event.type() == QEvent.Type.ShortcutOverride and not self._typed:
                keys = cast("QKeyEvent", event)
                undo = keys.matches(QKeySequence.StandardKey.Undo)
                if undo or keys.matches(QKeySequence.StandardKey.Redo):
                    # The line has nothing to undo, so that the keys are the window's.
                    event.ignore()
                    return True
            if event.type() == QEvent.Type.KeyPress and self._key(cast("QKeyEvent", event)):
                return True
            if event.type() == QEvent.Type.FocusOut and self._typed:
                self._leave()
        return super().eventFilter(watched, event)

    def _key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key == Qt.Key.Key_Escape:
            if self._typed or self.echo.text():
                self.restore()
            else:
                self.left.emit()
            return True
        if key in {Qt.Key.Key_Up, Qt.Key.Key_Down} and self.figure.kind is Kind.LENGTH:
            fine = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            self.nudge((1 if key == Qt.Key.Key_Up else -1) * (FINE if fine else 1.0))
            return True
        return False

    def _leave(self) -> None:
        """Take what was typed on going away; what is not understood gives way to the old value."""
        if not self.take():
            said = self.echo.text()
            self._settle()
            self.echo.setText(tr("{why} The old value stays.", why=said))
            self.echo.show()
