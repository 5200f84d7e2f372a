"""What is to be said about members that lie in no plane: pack them, or batten out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.packing_out import (
    MOST,
    batten_out,
    is_too_much,
    member_count,
    members_in_plan,
    read_members,
    readings_match,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.packing_out import Packing
    from roomboard.core.parts import RoomScheme, SurfaceScheme
    from roomboard.core.project import JoistZone, Room
    from roomboard.core.setting import Setting
    from roomboard.core.surface import Surface


def packing_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB116, RB310, RB311: readings that do not match, packers, and battens instead of them."""
    said: list[Finding] = []
    overhead = [s for s in room.surfaces if s.surface.place == "ceiling"]
    for s in overhead:
        for packing in s.packing:
            said.append(_packed(s, packing, setting))
            if is_too_much(packing, setting.practice):
                said.append(_battened(s, packing, setting))
    faces = [s.surface for s in overhead if s.surface.layer == 1]
    for zone in room.room.joists:
        if not zone.depths or not faces:
            continue
        place = Place(room=room.room.id, surface=faces[0].ref, item=zone.id)
        if not readings_match(room.room, zone, faces):
            said.append(_unmatched(room, zone, member_count(room.room, zone, faces), place))
        elif left := _left_out(room.room, zone, faces):
            said.append(_not_packed(room, zone, left, place))
    return tuple(said)


def _left_out(room: Room, zone: JoistZone, faces: Sequence[Surface]) -> list[str]:
    """Return which members with readings are packed behind no face, in order."""
    packed = {m.id for face in faces for m, _ in read_members(room, zone, face)}
    if not room.ceiling_parts:
        return []
    return [m.id for m in members_in_plan(room, zone) if m.id not in packed]


def _unmatched(room: RoomScheme, zone: JoistZone, count: int, place: Place) -> Finding:
    return Finding(
        code="RB116",
        severity=Severity.WARNING,
        text=f"Joist zone {zone.id} of {room.room.name} has {count} members, but depth "
        f"readings for {sum(map(bool, zone.depths))}; give a list for each member, in order, with "
        "a reading at least.",
        place=place,
    )


def _not_packed(room: RoomScheme, zone: JoistZone, left: list[str], place: Place) -> Finding:
    return Finding(
        code="RB116",
        severity=Severity.WARNING,
        text=f"Depth readings of joist zone {zone.id} of {room.room.name} stand over a level line "
        "and serve members that lie whole over one level part of the ceiling; not packed: "
        f"{', '.join(left)}. Pack these to a line on site.",
        place=place,
    )


def _packed(scheme: SurfaceScheme, packing: Packing, setting: Setting) -> Finding:
    surface = scheme.surface
    packers = packing.packers
    fall = max(abs(x) for x in packing.falls)
    tilt = ", which falls {fall} in a metre" if fall >= 0.5 else ""
    key = "frame.deviation"
    known = setting.practice.has(key)
    return Finding(
        code="RB310",
        severity=Severity.NOTE,
        text=f"The members of zone {packing.zone} behind {surface.name} are packed to "
        f"{'a level plane' if packing.packed_to == 'level' else 'the plane of least packing'}"
        f"{tilt}: {_packers_words(len(packers))}",
        params=(("most", float(packing.most)), *((("fall", float(fall)),) if tilt else ())),
        place=Place(room=surface.room, surface=surface.ref, item=packing.zone),
        found=float(packing.most),
        required=setting.practice.mm(key) if known else None,
        source=setting.practice.cite(key) if known else None,
    )


def _packers_words(count: int) -> str:
    if not count:
        return "none needs a packer."
    words = "1 packer" if count == 1 else f"{count} packers"
    return f"{words}, the thickest {{most}}; see the carpenter's sheet."


def _battened(scheme: SurfaceScheme, packing: Packing, setting: Setting) -> Finding:
    surface = scheme.surface
    board = setting.board(surface.board, surface.place)
    row = setting.practice.framing_row(
        thickness=board.thickness,
        grades=board.grades,
        place=surface.place,
        orientation="across",
        method=setting.choices.method,
    )
    limit = row.max_centres if row else 0.0
    return Finding(
        code="RB311",
        severity=Severity.NOTE,
        text=f"Packers to {{most}} are wanted behind {surface.name}, more than {{limit}}: battens "
        "across the members, {centres} apart at most and packed to the plane, take {depth} in all "
        "and every sheet lies on straight timber.",
        params=(
            ("most", float(packing.most)),
            ("limit", float(setting.practice.mm(MOST))),
            ("centres", float(limit)),
            ("depth", float(batten_out(packing, setting.practice))),
        ),
        place=Place(room=surface.room, surface=surface.ref, item=packing.zone),
        found=float(packing.most),
        required=float(setting.practice.mm(MOST)),
        source=setting.practice.cite(MOST),
        remedies=("batten the ceiling out, and give the battens as its members",),
    )
