"""The figures of a face: which way its sheets run and from where."""

from __future__ import annotations

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure
from roomboard.app.figures.filling import Filling, board_name
from roomboard.app.figures.lines import control_figures
from roomboard.app.words import tr
from roomboard.core.editing import EditError, choices
from roomboard.core.project import AtChange, Room, SheetDirection, Start
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.sheeting import Field
from roomboard.core.units import write_area, write_length

AT_CHANGE_WORDS: dict[AtChange, str] = {
    AtChange.AUTO: "Automatic",
    AtChange.TURN: "The sheets turn with them",
    AtChange.BATTEN: "Sheets run on, over battens",
    AtChange.CARRY: "Sheets run on, without battens",
}
SIDE_WORDS: dict[tuple[str, bool], tuple[str, str]] = {
    ("up", True): ("From the floor", "From the top"),
    ("up", False): ("From below in the plan", "From above in the plan"),
    ("side", True): ("From the left", "From the right"),
    ("side", False): ("From the left in the plan", "From the right in the plan"),
}
"""What the low and the high side of courses are called, on walls and elsewhere."""


def sheets_heading() -> str:
    """Return the heading that what is chosen for sheets stands under."""
    return tr("Sheets")


def sheet_figures(desk: Desk, room: Room, scheme: SurfaceScheme) -> tuple[Figure, ...]:
    """Return what can be chosen for the sheets of a face, and how much of them there is.

    Args:
        desk: The desk.
        room: The room shown.
        scheme: What was worked out for the face.
    """
    surface = scheme.surface
    make = Filling(desk, surface.name, sheets_heading(), "set_out")
    key = surface.key
    try:
        choice = room.choice(choices.surface_key(room, key))
    except EditError:  # the scheme is that of a moment ago: the face is gone
        return ()
    figures = [
        make.choice(
            tr("Sheets run"),
            choice.direction,
            _ways(scheme),
            lambda r, way: choices.set_direction(r, key, way),
            tip=tr("Joints set by hand on this face go when the sheets turn."),
        ),
        make.choice(
            tr("Start"),
            choice.start,
            _starts(scheme),
            lambda r, start: choices.set_start(r, key, start),
            tip=tr("The side the courses are set out from; the last course is ripped."),
        ),
    ]
    if len(surface.directions) > 1:
        figures.append(
            make.choice(
                tr("Where joists turn"),
                choice.at_change,
                [(at, tr(words)) for at, words in AT_CHANGE_WORDS.items()],
                lambda r, at: choices.set_at_change(r, key, at),
                tip=tr("What the sheets do where the joists change direction."),
            )
        )
    figures.append(_widths(make, scheme, choice.widths))
    figures.extend(
        _first_course(make, scheme, field, dict(choice.first_course).get(field.number, 0.0))
        for field in scheme.set_out.fields
    )
    figures += control_figures(make, surface)
    pieces = scheme.set_out.pieces
    units = make.units
    figures += [
        make.told(tr("Made of"), tr("{count} pieces", count=len(pieces))),
        make.told(tr("Lined area"), write_area(surface.area_m2, units)),
        make.told(tr("Of board"), board_name(desk, surface.board)),
    ]
    return tuple(figures)


def _ways(scheme: SurfaceScheme) -> list[tuple[SheetDirection, str]]:
    if scheme.surface.lettered:
        across, along = tr("Level, across the studs"), tr("Upright, along the studs")
    else:
        across, along = tr("Across the joists"), tr("Along the joists")
    return [
        (SheetDirection.AUTO, tr("Automatic")),
        (SheetDirection.ACROSS, across),
        (SheetDirection.ALONG, along),
    ]


def _starts(scheme: SurfaceScheme) -> list[tuple[Start, str]]:
    fields = scheme.set_out.fields
    wall = scheme.surface.lettered
    way = _side_of(fields[0]) if len(fields) == 1 else "up"
    low, high = SIDE_WORDS[(way, wall)]
    if len(fields) > 1:
        low, high = "From the low side of each part", "From the high side of each part"
    return [
        (Start.AUTO, tr("Automatic")),
        (Start.LOW, tr(low)),
        (Start.HIGH, tr(high)),
        (Start.BALANCED, tr("Both ripped alike")),
    ]


def _side_of(field: Field) -> str:
    """Say whether the courses of a field lie over or beside one another."""
    (ax, ay), (bx, by) = field.frame.to_uv((0.0, 0.0)), field.frame.to_uv((0.0, 1.0))
    return "up" if abs(by - ay) >= abs(bx - ax) else "side"


def _widths(make: Filling, scheme: SurfaceScheme, chosen: tuple[float, ...]) -> Figure:
    key, setting = scheme.surface.key, make.desk.document.setting
    board = make.desk.document.catalogue.board(scheme.surface.board)
    sold = sorted(setting.sizes(board, scheme.surface.carry_in)) if board else []
    options: list[tuple[tuple[float, ...], str]] = [((), tr("Any that is sold"))]
    options += [((width,), write_length(width, make.units, suffix=True)) for width in sold]
    if len(chosen) > 1:
        words = ", ".join(write_length(w, make.units) for w in chosen)
        options.append((chosen, words))
    return make.choice(
        tr("Sheet width"),
        chosen,
        options,
        lambda r, widths: choices.set_widths(r, key, widths),
        tip=tr("Which widths of sheet are used on this face."),
    )


def _first_course(make: Filling, scheme: SurfaceScheme, field: Field, width: float) -> Figure:
    key = scheme.surface.key
    laid = next((at for number, _, _, at in scheme.set_out.start if number == field.number), 0.0)
    several = len(scheme.set_out.fields) > 1
    label = tr("First course")
    if several:
        label = tr("First course, part {number}", number=field.number + 1)
    return make.length(
        label,
        width,
        lambda r, mm: choices.set_first_course(r, key, field.number, mm or None),
        empty=tr("automatic: {width}", width=write_length(laid, make.units)),
        tip=tr("Its width, counted from the side the courses start from."),
        key=f"first course {field.number}",
    )
