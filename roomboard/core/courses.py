"""Courses: how a field is divided into strips of sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement, pairwise
from typing import TYPE_CHECKING

from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Start
from roomboard.core.sheeting import Course

if TYPE_CHECKING:
    from roomboard.core.fields import Turned

SECOND_WIDTH = 75.0
"""What a further sheet width must save, mm of width bought, before it is worth ordering."""
MIXES = 2
"""How many of the narrowest mixes of widths are set out in full."""


@dataclass(frozen=True)
class CoursePlan:
    """One way to divide a field into courses.

    Attributes:
        courses: From the start side on.
        start: Which side that is.
        score: Width of board bought, mm, with a little for every further width.
    """

    courses: tuple[Course, ...]
    start: Start
    score: float


def course_plans(
    turned: Turned, widths: Sequence[float], recess: float, starts: Sequence[Start]
) -> tuple[CoursePlan, ...]:
    """Return ways to divide a field into courses, as few as the widths allow.

    Full courses lie from the start side on; the last is ripped, its cut edge to the far
    side. A balanced set-out rips the first and the last alike. Along a square-set angle the
    recess is cut off.

    Args:
        turned: The field.
        widths: Sheet widths that can be had, mm.
        recess: How far the recess reaches in, mm.
        starts: Sides to start from.
    """
    _, low, _, high = turned.bounds
    total = high - low
    off_low = recess if turned.square_set_at(low) else 0.0
    off_high = recess if turned.square_set_at(high) else 0.0
    reach = total + off_low + off_high
    count = max(1, math.ceil((reach - TOLERANCE) / max(widths)))
    mixes = sorted(
        (sum(mix) + SECOND_WIDTH * (len(set(mix)) - 1), mix)
        for mix in combinations_with_replacement(sorted(widths, reverse=True), count)
        if sum(mix) >= reach - TOLERANCE
    )
    plans: list[CoursePlan] = []
    for rank, (score, chosen) in enumerate(mixes):
        # A mix that saves width may lack the lengths: one width throughout stays in the running.
        if rank >= MIXES and len(set(chosen)) > 1:
            continue
        for start in starts:
            lines = _course_lines(chosen, low, high, off_low, off_high, start)
            if lines is None:
                continue
            order = chosen if start is not Start.HIGH else chosen[::-1]
            strips = list(zip(pairwise(lines), order, strict=True))
            if start is Start.HIGH:
                strips.reverse()
            courses = tuple(
                Course(
                    field=turned.field.number,
                    number=number,
                    t0=a,
                    t1=b,
                    sheet_width=width,
                    recess_low=a > low + TOLERANCE,
                    recess_high=b < high - TOLERANCE,
                )
                for number, ((a, b), width) in enumerate(strips, 1)
            )
            plans.append(CoursePlan(courses, start, score))
    return tuple(plans)


def _course_lines(
    widths: Sequence[float], low: float, high: float, off_low: float, off_high: float, start: Start
) -> list[float] | None:
    """Return the lines between courses from low to high, or None if they do not fit."""
    if len(widths) == 1:
        return [low, high]
    if start is Start.BALANCED:
        inner = sum(widths[1:-1])
        end = (high - low - inner) / 2
        if end > min(widths[0] - off_low, widths[-1] - off_high) + TOLERANCE or end <= TOLERANCE:
            return None
        lines = [low, low + end]
        for width in widths[1:-1]:
            lines.append(lines[-1] + width)
        lines.append(high)
    elif start is Start.HIGH:
        lines = [high, high - widths[0] + off_high]
        for width in widths[1:-1]:
            lines.append(lines[-1] - width)
        lines.append(low)
        lines.reverse()
    else:
        lines = [low, low + widths[0] - off_low]
        for width in widths[1:-1]:
            lines.append(lines[-1] + width)
        lines.append(high)
    lines = [snap(x) for x in lines]
    return lines if all(b - a > TOLERANCE for a, b in pairwise(lines)) else None
