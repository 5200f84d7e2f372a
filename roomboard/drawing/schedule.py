"""Tables: findings, trimmers, the cut list, what is cut from what, and the figures used."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from roomboard.core.cutting import Cut, CutSheet, Placement
from roomboard.core.findings import Finding, Severity
from roomboard.core.joints import JointKind
from roomboard.core.plane import Region, difference
from roomboard.core.practice import ADVICE, Figure, Status
from roomboard.core.project import Acknowledgement, Project, Units
from roomboard.core.read_offcut import EDGE_WORDS, numbers_of
from roomboard.core.revision_done import states
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.sheeting import EdgeNeed, Piece
from roomboard.core.support import TrimmerReason
from roomboard.core.tapers import Taper, unnotched
from roomboard.core.units import on_tape, write_area, write_length, write_mass, write_run
from roomboard.core.wording import WEIGHT, place_in_words, say, value
from roomboard.drawing import _drafting
from roomboard.drawing.cutting_diagram import EDGE_LETTERS, cut_pieces, is_round, listed_cuts
from roomboard.drawing.figure_words import figure_in_words
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.room_names import by_room, names_of_things, numbers_in_words, runs_by_room
from roomboard.drawing.set_revision_clouds import CLOUD
from roomboard.drawing.tapering import size_words, taper_in_words

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
TIMBER_CODES = frozenset({"RB301", "RB302"})
"""Findings that name one line of missing timber each."""
LEAST_BEGINNING = 3
"""Sentences that begin with at least as many equal words are put together."""
SHEETS_AND_WASTE = "Sheets and waste"
"""Heading of the part of the summary with sheets used, bounds and waste."""
CUTS_ONE_BY_ONE = "Cuts without room for their numbers"
"""Heading of the table of the cuts of sheets whose diagrams have no room for all numbers."""
CUTS_READ = (
    "Face up, in order: rips up from the low edge, cuts across from the left end; then from and to."
)
"""How the table of cuts is read."""
CUTS_ABREAST = 2
"""So many cuts stand in a row of their table."""
STANDING: dict[Status, str] = {
    Status.SEEN: "as read,",
    Status.SECONDARY: "from a secondary source,",
    Status.MEMORY: "from memory,",
}
"""How well a drafting standard is known."""
SHORT_VALUE = 16
"""Values of more characters stand in a table of their own."""
HEAVY_CODE = "RB601"
"""Findings that name the heavy pieces of one surface each."""


# --- findings ---------------------------------------------------------------------------


def findings_table(findings: Sequence[Finding], scheme: Scheme) -> Table:
    """Return findings as a table: what, where, what to do and on whose authority.

    Findings of one kind that ask for the same stand together; what they share is said once.
    Missing timber and heavy pieces stand room by room, with their tags or marks.

    Args:
        findings: In the order they are to stand.
        scheme: The whole answer, for names, units and what has been acknowledged.
    """
    project = scheme.project
    groups: dict[tuple[str, str, tuple[str, ...]], list[Finding]] = {}
    for f in findings:
        key = (f"{WEIGHT[f.severity]} {f.code}", f.title, _shared(f, project))
        groups.setdefault(key, []).append(f)
    return Table(
        columns=(Column(title="Finding"), Column(title="Where and what")),
        rows=tuple(
            (code, _in_lines(title, _said(found, scheme), shared, joined=len(found) > 1))
            for (code, title, shared), found in groups.items()
        ),
    )


def _in_lines(title: str, said: Sequence[str], shared: Sequence[str], *, joined: bool) -> str:
    """Return the lines of one kind of finding; what closes several stands with what they share."""
    lines = [f"{title}.", *said]
    if joined and shared:
        lines[-1] += f" {shared[0]}"
        shared = shared[1:]
    return "\n".join([*lines, *shared])


def _said(found: Sequence[Finding], scheme: Scheme) -> list[str]:
    """Return what findings of one kind say, each of its own place."""
    if found[0].code in TIMBER_CODES:
        return _timber_by_room(found, scheme)
    if found[0].code == HEAVY_CODE:
        return _heavy_by_room(found, scheme)
    lines = [_own(f, scheme.project) for f in found]
    tails = {line.rpartition(": ")[2] for line in lines}
    if len(lines) < 2 or len(tails) > 1:
        return lines
    # What to do is the same for all, and so may be how the sentences begin.
    (tail,) = tails
    said = [say(f, scheme.project.units).removesuffix(f": {tail}") for f in found]
    if not all(line.endswith(f"{words}: {tail}") for line, words in zip(lines, said, strict=True)):
        return lines
    together = zip(*(words.split() for words in said), strict=False)
    begin = [words[0] for words in takewhile(lambda words: len(set(words)) == 1, together)]
    if len(begin) < LEAST_BEGINNING:
        heads = [line.removesuffix(f": {tail}") for line in lines]
        return ["; ".join(heads) + ".", tail[:1].upper() + tail[1:]]
    parts: dict[str, list[str]] = {}
    for f, words in zip(found, said, strict=True):
        own = " ".join(words.split()[len(begin) :])
        where = place_in_words(replace(f.place, item=""), scheme.project)
        parts.setdefault(where, []).append(own)
    heads = [f"{', '.join(own)} ({where})" for where, own in parts.items()]
    return [f"{' '.join(begin)} {'; '.join(heads)}.", tail[:1].upper() + tail[1:]]


def _by_room(found: Sequence[Finding]) -> dict[str, list[Finding]]:
    rooms: dict[str, list[Finding]] = {}
    for f in found:
        rooms.setdefault(f.place.room or f.place.surface.partition("/")[0], []).append(f)
    return rooms


def _acknowledgements(found: Sequence[Finding], project: Project) -> str:
    """Return who has acknowledged any of several findings, as sentences."""
    words = dict.fromkeys(
        f" Acknowledged by {a.name}: {a.reason}."
        for f in found
        for a in project.acknowledged
        if acknowledges(a, f)
    )
    return "".join(words)


def _timber_by_room(found: Sequence[Finding], scheme: Scheme) -> list[str]:
    """Return missing timber by room and reason: tags with their lengths."""
    units = scheme.project.units
    known = {
        (s.surface.ref, t.tag): t for r in scheme.rooms for s in r.surfaces for t in s.trimmers
    }
    lines: list[str] = []
    for room, of_room in _by_room(found).items():
        reasons: dict[str, list[str]] = {}
        for f in of_room:
            trimmer = known.get((f.place.surface, f.place.item))
            if trimmer is None:
                lines.append(_own(f, scheme.project))
                continue
            length = on_tape(trimmer.length, units, suffix=True)
            reasons.setdefault(REASONS[trimmer.reason], []).append(f"{trimmer.tag} {length}")
        parts = [f"{', '.join(tags)} ({reason})" for reason, tags in reasons.items()]
        if parts:
            lines.append(
                f"{project_room_name(scheme.project, room)}: {'; '.join(parts)}."
                + _acknowledgements(of_room, scheme.project)
            )
    lines.append("Nothing to fix to there: fix this timber before board day.")
    return lines


def _heavy_by_room(found: Sequence[Finding], scheme: Scheme) -> list[str]:
    """Return pieces heavier than one person lifts by room: marks with masses, heaviest first."""
    units, limit = scheme.project.units, scheme.project.choices.lift_limit_kg
    lines: list[str] = []
    for room, of_room in _by_room(found).items():
        refs = {f.place.surface for f in of_room}
        pieces = [
            p
            for r in scheme.rooms
            for s in r.surfaces
            if s.surface.ref in refs
            for p in s.set_out.pieces
            if people_to_lift(p.mass_kg, scheme.practice, limit) > 1
        ]
        if not pieces:
            lines += [_own(f, scheme.project) for f in of_room]
            continue
        pieces.sort(key=lambda p: (-p.mass_kg, p.id))
        marks = ", ".join(f"{p.mark} {write_mass(p.mass_kg, units)}" for p in pieces)
        lines.append(
            f"{project_room_name(scheme.project, room)}: {marks}."
            + _acknowledgements(of_room, scheme.project)
        )
    lines.append("Lift these with two people or more, or a sheet lifter.")
    return lines


def _own(finding: Finding, project: Project) -> str:
    """Return what a finding says of its own place."""
    units = project.units
    words = say(finding, units)
    if finding.found is not None and value(finding.found, units) not in words:
        words += f" Found {value(finding.found, units)}."
    words += _acknowledgements((finding,), project)
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
        lines.append("To mend it: " + "; or ".join(r.rstrip(".") for r in finding.remedies) + ".")
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


# --- the carpenter ----------------------------------------------------------------------


_TIMBER_COLUMNS = (
    Column(title="Tag"),
    Column(title="Surface"),
    Column(title="Length", right=True),
    Column(title="Face", right=True),
    Column(title="What"),
    Column(title="Why"),
)


def trimmers_table(room: RoomScheme, units: Units) -> Table:
    """Return the timber a room's framing lacks, by tag."""
    rows = [
        (
            t.tag,
            s.surface.name,
            on_tape(t.length, units),
            on_tape(t.face, units),
            ("nogging" if t.nogging else "trimmer")
            + (", boards from both sides" if t.two_sided else ""),
            REASONS[t.reason],
        )
        for s in room.surfaces
        for t in s.trimmers
    ]
    return Table(columns=_TIMBER_COLUMNS, rows=tuple(rows))


