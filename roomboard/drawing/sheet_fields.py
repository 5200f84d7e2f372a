"""The fields by which a place on a large sheet is named, outside its frame."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from roomboard.core.plane import Point
from roomboard.core.revision import LETTERS
from roomboard.drawing import _drafting
from roomboard.drawing.displaylist import CENTRED, Mark, Stroke, Text
from roomboard.drawing.paper import Paper

GRID = "grid"
"""Ref of the names and ticks of the fields of a large sheet."""


def sheet_fields(paper: Paper) -> Iterator[Mark]:
    """Draw the fields of a large sheet outside its frame: letters down, numbers across."""
    if paper.name not in _drafting.GRID_PAPERS:
        return
    x0, y0, x1, y1 = paper.frame
    out, off = _drafting.GRID_TICK, _drafting.GRID_TICK / 2
    across = _fields(x0, x1, paper.width / 2)
    up = _fields(y0, y1, paper.height / 2)
    for x in across[1:-1]:
        if x != paper.width / 2:  # there is a centring mark
            yield Stroke(points=((x, y0), (x, y0 - out)), layer="title_block", ref=GRID)
            yield Stroke(points=((x, y1), (x, y1 + out)), layer="title_block", ref=GRID)
    for y in up[1:-1]:
        if y != paper.height / 2:
            yield Stroke(points=((x0, y), (x0 - out, y)), layer="title_block", ref=GRID)
            yield Stroke(points=((x1, y), (x1 + out, y)), layer="title_block", ref=GRID)
    for number, (a, b) in enumerate(pairwise(across), 1):
        for y in (y0 - off, y1 + off):
            yield _field_name(str(number), ((a + b) / 2, y))
    for letter, (b, a) in zip(LETTERS, pairwise(reversed(up)), strict=False):
        for x in (x0 - off, x1 + off):
            yield _field_name(letter, (x, (a + b) / 2))


def _fields(low: float, high: float, middle: float) -> list[float]:
    """Return where the fields along a side begin and end, counted from the middle of the sheet."""
    field = _drafting.GRID_FIELD
    count = int(min(middle - low, high - middle) // field)
    inner = [middle + field * n for n in range(-count, count + 1)]
    return [low, *(at for at in inner if low < at < high), high]


def _field_name(name: str, at: Point) -> Text:
    height = _drafting.GRID_LETTER
    return Text(at=at, text=name, paper_height=height, anchor=CENTRED, layer="frame", ref=GRID)
