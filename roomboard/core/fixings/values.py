"""What holds a surface's pieces: fasteners, daubs, beads of adhesive, back-blocks."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from roomboard.core.findings import Finding
from roomboard.core.plane import Point


class Role(StrEnum):
    """What a fastener is there for; the words of the practice rows."""

    FIELD = "field"
    CENTRE = "centre"
    EDGE = "edge"
    END = "end"
    BUTT = "butt"
    OPENING = "opening"
    CORNER = "corner"
    LAMINATING = "laminating"
    TEMPORARY = "temporary"


class Fastener(NamedTuple):
    """One nail or screw.

    Attributes:
        u: Place in the surface, mm.
        v: Place in the surface, mm.
        kind: ``"screw"``, ``"nail"`` or ``"laminating_screw"``.
        role: What it is there for.
        piece: Mark of the piece it holds.
        support: Id of the support (or back-block) it goes into.
    """

    u: float
    v: float
    kind: str
    role: Role
    piece: str
    support: str


class Daub(NamedTuple):
    """One daub of adhesive.

    Attributes:
        u: Centre in the surface, mm.
        v: Centre in the surface, mm.
        piece: Mark of the piece it holds.
        support: Id of the support it sits on.
    """

    u: float
    v: float
    piece: str
    support: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AdhesiveBead:
    """A straight bead of adhesive along a support.

    Attributes:
        a: Start in (u, v), mm.
        b: End.
        piece: Mark of the piece it holds.
        support: Id of the support it runs on.
    """

    a: Point
    b: Point
    piece: str
    support: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BackBlock:
    """A piece of board laminated behind a joint, between members.

    Attributes:
        id: ``"BB4"``, numbered in the room.
        surface: Surface ref.
        joint: Id of the joint it backs.
        corners: Its outline in (u, v), mm.
        length: Longer side, mm.
        width: Shorter side, mm.
    """

    id: str
    surface: str
    joint: str
    corners: tuple[Point, Point, Point, Point]
    length: float
    width: float


@dataclass(frozen=True, kw_only=True)
class Fixings:
    """Everything that holds one surface's pieces.

    Attributes:
        surface: Surface ref.
        fasteners: In order of piece, support, place.
        daubs: In the same order.
        beads: Straight adhesive beads, where the pack uses them.
        back_blocks: In order of joint.
        findings: What is to be said about them.
    """

    surface: str
    fasteners: tuple[Fastener, ...] = ()
    daubs: tuple[Daub, ...] = ()
    beads: tuple[AdhesiveBead, ...] = ()
    back_blocks: tuple[BackBlock, ...] = ()
    findings: tuple[Finding, ...] = ()
