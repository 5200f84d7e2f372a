"""Pages written as a PDF: vector lines, embedded font, the same bytes for the same pages."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

from roomboard.drawing.displaylist import Dots, Fill, Stroke, Symbol, Text, Up, bounds
from roomboard.drawing.layers import HATCHES, Pen, pen_of
from roomboard.drawing.lettering import text_width, type_size
from roomboard.drawing.paper import Page

if TYPE_CHECKING:
    from roomboard.core.plane import Point
    from roomboard.drawing.displaylist import Mark

POINTS = 72 / 25.4
"""Points (1/72 in) in a mm."""
REGULAR, BOLD = "roomboard-regular", "roomboard-bold"
"""Names the two faces are known by while a file is written."""
ROUND_CAP, BUTT_CAP, ROUND_JOIN = 1, 0, 1
EVEN_ODD = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fonts:
    """The two faces of the bundled font.

    Attributes:
        regular: TrueType file of the plain face.
        bold: TrueType file of the bold face.
    """

    regular: Path
    bold: Path


Progress = Callable[[int, int, str], None]
"""Is told how many pages are written, of how many, and what comes next."""


def pdf_bytes(pages: Sequence[Page], fonts: Fonts, *, progress: Progress | None = None) -> bytes:
    """Return pages as the bytes of a PDF.

    Args:
        pages: In order; they may differ in size.
        fonts: The bundled font.
        progress: Told before each page and at the end.

    Raises:
        ValueError: If there are no pages.
        OSError: If a font cannot be read.
    """
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    if not pages:
        raise ValueError("There are no pages to print.")
    # Registered anew each time: a face remembers which of its characters a file has used.
    pdfmetrics.registerFont(TTFont(REGULAR, BytesIO(fonts.regular.read_bytes())))
    pdfmetrics.registerFont(TTFont(BOLD, BytesIO(fonts.bold.read_bytes())))
    held = BytesIO()
    first = pages[0]
    canvas = Canvas(
        held,
        pagesize=(first.width * POINTS, first.height * POINTS),
        invariant=1,
        pageCompression=1,
        initialFontName=REGULAR,
    )
    canvas.setTitle(first.document)
    canvas.setCreator(first.creator)
    canvas.setAuthor(first.creator)
    canvas.setSubject("Cut sheet and order")
    room_before = ""
    for number, page in enumerate(pages):
        if progress is not None:
            progress(number, len(pages), page.title)
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        _outline_entry(canvas, page, room_before)
        room_before = page.room
        canvas.scale(POINTS, POINTS)
        canvas.setLineJoin(ROUND_JOIN)
        for mark in page.marks:
            _draw(canvas, mark)
        canvas.showPage()
    canvas.save()
    if progress is not None:
        progress(len(pages), len(pages), "")
    return held.getvalue()


def _outline_entry(canvas: Any, page: Page, room_before: str) -> None:  # noqa: ANN401 - untyped
    """List the page among the file's bookmarks, under its room where that changes."""
    key = f"page-{page.number}"
    canvas.bookmarkPage(key)
    if page.room and page.room != room_before:
        head = f"room-{page.number}"
        canvas.bookmarkPage(head)
        canvas.addOutlineEntry(page.room, head, level=0)
    canvas.addOutlineEntry(page.title, key, level=1 if page.room else 0)


def _draw(canvas: Any, mark: Mark) -> None:  # noqa: ANN401 - reportlab has no types
    if isinstance(mark, Stroke):
        _set_pen(canvas, pen_of(mark.layer))
        canvas.drawPath(_path(canvas, mark.points, closed=mark.closed), stroke=1, fill=0)
    elif isinstance(mark, Fill):
        _fill(canvas, mark)
    elif isinstance(mark, Text):
        _text(canvas, mark)
    else:
        _dots(canvas, mark)


def _set_pen(canvas: Any, pen: Pen) -> None:  # noqa: ANN401
    canvas.setStrokeGray(0)
    canvas.setLineWidth(pen.width)
    # Short marks of a dashed line are dots: round ends keep them visible.
    dotted = any(d <= pen.width for d in pen.dashes)
    canvas.setLineCap(ROUND_CAP if dotted or not pen.dashes else BUTT_CAP)
    canvas.setDash(list(pen.dashes))


