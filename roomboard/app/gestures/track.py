"""The way a joint between sheets can be moved: its places, legal and barred."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt

from roomboard.core.plane import Point
from roomboard.core.project import Project
from roomboard.drawing.view import Affine

STEADY = 1.0
"""Two places nearer than this are one, mm."""


@dataclass(frozen=True, kw_only=True)
class Place:
    """A place a joint may be moved to, or may not.

    Attributes:
        value: What is locked when the joint is put there, mm.
        along: Where it is on the way the joint is dragged, mm.
        at: Ends of the joint there on the surface, two for each stretch, (u, v) mm.
        legal: Whether it may fall there.
        words: What it has there, or what bars it.
    """

    value: float
    along: float
    at: tuple[Point, ...]
    legal: bool
    words: str


@dataclass(frozen=True, kw_only=True)
class Track:
    """The way a joint can be moved.

    Attributes:
        name: What is moved, in words.
        surface: Ref of the surface.
        places: All places, in order along the way.
        now: Where the joint is on the way, mm.
        locked: Whether the user put it there.
        along: Where on the way a point of the surface is, mm.
        put: Gives the edit that locks the joint at a place.
        free: The edit that gives it back to the set-out.
    """

    name: str
    surface: str
    places: tuple[Place, ...]
    now: float
    locked: bool
    along: Callable[[Point], float]
    put: Callable[[Place], Callable[[Project], Project]]
    free: Callable[[Project], Project]

    @property
    def legal(self) -> tuple[Place, ...]:
        """The places where it may fall, in order."""
        return tuple(p for p in self.places if p.legal)

    @property
    def here(self) -> Place | None:
        """The place it is at, or None where it stands at none of them."""
        found = min(self.places, key=lambda p: abs(p.along - self.now), default=None)
        return found if found is not None and abs(found.along - self.now) <= STEADY else None

    def nearest(self, along: float, *, legal: bool = False) -> Place | None:
        """Return the place nearest to one on the way, or None where there is none."""
        places = self.legal if legal else self.places
        return min(places, key=lambda p: (abs(p.along - along), p.along), default=None)

    def next(self, along: float, step: int) -> Place | None:
        """Return the next legal place up or down the way, or None at its end.

        Args:
            along: Where to go on from, mm.
            step: 1 up the way, -1 down.
        """
        ahead = [p for p in self.legal if (p.along - along) * step > STEADY]
        return min(ahead, key=lambda p: abs(p.along - along), default=None)


def arrow_step(key: Qt.Key, track: Track, placing: Affine) -> int:
    """Return which way along its places an arrow key moves a joint: 1, -1, or 0 for neither.

    The key that points the way the joint can go on the drawing, whichever way the surface
    lies there.

    Args:
        key: The key.
        track: Where the joint can go.
        placing: How its surface lies on the drawing.
    """
    ways = {
        Qt.Key.Key_Left: (-1.0, 0.0),
        Qt.Key.Key_Right: (1.0, 0.0),
        Qt.Key.Key_Up: (0.0, 1.0),
        Qt.Key.Key_Down: (0.0, -1.0),
    }
    if key not in ways or len(track.places) < 2:
        return 0
    (x0, y0), (x1, y1) = (placing.apply(p.at[0]) for p in (track.places[0], track.places[-1]))
    across, up = x1 - x0, y1 - y0
    wx, wy = ways[key]
    # A joint that goes level listens to left and right, one that goes upright to up and down.
    moved = across * wx if abs(across) >= abs(up) else up * wy
    return (moved > 0) - (moved < 0)
