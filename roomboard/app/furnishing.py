"""What a window is furnished with: panels beside the canvas, acts in the menus."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app import (
    beside,
    filing,
    framing,
    helping,
    joints,
    leaving,
    looking,
    measuring,
    order_of_work,
    printing,
    this_job,
    undoing,
)
from roomboard.app.dialogs import start

if TYPE_CHECKING:
    from roomboard.app.window import Window


def furnish(window: Window) -> None:
    """Put the panels beside the canvas and every act into its menu.

    Args:
        window: The window, built but empty.
    """
    for module in (
        filing,
        printing,
        this_job,
        leaving,
        undoing,
        measuring,
        order_of_work,
        framing,
        looking,
        joints,
        start,
        beside,
    ):
        window.bar.add(module.acts(window))
    # The help stands last; the panels have buttons for acts, so that these are there first.
    window.bar.add(helping.acts(window))
    beside.place(window)
    window.bar.refresh()
    undoing.name_edits(window)