def timber_table(scheme: Scheme) -> Table:
    """Return the timber all framing lacks, room after room."""
    rows: list[tuple[str, ...]] = []
    for room in scheme.rooms:
        found = trimmers_table(room, scheme.project.units).rows
        rows += [(room.room.name,), *found] if found else []
    return Table(columns=_TIMBER_COLUMNS, rows=tuple(rows))


# --- the cut list -----------------------------------------------------------------------


def sheets_by_piece(scheme: Scheme) -> dict[str, tuple[CutSheet, Placement]]:
    """Return the stock sheet and the place in it of every piece, by piece id."""
    return {p.piece: (s, p) for s in scheme.cut_plan.every for p in s.placements}


def edge_letters(piece: Piece, placement: Placement | None) -> tuple[str, str]:
    """Return the letters of a piece's low and high long edge: R recessed, C cut."""
    if placement is None:
        return NEEDS[piece.low], NEEDS[piece.high]
    return EDGE_LETTERS[placement.low], EDGE_LETTERS[placement.high]


def cut_outs(piece: Piece) -> tuple[Region, ...]:
    """Return what is cut out of a piece, tapers aside, face up from its lower left corner."""
    return difference(unnotched(piece), [piece.face_up])


def cut_outs_in_words(piece: Piece, units: Units, tapers: Sequence[Taper] = ()) -> str:
    """Return a piece's tapers, then its notches and cut-outs from its lower left corner.

    Args:
        piece: The piece.
        units: How lengths are written.
        tapers: How it tapers.
    """
    lines = [taper_in_words(taper, units) for taper in tapers]
    for part in cut_outs(piece):
        x0, y0, x1, y1 = part.bounds
        sides = x0 <= 0.01 or y0 <= 0.01 or x1 >= piece.length - 0.01 or y1 >= piece.width - 0.01
        if is_round(part.outer):
            lines.append(
                f"round cut-out ⌀ {on_tape(x1 - x0, units)}, centre "
                f"x {on_tape((x0 + x1) / 2, units)}, y {on_tape((y0 + y1) / 2, units)}"
            )
            continue
        name = "notch" if sides else "cut-out"
        if not part.is_box:
            name = "shape (see its drawing) in"
        lines.append(
            f"{name} x {on_tape(x0, units)} to {on_tape(x1, units)}, "
            f"y {on_tape(y0, units)} to {on_tape(y1, units)}"
        )
    return "\n".join(lines)


