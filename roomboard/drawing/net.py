"""A room under sloping ceilings opened out: its true faces unfolded about the largest of them.

Planes of the ceiling stay joined along their folds where they can, walls hang on their own edges of
the ceiling; what finds no room there is moved out, and thin lines join it to its edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import shapely

from roomboard.core.heights import is_ceiling
from roomboard.core.heights_tops import tops
from roomboard.core.plane import distance
from roomboard.core.surface import EdgeKind
from roomboard.core.units import on_tape
from roomboard.drawing.edge_lengths import EdgeLength, draw_edge_length, is_measured
from roomboard.drawing.elevation import draw_packers
from roomboard.drawing.opened_out import (
    CLEAR,
    FOOT,
    HAIR,
    HEIGHT_OUT,
    HEIGHT_ROOM,
    MOST_MOVES,
    OpenedOut,
)
from roomboard.drawing.raked import draw_pitch, draw_sides, side_names, true_lie
from roomboard.drawing.view import AS_IT_LIES, Affine, Pane, View

if TYPE_CHECKING:
    from roomboard.core.parts import RoomScheme, SurfaceScheme
    from roomboard.core.plane import Point
    from roomboard.core.project import Units
    from roomboard.core.surface import Placing, Surface, SurfaceEdge
    from roomboard.drawing.displaylist import DisplayList
    from roomboard.drawing.lining import Show

MEETS = 60.0
"""Ends of one edge seen from two faces lie this near to each other in the building, mm: linings
are thinner."""
SIDE_OUT = 8.0
"""Lengths of a plane's sides stand this far outside them, mm on paper."""
MEETING = frozenset({EdgeKind.ANGLE, EdgeKind.CORNER})
"""Edges at which faces meet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A wall as it hangs on its edge.

    Attributes:
        index: Number of the wall in the room, from 0.
        lie: Where its (u, v) comes to lie.
        edge: The edge it hangs on, or nothing if it stands by itself.
        out: How far it was moved off that edge, mm.
    """

    index: int
    lie: Affine
    edge: tuple[Point, Point] | None
    out: float = 0.0


def in_building(placing: Placing, point: Point) -> tuple[float, float, float]:
    """Return where a point of a face stands in the building, mm."""
    x, y, z = (
        o + point[0] * u + point[1] * v
        for o, u, v in zip(placing.origin, placing.u_axis, placing.v_axis, strict=True)
    )
    return (x, y, z)


def lie_on(own: tuple[Point, Point], edge: tuple[Point, Point], *, mirrored: bool) -> Affine:
    """Return the lie of a face whose line comes to lie on another, begin on begin.

    Args:
        own: The line on the face.
        edge: The line it comes to lie on.
        mirrored: Whether the face is turned over.
    """
    (ax, ay), (bx, by) = own
    (px, py), (qx, qy) = edge
    turn = math.atan2(qy - py, qx - px)
    if mirrored:
        lean = turn + math.atan2(by - ay, bx - ax)
        cos, sin = math.cos(lean), math.sin(lean)
        xx, xy, yx, yy = cos, sin, sin, -cos
    else:
        lean = turn - math.atan2(by - ay, bx - ax)
        cos, sin = math.cos(lean), math.sin(lean)
        xx, xy, yx, yy = cos, -sin, sin, cos
    return Affine(xx, xy, yx, yy, px - xx * ax - xy * ay, py - yx * ax - yy * ay)


def ceiling_net(
    scheme: RoomScheme, units: Units, scale: float, show: Show, *, from_below: bool = False
) -> tuple[Pane, ...]:
    """Draw the planes of a sloping ceiling unfolded, true faces, joined along their folds.

    Args:
        scheme: The room and everything on its surfaces.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        from_below: Whether left and right swap, as they do for one who looks up.
    """
    net = Net(scheme, units, scale, show)
    net.unfold()
    over = Affine(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0) if from_below else AS_IT_LIES
    return tuple(net.plane(part, over) for part in net.ceilings)


