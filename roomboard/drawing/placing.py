"""Drawings that want a place: fitted to a page at a scale, and placed on as few pages as can be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from roomboard.core.plane import same
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
        ratio: The one ratio it is drawn at; 0 for any. Parts of one surface are of one scale.
        beside: What stands at the left of its caption, mm of paper from its lower left corner.
        key: What tells it from all other drawings of a set, where others lead to it; or empty.
        about: What it shows, for clouds: ``"piece:<id>"``, ``"sheet:<id>"``, ``"timber"``,
            ``"fixing"``; empty for a surface with its sheets.
        window: What it shows of its surface, mm, where that is drawn in parts; or None.
        parted: Gives the parts it is drawn in where no page holds it at a scale at which it can
            be read in full: told the ratio and how wide and how high a part may be, mm of the
            room. None where it is always drawn whole.
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
    ratio: float = 0.0
    beside: DisplayList = ()
    key: str = ""
    about: str = ""
    window: Box | None = None
    parted: Callable[[float, float, float], tuple[View, ...]] | None = None
    _known: dict[tuple[float, float], tuple[DisplayList, Box, frozenset[str]]] = field(
        init=False, default_factory=dict, compare=False, repr=False
    )

    def drawn(self, ratio: float, widest: float) -> tuple[DisplayList, Box, frozenset[str]]:
        """Return the drawing, the box round it and the layers it has, worked out once.

        Args:
            ratio: How many mm of the room one mm of paper is.
            widest: What it should not be wider than, mm of paper.
        """
        key = (ratio, widest)
        if key not in self._known:
            marks = self.draw(ratio, widest)
            layers = frozenset(m.layer for m in marks if not isinstance(m, Text))
            self._known[key] = (marks, bounds(marks, ratio), layers)
        return self._known[key]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A view drawn at a scale, its caption under it or beside it.

    What stands at the left of the caption stands over it where it is stacked.
    """

    view: View
    scale: Scale
    marks: DisplayList
    box: Box
    layers: frozenset[str]
    caption: tuple[tuple[str, bool], ...]
    beside: bool = False
    stacked: bool = False

    @property
    def drawn_width(self) -> float:
        """Width of the drawing on paper, mm."""
        return (self.box[2] - self.box[0]) / self.scale.ratio

    @property
    def drawn_height(self) -> float:
        """Height of the drawing on paper, mm."""
        return (self.box[3] - self.box[1]) / self.scale.ratio

    @property
    def inset(self) -> tuple[float, float]:
        """Width with the space on its right, and height, of what stands beside the caption, mm."""
        if not self.view.beside:
            return (0.0, 0.0)
        x0, y0, x1, y1 = bounds(self.view.beside)
        return (x1 - x0 + SPACE, y1 - y0)

    @property
    def width(self) -> float:
        """Width with its caption, mm."""
        lines = max((text_width(c, SMALLEST, bold=bold) for c, bold in self.caption), default=0.0)
        wide = self.inset[0]
        lines = max(lines, wide) if self.stacked else lines + wide
        if self.beside:
            return self.drawn_width + SPACE + lines
        return max(self.drawn_width, lines)

    @property
    def height(self) -> float:
        """Height with its caption, mm."""
        lines = line_pitch(SMALLEST) * len(self.caption)
        high = self.inset[1] + 1.0 if self.view.beside else 0.0
        lines = 1.0 + (lines + high + 1.0 if self.stacked else max(lines, high))
        return max(self.drawn_height, lines) if self.beside else self.drawn_height + lines


