"""Heights of a ceiling as they are typed in one line: raked, ridged, flat in part, by corners."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.editing import heights, heights_corners, heights_parts
from roomboard.core.editing.refusal import EditError, wall_words
from roomboard.core.units import Refusal, read_length, write_length

if TYPE_CHECKING:
    from roomboard.core.project import Room, Units

Change = Callable[["Room"], "Room"]

WORDS = ("rake", "ridge", "soffit", "drop", "strip", "cap", "corners", "fold", "level")
"""What a line about heights begins with."""
EXAMPLES = {
    "rake": "rake 2400 to 3600, or rake 2400 at 20 deg",
    "ridge": "ridge 2400 to 3800, or ridge 2400 to 3800 at 1500",
    "soffit": "soffit 2400 at 175/250",
    "drop": "drop 300 over 600",
    "strip": "strip 3500 over 300 at 2350",
    "cap": "cap 2700",
    "corners": "corners 2400, 2400, 3600, 3600",
    "fold": "fold 1-3 2400, 2400, 2700, 2400",
    "level": "level",
}
"""How each is typed."""
_LINE = re.compile(rf"^\s*({'|'.join(WORDS)})\b\s*(.*?)\s*$", re.IGNORECASE)
_FROM = re.compile(r"^(.*?)\s+(?:from|along)\s+(?:wall\s+)?([A-Za-z0-9-]+)$", re.IGNORECASE)
_WITHIN = re.compile(rf"^(.*?\S)\s+((?:{'|'.join(WORDS)})\b.*)$", re.IGNORECASE)
_RATIO = re.compile(r"^([0-9]+(?:[.,][0-9]+)?)\s*(?:/|in)\s*([0-9]+(?:[.,][0-9]+)?)$")
_DEGREES = re.compile(r"^([0-9]+(?:[.,][0-9]+)?)\s*(?:°|deg|degrees)$", re.IGNORECASE)
_FOLD = re.compile(r"^([0-9]+)\s*-\s*([0-9]+)\s+(.*)$")


@dataclass(frozen=True)
class TypedHeights:
    """What a line about heights asks for.

    Attributes:
        echo: What was understood, in words.
        wall: Name or id of the wall it names, or empty.
        needs_wall: Whether it is counted from a wall.
        change: Makes it, given the room and the id of the wall.
    """

    echo: str
    wall: str
    needs_wall: bool
    change: Callable[[Room, str], Room]

    def made(self, room: Room, held: str = "") -> Room:
        """Return the room with its heights like that.

        Args:
            room: The room.
            held: Id of the wall to count from where the line names none.

        Raises:
            EditError: If no wall is known, or the ceiling cannot be like that.
        """
        return self.change(room, self.wall_in(room, held))

    def wall_in(self, room: Room, held: str = "") -> str:
        """Return the id of the wall it counts from; empty where it needs none.

        Raises:
            EditError: If it needs one and none is known.
        """
        if not self.needs_wall:
            return ""
        wanted = (self.wall or held).casefold()
        for wall in room.walls:
            if wanted and wanted in {wall.id.casefold(), wall.name.casefold()}:
                return wall.id
        names = ", ".join(w.name or w.id for w in room.walls)
        if not wanted:
            raise EditError(
                f"Say from which wall of {room.name} it counts, such as “from A”; it has {names}."
            )
        raise EditError(f"{room.name} has no wall “{self.wall or held}”; its walls are {names}.")

    def told(self, room: Room, held: str = "") -> str:
        """Return what was understood, with the wall it counts from."""
        ident = self.wall_in(room, held)
        wall = room.wall(ident)
        return f"{self.echo}, from {wall_words(wall)}" if wall else self.echo


def asks_heights(text: str) -> bool:
    """Tell whether a line is about the heights of a ceiling."""
    return _LINE.match(text) is not None


def parted(text: str) -> tuple[str, str]:
    """Part a room typed in one line from what it says of its ceiling's heights, if anything."""
    found = _WITHIN.match(text)
    return (found[1], found[2]) if found else (text, "")


def read_heights(text: str, units: Units) -> TypedHeights | Refusal:
    """Read a line about the heights of a ceiling.

    Args:
        text: E.g. ``rake 2400 to 3600 from A``, ``ridge 2400 to 3800``, ``soffit 2400 at 175/250``,
            ``drop 300 over 600``, ``cap 2700``, ``corners 2400, 2400, 3600, 3600``,
            ``fold 1-3 2400, 2400, 2700, 2400``, ``level``.
        units: How lengths are read.
    """
    found = _LINE.match(text)
    if found is None:
        return _wrong(text, "rake")
    word, rest = found[1].casefold(), found[2]
    wall = ""
    named = _FROM.match(f" {rest}")
    if named and word not in {"corners", "fold", "level", "cap"}:
        rest, wall = named[1].strip(), named[2]
    reader = _Reader(text, word, units)
    try:
        return getattr(reader, word)(rest, wall)  # type: ignore[no-any-return]
    except _RefusedError as refused:
        return refused.refusal


class _RefusedError(Exception):
    def __init__(self, refusal: Refusal) -> None:
        super().__init__(refusal.sentence)
        self.refusal = refusal


def _wrong(text: str, word: str) -> Refusal:
    return Refusal(
        text=text,
        sentence=f"“{text.strip()}” cannot be read; type e.g. {EXAMPLES[word]}.",
    )


