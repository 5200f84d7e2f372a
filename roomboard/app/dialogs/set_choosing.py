"""The choices of the preview that go beyond paper: kinds of pages, rooms, scale, lists."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QStyle,
    QToolButton,
    QWidget,
)

from roomboard.app.pages import Asked
from roomboard.app.words import tr
from roomboard.core.project import Room
from roomboard.drawing.paper import PAPERS, paper_named
from roomboard.drawing.set_choice import KIND_WORDS, USUAL_KINDS, PageKind

BESIDE_WORDS = 10
"""What a button takes beside its words and the sign of its menu, pixels."""


class SetChoosing(QWidget):
    """A row of controls: which pages of which rooms, at what scale, and the paper of the tables.

    Attributes:
        kinds: Opens the list of kinds, each with a tick.
        rooms: Opens the list of rooms, each with a tick.
        scale: The scale of all drawings.
        lists: The paper of tables.
        since: Only sheets that have changed since an issue, or all; hidden where none was.
    """

    changed = Signal()

    def __init__(self, asked: Asked, rooms: Sequence[Room], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.kinds = self._opener(
            tr("P&ages wanted"), tr("Which kinds of pages are printed; cautions always are.")
        )
        # Every fastener has a tick of its own.
        chosen = asked.kinds or USUAL_KINDS
        self._ticks = {
            kind: self._tick(self.kinds, tr(words), on=kind in chosen)
            for kind, words in KIND_WORDS.items()
            if kind in USUAL_KINDS
        }
        self.rooms = self._opener(
            tr("&Rooms wanted"),
            tr("The rooms whose pages are printed; of some rooms, only pages that show rooms."),
        )
        self._rooms = {
            room.id: self._tick(self.rooms, room.name, on=not asked.rooms or room.id in asked.rooms)
            for room in rooms
        }
        row.addWidget(self.kinds)
        row.addWidget(self.rooms)
        self.scale = QComboBox(self)
        self.scale.setToolTip(tr("Drawings that do not fit a page so are drawn smaller."))
        self.lists = QComboBox(self)
        self.lists.addItem(tr("usual"), "")
        for name in PAPERS:
            self.lists.addItem(name, name)
        for words, box in ((tr("S&cale"), self.scale), (tr("Paper of &tables"), self.lists)):
            label = QLabel(words, self)
            label.setBuddy(box)
            box.setAccessibleName(words.replace("&", ""))
            row.addWidget(label)
            row.addWidget(box)
        self.since = QComboBox(self)
        self.since.setToolTip(
            tr("Print only sheets that have changed since an issue, and the revision list.")
        )
        self.since.setAccessibleName(tr("Only changed since"))
        self._since_words = QLabel(tr("O&nly changed since"), self)
        self._since_words.setBuddy(self.since)
        for widget in (self._since_words, self.since):
            row.addWidget(widget)
        self.show_issues(())
        self.since.currentIndexChanged.connect(self.changed)
        row.addStretch(1)
        self.show_scales(asked.paper)
        self.scale.setCurrentIndex(max(self.scale.findData(asked.scale), 0))
        self.lists.setCurrentIndex(max(self.lists.findData(asked.lists), 0))
        self.scale.currentIndexChanged.connect(self.changed)
        self.lists.currentIndexChanged.connect(self.changed)

    def _opener(self, words: str, tip: str) -> QToolButton:
        """Return a button that opens a list of ticks."""
        button = QToolButton(self)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setText(words)
        button.setAccessibleName(words.replace("&", ""))
        button.setToolTip(tip)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setMenu(QMenu(button))
        # The style draws the sign of a menu over the words unless there is room beside them.
        sign = self.style().pixelMetric(QStyle.PixelMetric.PM_MenuButtonIndicator, None, button)
        words_wide = button.fontMetrics().horizontalAdvance(button.accessibleName())
        button.setMinimumWidth(words_wide + 2 * sign + BESIDE_WORDS)
        return button

    def _tick(self, opener: QToolButton, words: str, *, on: bool) -> QAction:
        act = opener.menu().addAction(words.replace("&", "&&"))
        act.setCheckable(True)
        act.setChecked(on)
        act.toggled.connect(self.changed)
        return act

    def show_scales(self, paper: str) -> None:
        """Offer the scales that go with a paper; one that does not is given up.

        Args:
            paper: Name of the paper for drawings.
        """
        before = self.wanted_scale
        self.scale.blockSignals(True)
        self.scale.clear()
        self.scale.addItem(tr("chosen for each page"), 0.0)
        for scale in paper_named(paper).scales:
            self.scale.addItem(scale.words, scale.ratio)
        self.scale.setCurrentIndex(max(self.scale.findData(before), 0))
        self.scale.blockSignals(False)

    def show_issues(self, letters: Sequence[str]) -> None:
        """Offer the issues there are, the newest first; one that is gone is given up.

        Args:
            letters: Letters of the issues, in order.
        """
        before = self.wanted_since
        self.since.blockSignals(True)
        self.since.clear()
        self.since.addItem(tr("all sheets"), "")
        for letter in reversed(letters):
            self.since.addItem(letter, letter)
        self.since.setCurrentIndex(max(self.since.findData(before), 0))
        self.since.blockSignals(False)
        for widget in (self._since_words, self.since):
            widget.setVisible(bool(letters))

    @property
    def wanted_since(self) -> str:
        """Letter of the issue since which only changed sheets are wanted; empty for all."""
        return str(self.since.currentData() or "")

    @property
    def wanted_scale(self) -> float:
        """The ratio of the scale wanted; 0 to choose for each page."""
        return float(self.scale.currentData() or 0.0)

    @property
    def wanted_lists(self) -> str:
        """Name of the paper of tables, or empty for that of drawings."""
        return str(self.lists.currentData() or "")

    @property
    def wanted_kinds(self) -> tuple[PageKind, ...]:
        """The kinds wanted; empty where all the usual ones are, or none."""
        found = tuple(kind for kind, act in self._ticks.items() if act.isChecked())
        return () if len(found) in {0, len(self._ticks)} else found

    @property
    def wanted_rooms(self) -> tuple[str, ...]:
        """Ids of the rooms wanted; empty where all are, or none."""
        found = tuple(room for room, act in self._rooms.items() if act.isChecked())
        return () if len(found) in {0, len(self._rooms)} else found

    def room_tick(self, room: str) -> QAction:
        """Return the tick of a room, by its id."""
        return self._rooms[room]

    def tick(self, kind: PageKind) -> QAction:
        """Return the tick of a kind of pages."""
        return self._ticks[kind]
