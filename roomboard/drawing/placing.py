"""Drawings that want a place: fitted to a page at a scale, and placed on as few pages as can be."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from roomboard.core.scheme import RoomScheme, SurfaceScheme
from roomboard.drawing.displaylist import Box, DisplayList, Mark, Text, bounds, overlap, placed
from roomboard.drawing.lettering import (
    SMALLEST,
    cap_height,
    line_pitch,
    text_width,
    wrapped,
)
from roomboard.drawing.paper import Scale

SPACE = 4.0
"""Space between drawings beside each other, mm."""
UNDER = 3.5
"""Space between drawings under each other, mm."""
AROUND = 20.0
"""About what the dimensions round a drawing take, mm."""
CAPTION = 50.0
"""A caption may be at least this wide, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A drawing that wants a place on a page.

    It may be asked for at several scales, and more than once for each: ``draw`` remembers.

    Attributes:
        draw: Makes it for a scale (mm of the room to one mm of paper) and a width it should not
            go over (mm of paper).
        width: Its bare width, mm of the room.
        height: Its bare height.
        caption: What stands under it.
        part: What it adds to the title of its page, or empty.
        room: The room it shows, or None.
        surface: The surface it shows, or None.
        board: The board it shows, where that is one sheet, or empty.
        coarsest: The ratio at which it can still be read in full; 0 for any. It is drawn at
            least so large where it fits a page so.
    """

    draw: Callable[[float, float], DisplayList]
    width: float
    height: float
    caption: tuple[str, ...]
    part: str = ""
    room: RoomScheme | None = None
    surface: SurfaceScheme | None = None
    board: str = ""
    coarsest: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A view drawn at a scale, its caption under it or beside it."""

    view: View
    scale: Scale
    marks: DisplayList
    box: Box
    caption: tuple[tuple[str, bool], ...]
    beside: bool = False

    @property
    def drawn_width(self) -> float:
        """Width of the drawing on paper, mm."""
        return (self.box[2] - self.box[0]) / self.scale.ratio

    @property
    def drawn_height(self) -> float:
        """Height of the drawing on paper, mm."""
        return (self.box[3] - self.box[1]) / self.scale.ratio

    @property
    def width(self) -> float:
        """Width with its caption, mm."""
        lines = max((text_width(c, SMALLEST, bold=bold) for c, bold in self.caption), default=0.0)
        if self.beside:
            return self.drawn_width + SPACE + lines
        return max(self.drawn_width, lines)

    @property
    def height(self) -> float:
        """Height with its caption, mm."""
        lines = 1.0 + line_pitch(SMALLEST) * len(self.caption)
        return max(self.drawn_height, lines) if self.beside else self.drawn_height + lines


@dataclass
class Drawings:
    """The drawings of one page, each in the highest place that is free and there farthest left.

    Attributes:
        area: Where they stand.
        scale: The scale of them all.
        views: Those that stand there.
        marks: What they are drawn with.
        low: How far down they reach.
    """

    area: Box
    scale: Scale
    views: list[View] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    low: float = 0.0
    free: list[Box] = field(default_factory=list)

    def __post_init__(self) -> None:
        x0, y0, x1, y1 = self.area
        # Every drawing is taken with the space on its right and under it.
        self.free = [(x0, y0 - UNDER, x1 + SPACE, y1)]
        self.low = y1

    def takes(self, fitted: Fitted, *, whatever: bool = False) -> bool:
        """Place a drawing if there is room for it, or whatever its size."""
        width, height = fitted.width + SPACE, fitted.height + UNDER
        spots = [
            (-y1, x0)
            for x0, y0, x1, y1 in self.free
            if x1 - x0 >= width - 0.01 and y1 - y0 >= height - 0.01
        ]
        if not spots and not whatever:
            return False
        high, x = min(spots) if spots else (-self.low, self.area[0])
        self.place(fitted, x, -high)
        self.cover((x, -high - height, x + width, -high))
        return True

    def place(self, fitted: Fitted, x: float, y: float) -> None:
        """Lay a drawing down with its upper left corner at a place."""
        ratio = fitted.scale.ratio
        foot = y - fitted.drawn_height
        dx, dy = x - fitted.box[0] / ratio, foot - fitted.box[1] / ratio
        self.marks.extend(placed(fitted.marks, ratio, dx, dy))
        left = x + fitted.drawn_width + SPACE if fitted.beside else x
        base = (y if fitted.beside else foot) - 1.0 - cap_height(SMALLEST)
        for line, bold in fitted.caption:
            self.marks.append(Text(at=(left, base), text=line, paper_height=SMALLEST, bold=bold))
            base -= line_pitch(SMALLEST)
        self.views.append(fitted.view)
        self.low = min(self.low, y - fitted.height)

    def cover(self, box: Box) -> None:
        """Take a box off the boxes that are free."""
        a, b, c, d = box
        found: list[Box] = []
        for spot in self.free:
            if not overlap(spot, box, 0.01):
                found.append(spot)
                continue
            x0, y0, x1, y1 = spot
            found += [(x0, y0, a, y1), (c, y0, x1, y1), (x0, d, x1, y1), (x0, y0, x1, b)]
        found = sorted({s for s in found if s[2] - s[0] > SPACE and s[3] - s[1] > SPACE})
        self.free = [s for s in found if not any(_holds(o, s) for o in found if o != s)]


