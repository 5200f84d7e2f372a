"""The printed set: the parts a crew, a carpenter and a supplier work from, in their order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial

from roomboard.core.findings import Severity
from roomboard.core.project import Units
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme
from roomboard.core.surface import SeenFrom
from roomboard.core.units import on_tape, write_mass
from roomboard.drawing.carpentry import (
    holes_table,
    packers_table,
    packing_table,
    surface_names,
    timber_table,
)
from roomboard.drawing.checklist import checklist_table
from roomboard.drawing.cut_list import (
    CUTS_ONE_BY_ONE,
    CUTS_READ,
    ON_SITE,
    cut_list,
    cuts_table,
    offcuts_table,
    on_site_table,
    small_pieces_table,
)
from roomboard.drawing.delivering import by_room_table, carrying_table, said_of_deliveries
from roomboard.drawing.finding_tables import (
    caution_lines,
    caution_sources,
    findings_table,
    kinds_of,
    of_weight,
    standing_cautions,
)
from roomboard.drawing.flow import Block, Column, Heading, Paragraph, Table
from roomboard.drawing.job_figures import (
    SHEETS_AND_WASTE,
    assumptions_tables,
    bounds_reasons,
    bounds_table,
    comparisons_table,
    drafting_in_words,
    job_in_words,
    rooms_table,
    without_reasons,
)
from roomboard.drawing.lining import FRAMING
from roomboard.drawing.order import (
    GROUPS,
    linear_table,
    quantities_table,
    shared_formulas,
    trims_table,
)
from roomboard.drawing.page_frame import PageFrame, Sheet
from roomboard.drawing.page_setting import CONTINUED, LOOK_AHEAD, Setter, continued
from roomboard.drawing.paper import Page, Paper
from roomboard.drawing.parts import with_sheets
from roomboard.drawing.placing import View
from roomboard.drawing.plots import plot_blocks
from roomboard.drawing.room_names import board_name, names_of_things
from roomboard.drawing.set_choice import KIND_WORDS, PageKind, SetChoice, wants_room
from roomboard.drawing.set_revision import Revision
from roomboard.drawing.set_revision_list import revision_blocks
from roomboard.drawing.set_views import CEILING, Views, surface_groups
from roomboard.drawing.tapering import start_in_words
from roomboard.drawing.trade_off import trade_blocks

TIMBER = "Trimmers and noggings"
"""Title of a page with the timber to add."""
HANGING = "Hanging list"
"""Title of a page with the pieces in hanging order."""
REGISTER = "Revision list"
"""Title of the page that lists the sheets of an issue."""

Progress = Callable[[int, int, str], None]
"""Is told how many steps are done, of how many, and what comes next."""
Step = tuple[str, PageKind, Callable[[], Iterable[Sheet]]]
"""What is being made, which part of the set it is, and how it is made."""


def sheet_set(
    scheme: Scheme,
    choice: SetChoice | Paper | str,
    dated: str,
    *,
    fixings: bool = False,
    progress: Progress | None = None,
) -> tuple[Page, ...]:
    """Return the pages of the printed set.

    In order: summary with warnings and cautions, notes and assumptions, the carpenter's sheets,
    room by room ceiling and walls from the door on, every fastener if wanted, the pieces that
    are no rectangles, cutting diagrams, the hanging list, the order, plots, the checklist and
    the register of sheets. Whatever is chosen, what blocks the work and the cautions come first.

    Args:
        scheme: The whole answer.
        choice: What is wanted, or only the paper (or its name) for the usual pages.
        dated: Date of issue, as it is to be printed.
        fixings: Whether to add drawings of every fastener and daub.
        progress: Told before each step and at the end.

    Raises:
        ValueError: If there is no paper of that name.
    """
    if not isinstance(choice, SetChoice):
        choice = SetChoice(paper=choice.name if isinstance(choice, Paper) else choice)
    if fixings:
        choice = replace(choice, fixings=True)
    sections = Sections(scheme, choice, dated)
    sheets = sections.lettered(progress)
    wanted = [True] * len(sheets)
    if choice.changed_since:
        wanted = list(sections.revision.changed(sheets))
    lists = PageFrame(scheme.project, choice.list_paper, dated)
    return tuple(
        (s.frame or lists).page(s, number, len(sheets))
        for number, s in enumerate(sheets, 1)
        if wanted[number - 1]
    )


def sheets_of(
    scheme: Scheme,
    choice: SetChoice,
    dated: str,
    *,
    progress: Progress | None = None,
) -> list[Sheet]:
    """Return the sheets of the printed set in order, each with the letter it last changed with.

    Args:
        scheme: The whole answer.
        choice: What is wanted; sheets that have not changed are among them in any case.
        dated: Date of issue, as it is to be printed.
        progress: Told before each step and at the end.

    Raises:
        EditError: If clouds are asked for since an issue that is not there.
    """
    return Sections(scheme, choice, dated).lettered(progress)


@dataclass(frozen=True)
class Sections:
    """Makes the parts of one set.

    Attributes:
        scheme: The whole answer.
        choice: What is wanted.
        dated: Date of issue.
    """

    scheme: Scheme
    choice: SetChoice
    dated: str

    @property
    def units(self) -> Units:
        """How lengths are written."""
        return self.scheme.project.units

    @cached_property
    def drawings(self) -> PageFrame:
        """Frames of pages with drawings."""
        return PageFrame(self.scheme.project, self.choice.drawing_paper, self.dated)

    @cached_property
    def lists(self) -> PageFrame:
        """Frames of pages with tables."""
        return PageFrame(self.scheme.project, self.choice.list_paper, self.dated)

    @cached_property
    def setter(self) -> Setter:
        """What sets the pages."""
        return Setter(self.drawings, self.lists, self.choice.scale, self.revision.over)

    @cached_property
    def revision(self) -> Revision:
        """What the set says of its issues."""
        part = bool(self.choice.kinds or self.choice.rooms)
        return Revision(self.scheme, self.choice, self.whole if part else None)

    def whole(self) -> list[Sheet]:
        """Return the sheets of all rooms of the kinds wanted, as they stand in the whole set."""
        wanted = {*self.choice.wanted, PageKind.SUMMARY}
        if wanted & {PageKind.CEILINGS, PageKind.WALLS}:
            wanted |= {PageKind.CEILINGS, PageKind.WALLS}  # they share sheets
        kinds = tuple(k for k in PageKind if k in wanted)
        choice = replace(self.choice, kinds=kinds, rooms=(), changed_since="")
        return Sections(self.scheme, choice, self.dated).made()

    @cached_property
    def views(self) -> Views:
        """What makes the drawings."""
        return Views(self.scheme)

    @cached_property
    def rooms(self) -> tuple[RoomScheme, ...]:
        """The rooms wanted."""
        return tuple(r for r in self.scheme.rooms if wants_room(self.choice, r.room))

    def steps(self) -> list[Step]:
        """Return what is to be made, in order; the register of sheets is made when all is."""
        wanted = set(self.choice.wanted)
        steps: list[Step] = []

        def add(kind: PageKind, make: Callable[[], Iterable[Sheet]]) -> None:
            if kind in wanted:
                steps.append((KIND_WORDS[kind], kind, make))

        if PageKind.SUMMARY not in wanted:
            steps.append(("Cautions", PageKind.SUMMARY, self.cautions))
        add(PageKind.SUMMARY, self.summary)
        add(PageKind.ASSUMPTIONS, self.assumptions)
        add(PageKind.CARPENTER, self.carpenter)
        if wanted & {PageKind.CEILINGS, PageKind.WALLS}:
            steps += [
                (f"{r.room.name}: drawings", PageKind.WALLS, partial(self.room, r))
                for r in self.rooms
            ]
        if PageKind.FIXINGS in wanted:
            steps += [
                (f"{r.room.name}: fixings", PageKind.FIXINGS, partial(self.fixings, r))
                for r in self.rooms
            ]
        add(PageKind.PIECES, self.pieces)
        add(PageKind.CUTTING, self.cutting)
        add(PageKind.HANGING, self.hanging)
        add(PageKind.ORDER, self.order)
        add(PageKind.PLOTS, self.plots)
        add(PageKind.CHECKLIST, self.checklist)
        return steps

    def lettered(self, progress: Progress | None = None) -> list[Sheet]:
        """Return the sheets in order, each with its letter, and the register if it is wanted.

        Args:
            progress: Told before each step and at the end.
        """
        sheets = self.revision.lettered(self.made(progress))
        if PageKind.REVISIONS in self.choice.wanted:
            sheets += self.revision.lettered(self.register(sheets))
        if progress is not None:
            steps = len(self.steps())
            progress(steps, steps, "")
        return sheets

    def made(self, progress: Progress | None = None) -> list[Sheet]:
        """Return the sheets in order, without their letters and without the register.

        Args:
            progress: Told before each step.
        """
        steps = self.steps()
        sheets: list[Sheet] = []
        for number, (words, kind, make) in enumerate(steps):
            if progress is not None:
                progress(number, len(steps), words)
            sheets.extend(replace(s, kind=s.kind or kind.value) for s in make())
        where = {key: number for number, s in enumerate(sheets, 1) for key in s.shows}
        return [replace(s, marks=with_sheets(s.marks, where)) if s.shows else s for s in sheets]

    # --- what is to be said first -----------------------------------------------------------

    def summary(self) -> Iterator[Sheet]:
        """Return the summary: what blocks, cautions, rooms, waste, warnings."""
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
        yield from self.setter.flowed(parts, Sheet(title="Summary", document="Summary"))

    def cautions(self) -> Iterator[Sheet]:
        """What blocks the work and every caution, for a set without its summary."""
        scheme = self.scheme
        blocks = of_weight(scheme, Severity.BLOCK)
        standing = standing_cautions(scheme)
        others = tuple(f for f in of_weight(scheme, Severity.CAUTION) if f not in standing)
        warnings = of_weight(scheme, Severity.WARNING)
        parts: list[Block] = []
        if blocks:
            parts += [
                Paragraph(
                    text="Do not cut by this set before what blocks the work is mended.", bold=True
                ),
                findings_table(blocks, scheme),
            ]
        parts.append(
            Paragraph(
                text="These pages are a part of the set; the summary stands in the whole one."
            )
        )
        for name, found in (("Warnings", warnings), ("Cautions of this job", others)):
            if found:
                parts.append(Paragraph(text=f"{name}: {kinds_of(found)}.", bold=True))
        parts.append(Paragraph(text="Cautions of every job", bold=True, tight=True))
        lines = caution_lines(standing, scheme.project)
        parts += [Paragraph(text=line, tight=True) for line in lines]
        yield from self.setter.flowed(parts, Sheet(title="Cautions", document="Cautions"))

    def assumptions(self) -> Iterator[Sheet]:
        """Return notes and the figures that the user changed or no document backs."""
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
            Paragraph(
                text=f"Drawings follow, as far as is known: {drafting_in_words()}. Standards that "
                "were not read are to be checked before anyone relies on them."
            ),
        ]
        for standing, table in assumptions_tables(self.scheme):
            parts += [Paragraph(text=f"{standing}:", bold=True, tight=True), table]
        yield from self.setter.flowed(
            parts, Sheet(title="Notes and assumptions", document="Assumptions")
        )

    # --- the carpenter ----------------------------------------------------------------------

    def carpenter(self) -> Iterator[Sheet]:
        """Return the carpenter's drawings and lists, for the rooms wanted."""
        timber = timber_table(self.rooms, self.units)
        holes = holes_table(self.rooms, self.units)
        packers = packers_table(self.rooms, self.units)
        packed = packing_table(self.rooms, self.units)
        views: list[View] = []
        for room in self.rooms:
            over = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.BACK]
            if any(s.trimmers or s.surface.openings or s.packing for s in over):
                views.append(self.views.plan(room))
            views += [
                replace(self.views.surface(s, room, "", FRAMING, named=True), about="timber")
                for s in room.surfaces
                if s.trimmers and s.surface.seen_from is SeenFrom.FACE
            ]

        def drawing(shown: Sequence[View]) -> Sheet:
            rooms = {v.room.room.name: None for v in shown if v.room is not None}
            return Sheet(
                title="Framing",
                room=next(iter(rooms)) if len(rooms) == 1 else "",
                document="Carpenter's drawing",
            )

        then: list[Block] = []
        if timber.rows:
            then += [
                Heading(text=TIMBER),
                Paragraph(
                    text="Timber to fix before the boards go up; tags as on the drawings. Measured "
                    "to the middle of the timber, from the framing of the walls; what lies against "
                    "a wall or a hole is measured here alone."
                ),
                timber,
            ]
        if holes.rows:
            then += [Heading(text="Hatches and holes in ceilings"), holes]
        if packed.rows:
            then += [
                Heading(text="Packers on members, down to one plane"),
                Paragraph(
                    text="Packed as read; check with a straightedge before the boards go up."
                ),
                packed,
            ]
        if packers.rows:
            then += [Heading(text="Packers under the bottom sheets"), packers]
        title = TIMBER if timber.rows else "Holes and packers"
        yield from self.setter.drawn(
            views,
            drawing,
            ahead=LOOK_AHEAD,
            then=then,
            listing=Sheet(title=title, document="Carpenter's sheet"),
        )

    # --- room by room -----------------------------------------------------------------------

    def room(self, room: RoomScheme) -> Iterator[Sheet]:
        """Return the ceiling and the walls of a room, as far as they are wanted."""
        wanted = set(self.choice.wanted)
        views = [
            self.views.surface(s, room, part)
            for part, group in surface_groups(room)
            if (PageKind.CEILINGS if part == CEILING else PageKind.WALLS) in wanted
            for s in group
        ]
        yield from self.setter.drawn(views, partial(self.drawing_of, room, ""), ahead=LOOK_AHEAD)

    def fixings(self, room: RoomScheme) -> Iterator[Sheet]:
        """Return the drawings of everything that holds a room's boards."""
        views = [
            self.views.fixing(s, room, part) for part, group in surface_groups(room) for s in group
        ]
        about = partial(self.drawing_of, room, ": fixing")
        yield from self.setter.drawn(views, about, ahead=LOOK_AHEAD)

    def drawing_of(self, room: RoomScheme, tail: str, shown: Sequence[View]) -> Sheet:
        """Return what the title block of a page with surfaces of a room says."""
        parts = ", ".join(dict.fromkeys(v.part for v in shown))
        surfaces = [v.surface for v in shown if v.surface is not None] or room.surfaces
        kind = PageKind.CEILINGS if any(v.part == CEILING for v in shown) else PageKind.WALLS
        boards = sorted({s.surface.board for s in surfaces})
        levels = sorted({s.surface.finish_level for s in surfaces})
        return Sheet(
            title=parts[:1] + parts[1:].lower() + tail,
            room=room.room.name,
            board=", ".join(board_name(self.scheme, b) for b in boards),
            finish=", ".join(f"Level {n}" for n in levels),
            document="Drawing",
            kind="" if tail else kind.value,
        )

    # --- pieces and sheets ------------------------------------------------------------------

    def pieces(self) -> Iterator[Sheet]:
        """Return the sheets of all pieces that are no plain rectangles."""
        views = [
            self.views.piece(p, s, room)
            for room in self.rooms
            for p, s in sorted(
                ((p, s) for s in room.surfaces for p in s.set_out.pieces if not p.is_plain),
                key=lambda pair: (pair[0].hang, pair[0].id),
            )
        ]

        def about(shown: Sequence[View]) -> Sheet:
            rooms = dict.fromkeys(v.room.room.name for v in shown if v.room is not None)
            boards = dict.fromkeys(v.surface.surface.board for v in shown if v.surface is not None)
            return Sheet(
                title="Piece sheets",
                room=next(iter(rooms)) if len(rooms) == 1 else "",
                board=", ".join(board_name(self.scheme, b) for b in boards),
                document="Piece sheet",
                unexplained=frozenset({"start"}),  # here it is the axes of round cut-outs
            )

        yield from self.setter.drawn(views, about, ahead=LOOK_AHEAD)

    def cutting(self) -> Iterator[Sheet]:
        """Return how each stock sheet is cut."""
        ids = {p.id for r in self.rooms for s in r.surfaces for p in s.set_out.pieces}
        whole = len(self.rooms) == len(self.scheme.rooms)
        views = [
            self.views.cutting(sheet)
            for sheet in self.scheme.cut_plan.every
            if whole or any(p.piece in ids for p in sheet.placements)
        ]

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
            (CUTS_ONE_BY_ONE, cuts_table(self.scheme)),
            ("Back-blocks cut from whole sheets", small_pieces_table(self.scheme)),
            ("Offcuts to keep, and back-blocks from others", offcuts_table(self.scheme)),
        ):
            if table.rows:
                parts.append(Heading(text=title))
                if title == CUTS_ONE_BY_ONE:
                    parts.append(Paragraph(text=CUTS_READ, tight=True))
                parts.append(table)
        yield from self.setter.drawn(
            views,
            diagram,
            ahead=LOOK_AHEAD,
            then=parts,
            listing=Sheet(title="Cuts, back-blocks and offcuts", document="Cut list"),
        )

    def hanging(self) -> Iterator[Sheet]:
        """Return the pieces room by room in hanging order."""
        parts: list[Block] = []
        for room in self.rooms:
            table = cut_list(self.scheme, room)
            if table.rows:
                parts += [Heading(text=room.room.name), *self.starting(room), table]
        if not parts:
            return
        head = Paragraph(
            text="In hanging order. Edges as the piece lies face up: R recessed, C cut; ends are "
            "square. Two lengths: at the low and the high edge; two widths: at the left and the "
            "right end. Lift: by how many people. Done: cut or hung. Cut-outs are measured "
            "from the lower left corner, face up."
        )
        about = Sheet(title=HANGING, document="Cut list")
        yield from self.setter.flowed([head, *parts], about)

    def starting(self, room: RoomScheme) -> list[Block]:
        """Return where the start lines of a room's ceiling are snapped."""
        names = surface_names(room)
        words = [
            line
            for s in room.surfaces
            if not s.surface.lettered and s.surface.seen_from is SeenFrom.BACK
            for line in start_in_words(s, names, self.scheme.project.units)
        ]
        return [Paragraph(text=" ".join(words), tight=True)] if words else []

    # --- the whole job ----------------------------------------------------------------------

    def order(self) -> Iterator[Sheet]:
        """Return the order: board by floor, then everything by kind."""
        scheme = self.scheme
        parts: list[Block] = []
        carried = carrying_table(scheme)
        if carried.rows:
            parts += [
                Heading(text="Board to deliver and carry, floor by floor"),
                Paragraph(text=said_of_deliveries(scheme), tight=True),
                carried,
                Heading(text="By floor and room"),
                Paragraph(
                    text="Bought: each room's share of the sheets that it is cut from, by area.",
                    tight=True,
                ),
                by_room_table(scheme),
            ]
        for group in sorted(
            {q.group for q in scheme.quantities},
            key=lambda g: (list(GROUPS).index(g) if g in GROUPS else len(GROUPS), g),
        ):
            lines = [q for q in scheme.quantities if q.group == group]
            parts.append(Heading(text=GROUPS.get(group, group)))
            parts += [Paragraph(text=f"{f}.", tight=True) for f in shared_formulas(lines)]
            parts.append(quantities_table(lines, self.units, names_of_things(scheme)))
        for title, table in (
            (ON_SITE, on_site_table(scheme)),
            ("How lengths are cut", linear_table(scheme)),
            ("Trims by room", trims_table(scheme)),
        ):
            if table.rows:
                parts += [Heading(text=title), table]
        if parts:
            head = Paragraph(
                text="Spares are the user's choice. Where nothing is said of spares and packs, the "
                "exact number is ordered singly. The order is that of the whole job. Nothing is "
                "said about prices or availability."
            )
            about = Sheet(title="Order and quantities", document="Order")
            yield from self.setter.flowed([head, *parts], about)

    def plots(self) -> Iterator[Sheet]:
        """Return the plots of the job."""
        about = Sheet(title="Plots", document="Plots")
        x0, y0, x1, y1 = self.lists.area(continued(about))
        blocks = plot_blocks(self.scheme, x1 - x0, y1 - y0)
        if blocks:
            yield from self.setter.flowed(blocks, about)
        about = Sheet(title="Least board and fewest joints", document="Plots")
        traded = trade_blocks(self.scheme, x1 - x0)
        if traded:
            yield from self.setter.flowed(traded, about)

    def checklist(self) -> Iterator[Sheet]:
        """Return what to look at before the first sheet goes up."""
        scheme = self.scheme
        parts: list[Block] = [
            Paragraph(
                text="Tick in ink before the first sheet goes up, and write beside it what was "
                "found. An entry without a number is common practice, no source."
            )
        ]
        sheets = scheme.cut_plan.sheets
        if sheets:
            longest = max(sheets, key=lambda s: (s.length, s.mass_kg))
            heaviest = max(sheets, key=lambda s: (s.mass_kg, s.length))
            limit = scheme.project.choices.lift_limit_kg
            people = people_to_lift(heaviest.mass_kg, scheme.practice, limit)
            lift = f"{people} people" if people > 1 else "1 person"
            parts.append(
                Paragraph(
                    text=f"Longest sheet of this set: {longest.id}, "
                    f"{on_tape(longest.length, self.units, suffix=True)}. Heaviest: "
                    f"{heaviest.id}, {write_mass(heaviest.mass_kg, self.units)}, lifted by "
                    f"{lift}."
                )
            )
        table, sources = checklist_table(scheme.practice, self.units)
        named = "; ".join(f"[{n}] {source}" for n, source in enumerate(sources, 1))
        parts += [table, Paragraph(text=f"Sources: {named}.")]
        about = Sheet(title="Hang-day checklist", document="Checklist")
        yield from self.setter.flowed(parts, about)

    def register(self, sheets: Sequence[Sheet]) -> list[Sheet]:
        """Return the pages that say which issue this is, what has changed, and list its sheets.

        Args:
            sheets: All other pages, in order, with their letters.
        """
        about = Sheet(title=REGISTER, document="Revision list", kind=PageKind.REVISIONS.value)
        parts = revision_blocks(self.revision, sheets, self.dated)
        listed = register_table(sheets, self.lists, self.revision.numbers_then(sheets))
        parts += [Heading(text="Sheets of the set"), listed]
        return list(self.setter.flowed(parts, about))


