"""One drawing with the paper it stands on: what the writers of pictures take."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.drawing.displaylist import Box, DisplayList
from roomboard.drawing.paper import Page
from roomboard.drawing.view import View

EDGE = 5.0
"""Blank paper kept round a view, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing with its edge.

    Attributes:
        marks: What is drawn, mm of the drawing, y up.
        box: The part of the drawing that is shown, mm of the drawing.
        scale: How many mm of the drawing one mm of paper is.
        title: What it is called.
        creator: What made it.
    """

    marks: DisplayList
    box: Box
    scale: float
    title: str
    creator: str = "roomboard"

    @property
    def width(self) -> float:
        """Its width, mm of the drawing."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """Its height, mm of the drawing."""
        return self.box[3] - self.box[1]


def picture_of_page(page: Page) -> Picture:
    """Return a page as a picture: mm of paper from its lower left corner."""
    parts = (page.document, page.room, page.title)
    return Picture(
        marks=page.marks,
        box=(0.0, 0.0, page.width, page.height),
        scale=1.0,
        title=", ".join(part for part in parts if part),
        creator=page.creator,
    )


def picture_of_view(view: View, title: str) -> Picture:
    """Return a view as a picture: mm of the room, printed at the view's scale.

    Args:
        view: The view.
        title: What it is called.
    """
    x0, y0, x1, y1 = view.bounds
    edge = EDGE * view.scale
    return Picture(
        marks=view.marks,
        box=(x0 - edge, y0 - edge, x1 + edge, y1 + edge),
        scale=view.scale,
        title=title,
    )
