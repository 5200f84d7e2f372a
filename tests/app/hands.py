"""A user's hands on the real window: keys where the focus is, the mouse on the canvas."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from roomboard.app.window import Window
from roomboard.core.plane import Point
from roomboard.core.project import Room

NONE = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
CTRL = Qt.KeyboardModifier.ControlModifier
LEFT = Qt.MouseButton.LeftButton


class Hands:
    """Acts as a user does and waits until the desk has settled."""

    def __init__(self, qtbot: QtBot, window: Window, settle: Callable[[Window], None]) -> None:
        self.qtbot, self.window, self._settle = qtbot, window, settle

    def settle(self) -> None:
        """Wait until everything is worked out and drawn."""
        self._settle(self.window)

    # --- keys ---------------------------------------------------------------------------

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Press a key where the focus is."""
        self.qtbot.keyClick(QApplication.focusWidget() or self.window, key, modifiers)
        QApplication.processEvents()

    def write(self, text: str) -> None:
        """Type text where the focus is, which may move to the line under the canvas."""
        for letter in text:
            self.qtbot.keyClick(QApplication.focusWidget() or self.window, letter)

    def enter(self, text: str = "") -> None:
        """Type text and Enter."""
        self.write(text)
        self.key(Qt.Key.Key_Return)

    def line(self, text: str) -> None:
        """Put the cursor into the line under the canvas, type, press Enter and go back."""
        self.window.entry.line.setFocus()
        self.enter(text)
        self.key(Qt.Key.Key_Escape)
        self.settle()

    # --- the mouse ----------------------------------------------------------------------

    def at(self, point: Point, pane: str = "") -> QPoint:
        """Where a point of a pane (in plan without one) lies on the canvas."""
        if pane:
            drawn = self.window.canvas.drawn
            assert drawn is not None
            found = drawn.view.pane(pane)
            assert found is not None, [p.key for p in drawn.view.panes]
            point = found.placing.apply(point)
        return self.window.canvas.port.to_screen(point).toPoint()

    def move(
        self, to: QPoint, modifiers: Qt.KeyboardModifier = NONE, *, down: bool = False
    ) -> None:
        """Move the pointer, with the left button down or not."""
        self._mouse(QEvent.Type.MouseMove, to, modifiers, held=LEFT if down else None)

    def press(self, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Press the left button."""
        self._mouse(QEvent.Type.MouseButtonPress, at, modifiers, button=LEFT, held=LEFT)

    def release(self, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Let the left button go."""
        self._mouse(QEvent.Type.MouseButtonRelease, at, modifiers, button=LEFT)

    def click(self, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Move there and click."""
        self.move(at, modifiers)
        self.press(at, modifiers)
        self.release(at, modifiers)

    def drag(self, start: QPoint, end: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Press, move in two steps, and stay with the button down."""
        self.move(start, modifiers)
        self.press(start, modifiers)
        middle = QPoint((start.x() + end.x()) // 2, (start.y() + end.y()) // 2)
        self.move(middle, modifiers, down=True)
        self.move(end, modifiers, down=True)

    def _mouse(
        self,
        kind: QEvent.Type,
        at: QPoint,
        modifiers: Qt.KeyboardModifier,
        button: Qt.MouseButton = Qt.MouseButton.NoButton,
        held: Qt.MouseButton | None = None,
    ) -> None:
        canvas = self.window.canvas
        event = QMouseEvent(
            kind,
            QPointF(at),
            QPointF(canvas.mapToGlobal(at)),
            button,
            held if held is not None else Qt.MouseButton.NoButton,
            modifiers,
        )
        QApplication.sendEvent(canvas, event)
        QApplication.processEvents()

    # --- what came of it ----------------------------------------------------------------

    @property
    def room(self) -> Room:
        """The room shown, as the project has it."""
        room = self.window.document.project.room(self.window.desk.room_id)
        assert room is not None
        return room

    def sizes(self) -> list[float]:
        """The lengths of the room's walls."""
        return [round(self.room.wall_length(i), 3) for i in range(len(self.room.walls))]
