"""Limits: what each of them costs, found by solving the job again without it, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.adopting import as_chosen
from roomboard.core.optimum.effort import REACH, Effort
from roomboard.core.optimum.improve import improve
from roomboard.core.optimum.master import Watch
from roomboard.core.optimum.recut import EdgeRule
from roomboard.core.optimum.trading import HAIR, Stop, Tell, point_of
from roomboard.core.project import AtChange, SheetDirection, Start
from roomboard.core.scheme import Better, work_out
from roomboard.core.units import write_area, write_run
from roomboard.core.walls import EITHER

if TYPE_CHECKING:
    from roomboard.core.optimum.improve import Improved
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project, SurfaceChoice
    from roomboard.core.stock import Catalogue

RULES: tuple[tuple[str, tuple[tuple[str, float | str], ...]], ...] = (
    ("the rule that keeps butts of adjoining courses apart", (("stagger.min", 0.0),)),
    (
        "the rule that keeps joints clear of openings",
        (("opening_clear.min", 0.0), ("opening_level.min", 0.0)),
    ),
    ("the rule which way the sheets of walls run", (("wall.direction", EITHER),)),
)
"""Rules of the packs that are tried without, and the figures that let go each of them."""
EDGE_RULE = "the rule that a recessed edge comes from the edge of a sheet"


@dataclass(frozen=True, kw_only=True)
class LimitCost:
    """What one limit costs.

    Attributes:
        limit: What it is, in words.
        cost: By how much the answer found with it costs more, m2 of board; below 0 where the
            search without it did not find as good an answer.
        butts: How many butt joints more with it.
        butt_m: Metres of butt joint more with it.
        board_m2: Board more with it, m2.
        words: The difference in a sentence.
    """

    limit: str
    cost: float
    butts: int
    butt_m: float
    board_m2: float
    words: str


def costs_of_limits(
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    *,
    effort: Effort = Effort.THOROUGH,
    rules: bool = True,
    stop: Stop | None = None,
    progress: Tell | None = None,
) -> tuple[LimitCost, ...]:
    """Say what carry-in limits, locks, rules of the pack and the edge rule cost.

    The job is solved again without each; the answers without a rule are not for building. What
    a search chose is no limit: it is free from the start.

    Args:
        project: What was measured and chosen.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        effort: How far to go for each.
        rules: Whether to try without rules of the pack and the edge rule too.
        stop: Asked now and then whether to end with what was found.
        progress: Told before each search and at the end.
    """
    project = as_chosen(project)
    freed = list(_without(project, practice if rules else None))
    ask = _Asking(catalogue, practice, effort, stop)
    if not freed and not rules:
        return ()
    total = len(freed) + 1 + rules
    tell = progress or (lambda _done, _total, _words: None)
    tell(0, total, "the answer with all of them")
    own = ask(project)
    found: list[LimitCost] = []
    for number, (limit, without) in enumerate(freed, 1):
        if ask.ended:
            break
        tell(number, total, f"without {limit}")
        found.append(_difference(limit, own, ask(without), project))
    if rules and not ask.ended:
        tell(total - 1, total, f"without {EDGE_RULE}")
        found.append(_edges(ask.edge_rule(own), project))
    tell(total, total, "")
    return tuple(found)


@dataclass(frozen=True)
class _Asking:
    """Solves the job again and again at one effort."""

    catalogue: Catalogue
    practice: Practice
    effort: Effort
    stop: Callable[[], bool] | None

    def __call__(self, project: Project) -> Improved:
        return improve(
            project,
            self.catalogue,
            self.practice,
            effort=self.effort,
            compare=False,
            stop=self.stop,
        )

    def edge_rule(self, own: Improved) -> EdgeRule:
        """Cut the pieces of an answer with and without the edge rule."""
        cutter = EdgeRule(own.project, REACH[self.effort].cutting, Watch(0.0, None, self.stop))
        work_out(
            own.project,
            self.catalogue,
            self.practice,
            compare=False,
            known=own.scheme.worked,
            better=Better(_as_usual, cutter),
        )
        return cutter

    @property
    def ended(self) -> bool:
        return self.stop is not None and self.stop()


def _as_usual(_sizes: Sequence[int], _lengths: Sequence[int]) -> Sequence[Sequence[int]]:
    """Cut linear goods as they usually are."""
    return ()


def _unlocked(choice: SurfaceChoice) -> SurfaceChoice:
    """Take the locks off, and the start side that they are counted from."""
    if not _holds(choice):
        return choice
    return replace(choice, butts=(), first_course=(), start=Start.AUTO)


def _holds(choice: SurfaceChoice) -> bool:
    return bool(choice.butts or choice.first_course)


def _from_any_side(choice: SurfaceChoice) -> SurfaceChoice:
    """Let the courses start where they may; locks are counted from the side they start at."""
    return choice if _holds(choice) else replace(choice, start=Start.AUTO)


def _of_any_width(choice: SurfaceChoice) -> SurfaceChoice:
    return replace(choice, widths=())


def _either_way(choice: SurfaceChoice) -> SurfaceChoice:
    """Let the sheets run either way; locks hold for one way alone."""
    if _holds(choice):
        return choice
    return replace(choice, direction=SheetDirection.AUTO, at_change=AtChange.AUTO)


CHOICES: tuple[tuple[str, Callable[[SurfaceChoice], SurfaceChoice]], ...] = (
    ("what is locked", _unlocked),
    ("the choice of where courses start", _from_any_side),
    ("the choice of sheet widths for single faces", _of_any_width),
    ("the choice of sheet direction", _either_way),
)
"""What a user can choose for a face, and how it is let go."""


def _without(project: Project, practice: Practice | None) -> Iterator[tuple[str, Project]]:
    """Yield each limit that the project has, with the project without it."""
    carried = tuple(replace(r, carry_in=0.0) for r in project.rooms)
    if carried != project.rooms:
        notes = sorted({r.carry_in_note for r in project.rooms if r.carry_in and r.carry_in_note})
        why = f" ({'; '.join(notes)})" if notes else ""
        yield f"the carry-in limit{why}", replace(project, rooms=carried)
    for words, freed in CHOICES:
        free = tuple(replace(r, choices=tuple(freed(c) for c in r.choices)) for r in project.rooms)
        if free != project.rooms:
            yield words, replace(project, rooms=free)
    lengths = replace(project.choices, sheet_lengths=(), sheet_widths=())
    if lengths != project.choices:
        yield "the choice of sheet sizes", replace(project, choices=lengths)
    if practice is None:
        return
    lined = any(w.lined for r in project.rooms for w in r.walls)
    for words, let_go in RULES:
        own = dict(project.overrides)
        loose = {k: v for k, v in let_go if practice.takes(k, v) and own.get(k) != v}
        if loose and (lined or EITHER not in loose.values()):
            yield words, replace(project, overrides=tuple(sorted((own | loose).items())))


def _butts(best: Improved) -> int:
    return sum(len(s.set_out.butts) for r in best.scheme.rooms for s in r.surfaces)


def _difference(limit: str, own: Improved, other: Improved, project: Project) -> LimitCost:
    with_, without = point_of(own, project), point_of(other, project)
    butts = _butts(own) - _butts(other)
    butt, board = with_.butt_m - without.butt_m, with_.board_m2 - without.board_m2
    cost = own.optimum.cost.total - other.optimum.cost.total
    more: list[str] = []
    less: list[str] = []
    for amount, text in (
        (butt, _butts_in_words(butts, butt, project)),
        (board, f"{write_area(abs(board), project.units)} of board"),
    ):
        if abs(amount) > HAIR:
            (more if amount > 0 else less).append(text)
    if cost < -HAIR:
        words = f"{_head(limit)} costs nothing that the search found"
        more, less = [], []
    elif more:
        words = f"{_head(limit)} costs {' and '.join(more)}"
    else:
        words = f"{_head(limit)} costs no board and no butts"
    if less:
        words += f", and saves {' and '.join(less)}"
    return LimitCost(
        limit=limit, cost=cost, butts=butts, butt_m=butt, board_m2=board, words=f"{words}."
    )


def _butts_in_words(butts: int, butt_m: float, project: Project) -> str:
    run = f"{write_run(abs(butt_m) * 1000, project.units)} of butt joint"
    if butts * butt_m <= 0:
        return run
    count = abs(butts)
    return f"{count} {'butt' if count == 1 else 'butts'} ({run})"


def _head(limit: str) -> str:
    return limit[0].upper() + limit[1:]


def _edges(rule: EdgeRule, project: Project) -> LimitCost:
    """Say what the edge rule costs the pieces of an answer, from the least board both ways."""
    more = max(0.0, rule.with_rule - rule.without)
    much = f"{write_area(more, project.units)} of board" if more > HAIR else "no board"
    return LimitCost(
        limit=EDGE_RULE,
        cost=more * project.weights.board,
        butts=0,
        butt_m=0.0,
        board_m2=more,
        words=f"{_head(EDGE_RULE)} costs {much} for the pieces of this set-out.",
    )
