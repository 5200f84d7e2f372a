"""Taking away a joist, a stud or a row of noggings."""

from __future__ import annotations

from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag_framing import with_zone
from roomboard.app.gestures.lie import Member
from roomboard.core.editing.members import remove_member
from roomboard.core.editing.studs import remove_nogging, remove_stud
from roomboard.core.project import Room


def removal_of(member: Member) -> RoomEdit:
    """Return the edit that takes a member away.

    Args:
        member: The member, as it was worked out.
    """
    if member.kind == "stud":
        centres = member.zone.centres if member.zone is not None else 0.0
        face = member.support.face
        return lambda r: remove_stud(r, member.host, member.index, spacing=centres, face=face)
    if member.kind == "nogging":
        return lambda r: remove_nogging(r, member.host, member.index)

    def joist(room: Room) -> Room:
        made, zone = with_zone(room, member)
        return remove_member(made, zone, member.index)

    return joist
