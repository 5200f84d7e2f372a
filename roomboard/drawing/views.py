"""The views a room can be looked at in, each over the drawings that are printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from roomboard.core.cutting import CutPlan, CutSheet
from roomboard.core.heights import is_ceiling
from roomboard.core.plane import Point, Ring
from roomboard.core.project import Room, Units
from roomboard.core.scheme import RoomScheme, Scheme, SurfaceScheme
from roomboard.core.units import on_tape
from roomboard.drawing.boxes import draw_boxes
from roomboard.drawing.ceiling_plan import ceiling_plan
from roomboard.drawing.cutting_diagram import CutPiece, called, cut_pieces, cutting_diagram
from roomboard.drawing.displaylist import Across, Box, DisplayList, Up, bounds, placed
from roomboard.drawing.edge_lengths import (
    draw_outline,
    is_measured,
)
from roomboard.drawing.elevation import elevation
from roomboard.drawing.floor_plan import draw_walls, floor_plan
from roomboard.drawing.layered import of_layer, with_layer_said
from roomboard.drawing.lenses import LENSES, Lens
from roomboard.drawing.lettering import SMALLEST
from roomboard.drawing.lining import (
    FRAMING,
    SHEETING,
    Show,
    chain_stops,
    draw_lining,
    joint_places,
    outline_places,
    overall,
    stops_of,
)
from roomboard.drawing.measured import length_refs, wall_key
from roomboard.drawing.net import ceiling_net
from roomboard.drawing.opened_out import NAME as OPENED_OUT
from roomboard.drawing.raked import climbs
from roomboard.drawing.sketch import Line, Side, Sketch
from roomboard.drawing.tape import by_tape, tape_face, tape_plan
from roomboard.drawing.view import AS_IT_LIES, Affine, Pane, View

__all__ = [
    "LENSES",
    "VIEW_NAMES",
    "Lens",
    "ceiling_view",
    "cut_view",
    "face_view",
    "plan_view",
    "sketch_plan",
    "stock_of",
]

PLAN, CEILING, CEILING_BELOW, FACE, CUT = "plan", "ceiling", "ceiling_below", "face", "cut"
VIEW_NAMES: dict[str, str] = {
    OPENED_OUT: "Room opened out",
    PLAN: "Floor plan",
    CEILING: "Ceiling, as in the plan",
    CEILING_BELOW: "Ceiling, seen from below",
    FACE: "Wall or face, seen from inside",
    CUT: "Cutting the stock sheets",
}
"""What each view is called."""
CUT_GAP, CUT_CAPTION = 12.0, 3.0
"""Between diagrams of stock sheets, and from a diagram to its caption, mm on paper."""
SCREEN = 1.25
"""How many times as wide as high the canvas of a screen is, about."""


def stock_of(plan: CutPlan) -> dict[str, str]:
    """Return the number of the stock sheet of each piece, by the piece's id."""
    return {p.piece: sheet.id for sheet in plan.every for p in sheet.placements}


def _with_stock(show: Show, stock: Mapping[str, str] | None) -> Show:
    return show if stock is None else replace(show, stock_of=stock)


# --- plan -------------------------------------------------------------------------------


def plan_view(
    scheme: RoomScheme,
    units: Units,
    scale: float,
    show: Show = FRAMING,
    *,
    stock: Mapping[str, str] | None = None,
) -> View:
    """Show a room in plan; without framing and sheets, with the length of every wall.

    A room that could not be worked out is shown as far as it has been drawn.

    Args:
        scheme: The room and everything on its surfaces, if any.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        stock: Number of the stock sheet of each piece, by the piece's id.
    """
    room = scheme.room
    if not is_measured(room):
        return sketch_plan(room.outline, True, units, scale)  # noqa: FBT003 - it is closed
    show = _with_stock(show, stock)
    sketch = Sketch(scale, call_outs=False)
    tape = by_tape(show)
    drawn = replace(show, dimensions=False) if tape or not scheme.surfaces else show
    marks = floor_plan(scheme, units, scale, drawn, sketch=sketch)
    if tape or (show.dimensions and not scheme.surfaces):
        sketch.taken_off()
        tape_plan(sketch, room, units)
        marks = (*marks, *sketch.taken_off())
    ceilings = _ceilings(scheme, show.layer)
    pane = Pane(
        surface=ceilings[0].surface.ref if ceilings else "",
        key=PLAN,
        marks=marks,
        placing=AS_IT_LIES,
        outline=room.outline,
        caption=room.name,
    )
    view = View(name=PLAN, panes=(pane,), scale=scale)
    sheets = show.sheets or show.faint
    return with_layer_said(view, ceilings, show.layer) if sheets else view


