"""The whole answer as JSON: every piece, joint, fastener, cut and order line of a project.

The same scheme always gives the same bytes: keys are sorted, lengths are rounded to a
thousandth of a millimetre, and nothing depends on the clock or on the machine. The shape is
described in ``resources/schema/scheme-1.schema.json``.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import fields, is_dataclass
from enum import StrEnum

from roomboard.core.cutting import CutSheet, Placement
from roomboard.core.findings import Area, Finding, Mass, Param
from roomboard.core.handed import hand_of
from roomboard.core.optimum.weighing import Cost
from roomboard.core.plane import Frame, Point, Region
from roomboard.core.practice import ADVICE, Citation, Practice
from roomboard.core.project import Project
from roomboard.core.revision import DonePiece
from roomboard.core.revision_done import piece_of
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.sheeting import Field, Piece
from roomboard.core.start_lines import start_lines
from roomboard.core.stock import Board, Catalogue
from roomboard.core.surface import Surface
from roomboard.core.tapers import end_sizes
from roomboard.core.wording import place_in_words, say

SCHEMA = 1
"""Number of the scheme file's schema."""

DIGITS = 3
"""Lengths are written to this many decimals of a millimetre."""
FINE_DIGITS = 6
"""Figures of practice, quantities and unit vectors are written to this many decimals."""
LINE = 100
"""What fits into this many characters stands on one line."""

Json = dict[str, "Json"] | list["Json"] | str | int | float | bool | None
"""Anything that JSON can hold."""


def scheme_text(scheme: Scheme) -> str:
    """Return the whole answer as JSON text that ends in a line feed.

    Args:
        scheme: What was worked out.

    Raises:
        ValueError: If a length in it is not a finite number.
    """
    return _written(_scheme(scheme), "") + "\n"


# --- numbers and text --------------------------------------------------------------------


def _rounded(value: float, digits: int = DIGITS) -> int | float:
    """Round a number; whole numbers lose their ``.0`` and there is no minus zero."""
    if isinstance(value, int):
        return value
    short = round(value, digits) + 0.0
    return int(short) if short.is_integer() else short


_ENCODE = json.JSONEncoder(ensure_ascii=False, allow_nan=False, sort_keys=True).encode


def _written(value: Json, indent: str) -> str:
    """Write a value with sorted keys, on one line where it fits."""
    if not isinstance(value, dict | list):
        return _ENCODE(value)
    children = value.values() if isinstance(value, dict) else value
    if not any(isinstance(child, dict | list) for child in children):
        line = _ENCODE(value)
        if len(line) <= LINE:
            return line
    deeper = indent + " "
    if isinstance(value, dict):
        parts = [f"{_ENCODE(key)}: {_written(value[key], deeper)}" for key in sorted(value)]
        left, right = "{", "}"
    else:
        parts = [_written(item, deeper) for item in value]
        left, right = "[", "]"
    if sum(map(len, parts)) + 2 * len(parts) <= LINE and not any("\n" in part for part in parts):
        return left + ", ".join(parts) + right
    return left + "\n" + ",\n".join(deeper + part for part in parts) + "\n" + indent + right


def _plain(value: object, digits: int = DIGITS) -> Json:
    """Turn a value of the model into JSON, field by field, numbers rounded."""
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return value
    if isinstance(value, int | float):
        return _rounded(value, digits)
    if isinstance(value, Region):
        return _region(value)
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return {name: _plain(getattr(value, name), digits) for name in value._fields}
    if isinstance(value, Sequence):
        return [_plain(item, digits) for item in value]
    return _record(value, digits)


def _record(value: object, digits: int = DIGITS) -> dict[str, Json]:
    """Turn a record of the model into a JSON object with all its fields."""
    if not is_dataclass(value):
        raise TypeError(f"{type(value).__name__} has no place in a scheme file")
    return {field.name: _plain(getattr(value, field.name), digits) for field in fields(value)}


def _points(points: Iterable[Point]) -> list[Json]:
    return [[_rounded(u), _rounded(v)] for u, v in points]


