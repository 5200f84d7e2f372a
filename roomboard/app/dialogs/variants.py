"""Variants: ways to sheet the whole job, kept by name and set beside each other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
)

from roomboard.app.dialogs.buttons import button_of
from roomboard.app.panels.waiting import Waiting
from roomboard.app.sizing import open_sized
from roomboard.app.variants import drop, keep, rename, take_up
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.project import Project
from roomboard.core.scheme import work_out
from roomboard.core.units import write_area, write_mass, write_run
from roomboard.core.ways import Figures, adopt_variant, figures_of

if TYPE_CHECKING:
    from roomboard.app.window import Window

NAME = Qt.ItemDataRole.UserRole
WAITING = "…"


def columns(project: Project) -> list[tuple[str, Callable[[Figures], str]]]:
    """Return the columns of the table: what each is, and how a figure is written.

    Args:
        project: For the units and the currency.
    """
    units = project.units

    def run(metres: float) -> str:
        return write_run(metres * 1000, units)

    found: list[tuple[str, Callable[[Figures], str]]] = [
        (tr("Sheets"), lambda f: str(f.sheets)),
        (tr("Board to buy"), lambda f: write_area(f.bought_m2, units)),
        (tr("Waste of bought"), lambda f: f"{f.waste_ratio:.1%}"),
        (tr("Butt joint"), lambda f: run(f.butt_m)),
        (tr("Recessed joint"), lambda f: run(f.recessed_m)),
        (tr("Ends at recess"), lambda f: run(f.end_to_recess_m)),
        (tr("Timber to add"), lambda f: run(f.trimmer_m)),
        (tr("Pieces"), lambda f: str(f.pieces)),
        (tr("Heaviest lift"), lambda f: write_mass(f.heaviest_kg, units)),
        (tr("Blocks"), lambda f: str(f.blocks)),
        (tr("Warnings"), lambda f: str(f.warnings)),
    ]
    if project.prices:
        found.append(
            (
                tr("Cost {currency}", currency=project.currency).strip(),
                lambda f: f"{f.cost:.2f}" if f.cost is not None else "–",
            )
        )
    return found


class Variants(QDialog):
    """The variants kept, each with its figures beside the present set-out.

    Attributes:
        table: The present set-out, then every variant.
        name: The name under which the present set-out is kept.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._document = window.document
        self._figures: dict[Project, Figures] = {}
        self._failed: set[Project] = set()
        self._given_up: set[Project] = set()
        self._working_on: Project | None = None
        self._asked = 0
        self._filling = False
        self.setWindowTitle(tr("Variants"))
        self._workings = Workings("variants", self)
        self._workings.done.connect(self._worked)
        self._workings.failed.connect(self._fail)
        # The thread must have ended before the values it tells of are gone.
        self.destroyed.connect(self._workings.close)
        self.table = QTableWidget(self)
        self.name = QLineEdit(self)
        self.waiting = Waiting(
            tr("Working out the figures …"),
            tr("Stop; figures that are not there yet stay open."),
            self._give_up,
            self,
        )
        self._workings.busy_changed.connect(self.waiting.follow)
        self._build()
        self._document.project_changed.connect(self._fill)
        self._document.scheme_changed.connect(self._fill)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        row = QHBoxLayout()
        label = QLabel(tr("Keep the present set-out as"), self)
        label.setBuddy(self.name)
        self.name.setAccessibleName(tr("Name of the variant to keep"))
        self.name.setPlaceholderText(tr("such as  Upright on wall B"))
        self.name.returnPressed.connect(self._keep)
        row.addWidget(label)
        row.addWidget(self.name, 1)
        row.addWidget(button_of(self, tr("Keep"), tr("Keep it under this name"), self._keep))
        column.addLayout(row)
        table = self.table
        table.setAccessibleName(tr("Variants and their figures"))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.EditKeyPressed)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.itemChanged.connect(self._renamed)
        table.itemSelectionChanged.connect(self._refresh)
        column.addWidget(table, 1)
        column.addWidget(self.waiting)
        row = QHBoxLayout()
        self.adopt = button_of(
            self, tr("Take up"), tr("Sheet the whole job as this variant does (Enter)"), self._adopt
        )
        self.rename = button_of(
            self, tr("Rename"), tr("Give the variant another name (F2)"), self._edit
        )
        self.drop = button_of(self, tr("Drop"), tr("Forget the variant (Delete)"), self._drop)
        for button in (self.adopt, self.rename, self.drop):
            row.addWidget(button)
        self.told = QLabel(self)
        self.told.setAccessibleName(tr("What was said"))
        self.told.setWordWrap(True)
        row.addWidget(self.told, 1)
        row.addWidget(button_of(self, tr("Close"), tr("Close the table (Esc)"), self.close))
        column.addLayout(row)
        table.installEventFilter(self)
        self._document.refused.connect(self.told.setText)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """In the table Enter takes up a variant and Delete drops it."""
        if watched is self.table and isinstance(event, QKeyEvent):
            runs = {
                Qt.Key.Key_Return: self._adopt,
                Qt.Key.Key_Enter: self._adopt,
                Qt.Key.Key_Delete: self._drop,
            }
            run = runs.get(Qt.Key(event.key()))
            # While a name is edited the keys are the editor's, which lets Enter through.
            editing = self.table.findChild(QLineEdit) is not None
            if run is not None and event.type() == QEvent.Type.KeyPress and not editing:
                run()
                return True
        return super().eventFilter(watched, event)

    def open_up(self, *, naming: bool = False) -> None:
        """Open the table.

        Args:
            naming: Whether to begin with the name of a new variant.
        """
        open_sized(self, 1080, 380)
        self._given_up.clear()
        self.show()
        self.raise_()
        self.activateWindow()
        self._fill()
        if naming:
            self.name.setText(self._free_name())
            self.name.selectAll()
            self.name.setFocus()
        else:
            self.table.setFocus()

    def _free_name(self) -> str:
        taken = {v.name for v in self._document.project.variants}
        number = 1
        while tr("Variant {number}", number=number) in taken:
            number += 1
        return tr("Variant {number}", number=number)

    # --- what is worked out -------------------------------------------------------------

    @property
    def settled(self) -> bool:
        """Whether every figure is there."""
        return not self._workings.busy and not self._missing()

    def _present(self) -> Project:
        return replace(self._document.project, variants=())

    def _projects(self) -> list[Project]:
        """Return the project as it is, and as it would be with each variant taken up."""
        project = self._document.project
        return [
            self._present(),
            *(replace(adopt_variant(project, v.name), variants=()) for v in project.variants),
        ]

    def _missing(self) -> list[Project]:
        known = self._figures.keys() | self._failed | self._given_up
        return [p for p in self._projects() if p not in known]

    def _ask(self) -> None:
        missing = self._missing()
        if not missing or self._working_on in missing:
            return
        project = self._working_on = missing[0]
        catalogue, practice = self._document.catalogue, self._document.practice
        scheme = self._document.scheme
        known = scheme.worked if scheme is not None else None

        def job() -> Figures:
            return figures_of(work_out(project, catalogue, practice, compare=False, known=known))

        self._asked = self._workings.ask(job)

    def _give_up(self) -> None:
        """Leave open what is not worked out yet, until the table is opened again or changes."""
        self._workings.drop()
        self._given_up.update(self._missing())
        self._working_on = None

    def hideEvent(self, event: QHideEvent) -> None:
        """Nobody waits for the figures of a table that is closed."""
        self._workings.drop()
        self._working_on = None
        super().hideEvent(event)

    def _worked(self, number: int, figures: Figures) -> None:
        if number == self._asked and self._working_on is not None:
            self._figures[self._working_on] = figures
            self._working_on = None
            self._fill()

    def _fail(self, number: int, fault: str) -> None:
        if number == self._asked and self._working_on is not None:
            self._failed.add(self._working_on)
            self._working_on = None
            self.told.setText(tr("A variant could not be worked out ({fault}).", fault=fault))
            self._fill()

    # --- what is shown ------------------------------------------------------------------

    def _fill(self) -> None:
        if not self.isVisible():
            return
        project, present = self._document.project, self._present()
        names = ["", *(v.name for v in project.variants)]
        heads = columns(project)
        table = self.table
        row = table.currentRow()
        self._filling = True
        table.setColumnCount(1 + len(heads))
        table.setHorizontalHeaderLabels([tr("Variant"), *(words for words, _ in heads)])
        table.setRowCount(len(names))
        for at, (name, worked) in enumerate(zip(names, self._projects(), strict=True)):
            figures = self._figures.get(worked)
            texts = [name or tr("Present set-out")]
            texts += [write(figures) if figures is not None else WAITING for _, write in heads]
            for column, text in enumerate(texts):
                self._cell(at, column, text, name, present=worked == present)
        table.resizeColumnsToContents()
        # A name that is being edited goes on being edited while figures come in.
        if not 0 <= row < len(names):
            table.setCurrentCell(max(0, min(row, len(names) - 1)), 0)
        self._filling = False
        self._refresh()
        self._ask()

    def _cell(self, row: int, column: int, text: str, name: str, *, present: bool) -> None:
        """Fill a cell; what is the same in it stays untouched."""
        item = self.table.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            if column:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
            if row and not column:
                flags |= Qt.ItemFlag.ItemIsEditable
            item.setFlags(flags)
            self.table.setItem(row, column, item)
        if item.text() != text or item.data(NAME) != name:
            item.setText(text)
            item.setData(NAME, name)
        if item.font().bold() != present:
            font = item.font()
            font.setBold(present)
            item.setFont(font)
            said = tr("The job is sheeted like this now") if present else ""
            item.setToolTip(said)

    def _refresh(self) -> None:
        for button in (self.adopt, self.rename, self.drop):
            button.setEnabled(bool(self._chosen()))

    def _chosen(self) -> str:
        """Return the name of the variant chosen in the table; empty for none."""
        item = self.table.item(self.table.currentRow(), 0)
        return str(item.data(NAME)) if item is not None else ""

    # --- what can be done ---------------------------------------------------------------

    def _keep(self) -> None:
        self.told.clear()
        name = self.name.text().strip()
        if keep(self._document, name):
            self.told.setText(tr("Kept as “{name}”.", name=name))
            self.name.clear()
            self.table.setCurrentCell(self.table.rowCount() - 1, 0)

    def _adopt(self) -> None:
        name = self._chosen()
        self.told.clear()
        if name and take_up(self._document, name):
            self.told.setText(tr("The job is now sheeted as {name}.", name=name))

    def _edit(self) -> None:
        item = self.table.item(self.table.currentRow(), 0)
        if item is not None and self._chosen():
            self.table.editItem(item)

    def _renamed(self, item: QTableWidgetItem) -> None:
        name = str(item.data(NAME) or "")
        if self._filling or item.column() or not name or item.text().strip() == name:
            return
        self.told.clear()
        if not rename(self._document, name, item.text()):
            self._fill()

    def _drop(self) -> None:
        name = self._chosen()
        self.told.clear()
        if name and drop(self._document, name):
            self.told.setText(tr("{name} is dropped; undo brings it back.", name=name))
