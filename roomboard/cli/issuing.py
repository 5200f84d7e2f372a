"""The commands that issue the set and say what has changed since."""

import argparse
from pathlib import Path

from roomboard.cli.defaults import PAPERS
from roomboard.cli.printing import letter_of, set_choice_of
from roomboard.cli.projects import (
    day_of,
    save_project,
    say_progress,
    say_written,
    scheme_of,
    usable,
)
from roomboard.cli.stopping import CHANGED, DONE, StopError
from roomboard.core.project import Project


def add_issuing(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the commands that keep the set under a letter, and say what has changed since."""
    issues = commands.add_parser(
        "issue",
        help="issue the set: keep what it says under a letter",
        description="Keeps every piece, the order and a fingerprint of each sheet in the project "
        "under the next letter, so that later prints show what has changed. Answers 0 when it is "
        "done, 2 if it cannot be: no note, a letter used already, nothing changed.",
        allow_abbrev=False,
    )
    issues.add_argument("file", metavar="FILE", type=Path, help="project file; it is written anew")
    issues.add_argument("--note", required=True, help="what the issue is about, in a few words")
    issues.add_argument("--by", default="", help="who issues it")
    issues.add_argument("--date", metavar="YYYY-MM-DD", help="date of issue (default: today)")
    issues.add_argument("--letter", default="", help="its letter (default: the one after the last)")
    issues.add_argument("--paper", choices=PAPERS, default="A4", help="paper size (default: A4)")
    issues.add_argument(
        "--lists",
        choices=PAPERS,
        default="",
        help="paper size of tables (default: A4 with A3, Letter with Tabloid, else as --paper)",
    )
    issues.add_argument(
        "--scale", metavar="1:N", default="", help="scale of all drawings that fit a page so"
    )
    issues.add_argument(
        "--fixings", action="store_true", help="with drawings of every fastener and daub"
    )
    issues.set_defaults(run=_issue, pages="", rooms="", changed_since="")

    since = commands.add_parser(
        "changes",
        help="print what has changed since an issue",
        description="Prints what has changed piece by piece, and what to buy more or send back. "
        "Answers 0 if nothing has changed, 1 if something has, 2 if it cannot be told.",
        allow_abbrev=False,
    )
    since.add_argument("file", metavar="FILE", type=Path, help="project file")
    since.add_argument("--since", metavar="LETTER", default="", help="issue (default: the last)")
    since.set_defaults(run=_changes)


def _issue(asked: argparse.Namespace) -> int:
    from roomboard.core.editing import EditError
    from roomboard.drawing.set_revision_issue import issue_set

    dated = day_of(asked.date)
    project, practice = usable(asked.file)
    choice = set_choice_of(asked, project)
    _refuse_early(asked, project)
    scheme = scheme_of(project, practice)
    words = {"date": dated, "note": asked.note, "by": asked.by, "letter": asked.letter}
    try:
        issued = issue_set(scheme, choice, **words, progress=say_progress)
    except EditError as refusal:
        raise StopError(f"roomboard: {refusal.said(scheme.project.units)}") from None
    save_project(issued, asked.file)
    made = issued.issues[-1]
    own = sum(s.letter == made.letter for s in made.sheets)
    say_written(
        scheme, asked.file, f"issue {made.letter} of {made.date}, {own} sheets changed, kept in"
    )
    return DONE


def _refuse_early(asked: argparse.Namespace, project: Project) -> None:
    """Stop before anything is worked out if the letter or the note cannot be used."""
    from roomboard.core.editing import EditError
    from roomboard.core.revision_issue import check_note, letter_for

    try:
        check_note(asked.note)
        letter_for(project, asked.letter)
    except EditError as refusal:
        raise StopError(f"roomboard: {refusal.said(project.units)}") from None


def _changes(asked: argparse.Namespace) -> int:
    from roomboard.core.revision_issue import changes, issue_of
    from roomboard.drawing.set_revision_list import change_lines

    project, practice = usable(asked.file)
    base = issue_of(project, letter_of(asked.since, project))
    scheme = scheme_of(project, practice)
    found = changes(base, scheme)
    if found.empty:
        print(f"{scheme.project.name}: nothing has changed since issue {base.letter}.")
        return DONE
    print(f"{scheme.project.name}: changed since issue {base.letter} of {base.date}.")
    for line in change_lines(found, scheme.project.units):
        print(line)
    return CHANGED
