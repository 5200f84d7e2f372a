"""Doors, windows, hatches and lights on the desk."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.gestures.placing import PlaceOpening
from roomboard.app.window import Window
from roomboard.core.project import OpeningKind, Units
from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.usual_sizes import read_usual_sizes, usual_room_height, usual_size
from tests.app.hands import SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    """A room whose wall B is that of the published case: 5400 long, 2400 high, studs at 600."""
    found = Hands(qtbot, desk_window, settle)
    found.line("5400 x 3600 h 2400")
    found.window.desk.show_view("wall:b")
    found.settle()
    return found


def box(hands: Hands, number: int = -1) -> tuple[str, float, float, float, float]:
    """Host, left, bottom, width and height of an opening."""
    o = hands.room.openings[number]
    return o.host, o.left, o.bottom, o.width, o.height


def placing(hands: Hands) -> PlaceOpening:
    gesture = hands.window.canvas.gesture
    assert isinstance(gesture, PlaceOpening)
    return gesture


def test_door_and_window_of_the_long_wall_by_keys_alone(hands: Hands) -> None:
    hands.key(Qt.Key.Key_Y)
    hands.enter("at 600")
    hands.key(Qt.Key.Key_D)
    hands.write("820 x 2040 at 900")
    echo = hands.window.entry.echo.text()
    hands.enter()
    hands.key(Qt.Key.Key_N)
    hands.enter("1500 x 1200 at 3000 sill 900")
    hands.settle()

    assert "900 mm from the left" in echo
    assert "3680 mm from the right" in echo  # 5400 - 900 - 820
    assert box(hands, 0) == ("b", 900, 0, 820, 2040)
    assert box(hands, 1) == ("b", 3000, 900, 1500, 1200)
    scheme = hands.window.desk.surface_scheme("wall:b")
    assert scheme is not None
    assert [o.id for o in scheme.surface.openings] == ["d1", "w1"]
    # Net area of the face, which begins at the gap at the floor and ends under the ceiling board.
    _, gap, _, top = scheme.surface.outline.bounds
    net = 5400 * (top - gap) - 820 * (2040 - gap) - 1500 * 1200
    assert 2400 - 30 < top - gap < 2400
    assert scheme.surface.area_m2 == pytest.approx(net / 1e6)


def test_the_ghost_tells_both_distances_and_a_click_puts_it(hands: Hands) -> None:
    hands.key(Qt.Key.Key_D)
    at = hands.at((1700.0, 1000.0), "wall:b")
    hands.move(at)
    gesture = placing(hands)
    usual = usual_size(OpeningKind.DOOR, Units.METRIC)
    assert gesture.spot is not None
    left = gesture.spot.left
    assert left == pytest.approx(1700 - usual.width / 2, abs=30)
    assert left == round(left)
    assert f"{left:.0f} mm from the left" in gesture.figures
    assert f"{5400 - left - usual.width:.0f} mm from the right" in gesture.figures
    hands.click(at)
    hands.settle()
    assert box(hands) == ("b", left, 0, usual.width, usual.height)
    assert hands.window.canvas.gesture is None
    held = hands.window.desk.held
    assert held == Held("opening", "d1", f"{hands.room.id}/wall:b")


def test_the_next_begins_with_the_size_of_the_last(hands: Hands) -> None:
    hands.key(Qt.Key.Key_N)
    hands.enter("1800 x 1000 at 300 sill 1100")
    hands.key(Qt.Key.Key_N)
    hands.enter("at 3000")
    hands.settle()
    assert box(hands) == ("b", 3000, 1100, 1800, 1000)


def test_a_typed_size_is_kept_for_the_click(hands: Hands) -> None:
    hands.window.desk.show_view("plan")
    hands.settle()
    hands.key(Qt.Key.Key_D)
    hands.move(hands.at((30.0, 1800.0)))  # wall A, its middle
    hands.enter("760 x 2040")
    assert hands.room.openings == ()
    hands.click(hands.at((30.0, 1800.0)))
    hands.settle()
    assert box(hands) == ("a", (3600 - 760) / 2, 0, 760, 2040)  # the middle of the wall


def test_a_place_is_typed_from_the_right(hands: Hands) -> None:
    hands.key(Qt.Key.Key_D)
    hands.enter("820 x 2040 at 300 from right")
    hands.settle()
    assert box(hands) == ("b", 5400 - 300 - 820, 0, 820, 2040)


@pytest.mark.parametrize("text", ["820 x 2040 at 5000", "820 x 2600 at 900", "wide x high", "at"])
def test_what_does_not_fit_is_refused(hands: Hands, text: str) -> None:
    before = hands.window.document.project
    hands.key(Qt.Key.Key_D)
    hands.write(text)
    assert "✗" in hands.window.entry.echo.text()
    hands.enter()
    assert hands.window.document.project == before
    assert placing(hands)
    hands.key(Qt.Key.Key_Escape)
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.canvas.gesture is None


def test_hatch_and_lights_go_into_the_ceiling(hands: Hands) -> None:
    hands.window.desk.show_view("ceiling")
    hands.settle()
    hands.key(Qt.Key.Key_H, SHIFT)
    hands.enter("600 x 600 at 1200, 900")
    hands.key(Qt.Key.Key_L)
    hands.enter("at 3000, 1800")  # a round one is set out by its middle
    hands.click(hands.at((4000.0, 1800.0)))
    hands.key(Qt.Key.Key_Escape)
    hands.settle()
    assert box(hands, 0) == ("ceiling", 1200, 900, 600, 600)
    first, second = hands.room.openings[1:]
    assert first.is_round
    assert (first.left + first.width / 2, first.bottom + first.height / 2) == (3000, 1800)
    assert second.bottom + second.height / 2 == 1800  # in line with the first
    assert hands.window.canvas.gesture is None


def test_copy_openings_to_another_wall(hands: Hands) -> None:
    hands.key(Qt.Key.Key_N)
    hands.enter("1500 x 1200 at 3000 sill 900")
    hands.window.bar.actions["opening.copy"].trigger()
    hands.enter("D mirrored")
    hands.settle()
    assert box(hands) == ("d", 5400 - 3000 - 1500, 900, 1500, 1200)


def test_delete_takes_the_held_opening_away(hands: Hands) -> None:
    hands.key(Qt.Key.Key_D)
    hands.enter("820 x 2040 at 900")
    hands.settle()
    hands.key(Qt.Key.Key_Delete)
    hands.settle()
    assert hands.room.openings == ()
    hands.window.document.undo_stack.undo()
    assert len(hands.room.openings) == 1


def test_keys_move_the_held_opening_as_it_is_seen(hands: Hands) -> None:
    hands.key(Qt.Key.Key_N)
    hands.enter("1500 x 1200 at 3000 sill 900")
    hands.settle()
    hands.key(Qt.Key.Key_Left, SHIFT)
    hands.key(Qt.Key.Key_Up, SHIFT)
    assert box(hands)[1:3] == (2999, 901)
    hands.window.desk.show_view("opened")
    hands.settle()
    # Wall B stands over the ceiling with its floor at the top: up the canvas is down the wall.
    hands.key(Qt.Key.Key_Up, SHIFT)
    assert box(hands)[1:3] == (2999, 900)


def test_usual_sizes_name_every_fault() -> None:
    with pytest.raises(CatalogueError) as fault:
        read_usual_sizes('[[size]]\nkind = "gate"\nunits = "metric"\nwidth = -1\n', "sizes")
    said = str(fault.value)
    assert "kind must be one of" in said
    assert "width must be a length" in said
    assert "no size for a door" in said
    assert usual_room_height(Units.METRIC) > usual_size(OpeningKind.DOOR, Units.METRIC).height


def test_a_click_on_a_folded_out_wall_puts_it_there(hands: Hands) -> None:
    """Opened out, wall A lies on its side: left and right are down and up the canvas."""
    hands.window.desk.show_view("opened")
    hands.settle()
    hands.key(Qt.Key.Key_D)
    hands.click(hands.at((1200.0, 1000.0), "wall:a"))
    hands.settle()
    host, left, bottom, width, _ = box(hands)
    assert (host, bottom) == ("a", 0)
    assert left + width / 2 == pytest.approx(1200, abs=15)


def test_keys_alone_from_wall_to_door_on_the_opened_out_room(hands: Hands) -> None:
    hands.window.desk.show_view("opened")
    hands.settle()
    for _ in range(40):  # Tab goes from thing to thing until wall C is held
        held = hands.window.desk.held
        if held is not None and held.surface.endswith("wall:c"):
            break
        hands.key(Qt.Key.Key_Tab)
    hands.key(Qt.Key.Key_D)
    hands.enter("at 700")
    hands.settle()
    usual = usual_size(OpeningKind.DOOR, Units.METRIC)
    assert box(hands) == ("c", 700, 0, usual.width, usual.height)
