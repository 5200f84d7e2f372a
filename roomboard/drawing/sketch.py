"""A drawing being made at a scale: lines first, then lettering where there is room for it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise

import shapely

from roomboard.core.plane import Interval, Point, Region, Ring
from roomboard.drawing import _drafting
from roomboard.drawing.displaylist import (
    CENTRED,
    Across,
    Anchor,
    Box,
    DisplayList,
    Dots,
    Fill,
    Mark,
    Stroke,
    Symbol,
    Text,
    Up,
    bounds,
    box_of,
    text_box,
    text_corners,
)
from roomboard.drawing.lettering import MARK, SMALLEST, below, line_pitch, text_width
from roomboard.drawing.view import AS_IT_LIES, Affine

QUARTER = 90.0
GAP = 0.5
"""Lettering stands at least this far apart, mm on paper."""
APART = 2.5
"""So far apart stand letters that must not be taken for a part of other lettering, mm on paper."""
DIMENSION_PITCH = _drafting.DIMENSION["pitch"]
"""Distance between rows of dimensions, mm on paper."""
ELBOW = 3.0
"""The end of a leader runs level for this much before its label, mm."""
LEVELS = 6
"""A label beside a drawing stands at most so many lines over or under what it names."""
LEADER = 8.0
"""Labels beside a drawing stand this far from it, mm on paper."""
ROW = 4.6
"""Distance between rows of labels over a drawing, mm on paper."""
UPWARDS = (0.4, 0.8, 1.2, 1.6)
"""How far a length beside an upright line may stand above its tick, mm on paper."""
TICK = _drafting.DIMENSION["tick"]
"""Half the length of a dimension's tick, mm on paper."""
INWARD = 1.4
"""How far the line at a tick leads back to what is measured, mm on paper: not to its lettering."""


