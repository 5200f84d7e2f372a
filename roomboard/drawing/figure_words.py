"""Figures of practice as drawings and lists write them."""

from __future__ import annotations

from roomboard.core.practice import Figure
from roomboard.core.project import Units
from roomboard.core.units import write_area, write_length, write_mass, write_temperature

FINE = 1.5
"""Figures below this (mm) are said as their document has them, not in sixteenths of an inch."""
BARE = {"count", "ratio", "word", "year"}
"""Units that are not written."""
SIGNS = {"deg": "°", "percent": " %"}
"""Units that are written as a sign."""


def figure_in_words(figure: Figure, units: Units) -> str:
    """Write a figure of practice with its unit.

    Args:
        figure: The figure.
        units: How lengths, masses, areas and temperatures are written.
    """
    value, unit = figure.value, figure.unit
    if isinstance(value, str):
        return value
    if unit == "mm":
        if units is not Units.METRIC and value < FINE:  # sixteenths would say another
            return f"{figure.native_value} {figure.native_unit}"
        return write_length(value, units, suffix=True)
    if unit == "kg":
        return write_mass(value, units)
    if unit == "m2":
        return write_area(value, units)
    if unit == "celsius":
        return write_temperature(value, units)
    return f"{value:g}" + ("" if unit in BARE else SIGNS.get(unit, f" {unit}"))
