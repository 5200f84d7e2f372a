"""Putting a door, a window, a hatch or a light where it is: hover, click or type."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QPainter

from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk, Held
from roomboard.app.examples import in_units, no_room
from roomboard.app.gestures.doing import Doing, RoomEdit
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.ghosts import begins_with, outline_of
from roomboard.app.gestures.lie import (
    OnWall,
    held_wall,
    in_plan,
    on_face,
    wall_aimed,
    whole,
)
from roomboard.app.gestures.marks import on_screen, paint_path
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing.ceiling_openings import add_ceiling_opening, middle, nearest_walls
from roomboard.core.editing.openings import add_opening
from roomboard.core.editing.refusal import CEILING, wall_words
from roomboard.core.measure_places import TypedOpening, read_opening
from roomboard.core.plane import Point, Region, same
from roomboard.core.project import Opening, OpeningKind, Room
from roomboard.core.units import Refusal

IN_CEILING = frozenset({OpeningKind.HATCH, OpeningKind.LIGHT, OpeningKind.DUCT})
"""Openings that go into the ceiling, or into a wall that is pointed at."""
MANY = frozenset({OpeningKind.LIGHT, OpeningKind.DUCT})
"""Openings of which there are many: after one goes the next."""


_Size = tuple[float, float, float, bool]
"""Width, height, sill and whether it is round."""


@dataclass(frozen=True)
class Spot:
    """Where an opening would go.

    Attributes:
        host: Wall id, or ``"ceiling"``.
        index: Which edge of the outline its wall stands on; -1 for the ceiling.
        left: From the wall's left end, or x in plan, to its nearer side, mm.
        bottom: From the floor, or y in plan, to its lower side, mm.
        words: What it was snapped to, or empty.
    """

    host: str
    index: int
    left: float
    bottom: float
    words: str = ""


class PlaceOpening(Doing):
    """Puts an opening of a kind into a wall or the ceiling.

    Attributes:
        kind: What it is for.
        spot: Where it would go at the moment; None before any aim.
    """

    def __init__(self, desk: Desk, kind: OpeningKind) -> None:
        super().__init__(desk)
        self.kind = kind
        like = begins_with(self.room, desk, kind)
        self.width, self.height, self.is_round = like.width, like.height, like.is_round
        self.bottom = like.bottom if like.host != CEILING else 0.0
        self.spot: Spot | None = None
        self._aim: Aim | None = None
        self._typed: tuple[Spot, _Size] | None = None
        place = tr("a wall") if kind not in IN_CEILING else tr("the ceiling")
        example = "at 900" if kind not in IN_CEILING else "at 1200, 900"
        self.hint = tr(
            "Click {place}, or type such as {size} {example}:",
            place=place,
            size=self._size_words(),
            example=in_units(example, self.units),
        )

    def _size_words(self) -> str:
        one = self.length(self.width).removesuffix(" mm")
        two = self.length(self.height).removesuffix(" mm")
        return one if self.is_round else f"{one} x {two}"

    # --- the pointer --------------------------------------------------------------------

    def move(self, aim: Aim) -> None:
        """Show it where it would go."""
        self._aim = aim
        self.screen = aim.screen
        self.spot = self._spot(aim)
        if self._typed is None:
            self._tell()

    def press(self, aim: Aim) -> None:
        """Put it there."""
        self.move(aim)
        if self.spot is not None:
            self._put(self.spot)

    def _spot(self, aim: Aim) -> Spot | None:
        room = self.room
        if room is None:
            return None
        on = on_face(room, aim)
        at = in_plan(self.desk, aim)
        if on is None and at is not None and self.kind in IN_CEILING:
            return self._in_ceiling(room, at, aim)
        on = on or wall_aimed(self.desk, room, aim)
        return self._in_wall(on, aim) if on is not None else None

    def _in_wall(self, on: OnWall, aim: Aim) -> Spot:
        left = on.along - self.width / 2
        right = on.length - left - self.width
        words = ""
        if not aim.fine and abs(left - right) / 2 <= aim.reach:
            left, words = (left + right) / 2, tr("middle of the wall")
        elif left <= right:
            left = whole(left, self.units)
        else:
            left = on.length - self.width - whole(right, self.units)
        left = min(max(left, 0.0), max(on.length - self.width, 0.0))
        bottom = self.bottom
        if aim.free and on.up is not None:
            bottom = max(0.0, whole(on.up - self.height / 2, self.units))
        return Spot(on.wall.id, on.index, left, bottom, words)

    def _in_ceiling(self, room: Room, at: Point, aim: Aim) -> Spot:
        bounds = Region.of(room.outline).bounds
        others = [middle(o) for o in room.openings if o.host == CEILING]
        place: list[float] = []
        said: list[str] = []
        for axis in (0, 1):
            value = whole(at[axis], self.units)
            known = [(o[axis], tr("in line with another")) for o in others]
            known.append(((bounds[axis] + bounds[axis + 2]) / 2, tr("middle of the room")))
            near = [(abs(k - at[axis]), n) for n, (k, _) in enumerate(known)]
            if not aim.fine and min(near)[0] <= aim.reach:
                value, words = known[min(near)[1]]
                said.append(words)
            place.append(value)
        deep = self.width if self.is_round else self.height
        words = ", ".join(dict.fromkeys(said))
        return Spot(CEILING, -1, place[0] - self.width / 2, place[1] - deep / 2, words)

    # --- what is typed ------------------------------------------------------------------

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        self.typing, self._typed = text.strip(), None
        self._tell()
        if not self.typing:
            return "", True
        read = self._read(text)
        if isinstance(read, str):
            return read, False
        spot = read[1]
        if spot is None:
            return tr("= {size}; now click where", size=self._size_of(read[0])), True
        self._typed = (spot, read[0])
        self.trouble = self.refusal(self._change(spot, read[0]))
        self.figures = self._place_words(spot, read[0])
        return (self.trouble, False) if self.trouble else (f"= {self.figures}", True)

    def typed(self, text: str) -> str:
        """Put it where the text says; a size alone is kept for the next click."""
        self.typing, self._typed = "", None
        if not text.strip():
            if self.spot is None:
                return tr("Point at the place, or type one such as at 900.")
            return self._put(self.spot)
        read = self._read(text)
        if isinstance(read, str):
            return read
        size, spot = read
        if spot is not None:
            trouble = self.refusal(self._change(spot, size))
            if trouble:
                return trouble
        self.width, self.height, self.bottom, self.is_round = size
        if spot is None:
            if self._aim is not None:
                self.move(self._aim)
            return ""
        return self._put(spot)

    def _read(self, text: str) -> str | tuple[_Size, Spot | None]:
        """Return the size and the place that typed text gives, or why it is refused."""
        room = self.room
        if room is None:
            return no_room(self.units)
        read = read_opening(text, self.units, small=self.kind in MANY)
        if isinstance(read, Refusal):
            return read.sentence
        host = self.spot.host if self.spot is not None else held_wall(self.desk)
        if self.kind in IN_CEILING and (self.spot is None and (read.up or not host)):
            host = CEILING
        if not host:
            return tr("Point at a wall or take hold of one first, or press its letter’s button.")
        size = self._typed_size(read, host)
        if isinstance(size, str):
            return size
        if host == CEILING:
            return self._typed_in_ceiling(room, read, size)
        at = read.at or read.lone
        if at is None:
            on_it = self.spot if read.size is None else None
            return size, (
                Spot(on_it.host, on_it.index, on_it.left, size[2]) if on_it is not None else None
            )
        index = next(i for i, w in enumerate(room.walls) if w.id == host)
        length = room.wall_length(index)
        left = length - size[0] - at.mm if read.is_from_right else at.mm
        return size, Spot(host, index, left, size[2])

    def _typed_size(self, read: TypedOpening, host: str) -> str | _Size:
        width, height, bottom = self.width, self.height, self.bottom
        is_round = self.is_round
        if read.size is not None:
            width, height, is_round = read.size.first.mm, read.size.second.mm, False
        elif read.lone is not None and host == CEILING:
            width = height = read.lone.mm
        if read.sill is not None:
            bottom = read.sill.mm
        if read.head is not None:
            if read.sill is not None and read.size is None:
                height = read.head.mm - bottom
            elif read.sill is not None and not same(bottom + height, read.head.mm):
                return tr("Size, sill and head do not agree; leave one of them out.")
            else:
                bottom = read.head.mm - height
        return width, height, bottom, is_round

    def _typed_in_ceiling(
        self, room: Room, read: TypedOpening, size: _Size
    ) -> str | tuple[_Size, Spot | None]:
        if read.at is None:
            return size, None
        if read.up is None:
            return in_units(
                tr("A place on a ceiling needs two lengths, e.g. at 1200, 900."), self.units
            )
        low_x, low_y, _, _ = Region.of(room.outline).bounds
        x, y = low_x + read.at.mm, low_y + read.up.mm
        if size[3]:  # a round one is set out by its middle
            x, y = x - size[0] / 2, y - size[0] / 2
        return size, Spot(CEILING, -1, x, y)

    # --- doing it -----------------------------------------------------------------------

    @property
    def _now(self) -> _Size:
        return self.width, self.height, self.bottom, self.is_round

    def _change(self, spot: Spot, size: _Size) -> RoomEdit:
        width, height, _, is_round = size
        if spot.host == CEILING:
            deep = width if is_round else height
            at = (spot.left + width / 2, spot.bottom + deep / 2)
            return lambda room: add_ceiling_opening(
                room, self.kind, at, width, height, is_round=is_round
            )
        return lambda room: add_opening(
            room, spot.host, self.kind, spot.left, spot.bottom, width, height
        )

    def _put(self, spot: Spot) -> str:
        words = tr("Put in a {kind}", kind=tr(self.kind.value))
        trouble = self.make(words, self._change(spot, self._now))
        if trouble:
            return trouble
        room = self.room
        if room is not None and room.openings:
            key = CEILING if spot.host == CEILING else f"wall:{spot.host}"
            self.desk.hold(Held("opening", room.openings[-1].id, f"{room.id}/{key}"))
        self.done = self.kind not in MANY
        self._tell()
        return ""

    # --- what is drawn ------------------------------------------------------------------

    def _size_of(self, size: _Size) -> str:
        width, height, _, is_round = size
        if is_round:
            return tr("{width} across", width=self.length(width))
        return f"{self.length(width)} × {self.length(height)}"

    def _place_words(self, spot: Spot, size: _Size) -> str:
        room = self.room
        if room is None:
            return ""
        words = self._size_of(size)
        if spot.host == CEILING:
            made = Opening(
                id="",
                kind=self.kind,
                host=CEILING,
                left=spot.left,
                bottom=spot.bottom,
                width=size[0],
                height=size[0] if size[3] else size[1],
                is_round=size[3],
            )
            names = {w.id: wall_words(w) for w in room.walls}
            one, two = nearest_walls(room, made)
            places = "\n".join(
                tr("{mm} from {wall}", mm=self.length(w.mm), wall=names[w.wall]) for w in (one, two)
            )
            return f"{words}\n{places}"
        right = room.wall_length(spot.index) - spot.left - size[0]
        lines = [
            words,
            self.from_both_ends(room.walls[spot.index], spot.left, right),
        ]
        if spot.bottom:
            lines.append(tr("sill {sill}", sill=self.length(spot.bottom)))
        return "\n".join(lines)

    def _tell(self) -> None:
        spot = self.spot
        self.trouble, self.figures = "", ""
        if spot is None or self.done:
            return
        self.trouble = self.refusal(self._change(spot, self._now))
        self.figures = self._place_words(spot, self._now)
        if spot.words:
            self.figures += f"\n{spot.words}"

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw it where it would go, with its distances from both corners."""
        room = self.room
        # What is typed is shown where it would go, whatever the pointer is on.
        spot, size = self._typed or (self.spot, self._now)
        if spot is not None and room is not None:
            colour = inks.barred if self.trouble else inks.held
            width, height, _, is_round = size
            box = (spot.left, spot.bottom, width, width if is_round else height)
            ring, arms = outline_of(room, self.view, spot.index, box, is_round=is_round)
            paint_path(painter, on_screen(ring, port), colour, closed=True)
            for arm in arms:
                paint_path(painter, on_screen(arm, port), inks.aimed, dashed=True, width=1.0)
        super().paint(painter, port, inks)
