"""Fields: the parts of a surface whose sheets run one way, each in its own turned frame."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from roomboard.core.control_joints import split_by
from roomboard.core.layers import EDGES, ENDS
from roomboard.core.plane import (
    TOLERANCE,
    Frame,
    Region,
    chords_at_t,
    intersection,
    merge_intervals,
    snap,
    union,
)
from roomboard.core.project import AngleFinish, AtChange, ButtsAt, SheetDirection
from roomboard.core.sheeting import Field
from roomboard.core.surface import SupportKind
from roomboard.core.tapers import KEY as TAPER

if TYPE_CHECKING:
    from roomboard.core.plane import Interval
    from roomboard.core.setting import Setting
    from roomboard.core.surface import Support, Surface, SurfaceEdge

HALF_TURN = 180.0
QUARTER_TURN = 90.0


@dataclass(frozen=True, kw_only=True)
class Rules:
    """The pack's figures that a set-out works by, gathered once.

    Attributes:
        stagger: Least distance between butts of adjoining courses, mm.
        opening_clear: Least distance of a butt from the line of an opening's side, mm.
        piece_min: Least length of a piece, mm.
        strip_min: Least width of a course, mm.
        joint_face: Least fixing face behind a joint, mm.
        block_width: Room that a back-block across a butt joint takes up, mm.
        light_clear: Least distance of a butt from an unframed cut-out, mm.
        on_framing: Whether butts may fall on framing.
        mid_bay: Whether butts may fall between members, back-blocked.
        mid_bay_barred: Why not, in words, if they may not.
        top_first: Whether upright faces are sheeted from the top.
        taper: Taper that needs no cutting, mm.
        layer_edges: Least distance of long joints from those of the layer under them, mm.
        layer_ends: The same for butts.
    """

    stagger: float
    opening_clear: float
    piece_min: float
    strip_min: float
    joint_face: float
    block_width: float
    light_clear: float
    on_framing: bool
    mid_bay: bool
    mid_bay_barred: str
    top_first: bool
    taper: float = 0.0
    layer_edges: float = 0.0
    layer_ends: float = 0.0

    @staticmethod
    def of(setting: Setting) -> Rules:
        """Gather the figures from the pack and the user's choices."""
        p = setting.practice
        word = setting.choices.butts
        where = p.word("butt.default") if word is ButtsAt.AUTO else word.value
        allowed = p.word("butt.mid_bay_allowed") == "yes"
        wanted = where in {"mid_bay", "either"}
        barred = ""
        if not allowed:
            barred = "this pack does not allow a butt joint between members"
        elif not wanted:
            barred = "butt joints are set to fall on framing"
        return Rules(
            stagger=p.mm("stagger.min"),
            opening_clear=p.mm("opening_clear.min"),
            piece_min=p.mm("piece.min"),
            strip_min=p.mm("strip.min"),
            joint_face=p.mm("joint_face.min"),
            block_width=p.mm("backblock.width_butt") + 2 * p.mm("backblock.clearance"),
            light_clear=p.mm("edge.max"),
            on_framing=where in {"on_framing", "either"} or not allowed,
            mid_bay=allowed and wanted,
            mid_bay_barred=barred,
            top_first=p.word("wall.start") == "top",
            taper=p.mm(TAPER) if p.has(TAPER) else 0.0,
            layer_edges=p.mm(EDGES) if p.has(EDGES) else 0.0,
            layer_ends=p.mm(ENDS) if p.has(ENDS) else 0.0,
        )


# --- fields ----------------------------------------------------------------------------


def _along_for(direction_deg: float) -> float:
    """Turn a sheet direction so that courses count to the right, or upwards."""
    angle = direction_deg % HALF_TURN
    frame = Frame.at_angle(angle)
    across = (-frame.along[1], frame.along[0])
    if across[1] < -TOLERANCE or (abs(across[1]) <= TOLERANCE and across[0] < 0):
        angle += HALF_TURN
    return angle


