"""What a limit on the sheets that can be carried in costs a room: joints, sheets, board."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.scheme import work_out
from roomboard.core.units import write_area, write_run

if TYPE_CHECKING:
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project, Units
    from roomboard.core.scheme import Scheme
    from roomboard.core.stock import Catalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class CarryCost:
    """A room worked out with a limit, less the same without any.

    Attributes:
        butts: Butt joints more.
        butt_m: Metres of butt joint more.
        sheets: Sheets more; less than 0 where shorter ones are cut up better.
        board_m2: Board bought more, m2; less than 0 likewise.
    """

    butts: int
    butt_m: float
    sheets: int
    board_m2: float

    def words(self, units: Units) -> str:
        """Return the cost in a sentence."""
        more = "more" if self.board_m2 >= 0 else "less"
        board = write_area(abs(self.board_m2), units)
        return (
            f"In this room the limit costs {self.butts} more butt joints "
            f"({write_run(self.butt_m * 1000, units)}), takes {abs(self.sheets)} "
            f"{'more' if self.sheets >= 0 else 'fewer'} sheets and {board} {more} board, as it is "
            "usually set out."
        )


def carry_cost(
    project: Project, room_id: str, limit: float, catalogue: Catalogue, practice: Practice
) -> CarryCost | None:
    """Return what a carry-in limit costs a room, set out and cut by itself as usual.

    Args:
        project: The project.
        room_id: Which room.
        limit: Longest sheet that can be carried in, mm; 0 for none.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.

    Returns:
        The difference; None if there is no such room.
    """
    room = project.room(room_id)
    if room is None:
        return None
    figures = []
    for longest in (limit, 0.0):
        alone = replace(project, rooms=(replace(room, carry_in=longest),))
        figures.append(_figures(work_out(alone, catalogue, practice, compare=False)))
    one, two = figures
    return CarryCost(
        butts=round(one[0] - two[0]),
        butt_m=round(one[1] - two[1], 6),
        sheets=round(one[2] - two[2]),
        board_m2=round(one[3] - two[3], 6),
    )


def _figures(scheme: Scheme) -> tuple[float, float, float, float]:
    joints = [j for r in scheme.rooms for s in r.surfaces for j in s.joints if j.kind.is_butt]
    return (
        len(joints),
        sum(j.length for j in joints) / 1000,
        len(scheme.cut_plan.sheets),
        sum(b.bought_m2 for b in scheme.cut_plan.bounds),
    )
