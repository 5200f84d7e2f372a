"""After a crash: work is kept beside the file and offered again, whatever happened."""

import json
import os
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from roomboard.app import keeping, unsaved
from roomboard.app.asking import asking_of
from roomboard.app.document import EMPTY
from roomboard.app.filing import open_first
from roomboard.app.opening import open_file
from roomboard.app.unsaved import data_folder, left_over, mark_of, mark_of_file
from roomboard.app.windows import keeper_of, windows
from roomboard.storage.project_file import load, read, save, write
from roomboard.storage.resources import resource_files

REPOSITORY = Path(__file__).resolve().parents[2]
CRASH = """
import sys
from pathlib import Path
from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QApplication
from roomboard.app.main import prepare
from roomboard.app.filing import open_first
from roomboard.app.windows import keeper_of
from roomboard.storage.project_file import write

app = QApplication([])
prepare(app)
settings = QSettings(sys.argv[1], QSettings.Format.IniFormat)
(window,) = open_first([Path(p) for p in sys.argv[2:]], settings)

def edit():
    line = window.entry.line
    line.setText("Bedroom 3580 x 3040 h 2400")
    line.returnPressed.emit()
    line.setText("Hall 2000 x 1200 h 2400")
    line.returnPressed.emit()
    text = write(window.document.project)
    print(len(text.encode()), flush=True)
    sys.stdout.write(text)
    print("edited", flush=True)
    # The desk's own clock: on a laden machine its timers are late together.
    QTimer.singleShot(2000, lambda: print("later", flush=True))

QTimer.singleShot(0, edit)
app.exec()
"""
STEADY = """
import itertools
import sys
import time
from dataclasses import replace
from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QApplication
from roomboard.app.main import prepare
from roomboard.app.filing import open_first

app = QApplication([])
prepare(app)
(window,) = open_first([], QSettings(sys.argv[1], QSettings.Format.IniFormat))
number = itertools.count(1)

def edit():
    document = window.document
    document.edit("name", replace(document.project, name=str(next(number))))
    print(document.project.name, time.monotonic(), flush=True)

timer = QTimer()
timer.timeout.connect(edit)
timer.start(50)
app.exec()
"""


@pytest.fixture
def job(tmp_path):
    (path,) = resource_files("demo", ".roomboard.json")
    project = load(path).project
    own = tmp_path / "job.roomboard.json"
    save(replace(project, name="Own job", rooms=project.rooms[:1]), own)
    return own


def kept_files():
    folder = data_folder() / unsaved.UNSAVED
    return sorted(folder.glob("*.work.json")) if folder.is_dir() else []


def type_room(qtbot, window, text="Bedroom 3580 x 3040 h 2400"):
    qtbot.keyClicks(window.entry.line, text)
    qtbot.keyClick(window.entry.line, Qt.Key.Key_Return)


def offers(window):
    return [q for k, q in asking_of(window)._questions.items() if k.startswith("left.")]


def give(qtbot, question, which):
    qtbot.mouseClick(question.buttons[which], Qt.MouseButton.LeftButton)


def wait_for_file():
    """Wait until the other process has kept its last edit."""
    began = time.monotonic()
    while not any('"Hall"' in place.read_text() for place in kept_files()):
        time.sleep(0.02)
        assert time.monotonic() - began < 30


def crashed(tmp_path, *files, when="kept"):
    """Edit in a process of its own and kill it; return what it had on its desk.

    It is killed as soon as the edit was kept, two seconds after it, or at once.
    """
    program = tmp_path / "crash.py"
    program.write_text(CRASH)
    process = subprocess.Popen(
        [sys.executable, str(program), str(tmp_path / "desk.ini"), *map(str, files)],
        stdout=subprocess.PIPE,
        cwd=REPOSITORY,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY), "QT_QPA_PLATFORM": "offscreen"},
    )
    try:
        length = int(process.stdout.readline())
        text = process.stdout.read(length).decode()
        assert process.stdout.readline().strip() == b"edited"
        if when == "kept":
            wait_for_file()
        elif when == "later":
            assert process.stdout.readline().strip() == b"later"
    finally:
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
    assert process.returncode == -signal.SIGKILL
    return read(text).project


def test_killed_in_the_middle_of_an_edit_a_project_never_saved(qtbot, settings, tmp_path):
    # Kept once nothing was edited for less than half a second: two are plenty.
    edited = crashed(tmp_path, when="later")
    assert [r.name for r in edited.rooms] == ["Bedroom", "Hall"]
    (window,) = open_first([], settings)
    (offer,) = offers(window)
    assert "was not saved" in offer.sentence
    assert "never saved to a file" in offer.sentence
    give(qtbot, offer, "take_up")
    assert window.document.project == edited
    assert window.document.path is None
    assert window.isWindowModified()