def sketch_plan(
    corners: Sequence[Point],
    closed: bool,  # noqa: FBT001 - a plan is drawn or still being drawn
    units: Units,
    scale: float,
) -> View:
    """Show an outline as far as it has been drawn, with the length of each side.

    Sides are called ``"edge:0"``, ``"edge:1"``, ... and their lengths ``"length:0"``, ...

    Args:
        corners: In the order in which they were set, mm; one or none is no fault.
        closed: Whether the last is joined to the first.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
    """
    sketch = Sketch(scale, call_outs=False)
    ring = draw_outline(sketch, corners, units, closed=closed)
    pane = Pane(
        surface="",
        key=PLAN,
        marks=sketch.taken_off(),
        placing=AS_IT_LIES,
        outline=ring if closed and len(ring) > 2 else (),
        caption="",
    )
    return View(name=PLAN, panes=(pane,), scale=scale)


# --- ceiling ----------------------------------------------------------------------------


def _ceilings(scheme: RoomScheme, layer: int) -> list[SurfaceScheme]:
    """Return the parts of a room's ceiling, in the layer that is shown."""
    return [s for s in of_layer(scheme.surfaces, layer) if is_ceiling(s.surface.key)]


def ceiling_view(
    scheme: RoomScheme,
    units: Units,
    scale: float,
    show: Show = SHEETING,
    *,
    stock: Mapping[str, str] | None = None,
    from_below: bool = False,
) -> View:
    """Show a room's ceiling, laid out like the plan or as one sees it looking up.

    Args:
        scheme: The room; one whose ceiling is not lined is shown in plan.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        stock: Number of the stock sheet of each piece, by the piece's id.
        from_below: Whether left and right swap, as they do for one who looks up.
    """
    parts = _ceilings(scheme, show.layer)
    if not parts:
        return plan_view(scheme, units, scale, show, stock=stock)
    show = _with_stock(show, stock)
    if any(climbs(s.surface) for s in parts):
        faces = ceiling_net(scheme, units, scale, show, from_below=from_below)
        view = View(name=CEILING_BELOW if from_below else CEILING, panes=faces, scale=scale)
        return with_layer_said(view, parts, show.layer)
    sketch = Sketch(scale, call_outs=False)
    room = scheme.room
    tape = by_tape(show)
    if tape:
        show = replace(show, dimensions=False)
    placing = Affine(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0) if from_below else AS_IT_LIES
    panes: list[Pane] = []
    sketch.lay_on(placing)
    for part in parts[1:]:
        draw_lining(sketch, part, room, units, show)
        panes.append(_pane(part, sketch.taken_off(), placing))
    if from_below:
        marks = _ceiling_below(sketch, parts[0], room, units, show)
    else:
        marks = ceiling_plan(parts[0], room, units, scale, show, sketch=sketch)
    if tape:
        sketch.taken_off()
        sketch.lay_on(placing)
        tape_plan(sketch, room, units)
        marks = (*marks, *sketch.taken_off())
    panes.insert(0, _pane(parts[0], marks, placing))
    view = View(name=CEILING_BELOW if from_below else CEILING, panes=tuple(panes), scale=scale)
    return with_layer_said(view, parts, show.layer)


def _ceiling_below(
    sketch: Sketch, part: SurfaceScheme, room: Room, units: Units, show: Show
) -> DisplayList:
    """Draw a ceiling on a mirrored sketch; its dimensions are written where they then lie."""
    placing = sketch.placing
    draw_lining(sketch, part, room, units, show)
    draw_walls(sketch, room)
    draw_boxes(sketch, room, units)
    sketch.lay_on(AS_IT_LIES)
    if show.dimensions:
        outline_u, outline_v = outline_places(part.surface.outline)
        joints_u, joints_v = joint_places(part) if show.sheets else ((), ())
        across = stops_of(placing.apply((u, 0.0))[0] for u in (*outline_u, *joints_u))
        up = stops_of((*outline_v, *joints_v))
        for stops, side in ((across, Side.BOTTOM), (up, Side.LEFT)):
            # Left and right are swapped: what comes first on the drawing lies last in the room.
            axis, plain = (0, [-u for u in stops]) if side is Side.BOTTOM else (1, list(stops))
            refs = length_refs(room, plain, axis)
            if len(stops) > 2:
                sketch.chain(chain_stops(stops, units), side, refs=refs)
            whole = length_refs(room, (plain[0], plain[-1]), axis)[1]
            overall(sketch, (stops[0], stops[-1]), side, units, whole)
    return sketch.taken_off()


def _pane(part: SurfaceScheme, marks: DisplayList, placing: Affine) -> Pane:
    surface = part.surface
    return Pane(
        surface=surface.ref,
        key=surface.key,
        marks=marks,
        placing=placing,
        outline=placing.apply_all(surface.outline.outer),
        caption=surface.name,
    )


