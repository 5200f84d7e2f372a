"""Control joints across a face and bands without joints on a wall, as figures in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.words import tr
from roomboard.core.editing import controls
from roomboard.core.project import Axis

if TYPE_CHECKING:
    from roomboard.app.figures.figure import Figure
    from roomboard.app.figures.filling import Filling
    from roomboard.core.joints import Joint
    from roomboard.core.project import ControlLine, Room, Wall
    from roomboard.core.scheme import SurfaceScheme
    from roomboard.core.surface import Surface


def control_figures(make: Filling, surface: Surface) -> tuple[Figure, ...]:
    """Return where the control joints of a face lie; none of them moves by itself."""
    axes = (Axis.U,) if surface.place == "wall" else (Axis.U, Axis.V)
    labels = {
        Axis.U: tr("Control joints from the left"),
        Axis.V: tr("Control joints from below"),
    }
    return tuple(
        make.lengths(
            labels[axis],
            controls.control_places(surface, axis),
            lambda r, places, axis=axis: controls.set_controls(r, surface, axis, places),  # type: ignore[misc]
            tip=tr("Sheets stop at a control joint, and a bead bridges it."),
            empty=tr("none"),
        )
        for axis in axes
    )


def band_figure(make: Filling, room: Room, wall: Wall) -> Figure:
    """Return between which heights of a wall no joint may run."""
    found = next((b for b in room.bands if b.host == wall.id), None)
    return make.lengths(
        tr("No joint between"),
        (found.low, found.high) if found else (),
        lambda r, sides: controls.set_band(r, wall.id, sides),
        tip=tr("Two heights above the floor, as where a stair's floor line crosses the wall."),
        empty=tr("no band"),
    )


def line_of(scheme: SurfaceScheme, joint: Joint) -> ControlLine | None:
    """Return the control joint of a face that a joint between two pieces is a part of."""
    for line in scheme.surface.controls:
        index = 0 if line.axis is Axis.U else 1
        if max(abs(p[index] - line.at) for p in (joint.a, joint.b)) <= 1.0:
            return line
    return None


def control_place(make: Filling, scheme: SurfaceScheme, line: ControlLine) -> Figure:
    """Return where a control joint lies, to be moved."""
    surface = scheme.surface
    own = [
        p for p in controls.control_places(surface, line.axis) if controls.is_at(surface, line, p)
    ]
    return make.length(
        tr("Place"),
        own[0] if own else line.at,
        lambda r, mm: controls.move_control(r, surface, line, mm),
        tip=tr("From the left of the face, or from its lower side or the floor."),
    )
