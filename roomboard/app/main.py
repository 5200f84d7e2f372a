"""Open the desk: ``python -m roomboard.app.main [FILE]``."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QFont, QFontDatabase
from PySide6.QtWidgets import QApplication

from roomboard.app.canvas.prepared import FAMILY
from roomboard.storage.resources import resource_path


def prepare(app: QApplication) -> None:
    """Give the application its name, its font and its style.

    Args:
        app: The application.
    """
    QCoreApplication.setOrganizationName("roomboard")
    QCoreApplication.setApplicationName("roomboard")
    app.setStyle("Fusion")
    for name in ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"):
        QFontDatabase.addApplicationFont(str(resource_path("fonts", name)))
    font = QFont(FAMILY)
    font.setPixelSize(12)
    app.setFont(font)


def main(argv: Sequence[str] | None = None) -> int:
    """Open the desk and stay until its last window is closed.

    Args:
        argv: A project file, or nothing; None for the words of the shell.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(["roomboard"])
    prepare(app)
    from roomboard.app.filing import open_first

    windows = open_first([Path(w) for w in words])
    code = app.exec()
    del windows
    return code


if __name__ == "__main__":
    sys.exit(main())
