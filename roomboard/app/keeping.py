"""Work kept beside the project file: after a crash nothing but the last moment is lost.

Every edit is written, a moment later and off the window's thread, to a file of unsaved work in
the program's own folder. It goes away when the project is saved or closed; one whose desk is no
longer running is offered at the next start. A file that is open at one desk is marked as such,
and one that someone else wrote meanwhile is noticed before it is written over.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject, QTimer, Signal

from roomboard.app.document import Document
from roomboard.app.unsaved import (
    Left,
    data_folder,
    fresh_place,
    mark_of,
    mark_of_file,
    own_lock,
)
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.project import Project
from roomboard.storage.project_file import write
from roomboard.storage.whole_file import NotSavedError, write_whole

QUIET = 400
"""How long nothing is edited before the work is kept, ms."""
BEHIND = 1500
"""How long the work is kept behind the edits at most, while they go on, ms."""
OPEN_FILES = "open-files"
"""The folder of marks on project files in the program's own."""


class Hold:
    """The mark that a project file is open at a desk; it stands in the program's own folder.

    Attributes:
        path: The project file.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        folder = data_folder() / OPEN_FILES
        folder.mkdir(parents=True, exist_ok=True)
        self._lock = own_lock(folder / f"{mark_of(_real(path).encode())[:32]}.lock")

    def take(self) -> bool:
        """Mark the file as open here; False where it is open at another desk."""
        if self._lock.tryLock(0):
            return True
        # A folder that cannot be written to is no reason to bar a file.
        return self._lock.error() is not QLockFile.LockError.LockFailedError

    def let_go(self) -> None:
        """Take the mark away."""
        self._lock.unlock()


def _real(path: Path) -> str:
    """Return what is the same for every way to write the path of a file."""
    return os.path.normcase(os.path.realpath(path))


class Keeper(QObject):
    """Keeps the work of one window, and the mark on its file.

    Attributes:
        place: The file of unsaved work.

    Signals:
        trouble: A sentence that says why the work could not be kept.
    """

    trouble = Signal(str)

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self.setObjectName("keeper")
        self._document = document
        self._seen = ""
        self._hold: Hold | None = None
        self._lock: QLockFile | None = None
        self._workings: Workings | None = None
        self._troubled = False
        self._ended = False
        self.place = fresh_place()
        self._quiet = _timer(self, QUIET, self.keep)
        self._behind = _timer(self, BEHIND, self.keep)
        document.project_changed.connect(self._edited)
        document.undo_stack.cleanChanged.connect(self._edited)

    # --- the file -----------------------------------------------------------------------

    def take_file(self, path: Path) -> bool:
        """Mark a project file as open here; False where it is open at another desk.

        Args:
            path: The file.
        """
        if self._hold is not None and _real(self._hold.path) == _real(path):
            return True
        try:
            hold = Hold(path)
        except OSError:
            return True
        if not hold.take():
            return False
        self.let_file_go()
        self._hold = hold
        return True

    def let_file_go(self) -> None:
        """Take the mark off the file that was open here."""
        if self._hold is not None:
            self._hold.let_go()
            self._hold = None

    def saw(self, mark: str) -> None:
        """Note what tells the content of the file, as it was opened or saved.

        Args:
            mark: From :func:`mark_of_file`; empty where there is no file.
        """
        self._seen = mark

    def changed_elsewhere(self) -> bool:
        """Tell whether someone else has written the project's file since it was seen last."""
        path = self._document.path
        if path is None:
            return False
        now = mark_of_file(path)
        return bool(now) and now != self._seen

    # --- the work -----------------------------------------------------------------------

    @property
    def settled(self) -> bool:
        """Whether everything edited so far is kept."""
        waiting = self._quiet.isActive() or self._behind.isActive()
        return not waiting and (self._workings is None or not self._workings.busy)

    def take_up(self, left: Left) -> None:
        """Go on keeping work that was left over in the file it lies in.

        Args:
            left: The work; the document holds it already, or is about to.
        """
        self._forget()
        self.place, self._lock, left.lock = left.place, left.lock, None
        self.saw(left.seen)

    def keep(self) -> None:
        """Keep the work as it is now, or clear it away where the file says the same."""
        self._quiet.stop()
        self._behind.stop()
        if self._ended:
            return
        place = self.place
        if self._document.undo_stack.isClean():
            if self._lock is not None or self._workings is not None:
                self._worker().ask(lambda: _clear(place))
            return
        project, file, seen = self._document.project, self._document.path, self._seen
        self._worker().ask(lambda: self._put(place, project, file, seen))

    def end(self) -> None:
        """End keeping: the work was saved, or is not wanted."""
        self._ended = True
        self._quiet.stop()
        self._behind.stop()
        self._forget()
        self.let_file_go()

    def _edited(self) -> None:
        if self._ended:
            return
        self._quiet.start()
        if not self._behind.isActive():
            self._behind.start()

    def _worker(self) -> Workings:
        if self._workings is None:
            self._workings = Workings("keeping", self)
            self._workings.done.connect(self._kept)
            self._workings.failed.connect(self._not_kept)
        return self._workings

    def _put(self, place: Path, project: Project, file: Path | None, seen: str) -> str:
        """Write the work; runs in the thread."""
        about = {
            "file": str(file) if file else "",
            "seen": seen,
            "project": json.loads(write(project)),
        }
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                lock = own_lock(place.with_suffix(".lock"))
                lock.tryLock(0)
                self._lock = lock
            write_whole(place, json.dumps(about, ensure_ascii=False).encode())
        except (OSError, NotSavedError) as error:
            return str(error)
        return ""

    def _kept(self, _number: int, trouble: str) -> None:
        if trouble and not self._troubled:
            self._not_kept(0, trouble)
        self._troubled = bool(trouble)

    def _not_kept(self, _number: int, fault: str) -> None:
        self.trouble.emit(
            tr("Your work is not kept against a crash: {fault} Save it often.", fault=fault)
        )

    def _forget(self) -> None:
        """Clear the file of unsaved work away and end the thread."""
        if self._workings is not None:
            self._workings.close()
            self._workings = None
        if self._lock is not None:
            _clear(self.place)
            self._lock.unlock()
            self._lock = None
        self.place = fresh_place()


def _clear(place: Path) -> str:
    try:
        place.unlink(missing_ok=True)
    except OSError as error:
        return str(error)
    return ""


def _timer(parent: QObject, wait: int, run: Callable[[], None]) -> QTimer:
    timer = QTimer(parent)
    timer.setSingleShot(True)
    timer.setInterval(wait)
    timer.timeout.connect(run)
    return timer
