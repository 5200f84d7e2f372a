"""Support check: every piece edge with nothing to fix to becomes a line of timber to add."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.heeding import heed
from roomboard.core.joints import JointKind, Side, piece_edges
from roomboard.core.plane import (
    TOLERANCE,
    chords_at_s,
    distance,
    distance_to_segment,
    merge_intervals,
    snap,
    snap_point,
    subtract_intervals,
)
from roomboard.core.project import OpeningKind
from roomboard.core.surface import EdgeKind, Support, SupportKind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from roomboard.core.joints import Joint, PieceEdge
    from roomboard.core.plane import Interval, Point, Region
    from roomboard.core.practice import Practice
    from roomboard.core.sheeting import SetOut
    from roomboard.core.surface import Surface, SurfaceEdge


class TrimmerReason(StrEnum):
    """Why a trimmer or nogging is missing."""

    WALL_ALONG_JOISTS = "wall_along_joists"
    DIRECTION_CHANGE = "direction_change"
    HATCH = "hatch"
    END_OFF_SUPPORT = "end_off_support"
    EDGE_OFF_SUPPORT = "edge_off_support"
    BATTENING = "battening"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trimmer:
    """A line of timber to be fixed before the boards go up.

    Attributes:
        tag: ``"T1"``, numbered in the room.
        room: Room id.
        surface: Surface ref.
        a: Start of the line of the sheets' edge in (u, v), mm.
        b: End.
        face: Width of its fixing face, mm.
        two_sided: Whether board edges land on it from both sides.
        nogging: True if it stands between members, square to them; False for one long trimmer.
        reason: Why it is missing.
        centre_a: Start of the timber's own centre line in (u, v), mm (off the edge line where
            it stands at a wall).
        centre_b: End of the centre line.
    """

    tag: str
    room: str
    surface: str
    a: Point
    b: Point
    face: float
    two_sided: bool
    nogging: bool
    reason: TrimmerReason
    centre_a: Point
    centre_b: Point

    @property
    def length(self) -> float:
        """Length, mm."""
        return distance(self.a, self.b)


@dataclass(frozen=True, slots=True, kw_only=True)
class BareEdge:
    """A stretch of piece edge with nothing to fix to.

    Attributes:
        a: Start in (u, v), mm.
        b: End.
        pieces: Marks of the pieces whose edge it is, one or two.
        inward: Unit vector into the (first) piece.
        reason: What kind of place it is.
    """

    a: Point
    b: Point
    pieces: tuple[str, ...]
    inward: Point
    reason: TrimmerReason


@dataclass(frozen=True, slots=True)
class _Line:
    """A line in the surface: unit direction, and offset square to it."""

    dx: float
    dy: float
    offset: float

    @staticmethod
    def through(a: Point, b: Point) -> _Line:
        length = distance(a, b)
        dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        if dx < -1e-9 or (abs(dx) <= 1e-9 and dy < 0):
            dx, dy = -dx, -dy
        return _Line(dx, dy, a[1] * dx - a[0] * dy)

    def along(self, p: Point) -> float:
        return p[0] * self.dx + p[1] * self.dy

    def off(self, p: Point) -> float:
        return p[1] * self.dx - p[0] * self.dy - self.offset

    def at(self, along: float, off: float = 0.0) -> Point:
        total = self.offset + off
        return snap_point((along * self.dx - total * self.dy, along * self.dy + total * self.dx))

    @property
    def key(self) -> tuple[float, float, float]:
        return (round(self.dx, 4) + 0.0, round(self.dy, 4) + 0.0, round(self.offset, 1) + 0.0)


def edge_limit(surface: Surface, max_centres: float) -> float:
    """Return how far apart supports crossing an edge may stand, mm.

    The greater of the pack's limit and the framing that is there: supports that stand too
    far apart are a finding of their own and not one for every edge.
    """
    return max([max_centres, *(z.centres for z in surface.zones)])


def find_bare_edges(
    surface: Surface,
    set_out: SetOut,
    joints: Sequence[Joint],
    practice: Practice,
    max_centres: float,
) -> tuple[BareEdge, ...]:
    """Return every stretch of piece edge that has nothing to fix to.

    An edge is held where a support runs along it close enough to take its fasteners, and at
    each support that crosses it; a stretch between crossings longer than supports may stand
    apart is bare, and so is an edge without any crossing.

    Args:
        surface: The surface with its framing.
        set_out: Its pieces.
        joints: Its joints; back-blocked butts hang free by intent.
        practice: The pack.
        max_centres: How far apart supports may stand for this board, mm.
    """
    edge_min, edge_max = practice.mm("edge.min"), practice.mm("edge.max")
    timber_min = practice.mm("timber_edge.min")
    reach = practice.mm("perimeter_reach.max")
    shortest = practice.mm("trimmer.min_length")
    limit = edge_limit(surface, max_centres)
    unframed = [o for o in surface.openings if not o.framed]
    blocked = [(j.a, j.b) for j in joints if j.kind is JointKind.BUTT_BACK_BLOCKED]
    rim: dict[tuple[float, float, float], list[SurfaceEdge]] = {}
    for side in surface.edges:
        rim.setdefault(_Line.through(side.a, side.b).key, []).append(side)
    bare: list[BareEdge] = []
    for piece in set_out.pieces:
        for edge in piece_edges(piece):
            if distance(edge.a, edge.b) < shortest - TOLERANCE:
                continue
            if any(_lies_on(edge, o.region) for o in unframed):
                continue
            line = _Line.through(edge.a, edge.b)
            lo, hi = sorted((line.along(edge.a), line.along(edge.b)))
            middle = line.at((lo + hi) / 2)
            inward = _inward(edge)
            at_rim = _rim_kind(line, lo, hi, rim)
            furthest = reach if at_rim is EdgeKind.ANGLE else edge_max
            held, crossed = _held(
                line, lo, hi, inward, surface.supports, edge_min, furthest, timber_min
            )
            for a, b in blocked:
                if abs(line.off(a)) <= 2 * TOLERANCE and abs(line.off(b)) <= 2 * TOLERANCE:
                    held.append(tuple(sorted((line.along(a), line.along(b)))))  # type: ignore[arg-type]
            for p, q in _bare_stretches(lo, hi, held, crossed, limit, shortest):
                del middle
                middle = line.at((p + q) / 2)
                bare.append(
                    BareEdge(
                        a=line.at(p),
                        b=line.at(q),
                        pieces=(piece.mark,),
                        inward=inward,
                        reason=_reason(surface, edge, middle, at_rim),
                    )
                )
    return tuple(bare)


def _inward(edge: PieceEdge) -> Point:
    """Unit vector from an edge into its piece, which lies on its left."""
    length = distance(edge.a, edge.b)
    return (-(edge.b[1] - edge.a[1]) / length, (edge.b[0] - edge.a[0]) / length)


def _lies_on(edge: PieceEdge, hole: Region) -> bool:
    """Tell whether an edge lies along a side of a hole."""
    u0, v0, u1, v1 = hole.bounds
    return (
        min(edge.a[0], edge.b[0]) <= u1 + 1
        and max(edge.a[0], edge.b[0]) >= u0 - 1
        and min(edge.a[1], edge.b[1]) <= v1 + 1
        and max(edge.a[1], edge.b[1]) >= v0 - 1
        and any(_on_side(edge.a, p, q) and _on_side(edge.b, p, q) for p, q in hole.segments)
    )


def _on_side(point: Point, p: Point, q: Point) -> bool:
    return distance_to_segment(point, p, q) <= 2 * TOLERANCE


def _rim_kind(
    line: _Line,
    lo: float,
    hi: float,
    rim: Mapping[tuple[float, float, float], Sequence[SurfaceEdge]],
) -> EdgeKind | None:
    """Say what side of the surface an edge lies on, or None inside it."""
    for side in rim.get(line.key, ()):
        p, q = sorted((line.along(side.a), line.along(side.b)))
        if min(hi, q) - max(lo, p) > 1:
            return side.kind
    return None


def _held(
    line: _Line,
    lo: float,
    hi: float,
    inward: Point,
    supports: Sequence[Support],
    edge_min: float,
    furthest: float,
    timber_min: float,
) -> tuple[list[Interval], list[float]]:
    """Return the stretches with a support along them, and the places where one crosses."""
    heed()
    sign = 1.0 if -line.dy * inward[0] + line.dx * inward[1] > 0 else -1.0
    held: list[Interval] = []
    crossed: list[float] = []
    for support in supports:
        a_off, b_off = sign * line.off(support.a), sign * line.off(support.b)
        half = support.face / 2
        if _runs_along(support, line):
            # Fasteners must reach it: no nearer to the edge than it, no further in than it goes.
            reached = _where_off(
                line,
                support,
                sign,
                (edge_min - half + timber_min, furthest + half - timber_min),
            )
            if reached and min(reached[1], hi) - max(reached[0], lo) > TOLERANCE:
                held.append((reached[0] - half, reached[1] + half))
            continue
        # It crosses: its own part inside the piece must come near enough to the edge.
        if min(a_off, b_off) > furthest + TOLERANCE or max(a_off, b_off) < edge_min:
            continue
        t = (0.0 - a_off) / (b_off - a_off)
        t = min(1.0, max(0.0, t))
        at = line.along(
            (
                support.a[0] + t * (support.b[0] - support.a[0]),
                support.a[1] + t * (support.b[1] - support.a[1]),
            )
        )
        if lo - half + edge_min <= at <= hi + half - edge_min:
            crossed.append(snap(at))
    return held, sorted(set(crossed))


ALONG = 1e-3
"""A support that leaves an edge by less than this slope runs along it."""


def _runs_along(support: Support, line: _Line) -> bool:
    """Tell whether a support runs along a line, as nearly as joists in old houses do."""
    off = abs(line.off(support.a) - line.off(support.b))
    return off <= 1 or off <= ALONG * distance(support.a, support.b)


def _where_off(line: _Line, support: Support, sign: float, band: Interval) -> Interval | None:
    """Return where along a line a support's centre lies within a band beside it, or None."""
    p, q = line.along(support.a), line.along(support.b)
    p_off, q_off = sign * line.off(support.a), sign * line.off(support.b)
    if p > q:
        p, q, p_off, q_off = q, p, q_off, p_off
    low, high = band[0] - TOLERANCE, band[1] + TOLERANCE
    rise = q_off - p_off
    if abs(rise) <= 2 * TOLERANCE:
        return (p, q) if low <= p_off <= high else None
    at = sorted(p + (x - p_off) / rise * (q - p) for x in (low, high))
    a, b = max(p, at[0]), min(q, at[1])
    return (a, b) if b > a else None


