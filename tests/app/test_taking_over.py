"""Rooms taken over from files on the desk: seen before they are added, added in one step."""

import threading
import time

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from roomboard.app.taking_over import show_rooms
from roomboard.importers.outlines import open_drawing

LIST = """room,width,depth,height,joists
Bedroom,3580,3040,2400,along y at 450
Hall,1100,4200,2400,
"""


@pytest.fixture
def drawing(tmp_path):
    import ezdxf

    made = ezdxf.new()
    made.header["$INSUNITS"] = 0
    space = made.modelspace()
    for layer, x in (("ROOMS", 0), ("FURNITURE", 9)):
        corners = [(x, 0), (x + 4, 0), (x + 4, 3), (x, 3)]
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})
    path = tmp_path / "plan.dxf"
    made.saveas(path)
    return path


def rows(dialog):
    end = time.monotonic() + 10
    while not dialog.settled and time.monotonic() < end:
        QTest.qWait(1)
    assert dialog.settled
    items = [dialog.list.topLevelItem(i) for i in range(dialog.list.topLevelItemCount())]
    return [(item.text(0), item.text(1)) for item in items]


def test_a_list_is_shown_then_added_and_undone(desk_window, settle, qtbot, tmp_path):
    path = tmp_path / "sizes.csv"
    path.write_text(LIST)
    document = desk_window.document
    dialog = show_rooms(desk_window, path)
    assert [name for name, _ in rows(dialog)] == ["Bedroom", "Hall"]
    assert "3580" in rows(dialog)[0][1]
    assert document.project.rooms == ()
    qtbot.mouseClick(dialog.add, Qt.MouseButton.LeftButton)
    settle(desk_window)
    assert [room.name for room in document.project.rooms] == ["Bedroom", "Hall"]
    assert desk_window.desk.room_id == "bedroom"
    assert document.scheme.rooms[0].surfaces
    document.undo_stack.undo()
    assert document.project.rooms == ()


def test_a_drawing_is_read_anew_as_the_fields_say(desk_window, qtbot, drawing):
    dialog = show_rooms(desk_window, drawing)
    assert "unit" in rows(dialog)[0][1]
    assert not dialog.add.isEnabled()
    dialog.unit.setCurrentIndex(dialog.unit.findData("m"))
    dialog.unit.activated.emit(dialog.unit.currentIndex())
    assert [name for name, _ in rows(dialog)] == ["Room 1", "Room 2"]
    dialog.layer.setCurrentIndex(dialog.layer.findText("ROOMS"))
    dialog.layer.activated.emit(dialog.layer.currentIndex())
    assert len(rows(dialog)) == 1
    dialog.high.clear()
    qtbot.keyClicks(dialog.high, "much")
    assert not dialog.add.isEnabled()
    dialog.high.clear()
    qtbot.keyClicks(dialog.high, "2.7 m")
    assert "2700" in rows(dialog)[0][1]
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    (room,) = desk_window.document.project.rooms
    assert room.height == 2700


def test_a_file_that_holds_no_rooms_says_why_and_adds_nothing(desk_window, tmp_path):
    path = tmp_path / "sizes.csv"
    path.write_text("name,size\nBedroom,big\n")
    dialog = show_rooms(desk_window, path)
    assert any("“room”" in said for _, said in rows(dialog))
    dialog.reject()
    assert desk_window.document.project.rooms == ()


def test_a_drawing_is_opened_once_however_often_it_is_read(
    desk_window, qtbot, drawing, monkeypatch
):
    opened = []

    def noted(path):
        opened.append(threading.current_thread())
        return open_drawing(path)

    monkeypatch.setattr("roomboard.app.dialogs.taking_over.open_drawing", noted)
    dialog = show_rooms(desk_window, drawing)
    rows(dialog)
    dialog.unit.setCurrentIndex(dialog.unit.findData("m"))
    dialog.high.clear()
    qtbot.keyClicks(dialog.high, "2.7 m")
    assert "2700" in rows(dialog)[0][1]
    assert len(opened) == 1
    assert threading.main_thread() not in opened
    dialog.reject()
