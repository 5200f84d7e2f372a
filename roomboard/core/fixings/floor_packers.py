"""Packers that hold bottom sheets off the floor."""

from __future__ import annotations

from itertools import pairwise

from roomboard.core.fixings.lines import Line
from roomboard.core.plane import TOLERANCE, Interval
from roomboard.core.practice import Practice
from roomboard.core.sheeting import SetOut
from roomboard.core.surface import EdgeKind, SupportKind, Surface
from roomboard.core.trims import Packer


def packers(
    surface: Surface, set_out: SetOut, practice: Practice, gap: float
) -> tuple[Packer, ...]:
    """Place the packers that hold bottom sheets off the floor: two under each at least.

    They stand under the first and last stud of each bottom edge; where the pack states
    ``packer.max_spacing``, under studs between them too.

    Args:
        surface: The surface; without an edge at the floor it has none.
        set_out: Its pieces.
        practice: The pack.
        gap: Gap between the board and the floor, mm.
    """
    floors = [Line.between(e.a, e.b) for e in surface.edges if e.kind is EdgeKind.FLOOR]
    if gap <= TOLERANCE or not floors:
        return ()
    key = "packer.max_spacing"
    spacing = practice.mm(key) if practice.has(key) else 0.0
    found: set[float] = set()
    for piece in set_out.pieces:
        feet: list[Interval] = []
        for a, b in piece.region.segments:
            for floor in floors:
                (x0, y0), (x1, y1) = floor.to_xy(a), floor.to_xy(b)
                level = max(abs(y0), abs(y1)) <= gap + TOLERANCE
                if level and min(max(x0, x1), floor.length) - max(min(x0, x1), 0.0) > TOLERANCE:
                    feet.append((min(a[0], b[0]), max(a[0], b[0])))
                    break
        for low, high in feet:
            found.update(_under(surface, low, high, spacing, alone=len(feet) == 1))
    return tuple(Packer(surface=surface.ref, u=u, height=gap) for u in sorted(found))


def _under(
    surface: Surface, low: float, high: float, spacing: float, *, alone: bool
) -> list[float]:
    """Return where packers stand under one bottom edge.

    Args:
        surface: The surface.
        low: Left end of the edge, mm.
        high: Right end, mm.
        spacing: Greatest distance apart, mm; 0 for the two ends only.
        alone: Whether it is the piece's only bottom edge, which then needs two.
    """
    studs = sorted(
        {
            min(max(round((s.a[0] + s.b[0]) / 2, 6), low), high)
            for s in surface.supports
            if s.kind in {SupportKind.STUD, SupportKind.JAMB}
            and s.a[0] + s.face / 2 > low
            and s.a[0] - s.face / 2 < high
        }
    )
    if len(studs) >= 2 and (not alone or studs[-1] - studs[0] > (high - low) / 2):
        chosen = [studs[0]]
        for here, after in pairwise(studs[1:]):
            if spacing > 0 and after - chosen[-1] > spacing + TOLERANCE:
                chosen.append(here)
        return [*chosen, studs[-1]]
    if studs and not alone:
        return [studs[0]]
    # Too few studs stand over it: a quarter in from each end it still lies level.
    quarter = (high - low) / 4
    return [round(low + quarter, 6), round(high - quarter, 6)]
