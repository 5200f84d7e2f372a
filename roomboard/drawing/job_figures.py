"""The job in figures: rooms, sheets and waste, ways to run the sheets, figures of practice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from roomboard.core.findings import Finding
from roomboard.core.joints import JointKind
from roomboard.core.practice import ADVICE, Figure, Status
from roomboard.core.project import Project, Units
from roomboard.core.scheme import Scheme, SurfaceScheme
from roomboard.core.units import write_area, write_mass, write_run
from roomboard.drawing import _drafting
from roomboard.drawing.cut_list import sheets_by_piece
from roomboard.drawing.figure_words import figure_in_words
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.room_names import board_name

SHORT_VALUE = 16
"""Values of more characters stand in a table of their own."""
STANDING: dict[Status, str] = {
    Status.SEEN: "as read,",
    Status.SECONDARY: "from a secondary source,",
    Status.MEMORY: "from memory,",
}
"""How well a drafting standard is known."""
SHEETS_AND_WASTE = "Sheets and waste"
"""Heading of the part of the summary with sheets used, bounds and waste."""


def joint_metres(surfaces: Sequence[SurfaceScheme]) -> tuple[float, float, float]:
    """Return the length of butt, recessed and end-to-recess joints, mm."""
    joints = [j for s in surfaces for j in s.joints]
    return (
        sum(j.length for j in joints if j.kind.is_butt),
        sum(j.length for j in joints if j.kind is JointKind.RECESSED),
        sum(j.length for j in joints if j.kind is JointKind.END_TO_RECESS),
    )


def on_site_words(scheme: Scheme) -> str:
    """Return how many offcuts on site are cut from besides sheets, or nothing."""
    count = len(scheme.cut_plan.on_site)
    if not count:
        return ""
    return f" and {count} {'offcut' if count == 1 else 'offcuts'} on site"


def job_in_words(scheme: Scheme) -> str:
    """Return the whole job in one sentence of figures."""
    units = scheme.project.units
    surfaces = [s for r in scheme.rooms for s in r.surfaces]
    butt, recessed, odd = joint_metres(surfaces)
    bounds = scheme.cut_plan.bounds
    bought, net = sum(b.bought_m2 for b in bounds), sum(b.net_m2 for b in bounds)
    trimmers = sum(t.length for s in surfaces for t in s.trimmers)
    return (
        f"Whole job: {sum(len(s.set_out.pieces) for s in surfaces)} pieces from "
        f"{len(scheme.cut_plan.sheets)} sheets{on_site_words(scheme)}; "
        f"{write_area(bought, units)} bought for "
        f"{write_area(net, units)} net, waste {_percent(bought - net, bought)} of bought; "
        f"{write_run(butt, units)} of butt joint, {write_run(recessed, units)} of recessed joint, "
        f"{write_run(odd, units)} of ends at recessed edges; "
        f"{write_run(trimmers, units)} of trimmers to add."
    )


def rooms_table(scheme: Scheme) -> Table:
    """Return the key figures of every room and of the whole job."""
    units = scheme.project.units
    from_sheet = sheets_by_piece(scheme)
    rows: list[tuple[str, ...]] = []
    whole = [s for r in scheme.rooms for s in r.surfaces]
    parts = [(r.room.name, r.surfaces) for r in scheme.rooms]
    for name, surfaces in (*parts, ("Whole job", tuple(whole))):
        pieces = [p for s in surfaces for p in s.set_out.pieces]
        sheets = {from_sheet[p.id][0].id for p in pieces if p.id in from_sheet}
        butt, recessed, odd = joint_metres(surfaces)
        trimmers = sum(t.length for s in surfaces for t in s.trimmers)
        rows.append(
            (
                name,
                write_area(sum(s.surface.area_m2 for s in surfaces), units),
                str(len(pieces)),
                str(len(sheets)),
                write_run(butt, units),
                write_run(recessed, units),
                write_run(odd, units),
                write_run(trimmers, units),
            )
        )
    return Table(
        columns=(
            Column(title="Room", unbroken=True),
            Column(title="Net area", right=True),
            Column(title="Pieces", right=True),
            Column(title="Sheets cut into", right=True),
            Column(title="Butt joints", right=True),
            Column(title="Recessed joints", right=True),
            Column(title="End to recess", right=True),
            Column(title="Trimmers to add", right=True),
        ),
        rows=tuple(rows),
    )


def bounds_table(scheme: Scheme) -> Table:
    """Return sheets used against how few could do, and what is wasted, board by board."""
    units = scheme.project.units
    rows = []
    for b in scheme.cut_plan.bounds:
        waste = b.bought_m2 - b.net_m2
        rows.append(
            (
                board_name(scheme, b.board),
                str(b.sheets),
                f"{b.area_bound} by area\n{b.edge_bound} by courses and edges",
                write_area(b.bought_m2, units),
                write_area(b.bought_bound_m2, units),
                write_area(b.net_m2, units),
                _percent(waste, b.bought_m2),
                _percent(waste, b.net_m2),
            )
        )
    return Table(
        columns=(
            Column(title="Board"),
            Column(title="Sheets", right=True),
            Column(title="No fewer than", unbroken=True),
            Column(title="Bought", right=True),
            Column(title="Least to buy", right=True),
            Column(title="Net", right=True),
            Column(title="Waste of bought", right=True),
            Column(title="Waste of net", right=True),
        ),
        rows=tuple(rows),
    )


def bounds_reasons(scheme: Scheme) -> tuple[str, ...]:
    """Return why more board is bought than the least there could be, a sentence a board."""
    return tuple(
        f"{board_name(scheme, b.board)}, why more than the least: {' '.join(b.reasons)}"
        if b.reasons
        else f"{board_name(scheme, b.board)}: as few as can be."
        for b in scheme.cut_plan.bounds
    )


def without_reasons(finding: Finding, scheme: Scheme) -> Finding:
    """Return a finding without the reasons that :func:`bounds_reasons` gives in the summary."""
    for b in scheme.cut_plan.bounds:
        reasons = " ".join(b.reasons)
        if reasons and finding.text.endswith(reasons):
            text = f"{finding.text.removesuffix(reasons)}Why: see {SHEETS_AND_WASTE}."
            return replace(finding, text=text)
    return finding


def _percent(part: float, whole: float) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "–"


def comparisons_table(scheme: Scheme) -> Table:
    """Return the ways the sheets of each surface could run, side by side."""
    units = scheme.project.units
    project = scheme.project
    rows: list[tuple[str, ...]] = []
    for room in scheme.rooms:
        for s in room.surfaces:
            if s.comparisons:
                rows.append((f"{project_room_name(project, s.surface.room)}, {s.surface.name}",))
            rows.extend(
                (
                    f"{c.name} *" if c.chosen else c.name,
                    str(c.sheets),
                    write_area(c.bought_m2, units),
                    write_run(c.butt_m * 1000, units),
                    write_run(c.recessed_m * 1000, units),
                    write_run(c.end_to_recess_m * 1000, units),
                    write_run(c.unsupported_m * 1000, units),
                    write_run(c.trimmer_m * 1000, units),
                    write_mass(c.heaviest_kg, units),
                    str(c.breaches),
                )
                for c in s.comparisons
            )
    return Table(
        columns=(
            Column(title="Sheets run (* chosen)"),
            Column(title="No.", right=True),
            Column(title="Bought", right=True),
            Column(title="Butt", right=True),
            Column(title="Recess", right=True),
            Column(title="End to recess", right=True),
            Column(title="Bare edges", right=True),
            Column(title="Timber to add", right=True),
            Column(title="Most mass", right=True),
            Column(title="Warn", right=True),
        ),
        rows=tuple(rows),
    )


def project_room_name(project: Project, room_id: str) -> str:
    """Return a room's name by its id."""
    room = project.room(room_id)
    return room.name if room else room_id


