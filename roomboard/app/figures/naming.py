"""What is held, in plain words, whether a drawing shows it or not."""

from __future__ import annotations

from roomboard.app.desk import Desk, Held
from roomboard.app.examples import ROOM, in_units
from roomboard.app.figures import things as known
from roomboard.app.figures.things import thing_of
from roomboard.app.words import tr
from roomboard.core.editing.refusal import (
    bulkhead_words,
    column_words,
    opening_words,
    started,
    wall_words,
)
from roomboard.core.project import Room
from roomboard.drawing.picking import Picked
from roomboard.drawing.plain_words import Named, named

CORNER_SENTENCE = "Both walls follow when it is moved; they stay square."


def corner_words(room: Room, index: int) -> str:
    """Return what a corner of a room is called: the walls that meet there.

    Args:
        room: The room.
        index: Which corner, from 0; wall 0 runs on from it.
    """
    count = len(room.walls)
    one, two = room.walls[(index - 1) % count], room.walls[index % count]
    return tr("Corner of {one} and {two}", one=wall_words(one), two=wall_words(two))


def named_in_hand(desk: Desk) -> Named:
    """Return what is held in plain words; the room where nothing is.

    Args:
        desk: The desk.
    """
    room = desk.room
    if room is None:
        return Named(
            title=tr("No room yet"),
            sentence=tr(
                "Type one under the drawing, such as {room}.",
                room=in_units(ROOM, desk.document.project.units),
            ),
        )
    held = desk.held
    if held is None:
        return Named(
            title=room.name,
            sentence=tr("Nothing is held, so these are the figures of the whole room."),
        )
    thing = thing_of(desk, held)
    own = _own_words(desk, thing) if thing is not None else ""
    scheme = desk.document.scheme
    said = named(
        picked_of(held, thing),
        desk.room_scheme,
        desk.document.shown,
        scheme.cut_plan if scheme else None,
    )
    if thing is not None and thing.kind == known.CORNER and own:
        return Named(title=own, sentence=tr(CORNER_SENTENCE))
    if not said.sentence and own:
        return Named(title=own)
    if thing is None and not said.sentence:
        return Named(title=said.title, sentence=tr("It is not there any more."))
    return said


def _own_words(desk: Desk, thing: known.Thing) -> str:
    """Return the name of a thing that no drawing shows, so that it cannot be named by one."""
    room = desk.room
    if room is None:
        return ""
    if thing.kind == known.WALL:
        wall = room.wall(thing.ref)
        return started(wall_words(wall)) if wall else ""
    if thing.kind == known.OPENING:
        opening = next((o for o in room.openings if o.id == thing.ref), None)
        return started(opening_words(opening)) if opening else ""
    if thing.kind == known.BULKHEAD:
        bulkhead = next((b for b in room.bulkheads if b.id == thing.ref), None)
        return started(bulkhead_words(bulkhead)) if bulkhead else ""
    if thing.kind == known.COLUMN:
        column = next((c for c in room.columns if c.id == thing.ref), None)
        return started(column_words(column)) if column else ""
    if thing.kind == known.CORNER:
        return corner_words(room, int(thing.ref.rpartition(":")[2] or 0))
    return {known.ZONE: tr("Joist zone {zone}", zone=thing.ref)}.get(thing.kind, "")


def picked_of(held: Held, thing: known.Thing | None) -> Picked:
    """Return what is held as if it had been picked on a drawing, so that it can be named."""
    layer, ref = held.kind, held.ref
    if thing is not None and layer in {thing.kind, "butt", known.JOINT}:
        layer = "joint_butt" if thing.kind == known.JOINT else known.LAYERS.get(thing.kind, layer)
        ref = thing.ref
    key = ""
    if thing is not None and thing.kind == known.SHEET:
        key = f"sheet:{thing.ref}"
    return Picked(
        surface=held.surface,
        key=key,
        ref=ref,
        layer=layer,
        outline=(),
        closed=False,
        point=(0.0, 0.0),
    )
