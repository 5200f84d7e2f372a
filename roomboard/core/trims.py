"""Trims: cornice, corner beads, packers and sealant lines."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.heights import is_ceiling
from roomboard.core.plane import Interval, Point, subtract_intervals
from roomboard.core.practice import Practice
from roomboard.core.project import AngleFinish, Room
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    Surface,
    SurfaceEdge,
    SurfaceOpening,
    Vector,
)


class TrimKind(StrEnum):
    """Goods that run along an edge."""

    CORNICE = "cornice"
    EXTERNAL_BEAD = "external_bead"
    SQUARE_SET_TAPE = "square_set_tape"
    INTERNAL_TAPE = "internal_tape"
    SEALANT = "sealant"
    CONTROL_BEAD = "control_bead"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimRun:
    """One straight run of a trim.

    Attributes:
        id: ``"CO2"`` and the like, numbered in the room.
        kind: Which.
        room: Room id.
        surface: Ref of the surface it is listed under.
        where: In words, e.g. ``"wall A to ceiling"``, ``"opening D1, left reveal"``.
        length: Net run along the angle or corner, mm.
        cut_length: Length to cut, mitres included, mm.
        left_end: ``"internal mitre"``, ``"external mitre"``, ``"square"``; ``"raking mitre"`` where
            it meets one of another slope, with ``", raking"`` where both hold.
        right_end: The same for the other end.
        fasteners: Number of fasteners it takes (beads), 0 if none.
    """

    id: str
    kind: TrimKind
    room: str
    surface: str
    where: str
    length: float
    cut_length: float
    left_end: str
    right_end: str
    fasteners: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Packer:
    """A packer that holds the bottom sheet off the floor.

    Attributes:
        surface: Surface ref.
        u: Along the wall, mm.
        height: Its thickness, mm.
    """

    surface: str
    u: float
    height: float


PREFIX = {
    TrimKind.CORNICE: "CO",
    TrimKind.EXTERNAL_BEAD: "EB",
    TrimKind.SQUARE_SET_TAPE: "SS",
    TrimKind.INTERNAL_TAPE: "IT",
    TrimKind.SEALANT: "SE",
    TrimKind.CONTROL_BEAD: "CB",
}
"""What the ids of each kind of run begin with."""
SQUARE, INTERNAL, EXTERNAL = "square", "internal mitre", "external mitre"
RAKING = "raking mitre"
"""How the end of a run is cut that meets one of another slope."""
PROJECTION = "cornice.projection"
PITCH, END = "angle_bead.pitch", "angle_bead.end"
MEETS = 1.0
"""Ends of runs nearer than this in plan meet, mm."""
LEVELS = 50.0
"""Ends of runs further apart in height are at different ceilings; linings are thinner, mm."""
STRAIGHT = math.radians(0.05)
"""Runs whose slopes differ by less run on straight."""
LEGS = 2
"""A corner bead has two legs, each fixed."""
SHARPEST = math.radians(170.0)
"""Where a wall turns back on itself more than this, no mitre can be cut: both ends are square."""


class _Run(NamedTuple):
    """A run in space, left to right as one stands in the room and looks at it."""

    kind: TrimKind
    surface: Surface
    where: str
    left: Vector
    right: Vector

    @property
    def length(self) -> float:
        return math.dist(self.left, self.right)


def trim_runs(room: Room, surfaces: tuple[Surface, ...], practice: Practice) -> tuple[TrimRun, ...]:
    """List every run of cornice, corner bead, corner tape and sealant of a room.

    A line where two lined faces meet is listed once, under the first of them; the angles inside
    a lined reveal are listed with its opening. Cornice is
    mitred where it meets cornice: at an internal corner its longest side is the wall's own
    length, at an external one it reaches past the corner by its projection.

    Args:
        room: The room; it names walls that are not lined.
        surfaces: Its lined faces, ceiling first.
        practice: The pack: ``cornice.projection``, ``angle_bead.pitch``, ``angle_bead.end``.
            What it does not state is left out and named by :func:`trim_findings`.
    """
    runs = _uncovered(_edge_runs(room, surfaces), surfaces)
    cornice = [run for run in runs if run.kind is TrimKind.CORNICE]
    numbers: dict[TrimKind, int] = {}
    made: list[TrimRun] = []

    def add(run: _Run, length: float, more: float, ends: tuple[str, str]) -> None:
        numbers[run.kind] = numbers.get(run.kind, 0) + 1
        bead = run.kind is TrimKind.EXTERNAL_BEAD
        made.append(
            TrimRun(
                id=f"{PREFIX[run.kind]}{numbers[run.kind]}",
                kind=run.kind,
                room=room.id,
                surface=run.surface.ref,
                where=run.where,
                length=round(length, 6),
                cut_length=round(length + more, 6),
                left_end=ends[0],
                right_end=ends[1],
                fasteners=bead_fasteners(length, practice) if bead else 0,
            )
        )

    for run in runs:
        more, ends = 0.0, (SQUARE, SQUARE)
        if run.kind is TrimKind.CORNICE:
            more, ends = _mitres(run, cornice, practice)
        add(run, run.length, more, ends)
    for surface in surfaces:
        for opening in surface.openings:
            here = (0.0, 0.0, 0.0)
            for name, length in _reveals(surface, opening):
                where = f"opening {opening.id}, {name}"
                bead = _Run(TrimKind.EXTERNAL_BEAD, surface, where, here, here)
                add(bead, length, 0.0, (SQUARE, SQUARE))
            for name, length in _reveal_corners(surface, opening):
                where = f"opening {opening.id}, {name}"
                tape = _Run(TrimKind.INTERNAL_TAPE, surface, where, here, here)
                add(tape, length, 0.0, (SQUARE, SQUARE))
    made.sort(key=lambda run: list(TrimKind).index(run.kind))
    return tuple(made)


def trim_findings(room: Room, runs: Sequence[TrimRun], practice: Practice) -> tuple[Finding, ...]:
    """Name the figures of trims that the pack does not state and these runs want.

    Args:
        room: The room.
        runs: From :func:`trim_runs`.
        practice: The pack.
    """
    external = any(e.startswith(EXTERNAL) for run in runs for e in (run.left_end, run.right_end))
    beads = any(run.kind is TrimKind.EXTERNAL_BEAD for run in runs)
    wanted = [
        (external, PROJECTION, "cornice is cut to the wall's length at external corners"),
        (beads, PITCH, "no fasteners are counted for corner beads"),
        (beads, END, "corner beads are fixed at their very ends"),
    ]
    return tuple(
        Finding(
            code="RB105",
            severity=Severity.WARNING,
            text=f"The practice pack does not state {key}: in {room.name}, {so}.",
            place=Place(room=room.id),
            remedies=(f"Give {key} a value of your own.",),
        )
        for needed, key, so in wanted
        if needed and not practice.has(key)
    )


def bead_fasteners(length: float, practice: Practice) -> int:
    """Return how many fasteners hold an external corner bead, through both legs.

    One near each end of each leg, and no two further apart than ``angle_bead.pitch``; 0
    where the pack states no pitch.

    Args:
        length: Length of the bead, mm.
        practice: The pack.
    """
    if not practice.has(PITCH) or practice.mm(PITCH) <= 0:
        return 0
    end = practice.mm(END) if practice.has(END) else 0.0
    between = length - 2 * end
    if between <= 0:
        return LEGS
    return LEGS * (math.ceil(between / practice.mm(PITCH) - 1e-9) + 1)


# --- where runs lie ---------------------------------------------------------------------


def _base(ref: str) -> str:
    """Return the ref of a face, without the number of its part."""
    room, slash, key = ref.partition("/")
    return f"{room}{slash}{key.partition('.')[0]}"


def _named(room: Room, names: Mapping[str, str], ref: str) -> str:
    """Return a face's name in running text."""
    name = names.get(ref, "")
    if not name:
        key = ref.partition("/")[2]
        wall = room.wall(key.removeprefix("wall:"))
        name = f"wall {wall.name or wall.id}" if wall else key
    return name[:1].lower() + name[1:]


