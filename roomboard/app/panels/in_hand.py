"""What is in hand: its name, a sentence about it, its figures, and what can be done with it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.desk import Desk
from roomboard.app.figures import Figure, Kind, figures_of, thing_of
from roomboard.app.figures import things as known
from roomboard.app.figures.naming import named_in_hand
from roomboard.app.lettering import emboldened
from roomboard.app.panels.area import Area
from roomboard.app.panels.fields import Field, field_of
from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.acts import ActBar

BUTTONS: dict[str, tuple[str, ...]] = {
    known.ROOM: (
        "room.mirror",
        "room.turn",
        "room.duplicate",
        "room.remove",
        "sheets.automatic.room",
    ),
    known.WALL: (
        "opening.door",
        "opening.window",
        "room.bulkhead",
        "room.push_part",
        "opening.copy",
    ),
    known.CORNER: ("room.remove_corner",),
    known.SURFACE: ("sheets.which_way", "sheets.other_way", "sheets.automatic.face"),
    known.OPENING: ("held.delete",),
    known.ZONE: ("frame.turn", "frame.split", "frame.join"),
    known.MEMBER: ("held.delete", "frame.add_joist", "frame.turn"),
    known.STUD: ("held.delete", "frame.add_stud"),
    known.NOGGING: ("held.delete", "frame.add_nogging"),
    known.BULKHEAD: ("held.delete",),
    known.COLUMN: ("held.delete",),
    known.PIECE: (
        "sheets.which_way",
        "sheets.lock",
        "sheets.unlock",
        "piece.cut",
        "piece.hung",
        "piece.open",
    ),
    known.JOINT: ("sheets.lock", "sheets.unlock"),
}
"""Acts that stand under the figures of each kind of thing, as far as the menus have them."""


TOP = Qt.AlignmentFlag.AlignTop
LABEL = 118
"""Width of the labels, pixels."""
ROW = 306
"""Buttons whose widths come to more than this go on in the next row, pixels."""


class InHand(QWidget):
    """The panel of what is held; it stays as it is while results come in.

    Attributes:
        title: What is held.
        fields: The fields, top to bottom.
        after: What Tab comes from to the first of them, or None.

    Signals:
        left: The user is done here and goes back to the drawing.
    """

    left = Signal()

    def __init__(
        self, desk: Desk, bar: ActBar | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._bar = bar
        self._shape: tuple[object, ...] = ()
        self.fields: list[Field] = []
        self.after: QWidget | None = None
        self._labels: list[QLabel] = []
        self.setAccessibleName(tr("In hand"))
        self.title = QLabel(self)
        self.title.setFont(emboldened(self.title.font()))
        self.title.setWordWrap(True)
        self.sentence = QLabel(self)
        self.sentence.setWordWrap(True)
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        self._area = Area(self)
        self._area.setAccessibleName(tr("What is told of what is held"))
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._buttons = QWidget(self)
        self._rows = QVBoxLayout(self._buttons)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(2)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 4, 4)
        column.setSpacing(3)
        column.addWidget(self.title)
        column.addWidget(self.sentence)
        column.addWidget(self._area, 1)
        column.addWidget(self._buttons)
        desk.held_changed.connect(self.refresh)
        desk.room_changed.connect(self.refresh)
        desk.lens_changed.connect(self.refresh)
        desk.document.shown_changed.connect(self.refresh)
        desk.document.scheme_changed.connect(self.refresh)
        self.refresh()

    # --- what it shows ------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what is held as it is now; rebuilt only if it is another thing."""
        desk = self._desk
        figures = for_lens(figures_of(desk, desk.held), desk.lens)
        self._name()
        shape = (desk.room_id, desk.held, tuple((f.name, f.kind, f.group) for f in figures))
        if shape == self._shape:
            for field, label, figure in zip(self.fields, self._labels, figures, strict=True):
                field.show_figure(figure)
                if label.text() != figure.label:
                    label.setText(figure.label)
            return
        same_thing = self._shape[:2] == shape[:2]
        self._shape = shape
        self._rebuild(figures, same_thing=same_thing)

    def _name(self) -> None:
        said = named_in_hand(self._desk)
        self.title.setText(f"{said.title}  ·  {said.figures}" if said.figures else said.title)
        self.sentence.setText(tr(said.sentence) if said.sentence else "")
        self.sentence.setVisible(bool(said.sentence))

    # --- how it is built ----------------------------------------------------------------

    def _rebuild(self, figures: tuple[Figure, ...], *, same_thing: bool) -> None:
        focused = next((f.figure.name for f in self.fields if f.control.hasFocus()), "")
        scroll = self._area.verticalScrollBar().value() if same_thing else 0
        inside = QWidget(self._area)
        form = QGridLayout(inside)
        form.setContentsMargins(0, 0, 8, 0)
        form.setVerticalSpacing(3)
        form.setColumnStretch(1, 1)
        self.fields, self._labels = [], []
        group = ""
        for figure in figures:
            if figure.group != group:
                words = figure.group or tr("Measured")
                form.addWidget(_heading(words, inside), form.rowCount(), 0, 1, 2)
            group = figure.group
            self._add(form, figure, inside)
        form.setRowStretch(form.rowCount(), 1)
        old = self._area.takeWidget()
        self._area.setWidget(inside)
        if old is not None:
            old.hide()
            old.deleteLater()
        self._fill_buttons()
        self._chain()
        # Where nothing can be set, the arrow keys scroll what is told.
        settable = any(f.figure.put is not None for f in self.fields)
        policy = Qt.FocusPolicy.NoFocus if settable else Qt.FocusPolicy.StrongFocus
        self._area.setFocusPolicy(policy)
        if focused and same_thing:
            for field in self.fields:
                if field.figure.name == focused:
                    field.control.setFocus(Qt.FocusReason.OtherFocusReason)
        self._area.verticalScrollBar().setValue(scroll)

    def _add(self, form: QGridLayout, figure: Figure, inside: QWidget) -> None:
        field = field_of(figure, self._desk.document, inside)
        field.left.connect(self.left)
        label = QLabel(figure.label, inside)
        label.setWordWrap(True)
        label.setFixedWidth(LABEL)
        if figure.kind is not Kind.TOLD:
            # In line with what stands in the field.
            label.setContentsMargins(0, 4, 0, 0)
        if figure.kind is not Kind.TOLD:
            label.setBuddy(field.control)
        row = form.rowCount()
        form.addWidget(label, row, 0, TOP)
        form.addWidget(field, row, 1)
        self.fields.append(field)
        self._labels.append(label)

    def _fill_buttons(self) -> None:
        """Put the acts that fit the thing under its figures, as many to a row as there is room."""
        self._acts: list[QToolButton] = []
        for button in self._buttons.findChildren(QToolButton):
            button.hide()
            button.deleteLater()
        while (item := self._rows.takeAt(0)) is not None:
            row = item.layout()
            if row is not None:
                row.deleteLater()
        thing = thing_of(self._desk, self._desk.held)
        actions = self._bar.actions if self._bar is not None else {}
        wanted = BUTTONS.get(thing.kind, ()) if thing is not None else ()
        line, used = QHBoxLayout(), ROW
        for action in (actions[name] for name in wanted if name in actions):
            button = self._button(action)
            self._acts.append(button)
            used += button.sizeHint().width()
            if used > ROW:
                line, used = QHBoxLayout(), button.sizeHint().width()
                line.setAlignment(Qt.AlignmentFlag.AlignLeft)
                self._rows.addLayout(line)
            line.addWidget(button)
        self._buttons.setVisible(self._rows.count() > 0)

    def _button(self, action: QAction) -> QToolButton:
        act = next(a for a in self._bar.acts if a.id == action.objectName()) if self._bar else None
        words = action.text()
        if act is not None and "/" in act.menu:
            words = f"{tr(act.menu.rpartition('/')[2])}: {words}"
        return _ActButton(action, words, self._buttons)

    def _chain(self) -> None:
        """Let Tab go through the fields top to bottom, the acts, and on to the next panel.

        What was made anew would come last in the window otherwise, far behind its panel.
        """
        controls: list[QWidget] = [f.control for f in self.fields if f.figure.kind is not Kind.TOLD]
        controls += self._acts
        before = self.after
        for control in controls:
            if before is not None:
                QWidget.setTabOrder(before, control)
            before = control

    # --- what others ask ----------------------------------------------------------------

    def begin(self) -> None:
        """Put the focus into the first field that can be set."""
        for field in self.fields:
            if field.figure.put is not None:
                field.control.setFocus(Qt.FocusReason.ShortcutFocusReason)
                self._area.ensureWidgetVisible(field)
                return
        self._area.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def field(self, label: str, group: str = "") -> Field:
        """Return the field of a figure by its label, or by its key.

        Raises:
            KeyError: If there is none.
        """
        for field in self.fields:
            figure = field.figure
            if label in {figure.label, figure.key} and group in {"", figure.group}:
                return field
        raise KeyError(label)


def for_lens(figures: Sequence[Figure], lens: str) -> tuple[Figure, ...]:
    """Return figures with those first that belong to a lens, otherwise in their order."""
    return tuple(sorted(figures, key=lambda f: f.work != lens))


class _ActButton(QToolButton):
    """A button for an act of the menus; it can be pressed whenever the act can be done."""

    def __init__(self, action: QAction, words: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._action = action
        self.setText(words)
        self.setAccessibleName(words)
        keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        tip = action.toolTip()
        self.setToolTip(f"{tip}  ({keys})" if keys else tip)
        self.setStatusTip(action.statusTip())
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.clicked.connect(action.trigger)
        action.changed.connect(self._follow)
        self._follow()

    def _follow(self) -> None:
        self.setEnabled(self._action.isEnabled())


def _heading(words: str, parent: QWidget) -> QLabel:
    label = QLabel(words, parent)
    label.setFont(emboldened(label.font()))
    label.setContentsMargins(0, 6, 0, 0)
    return label
