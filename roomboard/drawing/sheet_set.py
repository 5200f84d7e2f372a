"""The printed set: pages with frame, title block, scale and everything a crew works from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, partial
from typing import Protocol

from roomboard.core.cutting import CutSheet
from roomboard.core.findings import Severity
from roomboard.core.project import Room, Units
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.sheeting import Piece
from roomboard.core.surface import SeenFrom
from roomboard.core.units import write_length, write_mass
from roomboard.drawing import _drafting
from roomboard.drawing.ceiling_plan import TAG, ceiling_plan
from roomboard.drawing.cutting_diagram import cutting_diagram, piece_drawing
from roomboard.drawing.displaylist import (
    Box,
    DisplayList,
    Dots,
    Fill,
    Mark,
    Stroke,
    Text,
    bounds,
    overlap,
    placed,
    text_box,
)
from roomboard.drawing.elevation import elevation, neighbours_in_words
from roomboard.drawing.floor_plan import floor_plan
from roomboard.drawing.flow import (
    Block,
    Heading,
    Paragraph,
    flow,
)
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.lettering import (
    MARK,
    SMALLEST,
    TITLE,
    below,
    cap_height,
    line_pitch,
    text_width,
    wrapped,
)
from roomboard.drawing.lining import FIXING, FRAMING, SHEETING, Show
from roomboard.drawing.order import (
    GROUPS,
    linear_table,
    quantities_table,
    shared_formulas,
    trims_table,
)
from roomboard.drawing.paper import Page, Paper, Scale, paper_named
from roomboard.drawing.schedule import (
    SHEETS_AND_WASTE,
    assumptions_tables,
    board_name,
    bounds_reasons,
    bounds_table,
    caution_lines,
    caution_sources,
    comparisons_table,
    cut_list,
    cuts_table,
    edge_letters,
    findings_table,
    job_in_words,
    kinds_of,
    of_weight,
    offcuts_table,
    rooms_table,
    sheets_by_piece,
    small_pieces_table,
    standing_cautions,
    timber_table,
    without_reasons,
)

DISCLAIMER = (
    "Layout aid. Check on site before cutting. Local code, standard and the board maker's "
    "system govern."
)
"""Stands on every page."""
CREATOR = "roomboard"
TIMBER = "Trimmers and noggings"
"""Title of a page with the timber to add."""
CUT_LIST = "Cut list"
"""Title and kind of a page with a cut list."""
INSET = 3.0
"""Space between the frame and what stands in it, mm."""
FOOT_INSET = 1.5
"""Space between the frame and the line at its foot, mm: little, so that it is one line."""
SPACE = 4.0
"""Space between drawings beside each other, mm."""
UNDER = 3.5
"""Space between drawings under each other, mm."""
LIFT = 0.5
"""Space over and under the lines of a field of the title block, mm."""
LEGEND_SAMPLE = 10.0
"""Length of a line in the legend, mm."""
AROUND = 20.0
"""About what the dimensions round a drawing take, mm."""
CAPTION = 50.0
"""A caption may be at least this wide, mm."""
STANDARD_RATIO = 50.0
"""Drawings are made at least this large where they fit a page so, even if that takes more pages."""
FINEST_RATIO = 20.0
"""Nothing is drawn larger than this: it would say no more."""
BAR = 28.0
"""The scale bar is no longer than this, mm."""
BESIDE = 60.0
"""The legend stands beside the title block where at least this much room is left, mm."""
ROOM_FOR_TABLE = 60.0
"""A table begins under drawings where at least this much of their page is left, mm."""
FEW, LOOK_AHEAD = 3, 30
"""So many drawings that do not fit a page are passed over for others that do, where that saves
a page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One page before it has its number.

    Attributes:
        title: Its title.
        room: Name of its room, or empty.
        board: Boards drawn on it, or empty.
        finish: Level of finish, or empty.
        document: What kind of document it is.
        scale: Its scale, or None for tables.
        marks: What stands on it, mm of the page.
        unexplained: Layers its legend leaves out.
    """

    title: str
    room: str = ""
    board: str = ""
    finish: str = ""
    document: str = "Schedule"
    scale: Scale | None = None
    marks: DisplayList = ()
    unexplained: frozenset[str] = frozenset()


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
    """

    draw: Callable[[float, float], DisplayList]
    width: float
    height: float
    caption: tuple[str, ...]
    part: str = ""
    room: RoomScheme | None = None
    surface: SurfaceScheme | None = None
    board: str = ""


