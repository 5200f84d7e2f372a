"""How to begin: a panel over the canvas that is there at the start and goes away by itself."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.acts import Act
from roomboard.app.examples import ROOM, in_units
from roomboard.app.lettering import font_of
from roomboard.app.panels.tick import Tick
from roomboard.app.reading import meaning
from roomboard.app.recent import recent_files
from roomboard.app.words import tr

if TYPE_CHECKING:
    from PySide6.QtCore import QSettings

    from roomboard.app.window import Window

_KEY = "start/show"
HEADING = 18
"""Height of the type of the heading, pixels."""
SHOWN = 5
"""How many of the files opened last are shown."""


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu Help that show how to begin."""
    return [
        Act(
            id="help.start",
            menu="Help",
            words="How to begin",
            run=lambda: show_start(window),
            tip="Show the demo, a line for a new room, and the files opened last.",
        ),
        Act(
            id="help.at_start",
            menu="Help",
            words="Show how to begin at the start",
            run=lambda: set_at_start(window.settings, show=not at_start(window.settings)),
            tip="Whether the panel that shows how to begin is there when the desk opens.",
            checked=lambda: at_start(window.settings),
        ),
    ]


def at_start(settings: QSettings) -> bool:
    """Tell whether the panel is shown at the start."""
    return str(settings.value(_KEY, "true")).lower() == "true"


def set_at_start(settings: QSettings, *, show: bool) -> None:
    """Remember whether the panel is shown at the start."""
    settings.setValue(_KEY, "true" if show else "false")


