"""Back-blocks behind joints, and the screws that laminate the pieces to them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from roomboard.core.findings import Finding, Param, Place, Severity
from roomboard.core.fixings.lines import (
    HAIR,
    NEARLY_ALONG,
    Edge,
    Line,
    clear_stretches,
    in_frame,
    spread,
)
from roomboard.core.fixings.members import faces
from roomboard.core.fixings.values import BackBlock, Fastener, Role
from roomboard.core.joints import Joint, JointKind
from roomboard.core.plane import (
    TOLERANCE,
    Interval,
    Point,
    merge_intervals,
    snap_point,
    subtract_intervals,
)
from roomboard.core.practice import Practice
from roomboard.core.sheeting import SetOut
from roomboard.core.surface import Surface

CLEARANCE = "backblock.clearance"
"""What is left free between a back-block and the member at each end of it."""


class _JointLine(NamedTuple):
    """Joints in one straight line, with the line's frame."""

    line: Line
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


class BackBlocks:
    """Places the back-blocks of one surface and their laminating screws.

    A block larger than any sheet it could be cut from is set out as several, side by side.
    """

    def __init__(
        self,
        surface: Surface,
        set_out: SetOut,
        joints: Sequence[Joint],
        practice: Practice,
        first: int,
        sheets: Sequence[tuple[float, float]] = (),
    ) -> None:
        self.surface, self.practice, self.first = surface, practice, first
        self.sheets = sheets
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
        placed = [part for one in placed for part in self._in_lengths(one)]
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

    def _in_lengths(self, one: _Placed) -> list[_Placed]:
        """Part a block into equal ones that sheets yield; each hangs loose from the next.

        Every part still bridges the joint; where even the longest sheet is shorter than the bay
        beside a butt is wide, the block does not reach from member to member.
        """
        x0, y0, x1, y1 = one.box
        best: tuple[int, float, float] | None = None
        for long, wide in self.sheets:
            across = min(y1 - y0, long)
            most = long if across <= wide + TOLERANCE else wide
            count = max(1, math.ceil((x1 - x0 + self.loose - TOLERANCE) / (most + self.loose)))
            rank = (count, y1 - y0 - across, across)
            best = rank if best is None else min(best, rank)
        if best is None or best[:2] == (1, 0.0):
            return [one]
        count, less, across = best
        low = min(max(y0, -across / 2), max(y1 - across, y0)) if less else y0
        each = (x1 - x0 - (count - 1) * self.loose) / count
        starts = [x0 + n * (each + self.loose) for n in range(count)]
        return [
            one._replace(order=(one.order[0], a), box=(a, low, a + each, low + across))
            for a in starts
        ]

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
        if self.surface.place != "ceiling" or self.surface.layer > 1:
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
        line = Line.between(start, end)
        parts = []
        for joint in joints:
            a, b = line.to_xy(joint.a)[0], line.to_xy(joint.b)[0]
            parts.append((min(a, b), max(a, b), joint, b > a))
        parts.sort(key=lambda p: (p[0], p[1], p[2].id))
        return _JointLine(line, tuple(parts))

    def _members(self, line: Line, half: float) -> list[Interval]:
        """Return the stretches of a line whose strip of ``half`` to each side is taken up."""
        found: list[Interval] = []
        for _, support in faces(self.surface):
            (xa, ya), (xb, yb) = line.to_xy(support.a), line.to_xy(support.b)
            face = support.face / 2
            if abs(yb - ya) <= NEARLY_ALONG * abs(xb - xa):
                if min(abs(ya), abs(yb)) < half + face - HAIR:
                    found.append((min(xa, xb), max(xa, xb)))
                continue
            if min(ya, yb) - face >= half or max(ya, yb) + face <= -half:
                continue
            taken = _reach_in_strip(_strip((xa, ya), (xb, yb), face), half)
            if taken is not None:
                found.append(taken)
        return sorted(found)

    def _rims(self, line: Line, low: float, high: float) -> list[Interval]:
        """Return the stretches of a line where a side of the face runs through a strip beside it.

        A block there would stand in a wall or over a hole.
        """
        found: list[Interval] = []
        for a, b in self.surface.region.segments:
            (xa, ya), (xb, yb) = line.to_xy(a), line.to_xy(b)
            if max(ya, yb) <= low + HAIR or min(ya, yb) >= high - HAIR:
                continue
            if abs(yb - ya) <= HAIR:
                found.append((min(xa, xb), max(xa, xb)))
                continue
            inside = (max(low, min(ya, yb)), min(high, max(ya, yb)))
            xs = [xa + (y - ya) / (yb - ya) * (xb - xa) for y in inside]
            found.append((min(xs), max(xs)))
        return found

    def _room(self, line: Line, low: float, high: float) -> Interval:
        """Clip a stretch of a line to the lined face."""
        sides = [Edge(*a, *b, 0.0, 0.0) for a, b in self.surface.region.segments]
        # A hair beside the line, for lines along a side.
        for y in (0.0, 1.0, -1.0):
            for a, b in clear_stretches(in_frame(line, sides), y):
                if a < (low + high) / 2 < b:
                    return (max(low, a), min(high, b))
        return (low, high)

    def _behind_recessed(
        self, joints: _JointLine, taken: Sequence[tuple[Point, Point, Point, Point]]
    ) -> list[_Placed]:
        line = joints.line
        half = self.practice.mm("backblock.width_recessed") / 2
        beyond = self.practice.mm("backblock.beyond")
        used = self._members(line, half) + self._rims(line, -half, half)
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
        used = sorted(self._members(line, min(-low, high)) + self._rims(line, low, high))
        order = self.order[joint.id]
        return [
            _Placed((order, a), joint, joints, (a + self.loose, low, b - self.loose, high))
            for a, b in subtract_intervals(whole, used)
            if b - a - 2 * self.loose > TOLERANCE
        ]

    def _bay(self, line: Line, half: float) -> Interval:
        """Return how far a block behind a butt reaches to either side: the whole bay.

        Where there is no member on a side, it reaches half the pack's width there.
        """
        low, high = -math.inf, math.inf
        for _, support in faces(self.surface):
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
        across = Line(middle[0], middle[1], -line.dy, line.dx, 0.0)
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