def register_table(sheets: Sequence[Sheet], lists: PageFrame, then: Sequence[int] = ()) -> Table:
    """Return the register of the sheets of an issue; those of one title stand together.

    Args:
        sheets: The pages, in order.
        lists: What stands round pages that have no frame of their own.
        then: The number each sheet had when it was issued, 0 for none; a sheet that has not
            changed may have another number now.
    """
    lettered = any(s.letter for s in sheets)
    runs: list[tuple[int, int, tuple[str, ...]]] = []
    for number, s in enumerate(sheets, 1):
        title = s.title.removesuffix(CONTINUED)
        was = then[number - 1] if number <= len(then) else 0
        about: tuple[str, ...] = (
            f"{s.room}: {title}" if s.room else title,
            s.scale.words if s.scale else "",
            (s.frame or lists).paper.name,
        )
        if lettered:
            moved = f", was sheet {was}" if was and was != number else ""
            about = (*about, f"{s.letter}{moved}")
        if runs and runs[-1][2] == about:
            runs[-1] = (runs[-1][0], number, about)
        else:
            runs.append((number, number, about))
    columns = (
        Column(title="Sheets", unbroken=True),
        Column(title="Title"),
        Column(title="Scale"),
        Column(title="Paper"),
        *((Column(title="Rev."),) if lettered else ()),
    )
    return Table(
        columns=columns,
        rows=tuple(
            (f"{first} to {last}" if last > first else str(first), *about)
            for first, last, about in runs
        ),
    )
