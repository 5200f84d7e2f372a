"""The check: a plan compared with what was asked for, from its placements and cuts alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from roomboard.core.cutting.values import (
    BoardBound,
    Cut,
    CutPlan,
    CutSheet,
    CuttingError,
    Demand,
    EdgeIs,
    Offcut,
    Placement,
)
from roomboard.core.cutting.wants import NOMINAL
from roomboard.core.stock import Board, StockSheet

if TYPE_CHECKING:
    from roomboard.core.project import SiteOffcut

_NEAR = 0.006
"""Two places nearer than this (mm) are one: lengths are rounded to hundredths of a mm."""


def _near(a: float, b: float) -> bool:
    return abs(a - b) <= _NEAR


def verify(
    plan: CutPlan,
    demands: Sequence[Demand],
    boards: Sequence[Board],
    blocks: Sequence[tuple[str, float, float]] = (),
    *,
    offcuts: Sequence[SiteOffcut] = (),
) -> tuple[str, ...]:
    """Check a plan against what was asked for, from its placements and cuts alone.

    Args:
        plan: The plan.
        demands: The pieces asked for.
        boards: The boards it may use.
        blocks: Id, length and width (mm) of back-blocks asked for.
        offcuts: Offcuts on site that it may cut from as well.

    Returns:
        What is wrong, a sentence each; empty if nothing is.
    """
    stock = {s.id: (b, s) for b in boards for s in b.sheets}
    wanted = {d.id: d for d in demands}
    sizes = {name: (length, width) for name, length, width in blocks}
    faults: list[str] = []
    for number, sheet in enumerate(plan.sheets, 1):
        if sheet.id != f"S{number}":
            faults.append(f"Sheet {sheet.id} is number {number}.")
        faults.extend(f"Sheet {sheet.id}: {f}" for f in _sheet_faults(sheet, stock, wanted, sizes))
    faults.extend(_site_faults(plan, boards, offcuts))
    for sheet in plan.on_site:
        faults.extend(f"Offcut {sheet.id}: {f}" for f in _cut_faults(sheet, boards, wanted, sizes))
    faults.extend(_count_faults(plan, wanted, sizes))
    for bound in plan.bounds:
        faults.extend(_bound_faults(bound, plan))
    return tuple(faults)


def insist(faults: Sequence[str]) -> None:
    """Refuse a plan in which the check found faults.

    Raises:
        CuttingError: If there are any; a fault of the program.
    """
    if faults:
        raise CuttingError(f"The cut plan breaks its own rules: {' '.join(faults)}")


def _count_faults(
    plan: CutPlan, wanted: Mapping[str, Demand], blocks: Mapping[str, tuple[float, float]]
) -> Iterator[str]:
    times = dict.fromkeys([*wanted, *blocks], 0)
    given = [p.piece for s in plan.every for p in s.placements]
    given += [name for s in plan.every for o in s.offcuts for name in o.used_for]
    for name in [*given, *plan.unplaced]:
        if name in times:
            times[name] += 1
        else:
            yield f"{name} was never asked for."
    for name, number in times.items():
        if number != 1:
            yield f"{name} is cut or listed {number} times."


def _bound_faults(bound: BoardBound, plan: CutPlan) -> Iterator[str]:
    own = [s for s in plan.sheets if s.board == bound.board]
    bought = sum(s.area_m2 for s in own)
    if bound.sheets != len(own) or abs(bound.bought_m2 - bought) > 1e-4:
        yield f"Board {bound.board} counts other sheets than were cut."
    if len(own) < max(bound.edge_bound, bound.area_bound):
        yield f"Board {bound.board} takes fewer sheets than its bound."
    if bought < bound.bought_bound_m2 - 1e-4:
        yield f"Board {bound.board} takes less board than its bound."


def _site_faults(
    plan: CutPlan, boards: Sequence[Board], offcuts: Sequence[SiteOffcut]
) -> Iterator[str]:
    """Compare the offcuts that are cut from with those that lie there, each once."""
    there = {f"OC{n}": o for n, o in enumerate((o for o in offcuts for _ in range(o.count)), 1)}
    known = {b.id for b in boards}
    for sheet in plan.on_site:
        o = there.pop(sheet.id, None)
        if o is None or sheet.board not in known or not sheet.on_site:
            yield f"Offcut {sheet.id} does not lie on site, or is cut from twice."
            continue
        recessed = (sheet.low, sheet.high).count(EdgeIs.RECESSED)
        same = _near(sheet.length, o.length) and _near(sheet.width, o.width)
        if sheet.board != o.board or not same or recessed != o.recessed:
            yield f"Offcut {sheet.id} is not the size or the board it is listed as."


def _sheet_faults(
    sheet: CutSheet,
    stock: Mapping[str, tuple[Board, StockSheet]],
    wanted: Mapping[str, Demand],
    blocks: Mapping[str, tuple[float, float]],
) -> Iterator[str]:
    if sheet.stock not in stock:
        yield f"no board is sold as {sheet.stock}."
        return
    board, size = stock[sheet.stock]
    if (board.id, size.length, size.width) != (sheet.board, sheet.length, sheet.width):
        yield "it is not the size or the board it is sold as."
    if (sheet.low, sheet.high) != (EdgeIs.RECESSED, EdgeIs.RECESSED):
        yield "a sheet that is bought has two recessed edges."
    yield from _cut_faults(sheet, (board,), wanted, blocks)


def _cut_faults(
    sheet: CutSheet,
    boards: Sequence[Board],
    wanted: Mapping[str, Demand],
    blocks: Mapping[str, tuple[float, float]],
) -> Iterator[str]:
    board = next((b for b in boards if b.id == sheet.board), None)
    if board is None:
        return
    if abs(sheet.mass_kg - sheet.area_m2 * board.mass_kg_m2) > _NEAR:
        yield "its mass is wrong."
    for p in sheet.placements:
        demand = wanted.get(p.piece)
        if demand is None and p.piece in blocks:
            width, length = sorted(blocks[p.piece])
            demand = Demand(
                id=p.piece, length=length, width=width, low="any", high="any", board=sheet.board
            )
        if demand is not None:
            yield from _placement_faults(p, demand, sheet, board)
    for o in sheet.offcuts:
        if len(o.used_for) > 1 or any(
            not _near(o.length, blocks[n][0]) or not _near(o.width, blocks[n][1])
            if _near(o.length, blocks[n][0])
            else not _near(o.width, blocks[n][0]) or not _near(o.length, blocks[n][1])
            for n in o.used_for
            if n in blocks
        ):
            yield f"the offcut for {', '.join(o.used_for)} is not its size."
    yield from _replay_faults(sheet)


def _placement_faults(p: Placement, demand: Demand, sheet: CutSheet, board: Board) -> Iterator[str]:
    if demand.board != sheet.board:
        yield f"{p.piece} is asked for in another board."
    if not (_near(p.length, demand.length) and _near(p.width, demand.width)):
        yield f"{p.piece} is not the size asked for."
    if demand.longest and sheet.length > demand.longest + NOMINAL:
        yield f"{p.piece} comes from a sheet too long to be carried in."
    if p.x < 0 or p.y < 0 or p.x + p.length > sheet.length + _NEAR:
        yield f"{p.piece} reaches beyond the sheet."
    if p.y + p.width > sheet.width + _NEAR:
        yield f"{p.piece} reaches beyond the sheet."
    own = (p.y, p.y + p.width)
    for need, edge, y in zip(
        (demand.low, demand.high), (p.low, p.high), own[::-1] if p.turned else own, strict=True
    ):
        recessed = _is_recessed(sheet, y)
        if (edge is EdgeIs.RECESSED) != recessed:
            yield f"{p.piece} names an edge wrongly."
        clear = min(_from_recesses(sheet, y), default=board.recess_width)
        clean = not recessed and clear >= board.recess_width - _NEAR
        if (need == "recessed" and not recessed) or (need == "cut" and not clean):
            yield f"{p.piece} has an edge that is not {need}."


def _from_recesses(sheet: CutSheet, y: float) -> list[float]:
    """Return how far a place across a sheet lies from each of its recessed edges."""
    sides = ((sheet.low, y), (sheet.high, sheet.width - y))
    return [away for edge, away in sides if edge is EdgeIs.RECESSED]


def _is_recessed(sheet: CutSheet, y: float) -> bool:
    return any(_near(away, 0) for away in _from_recesses(sheet, y))


def _replay_faults(sheet: CutSheet) -> Iterator[str]:
    """Make the cuts one by one and compare what is left with the pieces and offcuts."""
    parts = [(0.0, 0.0, sheet.length, sheet.width)]
    for number, cut in enumerate(sheet.cuts, 1):
        if cut.number != number:
            yield f"cut {cut.number} is number {number}."
        divided = next((part for part in parts if _divides(cut, part)), None)
        if divided is None:
            yield f"cut {cut.number} does not run from side to side of one part."
            return
        x0, y0, x1, y1 = divided
        parts.remove(divided)
        if cut.rip:
            parts += [(x0, y0, x1, cut.y0), (x0, cut.y0, x1, y1)]
        else:
            parts += [(x0, y0, cut.x0, y1), (cut.x0, y0, x1, y1)]
    named: list[Placement | Offcut] = [*sheet.placements, *sheet.offcuts]
    for item in named:
        box = (item.x, item.y, item.x + item.length, item.y + item.width)
        same = next((q for q in parts if all(map(_near, q, box))), None)
        if same is None:
            yield f"no part is left at {item.x}, {item.y} of {item.length} by {item.width}."
        else:
            parts.remove(same)
    if parts:
        yield "a part is left that nothing names."
    for item in sheet.offcuts:
        for edge, y in ((item.low, item.y), (item.high, item.y + item.width)):
            if (edge is EdgeIs.RECESSED) != _is_recessed(sheet, y):
                yield "an offcut names an edge wrongly."


def _divides(cut: Cut, part: tuple[float, float, float, float]) -> bool:
    x0, y0, x1, y1 = part
    if cut.rip:
        return (
            _near(cut.y0, cut.y1)
            and y0 + _NEAR < cut.y0 < y1 - _NEAR
            and _near(cut.x0, x0)
            and _near(cut.x1, x1)
        )
    return (
        _near(cut.x0, cut.x1)
        and x0 + _NEAR < cut.x0 < x1 - _NEAR
        and _near(cut.y0, y0)
        and _near(cut.y1, y1)
    )
