"""Linings of two layers: the second is a face of its own over the first, its joints kept off."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.joints import JointKind
from roomboard.core.plane import distance
from roomboard.core.project import ButtsAt, Method, Start

if TYPE_CHECKING:
    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.project import Room, SurfaceChoice
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board
    from roomboard.core.surface import Surface

SECOND = ".L2"
"""How the key and the ref of a second layer end."""
HIDDEN = 1
"""A layer that another one covers is filled, and finished no further than this level."""
EDGES, ENDS = "layers.offset_edges", "layers.offset_ends"
"""The pack's figures for how far joints of two layers stand apart."""


def layers_of(room: Room, surface: Surface) -> int:
    """Return how many layers of board a face of a room gets."""
    kind, _, item = surface.key.partition(".")[0].partition(":")
    if kind == "ceiling":
        return room.ceiling_layers
    wall = room.wall(item) if kind == "wall" else None
    return wall.layers if wall is not None else 1


def in_layers(room: Room, surface: Surface) -> tuple[Surface, ...]:
    """Return the layers of a face, the one at the framing first.

    Args:
        room: The room.
        surface: The face.
    """
    if layers_of(room, surface) < 2:
        return (surface,)
    first = replace(surface, finish_level=min(HIDDEN, surface.finish_level), layers=2)
    second = replace(
        surface,
        ref=surface.ref + SECOND,
        key=surface.key + SECOND,
        code=f"2{surface.code}",
        name=f"{surface.name}, second layer",
        layer=2,
        layers=2,
    )
    return first, second


def over(surface: Surface, first: SurfaceScheme) -> Surface:
    """Return a second layer as it stands over the first: its joints, and its timber, are there.

    Args:
        surface: The second layer.
        first: The layer under it, worked out.
    """
    known = {s.id for s in surface.supports}
    added = tuple(replace(s, existing=True) for s in first.surface.supports if s.id not in known)
    lines = sorted(
        {
            (j.a, j.b, j.kind.is_butt)
            for j in first.joints
            if distance(j.a, j.b) > 1.0 and j.kind is not JointKind.CONTROL
        }
    )
    return replace(surface, supports=(*surface.supports, *added), under=tuple(lines))


def own_choice(choice: SurfaceChoice, surface: Surface) -> SurfaceChoice:
    """Return what is chosen for a layer: what was locked in the first is not in the second."""
    if surface.layer == 1:
        return choice
    return replace(choice, butts=(), first_course=(), start=Start.AUTO)


def own_setting(setting: Setting, surface: Surface) -> Setting:
    """Return the setting of a layer: the second is fastened through the first, on the framing."""
    if surface.layer == 1:
        return setting
    choices = replace(setting.choices, method=Method.FASTENERS, butts=ButtsAt.ON_FRAMING)
    return replace(setting, choices=choices)


def through(board: Board, surface: Surface) -> Board:
    """Return a board as thick as all that its fasteners go through: the first layer alike."""
    return replace(board, thickness=board.thickness * surface.layer)
