"""Another language: a translation is found by its locale, and nothing on the desk passes it by."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import PySide6
import pytest
from PySide6.QtCore import QLocale, QTranslator
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.document import Document
from roomboard.app.window import Window
from roomboard.app.words import CONTEXT, speak, tr
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_path

MARK = "«"

GERMAN = """<?xml version="1.0" encoding="utf-8"?>
<TS version="2.1" language="de"><context><name>roomboard</name><message>
<source>Lock piece {mark}</source><translation>Stück {mark} festhalten</translation>
</message></context></TS>
"""


class Marked(QTranslator):
    """Puts every text of the desk between marks."""

    def translate(
        self, context: str, source: str, _disambiguation: str | None = None, _n: int = -1
    ) -> str:
        return f"«{source}»" if context == CONTEXT else ""

    def isEmpty(self) -> bool:  # noqa: N802 - Qt's own name
        return False


@pytest.fixture
def marked(qapp: QApplication) -> Iterator[None]:
    translator = Marked()
    qapp.installTranslator(translator)
    yield
    qapp.removeTranslator(translator)


def said_by(widget: QWidget) -> list[str]:
    """What a control says of itself; names of rooms, boards and the like are no words of ours."""
    texts = [widget.toolTip(), widget.accessibleName(), widget.accessibleDescription()]
    if isinstance(widget, QAbstractButton):
        texts.append(widget.text())
    if isinstance(widget, QDialog):
        texts.append(widget.windowTitle())
    return [t for t in texts if len([c for c in t if c.isalpha()]) > 1]


def unmarked(root: QWidget) -> list[tuple[str, str]]:
    """What is said past the translation by something and all that stands in it."""
    everything = [root, *root.findChildren(QWidget)]
    return [(type(w).__name__, text) for w in everything for text in said_by(w) if MARK not in text]


@pytest.mark.usefixtures("marked")
def test_all_that_controls_say_goes_through_the_translation(
    open_window: Callable[..., Window], settle: Callable[[Window], None], qtbot: QtBot
) -> None:
    (path,) = resource_path("demo").glob("*.roomboard.json")
    window = open_window(Document(load(path).project))
    settle(window)
    assert unmarked(window) == []
    acts = window.bar.actions.values()
    assert [a.text() for a in acts if a.text() and MARK not in a.text()] == []
    room = window.desk.room
    assert room is not None
    ceiling = f"{room.id}/ceiling"
    for held in (
        Held("wall", room.walls[0].id),
        Held("opening", room.openings[0].id),
        Held("surface", ceiling, ceiling),
        Held("zone", room.joists[0].id, ceiling),
        Held("corner", "0"),
    ):
        window.desk.hold(held)
        settle(window)
        assert unmarked(window) == [], held
    window.desk.hold(None)
    for act in ("sheets.which_way", "sheets.variants", "room.carry_in", "job.this", "help.keys"):
        window.bar.actions[act].trigger()
        (dialog,) = (d for d in window.findChildren(QDialog) if d.isVisible())
        if act == "sheets.which_way":
            qtbot.waitUntil(lambda panel=dialog: panel.settled, timeout=20_000)
        assert unmarked(dialog) == [], act
        dialog.close()


def test_a_translation_is_found_by_its_locale(qapp: QApplication, tmp_path: Path) -> None:
    (tmp_path / "roomboard_de.ts").write_text(GERMAN, encoding="utf-8")
    maker = Path(PySide6.__file__).parent / (
        "lrelease.exe" if sys.platform == "win32" else "lrelease"
    )
    subprocess.run(
        [maker, tmp_path / "roomboard_de.ts", "-qm", tmp_path / "roomboard_de.qm"],
        check=True,
        capture_output=True,
    )
    before = set(qapp.findChildren(QTranslator))
    assert speak(qapp, QLocale("de_CH"), tmp_path)
    (made,) = set(qapp.findChildren(QTranslator)) - before
    try:
        assert tr("Lock piece {mark}", mark="C1-1") == "Stück C1-1 festhalten"
        assert tr("Not in it") == "Not in it"
    finally:
        qapp.removeTranslator(made)
    assert tr("Lock piece {mark}", mark="C1-1") == "Lock piece C1-1"


def test_without_a_translation_it_speaks_english(qapp: QApplication, tmp_path: Path) -> None:
    assert not speak(qapp, QLocale("fr_FR"), tmp_path)
    assert tr("Lock piece {mark}", mark="C1-1") == "Lock piece C1-1"
