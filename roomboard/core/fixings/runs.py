"""Runs: stretches of fixing lines of one piece on the supports behind it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from roomboard.core.fixings.lines import Edge, Line
from roomboard.core.fixings.values import Role
from roomboard.core.plane import Interval
from roomboard.core.surface import Support


class Run(NamedTuple):
    """A stretch of a fixing line of one piece on one support.

    ``edge`` is the index of the piece's side it follows, -1 in the field. ``tight`` marks a
    line nearer to the side of the timber than the pack asks.
    """

    x0: float
    x1: float
    y: float
    role: Role
    condition: str
    edge: int = -1
    tight: bool = False


@dataclass(slots=True)
class Behind:
    """A support behind the piece at hand, with the piece in its frame.

    ``carrying`` tells whether it carries the field of any sheet, not only their edges.
    """

    number: int
    support: Support
    line: Line
    edges: list[Edge]
    carrying: bool
    runs: list[Run] = field(default_factory=list)
    taken: list[Interval] = field(default_factory=list)


@dataclass(slots=True)
class Field:
    """A field run and what holds the board there."""

    behind: Behind
    run: Run
    anchored: bool
    glued: bool
    daubs: tuple[float, ...] = ()


class Spot(NamedTuple):
    """A fastener before it is written down."""

    support: int
    x: float
    u: float
    v: float
    kind: str
    role: Role
