"""What happens when the program itself goes wrong: a sentence, a record, and work goes on."""

from __future__ import annotations

import logging
import sys
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QStandardPaths

from roomboard.app.words import tr

LARGEST_RECORD = 500_000
"""Bytes of the record of mishaps before it is begun anew."""


def record_path() -> Path:
    """Return the file mishaps are recorded in."""
    place = QStandardPaths.StandardLocation.AppDataLocation
    return Path(QStandardPaths.writableLocation(place)) / "mishaps.log"


def watch(say: Callable[[str], None]) -> None:
    """Turn faults of the program that nothing else caught into a sentence and a record.

    Args:
        say: Says the sentence in every window.
    """
    path = record_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(path, maxBytes=LARGEST_RECORD, backupCount=1)
        handler.setFormatter(logging.Formatter("%(asctime)s %(name)s %(message)s"))
        logging.getLogger("roomboard").addHandler(handler)
    except OSError:
        path = Path()

    def caught(
        kind: type[BaseException], fault: BaseException, trace: TracebackType | None
    ) -> None:
        if issubclass(kind, KeyboardInterrupt):
            sys.exit(1)
        logging.getLogger("roomboard").error("mishap", exc_info=(kind, fault, trace))
        say(
            tr(
                "Something in the program went wrong ({fault}); your work is still here: save it. "
                "What happened is recorded in {path}.",
                fault=f"{kind.__name__}: {fault}",
                path=path,
            )
        )

    sys.excepthook = caught
