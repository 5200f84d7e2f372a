"""The figures of a part of a ceiling, and the height of a ceiling at a corner."""

from __future__ import annotations

import math

from roomboard.app.desk import Desk
from roomboard.app.figures.figure import Figure, Kind
from roomboard.app.figures.filling import Filling, board_options
from roomboard.app.figures.walls import ANGLE_WORDS
from roomboard.app.words import tr
from roomboard.core.editing import heights_corners, heights_parts
from roomboard.core.project import Room


def part_figures(desk: Desk, room: Room, ref: str) -> tuple[Figure, ...]:
    """Return the figures of a part of a ceiling; none for what is flat at the room's height.

    Args:
        desk: The desk.
        room: The room shown.
        ref: Id of the part.
    """
    part = next((p for p in room.ceiling_parts if p.id == ref), None)
    if part is None:
        return ()
    make = Filling(desk, tr("ceiling {part}", part=part.id), tr("Height and pitch"))
    flat = part.pitch_deg == 0.0
    return (
        make.length(
            tr("Height") if flat else tr("Height where measured"),
            part.height,
            lambda r, mm: heights_parts.set_part(r, ref, height=mm),
            tip=tr("Of its framing over the floor; a slope is moved up or down as a whole."),
        ),
        _pitch(make, ref, part.pitch_deg),
        make.length(
            tr("Rise"),
            math.tan(math.radians(part.pitch_deg)) * heights_parts.run_of(room, ref),
            lambda r, mm: heights_parts.set_rise(r, ref, mm),
            tip=tr("From its lowest place to its highest; the pitch follows."),
        ),
        make.choice(
            tr("Board"),
            part.board,
            board_options(desk, "ceiling", tr("As the room's ceiling")),
            lambda r, board: heights_parts.set_part(r, ref, board=board),
        ),
        make.choice(
            tr("Angle over its sides"),
            part.angle,
            [(angle, tr(words)) for angle, words in ANGLE_WORDS.items()],
            lambda r, angle: heights_parts.set_part(r, ref, angle=angle),
            tip=tr("What finishes the angle between its upright sides and the ceiling over them."),
        ),
        make.flag(
            tr("Lined"),
            part.lined,
            lambda r, on: heights_parts.set_part(r, ref, lined=on),
            tip=tr("Whether this job lines it and its upright sides."),
        ),
    )


def _pitch(make: Filling, ref: str, value: float) -> Figure:
    def put(given: object) -> object:
        pitch = float(given) if isinstance(given, int | float) else 0.0
        words = tr("Pitch of {what}", what=make.what)
        return make.desk.edit_room(words, lambda r: heights_parts.set_part(r, ref, pitch_deg=pitch))

    return Figure(
        label=tr("Pitch in degrees"),
        kind=Kind.NUMBER,
        value=round(value, 4),
        put=put,
        tip=tr("How steep it is; it turns about the place its height was measured at."),
        group=make.group,
    )


def corner_height(desk: Desk, room: Room, ref: str) -> tuple[Figure, ...]:
    """Return the height of the ceiling over a corner of a room.

    Args:
        desk: The desk.
        room: The room shown.
        ref: What the drawing calls the corner.
    """
    digits = ref.rpartition(":")[2]
    if not digits.isdigit() or int(digits) >= len(room.outline):
        return ()
    index = int(digits)
    make = Filling(desk, tr("corner {number} of {room}", number=index + 1, room=room.name))
    return (
        make.length(
            tr("Ceiling over it"),
            heights_corners.corner_heights(room)[index],
            lambda r, mm: heights_corners.set_corner_height(r, index, mm),
            tip=tr(
                "Height of the ceiling framing there; the other corners keep theirs, and the "
                "ceiling is folded along a diagonal where it must be."
            ),
        ),
    )
