"""What the legend of a page explains, and the sample of each line, sign and hatch."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from roomboard.drawing.displaylist import Dots, Fill, Mark, Stroke, Symbol
from roomboard.drawing.layers import HATCHES, LAYERS

SIGNS: dict[str, tuple[Symbol, float]] = {
    "fastener": (Symbol.DISC, 0.8),
    "daub": (Symbol.RING, 1.8),
}
"""Layers that are signs, not lines, with their form and size, mm."""
PACKER = "packer"
LEGEND_SAMPLE = 10.0
"""Length of a line in the legend, mm."""
_NOT_IN_LEGEND = {"dimension", "lettering", "frame", "title_block", "sheet", "piece", "cloud"}


def legend_layers(marks: Iterable[Mark], without: frozenset[str]) -> list[str]:
    """Return the layers of a drawing that its legend explains, in the legend's order."""
    return legend_order({m.layer for m in marks if isinstance(m, Stroke | Fill | Dots)}, without)


def legend_order(used: Collection[str], without: frozenset[str]) -> list[str]:
    """Return those of the layers used that the legend explains, in its order."""
    return [n for n in LAYERS if n in used and n not in _NOT_IN_LEGEND and n not in without]


def sample(layer: str, x: float, y: float) -> Iterator[Mark]:
    """Draw what a layer looks like, beside its words in the legend."""
    if layer in SIGNS:
        symbol, size = SIGNS[layer]
        at = ((x + LEGEND_SAMPLE / 2, y),)
        yield Dots(points=at, symbol=symbol, paper_size=size, layer=layer)
        return
    if layer == PACKER:  # drawn solid
        middle = x + LEGEND_SAMPLE / 2
        ring = ((middle - 1, y - 1), (middle + 1, y - 1), (middle + 1, y + 1), (middle - 1, y + 1))
        yield Fill(rings=(ring,), layer=layer, tone=0.0)
        return
    if layer in HATCHES:
        ring = (
            (x, y - 1.0),
            (x + LEGEND_SAMPLE, y - 1.0),
            (x + LEGEND_SAMPLE, y + 1.0),
            (x, y + 1.0),
        )
        yield Fill(rings=(ring,), layer=layer, hatch=layer)
        yield Stroke(points=ring, layer=layer, closed=True)
        return
    for a, b in _dashes(LAYERS[layer].pen.dashes):
        yield Stroke(points=((x + a, y), (x + b, y)), layer=layer)
    if layer == "joint_recessed":
        for tick in (3.0, 7.0):
            yield Stroke(points=((x + tick, y - 0.8), (x + tick, y + 0.8)), layer=layer)


def _dashes(pattern: tuple[float, ...]) -> list[tuple[float, float]]:
    """Return the stretches of a line's sample, so that it shows all of a long pattern.

    Args:
        pattern: Dashes and gaps in turn, mm; a dash longer than the sample is shortened.
    """
    rest = sum(pattern[1:])
    if not pattern or pattern[0] + rest <= LEGEND_SAMPLE:
        return [(0.0, LEGEND_SAMPLE)]
    at = (LEGEND_SAMPLE - rest) / 2
    found = [(0.0, at)]
    for gap, dash in zip(pattern[1::2], (*pattern[2::2], at), strict=True):
        at += gap
        found.append((at, at + dash))
        at += dash
    return found
