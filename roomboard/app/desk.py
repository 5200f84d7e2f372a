"""What the desk shows of a document: room, view, lens, and what is taken hold of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from roomboard.app.document import Document
from roomboard.app.examples import no_room
from roomboard.core.project import Room, SurfaceChoice
from roomboard.core.scheme import RoomScheme, SurfaceScheme

OPENED_OUT = "opened"
PLAN = "plan"
CEILING = "ceiling"
BELOW = "below"
"""The ceiling as one sees it looking up: left and right change sides."""
CUTTING = "cutting"

LENS_ORDER = ("measure", "frame", "set_out", "fix", "cut", "order", "print")
"""The work in the trade's own order; the number keys follow it."""


@dataclass(frozen=True, slots=True)
class Held:
    """What the user has taken hold of.

    Attributes:
        kind: ``"room"``, ``"wall"``, ``"corner"``, ``"opening"``, ``"zone"``, ``"member"``,
            ``"stud"``, ``"nogging"``, ``"surface"``, ``"piece"``, ``"butt"``, ``"joint"``,
            ``"trimmer"``, ``"bulkhead"``, ``"column"``, ``"sheet"`` or the name of a layer.
        ref: Its id there, as the drawing has it.
        surface: Ref of the surface it lies on, or empty.
    """

    kind: str
    ref: str
    surface: str = ""


class Desk(QObject):
    """The state of one window over one document.

    Signals:
        room_changed: Another room is shown.
        view_changed: Another view is shown.
        lens_changed: The same view is looked at for another part of the work.
        layer_changed: The other layer is shown where two are hung.
        held_changed: Something else is taken hold of.
        said: A sentence for the line under the canvas.
        place_asked: A surface and points on it are to be brought into view.
    """

    room_changed = Signal()
    view_changed = Signal()
    lens_changed = Signal()
    layer_changed = Signal()
    held_changed = Signal()
    said = Signal(str)
    place_asked = Signal(str, object)

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self._room = document.project.rooms[0].id if document.project.rooms else ""
        self._view = OPENED_OUT
        self._lens = "measure"
        self._layer = 1
        self._held: Held | None = None
        document.project_changed.connect(self._follow)

    # --- what is shown ------------------------------------------------------------------

    @property
    def room_id(self) -> str:
        """Id of the room shown; empty where there is none."""
        return self._room

    @property
    def room(self) -> Room | None:
        """The room shown, as it is at the moment (trials included)."""
        return self.document.shown.room(self._room)

    @property
    def room_scheme(self) -> RoomScheme | None:
        """What was worked out last for the room shown."""
        scheme = self.document.scheme
        return next((r for r in scheme.rooms if r.room.id == self._room), None) if scheme else None

    def surface_scheme(self, ref: str) -> SurfaceScheme | None:
        """What was worked out last for a surface of the room shown.

        Args:
            ref: The surface's ref, or its key within the room.
        """
        scheme = self.room_scheme
        if scheme is None:
            return None
        return next(
            (s for s in scheme.surfaces if ref in {s.surface.ref, s.surface.key}),
            None,
        )

    def choice(self, key: str) -> SurfaceChoice:
        """The user's choice for a surface of the room shown."""
        room = self.room
        return room.choice(key) if room else SurfaceChoice(surface=key)

    @property
    def view(self) -> str:
        """Name of the view: opened out, plan, ceiling, from below, a surface's key, or cutting."""
        return self._view

    @property
    def lens(self) -> str:
        """Which part of the work the view is looked at for."""
        return self._lens

    @property
    def layer(self) -> int:
        """Which layer is shown where two are hung: 1 at the framing, or 2."""
        return self._layer

    @property
    def in_layers(self) -> bool:
        """Whether a face of the room shown has two layers."""
        scheme = self.room_scheme
        return scheme is not None and any(s.surface.layers > 1 for s in scheme.surfaces)

    @property
    def held(self) -> Held | None:
        """What is taken hold of."""
        return self._held

    # --- changes ------------------------------------------------------------------------

    def show_room(self, room: str) -> None:
        """Show another room."""
        if room != self._room:
            self._room = room
            self._held = None
            if self._view not in {OPENED_OUT, PLAN, CEILING, BELOW, CUTTING}:
                self._view = OPENED_OUT
            self.room_changed.emit()
            self.held_changed.emit()

    def show_view(self, view: str) -> None:
        """Show the room in another view."""
        if view != self._view:
            self._view = view
            self.view_changed.emit()

    def show_lens(self, lens: str) -> None:
        """Look at the view for another part of the work."""
        if lens != self._lens:
            self._lens = lens
            self.lens_changed.emit()

    def show_layer(self, layer: int) -> None:
        """Show the first or the second layer where two are hung."""
        if layer != self._layer:
            self._layer = layer
            self.layer_changed.emit()

    def hold(self, held: Held | None) -> None:
        """Take hold of something, or let go."""
        if held != self._held:
            self._held = held
            self.held_changed.emit()

    def say(self, sentence: str) -> None:
        """Say a sentence under the canvas."""
        self.said.emit(sentence)

    def go_to(self, surface: str, points: object = ()) -> None:
        """Bring a place into view.

        Args:
            surface: Ref of a surface, or empty for the room.
            points: Points on it, mm.
        """
        scheme = self.surface_scheme(surface)
        if scheme is not None and scheme.surface.layers > 1:
            self.show_layer(scheme.surface.layer)
        self.place_asked.emit(surface, points)

    def edit_room(self, words: str, change: Callable[[Room], Room], merge: str = "") -> bool:
        """Make an edit of the room shown; see :meth:`Document.edit_room`."""
        if not self._room:
            self.say(no_room(self.document.project.units))
            return False
        return self.document.edit_room(words, self._room, change, merge)

    def _follow(self) -> None:
        """Stay on a room that is there."""
        rooms = [r.id for r in self.document.project.rooms]
        if self._room not in rooms:
            self._room = rooms[-1] if rooms else ""
            self._held = None
            self.room_changed.emit()
            self.held_changed.emit()
