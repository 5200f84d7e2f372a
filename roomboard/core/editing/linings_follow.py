"""Bands, kept linings and control joints of walls whose ends have moved."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import CEILING, free_id
from roomboard.core.editing.wall_follows import Line, shift
from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Axis

if TYPE_CHECKING:
    from collections.abc import Mapping

    from roomboard.core.project import KeptPart, NoJointBand, Room, SurfaceChoice


def bands_follow(
    room: Room, new: Mapping[str, Line], parts: Mapping[str, str]
) -> tuple[NoJointBand, ...]:
    """Keep the bands of walls that stand; a part of a wall keeps the wall's bands.

    Args:
        room: The room before.
        new: The walls as they stand now.
        parts: Walls that are new, and the wall each is a part of.
    """
    found = [b for b in room.bands if b.host in new]
    for part, whole in parts.items():
        for band in [b for b in room.bands if b.host == whole and part in new]:
            found.append(replace(band, id=free_id("n", (b.id for b in found)), host=part))
    return tuple(found)


def kept_follow(
    room: Room, old: Mapping[str, Line], new: Mapping[str, Line], parts: Mapping[str, str]
) -> tuple[KeptPart, ...]:
    """Keep what is not lined where it stands, on each wall that it stands on now.

    Args:
        room: The room before.
        old: Its walls.
        new: The walls as they stand now.
        parts: Walls that are new, and the wall each is a part of.
    """
    found: list[KeptPart] = []
    for part in room.kept:
        if part.host == CEILING:
            found.append(part)
            continue
        hosts = [part.host, *(p for p, whole in parts.items() if whole == part.host)]
        for host in [h for h in hosts if h in new]:
            by = (
                shift(old[part.host], new[host])
                if host == part.host
                else -_offset(old[part.host], new[host])
            )
            left = max(0.0, part.left + by)
            right = min(new[host].length, part.left + part.width + by)
            if right - left <= TOLERANCE:
                continue
            name = part.id if host == part.host else free_id("k", (k.id for k in found))
            found.append(
                replace(part, id=name, host=host, left=snap(left), width=snap(right - left))
            )
    return tuple(found)


def _offset(whole: Line, part: Line) -> float:
    """Return how far along a wall a part of it begins, mm."""
    return whole.along(part.a)


def controls_follow(choice: SurfaceChoice, old: Line, new: Line) -> SurfaceChoice:
    """Keep a wall's upright control joints where they stand; those left outside go."""
    by = shift(old, new)
    lines = tuple(
        replace(c, at=snap(c.at + by)) if c.axis is Axis.U else c for c in choice.controls
    )
    inside = tuple(c for c in lines if c.axis is not Axis.U or 1.0 < c.at < new.length - 1.0)
    return replace(choice, controls=inside)
