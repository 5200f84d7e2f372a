"""Light that falls along a face: from windows beside it and from lights in it, and what it shows.

Light that grazes a face throws the shadow of every joint that lies across it; a joint that runs
the way the light runs throws none.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.plane import distance, distance_to_segment, snap, snap_point
from roomboard.core.project import OpeningKind
from roomboard.core.surface import EdgeKind, Light

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.project import Opening, Room
    from roomboard.core.sheeting import SetOut
    from roomboard.core.surface import Placing, Surface, Vector

PARTS = 8
"""A joint is looked at in the middle of each of so many equal parts of it."""


def with_lights(room: Room, surface: Surface) -> Surface:
    """Return a face with the lights whose light falls along it.

    These are the lights in it, and the windows of each wall that it meets in an internal corner.
    Where a lining has several layers only the outer one is seen.

    Args:
        room: The room, clockwise and to the bare frame.
        surface: A face of it.
    """
    if surface.layer < surface.layers:
        return surface
    found = [*_in_it(surface), *_beside(room, surface)]
    return replace(surface, lights=tuple(found)) if found else surface


def _in_it(surface: Surface) -> Iterator[Light]:
    for hole in surface.openings:
        if hole.kind is OpeningKind.LIGHT:
            u0, v0, u1, v1 = hole.region.bounds
            at = snap_point(((u0 + u1) / 2, (v0 + v1) / 2))
            yield _light(surface, hole.id, at, at, 0.0)


def _beside(room: Room, surface: Surface) -> Iterator[Light]:
    met = {e.other for e in surface.edges if e.kind is EdgeKind.ANGLE}
    for index, wall in enumerate(room.walls):
        if f"{room.id}/wall:{wall.id}" not in met:
            continue
        for opening in room.openings:
            if opening.kind is OpeningKind.WINDOW and opening.host == wall.id:
                corners = [_on(surface.placing, p) for p in _corners(room, index, opening)]
                # The side of the window that lies nearest to the face.
                (a, off_a), (b, off_b) = min(
                    pairwise((*corners, corners[0])), key=lambda s: round(s[0][1] + s[1][1], 3)
                )
                yield _light(surface, opening.id, a, b, (off_a + off_b) / 2)


def _light(surface: Surface, opening: str, a: Point, b: Point, off: float) -> Light:
    far = max(distance_to_segment(p, a, b) for p in surface.outline.outer)
    return Light(opening=opening, a=a, b=b, off=snap(off), reach=snap(math.hypot(far, off)))


def _corners(room: Room, index: int, window: Opening) -> list[Vector]:
    """Return the corners of a window in the building, mm, in order round it."""
    p, q = room.wall_ends(index)
    along = distance(p, q)
    x, y = (q[0] - p[0]) / along, (q[1] - p[1]) / along
    low, high = window.bottom, window.bottom + window.height
    left, right = window.left, window.left + window.width
    round_it = ((left, low), (right, low), (right, high), (left, high))
    return [(p[0] + x * u, p[1] + y * u, z) for u, z in round_it]


def _on(placing: Placing, at: Vector) -> tuple[Point, float]:
    """Return where a place in the building stands over a face, (u, v), and how far off it, mm."""
    gone = [a - o for a, o in zip(at, placing.origin, strict=True)]
    u, v = (math.fsum(map(_times, gone, axis)) for axis in (placing.u_axis, placing.v_axis))
    rest = math.fsum(x * x for x in gone) - u * u - v * v
    return snap_point((u, v)), math.sqrt(max(0.0, rest))


def _times(a: float, b: float) -> float:
    return a * b


def across_light(lights: Sequence[Light], a: Point, b: Point) -> float:
    """Return how much a joint on a face lies across the light, and near it: 0 to 1.

    1 at the light and square to its way, falling to nothing at the furthest place of the face and
    where the joint runs as the light does; where there are several lights, the worst for each
    part of the joint.

    Args:
        lights: Those of the face.
        a: One end of the joint, (u, v) mm.
        b: The other end.
    """
    long = distance(a, b)
    if not lights or not long:
        return 0.0
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    shares = ((n + 0.5) / PARTS for n in range(PARTS))
    places = [(a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s) for s in shares]
    return math.fsum(max(_shown(light, at, way) for light in lights) for at in places) / PARTS


def _shown(light: Light, at: Point, way: Point) -> float:
    """Return how much a joint that runs a way through a place shows in a light, 0 to 1."""
    foot = light.nearest(at)
    far = distance(foot, at)
    near = 1 - math.hypot(far, light.off) / light.reach if light.reach else 1.0
    if far <= 1.0:  # right at the light, where it comes from everywhere
        return max(0.0, near)
    run = ((at[0] - foot[0]) / far, (at[1] - foot[1]) / far)
    return max(0.0, near) * abs(run[0] * way[1] - run[1] * way[0])


def across_light_m(surface: Surface, laid: SetOut) -> float:
    """Return the metres of butt joint of a face, each by how much it lies across the light.

    Args:
        surface: The face, with its lights.
        laid: How it is sheeted.
    """
    frames = {f.number: f.frame for f in laid.fields}
    return math.fsum(
        (b.t1 - b.t0)
        / 1000
        * across_light(surface.lights, *(frames[b.field].to_uv((b.s, t)) for t in (b.t0, b.t1)))
        for b in laid.butts
    )
