"""Open the desk: ``python -m roomboard.app.main [FILE ...]``."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLocale
from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QApplication

from roomboard.app.lettering import TYPE, font_of
from roomboard.app.starting import kept
from roomboard.app.words import speak
from roomboard.storage.resources import resource_path

NO_SCREEN = 2
"""What the desk answers the shell where there is no screen."""


def prepare(app: QApplication) -> None:
    """Give the application its name, its language, its font and its style.

    Args:
        app: The application.
    """
    QCoreApplication.setOrganizationName("roomboard")
    QCoreApplication.setApplicationName("roomboard")
    speak(app, QLocale())
    app.setStyle("Fusion")
    for name in ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"):
        QFontDatabase.addApplicationFont(str(resource_path("fonts", name)))
    app.setFont(font_of(TYPE))


def main(argv: Sequence[str] | None = None) -> int:
    """Open the desk and stay until its last window is closed.

    Args:
        argv: Project files, ``--demo`` for the demo project, or nothing; None for the words of
            the shell.

    Returns:
        0 when the desk was closed, 2 where there is no screen to open it on.
    """
    parser = argparse.ArgumentParser(
        prog="roomboard-desk", description="Opens the desk.", allow_abbrev=False
    )
    parser.add_argument("files", metavar="FILE", type=Path, nargs="*", help="project files")
    parser.add_argument("--demo", action="store_true", help="open the demo project as a copy")
    asked = parser.parse_args(argv)
    if not has_screen():
        sys.stderr.write(
            "roomboard: there is no screen to open the desk on; the command line works without "
            "one (python -m roomboard --help).\n"
        )
        return NO_SCREEN
    with kept():
        app = open_desk(asked.files, demo=asked.demo)
    return app.exec()


def open_desk(files: Sequence[Path], *, demo: bool) -> QApplication:
    """Open the windows the desk begins with.

    Args:
        files: Project files, each for a window of its own; none for an empty window.
        demo: Whether the first window shows a copy of the demo project.

    Returns:
        The application, prepared, with its windows shown.
    """
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(["roomboard"])
    prepare(app)
    from roomboard.app.filing import open_first
    from roomboard.app.mishaps import watch
    from roomboard.app.opening import open_demo
    from roomboard.app.windows import windows

    def say(sentence: str) -> None:
        for window in windows():
            window.desk.say(sentence)

    watch(say)
    opened = open_first(files, at_start=not demo)
    if demo:
        open_demo(opened[0])
    return app


def has_screen() -> bool:
    """Tell whether there is a screen: Qt ends the program where there is none."""
    if not sys.platform.startswith("linux") or "QT_QPA_PLATFORM" in os.environ:
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY"))


if __name__ == "__main__":
    sys.exit(main())
