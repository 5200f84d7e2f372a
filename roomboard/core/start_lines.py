"""Start lines: how far the first course's inner edge stands from its wall, at both ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Start

if TYPE_CHECKING:
    from collections.abc import Iterator

    from roomboard.core.fields import Turned
    from roomboard.core.plane import Point
    from roomboard.core.sheeting import Field, SetOut
    from roomboard.core.surface import Surface, SurfaceEdge

NEARLY_STRAIGHT = 0.25
"""A side that leaves the sheets' direction by more than this (its tangent) is no start."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StartLine:
    """A line to snap before the first sheet goes up.

    Attributes:
        field: Number of its field.
        a: One end, on the surface's (u, v), mm.
        b: The other end.
        wall: Ref of what it is measured from, or empty where there is none.
        at_a: Where ``offset_a`` is measured, on the line.
        at_b: Where ``offset_b`` is measured, on the line.
        offset_a: From the wall to the line at ``at_a``, square to the line, mm.
        offset_b: The same at ``at_b``.
    """

    field: int
    a: Point
    b: Point
    wall: str
    at_a: Point
    at_b: Point
    offset_a: float
    offset_b: float


@dataclass(frozen=True, slots=True)
class _Side:
    """A side of a field that runs near enough along the sheets, ends in order of s."""

    s0: float
    t0: float
    s1: float
    t1: float
    edge: SurfaceEdge

    def at(self, s: float) -> float:
        """Return where it stands across the sheets at a place along them."""
        return self.t0 + (self.t1 - self.t0) * (s - self.s0) / (self.s1 - self.s0)

    @property
    def off(self) -> float:
        """How far out of line with the sheets it runs, mm over its length."""
        return abs(self.t1 - self.t0)


def _sides(surface: Surface, field: Field, *, high: bool) -> Iterator[_Side]:
    """Return the sides of a surface that face up across the sheets, or down."""
    for edge in surface.edges:
        a, b = field.frame.to_st(edge.a), field.frame.to_st(edge.b)
        run = b[0] - a[0]
        # The lining lies on the left of a side: low ones run with s, high ones against it.
        if abs(run) <= TOLERANCE or (run > 0) is high:
            continue
        if abs(b[1] - a[1]) > NEARLY_STRAIGHT * abs(run):
            continue
        (s0, t0), (s1, t1) = sorted((a, b))
        yield _Side(s0, t0, s1, t1, edge)


def straightest_start(turned: Turned, slack: float) -> Start:
    """Return the side to start from: the low one, unless only the high one runs true.

    Args:
        turned: The field.
        slack: How far out of line a wall may run and still count as true, mm.
    """
    _, low, _, high = turned.bounds
    at_side: list[_Side | None] = []
    for is_high, level in ((False, low), (True, high)):
        near = [
            s
            for s in _sides(turned.surface, turned.field, high=is_high)
            if min(abs(s.t0 - level), abs(s.t1 - level)) <= TOLERANCE
        ]
        at_side.append(max(near, key=lambda s: (s.s1 - s.s0, -s.off), default=None))
    one, two = at_side
    # Where no wall stands, as where joists change direction, the low side is as good as any.
    if one is None or two is None or one.off <= slack:
        return Start.LOW
    return Start.HIGH if two.off <= slack else Start.LOW


def start_lines(surface: Surface, laid: SetOut) -> tuple[StartLine, ...]:
    """Return the start lines of a surface with their offsets at both ends.

    A line is measured from the longest side of the surface behind the first course, as far as
    the two stand over each other.

    Args:
        surface: The surface.
        laid: Its set-out.
    """
    found: list[StartLine] = []
    fields = {f.number: f for f in laid.fields}
    for number, a, b, offset in laid.start:
        field = fields[number]
        (sa, t), (sb, _) = field.frame.to_st(a), field.frame.to_st(b)
        course = next(c for c in laid.courses if c.field == number and c.number == 1)
        high = abs(course.t0 - t) < abs(course.t1 - t)  # its inner edge is its low one
        best: tuple[float, _Side] | None = None
        for side in _sides(surface, field, high=high):
            behind = side.at(side.s0), side.at(side.s1)
            if min(behind) < course.t0 - TOLERANCE or max(behind) > course.t1 + TOLERANCE:
                continue
            shared = min(side.s1, sb) - max(side.s0, sa)
            if shared > TOLERANCE and (best is None or shared > best[0] + TOLERANCE):
                best = (shared, side)
        if best is None:
            found.append(
                StartLine(
                    field=number, a=a, b=b, wall="", at_a=a, at_b=b, offset_a=offset,
                    offset_b=offset,
                )
            )  # fmt: skip
            continue
        side = best[1]
        s0, s1 = max(side.s0, sa), min(side.s1, sb)
        found.append(
            StartLine(
                field=number,
                a=a,
                b=b,
                wall=side.edge.other,
                at_a=field.frame.to_uv((s0, t)),
                at_b=field.frame.to_uv((s1, t)),
                offset_a=snap(abs(t - side.at(s0))),
                offset_b=snap(abs(t - side.at(s1))),
            )
        )
    return tuple(found)
