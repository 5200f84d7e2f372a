"""How much of a face is lined and how often, as figures in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.words import tr
from roomboard.core.editing import linings
from roomboard.core.editing.refusal import CEILING

if TYPE_CHECKING:
    from roomboard.app.figures.figure import Figure
    from roomboard.app.figures.filling import Filling
    from roomboard.core.project import Room


def lining_figures(make: Filling, room: Room, host: str, layers: int) -> tuple[Figure, ...]:
    """Return the layers of a face, and what part of it is not lined.

    Args:
        make: Makes the figures.
        room: The room shown.
        host: Wall id, or ``"ceiling"``.
        layers: How many layers the face gets now.
    """
    part = next((p for p in room.kept if p.host == host), None)
    figures = (
        make.choice(
            tr("Layers"),
            layers,
            [(1, tr("One layer")), (2, tr("Two layers"))],
            lambda r, count: (
                linings.set_ceiling_layers(r, count)
                if host == CEILING
                else linings.set_wall_layers(r, host, count)
            ),
            tip=tr("A second layer is set out by itself, its joints kept off those of the first."),
        ),
        make.lengths(
            tr("Not lined"),
            (part.left, part.bottom, part.width, part.height) if part else (),
            lambda r, box: linings.set_unlined(r, host, box),
            empty=tr("all of it is lined"),
            tip=tr("From the left, from below, width, height, such as 0, 0, 3000, 1200."),
        ),
    )
    if part is None:
        return figures
    return (
        *figures,
        make.flag(
            tr("Lining kept there"),
            part.kept,
            lambda r, on: linings.keep_lining(r, host, kept=on),
            tip=tr("Whether a lining that is there stays; the joint to it is taped."),
        ),
    )
