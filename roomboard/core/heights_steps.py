"""Where planes of a ceiling do not meet: the upright faces between them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from roomboard.core.heights import KEY, MEETS, Cover, beside, covers
from roomboard.core.plane import snap

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point
    from roomboard.core.project import Room


@dataclass(frozen=True, kw_only=True)
class Step:
    """An upright face where one plane ends over or under the next.

    Attributes:
        key: Key of its surface, e.g. ``"step:a:1"``.
        name: Id of the part it belongs to.
        a: Its left end in plan as one looks at it; the higher ceiling lies on the right.
        b: Its right end.
        low: The lower ceiling.
        high: The higher one.
    """

    key: str
    name: str
    a: Point
    b: Point
    low: Cover
    high: Cover


@lru_cache(maxsize=64)
def steps(room: Room) -> tuple[Step, ...]:
    """Return the upright faces between the planes of a room's ceiling, in order."""
    found: list[Step] = []
    numbers: dict[str, int] = {}
    for a, b, own, other in sorted(
        _shared(covers(room)), key=lambda s: (s[2].key, s[3].key, s[0], s[1])
    ):
        for p, q in _uncrossed(a, b, own, other):
            middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
            rise = other.slope.height_at(middle) - own.slope.height_at(middle)
            ends = [abs(other.slope.height_at(e) - own.slope.height_at(e)) for e in (p, q)]
            if max(ends) <= MEETS:
                continue
            low, high = (own, other) if rise > 0 else (other, own)
            left, right = (p, q) if rise > 0 else (q, p)
            part = low.part or high.part
            name = part.id if part else KEY
            numbers[name] = numbers.get(name, 0) + 1
            key = f"step:{name}:{numbers[name]}"
            found.append(Step(key=key, name=name, a=left, b=right, low=low, high=high))
    return tuple(found)


def _shared(found: Sequence[Cover]) -> list[tuple[Point, Point, Cover, Cover]]:
    """Return the lines along which two covers lie beside each other, the first on the left."""
    lines: list[tuple[Point, Point, Cover, Cover]] = []
    for number, own in enumerate(found):
        for a, b in (side for r in own.regions for side in r.segments):
            for other in found[number + 1 :]:
                lines += [(p, q, own, other) for p, q in beside(a, b, other)]
    return lines


def _uncrossed(a: Point, b: Point, one: Cover, two: Cover) -> list[tuple[Point, Point]]:
    """Part a line where two planes cross over it."""
    d0, d1 = (two.slope.height_at(p) - one.slope.height_at(p) for p in (a, b))
    if d0 * d1 >= 0 or min(abs(d0), abs(d1)) <= MEETS:
        return [(a, b)]
    share = d0 / (d0 - d1)
    middle = (snap(a[0] + (b[0] - a[0]) * share), snap(a[1] + (b[1] - a[1]) * share))
    return [(a, middle), (middle, b)]
