"""Dividing a sheet: the cuts from side to side that free its pieces, and what they leave."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from roomboard.core.cutting.packing import Laid, OpenSheet
from roomboard.core.cutting.values import CuttingError
from roomboard.core.cutting.wants import Job


class CutLine(NamedTuple):
    """One cut on a sheet."""

    rip: bool
    x0: int
    y0: int
    x1: int
    y1: int


def rip_line(x0: int, x1: int, y: int) -> CutLine:
    """Return a cut along the sheet."""
    return CutLine(rip=True, x0=x0, y0=y, x1=x1, y1=y)


def crosscut_line(y0: int, y1: int, x: int) -> CutLine:
    """Return a cut across the sheet."""
    return CutLine(rip=False, x0=x, y0=y0, x1=x, y1=y1)


Box = tuple[int, int, int, int]
"""Left, low, right and high side on the sheet."""


class Division(NamedTuple):
    """How a part is cut up: worth of its offcuts, cuts in order, offcuts."""

    worth: int
    cuts: tuple[CutLine, ...]
    offcuts: tuple[Box, ...]


_MANY = 10
"""With more pieces than this on a sheet the first cut found is taken, not the best."""


class _Divider:
    """Finds the cuts that free the pieces of one sheet and leave the best offcuts.

    Any cut that runs from side to side of a part without crossing a piece leaves both parts
    as easy to cut as before, so a cut can always be found where one was found in packing.
    """

    def __init__(self, boxes: Sequence[Box], keep_length: int, keep_width: int) -> None:
        self.boxes = boxes
        self.keep_length = keep_length
        self.keep_width = keep_width
        self.known: dict[Box, Division] = {}

    def keeps(self, box: Box) -> bool:
        """Whether an offcut is worth keeping."""
        return box[2] - box[0] >= self.keep_length and box[3] - box[1] >= self.keep_width

    def divide(self, part: Box, inside: tuple[int, ...]) -> Division:
        """Return the best way found to cut up a part.

        Raises:
            CuttingError: If its pieces cannot be cut from side to side.
        """
        if part in self.known:
            return self.known[part]
        if not inside:
            # The square of the area favours one large offcut over several small ones.
            area = (part[2] - part[0]) * (part[3] - part[1])
            result = Division(area * area if self.keeps(part) else 0, (), (part,))
        elif len(inside) == 1 and self.boxes[inside[0]] == part:
            result = Division(0, (), ())
        else:
            result = self.best_cut(part, inside)
        self.known[part] = result
        return result

    def best_cut(self, part: Box, inside: tuple[int, ...]) -> Division:
        best: Division | None = None
        for rip, at in self.lines(part, inside):
            near, far = 1 if rip else 0, 3 if rip else 2
            first = tuple(i for i in inside if self.boxes[i][far] <= at)
            second = tuple(i for i in inside if self.boxes[i][near] >= at)
            a, b = list(part), list(part)
            a[far] = b[near] = at
            one = self.divide((a[0], a[1], a[2], a[3]), first)
            two = self.divide((b[0], b[1], b[2], b[3]), second)
            line = rip_line(part[0], part[2], at) if rip else crosscut_line(part[1], part[3], at)
            found = Division(
                one.worth + two.worth,
                (line, *one.cuts, *two.cuts),
                (*one.offcuts, *two.offcuts),
            )
            if best is None or (found.worth, -len(found.cuts)) > (best.worth, -len(best.cuts)):
                best = found
            if len(inside) > _MANY:
                break
        if best is None:
            raise CuttingError("Pieces lie on a sheet so that no cut from side to side frees them.")
        return best

    def lines(self, part: Box, inside: tuple[int, ...]) -> list[tuple[bool, int]]:
        """Return the cuts that cross no piece, rips first; with many pieces those between them."""
        found: list[tuple[bool, int]] = []
        for rip, near, far in ((True, 1, 3), (False, 0, 2)):
            spans = [(self.boxes[i][near], self.boxes[i][far]) for i in inside]
            found += [
                (rip, at)
                for at in sorted({side for span in spans for side in span})
                if part[near] < at < part[far] and not any(a < at < b for a, b in spans)
            ]
        if len(inside) > _MANY:
            found.sort(key=lambda line: not self.parts_pieces(line, inside))
        return found

    def parts_pieces(self, line: tuple[bool, int], inside: tuple[int, ...]) -> bool:
        """Whether a cut has pieces on both sides."""
        far = 3 if line[0] else 2
        return 0 < sum(self.boxes[i][far] <= line[1] for i in inside) < len(inside)


def _box(job: Job, laid: Laid) -> Box:
    want = job.wants[laid.want]
    return (laid.x, laid.y, laid.x + want.length, laid.y + want.width)


def division_of(job: Job, sheet: OpenSheet) -> Division:
    """Return the cuts of a sheet and what they leave."""
    size = job.sizes[sheet.size]
    divider = _Divider([_box(job, laid) for laid in sheet.laid], job.keep_length, job.keep_width)
    return divider.divide((0, 0, size.length, size.width), tuple(range(len(sheet.laid))))
