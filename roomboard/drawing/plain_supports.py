"""What pieces of framing are called in plain words."""

from __future__ import annotations

from roomboard.core.member_words import WHOLE, member_words
from roomboard.core.surface import Support

__all__ = ["WHOLE", "support_words"]


def support_words(support: Support, *, alone: bool = False) -> str:
    """Return what a support is called, e.g. ``"Joist 5"``, ``"Stud S3"``, ``"Head over W1"``.

    Args:
        support: The support.
        alone: Whether its surface has no other zone, so that its zone need not be named.
    """
    words = member_words(support, alone=alone)
    return words[0].upper() + words[1:]
