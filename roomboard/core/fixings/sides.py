"""Sides: which supports hold the sides of a piece, and where their fixing lines stand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from roomboard.core.fixings.distances import Distances
from roomboard.core.fixings.lines import (
    HAIR,
    NEARLY_ALONG,
    Edge,
    Line,
    clear_stretches,
    in_frame,
    within,
)
from roomboard.core.fixings.means import Tight
from roomboard.core.fixings.members import carries_field, faces
from roomboard.core.fixings.runs import Behind, Run
from roomboard.core.fixings.values import Role
from roomboard.core.joints import Joint, JointKind, PieceEdge, Side, piece_edges
from roomboard.core.plane import (
    TOLERANCE,
    Interval,
    Point,
    merge_intervals,
    subtract_intervals,
)
from roomboard.core.project import AngleFinish
from roomboard.core.sheeting import EdgeNeed, Piece
from roomboard.core.surface import EdgeKind, Surface

FINISH = {AngleFinish.CORNICE: "cornice", AngleFinish.SQUARE_SET: "square_set"}


class _Stretch(NamedTuple):
    """A part of a piece's side, measured from the side's start.

    ``role`` is None where nothing is fixed along it (a hole for a light). ``furthest`` is how
    far inside the side a support may lie and still hold it, mm.
    """

    start: float
    end: float
    role: Role | None
    condition: str
    furthest: float


class _Wish(NamedTuple):
    """A support that could hold a stretch of a side."""

    rank: tuple[bool, float, int]
    edge: int
    start: float
    end: float
    stretch: _Stretch
    inside: float
    y: float
    tight: bool


class Sides:
    """Gives the sides of one surface's pieces their fixing lines.

    Attributes:
        tight: Lines nearer to the side of their timber than the pack asks.
    """

    def __init__(self, surface: Surface, joints: Sequence[Joint], distances: Distances) -> None:
        self.surface, self.distances = surface, distances
        self.joints: dict[str, list[Joint]] = {}
        for joint in joints:
            for mark in dict.fromkeys(joint.pieces):
                self.joints.setdefault(mark, []).append(joint)
        self.unframed = {o.id for o in surface.openings if not o.framed}
        lined = [(n, s, Line.between(s.a, s.b)) for n, s in faces(surface)]
        self.members = [(n, s, line, carries_field(surface, s, line)) for n, s, line in lined]
        self.tight: list[Tight] = []

    def held(self, piece: Piece) -> list[Behind]:
        """Return the supports behind a piece, with the runs that hold its sides."""
        named = piece_edges(piece)
        behind = self._behind(piece, [self._side(edge) for edge in named])
        self._along(piece, named, behind)
        return behind

    def _side(self, edge: PieceEdge) -> Edge:
        """Return a side with the distance that fasteners keep from it."""
        need = EdgeNeed.ANY
        if edge.side is Side.LOW:
            need = edge.piece.low
        elif edge.side is Side.HIGH:
            need = edge.piece.high
        if need is EdgeNeed.RECESSED:
            return Edge(
                *edge.a,
                *edge.b,
                self.distances.keep,
                min(self.distances.keep_min, self.distances.keep),
            )
        return Edge(
            *edge.a,
            *edge.b,
            self.distances.keep_cut,
            min(self.distances.keep_cut_min, self.distances.keep_cut),
        )

    def _behind(self, piece: Piece, sides: Sequence[Edge]) -> list[Behind]:
        """Return the supports whose face overlaps a piece, in order."""
        u0, v0, u1, v1 = piece.region.bounds
        found: list[Behind] = []
        for number, support, line, carrying in self.members:
            half = support.face / 2
            (au, av), (bu, bv) = support.a, support.b
            if (
                max(au, bu) + half <= u0
                or min(au, bu) - half >= u1
                or max(av, bv) + half <= v0
                or min(av, bv) - half >= v1
                or line.length <= TOLERANCE
            ):
                continue
            found.append(Behind(number, support, line, in_frame(line, sides), carrying))
        return found

    def _along(self, piece: Piece, named: Sequence[PieceEdge], behind: Sequence[Behind]) -> None:
        """Give every side of a piece that lies along supports its fixing lines."""
        kinds: dict[int, tuple[_Stretch, ...]] = {}
        wishes = [w for b in behind for w in self._wishes(named, b, kinds)]
        by_number = {b.number: b for b in behind}
        held: dict[int, list[Interval]] = {}
        for wish in sorted(wishes, key=lambda w: (w.rank, w.edge, w.start)):
            held_already = held.setdefault(wish.edge, [])
            free = subtract_intervals((wish.start, wish.end), held_already)
            if not free:
                continue
            held_already.extend(free)
            at = by_number[wish.rank[2]]
            edge = at.edges[wish.edge]
            sign = 1.0 if edge.x1 > edge.x0 else -1.0
            own_keep = min(edge.keep, wish.inside)
            lines = clear_stretches(at.edges, wish.y, wish.edge, own_keep)
            lines = within(lines, *self.distances.ends(at.line))
            for start, end in free:
                low, high = sorted((edge.x0 + sign * start, edge.x0 + sign * end))
                role = wish.stretch.role
                if role is None:
                    continue
                at.taken.append((low, high))
                own = [iv for run in at.runs for iv in [(run.x0, run.x1)]]
                for a, b in within(lines, low, high):
                    at.runs.extend(
                        Run(p, q, wish.y, role, wish.stretch.condition, wish.edge, wish.tight)
                        for p, q in subtract_intervals((a, b), merge_intervals(own), HAIR)
                    )
                    if wish.tight:
                        point = at.line.to_uv((a + b) / 2, wish.y)
                        self.tight.append((piece.mark, point, at.support.id))

    def _wishes(
        self, named: Sequence[PieceEdge], at: Behind, kinds: dict[int, tuple[_Stretch, ...]]
    ) -> Iterable[_Wish]:
        """Return the sides of a piece that a support could hold, and at what distance."""
        half = at.support.face / 2
        safe = max(half - self.distances.timber_edge, 0.0)
        for i, (x0, y0, x1, y1, keep, least) in enumerate(at.edges):
            run = x1 - x0
            if abs(y1 - y0) > NEARLY_ALONG * abs(run):
                continue
            sign = 1.0 if run > 0 else -1.0
            worst = max(y0, y1) if sign > 0 else min(y0, y1)
            centre = -sign * worst  # how far inside the side the support's centre lies
            if centre < -half or centre - half > self.distances.reach:
                continue
            if i not in kinds:
                kinds[i] = self._stretches(named[i])
            for stretch in kinds[i]:
                inside, tight = _inside(centre, half, safe, (least, keep, stretch.furthest))
                if inside <= 0:
                    continue
                if tight and stretch.role is Role.EDGE and not at.carrying:
                    continue  # members crossing the joint hold it; a sliver of nogging need not
                low = max(min(x0 + sign * stretch.start, x0 + sign * stretch.end), 0.0)
                high = min(max(x0 + sign * stretch.start, x0 + sign * stretch.end), at.line.length)
                if high - low <= TOLERANCE:
                    continue
                start, end = sorted((sign * (low - x0), sign * (high - x0)))
                y = 0.0 if inside == centre else worst + sign * inside
                rank = (tight, round(abs(inside - keep), 3), at.number)
                yield _Wish(rank, i, start, end, stretch, inside, y, tight)

    def _stretches(self, edge: PieceEdge) -> tuple[_Stretch, ...]:
        """Say what every part of a piece's side is fixed as."""
        line = Line.between(edge.a, edge.b)
        found: list[_Stretch] = []

        def add(a: Point, b: Point, role: Role | None, condition: str, furthest: float) -> None:
            (x0, y0), (x1, y1) = line.to_xy(a), line.to_xy(b)
            if abs(y0) <= 5 * TOLERANCE and abs(y1) <= 5 * TOLERANCE:
                p, q = max(min(x0, x1), 0.0), min(max(x0, x1), line.length)
                if q - p > TOLERANCE:
                    found.append(_Stretch(p, q, role, condition, furthest))

        for joint in self.joints.get(edge.piece.mark, ()):
            if joint.kind in {JointKind.RECESSED, JointKind.CUT_EDGE}:
                add(joint.a, joint.b, Role.EDGE, "any", self.distances.edge_max)
            else:
                add(joint.a, joint.b, Role.BUTT, "any", self.distances.edge_max)
        for side in self.surface.edges:
            if side.kind is EdgeKind.ANGLE:
                condition = FINISH.get(side.finish, "any")
                add(side.a, side.b, Role.END, condition, self.distances.reach)
            elif side.kind is EdgeKind.CORNER:
                add(side.a, side.b, Role.CORNER, "any", self.distances.edge_max)
            elif side.kind is EdgeKind.OPENING:
                role = None if side.other in self.unframed else Role.OPENING
                add(side.a, side.b, role, "any", self.distances.edge_max)
            else:
                add(side.a, side.b, Role.END, "any", self.distances.edge_max)
        rest = subtract_intervals((0.0, line.length), [(s.start, s.end) for s in found])
        found += [_Stretch(a, b, Role.END, "any", self.distances.edge_max) for a, b in rest]
        return tuple(sorted(found, key=lambda s: (s.start, s.end)))


def _inside(
    centre: float, half: float, safe: float, limits: tuple[float, float, float]
) -> tuple[float, bool]:
    """Return how far inside a side its fixing line stands on a support, mm; 0 if it cannot.

    The support's centre line is best; where a side lies too near to it, the line moves into
    the piece, and stays clear of the side of the timber where there is room.

    Args:
        centre: How far inside the side the support's centre line lies, mm.
        half: Half the support's face, mm.
        safe: How far from its centre line fasteners may stand, mm.
        limits: Least distance from the side, the distance wanted, and the furthest, mm.

    Returns:
        The distance, and whether it is nearer to the side of the timber than the pack asks.
    """
    least, wanted, furthest = limits
    if wanted - HAIR <= centre <= furthest + HAIR:
        return max(centre, wanted), False
    near, far = max(centre - safe, least), min(centre + safe, furthest)
    if near <= far + TOLERANCE:
        return min(max(wanted, near), max(far, near)), False
    if centre + safe < least <= centre + half:
        return least, True
    return 0.0, False
