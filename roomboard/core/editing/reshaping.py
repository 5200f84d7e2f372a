"""A room on a new outline: what hangs on its walls stays where it physically stands."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING

from roomboard.core.editing.ceiling_follows import hatches_follow, parts_follow, zones_follow
from roomboard.core.editing.columns import columns_stand
from roomboard.core.editing.linings_follow import bands_follow, controls_follow, kept_follow
from roomboard.core.editing.refusal import EditError, free_id, started, wall_words
from roomboard.core.editing.wall_follows import (
    Line,
    bulkhead_follows,
    butts_follow,
    opening_follows,
    studs_follow,
)
from roomboard.core.plane import TOLERANCE, distance, fault_in, signed_area, snap_point
from roomboard.core.project import changed_with_own

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.project import Opening, Room, SpecialZone, SurfaceChoice, Wall

SHORTEST_WALL = 1.0
"""A wall shorter than this many mm is a slip of the hand."""
LONGEST_WALL = 1_000_000.0
"""So is one longer than this many mm: walls that almost run the same way meet far away."""


@dataclass(frozen=True)
class Origins:
    """Where the parts of a new outline come from.

    Attributes:
        walls: Id of a new wall, and the id of the wall it was a part of.
        openings: Id of an opening that changes its wall, and the id of its new wall.
        bulkheads: The same for bulkheads.
    """

    walls: Mapping[str, str] = field(default_factory=dict)
    openings: Mapping[str, str] = field(default_factory=dict)
    bulkheads: Mapping[str, str] = field(default_factory=dict)


def reshaped(
    room: Room,
    corners: Sequence[Point],
    walls: Sequence[Wall],
    origins: Origins | None = None,
    *,
    turning: bool = False,
) -> Room:
    """Return the room with new corners and walls, everything else following.

    Openings, bulkheads, studs and joists stay where they physically stand. What would leave
    its wall is pushed in. A wall that has come to nothing is taken away.

    Args:
        room: The room before.
        corners: The new corners, clockwise, mm.
        walls: One for each edge; a wall of the room has its old id.
        origins: Where new walls come from and what changes its wall.
        turning: Whether walls may turn round.

    Raises:
        EditError: If the outline is none, or something does not fit on its wall.
    """
    origins = origins or Origins()
    corners, walls = _without_nothings(room, [snap_point(c) for c in corners], list(walls), origins)
    _check(room, corners, walls, turning=turning)
    old = {w.id: Line(*room.wall_ends(i)) for i, w in enumerate(room.walls)}
    ends = zip(walls, corners, (*corners[1:], corners[0]), strict=True)
    new = {w.id: Line(a, b) for w, a, b in ends}
    shaped = replace(
        room,
        outline=tuple(corners),
        walls=tuple(
            studs_follow(w, old.get(origins.walls.get(w.id, w.id)), new[w.id]) for w in walls
        ),
        bulkheads=tuple(
            bulkhead_follows(
                replace(b, wall=origins.bulkheads.get(b.id, b.wall)), old, new, room, b.wall
            )
            for b in room.bulkheads
        ),
        zones=_special(room, new, origins),
        choices=_choices(room, old, new, origins),
        bands=bands_follow(room, new, origins.walls),
        kept=kept_follow(room, old, new, origins.walls),
    )
    shaped = replace(shaped, openings=_openings(room, shaped, old, new, origins))
    shaped = replace(shaped, ceiling_parts=parts_follow(room, shaped, new))
    return columns_stand(replace(shaped, joists=zones_follow(room, shaped, new)), room)


def _without_nothings(
    room: Room, corners: list[Point], walls: list[Wall], origins: Origins
) -> tuple[list[Point], list[Wall]]:
    """Take away walls that have come to nothing."""
    kept: list[tuple[Point, Wall]] = []
    hosts = {origins.openings.get(o.id, o.host) for o in room.openings} | {
        origins.bulkheads.get(b.id, b.wall) for b in room.bulkheads
    }
    for corner, wall, after in zip(corners, walls, (*corners[1:], corners[0]), strict=True):
        if distance(corner, after) > TOLERANCE:
            kept.append((corner, wall))
        elif wall.id in hosts:
            raise EditError(
                f"{started(wall_words(wall))} of {room.name} would come to nothing, and "
                "something stands on it; move or remove that first."
            )
    if len(kept) < 3:
        raise EditError(f"{room.name} would enclose no area; move the wall or corner less.")
    return [c for c, _ in kept], [w for _, w in kept]


def _check(room: Room, corners: Sequence[Point], walls: Sequence[Wall], *, turning: bool) -> None:
    """Refuse an outline that is none."""
    for index, wall in enumerate(walls):
        a, b = corners[index], corners[(index + 1) % len(corners)]
        length = distance(a, b)
        if length < SHORTEST_WALL:
            raise EditError(
                f"{started(wall_words(wall))} of {room.name} would be only {{length}} long; "
                "make it longer, or take its corner away.",
                length=length,
            )
        if not length <= LONGEST_WALL:
            raise EditError(
                f"{started(wall_words(wall))} of {room.name} would be {{length}} long; "
                "move the wall or corner less.",
                length=length,
            )
        before = next((i for i, w in enumerate(room.walls) if w.id == wall.id), None)
        if before is None or turning:
            continue
        p, q = room.wall_ends(before)
        if (b[0] - a[0]) * (q[0] - p[0]) + (b[1] - a[1]) * (q[1] - p[1]) < 0:
            raise EditError(
                f"{started(wall_words(wall))} of {room.name} would be turned about; "
                "move its neighbour less far."
            )
    fault = fault_in(corners)
    if not fault and signed_area(corners) > 0:
        fault = "it would be turned inside out"
    if fault:
        raise EditError(
            f"{room.name} cannot take this shape: {fault}; move the wall or corner less."
        )


def _openings(
    room: Room, shaped: Room, old: Mapping[str, Line], new: Mapping[str, Line], origins: Origins
) -> tuple[Opening, ...]:
    moved = tuple(
        opening_follows(o, origins.openings.get(o.id, o.host), old, new, room)
        for o in room.openings
    )
    for one, before in zip(moved, room.openings, strict=True):
        if one == before or one.host not in new:
            continue
        for two, other in zip(moved, room.openings, strict=True):
            pushed = one.host == two.host and one.id != two.id and _overlap(one, two)
            if pushed and not _overlap(before, other):
                raise EditError(
                    f"{started(one.kind.value)} {one.id} of {room.name} would be pushed onto "
                    f"{two.kind.value} {two.id}; move or remove one of them first."
                )
    return hatches_follow(moved, room, shaped)


def _overlap(one: Opening, two: Opening) -> bool:
    wide = min(one.left + one.width, two.left + two.width) - max(one.left, two.left)
    high = min(one.bottom + one.height, two.bottom + two.height) - max(one.bottom, two.bottom)
    return one.host == two.host and min(wide, high) > TOLERANCE


def _special(room: Room, new: Mapping[str, Line], origins: Origins) -> tuple[SpecialZone, ...]:
    """Keep the special zones of walls that stand; a part of a wall keeps the wall's zones."""
    ids = {w.id for w in room.walls}
    kept = [z for z in room.zones if z.host not in ids or z.host in new]
    for part, whole in origins.walls.items():
        if part not in new:
            continue
        for zone in [z for z in room.zones if z.host == whole]:
            kept.append(replace(zone, id=free_id(zone.kind[0], (z.id for z in kept)), host=part))
    return tuple(kept)


def _choices(
    room: Room, old: Mapping[str, Line], new: Mapping[str, Line], origins: Origins
) -> tuple[SurfaceChoice, ...]:
    """Keep the choices of walls that stand; a part of a wall keeps the wall's choices."""
    kept: list[SurfaceChoice] = []
    for choice in room.choices:
        kind, _, wall_id = choice.surface.partition(":")
        if kind != "wall" or wall_id not in old:
            kept.append(choice)
        elif wall_id in new:
            lines = (old[wall_id], new[wall_id])
            kept.append(changed_with_own(choice, partial(_follows, lines)))
    for part, whole in origins.walls.items():
        kept.extend(
            changed_with_own(
                choice, partial(replace, surface=f"wall:{part}", butts=(), controls=())
            )
            for choice in room.choices
            if part in new and choice.surface == f"wall:{whole}"
        )
    return tuple(kept)


def _follows(lines: tuple[Line, Line], choice: SurfaceChoice) -> SurfaceChoice:
    """Keep what was chosen for a wall where it stands on its old line."""
    return controls_follow(butts_follow(choice, *lines), *lines)
