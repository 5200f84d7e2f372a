"""Adding corners and taking them away."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.overlay import paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.ghosts import outline_of
from roomboard.app.gestures.lie import (
    OnWall,
    corner_near,
    held_wall,
    lies_as_plan,
    no_wall,
    placed_on,
    wall_aimed,
    wall_called,
    whole,
)
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.refusal import wall_words
from roomboard.core.editing.walls import insert_corner, remove_corner
from roomboard.core.project import Room
from roomboard.core.units import Refusal


class AddCorner(Doing):
    """Parts a wall in two by a new corner."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.hint = tr("Click the wall where the corner goes, or type its place from the left:")
        self._on: OnWall | None = None
        self._at = 0.0

    def move(self, aim: Aim) -> None:
        """Show where the corner would go."""
        room = self.room
        self.screen = aim.screen
        self._on = wall_aimed(self.desk, room, aim) if room is not None else None
        if self._on is None:
            return
        self._at = placed_on(self._on, aim, whole(self._on.along, self.units))
        self.trouble = self.refusal(self._change(self._on.wall.id, self._at))
        right = self._on.length - self._at
        self.figures = self.from_both_ends(self._on.wall, self._at, right)

    def _change(self, wall: str, at: float) -> RoomEdit:
        return lambda room: insert_corner(room, wall, at)

    def press(self, aim: Aim) -> None:
        """Set it."""
        self.move(aim)
        if self._on is not None:
            self._put(self._on.wall.id, self._at)

    def _put(self, wall: str, at: float) -> str:
        trouble = self.make(tr("Add a corner"), self._change(wall, at))
        self.done = not trouble
        return trouble

    def _read(self, text: str) -> str | tuple[str, float]:
        wall = self._on.wall.id if self._on is not None else held_wall(self.desk)
        if not wall:
            return tr("Point at a wall or take hold of one first.")
        read = self.read(text)
        return read.sentence if isinstance(read, Refusal) else (wall, read)

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        trouble = self.refusal(self._change(*read))
        said = tr("= a corner {at} from the left", at=self.length(read[1]))
        return (trouble, False) if trouble else (said, True)

    def typed(self, text: str) -> str:
        """Set it where the text says; an empty line sets it where the pointer is."""
        if not text.strip():
            return self._put(self._on.wall.id, self._at) if self._on is not None else self.hint
        read = self._read(text)
        return read if isinstance(read, str) else self._put(*read)

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw the new corner."""
        room = self.room
        if self._on is not None and room is not None:
            top = room.height if not lies_as_plan(self.desk) else 0.0
            ring, _ = outline_of(room, self.view, self._on.index, (self._at, 0.0, 0.0, top))
            paint_path(painter, on_screen(ring, port), inks.held, closed=True)
        super().paint(painter, port, inks)


class RemoveCorner(Doing):
    """Takes a corner away."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.hint = tr("Click the corner, or type the wall on its right, such as B:")
        self._index: int | None = None

    def move(self, aim: Aim) -> None:
        """Show which corner would go."""
        room = self.room
        self.screen = aim.screen
        self.trouble, self.figures, self._index = "", "", None
        if room is None or not lies_as_plan(self.desk):
            return
        self._index = corner_near(room, aim.at, aim.reach * 2)
        if self._index is not None:
            self.figures = self._words(room, self._index)
            self.trouble = self.refusal(self._change(self._index))

    def _words(self, room: Room, index: int) -> str:
        left, right = wall_words(room.walls[index - 1]), wall_words(room.walls[index])
        return tr("corner between {left} and {right}", left=left, right=right)

    def _change(self, index: int) -> RoomEdit:
        return lambda room: remove_corner(room, index)

    def press(self, aim: Aim) -> None:
        """Take it away."""
        self.move(aim)
        if self._index is not None:
            self._take(self._index)

    def _take(self, index: int) -> str:
        trouble = self.make(tr("Remove a corner"), self._change(index))
        self.done = not trouble
        return trouble

    def _read(self, text: str) -> str | int:
        room = self.room
        if room is None:
            return tr("There is no room yet.")
        wall = wall_called(room, text)
        return room.walls.index(wall) if wall is not None else no_wall(room, text)

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        room = self.room
        if not text.strip() or room is None:
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        return f"= {self._words(room, read)}", True

    def typed(self, text: str) -> str:
        """Take the corner of the text, or the one that is pointed at."""
        if not text.strip():
            return self._take(self._index) if self._index is not None else self.hint
        read = self._read(text)
        return read if isinstance(read, str) else self._take(read)

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Mark the corner."""
        room = self.room
        if room is not None and self._index is not None:
            at = port.to_screen(room.outline[self._index])
            paint_handle(painter, at, inks.barred, solid=True)
        super().paint(painter, port, inks)
