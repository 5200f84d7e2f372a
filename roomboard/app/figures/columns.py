"""The figures of a column."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling, board_options
from roomboard.app.figures.joists import frame_options
from roomboard.app.figures.walls import ANGLE_WORDS
from roomboard.app.words import tr
from roomboard.core.editing.columns import (
    box_of_column,
    is_square,
    move_column,
    resize_column,
    set_column,
)
from roomboard.core.editing.refusal import column_words
from roomboard.core.project import Column, Room


def column_figures(desk: Desk, room: Room, column: Column) -> tuple[Figure, ...]:
    """Return the figures of a column."""
    make = Filling(desk, column_words(column))
    ident = column.id
    x, y, width, depth = box_of_column(room, column)
    frame = make.under(tr("Frame"))
    places = (
        make.length(
            tr("From the left"),
            x,
            lambda r, mm: move_column(r, ident, mm, y),
            tip=tr("From the room's leftmost wall in the plan to its nearer side."),
        ),
        make.length(
            tr("From below"),
            y,
            lambda r, mm: move_column(r, ident, x, mm),
            tip=tr("From the room's lowest wall in the plan to its nearer side."),
        ),
    )
    sizes: tuple[Figure, ...]
    if is_square(column):
        sizes = (
            make.length(
                tr("Width"),
                width,
                lambda r, mm: resize_column(r, ident, width=mm),
                tip=tr("Along x in the plan, over its frame; its left side stays."),
            ),
            make.length(
                tr("Depth"),
                depth,
                lambda r, mm: resize_column(r, ident, depth=mm),
                tip=tr("Along y in the plan, over its frame; its lower side stays."),
            ),
        )
    else:
        sizes = (make.told(tr("Corners"), str(len(column.outline))),)
    return (
        *places,
        *sizes,
        make.flag(
            tr("Lined"),
            column.lined,
            lambda r, on: set_column(r, ident, lined=on),
            tip=tr("Whether its sides are lined in this job."),
        ),
        make.choice(
            tr("Board"),
            column.board,
            board_options(desk, "wall"),
            lambda r, board: set_column(r, ident, board=board),
        ),
        make.choice(
            tr("Angle with the ceiling"),
            column.angle,
            [(angle, tr(words)) for angle, words in ANGLE_WORDS.items()],
            lambda r, angle: set_column(r, ident, angle=angle),
            tip=tr("What finishes the angle with the ceiling."),
        ),
        frame.choice(
            tr("Of"),
            column.frame,
            frame_options(),
            lambda r, material: set_column(r, ident, frame=material),
        ),
        frame.length(
            tr("Centres"),
            column.spacing,
            lambda r, mm: set_column(r, ident, sizes={"spacing": mm}),
            tip=tr("Of the studs between those at its corners."),
            empty=tr("none between its corners"),
        ),
        frame.length(
            tr("Face"),
            column.face,
            lambda r, mm: set_column(r, ident, sizes={"face": mm}),
            tip=tr("Of what sheets are fixed to."),
            empty=tr("as practice has it"),
        ),
    )
