"""Fixings: the place of every fastener, daub and back-block."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise
from typing import NamedTuple

from roomboard.core.findings import Finding, Param, Place, Severity
from roomboard.core.joints import Joint, JointKind, PieceEdge, Side, piece_edges
from roomboard.core.plane import (
    TOLERANCE,
    Interval,
    Point,
    merge_intervals,
    snap_point,
    subtract_intervals,
)
from roomboard.core.practice import Citation, FasteningRow, Practice
from roomboard.core.project import AngleFinish, Choices, FastenerKind, FrameKind, Method
from roomboard.core.sheeting import EdgeNeed, Piece, SetOut
from roomboard.core.stock import Board
from roomboard.core.surface import EdgeKind, Support, SupportKind, Surface
from roomboard.core.trims import Packer


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


# --- lines in the frame of a support ------------------------------------------------------

HAIR = 1e-7
"""Rounding left aside when distances are compared, mm."""
NEARLY_ALONG = 0.1
"""A side that leaves a support by less than this slope runs along it."""
ACROSS = 0.7
"""Sine of the angle from which a support counts as crossing a sheet, not running along it."""
NO_GLUE = ("fire", "bracing", "tiled")
"""Special linings that are never glued."""
CARRIES = {
    SupportKind.JOIST,
    SupportKind.BATTEN,
    SupportKind.TRUSS,
    SupportKind.STUD,
    SupportKind.JAMB,
}
"""Members that carry the field of a sheet; plates, heads, sills and noggings hold edges only."""


class _Line(NamedTuple):
    """A straight line with its own frame: x along it, y square to it on its left."""

    ax: float
    ay: float
    dx: float
    dy: float
    length: float

    @staticmethod
    def between(a: Point, b: Point) -> _Line:
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        if length <= TOLERANCE:
            return _Line(a[0], a[1], 1.0, 0.0, 0.0)
        return _Line(a[0], a[1], (b[0] - a[0]) / length, (b[1] - a[1]) / length, length)

    def to_xy(self, p: Point) -> Point:
        u, v = p[0] - self.ax, p[1] - self.ay
        return (u * self.dx + v * self.dy, v * self.dx - u * self.dy)

    def to_uv(self, x: float, y: float) -> Point:
        return (
            round(self.ax + x * self.dx - y * self.dy, 6) + 0.0,
            round(self.ay + x * self.dy + y * self.dx, 6) + 0.0,
        )


class _Edge(NamedTuple):
    """One side in the frame of a line, the board on its left.

    ``keep`` is how far fasteners stay away from it, ``least`` how far they must, mm.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    keep: float
    least: float


def _in_frame(line: _Line, sides: Sequence[_Edge]) -> list[_Edge]:
    """Turn sides given in (u, v) into the frame of a line."""
    ax, ay, dx, dy, _ = line
    return [
        _Edge(
            (u0 - ax) * dx + (v0 - ay) * dy,
            (v0 - ay) * dx - (u0 - ax) * dy,
            (u1 - ax) * dx + (v1 - ay) * dy,
            (v1 - ay) * dx - (u1 - ax) * dy,
            keep,
            least,
        )
        for u0, v0, u1, v1, keep, least in sides
    ]


def _too_near(edge: _Edge, y: float, keep: float) -> Interval | None:
    """Return the stretch of the line at ``y`` nearer than ``keep`` to a side, or None."""
    x0, y0, x1, y1, _, _ = edge
    low, high = (y0, y1) if y0 <= y1 else (y1, y0)
    if y <= low - keep + HAIR or y >= high + keep - HAIR:
        return None
    left, right = (x0, x1) if x0 <= x1 else (x1, x0)
    if right - left < HAIR:
        off = max(low - y, y - high, 0.0)
        reach = math.sqrt(keep * keep - off * off)
        return (left - reach, right + reach)
    if high - low < HAIR:
        reach = math.sqrt(max(keep * keep - (y - y0) ** 2, 0.0))
        return (left - reach, right + reach)
    found: list[float] = []
    for px, py in ((x0, y0), (x1, y1)):
        if abs(y - py) < keep:
            reach = math.sqrt(keep * keep - (y - py) ** 2)
            found += [px - reach, px + reach]
    length = math.hypot(x1 - x0, y1 - y0)
    cos, sin = (x1 - x0) / length, (y1 - y0) / length
    # Beside the side itself: square distance below ``keep``, and the foot on the side.
    band = sorted((x0 + ((y - y0) * cos + k) / sin) for k in (keep, -keep))
    foot = sorted(x0 + (k - (y - y0) * sin) / cos for k in (0.0, length))
    a, b = max(band[0], foot[0]), min(band[1], foot[1])
    if a < b:
        found += [a, b]
    return (min(found), max(found)) if found else None


def _clear(
    edges: Sequence[_Edge], y: float, own: int = -1, own_keep: float = 0.0
) -> list[Interval]:
    """Return the stretches of the line at ``y`` inside the board and clear of all its sides.

    Args:
        edges: Sides in the line's frame.
        y: Which line.
        own: Index of a side that has a distance of its own, or -1.
        own_keep: That distance, mm.
    """
    crossings: list[float] = []
    near: list[Interval] = []
    for i, edge in enumerate(edges):
        x0, y0, x1, y1, keep, _ = edge
        if (y0 > y) != (y1 > y):
            crossings.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
        cut = _too_near(edge, y, own_keep if i == own else keep)
        if cut is not None:
            near.append(cut)
    crossings.sort()
    near.sort()
    found: list[Interval] = []
    for a, b in zip(crossings[::2], crossings[1::2], strict=False):
        at = a
        for p, q in near:
            if q <= at:
                continue
            if p >= b:
                break
            if p - at > HAIR:
                found.append((at, p))
            at = q
        if b - at > HAIR:
            found.append((at, b))
    return found


def _within(intervals: Iterable[Interval], low: float, high: float) -> list[Interval]:
    """Clip stretches to one stretch."""
    return [(max(a, low), min(b, high)) for a, b in intervals if min(b, high) > max(a, low) + HAIR]


def spread(start: float, end: float, spacing: float, least: int = 0) -> list[float]:
    """Return places from ``start`` to ``end`` at equal distances of at most ``spacing``, mm.

    ``n = ceil((end - start) / spacing) + 1``; with no spacing, ``least`` places.

    Args:
        start: First place.
        end: Last place.
        spacing: Greatest distance between neighbours, mm; 0 where only a number is asked.
        least: Fewest places.
    """
    parts = math.ceil((end - start) / spacing - HAIR) if spacing > 0 else 0
    parts = max(parts, least - 1)
    if parts <= 0:
        return [start] if spacing > 0 or least > 0 else []
    step = (end - start) / parts
    return [start + k * step for k in range(parts)] + [end]


