"""Sloping ceilings and the walls under them on drawings: true faces, folds, levels and bevels."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.heights import covers, is_ceiling
from roomboard.core.heights_steps import steps
from roomboard.core.plane import Region, distance
from roomboard.core.surface import EdgeKind
from roomboard.core.units import on_tape
from roomboard.drawing.sketch import QUARTER, Sketch, plain, spots_in, spots_on
from roomboard.drawing.view import AS_IT_LIES, Affine

if TYPE_CHECKING:
    from collections.abc import Mapping

    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Point
    from roomboard.core.project import Room, Units
    from roomboard.core.support import Trimmer
    from roomboard.core.surface import Surface, SurfaceEdge

FLAT = 1e-9
"""A face that climbs less than this for each mm of it is level."""
OUT = (4.0, 8.0, 12.0)
"""How far outside a side its words may stand, mm on paper."""
ARROW, ASIDE = 12.0, 2.6
"""Length of the arrow up a slope, and how far beside it its words stand, mm on paper."""
TRUE_FACE = (
    "True face seen from above, up the slope upwards: the boards' backs show. From below, left and "
    "right swap."
)
"""Stands under every drawing of a sloping ceiling."""
FOLD = "fold"
"""Layer of the lines where planes of a ceiling meet."""


# --- what a face is ----------------------------------------------------------------------


def climbs(surface: Surface) -> bool:
    """Tell whether a ceiling slopes."""
    return is_ceiling(surface.key) and abs(surface.placing.v_axis[2]) > FLAT


def is_sloping(room: Room) -> bool:
    """Tell whether any part of a room's ceiling slopes."""
    return any(not cover.slope.is_flat for cover in covers(room) if room.ceiling_parts)


def pitch_of(surface: Surface) -> float:
    """Return how steep a face is, degrees."""
    _, _, rise = surface.placing.v_axis
    return math.degrees(math.asin(max(-1.0, min(1.0, rise))))


def plan_lie(surface: Surface) -> Affine:
    """Return how a ceiling's face lies in plan: shorter up its slope than it is."""
    placing = surface.placing
    if not climbs(surface):
        return AS_IT_LIES
    (x, y, _), (ux, uy, _), (vx, vy, _) = placing.origin, placing.u_axis, placing.v_axis
    return Affine.on_axes((x, y), (ux, uy), (vx, vy))


def true_lie(surface: Surface) -> Affine:
    """Return how a ceiling's face lies as in plan, but as long up its slope as it is."""
    if not climbs(surface):
        return AS_IT_LIES
    x, y, _ = surface.placing.origin
    ux, uy, _ = surface.placing.u_axis
    return Affine.on_axes((x, y), (ux, uy), (-uy, ux))


def angle_words(degrees: float) -> str:
    """Return an angle as it is set on a bevel."""
    return f"{degrees:.1f}°"


def slope_words(surface: Surface, units: Units) -> str:
    """Return how steep a ceiling is and how long its slope, on the slope and in plan."""
    _, v0, _, v1 = surface.outline.bounds
    pitch = math.radians(pitch_of(surface))
    long = v1 - v0
    run, rise = long * math.cos(pitch), long * math.sin(pitch)
    return (
        f"Pitch {angle_words(pitch_of(surface))}: rises {on_tape(rise, units)} in "
        f"{on_tape(run, units)} of plan, {on_tape(long, units)} up the slope."
    )


def in_plan(part: SurfaceScheme) -> SurfaceScheme:
    """Return a ceiling with its framing, holes and timber to add as they lie in plan."""
    surface = part.surface
    lie = plan_lie(surface)
    if lie is AS_IT_LIES:
        return part

    def laid(t: Trimmer) -> Trimmer:
        a, b, ca, cb = lie.apply_all((t.a, t.b, t.centre_a, t.centre_b))
        return replace(t, a=a, b=b, centre_a=ca, centre_b=cb)

    return replace(
        part,
        surface=replace(
            surface,
            outline=lie.region(surface.outline),
            region=lie.region(surface.region),
            supports=tuple(
                replace(s, a=lie.apply(s.a), b=lie.apply(s.b)) for s in surface.supports
            ),
            openings=tuple(replace(o, region=lie.region(o.region)) for o in surface.openings),
            zones=tuple(replace(z, region=lie.region(z.region)) for z in surface.zones),
        ),
        trimmers=tuple(map(laid, part.trimmers)),
    )


