"""Every act of the desk with its keys, and what the mouse does."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QLabel,
    QLineEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.acts import Act
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr

ALWAYS = (
    ("On the drawing", "Tab, Shift+Tab", "Go from one thing to the next"),
    ("On the drawing", "Enter, double click", "Edit the figures of what is held"),
    ("On the drawing", "Esc, right button", "One step back; let go"),
    ("On the drawing", "Wheel", "Nearer or farther, about the pointer"),
    ("On the drawing", "Middle button, Space and drag, arrows", "Move the drawing"),
    ("While drawing", "Digits, then Enter", "A length, in any unit"),
    ("While drawing", "Shift", "No right angles"),
    ("While drawing", "Ctrl", "No snapping"),
    ("In a field", "Enter", "Take what was typed"),
    ("In a field", "Esc", "Bring the old value back, then go back to the drawing"),
    ("In a field", "Up, Down", "A step more or less; with Ctrl a tenth of it"),
)
"""Keys that are no acts: where, which, and what they do."""


class Keys(QDialog):
    """The list of all keys; it stands beside the desk and does not stop the work.

    Attributes:
        search: What to look for.
        tree: The acts, menu by menu.
        told: What the act chosen in the list does, in full.
        none: Says that nothing was found.
    """

    def __init__(self, acts: Sequence[Act], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Keys"))
        self.setModal(False)
        self.search = QLineEdit(self)
        self.search.setClearButtonEnabled(True)
        self.search.setPlaceholderText(tr("Look for an act or a key"))
        self.search.setAccessibleName(tr("Look for an act or a key"))
        self.search.setToolTip(tr("Acts that have this in their words or keys are listed."))
        self.tree = QTreeWidget(self)
        self.tree.setAccessibleName(tr("Acts and their keys"))
        self.tree.setColumnCount(3)
        self.tree.setHeaderLabels([tr("Act"), tr("Keys"), tr("What it does")])
        self.tree.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.tree.setAlternatingRowColors(True)
        header = self.tree.header()
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        header.resizeSection(0, 260)
        header.resizeSection(1, 150)
        column = QVBoxLayout(self)
        column.addWidget(self.search)
        column.addWidget(self.tree, 1)
        self.told = QLabel(self)
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setAccessibleName(tr("What the chosen act does"))
        # Its room stays, so that the list does not move as one goes through it.
        self.told.setMinimumHeight(2 * self.fontMetrics().lineSpacing())
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.tree.currentItemChanged.connect(self._tell)
        column.addWidget(self.told)
        self.none = QLabel(self)
        self.none.setWordWrap(True)
        self.none.setTextFormat(Qt.TextFormat.PlainText)
        self.none.setAccessibleName(tr("What the search found"))
        self.none.hide()
        column.addWidget(self.none)
        open_sized(self, 780, 560)
        self._menus: dict[str, tuple[QTreeWidgetItem, list[QTreeWidgetItem]]] = {}
        for act in acts:
            if act.words.isdigit() or not (act.keys or act.tip):
                continue  # names of files and the like
            self._add(act.menu, tr(act.words), _written(act.keys), tr(act.tip))
        for where, keys, does in ALWAYS:
            self._add(where, tr(does), tr(keys), "")
        self.tree.expandAll()
        self.search.textChanged.connect(self._find)

    def _add(self, menu: str, words: str, keys: str, tip: str) -> None:
        if menu not in self._menus:
            under = QTreeWidgetItem([tr(menu).replace("/", ": "), "", ""])
            self.tree.addTopLevelItem(under)
            self._menus[menu] = (under, [])
        under, items = self._menus[menu]
        item = QTreeWidgetItem([words, keys, tip])
        item.setToolTip(2, tip)
        under.addChild(item)
        items.append(item)

    def _tell(self, item: QTreeWidgetItem | None) -> None:
        self.told.setText(item.text(2) if item is not None else "")

    def _find(self, text: str) -> None:
        wanted = text.strip().casefold()
        for menu, items in self._menus.values():
            for item in items:
                words = " ".join(item.text(c) for c in range(3)).casefold()
                item.setHidden(wanted not in words)
            menu.setHidden(all(item.isHidden() for item in items))
        found = any(not menu.isHidden() for menu, _ in self._menus.values())
        self.none.setText(tr("No act and no key has “{text}” in it.", text=text.strip()))
        self.none.setVisible(not found)


def _written(keys: str) -> str:
    """Write the keys of an act as this machine writes them."""
    return ", ".join(
        k.toString(QKeySequence.SequenceFormat.NativeText)
        for k in QKeySequence.listFromString(keys)
    )