def _region(region: Region) -> dict[str, Json]:
    return {"outer": _points(region.outer), "holes": [_points(hole) for hole in region.holes]}


def _frame(frame: Frame) -> dict[str, Json]:
    return {
        "origin": _plain(frame.origin),
        "along": [_rounded(x, FINE_DIGITS + DIGITS) for x in frame.along],
    }


# --- project and practice ----------------------------------------------------------------


def _scheme(scheme: Scheme) -> dict[str, Json]:
    project = scheme.project
    plan = scheme.cut_plan
    placed = {p.piece: (sheet, p) for sheet in plan.every for p in sheet.placements}
    used = {sheet.board for sheet in plan.every} | {
        s.surface.board for room in scheme.rooms for s in room.surfaces
    }
    return {
        "schema": SCHEMA,
        "project": _project(project),
        "practice": _practice(scheme.practice, project),
        "boards": [_board(b) for b in scheme.catalogue.boards if b.id in used],
        "stock": _stock(scheme.catalogue),
        "rooms": [_room(room, placed) for room in scheme.rooms],
        "cut_sheets": [_record(sheet) for sheet in plan.sheets],
        "cut_offcuts": [_record(sheet) for sheet in plan.on_site],
        "unplaced": list(plan.unplaced),
        "done": [_done(done, scheme) for done in project.done],
        "bounds": [_record(bound, FINE_DIGITS) for bound in plan.bounds],
        "linear_cuts": [
            {
                **_record(cut),
                "pieces": [{"id": name, "length": _rounded(length)} for name, length in cut.pieces],
            }
            for cut in scheme.linear
        ],
        "quantities": [
            {
                **_record(line, FINE_DIGITS),
                "inputs": [
                    {"name": name, "value": _rounded(value, FINE_DIGITS)}
                    for name, value in line.inputs
                ],
            }
            for line in scheme.quantities
        ],
        "findings": [_finding(f, project) for f in scheme.findings],
        "optimum": _optimum(scheme),
        "limits": [
            _record(limit, FINE_DIGITS) for limit in (scheme.trade.limits if scheme.trade else ())
        ],
    }


def _optimum(scheme: Scheme) -> Json:
    """Say how good the answer is, kind by kind, or nothing where no best was sought."""
    found = scheme.optimum
    if found is None:
        return None

    def lines(cost: Cost) -> list[Json]:
        return [
            {
                "kind": line.kind,
                "amount": _rounded(line.amount, FINE_DIGITS),
                "weight": _rounded(line.weight, FINE_DIGITS),
                "cost": _rounded(line.cost, FINE_DIGITS),
            }
            for line in cost.lines
        ]

    return {
        "effort": found.effort.value,
        "cost": _rounded(found.cost.total, FINE_DIGITS),
        "searched": _rounded(found.cost.searched, FINE_DIGITS),
        "by_kind": lines(found.cost),
        "usual_cost": _rounded(found.usual.total, FINE_DIGITS),
        "usual_by_kind": lines(found.usual),
        "bound": _rounded(found.bound, FINE_DIGITS),
        "gap": _rounded(found.gap, FINE_DIGITS),
        "proven": found.proven,
        "how": found.how,
        "ways": found.ways,
        "stopped": found.stopped,
        "linear": [
            {"kind": b.kind, "total": _rounded(b.total), "bound": _rounded(b.bound)}
            for b in found.linear
        ],
    }


def _project(project: Project) -> dict[str, Json]:
    return {
        "id": project.id,
        "name": project.name,
        "units": project.units.value,
        "practice": project.practice,
        "building_year": project.building_year,
        "issue": project.issue,
        "issues": [
            {
                "letter": i.letter,
                "date": i.date,
                "by": i.by,
                "note": i.note,
                "sheets": len(i.sheets),
            }
            for i in project.issues
        ],
        "measured_by": project.measured_by,
        "measured_on": project.measured_on,
        "choices": _record(project.choices),
        "offcuts": [_record(o) for o in project.offcuts],
        "acknowledged": [_record(a) for a in project.acknowledged],
    }


