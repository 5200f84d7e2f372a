"""The lines of a hatch, clipped to its area, for files that know no patterns."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from roomboard.core.plane import Point, Ring
from roomboard.drawing.layers import Hatch


def hatch_lines(
    rings: Sequence[Ring], hatch: Hatch, scale: float = 1.0
) -> tuple[tuple[Point, Point], ...]:
    """Return the lines of a hatch inside rings.

    Lines stand at whole multiples of the spacing from the drawing's zero, so that the hatches of
    neighbouring areas run on.

    Args:
        rings: Outer rings and holes; what is inside an odd number of them is hatched, mm.
        hatch: The pattern.
        scale: How many mm of the drawing one mm of paper is.

    Returns:
        The two ends of each line, mm.
    """
    return tuple(
        line
        for angle in hatch.angles_deg
        for line in _lines(rings, math.radians(angle), hatch.spacing * scale)
    )


def _lines(rings: Sequence[Ring], angle: float, spacing: float) -> Iterator[tuple[Point, Point]]:
    cos, sin = math.cos(angle), math.sin(angle)
    turned = [tuple((x * cos + y * sin, y * cos - x * sin) for x, y in ring) for ring in rings]
    across = [y for ring in turned for _, y in ring]
    if not across:
        return
    for number in range(math.ceil(min(across) / spacing), math.floor(max(across) / spacing) + 1):
        level = number * spacing
        met = sorted(_crossings(turned, level))
        for a, b in zip(met[::2], met[1::2], strict=False):
            if b > a:
                yield (
                    (a * cos - level * sin, a * sin + level * cos),
                    (b * cos - level * sin, b * sin + level * cos),
                )


def _crossings(rings: Sequence[Ring], level: float) -> Iterator[float]:
    """Return where a level line meets the sides of rings; a corner counts for one of its sides."""
    for ring in rings:
        for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (y0 <= level) != (y1 <= level):
                yield x0 + (level - y0) / (y1 - y0) * (x1 - x0)
