"""Openings that are not there yet: their first size, and how they lie on a view."""

from __future__ import annotations

import math

from roomboard.app.desk import Desk
from roomboard.core.plane import Point
from roomboard.core.project import Opening, OpeningKind, Room
from roomboard.drawing.view import View
from roomboard.storage.usual_sizes import usual_size

PLAN_BAND = 60.0
"""How thick an opening is shown on a plan while it is placed, mm."""
ROUND = 32
"""How many corners a circle is drawn with."""


def begins_with(room: Room | None, desk: Desk, kind: OpeningKind) -> Opening:
    """Return the size a new opening begins with: that of the last of its kind, or the usual one.

    Args:
        room: The room it goes into.
        desk: The desk.
        kind: What it is for.
    """
    project = desk.document.project
    rooms = [r for r in project.rooms if room is None or r.id != room.id]
    for one in (*([room] if room else []), *reversed(rooms)):
        for opening in reversed(one.openings):
            if opening.kind is kind:
                return opening
    usual = usual_size(kind, project.units)
    return Opening(
        id="",
        kind=kind,
        host="",
        left=0.0,
        bottom=usual.bottom,
        width=usual.width,
        height=usual.height,
        is_round=usual.is_round,
    )


def outline_of(
    room: Room,
    view: View | None,
    index: int,
    box: tuple[float, float, float, float],
    *,
    is_round: bool = False,
) -> tuple[list[Point], list[tuple[Point, Point]]]:
    """Return how an opening lies on a view, and the lines to both corners of its wall.

    Args:
        room: The room.
        view: The view; None shows it in plan.
        index: Which edge of the outline its wall stands on; -1 for the ceiling.
        box: Left, bottom, width and height on its wall or in plan, mm.
        is_round: Whether it is a circle in the box.
    """
    left, bottom, width, height = box
    right, top = left + width, bottom + height
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    if is_round:
        x, y, radius = left + width / 2, bottom + width / 2, width / 2
        turns = (math.tau * n / ROUND for n in range(ROUND))
        corners = [(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns]
    if index < 0:
        return corners, []
    length = room.wall_length(index)
    pane = view.pane(f"wall:{room.walls[index].id}") if view is not None else None
    if pane is not None:
        up = (bottom + top) / 2
        arms = [((0.0, up), (left, up)), ((right, up), (length, up))]
        lie = pane.placing.apply
        return [lie(c) for c in corners], [(lie(a), lie(b)) for a, b in arms]
    (ax, ay), (bx, by) = room.wall_ends(index)
    dx, dy = (bx - ax) / length, (by - ay) / length

    def on_plan(along: float, out: float) -> Point:
        return (ax + dx * along - dy * out, ay + dy * along + dx * out)

    ring = [
        on_plan(a, o) for a, o in ((left, 0), (right, 0), (right, PLAN_BAND), (left, PLAN_BAND))
    ]
    half = PLAN_BAND / 2
    ends = ((0.0, left), (right, length))
    return ring, [(on_plan(a, half), on_plan(b, half)) for a, b in ends]
