"""Cutting: how each stock sheet is scored and snapped, and how linear goods are cut.

A sheet is cut from side to side only: a rip runs along it, a crosscut across it, and each
cut divides one part into two. Both long edges of a stock sheet are recessed. A rip leaves
the lower part the low edge and the upper part the high edge; a crosscut leaves both parts
both edges. A piece is never given a quarter-turn (board is stronger along the sheet) and
never turned face down; half a turn swaps its long edges.

Inside this module lengths are whole hundredths of a mm, so that sums are exact.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction
from functools import cache, cached_property
from itertools import combinations, pairwise, product
from typing import NamedTuple

import numpy as np

from roomboard.core.practice import Practice
from roomboard.core.project import Units
from roomboard.core.stock import Board, LinearStock, StockSheet
from roomboard.core.units import write_length


class EdgeIs(StrEnum):
    """What a long edge is once cut."""

    RECESSED = "recessed"
    CUT = "cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """A rectangle wanted from stock.

    Attributes:
        id: Piece id, or back-block id.
        length: Along the sheet, mm.
        width: Across the sheet, mm.
        low: ``"recessed"``, ``"cut"`` or ``"any"`` for its long edge at y = 0 (face up).
        high: The same for the other long edge.
        board: Board id.
        longest: Longest stock sheet that can reach its room, mm; 0 for no limit.
        sheet_width: Stock width its course was set out with, mm; 0 for any.
    """

    id: str
    length: float
    width: float
    low: str
    high: str
    board: str
    longest: float = 0.0
    sheet_width: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A piece laid on a stock sheet, face up.

    Attributes:
        piece: Piece id.
        x: Along the sheet from its left end, mm.
        y: Across the sheet from its low edge, mm.
        length: Along the sheet, mm.
        width: Across the sheet, mm.
        turned: Whether it is turned by half a turn (its low edge towards the sheet's high edge).
        low: What the piece's own low edge becomes.
        high: What the piece's own high edge becomes.
    """

    piece: str
    x: float
    y: float
    length: float
    width: float
    turned: bool
    low: EdgeIs
    high: EdgeIs


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One score-and-snap cut, from side to side of the part it divides.

    Attributes:
        number: Order of cutting, from 1.
        rip: True along the sheet, False across.
        x0: Start, mm on the sheet.
        y0: Start.
        x1: End.
        y1: End.
    """

    number: int
    rip: bool
    x0: float
    y0: float
    x1: float
    y1: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """What is left of a sheet.

    Attributes:
        x: Lower left corner on the sheet, mm.
        y: Lower left corner.
        length: Along the sheet, mm.
        width: Across it, mm.
        low: What its low long edge is.
        high: What its high long edge is.
        keep: Whether it is worth keeping.
        used_for: Ids of back-blocks cut from it.
    """

    x: float
    y: float
    length: float
    width: float
    low: EdgeIs
    high: EdgeIs
    keep: bool
    used_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """One stock sheet and how it is cut.

    Attributes:
        id: ``"S1"``, numbered over the project.
        board: Board id.
        stock: Stock sheet id.
        length: mm.
        width: mm.
        placements: What is cut from it.
        cuts: In order.
        offcuts: What is left.
        mass_kg: Mass of the whole sheet.
    """

    id: str
    board: str
    stock: str
    length: float
    width: float
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    mass_kg: float

    @property
    def used_m2(self) -> float:
        """Area of its pieces' blanks, m2."""
        return sum(p.length * p.width for p in self.placements) / 1e6

    @property
    def area_m2(self) -> float:
        """Area of the sheet, m2."""
        return self.length * self.width / 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardBound:
    """How few sheets of one board could do, and what was used.

    Attributes:
        board: Board id.
        net_m2: Area of the finished pieces (cut-outs taken off), m2.
        blank_m2: Area of the rectangles they are cut from, m2.
        bought_m2: Area of the sheets used, m2.
        sheets: Sheets used.
        area_bound: No fewer sheets of the largest size allowed can hold the net area.
        edge_bound: No fewer sheets can hold the courses, edges counted.
        bought_bound_m2: No less board than this can be bought for these pieces, m2.
        reasons: For every sheet above the bound, why, in words.
    """

    board: str
    net_m2: float
    blank_m2: float
    bought_m2: float
    sheets: int
    area_bound: int
    edge_bound: int
    bought_bound_m2: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CutPlan:
    """How all pieces of a project are cut.

    Attributes:
        sheets: All stock sheets.
        bounds: One for each board used, in order of board id.
        unplaced: Ids of pieces that fit no allowed stock sheet.
    """

    sheets: tuple[CutSheet, ...]
    bounds: tuple[BoardBound, ...]
    unplaced: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearCut:
    """One length of linear goods and what is cut from it.

    Attributes:
        id: ``"L3"``, numbered over the project and kind.
        kind: Kind of linear goods.
        stock: Stock id.
        length: Stock length, mm.
        pieces: Id and length of each piece cut from it, in order.
        left: What is left, mm.
    """

    id: str
    kind: str
    stock: str
    length: float
    pieces: tuple[tuple[str, float], ...]
    left: float


class CuttingError(RuntimeError):
    """A cut plan that breaks its own rules: a fault of the program, never of the input."""


# --- what is wanted, in whole hundredths of a mm -----------------------------------------------

_PARTS = 100
"""Parts of a mm that lengths are counted in here."""
_NOMINAL = 1.0
"""Stock sizes nearer than this (mm) to a size named by the user are that size."""

_ANY, _RECESSED, _CUT = 0, 1, 2
_NEEDS = {"any": _ANY, "recessed": _RECESSED, "cut": _CUT}


def _parts(mm: float) -> int:
    """Return a length in whole hundredths of a mm."""
    return round(mm * _PARTS)


def _mm(parts: int) -> float:
    """Return a length in mm."""
    return parts / _PARTS


def _m2(parts: float) -> float:
    """Return an area in m2."""
    return parts / (_PARTS * _PARTS * 1e6)


class _Size(NamedTuple):
    """A stock sheet that may be bought."""

    stock: StockSheet
    length: int
    width: int

    @property
    def area(self) -> int:
        return self.length * self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class _Want:
    """A demand that at least one allowed stock sheet can give.

    ``ways`` are the ways it can be laid: turned or not, and what then its lower and upper
    edge on the sheet must be. ``sizes`` are indexes of the sheets that can give it.
    """

    demand: Demand
    length: int
    width: int
    cap: float
    hint: int
    ways: tuple[tuple[bool, int, int], ...]
    sizes: tuple[int, ...]

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def recesses(self) -> int:
        """How many of its long edges must be recessed."""
        _, low, high = self.ways[0]
        return (low == _RECESSED) + (high == _RECESSED)


@dataclass(frozen=True, kw_only=True)
class _Job:
    """All that is cut from one board."""

    board: Board
    recess: int
    sizes: tuple[_Size, ...]
    wants: tuple[_Want, ...]
    keep_length: int
    keep_width: int

    @cached_property
    def least(self) -> _Least:
        """Its lower bounds."""
        return _least(self)


def _check(demands: Sequence[Demand]) -> None:
    seen: set[str] = set()
    for d in demands:
        if d.id in seen:
            raise ValueError(f"Piece {d.id} is asked for twice; give every piece its own id.")
        seen.add(d.id)
        if not (d.length > 0 and d.width > 0 and math.isfinite(d.length * d.width)):
            raise ValueError(f"Piece {d.id} is {d.length} by {d.width} mm; it needs a true size.")
        for need in (d.low, d.high):
            if need not in _NEEDS:
                raise ValueError(
                    f"Piece {d.id} asks for an edge {need!r}; ask for recessed, cut or any."
                )


def _sizes_of(board: Board, lengths: Sequence[float], widths: Sequence[float]) -> tuple[_Size, ...]:
    """Return the sheets of a board that may be bought, the narrowest and shortest first."""

    def named(value: float, wanted: Sequence[float]) -> bool:
        return not wanted or any(abs(value - w) < _NOMINAL for w in wanted)

    sizes = {
        (_parts(s.width), _parts(s.length)): s
        for s in sorted(board.sheets, key=lambda s: s.id, reverse=True)
        if named(s.length, lengths) and named(s.width, widths)
    }
    return tuple(_Size(sizes[key], key[1], key[0]) for key in sorted(sizes))


