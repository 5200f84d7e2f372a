"""Taking up a cutting: what a search found goes into the project, and is checked whenever used."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.project import AdoptedPiece, AdoptedSheet, SurfaceChoice

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from roomboard.core.cutting import CutPlan, CutSheet
    from roomboard.core.parts import RoomScheme
    from roomboard.core.project import Project
    from roomboard.core.scheme import Scheme


def with_cutting(scheme: Scheme) -> Project:
    """Return the project of an answer with its cutting: it is cut like this when opened again.

    Args:
        scheme: The answer. Sheets for back-blocks alone are left out: they follow from the rest.
    """
    made = _adopted(scheme.cut_plan.sheets, pieces_of(scheme.rooms))
    return replace(scheme.project, cutting=made)


def pieces_of(rooms: Iterable[RoomScheme]) -> set[str]:
    """Return the ids of all pieces set out."""
    return {p.id for r in rooms for s in r.surfaces for p in s.set_out.pieces}


def without_cutting(project: Project) -> Project:
    """Return the project cut the usual way."""
    return replace(project, cutting=())


def as_chosen(project: Project) -> Project:
    """Return the project with what the user chose alone: nothing that a search chose holds."""
    rooms = tuple(replace(r, choices=_by_user(r.choices)) for r in project.rooms)
    return project if rooms == project.rooms else replace(project, rooms=rooms)


def _by_user(choices: Iterable[SurfaceChoice]) -> tuple[SurfaceChoice, ...]:
    own = ((c, c.by_user) for c in choices)
    return tuple(u for c, u in own if u is c or u != SurfaceChoice(surface=u.surface))


def boards_cut_otherwise(
    wanted: Sequence[AdoptedSheet], plan: CutPlan, rooms: Iterable[RoomScheme]
) -> tuple[str, ...]:
    """Return the boards for which the cutting taken up does not hold any more, in order.

    Args:
        wanted: The sheets that were taken up.
        plan: How everything is cut.
        rooms: What is set out.
    """
    made = _adopted(plan.sheets, pieces_of(rooms))
    return tuple(
        board
        for board in dict.fromkeys(s.board for s in wanted)
        if {_key(s) for s in wanted if s.board == board}
        != {_key(s) for s in made if s.board == board}
    )


def _key(sheet: AdoptedSheet) -> tuple[object, ...]:
    lies = ((p.piece, round(p.x, 2), round(p.y, 2), p.turned) for p in sheet.pieces)
    return (round(sheet.length, 2), round(sheet.width, 2), tuple(sorted(lies)))


def _adopted(sheets: Iterable[CutSheet], pieces: set[str]) -> tuple[AdoptedSheet, ...]:
    return tuple(
        AdoptedSheet(
            board=s.board,
            length=s.length,
            width=s.width,
            pieces=tuple(
                AdoptedPiece(
                    piece=p.piece, x=p.x, y=p.y, length=p.length, width=p.width, turned=p.turned
                )
                for p in s.placements
            ),
        )
        for s in sheets
        if any(p.piece in pieces for p in s.placements)
    )
