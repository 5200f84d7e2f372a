"""Where things of the room lie under the pointer, and which of them is held."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.app.desk import CEILING, OPENED_OUT, PLAN, Desk, Held
from roomboard.app.words import tr
from roomboard.core.editing.ceiling_follows import zone_region
from roomboard.core.editing.edges import edges_of
from roomboard.core.editing.refusal import wall_index
from roomboard.core.heights import is_ceiling
from roomboard.core.plane import distance_to_segment
from roomboard.core.project import JoistZone, Opening, Room, Units, Wall
from roomboard.core.units import INCH
from roomboard.drawing.raked import is_sloping, plan_lie

if TYPE_CHECKING:
    from roomboard.app.gestures.gesture import Aim
    from roomboard.core.plane import Point
    from roomboard.core.surface import Support, SupportZone
    from roomboard.drawing.picking import Picked

LIE_AS_PLAN = frozenset({OPENED_OUT, PLAN, CEILING})
"""Views on which the plan lies as it is."""
FINE = {Units.METRIC: 1.0, Units.FEET_INCHES: float(INCH / 16)}
"""What a pointer's lengths are rounded to, and the least a key moves something, mm."""
COARSE = {Units.METRIC: 10.0, Units.FEET_INCHES: float(INCH / 2)}
"""What a key moves something by with Ctrl, mm."""
HANDLE = 1.6
"""A corner's handle reaches this much farther than a line."""
_MEMBER = re.compile(r"(?P<zone>.+)-(?P<number>\d+)[a-z]?")
_STUD = re.compile(r"(?P<kind>[SN])(?P<number>\d+)[a-z]?")


def whole(value: float, units: Units) -> float:
    """Return a length of the pointer's to the nearest that is read off a tape."""
    step = FINE[units]
    return round(value / step) * step


@dataclass(frozen=True)
class OnWall:
    """A place on a wall.

    Attributes:
        wall: The wall.
        index: Which edge of the outline it stands on.
        along: From its left end, mm.
        up: From the floor, mm; None where the wall is seen from above.
        length: Of the wall, mm.
    """

    wall: Wall
    index: int
    along: float
    up: float | None
    length: float


def lies_as_plan(desk: Desk) -> bool:
    """Tell whether the plan lies on the view shown; sloping ceilings are unfolded off it."""
    if desk.view == PLAN:
        return True
    room = desk.room
    return desk.view in LIE_AS_PLAN and not (room is not None and is_sloping(room))


def _under(desk: Desk, aim: Aim) -> Point | None:
    """Return the place in plan under what is aimed at on an unfolded ceiling."""
    if aim.pane is None or aim.on_surface is None or not is_ceiling(aim.pane.key):
        return None
    scheme = desk.surface_scheme(aim.pane.key)
    return plan_lie(scheme.surface).apply(aim.on_surface) if scheme is not None else None


NOT_IN_PLAN = frozenset({"wall", "bulkhead", "reveal", "column", "step"})
"""Kinds of faces that stand beside the plan on the opened-out room, in their own places."""


def in_plan(desk: Desk, aim: Aim) -> Point | None:
    """Return the place in plan that is aimed at, or None on a wall or another face."""
    if desk.view in LIE_AS_PLAN and not lies_as_plan(desk):
        return _under(desk, aim)
    if desk.view not in LIE_AS_PLAN:
        return None
    if aim.pane is not None and aim.pane.key.partition(":")[0] in NOT_IN_PLAN:
        return None
    return aim.at


def wall_key(key: str) -> str:
    """Return the wall of a surface's key, e.g. ``a`` of ``wall:a``; empty for another face."""
    kind, _, wall = key.rpartition("/")[2].partition(".")[0].partition(":")
    return wall if kind == "wall" else ""


def on_face(room: Room, aim: Aim) -> OnWall | None:
    """Return the place on the wall whose face lies under the pointer."""
    if aim.pane is None or aim.on_surface is None:
        return None
    wanted = wall_key(aim.pane.key)
    for index, wall in enumerate(room.walls):
        if wall.id == wanted:
            along, up = aim.on_surface
            return OnWall(wall, index, along, up, room.wall_length(index))
    return None


def nearest_wall(room: Room, at: Point) -> OnWall:
    """Return the place on the wall nearest to a point in plan."""
    found = min(
        range(len(room.walls)), key=lambda i: (distance_to_segment(at, *room.wall_ends(i)), i)
    )
    edge = edges_of(room)[found]
    along = (at[0] - edge.left[0]) * edge.along[0] + (at[1] - edge.left[1]) * edge.along[1]
    length = room.wall_length(found)
    return OnWall(room.walls[found], found, min(max(along, 0.0), length), None, length)


def wall_near(room: Room, at: Point, reach: float) -> OnWall | None:
    """Return the place on a wall within reach of a point in plan, or None."""
    found = nearest_wall(room, at)
    near = distance_to_segment(at, *room.wall_ends(found.index)) <= reach
    return found if near else None


def wall_aimed(desk: Desk, room: Room, aim: Aim) -> OnWall | None:
    """Return the place on the wall that is aimed at: its face, or its line in plan."""
    found = on_face(room, aim)
    if found is not None:
        return found
    at = in_plan(desk, aim)
    return nearest_wall(room, at) if at is not None else None


