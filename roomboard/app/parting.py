"""Control joints placed where they suit, and taken out again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.figures.lines import line_of
from roomboard.app.words import tr
from roomboard.core.control_joints import suggested
from roomboard.core.editing.controls import add_controls, drop_control
from roomboard.core.layers import SECOND

if TYPE_CHECKING:
    from roomboard.app.desk import Desk
    from roomboard.app.window import Window
    from roomboard.core.project import ControlLine, Room
    from roomboard.core.surface import Surface


def acts(window: Window) -> list[Act]:
    """Return the acts for control joints."""
    desk = window.desk
    return [
        Act(
            id="joint.place_controls",
            menu="Sheets",
            words="Place the control joints that are wanting",
            run=lambda: place_controls(desk),
            keys="Ctrl+J",
            tip="As few as the pack asks for: where framing turns, at doorways, on members.",
            enabled=lambda: desk.room_scheme is not None,
            parted=True,
        ),
        Act(
            id="joint.drop_control",
            menu="Sheets",
            words="Take the held control joint out",
            run=lambda: take_out(desk),
            keys="Ctrl+Shift+J",
            tip="The sheets run on over it again.",
            enabled=lambda: _held(desk) is not None,
        ),
        Act(
            id="look.layer",
            menu="Look",
            words="The other layer",
            run=lambda: other_layer(desk),
            keys="Shift+L",
            tip="Of a face with two layers of board: show the one over it, or the one under it.",
            enabled=lambda: bool(_other_layer(desk)),
        ),
    ]


def _other_layer(desk: Desk) -> str:
    """Return the key of the other layer of the face shown, or of the one held; or nothing."""
    held = desk.held
    for name in (desk.view, held.surface if held else "", f"wall:{held.ref}" if held else ""):
        scheme = desk.surface_scheme(name) if name else None
        if scheme is None or scheme.surface.layers < 2:
            continue
        key = scheme.surface.key
        return key.removesuffix(SECOND) if scheme.surface.layer > 1 else key + SECOND
    return ""


def other_layer(desk: Desk) -> bool:
    """Show the other layer of a face; tell whether it has one."""
    key = _other_layer(desk)
    if not key:
        desk.say(tr("Show or hold a face with two layers of board first."))
        return False
    desk.show_view(key)
    return True


def place_controls(desk: Desk) -> bool:
    """Put the control joints that the room still needs; tell whether there were any."""
    scheme, whole, room = desk.room_scheme, desk.document.scheme, desk.room
    if scheme is None or whole is None or room is None:
        return False
    wanted = [(s.surface, suggested(room, s.surface, whole.practice)) for s in scheme.surfaces]
    wanted = [(surface, lines) for surface, lines in wanted if lines]
    if not wanted:
        desk.say(tr("No control joint is wanting in {room}.", room=room.name))
        return False

    def change(of: Room) -> Room:
        for surface, lines in wanted:
            of = add_controls(of, surface, lines)
        return of

    done = desk.edit_room(tr("Place control joints"), change)
    if done:
        count = sum(len(lines) for _, lines in wanted)
        names = ", ".join(surface.name for surface, _ in wanted)
        desk.say(tr("{n} control joints placed: {faces}.", n=count, faces=names))
    return done


def _held(desk: Desk) -> tuple[Surface, ControlLine] | None:
    """Return the control joint that is held, with its face."""
    held = desk.held
    scheme = desk.surface_scheme(held.surface) if held is not None and held.surface else None
    if scheme is None or held is None:
        return None
    joint = next((j for j in scheme.joints if j.id == held.ref), None)
    line = line_of(scheme, joint) if joint is not None else None
    return (scheme.surface, line) if line is not None else None


def take_out(desk: Desk) -> bool:
    """Take the held control joint out; tell whether it was one."""
    found = _held(desk)
    if found is None:
        desk.say(tr("Take hold of a control joint first."))
        return False
    surface, line = found
    return desk.edit_room(
        tr("Take a control joint out"), lambda room: drop_control(room, surface, line)
    )
