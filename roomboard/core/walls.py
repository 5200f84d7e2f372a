"""Walls laid flat: sheet direction, gap at the floor, openings, studs."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.bulkheads import bulkhead_foot
from roomboard.core.face import (
    UPRIGHT,
    in_parts,
    lies_along,
    openings_on,
    room_finding,
    special_kinds,
    tops_over,
    wall_board,
    wall_top,
)
from roomboard.core.findings import Finding, Severity
from roomboard.core.framing import stud_centres, wall_supports
from roomboard.core.heights import NEAR
from roomboard.core.heights_steps import steps
from roomboard.core.heights_tops import is_level, under_lining
from roomboard.core.plane import TOLERANCE, Region, difference, distance
from roomboard.core.project import AngleFinish, SheetDirection, WallKind
from roomboard.core.surface import EdgeKind, Placing, SeenFrom, SupportZone, Surface, SurfaceEdge

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.heights_tops import Top
    from roomboard.core.plane import Point
    from roomboard.core.project import Room, Wall
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board
    from roomboard.core.surface import SurfaceOpening


EITHER = "either"
"""The word that leaves it to a search which way the sheets of walls run."""


def wall_direction(height: float, setting: Setting) -> SheetDirection:
    """Return which way the pack runs the sheets of a wall of this height.

    Where either way will do, the height decides until a search does.

    Args:
        height: Floor to ceiling framing, mm.
        setting: Pack, stock and choices.
    """
    word = setting.practice.word("wall.direction")
    if word in {"by_height", EITHER}:
        limit = setting.practice.mm("wall.direction_height")
        return SheetDirection.ACROSS if height <= limit + TOLERANCE else SheetDirection.ALONG
    return SheetDirection.ALONG if word == "vertical" else SheetDirection.ACROSS


def usual_gap(setting: Setting) -> float:
    """Return the gap at the floor that the user or the pack sets, mm."""
    chosen = setting.choices.floor_gap
    return setting.practice.mm("floor_gap.set") if chosen is None else chosen


def floor_gap(
    top: float, board: Board, direction: SheetDirection, carry_in: float, setting: Setting
) -> float:
    """Return the gap to leave at the floor, mm.

    The pack's own gap, unless whole sheets fit the height with a gap that the pack allows:
    then that gap, so that nothing need be ripped.

    Args:
        top: Height of the lining's top above the floor, mm.
        board: The wall's board.
        direction: Which way its sheets run.
        carry_in: Longest sheet that can be carried in, mm; 0 for no limit.
        setting: Pack, stock and choices.
    """
    usual = usual_gap(setting)
    if setting.choices.floor_gap is not None:
        return usual
    practice = setting.practice
    least, most = practice.mm("floor_gap.min"), practice.mm("floor_gap.max")
    sizes = setting.sizes(board, carry_in)
    fits: list[float] = []
    if direction is SheetDirection.ALONG:
        fits = [top - length for lengths in sizes.values() for length in lengths]
    else:
        sums = {0.0}
        reached: set[float] = set()
        while sums:
            sums = {s + w for s in sums for w in sizes if s + w <= top - least + TOLERANCE}
            reached |= sums
        fits = [top - s for s in reached]
    allowed = [g for g in fits if least - TOLERANCE <= g <= most + TOLERANCE]
    return min(allowed, key=lambda g: (abs(g - usual), g), default=usual)


def _corner_is_external(room: Room, index: int) -> bool:
    """Tell whether the room's corner at ``index`` points into the room."""
    before, at = room.outline[index - 1], room.outline[index]
    after = room.outline[(index + 1) % len(room.outline)]
    cross = (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0])
    return cross > 0  # the outline runs clockwise


def _end_kind(room: Room, index: int, other: int) -> tuple[EdgeKind, str]:
    """Say what the end of a wall at corner ``index`` meets; ``other`` is the wall beyond."""
    beyond = room.walls[other % len(room.walls)]
    if beyond.kind is WallKind.OPEN:
        return EdgeKind.FREE, ""
    ref = f"{room.id}/wall:{beyond.id}"
    if _corner_is_external(room, index % len(room.outline)):
        return EdgeKind.CORNER, ref
    return EdgeKind.ANGLE, ref