class Side(StrEnum):
    """A side of a drawing."""

    LEFT = "left"
    RIGHT = "right"
    BOTTOM = "bottom"
    TOP = "top"

    @property
    def level(self) -> bool:
        """Whether dimensions on this side run level."""
        return self in {Side.BOTTOM, Side.TOP}

    @property
    def outwards(self) -> int:
        """+1 where leading out is up or right, -1 where it is down or left."""
        return 1 if self in {Side.RIGHT, Side.TOP} else -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a label.

    Attributes:
        text: What it says.
        height: Height of its capitals, mm on paper.
        bold: Whether it is in the bold face.
    """

    text: str
    height: float = SMALLEST
    bold: bool = False


Label = tuple[Line, ...]
"""Lines of lettering one under the other."""


def plain(text: str) -> Label:
    """Return a label of one plain line."""
    return (Line(text=text),)


def marked(text: str) -> Label:
    """Return a label of one line as large as a piece mark."""
    return (Line(text=text, height=MARK, bold=True),)


class Sketch:
    """Gathers the marks of one drawing and finds places for its lettering.

    Lines, fills, dots, places and regions are given in mm of what is drawn and are laid on the
    drawing by ``placing``; lettering is laid out on the drawing itself, so that it can be read
    however its surface lies. Dimensions want a surface that lies as it is.

    Attributes:
        scale: How many mm of the drawing one mm of paper is.
        widest: What it should not be wider than if it can help it, mm on paper.
        call_outs: Whether labels that find no room inside stand beside the drawing.
        gap: How far apart lettering is written from now on, mm on paper.
    """

    def __init__(
        self,
        scale: float,
        *,
        widest: float = math.inf,
        call_outs: bool = True,
    ) -> None:
        """Begin an empty drawing.

        Args:
            scale: How many mm of the drawing one mm of paper is.
            widest: Labels that find no room inside stand on the right unless that makes the
                drawing wider than this, mm on paper; over it otherwise.
            call_outs: Whether labels that find no room inside stand beside the drawing; they
                are left out otherwise, as on a screen that can be zoomed.
        """
        self.scale = scale
        self.widest = widest
        self.call_outs = call_outs
        self.gap = GAP
        self._placing = AS_IT_LIES
        self._laid: dict[Region, Region] = {}
        self._lines: list[Mark] = []
        self._covers: list[Mark] = []
        self._signs: list[Mark] = []
        self._letters: list[Mark] = []
        self._taken: list[Box] = []
        self._lettered: list[Box] = []
        self._called: list[tuple[Point, Label, str]] = []
        self._before: list[Mark] = []

    def mm(self, paper: float) -> float:
        """Return how long a length on paper is in the drawing."""
        return paper * self.scale

    # --- where it lies ------------------------------------------------------------------

    @property
    def placing(self) -> Affine:
        """Where what is drawn comes to lie."""
        return self._placing

    def lay_on(self, placing: Affine) -> None:
        """Set where what is drawn from now on comes to lie."""
        self._placing = placing
        self._laid = {}

    def taken_off(self) -> DisplayList:
        """Return what was drawn since this was last asked, lettering on top, and go on.

        The places of the lettering stay taken.
        """
        marks = self._laid_over()
        self._before.extend((*self._lines, *self._signs))
        for kind in (self._lines, self._covers, self._signs, self._letters):
            kind.clear()
        return marks

    def _laid_over(self) -> DisplayList:
        """Return all marks in order: lettering covers lines, but hides no sign."""
        return (*self._lines, *self._covers, *self._signs, *self._letters)

    def angle_of(self, a: Point, b: Point) -> float:
        """Return the angle for lettering along a line, as :meth:`label` takes it."""
        p, q = self._placing.apply(a), self._placing.apply(b)
        return _readable(reading_angle(p, q) - self._placing.lean_deg)

    def _points(self, points: Iterable[Point]) -> tuple[Point, ...]:
        if self._placing is AS_IT_LIES:
            return tuple(points)
        return self._placing.apply_all(points)

    def _region(self, region: Region) -> Region:
        if self._placing is AS_IT_LIES:
            return region
        laid = self._laid.get(region)
        if laid is None:
            laid = self._laid[region] = self._placing.region(region)
        return laid

    # --- lines --------------------------------------------------------------------------

    def stroke(
        self, points: Iterable[Point], layer: str, ref: str = "", *, closed: bool = False
    ) -> None:
        """Draw a line through points."""
        found = self._points(points)
        self._lines.append(Stroke(points=found, layer=layer, ref=ref, closed=closed))

    def outline(self, region: Region, layer: str, ref: str = "") -> None:
        """Draw the outline of a region, holes included."""
        for ring in region.rings:
            self.stroke(ring, layer, ref, closed=True)

    def fill(
        self,
        rings: Sequence[Ring],
        layer: str,
        ref: str = "",
        *,
        tone: float | None = None,
        hatch: str = "",
    ) -> None:
        """Fill an area."""
        found = tuple(self._points(ring) for ring in rings)
        self._lines.append(Fill(rings=found, layer=layer, ref=ref, tone=tone, hatch=hatch))

    def dots(self, points: Iterable[Point], symbol: Symbol, size: float, layer: str) -> None:
        """Draw equal signs at points, if there are any."""
        found = self._points(points)
        if found:
            self._signs.append(Dots(points=found, symbol=symbol, paper_size=size, layer=layer))

    def arrow(self, tip: Point, towards: Point, layer: str, ref: str = "") -> None:
        """Draw an arrow head at a point.

        Args:
            tip: Where it points.
            towards: Unit vector it points along.
            layer: Its layer.
            ref: What it stands for.
        """
        long, half = self.mm(3.0), self.mm(0.8)
        dx, dy = towards
        back = (tip[0] - dx * long, tip[1] - dy * long)
        ring = (
            tip,
            (back[0] - dy * half, back[1] + dx * half),
            (back[0] + dy * half, back[1] - dx * half),
        )
        self.fill((ring,), layer, ref, tone=0.0)

    # --- lettering ----------------------------------------------------------------------

    def is_free(self, box: Box) -> bool:
        """Tell whether no lettering stands in a box, nor anything else that is to stay free."""
        return self._clears(self._taken, box)

    def _clears(self, others: Sequence[Box], box: Box) -> bool:
        gap = self.mm(self.gap)
        x0, y0, x1, y1 = box[0] - gap, box[1] - gap, box[2] + gap, box[3] + gap
        for a0, b0, a1, b1 in others:  # noqa: SIM110 - asked very often; all() takes longer
            if a0 < x1 and x0 < a1 and b0 < y1 and y0 < b1:
                return False
        return True

    def lay(
        self, label: Label, at: Point, angle_deg: float, anchor: Anchor, layer: str, ref: str
    ) -> tuple[Text, ...]:
        """Return a label's lines standing at a place, without writing them."""
        turn = math.radians(angle_deg)
        up = (-math.sin(turn), math.cos(turn))
        heights = [line_pitch(line.height) for line in label]
        whole = sum(heights[1:])
        # The place is that of the middle of all lines, of the first line's top or the last's base.
        first = {Up.MIDDLE: whole / 2, Up.TOP: 0.0, Up.BASE: whole}[anchor[1]]
        texts: list[Text] = []
        down = -first
        for number, line in enumerate(label):
            if number:
                down += heights[number]
            shift = -self.mm(down)
            texts.append(
                Text(
                    at=(at[0] + up[0] * shift, at[1] + up[1] * shift),
                    text=line.text,
                    paper_height=line.height,
                    anchor=anchor,
                    angle_deg=angle_deg,
                    layer=layer,
                    ref=ref,
                    bold=line.bold,
                )
            )
        return tuple(texts)

    def write(self, texts: Sequence[Text], *, mask: bool = False) -> None:
        """Write lines of lettering where they stand and keep others off them.

        Args:
            texts: The lines.
            mask: Whether they cover the lines of the drawing under them.
        """
        if mask and texts:
            self._covers.extend(
                Fill(rings=(ring,), layer="lettering", tone=1.0)
                for ring in _masks(texts, self.scale)
            )
        boxes = [box for text in texts for box in _boxes(text, self.scale)]
        self._taken.extend(boxes)
        self._lettered.extend(boxes)
        self._letters.extend(texts)

    def label(
        self,
        labels: Sequence[Label],
        spots: Sequence[Point],
        *,
        layer: str = "lettering",
        ref: str = "",
        within: Region | None = None,
        angles: Sequence[float] = (0.0,),
        anchor: Anchor = CENTRED,
        mask: bool = True,
    ) -> bool:
        """Write the first of several wordings at the first spot where it has room.

        Args:
            labels: Wordings, the fullest first.
            spots: Places to try, the best first.
            layer: Its layer.
            ref: What it stands for.
            within: Region it must stay inside, or None.
            angles: Directions to try, degrees from level as seen on the drawing; where the
                surface lies askew, from its side that is nearest to level.
            anchor: Which point of it stands at the spot.
            mask: Whether it covers lines under it.

        Returns:
            Whether there was room.
        """
        spots = self._points(spots)
        within = within and self._region(within)
        lean = self._placing.lean_deg
        for label in labels:
            for angle in angles:
                turn = _readable(angle + lean) if lean else angle
                texts = self.lay(label, (0.0, 0.0), turn, anchor, layer, ref)
                boxes = [box for t in texts for box in _boxes(t, self.scale)]
                if within is not None and not _could_fit(within, boxes):
                    continue
                for x, y in spots:
                    moved = [(b[0] + x, b[1] + y, b[2] + x, b[3] + y) for b in boxes]
                    if all(self.is_free(b) for b in moved) and (
                        within is None or all(_inside(within, b) for b in moved)
                    ):
                        at = [replace(t, at=(t.at[0] + x, t.at[1] + y)) for t in texts]
                        self.write(at, mask=mask)
                        return True
        return False

    def label_apart(
        self,
        labels: Sequence[Label],
        spots: Sequence[Point],
        *,
        within: Region | None = None,
        layer: str = "lettering",
        ref: str = "",
    ) -> bool:
        """Write a label well apart from all others if there is room so, else as near as any.

        Beside a mark, a single letter would be read as a part of it.

        Args:
            labels: Wordings, the fullest first.
            spots: Places to try, the best first.
            within: Region it must stay inside, or None.
            layer: Its layer.
            ref: What it stands for.

        Returns:
            Whether there was room.
        """
        self.gap = APART
        found = self.label(labels, spots, within=within, layer=layer, ref=ref)
        self.gap = GAP
        return found or self.label(labels, spots, within=within, layer=layer, ref=ref)

    def keep_off(self, region: Region) -> None:
        """Keep lettering that finds its place later off the box round a region."""
        self._taken.append(self._region(region).bounds)

    def call_out(self, target: Point, label: Label, ref: str = "") -> None:
        """Ask for a label beside the drawing, with a leader to what it names."""
        if self.call_outs:
            self._called.append((self._placing.apply(target), label, ref))

    def label_or_call_out(
        self,
        labels: Sequence[Label],
        spots: Sequence[Point],
        target: Point,
        *,
        ref: str = "",
        within: Region | None = None,
        angles: Sequence[float] = (0.0,),
    ) -> None:
        """Write a label in the drawing if there is room, otherwise beside it."""
        if not self.label(labels, spots, ref=ref, within=within, angles=angles):
            merged = " ".join(line.text for line in labels[0])
            self.call_out(target, (Line(text=merged, height=SMALLEST),), ref)

    # --- dimensions ---------------------------------------------------------------------

    def extent(self) -> Box:
        """Return the box round everything drawn so far, mm."""
        boxes = self._taken
        x0, y0, x1, y1 = bounds((*self._before, *self._lines, *self._signs), self.scale)
        return (
            min([x0, *(b[0] for b in boxes)]),
            min([y0, *(b[1] for b in boxes)]),
            max([x1, *(b[2] for b in boxes)]),
            max([y1, *(b[3] for b in boxes)]),
        )

    def beyond(self, side: Side, *, outside: bool = False) -> float:
        """Return where the next row of dimensions on a side comes to stand.

        Args:
            side: On which side of the drawing.
            outside: Whether all lettering stands beyond the row.
        """
        index = {Side.LEFT: 0, Side.BOTTOM: 1, Side.RIGHT: 2, Side.TOP: 3}[side]
        room = 2.0 if outside or side in {Side.LEFT, Side.TOP} else DIMENSION_PITCH
        return self.extent()[index] + side.outwards * self.mm(room)

    def chain(
        self,
        stops: Sequence[tuple[float, str]],
        side: Side,
        last: str = "",
        refs: Sequence[str] = (),
    ) -> None:
        """Draw a row of dimensions outside everything drawn so far.

        Args:
            stops: Places along the side, in order, each with the length from the one before
                as it is to be written; the first place's own text is not used.
            side: On which side of the drawing.
            last: Written before each length.
            refs: What the length before each stop stands for, if it is known; the first is not
                used.
        """
        if len(stops) < 2:
            return
        at = self.beyond(side)
        self._dimension_line(at, [s for s, _ in stops], side)
        known = refs or ("",) * len(stops)
        for ((a, _), (b, text)), ref in zip(pairwise(stops), known[1:], strict=True):
            self._length(at, (a, b), last + text, side, ref)

    def running(
        self, stops: Sequence[tuple[float, str]], side: Side, refs: Sequence[str] = ()
    ) -> None:
        """Draw running dimensions: every place with its distance from one datum.

        Args:
            stops: Places along the side, in order, each with its distance as written; the
                first is the datum.
            side: On which side of the drawing.
            refs: What the distance of each place stands for, if it is known.
        """
        if len(stops) < 2:
            return
        at = self.beyond(side, outside=True)
        self._dimension_line(at, [s for s, _ in stops], side)
        # Level lettering stands under or over its tick, beside it on an upright line; where the
        # neighbour's is in the way it moves out, with a line leading to it.
        ahead = side.outwards > 0
        anchor: Anchor = (Across.LEFT if ahead else Across.RIGHT, Up.MIDDLE)
        if side.level:
            anchor = (Across.CENTRE, Up.BASE if ahead else Up.TOP)
        step = 4.2 if side.level else 1.0
        start = at + side.outwards * self.mm(TICK + 0.8)
        # On an upright line it first moves up a little: those before it stand below.
        moves = [(row, 0.0) for row in range(40)]
        if not side.level:
            moves[1:1] = [(0, up) for up in UPWARDS]
        for (place, text), ref in zip(stops, refs or ("",) * len(stops), strict=True):
            for row, up in moves:
                out = start + side.outwards * self.mm(row * step)
                texts = self.lay(
                    plain(text),
                    _along(side, place + self.mm(up), out),
                    0.0,
                    anchor,
                    "dimension",
                    ref,
                )
                if self.is_free(text_box(texts[0], self.scale)):
                    # Beside an upright line a neighbour's leader passes behind it.
                    self.write(texts, mask=not side.level)
                    if row:
                        ends = (_along(side, place, start), _along(side, place, out))
                        self.stroke(ends, "dimension")
                    break

    def _dimension_line(self, at: float, places: Sequence[float], side: Side) -> None:
        self.stroke((_along(side, places[0], at), _along(side, places[-1], at)), "dimension")
        tick, inward = self.mm(TICK), -side.outwards * self.mm(INWARD)
        for place in places:
            x, y = _along(side, place, at)
            self.stroke(((x - tick, y - tick), (x + tick, y + tick)), "dimension")
            self.stroke((_along(side, place, at), _along(side, place, at + inward)), "dimension")

    def _length(self, at: float, span: Interval, text: str, side: Side, ref: str) -> None:
        """Write one length of a row: on the line if it fits, otherwise further out."""
        a, b = span
        angle = 0.0 if side.level else QUARTER
        # Lettering stands above its line as read: over level lines, left of upright ones.
        above = 1 if side.level else -1
        middle = (a + b) / 2
        width = self.mm(text_width(text, SMALLEST))
        lift = self.mm(0.9)
        anchor: Anchor = (Across.CENTRE, Up.BASE)
        if width + self.mm(1.0) <= b - a:
            texts = self.lay(
                plain(text),
                _along(side, middle, at + above * lift),
                angle,
                anchor,
                "dimension",
                ref,
            )
            if self.is_free(text_box(texts[0], self.scale)):
                self.write(texts)
                return
        for row in range(1, 40):
            out = at + side.outwards * self.mm(row * DIMENSION_PITCH)
            for shift in (0.0, 0.6, -0.6, 1.2, -1.2):
                place = middle + shift * width
                texts = self.lay(
                    plain(text), _along(side, place, out), angle, CENTRED, "dimension", ref
                )
                box = text_box(texts[0], self.scale)
                if self.is_free(box):
                    self.write(texts)
                    near = out - side.outwards * self.mm(SMALLEST * 0.75)
                    ends = (_along(side, middle, at), _along(side, place, near))
                    self.stroke(ends, "dimension")
                    return

    # --- the end ------------------------------------------------------------------------

    def finished(self) -> DisplayList:
        """Return the drawing, labels that found no room standing beside it."""
        self._write_called()
        return self._laid_over()

    def _write_called(self) -> None:
        if not self._called:
            return
        extent = self.extent()
        longest = max(text_width(label[0].text, label[0].height) for _, label, _ in self._called)
        own = (extent[2] - extent[0]) / self.scale
        if own + LEADER + longest > self.widest:
            self._call_above(extent)
        else:
            self._call_right(extent)

    def _call_right(self, extent: Box) -> None:
        """Write labels one under the other on the right."""
        x = extent[2] + self.mm(LEADER)
        pitch = self.mm(line_pitch(SMALLEST))
        # Of two at one height the right one comes first: the other's leader slants past under it.
        ordered = sorted(self._called, key=lambda c: (-c[0][1], -c[0][0], c[1][0].text))
        # Each at the height of what it names or where its leader meets less, under those above
        # it, then up again from the bottom of the drawing.
        bend = x - self.mm(ELBOW)
        levels: list[float] = []
        for target, _, _ in ordered:
            above = levels[-1] - pitch if levels else math.inf
            leaders = [(t, (bend, y)) for (t, _, _), y in zip(ordered, levels, strict=False)]
            levels.append(self._free_level(target, bend, pitch, above, leaders))
        least = extent[1] + pitch / 2
        for number in reversed(range(len(levels))):
            levels[number] = max(levels[number], least)
            least = levels[number] + pitch
        for (target, label, ref), y in zip(ordered, levels, strict=True):
            texts = self.lay(label, (x, y), 0.0, (Across.LEFT, Up.MIDDLE), "lettering", ref)
            self.write(texts)
            elbow = (bend, y)
            self.stroke((target, elbow, (x - self.mm(1.0), y)), "dimension", ref)
            self.dots((target,), Symbol.DISC, 1.0, "dimension")

    def _call_above(self, extent: Box) -> None:
        """Write labels in rows over the drawing, each over what it names.

        From right to left, each in the lowest row that is free over its whole length: leaders
        then pass beside the labels under them.
        """
        gap = self.mm(2.0)
        rows: list[list[tuple[float, float]]] = []
        for target, label, ref in sorted(
            self._called, key=lambda c: (-c[0][0], -c[0][1], c[1][0].text)
        ):
            width = self.mm(text_width(label[0].text, label[0].height))
            foot = self._free_foot(target, extent)
            x = max(extent[0], min(foot - self.mm(1.0), extent[2] - width))
            number = 0
            while number < len(rows) and any(
                a < x + width + gap and x < b + gap for a, b in rows[number]
            ):
                number += 1
            if number == len(rows):
                rows.append([])
            rows[number].append((x, x + width))
            y = extent[3] + self.mm(2.5 + below(SMALLEST) + number * ROW)
            texts = self.lay(label, (x, y), 0.0, (Across.LEFT, Up.BASE), "lettering", ref)
            self.write(texts, mask=True)
            under = y - self.mm(below(SMALLEST) + 0.3)
            self.stroke((target, (foot, under)), "dimension", ref)
            self.dots((target,), Symbol.DISC, 1.0, "dimension")

    def _free_level(
        self, target: Point, x: float, pitch: float, above: float, others: Sequence[Ring]
    ) -> float:
        """Return the height beside the drawing where a leader meets as little as can be.

        Args:
            target: What is named.
            x: Where the leader bends to its label.
            pitch: Of two labels, mm.
            above: The highest it may be.
            others: The leaders there are, each from what is named to its bend.
        """
        asides = sorted(range(-LEVELS, LEVELS + 1), key=lambda n: (abs(n), -n))
        wanted = [target[1] + aside * pitch for aside in asides]
        levels = dict.fromkeys(min(y, above) for y in wanted)

        def met(y: float) -> tuple[int, int]:
            own = shapely.linestrings((target, (x, y)))
            crossed = sum(bool(own.crosses(shapely.linestrings(other))) for other in others)
            return crossed, self._met(target, (x, y))

        return min(levels, key=met)

    def _free_foot(self, target: Point, extent: Box) -> float:
        """Return where over the drawing a leader ends that meets as little lettering as can be."""
        feet = [target[0] + self.mm(aside) for aside in (0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0)]
        return min(
            (foot for foot in feet if extent[0] <= foot <= extent[2]),
            key=lambda foot: self._met(target, (foot, extent[3])),
            default=target[0],
        )

    def _met(self, a: Point, b: Point) -> int:
        """Return at how many places, 2 mm apart on paper, a line runs over lettering."""
        half = self.mm(0.3)
        count = max(2, int(math.dist(a, b) / self.mm(2.0)))
        met = 0
        for number in range(1, count + 1):
            x = a[0] + (b[0] - a[0]) * number / count
            y = a[1] + (b[1] - a[1]) * number / count
            met += not self._clears(self._lettered, (x - half, y - half, x + half, y + half))
        return met


