"""Joints on the desk: dragged from stop to stop, moved by keys, locked, given back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QColor, QImage, QMouseEvent, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.document import Document
from roomboard.app.gestures.joints import JointDrag, paint_place
from roomboard.app.spots import held_spot, spot_of
from roomboard.app.tracks import track_of
from roomboard.app.window import Window
from roomboard.core.joints import Joint
from roomboard.core.plane import Point
from roomboard.core.project import (
    Choices,
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    Room,
    Wall,
)

ROOM = "living"
CEILING = f"{ROOM}/ceiling"


def living() -> Project:
    """A long room, 7800 by 4500, joists at 600 and sheets of at most 4800 carried in."""
    walls = tuple(
        Wall(id=i, name=i.upper(), stud_spacing=600.0, stud_face=45.0, lined=False) for i in "abcd"
    )
    room = Room(
        id=ROOM,
        name="Living",
        outline=((0.0, 0.0), (0.0, 4500.0), (7800.0, 4500.0), (7800.0, 0.0)),
        height=2400.0,
        walls=walls,
        joists=(JoistZone(id="z", direction_deg=90.0, spacing=600.0, face=45.0),),
        carry_in=4800.0,
    )
    return Project(id="job", name="Job", rooms=(room,))


@pytest.fixture
def window(open_window: Callable[..., Window], settle: Callable[[Window], None]) -> Window:
    """The long room's ceiling, looked at for setting out."""
    made = open_window(Document(living()))
    made.resize(1280, 800)
    made.desk.show_lens("set_out")
    made.desk.show_view("ceiling")
    settle(made)
    return made


def butts(window: Window) -> list[tuple[int, float, bool]]:
    """Course, place and lock of each butt of the ceiling."""
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    return [(b.course, b.s, b.locked) for b in scheme.set_out.butts]


def locks(window: Window) -> tuple[tuple[int, int, float], ...]:
    room = window.document.project.room(ROOM)
    assert room is not None
    return room.choice("ceiling").butts


def joints(window: Window, layer: str) -> list[Joint]:
    """The joints of the ceiling that are drawn in a layer, by the order of their numbers."""
    scheme = window.desk.surface_scheme("ceiling")
    drawn = window.canvas.drawn
    assert scheme is not None
    assert drawn is not None
    refs = {p.ref for p in drawn.picker.order() if p.layer == layer}
    return [j for j in scheme.joints if j.id in refs]


def on_screen(window: Window, point: Point, face: str = CEILING) -> QPoint:
    """Where a point of a face is on the canvas, found as the canvas itself shows it."""
    drawn = window.canvas.drawn
    assert drawn is not None
    pane = next(p for p in drawn.view.panes if p.surface == face)
    return window.canvas.port.to_screen(pane.placing.apply(point)).toPoint()


def beside_middle(joint: Joint) -> Point:
    """A point of a joint off its middle, where its letter stands."""
    (ax, ay), (bx, by) = joint.a, joint.b
    return (ax + (bx - ax) * 0.3, ay + (by - ay) * 0.3)


def hold(window: Window, qtbot: QtBot, joint: Joint) -> None:
    """Click a joint."""
    at = on_screen(window, beside_middle(joint))
    qtbot.mouseClick(window.canvas, Qt.MouseButton.LeftButton, pos=at)
    held = window.desk.held
    assert held is not None
    assert held.ref == joint.id


