"""Findings: what the program has to say about a job, as values with codes never reused."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.core.practice import Citation


@dataclass(frozen=True, slots=True, order=True)
class Mass:
    """A mass in a finding, kg; it is printed in the project's units."""

    kg: float

    def __str__(self) -> str:
        """Return it in kilograms, as files write it."""
        return f"{self.kg:.1f} kg"


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """An area in a finding, m2; it is printed in the project's units."""

    m2: float

    def __str__(self) -> str:
        """Return it in square metres, as files write it."""
        return f"{self.m2:.2f} m2"


Param = float | int | str | Mass | Area
"""A float in a finding is a length in mm and an int a count; a mass and an area say so."""


class Severity(IntEnum):
    """How much a finding weighs.

    ``BLOCK`` means that the set-out must not be cut by until it is mended; ``WARNING`` that
    something breaks a rule of the practice pack; ``CAUTION`` that someone can be hurt;
    ``NOTE`` that something is worth knowing.
    """

    NOTE = 0
    CAUTION = 1
    WARNING = 2
    BLOCK = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a finding lies.

    Attributes:
        room: Room id, or empty for the whole project.
        surface: Surface ref, e.g. ``"bed/ceiling"``, or empty.
        item: Piece mark, trimmer tag, opening id or wall id, or empty.
        line: The points concerned in the surface's (u, v), mm; empty if none.
    """

    room: str = ""
    surface: str = ""
    item: str = ""
    line: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing the program has to say.

    Attributes:
        code: Stable code from :data:`REGISTER`; never reused for another matter.
        severity: How much it weighs.
        text: One sentence; ``{name}`` stands for the value of that name in ``params``.
        params: Names and values for the text; see :data:`Param`.
        place: Where.
        found: What the job has; a float is a length in mm.
        required: What the rule asks; a float is a length in mm.
        source: Where the rule comes from, or None when no rule is involved.
        remedies: Ways to mend it, in order of preference.
    """

    code: str
    severity: Severity
    text: str
    params: tuple[tuple[str, Param], ...] = ()
    place: Place = field(default_factory=Place)
    found: Param | None = None
    required: Param | None = None
    source: Citation | None = None
    remedies: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a code that nobody registered."""
        if self.code not in REGISTER:
            msg = f"finding code {self.code} is not in the register"
            raise ValueError(msg)

    @property
    def title(self) -> str:
        """The short name of this kind of finding."""
        return REGISTER[self.code]

    @property
    def order(self) -> tuple[int, str, str, str, str, tuple[Point, ...]]:
        """Sort key: the gravest first, then by code and place."""
        p = self.place
        return (-int(self.severity), self.code, p.room, p.surface, p.item, p.line)


REGISTER: dict[str, str] = {
    # 1xx: what was measured and entered
    "RB101": "Outline cannot be used",
    "RB102": "Opening does not fit its wall",
    "RB103": "Openings overlap",
    "RB104": "No framing given",
    "RB105": "Unknown board, pack figure or stock",
    "RB106": "Joist zone does not fit the ceiling",
    "RB107": "Nothing to line",
    "RB108": "Height missing or out of range",
    "RB109": "Hatch or light does not fit the ceiling",
    "RB110": "Choice names something that is not there",
    "RB112": "Bulkhead does not fit its room",
    "RB113": "Column does not fit its room",
    "RB114": "Part of the ceiling cannot be used",
    "RB115": "Ceiling leaves too little of a wall to line",
    "RB116": "Depth readings do not match the members",
    "RB117": "Part that is not lined lies off its face",
    # 2xx: set-out and joints
    "RB201": "No legal place for a butt joint",
    "RB202": "Butt joints stand too nearly in line",
    "RB203": "Butt joint too near an opening",
    "RB204": "Strip narrower than the least width",
    "RB205": "Piece shorter than the least length",
    "RB206": "End meets recessed edge",
    "RB207": "Sheets carried across a change of joist direction",
    "RB208": "Sheets run along the supports",
    "RB210": "Control joint needed",
    "RB211": "Joint line close to an opening's sill or head",
    "RB212": "Thin strip over or under an opening",
    "RB213": "Locked joint breaks a rule",
    "RB214": "Gap at the floor outside the practice",
    "RB215": "Cut edge in a joint",
    "RB216": "Another sheet direction would do better",
    "RB217": "Upright joint too near the side of an opening",
    "RB218": "Recess left at a square-set angle",
    "RB219": "Light or duct stands in a joint",
    "RB220": "Control joint set out",
    "RB221": "Joint runs in a band without joints",
    "RB222": "New lining meets lining that is kept",
    "RB223": "Joints of two layers stand too near each other",
    # 3xx: support
    "RB301": "Edge with nothing to fix to",
    "RB302": "Change of joist direction needs a two-sided trimmer",
    "RB303": "Supports too far apart for this board",
    "RB304": "Fixing face too narrow for a joint",
    "RB305": "Noggings needed",
    "RB306": "Hatch or opening cuts a framing member",
    "RB307": "Removed wall",
    "RB308": "Joist zones leave part of the ceiling without framing",
    "RB309": "Light or duct where timber is to be added",
    "RB310": "Members to be packed to a plane",
    "RB311": "Batten out rather than pack",
    "RB312": "Light or duct close to a framing member",
    # 4xx: fixing and gluing
    "RB401": "No fastening figures for this case",
    "RB402": "Recessed joints to back-block",
    "RB403": "Butt joint to back-block",
    "RB404": "Fastener length",
    "RB405": "Adhesive not allowed here",
    "RB406": "Fasteners closer than the edge distance allows",
    # 5xx: stock and cutting
    "RB501": "Piece fits no stock sheet",
    "RB502": "More sheets than the bound",
    "RB503": "No stock sheet allowed for this board",
    "RB504": "Linear piece longer than any stock length",
    "RB505": "Piece that is cut already does not fit",
    "RB506": "Offcuts on site",
    "RB507": "Cutting that was taken up does not hold",
    # 6xx: carrying and lifting
    "RB601": "Heavy lift",
    "RB602": "Sheets longer than can be carried in",
    "RB603": "Raked or high lining",
    # 7xx: zones with rules of their own
    "RB701": "Wet area",
    "RB702": "Fire or sound rated lining",
    "RB703": "Bracing lining",
    "RB704": "Tiled area",
    "RB705": "Garage lining",
    "RB706": "External ceiling",
    "RB707": "Board at the limit of its span",
    # 8xx: cautions; they can be acknowledged, never switched off
    "RB801": "Asbestos and lead paint",
    "RB802": "Electricity and services",
    "RB803": "Structure",
    "RB804": "Lifting and carrying",
    "RB805": "Work at height",
    "RB806": "Dust",
    "RB807": "Fire, bracing and wet-area linings",
    "RB808": "Waste",
    "RB809": "Layout aid",
    "RB810": "Moisture and insulation",
    # 9xx: how the answer was reached
    "RB901": "Figure changed by the user",
    "RB902": "Figure from memory",
    "RB903": "Figure is common practice without a source",
}
"""Every code and its short name. Add at the end of a block; never give a code a new meaning.

Taken out and not to be used again: RB111 (a length that cannot be read is refused where it is
typed), RB209 (a cut edge in a joint is RB215).
"""
