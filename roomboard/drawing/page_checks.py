"""Checks of finished pages: lettering that overlaps or leaves the frame."""

from __future__ import annotations

from roomboard.drawing.displaylist import Text, overlap, text_box
from roomboard.drawing.paper import Page


def text_overlaps(page: Page) -> tuple[tuple[str, str], ...]:
    """Return pairs of lines of lettering on a page that lie over each other."""
    texts = [(m.text, text_box(m)) for m in page.marks if isinstance(m, Text)]
    texts.sort(key=lambda t: (t[1], t[0]))
    found: list[tuple[str, str]] = []
    for number, (text, box) in enumerate(texts):
        for other, beside in texts[number + 1 :]:
            if beside[0] >= box[2]:
                break
            if overlap(box, beside, 0.01):
                found.append((text, other))
    return tuple(found)


def text_outside(page: Page) -> tuple[str, ...]:
    """Return the lines of lettering that reach over the frame of a page."""
    x0, y0, x1, y1 = page.frame
    return tuple(
        m.text
        for m in page.marks
        if isinstance(m, Text)
        for a, b, c, d in (text_box(m),)
        if a < x0 or b < y0 or c > x1 or d > y1
    )
