"""Ways to set out a surface: its courses, and along each run the stops a piece may reach."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.butts import lengths_for
from roomboard.core.comparing import as_cut_size
from roomboard.core.courses import course_stops
from roomboard.core.cutting.wants import to_parts
from roomboard.core.develop import develop
from roomboard.core.fields import Rules, Turned, set_out_fields
from roomboard.core.findings import Severity
from roomboard.core.joints import JointKind
from roomboard.core.laying import work_out_surface
from roomboard.core.lighting import across_light
from roomboard.core.plane import TOLERANCE, Region, chords_at_s, intersection
from roomboard.core.project import AtChange, SheetDirection, Start
from roomboard.core.rules import joint_findings
from roomboard.core.set_out import HAIR, edge_need, plan_field, set_out, sizes_for
from roomboard.core.sheeting import EdgeNeed
from roomboard.core.stops import MORE_PIECES, legal_stops
from roomboard.core.walls import EITHER

if TYPE_CHECKING:
    from roomboard.core.butts import Planned
    from roomboard.core.findings import Finding
    from roomboard.core.parts import SurfaceScheme
    from roomboard.core.plane import Interval
    from roomboard.core.project import Room, SurfaceChoice
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import Course, SetOut, Stop
    from roomboard.core.stock import Board
    from roomboard.core.surface import Surface


ALL_BLOCKED = "RB402"
"""Said where all joints between courses are back-blocked."""


class Kind(NamedTuple):
    """What is asked of a piece: nothing more tells two pieces apart when they are cut.

    Attributes:
        length: Hundredths of a mm.
        width: Hundredths of a mm.
        low: What one long edge must be; the needs stand in order, as half a turn swaps them.
        high: What the other must be.
        longest: Longest sheet that can reach its place, mm; 0 for no limit.
    """

    length: int
    width: int
    low: str
    high: str
    longest: float


class Step(NamedTuple):
    """One piece of a run, from a stop to a later one.

    Attributes:
        begin: Number of the stop it begins at; 0 is the start of the run.
        end: Number of the stop it ends at; one past the stops is the end of the run.
        kinds: What is cut for it: one piece, or several where openings part it.
        kg: Mass of the heaviest of them.
    """

    begin: int
    end: int
    kinds: tuple[Kind, ...]
    kg: float


@dataclass(frozen=True)
class Run:
    """A part of a course that hangs together.

    Attributes:
        course: Its course.
        bounds: ``(s0, t0, s1, t1)``, mm.
        stops: Where its butts may fall, in order.
        steps: The pieces it may be made of.
        low: Whether a butt at each stop reaches the course's low line.
        high: The same for its high line.
        usual: Numbers of the stops that the usual set-out takes.
        level: Whether all pieces it may be made of are as wide as it is.
        light_m: Metres of butt joint at each stop, by how much they lie across the light.
    """

    course: Course
    bounds: tuple[float, float, float, float]
    stops: tuple[Stop, ...]
    steps: tuple[Step, ...]
    low: tuple[bool, ...]
    high: tuple[bool, ...]
    usual: tuple[int, ...]
    level: bool
    light_m: tuple[float, ...] = ()


@dataclass(frozen=True)
class Way:
    """One way to divide a surface into courses.

    Attributes:
        choice: The choice that asks for it, without further butts.
        fields: Each field in its frame, with its runs.
        recessed_m: Metres of joint between courses.
        usual: What the choice gives by itself.
        blocks_m2: Area of the back-blocks that its joints between courses ask for, whatever its
            butts are; those behind butts are as large as what they take the place of.
        ends_m: Metres of a sheet's end against a recessed edge, whatever its butts are.
    """

    choice: SurfaceChoice
    fields: tuple[tuple[Turned, tuple[Run, ...]], ...]
    recessed_m: float
    usual: SetOut
    blocks_m2: float = 0.0
    ends_m: float = 0.0


def ways_for(
    surface: Surface,
    board: Board,
    setting: Setting,
    choice: SurfaceChoice,
    most: int,
    turned: Surface | None = None,
) -> tuple[Way, ...]:
    """Return ways to divide a surface into courses, the usual one first.

    A way that breaks any rule oftener than the usual one is left out: no rule is traded away.
    What the user chose or fixed holds in all of them. Of those whose sheets run the other way
    none asks for more timber than the usual one: timber is not weighed.

    Args:
        surface: The surface.
        board: Its board.
        setting: Pack, stock and choices.
        choice: The user's choice for it.
        most: How many ways to return at most with sheets one way; 0 for the usual as it stands.
        turned: The surface with its sheets the other way, where they may run either way.
    """
    if surface.follows_own_documents or surface.layers > 1:
        most = 0  # its own documents, or the layer under it, say where its joints go
    found = list(_ways(surface, board, setting, choice, most, None))
    if turned is not None and most and found:
        other = replace(choice, direction=turned.direction)
        usual = _Usual.of(surface, *work_out_surface(surface, choice, setting))
        found += _ways(turned, board, setting, other, most, usual)
    return tuple(found)


class _Usual(NamedTuple):
    """What the usual set-out breaks, and how much timber it asks for, mm."""

    breaches: Counter[str]
    timber: float

    @staticmethod
    def of(surface: Surface, scheme: SurfaceScheme, said: Iterable[Finding]) -> _Usual:
        own = breaches((*said, *joint_findings(surface, scheme.joints)))
        return _Usual(own, math.fsum(t.length for t in scheme.trimmers))

    def allows(self, other: _Usual) -> bool:
        """Whether another breaks no rule oftener and asks for no more timber."""
        return other.breaches <= self.breaches and other.timber <= self.timber + TOLERANCE


def _ways(
    surface: Surface,
    board: Board,
    setting: Setting,
    choice: SurfaceChoice,
    most: int,
    usual: _Usual | None,
) -> Iterator[Way]:
    """Yield ways with the sheets of a surface running one way; the first is the usual if None."""
    count = 0
    seen: set[tuple[tuple[int, float, float, float], ...]] = set()
    limit = usual
    for asked in _choices(surface, board, setting, choice):
        laid = set_out(surface, board, setting, asked)
        key = tuple((c.field, c.t0, c.t1, c.sheet_width) for c in laid.courses)
        if key in seen:
            continue
        seen.add(key)
        scheme, said = work_out_surface(surface, asked, setting)
        own = _Usual.of(surface, scheme, said)
        if limit is None:
            limit = own._replace(timber=math.inf)
        if not laid.courses or not limit.allows(own):
            continue
        way = _way(surface, board, setting, asked, laid, free=most > 0)
        yield _counted(way, scheme, said)
        count += 1
        if count >= most:
            break


def kinds_of(ways: Iterable[Way]) -> set[Kind]:
    """Return the kinds of all pieces that some ways may be made of."""
    runs = (run for way in ways for _, own in way.fields for run in own)
    return {kind for run in runs for step in run.steps for kind in step.kinds}


def turned_faces(room: Room, surfaces: Iterable[Surface], setting: Setting) -> dict[str, Surface]:
    """Return by ref the walls of a room whose sheets may run either way, laid the other way.

    Args:
        room: The room as measured.
        surfaces: Its faces as they are laid.
        setting: Pack, stock and choices.
    """
    if setting.practice.word("wall.direction") != EITHER:
        return {}
    other = {
        s.key: SheetDirection.ALONG
        if s.direction is SheetDirection.ACROSS
        else SheetDirection.ACROSS
        for s in surfaces
        if s.key.startswith("wall:") and _is_free(room.choice(s.key))
    }
    if not other:
        return {}
    kept = tuple(c for c in room.choices if c.surface not in other)
    made = tuple(replace(room.choice(key), direction=way) for key, way in other.items())
    laid = develop(replace(room, choices=(*kept, *made)), setting).surfaces
    return {s.ref: s for s in laid if s.key in other}


def _is_free(choice: SurfaceChoice) -> bool:
    """Whether a face's sheets may run either way: nothing chosen or locked says which."""
    locked = choice.butts or choice.first_course
    return choice.direction is SheetDirection.AUTO and not locked


