"""The printed set and the files made from a scheme: what is asked for, and how each is made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.app import file_makers
from roomboard.app.document import EMPTY, Document, catalogue_of, practice_of
from roomboard.app.making import Step
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.findings import Severity
from roomboard.core.project import Project, Units
from roomboard.core.scheme import Scheme, work_out
from roomboard.drawing.paper import PAPERS, Page
from roomboard.drawing.set_choice import ROOM_KINDS, PageKind, SetChoice

if TYPE_CHECKING:
    from PySide6.QtCore import QSettings


@dataclass(frozen=True, kw_only=True)
class Asked:
    """How the set is to be printed.

    Attributes:
        paper: Name of the paper.
        fixings: Whether drawings of every fastener are added.
        rooms: Ids or names of the rooms whose pages are wanted; empty for all pages.
        dated: Date of issue.
        kinds: The kinds of pages wanted; empty for the usual ones.
        lists: Name of the paper for tables; empty for the one that goes with drawings.
        scale: Ratio of the scale of all drawings; 0 to choose for each page.
        changed_since: Letter of an issue: only sheets changed since; empty for all.
    """

    paper: str
    fixings: bool
    rooms: tuple[str, ...] = ()
    dated: str = ""
    kinds: tuple[PageKind, ...] = ()
    lists: str = ""
    scale: float = 0.0
    changed_since: str = ""

    @property
    def choice(self) -> SetChoice:
        """What of the printed set is wanted; of some rooms, the pages that show rooms."""
        return SetChoice(
            paper=self.paper,
            lists=self.lists,
            kinds=self.kinds or (ROOM_KINDS if self.rooms else ()),
            rooms=self.rooms,
            scale=self.scale,
            fixings=self.fixings,
            changed_since=self.changed_since,
        )

    @property
    def is_part(self) -> bool:
        """Whether pages of the usual set are left out."""
        return bool(self.rooms or self.kinds or self.changed_since)

    def whole(self) -> Asked:
        """Return the same with all pages and rooms."""
        return replace(self, rooms=(), kinds=(), changed_since="")


def today() -> str:
    """Return today's date, year-month-day."""
    return datetime.now(UTC).astimezone().date().isoformat()


def asked_last(
    settings: QSettings, units: Units, project: Project | None = None, path: Path | None = None
) -> Asked:
    """Return how the set was printed last; where it never was, as its units suggest.

    Paper and scale are remembered for all projects, rooms and kinds of pages for each.

    Args:
        settings: Where that is remembered.
        units: The project's units.
        project: The project; rooms that are no longer there are not asked for.
        path: Its file; None if it has none.
    """
    usual = "Letter" if units is Units.FEET_INCHES else "A4"
    paper = str(settings.value("print/paper", usual))
    paper = paper if paper in PAPERS else usual
    lists = str(settings.value("print/lists", ""))
    kinds: tuple[PageKind, ...] = ()
    rooms: tuple[str, ...] = ()
    place = _place(project, path)
    if project is not None and place:
        named = str(settings.value(f"{place}/kinds", "")).split(",")
        kinds = tuple(k for k in PageKind if k.value in named)
        ids = str(settings.value(f"{place}/rooms", "")).split("\n")
        rooms = tuple(r.id for r in project.rooms if r.id in ids)
    return Asked(
        paper=paper,
        fixings=str(settings.value("print/fixings", "false")).lower() == "true",
        rooms=rooms,
        dated=today(),
        kinds=kinds,
        lists=lists if lists in PAPERS else "",
        scale=_scale(str(settings.value("print/scale", "")), paper),
    )


def _scale(ratio: str, paper: str) -> float:
    """Return a ratio that was remembered; 0 if it is none of those that go with a paper."""
    return next((s.ratio for s in PAPERS[paper].scales if f"{s.ratio:g}" == ratio), 0.0)


def _place(project: Project | None, path: Path | None) -> str:
    """Return where something of one job is remembered: no two share a place; empty for nowhere.

    Every job begun on the desk has one and the same id, so that only its file tells it apart.
    """
    if project is None or (path is None and project.id == EMPTY.id):
        return ""
    name = f"{project.id} {path.resolve()}" if path is not None else project.id
    name = "".join(c if c.isalnum() or c in "-_" else f"%{ord(c):x}" for c in name)
    return f"print/of/{name or 'unnamed'}"


