"""What lies where on a view: everything drawn can be pointed at, marked and walked through.

All shapes of a view stand in one search tree, made once: it takes some hundred milliseconds for
20,000 dots, and then a tenth of a millisecond for each question.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from roomboard.core.plane import Point, Ring
from roomboard.drawing.displaylist import Box, Dots, Fill, Stroke, Text, text_corners
from roomboard.drawing.view import Pane, View

SURFACE = "surface"
"""Layer of what is picked where a surface shows and nothing lies on it."""
SECOND = frozenset({"dimension", "lettering"})
"""Layers that take the layer of the thing whose ref they bear."""
AREAS = frozenset(
    {"back_block", "bulkhead", "column", "fold", "opening", "outline", "packer", "zone"}
)
"""Layers whose closed lines can be pointed at anywhere inside."""
RANKS = {
    **dict.fromkeys(("joist", "wall", "no_wall"), 1),
    **dict.fromkeys(("sheet", "piece", "waste"), 2),
    **dict.fromkeys(("bulkhead", "fold", "zone"), 3),
    **dict.fromkeys(("outline", SURFACE), 4),
}
"""What lies under the rest, though it be nearer: framing, pieces, zones and bulkheads, surfaces."""
SMALL = 8.0
"""An opening whose width and height are together less than this many times the reach is small."""
INSIDE = 0.6
"""A line nearer than this share of the reach goes before the area that the point lies in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picked:
    """Something on a view.

    Attributes:
        surface: Ref of the surface it lies on, or empty.
        key: Key of the pane it lies on.
        ref: What it stands for; dots are called by layer and number, e.g. ``"fastener:12"``.
        layer: Its layer; ``"surface"`` for a surface itself.
        outline: Its outline, its line, or a dot's one point, mm of the view.
        closed: Whether the outline is a ring.
        point: Where it was picked (its middle if it was not pointed at), in the surface's
            (u, v), mm.
    """

    surface: str
    key: str
    ref: str
    layer: str
    outline: Ring
    closed: bool
    point: Point


@dataclass(slots=True, kw_only=True)
class _Thing:
    """Something that can be picked; it may be drawn with many marks."""

    pane: int
    layer: str
    ref: str
    outline: Ring
    closed: bool
    weight: float


