"""Best of board: the search on the desk, what counts, other answers, taking up, undo."""

import re
from dataclasses import replace

import pytest
from PySide6.QtCore import QStandardPaths, Qt
from PySide6.QtWidgets import QPushButton

from roomboard.app.dialogs.best_of_board import CASE, BestOfBoard
from roomboard.app.dialogs.what_counts import WhatCounts
from roomboard.app.document import Document
from roomboard.core.adopting import with_cutting, without_cutting
from roomboard.core.optimum.presets import preset
from roomboard.core.optimum.weighing import weigh
from roomboard.core.project import Units
from roomboard.core.scheme import work_out
from roomboard.storage.project_file import load, read, write
from tests.rooms import joists, project, room, walls

PATIENCE = 60_000


def job(x=5400.0, y=2400.0, **more):
    lined = {"joists": (joists(90.0, 450.0),), "walls": walls(4, lined=False)}
    return project(room(x, y, **lined, **more))


@pytest.fixture
def panel(open_window, settle, qtbot):
    """The panel over a ceiling of 5400 by 2400, carried in by sheets of 3600 at most."""
    window = open_window(Document(job(carry_in=3600.0)))
    settle(window)
    window.bar.actions["sheets.best_of_board"].trigger()
    found = window.findChild(BestOfBoard)
    qtbot.waitExposed(found)
    return found


def press(qtbot, button):
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def seek(qtbot, panel, button):
    press(qtbot, button)
    assert panel.busy
    assert panel.stop.isEnabled()
    qtbot.waitUntil(lambda: not panel.busy, timeout=PATIENCE)


def test_the_best_is_sought_told_with_its_bound_taken_up_and_undone(panel, qtbot, settle):
    window, document = panel.parent(), panel.parent().document
    before = document.project
    heard = []
    panel._far.connect(lambda *what: heard.append(what))
    seek(qtbot, panel, panel.search)
    best = panel._best.optimum
    assert heard
    assert all(bound <= best_ + 1e-6 for best_, bound, _ in heard)
    assert f"{best.cost.total:.2f}" in panel.told.text()
    assert panel.costs.rowCount() == len(best.cost.lines) + 1
    assert document.project == before, "nothing is taken up unasked"
    if panel.use.isEnabled():
        press(qtbot, panel.use)
        settle(window)
        assert document.project == with_cutting(panel._best.scheme)
    # What is shown is cut as it was found, and costs what was said.
    assert weigh(document.scheme, before.weights).total == pytest.approx(best.cost.total)
    assert document.scheme.optimum == best
    while document.undo_stack.canUndo():
        document.undo_stack.undo()
    settle(window)
    assert document.project == before


def test_each_answer_is_one_click_to_take_up(panel, qtbot, settle):
    window, document = panel.parent(), panel.parent().document
    before = document.project
    seek(qtbot, panel, panel.trade)
    points = panel._trade.points
    assert len(points) >= 2
    assert panel.table.rowCount() == len(points)
    button = panel.table.cellWidget(0, panel.table.columnCount() - 1)
    assert isinstance(button, QPushButton)
    press(qtbot, button)
    settle(window)
    assert document.project == with_cutting(points[0].scheme)
    # Opened again it is cut like this without a search.
    opened = read(write(document.project)).project
    again = work_out(opened, document.catalogue, document.practice, compare=False)
    assert again.cut_plan.sheets == points[0].scheme.cut_plan.sheets
    assert again.linear == points[0].scheme.linear
    assert len(document.scheme.cut_plan.sheets) == points[0].sheets
    last = len(points) - 1
    at = panel.plot.place_of(last).toPoint()
    qtbot.mouseClick(panel.plot, Qt.MouseButton.LeftButton, pos=at)
    settle(window)
    assert document.project == with_cutting(points[last].scheme)
    assert len(document.scheme.cut_plan.sheets) == points[last].sheets
    panel.plot.setFocus()
    panel.plot.choose(last)
    qtbot.keyClick(panel.plot, Qt.Key.Key_Left)
    qtbot.keyClick(panel.plot, Qt.Key.Key_Return)
    settle(window)
    assert document.project == with_cutting(points[last - 1].scheme)
    usual = window.bar.actions["sheets.cut_as_usual"]
    usual.trigger()
    assert document.project == without_cutting(with_cutting(points[last - 1].scheme))
    while document.undo_stack.canUndo():
        document.undo_stack.undo()
    assert document.project == before


