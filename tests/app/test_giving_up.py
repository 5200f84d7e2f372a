"""Work that takes long: shown, given up, and never in the way of the window."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QPushButton
from pytestqt.qtbot import QtBot

from roomboard.app.canvas import drawn
from roomboard.app.canvas.prepared import Part
from roomboard.app.dialogs.carry_in import CarryIn
from roomboard.app.dialogs.variants import WAITING, Variants
from roomboard.app.making import Made, Step, making_of
from roomboard.app.panels.waiting import Waiting
from roomboard.app.window import Window
from roomboard.app.workings import Workings
from roomboard.core.heeding import heed
from roomboard.drawing.view import View
from tests.app.hands import CTRL, NONE, Hands


def test_a_job_given_up_ends_at_its_next_step_and_the_next_one_runs(qtbot: QtBot) -> None:
    workings = Workings("test")
    begun, go_on = threading.Event(), threading.Event()
    reached: list[str] = []
    results: list[object] = []
    workings.done.connect(lambda _number, result: results.append(result))

    def slow() -> str:
        begun.set()
        assert go_on.wait(10)
        workings.step("second half")
        reached.append("second half")
        return "slow"

    workings.ask(slow)
    assert begun.wait(10)
    workings.drop()
    go_on.set()
    workings.ask(lambda: "next")
    qtbot.waitUntil(lambda: not workings.busy and results == ["next"], timeout=10_000)
    assert reached == []
    workings.close()


def test_a_job_gives_way_to_a_newer_one_once_it_has_had_its_time(qtbot: QtBot) -> None:
    workings = Workings("test", patience=0.05)
    begun = threading.Event()
    results: list[object] = []
    workings.done.connect(lambda _number, result: results.append(result))

    def endless() -> None:
        begun.set()
        while True:
            heed()

    workings.ask(endless)
    assert begun.wait(10)
    workings.ask(lambda: "newer")
    qtbot.waitUntil(lambda: results == ["newer"], timeout=10_000)
    workings.close()


def test_without_a_newer_one_a_job_has_all_the_time_it_takes(qtbot: QtBot) -> None:
    workings = Workings("test", patience=0.01)
    results: list[object] = []
    workings.done.connect(lambda _number, result: results.append(result))

    def slow() -> str:
        time.sleep(0.05)
        heed()
        return "slow"

    workings.ask(slow)
    qtbot.waitUntil(lambda: results == ["slow"], timeout=10_000)
    workings.close()


def test_closing_ends_a_job_half_way() -> None:
    workings = Workings("test")
    begun = threading.Event()

    def endless() -> None:
        begun.set()
        while True:
            heed()

    workings.ask(endless)
    assert begun.wait(10)
    workings.close()
    assert not workings._thread.is_alive()


def test_a_job_that_is_wanted_tells_its_steps(qtbot: QtBot) -> None:
    workings = Workings("test")
    told: list[str] = []
    results: list[object] = []
    workings.stepped.connect(told.append)
    workings.done.connect(lambda _number, result: results.append(result))

    def job() -> str:
        workings.step("one")
        workings.step("two")
        return "done"

    workings.ask(job)
    qtbot.waitUntil(lambda: results == ["done"], timeout=10_000)
    assert told == ["one", "two"]
    workings.close()


def test_a_great_hall_is_given_up_and_the_window_goes_on(
    desk_window: Window, qtbot: QtBot, settle: Callable[[Window], None]
) -> None:
    hands = Hands(qtbot, desk_window, settle)
    hands.line("Den 3000 x 3000 h 2400")
    before = desk_window.document.scheme
    desk_window.entry.line.setFocus()
    hands.enter("Hall 55 m x 55 m h 2.4 m")
    give_up = next(b for b in desk_window.findChildren(QPushButton) if b.text() == "Give up")
    qtbot.waitUntil(give_up.isVisible, timeout=10_000)
    qtbot.waitUntil(
        lambda: "Hall" in desk_window.waiting.said.text(), timeout=10_000
    )  # it says what it is at
    qtbot.mouseClick(give_up, Qt.MouseButton.LeftButton)
    assert desk_window.document.scheme is before
    assert not give_up.isVisible()
    # It ends within the face or the cutting it is at, which take several seconds.
    qtbot.waitUntil(lambda: not desk_window.document._workings.busy, timeout=1_000)
    # The room stays, and what is done next is worked out: here it is taken back.
    assert [r.name for r in desk_window.document.project.rooms] == ["Den", "Hall"]
    desk_window.document.undo_stack.undo()
    settle(desk_window)
    scheme = desk_window.document.scheme
    assert scheme is not None
    assert [r.room.name for r in scheme.rooms] == ["Den"]


@pytest.mark.parametrize("key", [Qt.Key.Key_Q, Qt.Key.Key_G])
def test_a_panel_that_works_long_is_given_up_too(
    desk_window: Window,
    qtbot: QtBot,
    settle: Callable[[Window], None],
    monkeypatch: pytest.MonkeyPatch,
    key: Qt.Key,
) -> None:
    def endless(*_args: object, **_more: object) -> None:
        while True:
            heed()

    monkeypatch.setattr("roomboard.app.dialogs.which_way.ways_of", endless)
    monkeypatch.setattr("roomboard.app.dialogs.carry_in.carry_cost", endless)
    hands = Hands(qtbot, desk_window, settle)
    hands.line("Den 3000 x 3000 h 2400")
    hands.key(key, CTRL if key == Qt.Key.Key_G else NONE)
    (panel,) = (d for d in desk_window.findChildren(QDialog) if d.isVisible())
    if isinstance(panel, CarryIn):
        qtbot.keyClicks(panel.way, "turn 900 x 1100")
    (waiting,) = panel.findChildren(Waiting)
    qtbot.waitUntil(waiting.isVisible, timeout=10_000)
    qtbot.mouseClick(waiting.stop, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not waiting.isVisible(), timeout=1_000)
    told = panel.told.text() if isinstance(panel, CarryIn) else panel.reason.text()
    assert told.startswith("Given up")
    panel.close()


def test_variants_not_worked_out_are_left_open_until_the_table_is_opened_again(
    desk_window: Window,
    qtbot: QtBot,
    settle: Callable[[Window], None],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def endless(*_args: object, **_more: object) -> None:
        while True:
            heed()

    hands = Hands(qtbot, desk_window, settle)
    hands.line("Den 3000 x 3000 h 2400")
    with monkeypatch.context() as for_now:
        for_now.setattr("roomboard.app.dialogs.variants.work_out", endless)
        desk_window.bar.actions["sheets.variants"].trigger()
        (table,) = desk_window.findChildren(Variants)
        qtbot.waitUntil(table.waiting.isVisible, timeout=10_000)
        qtbot.mouseClick(table.waiting.stop, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: not table.waiting.isVisible(), timeout=1_000)
        assert table.table.item(0, 1).text() == WAITING
        table.close()
    desk_window.bar.actions["sheets.variants"].trigger()
    qtbot.waitUntil(lambda: table.settled, timeout=10_000)
    assert table.table.item(0, 1).text().isdigit()
    table.close()


def test_a_fault_nobody_foresaw_is_told_and_what_waits_is_made(
    desk_window: Window, qtbot: QtBot
) -> None:
    making = making_of(desk_window)
    made: list[Made] = []

    def broken(_step: Step) -> object:
        raise KeyError("sheet")

    making.make("Pages", broken, made.append)
    making.make("Lists", lambda _step: "a list", made.append)
    qtbot.waitUntil(lambda: len(made) == 2, timeout=10_000)
    assert "could not be made" in made[0].fault
    assert "KeyError" in made[0].fault
    assert made[1].value == "a list"
    assert not making.busy


def test_shapes_of_a_view_are_made_off_the_window_s_thread(
    demo_window: Window, settle: Callable[[Window], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[tuple[threading.Thread, int]] = []
    true_shapes = drawn.shaped_view

    def noted(view: View) -> list[Part]:
        parts = true_shapes(view)
        made.append((threading.current_thread(), len(parts)))
        return parts

    monkeypatch.setattr(drawn, "shaped_view", noted)
    demo_window.desk.show_view("cutting")
    settle(demo_window)
    assert made
    assert all(thread is not threading.main_thread() and count for thread, count in made)
