"""The corners of the room as things on the drawing: their handles and their names."""

from __future__ import annotations

from PySide6.QtGui import QPainter

from roomboard.app.canvas.overlay import paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk, Held
from roomboard.app.figures.naming import CORNER_SENTENCE, corner_words
from roomboard.app.figures.things import CORNER
from roomboard.app.gestures.lie import lies_as_plan
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.project import Room
from roomboard.drawing.picking import Picked
from roomboard.drawing.plain_words import Named


def _cornered(desk: Desk) -> Room | None:
    """Return the room shown where its corners can be taken hold of."""
    return desk.room if desk.lens == "measure" and lies_as_plan(desk) else None


def corners(desk: Desk) -> tuple[Picked, ...]:
    """Return the corners of the room as things that can be pointed at.

    Args:
        desk: The desk.
    """
    room = _cornered(desk)
    return tuple(
        Picked(
            surface="",
            key="",
            ref=str(index),
            layer=CORNER,
            outline=(point,),
            closed=False,
            point=point,
        )
        for index, point in enumerate(room.outline if room is not None else ())
    )


def corner_named(desk: Desk, picked: Picked) -> Named | None:
    """Return what a corner is called, with the walls that meet there; None for another thing.

    Args:
        desk: The desk.
        picked: What is pointed at.
    """
    room = desk.room
    if picked.layer != CORNER or room is None or int(picked.ref) >= len(room.walls):
        return None
    return Named(title=corner_words(room, int(picked.ref)), sentence=tr(CORNER_SENTENCE))


def handles(desk: Desk, painter: QPainter, port: Viewport, inks: Inks) -> None:
    """Draw the handles of the corners, where corners can be dragged.

    Args:
        desk: The desk.
        painter: Paints in pixels of the canvas.
        port: Where the view lies.
        inks: The colours.
    """
    for corner in corners(desk):
        held = desk.held == Held(CORNER, corner.ref)
        colour = inks.held if held else inks.aimed
        paint_handle(painter, port.to_screen(corner.point), colour, solid=held)
