"""The commands that make projects: from rooms measured, or taken over from other files."""

import argparse
import sys
from pathlib import Path

from roomboard.cli.defaults import DEFAULT_PACK, LENGTHS
from roomboard.cli.projects import (
    load_project,
    practice_of,
    save_project,
    title_from,
    understood,
    units_of,
    write_file,
)
from roomboard.cli.stopping import DONE, StopError
from roomboard.core.project import JoistZone, Room, Units
from roomboard.core.units import Length, Refusal, read_length


def add_measuring(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the commands that make projects from rooms measured or drawn elsewhere."""
    new = commands.add_parser(
        "new",
        help="make a project from rooms measured in one line each",
        description=f"Makes a project from rooms measured in one line each. {LENGTHS}",
        allow_abbrev=False,
    )
    new.add_argument("file", metavar="FILE", type=Path, help="project file to write")
    new.add_argument(
        "--room",
        action="append",
        required=True,
        metavar="ROOM",
        help='name, sides along x and y, height: "Bedroom 3580 x 3040 h 2400", and the heights of '
        'a ceiling that is not flat: "... rake 2400 to 3600 from A", "... ridge 2400 to 3800 along '
        'B"; may be repeated',
    )
    new.add_argument(
        "--joists",
        action="append",
        default=[],
        metavar="JOISTS",
        help='"along y at 450", "along x at 600 first 300" or "along y at 450, 900, 1360"; '
        "once for all rooms, or once for each",
    )
    new.add_argument(
        "--studs",
        default="",
        metavar="CENTRES",
        help="centres of the studs of all walls, e.g. 600 (default: not known, and said so)",
    )
    new.add_argument("--name", default="", help="title of the project (default: the file's name)")
    new.add_argument(
        "--pack",
        default=DEFAULT_PACK,
        help=f"practice pack (default: {DEFAULT_PACK})",
    )
    new.add_argument(
        "--units",
        choices=[units.value for units in Units],
        help="how lengths are read and shown (default: as the pack has it)",
    )
    new.add_argument(
        "--replace", action="store_true", help="replace the file if it is there already"
    )
    new.set_defaults(run=_new)
    _add_import(commands)


def _add_import(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that takes rooms over from other files."""
    imports = commands.add_parser(
        "import",
        help="take rooms over from a list (CSV) or a drawing (DXF)",
        description="Takes rooms over from a list with one room a row (.csv; its first row names "
        "the columns room, width, depth, height and, where known, joists, studs, floor, carry in) "
        "or from a drawing with a closed outline for each room (.dxf). What is left out is said. "
        f"{LENGTHS}",
        allow_abbrev=False,
    )
    imports.add_argument("source", metavar="FROM", type=Path, help="list or drawing to read")
    imports.add_argument(
        "--to", metavar="FILE", type=Path, required=True, help="project file to write"
    )
    imports.add_argument(
        "--height", default="", metavar="LENGTH", help="height of all rooms of a drawing"
    )
    imports.add_argument(
        "--layer",
        action="append",
        default=[],
        metavar="NAME",
        help="layer of a drawing to read (default: all); may be repeated",
    )
    imports.add_argument(
        "--unit",
        choices=["mm", "cm", "m", "in", "ft"],
        default="",
        help="unit of a drawing (default: what it states)",
    )
    imports.add_argument(
        "--pack", default=DEFAULT_PACK, help=f"practice pack of a new project ({DEFAULT_PACK})"
    )
    imports.add_argument("--name", default="", help="title of a new project")
    there = imports.add_mutually_exclusive_group()
    there.add_argument("--add", action="store_true", help="add the rooms to the project there is")
    there.add_argument(
        "--replace", action="store_true", help="replace the file if it is there already"
    )
    imports.set_defaults(run=_import)


def _new(asked: argparse.Namespace) -> int:
    from roomboard.core.measure import measured_project, read_joists, read_room
    from roomboard.core.measure_heights import parted
    from roomboard.storage.project_file import write

    practice = practice_of(asked.pack)
    units = Units(asked.units) if asked.units else units_of(practice)
    agrees = practice.mm("tape.agrees")
    lines = [parted(text) for text in asked.room]
    read_rooms = [
        _with_heights(read_room(t, units, i, agrees=agrees), above, units)
        for i, (t, above) in enumerate(lines, 1)
    ]
    read_zones = [read_joists(text, units) for text in asked.joists]
    studs = read_length(asked.studs, units) if asked.studs else Length(mm=0.0, echo="")
    refused = [read for read in (*read_rooms, *read_zones, studs) if isinstance(read, Refusal)]
    if refused:
        raise StopError(*(f"roomboard: {refusal.sentence}" for refusal in refused))
    rooms = tuple(read for read in read_rooms if isinstance(read, Room))
    zones = tuple(read for read in read_zones if isinstance(read, JoistZone))
    if len(zones) not in {0, 1, len(rooms)}:
        raise StopError(
            f"roomboard: there are {len(zones)} --joists for {len(rooms)} --room; "
            "give them once for all rooms, or once for each room in the same order."
        )
    if asked.file.exists() and not asked.replace:
        raise StopError(
            f"roomboard: {asked.file} is there already; choose another name, or add --replace."
        )
    project = measured_project(
        title_from(asked.name, asked.file),
        rooms,
        zones,
        units,
        practice.id,
        studs.mm if isinstance(studs, Length) else 0.0,
    )
    write_file(asked.file, write(project).encode())
    for room in project.rooms:
        print(understood(room, units))
    print(f"{project.name}: written to {asked.file}")
    return DONE


def _with_heights(read: Room | Refusal, text: str, units: Units) -> Room | Refusal:
    """Give a room the heights of its ceiling that were typed after its size, if any."""
    from roomboard.core.editing import EditError
    from roomboard.core.measure_heights import read_heights

    if isinstance(read, Refusal) or not text:
        return read
    typed = read_heights(text, units)
    if isinstance(typed, Refusal):
        return typed
    try:
        return typed.made(read)
    except EditError as refused:
        return Refusal(text=text, sentence=refused.said(units))


def _import(asked: argparse.Namespace) -> int:
    from roomboard.core.editing.rooms import add_room
    from roomboard.core.measure import measured_project
    from roomboard.importers.files import rooms_from
    from roomboard.importers.taken import TakeOverError

    if asked.add:
        project = load_project(asked.to)
    else:
        if asked.to.exists() and not asked.replace:
            raise StopError(
                f"roomboard: {asked.to} is there already; choose another name, or say --add to "
                "add the rooms to it, --replace to replace it."
            )
        practice = practice_of(asked.pack)
        name = title_from(asked.name, asked.to)
        project = measured_project(name, (), (), units_of(practice), practice.id)
    height = read_length(asked.height, project.units) if asked.height else Length(0.0, "")
    if isinstance(height, Refusal):
        raise StopError(f"roomboard: {height.sentence}")
    try:
        taken = rooms_from(
            asked.source,
            project.units,
            height.mm,
            layers=asked.layer,
            unit=asked.unit,
            taken_ids=[room.id for room in project.rooms],
        )
    except TakeOverError as refused:
        raise StopError(*(f"roomboard: {sentence}" for sentence in refused.sentences)) from None
    for room in taken.rooms:
        project = add_room(project, room)
    save_project(project, asked.to)
    for room in taken.rooms:
        print(understood(room, project.units))
    for sentence in taken.left_out:
        print(f"roomboard: {sentence}", file=sys.stderr)
    print(f"{project.name}: written to {asked.to}")
    return DONE