def _along(side: Side, place: float, at: float) -> Point:
    return (place, at) if side.level else (at, place)


def _ring(box: Box) -> Ring:
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _readable(angle: float) -> float:
    """Return an angle turned by half a turn if lettering would stand on its head there."""
    turned = angle % 180.0
    return turned - 180.0 if turned > QUARTER + 1e-6 else turned


def _boxes(text: Text, scale: float) -> tuple[Box, ...]:
    """Return upright boxes that cover a line of lettering: one, or a row along a leaning line."""
    corners = text_corners(text, scale)
    if text.angle_deg % QUARTER == 0:
        return (box_of(corners),)
    (ax, ay), (bx, by), _, (dx, dy) = corners
    count = max(1, round(math.hypot(bx - ax, by - ay) / (math.hypot(dx - ax, dy - ay) or 1.0)))
    step, up = ((bx - ax) / count, (by - ay) / count), (dx - ax, dy - ay)
    found = []
    for n in range(count):
        x, y = ax + step[0] * n, ay + step[1] * n
        far = (x + step[0], y + step[1])
        found.append(
            box_of(((x, y), far, (x + up[0], y + up[1]), (far[0] + up[0], far[1] + up[1])))
        )
    return tuple(found)


def _masks(texts: Sequence[Text], scale: float) -> tuple[Ring, ...]:
    """Return the areas that lettering covers: each line and what lies between two of them.

    No more than that: a box round lines of different lengths would cover a neighbour's letters.
    """
    if any(text.angle_deg % QUARTER for text in texts):
        return tuple(text_corners(text, scale) for text in texts)
    boxes = [text_box(text, scale) for text in texts]
    between = [
        gap
        for (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) in pairwise(boxes)
        for gap in (
            (max(ax0, bx0), min(ay1, by1), min(ax1, bx1), max(ay0, by0)),
            (min(ax1, bx1), max(ay0, by0), max(ax0, bx0), min(ay1, by1)),
        )
        if gap[0] < gap[2] and gap[1] < gap[3]
    ]
    return tuple(_ring(box) for box in (*boxes, *between))


