"""The printed set: to a file, to a printer, on the screen; the same pages everywhere."""

import json
import shutil
import subprocess
import threading
import time
from dataclasses import replace

import pytest
import shiboken6
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QFileDialog

from roomboard.app import pages, printing, workings
from roomboard.app.asking import Progress, asking_of
from roomboard.app.canvas.on_paper import paint_page
from roomboard.app.dialogs import preview
from roomboard.app.dialogs.preview import Preview
from roomboard.app.document import Document
from roomboard.app.making import making_of
from roomboard.app.pages import (
    EXPORTERS,
    FOLDER_EXPORTERS,
    PDF,
    asked_last,
    blocked,
    pages_of,
    remember,
)
from roomboard.drawing.paper import PAPERS, Page
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_set import sheet_set
from roomboard.export.pdf import Fonts, pdf_bytes
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files, resource_path

PATIENCE = 20_000


@pytest.fixture
def window(open_window, settle):
    """One room of the demo project on the desk."""
    (path,) = resource_files("demo", ".roomboard.json")
    project = load(path).project
    opened = open_window(Document(replace(project, rooms=project.rooms[:1])))
    settle(opened)
    return opened


def blocks(project):
    """Return the project with a ceiling board that no stock has."""
    return replace(project, choices=replace(project.choices, ceiling_board="none-such"))


def tool(name, *words):
    """Run a reader of PDF files and return what it says."""
    found = shutil.which(name)
    if found is None:
        pytest.skip(f"{name} is not installed")
    done = subprocess.run([found, *map(str, words)], capture_output=True, check=True, text=True)
    return done.stdout


def choose(qtbot, window, path):
    dialog = window.findChild(QFileDialog, "ask_where")
    assert dialog is not None
    qtbot.waitUntil(dialog.isVisible)
    dialog.selectFile(str(path))
    dialog.accept()


def wait(qtbot, window):
    qtbot.waitUntil(lambda: not making_of(window).busy, timeout=PATIENCE)


def expected_pdf(window, paper, *, fixings=False):
    set_of = sheet_set(window.document.scheme, paper, pages.today(), fixings=fixings)
    fonts = Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )
    return pdf_bytes(set_of, fonts)


# --- files --------------------------------------------------------------------------------


