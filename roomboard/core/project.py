"""The project as the user measured it: rooms, framing, openings and choices.

Everything is a frozen value with a stable id; lengths are mm. Room outlines are stored
clockwise, so that the wall from corner ``i`` to corner ``i + 1`` reads left to right when
one stands in the room and looks at it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from roomboard.core.plane import distance, signed_area

if TYPE_CHECKING:
    from collections.abc import Callable

    from roomboard.core.plane import Point, Ring
    from roomboard.core.revision import DonePiece, Issued

SCHEMA = 1
"""Number of the project file's schema."""
MOST_LAYERS = 2
"""A face gets no more layers of board than this."""


class Units(StrEnum):
    """How lengths are read and shown."""

    METRIC = "metric"
    FEET_INCHES = "feet-inches"


class FrameKind(StrEnum):
    """What the framing is made of."""

    TIMBER = "timber"
    STEEL = "steel"


class WallKind(StrEnum):
    """Whether a wall stands on an edge of the outline."""

    WALL = "wall"
    OPEN = "open"


class AngleFinish(StrEnum):
    """What finishes the angle between a wall and the ceiling."""

    CORNICE = "cornice"
    SQUARE_SET = "square_set"
    NONE = "none"


class OpeningKind(StrEnum):
    """What an opening is for."""

    DOOR = "door"
    WINDOW = "window"
    OPENING = "opening"
    HATCH = "hatch"
    LIGHT = "light"
    DUCT = "duct"


class MemberKind(StrEnum):
    """What carries a ceiling."""

    JOIST = "joist"
    BATTEN = "batten"
    TRUSS = "truss"


class PackTo(StrEnum):
    """What plane members that do not lie in one are packed down to.

    ``LEAST``: the plane under all of them that takes the least packing; it may fall to a side.
    ``LEVEL``: a level plane at the lowest of them.
    """

    LEAST = "least"
    LEVEL = "level"


class ZoneKind(StrEnum):
    """Zones that follow documents of their own."""

    WET = "wet"
    FIRE = "fire"
    BRACING = "bracing"
    TILED = "tiled"
    GARAGE = "garage"
    EXTERNAL_CEILING = "external_ceiling"


class SheetDirection(StrEnum):
    """Which way the sheets of a surface run.

    ``ACROSS`` and ``ALONG`` are said of the supports; on walls with upright studs,
    ``ACROSS`` is horizontal and ``ALONG`` vertical.
    """

    AUTO = "auto"
    ACROSS = "across"
    ALONG = "along"


class Start(StrEnum):
    """From which side the courses are set out."""

    AUTO = "auto"
    LOW = "low"
    HIGH = "high"
    BALANCED = "balanced"


class AtChange(StrEnum):
    """What the sheets do where the joists change direction.

    ``TURN``: the sheets turn with the joists. ``BATTEN``: the sheets run on and the other
    zone is battened across. ``CARRY``: the sheets run on with no battens (reported).
    """

    AUTO = "auto"
    TURN = "turn"
    BATTEN = "batten"
    CARRY = "carry"


class Method(StrEnum):
    """How the boards are held."""

    ADHESIVE = "adhesive"
    FASTENERS = "fasteners"


class FastenerKind(StrEnum):
    """Which fasteners are used in the field of the board."""

    SCREW = "screw"
    NAIL = "nail"


class ButtsAt(StrEnum):
    """Where butt joints may fall."""

    AUTO = "auto"
    ON_FRAMING = "on_framing"
    MID_BAY = "mid_bay"
    EITHER = "either"


class HeightsAre(StrEnum):
    """Whether measured sizes are of the bare frame or of finished faces."""

    FRAME = "frame"
    FINISHED = "finished"


