"""How far apart supports may stand behind a board."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.practice import FramingRow, Practice
    from roomboard.core.stock import Board


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
            params=(("centres", float(centres)), ("allowed", float(row.max_centres))),
            allowed=row.max_centres,
            row=row,
        )
    if row.noggings == "mid" and not noggings:
        return FramingBreach(
            breach=Breach.NOGGINGS,
            reason=f"Supports stand {{centres}} apart; {where} allows that only with noggings "
            "between them.",
            params=(("centres", float(centres)),),
            allowed=row.max_centres,
            row=row,
        )
    return None


def reaches(limit: float, length: float) -> bool:
    """Tell whether a spacing keeps within a limit; the tape reads no finer than a millimetre."""
    return length <= limit + 1
