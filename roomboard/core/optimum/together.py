"""Together: the set-outs of surfaces and the cutting of their board in one problem."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.cutting import Demand
from roomboard.core.cutting.wants import CUT, RECESSED, Job, Want, job_of, to_m2, to_mm
from roomboard.core.fields import Rules
from roomboard.core.optimum.master import Choice, Problem, Sheet
from roomboard.core.optimum.plates import Item
from roomboard.core.optimum.ways import Kind, kind_of, kinds_of
from roomboard.core.optimum.weighing import board_costs, nearness
from roomboard.core.plane import TOLERANCE

if TYPE_CHECKING:
    from roomboard.core.cutting.on_site import Lying
    from roomboard.core.optimum.ways import Run, Way
    from roomboard.core.project import Project, Weights
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board

MANY = 1_000_000
"""More of a kind than any job asks for."""


class Options(NamedTuple):
    """A surface and the ways it may be divided.

    Attributes:
        ref: Surface ref.
        ways: The usual one first.
    """

    ref: str
    ways: tuple[Way, ...]


def kind_of_demand(demand: Demand) -> Kind:
    """Return the kind of a piece that is to be cut."""
    return kind_of(demand.length, demand.width, demand.low, demand.high, demand.longest)


def asking(kinds: Iterable[Kind], board: Board) -> list[Demand]:
    """Ask for one piece of each kind."""
    return [
        Demand(
            id=str(n),
            length=to_mm(k.length),
            width=to_mm(k.width),
            low=k.low,
            high=k.high,
            board=board.id,
            longest=k.longest,
        )
        for n, k in enumerate(kinds)
    ]


def needs_of(want: Want) -> tuple[int, int]:
    """Return how many long edges of a piece must be recessed, and how many cut."""
    _, low, high = want.ways[0]
    edges = (low, high)
    return edges.count(RECESSED), edges.count(CUT)


def sheets_of(job: Job, items: Sequence[Want], project: Project) -> list[Sheet]:
    """Return the stock sizes of a job with their costs and what they may give."""
    costs = board_costs(job.board, project)
    return [
        Sheet(
            size.length,
            size.width,
            project.weights.board * costs[size.stock.id],
            # Sheets of one width give the same kinds but for their lengths: those are looked up.
            tuple(
                i
                for i, want in enumerate(items)
                if size.length <= want.cap
                and any(job.sizes[m].width == size.width for m in want.sizes)
            ),
            area=to_m2(size.area),
        )
        for size in job.sizes
    ]


@dataclass(slots=True)
class _Places:
    """Where the unknowns of one way stand among all."""

    taken: int
    steps: list[list[int]] = field(default_factory=list)


class Together:
    """The problem of all surfaces of one board, and how its answer is read.

    Attributes:
        problem: What is to be chosen and cut.
        job: One want for each kind that can be cut.
        kinds: The kinds, in the order of the problem's items.
    """

    def __init__(
        self,
        surfaces: Sequence[Options],
        board: Board,
        setting: Setting,
        project: Project,
        *,
        blocks: float | None = None,
        offcuts: Sequence[Lying] = (),
    ) -> None:
        """Gather the kinds and put the problem together.

        Args:
            surfaces: The surfaces of the board.
            board: The board.
            setting: Pack, stock and choices.
            project: The job, for its weights and prices.
            blocks: By how much the area of back-blocks counts that are cut from the board's
                sheets too; None where they are cut from others as well.
            offcuts: Those of the board that lie on site: each may be used once, for nothing. One
                counts as the sheet it is laid as, so that what comes out is to be cut anew.
        """
        self._blocks = blocks or 0.0
        self.surfaces = surfaces
        self.weights: Weights = project.weights
        found = sorted(kinds_of(way for options in surfaces for way in options.ways))
        asked = asking(found, board)
        choices = setting.choices
        self.job = job_of(
            board, asked, setting.practice, choices.sheet_lengths, choices.sheet_widths
        )
        # What no sheet can give is cut in no answer; a finding says so.
        self.kinds = [found[int(w.demand.id)] for w in self.job.wants]
        self._number = {kind: n for n, kind in enumerate(self.kinds)}
        items = [Item(w.length, w.width, *needs_of(w), limit=MANY) for w in self.job.wants]
        self.problem = Problem(
            items=items,
            sheets=sheets_of(self.job, self.job.wants, project),
            recess=self.job.recess,
            asked=[0] * len(items),
        )
        if blocks is not None:
            self.problem.areas = [to_m2(w.length * w.width) for w in self.job.wants]
        # A sheet that is filled to the last saves one cut for its pieces.
        self.problem.sheets = [
            s._replace(cost=max(s.cost - self.weights.cut, 0.0)) for s in self.problem.sheets
        ]
        self.problem.sheets += [self._on_hand(x) for x in offcuts]
        self._stagger = Rules.of(setting).stagger
        self._places: list[list[_Places]] = []
        for options in surfaces:
            self._places.append(self._add_surface(options))
        self._set_limits()

    def _on_hand(self, lies: Lying) -> Sheet:
        """Return an offcut as a sheet that there is once."""
        recess = self.job.recess
        fitting = (n for n, w in enumerate(self.job.wants) if lies.holds(w, recess))
        width = sum(lies.beyond(recess)) + lies.width
        return Sheet(lies.length, width, 0.0, tuple(fitting), most=1.0, area=to_m2(lies.area))

    def _set_limits(self) -> None:
        """Say how many of each kind can be asked for at most: so many runs can take it."""
        most = [0] * len(self.problem.items)
        for options in self.surfaces:
            of_ways = [self._most_of(way) for way in options.ways]
            for i in range(len(most)):
                most[i] += max((w.get(i, 0) for w in of_ways), default=0)
        self.problem.items = [
            item._replace(limit=max(1, n)) for item, n in zip(self.problem.items, most, strict=True)
        ]

    def _most_of(self, way: Way) -> dict[int, int]:
        total: dict[int, int] = {}
        for _, runs in way.fields:
            for run in runs:
                length = run.bounds[2] - run.bounds[0]
                own: dict[int, int] = {}
                for step in run.steps:
                    for i, n in self._asks(step.kinds).items():
                        fits = max(1, math.floor(length / max(1.0, to_mm(self.kinds[i].length))))
                        own[i] = max(own.get(i, 0), n * fits)
                for i, n in own.items():
                    total[i] = total.get(i, 0) + n
        return total

    def _asks(self, kinds: Sequence[Kind]) -> dict[int, int]:
        found: dict[int, int] = {}
        for kind in kinds:
            if kind in self._number:
                n = self._number[kind]
                found[n] = found.get(n, 0) + 1
        return found

    # --- building --------------------------------------------------------------------------

    def _add_surface(self, options: Options) -> list[_Places]:
        problem = self.problem
        places: list[_Places] = []
        for way in options.ways:
            joints = self.weights.recessed * way.recessed_m
            joints += self.weights.end_to_recess * way.ends_m
            problem.choices.append(Choice(joints, blocks=self._blocks * way.blocks_m2))
            places.append(_Places(len(problem.choices) - 1))
        problem.rules.append((1.0, 1.0, {p.taken: 1.0 for p in places}))
        lift = -1
        if self.weights.lift:
            problem.choices.append(Choice(self.weights.lift, whole=False))
            lift = len(problem.choices) - 1
        for way, place in zip(options.ways, places, strict=True):
            for turned, runs in way.fields:
                ends = (turned.bounds[0], turned.bounds[2])
                numbers = [self._add_run(run, ends, place, lift) for run in runs]
                self._keep_apart(runs, numbers)
        return places

    def _add_run(
        self, run: Run, ends: tuple[float, float], place: _Places, lift: int
    ) -> list[dict[int, float]]:
        """Add the pieces of a run; return for each stop the unknowns that end a piece there."""
        problem, weights = self.problem, self.weights
        last = len(run.stops) + 1
        own: list[int] = []
        into: list[dict[int, float]] = [{} for _ in range(last + 1)]
        out: list[dict[int, float]] = [{} for _ in range(last + 1)]
        for step in run.steps:
            cost = (weights.piece + weights.cut) * len(step.kinds)
            if step.end < last:
                stop = run.stops[step.end - 1]
                metres = stop.height / 1000
                cost += metres * (weights.butt + weights.middle * nearness(stop.s, ends))
                cost += weights.light * run.light_m[step.end - 1]
            problem.choices.append(Choice(cost, self._asks(step.kinds)))
            number = len(problem.choices) - 1
            own.append(number)
            out[step.begin][number] = 1.0
            into[step.end][number] = 1.0
        place.steps.append(own)
        problem.rules.append((0.0, 0.0, {**out[0], place.taken: -1.0}))
        problem.rules.append((0.0, 0.0, {**into[last], place.taken: -1.0}))
        for n in range(1, last):
            balance = {**into[n], **dict.fromkeys(out[n], -1.0)}
            if balance:
                problem.rules.append((0.0, 0.0, balance))
        if lift >= 0:
            for n in range(last):
                crossing = {
                    k: -step.kg
                    for k, step in zip(own, run.steps, strict=True)
                    if step.begin <= n < step.end
                }
                problem.rules.append((0.0, math.inf, {lift: 1.0, **crossing}))
        return into

    def _keep_apart(self, runs: Sequence[Run], numbers: Sequence[list[dict[int, float]]]) -> None:
        """Keep butts of adjoining courses apart, but for those the usual set-out has so near."""
        for run, own in zip(runs, numbers, strict=True):
            for other, theirs in zip(runs, numbers, strict=True):
                if abs(other.course.t0 - run.course.t1) > TOLERANCE:
                    continue
                for a, stop in enumerate(run.stops):
                    near = [
                        b
                        for b, s in enumerate(other.stops)
                        if run.high[a]
                        and other.low[b]
                        and abs(s.s - stop.s) < self._stagger - TOLERANCE
                        and not (a + 1 in run.usual and b + 1 in other.usual)
                    ]
                    for group in _exclusive(near, other):
                        together = dict(own[a + 1])
                        for b in group:
                            together.update(theirs[b + 1])
                        self.problem.rules.append((-math.inf, 1.0, together))

    # --- reading ---------------------------------------------------------------------------

    def read(self, taken: Sequence[float]) -> list[tuple[Way, tuple[tuple[int, int, float], ...]]]:
        """Return for each surface its way and its butts: field, course, place along it."""
        found: list[tuple[Way, tuple[tuple[int, int, float], ...]]] = []
        for options, places in zip(self.surfaces, self._places, strict=True):
            number = max(range(len(places)), key=lambda n: taken[places[n].taken])
            way, place = options.ways[number], places[number]
            runs = [run for _, own in way.fields for run in own]
            butts: list[tuple[int, int, float]] = []
            for run, own in zip(runs, place.steps, strict=True):
                for step, unknown in zip(run.steps, own, strict=True):
                    if taken[unknown] > 0.5 and step.end <= len(run.stops):
                        stop = run.stops[step.end - 1]
                        butts.append((run.course.field, run.course.number, stop.s))
            found.append((way, tuple(sorted(butts))))
        return found


def _exclusive(stops: Sequence[int], run: Run) -> list[list[int]]:
    """Group stops of a run of which only one can be taken: no piece lies between any two."""
    joined = {(step.begin - 1, step.end - 1) for step in run.steps}
    groups: list[list[int]] = []
    for b in stops:
        last = groups[-1] if groups else []
        between = range(last[0], b) if last else ()
        if last and not any((m, n) in joined for m in between for n in range(m + 1, b + 1)):
            last.append(b)
        else:
            groups.append([b])
    return groups
