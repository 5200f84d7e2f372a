"""What lies over a line in plan: the top of a wall, or of any upright face under a ceiling."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.heights import ASIDE, MEETS, NEAR, Cover, covers, flat_cover
from roomboard.core.plane import TOLERANCE, Region, distance, line_inside, snap, union

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.project import Room


@dataclass(frozen=True, kw_only=True)
class Top:
    """What lies over one stretch of a line in plan.

    Attributes:
        key: Key of the ceiling over it.
        u0: Where the stretch begins along the line, mm.
        u1: Where it ends.
        z0: Height of the framing at its begin, mm.
        z1: The same at its end.
        under: The stretch of the lining's underside: ``((u, height), (u, height))``.
    """

    key: str
    u0: float
    u1: float
    z0: float
    z1: float
    under: tuple[Point, Point]


def tops(room: Room, p: Point, q: Point, thickness: Callable[[Cover], float]) -> tuple[Top, ...]:
    """Return what lies over a line in plan, on the right of it, from its begin to its end.

    Where planes meet, so do the undersides of their linings; where they do not, the line's top
    has an upright step.

    Args:
        room: The room.
        p: Begin of the line in plan.
        q: End of the line.
        thickness: Thickness of the lining of a ceiling, square to it, mm; 0 for none.
    """
    length = distance(p, q)
    dx, dy = (q[0] - p[0]) / length, (q[1] - p[1]) / length
    aside = (dy * ASIDE, -dx * ASIDE)
    a, b = ((x + aside[0], y + aside[1]) for x, y in (p, q))
    spans: list[tuple[float, float, Cover]] = []
    for cover in covers(room):
        for region in cover.regions:
            for s, e in line_inside(region, a, b):
                u0, u1 = ((x - a[0]) * dx + (y - a[1]) * dy for x, y in (s, e))
                if u1 - u0 > ASIDE * 10:
                    spans.append((u0, u1, cover))
    spans.sort(key=lambda s: (s[0], s[1]))
    if not spans:
        spans = [(0.0, length, flat_cover(room))]
    found: list[Top] = []
    for u0, u1, cover in _joined(spans, length):
        ends = tuple((p[0] + dx * u, p[1] + dy * u) for u in (u0, u1))
        z0, z1 = (snap(cover.slope.height_at(end)) for end in ends)
        low = cover.slope.lower(thickness(cover))
        under = tuple((u, snap(low.height_at(end))) for u, end in zip((u0, u1), ends, strict=True))
        found.append(Top(key=cover.key, u0=u0, u1=u1, z0=z0, z1=z1, under=(under[0], under[1])))
    return _mitred(found)


def _joined(
    spans: Sequence[tuple[float, float, Cover]], length: float
) -> list[tuple[float, float, Cover]]:
    """Let stretches follow each other without gaps from one end of a line to the other."""
    made: list[tuple[float, float, Cover]] = []
    for u0, u1, cover in spans:
        if made and made[-1][2] is cover:
            made[-1] = (made[-1][0], u1, cover)
        elif u1 - u0 > NEAR or len(spans) == 1:
            made.append((u0, u1, cover))
    if not made:
        made = [spans[0]]
    marks = [0.0, *(snap((one[1] + two[0]) / 2) for one, two in pairwise(made)), snap(length)]
    return [(marks[i], marks[i + 1], cover) for i, (_, _, cover) in enumerate(made)]


def _mitred(found: Sequence[Top]) -> tuple[Top, ...]:
    """Bring the undersides of linings together where their framing meets."""
    made = list(found)
    for i in range(len(made) - 1):
        one, two = made[i], made[i + 1]
        if abs(one.z1 - two.z0) > MEETS:
            continue
        (a, b), (c, d) = one.under, two.under
        at = _crossing(a, b, c, d)
        if at is None or not a[0] + NEAR < at[0] < d[0] - NEAR:
            at = (one.u1, min(b[1], c[1]))
        made[i] = replace(one, under=(a, at))
        made[i + 1] = replace(two, under=(at, d))
    return tuple(made)


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Return where the lines through a-b and c-d cross, or None if they hardly do."""
    one = (b[1] - a[1]) / (b[0] - a[0])
    two = (d[1] - c[1]) / (d[0] - c[0])
    if abs(one - two) < 1e-6:
        return None
    u = (c[1] - a[1] + one * a[0] - two * c[0]) / (one - two)
    return (snap(u), snap(a[1] + one * (u - a[0])))


def from_level(found: Sequence[Top], level: float) -> tuple[Top, ...]:
    """Return what lies over a line with its heights counted from a level over the floor, mm."""
    return tuple(
        replace(
            t,
            z0=snap(t.z0 - level),
            z1=snap(t.z1 - level),
            under=(
                (t.under[0][0], snap(t.under[0][1] - level)),
                (t.under[1][0], snap(t.under[1][1] - level)),
            ),
        )
        for t in found
    )


def lowest_over(room: Room, index: int, left: float, right: float) -> float:
    """Return the least height of the ceiling's framing over a stretch of a wall, mm.

    Args:
        room: The room.
        index: Which wall.
        left: Begin of the stretch from the wall's left end, mm.
        right: Its end.
    """
    if not room.ceiling_parts:
        return room.height
    found = [
        top.z0 + (top.z1 - top.z0) * (u - top.u0) / (top.u1 - top.u0)
        for top in tops(room, *room.wall_ends(index), lambda _: 0.0)
        for u in (max(left, top.u0), min(right, top.u1))
        if top.u0 < right - TOLERANCE and top.u1 > left + TOLERANCE
    ]
    return min(found, default=room.height)


def is_level(found: Sequence[Top]) -> bool:
    """Tell whether what lies over a line is level and all of one height."""
    heights = [t.under[k][1] for t in found for k in (0, 1)]
    return max(heights) - min(heights) <= TOLERANCE


def under_lining(found: Sequence[Top], foot: float) -> tuple[Region, ...]:
    """Return what stands under the linings of ceilings from a foot up, ``(u, height)``."""
    return _standing([t.under for t in found], foot)


def under_framing(found: Sequence[Top], foot: float = 0.0) -> tuple[Region, ...]:
    """Return what stands under the framing of ceilings from a foot up, ``(u, height)``."""
    return _standing([((t.u0, t.z0), (t.u1, t.z1)) for t in found], foot)


def _standing(lines: Sequence[tuple[Point, Point]], foot: float) -> tuple[Region, ...]:
    stretches: list[Region] = []
    for (u0, z0), (u1, z1) in lines:
        if max(z0, z1) <= foot + TOLERANCE or u1 - u0 <= TOLERANCE:
            continue
        a, b = (u0, z0), (u1, z1)
        if z0 < foot:
            a = (u0 + (u1 - u0) * (foot - z0) / (z1 - z0), foot)
        if z1 < foot:
            b = (u0 + (u1 - u0) * (foot - z0) / (z1 - z0), foot)
        stretches.append(Region.of([(a[0], foot), (b[0], foot), b, a]))
    return union(stretches)