def test_killed_in_the_middle_of_an_edit_of_a_file(qtbot, settings, tmp_path, job):
    before = job.read_bytes()
    edited = crashed(tmp_path, job)
    assert job.read_bytes() == before
    (window,) = open_first([], settings)
    (offer,) = offers(window)
    assert "job.roomboard.json" in offer.sentence
    give(qtbot, offer, "take_up")
    assert window.document.project == edited
    assert window.document.path == job
    assert window.isWindowModified()
    window.bar.actions["job.save"].trigger()
    assert asking_of(window).asked("changed") is None
    assert load(job).project == edited
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    assert kept_files() == []


@pytest.mark.parametrize("seconds", [4.0, 4.7])
def test_killed_at_any_moment_of_steady_edits(tmp_path, seconds):
    program = tmp_path / "steady.py"
    program.write_text(STEADY)
    said = tmp_path / "said"
    with said.open("wb") as out:
        process = subprocess.Popen(
            [sys.executable, str(program), str(tmp_path / "desk.ini")],
            stdout=out,
            cwd=REPOSITORY,
            env={**os.environ, "PYTHONPATH": str(REPOSITORY), "QT_QPA_PLATFORM": "offscreen"},
        )
        began = time.monotonic()
        while not said.read_bytes():
            time.sleep(0.01)
            assert time.monotonic() - began < 30
        time.sleep(seconds)
        process.send_signal(signal.SIGKILL)
        process.wait()
    whole = said.read_text().rpartition("\n")[0]
    made = {int(number): float(at) for number, at in map(str.split, whole.splitlines())}
    (left,) = left_over()
    assert left.project is not None
    kept, last = int(left.project.name), max(made)
    # At most about two seconds of edits are lost. They are made every twentieth of a second; by
    # as much as the machine was late with one of them it may be late with keeping them.
    late = max(made[n + 1] - made[n] for n in range(1, last))
    assert made[last] - made[min(kept, last)] <= 2.5 + 2 * late
    assert 0 < kept <= last + 1
    left.throw_away()


def test_taken_up_work_is_kept_on_until_it_is_saved(qtbot, settings, tmp_path, job):
    crashed(tmp_path, job)
    (place,) = kept_files()
    (window,) = open_first([], settings)
    give(qtbot, offers(window)[0], "take_up")
    assert kept_files() == [place]
    assert left_over() == ()
    type_room(qtbot, window, "Store 1500 x 1200 h 2400")
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    assert kept_files() == [place]
    assert json.loads(place.read_text())["project"]["rooms"][-1]["name"] == "Store"


def test_left_work_is_offered_again(qtbot, settings, tmp_path):
    crashed(tmp_path)
    (window,) = open_first([], settings)
    give(qtbot, offers(window)[0], "leave")
    assert len(kept_files()) == 1
    window.close()
    (window,) = open_first([], settings)
    (offer,) = offers(window)
    give(qtbot, offer, "throw_away")
    assert kept_files() == []
    assert left_over() == ()


def test_an_offer_closed_unanswered_is_made_again(qtbot, settings, tmp_path):
    crashed(tmp_path)
    (window,) = open_first([], settings)
    assert len(offers(window)) == 1
    window.close()
    (window,) = open_first([], settings)
    assert len(offers(window)) == 1
    give(qtbot, offers(window)[0], "throw_away")


def test_work_of_a_running_desk_is_not_offered(qtbot, settings):
    (first,) = open_first([], settings)
    type_room(qtbot, first)
    qtbot.waitUntil(lambda: keeper_of(first).settled)
    assert len(kept_files()) == 1
    assert left_over() == ()


def test_work_that_was_saved_after_all_goes_away(tmp_path, job):
    edited = crashed(tmp_path, job)
    job.write_text(write(edited))
    assert left_over() == ()
    assert kept_files() == []


def test_work_that_cannot_be_read_is_told_and_stays(qtbot, settings):
    folder = data_folder() / unsaved.UNSAVED
    folder.mkdir(parents=True)
    broken = folder / "broken.work.json"
    broken.write_text('{"file": ""')
    (window,) = open_first([], settings)
    (offer,) = offers(window)
    assert str(broken) in offer.sentence
    give(qtbot, offer, "leave")
    assert broken.exists()


def test_a_file_changed_after_the_crash_is_noticed(qtbot, settings, tmp_path, job):
    crashed(tmp_path, job)
    theirs = replace(load(job).project, name="Theirs")
    save(theirs, job)
    (window,) = open_first([], settings)
    give(qtbot, offers(window)[0], "take_up")
    window.bar.actions["job.save"].trigger()
    assert asking_of(window).asked("changed") is not None
    assert load(job).project == theirs