class Picker:
    """Finds what lies where on a view."""

    def __init__(self, view: View) -> None:
        """Make the search tree.

        Args:
            view: What is shown.
        """
        self.view = view
        self._inverse = [pane.placing.inverse() for pane in view.panes]
        self._things: list[_Thing] = []
        self._known: dict[tuple[int, str, str], int] = {}
        self._dots: dict[tuple[int, str], int] = {}
        self._shapes = _Shapes()
        for number, pane in enumerate(view.panes):
            self._take(number, pane)
        self._geometries, self._owner = self._shapes.made()
        self._tree = shapely.STRtree(self._geometries)
        self._area = shapely.get_dimensions(self._geometries) == 2
        ranks = [RANKS.get(thing.layer, 0) for thing in self._things]
        self._rank = np.array(ranks, dtype=np.int64)
        # Sizes of openings, to tell small ones; everything else counts as large.
        sizes = [_length(t.outline) if t.layer == "opening" else np.inf for t in self._things]
        self._hole = np.array(sizes, dtype=np.float64)

    # --- questions ----------------------------------------------------------------------

    def at(self, point: Point, reach: float) -> tuple[Picked, ...]:
        """Return what lies at a point, what is topmost and nearest first.

        Openings, trimmers, joints and fixings go before framing, framing before pieces, pieces
        before surfaces; among equals the nearest goes first, then what was drawn last.

        Args:
            point: mm of the view.
            reach: How far off something still counts, mm of the view.
        """
        x, y = point
        found = self._tree.query(shapely.box(x - reach, y - reach, x + reach, y + reach))
        if not len(found):
            return ()
        here = shapely.Point(x, y)
        far = shapely.distance(self._geometries[found], here)
        near = far <= reach
        found, far = found[near], far[near]
        owners = self._owner[found]
        # Dimensions end at holes that can be little larger than the reach: inside one, it is meant.
        inside = self._area[found] & (far == 0) & (self._hole[owners] >= SMALL * reach)
        far = np.where(inside, INSIDE * reach, far)
        order = np.lexsort((-owners, far, self._rank[owners]))
        seen: dict[int, None] = {}
        for owner in owners[order].tolist():
            seen.setdefault(owner)
        return tuple(self._picked(owner, point) for owner in seen)

    def inside(self, box: Box) -> tuple[Picked, ...]:
        """Return what lies wholly inside a box, in the order in which it was drawn.

        Args:
            box: mm of the view.
        """
        x0, y0, x1, y1 = box
        bounds = self._bounds
        within = (
            (bounds[:, 0] >= min(x0, x1))
            & (bounds[:, 1] >= min(y0, y1))
            & (bounds[:, 2] <= max(x0, x1))
            & (bounds[:, 3] <= max(y0, y1))
        )
        return tuple(self._picked(int(owner)) for owner in np.flatnonzero(within))

    def order(self, *, dots: bool = False) -> tuple[Picked, ...]:
        """Return every thing once, in the order of reading: pane by pane, from the top, from left.

        What stands for nothing (ticks of dimensions and the like) is left out.

        Args:
            dots: Whether fasteners and daubs are walked through as well, one by one.
        """
        return tuple(
            self._picked(owner)
            for owner in self._reading
            if self._things[owner].ref and (dots or len(self._things[owner].outline) > 1)
        )

    def of(self, surface: str, ref: str) -> tuple[Picked, ...]:
        """Return what bears a ref on a surface; on any, if the surface is empty.

        Args:
            surface: Ref of the surface, or empty.
            ref: What it stands for.
        """
        panes = self.view.panes
        return tuple(
            self._picked(owner)
            for owner, thing in enumerate(self._things)
            if thing.ref == ref and (not surface or panes[thing.pane].surface == surface)
        )

    # --- answers ------------------------------------------------------------------------

    def _picked(self, owner: int, point: Point | None = None) -> Picked:
        thing = self._things[owner]
        pane = self.view.panes[thing.pane]
        at = point if point is not None else _middle(thing)
        return Picked(
            surface=pane.surface,
            key=pane.key,
            ref=thing.ref,
            layer=thing.layer,
            outline=thing.outline,
            closed=thing.closed,
            point=self._inverse[thing.pane].apply(at),
        )

    @cached_property
    def _bounds(self) -> npt.NDArray[np.float64]:
        """Box round each thing, mm."""
        boxes = shapely.bounds(self._geometries)
        whole = np.full((len(self._things), 4), np.inf)
        whole[:, 2:] = -np.inf
        for column, take in ((0, np.minimum), (1, np.minimum), (2, np.maximum), (3, np.maximum)):
            take.at(whole[:, column], self._owner, boxes[:, column])
        return whole

    @cached_property
    def _reading(self) -> tuple[int, ...]:
        bounds = self._bounds.round(0).tolist()
        panes = [_reading_place(pane) for pane in self.view.panes]
        keys = [
            (*panes[thing.pane], thing.pane, thing.layer != SURFACE, -box[3], box[0], owner)
            for owner, (thing, box) in enumerate(zip(self._things, bounds, strict=True))
        ]
        return tuple(sorted(range(len(keys)), key=keys.__getitem__))

    # --- making -------------------------------------------------------------------------

    def _take(self, number: int, pane: Pane) -> None:
        if pane.surface and pane.outline:
            owner = self._thing(number, SURFACE, pane.surface, pane.outline, closed=True)
            self._shapes.ring(pane.outline, owner)
        # A label bears the ref of what it names; a cross in an opening is the opening.
        first = {
            mark.ref: mark.layer
            for mark in reversed(pane.marks)
            if mark.ref and not isinstance(mark, Text) and mark.layer not in SECOND
        }
        for mark in pane.marks:
            if isinstance(mark, Dots):
                self._take_dots(number, mark)
                continue
            if isinstance(mark, Fill) and mark.layer == "lettering":
                continue  # paper under lettering
            layer = first.get(mark.ref, mark.layer) if mark.layer in SECOND else mark.layer
            ref = mark.ref
            if ref and ref == pane.surface:
                layer = SURFACE if layer in {"outline", "lettering"} else layer
            self._take_mark(number, mark, layer, ref)

    def _take_mark(self, number: int, mark: Stroke | Fill | Text, layer: str, ref: str) -> None:
        if isinstance(mark, Text):
            ring = text_corners(mark, self.view.scale)
            self._shapes.ring(ring, self._thing(number, layer, ref, ring, closed=True, weight=0))
        elif isinstance(mark, Fill):
            ring = mark.rings[0]
            owner = self._thing(number, layer, ref, ring, closed=True, weight=np.inf)
            self._shapes.area(mark.rings, owner)
        elif mark.closed and layer in AREAS and len(mark.points) > 2:
            owner = self._thing(number, layer, ref, mark.points, closed=True)
            self._shapes.ring(mark.points, owner)
        elif len(mark.points) > 1:
            owner = self._thing(number, layer, ref, mark.points, closed=mark.closed)
            self._shapes.line(mark.points, owner, closed=mark.closed)

    def _take_dots(self, number: int, mark: Dots) -> None:
        if mark.layer in SECOND:
            return
        start = len(self._things)
        first = self._dots.get((number, mark.layer), 0)
        self._dots[number, mark.layer] = first + len(mark.points)
        self._things.extend(
            _Thing(
                pane=number,
                layer=mark.layer,
                ref=f"{mark.layer}:{index}",
                outline=(point,),
                closed=False,
                weight=0.0,
            )
            for index, point in enumerate(mark.points, first)
        )
        self._shapes.dots(mark.points, start)

    def _thing(
        self,
        pane: int,
        layer: str,
        ref: str,
        outline: Ring,
        *,
        closed: bool,
        weight: float | None = None,
    ) -> int:
        """Return the number of a thing; what is drawn of it at greatest length is its outline."""
        size = _length(outline) if weight is None else weight
        key = (pane, layer, ref)
        owner = self._known.get(key) if ref else None
        if owner is None:
            owner = len(self._things)
            self._things.append(
                _Thing(pane=pane, layer=layer, ref=ref, outline=outline, closed=closed, weight=size)
            )
            if ref:
                self._known[key] = owner
            return owner
        thing = self._things[owner]
        if size > thing.weight:
            thing.outline, thing.closed, thing.weight = outline, closed, size
        return owner


