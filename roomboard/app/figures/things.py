"""Which thing of the room is held: what a drawing calls by layer and ref, found in the model."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from roomboard.app.desk import Desk, Held
from roomboard.core.project import Bulkhead, Column, Room
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.surface import Support, SupportKind
from roomboard.drawing.measured import MEASURES, PLACE

ROOM, WALL, CORNER, OPENING = "room", "wall", "corner", "opening"
ZONE, MEMBER, STUD, NOGGING, FRAME = "zone", "member", "stud", "nogging", "frame"
SURFACE, PIECE, JOINT, TRIMMER = "surface", "piece", "joint", "trimmer"
BULKHEAD, COLUMN, BLOCK, SHEET = "bulkhead", "column", "back_block", "sheet"

LAYERS: dict[str, str] = {
    WALL: "wall",
    OPENING: "opening",
    ZONE: "zone",
    MEMBER: "joist",
    STUD: "joist",
    NOGGING: "joist",
    FRAME: "joist",
    BULKHEAD: "bulkhead",
    COLUMN: "column",
    SURFACE: "surface",
    PIECE: "sheet",
    TRIMMER: "trimmer",
    BLOCK: "back_block",
}
"""The layer each kind of thing is drawn on."""

_BEFORE = tuple(f"{name}:" for name in (*MEASURES, "fold"))
"""What refs of dimensions begin with; the thing measured follows."""
_FRAMING = {"joist", MEMBER, STUD, NOGGING}
_ON_SHEET = re.compile(r"(S\d+)[:-]")
"""How refs of cuts, offcuts and dimensions of a stock sheet begin."""
_NUMBER = re.compile(r"(\d+)[a-z]?$")


@dataclass(frozen=True, slots=True)
class Thing:
    """A thing of the room shown.

    Attributes:
        kind: Which kind of thing.
        ref: Its id there.
        surface: Ref of the surface it lies on, or empty.
    """

    kind: str
    ref: str
    surface: str = ""


def box_of(room: Room, ref: str) -> Bulkhead | Column | None:
    """Return the bulkhead or the column that a ref of a drawing names, or None.

    Args:
        room: The room shown.
        ref: Such as ``"column:C1"`` or ``"bulkhead:B1:front"``.
    """
    layer, _, rest = ref.partition(":")
    ident = rest.partition(":")[0]
    boxes: tuple[Bulkhead | Column, ...] = ()
    if layer == BULKHEAD:
        boxes = room.bulkheads
    elif layer == COLUMN:
        boxes = room.columns
    return next((box for box in boxes if box.id == ident), None)


def thing_of(desk: Desk, held: Held | None) -> Thing | None:
    """Return the thing that is held; the room where nothing is, None where it is no more.

    Args:
        desk: The desk.
        held: What was picked, as the drawing has it.
    """
    room = desk.room
    if room is None:
        return None
    if held is None:
        return Thing(ROOM, room.id)
    if held.kind == CORNER:
        return Thing(CORNER, held.ref)
    ref = held.ref
    for before in _BEFORE:
        ref = ref.removeprefix(before)
    for found in _candidates(desk, room, held, ref):
        return found
    on_sheet = _ON_SHEET.match(ref)
    if on_sheet is not None:
        return next(_sheets(desk, on_sheet[1]), None)
    if ref in {"floor", "start", "packer"} and held.surface:
        return Thing(SURFACE, held.surface, held.surface)
    return Thing(ROOM, room.id) if ref in {"height", room.id} else None


def _candidates(desk: Desk, room: Room, held: Held, ref: str) -> Iterator[Thing]:
    """Yield what a ref can mean, the likeliest for its layer first."""
    surfaces = _surfaces(desk, held.surface)
    if held.kind in _FRAMING or held.ref.startswith(f"{PLACE}:"):
        yield from _supports(room, surfaces, ref)
    if held.kind == ZONE:
        yield from (Thing(ZONE, z.id, held.surface) for z in room.joists if z.id == ref)
    for s in surfaces:
        if ref in {s.surface.ref, s.surface.key}:
            yield Thing(SURFACE, s.surface.ref, s.surface.ref)
    for s in surfaces:
        yield from (
            Thing(PIECE, p.id, s.surface.ref)
            for p in s.set_out.pieces
            if ref == p.id or (ref == p.mark and s.surface.ref == held.surface)
        )
        yield from (Thing(JOINT, j.id, s.surface.ref) for j in s.joints if j.id == ref)
        yield from (Thing(TRIMMER, t.tag, s.surface.ref) for t in s.trimmers if t.tag == ref)
    yield from (Thing(OPENING, o.id, held.surface) for o in room.openings if o.id == ref)
    wall = ref.removeprefix("wall:")
    yield from (Thing(WALL, w.id) for w in room.walls if w.id == wall)
    yield from (Thing(ZONE, z.id, held.surface) for z in room.joists if z.id == ref)
    for kind in (BULKHEAD, COLUMN):
        box = box_of(room, f"{kind}:{ref.removeprefix(f'{kind}:')}")
        if box is not None:
            yield Thing(kind, box.id)
    for s in surfaces:
        blocks = s.fixings.back_blocks
        yield from (Thing(BLOCK, b.id, s.surface.ref) for b in blocks if b.id == ref)
    yield from _sheets(desk, ref)
    yield from _supports(room, surfaces, ref)
    yield from _elsewhere(desk, ref)


def _elsewhere(desk: Desk, ref: str) -> Iterator[Thing]:
    """Yield a piece or a back-block of any room: a stock sheet can serve several."""
    scheme = desk.document.scheme
    name, slash, block = ref.partition("/")
    for room in scheme.rooms if scheme and slash else ():
        if room.room.id != name:
            continue
        for s in room.surfaces:
            yield from (Thing(PIECE, p.id, s.surface.ref) for p in s.set_out.pieces if p.id == ref)
            blocks = s.fixings.back_blocks
            yield from (Thing(BLOCK, b.id, s.surface.ref) for b in blocks if b.id == block)


def _sheets(desk: Desk, ref: str) -> Iterator[Thing]:
    scheme = desk.document.scheme
    sheets = scheme.cut_plan.every if scheme else ()
    yield from (Thing(SHEET, s.id) for s in sheets if s.id == ref)


def _surfaces(desk: Desk, first: str) -> list[SurfaceScheme]:
    """Return what was worked out for the surfaces of the room shown, one of them first."""
    scheme = desk.room_scheme
    found = list(scheme.surfaces) if scheme else []
    return sorted(found, key=lambda s: s.surface.ref != first)


def _supports(room: Room, surfaces: list[SurfaceScheme], ref: str) -> Iterator[Thing]:
    for s in surfaces:
        for support in s.surface.supports:
            if support.id == ref:
                yield _framing(room, s, support)


def _framing(room: Room, s: SurfaceScheme, support: Support) -> Thing:
    """Return what a piece of framing is to the user: what carries an opening is the opening."""
    ref = s.surface.ref
    if support.kind is SupportKind.TRIMMER or not support.existing:
        return Thing(TRIMMER, support.id, ref)
    if support.kind in {SupportKind.JAMB, SupportKind.HEAD, SupportKind.SILL}:
        opening = next((o.id for o in room.openings if support.id.startswith(o.id)), "")
        return Thing(OPENING, opening, ref) if opening else Thing(FRAME, support.id, ref)
    kinds = {SupportKind.STUD: STUD, SupportKind.NOGGING: NOGGING, SupportKind.PLATE: FRAME}
    kind = kinds.get(support.kind, MEMBER)
    if kind in {STUD, NOGGING} and not s.surface.key.startswith("wall:"):
        kind = FRAME
    return Thing(kind, support.id, ref)


def scheme_of(desk: Desk, surface: str) -> SurfaceScheme | None:
    """Return what was worked out for a surface of any room, by its ref."""
    scheme = desk.document.scheme
    return next(
        (
            s
            for r in (scheme.rooms if scheme else ())
            for s in r.surfaces
            if s.surface.ref == surface
        ),
        None,
    )


def wall_of(room: Room, surface: str) -> str:
    """Return the id of the wall a surface's ref stands for, or empty."""
    kind, _, rest = surface.rpartition("/")[2].partition(":")
    wall = rest.partition(".")[0]
    return wall if kind == WALL and room.wall(wall) is not None else ""


def number_of(support: str) -> int:
    """Return the number of a stud, nogging or joist from 0, as its id has it; -1 for none."""
    found = _NUMBER.search(support.partition("/")[0])  # a part of a face bears the part's number
    return int(found[1]) - 1 if found else -1
