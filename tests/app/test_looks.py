"""Views that look up, rows of buttons, searches that find nothing, names on cutting diagrams."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from roomboard.app.canvas.drawn import Drawn, draw
from roomboard.app.dialogs.keys import Keys
from roomboard.app.dialogs.ledger import Ledger
from roomboard.app.dialogs.set_choosing import SetChoosing
from roomboard.app.figures.job_lists import practice_rows
from roomboard.app.pages import Asked
from roomboard.app.window import Window
from roomboard.drawing.displaylist import Text
from tests.app.hands import SHIFT, Hands


@pytest.fixture
def hands(desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]) -> Hands:
    found = Hands(qtbot, desk_window, settle)
    found.line("Long front room 5400 x 3600 h 2400")
    return found


def texts(hands: Hands) -> list[str]:
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    return [m.text for p in drawn.view.panes for m in p.marks if isinstance(m, Text)]


def test_the_ceiling_is_seen_from_below(hands: Hands) -> None:
    hands.window.canvas.setFocus()
    hands.key(Qt.Key.Key_L)
    hands.enter("at 1000, 900")  # a light a metre from wall A
    hands.key(Qt.Key.Key_Escape)
    hands.settle()
    hands.window.canvas.setFocus()
    hands.key(Qt.Key.Key_C, SHIFT)
    hands.settle()
    assert hands.window.desk.view == "below"
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    (pane,) = [p for p in drawn.view.panes if p.key == "ceiling"]
    # Left and right swap: what lies at x = 1000 in the plan is drawn at -1000, and wall A,
    # which is on the left in the plan, is on the right.
    assert pane.placing.apply((1000.0, 900.0)) == (-1000.0, 900.0)
    (letter,) = [m for m in pane.marks if isinstance(m, Text) and m.text == "A"]
    assert letter.at[0] > -5400 / 2
    assert "5400" in texts(hands)
    # It is pointed at there like everything else, and the arrows move it as it is seen.
    hands.click(hands.at((1000.0, 900.0), "ceiling"))
    held = hands.window.desk.held
    assert held is not None
    assert held.ref == "l1"
    hands.key(Qt.Key.Key_Right, SHIFT)
    light = hands.room.openings[0]
    assert light.left + light.width / 2 == 999  # to the right there is nearer to wall A
    # What is dragged there moves the drawing, not the room.
    before = hands.window.document.project
    start = hands.at((0.0, 1800.0), "ceiling")
    hands.drag(start, start + QPoint(60, 0))
    hands.release(start + QPoint(60, 0))
    assert hands.window.document.project == before


def test_a_dimension_of_the_ceiling_from_below_is_typed_over(hands: Hands) -> None:
    hands.window.desk.show_view("below")
    for lens in ("measure", "set_out"):
        hands.window.desk.show_lens(lens)
        hands.settle()
        drawn = hands.window.canvas.drawn
        assert drawn is not None
        found = [p for p in drawn.picker.of("", "length:b") if p.layer == "dimension"]
        assert found, lens


def test_cutting_diagrams_call_rooms_by_their_names(hands: Hands) -> None:
    hands.window.desk.show_view("cutting")
    hands.settle()
    written = texts(hands)
    assert any("Long front room" in t for t in written)
    assert hands.room.id == "long-front-room"
    assert not any("long-front-room" in t for t in written)


def test_the_buttons_of_faces_lie_inside_their_row(hands: Hands) -> None:
    for room in ("Hall 20 m x 20 m h 2.4 m", ""):
        if room:
            hands.line(room)
        for width in (700, 1400):
            hands.window.resize(width, 800)
            hands.settle()
            faces = hands.window.faces
            row = faces.viewport().rect()
            for button in faces._buttons.values():
                top = button.mapTo(faces.viewport(), QPoint(0, 0)).y()
                assert top >= 0
                assert top + button.height() <= row.height()


def test_a_search_that_finds_nothing_says_so(desk_window: Window, qtbot: QtBot) -> None:
    keys = Keys(desk_window.bar.acts, desk_window)
    qtbot.addWidget(keys)
    keys.show()
    qtbot.keyClicks(keys.search, "zzz")
    assert "“zzz”" in keys.none.text()
    assert keys.none.isVisible()
    keys.search.clear()
    assert not keys.none.isVisible()
    ledger = Ledger(desk_window.document, practice_rows, ("a", "b", "c", "d"), desk_window)
    qtbot.addWidget(ledger)
    ledger.show()
    qtbot.keyClicks(ledger.seek, "joint zzz")
    assert "“joint zzz”" in ledger.none.text()
    assert not ledger.none.isHidden()
    ledger.seek.setText("joint")
    assert ledger.none.isHidden()


def test_what_an_act_does_is_read_in_full_by_keys_too(desk_window: Window, qtbot: QtBot) -> None:
    keys = Keys(desk_window.bar.acts, desk_window)
    qtbot.addWidget(keys)
    keys.show()
    keys.tree.setFocus()
    tips = {act.tip for act in desk_window.bar.acts}
    told = set()
    for _ in range(5):
        qtbot.keyClick(keys.tree, Qt.Key.Key_Down)
        told.add(keys.told.text())
    assert len(told) >= 4
    assert told - {""} <= tips


def test_figures_of_practice_are_said_in_plain_words(desk_window: Window) -> None:
    for row in practice_rows(desk_window.document):
        assert "_" not in row.cells[1], row.key
        assert all("_" not in words for _, words in row.figure.options), row.key


def test_openers_have_room_for_their_words_and_their_sign(
    desk_window: Window, qtbot: QtBot
) -> None:
    choosing = SetChoosing(Asked(paper="A4", fixings=False), (), desk_window)
    qtbot.addWidget(choosing)
    choosing.show()
    for button in (choosing.kinds, choosing.rooms):
        words = button.fontMetrics().horizontalAdvance(button.accessibleName())
        assert button.width() > words + 16


def test_every_control_at_hand_has_a_name_and_a_tip(hands: Hands) -> None:
    tab = Qt.FocusPolicy.TabFocus
    for control in hands.window.findChildren(QWidget):
        if not control.isVisible() or not control.focusPolicy() & tab:
            continue
        named = control.accessibleName() or getattr(control, "text", str)()
        assert named, control
        if isinstance(control, QAbstractButton | QLineEdit | QComboBox | QAbstractItemView):
            assert control.toolTip(), (control, named)


def test_a_drawing_moved_while_it_is_fitted_is_lettered_for_the_scale_it_has(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    canvas = hands.window.canvas
    canvas.setFocus()
    for _ in range(6):
        hands.key(Qt.Key.Key_Plus)
    hands.settle()
    near = canvas.port.zoom
    begun, go_on = threading.Event(), threading.Event()

    def slow(*args: object) -> Drawn:
        begun.set()
        assert go_on.wait(10)
        return draw(*args)  # type: ignore[arg-type]

    monkeypatch.setattr("roomboard.app.canvas.canvas.draw", slow)
    canvas.fit()
    assert begun.wait(10)
    hands.key(Qt.Key.Key_Down)
    go_on.set()
    hands.settle()
    assert canvas.port.zoom == near
    assert canvas.drawn is not None
    assert canvas.drawn.view.scale == pytest.approx(canvas.port.scale)
