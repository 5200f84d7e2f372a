"""How long a sheet gets in: what it passes is typed, the estimate and its cost stand under it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
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
from roomboard.app.words import tr
from roomboard.core.carry_cost import carry_cost
from roomboard.core.carry_in import CAUTION, Sheet, WayIn, clearance_of, way_in
from roomboard.core.editing.room_choices import limit_by_way_in
from roomboard.core.read_way_in import EXAMPLE, estimate_words, obstacle_words, read_way_in
from roomboard.core.units import Refusal, write_length

if TYPE_CHECKING:
    from roomboard.app.desk import Desk
    from roomboard.app.window import Window
    from roomboard.core.project import Units


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
        self._found: WayIn | None = None
        self.setWindowTitle(tr("Which sheets get in"))
        self.setModal(False)
        self.way = QLineEdit(self)
        self.way.setPlaceholderText(EXAMPLE)
        self.way.setAccessibleName(tr("What a sheet passes on its way in"))
        self.way.setToolTip(
            tr("Corners, landings, doors and windows, with ; between them: {e}", e=EXAMPLE)
        )
        self.way.textChanged.connect(self._again)
        self.width_of = QComboBox(self)
        self.width_of.setAccessibleName(tr("Width of the sheets"))
        self.width_of.setToolTip(tr("A sheet is carried on edge: its width is its height there."))
        for width in self._widths():
            self.width_of.addItem(write_length(width, self._units, suffix=True), width)
        self.width_of.currentIndexChanged.connect(self._again)
        self.told = self._label(tr("The estimate"))
        self.cost = self._label(tr("What the limit costs"))
        caution = self._label(tr("Caution"))
        caution.setText(tr(CAUTION))
        self.use = QPushButton(tr("Use this limit for the room"), self)
        self.use.setToolTip(tr("Longer sheets are not used in the room shown; undo takes it back."))
        self.use.clicked.connect(self.take)
        self.use.setEnabled(False)
        form = QFormLayout()
        form.addRow(tr("A sheet passes"), self.way)
        form.addRow(tr("Sheet width"), self.width_of)
        column = QVBoxLayout(self)
        column.addLayout(form)
        for label in (self.told, self.cost, caution):
            column.addWidget(label)
        column.addStretch(1)
        column.addWidget(self.use)
        self.resize(560, 340)
        room = desk.room
        if room is not None and room.carry_in_note and self._reads(room.carry_in_note):
            self.way.setText(room.carry_in_note)

    def _label(self, name: str) -> QLabel:
        label = QLabel(self)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        label.setAccessibleName(name)
        return label

    @property
    def _units(self) -> Units:
        return self._desk.document.project.units

    def _reads(self, text: str) -> bool:
        return not isinstance(read_way_in(text, self._units), Refusal)

    def _widths(self) -> list[float]:
        setting, room = self._desk.document.setting, self._desk.room
        board = setting.board(room.ceiling_board if room else "", "ceiling")
        return sorted(setting.sizes(board), reverse=True)

    def _again(self) -> None:
        """Estimate anew what is typed."""
        self._found = None
        self.cost.clear()
        self.use.setEnabled(False)
        units, setting, room = self._units, self._desk.document.setting, self._desk.room
        text = self.way.text()
        if not text.strip():
            self.told.clear()
            return
        read = read_way_in(text, units)
        if isinstance(read, Refusal):
            self.told.setText(read.sentence)
            return
        board = setting.board(room.ceiling_board if room else "", "ceiling")
        sheet = Sheet(
            width=float(self.width_of.currentData() or 0.0),
            thickness=board.thickness,
            clearance=clearance_of(setting.practice),
        )
        found = way_in(read, sheet)
        lines = [estimate_words(e, units) for e in found.estimates]
        if found.shut:
            lines.append(tr("No sheet so wide gets in."))
        elif not found.longest:
            lines.append(tr("Nothing here limits the length."))
        else:
            lines.append(
                tr("Longest sheet: {l}.", l=write_length(found.longest, units, suffix=True))
            )
        self.told.setText("\n".join(lines))
        if found.longest and room is not None:
            self._found = found
            self.use.setEnabled(True)
            document = self._desk.document
            cost = carry_cost(
                document.project, room.id, found.longest, document.catalogue, document.practice
            )
            self.cost.setText(cost.words(units) if cost else "")

    def take(self) -> None:
        """Put the limit into the room shown."""
        found = self._found
        if found is None:
            return
        units = self._units
        note = "; ".join(obstacle_words(e.obstacle, units) for e in found.estimates)
        longest = found.longest
        self._desk.edit_room(
            tr("Limit the sheets that get in"), lambda room: limit_by_way_in(room, longest, note)
        )


def acts(window: Window) -> list[Act]:
    """Return the act that opens the panel."""

    def run() -> None:
        panel = CarryIn(window.desk, window)
        panel.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        panel.show()
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
