"""Sizes and places typed while something is put on a wall or a ceiling."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.measure import read_joists
from roomboard.core.units import Length, Refusal, Size, read_length, read_size

if TYPE_CHECKING:
    from roomboard.core.project import JoistZone, Units

_WORDS = re.compile(r"(?<![a-z])(at|sill|head)(?![a-z])", re.IGNORECASE)
_FROM_RIGHT = re.compile(r"\s+from\s+(?:the\s+)?right\s*$", re.IGNORECASE)
_TWO = re.compile(r"\s*;\s*|,\s+")
_SIZE = re.compile(r"(?<![a-z])(?:x|×|by)(?![a-z])", re.IGNORECASE)
_JOG = re.compile(
    r"\s*(?:from\s+(?P<low>.+?)\s+to\s+(?P<high>.+?)\s+)?(?P<way>out|in)?\s*(?P<depth>[^a-z].*)",
    re.IGNORECASE,
)
_LINE = re.compile(r"\s*along\s+(?P<way>[xy])\s+at\s+(?P<at>.+)", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class TypedOpening:
    """What was typed of an opening; what was left out is None.

    Attributes:
        size: Its width and height.
        lone: One length that stands for itself, without a word before it.
        at: From the corner to its nearer side along the wall, or from the left wall of a ceiling.
        up: From the lower wall, for an opening of a ceiling.
        is_from_right: Whether ``at`` is measured from the wall's right end.
        sill: Height of its lower side over the floor.
        head: Height of its upper side over the floor.
    """

    size: Size | None = None
    lone: Length | None = None
    at: Length | None = None
    up: Length | None = None
    is_from_right: bool = False
    sill: Length | None = None
    head: Length | None = None


def read_opening(text: str, units: Units, *, small: bool = False) -> TypedOpening | Refusal:
    """Read an opening's size and place, in any order but the size first.

    ``820 x 2040 at 900``, ``1500 x 1200 at 3000 sill 900``, ``at 300 from right``, ``sill 900
    head 2100``; for a ceiling ``600 x 600 at 1200, 900``.

    Args:
        text: What was typed.
        units: The project's units.
        small: Whether small sizes are usual, as for lights.

    Returns:
        What was understood, or why the text was not taken.
    """
    first, *rest = _WORDS.split(" ".join(text.split()))
    found: dict[str, Length | Size | bool] = {}
    if first.strip():
        read = (
            read_size(first, units, small=small)
            if _SIZE.search(first)
            else read_length(first, units, small=small)
        )
        if isinstance(read, Refusal):
            return read
        found["size" if isinstance(read, Size) else "lone"] = read
    for word, value in zip(rest[::2], rest[1::2], strict=True):
        name = word.lower()
        if name in found:
            return Refusal(text, f"“{name}” stands there twice; write it once.")
        if not value.strip():
            return Refusal(text, f"A length is missing after “{name}”, e.g. {name} 900.")
        if name == "at":
            found["is_from_right"] = _FROM_RIGHT.search(value) is not None
        plain = _FROM_RIGHT.sub("", value) if name == "at" else value
        places = _TWO.split(plain.strip(" ,;")) if name == "at" else [plain]
        for key, part in zip((name, "up"), places, strict=False):
            length = read_length(part, units, small=True)
            if isinstance(length, Refusal):
                return length
            found[key] = length
        if len(places) > 2:
            return Refusal(text, "Write one place along a wall, or two on a ceiling.")
    return TypedOpening(**found)  # type: ignore[arg-type]


@dataclass(frozen=True, kw_only=True)
class TypedJog:
    """What was typed of a part of a wall pushed out or in.

    Attributes:
        low: Where the part begins, from the wall's left end; None if not typed.
        high: Where it ends.
        depth: How far it goes.
        way: 1 out of the room, -1 into it, 0 if not typed.
    """

    low: Length | None
    high: Length | None
    depth: Length
    way: int


def read_jog(text: str, units: Units) -> TypedJog | Refusal:
    """Read ``600``, ``out 600``, ``in 350`` or ``from 1000 to 2500 out 600``.

    Args:
        text: What was typed.
        units: The project's units.
    """
    match = _JOG.fullmatch(text)
    if match is None:
        return Refusal(text, "Write how deep it goes, e.g. out 600, or from 1000 to 2500 out 600.")
    lengths: dict[str, Length | None] = {}
    for name in ("low", "high", "depth"):
        part = match[name]
        if part is None:
            lengths[name] = None
            continue
        read = read_length(part, units)
        if isinstance(read, Refusal):
            return read
        lengths[name] = read
    depth = lengths["depth"]
    if depth is None:  # the pattern always has it
        return Refusal(text, "Write how deep it goes, e.g. out 600.")
    way = {"out": 1, "in": -1}.get((match["way"] or "").lower(), 0)
    return TypedJog(low=lengths["low"], high=lengths["high"], depth=depth, way=way)


def read_line(text: str, units: Units) -> tuple[str, Length] | Refusal:
    """Read a line across a ceiling, e.g. ``along y at 3600``.

    Args:
        text: What was typed.
        units: The project's units.

    Returns:
        ``"x"`` or ``"y"``, and how far the line stands from the ceiling's low side; or why the
        text was not taken.
    """
    match = _LINE.fullmatch(text)
    if match is None:
        return Refusal(text, "Write which way the line runs and where, e.g. along y at 3600.")
    read = read_length(match["at"], units)
    return read if isinstance(read, Refusal) else (match["way"].lower(), read)


def read_studs(text: str, units: Units) -> JoistZone | Refusal:
    """Read how studs stand: ``at 600``, ``600 first 300 face 45`` or ``45, 600, 1150``.

    Args:
        text: What was typed.
        units: The project's units.

    Returns:
        Spacing, first centre, positions and face as those of a joist zone along y, measured
        from the wall's left end; or why the text was not taken.
    """
    plain = re.sub(r"^\s*(?:studs?\s+)?(?:at\s+)?", "", text, flags=re.IGNORECASE)
    read = read_joists(f"along y at {plain}", units)
    if isinstance(read, Refusal):
        return Refusal(
            text,
            f"The studs “{text.strip()}” cannot be read; write their centres, e.g. at 600 or "
            "at 600 first 300, or every centre: 45, 600, 1150.",
            read.asks,
        )
    return read
