"""Stock sheets that stay as they are: those cut already, and those issued whose pieces stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.cutting.keeping import Kept, Lie
from roomboard.core.revision import APART
from roomboard.core.revision_done import piece_of
from roomboard.core.revision_words import same_extent, same_rings
from roomboard.core.sheeting import EdgeNeed

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from roomboard.core.parts import RoomScheme
    from roomboard.core.project import Project
    from roomboard.core.revision import DonePiece, Issued, IssuedPiece
    from roomboard.core.sheeting import Piece


def kept_sheets(project: Project, rooms: Sequence[RoomScheme]) -> tuple[Kept, ...]:
    """Return the stock sheets that stay: first those cut already, then those issued.

    Args:
        project: With its issues and the pieces that are cut or hung.
        rooms: What is set out.
    """
    faces = {s.surface.ref: s.set_out.pieces for r in rooms for s in r.surfaces}
    found = list(_cut(project.done, faces))
    taken = {i for k in found for i in (*k.pieces, *k.beside)}
    if project.issues and project.keep_issued:
        found += [
            k for k in _issued(project.issues[-1], faces) if not taken & {x.piece for x in k.lies}
        ]
    return tuple(found)


def _cut(done: Sequence[DonePiece], faces: Mapping[str, tuple[Piece, ...]]) -> list[Kept]:
    """Return the sheets that are cut already, with the pieces now laid where theirs are.

    A piece that is to be larger than it was cut has to come from another sheet.
    """
    groups: dict[tuple[str, str, float, float], list[tuple[str, DonePiece]]] = {}
    for d in done:
        piece = piece_of(d, faces.get(d.surface, ()))
        if piece is None or not d.piece.sheet or piece.board != d.piece.board:
            continue
        if piece.length > d.piece.length + APART or piece.width > d.piece.width + APART:
            continue
        key = (d.piece.board, d.piece.sheet, *d.piece.stock)
        groups.setdefault(key, []).append((piece.id, d))
    found: list[Kept] = []
    for (board, name, length, width), members in sorted(groups.items(), key=lambda g: g[0]):
        pieces = tuple(dict.fromkeys(i for i, _ in members))
        # Marks may have counted on since: what was said last is nearest to what there is now.
        others = dict.fromkeys(i for _, d in reversed(members) for i in d.beside)
        beside = tuple(i for i in others if i not in pieces)
        edges = {edge for _, d in members for edge in recessed_edges(d.piece)}
        found.append(Kept(name, board, length, width, pieces, beside, recessed=len(edges)))
    return found


def recessed_edges(piece: IssuedPiece) -> Iterator[float]:
    """Yield the long edges of the sheet a piece was cut from that are seen to be recessed on it."""
    low, high = (piece.high, piece.low) if piece.turned else (piece.low, piece.high)
    y = piece.on[1]
    for edge, at, end in ((low, y, 0.0), (high, y + piece.width, piece.stock[1])):
        if edge == EdgeNeed.RECESSED and abs(at - end) <= APART:
            yield end


def _issued(issued: Issued, faces: Mapping[str, tuple[Piece, ...]]) -> list[Kept]:
    """Return the sheets of an issue of which not one piece has changed."""
    groups: dict[tuple[str, str, float, float], list[tuple[str, IssuedPiece]]] = {}
    for surface in issued.surfaces:
        for piece in surface.pieces:
            if piece.sheet:
                key = (piece.sheet, piece.board, *piece.stock)
                groups.setdefault(key, []).append((surface.ref, piece))
    found: list[Kept] = []
    for (name, board, length, width), members in groups.items():
        now = [_unchanged(piece, faces.get(ref, ())) for ref, piece in members]
        lies = tuple(
            Lie(p.id, *piece.on, piece.turned)
            for p, (_, piece) in zip(now, members, strict=True)
            if p is not None
        )
        if len(lies) == len(members) == len({x.piece for x in lies}):
            found.append(Kept(name, board, length, width, (), (), lies))
    return found


def _unchanged(was: IssuedPiece, pieces: Sequence[Piece]) -> Piece | None:
    """Return the piece that still is what was issued, in the same place; None if none is."""
    for piece in pieces:
        if (
            piece.board == was.board
            and same_extent(piece.region.bounds, was.at)
            and same_rings(piece.face_up.rings, was.outline)
            and _takes(piece.low, was.low)
            and _takes(piece.high, was.high)
        ):
            return piece
    return None


def _takes(need: EdgeNeed, edge: str) -> bool:
    return need is EdgeNeed.ANY or need.value == edge
