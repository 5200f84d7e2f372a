"""Printing and exporting: the set to a file or a printer, other files, and the preview."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMarginsF, QObject, QSizeF, QTimer
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtWidgets import QFileDialog

from roomboard.app.acts import Act
from roomboard.app.asking import Progress, asking_of
from roomboard.app.canvas.on_paper import paint_page
from roomboard.app.making import Made, Step, making_of
from roomboard.app.pages import (
    EXPORTERS,
    FOLDER_EXPORTERS,
    PDF,
    Asked,
    Exporter,
    FolderExporter,
    asked_last,
    blocked,
    pages_of,
    remember,
    scheme_of,
)
from roomboard.app.windows import ENDING, file_dialog
from roomboard.app.words import tr
from roomboard.app.workings import SLOW
from roomboard.core.units import INCH
from roomboard.drawing.paper import Page
from roomboard.storage.folders import write_folder
from roomboard.storage.whole_file import NotSavedError, write_whole

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the acts of the menu that print and export."""
    found = [
        Act(
            id="print.pdf",
            menu="Job",
            words="Print cut sheet to PDF…",
            run=lambda: ask_where(window, PDF),
            keys="Ctrl+P",
            tip="Write the cut sheet and the order to a PDF.",
            parted=True,
        ),
        Act(
            id="print.preview",
            menu="Job",
            words="Preview",
            run=lambda: preview(window),
            keys="Ctrl+Shift+P",
            tip="Look at the pages as they will be printed.",
        ),
        Act(
            id="print.printer",
            menu="Job",
            words="Send to printer…",
            run=lambda: choose_printer(window),
            tip="Print the cut sheet and the order on paper.",
        ),
    ]
    found += [
        Act(
            id=f"export.{exporter.id}",
            menu="Job/Export",
            words=exporter.words,
            run=_asker(window, exporter),
            tip=exporter.tip,
        )
        for exporter in EXPORTERS
    ]
    found += [
        Act(
            id=f"export.{exporter.id}",
            menu="Job/Export",
            words=exporter.words,
            run=_folder_asker(window, exporter),
            tip=exporter.tip,
            parted=exporter is FOLDER_EXPORTERS[0],
        )
        for exporter in FOLDER_EXPORTERS
    ]
    return found


def _asker(window: Window, exporter: Exporter) -> Callable[[], None]:
    return lambda: ask_where(window, exporter)


def _folder_asker(window: Window, exporter: FolderExporter) -> Callable[[], None]:
    return lambda: ask_folder(window, exporter)


def how_last(window: Window, exporter: Exporter | FolderExporter | None = None) -> Asked:
    """Return how the set was printed last; what is of the whole job is written whole.

    Args:
        window: The window.
        exporter: What is to be written; None for the printed set.
    """
    project = window.document.project
    asked = asked_last(window.settings, project.units, project, window.document.path)
    return asked if exporter is None or exporter.as_printed else asked.whole()


def preview(window: Window) -> None:
    """Show the pages as they will be printed."""
    from roomboard.app.dialogs.preview import show_preview

    show_preview(window)


def end_making(window: Window) -> None:
    """End what is being made for a window that closes."""
    from roomboard.app.dialogs.preview import Preview

    for shown in window.findChildren(Preview):
        shown.close()
    for sending in window.findChildren(Sending):
        sending.stop()
    making_of(window).end()


# --- files --------------------------------------------------------------------------------


def ask_where(window: Window, exporter: Exporter, asked: Asked | None = None) -> None:
    """Let the user choose the file to write, then write it.

    Args:
        window: The window.
        exporter: What is to be written.
        asked: How the pages are to be; None for as they were last.
    """
    from roomboard.app.saving import file_name_of

    how = asked or how_last(window, exporter)
    dialog = file_dialog(window, tr("Write to a file"), "ask_where")
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setNameFilter(f"{exporter.kind} (*{exporter.ending})")
    dialog.setDefaultSuffix(exporter.ending.removeprefix("."))
    path = window.document.path
    name = path.name.removesuffix(ENDING) if path else file_name_of(window.document.project.name)
    dialog.selectFile(f"{name}{exporter.ending}")
    dialog.fileSelected.connect(lambda chosen: write_to(window, exporter, Path(chosen), how))
    dialog.open()


