"""The drawings of the printed set, each with its caption, still without a place on a page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property
from typing import Protocol

from roomboard.core.cutting import CutSheet
from roomboard.core.plane import Point, distance
from roomboard.core.project import Room, Units
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.sheeting import Piece
from roomboard.core.surface import SeenFrom
from roomboard.core.units import write_length, write_mass
from roomboard.drawing.carpentry import surface_names
from roomboard.drawing.ceiling_plan import TAG, ceiling_plan
from roomboard.drawing.cutting_diagram import cutting_diagram
from roomboard.drawing.displaylist import DisplayList, Dots
from roomboard.drawing.elevation import elevation, neighbours_in_words
from roomboard.drawing.floor_plan import floor_plan
from roomboard.drawing.lining import FASTENER_SIZE, FIXING, SHEETING, Show
from roomboard.drawing.piece_sheet import piece_sheet
from roomboard.drawing.piece_sides import piece_sides, stretches
from roomboard.drawing.placing import View
from roomboard.drawing.schedule import sheets_by_piece

MIRROR = "Face up: the mirror of the ceiling plan, which shows the back."
"""Stands under every piece of a ceiling."""
COUNTED = replace(FIXING, dimensions=False, start=False)
"""What is shown where fasteners are counted: the other drawings have the dimensions."""
PLAN_DIMENSIONS = (
    "From the lower left corner of the framing: middles of framing and of timber to add, sides of "
    "holes, middles of round ones."
)
"""Says what the carpenter's plan dimensions."""
APART = 1.2
"""Signs for fasteners stand at least this many of their diameters from middle to middle."""
SMALLEST_SIGN = 0.35
"""Signs for fasteners are never smaller than this, mm: less is lost on a copy."""
CEILING, WALLS, BOXED, PIECES = "Ceiling", "Walls", "Bulkheads and reveals", "Pieces"
"""What the drawings of a kind add to the title of their page."""


class _Drawer(Protocol):
    """Draws a surface: :func:`ceiling_plan` or :func:`elevation`."""

    def __call__(
        self,
        scheme: SurfaceScheme,
        room: Room,
        units: Units,
        scale: float,
        show: Show,
        *,
        widest: float,
    ) -> DisplayList: ...


def is_whole_wall(s: SurfaceScheme) -> bool:
    """Tell whether a face is a wall (or a part of one), not a reveal or a boxed-down part."""
    kind, _, rest = s.surface.key.partition(":")
    return kind == "wall" and ":" not in rest


def surface_groups(room: RoomScheme) -> tuple[tuple[str, tuple[SurfaceScheme, ...]], ...]:
    """Return a room's surfaces as they are drawn: ceiling, walls from the door on, the rest.

    The walls stand clockwise from the one the first door is in.
    """
    over = tuple(s for s in room.surfaces if s.surface.seen_from is SeenFrom.BACK)
    faces = [s for s in room.surfaces if s.surface.seen_from is SeenFrom.FACE]
    walls = [s for s in faces if is_whole_wall(s)]
    boxed = tuple(s for s in faces if not is_whole_wall(s))
    hosts = [o.host for o in room.room.openings if o.kind.value == "door"]
    order = [w.id for w in room.room.walls]
    begin = order.index(hosts[0]) if hosts and hosts[0] in order else 0
    turned = {name: n for n, name in enumerate((*order[begin:], *order[:begin]))}

    def place(s: SurfaceScheme) -> int:
        return turned.get(s.surface.key.partition(":")[2].partition(".")[0], len(turned))

    walls.sort(key=place)  # stable: the parts of one wall keep their order
    return ((CEILING, over), (WALLS, tuple(walls)), (BOXED, boxed))


def least_gap(points: tuple[Point, ...]) -> float:
    """Return the distance between the two nearest of many points; 0 if there are fewer than two.

    Args:
        points: mm.
    """
    ordered = sorted(set(points))
    best = float("inf")
    for number, a in enumerate(ordered):
        for b in ordered[number + 1 :]:
            if b[0] - a[0] >= best:
                break
            best = min(best, distance(a, b))
    return best if len(ordered) > 1 else 0.0


def _countable(marks: DisplayList, gap: float, scale: float) -> DisplayList:
    """Return a drawing with signs for fasteners small enough to stand apart."""
    size = min(FASTENER_SIZE, max(SMALLEST_SIGN, gap / scale / APART))
    return tuple(
        replace(m, paper_size=size) if isinstance(m, Dots) and m.layer == "fastener" else m
        for m in marks
    )


