"""Dragging a joint between sheets: it goes from one legal place to the next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from textwrap import wrap

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPen

from roomboard.app.canvas.overlay import paint_figure
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.desk import Desk
from roomboard.app.gestures.gesture import Aim, Gesture
from roomboard.app.gestures.track import STEADY, Place, Track, arrow_step
from roomboard.app.lettering import TYPE, font_of
from roomboard.app.palette import Inks
from roomboard.app.words import tr
from roomboard.drawing.view import AS_IT_LIES, Affine

SIGN = 5.0
"""Half the size of a sign for a place, pixels."""
LETTERS = 58
"""Longest line of the figures beside the pointer."""
SLIP = 34.0
"""What the slip with the figures takes beside its lettering, pixels."""


Telling = Callable[[], str]
"""Gives a line that says what the set-out shown changes; empty while it is worked out."""


class JointDrag(Gesture):
    """A joint taken hold of with the mouse.

    Attributes:
        track: Where it can go.
        chosen: The place it is shown at, or None where it has not been moved.
        pointed: The barred place the pointer is on, or None.
    """

    cursor = Qt.CursorShape.SizeAllCursor

    def __init__(
        self, desk: Desk, track: Track, telling: Telling, done: Callable[[Place], None]
    ) -> None:
        """Take hold.

        Args:
            desk: The desk.
            track: Where the joint can go.
            telling: Says what the set-out shown changes.
            done: Called with the place once the joint is locked there.
        """
        super().__init__(desk)
        self.track = track
        self.chosen: Place | None = None
        self.pointed: Place | None = None
        self._telling = telling
        self._done = done
        self._placing: Affine = AS_IT_LIES
        self._at = QPointF()
        self._say()

    # --- the mouse ----------------------------------------------------------------------

    def press(self, aim: Aim) -> None:
        """Note on which pane it is taken hold of."""
        if aim.pane is not None:
            self._placing = aim.pane.placing
        self._at = aim.screen

    def move(self, aim: Aim) -> None:
        """Let the joint jump to the legal place nearest to the pointer."""
        self._at = aim.screen
        along = self.track.along(self._placing.inverse().apply(aim.at))
        near = self.track.nearest(along)
        on_it = near is not None and abs(near.along - along) <= 2 * aim.reach
        self.pointed = near if near is not None and on_it and not near.legal else None
        if self.pointed is None:
            self._go(self.track.nearest(along, legal=True))
        self._say()

    def release(self, aim: Aim) -> None:
        """Lock it where it is shown."""
        self.move(aim)
        self._lock()

    def _lock(self) -> None:
        place, document = self.chosen, self.desk.document
        self.done = True
        if place is None:
            document.drop_trial()
            why = self.pointed.words if self.pointed is not None else ""
            self.desk.say(
                tr("{name} stays where it is: {why}", name=self.track.name, why=why)
                if why
                else tr("{name} stays where it is.", name=self.track.name)
            )
            return
        words = tr("Move {name}", name=self.track.name[:1].lower() + self.track.name[1:])
        if document.attempt(words, self.track.put(place)):
            self._done(place)

    # --- the keys -----------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        """Arrow keys go to the next legal place; Enter locks it there."""
        key = Qt.Key(event.key())
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._lock()
            return True
        now = self.chosen.along if self.chosen is not None else self.track.now
        step = arrow_step(key, self.track, self._placing)
        if not step:
            return False
        self.pointed = None
        self._go(self.track.next(now, step))
        self._say()
        return True

    def echo(self, text: str) -> tuple[str, bool]:  # noqa: ARG002 - nothing can be typed
        """Say how a joint is moved."""
        return tr(
            "A joint goes from one legal place to the next: drag it or use arrow keys."
        ), False

    def typed(self, text: str) -> str:
        """Say how a joint is moved."""
        return self.echo(text)[0]

    # --- what it shows ------------------------------------------------------------------

    def _go(self, place: Place | None) -> None:
        if place is None or place is self.chosen:
            return
        if self.chosen is None and abs(place.along - self.track.now) <= STEADY:
            return
        refusal = self.desk.document.try_out(self.track.put(place))
        if refusal:
            self.desk.say(refusal)
        else:
            self.chosen = place

    def _say(self) -> None:
        if self.pointed is not None:
            self.hint = tr("A barred place: it stays at the last legal one.")
        elif self.chosen is not None:
            self.hint = tr("Let go to lock it here; Esc puts it back.")
        else:
            self.hint = tr("Drag {name} to another legal place.", name=self.track.name)

    @property
    def figures(self) -> str:
        """The lines beside the pointer: the place, and what it changes."""
        if self.pointed is not None:
            return self.pointed.words
        place = self.chosen or self.track.here
        lines = [place.words if place is not None else self.track.name, self._telling()]
        return "\n".join(line for line in lines if line)

    def paint(self, painter: QPainter, port: Viewport, inks: Inks) -> None:
        """Draw every place along the way with its sign, and the figures beside the pointer."""
        now = self.chosen.along if self.chosen is not None else self.track.now
        for place in self.track.places:
            paint_place(
                painter,
                [port.to_screen(self._placing.apply(p)) for p in place.at],
                inks,
                legal=place.legal,
                here=abs(place.along - now) <= STEADY,
            )
        paint_slip(painter, self._at, self.figures, port, inks, bad=self.pointed is not None)


def paint_slip(
    painter: QPainter, at: QPointF, text: str, port: Viewport, inks: Inks, *, bad: bool
) -> None:
    """Write figures beside the pointer, in lines so short that they stay on the canvas."""
    lines = [part for line in text.split("\n") for part in wrap(line, LETTERS)]
    metrics = QFontMetricsF(font_of(TYPE))
    wide = max((metrics.horizontalAdvance(line) for line in lines), default=0.0) + SLIP
    high = metrics.height() * len(lines) + SLIP
    left = max(0.0, min(at.x(), port.width - wide))
    # Where there is no room under the pointer it stands over it.
    top = at.y() if at.y() + high <= port.height else at.y() - high - SLIP / 2
    paint_figure(painter, QPointF(left, top), "\n".join(lines), inks, bad=bad)


def paint_place(
    painter: QPainter, ends: Sequence[QPointF], inks: Inks, *, legal: bool, here: bool
) -> None:
    """Draw the sign of one place: a line with a full square, or a broken line with a cross.

    Args:
        painter: Open on the canvas.
        ends: Ends of the joint there, two for each stretch, pixels.
        inks: Colours.
        legal: Whether a joint may fall there.
        here: Whether it is shown there.
    """
    colour = QColor(inks.good if legal else inks.barred)
    pen = QPen(colour, 2.5 if here else 1.2)
    if not legal:
        pen.setDashPattern([2.0, 3.0])
    painter.save()
    for a, b in zip(ends[::2], ends[1::2], strict=False):
        painter.setPen(pen)
        painter.drawLine(QLineF(a, b))
        middle = (a + b) / 2
        painter.setPen(QPen(colour, 1.8))
        if legal:
            painter.setBrush(colour if here else QColor(inks.paper))
            half = QPointF(SIGN, SIGN)
            painter.drawRect(QRectF(middle - half, middle + half))
        else:
            for dx, dy in ((SIGN, SIGN), (SIGN, -SIGN)):
                painter.drawLine(middle - QPointF(dx, dy), middle + QPointF(dx, dy))
    painter.restore()
