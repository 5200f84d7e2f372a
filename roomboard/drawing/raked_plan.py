"""The planes of a ceiling in plan: outlines, ridges and steps, levels and pitches."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from roomboard.core.heights import MEETS, beside, covers, turn_at
from roomboard.core.heights_steps import steps
from roomboard.core.plane import Region, distance
from roomboard.core.units import on_tape
from roomboard.drawing.raked import FLAT, FOLD, angle_words, draw_up_arrow
from roomboard.drawing.sketch import QUARTER, Sketch, plain, spots_in, spots_on

if TYPE_CHECKING:
    from roomboard.core.heights import Cover
    from roomboard.core.plane import Point
    from roomboard.core.project import Room, Units

BESIDE = 2.4
"""How far beside a fold its words stand, mm on paper."""


def draw_folds(sketch: Sketch, room: Room, units: Units) -> None:
    """Draw the planes of a ceiling in plan: their outlines, ridges and steps, levels and pitches.

    Heights are those of the framing over the floor. A ceiling without parts has none.

    Args:
        sketch: The drawing, laid out like the plan.
        room: The room.
        units: How lengths are written.
    """
    if not room.ceiling_parts:
        return
    found = covers(room)
    for cover in found:
        for region in cover.regions:
            if cover.part is not None:
                sketch.outline(region, FOLD, cover.key)
    for one, two in combinations(found, 2):
        for region in one.regions:
            for a, b in region.segments:
                for p, q in beside(a, b, two):
                    _name_fold(sketch, room, (one, two), (p, q), units)
    for cover in found:
        for region in cover.regions:
            _name_plane(sketch, cover, region, units)
            for corner in region.outer if not cover.slope.is_flat else ():
                _level(sketch, region, corner, cover.slope.height_at(corner), units, cover.key)


def _name_fold(
    sketch: Sketch,
    room: Room,
    meet: tuple[Cover, Cover],
    line: tuple[Point, Point],
    units: Units,
) -> None:
    """Say what the line is where two planes lie beside each other."""
    own, other = meet
    p, q = line
    drop = [abs(other.slope.height_at(e) - own.slope.height_at(e)) for e in line]
    parted = (
        any({s.low.key, s.high.key} == {own.key, other.key} for s in steps(room))
        and max(drop) > MEETS
    )
    if parted:
        sizes = dict.fromkeys(on_tape(d, units) for d in drop)
        words = f"step {' to '.join(sizes)}"
    else:
        words = _fold_word(p, q, own, other)
        ends = [on_tape(own.slope.height_at(e), units) for e in line]
        if ends[0] == ends[1]:
            words = f"{words} +{ends[0]}"
    # Beside the line, on the plane listed first: others are drawn over it.
    aside = sketch.mm(BESIDE)
    spots = [
        spot
        for spot in (*spots_on(p, q, aside), *spots_on(p, q, -aside))
        if any(region.contains(spot) for region in own.regions)
    ]
    sketch.label(
        (plain(words),),
        spots,
        ref=other.key if other.part else own.key,
        angles=(sketch.angle_of(p, q),),
    )


def _fold_word(p: Point, q: Point, own: Cover, other: Cover) -> str:
    length = distance(p, q)
    out = ((q[1] - p[1]) / length, -(q[0] - p[0]) / length)
    here, there = (
        c.slope.gain * (c.slope.rise[0] * out[0] + c.slope.rise[1] * out[1]) for c in (own, other)
    )
    turn = turn_at(p, q, own.slope, other.slope)
    if here > FLAT > there:
        word = "ridge"
    elif here < FLAT < there:
        word = "valley"
    else:
        word = "fold"
    return f"{word} {angle_words(180.0 - turn)}"


def _name_plane(sketch: Sketch, cover: Cover, region: Region, units: Units) -> None:
    """Write a plane's name and height in the middle of it, or its pitch at an arrow up it."""
    name = f"Ceiling {cover.part.id}" if cover.part else "Ceiling"
    tail = "" if cover.lined else ", not lined"
    if cover.slope.is_flat:
        words = f"{name} +{on_tape(cover.slope.z, units)}{tail}"
        level = f"+{on_tape(cover.slope.z, units)}"
        labels, angles = (plain(words), plain(level)), (0.0, QUARTER)
        sketch.label(labels, spots_in(region), ref=cover.key, within=region, angles=angles)
        return
    words = f"{name} {angle_words(cover.slope.pitch_deg)}{tail}"
    draw_up_arrow(sketch, region, cover.slope.rise, cover.key, words)


def _level(
    sketch: Sketch, region: Region, corner: Point, height: float, units: Units, ref: str
) -> None:
    """Write a height over the floor inside a corner."""
    u0, v0, u1, v1 = region.bounds
    middle = ((u0 + u1) / 2, (v0 + v1) / 2)
    dx = 1.0 if corner[0] < middle[0] else -1.0
    dy = 1.0 if corner[1] < middle[1] else -1.0
    spots = [
        (corner[0] + dx * sketch.mm(x), corner[1] + dy * sketch.mm(y))
        for x, y in ((6.0, 2.4), (6.0, 5.2), (8.5, 2.4), (8.5, 8.0), (12.0, 5.2))
    ]
    words = (plain(f"+{on_tape(height, units)}"),)
    sketch.label(words, spots, ref=ref, within=region)
