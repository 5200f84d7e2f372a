"""A desk to act on: the real window, offscreen, with settings and folders of its own."""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSettings, QStandardPaths
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from roomboard.app.document import Document
from roomboard.app.main import prepare
from roomboard.app.window import Window
from roomboard.app.windows import windows
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_path

PATIENCE = 20_000


@pytest.fixture(autouse=True)
def _own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the desk away from the settings and folders of whoever runs the tests."""
    # The test mode would share one folder among all tests and pay no heed to these.
    QStandardPaths.setTestModeEnabled(False)
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(
        QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path / "settings")
    )


@pytest.fixture(scope="session")
def qapp_cls() -> type[QApplication]:
    return QApplication


@pytest.fixture(autouse=True)
def _prepared(qapp: QApplication) -> None:
    prepare(qapp)


@pytest.fixture
def settle(qtbot: QtBot) -> Callable[[Window], None]:
    """Wait until everything asked for is worked out and drawn."""

    def wait(window: Window) -> None:
        qtbot.waitUntil(lambda: window.document.settled and window.canvas.settled, timeout=PATIENCE)
        qtbot.wait(1)

    return wait


@pytest.fixture
def settings(tmp_path: Path) -> QSettings:
    """Settings of one's own, where the desk remembers how it stood."""
    return QSettings(str(tmp_path / "desk.ini"), QSettings.Format.IniFormat)


@pytest.fixture(autouse=True)
def _close_all(qapp: QApplication) -> Iterator[None]:
    """Close whatever the program itself opened, and see that nothing is left of it."""
    yield
    for window in windows():
        window.document.undo_stack.setClean()
        window.close()
    qapp.sendPostedEvents(None, 0)
    qapp.processEvents()
    assert windows() == ()


@pytest.fixture
def open_window(qtbot: QtBot, settings: QSettings) -> Iterator[Callable[..., Window]]:
    """Open windows over documents; all are closed at the end."""
    opened: list[Window] = []

    def make(document: Document | None = None) -> Window:
        window = Window(document, settings)
        window.show()
        qtbot.waitExposed(window)
        opened.append(window)
        return window

    yield make
    for window in opened:
        window.document.undo_stack.setClean()
        window.close()
        window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    QApplication.processEvents()
    assert not sys.exc_info()[0]


@pytest.fixture
def desk_window(open_window: Callable[..., Window], settle: Callable[[Window], None]) -> Window:
    """An empty document on the desk."""
    window = open_window()
    settle(window)
    return window


@pytest.fixture
def demo_window(open_window: Callable[..., Window], settle: Callable[[Window], None]) -> Window:
    """The demo project on the desk."""
    (path,) = resource_path("demo").glob("*.roomboard.json")
    project = load(path).project
    assert project is not None
    document = Document(project)
    window = open_window(document)
    settle(window)
    return window
