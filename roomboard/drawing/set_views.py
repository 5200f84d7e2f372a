"""The drawings of the printed set, each with its caption, still without a place on a page."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property
from typing import Protocol

from roomboard.core.cutting import CutSheet
from roomboard.core.handed import twins
from roomboard.core.project import Room, Units
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.sheeting import Piece
from roomboard.core.surface import SeenFrom
from roomboard.core.units import INCH, on_tape, write_mass
from roomboard.drawing.bevels import bevels_in_words, edge_bevels, hand_words
from roomboard.drawing.carpentry import surface_names
from roomboard.drawing.ceiling_plan import TAG, ceiling_plan
from roomboard.drawing.counting import (
    APART,
    COUNTED_SIGN,
    countable,
    held_in_words,
    least_gap,
    lines_of,
)
from roomboard.drawing.cut_list import sheets_by_piece
from roomboard.drawing.cutting_diagram import (
    CutPiece,
    called,
    cut_pieces,
    cutting_diagram,
    listed_cuts,
)
from roomboard.drawing.displaylist import DisplayList
from roomboard.drawing.elevation import elevation, neighbours_in_words
from roomboard.drawing.floor_plan import floor_plan
from roomboard.drawing.layered import layered_name
from roomboard.drawing.lining import FIXING, SHEETING, Show
from roomboard.drawing.part_sketch import PartSketch
from roomboard.drawing.parts import Part, drawn_part, key_plan, parts_of
from roomboard.drawing.piece_sheet import piece_sheet
from roomboard.drawing.piece_sides import piece_sides, stretches
from roomboard.drawing.placing import View
from roomboard.drawing.raked import TRUE_FACE, climbs, slope_words
from roomboard.drawing.room_names import numbers_in_words
from roomboard.drawing.tapering import taper_in_words

MIRROR = "Face up: the mirror of the ceiling plan, which shows the back."
"""Stands under every piece of a ceiling."""
COUNTED = replace(FIXING, dimensions=False, start=False)
"""What is shown where fasteners are counted: the other drawings have the dimensions."""
PLAN_DIMENSIONS = (
    "From the lower left corner of the framing: middles of framing and of timber clear of walls "
    "and holes, sides of holes, middles of round ones."
)
"""Says what the carpenter's plan dimensions."""
PACKED = " + and a figure: a packer so thick under the member there."
"""Says what the figures at members are, where some are packed."""
METRIC_GRID = 10.0
"""Match lines lie at whole numbers of these, mm; of inches in feet and inches."""
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
    def cut_pieces(self) -> Mapping[str, CutPiece]:
        """What cutting diagrams say of every piece, by its id."""
        return cut_pieces(self.scheme)

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
            caption = self._over(s, room)
            draw = _bound(ceiling_plan, s, room.room, self.units, show)
        else:
            beside = neighbours_in_words(surface, room.room) if is_whole_wall(s) else ""
            tail = f" from inside ({beside})" if beside else ""
            head = f"{room.room.name}: " if named else ""
            caption = (f"{head}{layered_name(surface)}{tail}",)
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

    def _over(self, s: SurfaceScheme, room: RoomScheme) -> tuple[str, ...]:
        """Return what stands under the drawing of a ceiling."""
        surface = s.surface
        board = self.scheme.catalogue.board(surface.board)
        thick = board.thickness if board else 0.0
        bevels = edge_bevels(surface, room.room, thick, self.units)
        head = f"{layered_name(surface)} of {room.room.name}"
        if not climbs(surface):
            return (head, TAG, *bevels)
        return (head, slope_words(surface, self.units), TRUE_FACE, *bevels)

    def fixing(self, s: SurfaceScheme, room: RoomScheme, part: str) -> View:
        """Return the drawing of everything that holds a surface's boards, so that one can count."""
        found = self.surface(s, room, part, COUNTED)
        gap = least_gap(tuple((f.u, f.v) for f in s.fixings.fasteners))
        plain = found.draw

        def draw(scale: float, widest: float) -> DisplayList:
            return countable(plain(scale, widest), gap, scale)

        title, *notes = found.caption
        whole = replace(
            found,
            about="fixing",
            draw=draw,
            caption=(f"{title}: {held_in_words(s)}", *notes),
            coarsest=gap / (COUNTED_SIGN * APART) if gap else 0.0,
        )

        grid = METRIC_GRID if self.units is Units.METRIC else float(INCH)

        def parted(ratio: float, wide: float, high: float) -> tuple[View, ...]:
            parts = parts_of(s.surface.outline, s.surface.ref, (wide, high), lines_of(s), grid)
            return tuple(
                replace(self._fixing_part(whole, p, parts, gap), ratio=ratio) for p in parts
            )

        return replace(whole, parted=parted)

    def _fixing_part(self, whole: View, part: Part, parts: Sequence[Part], gap: float) -> View:
        """Return the drawing of what holds the boards of a part of a surface."""
        s, room = whole.surface, whole.room
        if s is None or room is None:
            raise ValueError("only surfaces of rooms are drawn in parts")
        outline = s.surface.outline
        surface = ceiling_plan if s.surface.seen_from is SeenFrom.BACK else elevation
        units = self.units

        def on(sketch: PartSketch) -> DisplayList:
            return surface(s, room.room, units, sketch.scale, COUNTED, sketch=sketch)

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            sketch = PartSketch(scale, part.window, outline, widest=widest)
            return countable(drawn_part(part, outline, on, sketch, units), gap, scale)

        title, *notes = self.surface(s, room, whole.part).caption
        held = held_in_words(s, part.window)
        u0, v0, u1, v1 = part.box
        return replace(
            whole,
            draw=draw,
            width=u1 - u0,
            height=v1 - v0,
            caption=(
                f"{title}, part {part.number} of {len(parts)}",
                f"Here {held}; in all {held_in_words(s)}. Shaded: this part.",
                *notes,
            ),
            beside=key_plan(part, parts, outline),
            key=part.name,
            window=part.box,
            parted=None,
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
            about="timber",
            width=max(xs) - min(xs),
            height=max(ys) - min(ys),
            caption=(
                f"Ceiling framing of {room.room.name}, in plan",
                PLAN_DIMENSIONS + (PACKED if any(s.packing for s in room.surfaces) else ""),
            ),
            room=room,
        )

    def piece(self, piece: Piece, s: SurfaceScheme, room: RoomScheme) -> View:
        """Return the sheet of a piece, face up, with what its sides are and lie at."""
        names = surface_names(room)
        placed = sheets_by_piece(self.scheme).get(piece.id)
        sides = piece_sides(piece, s, placed, names)
        at = stretches(piece, s, names)
        tapers = s.set_out.tapers_of(piece.mark)

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return piece_sheet(piece, sides, at, self.units, scale, widest=widest, tapers=tapers)

        units = self.units
        limit = self.scheme.project.choices.lift_limit_kg
        people = people_to_lift(piece.mass_kg, self.scheme.practice, limit)
        size = f"{on_tape(piece.length, units)} × {on_tape(piece.width, units)}"
        lift = f"{people} people" if people > 1 else "1 person"
        sheet = placed[0].id if placed else "no sheet"
        mirror = (MIRROR,) if s.surface.seen_from is SeenFrom.BACK else ()
        tapering = "; ".join(taper_in_words(t, units) for t in tapers)
        return View(
            draw=draw,
            about=f"piece:{piece.id}",
            width=piece.length,
            height=piece.width,
            caption=(
                f"{room.room.name}: {piece.mark}, face up, {size}",
                f"No. {piece.hang}, from {sheet}, {write_mass(piece.mass_kg, units)}, {lift}. "
                + ". ".join(side.in_words for side in sides)
                + "."
                + (f" Tapered: {tapering}." if tapers else ""),
                *mirror,
                *self._hand(piece, room),
            ),
            part=PIECES,
            room=room,
            surface=s,
        )

    def _hand(self, piece: Piece, room: RoomScheme) -> tuple[str, ...]:
        """Return what is said of a piece that has a left or right hand."""
        known = self._twins.get(room.room.id)
        if known is None:
            known = twins(p for s in room.surfaces for p in s.set_out.pieces)
            self._twins[room.room.id] = known
        words = (bevels_in_words(piece, self.units), hand_words(piece, known.get(piece.id, ())))
        return tuple(w for w in words if w)

    @cached_property
    def _twins(self) -> dict[str, dict[str, tuple[str, ...]]]:
        """Mirror images of pieces, by room and piece, as far as they were asked for."""
        return {}

    def cutting(self, sheet: CutSheet) -> View:
        """Return the cutting diagram of a stock sheet."""
        units = self.units
        size = f"{on_tape(sheet.length, units)} × {on_tape(sheet.width, units)}"
        board = self.scheme.catalogue.board(sheet.board)
        letter = board.letter if board else sheet.board
        mass = write_mass(sheet.mass_kg, units)
        caption = f"{called(sheet)}: {letter} {size}, {mass}"
        listed = [str(cut.number) for cut in listed_cuts(sheet, self.cut_pieces, units)]
        if listed:
            caption += f"; cuts {numbers_in_words(listed)} listed"

        @cache
        def draw(scale: float, widest: float) -> DisplayList:
            return cutting_diagram(sheet, self.cut_pieces, units, scale, widest=widest)

        return View(
            draw=draw,
            about=f"sheet:{sheet.id}",
            width=sheet.length,
            height=sheet.width,
            caption=(caption,),
            board=sheet.board,
        )


def _bound(
    draw: _Drawer, scheme: SurfaceScheme, room: Room, units: Units, show: Show
) -> Callable[[float, float], DisplayList]:
    @cache
    def drawn(scale: float, widest: float) -> DisplayList:
        return draw(scheme, room, units, scale, show, widest=widest)

    return drawn
