"""What ceilings, walls and bulkheads share when they are laid flat."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.heights_tops import tops
from roomboard.core.plane import (
    TOLERANCE,
    Frame,
    Region,
    difference,
    distance_to_segment,
    intersection,
    line_inside,
    snap,
)
from roomboard.core.project import AngleFinish, OpeningKind
from roomboard.core.surface import EdgeKind, Surface, SurfaceEdge, SurfaceOpening

if TYPE_CHECKING:
    from roomboard.core.findings import Param
    from roomboard.core.heights import Cover
    from roomboard.core.heights_tops import Top
    from roomboard.core.plane import Point
    from roomboard.core.project import Opening, Room, Wall
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board

CIRCLE_SIDES = 36
"""A round cut-out is drawn and measured as a regular polygon round its circle."""
FRAMED = {OpeningKind.DOOR, OpeningKind.WINDOW, OpeningKind.OPENING, OpeningKind.HATCH}
"""Openings whose sides have, or want, framing; lights and ducts only make a hole."""
UPRIGHT = 90.0


def room_finding(
    code: str,
    severity: Severity,
    text: str,
    room: Room,
    *,
    params: tuple[tuple[str, Param], ...] = (),
    item: str = "",
    surface: str = "",
) -> Finding:
    """Make a finding that belongs to a room, or to one of its surfaces or items."""
    return Finding(
        code=code,
        severity=severity,
        text=text,
        params=params,
        place=Place(room=room.id, surface=f"{room.id}/{surface}" if surface else "", item=item),
    )


def wall_board(wall: Wall, setting: Setting) -> Board:
    """Return the board of a wall: its own, the project's or the pack's."""
    return setting.board(wall.board, "wall")


def wall_top(room: Room, setting: Setting) -> float:
    """Height of the wall lining's top: it stands under the ceiling board, which goes up first."""
    if not room.ceiling_lined:
        return room.height
    thickness = setting.board(room.ceiling_board, "ceiling").thickness
    return room.height - thickness * room.ceiling_layers


def lining_of(room: Room, setting: Setting) -> Callable[[Cover], float]:
    """Return what says how thick the lining of a ceiling is, mm; 0 where it is not lined."""

    def thickness(cover: Cover) -> float:
        if not cover.lined:
            return 0.0
        return setting.board(cover.board, "ceiling").thickness * room.ceiling_layers

    return thickness


def tops_over(room: Room, p: Point, q: Point, setting: Setting) -> tuple[Top, ...]:
    """Return what lies over a line in plan, on its right; see :func:`~.heights.tops`."""
    return tops(room, p, q, lining_of(room, setting))


Meeting = tuple[EdgeKind, AngleFinish, str]
"""What a side meets: kind, finish, and the ref of the face beyond."""


def upright_sides(
    outline: Region, over: Sequence[Top], kinds: Sequence[Meeting], room: str
) -> Iterator[tuple[tuple[Point, Point], Meeting]]:
    """Return the sides of an upright face under a ceiling that may slope, with what each meets.

    Args:
        outline: The face, ``(u, v)``.
        over: What lies over it, in the same ``(u, v)``.
        kinds: What its foot, its right end, its top and its left end meet.
        room: Room id.
    """
    foot, right, top, left = kinds
    u0, _, u1, _ = outline.bounds
    for a, b in outline.segments:
        above = next((t.key for t in over if lies_along(a, b, *t.under)), "")
        if above and a[0] > b[0]:
            yield (a, b), (top[0], top[1], f"{room}/{above}" if top[2] else "")
        elif abs(a[0] - b[0]) <= TOLERANCE and abs(a[0] - u1) <= TOLERANCE:
            yield (a, b), right
        elif abs(a[0] - b[0]) <= TOLERANCE and abs(a[0] - u0) <= TOLERANCE:
            yield (a, b), left
        elif a[0] < b[0]:
            yield (a, b), foot
        else:
            yield (a, b), (EdgeKind.ANGLE, AngleFinish.NONE, "")


TAPE = 1.0
"""The tape reads no finer (mm): an opening that stops nearer than this to a side ends there."""


def hole_of(opening: Opening, outline: Region) -> Region:
    """Return what an opening takes away, to the sides of its face where it stops short of them.

    Args:
        opening: The opening, in the face's own ``(u, v)``.
        outline: The face.
    """
    u0, v0 = opening.left, opening.bottom
    if not opening.is_round:
        left, low, right, high = outline.bounds
        u1, v1 = u0 + opening.width, v0 + opening.height
        u0, u1 = (_to_side(u, left, right) for u in (u0, u1))
        v0, v1 = (_to_side(v, low, high) for v in (v0, v1))
        return Region.box(u0, v0, u1, v1)
    radius = opening.width / 2
    cu, cv = u0 + radius, v0 + radius
    out = radius / math.cos(math.pi / CIRCLE_SIDES)
    turn = 2 * math.pi / CIRCLE_SIDES
    return Region.of(
        [
            (cu + out * math.cos(turn * (k + 0.5)), cv + out * math.sin(turn * (k + 0.5)))
            for k in range(CIRCLE_SIDES)
        ]
    )


