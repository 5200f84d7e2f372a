"""What is to be said about hatches, lights and ducts against joists, timber to add and joints."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from shapely.geometry import LineString

from roomboard.core.clear_bays import (
    HAIR,
    KEY,
    TRUSS,
    clear_place_in,
    clearance_of,
    existing,
    members_met,
    nearest_member,
)
from roomboard.core.editing.ceiling_openings import move_ceiling_opening, nearest_walls
from roomboard.core.editing.refusal import EditError, wall_words
from roomboard.core.findings import Finding, Place, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from roomboard.core.clear_bays import ClearPlace
    from roomboard.core.findings import Param
    from roomboard.core.parts import RoomScheme, SurfaceScheme
    from roomboard.core.setting import Setting
    from roomboard.core.surface import Support, SurfaceOpening

REMEDY = "move it to the nearest clear bay"


def ceiling_opening_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB306, RB312, RB309, RB219: openings in ceilings at members, timber to add or joints."""
    said: list[Finding] = []
    for s in room.surfaces:
        if s.surface.place != "ceiling":
            continue
        for opening in s.surface.openings:
            # A second layer hangs on the same framing, of which the first has said it all.
            met = members_met(opening, existing(s.surface)) if s.surface.layer == 1 else ()
            place = Place(room=room.room.id, surface=s.surface.ref, item=opening.id)
            if met:
                said.append(_cuts(room, opening, met, setting, place))
            elif not opening.framed:
                said.extend(_close(room, s, opening, setting, place))
                said.extend(_in_the_way(room, s, opening, setting, place))
    return tuple(said)


def _cuts(
    room: RoomScheme,
    opening: SurfaceOpening,
    met: tuple[Support, ...],
    setting: Setting,
    place: Place,
) -> Finding:
    """RB306: a joist must not be cut before someone competent has designed it; a truss never."""
    what = f"{opening.kind.value} {opening.id}"
    ids = " and ".join(s.id for s in met)
    trusses = any(s.kind in TRUSS for s in met)
    many = "s" if len(met) > 1 else ""
    clear, params = _suggestion(room, opening, setting)
    where = f"The {what} in the ceiling of {room.room.name}"
    if trusses:
        text = f"{where} meets truss{'es' if many else ''} {ids}: a truss must never be cut; "
        text += clear
    elif opening.framed:
        text = (
            f"{where} cuts {met[0].kind.value}{many} {ids}: have a competent person design the "
            f"trimming before any {met[0].kind.value} is cut, or {clear}"
        )
    else:
        text = f"{where} stands on {met[0].kind.value}{many} {ids}: {clear}"
    return Finding(
        code="RB306",
        severity=Severity.BLOCK,
        text=text,
        params=params,
        place=place,
        remedies=(REMEDY,) if params else (),
    )


def _suggestion(
    room: RoomScheme, opening: SurfaceOpening, setting: Setting
) -> tuple[str, tuple[tuple[str, Param], ...]]:
    """Say where the nearest clear place is, from the two nearest walls."""
    found = clear_place_in(room, opening.id, setting.practice)
    if found is None:
        return (
            "no bay is wide enough for it: make it smaller, or have its framing designed.",
            (),
        )
    return _place_words(room, opening, found)


def _place_words(
    room: RoomScheme, opening: SurfaceOpening, found: ClearPlace
) -> tuple[str, tuple[tuple[str, Param], ...]]:
    try:
        moved = move_ceiling_opening(room.room, opening.id, found.middle)
    except EditError:
        return "move it to a clear bay.", ()
    there = next(o for o in moved.openings if o.id == opening.id)
    one, two = nearest_walls(moved, there)
    names = [wall_words(w) if (w := room.room.wall(x.wall)) else x.wall for x in (one, two)]
    words = (
        f"move it {{away}} to the nearest clear bay, {{first}} from {names[0]} and {{second}} "
        f"from {names[1]}."
    )
    return words, (
        ("away", float(found.away)),
        ("first", float(one.mm)),
        ("second", float(two.mm)),
    )


def _close(
    room: RoomScheme, s: SurfaceScheme, opening: SurfaceOpening, setting: Setting, place: Place
) -> Iterator[Finding]:
    """RB312: a light or a duct nearer to a member than the pack would have it."""
    wanted = clearance_of(opening, setting.practice)
    near = nearest_member(opening, existing(s.surface)) if s.surface.layer == 1 else None
    if near is None or near[1] >= wanted - HAIR:
        return
    member, apart = near
    clear, params = _suggestion(room, opening, setting)
    yield Finding(
        code="RB312",
        severity=Severity.NOTE,
        text=f"The {opening.kind.value} {opening.id} in the ceiling of {room.room.name} leaves "
        f"{{apart}} to {member.kind.value} {member.id}, less than the {{wanted}} kept free "
        f"round it: {clear}",
        params=(("apart", apart), ("wanted", wanted), *params),
        place=place,
        found=apart,
        required=wanted,
        source=setting.practice.cite(KEY),
        remedies=(REMEDY,) if params else (),
    )


def _in_the_way(
    room: RoomScheme, s: SurfaceScheme, opening: SurfaceOpening, setting: Setting, place: Place
) -> Iterator[Finding]:
    """RB309, RB219: a light or a duct on timber that is to be added, or in a joint."""
    what = f"{opening.kind.value} {opening.id}"
    added = members_met(opening, [t for t in s.surface.supports if not t.existing])
    shape = opening.region.geometry
    through = [j for j in s.joints if _crosses(shape, j.a, j.b)]
    if not added and not through:
        return
    clear, params = _suggestion(room, opening, setting)
    if added:
        tags = " and ".join(t.id for t in added)
        yield Finding(
            code="RB309",
            severity=Severity.WARNING,
            text=f"The {what} in the ceiling of {room.room.name} stands where {tags} "
            f"{'are' if len(added) > 1 else 'is'} to be fixed: {clear}",
            params=params,
            place=place,
            remedies=(REMEDY,) if params else (),
        )
    if through:
        line = (through[0].a, through[0].b)
        yield Finding(
            code="RB219",
            severity=Severity.NOTE,
            text=f"The {what} in the ceiling of {room.room.name} stands in the joint between "
            f"{' and '.join(through[0].pieces)}: a cut-out in a joint is hard to finish; {clear}",
            params=params,
            place=replace(place, line=line),
            remedies=(REMEDY, "start the courses from the other side") if params else (),
        )


def _crosses(shape: object, a: tuple[float, float], b: tuple[float, float]) -> bool:
    """Tell whether a joint runs into a cut-out; its ends stop at the hole."""
    return bool(LineString((a, b)).distance(shape) <= 1.0)
