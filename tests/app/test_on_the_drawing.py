"""What is changed and held where it is drawn: dimensions, corners, folded-out walls, keys."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from roomboard.app.window import Window
from roomboard.core.project import Opening
from tests.app.hands import CTRL, LEFT, NONE, SHIFT, Hands


@pytest.fixture
def hands(qtbot: QtBot, desk_window: Window, settle: Callable[[Window], None]) -> Hands:
    """A room of 5400 x 4200 with a window in wall C and a door in wall D."""
    made = Hands(qtbot, desk_window, settle)
    made.line("Bedroom 5400 x 4200 h 2400")
    canvas = desk_window.canvas
    canvas.setFocus()
    made.key(Qt.Key.Key_D)
    made.click(made.at((900, 0)))
    made.settle()
    canvas.setFocus()
    made.key(Qt.Key.Key_N)
    made.click(made.at((5400, 2100)))
    made.settle()
    canvas.setFocus()
    made.key(Qt.Key.Key_Escape)
    return made


def place_of(hands: Hands, ref: str) -> QPoint:
    """Where the line of a dimension lies on the canvas, a quarter along it."""
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    found = next(p for p in drawn.picker.order() if (p.layer, p.ref) == ("dimension", ref))
    (ax, ay), (bx, by) = found.outline[0], found.outline[1]
    return hands.window.canvas.port.to_screen((ax + (bx - ax) / 4, ay + (by - ay) / 4)).toPoint()


def opening(hands: Hands, ident: str) -> Opening:
    return next(o for o in hands.room.openings if o.id == ident)


def double_click(hands: Hands, at: QPoint) -> None:
    hands.click(at)
    canvas = hands.window.canvas
    event = QMouseEvent(
        QEvent.Type.MouseButtonDblClick,
        QPointF(at),
        QPointF(canvas.mapToGlobal(at)),
        LEFT,
        LEFT,
        NONE,
    )
    QApplication.sendEvent(canvas, event)
    hands.release(at)


@pytest.mark.parametrize("view", [Qt.Key.Key_H, Qt.Key.Key_P])
@pytest.mark.parametrize("twice", ["", "twice"])
def test_a_length_clicked_on_the_drawing_is_typed_over(
    hands: Hands, view: Qt.Key, twice: str
) -> None:
    hands.key(view)
    hands.settle()
    at = place_of(hands, "length:b")
    if twice:
        double_click(hands, at)
    else:
        hands.click(at)
    hands.enter("6000")
    hands.settle()
    # Wall B runs along y = 4200; the walls stay square, so that D is as long.
    assert hands.sizes() == [4200, 6000, 4200, 6000]
    assert hands.window.desk.lens == "measure"  # 6 is the key of another lens
    assert hands.window.canvas.hasFocus()


def test_the_height_is_typed_over_on_the_opened_out_room(hands: Hands) -> None:
    hands.click(place_of(hands, "height"))
    hands.enter("2.7 m")
    assert hands.room.height == 2700


@pytest.mark.parametrize(
    ("ref", "typed", "left", "width"),
    [
        ("left:w1", "600", 600, 1200),
        ("right:w1", "600", 2400, 1200),  # 4200 - 600 - 1200
        ("width:w1", "900", 1500, 900),  # its left side stays: (4200 - 1200) / 2
    ],
)
def test_the_figures_of_an_opening_are_typed_over_in_the_plan(
    hands: Hands, ref: str, typed: str, left: float, width: float
) -> None:
    hands.key(Qt.Key.Key_P)
    hands.settle()
    hands.click(place_of(hands, ref))
    hands.enter(typed)
    found = opening(hands, "w1")
    assert (found.left, found.width) == (left, width)


def test_between_two_openings_the_space_between_them_is_set(hands: Hands) -> None:
    """A second window 200 right of the first: 1500 + 1200 + 200 = 2900."""
    hands.key(Qt.Key.Key_P)
    hands.settle()
    hands.key(Qt.Key.Key_N)
    hands.move(hands.at((5400, 2100)))
    hands.enter("600 x 600 at 3300")
    hands.settle()
    hands.window.canvas.setFocus()
    hands.click(place_of(hands, "left:w2"))
    hands.enter("200")
    assert opening(hands, "w2").left == 2900


def test_a_dimension_gives_way_to_keys_clicks_and_tab(hands: Hands) -> None:
    before = hands.room
    hands.click(place_of(hands, "length:b"))
    hands.key(Qt.Key.Key_P)  # the plan: a letter begins no length
    hands.settle()
    assert hands.window.desk.view == "plan"
    assert hands.window.canvas.gesture is None
    hands.click(place_of(hands, "length:a"))
    hands.click(place_of(hands, "length:d"))  # another one: no click is lost
    held = hands.window.desk.held
    assert held is not None
    assert held.ref == "length:d"
    hands.key(Qt.Key.Key_Tab)
    assert hands.window.canvas.gesture is None
    hands.click(place_of(hands, "length:a"))
    hands.write("12 apples")
    hands.key(Qt.Key.Key_Return)
    assert hands.window.entry.echo.text().startswith("✗")
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_Escape)
    assert hands.room == before


def test_a_corner_is_held_by_a_click_named_and_moved_by_keys(hands: Hands) -> None:
    at = hands.at((5400, 4200))
    hands.move(at)
    assert "Corner of wall B and wall C" in hands.window._named.text()
    hands.click(at)
    held = hands.window.desk.held
    assert held is not None
    assert (held.kind, hands.room.outline[int(held.ref)]) == ("corner", (5400, 4200))
    hands.key(Qt.Key.Key_Right, SHIFT | CTRL)
    hands.key(Qt.Key.Key_Up, SHIFT | CTRL)
    # A long step is 10 mm; the walls stay square.
    assert hands.sizes() == [4210, 5410, 4210, 5410]


def test_tab_comes_to_every_corner(hands: Hands) -> None:
    hands.window.canvas.setFocus()
    corners = set()
    for _ in range(60):
        hands.key(Qt.Key.Key_Tab)
        held = hands.window.desk.held
        if held is not None and held.kind == "corner":
            corners.add(held.ref)
        if not hands.window.canvas.hasFocus():
            break
    assert corners == {"0", "1", "2", "3"}


def test_a_wall_held_on_its_folded_out_face_is_moved_by_keys(hands: Hands) -> None:
    hands.click(hands.at((2700, 1200), "wall:b"))
    held = hands.window.desk.held
    assert held is not None
    assert held.kind == "surface"
    hands.key(Qt.Key.Key_Up, SHIFT | CTRL)  # out, 10 mm
    assert hands.sizes() == [4210, 5400, 4210, 5400]


def test_delete_and_arrows_in_a_list_leave_what_is_held(hands: Hands) -> None:
    hands.click(hands.at((2100, 1500), "wall:c"))
    held = hands.window.desk.held
    assert held is not None
    assert held.ref == "w1"
    before = hands.room
    for key in (Qt.Key.Key_F3, Qt.Key.Key_F4):
        hands.key(key)
        assert not hands.window.canvas.hasFocus()
        hands.key(Qt.Key.Key_Delete)
        hands.key(Qt.Key.Key_Down, SHIFT)
    assert hands.room == before
    hands.key(Qt.Key.Key_F6)
    hands.key(Qt.Key.Key_Delete)
    assert [o.id for o in hands.room.openings] == ["d1"]


def test_a_length_typed_for_a_held_wall_is_the_walls_own_while_measuring(hands: Hands) -> None:
    """Through another lens a face's first length is that of its sheets."""
    hands.click(hands.at((2700, 1200), "wall:b"))
    hands.line("6000")
    assert hands.sizes() == [4200, 6000, 4200, 6000]