def assumptions_tables(scheme: Scheme) -> tuple[tuple[str, Table], ...]:
    """Return the figures the user changed and those that no document backs, by their standing.

    Returns:
        For each standing its words and a table of figures, two to a row.
    """
    found = [
        f
        for f in scheme.practice.figures
        if f.citation.status in {Status.USER, Status.MEMORY, Status.PRACTICE}
    ]
    order = {Status.USER: 0, Status.MEMORY: 1, Status.PRACTICE: 2}
    found.sort(key=lambda f: (order[f.citation.status], f.key))
    units = scheme.project.units
    groups: dict[str, list[tuple[str, str]]] = {}
    for f in found:
        clause = f.citation.clause
        title = f"{f.title} ({clause})" if clause else f.title
        groups.setdefault(_standing(f, units), []).append((title, figure_in_words(f, units)))
    tables: list[tuple[str, Table]] = []
    for standing, rows in groups.items():
        short = [row for row in rows if len(row[1]) <= SHORT_VALUE]
        long = [row for row in rows if len(row[1]) > SHORT_VALUE]
        if short:
            tables.append((standing, _two_abreast(short)))
        if long:
            columns = (Column(title="Figure"), Column(title="Value"))
            tables.append((standing, Table(columns=columns, rows=tuple(long))))
    return tuple(tables)


def drafting_in_words() -> str:
    """Return the standards that drawings are made by, with edition and standing, in a sentence."""
    groups: dict[str, list[str]] = {}
    for number, edition, status in _drafting.STANDARDS:
        groups.setdefault(status, []).append(f"{number}:{edition}" if edition else number)
    return "; ".join(
        f"{STANDING[Status(status)]} {', '.join(names)}" for status, names in groups.items()
    )


def _two_abreast(rows: Sequence[tuple[str, str]]) -> Table:
    """Return a table of figures, the second half beside the first."""
    half = -(-len(rows) // 2)
    right = [*rows[half:], *[("", "")] * (2 * half - len(rows))]
    columns = (Column(title="Figure"), Column(title="Value", right=True))
    if len(rows) == 1:
        return Table(columns=columns, rows=tuple(rows))
    return Table(
        columns=columns * 2,
        rows=tuple((*a, *b) for a, b in zip(rows[:half], right, strict=True)),
    )


def _standing(figure: Figure, units: Units) -> str:
    advice = ADVICE[figure.citation.status]
    if figure.citation.status is Status.USER:
        stated = figure_in_words(replace(figure, value=figure.stated), units)
        return f"{advice}; the pack states {stated}"
    words = str(replace(figure.citation, clause="")) or advice
    return words[:1].upper() + words[1:]
