"""How long a sheet gets in: what it passes is typed, the estimate and its cost stand under it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.acts import Act
from roomboard.app.panels.waiting import Waiting
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.carry_cost import CarryCost, carry_cost
from roomboard.core.carry_in import CAUTION, Obstacle, Sheet, WayIn, clearance_of, way_in
from roomboard.core.editing.room_choices import limit_by_way_in
from roomboard.core.read_way_in import EXAMPLE, estimate_words, obstacle_words, read_way_in
from roomboard.core.units import Refusal, write_length

if TYPE_CHECKING:
    from roomboard.app.desk import Desk
    from roomboard.app.window import Window
    from roomboard.core.project import Units
    from roomboard.core.stock import Board


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimated:
    """What came of a way in.

    Attributes:
        room: Id of the room it is for.
        found: The estimates.
        cost: What the limit costs the room; None without a limit.
    """

    room: str
    found: WayIn
    cost: CarryCost | None


class CarryIn(QDialog):
    """A small panel over the desk; the room shown takes the limit at a button.

    Attributes:
        way: What a sheet passes, as it is typed.
        width_of: Width of the sheets.
        told: The estimates, each with its formula, or why the line was not taken.
        cost: What the limit costs the room.
        use: Puts the limit into the room.
    """

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._estimated: Estimated | None = None
        self._asked = 0
        self._of: object = None
        self.setModal(False)
        self.way = QLineEdit(self)
        self.way.setPlaceholderText(EXAMPLE)
        self.way.setAccessibleName(tr("What a sheet passes on its way in"))
        self.way.setToolTip(
            tr("Corners, landings, doors and windows, with ; between them: {e}", e=EXAMPLE)
        )
        self.width_of = QComboBox(self)
        self.width_of.setAccessibleName(tr("Width of the sheets"))
        self.width_of.setToolTip(tr("A sheet is carried on edge: its width is its height there."))
        self.told = self._label(tr("The estimate"))
        self.cost = self._label(tr("What the limit costs"))
        caution = self._label(tr("Caution"))
        caution.setText(tr(CAUTION))
        self.use = QPushButton(tr("Use this limit for the room"), self)
        self.use.setToolTip(tr("Longer sheets are not used in the room shown; undo takes it back."))
        self.use.clicked.connect(self.take)
        form = QFormLayout()
        form.addRow(tr("A sheet passes"), self.way)
        form.addRow(tr("Sheet width"), self.width_of)
        column = QVBoxLayout(self)
        column.addLayout(form)
        for label in (self.told, self.cost, caution):
            column.addWidget(label)
        column.addStretch(1)
        self._workings = Workings("way in", self)
        self.waiting = Waiting(
            tr("Working out what it costs …"), tr("Stop; nothing changes."), self._give_up, self
        )
        self._workings.busy_changed.connect(self.waiting.follow)
        column.addWidget(self.waiting)
        column.addWidget(self.use)
        open_sized(self, 560, 340)
        self._workings.done.connect(self._show)
        self._workings.failed.connect(self._fail)
        # The thread must have ended before the values it tells of are gone.
        self.destroyed.connect(self._workings.close)
        self._take_note()
        self._follow()
        self.way.textChanged.connect(self._again)
        self.width_of.currentIndexChanged.connect(self._again)
        desk.room_changed.connect(self._another_room)
        desk.document.project_changed.connect(self._follow)

    def _label(self, name: str) -> QLabel:
        label = QLabel(self)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        label.setAccessibleName(name)
        return label

    @property
    def settled(self) -> bool:
        """Whether what is shown is of what is typed."""
        return not self._asked

    @property
    def _units(self) -> Units:
        return self._desk.document.project.units

    # --- the room -----------------------------------------------------------------------

    def _another_room(self) -> None:
        """Take what was noted for the room shown now, unless something else is typed."""
        if not self.way.isModified():
            self._take_note()
        self._follow()

    def _take_note(self) -> None:
        room = self._desk.room
        note = room.carry_in_note if room is not None else ""
        if note and not isinstance(read_way_in(note, self._units), Refusal):
            with QSignalBlocker(self.way):
                self.way.setText(note)

    def _follow(self) -> None:
        """Follow the room shown, its board and what may be bought of it."""
        room, document = self._desk.room, self._desk.document
        self.setWindowTitle(
            tr("Which sheets get into {room}", room=room.name)
            if room is not None
            else tr("Which sheets get in")
        )
        board = self._board()
        sizes = document.setting.sizes(board) if board is not None else ()
        widths = sorted(sizes, reverse=True)
        before = self.width_of.currentData()
        with QSignalBlocker(self.width_of):
            self.width_of.clear()
            for width in widths:
                self.width_of.addItem(write_length(width, self._units, suffix=True), width)
            if before in widths:
                self.width_of.setCurrentIndex(widths.index(before))
        self.width_of.setEnabled(bool(widths))
        self._again()

    def _board(self) -> Board | None:
        """Return the board of the ceiling; None where the stock has none of that name."""
        room = self._desk.room
        try:
            return self._desk.document.setting.board(room.ceiling_board if room else "", "ceiling")
        except KeyError:
            return None

    # --- the estimate -------------------------------------------------------------------

    def _again(self) -> None:
        """Estimate anew what is typed."""
        read = self._read()
        if isinstance(read, str):
            self._workings.drop()
            self._asked, self._of = 0, None
            self._tell(read, None)
            return
        obstacles, sheet = read
        document, room = self._desk.document, self._desk.room_id
        project, stock, practice = document.project, document.catalogue, document.practice
        of = (obstacles, sheet, project, room)
        if of == self._of:
            return
        self._of = of
        self._tell(tr("Working it out …"), None)

        def job() -> Estimated:
            found = way_in(obstacles, sheet)
            cost = (
                carry_cost(project, room, found.longest, stock, practice) if found.longest else None
            )
            return Estimated(room=room, found=found, cost=cost)

        self._workings.drop()
        self._asked = self._workings.ask(job)

    def _read(self) -> tuple[tuple[Obstacle, ...], Sheet] | str:
        """Return what is to be estimated, or what is said instead."""
        text = self.way.text()
        if not text.strip():
            return ""
        read = read_way_in(text, self._units)
        if isinstance(read, Refusal):
            return read.sentence
        board, width = self._board(), self.width_of.currentData()
        if board is None:
            return tr("The stock does not have this room’s ceiling board; choose another one.")
        if not width:
            return tr(
                "No sheet of {board} has a length and a width that this job allows; allow more "
                "of them in what holds for the job.",
                board=board.name,
            )
        clearance = clearance_of(self._desk.document.setting.practice)
        return read, Sheet(width=width, thickness=board.thickness, clearance=clearance)

    def _show(self, number: int, estimated: Estimated) -> None:
        if number != self._asked:
            return
        self._asked = 0
        units, found = self._units, estimated.found
        lines = [estimate_words(e, units) for e in found.estimates]
        if found.shut:
            lines.append(tr("No sheet so wide gets in."))
        elif not found.longest:
            lines.append(tr("Nothing here limits the length."))
        else:
            longest = write_length(found.longest, units, suffix=True)
            lines.append(tr("Longest sheet: {l}.", l=longest))
        self._tell("\n".join(lines), None if found.shut else estimated)

    def _give_up(self) -> None:
        self._workings.drop()
        self._asked = 0
        self._tell(tr("Given up; change what is typed to estimate it."), None)

    def _fail(self, number: int, fault: str) -> None:
        if number == self._asked:
            self._asked = 0
            self._tell(
                tr("This could not be estimated; type it another way ({fault}).", fault=fault), None
            )

    def _tell(self, words: str, estimated: Estimated | None) -> None:
        """Say what came of it, and let it be used where there is something to use."""
        self.told.setText(words)
        self._estimated = estimated
        cost = estimated.cost if estimated is not None else None
        self.cost.setText(cost.words(self._units) if cost is not None else "")
        self.use.setEnabled(estimated is not None and bool(estimated.room))

    def take(self) -> None:
        """Put the limit into the room it was estimated for."""
        estimated, units = self._estimated, self._units
        if estimated is None or estimated.room != self._desk.room_id:
            return
        found = estimated.found
        note = "; ".join(obstacle_words(e.obstacle, units) for e in found.estimates)
        self.way.setModified(False)
        self._desk.edit_room(
            tr("Limit the sheets that get in"),
            lambda room: limit_by_way_in(room, found.longest, note),
        )


def acts(window: Window) -> list[Act]:
    """Return the act that opens the panel."""

    def run() -> None:
        panel = window.findChild(CarryIn)
        if panel is None:
            panel = CarryIn(window.desk, window)
            panel.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        panel.show()
        panel.activateWindow()
        panel.way.setFocus(Qt.FocusReason.ShortcutFocusReason)

    return [
        Act(
            id="room.carry_in",
            menu="Room",
            words="Which sheets get in …",
            run=run,
            keys="Ctrl+G",
            tip="Estimate the longest sheet that gets round the corners, and use it as the limit.",
            enabled=lambda: window.desk.room is not None,
        )
    ]
