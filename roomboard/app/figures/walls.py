"""The figures of a wall, and of a stud or a row of noggings in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling, board_options
from roomboard.app.figures.joists import frame_options
from roomboard.app.figures.lines import band_figure
from roomboard.app.figures.linings import lining_figures
from roomboard.app.figures.special import special_figures
from roomboard.app.figures.surfaces import sheet_figures, sheets_heading
from roomboard.app.figures.things import number_of, wall_of
from roomboard.app.words import tr
from roomboard.core.editing import studs, walls
from roomboard.core.editing.refusal import wall_words
from roomboard.core.project import AngleFinish, Room, Wall, WallKind
from roomboard.core.surface import Support

KIND_WORDS: dict[WallKind, str] = {
    WallKind.WALL: "A wall stands here",
    WallKind.OPEN: "Open: no wall",
}
ANGLE_WORDS: dict[AngleFinish, str] = {
    AngleFinish.CORNICE: "Cornice",
    AngleFinish.SQUARE_SET: "Square-set",
    AngleFinish.NONE: "Nothing",
}


def wall_figures(desk: Desk, room: Room, wall: Wall) -> tuple[Figure, ...]:
    """Return the figures of a wall, its framing and its sheets."""
    index = room.walls.index(wall)
    make = Filling(desk, wall_words(wall))
    ident = wall.id
    first = (
        make.length(
            tr("Length"),
            room.wall_length(index),
            lambda r, mm: walls.set_wall_length(r, ident, mm),
            tip=tr("The wall at its right-hand end moves; the walls stay square."),
        ),
        make.text(
            tr("Letter"),
            wall.name or wall.id,
            lambda r, name: walls.rename_wall(r, ident, name),
            tip=tr("What it is called on every drawing."),
        ),
        make.choice(
            tr("Here"),
            wall.kind,
            [(kind, tr(words)) for kind, words in KIND_WORDS.items()],
            lambda r, kind: walls.set_wall(r, ident, kind=kind),
        ),
    )
    if wall.kind is WallKind.OPEN:
        return first
    lined = make.flag(
        tr("Lined"),
        wall.lined,
        lambda r, on: walls.set_wall(r, ident, lined=on),
        tip=tr("Whether this job lines it."),
    )
    if not wall.lined:
        return (*first, lined, *_framing(make.under(tr("Studs"), "frame"), wall))
    return (
        *first,
        lined,
        make.choice(
            tr("Board"),
            wall.board,
            board_options(desk, "wall"),
            lambda r, board: walls.set_wall(r, ident, board=board),
        ),
        make.choice(
            tr("Angle with the ceiling"),
            wall.angle,
            [(angle, tr(words)) for angle, words in ANGLE_WORDS.items()],
            lambda r, angle: walls.set_wall(r, ident, angle=angle),
            tip=tr("A square-set angle is taped, and the recess is cut off there."),
        ),
        make.flag(
            tr("Skirting"),
            wall.skirting,
            lambda r, on: walls.set_wall(r, ident, skirting=on),
            tip=tr("Whether a skirting covers the gap at the floor."),
        ),
        *lining_figures(make, room, ident, wall.layers),
        *_framing(make.under(tr("Studs"), "frame"), wall),
        *_sheets(desk, room, wall),
        band_figure(make.under(sheets_heading(), "set_out"), room, wall),
        *special_figures(make.under(tr("Special")), room, wall.id),
    )


def _sheets(desk: Desk, room: Room, wall: Wall) -> tuple[Figure, ...]:
    scheme = desk.surface_scheme(f"wall:{wall.id}")
    return sheet_figures(desk, room, scheme) if scheme else ()


def _framing(make: Filling, wall: Wall) -> tuple[Figure, ...]:
    ident = wall.id
    return (
        make.length(
            tr("Centres"),
            wall.stud_spacing,
            lambda r, mm: studs.set_studs(r, ident, mm, wall.stud_first),
            empty=tr("one by one") if wall.studs else tr("not given: assumed"),
            tip=tr("From the middle of one stud to the middle of the next."),
        ),
        make.length(
            tr("First stud"),
            wall.stud_first,
            lambda r, mm: studs.set_studs(r, ident, wall.stud_spacing, mm or None),
            empty=tr("one spacing"),
            tip=tr("The middle of the first stud after the end stud, from the left."),
        ),
        make.lengths(
            tr("One by one"),
            wall.studs,
            lambda r, places: (
                studs.set_stud_positions(r, ident, places)
                if places
                else studs.set_studs(r, ident, wall.stud_spacing, wall.stud_first)
            ),
            empty=tr("evenly spaced"),
            tip=tr("Middles from the left end, such as 22, 450, 900."),
        ),
        make.length(
            tr("Face"),
            wall.stud_face,
            lambda r, mm: studs.set_stud_face(r, ident, mm),
            empty=tr("as practice has it"),
            tip=tr("How wide the side is that sheets are fixed to."),
        ),
        make.choice(
            tr("Of"),
            wall.frame,
            frame_options(),
            lambda r, frame: walls.set_wall(r, ident, frame=frame),
        ),
        make.lengths(
            tr("Noggings at"),
            sorted(wall.noggings),
            lambda r, heights: studs.set_noggings(r, ident, heights),
            empty=tr("none"),
            tip=tr("Heights of their middles above the floor, such as 800, 1600."),
        ),
    )


def stud_figures(desk: Desk, room: Room, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return the figures of a stud: where it stands, and those of its wall."""
    scheme, wall = desk.surface_scheme(surface), room.wall(wall_of(room, surface))
    if scheme is None or wall is None:
        return ()
    support = _support(scheme.surface.supports, ref)
    index = number_of(ref)
    rest = _framing(Filling(desk, wall_words(wall), _group(wall), "frame"), wall)
    if support is None or index < 0:
        return rest
    spacing = scheme.surface.zones[0].centres if scheme.surface.zones else 0.0
    make = Filling(
        desk, tr("stud {number} of {wall}", number=index + 1, wall=wall_words(wall)), work="frame"
    )
    return (
        make.length(
            tr("Stands at"),
            support.a[0],
            lambda r, mm: studs.move_stud(
                r, wall.id, index, mm, spacing=spacing, face=support.face
            ),
            tip=tr("Its middle from the left end; moving it sets all studs one by one."),
        ),
        *rest,
    )


