"""Drawings as PNG: black, white and grey, drawn finer than they are written and then averaged.

Needs no window and no printer: Pillow comes with the writer of the PDF anyway. The same drawing
always gives the same bytes.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.core.plane import Point, Ring, distance
from roomboard.drawing.displaylist import Across, Dots, Fill, Mark, Stroke, Symbol, Text, Up
from roomboard.drawing.hatching import hatch_lines
from roomboard.drawing.layers import HATCHES, Pen, pen_of
from roomboard.drawing.lettering import text_width, type_size
from roomboard.export.picture import Picture

if TYPE_CHECKING:
    from PIL import Image, ImageDraw, ImageFont

    from roomboard.export.pdf import Fonts

DOTS_PER_INCH = 200
"""How fine a picture is, dots to an inch of paper."""
INCH = 25.4
"""mm."""
FINER, COARSER, MANY = 3, 2, 8_000_000
"""It is drawn so many times finer in each direction: less so where it has many dots anyway."""
MOST_DOTS = 24_000_000
"""A picture of more dots than this is written coarser, so that it can be opened."""
COMPRESSED = 5
"""How hard a picture is pressed together: harder takes ten times as long for a few per cent."""
WHITE, BLACK = 255, 0


def png_bytes(picture: Picture, fonts: Fonts) -> bytes:
    """Return a drawing as the bytes of a PNG file.

    Args:
        picture: The drawing.
        fonts: The bundled font.

    Raises:
        OSError: If a font cannot be read.
    """
    from PIL import Image

    wide, high = picture.width / picture.scale / INCH, picture.height / picture.scale / INCH
    fine = min(float(DOTS_PER_INCH), math.sqrt(MOST_DOTS / (wide * high)))
    size = (max(1, round(wide * fine)), max(1, round(high * fine)))
    finer = FINER if size[0] * size[1] <= MANY else COARSER
    image = Image.new("L", (size[0] * finer, size[1] * finer), WHITE)
    _Painter(image, picture, fine * finer / INCH / picture.scale, fonts).paint()
    small = image.reduce(finer)
    held = io.BytesIO()
    small.save(held, "PNG", dpi=(fine, fine), compress_level=COMPRESSED)
    return held.getvalue()


@cache
def _font(path: Path, size: int) -> ImageFont.FreeTypeFont:
    from PIL import ImageFont

    # The plain way of setting type is the same wherever the library was built.
    return ImageFont.truetype(str(path), size, layout_engine=ImageFont.Layout.BASIC)


class _Painter:
    """Paints the marks of one drawing; places in it become dots, y down."""

    def __init__(self, image: Image.Image, picture: Picture, zoom: float, fonts: Fonts) -> None:
        from PIL import ImageDraw

        self.image = image
        self.draw: ImageDraw.ImageDraw = ImageDraw.Draw(image)
        self.picture = picture
        self.zoom = zoom
        self.fonts = fonts

    def paint(self) -> None:
        for mark in self.picture.marks:
            self._mark(mark)

    def _mark(self, mark: Mark) -> None:
        if isinstance(mark, Stroke):
            self._stroke(mark)
        elif isinstance(mark, Text):
            self._text(mark)
        elif isinstance(mark, Fill):
            self._fill(mark)
        else:
            self._dots(mark)

    # --- places ---------------------------------------------------------------------------

    def at(self, point: Point) -> Point:
        x0, _, _, y1 = self.picture.box
        return ((point[0] - x0) * self.zoom, (y1 - point[1]) * self.zoom)

    def all_at(self, points: Iterable[Point]) -> list[Point]:
        return [self.at(p) for p in points]

    def paper(self, mm: float) -> float:
        """Return how many dots a length on paper is."""
        return mm * self.picture.scale * self.zoom

    # --- lines ----------------------------------------------------------------------------

    def _stroke(self, mark: Stroke) -> None:
        pen = pen_of(mark.layer)
        points = self.all_at(mark.points)
        if mark.closed:
            points.append(points[0])
        width = self.paper(pen.width)
        # Short marks of a dashed line are dots: round ends keep them visible.
        ends = not pen.dashes or any(d <= pen.width for d in pen.dashes)
        for part in self._dashed(points, pen) if pen.dashes else [points]:
            self._line(part, width, ends=ends)

    def _line(self, points: Sequence[Point], width: float, *, ends: bool) -> None:
        whole = max(1, round(width))
        self.draw.line(list(points), fill=BLACK, width=whole, joint="curve")
        for point in (points[0], points[-1]) if ends else ():
            self._disc(point, whole / 2, BLACK)

    def _dashed(self, points: Sequence[Point], pen: Pen) -> Iterator[list[Point]]:
        """Return the dashes of a line; they run on round its corners."""
        lengths = [self.paper(d) for d in pen.dashes]
        number, left = 0, lengths[0]
        part = [points[0]]
        for a, b in pairwise(points):
            length, along = distance(a, b), 0.0
            while length - along > left:
                along += left
                share = along / length
                spot = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
                if number % 2 == 0:
                    yield [*part, spot]
                part = [spot]
                number = (number + 1) % len(lengths)
                left = lengths[number]
            left -= length - along
            part.append(b)
        if number % 2 == 0:
            yield part

    def _disc(self, at: Point, radius: float, tone: int) -> None:
        x, y = at
        self.draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=tone)

    # --- areas ----------------------------------------------------------------------------

    def _fill(self, mark: Fill) -> None:
        if mark.tone is not None:
            self._tone(mark.rings, round(255 * min(max(mark.tone, 0.0), 1.0)))
        if mark.hatch:
            hatch = HATCHES[mark.hatch]
            width = max(1, round(self.paper(hatch.width)))
            for line in hatch_lines(mark.rings, hatch, self.picture.scale):
                self.draw.line(self.all_at(line), fill=BLACK, width=width)

    def _tone(self, rings: Sequence[Ring], tone: int) -> None:
        from PIL import Image, ImageChops, ImageDraw

        placed = [self.all_at(ring) for ring in rings]
        if len(placed) == 1:
            self.draw.polygon(placed[0], fill=tone)
            return
        x0 = math.floor(min(x for ring in placed for x, _ in ring))
        y0 = math.floor(min(y for ring in placed for _, y in ring))
        x1 = math.ceil(max(x for ring in placed for x, _ in ring)) + 1
        y1 = math.ceil(max(y for ring in placed for _, y in ring)) + 1
        inside = Image.new("1", (x1 - x0, y1 - y0), 0)
        for ring in placed:
            one = Image.new("1", inside.size, 0)
            ImageDraw.Draw(one).polygon([(x - x0, y - y0) for x, y in ring], fill=1)
            inside = ImageChops.logical_xor(inside, one)
        self.image.paste(tone, (x0, y0, x1, y1), inside)

    # --- lettering ------------------------------------------------------------------------

    def _text(self, mark: Text) -> None:
        across, up = mark.anchor
        size = max(1, round(self.paper(type_size(mark.paper_height))))
        font = _font(self.fonts.bold if mark.bold else self.fonts.regular, size)
        width = self.paper(text_width(mark.text, mark.paper_height, bold=mark.bold))
        cap = self.paper(mark.paper_height)
        back = {Across.LEFT: 0.0, Across.CENTRE: width / 2, Across.RIGHT: width}[across]
        low = {Up.BASE: 0.0, Up.MIDDLE: cap / 2, Up.TOP: cap}[up]
        x, y = self.at(mark.at)
        if not mark.angle_deg:
            self.draw.text((x - back, y + low), mark.text, fill=BLACK, font=font, anchor="ls")
            return
        self._turned_text(mark, font, (x, y), (back, low), size)

    def _turned_text(
        self,
        mark: Text,
        font: ImageFont.FreeTypeFont,
        at: Point,
        inset: tuple[float, float],
        size: int,
    ) -> None:
        """Write a line at a slant: on a sheet of its own, turned about the line's place."""
        from PIL import Image, ImageDraw

        back, low = inset
        length = font.getlength(mark.text)
        reach = math.ceil(math.hypot(max(back, length - back), size * 2)) + 2
        sheet = Image.new("L", (2 * reach, 2 * reach), 0)
        place = (reach - back, reach + low)
        ImageDraw.Draw(sheet).text(place, mark.text, fill=255, font=font, anchor="ls")
        turned = sheet.rotate(mark.angle_deg, resample=Image.Resampling.BICUBIC)
        corner = (round(at[0]) - reach, round(at[1]) - reach)
        self.image.paste(BLACK, corner, turned)

    # --- signs ----------------------------------------------------------------------------

    def _dots(self, mark: Dots) -> None:
        radius = self.paper(mark.paper_size) / 2
        pen = self.paper(pen_of(mark.layer).width)
        for point in mark.points:
            x, y = self.at(point)
            if mark.symbol is Symbol.CROSS:
                self._line(((x - radius, y - radius), (x + radius, y + radius)), pen, ends=True)
                self._line(((x - radius, y + radius), (x + radius, y - radius)), pen, ends=True)
                continue
            self._disc((x, y), radius, BLACK)
            if mark.symbol is Symbol.RING:
                self._disc((x, y), max(radius - pen, 0.0), WHITE)