def test_the_pdf_by_key_is_what_the_command_line_prints(qtbot, window, tmp_path):
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    qtbot.keyClick(window.canvas, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    path = tmp_path / "set.pdf"
    choose(qtbot, window, path)
    wait(qtbot, window)
    assert path.read_bytes() == expected_pdf(window, "A4")
    assert str(path) in window.statusBar().currentMessage()


def test_the_ending_is_added(qtbot, window, tmp_path):
    window.bar.actions["print.pdf"].trigger()
    choose(qtbot, window, tmp_path / "set")
    wait(qtbot, window)
    assert (tmp_path / "set.pdf").exists()


def test_an_edit_not_worked_out_yet_is_printed_all_the_same(qtbot, window, tmp_path):
    document = window.document
    document.edit("name", replace(document.project, name="Renamed a moment ago"))
    assert not document.settled
    path = tmp_path / "set.pdf"
    printing.write_to(window, PDF, path, asked_last(window.settings, document.project.units))
    wait(qtbot, window)
    assert "Renamed a moment ago" in tool("pdftotext", "-layout", path, "-")


def test_worked_out_data(qtbot, window, tmp_path):
    window.bar.actions["export.worked_out"].trigger()
    path = tmp_path / "data.worked-out.json"
    choose(qtbot, window, path)
    wait(qtbot, window)
    data = json.loads(path.read_text())
    assert data["project"]["name"] == window.document.project.name


def test_every_exporter_stands_in_the_menu(window):
    for exporter in EXPORTERS:
        action = window.bar.actions[f"export.{exporter.id}"]
        assert action.text() == exporter.words


def test_a_set_that_something_blocks_is_printed_with_the_warning(qtbot, window, tmp_path, settle):
    document = window.document
    document.edit("board", blocks(document.project))
    settle(window)
    assert blocked(document.scheme)
    path = tmp_path / "set.pdf"
    printing.write_to(window, PDF, path, asked_last(window.settings, document.project.units))
    wait(qtbot, window)
    said = asking_of(window).asked("blocked").sentence
    assert str(path) in said
    assert "do not cut by it" in said
    assert path.read_bytes() == expected_pdf(window, "A4")


def test_a_project_is_never_written_over(qtbot, window, tmp_path):
    path = tmp_path / "job.roomboard.json"
    path.write_text("mine")
    asked = asked_last(window.settings, window.document.project.units)
    printing.write_to(window, EXPORTERS[1], path, asked)
    wait(qtbot, window)
    assert path.read_text() == "mine"
    assert "is a project" in asking_of(window).asked("export").sentence


def test_a_file_that_cannot_be_written_is_said(qtbot, window, tmp_path):
    path = tmp_path / "none" / "set.pdf"
    asked = asked_last(window.settings, window.document.project.units)
    printing.write_to(window, PDF, path, asked)
    wait(qtbot, window)
    assert "was not written" in asking_of(window).asked("export").sentence


def test_what_takes_long_is_shown_and_can_be_given_up(qtbot, window, tmp_path):
    ready = threading.Event()

    def slow(_scheme, _asked, step):
        step("Drawing the pages …", 1, 3)
        assert ready.wait(PATIENCE / 1000)
        return b"never"

    path = tmp_path / "slow.pdf"
    asked = asked_last(window.settings, window.document.project.units)
    printing.write_to(window, replace(PDF, make=slow), path, asked)
    shown = asking_of(window)
    qtbot.waitUntil(lambda: shown.findChild(Progress) is not None, timeout=3 * workings.SLOW)
    # The window is alive meanwhile: an edit is made and shown.
    began = time.monotonic()
    window.document.edit("name", replace(window.document.project, name="Meanwhile"))
    assert window.windowTitle().startswith("Meanwhile")
    assert time.monotonic() - began < 1.0
    bar = shown.findChild(Progress)
    assert bar.label.text() == "Drawing the pages …"
    qtbot.mouseClick(bar.stop, Qt.MouseButton.LeftButton)
    ready.set()
    wait(qtbot, window)
    assert not path.exists()
    assert "nothing was written" in window.statusBar().currentMessage()
    assert not shown.isVisible()


def test_what_is_quick_shows_no_progress(qtbot, window, tmp_path, monkeypatch):
    shown = []
    monkeypatch.setattr(type(asking_of(window)), "progress", lambda *a: shown.append(a))
    quick = replace(PDF, make=lambda *_: b"quick")
    path = tmp_path / "quick.pdf"
    printing.write_to(window, quick, path, asked_last(window.settings, "metric"))
    wait(qtbot, window)
    qtbot.wait(workings.SLOW + 100)
    assert path.read_bytes() == b"quick"
    assert shown == []


def test_closing_meanwhile_leaves_no_thread(window, tmp_path):
    path = tmp_path / "set.pdf"
    printing.write_to(window, PDF, path, asked_last(window.settings, "metric"))
    window.document.undo_stack.setClean()
    window.close()
    assert "making" not in {t.name for t in threading.enumerate()}


# --- pages on the screen and on paper -----------------------------------------------------


def ink(image, box):
    """Return how dark a part of a picture is, from 0 to 1."""
    x0, y0, x1, y1 = box
    dark = sum(
        255 - image.pixelColor(x, y).lightness() for x in range(x0, x1, 2) for y in range(y0, y1, 2)
    )
    return dark / 255 / max(1, len(range(x0, x1, 2)) * len(range(y0, y1, 2)))


def picture(page, per_mm):
    image = QImage(
        round(page.width * per_mm), round(page.height * per_mm), QImage.Format.Format_RGB32
    )
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    paint_page(painter, page, per_mm)
    painter.end()
    return image


def rendered(path, number, dpi):
    """Return a page of a PDF as another program paints it."""
    stem = path.with_suffix("")
    only = ("-r", dpi, "-f", number, "-l", number, "-singlefile", "-png")
    tool("pdftoppm", *only, path, stem)
    return QImage(f"{stem}.png")


def alike(one, other, cell=20):
    """Return the greatest difference in ink between two pictures, part by part."""
    width, height = min(one.width(), other.width()), min(one.height(), other.height())
    return max(
        abs(ink(one, box) - ink(other, box))
        for x in range(0, width - cell, cell)
        for y in range(0, height - cell, cell)
        for box in [(x, y, x + cell, y + cell)]
    )


@pytest.mark.parametrize("fixings", [False, True])
def test_pages_on_the_screen_are_those_of_the_file(window, tmp_path, fixings):
    set_of = sheet_set(window.document.scheme, "A4", "2025-03-31", fixings=fixings)
    page = next(p for p in set_of if "Walls" in p.title or "walls" in p.title)
    fonts = Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )
    path = tmp_path / "set.pdf"
    path.write_bytes(pdf_bytes(set_of, fonts))
    dpi = 101.6  # 4 pixels to a mm
    theirs, mine = rendered(path, page.number, dpi), picture(page, 4.0)
    assert abs(theirs.width() - mine.width()) <= 1
    assert alike(mine, theirs) < 0.2
    # The measure notices a page that is another one.
    other = next(p for p in set_of if p.number != page.number)
    assert alike(picture(other, 4.0), theirs) > 0.3


