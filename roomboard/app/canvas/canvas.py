"""The canvas: shows one view of the room, takes hold of what lies on it, runs gestures."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from roomboard.app.canvas.drawn import Drawn, Fit, Look, draw
from roomboard.app.canvas.overlay import paint_marked, paint_message
from roomboard.app.canvas.prepared import Op, inked, paint
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk, Held
from roomboard.app.examples import ROOM, in_units
from roomboard.app.gestures.gesture import Aim, Gesture
from roomboard.app.palette import LIGHT, Inks
from roomboard.app.words import tr
from roomboard.app.workings import Workings
from roomboard.core.plane import Point, distance
from roomboard.core.scheme import Scheme
from roomboard.drawing.displaylist import box_of
from roomboard.drawing.picking import Picked
from roomboard.drawing.plain_words import Named, named
from roomboard.drawing.view import View

MORE = 1.2
"""How much farther a single point reaches than a line."""
REACH = 7.0
"""How near the pointer must be, pixels."""
DRAG = 5.0
"""How far the pointer must move before it drags, pixels."""
STEP = 1.25
"""How much nearer one notch of the wheel brings the drawing."""
PAN = 60.0
"""How far an arrow key moves the drawing, pixels."""
PATIENCE = 0.3
"""Seconds after which drawing a view gives way to a newer one."""
SETTLE = 120
"""How long after zooming lettering is placed anew, ms."""

DragFor = Callable[[Desk, Aim], Gesture | None]
EditFor = Callable[[Desk], Gesture | None]
Overlay = Callable[[QPainter, Viewport, Inks], None]


class Canvas(QWidget):
    """Painter of one view, with a viewport, picking and gestures.

    Attributes:
        desk: What it shows.
        inks: Its colours.
        drag_for: Gives the gesture that dragging from a place begins.
        edit_for: Gives the gesture that changes what is held where it is drawn, if one does.
        more: Gives what can be pointed at and walked to beside what the view shows.
        more_named: Names such a thing.
        overlays: Each paints something of its own over the view, under what is held.
        over: Lays marks over a view, off the window's thread, for a scheme and a lens.

    Signals:
        aimed_at: What the pointer or the focus is on, in plain words, or None.
        drawn_changed: Another view is painted.
        gesture_changed: A gesture began, went on to another step, or ended.
        typing: Text typed on the canvas that belongs into the line under it.
        edit_asked: The figures of what is held are to be edited.
    """

    aimed_at = Signal(object)
    drawn_changed = Signal()
    gesture_changed = Signal()
    typing = Signal(str)
    edit_asked = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.inks: Inks = LIGHT
        self.drag_for: DragFor = lambda _desk, _aim: None
        self.edit_for: EditFor = lambda _desk: None
        self.more: Callable[[Desk], tuple[Picked, ...]] = lambda _desk: ()
        self.more_named: Callable[[Desk, Picked], Named | None] = lambda _desk, _picked: None
        self.overlays: list[Overlay] = []
        self.over: Callable[[View, Scheme, str], View] | None = None
        self.port = Viewport(0.0, 0.0, 0.1, 800, 600)
        self.gesture: Gesture | None = None
        self._drawn: Drawn | None = None
        self._ops: list[Op] = []
        self._fit_wanted = True
        self._by_hand = False
        self._asked_key: tuple[str, str, int] = ("", "", 0)
        self._newest = self._done = 0
        self._aimed: Picked | None = None
        self._place: tuple[str, object] | None = None
        self._pressed: Aim | None = None
        self._pan_from: QPointF | None = None
        self._space = False
        self._focus_index = -1
        self._workings = Workings("drawing", self, patience=PATIENCE)
        self._workings.done.connect(self._show)
        self._workings.failed.connect(self._not_drawn)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(SETTLE)
        self._settle.timeout.connect(self.redraw)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(tr("Drawing"))
        self.setAccessibleDescription(
            tr("The room as it is drawn; Tab goes from one thing to the next, Enter edits it.")
        )
        document = desk.document
        document.scheme_changed.connect(self.redraw)
        document.project_changed.connect(self._after_edit)
        desk.room_changed.connect(self._another)
        desk.view_changed.connect(self._another)
        desk.lens_changed.connect(self.redraw)
        desk.layer_changed.connect(self.redraw)
        desk.held_changed.connect(self.update)
        desk.place_asked.connect(self._go_to)

    # --- what is painted ----------------------------------------------------------------

    @property
    def drawn(self) -> Drawn | None:
        """The view that is painted, with what can be picked on it."""
        return self._drawn

    @property
    def aimed(self) -> Picked | None:
        """What the pointer or the focus is on."""
        return self._aimed

    @property
    def settled(self) -> bool:
        """Whether what is painted is what the desk asks for."""
        done = self._done >= self._newest
        return done and not self._workings.busy and not self._settle.isActive()

    def sizeHint(self) -> QSize:
        """Ask for a good half of a small screen."""
        return QSize(760, 560)

    def set_inks(self, inks: Inks) -> None:
        """Paint in other colours."""
        self.inks = inks
        if self._drawn is not None:
            self._ops = inked(self._drawn.parts, inks)
        self.update()

    def redraw(self) -> None:
        """Draw the view anew for what is known now and for the scale of the viewport."""
        desk, document = self.desk, self.desk.document
        project, scheme = document.shown, document.scheme
        room, name, look = desk.room_id, desk.view, Look(lens=desk.lens, layer=desk.layer)
        port, fit, over = self.port, self._lie(), self.over
        self._asked_key = (room, name, desk.layer)
        self._newest = self._workings.ask(
            lambda: draw(project, scheme, room, name, look, port, fit, over)
        )

    def _lie(self) -> Fit:
        """Say how the view asked for is to lie in the window."""
        if self.gesture is not None or self._pressed is not None or self._by_hand:
            return Fit.STAYS
        return Fit.WHOLE if self._fit_wanted else Fit.IF_NEEDED

    def _show(self, number: int, drawn: Drawn) -> None:
        self._done = number
        if (drawn.room, drawn.name, drawn.layer) != self._asked_key:
            return
        self._drawn = drawn
        if self.gesture is not None:
            self.gesture.view = drawn.view
        self._ops = inked(drawn.parts, self.inks)
        if drawn.port is not None and self._lie() is not Fit.STAYS:
            self.port = drawn.port.resized(self.width(), self.height())
            self._fit_wanted = not drawn.view.marks
        elif drawn.port is not None:
            self._settle.start()  # moved meanwhile: its lettering is for another scale
        if self._aimed is not None and not self._still_there(drawn, self._aimed):
            self.aimed_at.emit(None)
        self._aimed = None
        if self._place is not None:
            place, self._place = self._place, None
            self._bring(*place)
        self.drawn_changed.emit()
        self.update()

    @staticmethod
    def _still_there(drawn: Drawn, picked: Picked) -> bool:
        return bool(drawn.picker.of(picked.surface, picked.ref))

    def _not_drawn(self, number: int, fault: str) -> None:
        self._done = number
        self.desk.say(
            tr("This view could not be drawn; choose another one or undo ({fault}).", fault=fault)
        )

    def _another(self) -> None:
        self._fit_wanted, self._by_hand = True, False
        self._focus_index = -1
        self.drop_gesture()
        self.redraw()

    def _after_edit(self) -> None:
        if self.gesture is not None and self.gesture.overtaken():
            self.drop_gesture()
        if self.desk.room_scheme is None or not self.desk.room_scheme.surfaces:
            self._fit_wanted = True
            self.redraw()

    def fit(self) -> None:
        """Show the whole view."""
        self._fit_wanted, self._by_hand = True, False
        self.redraw()

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Come nearer or go farther; what lies under the pointer stays there."""
        where = at if at is not None else QPointF(self.width() / 2, self.height() / 2)
        self.port = self.port.zoomed(factor, where)
        self._by_hand = True
        self._settle.start()
        self.update()

    def _go_to(self, surface: str, points: object) -> None:
        """Bring a place on a surface into view, once its view is drawn."""
        drawn = self._drawn
        if drawn is None or (drawn.room, drawn.name, drawn.layer) != self._asked_key:
            self._place = (surface, points)
        else:
            self._bring(surface, points)

    def _bring(self, surface: str, points: object) -> None:
        """Bring a place on a surface of the view drawn into view."""
        drawn = self._drawn
        pane = next((p for p in drawn.view.panes if p.surface == surface), None) if drawn else None
        if pane is None:
            return
        places = [pane.placing.apply(p) for p in points] if isinstance(points, tuple) else []
        ring = places or list(pane.outline)
        if not ring:
            return
        pad = 600.0 if places else 100.0
        x0, y0, x1, y1 = box_of(ring)
        self.port = self.port.fitted((x0 - pad, y0 - pad, x1 + pad, y1 + pad))
        self._by_hand = True
        self._settle.start()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Paint the view, then what is held, aimed at and being done."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.inks.desk)
        if self._drawn is not None and self._drawn.view.marks:
            paint(painter, self._ops, self.port, self.devicePixelRatioF())
            for overlay in self.overlays:
                overlay(painter, self.port, self.inks)
            for picked in self._held_marks():
                paint_marked(painter, picked, self.port, self.inks.held)
            if self._aimed is not None:
                paint_marked(painter, self._aimed, self.port, self.inks.aimed)
        elif not self.desk.room_id and self.gesture is None:
            paint_message(
                painter,
                self.rect(),
                tr(
                    "Type a room, such as  {room}  and press Enter,",
                    room=in_units(ROOM, self.desk.document.project.units),
                )
                + "\n"
                + tr("or press W and draw its walls."),
                self.inks,
            )
        if self.gesture is not None:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.gesture.paint(painter, self.port, self.inks)
        if self.hasFocus():
            painter.setPen(self.inks.aimed)
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def _held_marks(self) -> tuple[Picked, ...]:
        held, drawn = self.desk.held, self._drawn
        if held is None or drawn is None:
            return ()
        beside = (p for p in self.more(self.desk) if held_of(p) == held)
        return (*drawn.picker.of(held.surface, held.ref), *beside)

    # --- aiming -------------------------------------------------------------------------

    def aim(self, at: QPointF, modifiers: Qt.KeyboardModifier | None = None) -> Aim:
        """Return what lies at a place of the canvas."""
        mods = modifiers if modifiers is not None else Qt.KeyboardModifier.NoModifier
        point = self.port.to_view(at)
        reach = REACH / self.port.zoom
        drawn = self._drawn
        pane = drawn.view.pane_at(point) if drawn is not None else None
        on_surface: Point | None = None
        if pane is not None:
            on_surface = pane.placing.inverse().apply(point)
        return Aim(
            at=point,
            screen=at,
            reach=reach,
            pane=pane,
            surface=pane.surface if pane is not None else "",
            on_surface=on_surface,
            picked=self._picked_at(drawn, point, reach) if drawn is not None else (),
            free=bool(mods & Qt.KeyboardModifier.ShiftModifier),
            fine=bool(mods & Qt.KeyboardModifier.ControlModifier),
        )

    def _picked_at(self, drawn: Drawn, point: Point, reach: float) -> tuple[Picked, ...]:
        near = tuple(
            p for p in self.more(self.desk) if distance(p.outline[0], point) <= MORE * reach
        )
        return (*near, *drawn.picker.at(point, reach))

    def name_of(self, picked: Picked) -> Named | None:
        """Return what something on the drawing is in plain words."""
        own = self.more_named(self.desk, picked)
        if own is not None:
            return own
        scheme = self._drawn.scheme if self._drawn is not None else None
        room = self.desk.room_scheme
        if room is None:
            return None
        plan = scheme.cut_plan if scheme is not None else None
        return named(picked, room, self.desk.document.shown, plan)

    def _aim_at(self, picked: Picked | None) -> None:
        if picked != self._aimed:
            self._aimed = picked
            self.aimed_at.emit(self.name_of(picked) if picked is not None else None)
            self.update()

    # --- gestures -----------------------------------------------------------------------

    def begin(self, gesture: Gesture) -> None:
        """Begin a gesture; one that is going on is given up."""
        self.drop_gesture()
        self.gesture = gesture
        gesture.view = self._drawn.view if self._drawn is not None else None
        self.setCursor(gesture.cursor)
        self.setFocus()
        self.gesture_changed.emit()
        self.update()

    def drop_gesture(self) -> None:
        """Give up the gesture going on, if there is one."""
        if self.gesture is not None:
            if not self.gesture.done:
                self.gesture.cancel()
            self._let_go()

    def _let_go(self) -> None:
        self.gesture = None
        self.unsetCursor()
        self.gesture_changed.emit()
        self.update()

    def _after_gesture(self) -> None:
        if self.gesture is not None and self.gesture.done:
            self._let_go()
        else:
            self.gesture_changed.emit()
            self.update()

    def swap_text(self, text: str) -> str | None:
        """Give typed text to the gesture going on, which goes on to its other figure (Tab).

        Returns:
            None where there is none, empty where it was taken, or why it was not.
        """
        said = self.gesture.swap(text) if self.gesture is not None else None
        if said is not None:
            self._after_gesture()
        return said

    def take_text(self, text: str) -> str:
        """Give typed text to the gesture going on.

        Returns:
            Empty, or the sentence that says why it was not taken.
        """
        if self.gesture is None:
            return ""
        refusal = self.gesture.typed(text)
        self._after_gesture()
        self._keep_in_view()
        return refusal

    def _keep_in_view(self) -> None:
        """Go farther off where what was typed lies outside the window."""
        points = self.gesture.shown() if self.gesture is not None else ()
        if points:
            box = box_of(points)
            if not self.port.shows(box):
                self.port = self.port.fitted(box).zoomed(
                    1 / STEP, QPointF(self.width() / 2, self.height() / 2)
                )
                self._settle.start()
                self.update()

    # --- the mouse ----------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Press: take hold, go on with a gesture, or begin to move the drawing."""
        at, button = event.position(), event.button()
        middle = button == Qt.MouseButton.MiddleButton
        if middle or (button == Qt.MouseButton.LeftButton and self._space):
            self._pan_from = at
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if button == Qt.MouseButton.RightButton and self.gesture is not None:
            self._back()
            return
        if button != Qt.MouseButton.LeftButton:
            return
        if self.gesture is not None and self.gesture.yields:
            self.drop_gesture()
        aim = self.aim(at, event.modifiers())
        self._pressed = aim
        if self.gesture is not None:
            self._pressed = None  # the gesture has it; letting go takes hold of nothing
            self.gesture.press(aim)
            self._after_gesture()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move: name what is aimed at, drag, or move the drawing."""
        at = event.position()
        if self._pan_from is not None:
            delta = at - self._pan_from
            self._pan_from = at
            self.port = self.port.moved(delta.x(), delta.y())
            self._by_hand = True
            self.update()
            return
        aim = self.aim(at, event.modifiers())
        if self.gesture is not None and not self.gesture.yields:
            self.gesture.move(aim)
            self._after_gesture()
            return
        pressed = self._pressed
        if pressed is not None and event.buttons() & Qt.MouseButton.LeftButton:
            moved = at - pressed.screen
            if abs(moved.x()) + abs(moved.y()) > DRAG:
                self._drag(pressed, aim)
            return
        self._aim_at(aim.picked[0] if aim.picked else None)

    def _drag(self, pressed: Aim, aim: Aim) -> None:
        gesture = self.drag_for(self.desk, pressed)
        if gesture is None:
            self._pan_from = pressed.screen
            self._pressed = None
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        self.begin(gesture)
        gesture.press(pressed)
        gesture.move(aim)
        self._after_gesture()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Release: end a drag, or take hold of what was clicked."""
        if self._pan_from is not None:
            self._pan_from = None
            self.setCursor(self.gesture.cursor if self.gesture else Qt.CursorShape.ArrowCursor)
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        aim, pressed = self.aim(event.position(), event.modifiers()), self._pressed
        self._pressed = None
        if self.gesture is not None:
            self.gesture.release(aim)
            self._after_gesture()
        elif pressed is not None:
            self.desk.hold(held_of(aim.picked[0]) if aim.picked else None)
            self._edit_here()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Double click: edit the figures of what lies there."""
        if self.gesture is not None and not self.gesture.yields:
            self.mousePressEvent(event)
            return
        aim = self.aim(event.position(), event.modifiers())
        if aim.picked:
            self.desk.hold(held_of(aim.picked[0]))
            self._edit()

    def _edit(self) -> None:
        """Change what is held where it is drawn, or have its figures edited."""
        if not self._edit_here():
            self.edit_asked.emit()

    def _edit_here(self) -> bool:
        """Begin the gesture that changes what is held where it is drawn; tell whether one does."""
        gesture = self.edit_for(self.desk)
        if gesture is not None:
            self.begin(gesture)
        return gesture is not None

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Wheel: nearer or farther, what lies under the pointer stays there."""
        notches = event.angleDelta().y() / 120
        if notches:
            self.zoom(STEP**notches, event.position())
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is aimed at any more."""
        self._aim_at(None)
        super().leaveEvent(event)

    # --- the keys -----------------------------------------------------------------------

    def event(self, event: QEvent) -> bool:
        """Keep Tab for going from thing to thing, and what is typed for the gesture going on."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.ShortcutOverride
            and self.gesture is not None
            and event.text().isprintable()
            and event.text()
            and self.gesture.takes(event.text())
            and not event.modifiers() & Qt.KeyboardModifier.ControlModifier
        ):
            event.accept()
            return True
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            step = {Qt.Key.Key_Tab: 1, Qt.Key.Key_Backtab: -1}.get(Qt.Key(event.key()), 0)
            if step and self.gesture is not None and self.gesture.key(event):
                self._after_gesture()
                return True
            if step and self.gesture is not None and self.gesture.yields:
                self.drop_gesture()
            if step and self.gesture is None and self._walk(step):
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Keys: gestures first, then moving about; what is typed goes into the line below."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            self._back()
        elif self.gesture is not None and self.gesture.key(event):
            self._after_gesture()
        elif key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._edit()
        elif not self._move_about(key, event) and not self._type(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the space bar."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
        super().keyReleaseEvent(event)

    def _move_about(self, key: Qt.Key, event: QKeyEvent) -> bool:
        pans = {
            Qt.Key.Key_Left: (PAN, 0.0),
            Qt.Key.Key_Right: (-PAN, 0.0),
            Qt.Key.Key_Up: (0.0, PAN),
            Qt.Key.Key_Down: (0.0, -PAN),
        }
        if key in pans and not event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.port = self.port.moved(*pans[key])
            self._by_hand = True
            self.update()
            return True
        return False

    def _type(self, event: QKeyEvent) -> bool:
        """Hand what is typed to the line under the canvas where it begins a length."""
        text = event.text()
        own = self.gesture is not None and self.gesture.takes(text)
        if own and text and text.isprintable() and not text.isspace():
            self.typing.emit(text)
            return True
        return False

    def _back(self) -> None:
        """Esc: one step back."""
        if self.gesture is not None:
            if self.gesture.back():
                self._after_gesture()
            else:
                self._let_go()
        elif self.desk.held is not None:
            self.desk.hold(None)

    def _walk(self, step: int) -> bool:
        """Put the focus on the next thing of the drawing; past the last it leaves the canvas."""
        drawn = self._drawn
        order = (*drawn.picker.order(), *self.more(self.desk)) if drawn is not None else ()
        index = self._focus_index + step if self._focus_index >= 0 or step > 0 else len(order) - 1
        if not 0 <= index < len(order):
            self._focus_index = -1
            self._aim_at(None)
            return False
        self._focus_index = index
        picked = order[index]
        self.desk.hold(held_of(picked))
        self._aim_at(picked)
        return True

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the canvas has the focus."""
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that it has lost it."""
        self._space = False
        self.update()
        super().focusOutEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the middle; fit again as long as nothing was moved by hand."""
        self.port = self.port.resized(self.width(), self.height())
        if self.gesture is None and not self._by_hand:
            self._fit_wanted = True
            self._settle.start()
        super().resizeEvent(event)

    def close_down(self) -> None:
        """End the work in the background."""
        self._settle.stop()
        self._workings.close()


def held_of(picked: Picked) -> Held:
    """Return what is taken hold of by picking something."""
    return Held(kind=picked.layer, ref=picked.ref, surface=picked.surface)
