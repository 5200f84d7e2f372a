"""Cautions: what can hurt people or the building, said on every print.

The texts are data (``resources/cautions.toml``); this module only knows their shape. A caution
can be acknowledged, never switched off.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.practice import Citation


class Matter(StrEnum):
    """When a caution matters most; it is printed in any case."""

    ALWAYS = "always"
    OLD_BUILDING = "old_building"
    """The building is older than a year of the pack, or its age is not known."""
    SPECIAL_ZONE = "special_zone"
    """A room or surface follows documents of its own."""
    HEAVY = "heavy"
    """A piece or sheet is heavier than one person should lift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution.

    Attributes:
        id: Stable id, e.g. ``"asbestos"``.
        code: Code of the findings it belongs to, ``RB801`` and up; several may share one.
        title: Two or three words.
        text: What to know and do, in plain sentences.
        matter: When it matters most.
        year_key: Key of the pack's figure that says which buildings are old; empty if none.
        citation: Where it comes from.
    """

    id: str
    code: str
    title: str
    text: str
    matter: Matter
    year_key: str
    citation: Citation
