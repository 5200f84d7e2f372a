"""Filled sheets written down in mm: pieces, cuts in order, offcuts, numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from roomboard.core.cutting.dividing import Box, CutLine, division_of
from roomboard.core.cutting.packing import Laid, OpenSheet
from roomboard.core.cutting.values import Cut, CutSheet, EdgeIs, Offcut, Placement
from roomboard.core.cutting.wants import Job, to_mm
from roomboard.core.heeding import heed
from roomboard.core.rules.handling import mass_kg


def numbered(sheets: Iterable[CutSheet]) -> tuple[CutSheet, ...]:
    """Number sheets over the project, in the order given."""
    return tuple(replace(sheet, id=f"S{n}") for n, sheet in enumerate(sheets, 1))


def cut_sheet(job: Job, sheet: OpenSheet) -> CutSheet:
    """Write down a filled sheet in mm, with its cuts and offcuts."""
    heed()
    size = job.sizes[sheet.size]
    division = division_of(job, sheet)
    return CutSheet(
        id="",
        board=job.board.id,
        stock=size.stock.id,
        length=size.stock.length,
        width=size.stock.width,
        placements=tuple(
            _placement(job, laid, size.width) for laid in sorted(sheet.laid, key=lambda x: x.want)
        ),
        cuts=tuple(numbered_cut(line, number) for number, line in enumerate(division.cuts, 1)),
        offcuts=tuple(
            offcut_of(box, size.width, job.keep_length, job.keep_width) for box in division.offcuts
        ),
        mass_kg=mass_kg(size.stock.area_m2, job.board),
    )


def _edge(y: int, sheet: int) -> EdgeIs:
    return EdgeIs.RECESSED if y in {0, sheet} else EdgeIs.CUT


def _placement(job: Job, laid: Laid, sheet: int) -> Placement:
    want = job.wants[laid.want]
    lower, upper = _edge(laid.y, sheet), _edge(laid.y + want.width, sheet)
    return Placement(
        piece=want.demand.id,
        x=to_mm(laid.x),
        y=to_mm(laid.y),
        length=to_mm(want.length),
        width=to_mm(want.width),
        turned=laid.turned,
        low=upper if laid.turned else lower,
        high=lower if laid.turned else upper,
    )


def numbered_cut(line: CutLine, number: int) -> Cut:
    """Write down a cut in mm with its number in the order of cutting."""
    return Cut(
        number=number,
        rip=line.rip,
        x0=to_mm(line.x0),
        y0=to_mm(line.y0),
        x1=to_mm(line.x1),
        y1=to_mm(line.y1),
    )


def offcut_of(
    box: Box, sheet: int, keep_length: int, keep_width: int, used_for: tuple[str, ...] = ()
) -> Offcut:
    """Write down what is left of a sheet in mm.

    Args:
        box: Its sides.
        sheet: Width of the sheet.
        keep_length: Least length worth keeping.
        keep_width: Least width worth keeping.
        used_for: Ids of back-blocks cut from it.
    """
    length, width = box[2] - box[0], box[3] - box[1]
    return Offcut(
        x=to_mm(box[0]),
        y=to_mm(box[1]),
        length=to_mm(length),
        width=to_mm(width),
        low=_edge(box[1], sheet),
        high=_edge(box[3], sheet),
        keep=not used_for and length >= keep_length and width >= keep_width,
        used_for=used_for,
    )