def cut_list(scheme: Scheme, room: RoomScheme) -> Table:
    """Return a room's pieces in hanging order."""
    units = scheme.project.units
    where = sheets_by_piece(scheme)
    rows: list[tuple[str, ...]] = []
    done = states(scheme)
    pieces = [(p, s) for s in room.surfaces for p in s.set_out.pieces]
    for piece, surface in sorted(pieces, key=lambda pair: (pair[0].hang, pair[0].id)):
        sheet, placement = where.get(piece.id, (None, None))
        low, high = edge_letters(piece, placement)
        tapers = surface.set_out.tapers_of(piece.mark)
        people = people_to_lift(
            piece.mass_kg, scheme.practice, scheme.project.choices.lift_limit_kg
        )
        rows.append(
            (
                str(piece.hang),
                piece.mark,
                surface.surface.name,
                size_words(piece.length, tapers, "length", units),
                size_words(piece.width, tapers, "width", units),
                f"{low} {high}",
                sheet.id if sheet else "none fits",
                write_mass(piece.mass_kg, units),
                str(people),
                done.get(piece.id, ""),
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
            Column(title="Lift", right=True),
            # What is cut or hung makes no sheet another one: only the drawings' layer has it.
            Column(title="Done", layer=CLOUD),
            Column(title="Cut-outs"),
        ),
        rows=tuple(rows),
    )


def cuts_table(scheme: Scheme, abreast: int = CUTS_ABREAST) -> Table:
    """Return the cuts whose numbers have no room on the diagrams of their sheets.

    Args:
        scheme: The whole answer.
        abreast: How many cuts stand in a row.
    """
    units = scheme.project.units
    pieces = cut_pieces(scheme)
    rows: list[tuple[str, ...]] = []
    for sheet in scheme.cut_plan.every:
        cuts = listed_cuts(sheet, pieces, units)
        for first in range(0, len(cuts), abreast):
            cells = [_cut_cells(cut, units) for cut in cuts[first : first + abreast]]
            cells += [("", "")] * (abreast - len(cells))
            rows.append((sheet.id, *(word for cell in cells for word in cell)))
    pair = (Column(title="Cut", right=True), Column(title="At, from and to"))
    return Table(columns=(Column(title="Sheet"), *pair * abreast), rows=tuple(rows))


