"""Lengths of fasteners: what is needed, what is sold."""

from __future__ import annotations

from collections.abc import Iterable

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.plane import TOLERANCE
from roomboard.core.practice import Citation, Practice
from roomboard.core.project import FrameKind


def fastener_length(
    thickness: float, kind: str, frame: FrameKind, practice: Practice
) -> float | None:
    """Return the least length of a fastener: the board and what must go into the frame, mm.

    Args:
        thickness: Thickness of the board, of all layers, mm.
        kind: ``"screw"`` or ``"nail"``.
        frame: Timber or steel.
        practice: The pack.

    Returns:
        The length, or None where the pack states no penetration for the case.
    """
    key = f"{kind}.penetration_{frame.value}"
    return thickness + practice.mm(key) if practice.has(key) else None


def length_to_buy(needed: float, lengths: Iterable[float]) -> float | None:
    """Return the shortest length sold that is long enough, mm, or None."""
    return min((x for x in lengths if x >= needed - TOLERANCE), default=None)


def length_finding(
    needed: float, lengths: Iterable[float], kind: str, place: Place, source: Citation
) -> Finding | None:
    """Say that no fastener on sale is long enough, or return None where one is.

    Args:
        needed: Least length, mm.
        lengths: Lengths sold, mm.
        kind: ``"screw"`` or ``"nail"``.
        place: Where they are wanted.
        source: Where the penetration comes from.
    """
    sold = sorted(lengths)
    if length_to_buy(needed, sold) is not None:
        return None
    return Finding(
        code="RB404",
        severity=Severity.WARNING,
        text=f"A {kind} of at least {{needed}} is needed here and none so long is in stock.",
        params=(("needed", needed),),
        place=place,
        found=sold[-1] if sold else "none",
        required=needed,
        source=source,
        remedies=(f"Add a longer {kind} to the stock.",),
    )
