"""The window of the desk: spine, faces, canvas, the line under it, and what stands beside."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, QElapsedTimer, QSettings, Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QApplication,
    QLabel,
    QMainWindow,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.acts import ActBar
from roomboard.app.canvas.canvas import Canvas
from roomboard.app.desk import Desk
from roomboard.app.document import Document
from roomboard.app.gestures.dragging import drag_for
from roomboard.app.palette import INKS, Inks, window_palette
from roomboard.app.panels.entry import Entry
from roomboard.app.panels.faces import Faces
from roomboard.app.panels.rooms import Rooms
from roomboard.app.panels.spine import Spine
from roomboard.app.panels.waiting import Waiting
from roomboard.app.words import tr
from roomboard.drawing.plain_words import Named

HEARD = 2_500
"""How long a sentence stays before what the pointer is on takes its place, ms."""


class Window(QMainWindow):
    """One document on the screen.

    Attributes:
        document: What is edited.
        desk: What of it is shown.
        canvas: The drawing.
        entry: The line under it.
        bar: The menus.
        beside: What stands on the right of the canvas, top to bottom.
        waiting: What is seen while the sheets are worked out, where that takes long.
    """

    def __init__(self, document: Document | None = None, settings: QSettings | None = None) -> None:
        super().__init__()
        self.settings = settings or QSettings()
        self.document = document or Document()
        self.document.setParent(self)
        self.desk = Desk(self.document, self)
        self.canvas = Canvas(self.desk, self)
        self.canvas.drag_for = drag_for
        self.entry = Entry(self.desk, self.canvas, self)
        self.bar = ActBar(self, self.canvas)
        self.beside = QSplitter(Qt.Orientation.Vertical, self)
        self.beside.setChildrenCollapsible(True)
        self._build()
        self._furnish()
        self._restore()
        # A key of an act is dead while the act cannot be done: all are asked anew.
        for changed in (
            self.desk.room_changed,
            self.desk.held_changed,
            self.desk.view_changed,
            self.desk.lens_changed,
            self.desk.layer_changed,
            self.document.project_changed,
            self.document.scheme_changed,
        ):
            changed.connect(self.bar.refresh)
        self.document.undo_stack.cleanChanged.connect(self._retitle)
        self.document.path_changed.connect(self._retitle)
        self.document.project_changed.connect(self._retitle)
        self.document.refused.connect(self.desk.said)
        self.desk.said.connect(self._say)
        self.canvas.aimed_at.connect(self._name)
        self._retitle()
        self.canvas.setFocus()

    # --- how it is built ----------------------------------------------------------------

    def _build(self) -> None:
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Spine(self.desk, left))
        heading = QLabel(tr("Rooms"), left)
        heading.setContentsMargins(8, 6, 0, 0)
        column.addWidget(heading)
        self.rooms = Rooms(self.desk, left)
        heading.setBuddy(self.rooms)
        column.addWidget(self.rooms, 1)

        middle = QWidget(self)
        stack = QVBoxLayout(middle)
        stack.setContentsMargins(0, 0, 0, 0)
        stack.setSpacing(0)
        self.faces = Faces(self.desk, middle)
        stack.addWidget(self.faces)
        stack.addWidget(self.canvas, 1)
        stack.addWidget(self.entry)

        self.across = QSplitter(Qt.Orientation.Horizontal, self)
        self.across.addWidget(left)
        self.across.addWidget(middle)
        self.across.addWidget(self.beside)
        self.across.setStretchFactor(1, 1)
        self.across.setSizes([150, 800, 330])
        self.setCentralWidget(self.across)

        self._said = QElapsedTimer()
        self._named = QLabel(self)
        self._named.setAccessibleName(tr("What the pointer is on"))
        self.statusBar().addWidget(self._named, 1)
        self.waiting = Waiting(
            tr("Working out the sheets …"),
            tr("The sheets stay as they were worked out last; the edit stays."),
            self.document.abandon,
            self,
        )
        self.document.stepped.connect(self._tell_step)
        self.statusBar().addPermanentWidget(self.waiting)
        self.document.busy_changed.connect(self.waiting.follow)

    def _furnish(self) -> None:
        """Put the panels beside the canvas and the acts into the menus."""
        from roomboard.app.furnishing import furnish

        furnish(self)

    # --- what it says -------------------------------------------------------------------

    def _tell_step(self, what: str) -> None:
        """Tell what is being worked out, where it takes long."""
        self.waiting.said.setText(tr("Working out {what} …", what=what))

    def _retitle(self) -> None:
        name = self.document.path.name if self.document.path else tr("not saved yet")
        self.setWindowTitle(f"{self.document.project.name} ({name})[*] — roomboard")
        self.setWindowModified(not self.document.undo_stack.isClean())

    def _say(self, sentence: str) -> None:
        self._said.start()
        self.statusBar().showMessage(sentence, 15_000)

    def _name(self, what: Named | None) -> None:
        if what is None:
            self._named.setText("")
            return
        if not self._said.isValid() or self._said.hasExpired(HEARD):
            self.statusBar().clearMessage()
        text = what.title + (f", {what.figures}" if what.figures else "")
        sentence = tr(what.sentence)
        self._named.setText(f"{text}.  {sentence}")
        self._named.setToolTip(sentence)

    # --- comfort ------------------------------------------------------------------------

    @property
    def inks(self) -> Inks:
        """The colours in use."""
        return self.canvas.inks

    def set_inks(self, name: str) -> None:
        """Change to light or dark.

        Args:
            name: ``"light"`` or ``"dark"``.
        """
        inks = INKS[name]
        self.settings.setValue("inks", name)
        QApplication.setPalette(window_palette(inks))
        for window in QApplication.topLevelWidgets():  # they all have one palette
            if isinstance(window, Window):
                window.canvas.set_inks(inks)
        self.canvas.set_inks(inks)

    def _restore(self) -> None:
        name = str(self.settings.value("inks", "light"))
        self.set_inks(name if name in INKS else "light")
        self.resize(1280, 800)
        for key, restore in (
            ("window/geometry", self.restoreGeometry),
            ("window/across", self.across.restoreState),
            ("window/beside", self.beside.restoreState),
        ):
            state = self.settings.value(key)
            if isinstance(state, QByteArray):
                restore(state)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved work, then remember how the window stood."""
        from roomboard.app.filing import may_close

        if not may_close(self):
            event.ignore()
            return
        self.settings.setValue("window/geometry", self.saveGeometry())
        self.settings.setValue("window/across", self.across.saveState())
        self.settings.setValue("window/beside", self.beside.saveState())
        self.settings.sync()
        self.canvas.close_down()
        self.document.close()
        event.accept()