def _bare_stretches(
    lo: float,
    hi: float,
    held: Sequence[Interval],
    crossed: Sequence[float],
    limit: float,
    shortest: float,
) -> tuple[Interval, ...]:
    """Return what neither supports along an edge nor supports across it hold."""
    free = subtract_intervals((lo, hi), merge_intervals(held), shortest / 2)
    found: list[Interval] = []
    for a, b in free:
        points = [x for x in crossed if a - TOLERANCE <= x <= b + TOLERANCE]
        marks: list[float] = [a, *points, b]
        if not points:
            # Between two held parts nothing more is asked than between two crossings.
            inner = a > lo + TOLERANCE and b < hi - TOLERANCE
            if (not inner or b - a > limit + 1) and b - a >= shortest - TOLERANCE:
                found.append((a, b))
            continue
        found.extend((p, q) for p, q in pairwise(marks) if q - p > limit + 1 and q - p >= shortest)
    return tuple(found)


def _reason(
    surface: Surface, edge: PieceEdge, middle: Point, at_rim: EdgeKind | None
) -> TrimmerReason:
    for opening in surface.openings:
        if opening.kind is OpeningKind.HATCH and any(
            _on_side(middle, p, q) for p, q in opening.region.segments
        ):
            return TrimmerReason.HATCH
    if at_rim is not None and not _at_kept(surface, middle):
        return TrimmerReason.WALL_ALONG_JOISTS
    if len(surface.zones) > 1 and _on_zone_line(surface, middle):
        return TrimmerReason.DIRECTION_CHANGE
    if edge.side is Side.END:
        return TrimmerReason.END_OFF_SUPPORT
    return TrimmerReason.EDGE_OFF_SUPPORT


