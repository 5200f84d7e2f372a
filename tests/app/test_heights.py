"""Heights of a ceiling on the desk: typed, from the menu, in hand, undone."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.figures import figures_of
from roomboard.app.gestures.drag_lines import RidgeDrag
from roomboard.app.window import Window
from roomboard.core.editing.ridges import ridge_of
from tests.app.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, desk_window: Window, settle: Callable[[Window], None]) -> Hands:
    """A room of 4000 x 3600, 2400 high, on the desk."""
    hands = Hands(qtbot, desk_window, settle)
    hands.line("Shed 4000 x 3600 h 2400")
    hands.line("along y at 600")
    return hands


def surface(hands: Hands, key: str):
    """A surface as it was worked out."""
    scheme = hands.window.desk.surface_scheme(key)
    assert scheme is not None
    return scheme.surface


def figure(hands: Hands, label: str):
    """A figure of what is held."""
    desk = hands.window.desk
    found = [f for f in figures_of(desk, desk.held) if f.label == label]
    assert found, [f.label for f in figures_of(desk, desk.held)]
    return found[0]


def test_a_ceiling_is_raked_by_typing_and_comes_back_with_undo(hands):
    """Up from wall D (y = 0), 3600 deep: 1200 in 3600, 3794.7 up the slope (Pythagoras)."""
    hands.line("rake 2400 to 3600 from D")
    part = hands.room.ceiling_parts[0]
    assert (part.height, part.rise_deg) == (2400.0, 90.0)
    assert part.pitch_deg == pytest.approx(18.434949)
    _, v0, _, v1 = surface(hands, "ceiling:a").outline.bounds
    assert v1 - v0 == pytest.approx(3794.733, abs=0.001)
    hands.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    hands.settle()
    assert hands.room.ceiling_parts == ()
    assert hands.window.desk.surface_scheme("ceiling") is not None


def test_a_line_without_a_wall_counts_from_the_one_in_hand(hands):
    hands.window.entry.line.setFocus()
    hands.write("rake 2400 to 3600")
    assert "from which wall" in hands.window.entry.echo.text()
    hands.window.entry.line.clear()
    hands.window.desk.hold(Held("wall", "b"))
    hands.line("rake 2400 to 3600")
    assert hands.room.ceiling_parts[0].rise_deg == 270.0


def test_the_menu_asks_for_a_ridge_and_says_what_it_understood(hands):
    window = hands.window
    window.bar.actions["heights.ridge"].trigger()
    hands.write("2400 to 3400 along A")
    assert "ridge at 3400 mm" in window.entry.echo.text()
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert [p.rise_deg for p in hands.room.ceiling_parts] == [0.0, 180.0]
    gable = surface(hands, "wall:b")
    assert len(gable.outline.outer) == 5


def test_the_pitch_in_hand_turns_a_part_about_where_it_was_measured(hands):
    hands.line("rake 2400 to 3600 from D")
    hands.window.desk.hold(Held("surface", surface(hands, "ceiling:a").ref))
    pitch = figure(hands, "Pitch in degrees")
    meant = pitch.meaning("30")
    assert meant.run is not None
    meant.run()
    hands.settle()
    assert hands.room.ceiling_parts[0].pitch_deg == 30.0
    assert hands.room.ceiling_parts[0].height == 2400.0
    rise = figure(hands, "Rise").meaning("1200")
    assert rise.run is not None
    rise.run()
    hands.settle()
    assert hands.room.ceiling_parts[0].pitch_deg == pytest.approx(18.434949)
    hands.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    hands.settle()
    refused = figure(hands, "Pitch in degrees").meaning("89")
    assert refused.run is not None
    refused.run()
    assert hands.room.ceiling_parts[0].pitch_deg == 30.0


def test_a_corner_raised_folds_the_ceiling_along_the_other_diagonal(hands):
    """Corner 3 (4000, 3600) up to 2700: the fold runs from corner 2 to corner 4."""
    hands.window.desk.hold(Held("corner", "corner:2"))
    meant = figure(hands, "Ceiling over it").meaning("2700")
    assert meant.run is not None
    meant.run()
    hands.settle()
    parts = hands.room.ceiling_parts
    assert len(parts) == 2
    assert sorted(p.pitch_deg == 0.0 for p in parts) == [False, True]
    raised = figure(hands, "Ceiling over it")
    assert raised.value == pytest.approx(2700.0)


def test_a_dropped_part_is_taken_away_again(hands):
    hands.line("drop 300 over 600 along A")
    assert [p.height for p in hands.room.ceiling_parts] == [2100.0]
    hands.window.desk.hold(Held("surface", surface(hands, "ceiling:a").ref))
    hands.window.bar.refresh()
    hands.window.bar.actions["heights.remove"].trigger()
    hands.settle()
    assert hands.room.ceiling_parts == ()


def test_a_part_is_taken_hold_of_on_the_plan(hands):
    hands.line("drop 300 over 600 along A")
    hands.window.desk.show_view("plan")
    hands.settle()
    hands.click(hands.at((300.0, 2200.0)))
    held = hands.window.desk.held
    assert held is not None
    assert held.ref in {"ceiling:a", surface(hands, "ceiling:a").ref} or "ceiling:a" in held.surface


def test_every_view_of_a_room_under_a_ridge_is_drawn_in_every_lens(hands):
    hands.line("ridge 2400 to 3400 along A")
    desk = hands.window.desk
    for view in ("opened", "plan", "ceiling", "below", "wall:b"):
        desk.show_view(view)
        for number in "1234567":
            hands.window.canvas.setFocus()
            hands.write(number)
            hands.settle()
            assert hands.window.canvas.drawn is not None
            assert hands.window.canvas.drawn.view.panes


def test_what_cannot_be_is_refused_with_a_sentence(hands):
    entry = hands.window.entry
    entry.line.setFocus()
    for text, words in (
        ("rake 3600 to 2400 from D", "lower wall"),
        ("ridge 2400 to 2300 along A", "no higher than its sides"),
        ("corners 2400, 2400, 2900, 2400", "fold the ceiling along a diagonal"),
        ("soffit 2400 at 80 deg from D", "meets the floor"),
        ("cap 2300", "does not slope"),
        ("rake 2400 from D", "type e.g. rake"),
    ):
        entry.line.setText(text)
        assert words in entry.echo.text(), (text, entry.echo.text())
        assert entry.echo.text().startswith("✗")


def test_a_hatch_is_put_in_on_the_plan_and_lies_true_on_the_slope(hands):
    """Slopes are unfolded, so the plan is shown; 1 in plan is 3794.733 / 3600 up the slope."""
    hands.line("rake 2400 to 3600 from D")
    window = hands.window
    window.desk.show_view("ceiling")
    hands.settle()
    window.bar.actions["opening.hatch"].trigger()
    hands.settle()
    assert window.desk.view == "plan"
    hands.click(hands.at((2100.0, 1900.0)))
    hands.settle()
    (hatch,) = [o for o in hands.room.openings if o.host == "ceiling"]
    middle = (hatch.left + hatch.width / 2, hatch.bottom + hatch.height / 2)
    assert middle == pytest.approx((2100.0, 1900.0), abs=100)
    u0, v0, u1, v1 = surface(hands, "ceiling:a").openings[0].region.bounds
    assert (u0 + u1) / 2 == pytest.approx(middle[0], abs=0.1)
    assert (v0 + v1) / 2 == pytest.approx(middle[1] * 3794.733 / 3600, abs=0.1)


def test_corners_are_dragged_on_the_plan_only_where_the_ceiling_is_unfolded(hands):
    hands.line("ridge 2400 to 3400 along A")
    desk = hands.window.desk
    more = hands.window.canvas.more
    assert more is not None
    desk.show_view("opened")
    hands.settle()
    assert more(desk) == ()
    desk.show_view("plan")
    hands.settle()
    assert len(more(desk)) == 4


@pytest.mark.parametrize(("to", "away"), [(1000.0, 1000), (1795.0, 1800)])
def test_a_ridge_is_dragged_in_plan(hands: Hands, to: float, away: float) -> None:
    hands.line("ridge 2400 to 3400 at 1500 along A")
    hands.window.desk.show_view("plan")
    hands.settle()
    wall = next(w for w in hands.room.walls if w.name == "A")
    known = ridge_of(hands.room)
    assert known is not None
    assert (known.wall, known.away) == (wall.id, 1500)
    (x, y), (way_x, way_y) = known.near.at, known.inward
    along = (-way_y * 300, way_x * 300)  # beside the lettering
    place = (x + along[0], y + along[1])
    end = (place[0] + way_x * (to - 1500), place[1] + way_y * (to - 1500))
    hands.drag(hands.at(place), hands.at(end))
    gesture = hands.window.canvas.gesture
    assert isinstance(gesture, RidgeDrag)
    assert "pitch" in gesture.figures
    hands.release(hands.at(end))
    hands.settle()
    now = ridge_of(hands.room)
    assert now is not None
    assert now.away == pytest.approx(away, abs=15)
    assert (now.low, now.top, now.low_other) == pytest.approx((2400, 3400, 2400), abs=0.1)


def test_a_length_typed_while_a_ridge_is_dragged_beats_the_pointer(hands: Hands) -> None:
    hands.line("ridge 2400 to 3400 at 1500 along A")
    hands.window.desk.show_view("plan")
    hands.settle()
    known = ridge_of(hands.room)
    assert known is not None
    (x, y), (way_x, way_y) = known.near.at, known.inward
    place = (x - way_y * 300, y + way_x * 300)
    hands.drag(hands.at(place), hands.at((place[0] + way_x * 400, place[1] + way_y * 400)))
    hands.write("9000")
    assert "lies outside the room" in hands.window.entry.echo.text()
    hands.window.entry.line.clear()
    hands.enter("1100")
    hands.settle()
    now = ridge_of(hands.room)
    assert now is not None
    assert now.away == 1100
