"""Rooms with two layers of board on the desk: either can be looked at."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from roomboard.app.spots import spot_of
from roomboard.core.editing.linings import set_ceiling_layers
from roomboard.drawing.displaylist import Text
from tests.app.hands import Hands


@pytest.fixture
def hands(qtbot, desk_window, settle):
    hands = Hands(qtbot, desk_window, settle)
    hands.line("Hall 6000 x 4000 h 2700")
    hands.line("along y at 450")
    return hands


def twice(hands):
    hands.window.desk.edit_room("Two layers", lambda room: set_ceiling_layers(room, 2))
    hands.settle()


def shown(hands):
    drawn = hands.window.canvas.drawn
    return {p.key for p in drawn.view.panes if p.surface}


def words(hands):
    return " ".join(m.text for m in hands.window.canvas.drawn.view.marks if isinstance(m, Text))


def press(hands, key):
    hands.window.canvas.setFocus()
    hands.key(key)
    hands.settle()


def test_a_key_shows_the_second_layer_and_the_first_again(hands):
    press(hands, Qt.Key.Key_E)
    assert hands.window.desk.layer == 1  # nothing has two layers
    twice(hands)
    press(hands, Qt.Key.Key_3)
    assert "ceiling" in shown(hands)
    assert "the first is shown" in words(hands)
    press(hands, Qt.Key.Key_E)
    assert "ceiling.L2" in shown(hands)
    assert "ceiling" not in shown(hands)
    assert "the second is shown" in words(hands)
    press(hands, Qt.Key.Key_C)
    assert shown(hands) == {"ceiling.L2"}
    press(hands, Qt.Key.Key_E)
    assert shown(hands) == {"ceiling"}


def test_a_wall_of_two_layers_is_seen_in_either(hands):
    def both(room):
        return replace(room, walls=(replace(room.walls[0], layers=2), *room.walls[1:]))

    desk = hands.window.desk
    desk.edit_room("Two layers", both)
    hands.settle()
    key = f"wall:{desk.room.walls[0].id}"
    desk.show_view(key)
    hands.settle()
    assert shown(hands) == {key}
    press(hands, Qt.Key.Key_E)
    assert shown(hands) == {f"{key}.L2"}


def test_going_to_a_place_shows_its_layer(hands):
    twice(hands)
    desk = hands.window.desk
    desk.go_to(f"{desk.room_id}/ceiling.L2")
    hands.settle()
    assert desk.layer == 2
    assert "ceiling.L2" in shown(hands)
    desk.go_to(f"{desk.room_id}/ceiling")
    hands.settle()
    assert desk.layer == 1


def test_joints_of_the_second_layer_are_not_taken_hold_of(hands):
    twice(hands)
    for key, movable in (("ceiling", True), ("ceiling.L2", False)):
        scheme = hands.window.desk.surface_scheme(key)
        assert scheme.joints
        assert any(spot_of(scheme, joint) is not None for joint in scheme.joints) is movable
