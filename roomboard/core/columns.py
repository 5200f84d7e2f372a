"""Columns: boxed posts that stand in a room, with a hole in the ceiling round each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.face import (
    UPRIGHT,
    room_finding,
    special_kinds,
    tops_over,
    upright_sides,
    wall_top,
)
from roomboard.core.findings import Finding, Severity
from roomboard.core.framing import box_supports, upright_supports
from roomboard.core.heights_tops import under_lining
from roomboard.core.plane import Region, difference, distance, fault_in, regions_of
from roomboard.core.project import SheetDirection
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    SeenFrom,
    SupportZone,
    Surface,
    SurfaceEdge,
)
from roomboard.core.walls import floor_gap

if TYPE_CHECKING:
    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Column, Room
    from roomboard.core.setting import Setting


def column_ring(column: Column) -> Ring:
    """Return a column's corners counter-clockwise, so that the room lies on each side's right."""
    return Region.of(column.outline).outer


def columns_of(room: Room) -> tuple[Column, ...]:
    """Return the columns of a room that can be used."""
    return tuple(c for c in room.columns if not fault_in(c.outline))


def without_columns(room: Room) -> tuple[Region, ...]:
    """Return the plan of a room less its columns, in order; parts where they divide it."""
    plan = Region.of(room.outline)
    return difference(plan, [Region.of(c.outline) for c in columns_of(room)])


def column_findings(room: Room) -> list[Finding]:
    """Say which columns cannot be used, or do not stand inside the room."""
    said: list[Finding] = []
    plan = Region.of(room.outline).geometry
    for column in room.columns:
        fault = fault_in(column.outline)
        if not fault and Region.of(column.outline).geometry.difference(plan).area > 1:
            fault = "it reaches outside the room"
        if fault:
            said.append(
                room_finding(
                    "RB113",
                    Severity.WARNING,
                    f"Column {column.id} of {room.name} cannot be used as it is: {fault}; "
                    "correct its corners.",
                    room,
                    item=column.id,
                )
            )
    return said


def boxed(column: Column, thickness: float) -> Ring:
    """Return the frame of a column that was measured to its finished faces."""
    inner = regions_of(Region.of(column.outline).geometry.buffer(-thickness, join_style="mitre"))
    return inner[0].outer if inner else column.outline


def _end(ring: Ring, index: int) -> EdgeKind:
    """Say what a side meets at a corner of its column."""
    (px, py), (qx, qy) = ring[index - 1], ring[index % len(ring)]
    rx, ry = ring[(index + 1) % len(ring)]
    cross = (qx - px) * (ry - qy) - (qy - py) * (rx - qx)
    return EdgeKind.CORNER if cross > 0 else EdgeKind.ANGLE


def column_surfaces(room: Room, column: Column, setting: Setting) -> list[Surface]:
    """Return the lined sides of a column, seen from the room; sides in a wall have none."""
    ring = column_ring(column)
    plan = Region.of(room.outline)
    top = wall_top(room, setting)
    board = setting.board(column.board, "wall")
    base = f"{room.id}/column:{column.id}"
    direction = SheetDirection.ALONG
    gap = floor_gap(top, board, direction, room.carry_in, setting)
    face = column.face or setting.practice.mm("trimmer.width")
    count = len(ring)
    made: list[Surface] = []
    for i, p in enumerate(ring):
        q = ring[(i + 1) % count]
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        if not plan.contains(middle, 1.0):
            continue  # it stands against a wall or in it
        length = distance(p, q)
        outline = Region.box(0.0, gap, length, top)
        supports = box_supports((length, room.height), column.spacing, face, column.frame)
        over = tops_over(room, p, q, setting) if room.ceiling_parts else ()
        if over:
            parts = under_lining(over, gap)
            if not parts:
                continue  # the ceiling comes down to the floor there
            outline = max(parts, key=lambda r: r.area_mm2)
            foot = ((0.0, 0.0), (length, 0.0))
            supports = upright_supports(over, (foot,), column.spacing, face, column.frame)
        before, after = (f"{base}:{(k % count) + 1}" for k in (i - 1, i + 1))
        sides = (
            (EdgeKind.FLOOR, column.angle, ""),
            (_end(ring, i + 1), column.angle, after),
            (EdgeKind.ANGLE, column.angle, f"{room.id}/ceiling"),
            (_end(ring, i), column.angle, before),
        )
        made.append(
            Surface(
                ref=f"{base}:{i + 1}",
                room=room.id,
                key=f"column:{column.id}:{i + 1}",
                code=f"K{column.id}{chr(ord('A') + i % 26)}",
                name=f"Column {column.id} side {i + 1}",
                place="wall",
                region=outline,
                outline=outline,
                edges=tuple(
                    SurfaceEdge(a=a, b=b, kind=kind, finish=finish, other=other)
                    for (a, b), (kind, finish, other) in upright_sides(
                        outline, over, sides, room.id
                    )
                )
                if over
                else tuple(
                    SurfaceEdge(a=a, b=b, kind=kind, finish=finish, other=other)
                    for (a, b), (kind, finish, other) in zip(outline.segments, sides, strict=True)
                ),
                supports=supports,
                zones=(
                    SupportZone(
                        region=outline,
                        direction_deg=UPRIGHT,
                        centres=min(column.spacing or length, length),
                    ),
                ),
                openings=(),
                seen_from=SeenFrom.FACE,
                placing=_placing(p, q, length),
                board=board.id,
                frame=column.frame,
                finish_level=room.finish_level,
                special=special_kinds(room, f"column:{column.id}"),
                carry_in=room.carry_in,
                direction=direction,
                height_above_floor=outline.bounds[3] if over else room.height,
                lettered=True,
            )
        )
    return made


def _placing(p: Point, q: Point, length: float) -> Placing:
    along = ((q[0] - p[0]) / length, (q[1] - p[1]) / length, 0.0)
    return Placing(origin=(*p, 0.0), u_axis=along, v_axis=(0.0, 0.0, 1.0))
