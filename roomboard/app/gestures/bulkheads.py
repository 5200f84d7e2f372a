"""Putting a bulkhead along a wall: two places on it, then how deep; or all of it typed."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.overlay import paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk, Held
from roomboard.app.examples import in_units
from roomboard.app.figures.things import BULKHEAD
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import (
    OnWall,
    along_wall,
    held_wall,
    lies_as_plan,
    placed_on,
    wall_aimed,
    whole,
)
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.bulkheads import add_bulkhead
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.refusal import wall_index
from roomboard.core.measure_boxes import TypedBulkhead, read_bulkhead, size_of
from roomboard.core.plane import Point, same
from roomboard.core.project import Room
from roomboard.core.units import Refusal
from roomboard.storage.usual_sizes import usual_box


class PlaceBulkhead(Doing):
    """Puts a bulkhead along a wall: two places on it, then how deep; or all of it typed.

    Attributes:
        wall: Id of its wall; empty before the first place.
        places: Its ends from the wall's left end, as far as they are set, mm.
        depth: Out from the wall, mm.
        drop: Down from the ceiling, mm.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.wall = ""
        self.places: list[float] = []
        self._on: OnWall | None = None
        self._typed: tuple[str, list[float], tuple[float, float]] | None = None
        self.depth, self.drop = self._usual()
        self._hint()

    def _usual(self) -> tuple[float, float]:
        """Return depth and drop of the last one, or usual ones."""
        for room in (self.room, *reversed(self.desk.document.project.rooms)):
            if room is not None and room.bulkheads:
                return room.bulkheads[-1].depth, room.bulkheads[-1].drop
        return usual_box(BULKHEAD, self.units)

    def _hint(self) -> None:
        if not self.places:
            said = tr(
                "Click a wall where it begins, or type depth and drop: 600 x 300, "
                "or 600 x 300 from 500 to 2400"
            )
            self.hint = in_units(said, self.units)
        elif len(self.places) == 1:
            self.hint = tr("Click where it ends, or type its place from the left:")
        else:
            self.hint = in_units(
                tr("Click how deep it is, or type depth and drop such as 600 x 300:"), self.units
            )

    # --- the pointer --------------------------------------------------------------------

    def move(self, aim: Aim) -> None:
        """Show the place, or the bulkhead as deep as the pointer is."""
        room = self.room
        self.screen = aim.screen
        self.trouble = ""
        if room is None:
            return
        if len(self.places) == 1:
            self._turn_the_corner(room, aim)
        on = along_wall(self.desk, room, aim, self.wall)
        self._on = on
        if on is None:
            return
        if len(self.places) < 2:
            at = placed_on(on, aim, whole(on.along, self.units))
            self.figures = self.from_both_ends(on.wall, at, on.length - at)
            return
        deep = whole(-edges_of(room)[on.index].offset(aim.at), self.units)
        if deep > 0 and lies_as_plan(self.desk):
            self.depth = deep
        self._tell()

    def _turn_the_corner(self, room: Room, aim: Aim) -> None:
        """Go over to the next wall where the first place is the corner that both share."""
        other = wall_aimed(self.desk, room, aim)
        if other is None or other.wall.id == self.wall:
            return
        own = wall_index(room, self.wall)
        count, length = len(room.walls), room.wall_length(own)
        if same(self.places[0], 0.0) and other.index == (own - 1) % count:
            self.wall, self.places = other.wall.id, [other.length]
        elif same(self.places[0], length) and other.index == (own + 1) % count:
            self.wall, self.places = other.wall.id, [0.0]

    def press(self, aim: Aim) -> None:
        """Set a place, or put it there as deep as it is shown."""
        self.move(aim)
        on = self._on
        if on is None:
            return
        if len(self.places) < 2:
            self.wall = on.wall.id
            self.places.append(placed_on(on, aim, whole(on.along, self.units)))
            self._hint()
        else:
            self._put(self._change(self.wall, self.places, (self.depth, self.drop)))

    def _tell(self) -> None:
        self.figures = self._words(self.places, (self.depth, self.drop))
        self.trouble = self.refusal(self._change(self.wall, self.places, (self.depth, self.drop)))

    # --- what is typed ------------------------------------------------------------------

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        self._typed = None
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        wall, places, size = self._typed = read
        if len(places) < 2:
            return tr("= {at} from the left", at=self.length(places[-1])), True
        trouble = self.refusal(self._change(wall, places, size))
        return (trouble, False) if trouble else (f"= {self._words(places, size)}", True)

    def typed(self, text: str) -> str:
        """Set what is typed; an empty line takes what is shown."""
        self._typed = None
        if not text.strip():
            if len(self.places) < 2:
                return self.hint
            return self._put(self._change(self.wall, self.places, (self.depth, self.drop)))
        read = self._read(text)
        if isinstance(read, str):
            return read
        wall, places, size = read
        if len(places) < 2:
            self.wall, self.places = wall, places
            self._hint()
            return ""
        if len(self.places) == 1:  # its end was typed: how deep it is comes next
            self.places = places
            self._tell()
            self._hint()
            return ""
        return self._put(self._change(wall, places, size))

    def _read(self, text: str) -> str | tuple[str, list[float], tuple[float, float]]:
        """Return wall, ends, depth and drop as typed, or why they are refused."""
        room = self.room
        wall = self.wall or (self._on.wall.id if self._on else held_wall(self.desk))
        if room is None or not wall:
            return tr("Click a wall or take hold of one first.")
        read = read_bulkhead(text, self.units)
        if isinstance(read, Refusal):
            return read.sentence
        size = size_of(read, self.depth, self.drop)
        if read.low is not None and read.high is not None:
            return wall, [read.low.mm, read.high.mm], size
        if read.lone is not None and len(self.places) < 2:
            return wall, [*self.places, read.lone.mm], size
        if read.lone is not None:
            return wall, self.places, (read.lone.mm, self.drop)
        return self._over(room, wall, read, size)

    def _over(
        self, room: Room, wall: str, read: TypedBulkhead, size: tuple[float, float]
    ) -> str | tuple[str, list[float], tuple[float, float]]:
        """Return a bulkhead between the ends set, or along the whole wall where none is."""
        if read.depth is None and read.drop is None:
            return self.hint
        if len(self.places) == 1:
            return tr("Click or type where it ends first.")
        length = room.wall_length(wall_index(room, wall))
        return wall, self.places or [0.0, length], size

    # --- doing it -----------------------------------------------------------------------

    @staticmethod
    def _change(wall: str, places: list[float], size: tuple[float, float]) -> RoomEdit:
        low, high = min(places), max(places)
        depth, drop = size
        return lambda room: add_bulkhead(room, wall, low, high - low, depth, drop)

    def _put(self, change: RoomEdit) -> str:
        trouble = self.make(tr("Put in a bulkhead"), change)
        room = self.room
        self.done = not trouble
        if not trouble and room is not None:
            self.desk.hold(Held(BULKHEAD, f"{BULKHEAD}:{room.bulkheads[-1].id}"))
        return trouble

    def _words(self, places: list[float], size: tuple[float, float]) -> str:
        return tr(
            "{length} long, {depth} deep, {drop} down",
            length=self.length(max(places) - min(places)),
            depth=self.length(size[0]),
            drop=self.length(size[1]),
        )

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
        """Draw the places on the wall and the bulkhead as it would hang."""
        room, on = self.room, self._on
        # What is typed is shown where it would go, whatever the pointer is on.
        now = (self.wall or (on.wall.id if on is not None else ""), self.places, self._size)
        wall, places, (depth, _) = self._typed or now
        if room is not None and wall and lies_as_plan(self.desk):
            edge = edges_of(room)[wall_index(room, wall)]

            def at(along: float, deep: float = 0.0) -> Point:
                (x, y), (dx, dy), (nx, ny) = edge.left, edge.along, edge.outward
                return (x + dx * along - nx * deep, y + dy * along - ny * deep)

            for place in places or ([on.along] if on is not None else []):
                paint_handle(painter, port.to_screen(at(place)), inks.held)
            if len(places) == 2:
                low, high = sorted(places)
                ring = [at(low), at(low, depth), at(high, depth), at(high)]
                colour = inks.barred if self.trouble else inks.held
                paint_path(painter, on_screen(ring, port), colour, closed=True)
        super().paint(painter, port, inks)

    @property
    def _size(self) -> tuple[float, float]:
        return self.depth, self.drop
