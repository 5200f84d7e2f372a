"""The way in as it is typed: corners, landings, doors and windows, one after the other."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from roomboard.core.carry_in import Obstacle, Passage
from roomboard.core.typed_parts import read_parts
from roomboard.core.units import Refusal, read_length, write_length

if TYPE_CHECKING:
    from roomboard.core.carry_in import Estimate
    from roomboard.core.project import Units

EXAMPLE = "turn 900 x 1100 h 2400; door 820 x 2040 from 1000"
TAILS = {Passage.DOOR: "from", Passage.WINDOW: "into"}
"""What introduces the third size of some kinds, where it stands apart."""
COUNTS = {
    Passage.TURN: 2,
    Passage.LANDING: 2,
    Passage.HALF_LANDING: 3,
    Passage.DOOR: 2,
    Passage.WINDOW: 2,
}
"""How many sizes follow the name of each kind."""
_TIMES = re.compile(r"\s*[x×]\s*", re.IGNORECASE)
_TAIL = re.compile(r"\b(h|from|into)\b", re.IGNORECASE)


def read_way_in(text: str, units: Units) -> tuple[Obstacle, ...] | Refusal:
    """Read what a sheet has to pass, such as ``turn 900 x 1100 h 2400; door 820 x 2040 from 1000``.

    Args:
        text: What was typed; parts stand between semicolons.
        units: How bare numbers are read.

    Returns:
        What stands in the way, in order, or why it cannot be read.
    """
    return read_parts(
        text,
        lambda part: _one(part, units),
        f"Say what a sheet passes on its way in, such as: {EXAMPLE}.",
    )


def _one(part: str, units: Units) -> Obstacle | Refusal:
    kind = next((k for k in sorted(Passage, key=lambda k: -len(k)) if _begins(part, k)), None)
    if kind is None:
        known = ", ".join(k.value for k in Passage)
        return Refusal(part, f"“{part}” begins with none of {known}; type it such as: {EXAMPLE}.")
    rest = part[len(kind) :].strip()
    pieces = _TAIL.split(rest)
    words = [w.lower() for w in pieces[1::2]]
    tails = dict(zip(words, pieces[2::2], strict=True))
    wrong = _wrong_tail(words, kind, part)
    if wrong:
        return Refusal(part, wrong)
    sizes = _lengths(_TIMES.split(pieces[0].strip()), part, units)
    if isinstance(sizes, Refusal):
        return sizes
    if len(sizes) != COUNTS[kind]:
        return Refusal(
            part,
            f"A {kind.value} needs {COUNTS[kind]} sizes with x between them; “{part}” has "
            f"{len(sizes)}.",
        )
    tail = TAILS.get(kind, "")
    more = _lengths([tails[k] for k in ("h", tail) if k in tails], part, units)
    if isinstance(more, Refusal):
        return more
    given = dict(zip([k for k in ("h", tail) if k in tails], more, strict=True))
    if kind is Passage.WINDOW and tail not in given:
        return Refusal(
            part,
            f"Say how deep the room behind the window is, such as: {part} {tail} 4000.",
        )
    if tail:
        sizes = (*sizes, given.get(tail, 0.0))
    return Obstacle(kind=kind, sizes=sizes, height=given.get("h", 0.0))


def _wrong_tail(words: list[str], kind: Passage, part: str) -> str:
    """Return why the words that introduce further sizes cannot be taken, or nothing."""
    strange = sorted(set(words) - {TAILS.get(kind, "h")})
    if strange == ["h"]:
        return f"The height of a {kind.value} is its second size; leave “h” out of “{part}”."
    if strange:
        return f"A {kind.value} has no “{strange[0]}”; leave it out of “{part}”."
    twice = next((w for w in words if words.count(w) > 1), "")
    return f"“{part}” says “{twice}” more than once; give it once." if twice else ""


def _begins(part: str, kind: Passage) -> bool:
    return part.lower().startswith(kind.value) and not part[len(kind) : len(kind) + 1].isalpha()


def _lengths(texts: list[str], part: str, units: Units) -> tuple[float, ...] | Refusal:
    found: list[float] = []
    for text in texts:
        read = read_length(text.strip(), units)
        if isinstance(read, Refusal):
            return read
        if read.mm <= 0:
            return Refusal(part, f"A size of “{part}” is not more than nothing.")
        found.append(read.mm)
    return tuple(found)


def obstacle_words(obstacle: Obstacle, units: Units) -> str:
    """Return what stands in the way as it is typed."""
    sizes = [write_length(x, units) for x in obstacle.sizes]
    count = COUNTS[obstacle.kind]
    words = f"{obstacle.kind.value} {' x '.join(sizes[:count])}"
    if obstacle.kind in TAILS and obstacle.sizes[count]:
        words += f" {TAILS[obstacle.kind]} {sizes[count]}"
    if obstacle.height:
        words += f" h {write_length(obstacle.height, units)}"
    return words


def estimate_words(estimate: Estimate, units: Units) -> str:
    """Return an estimate in a line: what, how long, by which formula of what."""
    inputs = ", ".join(f"{name} {write_length(x, units)}" for name, x in estimate.inputs)
    if estimate.longest <= 0:
        size = "no sheet so wide passes"
    elif estimate.longest == float("inf"):
        size = "any length"
    else:
        size = f"up to {write_length(estimate.longest, units, suffix=True)}"
    tilt = f", tilted {estimate.tilt_deg:.0f}°" if estimate.tilt_deg else ""
    return (
        f"{obstacle_words(estimate.obstacle, units)}: {size}{tilt} ({estimate.formula}; {inputs})"
    )