def _done(done: DonePiece, scheme: Scheme) -> dict[str, Json]:
    """Say what was made of a piece, and which piece is worked out in its place."""
    faces = (s for r in scheme.rooms for s in r.surfaces if s.surface.ref == done.surface)
    face = next(faces, None)
    now = piece_of(done, face.set_out.pieces) if face is not None else None
    made = done.piece
    return {
        "state": done.state.value,
        "surface": done.surface,
        "mark": made.mark,
        "length": _rounded(made.length),
        "width": _rounded(made.width),
        "low": made.low,
        "high": made.high,
        "stock_length": _rounded(made.stock[0]),
        "stock_width": _rounded(made.stock[1]),
        "piece": now.id if now is not None else None,
    }


def _practice(practice: Practice, project: Project) -> dict[str, Json]:
    def row(value: object, citation: Citation) -> dict[str, Json]:
        return {
            **{k: v for k, v in _record(value, FINE_DIGITS).items() if k != "citation"},
            "source": _citation(citation),
        }

    return {
        "id": practice.id,
        "title": practice.title,
        "edition": practice.edition,
        "units": practice.units,
        "overrides": {key: _plain(value, FINE_DIGITS) for key, value in project.overrides},
        "figures": [row(figure, figure.citation) for figure in practice.figures],
        "framing": [row(line, line.citation) for line in practice.framing],
        "fastening": [row(line, line.citation) for line in practice.fastening],
    }


def _citation(citation: Citation) -> dict[str, Json]:
    return {**_record(citation), "advice": ADVICE[citation.status]}


def _board(board: Board) -> dict[str, Json]:
    apart = {"citation", "mass_citation"}
    return {
        **{k: v for k, v in _record(board).items() if k not in apart},
        "source": _citation(board.citation),
        "mass_source": None if board.mass_citation is None else _citation(board.mass_citation),
    }


def _stock(catalogue: Catalogue) -> dict[str, Json]:
    """Say how linear and loose goods are sold."""

    def row(value: object, citation: Citation) -> dict[str, Json]:
        return {
            **{k: v for k, v in _record(value).items() if k != "citation"},
            "source": _citation(citation),
        }

    return {
        "linear": [row(item, item.citation) for item in catalogue.linear],
        "packs": [row(item, item.citation) for item in catalogue.packs],
    }


# --- rooms and surfaces ------------------------------------------------------------------

Placed = dict[str, tuple[CutSheet, Placement]]


def _room(found: RoomScheme, placed: Placed) -> dict[str, Json]:
    room = found.room
    return {
        "id": room.id,
        "name": room.name,
        "storey": room.storey,
        "outline": _points(room.outline),
        "height": _rounded(room.height),
        "finish_level": room.finish_level,
        "carry_in": _rounded(room.carry_in),
        "carry_in_note": room.carry_in_note,
        "surfaces": [_surface_scheme(s, placed) for s in found.surfaces],
        "trims": [_record(run) for run in found.trims],
    }


def _surface_scheme(found: SurfaceScheme, placed: Placed) -> dict[str, Json]:
    set_out = found.set_out
    return {
        **_surface(found.surface),
        "fields": [_field(field) for field in set_out.fields],
        "courses": [_record(course) for course in set_out.courses],
        "start_lines": [
            {**_record(line), "offset": _rounded(offset)}
            for line, (_, _, _, offset) in zip(
                start_lines(found.surface, set_out), set_out.start, strict=True
            )
        ],
        "pieces": [_piece(piece, placed) for piece in set_out.pieces],
        "butts": [_record(butt) for butt in set_out.butts],
        "joints": [{**_record(j), "length": _rounded(j.length)} for j in found.joints],
        "trimmers": [{**_record(t), "length": _rounded(t.length)} for t in found.trimmers],
        "fasteners": [_plain(f) for f in found.fixings.fasteners],
        "daubs": [_plain(d) for d in found.fixings.daubs],
        "beads": [_record(b) for b in found.fixings.beads],
        "back_blocks": [_record(b) for b in found.fixings.back_blocks],
        "packers": [_record(p) for p in found.packers],
        "comparisons": [_record(c) for c in found.comparisons],
        "packing": [_record(p) for p in found.packing],
    }