def test_what_was_typed_is_said_where_the_lens_does_not_show_it(hands: Hands) -> None:
    hands.line("along y at 450")
    said = hands.window.statusBar().currentMessage()
    assert said == "Joists of Bedroom along y, at 450 mm centres"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("-3580 x 3040", "“-3580” comes to -3580 mm; a length cannot be less than nothing"),
        ("0 x 0", "would be 0 mm on a side"),
        ("3580 x", "is no size; write two lengths"),
        ("3580 x 3040 h", "no height"),
    ],
)
def test_a_bad_size_says_what_is_wrong_with_it(hands: Hands, text: str, why: str) -> None:
    hands.key(Qt.Key.Key_T)
    hands.write(text)
    echo = hands.window.entry.echo.text()
    assert echo.startswith(f"✗ The room “{text}”")
    assert why in echo
    hands.key(Qt.Key.Key_Return)
    assert len(hands.window.document.project.rooms) == 1


def test_a_piece_from_side_to_side_has_nothing_to_lock(hands: Hands) -> None:
    """5400 is less than the longest sheet of 6000: no course has a butt joint."""
    hands.line("along y at 450")
    hands.key(Qt.Key.Key_3)
    hands.settle()
    hands.click(hands.at((700, 500), "ceiling"))
    held = hands.window.desk.held
    assert held is not None
    assert held.kind == "sheet"
    assert not hands.window.bar.actions["sheets.lock"].isEnabled()
    assert not hands.window.bar.actions["sheets.unlock"].isEnabled()


def test_a_room_removed_by_mistake_says_how_it_comes_back(hands: Hands) -> None:
    window = hands.window
    hands.move(hands.at((2700, 1200), "wall:b"))
    before = window.document.project
    assert window._named.text()
    hands.window.canvas.setFocus()
    hands.key(Qt.Key.Key_Delete, SHIFT | CTRL)
    hands.settle()
    assert not window.document.project.rooms
    assert "Ctrl+Z" in window.statusBar().currentMessage()
    assert not window._named.text()  # what the pointer was on is gone too
    hands.key(Qt.Key.Key_Z, CTRL)
    assert window.document.project == before


def test_a_sentence_stays_long_enough_to_be_read(hands: Hands) -> None:
    hands.window.desk.say("Read this.")
    hands.move(hands.at((2700, 1200), "wall:b"))
    hands.move(hands.at((2100, 1200), "wall:c"))
    assert hands.window.statusBar().currentMessage() == "Read this."


def test_every_menu_is_opened_by_alt_and_a_letter_of_its_own(hands: Hands) -> None:
    titles = [a.text() for a in hands.window.menuBar().actions()]
    letters = [t[t.index("&") + 1].casefold() for t in titles]
    assert len(set(letters)) == len(letters)
