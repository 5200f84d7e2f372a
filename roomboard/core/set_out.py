"""Set-out: which way the sheets of a surface run, and where every joint falls."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from roomboard.core.butts import Planned, plan_courses
from roomboard.core.courses import course_plans, plans_past_bands
from roomboard.core.fields import Rules, Turned, set_out_fields
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.locks import (
    field_lock_findings,
    first_course_findings,
    first_course_of,
    lock_findings,
    with_unlocking,
)
from roomboard.core.plane import (
    APART,
    TOLERANCE,
    Region,
    chords_at_s,
    chords_at_t,
    intersection,
    snap,
)
from roomboard.core.project import AngleFinish, AtChange, SheetDirection, Start, SurfaceChoice
from roomboard.core.rules.handling import mass_kg
from roomboard.core.rules.layout import layout_findings
from roomboard.core.sheeting import Butt, Course, EdgeNeed, Field, Piece, SetOut
from roomboard.core.start_lines import straightest_start
from roomboard.core.surface import EdgeKind, SeenFrom
from roomboard.core.tapers import tapers

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.courses import CoursePlan
    from roomboard.core.plane import Point
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board
    from roomboard.core.surface import Surface

HAIR = 0.5
"""How far (mm) beside a line to look when asking what lies just beyond it."""


def set_out(
    surface: Surface,
    board: Board,
    setting: Setting,
    choice: SurfaceChoice | None = None,
) -> SetOut:
    """Set out the sheets of a surface.

    Always returns the best set-out found; where a rule could not be kept, a finding says
    which, where and what would mend it.

    Args:
        surface: The surface.
        board: Its board.
        setting: Pack, stock and choices.
        choice: The user's choice for this surface; by default everything is automatic.
    """
    chosen = choice or SurfaceChoice(surface=surface.key)
    direction = chosen.direction
    if direction is SheetDirection.AUTO:
        direction = surface.direction
    if direction is SheetDirection.AUTO:
        direction = SheetDirection.ACROSS
    at_change = AtChange.TURN if chosen.at_change is AtChange.AUTO else chosen.at_change
    rules = Rules.of(setting)
    sizes = sizes_for(surface, board, setting, chosen)
    fields = set_out_fields(surface, direction, at_change)
    said: list[Finding] = []
    if not sizes:
        said.append(_no_stock(surface, board))
        return SetOut(
            surface=surface.ref,
            fields=fields,
            courses=(),
            pieces=(),
            butts=(),
            start=(),
            findings=tuple(said),
        )
    courses: list[Course] = []
    pieces: list[Piece] = []
    butts: list[Butt] = []
    start: list[tuple[int, Point, Point, float]] = []
    laid: list[tuple[Turned, Planned]] = []
    before = 0
    numbered: dict[str, int] = {}
    for field in fields:
        turned = Turned.of(surface, field)
        if not turned.region:
            continue
        planned = plan_field(turned, board, rules, sizes, chosen)
        courses.extend(planned.plan.courses)
        start.append(_start_line(turned, planned.plan))
        made, own = _pieces(turned, planned, board, before, numbered, chosen.by_user.butts)
        pieces.extend(made)
        butts.extend(own)
        own_said = [*layout_findings(turned, planned, own, made, rules, setting, chosen)]
        own_said += field_lock_findings(turned, planned, own, rules, setting)
        said.extend(with_unlocking(f) for f in own_said)
        said.extend(
            first_course_findings(turned, planned, board, tuple(sizes), rules, setting, chosen)
        )
        laid.append((turned, planned))
        before += len(planned.plan.courses)
    said.extend(lock_findings(surface, laid, chosen))
    return SetOut(
        surface=surface.ref,
        fields=fields,
        courses=tuple(courses),
        pieces=tuple(pieces),
        butts=tuple(butts),
        start=tuple(start),
        findings=tuple(said),
        tapered=tuple((p.mark, found) for p in pieces if (found := tapers(p, setting.practice))),
    )


def sizes_for(
    surface: Surface, board: Board, setting: Setting, choice: SurfaceChoice
) -> dict[float, tuple[float, ...]]:
    """Return the sheet lengths that may be used on a surface for each sheet width, mm.

    Args:
        surface: The surface.
        board: Its board.
        setting: Pack, stock and choices.
        choice: The user's choice for this surface.
    """
    sizes = setting.sizes(board, surface.carry_in)
    if not choice.widths:
        return sizes
    return {w: x for w, x in sizes.items() if any(abs(w - y) < 1 for y in choice.widths)}


def _no_stock(surface: Surface, board: Board) -> Finding:
    return Finding(
        code="RB503",
        severity=Severity.BLOCK,
        text=f"No sheet of {board.name} may be used for {surface.name}: the choice of lengths and "
        "widths or the carry-in limit of {limit} leaves none; allow another size.",
        params=(("limit", surface.carry_in or "none"),),
        place=Place(room=surface.room, surface=surface.ref),
    )


def plan_field(
    turned: Turned,
    board: Board,
    rules: Rules,
    sizes: dict[float, tuple[float, ...]],
    choice: SurfaceChoice,
) -> Planned:
    """Choose the courses and butts of one field.

    Args:
        turned: The field.
        board: Its board.
        rules: The pack's figures.
        sizes: Sheet lengths that can be had for each width, mm.
        choice: The user's choice for the surface.
    """
    upright_from_top = rules.top_first and turned.surface.place == "wall" and turned.field.across
    from_high = upright_from_top or (
        not turned.surface.lettered and straightest_start(turned, rules.taper) is Start.HIGH
    )
    preferred = [Start.HIGH, Start.LOW] if from_high else [Start.LOW, Start.HIGH]
    starts = preferred if choice.start is Start.AUTO else [choice.start]
    first = first_course_of(choice, turned.field.number)
    plans: tuple[CoursePlan, ...] = ()
    if first > 0:
        plans = course_plans(turned, tuple(sizes), board.recess_width, starts, first)
    held = bool(plans)
    plans = plans or course_plans(turned, tuple(sizes), board.recess_width, starts)
    if choice.start is Start.AUTO and not held:
        thin = all(min(c.t1 - c.t0 for c in p.courses) < rules.strip_min - TOLERANCE for p in plans)
        if thin or not plans:
            plans += course_plans(turned, tuple(sizes), board.recess_width, [Start.BALANCED])
    if not held and (turned.under or any(along for _, along, _, _ in turned.bands)):
        plans += plans_past_bands(turned, tuple(sizes), board.recess_width, starts)
    if not plans:
        plans = course_plans(turned, tuple(sizes), board.recess_width, [Start.LOW, Start.HIGH])
    made = [plan_courses(turned, p, rules, sizes, choice.butts, preferred) for p in plans]
    return min(made, key=lambda m: m.cost)


def _start_line(turned: Turned, plan: CoursePlan) -> tuple[int, Point, Point, float]:
    """Return the line along the first course's inner edge, as far as the face reaches there."""
    first = plan.courses[0]
    s0, low, s1, high = turned.bounds
    if plan.start is Start.HIGH:
        t, offset, back = first.t0, high - first.t0, APART
    else:
        t, offset, back = first.t1, first.t1 - low, -APART
    frame = turned.field.frame
    chords = chords_at_t(frame.region_to_st(turned.field.region), t + back)
    if chords:
        s0, s1 = max(s0, chords[0][0]), min(s1, chords[-1][1])
    return (turned.field.number, frame.to_uv((s0, t)), frame.to_uv((s1, t)), snap(offset))