def test_what_limits_cost_is_told_in_words(panel, qtbot):
    seek(qtbot, panel, panel.limits)
    assert "The carry-in limit costs" in panel.reasons.text()
    assert "not to be built" in panel.reasons.text()


def test_presets_and_weights_are_edits_that_can_be_undone(panel, qtbot):
    document = panel.parent().document
    own = document.project.weights
    press(qtbot, panel.counts.presets["fewest butts"])
    assert document.project.weights == preset("fewest butts")
    assert panel.counts.presets["fewest butts"].isChecked()
    assert not panel.counts.presets["balanced"].isChecked()
    field = panel.counts.weights["butt"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, field.locale().toString(7.5, "f", 1))
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert document.project.weights == replace(preset("fewest butts"), butt=7.5)
    assert not any(b.isChecked() for b in panel.counts.presets.values())
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.project.weights == own
    assert panel.counts.presets["balanced"].isChecked()


def test_weights_are_told_and_typed_in_the_units_of_the_job(panel):
    """By hand: 0.01 m2 for a kg is 0.0045359 m2 for a pound, over 0.09290304 m2 is 0.0488 sq ft;
    5 sq ft for a foot of butt are 5 x 0.09290304 / 0.3048 = 1.524 m2 for a metre."""
    document = panel.parent().document
    counts = panel.findChild(WhatCounts)
    assert "each kg" in counts.weights["lift"].accessibleName()
    document.edit("Feet", replace(document.project, units=Units.FEET_INCHES))
    assert counts.weights["lift"].value() == pytest.approx(0.049)
    for field in counts.weights.values():
        assert not re.search(r"m²|each kg|each m\b", field.accessibleName() + field.toolTip())
    assert "each lb" in counts.weights["lift"].accessibleName()
    counts.weights["butt"].setValue(5.0)
    assert document.project.weights.butt == pytest.approx(1.524)
    assert counts.weights["butt"].value() == pytest.approx(5.0)


def test_a_search_can_be_stopped_and_keeps_the_best(panel, qtbot):
    press(qtbot, panel.prove)
    press(qtbot, panel.stop)
    qtbot.waitUntil(lambda: not panel.busy, timeout=PATIENCE)
    best = panel._best.optimum
    assert best.bound <= best.cost.total <= best.usual.total
    assert best.stopped
    assert "stopped early" in panel.told.text()


def test_what_was_found_for_another_job_is_not_offered(panel, qtbot, settle):
    window, document = panel.parent(), panel.parent().document
    seek(qtbot, panel, panel.search)
    document.edit("Higher", job(5400.0, 2700.0))
    settle(window)
    assert not panel.use.isEnabled()
    assert "search again" in panel.told.text()


def test_an_answer_below_its_bound_changes_nothing_and_the_case_is_kept(panel, qtbot, monkeypatch):
    from pathlib import Path

    from roomboard.app import seeking
    from roomboard.core.optimum.improve import OptimumError

    document = panel.parent().document
    before = document.project

    def below(project, *_, **__):
        raise OptimumError("A set-out costs less than its bound.", project)

    monkeypatch.setattr(seeking, "improve", below)
    seek(qtbot, panel, panel.search)
    assert "fault of the program" in panel.told.text()
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppDataLocation)
    assert load(Path(place) / CASE).project == before
    assert document.project == before


def test_every_control_has_a_name_and_a_tip(panel):
    for button in (panel.search, panel.prove, panel.trade, panel.limits, panel.stop, panel.use):
        assert button.text()
        assert button.toolTip()
    for field in panel.counts.weights.values():
        assert field.accessibleName()
    assert panel.plot.accessibleName()
    assert panel.table.accessibleName()
