"""A room seen in a mirror, and a room turned by a quarter."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from roomboard.core.editing.ceiling_follows import zone_region
from roomboard.core.editing.columns import side_at
from roomboard.core.editing.refusal import CEILING
from roomboard.core.framing import HALF_TURN, UPRIGHT, extent_across, member_positions, stud_centres
from roomboard.core.heights import slope_of
from roomboard.core.plane import GRID, TOLERANCE, Region, snap, snap_point
from roomboard.core.project import (
    Axis,
    SheetDirection,
    Start,
    changed_with_own,
    clockwise,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import (
        CeilingPart,
        Column,
        JoistZone,
        KeptPart,
        Opening,
        Room,
        SurfaceChoice,
        Wall,
    )
    from roomboard.core.slopes import Slope

    Move = Callable[[Point], Point]

COLUMN = "column:"
"""What the key of a column's side begins with."""
SWAPPED = {Start.LOW: Start.HIGH, Start.HIGH: Start.LOW}


def mirror_room(room: Room, framed: Room | None = None) -> Room:
    """Swap left and right of a room about the middle of its plan.

    Corners, walls, studs, openings, joists, bulkheads, columns and locked butts change sides. A
    locked butt goes back to automatic where the courses themselves change sides: in sheets that
    run along y on a ceiling, or at an angle, and in upright sheets on a wall; and on the parts of
    a ceiling that has several. A first bay wider
    than the others becomes the last, so its members are given one by one from then on. But for
    these, twice gives the same room back.

    Args:
        room: The room as measured.
        framed: The same room to the bare frame, where it was measured to its finished faces: butts
            and control joints of walls and of slopes lie on faces that reach to the frame.
    """
    bare = framed or room
    u0, _, u1, _ = Region.of(room.outline).bounds
    both = u0 + u1
    turned = replace(room, outline=tuple(_flipped(p, both) for p in room.outline))
    flipped = clockwise(turned)
    lengths = {w.id: room.wall_length(i) for i, w in enumerate(room.walls)}
    faces = {w.id: bare.wall_length(i) for i, w in enumerate(bare.walls)}
    old = {w.id: w for w in room.walls}
    columns = tuple(replace(c, outline=_ring(c.outline, both)) for c in room.columns)

    def flip(point: Point) -> Point:
        return _flipped(point, both)

    return replace(
        flipped,
        walls=tuple(_wall(w, old[w.id], lengths[w.id]) for w in flipped.walls),
        openings=tuple(
            _hatch(o, both) if o.host == CEILING else replace(o, left=snap(o.left))
            for o in flipped.openings
        ),
        bulkheads=tuple(replace(b, left=snap(b.left)) for b in flipped.bulkheads),
        joists=tuple(_zone(room, z, both) for z in room.joists),
        ceiling_parts=tuple(_part(p, flip) for p in flipped.ceiling_parts),
        columns=columns,
        kept=tuple(
            replace(k, left=snap(lengths.get(k.host, both) - k.left - k.width)) for k in room.kept
        ),
        choices=tuple(
            changed_with_own(c, partial(_of_column, room.columns, columns, flip))
            if c.surface.startswith(COLUMN)
            else changed_with_own(c, lambda x: _choice(bare, x, both, faces))
            for c in room.choices
        ),
    )


def _part(part: CeilingPart, flip: Move) -> CeilingPart:
    """Mirror a plane of the ceiling, keeping its first corner and its turning direction."""
    ring = [flip(p) for p in part.outline]
    return replace(
        part,
        outline=(ring[0], *reversed(ring[1:])) if ring else (),
        at=flip(part.at),
        rise_deg=(HALF_TURN - part.rise_deg) % (2 * HALF_TURN),
    )


def _flipped(point: Point, both: float) -> Point:
    return snap_point((both - point[0], point[1]))


def _ring(ring: Ring, both: float) -> Ring:
    """Mirror an outline, keeping its first corner and its turning direction."""
    if not ring:
        return ()
    flipped = [_flipped(p, both) for p in ring]
    return (flipped[0], *reversed(flipped[1:]))


def _other_first(first: float | None, spacing: float, length: float) -> float | None:
    """Return the first centre counted from the other end."""
    was = spacing if first is None else first
    now = snap((length - was) % spacing)
    if min(now, spacing - now) <= TOLERANCE:
        now = spacing
    return None if abs(now - spacing) <= GRID else now