def _marks(surface: Surface, plan: CoursePlan, field: Field, before: int) -> dict[int, str]:
    """Return what the marks of each course begin with."""
    upright = surface.lettered
    level = upright and abs(field.direction_deg) < TOLERANCE
    names: dict[int, str] = {}
    order = sorted(plan.courses, key=lambda c: -c.t0)
    for rank, course in enumerate(order):
        if not upright:
            names[course.number] = f"{surface.code}{before + course.number}-"
        elif not level:
            names[course.number] = f"{surface.code}-V{before + course.number}"
        elif rank == 0 and len(order) > 1:
            names[course.number] = f"{surface.code}-T"
        elif rank == len(order) - 1:
            names[course.number] = f"{surface.code}-B"
        else:
            names[course.number] = (
                f"{surface.code}-M" if len(order) == 3 else f"{surface.code}-M{rank}-"
            )
    return names


def _pieces(
    turned: Turned,
    planned: Planned,
    board: Board,
    before: int,
    numbered: dict[str, int],
    locked: Iterable[tuple[int, int, float]],
) -> tuple[list[Piece], list[Butt]]:
    """Cut a field into its pieces; numbers run on where a course goes on beyond its field."""
    surface, field = turned.surface, turned.field
    names = _marks(surface, planned.plan, field, before)
    fixed = set(planned.locked) & {(f, n, snap(s)) for f, n, s in locked}
    upright = surface.lettered and not names[1].endswith(("-", "T", "B", "M"))
    pieces: list[Piece] = []
    butts: list[Butt] = []
    for course, runs, state in zip(planned.plan.courses, planned.runs, planned.states, strict=True):
        parts: list[Region] = []
        for run, option in zip(runs, state.options, strict=True):
            s0, t0, s1, t1 = run.bounds
            at = [s0, *(s.s for s in option.stops), s1]
            for a, b in pairwise(at):
                parts.extend(intersection(run, Region.box(a, t0, b, t1)))
            for stop in option.stops:
                for p, q in chords_at_s(run, stop.s):
                    butts.append(
                        Butt(
                            field=field.number,
                            course=course.number,
                            s=stop.s,
                            t0=p,
                            t1=q,
                            kind=stop.kind,
                            support=stop.support,
                            locked=(field.number, course.number, stop.s) in fixed,
                        )
                    )
        parts.sort(key=lambda r: (r.bounds[0], r.bounds[1]))
        name = names[course.number]
        first = numbered.get(name, 0)
        numbered[name] = first + len(parts)
        for place, part in enumerate(parts, 1):
            number = first + place
            tail = "" if upright and len(parts) == 1 else f"{'-' if upright else ''}{number}"
            mark = name + tail
            pieces.append(_piece(turned, course, part, place, mark, board))
    return pieces, butts


