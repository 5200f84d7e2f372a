"""Left and right hands: pieces that lie face up as mirror images of each other.

A board has one face, so a piece cannot be turned over to fit where its mirror image goes: the
pieces of opposite gables are marked left and right.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from roomboard.core.plane import Region, distance

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.sheeting import Piece

STRAIGHT = 0.5
"""A side whose ends differ by less across the sheet or along it is square, mm."""
ALIKE = 1.0
"""Outlines that lie no further apart than this are one, mm: the tape reads no finer."""


class Hand(StrEnum):
    """Which hand a piece is, lying face up."""

    LEFT = "left"
    """Its slope falls from the upper left to the lower right, or more so than the other way."""
    RIGHT = "right"
    """Its slope falls from the upper right to the lower left, or more so than the other way."""
    NONE = ""
    """It is not raked, or its mirror image is the piece itself."""


def hand_of(piece: Piece) -> Hand:
    """Return which hand a raked piece is; pieces with square sides only have none.

    Turning a piece half round in its plane changes nothing; turning it over gives the other hand.
    """
    if not is_raked(piece.face_up):
        return Hand.NONE
    own = piece.face_up
    if _alike(own, mirrored(own)) or _alike(own, half_turned(mirrored(own))):
        return Hand.NONE
    lean = _lean(own)
    return Hand.LEFT if lean < 0 else Hand.RIGHT


def is_raked(region: Region) -> bool:
    """Tell whether any side of an outline runs neither along the sheet nor across it."""
    ring = region.outer
    if len(ring) > ROUND:
        return False
    return any(
        abs(a[0] - b[0]) > STRAIGHT and abs(a[1] - b[1]) > STRAIGHT
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
    )


ROUND = 60
"""Outlines with more corners than this follow a round hole and are not raked."""


def mirrored(region: Region) -> Region:
    """Return an outline turned over, left for right, in the same box."""
    u0, _, u1, _ = region.bounds
    return _moved(region, lambda p: (u0 + u1 - p[0], p[1]))


def half_turned(region: Region) -> Region:
    """Return an outline turned half round in its plane, in the same box."""
    u0, v0, u1, v1 = region.bounds
    return _moved(region, lambda p: (u0 + u1 - p[0], v0 + v1 - p[1]))


def twins(pieces: Iterable[Piece]) -> dict[str, tuple[str, ...]]:
    """Return for each handed piece the marks of those that are its mirror image, by its id.

    Args:
        pieces: Pieces of one room.
    """
    handed: dict[tuple[float, float], list[tuple[Piece, Hand]]] = {}
    for piece in pieces:
        hand = hand_of(piece)
        if hand is not Hand.NONE:
            size = (round(piece.length, -1), round(piece.width, -1))
            handed.setdefault(size, []).append((piece, hand))
    found: dict[str, tuple[str, ...]] = {}
    for group in _neighbours(handed):
        for piece, hand in group:
            marks = tuple(
                other.mark
                for other, that in group
                if that is not hand and other.board == piece.board and is_twin(piece, other)
            )
            if marks:
                found[piece.id] = tuple(sorted({*found.get(piece.id, ()), *marks}))
    return found


def _neighbours(
    groups: dict[tuple[float, float], list[tuple[Piece, Hand]]],
) -> list[Sequence[tuple[Piece, Hand]]]:
    """Gather pieces whose sizes lie near each other: sizes on a limit may round either way."""
    sizes = sorted(groups)
    return [
        [
            item
            for other in sizes
            if abs(other[0] - size[0]) <= 10.0 and abs(other[1] - size[1]) <= 10.0
            for item in groups[other]
        ]
        for size in sizes
    ]


def is_twin(one: Piece, two: Piece) -> bool:
    """Tell whether two pieces lie face up as mirror images of each other."""
    turned = mirrored(one.face_up)
    return _alike(turned, two.face_up) or _alike(half_turned(turned), two.face_up)


def _moved(region: Region, place: Callable[[Point], Point]) -> Region:
    return Region.of(
        [place(p) for p in region.outer], [[place(p) for p in hole] for hole in region.holes]
    )


def _alike(one: Region, two: Region) -> bool:
    """Tell whether two outlines are one as far as the tape reads."""
    around = sum(distance(a, b) for a, b in one.segments)
    apart = one.geometry.symmetric_difference(two.geometry).area
    return float(apart) <= ALIKE / 2 * around


def _lean(region: Region) -> float:
    """Return the product moment of an outline about its own middle, mm4.

    Below 0 its board lies to the upper left and the lower right. A half turn keeps it, turning it
    over changes its sign.
    """
    area = first_u = first_v = product = 0.0
    for (ax, ay), (bx, by) in region.segments:
        cross = ax * by - bx * ay
        area += cross / 2
        first_u += cross * (ax + bx) / 6
        first_v += cross * (ay + by) / 6
        product += cross * (ax * (2 * ay + by) + bx * (ay + 2 * by)) / 24
    return product - first_u * first_v / area
