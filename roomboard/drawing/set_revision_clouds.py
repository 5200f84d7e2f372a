"""Clouds: scallops round what has changed, and a triangle with the letter of the issue.

They are laid over a drawing when all else has its place, so that a sheet is the same with and
without them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from roomboard.core.plane import Region, distance, intersection, regions_of, union
from roomboard.core.revision_changes import Change, Subject
from roomboard.core.revision_done import piece_of
from roomboard.drawing.displaylist import (
    CENTRED,
    Box,
    DisplayList,
    Fill,
    Mark,
    Stroke,
    Text,
    box_of,
    overlap,
    text_box,
)
from roomboard.drawing.lettering import SMALLEST, text_width

if TYPE_CHECKING:
    from roomboard.core.plane import Point, Ring
    from roomboard.core.scheme import Scheme

CLOUD = "cloud"
"""Layer of clouds and their letters."""
CHORD, RISE = 5.0, 1.3
"""Width and height of a scallop, mm on paper."""
ARC = 5
"""Straight parts of a scallop."""
INSIDE = 2.0
"""How far inside its edge the cloud of a piece runs, mm on paper: its neighbours stay clear."""
BAND = 2.2
"""How far from a line its cloud runs, mm on paper."""
FAINT = 0.8
"""A cloud is broken where it would come nearer than this to lettering, mm on paper."""
TAG_SIDE = 3.4
"""How far the corners of the triangle lie from its middle, mm on paper, for one letter."""


def areas_of(changes: Iterable[Change], outline: Region, scale: float) -> tuple[Region, ...]:
    """Return the paths that clouds follow on a drawing of a surface.

    Pieces that lie against each other have one cloud; joints in it need none of their own.

    Args:
        changes: The changes that show on it.
        outline: The outline of the surface; what is gone outside it has no cloud.
        scale: How many mm of the surface one mm of paper is.
    """
    clouded = [c for c in changes if c.clouded]
    faces = [Region.of(c.at) for c in clouded if len(c.at) > 2]
    clipped = [part for face in faces if face.outer for part in intersection(face, outline)]
    whole = union(clipped)
    found = [part for area in whole for part in inset(area, INSIDE * scale)]
    for change in clouded:
        if len(change.at) != 2:
            continue
        a, b = change.at
        if not any(_inside(area, (a, b), scale) for area in whole):
            found.append(band(a, b, BAND * scale))
    return tuple(found)


def _inside(area: Region, ends: tuple[Point, Point], scale: float) -> bool:
    middle = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
    return area.contains(middle) or area.distance_to_edge(middle) <= scale


def timber_of(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return the changes a carpenter is concerned with: timber and openings."""
    return tuple(c for c in changes if c.subject in {Subject.TRIMMER, Subject.OPENING})


