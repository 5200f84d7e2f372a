"""Dragging corners and walls of a room."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.overlay import paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.examples import SIZE, in_units
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag import Drag
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import whole
from roomboard.app.gestures.marks import paint_sign
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.refusal import wall_words
from roomboard.core.editing.sketching import corner_for_lengths, unit
from roomboard.core.editing.snapping import Snap, SnapKind, snap_point
from roomboard.core.editing.walls import move_corner, move_wall, set_wall_length
from roomboard.core.plane import Point
from roomboard.core.project import Room
from roomboard.core.units import Refusal, Size, read_size


def _wall_lengths(drag: Drag, before: Room, after: Room, indices: tuple[int, ...]) -> list[str]:
    """Write the lengths of walls as they are after an edit, a line each."""
    lines: list[str] = []
    for index in indices:
        wall = before.walls[index]
        now = next((i for i, w in enumerate(after.walls) if w.id == wall.id), None)
        if now is not None:
            lines.append(f"{wall_words(wall)}  {drag.length(after.wall_length(now))}")
    return lines


class CornerDrag(Drag):
    """Moves a corner; its walls stay square unless Shift is held."""

    def __init__(self, desk: Desk, index: int) -> None:
        super().__init__(desk, tr("Move a corner"))
        self.index = index
        self.hint = tr(
            "Drag the corner, or type a wall's length or both, {size}:",
            size=in_units(SIZE, self.units),
        )
        self._snap: Snap | None = None

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:  # noqa: ARG002
        """Move the corner to the pointer, or to what lies near it."""
        reach = 0.0 if aim.fine else aim.reach
        self._snap = snap_point(room, aim.at, reach, ortho=False)
        to = self._snap.point
        if self._snap.kind is SnapKind.FREE:
            to = (whole(to[0], self.units), whole(to[1], self.units))
        square = not aim.free
        return lambda r: move_corner(r, self.index, to, square=square)

    def told(self, before: Room, after: Room) -> str:
        """Tell the lengths of both walls."""
        count = len(before.walls)
        lines = _wall_lengths(self, before, after, ((self.index - 1) % count, self.index))
        if self._snap is not None and self._snap.words and not self.typing:
            lines.append(tr(self._snap.words))
        return "\n".join(lines)

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Give both walls lengths, or the one the pointer moves along."""
        size = read_size(text, self.units)
        if isinstance(size, Size):
            to = corner_for_lengths(room, self.index, size.first.mm, size.second.mm)
            return lambda r: move_corner(r, self.index, to)
        read = self.read(text)
        if isinstance(read, Refusal):
            return read.sentence
        along_before = self._along_before(room)
        to = corner_for_lengths(
            room,
            self.index,
            before=read if along_before else None,
            after=None if along_before else read,
        )
        return lambda r: move_corner(r, self.index, to)

    def _along_before(self, room: Room) -> bool:
        """Tell whether the pointer went along the wall on the corner's left."""
        here = room.outline[self.index]
        if self._aim is None:
            return True
        dx, dy = self._aim.at[0] - here[0], self._aim.at[1] - here[1]
        count = len(room.outline)
        shares: list[float] = []
        for other in (self.index - 1, (self.index + 1) % count):
            way = unit(room.outline[other], here) or (0.0, 0.0)
            shares.append(abs(dx * way[0] + dy * way[1]))
        return shares[0] >= shares[1]

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw the corner's handle and what it was taken to."""
        if self._snap is not None and not self.typing:
            at = port.to_screen(self._snap.point)
            paint_handle(painter, at, inks.barred if self.trouble else inks.held, solid=True)
            paint_sign(painter, at, self._snap.kind, inks.aimed)
        super().paint(painter, port, inks)


class WallDrag(Drag):
    """Moves a wall square to itself; its neighbours stretch."""

    def __init__(self, desk: Desk, index: int) -> None:
        super().__init__(desk, tr("Move a wall"))
        self.index = index
        self.hint = tr("Drag the wall; type its neighbour's length, or +120 (out), -120 (in):")
        self._by = 0.0
        self._snapped = ""

    def _offset(self, room: Room, at: Point) -> float:
        return edges_of(room)[self.index].offset(at)

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Move the wall by as much as the pointer moved square to it."""
        by = self._offset(room, aim.at) - self._offset(room, start.at)
        self._snapped = ""
        snap = snap_point(room, aim.at, 0.0 if aim.fine else aim.reach, ortho=False)
        own = room.walls[self.index]
        to_line = self._offset(room, snap.point)
        if snap.kind in {SnapKind.IN_LINE, SnapKind.END, SnapKind.JOIST} and abs(to_line) > 1.0:
            by, self._snapped = to_line, snap.words
        else:
            by = whole(by, self.units)
        self._by = by
        return lambda r: move_wall(r, own.id, by)

    def told(self, before: Room, after: Room) -> str:
        """Tell how far it went, and how long its neighbours are."""
        count = len(before.walls)
        lines: list[str] = []
        if not self.typing:
            way = tr("out") if self._by >= 0 else tr("in")
            lines.append(f"{way} {self.length(abs(self._by))}")
        lines += _wall_lengths(
            self, before, after, ((self.index - 1) % count, (self.index + 1) % count)
        )
        if self._snapped and not self.typing:
            lines.append(tr(self._snapped))
        return "\n".join(lines)

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Move it by a signed length, or until its left neighbour has a length."""
        wall = room.walls[self.index]
        neighbour = room.walls[self.index - 1]
        plain = text.strip()
        read = self.read(plain.lstrip("+-−"))
        if isinstance(read, Refusal):
            return read.sentence
        if plain[:1] in {"+", "-", "−"}:
            by = read if plain[0] == "+" else -read
            return lambda r: move_wall(r, wall.id, by)
        return lambda r: set_wall_length(r, neighbour.id, read)