def remember(
    settings: QSettings, asked: Asked, project: Project | None = None, path: Path | None = None
) -> None:
    """Remember how the set was printed.

    Args:
        settings: Where.
        asked: How.
        project: The project whose rooms and kinds of pages are remembered; None for none.
        path: Its file; None if it has none.
    """
    settings.setValue("print/paper", asked.paper)
    settings.setValue("print/fixings", "true" if asked.fixings else "false")
    settings.setValue("print/lists", asked.lists)
    settings.setValue("print/scale", f"{asked.scale:g}" if asked.scale else "")
    place = _place(project, path)
    if place:
        settings.setValue(f"{place}/kinds", ",".join(k.value for k in asked.kinds))
        settings.setValue(f"{place}/rooms", "\n".join(asked.rooms))


SchemeOf = Callable[[Step], Scheme]


def scheme_of(document: Document) -> SchemeOf:
    """Return what gives the scheme of the project as it is now, in a thread.

    Args:
        document: The document; not read any more afterwards.
    """
    project = document.project
    known = document.scheme if document.settled and document.shown is project else None

    def give(step: Step) -> Scheme:
        if known is not None:
            return known
        step(tr("Working out the sheets …"), 0, 3)
        return work_out(project, catalogue_of(project.practice), practice_of(project.practice))

    return give


def blocked(scheme: Scheme) -> bool:
    """Tell whether something blocks the set-out."""
    return any(f.severity is Severity.BLOCK for f in scheme.findings)


def pages_of(scheme: Scheme, asked: Asked, step: Step) -> tuple[Page, ...]:
    """Return the pages asked for.

    Args:
        scheme: What was worked out.
        asked: How they are to be.
        step: Called before they are made.
    """
    from roomboard.drawing.sheet_set import sheet_set

    def drawn(done: int, total: int, words: str) -> None:
        step(words or tr("Drawing the pages …"), done, total + 1)

    try:
        pages = sheet_set(scheme, asked.choice, asked.dated, progress=drawn)
    except EditError as refusal:
        raise ValueError(refusal.said(scheme.project.units)) from None
    if not pages and asked.changed_since:
        raise ValueError(
            tr(
                "Nothing has changed since issue {letter}; there is nothing to print.",
                letter=asked.changed_since,
            )
        )
    return pages


# --- files --------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Exporter:
    """A kind of file that can be written from a scheme.

    Attributes:
        id: Stable name.
        words: What the menu says.
        ending: What its files end in, with the dot.
        kind: What its files are called.
        make: Gives the content of the file.
        tip: One sentence.
        as_printed: Whether only the pages and rooms chosen for printing are written.
    """

    id: str
    words: str
    ending: str
    kind: str
    make: Callable[[Scheme, Asked, Step], bytes]
    tip: str = ""
    as_printed: bool = False


@dataclass(frozen=True, kw_only=True)
class FolderExporter:
    """A kind of files of which several are written, in a folder of their own.

    Attributes:
        id: Stable name.
        words: What the menu says.
        ending: What its files end in, with the dot; the folder is named after it.
        make: Gives the content of each file by what tells it from the others.
        tip: One sentence.
        as_printed: Whether only the pages and rooms chosen for printing are written.
    """

    id: str
    words: str
    ending: str
    make: Callable[[Scheme, Asked, Step], dict[str, bytes]]
    tip: str
    as_printed: bool = False


def _pdf(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    from roomboard.export.pdf import Fonts, pdf_bytes
    from roomboard.storage.resources import resource_path

    pages = pages_of(scheme, asked, step)
    fonts = Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )
    return pdf_bytes(pages, fonts)


def _worked_out(scheme: Scheme, _asked: Asked, _step: Step) -> bytes:
    from roomboard.storage.scheme_file import scheme_text

    return scheme_text(scheme).encode()