@dataclass
class Drawings:
    """The drawings of one page, each in the highest place that is free and there farthest left.

    Attributes:
        area: Where they stand.
        scale: The scale of them all.
        views: Those that stand there.
        low: How far down they reach.
        lies: Each view with the place where its own zero came to lie, mm.
        free: Boxes where nothing stands yet, mm.
        laid: Each drawing with the place of its upper left corner, mm.
    """

    area: Box
    scale: Scale
    views: list[View] = field(default_factory=list)
    low: float = 0.0
    lies: list[tuple[View, float, float]] = field(default_factory=list)
    free: list[Box] = field(default_factory=list)
    laid: list[tuple[Fitted, float, float]] = field(default_factory=list)

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
        self.laid.append((fitted, x, y))
        self.lies.append((fitted.view, x - fitted.box[0] / ratio, foot - fitted.box[1] / ratio))
        self.views.append(fitted.view)
        self.low = min(self.low, y - fitted.height)

    @property
    def layers(self) -> frozenset[str]:
        """The layers of all drawings."""
        return frozenset().union(*(fitted.layers for fitted, _, _ in self.laid))

    @property
    def marks(self) -> DisplayList:
        """What the drawings are drawn with, mm of the page."""
        return tuple(m for laid in self.laid for m in _laid_down(*laid))

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


def _laid_down(fitted: Fitted, x: float, y: float) -> Iterator[Mark]:
    """Return the marks of a drawing with its caption, its upper left corner at a place."""
    ratio = fitted.scale.ratio
    foot = y - fitted.drawn_height
    dx, dy = x - fitted.box[0] / ratio, foot - fitted.box[1] / ratio
    yield from placed(fitted.marks, ratio, dx, dy)
    left = x + fitted.drawn_width + SPACE if fitted.beside else x
    top = (y if fitted.beside else foot) - 1.0
    base = top - cap_height(SMALLEST)
    wide, high = fitted.inset
    if fitted.view.beside:
        x0, y0, _, _ = bounds(fitted.view.beside)
        yield from placed(fitted.view.beside, 1.0, left - x0, top - high - y0)
        if fitted.stacked:
            base -= high + 2.0
        else:
            left += wide
    for line, bold in fitted.caption:
        yield Text(at=(left, base), text=line, paper_height=SMALLEST, bold=bold)
        base -= line_pitch(SMALLEST)


def fit(
    view: View, area: Box, scales: Sequence[Scale], *, compact: bool, beside: bool = False
) -> Fitted:
    """Draw a view at the largest scale at which it fits an area with its lettering.

    Args:
        view: The view.
        area: Where it is to stand, mm.
        scales: The largest drawing first.
        compact: See :func:`at_scale`.
        beside: Whether its caption stands beside it wherever it has room there, so that others
            find room under it.
    """
    wide, high = area[2] - area[0], area[3] - area[1]
    fitted: Fitted | None = None
    scales = [s for s in scales if same(s.ratio, view.ratio)] or scales
    for scale in scales:
        last = scale is scales[-1]
        if not last and (view.width / scale.ratio > wide or view.height / scale.ratio > high):
            continue
        fitted = at_scale(view, scale, wide, compact=compact)
        left = wide - fitted.drawn_width - SPACE
        if (beside or fitted.height > high) and left >= CAPTION:
            # A caption beside a narrow drawing may be all that it takes.
            aside = _captioned(fitted, left, beside=True)
            fitted = aside if aside.height < fitted.height else fitted
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
    marks, box, layers = view.drawn(scale.ratio, widest)
    drawn = (box[2] - box[0]) / scale.ratio
    room = min(wide, max(min(CAPTION, half), drawn))
    if view.beside and drawn > half:  # little would stand beside it
        room = wide
    bare = Fitted(view=view, scale=scale, marks=marks, box=box, layers=layers, caption=())
    return _captioned(bare, room, beside=False)


def _captioned(fitted: Fitted, room: float, *, beside: bool) -> Fitted:
    """Return a drawing with its caption in lines no wider than some room, mm."""
    title, *notes = fitted.view.caption
    stacked = bool(fitted.view.beside) and room - fitted.inset[0] < CAPTION
    room -= 0.0 if stacked else fitted.inset[0]
    lines = [(line, True) for line in wrapped(title, max(room, 1.0), bold=True)]
    lines += [(line, False) for note in notes for line in wrapped(note, max(room, 1.0))]
    return replace(fitted, caption=tuple(lines), beside=beside, stacked=stacked)


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
