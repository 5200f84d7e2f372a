"""Dragging joists, studs, noggings and the boundary between two joist zones."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.gestures.doing import RoomEdit
from roomboard.app.gestures.drag import Drag
from roomboard.app.gestures.gesture import Aim
from roomboard.app.gestures.lie import Member, whole
from roomboard.app.words import tr
from roomboard.core.editing.boundaries import Boundary, move_boundary
from roomboard.core.editing.members import member_positions, move_member
from roomboard.core.editing.snapping import SnapKind, snap_point
from roomboard.core.editing.studs import move_nogging, move_stud, stud_positions
from roomboard.core.editing.zones import drawn_zone, sure_zone, zone_extent
from roomboard.core.framing import low_side_normal
from roomboard.core.project import Room
from roomboard.core.units import Refusal


def with_zone(room: Room, member: Member) -> tuple[Room, str]:
    """Return a room that has the zone of a joist, and the zone's id.

    Joists that were only assumed are put into a zone first, as they were assumed.

    Args:
        room: The room.
        member: The joist, as it was worked out.
    """
    known = {z.id for z in room.joists}
    if member.host in known or member.zone is None:
        return room, member.host
    if known:  # it was assumed, and has a zone by now
        return room, room.joists[0].id
    made = drawn_zone(room, member.zone.centres, member.support.face)
    return made, made.joists[0].id


class MemberDrag(Drag):
    """Moves a joist across its zone, or a stud along its wall, or a nogging up and down."""

    def __init__(self, desk: Desk, member: Member) -> None:
        super().__init__(desk, tr("Move a {kind}", kind=tr(member.kind)))
        self.member = member
        self.hint = tr("Drag it, or type its distance from the wall:")
        if member.kind == "nogging":
            self.hint = tr("Drag it, or type its height over the floor:")

    # --- the three kinds ------------------------------------------------------------------

    def change(self, room: Room, to: float) -> RoomEdit:  # noqa: ARG002 - the room decides nothing
        """Return the edit that puts it in a place.

        Args:
            room: The room.
            to: From the zone's low side, the wall's left end or the floor, mm.
        """
        member = self.member
        if member.kind == "stud":
            centres = member.zone.centres if member.zone is not None else 0.0
            face = member.support.face
            return lambda r: move_stud(r, member.host, member.index, to, spacing=centres, face=face)
        if member.kind == "nogging":
            return lambda r: move_nogging(r, member.host, member.index, to)

        def joist(room: Room) -> Room:
            made, zone = with_zone(room, member)
            return move_member(made, zone, member.index, to)

        return joist

    def places(self, room: Room) -> tuple[float, ...]:
        """Return the places of all of its kind beside it, mm."""
        member = self.member
        if member.kind == "stud":
            centres = member.zone.centres if member.zone is not None else 0.0
            return stud_positions(room, member.host, spacing=centres, face=member.support.face)
        if member.kind == "nogging":
            wall = room.wall(member.host)
            return tuple(sorted(wall.noggings)) if wall else ()
        made, zone = with_zone(room, member)
        return member_positions(made, zone)

    def _at(self, room: Room, aim: Aim) -> float:
        """Return where the pointer is, measured as the member is."""
        member, start = self.member, self._start
        if member.kind != "joist":
            pane = start.pane if start is not None else None
            u, v = pane.placing.inverse().apply(aim.at) if pane is not None else aim.at
            return v if member.kind == "nogging" else u
        made, zone_id = with_zone(room, member)
        _, zone = sure_zone(made, zone_id)
        nx, ny = low_side_normal(zone.direction_deg)
        return aim.at[0] * nx + aim.at[1] * ny - zone_extent(made, zone)[0]

    # --- the drag -------------------------------------------------------------------------

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Move it as the pointer moved across it."""
        places = self.places(room)
        if not self.member.index < len(places):
            return None
        by = self._at(room, aim) - self._at(room, start)
        return self.change(room, whole(places[self.member.index] + by, self.units))

    def told(self, before: Room, after: Room) -> str:
        """Tell how far it stands from the wall, and from its neighbours."""
        was, now = self.places(before), self.places(after)
        moved = next((p for p in now if p not in was), None)
        if moved is None:
            moved = now[min(self.member.index, len(now) - 1)]
        index = now.index(moved)
        what = tr("over the floor") if self.member.kind == "nogging" else tr("from the wall")
        if self.member.kind == "joist" and len(after.joists) > 1:
            what = tr("from the low side of zone {zone}", zone=self.member.host)
        lines = [f"{self.length(moved)} {what}"]
        for other in (index - 1, index + 1):
            if 0 <= other < len(now):
                gap = self.length(abs(now[other] - moved))
                lines.append(tr("{gap} from the next", gap=gap))
        return "\n".join(lines)

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Put it at a distance from the wall, or at a height."""
        read = self.read(text)
        return read.sentence if isinstance(read, Refusal) else self.change(room, read)


class BoundaryDrag(Drag):
    """Moves the boundary between two joist zones; the joists stay where they are."""

    def __init__(self, desk: Desk, boundary: Boundary) -> None:
        super().__init__(desk, tr("Move a zone's boundary"))
        self.boundary = boundary
        self.hint = tr("Drag the boundary, or type its distance from the low side:")
        self._snapped = ""

    def change(self, by: float) -> RoomEdit:
        """Return the edit that moves it square to itself."""
        line = self.boundary
        a, b = line.moved(by)
        return lambda r: move_boundary(r, line.one, line.two, a, b)

    def _place(self, room: Room) -> tuple[float, float]:
        """Return how far it stands from the ceiling's low side, and which way that counts."""
        nx, ny = self.boundary.across
        sign = 1.0 if nx + ny > 0 else -1.0
        low = min(p[0] * nx * sign + p[1] * ny * sign for p in room.outline)
        (ax, ay) = self.boundary.a
        return ax * nx * sign + ay * ny * sign - low, sign

    def aimed(self, room: Room, start: Aim, aim: Aim) -> RoomEdit | None:
        """Move it as the pointer moved, or to a wall's line or a joist."""
        nx, ny = self.boundary.across

        def off(x: float, y: float) -> float:
            return (x - self.boundary.a[0]) * nx + (y - self.boundary.a[1]) * ny

        snap = snap_point(room, aim.at, 0.0 if aim.fine else aim.reach, ortho=False)
        by = off(*aim.at) - off(*start.at)
        self._snapped = ""
        if snap.kind in {SnapKind.IN_LINE, SnapKind.JOIST, SnapKind.END}:
            by, self._snapped = off(*snap.point), snap.words
        else:
            at, sign = self._place(room)
            by = (whole(at + sign * by, self.units) - at) * sign
        self._by = by
        return self.change(by)

    def told(self, before: Room, after: Room) -> str:  # noqa: ARG002 - the boundary knows
        """Tell where it stands."""
        at, sign = self._place(before)
        lines = [tr("{at} from the low side", at=self.length(at + sign * self._by))]
        if self._snapped and not self.typing:
            lines.append(tr(self._snapped))
        return "\n".join(lines)

    def meant(self, room: Room, text: str) -> RoomEdit | str:
        """Put it at a distance from the ceiling's low side."""
        read = self.read(text)
        if isinstance(read, Refusal):
            return read.sentence
        at, sign = self._place(room)
        self._by = (read - at) * sign
        return self.change(self._by)

    _by = 0.0
