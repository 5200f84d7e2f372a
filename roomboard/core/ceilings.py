"""Ceilings laid flat: joist zones, holes, and what their sides meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.bulkheads import bulkhead_plan
from roomboard.core.columns import column_ring, columns_of, without_columns
from roomboard.core.face import (
    UPRIGHT,
    in_parts,
    lies_along,
    openings_on,
    room_finding,
    special_kinds,
)
from roomboard.core.findings import Area, Finding, Severity
from roomboard.core.framing import zone_members
from roomboard.core.plane import (
    TOLERANCE,
    Region,
    difference,
    distance,
    fault_in,
    intersection,
    line_inside,
)
from roomboard.core.project import AngleFinish, FrameKind, JoistZone, WallKind
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    SeenFrom,
    Support,
    SupportKind,
    SupportZone,
    Surface,
    SurfaceEdge,
    SurfaceOpening,
)

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.project import Room
    from roomboard.core.setting import Setting

HALF_TURN = 180.0


def ceiling_surfaces(room: Room, setting: Setting) -> tuple[list[Surface], list[Finding]]:
    """Return the ceiling of a room, in more than one part if a hole divides it.

    Args:
        room: The room, clockwise and to the bare frame.
        setting: Pack, stock and choices.
    """
    practice = setting.practice
    board = setting.board(room.ceiling_board, "ceiling")
    said: list[Finding] = []
    around = without_columns(room) if room.columns else ()
    outline = max(around, key=lambda r: r.area_mm2) if around else Region.of(room.outline)
    behind = [
        Region.of(bulkhead_plan(room, b))
        for b in room.bulkheads
        if not b.lined_behind and room.wall(b.wall)
    ]
    if behind:
        left = difference(outline, behind)
        outline = max(left, key=lambda r: r.area_mm2) if left else outline
    zones, supports = _joist_zones(room, outline, setting, said)
    openings, parts = openings_on([o for o in room.openings if o.host == "ceiling"], outline)
    whole = parts or (outline,)
    said.extend(_cut_members(room, openings, supports, practice.mm("trimmer.width")))
    edges = [_ceiling_edge(room, a, b, openings) for part in whole for a, b in part.segments]
    frames = [s.frame for s in supports]
    surface = Surface(
        ref=f"{room.id}/ceiling",
        room=room.id,
        key="ceiling",
        code="C",
        name="Ceiling",
        place="ceiling",
        region=whole[0],
        outline=outline,
        edges=tuple(edges),
        supports=tuple(supports),
        zones=tuple(zones),
        openings=openings,
        seen_from=SeenFrom.BACK,
        placing=Placing(
            origin=(0.0, 0.0, room.height), u_axis=(1.0, 0.0, 0.0), v_axis=(0.0, 1.0, 0.0)
        ),
        board=board.id,
        frame=max(set(frames), key=lambda f: (frames.count(f), f), default=FrameKind.TIMBER),
        finish_level=room.finish_level,
        special=special_kinds(room, "ceiling"),
        carry_in=room.carry_in,
        direction=room.choice("ceiling").direction,
        height_above_floor=room.height,
    )
    return in_parts(surface, whole), said


def _joist_zones(
    room: Room, outline: Region, setting: Setting, said: list[Finding]
) -> tuple[list[SupportZone], list[Support]]:
    practice = setting.practice
    zones: list[SupportZone] = []
    supports: list[Support] = []
    taken: list[Region] = []
    declared = room.joists
    if not declared:
        u0, v0, u1, v1 = outline.bounds
        board = setting.board(room.ceiling_board, "ceiling")
        row = practice.framing_row(
            thickness=board.thickness,
            grades=board.grades,
            place="ceiling",
            orientation="across",
            method=setting.choices.method,
        )
        spacing = row.max_centres if row else 0.0
        assumed = JoistZone(
            id="assumed", direction_deg=UPRIGHT if u1 - u0 >= v1 - v0 else 0.0, spacing=spacing
        )
        declared = (assumed,)
        said.append(
            room_finding(
                "RB104",
                Severity.WARNING,
                f"No joists are given for {room.name}; joists across the shorter way at "
                "{spacing} centres were assumed: find the real ones before ordering.",
                room,
                params=(("spacing", spacing),),
                surface="ceiling",
            )
        )
    for zone in declared:
        own = Region.of(zone.outline) if zone.outline else outline
        parts: tuple[Region, ...] = ()
        fault = fault_in(zone.outline) if zone.outline else ""
        if not fault and own.outer:
            parts = intersection(own, outline) if zone.outline else (outline,)
            if parts and taken:
                parts = tuple(q for p in parts for q in difference(p, taken))
        if fault or not parts:
            said.append(
                room_finding(
                    "RB106",
                    Severity.WARNING,
                    f"Joist zone {zone.id} of {room.name} covers no part of the ceiling that "
                    f"another zone does not cover{': ' + fault if fault else ''}; correct its "
                    "outline.",
                    room,
                    item=zone.id,
                    surface="ceiling",
                )
            )
            continue
        for count, part in enumerate(parts):
            face = zone.face or practice.mm("trimmer.width")
            anchored = replace(
                zone,
                id=zone.id + (f".{count + 1}" if count else ""),
                outline=zone.outline or outline.outer,
            )
            members, centres = zone_members(anchored, part, len(zones), face)
            if not members:
                said.append(
                    room_finding(
                        "RB104",
                        Severity.WARNING,
                        f"Joist zone {zone.id} of {room.name} has no member inside it; "
                        "give its spacing or the places of its joists.",
                        room,
                        item=zone.id,
                        surface="ceiling",
                    )
                )
            zones.append(
                SupportZone(
                    region=part,
                    direction_deg=zone.direction_deg % HALF_TURN,
                    centres=centres,
                    id=zone.id,
                )
            )
            supports.extend(members)
            taken.append(part)
    rest = difference(outline, taken) if taken else (outline,)
    for part in rest:
        said.append(
            room_finding(
                "RB308",
                Severity.WARNING,
                f"{{area}} of the ceiling of {room.name} lies in no joist zone; its edges are "
                "treated as having nothing behind them: draw the zone.",
                room,
                params=(("area", Area(part.area_mm2 / 1e6)),),
                surface="ceiling",
            )
        )
        direction = zones[0].direction_deg if zones else UPRIGHT
        zones.append(SupportZone(region=part, direction_deg=direction, centres=0.0))
    return zones, supports


def _cut_members(
    room: Room, openings: Sequence[SurfaceOpening], supports: Sequence[Support], face: float
) -> list[Finding]:
    """Say where a hatch, light or duct meets a member."""
    said: list[Finding] = []
    for opening in openings:
        for support in supports:
            grown = Region.of(
                [
                    (u + du, v + dv)
                    for (u, v), (du, dv) in zip(
                        Region.box(*opening.region.bounds).outer,
                        _corners(support, face),
                        strict=True,
                    )
                ]
            )
            if not line_inside(grown, support.a, support.b):
                continue
            what = f"{opening.kind.value} {opening.id}"
            if support.kind is SupportKind.TRUSS:
                text = (
                    f"The {what} in the ceiling of {room.name} meets truss {support.id}: "
                    "a truss must never be cut; move it to a clear bay."
                )
            elif opening.framed:
                text = (
                    f"The {what} in the ceiling of {room.name} cuts joist {support.id}: "
                    "have a competent person design the trimming before any joist is cut, "
                    "or move it to a clear bay."
                )
            else:
                text = (
                    f"The {what} in the ceiling of {room.name} stands on {support.kind.value} "
                    f"{support.id}: move it into the bay beside it."
                )
            said.append(
                room_finding(
                    "RB306", Severity.BLOCK, text, room, item=opening.id, surface="ceiling"
                )
            )
    return said


def _corners(support: Support, _face: float) -> tuple[Point, Point, Point, Point]:
    """How far to grow an upright box so that its sides stand a member's half face away."""
    half = support.face / 2 - TOLERANCE
    length = distance(support.a, support.b)
    nu = abs(support.b[1] - support.a[1]) / length * half
    nv = abs(support.b[0] - support.a[0]) / length * half
    return ((-nu, -nv), (nu, -nv), (nu, nv), (-nu, nv))


