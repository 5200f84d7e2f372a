"""The command that lists offcuts on site, to be cut from before any sheet is bought."""

import argparse
from pathlib import Path

from roomboard.cli.defaults import LENGTHS
from roomboard.cli.projects import load_project, practice_of, save_project
from roomboard.cli.stopping import DONE, StopError
from roomboard.core.project import Project


def add_on_site(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that lists offcuts on site."""
    from roomboard.core.read_offcut import EXAMPLE

    offcuts = commands.add_parser(
        "offcuts",
        help="list offcuts on site, to be cut from before any sheet is bought",
        description="Prints the offcuts on site that a project lists; adds to them and takes from "
        "them. Length is along the sheet an offcut came from, “recessed” is how many of its long "
        f"edges are, as: “{EXAMPLE['metric']} board ID note beside the stair”. {LENGTHS}",
        allow_abbrev=False,
    )
    offcuts.add_argument("file", metavar="FILE", type=Path, help="project file")
    offcuts.add_argument(
        "--add",
        action="append",
        default=[],
        metavar="OFFCUT",
        help="list an offcut (default: no edge recessed, the usual wall board); may be repeated",
    )
    offcuts.add_argument(
        "--drop",
        action="append",
        default=[],
        metavar="ID",
        help="take an offcut off the list; may be repeated",
    )
    offcuts.set_defaults(run=_offcuts)


def _offcuts(asked: argparse.Namespace) -> int:
    project = load_project(asked.file)
    changed = _changed(project, asked.add, asked.drop)
    if changed != project:
        save_project(changed, asked.file)
    _tell(changed)
    return DONE


def _changed(project: Project, adds: list[str], drops: list[str]) -> Project:
    from roomboard.core.editing import EditError
    from roomboard.core.editing.offcuts import drop_offcut, put_offcut
    from roomboard.core.editing.refusal import free_id
    from roomboard.core.read_offcut import read_offcut
    from roomboard.core.units import Refusal
    from roomboard.storage.catalogue import load_catalogue

    practice_of(project.practice)
    catalogue = load_catalogue(project.practice)
    boards = [b.id for b in catalogue.boards]
    usual = project.choices.wall_board or catalogue.default_wall
    try:
        for ident in drops:
            project = drop_offcut(project, ident)
        for text in adds:
            ident = free_id("offcut-", (o.id for o in project.offcuts))
            read = read_offcut(text, project.units, ident=ident, board=usual)
            if isinstance(read, Refusal):
                raise StopError(f"roomboard: {read.sentence}")
            project = put_offcut(project, read, boards)
    except EditError as refused:
        raise StopError(f"roomboard: {refused.said(project.units)}") from None
    return project


def _tell(project: Project) -> None:
    from roomboard.core.read_offcut import in_a_run, numbers_of, offcut_text

    numbers = numbers_of(project.offcuts)
    for o in project.offcuts:
        print(f"{o.id} ({in_a_run(numbers[o.id])}): {offcut_text(o, project.units)}")
    if not project.offcuts:
        print(f"{project.name}: no offcuts on site are listed.")
