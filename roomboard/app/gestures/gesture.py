"""What every gesture on the canvas answers to."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.palette import Inks
from roomboard.core.plane import Point
from roomboard.drawing.picking import Picked
from roomboard.drawing.view import Pane, View


@dataclass(frozen=True, kw_only=True)
class Aim:
    """Where the pointer is.

    Attributes:
        at: Point of the view, mm.
        screen: The same in pixels of the canvas.
        reach: How far round it something counts as hit, mm of the view.
        pane: The pane under it, or None.
        surface: Ref of the surface under it, or empty.
        on_surface: The point in the surface's (u, v), mm; in plan for the plan and ceilings.
        picked: What lies there, the topmost first.
        free: Whether Shift is held: no right angles.
        fine: Whether Ctrl is held: no snapping.
    """

    at: Point
    screen: QPointF
    reach: float
    pane: Pane | None
    surface: str
    on_surface: Point | None
    picked: tuple[Picked, ...]
    free: bool = False
    fine: bool = False


class Gesture:
    """One thing being done with the mouse and the keys; Esc takes it back.

    Attributes:
        desk: The desk it works on.
        hint: What to do next, for the line under the canvas.
        done: Whether it has ended and the canvas is to let go of it.
        cursor: The pointer's form meanwhile.
        view: The view that is painted, kept up to date by the canvas; None before the first.
        yields: Whether it gives way to whatever is clicked, dragged or walked to next, since
            nothing is lost with it.
    """

    cursor = Qt.CursorShape.CrossCursor
    view: View | None = None
    yields = False

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.hint = ""
        self.done = False

    def press(self, aim: Aim) -> None:
        """Take the pressed left button."""

    def move(self, aim: Aim) -> None:
        """Follow the pointer, pressed or not."""

    def release(self, aim: Aim) -> None:
        """Take the released left button."""

    def key(self, event: QKeyEvent) -> bool:  # noqa: ARG002 - for those that take keys
        """Take a key; tell whether it was of use."""
        return False

    def takes(self, text: str) -> bool:  # noqa: ARG002 - for those that leave keys to the acts
        """Tell whether a key typed on the canvas is the gesture's rather than that of an act."""
        return True

    def echo(self, text: str) -> tuple[str, bool]:  # noqa: ARG002 - for those that take text
        """Return what typed text would do, and whether it can be taken."""
        return "", True

    def typed(self, text: str) -> str:  # noqa: ARG002 - for those that take text
        """Take typed text; return empty, or the sentence that says why it was not taken."""
        return ""

    def swap(self, text: str) -> str | None:  # noqa: ARG002 - for those that take two figures
        """Keep what is typed and go on to the other figure (Tab).

        Returns:
            None where there is no other figure, empty where it was kept, or the sentence that
            says why not.
        """
        return None

    def overtaken(self) -> bool:
        """Tell whether an edit just made elsewhere (an undo, a panel) ends the gesture."""
        return False

    def shown(self) -> tuple[Point, ...]:
        """Return the points of the view that are to stay in the window after a key or a text."""
        return ()

    def back(self) -> bool:
        """Go one step back (Esc); tell whether the gesture goes on."""
        self.cancel()
        return False

    def cancel(self) -> None:
        """Give it up; nothing has changed."""
        self.desk.document.drop_trial()
        self.done = True

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw what belongs to the gesture over the view, in pixels."""
