"""Tables of pieces: the cut list, what is cut from what, offcuts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roomboard.core.cutting import Cut, CutSheet, EdgeIs, Placement
from roomboard.core.plane import Region, difference
from roomboard.core.project import Units
from roomboard.core.read_offcut import EDGE_WORDS, numbers_of
from roomboard.core.revision_done import states
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme
from roomboard.core.sheeting import EdgeNeed, Piece
from roomboard.core.tapers import Taper, unnotched
from roomboard.core.units import on_tape, write_length, write_mass
from roomboard.drawing.cutting_diagram import EDGE_LETTERS, cut_pieces, is_round, listed_cuts
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.room_names import (
    board_name,
    by_room,
    names_of_things,
    numbers_in_words,
    runs_by_room,
)
from roomboard.drawing.set_revision_clouds import CLOUD
from roomboard.drawing.tapering import size_words, taper_in_words

CUTS_ABREAST = 2
"""So many cuts stand in a row of their table."""
CUTS_ONE_BY_ONE = "Cuts without room for their numbers"
"""Heading of the table of the cuts of sheets whose diagrams have no room for all numbers."""
CUTS_READ = (
    "Face up, in order: rips up from the low edge, cuts across from the left end; then from and to."
)
"""How the table of cuts is read."""
NEEDS: dict[EdgeNeed, str] = {EdgeNeed.RECESSED: "R", EdgeNeed.CUT: "C", EdgeNeed.ANY: "any"}
"""Letters of edges before they are cut."""


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
    listed = {name for own in numbers.values() for name in own}
    for name, sheet in cut.items():
        if name not in listed:
            rows.append(_not_listed(scheme, sheet, marks))
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


def _not_listed(scheme: Scheme, sheet: CutSheet, marks: Mapping[str, str]) -> tuple[str, ...]:
    """Return the row of an offcut that is cut already and not listed any more."""
    units = scheme.project.units
    return (
        sheet.id,
        board_name(scheme, sheet.board),
        f"{write_length(sheet.length, units)} × {write_length(sheet.width, units)}",
        EDGE_WORDS[(sheet.low, sheet.high).count(EdgeIs.RECESSED)],
        "not listed any more",
        f"{', '.join(marks[p.piece] for p in sheet.placements if p.piece in marks)}: cut already",
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
