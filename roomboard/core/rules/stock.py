"""What is to be said about stock and cutting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity

if TYPE_CHECKING:
    from roomboard.core.scheme import Scheme


def stock_findings(scheme: Scheme) -> tuple[Finding, ...]:
    """RB501, RB502: pieces that fit no sheet, and sheets above the bound."""
    said: list[Finding] = []
    pieces = {p.id: p for room in scheme.rooms for s in room.surfaces for p in s.set_out.pieces}
    for item in scheme.cut_plan.unplaced:
        piece = pieces.get(item)
        if piece is None:
            continue
        said.append(
            Finding(
                code="RB501",
                severity=Severity.BLOCK,
                text=f"Piece {piece.mark} ({{length}} x {{width}}) fits no stock sheet that may "
                "be used; allow a longer or wider sheet, or add a butt joint.",
                params=(("length", piece.length), ("width", piece.width)),
                place=Place(room=piece.room, surface=piece.surface, item=piece.mark),
            )
        )
    for bound in scheme.cut_plan.bounds:
        least = max(bound.area_bound, bound.edge_bound)
        if bound.sheets > least:
            board = scheme.catalogue.board(bound.board)
            said.append(
                Finding(
                    code="RB502",
                    severity=Severity.NOTE,
                    text=f"{bound.sheets} sheets of {board.name if board else bound.board} are "
                    f"used; no plan for these pieces can do with fewer than {least}. "
                    + " ".join(bound.reasons),
                    found=bound.sheets,
                    required=least,
                )
            )
    return tuple(said)