def _strip(a: Point, b: Point, half: float) -> tuple[Point, Point, Point, Point]:
    """Return the corners of a member: a strip from a to b, ``half`` wide to each side."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    nx, ny = -(b[1] - a[1]) / length * half, (b[0] - a[0]) / length * half
    return (
        (a[0] + nx, a[1] + ny),
        (a[0] - nx, a[1] - ny),
        (b[0] - nx, b[1] - ny),
        (b[0] + nx, b[1] + ny),
    )


def _reach_in_strip(corners: Sequence[Point], half: float) -> Interval | None:
    """Return how far a shape reaches along x between ``y = -half`` and ``half``, or None."""
    xs = [x for x, y in corners if -half < y < half]
    for (x0, y0), (x1, y1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        xs += [x0 + (y - y0) / (y1 - y0) * (x1 - x0) for y in (-half, half) if (y0 > y) != (y1 > y)]
    return (min(xs), max(xs)) if xs and max(xs) - min(xs) > HAIR else None


def _corners(one: _Placed) -> tuple[Point, Point, Point, Point]:
    x0, y0, x1, y1 = one.box
    line = one.line.line
    return (line.to_uv(x0, y0), line.to_uv(x1, y0), line.to_uv(x1, y1), line.to_uv(x0, y1))


def _line_key(joint: Joint) -> tuple[float, float, float]:
    """Return the same key for joints in one straight line."""
    a, b = sorted((snap_point(joint.a), snap_point(joint.b)))
    line = Line.between(a, b)
    return (
        round(line.dx, 4) + 0.0,
        round(line.dy, 4) + 0.0,
        round(a[1] * line.dx - a[0] * line.dy),
    )