# --- faces ------------------------------------------------------------------------------


def face_view(
    scheme: SurfaceScheme,
    room: Room,
    units: Units,
    scale: float,
    show: Show = SHEETING,
    *,
    stock: Mapping[str, str] | None = None,
) -> View:
    """Show one face as one sees it from inside: a wall, a reveal, a face of a bulkhead.

    Args:
        scheme: The surface and everything on it.
        room: Its room.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
        stock: Number of the stock sheet of each piece, by the piece's id.
    """
    show = _with_stock(show, stock)
    sketch = Sketch(scale, call_outs=False)
    tape = by_tape(show) and bool(wall_key(scheme.surface))
    drawn = replace(show, dimensions=False) if tape else show
    marks = elevation(scheme, room, units, scale, drawn, sketch=sketch)
    if tape:
        sketch.taken_off()
        tape_face(sketch, wall_key(scheme.surface), room, units)
        marks = (*marks, *sketch.taken_off())
    return View(name=FACE, panes=(_pane(scheme, marks, AS_IT_LIES),), scale=scale)


# --- stock sheets -----------------------------------------------------------------------


def cut_view(
    scheme: Scheme,
    units: Units,
    scale: float,
    *,
    sheets: Sequence[str] = (),
    room: str = "",
) -> View:
    """Show how stock sheets are cut, a pane for each.

    Args:
        scheme: The whole answer.
        units: How lengths are written.
        scale: How many mm of a sheet one mm of paper is.
        sheets: Numbers of the sheets, e.g. ``("S1", "S4")``; empty for all.
        room: Id of a room: only the sheets with a piece of it; empty for all.
    """
    pieces = cut_pieces(scheme)
    chosen = [
        sheet
        for sheet in scheme.cut_plan.every
        if (not sheets or sheet.id in sheets)
        and (not room or any(p.piece.startswith(f"{room}/") for p in sheet.placements))
    ]
    drawn = [(sheet, _diagram(sheet, pieces, units, scale)) for sheet in chosen]
    panes: list[Pane] = []
    gap = CUT_GAP * scale
    abreast = _abreast([bounds(marks, scale) for _, marks in drawn], gap)
    top = 0.0
    for start in range(0, len(drawn), abreast):
        row = drawn[start : start + abreast]
        boxes = [bounds(marks, scale) for _, marks in row]
        left = 0.0
        for (sheet, diagram), box in zip(row, boxes, strict=True):
            panes.append(_sheet_pane(sheet, diagram, left - box[0], top - box[3]))
            left += box[2] - box[0] + gap
        top -= max(box[3] - box[1] for box in boxes) + gap
    return View(name=CUT, panes=tuple(panes), scale=scale)


def _abreast(boxes: Sequence[Box], gap: float) -> int:
    """Return how many diagrams stand in a row so that the whole is about as wide as a screen."""

    def largest(number: int) -> float:
        rows = [boxes[i : i + number] for i in range(0, len(boxes), number)]
        wide = max(sum(b[2] - b[0] + gap for b in row) for row in rows)
        high = sum(max(b[3] - b[1] for b in row) + gap for row in rows)
        return max(wide / SCREEN, high)

    return min(range(1, len(boxes) + 1), key=largest, default=1)


def _diagram(
    sheet: CutSheet,
    pieces: Mapping[str, CutPiece],
    units: Units,
    scale: float,
) -> DisplayList:
    """Draw one stock sheet with its number over it."""
    sketch = Sketch(scale, call_outs=False)
    drawn = cutting_diagram(sheet, pieces, units, scale, sketch=sketch)
    sketch.taken_off()
    caption = (Line(text=_caption(sheet, units), height=SMALLEST, bold=True),)
    at = (0.0, sheet.width + sketch.mm(CUT_CAPTION))
    anchor = (Across.LEFT, Up.BASE)
    sketch.write(sketch.lay(caption, at, 0.0, anchor, "lettering", sheet.id))
    return (*drawn, *sketch.taken_off())


def _caption(sheet: CutSheet, units: Units) -> str:
    size = f"{on_tape(sheet.length, units)} × {on_tape(sheet.width, units)}"
    return f"{called(sheet)}  {size}"


def _sheet_pane(sheet: CutSheet, diagram: DisplayList, dx: float, dy: float) -> Pane:
    placing = Affine.moved(dx, dy)
    corners: Ring = (
        (0.0, 0.0),
        (sheet.length, 0.0),
        (sheet.length, sheet.width),
        (0.0, sheet.width),
    )
    return Pane(
        surface="",
        key=f"sheet:{sheet.id}",
        marks=placed(diagram, 1.0, dx, dy),
        placing=placing,
        outline=placing.apply_all(corners),
        caption=sheet.id,
    )