class Net(OpenedOut):
    """A room under sloping ceilings being opened out."""

    def view(self) -> View:
        """Return the finished view."""
        self.unfold()
        hung = self._hung() if is_measured(self.room) else ()
        self._draw_ceilings()
        for wall in hung:
            self._draw_hung(wall)
        lengths: DisplayList = ()
        if self.show.dimensions:
            for wall in hung:
                self._draw_ends(wall)
            lengths = self.sketch.taken_off()
        if self.others:
            self._draw_others()
        for wall in hung:
            self._join(wall)
        joins = self.sketch.taken_off()
        if self.panes:
            self._tag()
        return self._finished(joins, lengths)

    # --- the ceiling --------------------------------------------------------------------

    def unfold(self) -> None:
        """Lay the planes of the ceiling about the largest, joined along their folds."""
        self.taken: list[shapely.Polygon] = []
        self.lies: dict[str, Affine] = {}
        left = sorted(self.ceilings, key=lambda s: (-s.surface.area_m2, s.surface.ref))
        while left:
            part, lie = self._next(left)
            left.remove(part)
            self.lies[part.surface.ref] = lie
            self.taken.append(shapely.Polygon(lie.apply_all(part.surface.outline.outer)))

    def _next(self, left: list[SurfaceScheme]) -> tuple[SurfaceScheme, Affine]:
        """Return the next plane and its lie: beside one that lies already, or by itself."""
        for part in left:
            for edge in part.surface.edges:
                for other in self.ceilings:
                    if other.surface.ref not in self.lies:
                        continue
                    met = _matching(part.surface, edge, other.surface)
                    if met is None:
                        continue
                    there = self.lies[other.surface.ref].apply_all(met)
                    lie = lie_on((edge.a, edge.b), (there[0], there[1]), mirrored=False)
                    if self._is_free(lie.apply_all(part.surface.outline.outer)):
                        return part, lie
        part = left[0]
        lie = true_lie(part.surface)
        ring = lie.apply_all(part.surface.outline.outer)
        if self._is_free(ring):
            return part, lie
        right = max(t.bounds[2] for t in self.taken)
        least = min(p[0] for p in ring)
        return part, Affine.moved(right + self.sketch.mm(FOOT) - least, 0.0).compose(lie)

    def _is_free(self, ring: tuple[Point, ...]) -> bool:
        here = shapely.Polygon(ring).buffer(-HAIR)
        return not any(here.intersects(t) for t in self.taken)

    def _draw_ceilings(self) -> None:
        for part in self.ceilings:
            lie = self.lies[part.surface.ref]
            self._draw_face(part, lie)
            draw_pitch(self.sketch, part.surface)
            self._add(part, lie)

    def plane(self, part: SurfaceScheme, over: Affine) -> Pane:
        """Draw one plane by itself, with what its sides meet and how long they are.

        Args:
            part: The plane.
            over: Where the unfolded ceiling comes to lie.
        """
        surface = part.surface
        lie = over.compose(self.lies[surface.ref])
        self._draw_face(part, lie)
        draw_pitch(self.sketch, surface)
        names = side_names(self.room)
        draw_sides(self.sketch, surface, {k: v for k, v in names.items() if "/wall:" in k})
        for edge in surface.edges if self.show.dimensions else ():
            if edge.kind is not EdgeKind.OPENING and "/ceiling" not in edge.other:
                text = on_tape(distance(edge.a, edge.b), self.units)
                side = EdgeLength(a=edge.b, b=edge.a, text=text, ref="", out=SIDE_OUT)
                draw_edge_length(self.sketch, side)
        return Pane(
            surface=surface.ref,
            key=surface.key,
            marks=self.sketch.taken_off(),
            placing=lie,
            outline=lie.apply_all(surface.outline.outer),
            caption=surface.name,
        )

    # --- the walls ----------------------------------------------------------------------

    def _hung(self) -> tuple[Hung, ...]:
        """Hang every lined wall on its longest edge of the ceiling; the longest go first."""
        indexes = [i for i, w in enumerate(self.room.walls) if w.id in self.walls]
        indexes.sort(key=lambda i: (-round(self.room.wall_length(i), 1), i))
        found: list[Hung] = []
        for index in indexes:
            wall = self._moved_free(self._on_edge(index))
            self.taken.append(self._shape(wall))
            found.append(wall)
        return tuple(sorted(found, key=lambda h: h.index))

    def _on_edge(self, index: int) -> Hung:
        parts = self.walls[self.room.walls[index].id]
        best: tuple[float, Affine, tuple[Point, Point]] | None = None
        for part in parts:
            for edge in part.surface.edges:
                for over in self.ceilings:
                    if edge.other != over.surface.ref.partition(".")[0]:
                        continue
                    met = _matching(part.surface, edge, over.surface)
                    if met is None:
                        continue
                    there = self.lies[over.surface.ref].apply_all(met)
                    line = (there[0], there[1])
                    long = distance(edge.a, edge.b)
                    if best is None or long > best[0] + HAIR:
                        lie = lie_on((edge.a, edge.b), line, mirrored=True)
                        best = (long, lie, line)
        if best is not None:
            return Hung(index=index, lie=best[1], edge=best[2])
        a, b = self.room.wall_ends(index)
        top = max(p.surface.outline.bounds[3] for p in parts)
        lie = lie_on(((0.0, top), (distance(a, b), top)), (a, b), mirrored=True)
        return Hung(index=index, lie=lie, edge=None)

    def _shape(self, wall: Hung) -> shapely.Polygon:
        """Return where a wall lies, with room for its letter at its foot."""
        parts = self.walls[self.room.walls[wall.index].id]
        foot = self.sketch.mm(FOOT)
        rings = []
        low = min(p.surface.outline.bounds[1] for p in parts) + 1.0
        for part in parts:
            ring = [(u, v - foot if v < low else v) for u, v in part.surface.outline.outer]
            rings.append(shapely.Polygon(wall.lie.apply_all(ring)))
        return shapely.union_all(rings).convex_hull if len(rings) > 1 else rings[0]

    def _moved_free(self, wall: Hung) -> Hung:
        """Move a wall away from the ceiling until it lies on nothing."""
        down = wall.lie.apply((0.0, -1.0))
        zero = wall.lie.apply((0.0, 0.0))
        nx, ny = down[0] - zero[0], down[1] - zero[1]
        clear = self.sketch.mm(CLEAR)
        for _ in range(MOST_MOVES):
            here = self._shape(wall).buffer(-HAIR)
            met = [t for t in self.taken if here.intersects(t)]
            if not met:
                break
            near = min(x * nx + y * ny for x, y in shapely.get_coordinates(here))
            shared = shapely.union_all([here.intersection(t) for t in met])
            far = max(float(x) * nx + float(y) * ny for x, y in shapely.get_coordinates(shared))
            step = max(far - near, 0.0) + clear
            lie = Affine.moved(nx * step, ny * step).compose(wall.lie)
            wall = replace(wall, lie=lie, out=wall.out + step)
        return wall

    def _draw_hung(self, wall: Hung) -> None:
        """Draw a wall, in more than one part if an opening divides it."""
        parts = self.walls[self.room.walls[wall.index].id]
        drawn: set[str] = set()
        on_floor = False
        for part in parts:
            openings = tuple(o for o in part.surface.openings if o.id not in drawn)
            drawn.update(o.id for o in openings)
            face = replace(part, surface=replace(part.surface, openings=openings))
            on_floor |= any(e.kind is EdgeKind.FLOOR for e in part.surface.edges)
            self._draw_face(face, wall.lie)
            if self.show.sheets:
                draw_packers(self.sketch, part)
            self._add(part, wall.lie)
        a, b = self._foot(wall)
        if on_floor:
            self.sketch.stroke((a, b), "wall", "floor")
        self._letter(wall.index, a, b, 0.0)
        last = self.panes.pop()
        self.panes.append(replace(last, marks=(*last.marks, *self.sketch.taken_off())))

    def _foot(self, wall: Hung) -> tuple[Point, Point]:
        """Return the foot of a wall, what is outside on its left."""
        length = self.room.wall_length(wall.index)
        a, b = wall.lie.apply_all(((0.0, 0.0), (length, 0.0)))
        return a, b

    def _draw_ends(self, wall: Hung) -> None:
        """Write how high a wall's framing stands at its left and right end, where there is room."""
        over = tops(self.room, *self.room.wall_ends(wall.index), lambda _: 0.0)
        length = self.room.wall_length(wall.index)
        room = self.sketch.mm(HEIGHT_ROOM)
        # Seen with its foot downwards the left end's outside lies on the left going down.
        ends = (
            ((0.0, over[0].z0), (0.0, 0.0), -room),
            ((length, 0.0), (length, over[-1].z1), room),
        )
        others = shapely.union_all(
            [t for t in self.taken if not t.equals(self._shape(wall))] or [shapely.Polygon()]
        )
        for low, high, aside in ends:
            strip = wall.lie.apply_all(
                (low, high, (high[0] + aside, high[1]), (low[0] + aside, low[1]))
            )
            if shapely.Polygon(strip).intersection(others).area > room * HAIR * 4:
                continue
            a, b = wall.lie.apply_all((low, high))
            p, q = (b, a) if wall.lie.mirrored else (a, b)
            text = on_tape(distance(a, b), self.units)
            if distance(a, b) <= 1.0:
                continue
            length_of = EdgeLength(a=q, b=p, text=text, ref="", out=HEIGHT_OUT)
            draw_edge_length(self.sketch, length_of)

    def _join(self, wall: Hung) -> None:
        """Join a wall that was moved out to its own edge of the ceiling."""
        if wall.out <= 0 or wall.edge is None:
            return
        down = wall.lie.apply((0.0, -1.0))
        zero = wall.lie.apply((0.0, 0.0))
        nx, ny = (down[0] - zero[0]) * wall.out, (down[1] - zero[1]) * wall.out
        ref = f"fold:{self.room.walls[wall.index].id}"
        for x, y in wall.edge:
            self.sketch.stroke(((x, y), (x + nx, y + ny)), "dimension", ref)


def _matching(own: Surface, edge: SurfaceEdge, other: Surface) -> tuple[Point, Point] | None:
    """Return where the begin and the end of an edge lie on another face, or None.

    It is an edge of that face too if it is the same line of the building.
    """
    if edge.kind not in MEETING or not (is_ceiling(own.key) or is_ceiling(other.key)):
        return None
    a, b = in_building(own.placing, edge.a), in_building(own.placing, edge.b)
    best: tuple[float, Point, Point] | None = None
    for met in other.edges:
        if met.kind not in MEETING:
            continue
        for p, q in ((met.a, met.b), (met.b, met.a)):
            ends = in_building(other.placing, p), in_building(other.placing, q)
            off = max(math.dist(a, ends[0]), math.dist(b, ends[1]))
            if off <= MEETS and (best is None or off < best[0]):
                best = (off, p, q)
    return (best[1], best[2]) if best else None
