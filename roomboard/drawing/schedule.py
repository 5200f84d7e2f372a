"""Tables: findings, trimmers, the cut list, the order, and why the order is what it is."""

from __future__ import annotations

from collections.abc import Sequence

from roomboard.core.cutting import CutSheet, Placement
from roomboard.core.findings import Finding, Severity
from roomboard.core.joints import JointKind
from roomboard.core.plane import Region, difference
from roomboard.core.practice import ADVICE, Figure, Status
from roomboard.core.project import Acknowledgement, Project, Units
from roomboard.core.quantities import QuantityLine
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.sheeting import EdgeNeed, Piece
from roomboard.core.support import TrimmerReason
from roomboard.core.units import write_area, write_length, write_mass, write_run
from roomboard.core.wording import WEIGHT, place_in_words, say, value
from roomboard.drawing.cutting_diagram import EDGE_LETTERS, is_crowded, is_round
from roomboard.drawing.flow import Column, Table

REASONS: dict[TrimmerReason, str] = {
    TrimmerReason.WALL_ALONG_JOISTS: "wall runs with the joists",
    TrimmerReason.DIRECTION_CHANGE: "joists change direction",
    TrimmerReason.HATCH: "side of a hatch or opening",
    TrimmerReason.END_OFF_SUPPORT: "end of a sheet between supports",
    TrimmerReason.EDGE_OFF_SUPPORT: "edge of a sheet between supports",
    TrimmerReason.BATTENING: "battens across the joists",
}
"""Why a trimmer is missing, in words."""
NEEDS: dict[EdgeNeed, str] = {EdgeNeed.RECESSED: "R", EdgeNeed.CUT: "C", EdgeNeed.ANY: "any"}
"""Letters of edges before they are cut."""
LISTED = 8
"""An order line names its pieces one by one up to this many; beyond, by room and number."""


# --- findings ---------------------------------------------------------------------------


def findings_table(findings: Sequence[Finding], project: Project) -> Table:
    """Return findings as a table: what, where, what to do and on whose authority.

    Findings of one kind that ask for the same stand together; what they share is said once.

    Args:
        findings: In the order they are to stand.
        project: For names, units and what has been acknowledged.
    """
    groups: dict[tuple[str, str, tuple[str, ...]], list[Finding]] = {}
    for f in findings:
        key = (f"{WEIGHT[f.severity]} {f.code}", f.title, _shared(f, project))
        groups.setdefault(key, []).append(f)
    return Table(
        columns=(Column(title="Finding"), Column(title="Where and what")),
        rows=tuple(
            (
                code,
                "\n".join([f"{title}.", *(_own(f, project) for f in found), *shared]),
            )
            for (code, title, shared), found in groups.items()
        ),
    )


def _own(finding: Finding, project: Project) -> str:
    """Return what a finding says of its own place."""
    units = project.units
    words = say(finding, units)
    if finding.found is not None and value(finding.found, units) not in words:
        words += f" Found {value(finding.found, units)}."
    words += "".join(
        f" Acknowledged by {a.name}: {a.reason}."
        for a in project.acknowledged
        if acknowledges(a, finding)
    )
    return f"{place_in_words(finding.place, project)}: {words}"


def _shared(finding: Finding, project: Project) -> tuple[str, ...]:
    """Return what findings of one kind say alike."""
    words: list[str] = []
    units = project.units
    if finding.required is not None:
        words.append(f"Required: {value(finding.required, units)}.")
    if finding.source is not None and str(finding.source):
        words.append(f"Source: {finding.source}.")
    lines = [" ".join(words)] if words else []
    if finding.remedies:
        lines.append("To mend it: " + "; or ".join(finding.remedies) + ".")
    return tuple(lines)


def acknowledges(acknowledged: Acknowledgement, finding: Finding) -> bool:
    """Tell whether someone's acknowledgement covers a finding that does not say so itself."""
    return (
        acknowledged.code == finding.code
        and acknowledged.name not in finding.text
        and acknowledged.place in {"", finding.place.surface, finding.place.room}
    )


