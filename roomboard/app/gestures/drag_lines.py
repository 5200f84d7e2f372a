"""Dragging a control joint across its face."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag import Drag
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import whole
from roomboard.app.words import tr
from roomboard.core.editing.controls import control_places, is_at, move_control
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
