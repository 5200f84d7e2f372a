"""Surfaces: the one planar thing that set-out, joints, fixings and cutting work on.

:func:`develop` turns a room into surfaces; nothing after this module knows whether a
surface was a wall, a ceiling or a bulkhead, except by the word that tables of practice
file it under.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from roomboard.core.plane import Region, nearest_share

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.plane import Point
    from roomboard.core.project import (
        AngleFinish,
        ControlLine,
        FrameKind,
        OpeningKind,
        SheetDirection,
    )


class EdgeKind(StrEnum):
    """What a side of a surface meets."""

    ANGLE = "angle"
    """An internal corner with another face."""
    CORNER = "corner"
    """An external corner, to be beaded."""
    OPENING = "opening"
    FREE = "free"
    FLOOR = "floor"


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceEdge:
    """One side of a surface's outline or of a hole in it.

    Attributes:
        a: Start in (u, v), mm; the lining lies on the left of ``a`` to ``b``.
        b: End.
        kind: What it meets.
        finish: What covers the angle, for angles; a cornice lets the edge stand ragged, a
            square-set angle is taped and needs the recess cut off.
        other: Ref of the surface on the other side, or the opening's id, or empty.
        lapped: How much of the framing size other linings take up at this side, mm.
    """

    a: Point
    b: Point
    kind: EdgeKind
    finish: AngleFinish
    other: str = ""
    lapped: float = 0.0


class SupportKind(StrEnum):
    """What a support is."""

    JOIST = "joist"
    BATTEN = "batten"
    TRUSS = "truss"
    STUD = "stud"
    PLATE = "plate"
    JAMB = "jamb"
    HEAD = "head"
    SILL = "sill"
    NOGGING = "nogging"
    TRIMMER = "trimmer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """A straight fixing face behind a surface.

    Attributes:
        id: Stable id within the surface, e.g. ``"J3"``; trimmers bear their tag.
        a: Start of its centre line in (u, v), mm.
        b: End of its centre line.
        face: Width of its fixing face, mm, square to the line, centred on it.
        kind: What it is.
        frame: Timber or steel.
        existing: False for timber this program asks for.
        zone: Index of the support zone it belongs to; -1 for plates, jambs and the like.
    """

    id: str
    a: Point
    b: Point
    face: float
    kind: SupportKind
    frame: FrameKind
    existing: bool = True
    zone: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportZone:
    """A part of a surface whose supports run one way.

    Attributes:
        region: Its part of the surface, (u, v).
        direction_deg: Which way the supports run, degrees counter-clockwise from +u, 0 to 180.
        centres: Greatest distance between neighbouring supports, mm.
        id: Id of the joist zone, or empty for studs.
    """

    region: Region
    direction_deg: float
    centres: float
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceOpening:
    """A hole in a surface.

    Attributes:
        id: Opening id in the room.
        kind: What it is for.
        region: The hole, (u, v); clipped to the surface.
        framed: Whether its sides have framing (doors, windows) or want trimmers (hatches);
            False for lights and ducts, which only make a hole.
        is_round: Whether it is a circle (the region is its square).
        reveal_lined: Whether its reveals are lined.
        reveal_depth: Depth of the reveals, mm.
    """

    id: str
    kind: OpeningKind
    region: Region
    framed: bool
    is_round: bool = False
    reveal_lined: bool = False
    reveal_depth: float = 0.0


class SeenFrom(StrEnum):
    """Which side of the board a surface's (u, v) shows."""

    FACE = "face"
    """Walls: seen from inside the room, the board's face."""
    BACK = "back"
    """Ceilings in plan: the plan shows the board's back."""


Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Where a surface stands in the building: ``origin + u * u_axis + v * v_axis``, mm."""

    origin: Vector
    u_axis: Vector
    v_axis: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceBand:
    """A strip right across a surface in which no joint may run along it.

    Attributes:
        id: Its id in the room.
        low: Its lower side, mm along v.
        high: Its upper side, mm along v.
    """

    id: str
    low: float
    high: float


OWN_DOCUMENTS = frozenset({"wet", "fire", "bracing", "tiled"})
"""Kinds of special zones whose sheets are not set out for the least board."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """Where light comes from that falls along a surface.

    Attributes:
        opening: Id of the light or of the window in the room.
        a: One end of its place on the surface, (u, v) mm; a window's side square under it.
        b: The other end; ``a`` for a light in the surface.
        off: How far off the surface it stands, mm; 0 for a light in it.
        reach: How far the furthest place of the surface is from it, mm.
    """

    opening: str
    a: Point
    b: Point
    off: float
    reach: float

    def nearest(self, point: Point) -> Point:
        """Return the place of the light on the surface that is nearest to a point."""
        (ax, ay), (bx, by) = self.a, self.b
        t = nearest_share(point, self.a, self.b)
        return (ax + t * (bx - ax), ay + t * (by - ay))


@dataclass(frozen=True, kw_only=True)
class Surface:
    """One face to be lined, laid flat.

    Attributes:
        ref: Stable ref, e.g. ``"bed/ceiling"``, ``"bed/wall:a"``, ``"kitchen/bulkhead:b1:face"``.
        room: Room id.
        key: The ref within the room, e.g. ``"ceiling"``.
        code: What its piece marks begin with: ``"C"`` for a ceiling, ``"WA"`` for wall A, ...
        name: Name in words, e.g. ``"Ceiling"``, ``"Wall A"``.
        place: ``"ceiling"`` or ``"wall"``: where tables of practice file it.
        region: What is to be lined, holes taken out, (u, v) mm.
        outline: The same without taking openings out.
        edges: All sides, outer ring first.
        supports: All framing behind it, ordered.
        zones: Parts with their own support direction; they cover the surface.
        openings: Holes, in order of id.
        seen_from: Which side of the board (u, v) shows.
        placing: Where it stands.
        board: Board id.
        frame: Timber or steel (of most of its supports).
        finish_level: Level of finish, 0 to 5.
        special: Kinds of special zones that apply, in order.
        carry_in: Longest sheet that can be brought here, mm; 0 for no limit.
        direction: Sheet direction the user chose.
        height_above_floor: Height of its highest point above the floor, mm.
        lettered: Whether its courses are lettered from top to bottom on the drawings (as a
            wall's are) and not numbered.
        controls: Control joints across it, in order; sheets stop at them.
        bands: Strips in which no joint may run.
        layer: Which layer of the lining it is, from 1, the one at the framing.
        layers: How many layers the lining has.
        unlined: Parts of the face, beside what is lined, that keep a lining or get none.
        under: Lines of the joints in the layer under it, which its own joints keep off, and whether
            they are butts.
        lights: The lights in it, and the windows whose light falls along it.
    """

    ref: str
    room: str
    key: str
    code: str
    name: str
    place: str
    region: Region
    outline: Region
    edges: tuple[SurfaceEdge, ...]
    supports: tuple[Support, ...]
    zones: tuple[SupportZone, ...]
    openings: tuple[SurfaceOpening, ...]
    seen_from: SeenFrom
    placing: Placing
    board: str
    frame: FrameKind
    finish_level: int
    special: tuple[str, ...] = ()
    carry_in: float = 0.0
    direction: SheetDirection
    height_above_floor: float = 0.0
    lettered: bool = False
    controls: tuple[ControlLine, ...] = ()
    bands: tuple[SurfaceBand, ...] = ()
    layer: int = 1
    layers: int = 1
    unlined: tuple[Region, ...] = ()
    under: tuple[tuple[Point, Point, bool], ...] = ()
    lights: tuple[Light, ...] = ()

    @cached_property
    def area_m2(self) -> float:
        """Area to be lined, m2."""
        return self.region.area_mm2 / 1e6

    @property
    def follows_own_documents(self) -> bool:
        """Whether a tested system or a designer says how it is sheeted, not an optimum."""
        return bool(OWN_DOCUMENTS & set(self.special))

    @property
    def directions(self) -> tuple[float, ...]:
        """The directions in which its supports run, degrees, each once, in order."""
        return self.directions_of(range(len(self.zones)))

    def directions_of(self, zones: Iterable[int]) -> tuple[float, ...]:
        """Return the directions in which the supports of some of its zones run."""
        return tuple(sorted({round(self.zones[i].direction_deg, 3) for i in zones}))
