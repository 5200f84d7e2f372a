"""Work that was not saved before its desk came to an end, and where it is kept.

Files of unsaved work lie in the program's own folder, each with a lock that stands as long as
the desk that writes it runs.
"""

from __future__ import annotations

import hashlib
import json
import time
import uuid
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QLockFile, QStandardPaths

from roomboard.app.words import tr
from roomboard.core.project import Project
from roomboard.storage.project_file import read, write
from roomboard.storage.read_values import Fault

UNSAVED = "unsaved"
"""The folder of unsaved work in the program's own."""
ENDING = ".work.json"
OLD = 3600.0
"""Half-written files older than this are litter of a crash, s."""


def data_folder() -> Path:
    """Return the program's own folder, which belongs to whoever uses it."""
    kind = QStandardPaths.StandardLocation.AppDataLocation
    return Path(QStandardPaths.writableLocation(kind))


def mark_of(content: bytes) -> str:
    """Return what tells one content of a file from another."""
    return hashlib.sha256(content).hexdigest()


def mark_of_file(path: Path) -> str:
    """Return what tells the content of a file from another; empty where there is no file."""
    try:
        return mark_of(path.read_bytes())
    except OSError:
        return ""


def own_lock(place: Path) -> QLockFile:
    """Return a lock that stands as long as its process runs, and no longer."""
    lock = QLockFile(str(place))
    lock.setStaleLockTime(0)
    return lock


@dataclass(kw_only=True)
class Left:
    """Work that was not saved before its desk came to an end.

    Attributes:
        place: The file of unsaved work.
        file: The project file it belongs to, or None.
        name: The project's name.
        at: When it was last kept, local time.
        seen: What told the project file's content when it was opened.
        project: The work; None where it cannot be read.
        faults: Why it cannot be read.
    """

    place: Path
    file: Path | None
    name: str
    at: str
    seen: str
    project: Project | None
    faults: tuple[Fault, ...] = ()
    lock: QLockFile | None = field(default=None, repr=False)

    def leave(self) -> None:
        """Leave it for another time."""
        if self.lock is not None:
            self.lock.unlock()
            self.lock = None

    def throw_away(self) -> None:
        """Throw it away for good."""
        self.place.unlink(missing_ok=True)
        self.leave()


def left_over() -> tuple[Left, ...]:
    """Return the unsaved work whose desk is no longer running, the newest first.

    Each is held until it is taken up, left or thrown away, so that no other desk offers it
    meanwhile. Work that says the same as its project file was saved after all and goes away.
    """
    folder = data_folder() / UNSAVED
    if not folder.is_dir():
        return ()
    _sweep(folder)
    found: list[Left] = []
    for place in sorted(folder.glob(f"*{ENDING}")):
        lock = own_lock(place.with_suffix(".lock"))
        if not lock.tryLock(0):
            continue
        left = _read_left(place)
        left.lock = lock
        if left.project is not None and left.file is not None and _says_the_same(left):
            left.throw_away()
            continue
        found.append(left)
    return tuple(sorted(found, key=lambda left: left.at, reverse=True))


def _says_the_same(left: Left) -> bool:
    if left.project is None or left.file is None:
        return False
    return mark_of_file(left.file) == mark_of(write(left.project).encode())


def _read_left(place: Path) -> Left:
    """Read a file of unsaved work; where that fails it is told with the reason, not dropped."""
    at = datetime.fromtimestamp(place.stat().st_mtime, UTC).astimezone()
    words = at.strftime("%Y-%m-%d %H:%M")
    try:
        raw = json.loads(place.read_text(encoding="utf-8"))
        file, seen, inner = str(raw["file"]), str(raw["seen"]), json.dumps(raw["project"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        fault = Fault("", tr("it cannot be read ({reason})", reason=str(error)))
        return Left(
            place=place, file=None, name="", at=words, seen="", project=None, faults=(fault,)
        )
    loaded = read(inner)
    name = loaded.project.name if loaded.project is not None else ""
    return Left(
        place=place,
        file=Path(file) if file else None,
        name=name,
        at=words,
        seen=seen,
        project=loaded.project,
        faults=loaded.faults,
    )


def _sweep(folder: Path) -> None:
    """Clear away what was half written when a desk came to an end."""
    for litter in folder.glob(f".*{ENDING}-*"):
        try:
            if time.time() - litter.stat().st_mtime > OLD:
                litter.unlink()
        except OSError:
            continue


def fresh_place() -> Path:
    """Return a name for a new file of unsaved work."""
    return data_folder() / UNSAVED / f"{uuid.uuid4().hex}{ENDING}"
