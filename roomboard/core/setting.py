"""What a room is worked out with: the pack, the stock and the choices, in one value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.practice import Practice
    from roomboard.core.project import Choices, Project
    from roomboard.core.stock import Board, Catalogue


@dataclass(frozen=True, kw_only=True)
class Setting:
    """The pack, the stock and the choices.

    Attributes:
        practice: The pack with the user's overrides in place.
        catalogue: What can be bought.
        choices: The user's choices for the project.
    """

    practice: Practice
    catalogue: Catalogue
    choices: Choices

    def board(self, wanted: str, place: str) -> Board:
        """Return the board named, or the project's or the pack's for a place.

        Args:
            wanted: Board id, or empty.
            place: ``"ceiling"`` or ``"wall"``.

        Raises:
            KeyError: If the stock has no such board.
        """
        ceiling = place == "ceiling"
        chosen = self.choices.ceiling_board if ceiling else self.choices.wall_board
        default = self.catalogue.default_ceiling if ceiling else self.catalogue.default_wall
        board = self.catalogue.board(wanted or chosen or default)
        if board is None:
            raise KeyError(wanted or chosen or default)
        return board

    def sizes(self, board: Board, carry_in: float = 0.0) -> dict[float, tuple[float, ...]]:
        """Return the sheet lengths that can be had for each sheet width, shortest first.

        Args:
            board: The board.
            carry_in: Longest sheet that can be carried in, mm; 0 for no limit.
        """
        lengths, widths = self.choices.sheet_lengths, self.choices.sheet_widths
        found: dict[float, set[float]] = {}
        for sheet in board.sheets:
            if (
                (not lengths or any(abs(sheet.length - x) < 1 for x in lengths))
                and (not widths or any(abs(sheet.width - x) < 1 for x in widths))
                and (not carry_in or sheet.length <= carry_in + 1)
            ):
                found.setdefault(sheet.width, set()).add(sheet.length)
        return {width: tuple(sorted(found[width])) for width in sorted(found)}


def setting_of(project: Project, practice: Practice, catalogue: Catalogue) -> Setting:
    """Return what a project's rooms are worked out with: its own figures in place of the pack's.

    Args:
        project: The project; figures of its own that the pack cannot take are left out.
        practice: The pack, before the project's overrides.
        catalogue: What can be bought.
    """
    own = [(key, figure) for key, figure in project.overrides if practice.takes(key, figure)]
    return Setting(practice=practice.overridden(own), catalogue=catalogue, choices=project.choices)
