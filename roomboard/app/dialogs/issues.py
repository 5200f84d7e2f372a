"""The issues and what has changed since one of them, each change with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.issuing import issue_now
from roomboard.app.pages import today
from roomboard.app.panels.places import go_to_place
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.findings import Place
from roomboard.core.revision_changes import ChangeKind
from roomboard.core.revision_issue import changes, letter_for
from roomboard.drawing.set_revision_list import order_words

if TYPE_CHECKING:
    from roomboard.app.window import Window
    from roomboard.core.revision import Issued

SHARES = (90, 330)
"""Heights the two lists begin with, pixels."""
SIGNS: dict[ChangeKind, str] = {
    ChangeKind.NEW: "+",
    ChangeKind.GONE: "−",
    ChangeKind.CHANGED: "≠",
    ChangeKind.MOVED: "→",
    ChangeKind.RENAMED: "=",
    ChangeKind.RECUT: "○",
}
"""The sign of each kind of change; its words stand beside it."""


class Issues(QDialog):
    """What was issued, what has changed since, and a new issue.

    Attributes:
        letter: Letter of the new issue.
        by: Who issues it.
        date: Its date.
        note: What it is about.
        send: Issues the set.
        list: The issues, the newest first.
        changed: What has changed since the one chosen.
        told: What was said last.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.setObjectName("issues")
        self.setWindowTitle(tr("Issues and changes"))
        self._window = window
        self._places: list[Place | None] = []
        self._letter, self._newest = "", True
        self._build()
        window.document.project_changed.connect(self.refresh)
        window.document.scheme_changed.connect(self.refresh)
        self.resize(620, 560)
        self.refresh()

    # --- how it is built ------------------------------------------------------------------

    def _build(self) -> None:
        column = QVBoxLayout(self)
        grid = QGridLayout()
        self.letter = self._field(grid, 0, 0, tr("&Letter"), tr("Letter of the issue"))
        self.letter.setMaximumWidth(60)
        self.date = self._field(grid, 0, 2, tr("&Date"), tr("Date of issue, year-month-day"))
        self.date.setText(today())
        self.by = self._field(grid, 0, 4, tr("&By"), tr("Who issues it"))
        self.note = self._field(grid, 1, 0, tr("&Note"), tr("What the issue is about"), span=5)
        self.note.setPlaceholderText(tr("such as  Bedroom measured again"))
        self.note.returnPressed.connect(self.issue)
        column.addLayout(grid)
        row = QHBoxLayout()
        self.send = self._button(
            tr("&Issue the set"), tr("Keep the set under this letter (Enter)"), self.issue
        )
        row.addWidget(self.send)
        self.told = QLabel(self)
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setAccessibleName(tr("What was said"))
        row.addWidget(self.told, 1)
        column.addLayout(row)
        apart = QSplitter(Qt.Orientation.Vertical, self)
        self.list = _List(tr("Issues, the newest first"), tr("Arrows choose an issue."), apart)
        self.list.currentRowChanged.connect(self._tell)
        self.changed = _List(
            tr("What has changed since the issue"),
            tr("Arrows choose, Enter or a click shows the place."),
            apart,
        )
        self.changed.itemClicked.connect(self._go)
        self.changed.itemActivated.connect(self._go)
        for widget in (self.list, self.changed):
            apart.addWidget(widget)
        apart.setStretchFactor(1, 3)
        apart.setSizes(list(SHARES))
        column.addWidget(apart, 1)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self._button(tr("&Close"), tr("Close the list (Esc)"), self.close))
        column.addLayout(foot)

    def _field(
        self, grid: QGridLayout, row: int, at: int, words: str, tip: str, span: int = 1
    ) -> QLineEdit:
        label = QLabel(words, self)
        field = QLineEdit(self)
        field.setAccessibleName(tip)
        field.setToolTip(tip)
        label.setBuddy(field)
        grid.addWidget(label, row, at)
        grid.addWidget(field, row, at + 1, 1, span)
        return field

    def _button(self, words: str, tip: str, run: object) -> QPushButton:
        button = QPushButton(words, self)
        button.setAccessibleName(words.replace("&", ""))
        button.setToolTip(tip)
        button.setAutoDefault(False)
        button.clicked.connect(run)
        return button

    # --- what it shows --------------------------------------------------------------------

    def open_up(self, *, issuing: bool) -> None:
        """Show it, with the cursor where one begins.

        Args:
            issuing: Whether a new issue is wanted.
        """
        self.show()
        self.raise_()
        self.refresh()
        first: QWidget = self.note if issuing or not self.list.count() else self.changed
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def refresh(self) -> None:
        """List the issues there are now and what has changed; what is chosen stays chosen."""
        project = self._window.document.project
        try:
            self.letter.setPlaceholderText(letter_for(project))
        except EditError:
            self.letter.setPlaceholderText("")
        lines = [_line(i) for i in reversed(project.issues)]
        if lines != [self.list.item(n).text() for n in range(self.list.count())]:
            self.list.blockSignals(True)
            self.list.clear()
            self.list.addItems(lines)
            letters = [i.letter for i in reversed(project.issues)]
            old = letters.index(self._letter) if self._letter in letters else 0
            # Where the newest was chosen, the one after it is.
            self.list.setCurrentRow(-1 if not letters else 0 if self._newest else old)
            self.list.blockSignals(False)
        self._tell()

    @property
    def _chosen(self) -> Issued | None:
        issues = self._window.document.project.issues
        row = self.list.currentRow()
        return issues[len(issues) - 1 - row] if 0 <= row < len(issues) else None

    def _tell(self) -> None:
        """List what has changed since the issue chosen."""
        document, chosen = self._window.document, self._chosen
        self._letter = chosen.letter if chosen is not None else ""
        self._newest = self.list.currentRow() <= 0
        row = self.changed.currentRow()
        self.changed.clear()
        self._places = []
        if chosen is None:
            self._add(tr("Nothing has been issued yet."), None)
            return
        if document.scheme is None or not document.settled:
            self._add(tr("working out the sheets …"), None)
            return
        found = changes(chosen, document.scheme)
        for surface in found.surfaces:
            place = Place(room=surface.ref.partition("/")[0], surface=surface.ref)
            self._add(surface.name, place, bold=True)
            for change in surface.changes:
                at = Place(room=place.room, surface=surface.ref, item=change.mark, line=change.at)
                self._add(f"    {SIGNS[change.kind]}  {change.words}", at)
        for line in order_words(found, document.project.units):
            self._add(line, None)
        if found.empty:
            self._add(tr("Nothing has changed since {letter}.", letter=chosen.letter), None)
        if found.untouched:
            names = "; ".join(found.untouched)
            self._add(tr("Not touched: {names}.", names=names), None)
        self.changed.setCurrentRow(min(row, self.changed.count() - 1))

    def _add(self, words: str, place: Place | None, *, bold: bool = False) -> None:
        item = QListWidgetItem(words)
        font = QFont(self.changed.font())
        font.setBold(bold)
        item.setFont(font)
        self.changed.addItem(item)
        self._places.append(place)

    # --- what it does ---------------------------------------------------------------------

    def _go(self) -> None:
        row = self.changed.currentRow()
        place = self._places[row] if 0 <= row < len(self._places) else None
        if place is None or not go_to_place(self._window.desk, place):
            self.told.setText(tr("This is said of the whole job and has no place on the drawing."))
        else:
            self.told.setText("")

    def issue(self) -> None:
        """Issue the set under the letter, date and note that are typed."""
        date, note = self.date.text().strip(), self.note.text().strip()
        if not note:
            self.told.setText(tr("Say in a few words what the issue is about, then issue it."))
            self.note.setFocus()
            return
        if not _is_day(date):
            self.told.setText(tr("“{date}” is no date; give year-month-day.", date=date))
            self.date.setFocus()
            return
        self.told.setText(tr("Making the pages …"))
        self.send.setEnabled(False)
        issue_now(
            self._window,
            letter=self.letter.text().strip(),
            by=self.by.text().strip(),
            date=date,
            note=note,
            then=self._issued,
        )

    def _issued(self, fault: str) -> None:
        self.send.setEnabled(True)
        if fault:
            self.told.setText(fault)
            return
        self.told.setText(tr("Issued."))
        self.note.clear()
        self.letter.clear()


class _List(QListWidget):
    """A list whose lines wrap; Enter takes the one chosen."""

    def __init__(self, name: str, tip: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setToolTip(tip)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter, which not every platform takes for choosing; the rest is the list's own."""
        item = self.currentItem()
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and item is not None:
            self.itemClicked.emit(item)
        else:
            super().keyPressEvent(event)


def _line(issued: Issued) -> str:
    by = tr(" by {name}", name=issued.by) if issued.by else ""
    own = sum(s.letter == issued.letter for s in issued.sheets)
    sheets = tr("{count} sheets changed", count=own)
    return f"{issued.letter}   {issued.date}{by}: {issued.note} ({sheets})"


def _is_day(text: str) -> bool:
    from datetime import date

    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
