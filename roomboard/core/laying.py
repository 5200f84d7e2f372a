"""One surface from its sheets to its fixings."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core import fixings
from roomboard.core.joints import name_joints
from roomboard.core.layers import own_setting
from roomboard.core.parts import SurfaceScheme
from roomboard.core.plane import TOLERANCE
from roomboard.core.project import AtChange
from roomboard.core.rules.layers import over_joints
from roomboard.core.set_out import set_out
from roomboard.core.support import (
    TrimmerReason,
    find_bare_edges,
    plan_battens,
    plan_trimmers,
    trimmer_findings,
    with_trimmers,
)
from roomboard.core.surface import EdgeKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.findings import Finding
    from roomboard.core.fixings import Fixings
    from roomboard.core.joints import Joint
    from roomboard.core.plane import Point
    from roomboard.core.project import SurfaceChoice
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import SetOut
    from roomboard.core.stock import Board
    from roomboard.core.support import BareEdge, Trimmer
    from roomboard.core.surface import Surface


def work_out_surface(
    surface: Surface,
    choice: SurfaceChoice,
    setting: Setting,
    *,
    hang: int = 1,
    first_tag: int = 1,
    first_block: int = 1,
) -> tuple[SurfaceScheme, tuple[Finding, ...]]:
    """Work out one surface: sheets, joints, missing timber, fixings.

    Args:
        surface: The surface.
        choice: The user's choice for it.
        setting: Pack, stock and choices.
        hang: Hanging number of its first piece.
        first_tag: Number of its first trimmer.
        first_block: Number of its first back-block.
    """
    setting = own_setting(setting, surface)
    practice = setting.practice
    board = setting.board(surface.board, surface.place)
    laid, joints, trimmers, _ = lay(surface, board, choice, setting, first_tag)
    laid = hung(laid, hang)
    backed = with_trimmers(surface, trimmers)
    held = fixings.set_out_fixings(
        backed, laid, joints, board, setting.choices, practice, first_block
    )
    gap = min(
        (v for e in surface.edges if e.kind is EdgeKind.FLOOR for v in (e.a[1],)), default=0.0
    )
    scheme = SurfaceScheme(
        surface=backed,
        set_out=laid,
        joints=marked_blocked(joints, held),
        trimmers=trimmers,
        fixings=held,
        packers=fixings.packers(backed, laid, practice, gap),
        comparisons=(),
    )
    said = (
        *laid.findings,
        *over_joints(surface, joints, practice),
        *trimmer_findings(surface, trimmers, practice),
        *held.findings,
    )
    return scheme, said


def hung(laid: SetOut, hang: int) -> SetOut:
    """Give the pieces their hanging numbers; nothing else of a surface depends on them."""
    return replace(laid, pieces=tuple(replace(p, hang=n) for n, p in enumerate(laid.pieces, hang)))


class Laid(NamedTuple):
    """Sheets on a surface and what they ask for, before fixings."""

    set_out: SetOut
    joints: tuple[Joint, ...]
    trimmers: tuple[Trimmer, ...]
    bare: tuple[BareEdge, ...]


def lay(
    surface: Surface, board: Board, choice: SurfaceChoice, setting: Setting, first_tag: int
) -> Laid:
    """Lay the sheets of a surface and find the timber they ask for.

    Args:
        surface: The surface.
        board: Its board.
        choice: The user's choice for it.
        setting: Pack, stock and choices.
        first_tag: Number of its first trimmer.
    """
    practice = setting.practice
    laid = set_out(surface, board, setting, choice)
    joints = name_joints(surface, laid)
    battens: tuple[Trimmer, ...] = ()
    limit = support_limit(surface, board, setting)
    battened = choice.at_change is AtChange.BATTEN and surface.layer == 1
    if battened and len(surface.directions) > 1:
        square = [
            surface.zones[i].centres
            for f in laid.fields
            for i in f.zones
            if abs((surface.zones[i].direction_deg - f.direction_deg) % 180.0) > TOLERANCE
        ]
        spacing = min((x for x in (*square, limit) if x > 0), default=0.0)
        if spacing:
            battens = plan_battens(surface, laid, spacing, practice, first_tag)
    backed = with_trimmers(surface, battens)
    bare = find_bare_edges(backed, laid, joints, practice, limit)
    added = plan_trimmers(surface, bare, practice, first_tag + len(battens))
    timber = behind_joints(added)
    if timber:
        joints = name_joints(surface, laid, timber=timber)
    return Laid(laid, joints, (*battens, *added), bare)


def behind_joints(trimmers: Sequence[Trimmer]) -> list[tuple[str, Point, Point]]:
    """Return tag and line of the timber that stands behind joints between sheets."""
    ends = TrimmerReason.END_OFF_SUPPORT
    return [(t.tag, t.a, t.b) for t in trimmers if t.two_sided or t.reason is ends]


def support_limit(surface: Surface, board: Board, setting: Setting) -> float:
    """Return how far apart supports may stand for sheets across them, mm; 0 if no table says."""
    row = setting.practice.framing_row(
        thickness=board.thickness,
        grades=board.grades,
        place=surface.place,
        orientation="across",
        method=setting.choices.method,
    )
    return row.max_centres if row else 0.0


def marked_blocked(joints: Sequence[Joint], held: Fixings) -> tuple[Joint, ...]:
    """Mark the joints that have back-blocks behind them."""
    blocked = {b.joint for b in held.back_blocks}
    return tuple(replace(j, back_blocked=True) if j.id in blocked else j for j in joints)
