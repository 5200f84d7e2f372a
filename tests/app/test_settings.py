"""What holds for the whole job, set as a user sets it; every change is one step to be undone."""

from dataclasses import replace

import pytest
import shiboken6
from PySide6.QtCore import Qt

from roomboard.app.dialogs.settings import show_job
from roomboard.app.document import Document
from roomboard.app.panels.fields import ChoiceField, TypedField
from roomboard.core.practice import Status
from roomboard.core.project import (
    ButtsAt,
    Deliveries,
    FastenerKind,
    HeightsAre,
    Method,
    Price,
    Units,
)
from roomboard.core.quantities import costs
from roomboard.storage.catalogue import load_practice
from roomboard.storage.project_file import load, read, write
from roomboard.storage.resources import resource_files


@pytest.fixture
def window(open_window, settle):
    """One room of the demo project on the desk."""
    (path,) = resource_files("demo", ".roomboard.json")
    project = load(path).project
    opened = open_window(Document(replace(project, rooms=project.rooms[:1])))
    settle(opened)
    return opened


@pytest.fixture
def job(qtbot, window):
    panel = show_job(window)
    qtbot.waitExposed(panel)
    yield panel
    if shiboken6.isValid(panel):
        panel.close()


def type_in(qtbot, field, text):
    assert isinstance(field, TypedField)
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClick(field.line, Qt.Key.Key_Delete)
    qtbot.keyClicks(field.line, text)


