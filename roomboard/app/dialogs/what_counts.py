"""What counts: presets in plain words, and the weights they stand for, to be edited."""

from __future__ import annotations

from dataclasses import fields, replace

from PySide6.QtWidgets import (
    QDoubleSpinBox,
    QGridLayout,
    QGroupBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from roomboard.app.best_of_board import weigh_by, weigh_by_preset
from roomboard.app.document import Document
from roomboard.app.words import tr
from roomboard.core.optimum.presets import PRESETS
from roomboard.core.project import Weights

PRESET_WORDS = {
    "balanced": ("Balanced", "Board, butts, joints, pieces and lifts each have their weight."),
    "fewest butts": ("Fewest butts", "Butt joints weigh most; more board may be bought for it."),
    "least board": ("Least board", "Board weighs most; more joints may come of it."),
    "lightest lifts": ("Lightest lifts", "The heaviest piece of every face weighs most."),
}
WEIGHT_WORDS = {
    "board": ("Board", "m² of board, or what its price buys at the best value"),
    "butt": ("Butt joint", "each m"),
    "recessed": ("Recessed joint", "each m"),
    "end_to_recess": ("Sheet end at a recess", "each m"),
    "piece": ("Piece", "each"),
    "cut": ("Cut", "each"),
    "lift": ("Heaviest piece of a face", "each kg"),
    "middle": ("Butt in the middle", "each m, nothing at the ends"),
}
MOST = 100.0
"""No weight is set higher than this here."""


class WhatCounts(QGroupBox):
    """The weights of the job: a button for each preset, a figure for each kind.

    Attributes:
        presets: Button of each preset.
        weights: Field of each weight.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(tr("What counts"), parent)
        self._document = document
        self._filling = False
        self.presets: dict[str, QPushButton] = {}
        self.weights: dict[str, QDoubleSpinBox] = {}
        column = QVBoxLayout(self)
        row = QHBoxLayout()
        for name, _ in PRESETS:
            words, tip = PRESET_WORDS[name]
            button = QPushButton(tr(words), self)
            button.setCheckable(True)
            button.setAutoDefault(False)
            button.setToolTip(tr(tip))
            button.setAccessibleDescription(tr(tip))
            button.clicked.connect(lambda _=False, n=name: self._take(n))
            self.presets[name] = button
            row.addWidget(button)
        column.addLayout(row)
        grid = QGridLayout()
        known = [f.name for f in fields(Weights) if f.name in WEIGHT_WORDS]
        for number, name in enumerate(known):
            self._add(grid, name, number % 4, number // 4)
        column.addLayout(grid)
        note = QLabel(
            tr("One counts as much as so many m² of board. No rule of the pack is weighed."), self
        )
        note.setWordWrap(True)
        column.addWidget(note)
        document.project_changed.connect(self.fill)
        self.fill()

    def _add(self, grid: QGridLayout, name: str, row: int, column: int) -> None:
        words, unit = WEIGHT_WORDS[name]
        field = QDoubleSpinBox(self)
        field.setDecimals(3)
        field.setRange(0.0, MOST)
        field.setSingleStep(0.1)
        field.setKeyboardTracking(False)
        field.setAccessibleName(tr("Weight of: {what}, {unit}", what=tr(words), unit=tr(unit)))
        field.setToolTip(tr("What one counts, m² of board: {unit}", unit=tr(unit)))
        field.valueChanged.connect(lambda value, n=name: self._put(n, value))
        label = QLabel(tr(words), self)
        label.setBuddy(field)
        label.setToolTip(tr(unit))
        grid.addWidget(label, row, 2 * column)
        grid.addWidget(field, row, 2 * column + 1)
        self.weights[name] = field

    def fill(self) -> None:
        """Show the job's weights, and the preset they are."""
        own = self._document.project.weights
        self._filling = True
        for name, field in self.weights.items():
            value = float(getattr(own, name))
            if abs(field.value() - value) > 5e-4:
                field.setValue(value)
        for name, weights in PRESETS:
            self.presets[name].setChecked(weights == own)
        self._filling = False

    def _take(self, name: str) -> None:
        weigh_by_preset(self._document, name)
        self.fill()

    def _put(self, name: str, value: float) -> None:
        # A field that goes with its window gives up what was typed in it.
        if self._filling or not self.isVisible():
            return
        own = self._document.project.weights
        if abs(float(getattr(own, name)) - value) > 5e-4:
            weigh_by(self._document, replace(own, **{name: value}))
