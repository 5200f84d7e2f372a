"""The figures of an opening in a wall or in the ceiling."""

from __future__ import annotations

from dataclasses import replace

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling
from roomboard.app.words import tr
from roomboard.core.editing import ceiling_openings as overhead
from roomboard.core.editing import openings as upright
from roomboard.core.editing.openings import Side
from roomboard.core.editing.refusal import CEILING, opening_words, wall_words
from roomboard.core.plane import snap
from roomboard.core.project import Opening, OpeningKind, Room
from roomboard.drawing.lining import OPENING_WORDS

IN_WALLS = (OpeningKind.DOOR, OpeningKind.WINDOW, OpeningKind.OPENING)
IN_CEILINGS = (OpeningKind.HATCH, OpeningKind.LIGHT, OpeningKind.DUCT)


def opening_figures(desk: Desk, room: Room, opening: Opening) -> tuple[Figure, ...]:
    """Return the figures of an opening."""
    make = Filling(desk, opening_words(opening))
    if opening.host == CEILING:
        return _in_ceiling(make, room, opening)
    if room.wall(opening.host) is None:
        return ()
    return _in_wall(make, room, opening)


def _kind(make: Filling, opening: Opening, usual: tuple[OpeningKind, ...]) -> Figure:
    kinds = usual if opening.kind in usual else (opening.kind, *usual)
    return make.choice(
        tr("It is a"),
        opening.kind,
        [(kind, tr(OPENING_WORDS[kind])) for kind in kinds],
        lambda r, kind: upright.set_opening(r, opening.id, kind=kind),
    )


def _in_wall(make: Filling, room: Room, opening: Opening) -> tuple[Figure, ...]:
    ident = opening.id
    nearest, _ = upright.nearest_corner(room, opening)
    reveals = make.under(tr("Reveals"))
    return (
        _from_corner(make, room, opening, Side.LEFT, nearest),
        _from_corner(make, room, opening, Side.RIGHT, nearest),
        make.length(
            tr("Width"),
            opening.width,
            lambda r, mm: upright.resize_opening(r, ident, width=mm),
            tip=tr("Its left side stays."),
        ),
        make.length(
            tr("Height"),
            opening.height,
            lambda r, mm: upright.resize_opening(r, ident, height=mm),
            tip=tr("Its sill stays."),
        ),
        make.length(
            tr("Sill"),
            opening.bottom,
            lambda r, mm: upright.set_sill(r, ident, mm),
            tip=tr("From the floor to its lower side; its head stays."),
        ),
        make.length(
            tr("Head"),
            opening.bottom + opening.height,
            lambda r, mm: upright.set_head(r, ident, mm),
            tip=tr("From the floor to its upper side; its sill stays."),
        ),
        _kind(make, opening, IN_WALLS),
        reveals.flag(
            tr("Lined"),
            opening.reveal_lined,
            lambda r, on: upright.set_opening(r, ident, reveal_lined=on),
            tip=tr("Whether its reveals are lined with board."),
        ),
        reveals.length(
            tr("Depth"),
            opening.reveal_depth,
            lambda r, mm: upright.set_opening(r, ident, reveal_depth=mm),
            tip=tr("How deep the reveals are."),
        ),
    )


def _from_corner(make: Filling, room: Room, opening: Opening, side: Side, nearest: Side) -> Figure:
    """Return how far an opening stands from a corner; the nearest is the one to measure from."""
    wall = next(i for i, w in enumerate(room.walls) if w.id == opening.host)
    away = opening.left
    if side is Side.RIGHT:
        away = snap(room.wall_length(wall) - opening.left - opening.width)
    words = tr("From left corner") if side is Side.LEFT else tr("From right corner")
    figure = make.length(
        words,
        away,
        lambda r, mm: upright.set_from_corner(r, opening.id, side, mm),
        tip=tr("From the corner to the nearer side of the opening, which moves whole."),
        key=side.value,
    )
    return replace(figure, main=side is nearest)


def _in_ceiling(make: Filling, room: Room, opening: Opening) -> tuple[Figure, ...]:
    ident = opening.id
    near, far = overhead.nearest_walls(room, opening)

    def from_wall(one: overhead.FromWall, two: overhead.FromWall, key: str) -> Figure:
        wall = room.wall(one.wall)
        return make.length(
            tr("From {wall}", wall=wall_words(wall) if wall else one.wall),
            one.mm,
            lambda r, mm: overhead.set_from_walls(r, ident, overhead.FromWall(one.wall, mm), two),
            tip=tr("From the wall to its nearest part, square to the wall."),
            key=key,
        )

    first, second = tr("Width"), tr("Length")
    sizes: tuple[Figure, ...]
    if opening.is_round:
        sizes = (
            make.length(
                tr("Diameter"),
                opening.width,
                lambda r, mm: overhead.resize_ceiling_opening(r, ident, mm),
                tip=tr("Its middle stays."),
            ),
        )
    else:
        sizes = (
            make.length(
                first,
                opening.width,
                lambda r, mm: overhead.resize_ceiling_opening(r, ident, mm),
                tip=tr("Along x in the plan; its middle stays."),
            ),
            make.length(
                second,
                opening.height,
                lambda r, mm: overhead.resize_ceiling_opening(r, ident, opening.width, mm),
                tip=tr("Along y in the plan; its middle stays."),
            ),
        )
    return (
        from_wall(near, far, "near"),
        from_wall(far, near, "far"),
        *sizes,
        make.flag(
            tr("Round"),
            opening.is_round,
            lambda r, on: overhead.resize_ceiling_opening(r, ident, opening.width, is_round=on),
        ),
        _kind(make, opening, IN_CEILINGS),
    )
