"""The words of the trade, explained: a list that can be searched."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.storage.glossary import Term, load_glossary

ID = Qt.ItemDataRole.UserRole


class Words(QDialog):
    """The glossary; it stands beside the desk and does not stop the work.

    Attributes:
        search: What to look for.
        list: The words found.
        told: The chosen word, explained.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Words of the trade"))
        self.setModal(False)
        self._terms = {term.id: term for term in load_glossary()}
        self.search = QLineEdit(self)
        self.search.setClearButtonEnabled(True)
        self.search.setPlaceholderText(tr("Look for a word"))
        self.search.setAccessibleName(tr("Look for a word"))
        self.search.setToolTip(tr("Words whose name or explanation has this in it are listed."))
        self.list = QListWidget(self)
        self.list.setAccessibleName(tr("Words found"))
        self.told = QTextBrowser(self)
        self.told.setOpenLinks(False)
        self.told.setAccessibleName(tr("The chosen word, explained"))
        split = QSplitter(Qt.Orientation.Horizontal, self)
        split.addWidget(self.list)
        split.addWidget(self.told)
        split.setStretchFactor(1, 1)
        split.setSizes([180, 380])
        column = QVBoxLayout(self)
        column.addWidget(self.search)
        column.addWidget(split, 1)
        open_sized(self, 580, 380)
        self.search.textChanged.connect(self._find)
        self.list.currentItemChanged.connect(self._tell)
        self.told.anchorClicked.connect(lambda link: self.show_term(link.toString()))
        self._find("")

    def show_term(self, term: str) -> bool:
        """Show a word.

        Args:
            term: Its id.

        Returns:
            Whether there is such a word.
        """
        if term not in self._terms:
            return False
        if self.search.text():
            self.search.clear()
        for row in range(self.list.count()):
            if self.list.item(row).data(ID) == term:
                self.list.setCurrentRow(row)
                self.list.scrollToItem(self.list.item(row))
                return True
        return False

    @property
    def term(self) -> Term | None:
        """The word shown."""
        item: QListWidgetItem | None = self.list.currentItem()
        return self._terms.get(str(item.data(ID))) if item is not None else None

    def _find(self, text: str) -> None:
        """List the words that have a text in them, those named by it first."""
        wanted = text.strip().casefold()

        def rank(term: Term) -> int:
            names = [w.casefold() for w in (term.words, *term.also)]
            if any(n.startswith(wanted) for n in names):
                return 0
            if any(wanted in n for n in names):
                return 1
            return 2 if wanted in term.text.casefold() else 3

        found = sorted((t for t in self._terms.values() if rank(t) < 3), key=rank)
        self.list.clear()
        for term in found:
            item = QListWidgetItem(tr(term.words))
            item.setData(ID, term.id)
            self.list.addItem(item)
        if found:
            self.list.setCurrentRow(0)
        else:
            self.told.setPlainText(tr("No word has “{text}” in it.", text=text.strip()))

    def _tell(self, item: QListWidgetItem | None) -> None:
        term = self._terms.get(str(item.data(ID))) if item is not None else None
        if term is None:
            return
        also = f"<p><i>{tr('Also:')} {_plain(', '.join(term.also))}</i></p>" if term.also else ""
        links = [
            f'<a href="{other.id}">{_plain(other.words)}</a>'
            for other in (self._terms[i] for i in term.see)
        ]
        see = f"<p>{tr('Read on:')} {', '.join(links)}</p>" if links else ""
        self.told.setHtml(f"<h3>{_plain(term.words)}</h3>{also}<p>{_plain(term.text)}</p>{see}")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Down goes from the line into the list; Esc closes."""
        if event.key() == Qt.Key.Key_Down and self.search.hasFocus():
            self.list.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            return
        super().keyPressEvent(event)


def _plain(text: str) -> str:
    return tr(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
