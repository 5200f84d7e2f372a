"""Things made off the window's thread that may take a while: pages, files."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from roomboard.app.asking import Progress, asking_of
from roomboard.app.words import tr
from roomboard.app.workings import SLOW, GivenUpError, Workings

if TYPE_CHECKING:
    from roomboard.app.window import Window

Step = Callable[[str, int, int], None]
"""Tells what is done next, how many steps are done and how many there are."""


@dataclass(frozen=True)
class Made:
    """What came of a job.

    Attributes:
        value: What was made.
        given_up: Whether it was given up before.
        fault: Why it was not made, or empty.
    """

    value: object = None
    given_up: bool = False
    fault: str = ""


@dataclass(kw_only=True)
class _Task:
    words: str
    job: Callable[[Step], object]
    then: Callable[[Made], object]
    stopped: threading.Event = field(default_factory=threading.Event)


class Making(QObject):
    """Makes one thing after the other; what takes long is shown with a way to give it up.

    Signals:
        stepped: What is done next, how many steps are done and how many there are.
        idle: Nothing is left to be made.
    """

    stepped = Signal(str, int, int)
    idle = Signal()

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.setObjectName("making")
        self._window = window
        self._tasks: list[_Task] = []
        self._workings: Workings | None = None
        self._progress: Progress | None = None
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SLOW)
        self._slow.timeout.connect(self._show)
        self._last: tuple[str, int, int] | None = None
        self.stepped.connect(self._step)

    @property
    def busy(self) -> bool:
        """Whether there is anything to be made."""
        return bool(self._tasks)

    def make(
        self, words: str, job: Callable[[Step], object], then: Callable[[Made], object]
    ) -> Callable[[], None]:
        """Make something once what is being made is done.

        Args:
            words: What it is.
            job: Makes it, in a thread; calls its argument between steps, which ends the job
                where it is given up.
            then: Called with what came of it.

        Returns:
            Gives it up, wherever it stands in the row.
        """
        task = _Task(words=words, job=job, then=then)
        self._tasks.append(task)
        if len(self._tasks) == 1:
            self._begin()
        return task.stopped.set

    def give_up(self) -> None:
        """Give up what is being made; it ends at its next step."""
        if self._tasks:
            self._tasks[0].stopped.set()
            if self._progress is not None:
                self._progress.label.setText(tr("Giving up …"))

    def end(self) -> None:
        """Give everything up and end the thread."""
        for task in self._tasks:
            task.stopped.set()
        self._tasks.clear()
        self._slow.stop()
        if self._workings is not None:
            self._workings.close()
            self._workings = None

    def _begin(self) -> None:
        task = self._tasks[0]
        if self._workings is None:
            self._workings = Workings("making", self)
            self._workings.done.connect(self._done)
            self._workings.failed.connect(self._failed)
        self._last = None
        self._slow.start()
        self._workings.ask(lambda: self._run(task))

    def _run(self, task: _Task) -> Made:
        """Do a job; runs in the thread."""

        def step(words: str, done: int, count: int) -> None:
            if task.stopped.is_set():
                raise GivenUpError
            self.stepped.emit(words, done, count)

        if task.stopped.is_set():
            return Made(given_up=True)
        try:
            return Made(value=task.job(step))
        except GivenUpError:
            return Made(given_up=True)
        except (OSError, ValueError) as fault:
            return Made(fault=str(fault))

    def _done(self, _number: int, made: Made) -> None:
        if not self._tasks:
            return
        task = self._tasks.pop(0)
        self._slow.stop()
        if self._progress is not None:
            self._progress = None
            asking_of(self._window).end_progress()
        task.then(made)
        if self._tasks:
            self._begin()
        else:
            self.idle.emit()

    def _failed(self, number: int, fault: str) -> None:
        """Go on after a fault that nobody foresaw: those who wait are told, others come next."""
        words = tr(
            "This could not be made ({fault}); nothing is lost. Change something and try again.",
            fault=fault,
        )
        self._done(number, Made(fault=words))

    def _show(self) -> None:
        if self._tasks:
            words = self._tasks[0].words
            self._progress = asking_of(self._window).progress(words, self.give_up)
            if self._last is not None:
                self._progress.go_on(*self._last)

    def _step(self, words: str, done: int, count: int) -> None:
        self._last = (words, done, count)
        if self._progress is not None and self._tasks and not self._tasks[0].stopped.is_set():
            self._progress.go_on(words, done, count)


def making_of(window: Window) -> Making:
    """Return what makes things for a window."""
    found = window.findChild(Making, "making")
    return found if isinstance(found, Making) else Making(window)
