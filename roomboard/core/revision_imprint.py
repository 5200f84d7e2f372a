"""Imprints: what of a worked-out scheme is kept when it is issued."""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING

from roomboard.core.revision import (
    DIGITS,
    EXACT,
    Extent,
    Issued,
    IssuedJoint,
    IssuedLine,
    IssuedOpening,
    IssuedPiece,
    IssuedSurface,
    IssuedTrimmer,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from roomboard.core.cutting import CutSheet, Placement
    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Point, Region, Ring
    from roomboard.core.scheme import Scheme
    from roomboard.core.sheeting import Piece

Cuts = dict[str, tuple["CutSheet", "Placement"]]
"""The sheet and the place on it of every piece, by the piece's id."""


def imprint(scheme: Scheme) -> Issued:
    """Return what is worked out as it would be issued, still without letter, date and sheets."""
    cuts = cuts_of(scheme)
    return Issued(
        letter="",
        date="",
        surfaces=tuple(
            _surface(s, room.room.name, cuts) for room in scheme.rooms for s in room.surfaces
        ),
        lines=tuple(
            IssuedLine(code=q.code, name=q.name, unit=q.unit, total=round(q.total, 6))
            for q in scheme.quantities
        ),
    )


def cuts_of(scheme: Scheme) -> Cuts:
    """Return how each piece is cut, by its id."""
    return {p.piece: (sheet, p) for sheet in scheme.cut_plan.every for p in sheet.placements}


def issued_piece(piece: Piece, cuts: Mapping[str, tuple[CutSheet, Placement]]) -> IssuedPiece:
    """Return the imprint of a piece.

    Args:
        piece: The piece.
        cuts: How each piece is cut.
    """
    found = cuts.get(piece.id)
    return IssuedPiece(
        mark=piece.mark,
        board=piece.board,
        low=found[1].low.value if found else piece.low.value,
        high=found[1].high.value if found else piece.high.value,
        sheet=found[0].id if found else "",
        stock=_point((found[0].length, found[0].width)) if found else (0.0, 0.0),
        outline=_rings(piece.face_up),
        at=_extent(piece.region),
        on=_point((found[1].x, found[1].y)) if found else (0.0, 0.0),
        turned=found[1].turned if found else False,
    )


# --- parts -------------------------------------------------------------------------------


def _surface(s: SurfaceScheme, room: str, cuts: Cuts) -> IssuedSurface:
    return IssuedSurface(
        ref=s.surface.ref,
        name=f"{room}, {s.surface.name}",
        outline=_rings(s.surface.region),
        openings=tuple(
            IssuedOpening(id=o.id, at=_extent(o.region))
            for o in sorted(s.surface.openings, key=lambda o: o.id)
        ),
        pieces=tuple(issued_piece(p, cuts) for p in s.set_out.pieces),
        joints=tuple(
            IssuedJoint(kind=j.kind.value, pieces=j.pieces, ends=(_point(j.a), _point(j.b)))
            for j in s.joints
        ),
        trimmers=tuple(
            IssuedTrimmer(
                tag=t.tag,
                ends=(_point(t.centre_a), _point(t.centre_b)),
                length=_mm(t.length),
            )
            for t in s.trimmers
        ),
        fasteners=len(s.fixings.fasteners),
        daubs=len(s.fixings.daubs) + len(s.fixings.beads),
        back_blocks=len(s.fixings.back_blocks),
        held=_held(s),
    )


def _held(s: SurfaceScheme) -> str:
    """Return a fingerprint of where everything lies that holds a surface's boards."""
    fixings = s.fixings
    places = [(f.kind, _point((f.u, f.v))) for f in fixings.fasteners]
    lines = [f"{kind} {at}" for kind, at in places]
    lines += [f"daub {_point((d.u, d.v))}" for d in fixings.daubs]
    lines += [f"bead {_ring((b.a, b.b))}" for b in fixings.beads]
    lines += [f"block {_ring(b.corners)}" for b in fixings.back_blocks]
    return sha256("\n".join(sorted(lines)).encode()).hexdigest()[:DIGITS]


def _mm(value: float) -> float:
    return round(value, EXACT) + 0.0


def _point(point: Point) -> Point:
    return (_mm(point[0]), _mm(point[1]))


def _ring(points: Iterable[Point]) -> Ring:
    return tuple(_point(p) for p in points)


def _rings(region: Region) -> tuple[Ring, ...]:
    return tuple(_ring(r) for r in region.rings)


def _extent(region: Region) -> Extent:
    u0, v0, u1, v1 = region.bounds
    return (_mm(u0), _mm(v0), _mm(u1), _mm(v1))
