"""Places along a line at given centres: stud lines, fasteners, control joints."""

from __future__ import annotations

import math

CRUMB = 1e-6
"""Lengths that differ by less than this (mm), and shares of a bay as small, are equal."""


def stud_positions(length: float, spacing: float, first: float | None = None) -> tuple[float, ...]:
    """Return the set-out lines of a framed wall from its left end, mm: both ends and every stud.

    Args:
        length: Length of the wall, mm.
        spacing: Centres of the studs, mm.
        first: Line of the first stud after the end, mm; None for one spacing.

    Raises:
        ValueError: If length or spacing is not more than 0.
    """
    if length <= 0 or spacing <= 0:
        raise ValueError("A framed wall needs a length and a stud spacing of more than 0.")
    start = spacing if first is None else first
    count = max(0, math.ceil((length - start) / spacing - CRUMB))
    inner = (start + k * spacing for k in range(count))
    return (0.0, *(x for x in inner if CRUMB < x < length - CRUMB), float(length))


def fasteners_on_line(length: float, edge: float, spacing: float) -> int:
    """Return how many fasteners stand along one line: n = ceil((L - 2e) / s) + 1.

    Args:
        length: Length of the line across the piece, mm.
        edge: Distance of the first and last fastener from its ends, mm.
        spacing: Greatest spacing, mm.

    Raises:
        ValueError: If the spacing is not more than 0.
    """
    if spacing <= 0:
        raise ValueError("Fasteners need a spacing of more than 0.")
    free = length - 2 * edge
    return 1 if free <= 0 else math.ceil(free / spacing - CRUMB) + 1


def control_joint_number(length: float, limit: float) -> int:
    """Return how many control joints a straight run needs: max(0, ceil(L / limit) - 1).

    Raises:
        ValueError: If the limit is not more than 0.
    """
    if limit <= 0:
        raise ValueError("A limit between control joints must be more than 0.")
    return max(0, math.ceil(length / limit - CRUMB) - 1)


def control_joint_positions(length: float, limit: float) -> tuple[float, ...]:
    """Return where control joints divide a straight run into equal parts, mm from its start."""
    parts = control_joint_number(length, limit) + 1
    return tuple(length * k / parts for k in range(1, parts))