def pull(window: Window, start: QPoint, end: QPoint) -> None:
    """Move the pointer with the left button held."""
    for share in (0.5, 1.0):
        at = QPointF(start) + (QPointF(end) - QPointF(start)) * share
        event = QMouseEvent(
            QEvent.Type.MouseMove,
            at,
            window.canvas.mapToGlobal(at),
            Qt.MouseButton.NoButton,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
        QApplication.sendEvent(window.canvas, event)


def drag(window: Window, qtbot: QtBot, joint: Joint, to: Point) -> tuple[JointDrag, QPoint]:
    """Press on a joint and pull it over a point of the ceiling; the button stays down."""
    start, end = on_screen(window, beside_middle(joint)), on_screen(window, to)
    qtbot.mousePress(window.canvas, Qt.MouseButton.LeftButton, pos=start)
    pull(window, start, end)
    gesture = window.canvas.gesture
    assert isinstance(gesture, JointDrag)
    return gesture, end


def let_go(window: Window, qtbot: QtBot, at: QPoint) -> None:
    qtbot.mouseRelease(window.canvas, Qt.MouseButton.LeftButton, pos=at)


def press(window: Window, qtbot: QtBot, key: Qt.Key) -> None:
    qtbot.keyClick(window.canvas, key)


Settle = Callable[[Window], None]


def test_the_long_room_is_set_out_as_worked_by_hand(window: Window) -> None:
    # 7800 > 4800: one butt in each course; on joists with both pieces at most 4800 that is
    # 3000, 3600, 4200 or 4800, those of neighbours apart.
    assert butts(window) == [
        (1, 3000.0, False),
        (2, 4800.0, False),
        (3, 3000.0, False),
        (4, 4800.0, False),
    ]


# --- with the mouse ---------------------------------------------------------------------


def test_dragging_a_butt_jumps_to_the_next_legal_stop_and_locks_there(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    first = joints(window, "joint_butt")[0]
    gesture, end = drag(window, qtbot, first, (3560.0, 400.0))
    assert gesture.chosen is not None
    assert gesture.chosen.value == 3600.0
    assert locks(window) == ()  # nothing is changed before it is let go
    settle(window)
    assert (1, 3600.0, True) in butts(window)  # but the sheets follow
    assert "Butt on joist 6, 3600 mm from the wall" in gesture.figures
    assert "sheets to buy 8 → " in gesture.figures
    assert "butt joint 4.50 m → 4.50 m" in gesture.figures
    let_go(window, qtbot, end)
    settle(window)
    assert locks(window) == ((0, 1, 3600.0),)
    assert (1, 3600.0, True) in butts(window)
    spot = held_spot(window.desk)
    assert spot is not None
    assert (spot.course, spot.at) == (1, 3600.0)
    assert "Butt on joist 6, 3600 mm from the wall" in window.statusBar().currentMessage()
    window.document.undo_stack.undo()
    settle(window)
    assert locks(window) == ()
    assert (1, 3000.0, False) in butts(window)
    window.document.undo_stack.redo()
    assert locks(window) == ((0, 1, 3600.0),)


def test_a_barred_place_says_why_and_nothing_is_locked_there(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    first = joints(window, "joint_butt")[0]
    gesture, end = drag(window, qtbot, first, (4800.0, 400.0))
    assert "too nearly in line with a butt of course 2" in gesture.figures
    # Half way along, 3900, lies between joists.
    half = on_screen(window, (3900.0, 400.0))
    pull(window, end, half)
    assert "set to fall on framing" in gesture.figures
    # 2400 would leave 5400, more than can be carried in.
    far = on_screen(window, (2400.0, 400.0))
    pull(window, half, far)
    assert "longer than the longest sheet" in gesture.figures
    barred = {round(p.value) for p in gesture.track.places if not p.legal}
    assert {p.value for p in gesture.track.legal} == {3000.0, 3600.0, 4200.0}
    assert {2400, 3900, 4800} <= barred
    let_go(window, qtbot, far)
    settle(window)
    assert {c: s for c, s, _ in butts(window)}[1] in {3000.0, 3600.0, 4200.0}
    assert not window.canvas.gesture


def test_a_drag_that_only_meets_barred_places_changes_nothing(window: Window, qtbot: QtBot) -> None:
    before = window.document.project
    first = joints(window, "joint_butt")[0]
    _, end = drag(window, qtbot, first, (2400.0, 400.0))
    pull(window, end, end)
    let_go(window, qtbot, end)
    assert window.document.project == before
    assert window.document.undo_stack.count() == 0
    assert "longer than the longest sheet" in window.statusBar().currentMessage()


def test_esc_puts_a_dragged_joint_back(window: Window, qtbot: QtBot, settle: Settle) -> None:
    before = window.document.project
    _, end = drag(window, qtbot, joints(window, "joint_butt")[0], (3600.0, 400.0))
    assert window.document.shown != before
    press(window, qtbot, Qt.Key.Key_Escape)
    let_go(window, qtbot, end)
    settle(window)
    assert window.document.shown == window.document.project == before
    assert (1, 3000.0, False) in butts(window)


def test_every_place_has_a_sign_and_barred_ones_another(window: Window, qtbot: QtBot) -> None:
    gesture, _ = drag(window, qtbot, joints(window, "joint_butt")[0], (3600.0, 400.0))
    inks = window.inks

    def painted(legal: bool) -> QImage:
        image = QImage(60, 60, QImage.Format.Format_RGB32)
        image.fill(QColor(inks.paper))
        painter = QPainter(image)
        ends = [QPointF(30, 0), QPointF(30, 60)]
        paint_place(
            painter, ends, replace(inks, good="#000000", barred="#000000"), legal=legal, here=False
        )
        painter.end()
        return image

    # In one colour they still differ: by form.
    assert painted(True) != painted(False)
    shown = window.canvas.grab().toImage()
    window.canvas.gesture = None
    bare = window.canvas.grab().toImage()
    window.canvas.gesture = gesture
    for place in gesture.track.places:
        (u, v), (_, w) = place.at[0], place.at[1]
        at = on_screen(window, (u, (v + w) / 2))
        box = QRect(at.x() - 6, at.y() - 6, 12, 12)
        assert shown.copy(box) != bare.copy(box), place


def test_dragging_a_course_line_changes_the_first_course(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    line = joints(window, "joint_recessed")[0]
    assert line.a[1] == 1350.0
    gesture, end = drag(window, qtbot, line, (2300.0, 1060.0))
    assert gesture.chosen is not None
    assert gesture.chosen.value == 1050.0
    settle(window)
    let_go(window, qtbot, end)
    settle(window)
    room = window.document.project.room(ROOM)
    assert room is not None
    assert room.choice("ceiling").first_course == ((0, 1050.0),)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    widths = [c.t1 - c.t0 for c in scheme.set_out.courses]
    assert widths[0] == 1050.0
    assert sum(widths) == 4500.0
    spot = held_spot(window.desk)
    assert spot is not None
    assert (spot.butt, spot.course, spot.at) == (False, 1, 1050.0)


def test_any_course_line_moves_by_the_places_of_the_first(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    second = next(j for j in joints(window, "joint_recessed") if j.a[1] == 2700.0)
    gesture, end = drag(window, qtbot, second, (2300.0, 2400.0))
    assert gesture.chosen is not None
    assert gesture.chosen.value == 1050.0
    let_go(window, qtbot, end)
    settle(window)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    widths = [c.t1 - c.t0 for c in scheme.set_out.courses]
    assert widths[0] == 1050.0
    assert sum(widths) == 4500.0
    spot = held_spot(window.desk)
    assert spot is not None
    assert spot.course == 2  # it is still the second line that is held


def test_joints_stay_where_they_are_in_the_lens_for_measuring(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    first = joints(window, "joint_butt")[0]
    start, end = on_screen(window, beside_middle(first)), on_screen(window, (3600.0, 400.0))
    window.desk.show_lens("measure")
    settle(window)
    qtbot.mousePress(window.canvas, Qt.MouseButton.LeftButton, pos=start)
    pull(window, start, end)
    assert not isinstance(window.canvas.gesture, JointDrag)
    let_go(window, qtbot, end)


# --- with the keys ----------------------------------------------------------------------


def test_arrow_keys_move_the_held_butt_from_stop_to_stop(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    hold(window, qtbot, joints(window, "joint_butt")[0])
    press(window, qtbot, Qt.Key.Key_Right)
    press(window, qtbot, Qt.Key.Key_Right)  # faster than the sheets are worked out
    settle(window)
    assert locks(window) == ((0, 1, 4200.0),)
    assert (1, 4200.0, True) in butts(window)
    port = window.canvas.port
    press(window, qtbot, Qt.Key.Key_Right)
    assert locks(window) == ((0, 1, 4200.0),)
    assert "no further legal place" in window.statusBar().currentMessage()
    assert window.canvas.port == port  # the drawing does not move under it
    press(window, qtbot, Qt.Key.Key_Left)
    settle(window)
    assert locks(window) == ((0, 1, 3600.0),)
    press(window, qtbot, Qt.Key.Key_Up)  # a butt here goes level only: the drawing moves
    assert locks(window) == ((0, 1, 3600.0),)
    assert window.canvas.port != port


def test_l_takes_the_lock_off_and_puts_it_on(window: Window, qtbot: QtBot, settle: Settle) -> None:
    hold(window, qtbot, joints(window, "joint_butt")[0])
    press(window, qtbot, Qt.Key.Key_L)
    settle(window)
    assert locks(window) == ((0, 1, 3000.0),)
    press(window, qtbot, Qt.Key.Key_L)
    settle(window)
    assert locks(window) == ()


def test_arrow_keys_move_the_held_course_line(window: Window, qtbot: QtBot, settle: Settle) -> None:
    hold(window, qtbot, joints(window, "joint_recessed")[0])
    press(window, qtbot, Qt.Key.Key_Down)
    settle(window)
    room = window.document.project.room(ROOM)
    assert room is not None
    assert room.choice("ceiling").first_course == ((0, 1200.0),)
    press(window, qtbot, Qt.Key.Key_L)
    settle(window)
    room = window.document.project.room(ROOM)
    assert room is not None
    assert room.choice("ceiling").first_course == ()


@pytest.fixture
def on_its_side(open_window: Callable[..., Window], settle: Settle) -> Window:
    """A room whose wall A, 7800 long, lies on its side when the room is opened out."""
    project = living()
    (room,) = project.rooms
    turned = replace(
        room,
        outline=((0.0, 0.0), (0.0, 7800.0), (4500.0, 7800.0), (4500.0, 0.0)),
        walls=tuple(replace(w, lined=w.id == "a") for w in room.walls),
        ceiling_lined=False,
    )
    window = open_window(Document(replace(project, rooms=(turned,))))
    window.desk.show_lens("set_out")
    settle(window)
    return window


def wall_locks(window: Window) -> tuple[tuple[int, int, float], ...]:
    room = window.document.project.room(ROOM)
    assert room is not None
    return room.choice("wall:a").butts


def a_butt(window: Window) -> Joint:
    scheme = window.desk.surface_scheme("wall:a")
    assert scheme is not None
    return next(j for j in scheme.joints if j.kind.is_butt)


def test_on_a_wall_laid_on_its_side_up_and_down_move_a_joint(
    on_its_side: Window, qtbot: QtBot, settle: Settle
) -> None:
    window = on_its_side
    ref = f"{ROOM}/wall:a"
    window.desk.hold(Held(kind="joint_butt", ref=a_butt(window).id, surface=ref))
    press(window, qtbot, Qt.Key.Key_Left)
    press(window, qtbot, Qt.Key.Key_Right)
    assert wall_locks(window) == ()
    spot = held_spot(window.desk)
    assert spot is not None
    track = track_of(window.desk, spot)
    assert track is not None
    # The wall reads left to right for one who stands in the room: here from below upwards.
    further = track.next(spot.at, 1)
    back = track.next(spot.at, -1)
    press(window, qtbot, Qt.Key.Key_Up if further else Qt.Key.Key_Down)
    settle(window)
    expected = further or back
    assert expected is not None
    assert wall_locks(window) == ((spot.field, spot.course, expected.value),)


def test_on_a_wall_laid_on_its_side_a_joint_is_dragged_as_it_lies(
    on_its_side: Window, qtbot: QtBot, settle: Settle
) -> None:
    window = on_its_side
    joint = a_butt(window)
    scheme = window.desk.surface_scheme("wall:a")
    assert scheme is not None
    spot = spot_of(scheme, joint)
    assert spot is not None
    track = track_of(window.desk, spot)
    assert track is not None
    place = track.next(spot.at, 1) or track.next(spot.at, -1)
    assert place is not None
    face = scheme.surface.ref
    start = on_screen(window, beside_middle(joint), face)
    end = on_screen(window, (place.value, beside_middle(joint)[1]), face)
    assert abs(end.y() - start.y()) > abs(end.x() - start.x())
    qtbot.mousePress(window.canvas, Qt.MouseButton.LeftButton, pos=start)
    pull(window, start, end)
    let_go(window, qtbot, end)
    settle(window)
    assert wall_locks(window) == ((spot.field, spot.course, place.value),)


def test_a_butt_over_a_door_and_a_window_has_the_stops_worked_by_hand(
    open_window: Callable[..., Window], settle: Settle
) -> None:
    # A wall 5400 long with studs at 600, a door 900 to 1720 and a window 3000 to 4500. The top
    # course has one butt: 1800 is 80 from the door's side and 3000 on the window's side, the
    # other studs are free.
    project = living()
    (room,) = project.rooms
    walled = replace(
        room,
        outline=((0.0, 0.0), (0.0, 4000.0), (5400.0, 4000.0), (5400.0, 0.0)),
        walls=tuple(replace(w, lined=w.id == "b") for w in room.walls),
        ceiling_lined=False,
        openings=(
            Opening(
                id="d1",
                kind=OpeningKind.DOOR,
                host="b",
                left=900.0,
                bottom=0.0,
                width=820.0,
                height=2040.0,
            ),
            Opening(
                id="w1",
                kind=OpeningKind.WINDOW,
                host="b",
                left=3000.0,
                bottom=900.0,
                width=1500.0,
                height=1200.0,
            ),
        ),
    )
    window = open_window(
        Document(replace(project, rooms=(walled,), choices=Choices(sheet_widths=(1200.0,))))
    )
    window.desk.show_lens("set_out")
    window.desk.show_view("wall:b")
    settle(window)
    scheme = window.desk.surface_scheme("wall:b")
    assert scheme is not None
    joint = next(j for j in scheme.joints if j.kind.is_butt)
    window.desk.hold(Held(kind="joint_butt", ref=joint.id, surface=scheme.surface.ref))
    spot = held_spot(window.desk)
    assert spot is not None
    assert spot.at == 3600.0
    track = track_of(window.desk, spot)
    assert track is not None
    assert {p.value for p in track.legal} == {600.0, 1200.0, 2400.0, 3600.0, 4200.0, 4800.0}
    barred = {p.value: p.words for p in track.places if not p.legal}
    assert "too near the side of opening d1" in barred[1800.0]
    assert "too near the side of opening w1" in barred[3000.0]


# --- locks ------------------------------------------------------------------------------


def piece_at(window: Window, qtbot: QtBot, point: Point) -> None:
    """Click a piece."""
    at = on_screen(window, point)
    qtbot.mouseClick(window.canvas, Qt.MouseButton.LeftButton, pos=at)


def test_a_piece_is_locked_by_its_butts(window: Window, qtbot: QtBot, settle: Settle) -> None:
    piece_at(window, qtbot, (700.0, 300.0))
    held = window.desk.held
    assert held is not None
    assert held.kind == "sheet"
    qtbot.keyClick(window.canvas, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    settle(window)
    assert locks(window) == ((0, 1, 3000.0),)
    qtbot.keyClick(
        window.canvas,
        Qt.Key.Key_L,
        Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier,
    )
    settle(window)
    assert locks(window) == ()


def test_a_locked_joint_and_the_locked_pieces_are_marked(
    window: Window, qtbot: QtBot, settle: Settle
) -> None:
    hold(window, qtbot, joints(window, "joint_butt")[0])
    press(window, qtbot, Qt.Key.Key_L)
    settle(window)
    window.desk.hold(None)
    marked = window.canvas.grab().toImage()
    overlays, window.canvas.overlays = window.canvas.overlays, []
    bare = window.canvas.grab().toImage()
    window.canvas.overlays = overlays
    at = on_screen(window, (3000.0, 675.0))
    box = QRect(at.x() - 8, at.y() - 8, 16, 16)
    assert marked.copy(box) != bare.copy(box)
    other = on_screen(window, (4800.0, 2025.0))  # the butt of course 2 is free
    box = QRect(other.x() - 8, other.y() - 8, 16, 16)
    assert marked.copy(box) == bare.copy(box)
    corner = on_screen(window, (0.0, 1350.0))
    box = QRect(corner.x(), corner.y(), 22, 22)
    assert marked.copy(box) != bare.copy(box)


@pytest.mark.parametrize("act", ["face", "room", "job"])
def test_back_to_automatic(window: Window, qtbot: QtBot, settle: Settle, act: str) -> None:
    before = window.document.project
    hold(window, qtbot, joints(window, "joint_butt")[0])
    press(window, qtbot, Qt.Key.Key_Right)
    settle(window)
    assert locks(window)
    window.bar.actions[f"sheets.automatic.{act}"].trigger()
    settle(window)
    assert window.document.project == before
    assert (1, 3000.0, False) in butts(window)
    window.document.undo_stack.undo()
    assert locks(window) == ((0, 1, 3600.0),)


def test_locks_go_with_what_they_were_for(window: Window, qtbot: QtBot, settle: Settle) -> None:
    hold(window, qtbot, joints(window, "joint_butt")[0])
    press(window, qtbot, Qt.Key.Key_L)
    settle(window)
    press(window, qtbot, Qt.Key.Key_X)
    settle(window)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert not scheme.set_out.fields[0].across
    assert locks(window) == ()
    press(window, qtbot, Qt.Key.Key_X)
    settle(window)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert scheme.set_out.fields[0].across


def test_courses_start_from_the_other_side(window: Window, qtbot: QtBot, settle: Settle) -> None:
    press(window, qtbot, Qt.Key.Key_B)
    settle(window)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    # 4500 = 1350 + 1350 + 1350 + 450: the rip now lies at the low side.
    assert min(scheme.set_out.courses, key=lambda c: c.t0).t1 == 450.0


def test_what_the_sheets_do_where_the_joists_change(
    open_window: Callable[..., Window], settle: Settle
) -> None:
    # A room 6000 by 3600: joists along y up to x = 3600, along x beyond it.
    project = living()
    (room,) = project.rooms
    zones = (
        JoistZone(
            id="za",
            outline=((0.0, 0.0), (0.0, 3600.0), (3600.0, 3600.0), (3600.0, 0.0)),
            direction_deg=90.0,
            spacing=450.0,
            first=300.0,
            face=45.0,
        ),
        JoistZone(
            id="zb",
            outline=((3600.0, 0.0), (3600.0, 3600.0), (6000.0, 3600.0), (6000.0, 0.0)),
            direction_deg=0.0,
            spacing=600.0,
            face=45.0,
        ),
    )
    outline = ((0.0, 0.0), (0.0, 3600.0), (6000.0, 3600.0), (6000.0, 0.0))
    changed = replace(room, outline=outline, joists=zones)
    window = open_window(Document(replace(project, rooms=(changed,))))
    settle(window)
    acts = window.bar.actions
    assert acts["sheets.at_change.turn"].isEnabled()
    assert acts["sheets.at_change.turn"].isChecked()
    acts["sheets.at_change.batten"].trigger()
    settle(window)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert len(scheme.set_out.fields) == 1
    assert acts["sheets.at_change.batten"].isChecked()
    assert not acts["sheets.at_change.turn"].isChecked()
    window.document.undo_stack.undo()
    settle(window)
    scheme = window.desk.surface_scheme("ceiling")
    assert scheme is not None
    assert len(scheme.set_out.fields) == 2


def test_where_the_joists_do_not_change_there_is_nothing_to_choose(window: Window) -> None:
    for name in ("turn", "batten", "carry"):
        assert not window.bar.actions[f"sheets.at_change.{name}"].isEnabled()
