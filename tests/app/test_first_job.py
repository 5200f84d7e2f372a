"""From an empty desk to a printed cut sheet: by keys alone, and in few acts."""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit
from pytestqt.qtbot import QtBot

from roomboard.app.window import Window

MOST_ACTS = 25
"""A click, a drag, a key with its modifiers, or one typed entry each count as one."""


class Hand:
    """Acts as a user does and counts what it does."""

    def __init__(self, qtbot: QtBot, window: Window, settle: Callable[[Window], None]) -> None:
        self.qtbot, self.window, self.settle, self.acts = qtbot, window, settle, 0

    def key(self, key: Qt.Key, *modifiers: Qt.KeyboardModifier) -> None:
        """Press one key with its modifiers where the focus is."""
        self.acts += 1
        held = Qt.KeyboardModifier.NoModifier
        for modifier in modifiers:
            held |= modifier
        target = QApplication.focusWidget() or self.window
        self.qtbot.keyClick(target, key, held)
        self.settle(self.window)

    def entry(self, text: str) -> None:
        """Type a line where the focus is, and Enter: one typed entry."""
        self.acts += 1
        target = QApplication.focusWidget()
        assert target is not None
        if isinstance(target, QLineEdit):
            target.selectAll()
        for sign in text:  # the first one may bring the focus to another field
            self.qtbot.keyClicks(QApplication.focusWidget() or target, sign)
        self.qtbot.keyClick(QApplication.focusWidget() or target, Qt.Key.Key_Return)
        self.settle(self.window)

    def click(self, at: QPoint) -> None:
        """Click on the canvas."""
        self.acts += 1
        self.qtbot.mouseClick(self.window.canvas, Qt.MouseButton.LeftButton, pos=at)
        self.settle(self.window)


def dialog_of(qtbot: QtBot, name: str) -> QFileDialog:
    """Wait for a dialog and return it."""

    def found() -> QFileDialog | None:
        return next(
            (
                w
                for w in QApplication.topLevelWidgets()
                if isinstance(w, QFileDialog) and w.objectName() == name and w.isVisible()
            ),
            None,
        )

    qtbot.waitUntil(lambda: found() is not None)
    dialog = found()
    assert dialog is not None
    return dialog


def print_to(qtbot: QtBot, hand: Hand, pdf: Path) -> None:
    """Print to a file: the keys, then its name as one typed entry."""
    hand.key(Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    dialog = dialog_of(qtbot, "ask_where")
    line = dialog.findChild(QLineEdit)
    assert line is not None
    line.setFocus()
    hand.acts += 1
    line.selectAll()
    qtbot.keyClicks(line, str(pdf))
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.waitUntil(pdf.exists, timeout=30_000)


def text_of(pdf: Path) -> str:
    """Read a PDF back."""
    reader = shutil.which("pdftotext")
    if reader is None:
        pytest.skip("pdftotext is not installed")
    read = subprocess.run([reader, "-layout", str(pdf), "-"], check=True, capture_output=True)
    return read.stdout.decode()


def test_from_empty_to_print_by_keys_alone_in_few_acts(
    qtbot: QtBot, desk_window: Window, settle: Callable[[Window], None], tmp_path: Path
) -> None:
    """A room of 3580 x 3040 with joists along y at 450: 3 sheets of 3600 x 1200, no butt joint.

    By hand: 3040 = 1200 + 1200 + 640, and 3600 holds 3580; 10.883 m2 / 4.32 m2 = 2.52, so that
    fewer than 3 cannot do. Nothing is under the edges along x = 0 and x = 3580: 2 x 3.04 m.
    """
    hand = Hand(qtbot, desk_window, settle)
    hand.key(Qt.Key.Key_T)  # into the line under the drawing
    assert QApplication.focusWidget() is desk_window.entry.line
    hand.entry("Bedroom 3580 x 3040 h 2400")
    hand.entry("along y at 450")
    pdf = tmp_path / "bedroom.pdf"
    print_to(qtbot, hand, pdf)
    assert hand.acts <= MOST_ACTS
    scheme = desk_window.document.scheme
    assert scheme is not None
    ceiling = scheme.rooms[0].surfaces[0]
    assert sum(t.length for t in ceiling.trimmers) == pytest.approx(6080)
    assert not ceiling.set_out.butts
    used = {p.id for p in ceiling.set_out.pieces}
    sheets = [s for s in scheme.cut_plan.sheets if used & {placed.piece for placed in s.placements}]
    assert len(sheets) == 3
    text = text_of(pdf)
    assert "C1-1" in text
    assert "T1" in text


def test_the_same_room_drawn_wall_by_wall_takes_few_acts_too(
    qtbot: QtBot, desk_window: Window, settle: Callable[[Window], None], tmp_path: Path
) -> None:
    hand = Hand(qtbot, desk_window, settle)
    canvas = desk_window.canvas
    canvas.setFocus()
    hand.key(Qt.Key.Key_W)
    hand.click(QPoint(200, 500))
    for heading, length in (
        (Qt.Key.Key_Up, "3040"),
        (Qt.Key.Key_Right, "3580"),
        (Qt.Key.Key_Down, "3040"),
    ):
        hand.key(heading)
        hand.entry(length)
    hand.key(Qt.Key.Key_Return)  # close
    (room,) = desk_window.document.project.rooms
    xs, ys = [p[0] for p in room.outline], [p[1] for p in room.outline]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == (3580, 3040)
    hand.key(Qt.Key.Key_T)
    hand.entry("along y at 450")
    pdf = tmp_path / "drawn.pdf"
    print_to(qtbot, hand, pdf)
    assert hand.acts <= MOST_ACTS
    assert "C1-1" in text_of(pdf)
