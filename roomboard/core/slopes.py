"""Planes of ceilings: how high they stand over each place in plan, and their true face.

The face of a plane has its own ``(u, v)``: u runs level, v up the slope, both true lengths; the
plan is seen through it from above, as it is of a flat ceiling. A flat plane keeps x and y.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from roomboard.core.plane import Frame, Region, snap, snap_point
from roomboard.core.surface import Placing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.plane import Point

FLAT = 1e-9
"""A plane that rises less than this in each mm is flat."""
HALF_TURN = 180.0


@dataclass(frozen=True)
class Slope:
    """A plane over a plan, and the frame of its true face.

    Attributes:
        z: Height over the floor at ``at``, mm.
        at: The zero of its face in plan, mm.
        rise: Unit vector in plan of the way it rises; +y for a flat one.
        gain: How much it rises in each mm of plan along ``rise``; 0 or more.
    """

    z: float
    at: Point
    rise: Point
    gain: float

    @staticmethod
    def flat(z: float) -> Slope:
        """Return a level plane whose face is the plan itself."""
        return Slope(z, (0.0, 0.0), (0.0, 1.0), 0.0)

    @staticmethod
    def of(
        z: float, at: Point, rise_deg: float, pitch_deg: float, corners: Sequence[Point]
    ) -> Slope:
        """Return a plane; the zero of its face lies at the lowest left of some corners in plan.

        Args:
            z: Height over the floor at ``at``, mm.
            at: Where it has that height in plan, mm.
            rise_deg: Which way it rises in plan, degrees counter-clockwise from x.
            pitch_deg: How steep it is, degrees; below 0 it falls that way.
            corners: Corners of what lies under it in plan, mm.
        """
        gain = math.tan(math.radians(pitch_deg))
        if abs(gain) < FLAT:
            return Slope.flat(z)
        turn = rise_deg if gain > 0 else rise_deg + HALF_TURN
        rise, gain = Frame.at_angle(turn).along, abs(gain)
        level = (rise[1], -rise[0])
        ups = [p[0] * rise[0] + p[1] * rise[1] for p in corners] or [0.0]
        alongs = [p[0] * level[0] + p[1] * level[1] for p in corners] or [0.0]
        low, left = min(ups), min(alongs)
        zero = (low * rise[0] + left * level[0], low * rise[1] + left * level[1])
        up = low - (at[0] * rise[0] + at[1] * rise[1])
        return Slope(snap(z + up * gain), snap_point(zero), rise, gain)

    @staticmethod
    def through(points: Sequence[tuple[Point, float]], corners: Sequence[Point]) -> Slope | None:
        """Return the plane that best fits heights at places in plan, or None if they are in line.

        Args:
            points: Places in plan with their heights over the floor, mm; three or more.
            corners: Corners of what lies under it in plan, mm.
        """
        fitted = best_plane(points)
        if fitted is None:
            return None
        z, gx, gy = fitted
        pitch = math.degrees(math.atan(math.hypot(gx, gy)))
        turn = math.degrees(math.atan2(gy, gx))
        return Slope.of(z, (0.0, 0.0), turn, pitch, corners)

    # --- plan and face ------------------------------------------------------------------

    @property
    def level(self) -> Point:
        """Unit vector in plan along the level lines: the face's u."""
        return (self.rise[1], -self.rise[0])

    @property
    def is_flat(self) -> bool:
        """Whether it lies level."""
        return self.gain < FLAT

    @property
    def pitch_deg(self) -> float:
        """How steep it is, degrees."""
        return math.degrees(math.atan(self.gain))

    @cached_property
    def longer(self) -> float:
        """How much longer a line up the slope is than its plan: 1 for a flat one."""
        return math.hypot(1.0, self.gain)

    def height_at(self, point: Point) -> float:
        """Return its height over the floor at a place in plan, mm."""
        x, y = point[0] - self.at[0], point[1] - self.at[1]
        return self.z + self.gain * (x * self.rise[0] + y * self.rise[1])

    def to_face(self, point: Point) -> Point:
        """Return a place in plan as (u, v) of the face."""
        x, y = point[0] - self.at[0], point[1] - self.at[1]
        along = x * self.level[0] + y * self.level[1]
        up = x * self.rise[0] + y * self.rise[1]
        return snap_point((along, up * self.longer))

    def to_plan(self, point: Point) -> Point:
        """Return the place in plan of a point (u, v) of the face."""
        u, up = point[0], point[1] / self.longer
        return snap_point(
            (
                self.at[0] + u * self.level[0] + up * self.rise[0],
                self.at[1] + u * self.level[1] + up * self.rise[1],
            )
        )

    def region_to_face(self, region: Region) -> Region:
        """Return a region of the plan on the face."""
        if self.is_flat:
            return region
        return Region.of(
            [self.to_face(p) for p in region.outer],
            [[self.to_face(p) for p in hole] for hole in region.holes],
        )

    def turned_to_face(self, direction_deg: float) -> float:
        """Return a direction in plan as a direction on the face, degrees from 0 to below 180."""
        along = Frame.at_angle(direction_deg).along
        if self.is_flat:
            return direction_deg % HALF_TURN
        u = along[0] * self.level[0] + along[1] * self.level[1]
        v = (along[0] * self.rise[0] + along[1] * self.rise[1]) * self.longer
        # Directions up the slope and along it are exact.
        if abs(u) < FLAT:
            return 90.0
        if abs(v) < FLAT:
            return 0.0
        return math.degrees(math.atan2(v, u)) % HALF_TURN

    @property
    def placing(self) -> Placing:
        """Where the face stands in the building."""
        cos = 1.0 / self.longer
        sin = self.gain * cos
        return Placing(
            origin=(self.at[0], self.at[1], self.z),
            u_axis=(self.level[0], self.level[1], 0.0),
            v_axis=(self.rise[0] * cos, self.rise[1] * cos, sin),
        )

    def lower(self, square: float) -> Slope:
        """Return the plane a distance square to it further down, e.g. the face of its lining."""
        return Slope(self.z - square * self.longer, self.at, self.rise, self.gain)


def best_plane(points: Sequence[tuple[Point, float]]) -> tuple[float, float, float] | None:
    """Return the plane ``z = c + gx * x + gy * y`` nearest to some heights, or None.

    Args:
        points: Places in plan with their heights, mm; fewer than three, or all in one line, have
            no plane.

    Returns:
        ``(c, gx, gy)``.
    """
    count = len(points)
    if count < 3:
        return None
    mx = sum(p[0] for p, _ in points) / count
    my = sum(p[1] for p, _ in points) / count
    mz = sum(z for _, z in points) / count
    xx = sum((p[0] - mx) ** 2 for p, _ in points)
    yy = sum((p[1] - my) ** 2 for p, _ in points)
    xy = sum((p[0] - mx) * (p[1] - my) for p, _ in points)
    xz = sum((p[0] - mx) * (z - mz) for p, z in points)
    yz = sum((p[1] - my) * (z - mz) for p, z in points)
    whole = xx * yy - xy * xy
    if whole <= FLAT * max(xx * yy, 1.0):
        return None
    gx = (xz * yy - yz * xy) / whole
    gy = (yz * xx - xz * xy) / whole
    return mz - gx * mx - gy * my, gx, gy
