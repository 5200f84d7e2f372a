"""What can be typed, by examples in the units of the job."""

from __future__ import annotations

import re

from roomboard.app.words import tr
from roomboard.core.project import Units
from roomboard.core.units import INCH, on_tape

SIZE = "3580 x 3040"
"""A size of a room as it is typed."""
ROOM = "Bedroom 3580 x 3040 h 2400"
"""A room as it is typed."""
LINE = "3580 x 3040  ·  3.6 m  ·  along y at 450"
"""What the line under the drawing takes."""
ROUND: dict[int, str] = {
    22: '3/4"',
    420: '16"',
    450: '16"',
    870: '32"',
    900: "3'",
    1000: "3'",
    1200: "4'",
    1320: '48"',
    1500: "5'",
    2400: "8'",
    2500: "8'",
    2700: "9'",
    3000: "10'",
    3600: "12'",
}
"""Round lengths of the trade in mm, by those that stand for them in feet and inches."""
STAIR = ("175/250", "7/10")
"""Rise and going of a stair in mm, and in inches."""
_LENGTH = re.compile(r"\b(\d+\.\d+) m\b|(?<!/)\b(22|\d{3,4})\b(?!/)")


def in_units(text: str, units: Units) -> str:
    """Write the lengths of an example in the units of the job.

    Args:
        text: An example, its lengths in mm, 22 or of three or four digits, or in metres.
        units: The job's units; in feet and inches a length becomes a round one near it.
    """
    return text if units is Units.METRIC else _LENGTH.sub(_in_feet, text.replace(*STAIR))


def _in_feet(found: re.Match[str]) -> str:
    mm = int(found[2]) if found[2] else round(float(found[1]) * 1000)
    inch = float(INCH)
    return ROUND.get(mm) or on_tape(round(mm / inch) * inch, Units.FEET_INCHES)


def no_room(units: Units) -> str:
    """Say that there is no room yet and how to come by one."""
    size = in_units(SIZE, units)
    return tr("There is no room yet; draw one, or type its size such as {size}.", size=size)
