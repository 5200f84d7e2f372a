"""Improving: the whole job's set-outs and cutting chosen together, never worse than the usual."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.adopting import as_chosen
from roomboard.core.cutting.on_site import lying
from roomboard.core.findings import Severity
from roomboard.core.moving import as_measured
from roomboard.core.optimum.coarse import solve
from roomboard.core.optimum.effort import REACH, Effort, Reach
from roomboard.core.optimum.lengthening import Lengthening, blocks_alone
from roomboard.core.optimum.lengths import LinearBound, least_bars, linear_bounds
from roomboard.core.optimum.master import Chosen, Problem, Watch
from roomboard.core.optimum.program import SMALL
from roomboard.core.optimum.recut import Known, Recut
from roomboard.core.optimum.site import WORDS as OFFCUTS_OFF
from roomboard.core.optimum.site import worth_of_offcuts
from roomboard.core.optimum.together import Options, Together
from roomboard.core.optimum.ways import kinds_of, turned_faces, ways_for
from roomboard.core.optimum.weighing import Cost, weigh
from roomboard.core.scheme import Better, Scheme, work_out
from roomboard.core.setting import Setting, setting_of

if TYPE_CHECKING:
    from roomboard.core.cutting.linear import Filling
    from roomboard.core.cutting.planning import Cutter
    from roomboard.core.findings import Finding
    from roomboard.core.optimum.ways import Way
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project, SurfaceChoice
    from roomboard.core.stock import Board, Catalogue

SLACK = 1e-4
"""Share by which sums of lengths rounded to a thousandth of a mm may differ."""
FILLS = (1.0, 1.08, 0.0)
"""By how much the area of back-blocks is counted in the searches for an answer: as it is, which
also gives the bound; with what is lost beside them; and not at all, as sheets of their own are
sometimes the cheapest."""
LONGER = 3
"""For so many times the back-blocks without a place, room is made in longer sheets at most: some
of it is taken by blocks that had a place before."""

STOPPED = "it was told to end, or its time was up; the same job may give another answer"
"""Said of a search that did not come to its own end."""


BY_AREA = "area of the lining, no board being bought for less"
"""How a bound was found that is the lining's own area."""
NO_BOUND = "no bound was found before the search ended"
"""Said instead of how the bound was found where there is none."""


class OptimumError(RuntimeError):
    """An answer below its bound: a fault of the program; the case is kept with it.

    Attributes:
        case: The project it came up with.
    """

    def __init__(self, text: str, case: Project) -> None:
        super().__init__(text)
        self.case = case


