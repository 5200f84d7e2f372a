"""Faces of two layers on a drawing that has room for one: which is shown, and that it says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.drawing.displaylist import Across, Up
from roomboard.drawing.lettering import wrapped
from roomboard.drawing.sketch import Line, Sketch
from roomboard.drawing.view import AS_IT_LIES, NOTES, Pane, View

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.surface import Surface

SHOWN = {
    1: "Where two layers are hung, the first is shown, the one at the framing.",
    2: "Where two layers are hung, the second is shown, the one on top.",
}
"""What is said under a drawing of one layer of two."""
NARROWEST = 60.0
"""What stands under a drawing is broken to no less than this width, mm on paper."""
UNDER = 4.0
"""It stands this far under the drawing, mm on paper."""


def of_layer(surfaces: Iterable[SurfaceScheme], layer: int) -> tuple[SurfaceScheme, ...]:
    """Return the surfaces that are seen where a layer is shown: one for each face.

    Args:
        surfaces: All layers of all faces.
        layer: 1 or 2; faces of one layer are seen with either.
    """
    return tuple(s for s in surfaces if s.surface.layer == min(layer, s.surface.layers))


def layer_words(surfaces: Iterable[SurfaceScheme], layer: int) -> str:
    """Say which layer is shown, or nothing where no face has two."""
    return SHOWN[layer] if any(s.surface.layers > 1 for s in surfaces) else ""


def layered_name(surface: Surface) -> str:
    """Return what a surface is called beside the other layer of its face."""
    first = surface.layer == 1 and surface.layers > 1
    return f"{surface.name}, first layer" if first else surface.name


def with_layer_said(view: View, surfaces: Iterable[SurfaceScheme], layer: int) -> View:
    """Return a view with what says which layer it shows written under it, if any face has two."""
    words = layer_words(surfaces, layer)
    if not words:
        return view
    sketch = Sketch(view.scale, call_outs=False)
    x0, y0, x1, _ = view.bounds
    lines = tuple(Line(text=t) for t in wrapped(words, max((x1 - x0) / view.scale, NARROWEST)))
    at = (x0, y0 - sketch.mm(UNDER))
    sketch.write(sketch.lay(lines, at, 0.0, (Across.LEFT, Up.TOP), "lettering", ""))
    notes = Pane(
        surface="", key=NOTES, marks=sketch.taken_off(), placing=AS_IT_LIES, outline=(), caption=""
    )
    return View(name=view.name, panes=(*view.panes, notes), scale=view.scale)
