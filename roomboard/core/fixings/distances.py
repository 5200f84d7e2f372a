"""How far fasteners keep from sides of sheets, from sides of timber and from each other."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.core.fixings.lines import Line
from roomboard.core.plane import Interval
from roomboard.core.practice import Practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Distances:
    """The pack's distances for fasteners, mm.

    Attributes:
        keep: Wanted from a recessed edge.
        keep_min: Least from a recessed edge.
        keep_cut: Wanted from a cut edge or an end.
        keep_cut_min: Least from a cut edge or an end.
        edge_max: Furthest inside a side that a line along it may stand.
        reach: The same at the perimeter.
        timber_edge: Least from the side and the ends of a member.
        near: Two fasteners nearer than this break the board out: one is enough.
    """

    keep: float
    keep_min: float
    keep_cut: float
    keep_cut_min: float
    edge_max: float
    reach: float
    timber_edge: float
    near: float

    @staticmethod
    def of(practice: Practice) -> Distances:
        """Return the distances that a pack states."""
        keep, keep_min = practice.mm("edge.set"), practice.mm("edge.min")
        cut = practice.mm("edge.cut_min")
        keep_cut = max(keep, cut)
        edge_max = max(practice.mm("edge.max"), keep_cut)
        key = "perimeter_reach.max"
        return Distances(
            keep=keep,
            keep_min=keep_min,
            keep_cut=keep_cut,
            keep_cut_min=max(keep_min, cut),
            edge_max=edge_max,
            reach=max(practice.mm(key) if practice.has(key) else 0.0, edge_max),
            timber_edge=practice.mm("timber_edge.min"),
            near=2 * keep_min,
        )

    def ends(self, line: Line) -> Interval:
        """Return where fasteners may stand along a support, clear of its ends."""
        if line.length <= 2 * self.timber_edge:
            return (line.length / 2, line.length / 2)
        return (self.timber_edge, line.length - self.timber_edge)