def _path(canvas: Any, points: Sequence[Point], *, closed: bool) -> Any:  # noqa: ANN401
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()
    return path


def _fill(canvas: Any, mark: Fill) -> None:  # noqa: ANN401
    path = canvas.beginPath()
    for ring in mark.rings:
        path.moveTo(*ring[0])
        for point in ring[1:]:
            path.lineTo(*point)
        path.close()
    if mark.tone is not None:
        canvas.setFillGray(mark.tone)
        canvas.drawPath(path, stroke=0, fill=1, fillMode=EVEN_ODD)
    if not mark.hatch:
        return
    hatch = HATCHES[mark.hatch]
    canvas.saveState()
    canvas.clipPath(path, stroke=0, fill=0, fillMode=EVEN_ODD)
    canvas.setStrokeGray(0)
    canvas.setLineWidth(hatch.width)
    canvas.setDash([])
    lines = canvas.beginPath()
    x0, y0, x1, y1 = bounds([mark])
    reach = math.hypot(x1 - x0, y1 - y0)
    for angle in hatch.angles_deg:
        cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        # Lines stand at whole multiples of the spacing from the page's corner, so that the
        # hatches of neighbouring areas run on.
        across = [y * cos - x * sin for x in (x0, x1) for y in (y0, y1)]
        middle = (x0 + x1) / 2 * cos + (y0 + y1) / 2 * sin
        first = math.ceil(min(across) / hatch.spacing)
        last = math.floor(max(across) / hatch.spacing)
        for number in range(first, last + 1):
            off = number * hatch.spacing
            a, b = middle - reach / 2, middle + reach / 2
            lines.moveTo(a * cos - off * sin, a * sin + off * cos)
            lines.lineTo(b * cos - off * sin, b * sin + off * cos)
    canvas.drawPath(lines, stroke=1, fill=0)
    canvas.restoreState()


def _text(canvas: Any, mark: Text) -> None:  # noqa: ANN401
    across, up = mark.anchor
    width = text_width(mark.text, mark.paper_height, bold=mark.bold)
    x = {"left": 0.0, "centre": -width / 2, "right": -width}[across.value]
    y = {Up.BASE: 0.0, Up.MIDDLE: -mark.paper_height / 2, Up.TOP: -mark.paper_height}[up]
    canvas.setFillGray(0)
    line = canvas.beginText()
    cos, sin = math.cos(math.radians(mark.angle_deg)), math.sin(math.radians(mark.angle_deg))
    line.setTextTransform(
        cos, sin, -sin, cos, mark.at[0] + x * cos - y * sin, mark.at[1] + x * sin + y * cos
    )
    line.setFont(BOLD if mark.bold else REGULAR, type_size(mark.paper_height))
    line.textOut(mark.text)
    canvas.drawText(line)


def _dots(canvas: Any, mark: Dots) -> None:  # noqa: ANN401
    canvas.setStrokeGray(0)
    canvas.setDash([])
    path = canvas.beginPath()
    size = mark.paper_size
    if mark.symbol is Symbol.CROSS:
        half = size / 2
        for x, y in mark.points:
            path.moveTo(x - half, y - half)
            path.lineTo(x + half, y + half)
            path.moveTo(x - half, y + half)
            path.lineTo(x + half, y - half)
        canvas.setLineWidth(pen_of(mark.layer).width)
        canvas.drawPath(path, stroke=1, fill=0)
        return
    # One path of strokes of no length, whose round ends are the dots.
    for x, y in mark.points:
        path.moveTo(x, y)
        path.lineTo(x, y)
    canvas.setLineCap(ROUND_CAP)
    canvas.setLineWidth(size)
    canvas.drawPath(path, stroke=1, fill=0)
    if mark.symbol is Symbol.RING:
        canvas.setStrokeGray(1)
        canvas.setLineWidth(size - 2 * pen_of(mark.layer).width)
        canvas.drawPath(path, stroke=1, fill=0)
