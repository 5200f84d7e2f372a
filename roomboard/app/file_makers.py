"""What the exporters of the desk write, made from a scheme off the window's thread."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.words import tr
from roomboard.core.project import Units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.app.making import Step
    from roomboard.app.pages import Asked
    from roomboard.core.scheme import Scheme
    from roomboard.drawing.paper import Page
    from roomboard.drawing.view import View
    from roomboard.export.pdf import Fonts
    from roomboard.export.picture import Picture

METRIC_LABELS, INCH_LABELS = "a4-3x8", "letter-3x10"
"""The sheets of labels that go with each kind of units."""

LARGER, SMALLER = 24.0, 48.0
"""Scales of drawings of all surfaces: to be enlarged at will, and as a picture of so many dots."""


def fonts() -> Fonts:
    """Return the bundled font."""
    from roomboard.export.pdf import Fonts
    from roomboard.storage.resources import resource_path

    return Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )


def workbook(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    """Return order, cut list, quantities, findings and rooms as a workbook."""
    from roomboard.export.xlsx import xlsx_bytes

    step(tr("Writing the tables …"), 1, 3)
    return xlsx_bytes(scheme, asked.dated, asked.paper)


def order(scheme: Scheme, _asked: Asked, _step: Step) -> bytes:
    """Return the order as lines of text."""
    return _table(scheme, "order")


def cut_list(scheme: Scheme, _asked: Asked, _step: Step) -> bytes:
    """Return every piece as a line of text."""
    return _table(scheme, "cut-list")


def _table(scheme: Scheme, name: str) -> bytes:
    from roomboard.export.csv_files import csv_bytes
    from roomboard.export.tables import table_of

    return csv_bytes(table_of(scheme, name))


def _surfaces(
    scheme: Scheme, asked: Asked, step: Step, largest: float = LARGER
) -> tuple[str, View]:
    from roomboard.drawing.paper import paper_named
    from roomboard.export.chosen import Surfaces, all_surfaces

    step(tr("Drawing the surfaces …"), 1, 3)
    wanted = Surfaces(rooms=asked.rooms, fixings=asked.fixings)
    found = all_surfaces(scheme, wanted, paper_named(asked.paper), largest)
    step(tr("Drawing the surfaces …"), 2, 3)
    return found


def dxf(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    """Return every surface for drawing programs."""
    from roomboard.export.chosen import piece_data
    from roomboard.export.dxf import dxf_bytes

    title, view = _surfaces(scheme, asked, step)
    return dxf_bytes(view, piece_data(scheme), title)


def svg(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    """Return every surface as one drawing."""
    from roomboard.export.picture import picture_of_view
    from roomboard.export.svg import svg_bytes

    title, view = _surfaces(scheme, asked, step)
    return svg_bytes(picture_of_view(view, title))


def png(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    """Return every surface as one picture."""
    from roomboard.export.picture import picture_of_view
    from roomboard.export.png import png_bytes

    title, view = _surfaces(scheme, asked, step, SMALLER)
    return png_bytes(picture_of_view(view, title), fonts())


def labels(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    """Return a label for each piece."""
    from roomboard.drawing.labels import label_pages
    from roomboard.export.chosen import Surfaces
    from roomboard.export.pdf import pdf_bytes
    from roomboard.storage.label_sheets import label_sheets

    step(tr("Drawing the labels …"), 1, 3)
    metric = scheme.project.units is Units.METRIC
    sheet = label_sheets().sheets[METRIC_LABELS if metric else INCH_LABELS]
    pages = label_pages(scheme, sheet, Surfaces(rooms=asked.rooms).rooms_of(scheme))
    if not pages:
        raise ValueError(tr("There are no pieces to label yet; measure a room first."))
    return pdf_bytes(pages, fonts())


def phone(scheme: Scheme, asked: Asked, step: Step) -> bytes:
    """Return the set as small pages."""
    from roomboard.drawing.paper import Paper
    from roomboard.drawing.phone_set import phone_set
    from roomboard.export.chosen import Surfaces
    from roomboard.export.pdf import pdf_bytes
    from roomboard.storage.label_sheets import label_sheets

    step(tr("Drawing the pages …"), 1, 3)
    small = label_sheets().phone
    system = "metric" if scheme.project.units is Units.METRIC else "imperial"
    paper = Paper(name="phone", width=small.width, height=small.height, system=system)
    pages = phone_set(
        scheme,
        paper,
        small.margin,
        asked.dated,
        rooms=Surfaces(rooms=asked.rooms).rooms_of(scheme),
        fixings=asked.fixings,
        kinds=asked.kinds,
    )
    return pdf_bytes(pages, fonts())


def page_files(pages: Sequence[Page], ending: str, step: Step) -> dict[str, bytes]:
    """Return each page as a drawing or a picture of its own, by its number.

    Args:
        pages: The pages.
        ending: ``".svg"`` or ``".png"``.
        step: Told before each page.
    """
    from roomboard.export.picture import picture_of_page

    digits = len(str(len(pages)))
    found: dict[str, bytes] = {}
    for number, page in enumerate(pages):
        step(tr("Writing page {number} …", number=page.number), number, len(pages))
        found[f"{page.number:0{digits}}"] = _drawn(picture_of_page(page), ending)
    return found


def table_files(scheme: Scheme, step: Step) -> dict[str, bytes]:
    """Return every table as plain lines of text, by its name; changes where any were issued.

    Args:
        scheme: What was worked out.
        step: Told before each table.
    """
    from roomboard.export.tables import tables_of

    names = tables_of(scheme.project)
    found: dict[str, bytes] = {}
    for number, name in enumerate(names):
        step(tr("Writing the tables …"), number, len(names))
        found[name] = _table(scheme, name)
    return found


def surface_files(scheme: Scheme, asked: Asked, ending: str, step: Step) -> dict[str, bytes]:
    """Return each surface as a drawing of its own, by the names of its room and itself.

    Args:
        scheme: What was worked out.
        asked: Paper, rooms and scale.
        ending: ``".dxf"``, ``".svg"`` or ``".png"``.
        step: Told before each surface.
    """
    from roomboard.drawing.paper import paper_named
    from roomboard.export.chosen import Surfaces, each_surface, piece_data
    from roomboard.export.dxf import dxf_bytes
    from roomboard.export.picture import picture_of_view

    wanted = Surfaces(rooms=asked.rooms, scale=asked.scale, fixings=asked.fixings)
    drawn = each_surface(scheme, wanted, paper_named(asked.paper), step)
    pieces = piece_data(scheme)
    found: dict[str, bytes] = {}
    for number, one in enumerate(drawn):
        step(one.title, number, len(drawn))
        if ending == ".dxf":
            found[one.part] = dxf_bytes(one.view, pieces, one.title)
        else:
            found[one.part] = _drawn(picture_of_view(one.view, one.title), ending)
    return found


def _drawn(picture: Picture, ending: str) -> bytes:
    from roomboard.export.png import png_bytes
    from roomboard.export.svg import svg_bytes

    return svg_bytes(picture) if ending == ".svg" else png_bytes(picture, fonts())
