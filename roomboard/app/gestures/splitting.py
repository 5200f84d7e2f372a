"""Splitting the joists of a ceiling along a line."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QPainter

from roomboard.app.canvas.overlay import paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.document import with_room
from roomboard.app.examples import in_units
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import FINE, held_zone, in_plan, zone_at
from roomboard.app.gestures.marks import on_screen, paint_path, paint_sign
from roomboard.app.gestures.zones import with_joists
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.refusal import zone_of
from roomboard.core.editing.sketching import line_across
from roomboard.core.editing.snapping import Snap, SnapKind, snap_point
from roomboard.core.editing.zones import split_zone
from roomboard.core.measure_places import read_line
from roomboard.core.plane import Point, Region, distance
from roomboard.core.project import Room
from roomboard.core.units import Refusal

WAYS = {
    Qt.Key.Key_Up: "y",
    Qt.Key.Key_Down: "y",
    Qt.Key.Key_Left: "x",
    Qt.Key.Key_Right: "x",
}


class SplitJoists(Doing):
    """Parts a joist zone along a line; both parts are shown while it is aimed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.begun: Point | None = None
        room = self.room
        x0, y0, x1, y1 = Region.of(room.outline).bounds if room is not None else (0.0,) * 4
        self.way = "y" if x1 - x0 >= y1 - y0 else "x"
        self._line: tuple[Point, Point] | None = None
        self._snap: Snap | None = None
        self._hint()

    def _hint(self) -> None:
        self.hint = (
            in_units(
                tr(
                    "Click two places of the line, or type such as along {way} at 3600:",
                    way=self.way,
                ),
                self.units,
            )
            if self.begun is None
            else tr("Click where the line goes on, or type its distance from the low side:")
        )

    # --- the line -----------------------------------------------------------------------

    def move(self, aim: Aim) -> None:
        """Show the line and both parts."""
        room = self.room
        at = in_plan(self.desk, aim)
        self.screen = aim.screen
        if room is None or at is None:
            return
        known = with_joists(self.desk, room)
        self._snap = snap_point(
            known, at, 0.0 if aim.fine else aim.reach, from_point=self.begun, ortho=not aim.free
        )
        to = self._rounded(room, self._snap)
        if self.begun is None or distance(self.begun, to) <= aim.reach:
            through = self.begun or to
            self._aim_line(room, line_across(room, self.way, self._from_low(room, through)))
            return
        if not aim.free:
            level = abs(to[0] - self.begun[0]) >= abs(to[1] - self.begun[1])
            self.way = "x" if level else "y"
        self._aim_line(room, (self.begun, to))

    def _rounded(self, room: Room, snap: Snap) -> Point:
        if snap.kind not in {SnapKind.FREE, SnapKind.ORTHO}:
            return snap.point
        step = FINE[self.units]
        x0, y0, _, _ = Region.of(room.outline).bounds
        x, y = snap.point
        return (x0 + round((x - x0) / step) * step, y0 + round((y - y0) / step) * step)

    def _from_low(self, room: Room, at: Point) -> float:
        x0, y0, _, _ = Region.of(room.outline).bounds
        return at[0] - x0 if self.way == "y" else at[1] - y0

    def _aim_line(self, room: Room, line: tuple[Point, Point]) -> None:
        self._line = line
        self.figures = tr(
            "along {way} at {at}", way=self.way, at=self.length(self._from_low(room, line[0]))
        )
        snap = self._snap
        if snap is not None and snap.kind is not SnapKind.ORTHO and snap.words and not self.typing:
            self.figures += "\n" + tr(snap.words)
        self._preview(room, line)

    def _preview(self, room: Room, line: tuple[Point, Point]) -> str:
        try:
            after = self._change(line)(room)
        except EditError as refusal:
            self.trouble = refusal.said(self.units)
            self.desk.document.drop_trial()
            return self.trouble
        self.trouble = ""
        self.desk.document.try_out(lambda p: with_room(p, room.id, lambda _: after))
        return ""

    def _change(self, line: tuple[Point, Point]) -> RoomEdit:
        a, b = line

        def split(room: Room) -> Room:
            room = with_joists(self.desk, room)
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            zone = zone_at(room, middle)
            if zone is None:
                held = held_zone(self.desk)
                zone = zone_of(room, held) if held else room.joists[0]
            return split_zone(room, zone.id, a, b)

        return split

    # --- steps --------------------------------------------------------------------------

    def press(self, aim: Aim) -> None:
        """Set the first place, or part the zone."""
        self.move(aim)
        if self._line is None:
            return
        if self.begun is None and self._snap is not None and self.room is not None:
            self.begun = self._rounded(self.room, self._snap)
            self._hint()
        else:
            self._split(self._line)

    def _split(self, line: tuple[Point, Point]) -> str:
        trouble = self.make(tr("Split the joists"), self._change(line))
        self.done = not trouble
        return trouble

    def key(self, event: QKeyEvent) -> bool:
        """Arrow keys choose which way the line runs."""
        way = WAYS.get(Qt.Key(event.key()))
        if way is None or event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            return super().key(event)
        self.way = way
        self._hint()
        return True

    def _read(self, text: str) -> str | tuple[Point, Point]:
        room = self.room
        if room is None:
            return tr("There is no room yet.")
        if text.strip()[:1].isalpha():
            line = read_line(text, self.units)
            if isinstance(line, Refusal):
                return line.sentence
            self.way = line[0]
            return line_across(room, line[0], line[1].mm)
        read = self.read(text)
        return read.sentence if isinstance(read, Refusal) else line_across(room, self.way, read)

    def echo(self, text: str) -> tuple[str, bool]:
        """Show what typed text would do."""
        self.typing = text.strip()
        room = self.room
        if not self.typing or room is None:
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        self._aim_line(room, read)
        return (self.trouble, False) if self.trouble else (f"= {self.figures}", True)

    def typed(self, text: str) -> str:
        """Split along the line of the text, or along the one that is shown."""
        self.typing = ""
        if not text.strip():
            return self._split(self._line) if self._line is not None else self.hint
        read = self._read(text)
        return read if isinstance(read, str) else self._split(read)

    def back(self) -> bool:
        """Take the first place back, or end."""
        if self.begun is None:
            return super().back()
        self.begun = None
        self._hint()
        return True

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw the line."""
        if self._line is not None:
            colour = inks.barred if self.trouble else inks.held
            paint_path(painter, on_screen(self._line, port), colour, dashed=True)
        if self.begun is not None:
            paint_handle(painter, port.to_screen(self.begun), inks.held, solid=True)
        if self._snap is not None and not self.typing:
            paint_sign(painter, port.to_screen(self._snap.point), self._snap.kind, inks.aimed)
        super().paint(painter, port, inks)