def of_weight(scheme: Scheme, severity: Severity) -> tuple[Finding, ...]:
    """Return a scheme's findings of one weight, in order."""
    return tuple(f for f in scheme.findings if f.severity is severity)


def standing_cautions(scheme: Scheme) -> tuple[Finding, ...]:
    """Return the cautions that stand on every print, RB801 and up."""
    return tuple(f for f in of_weight(scheme, Severity.CAUTION) if f.code >= "RB800")


def caution_lines(findings: Sequence[Finding], project: Project) -> tuple[str, ...]:
    """Return standing cautions in full, one paragraph for each code."""
    words: dict[str, list[str]] = {}
    for f in findings:
        said = words.setdefault(f"{f.code} {f.title}", [])
        text = say(f, project.units) + "".join(
            f" Acknowledged by {a.name}: {a.reason}."
            for a in project.acknowledged
            if acknowledges(a, f)
        )
        if text not in said:
            said.append(text)
    return tuple(f"{head}. {' '.join(said)}" for head, said in words.items())


def caution_sources(findings: Sequence[Finding]) -> str:
    """Return where standing cautions come from, in one line."""
    pairs = dict.fromkeys(
        (f.code, str(f.source)) for f in findings if f.source is not None and str(f.source)
    )
    return "; ".join(f"{code}: {source}" for code, source in pairs)


def kinds_of(findings: Sequence[Finding]) -> str:
    """Return the kinds of findings there are and how many of each, in one line."""
    counts: dict[str, int] = {}
    for f in findings:
        name = f"{f.code} {f.title}"
        counts[name] = counts.get(name, 0) + 1
    return "; ".join(f"{name} ({count})" for name, count in counts.items())


# --- the job in figures -----------------------------------------------------------------


def joint_metres(surfaces: Sequence[SurfaceScheme]) -> tuple[float, float, float]:
    """Return the length of butt, recessed and end-to-recess joints, mm."""
    joints = [j for s in surfaces for j in s.joints]
    return (
        sum(j.length for j in joints if j.kind.is_butt),
        sum(j.length for j in joints if j.kind is JointKind.RECESSED),
        sum(j.length for j in joints if j.kind is JointKind.END_TO_RECESS),
    )


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
        f"{len(scheme.cut_plan.sheets)} sheets; {write_area(bought, units)} bought for "
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
            Column(title="Room"),
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
                f"{_percent(waste, b.bought_m2)} of bought\n{_percent(waste, b.net_m2)} of net",
                "\n".join(b.reasons) or "as few as can be",
            )
        )
    return Table(
        columns=(
            Column(title="Board"),
            Column(title="Sheets", right=True),
            Column(title="No fewer than"),
            Column(title="Bought", right=True),
            Column(title="Least to buy", right=True),
            Column(title="Net", right=True),
            Column(title="Waste"),
            Column(title="Why more than the least"),
        ),
        rows=tuple(rows),
    )


def _percent(part: float, whole: float) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "–"


def board_name(scheme: Scheme, board: str) -> str:
    """Return a board's name with its letter."""
    known = scheme.catalogue.board(board)
    return f"{known.name} ({known.letter})" if known else board


def comparisons_table(scheme: Scheme) -> Table:
    """Return the ways the sheets of each surface could run, side by side."""
    units = scheme.project.units
    project = scheme.project
    rows: list[tuple[str, ...]] = []
    for room in scheme.rooms:
        for s in room.surfaces:
            rows.extend(
                (
                    f"{project_room_name(project, s.surface.room)}, {s.surface.name}",
                    f"{c.name}, chosen" if c.chosen else c.name,
                    f"{c.sheets} ({write_area(c.bought_m2, units)})",
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
            Column(title="Surface"),
            Column(title="Sheets run"),
            Column(title="Sheets", right=True),
            Column(title="Butt", right=True),
            Column(title="Recessed", right=True),
            Column(title="End to recess", right=True),
            Column(title="Edges without support", right=True),
            Column(title="Trimmers", right=True),
            Column(title="Heaviest", right=True),
            Column(title="Warnings", right=True),
        ),
        rows=tuple(rows),
    )


