"""Members behind a surface: which of them boards touch, and which carry a sheet's field."""

from __future__ import annotations

import math

from roomboard.core.fixings.lines import NEARLY_ALONG, Line
from roomboard.core.sheeting import Piece
from roomboard.core.surface import Support, SupportKind, Surface

ACROSS = 0.7
"""Sine of the angle from which a support counts as crossing a sheet, not running along it."""
CARRIES = {
    SupportKind.JOIST,
    SupportKind.BATTEN,
    SupportKind.TRUSS,
    SupportKind.STUD,
    SupportKind.JAMB,
}
"""Members that carry the field of a sheet; plates, heads, sills and noggings hold edges only."""


def carries_field(surface: Surface, support: Support, line: Line) -> bool:
    """Tell whether a member carries the field of any sheet, not only their edges."""
    if support.kind in CARRIES:
        return True
    if support.kind is not SupportKind.TRIMMER:
        return False
    # Timber that runs like the members of its zone is one of them; a nogging is not.
    middle = line.to_uv(line.length / 2, 0.0)
    for zone in surface.zones:
        angle = math.radians(zone.direction_deg)
        square = abs(line.dx * math.sin(angle) - line.dy * math.cos(angle))
        if square < NEARLY_ALONG and zone.region.contains(middle):
            return True
    return False


def runs_across(piece: Piece, line: Line) -> bool:
    """Tell whether a line runs across a sheet rather than along it."""
    along = piece.frame.along
    return abs(along[0] * line.dy - along[1] * line.dx) > ACROSS


def faces(surface: Surface) -> list[tuple[int, Support]]:
    """Return the supports that boards touch, numbered: not the members behind new battens."""
    numbered = list(enumerate(surface.supports))
    battens = [s for _, s in numbered if s.kind is SupportKind.BATTEN and not s.existing]
    if not battens:
        return numbered
    return [
        (n, s)
        for n, s in numbered
        if not s.existing or s.zone < 0 or not any(_cross(s, batten) for batten in battens)
    ]


def _cross(one: Support, two: Support) -> bool:
    """Tell whether two supports' faces cross."""
    line = Line.between(two.a, two.b)
    (xa, ya), (xb, yb) = line.to_xy(one.a), line.to_xy(one.b)
    if abs(yb - ya) <= NEARLY_ALONG * abs(xb - xa) or min(ya, yb) > 0 or max(ya, yb) < 0:
        return False
    x = xa + (xb - xa) * -ya / (yb - ya)
    return -one.face <= x <= line.length + one.face
