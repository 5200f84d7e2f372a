"""What is to be said about stock and cutting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.adopting import boards_cut_otherwise
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.fixings import goods_for, length_finding
from roomboard.core.layers import through

if TYPE_CHECKING:
    from collections.abc import Iterator

    from roomboard.core.fixings import BackBlock
    from roomboard.core.project import FrameKind
    from roomboard.core.scheme import Scheme
    from roomboard.core.surface import Surface


def stock_findings(scheme: Scheme) -> tuple[Finding, ...]:
    """RB404, RB501, RB502, RB506, RB507: fasteners, sizes, the bound, offcuts, cutting taken up."""
    said: list[Finding] = []
    pieces = {p.id: p for room in scheme.rooms for s in room.surfaces for p in s.set_out.pieces}
    blocks = {
        f"{room.room.id}/{b.id}": (s.surface, b)
        for room in scheme.rooms
        for s in room.surfaces
        for b in s.fixings.back_blocks
    }
    for item in scheme.cut_plan.unplaced:
        piece = pieces.get(item)
        if piece is None:
            if item in blocks:
                said.append(_block_left_over(*blocks[item]))
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
    said.extend(
        Finding(
            code="RB507",
            severity=Severity.NOTE,
            text=f"The cutting that was taken up for {_board_name(scheme, board)} does not hold "
            "any more: its pieces, sheets or offcuts have changed, so it is cut the usual way. "
            "Search again, or let the usual way stand.",
        )
        for board in boards_cut_otherwise(scheme.project.cutting, scheme.cut_plan, scheme.rooms)
    )
    return (*said, *_offcut_findings(scheme), *_fastener_findings(scheme))


def _board_name(scheme: Scheme, board: str) -> str:
    known = scheme.catalogue.board(board)
    return known.name if known else board


def _offcut_findings(scheme: Scheme) -> Iterator[Finding]:
    """RB506: what is cut from the offcuts on site, and those that no board in stock is like."""
    offcuts = scheme.project.offcuts
    known = [b.id for b in scheme.catalogue.boards]
    for offcut in offcuts:
        if offcut.board not in known:
            yield Finding(
                code="RB506",
                severity=Severity.WARNING,
                text=f"Offcut {offcut.id} is of board {offcut.board!r}, which the stock does not "
                f"have, so nothing is cut from it; choose one of: {', '.join(known)}.",
            )
    there = sum(o.count for o in offcuts)
    every = scheme.cut_plan.on_site
    used = [s for s in every if s.number <= there]
    marks = {p.id: p.mark for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    for sheet in every[len(used) :]:
        names = [marks[p.piece] for p in sheet.placements if p.piece in marks]
        yield Finding(
            code="RB506",
            severity=Severity.NOTE,
            text=f"Cut already from an offcut that is not listed any more: {', '.join(names)}; "
            "it is not bought again.",
        )
    if there:
        pieces = sum(len(s.placements) for s in used)
        left = there - len(used)
        text = (
            f"{len(used)} of {there} offcuts on site are cut from, for "
            f"{pieces} {'piece' if pieces == 1 else 'pieces'} that need not be bought."
        )
        if not used:
            text = f"Nothing that saves board fits the offcuts on site ({there})."
        elif left:
            text += f" Nothing that saves board fits {'the other' if left == 1 else 'the others'}."
        yield Finding(code="RB506", severity=Severity.NOTE, text=text)


def _block_left_over(surface: Surface, block: BackBlock) -> Finding:
    """RB501: a back-block that no sheet and no offcut yields."""
    return Finding(
        code="RB501",
        severity=Severity.WARNING,
        text=f"Back-block {block.id} ({{length}} x {{width}}) of {surface.name} fits no offcut and "
        "no stock sheet that may be used; allow a longer sheet, or cut it in parts.",
        params=(("length", block.length), ("width", block.width)),
        place=Place(room=surface.room, surface=surface.ref, item=block.id),
    )


def _fastener_findings(scheme: Scheme) -> Iterator[Finding]:
    """RB404: fasteners longer than any in stock, once for each board, fastener and frame."""
    practice, catalogue = scheme.practice, scheme.catalogue
    wanted: dict[tuple[str, int, str, FrameKind], Surface] = {}
    for room in scheme.rooms:
        for s in room.surfaces:
            frames = {support.id: support.frame for support in s.surface.supports}
            for f in s.fixings.fasteners:
                if f.kind in ("screw", "nail"):
                    frame = frames.get(f.support, s.surface.frame)
                    key = (s.surface.board, s.surface.layer, f.kind, frame)
                    wanted.setdefault(key, s.surface)
    for name, layer, kind, frame in sorted(wanted):
        board = catalogue.board(name)
        if board is None:
            continue
        surface = wanted[name, layer, kind, frame]
        thick = through(board, surface)
        goods = goods_for(
            thick, kind, frame, practice, catalogue, scheme.project.choices.steel_thickness
        )
        if goods.needed is None:
            continue
        ref = surface.ref
        found = length_finding(
            goods.needed,
            [x for x in catalogue.fastener_lengths(goods.kind) if x],
            f"{kind} for {frame.value}",
            Place(room=ref.partition("/")[0], surface=ref, item=name),
            practice.cite(f"{kind}.penetration_{frame.value}"),
        )
        if found is not None:
            yield found
