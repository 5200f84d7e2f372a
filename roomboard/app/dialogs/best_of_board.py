"""Best of board: what counts, the search with its bound, what else there is, what limits cost."""

from __future__ import annotations

import math
import threading
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QStandardPaths, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QGroupBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.best_of_board import take_up
from roomboard.app.dialogs.buttons import button_of
from roomboard.app.dialogs.trade_picture import TradePicture
from roomboard.app.dialogs.what_counts import WhatCounts
from roomboard.app.seeking import Sought, seek_best, seek_limits, seek_points
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.adopting import with_cutting
from roomboard.core.optimum.directions import directions_told
from roomboard.core.optimum.effort import Effort
from roomboard.core.optimum.improve import Improved
from roomboard.core.optimum.in_units import cost_in, cost_unit
from roomboard.core.optimum.trading import Trade
from roomboard.core.project import Project, Weights
from roomboard.core.scheme import Scheme
from roomboard.drawing.flow import Table
from roomboard.drawing.job_figures import bounds_reasons
from roomboard.drawing.trade_off import costs_table, how_near, trade_columns, trade_row

if TYPE_CHECKING:
    from roomboard.app.window import Window

CASE = "below-bound.roomboard.json"
"""Where a job is kept whose answer came out below its bound."""


class BestOfBoard(QDialog):
    """The search for the least board and the fewest joints of the whole job.

    Attributes:
        counts: What counts.
        told: How far a search has come, or what it came to.
        costs: What the usual set-out and the best one cost, kind by kind.
        table: The answers that trade board for butts.
        plot: The same, plotted.
    """

    _far = Signal(float, float, str)
    _step = Signal(int, int, str)

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._document = window.document
        self._stop = threading.Event()
        self._asked = 0
        self._best: Improved | None = None
        self._trade = Trade()
        self._of: Project | None = None
        self.setWindowTitle(tr("Best of board"))
        self.setAccessibleName(tr("Best of board"))
        self._workings = Workings("best of board", self)
        self._workings.done.connect(self._came)
        self._workings.failed.connect(self._fail)
        # A search still going on is told to end; its thread must have ended before its values go.
        self.destroyed.connect(_ending(self._stop, self._workings))
        self._far.connect(self._say_far)
        self._step.connect(self._say_step)
        self._build()
        self._document.project_changed.connect(self._changed)
        self._document.scheme_changed.connect(self._refresh)
        self._changed()

    # --- how it is built ----------------------------------------------------------------

    def _build(self) -> None:
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        self.counts = WhatCounts(self._document, inside)
        column.addWidget(self.counts)
        column.addLayout(self._buttons())
        self.told = self._sentence(tr("How the search stands"))
        column.addWidget(self.told)
        across = QHBoxLayout()
        across.addWidget(self._costs_box(), 5)
        across.addWidget(self._trade_box(), 6)
        column.addLayout(across, 1)
        column.addWidget(self._words_box())
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setWidget(inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scroll)

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.search = button_of(
            self,
            tr("Search"),
            tr("Choose set-outs and cutting together, with a bound (Alt+S)"),
            lambda: self._seek_best(Effort.THOROUGH),
        )
        self.search.setShortcut("Alt+S")
        self.prove = button_of(
            self,
            tr("Search on"),
            tr("The same, until it is proven or the counts run out; large jobs take long"),
            lambda: self._seek_best(Effort.PROOF),
        )
        self.trade = button_of(
            self,
            tr("Board against butts"),
            tr("Seek what else there is: less board for more butts, and the other way round"),
            self._seek_points,
        )
        self.limits = button_of(
            self,
            tr("What limits cost"),
            tr("Solve the job again without each limit, lock and rule, for comparison"),
            self._seek_limits,
        )
        self.stop = button_of(
            self, tr("Stop"), tr("Stop the search and keep the best found"), self._end
        )
        for button in (self.search, self.prove, self.trade, self.limits):
            row.addWidget(button)
        row.addStretch(1)
        row.addWidget(self.stop)
        return row

    def _costs_box(self) -> QWidget:
        box = QGroupBox(tr("The best found"), self)
        column = QVBoxLayout(box)
        self.costs = _table(box, tr("What the usual set-out and the best one cost"))
        column.addWidget(self.costs, 1)
        self.use = button_of(
            self,
            tr("Take this set-out up"),
            tr("Sheet the whole job like this; undo brings back what was"),
            self._adopt_best,
        )
        column.addWidget(self.use)
        return box

    def _trade_box(self) -> QWidget:
        box = QGroupBox(tr("Board against butts"), self)
        column = QVBoxLayout(box)
        self.plot = TradePicture(self._window.inks, box)
        self.plot.asked_for.connect(self._adopt_point)
        column.addWidget(self.plot, 3)
        self.table = _table(box, tr("Answers that trade board for butts"))
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.currentCellChanged.connect(lambda row, *_: self.plot.choose(row))
        self.plot.chosen.connect(lambda n: self.table.setCurrentCell(n, 0))
        column.addWidget(self.table, 2)
        return box

    def _words_box(self) -> QWidget:
        box = QGroupBox(tr("Why more board than the least, and what limits cost"), self)
        column = QVBoxLayout(box)
        self.reasons = self._sentence(tr("Why more sheets than the least, and what limits cost"))
        column.addWidget(self.reasons)
        return box

    def _sentence(self, name: str) -> QLabel:
        label = QLabel(self)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setAccessibleName(name)
        label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        return label

    def open_up(self) -> None:
        """Open the panel."""
        open_sized(self, 1120, 820)
        self.show()
        self.raise_()
        self.activateWindow()
        self.search.setFocus()

    # --- searches -----------------------------------------------------------------------

    @property
    def busy(self) -> bool:
        """Whether a search goes on."""
        return self._asked > 0

    def _begin(self, job: Callable[[], Sought], words: str) -> None:
        self.told.setText(words)
        self._asked = self._workings.ask(job)
        self._refresh()

    def _fresh_stop(self) -> Callable[[], bool]:
        """Return what the next search asks whether to end."""
        self._stop.clear()
        return self._stop.is_set

    def _seek_best(self, effort: Effort) -> None:
        if not self.busy:
            job = seek_best(self._document, effort, self._fresh_stop(), self._far.emit)
            self._begin(job, tr("Searching …"))

    def _seek_points(self) -> None:
        if not self.busy:
            job = seek_points(self._document, self._fresh_stop(), self._step.emit)
            self._begin(job, tr("Seeking what else there is …"))

    def _seek_limits(self) -> None:
        if not self.busy:
            job = seek_limits(self._document, self._fresh_stop(), self._step.emit)
            self._begin(job, tr("Solving the job without each limit …"))

    def _end(self) -> None:
        self._stop.set()
        self.told.setText(tr("Stopping; the best found is kept …"))

    def closeEvent(self, event: object) -> None:
        """End a search with the panel."""
        self._stop.set()
        super().closeEvent(event)  # type: ignore[arg-type]

    def _say_far(self, best: float, bound: float, words: str) -> None:
        if not self.busy or self._stop.is_set():
            return
        units = self._document.project.units
        figures = []
        if math.isfinite(best):
            figures.append(
                tr(
                    "The best so far costs {best} in {unit} of board",
                    best=f"{cost_in(best, units):.2f}",
                    unit=cost_unit(units),
                )
            )
        if bound > 0:
            figures.append(
                tr(
                    "none of those looked at can cost less than {bound}",
                    bound=f"{cost_in(bound, units):.2f}",
                )
            )
            if math.isfinite(best) and best > 0:
                figures.append(tr("at most {gap} above the best", gap=f"{1 - bound / best:.2%}"))
        said = (", ".join(figures), words[:1].upper() + words[1:])
        self.told.setText(". ".join(part for part in said if part) + " …")

    def _say_step(self, done: int, total: int, words: str) -> None:
        if self.busy and words and not self._stop.is_set():
            self.told.setText(
                tr("{done} of {total}: {words} …", done=done + 1, total=total, words=words)
            )

    def _came(self, number: int, sought: Sought) -> None:
        if number != self._asked:
            return
        self._asked = 0
        if sought.case is not None:
            self.told.setText(self._kept_case(sought.case))
        elif _like(sought.project) != _like(self._document.project):
            self.told.setText(tr("The job was changed meanwhile; search again."))
        else:
            self._take_in(sought)
        self._refresh()

    def _take_in(self, sought: Sought) -> None:
        """Keep what a search came to, and show it."""
        if self._of is None or _like(self._of) != _like(sought.project):
            self._best, self._trade = None, Trade()
        self._of = sought.project
        trade = replace(self._trade, complete=self._trade.complete and not sought.ended)
        if sought.best is not None:
            self._best = sought.best
            trade = replace(trade, optimum=sought.best.optimum)
            self.told.setText(how_near(sought.best.optimum, sought.project.units))
        if sought.points is not None:
            trade = replace(trade, points=sought.points)
            self.told.setText(
                tr("{count} answers, none beaten by another.", count=len(sought.points))
            )
        if sought.limits is not None:
            trade = replace(trade, limits=sought.limits)
            self.told.setText(tr("What limits cost stands below."))
        self._trade = trade
        self._show()
        self._pass_on()

    def _pass_on(self) -> None:
        """Let the document print what is known, where the job is one of the answers already."""
        found = self._answer_of(self._document.project)
        if found is not None:
            self._document.know_found(replace(found, trade=self._trade))

    def _answer_of(self, project: Project) -> Scheme | None:
        answers = [self._best.scheme] if self._best is not None else []
        answers += [p.scheme for p in self._trade.points if p.scheme is not None]
        for answer in answers:
            if self._is_taken(answer) or with_cutting(answer) == project:
                return replace(answer, project=project)
        return None

    def _is_taken(self, answer: Scheme) -> bool:
        """Whether the job is sheeted and cut like an answer, whatever counts."""
        scheme = self._document.scheme
        return (
            _like(answer.project) == _like(self._document.project)
            and scheme is not None
            and scheme.project == self._document.project
            and with_cutting(scheme).cutting == with_cutting(answer).cutting
            and scheme.linear == answer.linear
        )

    def _kept_case(self, case: Project) -> str:
        """Keep the project that an answer below its bound came up with; say where."""
        from pathlib import Path

        from roomboard.storage.project_file import save
        from roomboard.storage.whole_file import NotSavedError

        place = QStandardPaths.StandardLocation.AppDataLocation
        path = Path(QStandardPaths.writableLocation(place)) / CASE
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            save(case, path)
        except (OSError, NotSavedError) as fault:
            return tr(
                "A fault of the program: an answer lies below its bound, and the case could not "
                "be kept ({fault}). Nothing was changed.",
                fault=fault,
            )
        return tr(
            "A fault of the program: an answer lies below its bound. Nothing was changed; the "
            "case is kept in {path}.",
            path=path,
        )

    def _fail(self, number: int, fault: str) -> None:
        if number == self._asked:
            self._asked = 0
            self.told.setText(
                tr("The search could not be made; nothing was changed ({fault}).", fault=fault)
            )
            self._refresh()

    # --- what is shown ------------------------------------------------------------------

    def _changed(self) -> None:
        """Follow the project: what was found for another job is not offered any more."""
        if self._of is not None and not self.busy and not self._fits():
            self.told.setText(tr("The job was changed since; search again."))
        self._refresh()

    def _fits(self) -> bool:
        """Whether what was found is of the job as it is, but for weights and choices taken up."""
        if self._of is None:
            return False
        now = _like(self._document.project)
        taken = [self._of]
        taken += [self._best.project] if self._best is not None else []
        taken += [p.project for p in self._trade.points]
        return any(_like(p) == now for p in taken)

    def _refresh(self) -> None:
        free = not self.busy and bool(self._document.project.rooms)
        for button in (self.search, self.prove, self.trade, self.limits):
            button.setEnabled(free)
        self.stop.setEnabled(self.busy)
        fits = self._fits()
        best = self._best
        taken = best is not None and self._is_taken(best.scheme)
        self.use.setEnabled(fits and best is not None and not taken and not self.busy)
        self.use.setText(
            tr("The job is sheeted like this") if taken else tr("Take this set-out up")
        )
        self.plot.setEnabled(fits and not self.busy)
        self.table.setEnabled(fits and not self.busy)

    def _show(self) -> None:
        units = self._document.project.units
        if self._best is not None:
            _fill(self.costs, costs_table(self._best.optimum, units))
        points = self._trade.points
        self.plot.show_points(points, units)
        table = self.table
        heads = (*trade_columns(), "")
        table.setColumnCount(len(heads))
        table.setHorizontalHeaderLabels([tr(h) if h else "" for h in heads])
        table.setRowCount(len(points))
        for row, point in enumerate(points):
            for column, text in enumerate(trade_row(row, point, units)):
                _cell(table, row, column, text)
            button = button_of(
                self,
                tr("Take up"),
                tr("Sheet the whole job as answer {number} does", number=row + 1),
                partial(self._adopt_point, row),
            )
            button.setAccessibleName(tr("Take up answer {number}", number=row + 1))
            table.setCellWidget(row, len(heads) - 1, button)
        table.resizeColumnsToContents()
        self._show_reasons()

    def _show_reasons(self) -> None:
        lines: list[str] = []
        if self._best is not None:
            lines += directions_told(self._best.scheme)
            lines += bounds_reasons(self._best.scheme)
        lines += [limit.words for limit in self._trade.limits]
        if self._trade.limits:
            lines.append(tr("What comes out without a rule is a comparison and not to be built."))
        self.reasons.setText("\n".join(lines))

    # --- taking up ----------------------------------------------------------------------

    def _adopt(self, words: str, found: Scheme) -> None:
        own = replace(with_cutting(found), weights=self._document.project.weights)
        take_up(self._document, words, replace(found, project=own), self._trade)
        self._refresh()

    def _adopt_best(self) -> None:
        if self._best is not None and self._fits():
            self._adopt(tr("Take up the best of board"), self._best.scheme)
            self.told.setText(tr("The job is now sheeted like this; undo brings back what was."))

    def _adopt_point(self, number: int) -> None:
        points = self._trade.points
        if not (0 <= number < len(points)) or self.busy or not self._fits():
            return
        scheme = points[number].scheme
        if scheme is not None:
            self._adopt(tr("Take up answer {number}", number=number + 1), scheme)
            self.told.setText(
                tr("The job is now sheeted as answer {number} says.", number=number + 1)
            )


def _like(project: Project) -> Project:
    """Return a project but for its weights and cutting: answers hold whatever counts."""
    return replace(project, weights=Weights(), cutting=())


def _ending(stop: threading.Event, workings: Workings) -> Callable[[], None]:
    def end() -> None:
        stop.set()
        workings.close()

    return end


def _table(parent: QWidget, name: str) -> QTableWidget:
    table = QTableWidget(parent)
    table.setAccessibleName(name)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setTabKeyNavigation(False)
    table.verticalHeader().hide()
    return table


def _cell(table: QTableWidget, row: int, column: int, text: str) -> None:
    item = QTableWidgetItem(text)
    if column:
        item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    table.setItem(row, column, item)


def _fill(table: QTableWidget, made: Table) -> None:
    """Show a table of the report on the desk."""
    table.setColumnCount(len(made.columns))
    table.setHorizontalHeaderLabels([tr(c.title) for c in made.columns])
    table.setRowCount(len(made.rows))
    for row, cells in enumerate(made.rows):
        for column, text in enumerate(cells):
            _cell(table, row, column, text)
    table.resizeColumnsToContents()
    table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
