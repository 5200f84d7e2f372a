"""Plates: what a sheet cut from side to side can be worth, and every pattern near its best.

Lengths and widths are whole numbers. A plate knows how many of its long edges are recessed:
two for the whole width of a sheet, one or none after rips.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from roomboard.core.optimum.near import HAIR, Near
from roomboard.core.optimum.tree import Leaf, Pattern, Split, Tree

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

LADDER = (0.0, 0.01, 0.02, 0.04, 0.08, 0.16, 0.32, 0.64, 1.0)
"""How far below the best, as a share of it, a pattern within the limits is looked for."""


class Item(NamedTuple):
    """A kind of piece.

    Attributes:
        length: Along the sheet.
        width: Across it.
        recessed: How many of its long edges must be recessed.
        cut: How many must be cut clear of the recess.
        limit: How many are of use at most.
    """

    length: int
    width: int
    recessed: int = 0
    cut: int = 0
    limit: int = 1_000_000


def sums(sizes: Iterable[tuple[int, int]], most: int) -> tuple[int, ...]:
    """Return every sum of sizes up to ``most``, each size as often as is given with it."""
    reached, mask = 1, (1 << most + 1) - 1
    for size, limit in sorted(set(sizes)):
        for _ in range(min(limit, most // size)):
            grown = (reached | reached << size) & mask
            if grown == reached:
                break
            reached = grown
    return tuple(i for i, bit in enumerate(reversed(f"{reached:b}")) if bit == "1")


class Plates:
    """All plates of sheets of one width, for a given choice of kinds.

    Attributes:
        lengths: Lengths that matter, in order, from 0.
        widths: Widths that matter, narrower than the sheet, in order.
        values: What each kind is worth, once they have prices.
    """

    def __init__(
        self, items: Sequence[Item], allowed: Sequence[int], size: tuple[int, int], recess: int
    ) -> None:
        """Gather the lengths and widths that matter.

        Args:
            items: All kinds.
            allowed: Indexes of those that these sheets may give.
            size: Longest sheet and its width.
            recess: How far the recess reaches in.
        """
        most, self.width = size
        self.items = items
        self.recess = recess
        fits = [i for i in allowed if items[i].length <= most and items[i].width <= self.width]
        self.allowed = tuple(fits)
        by_length: dict[int, int] = {}
        by_width: dict[int, int] = {}
        for i in fits:
            by_length[items[i].length] = by_length.get(items[i].length, 0) + items[i].limit
            by_width[items[i].width] = by_width.get(items[i].width, 0) + items[i].limit
        self.lengths = sums(by_length.items(), most)
        self.widths = tuple(w for w in sums(by_width.items(), self.width) if 0 < w < self.width)
        self._points = np.array(self.lengths, dtype=np.int64)
        self._places = {length: n for n, length in enumerate(self.lengths)}
        self._rests: list[Ints] = []
        self._worth: dict[tuple[int, int], Floats] = {}
        self.values: Sequence[float] = ()

    # --- what fits ---------------------------------------------------------------------

    def fits(self, i: int, width: int, edges: int) -> bool:
        """Tell whether a kind fits across a plate with so many recessed edges."""
        item = self.items[i]
        if item.width > width or item.recessed > edges:
            return False
        if item.recessed == 2:
            return item.width == self.width
        room = self.width - self.recess * item.cut
        if item.recessed and item.cut:
            return self.recess <= item.width <= room
        return not item.cut or item.width <= room

    def _floor_width(self, width: int) -> int:
        best = 0
        for w in self.widths:
            if w > width:
                break
            best = w
        return best

    def place(self, length: int) -> int:
        """Return the index of the longest length that matters within ``length``."""
        return int(np.searchsorted(self._points, length, side="right")) - 1

    def crosscuts(self) -> list[Ints]:
        """Return for each length the index of what is left beside each first part."""
        if not self._rests:
            points = self._points
            for n, whole in enumerate(self.lengths):
                half = int(np.searchsorted(points, whole // 2, side="right"))
                firsts = points[1 : min(half, n)] if n else points[:0]
                self._rests.append(np.searchsorted(points, whole - firsts, side="right") - 1)
        return self._rests

    def rips(self, width: int, edges: int) -> list[tuple[int, int, int, int]]:
        """Return the rips of a plate: width and edges of the first part, then of the other."""
        found: list[tuple[int, int, int, int]] = []
        for a in self.widths:
            b = self._floor_width(width - a) if a < width else 0
            if not b:
                break
            if edges == 2:
                if a <= width - a:
                    found.append((a, 1, b, 1))
            elif edges == 1:
                found.append((a, 1, b, 0))
            elif a <= width - a:
                found.append((a, 0, b, 0))
        return found

    # --- what it is worth --------------------------------------------------------------

    def price(self, values: Sequence[float]) -> None:
        """Give the kinds values; what plates are worth is then reckoned from them."""
        self.values = values
        self._worth = {}
        for width in self.widths:
            for edges in (0, 1):
                self._worth[width, edges] = self._reckon(width, edges)
        self._worth[self.width, 2] = self._reckon(self.width, 2)

    def _reckon(self, width: int, edges: int) -> Floats:
        count = len(self.lengths)
        worth = np.zeros(count)
        for i in self.allowed:
            if self.fits(i, width, edges):
                at = self._places[self.items[i].length]
                worth[at] = max(worth[at], self.values[i])
        for a, ea, b, eb in self.rips(width, edges):
            np.maximum(worth, self._worth[a, ea] + self._worth[b, eb], out=worth)
        np.maximum.accumulate(worth, out=worth)
        for n, rests in enumerate(self.crosscuts()):
            if n and worth[n - 1] > worth[n]:
                worth[n] = worth[n - 1]
            if len(rests):
                both = worth[1 : 1 + len(rests)] + worth[rests]
                worth[n] = max(worth[n], float(both.max()))
        return worth

    def worths(self, width: int, edges: int) -> Floats:
        """Return the most that plates of a width can be worth, for each length that matters."""
        return self._worth[width, edges]

    def worth(self, length: int) -> float:
        """Return the most that a whole sheet of this length can be worth."""
        return float(self._worth[self.width, 2][self.place(length)])

    # --- patterns ----------------------------------------------------------------------

    def best(self, length: int) -> Pattern:
        """Return a pattern of a whole sheet that is worth the most; limits do not count."""
        tree = self._trace(self.width, 2, self.place(length))
        return Pattern(tuple(sorted(leaves(tree))), tree)

    def _trace(self, width: int, edges: int, n: int) -> Tree | None:
        worth = self._worth[width, edges]
        goal = worth[n]
        if goal <= HAIR:
            return None
        while n and worth[n - 1] >= goal - HAIR:
            n -= 1
        length = self.lengths[n]
        for i in self.allowed:
            good = self.items[i].length <= length and self.values[i] >= goal - HAIR
            if good and self.fits(i, width, edges):
                return Leaf(i)
        for a, ea, b, eb in self.rips(width, edges):
            if self._worth[a, ea][n] + self._worth[b, eb][n] >= goal - HAIR:
                return Split(True, a, self._trace(a, ea, n), self._trace(b, eb, n))  # noqa: FBT003
        rests = self.crosscuts()[n]
        both = worth[1 : 1 + len(rests)] + worth[rests]
        at = int(both.argmax())
        first = self._trace(width, edges, at + 1)
        return Split(False, self.lengths[at + 1], first, self._trace(width, edges, int(rests[at])))  # noqa: FBT003

    def near(self, length: int, slack: float, most: int) -> list[Pattern]:
        """Return every pattern of a whole sheet worth its best less ``slack``, limits kept.

        Patterns that another one contains are left out.

        Raises:
            TooManyError: If any plate has more than ``most``.
        """
        return Near(self, slack, most).patterns(length)


def leaves(tree: Tree | None) -> list[int]:
    """Return the kinds that come out of a tree of cuts."""
    if tree is None:
        return []
    if isinstance(tree, Leaf):
        return [tree.item]
    return leaves(tree.first) + leaves(tree.second)


def most_valuable(
    items: Sequence[Item], values: Sequence[float], size: tuple[int, int], most: int = 200_000
) -> tuple[float, Pattern]:
    """Return the most valuable pattern of one sheet, each kind no oftener than its limit.

    Args:
        items: The kinds.
        values: What each is worth.
        size: Length and width of the sheet.
        most: How many patterns of any one plate to go through at most.

    Raises:
        TooManyError: If that is too few.
    """
    plates = Plates(items, range(len(items)), size, 0)
    plates.price(values)
    top = plates.worth(size[0])
    for share in LADDER:
        plates.price(values)
        found = plates.near(size[0], top * share, most)
        if found:
            best = max(found, key=lambda p: (sum(values[i] for i in p.items), p.items))
            return sum(values[i] for i in best.items), best
    return 0.0, Pattern((), None)
