"""The long lists of a job: prices of what can be bought, and figures of practice."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.app.document import Document
from roomboard.app.figures.figure import Figure, Put
from roomboard.app.figures.job import Making
from roomboard.app.figures.job_reading import amount_read, number_read, small_read
from roomboard.app.reading import Meaning
from roomboard.app.words import tr
from roomboard.core import practice as known
from roomboard.core.editing.jobs import set_override, set_price
from roomboard.core.editing.offcuts import drop_offcut, put_offcut
from roomboard.core.editing.refusal import free_id
from roomboard.core.project import Project, SiteOffcut, Units
from roomboard.core.read_offcut import (
    EDGE_WORDS,
    EXAMPLE,
    in_a_run,
    numbers_of,
    offcut_text,
    read_offcut,
)
from roomboard.core.units import Refusal, write_length
from roomboard.storage.catalogue import known_words

STATUS = {
    known.Status.SEEN: "seen in its source",
    known.Status.SECONDARY: "from a secondary source",
    known.Status.MEMORY: "check with your local code",
    known.Status.PRACTICE: "common practice, no source",
    known.Status.USER: "changed for this job",
}
"""What is said of each status."""
WORDS = {
    "bottom": "at the foot of the wall",
    "by_height": "by the wall's height",
    "either": "whichever is better",
    "horizontal": "level",
    "vertical": "upright",
    "mid_bay": "between members",
    "on_framing": "on framing",
    "top": "at the top of the wall",
}
"""What the words that figures of practice can be are in the trade."""
_UNITS = {"percent": "%", "celsius": "°C", "deg": "°", "m2": "m²"}


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row of a list.

    Attributes:
        key: What stays the same when its words change.
        cells: What stands in its columns.
        figure: What can be set of it.
        about: Everything else there is to be said of it.
        changed: Whether it was set for this job.
    """

    key: str
    cells: tuple[str, ...]
    figure: Figure
    about: str = ""
    changed: bool = False


# --- prices -------------------------------------------------------------------------------


def price_rows(document: Document) -> tuple[Row, ...]:
    """Return the prices: first of what this job orders, then of everything else in stock."""
    project = document.shown
    prices = {p.item: p.amount for p in project.prices}
    make = Making(document)
    ordered = _ordered(document)
    stock = [(k, w) for k, w in _stock(document) if k not in dict(ordered)]
    named = dict([*ordered, *stock])
    lost = [(item, item) for item in sorted(prices) if item not in named]
    rows: list[Row] = []
    for items, words in (
        (ordered, tr("in this job's order")),
        (stock, tr("in stock")),
        (lost, tr("not in this practice's stock")),
    ):
        for item, name in items:
            amount = prices.get(item)
            text = "" if amount is None else f"{amount:.2f}"
            figure = make.typed(
                tr("Price of {name}", name=name),
                text,
                lambda p, v, item=item: set_price(p, item, _amount(v)),  # type: ignore[misc]
                reads=amount_read,
                empty=tr("no price"),
                tip=tr("For one sheet, length or pack, in the job's currency."),
            )
            shown = f"{text} {project.currency}".strip()
            rows.append(
                Row(
                    key=item,
                    cells=(name, shown, words),
                    figure=figure,
                    about=tr("Stock number {item}; a price stands for one.", item=item),
                    changed=amount is not None,
                )
            )
    return tuple(rows)


def _amount(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) else None


def _ordered(document: Document) -> list[tuple[str, str]]:
    """Return item and name of every line of the order that can have a price."""
    scheme = document.scheme
    lines = scheme.quantities if scheme is not None else ()
    found = [(line.code.partition(":")[2], line.name) for line in lines]
    return [(item, name) for item, name in dict(found).items() if item]


def _stock(document: Document) -> list[tuple[str, str]]:
    catalogue = document.catalogue
    sheets = [(s.id, f"{b.name}, {s.native}") for b in catalogue.boards for s in b.sheets]
    linear = [(item.id, tr("{name}, any length", name=item.name)) for item in catalogue.linear]
    return [*sheets, *linear, *((p.id, p.name) for p in catalogue.packs)]


# --- offcuts on site ----------------------------------------------------------------------

ANOTHER = "another"
"""Key of the row that lists one more offcut."""


def offcut_rows(document: Document) -> tuple[Row, ...]:
    """Return the offcuts on site, and a row to list another."""
    project = document.shown
    make = Making(document)
    numbers = numbers_of(project.offcuts)
    scheme = document.scheme
    used = {s.id for s in scheme.cut_plan.on_site} if scheme is not None else set()
    boards = {b.id: b.name for b in document.catalogue.boards}
    known = tr("Boards: {boards}.", boards=", ".join(f"{k} ({w})" for k, w in boards.items()))
    rows: list[Row] = []
    for offcut in project.offcuts:
        size = " × ".join(write_length(x, project.units) for x in (offcut.length, offcut.width))
        many = f"{offcut.count} × " if offcut.count > 1 else ""
        rows.append(
            Row(
                key=offcut.id,
                cells=(
                    f"{many}{size}, {tr(EDGE_WORDS[offcut.recessed])}",
                    boards.get(offcut.board, offcut.board),
                    in_a_run(numbers[offcut.id]),
                    tr(
                        "{n} of {all}",
                        n=sum(x in used for x in numbers[offcut.id]),
                        all=offcut.count,
                    ),
                    offcut.note,
                ),
                figure=_offcut_figure(make, document, offcut),
                about=known,
            )
        )
    rows.append(
        Row(
            key=ANOTHER,
            cells=(tr("List an offcut …"), "", "", "", ""),
            figure=_offcut_figure(make, document, None),
            about=known,
        )
    )
    return tuple(rows)


