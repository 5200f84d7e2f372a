"""Bulkheads laid flat: face, underside and free ends."""

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
from roomboard.core.heights import highest
from roomboard.core.heights_tops import from_level, under_lining
from roomboard.core.plane import TOLERANCE, Region, distance
from roomboard.core.project import AngleFinish
from roomboard.core.surface import EdgeKind, Placing, SeenFrom, SupportZone, Surface, SurfaceEdge

if TYPE_CHECKING:
    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Bulkhead, Room
    from roomboard.core.setting import Setting


def bulkhead_plan(room: Room, bulkhead: Bulkhead) -> Ring:
    """Return a bulkhead's outline in plan."""
    index = next(i for i, w in enumerate(room.walls) if w.id == bulkhead.wall)
    p, q = room.wall_ends(index)
    length = distance(p, q)
    along = ((q[0] - p[0]) / length, (q[1] - p[1]) / length)
    inward = (along[1], -along[0])  # the room lies on the right of a clockwise outline

    def at(u: float, out: float) -> Point:
        return (p[0] + along[0] * u + inward[0] * out, p[1] + along[1] * u + inward[1] * out)

    left, right = bulkhead.left, bulkhead.left + bulkhead.length
    return (at(left, 0.0), at(right, 0.0), at(right, bulkhead.depth), at(left, bulkhead.depth))


def _reaches_down(room: Room, b: Bulkhead) -> Finding:
    return room_finding(
        "RB112",
        Severity.BLOCK,
        f"Bulkhead {b.id} of {room.name} needs an existing wall, and a length, depth and "
        "drop above nothing and inside the room; correct it.",
        room,
        item=b.id,
    )


def bulkhead_foot(room: Room, bulkhead: Bulkhead, setting: Setting) -> float:
    """Return the height of a bulkhead's underside over the floor, mm.

    Its drop counts from the ceiling, or from the lowest place of one that slopes over it.
    """
    if not room.ceiling_parts:
        return wall_top(room, setting) - bulkhead.drop
    corners = bulkhead_plan(room, bulkhead)
    sides = ((corners[0], corners[1]), (corners[3], corners[2]))
    over = [t for a, b in sides for t in tops_over(room, a, b, setting)]
    return min(p[1] for t in over for p in t.under) - bulkhead.drop