# --- on a face ----------------------------------------------------------------------------


def draw_up_arrow(sketch: Sketch, region: Region, up: Point, ref: str, words: str) -> None:
    """Draw an arrow up a slope where there is room for it, with words beside it.

    Args:
        sketch: The drawing.
        region: What slopes.
        up: Unit vector up the slope.
        ref: What it stands for.
        words: What stands beside it.
    """
    half, aside = sketch.mm(ARROW) / 2, sketch.mm(ASIDE)
    for x, y in spots_in(region):
        tail, tip = (x - up[0] * half, y - up[1] * half), (x + up[0] * half, y + up[1] * half)
        ends = [sketch.placing.apply(p) for p in (tail, tip)]
        box = (
            min(p[0] for p in ends) - aside / 2,
            min(p[1] for p in ends) - aside / 2,
            max(p[0] for p in ends) + aside / 2,
            max(p[1] for p in ends) + aside / 2,
        )
        if not (region.contains(tail) and region.contains(tip) and sketch.is_free(box)):
            continue
        spots = [
            (x - up[1] * side + up[0] * along, y + up[0] * side + up[1] * along)
            for side in (aside, -aside)
            for along in (0.0, half / 2, -half / 2)
        ]
        angle = sketch.angle_of(tail, tip)
        labels, angles = (plain(words),), (angle,)
        if sketch.label(labels, spots, ref=ref, within=region, angles=angles):
            sketch.stroke((tail, tip), FOLD, ref)
            sketch.arrow(tip, up, FOLD, ref)
            return
    sketch.label((plain(words),), spots_in(region), ref=ref, within=region, angles=(0.0, QUARTER))


def draw_sides(sketch: Sketch, surface: Surface, names: Mapping[str, str]) -> None:
    """Write outside each side of a ceiling's true face what it meets.

    Args:
        sketch: The drawing, the face on it.
        surface: The face.
        names: Names of faces by their ref.
    """
    for edge in surface.edges:
        words = _side_words(edge, names)
        if not words:
            continue
        length = distance(edge.a, edge.b)
        if length < sketch.mm(2.0):
            continue
        nx, ny = (edge.b[1] - edge.a[1]) / length, -(edge.b[0] - edge.a[0]) / length
        spots = [
            (x + nx * sketch.mm(out), y + ny * sketch.mm(out))
            for out in OUT
            for x, y in spots_on(edge.a, edge.b)
        ]
        angle = sketch.angle_of(edge.a, edge.b)
        sketch.label((plain(words),), spots, ref=edge.other, angles=(angle,), mask=False)


def _side_words(edge: SurfaceEdge, names: Mapping[str, str]) -> str:
    name = names.get(edge.other, "")
    if edge.kind is EdgeKind.OPENING:
        return ""
    return name or ("open side" if edge.kind is EdgeKind.FREE else "")


def side_names(room: Room) -> dict[str, str]:
    """Return the names of what a ceiling's sides can meet, by ref."""
    names = {f"{room.id}/wall:{w.id}": f"wall {w.name or w.id}" for w in room.walls}
    names[f"{room.id}/ceiling"] = "flat ceiling"
    names |= {f"{room.id}/ceiling:{p.id}": f"ceiling {p.id}" for p in room.ceiling_parts}
    return names | {f"{room.id}/{s.key}": "step" for s in steps(room) if room.ceiling_parts}


def draw_pitch(sketch: Sketch, surface: Surface) -> None:
    """Draw the arrow up a sloping face and write its pitch beside it."""
    if climbs(surface):
        words = f"{angle_words(pitch_of(surface))} up"
        draw_up_arrow(sketch, surface.outline, (0.0, 1.0), surface.ref, words)
