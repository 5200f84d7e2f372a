"""The line under the canvas: lengths, sizes and rooms are typed here, with an echo."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.canvas.canvas import Canvas
from roomboard.app.desk import Desk
from roomboard.app.examples import LINE, in_units
from roomboard.app.gestures.gesture import Gesture
from roomboard.app.reading import Meaning, meaning
from roomboard.app.words import tr

IDLE = "Press T and type a room, joists, or a length of what is held:"
"""What the line is for while nothing goes on."""
ROUND = 40
"""What a line takes round its text, with the button that clears it, pixels."""
OVER = 3
"""The echo begins as far under the top of its line as what is typed, pixels."""
LINES = 3
"""How many lines of an echo are seen; its tip has all of it."""


class Entry(QWidget):
    """What is typed goes to the gesture going on, or is read as an instruction.

    Attributes:
        line: Where it is typed.
        echo: What was understood, or why not.

    Signals:
        taken: The text that was taken.
    """

    taken = Signal(str)

    def __init__(self, desk: Desk, canvas: Canvas, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._canvas = canvas
        self._gesture: Gesture | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 2, 6, 3)
        column.setSpacing(1)
        row = QHBoxLayout()
        self.hint = QLabel(self)
        # It keeps its room while there is none: the drawing must not move as a drag begins.
        keeps = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        keeps.setRetainSizeWhenHidden(True)
        self.hint.setSizePolicy(keeps)
        self.hint.setFixedHeight(self.fontMetrics().lineSpacing() + 2)
        self.line = QLineEdit(self)
        self.line.setClearButtonEnabled(True)
        self.line.setAccessibleName(tr("Type a length, a size or a room"))
        self.line.setToolTip(
            tr("A length of what is held, joists, or a room; Enter takes it, Esc clears it (T).")
        )
        widest = self.fontMetrics().horizontalAdvance(LINE)
        self.line.setMinimumWidth(widest + ROUND)
        self.echo = QLabel(self)
        self.echo.setTextFormat(Qt.TextFormat.PlainText)
        self.echo.setWordWrap(True)
        self.echo.setAccessibleName(tr("What was understood"))
        # Its height stays, so that the drawing over it does not move while someone types.
        self.echo.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.echo.setFixedHeight(LINES * self.fontMetrics().lineSpacing() + OVER + 2)
        column.addWidget(self.hint)
        column.addLayout(row)
        # What finds no room is cut off below, never the beginning.
        self.echo.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.echo.setContentsMargins(2, OVER, 0, 0)
        row.addWidget(self.line, 2, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.echo, 3, Qt.AlignmentFlag.AlignTop)
        self.line.textChanged.connect(self._read)
        self.line.returnPressed.connect(self._take)
        self.line.installEventFilter(self)
        canvas.typing.connect(self.begin)
        canvas.gesture_changed.connect(self._follow)
        desk.document.project_changed.connect(self._give_examples)
        self._give_examples()
        self._follow()

    def _give_examples(self) -> None:
        self.line.setPlaceholderText(in_units(LINE, self._desk.document.project.units))

    def begin(self, text: str = "") -> None:
        """Put the cursor into the line, with what was typed already."""
        self.line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if text:
            self.line.setText(text)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Esc clears the line first, then goes back to the canvas; a gesture has its own keys."""
        if (
            watched is not self.line
            or not isinstance(event, QKeyEvent)
            or event.type() != QEvent.Type.KeyPress
        ):
            return super().eventFilter(watched, event)
        if self._canvas.gesture is not None and self._for_gesture(event):
            return True
        if event.key() == Qt.Key.Key_Escape:
            if self.line.text():
                self.line.clear()
            else:
                self._canvas.setFocus()
                if self._canvas.gesture is not None:
                    self._canvas.keyPressEvent(event)
            return True
        return super().eventFilter(watched, event)

    def _for_gesture(self, event: QKeyEvent) -> bool:
        """Give the gesture going on the keys that mean nothing in a line of text."""
        key, text = Qt.Key(event.key()), self.line.text()
        if key == Qt.Key.Key_Tab:
            said = self._canvas.swap_text(text)
            if said:
                self._say(said, good=False)
            elif said is not None:
                self.line.clear()
            return said is not None
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        upright = key in {Qt.Key.Key_Up, Qt.Key.Key_Down}
        level = key in {Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Backspace}
        if upright or (level and not text):
            self._canvas.keyPressEvent(event)
            return True
        return False

    def _meaning(self, text: str) -> Meaning:
        gesture = self._canvas.gesture
        if gesture is not None:
            echo, good = gesture.echo(text)
            echo = echo.replace("\n", ", ")  # beside the pointer it stands in lines
            self._canvas.update()
            return Meaning(echo=echo, sentence="" if good else echo)
        return meaning(self._desk, text)

    def _read(self, text: str) -> None:
        if not text.strip():
            if self._canvas.gesture is not None:
                self._canvas.gesture.echo("")
                self._canvas.update()
            self._say("", good=True)
            return
        said = self._meaning(text)
        self._say(said.sentence or said.echo, good=not said.sentence)

    def _say(self, text: str, *, good: bool) -> None:
        self.echo.setToolTip(text)
        self.echo.setText(text if good else f"✗ {text}")
        # Told by the sign as well as by the colour.
        for widget in (self.line, self.echo):
            widget.setProperty("refused", not good)
            widget.style().unpolish(widget)
            widget.style().polish(widget)

    def _take(self) -> None:
        text = self.line.text()
        if self._canvas.gesture is not None:
            refusal = self._canvas.take_text(text)
            if refusal:
                self._say(refusal, good=False)
                return
            self._canvas.setFocus()  # keys and what is typed next go on from there
        elif text.strip():
            found = meaning(self._desk, text)
            if found.sentence or found.run is None:
                self._say(found.sentence or tr("This was not understood."), good=False)
                return
            before = self._desk.document.project
            found.run()
            if self._desk.document.project is not before:
                # Not every lens shows what was typed: what came of it is said.
                done = found.echo.removeprefix("= ")
                self._desk.say(f"{done[:1].upper()}{done[1:]}")
        self.line.clear()
        self.taken.emit(text)

    def _follow(self) -> None:
        gesture = self._canvas.gesture
        if gesture is not self._gesture:
            self._gesture = gesture
            self.line.clear()  # what stands there was meant for something else
        self.hint.setText(gesture.hint if gesture is not None else tr(IDLE))
        self.hint.setVisible(bool(self.hint.text()))
        self._read(self.line.text())