def _too_low(room: Room, name: str, height: float, key: str) -> Finding:
    return room_finding(
        "RB115",
        Severity.NOTE,
        f"The ceiling of {room.name} leaves {{height}} of wall {name}: too little to line.",
        room,
        params=(("height", float(height)),),
        surface=key,
    )


def _overhead(over: Sequence[Top], top: float, a: Point, b: Point) -> str:
    """Return the key of the ceiling that a side of a wall lies under, or nothing."""
    if not over:
        return "ceiling" if a[1] == b[1] == top else ""
    if abs(a[0] - b[0]) <= TOLERANCE:
        return ""
    return next((t.key for t in over if lies_along(a, b, *t.under)), "")


def _at_step(room: Room, index: int, over: Sequence[Top], a: Point, b: Point) -> str:
    """Return the ref of the upright face of a ceiling that a wall's side stands at, or nothing."""
    length = room.wall_length(index)
    if not over or abs(a[0] - b[0]) > TOLERANCE or not NEAR < a[0] < length - NEAR:
        return ""
    p, q = room.wall_ends(index)
    at = (p[0] + (q[0] - p[0]) / length * a[0], p[1] + (q[1] - p[1]) / length * a[0])
    for one, two in pairwise(over):
        low, high = sorted((one.under[1][1], two.under[0][1]))
        if abs(one.u1 - a[0]) <= NEAR and low - NEAR <= (a[1] + b[1]) / 2 <= high + NEAR:
            found = [s for s in steps(room) if min(distance(at, s.a), distance(at, s.b)) <= NEAR]
            return f"{room.id}/{found[0].key}" if found else f"{room.id}/{one.key}"
    return ""


def _edge(
    room: Room,
    index: int,
    over: Sequence[Top],
    levels: tuple[float, float],
    openings: Sequence[SurfaceOpening],
    a: Point,
    b: Point,
) -> SurfaceEdge:
    """Say what a side of a wall meets.

    Args:
        room: The room.
        index: Which wall.
        over: What lies over it, or nothing where its ceiling is flat at the room's height.
        levels: Heights of its foot and of its highest place, mm.
        openings: Holes in it.
        a: Begin of the side.
        b: Its end.
    """
    gap, top = levels
    length = room.wall_length(index)
    wall = room.walls[index]
    kind, finish, other = EdgeKind.OPENING, AngleFinish.NONE, ""
    overhead = _overhead(over, top, a, b)
    if overhead:
        kind, finish, other = EdgeKind.ANGLE, wall.angle, f"{room.id}/{overhead}"
    elif a[1] == b[1] == gap:
        kind = EdgeKind.FLOOR
    elif step := _at_step(room, index, over, a, b):
        kind, other = EdgeKind.ANGLE, step
    elif a[0] == b[0] == 0.0:
        kind, other = _end_kind(room, index, index - 1)
    elif a[0] == b[0] and abs(a[0] - length) < TOLERANCE:
        kind, other = _end_kind(room, index + 1, index + 1)
    else:
        for opening in openings:
            if any(lies_along(a, b, p, q) for p, q in opening.region.segments):
                other = opening.id
                break
        else:
            kind = EdgeKind.ANGLE
    return SurfaceEdge(a=a, b=b, kind=kind, finish=finish, other=other)


def _outline(
    room: Room,
    wall: Wall,
    length: float,
    levels: tuple[float, float],
    over: Sequence[Top],
    setting: Setting,
) -> Region:
    """Return what stands between the floor and the ceiling of a wall, bulkheads taken off."""
    gap, top = levels
    outline = Region.box(0.0, gap, length, top)
    if over:
        outline = max(under_lining(over, gap), key=lambda r: r.area_mm2)
    behind = [
        Region.box(b.left, bulkhead_foot(room, b, setting), b.left + b.length, top)
        for b in room.bulkheads
        if b.wall == wall.id and not b.lined_behind
    ]
    if behind:
        left = difference(outline, behind)
        outline = max(left, key=lambda r: r.area_mm2) if left else outline
    return outline


