"""Clear bays: where a hatch, a light or a duct meets no member, and the nearest such place."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon

from roomboard.core.plane import distance, snap_point
from roomboard.core.surface import SupportKind
from roomboard.core.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from shapely.geometry.base import BaseGeometry

    from roomboard.core.parts import RoomScheme
    from roomboard.core.plane import Point
    from roomboard.core.practice import Practice
    from roomboard.core.surface import Support, Surface, SurfaceOpening

KEY = "cut_out.member_clear"
"""The pack's figure for how far a light or duct is kept from members."""
HAIR = 0.05
"""What fits a bay to this, mm, fits it."""
TRUSS = frozenset({SupportKind.TRUSS})


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearPlace:
    """A place where an opening in a ceiling meets no member.

    Attributes:
        middle: Of the opening there, in plan, mm.
        away: How far it moves, mm, on the face of the ceiling.
    """

    middle: Point
    away: float


def members_met(opening: SurfaceOpening, supports: Iterable[Support]) -> tuple[Support, ...]:
    """Return the framing an opening cuts into, in order.

    Args:
        opening: The opening, on its face.
        supports: Framing behind that face.
    """
    shape = opening.region.geometry
    return tuple(
        s for s in supports if distance(s.a, s.b) > HAIR and _area(shape, _strip(s)) > HAIR
    )


def nearest_member(
    opening: SurfaceOpening, supports: Iterable[Support]
) -> tuple[Support, float] | None:
    """Return the member whose face stands nearest to an opening, and how far off, mm.

    Args:
        opening: The opening, on its face.
        supports: Framing behind that face; the first of several as near is taken.

    Returns:
        The member and the clear distance, 0 where they meet; None where there is none.
    """
    shape = opening.region.geometry
    apart = [
        (s, max(float(shape.distance(_strip(s))) - HAIR, 0.0))
        for s in supports
        if distance(s.a, s.b) > HAIR
    ]
    return min(apart, key=lambda found: found[1], default=None)


def _area(one: BaseGeometry, two: BaseGeometry) -> float:
    return float(one.intersection(two).area)


def _strip(support: Support) -> Polygon:
    """Return the face of a member, a hair narrower than it is: what touches it is clear of it."""
    (ax, ay), (bx, by) = support.a, support.b
    length = distance(support.a, support.b)
    half = max(support.face / 2 - HAIR, HAIR)
    nx, ny = -(by - ay) / length * half, (bx - ax) / length * half
    return Polygon([(ax + nx, ay + ny), (bx + nx, by + ny), (bx - nx, by - ny), (ax - nx, ay - ny)])


def existing(surface: Surface) -> tuple[Support, ...]:
    """Return the framing that stands behind a surface already."""
    return tuple(s for s in surface.supports if s.existing)


def clearance_of(opening: SurfaceOpening, practice: Practice) -> float:
    """Return how far an opening is kept from members, mm: one that is framed may stand at them."""
    return 0.0 if opening.framed or not practice.has(KEY) else practice.mm(KEY)


def nearest_clear_place(
    surface: Surface,
    opening: SurfaceOpening,
    clear: float,
    lines: Sequence[tuple[Point, Point]] = (),
    step: float = 1.0,
) -> ClearPlace | None:
    """Return the nearest place where an opening meets no member, side or other opening.

    Args:
        surface: The face it lies in.
        opening: The opening.
        clear: How far it is kept from members, mm.
        lines: Further lines it is kept off as far, such as joints, (u, v).
        step: What a place is rounded to, mm.

    Returns:
        The place, on whole steps where such a one is clear; None where there is none.
    """
    corners = opening.region.geometry.exterior.coords[:-1]
    at = _middle(corners)
    own = [(x - at[0], y - at[1]) for x, y in corners]
    grown = Polygon(own).buffer(clear, join_style="mitre").exterior.coords[:-1]
    barred = [_swept(_strip(s).exterior.coords[:-1], grown) for s in existing(surface)
              if distance(s.a, s.b) > HAIR]  # fmt: skip
    barred += [_swept(line, grown) for line in lines]
    barred += [_swept(side, own) for side in surface.outline.segments]
    barred += [_swept(o.region.outer, own) for o in surface.openings if o.id != opening.id]
    free = surface.outline.geometry.difference(shapely.union_all(barred))
    if free.is_empty:
        return None
    here = ShapelyPoint(at)
    found = shapely.get_coordinates(shapely.shortest_line(here, free))[-1]
    spot = (float(found[0]), float(found[1]))
    near = free.buffer(2 * HAIR)
    corner = _corner(spot, opening)
    whole: list[Point] = sorted(
        (
            (x * step, y * step)
            for x, y in product(*((math.floor(c / step), math.ceil(c / step)) for c in corner))
        ),
        key=lambda p: (distance(p, corner), p),
    )
    half = _corner((0.0, 0.0), opening)
    for x, y in whole:
        middle = (x - half[0], y - half[1])
        if near.covers(ShapelyPoint(middle)):
            spot = middle
            break
    placing = surface.placing
    plan = tuple(
        placing.origin[i] + spot[0] * placing.u_axis[i] + spot[1] * placing.v_axis[i]
        for i in (0, 1)
    )
    return ClearPlace(middle=snap_point((plan[0], plan[1])), away=distance(at, spot))


def _middle(points: Sequence[Point]) -> Point:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _corner(middle: Point, opening: SurfaceOpening) -> Point:
    """Return the lower left corner of an opening whose middle is known."""
    u0, v0, u1, v1 = opening.region.bounds
    return (middle[0] - (u1 - u0) / 2, middle[1] - (v1 - v0) / 2)


def _swept(obstacle: Iterable[Point], shape: Sequence[Point]) -> BaseGeometry:
    """Return where the middle of a shape must not stand, or it would meet an obstacle."""
    apart = np.asarray(tuple(obstacle))[:, None] - np.asarray(tuple(shape))[None]
    hull = shapely.convex_hull(shapely.multipoints(apart.reshape(-1, 2)))
    return hull.buffer(-HAIR, join_style="mitre")


def clear_place_in(scheme: RoomScheme, opening_id: str, practice: Practice) -> ClearPlace | None:
    """Return the nearest clear place of an opening in a room's ceiling, or None.

    A light or a duct keeps off the joints between sheets too, where there is such a place.

    Args:
        scheme: The room, worked out.
        opening_id: Which opening.
        practice: The pack.
    """
    for s in scheme.surfaces:
        for opening in s.surface.openings:
            if opening.id != opening_id or s.surface.place != "ceiling":
                continue
            clear = clearance_of(opening, practice)
            joints = () if opening.framed else tuple(_whole(j.a, j.b, opening) for j in s.joints)
            step = float(INCH / 16) if practice.units == "imperial" else 1.0
            found = nearest_clear_place(s.surface, opening, clear, joints, step)
            return found or nearest_clear_place(s.surface, opening, clear, (), step)
    return None


def _whole(a: Point, b: Point, opening: SurfaceOpening) -> tuple[Point, Point]:
    """Return a joint as it would run without an opening that it ends at."""
    length = distance(a, b)
    if length <= HAIR:
        return a, b
    u0, v0, u1, v1 = opening.region.bounds
    reach = math.hypot(u1 - u0, v1 - v0)
    shape = opening.region.geometry
    dx, dy = (b[0] - a[0]) / length * reach, (b[1] - a[1]) / length * reach
    at_a, at_b = (shape.distance(ShapelyPoint(p)) <= 1.0 for p in (a, b))
    return (
        (a[0] - dx, a[1] - dy) if at_a else a,
        (b[0] + dx, b[1] + dy) if at_b else b,
    )
