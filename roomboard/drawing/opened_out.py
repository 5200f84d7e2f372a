"""The room opened out: the ceiling in the middle, each wall folded out along its own edge.

It is laid out like the floor plan, the floor lying outermost: joists, studs and joints run on
across the folds. What it costs is the lettering: every label is tried at some sixty places, so a
room takes a few tens of milliseconds; nothing is kept between calls.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import shapely

from roomboard.core.plane import Point, Ring, distance, fault_in
from roomboard.core.project import Room, Units, WallKind
from roomboard.core.scheme import RoomScheme, SurfaceScheme
from roomboard.core.surface import EdgeKind
from roomboard.core.units import on_tape
from roomboard.drawing.boxes import draw_boxes
from roomboard.drawing.displaylist import Across, DisplayList, Up
from roomboard.drawing.edge_lengths import (
    EdgeLength,
    beside,
    draw_edge_length,
    draw_outline,
    is_measured,
    left_of,
)
from roomboard.drawing.elevation import draw_packers
from roomboard.drawing.layered import NARROWEST, layer_words, of_layer
from roomboard.drawing.lettering import SMALLEST, line_pitch, text_width, wrapped
from roomboard.drawing.lining import SHEETING, Show, draw_lining
from roomboard.drawing.raked import is_sloping
from roomboard.drawing.sketch import Line, Sketch, marked, plain, spots_on
from roomboard.drawing.tape import by_tape, tape_openings
from roomboard.drawing.tapering import write_start_inside
from roomboard.drawing.view import AS_IT_LIES, NOTES, Affine, Pane, View

NAME = "opened_out"
TAG = (
    "Opened out like the floor plan, as in a mirror on the floor: "
    "seen from inside, left and right swap."
)
"""Stands under every room opened out."""
FOOT = 16.0
"""Room kept beyond the floor for a wall's letter and length, mm on paper."""
LETTER_OUT, LENGTH_OUT = 12.0, 3.5
"""How far beyond the floor a wall's letter and its length stand, mm on paper."""
CLEAR = 5.0
"""Walls that are moved out stand this far from what they were moved off, mm on paper."""
HEIGHT_OUT = 3.5
"""How far beside a wall its height stands, mm on paper."""
HEIGHT_ROOM = 8.0
"""Room a height takes beside a wall, mm on paper."""
ROW_GAP, FACE_GAP, CAPTION_GAP = 10.0, 8.0, 2.0
"""Between the room and the faces under it, between these, and to their captions, mm on paper."""
HAIR = 0.5
"""Faces that overlap by less (mm) only touch."""
MOST_MOVES = 200
"""A wall moves clear of one face at a time; no room has more faces in the way of one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Folded:
    """A wall folded out.

    Attributes:
        index: Number of the wall in the room, from 0.
        a: Left end in plan, mm.
        b: Right end.
        top: Height of its lining's top over the floor, mm.
        out: How far it is moved out, mm.
    """

    index: int
    a: Point
    b: Point
    top: float
    out: float = 0.0

    @property
    def placing(self) -> Affine:
        """Where its (u, v) comes to lie."""
        nx, ny = left_of(self.a, self.b)
        length = distance(self.a, self.b)
        along = ((self.b[0] - self.a[0]) / length, (self.b[1] - self.a[1]) / length)
        reach = self.top + self.out
        return Affine.on_axes((self.a[0] + nx * reach, self.a[1] + ny * reach), along, (-nx, -ny))

    def quad(self, inner: float, outer: float) -> Ring:
        """Return the strip between two distances from the wall's edge in plan, mm."""
        p, q = beside(self.a, self.b, inner)
        r, s = beside(self.a, self.b, outer)
        return (p, q, s, r)


def opened_out(
    scheme: RoomScheme,
    units: Units,
    scale: float,
    show: Show = SHEETING,
    *,
    stock: Mapping[str, str] | None = None,
) -> View:
    """Draw a room opened out flat, laid out like the floor plan.

    A wall that would lie on another face (at corners that point into the room) is moved out
    until it is free, and thin lines join it to its own edge of the ceiling. Reveals and the faces
    of bulkheads stand in rows underneath. Labels that find no room are left out.

    Args:
        scheme: The room and everything on its surfaces; one without surfaces is only an outline.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        stock: Number of the stock sheet of each piece, by the piece's id, for drawings that
            show where pieces come from.
    """
    if stock is not None:
        show = replace(show, stock_of=stock)
    if is_sloping(scheme.room):
        from roomboard.drawing.net import Net

        return Net(scheme, units, scale, show).view()
    return OpenedOut(scheme, units, scale, show).view()


