"""Joist zones: turned by a click, joined."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.gestures.doing import Doing
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import held_zone, in_plan, zone_at
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.ceiling_follows import zone_region
from roomboard.core.editing.zones import drawn_zone, join_zones, set_direction
from roomboard.core.framing import HALF_TURN, UPRIGHT
from roomboard.core.heights import is_ceiling
from roomboard.core.plane import same
from roomboard.core.project import JoistZone, Room


def with_joists(desk: Desk, room: Room) -> Room:
    """Return a room with at least one joist zone: where none is given, that assumed so far.

    Args:
        desk: The desk; what was worked out tells what was assumed.
        room: The room.
    """
    known = desk.room_scheme.surfaces if desk.room_scheme is not None else ()
    scheme = next((s for s in known if is_ceiling(s.surface.key)), None)
    zone = scheme.surface.zones[0] if scheme is not None and scheme.surface.zones else None
    return drawn_zone(room, zone.centres if zone is not None else 0.0)


def zone_words(zone: JoistZone) -> str:
    """Return which way a zone's members run, in words."""
    angle = zone.direction_deg % HALF_TURN
    if same(angle, 0.0):
        return tr("along x")
    return tr("along y") if same(angle, UPRIGHT) else f"{angle:g}°"


class TurnJoists(Doing):
    """Turns the joists of a zone by a quarter turn, or to an angle."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.hint = tr("Click the zone, or press Enter for the held one; or type along x, or 45:")
        self._zone = held_zone(desk)
        room = self.room
        if room is not None and not room.joists:
            self._zone = with_joists(desk, room).joists[0].id
        self._tell()

    def move(self, aim: Aim) -> None:
        """Show which zone is meant."""
        room, at = self.room, in_plan(self.desk, aim)
        self.screen = aim.screen
        if room is None or at is None:
            return
        zone = zone_at(with_joists(self.desk, room), at)
        if zone is not None:
            self._zone = zone.id
        self._tell()

    def _now(self) -> JoistZone | None:
        room = self.room
        if room is None:
            return None
        return next((z for z in with_joists(self.desk, room).joists if z.id == self._zone), None)

    def _tell(self) -> None:
        zone = self._now()
        self.figures = ""
        if zone is not None:
            turned = JoistZone(id=zone.id, direction_deg=zone.direction_deg + UPRIGHT)
            self.figures = tr(
                "zone {zone}: {now} → {then}",
                zone=zone.id,
                now=zone_words(zone),
                then=zone_words(turned),
            )

    def press(self, aim: Aim) -> None:
        """Turn it."""
        self.move(aim)
        self._turn(None)

    def _turn(self, angle: float | None) -> str:
        zone = self._now()
        if zone is None:
            return tr("Click a joist zone, or take hold of one first.")
        to = zone.direction_deg + UPRIGHT if angle is None else angle

        def change(room: Room) -> Room:
            return set_direction(with_joists(self.desk, room), zone.id, to)

        trouble = self.make(tr("Turn the joists"), change)
        self.done = not trouble
        return trouble

    def _read(self, text: str) -> str | float:
        plain = " ".join(text.split()).casefold()
        if plain in {"x", "along x"}:
            return 0.0
        if plain in {"y", "along y"}:
            return UPRIGHT
        try:
            return float(plain.rstrip("°").replace(",", "."))
        except ValueError:
            return tr("“{text}” is no direction; type along x, along y, or degrees.", text=text)

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        return f"= {zone_words(JoistZone(id='', direction_deg=read))}", True

    def typed(self, text: str) -> str:
        """Turn it as the text says; an empty line turns it by a quarter."""
        if not text.strip():
            return self._turn(None)
        read = self._read(text)
        return read if isinstance(read, str) else self._turn(read)

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw the zone's outline."""
        zone, room = self._now(), self.room
        if zone is not None and room is not None:
            ring = zone_region(room, zone).outer
            paint_path(painter, on_screen(ring, port), inks.held, closed=True)
        super().paint(painter, port, inks)


class JoinZones(Doing):
    """Makes one zone of two."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.hint = tr("Click one zone, then the other; or type both names, such as z1 z2:")
        self._chosen: list[str] = []

    def press(self, aim: Aim) -> None:
        """Choose a zone; the second one is joined to the first."""
        room, at = self.room, in_plan(self.desk, aim)
        self.screen = aim.screen
        zone = zone_at(room, at) if room is not None and at is not None else None
        if zone is None or zone.id in self._chosen:
            return
        self._chosen.append(zone.id)
        self.figures = zone.id
        if len(self._chosen) == 2:
            self._join(*self._chosen)
            self._chosen = []

    def _join(self, one: str, two: str) -> str:
        trouble = self.make(tr("Join joist zones"), lambda room: join_zones(room, one, two))
        self.done = not trouble
        return trouble

    def _read(self, text: str) -> str | tuple[str, str]:
        room = self.room
        ids = [z.id for z in room.joists] if room is not None else []
        names = text.replace(",", " ").split() or (ids if len(ids) == 2 else [])
        if len(names) != 2:
            return tr("Type the names of two zones, such as z1 z2.")
        return names[0], names[1]

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        trouble = self.refusal(lambda room: join_zones(room, *read))
        if trouble:
            return trouble, False
        return tr("= one zone of {one} and {two}", one=read[0], two=read[1]), True

    def typed(self, text: str) -> str:
        """Join the zones of the text; of two zones an empty line joins both."""
        read = self._read(text)
        return read if isinstance(read, str) else self._join(*read)

    def back(self) -> bool:
        """Take the first choice back, or end."""
        if not self._chosen:
            return super().back()
        self._chosen.pop()
        self.figures = ""
        return True
