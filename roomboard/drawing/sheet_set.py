"""The printed set: pages with frame, title block, scale and everything a crew works from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial

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
    SMALLEST,
    TITLE,
    below,
    cap_height,
    line_pitch,
    text_width,
    wrapped,
)
from roomboard.drawing.lining import FIXING, FRAMING, SHEETING, Show
from roomboard.drawing.paper import Page, Paper, Scale, paper_named
from roomboard.drawing.schedule import (
    GROUPS,
    assumptions_table,
    board_name,
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
    linear_table,
    of_weight,
    offcuts_table,
    quantities_table,
    rooms_table,
    sheets_by_piece,
    small_pieces_table,
    standing_cautions,
    trimmers_table,
    trims_table,
)

DISCLAIMER = (
    "Layout aid. Check on site before cutting. Local code, standard and the board maker's "
    "system govern."
)
"""Stands on every page."""
CREATOR = "roomboard"
INSET = 3.0
"""Space between the frame and what stands in it, mm."""
SPACE = 6.0
"""Space between drawings on one page, mm."""
LIFT = 0.5
"""Space over and under the lines of a field of the title block, mm."""
LEGEND_SAMPLE = 10.0
"""Length of a line in the legend, mm."""
AROUND = 42.0
"""About what the dimensions round a drawing take, mm."""
SIDE_BY_SIDE = 9_400.0
"""Divided by the width of a page this is the least ratio at which drawings stand side by side:
1:50 or 1:48 on the smaller papers, 1:25 or 1:24 on the larger."""
BAR = 36.0
"""The scale bar is no longer than this, mm."""


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
    """

    title: str
    room: str = ""
    board: str = ""
    finish: str = ""
    document: str = "Schedule"
    scale: Scale | None = None
    marks: DisplayList = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A drawing that wants a place on a page.

    It may be asked for at several scales, and more than once for each: ``draw`` remembers.

    Attributes:
        draw: Makes it for a scale (mm of the room to one mm of paper).
        width: Its bare width, mm of the room.
        height: Its bare height.
        caption: What stands under it.
    """

    draw: Callable[[float], DisplayList]
    width: float
    height: float
    caption: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """A field of the title block: its width, what stands before it and how wide that is."""

    width: float
    words: str
    caption: float
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fitted:
    scale: Scale
    marks: DisplayList
    box: Box
    caption: tuple[str, ...]

    @property
    def width(self) -> float:
        own = (self.box[2] - self.box[0]) / self.scale.ratio
        return max([own, *(text_width(c, SMALLEST, bold=True) for c in self.caption)])

    @property
    def height(self) -> float:
        own = (self.box[3] - self.box[1]) / self.scale.ratio
        return own + 1.0 + line_pitch(SMALLEST) * len(self.caption)


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
                findings_table(blocks, project),
            ]
        parts.append(Paragraph(text=job_in_words(scheme)))
        for name, found in (("Warnings", warnings), ("Cautions of this job", others)):
            if found:
                parts.append(Paragraph(text=f"{name}: {kinds_of(found)}.", bold=True))
        named = "; ".join(dict.fromkeys(f.title for f in standing))
        parts.append(Paragraph(text=f"Cautions of every job: {named}.", bold=True))
        parts += [Paragraph(text=line, tight=True) for line in caution_lines(standing, project)]
        parts += [Heading(text="Rooms"), rooms_table(scheme)]
        parts += [Heading(text="Sheets and waste"), bounds_table(scheme)]
        comparisons = comparisons_table(scheme)
        if comparisons.rows:
            parts += [Heading(text="Ways the sheets could run"), comparisons]
        for name, found in (("Warnings", warnings), ("Cautions of this job", others)):
            if found:
                parts += [Heading(text=name), findings_table(found, project)]
        yield from self.flowed(parts, Sheet(title="Summary", document="Summary"))

    def assumptions(self) -> Iterator[Sheet]:
        practice = self.scheme.practice
        notes = of_weight(self.scheme, Severity.NOTE)
        parts: list[Block] = []
        if notes:
            parts += [Heading(text="Notes"), findings_table(notes, self.scheme.project)]
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
            assumptions_table(self.scheme),
        ]
        yield from self.flowed(parts, Sheet(title="Notes and assumptions", document="Assumptions"))

    def carpenter(self) -> Iterator[Sheet]:
        parts: list[Block] = []
        for room in self.scheme.rooms:
            table = trimmers_table(room, self.units)
            if table.rows:
                parts += [Heading(text=room.room.name), table]
        if not parts:
            return
        head = Paragraph(
            text="Timber to fix before the boards go up. Length and face in the units of the set; "
            "tags as on the drawings that follow."
        )
        about = Sheet(title="Trimmers and noggings", document="Carpenter's sheet")
        yield from self.flowed([head, *parts], about)
        for room in self.scheme.rooms:
            views = [
                self.view(s, room, FRAMING)
                for s in room.surfaces
                if s.trimmers and s.surface.seen_from is SeenFrom.FACE
            ]
            over = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.BACK]
            if any(s.trimmers for s in over):
                views.insert(0, self.plan_view(room))
            named = replace(about, title="Framing and trimmers", room=room.room.name)
            yield from self.drawn(views, replace(named, document="Carpenter's drawing"))

    def room(self, room: RoomScheme, *, fixings: bool) -> Iterator[Sheet]:
        over = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.BACK]
        faces = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.FACE]
        walls = [s for s in faces if _is_whole_wall(s)]
        boxed = [s for s in faces if not _is_whole_wall(s)]
        groups = [("Ceiling", [s]) for s in over]
        groups += [("Walls", walls), ("Bulkheads and reveals", boxed)]
        for title, surfaces in groups:
            about = self.about(room, surfaces, title, "Drawing")
            views = [self.view(s, room, SHEETING) for s in surfaces]
            yield from self.drawn(views, about, side_by_side=title != "Ceiling")
        if fixings:
            for title, surfaces in groups:
                about = self.about(room, surfaces, f"{title}: fixing", "Drawing")
                views = [self.view(s, room, FIXING) for s in surfaces]
                yield from self.drawn(views, about, side_by_side=title != "Ceiling")
        pieces = [p for s in room.surfaces for p in s.set_out.pieces]
        odd = [p for p in sorted(pieces, key=lambda p: (p.hang, p.id)) if not p.is_plain]
        about = self.about(room, room.surfaces, "Pieces, face up", "Drawing")
        yield from self.drawn([self.piece_view(p) for p in odd], about, side_by_side=True)
        if pieces:
            listed: list[Block] = [
                Paragraph(
                    text="In hanging order. Edges as the piece lies face up: R recessed, C cut; "
                    "ends are square."
                ),
                cut_list(self.scheme, room),
            ]
            yield from self.flowed(listed, self.about(room, room.surfaces, "Cut list", "Cut list"))

    def cutting(self) -> Iterator[Sheet]:
        views = []
        names = {
            p.id: p.mark for r in self.scheme.rooms for s in r.surfaces for p in s.set_out.pieces
        }
        for sheet in self.scheme.cut_plan.sheets:
            caption = (
                f"{sheet.id}: {board_name(self.scheme, sheet.board)}, "
                f"{write_length(sheet.length, self.units)} × "
                f"{write_length(sheet.width, self.units)}, "
                f"{write_mass(sheet.mass_kg, self.units)}"
            )
            views.append(
                View(
                    draw=cache(partial(cutting_diagram, sheet, names, self.units)),
                    width=sheet.length,
                    height=sheet.width,
                    caption=(caption,),
                )
            )
        about = Sheet(title="Cutting diagrams", document="Cutting diagram")
        yield from self.drawn(views, about, side_by_side=True)
        parts: list[Block] = []
        for title, table in (
            ("Cuts of sheets with many", cuts_table(self.scheme)),
            ("Back-blocks cut from whole sheets", small_pieces_table(self.scheme)),
            ("Offcuts to keep", offcuts_table(self.scheme)),
        ):
            if table.rows:
                parts += [Heading(text=title), table]
        yield from self.flowed(parts, Sheet(title="Cuts and offcuts", document="Cut list"))

    def order(self) -> Iterator[Sheet]:
        scheme, project = self.scheme, self.scheme.project
        parts: list[Block] = []
        for group in sorted(
            {q.group for q in scheme.quantities},
            key=lambda g: (list(GROUPS).index(g) if g in GROUPS else len(GROUPS), g),
        ):
            lines = [q for q in scheme.quantities if q.group == group]
            parts += [Heading(text=GROUPS.get(group, group)), quantities_table(lines, project)]
        linear = linear_table(scheme)
        if linear.rows:
            parts += [Heading(text="How lengths are cut"), linear]
        for room in scheme.rooms:
            runs = trims_table(room, self.units)
            if runs.rows:
                parts += [Heading(text=f"Trims of {room.room.name}"), runs]
        if parts:
            head = Paragraph(
                text="Spares are the user's choice. Nothing is said about prices or availability."
            )
            about = Sheet(title="Order and quantities", document="Order")
            yield from self.flowed([head, *parts], about)

    # --- views ----------------------------------------------------------------------------

    def view(self, s: SurfaceScheme, room: RoomScheme, show: Show) -> View:
        surface = s.surface
        u0, v0, u1, v1 = surface.outline.bounds
        if surface.seen_from is SeenFrom.BACK:
            caption: tuple[str, ...] = (f"{surface.name} of {room.room.name}", TAG)
            draw = _bound(ceiling_plan, s, room.room, self.units, show)
        else:
            beside = neighbours_in_words(surface, room.room) if _is_whole_wall(s) else ""
            tail = f" from inside ({beside})" if beside else ""
            caption = (f"{surface.name}{tail}",)
            draw = _bound(elevation, s, room.room, self.units, show)
            v0 = min(v0, 0.0) if surface.place == "wall" else v0
        return View(draw=draw, width=u1 - u0, height=v1 - v0, caption=caption)

    def plan_view(self, room: RoomScheme) -> View:
        xs = [p[0] for p in room.room.outline]
        ys = [p[1] for p in room.room.outline]

        @cache
        def draw(scale: float) -> DisplayList:
            return floor_plan(room, self.units, scale)

        return View(
            draw=draw,
            width=max(xs) - min(xs),
            height=max(ys) - min(ys),
            caption=(f"Ceiling framing of {room.room.name}, in plan",),
        )

    def piece_view(self, piece: Piece) -> View:
        _, placement = sheets_by_piece(self.scheme).get(piece.id, (None, None))
        edges = edge_letters(piece, placement)

        @cache
        def draw(scale: float) -> DisplayList:
            return piece_drawing(piece, edges, self.units, scale)

        size = f"{write_length(piece.length, self.units)} × {write_length(piece.width, self.units)}"
        return View(
            draw=draw,
            width=piece.length,
            height=piece.width,
            caption=(f"{piece.mark}, face up, {size}",),
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
        area = self.area(about)
        for number, marks in enumerate(flow(blocks, area)):
            title = f"{about.title}, continued" if number else about.title
            yield replace(about, title=title, marks=marks)

    def drawn(
        self, views: Sequence[View], about: Sheet, *, side_by_side: bool = False
    ) -> Iterator[Sheet]:
        """Place views on as many pages as they take, those of one scale side by side.

        Args:
            views: In order.
            about: What their title block says.
            side_by_side: Whether all are drawn at one scale at which two stand side by side if
                they can, rather than each as large as a page.
        """
        if not views:
            return
        scaled = replace(about, scale=self.paper.scales[-1])
        layers: set[str] = set()
        fitted: list[_Fitted] = []
        # The legend takes room of its own; what it holds is known once the views are drawn.
        for _ in range(2):
            area = self.area(scaled, len(layers))
            fitted = self.fitted(views, area, side_by_side=side_by_side)
            used = _legend_layers(m for f in fitted for m in f.marks)
            if len(used) <= len(layers):
                break
            layers = set(used)
        for number, (scale, marks) in enumerate(_packed(fitted, area)):
            title = f"{about.title}, continued" if number else about.title
            yield replace(about, title=title, scale=scale, marks=marks)

    def fitted(self, views: Sequence[View], area: Box, *, side_by_side: bool) -> list[_Fitted]:
        """Draw views at the scales that suit the paper."""
        scales = self.paper.scales
        if not side_by_side:
            return [_fit(v, area, scales) for v in views]
        half = ((area[2] - area[0] - SPACE) / 2, area[3] - area[1])
        # On larger paper two stand side by side at a larger scale.
        finest = SIDE_BY_SIDE / (area[2] - area[0])
        wanted = 0.0
        for view in views:
            fits = [
                s
                for s in scales
                if view.width / s.ratio + AROUND <= half[0]
                and view.height / s.ratio + AROUND <= half[1]
            ]
            own = fits[0].ratio if fits else scales[-1].ratio
            wanted = max(wanted, min(own, finest))
        coarse = tuple(s for s in scales if s.ratio >= wanted - 0.01) or scales[-1:]
        found = [_fit(v, area, coarse) for v in views]
        ratio = max(f.scale.ratio for f in found)
        alike = tuple(s for s in coarse if s.ratio >= ratio - 0.01)
        return [
            f if f.scale.ratio == ratio else _fit(v, area, alike)
            for v, f in zip(views, found, strict=True)
        ]

    def area(self, about: Sheet, legend: int = 0) -> Box:
        """Return where the content of a page stands, with so many lines of legend beside it."""
        x0, _, x1, y1 = self.paper.frame
        foot = self.title_top(about)
        if about.scale is not None:
            foot = max(foot, self.legend_top(legend))
        head = cap_height(TITLE) + below(TITLE) + INSET
        return (x0 + INSET, foot + INSET, x1 - INSET, y1 - INSET - head)

    @property
    def block_foot(self) -> float:
        return self.paper.frame[1] + line_pitch(SMALLEST) + 1.5

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
            width = share * _drafting.TITLE_BLOCK_WIDTH
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
        lines = wrapped(title, x1 - x0 - 3 * INSET, TITLE, bold=True)
        # A title of more than one line stands in full in the title block.
        heading = lines[0] if len(lines) == 1 else f"{lines[0]}…"
        at = (x0 + INSET, y1 - INSET - cap_height(TITLE))
        marks.append(Text(at=at, text=heading, paper_height=TITLE, bold=True))
        marks.extend(sheet.marks)
        marks.extend(self.title_block(sheet, f"{number} of {count}"))
        if sheet.scale is not None:
            marks.extend(self.legend(sheet))
        foot = (x0 + INSET, y0 + 1.5 + below(SMALLEST) * 0.5)
        marks.append(Text(at=foot, text=DISCLAIMER, paper_height=SMALLEST, bold=True))
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
        x0 = x1 - _drafting.TITLE_BLOCK_WIDTH
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

    def legend_columns(self, count: int) -> tuple[int, int]:
        """Return how many columns and rows a legend of so many lines takes."""
        room = self.paper.frame[2] - self.paper.frame[0] - _drafting.TITLE_BLOCK_WIDTH - INSET
        widest = _WIDEST
        columns = max(1, int(room / (LEGEND_SAMPLE + 3.0 + widest)))
        return columns, -(-count // columns)

    def legend_top(self, count: int) -> float:
        _, rows = self.legend_columns(count)
        return self.block_foot + (rows + 2) * line_pitch(SMALLEST) + 2.0

    def legend(self, sheet: Sheet) -> Iterator[Mark]:
        """Draw the scale bar and the lines used on a page, left of the title block."""
        layers = _legend_layers(sheet.marks)
        _, rows = self.legend_columns(len(layers))
        pitch = line_pitch(SMALLEST)
        x0 = self.paper.frame[0] + INSET
        top = self.block_foot + 1.0 + pitch * rows
        widest = _WIDEST
        for index, name in enumerate(layers):
            column, row = divmod(index, rows)
            x = x0 + column * (LEGEND_SAMPLE + 3.0 + widest)
            y = top - row * pitch - pitch / 2
            yield Stroke(points=((x, y), (x + LEGEND_SAMPLE, y)), layer=name)
            if name == "joint_recessed":
                for tick in (3.0, 7.0):
                    ends = ((x + tick, y - 0.8), (x + tick, y + 0.8))
                    yield Stroke(points=ends, layer=name)
            at = (x + LEGEND_SAMPLE + 1.5, y - SMALLEST / 2)
            yield Text(at=at, text=LAYERS[name].words, paper_height=SMALLEST)
        if sheet.scale is not None:
            yield from self.scale_bar(sheet.scale, x0, top + pitch)

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
_FEET = (0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0)


def _is_whole_wall(s: SurfaceScheme) -> bool:
    """Tell whether a face is a wall (or a part of one), not a reveal or a boxed-down part."""
    kind, _, rest = s.surface.key.partition(":")
    return kind == "wall" and ":" not in rest


def _legend_layers(marks: Iterable[Mark]) -> list[str]:
    """Return the layers of a drawing that its legend explains, in the legend's order."""
    used = {m.layer for m in marks if isinstance(m, Stroke | Fill | Dots)}
    return [name for name in LAYERS if name in used and name not in _NOT_IN_LEGEND]


