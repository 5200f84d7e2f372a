"""Dragging bulkheads and columns in plan."""

from __future__ import annotations

from roomboard.app.desk import Desk, Held
from roomboard.app.examples import in_units
from roomboard.app.figures.things import BULKHEAD, COLUMN
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag import Drag
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import whole
from roomboard.app.words import tr
from roomboard.core.editing.bulkheads import bulkhead_of, set_bulkhead
from roomboard.core.editing.columns import (
    box_of_column,
    column_of,
    is_square,
    move_column,
    resize_column,
)
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.refusal import bulkhead_words, column_words, wall_index
from roomboard.core.measure_places import read_opening
from roomboard.core.plane import Point, Region
from roomboard.core.project import Bulkhead, Column, Room
from roomboard.core.units import Refusal

LEFT, RIGHT, FRONT, WHOLE = "left", "right", "front", "whole"
TELLS = 4.0
"""A column that is not this many times as large as the pointer reaches is only moved whole."""


class BulkheadDrag(Drag):
    """Moves a bulkhead along its wall, or one of its ends, or its front.

    Attributes:
        bulkhead: As it was before.
        part: What of it is dragged: ``"left"``, ``"right"``, ``"front"`` or ``"whole"``.
    """

    def __init__(self, desk: Desk, bulkhead: Bulkhead) -> None:
        super().__init__(desk, tr("Move {bulkhead}", bulkhead=bulkhead_words(bulkhead)))
        self.bulkhead = bulkhead
        self.part = WHOLE
        desk.hold(Held(BULKHEAD, f"{BULKHEAD}:{bulkhead.id}"))

    def press(self, aim: Aim) -> None:
        """Begin with the part that lies under the pointer."""
        room = self.room
        if self._start is None and room is not None:
            self.part = self._part(room, aim)
            self.hint = {
                LEFT: tr("Drag its left end, or type how far it is from the left corner:"),
                RIGHT: tr("Drag its right end, or type how long it is:"),
                FRONT: tr("Drag its front, or type how deep it is:"),
                WHOLE: tr("Drag it along its wall, or type how far it is from the left corner:"),
            }[self.part]
        super().press(aim)

    def _place(self, room: Room, aim: Aim) -> Point:
        """Return the pointer along the wall from its left end, and out from the wall."""
        edge = edges_of(room)[wall_index(room, self.bulkhead.wall)]
        dx, dy = aim.at[0] - edge.left[0], aim.at[1] - edge.left[1]
        return (dx * edge.along[0] + dy * edge.along[1], -edge.offset(aim.at))

    def _part(self, room: Room, aim: Aim) -> str:
        own = self.bulkhead
        along, out = self._place(room, aim)
        near = {
            FRONT: abs(out - own.depth),
            LEFT: abs(along - own.left),
            RIGHT: abs(along - own.left - own.length),
        }
        part = min(near, key=near.__getitem__)
        return part if near[part] <= aim.reach else WHOLE

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Move the part as the pointer moved."""
        (u0, v0), (u1, v1) = self._place(room, start), self._place(room, aim)
        own = self.bulkhead
        length = room.wall_length(wall_index(room, own.wall))
        by = whole(u1 - u0, self.units)
        if self.part == FRONT:
            return self._sized(depth=own.depth + whole(v1 - v0, self.units))
        if self.part == LEFT:
            left = min(max(own.left + by, 0.0), own.left + own.length)
            return self._sized(left=left, length=own.left + own.length - left)
        if self.part == RIGHT:
            return self._sized(length=min(own.length + by, length - own.left))
        return self._sized(left=min(max(own.left + by, 0.0), length - own.length))

    def _sized(self, **sizes: float) -> RoomEdit:
        ident = self.bulkhead.id
        return lambda room: set_bulkhead(room, ident, sizes=sizes)

    def told(self, before: Room, after: Room) -> str:
        """Tell its length and depth, and how far it is from both corners."""
        now = bulkhead_of(after, self.bulkhead.id)
        length = before.wall_length(wall_index(before, now.wall))
        return "\n".join(
            (
                tr(
                    "{length} long, {depth} deep",
                    length=self.length(now.length),
                    depth=self.length(now.depth),
                ),
                tr(
                    "{left} from the left, {right} from the right",
                    left=self.length(now.left),
                    right=self.length(length - now.left - now.length),
                ),
            )
        )

    def meant(self, room: Room, text: str) -> RoomEdit | str:  # noqa: ARG002 - others need it
        """Give the part that is dragged the typed length."""
        read = self.read(text)
        if isinstance(read, Refusal):
            return read.sentence
        own = self.bulkhead
        if self.part == FRONT:
            return self._sized(depth=read)
        if self.part == RIGHT:
            return self._sized(length=read)
        if self.part == LEFT:
            return self._sized(left=read, length=own.left + own.length - read)
        return self._sized(left=read)


class ColumnDrag(Drag):
    """Moves a column in plan, level or upright unless Shift is held, or one of its four sides.

    Attributes:
        column: As it was before.
        side: Which side is dragged: 0 for x and 1 for y, then -1 for the low and 1 for the high
            one; None for the whole of it.
    """

    def __init__(self, desk: Desk, column: Column) -> None:
        super().__init__(desk, tr("Move {column}", column=column_words(column)))
        self.column = column
        self.side: tuple[int, int] | None = None
        desk.hold(Held(COLUMN, f"{COLUMN}:{column.id}"))

    def press(self, aim: Aim) -> None:
        """Begin with the side that lies under the pointer, or with the whole."""
        room = self.room
        if self._start is None and room is not None:
            self.side = self._side(aim)
            if self.side is None:
                said = tr(
                    "Drag it, or type its place from the leftmost and the lowest wall: 1200, 900:"
                )
                self.hint = in_units(said, self.units)
            elif self.side[0] == 0:
                self.hint = tr("Drag this side, or type how wide the column is:")
            else:
                self.hint = tr("Drag this side, or type how deep the column is:")
        super().press(aim)

    def _side(self, aim: Aim) -> tuple[int, int] | None:
        """Return the side under the pointer, if the column is drawn large enough to tell."""
        if not is_square(self.column):
            return None
        x0, y0, x1, y1 = Region.of(self.column.outline).bounds
        sides = [
            (abs(at - aim.at[way]), (way, end))
            for way, low, high in ((0, x0, x1), (1, y0, y1))
            if high - low > TELLS * aim.reach
            for at, end in ((low, -1), (high, 1))
        ]
        off, side = min(sides, default=(aim.reach + 1.0, None))
        return side if off <= aim.reach else None

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Move it or its side as the pointer moved."""
        by = (aim.at[0] - start.at[0], aim.at[1] - start.at[1])
        if self.side is not None:
            way, end = self.side
            size = box_of_column(room, self.column)[2 + way]
            return self._sized(room, size + end * whole(by[way], self.units))
        dx, dy = by
        if not aim.free:
            dx, dy = (dx, 0.0) if abs(dx) >= abs(dy) else (0.0, dy)
        x, y, _, _ = box_of_column(room, self.column)
        ident, units = self.column.id, self.units
        return lambda r: move_column(r, ident, x + whole(dx, units), y + whole(dy, units))

    def _sized(self, room: Room, size: float) -> RoomEdit:
        """Return the edit that gives it a size across the side dragged; the far side stays."""
        way, end = self.side or (0, 1)
        ident = self.column.id
        x, y, *was = box_of_column(room, self.column)
        by = size - was[way] if end < 0 else 0.0
        to = (x - by, y) if way == 0 else (x, y - by)
        width, depth = (size, None) if way == 0 else (None, size)

        def moved(r: Room) -> Room:
            return move_column(r, ident, *to)

        def sized(r: Room) -> Room:
            return resize_column(r, ident, width, depth)

        # In between it never reaches further than before and after.
        return (lambda r: sized(moved(r))) if by > 0 else (lambda r: moved(sized(r)))

    def told(self, before: Room, after: Room) -> str:  # noqa: ARG002 - others need both
        """Tell its size if that changes, and how far it stands from the two walls."""
        x, y, width, depth = box_of_column(after, column_of(after, self.column.id))
        place = tr("{x} from the left, {y} from below", x=self.length(x), y=self.length(y))
        if self.side is None:
            return place
        return f"{self.length(width)} × {self.length(depth)}\n{place}"

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Place it from the leftmost wall or from both, or give it a size."""
        if self.side is not None:
            size = self.read(text)
            return size.sentence if isinstance(size, Refusal) else self._sized(room, size)
        read = read_opening(f"at {text.removeprefix('at ')}", self.units)
        if isinstance(read, Refusal):
            return read.sentence
        if read.at is None:
            return tr("Type one length or two: how far it stands from the walls.")
        _, y, _, _ = box_of_column(room, self.column)
        to_x, to_y = read.at.mm, read.up.mm if read.up is not None else y
        return lambda r: move_column(r, self.column.id, to_x, to_y)
