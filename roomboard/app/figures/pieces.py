"""What is told of pieces, joints, trimmers and stock sheets, and their locks."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling, board_name
from roomboard.app.figures.lines import control_place, line_of
from roomboard.app.figures.surfaces import sheet_figures
from roomboard.app.figures.things import scheme_of
from roomboard.app.words import tr
from roomboard.core.editing import choices
from roomboard.core.joints import JOINT_WORDS, Joint, JointKind
from roomboard.core.plane import distance_to_segment
from roomboard.core.project import Room
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.sheeting import Butt, Piece
from roomboard.core.units import on_tape, write_mass
from roomboard.drawing.cut_list import edge_letters, sheets_by_piece
from roomboard.drawing.tapering import taper_in_words
from roomboard.drawing.timber_tables import REASONS

EDGE_WORDS = {"R": "recessed", "C": "cut"}
BESIDE = 1.0
"""A butt whose ends lie this near a joint is that joint, mm."""


def piece_figures(desk: Desk, room: Room, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return what is told of a piece, and its lock; a piece of another room is only told."""
    scheme = scheme_of(desk, surface)
    piece = next((p for p in scheme.set_out.pieces if p.id == ref), None) if scheme else None
    if scheme is None or piece is None:
        return ()
    here = piece.room == room.id
    make = Filling(desk, piece.mark)
    units = make.units
    size = " × ".join(on_tape(x, units) for x in (piece.length, piece.width))
    lock = _piece_lock(make, room, scheme, piece) if here else ()
    return (
        *(f for f in lock if f.put is not None),
        make.told(tr("Mark"), piece.mark, tr("Written on its back and on the drawings.")),
        make.told(tr("Size"), size, tr("Along the sheet × across it.")),
        *(
            make.told(tr("Tapers"), taper_in_words(taper, units), tr("As it lies face up."))
            for taper in scheme.set_out.tapers_of(piece.mark)
        ),
        make.told(tr("Board"), board_name(desk, piece.board)),
        *_from_stock(make, piece),
        make.told(tr("Weighs"), write_mass(piece.mass_kg, units)),
        make.told(tr("Lifted by"), _people(desk, piece)),
        make.told(tr("Goes up as"), tr("number {number} in the room", number=piece.hang)),
        *(f for f in lock if f.put is None),
        *(sheet_figures(desk, room, scheme) if here else _where(make, scheme)),
    )


def _where(make: Filling, scheme: SurfaceScheme) -> tuple[Figure, ...]:
    room = make.desk.document.shown.room(scheme.surface.room)
    name = room.name if room else scheme.surface.room
    return (make.told(tr("Goes into"), f"{name}, {scheme.surface.name}"),)


def _piece_lock(
    make: Filling, room: Room, scheme: SurfaceScheme, piece: Piece
) -> tuple[Figure, ...]:
    butts, key = scheme.set_out.butts, scheme.surface.key
    ends = choices.ends_of(piece, butts)
    if not ends:
        return (make.told(tr("Place"), tr("from side to side: nothing to lock")),)
    own = room.choice(choices.surface_key(room, key)).by_user
    fixed = {(f, c, round(s)) for f, c, s in own.butts}
    locked = all((piece.field, piece.course, round(s)) in fixed for s in ends)
    return (
        make.flag(
            tr("Locked"),
            locked,
            lambda r, on: (
                choices.lock_piece(r, key, piece, butts)
                if on
                else choices.unlock_piece(r, key, piece, butts)
            ),
            tip=tr("Keeps the butt joints at its ends where they are."),
        ),
    )


def _from_stock(make: Filling, piece: Piece) -> tuple[Figure, ...]:
    scheme = make.desk.document.scheme
    found = sheets_by_piece(scheme).get(piece.id) if scheme else None
    low, high = edge_letters(piece, found[1] if found else None)
    edges = tr(
        "{low} and {high}",
        low=tr(EDGE_WORDS.get(low, "any")),
        high=tr(EDGE_WORDS.get(high, "any")),
    )
    told = make.told(tr("Long edges"), edges)
    if found is None:
        return (told, make.told(tr("Cut from"), tr("no sheet that can be had")))
    sheet = found[0]
    size = " × ".join(on_tape(x, make.units) for x in (sheet.length, sheet.width))
    return (told, make.told(tr("Cut from"), f"{sheet.id}, {size}"))


def _people(desk: Desk, piece: Piece) -> str:
    setting = desk.document.setting
    count = people_to_lift(piece.mass_kg, setting.practice, setting.choices.lift_limit_kg)
    return tr("one person") if count == 1 else tr("{count} people, or a lifter", count=count)


