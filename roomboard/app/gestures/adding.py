"""Adding one joist, one stud or a row of noggings: hover and click, or type where."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import held_wall, held_zone, in_plan, on_face, whole, zone_at
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.gestures.zones import with_joists
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.ceiling_follows import zone_region
from roomboard.core.editing.members import add_member
from roomboard.core.editing.studs import add_nogging, add_stud
from roomboard.core.editing.zones import sure_zone, zone_extent
from roomboard.core.framing import low_side_normal
from roomboard.core.plane import Point
from roomboard.core.project import Room
from roomboard.core.surface import SupportKind
from roomboard.core.units import Refusal

JOIST, STUD, NOGGING = "joist", "stud", "nogging"


class AddMember(Doing):
    """Adds a joist to a zone, or a stud or a row of noggings to a wall.

    Args:
        desk: The desk.
        kind: ``"joist"``, ``"stud"`` or ``"nogging"``.
    """

    def __init__(self, desk: Desk, kind: str) -> None:
        super().__init__(desk)
        self.kind = kind
        self._host = held_zone(desk) if kind == JOIST else held_wall(desk)
        room = self.room
        if kind == JOIST and room is not None and not self._host:
            zones = with_joists(desk, room).joists
            self._host = zones[0].id if len(zones) == 1 else ""
        self._at: float | None = None
        self.hint = {
            JOIST: tr("Click where the joist stands, or type its distance from the low side:"),
            STUD: tr("Click where the stud stands, or type its distance from the left:"),
            NOGGING: tr("Click how high the noggings stand, or type their height:"),
        }[kind]

    def move(self, aim: Aim) -> None:
        """Show where it would stand."""
        room = self.room
        self.screen = aim.screen
        if room is None:
            return
        if self.kind == JOIST:
            self._aim_joist(room, aim)
        else:
            on = on_face(room, aim)
            if on is None or on.up is None:
                return
            self._host = on.wall.id
            self._at = whole(on.along if self.kind == STUD else on.up, self.units)
        if self._at is not None:
            self.figures = self.length(self._at)
            self.trouble = self.refusal(self._change(self._at))

    def _aim_joist(self, room: Room, aim: Aim) -> None:
        at = in_plan(self.desk, aim)
        known = with_joists(self.desk, room)
        zone = zone_at(known, at) if at is not None else None
        if zone is None or at is None:
            return
        nx, ny = low_side_normal(zone.direction_deg)
        self._host = zone.id
        place = at[0] * nx + at[1] * ny - zone_extent(known, zone)[0]
        self._at = whole(place, self.units)

    def _change(self, at: float) -> RoomEdit:
        host = self._host
        if self.kind == NOGGING:
            return lambda room: add_nogging(room, host, at)
        if self.kind == JOIST:
            return lambda room: add_member(with_joists(self.desk, room), host, at)
        spacing, face = self._studs()
        return lambda room: add_stud(room, host, at, spacing=spacing, face=face)

    def _studs(self) -> tuple[float, float]:
        """Return centres and face of the wall's studs as they were worked out."""
        scheme = self.desk.surface_scheme(f"wall:{self._host}")
        if scheme is None:
            return 0.0, 0.0
        studs = [s for s in scheme.surface.supports if s.kind is SupportKind.STUD]
        return scheme.surface.zones[0].centres, studs[0].face if studs else 0.0

    def press(self, aim: Aim) -> None:
        """Put it there."""
        self.move(aim)
        if self._at is not None:
            self._put(self._at)

    def _put(self, at: float) -> str:
        if not self._host:
            return tr("Point at the place, or take hold of a wall or a zone first.")
        trouble = self.make(tr("Add a {kind}", kind=tr(self.kind)), self._change(at))
        self.done = not trouble
        return trouble

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        if not text.strip():
            return "", True
        read = self.read(text)
        if isinstance(read, Refusal):
            return read.sentence, False
        if not self._host:
            return tr("Point at the place, or take hold of a wall or a zone first."), False
        trouble = self.refusal(self._change(read))
        if trouble:
            return trouble, False
        return tr("= a {kind} at {at}", kind=tr(self.kind), at=self.length(read)), True

    def typed(self, text: str) -> str:
        """Put it where the text says; an empty line puts it where the pointer is."""
        if not text.strip():
            return self._put(self._at) if self._at is not None else self.hint
        read = self.read(text)
        return read.sentence if isinstance(read, Refusal) else self._put(read)

    def _line(self, room: Room, at: float) -> list[Point]:
        if self.kind == JOIST:
            known, zone = sure_zone(with_joists(self.desk, room), self._host)
            nx, ny = low_side_normal(zone.direction_deg)
            place = zone_extent(known, zone)[0] + at
            along = [p[0] * ny - p[1] * nx for p in zone_region(known, zone).outer]
            return [
                (nx * place + ny * run, ny * place - nx * run) for run in (min(along), max(along))
            ]
        pane = self.view.pane(f"wall:{self._host}") if self.view is not None else None
        wall = next((i for i, w in enumerate(room.walls) if w.id == self._host), None)
        if pane is None or wall is None:
            return []
        ends = (
            ((at, 0.0), (at, room.height))
            if self.kind == STUD
            else ((0.0, at), (room.wall_length(wall), at))
        )
        return [pane.placing.apply(p) for p in ends]

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw it where it would stand."""
        room = self.room
        if room is not None and self._at is not None and self._host:
            line = self._line(room, self._at)
            if line:
                colour = inks.barred if self.trouble else inks.held
                paint_path(painter, on_screen(line, port), colour)
        super().paint(painter, port, inks)
