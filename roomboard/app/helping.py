"""Acts of the help: words of the trade, keys, cautions, and what the program is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialog

from roomboard.app.acts import Act
from roomboard.app.dialogs.keys import Keys
from roomboard.app.dialogs.told import Told, about_html, cautions_html
from roomboard.app.dialogs.words import Words
from roomboard.app.figures import thing_of
from roomboard.app.figures.naming import picked_of
from roomboard.app.words import tr
from roomboard.drawing.picking import Picked
from roomboard.drawing.plain_words import named
from roomboard.storage.catalogue import load_cautions

if TYPE_CHECKING:
    from roomboard.app.window import Window

HELP = "Help"


def acts(window: Window) -> list[Act]:
    """Return the acts of the help menu; each opens beside the desk and stops nothing."""
    return [
        Act(
            id="help.words",
            menu=HELP,
            words="Words of the trade",
            run=lambda: show_words(window, aimed_or_held(window)),
            keys="F1",
            tip="Every word explained; what is aimed at or held is looked up at once.",
        ),
        Act(
            id="help.keys",
            menu=HELP,
            words="Keys",
            run=lambda: _open(window, "keys", lambda: Keys(window.bar.acts, window)),
            keys="Shift+F1",
            tip="Every act and its keys.",
        ),
        Act(
            id="help.cautions",
            menu=HELP,
            words="Cautions",
            run=lambda: _open(
                window,
                "cautions",
                lambda: Told(tr("Cautions"), cautions_html(load_cautions()), window),
            ),
            tip="What can hurt people or the building; it stands on every print.",
            parted=True,
        ),
        Act(
            id="help.about",
            menu=HELP,
            words="About roomboard",
            run=lambda: _open(
                window, "about", lambda: Told(tr("About roomboard"), about_html(), window)
            ),
            tip="Version, licence, and what it does not do.",
        ),
    ]


def aimed_or_held(window: Window) -> Picked | None:
    """Return what the pointer or the focus of the drawing is on; else what is held."""
    found = window.canvas.aimed
    held = window.desk.held
    if found is None and held is not None:
        found = picked_of(held, thing_of(window.desk, held))
    return found


def term_of(window: Window, picked: Picked) -> str:
    """Return the id of the glossary's word for something on the drawing, or empty."""
    scheme = window.document.scheme
    return named(
        picked,
        window.desk.room_scheme,
        window.document.shown,
        scheme.cut_plan if scheme else None,
    ).term


def show_words(window: Window, picked: Picked | None) -> Words:
    """Open the words of the trade at the word for something on the drawing.

    Args:
        window: The window.
        picked: What is aimed at or held, or None.
    """
    dialog = _open(window, "words", lambda: Words(window))
    assert isinstance(dialog, Words)  # noqa: S101 - it was made above
    term = term_of(window, picked) if picked is not None else ""
    if not term or not dialog.show_term(term):
        dialog.search.setFocus()
        dialog.search.selectAll()
    return dialog


def _open(window: Window, name: str, make: Callable[[], QDialog]) -> QDialog:
    """Show a dialog of the help; each is made once for a window."""
    found = window.findChild(QDialog, f"help.{name}")
    dialog = found if isinstance(found, QDialog) else make()
    dialog.setObjectName(f"help.{name}")
    dialog.show()
    dialog.raise_()
    dialog.activateWindow()
    return dialog