def _in_space(placing: Placing, point: Point) -> Vector:
    x, y, z = (
        o + point[0] * u + point[1] * v
        for o, u, v in zip(placing.origin, placing.u_axis, placing.v_axis, strict=True)
    )
    return (x, y, z)


def _kind_of(surface: Surface, edge: SurfaceEdge, *, upright: bool) -> TrimKind | None:
    """Say which trim an edge takes; None for none."""
    if edge.kind is EdgeKind.CORNER:
        return TrimKind.EXTERNAL_BEAD
    if edge.kind is not EdgeKind.ANGLE:
        return None
    at_ceiling = is_ceiling(surface.key) or is_ceiling(edge.other.partition("/")[2])
    if upright or not at_ceiling:
        return TrimKind.INTERNAL_TAPE
    finishes = {
        AngleFinish.CORNICE: TrimKind.CORNICE,
        AngleFinish.SQUARE_SET: TrimKind.SQUARE_SET_TAPE,
    }
    return finishes.get(edge.finish)


def _edge_runs(room: Room, surfaces: Sequence[Surface]) -> list[_Run]:
    """Return the runs along the edges of all faces, each line once."""
    names: dict[str, str] = {}
    for surface in surfaces:
        names.setdefault(_base(surface.ref), surface.name)
    listed: dict[tuple[str, str, TrimKind], str] = {}
    runs: list[_Run] = []
    for surface in surfaces:
        own = _base(surface.ref)
        for edge in surface.edges:
            b, a = _in_space(surface.placing, edge.a), _in_space(surface.placing, edge.b)
            upright = math.dist(a[:2], b[:2]) <= MEETS
            if edge.kind is EdgeKind.FLOOR and "wet" in surface.special:
                where = f"foot of {_named(room, names, own)}"
                runs.append(_Run(TrimKind.SEALANT, surface, where, a, b))
                continue
            kind = _kind_of(surface, edge, upright=upright)
            if kind is None:
                continue
            if kind is TrimKind.EXTERNAL_BEAD and edge.other and edge.other not in names:
                continue  # the face beyond is not lined: nothing to join there
            other = edge.other or own
            pair = (min(own, other), max(own, other), kind)
            if edge.other and listed.setdefault(pair, own) != own:
                continue
            beside = _named(room, names, edge.other) if edge.other else "its neighbour"
            here = _named(room, names, own)
            words = (beside, here) if is_ceiling(surface.key) else (here, beside)
            run = _Run(kind, surface, f"{words[0]} to {words[1]}", a, b)
            if not any(_same_line(run, seen) for seen in runs):
                runs.append(run)
    return runs


