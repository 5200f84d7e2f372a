"""The project files opened last."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSettings

RECENT = 9
"""How many are remembered."""
_KEY = "recent"


def recent_files(settings: QSettings) -> tuple[Path, ...]:
    """Return the files opened last, the newest first.

    Args:
        settings: Where they are remembered.
    """
    value = settings.value(_KEY)
    # A list of one comes back as its one text.
    names = value if isinstance(value, list) else [value] if isinstance(value, str) else []
    return tuple(Path(str(name)) for name in names if name)[:RECENT]


def add_recent(settings: QSettings, path: Path) -> None:
    """Put a file at the head of the list."""
    path = path.absolute()
    _put(settings, [path, *(p for p in recent_files(settings) if p != path)])


def drop_recent(settings: QSettings, path: Path) -> None:
    """Take a file off the list."""
    path = path.absolute()
    _put(settings, [p for p in recent_files(settings) if p != path])


def _put(settings: QSettings, files: list[Path]) -> None:
    settings.setValue(_KEY, [str(p) for p in files[:RECENT]])
