"""The command that writes files for other programs."""

import argparse
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.cli.defaults import LABELS, PAPERS, PHONE
from roomboard.cli.printing import add_page_choices, fonts, say_nothing_new, set_choice_of
from roomboard.cli.projects import (
    day_of,
    not_itself,
    say_progress,
    say_written,
    scheme_of,
    usable,
    write_file,
)
from roomboard.cli.stopping import DONE, NothingNewError, StopError
from roomboard.core.project import Project, Units

if TYPE_CHECKING:
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.labels import LabelSheet
    from roomboard.drawing.paper import Page
    from roomboard.drawing.set_choice import SetChoice
    from roomboard.export.formats import Made, Wanted

JSON = ".json"
"""What ends the name of everything that is worked out, as data."""
NO_JSON = ("view", "room", "page", "table", "labels", "rooms", "pages", "lists", "scale", "each")
NO_LABELS = ("pages", "lists", "scale", "fixings")
NO_PHONE = ("lists", "scale", "each")
"""Choices that do not go with .json, with labels and with the set for a telephone."""


def add_exporting(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command that writes files for other programs."""
    exports = commands.add_parser(
        "export",
        help="write drawings and tables for other programs",
        description="Writes the job as the kind of file that the ending of its name asks for: "
        ".pdf, .svg, .dxf, .png, .xlsx, .csv or .json. Pages as .svg or .png, surfaces with --each "
        "and tables as .csv are several files: they go in a folder of that name, unless one is "
        "chosen.",
        allow_abbrev=False,
    )
    exports.add_argument("file", metavar="FILE", type=Path, help="project file")
    exports.add_argument("--to", metavar="NAME", type=Path, required=True, help="file to write")
    exports.add_argument(
        "--view",
        metavar="DRAWING",
        default="",
        help='one drawing: "opened out", plan, ceiling, "ceiling from below", cut, or a wall\'s '
        'letter; add ", second layer" for the other of two',
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
    add_page_choices(exports)
    exports.add_argument(
        "--each",
        action="store_true",
        help="each surface in a file of its own (.svg, .png and .dxf)",
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


def _page_number(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not int(text):
        raise argparse.ArgumentTypeError(f"“{text}” is no page; pages are counted from 1")
    return int(text)


def _export(asked: argparse.Namespace) -> int:
    from roomboard.export.formats import FORMATS

    dated = day_of(asked.date)
    not_itself(asked.file, asked.to)
    ending = asked.to.suffix.lower()
    endings = [*FORMATS, JSON]
    if ending not in endings:
        raise StopError(
            f"roomboard: {asked.to} ends in nothing that can be written; "
            f"end the name after --to in one of {', '.join(endings)}."
        )
    if asked.changed_since and (
        ending not in {".pdf", ".svg", ".png"}
        or asked.view
        or asked.labels
        or asked.each
        or asked.paper == PHONE
    ):
        raise StopError(
            "roomboard: --changed-since chooses among the sheets of the printed set: it goes with "
            ".pdf, .svg and .png, without --view, --each, --labels and --paper phone."
        )
    project, practice = usable(asked.file)
    wanted, choice = _wanted(project, ending, dated, asked)  # refused before all is worked out
    scheme = scheme_of(project, practice)
    try:
        made = _made(scheme, ending, wanted, choice, asked)
    except NothingNewError as same:
        return say_nothing_new(project, str(same))
    if len(made) == 1 and not made[0].part:
        write_file(asked.to, made[0].content)
        say_written(scheme, asked.to)
    else:
        folder = asked.to.with_suffix("")
        _write_all(folder, {_name_in(folder, file.part, ending): file.content for file in made})
        say_written(scheme, folder, f"{len(made)} files written to")
    return DONE


def _wanted(
    project: Project, ending: str, dated: str, asked: argparse.Namespace
) -> "tuple[Wanted, SetChoice]":
    """Return what an export asks for, or stop with what does not go together."""
    from roomboard.drawing.paper import PAPERS as SIZES
    from roomboard.export.chosen import NotThereError
    from roomboard.export.formats import Wanted, check_choices, check_table

    if asked.labels and (asked.view or asked.each or ending not in {".pdf", ".svg", ".png", JSON}):
        raise StopError(
            "roomboard: --labels goes with .pdf, .svg and .png, and without --view and --each."
        )
    for names, words in (
        (NO_JSON if ending == JSON else (), "--{} does not go with .json: it has it all."),
        (NO_LABELS if asked.labels else (), "--{} does not go with --labels."),
        (
            NO_PHONE if asked.paper == PHONE else (),
            f"--{{}} does not go with --paper {PHONE}.",
        ),
    ):
        for name in names:
            if getattr(asked, name):
                raise StopError(f"roomboard: {words.format(name)}")
    if asked.labels:
        _label_sheet(asked.labels)
    choice = set_choice_of(asked, project)
    wanted = Wanted(
        paper=SIZES.get(asked.paper, SIZES["A4"]),
        dated=dated,
        view=asked.view,
        room=asked.room,
        page=asked.page,
        table=asked.table,
        fixings=asked.fixings,
        rooms=choice.rooms,
        kinds=choice.kinds,
        lists=choice.lists,
        scale=choice.scale,
        each=asked.each,
    )
    try:
        if ending != JSON:
            check_choices(ending, wanted)
            check_table(project, wanted)
    except NotThereError as error:
        raise StopError(f"roomboard: {error}") from None
    return wanted, choice


def _made(
    scheme: "Scheme",
    ending: str,
    wanted: "Wanted",
    choice: "SetChoice",
    asked: argparse.Namespace,
) -> tuple["Made", ...]:
    """Return the files of an export, or stop with what there is instead."""
    from roomboard.export.chosen import NotThereError
    from roomboard.export.formats import Made, files_of
    from roomboard.storage.scheme_file import scheme_text

    if ending == JSON:
        return (Made(part="", content=scheme_text(scheme).encode()),)
    try:
        pages = _pages(scheme, wanted.dated, asked, choice)
        return files_of(scheme, ending, wanted, pages, fonts())
    except NotThereError as error:
        raise StopError(f"roomboard: {error}") from None


def _pages(
    scheme: "Scheme", dated: str, asked: argparse.Namespace, choice: "SetChoice"
) -> "Callable[[], tuple[Page, ...]]":
    """Return what makes the pages of the set, of the set for a telephone, or with labels."""
    from roomboard.drawing.labels import label_pages
    from roomboard.drawing.paper import Paper
    from roomboard.drawing.phone_set import phone_set
    from roomboard.drawing.sheet_set import sheet_set
    from roomboard.export.chosen import Surfaces
    from roomboard.storage.label_sheets import label_sheets

    known = label_sheets()
    named = (asked.room,) if asked.room else choice.rooms

    def labels() -> "tuple[Page, ...]":
        rooms = Surfaces(rooms=named).rooms_of(scheme)
        return label_pages(scheme, _label_sheet(asked.labels), rooms)

    def small() -> "tuple[Page, ...]":
        rooms = Surfaces(rooms=named).rooms_of(scheme)
        system = "metric" if scheme.project.units is Units.METRIC else "imperial"
        page = known.phone
        paper = Paper(name=PHONE, width=page.width, height=page.height, system=system)
        return phone_set(
            scheme,
            paper,
            page.margin,
            dated,
            rooms=rooms,
            fixings=asked.fixings,
            kinds=choice.kinds,
        )

    def whole() -> "tuple[Page, ...]":
        rooms = Surfaces(rooms=named).rooms_of(scheme)
        ids = tuple(r.room.id for r in rooms) if named else ()
        pages = sheet_set(scheme, replace(choice, rooms=ids), dated, progress=say_progress)
        if choice.changed_since and not pages:
            raise NothingNewError(choice.changed_since)
        return pages

    if asked.labels:
        return labels
    return small if asked.paper == PHONE else whole


def _label_sheet(name: str) -> "LabelSheet":
    """Return a sheet of labels by its name, or stop with those there are."""
    from roomboard.storage.label_sheets import label_sheets

    known = label_sheets().sheets
    if name not in known:
        sheets = "; ".join(f"{s.id} ({s.words})" for s in known.values())
        raise StopError(f"roomboard: there are no labels “{name}”; there are {sheets}.")
    return known[name]


def _name_in(folder: Path, part: str, ending: str) -> str:
    """Return the name of one of several files: pages after the folder, tables after themselves."""
    return f"{folder.name}-{part}{ending}" if part.isdigit() else f"{part}{ending}"


def _write_all(folder: Path, contents: dict[str, bytes]) -> None:
    """Write files into a folder, or stop; files of another export must not stay among them."""
    from roomboard.storage.folders import write_folder
    from roomboard.storage.whole_file import NotSavedError

    try:
        write_folder(folder, contents)
    except NotSavedError as error:
        raise StopError(f"roomboard: {error}") from None