def _wall(wall: Wall, old: Wall, length: float) -> Wall:
    if wall.studs:
        return replace(wall, studs=tuple(snap(s) for s in wall.studs))
    if old.stud_spacing <= 0:
        return replace(wall, stud_first=old.stud_first)
    if old.stud_first is not None and old.stud_first > old.stud_spacing + TOLERANCE:
        studs = stud_centres(old, length, old.stud_spacing, old.stud_face)
        return replace(wall, studs=tuple(sorted(snap(length - s) for s in studs)))
    return replace(wall, stud_first=_other_first(old.stud_first, old.stud_spacing, length))


def _hatch(opening: Opening, both: float) -> Opening:
    return replace(opening, left=snap(both - opening.left - opening.width))


def _zone(room: Room, zone: JoistZone, both: float) -> JoistZone:
    angle = zone.direction_deg % HALF_TURN
    drawn = replace(
        zone, outline=_ring(zone.outline, both), direction_deg=(HALF_TURN - angle) % HALF_TURN
    )
    if abs(angle - UPRIGHT) >= TOLERANCE:
        return _read_backwards(drawn)  # the low side is the lower one, and stays so
    low, high = extent_across(zone_region(room, zone), zone.direction_deg)
    return _from_other_side(drawn, high - low)


def _read_backwards(zone: JoistZone) -> JoistZone:
    """Read the depth of each member from its other end."""
    return replace(zone, depths=tuple(tuple(reversed(d)) for d in zone.depths))


def _from_other_side(zone: JoistZone, extent: float) -> JoistZone:
    """Count a zone's members from its other side.

    A first bay wider than the others becomes the last one, which only places one by one can say.
    """
    zone = replace(zone, depths=tuple(reversed(zone.depths)))
    if not zone.positions and zone.spacing <= 0:
        return zone
    placed = zone.positions
    if not placed and zone.first is not None and zone.first > zone.spacing + TOLERANCE:
        placed = member_positions(zone, extent)
    if placed:
        return replace(zone, positions=tuple(sorted(snap(extent - p) for p in placed)))
    return replace(zone, first=_other_first(zone.first, zone.spacing, extent))


def _of_column(
    was: Sequence[Column],
    now: Sequence[Column],
    placed: Callable[[Point], Point],
    choice: SurfaceChoice,
) -> SurfaceChoice:
    return replace(choice, butts=(), surface=_side_follows(choice.surface, was, now, placed))


def _choice(
    room: Room, choice: SurfaceChoice, both: float, lengths: dict[str, float]
) -> SurfaceChoice:
    kind, _, wall_id = choice.surface.partition(":")
    if kind == "wall" and wall_id in lengths:
        upright = choice.direction is SheetDirection.ALONG
        butts = tuple(
            (f, n, snap(lengths[wall_id] - s)) for f, n, s in choice.butts if s > 0 and not upright
        )
    elif kind == CEILING and not wall_id:
        angles = {round(z.direction_deg % HALF_TURN, 3) for z in room.joists}
        along = choice.direction is SheetDirection.ALONG
        level = angles == {0.0 if along else UPRIGHT}
        upright = UPRIGHT in angles if along else 0.0 in angles
        butts = tuple((f, n, snap(both - s)) for f, n, s in choice.butts if level)
    elif kind == CEILING and (slope := _slope(room, wall_id)):
        angles = {round(slope.turned_to_face(z.direction_deg), 3) for z in room.joists}
        upright = (UPRIGHT if choice.direction is SheetDirection.ALONG else 0.0) in angles
        butts = ()
        if not slope.is_flat:
            both = _level_extent(room, wall_id, slope)
    else:
        return replace(choice, butts=(), controls=())
    middle = lengths[wall_id] if kind == "wall" else both
    controls = tuple(
        replace(c, at=snap(middle - c.at)) if c.axis is Axis.U else c for c in choice.controls
    )
    controls = tuple(sorted(controls, key=lambda c: (c.axis, c.at)))
    start = SWAPPED.get(choice.start, choice.start) if upright else choice.start
    return replace(choice, start=start, butts=butts, controls=controls)


