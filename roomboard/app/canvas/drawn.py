"""What the canvas shows, made off the window's thread: a view and what can be picked on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum, auto
from math import inf

from roomboard.app.canvas.prepared import Part, shaped_view
from roomboard.app.canvas.viewport import PAPER_MM, Viewport
from roomboard.app.desk import BELOW, CEILING, CUTTING, OPENED_OUT, PLAN
from roomboard.core.heeding import heed
from roomboard.core.layers import SECOND
from roomboard.core.project import Project
from roomboard.core.scheme import RoomScheme, Scheme
from roomboard.drawing.displaylist import box_of
from roomboard.drawing.layered import of_layer
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.picking import Picker
from roomboard.drawing.view import View
from roomboard.drawing.views import (
    LENSES,
    ceiling_view,
    cut_view,
    face_view,
    plan_view,
    sketch_plan,
    stock_of,
)

TRIES = 6
"""How often a view is drawn until it fits."""
CLOSE = 1.02
"""A scale within this ratio of the one wanted is good enough."""
READABLE = 0.05
"""Pixels that a mm of a stock sheet takes at least: with less its lettering lies over it."""
SHARE = 0.5
"""An opened-out room takes at least this share of the window: its notes may lie outside."""
LOOSE = 1.5
"""A view that could be shown this many times as large is shown larger."""


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A view, ready to be painted and picked from.

    Attributes:
        view: The view.
        parts: It, with its shapes made.
        picker: What lies where on it.
        room: Id of the room it shows.
        name: Name of the view asked for.
        lens: Lens it was drawn for.
        layer: Which layer it shows where two are hung.
        scheme: What it was drawn from, or None.
        port: Viewport that shows the whole of it, or None where the viewport is to stay.
    """

    view: View
    parts: list[Part]
    picker: Picker
    room: str
    name: str
    lens: str
    layer: int
    scheme: Scheme | None
    port: Viewport | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What a view is looked at for.

    Attributes:
        lens: Name of the lens.
        layer: Which layer is shown where two are hung.
    """

    lens: str
    layer: int = 1


class Fit(Enum):
    """How a view is to lie in the window."""

    STAYS = auto()
    """The viewport was moved by hand, or something is being dragged."""
    IF_NEEDED = auto()
    """The viewport stays as long as the view lies in it and is not small in it."""
    WHOLE = auto()
    """Another view: the whole of it is shown."""


def draw(
    project: Project,
    scheme: Scheme | None,
    room_id: str,
    name: str,
    look: Look,
    port: Viewport,
    fit: Fit = Fit.STAYS,
    over: Callable[[View, Scheme, str], View] | None = None,
) -> Drawn:
    """Draw a room as the desk asks for it.

    Args:
        project: The project shown.
        scheme: What was worked out, perhaps for the project as it was a moment ago.
        room_id: The room; empty where there is none.
        name: Name of the view.
        look: The lens and the layer it is looked at in.
        port: Where the view lies now; it gives the scale.
        fit: How it is to lie.
        over: Lays something over the view for a scheme and a lens; it cannot be picked.
    """
    found = next((r for r in scheme.rooms if r.room.id == room_id), None) if scheme else None

    def at(scale: float) -> View:
        heed()
        return _view(project, scheme, found, room_id, name, look, scale)

    first = _first_scale(project, room_id, name, port)
    least = _least_zoom(project, room_id, name, first)
    if fit is Fit.WHOLE:
        view, lies = _fitted(at, port, first, least)
    else:
        view, lies = at(port.scale), None
        if fit is Fit.IF_NEEDED and not _lies_well(view, port):
            view, lies = _fitted(at, port, port.scale, least)
    shown = over(view, scheme, look.lens) if over is not None and scheme is not None else view
    return Drawn(
        view=shown,
        parts=shaped_view(shown),
        picker=Picker(view),
        room=room_id,
        name=name,
        lens=look.lens,
        layer=look.layer,
        scheme=scheme,
        port=lies,
    )


def _lies_well(view: View, port: Viewport) -> bool:
    return port.shows(view.bounds) and port.fitted(view.bounds).zoom < port.zoom * LOOSE


def _first_scale(project: Project, room_id: str, name: str, port: Viewport) -> float:
    """Return about the scale a view of a room will have."""
    room = project.room(room_id)
    if room is None:
        return port.scale
    x0, y0, x1, y1 = box_of(room.outline)
    up = room.height if name == OPENED_OUT else 0.0
    return port.fitted((x0 - up, y0 - up, x1 + up, y1 + up)).scale


def _least_zoom(project: Project, room_id: str, name: str, first: float) -> float:
    """Return how small a view may become so that all of it is shown, pixels to a mm."""
    if name == CUTTING:
        return READABLE
    if name == OPENED_OUT and project.room(room_id) is not None and first > 0:
        return SHARE * PAPER_MM / first
    return 0.0


def _fitted(
    at: Callable[[float], View], port: Viewport, scale: float, least_zoom: float
) -> tuple[View, Viewport]:
    """Draw a view at the largest scale at which it lies in the window with its lettering.

    Lettering keeps its size on the screen, so how large the whole is depends on the scale: it
    is drawn a few times over until it fits well. Where it would become too small for its
    lettering it begins at its top left instead, and the rest lies outside.
    """
    largest = PAPER_MM / least_zoom if least_zoom else inf
    best: View | None = None
    view = at(min(scale, largest))
    for _ in range(TRIES):
        wanted = min(port.fitted(view.bounds).scale, largest)
        if wanted <= view.scale * CLOSE:
            if best is None or view.scale < best.scale:
                best = view
            if wanted >= view.scale / CLOSE:
                break
        elif best is not None and wanted >= best.scale:
            break
        view = at(wanted)
    shown = best or view
    fits = port.fitted_or_begun(shown.bounds, least_zoom)
    zoom = min(fits.zoom, PAPER_MM / shown.scale) if shown.scale > 0 else fits.zoom
    return shown, replace(fits, zoom=zoom)


def _view(
    project: Project,
    scheme: Scheme | None,
    found: RoomScheme | None,
    room_id: str,
    name: str,
    look: Look,
    scale: float,
) -> View:
    units, show = project.units, replace(LENSES[look.lens].show, layer=look.layer)
    if scheme is not None and name == CUTTING:
        return cut_view(scheme, units, scale, room=room_id)
    if found is None:
        room = project.room(room_id)
        return sketch_plan(room.outline if room else (), True, units, scale)
    stock = stock_of(scheme.cut_plan) if scheme is not None else {}
    if name == PLAN or not found.surfaces:
        return plan_view(found, units, scale, show, stock=stock)
    if name in {CEILING, BELOW}:
        below = name == BELOW
        return ceiling_view(found, units, scale, show, stock=stock, from_below=below)
    if name == OPENED_OUT:
        return opened_out(found, units, scale, show, stock=stock)
    faces = [s for s in found.surfaces if s.surface.key in {name, name + SECOND}]
    one = next(iter((*of_layer(faces, look.layer), *faces)), None)
    if one is None:
        return opened_out(found, units, scale, show, stock=stock)
    return face_view(one, found.room, units, scale, show, stock=stock)
