"""Questions and news over the canvas: a sentence with its answers, never a box in the way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.window import Window


def _nothing() -> None:
    """Leave everything as it is."""


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One answer to a question.

    Attributes:
        id: Stable name among the answers of its question.
        words: What its button says.
        run: Does it; the question is gone by then.
        tip: One sentence, or empty.
    """

    id: str
    words: str
    run: Callable[[], object] = _nothing
    tip: str = ""


class Question(QFrame):
    """One sentence with its answers; Esc gives the last of them.

    Attributes:
        key: What it is about.
        sentence: What it says.
        last: Id of the answer that changes least.
    """

    def __init__(
        self,
        key: str,
        sentence: str,
        answers: Sequence[Answer],
        close: Callable[[], None],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.key = key
        self.sentence = sentence
        self._answers = {a.id: a for a in answers}
        self.last = answers[-1].id
        self._close = close
        self.setObjectName(key)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAccessibleName(sentence)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        said = QLabel(sentence, self)
        said.setTextFormat(Qt.TextFormat.PlainText)
        said.setWordWrap(True)
        said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        row.addWidget(said, 1)
        self.buttons: dict[str, QPushButton] = {}
        for answer in answers:
            button = QPushButton(answer.words, self)
            button.setObjectName(f"{key}.{answer.id}")
            button.setAccessibleName(answer.words)
            button.setToolTip(answer.tip or answer.words)
            button.setAutoDefault(True)
            button.clicked.connect(_giver(self, answer.id))
            row.addWidget(button)
            self.buttons[answer.id] = button

    def give(self, answer: str) -> None:
        """Give an answer.

        Args:
            answer: Its id.
        """
        self._close()
        self._answers[answer].run()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc gives the last answer, which is the one that changes least."""
        if event.key() == Qt.Key.Key_Escape:
            self.give(self.last)
        else:
            super().keyPressEvent(event)


def _giver(question: Question, answer: str) -> Callable[[], None]:
    return lambda: question.give(answer)


class Asking(QFrame):
    """Where the questions of a window stand: over the canvas, one under the other."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.setObjectName("asking")
        self._window = window
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(1)
        self._questions: dict[str, Question] = {}
        self._progress: Progress | None = None
        self.hide()

    def ask(
        self, key: str, sentence: str, answers: Sequence[Answer], *, focus: bool = True
    ) -> Question:
        """Ask something; a question about the same is replaced.

        Args:
            key: What it is about.
            sentence: The question.
            answers: Answers, the most likely first, the one that changes least last.
            focus: Whether it takes the keys; not where nobody asked for anything.
        """
        self._take(key)
        question = Question(key, sentence, answers, lambda: self.drop(key), self)
        self._questions[key] = question
        self._column.addWidget(question)
        self.show()
        if focus:
            question.buttons[answers[0].id].setFocus(Qt.FocusReason.OtherFocusReason)
        return question

    def tell(self, key: str, sentence: str) -> Question:
        """Say something that stays until it is read."""
        return self.ask(key, sentence, (Answer(id="read", words=tr("Understood")),), focus=False)

    def asked(self, key: str) -> Question | None:
        """Return the open question about something, or None."""
        return self._questions.get(key)

    def dismiss(self, prefix: str) -> None:
        """Give every question about something the answer that changes least.

        Args:
            prefix: What their keys begin with.
        """
        for key in [k for k in self._questions if k.startswith(prefix)]:
            question = self._questions[key]
            question.give(question.last)

    def drop(self, key: str) -> None:
        """Take a question away unanswered."""
        if self._take(key) and not self._questions:
            self._window.canvas.setFocus()
        self._hide_if_empty()

    def progress(self, words: str, give_up: Callable[[], None]) -> Progress:
        """Show that something is being made, with a way to give it up.

        Args:
            words: What is being made.
            give_up: Called where the user does not want to wait.
        """
        self.end_progress()
        self._progress = Progress(words, give_up, self)
        self._column.insertWidget(0, self._progress)
        self.show()
        return self._progress

    def end_progress(self) -> None:
        """Take the progress away."""
        if self._progress is not None:
            self._column.removeWidget(self._progress)
            self._progress.hide()
            self._progress.deleteLater()
            self._progress = None
        self._hide_if_empty()

    def _take(self, key: str) -> bool:
        question = self._questions.pop(key, None)
        if question is None:
            return False
        self._column.removeWidget(question)
        question.hide()
        question.deleteLater()
        return True

    def _hide_if_empty(self) -> None:
        if not self._questions and self._progress is None:
            self.hide()


class Progress(QFrame):
    """How far something is that takes a while."""

    def __init__(self, words: str, give_up: Callable[[], None], parent: QWidget) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        self.label = QLabel(words, self)
        self.bar = QProgressBar(self)
        self.bar.setAccessibleName(words)
        self.bar.setRange(0, 0)
        self.stop = QPushButton(tr("Give up"), self)
        self.stop.setObjectName("progress.give_up")
        self.stop.setToolTip(tr("Stop making this; nothing is written."))
        self.stop.clicked.connect(give_up)
        for widget, stretch in ((self.label, 0), (self.bar, 1), (self.stop, 0)):
            row.addWidget(widget, stretch)

    def go_on(self, words: str, step: int, steps: int) -> None:
        """Show the next step.

        Args:
            words: What is being done.
            step: How many steps are done.
            steps: How many there are.
        """
        self.label.setText(words)
        self.bar.setRange(0, steps)
        self.bar.setValue(step)


def asking_of(window: Window) -> Asking:
    """Return where a window asks its questions."""
    found = window.findChild(Asking, "asking")
    if isinstance(found, Asking):
        return found
    made = Asking(window)
    middle = window.canvas.parentWidget()
    column = middle.layout() if middle is not None else None
    if isinstance(column, QVBoxLayout):
        column.insertWidget(0, made)
    return made
