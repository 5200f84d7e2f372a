"""The list of rooms."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from roomboard.app.desk import Desk
from roomboard.app.words import tr
from roomboard.core.findings import Severity

ID = Qt.ItemDataRole.UserRole


class Rooms(QListWidget):
    """The rooms of the project in the order of work; choosing one shows it."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setAccessibleName(tr("Rooms"))
        self.setToolTip(tr("The rooms in the order of work; choose one to see it."))
        self.setUniformItemSizes(True)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.currentItemChanged.connect(self._choose)
        desk.document.shown_changed.connect(self._rebuild)
        desk.document.scheme_changed.connect(self._rebuild)
        desk.room_changed.connect(self._follow)
        self._rebuild()

    def _rebuild(self) -> None:
        rows = [(r.id, self._words(r.id, r.name)) for r in self._desk.document.shown.rooms]
        self.blockSignals(True)
        while self.count() > len(rows):
            self.takeItem(self.count() - 1)
        while self.count() < len(rows):
            self.addItem(QListWidgetItem())
        for number, (room, words) in enumerate(rows):
            item = self.item(number)
            if item.data(ID) != room or item.text() != words:
                item.setData(ID, room)
                item.setText(words)
                item.setToolTip(words)
        self.blockSignals(False)
        self._follow()

    def _words(self, room: str, name: str) -> str:
        """Return a room's name, with a sign where something of it blocks."""
        scheme = self._desk.document.scheme
        blocks = scheme is not None and any(
            f.severity is Severity.BLOCK and f.place.room == room for f in scheme.findings
        )
        return f"{name}  !" if blocks else name

    def _follow(self) -> None:
        for number in range(self.count()):
            if self.item(number).data(ID) == self._desk.room_id:
                if self.currentRow() != number:
                    self.blockSignals(True)
                    self.setCurrentRow(number, QItemSelectionModel.SelectionFlag.ClearAndSelect)
                    self.blockSignals(False)
                return

    def _choose(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self._desk.show_room(str(item.data(ID)))
