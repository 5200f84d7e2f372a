"""Ceilings laid flat: joist zones, holes, and what their sides meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.bulkheads import bulkhead_plan
from roomboard.core.ceiling_steps import met_over, part_findings
from roomboard.core.columns import column_ring, columns_of, without_columns
from roomboard.core.face import (
    UPRIGHT,
    hole_of,
    in_parts,
    lies_along,
    openings_on,
    room_finding,
    special_kinds,
)
from roomboard.core.findings import Area, Finding, Severity
from roomboard.core.framing import zone_members
from roomboard.core.heights import KEY, Cover, beside, covers, flat_cover
from roomboard.core.plane import (
    Region,
    difference,
    distance,
    fault_in,
    intersection,
    snap_point,
)
from roomboard.core.project import AngleFinish, FrameKind, WallKind
from roomboard.core.rafters import assumed_zone, numbered_zones, on_face, renumbered, with_rafters
from roomboard.core.surface import (
    EdgeKind,
    SeenFrom,
    Support,
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
    """Return the ceiling of a room: a surface for each plane, more where a hole divides one.

    Args:
        room: The room, clockwise and to the bare frame.
        setting: Pack, stock and choices.
    """
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
    if not room.ceiling_parts:
        return _face(room, flat_cover(room), outline, setting, said), said
    said.extend(part_findings(room))
    made: list[Surface] = []
    framed = with_rafters(room, setting, said)
    for cover in covers(room):
        found = [p for r in cover.regions for p in intersection(r, outline)]
        for number, plan in enumerate(found, 1):
            if cover.lined:
                made.extend(_face(framed, cover, plan, setting, said, number))
    return made, said


def _code(room: Room, cover: Cover, number: int) -> str:
    """Return what the marks of a plane's pieces begin with: letters of parts, no two alike."""
    code = "C"
    if cover.part is not None:
        letters = cover.part.id.upper()
        alike = [p for p in room.ceiling_parts if p.id.upper() == letters]
        plain = letters.isalpha() and len(alike) == 1
        code = f"C{letters}" if plain else f"C-{cover.part.id}-"
    return code if number == 1 else f"{code}-{number}-"


def _face(
    room: Room,
    cover: Cover,
    plan: Region,
    setting: Setting,
    said: list[Finding],
    number: int = 1,
) -> list[Surface]:
    """Lay one plane of a ceiling flat.

    Args:
        room: The room.
        cover: The plane.
        plan: What of the plan lies under it.
        setting: Pack, stock and choices.
        said: Takes what is to be said.
        number: Which of the plane's regions in plan it is, from 1.
    """
    board = setting.board(cover.board, "ceiling")
    slope = cover.slope
    outline = slope.region_to_face(plan)
    zoned = numbered_zones(room, cover, plan, outline)
    face = replace(room, joists=tuple(zone for zone, _ in zoned))
    zones, supports = _joist_zones(face, outline, setting, said)
    if room.ceiling_parts:
        supports = renumbered(supports, zoned)
        zones = [replace(z, id=z.id.partition(".")[0]) for z in zones]
    hung = [o for o in room.openings if o.host == KEY]
    # What is square in plan is a rhomboid on a slope that rises askew to it.
    shapes = {
        o.id: slope.region_to_face(hole_of(o, plan))
        for o in hung
        if not o.is_round and o.width > 0 and o.height > 0
    }
    openings, parts = openings_on([on_face(o, slope) for o in hung], outline, shapes)
    whole = parts or (outline,)
    edges = [
        edge
        for part in whole
        for a, b in part.segments
        for edge in _ceiling_edges(room, cover, a, b, openings, setting)
    ]
    frames = [s.frame for s in supports]
    tail = f".{number}" if number > 1 else ""
    key = cover.key + tail
    name = f"Ceiling {cover.part.id}" if cover.part else "Ceiling"
    surface = Surface(
        ref=f"{room.id}/{key}",
        room=room.id,
        key=key,
        code=_code(room, cover, number),
        name=name if number == 1 else f"{name} region {number}",
        place="ceiling",
        region=whole[0],
        outline=outline,
        edges=tuple(edges),
        supports=tuple(supports),
        zones=tuple(zones),
        openings=openings,
        seen_from=SeenFrom.BACK,
        placing=slope.placing,
        board=board.id,
        frame=max(set(frames), key=lambda f: (frames.count(f), f), default=FrameKind.TIMBER),
        finish_level=room.finish_level,
        special=special_kinds(room, "ceiling"),
        carry_in=room.carry_in,
        direction=room.choice(cover.key).direction,
        height_above_floor=max(slope.height_at(p) for p in plan.outer),
    )
    return in_parts(surface, whole)


