"""Dragging lines square to themselves: control joints across their face, a ridge in plan."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag import Drag
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import whole
from roomboard.app.words import tr
from roomboard.core.editing.controls import control_places, is_at, move_control
from roomboard.core.editing.refusal import wall_words
from roomboard.core.editing.ridges import Ridge, move_ridge, ridge_of
from roomboard.core.plane import Region
from roomboard.core.project import Axis, ControlLine, Room
from roomboard.core.surface import Surface
from roomboard.core.units import Refusal


class ControlDrag(Drag):
    """Moves a control joint square to itself; the sheets on either side follow.

    Args:
        desk: The desk.
        surface: The face it lies on, as it was before.
        line: The joint.
    """

    def __init__(self, desk: Desk, surface: Surface, line: ControlLine) -> None:
        super().__init__(desk, tr("Move a control joint"))
        self.surface = surface
        self.line = line
        self.hint = (
            tr("Drag it, or type how far it lies from the left side:")
            if line.axis is Axis.U
            else tr("Drag it, or type how far it lies from the lower side:")
        )
        own = [p for p in control_places(surface, line.axis) if is_at(surface, line, p)]
        self._from = own[0] if own else line.at
        self._to = self._from

    def _change(self, to: float) -> RoomEdit:
        self._to = to
        return lambda room: move_control(room, self.surface, self.line, to)

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:  # noqa: ARG002
        """Move it as the pointer moved across it."""
        if start.pane is None:
            return None
        back = start.pane.placing.inverse()
        way = 0 if self.line.axis is Axis.U else 1
        by = back.apply(aim.at)[way] - back.apply(start.at)[way]
        return self._change(whole(self._from + by, self.units))

    def told(self, before: Room, after: Room) -> str:  # noqa: ARG002 - the joint knows
        """Tell how far it lies from the side it is measured from."""
        side = tr("from the left") if self.line.axis is Axis.U else tr("from below")
        return f"{self.length(self._to)} {side}"

    def meant(self, room: Room, text: str) -> RoomEdit | str:  # noqa: ARG002
        """Put it at a distance from the left or the lower side."""
        read = self.read(text)
        return read.sentence if isinstance(read, Refusal) else self._change(read)


def ridge_near(room: Room, aim: Aim) -> Ridge | None:
    """Return the ridge of a room that lies under the pointer in plan, or None."""
    ridge = ridge_of(room)
    if ridge is None or not Region.of(room.outline).contains(aim.at):
        return None
    (x, y), (at_x, at_y) = aim.at, ridge.near.at
    off = (x - at_x) * ridge.inward[0] + (y - at_y) * ridge.inward[1]
    return ridge if abs(off) <= aim.reach else None


class RidgeDrag(Drag):
    """Moves the ridge of a ceiling; its height and those at the sides stay.

    Args:
        desk: The desk.
        ridge: As it was before.
    """

    def __init__(self, desk: Desk, ridge: Ridge) -> None:
        super().__init__(desk, tr("Move a ridge"))
        self.ridge = ridge
        self.hint = tr("Drag the ridge, or type how far it runs from {wall}:", wall=self._wall())

    def _wall(self) -> str:
        room = self.room
        wall = room.wall(self.ridge.wall) if room is not None else None
        return wall_words(wall) if wall is not None else self.ridge.wall

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:  # noqa: ARG002
        """Move it as the pointer moved across it, or to the middle of the room."""
        (dx, dy), ridge = (aim.at[0] - start.at[0], aim.at[1] - start.at[1]), self.ridge
        to = ridge.away + dx * ridge.inward[0] + dy * ridge.inward[1]
        middle = ridge.depth / 2
        near = abs(to - middle) <= aim.reach and not aim.fine
        to = middle if near else whole(to, self.units)
        return lambda room: move_ridge(room, to)

    def told(self, before: Room, after: Room) -> str:  # noqa: ARG002 - others need both
        """Tell where it runs and how steep the slopes are."""
        now = ridge_of(after)
        if now is None:
            return ""
        pitches = (f"{part.pitch_deg:.1f}°" for part in (now.near, now.far))
        return "\n".join(
            (
                tr("{away} from {wall}", away=self.length(now.away), wall=self._wall()),
                tr("pitch {near} and {far}", **dict(zip(("near", "far"), pitches, strict=True))),
            )
        )

    def meant(self, room: Room, text: str) -> RoomEdit | str:  # noqa: ARG002
        """Put it at a distance from its wall."""
        read = self.read(text)
        return read.sentence if isinstance(read, Refusal) else lambda room: move_ridge(room, read)