def set_out_fields(
    surface: Surface, direction: SheetDirection, at_change: AtChange
) -> tuple[Field, ...]:
    """Part a surface by sheet direction.

    Args:
        surface: The surface; its zones say which way its supports run.
        direction: Across or along the supports; automatic means across.
        at_change: Turn the sheets where the supports turn, or carry them on.
    """
    across = direction is not SheetDirection.ALONG
    by_direction: dict[float, list[int]] = {}
    for index, zone in enumerate(surface.zones):
        by_direction.setdefault(round(zone.direction_deg, 3), []).append(index)
    parts: list[tuple[Region, float, tuple[int, ...]]] = []
    if len(by_direction) == 1 or at_change in {AtChange.BATTEN, AtChange.CARRY}:
        main = max(
            by_direction,
            key=lambda d: (sum(surface.zones[i].region.area_mm2 for i in by_direction[d]), -d),
        )
        parts.append((surface.outline, main, tuple(range(len(surface.zones)))))
    else:
        for angle, indexes in sorted(by_direction.items(), key=lambda item: item[1][0]):
            for region in union(surface.zones[i].region for i in indexes):
                inside = tuple(i for i in indexes if intersection(surface.zones[i].region, region))
                parts.append((region, angle, inside))
    fields: list[Field] = []
    if surface.controls:
        parts = [
            (part, angle, tuple(i for i in zones if intersection(surface.zones[i].region, part)))
            for region, angle, zones in parts
            for part in split_by(region, surface.controls)
        ]
    for number, (region, angle, zones) in enumerate(parts):
        sheets = _along_for(angle + QUARTER_TURN if across else angle)
        fields.append(
            Field(
                number=number,
                region=region,
                direction_deg=sheets % HALF_TURN,
                frame=Frame.at_angle(sheets),
                across=across,
                zones=zones,
                parted=bool(surface.controls),
            )
        )
    return tuple(fields)


# --- one field in its own frame ---------------------------------------------------------


@dataclass(frozen=True)
class Crossing:
    """Supports square to the sheets at one place along them.

    Attributes:
        s: Along the sheets, mm.
        face: Width of the fixing face, mm.
        support: Id of the first support there.
        spans: Stretches across the sheets that they back, ``(t, t)`` mm.
    """

    s: float
    face: float
    support: str
    spans: tuple[Interval, ...]


