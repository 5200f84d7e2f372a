"""What is seen while something is worked out that takes long, with a way to give it up."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from roomboard.app.words import tr
from roomboard.app.workings import SLOW


class Waiting(QWidget):
    """A line that comes up once work has taken half a second and goes when it ends.

    Attributes:
        said: What is being worked out.
        stop: Gives it up.
    """

    def __init__(
        self, words: str, tip: str, give_up: Callable[[], object], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.said = QLabel(words, self)
        row.addWidget(self.said, 1)
        self.stop = QPushButton(tr("Give up"), self)
        self.stop.setToolTip(tip)
        self.stop.setAutoDefault(False)
        self.stop.clicked.connect(give_up)
        row.addWidget(self.stop)
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SLOW)
        self._slow.timeout.connect(self.show)
        self.hide()

    def follow(self, busy: bool) -> None:  # noqa: FBT001 - the argument of a signal
        """Come up while work goes on that takes long.

        Args:
            busy: Whether it goes on.
        """
        if not busy:
            self._slow.stop()
            self.hide()
        elif not self._slow.isActive():
            self._slow.start()
