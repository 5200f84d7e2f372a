"""Sheets that are cut already: what was cut from one sheet stays on one of its size."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.cutting.check import verify
from roomboard.core.cutting.cut_sheets import cut_sheet, numbered
from roomboard.core.cutting.improving import solve
from roomboard.core.cutting.packing import Laid, OpenSheet, pack
from roomboard.core.cutting.strategies import strategies
from roomboard.core.cutting.values import CutPlan, CuttingError
from roomboard.core.cutting.wants import to_parts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.cutting.packing import Plate
    from roomboard.core.cutting.planning import Cutter
    from roomboard.core.cutting.wants import Job

TRIES = 6
"""Ways of laying the pieces of one sheet that are tried."""


class Lie(NamedTuple):
    """Where a piece lies on its sheet.

    Attributes:
        piece: Its id.
        x: Along the sheet, mm.
        y: Across the sheet, mm.
        turned: Whether it is turned by half a turn.
    """

    piece: str
    x: float
    y: float
    turned: bool


class Kept(NamedTuple):
    """A sheet that is cut already, or stays as it was issued.

    Attributes:
        id: Its number, e.g. ``"S3"``; it keeps it.
        board: Board id.
        length: Of the sheet, mm.
        width: Of the sheet, mm.
        pieces: Ids of the pieces that stay on it whatever happens.
        beside: Ids of others that were to be cut from it; they stay on it if they still fit.
        lies: Where each of its pieces lies, if not one of them has changed; else empty.
        recessed: How many of its long edges are known to be recessed, for an offcut on site.
    """

    id: str
    board: str
    length: float
    width: float
    pieces: tuple[str, ...]
    beside: tuple[str, ...] = ()
    lies: tuple[Lie, ...] = ()
    recessed: int = 0


def keeping(kept: Sequence[Kept], cutter: Cutter | None = None) -> Cutter:
    """Return a way of cutting that leaves sheets as they are which are cut already.

    Args:
        kept: The sheets.
        cutter: How the others are cut; None for the usual way.
    """

    def cut(job: Job, opens: list[OpenSheet]) -> list[OpenSheet]:
        own = [k for k in kept if k.board == job.board.id]
        known = {w.demand.id: n for n, w in enumerate(job.wants)}
        if all(_is_there(job, k, opens) for k in own):
            return cutter(job, opens) if cutter is not None else opens
        held: list[OpenSheet] = []
        for sheet in own:
            made = _sheet(job, sheet, known, {x.want for s in held for x in s.laid})
            if made is not None:
                held.append(made)
        if not held:
            return cutter(job, opens) if cutter is not None else opens
        taken = {x.want for s in held for x in s.laid}
        every = [*held, *_rest(job, taken, cutter)]
        return sorted(every, key=lambda sheet: min(laid.want for laid in sheet.laid))

    return cut


def _is_there(job: Job, kept: Kept, opens: Sequence[OpenSheet]) -> bool:
    """Tell whether a sheet is cut as it is to stay, the usual way."""
    wanted = {*kept.pieces, *(lie.piece for lie in kept.lies)}
    for sheet in opens:
        size = job.sizes[sheet.size]
        found = {job.wants[x.want].demand.id for x in sheet.laid}
        if wanted <= found:
            same = (size.length, size.width) == (to_parts(kept.length), to_parts(kept.width))
            return same and (not kept.lies or found == wanted)
    return False


def _as_it_lay(
    job: Job, kept: Kept, size: int, known: dict[str, int], taken: set[int]
) -> OpenSheet | None:
    """Lay a sheet of which no piece has changed exactly as it was."""
    laid: list[Laid] = []
    for lie in kept.lies:
        want = known.get(lie.piece)
        if want is None or want in taken or size not in job.wants[want].sizes:
            return None
        laid.append(Laid(want, to_parts(lie.x), to_parts(lie.y), lie.turned))
    sheet = OpenSheet(size, laid)
    return sheet if laid and is_sound(job, sheet) else None


def is_sound(job: Job, sheet: OpenSheet) -> bool:
    """Tell whether a sheet can be cut as its pieces lie: a file may say anything."""
    try:
        made = cut_sheet(job, sheet)
    except CuttingError:
        return False
    plan = CutPlan(sheets=numbered([made]), bounds=(), unplaced=())
    demands = [job.wants[x.want].demand for x in sheet.laid]
    return not verify(plan, demands, [job.board])


def _sheet(job: Job, kept: Kept, known: dict[str, int], taken: set[int]) -> OpenSheet | None:
    """Lay what is cut already on its sheet, and of the others as many as still fit."""
    size = next(
        (
            n
            for n, s in enumerate(job.sizes)
            if (s.length, s.width) == (to_parts(kept.length), to_parts(kept.width))
        ),
        None,
    )
    if size is None:
        return None
    whole = _as_it_lay(job, kept, size, known, taken)
    if whole is not None:
        return whole

    def usable(ids: Sequence[str]) -> list[int]:
        wants = (known[i] for i in ids if i in known)
        return [n for n in wants if n not in taken and size in job.wants[n].sizes]

    cut, beside = usable(kept.pieces), usable(kept.beside)
    if not cut:
        return None
    for more in range(len(beside), -1, -1):
        laid = _laid(job, [*cut, *beside[:more]], size)
        if laid is not None:
            return laid
    return None


def _laid(job: Job, wants: Sequence[int], size: int) -> OpenSheet | None:
    rule = tuple(size for _ in job.wants)
    for strategy in strategies(job, wants, [rule], TRIES):
        filled = [OpenSheet(size)]
        sheet = job.sizes[size]
        free: list[Plate] = [(sheet.length, sheet.width, 0, 0, 0)]
        if pack(job, strategy, filled, free, may_open=False):
            return filled[0]
    return None


def with_numbers(plan: CutPlan, kept: Sequence[Kept]) -> CutPlan:
    """Return a plan in which sheets that are kept have the numbers they had.

    Args:
        plan: How everything is cut.
        kept: The sheets that are kept.
    """
    names: dict[int, str] = {}
    for sheet in kept:
        wanted = {*sheet.pieces, *(lie.piece for lie in sheet.lies)}
        at = next(
            (
                n
                for n, s in enumerate(plan.sheets)
                if n not in names and wanted <= {p.piece for p in s.placements}
            ),
            None,
        )
        if at is not None and _is_number(sheet.id) and sheet.id not in names.values():
            names[at] = sheet.id
    used = set(names.values())
    free = (f"S{n}" for n in count(1) if f"S{n}" not in used)
    made = [
        replace(s, id=names[n] if n in names else next(free)) for n, s in enumerate(plan.sheets)
    ]
    return replace(plan, sheets=tuple(sorted(made, key=lambda s: _order(s.id))))


def _is_number(name: str) -> bool:
    return name[:1] == "S" and name[1:].isdecimal() and name[1:].isascii()


def _order(name: str) -> tuple[int, str]:
    digits = "".join(c for c in name if c.isdigit())
    return (int(digits) if digits else 0, name)


def _rest(job: Job, taken: set[int], cutter: Cutter | None) -> list[OpenSheet]:
    """Cut what is not on a sheet that is kept."""
    left = [n for n in range(len(job.wants)) if n not in taken]
    smaller = replace(job, wants=tuple(job.wants[n] for n in left))
    opens = solve(smaller, (0, 0))
    if cutter is not None:
        opens = cutter(smaller, opens)
    for sheet in opens:
        sheet.laid = [x._replace(want=left[x.want]) for x in sheet.laid]
    return opens
