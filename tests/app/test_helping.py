"""The help, and names and focus of everything in the window."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QDialog,
    QLabel,
    QLineEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from roomboard import __version__
from roomboard.app.beside import findings_of, in_hand_of, order_of
from roomboard.app.desk import Held
from roomboard.app.dialogs.keys import Keys
from roomboard.app.dialogs.told import DOES_NOT, Told
from roomboard.app.dialogs.words import Words
from roomboard.app.helping import term_of
from roomboard.app.window import Window
from roomboard.storage.catalogue import load_cautions
from roomboard.storage.glossary import load_glossary

Settle = Callable[[Window], None]
KEY = Qt.Key


def opened(window: Window, name: str) -> QDialog:
    window.bar.actions[f"help.{name}"].trigger()
    dialog = window.findChild(QDialog, f"help.{name}")
    assert isinstance(dialog, QDialog)
    assert dialog.isVisible()
    assert not dialog.isModal()
    return dialog


# --- words of the trade -----------------------------------------------------------------


def test_every_word_is_listed_and_can_be_searched(qtbot: QtBot, desk_window: Window):
    words = opened(desk_window, "words")
    assert isinstance(words, Words)
    assert words.list.count() == len(load_glossary())
    qtbot.keyClicks(words.search, "trimmer")
    assert words.term is not None
    assert words.term.id == "trimmer"
    assert words.term.text in words.told.toPlainText()
    assert 0 < words.list.count() < len(load_glossary())
    words.search.setText("no such word")
    assert words.list.count() == 0
    assert "no such word" in words.told.toPlainText()


def test_words_to_read_on_with_are_links(desk_window: Window):
    words = opened(desk_window, "words")
    assert isinstance(words, Words)
    term = next(t for t in load_glossary() if t.see)
    assert words.show_term(term.id)
    assert f'href="{term.see[0]}"' in words.told.toHtml()
    words.told.anchorClicked.emit(term.see[0])
    assert words.term is not None
    assert words.term.id == term.see[0]


def test_f1_shows_the_word_for_what_is_held(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.canvas.setFocus()
    window.desk.hold(Held("opening", "W1"))
    qtbot.keyClick(window.canvas, KEY.Key_F1)
    words = window.findChild(Words)
    assert words is not None
    assert words.isVisible()
    assert words.term is not None
    assert words.term.id == "opening" or "opening" in words.term.text.lower()


def test_f1_shows_the_word_for_what_the_pointer_is_on(
    qtbot: QtBot, demo_window: Window, settle: Settle
):
    window = demo_window
    window.desk.show_lens("set_out")
    settle(window)
    picker = window.canvas.drawn.picker
    joint = next(p for p in picker.order() if p.layer == "joint_butt")
    (ax, ay), (bx, by) = joint.outline[0], joint.outline[-1]
    at = window.canvas.port.to_screen((ax * 0.7 + bx * 0.3, ay * 0.7 + by * 0.3)).toPoint()
    qtbot.mouseMove(window.canvas, QPoint(1, 1))
    qtbot.mouseMove(window.canvas, at)
    assert window.canvas.aimed is not None
    assert window.canvas.aimed.layer == "joint_butt"
    window.canvas.setFocus()
    qtbot.keyClick(window.canvas, KEY.Key_F1)
    words = window.findChild(Words)
    assert words is not None
    assert words.term is not None
    assert words.term.id == term_of(window, joint)


def test_every_term_a_drawing_names_is_in_the_glossary(demo_window: Window, settle: Settle):
    window = demo_window
    known = {t.id for t in load_glossary()}
    for lens in ("measure", "frame", "fix"):
        window.desk.show_lens(lens)
        settle(window)
        terms = {term_of(window, p) for p in window.canvas.drawn.picker.order(dots=True)}
        assert terms - {""}
        assert terms - {""} <= known


# --- keys, cautions, about --------------------------------------------------------------


def test_all_acts_are_listed_with_their_keys(desk_window: Window):
    keys = opened(desk_window, "keys")
    assert isinstance(keys, Keys)
    rows = {}
    for n in range(keys.tree.topLevelItemCount()):
        menu = keys.tree.topLevelItem(n)
        for m in range(menu.childCount()):
            rows[menu.child(m).text(0)] = menu.child(m).text(1)
    acts = [a for a in desk_window.bar.acts if not a.id.startswith("job.recent.")]
    for act in acts:
        assert act.words in rows
    assert rows["Words of the trade"] == "F1"
    keys.search.setText("shift+f8")
    shown = [
        menu.child(m).text(0)
        for menu in (keys.tree.topLevelItem(n) for n in range(keys.tree.topLevelItemCount()))
        for m in range(menu.childCount())
        if not menu.child(m).isHidden()
    ]
    assert shown == ["Finding before"]


def test_all_cautions_are_told_with_their_sources(desk_window: Window):
    told = opened(desk_window, "cautions")
    assert isinstance(told, Told)
    text = " ".join(told.text.toPlainText().split())
    for caution in load_cautions():
        assert caution.title in text
        assert " ".join(caution.text.split()) in text
        assert str(caution.citation) in text


def test_about_says_what_it_is_and_does_not_do(desk_window: Window):
    told = opened(desk_window, "about")
    assert isinstance(told, Told)
    text = told.text.toPlainText()
    assert __version__ in text
    assert "MIT" in text
    for sentence in DOES_NOT:
        assert sentence in text


def test_help_opened_twice_is_one_window(desk_window: Window):
    assert opened(desk_window, "words") is opened(desk_window, "words")


# --- the whole window -------------------------------------------------------------------


def focusable(window: QWidget) -> list[QWidget]:
    """Return everything that can take the focus, but for the parts of other controls."""
    found = []
    for widget in window.findChildren(QWidget):
        if widget.focusPolicy() == Qt.FocusPolicy.NoFocus or widget.isWindow():
            continue
        parent = widget.parentWidget()
        if widget.objectName().startswith("qt_") or isinstance(parent, QComboBox):
            continue
        if isinstance(parent, QLineEdit) or widget.focusProxy() is not None:
            continue
        found.append(widget)
    return found


def called(widget: QWidget) -> str:
    """Return what a screen reader calls a control."""
    if widget.accessibleName():
        return widget.accessibleName()
    if isinstance(widget, QAbstractButton):
        return widget.text()
    window = widget.window()
    return next((b.text() for b in window.findChildren(QLabel) if b.buddy() is widget), "")


@pytest.mark.parametrize("held", [None, Held("wall", "a"), Held("opening", "W1")])
def test_everything_that_takes_the_focus_has_a_name(demo_window: Window, held: Held | None):
    demo_window.desk.hold(held)
    controls = [w for w in focusable(demo_window) if w.isVisibleTo(demo_window)]
    assert len(controls) > 15
    nameless = [
        f"{type(w).__name__} in {type(w.parentWidget()).__name__}"
        for w in controls
        if not called(w)
    ]
    assert nameless == []


def test_every_act_has_words_and_a_tip(desk_window: Window):
    for act in desk_window.bar.acts:
        assert act.words
        if not act.id.startswith("job.recent."):
            assert act.tip, act.id


def test_no_two_acts_share_a_key(desk_window: Window):
    seen: dict[str, str] = {}
    for act in desk_window.bar.acts:
        for key in filter(None, (k.strip() for k in act.keys.split(";"))):
            assert key not in seen, f"{key}: {seen[key]} and {act.id}"
            seen[key] = act.id


def test_the_panels_are_reached_and_left_by_keys(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.canvas.setFocus()
    qtbot.keyClick(window.canvas, KEY.Key_F2)
    focus = QApplication.focusWidget()
    assert in_hand_of(window).isAncestorOf(focus)
    qtbot.keyClick(focus, KEY.Key_F3)
    assert findings_of(window).list.hasFocus()
    qtbot.keyClick(findings_of(window).list, KEY.Key_F4)
    assert order_of(window).tree.hasFocus()
    qtbot.keyClick(order_of(window).tree, KEY.Key_F6)
    assert window.canvas.hasFocus()


def test_tab_from_the_first_panel_comes_to_the_last(qtbot: QtBot, demo_window: Window):
    window = demo_window
    window.desk.hold(Held("opening", "W1"))
    in_hand_of(window).begin()
    met: set[str] = set()
    for _ in range(90):
        focus = QApplication.focusWidget()
        assert focus is not None
        met.add(focus.accessibleName())
        if focus is order_of(window).tree:
            break
        qtbot.keyClick(focus, KEY.Key_Tab)
    assert {"Which findings", "Findings, the gravest first", "Order and quantities"} <= met