def _could_fit(region: Region, boxes: Sequence[Box]) -> bool:
    """Tell whether boxes are no larger than the upright box round a region."""
    u0, v0, u1, v1 = region.bounds
    x0, y0, x1, y1 = box_of(p for box in boxes for p in _ring(box))
    return x1 - x0 <= u1 - u0 and y1 - y0 <= v1 - v0


def _inside(region: Region, box: Box) -> bool:
    if region.is_box:
        u0, v0, u1, v1 = region.bounds
        return u0 <= box[0] and v0 <= box[1] and box[2] <= u1 and box[3] <= v1
    return bool(region.geometry.contains(shapely.box(*box)))


@lru_cache(maxsize=4096)
def spots_in(region: Region, across: int = 9, up: int = 7) -> tuple[Point, ...]:
    """Return places inside a region, those nearest to its middle first.

    Args:
        region: mm.
        across: How many places to a row; odd.
        up: How many rows; odd.
    """
    u0, v0, u1, v1 = region.bounds
    middle = region.geometry.centroid
    spots = [
        (u0 + (u1 - u0) * (i + 1) / (across + 1), v0 + (v1 - v0) * (j + 1) / (up + 1))
        for i in range(across)
        for j in range(up)
    ]
    centre = (middle.x, middle.y)
    wide, high = max(u1 - u0, 1.0), max(v1 - v0, 1.0)
    spots.sort(
        key=lambda p: (
            round(abs(p[0] - centre[0]) / wide + abs(p[1] - centre[1]) / high, 6),
            p[1],
            p[0],
        )
    )
    return tuple(spots)


