"""Bulkheads typed while they are put along a wall: ``600 x 300 from 500 to 2400``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.units import Length, Refusal, read_length, read_size

if TYPE_CHECKING:
    from roomboard.core.project import Units

_WORDS = re.compile(r"(?<![a-z])(from|to|depth|drop)(?![a-z])", re.IGNORECASE)
_SIZE = re.compile(r"(?<![a-z])(?:x|×|by)(?![a-z])", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class TypedBulkhead:
    """What was typed of a bulkhead; what was left out is None.

    Attributes:
        low: Where it begins, from the wall's left end.
        high: Where it ends.
        depth: How far it comes out from the wall.
        drop: How far it comes down from the ceiling.
        lone: One length that stands for itself, without a word before it.
    """

    low: Length | None = None
    high: Length | None = None
    depth: Length | None = None
    drop: Length | None = None
    lone: Length | None = None


def read_bulkhead(text: str, units: Units) -> TypedBulkhead | Refusal:
    """Read a bulkhead's size and place, the size first.

    ``600 x 300`` is its depth and its drop; ``600 x 300 from 500 to 2400``, ``from 500 to
    2400``, ``depth 600``, ``drop 300`` and one length alone are read as well.

    Args:
        text: What was typed.
        units: The project's units.

    Returns:
        What was understood, or why the text was not taken.
    """
    first, *rest = _WORDS.split(" ".join(text.split()))
    found: dict[str, Length] = {}
    if _SIZE.search(first):
        size = read_size(first, units, small=True)
        if isinstance(size, Refusal):
            return size
        found = {"depth": size.first, "drop": size.second}
    elif first.strip():
        lone = read_length(first, units, small=True)
        if isinstance(lone, Refusal):
            return lone
        found["lone"] = lone
    names = {"from": "low", "to": "high"}
    for word, value in zip(rest[::2], rest[1::2], strict=True):
        name = names.get(word.lower(), word.lower())
        if name in found:
            return Refusal(text, f"“{word.lower()}” is told twice; write it once.")
        if not value.strip():
            return Refusal(text, f"A length is missing after “{word}”, e.g. {word} 600.")
        read = read_length(value.strip(" ,;"), units, small=True)
        if isinstance(read, Refusal):
            return read
        found[name] = read
    if ("low" in found) is not ("high" in found):
        return Refusal(text, "Write both ends, e.g. from 500 to 2400.")
    return TypedBulkhead(**found)


def size_of(read: TypedBulkhead, depth: float, drop: float) -> tuple[float, float]:
    """Return depth and drop as typed; what was left out stays as it is, mm."""
    return (
        read.depth.mm if read.depth is not None else depth,
        read.drop.mm if read.drop is not None else drop,
    )
