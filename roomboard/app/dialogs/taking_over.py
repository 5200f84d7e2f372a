"""Rooms from a file: what was understood of it stands there before anything is added."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
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
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.editing.rooms import add_room
from roomboard.core.plane import Region
from roomboard.core.project import Project
from roomboard.core.units import Refusal, read_length, write_area, write_length
from roomboard.importers.files import DRAWINGS, UNITS, rooms_from
from roomboard.importers.outlines import Drawing, open_drawing
from roomboard.importers.taken import Taken, TakeOverError

if TYPE_CHECKING:
    from roomboard.app.window import Window


NOTHING = Taken(())


@dataclass(frozen=True)
class Read:
    """What came of reading the file once.

    Attributes:
        taken: The rooms, and what was left out.
        faults: Why nothing could be taken.
        layers: The layers that can be read, where it is a drawing.
    """

    taken: Taken = NOTHING
    faults: tuple[str, ...] = ()
    layers: tuple[str, ...] = ()


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
        self._taken = NOTHING
        # Called by the jobs alone, which run one after the other.
        self._open = lru_cache(maxsize=1)(lambda: open_drawing(path))
        self._asked = 0
        self._workings = Workings("taking over", self)
        self._workings.done.connect(self._show)
        self._workings.failed.connect(self._fail)
        # The thread must have ended before the values it tells of are gone.
        self.destroyed.connect(self._workings.close)
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
        open_sized(self, 640, 420)

    @property
    def settled(self) -> bool:
        """Whether what is listed is what the fields say."""
        return not self._asked

    def _read(self) -> None:
        """Read the file as the fields say; a drawing is opened once, off the window's thread."""
        project, path, opened = self._document.project, self._path, self._open
        height = read_length(self.high.text(), project.units)
        if isinstance(height, Refusal):
            self._workings.drop()
            self._asked = 0
            self._list(Read(faults=(height.sentence,)))
            return
        high, layers, unit = height.mm, self.layer.currentData(), self.unit.currentData()
        ids = [room.id for room in project.rooms]

        def job() -> Read:
            drawing: Drawing | None = None
            try:
                if path.suffix.lower() in DRAWINGS:
                    drawing = opened()
                taken = rooms_from(
                    path,
                    project.units,
                    high,
                    layers=layers,
                    unit=unit,
                    taken_ids=ids,
                    drawing=drawing,
                )
            except TakeOverError as refused:
                return Read(
                    faults=tuple(refused.sentences), layers=drawing.layers if drawing else ()
                )
            return Read(taken, layers=drawing.layers if drawing else ())

        self.add.setEnabled(False)
        if not self.list.topLevelItemCount():
            self.list.addTopLevelItem(QTreeWidgetItem([tr("Reading …"), self._path.name]))
        self._workings.drop()
        self._asked = self._workings.ask(job)

    def _show(self, number: int, read: Read) -> None:
        if self.layer.count() == 1:
            for name in read.layers:
                self.layer.addItem(name, (name,))
        if number == self._asked:
            self._asked = 0
            self._list(read)

    def _fail(self, number: int, fault: str) -> None:
        if number == self._asked:
            self._asked = 0
            said = tr("This file could not be read; save it anew and try again ({f}).", f=fault)
            self._list(Read(faults=(said,)))

    def _list(self, read: Read) -> None:
        """List what is in the file."""
        units = self._document.project.units
        self._taken = read.taken
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
        for sentence in (*self._taken.left_out, *read.faults):
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
