"""A sketch of a part of a surface: what lies beyond its match lines is cut off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from roomboard.core.plane import Point, Region, Ring, intersection
from roomboard.drawing.displaylist import CENTRED, Anchor, Box, Symbol
from roomboard.drawing.sketch import Label, Sketch, spots_in

FAR = 1e6
"""A side of a part that is no match line lies this far out, mm: nothing is cut off there."""


class PartSketch(Sketch):
    """A sketch that keeps only what lies in a window.

    Lines and areas are cut at its sides. A sign stands in one window only, that which its middle
    lies in. Lettering stands where there is room for it in the window; what shows in several
    windows is named in each.

    Attributes:
        window: What is kept, mm; the left and lower sides belong to it.
    """

    def __init__(
        self,
        scale: float,
        window: Box,
        whole: Region,
        *,
        widest: float = math.inf,
    ) -> None:
        """Begin an empty drawing.

        Args:
            scale: How many mm of the drawing one mm of paper is.
            window: What is kept, mm.
            whole: The whole surface: lettering that is to stand anywhere in it is about a place
                of its own, not about the surface.
            widest: See :class:`~roomboard.drawing.sketch.Sketch`.
        """
        super().__init__(scale, widest=widest)
        self.window = window
        self._whole = whole
        self._kept = Region.box(*window)
        self._seen: dict[str, Point] = {}
        self._shows: dict[str, bool] = {}

    def holds(self, point: Point) -> bool:
        """Tell whether a point belongs to the window."""
        u0, v0, u1, v1 = self.window
        return u0 <= point[0] < u1 and v0 <= point[1] < v1

    def stroke(
        self, points: Iterable[Point], layer: str, ref: str = "", *, closed: bool = False
    ) -> None:
        """Draw a line through points, as far as it lies in the window."""
        found = tuple(points)
        if all(self.holds(p) for p in found):
            self._shows[ref] = True
            super().stroke(found, layer, ref, closed=closed)
            return
        runs = cut_line((*found, found[0]) if closed else found, self.window)
        self._shows[ref] = bool(runs) or self._shows.get(ref, False)
        for run in runs:
            super().stroke(run, layer, ref)

    def fill(
        self,
        rings: Sequence[Ring],
        layer: str,
        ref: str = "",
        *,
        tone: float | None = None,
        hatch: str = "",
    ) -> None:
        """Fill an area, as far as it lies in the window."""
        kept = tuple(ring for ring in (cut_ring(r, self.window) for r in rings) if ring)
        if kept:
            super().fill(kept, layer, ref, tone=tone, hatch=hatch)

    def dots(self, points: Iterable[Point], symbol: Symbol, size: float, layer: str) -> None:
        """Draw equal signs at the points that lie in the window."""
        super().dots((p for p in points if self.holds(p)), symbol, size, layer)

    def label(
        self,
        labels: Sequence[Label],
        spots: Sequence[Point],
        *,
        layer: str = "lettering",
        ref: str = "",
        within: Region | None = None,
        angles: Sequence[float] = (0.0,),
        anchor: Anchor = CENTRED,
        mask: bool = True,
    ) -> bool:
        """Write a label where it has room in the window.

        Returns:
            Whether there was room, or nothing of what it names shows in the window.
        """
        if not self._shows.get(ref, True):
            return True  # the line it names lies elsewhere
        own = tuple(p for p in spots if self.holds(p))
        kept = within
        if within is not None:
            parts = intersection(within, self._kept)
            if not parts:
                return True
            kept = max(parts, key=lambda r: r.area_mm2)
            if within != self._whole:
                inside = spots_in(kept)
                own = (*own, *inside)
                self._seen[ref] = inside[0]
        if not own:
            return True
        self._seen.setdefault(ref, own[0])
        return super().label(
            labels,
            own,
            layer=layer,
            ref=ref,
            within=kept,
            angles=angles,
            anchor=anchor,
            mask=mask,
        )

    def call_out(self, target: Point, label: Label, ref: str = "") -> None:
        """Ask for a label beside the drawing for what shows in the window."""
        place = target if self.holds(target) else self._seen.get(ref)
        if place is not None:
            super().call_out(place, label, ref)

    def match(self, a: Point, b: Point, ref: str) -> None:
        """Draw a match line along a side of the window."""
        super().stroke((a, b), "match", ref)

    def beside_window(
        self, labels: Sequence[Label], spots: Sequence[Point], *, ref: str, angle: float
    ) -> None:
        """Write the name of a match line outside the window.

        Args:
            labels: Wordings, the fullest first.
            spots: Places to try, the best first.
            ref: What it stands for.
            angle: Direction of the line, degrees from level.
        """
        super().label(labels, spots, ref=ref, angles=(angle,), mask=False)


def cut_line(points: Sequence[Point], window: Box) -> list[tuple[Point, ...]]:
    """Return the stretches of a line through points that lie in a window.

    Args:
        points: At least two, mm.
        window: mm.
    """
    runs: list[list[Point]] = []
    for a, b in pairwise(points):
        kept = _cut_segment(a, b, window)
        if kept is None:
            continue
        p, q = kept
        if runs and runs[-1][-1] == p:
            runs[-1].append(q)
        else:
            runs.append([p, q])
    if len(runs) > 1 and runs[-1][-1] == runs[0][0]:  # a ring that began inside
        runs[0] = [*runs.pop(), *runs[0][1:]]
    return [tuple(run) for run in runs]


def _cut_segment(a: Point, b: Point, window: Box) -> tuple[Point, Point] | None:
    """Return what of a segment lies in a window, or None; one along its edge lies in it."""
    low, high = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for start, step, least, most in (
        (a[0], dx, window[0], window[2]),
        (a[1], dy, window[1], window[3]),
    ):
        if not step:
            if not least <= start <= most:
                return None
            continue
        t0, t1 = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, t0), min(high, t1)
    if high - low <= 0.0:
        return None
    p = a if low <= 0.0 else (a[0] + dx * low, a[1] + dy * low)
    q = b if high >= 1.0 else (a[0] + dx * high, a[1] + dy * high)
    return p, q


def cut_ring(ring: Ring, window: Box) -> Ring:
    """Return what of a ring lies in a window, or nothing.

    Parts that the window separates stay joined along its sides, which encloses no area.

    Args:
        ring: mm.
        window: mm.
    """
    kept = list(ring)
    for axis, limit, sign in (
        (0, window[0], 1.0),
        (0, window[2], -1.0),
        (1, window[1], 1.0),
        (1, window[3], -1.0),
    ):
        found: list[Point] = []
        for number, point in enumerate(kept):
            before = kept[number - 1]
            inside = (point[axis] - limit) * sign >= 0.0
            was = (before[axis] - limit) * sign >= 0.0
            if inside != was:
                t = (limit - before[axis]) / (point[axis] - before[axis])
                found.append(
                    (
                        limit if axis == 0 else before[0] + (point[0] - before[0]) * t,
                        limit if axis == 1 else before[1] + (point[1] - before[1]) * t,
                    )
                )
            if inside:
                found.append(point)
        kept = found
    return tuple(kept) if len(kept) > 2 else ()