def test_the_printer_gets_the_same_pages(qtbot, window, tmp_path):
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    path = tmp_path / "printed.pdf"
    printer.setOutputFileName(str(path))
    asked = asked_last(window.settings, window.document.project.units)
    printing.send_to(window, printer, asked)
    wait(qtbot, window)
    qtbot.waitUntil(
        lambda: "sent to the printer" in window.statusBar().currentMessage(), timeout=PATIENCE
    )
    set_of = sheet_set(window.document.scheme, "A4", pages.today())
    info = tool("pdfinfo", path)
    assert f"Pages:           {len(set_of)}" in info
    assert "A4" in info
    assert alike(picture(set_of[1], 4.0), rendered(path, 2, 101.6)) < 0.2


@pytest.mark.parametrize("paper", list(PAPERS))
def test_the_printer_takes_every_paper(qtbot, window, tmp_path, paper):
    size = PAPERS[paper]
    page = Page(
        number=1,
        title="t",
        room="",
        width=size.width,
        height=size.height,
        frame=size.frame,
        marks=(),
        document="d",
        creator="c",
    )
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    path = tmp_path / "printed.pdf"
    printer.setOutputFileName(str(path))
    printing.Sending(window, printer, [page], blocked=False).begin()
    qtbot.waitUntil(lambda: "1 pages" in window.statusBar().currentMessage())
    info = tool("pdfinfo", path)
    words = next(line for line in info.splitlines() if line.startswith("Page size:")).split()
    points = 72 / 25.4
    assert float(words[2]) == pytest.approx(size.width * points, abs=2)
    assert float(words[4]) == pytest.approx(size.height * points, abs=2)


def test_drawings_and_tables_may_be_on_different_papers(qtbot, window, tmp_path):
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    path = tmp_path / "printed.pdf"
    printer.setOutputFileName(str(path))
    choice = SetChoice(paper="A3", lists="A4", kinds=(PageKind.CEILINGS, PageKind.HANGING))
    set_of = sheet_set(window.document.scheme, choice, "2025-03-31")
    printing.Sending(window, printer, set_of, blocked=False).begin()
    words = f"{len(set_of)} pages"
    qtbot.waitUntil(lambda: words in window.statusBar().currentMessage(), timeout=PATIENCE)
    info = tool("pdfinfo", "-f", 1, "-l", len(set_of), path)
    sizes = [
        line.split()[3:6:2]
        for line in info.splitlines()
        if line.startswith("Page ") and " size:" in line and line.split()[1].isdigit()
    ]
    points = 72 / 25.4
    for page, size in zip(set_of, sizes, strict=True):
        assert [float(v) for v in size] == pytest.approx(
            [page.width * points, page.height * points], abs=2
        )
    assert len({tuple(size) for size in sizes}) == 2