# --- what a side of a piece is fixed as -----------------------------------------------------


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


class _Run(NamedTuple):
    """A stretch of a fixing line of one piece on one support.

    ``edge`` is the index of the piece's side it follows, -1 in the field. ``tight`` marks a
    line nearer to the side of the timber than the pack asks.
    """

    x0: float
    x1: float
    y: float
    role: Role
    condition: str
    edge: int = -1
    tight: bool = False


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


@dataclass(slots=True)
class _Behind:
    """A support behind the piece at hand, with the piece in its frame."""

    number: int
    support: Support
    line: _Line
    edges: list[_Edge]
    runs: list[_Run] = field(default_factory=list)
    taken: list[Interval] = field(default_factory=list)


@dataclass(slots=True)
class _Field:
    """A field run and what holds the board there."""

    behind: _Behind
    run: _Run
    anchored: bool
    glued: bool
    daubs: tuple[float, ...] = ()


class _Spot(NamedTuple):
    """A fastener before it is written down."""

    support: int
    x: float
    u: float
    v: float
    kind: str
    role: Role


FINISH = {AngleFinish.CORNICE: "cornice", AngleFinish.SQUARE_SET: "square_set"}


def set_out_fixings(
    surface: Surface,
    set_out: SetOut,
    joints: tuple[Joint, ...],
    board: Board,
    choices: Choices,
    practice: Practice,
    first_block: int = 1,
) -> Fixings:
    """Place every fastener, daub, bead and back-block of a surface.

    Where a side of a piece lies along a support, that support takes a line of fasteners
    inside the piece; where a member crosses the piece, it is glued or fastened along its
    centre line. Nothing is placed where the pack states no figure: that is a finding.

    Args:
        surface: The surface, its supports including the timber that was asked for.
        set_out: Its pieces.
        joints: Its joints.
        board: The board of its pieces.
        choices: Method and fasteners the user chose.
        practice: The pack with the user's figures in place.
        first_block: Number of the first back-block, for numbers that run through a room.
    """
    work = _Work(surface, joints, board, choices, practice)
    for piece in set_out.pieces:
        work.fix(piece)
    blocks = _BackBlocks(surface, set_out, joints, practice, first_block)
    blocks.place()
    return Fixings(
        surface=surface.ref,
        fasteners=(*work.fasteners, *blocks.screws),
        daubs=tuple(work.daubs),
        beads=tuple(work.beads),
        back_blocks=tuple(blocks.blocks),
        findings=tuple(sorted((*work.findings(), *blocks.findings), key=lambda f: f.order)),
    )