class _Shapes:
    """Shapes gathered by kind, so that each kind is made at one stroke."""

    def __init__(self) -> None:
        self._segments: list[tuple[Point, Point]] = []
        self._segment_owner: list[int] = []
        self._dots: list[Point] = []
        self._dot_owner: list[int] = []
        self._quads: list[Ring] = []
        self._quad_owner: list[int] = []
        self._others: list[shapely.Geometry] = []
        self._other_owner: list[int] = []

    def line(self, points: Ring, owner: int, *, closed: bool) -> None:
        """Take a line through points."""
        if len(points) == 2:
            self._segments.append((points[0], points[1]))
            self._segment_owner.append(owner)
            return
        ends = (*points, points[0]) if closed else points
        self._others.append(shapely.LineString(ends))
        self._other_owner.append(owner)

    def ring(self, ring: Ring, owner: int) -> None:
        """Take an area without holes."""
        if len(ring) == 4:
            self._quads.append(ring)
            self._quad_owner.append(owner)
        else:
            self.area((ring,), owner)

    def area(self, rings: tuple[Ring, ...], owner: int) -> None:
        """Take an area with holes."""
        if len(rings) == 1 and len(rings[0]) == 4:
            self.ring(rings[0], owner)
        elif len(rings[0]) > 2:
            self._others.append(shapely.Polygon(rings[0], rings[1:]))
            self._other_owner.append(owner)

    def dots(self, points: Iterable[Point], first: int) -> None:
        """Take dots whose owners are numbered in turn."""
        start = len(self._dots)
        self._dots.extend(points)
        self._dot_owner.extend(range(first, first + len(self._dots) - start))

    def made(self) -> tuple[npt.NDArray[np.object_], npt.NDArray[np.int64]]:
        """Return all shapes and the number of the thing each belongs to."""
        parts: list[npt.NDArray[np.object_]] = []
        owners: list[int] = []
        if self._others:
            parts.append(np.array(self._others, dtype=object))
            owners += self._other_owner
        if self._quads:
            parts.append(shapely.polygons(np.array(self._quads)))
            owners += self._quad_owner
        if self._segments:
            parts.append(shapely.linestrings(np.array(self._segments)))
            owners += self._segment_owner
        if self._dots:
            parts.append(shapely.points(np.array(self._dots)))
            owners += self._dot_owner
        whole = np.concatenate(parts) if parts else np.array([], dtype=object)
        return whole, np.array(owners, dtype=np.int64)


def _length(points: Ring) -> float:
    """Return a size to tell long marks from short ones: the sides of the box round them, mm."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return max(xs) - min(xs) + max(ys) - min(ys)


def _middle(thing: _Thing) -> Point:
    count = len(thing.outline)
    return (sum(p[0] for p in thing.outline) / count, sum(p[1] for p in thing.outline) / count)


def _reading_place(pane: Pane) -> tuple[float, float]:
    """Return where a pane comes when a view is read: from the top, then from the left."""
    if not pane.outline:
        return (np.inf, 0.0)
    return (
        -round(max(p[1] for p in pane.outline), 0),
        round(min(p[0] for p in pane.outline), 0),
    )