@dataclass(frozen=True, kw_only=True)
class Optimum:
    """How good an answer is.

    Attributes:
        effort: How far the search went.
        cost: What the answer costs by kind, m2 of board.
        usual: What the usual set-out and cutting cost.
        bound: No answer among the set-outs looked at costs less, m2 of board.
        gap: By what share of the cost the best may lie below it at most.
        proven: Whether nothing better exists among the set-outs looked at.
        how: How the bound was found, in words.
        ways: How many ways to divide surfaces into courses were looked at together; those of a
            job with several surfaces are the best of more that each was tried by alone.
        stopped: Why the search ended before its counts did, in words; empty if it did not.
        linear: Of each kind of linear goods what is bought, and how little could do.
    """

    effort: Effort
    cost: Cost
    usual: Cost
    bound: float
    gap: float
    proven: bool
    how: str
    ways: int
    stopped: str = ""
    linear: tuple[LinearBound, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Improved:
    """The best answer found.

    Attributes:
        project: The project with the choices that ask for this set-out.
        scheme: It worked out, cut as was found best.
        optimum: How good it is.
    """

    project: Project
    scheme: Scheme
    optimum: Optimum


Told = Callable[[float, float, str], None]


def improve(  # noqa: PLR0913 - a job, how far to go, and who looks on
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    *,
    effort: Effort = Effort.THOROUGH,
    compare: bool = True,
    bounded: bool = True,
    seconds: float | None = None,
    progress: Told | None = None,
    stop: Callable[[], bool] | None = None,
) -> Improved:
    """Choose set-outs and cutting together, as cheap as the project's weights make them.

    The same input gives the same answer at any effort, unless ``seconds`` or ``stop`` end the
    search early; then the best found so far is kept.

    Args:
        project: What was measured and chosen; what is chosen or locked in it holds.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        effort: How far to go.
        compare: Whether to work out the other ways the sheets of the answer could run.
        bounded: Whether to go on for a better bound too; without, the search is far shorter.
        seconds: Upper stop for the solver's time in each search; None for none.
        progress: Told the cost of the best answer at hand, what any costs at least (0 while
            nothing is known), and what is being done.
        stop: Asked now and then whether to end.

    Raises:
        OptimumError: If the answer lies below its bound: a fault of the program.
    """
    usual = work_out(project, catalogue, practice, compare=False)
    base = weigh(usual, project.weights)
    if effort is Effort.LIVE:
        nothing = Optimum(
            effort=effort,
            cost=base,
            usual=base,
            bound=0.0,
            gap=1.0 if base.total else 0.0,
            proven=not base.total,
            how="no bound is sought at this effort",
            ways=0,
        )
        if compare:
            usual = work_out(project, catalogue, practice, known=usual.worked)
        return Improved(project=project, scheme=replace(usual, optimum=nothing), optimum=nothing)
    now, project = usual, as_chosen(project)
    if project is not now.project:
        usual = work_out(project, catalogue, practice, compare=False, known=now.worked)
        base = weigh(usual, project.weights)
    watch = Watch(seconds or 0.0, progress, stop)
    reach = REACH[effort] if bounded else REACH[effort].unbounded()
    job = _Job(project, catalogue, practice, reach, watch)
    found = job.best(usual, base, effort, now)
    if not compare:
        return found
    return replace(found, scheme=as_found(found.scheme, catalogue, practice))


def as_found(
    found: Scheme, catalogue: Catalogue, practice: Practice, *, compare: bool = True
) -> Scheme:
    """Work an answer out again, cut as it was found best, with what was said of it.

    Args:
        found: The answer.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        compare: Whether to work out the other ways its sheets could run.
    """
    scheme = work_out(
        found.project,
        catalogue,
        practice,
        compare=compare,
        known=found.worked,
        better=Better(_filling(Watch())),
    )
    return replace(scheme, optimum=found.optimum, trade=found.trade)


def _filling(watch: Watch) -> Filling:
    return lambda sizes, lengths: least_bars(sizes, lengths, watch).bars


class _Asked(NamedTuple):
    """What a search asks for: choices by room and surface, and sheets by board."""

    choices: dict[tuple[str, str], SurfaceChoice]
    known: dict[str, Known]
    bound: float
    words: tuple[str, ...]
    ways: int
    fill: float | None = None


class _Spot(NamedTuple):
    """A surface, its room, the key of its choice and what of it is lined, m2."""

    options: Options
    room: str
    key: str
    area: float


class _Alone(NamedTuple):
    """What a surface comes to by itself.

    ``kept`` are the ways worth looking at together with other surfaces.
    """

    answer: Chosen
    problem: Together
    unit: int
    kept: tuple[Way, ...]


class _Job:
    """One project being improved."""

    def __init__(
        self,
        project: Project,
        catalogue: Catalogue,
        practice: Practice,
        reach: Reach,
        watch: Watch,
    ) -> None:
        self.project = project
        self.catalogue = catalogue
        self.practice = practice
        self.reach = reach
        self.watch = watch
        self.cost, self.least = math.inf, 0.0
        self.floors: dict[str, float] = {}
        self.worth = worth_of_offcuts(project, setting_of(project, practice, catalogue))

    def best(self, usual: Scheme, base: Cost, effort: Effort, now: Scheme) -> Improved:
        """Return the best of the usual set-out, it recut, what there is now, and what was chosen.

        ``now`` is the job with what an earlier search chose; the usual where none did.
        """
        self.cost = base.total
        answers = self._search(usual)
        asked = self._without_offcuts(answers[0])
        found = [(base, self.project, usual)]
        # No rule is traded away: an answer that breaks any oftener than the usual is not taken.
        fair = [found[0]]
        tried: list[tuple[dict[tuple[str, str], SurfaceChoice], dict[str, Known]]] = [({}, {})]
        tried += [(a.choices, a.known) for a in answers]
        for choices, known in tried:
            for project, cut in self._worked_fairly(usual, choices, known):
                made = [(weigh(s, self.project.weights), project, s) for s in cut]
                found += made
                fair += [m for m in made if not _worse_places(usual, m[2])]
            self.cost = min(f[0].total for f in fair)
            self._tell(asked.bound, "cutting the pieces of an answer")
        if now is not usual and not _worse_places(usual, now):
            fair.append((weigh(now, self.project.weights), now.project, now))
        cost, project, scheme = min(fair, key=lambda f: round(f[0].total, 6))
        bound = min(asked.bound, cost.total)
        for other, case, _ in found:
            if other.total < asked.bound - SLACK * max(1.0, asked.bound):
                raise OptimumError(
                    f"A set-out costs {other.total:.6f}, below its bound of {asked.bound:.6f}.",
                    case,
                )
        gap = 1 - bound / cost.total if cost.total > 0 else 0.0
        proven = gap <= SLACK
        best = Optimum(
            effort=effort,
            cost=cost,
            usual=base,
            bound=bound,
            gap=0.0 if proven else gap,
            proven=proven,
            how="; ".join(dict.fromkeys(asked.words)) if bound > 0 else NO_BOUND,
            ways=asked.ways,
            stopped=STOPPED if self.watch.ended else "",
            linear=linear_bounds(
                scheme.linear,
                {g.kind: g for g in reversed(self.catalogue.linear)},
                self.watch._replace(progress=None),
            ),
        )
        return Improved(project=project, scheme=replace(scheme, optimum=best), optimum=best)

    def _worked_fairly(
        self,
        usual: Scheme,
        choices: dict[tuple[str, str], SurfaceChoice],
        known: dict[str, Known],
    ) -> Iterator[tuple[Project, list[Scheme]]]:
        """Work out an answer; where surfaces break more rules, again with these as usual."""
        project = _with_choices(self.project, choices)
        cut = self._worked(usual, project, known)
        yield project, cut
        worse = _worse_places(usual, cut[0])
        kept = {
            (room, key): choice
            for (room, key), choice in choices.items()
            if not any(
                place in {(room, ""), (room, f"{room}/{key}")}
                or place[1].startswith(f"{room}/{key}.")
                for place in worse
            )
        }
        if 0 < len(kept) < len(choices):
            project = _with_choices(self.project, kept)
            yield project, self._worked(usual, project, known)

    def _worked(self, usual: Scheme, project: Project, known: dict[str, Known]) -> list[Scheme]:
        """Cut a set-out: for its pieces alone, and with room left over for its back-blocks."""
        cutting = self._quiet("cutting the pieces of an answer")
        recut = Recut(self.project, self.reach.cutting, cutting, known)
        lengths = _filling(Watch(self.watch.seconds, None, self.watch.stop))

        def cut(cutter: Cutter, before: Scheme) -> Scheme:
            return work_out(
                project,
                self.catalogue,
                self.practice,
                compare=False,
                known=before.worked,
                better=Better(lengths, cutter),
            )

        def with_room(cutter: Lengthening, scheme: Scheme) -> Iterator[Scheme]:
            """Yield it cut with longer sheets, more of them while blocks find no place."""
            more = blocks_alone(scheme)
            size = (max((b[0] for b in more), default=0), max((b[1] for b in more), default=0))
            count = 0
            while more and count < len(more) * LONGER:
                count += len(more)
                if not math.isfinite(cutter.make_room(size, count)):
                    return
                scheme = cut(cutter, scheme)
                yield scheme
                more = blocks_alone(scheme)

        found: list[Scheme] = []
        for fill in FILLS:
            if found and not fill:
                continue
            if found:
                areas = _block_areas(found[0])
                recut.blocks = {board: area * fill for board, area in areas.items()}
            cutter = Lengthening(recut, self.project)
            own = cut(cutter, found[0] if found else usual)
            found += [own, *with_room(cutter, own)]
            if not blocks_alone(found[0]):
                break
        return found

    def _search(self, usual: Scheme) -> list[_Asked]:
        """Choose the set-outs of each board's surfaces together with their cutting.

        The first answer holds the bound.
        """
        setting = Setting(
            practice=usual.practice, catalogue=self.catalogue, choices=self.project.choices
        )
        boards: dict[str, list[_Spot]] = {}
        bought = {p.piece for sheet in usual.cut_plan.every for p in sheet.placements}
        for room in usual.rooms:
            keys = [s.surface.key.partition(".")[0] for s in room.surfaces]
            measured = next(r for r in self.project.rooms if r.id == room.room.id)
            turned = turned_faces(measured, (s.surface for s in room.surfaces), setting)
            for s, key in zip(room.surfaces, keys, strict=True):
                surface = as_measured(s)
                board = setting.board(surface.board, surface.place)
                # A choice that several surfaces share cannot suit each of them.
                most = self.reach.ways if keys.count(key) == 1 else 0
                other = turned.get(surface.ref)
                ways = ways_for(surface, board, setting, room.room.choice(key), most, other)
                if ways:
                    # A piece that no sheet covers is not bought.
                    whole = all(p.id in bought for p in s.set_out.pieces)
                    area = surface.region.area_mm2 / 1e6 if whole else 0.0
                    spot = _Spot(Options(surface.ref, ways), room.room.id, key, area)
                    boards.setdefault(board.id, []).append(spot)
        # Back-blocks come from what is left of any board: only of one alone can they be asked.
        blocked = len(boards) == 1 and any(
            w.blocks_m2 for own in boards.values() for s in own for w in s.options.ways
        )
        if self.worth and not blocked:
            kinds = {
                b: kinds_of(w for s in own for w in s.options.ways) for b, own in boards.items()
            }
            self.worth = worth_of_offcuts(self.project, setting, kinds)
        self.floors = {b: self._floor(own) for b, own in boards.items()}
        self._tell(math.fsum(self.floors.values()) - self.worth, "looking at what is lined")
        answers: list[_Asked] = []
        for fill in FILLS if blocked else (None,):
            found = _Asked({}, {}, 0.0, (), 0, fill)
            for board_id in sorted(boards):
                board = next(b for b in self.catalogue.boards if b.id == board_id)
                spots = boards[board_id]
                found, kept = self._search_board(spots, board, setting, found)
                # The first search bounds all ways; the others need only look at the best ones.
                boards[board_id] = [
                    s._replace(options=s.options._replace(ways=k))
                    for s, k in zip(spots, kept, strict=True)
                ]
            answers.append(found)
        if self.worth:
            answers.append(self._with_offcuts(boards, setting, answers[0]))
        return answers

    def _floor(self, spots: Iterable[_Spot]) -> float:
        """Return what the boards of surfaces count at least: what is lined, at the best value."""
        return self.project.weights.board * math.fsum(s.area for s in spots)

    def _with_offcuts(
        self, boards: dict[str, list[_Spot]], setting: Setting, asked: _Asked
    ) -> _Asked:
        """Choose set-outs with the offcuts on site in view, for an answer and no bound."""
        lie = lying(self.project.offcuts)
        found = asked
        for board in self.catalogue.boards:
            own = [x for x in lie if x.board == board.id]
            spots = boards.get(board.id, [])
            if not own or not spots:
                continue
            options = [s.options for s in spots]
            problem = Together(
                options, board, setting, self.project, blocks=asked.fill, offcuts=own
            )
            watch = self._quiet("looking at set-outs with the offcuts on site")
            answer, unit = solve(problem.problem, self.reach.unbounded().depth, watch)
            found = _taken(found, spots, board, problem, answer, unit)
        return found

    def _search_board(
        self, spots: Sequence[_Spot], board: Board, setting: Setting, found: _Asked
    ) -> tuple[_Asked, list[tuple[Way, ...]]]:
        """Search one board's surfaces.

        Returns:
            What was found with it added, and of each surface the ways worth looking at.
        """
        alone: list[_Alone] = []
        for number, spot in enumerate(spots, 1):
            watch = self._quiet(f"looking at each surface alone: {number} of {len(spots)}")
            alone.append(self._alone(spot.options, board, setting, watch, found.fill))
        watch = self._told(found.bound, board.id)
        ways = len(spots[0].options.ways)
        if len(spots) == 1:
            answer, problem, unit = alone[0].answer, alone[0].problem, alone[0].unit
        else:
            # The bound holds for what is looked at together; other ways may share offcuts better.
            ways = sum(len(a.kept) for a in alone)
            kept = [s.options._replace(ways=a.kept) for s, a in zip(spots, alone, strict=True)]
            problem = Together(kept, board, setting, self.project, blocks=found.fill)
            answer, unit = solve(problem.problem, self.reach.depth, watch)
        bound = answer.bound if math.isfinite(answer.bound) else 0.0
        floor = self.floors[board.id]
        found = _taken(found, spots, board, problem, answer, unit)
        words = (*found.words, answer.words if bound > floor else BY_AREA)
        bound = max(bound, floor)
        found = found._replace(
            bound=found.bound + bound,
            words=words,
            ways=found.ways + ways,
        )
        return found, [a.kept for a in alone]

    def _alone(
        self, options: Options, board: Board, setting: Setting, watch: Watch, fill: float | None
    ) -> _Alone:
        """Search one surface as if nothing else were cut of its board, way by way."""
        best: _Alone | None = None
        ranked: list[tuple[float, int]] = []
        least = math.inf  # no way costs less than its own bound
        known: list[Problem] = []
        for number, way in enumerate(options.ways):
            one = [options._replace(ways=(way,))]
            problem = Together(one, board, setting, self.project, blocks=fill)
            if problem.problem in known:
                continue  # the same from the other side
            known.append(problem.problem)
            value = best.answer.value if best is not None else math.inf
            answer, unit = solve(problem.problem, self.reach.depth, watch, value)
            least = min(least, answer.bound)
            ranked.append((min(answer.value, max(answer.bound, value)), number))
            if best is None or answer.value < value - SMALL:
                best = _Alone(answer, problem, unit, ())
        if best is None:  # there is always the usual way
            raise ValueError(f"{options.ref} has no way to be set out.")
        order = [n for _, n in sorted(ranked)][: self.reach.kept]
        kept = tuple(options.ways[n] for n in sorted({0, *order}))
        return best._replace(answer=best.answer._replace(bound=least), kept=kept)

    def _without_offcuts(self, asked: _Asked) -> _Asked:
        """Take what the offcuts on site may be worth from the bound: the search has none."""
        if not self.worth:
            return asked
        bound = max(0.0, asked.bound - self.worth)
        return asked._replace(bound=bound, words=(*asked.words, OFFCUTS_OFF))

    def _tell(self, bound: float, words: str) -> None:
        """Pass on the best answer at hand, what any costs at least, and what is done."""
        self.least = max(self.least, min(bound, self.cost))
        self.watch.tell(self.cost, self.least, words)

    def _quiet(self, words: str) -> Watch:
        """Return the watch for a search whose figures are not those of the job."""
        return self.watch._replace(progress=lambda _best, _bound, _words: self._tell(0.0, words))

    def _told(self, before: float, board: str) -> Watch:
        """Return the watch with what other boards cost at least counted in.

        Args:
            before: What those cost that were searched already, m2.
            board: The board that is searched; those after it come later.
        """
        floor = self.floors[board]
        after = math.fsum(area for b, area in self.floors.items() if b > board)
        return self.watch._replace(
            progress=lambda _best, bound, words: self._tell(
                before + max(bound, floor) + after - self.worth, words
            )
        )


def _taken(
    found: _Asked,
    spots: Sequence[_Spot],
    board: Board,
    problem: Together,
    answer: Chosen,
    unit: int,
) -> _Asked:
    """Return what was found with the set-outs and the bought sheets of an answer, if it is one."""
    if not math.isfinite(answer.value):
        return found
    choices, known = dict(found.choices), dict(found.known)
    bought = len(problem.job.sizes)
    sheets = tuple((size, pattern.tree) for size, pattern in answer.sheets if size < bought)
    known[board.id] = Known(tuple(problem.kinds), sheets, unit)
    for spot, (way, butts) in zip(spots, problem.read(answer.taken), strict=True):
        choices[spot.room, spot.key] = _choice_for(way, butts)
    return found._replace(choices=choices, known=known)


def _block_areas(scheme: Scheme) -> dict[str, float]:
    """Return by board id the area of the back-blocks that are cut from its sheets, m2."""
    sizes = {
        f"{room.room.id}/{b.id}": b.length * b.width / 1e6
        for room in scheme.rooms
        for s in room.surfaces
        for b in s.fixings.back_blocks
    }
    found: dict[str, float] = {}
    for sheet in scheme.cut_plan.sheets:
        names = [p.piece for p in sheet.placements]
        names += [name for o in sheet.offcuts for name in o.used_for]
        area = sum(sizes.get(name, 0.0) for name in names)
        if area:
            found[sheet.board] = found.get(sheet.board, 0.0) + area
    return found


def _choice_for(way: Way, butts: tuple[tuple[int, int, float], ...]) -> SurfaceChoice:
    """Return the choice that asks for a way with these butts."""
    usual = tuple(sorted((b.field, b.course, b.s) for b in way.usual.butts))
    if butts == tuple(dict.fromkeys(usual)):
        return way.choice  # it comes of itself
    return replace(way.choice, butts=butts)


def _with_choices(project: Project, choices: dict[tuple[str, str], SurfaceChoice]) -> Project:
    """Return the project with other choices for some surfaces; those as usual are left out."""
    rooms = []
    for room in project.rooms:
        own = {key: c for (room_id, key), c in choices.items() if room_id == room.id}
        kept = [own.pop(c.surface, c) for c in room.choices]
        kept = [c if c == o else replace(c, own=o) for c, o in zip(kept, room.choices, strict=True)]
        fresh = [
            replace(own[key], own=room.choice(key))
            for key in sorted(own)
            if own[key] != room.choice(key)
        ]
        rooms.append(replace(room, choices=(*kept, *fresh)))
    return replace(project, rooms=tuple(rooms))


def _worse_places(usual: Scheme, scheme: Scheme) -> tuple[tuple[str, str], ...]:
    """Return where a scheme breaks a rule oftener than the usual one: room and surface ref."""
    before, after = (Counter(map(_breach, _grave(s))) for s in (usual, scheme))
    return tuple(sorted({(room, ref) for room, ref, _ in after - before}))


def _grave(scheme: Scheme) -> Iterator[Finding]:
    return (f for f in scheme.findings if f.severity >= Severity.WARNING)


def _breach(finding: Finding) -> tuple[str, str, str]:
    return (finding.place.room, finding.place.surface, finding.code)