def _at_kept(surface: Surface, point: Point) -> bool:
    """Tell whether a point lies where a lining is kept, or where nothing more is lined."""
    return any(
        side.kind is EdgeKind.FREE and ":" in side.other and _on_side(point, side.a, side.b)
        for side in surface.edges
    )


def _on_zone_line(surface: Surface, point: Point) -> bool:
    """Tell whether a point lies where two zones of different direction meet."""
    at = {
        round(z.direction_deg, 3)
        for z in surface.zones
        if any(_on_side(point, p, q) for p, q in z.region.segments)
    }
    return len(at) > 1


def plan_battens(
    surface: Surface, set_out: SetOut, spacing: float, practice: Practice, first: int = 1
) -> tuple[Trimmer, ...]:
    """Batten the zones whose supports run along the sheets that are carried on over them.

    Args:
        surface: The surface.
        set_out: Its fields.
        spacing: Greatest distance between battens, mm.
        practice: The pack; ``trimmer.width`` is the battens' face.
        first: Number of the first tag.
    """
    face = practice.mm("trimmer.width")
    made: list[Trimmer] = []
    for field in set_out.fields:
        for index in field.zones:
            zone = surface.zones[index]
            apart = abs(zone.direction_deg - field.direction_deg) % 180.0
            if min(apart, 180.0 - apart) > TOLERANCE:
                continue
            region = field.frame.region_to_st(zone.region)
            s0, _, s1, _ = region.bounds
            count = max(1, math.ceil((s1 - s0) / spacing - TOLERANCE))
            for k in range(count + 1):
                # The first and last stand beside the zone's ends, under the board.
                s = min(max(s0 + (s1 - s0) * k / count, s0 + face / 2), s1 - face / 2)
                for p, q in chords_at_s(region, s):
                    a, b = field.frame.to_uv((s, p)), field.frame.to_uv((s, q))
                    made.append(
                        Trimmer(
                            tag=f"T{first + len(made)}",
                            room=surface.room,
                            surface=surface.ref,
                            a=a,
                            b=b,
                            face=face,
                            two_sided=False,
                            nogging=False,
                            reason=TrimmerReason.BATTENING,
                            centre_a=a,
                            centre_b=b,
                        )
                    )
    return tuple(made)


