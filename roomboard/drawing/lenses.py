"""Lenses: the steps of the work in the trade's own order, and what each looks at."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.drawing.lining import SHEETING, Show


@dataclass(frozen=True, slots=True, kw_only=True)
class Lens:
    """One step of the work and what is shown for it, over the same drawings.

    Attributes:
        name: Short name for the program.
        words: What it is called.
        tip: What one does there, in one sentence.
        show: What drawings of surfaces show.
    """

    name: str
    words: str
    tip: str
    show: Show


_IN_ORDER = (
    Lens(
        name="measure",
        words="Measure",
        tip="Draw the walls, doors and windows as the tape reads them.",
        show=Show(
            sheets=False, framing=False, trimmers=False, back_blocks=False, marks=False, start=False
        ),
    ),
    Lens(
        name="frame",
        words="Frame",
        tip="Show where joists and studs stand, and see which timber is missing behind the sheets.",
        show=Show(sheets=False, back_blocks=False, marks=False, start=False, faint=True),
    ),
    Lens(
        name="set_out",
        words="Set out",
        tip="Choose which way the sheets run and where their joints fall.",
        show=Show(trimmers=False, back_blocks=False),
    ),
    Lens(
        name="fix",
        words="Fix",
        tip="See where every screw or nail, daub of adhesive and back-block goes.",
        show=Show(trimmers=False, fixings=True, dimensions=False, marks=False, start=False),
    ),
    Lens(
        name="cut",
        words="Cut",
        tip="See which stock sheet each piece is cut from, with its cut-outs.",
        show=Show(
            framing=False, trimmers=False, back_blocks=False, start=False, stock_numbers=True
        ),
    ),
    Lens(
        name="order",
        words="Order",
        tip="See what is bought: the pieces of one stock sheet stand in one tone.",
        show=Show(
            framing=False,
            trimmers=False,
            back_blocks=False,
            dimensions=False,
            start=False,
            stock_numbers=True,
            stock_tones=True,
        ),
    ),
    Lens(
        name="print",
        words="Print",
        tip="Look at the drawings as they are printed for the crew.",
        show=SHEETING,
    ),
)
LENSES: dict[str, Lens] = {lens.name: lens for lens in _IN_ORDER}
"""Every lens by name, in the order of the work."""
