"""Joints, control joints, special zones, and what the pack itself asks to be said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.face import plan_deg
from roomboard.core.findings import Area, Finding, Mass, Place, Severity
from roomboard.core.joints import JointKind
from roomboard.core.practice import COMMON_PRACTICE, Status
from roomboard.core.project import WallKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.findings import Param
    from roomboard.core.joints import Joint
    from roomboard.core.practice import Figure
    from roomboard.core.scheme import RoomScheme, Scheme
    from roomboard.core.setting import Setting
    from roomboard.core.surface import Surface


def joint_findings(surface: Surface, joints: Sequence[Joint]) -> tuple[Finding, ...]:
    """RB206, RB215: ends that meet a recessed edge, and cut edges left in a joint."""
    said: list[Finding] = []
    for kind, code, what, remedies in (
        (
            JointKind.END_TO_RECESS,
            "RB206",
            "a sheet's end meets a recessed edge: the joint takes an uneven fill and shows easily",
            (
                "put a control joint on this line",
                "batten the ceiling so that all sheets run one way",
            ),
        ),
        (
            JointKind.CUT_EDGE,
            "RB215",
            "a cut edge stands in a joint: it has no recess for the tape",
            ("start the courses from the other side",),
        ),
    ):
        own = [j for j in joints if j.kind is kind]
        if not own:
            continue
        total = sum(j.length for j in own)
        said.append(
            Finding(
                code=code,
                severity=Severity.WARNING,
                text=f"Over {{length}} of {surface.name} {what}.",
                params=(("length", total),),
                place=Place(
                    room=surface.room,
                    surface=surface.ref,
                    item=own[0].id,
                    line=(own[0].a, own[-1].b),
                ),
                found=total,
                required=0.0,
                source=COMMON_PRACTICE,
                remedies=remedies,
            )
        )
    return tuple(said)


SPECIAL = {
    "wet": (
        "RB701",
        "wet area: use the board and the waterproofing that the local code asks for",
    ),
    "fire": ("RB702", "fire or sound rated lining: follow the tested system to the letter"),
    "bracing": ("RB703", "bracing lining: follow the designer's fastener schedule"),
    "tiled": ("RB704", "to be tiled: follow the system's own documents for framing and fixing"),
    "garage": ("RB705", "garage lining: check what separates it from the dwelling"),
    "external_ceiling": ("RB706", "external ceiling: use a board made for it"),
}
"""Code and words for each kind of special zone; the program plans sheets there but no system."""


def special_findings(room: RoomScheme) -> tuple[Finding, ...]:
    """RB701 to RB706 and RB307: zones that follow documents of their own."""
    said: list[Finding] = []
    by_kind: dict[str, list[str]] = {}
    for s in room.surfaces:
        for kind in s.surface.special:
            by_kind.setdefault(kind, []).append(s.surface.name)
    for kind in sorted(by_kind):
        code, words = SPECIAL[kind]
        names = by_kind[kind]
        said.append(
            Finding(
                code=code,
                severity=Severity.CAUTION,
                text=f"{', '.join(names)} of {room.room.name}: {words}. This sheet layout is no "
                "design of that system.",
                place=Place(room=room.room.id),
            )
        )
    directions = {
        round(plan_deg(s.surface, z.direction_deg), 1)
        for s in room.surfaces
        if s.surface.place == "ceiling"
        for z in s.surface.zones
    }
    open_side = any(w.kind is WallKind.OPEN for w in room.room.walls)
    if len(directions) > 1:
        said.append(
            Finding(
                code="RB307",
                severity=Severity.CAUTION,
                text=f"The joists of {room.room.name} change direction"
                f"{' and one side is open' if open_side else ''}: if a wall was taken out there, "
                "have an engineer confirm what carries the load.",
                place=Place(room=room.room.id),
            )
        )
    return tuple(said)


def unheld_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB406: pieces too small to take any fastener at the pack's edge distances."""
    said: list[Finding] = []
    for s in room.surfaces:
        held = {f.piece for f in s.fixings.fasteners}
        said.extend(
            Finding(
                code="RB406",
                severity=Severity.WARNING,
                text=f"Piece {piece.mark} ({{length}} x {{width}}) is too small to be fastened "
                "{edge} from its edges; glue it, or let the trim that covers it hold it.",
                params=(
                    ("length", piece.length),
                    ("width", piece.width),
                    ("edge", setting.practice.mm("edge.min")),
                ),
                place=Place(room=room.room.id, surface=s.surface.ref, item=piece.mark),
                found=min(piece.length, piece.width),
                required=2 * setting.practice.mm("edge.min"),
                source=setting.practice.cite("edge.min"),
            )
            for piece in s.set_out.pieces
            if piece.mark not in held
        )
    return tuple(said)


def _amount(figure: Figure, value: float | str) -> Param:
    """Return a value of a figure of practice as findings print it."""
    if isinstance(value, str):
        return value
    if figure.unit == "mm":
        return float(value)
    if figure.unit == "kg":
        return Mass(value)
    if figure.unit == "m2":
        return Area(value)
    plain = figure.unit in {"count", "ratio", "year"}
    return f"{value:g}" if plain else f"{value:g} {figure.unit}"


def pack_findings(scheme: Scheme) -> tuple[Finding, ...]:
    """RB901 to RB903: figures the user changed, and figures to be checked."""
    practice = scheme.practice
    said: list[Finding] = []
    for key, value in scheme.project.overrides:
        if not practice.has(key):
            continue
        figure = practice.figure(key)
        own, stated = _amount(figure, value), _amount(figure, figure.stated)
        said.append(
            Finding(
                code="RB901",
                severity=Severity.NOTE,
                text=f"{figure.title} ({key}) was changed to {{own}}; the pack states {{stated}}.",
                params=(("own", own), ("stated", stated)),
                place=Place(item=key),
                found=own,
                required=stated,
                source=figure.citation,
            )
        )
    for status, code, words in (
        (Status.MEMORY, "RB902", "come from memory: check with your local code"),
        (Status.PRACTICE, "RB903", "are common practice without a source"),
    ):
        keys = [f.key for f in practice.figures if f.citation.status is status]
        if keys:
            said.append(
                Finding(
                    code=code,
                    severity=Severity.NOTE,
                    text=f"{len(keys)} figures of {practice.title} {words}: {', '.join(keys)}.",
                )
            )
    return tuple(said)
