"""Views laid side by side in rows, each with its name over it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from roomboard.core import heights
from roomboard.core.project import Units
from roomboard.core.scheme import RoomScheme, SurfaceScheme
from roomboard.drawing.displaylist import Text, placed
from roomboard.drawing.lettering import MARK, text_width
from roomboard.drawing.lining import SHEETING, Show
from roomboard.drawing.view import NOTES, Affine, Pane, View
from roomboard.drawing.views import ceiling_view, face_view

NAME = "abreast"
GAP, CAPTION_GAP = 15.0, 5.0
"""Between views, and from a view to its name, mm on paper."""
WIDER = 1.4
"""The whole is about this many times wider than a square of the same area."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A view with what stands over it."""

    caption: str
    view: View


def surface_views(
    scheme: RoomScheme, units: Units, scale: float, show: Show = SHEETING
) -> tuple[Named, ...]:
    """Return a view of every surface of a room: the ceilings, then each face.

    Args:
        scheme: The room and everything on its surfaces.
        units: How lengths are written.
        scale: How many mm of the room one mm of paper is.
        show: What to show.
    """
    found: list[Named] = []
    room = scheme.room
    if any(is_ceiling(part) for part in scheme.surfaces):
        view = ceiling_view(scheme, units, scale, show)
        found.append(Named(caption=f"{room.name}: ceiling, as in the plan", view=view))
    for part in scheme.surfaces:
        if not is_ceiling(part):
            view = face_view(part, room, units, scale, show)
            caption = f"{room.name}: {part.surface.name}, from inside"
            found.append(Named(caption=caption, view=view))
    return tuple(found)


def is_ceiling(part: SurfaceScheme) -> bool:
    """Tell whether a surface is a ceiling or a part of one."""
    return heights.is_ceiling(part.surface.key)


def abreast(rows: Sequence[Sequence[Named]], scale: float) -> View:
    """Lay views side by side.

    Args:
        rows: Views that stand beside each other, left to right; long rows are broken so that the
            whole is not much wider than high. All are made for ``scale``.
        scale: How many mm of the room one mm of paper is.

    Returns:
        One view with the panes of them all; names stand in a pane of their own.
    """
    panes: list[Pane] = []
    captions: list[Text] = []
    gap, over = GAP * scale, CAPTION_GAP * scale
    top = 0.0
    for row in _broken(rows, scale):
        x, lowest = 0.0, top
        for named in row:
            x0, y0, _, y1 = named.view.bounds
            dx, dy = x - x0, top - over - MARK * scale - y1
            captions.append(
                Text(at=(x, top - MARK * scale), text=named.caption, paper_height=MARK, bold=True)
            )
            panes += [_moved(pane, dx, dy) for pane in named.view.panes]
            x += _size(named, scale)[0]
            lowest = min(lowest, y0 + dy)
        top = lowest - gap
    notes = Pane(
        surface="",
        key=NOTES,
        marks=tuple(captions),
        placing=Affine(),
        outline=(),
        caption="",
    )
    return View(name=NAME, panes=(*panes, notes), scale=scale)


def _size(named: Named, scale: float) -> tuple[float, float]:
    """Return how much room a view takes with its name and the gaps after it, mm."""
    x0, y0, x1, y1 = named.view.bounds
    gap = GAP * scale
    wide = max(x1 - x0, text_width(named.caption, MARK, bold=True) * scale)
    return (wide + gap, y1 - y0 + (CAPTION_GAP + MARK) * scale + gap)


def _broken(rows: Sequence[Sequence[Named]], scale: float) -> Iterator[list[Named]]:
    """Break rows that are much longer than the whole is high."""
    sizes = [_size(named, scale) for row in rows for named in row]
    widest = WIDER * math.sqrt(sum(wide * high for wide, high in sizes))
    for row in rows:
        part: list[Named] = []
        x = 0.0
        for named in row:
            wide, _ = _size(named, scale)
            if part and x + wide > widest:
                yield part
                part, x = [], 0.0
            part.append(named)
            x += wide
        if part:
            yield part


def _moved(pane: Pane, dx: float, dy: float) -> Pane:
    move = Affine.moved(dx, dy)
    return replace(
        pane,
        marks=placed(pane.marks, 1.0, dx, dy),
        placing=move.compose(pane.placing),
        outline=move.apply_all(pane.outline),
    )
