"""Acts that take edits back and make them again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shiboken6
from PySide6.QtGui import QAction

from roomboard.app.acts import Act
from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts that take edits back and make them again, without end."""
    stack = window.document.undo_stack
    return [
        Act(
            id="undo",
            menu="Edit",
            words="Undo",
            run=stack.undo,
            keys="Ctrl+Z",
            tip="Take the last edit back.",
            enabled=stack.canUndo,
        ),
        Act(
            id="redo",
            menu="Edit",
            words="Redo",
            run=stack.redo,
            keys="Ctrl+Shift+Z; Ctrl+Y",
            tip="Make the edit again that was taken back.",
            enabled=stack.canRedo,
        ),
    ]


def name_edits(window: Window) -> None:
    """Let both acts say which edit they would take back or make again, and stand ready."""
    stack, actions = window.document.undo_stack, window.bar.actions

    def follow() -> None:
        if not shiboken6.isValid(stack):  # the window goes, and its edits with it
            return
        _name(actions["undo"], tr("Undo"), stack.undoText(), can=stack.canUndo())
        _name(actions["redo"], tr("Redo"), stack.redoText(), can=stack.canRedo())

    stack.indexChanged.connect(lambda _index: follow())
    stack.cleanChanged.connect(lambda _clean: follow())
    follow()


def _name(action: QAction, word: str, edit: str, *, can: bool) -> None:
    action.setText(tr("{word}: {edit}", word=word, edit=edit) if edit else word)
    action.setEnabled(can)
