"""Trees of cuts: what comes out of a sheet, cut from side to side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


@dataclass(frozen=True, slots=True)
class Leaf:
    """A plate from which one piece is cut."""

    item: int


@dataclass(frozen=True, slots=True)
class Split:
    """A cut from side to side.

    Attributes:
        rip: Along the sheet or across it.
        at: Size of the first part.
        first: What comes out of it.
        second: What comes out of the rest.
    """

    rip: bool
    at: int
    first: Tree | None
    second: Tree | None


Tree = Leaf | Split


class Pattern(NamedTuple):
    """What is cut from one sheet: kinds in order, each as often as it comes, and how."""

    items: tuple[int, ...]
    tree: Tree | None
