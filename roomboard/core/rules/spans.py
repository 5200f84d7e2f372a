"""Whether supports stand close enough for the board."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.plane import TOLERANCE
from roomboard.core.rules.framing import Breach, framing_legal

if TYPE_CHECKING:
    from roomboard.core.scheme import RoomScheme, SurfaceScheme
    from roomboard.core.setting import Setting

REMEDIES = {
    Breach.CENTRES: ("batten the surface at closer centres", "choose a thicker or stiffer board"),
    Breach.DIRECTION: ("run the sheets the other way",),
    Breach.NOGGINGS: ("fix noggings between the supports", "choose a thicker board"),
    Breach.UNKNOWN: ("choose another board",),
}


def span_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB303, RB305, RB707: supports too far apart, noggings asked for, or a span at its limit."""
    return tuple(f for s in room.surfaces for f in _of_surface(s, setting))


def _of_surface(scheme: SurfaceScheme, setting: Setting) -> list[Finding]:
    surface = scheme.surface
    board = setting.board(surface.board, surface.place)
    said: list[Finding] = []
    for field in scheme.set_out.fields:
        for index in field.zones:
            zone = surface.zones[index]
            if zone.centres <= 0:
                continue
            apart = abs(zone.direction_deg - field.direction_deg) % 180.0
            along = min(apart, 180.0 - apart) < TOLERANCE
            if along and len(surface.directions_of(field.zones)) > 1:
                continue  # carried on over a change of direction: named as such
            orientation = "along" if along else "across"
            breach = framing_legal(
                setting.practice,
                board,
                place=surface.place,
                orientation=orientation,
                method=setting.choices.method,
                centres=zone.centres,
            )
            place = Place(room=surface.room, surface=surface.ref, item=zone.id)
            if breach is not None:
                if breach.breach is Breach.DIRECTION and surface.place == "ceiling":
                    continue  # sheets along the supports of a ceiling are named as such
                said.append(
                    Finding(
                        code="RB305" if breach.breach is Breach.NOGGINGS else "RB303",
                        severity=Severity.WARNING,
                        text=f"{surface.name}: {breach.reason}",
                        params=breach.params,
                        place=place,
                        found=float(zone.centres),
                        required=float(breach.allowed) or None,
                        source=breach.row.citation if breach.row else None,
                        remedies=REMEDIES[breach.breach],
                    )
                )
                continue
            row = setting.practice.framing_row(
                thickness=board.thickness,
                grades=board.grades,
                place=surface.place,
                orientation=orientation,
                method=setting.choices.method,
                centres=zone.centres,
            )
            if (
                row is not None
                and zone.centres > row.max_centres - 1
                and surface.place == "ceiling"
            ):
                said.append(
                    Finding(
                        code="RB707",
                        severity=Severity.NOTE,
                        text=f"{board.name} board stands at the limit of its span in "
                        f"{surface.name}: insulation lying on it or a water-based texture may "
                        "ask for more.",
                        place=place,
                        found=float(zone.centres),
                        required=float(row.max_centres),
                        source=row.citation,
                    )
                )
    return said
