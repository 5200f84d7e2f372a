"""From the measured room to surfaces: every face laid flat, with its framing behind it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from roomboard.core.bulkheads import bulkhead_surfaces
from roomboard.core.ceiling_steps import step_surfaces
from roomboard.core.ceilings import ceiling_surfaces
from roomboard.core.columns import boxed, column_findings, column_surfaces, columns_of
from roomboard.core.control_joints import with_lines
from roomboard.core.face import room_finding, wall_board, wall_top
from roomboard.core.findings import Finding, Severity
from roomboard.core.framing import extent_across, member_positions
from roomboard.core.heights import KEY, highest
from roomboard.core.heights_tops import lowest_over
from roomboard.core.kept import parts_off, without_kept
from roomboard.core.layers import in_layers
from roomboard.core.lighting import with_lights
from roomboard.core.plane import (
    TOLERANCE,
    Region,
    distance,
    distance_to_segment,
    fault_in,
    intersection,
    regions_of,
    snap_point,
)
from roomboard.core.project import HeightsAre, JoistZone, WallKind, clockwise
from roomboard.core.reveals import reveal_surfaces
from roomboard.core.surface import Surface
from roomboard.core.walls import wall_surfaces

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import CeilingPart, Opening, Room
    from roomboard.core.setting import Setting


@dataclass(frozen=True, kw_only=True)
class Developed:
    """A room laid flat.

    Attributes:
        room: The room with its outline clockwise and to the bare frame.
        surfaces: Ceiling first, then walls in order, lined reveals, columns, upright sides of
            the ceiling's parts, bulkheads.
        findings: What could not be used as it was entered, and what was assumed.
    """

    room: Room
    surfaces: tuple[Surface, ...]
    findings: tuple[Finding, ...]


def develop(room: Room, setting: Setting) -> Developed:
    """Lay every lined face of a room flat.

    What cannot be used becomes a finding and is left out; nothing raises.

    Args:
        room: The room as measured, outline in either direction, mm.
        setting: Pack, stock and choices.
    """
    fault = fault_in(room.outline)
    if not fault and len(room.walls) != len(room.outline):
        fault = f"it has {len(room.outline)} sides but {len(room.walls)} walls"
    if not fault and not all(math.isfinite(c) for p in room.outline for c in p):
        fault = "a corner is not a number"
    if fault:
        return Developed(
            room=room,
            surfaces=(),
            findings=(
                room_finding(
                    "RB101",
                    Severity.BLOCK,
                    f"The outline of {room.name} cannot be used: {fault}; correct its corners.",
                    room,
                ),
            ),
        )
    room = _bare(clockwise(room), setting)
    findings: list[Finding] = [*_check_openings(room), *column_findings(room)]
    surfaces: list[Surface] = []
    reveals: list[Surface] = []
    if room.ceiling_lined:
        made, said = ceiling_surfaces(room, setting)
        surfaces.extend(made)
        findings.extend(said)
    height = highest(room) if room.ceiling_parts else wall_top(room, setting)
    if height <= setting.practice.mm("piece.min"):
        findings.append(
            room_finding(
                "RB108",
                Severity.BLOCK,
                f"The height of {room.name} is {{height}}, too little to line a wall; "
                "give the height from floor to ceiling framing.",
                room,
                params=(("height", float(room.height)),),
            )
        )
    else:
        for index, wall in enumerate(room.walls):
            if wall.kind is WallKind.WALL and wall.lined:
                made, said = wall_surfaces(room, index, setting)
                surfaces.extend(made)
                reveals.extend(r for face in made for r in reveal_surfaces(face))
                findings.extend(said)
        surfaces.extend(reveals)
        surfaces.extend(
            face
            for column in columns_of(room)
            if column.lined
            for face in column_surfaces(room, column, setting)
        )
        surfaces.extend(step_surfaces(room, setting) if room.ceiling_parts else ())
        for bulkhead in room.bulkheads:
            made, said = bulkhead_surfaces(room, bulkhead, setting)
            surfaces.extend(made)
            findings.extend(said)
    if not surfaces:
        findings.append(
            room_finding("RB107", Severity.WARNING, f"Nothing in {room.name} is to be lined.", room)
        )
    findings.extend(_off_their_face(room, surfaces))
    left = [part for surface in surfaces for part in without_kept(room, surface)]
    lined = tuple(
        with_lights(room, layer)
        for surface in left
        for layer in in_layers(room, with_lines(room, surface))
    )
    return Developed(room=room, surfaces=lined, findings=tuple(findings))


def _off_their_face(room: Room, surfaces: Sequence[Surface]) -> Iterator[Finding]:
    """RB117: parts that are not lined and lie on none of their face, so that all of it is lined."""
    for part in parts_off(room, surfaces):
        wall = room.wall(part.host)
        if part.host == KEY:
            where = "the ceiling"
        elif wall is None:
            where = f"wall {part.host!r}, which the room does not have"
        else:
            where = f"wall {wall.name or wall.id}"
        yield room_finding(
            "RB117",
            Severity.WARNING,
            f"Part {part.id} of {room.name}, which is not to be lined, lies off {where}: nothing "
            "is left out for it; correct its place or take it away.",
            room,
            item=part.id,
        )


def _bare(room: Room, setting: Setting) -> Room:
    """Turn sizes measured to finished faces into sizes of the bare frame."""
    if setting.choices.heights_are is HeightsAre.FRAME:
        return room
    count = len(room.outline)
    shift = [
        wall_board(w, setting).thickness if w.lined and w.kind is WallKind.WALL else 0.0
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
    for i, wall in enumerate(room.walls):
        a, b = room.wall_ends(i)
        length = distance(a, b)
        along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        moved[wall.id] = (a[0] - corners[i][0]) * along[0] + (a[1] - corners[i][1]) * along[1]
    ceiling = setting.board(room.ceiling_board, "ceiling").thickness if room.ceiling_lined else 0.0
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
            replace(b, left=b.left + moved[b.wall]) if b.wall in moved else b
            for b in room.bulkheads
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
    board = setting.board(part.board or room.ceiling_board, "ceiling") if lined else None
    thick = board.thickness * room.ceiling_layers if board else 0.0
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


def _check_openings(room: Room) -> list[Finding]:
    """Say which openings do not fit where they are put."""
    said: list[Finding] = []
    lengths = {w.id: room.wall_length(i) for i, w in enumerate(room.walls)}
    plan = Region.of(room.outline)
    for opening in room.openings:
        name = f"{opening.kind.value} {opening.id} in {room.name}"
        params: tuple[tuple[str, float | int | str], ...] = ()
        if opening.width <= 0 or opening.height <= 0:
            text = f"The {name} has no size; give its width and height."
        elif opening.host == "ceiling":
            box = Region.box(
                opening.left,
                opening.bottom,
                opening.left + opening.width,
                opening.bottom + opening.height,
            )
            inside = sum(r.area_mm2 for r in intersection(plan, box))
            if inside >= box.area_mm2 - 1:
                continue
            said.append(
                room_finding(
                    "RB109",
                    Severity.BLOCK,
                    f"The {name} reaches outside the ceiling; "
                    "move it inside or give a smaller size.",
                    room,
                    item=opening.id,
                )
            )
            continue
        elif opening.host not in lengths:
            text = f"The {name} is on wall {opening.host!r}, which the room does not have."
        else:
            length = lengths[opening.host]
            over = max(-opening.left, opening.left + opening.width - length)
            index = next(i for i, w in enumerate(room.walls) if w.id == opening.host)
            left, right = opening.left, opening.left + opening.width
            top = opening.bottom + opening.height - lowest_over(room, index, left, right)
            if over > TOLERANCE:
                text = (
                    f"The {name} reaches {{over}} past the end of its wall; only the part "
                    "inside is cut out: correct its place or width."
                )
                params = (("over", float(over)),)
            elif top > TOLERANCE:
                text = (
                    f"The {name} reaches {{over}} above the ceiling framing; only the part "
                    "below is cut out: correct its sill or height."
                )
                params = (("over", float(top)),)
            else:
                continue
        severity = Severity.WARNING if params else Severity.BLOCK
        said.append(room_finding("RB102", severity, text, room, params=params, item=opening.id))
    said.extend(
        room_finding(
            "RB103",
            Severity.WARNING,
            f"Openings {one.id} and {two.id} in {room.name} overlap; "
            "they are cut out together: check both places.",
            room,
            item=one.id,
        )
        for one, two in combinations(room.openings, 2)
        if _overlap(one, two)
    )
    return said


def _overlap(one: Opening, two: Opening) -> bool:
    wide = min(one.left + one.width, two.left + two.width) - max(one.left, two.left)
    high = min(one.bottom + one.height, two.bottom + two.height) - max(one.bottom, two.bottom)
    return one.host == two.host and min(wide, high) > 1
