"""Offcuts on site: listed, changed and taken off the list."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError
from roomboard.core.read_offcut import MOST

if TYPE_CHECKING:
    from collections.abc import Collection

    from roomboard.core.project import Project, SiteOffcut


def put_offcut(project: Project, offcut: SiteOffcut, boards: Collection[str]) -> Project:
    """List an offcut, or change the one that has its id.

    Args:
        project: The project.
        offcut: The offcut.
        boards: Ids of the boards in stock.

    Raises:
        EditError: If its board is not in stock, or a size or number makes no sense.
    """
    if offcut.board not in boards:
        known = ", ".join(boards)
        raise EditError(f"The stock has no board “{offcut.board}”; choose one of {known}.")
    if not (0 < offcut.length < math.inf and 0 < offcut.width < math.inf):
        raise EditError("An offcut has a length and a width above nothing; type both.")
    if not 1 <= offcut.count <= MOST:
        raise EditError(
            f"Offcuts of one kind are counted from 1 to {MOST}; type a number such as 2."
        )
    if offcut.recessed not in {0, 1, 2}:
        raise EditError("Of the long edges of an offcut 0, 1 or 2 are recessed; type how many.")
    if any(o.id == offcut.id for o in project.offcuts):
        listed = tuple(offcut if o.id == offcut.id else o for o in project.offcuts)
    else:
        listed = (*project.offcuts, offcut)
    return replace(project, offcuts=listed)


def drop_offcut(project: Project, ident: str) -> Project:
    """Take an offcut off the list.

    Raises:
        EditError: If none has this id.
    """
    left = tuple(o for o in project.offcuts if o.id != ident)
    if len(left) == len(project.offcuts):
        known = ", ".join(o.id for o in project.offcuts) or "none"
        raise EditError(f"There is no offcut “{ident}” on the list; those there are: {known}.")
    return replace(project, offcuts=left)
