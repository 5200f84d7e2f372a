"""What is wrong with a project file, fault by fault, each with its place in the file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
)

from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.core.project import Project
from roomboard.storage.catalogue import practice_ids
from roomboard.storage.project_file import load
from roomboard.storage.read_values import Fault

if TYPE_CHECKING:
    from roomboard.app.window import Window


class Faults(QDialog):
    """The list; the desk goes on behind it.

    Attributes:
        list: One row for each fault: where and what.
    """

    def __init__(self, window: Window, path: Path, faults: Sequence[Fault]) -> None:
        super().__init__(window)
        self.setObjectName("faults")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(tr("{file} was not opened", file=path.name))
        column = QVBoxLayout(self)
        said = QLabel(
            tr(
                "{path} cannot be opened as it is, and nothing of it was changed. Mend what is "
                "listed here, then open it again.",
                path=path,
            ),
            self,
        )
        said.setTextFormat(Qt.TextFormat.PlainText)
        said.setWordWrap(True)
        column.addWidget(said)
        self.list = QTreeWidget(self)
        self.list.setAccessibleName(tr("Faults"))
        self.list.setHeaderLabels([tr("Where"), tr("What is wrong and how to mend it")])
        self.list.setRootIsDecorated(False)
        self.list.setWordWrap(True)
        for fault in faults:
            item = QTreeWidgetItem([fault.path or tr("the whole file"), fault.text])
            item.setToolTip(1, str(fault))
            self.list.addTopLevelItem(item)
        self.list.resizeColumnToContents(0)
        column.addWidget(self.list, 1)
        row = QHBoxLayout()
        row.addStretch(1)
        copy = QPushButton(tr("Copy the list"), self)
        copy.setObjectName("faults.copy")
        text = "\n".join([str(path), *(str(f) for f in faults)])
        copy.clicked.connect(lambda: QApplication.clipboard().setText(text))
        close = QPushButton(tr("Close"), self)
        close.setObjectName("faults.close")
        close.setDefault(True)
        close.clicked.connect(self.close)
        row.addWidget(copy)
        row.addWidget(close)
        column.addLayout(row)
        open_sized(self, 720, 360)


def show_faults(window: Window, path: Path, faults: Sequence[Fault]) -> Faults:
    """Show what is wrong with a file.

    Args:
        window: Where the file was to be opened.
        path: The file.
        faults: What is wrong with it.
    """
    dialog = Faults(window, path, faults)
    dialog.show()
    return dialog


def load_or_show(window: Window, path: Path) -> Project | None:
    """Load a project file, or show what is wrong with it.

    Args:
        window: Where the file is to be opened.
        path: The file.
    """
    loaded = load(path)
    project, faults = loaded.project, loaded.faults
    if project is not None and project.practice not in practice_ids():
        sentence = tr(
            "there is no practice pack “{pack}”; give one of {packs}",
            pack=project.practice,
            packs=", ".join(practice_ids()),
        )
        project, faults = None, (Fault("practice", sentence),)
    if project is None:
        show_faults(window, path, faults)
    return project
