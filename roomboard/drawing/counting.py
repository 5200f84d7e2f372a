"""Drawings of fasteners that can be counted: how large their signs are, and how many there are."""

from __future__ import annotations

from dataclasses import replace

from roomboard.core.plane import Point, distance
from roomboard.core.scheme import SurfaceScheme
from roomboard.drawing.displaylist import Box, DisplayList, Dots
from roomboard.drawing.lining import FASTENER_SIZE

APART = 1.2
"""Signs for fasteners stand at least this many of their diameters from middle to middle."""
COUNTED_SIGN = 0.65
"""Signs can be counted where they are at least so large, mm; drawings are made so large, in parts
where no page holds the whole."""
SMALLEST_SIGN = 0.35
"""Signs for fasteners are never smaller than this, mm: less is lost on a copy."""


def least_gap(points: tuple[Point, ...]) -> float:
    """Return the distance between the two nearest of many points; 0 if there are fewer than two.

    Args:
        points: mm.
    """
    ordered = sorted(set(points))
    best = float("inf")
    for number, a in enumerate(ordered):
        for b in ordered[number + 1 :]:
            if b[0] - a[0] >= best:
                break
            best = min(best, distance(a, b))
    return best if len(ordered) > 1 else 0.0


def held_in_words(s: SurfaceScheme, window: Box | None = None) -> str:
    """Return how many of each kind hold a surface's boards, e.g. ``"120 screws, 40 daubs"``.

    Args:
        s: The surface.
        window: Count only what has its middle there, mm; its left and lower sides belong to it.
    """

    def shown(u: float, v: float) -> bool:
        return window is None or (window[0] <= u < window[2] and window[1] <= v < window[3])

    counts: dict[str, int] = {}
    for f in s.fixings.fasteners:
        if shown(f.u, f.v):
            words = f"{f.kind.replace('_', ' ')}s"
            counts[words] = counts.get(words, 0) + 1
    counts["daubs"] = sum(shown(d.u, d.v) for d in s.fixings.daubs)
    counts["beads of adhesive"] = sum(shown(*midpoint(b.a, b.b)) for b in s.fixings.beads)
    counts["back-blocks"] = sum(
        shown(*midpoint(block.corners[0], block.corners[2])) for block in s.fixings.back_blocks
    )
    return ", ".join(f"{count} {name}" for name, count in counts.items() if count) or "none"


def midpoint(a: Point, b: Point) -> Point:
    """Return the point halfway between two."""
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def lines_of(s: SurfaceScheme) -> tuple[list[float], list[float]]:
    """Return where fasteners, daubs, joints and framing stand along u, and along v.

    No match line should be near them.
    """
    points = [(f.u, f.v) for f in s.fixings.fasteners] + [(d.u, d.v) for d in s.fixings.daubs]
    across, up = [p[0] for p in points], [p[1] for p in points]
    for a, b in [(j.a, j.b) for j in s.joints] + [(m.a, m.b) for m in s.surface.supports]:
        if abs(a[0] - b[0]) < 1.0:
            across.append(a[0])
        if abs(a[1] - b[1]) < 1.0:
            up.append(a[1])
    for o in s.surface.openings:
        u0, v0, u1, v1 = o.region.bounds
        across += [u0, u1]
        up += [v0, v1]
    return across, up


def countable(marks: DisplayList, gap: float, scale: float) -> DisplayList:
    """Return a drawing with signs for fasteners small enough to stand apart."""
    size = min(FASTENER_SIZE, max(SMALLEST_SIGN, gap / scale / APART))
    return tuple(
        replace(m, paper_size=size) if isinstance(m, Dots) and m.layer == "fastener" else m
        for m in marks
    )