def _piece(
    turned: Turned, course: Course, part: Region, place: int, mark: str, board: Board
) -> Piece:
    surface, field = turned.surface, turned.field
    s0, t0, s1, t1 = part.bounds
    width = t1 - t0
    recess = board.recess_width
    low = edge_need(turned, part, t0, HAIR, course.sheet_width - width - recess)
    spare = course.sheet_width - width - recess * (2 if low is EdgeNeed.CUT else 1)
    high = edge_need(turned, part, t1, -HAIR, spare)
    mirrored = surface.seen_from is SeenFrom.BACK

    def face_up(point: Point) -> Point:
        s, t = point
        return (snap(s1 - s) if mirrored else snap(s - s0), snap(t - t0))

    return Piece(
        id=f"{surface.room}/{mark}",
        mark=mark,
        room=surface.room,
        surface=surface.ref,
        board=board.id,
        field=field.number,
        course=course.number,
        place=place,
        region=field.frame.region_to_uv(part),
        frame=field.frame,
        blank=part.bounds,
        low=low,
        high=high,
        face_up=Region.of(
            [face_up(p) for p in part.outer], [[face_up(p) for p in h] for h in part.holes]
        ),
        face_up_mirrored=mirrored,
        mass_kg=snap(mass_kg((s1 - s0) * width / 1e6, board)),
    )


def edge_need(turned: Turned, part: Region, t: float, inward: float, spare: float) -> EdgeNeed:
    """Say what a long edge of a piece must be.

    Args:
        turned: The field.
        part: The piece, (s, t).
        t: Where the edge lies across the sheets, mm.
        inward: A hair towards the inside of the piece, mm.
        spare: Width of the sheet left over once the recess is cut off there, mm; below 0 it
            cannot be cut off.
    """
    own = chords_at_t(part, t + inward)
    beyond = turned.chords(snap(t - inward))
    joined = sum(max(0.0, min(b, q) - max(a, p)) for a, b in own for p, q in beyond)
    if joined > 1:
        return EdgeNeed.RECESSED
    for at, p, q, edge in turned.sides:
        if abs(at - t) > TOLERANCE or not any(min(b, q) - max(a, p) > 1 for a, b in own):
            continue
        wants_cut = edge.finish is AngleFinish.SQUARE_SET or edge.kind is EdgeKind.CORNER
        if wants_cut and spare >= -TOLERANCE:
            return EdgeNeed.CUT
    return EdgeNeed.ANY