class _Work:
    """Fixes one surface, piece by piece."""

    def __init__(
        self,
        surface: Surface,
        joints: Sequence[Joint],
        board: Board,
        choices: Choices,
        practice: Practice,
    ) -> None:
        self.surface, self.board, self.practice = surface, board, practice
        self.wanted = choices.fastener
        self.keep = practice.mm("edge.set")
        self.keep_min = practice.mm("edge.min")
        cut = practice.mm("edge.cut_min")
        self.keep_cut = max(self.keep, cut)
        self.keep_cut_min = max(self.keep_min, cut)
        self.edge_max = max(practice.mm("edge.max"), self.keep_cut)
        self.reach = max(
            practice.mm("perimeter_reach.max") if practice.has("perimeter_reach.max") else 0.0,
            self.edge_max,
        )
        self.timber_edge = practice.mm("timber_edge.min")
        # Two fasteners nearer than this break the board out: one is enough.
        self.near = 2 * self.keep_min
        self.joints: dict[str, list[Joint]] = {}
        for joint in joints:
            for mark in dict.fromkeys(joint.pieces):
                self.joints.setdefault(mark, []).append(joint)
        self.unframed = {o.id for o in surface.openings if not o.framed}
        self.members = [(n, s, _Line.between(s.a, s.b)) for n, s in _faces(surface)]
        self.carrying = {n for n, s, line in self.members if self._carries(s, line)}
        self.centres = max((z.centres for z in surface.zones), default=0.0)
        self.fasteners: list[Fastener] = []
        self.daubs: list[Daub] = []
        self.beads: list[AdhesiveBead] = []
        self.rows: dict[tuple[Role, FrameKind, str, str], FasteningRow | None] = {}
        self.missing: dict[tuple[str, str], str] = {}
        self.tight: list[tuple[str, Point, str]] = []
        self.steel_nails = False
        self.said: list[Finding] = []
        self.glue = self._glue(choices.method)
        self.method = Method.ADHESIVE if self.glue else Method.FASTENERS

    def _carries(self, support: Support, line: _Line) -> bool:
        """Tell whether a member carries the field of any sheet, not only their edges."""
        if support.kind in CARRIES:
            return True
        if support.kind is not SupportKind.TRIMMER:
            return False
        # Timber that runs like the members of its zone is one of them; a nogging is not.
        middle = line.to_uv(line.length / 2, 0.0)
        for zone in self.surface.zones:
            angle = math.radians(zone.direction_deg)
            square = abs(line.dx * math.sin(angle) - line.dy * math.cos(angle))
            if square < NEARLY_ALONG and zone.region.contains(middle):
                return True
        return False

    def _glue(self, method: Method) -> str:
        """Say how the boards are glued: ``"daub"``, ``"bead"`` or not at all."""
        if method is not Method.ADHESIVE:
            return ""
        barred = [kind for kind in self.surface.special if kind in NO_GLUE]
        if barred:
            key = f"adhesive.{barred[0]}"
            self.say(
                "RB405",
                Severity.WARNING,
                f"{self.surface.name} has a lining of its own rules ({', '.join(barred)}): "
                "no adhesive is set out there, only fasteners.",
                source=self.practice.cite(key) if self.practice.has(key) else None,
                remedies=("Fasten it as the document of that lining says.",),
            )
            return ""
        for glue in ("daub", "bead"):
            key = f"{glue}.used"
            if self.practice.has(key) and self.practice.word(key) == "yes":
                return glue
        self.say(
            "RB405",
            Severity.NOTE,
            f"The practice pack states no adhesive method for {self.surface.name}: it is "
            "fastened only.",
            source=self.practice.cite("daub.used") if self.practice.has("daub.used") else None,
        )
        return ""

    def say(
        self,
        code: str,
        severity: Severity,
        text: str,
        *,
        params: tuple[tuple[str, Param], ...] = (),
        item: str = "",
        line: tuple[Point, ...] = (),
        source: Citation | None = None,
        remedies: tuple[str, ...] = (),
    ) -> None:
        place = Place(room=self.surface.room, surface=self.surface.ref, item=item, line=line)
        self.said.append(
            Finding(
                code=code,
                severity=severity,
                text=text,
                params=params,
                place=place,
                source=source,
                remedies=remedies,
            )
        )

    def findings(self) -> tuple[Finding, ...]:
        """Everything there is to say, once the pieces are fixed."""
        for (role, case), marks in sorted(self.missing.items()):
            self.say(
                "RB401",
                Severity.WARNING,
                f"The practice pack has no spacing for fasteners of the role “{role}” ({case}) "
                f"on {self.surface.name}: none is set out there.",
                item=marks,
                remedies=(
                    "Choose another method or fastener.",
                    "Fasten there as the board's own document says.",
                ),
            )
        if self.steel_nails:
            self.say(
                "RB401",
                Severity.NOTE,
                f"Nails do not hold in steel: {self.surface.name} is set out with screws on its "
                "steel members.",
                remedies=("Choose screws.",),
            )
        if self.tight:
            mark, point, support = self.tight[0]
            self.say(
                "RB406",
                Severity.WARNING,
                f"On {self.surface.name}, fasteners stand nearer to the side of their framing than "
                f"{{least}} in this many lines: {{count}}; the first is piece {mark} on {support}.",
                params=(("count", len(self.tight)), ("least", self.timber_edge)),
                item=mark,
                line=(point,),
                source=self.practice.cite("timber_edge.min"),
                remedies=("Widen the fixing face with a batten beside it.",),
            )
        return tuple(self.said)

    # --- rows --------------------------------------------------------------------------

    def row(
        self, role: Role, frame: FrameKind, condition: str = "any", method: str = "", mark: str = ""
    ) -> FasteningRow | None:
        """Return the pack's row for a line; note the case where there is none."""
        method = method or self.method
        key = (role, frame, condition, method)
        if key not in self.rows:
            found = None
            for case in (*self.surface.special, ""):
                found = found or self.practice.fastening_row(
                    role,
                    thickness=self.board.thickness,
                    place=self.surface.place,
                    frame=frame,
                    method=method,
                    fastener=self.kind(frame),
                    support_centres=self.centres,
                    edge_condition=condition,
                    condition=case,
                )
            self.rows[key] = found
        row = self.rows[key]
        if row is None and mark:
            case = f"{method}, {self.kind(frame)}, {frame}"
            self.missing.setdefault((role, case), mark)
        return row

    def kind(self, frame: FrameKind) -> str:
        """Return the fastener for a frame: nails do not hold in steel."""
        if self.wanted is FastenerKind.NAIL and frame is FrameKind.STEEL:
            self.steel_nails = True
            return FastenerKind.SCREW.value
        return self.wanted.value

    def line_row(self, run: _Run, frame: FrameKind, mark: str) -> FasteningRow | None:
        """Return the row for a line along a side of a piece.

        The row for recessed edges often counts fasteners where members cross the edge; along
        a member such an edge is fastened like a sheet's end.
        """
        if run.role is Role.EDGE:
            row = self.row(Role.EDGE, frame, run.condition)
            if row is None or not row.max_spacing:
                return self.row(Role.END, frame, run.condition, mark=mark)
            return row
        return self.row(run.role, frame, run.condition, mark=mark)

    # --- one piece ---------------------------------------------------------------------

    def fix(self, piece: Piece) -> None:
        """Place everything that holds one piece."""
        named = piece_edges(piece)
        sides = [self._side(edge) for edge in named]
        behind = self._behind(piece, sides)
        kinds: dict[int, tuple[_Stretch, ...]] = {}
        self._along(piece, named, behind, kinds)
        fields = self._fields(piece, behind)
        spots: list[_Spot] = []
        self._fasten_sides(piece, behind, spots)
        self._fasten_fields(piece, fields, spots)
        spots.sort(key=lambda s: (s.support, s.x, s.v, s.u))
        supports = self.surface.supports
        self.fasteners.extend(
            Fastener(s.u, s.v, s.kind, s.role, piece.mark, supports[s.support].id) for s in spots
        )

    def _side(self, edge: PieceEdge) -> _Edge:
        """Return a side with the distance that fasteners keep from it."""
        need = EdgeNeed.ANY
        if edge.side is Side.LOW:
            need = edge.piece.low
        elif edge.side is Side.HIGH:
            need = edge.piece.high
        if need is EdgeNeed.RECESSED:
            return _Edge(*edge.a, *edge.b, self.keep, min(self.keep_min, self.keep))
        return _Edge(*edge.a, *edge.b, self.keep_cut, min(self.keep_cut_min, self.keep_cut))

    def _behind(self, piece: Piece, sides: Sequence[_Edge]) -> list[_Behind]:
        """Return the supports whose face overlaps a piece, in order."""
        u0, v0, u1, v1 = piece.region.bounds
        found: list[_Behind] = []
        for number, support, line in self.members:
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
            found.append(_Behind(number, support, line, _in_frame(line, sides)))
        return found

    def _stretches(self, edge: PieceEdge) -> tuple[_Stretch, ...]:
        """Say what every part of a piece's side is fixed as."""
        line = _Line.between(edge.a, edge.b)
        found: list[_Stretch] = []

        def add(a: Point, b: Point, role: Role | None, condition: str, furthest: float) -> None:
            (x0, y0), (x1, y1) = line.to_xy(a), line.to_xy(b)
            if abs(y0) <= 5 * TOLERANCE and abs(y1) <= 5 * TOLERANCE:
                p, q = max(min(x0, x1), 0.0), min(max(x0, x1), line.length)
                if q - p > TOLERANCE:
                    found.append(_Stretch(p, q, role, condition, furthest))

        for joint in self.joints.get(edge.piece.mark, ()):
            if joint.kind in {JointKind.RECESSED, JointKind.CUT_EDGE}:
                add(joint.a, joint.b, Role.EDGE, "any", self.edge_max)
            else:
                add(joint.a, joint.b, Role.BUTT, "any", self.edge_max)
        for side in self.surface.edges:
            if side.kind is EdgeKind.ANGLE:
                condition = FINISH.get(side.finish, "any")
                add(side.a, side.b, Role.END, condition, self.reach)
            elif side.kind is EdgeKind.CORNER:
                add(side.a, side.b, Role.CORNER, "any", self.edge_max)
            elif side.kind is EdgeKind.OPENING:
                role = None if side.other in self.unframed else Role.OPENING
                add(side.a, side.b, role, "any", self.edge_max)
            else:
                add(side.a, side.b, Role.END, "any", self.edge_max)
        rest = subtract_intervals((0.0, line.length), [(s.start, s.end) for s in found])
        found += [_Stretch(a, b, Role.END, "any", self.edge_max) for a, b in rest]
        return tuple(sorted(found, key=lambda s: (s.start, s.end)))

    def _along(
        self,
        piece: Piece,
        named: Sequence[PieceEdge],
        behind: Sequence[_Behind],
        kinds: dict[int, tuple[_Stretch, ...]],
    ) -> None:
        """Give every side of a piece that lies along supports its fixing lines."""
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
            lines = _clear(at.edges, wish.y, wish.edge, own_keep)
            lines = _within(lines, *self._ends(at.line))
            for start, end in free:
                low, high = sorted((edge.x0 + sign * start, edge.x0 + sign * end))
                role = wish.stretch.role
                if role is None:
                    continue
                at.taken.append((low, high))
                own = [iv for run in at.runs for iv in [(run.x0, run.x1)]]
                for a, b in _within(lines, low, high):
                    at.runs.extend(
                        _Run(p, q, wish.y, role, wish.stretch.condition, wish.edge, wish.tight)
                        for p, q in subtract_intervals((a, b), merge_intervals(own), HAIR)
                    )
                    if wish.tight:
                        point = at.line.to_uv((a + b) / 2, wish.y)
                        self.tight.append((piece.mark, point, at.support.id))

    def _ends(self, line: _Line) -> Interval:
        """Return where fasteners may stand along a support, clear of its ends."""
        if line.length <= 2 * self.timber_edge:
            return (line.length / 2, line.length / 2)
        return (self.timber_edge, line.length - self.timber_edge)

    def _wishes(
        self, named: Sequence[PieceEdge], at: _Behind, kinds: dict[int, tuple[_Stretch, ...]]
    ) -> Iterable[_Wish]:
        """Return the sides of a piece that a support could hold, and at what distance."""
        half = at.support.face / 2
        safe = max(half - self.timber_edge, 0.0)
        for i, (x0, y0, x1, y1, keep, least) in enumerate(at.edges):
            run = x1 - x0
            if abs(y1 - y0) > NEARLY_ALONG * abs(run):
                continue
            sign = 1.0 if run > 0 else -1.0
            worst = max(y0, y1) if sign > 0 else min(y0, y1)
            centre = -sign * worst  # how far inside the side the support's centre lies
            if centre < -half or centre - half > self.reach:
                continue
            if i not in kinds:
                kinds[i] = self._stretches(named[i])
            for stretch in kinds[i]:
                inside, tight = _inside(centre, half, safe, (least, keep, stretch.furthest))
                if inside <= 0:
                    continue
                if tight and stretch.role is Role.EDGE and at.number not in self.carrying:
                    continue  # members crossing the joint hold it; a sliver of nogging need not
                low = max(min(x0 + sign * stretch.start, x0 + sign * stretch.end), 0.0)
                high = min(max(x0 + sign * stretch.start, x0 + sign * stretch.end), at.line.length)
                if high - low <= TOLERANCE:
                    continue
                start, end = sorted((sign * (low - x0), sign * (high - x0)))
                y = 0.0 if inside == centre else worst + sign * inside
                rank = (tight, round(abs(inside - keep), 3), at.number)
                yield _Wish(rank, i, start, end, stretch, inside, y, tight)

    def _fields(self, piece: Piece, behind: Sequence[_Behind]) -> list[_Field]:
        """Return the runs of members crossing a piece, away from its sides."""
        lines = [
            (b.number, b.line, b.support.face / 2, r.x0, r.x1, r.y) for b in behind for r in b.runs
        ]
        found: list[_Field] = []
        for at in behind:
            if at.number not in self.carrying and not self._crosses(piece, at):
                continue
            crossing = _within(_clear(at.edges, 0.0), *self._ends(at.line))
            if not crossing:
                continue
            taken = list(at.taken)
            # A member beside one that already holds the board there needs nothing more.
            dx, dy = at.line.dx, at.line.dy
            for number, line, half, x0, x1, y in lines:
                if number == at.number or abs(line.dx * dy - line.dy * dx) > HAIR:
                    continue
                u, v = line.ax - y * line.dy - at.line.ax, line.ay + y * line.dx - at.line.ay
                if abs(v * dx - u * dy) < at.support.face / 2 + half - 1:
                    start, way = u * dx + v * dy, line.dx * dx + line.dy * dy
                    low, high = sorted((start + way * x0, start + way * x1))
                    taken.append((low - self.keep, high + self.keep))
            taken.sort()
            for whole in crossing:
                for x0, x1 in subtract_intervals(whole, taken, self.near):
                    anchored = any(abs(q - x0) <= 2 * self.keep_cut for _, q in at.taken)
                    run = _Run(x0, x1, 0.0, Role.FIELD, "any")
                    found.append(_Field(at, run, anchored, self._can_glue(piece, at)))
                    lines.append((at.number, at.line, at.support.face / 2, x0, x1, 0.0))
        return found

    def _can_glue(self, piece: Piece, at: _Behind) -> bool:
        """Tell whether daubs may hold a piece on a member: on ceilings, where it crosses."""
        if self.glue != "daub":
            return False
        return self.surface.place != "ceiling" or _square(piece, at.line)

    def _crosses(self, piece: Piece, at: _Behind) -> bool:
        """Tell whether timber to be added crosses a sheet, so that it carries its field."""
        return at.support.kind is SupportKind.TRIMMER and _square(piece, at.line)

    # --- fasteners ---------------------------------------------------------------------

    def _fasten_sides(self, piece: Piece, behind: Sequence[_Behind], spots: list[_Spot]) -> None:
        """Fasten the lines along the sides of a piece."""
        for at in behind:
            last: float | None = None
            for run in sorted(at.runs):
                row = self.line_row(run, at.support.frame, piece.mark)
                if row is None:
                    last = None
                    continue
                places = self._places(run, row, last)
                self._put(at, run, places, run.role, spots)
                last = places[-1] if places else last
                if self.glue == "bead":
                    self._bead(piece, at, run)

    def _places(self, run: _Run, row: FasteningRow, last: float | None = None) -> list[float]:
        """Return where fasteners stand along a run; one that goes on from another joins it."""
        least = row.per_support
        if last is not None and 0 <= run.x0 - last <= 2 * self.keep_cut:
            places = spread(last, run.x1, row.max_spacing, least)[1:]
            return [max(x, run.x0) for x in places]
        if run.x1 - run.x0 <= self.near:
            return [(run.x0 + run.x1) / 2] if row.max_spacing or least else []
        return spread(run.x0, run.x1, row.max_spacing, least)

    def _put(
        self, at: _Behind, run: _Run, places: Sequence[float], role: Role, spots: list[_Spot]
    ) -> None:
        """Write fasteners down, but none beside one that already holds that corner."""
        kind = self.kind(at.support.frame)
        ends = (places[0], places[-1]) if places else ()
        fresh: list[_Spot] = []
        for x in places:
            u, v = at.line.to_uv(x, run.y)
            if x in ends and self._beside(u, v, spots):
                continue
            fresh.append(_Spot(at.number, x, u, v, kind, role))
        spots.extend(fresh)

    def _beside(self, u: float, v: float, spots: Sequence[_Spot]) -> bool:
        """Tell whether a fastener stands so near to a place that another would break the board."""
        near = self.near - HAIR
        for spot in spots:
            if (
                abs(spot.u - u) < near
                and abs(spot.v - v) < near
                and math.hypot(spot.u - u, spot.v - v) < near
            ):
                return True
        return False

    def _bead(self, piece: Piece, at: _Behind, run: _Run) -> None:
        if run.x1 - run.x0 > self.near:
            a, b = at.line.to_uv(run.x0, run.y), at.line.to_uv(run.x1, run.y)
            self.beads.append(AdhesiveBead(a=a, b=b, piece=piece.mark, support=at.support.id))

    def _fasten_fields(self, piece: Piece, fields: list[_Field], spots: list[_Spot]) -> None:
        """Fasten and glue the members crossing a piece."""
        edges = list(spots)
        for one in fields:
            if not one.glued:
                self._fasten_field(piece, one, spots)
                if self.glue == "bead":
                    self._bead(piece, one.behind, one.run)
        if self.glue != "daub":
            return
        # A member that no daub may hold is fastened; those fasteners may bar daubs beside it,
        # so this goes round until nothing changes.
        glued = [f for f in fields if f.glued]
        while True:
            trial = list(spots)
            for one in glued:
                self._hold_glued(piece, one, trial, edges)
            failed = False
            for one in glued:
                one.daubs = self._daubs(one, trial)
                if not one.daubs:
                    one.glued, failed = False, True
                    self._fasten_field(piece, one, spots)
            glued = [f for f in glued if f.glued]
            if not failed:
                break
        spots[:] = trial
        self._temporary(glued, spots)
        for one in glued:
            at = one.behind
            self.daubs.extend(
                Daub(*at.line.to_uv(x, 0.0), piece.mark, at.support.id) for x in one.daubs
            )

    def _fasten_field(self, piece: Piece, one: _Field, spots: list[_Spot]) -> None:
        """Fasten a crossing member without relying on adhesive."""
        at, run = one.behind, one.run
        method = Method.FASTENERS if self.glue == "daub" else self.method
        row = self.row(Role.FIELD, at.support.frame, method=method, mark=piece.mark)
        if row is None:
            return
        last = run.x0 - HAIR if one.anchored else None
        places = self._places(run, row, last)
        half = row.pair_spacing / 2
        if half > 0 and len(places) > 2:
            inner = [x + k for x in places[1:-1] for k in (-half, half)]
            places = [places[0], *inner, places[-1]]
        self._put(at, run, places, Role.FIELD, spots)

    def _hold_glued(
        self, piece: Piece, one: _Field, spots: list[_Spot], edges: list[_Spot]
    ) -> None:
        """Fasten a glued member at the sheet's edges and, where the pack says so, its centre."""
        at, run = one.behind, one.run
        frame = at.support.frame
        row = self.row(Role.EDGE, frame, mark=piece.mark)
        if row is not None and row.per_support:
            places = [run.x1] if one.anchored else [run.x0, run.x1]
            kept = list(edges)
            before = len(kept)
            self._put(at, run, places, Role.EDGE, kept)
            spots.extend(kept[before:])
        ceiling = self.surface.place == "ceiling"
        centre = self.row(Role.CENTRE, frame, mark=piece.mark if ceiling else "")
        if centre is not None and centre.per_support:
            middle = self._middle(piece, one)
            half = (centre.pair_spacing or self.practice.mm("nail.pair")) / 2
            places = [middle] if centre.per_support == 1 else [middle - half, middle + half]
            kind = self.kind(frame)
            for x in places:
                if run.x0 <= x <= run.x1:
                    u, v = at.line.to_uv(x, run.y)
                    spots.append(_Spot(at.number, x, u, v, kind, Role.CENTRE))

    def _middle(self, piece: Piece, one: _Field) -> float:
        """Return where the sheet's centre line meets a member, or the middle of the run."""
        line, run = one.behind.line, one.run
        cos, sin = piece.frame.along
        climb = line.dy * cos - line.dx * sin
        start = (line.ay - piece.frame.origin[1]) * cos - (line.ax - piece.frame.origin[0]) * sin
        if abs(climb) > ACROSS:
            x = ((piece.blank[1] + piece.blank[3]) / 2 - start) / climb
            if run.x0 + self.near < x < run.x1 - self.near:
                return x
        return (run.x0 + run.x1) / 2

    # --- daubs -------------------------------------------------------------------------

    def _daubs(self, one: _Field, spots: Sequence[_Spot]) -> tuple[float, ...]:
        """Return where daubs hold a member, or nothing where they lawfully cannot."""
        barred = self._barred(one, spots)
        if self.surface.place == "ceiling":
            return self._ceiling_daubs(one, spots, barred)
        return self._wall_daubs(one, barred)

    def _barred(self, one: _Field, spots: Sequence[_Spot]) -> list[Interval]:
        """Return the stretches of a member too near to fasteners on other supports.

        Fasteners along the edges that the run ends at do not count: from those edges the
        first daub has a distance of its own.
        """
        clear = self.practice.mm("daub.fastener_clear")
        line, run = one.behind.line, one.run
        at_edge = 2 * self.keep_cut
        found: list[Interval] = []
        for s in spots:
            if s.support == one.behind.number:
                continue
            u, v = s.u - line.ax, s.v - line.ay
            y = v * line.dx - u * line.dy
            if abs(y) >= clear:
                continue
            x = u * line.dx + v * line.dy
            if run.x0 + at_edge < x < run.x1 - at_edge:
                reach = math.sqrt(clear * clear - y * y)
                found.append((x - reach, x + reach))
        found.sort()
        return found

    def _ceiling_daubs(
        self, one: _Field, spots: Sequence[_Spot], barred: Sequence[Interval]
    ) -> tuple[float, ...]:
        mm = self.practice.mm
        first, least, most = (
            mm("daub.ceiling_first"),
            mm("daub.ceiling_min"),
            mm("daub.ceiling_max"),
        )
        run = one.run
        low, high = run.x0 - self.keep + first, run.x1 + self.keep - first
        centre = [
            s.x
            for s in spots
            if s.support == one.behind.number and s.role is Role.CENTRE and run.x0 <= s.x <= run.x1
        ]
        halves: list[tuple[float, float, float]] = [(low, high, 1.0)]
        if centre:
            middle, clear = sum(centre) / len(centre), mm("daub.centre_clear")
            halves = [(low, middle - clear, 1.0), (middle + clear, high, -1.0)]
        found: list[float] = []
        for start, end, sign in halves:
            if end - start < -HAIR:
                return ()
            free = _free((start, end), barred)
            if not free:
                return ()
            for a, b in free:
                count = math.floor((b - a) / least + HAIR) + 1
                step = min(most, (b - a) / (count - 1)) if count > 1 else 0.0
                origin = a if sign > 0 else b
                found.extend(origin + sign * k * step for k in range(count))
        return tuple(sorted(found))

    def _wall_daubs(self, one: _Field, barred: Sequence[Interval]) -> tuple[float, ...]:
        mm = self.practice.mm
        clear, most, first = mm("daub.wall_edge_clear"), mm("daub.wall_max"), mm("daub.wall_first")
        at, run = one.behind, one.run
        edges = [edge._replace(keep=clear) for edge in at.edges]
        upward = at.line.dy > HAIR or (abs(at.line.dy) <= HAIR and at.line.dx > 0)
        low, high = run.x0, run.x1
        if upward:
            low = max(low, run.x0 - self.keep + first)
        else:
            high = min(high, run.x1 + self.keep - first)
        found: list[float] = []
        for whole in _within(_clear(edges, 0.0), low, high):
            for a, b in _free(whole, barred):
                if b - a <= most / 2:
                    found.append(a if upward else b)
                else:
                    found.extend(spread(a, b, most))
        found.sort()
        if any(q - p > most + TOLERANCE for p, q in pairwise(found)):
            return ()
        return tuple(found)

    def _temporary(self, glued: Sequence[_Field], spots: list[_Spot]) -> None:
        """Press glued wall sheets on with temporary fixings through offcut blocks."""
        key = "temp.every_stud"
        if self.surface.place == "ceiling" or not glued or not self.practice.has(key):
            return
        every = max(1, round(self.practice.mm(key)))
        chosen = glued[every - 1 :: every] or [glued[len(glued) // 2]]
        for one in chosen:
            at, run = one.behind, one.run
            middle = (run.x0 + run.x1) / 2
            marks = [run.x0, *one.daubs, run.x1]
            gaps = [(p + q) / 2 for p, q in pairwise(marks)]
            # Mid-sheet, but between daubs, never through one.
            x = min(gaps, key=lambda g: (round(abs(g - middle), 3), g))
            u, v = at.line.to_uv(x, 0.0)
            spots.append(_Spot(at.number, x, u, v, self.kind(at.support.frame), Role.TEMPORARY))


def _square(piece: Piece, line: _Line) -> bool:
    """Tell whether a line runs across a sheet rather than along it."""
    along = piece.frame.along
    return abs(along[0] * line.dy - along[1] * line.dx) > ACROSS


def _faces(surface: Surface) -> list[tuple[int, Support]]:
    """Return the supports that boards touch, numbered: not the members behind new battens."""
    numbered = list(enumerate(surface.supports))
    battens = [s for _, s in numbered if s.kind is SupportKind.BATTEN and not s.existing]
    if not battens:
        return numbered
    return [
        (n, s)
        for n, s in numbered
        if not s.existing or s.zone < 0 or not any(_cross(s, batten) for batten in battens)
    ]


def _cross(one: Support, two: Support) -> bool:
    """Tell whether two supports' faces cross."""
    line = _Line.between(two.a, two.b)
    (xa, ya), (xb, yb) = line.to_xy(one.a), line.to_xy(one.b)
    if abs(yb - ya) <= NEARLY_ALONG * abs(xb - xa) or min(ya, yb) > 0 or max(ya, yb) < 0:
        return False
    x = xa + (xb - xa) * -ya / (yb - ya)
    return -one.face <= x <= line.length + one.face


def _free(whole: Interval, barred: Sequence[Interval]) -> list[Interval]:
    """Return what is left of a stretch; a single place counts as a stretch."""
    if whole[1] - whole[0] > TOLERANCE:
        return list(subtract_intervals(whole, barred, HAIR))
    place = (whole[0] + whole[1]) / 2
    if any(p < place < q for p, q in barred):
        return []
    return [(place, place)]


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


# --- lengths of fasteners -------------------------------------------------------------------


def fastener_length(
    thickness: float, kind: str, frame: FrameKind, practice: Practice
) -> float | None:
    """Return the least length of a fastener: the board and what must go into the frame, mm.

    Args:
        thickness: Thickness of the board, of all layers, mm.
        kind: ``"screw"`` or ``"nail"``.
        frame: Timber or steel.
        practice: The pack.

    Returns:
        The length, or None where the pack states no penetration for the case.
    """
    key = f"{kind}.penetration_{frame.value}"
    return thickness + practice.mm(key) if practice.has(key) else None


def length_to_buy(needed: float, lengths: Iterable[float]) -> float | None:
    """Return the shortest length sold that is long enough, mm, or None."""
    return min((x for x in lengths if x >= needed - TOLERANCE), default=None)


def length_finding(
    needed: float, lengths: Iterable[float], kind: str, place: Place, source: Citation
) -> Finding | None:
    """Say that no fastener on sale is long enough, or return None where one is.

    Args:
        needed: Least length, mm.
        lengths: Lengths sold, mm.
        kind: ``"screw"`` or ``"nail"``.
        place: Where they are wanted.
        source: Where the penetration comes from.
    """
    sold = sorted(lengths)
    if length_to_buy(needed, sold) is not None:
        return None
    return Finding(
        code="RB404",
        severity=Severity.WARNING,
        text=f"A {kind} of at least {{needed}} is needed here and none so long is in stock.",
        params=(("needed", needed),),
        place=place,
        found=sold[-1] if sold else "none",
        required=needed,
        source=source,
        remedies=(f"Add a longer {kind} to the stock.",),
    )


# --- back-blocks ----------------------------------------------------------------------------


CLEARANCE = "backblock.clearance"
"""What is left free between a back-block and the member at each end of it."""


class _JointLine(NamedTuple):
    """Joints in one straight line, with the line's frame."""

    line: _Line
    parts: tuple[tuple[float, float, Joint, bool], ...]
    """Start and end along the line, the joint, and whether it runs the same way as the line."""

    @property
    def first(self) -> Joint:
        return self.parts[0][2]


class _Placed(NamedTuple):
    order: tuple[int, float]
    joint: Joint
    line: _JointLine
    box: tuple[float, float, float, float]
    """x from, y from, x to, y to in the line's frame."""


class _BackBlocks:
    """Places the back-blocks of one surface and their laminating screws."""

    def __init__(
        self,
        surface: Surface,
        set_out: SetOut,
        joints: Sequence[Joint],
        practice: Practice,
        first: int,
    ) -> None:
        self.surface, self.practice, self.first = surface, practice, first
        self.joints = joints
        self.order = {joint.id: i for i, joint in enumerate(joints)}
        self.pieces = {p.mark: p for p in set_out.pieces}
        self.loose = practice.mm(CLEARANCE) if practice.has(CLEARANCE) else 0.0
        self.blocks: list[BackBlock] = []
        self.screws: list[Fastener] = []
        self.findings: list[Finding] = []

    def place(self) -> None:
        """Place the blocks behind butts, then those behind recessed joints."""
        butts = [j for j in self.joints if j.kind is JointKind.BUTT_BACK_BLOCKED]
        recessed = self._recessed()
        placed: list[_Placed] = []
        for joint in butts:
            placed.extend(self._behind_butt(joint, recessed))
        behind_butts = [_corners(p) for p in placed]
        for line in recessed:
            placed.extend(self._behind_recessed(line, behind_butts))
        placed.sort(key=lambda p: p.order)
        for number, one in enumerate(placed, self.first):
            x0, y0, x1, y1 = one.box
            sizes = sorted((x1 - x0, y1 - y0))
            block = BackBlock(
                id=f"BB{number}",
                surface=self.surface.ref,
                joint=one.joint.id,
                corners=_corners(one),
                length=round(sizes[1], 6),
                width=round(sizes[0], 6),
            )
            self.blocks.append(block)
            self._laminate(one, block.id)
        if placed and not self.practice.has(CLEARANCE):
            self._say(
                "RB105",
                Severity.NOTE,
                f"The practice pack does not state {CLEARANCE}: the back-blocks of "
                f"{self.surface.name} are as long as their bays; cut them a little short.",
                (),
                CLEARANCE,
            )
        if butts:
            self._say(
                "RB403",
                Severity.NOTE,
                f"Butt joints between members on {self.surface.name}: {{count}}; each is "
                "back-blocked with board, loose between the members.",
                (("count", len(butts)),),
                "backblock.width_butt",
            )

    def _say(
        self,
        code: str,
        severity: Severity,
        text: str,
        params: tuple[tuple[str, Param], ...],
        key: str,
    ) -> None:
        self.findings.append(
            Finding(
                code=code,
                severity=severity,
                text=text,
                params=params,
                place=Place(room=self.surface.room, surface=self.surface.ref),
                source=self.practice.cite(key) if self.practice.has(key) else None,
            )
        )

    def _recessed(self) -> list[_JointLine]:
        """Return the lines of recessed joints that are to be back-blocked."""
        if self.surface.place != "ceiling":
            return []
        grouped: dict[tuple[float, float, float], list[Joint]] = {}
        for joint in self.joints:
            if joint.kind is JointKind.RECESSED and joint.length > TOLERANCE:
                grouped.setdefault(_line_key(joint), []).append(joint)
        lines = [self._joint_line(grouped[key]) for key in sorted(grouped)]
        asked = [line for line in lines if any(part[2].back_blocked for part in line.parts)]
        word = self.practice.word("backblock.recessed")
        key = "backblock.recessed_count"
        level = "backblock.recessed_level"
        low = self.practice.has(level) and self.surface.finish_level < self.practice.mm(level)
        if word == "no" or low or len(lines) < self.practice.mm(key):
            return asked
        severity = Severity.WARNING if word == "ask" else Severity.NOTE
        self._say(
            "RB402",
            severity,
            f"{self.surface.name} has {{count}} lines of recessed joints, {{least}} or more: "
            + (
                "back-blocks are set out behind them; confirm that they are wanted."
                if word == "ask"
                else "back-blocks are set out behind them."
            ),
            (("count", len(lines)), ("least", round(self.practice.mm(key)))),
            key,
        )
        return lines

    def _joint_line(self, joints: Sequence[Joint]) -> _JointLine:
        first = min(joints, key=lambda j: min(j.a, j.b))
        start, end = sorted((first.a, first.b))
        line = _Line.between(start, end)
        parts = []
        for joint in joints:
            a, b = line.to_xy(joint.a)[0], line.to_xy(joint.b)[0]
            parts.append((min(a, b), max(a, b), joint, b > a))
        parts.sort(key=lambda p: (p[0], p[1], p[2].id))
        return _JointLine(line, tuple(parts))

    def _members(self, line: _Line, half: float) -> list[Interval]:
        """Return the stretches of a line whose strip of ``half`` to each side is taken up."""
        found: list[Interval] = []
        for _, support in _faces(self.surface):
            (xa, ya), (xb, yb) = line.to_xy(support.a), line.to_xy(support.b)
            face = support.face / 2
            if abs(yb - ya) <= NEARLY_ALONG * abs(xb - xa):
                if min(abs(ya), abs(yb)) < half + face - HAIR:
                    found.append((min(xa, xb), max(xa, xb)))
                continue
            low, high = sorted((ya, yb))
            if high <= -half or low >= half:
                continue
            length = math.hypot(xb - xa, yb - ya)
            xs = [xa + (y - ya) / (yb - ya) * (xb - xa) for y in (max(low, -half), min(high, half))]
            out = face * length / (high - low)
            found.append((min(xs) - out, max(xs) + out))
        return sorted(found)

    def _room(self, line: _Line, low: float, high: float) -> Interval:
        """Clip a stretch of a line to the lined face."""
        sides = [_Edge(*a, *b, 0.0, 0.0) for a, b in self.surface.outline.segments]
        # A hair beside the line, for lines along a side.
        for y in (0.0, 1.0, -1.0):
            for a, b in _clear(_in_frame(line, sides), y):
                if a < (low + high) / 2 < b:
                    return (max(low, a), min(high, b))
        return (low, high)

    def _behind_recessed(
        self, joints: _JointLine, taken: Sequence[tuple[Point, Point, Point, Point]]
    ) -> list[_Placed]:
        line = joints.line
        half = self.practice.mm("backblock.width_recessed") / 2
        beyond = self.practice.mm("backblock.beyond")
        used = self._members(line, half)
        for corners in taken:
            points = [line.to_xy(p) for p in corners]
            xs, ys = [p[0] for p in points], [p[1] for p in points]
            if min(ys) < half and max(ys) > -half:
                used.append((min(xs), max(xs)))
        used.sort()
        found: list[_Placed] = []
        for low, high in merge_intervals([(p[0], p[1]) for p in joints.parts]):
            whole = self._room(line, low - beyond, high + beyond)
            for a, b in subtract_intervals(whole, used):
                x0, x1 = a + self.loose, b - self.loose
                if x1 - x0 < beyond:
                    continue
                best = max(
                    joints.parts,
                    key=lambda p: (min(p[1], x1) - max(p[0], x0), -self.order[p[2].id]),
                )
                order = (self.order[best[2].id], x0)
                found.append(_Placed(order, best[2], joints, (x0, -half, x1, half)))
        return found

    def _behind_butt(self, joint: Joint, recessed: Sequence[_JointLine]) -> list[_Placed]:
        joints = self._joint_line([joint])
        line = joints.line
        width = self.practice.mm("backblock.width_butt")
        low, high = self._bay(line, width / 2)
        beyond = self.practice.mm("backblock.beyond")
        if recessed:
            # Where it meets a back-blocked joint it backs that joint too.
            beyond = max(beyond, self.practice.mm("backblock.width_recessed") / 2)
        whole = self._room(line, -beyond, line.length + beyond)
        used = self._members(line, min(-low, high))
        order = self.order[joint.id]
        return [
            _Placed((order, a), joint, joints, (a + self.loose, low, b - self.loose, high))
            for a, b in subtract_intervals(whole, used)
            if b - a - 2 * self.loose > TOLERANCE
        ]

    def _bay(self, line: _Line, half: float) -> Interval:
        """Return how far a block behind a butt reaches to either side: the whole bay.

        Where there is no member on a side, it reaches half the pack's width there.
        """
        low, high = -math.inf, math.inf
        for _, support in _faces(self.surface):
            (xa, ya), (xb, yb) = line.to_xy(support.a), line.to_xy(support.b)
            if abs(yb - ya) > NEARLY_ALONG * abs(xb - xa):
                continue
            if max(xa, xb) <= 0 or min(xa, xb) >= line.length:
                continue
            face = support.face / 2
            if max(ya, yb) < 0:
                low = max(low, max(ya, yb) + face)
            elif min(ya, yb) > 0:
                high = min(high, min(ya, yb) - face)
        middle = line.to_uv(line.length / 2, 0.0)
        across = _Line(middle[0], middle[1], -line.dy, line.dx, 0.0)
        if math.isinf(low):
            low = self._room(across, -half - self.loose, HAIR)[0]
        if math.isinf(high):
            high = self._room(across, -HAIR, half + self.loose)[1]
        return (min(low + self.loose, 0.0), max(high - self.loose, 0.0))

    def _laminate(self, one: _Placed, block: str) -> None:
        """Screw both pieces of a joint to the block behind it."""
        mm = self.practice.mm
        keep = max(
            min(max(mm("edge.set"), mm("laminating.edge_min")), mm("laminating.edge_max")), 0.0
        )
        x0, y0, x1, y1 = one.box
        for start, end, joint, forward in one.line.parts:
            low, high = max(start, x0) + keep, min(end, x1) - keep
            if high < low:
                continue
            places = spread(low, high, mm("laminating.spacing"))
            for side in (1.0, -1.0):
                mark = joint.pieces[0 if (side > 0) is forward else 1]
                piece = self.pieces.get(mark)
                if piece is None or not y0 <= side * keep <= y1:
                    continue
                for x in places:
                    point = one.line.line.to_uv(x, side * keep)
                    if piece.region.contains(point, keep - TOLERANCE):
                        self.screws.append(
                            Fastener(*point, "laminating_screw", Role.LAMINATING, mark, block)
                        )


def _corners(one: _Placed) -> tuple[Point, Point, Point, Point]:
    x0, y0, x1, y1 = one.box
    line = one.line.line
    return (line.to_uv(x0, y0), line.to_uv(x1, y0), line.to_uv(x1, y1), line.to_uv(x0, y1))


def _line_key(joint: Joint) -> tuple[float, float, float]:
    """Return the same key for joints in one straight line."""
    a, b = sorted((snap_point(joint.a), snap_point(joint.b)))
    line = _Line.between(a, b)
    return (
        round(line.dx, 4) + 0.0,
        round(line.dy, 4) + 0.0,
        round(a[1] * line.dx - a[0] * line.dy),
    )


# --- packers --------------------------------------------------------------------------------


def packers(
    surface: Surface, set_out: SetOut, practice: Practice, gap: float
) -> tuple[Packer, ...]:
    """Place the packers that hold bottom sheets off the floor: two under each at least.

    They stand under the first and last stud of each bottom edge; where the pack states
    ``packer.max_spacing``, under studs between them too.

    Args:
        surface: The surface; without an edge at the floor it has none.
        set_out: Its pieces.
        practice: The pack.
        gap: Gap between the board and the floor, mm.
    """
    floors = [_Line.between(e.a, e.b) for e in surface.edges if e.kind is EdgeKind.FLOOR]
    if gap <= TOLERANCE or not floors:
        return ()
    key = "packer.max_spacing"
    spacing = practice.mm(key) if practice.has(key) else 0.0
    found: set[float] = set()
    for piece in set_out.pieces:
        feet: list[Interval] = []
        for a, b in piece.region.segments:
            for floor in floors:
                (x0, y0), (x1, y1) = floor.to_xy(a), floor.to_xy(b)
                level = max(abs(y0), abs(y1)) <= gap + TOLERANCE
                if level and min(max(x0, x1), floor.length) - max(min(x0, x1), 0.0) > TOLERANCE:
                    feet.append((min(a[0], b[0]), max(a[0], b[0])))
                    break
        for low, high in feet:
            found.update(_under(surface, low, high, spacing, alone=len(feet) == 1))
    return tuple(Packer(surface=surface.ref, u=u, height=gap) for u in sorted(found))


def _under(
    surface: Surface, low: float, high: float, spacing: float, *, alone: bool
) -> list[float]:
    """Return where packers stand under one bottom edge.

    Args:
        surface: The surface.
        low: Left end of the edge, mm.
        high: Right end, mm.
        spacing: Greatest distance apart, mm; 0 for the two ends only.
        alone: Whether it is the piece's only bottom edge, which then needs two.
    """
    studs = sorted(
        {
            min(max(round((s.a[0] + s.b[0]) / 2, 6), low), high)
            for s in surface.supports
            if s.kind in {SupportKind.STUD, SupportKind.JAMB}
            and s.a[0] + s.face / 2 > low
            and s.a[0] - s.face / 2 < high
        }
    )
    if len(studs) >= 2 and (not alone or studs[-1] - studs[0] > (high - low) / 2):
        chosen = [studs[0]]
        for here, after in pairwise(studs[1:]):
            if spacing > 0 and after - chosen[-1] > spacing + TOLERANCE:
                chosen.append(here)
        return [*chosen, studs[-1]]
    if studs and not alone:
        return [studs[0]]
    # Too few studs stand over it: a quarter in from each end it still lies level.
    quarter = (high - low) / 4
    return [round(low + quarter, 6), round(high - quarter, 6)]
