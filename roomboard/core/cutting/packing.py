"""Packing: pieces laid one by one on sheets, each in what earlier ones left free."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from roomboard.core.cutting.end_to_end import fullest
from roomboard.core.cutting.values import CuttingError
from roomboard.core.cutting.wants import PARTS, RECESSED, Job, Size, Want, seat
from roomboard.core.heeding import heed


class Laid(NamedTuple):
    """A piece laid on a sheet."""

    want: int
    x: int
    y: int
    turned: bool


@dataclass(slots=True)
class OpenSheet:
    """A sheet being filled."""

    size: int
    laid: list[Laid] = field(default_factory=list)


Plate = tuple[int, int, int, int, int]
"""What is still free on a sheet: length, width, x, y, and the sheet's number."""


class Fit(StrEnum):
    """Which of several plates that could hold a piece is taken."""

    SIDE = "side"
    """The one that leaves the narrowest rest."""
    AREA = "area"
    """The smallest."""
    FIRST = "first"


class Split(StrEnum):
    """Which cut comes first when a piece is taken out of a plate."""

    LARGEST = "largest"
    """The one that leaves the largest single part."""
    RIP = "rip"
    CROSSCUT = "crosscut"


class Strategy(NamedTuple):
    """One way of filling sheets.

    ``opens`` names the sheet opened for each piece. With ``fill`` that is the longest that may
    be opened: the one is taken that pieces of the same width, laid end to end, fill best.
    """

    order: tuple[int, ...]
    opens: tuple[int, ...]
    fit: Fit
    split: Split
    fill: bool


def _choose(
    job: Job, want: Want, free: Sequence[Plate], opens: Sequence[OpenSheet], fit: Fit
) -> tuple[int, int, bool] | None:
    """Return the plate, the place across it and the turn that suit a piece best, or None."""
    best: tuple[int, int, bool] | None = None
    least = (math.inf, 0)
    length, width, cap, recess = want.length, want.width, want.cap, job.recess
    for index, (free_length, free_width, _, y0, number) in enumerate(free):
        if free_length < length or free_width < width:
            continue
        size = job.sizes[opens[number].size]
        if size.length > cap:
            continue
        sheet, y1 = size.width, y0 + free_width
        for turned, low, high in want.ways:
            y = seat(y0, y1, sheet, recess, width, low, high)
            if y < 0:
                continue
            # A recessed edge where none is asked for is lost to others.
            lost = (y == 0 and low != RECESSED) + (y + width == sheet and high != RECESSED)
            if fit is Fit.SIDE:
                rank = (min(free_length - length, free_width - width), lost)
            elif fit is Fit.AREA:
                rank = (free_length * free_width, lost)
            else:
                rank = (index, lost)
            if rank < least:
                least, best = rank, (index, y, turned)
        if fit is Fit.FIRST and best is not None:
            break
    return best


def _split(plate: Plate, y: int, length: int, width: int, how: Split) -> tuple[Plate, ...]:
    """Return what is left of a plate when a part of it is cut out at its left end."""
    free_length, free_width, x0, y0, number = plate
    right, below, above = free_length - length, y - y0, y0 + free_width - y - width
    if how is Split.LARGEST:
        ripped = max(right * width, free_length * max(below, above))
        crosscut = max(right * free_width, length * max(below, above))
        how = Split.RIP if ripped >= crosscut else Split.CROSSCUT
    if how is Split.RIP:
        return (
            (free_length, below, x0, y0, number),
            (free_length, above, x0, y + width, number),
            (right, width, x0 + length, y, number),
        )
    return (
        (right, free_width, x0 + length, y0, number),
        (length, below, x0, y0, number),
        (length, above, x0, y + width, number),
    )


