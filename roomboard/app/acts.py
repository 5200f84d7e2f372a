"""Acts: everything the desk can be told to do, each with its menu, words and keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QWidget

from roomboard.app.words import tr


@dataclass(frozen=True, kw_only=True)
class Act:
    """One thing the desk can be told to do.

    Attributes:
        id: Stable name, e.g. ``"room.mirror"``.
        menu: Which menu it stands in; ``"Room/Openings"`` for a menu in a menu.
        words: What the menu says.
        run: Does it.
        keys: Its keys, as Qt writes them; empty for none.
        tip: One sentence for the line under the canvas.
        checked: For acts that are on or off: tells which.
        enabled: Tells whether it can be done now; None for always.
        parted: Whether a line stands over it in the menu.
        on_drawing: Whether its keys work only while the drawing has the focus: those that lists
            and fields have a use of their own for, and those that take something away.
    """

    id: str
    menu: str
    words: str
    run: Callable[[], object]
    keys: str = ""
    tip: str = ""
    checked: Callable[[], bool] | None = None
    enabled: Callable[[], bool] | None = None
    parted: bool = False
    on_drawing: bool = False


class ActBar:
    """The menus of a window, made of acts; asks each on opening whether it can be done.

    Attributes:
        actions: Qt's action of each act by its id.
    """

    def __init__(self, window: QMainWindow, drawing: QWidget | None = None) -> None:
        self._window = window
        self._drawing = drawing
        self._menus: dict[str, QMenu] = {}
        self._acts: list[Act] = []
        self.actions: dict[str, QAction] = {}

    def add(self, acts: Sequence[Act]) -> None:
        """Put acts into their menus, in order; keys work in the window, or on the drawing."""
        for act in acts:
            menu = self._menu(act.menu)
            if act.parted:
                menu.addSeparator()
            action = QAction(tr(act.words), self._window)
            action.setObjectName(act.id)
            if act.keys:
                action.setShortcuts(QKeySequence.listFromString(act.keys))
                action.setShortcutContext(
                    Qt.ShortcutContext.WidgetShortcut
                    if act.on_drawing
                    else Qt.ShortcutContext.WindowShortcut
                )
            if act.tip:
                action.setStatusTip(tr(act.tip))
                action.setToolTip(tr(act.tip))
            if act.checked is not None:
                action.setCheckable(True)
            action.triggered.connect(_runner(act))
            menu.addAction(action)
            (self._drawing if act.on_drawing and self._drawing else self._window).addAction(action)
            self.actions[act.id] = action
            self._acts.append(act)

    @property
    def acts(self) -> tuple[Act, ...]:
        """All acts, in the order they were added."""
        return tuple(self._acts)

    def refresh(self) -> None:
        """Ask every act whether it can be done now and whether it is on."""
        for act in self._acts:
            action = self.actions[act.id]
            if act.enabled is not None:
                action.setEnabled(act.enabled())
            if act.checked is not None:
                action.setChecked(act.checked())

    def _menu(self, path: str) -> QMenu:
        found = self._menus.get(path)
        if found is not None:
            return found
        parent, _, name = path.rpartition("/")
        if parent:
            menu = self._menu(parent).addMenu(tr(name))
        else:
            # No two begin alike: Alt with the first letter opens each.
            menu = self._window.menuBar().addMenu(f"&{tr(name)}")
        menu.aboutToShow.connect(self.refresh)
        self._menus[path] = menu
        return menu


def _runner(act: Act) -> Callable[[], None]:
    def run() -> None:
        if act.enabled is None or act.enabled():
            act.run()

    return run
