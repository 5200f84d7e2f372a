"""Fields: the runs of members crossing a piece, away from its sides."""

from __future__ import annotations

from collections.abc import Sequence

from roomboard.core.fixings.distances import Distances
from roomboard.core.fixings.lines import HAIR, clear_stretches, within
from roomboard.core.fixings.means import Means
from roomboard.core.fixings.members import runs_across
from roomboard.core.fixings.runs import Behind, Field, Run
from roomboard.core.fixings.values import Role
from roomboard.core.plane import subtract_intervals
from roomboard.core.sheeting import Piece
from roomboard.core.surface import SupportKind


def fields_of(
    piece: Piece, behind: Sequence[Behind], distances: Distances, means: Means
) -> list[Field]:
    """Return the runs of members crossing a piece, away from its sides."""
    lines = [
        (b.number, b.line, b.support.face / 2, r.x0, r.x1, r.y) for b in behind for r in b.runs
    ]
    found: list[Field] = []
    for at in behind:
        if not at.carrying and not _crosses(piece, at):
            continue
        crossing = within(clear_stretches(at.edges, 0.0), *distances.ends(at.line))
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
                taken.append((low - distances.keep, high + distances.keep))
        taken.sort()
        for whole in crossing:
            for x0, x1 in subtract_intervals(whole, taken, distances.near):
                anchored = any(abs(q - x0) <= 2 * distances.keep_cut for _, q in at.taken)
                run = Run(x0, x1, 0.0, Role.FIELD, "any")
                found.append(Field(at, run, anchored, means.can_glue(piece, at)))
                lines.append((at.number, at.line, at.support.face / 2, x0, x1, 0.0))
    return found


def _crosses(piece: Piece, at: Behind) -> bool:
    """Tell whether timber to be added crosses a sheet, so that it carries its field."""
    return at.support.kind is SupportKind.TRIMMER and runs_across(piece, at.line)