class Start(QFrame):
    """The panel: a room to type, the demo, a file, the files opened last.

    Attributes:
        line: Where a room is typed.
        echo: What was understood, or why not.
        again: Whether it is shown at the start.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window.canvas)
        self.setObjectName("start")
        self._window = window
        self.setAutoFillBackground(True)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAccessibleName(tr("How to begin"))
        self.setCursor(Qt.CursorShape.ArrowCursor)
        outer = QVBoxLayout(self)
        outer.addStretch(1)
        across = QHBoxLayout()
        across.addStretch(1)
        inner = QWidget(self)
        inner.setMaximumWidth(560)
        across.addWidget(inner, 4)
        across.addStretch(1)
        outer.addLayout(across)
        outer.addStretch(2)
        column = QVBoxLayout(inner)
        column.setSpacing(8)
        self._build_room(column)
        self._build_buttons(column)
        self._build_recent(column)
        self._build_foot(column)
        window.canvas.installEventFilter(self)
        window.document.project_changed.connect(self._begun)
        window.canvas.gesture_changed.connect(self._drawing)
        self.setGeometry(window.canvas.rect())

    # --- how it is built ----------------------------------------------------------------

    def _build_room(self, column: QVBoxLayout) -> None:
        heading = QLabel(tr("Begin with a room"), self)
        heading.setFont(font_of(HEADING, bold=True))
        column.addWidget(heading)
        self.line = QLineEdit(self)
        self.line.setObjectName("start.room")
        self.line.setAccessibleName(tr("New room: name, length, width and height"))
        self.line.setPlaceholderText(in_units(ROOM, self._window.document.project.units))
        self.line.setToolTip(tr("Lengths are typed as you like: 3.58 m, 3580, 11' 9\"."))
        self.line.textChanged.connect(self._read)
        self.line.returnPressed.connect(self._take)
        heading.setBuddy(self.line)
        column.addWidget(self.line)
        self.echo = QLabel(tr("Its name and size, then Enter; everything can be changed later."))
        self.echo.setTextFormat(Qt.TextFormat.PlainText)
        self.echo.setWordWrap(True)
        self.echo.setAccessibleName(tr("What was understood"))
        column.addWidget(self.echo)

    def _build_buttons(self, column: QVBoxLayout) -> None:
        row = QHBoxLayout()
        for name, words, tip, run in (
            (
                "demo",
                tr("Look at the &demo project"),
                tr("A small house, all worked out; it opens as a copy of your own."),
                self._demo,
            ),
            ("open", tr("O&pen a file…"), tr("Open a project file (Ctrl+O)."), self._open),
        ):
            button = QPushButton(words, self)
            button.setObjectName(f"start.{name}")
            button.setToolTip(tip)
            button.clicked.connect(run)
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)

    def _build_recent(self, column: QVBoxLayout) -> None:
        files = recent_files(self._window.settings)[:SHOWN]
        if not files:
            return
        column.addWidget(QLabel(tr("Opened last"), self))
        for number, path in enumerate(files):
            button = QPushButton(path.name, self)
            button.setObjectName(f"start.recent.{number}")
            button.setFlat(True)
            button.setStyleSheet("text-align: left")
            button.setToolTip(str(path))
            button.setAccessibleName(tr("Open {file}", file=path.name))
            button.clicked.connect(_opener(self, path))
            column.addWidget(button)

    def _build_foot(self, column: QVBoxLayout) -> None:
        row = QHBoxLayout()
        self.again = Tick(tr("Show this at the s&tart"), self)
        self.again.setToolTip(tr("It is always in the menu Help."))
        self.again.setChecked(at_start(self._window.settings))
        self.again.toggled.connect(lambda on: set_at_start(self._window.settings, show=on))
        row.addWidget(self.again)
        row.addStretch(1)
        skip = QPushButton(tr("S&kip"), self)
        skip.setObjectName("start.skip")
        skip.setToolTip(tr("Go to the empty desk (Esc)."))
        skip.clicked.connect(self.go_away)
        row.addWidget(skip)
        column.addLayout(row)

    # --- what it does -------------------------------------------------------------------

    def go_away(self) -> None:
        """Leave the canvas to the user."""
        if self.isHidden():
            return
        self._window.canvas.removeEventFilter(self)
        self._window.document.project_changed.disconnect(self._begun)
        self._window.canvas.gesture_changed.disconnect(self._drawing)
        self.hide()
        self.setObjectName("")
        self.deleteLater()
        self._window.canvas.setFocus()

    def _begun(self) -> None:
        """Go away as soon as there is something to show."""
        if self._window.document.project.rooms:
            self.go_away()

    def _drawing(self) -> None:
        """Go away as soon as something is drawn under it."""
        if self._window.canvas.gesture is not None:
            self.go_away()

    def _read(self, text: str) -> None:
        if not text.strip():
            self._say("", good=True)
            return
        found = meaning(self._window.desk, text)
        self._say(found.sentence or found.echo, good=not found.sentence)

    def _say(self, text: str, *, good: bool) -> None:
        self.echo.setText(text if good else f"✗ {text}")
        for widget in (self.line, self.echo):
            widget.setProperty("refused", not good)
            widget.style().unpolish(widget)
            widget.style().polish(widget)

    def _take(self) -> None:
        text = self.line.text()
        if not text.strip():
            return
        found = meaning(self._window.desk, text)
        if found.sentence or found.run is None:
            self._say(found.sentence or tr("This was not understood."), good=False)
            return
        found.run()

    def _demo(self) -> None:
        from roomboard.app.opening import open_demo

        open_demo(self._window)

    def _open(self) -> None:
        from roomboard.app.opening import ask_for_file

        ask_for_file(self._window)

    def open_recent(self, path: Path) -> None:
        """Open one of the files opened last."""
        from roomboard.app.opening import open_recent

        files = recent_files(self._window.settings)
        if path in files:
            open_recent(self._window, files.index(path))

    # --- Qt's own -----------------------------------------------------------------------

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay as large as the canvas."""
        if watched is self._window.canvas and event.type() == QEvent.Type.Resize:
            self.setGeometry(self._window.canvas.rect())
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc skips it; no other key reaches the canvas behind."""
        if event.key() == Qt.Key.Key_Escape:
            self.go_away()
        event.accept()


def _opener(start: Start, path: Path) -> object:
    return lambda: start.open_recent(path)


def start_of(window: Window) -> Start | None:
    """Return the panel, where it is shown."""
    found = window.findChild(Start, "start")
    return found if isinstance(found, Start) else None


def show_start(window: Window) -> Start:
    """Show how to begin.

    Args:
        window: The window.
    """
    start = start_of(window) or Start(window)
    start.show()
    start.raise_()
    start.line.setFocus(Qt.FocusReason.OtherFocusReason)
    return start


def show_at_start(window: Window) -> None:
    """Show how to begin, unless the user does not want that."""
    if at_start(window.settings):
        show_start(window)


def close_start(window: Window) -> None:
    """Take the panel away."""
    start = start_of(window)
    if start is not None:
        start.go_away()
