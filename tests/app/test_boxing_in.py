"""Bulkheads and columns on the desk."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.figures import figures_of
from roomboard.app.window import Window
from roomboard.core.plane import Region
from roomboard.core.project import Units
from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.usual_sizes import read_usual_sizes, usual_box
from tests.app.hands import SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    """A room of 5400 by 3600; wall A is the left one, B the upper, C the right, D the lower."""
    found = Hands(qtbot, desk_window, settle)
    found.line("5400 x 3600 h 2400")
    found.window.desk.show_view("plan")
    found.settle()
    return found


def bulkhead(hands: Hands) -> tuple[str, float, float, float, float]:
    (b,) = hands.room.bulkheads
    return b.wall, b.left, b.length, b.depth, b.drop


def column(hands: Hands) -> tuple[float, float, float, float]:
    (c,) = hands.room.columns
    return Region.of(c.outline).bounds


def faces(hands: Hands) -> list[str]:
    scheme = hands.window.desk.room_scheme
    assert scheme is not None
    return [s.surface.key for s in scheme.surfaces]


def test_a_bulkhead_by_keys_alone(hands: Hands) -> None:
    hands.window.desk.hold(Held("wall", "b"))
    hands.key(Qt.Key.Key_V)
    hands.write("600 x 300 from 900 to 3300")
    echo = hands.window.entry.echo.text()
    hands.enter()
    hands.settle()
    assert "2400 mm long" in echo  # 3300 - 900
    assert bulkhead(hands) == ("b", 900, 2400, 600, 300)
    (b,) = hands.room.bulkheads
    assert (b.left_free, b.right_free) == (True, True)
    assert [k for k in faces(hands) if k.startswith("bulkhead:")] == [
        "bulkhead:b1:face",
        "bulkhead:b1:underside",
        "bulkhead:b1:left",
        "bulkhead:b1:right",
    ]


def test_size_alone_goes_along_the_whole_wall(hands: Hands) -> None:
    hands.window.desk.hold(Held("wall", "b"))
    hands.key(Qt.Key.Key_V)
    hands.enter("450 x 250")
    hands.settle()
    assert bulkhead(hands) == ("b", 0, 5400, 450, 250)


def test_two_clicks_and_a_depth_on_the_plan(hands: Hands) -> None:
    usual = usual_box("bulkhead", Units.METRIC)
    hands.key(Qt.Key.Key_V)
    hands.click(hands.at((5.0, 3595.0)))  # the corner of A and B
    hands.click(hands.at((2700.0, 3595.0)))  # the middle of B
    hands.move(hands.at((1500.0, 3000.0)))
    hands.click(hands.at((1500.0, 3000.0)))
    hands.settle()
    wall, left, length, depth, drop = bulkhead(hands)
    assert (wall, left, length, drop) == ("b", 0, 2700, usual[1])
    assert depth == pytest.approx(600, abs=15)
    assert depth == round(depth)
    assert hands.window.desk.held == Held("bulkhead", "bulkhead:b1")
    assert hands.window.canvas.gesture is None


def test_from_a_corner_the_second_place_tells_which_wall_is_meant(hands: Hands) -> None:
    for second, wall, left, length in (
        ((2700.0, 3595.0), "b", 0.0, 2700.0),
        ((5.0, 1800.0), "a", 1800.0, 1800.0),  # wall A runs up to that corner
    ):
        for first in ((5.0, 3590.0), (10.0, 3595.0)):
            hands.key(Qt.Key.Key_V)
            hands.click(hands.at(first))
            hands.click(hands.at(second))
            hands.enter("600 x 300")
            hands.settle()
            assert bulkhead(hands) == (wall, left, length, 600, 300)
            hands.window.document.undo_stack.undo()
            hands.settle()


def test_esc_takes_its_places_back_one_by_one(hands: Hands) -> None:
    hands.key(Qt.Key.Key_V)
    hands.click(hands.at((1000.0, 3595.0)))
    hands.click(hands.at((2000.0, 3595.0)))
    for _ in range(2):
        hands.key(Qt.Key.Key_Escape)
        assert hands.window.canvas.gesture is not None
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.canvas.gesture is None
    assert hands.room.bulkheads == ()


@pytest.mark.parametrize(
    "text",
    ["600 x 2400", "600 x 300 from 900 to 5500", "600 x 300 from 900", "wide x low", "0 x 300"],
)
def test_a_bulkhead_that_does_not_fit_is_refused(hands: Hands, text: str) -> None:
    before = hands.window.document.project
    hands.window.desk.hold(Held("wall", "b"))
    hands.key(Qt.Key.Key_V)
    hands.write(text)
    assert "✗" in hands.window.entry.echo.text()
    hands.enter()
    assert hands.window.document.project == before
    assert hands.window.canvas.gesture is not None


def test_front_ends_and_whole_of_a_bulkhead_are_dragged(hands: Hands) -> None:
    hands.window.desk.hold(Held("wall", "b"))
    hands.key(Qt.Key.Key_V)
    hands.enter("600 x 300 from 1000 to 3000")
    hands.settle()
    drags = (
        ((2000.0, 3000.0), (2000.0, 2800.0), 3),  # the front, 200 further out
        ((3000.0, 3200.0), (3300.0, 3200.0), 2),  # the right end, 300 longer
        ((2000.0, 3200.0), (2400.0, 3200.0), 1),  # whole, 400 to the right
    )
    expected = [None, 1400.0, 2300.0, 800.0]
    for start, end, number in drags:
        before = bulkhead(hands)
        hands.drag(hands.at(start), hands.at(end))
        hands.release(hands.at(end))
        hands.settle()
        now = bulkhead(hands)
        assert now[number] == pytest.approx(expected[number], abs=15)
        changed = [i for i in range(5) if now[i] != before[i]]
        assert changed == [number]
    hands.drag(hands.at((now[1], 3200.0)), hands.at((now[1] + 200, 3200.0)))
    hands.write("1000")  # the left end: what is typed beats the pointer
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert bulkhead(hands)[1] == 1000
    assert bulkhead(hands)[1] + bulkhead(hands)[2] == pytest.approx(now[1] + now[2])


def test_its_figures_are_in_hand_after_a_click_and_it_is_deleted(hands: Hands) -> None:
    hands.window.desk.hold(Held("wall", "b"))
    hands.key(Qt.Key.Key_V)
    hands.enter("600 x 300 from 1000 to 3000")
    hands.settle()
    hands.window.desk.hold(None)
    hands.click(hands.at((1300.0, 3300.0)))
    held = hands.window.desk.held
    assert held is not None
    assert (held.kind, held.ref) == ("bulkhead", "bulkhead:b1")
    hands.line("350")  # a length alone is its drop, which stands first
    assert bulkhead(hands)[4] == 350
    hands.window.canvas.setFocus()
    hands.key(Qt.Key.Key_Right, SHIFT)
    assert bulkhead(hands)[1] == 1001
    hands.key(Qt.Key.Key_Delete)
    hands.settle()
    assert hands.room.bulkheads == ()
    assert not [k for k in faces(hands) if k.startswith("bulkhead:")]
    hands.window.document.undo_stack.undo()
    assert len(hands.room.bulkheads) == 1


def test_a_column_by_keys_alone(hands: Hands) -> None:
    hands.key(Qt.Key.Key_I)
    hands.write("400 x 300 at 1200, 900")
    echo = hands.window.entry.echo.text()
    hands.enter()
    hands.settle()
    assert "1200 mm from the left" in echo
    assert column(hands) == (1200, 900, 1600, 1200)
    assert [k for k in faces(hands) if k.startswith("column:")] == [
        f"column:c1:{n}" for n in (1, 2, 3, 4)
    ]
    scheme = hands.window.desk.surface_scheme("ceiling")
    assert scheme is not None
    # The ceiling is cut round it: 5400 x 3600 less 400 x 300.
    assert scheme.surface.area_m2 == pytest.approx(5.4 * 3.6 - 0.4 * 0.3, rel=0.01)


def test_a_click_puts_a_column_into_the_middle_and_the_mirror_moves_it(hands: Hands) -> None:
    hands.key(Qt.Key.Key_I)
    hands.enter("400 x 400")  # a size alone is kept for the click
    hands.move(hands.at((1500.0, 1800.0)))
    gesture = hands.window.canvas.gesture
    assert gesture is not None
    assert "middle of the room" in getattr(gesture, "figures", "")
    hands.click(hands.at((1500.0, 1800.0)))
    hands.settle()
    x0, y0, x1, y1 = column(hands)
    assert (x1 - x0, y1 - y0, y0) == (400, 400, 1600)  # (3600 - 400) / 2
    assert x0 == pytest.approx(1300, abs=15)
    hands.window.bar.actions["room.mirror"].trigger()
    hands.settle()
    assert column(hands) == (5400 - x1, 1600, 5400 - x0, 2000)
    hands.window.bar.actions["room.mirror"].trigger()
    # A quarter turn to the right takes (x, y) to (y, 5400 - x); four take the room round.
    hands.key(Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    hands.settle()
    assert column(hands) == (1600, 5400 - x1, 2000, 5400 - x0)
    for _ in range(3):
        hands.window.bar.actions["room.turn"].trigger()
    hands.settle()
    assert column(hands) == (x0, y0, x1, y1)


def test_a_column_is_held_dragged_sized_and_deleted(hands: Hands) -> None:
    hands.key(Qt.Key.Key_I)
    hands.enter("400 x 300 at 1200, 900")
    hands.settle()
    hands.window.desk.hold(None)
    hands.click(hands.at((1300.0, 1000.0)))
    held = hands.window.desk.held
    assert held is not None
    assert (held.kind, held.ref) == ("column", "column:c1")
    figures = {f.label: f for f in figures_of(hands.window.desk, held)}
    assert [figures[n].value for n in ("From the left", "From below", "Width", "Depth")] == [
        1200,
        900,
        400,
        300,
    ]
    put = figures["Width"].put
    assert put is not None
    put(500.0)
    assert column(hands) == (1200, 900, 1700, 1200)
    hands.settle()
    hands.drag(hands.at((1300.0, 1000.0)), hands.at((2300.0, 1000.0)))
    hands.write("2000, 1500")
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert column(hands) == (2000, 1500, 2500, 1800)
    hands.window.canvas.setFocus()
    hands.key(Qt.Key.Key_Up, SHIFT)
    assert column(hands)[1] == 1501
    hands.key(Qt.Key.Key_Delete)
    hands.settle()
    assert hands.room.columns == ()


@pytest.mark.parametrize(
    ("start", "by", "sides"),
    [
        ((2000.0, 1200.0), (200.0, 0.0), (0, 0, 200, 0)),  # the right side, 200 further out
        ((1200.0, 1200.0), (-200.0, 0.0), (-200, 0, 0, 0)),  # the left one, 200 further out
        ((1200.0, 1200.0), (200.0, 0.0), (200, 0, 0, 0)),  # and 200 further in
        ((1600.0, 1600.0), (0.0, 200.0), (0, 0, 0, 200)),  # the upper one
        ((1600.0, 900.0), (0.0, -200.0), (0, -200, 0, 0)),  # the lower one
        ((1600.0, 1250.0), (200.0, 0.0), (200, 0, 200, 0)),  # the whole of it
    ],
)
def test_sides_and_whole_of_a_column_are_dragged(
    hands: Hands,
    start: tuple[float, float],
    by: tuple[float, float],
    sides: tuple[int, int, int, int],
) -> None:
    hands.key(Qt.Key.Key_I)
    hands.enter("800 x 700 at 1200, 900")
    hands.settle()
    before = column(hands)
    end = (start[0] + by[0], start[1] + by[1])
    hands.drag(hands.at(start), hands.at(end))
    hands.release(hands.at(end))
    hands.settle()
    moved = [now - was for now, was in zip(column(hands), before, strict=True)]
    for found, wanted in zip(moved, sides, strict=True):
        assert found == pytest.approx(wanted, abs=15)
        assert bool(found) is bool(wanted)


def test_a_size_typed_while_a_side_of_a_column_is_dragged_beats_the_pointer(hands: Hands) -> None:
    hands.key(Qt.Key.Key_I)
    hands.enter("800 x 700 at 1200, 900")
    hands.settle()
    hands.drag(hands.at((1200.0, 1250.0)), hands.at((1100.0, 1250.0)))
    hands.write("950")  # the right side stays at 2000
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert column(hands) == (1050, 900, 2000, 1600)


def test_a_side_of_a_column_is_not_dragged_out_of_the_room(hands: Hands) -> None:
    hands.key(Qt.Key.Key_I)
    hands.enter("800 x 700 at 1200, 900")
    hands.settle()
    before = hands.window.document.project
    hands.drag(hands.at((1200.0, 1250.0)), hands.at((-300.0, 1250.0)))
    hands.release(hands.at((-300.0, 1250.0)))
    hands.settle()
    assert hands.window.document.project == before


@pytest.mark.parametrize("text", ["400 x 300 at 5200, 900", "400 x 300 at 900", "0 x 3 at 1, 1"])
def test_a_column_that_does_not_fit_is_refused(hands: Hands, text: str) -> None:
    before = hands.window.document.project
    hands.key(Qt.Key.Key_I)
    hands.write(text)
    assert "✗" in hands.window.entry.echo.text()
    hands.enter()
    assert hands.window.document.project == before


def test_both_are_on_every_view_that_lies_as_the_plan(hands: Hands) -> None:
    hands.window.desk.hold(Held("wall", "b"))
    hands.key(Qt.Key.Key_V)
    hands.enter("600 x 300 from 1000 to 3000")
    hands.key(Qt.Key.Key_I)
    hands.enter("400 x 300 at 1200, 900")
    for view in ("plan", "ceiling", "opened"):
        hands.window.desk.show_view(view)
        hands.settle()
        drawn = hands.window.canvas.drawn
        assert drawn is not None
        for ref in ("bulkhead:b1", "column:c1"):
            found = drawn.picker.of("", ref)
            assert [p.layer for p in found] == [ref.partition(":")[0]], (view, ref)
            name = hands.window.canvas.name_of(found[0])
            assert name is not None
            assert name.title.casefold().startswith(ref.partition(":")[0])
            assert name.sentence


def test_usual_sizes_of_boxes_are_checked() -> None:
    with pytest.raises(CatalogueError) as caught:
        read_usual_sizes('[[box]]\nkind = "post"\nunits = "metric"\nsizes = [1, 2]\n', "here")
    text = str(caught.value)
    assert "box 1" in text
    assert "no size for a bulkhead in metric" in text