@dataclass(frozen=True)
class Turned:
    """A field with everything that matters to it, in its turned frame.

    Attributes:
        surface: The surface.
        field: The field.
        region: What is lined there, (s, t), in one or more parts.
    """

    surface: Surface
    field: Field
    region: tuple[Region, ...]

    @staticmethod
    def of(surface: Surface, field: Field) -> Turned:
        """Turn a field of a surface into its own frame."""
        whole = len(field.zones) == len(surface.zones) and not field.parted
        parts = (surface.region,) if whole else intersection(surface.region, field.region)
        return Turned(surface, field, tuple(field.frame.region_to_st(p) for p in parts))

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """``(s0, t0, s1, t1)`` round the field."""
        boxes = [r.bounds for r in self.region]
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )

    @cached_property
    def crossings(self) -> tuple[Crossing, ...]:
        """Supports square to the sheets, in order along them."""
        found: dict[float, list[tuple[float, float, Support]]] = {}
        for support in self.surface.supports:
            a, b = self.field.frame.to_st(support.a), self.field.frame.to_st(support.b)
            if abs(a[0] - b[0]) > 1e-3 * abs(a[1] - b[1]):
                continue
            s = snap((a[0] + b[0]) / 2)
            found.setdefault(s, []).append((min(a[1], b[1]), max(a[1], b[1]), support))
        return tuple(
            Crossing(
                s,
                min(item[2].face for item in found[s]),
                min(found[s], key=lambda item: item[0])[2].id,
                merge_intervals((item[0], item[1]) for item in found[s]),
            )
            for s in sorted(found)
        )

    @cached_property
    def along_lines(self) -> tuple[float, ...]:
        """Places across the sheets of supports that run along them."""
        lines: set[float] = set()
        for support in self.surface.supports:
            a, b = self.field.frame.to_st(support.a), self.field.frame.to_st(support.b)
            if (
                abs(a[1] - b[1]) <= 1e-3 * abs(a[0] - b[0])
                and support.kind is not SupportKind.PLATE
            ):
                lines.add(snap((a[1] + b[1]) / 2))
        return tuple(sorted(lines))

    @cached_property
    def openings(self) -> tuple[tuple[str, bool, tuple[float, float, float, float]], ...]:
        """Id, whether framed, and bounds in (s, t) of every opening."""
        return tuple(
            (o.id, o.framed, self.field.frame.region_to_st(o.region).bounds)
            for o in self.surface.openings
        )

    @cached_property
    def sides(self) -> tuple[tuple[float, float, float, SurfaceEdge], ...]:
        """Sides of the surface that run along the sheets: ``(t, s0, s1, edge)``."""
        found = []
        for edge in self.surface.edges:
            a, b = self.field.frame.to_st(edge.a), self.field.frame.to_st(edge.b)
            if abs(a[1] - b[1]) <= TOLERANCE:
                found.append((a[1], min(a[0], b[0]), max(a[0], b[0]), edge))
        return tuple(found)

    @cached_property
    def bands(self) -> tuple[tuple[str, bool, float, float], ...]:
        """Strips in which no joint may run: id, whether they run along the sheets, their sides.

        The sides are mm across the sheets for those along them, along the sheets for the others.
        """
        found = []
        for band in self.surface.bands:
            a = self.field.frame.to_st((0.0, band.low))
            b = self.field.frame.to_st((0.0, band.high))
            along = abs(a[1] - b[1]) > abs(a[0] - b[0])
            low, high = sorted((a[1], b[1]) if along else (a[0], b[0]))
            found.append((band.id, along, low, high))
        return tuple(found)

    @cached_property
    def under(self) -> tuple[tuple[bool, float, float, float], ...]:
        """Joints of the layer under this one: whether along the sheets, where, from, to, mm."""
        found = []
        for a, b, _ in self.surface.under:
            (sa, ta), (sb, tb) = self.field.frame.to_st(a), self.field.frame.to_st(b)
            if abs(ta - tb) <= TOLERANCE:
                found.append((True, snap((ta + tb) / 2), min(sa, sb), max(sa, sb)))
            elif abs(sa - sb) <= TOLERANCE:
                found.append((False, snap((sa + sb) / 2), min(ta, tb), max(ta, tb)))
        return tuple(found)

    def chords(self, t: float) -> tuple[Interval, ...]:
        """Return what the line at ``t`` has inside the field."""
        cache: dict[float, tuple[Interval, ...]] = self.__dict__.setdefault("_chords", {})
        if t not in cache:
            cache[t] = tuple(sorted(c for r in self.region for c in chords_at_t(r, t)))
        return cache[t]

    def square_set_at(self, t: float) -> bool:
        """Tell whether any square-set angle runs along the sheets at ``t``."""
        return any(
            abs(at - t) <= TOLERANCE and edge.finish is AngleFinish.SQUARE_SET
            for at, _, _, edge in self.sides
        )

    def runs(self, t0: float, t1: float) -> tuple[Region, ...]:
        """Return the parts of the strip between two lines that hang together."""
        cache: dict[tuple[float, float], tuple[Region, ...]] = self.__dict__.setdefault("_runs", {})
        key = (t0, t1)
        if key not in cache:
            s0, _, s1, _ = self.bounds
            strip = Region.box(s0 - 1, t0, s1 + 1, t1)
            parts = [p for r in self.region for p in intersection(r, strip)]
            cache[key] = tuple(sorted(parts, key=lambda r: r.bounds))
        return cache[key]
