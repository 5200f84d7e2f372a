"""Joints: what every line between two pieces is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.control_joints import lies_on_control
from roomboard.core.plane import TOLERANCE, distance, distance_to_segment, snap, snap_point
from roomboard.core.sheeting import EdgeNeed, StopKind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from roomboard.core.plane import Point
    from roomboard.core.sheeting import Piece, SetOut
    from roomboard.core.surface import Surface


class JointKind(StrEnum):
    """What a joint is made of."""

    RECESSED = "recessed"
    BUTT_FRAMED = "butt_framed"
    BUTT_BACK_BLOCKED = "butt_back_blocked"
    BUTT_UNBACKED = "butt_unbacked"
    END_TO_RECESS = "end_to_recess"
    CUT_EDGE = "cut_edge"
    """A cut edge meets a recessed or cut edge."""
    CONTROL = "control"

    @property
    def is_butt(self) -> bool:
        """Whether two ends meet."""
        return self in {
            JointKind.BUTT_FRAMED,
            JointKind.BUTT_BACK_BLOCKED,
            JointKind.BUTT_UNBACKED,
        }


JOINT_WORDS: dict[str, str] = {
    JointKind.RECESSED: "recessed joint",
    JointKind.BUTT_FRAMED: "butt joint on framing",
    JointKind.BUTT_BACK_BLOCKED: "back-blocked butt joint",
    JointKind.BUTT_UNBACKED: "butt joint with nothing behind it",
    JointKind.END_TO_RECESS: "end against a recessed edge",
    JointKind.CUT_EDGE: "joint with a cut edge",
    JointKind.CONTROL: "control joint",
}
"""What each kind of joint is called, wherever it is named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A line where two pieces of one surface meet.

    Attributes:
        id: ``"C-J3"``: surface code and number, stable for a given set-out.
        surface: Surface ref.
        kind: What it is.
        a: Start in (u, v), mm.
        b: End in (u, v), mm.
        pieces: Marks of the pieces on its left and right, seen from a to b.
        support: Id of the support or trimmer behind it, or empty.
        back_blocked: Whether back-blocks stand behind it.
    """

    id: str
    surface: str
    kind: JointKind
    a: Point
    b: Point
    pieces: tuple[str, str]
    support: str = ""
    back_blocked: bool = False

    @property
    def length(self) -> float:
        """Length, mm."""
        return distance(self.a, self.b)


class Side(StrEnum):
    """What one side of a piece is."""

    LOW = "low"
    HIGH = "high"
    END = "end"
    NOTCH = "notch"
    """Along the sheet but inside the blank: always a cut edge."""


class PieceEdge(NamedTuple):
    """One side of a piece's outline.

    Attributes:
        piece: The piece.
        side: Which side of its blank it lies on.
        a: Start in (u, v), the piece on the left, mm.
        b: End.
    """

    piece: Piece
    side: Side
    a: Point
    b: Point


def piece_edges(piece: Piece) -> tuple[PieceEdge, ...]:
    """Return every side of a piece's outline and cut-outs, named."""
    _, t0, _, t1 = piece.blank
    found: list[PieceEdge] = []
    for a, b in piece.region.segments:
        p, q = piece.frame.to_st(a), piece.frame.to_st(b)
        if abs(p[1] - q[1]) <= TOLERANCE:
            if abs(p[1] - t0) <= TOLERANCE:
                side = Side.LOW
            elif abs(p[1] - t1) <= TOLERANCE:
                side = Side.HIGH
            else:
                side = Side.NOTCH
        elif abs(p[0] - q[0]) <= TOLERANCE:
            side = Side.END
        else:
            side = Side.NOTCH
        found.append(PieceEdge(piece, side, a, b))
    return tuple(found)


def shared_lines(
    edges: Sequence[PieceEdge],
) -> tuple[tuple[PieceEdge, PieceEdge, Point, Point], ...]:
    """Return where sides of two pieces lie against each other.

    Returns:
        The side on the left, the side on the right, and the stretch they share, in order.
    """
    lines: dict[tuple[float, float, float], tuple[list[_Span], list[_Span]]] = {}
    for edge in edges:
        length = distance(edge.a, edge.b)
        if length <= TOLERANCE:
            continue
        dx, dy = (edge.b[0] - edge.a[0]) / length, (edge.b[1] - edge.a[1]) / length
        # Told by the direction as it is compared: two sides that lie against each other up to a
        # hair must not both run forward.
        forward = round(dx, 5) > 0 or (round(dx, 5) == 0 and dy > 0)
        if not forward:
            dx, dy = -dx, -dy
        offset = edge.a[1] * dx - edge.a[0] * dy
        key = (round(dx, 5) + 0.0, round(dy, 5) + 0.0, round(offset, 1) + 0.0)
        p = edge.a[0] * dx + edge.a[1] * dy
        q = edge.b[0] * dx + edge.b[1] * dy
        span = _Span(min(p, q), max(p, q), dx, dy, offset, edge)
        lines.setdefault(key, ([], []))[0 if forward else 1].append(span)
    # An offset that rounds up on one side and down on the other still is one line.
    for key in list(lines):
        other = (key[0], key[1], round(key[2] + 0.1, 1) + 0.0)
        if other in lines and other != key:
            here, beside = lines[key], lines[other]
            if (here[0] and beside[1]) or (here[1] and beside[0]):
                lines[key] = (here[0] + beside[0], here[1] + beside[1])
                lines[other] = ([], [])
    found: list[tuple[PieceEdge, PieceEdge, Point, Point]] = []
    for lefts, rights in lines.values():
        for one in lefts:
            for two in rights:
                a, b = max(one.a, two.a), min(one.b, two.b)
                if b - a <= 1 or abs(one.offset - two.offset) > 5 * TOLERANCE:
                    continue
                if one.edge.piece is two.edge.piece:  # a slit in a piece is no joint
                    continue
                start = (a * one.dx - one.offset * one.dy, a * one.dy + one.offset * one.dx)
                end = (b * one.dx - one.offset * one.dy, b * one.dy + one.offset * one.dx)
                found.append((one.edge, two.edge, snap_point(start), snap_point(end)))
    found.sort(key=lambda f: (f[0].piece.mark, f[1].piece.mark, f[2], f[3]))
    return tuple(found)


