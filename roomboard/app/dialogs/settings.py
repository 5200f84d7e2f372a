"""What holds for the whole job: its name and units, method, supply, prices, figures of practice."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.dialogs.ledger import Ledger
from roomboard.app.document import Document
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.job import (
    currency_figures,
    job_figures,
    method_figures,
    supply_figures,
)
from roomboard.app.figures.job_lists import offcut_rows, practice_rows, price_rows
from roomboard.app.panels.fields import Field, field_of
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.window import Window

FiguresOf = Callable[[Document], tuple[Figure, ...]]


class Form(QWidget):
    """Figures one under the other, each with its field.

    Attributes:
        fields: The fields, top to bottom.
    """

    def __init__(self, document: Document, figures_of: FiguresOf, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._figures_of = figures_of
        self._form = QFormLayout(self)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        self.fields: list[Field] = []
        for figure in figures_of(document):
            field = field_of(figure, document, self)
            label = QLabel(figure.label, self)
            label.setBuddy(field.control)
            label.setToolTip(figure.tip)
            self._form.addRow(label, field)
            self.fields.append(field)

    def refresh(self) -> None:
        """Show the figures as they are now."""
        for field, figure in zip(self.fields, self._figures_of(self._document), strict=True):
            field.show_figure(figure)


class Job(QDialog):
    """What holds for the whole job; the drawing follows behind it.

    Attributes:
        tabs: Its parts.
        prices: The list of prices.
        offcuts: The list of offcuts on site.
        practice: The list of figures of practice.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.setObjectName("job")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(tr("This job"))
        self._window = window
        self._document = window.document
        column = QVBoxLayout(self)
        self.tabs = QTabWidget(self)
        column.addWidget(self.tabs, 1)
        self.forms: dict[str, Form] = {}
        for name, words, figures_of in (
            ("job", tr("&Job"), job_figures),
            ("method", tr("&Method"), method_figures),
            ("supply", tr("S&upply"), supply_figures),
        ):
            form = Form(self._document, figures_of, self)
            self.forms[name] = form
            self.tabs.addTab(_scrolled(form), words)
        self.prices = self._add_prices()
        self.offcuts = self._add_offcuts()
        self.practice = Ledger(
            self._document,
            practice_rows,
            (tr("Figure of practice"), tr("Value"), tr("How well known"), tr("Key")),
            self,
        )
        self.practice.setContentsMargins(8, 8, 8, 8)
        self.tabs.addTab(self.practice, tr("&Figures of practice"))
        close = QPushButton(tr("&Close"), self)
        close.setObjectName("job.close_panel")
        close.setAutoDefault(False)
        close.setToolTip(tr("Everything set here holds already; it can be undone (Ctrl+Z)."))
        close.clicked.connect(self.close)
        column.addWidget(close, 0, Qt.AlignmentFlag.AlignRight)
        for form in self.forms.values():
            for field in form.fields:
                field.left.connect(self.close)
        self._document.shown_changed.connect(self.refresh)
        self._document.scheme_changed.connect(self.refresh)
        self.finished.connect(self._end)
        steps = self._document.undo_stack
        for keys, run in (
            ("Ctrl+Z", steps.undo),
            ("Ctrl+Shift+Z", steps.redo),
            ("Ctrl+Y", steps.redo),
        ):
            QShortcut(QKeySequence(keys), self, run)
        open_sized(self, 840, 560)

    def field(self, label: str) -> Field:
        """Return the field of a figure by its label.

        Args:
            label: As it stands beside the field.
        """
        for form in self.forms.values():
            for field in form.fields:
                if field.figure.label == label:
                    return field
        raise KeyError(label)

    def refresh(self) -> None:
        """Show everything as it is now."""
        for form in self.forms.values():
            form.refresh()
        self.prices.refresh()
        # Its rows come and go; the field that made one go is still at work now.
        QTimer.singleShot(0, self.offcuts, self.offcuts.refresh)
        self.practice.refresh()

    def _add_prices(self) -> Ledger:
        page = QWidget(self)
        column = QVBoxLayout(page)
        form = Form(self._document, currency_figures, page)
        self.forms["currency"] = form
        column.addWidget(form)
        ledger = Ledger(
            self._document, price_rows, (tr("What"), tr("Price for one"), tr("Where")), page
        )
        column.addWidget(ledger, 1)
        self.tabs.addTab(page, tr("&Prices"))
        return ledger

    def _add_offcuts(self) -> Ledger:
        page = QWidget(self)
        column = QVBoxLayout(page)
        about = QLabel(
            tr(
                "Offcuts that lie on site are cut from before any sheet is bought, where that "
                "saves board. Length is along the sheet an offcut came from."
            ),
            page,
        )
        about.setWordWrap(True)
        column.addWidget(about)
        headings = (tr("Offcut"), tr("Board"), tr("On the drawings"), tr("Used"), tr("Note"))
        ledger = Ledger(self._document, offcut_rows, headings, page)
        column.addWidget(ledger, 1)
        self.tabs.addTab(page, tr("&Offcuts on site"))
        return ledger

    def _end(self) -> None:
        """Go back to the drawing."""
        self._document.shown_changed.disconnect(self.refresh)
        self._document.scheme_changed.disconnect(self.refresh)
        self._window.canvas.setFocus()


def _scrolled(widget: QWidget) -> QScrollArea:
    area = QScrollArea()
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setWidget(widget)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area


def show_job(window: Window) -> Job:
    """Show what holds for the whole job, or bring it to the front.

    Args:
        window: The window.
    """
    found = window.findChild(Job, "job")
    if isinstance(found, Job) and found.isVisible():
        found.raise_()
        found.activateWindow()
        return found
    made = Job(window)
    made.show()
    return made