def ask_folder(window: Window, exporter: FolderExporter, asked: Asked | None = None) -> None:
    """Let the user choose where a folder with files is made, then write them.

    Args:
        window: The window.
        exporter: What is to be written.
        asked: How it is to be; None for as it was last.
    """
    from roomboard.app.saving import file_name_of

    how = asked or how_last(window, exporter)
    path = window.document.path
    name = path.name.removesuffix(ENDING) if path else file_name_of(window.document.project.name)
    folder = f"{name}-{exporter.id.replace('_', '-')}"
    dialog = file_dialog(window, tr("Make the folder {folder} in", folder=folder), "ask_where")
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly)
    dialog.setLabelText(QFileDialog.DialogLabel.Accept, tr("Make it here"))
    dialog.fileSelected.connect(
        lambda chosen: write_into(window, exporter, Path(chosen) / folder, how)
    )
    dialog.open()


def write_into(window: Window, exporter: FolderExporter, folder: Path, asked: Asked) -> None:
    """Make several files off the window's thread and write them into a folder.

    Args:
        window: The window.
        exporter: What is to be written.
        folder: The folder; it is made if it is not there.
        asked: How the drawings are to be.
    """
    give = scheme_of(window.document)

    def job(step: Step) -> tuple[int, bool]:
        scheme = give(step)
        found = exporter.make(scheme, asked, step)
        step(tr("Writing {file} …", file=folder.name), len(found), len(found))
        try:
            write_folder(folder, {f"{part}{exporter.ending}": c for part, c in found.items()})
        except NotSavedError as refusal:
            raise ValueError(str(refusal)) from None
        return len(found), blocked(scheme)

    def then(made: Made) -> None:
        if made.given_up:
            window.desk.say(tr("Given up; nothing was written."))
        elif made.fault:
            asking_of(window).tell("export", made.fault)
        elif isinstance(made.value, tuple):
            count, blocks = made.value
            words = tr("{count} files written to {file}.", count=count, file=folder)
            _say_done(window, _in_part(words, asked), blocked=blocks)

    making_of(window).make(tr("Making {file} …", file=folder.name), job, then)


def _in_part(sentence: str, asked: Asked) -> str:
    """Add to a sentence that not the whole set was made."""
    if not asked.is_part:
        return sentence
    return tr("{sentence} Only the pages and rooms chosen in the preview.", sentence=sentence)


def write_to(window: Window, exporter: Exporter, path: Path, asked: Asked) -> None:
    """Make a file off the window's thread and write it all at once.

    Args:
        window: The window.
        exporter: What is to be written.
        path: The file.
        asked: How the pages are to be.
    """
    if path.name.endswith(ENDING):
        asking_of(window).tell(
            "export",
            tr("{file} is a project; choose another name for what is written.", file=path.name),
        )
        return
    give = scheme_of(window.document)

    def job(step: Step) -> bool:
        scheme = give(step)
        content = exporter.make(scheme, asked, step)
        step(tr("Writing {file} …", file=path.name), 3, 3)
        try:
            write_whole(path, content)
        except NotSavedError as refusal:
            raise ValueError(str(refusal)) from None
        return blocked(scheme)

    def then(made: Made) -> None:
        if made.given_up:
            window.desk.say(tr("Given up; nothing was written."))
        elif made.fault:
            asking_of(window).tell("export", made.fault)
        else:
            words = _in_part(tr("Written to {file}.", file=path), asked)
            _say_done(window, words, blocked=bool(made.value))

    making_of(window).make(tr("Making {file} …", file=path.name), job, then)


def _say_done(window: Window, sentence: str, *, blocked: bool) -> None:
    """Say what was made, with a warning if it must not be cut by yet."""
    if not blocked:
        window.desk.say(sentence)
        return
    asking_of(window).tell(
        "blocked",
        tr(
            "{sentence} Something blocks this set-out: do not cut by it before that is mended; "
            "the findings say what, and so do the pages.",
            sentence=sentence,
        ),
    )


# --- a printer ----------------------------------------------------------------------------