class _Span(NamedTuple):
    a: float
    b: float
    dx: float
    dy: float
    offset: float
    edge: PieceEdge


def _is_recessed(
    edge: PieceEdge,
    actual: Mapping[str, tuple[str, str]] | None,
    widths: Mapping[tuple[int, int], float],
) -> bool:
    """Tell whether a long side is a recessed edge: from the cut plan, or before it, from need."""
    piece = edge.piece
    if edge.side in {Side.NOTCH, Side.END}:
        return False
    if actual is not None and piece.id in actual:
        return actual[piece.id][0 if edge.side is Side.LOW else 1] == "recessed"
    need = piece.low if edge.side is Side.LOW else piece.high
    if need is EdgeNeed.RECESSED:
        return True
    whole = abs(widths.get((piece.field, piece.course), 0.0) - piece.width) <= TOLERANCE
    return need is EdgeNeed.ANY and whole


def name_joints(
    surface: Surface,
    set_out: SetOut,
    actual: Mapping[str, tuple[str, str]] | None = None,
    timber: Sequence[tuple[str, Point, Point]] = (),
) -> tuple[Joint, ...]:
    """Name every line between two pieces of a surface.

    Args:
        surface: The surface.
        set_out: Its pieces and butts.
        actual: What each piece's low and high edge became when cut, by piece id; before the
            cut plan, None.
        timber: Tag and line of each two-sided timber that is to be added; a butt joint on it
            is framed.
    """
    edges = [e for piece in set_out.pieces for e in piece_edges(piece)]
    widths = {(c.field, c.number): c.sheet_width for c in set_out.courses}
    found: list[Joint] = []
    for one, two, a, b in shared_lines(edges):
        kind = JointKind.CUT_EDGE
        support, blocked = "", False
        if lies_on_control(surface, a, b):
            kind, support = JointKind.CONTROL, _member_at(surface, a, b)
        elif one.side is Side.END and two.side is Side.END:
            kind, support = _butt(one, a, set_out)
            blocked = kind is JointKind.BUTT_BACK_BLOCKED
            if kind is JointKind.BUTT_UNBACKED:
                for tag, p, q in timber:
                    if max(distance_to_segment(a, p, q), distance_to_segment(b, p, q)) <= 1:
                        kind, support = JointKind.BUTT_FRAMED, tag
                        break
        else:
            first = one.side is not Side.END and _is_recessed(one, actual, widths)
            second = two.side is not Side.END and _is_recessed(two, actual, widths)
            if first and second:
                kind = JointKind.RECESSED
            elif Side.END in {one.side, two.side} and (first or second):
                kind = JointKind.END_TO_RECESS
        found.append(
            Joint(
                id=f"{surface.code}-J{len(found) + 1}",
                surface=surface.ref,
                kind=kind,
                a=a,
                b=b,
                pieces=(one.piece.mark, two.piece.mark),
                support=support,
                back_blocked=blocked,
            )
        )
    return tuple(found)


def _member_at(surface: Surface, a: Point, b: Point) -> str:
    """Return the member whose face a line lies on from end to end, or nothing."""
    for support in surface.supports:
        reach = support.face / 2 + TOLERANCE
        if all(distance_to_segment(p, support.a, support.b) <= reach for p in (a, b)):
            return support.id
    return ""


BUTT = {
    StopKind.FRAMED: JointKind.BUTT_FRAMED,
    StopKind.BACK_BLOCKED: JointKind.BUTT_BACK_BLOCKED,
    StopKind.UNBACKED: JointKind.BUTT_UNBACKED,
}


def _butt(edge: PieceEdge, at: Point, set_out: SetOut) -> tuple[JointKind, str]:
    """Find the butt that the set-out put here."""
    s = snap(edge.piece.frame.to_st(at)[0])
    for butt in set_out.butts:
        if (
            butt.field == edge.piece.field
            and butt.course == edge.piece.course
            and abs(butt.s - s) <= 2 * TOLERANCE
        ):
            return BUTT[butt.kind], butt.support
    return JointKind.BUTT_UNBACKED, ""
