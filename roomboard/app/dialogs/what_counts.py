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
from roomboard.core.optimum.in_units import cost_unit, unit_of, weight_from, weight_in
from roomboard.core.optimum.presets import PRESETS
from roomboard.core.project import Units, Weights

PRESET_WORDS = {
    "balanced": ("Balanced", "Board, butts, joints, pieces and lifts each have their weight."),
    "fewest butts": ("Fewest butts", "Butt joints weigh most; more board may be bought for it."),
    "least board": ("Least board", "Board weighs most; more joints may come of it."),
    "lightest lifts": ("Lightest lifts", "The heaviest piece of every face weighs most."),
}
WEIGHT_WORDS = {
    "board": ("Board", "{unit} of board, or what its price buys at the best value"),
    "butt": ("Butt joint", "each {unit}"),
    "recessed": ("Recessed joint", "each {unit}"),
    "end_to_recess": ("Sheet end at a recess", "each {unit}"),
    "piece": ("Piece", "each"),
    "cut": ("Cut", "each"),
    "lift": ("Heaviest piece of a face", "each {unit}"),
    "middle": ("Butt in the middle", "each {unit}, nothing at the ends"),
    "light": ("Butt across the light", "each {unit} at the light, nothing far off or along it"),
}
"""What a weight is called, and what one of it is, in the unit of the job."""
ROWS = 5
"""So many weights stand under each other."""
MOST = 100.0
"""No weight is set higher than this here, m2 of board for one."""
SAME = 5e-4
"""Weights nearer than this show the same figure."""


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
        self._labels: dict[str, QLabel] = {}
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
            self._add(grid, name, *reversed(divmod(number, ROWS)))
        column.addLayout(grid)
        self._note = QLabel(self)
        self._note.setWordWrap(True)
        column.addWidget(self._note)
        document.project_changed.connect(self.fill)
        self.fill()

    def _add(self, grid: QGridLayout, name: str, row: int, column: int) -> None:
        field = QDoubleSpinBox(self)
        field.setDecimals(3)
        field.setSingleStep(0.1)
        field.setKeyboardTracking(False)
        field.valueChanged.connect(lambda value, n=name: self._put(n, value))
        label = QLabel(tr(WEIGHT_WORDS[name][0]), self)
        label.setBuddy(field)
        self._labels[name] = label
        grid.addWidget(label, row, 2 * column)
        grid.addWidget(field, row, 2 * column + 1)
        self.weights[name] = field

    def fill(self) -> None:
        """Show the job's weights in its units, and the preset they are."""
        own, units = self._document.project.weights, self._document.project.units
        self._filling = True
        for name, field in self.weights.items():
            self._name(name, units)
            field.setMaximum(weight_in(MOST, name, units))
            value = weight_in(float(getattr(own, name)), name, units)
            if abs(field.value() - value) > SAME:
                field.setValue(value)
        for name, weights in PRESETS:
            self.presets[name].setChecked(weights == own)
        self._filling = False

    def _name(self, name: str, units: Units) -> None:
        """Say what one of a kind is, in the units of the job."""
        words, each = WEIGHT_WORDS[name]
        one = tr(each, unit=unit_of(name, units))
        area = cost_unit(units)
        self.weights[name].setAccessibleName(
            tr("Weight of: {what}, {unit}", what=tr(words), unit=one)
        )
        self.weights[name].setToolTip(
            tr("What one counts, {area} of board: {unit}", area=area, unit=one)
        )
        self._labels[name].setToolTip(one)
        self._note.setText(
            tr(
                "One counts as much as so many {area} of board. No rule of the pack is weighed.",
                area=area,
            )
        )

    def _take(self, name: str) -> None:
        weigh_by_preset(self._document, name)
        self.fill()

    def _put(self, name: str, value: float) -> None:
        # A field that goes with its window gives up what was typed in it.
        if self._filling or not self.isVisible():
            return
        own, units = self._document.project.weights, self._document.project.units
        if abs(weight_in(float(getattr(own, name)), name, units) - value) > SAME:
            new = weight_from(value, name, units)
            weigh_by(self._document, replace(own, **{name: new}))
