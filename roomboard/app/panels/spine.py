"""The spine: the work in the trade's own order, each step a lens over the same canvas."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QSizePolicy, QWidget

from roomboard.app.desk import LENS_ORDER, Desk
from roomboard.app.words import tr
from roomboard.drawing.views import LENSES

TALL = 26
"""Height of a row, pixels."""


class Spine(QListWidget):
    """A column of the seven lenses; number keys choose them too."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setAccessibleName(tr("The work in its order"))
        self.setToolTip(tr("Look at the same drawing for another part of the work."))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for number, name in enumerate(LENS_ORDER, 1):
            lens = LENSES[name]
            item = QListWidgetItem(f"{number}   {tr(lens.words)}")
            item.setToolTip(f"{tr(lens.tip)}  ({number})")
            item.setStatusTip(tr(lens.tip))
            item.setData(Qt.ItemDataRole.AccessibleTextRole, tr(lens.words))
            item.setData(Qt.ItemDataRole.AccessibleDescriptionRole, tr(lens.tip))
            item.setSizeHint(QSize(TALL, TALL))
            self.addItem(item)
        self.setFixedHeight(TALL * len(LENS_ORDER) + 2 * self.frameWidth())
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.currentRowChanged.connect(lambda row: desk.show_lens(LENS_ORDER[row]))
        desk.lens_changed.connect(self._follow)
        self._follow()

    def _follow(self) -> None:
        self.setCurrentRow(LENS_ORDER.index(self._desk.lens))
