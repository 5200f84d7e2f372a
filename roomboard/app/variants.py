"""Variants on the desk: kept, taken up, renamed and dropped, all to be undone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.app.acts import Act
from roomboard.app.document import Document
from roomboard.app.words import tr
from roomboard.core.editing import EditError
from roomboard.core.project import Project
from roomboard.core.variants import adopt_variant, drop_variant, keep_variant, rename_variant

if TYPE_CHECKING:
    from roomboard.app.window import Window


def keep(document: Document, name: str) -> bool:
    """Keep the present choices under a name; tell whether anything changed.

    Args:
        document: The document.
        name: What to call them; a variant of that name is replaced.
    """

    def change(project: Project) -> Project:
        try:
            return keep_variant(project, name)
        except ValueError as fault:
            raise EditError(str(fault)) from fault

    return document.attempt(tr("Keep variant {name}", name=name.strip()), change)


def take_up(document: Document, name: str) -> bool:
    """Take up the choices of a variant."""

    def change(project: Project) -> Project:
        try:
            return adopt_variant(project, name)
        except KeyError as fault:
            raise EditError(
                tr("There is no variant {name} any more; choose another.", name=name)
            ) from fault

    return document.attempt(tr("Take up variant {name}", name=name), change)


def rename(document: Document, name: str, other: str) -> bool:
    """Give a variant another name.

    Args:
        document: The document.
        name: Its name.
        other: The name it is to have.
    """

    def change(project: Project) -> Project:
        try:
            return rename_variant(project, name, other)
        except ValueError as fault:
            raise EditError(str(fault)) from fault
        except KeyError as fault:
            raise EditError(
                tr("There is no variant {name} any more; choose another.", name=name)
            ) from fault

    return document.attempt(tr("Rename variant {name}", name=name), change)


def drop(document: Document, name: str) -> bool:
    """Forget a variant."""
    return document.attempt(
        tr("Drop variant {name}", name=name), lambda project: drop_variant(project, name)
    )


def variant_acts(window: Window) -> list[Act]:
    """Return the acts for variants."""
    return [
        Act(
            id="sheets.keep_variant",
            menu="Sheets",
            words="Keep as a variant …",
            run=lambda: show_variants(window, naming=True),
            keys="Ctrl+Shift+K",
            tip="Keep how all sheets now go under a name, to compare it and come back to it.",
            parted=True,
        ),
        Act(
            id="sheets.variants",
            menu="Sheets",
            words="Variants …",
            run=lambda: show_variants(window),
            keys="Ctrl+K",
            tip="The variants kept, with the figures of each beside the present set-out.",
        ),
    ]


def show_variants(window: Window, *, naming: bool = False) -> None:
    """Open the table of variants.

    Args:
        window: The window.
        naming: Whether to begin with the name of a new one.
    """
    from roomboard.app.dialogs.variants import Variants

    table = window.findChild(Variants) or Variants(window)
    table.open_up(naming=naming)