def breaches(said: Iterable[Finding]) -> Counter[str]:
    """Count by code what blocks or warns."""
    return Counter(f.code for f in said if f.severity >= Severity.WARNING)


def _choices(
    surface: Surface, board: Board, setting: Setting, choice: SurfaceChoice
) -> Iterator[SurfaceChoice]:
    """Yield choices that differ in start, widths and first course, the user's own first."""
    yield choice
    if choice.butts:
        return  # a fixed butt names its course by number: the courses stay
    sizes = sizes_for(surface, board, setting, choice)
    widths: list[tuple[float, ...]] = [choice.widths]
    if not choice.widths and len(sizes) > 1:
        widths += [(w,) for w in sizes]
    starts = [Start.LOW, Start.HIGH, Start.BALANCED] if choice.start is Start.AUTO else []
    for own in widths:
        for start in starts or [choice.start]:
            yield replace(choice, widths=own, start=start)
    yield from _first_courses(surface, board, setting, choice)


def _first_courses(
    surface: Surface, board: Board, setting: Setting, choice: SurfaceChoice
) -> Iterator[SurfaceChoice]:
    """Yield choices that differ in the width of the first course."""
    sizes = sizes_for(surface, board, setting, choice)
    fields = fields_of(surface, choice)
    if choice.first_course or choice.start is Start.BALANCED or len(fields) != 1:
        return
    turned = fields[0]
    if not turned.region or not sizes:
        return
    rules = Rules.of(setting)
    for side in (Start.LOW, Start.HIGH):
        if choice.start in {Start.AUTO, side}:
            for stop in course_stops(turned, rules, tuple(sizes), board.recess_width, side):
                if stop.legal:
                    first = ((turned.field.number, stop.width),)
                    yield replace(choice, start=side, first_course=first)


