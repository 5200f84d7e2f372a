"""Awkward rooms on the desk: tapers in hand, hatches moved clear of the joists."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.dialogs.carry_in import CarryIn
from roomboard.app.document import Document
from roomboard.app.figures import figures_of
from roomboard.app.window import Window
from roomboard.core.carry_cost import CarryCost, carry_cost
from roomboard.core.joints import JointKind
from roomboard.core.project import Choices, PackTo, Project
from tests.app.hands import CTRL, SHIFT, Hands
from tests.core.test_clear_bays import HATCH, ceiling
from tests.core.test_tapers import ONLY_3600, out_of_square
from tests.rooms import joists, project, room

Open = Callable[[Project], Hands]


@pytest.fixture
def opened(
    open_window: Callable[..., Window], qtbot: QtBot, settle: Callable[[Window], None]
) -> Open:
    """Open a project on the desk."""

    def make(of: Project) -> Hands:
        window = open_window(Document(of))
        settle(window)
        return Hands(qtbot, window, settle)

    return make


def test_a_tapered_piece_in_hand_tells_both_its_ends(opened: Open) -> None:
    hands = opened(project(out_of_square(), choices=Choices(**ONLY_3600)))
    hands.window.desk.hold(Held("piece", "room/C3-1", "room/ceiling"))
    hands.settle()
    told = {f.label: f.text for f in figures_of(hands.window.desk, hands.window.desk.held)}
    assert told["Tapers"] == "width 628 at the left, 640 at the right"


def test_one_act_moves_a_hatch_to_the_nearest_clear_bay(opened: Open) -> None:
    hands = opened(project(ceiling(HATCH)))
    desk = hands.window.desk
    codes = {f.code for f in hands.window.document.scheme.findings}
    assert "RB306" in codes
    desk.hold(Held("opening", "H", "room/ceiling"))
    hands.settle()
    hands.key(Qt.Key.Key_B, CTRL)
    hands.settle()
    # By hand beside tests/core/test_clear_bays.py: from 800 to 923, 123 to the right.
    (hatch,) = hands.room.openings
    assert (hatch.left, hatch.bottom) == (923, 1000)
    assert "RB306" not in {f.code for f in hands.window.document.scheme.findings}
    hands.window.document.undo_stack.undo()
    assert hands.room.openings == (HATCH,)


def test_the_act_waits_for_an_opening_in_the_ceiling(opened: Open) -> None:
    hands = opened(project(ceiling(HATCH)))
    hands.window.bar.refresh()
    action = hands.window.bar.actions["opening.clear_bay"]
    assert not action.isEnabled()
    hands.window.desk.hold(Held("opening", "H", "room/ceiling"))
    hands.window.bar.refresh()
    assert action.isEnabled()


def test_control_joints_are_placed_moved_and_taken_out(opened: Open) -> None:
    hands = opened(project(room(20000, 4000, joists=(joists(90, 450),))))
    desk, document = hands.window.desk, hands.window.document
    hands.key(Qt.Key.Key_J, CTRL)
    hands.settle()
    # By hand beside tests/core/test_control_joints.py: the joist at 9900; walls b and d, 20 m
    # long too, are parted at a stud each.
    assert [(c.axis.value, c.at) for c in hands.room.choice("ceiling").controls] == [("u", 9900)]
    assert {c.surface for c in hands.room.choices} == {"ceiling", "wall:b", "wall:d"}
    assert "RB210" not in {f.code for f in document.scheme.findings}
    ceiling_ = desk.surface_scheme("ceiling")
    joint = next(j for j in ceiling_.joints if j.kind is JointKind.CONTROL)
    desk.hold(Held("joint_control", joint.id, "room/ceiling"))
    hands.settle()
    place = next(f for f in figures_of(desk, desk.held) if f.label == "Place")
    assert place.text == "9900"
    place.put(10350.0)
    hands.settle()
    assert [c.at for c in hands.room.choice("ceiling").controls] == [10350]
    joint = next(j for j in desk.surface_scheme("ceiling").joints if j.kind is JointKind.CONTROL)
    desk.hold(Held("joint_control", joint.id, "room/ceiling"))
    hands.key(Qt.Key.Key_J, CTRL | SHIFT)
    hands.settle()
    assert hands.room.choice("ceiling").controls == ()


@pytest.mark.parametrize(("typed", "place"), [("", 10900), ("10350", 10350)])
def test_a_control_joint_is_dragged_across_its_face(opened: Open, typed: str, place: int) -> None:
    hands = opened(project(room(20000, 4000, joists=(joists(90, 450),))))
    desk = hands.window.desk
    hands.key(Qt.Key.Key_J, CTRL)
    desk.show_view("ceiling")
    desk.show_lens("set_out")
    hands.settle()
    start, end = (hands.at((x, 2300.0), "ceiling") for x in (9900.0, 10900.0))
    hands.drag(start, end)
    assert hands.window.canvas.gesture is not None
    if typed:
        hands.write(typed)
        hands.key(Qt.Key.Key_Return)
    else:
        hands.release(end)
    hands.settle()
    (line,) = hands.room.choice("ceiling").controls
    # The pointer moves by whole pixels, each some 30 mm here.
    assert line.at == pytest.approx(place, abs=0 if typed else 60)
    joints = [j for j in desk.surface_scheme("ceiling").joints if j.kind is JointKind.CONTROL]
    assert joints
    assert {round(p[0]) for j in joints for p in (j.a, j.b)} == {line.at}
    hands.window.document.undo_stack.undo()
    assert [c.at for c in hands.room.choice("ceiling").controls] == [9900]


def test_a_control_joint_dragged_off_its_face_stays_where_it_was(opened: Open) -> None:
    hands = opened(project(room(20000, 4000, joists=(joists(90, 450),))))
    hands.key(Qt.Key.Key_J, CTRL)
    hands.window.desk.show_view("ceiling")
    hands.window.desk.show_lens("set_out")
    hands.settle()
    start, end = (hands.at((x, 2300.0), "ceiling") for x in (9900.0, 20500.0))
    hands.drag(start, end)
    gesture = hands.window.canvas.gesture
    assert gesture is not None
    assert "lies outside" in gesture.trouble
    hands.release(end)
    assert [c.at for c in hands.room.choice("ceiling").controls] == [9900]


def test_a_band_without_joints_is_typed_for_a_wall(opened: Open) -> None:
    hands = opened(project(room(4000, 3000, height=2700.0), choices=Choices(sheet_widths=(1200,))))
    desk = hands.window.desk
    desk.hold(Held("wall", "a"))
    hands.settle()
    band = next(f for f in figures_of(desk, desk.held) if f.label == "No joint between")
    meaning = band.meaning("1150, 1300")
    assert meaning.run is not None
    meaning.run()
    hands.settle()
    assert [(b.host, b.low, b.high) for b in hands.room.bands] == [("a", 1150, 1300)]
    wall = desk.surface_scheme("wall:a")
    assert not [j for j in wall.joints if 1150 < j.a[1] == j.b[1] < 1300]


def way_in_panel(hands: Hands) -> CarryIn:
    """Open the panel by its key; the cursor stands where the way in is typed."""
    hands.window.activateWindow()
    hands.key(Qt.Key.Key_G, CTRL)
    (panel,) = hands.window.findChildren(CarryIn)
    return panel


def type_way(hands: Hands, panel: CarryIn, text: str) -> None:
    """Type the way in over what stands there and wait for the estimate."""
    panel.way.selectAll()
    hands.qtbot.keyClicks(panel.way, text)
    hands.qtbot.waitUntil(lambda: panel.settled, timeout=10_000)


def test_the_longest_sheet_that_gets_in_is_estimated_and_taken(opened: Open) -> None:
    hands = opened(project(room(5400, 3000, joists=(joists(90, 450),))))
    panel = way_in_panel(hands)
    type_way(hands, panel, "turn 900")
    assert "needs 2 sizes" in panel.told.text()
    assert not panel.use.isEnabled()
    type_way(hands, panel, "turn 900 x 1100")
    # By hand beside tests/core/test_carry_in.py: 2661 with au-nz's clearance and 10 mm board.
    assert "Longest sheet: 2661 mm." in panel.told.text()
    assert "a^(2/3)" in panel.told.text()
    assert "butt joints" in panel.cost.text()
    panel.use.click()
    hands.settle()
    assert (hands.room.carry_in, hands.room.carry_in_note) == (2661, "turn 900 x 1100")
    hands.window.document.undo_stack.undo()
    assert hands.room.carry_in == 0
    panel.close()


def test_the_way_in_is_estimated_off_the_windows_thread(
    opened: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = opened(project(room(5400, 3000, joists=(joists(90, 450),))))
    threads: list[threading.Thread] = []

    def noted(*args: object) -> CarryCost | None:
        threads.append(threading.current_thread())
        return carry_cost(*args)

    monkeypatch.setattr("roomboard.app.dialogs.carry_in.carry_cost", noted)
    panel = way_in_panel(hands)
    type_way(hands, panel, "turn 900 x 1100")
    assert threads
    assert threading.main_thread() not in threads
    panel.close()


def test_the_way_in_follows_the_room_shown_and_keeps_what_is_typed(opened: Open) -> None:
    one = replace(room(5400, 3000), carry_in_note="turn 900 x 1100")
    two = replace(room(4000, 3000), id="two", name="Two", carry_in_note="turn 950 x 1100")
    hands = opened(project(one, two))
    panel = way_in_panel(hands)
    assert one.name in panel.windowTitle()
    hands.window.desk.show_room("two")
    assert panel.windowTitle() == "Which sheets get into Two"
    assert panel.way.text() == "turn 950 x 1100"
    type_way(hands, panel, "turn 800 x 1100")
    hands.window.desk.show_room(one.id)
    assert panel.way.text() == "turn 800 x 1100"
    hands.qtbot.waitUntil(lambda: panel.settled, timeout=10_000)
    panel.use.click()
    assert hands.window.document.project.room(one.id).carry_in_note == "turn 800 x 1100"
    assert hands.window.document.project.room("two") == two
    panel.close()


def test_without_a_sheet_to_buy_the_way_in_says_so(opened: Open) -> None:
    hands = opened(project(room(5400, 3000), choices=Choices(sheet_widths=(7,))))
    panel = way_in_panel(hands)
    type_way(hands, panel, "turn 900 x 1100")
    assert panel.told.text().startswith("No sheet of ")
    assert not panel.use.isEnabled()
    assert not panel.width_of.isEnabled()
    # Once there is a sheet, it is estimated without a word more.
    choices = Choices(sheet_widths=(1200,))
    hands.window.document.attempt("Allow", lambda p: replace(p, choices=choices))
    hands.qtbot.waitUntil(lambda: panel.settled, timeout=10_000)
    assert "Longest sheet: 2661 mm." in panel.told.text()
    panel.close()


def test_a_way_in_that_limits_nothing_takes_the_limit_off(opened: Open) -> None:
    hands = opened(project(replace(room(5400, 3000), carry_in=2400.0)))
    panel = way_in_panel(hands)
    type_way(hands, panel, "door 1300 x 2040")
    assert "Nothing here limits the length." in panel.told.text()
    assert panel.cost.text() == ""
    panel.use.click()
    assert hands.room.carry_in == 0
    panel.close()


def test_depths_are_typed_joist_by_joist_and_give_packers(opened: Open) -> None:
    hands = opened(project(room(1350, 3000, joists=(joists(90, 450),))))
    desk = hands.window.desk
    for number, text in ((1, "4, 7"), (2, "0, 3")):
        desk.hold(Held("member", f"z-{number}", "room/ceiling"))
        hands.settle()
        depths = next(f for f in figures_of(desk, desk.held) if f.label == "Depths")
        meaning = depths.meaning(text)
        assert meaning.run is not None
        meaning.run()
        hands.settle()
    assert hands.room.joists[0].depths == ((4, 7), (0, 3))
    plane = next(f for f in figures_of(desk, desk.held) if f.label == "Packed to")
    plane.put(PackTo.LEVEL)
    hands.settle()
    (packing,) = desk.surface_scheme("ceiling").packing
    # Level at the lowest reading, 0: each reading is its own packer.
    assert [s.thickness for s in packing.spots] == [4, 7, 0, 3]


def test_a_second_layer_is_asked_for_and_shown(opened: Open) -> None:
    hands = opened(project(room(4000, 3000, height=2700.0)))
    desk = hands.window.desk
    desk.hold(Held("wall", "a"))
    hands.settle()
    layers = next(f for f in figures_of(desk, desk.held) if f.label == "Layers")
    layers.put(2)
    hands.settle()
    assert hands.room.walls[0].layers == 2
    desk.show_view("wall:a")
    hands.settle()
    hands.key(Qt.Key.Key_L, SHIFT)
    hands.settle()
    assert desk.view == "wall:a.L2"
    assert {p.surface for p in hands.window.canvas.drawn.view.panes} == {"room/wall:a.L2"}
    hands.key(Qt.Key.Key_L, SHIFT)
    hands.settle()
    assert desk.view == "wall:a"


def test_part_of_a_wall_keeps_its_lining(opened: Open) -> None:
    hands = opened(project(room(4000, 3000)))
    desk = hands.window.desk
    desk.hold(Held("wall", "a"))
    hands.settle()
    part = next(f for f in figures_of(desk, desk.held) if f.label == "Not lined")
    meaning = part.meaning("0, 0, 3000, 1200")
    assert meaning.run is not None
    meaning.run()
    hands.settle()
    # 3 m long from 1200 to 2410, under 10 mm of ceiling board.
    assert desk.surface_scheme("wall:a").surface.area_m2 == pytest.approx(3 * 1.21)
    assert "RB222" in {f.code for f in hands.window.document.scheme.findings}
