"""The order and the quantities, each line with how it comes about and the pieces it came from."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.desk import Desk
from roomboard.app.lettering import emboldened
from roomboard.app.panels.order_rows import GROUPS, Row, amount, as_text, below, opens, rows_of
from roomboard.app.panels.places import go_to_place, place_of_source
from roomboard.app.words import tr
from roomboard.core.scheme import Scheme
from roomboard.core.wording import place_in_words

KEY = Qt.ItemDataRole.UserRole
SOURCES, WIDE, ROW = KEY + 1, KEY + 2, KEY + 3
LEAST, MARGIN = 60, 10
"""Narrowest a cell is wrapped to, and what its frame takes of its width, pixels."""


class Order(QWidget):
    """The order, live; a line opens to its formula, and shows the pieces it came from.

    Attributes:
        tree: The order.
        summary: One line over it.
        copy: Copies it as text.

    Signals:
        left: The user is done here and goes back to the drawing.
    """

    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._rows: tuple[Row, ...] = ()
        self._steps: dict[str, int] = {}
        self._open: set[str] = set(GROUPS)
        self._known: set[str] = set()
        self.setAccessibleName(tr("Order"))
        self.summary = QLabel(self)
        self.summary.setWordWrap(True)
        self.summary.setAccessibleName(tr("The order in one line"))
        self.tree = _Tree(self)
        self.copy = QPushButton(tr("Copy as text"), self)
        self.copy.setToolTip(tr("Copy the whole order, to be pasted into a message (Ctrl+C)."))
        top = QHBoxLayout()
        top.addWidget(self.summary, 1)
        top.addWidget(self.copy)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 4, 4)
        column.setSpacing(3)
        column.addLayout(top)
        column.addWidget(self.tree, 1)
        self.copy.clicked.connect(self.copy_text)
        self.tree.itemClicked.connect(self._clicked)
        self.tree.chosen_again.connect(self._go)
        self.tree.copied.connect(self.copy_text)
        self.tree.left.connect(self.left)
        self.tree.itemExpanded.connect(self._opened)
        self.tree.itemCollapsed.connect(self._closed)
        desk.document.scheme_changed.connect(self.refresh)
        self.tree.setColumnHidden(2, True)  # until something has a price
        self.refresh()

    @property
    def rows(self) -> tuple[Row, ...]:
        """The order as rows, group by group."""
        return self._rows

    @property
    def text(self) -> str:
        """The order as text."""
        return as_text(self._rows)

    def copy_text(self) -> None:
        """Copy the order as text."""
        QGuiApplication.clipboard().setText(self.text)
        self._desk.say(tr("The order is copied."))

    def refresh(self) -> None:
        """Show the order as it is now; what is open, chosen and in view stays."""
        scheme = self._desk.document.scheme
        rows = rows_of(scheme) if scheme else ()
        self.summary.setText(_summary(scheme) if scheme else tr("Nothing to order yet"))
        if rows == self._rows:
            return
        self._rows = rows
        current = self.tree.currentItem()
        key = str(current.data(0, KEY)) if current is not None else ""
        scroll = self.tree.verticalScrollBar().value()
        self.tree.blockSignals(True)
        self.tree.clear()
        for row in rows:
            self.tree.addTopLevelItem(_item(row))
        self.tree.setColumnHidden(2, rows[-1].key != "together" if rows else True)
        boards = {b.key for g in rows for b in g.below if b.key.startswith("board:")}
        self._open |= boards - self._known
        self._known |= boards
        for item in _every(self.tree):
            if item.data(0, KEY) in self._open:
                self._fill(item)
                item.setExpanded(True)
            if key and item.data(0, KEY) == key:
                self.tree.setCurrentItem(item)
        self.tree.blockSignals(False)
        self.tree.verticalScrollBar().setValue(scroll)

    def _fill(self, item: QTreeWidgetItem) -> None:
        """Put the rows under a row, once it is opened."""
        row, scheme = item.data(0, ROW), self._desk.document.scheme
        if item.childCount() or not isinstance(row, Row) or scheme is None:
            return
        for under in below(scheme, row):
            child = _item(under)
            item.addChild(child)
            child.setFirstColumnSpanned(under.wide)

    def _opened(self, item: QTreeWidgetItem) -> None:
        self._fill(item)
        self._open.add(str(item.data(0, KEY)))

    def _closed(self, item: QTreeWidgetItem) -> None:
        self._open.discard(str(item.data(0, KEY)))

    def _clicked(self, item: QTreeWidgetItem) -> None:
        self._show_from(item)

    def _go(self) -> None:
        item = self.tree.currentItem()
        if item is not None:
            self._show_from(item)

    def _show_from(self, item: QTreeWidgetItem) -> None:
        """Go to what a line came from; once more, and it is the next of them."""
        sources = item.data(0, SOURCES)
        if not isinstance(sources, tuple) or not sources:
            return
        key = str(item.data(0, KEY))
        ordered = sorted(sources, key=lambda s: s.partition("/")[0] != self._desk.room_id)
        at = self._steps.get(key, 0) % len(sources)
        if at:
            ordered = list(sources)
        source = ordered[at]
        self._steps[key] = sources.index(source) + 1
        place = place_of_source(self._desk, source)
        go_to_place(self._desk, place)
        words = place_in_words(place, self._desk.document.shown)
        if len(sources) > 1:
            self._desk.say(
                tr(
                    "{place}: {at} of {count} it came from; Enter shows the next.",
                    place=words,
                    at=sources.index(source) + 1,
                    count=len(sources),
                )
            )

    def item(self, key: str) -> QTreeWidgetItem:
        """Return the row of the tree by its key.

        Raises:
            KeyError: If there is none.
        """
        for item in _every(self.tree):
            own = str(item.data(0, KEY))
            if own == key:
                return item
            if key.startswith(f"{own}/") or own in self._open:
                self._fill(item)
        raise KeyError(key)


class _Tree(QTreeWidget):
    """The tree; Enter shows where a line came from, Esc goes back to the drawing."""

    chosen_again = Signal()
    copied = Signal()
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(tr("Order and quantities"))
        self.setToolTip(tr("Right opens a line, Enter shows the pieces it came from."))
        self.setColumnCount(3)
        self.setHeaderLabels([tr("What"), tr("Order"), tr("Cost")])
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAlternatingRowColors(True)
        self.setWordWrap(True)
        self.setIndentation(12)
        self.setMinimumHeight(60)
        header = self.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Interactive)
        header.resizeSection(1, 104)
        self.setItemDelegate(_Wrapping(self))
        # Rows grow where their words need a second line.
        header.sectionResized.connect(lambda *_: self.scheduleDelayedItemsLayout())
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.ResizeToContents)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter, Esc and copying; the rest is the tree's own."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.chosen_again.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class _Wrapping(QStyledItemDelegate):
    """Lets a row grow as high as its words need at the width there is."""

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the size of a cell with its words in as many lines as they need."""
        hint = super().sizeHint(option, index)
        tree = self.parent()
        if index.column() or not isinstance(tree, QTreeWidget):
            return hint
        depth, above = 1, index.parent()
        while above.isValid():
            depth, above = depth + 1, above.parent()
        whole = tree.viewport().width() if index.data(WIDE) else tree.columnWidth(0)
        width = max(LEAST, whole - depth * tree.indentation() - MARGIN)
        box = QRect(0, 0, width, 10_000)
        text = str(index.data(Qt.ItemDataRole.DisplayRole) or "")
        high = option.fontMetrics.boundingRect(box, Qt.TextFlag.TextWordWrap, text).height()
        return QSize(min(hint.width(), width), max(hint.height(), high + 2))


