"""What is to be said where new lining meets a lining that is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.kept import KEPT
from roomboard.core.plane import distance

if TYPE_CHECKING:
    from roomboard.core.parts import RoomScheme


def kept_findings(room: RoomScheme) -> tuple[Finding, ...]:
    """RB222: joints to linings that are kept."""
    said: list[Finding] = []
    for s in room.surfaces:
        edges = [e for e in s.surface.edges if e.other.startswith(KEPT)]
        if not edges or s.surface.layer > 1:
            continue
        total = sum(distance(e.a, e.b) for e in edges)
        names = ", ".join(dict.fromkeys(e.other.removeprefix(KEPT) for e in edges))
        said.append(
            Finding(
                code="RB222",
                severity=Severity.NOTE,
                text=f"Over {{length}} {s.surface.name} meets lining that is kept ({names}): bring "
                "the new board to its face, fix timber behind the joint, and tape it; test old "
                "lining for asbestos before it is cut.",
                params=(("length", float(total)),),
                place=Place(
                    room=room.room.id,
                    surface=s.surface.ref,
                    item=edges[0].other.removeprefix(KEPT),
                    line=(edges[0].a, edges[0].b),
                ),
            )
        )
    return tuple(said)
