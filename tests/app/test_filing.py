"""Projects begun, opened, saved and closed as a user does it, on the real window."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
import shiboken6
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from roomboard.app.asking import asking_of
from roomboard.app.document import EMPTY
from roomboard.app.filing import open_first
from roomboard.app.keeping import Hold
from roomboard.app.opening import open_file
from roomboard.app.recent import RECENT, add_recent, recent_files
from roomboard.app.windows import keeper_of, windows
from roomboard.storage.project_file import load, save
from roomboard.storage.resources import resource_files


@pytest.fixture
def demo():
    (path,) = resource_files("demo", ".roomboard.json")
    return load(path).project


@pytest.fixture
def job(tmp_path, demo):
    """A project file of one's own."""
    path = tmp_path / "job.roomboard.json"
    save(replace(demo, name="Own job", rooms=demo.rooms[:1]), path)
    return path


def type_room(qtbot, window, text="Bedroom 3580 x 3040 h 2400"):
    qtbot.keyClicks(window.entry.line, text)
    qtbot.keyClick(window.entry.line, Qt.Key.Key_Return)


def answer(qtbot, window, key, which):
    question = asking_of(window).asked(key)
    assert question is not None, f"nothing is asked about {key}"
    qtbot.mouseClick(question.buttons[which], Qt.MouseButton.LeftButton)


def choose(qtbot, window, name, path):
    """Choose a file in the dialog that is open."""
    dialog = window.findChild(QFileDialog, name)
    assert dialog is not None
    qtbot.waitUntil(dialog.isVisible)
    dialog.selectFile(str(path))
    dialog.accept()


def trigger(window, act):
    window.bar.actions[act].trigger()


def test_save_asks_for_a_file_once(qtbot, desk_window, tmp_path):
    type_room(qtbot, desk_window)
    path = tmp_path / "bedroom.roomboard.json"
    trigger(desk_window, "job.save")
    choose(qtbot, desk_window, "save_under_name", path)
    assert load(path).project == desk_window.document.project
    assert desk_window.document.path == path
    assert not desk_window.isWindowModified()
    type_room(qtbot, desk_window, "Hall 2000 x 1200 h 2400")
    assert desk_window.isWindowModified()
    trigger(desk_window, "job.save")
    assert [r.name for r in load(path).project.rooms] == ["Bedroom", "Hall"]
    assert recent_files(desk_window.settings) == (path,)


def test_the_ending_is_added(qtbot, desk_window, tmp_path):
    type_room(qtbot, desk_window)
    trigger(desk_window, "job.save_as")
    choose(qtbot, desk_window, "save_under_name", tmp_path / "attic")
    assert desk_window.document.path == tmp_path / "attic.roomboard.json"
    assert (tmp_path / "attic.roomboard.json").exists()