def _surface(surface: Surface) -> dict[str, Json]:
    return {
        "ref": surface.ref,
        "key": surface.key,
        "code": surface.code,
        "name": surface.name,
        "place": surface.place,
        "board": surface.board,
        "frame": surface.frame.value,
        "finish_level": surface.finish_level,
        "special": list(surface.special),
        "carry_in": _rounded(surface.carry_in),
        "direction": surface.direction.value,
        "height_above_floor": _rounded(surface.height_above_floor),
        "seen_from": surface.seen_from.value,
        "placing": {
            "origin": _plain(surface.placing.origin),
            "u_axis": [_rounded(x, FINE_DIGITS + DIGITS) for x in surface.placing.u_axis],
            "v_axis": [_rounded(x, FINE_DIGITS + DIGITS) for x in surface.placing.v_axis],
        },
        "outline": _region(surface.outline),
        "region": _region(surface.region),
        "area_m2": _rounded(surface.area_m2, FINE_DIGITS),
        "edges": [_record(e) for e in surface.edges],
        "supports": [_record(s) for s in surface.supports],
        "zones": [_record(z) for z in surface.zones],
        "openings": [_record(o) for o in surface.openings],
        "controls": [_record(c) for c in surface.controls],
        "bands": [_record(b) for b in surface.bands],
        "lights": [_record(light) for light in surface.lights],
        "layer": surface.layer,
        "unlined": [_region(r) for r in surface.unlined],
    }


def _field(field: Field) -> dict[str, Json]:
    return {
        "number": field.number,
        "region": _region(field.region),
        "direction_deg": _rounded(field.direction_deg, FINE_DIGITS),
        "frame": _frame(field.frame),
        "across": field.across,
        "zones": list(field.zones),
    }


def _piece(piece: Piece, placed: Placed) -> dict[str, Json]:
    sheet, laid = placed.get(piece.id, (None, None))
    return {
        "id": piece.id,
        "mark": piece.mark,
        "surface": piece.surface,
        "board": piece.board,
        "field": piece.field,
        "course": piece.course,
        "place": piece.place,
        "hang": piece.hang,
        "region": _region(piece.region),
        "frame": _frame(piece.frame),
        "blank": _plain(piece.blank),
        "length": _rounded(piece.length),
        "width": _rounded(piece.width),
        "end_sizes": _record(end_sizes(piece)),
        "face_up": _region(piece.face_up),
        "face_up_mirrored": piece.face_up_mirrored,
        "hand": hand_of(piece).value,
        "low": {"need": piece.low.value, "actual": laid.low.value if laid else None},
        "high": {"need": piece.high.value, "actual": laid.high.value if laid else None},
        "sheet": None
        if sheet is None or laid is None
        else {
            "id": sheet.id,
            "x": _rounded(laid.x),
            "y": _rounded(laid.y),
            "turned": laid.turned,
        },
        "mass_kg": _rounded(piece.mass_kg),
    }


# --- findings ------------------------------------------------------------------


def _value(value: Param | None) -> Json:
    """Write a value of a finding: a float is a length in mm; masses and areas name their unit."""
    if isinstance(value, Mass | Area):
        return str(value)
    return _rounded(value) if isinstance(value, float) else value


def _finding(finding: Finding, project: Project) -> dict[str, Json]:
    place = finding.place
    return {
        "code": finding.code,
        "title": finding.title,
        "severity": finding.severity.name.lower(),
        "text": finding.text,
        "sentence": say(finding, project.units),
        "params": {name: _value(value) for name, value in finding.params},
        "place": {
            "room": place.room,
            "surface": place.surface,
            "item": place.item,
            "line": _points(place.line),
            "words": place_in_words(place, project),
        },
        "found": _value(finding.found),
        "required": _value(finding.required),
        "source": None if finding.source is None else _citation(finding.source),
        "remedies": list(finding.remedies),
    }
