"""Checks of finished pages: lettering that overlaps, leaves the frame or cannot be read."""

from __future__ import annotations

import math

from roomboard.drawing.displaylist import Text, overlap, text_box, text_corners
from roomboard.drawing.lettering import SMALLEST
from roomboard.drawing.paper import Page
from roomboard.drawing.sheet_fields import GRID

HAIR = 0.01
"""Boxes of lettering that share no more than this only touch, mm."""


def text_overlaps(page: Page) -> tuple[tuple[str, str], ...]:
    """Return pairs of lines of lettering on a page that lie over each other."""
    texts = [(m.text, text_box(m), m) for m in page.marks if isinstance(m, Text)]
    texts.sort(key=lambda t: (t[1], t[0]))
    found: list[tuple[str, str]] = []
    for number, (text, box, mark) in enumerate(texts):
        for other, beside, near in texts[number + 1 :]:
            if beside[0] >= box[2]:
                break
            if overlap(box, beside, HAIR) and _meet(mark, near):
                found.append((text, other))
    return tuple(found)


def _meet(a: Text, b: Text) -> bool:
    """Tell whether two lines of lettering share more than a hair; slanting ones have no box.

    Two rectangles lie apart if they do along a side of one of them.
    """
    rings = (text_corners(a), text_corners(b))
    for ring in rings:
        (ax, ay), (bx, by), _, (dx, dy) = ring
        for ux, uy in ((bx - ax, by - ay), (dx - ax, dy - ay)):
            length = math.hypot(ux, uy)
            if not length:
                continue
            spans = [[(x * ux + y * uy) / length for x, y in corners] for corners in rings]
            shared = min(max(s) for s in spans) - max(min(s) for s in spans)
            if shared <= HAIR:
                return False
    return True


def text_outside(page: Page) -> tuple[str, ...]:
    """Return the lines of lettering that reach over the frame of a page.

    The names of the fields of a sheet stand outside it by their nature.
    """
    x0, y0, x1, y1 = page.frame
    return tuple(
        m.text
        for m in page.marks
        if isinstance(m, Text) and m.ref != GRID
        for a, b, c, d in (text_box(m),)
        if a < x0 or b < y0 or c > x1 or d > y1
    )


def text_too_small(page: Page) -> tuple[str, ...]:
    """Return the lines of lettering whose capitals are lower than the least height of drawings."""
    return tuple(
        m.text for m in page.marks if isinstance(m, Text) and m.paper_height < SMALLEST - HAIR
    )