def plan_trimmers(
    surface: Surface, bare: Sequence[BareEdge], practice: Practice, first: int = 1
) -> tuple[Trimmer, ...]:
    """Turn bare edges into timber: one line for each stretch, merged where they run on.

    Where boards land from both sides (a change of joist direction, a joint off its support)
    the timber is two-sided and stands on the line; at a wall it stands beside it, under the
    board.

    Args:
        surface: The surface.
        bare: From :func:`find_bare_edges`.
        practice: The pack; ``trimmer.width`` is the timber's fixing face.
        first: Number of the first tag.
    """
    groups: dict[tuple[float, float, float], list[BareEdge]] = {}
    for edge in bare:
        groups.setdefault(_Line.through(edge.a, edge.b).key, []).append(edge)
    made: list[_Planned] = []
    for key in sorted(groups):
        members = groups[key]
        line = _Line.through(members[0].a, members[0].b)
        spans = [tuple(sorted((line.along(e.a), line.along(e.b)))) for e in members]
        for lo, hi in merge_intervals((s[0], s[1]) for s in spans):
            own = [
                e
                for e, (p, q) in zip(members, spans, strict=True)
                if q > lo + TOLERANCE and p < hi - TOLERANCE
            ]
            both = len({(round(e.inward[0]), round(e.inward[1])) for e in own}) > 1
            inside = all(
                e.reason
                in {
                    TrimmerReason.DIRECTION_CHANGE,
                    TrimmerReason.END_OFF_SUPPORT,
                    TrimmerReason.EDGE_OFF_SUPPORT,
                }
                for e in own
            )
            reason = min((e.reason for e in own), key=list(TrimmerReason).index)
            at_wall = reason is TrimmerReason.WALL_ALONG_JOISTS
            timber = _Timber.of(practice, at_wall=at_wall, beside=not (both or inside))
            for p, q in _stretches(line, (lo, hi), surface.supports, timber.face):
                sides = {
                    _side(line, e.inward)
                    for e, (x, y) in zip(members, spans, strict=True)
                    if min(y, q) - max(x, p) > TOLERANCE
                }
                if not sides:
                    continue
                off, face = _stand(line, (p, q), sides, surface.supports, timber)
                two = (both or inside) and all(timber.serves(x, off, face) for x in (-1.0, 1.0))
                made.append(_Planned(line, p, q, reason, two, off, face))
    made.sort(key=lambda m: (list(TrimmerReason).index(m.reason), m.line.at(m.lo), m.line.at(m.hi)))
    return tuple(
        Trimmer(
            tag=f"T{number}",
            room=surface.room,
            surface=surface.ref,
            a=m.line.at(m.lo),
            b=m.line.at(m.hi),
            face=m.face,
            two_sided=m.two_sided,
            nogging=_square_to_supports(surface, m.line.at(m.lo), m.line.at(m.hi)),
            reason=m.reason,
            centre_a=m.line.at(m.lo, m.off),
            centre_b=m.line.at(m.hi, m.off),
        )
        for number, m in enumerate(made, first)
    )


