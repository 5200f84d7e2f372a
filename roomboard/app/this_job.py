"""The act that shows what holds for the whole job; its window is made when it is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act

if TYPE_CHECKING:
    from roomboard.app.window import Window


def acts(window: Window) -> list[Act]:
    """Return the act that shows what holds for the whole job."""
    return [
        Act(
            id="job.this",
            menu="Job",
            words="This job…",
            run=lambda: _show(window),
            keys="Ctrl+,",
            tip="Name, units, method, supply, prices and the figures of practice of this job.",
            parted=True,
        )
    ]


def _show(window: Window) -> None:
    from roomboard.app.dialogs.settings import show_job

    show_job(window)
