"""The preview: the pages as they will be printed, from the same marks as the file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import shiboken6
from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QKeySequence,
    QShortcut,
)
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
)

from roomboard.app.canvas.sheet import MARGIN, Sheet
from roomboard.app.dialogs.set_choosing import SetChoosing
from roomboard.app.making import Made, Step, making_of
from roomboard.app.pages import (
    PDF,
    Asked,
    asked_last,
    blocked,
    pages_of,
    remember,
    scheme_of,
)
from roomboard.app.panels.tick import Tick
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.drawing.paper import PAPERS, Page

if TYPE_CHECKING:
    from roomboard.app.window import Window

NEARER = 1.25
LEAST, MOST = 0.3, 12.0
"""Pixels a mm of paper may take."""
WAIT = 300
"""How long nothing changes before the pages are made anew, ms."""


class Preview(QDialog):
    """The pages beside their list; it follows the edits made behind it.

    Attributes:
        pages: The pages shown.
        list: Their titles.
        sheet: The page looked at.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.setObjectName("preview")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(tr("Preview"))
        self._window = window
        project = window.document.project
        self._asked = asked_last(window.settings, project.units, project, window.document.path)
        self._per_mm = 0.0
        self._wanted = 0
        self._give_up: Callable[[], None] | None = None
        self.pages: tuple[Page, ...] = ()
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT)
        self._wait.timeout.connect(self.make)
        self._build()
        self._keys()
        window.document.scheme_changed.connect(self._wait.start)
        self.finished.connect(self._end)
        open_sized(self, 900, 760)
        self.make()

    # --- how it is built ----------------------------------------------------------------

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.addLayout(self._head())
        self.choosing = SetChoosing(self._asked, self._window.document.project.rooms, self)
        self.choosing.show_issues([i.letter for i in self._window.document.project.issues])
        self.choosing.changed.connect(self._choose)
        column.addWidget(self.choosing)
        across = QSplitter(Qt.Orientation.Horizontal, self)
        self.list = QListWidget(across)
        self.list.setAccessibleName(tr("Pages"))
        self.list.setToolTip(tr("Page Up and Page Down go from page to page."))
        self.list.setMinimumWidth(180)
        self.list.currentRowChanged.connect(self._look)
        self.area = QScrollArea(across)
        self.area.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.area.setFrameShape(QScrollArea.Shape.NoFrame)
        self.sheet = Sheet()
        self.sheet.desk = QColor(self._window.inks.desk)
        self.area.setBackgroundRole(self.backgroundRole())
        self.area.setWidget(self.sheet)
        self.sheet.hide()
        self.area.viewport().installEventFilter(self)
        across.addWidget(self.list)
        across.addWidget(self.area)
        across.setStretchFactor(1, 1)
        column.addWidget(across, 1)
        self.line = QLabel(self)
        self.line.setWordWrap(True)
        self.line.setTextFormat(Qt.TextFormat.PlainText)
        self.line.setAccessibleName(tr("What the preview says"))
        foot = QHBoxLayout()
        foot.addWidget(self.line, 1)
        self.stop = self._button(
            "give_up", tr("&Give up"), tr("Stop making these pages."), self.give_up
        )
        self.stop.hide()
        foot.addWidget(self.stop)
        column.addLayout(foot)

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.paper = QComboBox(self)
        self.paper.addItems(list(PAPERS))
        self.paper.setCurrentText(self._asked.paper)
        self.paper.currentTextChanged.connect(self._choose)
        label = QLabel(tr("Pa&per"), self)
        label.setBuddy(self.paper)
        self.paper.setAccessibleName(tr("Paper"))
        row.addWidget(label)
        row.addWidget(self.paper)
        self.fixings = Tick(tr("With &fixings"), self)
        self.fixings.setToolTip(tr("Add drawings of every fastener and daub of adhesive."))
        self.fixings.setChecked(self._asked.fixings)
        self.fixings.toggled.connect(self._choose)
        row.addWidget(self.fixings)
        row.addStretch(1)
        for name, words, tip, run in (
            ("pdf", tr("Print to &PDF…"), tr("Ctrl+P"), self.print_pdf),
            ("printer", tr("&Send to printer…"), "", self.print_paper),
            ("close", tr("&Close"), tr("Esc"), self.close),
        ):
            row.addWidget(self._button(name, words, tip, run))
        return row

    def _button(self, name: str, words: str, tip: str, run: Callable[[], object]) -> QPushButton:
        button = QPushButton(words, self)
        button.setObjectName(f"preview.{name}")
        button.setAutoDefault(False)
        button.setToolTip(tip or words.replace("&", ""))
        button.clicked.connect(run)
        return button

    def _keys(self) -> None:
        for keys, run in (
            ("PgDown", lambda: self.turn(1)),
            ("PgUp", lambda: self.turn(-1)),
            ("Ctrl+Home", lambda: self.list.setCurrentRow(0)),
            ("Ctrl+End", lambda: self.list.setCurrentRow(len(self.pages) - 1)),
            ("Ctrl++", lambda: self.zoom(NEARER)),
            ("Ctrl+=", lambda: self.zoom(NEARER)),
            ("Ctrl+-", lambda: self.zoom(1 / NEARER)),
            ("Ctrl+0", self.fit),
            ("Ctrl+P", self.print_pdf),
        ):
            QShortcut(QKeySequence(keys), self, run)

    # --- what is shown ------------------------------------------------------------------

    def make(self) -> None:
        """Make the pages anew, in a thread; of several wishes only the newest counts."""
        self._wanted += 1
        self.give_up()
        wanted, asked = self._wanted, self._asked
        give = scheme_of(self._window.document)
        self.line.setText(tr("Making the pages …"))
        self.stop.show()

        def job(step: Step) -> tuple[tuple[Page, ...], bool]:
            scheme = give(step)
            return pages_of(scheme, asked, step), blocked(scheme)

        self._give_up = making_of(self._window).make(
            tr("Making the pages …"), job, lambda made: self._made(wanted, made)
        )

    def give_up(self) -> None:
        """Give up making the pages; those made last stay."""
        if self._give_up is not None:
            self._give_up()

    @property
    def settled(self) -> bool:
        """Whether the pages are those asked for."""
        return not self._wait.isActive() and not making_of(self._window).busy

    def _made(self, wanted: int, made: Made) -> None:
        if wanted != self._wanted or not self._alive():
            return
        self.stop.hide()
        if isinstance(made.value, tuple):
            pages, blocks = made.value
            self._show(pages)
            self.line.setText(
                tr("Something blocks this set-out: do not cut by it before that is mended.")
                if blocks
                else ""
            )
        else:
            self.line.setText(made.fault or tr("Given up; choose the paper again to try anew."))

    def _alive(self) -> bool:
        return shiboken6.isValid(self)

    def _show(self, pages: Sequence[Page]) -> None:
        row = max(self.list.currentRow(), 0)
        self.pages = tuple(pages)
        self.list.blockSignals(True)
        self.list.clear()
        for page in self.pages:
            room = f"{page.room}: " if page.room else ""
            self.list.addItem(f"{page.number}  {room}{page.title}")
        self.list.blockSignals(False)
        self.list.setCurrentRow(min(row, len(self.pages) - 1))
        self._look(self.list.currentRow())

    def _look(self, row: int) -> None:
        page = self.pages[row] if 0 <= row < len(self.pages) else None
        self.sheet.show_page(page, self._per_mm or self._fitting(page))
        self.area.verticalScrollBar().setValue(0)

    def _fitting(self, page: Page | None) -> float:
        if page is None:
            return 2.5
        room = self.area.viewport().size()
        wide, high = room.width() - 2 * MARGIN, room.height() - 2 * MARGIN
        return max(LEAST, min(wide / page.width, high / page.height))

    def turn(self, step: int) -> None:
        """Go on to another page, or scroll to the rest of this one first.

        Args:
            step: 1 for the next, -1 for the one before.
        """
        bar = self.area.verticalScrollBar()
        end = bar.maximum() if step > 0 else bar.minimum()
        if bar.value() != end:
            bar.setValue(bar.value() + step * bar.pageStep())
            return
        row = self.list.currentRow() + step
        if 0 <= row < len(self.pages):
            self.list.setCurrentRow(row)
            bar.setValue(bar.maximum() if step < 0 else 0)

    def zoom(self, factor: float) -> None:
        """Show the page larger or smaller."""
        self._per_mm = min(MOST, max(LEAST, self.sheet.per_mm * factor))
        self.sheet.show_page(self.sheet.page, self._per_mm)

    def fit(self) -> None:
        """Show the whole page."""
        self._per_mm = 0.0
        self._look(self.list.currentRow())

    # --- what is chosen -----------------------------------------------------------------

    def _choose(self, *_: object) -> None:
        self.choosing.show_scales(self.paper.currentText())
        self._asked = replace(
            self._asked,
            paper=self.paper.currentText(),
            fixings=self.fixings.isChecked(),
            rooms=self.choosing.wanted_rooms,
            kinds=self.choosing.wanted_kinds,
            lists=self.choosing.wanted_lists,
            scale=self.choosing.wanted_scale,
            changed_since=self.choosing.wanted_since,
        )
        document = self._window.document
        remember(self._window.settings, self._asked, document.project, document.path)
        self.make()

    @property
    def asked(self) -> Asked:
        """How the pages are asked for."""
        return self._asked

    def print_pdf(self) -> None:
        """Write these pages to a PDF."""
        from roomboard.app.printing import ask_where

        ask_where(self._window, PDF, self._asked)

    def print_paper(self) -> None:
        """Send these pages to a printer."""
        from roomboard.app.printing import choose_printer

        choose_printer(self._window, self._asked)

    # --- Qt's own -----------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in the list must not close the preview."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            event.accept()
            return
        super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep showing the whole page as long as it was not made larger."""
        if event.type() == QEvent.Type.Resize and not self._per_mm:
            QTimer.singleShot(0, self, lambda: self._look(self.list.currentRow()))
        return super().eventFilter(watched, event)

    def _end(self) -> None:
        """Make no pages any more."""
        self._wait.stop()
        self._wanted += 1
        self.give_up()
        self._window.canvas.setFocus()


def show_preview(window: Window) -> Preview:
    """Show the preview of a window, or bring it to the front.

    Args:
        window: The window.
    """
    found = window.findChild(Preview, "preview")
    if isinstance(found, Preview) and found.isVisible():
        found.raise_()
        found.activateWindow()
        return found
    made = Preview(window)
    made.show()
    return made