def _to_side(at: float, low: float, high: float) -> float:
    return next((side for side in (low, high) if abs(at - side) < TAPE), at)


def openings_on(
    openings: Sequence[Opening], outline: Region, shapes: Mapping[str, Region] | None = None
) -> tuple[tuple[SurfaceOpening, ...], tuple[Region, ...]]:
    """Clip openings to a face and cut them out.

    Args:
        openings: The openings, in the face's own ``(u, v)``.
        outline: The face.
        shapes: By id, what those take away that do not lie square to the face.

    Returns:
        The openings that take something away, and what is left: more than one part where
        an opening runs from floor to ceiling.
    """
    kept: list[SurfaceOpening] = []
    holes: list[Region] = []
    for o in sorted(openings, key=lambda o: o.id):
        if o.width <= 0 or o.height <= 0:
            continue
        hole = (shapes or {}).get(o.id) or hole_of(o, outline)
        # Holes that only touch the outline from outside take nothing away.
        parts = intersection(hole, outline)
        if not parts:
            continue
        # The whole hole is cut out: of one clipped at a slant a hair would be left standing.
        holes.append(hole)
        kept.append(
            SurfaceOpening(
                id=o.id,
                kind=o.kind,
                region=max(parts, key=lambda r: r.area_mm2),
                framed=o.kind in FRAMED,
                is_round=o.is_round,
                reveal_lined=o.reveal_lined,
                reveal_depth=o.reveal_depth,
            )
        )
    if not kept:
        return (), (outline,)
    return tuple(kept), difference(outline, holes)


def in_parts(surface: Surface, parts: tuple[Region, ...]) -> list[Surface]:
    """Make a surface of each part of a face that openings divide from top to bottom."""
    if len(parts) == 1:
        return [surface]
    made: list[Surface] = []
    for number, part in enumerate(sorted(parts, key=lambda r: r.bounds), 1):
        outline = intersection(surface.outline, Region.box(*part.bounds))[0]
        tail = f".{number}" if number > 1 else ""
        made.append(
            replace(
                surface,
                ref=surface.ref + tail,
                key=surface.key + tail,
                code=surface.code + (f"{number}" if number > 1 else ""),
                name=f"{surface.name} part {number}",
                region=part,
                outline=outline,
                edges=tuple(e for e in surface.edges if _is_side(e, part)),
                supports=tuple(
                    replace(s, id=s.id + (f"/{k}" if k else ""), a=a, b=b)
                    for s in surface.supports
                    for k, (a, b) in enumerate(_within(s.a, s.b, part.bounds))
                ),
                openings=tuple(
                    o
                    for o in surface.openings
                    if o.region.geometry.distance(part.geometry) <= TOLERANCE
                ),
                zones=tuple(
                    replace(z, region=q)
                    for z in surface.zones
                    for q in intersection(z.region, outline)
                ),
            )
        )
    return made


def _is_side(edge: SurfaceEdge, part: Region) -> bool:
    """Tell whether an edge is a side of a part, or a stretch of one."""
    return (edge.a, edge.b) in set(part.segments) or any(
        lies_along(edge.a, edge.b, p, q) and _same_way((edge.a, edge.b), (p, q))
        for p, q in part.segments
    )


def _same_way(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    (a, b), (p, q) = one, two
    return (b[0] - a[0]) * (q[0] - p[0]) + (b[1] - a[1]) * (q[1] - p[1]) > 0


def _within(
    a: Point, b: Point, bounds: tuple[float, float, float, float]
) -> tuple[tuple[Point, Point], ...]:
    """Return what an upright or level line has inside a box, its sides counted in."""
    u0, v0, u1, v1 = bounds
    reach = Region.box(u0 - 1, -1e6, u1 + 1, 1e6) if a[0] == b[0] else Region.box(u0, -1e6, u1, 1e6)
    del v0, v1
    return line_inside(reach, a, b)


def lies_along(a: Point, b: Point, p: Point, q: Point, reach: float = 0.1) -> bool:
    """Tell whether a-b lies along p-q, within it."""
    return distance_to_segment(a, p, q) <= reach and distance_to_segment(b, p, q) <= reach


def plan_deg(surface: Surface, direction_deg: float) -> float:
    """Return which way a direction on a ceiling runs in plan, degrees from 0 to below 180.

    Args:
        surface: The ceiling.
        direction_deg: Degrees counter-clockwise from its +u.
    """
    cos, sin = Frame.at_angle(direction_deg).along
    u, v = surface.placing.u_axis, surface.placing.v_axis
    x, y = cos * u[0] + sin * v[0], cos * u[1] + sin * v[1]
    return math.degrees(math.atan2(snap(y), snap(x))) % 180.0


def special_kinds(room: Room, host: str) -> tuple[str, ...]:
    """Return the kinds of special zone on a host or on the whole room, in order."""
    return tuple(sorted({z.kind.value for z in room.zones if z.host in {host, "room"}}))
