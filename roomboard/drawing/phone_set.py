"""The set for a telephone: small pages read one at a time, each surface on a page of its own."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from roomboard.core.cutting import CutSheet
from roomboard.core.findings import Severity
from roomboard.core.project import Units
from roomboard.core.revision_done import states
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.surface import SeenFrom
from roomboard.core.units import on_tape, write_mass
from roomboard.drawing.ceiling_plan import TAG, ceiling_plan
from roomboard.drawing.checklist import checklist_table
from roomboard.drawing.cut_list import (
    CUTS_ONE_BY_ONE,
    CUTS_READ,
    cuts_table,
    edge_letters,
    sheets_by_piece,
)
from roomboard.drawing.cutting_diagram import CutPiece, called, cut_pieces, cutting_diagram
from roomboard.drawing.displaylist import (
    Box,
    DisplayList,
    bounds,
    placed,
)
from roomboard.drawing.elevation import elevation
from roomboard.drawing.finding_tables import (
    caution_lines,
    findings_table,
    kinds_of,
    of_weight,
    standing_cautions,
)
from roomboard.drawing.flow import Block, Column, Heading, NewPage, Paragraph, Picture, Table, flow
from roomboard.drawing.lettering import SMALLEST, line_pitch, wrapped
from roomboard.drawing.lining import FIXING, SHEETING, Show
from roomboard.drawing.order import GROUPS, bought_in
from roomboard.drawing.paper import Page, Paper
from roomboard.drawing.placing import View
from roomboard.drawing.raked import TRUE_FACE, climbs, slope_words
from roomboard.drawing.set_choice import USUAL_KINDS, PageKind
from roomboard.drawing.set_revision import letter_now
from roomboard.drawing.set_revision_clouds import CLOUD
from roomboard.drawing.set_revision_views import OverView
from roomboard.drawing.set_views import Views
from roomboard.drawing.sketch import Sketch
from roomboard.drawing.small_page import SmallPage
from roomboard.drawing.timber_tables import timber_table

FINEST, COARSEST = 20.0, 2000.0
"""Nothing is drawn larger or smaller than this; a telephone shows no scale, so any will do."""
STEP = 1.04
"""A drawing that does not fit is tried again smaller by at least this."""
WORTH_TURNING = 1.3
"""A page lies where what is drawn on it grows by at least this: turning it takes a hand."""
CUTTING = "Cutting the sheets"
"""Title of the pages with stock sheets."""


Part = tuple[SmallPage, tuple[Block, ...]]
"""What stands on some pages, and how they are set."""


def phone_set(
    scheme: Scheme,
    paper: Paper,
    margin: float,
    dated: str,
    *,
    rooms: Sequence[RoomScheme] | None = None,
    fixings: bool = False,
    kinds: Sequence[PageKind] = (),
) -> tuple[Page, ...]:
    """Return the set as small pages.

    What blocks the work, warnings and cautions first, then the timber to add, then each surface
    with its pieces, then each piece that is no rectangle, how each stock sheet is cut, the order
    and the checklist.

    Args:
        scheme: The whole answer.
        paper: The small page.
        margin: Blank round it, mm.
        dated: Date of issue, as it is to be printed.
        rooms: The rooms whose surfaces are drawn; None for all. All else is of the whole job.
        fixings: Whether to add a page with every fastener and daub of each surface.
        kinds: The kinds of pages wanted; empty for all of these. What blocks the work and the
            cautions come first whatever is wanted.
    """
    maker = _Maker(scheme, paper, margin, dated)
    chosen = scheme.rooms if rooms is None else tuple(rooms)
    wanted = set(kinds or USUAL_KINDS)
    if fixings:
        wanted.add(PageKind.FIXINGS)
    parts = [maker.summary()]
    if PageKind.CARPENTER in wanted:
        parts += maker.timber()
    for room in chosen:
        parts.extend(maker.surfaces(room, wanted))
    if PageKind.PIECES in wanted:
        for room in chosen:
            parts.extend(maker.piece_sheets(room))
    if PageKind.CUTTING in wanted:
        parts += maker.cutting()
    if PageKind.ORDER in wanted:
        parts.append(maker.order())
    if PageKind.CHECKLIST in wanted:
        parts.append(maker.checklist())
    pages = [
        (small, marks) for small, blocks in parts if blocks for marks in flow(blocks, small.area)
    ]
    return tuple(
        small.page(marks, number, len(pages)) for number, (small, marks) in enumerate(pages, 1)
    )


@dataclass(frozen=True)
class _Maker:
    scheme: Scheme
    paper: Paper
    margin: float
    dated: str

    @property
    def units(self) -> Units:
        return self.scheme.project.units

    @cached_property
    def revision(self) -> OverView:
        """Lays clouds and the signs of finished pieces over drawings."""
        return OverView(self.scheme, with_clouds=True)

    @cached_property
    def letter(self) -> str:
        """The letter of what is worked out."""
        return letter_now(self.scheme)

    def small(self, title: str, room: str = "", *, lying: bool = False) -> SmallPage:
        """Return how a page is set."""
        sides = (self.paper.width, self.paper.height)
        width, height = reversed(sides) if lying else sides
        project = self.scheme.project
        return SmallPage(
            width=width,
            height=height,
            margin=self.margin,
            project=project.name,
            issue=f"Issue {self.letter}, {self.dated}.",
            title=title,
            room=room,
        )

    # --- what stands on the pages -----------------------------------------------------------

    def summary(self) -> Part:
        scheme = self.scheme
        blocks: list[Block] = []
        for severity, head in (
            (Severity.BLOCK, "Do not cut before this is mended"),
            (Severity.WARNING, "Warnings"),
        ):
            found = of_weight(scheme, severity)
            if found:
                blocks += [Paragraph(text=f"{head}: {kinds_of(found)}.", bold=True)]
        standing = standing_cautions(scheme)
        lines = caution_lines(standing, scheme.project)
        blocks.append(Heading(text="Cautions"))
        blocks += [Paragraph(text=line) for line in lines]
        for severity, head in (
            (Severity.BLOCK, "What blocks the work"),
            (Severity.WARNING, "Warnings"),
            (Severity.CAUTION, "Cautions of this job"),
        ):
            found = tuple(f for f in of_weight(scheme, severity) if f not in standing)
            if found:
                blocks += [Heading(text=head), findings_table(found, scheme)]
        return self.small("Read this first"), tuple(blocks)

    def timber(self) -> Iterator[Part]:
        table = timber_table(self.scheme)
        if table.rows:
            columns = tuple(table.columns[n] for n in (0, 1, 2, 5))
            rows = tuple(
                row if len(row) == 1 else tuple(row[n] for n in (0, 1, 2, 5)) for row in table.rows
            )
            words = Paragraph(text="Timber to fix before the boards go up.")
            yield self.small("Timber to add"), (words, Table(columns=columns, rows=rows))

    def surfaces(self, room: RoomScheme, wanted: set[PageKind]) -> Iterator[Part]:
        for s in room.surfaces:
            name = s.surface.name
            over = s.surface.seen_from is SeenFrom.BACK
            plain = (PageKind.CEILINGS if over else PageKind.WALLS) in wanted
            tag = TAG if s.surface.seen_from is SeenFrom.BACK else "Seen from inside."
            if climbs(s.surface):
                tag = f"{slope_words(s.surface, self.units)} {TRUE_FACE}"
            caption = f"{tag} Not to scale."
            if plain:
                drawn = self.surface_drawing(s, room, SHEETING)
                small, picture = self.larger(drawn, caption, name, room.room.name)
                yield small, (picture, *self.pieces(s))
            if PageKind.FIXINGS in wanted and s.fixings.fasteners:
                drawn = self.surface_drawing(s, room, FIXING)
                title = f"{name}: fixing"
                small, picture = self.larger(drawn, caption, title, room.room.name)
                yield small, (picture,)

    def surface_drawing(
        self, s: SurfaceScheme, room: RoomScheme, show: Show
    ) -> Callable[[float], DisplayList]:
        draw = ceiling_plan if s.surface.seen_from is SeenFrom.BACK else elevation

        def drawn(scale: float) -> DisplayList:
            # What finds no room stands in the table under the drawing, not at the end of a line.
            sketch = Sketch(scale, call_outs=False)
            marks = draw(s, room.room, self.units, scale, show, sketch=sketch)
            return self.revision.marks_over(s.surface.ref, marks, scale)

        return drawn

    def pieces(self, s: SurfaceScheme) -> Iterator[Block]:
        where, done = sheets_by_piece(self.scheme), states(self.scheme)
        rows: list[tuple[str, ...]] = []
        for piece in sorted(s.set_out.pieces, key=lambda p: (p.hang, p.id)):
            sheet, placement = where.get(piece.id, (None, None))
            size = f"{self.length(piece.length)} × {self.length(piece.width)}"
            edges = " ".join(edge_letters(piece, placement))
            mass = write_mass(piece.mass_kg, self.units)
            cells = (piece.mark, size, edges, sheet.id if sheet else "none", mass)
            rows.append((*cells, done.get(piece.id, "")))
        if rows:
            # On so narrow a page the last column stands only where something is in it.
            if not any(row[-1] for row in rows):
                rows = [row[:-1] for row in rows]
            columns = (
                Column(title="Mark", unbroken=True),
                Column(title="Size", unbroken=True),
                Column(title="Edges"),
                Column(title="Sheet"),
                Column(title="Mass", right=True),
                Column(title="Done", layer=CLOUD),
            )
            yield Table(columns=columns[: len(rows[0])], rows=tuple(rows))

    def piece_sheets(self, room: RoomScheme) -> Iterator[Part]:
        """Return each piece that is no rectangle, face up, a page for each in hanging order."""
        views = Views(self.scheme)
        odd = [(p, s) for s in room.surfaces for p in s.set_out.pieces if not p.is_plain]
        wide = self.small("Piece").inner
        for piece, s in sorted(odd, key=lambda pair: (pair[0].hang, pair[0].id)):
            view = views.piece(piece, s, room)
            title, *notes = view.caption

            def drawn(scale: float, view: View = view, widest: float = wide) -> DisplayList:
                return self.revision.marks_about(view.about, view.draw(scale, widest), scale)

            size = title.rpartition(", ")[2]
            caption = f"{size}. {' '.join(notes)} Not to scale."
            yield self.as_large(drawn, caption, f"Piece {piece.mark}, face up", room.room.name)

    def checklist(self) -> Part:
        """Return what to look at before the first sheet goes up."""
        table, sources = checklist_table(self.scheme.practice, self.units)
        rows = tuple(row if len(row) == 1 else row[:2] for row in table.rows)
        named = "; ".join(f"[{n}] {source}" for n, source in enumerate(sources, 1))
        blocks = (
            Paragraph(text="An entry without a number is common practice, no source."),
            Table(columns=table.columns[:2], rows=rows),
            Paragraph(text=f"Sources: {named}."),
        )
        return self.small("Hang-day checklist"), blocks

    def cutting(self) -> Iterator[Part]:
        pieces = cut_pieces(self.scheme)
        sheets = self.scheme.cut_plan.every
        blocks: list[Block] = [self.sheet_picture(sheet, pieces) for sheet in sheets]
        table = cuts_table(self.scheme, abreast=1)
        if table.rows:
            blocks += [NewPage(), Heading(text=CUTS_ONE_BY_ONE), Paragraph(text=CUTS_READ), table]
        yield self.small(CUTTING), tuple(blocks)

    def sheet_picture(self, sheet: CutSheet, pieces: Mapping[str, CutPiece]) -> Picture:
        board = self.scheme.catalogue.board(sheet.board)
        size = f"{self.length(sheet.length)} × {self.length(sheet.width)}"
        caption = f"{called(sheet)}: {board.name if board else sheet.board}, {size}"

        def drawn(scale: float) -> DisplayList:
            sketch = Sketch(scale, call_outs=False)
            cut = cutting_diagram(sheet, pieces, self.units, scale, sketch=sketch)
            return self.revision.marks_about(f"sheet:{sheet.id}", cut, scale)

        return _fitted(drawn, caption, self.small(CUTTING).area)[1]

    def order(self) -> Part:
        rows: list[tuple[str, ...]] = []
        places = {group: number for number, group in enumerate(GROUPS)}
        group = ""
        for q in sorted(
            self.scheme.quantities, key=lambda q: (places.get(q.group, len(places)), q.group)
        ):
            if q.group != group:
                group = q.group
                rows.append((GROUPS.get(group, group),))
            unit, size = bought_in(q.unit, self.units)
            amount = f"{round(q.total / size, 1):g} {unit}"
            rows.append((q.name, f"{q.packs} packs" if q.pack else "", amount))
        columns = (
            Column(title="Item"),
            Column(title="Packs", unbroken=True),
            Column(title="Order", right=True, unbroken=True),
        )
        blocks = (Table(columns=columns, rows=tuple(rows)),) if rows else ()
        return self.small("Order"), blocks

    def length(self, mm: float) -> str:
        return on_tape(mm, self.units)

    def as_large(
        self, draw: Callable[[float], DisplayList], caption: str, title: str, room: str
    ) -> Part:
        """Return a page of its own for a drawing."""
        small, picture = self.larger(draw, caption, title, room)
        return small, (picture,)

    def larger(
        self, draw: Callable[[float], DisplayList], caption: str, title: str, room: str
    ) -> tuple[SmallPage, Picture]:
        """Draw something on an upright page, or on a lying one where that makes it larger."""
        upright, lying = self.small(title, room), self.small(title, room, lying=True)
        scale, picture = _fitted(draw, caption, upright.area)
        finer, other = _fitted(draw, caption, lying.area)
        return (lying, other) if finer * WORTH_TURNING < scale else (upright, picture)


def _fitted(draw: Callable[[float], DisplayList], caption: str, area: Box) -> tuple[float, Picture]:
    """Draw something as large as it fits an area; return its scale as well."""
    wide = area[2] - area[0]
    lines = len(wrapped(caption, wide)) if caption else 0
    high = area[3] - area[1] - (lines + 2) * line_pitch(SMALLEST)
    scale = FINEST
    while True:
        marks = draw(scale)
        x0, y0, x1, y1 = (v / scale for v in bounds(marks, scale))
        over = max((x1 - x0) / wide, (y1 - y0) / high)
        if over <= 1.0 or scale > COARSEST:
            break
        # Lettering keeps its size, so what is drawn shrinks by more than is over.
        scale *= max(STEP, math.sqrt(over))
    picture = Picture(
        marks=placed(marks, scale, -x0, -y0), width=x1 - x0, height=y1 - y0, caption=caption
    )
    return scale, picture