About = Callable[[Sequence[View]], Sheet]
"""What the title block of a page with some views says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """A field of the title block: its width, what stands before it and how wide that is."""

    width: float
    words: str
    caption: float
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fitted:
    """A view drawn at a scale, its caption under it or beside it."""

    view: View
    scale: Scale
    marks: DisplayList
    box: Box
    caption: tuple[tuple[str, bool], ...]
    beside: bool = False

    @property
    def drawn_width(self) -> float:
        return (self.box[2] - self.box[0]) / self.scale.ratio

    @property
    def drawn_height(self) -> float:
        return (self.box[3] - self.box[1]) / self.scale.ratio

    @property
    def width(self) -> float:
        lines = max((text_width(c, SMALLEST, bold=bold) for c, bold in self.caption), default=0.0)
        if self.beside:
            return self.drawn_width + SPACE + lines
        return max(self.drawn_width, lines)

    @property
    def height(self) -> float:
        lines = 1.0 + line_pitch(SMALLEST) * len(self.caption)
        return max(self.drawn_height, lines) if self.beside else self.drawn_height + lines


@dataclass
class _Drawings:
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

    def takes(self, fitted: _Fitted, *, whatever: bool = False) -> bool:
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

    def place(self, fitted: _Fitted, x: float, y: float) -> None:
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


# --- the whole set ----------------------------------------------------------------------


def sheet_set(
    scheme: Scheme, paper: Paper | str, dated: str, *, fixings: bool = False
) -> tuple[Page, ...]:
    """Return the pages of the printed set.

    Summary with warnings and cautions first, then the carpenter's sheets, then room by room
    the ceiling, the walls in order, the bulkheads, the pieces and the cut list, then the cutting
    diagrams, then the order.

    Args:
        scheme: The whole answer.
        paper: Its size, or the name of one.
        dated: Date of issue, as it is to be printed.
        fixings: Whether to add drawings of every fastener and daub.

    Raises:
        ValueError: If there is no paper of that name.
    """
    size = paper_named(paper) if isinstance(paper, str) else paper
    maker = _Maker(scheme, size, dated)
    sheets = [*maker.summary(), *maker.carpenter()]
    for room in scheme.rooms:
        sheets.extend(maker.room(room, fixings=fixings))
    sheets.extend(maker.cutting())
    sheets.extend(maker.order())
    sheets.extend(maker.assumptions())
    return tuple(maker.page(sheet, number, len(sheets)) for number, sheet in enumerate(sheets, 1))


@dataclass(frozen=True)
class _Maker:
    """Makes the pages of one set."""

    scheme: Scheme
    paper: Paper
    dated: str

    @property
    def units(self) -> Units:
        return self.scheme.project.units

    # --- sections -------------------------------------------------------------------------

    def summary(self) -> Iterator[Sheet]:
        scheme, project = self.scheme, self.scheme.project
        blocks = of_weight(scheme, Severity.BLOCK)
        warnings = of_weight(scheme, Severity.WARNING)
        standing = standing_cautions(scheme)
        others = tuple(f for f in of_weight(scheme, Severity.CAUTION) if f not in standing)
        parts: list[Block] = []
        if blocks:
            parts += [
                Paragraph(
                    text="Do not cut by this set before what blocks the work is mended.", bold=True
                ),
                findings_table(blocks, scheme),
            ]
        for name, found in (("Warnings", warnings), ("Cautions of this job", others)):
            if found:
                parts.append(Paragraph(text=f"{name}: {kinds_of(found)}.", bold=True))
        job = Paragraph(text=job_in_words(scheme))
        if blocks:  # what stands in full below may come to stand on the next page
            parts.append(job)
            named = "; ".join(dict.fromkeys(f.title for f in standing))
            parts.append(Paragraph(text=f"Cautions of every job: {named}.", bold=True))
        parts.append(Paragraph(text="Cautions of every job", bold=True, tight=True))
        parts += [Paragraph(text=line, tight=True) for line in caution_lines(standing, project)]
        parts += [Heading(text="Rooms"), *(() if blocks else (job,)), rooms_table(scheme)]
        parts += [Heading(text=SHEETS_AND_WASTE), bounds_table(scheme)]
        parts += [Paragraph(text=line, tight=True) for line in bounds_reasons(scheme)]
        comparisons = comparisons_table(scheme)
        if comparisons.rows:
            parts += [Heading(text="Ways the sheets could run"), comparisons]
        for name, found in (("Warnings", warnings), ("Cautions of this job", others)):
            if found:
                parts += [Heading(text=name), findings_table(found, scheme)]
        yield from self.flowed(parts, Sheet(title="Summary", document="Summary"))

    def assumptions(self) -> Iterator[Sheet]:
        practice = self.scheme.practice
        # Figures that need a look are listed one by one below, with their values.
        notes = [
            without_reasons(f, self.scheme)
            for f in of_weight(self.scheme, Severity.NOTE)
            if f.code < "RB900"
        ]
        parts: list[Block] = []
        if notes:
            parts += [Heading(text="Notes"), findings_table(notes, self.scheme)]
        parts += [
            Heading(text="Practice and assumptions"),
            Paragraph(
                text=f"Worked out by the practice pack {practice.title}, edition "
                f"{practice.edition}. Listed are the figures changed by the user, those from "
                "memory and those of common practice; all others come from the documents named "
                "in the pack."
            ),
            Paragraph(
                text=f"Sources of the cautions. {caution_sources(standing_cautions(self.scheme))}."
            ),
        ]
        for standing, table in assumptions_tables(self.scheme):
            parts += [Paragraph(text=f"{standing}:", bold=True, tight=True), table]
        yield from self.flowed(parts, Sheet(title="Notes and assumptions", document="Assumptions"))

    def carpenter(self) -> Iterator[Sheet]:
        timber = timber_table(self.scheme)
        if not timber.rows:
            return
        views: list[View] = []
        for room in self.scheme.rooms:
            over = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.BACK]
            if any(s.trimmers for s in over):
                views.append(self.plan_view(room))
            views += [
                self.view(s, room, FRAMING, "", named=True)
                for s in room.surfaces
                if s.trimmers and s.surface.seen_from is SeenFrom.FACE
            ]

        def drawing(shown: Sequence[View]) -> Sheet:
            rooms = {v.room.room.name: None for v in shown if v.room is not None}
            return Sheet(
                title="Framing and trimmers",
                room=next(iter(rooms)) if len(rooms) == 1 else "",
                document="Carpenter's drawing",
            )

        yield from self.drawn(
            views,
            drawing,
            ahead=LOOK_AHEAD,
            then=[
                Heading(text=TIMBER),
                Paragraph(
                    text="Timber to fix before the boards go up. Length and face in the units of "
                    "the set; tags as on the drawings."
                ),
                timber,
            ],
            listing=Sheet(title=TIMBER, document="Carpenter's sheet"),
        )

    def room(self, room: RoomScheme, *, fixings: bool) -> Iterator[Sheet]:
        over = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.BACK]
        faces = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.FACE]
        walls = [s for s in faces if _is_whole_wall(s)]
        boxed = [s for s in faces if not _is_whole_wall(s)]
        groups = [("Ceiling", over), ("Walls", walls), ("Bulkheads and reveals", boxed)]
        pieces = [p for s in room.surfaces for p in s.set_out.pieces]
        odd = [p for p in sorted(pieces, key=lambda p: (p.hang, p.id)) if not p.is_plain]
        views = [self.view(s, room, SHEETING, part) for part, group in groups for s in group]
        fixed = [self.view(s, room, FIXING, part) for part, group in groups for s in group]
        listed: list[Block] = []
        if pieces:
            listed = [
                Heading(text=CUT_LIST),
                Paragraph(
                    text="In hanging order. Edges as the piece lies face up: R recessed, C cut; "
                    "ends are square. Lift: by how many people. Cut-outs are measured from the "
                    "lower left corner, face up."
                ),
                cut_list(self.scheme, room),
            ]
        if fixings:
            yield from self.drawn(fixed, partial(self.drawing_of, room, ": fixing"))
        yield from self.drawn(
            [*views, *(self.piece_view(p) for p in odd)],
            partial(self.drawing_of, room, ""),
            ahead=LOOK_AHEAD,
            then=listed,
            listing=self.about(room, room.surfaces, CUT_LIST, CUT_LIST),
        )

    def drawing_of(self, room: RoomScheme, tail: str, shown: Sequence[View]) -> Sheet:
        """Return what the title block of a page with surfaces of a room says."""
        parts = ", ".join(dict.fromkeys(v.part for v in shown))
        surfaces = [v.surface for v in shown if v.surface is not None] or room.surfaces
        title = parts[:1] + parts[1:].lower() + tail
        return self.about(room, surfaces, title, "Drawing")

    def cutting(self) -> Iterator[Sheet]:
        views = []
        names = {
            p.id: p.mark for r in self.scheme.rooms for s in r.surfaces for p in s.set_out.pieces
        }
        for sheet in self.scheme.cut_plan.sheets:
            size = (
                f"{write_length(sheet.length, self.units)} × "
                f"{write_length(sheet.width, self.units)}"
            )
            board = self.scheme.catalogue.board(sheet.board)
            letter = board.letter if board else sheet.board
            caption = f"{sheet.id}: {letter} {size}, {write_mass(sheet.mass_kg, self.units)}"
            views.append(
                View(
                    draw=_cutting(sheet, names, self.units),
                    width=sheet.length,
                    height=sheet.width,
                    caption=(caption,),
                    board=sheet.board,
                )
            )

        def diagram(shown: Sequence[View]) -> Sheet:
            boards = dict.fromkeys(v.board for v in shown)
            return Sheet(
                title="Cutting diagrams",
                board=", ".join(board_name(self.scheme, b) for b in boards),
                document="Cutting diagram",
                unexplained=frozenset({"outline"}),  # here it is that of the stock sheet
            )

        parts: list[Block] = []
        for title, table in (
            ("Cuts of sheets with many", cuts_table(self.scheme)),
            ("Back-blocks cut from whole sheets", small_pieces_table(self.scheme)),
        ):
            if table.rows:
                parts += [Heading(text=title), table]
        yield from self.drawn(
            views,
            diagram,
            ahead=LOOK_AHEAD,
            then=parts,
            listing=Sheet(title="Cuts and back-blocks", document="Cut list"),
        )

    def order(self) -> Iterator[Sheet]:
        scheme = self.scheme
        parts: list[Block] = []
        for group in sorted(
            {q.group for q in scheme.quantities},
            key=lambda g: (list(GROUPS).index(g) if g in GROUPS else len(GROUPS), g),
        ):
            lines = [q for q in scheme.quantities if q.group == group]
            parts.append(Heading(text=GROUPS.get(group, group)))
            parts += [Paragraph(text=f"{f}.", tight=True) for f in shared_formulas(lines)]
            parts.append(quantities_table(lines, self.units))
        for title, table in (
            ("How lengths are cut", linear_table(scheme)),
            ("Trims by room", trims_table(scheme)),
            ("Offcuts to keep", offcuts_table(scheme)),
        ):
            if table.rows:
                parts += [Heading(text=title), table]
        if parts:
            head = Paragraph(
                text="Spares are the user's choice. Where nothing is said of spares and packs, the "
                "exact number is ordered singly. Nothing is said about prices or availability."
            )
            about = Sheet(title="Order and quantities", document="Order")
            yield from self.flowed([head, *parts], about)

    # --- views ----------------------------------------------------------------------------

    def view(
        self, s: SurfaceScheme, room: RoomScheme, show: Show, part: str, *, named: bool = False
    ) -> View:
        surface = s.surface
        u0, v0, u1, v1 = surface.outline.bounds
        if surface.seen_from is SeenFrom.BACK:
            caption: tuple[str, ...] = (f"{surface.name} of {room.room.name}", TAG)
            draw = _bound(ceiling_plan, s, room.room, self.units, show)
        else:
            beside = neighbours_in_words(surface, room.room) if _is_whole_wall(s) else ""
            tail = f" from inside ({beside})" if beside else ""
            head = f"{room.room.name}: " if named else ""
            caption = (f"{head}{surface.name}{tail}",)
            draw = _bound(elevation, s, room.room, self.units, show)
            v0 = min(v0, 0.0) if surface.place == "wall" else v0
        return View(
            draw=draw,
            width=u1 - u0,
            height=v1 - v0,
            caption=caption,
            part=part,
            room=room,
            surface=s,
        )

    def plan_view(self, room: RoomScheme) -> View:
        xs = [p[0] for p in room.room.outline]
        ys = [p[1] for p in room.room.outline]

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return floor_plan(room, self.units, scale, widest=widest)

        return View(
            draw=draw,
            width=max(xs) - min(xs),
            height=max(ys) - min(ys),
            caption=(f"Ceiling framing of {room.room.name}, in plan",),
            room=room,
        )

    def piece_view(self, piece: Piece) -> View:
        _, placement = sheets_by_piece(self.scheme).get(piece.id, (None, None))
        edges = edge_letters(piece, placement)

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return piece_drawing(piece, edges, self.units, scale, widest=widest)

        size = f"{write_length(piece.length, self.units)} × {write_length(piece.width, self.units)}"
        return View(
            draw=draw,
            width=piece.length,
            height=piece.width,
            caption=(f"{piece.mark}, face up, {size}",),
            part="Pieces",
        )

    def about(
        self, room: RoomScheme, surfaces: Sequence[SurfaceScheme], title: str, document: str
    ) -> Sheet:
        boards = sorted({s.surface.board for s in surfaces})
        levels = sorted({s.surface.finish_level for s in surfaces})
        return Sheet(
            title=title,
            room=room.room.name,
            board=", ".join(board_name(self.scheme, b) for b in boards),
            finish=", ".join(f"Level {n}" for n in levels),
            document=document,
        )

    # --- setting pages --------------------------------------------------------------------

    def flowed(self, blocks: Sequence[Block], about: Sheet) -> Iterator[Sheet]:
        """Set blocks on as many pages as they take."""
        for number, marks in enumerate(flow(blocks, self.area(_continued(about)))):
            yield replace(_continued(about) if number else about, marks=marks)

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
        ways = [
            self.with_tables(pages, about, then, listing)
            for pages in self.ways_of(views, about, ahead)
        ]
        sheets = min(ways, key=len)
        seen: set[str] = set()
        for sheet in sheets:
            again = sheet.title in seen
            seen.add(sheet.title)
            yield _continued(sheet) if again else sheet

    def with_tables(
        self,
        pages: Sequence[_Drawings],
        about: About,
        then: Sequence[Block],
        listing: Sheet | None,
    ) -> list[Sheet]:
        """Return pages of drawings and tables after them, under the last drawings if that helps."""
        sheets = [
            replace(about(page.views), scale=page.scale, marks=tuple(page.marks)) for page in pages
        ]
        if not then or listing is None:
            return sheets
        # The title of a page says what the first heading would.
        alone = then[1:] if then[0] == Heading(text=listing.title) else then
        rest = [replace(listing, marks=m) for m in flow(alone, self.area(_continued(listing)))]
        if pages:
            last = sheets[-1]
            both = replace(last, title=f"{last.title}, {listing.title.lower()}")
            legend = len(_legend_layers(last.marks, last.unexplained))
            x0, y0, x1, y1 = self.area(_continued(both), legend)
            top = pages[-1].low - UNDER
            if top - y0 >= ROOM_FOR_TABLE:
                first, *more = flow(then, (x0, y0, x1, y1), top)
                if first and len(more) < len(rest):
                    sheets[-1] = replace(both, marks=(*last.marks, *first))
                    rest = [replace(listing, marks=marks) for marks in more]
        return [*sheets, *rest]

    def ways_of(self, views: Sequence[View], about: About, ahead: int) -> Iterator[list[_Drawings]]:
        """Return the ways views can stand on pages.

        Strictly in order comes first, at the largest scale that takes no more pages than the
        standard one; then with labels over drawings rather than beside them, and with drawings
        passed over for later ones that fill a page. None is smaller than at the standard scale,
        save for drawings that do not fit a page so.
        """
        scales = tuple(s for s in self.paper.scales if s.ratio >= FINEST_RATIO - 0.01)
        if not views:
            yield []
            return
        usual = [n for n, s in enumerate(scales) if s.ratio <= STANDARD_RATIO + 0.01] or [0]
        bare = sum(v.width * v.height for v in views)
        for further, compact in dict.fromkeys(((0, False), (min(FEW, ahead), True), (ahead, True))):
            best: list[_Drawings] = []
            for number in reversed(usual):
                pages = self.way(views, about, scales[number:], further, compact=compact)
                if best and len(pages) > len(best):
                    break
                best = pages
                area = pages[0].area
                finer = scales[max(number - 1, 0)].ratio
                if bare / finer**2 > len(pages) * (area[2] - area[0]) * (area[3] - area[1]):
                    break  # the drawings alone would not fit as many pages
            yield best

    def way(
        self,
        views: Sequence[View],
        about: About,
        scales: Sequence[Scale],
        ahead: int,
        *,
        compact: bool,
    ) -> list[_Drawings]:
        """Place views on pages at the first of several scales, smaller only where they must be."""
        # The title block of a page with one view may be taller than that of one with all: it
        # names a room.
        blocks = dict.fromkeys([about(views), *(about([v]) for v in views)])
        scaled = max(
            (_continued(replace(b, scale=self.paper.scales[-1])) for b in blocks),
            key=self.title_top,
        )
        lines = 0
        # The legend takes room of its own; what it holds is known once all is drawn.
        while True:
            area = self.area(scaled, lines)
            fitted = [_fit(v, area, scales, compact=compact) for v in views]
            pages = _packed(fitted, area, ahead)
            used = max(len(_legend_layers(p.marks, scaled.unexplained)) for p in pages)
            if used <= lines:
                return pages
            lines = used

    def area(self, about: Sheet, legend: int = 0) -> Box:
        """Return where the content of a page stands, with so many lines of legend at its foot."""
        x0, _, x1, y1 = self.paper.frame
        foot = self.title_top(about)
        if about.scale is not None:
            foot = max(foot, self.legend_top(about, legend))
        head = cap_height(TITLE) + below(TITLE) + INSET / 2
        return (x0 + INSET, foot + INSET / 2, x1 - INSET, y1 - INSET - head)

    @property
    def disclaimer(self) -> tuple[str, ...]:
        """The disclaimer in lines as wide as the frame."""
        x0, _, x1, _ = self.paper.frame
        return wrapped(DISCLAIMER, x1 - x0 - 2 * FOOT_INSET)

    @property
    def block_width(self) -> float:
        """The width of the title block: that of the frame where little else would stand beside."""
        x0, _, x1, _ = self.paper.frame
        wide = _drafting.TITLE_BLOCK_WIDTH
        return wide if x1 - x0 - wide >= BESIDE else x1 - x0

    @property
    def block_foot(self) -> float:
        return self.paper.frame[1] + line_pitch(SMALLEST) * len(self.disclaimer) + 1.5

    def title_rows(self, about: Sheet, number: str) -> list[list[_Field]]:
        """Return the rows of the title block."""
        project = self.scheme.project
        measured = ", ".join(w for w in (project.measured_by, project.measured_on) if w)
        values = {
            "owner": project.name,
            "title": f"{about.room}: {about.title}" if about.room else about.title,
            "room": about.room,
            "board": about.board,
            "finish": about.finish,
            "document": about.document,
            "creator": CREATOR,
            "measured": measured,
            "approved": "",
            "scale": about.scale.words if about.scale else "no scale",
            "units": "mm" if self.units is Units.METRIC else "ft, in",
            "date": self.dated,
            "revision": project.issue,
            "identification": project.id,
            "sheet": number,
        }
        rows: dict[int, list[_Field]] = {}
        for key, words, row, share in _drafting.TITLE_BLOCK:
            width = share * self.block_width
            caption = text_width(words, SMALLEST) + 2.2
            lines = wrapped(values[key], width - caption - 1.0, bold=True)
            rows.setdefault(row, []).append(
                _Field(width=width, words=words, caption=caption, lines=lines)
            )
        # Rows that would say nothing are left out: a table belongs to no room.
        return [rows[row] for row in sorted(rows) if any(any(f.lines) for f in rows[row])]

    def title_top(self, about: Sheet) -> float:
        rows = self.title_rows(about, "000 of 000")
        return self.block_foot + sum(_field_height(row) for row in rows)

    def page(self, sheet: Sheet, number: int, count: int) -> Page:
        """Return a page with its frame, title block, legend and number."""
        x0, y0, x1, y1 = self.paper.frame
        marks: list[Mark] = [
            Stroke(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), layer="frame", closed=True)
        ]
        title = f"{sheet.room}: {sheet.title}" if sheet.room else sheet.title
        # A long title is written smaller; one of more than one line stands in full in the title
        # block.
        wide = x1 - x0 - 3 * INSET
        height = next((h for h in _TITLES if text_width(title, h, bold=True) <= wide), MARK)
        lines = wrapped(title, wide, height, bold=True)
        heading = lines[0] if len(lines) == 1 else f"{lines[0]}…"
        at = (x0 + INSET, y1 - INSET - cap_height(TITLE))
        marks.append(Text(at=at, text=heading, paper_height=height, bold=True))
        marks.extend(sheet.marks)
        marks.extend(self.title_block(sheet, f"{number} of {count}"))
        if sheet.scale is not None:
            marks.extend(self.legend(sheet))
        foot = y0 + 1.5 + below(SMALLEST) * 0.5
        for line in reversed(self.disclaimer):
            at = (x0 + FOOT_INSET, foot)
            marks.append(Text(at=at, text=line, paper_height=SMALLEST))
            foot += line_pitch(SMALLEST)
        return Page(
            number=number,
            title=sheet.title,
            room=sheet.room,
            width=self.paper.width,
            height=self.paper.height,
            frame=self.paper.frame,
            marks=tuple(marks),
            document=self.scheme.project.name,
            creator=CREATOR,
        )

    def title_block(self, sheet: Sheet, number: str) -> Iterator[Mark]:
        """Draw the title block at the lower right of the frame."""
        x1 = self.paper.frame[2]
        x0 = x1 - self.block_width
        rows = self.title_rows(sheet, number)
        y = self.title_top(sheet)
        yield Stroke(points=((x0, y), (x1, y)), layer="piece")
        foot = self.block_foot
        yield Stroke(points=((x0, foot), (x0, y)), layer="piece")
        yield Stroke(points=((self.paper.frame[0], foot), (x1, foot)), layer="title_block")
        pitch = line_pitch(SMALLEST)
        for row in rows:
            x = x0
            height = _field_height(row)
            for part in row:
                base = y - LIFT - cap_height(SMALLEST)
                yield Text(at=(x + 1.0, base), text=part.words, paper_height=SMALLEST)
                for line in part.lines:
                    if line:
                        at = (x + part.caption, base)
                        yield Text(at=at, text=line, paper_height=SMALLEST, bold=True)
                    base -= pitch
                x += part.width
                if x < x1 - 0.1:
                    yield Stroke(points=((x, y - height), (x, y)), layer="title_block")
            y -= height
            if y > foot + 0.1:
                yield Stroke(points=((x0, y), (x1, y)), layer="title_block")

    # --- legend and scale bar -------------------------------------------------------------

    def legend_left(self) -> float:
        """Return how wide the legend may be: left of the title block, or over it."""
        x0, _, x1, _ = self.paper.frame
        beside = x1 - x0 - self.block_width
        return (beside if beside > 0.01 else x1 - x0) - 2 * INSET

    def legend_columns(self, count: int) -> tuple[int, int]:
        """Return how many columns and rows a scale bar and so many lines of legend take."""
        columns = max(1, int(self.legend_left() / _LEGEND_PITCH))
        return columns, -(-(count + 1) // columns)

    def legend_foot(self, about: Sheet) -> float:
        x0, _, x1, _ = self.paper.frame
        over = self.block_width >= x1 - x0 - 0.01
        return (self.title_top(about) if over else self.block_foot) + 1.0

    def legend_top(self, about: Sheet, count: int) -> float:
        _, rows = self.legend_columns(count)
        return self.legend_foot(about) + rows * line_pitch(SMALLEST)

    def legend(self, sheet: Sheet) -> Iterator[Mark]:
        """Draw the scale bar and the lines used on a page, row by row."""
        layers = _legend_layers(sheet.marks, sheet.unexplained)
        columns, _ = self.legend_columns(len(layers))
        pitch = line_pitch(SMALLEST)
        x0 = self.paper.frame[0] + INSET
        top = self.legend_top(sheet, len(layers))
        step = max(_LEGEND_PITCH, self.legend_left() / columns)
        if sheet.scale is not None:
            yield from self.scale_bar(sheet.scale, x0, top - pitch / 2 - 0.75)
        for index, name in enumerate(layers, 1):
            row, column = divmod(index, columns)
            x = x0 + column * step
            y = top - row * pitch - pitch / 2
            yield Stroke(points=((x, y), (x + LEGEND_SAMPLE, y)), layer=name)
            if name == "joint_recessed":
                for tick in (3.0, 7.0):
                    ends = ((x + tick, y - 0.8), (x + tick, y + 0.8))
                    yield Stroke(points=ends, layer=name)
            at = (x + LEGEND_SAMPLE + 1.5, y - SMALLEST / 2)
            yield Text(at=at, text=LAYERS[name].words, paper_height=SMALLEST)

    def scale_bar(self, scale: Scale, x: float, y: float) -> Iterator[Mark]:
        """Draw a bar of a round length of the room with its length beside it."""
        metric = self.units is Units.METRIC
        unit = 1000.0 if metric else 12 * 25.4
        steps = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0) if metric else _FEET
        fits = [s for s in steps if s * unit / scale.ratio <= BAR] or [steps[0]]
        length = fits[-1]
        paper = length * unit / scale.ratio
        half = paper / 2
        for number in range(2):
            a, b = x + number * half, x + (number + 1) * half
            ring = ((a, y), (b, y), (b, y + 1.5), (a, y + 1.5))
            yield Fill(rings=(ring,), layer="lettering", tone=0.0 if number == 0 else 1.0)
            yield Stroke(points=ring, layer="title_block", closed=True)
        words = f"{length:g} m" if metric else f"{length:g} ft"
        yield Text(at=(x + paper + 1.5, y + 0.75 - SMALLEST / 2), text=words, paper_height=SMALLEST)


_NOT_IN_LEGEND = {"dimension", "lettering", "frame", "title_block", "sheet", "piece"}
_WIDEST = max(
    text_width(layer.words, SMALLEST)
    for name, layer in LAYERS.items()
    if name not in _NOT_IN_LEGEND
)
_LEGEND_PITCH = LEGEND_SAMPLE + 3.0 + _WIDEST
_TITLES = (TITLE, (TITLE + MARK) / 2, MARK)
_FEET = (0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0)


def _continued(sheet: Sheet) -> Sheet:
    """Return a page with the title of a second page of its kind."""
    return replace(sheet, title=f"{sheet.title}, continued")


def _is_whole_wall(s: SurfaceScheme) -> bool:
    """Tell whether a face is a wall (or a part of one), not a reveal or a boxed-down part."""
    kind, _, rest = s.surface.key.partition(":")
    return kind == "wall" and ":" not in rest


def _legend_layers(marks: Iterable[Mark], without: frozenset[str]) -> list[str]:
    """Return the layers of a drawing that its legend explains, in the legend's order."""
    used = {m.layer for m in marks if isinstance(m, Stroke | Fill | Dots)}
    return [name for name in LAYERS if name in used - _NOT_IN_LEGEND - without]


