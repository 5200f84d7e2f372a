"""The panel of what is in hand: figures typed, chosen and nudged as a user does it."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QToolButton
from pytestqt.qtbot import QtBot

from roomboard.app.beside import in_hand_of
from roomboard.app.desk import Held
from roomboard.app.figures import Kind, figures_of, main_figure, thing_of
from roomboard.app.panels.fields import ChoiceField, FlagField, TypedField
from roomboard.app.window import Window
from roomboard.core.editing.rooms import rectangle
from roomboard.core.project import Bulkhead, JoistZone, SheetDirection, Start, Units, ZoneKind

Settle = Callable[[Window], None]
KEY = Qt.Key
LEFT = Qt.MouseButton.LeftButton


def click(qtbot: QtBot, window: Window, surface: str, ref: str) -> None:
    """Click in the middle of something on the drawing."""
    drawn = window.canvas.drawn
    assert drawn is not None
    outline = drawn.picker.of(surface, ref)[0].outline
    middle = tuple(sum(c) / len(outline) for c in zip(*outline, strict=True))
    at = window.canvas.port.to_screen((middle[0], middle[1])).toPoint()
    qtbot.mouseClick(window.canvas, LEFT, pos=QPoint(at.x(), at.y()))


def typed(qtbot: QtBot, field: TypedField, text: str) -> None:
    """Type a text into a field in place of what stands there, without Enter."""
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)


def line(window: Window, label: str, group: str = "") -> TypedField:
    field = in_hand_of(window).field(label, group)
    assert isinstance(field, TypedField)
    return field


def length_of(window: Window, wall: str) -> float:
    room = window.document.project.room(window.desk.room_id)
    return room.wall_length([w.id for w in room.walls].index(wall))


def told(window: Window, label: str) -> str:
    return in_hand_of(window).field(label).figure.text


# --- typing -----------------------------------------------------------------------------


def test_a_wall_is_clicked_and_given_another_length_and_the_sheets_follow(
    qtbot: QtBot, demo_window: Window, settle: Settle
):
    window = demo_window
    click(qtbot, window, "", "a")
    assert window.desk.held is not None
    assert window.desk.held.ref == "a"
    panel = in_hand_of(window)
    assert panel.title.text().startswith("Wall A")
    assert panel.sentence.text()
    field = line(window, "Length")
    assert field.line.text() == "4200"
    before = window.desk.surface_scheme("ceiling").surface.area_m2
    typed(qtbot, field, "4.5 m")
    assert "4500 mm" in field.echo.text()
    assert field.echo.isVisible()
    assert length_of(window, "a") == 4200  # typed, not taken
    qtbot.keyClick(field.line, KEY.Key_Return)
    settle(window)
    assert length_of(window, "a") == 4500
    assert length_of(window, "c") == 4500  # walls stay square: the far side moved
    assert window.desk.surface_scheme("ceiling").surface.area_m2 > before
    assert sum(p.region.area_mm2 for p in window.desk.surface_scheme("ceiling").set_out.pieces) > 0
    assert line(window, "Length").line.text() == "4500"
    assert line(window, "Length") is field  # the panel was not rebuilt under the hand
    assert field.line.hasFocus()


def test_bad_text_is_refused_with_a_sign_and_a_sentence_and_the_old_value_is_kept(
    qtbot: QtBot, demo_window: Window
):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    field = line(window, "Length")
    undone = window.document.undo_stack.count()
    typed(qtbot, field, "3.6")
    assert field.is_refused
    assert field.echo.text().startswith("✗ ")
    assert "metres or millimetres" in field.echo.text()
    assert field.line.palette().text().color() != window.palette().text().color()
    qtbot.keyClick(field.line, KEY.Key_Return)
    assert window.document.undo_stack.count() == undone
    assert length_of(window, "a") == 4200
    qtbot.keyClick(field.line, KEY.Key_Escape)
    assert field.line.text() == "4200"
    assert not field.is_refused
    assert not field.echo.isVisible()


def test_a_length_that_does_not_fit_is_refused_by_the_edit_with_its_own_sentence(
    qtbot: QtBot, demo_window: Window
):
    window = demo_window
    window.desk.hold(Held("opening", "W1"))
    field = line(window, "Width")
    typed(qtbot, field, "9000")
    assert not field.is_refused  # it is a length
    qtbot.keyClick(field.line, KEY.Key_Return)
    assert field.is_refused
    assert "make it narrower" in field.echo.text()
    assert window.document.project.room("living").openings[0].width == 1800
    assert field.line.text() == "9000"  # what was typed can be mended
    typed(qtbot, field, "1500")
    qtbot.keyClick(field.line, KEY.Key_Return)
    assert not field.is_refused
    assert window.document.project.room("living").openings[0].width == 1500


def test_going_away_takes_what_is_understood_and_gives_up_what_is_not(
    qtbot: QtBot, demo_window: Window
):
    window = demo_window
    window.desk.hold(Held("opening", "W1"))
    field = line(window, "Sill")
    typed(qtbot, field, "900")
    qtbot.keyClick(field.line, KEY.Key_Tab)
    opening = window.document.project.room("living").openings[0]
    assert (opening.bottom, opening.bottom + opening.height) == (900, 2100)
    typed(qtbot, field, "nine")
    qtbot.keyClick(field.line, KEY.Key_Tab)
    assert field.line.text() == "900"
    assert "The old value stays." in field.echo.text()


def test_undo_with_the_cursor_in_the_field_undoes_the_edit(
    qtbot: QtBot, demo_window: Window, settle: Settle
):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    field = line(window, "Length")
    typed(qtbot, field, "5000")
    qtbot.keyClick(field.line, KEY.Key_Return)
    settle(window)
    assert length_of(window, "a") == 5000
    window.document.undo_stack.undo()
    settle(window)
    assert length_of(window, "a") == 4200
    assert line(window, "Length").line.text() == "4200"
    window.document.undo_stack.redo()
    settle(window)
    assert line(window, "Length").line.text() == "5000"


def test_arrow_keys_nudge_by_a_step_and_are_undone_together(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.desk.hold(Held("opening", "W1"))
    field = line(window, "From left corner")
    field.line.setFocus()
    before = window.document.undo_stack.count()
    for _ in range(3):
        qtbot.keyClick(field.line, KEY.Key_Up)
    assert window.document.project.room("living").openings[0].left == 1230
    qtbot.keyClick(field.line, KEY.Key_Down, Qt.KeyboardModifier.ControlModifier)
    assert window.document.project.room("living").openings[0].left == 1229
    assert window.document.undo_stack.count() == before + 1
    window.document.undo_stack.undo()
    assert window.document.project.room("living").openings[0].left == 1200


def test_what_is_being_typed_stays_while_results_come_in(
    qtbot: QtBot, demo_window: Window, settle: Settle
):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    field = line(window, "Length")
    typed(qtbot, field, "45")
    window.document.edit("elsewhere", replace(window.document.project, building_year=1950))
    settle(window)
    assert line(window, "Length") is field
    assert field.line.text() == "45"
    assert field.line.hasFocus()
    assert field.line.cursorPosition() == 2
    qtbot.keyClicks(field.line, "00")
    qtbot.keyClick(field.line, KEY.Key_Return)
    assert length_of(window, "a") == 4500


def test_lengths_follow_the_units_of_the_project(qtbot: QtBot, demo_window: Window, settle: Settle):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    window.document.edit("units", replace(window.document.project, units=Units.FEET_INCHES))
    settle(window)
    field = line(window, "Length")
    assert field.line.text() == "13' 9 3/8\""  # 4200 / 25.4 = 165.354 in = 13 ft 9.354 in
    typed(qtbot, field, "14'")
    qtbot.keyClick(field.line, KEY.Key_Return)
    assert length_of(window, "a") == pytest.approx(4267.2)  # 14 x 304.8


# --- by keyboard alone ------------------------------------------------------------------


def test_enter_on_the_drawing_edits_and_esc_goes_back(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.canvas.setFocus()
    window.desk.hold(Held("wall", "a"))
    qtbot.keyClick(window.canvas, KEY.Key_Return)
    assert line(window, "Length").line.hasFocus()
    qtbot.keyClick(line(window, "Length").line, KEY.Key_Escape)
    assert window.canvas.hasFocus()


def test_tab_goes_through_every_figure_that_can_be_set(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.desk.hold(Held("opening", "W1"))
    panel = in_hand_of(window)
    panel.begin()
    settable = [f for f in panel.fields if f.figure.put is not None]
    for field in settable:
        assert QApplication.focusWidget() is field.control, field.figure.label
        qtbot.keyClick(field.control, KEY.Key_Tab)


def test_a_flag_is_turned_by_enter_and_a_choice_by_the_arrows(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    flag = in_hand_of(window).field("Skirting")
    assert isinstance(flag, FlagField)
    flag.box.setFocus()
    qtbot.keyClick(flag.box, KEY.Key_Return)
    assert not window.document.project.room("living").wall("a").skirting
    choice = in_hand_of(window).field("Angle with the ceiling")
    assert isinstance(choice, ChoiceField)
    choice.box.setFocus()
    qtbot.keyClick(choice.box, KEY.Key_Down)
    assert window.document.project.room("living").wall("a").angle.value == "square_set"
    assert choice.figure.text == "Square-set"


def test_fields_have_names_and_tips(demo_window: Window):
    window = demo_window
    for held in (None, Held("wall", "a"), Held("opening", "L1"), Held("zone", "west")):
        window.desk.hold(held)
        for field in in_hand_of(window).fields:
            assert field.control.accessibleName()
            assert field.control.toolTip()


# --- kinds of things --------------------------------------------------------------------


@pytest.fixture
def room_window(desk_window: Window, settle: Settle) -> Window:
    """A room of 3580 x 3040 with joists along y, a bulkhead and studs."""
    room = rectangle("Bed", 3580, 3040, 2400)
    room = replace(
        room,
        walls=tuple(replace(w, stud_spacing=600.0, stud_face=45.0) for w in room.walls),
        joists=(JoistZone(id="z1", spacing=450.0, face=45.0),),
        bulkheads=(Bulkhead(id="b1", wall="a", left=0, length=900, depth=300, drop=250),),
    )
    window = desk_window
    window.document.edit("room", replace(window.document.project, rooms=(room,)))
    settle(window)
    return window


def room_of(window: Window):
    return window.document.project.room("bed")


def put(window: Window, label: str, text: str, group: str = "") -> None:
    """Type a figure and take it with Enter, through its field."""
    field = line(window, label, group)
    field.line.setText(text)
    field.line.textEdited.emit(text)
    assert field.take(), field.echo.text()


def test_a_room_can_be_named_raised_and_limited(room_window: Window, settle: Settle):
    window = room_window
    put(window, "Height", "2.55 m")
    put(window, "Name", "Bedroom 1")
    put(window, "Longest sheet", "3600")
    put(window, "Because of", "the stairs")
    settle(window)
    room = room_of(window)
    assert (room.height, room.name, room.carry_in) == (2550, "Bedroom 1", 3600)
    assert room.carry_in_note == "the stairs"
    assert told(window, "Overall") == "3580 × 3040"
    assert told(window, "Floor") == "10.88 m²"  # 3.58 x 3.04 = 10.8832
    put(window, "Longest sheet", "")
    assert room_of(window).carry_in == 0


def test_a_wet_room_says_so_and_takes_a_note(room_window: Window, settle: Settle):
    window = room_window
    flag = in_hand_of(window).field("Wet area")
    assert isinstance(flag, FlagField)
    flag.box.click()
    settle(window)
    assert [z.kind for z in room_of(window).zones] == [ZoneKind.WET]
    assert any(f.code == "RB701" for f in window.document.scheme.findings)
    put(window, "Wet area: note", "shower over bath")
    assert room_of(window).zones[0].note == "shower over bath"
    window.document.undo_stack.undo()
    window.document.undo_stack.undo()
    assert room_of(window).zones == ()


def test_joists_are_spaced_turned_and_placed_one_by_one(room_window: Window, settle: Settle):
    window = room_window
    window.desk.hold(Held("zone", "z1", "bed/ceiling"))
    put(window, "Centres", "600")
    put(window, "First one", "300")
    zone = room_of(window).joists[0]
    assert (zone.spacing, zone.first) == (600, 300)
    put(window, "One by one", "400, 900; 1400")
    assert room_of(window).joists[0].positions == (400, 900, 1400)
    put(window, "One by one", "")
    assert room_of(window).joists[0].positions == ()
    settle(window)
    window.desk.hold(Held("joist", "z1-2", "bed/ceiling"))
    assert line(window, "Stands at").figure.value == 900  # 300 + 600
    put(window, "Stands at", "880")
    settle(window)
    assert room_of(window).joists[0].positions[1] == 880


def test_studs_and_noggings_of_a_wall(room_window: Window, settle: Settle):
    window = room_window
    window.desk.hold(Held("wall", "b"))
    put(window, "Centres", "450", "Studs")
    put(window, "Noggings at", "800, 1600")
    settle(window)
    wall = room_of(window).wall("b")
    assert (wall.stud_spacing, wall.noggings) == (450, (800, 1600))
    window.desk.hold(Held("joist", "S2", "bed/wall:b"))
    assert line(window, "Stands at").figure.value == 450
    put(window, "Stands at", "470")
    assert room_of(window).wall("b").studs[1] == 470
    settle(window)
    window.desk.hold(Held("joist", "N2", "bed/wall:b"))
    put(window, "Height", "1700")
    assert room_of(window).wall("b").noggings == (800, 1700)


def test_a_wall_can_be_open_or_called_otherwise(room_window: Window, settle: Settle):
    window = room_window
    window.desk.hold(Held("wall", "b"))
    put(window, "Letter", "North")
    assert room_of(window).wall("b").name == "North"
    choice = in_hand_of(window).field("Here")
    assert isinstance(choice, ChoiceField)
    choice.box.setCurrentIndex(1)
    choice.box.activated.emit(1)
    settle(window)
    assert room_of(window).wall("b").kind.value == "open"
    with pytest.raises(KeyError):
        in_hand_of(window).field("Lined")  # nothing to line where no wall stands


def test_a_bulkhead_is_sized(room_window: Window, settle: Settle):
    window = room_window
    key = next(
        s.surface.ref for s in window.desk.room_scheme.surfaces if "bulkhead" in s.surface.ref
    )
    window.desk.hold(Held("surface", key, key))
    put(window, "Drop", "300")
    settle(window)
    assert room_of(window).bulkheads[0].drop == 300
    window.desk.hold(Held("joist", "PT", key))  # its frame is the bulkhead as well
    assert line(window, "Drop").line.text() == "300"


def test_sheets_of_a_face_are_turned_started_and_measured(room_window: Window, settle: Settle):
    window = room_window
    window.desk.hold(Held("surface", "bed/ceiling", "bed/ceiling"))
    panel = in_hand_of(window)
    way = panel.field("Sheets run")
    assert isinstance(way, ChoiceField)
    way.box.activated.emit(2)
    settle(window)
    assert room_of(window).choice("ceiling").direction is SheetDirection.ALONG
    start = panel.field("Start")
    assert isinstance(start, ChoiceField)
    start.box.activated.emit(2)
    settle(window)
    assert room_of(window).choice("ceiling").start is Start.HIGH
    put(window, "First course", "1000")
    settle(window)
    assert room_of(window).choice("ceiling").first_course == ((0, 1000),)
    scheme = window.desk.surface_scheme("ceiling")
    first = next(c for c in scheme.set_out.courses if c.number == 1)
    assert first.t1 - first.t0 == pytest.approx(1000)


def test_a_piece_tells_its_sheet_and_a_butt_joint_can_be_locked(
    demo_window: Window, settle: Settle
):
    window = demo_window
    scheme = window.desk.surface_scheme("wall:b")
    joint = next(j for j in scheme.joints if j.kind.is_butt)
    window.desk.hold(Held("joint_butt", joint.id, scheme.surface.ref))
    lock = in_hand_of(window).field("Locked")
    assert isinstance(lock, FlagField)
    lock.box.click()
    settle(window)
    assert len(window.desk.choice("wall:b").butts) == 1
    assert any(b.locked for b in window.desk.surface_scheme("wall:b").set_out.butts)
    piece = next(p for p in scheme.set_out.pieces if p.mark == joint.pieces[0])
    window.desk.hold(Held("sheet", piece.id, scheme.surface.ref))
    sheets = {p.piece: s.id for s in window.document.scheme.cut_plan.sheets for p in s.placements}
    assert told(window, "Cut from").startswith(sheets[piece.id] + ",")
    assert told(window, "Mark") == piece.mark
    assert told(window, "Goes up as").startswith(f"number {piece.hang} ")


def test_a_trimmer_tells_why_it_is_needed(demo_window: Window):
    window = demo_window
    scheme = next(s for s in window.desk.room_scheme.surfaces if s.trimmers)
    trimmer = scheme.trimmers[0]
    window.desk.hold(Held("trimmer", trimmer.tag, scheme.surface.ref))
    assert told(window, "Why")
    assert told(window, "Length") == f"{trimmer.length:.0f} mm"


def test_everything_on_every_view_is_found_in_the_model(demo_window: Window, settle: Settle):
    """What can be picked is a thing with figures, or a mark that stands for none."""
    window = demo_window
    marks = {"fastener", "daub", "lettering", "packer", "dimension"}
    for lens in ("measure", "frame", "fix", "order"):
        window.desk.show_lens(lens)
        for view in ("opened", "plan", "ceiling", "wall:b", "cutting"):
            window.desk.show_view(view)
            settle(window)
            for picked in window.canvas.drawn.picker.order():
                held = Held(picked.layer, picked.ref, picked.surface)
                thing = thing_of(window.desk, held)
                if thing is None:
                    assert picked.layer in marks, picked
                else:
                    assert figures_of(window.desk, held), picked


def test_every_figure_put_back_as_it_is_changes_nothing(demo_window: Window):
    """Setting a figure to the value it shows keeps the room as it is, for every kind of thing."""
    window = demo_window
    things = [
        None,
        Held("wall", "b"),
        Held("opening", "W1"),
        Held("opening", "L1"),
        Held("zone", "west", "living/ceiling"),
        Held("surface", "living/ceiling", "living/ceiling"),
        Held("surface", "living/wall:b", "living/wall:b"),
    ]
    before = window.document.project
    for held in things:
        for figure in figures_of(window.desk, held):
            lists = {Kind.TOLD, Kind.LENGTHS}
            if figure.put is None or figure.kind in lists or not figure.text:
                continue
            figure.put(figure.value)
            assert window.document.project == before, figure.label


def test_the_main_figure_is_a_length(demo_window: Window):
    window = demo_window
    assert main_figure(window.desk, Held("wall", "a")).label == "Length"
    assert main_figure(window.desk, Held("opening", "W1")).key == "left"
    assert main_figure(window.desk, Held("joist", "S3", "living/wall:a")).label == "Stands at"


def test_what_is_no_longer_there_is_said_to_be_gone(demo_window: Window, settle: Settle):
    window = demo_window
    window.desk.hold(Held("opening", "W1"))
    room = window.document.project.room("living")
    less = replace(room, openings=tuple(o for o in room.openings if o.id != "W1"))
    rooms = tuple(less if r.id == "living" else r for r in window.document.project.rooms)
    window.document.edit("take out", replace(window.document.project, rooms=rooms))
    settle(window)
    panel = in_hand_of(window)
    assert panel.fields == [] or window.desk.held is None
    window.document.undo_stack.undo()
    settle(window)
    window.desk.hold(Held("opening", "W1"))
    assert line(window, "Width").line.text() == "1800"


def test_buttons_do_what_the_menus_do(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.desk.hold(None)
    buttons = [b for b in in_hand_of(window).findChildren(QToolButton) if b.isVisible()]
    mirror = next(b for b in buttons if b.text() == window.bar.actions["room.mirror"].text())
    before = window.document.project
    qtbot.mouseClick(mirror, LEFT)
    assert window.document.project != before
    window.document.undo_stack.undo()
    assert window.document.project == before


def test_figures_of_the_lens_in_use_stand_first(demo_window: Window):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    panel = in_hand_of(window)
    firsts = {}
    for lens in ("measure", "frame", "set_out"):
        window.desk.show_lens(lens)
        firsts[lens] = panel.fields[0].figure.label
    assert firsts == {"measure": "Length", "frame": "Centres", "set_out": "Sheets run"}


def test_undo_keys_are_the_windows_unless_something_was_typed(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.desk.hold(Held("wall", "a"))
    field = line(window, "Length")

    def is_kept() -> bool:
        event = QKeyEvent(
            QEvent.Type.ShortcutOverride, KEY.Key_Z, Qt.KeyboardModifier.ControlModifier
        )
        event.ignore()
        QApplication.sendEvent(field.line, event)
        return event.isAccepted()

    field.line.setFocus()
    assert not is_kept()
    typed(qtbot, field, "45")
    assert is_kept()


def test_a_room_without_joists_is_given_them_by_a_sentence(desk_window: Window, settle: Settle):
    window = desk_window
    room = rectangle("Bed", 3580, 3040, 2400)
    window.document.edit("room", replace(window.document.project, rooms=(room,)))
    settle(window)
    field = line(window, "Joists")
    assert field.line.placeholderText()
    put(window, "Joists", "along y at 450")
    settle(window)
    (zone,) = room_of(window).joists
    assert (zone.direction_deg, zone.spacing) == (90, 450)
    assert line(window, "Centres").line.text() == "450"


def test_what_can_only_be_told_is_reached_by_keys_too(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.canvas.setFocus()
    window.desk.hold(Held("outline", "S1"))
    qtbot.keyClick(window.canvas, KEY.Key_F2)
    focus = QApplication.focusWidget()
    assert in_hand_of(window).isAncestorOf(focus)
    assert focus.accessibleName()
