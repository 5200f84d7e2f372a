"""Everything that holds one surface's pieces, set out in order."""

from __future__ import annotations

from roomboard.core.fixings.back_blocks import BackBlocks
from roomboard.core.fixings.fasteners import Fastening
from roomboard.core.fixings.values import Fixings
from roomboard.core.joints import Joint
from roomboard.core.plane import same
from roomboard.core.practice import Practice
from roomboard.core.project import Choices
from roomboard.core.sheeting import SetOut
from roomboard.core.stock import Board
from roomboard.core.surface import Surface


def set_out_fixings(
    surface: Surface,
    set_out: SetOut,
    joints: tuple[Joint, ...],
    board: Board,
    choices: Choices,
    practice: Practice,
    first_block: int = 1,
) -> Fixings:
    """Place every fastener, daub, bead and back-block of a surface.

    Where a side of a piece lies along a support, that support takes a line of fasteners
    inside the piece; where a member crosses the piece, it is glued or fastened along its
    centre line. Nothing is placed where the pack states no figure: that is a finding.

    Args:
        surface: The surface, its supports including the timber that was asked for.
        set_out: Its pieces.
        joints: Its joints.
        board: The board of its pieces.
        choices: Method and fasteners the user chose.
        practice: The pack with the user's figures in place.
        first_block: Number of the first back-block, for numbers that run through a room.
    """
    work = Fastening(surface, joints, board, choices, practice)
    for piece in set_out.pieces:
        work.fix(piece)
    sheets = usable_sheets(board, choices, surface.carry_in)
    blocks = BackBlocks(surface, set_out, joints, practice, first_block, sheets)
    blocks.place()
    return Fixings(
        surface=surface.ref,
        fasteners=(*work.fasteners, *blocks.screws),
        daubs=tuple(work.daubs),
        beads=tuple(work.beads),
        back_blocks=tuple(blocks.blocks),
        findings=tuple(sorted((*work.findings(), *blocks.findings), key=lambda f: f.order)),
    )


def usable_sheets(
    board: Board, choices: Choices, carry_in: float
) -> tuple[tuple[float, float], ...]:
    """Return length and width of the sheets of a board that may be used and carried in, mm.

    Args:
        board: The board.
        choices: The lengths and widths that can be had.
        carry_in: Longest sheet that can be carried in, mm; 0 for no limit.
    """
    lengths, widths = choices.sheet_lengths, choices.sheet_widths
    return tuple(
        (sheet.length, sheet.width)
        for sheet in board.sheets
        if (not lengths or any(same(sheet.length, x, 1.0) for x in lengths))
        and (not widths or any(same(sheet.width, x, 1.0) for x in widths))
        and (not carry_in or sheet.length <= carry_in + 1.0)
    )
