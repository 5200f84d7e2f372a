"""A room typed by its walls and diagonals under the drawing."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot

from roomboard.app.reading import MISCLOSED
from roomboard.app.window import Window
from tests.app.hands import Hands

# A right triangle of 3, 4 and 5 on each side of its diagonals: 3000 by 4000 closes to nothing.
CLOSED = "Bay walls 3000, 4000, 3000, 4000 diagonals 1-3 5000, 2-4 5000"


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    return Hands(qtbot, desk_window, settle)


def echo_of(hands: Hands, text: str) -> str:
    hands.window.entry.line.setFocus()
    hands.window.entry.line.setText(text)
    return hands.window.entry.echo.text()


def test_readings_that_agree_are_said_to(hands: Hands) -> None:
    echo = echo_of(hands, f"{CLOSED} h 2400")
    assert "= room Bay, 4000 × 3000, 2400 mm high" in echo
    assert "The readings agree to within 0 mm." in echo
    assert MISCLOSED not in echo
    hands.enter()
    hands.settle()
    assert hands.sizes() == pytest.approx([3000, 4000, 3000, 4000], abs=0.5)
    assert "The readings agree" in hands.window.statusBar().currentMessage()


def test_a_slip_of_the_tape_is_said_before_and_after(hands: Hands) -> None:
    # One diagonal read 100 mm too long: the tape's commonest slip.
    echo = echo_of(hands, CLOSED.replace("2-4 5000", "2-4 5100"))  # the usual height is taken
    assert f"{MISCLOSED} The readings do not agree: they lie" in echo
    assert "in doubt" in echo or "cannot be told" in echo
    assert not echo.startswith("✗")
    hands.enter()
    hands.settle()
    assert hands.room.name == "Bay"
    assert "do not agree" in hands.window.statusBar().currentMessage()


def test_the_doubtful_reading_is_named(hands: Hands) -> None:
    # Five walls and all five diagonals: three to spare beyond the seven that fix the corners. The
    # pentagon is the box with its corner at 4000, 3000 cut off by 1000 along both sides.
    good = (
        "Bay walls 3000, 3000, 1414.2 mm, 2000, 4000 "
        "diagonals 1-3 4242.6 mm, 1-4 4472.1 mm, 2-4 4123.1 mm, 2-5 5000, 3-5 3162.3 mm"
    )
    assert "agree to within" in echo_of(hands, good)
    echo = echo_of(hands, good.replace("2-5 5000", "2-5 5060"))
    assert f"{MISCLOSED} The readings do not agree" in echo
    assert (
        "Diagonal 2-5 is in doubt: it was read as 5060 mm, and the others make it 5000 mm" in echo
    )
    hands.window.entry.line.clear()


def test_readings_that_only_just_close_ask_for_another(hands: Hands) -> None:
    echo = echo_of(hands, "Bay walls 3000, 4000, 3000, 4000 diagonals 1-3 5000 h 2400")
    assert "none checks another; measure one more diagonal" in echo
    hands.window.entry.line.clear()


def test_walls_that_cannot_be_read_are_refused(hands: Hands) -> None:
    for text in ("Bay walls 3000, wide, 3000, 4000", "Bay walls 3000, 4000 diagonals 1-3 50"):
        assert echo_of(hands, text).startswith("✗")
        hands.window.entry.line.clear()
