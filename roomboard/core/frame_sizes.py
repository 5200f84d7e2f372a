"""Sizes measured to finished faces as sizes of the bare frame behind their linings."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.columns import boxed
from roomboard.core.face import wall_board
from roomboard.core.framing import extent_across, member_positions
from roomboard.core.plane import (
    TOLERANCE,
    Region,
    distance,
    distance_to_segment,
    fault_in,
    regions_of,
    snap,
    snap_point,
)
from roomboard.core.project import HeightsAre, JoistZone, WallKind, clockwise

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Bulkhead, CeilingPart, KeptPart, Room
    from roomboard.core.setting import Setting


def to_frame(room: Room, setting: Setting) -> Room:
    """Turn sizes measured to finished faces into sizes of the bare frame.

    Args:
        room: The room, clockwise.
        setting: Pack, stock and choices; they say what was measured to.
    """
    if setting.choices.heights_are is HeightsAre.FRAME:
        return room
    count = len(room.outline)
    shift = [
        wall_board(w, setting).thickness * w.layers if w.lined and w.kind is WallKind.WALL else 0.0
        for w in room.walls
    ]
    lines: list[tuple[Point, Point]] = []
    for i in range(count):
        a, b = room.wall_ends(i)
        length = distance(a, b)
        out = (-(b[1] - a[1]) / length * shift[i], (b[0] - a[0]) / length * shift[i])
        lines.append(((a[0] + out[0], a[1] + out[1]), (b[0] - a[0], b[1] - a[1])))
    corners: list[Point] = []
    for i in range(count):
        (px, py), (dx, dy) = lines[i - 1]
        (qx, qy), (ex, ey) = lines[i]
        cross = dx * ey - dy * ex
        if abs(cross) < TOLERANCE:
            corners.append(snap_point((qx, qy)))
            continue
        t = ((qx - px) * ey - (qy - py) * ex) / cross
        corners.append(snap_point((px + t * dx, py + t * dy)))
    moved: dict[str, float] = {}
    lengths: dict[str, tuple[float, float]] = {}
    for i, wall in enumerate(room.walls):
        a, b = room.wall_ends(i)
        length = distance(a, b)
        along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        moved[wall.id] = (a[0] - corners[i][0]) * along[0] + (a[1] - corners[i][1]) * along[1]
        lengths[wall.id] = (length, distance(corners[i], corners[(i + 1) % count]))

    def span(wall_id: str, left: float, width: float) -> tuple[float, float]:
        """Return left and width of what lies along a wall: ends in its corners stay in them."""
        was, now = lengths[wall_id]
        low = 0.0 if left <= TOLERANCE else left + moved[wall_id]
        high = now if left + width >= was - TOLERANCE else left + width + moved[wall_id]
        return snap(low), snap(high - low)

    ceiling = _over(room, room.ceiling_board, setting) if room.ceiling_lined else 0.0
    thickest = max(shift)
    old = Region.of(room.outline)
    zones = tuple(_grown(z, old, thickest) for z in room.joists)
    return replace(
        room,
        outline=tuple(corners),
        height=room.height + ceiling,
        walls=tuple(
            replace(
                w,
                studs=tuple(s + moved[w.id] for s in w.studs),
                stud_first=None if w.stud_first is None else w.stud_first + moved[w.id],
            )
            for w in room.walls
        ),
        openings=tuple(
            replace(o, left=o.left + moved[o.host]) if o.host in moved else o for o in room.openings
        ),
        bulkheads=tuple(
            _spanned(b, span(b.wall, b.left, b.length)) if b.wall in moved else b
            for b in room.bulkheads
        ),
        kept=tuple(
            _kept_wall(k, span(k.host, k.left, k.width), room.height, ceiling)
            if k.host in moved
            else _kept_ceiling(k, room, corners, shift)
            for k in room.kept
        ),
        joists=zones,
        ceiling_parts=tuple(
            _bare_part(p, room, corners, shift, setting) for p in room.ceiling_parts
        ),
        columns=tuple(
            replace(c, outline=boxed(c, setting.board(c.board, "wall").thickness))
            if c.lined and not fault_in(c.outline)
            else c
            for c in room.columns
        ),
    )


def framed(room: Room, setting: Setting) -> Room:
    """Return a room to its bare frame, or as it is where nothing of it can be worked out.

    That is where its outline is at fault or the stock has not the board it names.
    """
    if fault_in(room.outline) or len(room.walls) != len(room.outline):
        return room
    try:
        return to_frame(clockwise(room), setting)
    except KeyError:
        return room


def _spanned(bulkhead: Bulkhead, span: tuple[float, float]) -> Bulkhead:
    return replace(bulkhead, left=span[0], length=span[1])


def _kept_wall(
    part: KeptPart, span: tuple[float, float], height: float, ceiling: float
) -> KeptPart:
    """Return what is not lined of a wall; what reaches the ceiling reaches its framing."""
    to_top = part.bottom + part.height >= height - TOLERANCE
    return replace(
        part, left=span[0], width=span[1], height=part.height + (ceiling if to_top else 0.0)
    )


def _kept_ceiling(
    part: KeptPart, room: Room, corners: Sequence[Point], shift: Sequence[float]
) -> KeptPart:
    """Return what is not lined of a ceiling; its sides along walls move out with them."""
    low = (part.left, part.bottom)
    high = (part.left + part.width, part.bottom + part.height)
    (x0, y0), (x1, y1) = (_moved_out(p, room, corners, shift) for p in (low, high))
    return replace(part, left=x0, bottom=y0, width=snap(x1 - x0), height=snap(y1 - y0))


def _over(room: Room, board: str, setting: Setting) -> float:
    """Return how thick the lining under a ceiling's framing is, all its layers, mm."""
    return setting.board(board, "ceiling").thickness * room.ceiling_layers


