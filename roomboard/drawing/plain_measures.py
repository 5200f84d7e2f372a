"""Dimensions named in plain words, by what of the room they measure."""

from __future__ import annotations

from roomboard.drawing import plain_sentences as sentences
from roomboard.drawing.lining import OPENING_WORDS
from roomboard.drawing.measured import (
    FAR,
    FROM,
    HEAD,
    LEFT,
    LENGTH,
    NEAR,
    PLACE,
    RIGHT,
    SILL,
    TO,
    WIDTH,
)
from roomboard.drawing.plain_asking import Asked, Named
from roomboard.drawing.plain_supports import support_words

OF_OPENING = {
    LEFT: "Length left of {}",
    WIDTH: "Length across {}",
    RIGHT: "Length right of {}",
    FROM: "From the left corner to {}",
    TO: "From the left corner to the far side of {}",
    SILL: "Sill of {}",
    HEAD: "Head of {}",
    NEAR: "From the nearest wall to {}",
    FAR: "From the nearest wall across to {}",
}
"""What a dimension of an opening is called, by what its ref begins with."""


def dimension_named(asked: Asked) -> Named | None:
    """Name a dimension by what it measures."""
    kind, _, ref = asked.ref.partition(":")
    room = asked.room
    if kind == "height" and room:
        return Named(
            title="Height of the room", figures=asked.mm(room.height), sentence=sentences.HEIGHT
        )
    if kind == "fold":
        name = next((w.name or w.id for w in room.walls if w.id == ref), ref) if room else ref
        return Named(title=f"Place of wall {name}", sentence=sentences.FOLD)
    found = (
        _length(asked, ref)
        if kind == LENGTH
        else _of_opening(asked, kind, ref)
        if kind in OF_OPENING
        else _place(asked, ref)
        if kind == PLACE
        else None
    )
    return found or Named(title="Dimension", sentence=sentences.DIMENSION)


def _length(asked: Asked, ref: str) -> Named:
    room = asked.room
    for index, wall in enumerate(room.walls if room else ()):
        if room and wall.id == ref:
            return Named(
                title=f"Length of wall {wall.name or wall.id}",
                figures=asked.mm(room.wall_length(index)),
                sentence=sentences.LENGTH,
            )
    words = f"Length of side {int(ref) + 1}" if ref.isdigit() else "Length"
    return Named(title=words, sentence=sentences.LENGTH)


def _of_opening(asked: Asked, kind: str, ref: str) -> Named | None:
    for o in asked.room.openings if asked.room else ():
        if o.id == ref:
            name = f"{OPENING_WORDS[o.kind].lower()} {o.id}"
            return Named(title=OF_OPENING[kind].format(name), sentence=sentences.LENGTH)
    return None


def _place(asked: Asked, ref: str) -> Named | None:
    for face in asked.faces:
        for support in face.surface.supports:
            if support.id == ref:
                words = support_words(support, alone=len(face.surface.zones) == 1)
                title = f"Place of {words[0].lower()}{words[1:]}"
                return Named(title=title, sentence=sentences.LENGTH)
    return None
