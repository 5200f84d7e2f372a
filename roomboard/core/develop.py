"""From the measured room to surfaces: every face laid flat, with its framing behind it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from roomboard.core.bulkheads import bulkhead_surfaces
from roomboard.core.ceiling_steps import step_surfaces
from roomboard.core.ceilings import ceiling_surfaces
from roomboard.core.columns import column_findings, column_surfaces, columns_of
from roomboard.core.control_joints import with_lines
from roomboard.core.face import room_finding, wall_top
from roomboard.core.findings import Finding, Severity
from roomboard.core.frame_sizes import to_frame
from roomboard.core.heights import KEY, highest
from roomboard.core.heights_tops import lowest_over
from roomboard.core.kept import parts_off, without_kept
from roomboard.core.layers import in_layers
from roomboard.core.lighting import with_lights
from roomboard.core.plane import TOLERANCE, Region, fault_in, intersection
from roomboard.core.project import WallKind, clockwise
from roomboard.core.reveals import reveal_surfaces
from roomboard.core.surface import Surface
from roomboard.core.walls import wall_surfaces

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.project import Opening, Room
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
    room = to_frame(clockwise(room), setting)
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
