"""Views: drawings that know which surface lies where on them, for screen and paper alike."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from roomboard.core.plane import Point, Region, Ring
from roomboard.drawing.displaylist import Box, DisplayList, bounds, box_of

QUARTER = 90.0
EPSILON = 1e-9
NOTES = "notes"
"""Key of a pane that lies under the others: what belongs to no surface."""


@dataclass(frozen=True, slots=True)
class Affine:
    """How one plane lies on another: turned, mirrored, moved, enlarged.

    ``x' = xx * x + xy * y + x0`` and ``y' = yx * x + yy * y + y0``.

    Attributes:
        xx: How much of x goes into x'.
        xy: How much of y goes into x'.
        yx: How much of x goes into y'.
        yy: How much of y goes into y'.
        x0: Where the zero comes to lie, mm.
        y0: The same, upwards.
    """

    xx: float = 1.0
    xy: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    x0: float = 0.0
    y0: float = 0.0

    @staticmethod
    def moved(dx: float, dy: float) -> Affine:
        """Return a move without turning."""
        return Affine(1.0, 0.0, 0.0, 1.0, dx, dy)

    @staticmethod
    def on_axes(origin: Point, x_axis: Point, y_axis: Point) -> Affine:
        """Return the lie of a plane whose zero and axes are given on another.

        Args:
            origin: Where its zero comes to lie, mm.
            x_axis: Where its unit of x points.
            y_axis: Where its unit of y points.
        """
        return Affine(x_axis[0], y_axis[0], x_axis[1], y_axis[1], origin[0], origin[1])

    def apply(self, point: Point) -> Point:
        """Return where a point comes to lie."""
        x, y = point
        return (self.xx * x + self.xy * y + self.x0, self.yx * x + self.yy * y + self.y0)

    def apply_all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Return where points come to lie, in their order."""
        xx, xy, yx, yy, x0, y0 = self.xx, self.xy, self.yx, self.yy, self.x0, self.y0
        return tuple((xx * x + xy * y + x0, yx * x + yy * y + y0) for x, y in points)

    def region(self, region: Region) -> Region:
        """Return where a region comes to lie."""
        return Region.of(
            self.apply_all(region.outer), [self.apply_all(hole) for hole in region.holes]
        )

    @property
    def determinant(self) -> float:
        """How many times an area grows; below zero if it is mirrored."""
        return self.xx * self.yy - self.xy * self.yx

    @property
    def mirrored(self) -> bool:
        """Whether left and right swap."""
        return self.determinant < 0

    @property
    def lean_deg(self) -> float:
        """How far its axes lean from level and upright, degrees from -45 (not in) to 45."""
        turn = math.degrees(math.atan2(self.yx, self.xx)) % QUARTER
        lean = turn - QUARTER if turn > QUARTER / 2 + EPSILON else turn
        return 0.0 if abs(lean) < 1e-6 else lean

    @property
    def level(self) -> bool:
        """Whether its axes stay level and upright."""
        return self.lean_deg == 0.0

    def inverse(self) -> Affine:
        """Return the way back.

        Raises:
            ValueError: If everything falls on one line, so that there is none.
        """
        whole = self.determinant
        if abs(whole) < EPSILON:
            raise ValueError("A plane that is pressed to a line cannot be laid back.")
        xx, xy = self.yy / whole, -self.xy / whole
        yx, yy = -self.yx / whole, self.xx / whole
        return Affine(
            xx,
            xy,
            yx,
            yy,
            -(xx * self.x0 + xy * self.y0),
            -(yx * self.x0 + yy * self.y0),
        )

    def compose(self, first: Affine) -> Affine:
        """Return the lie of a plane on a third: ``first``, then this one."""
        x0, y0 = self.apply((first.x0, first.y0))
        return Affine(
            self.xx * first.xx + self.xy * first.yx,
            self.xx * first.xy + self.xy * first.yy,
            self.yx * first.xx + self.yy * first.yx,
            self.yx * first.xy + self.yy * first.yy,
            x0,
            y0,
        )


AS_IT_LIES = Affine()
"""A plane that lies on the view as it is."""


@dataclass(frozen=True, kw_only=True)
class Pane:
    """One surface (or one stock sheet) on a view.

    Attributes:
        surface: Ref of its surface; empty where there is none.
        key: Its key in the room: ``"plan"``, ``"ceiling"``, ``"wall:a"``, ``"sheet:S3"``;
            ``"notes"`` for what belongs to no surface.
        marks: What is drawn of it, mm of the view.
        placing: Where points of the surface come to lie on the view.
        outline: Its outline, mm of the view; empty where there is none.
        caption: What it is called, e.g. ``"Wall A"``.
    """

    surface: str
    key: str
    marks: DisplayList
    placing: Affine
    outline: Ring
    caption: str

    @cached_property
    def region(self) -> Region | None:
        """Its outline as a region, or None where it has none."""
        return Region.of(self.outline) if len(self.outline) > 2 else None


@dataclass(frozen=True, kw_only=True)
class View:
    """A drawing made of panes.

    Attributes:
        name: Which view it is, e.g. ``"opened_out"``.
        panes: Bottom to top.
        scale: How many mm of the view one mm of paper is.
    """

    name: str
    panes: tuple[Pane, ...]
    scale: float

    @cached_property
    def marks(self) -> DisplayList:
        """Everything drawn, bottom to top."""
        return tuple(mark for pane in self.panes for mark in pane.marks)

    @cached_property
    def bounds(self) -> Box:
        """The upright box round everything, mm; a point at zero if there is nothing."""
        outlines = [p for pane in self.panes for p in pane.outline]
        if not self.marks:
            return box_of(outlines) if outlines else (0.0, 0.0, 0.0, 0.0)
        x0, y0, x1, y1 = bounds(self.marks, self.scale)
        return box_of([(x0, y0), (x1, y1), *outlines])

    def pane(self, key: str) -> Pane | None:
        """Return a pane by its key, or None."""
        return next((p for p in self.panes if p.key == key), None)

    def pane_at(self, point: Point) -> Pane | None:
        """Return the topmost pane whose outline a point lies in, or None.

        Args:
            point: mm of the view.
        """
        for pane in reversed(self.panes):
            if pane.region is not None and pane.region.contains(point):
                return pane
        return None
