"""Pushing a part of a wall out or in, and copying the openings of a wall."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.overlay import paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.examples import in_units
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import (
    OnWall,
    along_wall,
    held_wall,
    lies_as_plan,
    no_wall,
    on_face,
    placed_on,
    wall_aimed,
    wall_called,
    whole,
)
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.openings import copy_openings
from roomboard.core.editing.refusal import wall_words
from roomboard.core.editing.walls import jog
from roomboard.core.measure_places import read_jog
from roomboard.core.project import Wall
from roomboard.core.units import Refusal


class PushPart(Doing):
    """Pushes a part of a wall out or in: two places on it, then how deep."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.wall = ""
        self.places: list[float] = []
        self._depth = 0.0
        self._on: OnWall | None = None
        self._hint()

    def _hint(self) -> None:
        if not self.places:
            self.hint = in_units(
                tr("Click where the part begins, or type: from 1000 to 2500 out 600"), self.units
            )
        elif len(self.places) == 1:
            self.hint = tr("Click where the part ends, or type its place from the left:")
        else:
            self.hint = in_units(
                tr("Move out or in and click, or type how deep, such as out 600:"), self.units
            )

    def move(self, aim: Aim) -> None:
        """Show the place, or the part as deep as the pointer is."""
        room = self.room
        self.screen = aim.screen
        self.trouble = ""
        if room is None:
            return
        on = along_wall(self.desk, room, aim, self.wall)
        self._on = on
        if on is None:
            return
        if len(self.places) < 2:
            at = self._rounded(on, aim)
            self.figures = self.from_both_ends(on.wall, at, on.length - at)
            return
        self._depth = whole(edges_of(room)[on.index].offset(aim.at), self.units)
        way = tr("out") if self._depth >= 0 else tr("in")
        self.figures = f"{way} {self.length(abs(self._depth))}"
        if self._depth:
            self.trouble = self.refusal(self._change(self._depth))

    def _rounded(self, on: OnWall, aim: Aim) -> float:
        return placed_on(on, aim, whole(on.along, self.units))

    def press(self, aim: Aim) -> None:
        """Set a place, or the depth."""
        self.move(aim)
        on = self._on
        if on is None:
            return
        if len(self.places) < 2:
            self.wall = on.wall.id
            self.places.append(self._rounded(on, aim))
            self._hint()
        else:
            self._push(self._depth)

    def _change(self, depth: float) -> RoomEdit:
        low, high = sorted(self.places)
        return lambda room: jog(room, self.wall, low, high, depth)

    def _push(self, depth: float) -> str:
        trouble = self.make(tr("Push a part of a wall"), self._change(depth))
        self.done = not trouble
        return trouble

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        wall, places, depth = read
        if depth is None:
            return tr("= {at} from the left", at=self.length(places[-1])), True
        way = tr("out") if depth >= 0 else tr("in")
        trouble = self.refusal(lambda r: jog(r, wall, min(places), max(places), depth))
        if trouble:
            return trouble, False
        return f"= {way} {self.length(abs(depth))}", True

    def _read(self, text: str) -> str | tuple[str, list[float], float | None]:
        wall = self.wall or (self._on.wall.id if self._on else held_wall(self.desk))
        if not wall:
            return tr("Click a wall or take hold of one first.")
        if len(self.places) == 1 or (not self.places and text.strip()[:1].isdigit()):
            place = self.read(text)
            if isinstance(place, Refusal):
                return place.sentence
            return wall, [*self.places, place], None
        read = read_jog(text, self.units)
        if isinstance(read, Refusal):
            return read.sentence
        places = self.places
        if read.low is not None and read.high is not None:
            places = [read.low.mm, read.high.mm]
        if len(places) < 2:
            return in_units(
                tr("Write where the part begins and ends: from 1000 to 2500 out 600."), self.units
            )
        way = read.way or (-1 if self._depth < 0 else 1)
        return wall, places, way * read.depth.mm

    def typed(self, text: str) -> str:
        """Set what is typed; an empty line takes the depth that is shown."""
        if not text.strip():
            return self._push(self._depth) if len(self.places) == 2 else self.hint
        read = self._read(text)
        if isinstance(read, str):
            return read
        wall, places, depth = read
        if depth is not None:
            trouble = self.refusal(lambda r: jog(r, wall, min(places), max(places), depth))
            if trouble:
                return trouble
        self.wall, self.places = wall, places
        self._hint()
        return "" if depth is None else self._push(depth)

    def back(self) -> bool:
        """Take the last place back, or end."""
        if not self.places:
            return super().back()
        self.places.pop()
        if not self.places:
            self.wall = ""
        self.trouble, self.figures = "", ""
        self._hint()
        return True

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw the places on the wall and the part as it would stand."""
        room, on = self.room, self._on
        if room is not None and on is not None and lies_as_plan(self.desk):
            edge = edges_of(room)[on.index]

            def at(along: float, out: float = 0.0) -> tuple[float, float]:
                (x, y), (dx, dy), (nx, ny) = edge.left, edge.along, edge.outward
                return (x + dx * along + nx * out, y + dy * along + ny * out)

            for place in self.places or [on.along]:
                paint_handle(painter, port.to_screen(at(place)), inks.held)
            if len(self.places) == 2:
                low, high = sorted(self.places)
                part = [at(low), at(low, self._depth), at(high, self._depth), at(high)]
                colour = inks.barred if self.trouble else inks.held
                paint_path(painter, on_screen(part, port), colour)
        super().paint(painter, port, inks)


class CopyOpenings(Doing):
    """Copies the openings of the wall that is held to another."""

    def __init__(self, desk: Desk, wall: str) -> None:
        super().__init__(desk)
        self.wall = wall
        self._to = ""
        self._mirrored = False
        self.hint = tr("Click the other wall, or type its letter (B, or B mirrored):")

    def move(self, aim: Aim) -> None:
        """Show which wall is meant; Shift mirrors."""
        room = self.room
        self.screen = aim.screen
        self.trouble, self.figures, self._to = "", "", ""
        if room is None:
            return
        on = on_face(room, aim) or wall_aimed(self.desk, room, aim)
        if on is None or on.wall.id == self.wall:
            return
        self._to, self._mirrored = on.wall.id, aim.free
        self.figures = self._words(on.wall, mirrored=aim.free)
        self.trouble = self.refusal(self._change(self._to, mirrored=aim.free))

    def _words(self, wall: Wall, *, mirrored: bool) -> str:
        words = tr("copy to {wall}", wall=wall_words(wall))
        return tr("{words}, left and right swapped", words=words) if mirrored else words

    def _change(self, to: str, *, mirrored: bool) -> RoomEdit:
        return lambda room: copy_openings(room, self.wall, to, mirrored=mirrored)

    def press(self, aim: Aim) -> None:
        """Copy them."""
        self.move(aim)
        if self._to:
            self._copy(self._to, mirrored=self._mirrored)

    def _copy(self, to: str, *, mirrored: bool) -> str:
        trouble = self.make(tr("Copy openings"), self._change(to, mirrored=mirrored))
        self.done = not trouble
        return trouble

    def _read(self, text: str) -> str | tuple[Wall, bool]:
        room = self.room
        if room is None:
            return tr("There is no room yet.")
        name, _, rest = text.strip().partition(" ")
        wall = wall_called(room, name)
        if wall is None:
            return no_wall(room, name)
        if rest.strip() not in {"", "mirrored"}:
            return tr("After the letter only “mirrored” can stand.")
        return wall, bool(rest.strip())

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        trouble = self.refusal(self._change(read[0].id, mirrored=read[1]))
        if trouble:
            return trouble, False
        return f"= {self._words(read[0], mirrored=read[1])}", True

    def typed(self, text: str) -> str:
        """Copy them to the wall of the text."""
        if not text.strip():
            return self._copy(self._to, mirrored=self._mirrored) if self._to else self.hint
        read = self._read(text)
        return read if isinstance(read, str) else self._copy(read[0].id, mirrored=read[1])
