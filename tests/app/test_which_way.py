"""Which way?: every way a face could be sheeted, side by side, and adopted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.dialogs.which_way import WhichWay
from roomboard.app.document import Document, catalogue_of
from roomboard.app.window import Window
from roomboard.core.project import (
    Choices,
    JoistZone,
    Price,
    Project,
    Room,
    SheetDirection,
    Units,
    Wall,
)
from roomboard.core.scheme import Comparison

ROOM = "hall"
Settle = Callable[[Window], None]


def hall(**more: object) -> Project:
    """A hall 5400 by 3600 with joists along x at 450; sheets 1200 wide."""
    walls = tuple(
        Wall(id=i, name=i.upper(), stud_spacing=600.0, stud_face=45.0, lined=i == "a")
        for i in "abcd"
    )
    room = Room(
        id=ROOM,
        name="Hall",
        outline=((0.0, 0.0), (0.0, 3600.0), (5400.0, 3600.0), (5400.0, 0.0)),
        height=2400.0,
        walls=walls,
        joists=(JoistZone(id="z", direction_deg=0.0, spacing=450.0, face=45.0),),
    )
    given: dict[str, object] = {"choices": Choices(sheet_widths=(1200.0,))} | more
    return Project(id="job", name="Job", rooms=(room,), **given)  # type: ignore[arg-type]


@pytest.fixture
def ask(
    open_window: Callable[..., Window], settle: Settle, qtbot: QtBot
) -> Callable[[Project], tuple[Window, WhichWay]]:
    """Open a project on the desk, press Q and wait for the ways."""

    def make(project: Project) -> tuple[Window, WhichWay]:
        window = open_window(Document(project))
        window.desk.show_lens("set_out")
        settle(window)
        qtbot.keyClick(window.canvas, Qt.Key.Key_Q)
        return window, wait(window)

    def wait(window: Window) -> WhichWay:
        panel = window.findChild(WhichWay)
        assert panel is not None
        assert not panel.isModal()
        qtbot.waitUntil(lambda: panel.isVisible() and panel.settled, timeout=20_000)
        return panel

    return make


def figures(panel: WhichWay) -> dict[str, Comparison]:
    assert panel.answer is not None
    return {w.comparison.name: w.comparison for w in panel.answer.ways}


def direction(window: Window) -> SheetDirection:
    room = window.document.project.room(ROOM)
    assert room is not None
    return room.choice("ceiling").direction


Ask = Callable[[Project], tuple[Window, WhichWay]]


def test_the_hall_is_recommended_across_with_its_figures(ask: Ask) -> None:
    _, panel = ask(hall())
    ways = figures(panel)
    assert list(ways) == ["across", "along"]
    across, along = ways["across"], ways["along"]
    # Sheets along y: courses of 4 x 1200 + 600 in 5400, each one 3600: five sheets of 3600 by
    # 1200, 21.60 m2; joints 4 x 3.6; timber along y = 0 and y = 3600, 450 from a joist each.
    assert (across.sheets, across.bought_m2) == (5, 21.6)
    assert (across.butt_m, across.recessed_m, across.trimmer_m) == (0.0, 14.4, 10.8)
    # Sheets along x: three of 6000, the same board; two joints of 5.4 at 1200 and 2400, where
    # 450 gives no joist: another 10.8 of timber on top of the same at the walls.
    assert (along.sheets, along.bought_m2) == (3, 21.6)
    assert (along.butt_m, along.recessed_m, along.trimmer_m) == (0.0, 10.8, 21.6)
    text = panel.reason.text()
    assert text.startswith("Recommended: sheets across the framing.")
    assert "the board lies its strong way" in text
    assert "10.80 m of joint has nothing behind it" in text
    assert panel.answer is not None
    assert panel.answer.advice.way.comparison.name == "across"


def test_every_way_is_drawn_with_its_figures_beside_it(ask: Ask) -> None:
    _, panel = ask(hall())
    shown = [label.text() for label in panel.findChildren(QLabel) if label.isVisible()]
    for text in ("Butt joint", "Recessed joint", "Timber to add", "Heaviest lift", "14.40 m"):
        assert text in shown, text
    heads = [t for t in shown if "the framing" in t and "\n" in t and "Recommended" not in t]
    assert any("recommended" in t and t.startswith("Sheets across") for t in heads)
    pictures = [p.grab().toImage() for p in panel.pictures.values()]
    assert len(pictures) == 2
    assert pictures[0] != pictures[1]
    for picture, name in zip(panel.pictures.values(), ("across", "along"), strict=True):
        assert name in picture.accessibleName()
        assert "Timber to add" in picture.accessibleDescription()


def test_enter_adopts_a_way_and_undo_takes_it_back(ask: Ask, qtbot: QtBot, settle: Settle) -> None:
    window, panel = ask(hall())
    assert panel.pictures["across"].hasFocus()
    panel.pictures["along"].setFocus()
    qtbot.keyClick(panel.pictures["along"], Qt.Key.Key_Return)
    settle(window)
    assert direction(window) is SheetDirection.ALONG
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert not scheme.set_out.fields[0].across
    qtbot.waitUntil(lambda: figures(panel)["along"].chosen, timeout=20_000)
    assert list(figures(panel)) == ["across", "along"]  # they stay where they stand
    window.document.undo_stack.undo()
    settle(window)
    assert direction(window) is SheetDirection.AUTO
    qtbot.waitUntil(lambda: figures(panel)["across"].chosen, timeout=20_000)


def test_a_click_on_the_picture_adopts_it_too(ask: Ask, qtbot: QtBot, settle: Settle) -> None:
    window, panel = ask(hall())
    qtbot.mouseClick(panel.pictures["along"], Qt.MouseButton.LeftButton)
    settle(window)
    assert direction(window) is SheetDirection.ALONG
    # Adopting what is in use changes nothing.
    count = window.document.undo_stack.count()
    qtbot.waitUntil(lambda: figures(panel)["along"].chosen, timeout=20_000)
    qtbot.mouseClick(panel.pictures["along"], Qt.MouseButton.LeftButton)
    assert window.document.undo_stack.count() == count


def test_at_600_the_long_joints_land_on_joists(ask: Ask) -> None:
    # 1200 and 2400 are joists at 600: no joint is in the air, only the direction is weaker.
    project = hall()
    (room,) = project.rooms
    joists = (replace(room.joists[0], spacing=600.0),)
    _, panel = ask(replace(project, rooms=(replace(room, joists=joists),)))
    assert panel.answer is not None
    along = next(w for w in panel.answer.ways if w.comparison.name == "along")
    assert along.in_the_air_m == 0.0
    assert along.weaker


def test_a_wall_is_asked_about_upright_and_level(ask: Ask, qtbot: QtBot) -> None:
    window, panel = ask(hall())
    window.desk.hold(Held(kind="surface", ref="hall/wall:a", surface="hall/wall:a"))
    qtbot.waitUntil(
        lambda: (
            panel.answer is not None
            and panel.answer.ways[0].scheme.surface.key == "wall:a"
            and panel.settled
        ),
        timeout=20_000,
    )
    assert "Wall A" in panel.windowTitle()
    names = [p.accessibleName() for p in panel.pictures.values()]
    assert any("level sheets" in n for n in names)
    assert any("upright sheets" in n for n in names)


def test_figures_are_in_the_projects_units(ask: Ask) -> None:
    _, panel = ask(hall(units=Units.FEET_INCHES))
    texts = [label.text() for label in panel.findChildren(QLabel)]
    assert "47.2 ft" in texts  # 14.4 m / 0.3048
    assert not any(t.startswith("Cost") for t in texts)  # nothing is priced


def test_the_cost_stands_there_once_the_sheets_have_prices(ask: Ask) -> None:
    catalogue = catalogue_of("au-nz")
    board = catalogue.board(catalogue.default_ceiling)
    assert board is not None
    # One unit of money for each 100 mm of length.
    prices = tuple(Price(item=s.id, amount=s.length / 100) for s in board.sheets)
    _, panel = ask(hall(prices=prices, currency="AUD"))
    texts = [label.text() for label in panel.findChildren(QLabel)]
    assert "Cost of the sheets AUD" in texts
    assert texts.count("180.00") == 2  # 5 x 36 across and 3 x 60 along


def test_esc_closes_the_panel(ask: Ask, qtbot: QtBot) -> None:
    _, panel = ask(hall())
    qtbot.keyClick(panel.pictures["across"], Qt.Key.Key_Escape)
    assert not panel.isVisible()
