"""Every pattern of a sheet that is worth nearly as much as the best one, limits kept."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from roomboard.core.optimum.tree import Leaf, Pattern, Split, Tree

if TYPE_CHECKING:
    from roomboard.core.optimum.plates import Plates

Floats = npt.NDArray[np.float64]

HAIR = 1e-9
"""Values nearer than this are one."""
TRIES = 256
"""For each pattern allowed, so many pairs of parts are put together before it is too many."""

Cuts = tuple[int, int, "Cuts | None", "Cuts | None"] | int
"""A kind; or whether it is a rip, where, and the cuts of both parts."""
Made = tuple[float, int, Cuts | None]
"""What a pattern is worth, how long a plate it takes, and its cuts."""


class TooManyError(Exception):
    """There are more patterns than were asked for."""


class Near:
    """Patterns of the plates of one sheet, each worth nearly its plate's best.

    Any part of a pattern of the sheet that is worth the sheet's best less ``slack`` is itself
    worth the best of its plate less what is left of ``slack`` when the cuts that lead to the
    plate are made: each cut loses what the best of both parts fall short of the best of the
    whole. So plates need only keep such patterns. Of these one that another contains is left
    out: what it is put together with goes with the other too, and what is then beyond a limit
    is left uncut.

    A plate that is cut across is made of segments that are not. The shortest of them is taken
    first, it is no longer than half the plate, and only on a plate as long as it needs: each
    row of segments is then come upon in few orders.

    A pattern is a whole number that counts each kind in bits of its own, so that putting two
    together is one addition.
    """

    def __init__(self, plates: Plates, slack: float, most: int) -> None:
        """Set up the counts.

        Args:
            plates: Plates with their worth.
            slack: How much less than the best.
            most: How many patterns of one plate there may be.
        """
        self.plates = plates
        self.slack = slack
        self.most = most
        self._slacks: dict[tuple[int, int], Floats] = {}
        self._tries = 0
        self._cut: dict[tuple[int, int, int], dict[int, Made]] = {}
        self._uncut: dict[tuple[int, int, int], dict[int, Made]] = {}
        longest = plates.lengths[-1]
        self._limits: dict[int, int] = {}
        for i in plates.allowed:
            item = plates.items[i]
            fits = (longest // item.length) * (plates.width // item.width)
            self._limits[i] = max(1, min(item.limit, fits))
        self._bits = max(self._limits.values(), default=1).bit_length() + 1
        self._one = {i: 1 << (n * self._bits) for n, i in enumerate(plates.allowed)}
        top = 1 << (self._bits - 1)
        # Added to a pattern, the top bit of a kind says that there are more than its limit.
        self._spare = sum((top - 1 - self._limits[i]) * one for i, one in self._one.items())
        self._over = sum(top * one for one in self._one.values())

    def patterns(self, length: int) -> list[Pattern]:
        """Return the patterns of a whole sheet.

        Raises:
            TooManyError: If any plate has more than ``most``.
        """
        n = self.plates.place(length)
        self._slacks = slacks(self.plates, n, self.slack)
        self._cut, self._uncut = {}, {}
        made = [
            Pattern(items, _trimmed(cuts, list(items)))
            for key, (_, _, cuts) in self._all(self.plates.width, 2, n).items()
            if (items := self._items(key))
        ]
        return sorted(made, key=lambda p: (-len(p.items), p.items))

    def _least(self, width: int, edges: int, n: int) -> float:
        """Return what a pattern of a plate must be worth at least."""
        worth = float(self.plates.worths(width, edges)[n])
        return worth - float(self._slacks[width, edges][n]) - HAIR

    def _items(self, key: int) -> tuple[int, ...]:
        return tuple(sorted(i for i, count in self._counts(key) for _ in range(count)))

    def _counts(self, key: int) -> list[tuple[int, int]]:
        """Return the kinds of a pattern and how often each comes."""
        bits, mask = self._bits, (1 << self._bits) - 1
        found: list[tuple[int, int]] = []
        at = 0
        while key:
            skip = ((key & -key).bit_length() - 1) // bits
            at += skip
            key >>= skip * bits
            found.append((self.plates.allowed[at], key & mask))
            at += 1
            key >>= bits
        return found

    def _all(self, width: int, edges: int, n: int) -> dict[int, Made]:
        """Return the patterns of a plate by what they count."""
        key = (width, edges, n)
        if key in self._cut:
            return self._cut[key]
        worth = self.plates.worths(width, edges)
        least = self._least(width, edges, n)
        found = dict(self._segments(width, edges, n))
        rests = self.plates.crosscuts()[n]
        both = worth[1 : 1 + len(rests)] + worth[rests]
        for at in np.flatnonzero(both >= least).tolist():
            length = self.plates.lengths[at + 1]
            uncut = self._segments(width, edges, at + 1)
            tight = {k: made for k, made in uncut.items() if made[1] > self.plates.lengths[at]}
            if tight:
                rest = self._all(width, edges, int(rests[at]))
                self._join(found, tight, rest, (0, length), least)
        self._cut[key] = found = self._largest(found)
        return found

    def _segments(self, width: int, edges: int, n: int) -> dict[int, Made]:
        """Return the patterns of a plate that is not cut across at once."""
        key = (width, edges, n)
        if key in self._uncut:
            return self._uncut[key]
        plates = self.plates
        least = self._least(width, edges, n)
        length = plates.lengths[n]
        found: dict[int, Made] = {}
        if least <= 0:
            found[0] = (0.0, 0, None)
        for i in plates.allowed:
            good = plates.items[i].length <= length and plates.values[i] >= least
            if good and plates.fits(i, width, edges):
                found[self._one[i]] = (plates.values[i], plates.items[i].length, i)
        for a, ea, b, eb in plates.rips(width, edges):
            if plates.worths(a, ea)[n] + plates.worths(b, eb)[n] >= least:
                one, two = self._all(a, ea, n), self._all(b, eb, n)
                self._join(found, one, two, (1, a), least)
        self._uncut[key] = found = self._largest(found)
        return found

    def _join(
        self,
        found: dict[int, Made],
        one: dict[int, Made],
        two: dict[int, Made],
        cut: tuple[int, int],
        least: float,
    ) -> None:
        """Put the patterns of two parts together."""
        rip, at = cut
        spare, over = self._spare, self._over
        second = sorted(two.items(), key=lambda e: (-e[1][0], e[0]))
        for items, (value, long, cuts) in one.items():
            for others, (more, length, branch) in second:
                worth = value + more
                if worth < least:
                    break
                self._tries += 1
                both = items + others
                if (both + spare) & over:
                    both, worth = self._within_limits(both, worth)
                    if worth < least:
                        continue
                needs = max(long, length) if rip else long + length
                known = found.get(both)
                if known is None or needs < known[1]:
                    found[both] = (worth, needs, (rip, at, cuts, branch))
            if self._tries > TRIES * self.most or len(found) > 16 * self.most:
                raise TooManyError

    def _within_limits(self, items: int, value: float) -> tuple[int, float]:
        """Return a pattern and its value without what is beyond the limits."""
        for i, count in self._counts(items):
            beyond = count - self._limits[i]
            if beyond > 0:
                items -= beyond * self._one[i]
                value -= beyond * self.plates.values[i]
        return items, value

    def _largest(self, found: dict[int, Made]) -> dict[int, Made]:
        """Leave out patterns that another one contains, by taking one piece off the others.

        Raises:
            TooManyError: If too many are left.
        """
        smaller = {key - self._one[i] for key in found for i, _ in self._counts(key)}
        kept = {key: made for key, made in found.items() if key not in smaller}
        if len(kept) > self.most:
            raise TooManyError
        return kept


def slacks(plates: Plates, top: int, slack: float) -> dict[tuple[int, int], Floats]:
    """Return how much less than its best a part of a sheet may be worth, by plate.

    Args:
        plates: Plates with their worth.
        top: Index of the sheet's length.
        slack: How much less than its best the sheet may be worth.

    Returns:
        By width and recessed edges, for each length; below 0 where no such sheet has the plate.
    """
    left = {(w, e): np.full(len(plates.lengths), -math.inf) for w in plates.widths for e in (0, 1)}
    left[plates.width, 2] = np.full(len(plates.lengths), -math.inf)
    left[plates.width, 2][top] = slack
    for width, edges in sorted(left, reverse=True):
        own, worth = left[width, edges], plates.worths(width, edges)
        for n in range(len(own) - 1, 0, -1):
            rests = plates.crosscuts()[n]
            if own[n] < -HAIR or not len(rests):
                continue
            after = own[n] - worth[n] + worth[1 : 1 + len(rests)] + worth[rests]
            np.maximum.at(own, np.arange(1, 1 + len(rests)), after)
            np.maximum.at(own, rests, after)
        for a, ea, b, eb in plates.rips(width, edges):
            after = own - worth + plates.worths(a, ea) + plates.worths(b, eb)
            np.maximum(left[a, ea], after, out=left[a, ea])
            np.maximum(left[b, eb], after, out=left[b, eb])
    return left


def _trimmed(cuts: Cuts | None, left: list[int]) -> Tree | None:
    """Return cuts as a tree that gives no pieces but those that are left, and take them off."""
    if cuts is None:
        return None
    if isinstance(cuts, int):
        if cuts not in left:
            return None
        left.remove(cuts)
        return Leaf(cuts)
    rip, at, first, second = cuts
    return Split(bool(rip), at, _trimmed(first, left), _trimmed(second, left))
