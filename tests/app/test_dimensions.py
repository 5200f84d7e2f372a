"""Dimensions clicked on walls, ceilings and plans, and typed over."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from roomboard.app.gestures.dimension import ChangeDimension
from roomboard.app.window import Window
from roomboard.core.framing import member_positions
from tests.app.hands import SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    """A room of 5400 by 3600 with a door and a window in wall B, the upper one."""
    found = Hands(qtbot, desk_window, settle)
    found.line("5400 x 3600 h 2400")
    found.window.desk.show_view("wall:b")
    found.settle()
    found.key(Qt.Key.Key_D)
    found.enter("820 x 2040 at 900")
    found.settle()
    found.key(Qt.Key.Key_N)
    found.enter("1500 x 1200 at 3000 sill 900")
    found.settle()
    return found


def show(hands: Hands, view: str, lens: str = "measure") -> None:
    hands.window.desk.hold(None)
    hands.window.desk.show_lens(lens)
    hands.window.desk.show_view(view)
    hands.settle()


def place(hands: Hands, ref: str) -> QPoint:
    """Where the figures of a dimension are written."""
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    found = [p for p in drawn.picker.of("", ref) if p.layer == "dimension"]
    assert found, ref
    texts = [m for p in drawn.view.panes for m in p.marks if m.ref == ref and hasattr(m, "text")]
    assert texts, ref
    from roomboard.drawing.displaylist import text_corners

    corners = text_corners(texts[0], drawn.view.scale)
    x = sum(p[0] for p in corners) / len(corners)
    y = sum(p[1] for p in corners) / len(corners)
    return hands.window.canvas.port.to_screen((x, y)).toPoint()


def set_to(hands: Hands, ref: str, text: str) -> None:
    """Click a dimension, type another length, press Enter."""
    hands.click(place(hands, ref))
    assert isinstance(hands.window.canvas.gesture, ChangeDimension), ref
    hands.enter(text)
    hands.settle()
    assert hands.window.canvas.gesture is None


def boxes(hands: Hands) -> list[tuple[float, float, float, float]]:
    return [(o.left, o.bottom, o.width, o.height) for o in hands.room.openings]


DOOR, WINDOW = (900.0, 0.0, 820.0, 2040.0), (3000.0, 900.0, 1500.0, 1200.0)


@pytest.mark.parametrize(
    ("ref", "text", "expected"),
    [
        ("left:d1", "700", [(700.0, 0.0, 820.0, 2040.0), WINDOW]),
        ("width:d1", "870", [(900.0, 0.0, 870.0, 2040.0), WINDOW]),
        ("head:d1", "2100", [(900.0, 0.0, 820.0, 2100.0), WINDOW]),
        # The stretch between the door's right side, 1720, and the window: 1720 + 1400.
        ("left:w1", "1400", [DOOR, (3120.0, 900.0, 1500.0, 1200.0)]),
        # From the right corner: 5400 - 1500 - 600.
        ("right:w1", "600", [DOOR, (3300.0, 900.0, 1500.0, 1200.0)]),
        ("width:w1", "1800", [DOOR, (3000.0, 900.0, 1800.0, 1200.0)]),
        # A sill moves and the head stays at 2100, and the other way round.
        ("sill:w1", "800", [DOOR, (3000.0, 800.0, 1500.0, 1300.0)]),
        ("head:w1", "2000", [DOOR, (3000.0, 900.0, 1500.0, 1100.0)]),
    ],
)
def test_dimensions_of_openings_on_the_wall(
    hands: Hands, ref: str, text: str, expected: list[tuple[float, ...]]
) -> None:
    set_to(hands, ref, text)
    assert boxes(hands) == expected


def test_length_and_height_of_the_wall(hands: Hands) -> None:
    set_to(hands, "length:b", "5200")
    # Its far end moves and the walls stay square: wall D opposite follows, A and C keep 3600.
    assert hands.sizes() == [3600, 5200, 3600, 5200]
    assert boxes(hands) == [DOOR, WINDOW]
    set_to(hands, "height", "2550")
    assert hands.room.height == 2550


def test_what_stands_on_the_drawing_is_what_can_be_typed_over(hands: Hands) -> None:
    for ref in ("length:b", "height", "left:w1", "right:w1", "width:d1", "sill:w1", "head:w1"):
        at = place(hands, ref)
        drawn = hands.window.canvas.drawn
        assert drawn is not None
        (written,) = {
            m.text for p in drawn.view.panes for m in p.marks if m.ref == ref and hasattr(m, "text")
        }
        hands.click(at)
        gesture = hands.window.canvas.gesture
        assert gesture is not None
        assert f"now {written}:" in gesture.hint, ref
        hands.key(Qt.Key.Key_Escape)


def test_dimensions_through_the_lens_for_framing(hands: Hands) -> None:
    hands.key(Qt.Key.Key_Y)
    hands.enter("at 600")
    hands.settle()
    show(hands, "wall:b", "frame")
    set_to(hands, "from:w1", "3100")
    assert boxes(hands)[1][0] == 3100
    set_to(hands, "to:w1", "4700")  # its left side stays: 4700 - 3100
    assert boxes(hands)[1][2] == 1600
    show(hands, "wall:a", "frame")
    hands.window.desk.hold(None)
    hands.key(Qt.Key.Key_Y)
    hands.enter("45, 600, 1150, 1750, 2350, 3000, 3555")
    hands.settle()
    set_to(hands, "place:S3", "1200")
    wall = hands.room.wall("a")
    assert wall is not None
    assert wall.studs == (45, 600, 1200, 1750, 2350, 3000, 3555)


def test_places_of_joists_on_the_plan(hands: Hands) -> None:
    hands.line("along y at 600")
    show(hands, "plan", "frame")
    set_to(hands, "place:joists-2", "1150")
    (zone,) = hands.room.joists
    assert member_positions(zone, 5400)[:3] == (600, 1150, 1800)
    set_to(hands, "length:b", "5300")  # running dimensions end with the whole length
    assert hands.sizes() == [3600, 5300, 3600, 5300]


def test_a_hole_in_the_ceiling_is_set_out_from_two_walls(hands: Hands) -> None:
    show(hands, "ceiling")
    hands.key(Qt.Key.Key_H, SHIFT)
    hands.enter("600 x 500 at 1200, 900")
    hands.settle()
    for view in ("plan", "ceiling"):
        show(hands, view)
        set_to(hands, "near:h1", "800")  # the lower wall is nearest
        set_to(hands, "far:h1", "1000")
        hatch = hands.room.openings[-1]
        assert (hatch.left, hatch.bottom) == (1000, 800)
        hands.window.document.undo_stack.undo()
        hands.window.document.undo_stack.undo()
        hands.settle()


def test_walls_are_set_on_the_ceiling_too(hands: Hands) -> None:
    for lens in ("measure", "set_out"):
        show(hands, "ceiling", lens)
        set_to(hands, "length:b", "5000")
        assert hands.sizes() == [3600, 5000, 3600, 5000]
        set_to(hands, "length:a", "3500")
        assert hands.sizes() == [3500, 5000, 3500, 5000]
        hands.window.document.undo_stack.undo()
        hands.window.document.undo_stack.undo()
        hands.settle()


def test_a_length_that_does_not_fit_keeps_the_old_one(hands: Hands) -> None:
    before = hands.window.document.project
    hands.click(place(hands, "head:w1"))
    hands.write("2700")
    hands.key(Qt.Key.Key_Return)
    assert "✗" in hands.window.entry.echo.text()
    assert hands.window.document.project == before


def test_openings_are_set_where_the_room_is_opened_out(hands: Hands) -> None:
    show(hands, "opened")
    set_to(hands, "left:d1", "700")
    set_to(hands, "width:w1", "1600")
    # The gap before the window is measured from the door's right side: 700 + 820 = 1520.
    set_to(hands, "left:w1", "1400")
    assert boxes(hands) == [(700.0, 0.0, 820.0, 2040.0), (2920.0, 900.0, 1600.0, 1200.0)]
    set_to(hands, "length:b", "5600")
    assert hands.sizes() == [3600, 5600, 3600, 5600]