def project_room_name(project: Project, room_id: str) -> str:
    """Return a room's name by its id."""
    room = project.room(room_id)
    return room.name if room else room_id


def assumptions_table(scheme: Scheme) -> Table:
    """Return the figures the user changed, and those that no document backs."""
    found = [
        f
        for f in scheme.practice.figures
        if f.citation.status in {Status.USER, Status.MEMORY, Status.PRACTICE}
    ]
    order = {Status.USER: 0, Status.MEMORY: 1, Status.PRACTICE: 2}
    found.sort(key=lambda f: (order[f.citation.status], f.key))
    units = scheme.project.units
    return Table(
        columns=(Column(title="Figure"), Column(title="Value"), Column(title="Standing")),
        rows=tuple((f.title, _figure_value(f, units), _standing(f)) for f in found),
    )


def _figure_value(figure: Figure, units: Units) -> str:
    if figure.unit == "mm" and not isinstance(figure.value, str):
        return write_length(figure.value, units, suffix=True)
    number = figure.value if isinstance(figure.value, str) else f"{figure.value:g}"
    return number if figure.unit in {"word", "count", "ratio"} else f"{number} {figure.unit}"


def _standing(figure: Figure) -> str:
    advice = ADVICE[figure.citation.status]
    if figure.citation.status is Status.USER:
        return f"{advice}; {figure.note}" if figure.note else advice
    return str(figure.citation) or advice


# --- the carpenter ----------------------------------------------------------------------


def trimmers_table(room: RoomScheme, units: Units) -> Table:
    """Return the timber a room's framing lacks, by tag."""
    rows = [
        (
            t.tag,
            s.surface.name,
            write_length(t.length, units),
            write_length(t.face, units),
            ("nogging" if t.nogging else "trimmer")
            + (", boards from both sides" if t.two_sided else ""),
            REASONS[t.reason],
        )
        for s in room.surfaces
        for t in s.trimmers
    ]
    return Table(
        columns=(
            Column(title="Tag"),
            Column(title="Surface"),
            Column(title="Length", right=True),
            Column(title="Face", right=True),
            Column(title="What"),
            Column(title="Why"),
        ),
        rows=tuple(rows),
    )


# --- the cut list -----------------------------------------------------------------------


def sheets_by_piece(scheme: Scheme) -> dict[str, tuple[CutSheet, Placement]]:
    """Return the stock sheet and the place in it of every piece, by piece id."""
    return {p.piece: (s, p) for s in scheme.cut_plan.sheets for p in s.placements}


def edge_letters(piece: Piece, placement: Placement | None) -> tuple[str, str]:
    """Return the letters of a piece's low and high long edge: R recessed, C cut."""
    if placement is None:
        return NEEDS[piece.low], NEEDS[piece.high]
    return EDGE_LETTERS[placement.low], EDGE_LETTERS[placement.high]


def cut_outs(piece: Piece) -> tuple[Region, ...]:
    """Return what is cut out of a piece's rectangle, face up from its lower left corner."""
    return difference(Region.box(0.0, 0.0, piece.length, piece.width), [piece.face_up])


def cut_outs_in_words(piece: Piece, units: Units) -> str:
    """Return a piece's notches and cut-outs as running dimensions from its lower left corner."""
    lines = []
    for part in cut_outs(piece):
        x0, y0, x1, y1 = part.bounds
        sides = x0 <= 0.01 or y0 <= 0.01 or x1 >= piece.length - 0.01 or y1 >= piece.width - 0.01
        if is_round(part.outer):
            lines.append(
                f"round cut-out ⌀ {write_length(x1 - x0, units)}, centre "
                f"x {write_length((x0 + x1) / 2, units)}, y {write_length((y0 + y1) / 2, units)}"
            )
            continue
        name = "notch" if sides else "cut-out"
        if not part.is_box:
            name = "shape (see its drawing) in"
        lines.append(
            f"{name} x {write_length(x0, units)} to {write_length(x1, units)}, "
            f"y {write_length(y0, units)} to {write_length(y1, units)}"
        )
    return "\n".join(lines)


