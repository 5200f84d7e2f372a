"""Which way the sheets of walls run where a search decided it, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.project import SheetDirection

if TYPE_CHECKING:
    from roomboard.core.scheme import Scheme

WAYS = {SheetDirection.ACROSS: ("level", "upright"), SheetDirection.ALONG: ("upright", "level")}
"""How the sheets of a wall run, and how they run otherwise, in words."""


def directions_told(scheme: Scheme) -> tuple[str, ...]:
    """Return a sentence for each wall whose sheets a search turned, in order.

    Args:
        scheme: An answer of a search, or what was worked out from one that was taken up.
    """
    told: list[str] = []
    for room in scheme.rooms:
        faces = {s.surface.key: s.surface.name for s in room.surfaces if s.surface.layer == 1}
        for key, name in faces.items():
            choice = room.room.choice(key)
            if choice.direction in WAYS and choice.by_user.direction is SheetDirection.AUTO:
                now, usually = WAYS[choice.direction]
                told.append(
                    f"{name} of {room.room.name}: the sheets run {now}, as the search found "
                    f"better; usually they run {usually}."
                )
    return tuple(told)
