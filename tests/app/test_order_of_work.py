"""The list of rooms: going from one to the next, changing the order of work."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from roomboard.app.window import Window


def test_rooms_are_shown_in_turn_and_put_in_another_order(
    qtbot: QtBot, demo_window: Window, settle: Callable[[Window], None]
) -> None:
    window = demo_window
    ids = [r.id for r in window.document.project.rooms]
    window.canvas.setFocus()
    qtbot.keyClick(window.canvas, Qt.Key.Key_PageDown)
    assert window.desk.room_id == ids[1]
    qtbot.keyClick(window.canvas, Qt.Key.Key_PageUp)
    qtbot.keyClick(window.canvas, Qt.Key.Key_PageUp)
    assert window.desk.room_id == ids[-1]
    qtbot.keyClick(window.canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    settle(window)
    moved = [r.id for r in window.document.project.rooms]
    assert moved == [*ids[:-2], ids[-1], ids[-2]]
    assert [window.rooms.item(n).text().strip(" !") for n in range(len(ids))] == [
        r.name for r in window.document.project.rooms
    ]
    assert window.desk.room_id == ids[-1]
    window.document.undo_stack.undo()
    assert [r.id for r in window.document.project.rooms] == ids


def test_the_first_room_cannot_go_earlier(qtbot: QtBot, demo_window: Window) -> None:
    before = demo_window.document.project
    demo_window.canvas.setFocus()
    qtbot.keyClick(demo_window.canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert demo_window.document.project is before
