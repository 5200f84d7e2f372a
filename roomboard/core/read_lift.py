"""A lift as it is typed: ``reach 400 from 700 up 600 turn 30``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from roomboard.core.rules.handling import Lift
from roomboard.core.units import Refusal, read_length

if TYPE_CHECKING:
    from roomboard.core.project import Units

EXAMPLE = {
    "metric": "reach 400 from 700 up 600 turn 30",
    "feet-inches": 'reach 16" from 28" up 24" turn 30',
}
"""What one can be typed like, by the units of the job."""
_WORD = re.compile(r"\b(reach|from|up|down|turn)\b", re.IGNORECASE)
_NEEDED = {"reach": "how far the hands are from the ankles", "from": "how high the hands begin"}
_MM_PER_CM = 10.0


def is_lift(text: str) -> bool:
    """Tell whether what is typed describes a lift."""
    return bool(_WORD.search(text))


def read_lift(text: str, units: Units) -> Lift | Refusal:
    """Read one lift: reach of the hands, height where they begin, way up or down, turn in degrees.

    Args:
        text: What was typed; a way and a turn that are not named are none.
        units: How bare lengths are read.

    Returns:
        The lift, done now and then with a good grip, or why it cannot be read.
    """
    such = f"type it such as: {EXAMPLE[units.value]}."
    before, *rest = _WORD.split(text)
    words = ["up" if w.lower() == "down" else w.lower() for w in rest[::2]]
    if before.strip() or not words:
        return Refusal(text, f"“{text.strip()}” is no lift; {such}")
    if len(set(words)) != len(words):
        return Refusal(text, f"“{text.strip()}” says the same twice; {such}")
    given = dict(zip(words, rest[1::2], strict=True))
    missing = next((k for k in _NEEDED if k not in given), None)
    if missing:
        return Refusal(text, f"“{text.strip()}” does not say {_NEEDED[missing]}; {such}")
    turn = _degrees(given.pop("turn", "0"))
    if turn is None:
        return Refusal(text, f"“{text.strip()}” has no turn from 0 to 180 degrees; {such}")
    found: dict[str, float] = {}
    for word, size in given.items():
        read = read_length(size.strip(), units)
        if isinstance(read, Refusal):
            return read
        if read.mm < 0:
            return Refusal(text, f"“{word} {size.strip()}” is below nothing; {such}")
        found[word] = read.mm / _MM_PER_CM
    return Lift(
        horizontal_cm=found["reach"],
        height_cm=found["from"],
        travel_cm=found.get("up", 0.0),
        turn_deg=turn,
    )


def _degrees(text: str) -> float | None:
    match = re.fullmatch(r"\s*(\d{1,3}(?:[.,]\d+)?)\s*(?:°|deg|degrees)?\s*", text)
    degrees = float(match[1].replace(",", ".")) if match else -1.0
    return degrees if 0.0 <= degrees <= 180.0 else None