PDF = Exporter(
    id="pdf",
    words="Cut sheet and order (PDF)…",
    ending=".pdf",
    kind="PDF",
    make=_pdf,
    tip="Write the printed set to a file.",
    as_printed=True,
)
EXPORTERS = (
    PDF,
    Exporter(
        id="worked_out",
        words="Worked-out data (JSON)…",
        ending=".worked-out.json",
        kind="JSON",
        make=_worked_out,
        tip="Write pieces, joints, fasteners, cuts, order and findings for other programs.",
    ),
    Exporter(
        id="workbook",
        words="Order and cut list (XLSX)…",
        ending=".xlsx",
        kind="XLSX",
        make=file_makers.workbook,
        tip="Write order, cut list, quantities with their formulas, findings and rooms.",
    ),
    Exporter(
        id="order_csv",
        words="Order (CSV)…",
        ending=".order.csv",
        kind="CSV",
        make=file_makers.order,
        tip="Write what to buy as plain lines of text.",
    ),
    Exporter(
        id="cut_list_csv",
        words="Cut list (CSV)…",
        ending=".cut-list.csv",
        kind="CSV",
        make=file_makers.cut_list,
        tip="Write every piece as plain lines of text.",
    ),
    Exporter(
        id="dxf",
        words="Surfaces at 1:1 (DXF)…",
        ending=".dxf",
        kind="DXF",
        make=file_makers.dxf,
        tip="Write every surface for drawing programs, a layer for each trade's lines.",
    ),
    Exporter(
        id="svg",
        words="Surfaces as one drawing (SVG)…",
        ending=".svg",
        kind="SVG",
        make=file_makers.svg,
        tip="Write every surface as one drawing that can be enlarged.",
    ),
    Exporter(
        id="png",
        words="Surfaces as one picture (PNG)…",
        ending=".png",
        kind="PNG",
        make=file_makers.png,
        tip="Write every surface as one picture for a message or a screen.",
    ),
    Exporter(
        id="labels",
        words="Labels for the pieces (PDF)…",
        ending=".labels.pdf",
        kind="PDF",
        make=file_makers.labels,
        tip="Write a label for each piece, for a printer with sheets of labels.",
    ),
    Exporter(
        id="phone",
        words="Set for a telephone (PDF)…",
        ending=".phone.pdf",
        kind="PDF",
        make=file_makers.phone,
        tip="Write small pages to be read on a telephone, a surface on each.",
        as_printed=True,
    ),
)
"""Every kind of file that can be written, in the menu's order."""


def _page_files(draw: str) -> Callable[[Scheme, Asked, Step], dict[str, bytes]]:
    def make(scheme: Scheme, asked: Asked, step: Step) -> dict[str, bytes]:
        return file_makers.page_files(pages_of(scheme, asked, step), draw, step)

    return make


def _surface_files(draw: str) -> Callable[[Scheme, Asked, Step], dict[str, bytes]]:
    def make(scheme: Scheme, asked: Asked, step: Step) -> dict[str, bytes]:
        return file_makers.surface_files(scheme, asked, draw, step)

    return make


def _table_files(scheme: Scheme, _: Asked, step: Step) -> dict[str, bytes]:
    return file_makers.table_files(scheme, step)


FOLDER_EXPORTERS = (
    FolderExporter(
        id="tables_csv",
        words="Every table, a file each (CSV)…",
        ending=".csv",
        make=_table_files,
        tip="Write order, cut list, quantities, findings and the other tables into a folder.",
    ),
    FolderExporter(
        id="pages_svg",
        words="Pages, a drawing each (SVG)…",
        ending=".svg",
        make=_page_files(".svg"),
        tip="Write every page of the printed set as a drawing of its own, into a folder.",
        as_printed=True,
    ),
    FolderExporter(
        id="pages_png",
        words="Pages, a picture each (PNG)…",
        ending=".png",
        make=_page_files(".png"),
        tip="Write every page of the printed set as a picture of its own, into a folder.",
        as_printed=True,
    ),
    FolderExporter(
        id="each_dxf",
        words="Surfaces, a file each (DXF)…",
        ending=".dxf",
        make=_surface_files(".dxf"),
        tip="Write every surface at 1:1 as a file of its own, into a folder.",
    ),
    FolderExporter(
        id="each_svg",
        words="Surfaces, a drawing each (SVG)…",
        ending=".svg",
        make=_surface_files(".svg"),
        tip="Write every surface as a drawing of its own, into a folder.",
    ),
    FolderExporter(
        id="each_png",
        words="Surfaces, a picture each (PNG)…",
        ending=".png",
        make=_surface_files(".png"),
        tip="Write every surface as a picture of its own, into a folder.",
    ),
)
"""Every kind of files of which several are written at once, in the menu's order."""
