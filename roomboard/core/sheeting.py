"""What a set-out is made of: pieces, courses, fields, stops and butt joints."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.findings import Finding
    from roomboard.core.plane import Frame, Point, Region
    from roomboard.core.project import Start
    from roomboard.core.tapers import Taper


class EdgeNeed(StrEnum):
    """What a long edge of a piece must be when it is cut from stock."""

    RECESSED = "recessed"
    """It makes a recessed joint."""
    CUT = "cut"
    """The recess must be cut off (square-set angles)."""
    ANY = "any"


@dataclass(frozen=True, kw_only=True)
class Piece:
    """One piece of board as it is fixed.

    Attributes:
        id: ``"room/mark"``, unique in the project.
        mark: What is written on it and on the drawings, e.g. ``"C2-1"``.
        room: Room id.
        surface: Surface ref.
        board: Board id.
        field: Number of its field in the surface, from 0.
        course: Number of its course in the field, from 1.
        place: Number in its course, from 1.
        region: Its outline in the surface's (u, v), cut-outs taken out.
        frame: Turned frame of its field: s runs along the sheet.
        blank: ``(s0, t0, s1, t1)`` of the rectangle it is cut from, in the field's frame.
        low: Need of the blank's long edge at t0.
        high: Need of the blank's long edge at t1.
        face_up: Its outline seen on its face, in its own frame: length along x from 0, the
            low edge at y = 0. For a surface seen from the back this is the mirror of the plan.
        face_up_mirrored: Whether ``face_up`` was mirrored end for end against (s, t).
        mass_kg: Mass of the blank, kg.
        hang: Hanging number in the room, from 1.
    """

    id: str
    mark: str
    room: str
    surface: str
    board: str
    field: int
    course: int
    place: int
    region: Region
    frame: Frame
    blank: tuple[float, float, float, float]
    low: EdgeNeed
    high: EdgeNeed
    face_up: Region
    face_up_mirrored: bool
    mass_kg: float
    hang: int = 0

    @property
    def length(self) -> float:
        """Length of the blank along the sheet, mm."""
        return round(self.blank[2] - self.blank[0], 6)

    @property
    def width(self) -> float:
        """Width of the blank across the sheet, mm."""
        return round(self.blank[3] - self.blank[1], 6)

    @property
    def is_plain(self) -> bool:
        """Whether it is a rectangle without notches or cut-outs."""
        return self.face_up.is_box


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One strip of sheets side by side.

    Attributes:
        field: Number of its field.
        number: From 1, counted from the side the set-out starts.
        t0: Low side in the field's frame, mm.
        t1: High side, mm.
        sheet_width: Width of the stock it is cut from, mm.
        recess_low: Whether its low edge takes part in a joint (and must be recessed).
        recess_high: The same for its high edge.
    """

    field: int
    number: int
    t0: float
    t1: float
    sheet_width: float
    recess_low: bool
    recess_high: bool

    @property
    def ripped(self) -> bool:
        """Whether it is narrower than its stock."""
        return self.t1 - self.t0 < self.sheet_width - 0.01


@dataclass(frozen=True, kw_only=True)
class Field:
    """A part of a surface whose sheets all run one way.

    Attributes:
        number: From 0.
        region: Its part of the surface, (u, v), openings not taken out.
        direction_deg: Which way its sheets run, degrees from +u.
        frame: The turned frame, s along the sheets.
        across: Whether the sheets run across the supports.
        zones: Indexes of the support zones it covers.
        parted: Whether a control joint parts it from the rest of the surface.
    """

    number: int
    region: Region
    direction_deg: float
    frame: Frame
    across: bool
    zones: tuple[int, ...]
    parted: bool = False


class StopKind(StrEnum):
    """What backs a butt joint."""

    FRAMED = "framed"
    BACK_BLOCKED = "back_blocked"
    UNBACKED = "unbacked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A place along a course where a butt joint may fall, or why it may not.

    Attributes:
        s: Along the course in the field's frame, mm.
        kind: What would back it.
        support: Id of the support behind it, or empty.
        barred: Reasons that bar it, in words; empty if it is legal. Floats are in mm.
        height: Length of the joint there, mm.
        at: The joint's ends in the surface's (u, v), mm, two for each stretch; filled in for
            drawing.
        along: From the low end of the field, mm; filled in for drawing.
    """

    s: float
    kind: StopKind
    support: str
    barred: tuple[str, ...]
    height: float
    at: tuple[Point, ...] = ()
    along: float = 0.0

    @property
    def legal(self) -> bool:
        """Whether a butt joint may fall here."""
        return not self.barred


class CourseWhy(StrEnum):
    """Why a place for the first course line is offered."""

    FULL = "full"
    """A full sheet from the start side."""
    FULL_FROM_FAR = "full_from_far"
    """Full sheets from the other side."""
    BALANCED = "balanced"
    """The first and the last course alike."""
    LEAST_STRIP = "least_strip"
    """The last course a whole least strip."""
    STEP = "step"
    """A step of the drawing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseStop:
    """A place where the first course line may fall, or why it may not.

    Attributes:
        t: Across the sheets in the field's frame, mm.
        width: Width of the first course, mm.
        start: Side it is counted from, low or high.
        why: Why the place is offered.
        barred: Reasons that bar it, in words; empty if it is legal.
        at: Ends of the line in the surface's (u, v), mm.
    """

    t: float
    width: float
    start: Start
    why: CourseWhy
    barred: tuple[str, ...]
    at: tuple[Point, Point]

    @property
    def legal(self) -> bool:
        """Whether the first course line may fall here."""
        return not self.barred


@dataclass(frozen=True, slots=True, kw_only=True)
class Butt:
    """A butt joint that the set-out chose.

    Attributes:
        field: Field number.
        course: Course number.
        s: Where along the course, mm.
        t0: Low end across the course, mm.
        t1: High end, mm.
        kind: What backs it.
        support: Id of the support behind it, or empty.
        locked: Whether the user put it there.
    """

    field: int
    course: int
    s: float
    t0: float
    t1: float
    kind: StopKind
    support: str
    locked: bool = False


@dataclass(frozen=True, kw_only=True)
class SetOut:
    """How one surface is sheeted.

    Attributes:
        surface: Surface ref.
        fields: Parts by sheet direction.
        courses: All courses, field by field.
        pieces: All pieces, in hanging order.
        butts: All butt joints.
        start: Where the courses start in each field: ``(field, a, b, offset)`` of the snapped
            line along the first course's inner edge, (u, v) mm.
        findings: What is to be said about it.
        tapered: Marks of the pieces that taper by more than the pack's tolerance, with how.
    """

    surface: str
    fields: tuple[Field, ...]
    courses: tuple[Course, ...]
    pieces: tuple[Piece, ...]
    butts: tuple[Butt, ...]
    start: tuple[tuple[int, Point, Point, float], ...]
    findings: tuple[Finding, ...]
    tapered: tuple[tuple[str, tuple[Taper, ...]], ...] = ()

    def tapers_of(self, mark: str) -> tuple[Taper, ...]:
        """Return how a piece tapers; nothing if its sides run true."""
        return next((found for name, found in self.tapered if name == mark), ())