def _seat(y0: int, y1: int, sheet: int, recess: int, width: int, low: int, high: int) -> int:
    """Return where across a plate a piece can lie, or -1.

    Where its edges leave a choice, it lies against a cut edge, so that the recessed edges
    stay with what is left over.

    Args:
        y0: Low side of the plate on the sheet.
        y1: High side.
        sheet: Width of the sheet; the plate's edges at 0 and there are recessed.
        recess: How far the recess reaches in; nearer to the sheet's edge no cut is clean.
        width: Width of the piece.
        low: What the piece's lower edge must be.
        high: What its upper edge must be.
    """
    last = sheet - recess
    if low == _RECESSED:
        y = 0
    elif high == _RECESSED:
        y = sheet - width
    elif y0 > 0 or y1 == sheet:
        y = y0
        if low == _CUT:
            y = min(y1, last) - width if high == _CUT else y1 - width
            if not recess <= y <= last:
                y = max(y0, recess)
        elif high == _CUT and not recess <= y0 + width <= last:
            y = min(y1, last) - width
    else:
        y = (min(y1, last) if high == _CUT else y1) - width
    top = y + width
    if (
        y < y0
        or top > y1
        or (low == _CUT and not recess <= y <= last)
        or (high == _CUT and not recess <= top <= last)
        or (high == _RECESSED and top != sheet)
    ):
        return -1
    return y


def _ways(low: int, high: int) -> tuple[tuple[bool, int, int], ...]:
    """Return how a piece may lie: as it is, or after half a turn if that makes a difference."""
    if low == high:
        return ((False, low, high),)
    return ((False, low, high), (True, high, low))


def _want(demand: Demand, sizes: Sequence[_Size], recess: int) -> _Want:
    length, width = _parts(demand.length), _parts(demand.width)
    cap = _parts(demand.longest + _NOMINAL) if demand.longest else math.inf
    ways = _ways(_NEEDS[demand.low], _NEEDS[demand.high])
    fitting = tuple(
        index
        for index, size in enumerate(sizes)
        if length <= size.length <= cap
        and any(
            _seat(0, size.width, size.width, recess, width, low, high) >= 0 for _, low, high in ways
        )
    )
    return _Want(
        demand=demand,
        length=length,
        width=width,
        cap=cap,
        hint=_parts(demand.sheet_width),
        ways=ways,
        sizes=fitting,
    )


def _job(
    board: Board,
    demands: Iterable[Demand],
    practice: Practice,
    lengths: Sequence[float],
    widths: Sequence[float],
) -> _Job:
    sizes = _sizes_of(board, lengths, widths)
    recess = _parts(board.recess_width)
    wants = (_want(d, sizes, recess) for d in demands)
    return _Job(
        board=board,
        recess=recess,
        sizes=sizes,
        wants=tuple(w for w in wants if w.sizes),
        keep_length=_parts(practice.mm("piece.min")),
        keep_width=_parts(practice.mm("strip.min")),
    )


# --- packing ---------------------------------------------------------------------------------


class _Laid(NamedTuple):
    """A piece laid on a sheet."""

    want: int
    x: int
    y: int
    turned: bool


@dataclass(slots=True)
class _Open:
    """A sheet being filled."""

    size: int
    laid: list[_Laid] = field(default_factory=list)


_Plate = tuple[int, int, int, int, int]
"""What is still free on a sheet: length, width, x, y, and the sheet's number."""


class _Fit(StrEnum):
    """Which of several plates that could hold a piece is taken."""

    SIDE = "side"
    """The one that leaves the narrowest rest."""
    AREA = "area"
    """The smallest."""
    FIRST = "first"


class _Split(StrEnum):
    """Which cut comes first when a piece is taken out of a plate."""

    LARGEST = "largest"
    """The one that leaves the largest single part."""
    RIP = "rip"
    CROSSCUT = "crosscut"


class _Strategy(NamedTuple):
    """One way of filling sheets.

    ``opens`` names the sheet opened for each piece. With ``fill`` that is the longest that may
    be opened: the one is taken that pieces of the same width, laid end to end, fill best.
    """

    order: tuple[int, ...]
    opens: tuple[int, ...]
    fit: _Fit
    split: _Split
    fill: bool


def _choose(
    job: _Job, want: _Want, free: Sequence[_Plate], opens: Sequence[_Open], fit: _Fit
) -> tuple[int, int, bool] | None:
    """Return the plate, the place across it and the turn that suit a piece best, or None."""
    best: tuple[int, int, bool] | None = None
    least = (math.inf, 0)
    length, width, cap, recess = want.length, want.width, want.cap, job.recess
    for index, (free_length, free_width, _, y0, number) in enumerate(free):
        if free_length < length or free_width < width:
            continue
        size = job.sizes[opens[number].size]
        if size.length > cap:
            continue
        sheet, y1 = size.width, y0 + free_width
        for turned, low, high in want.ways:
            y = _seat(y0, y1, sheet, recess, width, low, high)
            if y < 0:
                continue
            # A recessed edge where none is asked for is lost to others.
            lost = (y == 0 and low != _RECESSED) + (y + width == sheet and high != _RECESSED)
            if fit is _Fit.SIDE:
                rank = (min(free_length - length, free_width - width), lost)
            elif fit is _Fit.AREA:
                rank = (free_length * free_width, lost)
            else:
                rank = (index, lost)
            if rank < least:
                least, best = rank, (index, y, turned)
        if fit is _Fit.FIRST and best is not None:
            break
    return best


def _split(plate: _Plate, y: int, length: int, width: int, how: _Split) -> tuple[_Plate, ...]:
    """Return what is left of a plate when a part of it is cut out at its left end."""
    free_length, free_width, x0, y0, number = plate
    right, below, above = free_length - length, y - y0, y0 + free_width - y - width
    if how is _Split.LARGEST:
        ripped = max(right * width, free_length * max(below, above))
        crosscut = max(right * free_width, length * max(below, above))
        how = _Split.RIP if ripped >= crosscut else _Split.CROSSCUT
    if how is _Split.RIP:
        return (
            (free_length, below, x0, y0, number),
            (free_length, above, x0, y + width, number),
            (right, width, x0 + length, y, number),
        )
    return (
        (right, free_width, x0 + length, y0, number),
        (length, below, x0, y0, number),
        (length, above, x0, y + width, number),
    )


def _pack(
    job: _Job, strategy: _Strategy, opens: list[_Open], free: list[_Plate], *, may_open: bool = True
) -> bool:
    """Lay pieces on the sheets already open and, if allowed, on new ones.

    Returns:
        Whether all were laid; ``opens`` and ``free`` are changed either way.
    """
    wants = job.wants
    shortest = min((wants[i].length for i in strategy.order), default=0)
    narrowest = min((wants[i].width for i in strategy.order), default=0)
    alike = _alike(job, strategy.order) if strategy.fill else {}
    done: set[int] = set()
    for i in strategy.order:
        if i in done:
            continue
        want, row = wants[i], [i]
        found = _choose(job, want, free, opens, strategy.fit)
        if found is None:
            if not may_open:
                return False
            index = strategy.opens[i]
            if strategy.fill:
                fellows = [n for n in alike[_kind(want)] if n != i and n not in done]
                index, row = _row(job, i, fellows, job.sizes[index])
            size = job.sizes[index]
            plate = (size.length, size.width, 0, 0, len(opens))
            opens.append(_Open(index))
            y, turned = _fresh(job, want, size)
        else:
            at, y, turned = found
            plate = free.pop(at)
        x = plate[2]
        for n in row:
            opens[plate[4]].laid.append(_Laid(n, x, y, turned))
            x += wants[n].length
        done.update(row)
        free.extend(
            part
            for part in _split(plate, y, x - plate[2], want.width, strategy.split)
            if part[0] >= shortest and part[1] >= narrowest
        )
    return True


_Kind = tuple[int, float, tuple[tuple[bool, int, int], ...]]
"""What pieces have in common that can lie end to end in one rip: width, limit, ways."""


def _kind(want: _Want) -> _Kind:
    return (want.width, want.cap, want.ways)


def _alike(job: _Job, order: Iterable[int]) -> dict[_Kind, list[int]]:
    found: dict[_Kind, list[int]] = {}
    for i in order:
        found.setdefault(_kind(job.wants[i]), []).append(i)
    return found


def _row(job: _Job, first: int, fellows: Sequence[int], most: _Size) -> tuple[int, list[int]]:
    """Return the sheet to open for a piece and what is laid end to end with it.

    Of the allowed sheets as wide as ``most`` and no longer, the one that wastes the least share
    of its length. Sums are sought in whole mm, pieces rounded up and sheets down.
    """
    want = job.wants[first]
    sizes = [
        index
        for index in want.sizes
        if job.sizes[index].width == most.width and job.sizes[index].length <= most.length
    ]
    rooms = [job.sizes[index].length - want.length for index in sizes]
    largest = max(rooms)
    fellows = [i for i in fellows if job.wants[i].length <= largest]
    if not fellows:
        return sizes[0], [first]
    lengths = [job.wants[i].length for i in fellows]
    chosen = _fullest(lengths, rooms, _PARTS)
    waste = [
        (room - sum([lengths[n] for n in row])) / job.sizes[index].length
        for index, room, row in zip(sizes, rooms, chosen, strict=True)
    ]
    best = min(range(len(sizes)), key=lambda n: (waste[n], -rooms[n]))
    return sizes[best], [first, *(fellows[n] for n in chosen[best])]


