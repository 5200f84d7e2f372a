"""Dragging doors, windows and hatches."""

from __future__ import annotations

from roomboard.app.desk import Desk, Held
from roomboard.app.examples import in_units
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag import Drag
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import whole
from roomboard.app.words import tr
from roomboard.core.editing.ceiling_openings import (
    FromWall,
    middle,
    move_ceiling_opening,
    nearest_walls,
    set_from_walls,
)
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.openings import (
    Side,
    move_opening,
    nearest_corner,
    set_from_corner,
    set_sill,
)
from roomboard.core.editing.refusal import CEILING, opening_words, wall_index, wall_words
from roomboard.core.measure_places import read_opening
from roomboard.core.plane import Point
from roomboard.core.project import Opening, Room
from roomboard.core.units import Refusal


def _found(room: Room, opening: Opening) -> Opening:
    return next(o for o in room.openings if o.id == opening.id)


class OpeningDrag(Drag):
    """Moves an opening along its wall or, on the wall's face, up and down."""

    def __init__(self, desk: Desk, opening: Opening) -> None:
        super().__init__(desk, tr("Move {opening}", opening=opening_words(opening)))
        self.opening = opening
        self.hint = tr("Drag it, or type how far it stands from the nearer corner:")
        self.upright = False
        key = f"{desk.room_id}/wall:{opening.host}"
        desk.hold(Held("opening", opening.id, key))

    def _on_wall(self, room: Room, aim: Aim) -> Point:
        """Return the pointer on the wall: from its left end, and from the floor."""
        start = self._start
        if start is not None and start.pane is not None and start.pane.key.startswith("wall:"):
            return start.pane.placing.inverse().apply(aim.at)
        edge = edges_of(room)[wall_index(room, self.opening.host)]
        dx, dy = aim.at[0] - edge.left[0], aim.at[1] - edge.left[1]
        return (dx * edge.along[0] + dy * edge.along[1], 0.0)

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Move it as the pointer moved: along the wall or upright, both with Shift."""
        own = self.opening
        (u0, v0), (u1, v1) = self._on_wall(room, start), self._on_wall(room, aim)
        by, up = u1 - u0, v1 - v0
        stands = own.bottom <= 0 and not aim.free
        self.upright = abs(up) > abs(by) and not stands
        if not aim.free or stands:
            by, up = (0.0, up) if self.upright else (by, 0.0)
        length = room.wall_length(wall_index(room, own.host))
        left = own.left + by
        right = length - own.left - own.width - by
        if by:
            left = (
                whole(left, self.units)
                if left <= right
                else length - own.width - whole(right, self.units)
            )
        if abs(left - (length - own.width) / 2) <= aim.reach and by and not aim.fine:
            left = (length - own.width) / 2
        bottom = whole(own.bottom + up, self.units) if up else own.bottom
        return lambda r: move_opening(r, own.id, left, bottom, keep_in=True)

    def told(self, before: Room, after: Room) -> str:
        """Tell how far it stands from both corners, and its sill and head."""
        now = _found(after, self.opening)
        length = before.wall_length(wall_index(before, self.opening.host))
        lines = [
            tr(
                "{left} from the left, {right} from the right",
                left=self.length(now.left),
                right=self.length(length - now.left - now.width),
            )
        ]
        if now.bottom or self.upright:
            lines.append(
                tr(
                    "sill {sill}, head {head}",
                    sill=self.length(now.bottom),
                    head=self.length(now.bottom + now.height),
                )
            )
        return "\n".join(lines)

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Place it from the nearer corner, or by its sill or head."""
        read = read_opening(text, self.units)
        if isinstance(read, Refusal):
            return read.sentence
        own = self.opening
        if read.sill is not None or read.head is not None:
            sill = read.sill.mm if read.sill else 0.0
            if read.head is not None and read.sill is None:
                sill = read.head.mm - own.height
            return lambda r: set_sill(r, own.id, sill, keep_head=False)
        at = read.lone or read.at
        if at is None:
            return tr("Type one length: how far it stands from the corner.")
        if read.lone is not None and self.upright:
            return lambda r: set_sill(r, own.id, at.mm, keep_head=False)
        side = Side.RIGHT if read.is_from_right else Side.LEFT
        if read.lone is not None:
            shown = self.desk.room or room
            side = nearest_corner(shown, _found(shown, own))[0]
        return lambda r: set_from_corner(r, own.id, side, at.mm)


class CeilingOpeningDrag(Drag):
    """Moves a hatch, a light or a duct in plan."""

    def __init__(self, desk: Desk, opening: Opening) -> None:
        super().__init__(desk, tr("Move {opening}", opening=opening_words(opening)))
        self.opening = opening
        said = tr("Drag it, or type how far it stands from one wall or two: 1200, 900:")
        self.hint = in_units(said, self.units)
        desk.hold(Held("opening", opening.id, f"{desk.room_id}/{CEILING}"))

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:  # noqa: ARG002
        """Move it as the pointer moved, level or upright unless Shift is held."""
        own = self.opening
        dx, dy = aim.at[0] - start.at[0], aim.at[1] - start.at[1]
        if not aim.free:
            dx, dy = (dx, 0.0) if abs(dx) >= abs(dy) else (0.0, dy)
        x, y = middle(own)
        to = (x + whole(dx, self.units), y + whole(dy, self.units))
        return lambda r: move_ceiling_opening(r, own.id, to)

    def _walls(self, room: Room) -> tuple[FromWall, FromWall]:
        return nearest_walls(room, _found(room, self.opening))

    def told(self, before: Room, after: Room) -> str:
        """Tell how far it stands from the two nearest walls."""
        names = {w.id: wall_words(w) for w in before.walls}
        return "\n".join(
            tr("{mm} from {wall}", mm=self.length(w.mm), wall=names[w.wall])
            for w in self._walls(after)
        )

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Place it from the nearest wall, or from two."""
        read = read_opening(f"at {text.removeprefix('at ')}", self.units)
        if isinstance(read, Refusal):
            return read.sentence
        if read.at is None:
            return tr("Type one length or two: how far it stands from the walls.")
        shown = self.desk.room or room
        one, two = self._walls(shown)
        first = FromWall(one.wall, read.at.mm)
        second = FromWall(two.wall, read.up.mm) if read.up is not None else two
        return lambda r: set_from_walls(r, self.opening.id, first, second)
