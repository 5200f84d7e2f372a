"""Control joints: where the pack asks for them, where they best stand, and what they part."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, Region, intersection, snap
from roomboard.core.project import Axis, ControlLine
from roomboard.core.spacing import control_joint_number, control_joint_positions
from roomboard.core.surface import SurfaceBand

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.practice import Practice
    from roomboard.core.project import Room
    from roomboard.core.surface import Surface

FAR = 1e6
"""Further (mm) than any room reaches."""
MOST_LINES = 20
"""No more lines than this are suggested for the area of one face."""


# --- on a surface -----------------------------------------------------------------------


def with_lines(room: Room, surface: Surface) -> Surface:
    """Return a surface with the control joints and bands that the room has for it.

    Lines that do not cross the surface are left out.

    Args:
        room: The room.
        surface: One of its surfaces.
    """
    wall = surface.key.removeprefix("wall:").partition(".")[0]
    bands = tuple(
        SurfaceBand(id=b.id, low=b.low, high=b.high)
        for b in sorted(room.bands, key=lambda b: (b.low, b.id))
        if surface.key.startswith("wall:") and b.host == wall
    )
    chosen = room.choice(surface.key.partition(".")[0]).controls
    if not bands and not chosen:
        return surface
    u0, v0, u1, v1 = surface.outline.bounds
    reach = {Axis.U: (u0, u1), Axis.V: (v0, v1)}
    lines = {
        (line.axis, snap(line.at))
        for line in chosen
        if reach[line.axis][0] + 1.0 < line.at < reach[line.axis][1] - 1.0
    }
    controls = tuple(ControlLine(axis=axis, at=at) for axis, at in sorted(lines))
    return replace(surface, controls=controls, bands=bands)


def split_by(region: Region, lines: Iterable[ControlLine]) -> tuple[Region, ...]:
    """Return the parts of a region between lines right across it, from the lower left."""
    parts: tuple[Region, ...] = (region,)
    for line in lines:
        low, high = (
            (Region.box(-FAR, -FAR, line.at, FAR), Region.box(line.at, -FAR, FAR, FAR))
            if line.axis is Axis.U
            else (Region.box(-FAR, -FAR, FAR, line.at), Region.box(-FAR, line.at, FAR, FAR))
        )
        parts = tuple(q for p in parts for half in (low, high) for q in intersection(p, half))
    return tuple(sorted(parts, key=lambda r: (r.bounds[1], r.bounds[0])))


def lies_on_control(surface: Surface, a: Point, b: Point) -> bool:
    """Tell whether a line on a surface is one of its control joints."""
    for line in surface.controls:
        index = 0 if line.axis is Axis.U else 1
        if max(abs(p[index] - line.at) for p in (a, b)) <= 2 * TOLERANCE:
            return True
    return False


# --- where they are asked for -----------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Excess:
    """A stretch of a surface between control joints that is longer than the pack allows.

    Attributes:
        axis: Which way it is too long: along u or v.
        key: The pack's figure.
        low: Where it begins, mm.
        high: Where it ends, mm.
        limit: The greatest length, mm.
    """

    axis: Axis
    key: str
    low: float
    high: float
    limit: float

    @property
    def number(self) -> int:
        """How many control joints it needs."""
        return control_joint_number(self.high - self.low, self.limit)


def excesses(surface: Surface, practice: Practice) -> tuple[Excess, ...]:
    """Return the stretches of a surface that are longer than the pack allows without a joint.

    A wall is asked for its length only; a ceiling for its length and its width.

    Args:
        surface: The surface with its control joints.
        practice: The pack.
    """
    kinds = [surface.place]
    kinds += [k for k in ("tiled", "external_ceiling") if k in surface.special]
    axes = (Axis.U,) if surface.place == "wall" else (Axis.U, Axis.V)
    found: list[Excess] = []
    for kind in kinds:
        key = f"control.{kind}.max_length"
        if not practice.has(key):
            continue
        limit = practice.mm(key)
        for axis in axes:
            found += [
                Excess(axis=axis, key=key, low=low, high=high, limit=limit)
                for low, high in _stretches(surface, axis)
                if control_joint_number(high - low, limit)
            ]
    return tuple(found)


def _stretches(surface: Surface, axis: Axis) -> tuple[tuple[float, float], ...]:
    u0, v0, u1, v1 = surface.outline.bounds
    low, high = (u0, u1) if axis is Axis.U else (v0, v1)
    at = [line.at for line in surface.controls if line.axis is axis]
    return tuple(pairwise([low, *at, high]))


def largest_part_m2(surface: Surface) -> float:
    """Return the area of the largest part between control joints, m2."""
    return max(p.area_mm2 for p in split_by(surface.outline, surface.controls)) / 1e6


# --- where they best stand --------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place for a control joint.

    Attributes:
        at: Along the axis, mm.
        rank: How well it suits: 0 where the framing turns, 1 at a doorway or where the room
            narrows, 2 on a member, 3 anywhere.
    """

    at: float
    rank: int