def nogging_figures(desk: Desk, room: Room, surface: str, ref: str) -> tuple[Figure, ...]:
    """Return the figures of a row of noggings: its height, and those of its wall."""
    wall = room.wall(wall_of(room, surface))
    if wall is None:
        return ()
    index, heights = number_of(ref), sorted(wall.noggings)
    rest = _framing(Filling(desk, wall_words(wall), _group(wall), "frame"), wall)
    if not 0 <= index < len(heights):
        return rest
    make = Filling(desk, tr("noggings of {wall}", wall=wall_words(wall)), work="frame")
    return (
        make.length(
            tr("Height"),
            heights[index],
            lambda r, mm: studs.move_nogging(r, wall.id, index, mm),
            tip=tr("Of their middle above the floor."),
        ),
        *rest,
    )


def _group(wall: Wall) -> str:
    return tr("Studs of {wall}", wall=wall_words(wall))


def _support(supports: Sequence[Support], ref: str) -> Support | None:
    return next((s for s in supports if s.id == ref), None)


def framing_figures(desk: Desk, room: Room, surface: str) -> tuple[Figure, ...]:
    """Return the studs of the wall that some other part of its frame belongs to."""
    wall = room.wall(wall_of(room, surface))
    if wall is None:
        return ()
    make = Filling(desk, wall_words(wall))
    figures = _framing(make, wall)
    return tuple(replace(f, group=_group(wall)) for f in figures)
