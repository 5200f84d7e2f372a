"""Hatches, lights and ducts moved clear of the joists, at one act."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.gestures.lie import held_opening
from roomboard.app.words import tr
from roomboard.core.clear_bays import clear_place_in
from roomboard.core.editing.ceiling_openings import move_ceiling_opening
from roomboard.core.editing.refusal import CEILING, opening_words
from roomboard.core.units import write_length

if TYPE_CHECKING:
    from roomboard.app.desk import Desk
    from roomboard.app.window import Window
    from roomboard.core.project import Opening


def acts(window: Window) -> list[Act]:
    """Return the act that moves an opening in the ceiling to the nearest clear bay."""
    desk = window.desk
    return [
        Act(
            id="opening.clear_bay",
            menu="Openings",
            words="Move it to the nearest clear bay",
            run=lambda: to_clear_bay(desk),
            keys="Ctrl+B",
            tip="The held hatch, light or duct goes where it meets no joist, side or other hole.",
            enabled=lambda: _overhead(desk) is not None,
        )
    ]


def _overhead(desk: Desk) -> Opening | None:
    """Return the opening in the ceiling that is held, or None."""
    opening = held_opening(desk.room, desk.held)
    return opening if opening is not None and opening.host == CEILING else None


def to_clear_bay(desk: Desk) -> bool:
    """Move the held opening to the nearest clear bay; tell whether it moved."""
    opening, scheme = _overhead(desk), desk.room_scheme
    whole = desk.document.scheme
    if opening is None or scheme is None or whole is None:
        desk.say(tr("Take hold of a hatch, a light or a duct in the ceiling first."))
        return False
    found = clear_place_in(scheme, opening.id, whole.practice)
    name = opening_words(opening)
    if found is None:
        desk.say(tr("No bay of this ceiling is wide enough for {name}.", name=name))
        return False
    middle = found.middle
    done = desk.edit_room(
        tr("Move {name} to a clear bay", name=name),
        lambda room: move_ceiling_opening(room, opening.id, middle),
    )
    if done:
        away = write_length(found.away, desk.document.project.units, suffix=True)
        desk.say(tr("{name} moved {away} to the nearest clear bay.", name=name, away=away))
    return done
