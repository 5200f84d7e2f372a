"""The command line: check a project, work it out, print it, or measure a new one."""

import argparse
import os
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import roomboard
from roomboard.core.project import JoistZone, Project, Room, Units
from roomboard.core.units import Length, Refusal, read_length, write_length

if TYPE_CHECKING:
    from roomboard.core.findings import Finding, Severity
    from roomboard.core.practice import Practice
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.paper import Page
    from roomboard.drawing.set_choice import SetChoice
    from roomboard.export.formats import Made
    from roomboard.export.pdf import Fonts

DONE, BLOCKED, UNUSABLE = 0, 1, 2
"""What a command answers the shell: all done; something blocks the set-out; bad input."""

PAPERS = ("A4", "A3", "Letter", "Tabloid")
PHONE = "phone"
LABELS = "a4-3x8"
DEFAULT_PACK = "au-nz"

_ABOUT = (
    "Sets out plasterboard linings: from a measured room to a cut sheet and an order. "
    "It aids the layout; it replaces neither your local code nor a licensed person."
)
_LENGTHS = (
    "Lengths are typed as you like: 3.6 m, 3600, 360cm, 11' 9 3/4\", 11-9 3/4, 4800-2*13. "
    "A number without a unit counts mm, in a feet-inches project inches."
)