class OpenedOut:
    """A room being opened out."""

    def __init__(self, scheme: RoomScheme, units: Units, scale: float, show: Show) -> None:
        self.scheme = scheme
        self.room: Room = scheme.room
        self.units = units
        self.show = show
        self.sketch = Sketch(scale, call_outs=False)
        self.panes: list[Pane] = []
        self.walls: dict[str, list[SurfaceScheme]] = {}
        self.ceilings: list[SurfaceScheme] = []
        self.others: list[SurfaceScheme] = []
        known = {wall.id for wall in self.room.walls}
        for part in of_layer(scheme.surfaces, show.layer):
            kind, _, wall = part.surface.key.partition(".")[0].partition(":")
            if kind == "ceiling":
                self.ceilings.append(part)
            elif kind == "wall" and wall in known:
                self.walls.setdefault(wall, []).append(part)
            else:
                self.others.append(part)

    def view(self) -> View:
        """Return the finished view."""
        folded = self._folded()
        self._draw_middle()
        for wall in folded:
            self._draw_wall(wall)
        lengths: DisplayList = ()
        if self.show.dimensions:
            self._draw_heights(folded)
            lengths = self.sketch.taken_off()
        if self.others:
            self._draw_others()
        self._draw_joins(folded)
        joins = self.sketch.taken_off()
        if self.panes and folded:
            self._tag()
        return self._finished(joins, lengths)

    def _finished(self, joins: DisplayList, lengths: DisplayList) -> View:
        """Return the view, with everything that lies on no face in a pane under the others."""
        notes = Pane(
            surface="",
            key=NOTES,
            marks=(*joins, *lengths, *self.sketch.taken_off()),
            placing=AS_IT_LIES,
            outline=(),
            caption="",
        )
        return View(name=NAME, panes=(notes, *self.panes), scale=self.sketch.scale)

    # --- where walls lie ----------------------------------------------------------------

    def _folded(self) -> tuple[_Folded, ...]:
        """Fold every lined wall out; the longest stay at their edges, the others give way."""
        if not is_measured(self.room) or fault_in(self.room.outline):
            return ()
        found = []
        for index, wall in enumerate(self.room.walls):
            parts = self.walls.get(wall.id)
            if parts:
                a, b = self.room.wall_ends(index)
                top = max(p.surface.outline.bounds[3] for p in parts)
                found.append(_Folded(index=index, a=a, b=b, top=top))
        foot, clear = self.sketch.mm(FOOT), self.sketch.mm(CLEAR)
        taken = [shapely.Polygon(self.room.outline)]
        done = []
        for folded in sorted(found, key=lambda f: (-round(distance(f.a, f.b), 1), f.index)):
            placed = _moved_free(folded, taken, foot, clear)
            taken.append(shapely.Polygon(placed.quad(placed.out, placed.out + placed.top + foot)))
            done.append(placed)
        return tuple(sorted(done, key=lambda f: f.index))

    # --- panes --------------------------------------------------------------------------

    def _draw_middle(self) -> None:
        """Draw the ceiling, or the outline of the room where none is lined."""
        for part in self.ceilings:
            self._draw_face(part, AS_IT_LIES)
            self._add(part, AS_IT_LIES)
        if not is_measured(self.room):
            draw_outline(self.sketch, self.room.outline, self.units, closed=True)
        for index, wall in enumerate(self.room.walls if is_measured(self.room) else ()):
            if wall.id in self.walls and self.ceilings:
                continue
            a, b = self.room.wall_ends(index)
            layer = "wall" if wall.kind is WallKind.WALL else "no_wall"
            self.sketch.stroke((a, b), layer, wall.id)
            if wall.id not in self.walls:
                self._letter(index, a, b, 0.0)
        if is_measured(self.room):
            draw_boxes(self.sketch, self.room, self.units)
        marks = self.sketch.taken_off()
        if not self.ceilings:
            self.panes.append(
                Pane(
                    surface="",
                    key="plan",
                    marks=marks,
                    placing=AS_IT_LIES,
                    outline=self.room.outline,
                    caption=self.room.name,
                )
            )
        elif marks:
            last = self.panes.pop()
            self.panes.append(replace(last, marks=(*last.marks, *marks)))

    def _draw_wall(self, wall: _Folded) -> None:
        """Draw a wall, in more than one part if an opening divides it."""
        placing = wall.placing
        drawn: set[str] = set()
        on_floor = False
        for part in self.walls[self.room.walls[wall.index].id]:
            openings = tuple(o for o in part.surface.openings if o.id not in drawn)
            drawn.update(o.id for o in openings)
            face = replace(part, surface=replace(part.surface, openings=openings))
            on_floor |= any(e.kind is EdgeKind.FLOOR for e in part.surface.edges)
            self._draw_face(face, placing)
            if self.show.sheets:
                draw_packers(self.sketch, part)
            self._add(part, placing)
        if on_floor:
            self.sketch.stroke(beside(wall.a, wall.b, wall.out + wall.top), "wall", "floor")
        self._letter(wall.index, wall.a, wall.b, wall.out + wall.top)
        last = self.panes.pop()
        self.panes.append(replace(last, marks=(*last.marks, *self.sketch.taken_off())))

    def _draw_others(self) -> None:
        """Draw reveals and the faces of bulkheads in rows under the room."""
        mm = self.sketch.mm
        x0, y0, x1, _ = self.sketch.extent()
        x, y, lowest = x0, y0 - mm(ROW_GAP), y0 - mm(ROW_GAP)
        for part in self.others:
            u0, v0, u1, v1 = part.surface.outline.bounds
            caption = plain(part.surface.name)
            wide = max(u1 - u0, mm(text_width(part.surface.name, SMALLEST)))
            if x > x0 and x + wide > x1:
                x, y = x0, lowest - mm(FACE_GAP)
            placing = Affine.moved(x - u0, y - v1)
            self._draw_face(part, placing)
            self.sketch.lay_on(AS_IT_LIES)
            foot = y - (v1 - v0) - mm(CAPTION_GAP)
            at = (x, foot)
            anchor = (Across.LEFT, Up.TOP)
            texts = self.sketch.lay(caption, at, 0.0, anchor, "lettering", part.surface.ref)
            self.sketch.write(texts)
            self._add(part, placing)
            lowest = min(lowest, foot - mm(line_pitch(SMALLEST)))
            x += wide + mm(FACE_GAP)

    def _draw_face(self, part: SurfaceScheme, placing: Affine) -> None:
        self.sketch.lay_on(placing)
        # Start lines reach past their face, where another one lies here.
        draw_lining(self.sketch, part, self.room, self.units, replace(self.show, start=False))
        if self.show.sheets and self.show.start and not part.surface.lettered:
            write_start_inside(self.sketch, part, self.units)

    def _add(self, part: SurfaceScheme, placing: Affine) -> None:
        """Keep what was drawn since the last pane as the pane of a surface."""
        surface = part.surface
        marks = self.sketch.taken_off()
        self.sketch.lay_on(AS_IT_LIES)
        self.panes.append(
            Pane(
                surface=surface.ref,
                key=surface.key,
                marks=marks,
                placing=placing,
                outline=placing.apply_all(surface.outline.outer),
                caption=surface.name,
            )
        )

    # --- lettering ----------------------------------------------------------------------

    def _letter(self, index: int, a: Point, b: Point, reach: float) -> None:
        """Write a wall's length beyond its foot, and its letter beyond that."""
        wall = self.room.walls[index]
        p, q = beside(a, b, reach)
        out = LENGTH_OUT + 1.5
        if self.show.dimensions:
            text = on_tape(distance(a, b), self.units)
            ref = f"length:{wall.id}"
            more = 0.0
            if by_tape(self.show):
                line = (p, q)
                more = tape_openings(
                    self.sketch, line, self.room, wall.id, self.units, out=LENGTH_OUT
                )
            length = EdgeLength(a=p, b=q, text=text, ref=ref, out=LENGTH_OUT + more)
            if draw_edge_length(self.sketch, length):
                out = LETTER_OUT + more
        spots = [
            s
            for more in (0.0, 3.0, 6.0)
            for s in spots_on(*beside(p, q, self.sketch.mm(out + more)))
        ]
        self.sketch.label((marked(wall.name or wall.id),), spots, ref=wall.id, mask=False)

    def _draw_heights(self, folded: Iterable[_Folded]) -> None:
        """Write each height once, beside a wall that has room for it."""
        walls = tuple(folded)
        if not walls:
            return
        room = self.sketch.mm(HEIGHT_ROOM)
        taken = shapely.union_all(
            [
                shapely.Polygon(self.room.outline),
                *(shapely.Polygon(w.quad(w.out, w.out + w.top)) for w in walls),
            ]
        )
        written: set[float] = set()
        for wall in walls:
            high = round(wall.top, 1)
            if high in written:
                continue
            sides = _sides(wall, self.room.height)
            # Above the lining's top only the thickness of the ceiling's board is measured.
            for (a, b), (p, q) in zip(sides, _sides(wall, wall.top), strict=True):
                strip = shapely.Polygon((p, q, *reversed(beside(p, q, room))))
                if strip.intersection(taken).area > room * HAIR * 4:
                    continue
                text = on_tape(self.room.height, self.units)
                length = EdgeLength(a=a, b=b, text=text, ref="height", out=HEIGHT_OUT)
                if draw_edge_length(self.sketch, length):
                    written.add(high)
                    break

    def _draw_joins(self, folded: Iterable[_Folded]) -> None:
        """Join walls that were moved out to their own edges of the ceiling."""
        for wall in folded:
            if wall.out <= 0:
                continue
            p, q = beside(wall.a, wall.b, wall.out)
            ref = self.room.walls[wall.index].id
            self.sketch.stroke((wall.a, p), "dimension", f"fold:{ref}")
            self.sketch.stroke((wall.b, q), "dimension", f"fold:{ref}")

    def _tag(self) -> None:
        x0, y0, x1, _ = self.sketch.extent()
        at = (x0, y0 - self.sketch.mm(CAPTION_GAP * 2))
        width = max((x1 - x0) / self.sketch.scale, NARROWEST)
        said = (TAG, layer_words(self.scheme.surfaces, self.show.layer))
        lines = tuple(Line(text=text) for words in said if words for text in wrapped(words, width))
        self.sketch.write(self.sketch.lay(lines, at, 0.0, (Across.LEFT, Up.TOP), "lettering", ""))


