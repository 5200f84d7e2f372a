"""The findings: all there is to say about the job, the gravest first, each with its place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.desk import Desk
from roomboard.app.dialogs.acknowledge import Acknowledge
from roomboard.app.lettering import emboldened
from roomboard.app.panels.area import Area
from roomboard.app.panels.places import go_to_place, room_of_place
from roomboard.app.words import tr
from roomboard.core.editing.acknowledging import read_by
from roomboard.core.findings import Finding, Severity
from roomboard.core.wording import WEIGHT, lines, place_in_words
from roomboard.drawing.finding_tables import acknowledges

SIGNS: dict[Severity, str] = {
    Severity.BLOCK: "■",
    Severity.WARNING: "▲",
    Severity.CAUTION: "◆",
    Severity.NOTE: "○",
}
"""The sign of each weight; its word stands beside it."""
COUNTED: dict[Severity, tuple[str, str]] = {
    Severity.BLOCK: ("{n} blocks", "{n} block"),
    Severity.WARNING: ("{n} warning", "{n} warnings"),
    Severity.CAUTION: ("{n} caution", "{n} cautions"),
    Severity.NOTE: ("{n} note", "{n} notes"),
}
JOB, ROOM, CAUTIONS = "job", "room", "cautions"
FILTERS = ((JOB, "Whole job"), (ROOM, "This room"), (CAUTIONS, "Cautions"))
READ = "✓"

Key = tuple[str, str, str, str, tuple[tuple[float, float], ...], int]


class Findings(QWidget):
    """All findings of the scheme; the one chosen is told in full under the list.

    It stays where it is, chosen and scrolled, while new results come in.

    Attributes:
        which: Which findings are listed.
        counts: How many there are of each weight.
        list: The list.
        told: The chosen finding in full.
        show_place: Goes to its place.
        read: Asks for a name and a reason, for cautions.
        acknowledge: The lines these are typed into.

    Signals:
        left: The user is done here and goes back to the drawing.
    """

    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._shown: list[Finding] = []
        self._keys: list[Key] = []
        self._key: Key | None = None
        self.setAccessibleName(tr("Findings"))
        self.which = QComboBox(self)
        for value, words in FILTERS:
            self.which.addItem(tr(words), value)
        self.which.setAccessibleName(tr("Which findings"))
        self.which.setToolTip(tr("Those of the whole job, of the room shown, or the cautions."))
        self.counts = QLabel(self)
        self.counts.setWordWrap(True)
        self.counts.setAccessibleName(tr("How many findings"))
        self.list = _List(self)
        self.told = QLabel(self)
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.told.setAccessibleName(tr("The chosen finding"))
        self.show_place = QPushButton(tr("Show the place"), self)
        self.show_place.setToolTip(tr("Bring its place into view and mark it (Enter in the list)."))
        self.read = QPushButton(tr("I have read this …"), self)
        self.read.setToolTip(tr("Put your name to a caution; it goes on being said and printed."))
        self.acknowledge = Acknowledge(desk, self)
        self._build()
        self.which.currentIndexChanged.connect(self.refresh)
        self.list.currentRowChanged.connect(self._choose)
        self.list.itemClicked.connect(self._go)
        self.list.chosen_again.connect(self._go)
        self.list.left.connect(self.left)
        self.show_place.clicked.connect(self._go)
        self.read.clicked.connect(self.ask)
        self.acknowledge.done.connect(self.list.setFocus)
        desk.document.scheme_changed.connect(self.refresh)
        desk.room_changed.connect(self.refresh)
        desk.document.project_changed.connect(self._retell)
        self.refresh()

    def _build(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.which)
        top.addWidget(self.show_place)
        top.addWidget(self.read)
        top.addStretch(1)
        area = Area(self)
        area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # so that the arrow keys scroll it
        area.setAccessibleName(tr("The chosen finding in full"))
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(self.told)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 4, 4)
        column.setSpacing(3)
        column.addLayout(top)
        column.addWidget(self.counts)
        column.addWidget(self.list, 3)
        column.addWidget(area, 2)
        column.addWidget(self.acknowledge)

    # --- what it shows ------------------------------------------------------------------

    @property
    def shown(self) -> tuple[Finding, ...]:
        """The findings listed, top to bottom."""
        return tuple(self._shown)

    @property
    def chosen(self) -> Finding | None:
        """The finding told in full."""
        row = self.list.currentRow()
        return self._shown[row] if 0 <= row < len(self._shown) else None

    def refresh(self) -> None:
        """List the findings there are now; what is chosen stays chosen."""
        scheme = self._desk.document.scheme
        every = scheme.findings if scheme else ()
        self._shown = [f for f in every if self._wanted(f)]
        self._keys = _keys(self._shown)
        self._count(self._shown)
        scroll = self.list.verticalScrollBar().value()
        self.list.blockSignals(True)
        while self.list.count() > len(self._shown):
            self.list.takeItem(self.list.count() - 1)
        while self.list.count() < len(self._shown):
            self.list.addItem(QListWidgetItem())
        for number, finding in enumerate(self._shown):
            self._write(self.list.item(number), finding)
        row = self._keys.index(self._key) if self._key in self._keys else -1
        if self.list.currentRow() != row:
            self.list.setCurrentRow(row)
        self.list.verticalScrollBar().setValue(scroll)
        self.list.blockSignals(False)
        if row < 0:
            self._key = None
            self.acknowledge.hide()
        self._tell()

    def _retell(self) -> None:
        """Who has read a caution is known at once, before the job is worked out again."""
        for number, finding in enumerate(self._shown):
            self._write(self.list.item(number), finding)
        self._tell()

    def _wanted(self, finding: Finding) -> bool:
        which = self.which.currentData()
        if which == CAUTIONS:
            return finding.severity is Severity.CAUTION
        return which == JOB or room_of_place(finding.place) == self._desk.room_id

    def _count(self, shown: Sequence[Finding]) -> None:
        counts = Counter(f.severity for f in shown)
        words = [
            _together(weight, tr(one if counts[weight] == 1 else many, n=counts[weight]))
            for weight, (one, many) in COUNTED.items()
            if counts[weight]
        ]
        self.counts.setText("   ".join(words) or tr("Nothing to say"))

    def _write(self, item: QListWidgetItem, finding: Finding) -> None:
        project = self._desk.document.project
        place = place_in_words(finding.place, project)
        text = (
            f"{SIGNS[finding.severity]} {WEIGHT[finding.severity]}  {finding.title}\n      {place}"
        )
        names = ", ".join(a.name for a in read_by(project, finding))
        if names and finding.severity is Severity.CAUTION:
            text += "  " + tr("{sign} read by {names}", sign=READ, names=names)
        if item.text() != text:
            item.setText(text)
            item.setToolTip(f"{finding.code} {finding.title}, {place}")
            blocks = finding.severity is Severity.BLOCK
            item.setFont(emboldened(self.list.font(), bold=blocks))

    def _choose(self, row: int) -> None:
        self._key = self._keys[row] if 0 <= row < len(self._keys) else None
        self.acknowledge.hide()
        self._tell()

    def _tell(self) -> None:
        finding, project = self.chosen, self._desk.document.project
        caution = finding is not None and finding.severity is Severity.CAUTION
        self.read.setEnabled(caution)
        self.show_place.setEnabled(
            finding is not None and project.room(room_of_place(finding.place)) is not None
        )
        if finding is None:
            text = tr("Choose a finding to read it in full; Enter shows its place.")
        else:
            said = list(lines(finding, project))
            said += [
                tr("Read by {name}: {reason}.", name=a.name, reason=a.reason)
                for a in project.acknowledged
                if acknowledges(a, finding)
            ]
            text = "\n".join(said)
        if self.told.text() != text:
            self.told.setText(text)

    # --- what it does -------------------------------------------------------------------

    def _go(self) -> None:
        finding = self.chosen
        if finding is not None and not go_to_place(self._desk, finding.place):
            self._desk.say(tr("This is said of the whole job and has no place on the drawing."))

    def step(self, by: int) -> None:
        """Choose the next finding, or the one before, and go to its place.

        Args:
            by: 1 for the next, -1 for the one before.
        """
        count = self.list.count()
        if count:
            row = self.list.currentRow()
            self.list.setCurrentRow(
                (row + by) % count if row >= 0 else (0 if by > 0 else -1) % count
            )
            self._go()

    def ask(self) -> None:
        """Ask for the name and the reason of who has read the chosen caution."""
        finding = self.chosen
        if finding is not None and finding.severity is Severity.CAUTION:
            self.acknowledge.ask(finding)
        else:
            self._desk.say(tr("Choose a caution in the findings first."))


def _together(weight: Severity, words: str) -> str:
    """Write a count that is not parted at the end of a line."""
    return f"{SIGNS[weight]} {words}".replace(" ", "\u00a0")


class _List(QListWidget):
    """The list; Enter goes to the place, Esc back to the drawing."""

    chosen_again = Signal()
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(tr("Findings, the gravest first"))
        self.setToolTip(tr("Arrows choose, Enter shows the place."))
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setMinimumHeight(60)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Esc; the rest is the list's own."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.chosen_again.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


def _keys(findings: Sequence[Finding]) -> list[Key]:
    """Return what each finding is known by when the job is worked out again."""
    seen: Counter[tuple[object, ...]] = Counter()
    keys: list[Key] = []
    for f in findings:
        line = tuple((round(u), round(v)) for u, v in f.place.line)
        same = (f.code, f.place.room, f.place.surface, f.place.item, line)
        keys.append((*same, seen[same]))
        seen[same] += 1
    return keys
