"""Which way?: every way the sheets of a face could run, side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import (
    QDialog,
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.dialogs.picture import Drawing, Picture
from roomboard.app.lettering import emboldened
from roomboard.app.panels.waiting import Waiting
from roomboard.app.sizing import open_sized
from roomboard.app.spots import face_in_hand
from roomboard.app.ways import adopt_way
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.heights import is_ceiling
from roomboard.core.project import Project, Units
from roomboard.core.scheme import RoomScheme
from roomboard.core.units import write_area, write_mass, write_run
from roomboard.core.ways import Advice, Way, recommend, way_in_words, ways_of
from roomboard.drawing.lenses import LENSES
from roomboard.drawing.view import View
from roomboard.drawing.views import ceiling_view, face_view

if TYPE_CHECKING:
    from roomboard.app.window import Window

ORDER = ("across", "along", "turn", "batten", "carry")
"""The ways stand in this order, whichever of them is chosen."""
SHOW = replace(LENSES["set_out"].show, dimensions=False, start=False)


@dataclass(frozen=True)
class Answer:
    """The ways of one face, worked out.

    Attributes:
        room: Its room, with all its faces.
        ways: In the order in which they stand.
        advice: Which of them is the better.
        project: The project they were worked out for.
    """

    room: RoomScheme
    ways: tuple[Way, ...]
    advice: Advice
    project: Project


def figure_rows(ways: tuple[Way, ...], project: Project) -> list[tuple[str, list[str]]]:
    """Return the figures of ways as rows of a table: what it is, and the figure of each way.

    Args:
        ways: The ways.
        project: For the units and the currency.
    """
    units = project.units

    def run(metres: float) -> str:
        return write_run(metres * 1000, units)

    rows: list[tuple[str, Callable[[Way], str]]] = [
        (tr("Sheets to buy"), lambda w: str(w.comparison.sheets)),
        (tr("Board to buy"), lambda w: write_area(w.comparison.bought_m2, units)),
        (tr("Butt joint"), lambda w: run(w.comparison.butt_m)),
        (tr("Recessed joint"), lambda w: run(w.comparison.recessed_m)),
        (tr("Sheet ends at a recessed edge"), lambda w: run(w.comparison.end_to_recess_m)),
        (tr("Edges with nothing behind"), lambda w: run(w.comparison.unsupported_m)),
        (tr("Timber to add"), lambda w: run(w.comparison.trimmer_m)),
        (tr("Heaviest lift"), lambda w: write_mass(w.comparison.heaviest_kg, units)),
        (tr("Rules not kept"), lambda w: str(w.comparison.breaches)),
    ]
    found = [(label, [write(w) for w in ways]) for label, write in rows]
    if any(w.cost is not None for w in ways):
        costs = [f"{w.cost:.2f}" if w.cost is not None else "–" for w in ways]
        found.append((tr("Cost of the sheets {currency}", currency=project.currency), costs))
    return found


def drawing_of(way: Way, room: RoomScheme, units: Units) -> Drawing:
    """Return what draws a face sheeted one way.

    Args:
        way: The way.
        room: The face's room.
        units: How lengths are written.
    """
    one = replace(room, surfaces=(way.scheme,))
    ceiling = is_ceiling(way.scheme.surface.key)

    def draw(scale: float) -> View:
        if ceiling:
            return ceiling_view(one, units, scale, SHOW)
        return face_view(way.scheme, room.room, units, scale, SHOW)

    return draw


def _by_lines(reason: str) -> str:
    """Return a reason with a line for each sentence: each compares with another way."""
    return reason.replace(". ", ".\n")


class WhichWay(QDialog):
    """A panel with every way the face in hand could be sheeted; it follows the desk.

    Attributes:
        answer: What is shown, or None while it is worked out.
        pictures: The drawing of each way by its name; choosing one adopts the way.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._desk = window.desk
        self._of: object = None
        self._asked = 0
        self.answer: Answer | None = None
        self.pictures: dict[str, Picture] = {}
        self.setWindowTitle(tr("Which way?"))
        self.setAccessibleName(tr("Which way the sheets of this face could run"))
        self._workings = Workings("ways", self)
        self._workings.done.connect(self._show)
        self._workings.failed.connect(self._fail)
        # The thread must have ended before the values it tells of are gone.
        self.destroyed.connect(self._workings.close)
        column = QVBoxLayout(self)
        self.reason = QLabel(self)
        self.reason.setWordWrap(True)
        self.reason.setTextFormat(Qt.TextFormat.PlainText)
        self.reason.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self.reason.setAccessibleName(tr("Recommendation"))
        column.addWidget(self.reason)
        self.waiting = Waiting(
            tr("Working out every way …"), tr("Stop; what is shown stays."), self._give_up, self
        )
        self._workings.busy_changed.connect(self.waiting.follow)
        column.addWidget(self.waiting)
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        column.addWidget(self._scroll, 1)
        desk = self._desk
        for signal in (
            desk.document.scheme_changed,
            desk.held_changed,
            desk.view_changed,
            desk.room_changed,
        ):
            signal.connect(self._follow)

    @property
    def settled(self) -> bool:
        """Whether what is shown is of the face in hand as it is now."""
        return self.answer is not None and not self._workings.busy

    def open_for_face(self) -> None:
        """Open for the face in hand."""
        open_sized(self, 980, 680)
        self.show()
        self.raise_()
        self.activateWindow()
        self._of = None
        self._follow()

    # --- what is worked out -------------------------------------------------------------

    def _follow(self) -> None:
        document = self._desk.document
        if not self.isVisible() or not document.settled:
            return
        face, room = face_in_hand(self._desk), self._desk.room_scheme
        shown = self._desk.room
        if face is None or room is None or shown is None:
            return
        of = (document.scheme, face.surface.ref)
        if self._of is not None and self._of == of:
            return
        self._of = of
        project, setting = document.shown, document.setting
        self.setWindowTitle(
            tr("Which way? {face} of {room}", face=face.surface.name, room=room.room.name)
        )
        if self.answer is None:
            self.reason.setText(tr("Working out every way …"))

        def job() -> Answer:
            ways = ways_of(face, shown, setting, project.prices)
            ordered = sorted(ways, key=lambda w: ORDER.index(w.comparison.name))
            advice = recommend(ways, project.units)
            return Answer(room, tuple(ordered), advice, project)

        self._asked = self._workings.ask(job)

    def _give_up(self) -> None:
        self._workings.drop()
        self._asked = 0
        if self.answer is None:
            self.reason.setText(tr("Given up; close this and ask again for the ways."))

    def hideEvent(self, event: QHideEvent) -> None:
        """Nobody waits for the ways of a panel that is closed."""
        self._workings.drop()
        super().hideEvent(event)

    def _fail(self, number: int, fault: str) -> None:
        if number == self._asked:
            self.reason.setText(
                tr(
                    "The ways could not be worked out; change something and ask again ({fault}).",
                    fault=fault,
                )
            )

    # --- what is shown ------------------------------------------------------------------

    def _show(self, number: int, answer: Answer) -> None:
        if number != self._asked:
            return
        self.answer = answer
        advice = answer.advice
        lines = [
            tr("Recommended: {way}. {reason}", way=advice.name, reason=_by_lines(advice.reason))
        ]
        lines += [f"⚠ {w}" for w in advice.warnings]
        self.reason.setText("\n".join(lines))
        body = QWidget()
        grid = QGridLayout(body)
        grid.setHorizontalSpacing(14)
        self.pictures = {}
        for column, way in enumerate(answer.ways, 1):
            self._column(grid, column, way, answer)
        rows = figure_rows(answer.ways, answer.project)
        for row, (label, texts) in enumerate(rows, 2):
            grid.addWidget(QLabel(label, body), row, 0)
            for column, text in enumerate(texts, 1):
                cell = QLabel(text, body)
                cell.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                grid.addWidget(cell, row, column)
        grid.setRowStretch(1, 1)
        self._scroll.setWidget(body)
        chosen = next(w for w in answer.ways if w.comparison.chosen)
        self.pictures[chosen.comparison.name].setFocus()

    def _column(self, grid: QGridLayout, column: int, way: Way, answer: Answer) -> None:
        name = way.comparison.name
        best = way is answer.advice.way
        words = tr(way_in_words(way))
        signs = [f"★ {tr('recommended')}"] if best else []
        signs += [f"● {tr('in use')}"] if way.comparison.chosen else []
        head = QLabel(words[:1].upper() + words[1:] + "\n" + (", ".join(signs) or " "), self)
        head.setFont(emboldened(head.font()))
        head.setWordWrap(True)
        grid.addWidget(head, 0, column)
        picture = Picture(
            drawing_of(way, answer.room, answer.project.units), self._window.inks, self
        )
        figures = ", ".join(
            f"{label} {texts[0]}" for label, texts in figure_rows((way,), answer.project)
        )
        picture.setAccessibleName(", ".join((words, *signs)))
        picture.setAccessibleDescription(figures)
        picture.setToolTip(tr("Click, or press Enter, to use {way}", way=words))
        picture.clicked.connect(lambda: self._adopt(way))
        grid.addWidget(picture, 1, column)
        grid.setColumnStretch(column, 1)
        self.pictures[name] = picture
        button = QPushButton(tr("In use") if way.comparison.chosen else tr("Use this way"), self)
        button.setAutoDefault(False)
        button.setEnabled(not way.comparison.chosen)
        button.setAccessibleName(tr("Use {way}", way=words))
        button.clicked.connect(lambda: self._adopt(way))
        grid.addWidget(button, 30, column)

    def _adopt(self, way: Way) -> None:
        answer = self.answer
        if answer is None or way.comparison.chosen:
            return
        if adopt_way(self._desk.document, answer.room.room.id, way):
            self._desk.say(tr("Now: {way}.", way=tr(way_in_words(way))))
