"""A monkey at the desk: edits, undo, redo, views, saving and opening again, in any order."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from PySide6.QtCore import QEvent, QPoint, QSettings, Qt, qInstallMessageHandler
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from roomboard.app.desk import LENS_ORDER
from roomboard.app.document import Document
from roomboard.app.window import Window
from roomboard.storage.project_file import normal, read, write

LINES = (
    "3580 x 3040",
    "Den 4200 x 2750 h 2550",
    "along y at 450",
    "along x at 600 first 300",
    "5.4 m",
    "2900",
    "nonsense",
    "600 x 300 from 200 to 1200",
    "400 x 300 at 900, 900",
    "12",
)
KEYS = (
    Qt.Key.Key_Tab,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Return,
    Qt.Key.Key_Delete,
    Qt.Key.Key_Left,
    Qt.Key.Key_Up,
    Qt.Key.Key_W,
    Qt.Key.Key_S,
    Qt.Key.Key_J,
    Qt.Key.Key_X,
    Qt.Key.Key_B,
    Qt.Key.Key_V,
    Qt.Key.Key_I,
    Qt.Key.Key_3,
    Qt.Key.Key_BracketRight,
)
HARMLESS = ("propagateSizeHints", "raise()")
"""Words of messages that the offscreen platform prints of itself."""


@contextmanager
def no_qt_warning() -> Iterator[list[str]]:
    """Collect what Qt complains about."""
    said: list[str] = []

    def heard(_kind: object, _context: object, text: str) -> None:
        if not any(h in text for h in HARMLESS):
            said.append(text)

    before = qInstallMessageHandler(heard)
    try:
        yield said
    finally:
        qInstallMessageHandler(before)


class Monkey(RuleBasedStateMachine):
    """Acts on a real window; what must always hold is checked after each act."""

    folder: Path

    def __init__(self) -> None:
        super().__init__()
        self.noise = no_qt_warning()
        self.said = self.noise.__enter__()
        stored = QSettings(str(self.folder / "monkey.ini"), QSettings.Format.IniFormat)
        self.window = Window(Document(), stored)
        self.window.resize(1100, 700)
        self.window.show()
        self.saves = 0

    def teardown(self) -> None:
        self.window.document.undo_stack.setClean()
        self.window.close()
        self.window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        QApplication.processEvents()
        self.noise.__exit__(None, None, None)
        assert not self.said

    @rule(line=st.sampled_from(LINES))
    def type_a_line(self, line: str) -> None:
        entry = self.window.entry.line
        entry.setFocus()
        entry.setText(line)
        QTest.keyClick(entry, Qt.Key.Key_Return)

    @rule(key=st.sampled_from(KEYS), shift=st.booleans())
    def press_a_key(self, key: Qt.Key, shift: bool) -> None:
        self.window.canvas.setFocus()
        modifier = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
        QTest.keyClick(self.window.canvas, key, modifier)

    @rule(x=st.floats(0.05, 0.95), y=st.floats(0.05, 0.95))
    def click(self, x: float, y: float) -> None:
        QTest.mouseClick(self.window.canvas, Qt.MouseButton.LeftButton, pos=self._at(x, y))

    @rule(
        a=st.tuples(st.floats(0.05, 0.95), st.floats(0.05, 0.95)),
        b=st.tuples(st.floats(0.05, 0.95), st.floats(0.05, 0.95)),
        given_up=st.booleans(),
    )
    def drag(self, a: tuple[float, float], b: tuple[float, float], given_up: bool) -> None:
        canvas = self.window.canvas
        begin, end = self._at(*a), self._at(*b)
        QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=begin)
        QTest.mouseMove(canvas, (begin + end) / 2)
        QTest.mouseMove(canvas, end)
        if given_up:
            QTest.keyClick(canvas, Qt.Key.Key_Escape)
        QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=end)

    @rule(lens=st.sampled_from(LENS_ORDER))
    def another_lens(self, lens: str) -> None:
        self.window.desk.show_lens(lens)

    @rule(number=st.integers(0, 20))
    def another_view(self, number: int) -> None:
        scheme = self.window.desk.room_scheme
        views = ["opened", "plan", "ceiling", "below", "cutting"]
        views += [s.surface.key for s in scheme.surfaces] if scheme else []
        self.window.desk.show_view(views[number % len(views)])

    @precondition(lambda self: self.window.document.project.rooms)
    @rule(number=st.integers(0, 9))
    def another_room(self, number: int) -> None:
        rooms = self.window.document.project.rooms
        self.window.desk.show_room(rooms[number % len(rooms)].id)

    @rule(steps=st.integers(1, 4))
    def undo(self, steps: int) -> None:
        for _ in range(steps):
            self.window.document.undo_stack.undo()

    @rule(steps=st.integers(1, 4))
    def redo(self, steps: int) -> None:
        for _ in range(steps):
            self.window.document.undo_stack.redo()

    @rule()
    def save_and_open_again(self) -> None:
        document = self.window.document
        document.drop_trial()
        before = normal(document.project)
        loaded = read(write(document.project))
        assert loaded.project == before, loaded.faults
        self.saves += 1

    @rule()
    def wait(self) -> None:
        for _ in range(400):
            QApplication.processEvents()
            if self.window.document.settled and self.window.canvas.settled:
                break
            QTest.qWait(5)
        assert self.window.document.settled

    def _at(self, x: float, y: float) -> QPoint:
        canvas = self.window.canvas
        return QPoint(round(x * canvas.width()), round(y * canvas.height()))

    @invariant()
    def all_is_well(self) -> None:
        QApplication.processEvents()
        assert not self.said
        document, desk = self.window.document, self.window.desk
        ids = [r.id for r in document.project.rooms]
        assert len(set(ids)) == len(ids)
        assert desk.room_id in ids or not ids
        assert all(len(r.walls) == len(r.outline) for r in document.project.rooms)
        assert document.undo_stack.isClean() or self.window.isWindowModified()


@pytest.mark.slow
def test_monkey(tmp_path: Path, qapp: QApplication) -> None:
    Monkey.folder = tmp_path

    def widgets() -> int:
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        QApplication.processEvents()
        return len(QApplication.topLevelWidgets())

    before = widgets()
    Monkey.TestCase.settings = settings(
        max_examples=12,
        stateful_step_count=25,
        suppress_health_check=list(HealthCheck),
        deadline=None,
    )
    Monkey.TestCase().runTest()
    assert widgets() <= before
    assert qapp is not None
