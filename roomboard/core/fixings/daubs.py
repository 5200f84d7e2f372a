"""Daubs: where adhesive holds a member that crosses a piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from roomboard.core.fixings.distances import Distances
from roomboard.core.fixings.lines import (
    HAIR,
    NEARLY_ALONG,
    clear_stretches,
    rest_of,
    spread,
    within,
)
from roomboard.core.fixings.runs import Field, Spot
from roomboard.core.fixings.values import Role
from roomboard.core.plane import TOLERANCE, Interval
from roomboard.core.practice import Practice


class DaubPlaces:
    """Finds the places of daubs on one surface.

    Args:
        place: Whether the surface is a ceiling or another, in the pack's word.
        practice: The pack.
        distances: How far fasteners keep.
    """

    def __init__(self, place: str, practice: Practice, distances: Distances) -> None:
        self.place, self.practice, self.distances = place, practice, distances

    def on(self, one: Field, spots: Sequence[Spot]) -> tuple[float, ...]:
        """Return where daubs hold a member, or nothing where they lawfully cannot."""
        barred = self._barred(one, spots)
        if self.place == "ceiling":
            return self._ceiling_daubs(one, spots, barred)
        return self._wall_daubs(one, barred)

    def _barred(self, one: Field, spots: Sequence[Spot]) -> list[Interval]:
        """Return the stretches of a member where no daub may stand.

        Too near to fasteners on other supports, or where a side of the piece lies.

        Fasteners along the edges that the run ends at do not count: from those edges the
        first daub has a distance of its own.
        """
        clear = self.practice.mm("daub.fastener_clear")
        line, run = one.behind.line, one.run
        at_edge = 2 * self.distances.keep_cut
        found: list[Interval] = []
        for s in spots:
            if s.support == one.behind.number:
                continue
            u, v = s.u - line.ax, s.v - line.ay
            y = v * line.dx - u * line.dy
            if abs(y) >= clear:
                continue
            x = u * line.dx + v * line.dy
            if run.x0 + at_edge < x < run.x1 - at_edge:
                reach = math.sqrt(clear * clear - y * y)
                found.append((x - reach, x + reach))
        found += self._landing(one)
        found.sort()
        return found

    def _landing(self, one: Field) -> list[Interval]:
        """Return the stretches of a member on which a side of the piece lies.

        A sheet's end there is fastened along it; no adhesive goes under it, nor beside the
        flat of a round hole for a light, where it would be squeezed out.
        """
        half, radius = one.behind.support.face / 2, self.practice.mm("daub.diameter") / 2
        return [
            (min(x0, x1) - radius, max(x0, x1) + radius)
            for x0, y0, x1, y1, _, _ in one.behind.edges
            if abs(y1 - y0) < NEARLY_ALONG * abs(x1 - x0) and abs(y0 + y1) / 2 <= half
        ]

    def _at_edges(self, one: Field) -> tuple[bool, bool]:
        """Tell whether a run begins and ends at the sheet's edges, or where the member does."""
        run = one.run
        middle, near = (run.x0 + run.x1) / 2, self.distances.keep_cut + 1
        sides = [edge._replace(keep=0.0) for edge in one.behind.edges]
        for a, b in clear_stretches(sides, 0.0):
            if a <= middle <= b:
                return (run.x0 - a <= near, b - run.x1 <= near)
        return (True, True)

    def _from_ends(self, one: Field, first: float) -> Interval:
        """Return the stretch of a run that daubs may stand on.

        From a sheet's edge the first daub has a distance of its own; where the member ends
        under the board, a daub keeps clear of the fastener there like of any other.
        """
        run, clear = one.run, self.practice.mm("daub.fastener_clear")
        at_low, at_high = self._at_edges(one)
        return (
            run.x0 - self.distances.keep + first if at_low else run.x0 + clear,
            run.x1 + self.distances.keep - first if at_high else run.x1 - clear,
        )

    def _ceiling_daubs(
        self, one: Field, spots: Sequence[Spot], barred: Sequence[Interval]
    ) -> tuple[float, ...]:
        mm = self.practice.mm
        first, least, most = (
            mm("daub.ceiling_first"),
            mm("daub.ceiling_min"),
            mm("daub.ceiling_max"),
        )
        run = one.run
        low, high = self._from_ends(one, first)
        centre = [
            s.x
            for s in spots
            if s.support == one.behind.number and s.role is Role.CENTRE and run.x0 <= s.x <= run.x1
        ]
        halves: list[tuple[float, float, float]] = [(low, high, 1.0)]
        if centre:
            middle, clear = sum(centre) / len(centre), mm("daub.centre_clear")
            halves = [(low, middle - clear, 1.0), (middle + clear, high, -1.0)]
        found: list[float] = []
        for start, end, sign in halves:
            if end - start < -HAIR:
                return ()
            free = rest_of((start, end), barred)
            if not free:
                return ()
            for a, b in free:
                count = math.floor((b - a) / least + HAIR) + 1
                step = min(most, (b - a) / (count - 1)) if count > 1 else 0.0
                origin = a if sign > 0 else b
                found.extend(origin + sign * k * step for k in range(count))
        return tuple(sorted(found))

    def _wall_daubs(self, one: Field, barred: Sequence[Interval]) -> tuple[float, ...]:
        mm = self.practice.mm
        clear, most, first = mm("daub.wall_edge_clear"), mm("daub.wall_max"), mm("daub.wall_first")
        at, run = one.behind, one.run
        edges = [edge._replace(keep=clear) for edge in at.edges]
        upward = at.line.dy > HAIR or (abs(at.line.dy) <= HAIR and at.line.dx > 0)
        low, high = self._from_ends(one, first)
        at_low, at_high = self._at_edges(one)
        if at_low and not upward:
            low = run.x0
        if at_high and upward:
            high = run.x1
        found: list[float] = []
        for whole in within(clear_stretches(edges, 0.0), low, high):
            for a, b in rest_of(whole, barred):
                if b - a <= most / 2:
                    found.append(a if upward else b)
                else:
                    found.extend(spread(a, b, most))
        found.sort()
        if any(q - p > most + TOLERANCE for p, q in pairwise(found)):
            return ()
        return tuple(found)