def along_wall(desk: Desk, room: Room, aim: Aim, wall: str) -> OnWall | None:
    """Return the place along a wall that is aimed at, wherever the pointer is; any wall for none.

    Args:
        desk: The desk.
        room: The room.
        aim: Where the pointer is.
        wall: Id of the wall, or empty for whichever is aimed at.
    """
    on = wall_aimed(desk, room, aim)
    if not wall or (on is not None and on.wall.id == wall):
        return on
    index = wall_index(room, wall)
    edge = edges_of(room)[index]
    dx, dy = aim.at[0] - edge.left[0], aim.at[1] - edge.left[1]
    length = room.wall_length(index)
    along = min(max(dx * edge.along[0] + dy * edge.along[1], 0.0), length)
    return OnWall(room.walls[index], index, along, None, length)


def corner_near(room: Room, at: Point, reach: float) -> int | None:
    """Return which corner of a room lies within reach of a point in plan, or None."""
    far = [(abs(x - at[0]) + abs(y - at[1]), i) for i, (x, y) in enumerate(room.outline)]
    best, index = min(far)
    return index if best <= reach * HANDLE * 1.5 else None


def zone_at(room: Room, at: Point) -> JoistZone | None:
    """Return the joist zone a place in plan lies in, or None."""
    return next((z for z in room.joists if zone_region(room, z).contains(at)), None)


# --- what is held -----------------------------------------------------------------------


def held_wall(desk: Desk) -> str:
    """Return the id of the wall that is held, or of that what is held stands on; or empty."""
    room, held = desk.room, desk.held
    if room is None:
        return ""
    if held is None:
        return wall_key(desk.view)
    ids = {w.id for w in room.walls}
    if held.kind in {"wall", "no_wall"} and held.ref in ids:
        return held.ref
    found = wall_key(held.surface or held.ref)
    if found in ids:
        return found
    opening = held_opening(room, held)
    if opening is not None and opening.host in ids:
        return opening.host
    return wall_key(desk.view)


def held_opening(room: Room | None, held: Held | None) -> Opening | None:
    """Return the opening that is held, or None."""
    if room is None or held is None or held.kind != "opening":
        return None
    return next((o for o in room.openings if o.id == held.ref), None)


def held_zone(desk: Desk) -> str:
    """Return the id of the zone that is held, of a held joist's zone, or of the only one."""
    room, held = desk.room, desk.held
    if room is None:
        return ""
    ids = [z.id for z in room.joists]
    if held is not None and held.ref in ids:
        return held.ref
    if held is not None:
        member = member_of(desk, held.surface, held.ref)
        if member is not None and member.kind == "joist":
            return member.host
    return ids[0] if len(ids) == 1 else ""


@dataclass(frozen=True)
class Member:
    """A joist, a stud or a row of noggings as the measured room knows it.

    Attributes:
        kind: ``"joist"``, ``"stud"`` or ``"nogging"``.
        host: Id of its zone or its wall.
        index: Which, from 0.
        support: As it was worked out.
        zone: Its zone as it was worked out; None for noggings.
    """

    kind: str
    host: str
    index: int
    support: Support
    zone: SupportZone | None


def member_of(desk: Desk, surface: str, ref: str) -> Member | None:
    """Return the joist, stud or nogging of a ref on a surface, or None.

    Args:
        desk: The desk.
        surface: Ref of the surface.
        ref: Id of the support there.
    """
    scheme = desk.surface_scheme(surface)
    support = next((s for s in scheme.surface.supports if s.id == ref), None) if scheme else None
    if scheme is None or support is None:
        return None
    zone = scheme.surface.zones[support.zone] if support.zone >= 0 else None
    wall = wall_key(scheme.surface.key)
    if wall:
        match = _STUD.fullmatch(ref)
        if match is None:
            return None
        kind = "stud" if match["kind"] == "S" else "nogging"
        return Member(kind, wall, int(match["number"]) - 1, support, zone)
    match = _MEMBER.fullmatch(ref)
    if match is None or zone is None:
        return None
    return Member("joist", zone.id, int(match["number"]) - 1, support, zone)


def picked_member(desk: Desk, picked: tuple[Picked, ...]) -> Member | None:
    """Return the first joist, stud or nogging among what is picked, or None."""
    for one in picked:
        if one.layer == "joist":
            found = member_of(desk, one.surface, one.ref)
            if found is not None:
                return found
    return None


# --- walls by their letters, places along them -----------------------------------------


def wall_called(room: Room, name: str) -> Wall | None:
    """Return the wall of a letter, or None."""
    wanted = name.strip().casefold()
    return next((w for w in room.walls if (w.name or w.id).casefold() == wanted), None)


def no_wall(room: Room, name: str) -> str:
    """Say that there is no wall of a letter."""
    names = ", ".join(w.name or w.id for w in room.walls)
    return tr("There is no wall “{name}”; the walls are {names}.", name=name.strip(), names=names)


def placed_on(on: OnWall, aim: Aim, step: float) -> float:
    """Return a place along a wall as it is read off a tape: whole, or an end or the middle."""
    for known in (0.0, on.length, on.length / 2):
        if not aim.fine and abs(on.along - known) <= aim.reach:
            return known
    return step
