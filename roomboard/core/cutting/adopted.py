"""A cutting that was taken up from a search: laid as it was, as long as the pieces are the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.cutting.keeping import is_sound
from roomboard.core.cutting.packing import Laid, OpenSheet
from roomboard.core.cutting.wants import Job, to_parts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.cutting.planning import Cutter
    from roomboard.core.project import AdoptedSheet


def as_adopted(sheets: Sequence[AdoptedSheet], cutter: Cutter | None = None) -> Cutter:
    """Return a way of cutting that lays each board as it was taken up, if that still holds.

    It holds where the sheets hold all pieces there are and no others, each of its size, and can be
    cut with the edges asked for: a file may say anything.

    Args:
        sheets: The sheets that were taken up.
        cutter: How a board is cut besides, or where they do not hold; None for the usual way. It
            is given the sheets taken up as the usual way.
    """

    def cut(job: Job, opens: list[OpenSheet]) -> list[OpenSheet]:
        own = [s for s in sheets if s.board == job.board.id]
        found = _laid(job, own) if own else None
        usual = opens if found is None else found
        return cutter(job, usual) if cutter is not None else usual

    return cut


def _laid(job: Job, sheets: Sequence[AdoptedSheet]) -> list[OpenSheet] | None:
    """Lay all pieces as they were, or return None if that does not hold any more."""
    sizes = {(s.length, s.width): n for n, s in enumerate(job.sizes)}
    known = {w.demand.id: n for n, w in enumerate(job.wants)}
    left = set(known.values())
    found: list[OpenSheet] = []
    for sheet in sheets:
        size = sizes.get((to_parts(sheet.length), to_parts(sheet.width)))
        if size is None:
            return None
        laid: list[Laid] = []
        for p in sheet.pieces:
            n = known.get(p.piece, -1)
            if n not in left or size not in job.wants[n].sizes:
                return None
            want = job.wants[n]
            if (want.length, want.width) != (to_parts(p.length), to_parts(p.width)):
                return None
            left.remove(n)
            laid.append(Laid(n, to_parts(p.x), to_parts(p.y), p.turned))
        opened = OpenSheet(size, laid)
        if not laid or not is_sound(job, opened):
            return None
        found.append(opened)
    return None if left else found
