"""Where clouds of a drawing lie on its page, and which of its dimensions have one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from roomboard.core.plane import Region
from roomboard.core.units import on_tape
from roomboard.drawing.displaylist import Box, Mark, Text, overlap, text_box

if TYPE_CHECKING:
    from roomboard.core.revision_changes import Changes
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.placing import View

ROUND = 1.2
"""Cloud round a dimension: so far from its lettering, mm on paper."""
NEAR = 30.0
"""Dimensions of a drawing stand no farther from it than this, mm on paper."""


def moved(area: Region, ratio: float, dx: float, dy: float) -> Region:
    """Return an area of a drawing where it lies on its page.

    Args:
        area: The area, mm of the drawing.
        ratio: How many mm of the drawing one mm of paper is.
        dx: Where the drawing's zero lies on the paper, mm.
        dy: The same, upwards.
    """
    outer, *holes = (tuple((x / ratio + dx, y / ratio + dy) for x, y in r) for r in area.rings)
    return Region(outer, tuple(holes))


def round_dimensions(
    view: View,
    found: Changes,
    marks: Sequence[Mark],
    lie: tuple[float, float, float],
    scheme: Scheme,
) -> Iterator[Region]:
    """Yield clouds round the overall dimensions of a surface whose size has changed."""
    if view.surface is None:
        return
    surface = view.surface.surface
    resized = {w for c in found.of(surface.ref) for w in c.spans}
    if not resized:
        return
    ratio, dx, dy = lie
    u0, v0, u1, v1 = surface.outline.bounds
    own = (u0 / ratio + dx, v0 / ratio + dy, u1 / ratio + dx, v1 / ratio + dy)
    units = scheme.project.units
    words = {
        span: on_tape(size, units)
        for span, size in (("across", u1 - u0), ("up", v1 - v0))
        if span in resized
    }
    yield from _round_words(marks, own, words)


def _round_words(marks: Sequence[Mark], own: Box, words: dict[str, str]) -> Iterator[Region]:
    x0, y0, x1, y1 = own
    for mark in marks:
        if not isinstance(mark, Text) or mark.layer != "dimension":
            continue
        box = text_box(mark)
        beside = mark.text == words.get("across") and box[0] < x1 and x0 < box[2]
        beside = beside or (mark.text == words.get("up") and box[1] < y1 and y0 < box[3])
        near = overlap(box, (x0 - NEAR, y0 - NEAR, x1 + NEAR, y1 + NEAR))
        if beside and near and not overlap(box, own):
            yield Region.box(*_grown(box))


def _grown(box: Box) -> Box:
    return (box[0] - ROUND, box[1] - ROUND, box[2] + ROUND, box[3] + ROUND)
