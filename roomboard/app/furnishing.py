"""What a window is furnished with: panels beside the canvas, acts in the menus."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app import (
    beside,
    best_of_board,
    boxing_in,
    clearing,
    filing,
    framing,
    heights,
    helping,
    issuing,
    joints,
    leaving,
    looking,
    measuring,
    order_of_work,
    parting,
    printing,
    taking_over,
    this_job,
    undoing,
)
from roomboard.app.dialogs import carry_in, start

if TYPE_CHECKING:
    from roomboard.app.window import Window


def furnish(window: Window) -> None:
    """Put the panels beside the canvas and every act into its menu.

    Args:
        window: The window, built but empty.
    """
    for module in (
        filing,
        taking_over,
        printing,
        this_job,
        leaving,
        undoing,
        measuring,
        boxing_in,
        heights,
        clearing,
        carry_in,
        order_of_work,
        framing,
        looking,
        joints,
        parting,
        best_of_board,
        issuing,
        start,
        beside,
    ):
        window.bar.add(module.acts(window))
    # The help stands last; the panels have buttons for acts, so that these are there first.
    window.bar.add(helping.acts(window))
    beside.place(window)
    window.bar.refresh()
    undoing.name_edits(window)
