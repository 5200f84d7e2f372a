"""The figures of a room, and of a corner of it."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure, Kind
from roomboard.app.figures.filling import Filling, board_options
from roomboard.app.figures.joists import frame_options, joist_figures
from roomboard.app.figures.linings import lining_figures
from roomboard.app.figures.special import special_figures
from roomboard.app.reading import Meaning, meaning
from roomboard.app.words import tr
from roomboard.core.editing.refusal import wall_words
from roomboard.core.editing.room_choices import (
    FINISH_LEVELS,
    line_ceiling,
    note_carry_in,
    set_carry_in,
    set_ceiling_board,
    set_finish_level,
    set_storey,
)
from roomboard.core.editing.rooms import rename_room, set_height
from roomboard.core.editing.studs import set_all_studs, set_frame
from roomboard.core.editing.walls import set_wall_length
from roomboard.core.plane import signed_area
from roomboard.core.project import FrameKind, Room
from roomboard.core.units import write_area, write_length


def room_figures(desk: Desk, room: Room) -> tuple[Figure, ...]:
    """Return the figures of a room."""
    make = Filling(desk, room.name)
    units = make.units
    xs, ys = [p[0] for p in room.outline], [p[1] for p in room.outline]
    size = " × ".join(write_length(max(c) - min(c), units) for c in (xs, ys))
    floor = write_area(abs(signed_area(room.outline)) / 1e6, units)
    finish, carry = make.under(tr("Finish")), make.under(tr("Getting there"))
    ceiling = make.under(tr("Ceiling"))
    return (
        make.length(
            tr("Height"),
            room.height,
            set_height,
            tip=tr("From the floor to the ceiling framing; walls and sheets follow."),
        ),
        _name(desk, room),
        make.told(tr("Overall"), size, tr("Hold a wall to give it another length.")),
        make.told(tr("Floor"), floor),
        *_ceiling(ceiling, room),
        *_joists(desk, room),
        *_studs(make.under(tr("Studs"), "frame"), room),
        finish.choice(
            tr("Level of finish"),
            room.finish_level,
            [(n, str(n)) for n in FINISH_LEVELS],
            set_finish_level,
            tip=tr("0 is not finished at all, 5 is finished for glancing light."),
        ),
        carry.length(
            tr("Longest sheet"),
            room.carry_in,
            set_carry_in,
            empty=tr("no limit"),
            tip=tr("The longest sheet that can be carried in; longer ones are not used here."),
        ),
        carry.text(
            tr("Because of"),
            room.carry_in_note,
            note_carry_in,
            empty=tr("nothing said"),
            tip=tr("What limits it, such as the stairs or the lift."),
        ),
        carry.text(
            tr("Storey"),
            room.storey,
            set_storey,
            tip=tr("The floor it is on."),
        ),
        *special_figures(make.under(tr("Special")), room, "room"),
    )


def _name(desk: Desk, room: Room) -> Figure:
    def put(name: object) -> object:
        return desk.document.attempt(
            tr("Name of {room}", room=room.name), lambda p: rename_room(p, room.id, str(name))
        )

    return Figure(
        label=tr("Name"),
        kind=Kind.TEXT,
        value=room.name,
        put=put,
        tip=tr("What people call the room; it stands on every drawing."),
    )


def _ceiling(make: Filling, room: Room) -> tuple[Figure, ...]:
    lined = make.flag(
        tr("Lined"),
        room.ceiling_lined,
        lambda r, on: line_ceiling(r, lined=on),
        tip=tr("Whether this job lines the ceiling."),
    )
    if not room.ceiling_lined:
        return (lined,)
    board = make.choice(
        tr("Board"),
        room.ceiling_board,
        board_options(make.desk, "ceiling"),
        set_ceiling_board,
    )
    return (lined, board, *lining_figures(make, room, "ceiling", room.ceiling_layers))


def _joists(desk: Desk, room: Room) -> tuple[Figure, ...]:
    """Return the joists of a room with one zone or none; several zones are held one by one."""
    if not room.ceiling_lined:
        return ()
    if len(room.joists) == 1:
        return joist_figures(desk, room, room.joists[0])
    group = tr("Joists")
    if room.joists:
        text = tr("{count} zones: hold one for its figures", count=len(room.joists))
        return (Figure(label=tr("Joists"), kind=Kind.TOLD, value=text, group=group),)
    return (
        Figure(
            label=tr("Joists"),
            kind=Kind.TEXT,
            value="",
            put=lambda text: meaning(desk, str(text)),
            reads=lambda text: _read_joists(desk, text),
            empty=tr("not given: along y at 450"),
            tip=tr("Which way they run and how far apart, such as along y at 450."),
            group=group,
        ),
    )


def _studs(make: Filling, room: Room) -> tuple[Figure, ...]:
    """Return what is said of the studs of all walls at once."""
    if not room.walls:
        return ()
    first = room.walls[0]
    alike = all((w.stud_spacing, w.studs) == (first.stud_spacing, ()) for w in room.walls)
    kinds: list[tuple[FrameKind | None, str]] = list(frame_options())
    frames = {w.frame for w in room.walls}
    if len(frames) > 1:
        kinds.insert(0, (None, tr("Not alike")))
    return (
        make.length(
            tr("Every wall at"),
            first.stud_spacing if alike else 0.0,
            set_all_studs,
            empty=tr("not given: assumed") if alike else tr("not alike"),
            tip=tr("Spaces the studs of all walls, also those that were given one by one."),
        ),
        make.choice(
            tr("Every wall of"),
            first.frame if len(frames) == 1 else None,
            kinds,
            lambda r, frame: r if frame is None else set_frame(r, frame, ceiling=False),
            tip=tr("What the studs of all walls are made of."),
        ),
    )


def _read_joists(desk: Desk, text: str) -> Meaning:
    if not text.strip():
        return Meaning(sentence=tr("Type which way the joists run, such as along y at 450."))
    typed = text if text.casefold().lstrip().startswith("along") else f"along {text.strip()}"
    return meaning(desk, typed)


def corner_figures(desk: Desk, room: Room, ref: str) -> tuple[Figure, ...]:
    """Return the figures of a corner: the lengths of the walls that meet there."""
    digits = ref.rpartition(":")[2]
    if not digits.isdigit() or int(digits) >= len(room.outline):
        return ()
    index = int(digits)
    make = Filling(desk, tr("corner {number} of {room}", number=index + 1, room=room.name))
    return tuple(
        make.length(
            tr("Length of {wall}", wall=wall_words(room.walls[at])),
            room.wall_length(at),
            lambda r, mm, at=at: set_wall_length(r, r.walls[at].id, mm),  # type: ignore[misc]
            tip=tr("Its right-hand end moves; the walls stay square."),
        )
        for at in ((index - 1) % len(room.walls), index)
    )
