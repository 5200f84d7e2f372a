"""What the desk says, passed through Qt's translation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QLocale, QTranslator

from roomboard.storage.resources import resource_folder

if TYPE_CHECKING:
    from pathlib import Path

CONTEXT = "roomboard"
"""The context that all texts of the desk have in a translation."""


def tr(text: str, /, **values: object) -> str:
    """Return a text in the user's language.

    Args:
        text: The text in English; ``{name}`` stands for the value of that name.
        values: The values.
    """
    said = QCoreApplication.translate(CONTEXT, text)
    return said.format(**values) if values else said


def speak(app: QCoreApplication, locale: QLocale, folder: Path | None = None) -> bool:
    """Let the desk speak a language, where there is a translation into it.

    Args:
        app: The application.
        locale: The user's language.
        folder: Where translations lie, as ``roomboard_de.qm`` and the like; None for
            ``resources/languages``.

    Returns:
        Whether there was one; without one it goes on in English.
    """
    place = folder or resource_folder() / "languages"
    translator = QTranslator()
    if not translator.load(locale, CONTEXT, "_", str(place)):
        return False
    translator.setParent(app)  # it lives as long as the application
    return app.installTranslator(translator)