@dataclass(frozen=True)
class Views:
    """Makes the drawings of one set.

    Attributes:
        scheme: The whole answer.
    """

    scheme: Scheme

    @property
    def units(self) -> Units:
        """How lengths are written."""
        return self.scheme.project.units

    @cached_property
    def marks(self) -> Mapping[str, str]:
        """The mark of every piece by its id."""
        return {
            p.id: p.mark for r in self.scheme.rooms for s in r.surfaces for p in s.set_out.pieces
        }

    def surface(
        self,
        s: SurfaceScheme,
        room: RoomScheme,
        part: str,
        show: Show = SHEETING,
        *,
        named: bool = False,
    ) -> View:
        """Return the drawing of a surface.

        Args:
            s: The surface.
            room: Its room.
            part: What it adds to the title of its page.
            show: What it shows.
            named: Whether its caption names the room.
        """
        surface = s.surface
        u0, v0, u1, v1 = surface.outline.bounds
        if surface.seen_from is SeenFrom.BACK:
            caption: tuple[str, ...] = (f"{surface.name} of {room.room.name}", TAG)
            draw = _bound(ceiling_plan, s, room.room, self.units, show)
        else:
            beside = neighbours_in_words(surface, room.room) if is_whole_wall(s) else ""
            tail = f" from inside ({beside})" if beside else ""
            head = f"{room.room.name}: " if named else ""
            caption = (f"{head}{surface.name}{tail}",)
            draw = _bound(elevation, s, room.room, self.units, show)
            v0 = min(v0, 0.0) if surface.place == "wall" else v0
        return View(
            draw=draw,
            width=u1 - u0,
            height=v1 - v0,
            caption=caption,
            part=part,
            room=room,
            surface=s,
        )

    def fixing(self, s: SurfaceScheme, room: RoomScheme, part: str) -> View:
        """Return the drawing of everything that holds a surface's boards, so that one can count."""
        found = self.surface(s, room, part, COUNTED)
        counts: dict[str, int] = {}
        for f in s.fixings.fasteners:
            words = f"{f.kind.replace('_', ' ')}s"
            counts[words] = counts.get(words, 0) + 1
        counts["daubs"] = len(s.fixings.daubs)
        counts["beads of adhesive"] = len(s.fixings.beads)
        counts["back-blocks"] = len(s.fixings.back_blocks)
        words = ", ".join(f"{count} {name}" for name, count in counts.items() if count)
        gap = least_gap(tuple((f.u, f.v) for f in s.fixings.fasteners))
        plain = found.draw

        def draw(scale: float, widest: float) -> DisplayList:
            return _countable(plain(scale, widest), gap, scale)

        title, *notes = found.caption
        return replace(
            found,
            draw=draw,
            caption=(title, f"In all: {words or 'none'}.", *notes),
            coarsest=gap / (FASTENER_SIZE * APART) if gap else 0.0,
        )

    def plan(self, room: RoomScheme) -> View:
        """Return the drawing of a room in plan with its ceiling's framing, for the carpenter."""
        xs = [p[0] for p in room.room.outline]
        ys = [p[1] for p in room.room.outline]

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return floor_plan(room, self.units, scale, widest=widest, timber=True)

        return View(
            draw=draw,
            width=max(xs) - min(xs),
            height=max(ys) - min(ys),
            caption=(
                f"Ceiling framing of {room.room.name}, in plan",
                PLAN_DIMENSIONS,
            ),
            room=room,
        )

    def piece(self, piece: Piece, s: SurfaceScheme, room: RoomScheme) -> View:
        """Return the sheet of a piece, face up, with what its sides are and lie at."""
        names = surface_names(room)
        placed = sheets_by_piece(self.scheme).get(piece.id)
        sides = piece_sides(piece, s, placed, names)
        at = stretches(piece, s, names)

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return piece_sheet(piece, sides, at, self.units, scale, widest=widest)

        units = self.units
        limit = self.scheme.project.choices.lift_limit_kg
        people = people_to_lift(piece.mass_kg, self.scheme.practice, limit)
        size = f"{write_length(piece.length, units)} × {write_length(piece.width, units)}"
        lift = f"{people} people" if people > 1 else "1 person"
        sheet = placed[0].id if placed else "no sheet"
        mirror = (MIRROR,) if s.surface.seen_from is SeenFrom.BACK else ()
        return View(
            draw=draw,
            width=piece.length,
            height=piece.width,
            caption=(
                f"{room.room.name}: {piece.mark}, face up, {size}",
                f"No. {piece.hang}, from {sheet}, {write_mass(piece.mass_kg, units)}, {lift}. "
                + ". ".join(side.in_words for side in sides)
                + ".",
                *mirror,
            ),
            part=PIECES,
            room=room,
            surface=s,
        )

    def cutting(self, sheet: CutSheet) -> View:
        """Return the cutting diagram of a stock sheet."""
        units = self.units
        size = f"{write_length(sheet.length, units)} × {write_length(sheet.width, units)}"
        board = self.scheme.catalogue.board(sheet.board)
        letter = board.letter if board else sheet.board

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return cutting_diagram(sheet, self.marks, units, scale, widest=widest)

        return View(
            draw=draw,
            width=sheet.length,
            height=sheet.width,
            caption=(f"{sheet.id}: {letter} {size}, {write_mass(sheet.mass_kg, units)}",),
            board=sheet.board,
        )


def _bound(
    draw: _Drawer, scheme: SurfaceScheme, room: Room, units: Units, show: Show
) -> Callable[[float, float], DisplayList]:
    @cache
    def drawn(scale: float, widest: float) -> DisplayList:
        return draw(scheme, room, units, scale, show, widest=widest)

    return drawn
