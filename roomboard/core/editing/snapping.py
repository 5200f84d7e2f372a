"""Where a corner that is being drawn goes: to an end, a middle, square to a wall, in line."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.editing.ceiling_follows import zone_region
from roomboard.core.editing.members import member_positions
from roomboard.core.editing.refusal import letters, wall_words
from roomboard.core.editing.zones import zone_extent
from roomboard.core.framing import low_side_normal
from roomboard.core.plane import TOLERANCE, Frame, distance
from roomboard.core.plane import snap as to_grid
from roomboard.core.plane import snap_point as _rounded
from roomboard.core.project import Room

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from roomboard.core.plane import Point, Region

QUARTER_TURN = 90.0


class SnapKind(StrEnum):
    """What a place was taken from, the most wanted first."""

    END = "end"
    MIDDLE = "middle"
    SQUARE = "square"
    IN_LINE = "in_line"
    JOIST = "joist"
    ORTHO = "ortho"
    FREE = "free"


@dataclass(frozen=True, slots=True)
class Snap:
    """A place in plan and where it was taken from.

    Attributes:
        point: The place, mm.
        kind: What it was taken from.
        words: The same in words, e.g. ``end of wall A``; empty for a free place.
    """

    point: Point
    kind: SnapKind
    words: str


@dataclass(frozen=True, slots=True)
class _Side:
    """A wall, or a stretch drawn so far."""

    a: Point
    b: Point
    words: str


@dataclass(frozen=True, slots=True)
class _Guide:
    """A line that a place can be taken to; within a region if there is one."""

    at: Point
    along: Point
    kind: SnapKind
    words: str
    within: Region | None = None

    def foot(self, point: Point) -> Point:
        reach = (point[0] - self.at[0]) * self.along[0] + (point[1] - self.at[1]) * self.along[1]
        return (self.at[0] + self.along[0] * reach, self.at[1] + self.along[1] * reach)

    def crossing(self, start: Point, way: Point) -> Point | None:
        """Return where a line from a point meets this one, or None if they run the same way."""
        cross = way[0] * self.along[1] - way[1] * self.along[0]
        if abs(cross) < TOLERANCE:
            return None
        dx, dy = self.at[0] - start[0], self.at[1] - start[1]
        reach = (dx * self.along[1] - dy * self.along[0]) / cross
        return (start[0] + way[0] * reach, start[1] + way[1] * reach)


def snap_point(
    room_or_corners: Room | Sequence[Point],
    point: Point,
    reach: float,
    *,
    from_point: Point | None = None,
    ortho: bool = True,
    square_to_deg: float = 0.0,
    others: Sequence[Room] = (),
) -> Snap:
    """Take a place that is aimed at to what was most likely meant.

    The rule, in this order; within one step the nearest wins, then the first wall:

    1. an end of a wall within reach of the aim;
    2. the middle of a wall within reach;
    3. the place on a wall that lies square across from ``from_point``, within reach;
    4. with ``ortho`` and ``from_point``, the aim goes to the nearest of the two lines through
       ``from_point`` that run square; without, it stays;
    5. the line of a wall, drawn on past its ends, or square to it at an end, within reach: with
       ortho, where the square line crosses it;
    6. the line of a joist inside its zone, within reach, in the same way;
    7. else the aim as it is after step 4.

    Points win over ortho, since they were aimed at; lines do not.

    Args:
        room_or_corners: A room, or the corners drawn so far, mm.
        point: The aim, mm.
        reach: How near the aim must be, mm.
        from_point: The corner before, mm.
        ortho: Whether the line from the corner before runs square.
        square_to_deg: What it is square to, degrees counter-clockwise from x.
        others: Rooms that are shown beside what is drawn: their walls and joists count too,
            after its own.
    """
    sides = [*_sides(room_or_corners), *(s for room in others for s in _sides_of(room, room.name))]
    found = _nearest(_points(room_or_corners, sides, from_point), point, reach)
    if found is not None:
        return found
    own_room = (room_or_corners,) if isinstance(room_or_corners, Room) else ()
    guides = (
        *_wall_guides(sides),
        *(g for room in own_room for g in _joist_guides(room)),
        *(g for room in others for g in _joist_guides(room, room.name)),
    )
    way, aim = None, point
    if ortho and from_point is not None:
        way, aim = _square_aim(from_point, point, square_to_deg)
    for kind in (SnapKind.IN_LINE, SnapKind.JOIST):
        own = (g for g in guides if g.kind is kind)
        found = _nearest(_on_guides(own, aim, from_point, way), aim, reach)
        if found is not None:
            return found
    if way is None:
        return Snap(_rounded(point), SnapKind.FREE, "")
    return Snap(_rounded(aim), SnapKind.ORTHO, "square to the corner before")


def _nearest(snaps: Iterable[Snap], point: Point, reach: float) -> Snap | None:
    """Return the first kind of snap within reach, the nearest of its kind."""
    order = list(SnapKind)
    near = [s for s in snaps if distance(s.point, point) <= reach]
    ranked = sorted(
        range(len(near)),
        key=lambda i: (order.index(near[i].kind), to_grid(distance(near[i].point, point)), i),
    )
    return near[ranked[0]] if ranked else None


def _sides(room_or_corners: Room | Sequence[Point]) -> list[_Side]:
    if isinstance(room_or_corners, Room):
        return _sides_of(room_or_corners)
    corners = room_or_corners
    return [
        _Side(a, b, f"wall {letters(i)}")
        for i, (a, b) in enumerate(pairwise(corners))
        if distance(a, b) > TOLERANCE
    ]


def _sides_of(room: Room, name: str = "") -> list[_Side]:
    """Return the walls of a room; with a name their words tell which room's they are."""
    of = f" of {name}" if name else ""
    return [
        _Side(*room.wall_ends(i), f"{wall_words(w)}{of}")
        for i, w in enumerate(room.walls)
        if room.wall_length(i) > TOLERANCE
    ]