def _joist_zones(
    room: Room, outline: Region, setting: Setting, said: list[Finding]
) -> tuple[list[SupportZone], list[Support]]:
    practice = setting.practice
    zones: list[SupportZone] = []
    supports: list[Support] = []
    taken: list[Region] = []
    declared = room.joists
    if not declared:
        assumed = assumed_zone(room, outline, setting)
        declared = (assumed,)
        said.append(
            room_finding(
                "RB104",
                Severity.WARNING,
                f"No joists are given for {room.name}; joists across the shorter way at "
                "{spacing} centres were assumed: find the real ones before ordering.",
                room,
                params=(("spacing", assumed.spacing),),
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


def _ceiling_edges(
    room: Room,
    cover: Cover,
    a: Point,
    b: Point,
    openings: Sequence[SurfaceOpening],
    setting: Setting,
) -> list[SurfaceEdge]:
    """Say what a side of a ceiling meets; where it meets one plane after another, in stretches."""
    slope = cover.slope
    own = (a, b) if slope.is_flat else (slope.to_plan(a), slope.to_plan(b))
    known = _ceiling_edge(room, a, b, own, openings)
    if known is not None:
        return [known]
    found: list[SurfaceEdge] = []
    for other in covers(room) if room.ceiling_parts else ():
        if other.key == cover.key:
            continue
        for p, q in beside(*own, other):
            ends = ((own[0], a), (own[1], b))
            p_on, q_on = (
                next((on for plan, on in ends if plan == x), None) or slope.to_face(x)
                for x in (p, q)
            )
            found.extend(
                replace(met, a=_there(p_on, q_on, p, q, met.a), b=_there(p_on, q_on, p, q, met.b))
                for met in met_over(room, cover, other, p, q, setting)
            )
    if found:
        return found
    return [SurfaceEdge(a=a, b=b, kind=EdgeKind.ANGLE, finish=AngleFinish.NONE, other="")]


def _there(p_on: Point, q_on: Point, p: Point, q: Point, at: Point) -> Point:
    """Return a place on the line p-q in plan where that line lies on a face."""
    if at in (p, q):
        return p_on if at == p else q_on
    share = distance(p, at) / distance(p, q)
    return snap_point(
        (p_on[0] + (q_on[0] - p_on[0]) * share, p_on[1] + (q_on[1] - p_on[1]) * share)
    )


def _ceiling_edge(
    room: Room,
    a: Point,
    b: Point,
    plan: tuple[Point, Point],
    openings: Sequence[SurfaceOpening],
) -> SurfaceEdge | None:
    """Say what a side of a ceiling meets, unless that is another plane of it.

    Args:
        room: The room.
        a: Begin of the side on the face.
        b: Its end.
        plan: The same in plan.
        openings: Holes in the face.
    """
    for index, wall in enumerate(room.walls):
        p, q = room.wall_ends(index)
        if lies_along(*plan, p, q):
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
            if lies_along(*plan, p, q):
                ref = f"{room.id}/column:{column.id}:{number}"
                return SurfaceEdge(a=a, b=b, kind=EdgeKind.ANGLE, finish=column.angle, other=ref)
    return None
