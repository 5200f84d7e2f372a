"""Formulas of the order, said in words, as formulas of a spreadsheet's cells."""

from __future__ import annotations

import re
from collections.abc import Mapping

from roomboard.core.quantities import QuantityLine

SIGNS = {"+": "+", "×": "*", "−": "-", "÷": "/", "(": "(", ")": ")"}
"""Signs of calculation and how a spreadsheet writes them."""
RANGE = re.compile(r"from (?P<low>.+?) to (?P<high>.+)$")
"""A formula that ends in two rates: the first gives the lower end, the second the exact figure."""
DIGITS = 6
"""Figures of the order are rounded to so many decimals."""


def exact_formula(line: QuantityLine, cells: Mapping[str, str]) -> str:
    """Return the formula of a line's exact figure, e.g. ``"=ROUND((F7+H7)*(1+J7),6)"``.

    A formula that only says what is counted is the cell of the input that is the count.

    Args:
        line: The line.
        cells: The cell of each of its inputs, by the input's name.

    Returns:
        The formula, or empty where the figure does not come about from the inputs.
    """
    return _formula(line, cells, "high", line.exact)


def low_formula(line: QuantityLine, cells: Mapping[str, str]) -> str:
    """Return the formula of the lower end of a range; empty where the figure is none.

    Args:
        line: The line.
        cells: The cell of each of its inputs, by the input's name.
    """
    return _formula(line, cells, "low", line.low) if line.low < line.exact else ""


def _formula(line: QuantityLine, cells: Mapping[str, str], end: str, figure: float) -> str:
    words = line.formula.rpartition(" = ")[2]
    match = RANGE.search(words)
    if match and match["low"] in cells and match["high"] in cells:
        words = words[: match.start()] + match[end]
    translated = _translated(words, cells)
    if translated:
        return f"=ROUND({translated},{DIGITS})"
    same = [name for name, amount in line.inputs if amount == figure and name in cells]
    return f"={cells[same[0]]}" if same else ""


def _translated(words: str, cells: Mapping[str, str]) -> str:
    """Return a formula in words with cells for names; empty if any word of it is left over."""
    names = sorted(cells, key=lambda name: (-len(name), name))
    known = "|".join([*map(re.escape, names), r"\d+(?:\.\d+)?", *map(re.escape, SIGNS)])
    tokens = re.compile(rf"\s*({known})(?!\w)|\s*([+×−÷()])")
    found: list[str] = []
    at = 0
    while at < len(words.rstrip()):
        match = tokens.match(words, at)
        if match is None:
            return ""
        token = match[1] or match[2]
        found.append(cells.get(token) or SIGNS.get(token) or token)
        at = match.end()
    return "".join(found)
