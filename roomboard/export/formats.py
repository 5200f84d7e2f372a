"""Which file an ending asks for, and what is made for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.project import Project
from roomboard.core.scheme import Scheme
from roomboard.drawing.displaylist import placed
from roomboard.drawing.paper import Page, Paper
from roomboard.drawing.set_choice import PageKind
from roomboard.export.chosen import (
    SURFACE_KINDS,
    NotThereError,
    Surfaces,
    all_surfaces,
    each_surface,
    piece_data,
    view_named,
)
from roomboard.export.csv_files import csv_bytes
from roomboard.export.dxf import dxf_bytes
from roomboard.export.pdf import pdf_bytes
from roomboard.export.picture import EDGE, Picture, picture_of_page, picture_of_view
from roomboard.export.png import png_bytes
from roomboard.export.svg import svg_bytes
from roomboard.export.tables import table_of, tables_of
from roomboard.export.xlsx import xlsx_bytes

if TYPE_CHECKING:
    from roomboard.drawing.view import View
    from roomboard.export.pdf import Fonts

Pages = Callable[[], tuple[Page, ...]]
"""Makes the pages that are to be written, when they are wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is to be written.

    Attributes:
        paper: The paper that drawings are to fit.
        dated: Date of issue, year-month-day.
        view: Name of the one drawing wanted; empty for pages, or for all surfaces.
        room: Name or id of the one room wanted, or empty; whoever makes the pages heeds it too.
        page: Number of the one page wanted; 0 for all.
        table: Name of the one table wanted; empty for all.
        fixings: Whether drawings show every fastener and daub.
        rooms: Ids or names of the rooms wanted, where no one room is; empty for all.
        kinds: The kinds of pages wanted; empty for the usual ones.
        lists: Name of the paper of tables; empty for what goes with drawings. Whoever makes pages
            heeds it.
        scale: The one ratio wanted; 0 to choose.
        each: Whether each surface stands in a file of its own.
    """

    paper: Paper
    dated: str
    view: str = ""
    room: str = ""
    page: int = 0
    table: str = ""
    fixings: bool = False
    rooms: tuple[str, ...] = ()
    kinds: tuple[PageKind, ...] = ()
    lists: str = ""
    scale: float = 0.0
    each: bool = False

    @property
    def table_name(self) -> str:
        """The table wanted by its stable name; empty for all."""
        return self.table.strip().casefold().replace(" ", "-")

    @property
    def choices(self) -> dict[str, bool]:
        """Whether each choice that does not go with every kind of file was made, by its name."""
        return {
            "view": bool(self.view),
            "room": bool(self.room),
            "page": bool(self.page),
            "table": bool(self.table),
            "rooms": bool(self.rooms),
            "pages": bool(self.kinds),
            "lists": bool(self.lists),
            "scale": bool(self.scale),
            "each": self.each,
        }

    @property
    def surfaces(self) -> Surfaces:
        """Which surfaces are to be drawn."""
        return Surfaces(
            rooms=(self.room,) if self.room else self.rooms,
            kinds=self.kinds,
            scale=self.scale,
            fixings=self.fixings,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One file's content.

    Attributes:
        part: What tells it from the others of one export: the number of a page, the name of a
            table; empty where there is only one.
        content: Its bytes.
    """

    part: str
    content: bytes


@dataclass(frozen=True, slots=True)
class _Job:
    """A scheme, what is wanted of it, its pages and the font."""

    scheme: Scheme
    wanted: Wanted
    pages: Pages
    fonts: Fonts

    def view(self) -> tuple[str, View]:
        wanted = self.wanted
        return view_named(
            self.scheme, wanted.view, wanted.room, wanted.paper, fixings=wanted.fixings
        )

    def chosen_pages(self) -> tuple[Page, ...]:
        """Return the pages wanted.

        Raises:
            NotThereError: If there is no such page.
        """
        pages = self.pages()
        wanted = self.wanted
        if not pages:
            raise NotThereError("There is nothing to print yet: measure a room first.")
        if wanted.page:
            found = tuple(p for p in pages if p.number == wanted.page)
            if not found:
                raise NotThereError(f"There is no page {wanted.page}; there are {len(pages)}.")
            return found
        return pages


# --- makers -----------------------------------------------------------------------------------


def _pdf(job: _Job) -> tuple[Made, ...]:
    pages = (_page_of(*job.view()),) if job.wanted.view else job.chosen_pages()
    return (Made(part="", content=pdf_bytes(pages, job.fonts)),)


def _page_of(title: str, view: View) -> Page:
    """Return a view as a page of its own size."""
    x0, y0, x1, y1 = view.bounds
    width = (x1 - x0) / view.scale + 2 * EDGE
    height = (y1 - y0) / view.scale + 2 * EDGE
    dx, dy = EDGE - x0 / view.scale, EDGE - y0 / view.scale
    return Page(
        number=1,
        title=title,
        room="",
        width=width,
        height=height,
        frame=(0.0, 0.0, width, height),
        marks=placed(view.marks, view.scale, dx, dy),
        document=title,
        creator="roomboard",
    )


def _pictures(job: _Job, draw: Callable[[Picture], bytes]) -> tuple[Made, ...]:
    if job.wanted.view:
        title, view = job.view()
        return (Made(part="", content=draw(picture_of_view(view, title))),)
    if job.wanted.each:
        return tuple(
            Made(part=one.part, content=draw(picture_of_view(one.view, one.title)))
            for one in each_surface(job.scheme, job.wanted.surfaces, job.wanted.paper)
        )
    pages = job.chosen_pages()
    if job.wanted.page:
        return (Made(part="", content=draw(picture_of_page(pages[0]))),)
    digits = len(str(max((p.number for p in pages), default=0)))
    return tuple(
        Made(part=f"{p.number:0{digits}}", content=draw(picture_of_page(p))) for p in pages
    )


