"""Which gesture dragging from a place begins."""

from __future__ import annotations

from roomboard.app.desk import BELOW, Desk
from roomboard.app.figures.things import BULKHEAD, COLUMN, box_of
from roomboard.app.gestures.drag_boxes import BulkheadDrag, ColumnDrag
from roomboard.app.gestures.drag_framing import BoundaryDrag, MemberDrag
from roomboard.app.gestures.drag_lines import RidgeDrag, ridge_near
from roomboard.app.gestures.drag_openings import CeilingOpeningDrag, OpeningDrag
from roomboard.app.gestures.drag_room import CornerDrag, WallDrag
from roomboard.app.gestures.gesture import Aim, Gesture
from roomboard.app.gestures.lie import corner_near, in_plan, lies_as_plan, picked_member, wall_near
from roomboard.core.editing.boundaries import boundary_at
from roomboard.core.editing.refusal import CEILING
from roomboard.core.project import Column, Room


def drag_for(desk: Desk, aim: Aim) -> Gesture | None:
    """Return the gesture that dragging what lies under the pointer begins, or None to pan.

    What can be dragged depends on the lens: measured things in the first, framing in the
    second, joints in the others.

    Args:
        desk: The desk.
        aim: Where the button was pressed.
    """
    room = desk.document.project.room(desk.room_id)
    if room is None or (desk.view == BELOW and desk.lens in {"measure", "frame"}):
        return None  # left and right are swapped there: it is for looking up, not for measuring
    if desk.lens == "measure":
        return _measured(desk, room, aim)
    if desk.lens == "frame":
        return _framed(desk, room, aim)
    from roomboard.app.joints import joint_drag

    return joint_drag(desk, aim)


def _measured(desk: Desk, room: Room, aim: Aim) -> Gesture | None:
    openings = {o.id: o for o in room.openings}
    for picked in aim.picked:
        opening = openings.get(picked.ref)
        if picked.layer == "opening" and opening is not None:
            if opening.host == CEILING:
                return CeilingOpeningDrag(desk, opening)
            return OpeningDrag(desk, opening)
    if not lies_as_plan(desk):
        return None
    corner = corner_near(room, aim.at, aim.reach)
    if corner is not None:
        return CornerDrag(desk, corner)
    wall = wall_near(room, aim.at, aim.reach)
    if wall is not None:
        return WallDrag(desk, wall.index)
    box = _boxed(desk, room, aim)
    ridge = ridge_near(room, aim) if box is None else None
    return RidgeDrag(desk, ridge) if ridge is not None else box


def _boxed(desk: Desk, room: Room, aim: Aim) -> Gesture | None:
    for picked in aim.picked:
        box = box_of(room, picked.ref) if picked.layer in {BULKHEAD, COLUMN} else None
        if box is not None:
            return ColumnDrag(desk, box) if isinstance(box, Column) else BulkheadDrag(desk, box)
    return None


def _framed(desk: Desk, room: Room, aim: Aim) -> Gesture | None:
    at = in_plan(desk, aim)
    if at is not None:
        boundary = boundary_at(room, at, aim.reach)
        if boundary is not None:
            return BoundaryDrag(desk, boundary)
    member = picked_member(desk, aim.picked)
    return MemberDrag(desk, member) if member is not None else None
