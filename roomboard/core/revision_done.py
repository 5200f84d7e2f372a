"""Pieces that are cut or hung: their joints are locked, their sheets kept, misfits are said."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.choices import ends_of, lock_butt, put_choice, surface_key
from roomboard.core.editing.refusal import EditError
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.moving import as_measured, kept_start
from roomboard.core.plane import snap
from roomboard.core.project import AtChange, SheetDirection
from roomboard.core.revision import APART, DonePiece, DoneState
from roomboard.core.revision_imprint import cuts_of, issued_piece
from roomboard.core.revision_words import box_ring, same_extent, same_rings
from roomboard.core.set_out import set_out
from roomboard.core.setting import Setting

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Region
    from roomboard.core.project import Project, Room, SurfaceChoice
    from roomboard.core.revision import Extent, IssuedPiece
    from roomboard.core.scheme import Scheme
    from roomboard.core.sheeting import Piece, SetOut


def mark_done(
    project: Project, scheme: Scheme, surface: str, mark: str, state: DoneState
) -> Project:
    """Mark a piece as cut or hung: its course and its joints are locked where they are.

    Args:
        project: The project.
        scheme: What is worked out for it.
        surface: Ref of the piece's surface.
        mark: Its mark.
        state: How far it has come.

    Raises:
        EditError: If there is no such piece, or it is on no stock sheet.
    """
    found = next((s for r in scheme.rooms for s in r.surfaces if s.surface.ref == surface), None)
    piece = next((p for p in found.set_out.pieces if p.mark == mark), None) if found else None
    if found is None or piece is None:
        raise EditError(f"There is no piece {mark} there any more; choose one that is drawn.")
    cuts = cuts_of(scheme)
    if piece.id not in cuts:
        raise EditError(f"Piece {mark} fits no stock sheet, so it cannot be cut yet.")
    sheet = cuts[piece.id][0]
    made = DonePiece(
        state=state,
        surface=surface,
        piece=issued_piece(piece, cuts),
        beside=tuple(p.piece for p in sheet.placements if p.piece != piece.id),
    )
    setting = Setting(practice=scheme.practice, catalogue=scheme.catalogue, choices=project.choices)
    rooms = tuple(
        _locked(r, found, piece, setting) if r.id == found.surface.room else r
        for r in project.rooms
    )
    before = done_of(project, found, piece)
    others = tuple(d for d in project.done if d not in before and not _same_place(d, made))
    return replace(project, rooms=rooms, done=(*others, made))


def unmark_done(project: Project, face: SurfaceScheme, piece: Piece) -> Project:
    """Take the mark of a piece that is cut or hung off again; its joints stay locked.

    Args:
        project: The project.
        face: The piece's surface as it is worked out.
        piece: The piece; it may have been cut under another mark.

    Raises:
        EditError: If it is not marked.
    """
    made = done_of(project, face, piece)
    if not made:
        raise EditError(f"Piece {piece.mark} is marked neither as cut nor as hung.")
    return replace(project, done=tuple(d for d in project.done if d not in made))


def done_of(project: Project, face: SurfaceScheme, piece: Piece) -> tuple[DonePiece, ...]:
    """Return what is cut or hung already in the place of a piece; several where it was several.

    Args:
        project: The project.
        face: The piece's surface as it is worked out.
        piece: The piece.
    """
    own = (d for d in project.done if d.surface == face.surface.ref)
    return tuple(d for d in own if piece_of(d, face.set_out.pieces) == piece)


def states(scheme: Scheme) -> dict[str, DoneState]:
    """Return how far the pieces have come that are cut or hung, by their ids."""
    faces = {s.surface.ref: s.set_out.pieces for r in scheme.rooms for s in r.surfaces}
    found: dict[str, DoneState] = {}
    for done in scheme.project.done:
        piece = piece_of(done, faces.get(done.surface, ()))
        if piece is not None:
            found[piece.id] = done.state
    return found


def lost(project: Project, scheme: Scheme) -> tuple[DonePiece, ...]:
    """Return the pieces that are cut or hung where nothing is lined any more."""
    faces = {s.surface.ref: s.set_out.pieces for r in scheme.rooms for s in r.surfaces}
    return tuple(d for d in project.done if piece_of(d, faces.get(d.surface, ())) is None)


def forget_lost(project: Project, scheme: Scheme) -> Project:
    """Take the marks off the pieces that are cut or hung where nothing is lined any more.

    Raises:
        EditError: If there are none.
    """
    gone = lost(project, scheme)
    if not gone:
        raise EditError("Every piece that is cut or hung has its place.")
    return replace(project, done=tuple(d for d in project.done if d not in gone))


def _same_place(a: DonePiece, b: DonePiece) -> bool:
    return a.surface == b.surface and same_extent(a.piece.at, b.piece.at)


def _locked(room: Room, scheme: SurfaceScheme, piece: Piece, setting: Setting) -> Room:
    """Fix everything that the place of a piece hangs on, as it is laid now."""
    key = surface_key(room, scheme.surface.key)
    choice = room.choice(key)
    butts = room
    for s in ends_of(piece, scheme.set_out.butts):
        butts = lock_butt(butts, scheme.surface.key, piece.field, piece.course, s)
    fixed = replace(
        choice,
        direction=_direction(choice, scheme),
        at_change=AtChange.TURN if choice.at_change is AtChange.AUTO else choice.at_change,
        start=kept_start(scheme.set_out, choice),
        butts=butts.choice(key).butts,
        own=None,
    )
    return put_choice(room, _strongest(fixed, scheme, piece, setting))


def _direction(choice: SurfaceChoice, scheme: SurfaceScheme) -> SheetDirection:
    for direction in (choice.direction, scheme.surface.direction):
        if direction is not SheetDirection.AUTO:
            return direction
    return SheetDirection.ACROSS


def _strongest(
    fixed: SurfaceChoice, scheme: SurfaceScheme, piece: Piece, setting: Setting
) -> SurfaceChoice:
    """Fix the widths of sheets and the first course too, as far as all stays where it is."""
    courses = [c for c in scheme.set_out.courses if c.field == piece.field]
    widths = fixed.widths or tuple(sorted({c.sheet_width for c in scheme.set_out.courses}))
    first = fixed.first_course
    if len(courses) > 1 and not any(n == piece.field for n, _ in first):
        one = min(courses, key=lambda c: c.number)
        first = tuple(sorted((*first, (piece.field, snap(one.t1 - one.t0)))))
    surface = as_measured(scheme)
    board = setting.board(surface.board, surface.place)
    now = _laid(scheme.set_out)
    for choice in (
        replace(fixed, widths=widths, first_course=first),
        replace(fixed, widths=widths),
        replace(fixed, first_course=first),
    ):
        if _laid(set_out(surface, board, setting, choice)) == now:
            return choice
    return fixed


def _laid(laid: SetOut) -> list[tuple[str, Region]]:
    return [(p.mark, p.region) for p in laid.pieces]


# --- what became of it -------------------------------------------------------------------


def piece_of(done: DonePiece, pieces: Sequence[Piece]) -> Piece | None:
    """Return the piece that is worked out where one was made; marks may have counted on.

    Args:
        done: The piece as it was made.
        pieces: The pieces of its surface now.
    """
    made = done.piece
    same = next(
        (p for p in pieces if same_extent(p.region.bounds, made.at) and _same_shape(p, made)), None
    )
    if same is not None:
        return same
    best = max(pieces, key=lambda p: _shared(p.region.bounds, made.at), default=None)
    if best is None or not _shared(best.region.bounds, made.at):
        return None
    return best


def _same_shape(piece: Piece, made: IssuedPiece) -> bool:
    return same_rings(piece.face_up.rings, made.outline)


def _shared(a: Extent, b: Extent) -> float:
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return wide * high if wide > 0 and high > 0 else 0.0


def done_findings(scheme: Scheme) -> Iterator[Finding]:
    """RB505: pieces that are cut or hung already and do not fit what is worked out now.

    Args:
        scheme: What is worked out.
    """
    faces = {s.surface.ref: s for r in scheme.rooms for s in r.surfaces}
    cuts = cuts_of(scheme)
    for done in scheme.project.done:
        face = faces.get(done.surface)
        piece = piece_of(done, face.set_out.pieces) if face is not None else None
        if face is None or piece is None:
            yield _finding(
                done,
                None,
                Severity.WARNING,
                "has no place any more: nothing is lined there",
                ("forget pieces without a place", "see whether the measure is right"),
            )
            continue
        now = issued_piece(piece, cuts)
        yield from _misfits(done, now)


def _misfits(done: DonePiece, now: IssuedPiece) -> Iterator[Finding]:
    made, state = done.piece, done.state.value
    fits = True
    for name, was, wanted in (
        ("long", made.length, now.length),
        ("wide", made.width, now.width),
    ):
        if abs(was - wanted) <= APART:
            continue
        fits = False
        if wanted > was:
            yield _finding(
                done,
                now,
                Severity.BLOCK,
                f"is {state} {{was}} {name}, but {{wanted}} is wanted there: it is {{off}} too "
                f"{'short' if name == 'long' else 'narrow'}",
                (
                    "cut a new piece: take the mark off this one; the order counts its sheet once",
                    "see whether the measure is right",
                ),
                (was, wanted),
            )
        else:
            yield _finding(
                done,
                now,
                Severity.WARNING,
                f"is {state} {{was}} {name}, but only {{wanted}} is wanted there: cut {{off}} off",
                ("cut it to size and mark it again", "see whether the measure is right"),
                (was, wanted),
            )
    if not fits:
        return
    if not same_rings(now.outline, made.outline):
        yield _finding(
            done,
            now,
            Severity.WARNING,
            f"is {state} with other cut-outs or slopes than are wanted now",
            ("cut a new piece: take the mark off this one", "see whether the measure is right"),
        )
    elif not same_extent(now.at, made.at):
        apart = max(abs(a - b) for a, b in zip(now.at, made.at, strict=True))
        yield _finding(
            done,
            now,
            Severity.WARNING,
            f"is {state}, and its place now lies {{off}} from where it was",
            ("see whether the measure is right", "lock the joints beside it again"),
            (apart, 0.0),
        )
    if (now.low, now.high) != (made.low, made.high):
        yield _finding(
            done,
            now,
            Severity.WARNING,
            f"is {state} with the edges {made.low} and {made.high} (face up, low and high), but "
            f"{now.low} and {now.high} are counted on",
            ("see to the joint beside it", "take the mark off it and cut a new piece"),
        )


def _finding(
    done: DonePiece,
    now: IssuedPiece | None,
    severity: Severity,
    text: str,
    remedies: tuple[str, ...],
    sizes: tuple[float, float] | None = None,
) -> Finding:
    params: tuple[tuple[str, float], ...] = ()
    if sizes is not None:
        was, wanted = sizes
        params = (("was", was), ("wanted", wanted), ("off", abs(was - wanted)))
    called = now is not None and now.mark != done.piece.mark
    return Finding(
        code="RB505",
        severity=severity,
        text=f"Piece {done.piece.mark}{f', now {now.mark},' if called and now else ''} {text}.",
        params=params,
        place=Place(
            room=done.room,
            surface=done.surface,
            item=now.mark if now is not None else done.piece.mark,
            line=box_ring(now.at) if now is not None else (),
        ),
        found=sizes[0] if sizes else None,
        required=sizes[1] if sizes else None,
        remedies=remedies,
    )