def fields_of(surface: Surface, choice: SurfaceChoice) -> tuple[Turned, ...]:
    """Return the fields that a choice makes of a surface, each in its frame."""
    direction = choice.direction
    if direction is SheetDirection.AUTO:
        direction = surface.direction
    if direction is SheetDirection.AUTO:
        direction = SheetDirection.ACROSS
    at_change = AtChange.TURN if choice.at_change is AtChange.AUTO else choice.at_change
    return tuple(Turned.of(surface, f) for f in set_out_fields(surface, direction, at_change))


def _way(
    surface: Surface,
    board: Board,
    setting: Setting,
    choice: SurfaceChoice,
    laid: SetOut,
    *,
    free: bool,
) -> Way:
    rules = Rules.of(setting)
    sizes = sizes_for(surface, board, setting, choice)
    fields: list[tuple[Turned, tuple[Run, ...]]] = []
    joined = 0.0
    for turned in fields_of(surface, choice):
        if not turned.region:
            continue
        planned = plan_field(turned, board, rules, sizes, choice)
        fields.append((turned, tuple(_runs(turned, planned, board, rules, sizes if free else {}))))
        joined += sum(_along(turned, c) for c in planned.plan.courses if c.recess_high)
    return Way(choice, tuple(fields), joined / 1000, laid)


def _counted(way: Way, scheme: SurfaceScheme, said: Sequence[Finding]) -> Way:
    """Return a way with what its joints come to whatever its butts are.

    Back-blocks count where it does not hang on the butts whether joints between courses have
    any; ends at recessed edges where the sides of all pieces lie on the sides of their courses.
    """
    blocks = ends = 0.0
    if any(f.code == ALL_BLOCKED for f in said):
        recessed = {j.id for j in scheme.joints if j.kind is JointKind.RECESSED}
        own = [b for b in scheme.fixings.back_blocks if b.joint in recessed]
        blocks = sum(b.length * b.width for b in own) / 1e6
    if all(run.level for _, runs in way.fields for run in runs):
        met = [j for j in scheme.joints if j.kind is JointKind.END_TO_RECESS]
        ends = sum(j.length for j in met) / 1000
    return replace(way, blocks_m2=blocks, ends_m=ends)


def _along(turned: Turned, course: Course) -> float:
    """Return how far a course and the next one lie against each other, mm."""
    below, above = turned.chords(course.t1 - HAIR), turned.chords(course.t1 + HAIR)
    return sum(max(0.0, min(b, q) - max(a, p)) for a, b in below for p, q in above)


def _runs(
    turned: Turned,
    planned: Planned,
    board: Board,
    rules: Rules,
    sizes: dict[float, tuple[float, ...]],
) -> Iterator[Run]:
    """Yield the runs of a field; without sheet sizes they stay as the usual set-out has them."""
    fixed = {(n, s) for _, n, s in planned.locked}
    for course, parts, state in zip(
        planned.plan.courses, planned.runs, planned.states, strict=True
    ):
        lengths = lengths_for(course, sizes)
        for region, option in zip(parts, state.options, strict=True):
            s0, _, s1, _ = region.bounds
            longest = lengths[-1] if lengths else s1 - s0
            held = any((course.number, s.s) in fixed for s in option.stops)
            breached = any(set(s.barred) - {MORE_PIECES} for s in option.stops)
            if held or breached or not sizes:
                # What the user fixed, or what no legal place serves, stays as it is.
                stops = option.stops
                pairs = [(n, n + 1) for n in range(len(stops) + 1)]
            else:
                known = legal_stops(turned, region, rules, longest)
                free = [s for s in known if not set(s.barred) - {MORE_PIECES}]
                own = [s for s in option.stops if not any(s.s == x.s for x in free)]
                stops = tuple(sorted((*free, *own), key=lambda s: (s.s, s.kind)))
                pairs = _pairs(stops, (s0, s1), (rules.piece_min, longest), option.stops)
            least = (
                0.0 if turned.bounds[3] - turned.bounds[1] < rules.strip_min else rules.strip_min
            )
            yield _run(turned, course, region, (stops, option.stops), pairs, board, least)