def _item(row: Row) -> QTreeWidgetItem:
    cells = (row.words, row.amount, row.cost)
    if row.wide:
        cells = (f"{row.words}: {row.amount}", "", "")
    item = QTreeWidgetItem(list(cells))
    item.setData(0, KEY, row.key)
    item.setData(0, SOURCES, row.sources)
    item.setData(0, WIDE, row.wide)
    for column, text in enumerate(cells):
        item.setToolTip(column, text)
    if row.heading:
        bold = emboldened(item.font(0))
        item.setFont(0, bold)
        item.setFont(2, bold)
    item.setData(0, ROW, row)
    if opens(row):
        item.setChildIndicatorPolicy(QTreeWidgetItem.ChildIndicatorPolicy.ShowIndicator)
    return item


def _every(tree: QTreeWidget) -> Iterator[QTreeWidgetItem]:
    todo = [tree.topLevelItem(n) for n in reversed(range(tree.topLevelItemCount()))]
    while todo:
        item = todo.pop()
        if item is None:
            continue
        yield item
        todo.extend(item.child(n) for n in reversed(range(item.childCount())))


def _summary(scheme: Scheme) -> str:
    bounds = scheme.cut_plan.bounds
    count = sum(b.sheets for b in bounds)
    if not count:
        return tr("Nothing to order yet")
    unplaced = len(scheme.cut_plan.unplaced)
    words = amount(count, "sheet")
    if unplaced:
        words += tr("; {n} pieces fit no sheet", n=unplaced)
    return words