TURN, DOORWAY, MEMBER, ANYWHERE = range(4)


def places_for(room: Room, surface: Surface, axis: Axis) -> tuple[Place, ...]:
    """Return the places where a control joint would suit, in order, the best where two are near.

    They are where the framing changes direction, the sides of doorways, where the face narrows
    or widens, and the middles of members that run along the joint.

    Args:
        room: The room, for its doorways.
        surface: One of its surfaces.
        axis: What the joint holds still.
    """
    index = 0 if axis is Axis.U else 1
    ranks: dict[float, int] = {}

    def offer(at: float, rank: int) -> None:
        ranks[snap(at)] = min(rank, ranks.get(snap(at), ANYWHERE))

    if len(surface.directions) > 1:
        for zone in surface.zones:
            for a, b in zone.region.segments:
                if abs(a[index] - b[index]) <= TOLERANCE:
                    offer(a[index], TURN)
    for ring in surface.outline.rings:
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            if abs(a[index] - b[index]) <= TOLERANCE:
                offer(a[index], DOORWAY)
    for at in _doorways(room, surface, axis):
        offer(at, DOORWAY)
    for support in surface.supports:
        if abs(support.a[index] - support.b[index]) <= 1e-3 and support.zone >= 0:
            offer((support.a[index] + support.b[index]) / 2, MEMBER)
    u0, v0, u1, v1 = surface.outline.bounds
    low, high = (u0, u1) if axis is Axis.U else (v0, v1)
    return tuple(
        Place(at=at, rank=ranks[at]) for at in sorted(ranks) if low + 1.0 < at < high - 1.0
    )


def _doorways(room: Room, surface: Surface, axis: Axis) -> list[float]:
    """Return where the sides of doorways stand along an axis of a face, mm."""
    from roomboard.core.project import OpeningKind

    kinds = {OpeningKind.DOOR, OpeningKind.OPENING}
    found: list[float] = []
    for index, wall in enumerate(room.walls):
        own = [o for o in room.openings if o.host == wall.id and o.kind in kinds]
        if surface.place == "wall":
            if surface.key.partition(".")[0] == f"wall:{wall.id}" and axis is Axis.U:
                found += [x for o in own for x in (o.left, o.left + o.width)]
            continue
        (ax, ay), (bx, by) = room.wall_ends(index)
        length = room.wall_length(index)
        along = (abs(bx - ax) if axis is Axis.U else abs(by - ay)) / length
        if along < 1 - TOLERANCE:
            continue  # its jambs do not stand square to the axis
        for o in own:
            for x in (o.left, o.left + o.width):
                share = x / length
                found.append(ax + (bx - ax) * share if axis is Axis.U else ay + (by - ay) * share)
    return found