def cut_list(scheme: Scheme, room: RoomScheme) -> Table:
    """Return a room's pieces in hanging order."""
    units = scheme.project.units
    where = sheets_by_piece(scheme)
    rows: list[tuple[str, ...]] = []
    pieces = [(p, s) for s in room.surfaces for p in s.set_out.pieces]
    for piece, surface in sorted(pieces, key=lambda pair: (pair[0].hang, pair[0].id)):
        sheet, placement = where.get(piece.id, (None, None))
        low, high = edge_letters(piece, placement)
        people = people_to_lift(
            piece.mass_kg, scheme.practice, scheme.project.choices.lift_limit_kg
        )
        rows.append(
            (
                str(piece.hang),
                piece.mark,
                surface.surface.name,
                write_length(piece.length, units),
                write_length(piece.width, units),
                f"{low} {high}",
                sheet.id if sheet else "none fits",
                write_mass(piece.mass_kg, units),
                str(people),
                cut_outs_in_words(piece, units),
            )
        )
    return Table(
        columns=(
            Column(title="No.", right=True),
            Column(title="Mark"),
            Column(title="Surface"),
            Column(title="Length", right=True),
            Column(title="Width", right=True),
            Column(title="Low High"),
            Column(title="Sheet"),
            Column(title="Mass", right=True),
            Column(title="People", right=True),
            Column(title="Cut-outs, from the lower left corner face up"),
        ),
        rows=tuple(rows),
    )


def cuts_table(scheme: Scheme) -> Table:
    """Return the cuts of sheets that have too many for their diagram, and what is between them."""
    units = scheme.project.units
    rows: list[tuple[str, ...]] = []
    for sheet in scheme.cut_plan.sheets:
        for cut in sheet.cuts if is_crowded(sheet) else ():
            at, a, b = (cut.y0, cut.x0, cut.x1) if cut.rip else (cut.x0, cut.y0, cut.y1)
            rows.append(
                (
                    sheet.id,
                    str(cut.number),
                    "rip along the sheet" if cut.rip else "cut across the sheet",
                    f"{write_length(at, units)} from the {'low edge' if cut.rip else 'left end'}",
                    f"{write_length(min(a, b), units)} to {write_length(max(a, b), units)}",
                )
            )
    return Table(
        columns=(
            Column(title="Sheet"),
            Column(title="Cut", right=True),
            Column(title="Way"),
            Column(title="At"),
            Column(title="From and to"),
        ),
        rows=tuple(rows),
    )