def off_first(outline: Region, spots: Iterable[Point], half: tuple[float, float]) -> list[Point]:
    """Return places beside a face, those first where lettering stands clear of its sides.

    Args:
        outline: The face, mm.
        spots: Middles of the lettering, the best first.
        half: Half its width and half its height, mm.
    """
    wide, high = half
    known = list(spots)
    boxes = [shapely.box(x - wide, y - high, x + wide, y + high) for x, y in known]
    on_it = shapely.intersects(outline.geometry, boxes)
    met = list(zip(known, on_it, strict=True))
    return [spot for side in (False, True) for spot, on in met if bool(on) is side]


def spots_on(a: Point, b: Point, aside: float = 0.0) -> tuple[Point, ...]:
    """Return places along a line, its middle first.

    Args:
        a: Start.
        b: End.
        aside: How far to the left of the line, mm.
    """
    length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    nx, ny = -(b[1] - a[1]) / length * aside, (b[0] - a[0]) / length * aside
    shares = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
    return tuple((a[0] + (b[0] - a[0]) * s + nx, a[1] + (b[1] - a[1]) * s + ny) for s in shares)


def reading_angle(a: Point, b: Point) -> float:
    """Return the direction of a line as lettering runs along it: readable from below or right."""
    angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0
    return angle - 180.0 if angle > QUARTER + 1e-6 else angle
