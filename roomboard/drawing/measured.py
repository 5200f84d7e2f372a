"""Which figure of the measured room each dimension of a drawing shows, so that it can be set."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from roomboard.core.plane import Interval, same
from roomboard.core.project import Room
from roomboard.core.surface import Surface

ALIKE = 0.5
"""Lengths that differ by less than this are written alike, mm."""
LENGTH, HEIGHT, FROM, TO = "length", "height", "from", "to"
LEFT, WIDTH, RIGHT, SILL, HEAD = "left", "width", "right", "sill", "head"
NEAR, FAR, PLACE = "near", "far", "place"
"""What refs of dimensions begin with, before a colon and the id of the thing measured: length of
a wall, height of the room; from the left corner to an opening, and to its other side; left gap,
width and right gap of an opening; its sill and head; from the nearest wall, and from the wall
square to that, to a hole in the ceiling; place of a stud or joist."""

MEASURES = (LENGTH, FROM, TO, LEFT, WIDTH, RIGHT, SILL, HEAD, NEAR, FAR, PLACE)
"""All of these but the height, which has no id."""


def wall_key(surface: Surface) -> str:
    """Return the id of the wall a face lies on; empty for another face."""
    kind, _, wall = surface.key.partition(".")[0].partition(":")
    return wall if kind == "wall" else ""


def length_ref(room: Room, span: Interval, axis: int) -> str:
    """Return what a stretch along an axis of the plan measures, if it is one wall.

    The wall that runs up the axis is meant, so that the far end moves when it is set.

    Args:
        room: The room.
        span: Both ends along the axis, in either order, mm.
        axis: 0 for x, 1 for y.
    """
    low, high = sorted(span)
    for index, wall in enumerate(room.walls):
        a, b = room.wall_ends(index)
        level = same(a[1 - axis], b[1 - axis], ALIKE)
        if level and same(a[axis], low, ALIKE) and same(b[axis], high, ALIKE):
            return f"{LENGTH}:{wall.id}"
    return ""


def length_refs(room: Room, stops: Sequence[float], axis: int) -> tuple[str, ...]:
    """Return what the stretch before each stop of a row measures, if it is one wall."""
    return tuple(
        length_ref(room, (stops[i - 1], stop), axis) if i else "" for i, stop in enumerate(stops)
    )


def along_refs(surface: Surface, room: Room, stops: Sequence[float]) -> tuple[str, ...]:
    """Return what the distance of each stop from a wall's left end measures.

    Args:
        surface: The face.
        room: Its room.
        stops: Places along it, mm.
    """
    known: list[tuple[float, str]] = []
    for o in surface.openings:
        u0, _, u1, _ = o.region.bounds
        known += [(u0, f"{FROM}:{o.id}"), (u1, f"{TO}:{o.id}")]
    wall = wall_key(surface)
    for index, one in enumerate(room.walls):
        if one.id == wall:
            known.append((room.wall_length(index), f"{LENGTH}:{wall}"))
    known += [
        (s.a[0], f"{PLACE}:{s.id}")
        for s in surface.supports
        if s.existing and same(s.a[0], s.b[0], ALIKE)
    ]
    return _known(known, stops)


def up_refs(surface: Surface, stops: Sequence[float]) -> tuple[str, ...]:
    """Return what the height of each stop over the floor measures: sills and heads."""
    known: list[tuple[float, str]] = []
    for o in surface.openings:
        _, v0, _, v1 = o.region.bounds
        known += [(v0, f"{SILL}:{o.id}"), (v1, f"{HEAD}:{o.id}")]
    return _known(known, stops)


def joist_refs(
    room: Room, surfaces: Iterable[Surface], axis: int, stops: Sequence[float]
) -> tuple[str, ...]:
    """Return what the distance of each stop from a room's low side measures: joists, a wall.

    A joist's place is measured from the low side of its own zone, so only those of zones that
    begin at the datum are known.

    Args:
        room: The room.
        surfaces: The parts of the ceiling.
        axis: 0 for places along x, 1 for places along y.
        stops: Places along it, the datum first, mm.
    """
    known = [
        (s.a[axis], f"{PLACE}:{s.id}")
        for surface in surfaces
        for s in surface.supports
        if s.existing
        and s.zone >= 0
        and same(s.a[axis], s.b[axis], ALIKE)
        and same(surface.zones[s.zone].region.bounds[axis], stops[0], ALIKE)
    ]
    known += [(stop, length_ref(room, (stops[0], stop), axis)) for stop in stops[1:]]
    return _known(known, stops)


def _known(known: Sequence[tuple[float, str]], stops: Sequence[float]) -> tuple[str, ...]:
    return tuple(next((ref for at, ref in known if same(at, stop, ALIKE)), "") for stop in stops)