def choose_printer(window: Window, asked: Asked | None = None) -> None:
    """Let the user choose a printer, then print the set.

    Args:
        window: The window.
        asked: How the pages are to be; None for as they were last.
    """
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    how = asked or how_last(window)
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    dialog = QPrintDialog(printer, window)
    dialog.setObjectName("printer")
    dialog.accepted.connect(lambda: send_to(window, printer, how))
    dialog.finished.connect(dialog.deleteLater)
    dialog.show()


def send_to(window: Window, printer: QPrinter, asked: Asked) -> None:
    """Print the set: its pages are made in a thread and painted one at a time.

    Args:
        window: The window.
        printer: The printer.
        asked: How the pages are to be.
    """
    remember(window.settings, asked, window.document.project, window.document.path)
    give = scheme_of(window.document)

    def job(step: Step) -> tuple[tuple[Page, ...], bool]:
        scheme = give(step)
        return pages_of(scheme, asked, step), blocked(scheme)

    def then(made: Made) -> None:
        if made.given_up:
            window.desk.say(tr("Given up; nothing was printed."))
        elif made.fault:
            asking_of(window).tell("print", made.fault)
        elif isinstance(made.value, tuple):
            pages, blocks = made.value
            Sending(window, printer, pages, blocked=blocks).begin()

    making_of(window).make(tr("Making the pages …"), job, then)


class Sending(QObject):
    """Paints pages on a printer, one each time the window has nothing else to do."""

    def __init__(
        self, window: Window, printer: QPrinter, pages: Sequence[Page], *, blocked: bool
    ) -> None:
        super().__init__(window)
        self.setObjectName("sending")
        self._window = window
        self._printer = printer
        self._pages = tuple(pages)
        self._blocked = blocked
        self._painter = QPainter()
        self._done = 0
        self._stopped = False
        self._progress: Progress | None = None
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SLOW)
        self._slow.timeout.connect(self._show)

    def begin(self) -> None:
        """Begin with the first page."""
        if not self._pages:
            self._finish(tr("There are no pages to print."))
            return
        self._lay_out(self._pages[0])
        if not self._painter.begin(self._printer):
            self._finish(
                tr("The printer could not be reached; look whether it is on, or print to a PDF.")
            )
            return
        self._slow.start()
        QTimer.singleShot(0, self, self._next)

    def give_up(self) -> None:
        """Give up after the page being painted."""
        self._stopped = True

    def stop(self) -> None:
        """Stop at once."""
        self._slow.stop()
        if self._painter.isActive():
            self._painter.end()
            self._printer.abort()

    def _lay_out(self, page: Page) -> None:
        size = QPageSize(
            QSizeF(min(page.width, page.height), max(page.width, page.height)),
            QPageSize.Unit.Millimeter,
            "",
            QPageSize.SizeMatchPolicy.FuzzyMatch,
        )
        lying = page.width > page.height
        way = QPageLayout.Orientation.Landscape if lying else QPageLayout.Orientation.Portrait
        self._printer.setFullPage(True)
        self._printer.setPageLayout(QPageLayout(size, way, QMarginsF(0, 0, 0, 0)))

    def _next(self) -> None:
        if not self._painter.isActive():
            return
        if self._stopped:
            self.stop()
            self._finish(tr("Given up; what was sent already is printed."))
            return
        page = self._pages[self._done]
        if self._done:
            before = self._pages[self._done - 1]
            if (before.width, before.height) != (page.width, page.height):
                self._lay_out(page)  # drawings and tables may be on different papers
            self._printer.newPage()
        paint_page(self._painter, page, self._printer.resolution() / float(INCH))
        self._done += 1
        if self._progress is not None:
            words = tr("Page {number} of {count}", number=self._done, count=len(self._pages))
            self._progress.go_on(words, self._done, len(self._pages))
        if self._done < len(self._pages):
            QTimer.singleShot(0, self, self._next)
            return
        self._painter.end()
        self._finish("")

    def _show(self) -> None:
        self._progress = asking_of(self._window).progress(tr("Printing …"), self.give_up)

    def _finish(self, refusal: str) -> None:
        self._slow.stop()
        if self._progress is not None:
            asking_of(self._window).end_progress()
        if refusal:
            asking_of(self._window).tell("print", refusal)
        else:
            sentence = tr("{count} pages were sent to the printer.", count=self._done)
            _say_done(self._window, sentence, blocked=self._blocked)
        self.deleteLater()