def test_the_file_of_left_work_open_elsewhere(qtbot, settings, tmp_path, job):
    edited = crashed(tmp_path, job)
    (window,) = open_first([job], settings)
    give(qtbot, offers(window)[0], "take_up")
    second = windows()[1]
    assert second.document.project == edited
    assert second.document.path is None
    assert asking_of(second).asked("open_elsewhere") is not None


def test_the_work_is_kept_within_two_seconds_of_steady_edits(qtbot, settings, monkeypatch):
    step = keeping.QUIET // 4
    # A laden machine can be late with an edit, which is then no longer a steady one: the pause
    # in which the work is kept otherwise is put out of reach.
    monkeypatch.setattr(keeping, "QUIET", 600_000)
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    place = keeper_of(window).place
    number = 0
    while not place.exists():
        number += 1
        document = window.document
        document.edit("name", replace(document.project, name=f"Job {number}"))
        qtbot.wait(step)
        # Three seconds, each step taking at least its own time.
        assert number * step < 3000
    assert number > 1


def test_the_window_does_not_wait_for_the_disk(qtbot, settings, monkeypatch):
    let, slow = threading.Event(), []

    def write_slowly(path, _content):
        assert let.wait(30)
        slow.append(path)

    monkeypatch.setattr(keeping, "write_whole", write_slowly)
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    keeper_of(window).keep()
    # The disk does not answer before it is let: the window goes on all the same.
    type_room(qtbot, window, "Hall 2000 x 1200 h 2400")
    assert [r.name for r in window.document.project.rooms] == ["Bedroom", "Hall"]
    assert not keeper_of(window).settled
    assert slow == []
    let.set()
    qtbot.waitUntil(lambda: keeper_of(window).settled, timeout=20_000)
    assert slow


def test_undone_to_the_saved_state_nothing_is_kept(qtbot, settings, job):
    (window,) = open_first([job], settings)
    type_room(qtbot, window, "Hall 2000 x 1200 h 2400")
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    assert len(kept_files()) == 1
    window.document.undo_stack.undo()
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    assert kept_files() == []


def test_nothing_is_kept_of_work_thrown_away(qtbot, settings):
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    window.close()
    give(qtbot, asking_of(window).asked("closing"), "throw_away")
    assert kept_files() == []


def test_trouble_with_keeping_is_said_once(qtbot, settings, monkeypatch):
    def refuse(_path, _content):
        raise keeping.NotSavedError("There is no room on the disk.")

    monkeypatch.setattr(keeping, "write_whole", refuse)
    (window,) = open_first([], settings)
    type_room(qtbot, window)
    qtbot.waitUntil(lambda: asking_of(window).asked("keeping") is not None)
    assert "no room on the disk" in asking_of(window).asked("keeping").sentence
    give(qtbot, asking_of(window).asked("keeping"), "read")
    type_room(qtbot, window, "Hall 2000 x 1200 h 2400")
    qtbot.waitUntil(lambda: keeper_of(window).settled)
    assert asking_of(window).asked("keeping") is None


def test_the_mark_of_a_dead_desk_bars_no_file(settings, tmp_path, job):
    crashed(tmp_path, job, when="at once")
    (window,) = open_first([], settings)
    target = open_file(window, job)
    assert target.document.path == job
    assert asking_of(target).asked("open_elsewhere") is None


def test_a_file_open_in_another_process_opens_as_a_copy(settings, tmp_path, job):
    program = tmp_path / "crash.py"
    program.write_text(CRASH)
    process = subprocess.Popen(
        [sys.executable, str(program), str(tmp_path / "other.ini"), str(job)],
        stdout=subprocess.PIPE,
        cwd=REPOSITORY,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY), "QT_QPA_PLATFORM": "offscreen"},
    )
    try:
        assert process.stdout.readline()
        (window,) = open_first([job], settings)
        assert window.document.project.name == "Own job"
        assert window.document.path is None
        assert asking_of(window).asked("open_elsewhere") is not None
        assert offers(window) == []
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


def test_marks_tell_contents_apart(tmp_path):
    path = tmp_path / "x"
    path.write_bytes(b"one")
    one = mark_of_file(path)
    path.write_bytes(b"two")
    assert mark_of_file(path) != one
    assert mark_of(b"one") == one
    assert mark_of_file(tmp_path / "none") == ""


def test_half_written_litter_is_swept():
    folder = data_folder() / unsaved.UNSAVED
    folder.mkdir(parents=True)
    old, fresh = folder / ".a.work.json-x1", folder / ".b.work.json-x2"
    for path in (old, fresh):
        path.write_text("{")
    os.utime(old, (0, 0))
    assert left_over() == ()
    assert not old.exists()
    assert fresh.exists()


def test_an_empty_desk_keeps_nothing(qtbot, settings):
    (window,) = open_first([], settings)
    assert window.document.project == EMPTY
    keeper_of(window).keep()
    qtbot.wait(50)
    assert kept_files() == []
