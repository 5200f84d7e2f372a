"""Joists, studs and noggings on the desk: split, turned, typed, dragged, moved by keys."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from roomboard.app.beside import in_hand_of
from roomboard.app.desk import Held
from roomboard.app.gestures.splitting import SplitJoists
from roomboard.app.panels.fields import ChoiceField, TypedField
from roomboard.app.window import Window
from roomboard.core.editing.studs import set_studs
from roomboard.core.editing.walls import set_wall
from roomboard.core.project import FrameKind
from roomboard.core.support import Trimmer
from tests.app.hands import CTRL, SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    """The room of the wall taken out, 6000 by 3600, all joists along y."""
    found = Hands(qtbot, desk_window, settle)
    found.line("6000 x 3600 h 2400")
    found.line("along y at 450 first 300")
    found.window.desk.show_lens("frame")
    found.settle()
    return found


def trimmers(hands: Hands) -> tuple[Trimmer, ...]:
    scheme = hands.window.desk.surface_scheme("ceiling")
    assert scheme is not None
    return scheme.trimmers


def see_change_of_direction(hands: Hands) -> None:
    """The trimmers of the published case: 12.0 m, the one at x = 3600 with both edges on it."""
    found = trimmers(hands)
    at_change = [t for t in found if abs(t.a[0] - 3600) < 1 and abs(t.b[0] - 3600) < 1]
    assert [t.two_sided for t in at_change] == [True]
    assert at_change[0].length == pytest.approx(3600)
    assert sum(t.length for t in found) == pytest.approx(12_000)


def test_joists_split_and_turned_by_keys_alone(hands: Hands) -> None:
    hands.key(Qt.Key.Key_S)
    hands.enter("along y at 3600")
    hands.settle()
    assert [z.id for z in hands.room.joists] == [hands.room.joists[0].id, hands.room.joists[1].id]
    low, high = hands.room.joists
    hands.window.desk.hold(Held("zone", high.id, hands.window.desk.room_id + "/ceiling"))
    hands.key(Qt.Key.Key_J)
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    hands.key(Qt.Key.Key_S, SHIFT)
    hands.enter("along x at 600")
    hands.settle()

    low, high = hands.room.joists
    assert (low.direction_deg, low.spacing, low.first) == (90, 450, 300)
    assert (high.direction_deg, high.spacing) == (0, 600)
    assert {p[0] for p in high.outline} == {3600, 6000}
    see_change_of_direction(hands)


def test_joists_split_by_two_clicks_and_turned_by_one(hands: Hands) -> None:
    hands.key(Qt.Key.Key_S)
    gesture = hands.window.canvas.gesture
    assert isinstance(gesture, SplitJoists)
    hands.move(hands.at((3600.0, 3000.0)))
    hands.settle()
    # Both parts are shown while the line is only aimed; the project is as it was.
    assert len(hands.window.document.shown.room(hands.room.id).joists) == 2
    assert len(hands.room.joists) == 1
    hands.press(hands.at((3600.0, 3000.0)))
    hands.release(hands.at((3600.0, 3000.0)))
    hands.enter("3600")
    hands.settle()
    assert len(hands.room.joists) == 2
    hands.key(Qt.Key.Key_J)
    hands.click(hands.at((5000.0, 1700.0)))
    hands.settle()
    low, high = hands.room.joists
    assert (low.direction_deg, high.direction_deg) == (90, 0)
    hands.window.desk.hold(Held("zone", high.id, hands.window.desk.room_id + "/ceiling"))
    hands.line("along x at 600")  # with several zones the held one is meant
    assert len(hands.room.joists) == 2
    see_change_of_direction(hands)


def test_split_given_up_leaves_no_trace(hands: Hands) -> None:
    before = hands.window.document.project
    hands.key(Qt.Key.Key_S)
    hands.click(hands.at((3000.0, 3000.0)))
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_Escape)
    hands.settle()
    assert hands.window.canvas.gesture is None
    assert hands.window.document.shown == before


def test_a_line_that_parts_nothing_is_refused(hands: Hands) -> None:
    hands.key(Qt.Key.Key_S)
    hands.write("along y at 7000")
    assert "✗" in hands.window.entry.echo.text()
    hands.key(Qt.Key.Key_Return)
    assert len(hands.room.joists) == 1
    assert hands.window.canvas.gesture is not None


def test_zones_are_joined_again(hands: Hands) -> None:
    hands.key(Qt.Key.Key_S)
    hands.enter("along y at 3600")
    hands.settle()
    hands.key(Qt.Key.Key_J, SHIFT)
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert len(hands.room.joists) == 1


def test_a_zone_boundary_is_dragged(hands: Hands) -> None:
    hands.key(Qt.Key.Key_S)
    hands.enter("along y at 3600")
    hands.settle()
    hands.window.desk.show_view("plan")
    hands.settle()
    hands.drag(hands.at((3600.0, 2000.0)), hands.at((4400.0, 2000.0)))
    assert hands.window.canvas.gesture is not None
    hands.enter("4000")
    hands.settle()
    xs = {p[0] for z in hands.room.joists for p in z.outline}
    assert xs == {0, 4000, 6000}
    low, high = hands.room.joists
    # Joists stay where they are: 300, 750 ... from x = 0, so 4350 is the first of the right part.
    assert low.first == 300
    assert high.first == pytest.approx(350)


def test_a_joist_is_dragged_and_typing_beats_the_pointer(hands: Hands) -> None:
    hands.window.desk.show_view("plan")
    hands.settle()
    start = hands.at((1200.0, 900.0))  # the third: 300 + 2 x 450
    hands.drag(start, start + QPoint(20, 0))
    gesture = hands.window.canvas.gesture
    assert gesture is not None
    assert "from the wall" in gesture.figures
    hands.settle()
    hands.write("1250")
    hands.move(start + QPoint(30, 0), down=True)
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert hands.room.joists[0].positions[:4] == (300, 750, 1250, 1650)
    hands.window.document.undo_stack.undo()
    assert hands.room.joists[0].positions == ()


def test_joists_that_were_only_assumed_can_be_moved(
    desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]
) -> None:
    hands = Hands(qtbot, desk_window, settle)
    hands.line("6000 x 3600 h 2400")
    hands.window.desk.show_lens("frame")
    hands.window.desk.show_view("plan")
    hands.settle()
    scheme = hands.window.desk.surface_scheme("ceiling")
    assert scheme is not None
    first = next(s for s in scheme.surface.supports if s.zone >= 0)
    start = hands.at((first.a[0], 1700.0))
    hands.drag(start, start + QPoint(15, 0))
    hands.enter("350")
    hands.settle()
    assert hands.room.joists[0].positions[0] == 350


def test_a_joist_that_would_leave_the_zone_is_refused(hands: Hands) -> None:
    hands.window.desk.show_view("plan")
    hands.settle()
    before = hands.window.document.project
    start = hands.at((1200.0, 900.0))
    hands.drag(start, start + QPoint(20, 0))
    hands.write("9000")
    assert "✗" in hands.window.entry.echo.text()
    hands.key(Qt.Key.Key_Return)
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_Escape)
    hands.settle()
    assert hands.window.document.project == before
    assert hands.window.document.shown == before


def test_a_joist_is_added_where_it_is_typed(hands: Hands) -> None:
    hands.key(Qt.Key.Key_B, SHIFT)
    hands.enter("500")
    hands.settle()
    assert hands.room.joists[0].positions[:3] == (300, 500, 750)


def test_studs_and_noggings_by_typing(hands: Hands) -> None:
    hands.window.desk.show_view("wall:b")
    hands.settle()
    hands.key(Qt.Key.Key_Y)
    hands.enter("at 600 first 300")
    hands.settle()
    wall = hands.room.wall("b")
    assert wall is not None
    assert (wall.stud_spacing, wall.stud_first) == (600, 300)
    hands.key(Qt.Key.Key_N, SHIFT)
    hands.enter("1200")
    hands.settle()
    wall = hands.room.wall("b")
    assert wall is not None
    assert wall.noggings == (1200,)


def test_a_stud_and_a_nogging_are_dragged_on_the_face(hands: Hands) -> None:
    hands.window.desk.show_view("wall:b")
    hands.key(Qt.Key.Key_Y)
    hands.enter("at 600")
    hands.key(Qt.Key.Key_N, SHIFT)
    hands.enter("1350")
    hands.settle()
    start = hands.at((1200.0, 700.0), "wall:b")
    hands.drag(start, start + QPoint(12, 0))
    hands.enter("1250")
    hands.settle()
    wall = hands.room.wall("b")
    assert wall is not None
    assert 1250 in wall.studs
    assert 1200 not in wall.studs
    start = hands.at((900.0, 1350.0), "wall:b")
    hands.drag(start, start + QPoint(0, -25))
    hands.release(start + QPoint(0, -25))
    hands.settle()
    wall = hands.room.wall("b")
    assert wall is not None
    assert wall.noggings[0] > 1360


def test_keys_move_what_is_held_in_one_step_of_undoing(hands: Hands) -> None:
    hands.window.desk.show_view("plan")
    hands.settle()
    steps = hands.window.document.undo_stack.count()
    hands.click(hands.at((1200.0, 900.0)))
    hands.settle()
    assert hands.window.desk.held is not None
    assert hands.window.desk.held.kind == "joist"
    for _ in range(3):
        hands.key(Qt.Key.Key_Right, SHIFT)
    hands.key(Qt.Key.Key_Right, SHIFT | CTRL)
    hands.settle()
    assert hands.room.joists[0].positions[2] == 1213
    assert hands.window.document.undo_stack.count() == steps + 1
    hands.window.document.undo_stack.undo()
    assert hands.room.joists[0].positions == ()


def test_delete_takes_the_held_joist_away(hands: Hands) -> None:
    hands.window.desk.show_view("plan")
    hands.settle()
    hands.click(hands.at((1200.0, 900.0)))
    hands.key(Qt.Key.Key_Delete)
    hands.settle()
    assert hands.room.joists[0].positions[:3] == (300, 750, 1650)
    assert hands.window.desk.held is None


def test_places_one_by_one(hands: Hands) -> None:
    hands.window.bar.actions["frame.one_by_one"].trigger()
    hands.settle()
    assert hands.room.joists[0].positions[:3] == (300, 750, 1200)


def test_the_studs_of_every_wall_are_typed_and_chosen_at_once(hands: Hands) -> None:
    window = hands.window
    window.desk.hold(None)
    hands.settle()
    panel = in_hand_of(window)
    spacing = panel.field("Every wall at")
    assert isinstance(spacing, TypedField)
    spacing.line.setFocus()
    spacing.line.selectAll()
    hands.enter("450")
    hands.settle()
    assert {w.stud_spacing for w in hands.room.walls} == {450}
    kind = in_hand_of(window).field("Every wall of")
    assert isinstance(kind, ChoiceField)
    kind.box.setFocus()
    hands.key(Qt.Key.Key_Down)
    hands.settle()
    assert {w.frame for w in hands.room.walls} == {FrameKind.STEEL}
    assert {z.frame for z in hands.room.joists} == {FrameKind.TIMBER}
    # One wall alone in timber: the panel says that they differ, and what is chosen holds for all.
    first = hands.room.walls[0].id
    window.desk.edit_room("Studs", lambda r: set_wall(r, first, frame=FrameKind.TIMBER))
    window.desk.edit_room("Studs", lambda r: set_studs(r, first, 600))
    hands.settle()
    assert in_hand_of(window).field("Every wall of").figure.text == "Not alike"
    assert in_hand_of(window).field("Every wall at").figure.empty == "not alike"
    window.document.undo_stack.undo()
    window.document.undo_stack.undo()
    window.document.undo_stack.undo()
    window.document.undo_stack.undo()
    assert {(w.stud_spacing, w.frame) for w in hands.room.walls} == {(0, FrameKind.TIMBER)}