def small_pieces_table(scheme: Scheme) -> Table:
    """Return the back-blocks that are cut from whole sheets, and where on them they lie."""
    units = scheme.project.units
    pieces = {p.id for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    return Table(
        columns=(
            Column(title="Sheet"),
            Column(title="Back-block"),
            Column(title="Length", right=True),
            Column(title="Width", right=True),
            Column(title="Lower left corner"),
        ),
        rows=tuple(
            (
                sheet.id,
                p.piece,
                write_length(p.length, units),
                write_length(p.width, units),
                f"x {write_length(p.x, units)}, y {write_length(p.y, units)}",
            )
            for sheet in scheme.cut_plan.sheets
            for p in sheet.placements
            if p.piece not in pieces
        ),
    )


def offcuts_table(scheme: Scheme) -> Table:
    """Return the offcuts worth keeping, with their edges."""
    units = scheme.project.units
    return Table(
        columns=(
            Column(title="From sheet"),
            Column(title="Board"),
            Column(title="Length", right=True),
            Column(title="Width", right=True),
            Column(title="Low High"),
            Column(title="For"),
        ),
        rows=tuple(
            (
                s.id,
                board_name(scheme, s.board),
                write_length(o.length, units),
                write_length(o.width, units),
                f"{EDGE_LETTERS[o.low]} {EDGE_LETTERS[o.high]}",
                f"{len(o.used_for)} back-blocks: {', '.join(o.used_for)}" if o.used_for else "keep",
            )
            for s in scheme.cut_plan.sheets
            for o in s.offcuts
            if o.keep or o.used_for
        ),
    )


# --- the order --------------------------------------------------------------------------

GROUPS: dict[str, str] = {
    "board": "Board",
    "fixing": "Fixings and adhesive",
    "jointing": "Jointing",
    "trim": "Cornice, beads and trims",
    "timber": "Timber",
}
"""Headings of the order."""


def quantities_table(lines: Sequence[QuantityLine], project: Project) -> Table:
    """Return lines of the order with how each figure comes about."""
    return Table(
        columns=(
            Column(title="Item"),
            Column(title="Exact", right=True),
            Column(title="Spare", right=True),
            Column(title="Packs"),
            Column(title="Order", right=True),
            Column(title="How it comes about"),
        ),
        rows=tuple(
            (
                q.name,
                _range(q),
                _number(q.spare),
                f"{q.packs} of {_number(q.pack)} {q.unit}" if q.pack else "singly",
                f"{_number(q.total)} {q.unit}",
                "\n".join(_how(q, project)),
            )
            for q in lines
        ),
    )


def _number(amount: float) -> str:
    return f"{round(amount, 2):g}" if abs(amount) < 1e5 else f"{amount:.0f}"


def _range(line: QuantityLine) -> str:
    if line.low < line.exact:
        return f"{_number(line.low)} to {_number(line.exact)} {line.unit}"
    return f"{_number(line.exact)} {line.unit}"


def _how(line: QuantityLine, project: Project) -> list[str]:
    words = [line.formula]
    if line.inputs:
        words.append("; ".join(f"{name} = {_number(amount)}" for name, amount in line.inputs))
    if line.source_note:
        words.append(line.source_note)
    if line.sources:
        words.append(f"From: {_sources(line.sources, project)}")
    return words


def _sources(sources: Sequence[str], project: Project) -> str:
    if len(sources) <= LISTED:
        return ", ".join(sources)
    counts: dict[str, int] = {}
    for source in sources:
        room = source.partition("/")[0] if "/" in source else ""
        counts[room] = counts.get(room, 0) + 1
    return ", ".join(
        f"{count} in {project_room_name(project, room)}" if room else f"{count} in the job"
        for room, count in counts.items()
    )


def linear_table(scheme: Scheme) -> Table:
    """Return how goods sold by the length are cut."""
    units = scheme.project.units
    return Table(
        columns=(
            Column(title="No."),
            Column(title="Goods"),
            Column(title="Length", right=True),
            Column(title="Cut into"),
            Column(title="Left", right=True),
        ),
        rows=tuple(
            (
                cut.id,
                _linear_name(scheme, cut.stock, cut.kind),
                write_length(cut.length, units),
                ", ".join(f"{name} {write_length(mm, units)}" for name, mm in cut.pieces),
                write_length(cut.left, units),
            )
            for cut in scheme.linear
        ),
    )


def _linear_name(scheme: Scheme, stock: str, kind: str) -> str:
    named = {item.id: item.name for item in scheme.catalogue.linear}
    return named.get(stock, kind.replace("_", " "))


def trims_table(room: RoomScheme, units: Units) -> Table:
    """Return a room's cornice, beads and tapes by run."""
    return Table(
        columns=(
            Column(title="No."),
            Column(title="What"),
            Column(title="Where"),
            Column(title="Net", right=True),
            Column(title="Cut", right=True),
            Column(title="Left end"),
            Column(title="Right end"),
        ),
        rows=tuple(
            (
                t.id,
                t.kind.value.replace("_", " "),
                t.where,
                write_length(t.length, units),
                write_length(t.cut_length, units),
                t.left_end,
                t.right_end,
            )
            for t in room.trims
        ),
    )
