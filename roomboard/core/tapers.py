"""Tapered pieces: a size for each end where a side does not run true to the other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, Region, snap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point
    from roomboard.core.practice import Practice
    from roomboard.core.sheeting import Piece

KEY = "taper.tolerance"
"""The pack's figure for the least taper that is cut."""

_Line = tuple[float, float]
"""Where a side crosses the left (or low) side of the blank, and where the right (or high), mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndSizes:
    """The sizes of a piece at its ends, as it lies face up, notches left aside.

    Attributes:
        width_left: Across the sheet at its left end, mm.
        width_right: Across the sheet at its right end, mm.
        length_low: Along the sheet at its low edge, mm.
        length_high: Along the sheet at its high edge, mm.
    """

    width_left: float
    width_right: float
    length_low: float
    length_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """One way in which a piece is wider or longer at one end than at the other.

    Attributes:
        of: ``"width"`` or ``"length"``.
        first: At the left end, or at the low edge, mm.
        second: At the right end, or at the high edge, mm.
    """

    of: str
    first: float
    second: float

    @property
    def ends(self) -> tuple[str, str]:
        """Where the two sizes are taken, in words."""
        return ("left", "right") if self.of == "width" else ("low edge", "high edge")


def end_sizes(piece: Piece) -> EndSizes:
    """Return the sizes of a piece at its ends, face up.

    Each side of the piece is taken to run on straight past its notches, so that a rip beside a
    hatch has the same two widths as one without. A side that stands at more than half a right
    angle to the sheet is an end and no edge; where no one line bounds a side, as over a ridge,
    the side of the blank counts.

    Args:
        piece: The piece; any outline.
    """
    low, high, left, right = _sides(piece)
    return EndSizes(
        width_left=snap(high[0] - low[0]),
        width_right=snap(high[1] - low[1]),
        length_low=snap(right[0] - left[0]),
        length_high=snap(right[1] - left[1]),
    )


def unnotched(piece: Piece) -> Region:
    """Return a piece face up as if it had no notches: its blank, or that with its tapers."""
    low, high, left, right = _sides(piece)
    long, wide = piece.length, piece.width

    def corner(edge: _Line, end: _Line) -> Point:
        """Where an edge y(x) and an end x(y) cross."""
        rise, run = (edge[1] - edge[0]) / long, (end[1] - end[0]) / wide
        x = (end[0] + run * edge[0]) / (1 - run * rise)
        return (snap(x), snap(edge[0] + rise * x))

    return Region.of(
        [corner(low, left), corner(low, right), corner(high, right), corner(high, left)]
    )


def _sides(piece: Piece) -> tuple[_Line, _Line, _Line, _Line]:
    ring = piece.face_up.outer
    flipped = [(y, x) for x, y in ring]
    long, wide = piece.length, piece.width
    return (
        _side(ring, long, wide, high=False),
        _side(ring, long, wide, high=True),
        _side(flipped, wide, long, high=False),
        _side(flipped, wide, long, high=True),
    )


def _side(ring: Sequence[Point], length: float, width: float, *, high: bool) -> _Line:
    """Return where the low or the high side of an outline stands at x = 0 and at ``length``."""
    sign, level = (1.0, width) if high else (-1.0, 0.0)
    best, reach = (level, level), 0.0
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        run, long = bx - ax, math.hypot(bx - ax, by - ay)
        if long <= reach or abs(run) <= abs(by - ay):
            continue
        slope = (by - ay) / run
        start = ay - slope * ax
        ends = (start, start + slope * length)
        bounds_all = all(sign * (y - start - slope * x) <= TOLERANCE for x, y in ring)
        # An edge that runs on far outside the blank is the slope of a gable, no taper.
        inside = all(-width / 3 <= y <= width * 4 / 3 for y in ends)
        if bounds_all and inside:
            best, reach = ends, long
    return best


def tapers(piece: Piece, practice: Practice) -> tuple[Taper, ...]:
    """Return how a piece tapers by more than the pack's tolerance, width before length.

    Args:
        piece: The piece.
        practice: The pack; one without the figure lets no taper go unsaid.
    """
    least = practice.mm(KEY) if practice.has(KEY) else 0.0
    sizes = end_sizes(piece)
    found = (
        Taper(of="width", first=sizes.width_left, second=sizes.width_right),
        Taper(of="length", first=sizes.length_low, second=sizes.length_high),
    )
    return tuple(t for t in found if abs(t.first - t.second) > least + TOLERANCE)