def _same_line(one: _Run, two: _Run) -> bool:
    """Tell whether two runs of a kind lie in the same place."""
    if one.kind is not two.kind:
        return False
    ends = [(one.left, two.left, two.right), (one.right, two.left, two.right)]
    return all(
        math.dist(p, a) + math.dist(p, b) - math.dist(a, b) <= MEETS / 10 for p, a, b in ends
    )


def _uncovered(runs: Sequence[_Run], surfaces: Sequence[Surface]) -> list[_Run]:
    """Take off what a bulkhead hides of the runs round the ceiling."""
    boxes = [s for s in surfaces if s.key.startswith("bulkhead:") and s.key.endswith(":underside")]
    found: list[_Run] = []
    for run in runs:
        if (
            run.kind not in {TrimKind.CORNICE, TrimKind.SQUARE_SET_TAPE}
            or run.surface.key.startswith("bulkhead:")
            or not boxes
        ):
            found.append(run)
            continue
        hidden = sorted(iv for box in boxes if (iv := _over(run, box)) is not None)
        for p, q in subtract_intervals((0.0, run.length), hidden, MEETS):
            left, right = (_between(run, x) for x in (p, q))
            found.append(run._replace(left=left, right=right))
    return found


def _between(run: _Run, x: float) -> Vector:
    share = x / run.length
    a, b, c = (p + (q - p) * share for p, q in zip(run.left, run.right, strict=True))
    return (a, b, c)