def fit(view: View, area: Box, scales: Sequence[Scale], *, compact: bool) -> Fitted:
    """Draw a view at the largest scale at which it fits an area with its lettering."""
    wide, high = area[2] - area[0], area[3] - area[1]
    fitted: Fitted | None = None
    for scale in scales:
        last = scale is scales[-1]
        if not last and (view.width / scale.ratio > wide or view.height / scale.ratio > high):
            continue
        fitted = at_scale(view, scale, wide, compact=compact)
        left = wide - fitted.drawn_width - SPACE
        if fitted.height > high and left >= CAPTION:
            # A caption beside a narrow drawing may be all that it takes.
            fitted = _captioned(fitted, left, beside=True)
        if fitted.width <= wide and fitted.height <= high:
            return fitted
    if fitted is None:
        raise ValueError("a drawing needs at least one scale")
    return fitted


def at_scale(view: View, scale: Scale, wide: float, *, compact: bool) -> Fitted:
    """Draw a view with its caption broken to fit.

    Args:
        view: The view.
        scale: Its scale.
        wide: How wide it may be, mm.
        compact: Whether it is to be no wider than its dimensions make it; otherwise it is half
            as wide as the page if it can be.
    """
    half = (wide - SPACE) / 2
    own = view.width / scale.ratio + AROUND
    roomy = half if own <= half else wide
    widest = min(own, wide) if compact else roomy
    marks = view.draw(scale.ratio, widest)
    box = bounds(marks, scale.ratio)
    room = min(wide, max(min(CAPTION, half), (box[2] - box[0]) / scale.ratio))
    bare = Fitted(view=view, scale=scale, marks=marks, box=box, caption=())
    return _captioned(bare, room, beside=False)


def _captioned(fitted: Fitted, room: float, *, beside: bool) -> Fitted:
    """Return a drawing with its caption in lines no wider than some room, mm."""
    title, *notes = fitted.view.caption
    lines = [(line, True) for line in wrapped(title, max(room, 1.0), bold=True)]
    lines += [(line, False) for note in notes for line in wrapped(note, max(room, 1.0))]
    return replace(fitted, caption=tuple(lines), beside=beside)


def packed(views: Sequence[Fitted], area: Box, ahead: int) -> list[Drawings]:
    """Place views on pages, in order; a change of scale begins a page.

    Args:
        views: In order.
        area: Where they stand on every page.
        ahead: How many of those that follow are tried where one does not fit.
    """
    pages: list[Drawings] = []
    left = list(views)
    while left:
        page = Drawings(area, left[0].scale)
        page.takes(left.pop(0), whatever=True)
        passed = 0
        number = 0
        while number < len(left) and passed <= ahead:
            if left[number].scale == page.scale and page.takes(left[number]):
                del left[number]
                continue
            number += 1
            passed += 1
        pages.append(page)
    return pages


def _holds(a: Box, b: Box) -> bool:
    """Tell whether one box holds another."""
    return a[0] <= b[0] and a[1] <= b[1] and b[2] <= a[2] and b[3] <= a[3]
