"""Beads that bridge control joints, a run for each line of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.joints import JointKind
from roomboard.core.layers import SECOND
from roomboard.core.plane import TOLERANCE, merge_intervals, snap
from roomboard.core.project import Axis
from roomboard.core.trims import PREFIX, SQUARE, TrimKind, TrimRun

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.parts import SurfaceScheme


def control_bead_runs(schemes: Sequence[SurfaceScheme]) -> tuple[TrimRun, ...]:
    """Return the beads of a room's control joints, cut where an opening breaks the joint.

    Args:
        schemes: The room's surfaces, set out.
    """
    found: list[TrimRun] = []
    covered = {s.surface.ref.removesuffix(SECOND) for s in schemes if s.surface.layer > 1}
    for s in schemes:
        if s.surface.ref in covered:
            continue
        joints = [j for j in s.joints if j.kind is JointKind.CONTROL]
        for line in s.surface.controls:
            index = 0 if line.axis is Axis.U else 1
            spans = [
                tuple(sorted((j.a[1 - index], j.b[1 - index])))
                for j in joints
                if max(abs(p[index] - line.at) for p in (j.a, j.b)) <= 2 * TOLERANCE
            ]
            for low, high in merge_intervals([(a, b) for a, b in spans], 1.0):
                length = snap(high - low)
                found.append(
                    TrimRun(
                        id=f"{PREFIX[TrimKind.CONTROL_BEAD]}{len(found) + 1}",
                        kind=TrimKind.CONTROL_BEAD,
                        room=s.surface.room,
                        surface=s.surface.ref,
                        where=f"control joint of {s.surface.name}",
                        length=length,
                        cut_length=length,
                        left_end=SQUARE,
                        right_end=SQUARE,
                    )
                )
    return tuple(found)
