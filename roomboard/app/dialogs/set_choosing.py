"""The choices of the preview that go beyond paper and room: kinds of pages, scale, lists."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QMenu, QToolButton, QWidget

from roomboard.app.words import tr
from roomboard.drawing.paper import PAPERS, paper_named
from roomboard.drawing.set_choice import KIND_WORDS, USUAL_KINDS, PageKind


class SetChoosing(QWidget):
    """A row of controls: which kinds of pages, at what scale, and the paper of the tables.

    Attributes:
        kinds: Opens the list of kinds, each with a tick.
        scale: The scale of all drawings.
        lists: The paper of tables.
    """

    changed = Signal()

    def __init__(self, paper: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.kinds = QToolButton(self)
        self.kinds.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.kinds.setText(tr("P&ages wanted"))
        self.kinds.setAccessibleName(tr("Pages wanted"))
        self.kinds.setToolTip(tr("Which kinds of pages are printed; cautions always are."))
        self._menu = QMenu(self.kinds)
        self._ticks: dict[PageKind, QAction] = {}
        for kind, words in KIND_WORDS.items():
            if kind not in USUAL_KINDS:
                continue  # has a tick of its own
            act = self._menu.addAction(tr(words))
            act.setCheckable(True)
            act.setChecked(True)
            act.toggled.connect(self.changed)
            self._ticks[kind] = act
        self.kinds.setMenu(self._menu)
        row.addWidget(self.kinds)
        self.scale = QComboBox(self)
        self.scale.setToolTip(tr("Drawings that do not fit a page so are drawn smaller."))
        self.lists = QComboBox(self)
        self.lists.addItem(tr("as for drawings"), "")
        for name in PAPERS:
            self.lists.addItem(name, name)
        for words, box in ((tr("S&cale"), self.scale), (tr("Paper of &tables"), self.lists)):
            label = QLabel(words, self)
            label.setBuddy(box)
            box.setAccessibleName(words.replace("&", ""))
            row.addWidget(label)
            row.addWidget(box)
        row.addStretch(1)
        self.show_scales(paper)
        self.scale.currentIndexChanged.connect(self.changed)
        self.lists.currentIndexChanged.connect(self.changed)

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

    def tick(self, kind: PageKind) -> QAction:
        """Return the tick of a kind of pages."""
        return self._ticks[kind]
