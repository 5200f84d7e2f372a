"""Revisions: what was issued under a letter, and which pieces are cut or hung already.

What was issued is kept as a compact imprint: every piece, joint and timber by its mark, the order,
and a short fingerprint of each printed sheet. It is what people hold in their hands, so it is never
worked out anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.plane import Point, Ring

Extent = tuple[float, float, float, float]
"""``(u0, v0, u1, v1)`` of an upright box on a surface, mm."""

LEFT_OUT = "IO"
"""Letters neither an issue nor a field of a sheet has, for they look like figures; the source
stands in resources/drafting/sheets.toml."""
LONGEST_LETTER = 2
"""Signs that a revision index has at most (ISO 7200)."""
DIGITS = 16
"""Signs of a fingerprint."""
EXACT = 2
"""An imprint keeps lengths to this many decimals of a mm."""
APART = 0.05
"""Lengths (mm) nearer than this are the same: drawings and the tape show no less."""


LETTERS = "".join(chr(c) for c in range(ord("A"), ord("Z") + 1) if chr(c) not in LEFT_OUT)
"""The letters there are, in order."""


def is_letter(text: str) -> bool:
    """Tell whether a text can be the letter of an issue: one or two capitals or figures."""
    plain = text.isascii() and text.isalnum() and text == text.upper()
    return plain and len(text) <= LONGEST_LETTER


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedPiece:
    """A piece of board as it was issued.

    Attributes:
        mark: What is written on it.
        board: Board id.
        low: What its long edge at y = 0 is, seen face up: ``"recessed"`` or ``"cut"``.
        high: The same for its other long edge.
        sheet: Number of the stock sheet it is cut from, or empty.
        stock: Length and width of that sheet, mm; zeros if there is none.
        outline: Its outline and cut-outs face up, from its own lower left corner, mm.
        at: The upright box it takes up on its surface.
        on: Where it lies on its stock sheet, mm from the sheet's lower left corner, face up.
        turned: Whether it lies there turned by half a turn.
    """

    mark: str
    board: str
    low: str
    high: str
    sheet: str
    stock: Point
    outline: tuple[Ring, ...]
    at: Extent
    on: Point = (0.0, 0.0)
    turned: bool = False

    @property
    def length(self) -> float:
        """Length along the sheet, mm."""
        return max(p[0] for p in self.outline[0]) - min(p[0] for p in self.outline[0])

    @property
    def width(self) -> float:
        """Width across the sheet, mm."""
        return max(p[1] for p in self.outline[0]) - min(p[1] for p in self.outline[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedJoint:
    """A joint as it was issued.

    Attributes:
        kind: What it is, e.g. ``"recessed"``.
        pieces: Marks of the pieces that meet.
        ends: Its two ends on the surface, mm.
    """

    kind: str
    pieces: tuple[str, str]
    ends: tuple[Point, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedTrimmer:
    """Timber to add, as it was issued.

    Attributes:
        tag: What it is called in its room.
        ends: Ends of its centre line on the surface, mm.
        length: Length, mm.
    """

    tag: str
    ends: tuple[Point, Point]
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedOpening:
    """An opening in a surface as it was issued.

    Attributes:
        id: Its id in the room.
        at: The upright box it takes up.
    """

    id: str
    at: Extent


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedSurface:
    """A surface as it was issued.

    Attributes:
        ref: Its ref, e.g. ``"bed/ceiling"``.
        name: What it is called, with its room.
        outline: Its outline and the holes through its board, mm.
        openings: Openings in it.
        pieces: In hanging order.
        joints: All joints.
        trimmers: Timber to add.
        fasteners: How many.
        daubs: How many, beads of adhesive counted singly.
        back_blocks: How many.
        held: Fingerprint of where all these lie; empty where it was not kept.
    """

    ref: str
    name: str
    outline: tuple[Ring, ...]
    openings: tuple[IssuedOpening, ...] = ()
    pieces: tuple[IssuedPiece, ...] = ()
    joints: tuple[IssuedJoint, ...] = ()
    trimmers: tuple[IssuedTrimmer, ...] = ()
    fasteners: int = 0
    daubs: int = 0
    back_blocks: int = 0
    held: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedLine:
    """A line of the order as it was issued.

    Attributes:
        code: Stable code.
        name: In words.
        unit: What it is counted in.
        total: How much was to be ordered.
    """

    code: str
    name: str
    unit: str
    total: float


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedSheet:
    """A printed sheet as it was issued.

    Attributes:
        title: Its title.
        room: Name of its room, or empty.
        kind: Which part of the set it belongs to.
        number: Its number in the set.
        imprint: Fingerprint of what stands on it, title block and clouds left out.
        letter: Letter of the issue it last changed with.
    """

    title: str
    room: str = ""
    kind: str = ""
    number: int
    imprint: str
    letter: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Issued:
    """One issue of the set.

    Attributes:
        letter: Its letter, e.g. ``"A"``; each issue of a project has its own.
        date: Date of issue, year-month-day.
        by: Who issued it, or empty.
        note: What it is about, in the user's words.
        form: Papers and scale the sheets were made with; fingerprints are compared within one.
        surfaces: Every surface, in order.
        lines: The order.
        sheets: The printed sheets, in order.
    """

    letter: str
    date: str
    by: str = ""
    note: str = ""
    form: str = ""
    surfaces: tuple[IssuedSurface, ...] = ()
    lines: tuple[IssuedLine, ...] = ()
    sheets: tuple[IssuedSheet, ...] = ()

    def letter_of(self, title: str, room: str, imprint: str) -> str:
        """Return the letter a sheet last changed with, or empty if it was not issued like this."""
        return next(
            (
                s.letter
                for s in self.sheets
                if (s.imprint, s.title, s.room) == (imprint, title, room)
            ),
            "",
        )


class DoneState(StrEnum):
    """How far a piece has come; the words stand in sentences and on drawings."""

    CUT = "cut"
    HUNG = "hung"


@dataclass(frozen=True, slots=True, kw_only=True)
class DonePiece:
    """A piece that is cut or hung already: its size, edges and place are facts.

    Attributes:
        state: Whether it is cut, or hung as well.
        surface: Ref of its surface.
        piece: The piece as it was made.
        beside: Ids of the other pieces that are cut from the same stock sheet.
    """

    state: DoneState
    surface: str
    piece: IssuedPiece
    beside: tuple[str, ...] = ()

    @property
    def room(self) -> str:
        """Id of its room."""
        return self.surface.partition("/")[0]


def next_letter(last: str) -> str:
    """Return the letter after another: A, B, ... Z, AA, AB, ... without I and O; "" for none.

    Args:
        last: Letter of the last issue; empty for none yet.
    """
    if not last:
        return LETTERS[0]
    if any(c not in LETTERS for c in last):
        return ""
    signs = [LETTERS.index(c) for c in last]
    at = len(signs) - 1
    while at >= 0 and signs[at] == len(LETTERS) - 1:
        signs[at] = 0
        at -= 1
    if at >= 0:
        signs[at] += 1
    else:
        signs.insert(0, 0)
    return "".join(LETTERS[n] for n in signs) if len(signs) <= LONGEST_LETTER else ""
