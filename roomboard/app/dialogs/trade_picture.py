"""The plot of board against butts on the desk; each answer on it can be chosen."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from roomboard.app.canvas.prepared import paint, prepared
from roomboard.app.canvas.viewport import PAPER_MM, Viewport
from roomboard.app.palette import DARK, LIGHT, Inks, is_dark
from roomboard.app.words import tr
from roomboard.core.optimum.trading import Point
from roomboard.core.project import Units
from roomboard.drawing.displaylist import DisplayList, Dots
from roomboard.drawing.trade_off import POINT, trade_plot

LEAST = 90.0
"""The plot is at least this wide, mm of paper."""
REACH = 14.0
"""A click this near to an answer takes it, pixels."""


class TradePicture(QWidget):
    """A plot painted as it is printed: a click on an answer takes it up.

    Left and right go from answer to answer, Enter takes one up.

    Signals:
        chosen: The number of the answer that is marked.
        asked_for: The number of the answer to take up.
    """

    chosen = Signal(int)
    asked_for = Signal(int)

    def __init__(self, inks: Inks, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inks = inks
        self._points: tuple[Point, ...] = ()
        self._units = Units.METRIC
        self._made: tuple[int, int, DisplayList] | None = None
        self.number = -1
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(320, 270)
        self.setMouseTracking(True)
        self.setAccessibleName(tr("Board against butts, plotted"))
        self.setToolTip(
            tr("Click an answer to take it up; left and right go through them, Enter takes one up.")
        )

    def sizeHint(self) -> QSize:
        """Ask for room to read it in."""
        return QSize(440, 280)

    def show_points(self, points: tuple[Point, ...], units: Units) -> None:
        """Show other answers."""
        self._points, self._units, self._made, self.number = points, units, None, -1
        self.setAccessibleDescription(tr("{count} answers", count=len(points)))
        self.update()

    def choose(self, number: int) -> None:
        """Mark an answer."""
        if number != self.number and -1 <= number < len(self._points):
            self.number, self._made = number, None
            self.update()

    # --- painting -----------------------------------------------------------------------

    def _marks(self) -> DisplayList:
        size = (self.width(), self.height())
        if self._made is None or self._made[:2] != size:
            wide = max(LEAST, (size[0] - 16) / PAPER_MM)
            plot = trade_plot(self._points, self._units, wide, chosen=self.number)
            self._made = (*size, plot.marks)
        return self._made[2]

    def _port(self) -> Viewport:
        wide, high = self.width(), self.height()
        return Viewport((wide / 2 - 8) / PAPER_MM, (high / 2 - 8) / PAPER_MM, PAPER_MM, wide, high)

    def place_of(self, number: int) -> QPointF:
        """Return where an answer lies on the widget, pixels."""
        ref = f"{POINT}{number}"
        dots = next(m for m in self._marks() if isinstance(m, Dots) and m.ref == ref)
        return self._port().to_screen(dots.points[0])

    def changeEvent(self, event: QEvent) -> None:
        """Follow the window from light to dark and back."""
        if event.type() == QEvent.Type.PaletteChange:
            self._inks = DARK if is_dark(self) else LIGHT
            self.update()
        super().changeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - the whole is painted
        """Paint the plot, and round it whether it has the focus."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._inks.paper))
        if self._points:
            marks = prepared(self._marks(), self._inks)
            paint(painter, marks, self._port(), self.devicePixelRatioF())
        if self.number >= 0:
            painter.setPen(QPen(QColor(self._inks.held), 2.0))
            painter.drawEllipse(self.place_of(self.number), 9.0, 9.0)
        focus = self.hasFocus()
        pen = QPen(QColor(self._inks.aimed if focus else self._inks.faint), 3.0 if focus else 1.0)
        painter.setPen(pen)
        painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.end()

    # --- mouse and keys -----------------------------------------------------------------

    def _at(self, place: QPointF) -> int:
        near = [((self.place_of(n) - place).manhattanLength(), n) for n in range(len(self._points))]
        found = min(near, default=(REACH + 1, -1))
        return found[1] if found[0] <= REACH else -1

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Mark the answer under the pointer."""
        number = self._at(event.position())
        if number >= 0 and number != self.number:
            self.choose(number)
            self.chosen.emit(number)
        hand = Qt.CursorShape.PointingHandCursor if number >= 0 else Qt.CursorShape.ArrowCursor
        self.setCursor(hand)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Take the answer under the pointer up."""
        number = self._at(event.position())
        if number >= 0 and event.button() == Qt.MouseButton.LeftButton:
            self.asked_for.emit(number)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from answer to answer, or take one up."""
        key = event.key()
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.number >= 0:
            self.asked_for.emit(self.number)
        elif key in {Qt.Key.Key_Left, Qt.Key.Key_Right} and self._points:
            step = 1 if key == Qt.Key.Key_Right else -1
            number = min(max(self.number + step, 0), len(self._points) - 1)
            self.choose(number)
            self.chosen.emit(number)
        else:
            super().keyPressEvent(event)
