"""A thread that works out the newest thing asked of it and forgets what came between."""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from math import inf

from PySide6.QtCore import QObject, Signal

from roomboard.core.heeding import heeding

_log = logging.getLogger(__name__)

Job = Callable[[], object]
SLOW = 500
"""Work that takes longer is shown with a way to give it up, ms."""


class GivenUpError(Exception):
    """Ends a job that nobody waits for any more."""


class Workings(QObject):
    """Does one job at a time off the window's thread; of those waiting only the newest.

    A job that is given up ends wherever the work asks whether it is still wanted.

    Args:
        name: Of the thread.
        parent: As Qt has it.
        patience: After so many seconds a running job gives way to a newer one.

    Signals:
        done: The number of a job and its result.
        failed: The number of a job and the fault that ended it.
        busy_changed: Whether there is anything left to do.
        stepped: What a running job does next.
    """

    stepped = Signal(str)
    done = Signal(int, object)
    failed = Signal(int, str)
    busy_changed = Signal(bool)
    _ended = Signal()

    def __init__(self, name: str, parent: QObject | None = None, *, patience: float = inf) -> None:
        super().__init__(parent)
        self._patience = patience
        self._began = 0.0
        self._wake = threading.Condition()
        self._waiting: tuple[int, Job] | None = None
        self._running = 0
        self._closed = False
        self._last = 0
        self._given_up = 0
        self._ended.connect(self._rest)
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)
        self._thread.start()

    def ask(self, job: Job) -> int:
        """Ask for a job; a job still waiting is dropped for it.

        Args:
            job: Called in the thread; must only read values that nobody changes.

        Returns:
            The job's number, greater than any before.
        """
        with self._wake:
            self._last += 1
            was_busy = self._running or self._waiting is not None
            self._waiting = (self._last, job)
            self._wake.notify()
        if not was_busy:
            self.busy_changed.emit(True)
        return self._last

    @property
    def busy(self) -> bool:
        """Whether there is anything left to do."""
        with self._wake:
            return bool(self._running) or self._waiting is not None

    def drop(self) -> None:
        """Forget what is waiting; what is running ends as soon as it asks."""
        with self._wake:
            self._waiting = None
            self._given_up = self._last

    def step(self, words: str) -> None:
        """Tell what is done next; called by the job between its steps.

        Args:
            words: What is done next.

        Raises:
            GivenUpError: If the job was given up.
        """
        self._heed()
        self._tell(self.stepped, words)

    def _heed(self) -> None:
        """End the running job if nobody waits for it any more."""
        with self._wake:
            given_up = self._closed or self._running <= self._given_up
            overtaken = self._waiting is not None
            began = self._began
        if given_up or (overtaken and time.monotonic() - began > self._patience):
            raise GivenUpError

    def close(self) -> None:
        """End the thread; a running job is given up."""
        with self._wake:
            self._closed = True
            self._waiting = None
            self._given_up = self._last
            self._wake.notify()
        self._thread.join()

    def _run(self) -> None:
        while True:
            with self._wake:
                while self._waiting is None and not self._closed:
                    self._wake.wait()
                if self._closed or self._waiting is None:
                    return
                number, job = self._waiting
                self._waiting = None
                self._running = number
                self._began = time.monotonic()
            try:
                with heeding(self._heed):
                    result = job()
            except GivenUpError:
                self._finish()
            except Exception as fault:  # noqa: BLE001 - whatever it is, the window stays alive
                _log.exception("a job of the desk failed")
                self._finish()
                self._tell(self.failed, number, f"{type(fault).__name__}: {fault}")
            else:
                self._finish()
                self._tell(self.done, number, result)

    def _finish(self) -> None:
        with self._wake:
            self._running = 0
            idle = self._waiting is None
        if idle:
            self._tell(self._ended)

    def _rest(self) -> None:
        """Tell that there is nothing left to do, unless something was asked for since."""
        if not self.busy:
            self.busy_changed.emit(False)

    def _tell(self, signal: object, *values: object) -> None:
        with self._wake:
            if self._closed:
                return
        signal.emit(*values)  # type: ignore[attr-defined]
