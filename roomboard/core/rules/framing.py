"""Framing and spacing: stud lines, legal support spacing, control joints, fastener lengths."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.practice import FramingRow, Practice
    from roomboard.core.stock import Board

CRUMB = 1e-6
"""Lengths that differ by less than this (mm), and shares of a bay as small, are equal."""


class Breach(StrEnum):
    """Why framing does not suit a board."""

    CENTRES = "centres"
    """The supports stand too far apart."""
    DIRECTION = "direction"
    """The long edges may not run this way at any spacing."""
    NOGGINGS = "noggings"
    """The spacing is allowed only with noggings between the supports."""
    UNKNOWN = "unknown"
    """The pack has no figure for this board."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FramingBreach:
    """What is wrong with the framing behind a board.

    Attributes:
        breach: Why.
        reason: In one sentence; ``{name}`` stands for a value of ``params``.
        params: Names and values for the sentence; floats are lengths in mm.
        allowed: Greatest spacing allowed this way, mm; 0 if none.
        row: The row of the pack that says so, or None.
    """

    breach: Breach
    reason: str
    params: tuple[tuple[str, float | str], ...]
    allowed: float
    row: FramingRow | None


def framing_legal(
    practice: Practice,
    board: Board,
    *,
    place: str,
    orientation: str,
    method: str,
    centres: float,
    noggings: bool = False,
    condition: str = "",
) -> FramingBreach | None:
    """Return what is wrong with the spacing of supports behind a board, or None.

    Args:
        practice: The pack.
        board: The board.
        place: ``"ceiling"`` or ``"wall"``.
        orientation: ``"across"`` or ``"along"``: the long edges against the supports.
        method: ``"fasteners"`` or ``"adhesive"``.
        centres: Spacing of the supports, mm.
        noggings: Whether noggings stand between the supports.
        condition: A special case that the pack has rows for, e.g. ``"garage"``.
    """

    def row_for(way: str) -> FramingRow | None:
        return practice.framing_row(
            thickness=board.thickness,
            grades=board.grades,
            place=place,
            orientation=way,
            method=method,
            centres=centres,
            condition=condition,
        )

    row = row_for(orientation)
    other = row_for("along" if orientation == "across" else "across")
    where = f"{board.name} board on a {place}"
    if row is None and other is None:
        return FramingBreach(
            breach=Breach.UNKNOWN,
            reason=f"The practice pack has no support spacing for {where}.",
            params=(),
            allowed=0.0,
            row=None,
        )
    if row is None or row.max_centres <= 0:
        return FramingBreach(
            breach=Breach.DIRECTION,
            reason=f"{where.capitalize()} must not have its long edges {orientation} the supports.",
            params=(),
            allowed=0.0,
            row=row or other,
        )
    if not reaches(row.max_centres, centres):
        return FramingBreach(
            breach=Breach.CENTRES,
            reason=f"Supports stand {{centres}} apart; {where} with its long edges {orientation} "
            "them allows {allowed}.",
            params=(("centres", centres), ("allowed", row.max_centres)),
            allowed=row.max_centres,
            row=row,
        )
    if row.noggings == "mid" and not noggings:
        return FramingBreach(
            breach=Breach.NOGGINGS,
            reason=f"Supports stand {{centres}} apart; {where} allows that only with noggings "
            "between them.",
            params=(("centres", centres),),
            allowed=row.max_centres,
            row=row,
        )
    return None


def reaches(limit: float, length: float) -> bool:
    """Tell whether a spacing keeps within a limit; the tape reads no finer than a millimetre."""
    return length <= limit + 1


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


def fastener_length(
    thickness: float, penetration: float, stock_lengths: Iterable[float] = ()
) -> float | None:
    """Return the shortest fastener that goes through a board and far enough into the frame, mm.

    Args:
        thickness: Of all board it goes through, mm.
        penetration: How far it must reach into (or through) the frame, mm.
        stock_lengths: Lengths it is sold in, mm; none for the bare sum.

    Returns:
        The length, or None if no stock length is long enough.
    """
    needed = thickness + penetration
    lengths = sorted(stock_lengths)
    if not lengths:
        return needed
    # Lengths in tables are rounded: 1-1/4 in is sold as 32 mm.
    return next((x for x in lengths if x >= needed - CRUMB), None)


def floor_gap_left(height: float, ceiling_board: float, courses: Iterable[float]) -> float:
    """Return the gap left at the floor under whole courses on a wall, mm.

    Args:
        height: Floor to ceiling framing, mm.
        ceiling_board: Thickness of the ceiling board, mm.
        courses: Heights of the courses, mm.
    """
    return height - ceiling_board - sum(courses)
