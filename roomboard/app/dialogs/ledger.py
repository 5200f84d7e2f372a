"""A long list to find something in, with a field for the row looked at."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFormLayout,
    QLabel,
    QLineEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.document import Document
from roomboard.app.figures.job_lists import Row
from roomboard.app.lettering import emboldened
from roomboard.app.panels.fields import Field, field_of
from roomboard.app.words import tr

KEY = Qt.ItemDataRole.UserRole
RowsOf = Callable[[Document], tuple[Row, ...]]


class Ledger(QWidget):
    """A long list with a line to find what is wanted, and a field for the row looked at.

    Attributes:
        seek: Only rows with these words are shown.
        list: The rows.
        field: The field of the row looked at, or None.
        about: What there is to be said of it.
        none: Says that no row has the words wanted.
    """

    def __init__(
        self, document: Document, rows_of: RowsOf, headings: tuple[str, ...], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._rows_of = rows_of
        self._rows: dict[str, Row] = {}
        self._shown = ""
        self.field: Field | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.seek = QLineEdit(self)
        self.seek.setPlaceholderText(tr("Find …"))
        self.seek.setAccessibleName(tr("Find in the list"))
        self.seek.setToolTip(tr("Only rows with these words are shown."))
        self.seek.setClearButtonEnabled(True)
        self.seek.textChanged.connect(self._sift)
        column.addWidget(self.seek)
        self.list = QTreeWidget(self)
        self.list.setAccessibleName(", ".join(headings))
        self.list.setToolTip(tr("Choose a row to change it under the list; Enter goes there."))
        self.list.setHeaderLabels(list(headings))
        self.list.setRootIsDecorated(False)
        self.list.setUniformRowHeights(True)
        self.list.setAlternatingRowColors(True)
        self.list.currentItemChanged.connect(self._look)
        self.list.itemActivated.connect(self._go_to_field)
        column.addWidget(self.list, 1)
        self.none = QLabel(self)
        self.none.setWordWrap(True)
        self.none.setTextFormat(Qt.TextFormat.PlainText)
        self.none.setAccessibleName(tr("What the search found"))
        self.none.hide()
        column.addWidget(self.none)
        self._place = QFormLayout()
        self._place.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows)
        column.addLayout(self._place)
        self.about = QLabel(self)
        self.about.setWordWrap(True)
        self.about.setTextFormat(Qt.TextFormat.PlainText)
        self.about.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.about.setAccessibleName(tr("About this row"))
        column.addWidget(self.about)
        self.refresh()
        for number in range(len(headings)):
            self.list.resizeColumnToContents(number)
            self.list.setColumnWidth(
                number, min(self.list.columnWidth(number) + 12, 200 if number else 420)
            )

    def refresh(self) -> None:
        """Show the rows as they are now."""
        rows = self._rows_of(self._document)
        same = list(self._rows) == [r.key for r in rows]
        self._rows = {r.key: r for r in rows}
        if not same:
            self._rebuild()
        for number, row in enumerate(rows):
            item = self.list.topLevelItem(number)
            if item is not None:
                _write(item, row)
        self._sift(self.seek.text())
        shown = self._rows.get(self._shown)
        if shown is not None and self.field is not None:
            self.field.show_figure(shown.figure)
            self.about.setText(shown.about)

    def look_at(self, key: str) -> None:
        """Show a row and its field.

        Args:
            key: The row's key.
        """
        for number in range(self.list.topLevelItemCount()):
            item = self.list.topLevelItem(number)
            if item is not None and item.data(0, KEY) == key:
                self.list.setCurrentItem(item)
                return

    def _rebuild(self) -> None:
        self.list.blockSignals(True)
        self.list.clear()
        for key in self._rows:
            item = QTreeWidgetItem()
            item.setData(0, KEY, key)
            self.list.addTopLevelItem(item)
        self.list.blockSignals(False)
        if self._shown in self._rows:
            self.look_at(self._shown)
        else:
            self._drop_field()

    def _sift(self, text: str) -> None:
        wanted = text.casefold().split()
        found = 0
        for number in range(self.list.topLevelItemCount()):
            item = self.list.topLevelItem(number)
            if item is not None:
                words = " ".join(self._rows[item.data(0, KEY)].cells).casefold()
                fits = all(w in words for w in wanted)
                found += fits
                item.setHidden(not fits)
        self.none.setText(
            tr("Nothing has the words “{text}”; leave some of them out.", text=text.strip())
        )
        self.none.setVisible(bool(wanted) and not found)

    def _look(self, item: QTreeWidgetItem | None) -> None:
        row = self._rows.get(item.data(0, KEY)) if item is not None else None
        if row is None or row.key == self._shown:
            return
        self._drop_field()
        self._shown = row.key
        self.field = field_of(row.figure, self._document, self)
        label = QLabel(row.figure.label, self)
        label.setBuddy(self.field.control)
        self._place.addRow(label, self.field)
        self.about.setText(row.about)

    def _drop_field(self) -> None:
        while self._place.rowCount():
            self._place.removeRow(0)
        self.field = None
        self._shown = ""
        self.about.clear()

    def _go_to_field(self) -> None:
        if self.field is not None:
            self.field.control.setFocus(Qt.FocusReason.ShortcutFocusReason)


def _write(item: QTreeWidgetItem, row: Row) -> None:
    """Write a row; one that was set for this job is bold and has a sign."""
    font = emboldened(item.font(0), bold=row.changed)
    for column, words in enumerate(row.cells):
        text = f"✎ {words}" if row.changed and column == 0 else words
        if item.text(column) != text:
            item.setText(column, text)
            item.setToolTip(column, words)
        if item.font(column).bold() != row.changed:
            item.setFont(column, font)
