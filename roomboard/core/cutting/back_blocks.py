"""Back-blocks cut from what the pieces leave over, and from more board where that is too little."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from roomboard.core.cutting.bounds import board_bound
from roomboard.core.cutting.check import insist, verify
from roomboard.core.cutting.cut_sheets import numbered, numbered_cut, offcut_of
from roomboard.core.cutting.dividing import Box, CutLine, crosscut_line, rip_line
from roomboard.core.cutting.on_site import Pile, lying, uncut, with_edges, with_site
from roomboard.core.cutting.planning import Cutter, plan
from roomboard.core.cutting.values import CutPlan, CutSheet, Demand
from roomboard.core.cutting.wants import PARTS, job_of, to_m2, to_parts
from roomboard.core.practice import Practice
from roomboard.core.project import Units
from roomboard.core.stock import Board

SLIVER = 100
"""Parts of a mm: what is left beside a block is nothing at all, or at least 1 mm."""


@dataclass(slots=True)
class _Rest:
    """An offcut, or what is left of one, and the block cut from it."""

    sheet: int
    box: Box
    keep: bool
    block: str = ""


def back_blocks_from_offcuts(
    plan: CutPlan,
    blocks: Sequence[tuple[str, float, float]],
    *,
    practice: Practice | None = None,
) -> tuple[CutPlan, tuple[str, ...]]:
    """Cut back-blocks from what a plan leaves over, waste before offcuts worth keeping.

    A back-block may lie either way round. Its cuts follow those of the sheet; it becomes an
    offcut of its own size whose ``used_for`` names it.

    Args:
        plan: The plan of the pieces.
        blocks: Id, length and width (mm) of each block.
        practice: The pack, to say again which offcuts are kept; without it what is left of an
            offcut worth keeping is kept only if no block was cut from it.

    Returns:
        The plan with the blocks in it, and the ids of those that fit no offcut.
    """
    keep = (
        (to_parts(practice.mm("piece.min")), to_parts(practice.mm("strip.min")))
        if practice is not None
        else None
    )
    rests = [
        _Rest(
            n,
            (to_parts(o.x), to_parts(o.y), to_parts(o.x + o.length), to_parts(o.y + o.width)),
            o.keep,
            ", ".join(o.used_for),
        )
        for n, sheet in enumerate(plan.sheets)
        for o in sheet.offcuts
    ]
    lines: dict[int, list[CutLine]] = {}
    left: set[str] = set()
    sized = [(to_parts(length), to_parts(width), name) for name, length, width in blocks]
    for length, width, name in sorted(sized, key=lambda b: (-b[0] * b[1], -max(b[:2]), b[2])):
        found = _block_place(rests, length, width)
        if found is None:
            left.add(name)
            continue
        index, along, across = found
        rest = rests.pop(index)
        cuts, parts = _block_cuts(rest.box, along, across)
        lines.setdefault(rest.sheet, []).extend(cuts)
        rests.append(_Rest(rest.sheet, parts[0], keep=False, block=name))
        for box in parts[1:]:
            worth = keep is not None and box[2] - box[0] >= keep[0] and box[3] - box[1] >= keep[1]
            rests.append(_Rest(rest.sheet, box, worth))
    sheets = list(plan.sheets)
    for n in sorted(lines):
        own = [r for r in rests if r.sheet == n]
        sheets[n] = _with_blocks(sheets[n], lines[n], own)
    return replace(plan, sheets=tuple(sheets)), tuple(b[0] for b in blocks if b[0] in left)


def _block_place(rests: Sequence[_Rest], length: int, width: int) -> tuple[int, int, int] | None:
    """Return the rest a block is cut from and its size along and across the sheet, or None.

    It lies the way round in which the rest gives the most blocks of its size.
    """
    ways = ((length, width),) if length == width else ((length, width), (width, length))
    best: tuple[int, int, int] | None = None
    least: tuple[bool, int, int, int] = (True, 0, 0, 0)
    for index, rest in enumerate(rests):
        if rest.block:
            continue
        x0, y0, x1, y1 = rest.box
        for along, across in ways:
            spare = (x1 - x0 - along, y1 - y0 - across)
            # A sliver thinner than the tape reads is no cut that anyone can make.
            if min(spare) < 0 or any(0 < s < SLIVER for s in spare):
                continue
            held = ((x1 - x0) // along) * ((y1 - y0) // across)
            rank = (rest.keep, (x1 - x0) * (y1 - y0), -held, min(spare))
            if best is None or rank < least:
                best, least = (index, along, across), rank
    return best


def _block_cuts(box: Box, along: int, across: int) -> tuple[list[CutLine], list[Box]]:
    """Return the cuts that take a block out of the low left corner, and the parts, it first."""
    x0, y0, x1, y1 = box
    x, y = x0 + along, y0 + across
    ripped = max((x1 - x) * across, (x1 - x0) * (y1 - y))
    crosscut = max((x1 - x) * (y1 - y0), along * (y1 - y))
    parts: list[Box] = [(x0, y0, x, y)]
    if ripped >= crosscut:
        cuts = [rip_line(x0, x1, y), crosscut_line(y0, y, x)]
        others: list[Box] = [(x0, y, x1, y1), (x, y0, x1, y)]
    else:
        cuts = [crosscut_line(y0, y1, x), rip_line(x0, x, y)]
        others = [(x, y0, x1, y1), (x0, y, x, y1)]
    lines = [line for line in cuts if (y < y1 if line.rip else x < x1)]
    parts += [b for b in others if b[2] > b[0] and b[3] > b[1]]
    return lines, parts


def _with_blocks(sheet: CutSheet, lines: Sequence[CutLine], rests: Sequence[_Rest]) -> CutSheet:
    width = to_parts(sheet.width)
    begin = len(sheet.cuts) + 1
    return replace(
        sheet,
        cuts=(*sheet.cuts, *(numbered_cut(line, n) for n, line in enumerate(lines, begin))),
        offcuts=tuple(
            replace(
                offcut_of(r.box, width, 0, 0, (r.block,) if r.block else ()),
                keep=r.keep and not r.block,
            )
            for r in sorted(rests, key=lambda r: (r.box[1], r.box[0]))
        ),
    )


def plan_with_back_blocks(  # noqa: PLR0913 - what a plan takes, and the blocks
    demands: Sequence[Demand],
    boards: Sequence[Board],
    blocks: Sequence[tuple[str, float, float]],
    net_m2: Mapping[str, float],
    practice: Practice,
    lengths: Sequence[float] = (),
    widths: Sequence[float] = (),
    *,
    units: Units = Units.METRIC,
    cutter: Cutter | None = None,
    pile: Pile | None = None,
) -> CutPlan:
    """Return how all pieces are cut from stock, and all back-blocks from what is left over.

    Blocks that fit nothing left over are cut from offcuts on site, and the rest from further
    sheets of the board that most sheets are bought of; they count in that board's areas and
    bounds.

    Args:
        demands: The pieces, in hanging order.
        boards: Boards they may be cut from.
        blocks: Id, length and width (mm) of each back-block.
        net_m2: Area of the finished pieces by board, m2.
        practice: The pack.
        lengths: Sheet lengths that can be had, mm; empty for all.
        widths: Sheet widths that can be had, mm; empty for all.
        units: How lengths are written in the reasons.
        cutter: Another way of cutting the pieces; see :func:`plan`.
        pile: What lies on site.

    Raises:
        ValueError: As :func:`plan`.
        CuttingError: As :func:`plan`.
    """
    made = plan(
        demands, boards, net_m2, practice, lengths, widths, units=units, cutter=cutter, pile=pile
    )
    made, left = back_blocks_from_offcuts(made, blocks, practice=practice)
    if left and pile is not None:
        wanted = [b for b in blocks if b[0] in left]
        on_site, left = _from_site(made.on_site, boards, pile, wanted, practice)
        made = replace(made, on_site=on_site)
    if left and made.bounds:
        usual = max(made.bounds, key=lambda b: (b.sheets, b.bought_m2)).board
        board = next(b for b in boards if b.id == usual)
        own = [d for d in demands if d.board == usual]
        more = _as_demands([b for b in blocks if b[0] in left], board, demands)
        extra = plan(more, [board], {}, practice, lengths, widths)
        job = job_of(board, [*own, *more], practice, lengths, widths)
        held = {w.demand.id for w in job.wants}
        lost = sum(to_parts(d.length) * to_parts(d.width) for d in own if d.id not in held)
        sheets = [s for s in made.sheets if s.board == usual] + list(extra.sheets)
        net = next(b.net_m2 for b in made.bounds if b.board == usual)
        net += sum(b.net_m2 for b in extra.bounds)
        net -= to_m2(sum(to_parts(d.length) * to_parts(d.width) for d in more if d.id not in held))
        cut = next(b.on_site_m2 for b in made.bounds if b.board == usual)
        net += cut
        least, site = with_site(job, pile, round(cut * PARTS * PARTS * 1e6))
        bound = board_bound(job, least, net, lost, sheets, units, site)
        others = [s for s in made.sheets if s.board != usual]
        made = CutPlan(
            sheets=numbered(sorted([*others, *sheets], key=lambda s: s.board)),
            bounds=tuple(bound if b.board == usual else b for b in made.bounds),
            unplaced=(*made.unplaced, *extra.unplaced),
            on_site=made.on_site,
        )
    elif left:
        made = replace(made, unplaced=(*made.unplaced, *left))
    offcuts = pile.offcuts if pile is not None else ()
    insist(verify(made, demands, boards, blocks, offcuts=offcuts))
    return made


def _from_site(
    cut: Sequence[CutSheet],
    boards: Sequence[Board],
    pile: Pile,
    blocks: Sequence[tuple[str, float, float]],
    practice: Practice,
) -> tuple[tuple[CutSheet, ...], tuple[str, ...]]:
    """Cut back-blocks from what lies on site: what is left of cut offcuts, then whole ones.

    Returns:
        The offcuts that are cut from, and the ids of blocks that still fit none.
    """
    known = {b.id: b for b in boards}
    begun = {s.id: s for s in cut}
    every = {
        x.name: x for x in lying(pile.offcuts) if x.board in known and x.name not in pile.cut_up
    }
    lie = [begun.get(x.name) or uncut(x, known[x.board]) for x in every.values()]
    made, left = back_blocks_from_offcuts(
        CutPlan(sheets=tuple(lie), bounds=(), unplaced=()), blocks, practice=practice
    )
    again = tuple(
        with_edges(s, every[s.id])
        for s in made.sheets
        if s.placements or any(o.used_for for o in s.offcuts)
    )
    return (*again, *(s for s in cut if s.id in pile.cut_up)), left


def _as_demands(
    blocks: Sequence[tuple[str, float, float]], board: Board, own: Sequence[Demand]
) -> list[Demand]:
    """Ask for blocks as pieces of a board, each from a sheet that reaches its own room."""
    limits: dict[str, float] = {}
    for d in own:
        room = d.id.rpartition("/")[0]
        if d.longest:
            limits[room] = min(d.longest, limits.get(room, d.longest))
    return [
        Demand(
            id=name,
            length=max(length, width),
            width=min(length, width),
            low="any",
            high="any",
            board=board.id,
            longest=limits.get(name.rpartition("/")[0], 0.0),
        )
        for name, length, width in blocks
    ]