def suggested(room: Room, surface: Surface, practice: Practice) -> tuple[ControlLine, ...]:
    """Return the control joints that a surface still needs, each where it suits best.

    As few as can be; of the ways to place so few, the one whose joints suit best, then the one
    whose stretches are most alike. Where an area is too great, its longer way is parted further.

    Args:
        room: The room.
        surface: One of its surfaces, with the control joints it has.
        practice: The pack.
    """
    added: list[ControlLine] = []
    for excess in excesses(surface, practice):
        if any(c.axis is excess.axis and excess.low < c.at < excess.high for c in added):
            continue
        limits = [
            e.limit
            for e in excesses(surface, practice)
            if (e.axis, e.low, e.high) == (excess.axis, excess.low, excess.high)
        ]
        added += _lines(room, surface, excess, min(limits))
    key = f"control.{surface.place}.max_area"
    for _ in range(MOST_LINES if practice.has(key) else 0):
        lined = replace(surface, controls=_sorted(surface, added))
        more = _for_area(room, lined, practice.mm(key))
        if more is None:
            break
        added.append(more)
    return tuple(sorted(added, key=lambda c: (c.axis, c.at)))


def _sorted(surface: Surface, added: Sequence[ControlLine]) -> tuple[ControlLine, ...]:
    return tuple(sorted((*surface.controls, *added), key=lambda c: (c.axis, c.at)))


def _lines(room: Room, surface: Surface, excess: Excess, limit: float) -> list[ControlLine]:
    """Return the lines that part one stretch."""
    places = [p for p in places_for(room, surface, excess.axis) if excess.low < p.at < excess.high]
    even = control_joint_positions(excess.high - excess.low, limit)
    known = {p.at for p in places}
    places += [
        Place(at=snap(excess.low + x), rank=ANYWHERE)
        for x in even
        if snap(excess.low + x) not in known
    ]
    places.sort(key=lambda p: p.at)
    chosen = _fewest(places, excess.low, excess.high, limit)
    return [ControlLine(axis=excess.axis, at=p.at) for p in chosen]


_Score = tuple[int, int, float]


def _fewest(places: Sequence[Place], low: float, high: float, limit: float) -> tuple[Place, ...]:
    """Return the fewest places that leave no stretch over the limit, the best suited of those."""
    nodes = [low, *(p.at for p in places), high]
    ranks = [0, *(p.rank for p in places), 0]
    best: list[tuple[_Score, int] | None] = [((0, 0, 0.0), -1)] + [None] * (len(nodes) - 1)
    for j in range(1, len(nodes)):
        for i in range(j):
            before = best[i]
            step = nodes[j] - nodes[i]
            if before is None or step > limit + 1.0 or step <= TOLERANCE:
                continue
            count, rank, spread = before[0]
            score = (count + 1, rank + ranks[j], spread + (step / limit) ** 2)
            known = best[j]
            if known is None or score < known[0]:
                best[j] = (score, i)
    found: list[Place] = []
    at = len(nodes) - 1
    while at > 0:
        entry = best[at]
        if entry is None:
            return ()
        at = entry[1]
        if at > 0:
            found.append(places[at - 1])
    return tuple(reversed(found))


def _for_area(room: Room, surface: Surface, limit_m2: float) -> ControlLine | None:
    """Return a line that parts the largest part the longer way, if it is larger than allowed."""
    part = max(split_by(surface.outline, surface.controls), key=lambda r: r.area_mm2)
    if part.area_mm2 / 1e6 <= limit_m2:
        return None
    u0, v0, u1, v1 = part.bounds
    axis = Axis.U if u1 - u0 >= v1 - v0 else Axis.V
    low, high = (u0, u1) if axis is Axis.U else (v0, v1)
    middle, third = (low + high) / 2, (high - low) / 3
    near = [p for p in places_for(room, surface, axis) if low + third <= p.at <= high - third]
    best = min(near, key=lambda p: (p.rank, abs(p.at - middle), p.at), default=None)
    return ControlLine(axis=axis, at=best.at if best else snap(middle))
