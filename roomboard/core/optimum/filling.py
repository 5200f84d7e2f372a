"""Filling: patterns turned into sheets with every piece in its place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from roomboard.core.cutting.packing import Laid, OpenSheet
from roomboard.core.cutting.wants import Job, seat
from roomboard.core.optimum.tree import Leaf, Tree


class Place(NamedTuple):
    """Where a piece lies on a sheet, and what its edges there must be."""

    kind: int
    x: int
    y: int
    low: int
    high: int


def places(
    tree: Tree | None, job: Job, kinds: Sequence[int], size: int, unit: int
) -> list[Place] | None:
    """Return where each piece of a pattern lies, or None if its edges leave it no place.

    Args:
        tree: The cuts of the pattern.
        job: What is cut from the board.
        kinds: For each kind of the pattern a want of the job that is of this kind.
        size: Which stock size.
        unit: How many hundredths of a mm one of the pattern's lengths is.
    """
    sheet = job.sizes[size].width

    def lay(part: Tree | None, x: int, y0: int, y1: int) -> list[Place] | None:
        if part is None:
            return []
        if isinstance(part, Leaf):
            want = job.wants[kinds[part.item]]
            for _, low, high in want.ways:
                y = seat(y0, y1, sheet, job.recess, want.width, low, high)
                if y >= 0:
                    return [Place(part.item, x, y, low, high)]
            return None
        halves = [((y0, y1), (y0, y1))]
        if part.rip:
            low_first = ((y0, y0 + part.at), (y0 + part.at, y1))
            halves = [low_first, ((y1 - part.at, y1), (y0, y1 - part.at))]
        beside = x if part.rip else x + part.at * unit
        for one, two in halves:
            first = lay(part.first, x, *one)
            second = lay(part.second, beside, *two) if first is not None else None
            if first is not None and second is not None:
                return first + second
        return None

    return lay(tree, 0, 0, sheet)


def filled(
    job: Job,
    patterns: Sequence[tuple[int, Tree | None]],
    kinds: Sequence[Sequence[int]],
    unit: int,
) -> list[OpenSheet] | None:
    """Return sheets filled by patterns, or None if a pattern has no place or a piece no sheet.

    Args:
        job: What is cut from the board.
        patterns: Stock size and cuts of each sheet.
        kinds: For each kind, the wants of the job that are of it.
        unit: How many hundredths of a mm one of the patterns' lengths is.
    """
    left = [list(own) for own in kinds]
    firsts = [own[0] for own in kinds]
    opens: list[OpenSheet] = []
    for size, tree in patterns:
        laid = places(tree, job, firsts, size, unit)
        if laid is None:
            return None
        sheet = OpenSheet(size)
        for place in laid:
            if left[place.kind]:
                want = left[place.kind].pop(0)
                # Two pieces of a kind may have their edges the other way round.
                edges = (place.low, place.high)
                turned = next(t for t, *own in job.wants[want].ways if tuple(own) == edges)
                sheet.laid.append(Laid(want, place.x, place.y, turned))
        if sheet.laid:
            opens.append(sheet)
    if any(left):
        return None
    return sorted(opens, key=lambda s: min(x.want for x in s.laid))
