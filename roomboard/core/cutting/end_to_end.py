"""Pieces laid end to end: which of them fill a length best."""

from __future__ import annotations

from collections.abc import Sequence


def fullest(lengths: Sequence[int], rooms: Sequence[int], unit: int) -> list[list[int]]:
    """Return for each room which of the lengths fill it best, as indexes into them.

    Each length is rounded up and each room down to a whole number of ``unit``; the sums that
    can be reached are the bits of a number.
    """
    units = [-(-length // unit) for length in lengths]
    mask = (1 << max(rooms) // unit + 1) - 1
    steps = [1]
    for size in units:
        steps.append((steps[-1] | steps[-1] << size) & mask)
    found: list[list[int]] = []
    for room in rooms:
        total = (steps[-1] & (1 << room // unit + 1) - 1).bit_length() - 1
        chosen: list[int] = []
        for n in range(len(units) - 1, -1, -1):
            if not steps[n] >> total & 1:
                chosen.append(n)
                total -= units[n]
        found.append(chosen[::-1])
    return found
