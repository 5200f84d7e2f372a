"""The figure that a dimension on a drawing shows, so that it can be typed over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from roomboard.app.desk import Desk, Held
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling
from roomboard.app.words import tr
from roomboard.core.editing.openings import Side, set_farther_side, set_from_corner
from roomboard.core.editing.refusal import opening_words
from roomboard.core.editing.rooms import set_height
from roomboard.core.plane import TOLERANCE
from roomboard.core.project import Opening, Room
from roomboard.drawing.measured import (
    FAR,
    FROM,
    HEAD,
    HEIGHT,
    LEFT,
    LENGTH,
    NEAR,
    PLACE,
    RIGHT,
    SILL,
    TO,
    WIDTH,
)

DIMENSION = "dimension"
LABELS = {LENGTH: "Length", WIDTH: "Width", SILL: "Sill", HEAD: "Head", PLACE: "Stands at"}
"""Which figure of the thing measured a dimension shows, by what its ref begins with."""
KEYS = {LEFT: Side.LEFT.value, RIGHT: Side.RIGHT.value, FROM: Side.LEFT.value, NEAR: NEAR, FAR: FAR}
"""The same by the key of the figure, for those whose label changes."""


def dimension_figure(desk: Desk, held: Held | None, figures: Sequence[Figure]) -> Figure | None:
    """Return the figure of a dimension that is held, or None where it cannot be set.

    Args:
        desk: The desk.
        held: What is held, as the drawing has it.
        figures: The figures of the thing it measures.
    """
    room = desk.room
    if held is None or held.kind != DIMENSION or room is None:
        return None
    kind, _, ref = held.ref.partition(":")
    opening = next((o for o in room.openings if o.id == ref), None)
    if kind == LEFT and opening is not None:
        between = _between(desk, room, opening)
        if between is not None:
            return between
    if kind == TO:
        return _farther(desk, opening) if opening is not None else None
    if kind == HEIGHT:
        return _height(desk, room)
    if kind in KEYS:
        return next((f for f in figures if f.key == KEYS[kind] and f.put is not None), None)
    label = tr(LABELS[kind]) if kind in LABELS else None
    return next((f for f in figures if f.label == label and f.put is not None), None)


def _height(desk: Desk, room: Room) -> Figure:
    return Filling(desk, room.name).length(tr("Height"), room.height, set_height)


def _farther(desk: Desk, opening: Opening) -> Figure:
    """Return how far the right side of an opening is from the left corner."""
    figure = Filling(desk, opening_words(opening)).length(
        tr("Left corner to right side"),
        opening.left + opening.width,
        lambda r, mm: set_farther_side(r, opening.id, mm),
    )
    return replace(figure, main=True)


def _between(desk: Desk, room: Room, opening: Opening) -> Figure | None:
    """Return how far an opening stands from the one on its left, or None where none is there."""
    others = [o for o in room.openings if o.host == opening.host and o.left < opening.left]
    if not others:
        return None
    last = max(others, key=lambda o: (o.left + o.width, o.id))
    end, ident = last.left + last.width, opening.id
    if opening.left - end <= TOLERANCE:
        return None
    figure = Filling(desk, opening_words(opening)).length(
        tr("From {opening}", opening=opening_words(last)),
        opening.left - end,
        lambda r, mm: set_from_corner(r, ident, Side.LEFT, end + mm),
    )
    return replace(figure, main=True)