def test_save_by_key(qtbot, desk_window, job):
    open_file(desk_window, job)
    type_room(qtbot, desk_window, "Hall 2000 x 1200 h 2400")
    qtbot.keyClick(desk_window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert load(job).project.rooms[-1].name == "Hall"


def test_a_file_opens_in_the_untouched_window_the_next_in_another(
    qtbot, settings, job, tmp_path, demo
):
    (first,) = open_first([], settings)
    qtbot.waitExposed(first)
    trigger(first, "job.open")
    choose(qtbot, first, "ask_for_file", job)
    assert first.document.path == job
    assert first.document.project.name == "Own job"
    assert windows() == (first,)
    other = tmp_path / "other.roomboard.json"
    save(demo, other)
    second = open_file(first, other)
    assert second is not first
    assert windows() == (first, second)
    assert first.document.path == job
    assert second.document.project == demo


def test_new_leaves_the_open_project_alone(settings, job):
    (first,) = open_first([job], settings)
    trigger(first, "job.new")
    assert len(windows()) == 2
    assert windows()[1].document.project == EMPTY
    assert first.document.path == job


def test_a_file_with_faults_is_not_opened_and_all_are_listed(desk_window, tmp_path, job):
    raw = json.loads(job.read_text())
    raw["currency"] = "dollars"
    raw["rooms"][0]["height"] = -1
    bad = tmp_path / "bad.roomboard.json"
    bad.write_text(json.dumps(raw))
    before = bad.read_bytes()
    assert open_file(desk_window, bad) is None
    dialog = desk_window.findChild(object, "faults")
    rows = [dialog.list.topLevelItem(i) for i in range(dialog.list.topLevelItemCount())]
    assert {row.text(0) for row in rows} == {"currency", "rooms[0].height"}
    assert all(row.text(1) for row in rows)
    assert desk_window.document.project == EMPTY
    assert desk_window.document.path is None
    assert bad.read_bytes() == before
    dialog.close()


def test_an_unknown_pack_is_a_fault(desk_window, tmp_path, job):
    raw = json.loads(job.read_text())
    raw["practice"] = "nowhere"
    bad = tmp_path / "bad.roomboard.json"
    bad.write_text(json.dumps(raw))
    assert open_file(desk_window, bad) is None
    dialog = desk_window.findChild(object, "faults")
    assert dialog.list.topLevelItem(0).text(0) == "practice"
    assert "au-nz" in dialog.list.topLevelItem(0).text(1)
    dialog.close()


def test_recent_files_stand_in_the_menu_and_missing_ones_go(qtbot, desk_window, job, tmp_path):
    gone = tmp_path / "gone.roomboard.json"
    add_recent(desk_window.settings, job)
    add_recent(desk_window.settings, gone)
    desk_window.bar.refresh()
    assert desk_window.bar.actions["job.recent.0"].text().endswith("gone")
    assert desk_window.bar.actions["job.recent.1"].text().endswith("job")
    assert not desk_window.bar.actions["job.recent.2"].isVisible()
    trigger(desk_window, "job.recent.0")
    assert "gone.roomboard.json" in asking_of(desk_window).asked("recent").sentence
    answer(qtbot, desk_window, "recent", "read")
    assert recent_files(desk_window.settings) == (job,)
    trigger(desk_window, "job.recent.0")
    assert desk_window.document.path == job


def test_without_recent_files_the_menu_says_so(desk_window):
    desk_window.bar.refresh()
    action = desk_window.bar.actions["job.recent.0"]
    assert action.text() == "none yet"
    assert not action.isEnabled()
    trigger(desk_window, "job.recent.0")
    assert desk_window.document.project == EMPTY


def test_recent_files_are_limited(settings, tmp_path):
    for number in range(RECENT + 3):
        add_recent(settings, tmp_path / f"{number}.roomboard.json")
    assert len(recent_files(settings)) == RECENT
    assert recent_files(settings)[0].name == f"{RECENT + 2}.roomboard.json"


def test_closing_asks_about_unsaved_work_and_stays(qtbot, settings):
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    window.close()
    assert window.isVisible()
    answer(qtbot, window, "closing", "stay")
    assert window in windows()
    assert window.document.project.rooms


def test_closing_throws_away_only_when_told(qtbot, settings):
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    window.close()
    answer(qtbot, window, "closing", "throw_away")
    assert windows() == ()


def test_closing_saves_first(qtbot, settings, job):
    (window,) = open_first([job], settings)
    type_room(qtbot, window, "Hall 2000 x 1200 h 2400")
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    qtbot.keyClick(window, Qt.Key.Key_W, Qt.KeyboardModifier.ControlModifier)
    assert window.isVisible()
    answer(qtbot, window, "closing", "save")
    assert windows() == ()
    assert load(job).project.rooms[-1].name == "Hall"


def test_closing_saves_to_a_file_chosen_then(qtbot, settings, tmp_path):
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    window.close()
    answer(qtbot, window, "closing", "save")
    path = tmp_path / "bedroom.roomboard.json"
    choose(qtbot, window, "save_under_name", path)
    assert windows() == ()
    assert load(path).project.rooms[0].name == "Bedroom"


def test_a_leaving_that_was_stopped_is_over(qtbot, settings, job):
    (first,) = open_first([job], settings)
    trigger(first, "job.new")
    second = windows()[1]
    type_room(qtbot, second)
    trigger(first, "job.leave")
    answer(qtbot, second, "closing", "stay")
    second.close()
    answer(qtbot, second, "closing", "throw_away")
    assert windows() == (first,)


def test_a_link_to_the_open_file_is_the_same_file(qtbot, settings, job, tmp_path):
    (window,) = open_first([job], settings)
    link = tmp_path / "link.roomboard.json"
    link.symlink_to(job)
    second = open_file(window, link)
    assert second.document.path is None
    answer(qtbot, second, "open_elsewhere", "read")
    trigger(window, "job.save_as")
    choose(qtbot, window, "save_under_name", tmp_path / "next.roomboard.json")
    assert window.document.path == tmp_path / "next.roomboard.json"


def test_leaving_goes_from_window_to_window(qtbot, settings, job):
    (first,) = open_first([job], settings)
    trigger(first, "job.new")
    second = windows()[1]
    type_room(qtbot, second)
    trigger(first, "job.leave")
    assert windows() == (first, second)
    answer(qtbot, second, "closing", "throw_away")
    assert windows() == ()


def test_a_file_open_elsewhere_opens_as_a_copy(qtbot, settings, job, tmp_path):
    elsewhere = Hold(job)
    assert elsewhere.take()
    (window,) = open_first([job], settings)
    assert window.document.project.name == "Own job"
    assert window.document.path is None
    before = job.read_bytes()
    answer(qtbot, window, "open_elsewhere", "save_as")
    mine = tmp_path / "mine.roomboard.json"
    choose(qtbot, window, "save_under_name", mine)
    assert window.document.path == mine
    assert load(mine).project.name == "Own job"
    assert job.read_bytes() == before
    elsewhere.let_go()


def test_the_same_file_in_two_windows(qtbot, settings, job):
    (first,) = open_first([job], settings)
    second = open_file(first, job)
    assert second is not first
    assert second.document.path is None
    answer(qtbot, second, "open_elsewhere", "go")
    assert windows() == (first,)
    again = open_file(first, job)
    trigger(again, "job.save")
    choose(qtbot, again, "save_under_name", job.with_name("new.roomboard.json"))
    assert again.document.path.name == "new.roomboard.json"


def test_saving_under_the_name_of_a_file_open_elsewhere_is_refused(qtbot, settings, job):
    (first,) = open_first([job], settings)
    trigger(first, "job.new")
    second = windows()[1]
    type_room(qtbot, second)
    before = job.read_bytes()
    from roomboard.app.saving import _save_to

    _save_to(second, job, None)
    assert "open at another desk" in asking_of(second).asked("taken").sentence
    assert job.read_bytes() == before
    assert second.document.path is None


def test_a_file_is_free_again_once_its_window_is_closed(settings, job):
    (window,) = open_first([job], settings)
    assert not Hold(job).take()
    window.close()
    hold = Hold(job)
    assert hold.take()
    hold.let_go()


def test_a_file_changed_by_someone_else_is_noticed(qtbot, settings, job, demo):
    (window,) = open_first([job], settings)
    type_room(qtbot, window, "Hall 2000 x 1200 h 2400")
    save(replace(demo, name="Theirs"), job)
    trigger(window, "job.save")
    assert load(job).project.name == "Theirs"
    answer(qtbot, window, "changed", "stay")
    assert load(job).project.name == "Theirs"
    assert window.isWindowModified()
    trigger(window, "job.save")
    answer(qtbot, window, "changed", "look")
    theirs = windows()[-1]
    assert theirs.document.project.name == "Theirs"
    assert theirs.document.path is None
    trigger(window, "job.save")
    answer(qtbot, window, "changed", "over")
    assert load(job).project == window.document.project
    # Its own saving is no change by someone else.
    type_room(qtbot, window, "Store 1500 x 1200 h 2400")
    trigger(window, "job.save")
    assert asking_of(window).asked("changed") is None
    assert load(job).project.rooms[-1].name == "Store"


def test_a_folder_that_cannot_be_written_is_said(qtbot, settings, job):
    (window,) = open_first([job], settings)
    type_room(qtbot, window, "Hall 2000 x 1200 h 2400")
    from roomboard.app.saving import _save_to

    _save_to(window, Path("/nowhere/at/all/x.roomboard.json"), None)
    assert "was not written" in asking_of(window).asked("not_saved").sentence
    assert window.isWindowModified()
    assert window.document.path == job
    # The file it is in is still marked as open here.
    assert not Hold(job).take()


def test_news_does_not_take_the_keys_from_what_is_typed(qtbot, desk_window):
    line = desk_window.entry.line
    qtbot.waitUntil(lambda: QApplication.activeWindow() is desk_window)
    line.setFocus()
    question = asking_of(desk_window).tell("news", "Something is so.")
    assert line.hasFocus()
    qtbot.keyClick(question.buttons["read"], Qt.Key.Key_Space)
    assert asking_of(desk_window).asked("news") is None


def test_esc_gives_the_answer_that_changes_least(qtbot, settings):
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    window.close()
    question = asking_of(window).asked("closing")
    qtbot.keyClick(question, Qt.Key.Key_Escape)
    assert asking_of(window).asked("closing") is None
    assert window in windows()


def test_nothing_is_left_of_a_closed_window(qtbot, settings):
    import threading

    before = {t.name for t in threading.enumerate()}
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    window.document.undo_stack.setClean()
    window.close()
    qtbot.waitUntil(lambda: not shiboken6.isValid(window))
    assert {t.name for t in threading.enumerate()} == before