def _bare_part(
    part: CeilingPart,
    room: Room,
    corners: Sequence[Point],
    shift: Sequence[float],
    setting: Setting,
) -> CeilingPart:
    """Turn a part of a ceiling measured to its lining into one of the bare frame.

    Its plane moves up square to itself by the board's thickness; its sides along walls move out
    with them.
    """
    lined = part.lined and room.ceiling_lined
    thick = _over(room, part.board or room.ceiling_board, setting) if lined else 0.0
    up = thick / math.cos(math.radians(part.pitch_deg))
    ring = tuple(_moved_out(p, room, corners, shift) for p in part.outline)
    return replace(part, height=part.height + up, outline=ring)


def _moved_out(point: Point, room: Room, corners: Sequence[Point], shift: Sequence[float]) -> Point:
    """Return where a place on a finished wall lies on its frame; other places stay."""
    for at, corner in zip(room.outline, corners, strict=True):
        if distance(point, at) <= TOLERANCE:
            return corner
    for index in range(len(room.outline)):
        a, b = room.wall_ends(index)
        if distance_to_segment(point, a, b) <= TOLERANCE:
            length = distance(a, b)
            out = (-(b[1] - a[1]) / length * shift[index], (b[0] - a[0]) / length * shift[index])
            return snap_point((point[0] + out[0], point[1] + out[1]))
    return point


def _grown(zone: JoistZone, finished: Region, by: float) -> JoistZone:
    """Keep a zone's members where they were measured while its room grows to the bare frame."""
    region = Region.of(zone.outline) if zone.outline else finished
    low, high = extent_across(region, zone.direction_deg)
    positions = tuple(p + by for p in member_positions(zone, high - low))
    outline: Ring = ()
    if zone.outline:
        grown = regions_of(region.geometry.buffer(by, join_style="mitre"))
        outline = grown[0].outer
    return replace(zone, outline=outline, positions=positions)