def _slope(room: Room, part_id: str) -> Slope | None:
    """Return the plane of a part of a room's ceiling, or None if there is no such part."""
    return next((slope_of(room, p) for p in room.ceiling_parts if p.id == part_id), None)


def _level_extent(room: Room, part_id: str, slope: Slope) -> float:
    """Return how long a sloping part of a ceiling is along its level lines, mm."""
    part = next(p for p in room.ceiling_parts if p.id == part_id)
    along = [slope.to_face(p)[0] for p in part.outline or room.outline]
    return max(along) - min(along)


def _side_follows(key: str, old: Sequence[Column], new: Sequence[Column], move: Move) -> str:
    """Return the key of a column's side after its column moved: sides are numbered anew."""
    _, ident, number = key.split(":")
    for column, now in zip(old, new, strict=True):
        sides = Region.of(column.outline).segments
        if column.id == ident and number.isdigit() and 0 < int(number) <= len(sides):
            (ax, ay), (bx, by) = sides[int(number) - 1]
            found = side_at(now, move(((ax + bx) / 2, (ay + by) / 2)))
            return f"{COLUMN}{ident}:{found or number}"
    return key


def turn_room(room: Room, quarters: int = 1) -> Room:
    """Turn a room in plan by quarter turns counter-clockwise about its lower left corner.

    It is drawn turned and measures the same; a locked butt of a level ceiling goes back to
    automatic.

    Args:
        room: The room.
        quarters: How many quarter turns; less than 0 turns clockwise.
    """
    for _ in range(quarters % 4):
        room = _quarter(room)
    return room


def _quarter(room: Room) -> Room:
    u0, v0, _, v1 = Region.of(room.outline).bounds

    def turned(point: Point) -> Point:
        return snap_point((u0 + v1 - point[1], v0 + point[0] - u0))

    def box(opening: Opening) -> Opening:
        left, bottom = turned((opening.left, opening.bottom + opening.height))
        width, height = opening.height, opening.width
        return replace(opening, left=left, bottom=bottom, width=width, height=height)

    def kept(part: KeptPart) -> KeptPart:
        left, bottom = turned((part.left, part.bottom + part.height))
        return replace(part, left=left, bottom=bottom, width=part.height, height=part.width)

    def zone(one: JoistZone) -> JoistZone:
        angle = one.direction_deg % HALF_TURN
        drawn = replace(
            one,
            outline=tuple(turned(p) for p in one.outline),
            direction_deg=(angle + UPRIGHT) % HALF_TURN,
        )
        if angle >= UPRIGHT - TOLERANCE:
            return _read_backwards(drawn)  # its low side was the left one, now the lower one
        low, high = extent_across(zone_region(room, one), one.direction_deg)
        return _from_other_side(drawn, high - low)

    columns = tuple(replace(c, outline=tuple(turned(p) for p in c.outline)) for c in room.columns)

    def choice(one: SurfaceChoice) -> SurfaceChoice:
        if one.surface.startswith(COLUMN):
            key = _side_follows(one.surface, room.columns, columns, turned)
            return replace(one, surface=key)
        kind, _, part_id = one.surface.partition(":")
        if kind != CEILING:
            return one
        slope = _slope(room, part_id)
        if slope is not None and not slope.is_flat:
            return one  # it turns with its slope, on which it is measured
        lines = (
            replace(c, axis=Axis.V, at=turned((c.at, v0))[1])
            if c.axis is Axis.U
            else replace(c, axis=Axis.U, at=turned((u0, c.at))[0])
            for c in one.controls
        )
        controls = tuple(sorted(lines, key=lambda c: (c.axis, c.at)))
        return replace(one, butts=(), controls=controls)

    return replace(
        room,
        outline=tuple(turned(p) for p in room.outline),
        openings=tuple(box(o) if o.host == CEILING else o for o in room.openings),
        joists=tuple(zone(z) for z in room.joists),
        ceiling_parts=tuple(
            replace(
                p,
                outline=tuple(turned(c) for c in p.outline),
                at=turned(p.at),
                rise_deg=(p.rise_deg + UPRIGHT) % (2 * HALF_TURN),
            )
            for p in room.ceiling_parts
        ),
        columns=columns,
        kept=tuple(kept(k) if k.host == CEILING else k for k in room.kept),
        choices=tuple(changed_with_own(c, choice) for c in room.choices),
    )
