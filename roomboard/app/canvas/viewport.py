"""The viewport: which part of a view lies where on the screen."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF
from PySide6.QtGui import QTransform

from roomboard.core.plane import Point

PAPER_MM = 3.3
"""How many pixels one mm of paper takes on the screen: lettering of 2.5 mm is read well."""
LEAST_ZOOM, MOST_ZOOM = 0.002, 20.0
"""Pixels a mm of the room may take."""
MARGIN = 30
"""Left free round a view that fits, pixels."""


@dataclass(frozen=True, slots=True)
class Viewport:
    """Where a view lies.

    Attributes:
        x: What lies in the middle of the window, mm of the view.
        y: The same, upwards.
        zoom: Pixels to a mm.
        width: Of the window, pixels.
        height: Of the window, pixels.
    """

    x: float
    y: float
    zoom: float
    width: int
    height: int

    @property
    def scale(self) -> float:
        """How many mm of the view one mm of paper is."""
        return PAPER_MM / self.zoom

    def to_screen(self, point: Point) -> QPointF:
        """Return where a point lies, pixels from the top left."""
        return QPointF(
            (point[0] - self.x) * self.zoom + self.width / 2,
            self.height / 2 - (point[1] - self.y) * self.zoom,
        )

    def to_view(self, at: QPointF) -> Point:
        """Return which point of the view lies at a place, mm."""
        return (
            (at.x() - self.width / 2) / self.zoom + self.x,
            (self.height / 2 - at.y()) / self.zoom + self.y,
        )

    @property
    def transform(self) -> QTransform:
        """From mm of the view to pixels."""
        return QTransform(
            self.zoom,
            0.0,
            0.0,
            -self.zoom,
            self.width / 2 - self.x * self.zoom,
            self.height / 2 + self.y * self.zoom,
        )

    def moved(self, dx: float, dy: float) -> Viewport:
        """Return the viewport with the drawing moved by pixels right and down."""
        return replace(self, x=self.x - dx / self.zoom, y=self.y + dy / self.zoom)

    def zoomed(self, factor: float, at: QPointF) -> Viewport:
        """Return the viewport nearer or farther; what lies under a place stays there."""
        zoom = min(MOST_ZOOM, max(LEAST_ZOOM, self.zoom * factor))
        x, y = self.to_view(at)
        new = replace(self, zoom=zoom)
        nx, ny = new.to_view(at)
        return replace(new, x=new.x + x - nx, y=new.y + y - ny)

    def resized(self, width: int, height: int) -> Viewport:
        """Return the viewport in a window of another size; the middle stays."""
        return replace(self, width=max(1, width), height=max(1, height))

    def fitted(self, bounds: tuple[float, float, float, float]) -> Viewport:
        """Return the viewport that shows a box as large as it can, mm of the view."""
        x0, y0, x1, y1 = bounds
        wide, high = max(x1 - x0, 1.0), max(y1 - y0, 1.0)
        room_x, room_y = max(self.width - 2 * MARGIN, 10), max(self.height - 2 * MARGIN, 10)
        zoom = min(MOST_ZOOM, max(LEAST_ZOOM, min(room_x / wide, room_y / high)))
        return replace(self, x=(x0 + x1) / 2, y=(y0 + y1) / 2, zoom=zoom)

    def fitted_or_begun(
        self, bounds: tuple[float, float, float, float], least_zoom: float
    ) -> Viewport:
        """Return the viewport that fits a box, or that begins at its top left if it is too large.

        Args:
            bounds: The box, mm of the view.
            least_zoom: Pixels a mm takes at least.
        """
        whole = self.fitted(bounds)
        if whole.zoom >= least_zoom:
            return whole
        x0, y0, x1, y1 = bounds
        half_w, half_h = self.width / 2 / least_zoom, self.height / 2 / least_zoom
        edge = MARGIN / least_zoom
        x = whole.x if x1 - x0 <= 2 * (half_w - edge) else x0 - edge + half_w
        y = whole.y if y1 - y0 <= 2 * (half_h - edge) else y1 + edge - half_h
        return replace(whole, x=x, y=y, zoom=least_zoom)

    def shows(self, bounds: tuple[float, float, float, float]) -> bool:
        """Tell whether a box lies in the window as a whole."""
        x0, y0, x1, y1 = bounds
        half_w, half_h = self.width / 2 / self.zoom, self.height / 2 / self.zoom
        return (
            x0 >= self.x - half_w
            and x1 <= self.x + half_w
            and y0 >= self.y - half_h
            and y1 <= self.y + half_h
        )
