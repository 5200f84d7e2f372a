"""Drawing rooms on the desk: by keys, by mouse and typing, by size."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from roomboard.app.gestures.walls import DrawWalls
from roomboard.app.window import Window
from roomboard.core.plane import signed_area
from roomboard.core.project import Units
from tests.app.hands import CTRL, SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    return Hands(qtbot, desk_window, settle)


def drawing(hands: Hands) -> DrawWalls:
    """The drawing that goes on."""
    gesture = hands.window.canvas.gesture
    assert isinstance(gesture, DrawWalls)
    return gesture


def test_the_cottage_bedroom_is_drawn_by_keys_alone(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("3040")
    hands.key(Qt.Key.Key_Right)
    hands.enter("3580")
    hands.key(Qt.Key.Key_Down)
    hands.enter("3.04 m")
    hands.key(Qt.Key.Key_Left)
    hands.enter("3580")  # comes back to the first corner
    hands.settle()

    assert hands.window.canvas.gesture is None
    assert hands.room.outline == ((0, 0), (0, 3040), (3580, 3040), (3580, 0))
    assert hands.window.desk.room_id == hands.room.id
    scheme = hands.window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert scheme.surface.area_m2 == pytest.approx(3.58 * 3.04)
    assert hands.window.document.undo_stack.count() == 1


def test_two_walls_and_enter_square_the_room_off(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("3040")
    hands.key(Qt.Key.Key_Right)
    hands.enter("3580")
    hands.enter()
    hands.settle()

    assert sorted(hands.sizes()) == [3040, 3040, 3580, 3580]


def test_a_size_typed_while_drawing_makes_the_rectangle(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.write("3580 x 3040")
    echo = hands.window.entry.echo.text()
    hands.enter()
    hands.settle()

    assert "3580" in echo
    assert "3040" in echo
    assert hands.room.outline == ((0, 0), (0, 3040), (3580, 3040), (3580, 0))
    scheme = hands.window.desk.surface_scheme("ceiling")
    assert scheme is not None
    # Row bound of three rows, and area bound 10.883 m² / 4.32 m² = 2.52: three sheets.
    assert len(scheme.set_out.pieces) >= 3


def test_an_l_is_drawn_by_mouse_and_typing(hands: Hands) -> None:
    """An L of 5000 by 4000 with 2000 by 1500 taken out: 20 - 3 = 17 m²."""
    canvas = hands.window.canvas
    hands.key(Qt.Key.Key_W)
    start = QPoint(300, 500)
    hands.click(start)
    assert len(drawing(hands).corners) == 1

    def aim(dx: int, dy: int) -> None:
        here = canvas.port.to_screen(drawing(hands).corners[-1]).toPoint()
        hands.move(here + QPoint(dx, dy))

    for (dx, dy), length in (
        ((0, -90), "4000"),
        ((90, 0), "3000"),
        ((0, 90), "1500"),
        ((90, 4), "2000"),
    ):
        aim(dx, dy)
        hands.enter(length)
    aim(3, 90)
    hands.enter("2500")
    hands.click(canvas.port.to_screen(drawing(hands).corners[0]).toPoint())
    hands.settle()

    assert canvas.gesture is None
    assert sorted(hands.sizes()) == [1500, 2000, 2500, 3000, 4000, 5000]
    assert abs(signed_area(hands.room.outline)) == pytest.approx(17e6)
    assert min(p[0] for p in hands.room.outline) == 0
    assert min(p[1] for p in hands.room.outline) == 0


def test_live_length_and_angle_are_shown_and_follow_the_pointer(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("3000")
    gesture = drawing(hands)
    corner = hands.window.canvas.port.to_screen(gesture.corners[-1]).toPoint()
    hands.move(corner + QPoint(100, 3))
    assert "90°" in gesture.figures  # square though the pointer is a little off
    square = gesture.figures
    hands.move(corner + QPoint(100, 30), SHIFT)
    assert "90°" not in gesture.figures  # Shift draws freely
    hands.move(corner + QPoint(150, 3))
    assert gesture.figures != square


def test_tab_goes_from_length_to_angle(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Right)
    hands.enter("4000")
    hands.write("2000")
    hands.key(Qt.Key.Key_Tab)
    assert drawing(hands).entry == "angle"
    hands.enter("135")
    # From (4000, 0), turned to the right by 180 - 135 = 45°, 2000 long.
    x, y = drawing(hands).corners[-1]
    assert (x, y) == pytest.approx((4000 + 2000 * 0.5**0.5, -2000 * 0.5**0.5))


def test_esc_and_backspace_take_the_last_wall_back(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("3000")
    hands.key(Qt.Key.Key_Right)
    hands.enter("4000")
    hands.key(Qt.Key.Key_Backspace)
    assert drawing(hands).corners == [(0, 0), (0, 3000)]
    hands.key(Qt.Key.Key_Escape)
    assert drawing(hands).corners == [(0, 0)]
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.canvas.gesture is None
    assert not hands.window.document.project.rooms


def test_a_bad_outline_is_refused_and_nothing_is_lost(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    for key, length in (
        (Qt.Key.Key_Up, "3000"),
        (Qt.Key.Key_Right, "4000"),
        (Qt.Key.Key_Down, "1000"),
        (Qt.Key.Key_Left, "5000"),
        (Qt.Key.Key_Up, "500"),
    ):
        hands.key(key)
        hands.enter(length)
    before = list(drawing(hands).corners)
    hands.window.entry.line.setFocus()
    hands.enter()

    assert drawing(hands).corners == before
    assert "✗" in hands.window.entry.echo.text()
    assert not hands.window.document.project.rooms


def test_bad_text_is_refused_and_the_line_keeps_it(hands: Hands) -> None:
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.write("3.6")  # in a project in mm this could be m
    hands.key(Qt.Key.Key_Return)
    assert hands.window.entry.line.text() == "3.6"
    assert hands.window.entry.line.property("refused") is True
    assert drawing(hands).corners == []


def test_undo_to_empty_and_redo_to_full(hands: Hands) -> None:
    stack = hands.window.document.undo_stack
    empty = hands.window.document.project
    hands.key(Qt.Key.Key_W)
    hands.enter("3580 x 3040")
    hands.settle()
    hands.line("along y at 450")
    hands.key(Qt.Key.Key_W)
    hands.enter("5400 x 3600")
    hands.settle()
    full = hands.window.document.project
    assert len(full.rooms) == 2
    while stack.canUndo():
        stack.undo()
    hands.settle()
    assert hands.window.document.project == empty
    while stack.canRedo():
        stack.redo()
    hands.settle()
    assert hands.window.document.project == full


def test_rooms_are_drawn_in_feet_and_inches(hands: Hands) -> None:
    from dataclasses import replace

    document = hands.window.document
    document.edit("units", replace(document.project, units=Units.FEET_INCHES))
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("10'")
    hands.key(Qt.Key.Key_Right)
    hands.enter("11' 9 3/4\"")
    hands.enter()
    hands.settle()
    # 10' = 3048 mm; 11' 9 3/4" = 141.75 in = 3600.45 mm
    assert sorted(hands.sizes()) == pytest.approx([3048, 3048, 3600.45, 3600.45])
    assert hands.room.height == pytest.approx(96 * 25.4)


def test_a_second_room_gets_a_free_name_and_the_height_of_the_last(hands: Hands) -> None:
    hands.line("Bath 1 2000 x 1500 h 2550")
    hands.key(Qt.Key.Key_R)
    assert hands.window.entry.line.text().startswith("Room 2")
    hands.enter("3580 x 3040")
    hands.settle()
    assert hands.room.name == "Room 2"
    assert hands.room.height == 2550


@pytest.mark.parametrize("ink", ["light", "dark"])
def test_what_is_drawn_over_the_canvas_can_be_seen(hands: Hands, ink: str) -> None:
    """The walls being drawn are painted: the picture changes where they run."""
    canvas = hands.window.canvas
    hands.window.set_inks(ink)
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("3000")
    blank = QImage(canvas.size(), QImage.Format.Format_RGB32)
    blank.fill(0)
    painter = QPainter(blank)
    drawing(hands).paint(painter, canvas.port, canvas.inks)
    painter.end()
    middle = canvas.port.to_screen((0.0, 1500.0)).toPoint()
    assert blank.pixelColor(middle) != blank.pixelColor(middle + QPoint(40, 0))


def test_what_the_pointer_snaps_to_is_named_and_typing_beats_it(hands: Hands) -> None:
    canvas = hands.window.canvas
    hands.key(Qt.Key.Key_W)
    hands.key(Qt.Key.Key_Up)
    hands.enter("3000")
    hands.key(Qt.Key.Key_Right)
    hands.enter("4000")
    gesture = drawing(hands)
    hands.move(canvas.port.to_screen((4000.0, 0.0)).toPoint() + QPoint(2, 3))
    assert gesture.ahead == (4000, 0)
    assert "in line with the start of wall A" in gesture.figures
    hands.move(canvas.port.to_screen((0.0, 1500.0)).toPoint() + QPoint(2, 2))
    assert "middle of wall A" in gesture.figures
    hands.move(canvas.port.to_screen((4000.0, 0.0)).toPoint() + QPoint(2, 3))
    hands.enter("2950")
    assert gesture.corners[-1] == (4000, 50)


def test_walls_and_joists_of_the_room_shown_are_snapped_to(hands: Hands) -> None:
    hands.line("Hall 5000 x 3000 h 2400")
    hands.line("along y at 450")
    hands.window.desk.show_view("plan")
    hands.settle()
    canvas = hands.window.canvas
    hands.key(Qt.Key.Key_W)
    gesture = drawing(hands)

    def aim(x: float, y: float) -> str:
        hands.move(canvas.port.to_screen((x, y)).toPoint() + QPoint(2, 2))
        return gesture.figures

    assert "end of wall A of Hall" in aim(0, 3000)
    assert gesture.ahead == (0, 3000)
    assert "middle of wall B of Hall" in aim(2500, 3000)
    assert gesture.ahead == (2500, 3000)
    assert "joist 4 of Hall" in aim(1800, 1100)
    assert gesture.ahead is not None
    assert gesture.ahead[0] == 1800
    hands.click(canvas.port.to_screen((1800.0, 1100.0)).toPoint() + QPoint(2, 2))
    # Square across from there lies wall B, and what is typed beats it.
    assert "square to wall B of Hall" in aim(1800, 3000)
    assert gesture.ahead == (1800, 3000)
    hands.enter("1850")
    x, y = gesture.corners[0]
    assert gesture.corners[1] == (x, y + 1850)
    # Ctrl: nothing is snapped to.
    hands.move(canvas.port.to_screen((5000.0, 3000.0)).toPoint() + QPoint(2, 2), CTRL)
    assert "Hall" not in gesture.figures