def _cut_cells(cut: Cut, units: Units) -> tuple[str, str]:
    """Return the number of a cut and where it runs: see :data:`CUTS_READ`."""
    at, a, b = (cut.y0, cut.x0, cut.x1) if cut.rip else (cut.x0, cut.y0, cut.y1)
    way = "rip" if cut.rip else "across"
    low, high = (on_tape(v, units) for v in (min(a, b), max(a, b)))
    return str(cut.number), f"{way} at {on_tape(at, units)}, {low} to {high}"


def small_pieces_table(scheme: Scheme) -> Table:
    """Return the back-blocks that are cut from whole sheets, and where on them they lie."""
    units = scheme.project.units
    pieces = {p.id for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    names = names_of_things(scheme)
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
                by_room((p.piece,), names),
                on_tape(p.length, units),
                on_tape(p.width, units),
                f"x {on_tape(p.x, units)}, y {on_tape(p.y, units)}",
            )
            for sheet in scheme.cut_plan.every
            for p in sheet.placements
            if p.piece not in pieces
        ),
    )


ON_SITE = "Offcuts on site, not to be bought"
"""Heading of the table of the offcuts on site."""


def on_site_table(scheme: Scheme) -> Table:
    """Return every offcut on site with the pieces that are cut from it; none is bought."""
    units = scheme.project.units
    marks = {p.id: p.mark for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    names = names_of_things(scheme)
    cut = {s.id: s for s in scheme.cut_plan.on_site}
    numbers = numbers_of(scheme.project.offcuts)
    rows: list[tuple[str, ...]] = []
    for offcut in scheme.project.offcuts:
        for name in numbers[offcut.id]:
            sheet = cut.get(name)
            given = [marks[p.piece] for p in sheet.placements if p.piece in marks] if sheet else []
            blocks = [n for o in sheet.offcuts for n in o.used_for] if sheet else []
            words = [*given, *([f"back-blocks: {runs_by_room(blocks, names)}"] if blocks else [])]
            rows.append(
                (
                    name,
                    board_name(scheme, offcut.board),
                    f"{write_length(offcut.length, units)} × {write_length(offcut.width, units)}",
                    EDGE_WORDS[offcut.recessed],
                    offcut.note,
                    ", ".join(words) or "nothing: it saves no board",
                )
            )
    return Table(
        columns=(
            Column(title="Offcut"),
            Column(title="Board", unbroken=True),
            Column(title="Length × width", right=True),
            Column(title="Edges"),
            Column(title="Where"),
            Column(title="Cut from it"),
        ),
        rows=tuple(rows),
    )


def offcuts_table(scheme: Scheme) -> Table:
    """Return the offcuts worth keeping with their edges, and the back-blocks to cut from others.

    Offcuts to keep that are alike stand together, and so do back-blocks of one size from one sheet.
    """
    units = scheme.project.units
    names = names_of_things(scheme)
    rows: list[tuple[str, str, str, str, str]] = []
    kept: dict[tuple[str, str, str], list[str]] = {}
    for s in scheme.cut_plan.every:
        found = scheme.catalogue.board(s.board)
        board = found.letter if found else s.board  # as over the diagrams
        blocks: dict[str, list[str]] = {}
        for o in s.offcuts:
            size = f"{on_tape(o.length, units)} × {on_tape(o.width, units)}"
            if o.used_for:
                blocks.setdefault(size, []).extend(o.used_for)
            elif o.keep:
                edges = f"{EDGE_LETTERS[o.low]} {EDGE_LETTERS[o.high]}"
                kept.setdefault((board, size, edges), []).append(s.id)
        for size, ids in blocks.items():
            words = (
                f"{len(ids)} back-block{'s' if len(ids) > 1 else ''}: {runs_by_room(ids, names)}"
            )
            rows.append((s.id, board, size, "", words))
    keep = [(numbers_in_words(ids), *alike, "keep") for alike, ids in kept.items()]
    return Table(
        columns=(
            Column(title="From", unbroken=True),
            Column(title="Board", unbroken=True),
            Column(title="Size", right=True),
            Column(title="Edges"),
            Column(title="For"),
        ),
        rows=(*keep, *rows),
    )