def test_printing_can_be_given_up_between_pages(qtbot, window, tmp_path):
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    set_of = sheet_set(window.document.scheme, "A4", "2025-03-31")
    sending = printing.Sending(window, printer, set_of, blocked=False)
    sending.begin()
    sending.give_up()
    qtbot.waitUntil(lambda: asking_of(window).asked("print") is not None)
    assert "Given up" in asking_of(window).asked("print").sentence


def test_closing_while_printing_stops_it(window, tmp_path):
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    set_of = sheet_set(window.document.scheme, "A4", "2025-03-31")
    sending = printing.Sending(window, printer, set_of, blocked=False)
    sending.begin()
    assert sending._painter.isActive()
    window.close()
    assert not sending._painter.isActive()
    QApplication.processEvents()
    assert sending._done == 0


def test_a_printer_is_asked_for_without_a_box_that_blocks(qtbot, window):
    window.bar.actions["print.printer"].trigger()
    dialog = window.findChild(QPrintDialog, "printer")
    qtbot.waitUntil(dialog.isVisible)
    dialog.reject()
    qtbot.waitUntil(lambda: not shiboken6.isValid(dialog))
    assert not making_of(window).busy


# --- the preview --------------------------------------------------------------------------


@pytest.fixture
def shown(qtbot, window):
    qtbot.waitUntil(lambda: QApplication.activeWindow() is window)
    keys = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(window.canvas, Qt.Key.Key_P, keys)
    panel = window.findChild(Preview, "preview")
    qtbot.waitUntil(lambda: panel.settled, timeout=PATIENCE)
    qtbot.waitUntil(lambda: QApplication.activeWindow() is panel)
    yield panel
    if shiboken6.isValid(panel):
        panel.close()


def test_the_preview_shows_the_pages_of_the_file(window, shown):
    set_of = sheet_set(window.document.scheme, "A4", pages.today())
    assert shown.pages == set_of
    assert shown.list.count() == len(set_of)
    assert shown.sheet.page is shown.pages[0]
    grabbed = shown.sheet.grab().toImage()
    assert ink(grabbed, (0, 0, grabbed.width(), grabbed.height())) > 0.02


