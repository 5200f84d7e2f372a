"""The commands that check a project and work it out."""

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from roomboard.cli.projects import (
    blocks,
    not_itself,
    save_project,
    say_progress,
    say_written,
    scheme_of,
    usable,
    worked_out,
    write_file,
)
from roomboard.cli.stopping import BLOCKED, DONE, StopError
from roomboard.core.project import Project, Units

if TYPE_CHECKING:
    from roomboard.core.findings import Finding, Severity
    from roomboard.core.optimum.improve import Optimum
    from roomboard.core.practice import Practice
    from roomboard.core.scheme import Scheme


def add_working_out(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the commands that check a project and write everything worked out."""
    check = commands.add_parser(
        "check",
        help="print what there is to say about a project",
        description="Prints the findings, the gravest first. Answers 1 if any blocks the set-out.",
        allow_abbrev=False,
    )
    check.add_argument("file", metavar="FILE", type=Path, help="project file")
    check.set_defaults(run=_check)

    work = commands.add_parser(
        "work-out",
        help="write everything that is worked out as JSON",
        description="Writes pieces, joints, trimmers, fasteners, cuts, order and findings as JSON.",
        allow_abbrev=False,
    )
    work.add_argument("file", metavar="FILE", type=Path, help="project file")
    work.add_argument("--to", metavar="JSON", type=Path, required=True, help="file to write")
    work.add_argument(
        "--effort",
        choices=("live", "thorough", "proof"),
        default="live",
        help="how far to search for the best set-out and cutting (default: live, the usual one)",
    )
    work.add_argument(
        "--seconds",
        metavar="N",
        type=read_seconds,
        default=0.0,
        help="an upper stop only: the search ends then with the best kept, which may differ from "
        "one machine to another (default: none)",
    )
    work.add_argument(
        "--adopt",
        metavar="PROJECT",
        type=Path,
        help="project file to write with the set-outs and the cutting chosen",
    )
    work.add_argument(
        "--limits",
        action="store_true",
        help="solve the job again without each limit, lock and rule, and say what each costs; "
        "with --effort thorough or proof",
    )
    work.set_defaults(run=_work_out)


def read_seconds(text: str) -> float:
    """Read a number of seconds above nothing."""
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds < float("inf"):
        raise argparse.ArgumentTypeError(f"“{text}” is no number of seconds above 0")
    return seconds


def _check(asked: argparse.Namespace) -> int:
    scheme = worked_out(asked.file)
    _report(scheme.findings, scheme.project, sys.stdout)
    return BLOCKED if blocks(scheme) else DONE


def _report(findings: Sequence["Finding"], project: Project, to: TextIO) -> None:
    """Print findings, the gravest first, each with its lines; then how many there are."""
    from roomboard.core.findings import Severity
    from roomboard.core.wording import lines

    for finding in sorted(findings, key=lambda f: f.order):
        head, *rest = lines(finding, project)
        print(head, file=to)
        for line in rest:
            print(f"    {line}", file=to)
    weights = [finding.severity for finding in findings]
    print(
        f"{project.name}: {_counted(weights, Severity.BLOCK, 'that blocks', 'that block')}, "
        f"{_counted(weights, Severity.WARNING, 'warning', 'warnings')}, "
        f"{_counted(weights, Severity.CAUTION, 'caution', 'cautions')}, "
        f"{_counted(weights, Severity.NOTE, 'note', 'notes')}.",
        file=to,
    )


def _counted(weights: Sequence["Severity"], weight: "Severity", one: str, many: str) -> str:
    count = weights.count(weight)
    return f"{count} {one if count == 1 else many}"


def _work_out(asked: argparse.Namespace) -> int:
    from roomboard.storage.scheme_file import scheme_text

    not_itself(asked.file, asked.to)
    plain = asked.effort == "live"
    if plain and (asked.seconds or asked.adopt or asked.limits):
        raise StopError(
            "roomboard: --seconds, --adopt and --limits need --effort thorough or proof."
        )
    project, practice = usable(asked.file)
    scheme = scheme_of(project, practice) if plain else improved(asked, project, practice)
    if asked.limits:
        scheme = _with_limits(asked, scheme, project, practice)
    write_file(asked.to, scheme_text(scheme).encode())
    say_written(scheme, asked.to)
    return DONE


def _with_limits(
    asked: argparse.Namespace, scheme: "Scheme", project: Project, practice: "Practice"
) -> "Scheme":
    """Say why each sheet above the bound is bought and what each limit costs."""
    from time import monotonic

    from roomboard.core.optimum.effort import Effort
    from roomboard.core.optimum.limits import costs_of_limits
    from roomboard.core.optimum.trading import Trade
    from roomboard.drawing.job_figures import bounds_reasons
    from roomboard.storage.catalogue import load_catalogue

    end = monotonic() + asked.seconds
    stop = (lambda: monotonic() > end) if asked.seconds else None
    limits = costs_of_limits(
        project,
        load_catalogue(project.practice),
        practice,
        effort=Effort(asked.effort),
        stop=stop,
        progress=say_progress,
    )
    for words in (*bounds_reasons(scheme), *(limit.words for limit in limits)):
        print(f"{project.name}: {words}")
    if limits:
        print(f"{project.name}: what comes out without a rule is a comparison, not to be built")
    return replace(scheme, trade=Trade(optimum=scheme.optimum, limits=limits))


def improved(asked: argparse.Namespace, project: Project, practice: "Practice") -> "Scheme":
    """Search for the best set-out and cutting, and say how good what was found is."""
    from time import monotonic

    from roomboard.core.adopting import with_cutting
    from roomboard.core.optimum.directions import directions_told
    from roomboard.core.optimum.effort import Effort
    from roomboard.core.optimum.improve import OptimumError, improve
    from roomboard.core.optimum.in_units import cost_in, cost_unit
    from roomboard.storage.catalogue import load_catalogue

    end = monotonic() + asked.seconds
    try:
        found = improve(
            project,
            load_catalogue(project.practice),
            practice,
            effort=Effort(asked.effort),
            seconds=asked.seconds or None,
            stop=(lambda: monotonic() > end) if asked.seconds else None,
        )
    except OptimumError as error:
        case = asked.to.with_suffix(".case.json")
        save_project(error.case, case)
        raise StopError(
            f"roomboard: a fault of the program: {error} The case is kept in {case}; nothing "
            "else was written."
        ) from None
    best, units = found.optimum, project.units
    unit = "m2" if units is Units.METRIC else cost_unit(units)
    print(
        f"{project.name}: costs {cost_in(best.cost.total, units):.3f} in {unit} of board, usually "
        f"{cost_in(best.usual.total, units):.3f}; {_how_near(best)}"
    )
    if best.bound:
        print(f"{project.name}: bound by {best.how}")
    for words in directions_told(found.scheme):
        print(f"{project.name}: {words}")
    if best.stopped:
        print(f"{project.name}: the search was stopped early: {best.stopped}")
    if asked.adopt:
        _save_chosen(with_cutting(found.scheme), asked.adopt)
    return found.scheme


def _how_near(best: "Optimum") -> str:
    """Say how near the best an answer is."""
    if not best.bound and not best.proven:
        return f"how near the best that is, is not known: {best.how}"
    return f"at most {best.gap:.2%} above the best of the set-outs looked at"


def traded(asked: argparse.Namespace, project: Project, practice: "Practice") -> "Scheme":
    """Search for the best set-out, for what else there is and for what limits cost."""
    from time import monotonic

    from roomboard.core.optimum.limits import costs_of_limits
    from roomboard.core.optimum.trading import Trade, frontier
    from roomboard.storage.catalogue import load_catalogue

    asked.effort, asked.adopt = "thorough", None
    end = monotonic() + asked.seconds

    def ended() -> bool:
        return bool(asked.seconds) and monotonic() > end

    scheme = improved(asked, project, practice)
    stock = load_catalogue(project.practice)

    points = frontier(project, stock, practice, stop=ended, progress=say_progress)
    limits = costs_of_limits(project, stock, practice, stop=ended, progress=say_progress)
    trade = Trade(optimum=scheme.optimum, points=points, limits=limits, complete=not ended())
    return replace(scheme, trade=trade)


def _save_chosen(project: Project, path: Path) -> None:
    save_project(project, path)
    print(f"{project.name}: project with the set-outs and the cutting chosen written to {path}")
