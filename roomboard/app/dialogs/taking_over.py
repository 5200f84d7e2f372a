"""Rooms from a file: what was understood of it stands there before anything is added."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
)

from roomboard.app.reading import usual_height
from roomboard.app.words import tr
from roomboard.core.editing.rooms import add_room
from roomboard.core.plane import Region
from roomboard.core.project import Project
from roomboard.core.units import Refusal, read_length, write_area, write_length
from roomboard.importers.files import DRAWINGS, UNITS, rooms_from
from roomboard.importers.outlines import layers_of
from roomboard.importers.taken import Taken, TakeOverError

if TYPE_CHECKING:
    from roomboard.app.window import Window


class TakingOver(QDialog):
    """The rooms of one file, read anew whenever something about the reading is changed.

    Attributes:
        high: How high the rooms of a drawing are.
        layer: Which layer of a drawing is read.
        unit: In which unit a drawing is drawn.
        list: One row for each room that can be added, and for each thing left out.
        add: Adds the rooms.
    """

    def __init__(self, window: Window, path: Path) -> None:
        super().__init__(window)
        self.setObjectName("taking_over")
        self.setWindowTitle(tr("Rooms from {file}", file=path.name))
        self._document = window.document
        self._desk = window.desk
        self._path = path
        self._taken = Taken(())
        self.high = QLineEdit(usual_height(self._document.project), self)
        self.layer = QComboBox(self)
        self.layer.addItem(tr("all layers"), ())
        self.unit = QComboBox(self)
        self.unit.addItem(tr("as the drawing says"), "")
        for unit in UNITS:
            self.unit.addItem(unit, unit)
        self.list = QTreeWidget(self)
        self.list.setHeaderLabels([tr("Room"), tr("What was understood")])
        self.list.setRootIsDecorated(False)
        self.list.setWordWrap(True)
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.list.setAccessibleName(tr("Rooms in the file"))
        self.add = QPushButton(tr("Add these rooms"), self)
        self.add.setDefault(True)
        self.add.clicked.connect(self._add)
        self._lay_out()
        self._read()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        if self._path.suffix.lower() in DRAWINGS:
            form = QFormLayout()
            for words, field in (
                (tr("Height of the rooms"), self.high),
                (tr("Layer"), self.layer),
                (tr("Drawn in"), self.unit),
            ):
                field.setAccessibleName(words)
                form.addRow(words, field)
            column.addLayout(form)
            try:
                for name in layers_of(self._path):
                    self.layer.addItem(name, (name,))
            except TakeOverError:
                pass  # reading it says so, in the list
            self.high.textEdited.connect(self._read)
            self.layer.activated.connect(self._read)
            self.unit.activated.connect(self._read)
        else:
            for field in (self.high, self.layer, self.unit):
                field.hide()
        column.addWidget(self.list, 1)
        row = QHBoxLayout()
        told = QLabel(tr("Nothing is added until you say so; it can be undone."), self)
        told.setWordWrap(True)
        row.addWidget(told, 1)
        leave = QPushButton(tr("Leave it"), self)
        leave.clicked.connect(self.reject)
        row.addWidget(leave)
        row.addWidget(self.add)
        column.addLayout(row)
        self.resize(640, 420)

    def _read(self) -> None:
        """Read the file as the fields say and list what is in it."""
        units = self._document.project.units
        height = read_length(self.high.text(), units)
        self._taken, faults = Taken(()), []
        if isinstance(height, Refusal):
            faults = [height.sentence]
        else:
            try:
                self._taken = rooms_from(
                    self._path,
                    units,
                    height.mm,
                    layers=self.layer.currentData(),
                    unit=self.unit.currentData(),
                    taken_ids=[room.id for room in self._document.project.rooms],
                )
            except TakeOverError as refused:
                faults = list(refused.sentences)
        self.list.clear()
        for room in self._taken.rooms:
            region = Region.of(room.outline)
            x0, y0, x1, y1 = region.bounds
            said = tr(
                "{width} × {depth} over all, {corners} corners, {area}, {height} high",
                width=write_length(x1 - x0, units),
                depth=write_length(y1 - y0, units),
                corners=len(room.outline),
                area=write_area(region.area_mm2 / 1e6, units),
                height=write_length(room.height, units, suffix=True),
            )
            self.list.addTopLevelItem(QTreeWidgetItem([room.name, said]))
        for sentence in (*self._taken.left_out, *faults):
            item = QTreeWidgetItem([tr("not taken"), sentence])
            item.setToolTip(1, sentence)
            self.list.addTopLevelItem(item)
        self.list.resizeColumnToContents(0)
        self.add.setEnabled(bool(self._taken.rooms))

    def _add(self) -> None:
        """Add the rooms and show the first of them."""
        rooms = self._taken.rooms

        def added(project: Project) -> Project:
            for room in rooms:
                project = add_room(project, room)
            return project

        if self._document.attempt(tr("Add rooms from a file"), added):
            self._desk.show_room(self._document.project.rooms[-len(rooms)].id)
            self.accept()