class _Reader:
    """Reads what follows each of the words."""

    def __init__(self, text: str, word: str, units: Units) -> None:
        self.text, self.word, self.units = text, word, units

    def _length(self, text: str) -> float:
        read = read_length(text.strip(), self.units)
        if isinstance(read, Refusal):
            raise _RefusedError(read)
        return read.mm

    def _said(self, mm: float) -> str:
        return write_length(mm, self.units, suffix=True)

    def _two(self, rest: str, between: str) -> tuple[str, str]:
        parts = re.split(rf"\s+{between}\s+", rest, flags=re.IGNORECASE)
        if len(parts) != 2:
            raise _RefusedError(_wrong(self.text, self.word))
        return parts[0], parts[1]

    def _pitch(self, text: str) -> float:
        ratio, degrees = _RATIO.match(text.strip()), _DEGREES.match(text.strip())
        if ratio:
            rise, run = (float(g.replace(",", ".")) for g in ratio.groups())
            if run > 0:
                return math.degrees(math.atan2(rise, run))
        if degrees:
            return float(degrees[1].replace(",", "."))
        raise _RefusedError(
            Refusal(
                text=text,
                sentence=f"“{text.strip()}” is no pitch; type degrees such as 20 deg, or rise and "
                "going such as 175/250.",
            )
        )

    def rake(self, rest: str, wall: str) -> TypedHeights:
        if re.search(r"\s+at\s+", rest, re.IGNORECASE):
            first, second = self._two(rest, "at")
            low, pitch = self._length(first), self._pitch(second)
            return TypedHeights(
                f"= ceiling raked from {self._said(low)} at {pitch:.1f}°",
                wall,
                needs_wall=True,
                change=lambda room, w: heights.rake_by_pitch(room, w, low, pitch),
            )
        first, second = self._two(rest, "to")
        low, high = self._length(first), self._length(second)
        return TypedHeights(
            f"= ceiling raked from {self._said(low)} to {self._said(high)}",
            wall,
            needs_wall=True,
            change=lambda room, w: heights.rake(room, w, low, high),
        )

    def soffit(self, rest: str, wall: str) -> TypedHeights:
        first, second = self._two(rest, "at")
        top, pitch = self._length(first), self._pitch(second)
        return TypedHeights(
            f"= soffit falling from {self._said(top)} at {pitch:.1f}°",
            wall,
            needs_wall=True,
            change=lambda room, w: heights.soffit(room, w, top, pitch),
        )

    def ridge(self, rest: str, wall: str) -> TypedHeights:
        place: float | None = None
        if re.search(r"\s+at\s+", rest, re.IGNORECASE):
            rest, third = self._two(rest, "at")
            place = self._length(third)
        first, second = self._two(rest, "to")
        low, top = self._length(first), self._length(second)
        where = "in the middle" if place is None else f"{self._said(place)} off"
        return TypedHeights(
            f"= ridge at {self._said(top)}, sides at {self._said(low)}, {where}",
            wall,
            needs_wall=True,
            change=lambda room, w: heights.ridge(room, w, low, top, place),
        )

    def drop(self, rest: str, wall: str) -> TypedHeights:
        first, second = self._two(rest, "over")
        drop, depth = self._length(first), self._length(second)
        return TypedHeights(
            f"= ceiling dropped by {self._said(drop)} over {self._said(depth)}",
            wall,
            needs_wall=True,
            change=lambda room, w: heights.drop_along(room, w, depth, drop),
        )

    def strip(self, rest: str, wall: str) -> TypedHeights:
        rest, third = self._two(rest, "at")
        first, second = self._two(rest, "over")
        height, width, away = (self._length(t) for t in (first, second, third))
        return TypedHeights(
            f"= strip at {self._said(height)}, {self._said(width)} wide, {self._said(away)} off",
            wall,
            needs_wall=True,
            change=lambda room, w: heights.strip(room, w, height, width, away),
        )

    def cap(self, rest: str, wall: str) -> TypedHeights:
        height = self._length(rest)
        return TypedHeights(
            f"= slopes cut off flat at {self._said(height)}",
            wall,
            needs_wall=False,
            change=lambda room, _: heights.split_flat(room, height),
        )

    def corners(self, rest: str, wall: str) -> TypedHeights:
        found = [self._length(part) for part in _listed(rest)]
        return TypedHeights(
            f"= ceiling at {', '.join(map(self._said, found))} at corners 1 to {len(found)}",
            wall,
            needs_wall=False,
            change=lambda room, _: heights_corners.by_corners(room, found),
        )

    def fold(self, rest: str, wall: str) -> TypedHeights:
        parts = _FOLD.match(rest)
        if parts is None:
            raise _RefusedError(_wrong(self.text, self.word))
        first, second = int(parts[1]), int(parts[2])
        found = [self._length(part) for part in _listed(parts[3])]
        return TypedHeights(
            f"= ceiling at {', '.join(map(self._said, found))}, folded from corner {first} to "
            f"{second}",
            wall,
            needs_wall=False,
            change=lambda room, _: heights_corners.folded(room, found, first, second),
        )

    def level(self, rest: str, wall: str) -> TypedHeights:
        if rest:
            raise _RefusedError(_wrong(self.text, self.word))
        return TypedHeights(
            "= ceiling level at the height of the room",
            wall,
            needs_wall=False,
            change=lambda room, _: heights_parts.flatten(room),
        )


def _listed(text: str) -> list[str]:
    """Part a list of lengths: by commas with a space, by semicolons, or by spaces alone."""
    if ";" in text or ", " in text:
        return [p for p in text.replace(", ", ";").split(";") if p.strip()]
    return text.split()