class _Drawer(Protocol):
    """Draws a surface: :func:`ceiling_plan` or :func:`elevation`."""

    def __call__(
        self,
        scheme: SurfaceScheme,
        room: Room,
        units: Units,
        scale: float,
        show: Show,
        *,
        widest: float,
    ) -> DisplayList: ...


def _bound(
    draw: _Drawer, scheme: SurfaceScheme, room: Room, units: Units, show: Show
) -> Callable[[float, float], DisplayList]:
    @cache
    def drawn(scale: float, widest: float) -> DisplayList:
        return draw(scheme, room, units, scale, show, widest=widest)

    return drawn


def _cutting(
    sheet: CutSheet, names: Mapping[str, str], units: Units
) -> Callable[[float, float], DisplayList]:
    @cache
    def drawn(scale: float, widest: float) -> DisplayList:
        return cutting_diagram(sheet, names, units, scale, widest=widest)

    return drawn


def _field_height(row: list[_Field]) -> float:
    """Return the height of a row of the title block."""
    count = max(len(part.lines) for part in row)
    tall = cap_height(SMALLEST) + below(SMALLEST)
    return tall + (count - 1) * line_pitch(SMALLEST) + 2 * LIFT


def _fit(view: View, area: Box, scales: Sequence[Scale], *, compact: bool) -> _Fitted:
    """Draw a view at the largest scale at which it fits an area with its lettering."""
    wide, high = area[2] - area[0], area[3] - area[1]
    fitted: _Fitted | None = None
    for scale in scales:
        last = scale is scales[-1]
        if not last and (view.width / scale.ratio > wide or view.height / scale.ratio > high):
            continue
        fitted = _at_scale(view, scale, wide, compact=compact)
        left = wide - fitted.drawn_width - SPACE
        if fitted.height > high and left >= CAPTION:
            # A caption beside a narrow drawing may be all that it takes.
            fitted = _captioned(fitted, left, beside=True)
        if fitted.width <= wide and fitted.height <= high:
            return fitted
    if fitted is None:
        raise ValueError("a drawing needs at least one scale")
    return fitted


def _at_scale(view: View, scale: Scale, wide: float, *, compact: bool) -> _Fitted:
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
    bare = _Fitted(view=view, scale=scale, marks=marks, box=box, caption=())
    return _captioned(bare, room, beside=False)


def _captioned(fitted: _Fitted, room: float, *, beside: bool) -> _Fitted:
    """Return a drawing with its caption in lines no wider than some room, mm."""
    title, *notes = fitted.view.caption
    lines = [(line, True) for line in wrapped(title, max(room, 1.0), bold=True)]
    lines += [(line, False) for note in notes for line in wrapped(note, max(room, 1.0))]
    return replace(fitted, caption=tuple(lines), beside=beside)


def _packed(views: Sequence[_Fitted], area: Box, ahead: int) -> list[_Drawings]:
    """Place views on pages, in order; a change of scale begins a page.

    Args:
        views: In order.
        area: Where they stand on every page.
        ahead: How many of those that follow are tried where one does not fit.
    """
    pages: list[_Drawings] = []
    left = list(views)
    while left:
        page = _Drawings(area, left[0].scale)
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


# --- checks of a page -------------------------------------------------------------------


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
