"""The row of faces over the canvas: the opened-out room, plan, ceiling, each wall, the cutting."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QToolButton,
    QWidget,
)

from roomboard.app.desk import BELOW, CEILING, CUTTING, OPENED_OUT, PLAN, Desk
from roomboard.app.words import tr
from roomboard.core.project import WallKind

FIXED = (
    (OPENED_OUT, "Opened out", "The room laid flat: ceiling in the middle, walls folded out (H)"),
    (PLAN, "Plan", "The floor plan with the joists over it (P)"),
    (CEILING, "Ceiling", "The ceiling, laid out like the floor plan (C)"),
    (BELOW, "From below", "The ceiling as one sees it looking up (Shift+C)"),
)


def _short(name: str) -> str:
    """Return the name of a box's face as it stands on its button, e.g. ``c1 side 1``."""
    for word in ("Column ", "Bulkhead "):
        name = name.removeprefix(word)
    return name


class Faces(QScrollArea):
    """One button for each view of the room; a row too long for the window is scrolled."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._inside = QWidget(self)
        self.setWidget(self._inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._row = QHBoxLayout(self._inside)
        self._row.setContentsMargins(4, 2, 4, 2)
        self._row.setSpacing(2)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._buttons: dict[str, QToolButton] = {}
        self._names: tuple[tuple[str, str, str], ...] = ()
        self.setAccessibleName(tr("Faces of the room"))
        desk.room_changed.connect(self._rebuild)
        desk.view_changed.connect(self._follow)
        desk.document.scheme_changed.connect(self._rebuild)
        self._rebuild()

    def _wanted(self) -> tuple[tuple[str, str, str], ...]:
        names = [(key, tr(words), tr(tip)) for key, words, tip in FIXED]
        room = self._desk.room
        scheme = self._desk.room_scheme
        made = {s.surface.key for s in scheme.surfaces} if scheme else set()
        for wall in room.walls if room else ():
            key = f"wall:{wall.id}"
            if wall.kind is WallKind.WALL and wall.lined and key in made:
                name = wall.name or wall.id
                names.append((key, name, tr("Wall {name} seen from inside", name=name)))
        names.extend(
            (s.surface.key, _short(s.surface.name), s.surface.name)
            for s in (scheme.surfaces if scheme else ())
            if s.surface.key.startswith(("bulkhead:", "column:", "step:"))
        )
        names.append((CUTTING, tr("Cutting"), tr("How each stock sheet is cut (K)")))
        return tuple(names)

    def _rebuild(self) -> None:
        wanted = self._wanted()
        if wanted != self._names:
            self._names = wanted
            for button in self._buttons.values():
                self._group.removeButton(button)
                self._row.removeWidget(button)
                button.hide()
                button.deleteLater()
            while self._row.count():
                self._row.takeAt(0)
            self._buttons = {}
            for key, words, tip in wanted:
                button = QToolButton(self._inside)
                button.setText(words)
                button.setToolTip(tip)
                button.setStatusTip(tip)
                button.setAccessibleName(tip)
                button.setCheckable(True)
                button.setAutoRaise(True)
                button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
                button.clicked.connect(lambda _=False, view=key: self._desk.show_view(view))
                self._group.addButton(button)
                self._row.addWidget(button)
                button.show()  # at once, so that the row knows how high it is
                self._buttons[key] = button
            self._row.addStretch(1)
            self._fit()
        self._follow()

    def _fit(self) -> None:
        """Take the height of the buttons, and that of a scroll bar where one is needed."""
        inside = self._row.sizeHint()
        bar = self.horizontalScrollBar().sizeHint().height() if inside.width() > self.width() else 0
        self.setFixedHeight(inside.height() + bar)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for a scroll bar, or take it back; stay on the view shown."""
        super().resizeEvent(event)
        self._fit()
        self._row.setGeometry(self._inside.rect())  # it was laid for the height before
        self._follow()

    def showEvent(self, event: QShowEvent) -> None:
        """Lay the buttons for the height the row has got meanwhile."""
        super().showEvent(event)
        self._fit()
        self._row.setGeometry(self._inside.rect())

    def _follow(self) -> None:
        button = self._buttons.get(self._desk.view)
        if button is not None:
            button.setChecked(True)
            self.ensureWidgetVisible(button, 8, 0)
