"""Issuing on the desk: the set under a letter, what has changed since, pieces cut and hung."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from roomboard.app.asking import asking_of
from roomboard.app.desk import Held
from roomboard.app.dialogs.issues import Issues
from roomboard.app.dialogs.preview import Preview
from roomboard.app.document import Document
from roomboard.app.making import making_of
from roomboard.app.panels.in_hand import InHand
from roomboard.app.window import Window
from roomboard.core.revision import DoneState
from roomboard.drawing.displaylist import Text
from roomboard.drawing.set_revision_clouds import CLOUD
from tests.app.hands import CTRL, SHIFT, Hands
from tests.rooms import joists, project, room

PATIENCE = 60_000


@pytest.fixture
def hands(
    qtbot: QtBot, open_window: Callable[..., Window], settle: Callable[[Window], None]
) -> Hands:
    """A bedroom of 3580 by 3040 on the desk."""
    window = open_window(Document(project(room(3580, 3040, joists=(joists(90, 450),)))))
    settle(window)
    return Hands(qtbot, window, settle)


def listing(hands: Hands) -> Issues:
    found = hands.window.findChild(Issues)
    assert found is not None
    return found


def issue(hands: Hands, note: str) -> None:
    """Ctrl+Shift+I, the note, Enter."""
    hands.window.canvas.setFocus()
    hands.key(Qt.Key.Key_I, CTRL | SHIFT)
    panel = listing(hands)
    panel.note.setFocus()
    hands.qtbot.keyClicks(panel.note, note)
    hands.qtbot.keyClick(panel.note, Qt.Key.Key_Return)
    making = making_of(hands.window)
    hands.qtbot.waitUntil(lambda: not making.busy, timeout=PATIENCE)
    hands.settle()


def measure_again(hands: Hands, x: int) -> None:
    document = hands.window.document
    outline = ((0.0, 0.0), (0.0, 3040.0), (float(x), 3040.0), (float(x), 0.0))

    def change(of):  # type: ignore[no-untyped-def]
        return replace(of, outline=outline)

    assert document.edit_room("Measured again", "room", change)
    hands.settle()


def changes_listed(hands: Hands) -> list[str]:
    panel = listing(hands)
    return [panel.changed.item(n).text().strip() for n in range(panel.changed.count())]


def cloud_letters(hands: Hands) -> set[str]:
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    return {m.text for m in drawn.view.marks if isinstance(m, Text) and m.ref == CLOUD}


def hold(hands: Hands, mark: str, surface: str = "room/ceiling") -> None:
    window = hands.window
    window.desk.hold(Held(kind="sheet", ref=f"room/{mark}", surface=surface))
    window.canvas.setFocus()
    QApplication.processEvents()


# --- issues -----------------------------------------------------------------------------------


def test_the_set_is_issued_by_the_keys_and_can_be_undone(hands: Hands) -> None:
    document = hands.window.document
    issue(hands, "For cutting")
    kept = document.project.issues
    assert [(i.letter, i.note) for i in kept] == [("A", "For cutting")]
    assert kept[0].sheets
    assert asking_of(hands.window).asked("issued") is not None
    assert listing(hands).list.item(0).text().startswith("A   ")
    assert "Nothing has changed since A." in changes_listed(hands)
    assert document.undo_stack.undoText() == "Issue A"
    document.undo_stack.undo()
    assert document.project.issues == ()


def test_an_issue_without_note_date_or_change_says_so_and_does_nothing(hands: Hands) -> None:
    document = hands.window.document
    hands.key(Qt.Key.Key_I, CTRL | SHIFT)
    panel = listing(hands)
    hands.qtbot.mouseClick(panel.send, Qt.MouseButton.LeftButton)
    assert "Say in a few words" in panel.told.text()
    panel.note.setText("x")
    panel.date.setText("31.3.2025")
    hands.qtbot.mouseClick(panel.send, Qt.MouseButton.LeftButton)
    assert "is no date" in panel.told.text()
    assert document.project.issues == ()

    panel.date.setText("2025-03-31")
    issue(hands, "")
    assert [i.date for i in document.project.issues] == ["2025-03-31"]
    issue(hands, "Again")
    assert "there is nothing to issue" in panel.told.text()
    panel.letter.setText("A")
    hands.qtbot.mouseClick(panel.send, Qt.MouseButton.LeftButton)
    assert "There is an issue A already" in panel.told.text()
    assert len(document.project.issues) == 1


def test_what_has_changed_is_listed_and_a_click_goes_to_the_place(hands: Hands) -> None:
    issue(hands, "For cutting")
    measure_again(hands, 3560)
    said = changes_listed(hands)
    assert "Room, Ceiling" in said
    line = next(n for n, words in enumerate(said) if "C2-1 is 20 mm shorter" in words)
    assert "Not touched: Room, Wall A; Room, Wall C." in said
    panel = listing(hands)
    rect = panel.changed.visualItemRect(panel.changed.item(line))
    panel.changed.scrollToItem(panel.changed.item(line))
    rect = panel.changed.visualItemRect(panel.changed.item(line))
    hands.qtbot.mouseClick(panel.changed.viewport(), Qt.MouseButton.LeftButton, pos=rect.center())
    hands.settle()
    held = hands.window.desk.held
    assert held is not None
    assert (held.kind, held.surface) == ("sheet", "room/ceiling")
    assert held.ref in {"C2-1", "room/C2-1"}

    # And by the keys: down to the next line, Enter.
    panel.changed.setFocus()
    panel.changed.setCurrentRow(line - 1)
    hands.qtbot.keyClick(panel.changed, Qt.Key.Key_Return)
    hands.settle()
    held = hands.window.desk.held
    assert held is not None
    assert held.ref in {"C1-1", "room/C1-1"}

    issue(hands, "Measured again")
    assert [i.letter for i in hands.window.document.project.issues] == ["A", "B"]
    assert "Nothing has changed since B." in changes_listed(hands)
    panel.list.setCurrentRow(1)  # issue A
    assert any("C2-1 is 20 mm shorter" in words for words in changes_listed(hands))


def test_clouds_stand_on_the_drawing_and_go_with_a_key(hands: Hands) -> None:
    issue(hands, "For cutting")
    listing(hands).close()
    hands.window.desk.show_view("ceiling")
    hands.window.desk.show_lens("set_out")
    hands.settle()
    assert cloud_letters(hands) == set()
    measure_again(hands, 3560)
    assert cloud_letters(hands) == {"A*"}
    hands.window.activateWindow()
    hands.window.canvas.setFocus()
    QApplication.processEvents()
    hands.key(Qt.Key.Key_U, CTRL)
    hands.settle()
    assert cloud_letters(hands) == set()
    hands.key(Qt.Key.Key_U, CTRL)
    hands.settle()
    assert cloud_letters(hands) == {"A*"}
    # A cloud is no thing one can take hold of.
    drawn = hands.window.canvas.drawn
    assert drawn is not None
    assert not drawn.picker.of("room/ceiling", CLOUD)


def test_the_preview_shows_only_what_changed_and_says_where_nothing_did(hands: Hands) -> None:
    issue(hands, "For cutting")
    listing(hands).close()
    hands.window.bar.actions["print.preview"].trigger()
    preview = hands.window.findChild(Preview)
    assert preview is not None
    making = making_of(hands.window)
    hands.qtbot.waitUntil(lambda: not making.busy and bool(preview.pages), timeout=PATIENCE)
    whole = len(preview.pages)
    choosing = preview.choosing
    assert choosing.since.isVisible()
    choosing.since.setFocus()
    hands.qtbot.keyClick(choosing.since, Qt.Key.Key_Down)
    assert choosing.wanted_since == "A"
    hands.qtbot.waitUntil(
        lambda: not making.busy and "Nothing has changed since issue A" in preview.line.text(),
        timeout=PATIENCE,
    )
    measure_again(hands, 3560)
    hands.qtbot.waitUntil(
        lambda: not making.busy and 0 < len(preview.pages) < whole, timeout=PATIENCE
    )
    preview.close()


# --- pieces -------------------------------------------------------------------------------------


def test_a_piece_is_cut_and_then_hung_by_the_keys(hands: Hands) -> None:
    document = hands.window.document
    hands.window.desk.show_view("ceiling")
    hands.window.desk.show_lens("set_out")
    hands.settle()
    hold(hands, "C2-1")
    hands.key(Qt.Key.Key_H, CTRL)
    hands.settle()
    assert [(d.piece.mark, d.state) for d in document.project.done] == [("C2-1", DoneState.CUT)]
    signs = [m.text for m in hands.window.canvas.drawn.view.marks if isinstance(m, Text)]  # type: ignore[union-attr]
    assert "cut" in signs

    hands.key(Qt.Key.Key_H, CTRL | SHIFT)
    hands.settle()
    assert [d.state for d in document.project.done] == [DoneState.HUNG]
    measure_again(hands, 3560)
    said = [f for f in document.scheme.findings if f.code == "RB505"]  # type: ignore[union-attr]
    assert [(f.found, f.required) for f in said] == [(3580.0, 3560.0)]

    hold(hands, "C2-1")
    hands.key(Qt.Key.Key_U, CTRL | SHIFT)
    hands.settle()
    assert document.project.done == ()
    for _ in range(4):
        document.undo_stack.undo()
    hands.settle()
    assert document.project.done == ()
    assert document.project.rooms[0].choices == ()


def test_the_buttons_of_the_piece_in_hand_do_the_same(hands: Hands) -> None:
    window = hands.window
    hold(hands, "C1-1")
    hands.settle()
    hand = window.beside.findChild(InHand)
    assert hand is not None
    assert window.bar.actions["piece.cut"].isEnabled()
    assert not window.bar.actions["piece.open"].isEnabled()
    window.bar.actions["piece.cut"].trigger()
    hands.settle()
    assert [d.piece.mark for d in window.document.project.done] == ["C1-1"]
    assert window.bar.actions["piece.open"].isEnabled()


def test_pieces_whose_wall_is_not_lined_any_more_are_forgotten_with_one_act(hands: Hands) -> None:
    document, act = hands.window.document, hands.window.bar.actions["piece.forget"]
    assert not act.isEnabled()
    hold(hands, "WA-T1", "room/wall:a")
    hands.key(Qt.Key.Key_H, CTRL)
    hands.settle()
    assert len(document.project.done) == 1

    def bare(of):  # type: ignore[no-untyped-def]
        return replace(of, walls=(replace(of.walls[0], lined=False), *of.walls[1:]))

    assert document.edit_room("Not lined", "room", bare)
    hands.settle()
    assert act.isEnabled()
    act.trigger()
    hands.settle()
    assert document.project.done == ()
    assert not act.isEnabled()
    document.undo_stack.undo()
    assert len(document.project.done) == 1


def test_without_a_piece_in_hand_the_acts_are_off(hands: Hands) -> None:
    hands.window.desk.hold(None)
    for name in ("piece.cut", "piece.hung", "piece.open"):
        assert not hands.window.bar.actions[name].isEnabled()


def test_stock_sheets_stay_as_issued_until_that_is_switched_off(hands: Hands) -> None:
    act = hands.window.bar.actions["sheets.keep_issued"]
    assert not act.isEnabled()
    issue(hands, "For cutting")
    document = hands.window.document
    assert act.isEnabled()
    assert document.project.keep_issued
    act.trigger()
    hands.settle()
    assert not document.project.keep_issued
    document.undo_stack.undo()
    assert document.project.keep_issued
