"""Putting a column into the room: click where, or type its size and place."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk, Held
from roomboard.app.examples import in_units
from roomboard.app.figures.things import COLUMN
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import (
    in_plan,
    lies_as_plan,
    whole,
)
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.columns import add_column
from roomboard.core.measure_places import read_opening
from roomboard.core.plane import Point, Region
from roomboard.core.units import Refusal
from roomboard.storage.usual_sizes import usual_box

Box = tuple[float, float, float, float]
"""A column's place from the leftmost and the lowest wall, and its sizes along x and y, mm."""


class PlaceColumn(Doing):
    """Puts a column into the room: a click, or its size and place typed.

    Attributes:
        size: Along x and y, mm.
        spot: Its place from the room's leftmost and lowest wall; None before any aim.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.size = self._usual()
        self.spot: Point | None = None
        self._typed: Box | None = None
        said = tr("Click where its middle stands, or type such as 400 x 300 at 1200, 900:")
        self.hint = in_units(said, self.units)

    def _usual(self) -> tuple[float, float]:
        for room in (self.room, *reversed(self.desk.document.project.rooms)):
            if room is not None and room.columns:
                x0, y0, x1, y1 = Region.of(room.columns[-1].outline).bounds
                return x1 - x0, y1 - y0
        return usual_box(COLUMN, self.units)

    def move(self, aim: Aim) -> None:
        """Show it where it would stand."""
        room = self.room
        self.screen = aim.screen
        at = in_plan(self.desk, aim)
        self.spot = None
        if room is None or at is None:
            return
        low_x, low_y, high_x, high_y = Region.of(room.outline).bounds
        place: list[float] = []
        said: list[str] = []
        for value, low, high, size in (
            (at[0], low_x, high_x, self.size[0]),
            (at[1], low_y, high_y, self.size[1]),
        ):
            own = value - low - size / 2
            known = ((0.0, tr("at the wall")), (high - low - size, tr("at the wall")))
            middle = ((high - low - size) / 2, tr("middle of the room"))
            near = min((*known, middle), key=lambda k, own=own: abs(k[0] - own))  # type: ignore[misc]
            if not aim.fine and abs(near[0] - own) <= aim.reach:
                place.append(near[0])
                said.append(near[1])
            else:
                place.append(whole(own, self.units))
        self.spot = (place[0], place[1])
        self._tell(", ".join(dict.fromkeys(said)))

    def _tell(self, words: str) -> None:
        if self.spot is None:
            return
        box = (*self.spot, *self.size)
        self.trouble = self.refusal(self._change(box))
        self.figures = self._words(box) + (f"\n{words}" if words else "")

    def press(self, aim: Aim) -> None:
        """Put it there."""
        self.move(aim)
        if self.spot is not None:
            self._put((*self.spot, *self.size))

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        self._typed = None
        if not text.strip():
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        box, placed = read
        if not placed:
            words = f"{self.length(box[2])} × {self.length(box[3])}"
            return tr("= {size}; now click where", size=words), True
        self._typed = box
        trouble = self.refusal(self._change(box))
        return (trouble, False) if trouble else (f"= {self._words(box)}", True)

    def typed(self, text: str) -> str:
        """Put it where the text says; a size alone is kept for the next click."""
        self._typed = None
        if not text.strip():
            if self.spot is None:
                return self.hint
            return self._put((*self.spot, *self.size))
        read = self._read(text)
        if isinstance(read, str):
            return read
        box, placed = read
        if placed:
            return self._put(box)
        self.size = box[2:]
        return ""

    def _read(self, text: str) -> str | tuple[Box, bool]:
        """Return place and size as typed and whether a place was, or why they are refused."""
        read = read_opening(text, self.units, small=True)
        if isinstance(read, Refusal):
            return read.sentence
        if read.sill is not None or read.head is not None:
            return tr("A column goes from floor to ceiling; type its size and its place.")
        width, depth = self.size
        if read.size is not None:
            width, depth = read.size.first.mm, read.size.second.mm
        elif read.lone is not None:
            width = depth = read.lone.mm
        if read.at is None:
            return (0.0, 0.0, width, depth), False
        if read.up is None:
            said = tr(
                "A place in the room needs two lengths, from the leftmost and the lowest wall: "
                "at 1200, 900."
            )
            return in_units(said, self.units)
        return (read.at.mm, read.up.mm, width, depth), True

    @staticmethod
    def _change(box: Box) -> RoomEdit:
        return lambda room: add_column(room, *box)

    def _put(self, box: Box) -> str:
        trouble = self.make(tr("Put in a column"), self._change(box))
        room = self.room
        self.done = not trouble
        if not trouble and room is not None:
            self.desk.hold(Held(COLUMN, f"{COLUMN}:{room.columns[-1].id}"))
        return trouble

    def _words(self, box: Box) -> str:
        x, y, width, depth = (self.length(v) for v in box)
        return tr(
            "{width} × {depth}, {x} from the left, {y} from below",
            width=width,
            depth=depth,
            x=x,
            y=y,
        )

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw it where it would stand."""
        room = self.room
        box = self._typed or ((*self.spot, *self.size) if self.spot is not None else None)
        if room is not None and box is not None and lies_as_plan(self.desk):
            low_x, low_y, _, _ = Region.of(room.outline).bounds
            x, y = low_x + box[0], low_y + box[1]
            ring = [(x, y), (x + box[2], y), (x + box[2], y + box[3]), (x, y + box[3])]
            colour = inks.barred if self.trouble else inks.held
            paint_path(painter, on_screen(ring, port), colour, closed=True)
        super().paint(painter, port, inks)
