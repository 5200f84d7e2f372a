"""Setting pages: drawings and tables on as few pages as they take."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf

from roomboard.drawing.displaylist import Box, DisplayList
from roomboard.drawing.flow import Block, Heading, flow
from roomboard.drawing.legend import legend_layers, legend_order
from roomboard.drawing.page_frame import PageFrame, Sheet
from roomboard.drawing.paper import Scale
from roomboard.drawing.placing import AROUND, UNDER, Drawings, View, at_scale, fit, packed

STANDARD_RATIO = 50.0
"""Drawings are made at least this large where they fit a page so, even if that takes more pages."""
FINEST_RATIO = 20.0
"""Nothing is drawn larger than this: it would say no more."""
ROOM_FOR_TABLE = 60.0
"""A table begins under drawings where at least this much of their page is left, mm."""
LARGELY_EMPTY = 0.4
"""Tables go on under drawings where so much of their page is left, even if that saves no page."""
FEW, LOOK_AHEAD = 3, 30
"""So many drawings that do not fit a page are passed over for others that do, where that saves
a page."""
SHRINK, SHRINKS = 0.94, 12
"""Parts of a drawing that do not fit a page are made smaller by this, at most so often."""
CONTINUED = ", continued"
"""What the title of a second page of a kind ends in."""
About = Callable[[Sequence[View]], Sheet]
"""What the title block of a page with some views says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """How drawings are placed on pages.

    Attributes:
        ahead: How many may come before their turn where that fills a page.
        compact: See :func:`~roomboard.drawing.placing.at_scale`.
        beside: See :func:`~roomboard.drawing.placing.fit`.
    """

    ahead: int
    compact: bool
    beside: bool = False