class _StopError(Exception):
    """Ends a command that cannot go on; its lines say why."""

    def __init__(self, *lines: str) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its answer to the shell.

    Args:
        argv: The words after the program's name; None for those of the shell.

    Returns:
        0 if all is done, 1 if a finding blocks the set-out, 2 if the input cannot be used.
    """
    for stream in (sys.stdout, sys.stderr):
        _never_fail_on_signs(stream)
    try:
        answer = _run(argv)
        sys.stdout.flush()
    except _StopError as stop:
        for line in stop.lines:
            print(line, file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        # Whoever was reading (a pager, head) has read enough; the interpreter must not complain.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    return answer


def _run(argv: Sequence[str] | None) -> int:
    try:
        asked = _parser().parse_args(argv)
    except SystemExit as stop:  # argparse has said what is wrong, or has printed its help
        return stop.code if isinstance(stop.code, int) else UNUSABLE
    answer: int = asked.run(asked)
    return answer


def _never_fail_on_signs(stream: object) -> None:
    """Let a terminal that lacks a sign (m², ″) show an escape instead of ending the program."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="roomboard", description=_ABOUT, allow_abbrev=False)
    parser.add_argument("--version", action="version", version=f"roomboard {roomboard.__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

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
        type=_seconds,
        default=0.0,
        help="an upper stop only: the search ends then with the best kept, which may differ from "
        "one machine to another (default: none)",
    )
    work.add_argument(
        "--adopt",
        metavar="PROJECT",
        type=Path,
        help="project file to write with the set-outs chosen",
    )
    work.set_defaults(run=_work_out)

    prints = commands.add_parser(
        "print",
        help="print the cut sheet and the order as a PDF",
        description="Writes the cut sheet and the order as a PDF.",
        allow_abbrev=False,
    )
    prints.add_argument("file", metavar="FILE", type=Path, help="project file")
    prints.add_argument("--to", metavar="PDF", type=Path, required=True, help="file to write")
    prints.add_argument("--paper", choices=PAPERS, default="A4", help="paper size (default: A4)")
    prints.add_argument(
        "--lists", choices=PAPERS, default="", help="paper size of tables (default: as --paper)"
    )
    prints.add_argument(
        "--pages",
        metavar="KINDS",
        default="",
        help="only some kinds of pages, with commas between them, e.g. carpenter,ceilings,walls; "
        "a name that does not exist is answered with those that do (default: all but fixings)",
    )
    prints.add_argument(
        "--rooms", metavar="ROOMS", default="", help="only some rooms, with commas between them"
    )
    prints.add_argument(
        "--scale",
        metavar="1:N",
        default="",
        help="scale of all drawings that fit a page so (default: chosen for each page)",
    )
    prints.add_argument(
        "--fixings", action="store_true", help="with drawings of every fastener and daub"
    )
    prints.add_argument("--date", metavar="YYYY-MM-DD", help="date to print on it (default: today)")
    prints.set_defaults(run=_print)

    _add_export(commands)

    new = commands.add_parser(
        "new",
        help="make a project from rooms measured in one line each",
        description=f"Makes a project from rooms measured in one line each. {_LENGTHS}",
        allow_abbrev=False,
    )
    new.add_argument("file", metavar="FILE", type=Path, help="project file to write")
    new.add_argument(
        "--room",
        action="append",
        required=True,
        metavar="ROOM",
        help='name, sides along x and y, height: "Bedroom 3580 x 3040 h 2400"; may be repeated',
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
    return parser


def _add_export(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    exports = commands.add_parser(
        "export",
        help="write drawings and tables for other programs",
        description="Writes the job as the kind of file that the ending of its name asks for: "
        ".pdf, .svg, .dxf, .png, .xlsx, .csv or .json. Pages as .svg or .png and tables as .csv "
        "are several files: they go in a folder of that name, unless one is chosen.",
        allow_abbrev=False,
    )
    exports.add_argument("file", metavar="FILE", type=Path, help="project file")
    exports.add_argument("--to", metavar="NAME", type=Path, required=True, help="file to write")
    exports.add_argument(
        "--view",
        metavar="DRAWING",
        default="",
        help='one drawing: "opened out", plan, ceiling, "ceiling from below", cut, or a wall\'s '
        "letter",
    )
    exports.add_argument("--room", default="", help="name of the one room wanted")
    exports.add_argument("--page", metavar="NUMBER", type=_page_number, default=0, help="one page")
    exports.add_argument("--table", default="", help="one table, e.g. cut-list")
    exports.add_argument(
        "--paper",
        choices=(*PAPERS, PHONE),
        default="A4",
        help="paper size, or phone for small pages that are read on one (default: A4)",
    )
    exports.add_argument(
        "--date", metavar="YYYY-MM-DD", help="date to print on it (default: today)"
    )
    exports.add_argument(
        "--fixings", action="store_true", help="with drawings of every fastener and daub"
    )
    exports.add_argument(
        "--labels",
        metavar="SHEET",
        nargs="?",
        const=LABELS,
        default="",
        help=f"a label for each piece instead of the set; what they are printed on "
        f"(default: {LABELS})",
    )
    exports.set_defaults(run=_export)


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds < float("inf"):
        raise argparse.ArgumentTypeError(f"“{text}” is no number of seconds above 0")
    return seconds


def _page_number(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not int(text):
        raise argparse.ArgumentTypeError(f"“{text}” is no page; pages are counted from 1")
    return int(text)


# ------------------------------------------------------------------------------ what they share


def _load(path: Path) -> Project:
    """Return the project in a file, or stop with every fault in it."""
    from roomboard.storage.project_file import load

    loaded = load(path)
    if loaded.project is None:
        count = "1 fault" if len(loaded.faults) == 1 else f"{len(loaded.faults)} faults"
        raise _StopError(
            f"roomboard: {path} cannot be used, {count}:",
            *(f"  {fault}" for fault in loaded.faults),
        )
    return loaded.project


def _practice(pack: str) -> "Practice":
    """Return a practice pack, or stop with the names of those there are."""
    from roomboard.storage.catalogue import load_practice, practice_ids

    if pack not in practice_ids():
        raise _StopError(
            f"roomboard: there is no practice pack “{pack}”; "
            f"choose one of {', '.join(practice_ids())}."
        )
    return load_practice(pack)


def _worked_out(path: Path) -> "Scheme":
    """Load a project and work everything out."""
    from roomboard.core.scheme import work_out
    from roomboard.storage.catalogue import load_catalogue

    project, practice = _usable(path)
    return work_out(project, load_catalogue(project.practice), practice)


def _usable(path: Path) -> "tuple[Project, Practice]":
    """Load a project with its pack, or stop with what cannot be used."""
    project = _load(path)
    practice = _practice(project.practice)
    faults = [
        f"  overrides.{key}: “{figure}” is {'a word' if isinstance(figure, str) else 'a number'}, "
        f"but the pack has {practice.figure(key).value} there"
        for key, figure in project.overrides
        if practice.has(key) and not practice.takes(key, figure)
    ]
    if faults:
        raise _StopError(f"roomboard: {path} cannot be used:", *faults)
    return project, practice


def _improved(asked: argparse.Namespace) -> "Scheme":
    """Search for the best set-out and cutting, and say how good what was found is."""
    from time import monotonic

    from roomboard.core.optimum.effort import Effort
    from roomboard.core.optimum.improve import OptimumError, improve
    from roomboard.storage.catalogue import load_catalogue
    from roomboard.storage.project_file import save

    project, practice = _usable(asked.file)
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
        save(error.case, case)
        raise _StopError(
            f"roomboard: a fault of the program: {error} The case is kept in {case}; nothing "
            "else was written."
        ) from None
    best = found.optimum
    print(
        f"{project.name}: costs {best.cost.total:.3f} in m2 of board, usually "
        f"{best.usual.total:.3f}; at most {best.gap:.2%} above the best of the set-outs looked at"
    )
    print(f"{project.name}: bound by {best.how}")
    if asked.adopt:
        _save_chosen(found.project, asked.adopt)
    return found.scheme


def _save_chosen(project: Project, path: Path) -> None:
    from roomboard.storage.project_file import NotSavedError, save

    try:
        save(project, path)
    except NotSavedError as error:
        raise _StopError(f"roomboard: {error}") from None
    print(f"{project.name}: project with the set-outs chosen written to {path}")


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


def _blocks(scheme: "Scheme") -> bool:
    from roomboard.core.findings import Severity

    return any(finding.severity is Severity.BLOCK for finding in scheme.findings)


def _say_written(scheme: "Scheme", path: Path, words: str = "written to") -> None:
    """Say what was written, with a warning if it must not be cut by yet."""
    print(f"{scheme.project.name}: {words} {path}")
    if _blocks(scheme):
        print(
            "roomboard: something blocks this set-out; do not cut by it before that is mended "
            f"(roomboard check says what, and so does {path}).",
            file=sys.stderr,
        )


def _write(path: Path, content: bytes) -> None:
    """Write a file all at once, or stop with the reason."""
    from roomboard.storage.project_file import NotSavedError, write_whole

    try:
        write_whole(path, content)
    except NotSavedError as error:
        raise _StopError(f"roomboard: {error}") from None


def _not_itself(read: Path, written: Path) -> None:
    """Stop before a project is replaced by what is worked out from it."""
    if read.exists() and written.exists() and read.samefile(written):
        raise _StopError(
            f"roomboard: {written} is the project itself; give another name after --to."
        )


def _day(text: str | None) -> str:
    """Return the date to print, as given or today's."""
    if text is None:
        return datetime.now(UTC).astimezone().date().isoformat()
    try:
        if date.fromisoformat(text).isoformat() == text:
            return text
    except ValueError:
        pass
    raise _StopError(f"roomboard: “{text}” is no date; give year-month-day, e.g. 2025-03-31.")


# ------------------------------------------------------------------------------ the commands


def _check(asked: argparse.Namespace) -> int:
    scheme = _worked_out(asked.file)
    _report(scheme.findings, scheme.project, sys.stdout)
    return BLOCKED if _blocks(scheme) else DONE


def _work_out(asked: argparse.Namespace) -> int:
    from roomboard.storage.scheme_file import scheme_text

    _not_itself(asked.file, asked.to)
    plain = asked.effort == "live"
    if plain and (asked.seconds or asked.adopt):
        raise _StopError("roomboard: --seconds and --adopt need --effort thorough or proof.")
    scheme = _worked_out(asked.file) if plain else _improved(asked)
    _write(asked.to, scheme_text(scheme).encode())
    _say_written(scheme, asked.to)
    return DONE


def _print(asked: argparse.Namespace) -> int:
    dated = _day(asked.date)
    _not_itself(asked.file, asked.to)
    project = _load(asked.file)
    choice = _set_choice(asked, project)  # refused before anything is worked out
    scheme = _worked_out(asked.file)

    from roomboard.drawing.sheet_set import sheet_set
    from roomboard.export.pdf import pdf_bytes

    pages = sheet_set(scheme, choice, dated, progress=_progress)
    _write(asked.to, pdf_bytes(pages, _fonts(), progress=_progress))
    _say_written(scheme, asked.to)
    return DONE


def _set_choice(asked: argparse.Namespace, project: Project) -> "SetChoice":
    """Return what of the set is wanted, or stop with what is wrong about it."""
    from roomboard.drawing.paper import paper_named
    from roomboard.drawing.set_choice import SetChoice, kinds_named, rooms_named, scale_named

    try:
        scale = scale_named(asked.scale, paper_named(asked.paper)).ratio if asked.scale else 0.0
        return SetChoice(
            paper=asked.paper,
            lists=asked.lists,
            kinds=kinds_named(asked.pages.split(",")) if asked.pages else (),
            rooms=rooms_named(asked.rooms.split(","), project) if asked.rooms else (),
            scale=scale,
            fixings=asked.fixings,
        )
    except ValueError as refusal:
        raise _StopError(f"roomboard: {refusal}") from None


def _progress(done: int, total: int, words: str) -> None:
    """Show on a terminal how far a long work has come, on one line that is wiped at the end."""
    if not sys.stderr.isatty():
        return
    line = f"{done} of {total}  {words}" if done < total else ""
    print(f"\r{line:<60.60}", end="" if line else "\r", file=sys.stderr, flush=True)


def _fonts() -> "Fonts":
    from roomboard.export.pdf import Fonts
    from roomboard.storage.resources import resource_path

    return Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )


def _export(asked: argparse.Namespace) -> int:
    from roomboard.export.formats import FORMATS

    dated = _day(asked.date)
    _not_itself(asked.file, asked.to)
    ending = asked.to.suffix.lower()
    endings = [*FORMATS, ".json"]
    if ending not in endings:
        raise _StopError(
            f"roomboard: {asked.to} ends in nothing that can be written; "
            f"end the name after --to in one of {', '.join(endings)}."
        )
    scheme = _worked_out(asked.file)
    made = _made(scheme, ending, dated, asked)
    if len(made) == 1 and not made[0].part:
        _write(asked.to, made[0].content)
        _say_written(scheme, asked.to)
    else:
        folder = asked.to.with_suffix("")
        _write_all(folder, {_name_in(folder, file.part, ending): file.content for file in made})
        _say_written(scheme, folder, f"{len(made)} files written to")
    return DONE


def _made(
    scheme: "Scheme", ending: str, dated: str, asked: argparse.Namespace
) -> tuple["Made", ...]:
    """Return what an export asks for, or stop with what there is instead."""
    from roomboard.drawing.paper import PAPERS as SIZES
    from roomboard.export.chosen import NotThereError
    from roomboard.export.formats import Made, Wanted, files_of
    from roomboard.storage.scheme_file import scheme_text

    if ending == ".json":
        for choice in ("view", "room", "page", "table", "labels"):
            if getattr(asked, choice):
                raise _StopError(f"roomboard: --{choice} does not go with .json: it has it all.")
        return (Made(part="", content=scheme_text(scheme).encode()),)
    if asked.labels and (asked.view or ending not in {".pdf", ".svg", ".png"}):
        raise _StopError("roomboard: --labels goes with .pdf, .svg and .png, and without --view.")
    wanted = Wanted(
        paper=SIZES.get(asked.paper, SIZES["A4"]),
        dated=dated,
        view=asked.view,
        room=asked.room,
        page=asked.page,
        table=asked.table,
        fixings=asked.fixings,
    )
    try:
        return files_of(scheme, ending, wanted, lambda: _pages(scheme, dated, asked), _fonts())
    except NotThereError as error:
        raise _StopError(f"roomboard: {error}") from None


def _pages(scheme: "Scheme", dated: str, asked: argparse.Namespace) -> tuple["Page", ...]:
    """Return the pages of the set, of the set for a telephone, or with labels."""
    from roomboard.drawing.labels import label_pages
    from roomboard.drawing.paper import Paper
    from roomboard.drawing.phone_set import phone_set
    from roomboard.drawing.set_choice import SetChoice
    from roomboard.drawing.sheet_set import sheet_set
    from roomboard.export.chosen import rooms_called
    from roomboard.storage.label_sheets import label_sheets

    known = label_sheets()
    rooms = rooms_called(scheme, asked.room)
    if asked.labels:
        sheet = known.sheets.get(asked.labels)
        if sheet is None:
            sheets = "; ".join(f"{s.id} ({s.words})" for s in known.sheets.values())
            raise _StopError(
                f"roomboard: there are no labels “{asked.labels}”; there are {sheets}."
            )
        return label_pages(scheme, sheet, rooms)
    if asked.paper == PHONE:
        system = "metric" if scheme.project.units is Units.METRIC else "imperial"
        page = known.phone
        paper = Paper(name=PHONE, width=page.width, height=page.height, system=system)
        return phone_set(scheme, paper, page.margin, dated, rooms=rooms, fixings=asked.fixings)
    ids = tuple(r.room.id for r in rooms) if asked.room else ()
    choice = SetChoice(paper=asked.paper, rooms=ids, fixings=asked.fixings)
    return sheet_set(scheme, choice, dated)


def _name_in(folder: Path, part: str, ending: str) -> str:
    """Return the name of one of several files: pages after the folder, tables after themselves."""
    return f"{folder.name}-{part}{ending}" if part.isdigit() else f"{part}{ending}"


def _write_all(folder: Path, contents: dict[str, bytes]) -> None:
    """Write files into a folder, or stop; files of another export must not stay among them."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        endings = {Path(name).suffix for name in contents}
        strange = sorted(
            p.name for p in folder.iterdir() if p.suffix in endings and p.name not in contents
        )
    except OSError as error:
        raise _StopError(f"roomboard: {folder} cannot be used ({error.strerror}).") from None
    if strange:
        raise _StopError(
            f"roomboard: the folder {folder} has {strange[0]}, which is not of this export; "
            "take it out, or choose another name after --to."
        )
    for name, content in contents.items():
        _write(folder / name, content)


def _new(asked: argparse.Namespace) -> int:
    from roomboard.core.measure import measured_project, read_joists, read_room
    from roomboard.storage.project_file import write

    practice = _practice(asked.pack)
    units = Units(asked.units) if asked.units else _units_of(practice)
    agrees = practice.mm("tape.agrees")
    read_rooms = [read_room(t, units, i, agrees=agrees) for i, t in enumerate(asked.room, 1)]
    read_zones = [read_joists(text, units) for text in asked.joists]
    studs = read_length(asked.studs, units) if asked.studs else Length(mm=0.0, echo="")
    refused = [read for read in (*read_rooms, *read_zones, studs) if isinstance(read, Refusal)]
    if refused:
        raise _StopError(*(f"roomboard: {refusal.sentence}" for refusal in refused))
    rooms = tuple(read for read in read_rooms if isinstance(read, Room))
    zones = tuple(read for read in read_zones if isinstance(read, JoistZone))
    if len(zones) not in {0, 1, len(rooms)}:
        raise _StopError(
            f"roomboard: there are {len(zones)} --joists for {len(rooms)} --room; "
            "give them once for all rooms, or once for each room in the same order."
        )
    if asked.file.exists() and not asked.replace:
        raise _StopError(
            f"roomboard: {asked.file} is there already; choose another name, or add --replace."
        )
    name = asked.name or asked.file.name.partition(".")[0]
    name = "".join(c if c.isprintable() else " " for c in name).strip() or "Project"
    project = measured_project(
        name,
        rooms,
        zones,
        units,
        practice.id,
        studs.mm if isinstance(studs, Length) else 0.0,
    )
    _write(asked.file, write(project).encode())
    for room in project.rooms:
        print(_understood(room, units))
    print(f"{project.name}: written to {asked.file}")
    return DONE


def _units_of(practice: "Practice") -> Units:
    return Units.METRIC if practice.units == "metric" else Units.FEET_INCHES


def _understood(room: Room, units: Units) -> str:
    """Say what was read of a room, so that a slip of the hand is seen at once."""

    def said(mm: float) -> str:
        return write_length(mm, units, suffix=True)

    xs, ys = ([corner[i] for corner in room.outline] for i in (0, 1))
    sides = f"{said(max(xs) - min(xs))} along x, {said(max(ys) - min(ys))} along y"
    text = f"{room.name}: {sides}, {said(room.height)} high"
    for zone in room.joists:
        text += f"; joists along {'y' if zone.direction_deg else 'x'} at "
        text += ", ".join(said(at) for at in zone.positions) or said(zone.spacing)
        text += f", the first at {said(zone.first)}" if zone.first is not None else ""
        text += f", face {said(zone.face)}" if zone.face else ""
    return text
