"""Lined reveals laid flat: the strips of board that turn into an opening."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.face import UPRIGHT
from roomboard.core.plane import TOLERANCE, Region
from roomboard.core.project import AngleFinish, SheetDirection
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    SeenFrom,
    Support,
    SupportKind,
    SupportZone,
    Surface,
    SurfaceEdge,
)

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.surface import SurfaceOpening, Vector

SIDES = (
    ("left", "L", SupportKind.JAMB),
    ("right", "R", SupportKind.JAMB),
    ("head", "H", SupportKind.HEAD),
    ("sill", "S", SupportKind.SILL),
)


def reveal_surfaces(face: Surface) -> list[Surface]:
    """Return the lined reveals of a wall's openings, each side a strip of its own.

    A strip runs along the opening's side; its depth lies across it. The member behind the
    side backs the whole strip. A side on the face's own outline (the foot of a doorway, an
    opening that ends in a corner) has none.

    Args:
        face: The wall, its openings clipped to it.
    """
    return [
        _strip(face, opening, side)
        for opening in face.openings
        if opening.reveal_lined and opening.reveal_depth > TOLERANCE and not opening.is_round
        for side in SIDES
        if _line(face, opening, side[0]) is not None
    ]


def _line(face: Surface, opening: SurfaceOpening, side: str) -> tuple[Point, Point] | None:
    """Return the side of an opening that a reveal turns round, or None if it has none."""
    u0, v0, u1, v1 = opening.region.bounds
    a, b = {
        "left": ((u0, v0), (u0, v1)),
        "right": ((u1, v0), (u1, v1)),
        "head": ((u0, v1), (u1, v1)),
        "sill": ((u0, v0), (u1, v0)),
    }[side]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return None if face.outline.distance_to_edge(middle) <= TOLERANCE else (a, b)


def _strip(face: Surface, opening: SurfaceOpening, side: tuple[str, str, SupportKind]) -> Surface:
    name, letter, kind = side
    line = _line(face, opening, name) or ((0.0, 0.0), (0.0, 0.0))
    (u0, v0), (u1, v1) = line
    length = abs(u1 - u0) + abs(v1 - v0)
    depth = opening.reveal_depth
    outline = Region.box(0.0, 0.0, length, depth)
    along = face.placing.v_axis if name in {"left", "right"} else face.placing.u_axis
    return Surface(
        ref=f"{face.room}/reveal:{face.key.partition(':')[2]}:{opening.id}:{name}",
        room=face.room,
        key=f"reveal:{face.key.partition(':')[2]}:{opening.id}:{name}",
        code=f"{face.code}-{opening.id}{letter}",
        name=f"{face.name}, {name} reveal of {opening.id}",
        place="wall",
        region=outline,
        outline=outline,
        edges=tuple(
            # The bead on the arris is listed with the opening it goes round.
            SurfaceEdge(a=a, b=b, kind=EdgeKind.FREE, finish=AngleFinish.NONE, other=face.ref)
            for a, b in outline.segments
        ),
        supports=(
            Support(
                id=f"{opening.id}{letter}",
                a=(0.0, depth / 2),
                b=(length, depth / 2),
                face=depth,
                kind=kind,
                frame=face.frame,
            ),
        ),
        zones=(SupportZone(region=outline, direction_deg=UPRIGHT, centres=0.0),),
        openings=(),
        seen_from=SeenFrom.FACE,
        placing=Placing(
            origin=_at(face.placing, (u0, v0)), u_axis=along, v_axis=_outward(face.placing)
        ),
        board=face.board,
        frame=face.frame,
        finish_level=face.finish_level,
        special=face.special,
        carry_in=face.carry_in,
        direction=SheetDirection.ACROSS,
        height_above_floor=max(v0, v1),
    )


def _at(placing: Placing, point: Point) -> Vector:
    o, p, q = placing.origin, placing.u_axis, placing.v_axis
    u, v = point
    return (
        o[0] + u * p[0] + v * q[0],
        o[1] + u * p[1] + v * q[1],
        o[2] + u * p[2] + v * q[2],
    )


def _outward(placing: Placing) -> Vector:
    """Unit vector from the room into the wall: the reveal's depth."""
    (a, b, c), (d, e, f) = placing.u_axis, placing.v_axis
    # The face looks into the room along u x v; the depth goes the other way.
    return (c * e - b * f, a * f - c * d, b * d - a * e)
