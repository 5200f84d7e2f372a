"""The figures of a bulkhead."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling, board_options
from roomboard.app.words import tr
from roomboard.core.editing.bulkheads import set_bulkhead
from roomboard.core.editing.refusal import bulkhead_words, wall_words
from roomboard.core.project import Bulkhead, Room


def bulkhead_figures(desk: Desk, room: Room, bulkhead: Bulkhead) -> tuple[Figure, ...]:
    """Return the figures of a bulkhead."""
    make = Filling(desk, bulkhead_words(bulkhead))
    ident = bulkhead.id
    wall = room.wall(bulkhead.wall)
    frame = make.under(tr("Frame"))

    def size(part: Filling, label: str, name: str, value: float, tip: str) -> Figure:
        return part.length(
            label,
            value,
            lambda r, mm: set_bulkhead(r, ident, sizes={name: mm}),
            tip=tip,
            empty=tr("as practice has it") if part is frame else "",
        )

    return (
        size(make, tr("Drop"), "drop", bulkhead.drop, tr("Down from the ceiling.")),
        size(make, tr("Depth"), "depth", bulkhead.depth, tr("Out from the wall.")),
        size(make, tr("Length"), "length", bulkhead.length, tr("Along the wall.")),
        size(
            make,
            tr("From left corner"),
            "left",
            bulkhead.left,
            tr("From the wall's left end to the bulkhead's left end."),
        ),
        make.told(tr("Along"), wall_words(wall) if wall else bulkhead.wall),
        make.flag(
            tr("Left end free"),
            bulkhead.left_free,
            lambda r, on: set_bulkhead(r, ident, left_free=on),
            tip=tr("A free end is lined as well."),
        ),
        make.flag(
            tr("Right end free"),
            bulkhead.right_free,
            lambda r, on: set_bulkhead(r, ident, right_free=on),
            tip=tr("A free end is lined as well."),
        ),
        make.flag(
            tr("Lined behind"),
            bulkhead.lined_behind,
            lambda r, on: set_bulkhead(r, ident, lined_behind=on),
            tip=tr("Whether wall and ceiling are lined behind it."),
        ),
        make.choice(
            tr("Board"),
            bulkhead.board,
            board_options(desk, "wall", tr("As its wall")),
            lambda r, board: set_bulkhead(r, ident, board=board),
        ),
        size(frame, tr("Centres"), "spacing", bulkhead.spacing, tr("Along its length.")),
        size(frame, tr("Face"), "face", bulkhead.face, tr("Of what sheets are fixed to.")),
    )
