"""Parts of faces that are not lined: a lining that is kept, or a wall lined only in part."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.face import in_parts
from roomboard.core.heights import KEY, covers, is_ceiling
from roomboard.core.plane import (
    TOLERANCE,
    Region,
    difference,
    distance,
    intersection,
    shared_stretch,
)
from roomboard.core.project import AngleFinish
from roomboard.core.surface import EdgeKind, SurfaceEdge
from roomboard.core.trims import PREFIX, SQUARE, TrimKind, TrimRun

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Point
    from roomboard.core.project import KeptPart, Room
    from roomboard.core.surface import Surface

KEPT, BARE = "kept:", "bare:"
"""What the other side of an edge is called where a lining is kept, or where nothing is."""


def parts_on(room: Room, surface: Surface) -> tuple[KeptPart, ...]:
    """Return the parts of a face that are not lined, in order of id.

    What is not lined of a ceiling is given in plan: each of its planes has those that lie under it.
    """
    own = [p for p in room.kept if p.host == _host(surface)]
    return tuple(
        sorted(
            (p for p in own if intersection(surface.outline, _box(room, p, surface))),
            key=lambda p: p.id,
        )
    )


def _host(surface: Surface) -> str:
    """Return what a part that is not lined calls the face: a wall's id, or the ceiling."""
    key = surface.key.partition(".")[0]
    return KEY if is_ceiling(key) else key.removeprefix("wall:")


def parts_off(room: Room, surfaces: Sequence[Surface]) -> tuple[KeptPart, ...]:
    """Return the parts that are not lined and lie on no face, where their wall or ceiling is lined.

    Args:
        room: The room.
        surfaces: All its faces, before what is not lined is taken from them.
    """
    hosts = {_host(s) for s in surfaces}
    on = {p.id for s in surfaces for p in parts_on(room, s)}
    known = {KEY, *(w.id for w in room.walls)}
    return tuple(
        p for p in room.kept if p.id not in on and (p.host in hosts or p.host not in known)
    )


def _box(room: Room, part: KeptPart, surface: Surface) -> Region:
    """Return a part that is not lined on its face: up a slope it is longer than in plan."""
    box = Region.box(part.left, part.bottom, part.left + part.width, part.bottom + part.height)
    if part.host != KEY:
        return box
    key = surface.key.partition(".")[0]
    slope = next((c.slope for c in covers(room) if c.key == key), None)
    return box if slope is None else slope.region_to_face(box)


def without_kept(room: Room, surface: Surface) -> list[Surface]:
    """Return a face without what is not lined of it: one face, more where it is divided, or none.

    Args:
        room: The room.
        surface: One of its faces.
    """
    kept = parts_on(room, surface)
    if not kept:
        return [surface]
    boxes = [_box(room, p, surface) for p in kept]
    left = difference(surface.region, boxes)
    if not left:
        return []
    outlines = difference(surface.outline, boxes)
    edges = [e for part in left for e in _edges(surface, part, kept, boxes)]
    openings = tuple(
        o
        for o in surface.openings
        if any(o.region.geometry.distance(p.geometry) <= TOLERANCE for p in left)
    )
    face = replace(
        surface,
        region=left[0],
        outline=_outline_of(left[0], outlines),
        edges=tuple(edges),
        openings=openings,
        unlined=tuple(q for box in boxes for q in intersection(surface.outline, box)),
        zones=tuple(
            replace(z, region=q)
            for z in surface.zones
            for q in intersection(z.region, surface.outline)
        ),
    )
    if len(left) == 1:
        return [face]
    made = in_parts(replace(face, outline=surface.outline), left)
    return [replace(part, outline=_outline_of(part.region, outlines)) for part in made]


def _outline_of(part: Region, outlines: Sequence[Region]) -> Region:
    """Return the outline that a part of a face lies in."""
    return max(outlines, key=lambda o: float(o.geometry.intersection(part.geometry).area))


def _edges(
    surface: Surface, part: Region, kept: Sequence[KeptPart], boxes: Sequence[Region]
) -> Iterator[SurfaceEdge]:
    """Return the sides of what is left: those the face had, and those beside what is not lined."""
    for a, b in part.segments:
        own = [(e, span) for e in surface.edges if (span := _shared(a, b, e.a, e.b)) is not None]
        for edge, (p, q) in own:
            yield replace(edge, a=p, b=q)
        if own:
            continue
        beside = next(
            (
                k
                for k, box in zip(kept, boxes, strict=True)
                if any(_shared(a, b, q, p) is not None for p, q in box.segments)
            ),
            None,
        )
        name = "" if beside is None else (KEPT if beside.kept else BARE) + beside.id
        yield SurfaceEdge(a=a, b=b, kind=EdgeKind.FREE, finish=AngleFinish.NONE, other=name)


def _shared(a: Point, b: Point, p: Point, q: Point) -> tuple[Point, Point] | None:
    """Return what the side a-b shares with another line that runs the same way, or None."""
    if (q[0] - p[0]) * (b[0] - a[0]) + (q[1] - p[1]) * (b[1] - a[1]) <= 0:
        return None
    span = shared_stretch(a, b, p, q, off=2 * TOLERANCE, least=1.0)
    if span is None:
        return None
    length = distance(a, b)
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    low, high = span
    return (
        a if low <= 0 else (a[0] + dx * low, a[1] + dy * low),
        b if high >= length else (a[0] + dx * high, a[1] + dy * high),
    )


def kept_tapes(schemes: Sequence[SurfaceScheme], known: Sequence[TrimRun]) -> tuple[TrimRun, ...]:
    """Return a run of tape for each side where new lining meets lining that is kept.

    Args:
        schemes: The room's surfaces.
        known: The runs it has already; numbers go on from theirs.
    """
    count = sum(r.kind is TrimKind.INTERNAL_TAPE for r in known)
    found: list[TrimRun] = []
    for s in schemes:
        for edge in s.surface.edges:
            if not edge.other.startswith(KEPT) or s.surface.layer > 1:
                continue
            length = round(distance(edge.a, edge.b), 3)
            found.append(
                TrimRun(
                    id=f"{PREFIX[TrimKind.INTERNAL_TAPE]}{count + len(found) + 1}",
                    kind=TrimKind.INTERNAL_TAPE,
                    room=s.surface.room,
                    surface=s.surface.ref,
                    where=f"{s.surface.name} to the lining kept",
                    length=length,
                    cut_length=length,
                    left_end=SQUARE,
                    right_end=SQUARE,
                )
            )
    return tuple(found)
