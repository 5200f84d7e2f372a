"""The command that prints the set."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.cli.defaults import PAPERS, PHONE
from roomboard.cli.projects import (
    day_of,
    not_itself,
    say_progress,
    say_written,
    scheme_of,
    usable,
    write_file,
)
from roomboard.cli.stopping import DONE, StopError
from roomboard.cli.working_out import read_seconds, traded
from roomboard.core.project import Project

if TYPE_CHECKING:
    from roomboard.drawing.set_choice import SetChoice
    from roomboard.export.pdf import Fonts


def add_printing(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that prints the set."""
    prints = commands.add_parser(
        "print",
        help="print the cut sheet and the order as a PDF",
        description="Writes the cut sheet and the order as a PDF.",
        allow_abbrev=False,
    )
    prints.add_argument("file", metavar="FILE", type=Path, help="project file")
    prints.add_argument("--to", metavar="PDF", type=Path, required=True, help="file to write")
    prints.add_argument("--paper", choices=PAPERS, default="A4", help="paper size (default: A4)")
    add_page_choices(prints)
    prints.add_argument("--date", metavar="YYYY-MM-DD", help="date to print on it (default: today)")
    prints.add_argument(
        "--best",
        action="store_true",
        help="search for the best set-out and cutting first; a page says how near the best it is, "
        "what else there is and what limits cost",
    )
    prints.add_argument(
        "--seconds", metavar="N", type=read_seconds, default=0.0, help="an upper stop for --best"
    )
    prints.set_defaults(run=_print)


def add_page_choices(command: argparse.ArgumentParser) -> None:
    """Add the choices of what is printed of the set, and how."""
    command.add_argument(
        "--lists",
        choices=PAPERS,
        default="",
        help="paper size of tables (default: A4 with A3, Letter with Tabloid, else as --paper)",
    )
    command.add_argument(
        "--pages",
        metavar="KINDS",
        default="",
        help="only some kinds of pages, with commas between them, e.g. carpenter,ceilings,walls; "
        "a name that does not exist is answered with those that do (default: all but fixings)",
    )
    command.add_argument(
        "--rooms", metavar="ROOMS", default="", help="only some rooms, with commas between them"
    )
    command.add_argument(
        "--scale",
        metavar="1:N",
        default="",
        help="scale of all drawings that fit a page so (default: chosen for each page)",
    )
    command.add_argument(
        "--fixings", action="store_true", help="with drawings of every fastener and daub"
    )
    command.add_argument(
        "--changed-since",
        metavar="LETTER",
        default="",
        help="only sheets that have changed since an issue, and the revision list (default: all)",
    )


def _print(asked: argparse.Namespace) -> int:
    dated = day_of(asked.date)
    not_itself(asked.file, asked.to)
    project, practice = usable(asked.file)
    choice = set_choice_of(asked, project)  # refused before anything is worked out
    if asked.seconds and not asked.best:
        raise StopError("roomboard: --seconds needs --best.")
    scheme = traded(asked, project, practice) if asked.best else scheme_of(project, practice)

    from roomboard.drawing.sheet_set import sheet_set
    from roomboard.export.pdf import pdf_bytes

    pages = sheet_set(scheme, choice, dated, progress=say_progress)
    if not pages:
        return say_nothing_new(project, choice.changed_since)
    write_file(asked.to, pdf_bytes(pages, fonts(), progress=say_progress))
    say_written(scheme, asked.to)
    return DONE


def say_nothing_new(project: Project, letter: str) -> int:
    """Say that no sheet has changed since an issue, so that none was written."""
    print(f"{project.name}: nothing has changed since issue {letter}; nothing was written.")
    return DONE


def set_choice_of(asked: argparse.Namespace, project: Project) -> "SetChoice":
    """Return what of the set is wanted, or stop with what is wrong about it."""
    from roomboard.drawing.paper import paper_named
    from roomboard.drawing.set_choice import SetChoice, kinds_named, rooms_named, scale_named

    paper = "A4" if asked.paper == PHONE else asked.paper
    try:
        scale = scale_named(asked.scale, paper_named(paper)).ratio if asked.scale else 0.0
        choice = SetChoice(
            paper=paper,
            lists=asked.lists,
            kinds=kinds_named(asked.pages.split(",")) if asked.pages else (),
            rooms=rooms_named(asked.rooms.split(","), project) if asked.rooms else (),
            scale=scale,
            fixings=asked.fixings,
            changed_since=letter_of(asked.changed_since, project) if asked.changed_since else "",
        )
    except ValueError as refusal:
        raise StopError(f"roomboard: {refusal}") from None
    if choice.changed_since:
        say_compared(project, choice)
    return choice


def letter_of(letter: str, project: Project) -> str:
    """Return the letter of an issue as the project has it, or stop with those there are."""
    from roomboard.core.editing import EditError
    from roomboard.core.revision_issue import issue_of

    try:
        return issue_of(project, letter).letter
    except EditError as refusal:
        raise StopError(f"roomboard: {refusal.said(project.units)}") from None


def say_compared(project: Project, choice: "SetChoice") -> None:
    """Stop if the sheets wanted cannot be compared with those issued."""
    from roomboard.drawing.set_revision import base_of

    try:
        base_of(project, choice)
    except ValueError as refusal:
        raise StopError(f"roomboard: {refusal}") from None


def fonts() -> "Fonts":
    """Return the faces of the one font that is printed with."""
    from roomboard.export.pdf import Fonts
    from roomboard.storage.resources import resource_path

    return Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )
