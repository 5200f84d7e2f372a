"""The command that estimates sheets by area alone."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.cli.defaults import DEFAULT_PACK, LENGTHS
from roomboard.cli.projects import practice_of, scheme_of, units_of, usable
from roomboard.cli.stopping import DONE, StopError
from roomboard.core.project import Units
from roomboard.core.units import Refusal, read_size, write_area, write_length

if TYPE_CHECKING:
    from roomboard.core.practice import Practice

_CAUTION = (
    "An estimate by area, openings not taken off: the set-out of a measured room may need more."
)


def add_estimating(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that estimates sheets by area alone."""
    from roomboard.core.read_extent import EXAMPLE

    estimate = commands.add_parser(
        "estimate",
        help="estimate sheets by area, before anything is measured",
        description="Prints how many sheets hold an area, and how many with some spare; for a "
        "project, by each board beside what its set-out takes. A floor needs a figure of your own "
        f"for the board it takes. {LENGTHS}",
        allow_abbrev=False,
    )
    estimate.add_argument(
        "extent", metavar="EXTENT", nargs="?", default="", help=f'what is covered: "{EXAMPLE}"'
    )
    estimate.add_argument("--sheet", metavar="SIZE", default="", help='such as "1200 x 3600"')
    estimate.add_argument(
        "--spare", metavar="PERCENT", default="", help="spare on top (default: the pack's)"
    )
    estimate.add_argument("--units", choices=[u.value for u in Units], default="", help="units")
    estimate.add_argument(
        "--practice", metavar="PACK", default="", help=f"practice pack (default: {DEFAULT_PACK})"
    )
    estimate.add_argument("--in", dest="file", metavar="FILE", type=Path, help="project file")
    estimate.set_defaults(run=_estimate)


def _estimate(asked: argparse.Namespace) -> int:
    if asked.file is None:
        return _of_extent(asked)
    if asked.extent or asked.sheet or asked.units or asked.practice:
        raise StopError(
            "roomboard: a project has its own areas, sheets, units and practice; give --in with "
            "--spare alone."
        )
    return _of_project(asked)


def _of_extent(asked: argparse.Namespace) -> int:
    from roomboard.core.estimate import whole_sheets
    from roomboard.core.read_extent import read_extents

    practice = practice_of(asked.practice or DEFAULT_PACK)
    units = Units(asked.units) if asked.units else units_of(practice)
    extents = read_extents(asked.extent, units)
    if isinstance(extents, Refusal):
        raise StopError(f"roomboard: {extents.sentence}")
    if not asked.sheet:
        raise StopError('roomboard: give the size of the sheets, such as --sheet "1200 x 3600".')
    size = read_size(asked.sheet, units)
    if isinstance(size, Refusal):
        raise StopError(f"roomboard: --sheet: {size.sentence}")
    first, second = size.first.mm, size.second.mm
    if min(first, second) <= 0:
        raise StopError(f"roomboard: --sheet: “{asked.sheet}” has a side that is not above 0.")
    spare = _spare(asked.spare, practice)
    for extent in extents:
        print(extent.words)
    area = sum(e.area_m2 for e in extents)
    sheet = first * second / 1e6
    said = f"{write_length(first, units)} x {write_length(second, units)}"
    least, spared = whole_sheets(area, sheet), whole_sheets(area, sheet, spare)
    print(
        f"{write_area(area, units)} in sheets {said} of {write_area(sheet, units)}: {least}, "
        f"with {100 * spare:g} % spare {spared}."
    )
    print(_CAUTION)
    return DONE


def _of_project(asked: argparse.Namespace) -> int:
    from roomboard.core.estimate import by_area, estimate_words

    project, practice = usable(asked.file)
    scheme = scheme_of(project, practice)
    estimates = by_area(scheme, _spare(asked.spare, scheme.practice))
    if not estimates:
        raise StopError(f"roomboard: {project.name} has no board to be estimated; measure a room.")
    for one in estimates:
        board = scheme.catalogue.board(one.board)
        name = board.name if board else one.board
        net = write_area(one.net_m2, project.units)
        print(f"{name}: {net} net, by area alone {estimate_words(one, project.units)}.")
    return DONE


def _spare(text: str, practice: "Practice") -> float:
    """Return the spare that was typed, or the pack's, as a share of the sheets."""
    from roomboard.core.estimate import SPARE

    if not text:
        return practice.mm(SPARE)
    try:
        percent = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError:
        percent = -1.0
    if not 0.0 <= percent <= 100.0:
        raise StopError(f"roomboard: --spare: “{text}” is no share from 0 to 100 %; such as 10.")
    return percent / 100.0
