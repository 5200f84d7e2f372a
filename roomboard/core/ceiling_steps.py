"""Where planes of a ceiling meet or part: folds, and the upright faces of dropped parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.face import UPRIGHT, room_finding, special_kinds, tops_over, upright_sides
from roomboard.core.findings import Finding, Severity
from roomboard.core.framing import upright_supports
from roomboard.core.heights import MEETS, NEAR, part_fault, turn_at
from roomboard.core.heights_steps import steps
from roomboard.core.heights_tops import under_lining
from roomboard.core.plane import Region, difference, distance, shared_stretch
from roomboard.core.project import AngleFinish, FrameKind, SheetDirection, WallKind
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    SeenFrom,
    SupportZone,
    Surface,
    SurfaceEdge,
)

if TYPE_CHECKING:
    from roomboard.core.face import Meeting
    from roomboard.core.heights import Cover
    from roomboard.core.heights_steps import Step
    from roomboard.core.heights_tops import Top
    from roomboard.core.plane import Interval, Point
    from roomboard.core.project import Room
    from roomboard.core.setting import Setting

BEAD_FROM = "fold.bead_from"
"""Key of the figure that says from which angle on an external fold takes a corner bead."""


def part_findings(room: Room) -> list[Finding]:
    """Say which parts of a ceiling cannot be used."""
    said: list[Finding] = []
    for part in room.ceiling_parts:
        fault = part_fault(room, part)
        if fault:
            said.append(
                room_finding(
                    "RB114",
                    Severity.BLOCK,
                    f"Part {part.id} of the ceiling of {room.name} cannot be used as it is: "
                    f"{fault}; correct its outline, height or pitch.",
                    room,
                    item=part.id,
                )
            )
    return said


def met_over(
    room: Room, own: Cover, other: Cover, p: Point, q: Point, setting: Setting
) -> list[SurfaceEdge]:
    """Say what a side of a plane meets where another plane lies beyond it, in plan.

    Args:
        room: The room.
        own: The plane on the left of the line.
        other: The plane on the right.
        p: Begin of the line in plan.
        q: Its end.
        setting: Pack, stock and choices.
    """
    apart = [
        (step, span)
        for step in steps(room)
        if {step.low.key, step.high.key} == {own.key, other.key}
        and (span := _along(p, q, step)) is not None
    ]
    if not apart:
        return [_fold(room, own, other, p, q, setting)]
    found: list[SurfaceEdge] = []
    for step, span in apart:
        a, b = _ends(p, q, span)
        ref = f"{room.id}/{step.key}" if step.low.lined else ""
        if step.low.key == own.key:
            found.append(
                SurfaceEdge(a=a, b=b, kind=EdgeKind.CORNER, finish=AngleFinish.NONE, other=ref)
            )
        else:
            finish = _finish(step) if step.low.lined else AngleFinish.NONE
            found.append(SurfaceEdge(a=a, b=b, kind=EdgeKind.ANGLE, finish=finish, other=ref))
    return found


def _finish(step: Step) -> AngleFinish:
    part = step.low.part or step.high.part
    return part.angle if part else AngleFinish.NONE


def _fold(
    room: Room, own: Cover, other: Cover, p: Point, q: Point, setting: Setting
) -> SurfaceEdge:
    """Say how two planes that meet are finished: taped flush, or beaded where they stand out."""
    if not other.lined:
        return SurfaceEdge(a=p, b=q, kind=EdgeKind.ANGLE, finish=AngleFinish.NONE, other="")
    ref = f"{room.id}/{other.key}"
    turn = turn_at(p, q, own.slope, other.slope)
    practice = setting.practice
    if practice.has(BEAD_FROM) and -turn >= practice.mm(BEAD_FROM):
        return SurfaceEdge(a=p, b=q, kind=EdgeKind.CORNER, finish=AngleFinish.NONE, other=ref)
    return SurfaceEdge(a=p, b=q, kind=EdgeKind.ANGLE, finish=AngleFinish.SQUARE_SET, other=ref)


def _along(p: Point, q: Point, step: Step) -> Interval | None:
    """Return where along a line a step lies on it for more than a hair, mm."""
    return shared_stretch(p, q, step.a, step.b, off=MEETS, least=NEAR)


def _ends(p: Point, q: Point, span: Interval) -> tuple[Point, Point]:
    """Return the ends of a stretch of a line, in its own direction; its own where they are near."""
    length = distance(p, q)
    dx, dy = (q[0] - p[0]) / length, (q[1] - p[1]) / length
    low, high = span
    a = p if low < NEAR else (p[0] + dx * low, p[1] + dy * low)
    b = q if high > length - NEAR else (p[0] + dx * high, p[1] + dy * high)
    return a, b


# --- upright faces ------------------------------------------------------------------------


def step_surfaces(room: Room, setting: Setting) -> list[Surface]:
    """Return the upright faces between the planes of a ceiling, as far as they are lined."""
    found: list[Surface] = []
    for step in steps(room):
        if step.low.lined:
            face = _step_face(room, step, setting)
            if face is not None:
                found.append(face)
    return found


def _step_face(room: Room, step: Step, setting: Setting) -> Surface | None:
    length = distance(step.a, step.b)
    over = tuple(t for t in tops_over(room, step.a, step.b, setting) if t.key == step.high.key)
    foot = _foot(step)
    outline = _between(over, foot)
    if outline is None:
        return None
    number = step.key.rpartition(":")[2]
    board = setting.board("", "wall")
    spacing = next((z.spacing for z in room.joists if z.spacing > 0), 0.0)
    face = setting.practice.mm("trimmer.width")
    frame = room.joists[0].frame if room.joists else FrameKind.TIMBER
    kinds: tuple[Meeting, ...] = (
        (EdgeKind.CORNER, AngleFinish.NONE, f"{room.id}/{step.low.key}"),
        _end(room, step, step.b),
        (EdgeKind.ANGLE, _finish(step), f"{room.id}/{step.high.key}"),
        _end(room, step, step.a),
    )
    dx, dy = (step.b[0] - step.a[0]) / length, (step.b[1] - step.a[1]) / length
    label = step.name if step.name != "ceiling" else "flat"
    return Surface(
        ref=f"{room.id}/{step.key}",
        room=room.id,
        key=step.key,
        code=f"S{label.upper() if label.isalpha() else label + '-'}{number}",
        name=f"Side {number} of ceiling {label}",
        place="wall",
        region=outline,
        outline=outline,
        edges=tuple(
            SurfaceEdge(a=a, b=b, kind=kind, finish=finish, other=other)
            for (a, b), (kind, finish, other) in upright_sides(outline, over, kinds, room.id)
        ),
        supports=upright_supports(over, foot, spacing, face, frame),
        zones=(
            SupportZone(
                region=outline, direction_deg=UPRIGHT, centres=min(spacing or length, length)
            ),
        ),
        openings=(),
        seen_from=SeenFrom.FACE,
        placing=Placing(
            origin=(step.a[0], step.a[1], 0.0), u_axis=(dx, dy, 0.0), v_axis=(0.0, 0.0, 1.0)
        ),
        board=board.id,
        frame=frame,
        finish_level=room.finish_level,
        special=special_kinds(room, "ceiling"),
        carry_in=room.carry_in,
        direction=(
            SheetDirection.ACROSS
            if room.choice(step.key).direction is SheetDirection.AUTO
            else room.choice(step.key).direction
        ),
        height_above_floor=outline.bounds[3],
        lettered=True,
    )


def _foot(step: Step) -> tuple[tuple[Point, Point], ...]:
    """Return the line of the lower plane along a step, ``(u, height)``."""
    length = distance(step.a, step.b)
    ends = [step.low.slope.height_at(p) for p in (step.a, step.b)]
    return (((0.0, ends[0]), (length, ends[1])),)


def _between(over: tuple[Top, ...], foot: tuple[tuple[Point, Point], ...]) -> Region | None:
    """Return what stands between a foot and the linings over it, or None for nothing."""
    if not over:
        return None
    lowest = min(p[1] for line in foot for p in line) - MEETS
    whole = under_lining(over, lowest)
    (a, b) = foot[0][0], foot[-1][1]
    cut = Region.of(
        [
            (a[0], lowest - MEETS),
            (b[0], lowest - MEETS),
            *(p for line in reversed(foot) for p in reversed(line)),
        ]
    )
    left = [r for w in whole for r in difference(w, [cut])]
    return max(left, key=lambda r: r.area_mm2) if left else None


def _end(room: Room, step: Step, at: Point) -> Meeting:
    """Say what the end of a step meets: a wall, or the next step."""
    none = AngleFinish.NONE
    for other in steps(room):
        if other.key == step.key or not other.low.lined:
            continue
        before, after = (other, step) if at == step.a else (step, other)
        if distance(before.b, after.a) > NEAR:
            continue
        cross = (before.b[0] - before.a[0]) * (after.b[1] - after.a[1]) - (
            before.b[1] - before.a[1]
        ) * (after.b[0] - after.a[0])
        kind = EdgeKind.CORNER if cross > 0 else EdgeKind.ANGLE
        return (kind, none, f"{room.id}/{other.key}")
    for index, wall in enumerate(room.walls):
        p, q = room.wall_ends(index)
        length = distance(p, q)
        off = abs((q[0] - p[0]) * (at[1] - p[1]) - (q[1] - p[1]) * (at[0] - p[0])) / length
        along = ((q[0] - p[0]) * (at[0] - p[0]) + (q[1] - p[1]) * (at[1] - p[1])) / length
        if off <= NEAR and -NEAR <= along <= length + NEAR:
            if wall.kind is WallKind.OPEN:
                return (EdgeKind.FREE, none, "")
            return (EdgeKind.ANGLE, none, f"{room.id}/wall:{wall.id}")
    return (EdgeKind.ANGLE, none, "")
