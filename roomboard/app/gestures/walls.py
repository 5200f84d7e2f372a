"""Drawing the walls of a new room: click or choose a way, type a length, chain on, close."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter

from roomboard.app.canvas.overlay import paint_figure, paint_handle
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.examples import SIZE, in_units
from roomboard.app.gestures.gesture import Aim, Gesture
from roomboard.app.gestures.lie import FINE, lies_as_plan
from roomboard.app.gestures.marks import on_screen, paint_path, paint_sign
from roomboard.app.gestures.new_room import Make, new_room, show_new_room
from roomboard.app.gestures.zones import with_joists
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.editing.rooms import rectangle, room_from_corners
from roomboard.core.editing.sketching import at_zero, closed, corner_angle, stepped, turned
from roomboard.core.editing.snapping import Snap, SnapKind, heading_deg, snap_point
from roomboard.core.editing.typed import FULL_TURN, WAYS, Step, StepKind, read_step
from roomboard.core.plane import TOLERANCE, Point, distance
from roomboard.core.project import Room
from roomboard.core.units import Refusal, read_length, write_length

ARROWS = {
    Qt.Key.Key_Right: "right",
    Qt.Key.Key_Up: "up",
    Qt.Key.Key_Left: "left",
    Qt.Key.Key_Down: "down",
}
LENGTH, ANGLE = "length", "angle"
START: Point = (0.0, 0.0)
LEAST_CORNERS = 3
VEIL = 225
"""How much of the room that is shown is hidden meanwhile, of 255."""


class DrawWalls(Gesture):
    """Draws the walls of a room one after the other.

    Attributes:
        corners: Corners set so far, mm in plan.
        entry: ``"length"`` or ``"angle"``: which of both is typed next; Tab swaps.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.corners: list[Point] = []
        self.entry = LENGTH
        self._snap: Snap | None = None
        self._screen: QPointF | None = None
        self._way: float | None = None
        self._length: float | None = None
        self._trouble = ""
        self._typing = ""
        self._hint()

    # --- the pointer --------------------------------------------------------------------

    def move(self, aim: Aim) -> None:
        """Aim the next wall."""
        self._trouble = ""
        self._way = None
        self._screen = aim.screen
        self._snap = self._snapped(aim)
        self._hint()

    def press(self, aim: Aim) -> None:
        """Set a corner, or close the room on its first."""
        self.move(aim)
        if self._snap is None:
            return
        to = self._snap.point
        if self.corners and self._length is not None:
            to = self._along(self._length, heading_deg(self.corners[-1], to))
        self._set(to)

    def _snapped(self, aim: Aim) -> Snap:
        """Return where the next corner would go."""
        reach = 0.0 if aim.fine else aim.reach
        start = self.corners[-1] if self.corners else None
        square_to = heading_deg(*self.corners[:2]) if len(self.corners) > 1 else 0.0
        found = snap_point(
            tuple(self.corners),
            aim.at,
            reach,
            from_point=start,
            ortho=not aim.free,
            square_to_deg=square_to,
            others=self._others(),
        )
        if found.kind not in {SnapKind.ORTHO, SnapKind.FREE}:
            return found
        # What is aimed freely goes to whole lengths, as they are read off a tape.
        step = FINE[self.desk.document.project.units]
        to = stepped(start if start is not None else START, found.point, step)
        return Snap(to, found.kind, found.words if found.kind is SnapKind.FREE else "")

    def _others(self) -> tuple[Room, ...]:
        """Return the room that is shown faintly meanwhile, with its joists, as far as it has any.

        Rooms lie each on a plan of their own, so that no other room has a place here.
        """
        room = self.desk.document.project.room(self.desk.room_id)
        if room is None or not lies_as_plan(self.desk):
            return ()
        return (with_joists(self.desk, room) if room.ceiling_lined else room,)

    @property
    def heading(self) -> float | None:
        """The way the next wall goes, degrees counter-clockwise from x; None before any aim."""
        if self._way is not None:
            return self._way
        if self._snap is None or not self.corners:
            return None
        if distance(self.corners[-1], self._snap.point) <= TOLERANCE:
            return None
        return heading_deg(self.corners[-1], self._snap.point)

    def _along(self, length: float, heading: float) -> Point:
        step = read_step(f"{length} mm", self.desk.document.project.units, heading)
        start = self.corners[-1] if self.corners else START
        return step.end(start) if isinstance(step, Step) else start

    @property
    def ahead(self) -> Point | None:
        """Where the next corner would go, or None before any aim."""
        if self._typing and self.entry == LENGTH:
            step = self._step(self._typing)
            if isinstance(step, Step) and step.kind is StepKind.STRETCH:
                return step.end(self.corners[-1] if self.corners else START)
        if self._length is not None and self.heading is not None:
            return self._along(self._length, self.heading)
        if self._way is not None and self.corners:
            return None
        return self._snap.point if self._snap is not None else None

    # --- the keys -----------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        """Arrows choose the way, Enter sets or closes, Tab swaps, Backspace takes back."""
        key = Qt.Key(event.key())
        if key in ARROWS and event.modifiers() in {
            Qt.KeyboardModifier.NoModifier,
            Qt.KeyboardModifier.KeypadModifier,
        }:
            self._way = WAYS[ARROWS[key]]
            self._hint()
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._trouble = self.typed("")
            if self._trouble:
                self.desk.say(self._trouble)
        elif key == Qt.Key.Key_Tab:
            self.swap("")
        elif key == Qt.Key.Key_Backspace:
            if self.corners or self._length is not None:
                self.back()
        else:
            return False
        return True

    def swap(self, text: str) -> str | None:
        """Keep the length typed and go on to the angle, or the other way round (Tab).

        Args:
            text: What is typed already.

        Returns:
            Empty, or the sentence that says why it was not taken.
        """
        units = self.desk.document.project.units
        if self.entry == LENGTH:
            if text.strip():
                read = read_length(text, units)
                if isinstance(read, Refusal):
                    return read.sentence
                self._length = read.mm
            self.entry = ANGLE
        else:
            if text.strip():
                angle = _angle(text)
                if angle is None:
                    return _no_angle(text)
                self._way = self._turned(angle)
            self.entry = LENGTH
        self._typing = ""
        self._hint()
        return ""

    def _turned(self, angle: float) -> float:
        toward = self._snap.point if self._snap is not None and self._way is None else None
        return turned(self.corners, angle, toward)

    # --- what is typed ------------------------------------------------------------------

    def _step(self, text: str) -> Step | Refusal:
        return read_step(text, self.desk.document.project.units, self.heading)

    def echo(self, text: str) -> tuple[str, bool]:
        """Return what typed text would do."""
        self._typing = text.strip()
        if not self._typing:
            return "", True
        if self.entry == ANGLE:
            angle = _angle(text)
            if angle is None:
                return _no_angle(text), False
            return tr("= {angle}° in the corner", angle=f"{angle:g}"), True
        step = self._step(text)
        if isinstance(step, Refusal):
            return step.sentence, False
        if step.kind is StepKind.RECTANGLE:
            return tr("{echo}, a room of four walls", echo=step.echo), True
        return step.echo, True

    def typed(self, text: str) -> str:
        """Set a corner by what is typed; an empty line closes the room."""
        self._typing = ""
        if not text.strip():
            if self._length is not None and self.heading is not None:
                return self._set(self._along(self._length, self.heading))
            return self._close()
        if self.entry == ANGLE:
            return self._typed_angle(text)
        step = self._step(text)
        if isinstance(step, Refusal):
            return step.sentence
        if step.kind is StepKind.RECTANGLE:
            return self._finish(
                lambda name, height, ids: rectangle(name, step.dx, step.dy, height, ids)
            )
        return self._set(step.end(self.corners[-1] if self.corners else START))

    def _typed_angle(self, text: str) -> str:
        angle = _angle(text)
        if angle is None:
            return _no_angle(text)
        self._way = self._turned(angle)
        self.entry = LENGTH
        if self._length is not None:
            return self._set(self._along(self._length, self._way))
        self._hint()
        return ""

    # --- steps --------------------------------------------------------------------------

    def _set(self, to: Point) -> str:
        """Set a corner; on the first one the room closes."""
        if not self.corners and (self._way is not None or self._snap is None):
            self.corners.append(START)  # drawn by keys alone: the first corner is at zero
        if len(self.corners) >= LEAST_CORNERS and distance(to, self.corners[0]) <= TOLERANCE:
            return self._close()
        if self.corners and distance(to, self.corners[-1]) <= TOLERANCE:
            return ""
        self.corners.append(to)
        self._way, self._length, self._typing, self.entry = None, None, "", LENGTH
        self._hint()
        return ""

    def _close(self) -> str:
        if len(self.corners) < LEAST_CORNERS:
            return tr(
                "Draw one wall more, then close the room; or type a size: {size}.",
                size=in_units(SIZE, self.desk.document.project.units),
            )
        try:
            ring = at_zero(closed(self.corners))
        except EditError as refusal:
            return refusal.said(self.desk.document.project.units)
        return self._finish(lambda name, height, ids: room_from_corners(name, ring, height, ids))

    def _finish(self, make: Make) -> str:
        """Add the room to the project and show it; refuse with a sentence and lose nothing."""
        made = new_room(self.desk, make)
        if isinstance(made, str):
            self._trouble = made
            return made
        self.done = True  # showing another room gives up what still goes on
        show_new_room(self.desk, made)
        return ""

    def back(self) -> bool:
        """Take back the last step; with nothing left, end the drawing."""
        self._trouble = ""
        if self.entry == ANGLE or self._length is not None:
            self.entry, self._length = LENGTH, None
        elif self._way is not None:
            self._way = None
        elif self.corners:
            self.corners.pop()
        else:
            self.cancel()
            return False
        self._hint()
        return True

    def _hint(self) -> None:
        if self.entry == ANGLE:
            self.hint = tr("Angle in the corner, degrees:")
        elif not self.corners and self._way is None:
            self.hint = tr(
                "Click the first corner, or press an arrow key; or type {size}:",
                size=in_units(SIZE, self.desk.document.project.units),
            )
        elif len(self.corners) < LEAST_CORNERS:
            self.hint = tr("Aim or press an arrow key, then type the length (Tab: angle):")
        else:
            self.hint = tr("Length of the next wall; Enter alone closes the room:")

    # --- what is drawn ------------------------------------------------------------------

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw the walls so far, the next one, and its length and angle."""
        ahead = self.ahead
        if self.desk.room_id:  # the room that is shown must not be taken for the new one
            veil = QColor(inks.desk)
            veil.setAlpha(VEIL)
            painter.fillRect(QRectF(0, 0, port.width, port.height), veil)
            for room in self._others():  # its walls are what the new ones can be taken from
                ring = on_screen(room.outline, port)
                paint_path(painter, ring, inks.faint, dashed=True, closed=True, width=1.0)
        begun = self.corners or ([START] if self._way is not None else [])
        set_ones = on_screen(begun, port)
        if len(set_ones) > 1:
            paint_path(painter, set_ones, inks.ink, width=3.0)
        for number, at in enumerate(set_ones):
            paint_handle(painter, at, inks.held, solid=number == 0)
        if ahead is not None:
            end = port.to_screen(ahead)
            if set_ones:
                paint_path(painter, [set_ones[-1], end], inks.held)
            if len(set_ones) > 1:
                paint_path(painter, [end, set_ones[0]], inks.faint, dashed=True, width=1.0)
            if self._snap is not None and self._way is None:
                paint_sign(painter, end, self._snap.kind, inks.aimed)
        words = self.figures
        if words:
            place = self._screen
            if self._way is not None or place is None:
                place = port.to_screen(ahead or (self.corners[-1] if self.corners else START))
            paint_figure(painter, place, words, inks, bad=bool(self._trouble))

    def shown(self) -> tuple[Point, ...]:
        """Return the corners, which are to stay in the window."""
        return tuple(self.corners)

    @property
    def figures(self) -> str:
        """The live length and angle, and what was snapped to."""
        if self._trouble:
            return self._trouble
        lines: list[str] = []
        ahead = self.ahead
        if self.corners and ahead is not None and distance(ahead, self.corners[-1]) > TOLERANCE:
            units = self.desk.document.project.units
            length = write_length(distance(self.corners[-1], ahead), units, suffix=True)
            lines.append(f"{length}   {corner_angle(self.corners, ahead):.4g}°")
        elif self._way is not None:
            lines.append(f"{self._way:g}°")
        if self._snap is not None and self._way is None and self._snap.words:
            lines.append(tr(self._snap.words))
        return "\n".join(lines)


def _angle(text: str) -> float | None:
    """Return degrees typed, or None."""
    plain = text.strip().rstrip("°").strip().replace(",", ".")
    try:
        angle = float(plain)
    except ValueError:
        return None
    return angle if abs(angle) <= FULL_TURN else None


def _no_angle(text: str) -> str:
    return tr("“{text}” is no angle; type degrees such as 90.", text=text.strip())
