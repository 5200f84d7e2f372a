"""What gestures that edit the room shown have in common: trying, refusing, typing."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from roomboard.app.canvas.overlay import paint_figure
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.examples import in_units, no_room
from roomboard.app.gestures.gesture import Gesture
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.refusal import wall_words
from roomboard.core.project import Room, Units, Wall
from roomboard.core.units import Refusal, read_length, write_length

RoomEdit = Callable[[Room], Room]
ENTERS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})


class Doing(Gesture):
    """A gesture that makes edits of the room shown; Enter takes an empty line too.

    Attributes:
        trouble: Why what is aimed at cannot be done; empty where it can.
        figures: Live figures beside the pointer.
        typing: What is typed at the moment.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.trouble = ""
        self.figures = ""
        self.typing = ""
        self.screen: QPointF | None = None
        self._making = False

    @property
    def units(self) -> Units:
        """How lengths are read and shown."""
        return self.desk.document.project.units

    @property
    def room(self) -> Room | None:
        """The room as it was before the gesture."""
        return self.desk.document.project.room(self.desk.room_id)

    def length(self, mm: float) -> str:
        """Write a length."""
        return write_length(mm, self.units, suffix=True)

    def from_both_ends(self, wall: Wall, left: float, right: float) -> str:
        """Say how far a place on a wall lies from its two ends, mm."""
        return tr(
            "{left} from the left, {right} from the right of {wall}",
            left=self.length(left),
            right=self.length(right),
            wall=wall_words(wall),
        )

    def read(self, text: str, *, signed: bool = False) -> float | Refusal:
        """Read a length, mm; or say why it cannot be read."""
        read = read_length(text, self.units, small=True, signed=signed)
        return read if isinstance(read, Refusal) else read.mm

    def refusal(self, change: RoomEdit) -> str:
        """Return why an edit of the room cannot be made, or empty."""
        room = self.room
        if room is None:
            return no_room(self.units)
        try:
            change(room)
        except EditError as refusal:
            return refusal.said(self.units)
        return ""

    def make(self, words: str, change: RoomEdit) -> str:
        """Make an edit; return empty, or why it was not made."""
        self.trouble = self.refusal(change)
        if not self.trouble:
            self._making = True
            self.desk.edit_room(words, change)
            self._making = False
        return self.trouble

    def overtaken(self) -> bool:
        """Tell whether an edit just made is not its own; what it knows of the room is gone then."""
        return not self._making and not self.done

    def key(self, event: QKeyEvent) -> bool:
        """Enter takes what is aimed at."""
        if Qt.Key(event.key()) in ENTERS:
            self.trouble = self.typed("")
            if self.trouble:
                self.desk.say(self.trouble)
            return True
        return False

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:  # noqa: ARG002 - others draw
        """Write the live figures, or why it cannot be done."""
        words = self.trouble or self.figures
        if words and self.screen is not None:
            paint_figure(painter, self.screen, words, inks, bad=bool(self.trouble))


class Ask(Doing):
    """Asks for one line of text and does something with it.

    Args:
        desk: The desk.
        hint: What is to be typed, with examples in mm.
        read: What typed text would do: an echo and the way to do it, or a refusal.
    """

    def __init__(self, desk: Desk, hint: str, read: Callable[[str], Answer]) -> None:
        super().__init__(desk)
        self.hint = in_units(hint, self.units)
        self._read = read

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        answer = self._read(text)
        return (answer, False) if isinstance(answer, str) else (answer[0], True)

    def typed(self, text: str) -> str:
        """Do it; return why not, or empty."""
        answer = self._read(text)
        if isinstance(answer, str):
            return answer
        self._making = True
        refused = answer[1]()
        self._making = False
        self.done = not refused
        return refused


Answer = str | tuple[str, Callable[[], str]]
"""Why text is refused; or what it would do, and the way to do it (which may refuse too)."""
