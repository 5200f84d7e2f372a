"""Where a function with one valley is least."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
"""Share of a stretch that each step of a golden section keeps."""


def least_at(of: Callable[[float], float], low: float, high: float, near: float = 1e-12) -> float:
    """Return where a function with one valley is least, by golden section.

    Args:
        of: The function.
        low: Where the valley begins.
        high: Where it ends.
        near: How near the answer comes to the place.
    """
    one, two = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_one, at_two = of(one), of(two)
    while high - low >= near:
        if at_one <= at_two:
            high, two, at_two = two, one, at_one
            one = high - GOLDEN * (high - low)
            at_one = of(one)
        else:
            low, one, at_one = one, two, at_two
            two = low + GOLDEN * (high - low)
            at_two = of(two)
    return (low + high) / 2