def _assumed_spacing(board: Board, direction: SheetDirection, setting: Setting) -> float:
    """Return how far apart studs that nobody measured are taken to stand, mm."""
    row = setting.practice.framing_row(
        thickness=board.thickness,
        grades=board.grades,
        place="wall",
        orientation="across" if direction is SheetDirection.ACROSS else "along",
        method=setting.choices.method,
    )
    return row.max_centres if row else 0.0


def wall_surfaces(room: Room, index: int, setting: Setting) -> tuple[list[Surface], list[Finding]]:
    """Return one wall of a room, in more than one part if an opening divides it.

    Args:
        room: The room, clockwise and to the bare frame.
        index: Which wall.
        setting: Pack, stock and choices.
    """
    practice = setting.practice
    wall = room.walls[index]
    board = wall_board(wall, setting)
    length = room.wall_length(index)
    over = tops_over(room, *room.wall_ends(index), setting) if room.ceiling_parts else ()
    height = max((z for t in over for z in (t.z0, t.z1)), default=room.height)
    top = max((p[1] for t in over for p in t.under), default=wall_top(room, setting))
    key = f"wall:{wall.id}"
    choice = room.choice(key).direction
    direction = wall_direction(height, setting) if choice is SheetDirection.AUTO else choice
    gap = floor_gap(top, board, direction, room.carry_in, setting)
    if over and not is_level(over):
        gap = usual_gap(setting)  # whole sheets fit no wall whose top slopes
    said: list[Finding] = []
    if over and top - gap <= practice.mm("strip.min"):
        return [], [_too_low(room, wall.name or wall.id, height, key)]
    outline = _outline(room, wall, length, (gap, top), over, setting)
    own = [o for o in room.openings if o.host == wall.id]
    openings, parts = openings_on(own, outline)
    if not parts:
        said.append(
            room_finding(
                "RB107",
                Severity.NOTE,
                f"Openings take up all of wall {wall.name} of {room.name}; nothing is left "
                "to line.",
                room,
                item=wall.id,
            )
        )
        return [], said
    name = wall.name or wall.id
    face = wall.stud_face or practice.mm("trimmer.width")
    spacing = wall.stud_spacing
    if spacing <= 0 and not wall.studs:
        spacing = _assumed_spacing(board, direction, setting)
        said.append(
            room_finding(
                "RB104",
                Severity.NOTE,
                f"No studs are given for wall {name} of {room.name}; studs at {{spacing}} "
                "centres were assumed: check them before board day.",
                room,
                params=(("spacing", spacing),),
                surface=key,
            )
        )
    centres = stud_centres(wall, length, spacing, face)
    sloped = over if over and not is_level(over) else ()
    supports = wall_supports(wall, centres, outline, openings, face, height, length, sloped)
    gaps = [b - a for a, b in pairwise(centres)]
    p, q = room.wall_ends(index)
    edges = [
        _edge(room, index, over, (gap, top), openings, a, b)
        for part in parts
        for a, b in part.segments
    ]
    surface = Surface(
        ref=f"{room.id}/{key}",
        room=room.id,
        key=key,
        code=f"W{name}",
        name=f"Wall {name}",
        place="wall",
        region=parts[0],
        outline=outline,
        edges=tuple(edges),
        supports=supports,
        zones=(SupportZone(region=outline, direction_deg=UPRIGHT, centres=max(gaps, default=0.0)),),
        openings=openings,
        seen_from=SeenFrom.FACE,
        placing=Placing(
            origin=(p[0], p[1], 0.0),
            u_axis=((q[0] - p[0]) / length, (q[1] - p[1]) / length, 0.0),
            v_axis=(0.0, 0.0, 1.0),
        ),
        board=board.id,
        frame=wall.frame,
        finish_level=room.finish_level,
        special=special_kinds(room, wall.id),
        carry_in=room.carry_in,
        direction=direction,
        height_above_floor=height,
        lettered=True,
    )
    return in_parts(surface, parts), said