def _bound(
    draw: Callable[[SurfaceScheme, Room, Units, float, Show], DisplayList],
    scheme: SurfaceScheme,
    room: Room,
    units: Units,
    show: Show,
) -> Callable[[float], DisplayList]:
    @cache
    def drawn(scale: float) -> DisplayList:
        return draw(scheme, room, units, scale, show)

    return drawn


def _field_height(row: list[_Field]) -> float:
    """Return the height of a row of the title block."""
    count = max(len(part.lines) for part in row)
    tall = cap_height(SMALLEST) + below(SMALLEST)
    return tall + (count - 1) * line_pitch(SMALLEST) + 2 * LIFT


def _fit(view: View, area: Box, scales: tuple[Scale, ...]) -> _Fitted:
    """Draw a view at the largest scale at which it fits an area with its lettering."""
    wide, high = area[2] - area[0], area[3] - area[1]
    fitted: _Fitted | None = None
    for scale in scales:
        last = scale is scales[-1]
        if not last and (view.width / scale.ratio > wide or view.height / scale.ratio > high):
            continue
        marks = view.draw(scale.ratio)
        box = bounds(marks, scale.ratio)
        caption = (f"{view.caption[0]}, {scale.words}", *view.caption[1:])
        fitted = _Fitted(scale=scale, marks=marks, box=box, caption=caption)
        if fitted.width <= wide and fitted.height <= high:
            return fitted
    if fitted is None:
        raise ValueError("a drawing needs at least one scale")
    return fitted


def _packed(views: Sequence[_Fitted], area: Box) -> Iterator[tuple[Scale, DisplayList]]:
    """Place views in rows from the top left, in order; a change of scale begins a page."""
    x0, y0, x1, y1 = area
    marks: list[Mark] = []
    scale: Scale | None = None
    x, y, row = x0, y1, 0.0
    for view in views:
        if marks and scale is not None:
            if x + view.width > x1:
                x, y, row = x0, y - row - SPACE, 0.0
            if view.scale != scale or y - view.height < y0:
                yield scale, tuple(marks)
                marks, x, y, row = [], x0, y1, 0.0
        scale = view.scale
        top = y - (view.box[3] - view.box[1]) / scale.ratio
        dx, dy = x - view.box[0] / scale.ratio, top - view.box[1] / scale.ratio
        marks.extend(placed(view.marks, scale.ratio, dx, dy))
        base = top - 1.0 - cap_height(SMALLEST)
        for number, line in enumerate(view.caption):
            marks.append(Text(at=(x, base), text=line, paper_height=SMALLEST, bold=number == 0))
            base -= line_pitch(SMALLEST)
        x += view.width + SPACE
        row = max(row, view.height)
    if marks and scale is not None:
        yield scale, tuple(marks)


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
