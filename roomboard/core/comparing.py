"""The ways a surface's sheets could run, each measured in figures."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core import cutting
from roomboard.core.findings import Severity
from roomboard.core.joints import JointKind
from roomboard.core.laying import Laid, lay, support_limit
from roomboard.core.parts import Comparison
from roomboard.core.plane import distance
from roomboard.core.project import AtChange, SheetDirection
from roomboard.core.support import TrimmerReason, find_bare_edges, with_trimmers

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from roomboard.core.cutting import CutPlan
    from roomboard.core.joints import Joint
    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.project import SurfaceChoice
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import Piece, SetOut
    from roomboard.core.surface import Surface

HAIR = 0.03
"""Sizes nearer than this (mm) to a tenth are cut to the tenth."""


def compare_directions(
    surface: Surface, choice: SurfaceChoice, setting: Setting, chosen: SurfaceScheme
) -> tuple[Comparison, ...]:
    """Set out a surface every way its sheets could run, in figures side by side.

    Both sheet directions for every surface; where joists change direction also turning,
    carrying on over battens, and carrying on without.

    Args:
        surface: The surface without the trimmers asked for.
        choice: The user's choice for it.
        setting: Pack, stock and choices.
        chosen: What was worked out for it.
    """
    board = setting.board(surface.board, surface.place)
    current = current_way(surface, choice, chosen.set_out)
    found: list[Comparison] = []
    for name, way in ways_to_run(surface, choice, chosen.set_out):
        if name == current:
            found.append(measure_way(surface, chosen, setting, name, chosen=True))
        else:
            laid = lay(surface, board, way, setting, 1)
            plan = cut_alone(surface, laid.set_out, setting)
            found.append(_measure(surface, laid, plan, name, chosen=False))
    found.sort(key=lambda c: not c.chosen)
    return tuple(found)


def ways_to_run(
    surface: Surface, choice: SurfaceChoice, chosen: SetOut
) -> tuple[tuple[str, SurfaceChoice], ...]:
    """Return the ways a surface's sheets could run, each with the choice that asks for it.

    What the user fixed by hand holds for the present way only.

    Args:
        surface: The surface.
        choice: The user's choice for it.
        chosen: What was set out for it.
    """
    current = current_way(surface, choice, chosen)
    free = replace(choice, butts=(), first_course=())
    across = replace(free, direction=SheetDirection.ACROSS)
    along = replace(free, direction=SheetDirection.ALONG)
    ways = [("across", across), ("along", along)]
    if len(surface.directions) > 1:
        changes = (AtChange.TURN, AtChange.BATTEN, AtChange.CARRY)
        ways = [(change.value, replace(across, at_change=change)) for change in changes]
        if current == "along":
            ways.append(("along", along))
    return tuple((name, choice if name == current else way) for name, way in ways)


def current_way(surface: Surface, choice: SurfaceChoice, chosen: SetOut) -> str:
    """Name the way a surface's sheets run: ``"across"``, ``"turn"`` and so on.

    Args:
        surface: The surface.
        choice: The user's choice for it.
        chosen: What was set out for it.
    """
    if not (chosen.fields and chosen.fields[0].across):
        return "along"
    if len(surface.directions) <= 1:
        return "across"
    return (AtChange.TURN if choice.at_change is AtChange.AUTO else choice.at_change).value


def measure_way(
    surface: Surface, scheme: SurfaceScheme, setting: Setting, name: str, *, chosen: bool
) -> Comparison:
    """Return the figures of a surface that was worked out in full.

    Args:
        surface: The surface without the timber asked for.
        scheme: What was worked out for it.
        setting: Pack, stock and choices.
        name: What the way is called.
        chosen: Whether it is the one chosen.
    """
    board = setting.board(surface.board, surface.place)
    battens = [t for t in scheme.trimmers if t.reason is TrimmerReason.BATTENING]
    bare = find_bare_edges(
        with_trimmers(surface, battens),
        scheme.set_out,
        scheme.joints,
        setting.practice,
        support_limit(surface, board, setting),
    )
    laid = Laid(scheme.set_out, scheme.joints, scheme.trimmers, bare)
    plan = cut_alone(surface, scheme.set_out, setting)
    return _measure(surface, laid, plan, name, chosen=chosen)


def cut_alone(surface: Surface, laid: SetOut, setting: Setting) -> CutPlan:
    """Return how a surface's pieces are cut if nothing else is cut from the same sheets.

    Args:
        surface: The surface.
        laid: Its pieces.
        setting: Pack, stock and choices.
    """
    board = setting.board(surface.board, surface.place)
    return cutting.plan(
        [demand_of(p, laid, surface) for p in laid.pieces],
        [board],
        {board.id: surface.area_m2},
        setting.practice,
        lengths=setting.choices.sheet_lengths,
        widths=setting.choices.sheet_widths,
    )


def _measure(surface: Surface, laid: Laid, plan: CutPlan, name: str, *, chosen: bool) -> Comparison:
    return Comparison(
        surface=surface.ref,
        name=name,
        chosen=chosen,
        sheets=len(plan.sheets),
        bought_m2=round(sum(s.area_m2 for s in plan.sheets), 4),
        butt_m=_metres(
            laid.joints, JointKind.BUTT_FRAMED, JointKind.BUTT_BACK_BLOCKED, JointKind.BUTT_UNBACKED
        ),
        recessed_m=_metres(laid.joints, JointKind.RECESSED),
        end_to_recess_m=_metres(laid.joints, JointKind.END_TO_RECESS),
        trimmer_m=round(sum(t.length for t in laid.trimmers) / 1000, 3),
        unsupported_m=round(sum(distance(e.a, e.b) for e in laid.bare) / 1000, 3),
        heaviest_kg=round(max((p.mass_kg for p in laid.set_out.pieces), default=0.0), 1),
        breaches=sum(f.severity >= Severity.WARNING for f in laid.set_out.findings),
    )


def _metres(joints: Iterable[Joint], *kinds: JointKind) -> float:
    return round(sum(j.length for j in joints if j.kind in kinds) / 1000, 3)


def as_cut(comparisons: tuple[Comparison, ...], joints: Sequence[Joint]) -> tuple[Comparison, ...]:
    """Give the chosen way the joints it has once its pieces are cut."""
    return tuple(
        replace(
            c,
            recessed_m=_metres(joints, JointKind.RECESSED),
            end_to_recess_m=_metres(joints, JointKind.END_TO_RECESS),
        )
        if c.chosen
        else c
        for c in comparisons
    )


def as_cut_size(size: float) -> float:
    """Round a size that lies within a hair of a tenth of a mm: turned rooms leave such hairs.

    Otherwise a piece of 3599.99 would leave a sliver beside it in a sheet of 3600.
    """
    tenth = round(size, 1)
    return tenth if abs(tenth - size) <= HAIR else size


def demand_of(piece: Piece, laid: SetOut, surface: Surface) -> cutting.Demand:
    """Return what is to be cut for a piece.

    Args:
        piece: The piece.
        laid: The set-out it belongs to.
        surface: The surface.
    """
    width = next(
        (c.sheet_width for c in laid.courses if (c.field, c.number) == (piece.field, piece.course)),
        0.0,
    )
    return cutting.Demand(
        id=piece.id,
        length=as_cut_size(piece.length),
        width=as_cut_size(piece.width),
        low=piece.low.value,
        high=piece.high.value,
        board=piece.board,
        longest=surface.carry_in,
        sheet_width=width,
    )
