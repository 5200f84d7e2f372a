"""The command that estimates how long a sheet can be carried in."""

import argparse
from dataclasses import replace
from pathlib import Path

from roomboard.cli.defaults import DEFAULT_PACK, LENGTHS
from roomboard.cli.projects import practice_of, save_project, units_of, usable
from roomboard.cli.stopping import BLOCKED, DONE, StopError
from roomboard.core.project import Choices, Project, Room, Units
from roomboard.core.units import Refusal, read_length, write_length


def add_carry_in(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that estimates how long a sheet gets in."""
    from roomboard.core.read_way_in import EXAMPLE

    carry = commands.add_parser(
        "carry-in",
        help="estimate the longest sheet that gets in",
        description="Prints how long a sheet gets past corners, landings, doors and windows, each "
        "with its formula, and, for a room of a project, what that limit costs. Answers 1 if no "
        "sheet gets in. " + LENGTHS,
        allow_abbrev=False,
    )
    carry.add_argument("way", metavar="WAY", help=f'what a sheet passes, such as "{EXAMPLE}"')
    carry.add_argument("--sheet-width", metavar="LENGTH", default="", help="width of the sheets")
    carry.add_argument("--thickness", metavar="LENGTH", default="", help="thickness of the board")
    carry.add_argument("--units", choices=[u.value for u in Units], default="", help="units")
    carry.add_argument(
        "--practice", metavar="PACK", default="", help=f"practice pack (default: {DEFAULT_PACK})"
    )
    carry.add_argument("--in", dest="file", metavar="FILE", type=Path, help="project file")
    carry.add_argument("--room", default="", help="room of the project, by its id or name")
    carry.add_argument(
        "--save", action="store_true", help="put the limit into the project file for that room"
    )
    carry.set_defaults(run=_carry_in)


def _carry_in(asked: argparse.Namespace) -> int:
    from roomboard.core.carry_cost import carry_cost
    from roomboard.core.carry_in import CAUTION, Sheet, clearance_of, way_in
    from roomboard.core.editing.room_choices import limit_by_way_in
    from roomboard.core.read_way_in import estimate_words, obstacle_words, read_way_in
    from roomboard.core.setting import Setting, setting_of
    from roomboard.storage.catalogue import load_catalogue

    if (asked.room or asked.save) and asked.file is None:
        raise StopError("roomboard: --room and --save need a project file; give it with --in.")
    if asked.save and not asked.room:
        raise StopError("roomboard: --save needs the room the limit is for; give it with --room.")
    project, practice = (
        usable(asked.file) if asked.file else (None, practice_of(asked.practice or DEFAULT_PACK))
    )
    room = _room(project, asked.room) if project and asked.room else None
    catalogue = load_catalogue(practice.id)
    setting = (
        setting_of(project, practice, catalogue)
        if project
        else Setting(practice=practice, catalogue=catalogue, choices=Choices())
    )
    units = project.units if project else Units(asked.units) if asked.units else units_of(practice)
    read = read_way_in(asked.way, units)
    if isinstance(read, Refusal):
        raise StopError(f"roomboard: {read.sentence}")
    try:
        board = setting.board(room.ceiling_board if room else "", "ceiling")
    except KeyError as unknown:
        raise StopError(
            f"roomboard: the stock has no board “{unknown.args[0]}”; choose another ceiling board "
            "in the project."
        ) from None
    usual = max(setting.sizes(board), default=0.0)
    if not usual and not asked.sheet_width:
        raise StopError(
            f"roomboard: no sheet of {board.name} has a width and a length the project allows; "
            "give the width with --sheet-width."
        )
    sheet = Sheet(
        width=_size(asked.sheet_width, units, usual),
        thickness=_size(asked.thickness, units, board.thickness),
        clearance=clearance_of(setting.practice),
    )
    way = way_in(read, sheet)
    for one in way.estimates:
        print(estimate_words(one, units))
    if way.shut:
        print(f"No sheet {write_length(sheet.width, units, suffix=True)} wide gets in.")
        return BLOCKED
    longest = write_length(way.longest, units, suffix=True) if way.longest else "no limit"
    print(f"Longest sheet: {longest}.")
    print(CAUTION)
    if project is None or room is None:
        return DONE
    cost = carry_cost(project, room.id, way.longest, catalogue, practice)
    if cost is not None and way.longest:
        print(cost.words(units))
    if asked.save:
        note = "; ".join(obstacle_words(o, units) for o in read)
        rooms = tuple(
            limit_by_way_in(r, way.longest, note) if r.id == room.id else r for r in project.rooms
        )
        save_project(replace(project, rooms=rooms), asked.file)
        print(f"Put into {room.name} of {asked.file}.")
    return DONE


def _room(project: Project, wanted: str) -> Room:
    """Return the room of an id or a name, or stop with those there are."""
    room = next((r for r in project.rooms if wanted in {r.id, r.name}), None)
    if room is None:
        known = ", ".join(r.id for r in project.rooms)
        raise StopError(f"roomboard: there is no room “{wanted}”; choose one of {known}.")
    return room


def _size(text: str, units: Units, usual: float) -> float:
    """Return a length that was typed, or the usual one; stop where it cannot be read."""
    if not text:
        return usual
    read = read_length(text, units, small=True)
    if isinstance(read, Refusal):
        raise StopError(f"roomboard: {read.sentence}")
    return read.mm
