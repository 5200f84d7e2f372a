"""One page of the printed set on the screen."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget

from roomboard.app.canvas.on_paper import paint_page
from roomboard.app.words import tr
from roomboard.drawing.paper import Page

MARGIN = 12
"""Left free round a page, pixels."""


class Sheet(QWidget):
    """One page on the screen.

    Attributes:
        page: The page, or None.
        per_mm: Pixels to a mm of paper.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.page: Page | None = None
        self.per_mm = 2.5
        self.desk = QColor("#dcd8cf")
        self._kept: tuple[Page, float, QPixmap] | None = None
        self.setAccessibleName(tr("Page"))

    def show_page(self, page: Page | None, per_mm: float) -> None:
        """Show a page.

        Args:
            page: The page, or None.
            per_mm: Pixels to a mm of paper.
        """
        self.page, self.per_mm = page, per_mm
        self.setVisible(page is not None)
        self.setAccessibleDescription(f"{page.number}: {page.title}" if page else "")
        self.resize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size of the page and its margins."""
        if self.page is None:
            return QSize(200, 200)
        return QSize(
            round(self.page.width * self.per_mm) + 2 * MARGIN,
            round(self.page.height * self.per_mm) + 2 * MARGIN,
        )

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Paint the page from a picture of it, which is made once for each size."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.desk)
        if self.page is not None:
            painter.drawPixmap(MARGIN, MARGIN, self._picture(self.page))
        painter.end()

    def _picture(self, page: Page) -> QPixmap:
        dpr = self.devicePixelRatioF()
        scale = self.per_mm * dpr
        kept = self._kept
        if kept is not None and kept[0] is page and kept[1] == scale:
            return kept[2]
        size = QSize(max(1, round(page.width * scale)), max(1, round(page.height * scale)))
        picture = QPixmap(size)
        picture.fill(Qt.GlobalColor.white)
        painter = QPainter(picture)
        paint_page(painter, page, scale)
        painter.setPen(QColor("#8a867c"))
        painter.drawRect(QRectF(0, 0, size.width() - 1, size.height() - 1))
        painter.end()
        picture.setDevicePixelRatio(dpr)
        self._kept = (page, scale, picture)
        return picture
