"""What each side of a piece is, and what it comes to lie against."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roomboard.core.cutting import CutSheet, Placement
from roomboard.core.joints import JOINT_WORDS, Side, piece_edges
from roomboard.core.parts import SurfaceScheme
from roomboard.core.plane import Point, distance, shared_stretch
from roomboard.core.sheeting import Piece
from roomboard.core.surface import EdgeKind, SurfaceEdge
from roomboard.drawing.cut_list import edge_letters

END, CUT = "E", "C"
"""Letters of ends: the sheet's own, and cut."""
MEETS = 1.0
"""Lines nearer to each other than this are one line, mm."""
SIDES = ("Low edge", "High edge", "Left end", "Right end")
"""The sides of a piece that lies face up, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A part of a side of a piece that lies at another face, the floor or an opening.

    Attributes:
        a: Start, mm of the piece as it lies face up.
        b: End.
        words: What it lies at, e.g. ``"wall A"``.
        solid: Whether that is a wall, a ceiling or a floor, and not an opening or nothing.
    """

    a: Point
    b: Point
    words: str
    solid: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSide:
    """One side of a piece as it lies face up.

    Attributes:
        name: Which, see :data:`SIDES`.
        letter: ``R`` recessed, ``C`` cut, ``E`` the sheet's own end.
        beyond: What it comes to lie against, each in words.
    """

    name: str
    letter: str
    beyond: tuple[str, ...]

    @property
    def in_words(self) -> str:
        """The side in one line."""
        return f"{self.name} {self.letter}: {', '.join(self.beyond) or 'free'}"


def face_up_of(piece: Piece, point: Point) -> Point:
    """Return a point of the surface (u, v) as it lies on the piece, face up."""
    s0, t0, s1, _ = piece.blank
    s, t = piece.frame.to_st(point)
    return (s1 - s if piece.face_up_mirrored else s - s0, t - t0)


def end_letters(placed: tuple[CutSheet, Placement] | None) -> tuple[str, str]:
    """Return the letters of a piece's left and right end, face up."""
    if placed is None:
        return CUT, CUT
    sheet, p = placed
    left = END if p.x <= MEETS else CUT
    right = END if p.x + p.length >= sheet.length - MEETS else CUT
    return (right, left) if p.turned else (left, right)


def _side_at(piece: Piece, point: Point) -> str:
    """Return which side of its blank a point of a piece's outline lies on, or nothing."""
    x, y = face_up_of(piece, point)
    near = (
        (abs(y), SIDES[0]),
        (abs(y - piece.width), SIDES[1]),
        (abs(x), SIDES[2]),
        (abs(x - piece.length), SIDES[3]),
    )
    off, name = min(near)
    return name if off <= MEETS else ""


def _shared(a: Point, b: Point, edge: SurfaceEdge) -> tuple[Point, Point] | None:
    """Return the part of a line that lies on a side of the surface, or None."""
    span = shared_stretch(a, b, edge.a, edge.b, off=MEETS, least=MEETS)
    if span is None:
        return None
    length = distance(a, b)
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    low, high = span
    return (
        (a[0] + dx * low, a[1] + dy * low),
        (a[0] + dx * high, a[1] + dy * high),
    )


def _words_of(edge: SurfaceEdge, names: Mapping[str, str]) -> tuple[str, bool]:
    """Say what a side of a surface meets, and whether that is solid."""
    name = names.get(edge.other, "")
    if edge.kind is EdgeKind.FLOOR:
        return "floor", True
    if edge.kind is EdgeKind.OPENING:
        return f"opening {edge.other}", False
    if edge.kind is EdgeKind.CORNER:
        return f"corner to {name}" if name else "outer corner", False
    if edge.kind is EdgeKind.ANGLE:
        return name or "wall", True
    return f"free at {name}" if name else "free", False


def stretches(piece: Piece, scheme: SurfaceScheme, names: Mapping[str, str]) -> tuple[Stretch, ...]:
    """Return the parts of a piece's outline that lie on sides of its surface.

    Args:
        piece: The piece.
        scheme: Its surface.
        names: Names of surfaces by their ref, in words.
    """
    found: list[Stretch] = []
    for side in piece_edges(piece):
        for edge in scheme.surface.edges:
            shared = _shared(side.a, side.b, edge)
            if shared is None:
                continue
            words, solid = _words_of(edge, names)
            a, b = (face_up_of(piece, p) for p in shared)
            found.append(Stretch(a=a, b=b, words=words, solid=solid))
    return tuple(found)


def piece_sides(
    piece: Piece,
    scheme: SurfaceScheme,
    placed: tuple[CutSheet, Placement] | None,
    names: Mapping[str, str],
) -> tuple[PieceSide, ...]:
    """Return the four sides of a piece, face up: low and high edge, left and right end.

    Args:
        piece: The piece.
        scheme: Its surface.
        placed: The sheet it is cut from and where, or None if it fits none.
        names: Names of surfaces by their ref, in words.
    """
    beyond: dict[str, dict[str, None]] = {name: {} for name in SIDES}
    for side in piece_edges(piece):
        for edge in scheme.surface.edges:
            shared = _shared(side.a, side.b, edge)
            if shared is None or side.side is Side.NOTCH:
                continue
            name = _side_at(piece, _middle(*shared))
            if name:
                beyond[name][_words_of(edge, names)[0]] = None
    for joint in scheme.joints:
        if piece.mark not in joint.pieces:
            continue
        name = _side_at(piece, _middle(joint.a, joint.b))
        other = joint.pieces[joint.pieces[0] == piece.mark]
        if name:
            beyond[name][f"{other} ({JOINT_WORDS[joint.kind]})"] = None
    placement = placed[1] if placed else None
    letters = (*edge_letters(piece, placement), *end_letters(placed))
    return tuple(
        PieceSide(name=name, letter=letter, beyond=tuple(beyond[name]))
        for name, letter in zip(SIDES, letters, strict=True)
    )


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
