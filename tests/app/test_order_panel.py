"""The order beside the drawing: its lines are the scheme's, and lead to the pieces."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QTreeWidgetItem
from pytestqt.qtbot import QtBot

from roomboard.app.beside import order_of
from roomboard.app.panels.order_rows import Row, amount, rows_of, to_order
from roomboard.app.window import Window
from roomboard.core.project import Price

Settle = Callable[[Window], None]
KEY = Qt.Key
LEFT = Qt.MouseButton.LeftButton


def every(rows: tuple[Row, ...]) -> dict[str, Row]:
    """Return all rows by key."""
    found: dict[str, Row] = {}
    todo = list(rows)
    while todo:
        row = todo.pop()
        assert row.key not in found, row.key
        found[row.key] = row
        todo.extend(row.below)
    return found


def click(qtbot: QtBot, window: Window, item: QTreeWidgetItem) -> None:
    """Click a row of the order."""
    tree = order_of(window).tree
    parent = item.parent()
    while parent is not None:
        parent.setExpanded(True)
        parent = parent.parent()
    tree.scrollToItem(item)
    at = tree.visualItemRect(item).center()
    qtbot.mouseClick(tree.viewport(), LEFT, pos=at)


# --- what it says -----------------------------------------------------------------------


def test_every_line_of_the_order_is_there_once_with_its_amount(demo_window: Window):
    scheme = demo_window.document.scheme
    rows = every(order_of(demo_window).rows)
    assert scheme.quantities
    for line in scheme.quantities:
        row = rows[line.code]
        assert row.amount == to_order(line)
        assert row.sources == line.sources
        below = {r.key.removeprefix(f"{line.code}/"): r for r in row.below}
        assert below["formula"].amount == line.formula
        for name, _ in line.inputs:
            assert below[f"in/{name}"].words.strip() == name
        assert below["total"].amount == amount(line.total, line.unit)
        assert below["spare"].amount == amount(line.spare, line.unit)


def test_sheets_stand_under_their_board_and_add_up_to_its_count(demo_window: Window):
    scheme = demo_window.document.scheme
    rows = every(order_of(demo_window).rows)
    for bound in scheme.cut_plan.bounds:
        row = rows[f"board:{bound.board}"]
        sizes = [r for r in row.below if r.sources]
        count = sum(int(r.amount.split()[0]) for r in sizes)
        assert count == bound.sheets == int(row.amount.split()[0])
        # Bought is the area of these sheets; waste is of bought: (bought - net) / bought.
        waste = rows[f"board:{bound.board}/Waste of bought"].amount
        share = 100 * (bound.bought_m2 - bound.net_m2) / bound.bought_m2
        assert float(waste.removesuffix(" %")) == pytest.approx(share, abs=0.05)
        least = rows[f"board:{bound.board}/least"]
        assert int(least.amount.split()[0]) == max(bound.area_bound, bound.edge_bound)
        why = rows[f"board:{bound.board}/why"].amount
        assert all(reason in why for reason in bound.reasons)
        # What the area alone would ask for stands beside it.
        alone = rows[f"board:{bound.board}/by-area"].amount
        assert f"; the set-out takes {bound.sheets}, {bound.bought_m2:.2f} m²" in alone


def test_amounts_are_written_as_they_are_said():
    assert amount(1, "sheet") == "1 sheet"
    assert amount(12, "sheet") == "12 sheets"
    assert amount(182.148, "m") == "182.15 m"
    assert amount(3, "length") == "3 lengths"


def test_the_order_follows_the_room(demo_window: Window, settle: Settle):
    window = demo_window
    panel = order_of(window)
    before = panel.text
    room = window.document.project.room("living")
    rooms = tuple(
        replace(r, ceiling_lined=False) if r.id == room.id else r
        for r in window.document.project.rooms
    )
    window.document.edit("no ceiling", replace(window.document.project, rooms=rooms))
    settle(window)
    assert panel.text != before
    assert panel.rows == rows_of(window.document.scheme)
    window.document.undo_stack.undo()
    settle(window)
    assert panel.text == before


def test_what_is_open_and_chosen_stays_so_when_the_order_changes(
    demo_window: Window, settle: Settle
):
    window = demo_window
    panel = order_of(window)
    code = next(q.code for q in window.document.scheme.quantities if q.group == "jointing")
    panel.item(code).setExpanded(True)
    panel.tree.setCurrentItem(panel.item(code))
    panel.item("timber").setExpanded(False)
    rooms = tuple(replace(r, height=r.height + 100) for r in window.document.project.rooms)
    before = panel.text
    window.document.edit("higher", replace(window.document.project, rooms=rooms))
    settle(window)
    assert panel.text != before
    assert panel.item(code).isExpanded()
    assert panel.tree.currentItem() is panel.item(code)
    assert not panel.item("timber").isExpanded()


def test_costs_stand_in_a_column_of_their_own_once_there_are_prices(
    demo_window: Window, settle: Settle
):
    window = demo_window
    panel = order_of(window)
    assert panel.tree.isColumnHidden(2)
    line = next(q for q in window.document.scheme.quantities if q.code.startswith("sheets:"))
    price = Price(item=line.code.partition(":")[2], amount=20.5)
    window.document.edit("price", replace(window.document.project, prices=(price,), currency="NZD"))
    settle(window)
    assert not panel.tree.isColumnHidden(2)
    cost = f"{line.total * 20.5:,.2f} NZD"
    assert panel.item(line.code).text(2) == cost
    assert panel.item("together").text(2) == cost
    assert cost in panel.text


# --- where it came from -----------------------------------------------------------------


def test_a_click_on_a_line_shows_a_piece_it_came_from_and_enter_the_next(
    qtbot: QtBot, demo_window: Window, settle: Settle
):
    window = demo_window
    panel = order_of(window)
    line = next(
        q
        for q in window.document.scheme.quantities
        if q.group == "board" and sum(s.startswith("living/") for s in q.sources) > 1
    )
    with qtbot.waitSignal(window.desk.place_asked):
        click(qtbot, window, panel.item(line.code))
    settle(window)
    first = window.desk.held
    assert first is not None
    assert first.ref in line.sources
    assert first.ref.startswith("living/")
    assert window.canvas.drawn.picker.of(first.surface, first.ref)
    panel.tree.setFocus()
    qtbot.keyClick(panel.tree, KEY.Key_Return)
    settle(window)
    assert window.desk.held.ref in line.sources
    assert window.desk.held.ref != first.ref


def test_each_piece_under_a_line_leads_to_its_own_place(
    qtbot: QtBot, demo_window: Window, settle: Settle
):
    window = demo_window
    panel = order_of(window)
    line = next(q for q in window.document.scheme.quantities if q.group == "timber")
    source = line.sources[-1]
    click(qtbot, window, panel.item(f"{line.code}/from/{source}"))
    settle(window)
    room, _, tag = source.partition("/")
    assert window.desk.room_id == room
    assert window.desk.held.ref == tag


def test_every_source_of_the_order_has_a_place(demo_window: Window):
    from roomboard.app.panels.places import place_of_source

    for line in demo_window.document.scheme.quantities:
        for source in line.sources:
            assert place_of_source(demo_window.desk, source).surface, (line.code, source)


def test_the_order_is_copied_as_text(qtbot: QtBot, demo_window: Window):
    window = demo_window
    panel = order_of(window)
    qtbot.mouseClick(panel.copy, LEFT)
    text = QGuiApplication.clipboard().text()
    assert text == panel.text
    for line in window.document.scheme.quantities:
        assert to_order(line) in text
    panel.tree.setFocus()
    QGuiApplication.clipboard().clear()
    qtbot.keyClick(panel.tree, KEY.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == text


def test_an_empty_job_orders_nothing(desk_window: Window):
    panel = order_of(desk_window)
    assert panel.rows == ()
    assert panel.text == ""
    assert panel.summary.text()
    assert order_of(desk_window).tree.isColumnHidden(2)  # no prices, no column for them


def test_by_keys_alone_through_the_order(qtbot: QtBot, demo_window: Window):
    window = demo_window
    panel = order_of(window)
    window.canvas.setFocus()
    qtbot.keyClick(window.canvas, KEY.Key_F4)
    assert panel.tree.hasFocus()
    qtbot.keyClick(panel.tree, KEY.Key_Home)
    qtbot.keyClick(panel.tree, KEY.Key_Down)
    qtbot.keyClick(panel.tree, KEY.Key_Down)
    item = panel.tree.currentItem()
    qtbot.keyClick(panel.tree, KEY.Key_Right)
    assert item.isExpanded()
    qtbot.keyClick(panel.tree, KEY.Key_Escape)
    assert window.canvas.hasFocus()