def _offcut_figure(make: Making, document: Document, offcut: SiteOffcut | None) -> Figure:
    """Return the line an offcut is typed in; emptied, it is taken off the list."""
    units, catalogue = make.project.units, document.catalogue
    ident = (
        offcut.id
        if offcut is not None
        else free_id("offcut-", (o.id for o in make.project.offcuts))
    )
    usual = make.project.choices.wall_board or catalogue.default_wall
    boards = [b.id for b in catalogue.boards]

    def change(project: Project, value: object) -> Project:
        if isinstance(value, SiteOffcut):
            return put_offcut(project, value, boards)
        return drop_offcut(project, ident) if offcut is not None else project

    def reads(typed: str, put: Put) -> Meaning:
        if not typed.strip():
            off = tr("= taken off the list") if offcut is not None else tr("= none")
            return Meaning(echo=off, run=lambda: put(None))
        read = read_offcut(typed, units, ident=ident, board=offcut.board if offcut else usual)
        if isinstance(read, Refusal):
            return Meaning(sentence=read.sentence)
        return Meaning(echo=f"= {offcut_text(read, units)}", run=lambda: put(read))

    return make.typed(
        tr("Offcut {name}", name=ident),
        offcut_text(offcut, units) if offcut is not None else "",
        change,
        reads=reads,
        empty=tr("taken off the list") if offcut is not None else EXAMPLE[units.value],
        tip=tr(
            "How many of it, length x width, how many long edges are recessed, its board, a note; "
            "emptied, it is taken off the list."
        ),
    )


# --- figures of practice ------------------------------------------------------------------


def practice_rows(document: Document) -> tuple[Row, ...]:
    """Return every figure of the practice pack with its source, as it holds for this job."""
    project, pack = document.shown, document.practice
    overrides = dict(project.overrides)
    make = Making(document)
    rows: list[Row] = []
    for stated in pack.figures:
        own = overrides.get(stated.key)
        changed = own is not None and pack.takes(stated.key, own)
        value = own if changed and own is not None else stated.value
        status = known.Status.USER if changed else stated.citation.status
        rows.append(
            Row(
                key=stated.key,
                cells=(
                    stated.title,
                    _said(value, stated.unit, project.units),
                    tr(STATUS[status]),
                    stated.key,
                ),
                figure=_practice_figure(make, stated, value, changed=changed),
                about=_about(stated, project.units, changed=changed),
                changed=changed,
            )
        )
    return tuple(rows)


def plain_word(word: str) -> str:
    """Return a word that a figure of practice can be as the trade says it.

    Args:
        word: As the pack has it; a sentence stays as it is.
    """
    return tr(WORDS.get(word, word))


def _said(value: float | str, unit: str, units: Units) -> str:
    if isinstance(value, str):
        return plain_word(value)
    if unit == "mm":
        return write_length(value, units, suffix=True)
    if unit in {"count", "year", "ratio"}:
        return f"{value:g}"
    return f"{value:g} {_UNITS.get(unit, unit)}"


def _about(stated: known.Figure, units: Units, *, changed: bool) -> str:
    lines: list[str] = []
    if changed:
        own = _said(stated.value, stated.unit, units)
        lines.append(tr("Changed for this job; the practice states {value}.", value=own))
    lines.append(tr("Source: {source}", source=stated.citation))
    if isinstance(stated.native_value, float) and stated.native_unit != stated.unit:
        native = f"{stated.native_value:g} {stated.native_unit}"
        lines.append(tr("As the source states it: {value}", value=native))
    if stated.note:
        lines.append(stated.note)
    return "\n".join(lines)


def _practice_figure(
    make: Making, stated: known.Figure, value: float | str, *, changed: bool
) -> Figure:
    key, units = stated.key, make.project.units
    usual = _said(stated.value, stated.unit, units)

    def change(project: Project, new: object) -> Project:
        own = new if isinstance(new, int | float | str) else None
        return set_override(project, stated, own)

    if isinstance(stated.value, str):
        return make.choice(
            stated.title,
            value,
            [
                (
                    w,
                    tr("{word} (as stated)", word=plain_word(w))
                    if w == stated.value
                    else plain_word(w),
                )
                for w in known_words(key)
            ],
            change,
        )
    length = stated.unit == "mm"
    text = write_length(float(value), units) if length else f"{value:g}"
    return make.typed(
        stated.title,
        text if changed else "",
        change,
        reads=(lambda typed, put: small_read(typed, put, units)) if length else number_read,
        empty=tr("as the practice has it: {value}", value=usual),
        tip=tr("An empty field goes back to what the practice states."),
    )