def _fullest(lengths: Sequence[int], rooms: Sequence[int], unit: int) -> list[list[int]]:
    """Return for each room which of the lengths fill it best, as indexes into them.

    Each length is rounded up and each room down to a whole number of ``unit``; the sums that
    can be reached are the bits of a number.
    """
    units = [-(-length // unit) for length in lengths]
    mask = (1 << max(rooms) // unit + 1) - 1
    steps = [1]
    for size in units:
        steps.append((steps[-1] | steps[-1] << size) & mask)
    found: list[list[int]] = []
    for room in rooms:
        total = (steps[-1] & (1 << room // unit + 1) - 1).bit_length() - 1
        chosen: list[int] = []
        for n in range(len(units) - 1, -1, -1):
            if not steps[n] >> total & 1:
                chosen.append(n)
                total -= units[n]
        found.append(chosen[::-1])
    return found


def _fresh(job: _Job, want: _Want, size: _Size) -> tuple[int, bool]:
    """Return where a piece lies across a whole sheet, and whether it is turned."""
    for turned, low, high in want.ways:
        y = _seat(0, size.width, size.width, job.recess, want.width, low, high)
        if y >= 0:
            return y, turned
    raise CuttingError(f"Piece {want.demand.id} does not fit the sheet opened for it.")


def _shrink(job: _Job, opens: Iterable[_Open]) -> None:
    """Make every sheet as short as what is laid on it allows."""
    for sheet in opens:
        reach = max(laid.x + job.wants[laid.want].length for laid in sheet.laid)
        width = job.sizes[sheet.size].width
        # Sizes stand narrowest and shortest first, so the first that reaches is the shortest.
        sheet.size = next(
            index
            for index, size in enumerate(job.sizes)
            if size.width == width and size.length >= reach
        )


def _cost(job: _Job, opens: Iterable[_Open]) -> tuple[int, int]:
    """Return the area bought and the number of sheets: what is to be least, in this order."""
    areas = [job.sizes[sheet.size].area for sheet in opens]
    return sum(areas), len(areas)


# --- strategies ---------------------------------------------------------------------------------


def _orders(wants: Sequence[_Want], chosen: Sequence[int]) -> list[tuple[int, ...]]:
    """Return orders in which pieces may be laid, each once."""

    def by(*keys: str) -> tuple[int, ...]:
        def key(i: int) -> tuple[float, ...]:
            w = wants[i]
            parts = {
                "cap": w.cap,
                "width": -w.width,
                "length": -w.length,
                "area": -w.area,
                "edges": -w.recesses,
            }
            return tuple(parts[k] for k in keys)

        return tuple(sorted(chosen, key=key))

    orders = [
        by("width", "length"),
        by("length", "width"),
        by("cap", "length", "width"),
        by("area"),
        by("edges", "width", "length"),
        by("cap", "width", "length"),
        by("edges", "length", "width"),
        tuple(chosen),
    ]
    return list(dict.fromkeys(orders))


def _openings(job: _Job) -> list[tuple[int, ...]]:
    """Return, for every piece, which sheet to open for it: several answers, each once.

    The longest of the narrowest that fits, the longest of the widest, and the longest up to
    each stock length. A piece set out for one sheet width is given that width if it can be.
    """
    sizes = job.sizes

    def pick(want: _Want, longest: int, *, narrow: bool = True) -> int:
        def rank(index: int) -> tuple[bool, bool, int, int]:
            size = sizes[index]
            over = size.length > longest
            off = narrow and bool(want.hint) and abs(size.width - want.hint) > _PARTS
            return (
                over,
                off,
                size.width if narrow else -size.width,
                size.length if over else -size.length,
            )

        return min(want.sizes, key=rank)

    lengths = sorted({size.length for size in sizes}, reverse=True)
    rules = [tuple(pick(w, longest) for w in job.wants) for longest in lengths]
    if len({size.width for size in sizes}) > 1:
        rules.insert(1, tuple(pick(w, lengths[0], narrow=False) for w in job.wants))
    return list(dict.fromkeys(rules))


_RULES = tuple(product(_Fit, _Split, (True, False)))


@cache
def _ranking(orders: int, openings: int, limit: int) -> tuple[tuple[int, int, int], ...]:
    """Return which order, opening and rule to try together, least far from the usual first."""
    ways = product(range(orders), range(openings), range(len(_RULES)))
    return tuple(sorted(ways, key=lambda way: (sum(way), max(way), way))[:limit])


def _strategies(
    job: _Job, chosen: Sequence[int], opens: Sequence[tuple[int, ...]], limit: int
) -> Iterator[_Strategy]:
    """Yield the most promising strategies first: those that differ least from the usual one."""
    orders = _orders(job.wants, chosen)
    for order, opening, rule in _ranking(len(orders), len(opens), limit):
        yield _Strategy(orders[order], opens[opening], *_RULES[rule])


def _best_of(
    job: _Job,
    chosen: Sequence[int],
    opens: Sequence[tuple[int, ...]],
    limit: int,
    enough: tuple[int, int],
) -> list[_Open]:
    """Fill sheets in several ways and return the cheapest; the first of equals."""
    best: list[_Open] = []
    least: tuple[float, float] = (math.inf, math.inf)
    for strategy in _strategies(job, chosen, opens, limit):
        filled: list[_Open] = []
        _pack(job, strategy, filled, [])
        _shrink(job, filled)
        cost = _cost(job, filled)
        if cost < least:
            best, least = filled, cost
        if cost[0] <= enough[0] and cost[1] <= enough[1]:
            break
    return best


# --- dividing a sheet --------------------------------------------------------------------


class _Line(NamedTuple):
    """One cut on a sheet."""

    rip: bool
    x0: int
    y0: int
    x1: int
    y1: int


def _rip(x0: int, x1: int, y: int) -> _Line:
    return _Line(rip=True, x0=x0, y0=y, x1=x1, y1=y)


def _crosscut(y0: int, y1: int, x: int) -> _Line:
    return _Line(rip=False, x0=x, y0=y0, x1=x, y1=y1)


_Box = tuple[int, int, int, int]
"""Left, low, right and high side on the sheet."""


class _Division(NamedTuple):
    """How a part is cut up: worth of its offcuts, cuts in order, offcuts."""

    worth: int
    cuts: tuple[_Line, ...]
    offcuts: tuple[_Box, ...]


_MANY = 10
"""With more pieces than this on a sheet the first cut found is taken, not the best."""


class _Divider:
    """Finds the cuts that free the pieces of one sheet and leave the best offcuts.

    Any cut that runs from side to side of a part without crossing a piece leaves both parts
    as easy to cut as before, so a cut can always be found where one was found in packing.
    """

    def __init__(self, boxes: Sequence[_Box], keep_length: int, keep_width: int) -> None:
        self.boxes = boxes
        self.keep_length = keep_length
        self.keep_width = keep_width
        self.known: dict[_Box, _Division] = {}

    def keeps(self, box: _Box) -> bool:
        """Whether an offcut is worth keeping."""
        return box[2] - box[0] >= self.keep_length and box[3] - box[1] >= self.keep_width

    def divide(self, part: _Box, inside: tuple[int, ...]) -> _Division:
        """Return the best way found to cut up a part.

        Raises:
            CuttingError: If its pieces cannot be cut from side to side.
        """
        if part in self.known:
            return self.known[part]
        if not inside:
            # The square of the area favours one large offcut over several small ones.
            area = (part[2] - part[0]) * (part[3] - part[1])
            result = _Division(area * area if self.keeps(part) else 0, (), (part,))
        elif len(inside) == 1 and self.boxes[inside[0]] == part:
            result = _Division(0, (), ())
        else:
            result = self.best_cut(part, inside)
        self.known[part] = result
        return result

    def best_cut(self, part: _Box, inside: tuple[int, ...]) -> _Division:
        best: _Division | None = None
        for rip, at in self.lines(part, inside):
            near, far = 1 if rip else 0, 3 if rip else 2
            first = tuple(i for i in inside if self.boxes[i][far] <= at)
            second = tuple(i for i in inside if self.boxes[i][near] >= at)
            a, b = list(part), list(part)
            a[far] = b[near] = at
            one = self.divide((a[0], a[1], a[2], a[3]), first)
            two = self.divide((b[0], b[1], b[2], b[3]), second)
            line = _rip(part[0], part[2], at) if rip else _crosscut(part[1], part[3], at)
            found = _Division(
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

    def lines(self, part: _Box, inside: tuple[int, ...]) -> list[tuple[bool, int]]:
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


def _box(job: _Job, laid: _Laid) -> _Box:
    want = job.wants[laid.want]
    return (laid.x, laid.y, laid.x + want.length, laid.y + want.width)


def _division(job: _Job, sheet: _Open) -> _Division:
    """Return the cuts of a sheet and what they leave."""
    size = job.sizes[sheet.size]
    divider = _Divider([_box(job, laid) for laid in sheet.laid], job.keep_length, job.keep_width)
    return divider.divide((0, 0, size.length, size.width), tuple(range(len(sheet.laid))))


# --- improving ------------------------------------------------------------------------------


def _free_of(job: _Job, sheet: _Open, number: int) -> list[_Plate]:
    return [(x1 - x0, y1 - y0, x0, y0, number) for x0, y0, x1, y1 in _division(job, sheet).offcuts]


def _emptied(job: _Job, opens: list[_Open]) -> list[_Open]:
    """Take out every sheet whose pieces fit the offcuts of the others, the emptiest first."""
    free = {id(sheet): _free_of(job, sheet, 0) for sheet in opens}
    ranked = sorted(range(len(opens)), key=lambda n: (sum(_area(job, x) for x in opens[n].laid), n))
    for sheet in [opens[n] for n in ranked]:
        others = [s for s in opens if s is not sheet]
        pieces = tuple(sorted((x.want for x in sheet.laid), key=lambda i: (-job.wants[i].area, i)))
        tried = [_Open(s.size, list(s.laid)) for s in others]
        plates = [(*p[:4], n) for n, s in enumerate(others) for p in free[id(s)]]
        strategy = _Strategy(pieces, (), _Fit.SIDE, _Split.LARGEST, fill=False)
        if not _pack(job, strategy, tried, plates, may_open=False):
            continue
        for new, old in zip(tried, others, strict=True):
            if len(new.laid) > len(old.laid):
                old.laid = new.laid
                free[id(old)] = _free_of(job, old, 0)
        opens = others
    return opens


def _area(job: _Job, laid: _Laid) -> int:
    return job.wants[laid.want].area


_GROUPS = (2, 3, 5, 8)
"""Numbers of sheets that are taken apart and filled anew together."""
_TRIES = 8
"""Ways tried for each such group."""
_WORK = 320
"""Pieces laid anew in improving, at most, for each of the tries."""
_SHARE = 2
"""The same for each piece of the board, so that a small job is done at once."""


def _recut(
    job: _Job, opens: list[_Open], rules: Sequence[tuple[int, ...]], enough: tuple[int, int]
) -> list[_Open]:
    """Fill the most wasteful sheets anew, a few at a time, as long as it saves board."""
    work = min(_WORK, _SHARE * len(job.wants))
    for group in _GROUPS:
        begin = 0
        while begin + group <= len(opens) and work > 0:
            cost = _cost(job, opens)
            if cost[0] <= enough[0] and cost[1] <= enough[1]:
                return opens
            ranked = sorted(
                range(len(opens)),
                key=lambda n: (
                    sum(_area(job, x) for x in opens[n].laid) - _area_of(job, opens[n]),
                    n,
                ),
            )
            chosen = ranked[begin : begin + group]
            pieces = sorted(x.want for n in chosen for x in opens[n].laid)
            work -= len(pieces)
            anew = _best_of(job, pieces, rules, _TRIES, (0, 0))
            if _cost(job, anew) < _cost(job, [opens[n] for n in chosen]):
                opens = [s for n, s in enumerate(opens) if n not in chosen] + anew
            else:
                begin += group
    return opens


def _area_of(job: _Job, sheet: _Open) -> int:
    return job.sizes[sheet.size].area


def _narrow(job: _Job, sheet: _Open) -> None:
    """Change a sheet for the smallest that holds its pieces, if another width does."""
    pieces = [x.want for x in sheet.laid]
    allowed = set(job.wants[pieces[0]].sizes).intersection(*(job.wants[i].sizes for i in pieces))
    least = sum(job.wants[i].area for i in pieces)
    smaller = sorted(
        (job.sizes[index].area, index)
        for index in sorted(allowed)
        if least <= job.sizes[index].area < _area_of(job, sheet)
    )
    for _, index in smaller:
        rule = [index] * len(job.wants)
        for strategy in _strategies(job, pieces, [tuple(rule)], 6):
            filled: list[_Open] = [_Open(index)]
            size = job.sizes[index]
            free: list[_Plate] = [(size.length, size.width, 0, 0, 0)]
            if _pack(job, strategy, filled, free, may_open=False):
                sheet.size, sheet.laid = index, filled[0].laid
                return


_LAYINGS = 320
"""Pieces laid in all strategies together, about; it bounds the time a plan takes."""
_LEAST_STRATEGIES = 15
_MOST_STRATEGIES = 24


def _solve(job: _Job, enough: tuple[int, int]) -> list[_Open]:
    """Lay every piece of a board, as cheaply as the strategies and the improvements find."""
    if not job.wants:
        return []
    rules = _openings(job)
    count = len(job.wants)
    limit = min(_MOST_STRATEGIES, max(_LEAST_STRATEGIES, _LAYINGS // count))
    opens = _best_of(job, range(count), rules, limit, enough)
    if _cost(job, opens) > enough:
        opens = _emptied(job, opens)
        opens = _recut(job, opens, rules, enough)
        for sheet in opens:
            _narrow(job, sheet)
    return sorted(opens, key=lambda sheet: min(laid.want for laid in sheet.laid))


# --- bounds ---------------------------------------------------------------------------------


_Weights = tuple[tuple[float, ...], tuple[float, ...]]
"""For every piece its share of a sheet's side, and its part of that side."""
_SLACK = 1e-6
"""Sums are taken down by this share of a sheet before they are rounded up."""
_THRESHOLDS = 10


def _up(value: float) -> int:
    return max(0, math.ceil(value - _SLACK))


def _weights(
    own: Sequence[int],
    most: Sequence[int],
    least: Sequence[int],
    between: Sequence[float] | None = None,
) -> list[_Weights]:
    """Return weights of pieces along one side of the sheets.

    Each gives two numbers for a piece: its *share*, of which pieces lying side by side in one
    sheet never add up to more than 1; and its *part*, of which they never add up to more than
    that sheet's side. See :func:`_least`.

    Args:
        own: Each piece's size along the side.
        most: The largest allowed sheet for each piece, along the side.
        least: The smallest allowed sheet for each piece, along the side.
        between: Shares of another kind to stand between the thresholds, in place of sizes.
    """
    pieces = list(zip(own, most, least, strict=True))
    if between is None:
        shares, parts = [a / m for a, m, _ in pieces], [float(a) for a in own]
    else:
        shares = list(between)
        parts = [b * s for b, (_, _, s) in zip(between, pieces, strict=True)]
    found: list[_Weights] = [(tuple(shares), tuple(parts))]
    exact = sorted({Fraction(m - a + 1, m) for a, m, _ in pieces if 2 * (m - a + 1) <= m})
    step = max(1, -(-len(exact) // _THRESHOLDS))
    for t in sorted({*exact[::step], *exact[-1:], Fraction(1, 2), Fraction(1, 3)}):
        above = [a * t.denominator > (t.denominator - t.numerator) * m for a, m, _ in pieces]
        below = [a * t.denominator < t.numerator * m for a, m, _ in pieces]
        rows = list(zip(above, below, shares, parts, pieces, strict=True))
        found.append(
            (
                tuple(1.0 if up else 0.0 if low else share for up, low, share, _, _ in rows),
                tuple(float(p[2]) if up else 0.0 if low else part for up, low, _, part, p in rows),
            )
        )
    for k in (2, 3, 4):
        counted = [(-(-(k + 1) * a // m) - 1) / k for a, m, _ in pieces]
        parts = [c * s for c, (_, _, s) in zip(counted, pieces, strict=True)]
        found.append((tuple(counted), tuple(parts)))
    return found


@dataclass(frozen=True, kw_only=True)
class _Least:
    """Lower bounds for one board: numbers of sheets, each counting more, and the area.

    Attributes:
        blanks: Their blanks' area over the largest sheet.
        carry: The same, each piece over the longest sheet it may come from.
        reach: The same, each piece over the widest sheet it may come from as well.
        length: Pieces that cannot lie end to end counted as well.
        width: Pieces that cannot lie side by side counted as well.
        edges: Recessed edges counted as well.
        stock: The stock sizes that the pieces need counted as well.
        area: Area bought, in square hundredths of a mm.
    """

    blanks: int
    carry: int
    reach: int
    length: int
    width: int
    edges: int
    stock: int
    area: int


def _least(job: _Job) -> _Least:
    """Return how few sheets and how little board can do for the pieces of one board.

    Sound for every way of cutting, guillotine or not:

    Take one sheet of length L and width W. Give every piece in it a weight ``g`` for its width
    such that the pieces crossed by any line across the sheet have ``g`` adding up to at most
    1, and a weight ``f`` for its length such that pieces that lie one after another along the
    sheet have ``f`` adding up to at most 1. Then ``f * g`` over all pieces of the sheet adds
    up to at most 1. (Let every ``g`` be a whole number of N-ths. Draw each piece as that many
    copies of its stretch along the sheet. No point is covered more than N times, so the
    stretches can be given N colours such that those of one colour do not overlap. ``f`` adds up
    to at most 1 in each colour, so to at most N in all; divide by N.) So the sum of ``f * g``
    over all pieces, rounded up, is a number of sheets no plan can do without.

    Weights that keep the promise, shown for length; width is alike:

    - size / L;
    - for a threshold ``t`` up to 1/2: 1 above (1 - t) L, 0 below t L, size / L between (a
      piece above the first leaves no room for one above the second);
    - (ceil((k + 1) size / L) - 1) / k: at most k pieces longer than L / (k + 1) fit;
    - for width only: half the number of edges that must be recessed; a line across the sheet
      meets its two recessed edges once each.

    All of them fall as L grows. So in place of L, the largest sheet the piece may come from
    can stand, though the sheet it does come from may be smaller and other pieces may be allowed
    others.

    For the area, the promise is that the weights add up to at most L (or W) itself. Every
    sheet is at least as long as the shortest sheet allowed for any piece in it; so a weight
    kept to 1 above, times that shortest length, keeps it, and in the thresholds the size
    itself may stand between. The sum of the products is then an area no plan can do without.

    A second bound on the area counts sheets by size: if pieces that need sheets of at least
    area ``a[k]`` need ``n[k]`` sheets, then ``n[k]`` sheets have at least that area each; the
    sum of ``n[k] * (a[k] - a[k - 1])`` over the areas in order is no more than the area bought.
    Last, the area is rounded up to a multiple of what all sheet areas are multiples of.
    """
    wants, sizes = job.wants, job.sizes
    allowed = [[sizes[i] for i in w.sizes] for w in wants]
    most = [max(s.length for s in a) for a in allowed]
    along = _weights([w.length for w in wants], most, [min(s.length for s in a) for a in allowed])
    sides = (
        [w.width for w in wants],
        [max(s.width for s in a) for a in allowed],
        [min(s.width for s in a) for a in allowed],
    )
    across = _weights(*sides)
    plain = len(across)
    across += _weights(*sides, [w.recesses / 2 for w in wants])
    along_shares = np.array([shares for shares, _ in along])
    across_shares = np.array([shares for shares, _ in across])
    table = along_shares @ across_shares.T
    largest = max(s.area for a in allowed for s in a)
    blanks = _up(sum(w.area for w in wants) / largest)
    widest = max(s.width for a in allowed for s in a)
    carry = max(blanks, _up(float(along_shares[0] @ (np.array(sides[0]) / widest))))
    reach = max(carry, _up(float(table[0, 0])))
    length = max(reach, _up(float(table[:, 0].max())))
    width = max(length, _up(float(table[:, :plain].max())))
    edges = max(width, _up(float(table.max())))

    area_table = (
        np.array([parts for _, parts in along]) @ np.array([parts for _, parts in across]).T
    )
    by_weight = float(area_table.max())
    smallest = np.array([min(s.area for s in a) for a in allowed])
    by_size, before = 0, 0
    for step in sorted(set(smallest.tolist())):
        needs = smallest >= step
        part = along_shares[:, needs] @ across_shares[:, needs].T
        by_size += _up(float(part.max())) * (step - before)
        before = step
    unit = math.gcd(*(s.area for a in allowed for s in a))
    area = max(by_size, math.floor(by_weight * (1 - 1e-9)))
    area = -(-area // unit) * unit
    return _Least(
        blanks=blanks,
        carry=carry,
        reach=reach,
        length=length,
        width=width,
        edges=edges,
        stock=max(edges, _up(area / largest)),
        area=area,
    )


def _reasons(
    job: _Job, least: _Least, start: int, used: tuple[int, int], units: Units
) -> tuple[str, ...]:
    """Say in words why each sheet above the area bound is bought.

    Args:
        job: All that is cut from one board.
        least: Its bounds.
        start: The area bound.
        used: Area bought, square hundredths of a mm, and number of sheets.
        units: How lengths are written.
    """
    allowed = [job.sizes[i] for i in sorted({i for w in job.wants for i in w.sizes})]
    longest, largest = max(s.length for s in allowed), max(s.area for s in allowed)
    bought, count = used

    def size(parts: int) -> str:
        return write_length(_mm(parts), units, suffix=True)

    if least.stock * largest >= bought:
        rest = (
            "shorter sheets: fewer of the largest size would take no less board, "
            "even if the pieces could be cut from them"
        )
    else:
        rest = (
            "fit: no way was found to cut the pieces from fewer sheets; the bound weighs lengths, "
            "widths and edges one by one and may be out of reach"
        )
    steps = (
        (
            least.blanks,
            "cut-outs: what is cut out of a piece serves no other, so its whole blank counts",
        ),
        (least.carry, _why_carry(job, longest, size(longest))),
        (
            least.reach,
            "sheet widths: courses set out with sheets of different widths share no sheet",
        ),
        (
            least.length,
            f"length: no two pieces longer than half of {size(longest)} lie end to end in a sheet",
        ),
        (least.width, _why_width(job, size)),
        (
            least.edges,
            "recessed edges: a sheet has two, and the pieces use them up before its area",
        ),
        (
            least.stock,
            "stock sizes: the sheets that the pieces need are sold longer or wider than they are",
        ),
        (count, rest),
    )
    found: list[str] = []
    so_far = start
    for number, words in steps:
        more = number - so_far
        if more > 0:
            found.append(f"{more} {'sheet' if more == 1 else 'sheets'}: {words}.")
            so_far = number
    return tuple(found)


def _why_carry(job: _Job, longest: int, written: str) -> str:
    kept_short = sum(w.cap < longest for w in job.wants)
    if kept_short:
        return (
            f"carry-in limit: sheets of {written} cannot be brought to where "
            f"{kept_short} of the pieces go"
        )
    return f"stock lengths: the width that some pieces need is not sold in {written}"


def _why_width(job: _Job, size: Callable[[int], str]) -> str:
    """Name the rip that leaves the most board beside it."""
    run: dict[tuple[int, int], int] = {}
    for want in job.wants:
        sheet = max(job.sizes[i].width for i in want.sizes)
        rest = sheet % want.width
        if rest and want.width < sheet:
            key = (want.width, sheet)
            run[key] = run.get(key, 0) + rest * want.length
    if not run:
        return "width: the courses do not share the sheets' width"
    width, sheet = min(run, key=lambda key: (-run[key], key))
    number = sheet // width
    return f"width: a sheet {size(sheet)} wide gives only {number} of the pieces {size(width)} wide"


def _bound(
    job: _Job, net_m2: float, lost: float, sheets: Sequence[CutSheet], units: Units
) -> BoardBound:
    """Return the bounds of one board beside what was bought.

    Args:
        job: All that is cut from the board.
        net_m2: Area of its finished pieces, m2.
        lost: Area of the blanks that fit no sheet, square hundredths of a mm.
        sheets: The sheets bought.
        units: How lengths are written in the reasons.
    """
    blank = sum(w.area for w in job.wants)
    bought = sum(_parts(s.length) * _parts(s.width) for s in sheets)
    if not job.wants:
        return BoardBound(
            board=job.board.id,
            net_m2=net_m2,
            blank_m2=0.0,
            bought_m2=0.0,
            sheets=0,
            area_bound=0,
            edge_bound=0,
            bought_bound_m2=0.0,
            reasons=(),
        )
    least = job.least
    largest = max(job.sizes[i].area for w in job.wants for i in w.sizes)
    # A piece that fits no sheet may still be counted in the net area; it needs no board here.
    net = min(_m2(blank), net_m2 - _m2(lost))
    area_bound = _up(net / _m2(largest))
    return BoardBound(
        board=job.board.id,
        net_m2=net_m2,
        blank_m2=_m2(blank),
        bought_m2=_m2(bought),
        sheets=len(sheets),
        area_bound=area_bound,
        edge_bound=least.stock,
        bought_bound_m2=_m2(least.area),
        reasons=_reasons(job, least, area_bound, (bought, len(sheets)), units),
    )


# --- the plan ---------------------------------------------------------------------------------


def plan(
    demands: Sequence[Demand],
    boards: Sequence[Board],
    net_m2: Mapping[str, float],
    practice: Practice,
    lengths: Sequence[float] = (),
    widths: Sequence[float] = (),
    *,
    units: Units = Units.METRIC,
) -> CutPlan:
    """Return how all pieces are cut from stock: the least board found, then the fewest sheets.

    Pieces are laid by many fixed strategies, the cheapest result is improved by emptying
    sheets and by filling the most wasteful ones anew, and what comes out is checked. A piece
    whose edge must be cut is laid so that no recess is left along that edge.

    Args:
        demands: The pieces, in hanging order.
        boards: Boards they may be cut from; a piece of any other board stays unplaced.
        net_m2: Area of the finished pieces by board, m2; a board left out counts its blanks.
        practice: The pack; ``piece.min`` and ``strip.min`` say which offcuts are kept.
        lengths: Sheet lengths that can be had, mm; empty for all.
        widths: Sheet widths that can be had, mm; empty for all.
        units: How lengths are written in the reasons.

    Raises:
        ValueError: If an id comes twice, a size is not above 0, or an edge need is unknown.
        CuttingError: If the plan breaks a rule; a fault of the program.
    """
    _check(demands)
    known = {b.id: b for b in boards}
    sheets: list[CutSheet] = []
    bounds: list[BoardBound] = []
    placed: set[str] = set()
    for board_id in sorted({d.board for d in demands} & known.keys()):
        own = [d for d in demands if d.board == board_id]
        job = _job(known[board_id], own, practice, lengths, widths)
        cut = _cut_board(job)
        held = {w.demand.id for w in job.wants}
        placed |= held
        lost = sum(_parts(d.length) * _parts(d.width) for d in own if d.id not in held)
        blank_m2 = _m2(sum(w.area for w in job.wants) + lost)
        bounds.append(_bound(job, net_m2.get(board_id, blank_m2), lost, cut, units))
        sheets.extend(cut)
    made = CutPlan(
        sheets=_numbered(sheets),
        bounds=tuple(bounds),
        unplaced=tuple(d.id for d in demands if d.id not in placed),
    )
    _insist(verify(made, demands, boards))
    return made


def _numbered(sheets: Iterable[CutSheet]) -> tuple[CutSheet, ...]:
    return tuple(replace(sheet, id=f"S{n}") for n, sheet in enumerate(sheets, 1))


def _insist(faults: Sequence[str]) -> None:
    if faults:
        raise CuttingError(f"The cut plan breaks its own rules: {' '.join(faults)}")


def _cut_board(job: _Job) -> list[CutSheet]:
    if not job.wants:
        return []
    least = job.least
    return [_cut_sheet(job, sheet) for sheet in _solve(job, (least.area, least.stock))]


def _cut_sheet(job: _Job, sheet: _Open) -> CutSheet:
    """Write down a filled sheet in mm, with its cuts and offcuts."""
    size = job.sizes[sheet.size]
    division = _division(job, sheet)
    return CutSheet(
        id="",
        board=job.board.id,
        stock=size.stock.id,
        length=size.stock.length,
        width=size.stock.width,
        placements=tuple(
            _placement(job, laid, size.width) for laid in sorted(sheet.laid, key=lambda x: x.want)
        ),
        cuts=tuple(_cut(line, number) for number, line in enumerate(division.cuts, 1)),
        offcuts=tuple(
            _offcut(box, size.width, job.keep_length, job.keep_width) for box in division.offcuts
        ),
        mass_kg=size.stock.area_m2 * job.board.mass_kg_m2,
    )


def _edge(y: int, sheet: int) -> EdgeIs:
    return EdgeIs.RECESSED if y in {0, sheet} else EdgeIs.CUT


def _placement(job: _Job, laid: _Laid, sheet: int) -> Placement:
    want = job.wants[laid.want]
    lower, upper = _edge(laid.y, sheet), _edge(laid.y + want.width, sheet)
    return Placement(
        piece=want.demand.id,
        x=_mm(laid.x),
        y=_mm(laid.y),
        length=_mm(want.length),
        width=_mm(want.width),
        turned=laid.turned,
        low=upper if laid.turned else lower,
        high=lower if laid.turned else upper,
    )


def _cut(line: _Line, number: int) -> Cut:
    return Cut(
        number=number,
        rip=line.rip,
        x0=_mm(line.x0),
        y0=_mm(line.y0),
        x1=_mm(line.x1),
        y1=_mm(line.y1),
    )


def _offcut(
    box: _Box, sheet: int, keep_length: int, keep_width: int, used_for: tuple[str, ...] = ()
) -> Offcut:
    length, width = box[2] - box[0], box[3] - box[1]
    return Offcut(
        x=_mm(box[0]),
        y=_mm(box[1]),
        length=_mm(length),
        width=_mm(width),
        low=_edge(box[1], sheet),
        high=_edge(box[3], sheet),
        keep=not used_for and length >= keep_length and width >= keep_width,
        used_for=used_for,
    )


# --- checking a plan ------------------------------------------------------------------------


_NEAR = 0.006
"""Two places nearer than this (mm) are one: lengths are rounded to hundredths of a mm."""


def _near(a: float, b: float) -> bool:
    return abs(a - b) <= _NEAR


def verify(
    plan: CutPlan,
    demands: Sequence[Demand],
    boards: Sequence[Board],
    blocks: Sequence[tuple[str, float, float]] = (),
) -> tuple[str, ...]:
    """Check a plan against what was asked for, from its placements and cuts alone.

    Args:
        plan: The plan.
        demands: The pieces asked for.
        boards: The boards it may use.
        blocks: Id, length and width (mm) of back-blocks asked for.

    Returns:
        What is wrong, a sentence each; empty if nothing is.
    """
    stock = {s.id: (b, s) for b in boards for s in b.sheets}
    wanted = {d.id: d for d in demands}
    sizes = {name: (length, width) for name, length, width in blocks}
    faults: list[str] = []
    for number, sheet in enumerate(plan.sheets, 1):
        if sheet.id != f"S{number}":
            faults.append(f"Sheet {sheet.id} is number {number}.")
        faults.extend(f"Sheet {sheet.id}: {f}" for f in _sheet_faults(sheet, stock, wanted, sizes))
    faults.extend(_count_faults(plan, wanted, sizes))
    for bound in plan.bounds:
        faults.extend(_bound_faults(bound, plan))
    return tuple(faults)


def _count_faults(
    plan: CutPlan, wanted: Mapping[str, Demand], blocks: Mapping[str, tuple[float, float]]
) -> Iterator[str]:
    times = dict.fromkeys([*wanted, *blocks], 0)
    given = [p.piece for s in plan.sheets for p in s.placements]
    given += [name for s in plan.sheets for o in s.offcuts for name in o.used_for]
    for name in [*given, *plan.unplaced]:
        if name in times:
            times[name] += 1
        else:
            yield f"{name} was never asked for."
    for name, number in times.items():
        if number != 1:
            yield f"{name} is cut or listed {number} times."


def _bound_faults(bound: BoardBound, plan: CutPlan) -> Iterator[str]:
    own = [s for s in plan.sheets if s.board == bound.board]
    bought = sum(s.area_m2 for s in own)
    if bound.sheets != len(own) or abs(bound.bought_m2 - bought) > 1e-4:
        yield f"Board {bound.board} counts other sheets than were cut."
    if len(own) < max(bound.edge_bound, bound.area_bound):
        yield f"Board {bound.board} takes fewer sheets than its bound."
    if bought < bound.bought_bound_m2 - 1e-4:
        yield f"Board {bound.board} takes less board than its bound."


def _sheet_faults(
    sheet: CutSheet,
    stock: Mapping[str, tuple[Board, StockSheet]],
    wanted: Mapping[str, Demand],
    blocks: Mapping[str, tuple[float, float]],
) -> Iterator[str]:
    if sheet.stock not in stock:
        yield f"no board is sold as {sheet.stock}."
        return
    board, size = stock[sheet.stock]
    if (board.id, size.length, size.width) != (sheet.board, sheet.length, sheet.width):
        yield "it is not the size or the board it is sold as."
    if abs(sheet.mass_kg - sheet.area_m2 * board.mass_kg_m2) > _NEAR:
        yield "its mass is wrong."
    for p in sheet.placements:
        demand = wanted.get(p.piece)
        if demand is None and p.piece in blocks:
            width, length = sorted(blocks[p.piece])
            demand = Demand(
                id=p.piece, length=length, width=width, low="any", high="any", board=sheet.board
            )
        if demand is not None:
            yield from _placement_faults(p, demand, sheet, board)
    for o in sheet.offcuts:
        if len(o.used_for) > 1 or any(
            not _near(o.length, blocks[n][0]) or not _near(o.width, blocks[n][1])
            if _near(o.length, blocks[n][0])
            else not _near(o.width, blocks[n][0]) or not _near(o.length, blocks[n][1])
            for n in o.used_for
            if n in blocks
        ):
            yield f"the offcut for {', '.join(o.used_for)} is not its size."
    yield from _replay_faults(sheet)


def _placement_faults(p: Placement, demand: Demand, sheet: CutSheet, board: Board) -> Iterator[str]:
    if demand.board != sheet.board:
        yield f"{p.piece} is asked for in another board."
    if not (_near(p.length, demand.length) and _near(p.width, demand.width)):
        yield f"{p.piece} is not the size asked for."
    if demand.longest and sheet.length > demand.longest + _NOMINAL:
        yield f"{p.piece} comes from a sheet too long to be carried in."
    if p.x < 0 or p.y < 0 or p.x + p.length > sheet.length + _NEAR:
        yield f"{p.piece} reaches beyond the sheet."
    if p.y + p.width > sheet.width + _NEAR:
        yield f"{p.piece} reaches beyond the sheet."
    own = (p.y, p.y + p.width)
    for need, edge, y in zip(
        (demand.low, demand.high), (p.low, p.high), own[::-1] if p.turned else own, strict=True
    ):
        recessed = _near(y, 0) or _near(y, sheet.width)
        if (edge is EdgeIs.RECESSED) != recessed:
            yield f"{p.piece} names an edge wrongly."
        clear = min(y, sheet.width - y) >= board.recess_width - _NEAR
        if (need == "recessed" and not recessed) or (need == "cut" and not (clear and y > 0)):
            yield f"{p.piece} has an edge that is not {need}."


def _replay_faults(sheet: CutSheet) -> Iterator[str]:
    """Make the cuts one by one and compare what is left with the pieces and offcuts."""
    parts = [(0.0, 0.0, sheet.length, sheet.width)]
    for number, cut in enumerate(sheet.cuts, 1):
        if cut.number != number:
            yield f"cut {cut.number} is number {number}."
        divided = next((part for part in parts if _divides(cut, part)), None)
        if divided is None:
            yield f"cut {cut.number} does not run from side to side of one part."
            return
        x0, y0, x1, y1 = divided
        parts.remove(divided)
        if cut.rip:
            parts += [(x0, y0, x1, cut.y0), (x0, cut.y0, x1, y1)]
        else:
            parts += [(x0, y0, cut.x0, y1), (cut.x0, y0, x1, y1)]
    named: list[Placement | Offcut] = [*sheet.placements, *sheet.offcuts]
    for item in named:
        box = (item.x, item.y, item.x + item.length, item.y + item.width)
        same = next((q for q in parts if all(map(_near, q, box))), None)
        if same is None:
            yield f"no part is left at {item.x}, {item.y} of {item.length} by {item.width}."
        else:
            parts.remove(same)
    if parts:
        yield "a part is left that nothing names."
    for item in sheet.offcuts:
        for edge, y in ((item.low, item.y), (item.high, item.y + item.width)):
            if (edge is EdgeIs.RECESSED) != (_near(y, 0) or _near(y, sheet.width)):
                yield "an offcut names an edge wrongly."


def _divides(cut: Cut, part: tuple[float, float, float, float]) -> bool:
    x0, y0, x1, y1 = part
    if cut.rip:
        return (
            _near(cut.y0, cut.y1)
            and y0 + _NEAR < cut.y0 < y1 - _NEAR
            and _near(cut.x0, x0)
            and _near(cut.x1, x1)
        )
    return (
        _near(cut.x0, cut.x1)
        and x0 + _NEAR < cut.x0 < x1 - _NEAR
        and _near(cut.y0, y0)
        and _near(cut.y1, y1)
    )


# --- back-blocks --------------------------------------------------------------------------


SLIVER = 100
"""Parts of a mm: what is left beside a block is nothing at all, or at least 1 mm."""


@dataclass(slots=True)
class _Rest:
    """An offcut, or what is left of one, and the block cut from it."""

    sheet: int
    box: _Box
    keep: bool
    block: str = ""


def back_blocks_from_offcuts(
    plan: CutPlan,
    blocks: Sequence[tuple[str, float, float]],
    *,
    practice: Practice | None = None,
) -> tuple[CutPlan, tuple[str, ...]]:
    """Cut back-blocks from what a plan leaves over, waste before offcuts worth keeping.

    A back-block may lie either way round. Its cuts follow those of the sheet; it becomes an
    offcut of its own size whose ``used_for`` names it.

    Args:
        plan: The plan of the pieces.
        blocks: Id, length and width (mm) of each block.
        practice: The pack, to say again which offcuts are kept; without it what is left of an
            offcut worth keeping is kept only if no block was cut from it.

    Returns:
        The plan with the blocks in it, and the ids of those that fit no offcut.
    """
    keep = (
        (_parts(practice.mm("piece.min")), _parts(practice.mm("strip.min")))
        if practice is not None
        else None
    )
    rests = [
        _Rest(
            n,
            (_parts(o.x), _parts(o.y), _parts(o.x + o.length), _parts(o.y + o.width)),
            o.keep,
            ", ".join(o.used_for),
        )
        for n, sheet in enumerate(plan.sheets)
        for o in sheet.offcuts
    ]
    lines: dict[int, list[_Line]] = {}
    left: set[str] = set()
    sized = [(_parts(length), _parts(width), name) for name, length, width in blocks]
    for length, width, name in sorted(sized, key=lambda b: (-b[0] * b[1], -max(b[:2]), b[2])):
        found = _block_place(rests, length, width)
        if found is None:
            left.add(name)
            continue
        index, along, across = found
        rest = rests.pop(index)
        cuts, parts = _block_cuts(rest.box, along, across)
        lines.setdefault(rest.sheet, []).extend(cuts)
        rests.append(_Rest(rest.sheet, parts[0], keep=False, block=name))
        for box in parts[1:]:
            worth = keep is not None and box[2] - box[0] >= keep[0] and box[3] - box[1] >= keep[1]
            rests.append(_Rest(rest.sheet, box, worth))
    sheets = list(plan.sheets)
    for n in sorted(lines):
        own = [r for r in rests if r.sheet == n]
        sheets[n] = _with_blocks(sheets[n], lines[n], own)
    return replace(plan, sheets=tuple(sheets)), tuple(b[0] for b in blocks if b[0] in left)


def _block_place(rests: Sequence[_Rest], length: int, width: int) -> tuple[int, int, int] | None:
    """Return the rest a block is cut from and its size along and across the sheet, or None."""
    ways = ((length, width),) if length == width else ((length, width), (width, length))
    best: tuple[int, int, int] | None = None
    least: tuple[bool, int, int] = (True, 0, 0)
    for index, rest in enumerate(rests):
        if rest.block:
            continue
        x0, y0, x1, y1 = rest.box
        for along, across in ways:
            spare = (x1 - x0 - along, y1 - y0 - across)
            # A sliver thinner than the tape reads is no cut that anyone can make.
            if min(spare) < 0 or any(0 < s < SLIVER for s in spare):
                continue
            over = min(x1 - x0 - along, y1 - y0 - across)
            rank = (rest.keep, (x1 - x0) * (y1 - y0), over)
            if best is None or rank < least:
                best, least = (index, along, across), rank
    return best


def _block_cuts(box: _Box, along: int, across: int) -> tuple[list[_Line], list[_Box]]:
    """Return the cuts that take a block out of the low left corner, and the parts, it first."""
    x0, y0, x1, y1 = box
    x, y = x0 + along, y0 + across
    ripped = max((x1 - x) * across, (x1 - x0) * (y1 - y))
    crosscut = max((x1 - x) * (y1 - y0), along * (y1 - y))
    parts: list[_Box] = [(x0, y0, x, y)]
    if ripped >= crosscut:
        cuts = [_rip(x0, x1, y), _crosscut(y0, y, x)]
        others: list[_Box] = [(x0, y, x1, y1), (x, y0, x1, y)]
    else:
        cuts = [_crosscut(y0, y1, x), _rip(x0, x, y)]
        others = [(x, y0, x1, y1), (x0, y, x, y1)]
    lines = [line for line in cuts if (y < y1 if line.rip else x < x1)]
    parts += [b for b in others if b[2] > b[0] and b[3] > b[1]]
    return lines, parts


def _with_blocks(sheet: CutSheet, lines: Sequence[_Line], rests: Sequence[_Rest]) -> CutSheet:
    width = _parts(sheet.width)
    begin = len(sheet.cuts) + 1
    return replace(
        sheet,
        cuts=(*sheet.cuts, *(_cut(line, n) for n, line in enumerate(lines, begin))),
        offcuts=tuple(
            replace(
                _offcut(r.box, width, 0, 0, (r.block,) if r.block else ()),
                keep=r.keep and not r.block,
            )
            for r in sorted(rests, key=lambda r: (r.box[1], r.box[0]))
        ),
    )


def plan_with_back_blocks(
    demands: Sequence[Demand],
    boards: Sequence[Board],
    blocks: Sequence[tuple[str, float, float]],
    net_m2: Mapping[str, float],
    practice: Practice,
    lengths: Sequence[float] = (),
    widths: Sequence[float] = (),
    *,
    units: Units = Units.METRIC,
) -> CutPlan:
    """Return how all pieces are cut from stock, and all back-blocks from what is left over.

    Blocks that fit no offcut are cut from further sheets of the board that most sheets are
    bought of; they count in that board's areas and bounds.

    Args:
        demands: The pieces, in hanging order.
        boards: Boards they may be cut from.
        blocks: Id, length and width (mm) of each back-block.
        net_m2: Area of the finished pieces by board, m2.
        practice: The pack.
        lengths: Sheet lengths that can be had, mm; empty for all.
        widths: Sheet widths that can be had, mm; empty for all.
        units: How lengths are written in the reasons.

    Raises:
        ValueError: As :func:`plan`.
        CuttingError: As :func:`plan`.
    """
    made = plan(demands, boards, net_m2, practice, lengths, widths, units=units)
    made, left = back_blocks_from_offcuts(made, blocks, practice=practice)
    if left and made.bounds:
        usual = max(made.bounds, key=lambda b: (b.sheets, b.bought_m2)).board
        board = next(b for b in boards if b.id == usual)
        own = [d for d in demands if d.board == usual]
        more = _as_demands([b for b in blocks if b[0] in left], board, own)
        extra = plan(more, [board], {}, practice, lengths, widths)
        job = _job(board, [*own, *more], practice, lengths, widths)
        held = {w.demand.id for w in job.wants}
        lost = sum(_parts(d.length) * _parts(d.width) for d in own if d.id not in held)
        sheets = [s for s in made.sheets if s.board == usual] + list(extra.sheets)
        net = next(b.net_m2 for b in made.bounds if b.board == usual)
        net += sum(b.net_m2 for b in extra.bounds)
        bound = _bound(job, net, lost, sheets, units)
        others = [s for s in made.sheets if s.board != usual]
        made = CutPlan(
            sheets=_numbered(sorted([*others, *sheets], key=lambda s: s.board)),
            bounds=tuple(bound if b.board == usual else b for b in made.bounds),
            unplaced=(*made.unplaced, *extra.unplaced),
        )
    elif left:
        made = replace(made, unplaced=(*made.unplaced, *left))
    _insist(verify(made, demands, boards, blocks))
    return made


def _as_demands(
    blocks: Sequence[tuple[str, float, float]], board: Board, own: Sequence[Demand]
) -> list[Demand]:
    """Ask for blocks as pieces of a board, from sheets that reach every room."""
    longest = min((d.longest for d in own if d.longest), default=0.0)
    return [
        Demand(
            id=name,
            length=max(length, width),
            width=min(length, width),
            low="any",
            high="any",
            board=board.id,
            longest=longest,
        )
        for name, length, width in blocks
    ]


# --- linear goods ----------------------------------------------------------------------------


_STEPS = 10
"""Parts of a mm in which the best filling of a length is sought."""
_FAIR = 10
"""A joined part is no shorter than the longest stock length over this."""


def cut_linear(
    kind: str,
    pieces: Sequence[tuple[str, float]],
    stock: LinearStock,
    *,
    joinable: bool = False,
) -> tuple[tuple[LinearCut, ...], tuple[str, ...]]:
    """Return how lengths are cut from stock: the least total length found, then the fewest.

    Args:
        kind: Kind of goods, for the result.
        pieces: Id and length (mm) of each piece.
        stock: The goods and the lengths they are sold in.
        joinable: Whether a piece longer than any stock length may be made of several; its parts
            are named ``"id (1 of 2)"``.

    Returns:
        The lengths to buy, each with its pieces, and the ids of pieces longer than any of them
        (none if they may be joined).

    Raises:
        ValueError: If a piece has no length, or the goods are sold in none.
    """
    lengths = sorted({_parts(length) for length in stock.lengths})
    if not lengths or lengths[0] <= 0:
        raise ValueError(f"{stock.name} is sold in no length; name one in the stock.")
    for name, length in pieces:
        if not (length > 0 and math.isfinite(length)):
            raise ValueError(f"{name} is {length} mm long; it needs a true length.")
    longest = lengths[-1]
    too_long = () if joinable else tuple(n for n, x in pieces if _parts(x) > longest)
    best: list[list[tuple[str, int]]] = []
    least: tuple[float, float] = (math.inf, math.inf)
    for even in (False, True):
        parts = [
            part
            for name, length in pieces
            if name not in too_long
            for part in _joined(name, _parts(length), longest, even=even)
        ]
        for bars in _fillings(parts, lengths):
            cost = (sum(_bar_length(bar, lengths) for bar in bars), len(bars))
            if cost < least:
                best, least = bars, cost
        if all(_parts(length) <= longest for _, length in pieces):
            break
    made: list[LinearCut] = []
    for number, bar in enumerate(best, 1):
        length = _bar_length(bar, lengths)
        used = sum(x for _, x in bar)
        made.append(
            LinearCut(
                id=f"L{number}",
                kind=kind,
                stock=stock.id,
                length=_mm(length),
                pieces=tuple((name, _mm(x)) for name, x in bar),
                left=_mm(length - used),
            )
        )
    return tuple(made), too_long


def _joined(name: str, length: int, longest: int, *, even: bool) -> list[tuple[str, int]]:
    """Divide a run that is longer than any stock length into parts."""
    count = -(-length // longest)
    if count <= 1:
        return [(name, length)]
    last = length - (count - 1) * longest
    if even or last * _FAIR < longest:
        cuts = [length * n // count for n in range(count + 1)]
        parts = [b - a for a, b in pairwise(cuts)]
    else:
        parts = [longest] * (count - 1) + [last]
    return [(f"{name} ({n} of {count})", part) for n, part in enumerate(parts, 1)]


def _bar_length(bar: Sequence[tuple[str, int]], lengths: Sequence[int]) -> int:
    used = sum(x for _, x in bar)
    return next(length for length in lengths if length >= used)


def _fillings(
    pieces: Sequence[tuple[str, int]], lengths: Sequence[int]
) -> Iterator[list[list[tuple[str, int]]]]:
    """Yield ways of grouping pieces into stock lengths, each in order of the pieces given."""
    order = sorted(range(len(pieces)), key=lambda i: (-pieces[i][1], i))
    sizes = [x for _, x in pieces]
    found = [_best_fit(order, sizes, lengths, most) for most in lengths]
    found.append(_filled(order, sizes, lengths))
    for bars in found:
        fewer = _thinned(bars, sizes, lengths)
        yield [[pieces[i] for i in sorted(bar)] for bar in sorted(fewer, key=min)]


def _best_fit(
    order: Sequence[int], sizes: Sequence[int], lengths: Sequence[int], most: int
) -> list[list[int]]:
    """Put each piece, the longest first, where it leaves least; open lengths up to ``most``."""
    bars: list[list[int]] = []
    rooms: list[int] = []
    for i in order:
        size = sizes[i]
        fits = [(room, n) for n, room in enumerate(rooms) if room >= size]
        if fits:
            n = min(fits)[1]
            bars[n].append(i)
            rooms[n] -= size
        else:
            bars.append([i])
            rooms.append((most if most >= size else min(x for x in lengths if x >= size)) - size)
    return bars


def _filled(order: Sequence[int], sizes: Sequence[int], lengths: Sequence[int]) -> list[list[int]]:
    """Take the longest piece left and the stock length and fellows that waste the least share.

    Sums are sought in tenths of a mm, each piece rounded up and each stock length down.
    """
    left = list(order)
    bars: list[list[int]] = []
    while left:
        first, *rest = left
        fitting = [length for length in lengths if length >= sizes[first]]
        rooms = [length - sizes[first] for length in fitting]
        lengths_left = [sizes[i] for i in rest]
        rows = _fullest(lengths_left, rooms, _PARTS // _STEPS)
        waste = [
            (room - sum(lengths_left[n] for n in row)) / length
            for length, room, row in zip(fitting, rooms, rows, strict=True)
        ]
        best = min(range(len(fitting)), key=lambda n: (waste[n], -fitting[n]))
        bar = [first, *(rest[n] for n in rows[best])]
        bars.append(bar)
        taken = set(bar)
        left = [i for i in left if i not in taken]
    return bars


def _thinned(
    bars: list[list[int]], sizes: Sequence[int], lengths: Sequence[int]
) -> list[list[int]]:
    """Merge two lengths into one wherever that buys less."""

    def cost(used: int) -> int:
        return next((x for x in lengths if x >= used), 3 * lengths[-1])

    merged = True
    while merged:
        merged = False
        ranked = sorted((sum(sizes[i] for i in bar), bar) for bar in bars)
        for (a, one), (b, two) in combinations(ranked, 2):
            if cost(a + b) <= cost(a) + cost(b) and a + b <= lengths[-1]:
                bars = [x for x in bars if x is not one and x is not two] + [one + two]
                merged = True
                break
    return bars