class _Planned(NamedTuple):
    """A timber to add: its line, its reach along it, and how it stands."""

    line: _Line
    lo: float
    hi: float
    reason: TrimmerReason
    two_sided: bool
    off: float
    face: float


@dataclass(frozen=True, slots=True)
class _Timber:
    """What a timber must offer the board edges that land on it, mm."""

    face: float
    edge_min: float
    furthest: float
    timber_min: float
    beside: bool

    @staticmethod
    def of(practice: Practice, *, at_wall: bool, beside: bool) -> _Timber:
        return _Timber(
            practice.mm("trimmer.width"),
            practice.mm("edge.min"),
            practice.mm("perimeter_reach.max" if at_wall else "edge.max"),
            practice.mm("timber_edge.min"),
            beside,
        )

    def serves(self, side: float, off: float, face: float) -> bool:
        """Tell whether fasteners of the board on one side reach it."""
        near, far = sorted(
            (side * (off - face / 2 + self.timber_min), side * (off + face / 2 - self.timber_min))
        )
        return max(near, self.edge_min) <= min(far, self.furthest) + TOLERANCE


def _stretches(
    line: _Line, reach: Interval, supports: Sequence[Support], near: float
) -> tuple[Interval, ...]:
    """Part a line where a member beside it begins or ends: timber stands otherwise there."""
    lo, hi = reach
    marks = {lo, hi}
    for s in supports:
        beside = min(abs(line.off(s.a)), abs(line.off(s.b))) - s.face / 2
        if _runs_along(s, line) and beside < near:
            ends = (line.along(s.a), line.along(s.b))
            marks |= {x for x in ends if lo + near < x < hi - near}
    return tuple(pairwise(sorted(marks)))


def _side(line: _Line, inward: Point) -> float:
    return 1.0 if -line.dy * inward[0] + line.dx * inward[1] > 0 else -1.0


def _stand(
    line: _Line,
    reach: Interval,
    sides: set[float],
    supports: Sequence[Support],
    timber: _Timber,
) -> tuple[float, float]:
    """Return where a timber stands off its line, and its face, clear of what stands already.

    It stands on the line, or beside it at a wall; where a member running the same way is in
    the way, beside that member; where the gap is narrower than the timber, in the gap.
    """
    lo, hi = reach
    ideal = min(sides) * timber.face / 2 if timber.beside else 0.0
    taken: list[Interval] = []
    for s in supports:
        offs = _offs_over(line, s, lo, hi)
        if offs:
            taken.append((min(offs) - s.face / 2, max(offs) + s.face / 2))
    limit = 4 * timber.face
    best: tuple[bool, float, float, float] | None = None
    found = (ideal, timber.face)
    for a, b in subtract_intervals((-limit, limit), merge_intervals(taken), 2 * timber.timber_min):
        face = min(timber.face, b - a)
        off = min(max(ideal, a + face / 2), b - face / 2)
        # Where nothing serves it stands hard against the member that is in the way.
        serves = all(timber.serves(side, off, face) for side in sides)
        rank = (not serves, timber.face - face, abs(off - ideal), off)
        if best is None or rank < best:
            best, found = rank, (snap(off), snap(face))
    return found


