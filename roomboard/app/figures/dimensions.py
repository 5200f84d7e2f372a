"""The figure that a dimension on a drawing shows, so that it can be typed over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from roomboard.app.desk import Desk, Held
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling
from roomboard.app.words import tr
from roomboard.core.editing.openings import Side, set_from_corner
from roomboard.core.editing.refusal import opening_words
from roomboard.core.plane import TOLERANCE
from roomboard.core.project import Opening, Room

DIMENSION = "dimension"
LABELS = {"length": "Length", "height": "Height", "width": "Width"}
"""Which figure of the thing measured a dimension shows, by what its ref begins with."""


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
    if kind in {Side.LEFT, Side.RIGHT}:
        opening = next((o for o in room.openings if o.id == ref), None)
        if opening is None:
            return None
        between = _between(desk, room, opening) if kind == Side.LEFT else None
        return between or next((f for f in figures if f.key == kind), None)
    label = tr(LABELS[kind]) if kind in LABELS else None
    return next((f for f in figures if f.label == label and f.put is not None), None)


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