def _ceiling_edge(
    room: Room, a: Point, b: Point, openings: Sequence[SurfaceOpening]
) -> SurfaceEdge:
    for index, wall in enumerate(room.walls):
        p, q = room.wall_ends(index)
        if lies_along(a, b, p, q):
            if wall.kind is WallKind.OPEN:
                return SurfaceEdge(a=a, b=b, kind=EdgeKind.FREE, finish=AngleFinish.NONE, other="")
            return SurfaceEdge(
                a=a, b=b, kind=EdgeKind.ANGLE, finish=wall.angle, other=f"{room.id}/wall:{wall.id}"
            )
    for opening in openings:
        if any(lies_along(a, b, p, q) for p, q in opening.region.segments):
            return SurfaceEdge(
                a=a, b=b, kind=EdgeKind.OPENING, finish=AngleFinish.NONE, other=opening.id
            )
    for column in columns_of(room):
        ring = column_ring(column)
        for number, (p, q) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True), 1):
            if lies_along(a, b, p, q):
                ref = f"{room.id}/column:{column.id}:{number}"
                return SurfaceEdge(a=a, b=b, kind=EdgeKind.ANGLE, finish=column.angle, other=ref)
    return SurfaceEdge(a=a, b=b, kind=EdgeKind.ANGLE, finish=AngleFinish.NONE, other="")
