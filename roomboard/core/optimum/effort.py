"""Effort: how far a search for the best goes, in counts that no machine changes."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from roomboard.core.optimum.master import Depth

FEWER = 16
"""By how much fewer patterns are gone through where no proof is wanted; nearly all of them are
for the proof alone."""


class Effort(StrEnum):
    """How far to go."""

    LIVE = "live"
    """The usual set-out and cutting, at once."""
    THOROUGH = "thorough"
    """Set-outs and cutting chosen together, with a bound."""
    PROOF = "proof"
    """The same, on until the answer is proven or the counts run out."""


class Reach(NamedTuple):
    """The counts of an effort.

    Attributes:
        ways: Ways to divide each surface into courses.
        kept: How many of them, the best by themselves, to look at together with other surfaces.
        depth: Of the search for set-outs and cutting together.
        cutting: Of the search for the cutting of given pieces.
    """

    ways: int
    kept: int
    depth: Depth
    cutting: Depth

    def unbounded(self) -> Reach:
        """Return the counts where only an answer is wanted: fewer patterns to choose among."""
        depths = (self.depth, self.cutting)
        depth, cutting = (d._replace(patterns=d.patterns // FEWER) for d in depths)
        return self._replace(depth=depth, cutting=cutting)


REACH = {
    Effort.THOROUGH: Reach(
        ways=4,
        kept=1,
        depth=Depth(rounds=64, nodes=128, patterns=4096, asks=320),
        cutting=Depth(rounds=64, nodes=128, patterns=1024, asks=320),
    ),
    Effort.PROOF: Reach(
        ways=16,
        kept=2,
        depth=Depth(rounds=512, nodes=4096, patterns=16384, asks=6144),
        cutting=Depth(rounds=512, nodes=2048, patterns=4096, asks=3072),
    ),
}
