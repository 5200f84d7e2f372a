"""What members of a frame are called in a sentence: ``joist 5``, ``stud S3``, ``bottom plate``."""

from __future__ import annotations

import string
from typing import TYPE_CHECKING

from roomboard.core.surface import SupportKind

if TYPE_CHECKING:
    from roomboard.core.surface import Support

WHOLE = frozenset({"all", "assumed"})
"""Ids of joist zones that are the whole ceiling and need no name."""
WORDS: dict[SupportKind, str] = {
    SupportKind.JOIST: "joist",
    SupportKind.BATTEN: "batten",
    SupportKind.TRUSS: "truss",
    SupportKind.STUD: "stud",
    SupportKind.NOGGING: "nogging",
    SupportKind.PLATE: "plate",
    SupportKind.TRIMMER: "trimmer",
}
AT_OPENINGS: dict[SupportKind, str] = {
    SupportKind.JAMB: "stud beside",
    SupportKind.HEAD: "head over",
    SupportKind.SILL: "sill under",
}


def member_words(support: Support, *, alone: bool = False) -> str:
    """Return what a member is called in a sentence.

    Args:
        support: The member, as a surface has it.
        alone: Whether its surface has no other zone, so that its zone need not be named.
    """
    name = support.id.partition("/")[0]  # what follows counts the parts of a divided one
    if support.kind is SupportKind.PLATE:
        return "top plate" if name.startswith("PT") else "bottom plate"
    if support.kind in AT_OPENINGS:
        opening = name.rstrip(string.ascii_lowercase)[:-1]
        return f"{AT_OPENINGS[support.kind]} {opening}"
    word = WORDS[support.kind]
    zone, dash, number = name.rpartition("-")
    if not dash:
        return f"{word} {name}"
    return f"{word} {number}" if alone or zone in WHOLE else f"{word} {number} of zone {zone}"