def test_keys_go_from_page_to_page(qtbot, shown):
    last = len(shown.pages) - 1
    qtbot.keyClick(shown, Qt.Key.Key_PageDown)
    assert shown.sheet.page is shown.pages[1]
    qtbot.keyClick(shown, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    assert shown.sheet.page is shown.pages[last]
    qtbot.keyClick(shown, Qt.Key.Key_PageDown)
    assert shown.sheet.page is shown.pages[last]
    qtbot.keyClick(shown, Qt.Key.Key_PageUp)
    assert shown.sheet.page is shown.pages[last - 1]


def test_a_page_made_larger_is_scrolled_before_it_is_turned(qtbot, shown):
    qtbot.wait(50)  # the foot of the panel has become lower
    fitted = shown.sheet.width()
    for _ in range(6):
        qtbot.keyClick(shown, Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
    assert shown.sheet.width() > 2 * fitted
    qtbot.keyClick(shown, Qt.Key.Key_PageDown)
    assert shown.sheet.page is shown.pages[0]
    assert shown.area.verticalScrollBar().value() > 0
    qtbot.keyClick(shown, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert shown.sheet.width() == fitted


@pytest.mark.parametrize(
    ("paper", "tables"), [("A3", "A4"), ("Letter", "Letter"), ("Tabloid", "Letter")]
)
def test_another_paper(qtbot, window, shown, paper, tables):
    shown.paper.setCurrentText(paper)
    qtbot.waitUntil(lambda: shown.settled, timeout=PATIENCE)
    drawings = [page for page in shown.pages if page.room]
    assert drawings
    for printed, name in ((drawings, paper), (shown.pages[:1], tables)):
        size = PAPERS[name].width, PAPERS[name].height
        assert {(page.width, page.height) for page in printed} == {size}
    assert asked_last(window.settings, window.document.project.units).paper == paper


def test_with_fixings_there_are_more_pages(qtbot, shown):
    before = len(shown.pages)
    qtbot.mouseClick(shown.fixings, Qt.MouseButton.LeftButton, pos=shown.fixings.rect().center())
    if not shown.fixings.isChecked():
        qtbot.keyClick(shown.fixings, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: shown.settled, timeout=PATIENCE)
    assert len(shown.pages) > before


@pytest.fixture
def two(open_window, settle):
    """Two rooms of the demo project on the desk."""
    (path,) = resource_files("demo", ".roomboard.json")
    project = load(path).project
    opened = open_window(Document(replace(project, rooms=project.rooms[2:4])))
    settle(opened)
    return opened


def test_the_pages_of_one_room(qtbot, two):
    shown = preview.show_preview(two)
    first, other = two.document.project.rooms
    shown.choosing.room_tick(other.id).setChecked(False)
    qtbot.waitUntil(lambda: shown.settled and bool(shown.pages), timeout=PATIENCE)
    # Cautions lead every set; the order is that of the whole job and left out.
    assert {p.room for p in shown.pages} == {first.name, ""}
    assert shown.pages[0].title == "Cautions"
    assert not [p for p in shown.pages if p.kind == PageKind.ORDER]


def test_what_was_chosen_is_there_again_when_the_preview_opens_anew(qtbot, two):
    project = two.document.project
    shown = preview.show_preview(two)
    shown.choosing.room_tick(project.rooms[1].id).setChecked(False)
    for kind in (PageKind.CUTTING, PageKind.PIECES):
        shown.choosing.tick(kind).setChecked(False)
    shown.choosing.scale.setCurrentIndex(shown.choosing.scale.findText("1:50"))
    shown.choosing.lists.setCurrentText("A3")
    before = shown.asked
    shown.close()
    qtbot.waitUntil(lambda: not shiboken6.isValid(shown))

    again = preview.show_preview(two)
    assert again.asked == before
    assert again.choosing.wanted_rooms == (project.rooms[0].id,)
    assert PageKind.CUTTING not in again.choosing.wanted_kinds
    assert (again.choosing.wanted_scale, again.choosing.wanted_lists) == (50.0, "A3")
    # Of another project only paper and scale are remembered; a room that is gone is not.
    elsewhere = replace(project, id="elsewhere")
    asked = asked_last(two.settings, project.units, elsewhere)
    assert (asked.rooms, asked.kinds, asked.scale, asked.lists) == ((), (), 50.0, "A3")
    fewer = replace(project, rooms=project.rooms[1:])
    assert asked_last(two.settings, project.units, fewer).rooms == ()


def test_what_is_remembered_of_a_scale_is_given_up_on_a_paper_without_it(window):
    project = window.document.project
    asked = asked_last(window.settings, project.units, project)
    remember(window.settings, replace(asked, scale=25.0), project)
    assert asked_last(window.settings, project.units, project).scale == 25.0
    remember(window.settings, replace(asked, paper="Letter", scale=25.0), project)
    assert asked_last(window.settings, project.units, project).scale == 0.0


def test_a_part_of_the_set_is_said_to_be_one_and_the_surfaces_stay_whole(qtbot, two, tmp_path):
    project = two.document.project
    asked = asked_last(two.settings, project.units, project)
    remember(two.settings, replace(asked, rooms=(project.rooms[0].id,)), project)
    assert printing.how_last(two, PDF).rooms == (project.rooms[0].id,)
    (each,) = [e for e in FOLDER_EXPORTERS if e.id == "each_svg"]
    assert printing.how_last(two, each).rooms == ()

    two.bar.actions["print.pdf"].trigger()
    choose(qtbot, two, tmp_path / "set.pdf")
    wait(qtbot, two)
    assert "Only the pages and rooms chosen in the preview." in two.statusBar().currentMessage()


def test_files_go_into_a_folder_and_strange_ones_are_not_mixed_in(qtbot, two, tmp_path):
    two.bar.actions["export.each_svg"].trigger()
    choose(qtbot, two, tmp_path)
    wait(qtbot, two)
    (drawn,) = [p for p in tmp_path.iterdir() if p.name.endswith("-each-svg")]
    files = sorted(p.name for p in drawn.iterdir())
    count = sum(len(r.surfaces) for r in two.document.scheme.rooms)
    assert len(files) == count
    assert "hall-wall-a.svg" in files
    assert f"{count} files written" in two.statusBar().currentMessage()

    (drawn / "old.svg").write_text("old", encoding="utf-8")
    two.bar.actions["export.each_svg"].trigger()
    choose(qtbot, two, tmp_path)
    wait(qtbot, two)
    assert "old.svg, which is not of this export" in asking_of(two).asked("export").sentence


def test_kinds_of_pages_scale_and_paper_of_tables_are_chosen(qtbot, shown):
    for kind in PageKind:
        if kind not in {PageKind.FIXINGS, PageKind.CEILINGS, PageKind.HANGING}:
            shown.choosing.tick(kind).setChecked(False)
    shown.choosing.scale.setCurrentIndex(shown.choosing.scale.findText("1:75"))
    shown.choosing.lists.setCurrentText("A3")
    qtbot.waitUntil(lambda: shown.settled, timeout=PATIENCE)
    # The newest wish counts.
    qtbot.waitUntil(lambda: len({p.kind for p in shown.pages}) == 3, timeout=PATIENCE)
    assert {p.kind for p in shown.pages} == {"summary", "ceilings", "hanging"}
    ceilings = next(p for p in shown.pages if p.kind == "ceilings")
    hanging = next(p for p in shown.pages if p.kind == "hanging")
    assert "1:75" in [getattr(m, "text", "") for m in ceilings.marks]
    assert (ceilings.width, hanging.width) == (210.0, 420.0)


def test_the_preview_follows_an_edit(qtbot, window, shown):
    document = window.document
    document.edit("name", replace(document.project, name="Renamed behind the preview"))
    qtbot.waitUntil(
        lambda: shown.settled and shown.pages[0].document == "Renamed behind the preview",
        timeout=PATIENCE,
    )


def test_what_blocks_is_said_in_the_preview(qtbot, window, shown):
    document = window.document
    assert shown.line.text() == ""
    document.edit("board", blocks(document.project))
    qtbot.waitUntil(lambda: "do not cut by it" in shown.line.text(), timeout=PATIENCE)


def test_the_preview_prints_what_it_shows(qtbot, window, shown, tmp_path):
    shown.paper.setCurrentText("A3")
    qtbot.waitUntil(lambda: shown.settled, timeout=PATIENCE)
    qtbot.keyClick(shown, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    path = tmp_path / "set.pdf"
    choose(qtbot, window, path)
    wait(qtbot, window)
    assert path.read_bytes() == expected_pdf(window, "A3")


def test_making_the_pages_can_be_given_up(qtbot, shown, monkeypatch):
    before = shown.pages
    go_on = threading.Event()

    def slow(_scheme, _asked, step):
        assert go_on.wait(PATIENCE / 1000)
        step("Drawing the pages …", 2, 3)
        return ()

    monkeypatch.setattr(preview, "pages_of", slow)
    shown.paper.setCurrentText("A3")
    assert shown.stop.isVisible()
    qtbot.mouseClick(shown.stop, Qt.MouseButton.LeftButton)
    go_on.set()
    qtbot.waitUntil(lambda: shown.settled, timeout=PATIENCE)
    assert shown.pages == before
    assert "Given up" in shown.line.text()
    assert not shown.stop.isVisible()


def test_esc_closes_the_preview(qtbot, window, shown):
    qtbot.keyClick(shown, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not shiboken6.isValid(shown))
    assert window.isVisible()


def test_pages_of_a_room_are_some_of_all(window):
    asked = asked_last(window.settings, window.document.project.units)
    room = window.document.project.rooms[0].id

    def step(*_):
        return None

    all_pages = pages_of(window.document.scheme, asked, step)
    some = pages_of(window.document.scheme, replace(asked, rooms=(room,)), step)
    assert 0 < len(some) < len(all_pages)
    # Numbers differ, and cautions lead in place of the summary.
    titles = {(p.room, p.title) for p in all_pages}
    assert {(p.room, p.title) for p in some[1:]} <= titles
