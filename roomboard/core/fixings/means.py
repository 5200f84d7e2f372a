"""The means of holding one surface: which fastener, whether glued, how close by the pack's rows."""

from __future__ import annotations

from collections.abc import Sequence

from roomboard.core.findings import Finding, Param, Place, Severity
from roomboard.core.fixings.members import runs_across
from roomboard.core.fixings.runs import Behind, Run
from roomboard.core.fixings.values import Role
from roomboard.core.plane import Point
from roomboard.core.practice import Citation, FasteningRow, Practice
from roomboard.core.project import Choices, FastenerKind, FrameKind, Method
from roomboard.core.sheeting import Piece
from roomboard.core.stock import Board
from roomboard.core.surface import Surface

NO_GLUE = ("fire", "bracing", "tiled")
"""Special linings that are never glued."""


Tight = tuple[str, Point, str]
"""Piece, place and support of a line nearer to the side of the timber than the pack asks."""


class Means:
    """Knows what one surface is held with, and what is to be said about it.

    Attributes:
        surface: The surface.
        practice: The pack.
        glue: ``"daub"``, ``"bead"`` or not at all.
        method: The pack's word for how the boards are held.
    """

    def __init__(
        self, surface: Surface, board: Board, choices: Choices, practice: Practice
    ) -> None:
        self.surface, self.board, self.practice = surface, board, practice
        self.wanted = choices.fastener
        self.centres = max((z.centres for z in surface.zones), default=0.0)
        self.rows: dict[tuple[Role, FrameKind, str, str], FasteningRow | None] = {}
        self.missing: dict[tuple[str, str], str] = {}
        self.steel_nails = False
        self.said: list[Finding] = []
        self.glue = self._glue(choices.method)
        self.method = Method.ADHESIVE if self.glue else Method.FASTENERS

    def _glue(self, method: Method) -> str:
        """Say how the boards are glued: ``"daub"``, ``"bead"`` or not at all."""
        if method is not Method.ADHESIVE:
            return ""
        barred = [kind for kind in self.surface.special if kind in NO_GLUE]
        if barred:
            key = f"adhesive.{barred[0]}"
            self._say(
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
        self._say(
            "RB405",
            Severity.NOTE,
            f"The practice pack states no adhesive method for {self.surface.name}: it is "
            "fastened only.",
            source=self.practice.cite("daub.used") if self.practice.has("daub.used") else None,
        )
        return ""

    def can_glue(self, piece: Piece, at: Behind) -> bool:
        """Tell whether daubs may hold a piece on a member: on ceilings, where it crosses."""
        if self.glue != "daub":
            return False
        return self.surface.place != "ceiling" or runs_across(piece, at.line)

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

    def line_row(self, run: Run, frame: FrameKind, mark: str) -> FasteningRow | None:
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

    def findings(self, tight: Sequence[Tight]) -> tuple[Finding, ...]:
        """Return everything there is to say, once the pieces are fixed.

        Args:
            tight: Lines nearer to the side of their timber than the pack asks.
        """
        for (role, case), marks in sorted(self.missing.items()):
            self._say(
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
            self._say(
                "RB401",
                Severity.NOTE,
                f"Nails do not hold in steel: {self.surface.name} is set out with screws on its "
                "steel members.",
                remedies=("Choose screws.",),
            )
        if tight:
            mark, point, support = tight[0]
            self._say(
                "RB406",
                Severity.WARNING,
                f"On {self.surface.name}, fasteners stand nearer to the side of their framing than "
                f"{{least}} in this many lines: {{count}}; the first is piece {mark} on {support}.",
                params=(("count", len(tight)), ("least", self.practice.mm("timber_edge.min"))),
                item=mark,
                line=(point,),
                source=self.practice.cite("timber_edge.min"),
                remedies=("Widen the fixing face with a batten beside it.",),
            )
        return tuple(self.said)

    def _say(
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
