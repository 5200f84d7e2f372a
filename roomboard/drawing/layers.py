"""Layers: what each kind of line is drawn with, black on white."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.drawing import _drafting


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """How a line is drawn.

    Attributes:
        width: mm on paper.
        linetype: Its name.
        dashes: Dashes and gaps in turn, mm on paper; empty for a continuous line.
    """

    width: float
    linetype: str
    dashes: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One kind of line.

    Attributes:
        name: Its name.
        pen: What it is drawn with.
        letter: Letter that stands on the line, or empty.
        words: What it is, for the legend.
    """

    name: str
    pen: Pen
    letter: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """A pattern of parallel lines.

    Attributes:
        angles_deg: Directions of the lines, degrees.
        spacing: Distance between lines, mm on paper.
        width: Width of the lines, mm on paper.
    """

    angles_deg: tuple[float, ...]
    spacing: float
    width: float


def _layer(name: str, width: str, linetype: str, letter: str, words: str) -> Layer:
    paper_width = _drafting.WIDTHS[width]
    dashes = tuple(d * paper_width for d in _drafting.LINETYPES[linetype])
    pen = Pen(width=paper_width, linetype=linetype, dashes=dashes)
    return Layer(name=name, pen=pen, letter=letter, words=words)


LAYERS: dict[str, Layer] = {
    name: _layer(name, *columns) for name, columns in _drafting.LAYERS.items()
}
"""Every layer by name."""
HATCHES: dict[str, Hatch] = {
    name: Hatch(angles_deg=angles, spacing=spacing, width=_drafting.WIDTHS["narrow"] / 2)
    for name, (angles, spacing) in _drafting.HATCHES.items()
}
"""Every hatch by name; its lines are half as wide as narrow ones, so that they stay behind."""


def pen_of(layer: str) -> Pen:
    """Return the pen of a layer.

    Raises:
        KeyError: If there is no such layer.
    """
    return LAYERS[layer].pen
