"""The command that shows figures of practice and changes them for one job."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.cli.defaults import LENGTHS
from roomboard.cli.projects import load_project, practice_of, save_project
from roomboard.cli.stopping import DONE, StopError
from roomboard.core.project import Project, Units
from roomboard.core.units import Refusal, read_length, write_length

if TYPE_CHECKING:
    from roomboard.core.practice import Figure, Practice


def add_figures(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that shows and changes figures of practice."""
    figures = commands.add_parser(
        "figures",
        help="show figures of practice, or change them for one job",
        description="Prints the figures of practice that a project changes, each with what its "
        "pack states; or those with some words in their key or title, such as “piece.min”, the "
        f"least length of a piece. {LENGTHS}",
        allow_abbrev=False,
    )
    figures.add_argument("file", metavar="FILE", type=Path, help="project file")
    figures.add_argument(
        "--find", metavar="WORDS", default="", help="show figures with these words"
    )
    figures.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="KEY=VALUE",
        help="change a figure for this job, e.g. piece.min=450; may be repeated",
    )
    figures.add_argument(
        "--as-stated",
        action="append",
        default=[],
        metavar="KEY",
        help="go back to what the pack states; may be repeated",
    )
    figures.set_defaults(run=_figures)


def _figures(asked: argparse.Namespace) -> int:
    from roomboard.core.editing.jobs import set_override

    project = load_project(asked.file)
    practice = practice_of(project.practice)
    changed = project
    for key in asked.as_stated:
        changed = set_override(changed, _stated(practice, key), None)
    for text in asked.set:
        key, equals, value = text.partition("=")
        if not equals:
            raise StopError(f"roomboard: “{text}” sets nothing; type it such as piece.min=450.")
        stated = _stated(practice, key.strip())
        changed = set_override(changed, stated, _value(value.strip(), stated, practice, project))
    if changed != project:
        save_project(changed, asked.file)
    _tell(changed, practice, asked.find)
    return DONE


def _stated(practice: "Practice", key: str) -> "Figure":
    if not practice.has(key):
        raise StopError(
            f"roomboard: the pack {practice.title} states no figure “{key}”; look for its key "
            "with --find."
        )
    return practice.figure(key)


def _value(text: str, stated: "Figure", practice: "Practice", project: Project) -> float | str:
    """Read what is typed for a figure: a word, a length or a number, none below nothing."""
    from roomboard.storage.catalogue import known_words

    if isinstance(stated.value, str):
        known = known_words(stated.key)
        if text not in known:
            raise StopError(
                f"roomboard: {stated.key} cannot be “{text}”; give one of {', '.join(known)}."
            )
        return text
    if stated.unit == "mm":
        read = read_length(text, project.units, small=True)
        if isinstance(read, Refusal):
            raise StopError(f"roomboard: {stated.key}: {read.sentence}")
        return read.mm
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        number = -1.0
    if not (0.0 <= number < float("inf") and practice.takes(stated.key, number)):
        raise StopError(
            f"roomboard: {stated.key}: “{text}” is no number from 0 up; the pack has "
            f"{_written(stated.value, stated, project.units)}."
        )
    return number


def _written(value: float | str, stated: "Figure", units: Units) -> str:
    if isinstance(value, str):
        return value
    if stated.unit == "mm":
        return write_length(value, units, suffix=True)
    return f"{value:g}" if stated.unit in {"count", "ratio", "year"} else f"{value:g} {stated.unit}"


def _tell(project: Project, practice: "Practice", find: str) -> None:
    own = dict(project.overrides)
    words = find.casefold().split()
    shown = [
        f
        for f in practice.figures
        if (all(w in f"{f.key} {f.title}".casefold() for w in words) if words else f.key in own)
    ]
    for stated in shown:
        now = own.get(stated.key, stated.value)
        line = f"{stated.key}: {stated.title}: {_written(now, stated, project.units)}"
        if stated.key in own:
            line += f", the pack states {_written(stated.value, stated, project.units)}"
        print(f"{line} ({stated.citation})")
    if not shown:
        none = f"has the words “{find}”" if words else "is changed for this job"
        print(f"{project.name}: no figure of practice {none}.")