def _points(
    room_or_corners: Room | Sequence[Point], sides: Sequence[_Side], from_point: Point | None
) -> Iterator[Snap]:
    """Ends, middles and places square across."""
    if not isinstance(room_or_corners, Room) and room_or_corners:
        yield Snap(_rounded(room_or_corners[0]), SnapKind.END, "first corner")
    for side in sides:
        yield Snap(_rounded(side.b), SnapKind.END, f"end of {side.words}")
    for side in sides:
        middle = ((side.a[0] + side.b[0]) / 2, (side.a[1] + side.b[1]) / 2)
        yield Snap(_rounded(middle), SnapKind.MIDDLE, f"middle of {side.words}")
    if from_point is None:
        return
    for side in sides:
        guide = _Guide(side.a, _way(side), SnapKind.SQUARE, f"square to {side.words}")
        foot = guide.foot(from_point)
        length = distance(side.a, side.b)
        inside = max(distance(foot, side.a), distance(foot, side.b)) <= length + TOLERANCE
        if inside and distance(foot, from_point) > TOLERANCE:
            yield Snap(_rounded(foot), guide.kind, guide.words)


def _way(side: _Side) -> Point:
    length = distance(side.a, side.b)
    return ((side.b[0] - side.a[0]) / length, (side.b[1] - side.a[1]) / length)


def _wall_guides(sides: Sequence[_Side]) -> Iterator[_Guide]:
    """Lines of walls first, then the lines square to them at their ends."""
    for side in sides:
        yield _Guide(side.a, _way(side), SnapKind.IN_LINE, f"in line with {side.words}")
    for side in sides:
        along = _way(side)
        across = (-along[1], along[0])
        for end, words in ((side.a, "start"), (side.b, "end")):
            yield _Guide(end, across, SnapKind.IN_LINE, f"in line with the {words} of {side.words}")


def _joist_guides(room: Room, name: str = "") -> Iterator[_Guide]:
    for zone in room.joists:
        normal = low_side_normal(zone.direction_deg)
        low = zone_extent(room, zone)[0]
        where = f" of zone {zone.id}" if len(room.joists) > 1 else ""
        where += f" of {name}" if name else ""
        for number, position in enumerate(member_positions(room, zone.id), 1):
            at = low + position
            yield _Guide(
                (normal[0] * at, normal[1] * at),
                (normal[1], -normal[0]),
                SnapKind.JOIST,
                f"{zone.kind.value} {number}{where}",
                zone_region(room, zone),
            )


def _square_aim(start: Point, point: Point, square_to_deg: float) -> tuple[Point, Point]:
    """Return the way of the nearer square line through a point, and the aim taken to it."""
    ways = (
        Frame.at_angle(square_to_deg).along,
        Frame.at_angle(square_to_deg + QUARTER_TURN).along,
    )
    dx, dy = point[0] - start[0], point[1] - start[1]
    reaches = [dx * w[0] + dy * w[1] for w in ways]
    index = 0 if abs(reaches[0]) >= abs(reaches[1]) else 1
    way, along = ways[index], reaches[index]
    return way, (start[0] + way[0] * along, start[1] + way[1] * along)


def _on_guides(
    guides: Iterable[_Guide], aim: Point, start: Point | None, way: Point | None
) -> Iterator[Snap]:
    for guide in guides:
        place = guide.foot(aim) if start is None or way is None else guide.crossing(start, way)
        if place is None or (start is not None and distance(place, start) <= TOLERANCE):
            continue
        if guide.within is None or guide.within.contains(place):
            yield Snap(_rounded(place), guide.kind, guide.words)


def heading_deg(from_point: Point, point: Point) -> float:
    """Return which way a point lies from another, degrees counter-clockwise from x, 0 to 360."""
    angle = math.degrees(math.atan2(point[1] - from_point[1], point[0] - from_point[0]))
    return to_grid(angle % (4 * QUARTER_TURN)) % (4 * QUARTER_TURN)