BESIDE = 0.05
"""A member that leaves a line by less than this slope leaves no room for timber beside it."""


def _offs_over(line: _Line, support: Support, lo: float, hi: float) -> tuple[float, ...]:
    """Return how far off a line a member that runs beside it lies, over a stretch of the line."""
    p, q = line.along(support.a), line.along(support.b)
    p_off, q_off = line.off(support.a), line.off(support.b)
    if p > q:
        p, q, p_off, q_off = q, p, q_off, p_off
    a, b = max(p, lo), min(q, hi)
    if b - a <= 1 or abs(q_off - p_off) > BESIDE * (q - p):
        return ()
    return tuple(p_off + (x - p) / (q - p) * (q_off - p_off) for x in (a, b))


def _square_to_supports(surface: Surface, a: Point, b: Point) -> bool:
    """Tell whether a line runs square to the supports around it, so timber goes between them."""
    angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    for zone in surface.zones:
        if zone.region.contains(middle):
            apart = abs(angle - zone.direction_deg) % 180.0
            return min(apart, 180.0 - apart) > 45.0
    return False


def with_trimmers(surface: Surface, trimmers: Sequence[Trimmer]) -> Surface:
    """Return the surface with the timber asked for among its supports."""
    added = tuple(
        Support(
            id=t.tag,
            a=t.centre_a,
            b=t.centre_b,
            face=t.face,
            kind=SupportKind.BATTEN if t.reason is TrimmerReason.BATTENING else SupportKind.TRIMMER,
            frame=surface.frame,
            existing=False,
        )
        for t in trimmers
    )
    return replace(surface, supports=surface.supports + added)


WORDS = {
    TrimmerReason.WALL_ALONG_JOISTS: "the edge at the wall runs along the joists and the nearest "
    "one is out of reach",
    TrimmerReason.DIRECTION_CHANGE: "the joists change direction here and boards land from "
    "both sides",
    TrimmerReason.HATCH: "the edge round the hatch has nothing behind it",
    TrimmerReason.END_OFF_SUPPORT: "the sheet ends here between members",
    TrimmerReason.EDGE_OFF_SUPPORT: "the long joint runs between members",
    TrimmerReason.BATTENING: "the sheets are carried on and this part is battened",
}


def trimmer_findings(
    surface: Surface, trimmers: Sequence[Trimmer], practice: Practice
) -> tuple[Finding, ...]:
    """Name every line of missing timber."""
    return tuple(
        Finding(
            code="RB302" if t.reason is TrimmerReason.DIRECTION_CHANGE else "RB301",
            severity=Severity.WARNING,
            text=f"{t.tag} in {surface.name}: {{length}} of edge has nothing to fix to: "
            f"{WORDS[t.reason]}; fix a {'nogging' if t.nogging else 'trimmer'} "
            f"{'under both edges' if t.two_sided else 'there'} before board day.",
            params=(("length", t.length),),
            place=Place(room=surface.room, surface=surface.ref, item=t.tag, line=(t.a, t.b)),
            source=practice.cite("perimeter_reach.max")
            if t.reason is TrimmerReason.WALL_ALONG_JOISTS
            else practice.cite("edge.min"),
        )
        for t in trimmers
        if t.reason is not TrimmerReason.BATTENING
    ) + tuple(
        Finding(
            code="RB304",
            severity=Severity.WARNING,
            text=f"The two sheet ends over {t.tag} in {surface.name} land on different members: "
            "fix it hard against the member beside it, its face flush.",
            place=Place(room=surface.room, surface=surface.ref, item=t.tag, line=(t.a, t.b)),
            found=t.face,
            required=practice.mm("joint_face.min"),
            source=practice.cite("joint_face.min"),
        )
        for t in trimmers
        if t.reason is TrimmerReason.END_OFF_SUPPORT and not t.two_sided
    )