def _pairs(
    stops: Sequence[Stop],
    run: tuple[float, float],
    sizes: tuple[float, float],
    usual: Sequence[Stop],
) -> list[tuple[int, int]]:
    """Return which stops one piece may reach between."""
    nodes = [run[0], *(s.s for s in stops), run[1]]
    last = len(nodes) - 1
    at = [run[0], *(s.s for s in usual), run[1]]
    taken = set(pairwise(at))
    found: list[tuple[int, int]] = []
    for i, a in enumerate(nodes):
        for j in range(i + 1, last + 1):
            b = nodes[j]
            reaches = b - a <= sizes[1] + TOLERANCE
            long_enough = b - a >= sizes[0] - TOLERANCE or (i == 0 and j == last)
            if (reaches and long_enough) or (a, b) in taken:
                found.append((i, j))
    return found


def _run(
    turned: Turned,
    course: Course,
    region: Region,
    stops: tuple[tuple[Stop, ...], tuple[Stop, ...]],
    pairs: Sequence[tuple[int, int]],
    board: Board,
    narrowest: float,
) -> Run:
    """Return a run with the pieces it may be made of, none narrower but those of the usual."""
    offered, usual = stops
    s0, t0, s1, t1 = region.bounds
    nodes = [s0, *(s.s for s in offered), s1]
    taken = set(pairwise([s0, *(s.s for s in usual), s1]))
    steps: list[Step] = []
    level = True
    for i, j in pairs:
        if region.is_box:
            parts: Sequence[Region] = (Region.box(nodes[i], t0, nodes[j], t1),)
        else:
            parts = intersection(region, Region.box(nodes[i], t0, nodes[j], t1))
        narrow = any(p.bounds[3] - p.bounds[1] < narrowest - TOLERANCE for p in parts)
        if narrow and (nodes[i], nodes[j]) not in taken:
            continue
        level = level and all(
            abs(p.bounds[1] - t0) <= TOLERANCE and abs(p.bounds[3] - t1) <= TOLERANCE for p in parts
        )
        kinds = tuple(_kind(turned, course, part, board) for part in parts)
        kg = max(
            ((p.bounds[2] - p.bounds[0]) * (p.bounds[3] - p.bounds[1]) for p in parts), default=0.0
        )
        steps.append(Step(i, j, kinds, kg / 1e6 * board.mass_kg_m2))
    chords = [chords_at_s(region, s.s) for s in offered]
    return Run(
        course=course,
        bounds=(s0, t0, s1, t1),
        stops=offered,
        steps=tuple(steps),
        low=tuple(any(a <= course.t0 + TOLERANCE for a, _ in c) for c in chords),
        high=tuple(any(b >= course.t1 - TOLERANCE for _, b in c) for c in chords),
        usual=tuple(n for n, s in enumerate(offered, 1) if any(s.s == u.s for u in usual)),
        level=level,
        light_m=tuple(
            _light_m(turned, s.s, c) if turned.surface.lights else 0.0
            for s, c in zip(offered, chords, strict=True)
        ),
    )


def _light_m(turned: Turned, s: float, chords: Sequence[Interval]) -> float:
    """Return the metres of a butt at a stop, each by how much it lies across the light."""
    lights, to_uv = turned.surface.lights, turned.field.frame.to_uv
    return math.fsum(
        (b - a) / 1000 * across_light(lights, to_uv((s, a)), to_uv((s, b))) for a, b in chords
    )


def _kind(turned: Turned, course: Course, part: Region, board: Board) -> Kind:
    """Return what is asked of a piece, as the set-out and the cutting will ask for it."""
    s0, t0, s1, t1 = part.bounds
    width, recess = t1 - t0, board.recess_width
    low = edge_need(turned, part, t0, HAIR, course.sheet_width - width - recess)
    spare = course.sheet_width - width - recess * (2 if low is EdgeNeed.CUT else 1)
    high = edge_need(turned, part, t1, -HAIR, spare)
    return kind_of(
        round(s1 - s0, 6), round(width, 6), low.value, high.value, turned.surface.carry_in
    )


def kind_of(length: float, width: float, low: str, high: str, longest: float) -> Kind:
    """Return the kind of a piece from its sizes in mm and its edges."""
    one, two = sorted((low, high))
    return Kind(to_parts(as_cut_size(length)), to_parts(as_cut_size(width)), one, two, longest)
