"""Acts on what is boxed in: bulkheads along walls, columns in the room."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.gestures.bulkheads import PlaceBulkhead
from roomboard.app.gestures.columns import PlaceColumn
from roomboard.app.measuring import begin, has_room

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu for rooms that put boxes in."""
    there = has_room(window)
    return [
        Act(
            id="room.bulkhead",
            menu="Room",
            words="Bulkhead along a wall",
            run=lambda: begin(window, PlaceBulkhead, plan=True),
            keys="V",
            tip="Box the ceiling down along a wall: two places on it, then how deep.",
            enabled=there,
            parted=True,
        ),
        Act(
            id="room.column",
            menu="Room",
            words="Column in the room",
            run=lambda: begin(window, PlaceColumn, plan=True),
            keys="I",
            tip="Put a boxed post into the room: click where, or type its size and place.",
            enabled=there,
        ),
    ]
