"""Control joints across faces, and bands on walls in which no joint may run."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.choices import put_choice, surface_key
from roomboard.core.editing.refusal import EditError, free_id, numbers, wall_index, wall_words
from roomboard.core.plane import TOLERANCE, snap
from roomboard.core.project import Axis, ControlLine, NoJointBand

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.project import Room
    from roomboard.core.surface import Surface


def set_controls(room: Room, surface: Surface, axis: Axis, places: Iterable[float]) -> Room:
    """Put the control joints of a face that run one way; those across them stay.

    Args:
        room: The room.
        surface: The face.
        axis: What the joints hold still.
        places: Where they lie, mm from the left or the lower side of the face.

    Raises:
        EditError: If a place does not lie inside the face.
    """
    key = surface_key(room, surface.key)
    choice = room.choice(key)
    low, high = _reach(surface, axis)
    begin = _datum(surface, axis)
    given = tuple(places)
    numbers(f"the place of a control joint of {surface.name}", *given)
    lines = {snap(begin + x) for x in given}
    for at in sorted(lines):
        if not low + 1.0 < at < high - 1.0:
            raise EditError(
                f"A control joint {{at}} from the side lies outside {surface.name} of {room.name}; "
                "give a place between its sides.",
                at=at - begin,
            )
    others = [c for c in choice.controls if c.axis is not axis]
    controls = [*others, *(ControlLine(axis=axis, at=at) for at in lines)]
    return put_choice(
        room, replace(choice, controls=tuple(sorted(controls, key=lambda c: (c.axis, c.at))))
    )


def control_places(surface: Surface, axis: Axis) -> tuple[float, ...]:
    """Return where the control joints of a face lie, mm from its left or its lower side."""
    begin = _datum(surface, axis)
    return tuple(snap(c.at - begin) for c in surface.controls if c.axis is axis)


def _reach(surface: Surface, axis: Axis) -> tuple[float, float]:
    u0, v0, u1, v1 = surface.outline.bounds
    return (u0, u1) if axis is Axis.U else (v0, v1)


def _datum(surface: Surface, axis: Axis) -> float:
    """Return what places are measured from: a wall's own corner and floor, a ceiling's sides."""
    return 0.0 if surface.lettered else _reach(surface, axis)[0]


def is_at(surface: Surface, line: ControlLine, place: float) -> bool:
    """Tell whether a place, mm from the face's left or lower side, is that of a control joint."""
    return abs(_datum(surface, line.axis) + place - line.at) <= TOLERANCE


def add_controls(room: Room, surface: Surface, lines: Iterable[ControlLine]) -> Room:
    """Put further control joints across a face, as they were suggested for it."""
    key = surface_key(room, surface.key)
    choice = room.choice(key)
    both = {(c.axis, c.at): c for c in (*choice.controls, *lines)}
    return put_choice(room, replace(choice, controls=tuple(both[k] for k in sorted(both))))


def move_control(room: Room, surface: Surface, line: ControlLine, to: float) -> Room:
    """Move a control joint to another place.

    Args:
        room: The room.
        surface: The face it lies on.
        line: The joint.
        to: Its new place, mm from the left or the lower side of the face.

    Raises:
        EditError: If the place does not lie inside the face.
    """
    places = [p for p in control_places(surface, line.axis) if not is_at(surface, line, p)]
    return set_controls(room, surface, line.axis, [*places, to])


def drop_control(room: Room, surface: Surface, line: ControlLine) -> Room:
    """Take a control joint out again."""
    places = [p for p in control_places(surface, line.axis) if not is_at(surface, line, p)]
    return set_controls(room, surface, line.axis, places)


def set_band(room: Room, wall_id: str, sides: Iterable[float]) -> Room:
    """Say between which heights of a wall no joint may run; no heights take the band away.

    Args:
        room: The room.
        wall_id: Which wall.
        sides: The lower and the upper side of the band, mm above the floor; empty for none.

    Raises:
        EditError: If there is no such wall, or the heights make no band on it.
    """
    wall = room.walls[wall_index(room, wall_id)]
    given = tuple(sides)
    numbers(f"the band of {wall_words(wall)}", *given)
    others = tuple(b for b in room.bands if b.host != wall_id)
    if not given:
        return replace(room, bands=others)
    low, high = (min(given), max(given)) if len(given) == 2 else (0.0, 0.0)
    if high - low <= TOLERANCE or low < 0:
        raise EditError(
            f"A band without joints on {wall_words(wall)} of {room.name} needs two heights, such "
            "as 2600, 2900."
        )
    known = next((b.id for b in room.bands if b.host == wall_id), "")
    name = known or free_id("n", (b.id for b in room.bands))
    band = NoJointBand(id=name, host=wall_id, low=snap(low), high=snap(high))
    return replace(room, bands=(*others, band))
