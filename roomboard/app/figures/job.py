"""The figures and choices of the whole job, and the lists of prices and of figures of practice."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from roomboard.app.document import Document
from roomboard.app.figures.figure import Figure, Kind, Put
from roomboard.app.figures.job_reading import (
    date_read,
    mass_read,
    percent_read,
    small_read,
    whole_read,
    year_read,
)
from roomboard.app.reading import Meaning
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.jobs import (
    name_job,
    put_choices,
    set_building_year,
    set_currency,
    set_issue,
    set_measured,
    set_override,
    set_practice,
    set_units,
)
from roomboard.core.project import (
    ButtsAt,
    Choices,
    Deliveries,
    FastenerKind,
    HeightsAre,
    Method,
    Project,
    Units,
)
from roomboard.core.read_lift import EXAMPLE as LIFT
from roomboard.core.units import write_length, write_mass
from roomboard.storage.catalogue import load_practice, practice_ids
from roomboard.storage.project_file import read, write

SAME = 1.0
"""Sheet sizes nearer than this (mm) are the same."""
Change = Callable[[Project, object], Project]
Reads = Callable[[str, Put], Meaning]


@dataclass(frozen=True)
class Making:
    """Makes figures that set themselves through an edit of the project.

    Attributes:
        document: The document.
    """

    document: Document

    @property
    def project(self) -> Project:
        """The project as it is shown."""
        return self.document.shown

    def put(self, label: str, change: Change) -> Put:
        """Return what sets a figure, as one step that can be undone.

        Args:
            label: What is set, for the undo list.
            change: Gives the project with the value; raises :class:`EditError` to refuse.
        """
        words = tr("This job: {label}", label=label)
        return lambda value: self.document.attempt(words, lambda p: _sound(change(p, value)))

    def choice(
        self,
        label: str,
        value: object,
        options: Sequence[tuple[object, str]],
        change: Change,
        tip: str = "",
    ) -> Figure:
        """Return a choice among options."""
        return Figure(
            label=label,
            kind=Kind.CHOICE,
            value=value,
            put=self.put(label, change),
            options=tuple(options),
            tip=tip,
        )

    def typed(
        self,
        label: str,
        text: str,
        change: Change,
        *,
        reads: Reads | None = None,
        tip: str = "",
        empty: str = "",
    ) -> Figure:
        """Return a figure that is typed.

        Args:
            label: What it is called.
            text: As it is written now.
            change: Gives the project with another value.
            reads: Reads what is typed; None for text as it is.
            tip: One sentence.
            empty: What an empty field means; empty where it must be filled.
        """
        put = self.put(label, change)
        return Figure(
            label=label,
            kind=Kind.TEXT,
            value=text,
            put=put,
            tip=tip,
            empty=empty,
            units=self.project.units,
            reads=(lambda typed: reads(typed, put)) if reads is not None else None,
        )


def _sound(project: Project) -> Project:
    """Return a project if it can be saved and opened again, or refuse it.

    Raises:
        EditError: If a file of it would have a fault; the sentence is the fault's.
    """
    faults = read(write(project)).faults
    if faults:
        text = faults[0].text
        raise EditError(f"{text[0].upper()}{text[1:]}.")
    return project


def _chosen(change: Callable[[Choices, object], Choices]) -> Change:
    return lambda p, value: put_choices(p, change(p.choices, value))


def _words(kind: type[StrEnum], words: Sequence[str]) -> list[tuple[object, str]]:
    return list(zip(kind, words, strict=True))


# --- the job ------------------------------------------------------------------------------


def job_figures(document: Document) -> tuple[Figure, ...]:
    """Return what the job is called, how it is measured, and by whom."""
    make, project = Making(document), document.shown
    packs = [(pack, load_practice(pack).title) for pack in practice_ids()]
    unknown = tr("not stated")
    return (
        make.typed(
            tr("Name"),
            project.name,
            lambda p, v: name_job(p, str(v)),
            tip=tr("The title printed on every page."),
        ),
        make.choice(
            tr("Units"),
            project.units,
            _words(Units, (tr("millimetres"), tr("feet and inches"))),
            lambda p, v: set_units(p, Units(str(v))),
            tip=tr("How lengths are read and shown, everywhere and at once."),
        ),
        make.choice(
            tr("Practice"),
            project.practice,
            packs,
            lambda p, v: set_practice(p, str(v)),
            tip=tr("Whose figures of practice and whose stock the job goes by."),
        ),
        make.typed(
            tr("Building year"),
            str(project.building_year or ""),
            lambda p, v: set_building_year(p, int(str(v))),
            reads=year_read,
            empty=tr("not known"),
            tip=tr("Year the building was built; it decides about the caution for asbestos."),
        ),
        make.typed(
            tr("Measured by"),
            project.measured_by,
            lambda p, v: set_measured(p, by=str(v)),
            empty=unknown,
        ),
        make.typed(
            tr("Measured on"),
            project.measured_on,
            lambda p, v: set_measured(p, on=str(v)),
            reads=date_read,
            empty=unknown,
            tip=tr("Year-month-day, e.g. 2025-03-31, or today."),
        ),
        make.typed(
            tr("Issue letter"),
            project.issue,
            lambda p, v: set_issue(p, str(v)),
            tip=tr("Goes up with every issue of the printed set."),
        ),
    )


def _of_practice(make: Making, label: str, key: str, tip: str) -> Figure:
    """Return a length that the practice states and the job may change."""
    stated = make.document.practice.figure(key)
    own = dict(make.project.overrides).get(key)
    units = make.project.units
    usual = make.document.practice.mm(key)

    def change(project: Project, value: object) -> Project:
        return set_override(project, stated, _number_or_none(value))

    return make.typed(
        label,
        write_length(own, units) if isinstance(own, float) else "",
        change,
        reads=lambda text, put: small_read(text, put, units),
        empty=tr("as the practice has it: {value}", value=write_length(usual, units, suffix=True)),
        tip=tip,
    )


def method_figures(document: Document) -> tuple[Figure, ...]:
    """Return how the boards are held and where they may be joined."""
    make, choices = Making(document), document.shown.choices
    units = document.shown.units
    return (
        make.choice(
            tr("Boards are held by"),
            choices.method,
            _words(Method, (tr("adhesive and fasteners"), tr("fasteners only"))),
            _chosen(lambda c, v: replace(c, method=Method(str(v)))),
        ),
        make.choice(
            tr("Fasteners"),
            choices.fastener,
            _words(FastenerKind, (tr("screws"), tr("nails"))),
            _chosen(lambda c, v: replace(c, fastener=FastenerKind(str(v)))),
        ),
        make.choice(
            tr("Butt joints fall"),
            choices.butts,
            _words(
                ButtsAt,
                (
                    tr("as the practice has it"),
                    tr("on framing"),
                    tr("between framing"),
                    tr("on framing or between"),
                ),
            ),
            _chosen(lambda c, v: replace(c, butts=ButtsAt(str(v)))),
        ),
        make.typed(
            tr("Gap over the floor"),
            "" if choices.floor_gap is None else write_length(choices.floor_gap, units),
            _chosen(lambda c, v: replace(c, floor_gap=_number_or_none(v))),
            reads=lambda text, put: small_read(text, put, units),
            empty=tr("as the practice has it"),
            tip=tr("Between the lowest boards of the walls and the floor."),
        ),
        _of_practice(
            make,
            tr("Least length of a piece"),
            "piece.min",
            tr(
                "No butt is set out that leaves a shorter piece; offcuts from this length are kept."
            ),
        ),
        _of_practice(
            make,
            tr("Least width of a course"),
            "strip.min",
            tr("No course is set out narrower than this where there is a choice."),
        ),
        make.choice(
            tr("Heights are measured to"),
            choices.heights_are,
            _words(HeightsAre, (tr("bare framing"), tr("finished faces"))),
            _chosen(lambda c, v: replace(c, heights_are=HeightsAre(str(v)))),
        ),
    )


def supply_figures(document: Document) -> tuple[Figure, ...]:
    """Return which boards are used, in which sizes, and what is ordered to spare."""
    make, choices, catalogue = Making(document), document.shown.choices, document.catalogue
    units = document.shown.units

    def boards(default: str) -> list[tuple[object, str]]:
        usual = catalogue.board(default)
        first = tr("as usual: {board}", board=usual.name if usual else default)
        return [("", first), *((b.id, b.name) for b in catalogue.boards)]

    stock = [s for b in catalogue.boards for s in b.sheets]
    lengths = tuple(sorted({s.length for s in stock}))
    widths = tuple(sorted({s.width for s in stock}))
    return (
        make.choice(
            tr("Ceilings"),
            choices.ceiling_board,
            boards(catalogue.default_ceiling),
            _chosen(lambda c, v: replace(c, ceiling_board=str(v))),
            tip=tr("The board of every ceiling that has none of its own."),
        ),
        make.choice(
            tr("Walls"),
            choices.wall_board,
            boards(catalogue.default_wall),
            _chosen(lambda c, v: replace(c, wall_board=str(v))),
            tip=tr("The board of every wall that has none of its own."),
        ),
        _sizes(
            make,
            tr("Sheet lengths"),
            choices.sheet_lengths,
            lengths,
            _chosen(lambda c, v: replace(c, sheet_lengths=_in_stock(v, lengths, units))),
        ),
        _sizes(
            make,
            tr("Sheet widths"),
            choices.sheet_widths,
            widths,
            _chosen(lambda c, v: replace(c, sheet_widths=_in_stock(v, widths, units))),
        ),
        make.typed(
            tr("Spare of loose goods"),
            f"{choices.spare_ratio * 100:g} %",
            _chosen(lambda c, v: replace(c, spare_ratio=float(str(v)))),
            reads=percent_read,
            tip=tr("Added to fasteners, adhesive, tape and compound; shown in the order."),
        ),
        make.typed(
            tr("Spare sheets"),
            f"{choices.spare_sheets}",
            _chosen(lambda c, v: replace(c, spare_sheets=int(str(v)))),
            reads=whole_read,
            tip=tr("Whole sheets added to each board."),
        ),
        make.choice(
            tr("Board is delivered"),
            choices.deliveries,
            _words(Deliveries, (tr("all at once"), tr("floor by floor"))),
            _chosen(lambda c, v: replace(c, deliveries=Deliveries(str(v)))),
            tip=tr("The order lists each delivery with its masses and lifts."),
        ),
        make.typed(
            tr("Lift limit"),
            write_mass(choices.lift_limit_kg, units) if choices.lift_limit_kg else "",
            _chosen(lambda c, v: replace(c, lift_limit_kg=float(str(v)))),
            reads=lambda text, put: mass_read(text, put, units),
            empty=tr("as the practice has it"),
            tip=tr(
                "Sheets heavier than this are pointed out. Type a mass, or how the lift goes: "
                "{lift}.",
                lift=LIFT[units.value],
            ),
        ),
    )


def _sizes(
    make: Making, label: str, chosen: Sequence[float], stock: Sequence[float], change: Change
) -> Figure:
    units = make.project.units
    words = ", ".join(write_length(s, units) for s in stock)
    return Figure(
        label=label,
        kind=Kind.LENGTHS,
        value=tuple(chosen),
        put=make.put(label, change),
        units=units,
        empty=tr("all in stock"),
        tip=tr("What the supplier has of: {sizes}. Part them by commas.", sizes=words),
    )


def _in_stock(value: object, stock: Sequence[float], units: Units) -> tuple[float, ...]:
    """Return sizes as the stock has them.

    Raises:
        EditError: If there is none of a size.
    """
    found: set[float] = set()
    for size in value if isinstance(value, tuple) else ():
        near = next((s for s in stock if abs(s - size) < SAME), None)
        if near is None:
            raise EditError(
                tr(
                    "No board of this practice is sold in {size}; there are {sizes}.",
                    size=write_length(size, units),
                    sizes=", ".join(write_length(s, units) for s in stock),
                )
            )
        found.add(near)
    return tuple(sorted(found))


def _number_or_none(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) else None


def currency_figures(document: Document) -> tuple[Figure, ...]:
    """Return the currency of the prices."""
    make = Making(document)
    return (
        make.typed(
            tr("Currency"),
            document.shown.currency,
            lambda p, v: set_currency(p, str(v)),
            empty=tr("none"),
            tip=tr("Its three letters, e.g. EUR."),
        ),
    )