def _over(run: _Run, box: Surface) -> Interval | None:
    """Return the stretch of a run that lies over a bulkhead's underside, in plan."""
    placing = box.placing
    low, high = 0.0, run.length
    u0, v0, u1, v1 = box.outline.bounds
    for axis, least, most in ((placing.u_axis, u0, u1), (placing.v_axis, v0, v1)):
        start, end = (
            sum((p[i] - placing.origin[i]) * axis[i] for i in range(2))
            for p in (run.left, run.right)
        )
        slope = (end - start) / run.length
        if abs(slope) < 1e-9:
            if not least - MEETS <= start <= most + MEETS:
                return None
            continue
        ends = sorted(((least - MEETS - start) / slope, (most + MEETS - start) / slope))
        low, high = max(low, ends[0]), min(high, ends[1])
    # The box was grown by what meets; what is left of that at an end is not hidden.
    return (low + MEETS, high - MEETS) if high - low > 2 * MEETS else None


def _mitres(run: _Run, others: Sequence[_Run], practice: Practice) -> tuple[float, tuple[str, str]]:
    """Return how much longer than its wall a cornice is cut, and how its two ends are cut."""
    projection = practice.mm(PROJECTION) if practice.has(PROJECTION) else 0.0
    more = 0.0
    ends: list[str] = []
    for at_left in (True, False):
        point = run.left if at_left else run.right
        end = SQUARE
        for other in others:
            meets = other.right if at_left else other.left
            apart = abs(point[2] - meets[2]) > LEVELS
            if other is run or apart or math.dist(point[:2], meets[:2]) > MEETS:
                continue
            before, after = (other, run) if at_left else (run, other)
            turn = _turn(before, after)
            raking = abs(_climb(after) - _climb(before)) > STRAIGHT
            if abs(turn) < 1e-6 and raking:
                end = RAKING
                more += projection * math.tan(max(_climb(after) - _climb(before), 0.0) / 2)
                break
            if abs(turn) < 1e-6 or turn > SHARPEST:
                continue
            # Walls are read left to right clockwise round the room: it turns right indoors.
            end = INTERNAL if turn < 0 else EXTERNAL
            if turn > 0:
                more += projection * math.tan(turn / 2)
            if raking:
                end = f"{end}, raking"
            break
        ends.append(end)
    return more, (ends[0], ends[1])


def _climb(run: _Run) -> float:
    """Return how steeply a run climbs from left to right, radians."""
    return math.atan2(run.right[2] - run.left[2], math.dist(run.left[:2], run.right[:2]))


def _turn(before: _Run, after: _Run) -> float:
    """Return the angle by which one run turns left into the next, radians."""
    px, py = (before.right[i] - before.left[i] for i in range(2))
    qx, qy = (after.right[i] - after.left[i] for i in range(2))
    return math.atan2(px * qy - py * qx, px * qx + py * qy)


def _reveals(surface: Surface, opening: SurfaceOpening) -> list[tuple[str, float]]:
    """Return the sides of an opening that take a corner bead, with their lengths.

    Sides on the face's own outline (the foot of a doorway) take none.
    """
    if not opening.reveal_lined:
        return []
    if opening.is_round:
        u0, _, u1, _ = opening.region.bounds
        return [("round reveal", math.pi * (u1 - u0))]
    found: list[tuple[str, float]] = []
    for a, b in opening.region.segments:
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        if surface.outline.distance_to_edge(middle) <= MEETS:
            continue
        if abs(b[0] - a[0]) >= abs(b[1] - a[1]):
            name = "sill" if b[0] > a[0] else "head"
        else:
            name = "right reveal" if b[1] > a[1] else "left reveal"
        found.append((name, math.dist(a, b)))
    return found


def _reveal_corners(surface: Surface, opening: SurfaceOpening) -> list[tuple[str, float]]:
    """Return the angles inside lined reveals, where two of their strips meet, as deep as they are.

    They are taped like any internal angle.
    """
    if opening.reveal_depth <= 0 or opening.is_round:
        return []
    sides = {name for name, _ in _reveals(surface, opening)}
    return [
        (f"{upright} to {level}", opening.reveal_depth)
        for level in ("head", "sill")
        for upright in ("left reveal", "right reveal")
        if {upright, level} <= sides
    ]