def joint_figures(desk: Desk, room: Room, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return what is told of a joint, and the lock of a butt joint."""
    scheme = desk.surface_scheme(surface)
    joint = next((j for j in scheme.joints if j.id == ref), None) if scheme else None
    if scheme is None or joint is None:
        return ()
    make = Filling(desk, tr("joint {joint}", joint=joint.id))
    units = make.units
    butt = butt_of(scheme, joint)
    figures: list[Figure] = []
    if butt is not None:
        figures.append(_butt_lock(make, room, scheme, butt))
    line = line_of(scheme, joint) if joint.kind is JointKind.CONTROL else None
    if line is not None:
        figures.append(control_place(make, scheme, line))
    words = tr(JOINT_WORDS[joint.kind])
    figures.append(make.told(tr("Kind"), words[:1].upper() + words[1:]))
    figures.append(make.told(tr("Length"), on_tape(joint.length, units, suffix=True)))
    if butt is not None:
        at = tr(
            "{place} along course {course}", place=_along(scheme, butt, make), course=butt.course
        )
        figures.append(make.told(tr("Place"), at))
    figures.append(
        make.told(tr("Between"), tr("{one} and {two}", one=joint.pieces[0], two=joint.pieces[1]))
    )
    behind = joint.support or (tr("back-blocks") if joint.back_blocked else tr("nothing"))
    figures.append(make.told(tr("Behind it"), behind))
    return tuple(figures)


def butt_of(scheme: SurfaceScheme, joint: Joint) -> Butt | None:
    """Return the butt of the set-out that a joint is, or None if it is no butt joint."""
    if not joint.kind.is_butt and joint.kind is not JointKind.CONTROL:
        return None
    frames = {f.number: f.frame for f in scheme.set_out.fields}
    middle = ((joint.a[0] + joint.b[0]) / 2, (joint.a[1] + joint.b[1]) / 2)
    for butt in scheme.set_out.butts:
        frame = frames[butt.field]
        a, b = frame.to_uv((butt.s, butt.t0)), frame.to_uv((butt.s, butt.t1))
        if distance_to_segment(middle, a, b) <= BESIDE:
            return butt
    return None


def _along(scheme: SurfaceScheme, butt: Butt, make: Filling) -> str:
    field = next(f for f in scheme.set_out.fields if f.number == butt.field)
    start = field.frame.region_to_st(field.region).bounds[0]
    return on_tape(butt.s - start, make.units, suffix=True)


def _butt_lock(make: Filling, room: Room, scheme: SurfaceScheme, butt: Butt) -> Figure:
    key = scheme.surface.key
    own = room.choice(choices.surface_key(room, key)).by_user
    fixed = {(f, c, round(s)) for f, c, s in own.butts}
    return make.flag(
        tr("Locked"),
        (butt.field, butt.course, round(butt.s)) in fixed,
        lambda r, on: (
            choices.lock_butt(r, key, butt.field, butt.course, butt.s)
            if on
            else choices.unlock_butt(r, key, butt.field, butt.course, butt.s)
        ),
        tip=tr("A locked joint stays where it is when the room changes."),
    )


def trimmer_figures(desk: Desk, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return what is told of timber to add."""
    scheme = desk.surface_scheme(surface)
    trimmer = next((t for t in scheme.trimmers if t.tag == ref), None) if scheme else None
    if trimmer is None:
        return ()
    make = Filling(desk, trimmer.tag)
    units = make.units
    return (
        make.told(tr("Length"), on_tape(trimmer.length, units, suffix=True)),
        make.told(
            tr("Fixing face"),
            on_tape(trimmer.face, units, suffix=True),
            tr("At least this wide where the sheets are fixed."),
        ),
        make.told(
            tr("Takes"), tr("sheets on both sides") if trimmer.two_sided else tr("one sheet")
        ),
        make.told(
            tr("Fixed as"),
            tr("noggings between members") if trimmer.nogging else tr("one length"),
        ),
        make.told(tr("Why"), tr(REASONS[trimmer.reason])),
    )


def block_figures(desk: Desk, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return what is told of a back-block."""
    scheme = scheme_of(desk, surface)
    blocks = scheme.fixings.back_blocks if scheme else ()
    block = next((b for b in blocks if b.id == ref), None)
    if block is None:
        return ()
    make = Filling(desk, block.id)
    size = " × ".join(on_tape(x, make.units) for x in (block.length, block.width))
    return (make.told(tr("Size"), size), make.told(tr("Behind"), block.joint))


def stock_figures(desk: Desk, ref: str) -> tuple[Figure, ...]:
    """Return what is told of a stock sheet."""
    scheme = desk.document.scheme
    sheets = scheme.cut_plan.every if scheme else ()
    sheet = next((s for s in sheets if s.id == ref), None)
    if sheet is None:
        return ()
    make = Filling(desk, sheet.id)
    units = make.units
    size = " × ".join(on_tape(x, units) for x in (sheet.length, sheet.width))
    kept = [
        " × ".join(on_tape(x, units) for x in (o.length, o.width))
        for o in sheet.offcuts
        if o.keep and not o.used_for
    ]
    return (
        make.told(tr("Size"), size),
        make.told(tr("Board"), board_name(desk, sheet.board)),
        make.told(tr("Weighs"), write_mass(sheet.mass_kg, units)),
        make.told(tr("Cut into"), ", ".join(p.piece for p in sheet.placements)),
        make.told(tr("Cuts"), str(len(sheet.cuts))),
        make.told(tr("To keep"), ", ".join(kept) or tr("nothing")),
    )