def bulkhead_surfaces(
    room: Room, bulkhead: Bulkhead, setting: Setting
) -> tuple[list[Surface], list[Finding]]:
    """Return face, underside and free ends of a bulkhead as surfaces."""
    wall = room.wall(bulkhead.wall)
    b = bulkhead
    if wall is None or min(b.length, b.depth, b.drop) <= 0 or b.drop >= highest(room):
        return [], [_reaches_down(room, b)]
    index = room.walls.index(wall)
    said: list[Finding] = []
    if b.left < -TOLERANCE or b.left + b.length > room.wall_length(index) + TOLERANCE:
        said.append(
            room_finding(
                "RB112",
                Severity.WARNING,
                f"Bulkhead {b.id} of {room.name} reaches past the end of its wall; correct its "
                "place or length.",
                room,
                item=b.id,
            )
        )
    board = setting.board(b.board or wall.board, "wall")
    face = b.face or setting.practice.mm("trimmer.width")
    corners = bulkhead_plan(room, b)
    low = bulkhead_foot(room, b, setting)
    ceiling = low + b.drop
    if low <= 0:
        return [], [_reaches_down(room, b)]
    p = room.wall_ends(index)[0]
    length = room.wall_length(index)
    q = room.wall_ends(index)[1]
    along = ((q[0] - p[0]) / length, (q[1] - p[1]) / length, 0.0)
    inward = (along[1], -along[0], 0.0)
    up = (0.0, 0.0, 1.0)
    cornice = wall.angle
    left = EdgeKind.CORNER if b.left_free else EdgeKind.ANGLE
    right = EdgeKind.CORNER if b.right_free else EdgeKind.ANGLE
    base = f"{room.id}/bulkhead:{b.id}"

    def make(
        part: str,
        code: str,
        name: str,
        size: tuple[float, float],
        kinds: tuple[tuple[EdgeKind, AngleFinish, str], ...],
        placing: Placing,
        place: str,
        line: tuple[Point, Point] | None = None,
    ) -> Surface:
        outline = Region.box(0.0, 0.0, *size)
        spacing = b.spacing or wall.stud_spacing
        supports = box_supports(size, spacing, face, wall.frame)
        sides = tuple(zip(outline.segments, kinds, strict=True))
        if line and room.ceiling_parts:
            over = from_level(tops_over(room, *line, setting), low)
            outline = max(under_lining(over, 0.0), key=lambda r: r.area_mm2)
            foot = ((0.0, 0.0), (size[0], 0.0))
            supports = upright_supports(over, (foot,), spacing, face, wall.frame)
            sides = tuple(upright_sides(outline, over, kinds, room.id))
        edges = tuple(
            SurfaceEdge(a=a, b=c, kind=kind, finish=finish, other=other)
            for (a, c), (kind, finish, other) in sides
        )
        return Surface(
            ref=f"{base}:{part}",
            room=room.id,
            key=f"bulkhead:{b.id}:{part}",
            code=code,
            name=name,
            place=place,
            region=outline,
            outline=outline,
            edges=edges,
            supports=supports,
            zones=(
                SupportZone(
                    region=outline,
                    direction_deg=UPRIGHT,
                    centres=min(spacing or size[0], size[0]),
                ),
            ),
            openings=(),
            seen_from=SeenFrom.FACE,
            placing=placing,
            board=board.id,
            frame=wall.frame,
            finish_level=room.finish_level,
            special=special_kinds(room, wall.id),
            carry_in=room.carry_in,
            direction=room.choice(f"bulkhead:{b.id}:{part}").direction,
            height_above_floor=ceiling,
        )

    none = AngleFinish.NONE
    wall_ref, ceiling_ref = f"{room.id}/wall:{wall.id}", f"{room.id}/ceiling"
    surfaces = [
        make(
            "face",
            f"B{b.id}F",
            f"Bulkhead {b.id} face",
            (b.length, b.drop),
            (
                (EdgeKind.CORNER, none, f"{base}:underside"),
                (right, none, f"{base}:right" if b.right_free else ""),
                (EdgeKind.ANGLE, cornice, ceiling_ref),
                (left, none, f"{base}:left" if b.left_free else ""),
            ),
            Placing(origin=(*corners[3], low), u_axis=along, v_axis=up),
            "wall",
            (corners[3], corners[2]),
        ),
        make(
            "underside",
            f"B{b.id}U",
            f"Bulkhead {b.id} underside",
            (b.length, b.depth),
            (
                (EdgeKind.ANGLE, none, wall_ref),
                (right, none, f"{base}:right" if b.right_free else ""),
                (EdgeKind.CORNER, none, f"{base}:face"),
                (left, none, f"{base}:left" if b.left_free else ""),
            ),
            Placing(origin=(*corners[0], low), u_axis=along, v_axis=inward),
            "ceiling",
        ),
    ]
    for free, part, origin, axis in (
        (b.left_free, "left", corners[0], inward),
        (b.right_free, "right", corners[2], tuple(-c for c in inward)),
    ):
        if not free:
            continue
        at_wall = (EdgeKind.ANGLE, none, wall_ref)
        at_face = (EdgeKind.CORNER, none, f"{base}:face")
        first, last = (at_wall, at_face) if part == "left" else (at_face, at_wall)
        surfaces.append(
            make(
                part,
                f"B{b.id}{part[0].upper()}",
                f"Bulkhead {b.id} {part} end",
                (b.depth, b.drop),
                (
                    (EdgeKind.CORNER, none, f"{base}:underside"),
                    last,
                    (EdgeKind.ANGLE, cornice, ceiling_ref),
                    first,
                ),
                Placing(origin=(*origin, low), u_axis=(axis[0], axis[1], 0.0), v_axis=up),
                "wall",
                (corners[0], corners[3]) if part == "left" else (corners[2], corners[1]),
            )
        )
    return surfaces, said
