"""Dragging corners, walls and openings; shaping walls by clicks and typing."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from roomboard.app.gestures.drag import Drag
from roomboard.app.window import Window
from tests.app.hands import CTRL, SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    """The cottage bedroom, 3580 by 3040, seen in plan."""
    found = Hands(qtbot, desk_window, settle)
    found.line("3580 x 3040 h 2400")
    found.window.desk.show_view("plan")
    found.settle()
    return found


def dragging(hands: Hands) -> Drag:
    gesture = hands.window.canvas.gesture
    assert isinstance(gesture, Drag)
    return gesture


def test_a_corner_is_dragged_and_its_walls_stay_square(hands: Hands) -> None:
    end = hands.at((4000.0, 3300.0))
    hands.drag(hands.at((3580.0, 3040.0)), end)
    shown = hands.window.document.shown.room(hands.room.id)
    assert shown is not None
    assert shown.outline != hands.room.outline  # the drawing follows, the project does not yet
    hands.settle()
    scheme = hands.window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert scheme.surface.outline.bounds[2] == pytest.approx(4000, abs=20)  # the sheets too
    hands.release(end)
    hands.settle()
    (_, _), (_, y), (x, y1), (x1, _) = hands.room.outline
    assert (x, y) == (x1, y1)
    assert x == pytest.approx(4000, abs=20)
    assert y == pytest.approx(3300, abs=20)
    assert x == round(x)
    assert hands.window.document.undo_stack.undoText() == "Move a corner"


def test_esc_puts_a_dragged_corner_back(hands: Hands) -> None:
    before = hands.window.document.project
    steps = hands.window.document.undo_stack.count()
    hands.drag(hands.at((3580.0, 3040.0)), hands.at((4000.0, 3300.0)))
    hands.key(Qt.Key.Key_Escape)
    hands.release(hands.at((4000.0, 3300.0)))
    hands.settle()
    assert hands.window.document.project is before
    assert hands.window.document.shown is before
    assert hands.window.document.undo_stack.count() == steps


def test_lengths_typed_while_dragging_beat_the_pointer(hands: Hands) -> None:
    hands.drag(hands.at((3580.0, 3040.0)), hands.at((4000.0, 3300.0)))
    hands.write("3700 x 3100")
    hands.release(hands.at((4100.0, 3300.0)))  # letting go waits for Enter
    assert dragging(hands)
    hands.enter()
    hands.settle()
    # Wall B ends and wall C begins at this corner.
    assert hands.room.outline[2] == (3700, 3100)
    assert sorted(hands.sizes()) == [3100, 3100, 3700, 3700]


def test_shift_drags_a_corner_freely(hands: Hands) -> None:
    end = hands.at((4000.0, 3300.0))
    hands.drag(hands.at((3580.0, 3040.0)), end, SHIFT)
    hands.release(end, SHIFT)
    hands.settle()
    outline = hands.room.outline
    assert outline[1] == (0, 3040)
    assert outline[3] == (3580, 0)
    assert outline[2][0] > 3900


def test_a_wall_is_pushed_out_and_its_neighbours_stretch(hands: Hands) -> None:
    end = hands.at((4000.0, 1000.0))
    hands.drag(hands.at((3580.0, 1000.0)), end)
    assert dragging(hands).figures.startswith("out ")
    hands.write("+300")
    hands.enter()
    hands.settle()
    assert sorted(hands.sizes()) == [3040, 3040, 3880, 3880]


def test_a_wall_is_dragged_to_its_neighbours_length(hands: Hands) -> None:
    hands.drag(hands.at((3580.0, 1000.0)), hands.at((3300.0, 1000.0)))
    hands.write("3200")
    hands.enter()
    hands.settle()
    assert sorted(hands.sizes()) == [3040, 3040, 3200, 3200]


def test_a_wall_cannot_be_pushed_through_its_opposite(hands: Hands) -> None:
    before = hands.window.document.project
    end = hands.at((-600.0, 1000.0))
    hands.drag(hands.at((3580.0, 1000.0)), end)
    assert dragging(hands).trouble  # said at the pointer
    hands.release(end)
    hands.settle()
    assert hands.window.document.project == before
    assert hands.window.document.shown == before


def test_a_door_is_dragged_along_its_wall_and_typed_from_the_nearer_corner(hands: Hands) -> None:
    hands.window.desk.show_view("wall:b")
    hands.settle()
    hands.key(Qt.Key.Key_D)
    hands.enter("820 x 2040 at 300")
    hands.settle()
    start = hands.at((700.0, 1000.0), "wall:b")
    end = hands.at((1100.0, 1400.0), "wall:b")
    hands.drag(start, end)
    hands.release(end)
    hands.settle()
    (door,) = hands.room.openings
    assert door.left == pytest.approx(700, abs=15)
    assert door.bottom == 0  # a door stays on the floor
    start = hands.at((1100.0, 1000.0), "wall:b")
    hands.drag(start, hands.at((2800.0, 1000.0), "wall:b"))
    hands.write("250")
    hands.enter()
    hands.settle()
    (door,) = hands.room.openings
    assert door.left == 3580 - 250 - 820  # it had come nearer to the right-hand corner


def test_a_window_is_dragged_up_and_its_sill_typed(hands: Hands) -> None:
    hands.window.desk.show_view("wall:b")
    hands.settle()
    hands.key(Qt.Key.Key_N)
    hands.enter("1200 x 1000 at 1000 sill 900")
    hands.settle()
    start = hands.at((1600.0, 1300.0), "wall:b")
    end = hands.at((1610.0, 1500.0), "wall:b")
    hands.drag(start, end)
    hands.release(end)
    hands.settle()
    (window,) = hands.room.openings
    assert window.left == 1000
    assert window.bottom == pytest.approx(1100, abs=15)
    start = hands.at((1600.0, 1500.0), "wall:b")
    hands.drag(start, hands.at((1600.0, 1700.0), "wall:b"))
    hands.write("950")
    hands.enter()
    hands.settle()
    assert hands.room.openings[0].bottom == 950


def test_an_opening_is_dragged_in_plan(hands: Hands) -> None:
    hands.window.desk.show_view("wall:b")
    hands.settle()
    hands.key(Qt.Key.Key_D)
    hands.enter("820 x 2040 at 300")
    hands.window.desk.show_view("plan")
    hands.settle()
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    (mark, *_) = [p for p in drawn.picker.order() if p.layer == "opening"]
    xs, ys = [p[0] for p in mark.outline], [p[1] for p in mark.outline]
    start = hands.at(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
    end = start + QPoint(40, 0)
    hands.drag(start, end)
    hands.release(end)
    hands.settle()
    by = 40 / hands.window.canvas.port.zoom
    assert hands.room.openings[0].left == pytest.approx(300 + by, abs=12)


def test_a_hatch_is_dragged_on_the_ceiling_and_typed_from_two_walls(hands: Hands) -> None:
    hands.window.desk.show_view("ceiling")
    hands.settle()
    hands.key(Qt.Key.Key_H, SHIFT)
    hands.enter("600 x 600 at 1200, 900")
    hands.settle()
    start = hands.at((1500.0, 1200.0))
    hands.drag(start, start + QPoint(30, 2))
    assert "from wall" in dragging(hands).figures
    hands.write("700, 500")
    hands.enter()
    hands.settle()
    (hatch,) = hands.room.openings
    # 500 and 700 from the two nearest walls, the nearest first; 600 wide in a room of 3580 x 3040.
    gaps = {hatch.left, 3580 - hatch.left - 600} | {hatch.bottom, 3040 - hatch.bottom - 600}
    assert {500, 700} <= gaps


def test_an_l_is_made_by_pushing_a_part_of_a_wall(hands: Hands) -> None:
    hands.key(Qt.Key.Key_U)
    hands.click(hands.at((3580.0, 1200.0)))  # on wall C, 1840 from its left
    hands.click(hands.at((3580.0, 0.0)))  # its right end
    hands.enter("out 900")
    hands.settle()
    assert hands.window.canvas.gesture is None
    assert len(hands.room.outline) == 6
    assert min(hands.sizes()) == 900
    assert max(p[0] for p in hands.room.outline) == 4480


def test_a_niche_is_typed_for_the_wall_that_is_shown(hands: Hands) -> None:
    hands.click(hands.at((1790.0, 3040.0)))
    hands.key(Qt.Key.Key_U)
    hands.enter("from 1000 to 2500 out 350")
    hands.settle()
    assert len(hands.room.outline) == 8
    assert sorted(hands.sizes())[:4] == [350, 350, 1000, 1080]


def test_corners_are_added_and_taken_away(hands: Hands) -> None:
    hands.key(Qt.Key.Key_A)
    hands.move(hands.at((1790.0, 3040.0)))
    hands.enter("1500")
    hands.settle()
    assert sorted(hands.sizes()) == [1500, 2080, 3040, 3040, 3580]
    hands.key(Qt.Key.Key_A, SHIFT)
    hands.click(hands.at((1500.0, 3040.0)))
    hands.settle()
    assert sorted(hands.sizes()) == [3040, 3040, 3580, 3580]


def test_rooms_are_duplicated_mirrored_renamed_and_removed(hands: Hands) -> None:
    hands.key(Qt.Key.Key_A)
    hands.move(hands.at((1790.0, 3040.0)))
    hands.enter("1500")
    hands.key(Qt.Key.Key_D, CTRL)
    hands.settle()
    assert [r.name for r in hands.window.document.project.rooms] == ["Room 1", "Room 1 2"]
    assert hands.room.name == "Room 1 2"
    hands.key(Qt.Key.Key_M, CTRL)
    hands.settle()
    assert (2080, 3040) in hands.room.outline  # 3580 - 1500
    hands.key(Qt.Key.Key_R, CTRL)
    assert hands.window.entry.line.text() == "Room 1 2"
    hands.enter("Study")
    hands.settle()
    assert hands.room.name == "Study"
    hands.key(Qt.Key.Key_Delete, CTRL | SHIFT)
    hands.settle()
    assert [r.name for r in hands.window.document.project.rooms] == ["Room 1"]


def test_undo_to_empty_and_redo_to_full_over_every_edit(hands: Hands) -> None:
    stack = hands.window.document.undo_stack
    hands.drag(hands.at((3580.0, 3040.0)), hands.at((4000.0, 3300.0)))
    hands.write("3700 x 3100")
    hands.enter()
    hands.settle()
    hands.key(Qt.Key.Key_D)
    hands.move(hands.at((5.0, 1500.0)))
    hands.enter("820 x 2040 at 900")
    hands.key(Qt.Key.Key_Right, SHIFT)
    hands.key(Qt.Key.Key_Right, SHIFT)
    hands.line("along y at 450")
    hands.window.desk.show_lens("frame")
    hands.settle()
    hands.key(Qt.Key.Key_S)
    hands.enter("along y at 2000")
    hands.settle()
    full = hands.window.document.project
    while stack.canUndo():
        stack.undo()
    assert hands.window.document.project.rooms == ()
    while stack.canRedo():
        stack.redo()
    hands.settle()
    assert hands.window.document.project == full


def test_an_undo_meanwhile_ends_a_drag_and_leaves_no_trace(hands: Hands) -> None:
    hands.drag(hands.at((3580.0, 3040.0)), hands.at((4000.0, 3300.0)))
    hands.window.document.undo_stack.undo()
    hands.settle()
    assert hands.window.canvas.gesture is None
    assert hands.window.document.shown.rooms == ()
    hands.release(hands.at((4000.0, 3300.0)))
    assert hands.window.document.project.rooms == ()


def test_corners_and_walls_are_dragged_on_the_opened_out_room_too(hands: Hands) -> None:
    hands.window.desk.show_view("opened")
    hands.settle()
    hands.drag(hands.at((3580.0, 3040.0)), hands.at((3900.0, 3200.0)))
    hands.write("3800 x 3100")
    hands.enter()
    hands.settle()
    assert sorted(hands.sizes()) == [3100, 3100, 3800, 3800]
    hands.drag(hands.at((1500.0, 3100.0)), hands.at((1500.0, 3300.0)))
    hands.write("-100")
    hands.enter()
    hands.settle()
    assert sorted(hands.sizes()) == [3000, 3000, 3800, 3800]
