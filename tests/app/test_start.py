"""How a first start goes: the panel over the canvas, by mouse and by keys."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QPushButton

from roomboard.app.dialogs.start import at_start, start_of
from roomboard.app.filing import open_first
from roomboard.app.recent import add_recent
from roomboard.storage.project_file import load, save
from roomboard.storage.resources import resource_files


@pytest.fixture
def window(qtbot, settings):
    (first,) = open_first([], settings)
    qtbot.waitUntil(lambda: QApplication.activeWindow() is first)
    return first


def click(qtbot, start, name):
    button = start.findChild(QPushButton, f"start.{name}")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_the_first_start_shows_how_to_begin_and_typing_a_room_begins(qtbot, window):
    start = start_of(window)
    assert start.isVisible()
    assert start.rect() == window.canvas.rect()
    assert start.line.hasFocus()
    # Digits must be typed, not choose a lens.
    qtbot.keyClicks(start.line, "Bedroom 3580 x 3040 h 2400")
    assert start.echo.text().startswith("= room Bedroom, 3580 × 3040")
    assert window.desk.lens == "measure"
    qtbot.keyClick(start.line, Qt.Key.Key_Return)
    (room,) = window.document.project.rooms
    assert (room.name, room.height) == ("Bedroom", 2400.0)
    assert start_of(window) is None
    assert window.canvas.hasFocus()
    window.document.undo_stack.undo()
    assert window.document.project.rooms == ()


def test_a_room_that_is_not_understood_is_said_with_a_sign(qtbot, window):
    start = start_of(window)
    qtbot.keyClicks(start.line, "3580 x 3,040")
    assert start.echo.text().startswith("✗ ")
    qtbot.keyClick(start.line, Qt.Key.Key_Return)
    assert window.document.project.rooms == ()
    assert start_of(window) is start
    assert start.line.text() == "3580 x 3,040"


def test_drawing_something_makes_it_go_away(window):
    assert start_of(window).isVisible()
    window.bar.actions["room.draw"].trigger()
    assert start_of(window) is None
    assert window.canvas.gesture is not None


def test_nothing_opens_larger_than_the_screen(window):
    screen = window.screen().availableGeometry()
    assert (window.width(), window.height()) <= (screen.width(), screen.height())
    for act in ("help.keys", "job.this", "sheets.variants"):
        window.bar.actions[act].trigger()
    dialogs = [d for d in window.findChildren(QDialog) if d.isVisible()]
    assert len(dialogs) == 3
    for dialog in dialogs:
        assert dialog.width() <= screen.width()
        assert dialog.height() <= screen.height()
        dialog.close()


def test_esc_skips_it(qtbot, window):
    start = start_of(window)
    qtbot.keyClick(start.line, Qt.Key.Key_Escape)
    assert start_of(window) is None
    assert window.canvas.hasFocus()


def test_skip_by_mouse(qtbot, window):
    click(qtbot, start_of(window), "skip")
    assert start_of(window) is None


def test_the_demo_opens_as_a_copy_that_cannot_be_written_over(qtbot, window):
    (path,) = resource_files("demo", ".roomboard.json")
    before = path.read_bytes()
    click(qtbot, start_of(window), "demo")
    assert window.document.project == load(path).project
    assert window.document.path is None
    assert start_of(window) is None
    window.bar.actions["job.save"].trigger()
    dialog = window.findChild(QFileDialog, "save_under_name")
    assert dialog is not None
    dialog.reject()
    assert path.read_bytes() == before


def test_a_file_opened_from_it(qtbot, window, tmp_path):
    (path,) = resource_files("demo", ".roomboard.json")
    own = tmp_path / "own.roomboard.json"
    save(load(path).project, own)
    click(qtbot, start_of(window), "open")
    dialog = window.findChild(QFileDialog, "ask_for_file")
    dialog.selectFile(str(own))
    dialog.accept()
    assert window.document.path == own
    assert start_of(window) is None


def test_files_opened_last_stand_in_it(qtbot, settings, tmp_path):
    (path,) = resource_files("demo", ".roomboard.json")
    own = tmp_path / "own.roomboard.json"
    save(load(path).project, own)
    add_recent(settings, own)
    (window,) = open_first([], settings)
    click(qtbot, start_of(window), "recent.0")
    assert window.document.path == own


def test_it_stays_away_where_it_is_not_wanted_and_is_always_in_the_help(qtbot, window, settings):
    start = start_of(window)
    qtbot.mouseClick(start.again, Qt.MouseButton.LeftButton, pos=start.again.rect().center() * 0.1)
    if start.again.isChecked():
        qtbot.keyClick(start.again, Qt.Key.Key_Space)
    assert not at_start(settings)
    window.close()
    (again,) = open_first([], settings)
    assert start_of(again) is None
    again.bar.refresh()
    assert not again.bar.actions["help.at_start"].isChecked()
    again.bar.actions["help.start"].trigger()
    assert start_of(again).isVisible()
    again.bar.actions["help.at_start"].trigger()
    assert at_start(settings)
    assert again.bar.actions["help.at_start"].isChecked()


def test_no_panel_over_a_file(settings, tmp_path):
    (path,) = resource_files("demo", ".roomboard.json")
    own = tmp_path / "own.roomboard.json"
    save(load(path).project, own)
    (window,) = open_first([own], settings)
    assert start_of(window) is None


def test_it_follows_the_canvas_in_size(qtbot, window):
    window.resize(1500, 900)
    qtbot.waitUntil(lambda: start_of(window).size() == window.canvas.size())
