"""What the canvas shows, made off the window's thread: a view and what can be picked on it."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.app.desk import CEILING, CUTTING, OPENED_OUT, PLAN
from roomboard.core.project import Project
from roomboard.core.scheme import RoomScheme, Scheme
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


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A view, ready to be painted and picked from.

    Attributes:
        view: The view.
        picker: What lies where on it.
        room: Id of the room it shows.
        name: Name of the view asked for.
        lens: Lens it was drawn for.
        scheme: What it was drawn from, or None.
    """

    view: View
    picker: Picker
    room: str
    name: str
    lens: str
    scheme: Scheme | None


def draw(
    project: Project, scheme: Scheme | None, room_id: str, name: str, lens: str, scale: float
) -> Drawn:
    """Draw a room as the desk asks for it.

    Args:
        project: The project shown.
        scheme: What was worked out, perhaps for the project as it was a moment ago.
        room_id: The room; empty where there is none.
        name: Name of the view.
        lens: Name of the lens.
        scale: How many mm of the room one mm of paper is.
    """
    found = next((r for r in scheme.rooms if r.room.id == room_id), None) if scheme else None
    view = _view(project, scheme, found, room_id, name, lens, scale)
    return Drawn(view=view, picker=Picker(view), room=room_id, name=name, lens=lens, scheme=scheme)


def _view(
    project: Project,
    scheme: Scheme | None,
    found: RoomScheme | None,
    room_id: str,
    name: str,
    lens: str,
    scale: float,
) -> View:
    units, show = project.units, LENSES[lens].show
    if scheme is not None and name == CUTTING:
        return cut_view(scheme, units, scale, room=room_id)
    if found is None:
        room = project.room(room_id)
        return sketch_plan(room.outline if room else (), True, units, scale)
    stock = stock_of(scheme.cut_plan) if scheme is not None else {}
    if name == PLAN or not found.surfaces:
        return plan_view(found, units, scale, show, stock=stock)
    if name == CEILING:
        return ceiling_view(found, units, scale, show, stock=stock)
    if name == OPENED_OUT:
        return opened_out(found, units, scale, show, stock=stock)
    one = next((s for s in found.surfaces if s.surface.key == name), None)
    if one is None:
        return opened_out(found, units, scale, show, stock=stock)
    return face_view(one, found.room, units, scale, show, stock=stock)