@dataclass(frozen=True)
class Setter:
    """Sets the pages of one set.

    Attributes:
        drawings: Frames of pages with drawings.
        lists: Frames of pages with tables alone.
        scale: The one ratio that drawings have where they fit a page so; 0 to choose for each
            page.
        over: Gives what is laid over the drawings of a page once all have their places.
    """

    drawings: PageFrame
    lists: PageFrame
    scale: float = 0.0
    over: Callable[[Drawings], DisplayList] | None = None

    def flowed(self, blocks: Sequence[Block], about: Sheet) -> Iterator[Sheet]:
        """Set blocks on as many pages as they take."""
        for number, marks in enumerate(flow(blocks, self.lists.area(continued(about)))):
            yield replace(continued(about) if number else about, marks=marks, frame=self.lists)

    def drawn(
        self,
        views: Sequence[View],
        about: About,
        *,
        ahead: int = 0,
        then: Sequence[Block] = (),
        listing: Sheet | None = None,
    ) -> Iterator[Sheet]:
        """Place views on as many pages as they take, and tables after them.

        Args:
            views: In order.
            about: What the title block of a page with some of them says.
            ahead: How many may come before their turn where that fills a page.
            then: What follows, on the last page where there is room for it.
            listing: What the title block of pages with only that says.
        """
        views = [part for v in views for part in self.parts_of(v, views, about)]
        ways = list(self.ways_of(views, about, ahead))
        if not then:  # else the tables may take a page less under some drawings
            ways = [min(ways, key=len)]
        sheets = min((self.with_tables(pages, about, then, listing) for pages in ways), key=len)
        seen: set[str] = set()
        for sheet in sheets:
            again = sheet.title in seen
            seen.add(sheet.title)
            yield continued(sheet) if again else sheet

    def with_tables(
        self,
        pages: Sequence[Drawings],
        about: About,
        then: Sequence[Block],
        listing: Sheet | None,
    ) -> list[Sheet]:
        """Return pages of drawings and tables after them, under the last drawings if that helps."""
        sheets = [
            replace(
                about(page.views),
                scale=page.scale,
                marks=(*page.marks, *(self.over(page) if self.over else ())),
                frame=self.drawings,
                shows=tuple(v.key for v in page.views if v.key),
            )
            for page in pages
        ]
        if not then or listing is None:
            return sheets
        # The title of a page says what the first heading would.
        alone = then[1:] if then[0] == Heading(text=listing.title) else then
        listing = replace(listing, frame=self.lists)
        rest = [replace(listing, marks=m) for m in flow(alone, self.lists.area(continued(listing)))]
        if pages and self.lists.paper == self.drawings.paper:
            last = sheets[-1]
            both = replace(last, title=f"{last.title}, {listing.title.lower()}")
            rows = self.drawings.legend_rows(legend_layers(last.marks, last.unexplained))
            x0, y0, x1, y1 = self.drawings.area(continued(both), rows)
            top = pages[-1].low - UNDER
            if top - y0 >= ROOM_FOR_TABLE:
                first, *more = flow(then, (x0, y0, x1, y1), top)
                # Where it saves no page it still fills one that is largely empty.
                empty = top - y0 >= LARGELY_EMPTY * (y1 - y0)
                if first and len(more) < len(rest) + empty:
                    sheets[-1] = replace(both, marks=(*last.marks, *first))
                    rest = [replace(listing, marks=marks) for marks in more]
        return [*sheets, *rest]

    def ways_of(self, views: Sequence[View], about: About, ahead: int) -> Iterator[list[Drawings]]:
        """Return the ways views can stand on pages.

        Strictly in order comes first, at the largest scale that takes no more pages than the
        standard one; then with labels over drawings rather than beside them, with captions beside
        drawings, and with drawings passed over for later ones that fill a page. None is smaller
        than at the standard scale, save for drawings that do not fit a page so.
        """
        if not views:
            yield []
            return
        scales, usual = self.scales_for(views)
        bare = sum(v.width * v.height for v in views)
        few = min(FEW, ahead)
        for how in dict.fromkeys(
            (
                Placing(ahead=0, compact=False),
                Placing(ahead=0, compact=True, beside=True),
                Placing(ahead=few, compact=True),
                Placing(ahead=few, compact=True, beside=True),
                Placing(ahead=ahead, compact=True),
            )
        ):
            best: list[Drawings] = []
            for number in reversed(usual):
                pages = self.way(views, about, scales, number, how)
                if best and len(pages) > len(best):
                    break
                best = pages
                area = pages[0].area
                finer = scales[max(number - 1, 0)].ratio
                if bare / finer**2 > len(pages) * (area[2] - area[0]) * (area[3] - area[1]):
                    break  # the drawings alone would not fit as many pages
            yield best

    def scales_for(self, views: Sequence[View]) -> tuple[tuple[Scale, ...], list[int]]:
        """Return the scales views may have, and the numbers of those they begin with."""
        every = self.drawings.paper.scales
        if self.scale:
            scales = tuple(s for s in every if s.ratio >= self.scale - 0.01) or every[-1:]
            return scales, [0]
        finest = min([FINEST_RATIO, *(v.coarsest for v in views if v.coarsest)])
        scales = tuple(s for s in every if s.ratio >= finest - 0.01)
        usual = [n for n, s in enumerate(scales) if s.ratio <= STANDARD_RATIO + 0.01] or [0]
        return scales, usual

    def way(
        self,
        views: Sequence[View],
        about: About,
        scales: Sequence[Scale],
        first: int,
        how: Placing,
    ) -> list[Drawings]:
        """Place views on pages at one of several scales, smaller only where they must be.

        Args:
            views: In order.
            about: What the title block of a page with some of them says.
            scales: The largest drawing first.
            first: Number of the scale to begin with; views that must be larger begin before it.
            how: How they are placed.
        """
        scaled = self.tallest(views, about, scales[-1])
        rows = 1
        # The legend takes room of its own; what it holds is known once all is drawn.
        while True:
            area = self.drawings.area(scaled, rows)
            fitted = [
                fit(
                    v,
                    area,
                    scales[_begin(v, scales, first) :],
                    compact=how.compact,
                    beside=how.beside,
                )
                for v in views
            ]
            pages = packed(fitted, area, how.ahead)
            used = max(
                self.drawings.legend_rows(legend_order(p.layers, scaled.unexplained)) for p in pages
            )
            if used <= rows:
                return pages
            rows = used

    def tallest(self, views: Sequence[View], about: About, scale: Scale) -> Sheet:
        """Return what the tallest title block of pages with some views says.

        That of a page with one view may be taller than that of one with all: it names a room.
        """
        blocks = dict.fromkeys([about(views), *(about([v]) for v in views)])
        sheets = (continued(replace(b, scale=scale)) for b in blocks)
        return max(sheets, key=self.drawings.title_top)

    def parts_of(self, view: View, views: Sequence[View], about: About) -> tuple[View, ...]:
        """Return a view, or its parts where no page holds it so that it can be read in full.

        Args:
            view: The view.
            views: All views that may stand on a page with it.
            about: What the title block of a page with some of them says.
        """
        if view.parted is None or not (view.coarsest or self.scale):
            return (view,)
        every, _ = self.scales_for(views)
        scale = every[0 if self.scale else _begin(view, every, len(every) - 1)]
        scaled = self.tallest(views, about, scale)
        _, _, drawn = view.drawn(scale.ratio, inf)
        layers = [*legend_order(drawn, scaled.unexplained), "match"]
        area = self.drawings.area(scaled, self.drawings.legend_rows(layers))
        if _fits(view, area, scale):
            return (view,)
        wide, high = area[2] - area[0] - AROUND, area[3] - area[1] - AROUND
        parts: tuple[View, ...] = (view,)
        for _ in range(SHRINKS):
            parts = view.parted(scale.ratio, wide * scale.ratio, high * scale.ratio)
            over = [v for v in parts if not _fits(v, area, scale)]
            if not over:
                break
            # What stands round a part differs from part to part: that is known once it is drawn.
            boxes = [at_scale(v, scale, area[2] - area[0], compact=True) for v in over]
            if any(b.width > area[2] - area[0] for b in boxes):
                wide *= SHRINK
            if any(b.height > area[3] - area[1] for b in boxes):
                high *= SHRINK
        return parts


def _fits(view: View, area: Box, scale: Scale) -> bool:
    """Tell whether a view fits an area at a scale."""
    fitted = fit(view, area, (scale,), compact=True)
    return fitted.width <= area[2] - area[0] and fitted.height <= area[3] - area[1]


def _begin(view: View, scales: Sequence[Scale], first: int) -> int:
    """Return the number of the scale a view begins with: larger where it cannot be read else."""
    if view.ratio:
        return max((n for n, s in enumerate(scales) if s.ratio <= view.ratio + 0.01), default=first)
    if not view.coarsest:
        return first
    wanted = [n for n, s in enumerate(scales) if s.ratio <= view.coarsest + 0.01] or [0]
    return min(first, wanted[-1])


def continued(sheet: Sheet) -> Sheet:
    """Return a page with the title of a second page of its kind."""
    return replace(sheet, title=f"{sheet.title}{CONTINUED}")
