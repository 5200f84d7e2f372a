"""Outlines and places of an issue as short text, so that an imprint stays small in the file.

Points are ``x,y`` in mm, those of one ring stand side by side, rings are parted by ``;``::

    0,0 3580,0 3580,1200 0,1200; 400,300 400,500 600,500 600,300
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from roomboard.core.revision import EXACT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point, Ring

NUMBER = r"-?[0-9]{1,9}(\.[0-9]{1,6})?"
POINT = f"{NUMBER},{NUMBER}"
PAIR = f"{POINT} {POINT}"
RING = f"{POINT}( {POINT}){{2,}}"
RINGS = f"{RING}(; {RING})*"


def rings_text(rings: Sequence[Ring]) -> str:
    """Return rings as text."""
    return "; ".join(points_text(ring) for ring in rings)


def points_text(points: Sequence[Point]) -> str:
    """Return points as text."""
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _number(value: float) -> str:
    words = f"{value:.{EXACT}f}".rstrip("0").rstrip(".")
    return "0" if words in {"-0", ""} else words


def read_rings(text: str) -> tuple[Ring, ...] | None:
    """Return the rings of a text, or None if it says none."""
    if not re.fullmatch(RINGS, text):
        return None
    return tuple(_points(part) for part in text.split("; "))


def read_pair(text: str) -> tuple[Point, Point] | None:
    """Return the two points of a text, or None if it says none."""
    if not re.fullmatch(PAIR, text):
        return None
    a, b = _points(text)
    return (a, b)


def read_place(text: str) -> Point | None:
    """Return the point of a text, or None if it says none."""
    return _points(text)[0] if re.fullmatch(POINT, text) else None


def _points(text: str) -> Ring:
    found: list[Point] = []
    for word in text.split(" "):
        x, y = word.split(",")
        found.append((float(x), float(y)))
    return tuple(found)