def _svg(job: _Job) -> tuple[Made, ...]:
    return _pictures(job, svg_bytes)


def _png(job: _Job) -> tuple[Made, ...]:
    return _pictures(job, lambda picture: png_bytes(picture, job.fonts))


def _dxf(job: _Job) -> tuple[Made, ...]:
    wanted = job.wanted
    pieces = piece_data(job.scheme)
    if wanted.each:
        return tuple(
            Made(part=one.part, content=dxf_bytes(one.view, pieces, one.title))
            for one in each_surface(job.scheme, wanted.surfaces, wanted.paper)
        )
    if wanted.view:
        title, view = job.view()
    else:
        title, view = all_surfaces(job.scheme, wanted.surfaces, wanted.paper)
    return (Made(part="", content=dxf_bytes(view, pieces, title)),)


def _xlsx(job: _Job) -> tuple[Made, ...]:
    wanted = job.wanted
    return (Made(part="", content=xlsx_bytes(job.scheme, wanted.dated, wanted.paper.name)),)


def _csv(job: _Job) -> tuple[Made, ...]:
    name = job.wanted.table_name
    if name:
        return (Made(part="", content=csv_bytes(table_of(job.scheme, name))),)
    known = tables_of(job.scheme.project)
    return tuple(Made(part=name, content=csv_bytes(table_of(job.scheme, name))) for name in known)


# --- endings ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """A kind of file.

    Attributes:
        words: What it is, in a few words.
        takes: Which of the choices of :attr:`Wanted.choices` go with it.
        make: Makes it.
    """

    words: str
    takes: frozenset[str]
    make: Callable[[_Job], tuple[Made, ...]]


_PRINTED = frozenset({"view", "room", "page", "rooms", "pages", "lists", "scale"})
_DRAWN = _PRINTED | {"each"}
_SURFACES = frozenset({"view", "room", "rooms", "pages", "scale", "each"})
ALONE = {
    "view": ("page", "pages", "lists", "scale", "rooms", "each"),
    "page": ("each",),
    "room": ("rooms",),
    "each": ("lists",),
}
"""Choices that exclude each other."""
FORMATS: dict[str, Format] = {
    ".pdf": Format(words="the printed set", takes=_PRINTED, make=_pdf),
    ".svg": Format(words="pages or one drawing", takes=_DRAWN, make=_svg),
    ".dxf": Format(words="surfaces 1:1 in mm", takes=_SURFACES, make=_dxf),
    ".png": Format(words="pages or one drawing as pictures", takes=_DRAWN, make=_png),
    ".xlsx": Format(words="order, cut list and quantities", takes=frozenset(), make=_xlsx),
    ".csv": Format(words="the same tables", takes=frozenset({"table"}), make=_csv),
}
"""Every kind of file by its ending."""


def files_of(
    scheme: Scheme, ending: str, wanted: Wanted, pages: Pages, fonts: Fonts
) -> tuple[Made, ...]:
    """Return the files that an ending asks for.

    Args:
        scheme: The whole answer.
        ending: One of :data:`FORMATS`.
        wanted: What is to be written.
        pages: Makes the pages, for the formats that are made of pages.
        fonts: The bundled font.

    Raises:
        NotThereError: If what is wanted is not there, or does not go with the ending; the text
            says how to mend it.
    """
    check_choices(ending, wanted)
    check_table(scheme.project, wanted)
    return FORMATS[ending].make(_Job(scheme, wanted, pages, fonts))


def check_choices(ending: str, wanted: Wanted) -> None:
    """Refuse choices that do not go with a kind of file, or with each other.

    Args:
        ending: One of :data:`FORMATS`.
        wanted: What is to be written.

    Raises:
        NotThereError: If there are such; the text says how to mend it.
    """
    kind = FORMATS[ending]
    made = {choice for choice, is_made in wanted.choices.items() if is_made}
    for choice in wanted.choices:
        if choice in made and choice not in kind.takes:
            fitting = ", ".join(e for e, f in FORMATS.items() if choice in f.takes)
            raise NotThereError(f"--{choice} goes with {fitting}, not with {ending}.")
    for choice, others in ALONE.items():
        for other in others:
            if {choice, other} <= made:
                raise NotThereError(f"--{other} does not go with --{choice}: leave one out.")
    if (wanted.each or ending == ".dxf") and made >= {"pages"}:
        _check_surface_kinds(wanted)


def check_table(project: Project, wanted: Wanted) -> None:
    """Refuse a table that there is not.

    Raises:
        NotThereError: If there is no such table; the text names those there are.
    """
    known = tables_of(project)
    if wanted.table and wanted.table_name not in known:
        raise NotThereError(
            f"There is no table “{wanted.table}”; the tables are {', '.join(known)}."
        )


def _check_surface_kinds(wanted: Wanted) -> None:
    """Refuse kinds of pages that show no surfaces one by one.

    Raises:
        NotThereError: If there is one; the text names those that do.
    """
    known = (*SURFACE_KINDS, PageKind.FIXINGS)
    strange = [k.value for k in wanted.kinds if k not in known]
    if strange:
        raise NotThereError(
            f"There are no surfaces on pages called {strange[0]!r}; for drawings of surfaces use "
            f"{', '.join(k.value for k in known)}."
        )