def enter(qtbot, field, text):
    type_in(qtbot, field, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def pick(qtbot, field, words):
    """Choose an option in the list that opens, by its keys."""
    assert isinstance(field, ChoiceField)
    box = field.box
    index = next(i for i in range(box.count()) if box.itemText(i).startswith(words))
    box.showPopup()
    qtbot.keyClick(box.view(), Qt.Key.Key_Home)
    for _ in range(index):
        qtbot.keyClick(box.view(), Qt.Key.Key_Down)
    qtbot.keyClick(box.view(), Qt.Key.Key_Return)
    assert box.currentText().startswith(words)


def project_of(job):
    return job._window.document.project


@pytest.mark.parametrize(
    ("label", "text", "name", "value"),
    [
        ("Name", "Harbour Lane 42", "name", "Harbour Lane 42"),
        ("Building year", "1958", "building_year", 1958),
        ("Building year", "", "building_year", 0),
        ("Measured by", "Kim", "measured_by", "Kim"),
        ("Measured on", "2025-03-31", "measured_on", "2025-03-31"),
        ("Issue letter", "B", "issue", "B"),
        ("Currency", "eur", "currency", "EUR"),
    ],
)
def test_what_is_typed_is_one_step_to_be_undone(qtbot, job, label, text, name, value):
    before = project_of(job)
    enter(qtbot, job.field(label), text)
    assert getattr(project_of(job), name) == value
    assert job._window.document.undo_stack.count() == 1
    job._window.document.undo_stack.undo()
    assert project_of(job) == before
    assert job.field(label).line.text() == job.field(label).figure.text


@pytest.mark.parametrize(
    ("label", "text", "name", "value"),
    [
        ("Gap over the floor", "12.5", "floor_gap", 12.5),
        ("Gap over the floor", '1/2"', "floor_gap", 12.7),
        ("Sheet lengths", "2400, 3.6 m", "sheet_lengths", (2400.0, 3600.0)),
        ("Sheet widths", "1200", "sheet_widths", (1200.0,)),
        ("Spare of loose goods", "10 %", "spare_ratio", 0.1),
        ("Spare of loose goods", "7,5", "spare_ratio", 0.075),
        ("Spare sheets", "2", "spare_sheets", 2),
        ("Lift limit", "20", "lift_limit_kg", 20.0),
        # One pound is 0.45359237 kg exactly (international pound, 1959).
        ("Lift limit", "100 lb", "lift_limit_kg", 45.359237),
        # Revised NIOSH lifting equation (1991), by hand:
        # 23 x 25/40 x (1 - 0.003 x 5) x (0.82 + 4.5/60)
        ("Lift limit", "reach 400 from 700 up 600", "lift_limit_kg", 12.672640625),
        # 23 x 0.5 x (1 - 0.003 x 45) x (0.82 + 0.045) x (1 - 0.096)
        ("Lift limit", "Reach 50 cm from 300 down 1 m turn 30°", "lift_limit_kg", 7.7785471),
    ],
)
def test_choices_that_are_typed(qtbot, job, label, text, name, value):
    enter(qtbot, job.field(label), text)
    assert getattr(project_of(job).choices, name) == pytest.approx(value)


@pytest.mark.parametrize(
    ("label", "words", "name", "value"),
    [
        ("Boards are held by", "fasteners only", "method", Method.FASTENERS),
        ("Fasteners", "nails", "fastener", FastenerKind.NAIL),
        ("Butt joints fall", "between framing", "butts", ButtsAt.MID_BAY),
        ("Heights are measured to", "finished faces", "heights_are", HeightsAre.FINISHED),
        ("Board is delivered", "floor by floor", "deliveries", Deliveries.BY_FLOOR),
        ("Ceilings", "13 mm ", "ceiling_board", "fire13"),
        ("Walls", "13 mm ", "wall_board", "fire13"),
    ],
)
def test_choices_that_are_picked(qtbot, job, label, words, name, value):
    before = project_of(job)
    pick(qtbot, job.field(label), words)
    assert getattr(project_of(job).choices, name) == value
    job._window.document.undo_stack.undo()
    assert project_of(job) == before
    assert getattr(project_of(job).choices, name) != value


@pytest.mark.parametrize(
    ("label", "text"),
    [
        ("Name", ""),
        ("Building year", "62"),
        ("Building year", "2999"),
        ("Measured on", "31.3.2025"),
        ("Currency", "dollars"),
        ("Gap over the floor", "a hand"),
        ("Sheet lengths", "3100"),
        ("Spare of loose goods", "lots"),
        ("Spare of loose goods", "140 %"),
        ("Spare sheets", "1.5"),
        ("Lift limit", "two people"),
        ("Lift limit", "reach 400 up 600"),
        ("Lift limit", "from 700"),
        ("Lift limit", "reach 400 from 700 turn round"),
        ("Lift limit", "reach 400 from 700 reach 500"),
        ("Lift limit", "I reach 400 from 700"),
        ("Lift limit", "reach far from 700"),
        # Hands further than 63 cm from the ankles: nothing should be lifted.
        ("Lift limit", "reach 700 from 700"),
    ],
)
def test_what_is_not_understood_is_said_and_the_old_value_kept(qtbot, job, label, text):
    before = project_of(job)
    field = job.field(label)
    shown = field.line.text()
    enter(qtbot, field, text)
    assert field.is_refused
    assert field.echo.text().startswith("✗ ")
    assert project_of(job) == before
    qtbot.keyClick(field.line, Qt.Key.Key_Escape)
    assert field.line.text() == shown
    assert not field.is_refused


def test_every_refusal_of_stock_names_what_there_is(qtbot, job):
    field = job.field("Sheet lengths")
    enter(qtbot, field, "3100")
    assert "3100" in field.echo.text()
    assert "3600" in field.echo.text()


def test_what_is_typed_is_echoed_before_it_is_taken(qtbot, job):
    field = job.field("Lift limit")
    type_in(qtbot, field, "55 lb")
    # 55 × 0.45359237 = 24.94758
    assert field.echo.text() == "= 24.9 kg"
    type_in(qtbot, field, "reach 400 from 700 up 600")
    assert field.echo.text().startswith("= 12.7 kg, by the revised NIOSH lifting equation (1991)")
    assert project_of(job).choices.lift_limit_kg == 0.0


def test_units_switch_every_figure_at_once(qtbot, job):
    enter(qtbot, job.field("Gap over the floor"), "12.7")
    enter(qtbot, job.field("Lift limit"), "100 lb")
    job.practice.look_at("stagger.min")
    in_hand = [f.text for f in _room_figures(job)]
    pick(qtbot, job.field("Units"), "feet")
    assert project_of(job).units is Units.FEET_INCHES
    # 12.7 mm is half an inch exactly.
    assert job.field("Gap over the floor").line.text() == '1/2"'
    assert job.field("Lift limit").line.text() == "100.0 lb"
    assert '"' in job.practice.list.currentItem().text(1)
    assert [f.text for f in _room_figures(job)] != in_hand
    job._window.document.undo_stack.undo()
    assert job.field("Gap over the floor").line.text() == "12.7"


def _room_figures(job):
    from roomboard.app.figures import figures_of

    return figures_of(job._window.desk, None)


def test_another_practice_brings_its_stock_and_figures(qtbot, job, settle):
    pick(qtbot, job.field("Practice"), "United States")
    assert project_of(job).practice == "us"
    settle(job._window)
    assert job._window.document.scheme.practice.id == "us"
    keys = {
        job.practice.list.topLevelItem(i).text(3)
        for i in range(job.practice.list.topLevelItemCount())
    }
    assert keys == {f.key for f in load_practice("us").figures}


def test_a_figure_of_practice_is_changed_told_and_given_back(qtbot, job, settle):
    stated = load_practice("au-nz").figure("stagger.min")
    job.practice.look_at("stagger.min")
    assert str(stated.citation) in job.practice.about.text()
    assert job.practice.field.line.placeholderText().startswith("as the practice has it")
    wanted = stated.value + 100
    enter(qtbot, job.practice.field, f"{wanted:g}")
    assert project_of(job).overrides == (("stagger.min", wanted),)
    row = job.practice.list.currentItem()
    assert row.text(0).startswith("✎ ")
    assert row.text(2) == "changed for this job"
    assert f"{stated.value:g} mm" in job.practice.about.text()
    settle(job._window)
    figure = job._window.document.scheme.practice.figure("stagger.min")
    assert (figure.value, figure.citation.status) == (wanted, Status.USER)
    enter(qtbot, job.practice.field, "")
    assert project_of(job).overrides == ()
    assert not job.practice.list.currentItem().text(0).startswith("✎")


def test_a_figure_that_is_a_word_is_chosen(qtbot, job):
    stated = load_practice("au-nz").figure("backblock.recessed")
    assert stated.value == "yes"
    job.practice.look_at("backblock.recessed")
    pick(qtbot, job.practice.field, "no")
    assert project_of(job).overrides == (("backblock.recessed", "no"),)
    pick(qtbot, job.practice.field, "yes")
    assert project_of(job).overrides == ()


def test_a_figure_refuses_what_is_no_length(qtbot, job):
    job.practice.look_at("stagger.min")
    enter(qtbot, job.practice.field, "far")
    assert job.practice.field.is_refused
    assert project_of(job).overrides == ()


def test_every_figure_says_where_it_comes_from(job):
    tree = job.practice.list
    pack = load_practice("au-nz")
    assert tree.topLevelItemCount() == len(pack.figures)
    for number in range(tree.topLevelItemCount()):
        item = tree.topLevelItem(number)
        status = pack.figure(item.text(3)).citation.status
        assert (item.text(2) == "check with your local code") is (status is Status.MEMORY)
        assert item.text(2)


def test_prices_begin_with_what_is_ordered_and_cost_follows(qtbot, job, settle):
    tree = job.prices.list
    assert tree.topLevelItem(0).text(2) == "in this job's order"
    enter(qtbot, job.field("Currency"), "EUR")
    line = next(q for q in job._window.document.scheme.quantities if q.code.startswith("sheets:"))
    item = line.code.partition(":")[2]
    job.prices.look_at(item)
    enter(qtbot, job.prices.field, "24,50")
    assert project_of(job).prices == (Price(item=item, amount=24.5),)
    assert tree.currentItem().text(1) == "24.50 EUR"
    settle(job._window)
    scheme = job._window.document.scheme
    assert dict(costs(scheme.project, scheme.quantities))[line.code] == line.total * 24.5
    enter(qtbot, job.prices.field, "")
    assert project_of(job).prices == ()


def test_a_price_that_is_none_is_refused(qtbot, job):
    job.prices.list.setCurrentItem(job.prices.list.topLevelItem(0))
    enter(qtbot, job.prices.field, "-3")
    assert job.prices.field.is_refused
    assert project_of(job).prices == ()


def test_finding_in_a_list(qtbot, job):
    qtbot.keyClicks(job.practice.seek, "stagger butt")
    tree = job.practice.list
    shown = [
        tree.topLevelItem(i)
        for i in range(tree.topLevelItemCount())
        if not tree.topLevelItem(i).isHidden()
    ]
    assert shown
    assert all("stagger" in " ".join(i.text(c) for c in range(4)).lower() for i in shown)
    assert len(shown) < tree.topLevelItemCount()


def test_whatever_is_set_can_be_saved_and_opened(qtbot, job):
    enter(qtbot, job.field("Sheet lengths"), "3600; 4200")
    enter(qtbot, job.field("Building year"), "1958")
    enter(qtbot, job.field("Currency"), "NZD")
    project = project_of(job)
    assert read(write(project)).project == project


def test_the_act_and_its_key(qtbot, window):
    from PySide6.QtWidgets import QApplication

    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    qtbot.keyClick(window.canvas, Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    panel = window.findChild(object, "job")
    assert panel is not None
    assert panel.isVisible()
    assert not panel.isModal()
    assert show_job(window) is panel
    panel.close()


def test_every_field_has_a_name_for_those_who_listen(job):
    for form in job.forms.values():
        for field in form.fields:
            assert field.control.accessibleName()
    for ledger in (job.prices, job.practice):
        assert ledger.list.accessibleName()
        assert ledger.seek.accessibleName()


def test_undo_and_redo_by_key_in_the_panel(qtbot, job):
    from PySide6.QtWidgets import QApplication

    qtbot.waitUntil(lambda: QApplication.activeWindow() is job)
    before = project_of(job)
    pick(qtbot, job.field("Fasteners"), "nails")
    after = project_of(job)
    job.field("Fasteners").box.setFocus()
    qtbot.keyClick(job.field("Fasteners").box, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert project_of(job) == before
    keys = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(job.field("Fasteners").box, Qt.Key.Key_Z, keys)
    assert project_of(job) == after


def test_esc_goes_back_to_the_drawing(qtbot, window, job):
    field = job.field("Name")
    field.line.setFocus()
    qtbot.keyClick(field.line, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not shiboken6.isValid(job))
    assert window.isVisible()


def test_an_offcut_on_site_is_typed_cut_from_and_taken_off_again(qtbot, window, job, settle):
    document = window.document
    board = document.catalogue.default_ceiling
    job.tabs.setCurrentWidget(job.offcuts.parentWidget())
    job.offcuts.look_at("another")

    type_in(qtbot, job.offcuts.field, "wide")
    qtbot.keyClick(job.offcuts.field.line, Qt.Key.Key_Return)
    assert document.project.offcuts == ()

    enter(qtbot, job.offcuts.field, f"2 of 3600 x 1200 recessed 2 board {board} note shed")
    settle(window)

    (offcut,) = document.project.offcuts
    assert (offcut.length, offcut.width, offcut.recessed) == (3600.0, 1200.0, 2)
    assert (offcut.count, offcut.board, offcut.note) == (2, board, "shed")
    used = len(document.scheme.cut_plan.on_site)
    assert used
    row = job.offcuts.list.topLevelItem(0)
    assert row.text(2) == "OC1 to OC2"
    assert row.text(3) == f"{used} of 2"

    job.offcuts.look_at(offcut.id)
    enter(qtbot, job.offcuts.field, "")
    assert document.project.offcuts == ()
    document.undo_stack.undo()
    assert document.project.offcuts == (offcut,)


def test_the_least_piece_is_a_field_of_the_method(qtbot, job):
    field = job.field("Least length of a piece")
    assert "400 mm" in field.figure.empty  # common practice in the pack

    enter(qtbot, field, "450")
    assert dict(project_of(job).overrides) == {"piece.min": 450.0}

    enter(qtbot, field, "")
    assert project_of(job).overrides == ()