class Deliveries(StrEnum):
    """How the board is delivered."""

    ONE = "one"
    BY_FLOOR = "by_floor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The wall on one edge of the outline, seen from inside the room.

    Attributes:
        id: Stable id, unique in the room.
        name: Letter on the drawings, e.g. ``"A"``.
        kind: Whether a wall stands there at all.
        lined: Whether this job lines it.
        board: Board id, or empty for the project's wall board.
        frame: Timber or steel.
        stud_spacing: Centres of the studs, mm.
        stud_first: Centre of the first stud after the end stud, from the left, mm; None for
            one spacing.
        studs: Explicit stud centres from the left, mm; not empty means spacing is ignored.
        stud_face: Width of a stud's fixing face, mm.
        noggings: Heights of nogging centre lines above the floor, mm.
        angle: What finishes the angle with the ceiling.
        skirting: Whether a skirting covers the foot of the wall.
        layers: How many layers of board it gets, 1 or 2.
    """

    id: str
    name: str = ""
    kind: WallKind = WallKind.WALL
    lined: bool = True
    board: str = ""
    frame: FrameKind = FrameKind.TIMBER
    stud_spacing: float = 0.0
    stud_first: float | None = None
    studs: tuple[float, ...] = ()
    stud_face: float = 0.0
    noggings: tuple[float, ...] = ()
    angle: AngleFinish = AngleFinish.CORNICE
    skirting: bool = True
    layers: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A hole through a lining.

    Attributes:
        id: Stable id, unique in the room.
        kind: What it is for.
        host: Wall id, or ``"ceiling"``.
        left: From the wall's left end, or x in plan, to its nearer side, mm.
        bottom: From the floor (sill height), or y in plan, to its lower side, mm.
        width: mm.
        height: mm (the second size in plan for a ceiling).
        reveal_lined: Whether its reveals are lined with board.
        reveal_depth: How deep the reveals are, mm.
        is_round: Whether it is a circle of diameter ``width``.
    """

    id: str
    kind: OpeningKind
    host: str
    left: float
    bottom: float
    width: float
    height: float
    reveal_lined: bool = False
    reveal_depth: float = 0.0
    is_round: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class JoistZone:
    """A part of the ceiling whose members run one way.

    Positions are measured square to the members from the zone's low side: the side with
    the least ``y`` for members along x (0 degrees), the least ``x`` for members along y
    (90 degrees).

    Attributes:
        id: Stable id, unique in the room.
        outline: Corners in plan, mm; empty for the whole ceiling.
        direction_deg: Which way the members run, degrees counter-clockwise from x.
        spacing: Centres, mm.
        first: Centre of the first member from the zone's low side, mm; None for one spacing.
        positions: Explicit centres from the low side, mm; not empty means spacing is ignored.
        face: Width of a member's fixing face, mm.
        kind: Joist, batten or truss.
        frame: Timber or steel.
        depths: How far each member's underside stands above one level line, mm: a list for each
            member in order, read at even steps from its low end to its high one; a single reading
            holds for the whole member. Empty where nothing was read.
        packed_to: What plane the members are packed down to.
    """

    id: str
    outline: Ring = ()
    direction_deg: float = 90.0
    spacing: float = 0.0
    first: float | None = None
    positions: tuple[float, ...] = ()
    face: float = 0.0
    kind: MemberKind = MemberKind.JOIST
    frame: FrameKind = FrameKind.TIMBER
    depths: tuple[tuple[float, ...], ...] = ()
    packed_to: PackTo = PackTo.LEAST


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecialZone:
    """A surface, or part of a room, that follows documents of its own.

    Attributes:
        id: Stable id, unique in the room.
        kind: Which.
        host: Wall id, ``"ceiling"``, or ``"room"`` for all its surfaces.
        note: The user's own words.
    """

    id: str
    kind: ZoneKind
    host: str = "room"
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bulkhead:
    """A boxed-down part along a wall, under the ceiling.

    Attributes:
        id: Stable id, unique in the room.
        wall: Id of the wall it runs along.
        left: From the wall's left end to the bulkhead's left end, mm.
        length: Along the wall, mm.
        depth: Out from the wall, mm.
        drop: Down from the ceiling, mm.
        left_free: Whether its left end stands free (and is lined).
        right_free: Whether its right end stands free (and is lined).
        lined_behind: Whether wall and ceiling are lined behind it.
        board: Board id, or empty for the wall's board.
        spacing: Centres of its framing along its length, mm.
        face: Width of its framing's fixing face, mm.
    """

    id: str
    wall: str
    left: float
    length: float
    depth: float
    drop: float
    left_free: bool = False
    right_free: bool = False
    lined_behind: bool = True
    board: str = ""
    spacing: float = 0.0
    face: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A boxed post that stands in the room, from floor to ceiling.

    Attributes:
        id: Stable id, unique in the room.
        outline: Corners of its frame in plan, in either direction, mm.
        lined: Whether this job lines its sides.
        board: Board id, or empty for the project's wall board.
        frame: Timber or steel.
        spacing: Centres of the studs between those at its corners, mm; 0 for none.
        face: Width of a stud's fixing face, mm.
        angle: What finishes the angle between its sides and the ceiling.
    """

    id: str
    outline: Ring
    lined: bool = True
    board: str = ""
    frame: FrameKind = FrameKind.TIMBER
    spacing: float = 0.0
    face: float = 0.0
    angle: AngleFinish = AngleFinish.CORNICE


@dataclass(frozen=True, slots=True, kw_only=True)
class CeilingPart:
    """A part of the ceiling that lies in a plane of its own: raked, dropped or raised.

    What no part covers lies flat at the room's height. Where two parts overlap, the first counts.

    Attributes:
        id: Stable id, unique in the room.
        outline: Corners in plan, in either direction, mm; empty for the whole ceiling.
        height: Height of its framing over the floor at ``at``, mm.
        at: Where it has that height in plan, mm; anywhere for a flat part.
        rise_deg: Which way it rises in plan, degrees counter-clockwise from x.
        pitch_deg: How steep it is, degrees; 0 for a flat part.
        lined: Whether this job lines it and its upright sides.
        board: Board id, or empty for the room's ceiling board.
        angle: What finishes the angle between its upright sides and the ceiling over them.
    """

    id: str
    outline: Ring = ()
    height: float
    at: Point = (0.0, 0.0)
    rise_deg: float = 90.0
    pitch_deg: float = 0.0
    lined: bool = True
    board: str = ""
    angle: AngleFinish = AngleFinish.CORNICE


class Axis(StrEnum):
    """What a line on a face holds still.

    ``U``: it stands upright on a wall, and square to x in the plan of a ceiling. ``V``: it lies
    level on a wall, and square to y in the plan of a ceiling.
    """

    U = "u"
    V = "v"


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlLine:
    """A control joint right across a face: sheets stop at it, and a bead bridges it.

    Attributes:
        axis: Which way it runs.
        at: Where it lies on the face, mm: from a wall's left end or its floor, x or y in plan.
    """

    axis: Axis
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoJointBand:
    """A level band on a wall in which no joint may run, as over the floor line of a stairwell.

    Attributes:
        id: Stable id, unique in the room.
        host: Wall id.
        low: Its lower side, mm above the floor.
        high: Its upper side, mm above the floor.
    """

    id: str
    host: str
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPart:
    """A part of a wall or of a ceiling that this job does not line.

    Attributes:
        id: Stable id, unique in the room.
        host: Wall id, or ``"ceiling"``.
        left: From the wall's left end, or x in plan, to its nearer side, mm.
        bottom: From the floor, or y in plan, to its lower side, mm.
        width: mm.
        height: mm (the second size in plan for a ceiling).
        kept: Whether a lining that is there already is kept; False where nothing is.
        note: The user's own words.
    """

    id: str
    host: str
    left: float
    bottom: float
    width: float
    height: float
    kept: bool = True
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceChoice:
    """What the user chose for one surface.

    Attributes:
        surface: Surface ref within the room: ``"ceiling"``, ``"ceiling:<part>"``, ``"wall:<id>"``.
        direction: Which way its sheets run.
        start: From which side its courses are set out.
        at_change: What the sheets do where the joists change direction.
        widths: Sheet widths in use, mm; empty for any.
        butts: Locked butt joints: field number, course number, place along the course (s in the
            field's frame), mm.
        first_course: Width of the first course, counted from the start side: field number and
            width, mm; full courses follow and the last is ripped.
        controls: Control joints across it.
        own: What the user chose of all this, where a search for the best chose the rest; None
            where all of it is the user's.
    """

    surface: str
    direction: SheetDirection = SheetDirection.AUTO
    start: Start = Start.AUTO
    at_change: AtChange = AtChange.AUTO
    widths: tuple[float, ...] = ()
    butts: tuple[tuple[int, int, float], ...] = ()
    first_course: tuple[tuple[int, float], ...] = ()
    controls: tuple[ControlLine, ...] = ()
    own: SurfaceChoice | None = None

    @property
    def by_user(self) -> SurfaceChoice:
        """What the user chose of it."""
        return self if self.own is None else self.own


def changed_with_own(
    choice: SurfaceChoice, change: Callable[[SurfaceChoice], SurfaceChoice]
) -> SurfaceChoice:
    """Change a choice, and what the user chose of it, in the same way."""
    made = change(choice)
    return made if choice.own is None else replace(made, own=change(choice.own))


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """One room.

    Attributes:
        id: Stable id, unique in the project; letters, digits, ``-``.
        name: What people call it.
        outline: Corners of the plan, clockwise, mm.
        height: Floor to ceiling framing, mm.
        walls: One for each edge of the outline, in the outline's order.
        openings: Doors, windows, hatches, lights, ...
        joists: Joist zones of the ceiling.
        zones: Special zones.
        bulkheads: Boxed-down parts.
        ceiling_lined: Whether this job lines the ceiling.
        ceiling_board: Board id, or empty for the project's ceiling board.
        finish_level: Level of finish (0 to 5).
        carry_in: Longest sheet that can be carried in, mm; 0 for no limit.
        carry_in_note: What limits it, in the user's words.
        storey: Floor the room is on.
        choices: What the user chose surface by surface.
        columns: Boxed posts that stand in the room.
        bands: Bands on walls in which no joint may run.
        kept: Parts of walls and of the ceiling that are not lined.
        ceiling_layers: How many layers of board the ceiling gets, 1 or 2.
        ceiling_parts: Parts of the ceiling in planes of their own; none for one flat at ``height``.
    """

    id: str
    name: str
    outline: Ring
    height: float
    walls: tuple[Wall, ...]
    openings: tuple[Opening, ...] = ()
    joists: tuple[JoistZone, ...] = ()
    zones: tuple[SpecialZone, ...] = ()
    bulkheads: tuple[Bulkhead, ...] = ()
    ceiling_lined: bool = True
    ceiling_board: str = ""
    finish_level: int = 4
    carry_in: float = 0.0
    carry_in_note: str = ""
    storey: str = "ground"
    choices: tuple[SurfaceChoice, ...] = ()
    columns: tuple[Column, ...] = ()
    bands: tuple[NoJointBand, ...] = ()
    kept: tuple[KeptPart, ...] = ()
    ceiling_layers: int = 1
    ceiling_parts: tuple[CeilingPart, ...] = ()

    def wall(self, wall_id: str) -> Wall | None:
        """Return a wall by id, or None."""
        return next((w for w in self.walls if w.id == wall_id), None)

    def wall_ends(self, index: int) -> tuple[Point, Point]:
        """Return the left and right end in plan of the wall at ``index``."""
        return self.outline[index], self.outline[(index + 1) % len(self.outline)]

    def wall_length(self, index: int) -> float:
        """Return the length of the wall at ``index``, mm."""
        return distance(*self.wall_ends(index))

    def choice(self, surface: str) -> SurfaceChoice:
        """Return the user's choice for a surface, or one with everything on automatic."""
        return next(
            (c for c in self.choices if c.surface == surface), SurfaceChoice(surface=surface)
        )


def clockwise(room: Room) -> Room:
    """Return the room with its outline clockwise, walls and openings following.

    A counter-clockwise outline is turned round: each wall keeps its edge, and what was
    measured from a wall's left end is measured from its other end.
    """
    if signed_area(room.outline) <= 0:
        return room
    lengths = {wall.id: room.wall_length(i) for i, wall in enumerate(room.walls)}
    outline = (room.outline[0], *reversed(room.outline[1:]))
    walls = tuple(_mirrored(w, lengths[w.id]) for w in reversed(room.walls))
    openings = tuple(
        replace(o, left=lengths[o.host] - o.left - o.width) if o.host in lengths else o
        for o in room.openings
    )
    bulkheads = tuple(
        replace(
            b,
            left=lengths[b.wall] - b.left - b.length,
            left_free=b.right_free,
            right_free=b.left_free,
        )
        if b.wall in lengths
        else b
        for b in room.bulkheads
    )
    kept = tuple(
        replace(k, left=lengths[k.host] - k.left - k.width) if k.host in lengths else k
        for k in room.kept
    )
    choices = tuple(
        changed_with_own(c, lambda x: _choice_mirrored(x, lengths)) for c in room.choices
    )
    return replace(
        room,
        outline=outline,
        walls=walls,
        openings=openings,
        bulkheads=bulkheads,
        kept=kept,
        choices=choices,
    )


def _choice_mirrored(choice: SurfaceChoice, lengths: dict[str, float]) -> SurfaceChoice:
    """Measure a wall's control joints from its other end."""
    length = lengths.get(choice.surface.removeprefix("wall:"))
    if length is None:
        return choice
    controls = (replace(c, at=length - c.at) if c.axis is Axis.U else c for c in choice.controls)
    return replace(choice, controls=tuple(sorted(controls, key=lambda c: (c.axis, c.at))))


def _mirrored(wall: Wall, length: float) -> Wall:
    """Measure a wall's studs from its other end; each stud stays where it stands."""
    if not wall.studs and wall.stud_spacing > 0:
        first = wall.stud_spacing if wall.stud_first is None else wall.stud_first
        turned = (length - first) % wall.stud_spacing or wall.stud_spacing
        return replace(wall, stud_first=turned)
    return replace(wall, studs=tuple(sorted(length - s for s in wall.studs)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What the user chose for the whole project.

    Attributes:
        method: Adhesive and fasteners, or fasteners only.
        fastener: Screws or nails.
        butts: Where butt joints may fall; automatic follows the pack.
        floor_gap: Gap between wall board and floor, mm; None follows the pack.
        heights_are: Whether heights were measured to bare framing or finished faces.
        spare_ratio: Share added to loose goods, e.g. 0.05; visible in the order.
        spare_sheets: Whole spare sheets added to each board.
        lift_limit_kg: Mass above which a lift is flagged; 0 follows the pack.
        ceiling_board: Board id for ceilings.
        wall_board: Board id for walls.
        sheet_lengths: Sheet lengths the supplier has, mm; empty for all in stock.
        sheet_widths: Sheet widths the supplier has, mm; empty for all in stock.
        steel_thickness: Thickness of steel framing's metal, mm; 0 if not known (then light).
        deliveries: Whether all board comes at once, or that of each floor by itself.
    """

    method: Method = Method.ADHESIVE
    fastener: FastenerKind = FastenerKind.SCREW
    butts: ButtsAt = ButtsAt.AUTO
    floor_gap: float | None = None
    heights_are: HeightsAre = HeightsAre.FRAME
    spare_ratio: float = 0.05
    spare_sheets: int = 0
    lift_limit_kg: float = 0.0
    ceiling_board: str = ""
    wall_board: str = ""
    sheet_lengths: tuple[float, ...] = ()
    sheet_widths: tuple[float, ...] = ()
    steel_thickness: float = 0.0
    deliveries: Deliveries = Deliveries.ONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Acknowledgement:
    """A caution someone has read; it goes on being printed.

    Attributes:
        code: Finding code.
        place: Surface ref or room id, or empty.
        name: Who read it.
        reason: Why the work goes on.
    """

    code: str
    place: str = ""
    name: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """A price of the user's own.

    Attributes:
        item: Stock id.
        amount: In the project's currency, for one sheet, length or pack.
    """

    item: str
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteOffcut:
    """An offcut that lies on site, to be cut from before any sheet is bought.

    Attributes:
        id: Stable id, unique in the project.
        board: Board id.
        length: Along the sheet it came from, mm.
        width: Across that sheet, mm.
        recessed: How many of its long edges are recessed, 0 to 2; the others are cut.
        count: How many there are of it.
        note: Where it lies, in the user's own words.
    """

    id: str
    board: str
    length: float
    width: float
    recessed: int = 0
    count: int = 1
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AdoptedPiece:
    """A piece on a sheet of a cutting that was taken up.

    Attributes:
        piece: Its id.
        x: Where it lies along the sheet, mm.
        y: Where it lies across the sheet, face up, mm.
        length: Along the sheet, mm.
        width: Across the sheet, mm.
        turned: Whether it is turned by half a turn.
    """

    piece: str
    x: float
    y: float
    length: float
    width: float
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AdoptedSheet:
    """A sheet of a cutting that was taken up from a search.

    Attributes:
        board: Board id.
        length: Of the stock sheet, mm.
        width: Of the stock sheet, mm.
        pieces: What is cut from it.
    """

    board: str
    length: float
    width: float
    pieces: tuple[AdoptedPiece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What counts how much when the best set-out is sought; preferences of the user's own.

    The unit is one square metre of board. Rules of the practice pack are never weighed.

    Attributes:
        board: For each m2 of board bought; with prices, what the price buys at the best value.
        butt: For each metre of butt joint.
        recessed: For each metre of recessed joint.
        end_to_recess: For each metre of a sheet's end against a recessed edge.
        piece: For each piece.
        cut: For each cut.
        lift: For each kg of the heaviest piece of every surface.
        middle: For each metre of butt joint in the middle of its field, falling to nothing at
            the ends.
        light: For each metre of butt joint across the light and close to it, falling to nothing
            at the far end of its surface and where the joint runs as the light does.
    """

    board: float = 1.0
    butt: float = 1.0
    recessed: float = 0.2
    end_to_recess: float = 1.0
    piece: float = 0.2
    cut: float = 0.0
    lift: float = 0.01
    middle: float = 0.3
    light: float = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """Choices kept under a name, to be compared and taken up again.

    Attributes:
        name: What people call it; each variant of a project has its own.
        choices: Choices for the whole project.
        rooms: Room ids with the choices for their surfaces.
    """

    name: str
    choices: Choices = Choices()
    rooms: tuple[tuple[str, tuple[SurfaceChoice, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A job: its rooms and everything chosen for them.

    Attributes:
        id: Stable id; letters, digits, ``-``.
        name: Title printed on every page.
        units: How lengths are read and shown.
        practice: Id of the practice pack.
        building_year: Year the building was built; 0 if not known.
        rooms: In the order of work.
        choices: Choices for the whole project.
        overrides: Figures of practice the user changed: key and value.
        currency: ISO 4217 code, or empty.
        prices: The user's own prices.
        acknowledged: Cautions that have been read.
        measured_by: Who measured.
        measured_on: ISO 8601 date as text, or empty.
        issue: Issue letter of the printed set.
        variants: Other choices kept by name.
        weights: What counts how much when the best set-out is sought.
        issues: What was issued, in order; ``issue`` is the letter of the last one.
        done: Pieces that are cut or hung already.
        keep_issued: Whether stock sheets whose pieces have not changed are cut as they were issued.
        offcuts: Offcuts on site that are cut from first.
        cutting: Sheets as they were taken up from a search; each board is cut like this as long
            as its pieces stay what they were.
    """

    id: str
    name: str
    units: Units = Units.METRIC
    practice: str = "au-nz"
    building_year: int = 0
    rooms: tuple[Room, ...] = ()
    choices: Choices = Choices()
    overrides: tuple[tuple[str, float | str], ...] = ()
    currency: str = ""
    prices: tuple[Price, ...] = ()
    acknowledged: tuple[Acknowledgement, ...] = ()
    measured_by: str = ""
    measured_on: str = ""
    issue: str = "A"
    variants: tuple[Variant, ...] = ()
    weights: Weights = Weights()
    issues: tuple[Issued, ...] = ()
    done: tuple[DonePiece, ...] = ()
    keep_issued: bool = True
    offcuts: tuple[SiteOffcut, ...] = ()
    cutting: tuple[AdoptedSheet, ...] = ()

    def room(self, room_id: str) -> Room | None:
        """Return a room by id, or None."""
        return next((r for r in self.rooms if r.id == room_id), None)