def pack(
    job: Job,
    strategy: Strategy,
    opens: list[OpenSheet],
    free: list[Plate],
    *,
    may_open: bool = True,
) -> bool:
    """Lay pieces on the sheets already open and, if allowed, on new ones.

    Returns:
        Whether all were laid; ``opens`` and ``free`` are changed either way.
    """
    heed()
    wants = job.wants
    shortest = min((wants[i].length for i in strategy.order), default=0)
    narrowest = min((wants[i].width for i in strategy.order), default=0)
    alike = _alike(job, strategy.order) if strategy.fill else {}
    done: set[int] = set()
    for i in strategy.order:
        if i in done:
            continue
        want, row = wants[i], [i]
        found = _choose(job, want, free, opens, strategy.fit)
        if found is None:
            if not may_open:
                return False
            index = strategy.opens[i]
            if strategy.fill:
                fellows = [n for n in alike[_kind(want)] if n != i and n not in done]
                index, row = _row(job, i, fellows, job.sizes[index])
            size = job.sizes[index]
            plate = (size.length, size.width, 0, 0, len(opens))
            opens.append(OpenSheet(index))
            y, turned = _fresh(job, want, size)
        else:
            at, y, turned = found
            plate = free.pop(at)
        x = plate[2]
        for n in row:
            opens[plate[4]].laid.append(Laid(n, x, y, turned))
            x += wants[n].length
        done.update(row)
        free.extend(
            part
            for part in _split(plate, y, x - plate[2], want.width, strategy.split)
            if part[0] >= shortest and part[1] >= narrowest
        )
    return True


def lay_what_fits(
    job: Job, order: Iterable[int], opens: list[OpenSheet], free: list[Plate], fit: Fit
) -> None:
    """Lay those of the pieces that fit on what is open; the others are passed over.

    Args:
        job: The pieces and the sizes of what is open.
        order: Pieces in the order they are tried.
        opens: What they are laid on; changed.
        free: What is free on it; changed.
        fit: Which of several places is taken.
    """
    heed()
    for i in order:
        want = job.wants[i]
        found = _choose(job, want, free, opens, fit)
        if found is None:
            continue
        at, y, turned = found
        plate = free.pop(at)
        opens[plate[4]].laid.append(Laid(i, plate[2], y, turned))
        parts = _split(plate, y, want.length, want.width, Split.LARGEST)
        free.extend(part for part in parts if part[0] > 0 and part[1] > 0)


_Kind = tuple[int, float, tuple[tuple[bool, int, int], ...]]
"""What pieces have in common that can lie end to end in one rip: width, limit, ways."""


def _kind(want: Want) -> _Kind:
    return (want.width, want.cap, want.ways)


def _alike(job: Job, order: Iterable[int]) -> dict[_Kind, list[int]]:
    found: dict[_Kind, list[int]] = {}
    for i in order:
        found.setdefault(_kind(job.wants[i]), []).append(i)
    return found


def _row(job: Job, first: int, fellows: Sequence[int], most: Size) -> tuple[int, list[int]]:
    """Return the sheet to open for a piece and what is laid end to end with it.

    Of the allowed sheets as wide as ``most`` and no longer, the one that wastes the least share
    of its length. Sums are sought in whole mm, pieces rounded up and sheets down.
    """
    want = job.wants[first]
    sizes = [
        index
        for index in want.sizes
        if job.sizes[index].width == most.width and job.sizes[index].length <= most.length
    ]
    rooms = [job.sizes[index].length - want.length for index in sizes]
    largest = max(rooms)
    fellows = [i for i in fellows if job.wants[i].length <= largest]
    if not fellows:
        return sizes[0], [first]
    lengths = [job.wants[i].length for i in fellows]
    chosen = fullest(lengths, rooms, PARTS)
    waste = [
        (room - sum([lengths[n] for n in row])) / job.sizes[index].length
        for index, room, row in zip(sizes, rooms, chosen, strict=True)
    ]
    best = min(range(len(sizes)), key=lambda n: (waste[n], -rooms[n]))
    return sizes[best], [first, *(fellows[n] for n in chosen[best])]


def _fresh(job: Job, want: Want, size: Size) -> tuple[int, bool]:
    """Return where a piece lies across a whole sheet, and whether it is turned."""
    for turned, low, high in want.ways:
        y = seat(0, size.width, size.width, job.recess, want.width, low, high)
        if y >= 0:
            return y, turned
    raise CuttingError(f"Piece {want.demand.id} does not fit the sheet opened for it.")


def shrink(job: Job, opens: Iterable[OpenSheet]) -> None:
    """Make every sheet as short as what is laid on it allows."""
    for sheet in opens:
        reach = max(laid.x + job.wants[laid.want].length for laid in sheet.laid)
        width = job.sizes[sheet.size].width
        # Sizes stand narrowest and shortest first, so the first that reaches is the shortest.
        sheet.size = next(
            index
            for index, size in enumerate(job.sizes)
            if size.width == width and size.length >= reach
        )


def cost_of(job: Job, opens: Iterable[OpenSheet]) -> tuple[int, int]:
    """Return the area bought and the number of sheets: what is to be least, in this order."""
    areas = [job.sizes[sheet.size].area for sheet in opens]
    return sum(areas), len(areas)