def sheeting_of(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return the changes that show where sheets are drawn."""
    return tuple(c for c in changes if c.subject is not Subject.TRIMMER)


def fixing_areas(changes: Iterable[Change], outline: Region, scale: float) -> tuple[Region, ...]:
    """Return the paths that clouds follow where everything that holds the boards is drawn.

    Where other fasteners hold boards that have not changed the whole surface is clouded.

    Args:
        changes: The changes of the surface.
        outline: Its outline.
        scale: How many mm of the surface one mm of paper is.
    """
    own = sheeting_of(changes)
    found = areas_of(own, outline, scale)
    held = any(c.subject is Subject.SURFACE for c in own)
    return inset(outline, INSIDE * scale) if held and not found else found


def within(areas: Iterable[Region], window: Box | None) -> tuple[Region, ...]:
    """Return what of some areas lies in a part of a surface.

    Args:
        areas: The areas.
        window: The part, mm of the surface; None for all of it.
    """
    if window is None:
        return tuple(areas)
    part = Region.box(*window)
    return tuple(shown for area in areas for shown in intersection(area, part))


def inset(area: Region, by: float) -> tuple[Region, ...]:
    """Return an area made smaller all round; one that is too thin stays as it is.

    Args:
        area: The area.
        by: By how much, mm.
    """
    outer = Region(area.outer)
    smaller = regions_of(outer.geometry.buffer(-by, join_style="mitre"))
    return smaller or (outer,)


def band(a: Point, b: Point, half: float) -> Region:
    """Return the strip round a line, as far beyond its ends as beside it.

    Args:
        a: Start of the line.
        b: Its end.
        half: Half the width of the strip.
    """
    length = distance(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / length * half, (b[1] - a[1]) / length * half
    return Region.of(
        (
            (a[0] - dx - dy, a[1] - dy + dx),
            (a[0] - dx + dy, a[1] - dy - dx),
            (b[0] + dx + dy, b[1] + dy - dx),
            (b[0] + dx - dy, b[1] + dy + dx),
        )
    )


def clouds(
    areas: Sequence[Region],
    letter: str,
    scale: float,
    taken: Sequence[Box],
    within: Box | None = None,
) -> DisplayList:
    """Draw a cloud along each area, and the letter beside it where there is room.

    Args:
        areas: What is clouded, in mm of the drawing.
        letter: Letter of the issue.
        scale: How many mm of the drawing one mm of paper is.
        taken: Boxes of the lettering, which stays readable.
        within: Where the letter may stand; None for anywhere.
    """
    marks: list[Mark] = []
    boxes = list(taken)
    for area in areas:
        marks.extend(scallops(area.outer, scale, boxes))
    for area in areas:
        tag = _tag(area, letter, scale, boxes, within)
        if tag:
            marks.extend(tag)
            boxes.append(box_of(tag[1].points))
    return tuple(marks)


def scallops(ring: Ring, scale: float, taken: Sequence[Box]) -> Iterator[Stroke]:
    """Draw arcs along a ring, bulging outwards; arcs that would cross lettering are left out.

    Args:
        ring: Counter-clockwise.
        scale: How many mm of the drawing one mm of paper is.
        taken: Boxes of the lettering.
    """
    run: list[Point] = []
    for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
        count = max(1, round(distance(a, b) / (CHORD * scale)))
        for n in range(count):
            arc = _arc(_between(a, b, n / count), _between(a, b, (n + 1) / count), scale)
            x0, y0, x1, y1 = box_of(arc)
            clear = FAINT * scale
            grown = (x0 - clear, y0 - clear, x1 + clear, y1 + clear)
            if any(overlap(grown, box) for box in taken):
                if run:
                    yield Stroke(points=tuple(run), layer=CLOUD, ref=CLOUD)
                run = []
                continue
            run += arc[1:] if run else arc
    if run:
        yield Stroke(points=tuple(run), layer=CLOUD, ref=CLOUD)


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def _arc(a: Point, b: Point, scale: float) -> list[Point]:
    """Return the points of an arc over a chord, on its right hand: outside the ring."""
    length = distance(a, b) or 1.0
    rise = min(RISE * scale, length / 2)
    nx, ny = (b[1] - a[1]) / length, -(b[0] - a[0]) / length
    points = []
    for n in range(ARC + 1):
        share = n / ARC
        up = rise * math.sin(math.pi * share)
        x, y = _between(a, b, share)
        points.append((x + nx * up, y + ny * up))
    return points


def done_signs(
    scheme: Scheme,
    surface: str,
    scale: float,
    taken: Sequence[Box],
    lies: Callable[[Point], Point],
) -> DisplayList:
    """Draw a sign on each piece of a surface that is cut or hung: its word in a frame.

    Args:
        scheme: What is worked out.
        surface: Ref of the surface.
        scale: How many mm of the drawing one mm of paper is.
        taken: Boxes of the lettering, which stays readable.
        lies: Where points of the surface come to lie on the drawing.
    """
    own = [d for d in scheme.project.done if d.surface == surface]
    if not own:
        return ()
    pieces = [
        p
        for room in scheme.rooms
        for s in room.surfaces
        if s.surface.ref == surface
        for p in s.set_out.pieces
    ]
    marks: list[Mark] = []
    boxes = list(taken)
    for done in own:
        piece = piece_of(done, pieces)
        if piece is None:
            continue
        placed_region = Region.of([lies(p) for p in piece.region.outer])
        sign = _sign(placed_region, done.state.value, piece.id, scale, boxes)
        if sign:
            marks.extend(sign)
            boxes.append(box_of(sign[1].points))
    return tuple(marks)


def _sign(
    area: Region, word: str, ref: str, scale: float, taken: Sequence[Box]
) -> tuple[Fill, Stroke, Text] | None:
    """Return the word in a frame, in the first free place inside a piece, from its corners on."""
    wide = (text_width(word, SMALLEST, bold=True) / 2 + 0.8) * scale
    high = (SMALLEST / 2 + 0.8) * scale
    x0, y0, x1, y1 = area.bounds
    edge = 0.8 * scale
    spots = [
        (x, y)
        for up in range(6)
        for y in (y0 + high + edge + up * 2.2 * high, y1 - high - edge - up * 2.2 * high)
        for x in (x1 - wide - edge, x0 + wide + edge, (x0 + x1) / 2)
    ]
    for x, y in spots:
        box = (x - wide, y - high, x + wide, y + high)
        ring = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
        if not all(area.contains(p) for p in ring) or any(overlap(box, t) for t in taken):
            continue
        text = Text(
            at=(x, y),
            text=word,
            paper_height=SMALLEST,
            anchor=CENTRED,
            layer=CLOUD,
            ref=ref,
            bold=True,
        )
        return (
            Fill(rings=(ring,), layer=CLOUD, ref=ref, tone=1.0),
            Stroke(points=ring, layer=CLOUD, ref=ref, closed=True),
            text,
        )
    return None


def _tag(
    area: Region, letter: str, scale: float, taken: Sequence[Box], within: Box | None
) -> tuple[Fill, Stroke, Text] | None:
    """Return the triangle with the letter, at the first free place along a cloud."""
    reach = max(TAG_SIDE, text_width(letter, SMALLEST, bold=True) + 1.6) * scale
    for at in _spots(area, reach):
        ring = tuple(
            (
                at[0] + reach * math.cos(math.radians(turn)),
                at[1] + reach * math.sin(math.radians(turn)),
            )
            for turn in (90.0, 210.0, 330.0)
        )
        word = Text(
            at=at,
            text=letter,
            paper_height=SMALLEST,
            anchor=CENTRED,
            layer=CLOUD,
            ref=CLOUD,
            bold=True,
        )
        # The lettering too must stay inside: it is as wide as the triangle at its height.
        box = box_of((*ring, *_corners(text_box(word, scale))))
        if any(overlap(box, other) for other in taken):
            continue
        if within is not None and not _holds(within, box):
            continue
        return (
            Fill(rings=(ring,), layer=CLOUD, ref=CLOUD, tone=1.0),
            Stroke(points=ring, layer=CLOUD, ref=CLOUD, closed=True),
            word,
        )
    return None


def _spots(area: Region, reach: float) -> Iterator[Point]:
    """Yield places for the letter: the corners and the sides of the cloud, on it and inside."""
    ring = area.outer
    sides = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    # The upper right corner first, as letters are looked for there.
    sides.sort(key=lambda s: -(s[0][0] + s[0][1]))
    for inwards in (1.2, 0.0, -1.2, 2.4):
        for a, b in sides:
            length = distance(a, b)
            if not length:
                continue
            nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
            steps = max(1, int(length / (2 * reach)))
            for n in range(steps):
                x, y = _between(a, b, (n + 0.5) / steps)
                yield (x + nx * reach * inwards, y + ny * reach * inwards)


def _corners(box: Box) -> tuple[Point, ...]:
    return ((box[0], box[1]), (box[2], box[3]))


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )
