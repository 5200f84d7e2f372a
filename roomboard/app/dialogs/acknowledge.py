"""Putting one's name to a caution: it goes on being said, with the name and the reason."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from roomboard.app.desk import Desk
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.acknowledging import acknowledge
from roomboard.core.findings import Finding


class Acknowledge(QFrame):
    """The lines a name and a reason are typed into, under the caution they are for.

    Attributes:
        name: Who has read it.
        reason: Why the work goes on.
        sentence: Why it was not taken, if it was not.

    Signals:
        done: It was taken, or given up.
    """

    done = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._finding: Finding | None = None
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.name = QLineEdit(self)
        self.name.setAccessibleName(tr("Your name"))
        self.name.setToolTip(tr("Who has read the caution; it is printed."))
        self.reason = QLineEdit(self)
        self.reason.setAccessibleName(tr("Why the work goes on"))
        self.reason.setToolTip(tr("Such as: tested on 3 May, none found. It is printed."))
        self.sentence = QLabel(self)
        self.sentence.setWordWrap(True)
        self.sentence.setAccessibleName(tr("What was understood"))
        self.sentence.hide()
        self.keep = QPushButton(tr("Put my name to it"), self)
        self.keep.setToolTip(tr("It goes on being said and printed, with your name."))
        self.back = QPushButton(tr("Leave it"), self)
        self.back.setToolTip(tr("Go back to the findings; nothing changes."))
        form = QFormLayout(self)
        form.setContentsMargins(6, 4, 6, 4)
        form.addRow(tr("Name"), self.name)
        form.addRow(tr("Reason"), self.reason)
        form.addRow(self.sentence)
        row = QHBoxLayout()
        row.addWidget(self.keep)
        row.addWidget(self.back)
        row.addStretch(1)
        form.addRow(row)
        self.name.returnPressed.connect(self.reason.setFocus)
        self.reason.returnPressed.connect(self.take)
        self.keep.clicked.connect(self.take)
        self.back.clicked.connect(self.give_up)
        self.hide()

    def ask(self, finding: Finding) -> None:
        """Ask for a name and a reason.

        Args:
            finding: The caution.
        """
        self._finding = finding
        self.reason.clear()
        self._say("")
        self.show()
        first = self.reason if self.name.text().strip() else self.name
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def take(self) -> None:
        """Put the name to the caution."""
        finding = self._finding
        if finding is None:
            return
        name, reason = self.name.text(), self.reason.text()
        try:
            acknowledge(self._desk.document.project, finding, name, reason)
        except EditError as refusal:
            self._say(str(refusal))
            missing = self.reason if name.strip() else self.name
            missing.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._desk.document.attempt(
            tr("Acknowledge {title}", title=finding.title),
            lambda p: acknowledge(p, finding, name, reason),
        )
        self.hide()
        self.done.emit()

    def give_up(self) -> None:
        """Leave the caution as it is."""
        self.hide()
        self.done.emit()

    def _say(self, sentence: str) -> None:
        self.sentence.setText(f"✗ {sentence}" if sentence else "")
        self.sentence.setVisible(bool(sentence))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves it."""
        if event.key() == Qt.Key.Key_Escape:
            self.give_up()
            return
        super().keyPressEvent(event)