def _sides(wall: _Folded, height: float) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Return the left and right side of a wall from ceiling to floor, outside on the left."""
    low, high = wall.out + wall.top - height, wall.out + wall.top
    p, q = beside(wall.a, wall.b, low)
    r, s = beside(wall.a, wall.b, high)
    return ((p, r), (s, q))


def _moved_free(wall: _Folded, taken: list[shapely.Polygon], foot: float, clear: float) -> _Folded:
    """Move a wall out along its normal until it lies on nothing.

    Args:
        wall: The wall at its edge.
        taken: Where others lie.
        foot: Room to keep beyond its floor, mm.
        clear: How far to stay from what it is moved off, mm.
    """
    nx, ny = left_of(wall.a, wall.b)
    base = wall.a[0] * nx + wall.a[1] * ny
    inset = min(HAIR, distance(wall.a, wall.b) / 4)
    dx, dy = ny * inset, -nx * inset  # along the wall
    narrow = replace(
        wall,
        a=(wall.a[0] + dx, wall.a[1] + dy),
        b=(wall.b[0] - dx, wall.b[1] - dy),
    )
    for _ in range(MOST_MOVES):
        here = shapely.Polygon(narrow.quad(narrow.out + HAIR, narrow.out + narrow.top + foot))
        met = [t for t in taken if here.intersection(t).area > HAIR * HAIR]
        if not met:
            break
        far = narrow.out
        for other in met:
            shared = here.intersection(other)
            corners = shapely.get_coordinates(shared)
            far = max(far, max(float(x) * nx + float(y) * ny for x, y in corners) - base)
        narrow = replace(narrow, out=far + clear)
    return replace(wall, out=narrow.out)
