"""What is to be said about linings of two layers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.joints import JointKind
from roomboard.core.layers import EDGES, ENDS
from roomboard.core.plane import TOLERANCE, distance

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.joints import Joint
    from roomboard.core.plane import Point
    from roomboard.core.practice import Practice
    from roomboard.core.surface import Surface


def over_joints(surface: Surface, joints: Sequence[Joint], practice: Practice) -> Iterator[Finding]:
    """RB223: joints of a second layer nearer to those of the first than the pack allows.

    Butts are held against butts, long joints against long joints that run the same way.

    Args:
        surface: The second layer; nothing is said of a first one.
        joints: Its joints.
        practice: The pack.
    """
    for joint in joints if surface.under else ():
        if joint.kind is JointKind.CONTROL:
            continue
        butt = joint.kind.is_butt
        key = ENDS if butt else EDGES
        least = practice.mm(key) if practice.has(key) else 0.0
        apart = [
            off
            for a, b, is_butt in surface.under
            if is_butt is butt and (off := _apart(joint.a, joint.b, a, b)) is not None
        ]
        nearest = min(apart, default=least)
        if nearest >= least - TOLERANCE:
            continue
        yield Finding(
            code="RB223",
            severity=Severity.WARNING,
            text=f"Joint {joint.id} of {surface.name} stands {{apart}} from one of the layer under "
            "it; {least} is asked.",
            params=(("apart", float(nearest)), ("least", float(least))),
            place=Place(
                room=surface.room, surface=surface.ref, item=joint.id, line=(joint.a, joint.b)
            ),
            found=float(nearest),
            required=float(least),
            source=practice.cite(key) if practice.has(key) else None,
            remedies=(
                "start the courses of one layer from the other side",
                "run the sheets of the first layer the other way",
            ),
        )


def _apart(a: Point, b: Point, p: Point, q: Point) -> float | None:
    """Return how far two lines stand apart that run the same way side by side, or None."""
    length = distance(a, b)
    if length <= TOLERANCE:
        return None
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    off = [(y - a[1]) * dx - (x - a[0]) * dy for x, y in (p, q)]
    along = sorted((x - a[0]) * dx + (y - a[1]) * dy for x, y in (p, q))
    if abs(off[0] - off[1]) > TOLERANCE * 2 or min(along[1], length) - max(along[0], 0.0) <= 1.0:
        return None
    return abs(off[0])
