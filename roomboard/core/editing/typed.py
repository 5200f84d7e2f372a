"""A stretch of wall typed while drawing: how far, and which way.

The words, in small or capital letters:

===================  =========================================================================
``3600``             that far the way that is aimed
``3600 at 45``       that far at 45 degrees counter-clockwise from x (to the right in plan)
``3600 turn 90``     that far after a turn to the left of 90 degrees from the way aimed; ``turn
                     -90`` turns to the right
``3600 left``        that far to the left in plan; also ``right``, ``up``, ``down``; the word may
                     stand first
``3580 x 3040``      a rectangle: so far to the right and so far up
===================  =========================================================================

Lengths are read by `roomboard.core.units.read_length`, in any unit and as sums. Degrees take a
point or a comma, and may be followed by ``°`` or ``deg``.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from roomboard.core.plane import Frame, snap, snap_point
from roomboard.core.units import Refusal, Size, read_length, read_size

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.project import Units

FULL_TURN = 360.0
WAYS = {"right": 0.0, "up": 90.0, "left": 180.0, "down": 270.0}
"""Ways in plan, degrees counter-clockwise from x."""

_TURNED = re.compile(
    r"(?P<length>.+?)\s*\b(?P<word>at|turn)\b\s*(?P<angle>.*)", re.IGNORECASE | re.DOTALL
)
_ANGLE = re.compile(
    r"(?P<number>[-+−]?\s*(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))\s*(?:°|deg|degrees?)?",
    re.IGNORECASE,
)
_WAY_FIRST = re.compile(r"(?P<way>left|right|up|down)\b\s*(?P<length>.*)", re.IGNORECASE)
_WAY_LAST = re.compile(r"(?P<length>.*?)\s*\b(?P<way>left|right|up|down)", re.IGNORECASE)
_SIZE = re.compile(r"(?<![a-z])(?:[x×]|by)(?![a-z])", re.IGNORECASE)


class StepKind(StrEnum):
    """What was typed."""

    STRETCH = "stretch"
    RECTANGLE = "rectangle"


@dataclass(frozen=True, slots=True)
class Step:
    """A step that was understood.

    Attributes:
        kind: One stretch of wall, or a whole rectangle.
        dx: To the right, mm.
        dy: Up, mm.
        echo: What was understood, e.g. ``"= 3600 mm at 45°"``.
    """

    kind: StepKind
    dx: float
    dy: float
    echo: str

    def end(self, start: Point) -> Point:
        """Return where the step leads from a point."""
        return snap_point((start[0] + self.dx, start[1] + self.dy))


def read_step(text: str, units: Units, heading: float | None = None) -> Step | Refusal:
    """Read a stretch of wall as it is typed while drawing.

    Args:
        text: What was typed; the module says how.
        units: The project's units.
        heading: The way that is aimed, degrees counter-clockwise from x; None for no aim.

    Returns:
        The step, or why the text was not taken.
    """
    plain = " ".join(text.split())
    if _SIZE.search(plain):
        return _rectangle(text, plain, units)
    way = _WAY_FIRST.fullmatch(plain) or _WAY_LAST.fullmatch(plain)
    if way is not None:
        return _stretch(text, way["length"], units, WAYS[way["way"].lower()], way["way"].lower())
    turned = _TURNED.fullmatch(plain)
    if turned is None:
        if heading is None:
            return _without_aim(text, plain, units)
        return _stretch(text, plain, units, heading, "")
    angle = _ANGLE.fullmatch(turned["angle"].strip())
    word = turned["word"].lower()
    if angle is None:
        return Refusal(
            text,
            f"“{turned['angle']}” after “{word}” is no angle; write degrees, e.g. 3600 {word} 45.",
        )
    degrees = float(angle["number"].replace("−", "-").replace(",", ".").replace(" ", ""))
    if abs(degrees) > FULL_TURN:
        return Refusal(text, f"{degrees:g} degrees are more than a full turn; check the number.")
    if word == "turn" and heading is None:
        return Refusal(
            text, "A turn needs a way to turn from; aim first, or write 3600 at 45.", asks=True
        )
    final = degrees + (heading or 0.0) if word == "turn" else degrees
    return _stretch(text, turned["length"], units, final, f"at {_degrees(final)}")


def _degrees(angle: float) -> str:
    return f"{snap(round(angle % FULL_TURN, 2)) % FULL_TURN:g}°"


def _stretch(text: str, length: str, units: Units, angle: float, words: str) -> Step | Refusal:
    read = read_length(length, units)
    if isinstance(read, Refusal):
        return Refusal(text, read.sentence, read.asks)
    if read.mm <= 0:
        return Refusal(text, "A wall of no length cannot be drawn; type a length such as 3600.")
    if not math.isfinite(angle):
        return Refusal(text, "The way that is aimed is not known; aim again.", asks=True)
    along = Frame.at_angle(angle).along
    return Step(
        StepKind.STRETCH,
        snap(along[0] * read.mm),
        snap(along[1] * read.mm),
        f"{read.echo} {words}".strip(),
    )


def _without_aim(text: str, plain: str, units: Units) -> Refusal:
    read = read_length(plain, units)
    if isinstance(read, Refusal):
        return Refusal(text, read.sentence, read.asks)
    return Refusal(
        text,
        f"Which way do the {read.echo[2:]} go? Aim, or write {plain} right, or {plain} at 45.",
        asks=True,
    )


def _rectangle(text: str, plain: str, units: Units) -> Step | Refusal:
    size = read_size(plain, units)
    if not isinstance(size, Size):
        return size if size.text == text else Refusal(text, size.sentence, size.asks)
    if min(size.first.mm, size.second.mm) <= 0:
        return Refusal(
            text, "A room of no width cannot be drawn; type two lengths, e.g. 3580 x 3040."
        )
    return Step(StepKind.RECTANGLE, size.first.mm, size.second.mm, size.echo)
